"""The least change of one size that makes all fit: tried in whole numbers of a small unit, so exact and still quick."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass, replace
from fractions import Fraction
from functools import cached_property
from itertools import chain
from math import ceil

from modelmath.enclosure.bodies import Way
from modelmath.enclosure.choosing.changes import STEPS, Given
from modelmath.enclosure.fitting.pockets import Pocket, in_what_is_left
from modelmath.enclosure.fitting.rooms import Room
from modelmath.enclosure.fitting.search import ENDS, Search, chamber_in, pushed
from modelmath.enclosure.fitting.seats import needs_of, place_speaker
from modelmath.enclosure.fitting.whole import Whole
from modelmath.lengths.numbers import Number

Change = Callable[[Given, Number], Given]  # all as it is with a size or an amount, in the unit of what is given
LIKELY = 3  # so many of the amounts that made it fit before are tried first


@dataclass(frozen=True)
class Found:
    """A size, or an amount of change, that makes all fit.

    Attributes
    ----------
    mm : Fraction
        The size or the amount. [mm]
    after : Given
        All as it then is. [mm]
    """

    mm: Fraction
    after: Given


class _Any(Search):
    """Looks only for whether any chamber fits."""

    def found(self) -> bool:
        return any(
            self._may_be(room, pocket) and chamber_in(room, self.speaker, pocket, self.decoder) is not None
            for space, pocket in self.spaces
            for room in self.rooms(space, pocket)
        )

    def _may_be(self, room: Room, pocket: Pocket | None) -> bool:
        """Say whether a decoder below or inside finds room beside the speaker; quicker than to seek both their places.

        In front of the speaker it has most room where that is pushed to the rear, and behind it where to the front.
        """
        decoder, speaker = self.decoder, self.speaker
        if pocket is not None or decoder is None or self.narrow:
            return True
        if not (decoder.inside or self._may_be_below(room)):
            return False
        if speaker is None:
            return in_what_is_left(room, None, decoder) is not None
        ends = (speaker.faces,) if speaker.faces in ("front", "rear") else ENDS
        for end in ends:
            seat = place_speaker(room, pushed(speaker, end))
            if seat is not None and in_what_is_left(room, seat, decoder, end) is not None:
                return True
        return False

    def _may_be_below(self, room: Room) -> bool:
        """Say at a glance: not where no way it may be turned is short, narrow and low enough."""
        high = room.floor_mm - min([bay.floor_mm for bay in room.bays])
        long, wide = room.ends[1] - room.ends[0], max(bay.zone.width_mm for bay in room.bays)
        if self.speaker is not None:
            long -= needs_of(self.speaker, self.limits).along_mm
        return any(way.up_mm <= high and way.along_mm <= long and way.across_mm <= wide for way in self.ways)

    @cached_property
    def ways(self) -> tuple[Way, ...]:
        """The ways that the decoder may be turned."""
        return self.decoder.ways if self.decoder else ()


class Tries:
    """Tries changes of what a chamber is fitted into.

    Lengths are turned to whole numbers once, not for every try. Where one is a float, tries are made in mm: there the
    wire path is taken off as the fit takes it off, rounding and all.

    Parameters
    ----------
    given : Given
        What a chamber is fitted into. [mm]
    likely_mm : float
        By how much the nearest misses, where that is known: often the amount that does, so that it is tried first;
        0 for none. [mm]
    """

    def __init__(self, given: Given, likely_mm: float = 0) -> None:
        whole = Whole(given.cavity, given.limits, given.speaker, given.decoder)
        self.given = given
        self._in_mm = whole.float
        self.tried = given if whole.float else Given(whole.cavity, whole.limits, whole.speaker, whole.decoder)
        self.step = _plain(Fraction(1 if whole.float else whole.per_mm, STEPS))
        self._amounts: list[int] = [ceil(round(likely_mm * STEPS, 6))] if likely_mm > 0 else []
        self._before: _Any | None = None
        both = given.speaker is not None and given.decoder is not None
        alone = (without_decoder, without_speaker) if both else ()
        self._alone = [each for each in alone if not self._found(each(self.tried))]
        self.already = self.fits()  # all fits as it is: no size need be any smaller

    def fits(self, change: Callable[[Given], Given] | None = None) -> bool:
        """Say whether all fits, as it is or changed.

        Parameters
        ----------
        change : function or None
            Returns all as changed, of all as it is in any unit; None for no change. [-]

        Returns
        -------
        bool
            As `Given.fits`. [-]

        References
        ----------
        `Given.fits`.
        """
        return self._fits(self.tried if change is None else change(self.tried))

    def _fits(self, tried: Given) -> bool:
        """Ask first, as that is quicker, whether what alone finds no room now does."""
        return all(self._found(each(tried)) for each in self._alone) and self._found(tried)

    def _found(self, tried: Given) -> bool:
        if self._in_mm:
            return tried.fits()
        cavity, limits = tried.cavity, tried.limits
        if limits.wire_path_mm:
            taken = limits.wire_path_mm + limits.wall_mm
            if taken >= min(zone.width_mm for zone in cavity.zones):
                return False
            cavity = cavity.narrowed(taken)
        self._before = _Any(cavity, limits, tried.speaker, tried.decoder).knowing(self._before)
        return self._before.found()

    def greatest(self, change: Change, least_mm: Number, now_mm: Number) -> Found | None:
        """Return the greatest size below the present one that fits, in whole hundredths of a mm.

        Parameters
        ----------
        change : function
            Returns all as it is with a size, both in one unit. [-]
        least_mm : Fraction or float
            The least size that may be. [mm]
        now_mm : Fraction or float
            The present size, which is the greatest where all fits already. [mm]

        Returns
        -------
        Found or None
            None where even the least does not fit. [mm]

        References
        ----------
        Bisection: what fits stays fitting as a size goes down. What made it fit elsewhere is tried first.
        """
        low, high = ceil(Fraction(least_mm) * STEPS), ceil(Fraction(now_mm) * STEPS)
        if self.already:
            return Found(Fraction(now_mm), change(self.given, now_mm)) if low < high else None
        if low >= high or not self._fits_at(change, low):
            return None
        now, likely = high, chain(self._likely(high), (low + 1,))  # at times only all of a change does
        while high - low > 1:
            tried = next((each for each in likely if low < each < high), (low + high) // 2)
            if self._fits_at(change, tried):
                low = tried
            else:
                high = tried
        self._amounts.insert(0, now - low)
        size = Fraction(low, STEPS)
        return Found(size, change(self.given, size))

    def least(self, change: Change, most_mm: Number) -> Found | None:
        """Return the least amount of change that makes all fit, in whole hundredths of a mm.

        Parameters
        ----------
        change : function
            Returns all as it is with an amount of change, both in one unit. [-]
        most_mm : Fraction or float
            The greatest amount that may be. [mm]

        Returns
        -------
        Found or None
            None where even that much does not make it fit. [mm]

        References
        ----------
        Bisection: what fits stays fitting as more is changed.
        """
        found = self.greatest(lambda given, size: change(given, -size), -Fraction(most_mm), 0)
        return None if found is None else Found(-found.mm, found.after)

    def first(self, change: Change, amounts_mm: Iterable[Number]) -> Found | None:
        """Return the first of some amounts of change that makes all fit.

        Parameters
        ----------
        change : function
            Returns all as it is with an amount of change, both in one unit. [-]
        amounts_mm : iterable of Fraction or float
            The amounts, in the order in which they are tried. [mm]

        Returns
        -------
        Found or None
            None where none of them does. [mm]

        References
        ----------
        None needed.
        """
        for amount in amounts_mm:
            if self._fits(change(self.tried, _plain(Fraction(amount) * STEPS * Fraction(self.step)))):
                return Found(Fraction(amount), change(self.given, amount))
        return None

    def _fits_at(self, change: Change, steps: int) -> bool:
        return self._fits(change(self.tried, steps * self.step))

    def _likely(self, now: int) -> Iterator[int]:
        """Yield what is likely in steps: what lacks 0.3 mm of depth often fits with that off any one thing."""
        for amount in tuple(dict.fromkeys(self._amounts))[:LIKELY]:
            yield from (now - amount, now - amount + 1, now - amount - 1)


def without_decoder(given: Given) -> Given:
    """Return all without the decoder: what then doesn't fit doesn't fit with it.

    Parameters
    ----------
    given : Given
        All as it is. [mm]

    Returns
    -------
    Given
        As changed. [mm]

    References
    ----------
    None needed.
    """
    return replace(given, decoder=None)


def without_speaker(given: Given) -> Given:
    """Return all without the speaker: what then doesn't fit doesn't fit with it.

    Parameters
    ----------
    given : Given
        All as it is. [mm]

    Returns
    -------
    Given
        As changed. [mm]

    References
    ----------
    None needed.
    """
    return replace(given, speaker=None)


def _plain(value: Fraction) -> Number:
    """Return a whole number as one: far quicker to reckon with."""
    return value.numerator if value.denominator == 1 else value

"""The pieces of a trade curve where floors are cut round things, or the speaker does not face down: asked of the fit.

With the room kept at one end as long as the bulkhead's place, the fit looks at every chamber that begins there.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from fractions import Fraction

from modelmath.enclosure.bodies import Speaker
from modelmath.enclosure.cavity import Cavity
from modelmath.enclosure.choosing.envelope import joined, largest
from modelmath.enclosure.choosing.pieces import Piece
from modelmath.enclosure.fit import Chamber, fitted
from modelmath.enclosure.fitting.seats import kept_mm
from modelmath.enclosure.limits import Limits
from modelmath.lengths.numbers import Number

FINEST_MM = Fraction(1, 1000)  # a change that no edge explains is found to within this


@dataclass(frozen=True)
class _Asked:
    cavity: Cavity
    limits: Limits
    speaker: Speaker | None
    space: tuple[Number, Number]
    rear: bool

    def at(self, place: Number) -> list[tuple[Chamber, bool]]:
        """Return every chamber whose bulkhead stands at a place, counted from the rear if that is asked for."""
        place = -place if self.rear else place
        first, last = (self.space[0], place) if self.rear else (place, self.space[1])
        limits = replace(
            self.limits, front_room_mm=first - self.cavity.start_mm, rear_room_mm=self.cavity.end_mm - last
        )
        for speaker in dict.fromkeys((self.speaker, None)):
            found = fitted(self.cavity, limits, speaker) if last > first else None
            if found is not None:
                here = [each for each in found.candidates if place == (each.end_mm if self.rear else each.start_mm)]
                if here:
                    return [(each, speaker == self.speaker) for each in here]
        return []

    def pieces(self, start: Number, end: Number) -> list[Piece]:
        """Return the curve between two places at which an edge is met."""
        if start == end:
            return list(largest([self._piece(each, each, (start, end), holds) for each, holds in self.at(start)]))
        third = (end - start) / 3
        one, other = self.at(start + third), self.at(end - third)
        by_ends = {self._key(each, holds): each for each, holds in other}
        if set(by_ends) == {self._key(*each) for each in one}:
            drawn = [self._piece(each, by_ends[self._key(each, holds)], (start, end), holds) for each, holds in one]
            return list(largest(drawn))
        if end - start <= FINEST_MM:
            flat = [self._piece(each, each, (start, end), holds) for each, holds in one or other]
            return list(largest(flat))
        before, behind = self._parted(start + third, end - third, one)
        return [*self.pieces(start, before), *self.pieces(before, behind), *self.pieces(behind, end)]

    def _parted(self, low: Number, high: Number, one: list[tuple[Chamber, bool]]) -> tuple[Number, Number]:
        """Return two places close together: at the first begin the same chambers as at `low`, at the other others."""
        keys = {self._key(*each) for each in one}
        while high - low > FINEST_MM:
            middle = (low + high) / 2
            if {self._key(*each) for each in self.at(middle)} == keys:
                low = middle
            else:
                high = middle
        return low, high

    def _key(self, chamber: Chamber, holds: bool) -> tuple[Number, Number, int, bool]:
        far = chamber.start_mm if self.rear else chamber.end_mm
        return far, chamber.floor_mm, len(chamber.boxed), holds

    def _piece(self, one: Chamber, other: Chamber, ends: tuple[Number, Number], holds: bool) -> Piece:
        """Return a piece through the volumes at one third and at two thirds of a stretch."""
        step = Fraction(other.volume_mm3) - Fraction(one.volume_mm3)
        at = one.bays[-1 if self.rear else 0]
        far = -one.start_mm if self.rear else one.end_mm
        volumes = (max(one.volume_mm3 - step, 0), max(other.volume_mm3 + step, 0))
        height = at.zone.roof_mm - one.floor_mm
        return Piece(*ends, *volumes, one.floor_mm, height, far, holds, one.governing)


def pieces_by_fit(
    cavity: Cavity, limits: Limits, speaker: Speaker | None, space: tuple[Number, Number], rear: bool
) -> list[Piece]:
    """Return the curve's pieces as the fit finds them.

    Parameters
    ----------
    cavity, limits, speaker : Cavity, Limits, Speaker or None
        As for `fit_enclosure`, in exact numbers. [mm]
    space : tuple of two
        What the chamber may use of the length. [mm]
    rear : bool
        Whether the bulkhead closes the rear end; places are then counted from the rear. [-]

    Returns
    -------
    list of Piece
        In order of their places. [mm]

    References
    ----------
    `fit_enclosure`.
    """
    asked = _Asked(cavity, limits, speaker, space, rear)
    start, end = (-space[1], -space[0]) if rear else space
    return joined(sorted({start, end, *_cuts(asked, start, end)}), asked.pieces)


def _cuts(asked: _Asked, start: Number, end: Number) -> Iterator[Number]:
    """Yield the places at which a wall, a box's side or the speaker meets an edge of the cavity."""
    limits, speaker, sign = asked.limits, asked.speaker, -1 if asked.rear else 1
    wall = limits.wall_mm
    both = wall + limits.post_mm if wall > 0 else wall
    front, rear = kept_mm(asked.cavity, limits, speaker)
    edges = {start, end, sign * (asked.cavity.start_mm + front), sign * (asked.cavity.end_mm - rear)}
    for bay in asked.cavity.bays(limits.clearance_mm, limits.end_clearance_mm):
        edges |= {sign * bay.start_mm, sign * bay.end_mm}
    edges |= {sign * each for each in (limits.front_at_mm, limits.rear_at_mm) if each is not None}
    for each in asked.cavity.obstacles if limits.cut_round else ():
        places = (each.start_mm, each.end_mm, each.start_mm - wall, each.end_mm + wall)
        edges |= {sign * place for place in places}
    offsets = {0 * wall, wall, 2 * wall}
    if speaker is not None:
        along = speaker.length_mm if speaker.faces in ("down", "up") else speaker.behind_mm + limits.over_speaker_mm
        offsets |= {along + both, along + 2 * both, along + wall, along + both + wall}
    for edge in edges:
        yield from (edge - offset for offset in offsets if start < edge - offset < end)

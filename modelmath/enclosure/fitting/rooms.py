"""A stretch of bays with a level floor, as a chamber is tried in it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field, replace
from functools import cached_property, partial

from modelmath.enclosure.cavity import Bay, Cavity, volume_mm3
from modelmath.enclosure.fitting.boxed import boxed_in, taken_mm3
from modelmath.enclosure.fitting.joined import Air, Piece, air_in, volume_of
from modelmath.enclosure.fitting.known import Sections
from modelmath.enclosure.limits import Limits
from modelmath.enclosure.obstacles import Obstacle
from modelmath.lengths.numbers import Number

Stretch = tuple[Number, Number]


@dataclass(frozen=True)
class Room:
    """A stretch of bays with a level floor, as a chamber is tried in it.

    Attributes
    ----------
    bays : tuple of Bay
        The bays it takes in, front to rear. [mm]
    ends : tuple of two
        Outer faces of what closes its ends, from the fore-aft mark. [mm]
    walled : tuple of two bool
        Whether front and rear end need a wall of their own. [-]
    floor_mm : Fraction or float
        Height of the floor above the seat. [mm]
    limits : Limits
        What must be kept, and what walls and posts take. [mm]
    narrow : tuple of Obstacle
        What the floor may be cut round. [mm]
    part : int or None
        Where boxes part it, which part is meant, the largest being 0; None where all of it is. [-]
    sections : Sections
        What is known of the zones' sections already; rooms of one search share it. [mm]
    """

    bays: tuple[Bay, ...]
    ends: Stretch
    walled: tuple[bool, bool]
    floor_mm: Number
    limits: Limits
    narrow: tuple[Obstacle, ...] = ()
    part: int | None = None
    sections: Sections = field(default_factory=Sections, compare=False, repr=False)

    @property
    def inner(self) -> Stretch:
        """The ends less the walls; in the wrong order where these take all the length. [mm]"""
        return self._less(self.ends, self.limits.wall_mm)

    @property
    def for_speaker(self) -> Stretch:
        """The ends less walls and the posts behind them. [mm]"""
        return self._less(self.inner, self.limits.post_mm)

    def _less(self, ends: Stretch, each_mm: Number) -> Stretch:
        front, rear = self.walled
        return ends[0] + each_mm * front, ends[1] - each_mm * rear

    @property
    def governing(self) -> Bay:
        """The bay with the highest floor. [-]"""
        return max(self.bays, key=lambda bay: bay.floor_mm)

    @property
    def lowest_roof(self) -> Bay:
        """The bay whose roof is lowest. [-]"""
        return min(self.bays, key=lambda bay: bay.zone.roof_mm)

    @cached_property
    def boxed(self) -> tuple[Obstacle, ...]:
        """What stands up through its floor, and is boxed in. [mm]"""
        return boxed_in(self.narrow, self.ends, self.floor_mm) if self.narrow else ()

    @cached_property
    def volume_mm3(self) -> Number:
        """Gross volume: cross-section times length, less what is boxed in; of one part, what is joined there. [mm3]"""
        if self.pieces is not None:
            return volume_of(self.pieces)
        whole = volume_mm3(self.bays, *self.inner, self.floor_mm)
        boxed = self.boxed
        if not boxed:
            return whole
        return whole - taken_mm3(self.bays, self.inner, self.floor_mm, boxed, self.limits.wall_mm)

    @cached_property
    def air(self) -> Air:
        """What boxes leave of it, in its parts. [mm]"""
        if not self.boxed:
            return Air()
        find = partial(air_in, self.bays, self.inner, self.floor_mm, self.boxed, self.limits.wall_mm, self.sections)
        return self.sections.air(self.inner, self.floor_mm, self.boxed, find)

    def in_part(self, part: int) -> Room:
        """Return the same with one part meant, its air known already.

        Parameters
        ----------
        part : int
            Which, the largest being 0. [-]

        Returns
        -------
        Room
            The same. [mm]

        References
        ----------
        None needed.
        """
        meant = replace(self, part=part)
        meant.__dict__.update(air=self.air, boxed=self.boxed)  # neither depends on which part is meant
        return meant

    @property
    def pieces(self) -> tuple[Piece, ...] | None:
        """The pieces of air of the part that is meant; None where all is. [mm]"""
        return None if self.part is None else self.air.parts[self.part]

    def joined(self) -> Iterator[tuple[Bay, ...]]:
        """Yield the bays of each part of it that is joined within, up to where a wall stands for the end of a box.

        Yields
        ------
        tuple of Bay
            All of them where nothing parts it. [mm]

        References
        ----------
        A wall further out than its inner face at the full section would have some of that inside.
        """
        if not self.air.shut:
            yield self.bays
            return
        (start, end), wall = self.ends, self.limits.wall_mm
        for low, high in less(*self.inner, self.air.shut):
            first = start if low == self.inner[0] else max(low - wall, start)
            last = end if high == self.inner[1] else min(high + wall, end)
            yield clip(self.bays, first, last)


def walled(ends: Stretch, cavity: Cavity, limits: Limits) -> tuple[bool, bool]:
    """Say whether either end needs a wall: not where the shell's own end closes it, nor where walls take no room.

    Parameters
    ----------
    ends : tuple of two
        Front and rear end, from the fore-aft mark. [mm]
    cavity : Cavity
        For the ends of the shell. [mm]
    limits : Limits
        For the thickness of walls. [mm]

    Returns
    -------
    tuple of two bool
        Front, and rear. [-]

    References
    ----------
    None needed.
    """
    front = not (ends[0] == cavity.start_mm and cavity.front_closed)
    rear = not (ends[1] == cavity.end_mm and cavity.rear_closed)
    return front and limits.wall_mm > 0, rear and limits.wall_mm > 0


def clip(bays: Sequence[Bay], start: Number, end: Number) -> tuple[Bay, ...]:
    """Return the bays between two ends, the outer ones cut there.

    Parameters
    ----------
    bays : sequence of Bay
        Front to rear. [mm]
    start, end : Fraction or float
        The ends, from the fore-aft mark. [mm]

    Returns
    -------
    tuple of Bay
        None when the ends meet or pass each other. [mm]

    References
    ----------
    Arithmetic.
    """
    first, last = 0, len(bays)
    while first < last and bays[first].end_mm <= start:
        first += 1
    while first < last and bays[last - 1].start_mm >= end:
        last -= 1
    if first == last or end <= start:
        return ()
    kept = list(bays[first:last])
    for at in {0, len(kept) - 1}:
        bay = kept[at]
        if bay.start_mm < start or end < bay.end_mm:
            kept[at] = Bay(bay.zone, max(bay.start_mm, start), min(bay.end_mm, end), bay.floor_mm, bay.cause)
    return tuple(kept)


def less(start_mm: Number, end_mm: Number, taken: Sequence[Stretch]) -> Iterator[Stretch]:
    """Yield what is left of a stretch between those that are taken.

    Parameters
    ----------
    start_mm, end_mm : Fraction or float
        The ends of the stretch, from the fore-aft mark. [mm]
    taken : sequence of tuple of two
        What is taken from it, in order of its front ends. [mm]

    Yields
    ------
    tuple of two
        Front and rear end of each piece, from the front. [mm]

    References
    ----------
    Arithmetic.
    """
    for low, high in taken:
        if low < end_mm and high > start_mm:
            if low > start_mm:
                yield start_mm, low
            start_mm = max(start_mm, high)
    if start_mm < end_mm:
        yield start_mm, end_mm


def bays_over(bays: Sequence[Bay], start_mm: Number, end_mm: Number) -> tuple[Bay, ...]:
    """Return the bays that lie over a stretch; of one beyond them all, the bay nearest to it.

    Parameters
    ----------
    bays : sequence of Bay
        Front to rear. [mm]
    start_mm, end_mm : Fraction or float
        The stretch, from the fore-aft mark. [mm]

    Returns
    -------
    tuple of Bay
        One or more. [mm]

    References
    ----------
    Arithmetic.
    """
    found = tuple(bay for bay in bays if bay.start_mm < end_mm and bay.end_mm > start_mm)
    if found:
        return found
    return (bays[0] if end_mm <= bays[0].start_mm else bays[-1],)

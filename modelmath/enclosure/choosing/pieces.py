"""For a bulkhead that stands anywhere in one short stretch: every flat-floored chamber that may be the largest there.

Under one floor the volume is what lies between the walls' inner faces. Summed up along the length once for each floor,
that of any chamber is the difference of two such sums, which run straight between the cavity's edges.
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from itertools import accumulate

from modelmath.enclosure.bodies import Speaker
from modelmath.enclosure.cavity import Bay
from modelmath.enclosure.limits import Limits
from modelmath.lengths.numbers import Number

Stretch = tuple[Number, Number]


@dataclass(frozen=True)
class Piece:
    """A stretch of places over which one chamber stays the largest: only its volume changes, and evenly.

    Attributes
    ----------
    start_mm, end_mm : Fraction or float
        The stretch, from the fore-aft mark; both the same for a single place. [mm]
    start_volume_mm3, end_volume_mm3 : Fraction or float
        Gross volume with the bulkhead at either end of the stretch. [mm3]
    floor_mm : Fraction or float
        Height of the floor above the seat. [mm]
    height_mm : Fraction or float
        From the floor to the roof at the bulkhead. [mm]
    far_mm : Fraction or float
        Outer face of the chamber's other end. [mm]
    holds_speaker : bool
        Whether it holds the speaker; True without one. [-]
    cause : Bay
        The bay whose chassis top, or what stands there, sets the floor. [-]
    """

    start_mm: Number
    end_mm: Number
    start_volume_mm3: Number
    end_volume_mm3: Number
    floor_mm: Number
    height_mm: Number
    far_mm: Number
    holds_speaker: bool
    cause: Bay

    def volume_at(self, place_mm: Number) -> Number:
        """Return the volume with the bulkhead at a place of the stretch.

        Parameters
        ----------
        place_mm : Fraction or float
            Place of the bulkhead. [mm]

        Returns
        -------
        Fraction or float
            Gross volume. [mm3]

        References
        ----------
        Linear interpolation, exact here.
        """
        if self.end_mm == self.start_mm:
            return self.start_volume_mm3
        part = (place_mm - self.start_mm) / (self.end_mm - self.start_mm)
        return self.start_volume_mm3 + part * (self.end_volume_mm3 - self.start_volume_mm3)

    def between(self, start_mm: Number, end_mm: Number) -> Piece:
        """Return the part of it between two places.

        Parameters
        ----------
        start_mm, end_mm : Fraction or float
            The places, in the stretch. [mm]

        Returns
        -------
        Piece
            The same chamber there. [mm]

        References
        ----------
        Linear interpolation.
        """
        one, other = self.volume_at(start_mm), self.volume_at(end_mm)
        return replace(self, start_mm=start_mm, end_mm=end_mm, start_volume_mm3=one, end_volume_mm3=other)

    def mirrored(self) -> Piece:
        """Return it with front and rear exchanged.

        Returns
        -------
        Piece
            Its places counted the other way. [mm]

        References
        ----------
        None needed.
        """
        return replace(
            self,
            start_mm=-self.end_mm,
            end_mm=-self.start_mm,
            start_volume_mm3=self.end_volume_mm3,
            end_volume_mm3=self.start_volume_mm3,
            far_mm=-self.far_mm,
        )


class Under:
    """All bays under one level floor: the volume along the length, the runs it reaches over, where the speaker sits.

    Parameters
    ----------
    bays : sequence of Bay
        Front to rear, in exact numbers. [mm]
    floor_mm : Fraction
        Height of the floor above the seat. [mm]
    limits : Limits
        What is kept. [mm]
    speaker : Speaker or None
        One that faces down. [mm]
    """

    def __init__(self, bays: Sequence[Bay], floor_mm: Number, limits: Limits, speaker: Speaker | None) -> None:
        self.bays, self.floor_mm, self._limits, self._speaker = bays, floor_mm, limits, speaker
        self._edges = [bay.start_mm for bay in bays]
        open_ = [bay.floor_mm <= floor_mm < bay.zone.roof_mm for bay in bays]
        self.areas = [
            bay.zone.area_mm2(floor_mm) if free else 0 for bay, free in zip(bays, open_, strict=True)
        ]  # fmt: skip
        sums = accumulate(area * bay.length_mm for area, bay in zip(self.areas, bays, strict=True))
        self._sums = [0, *sums]
        self.last: list[int] = [-1] * len(bays)  # of each bay, the last one of its run; -1 where the floor can't lie
        for at in range(len(bays) - 1, -1, -1):
            if open_[at]:
                self.last[at] = self.last[at + 1] if at + 1 < len(bays) and open_[at + 1] else at

    def volume_to(self, place_mm: Number) -> Number:
        """Return the volume from the first bay's front end up to a place.

        Parameters
        ----------
        place_mm : Fraction
            Any place over the bays. [mm]

        Returns
        -------
        Fraction
            Volume. [mm3]

        References
        ----------
        Arithmetic.
        """
        at = max(bisect_right(self._edges, place_mm) - 1, 0)
        return self._sums[at] + self.areas[at] * (place_mm - self._edges[at])

    @cached_property
    def seats(self) -> list[Stretch]:
        """The longest stretches over which every bay holds the speaker's section. [mm]"""
        found: list[Stretch] = []
        for at, bay in enumerate(self.bays):
            if self.last[at] < 0 or not self._holds(bay):
                continue
            if found and found[-1][1] == bay.start_mm:
                found[-1] = (found[-1][0], bay.end_mm)
            else:
                found.append((bay.start_mm, bay.end_mm))
        return found

    def _holds(self, bay: Bay) -> bool:
        """Whether one bay is deep and, at every height that the speaker takes, wide enough."""
        speaker, floor = self._speaker, self.floor_mm
        assert speaker is not None
        if bay.zone.roof_mm - floor < speaker.behind_mm + self._limits.over_speaker_mm:
            return False
        if bay.floor_mm + speaker.travel_mm > floor:
            return False
        flange = bay.zone.width_over(floor, floor + speaker.flange_mm)
        behind = bay.zone.width_over(floor, floor + speaker.behind_mm)
        return bool(flange >= speaker.width_mm and behind >= speaker.basket_mm[1])

    def seat_between(self, first_mm: Number, last_mm: Number) -> bool:
        """Say whether the speaker finds its length between two places.

        Parameters
        ----------
        first_mm, last_mm : Fraction
            What walls and posts leave. [mm]

        Returns
        -------
        bool
            Whether it does; True without a speaker. [-]

        References
        ----------
        Arithmetic.
        """
        if self._speaker is None:
            return True
        length = self._speaker.length_mm
        return any(min(end, last_mm) - max(start, first_mm) >= length for start, end in self.seats)


def floors_of(bays: Sequence[Bay], speaker: Speaker | None) -> tuple[list[Number], set[Number]]:
    """Return all floors that may be best, and those of them that no bay sets.

    Parameters
    ----------
    bays : sequence of Bay
        Front to rear. [mm]
    speaker : Speaker or None
        One that faces down: its cone needs room below, and a section that narrows downward may be too narrow. [mm]

    Returns
    -------
    tuple of (list, set)
        Heights above the seat, rising. [mm]

    References
    ----------
    For a given stretch the volume only grows as the floor comes down, until one of these is in the way.
    """
    own = {bay.floor_mm for bay in bays}
    others: set[Number] = set()
    if speaker is not None:
        if speaker.travel_mm:
            others |= {low + speaker.travel_mm for low in own}
        low = min(own)
        for profile in {bay.zone.profile for bay in bays if bay.zone.profile is not None}:
            for width in (speaker.width_mm, speaker.basket_mm[1]):
                others |= {start for start, _ in profile.as_wide_as(width, low)}
    return sorted(own | others), others


@dataclass(frozen=True)
class Walls:
    """What walls and posts take at either end of a chamber.

    Attributes
    ----------
    near_mm, far_mm : Fraction or float
        Thickness of the bulkhead, and of the wall at the other end where that needs one. [mm]
    near_post_mm, far_post_mm : Fraction or float
        Posts behind either. [mm]
    """

    near_mm: Number
    far_mm: Number
    near_post_mm: Number
    far_post_mm: Number


@dataclass(frozen=True)
class WallsTo:
    """Where a chamber's end needs a wall of its own.

    Attributes
    ----------
    limits : Limits
        Thickness of walls and posts. [mm]
    closed_mm : tuple of two
        Places at which the shell's own end closes it; None where it does not. [mm]
    """

    limits: Limits
    closed_mm: tuple[Number | None, Number | None]

    def __call__(self, near_mm: Number, far_mm: Number) -> Walls:
        """Return what walls and posts take of a chamber between two places."""
        wall, post = self.limits.wall_mm, self.limits.post_mm
        near = wall > 0 and near_mm != self.closed_mm[0]
        far = wall > 0 and far_mm != self.closed_mm[1]
        return Walls(wall * near, wall * far, post * near, post * far)


def chambers(
    unders: Sequence[Under], others: set[Number], ends: Stretch, walls_to: WallsTo
) -> Iterator[Piece]:  # fmt: skip
    """Yield every chamber that may be the largest with its front wall anywhere between two neighbouring places.

    Parameters
    ----------
    unders : sequence of Under
        The bays under every floor. [mm]
    others : set of Fraction
        Floors that no bay sets. [mm]
    ends : tuple of two
        The places; nothing changes between them. Both the same for one place alone. [mm]
    walls_to : WallsTo
        What walls and posts take. [mm]

    Yields
    ------
    Piece
        One for each floor that leaves a volume. [mm]

    References
    ----------
    Elementary geometry.
    """
    start, end = ends
    middle = (start + end) / 2
    bays = unders[0].bays
    at = max(bisect_right([bay.start_mm for bay in bays], middle) - 1, 0)
    for under in unders:
        last = under.last[at]
        if last < 0:
            continue
        cause = max(bays[at : last + 1], key=lambda bay: bay.floor_mm)
        if cause.floor_mm != under.floor_mm and under.floor_mm not in others:
            continue  # a lower floor reaches as far
        far = bays[last].end_mm
        walls = walls_to(middle, far)
        inner_end = far - walls.far_mm
        if inner_end <= middle + walls.near_mm:
            continue
        holds = under.seat_between(
            middle + walls.near_mm + walls.near_post_mm, inner_end - walls.far_post_mm
        )  # fmt: skip
        up_to = under.volume_to(inner_end)
        one, other = (up_to - under.volume_to(place + walls.near_mm) for place in ends)
        height = bays[at].zone.roof_mm - under.floor_mm
        yield Piece(start, end, one, other, under.floor_mm, height, far, holds, cause)

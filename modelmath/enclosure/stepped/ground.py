"""What a stepped chamber is fitted into: the run of bays, what is kept, the levels that its floors may have."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from functools import cached_property

from modelmath.enclosure.bodies import Speaker
from modelmath.enclosure.cavity import Bay, Cavity, Zone
from modelmath.enclosure.limits import Limits
from modelmath.lengths.numbers import Number

Stretch = tuple[Number, Number]


@dataclass(frozen=True)
class Ground:
    """A run of bays without gaps, and what a chamber in it has to keep.

    Attributes
    ----------
    bays : tuple of Bay
        Front to rear, cut at the ends of the space. [mm]
    closed : tuple of two
        Places of the cavity's own closed ends, at which no wall is needed; None where that end is open. [mm]
    limits : Limits
        What walls and posts take, and what is kept over the speaker. [mm]
    speaker : Speaker or None
        Sits on one level, facing down. [mm]
    shortest_mm : Fraction or float
        Least length of a level where there are two or more. [mm]
    least_riser_mm : Fraction or float
        Least height between neighbouring levels; 0 where any will do. [mm]
    """

    bays: tuple[Bay, ...]
    closed: tuple[Number | None, Number | None]
    limits: Limits
    speaker: Speaker | None
    shortest_mm: Number
    least_riser_mm: Number = 0
    _areas: dict[tuple[int, Number], Number] = field(default_factory=dict, compare=False, repr=False)
    _wide: dict[tuple[int, Number], bool] = field(default_factory=dict, compare=False, repr=False)

    @property
    def wall_mm(self) -> Number:
        """Thickness of walls and risers. [mm]"""
        return self.limits.wall_mm

    @property
    def walled_room_mm(self) -> Number:
        """What a wall and the posts behind it take from the speaker. [mm]"""
        return self.limits.wall_mm + self.limits.post_mm

    def needs_wall(self, ends: Stretch) -> tuple[bool, bool]:
        """Say whether either end of a chamber needs a wall of its own.

        Parameters
        ----------
        ends : tuple of two
            Outer faces, from the fore-aft mark. [mm]

        Returns
        -------
        tuple of two bool
            Not where the shell's own end closes it, nor where walls take no room. [-]

        References
        ----------
        None needed.
        """
        takes = self.wall_mm > 0
        return takes and ends[0] != self.closed[0], takes and ends[1] != self.closed[1]

    @cached_property
    def levels(self) -> tuple[Number, ...]:
        """Every height that a floor of the largest chamber may have where any riser will do, the lowest first. [mm]

        Given its ends and steps, a chamber holds more the lower each floor lies, until a bay below it is in the way;
        under the speaker, until its cone is, or the section grows too narrow.
        """
        own = {bay.floor_mm for bay in self.bays}
        found = set(own)
        if self.speaker is not None:
            found |= {low + self.speaker.travel_mm for low in own}
            widths = (self.speaker.width_mm, self.speaker.basket_mm[1])
            profiles = {id(zone): zone.profile for zone in self.zones if zone.profile is not None}.values()
            for profile in profiles:
                for width in widths:
                    found |= {start for start, _ in profile.as_wide_as(width, min(own))}
        return self._under_the_roof(found)

    def _under_the_roof(self, levels: set[Number]) -> tuple[Number, ...]:
        highest = max(zone.roof_mm for zone in self.zones)
        return tuple(sorted(level for level in levels if level < highest))

    def raised_levels(self, steps: int) -> tuple[Number, ...]:
        """Return every height that a floor of the largest chamber may have where each riser has a least height.

        Given its ends, its steps and which way each goes, a chamber holds more the lower each floor lies. Each is kept
        up by one of `levels`, or by a neighbour that lies lower by just the least riser, and that by the next: so each
        lies at one of `levels` plus none, one, two, ... least risers, no more than there are steps.

        Parameters
        ----------
        steps : int
            How many steps the floor may have. [-]

        Returns
        -------
        tuple of Fraction or float
            Heights above the seat, the lowest first. [mm]

        References
        ----------
        The least solution of a system of difference constraints is the longest path to each unknown: T. H. Cormen et
        al., Introduction to Algorithms, 24.4, from memory.
        """
        risers = [count * self.least_riser_mm for count in range(steps + 1)]
        return self._under_the_roof({level + raised for level in self.levels for raised in risers})

    @cached_property
    def zones(self) -> tuple[Zone, ...]:
        """The zones of its bays, each once, front to rear. [-]"""
        return tuple({id(bay.zone): bay.zone for bay in self.bays}.values())

    def area_mm2(self, zone: Zone, level_mm: Number) -> Number:
        """Return the area of a zone's section above a level.

        Parameters
        ----------
        zone : Zone
            One of its zones. [mm]
        level_mm : Fraction or float
            The level, above the seat. [mm]

        Returns
        -------
        Fraction or float
            Area. [mm2]

        References
        ----------
        `Zone.area_mm2`.
        """
        known = self._areas.get((id(zone), level_mm))
        if known is None:
            known = self._areas[id(zone), level_mm] = zone.area_mm2(level_mm)
        return known

    def volume_mm3(self, start_mm: Number, end_mm: Number, level_mm: Number) -> Number:
        """Return the volume between two ends above a level.

        Parameters
        ----------
        start_mm, end_mm : Fraction or float
            The ends, from the fore-aft mark. [mm]
        level_mm : Fraction or float
            The level, above the seat. [mm]

        Returns
        -------
        Fraction or float
            Volume; 0 where the ends meet or pass each other. [mm3]

        References
        ----------
        Elementary geometry: cross-section times length.
        """
        total: Number = 0
        for bay in self.bays:
            length = min(bay.end_mm, end_mm) - max(bay.start_mm, start_mm)
            if length > 0:
                total += self.area_mm2(bay.zone, level_mm) * length
        return total

    def is_wide_and_deep(self, zone: Zone, level_mm: Number) -> bool:
        """Say whether a zone's section has room for the speaker on a level.

        Parameters
        ----------
        zone : Zone
            The zone. [mm]
        level_mm : Fraction or float
            The level, above the seat. [mm]

        Returns
        -------
        bool
            Whether it is deep enough, and wide enough for the flange and for what stands behind it. [-]

        References
        ----------
        Elementary geometry.
        """
        known = self._wide.get((id(zone), level_mm))
        if known is None:
            known = self._wide[id(zone), level_mm] = self._is_wide_and_deep(zone, level_mm)
        return known

    def _is_wide_and_deep(self, zone: Zone, level_mm: Number) -> bool:
        speaker = self.speaker
        assert speaker is not None
        if zone.roof_mm - level_mm < speaker.behind_mm + self.limits.over_speaker_mm:
            return False
        flange = zone.width_over(level_mm, level_mm + speaker.flange_mm)
        return flange >= speaker.width_mm and (
            zone.width_over(level_mm, level_mm + speaker.behind_mm) >= speaker.basket_mm[1]
        )

    def holds(self, bay: Bay, level_mm: Number) -> bool:
        """Say whether a bay has room for the speaker on a level, its cone's travel below included.

        Parameters
        ----------
        bay : Bay
            The bay. [mm]
        level_mm : Fraction or float
            The level, above the seat. [mm]

        Returns
        -------
        bool
            Whether it has. [-]

        References
        ----------
        Elementary geometry.
        """
        assert self.speaker is not None
        return bay.floor_mm + self.speaker.travel_mm <= level_mm and self.is_wide_and_deep(bay.zone, level_mm)


def joined(bays: Sequence[Bay], wanted: Sequence[bool]) -> Iterator[Stretch]:
    """Yield the longest stretches of neighbouring bays that are all wanted.

    Parameters
    ----------
    bays : sequence of Bay
        Front to rear, without gaps. [mm]
    wanted : sequence of bool
        For each of them. [-]

    Yields
    ------
    tuple of two
        Front and rear end, from the fore-aft mark. [mm]

    References
    ----------
    None needed.
    """
    start: Number | None = None
    for bay, take in zip(bays, wanted, strict=True):
        if take and start is None:
            start = bay.start_mm
        elif not take and start is not None:
            yield start, bay.start_mm
            start = None
    if start is not None:
        yield start, bays[-1].end_mm


def ground_in(
    cavity: Cavity,
    limits: Limits,
    speaker: Speaker | None,
    shortest_mm: Number,
    space: Stretch | None,
    least_riser_mm: Number = 0,
) -> Ground | None:
    """Return what a stepped chamber is fitted into.

    Parameters
    ----------
    cavity : Cavity
        The cavity, with the wire path taken off. [mm]
    limits : Limits
        Clearances, walls, room at the ends. [mm]
    speaker : Speaker or None
        The speaker. [mm]
    shortest_mm : Fraction or float
        Least length of a level. [mm]
    space : tuple of two, or None
        The ends to stay between, beside the room kept for lamps. [mm]
    least_riser_mm : Fraction or float
        Least height of a riser. [mm]

    Returns
    -------
    Ground or None
        None where no length is left. [mm]

    References
    ----------
    Arithmetic.
    """
    start, end = cavity.start_mm + limits.front_room_mm, cavity.end_mm - limits.rear_room_mm
    if space is not None:
        start, end = max(start, space[0]), min(end, space[1])
    bays = tuple(
        Bay(bay.zone, max(bay.start_mm, start), min(bay.end_mm, end), bay.floor_mm, bay.cause)
        for bay in cavity.bays(limits.clearance_mm, limits.end_clearance_mm)
        if bay.start_mm < end and start < bay.end_mm
    )
    if not bays or end <= start:
        return None
    closed = (cavity.start_mm if cavity.front_closed else None, cavity.end_mm if cavity.rear_closed else None)
    return Ground(bays, closed, limits, speaker, shortest_mm, least_riser_mm)

"""The free space inside a shell: zones along its length, each with chassis top, roof underside and inside width.

What moves over the chassis stands in it as obstacles.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

from modelmath.enclosure.fitting.halves import half
from modelmath.enclosure.obstacles import Obstacle
from modelmath.enclosure.sections import Profile
from modelmath.errors import OutOfRange
from modelmath.lengths.numbers import Number, check_number


@dataclass(frozen=True)
class Zone:
    """A stretch along the length over which nothing changes. Heights are above the seat.

    Attributes
    ----------
    name : str
        What stands there, such as ``motor``. [-]
    start_mm, end_mm : Fraction or float
        Front and rear end, along the length from the fore-aft mark, positive to the rear. [mm]
    top_mm : Fraction or float
        Chassis top. [mm]
    roof_mm : Fraction or float
        Underside of the shell's roof. [mm]
    width_mm : Fraction or float
        Inside width of the shell; where it has a cross-section, the greatest. [mm]
    profile : Profile or None
        Its cross-section, up to this roof; None where it is as wide at every height. [mm]
    """

    name: str
    start_mm: Number
    end_mm: Number
    top_mm: Number
    roof_mm: Number
    width_mm: Number
    profile: Profile | None = None

    def __post_init__(self) -> None:
        for what in ("start_mm", "end_mm", "top_mm", "roof_mm", "width_mm"):
            check_number(f"zone {self.name!r}: {what.removesuffix('_mm')}", getattr(self, what))
        if not self.end_mm > self.start_mm:
            given = f"{float(self.end_mm - self.start_mm):.2f} mm long"
            raise OutOfRange(f"zone {self.name!r}", given, "longer than 0", "Check where it starts and ends.")
        if not self.width_mm > 0:
            raise OutOfRange(
                f"zone {self.name!r}", f"{float(self.width_mm):.2f} mm wide", "wider than 0", "Check its inside width."
            )
        if self.profile is not None and self.profile.roof_mm != self.roof_mm:
            raise OutOfRange(
                f"zone {self.name!r}: cross-section",
                f"ending at {float(self.profile.roof_mm):.2f} mm",
                f"ending at the roof, {float(self.roof_mm):.2f} mm",
                "Let its last point be the roof's underside.",
            )

    def area_mm2(self, floor_mm: Number) -> Number:
        """Return the area of the cross-section above a level floor.

        Parameters
        ----------
        floor_mm : Fraction or float
            Height of the floor above the seat. [mm]

        Returns
        -------
        Fraction or float
            Area; 0 where the floor lies at the roof or above it. [mm2]

        References
        ----------
        Elementary geometry; `Profile.area_above`.
        """
        if self.profile is not None:
            return self.profile.area_above(floor_mm)
        return self.width_mm * max(self.roof_mm - floor_mm, 0)

    def width_over(self, low_mm: Number, high_mm: Number) -> Number:
        """Return the least inside width between two heights.

        Parameters
        ----------
        low_mm, high_mm : Fraction or float
            Heights above the seat. [mm]

        Returns
        -------
        Fraction or float
            Full width; 0 where part of it lies above the roof. [mm]

        References
        ----------
        `Profile.width_over`.
        """
        if self.profile is not None:
            return self.profile.width_over(low_mm, high_mm)
        return self.width_mm if high_mm <= self.roof_mm else 0

    @property
    def words(self) -> str:
        """What a message calls it, as an obstacle has it too. [-]"""
        return self.name


@dataclass(frozen=True)
class Bay:
    """A stretch of the cavity as a part meets it, with the clearances taken off.

    Attributes
    ----------
    zone : Zone
        The zone whose roof and width it has. [-]
    start_mm, end_mm : Fraction or float
        Front and rear end, from the fore-aft mark. [mm]
    floor_mm : Fraction or float
        Lowest height a part may reach down to. [mm]
    cause : Zone or Obstacle
        What sets that floor: the zone whose chassis top does, a neighbour's where its step is near, or what moves
        there. Either has a name, words for a message and a top. [-]
    """

    zone: Zone
    start_mm: Number
    end_mm: Number
    floor_mm: Number
    cause: Zone | Obstacle

    @property
    def depth_mm(self) -> Number:
        """Depth from the roof to the floor. [mm]"""
        return self.zone.roof_mm - self.floor_mm

    @property
    def length_mm(self) -> Number:
        """Length. [mm]"""
        return self.end_mm - self.start_mm


@dataclass(frozen=True)
class Cavity:
    """The zones of a shell, front to rear, without gaps.

    Attributes
    ----------
    zones : tuple of Zone
        In order along the length. [mm]
    front_closed, rear_closed : bool
        Whether the shell's own end wall closes that end airtight. [-]
    obstacles : tuple of Obstacle
        What moves over the chassis, in any order, each with its running clearance in it. They count across the full
        width, and are kept as exact numbers, rounded outward. [mm]
    """

    zones: tuple[Zone, ...]
    front_closed: bool = True
    rear_closed: bool = True
    obstacles: tuple[Obstacle, ...] = ()

    def __post_init__(self) -> None:
        object.__setattr__(self, "obstacles", tuple(each.outward() for each in self.obstacles))
        if not self.zones:
            raise OutOfRange(
                "the cavity", "without zones", "one zone or more", "Add a zone with its two height readings."
            )
        for before, after in pairwise(self.zones):
            if before.end_mm != after.start_mm:
                raise OutOfRange(
                    f"zone {after.name!r}",
                    f"starting at {float(after.start_mm):.2f} mm",
                    f"starting where zone {before.name!r} ends, at {float(before.end_mm):.2f} mm",
                    "Use one reading for both, and list the zones from front to rear.",
                )

    @property
    def start_mm(self) -> Number:
        """Front end. [mm]"""
        return self.zones[0].start_mm

    @property
    def end_mm(self) -> Number:
        """Rear end. [mm]"""
        return self.zones[-1].end_mm

    def closed_at(self, end: str) -> bool:
        """Say whether the shell closes an end.

        Parameters
        ----------
        end : str
            ``front`` or ``rear``; any other way is not closed. [-]

        Returns
        -------
        bool
            Whether its own end wall does. [-]

        References
        ----------
        None needed.
        """
        return {"front": self.front_closed, "rear": self.rear_closed}.get(end, False)

    def narrowed(self, by_mm: Number) -> Cavity:
        """Return the same with some inside width taken off along the right side, looking to the rear.

        Places across count from its own centre line then, which lies half of that to the left.

        Parameters
        ----------
        by_mm : Fraction or float
            Width to take off. [mm]

        Returns
        -------
        Cavity
            Its zones as much narrower. [mm]

        Raises
        ------
        OutOfRange
            If a zone has no more width than that.

        References
        ----------
        Arithmetic.
        """
        zones = []
        for zone in self.zones:
            if by_mm >= zone.width_mm:
                given = f"{float(by_mm):.2f} mm of the {float(zone.width_mm):.2f} mm over {zone.name}"
                raise OutOfRange("the wire path, with its wall,", given, "less than the inside width", "Keep less.")
            profile = None if zone.profile is None else zone.profile.narrowed(by_mm)
            roof = zone.roof_mm if profile is None else profile.roof_mm
            zones.append(replace(zone, width_mm=zone.width_mm - by_mm, profile=profile, roof_mm=roof))
        aside = half(by_mm)
        moved = tuple(replace(each, centre_mm=each.centre_mm + aside) for each in self.obstacles)
        return replace(self, zones=tuple(zones), obstacles=moved)

    def bays(self, clearance_mm: Number, end_clearance_mm: Number) -> tuple[Bay, ...]:
        """Return the space a part may use: chassis tops raised by one clearance and lengthened by the other.

        Obstacles stand as they are: their running clearance is in them.

        Parameters
        ----------
        clearance_mm : Fraction or float
            Least gap above the chassis, 0 or more. [mm]
        end_clearance_mm : Fraction or float
            Least gap along the length to a step that stands higher, 0 or more. [mm]

        Returns
        -------
        tuple of Bay
            Front to rear, without gaps; each with one floor, one roof and one width. [mm]

        Raises
        ------
        OutOfRange
            If a clearance is below 0 or not finite.
        WrongKind
            If a clearance is no plain number.

        References
        ----------
        Dilation of a stepped profile by a box, united with boxes; arithmetic.

        Examples
        --------
        >>> cavity = Cavity((Zone("cab", 0, 20, 5, 15, 10), Zone("motor", 20, 60, 9, 15, 10)))
        >>> [(bay.start_mm, bay.end_mm, bay.floor_mm, bay.cause.name) for bay in cavity.bays(1, 2)]
        [(0, 18, 6, 'cab'), (18, 20, 10, 'motor'), (20, 60, 10, 'motor')]
        """
        for name, value in (("the clearance", clearance_mm), ("the clearance along the length", end_clearance_mm)):
            check_number(name, value)
            if value < 0:
                raise OutOfRange(name, f"{float(value):g} mm", "0 or more", "Write the gap to keep, such as 0.5 mm.")
        edges = self._edges(end_clearance_mm)
        bays: list[Bay] = []
        first = last = own = 0  # the zones near a stretch lie side by side, and move on with it
        for start, end in pairwise(edges):
            while self.zones[own].end_mm <= start:
                own += 1
            while start >= self.zones[first].end_mm + end_clearance_mm:
                first += 1
            while last + 1 < len(self.zones) and self.zones[last + 1].start_mm - end_clearance_mm < end:
                last += 1
            bay = self._bay((start, end), own, self.zones[first : last + 1], clearance_mm)
            if bays and (bays[-1].zone, bays[-1].cause) == (bay.zone, bay.cause):
                bay = replace(bays.pop(), end_mm=end)
            bays.append(bay)
        return tuple(bays)

    def _edges(self, end_clearance: Number) -> list[Number]:
        """Return every place at which something changes, in order."""
        edges = {self.start_mm, self.end_mm}
        for zone in self.zones:
            edges.update((zone.start_mm, zone.end_mm, zone.start_mm - end_clearance, zone.end_mm + end_clearance))
        for obstacle in self.obstacles:
            edges.update((obstacle.start_mm, obstacle.end_mm))
        return sorted(edge for edge in edges if self.start_mm <= edge <= self.end_mm)

    def _bay(self, ends: tuple[Number, Number], own: int, near: Sequence[Zone], clearance: Number) -> Bay:
        zone, (start, end) = self.zones[own], ends
        cause = max(near, key=lambda each: (each.top_mm, each is zone))
        bay = Bay(zone, start, end, cause.top_mm + clearance, cause)
        moving = [each for each in self.obstacles if each.start_mm < end and start < each.end_mm]
        highest = max(moving, key=lambda each: each.top_mm, default=None)
        if highest is None or highest.top_mm <= bay.floor_mm:
            return bay
        return replace(bay, floor_mm=highest.top_mm, cause=highest)


def volume_mm3(bays: Sequence[Bay], start_mm: Number, end_mm: Number, floor_mm: Number) -> Number:
    """Return the volume between two ends, above a flat floor: the sum of cross-section times length.

    Parameters
    ----------
    bays : sequence of Bay
        The cavity's bays. [mm]
    start_mm, end_mm : Fraction or float
        The ends, from the fore-aft mark. [mm]
    floor_mm : Fraction or float
        Height of the floor above the seat. [mm]

    Returns
    -------
    Fraction or float
        Volume. [mm3]

    References
    ----------
    Elementary geometry.

    Examples
    --------
    >>> cavity = Cavity((Zone("cab", 0, 20, 5, 15, 10), Zone("motor", 20, 60, 9, 15, 8)))
    >>> volume_mm3(cavity.bays(1, 0), 10, 60, 10)
    2100
    """
    total: Number = 0
    for bay in bays:
        length = min(bay.end_mm, end_mm) - max(bay.start_mm, start_mm)
        if length > 0:
            total += bay.zone.area_mm2(floor_mm) * length
    return total

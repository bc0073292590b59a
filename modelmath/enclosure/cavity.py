"""The free space inside a shell: zones along its length, each with chassis top, roof underside and inside width.

What moves over the chassis stands in it as obstacles.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

from modelmath.enclosure.obstacles import Obstacle
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
        Inside width of the shell. [mm]
    """

    name: str
    start_mm: Number
    end_mm: Number
    top_mm: Number
    roof_mm: Number
    width_mm: Number

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
        edges = {self.start_mm, self.end_mm}
        for zone in self.zones:
            for edge in (zone.start_mm, zone.end_mm, zone.start_mm - end_clearance_mm, zone.end_mm + end_clearance_mm):
                if self.start_mm < edge < self.end_mm:
                    edges.add(edge)
        for obstacle in self.obstacles:
            edges.update(edge for edge in (obstacle.start_mm, obstacle.end_mm) if self.start_mm < edge < self.end_mm)
        bays: list[Bay] = []
        for start, end in pairwise(sorted(edges)):
            bay = self._bay(start, end, clearance_mm, end_clearance_mm)
            if bays and (bays[-1].zone, bays[-1].cause) == (bay.zone, bay.cause):
                bay = replace(bays.pop(), end_mm=end)
            bays.append(bay)
        return tuple(bays)

    def _bay(self, start: Number, end: Number, clearance: Number, end_clearance: Number) -> Bay:
        zone = next(each for each in self.zones if each.start_mm <= start and end <= each.end_mm)
        near = [z for z in self.zones if z.start_mm - end_clearance < end and start < z.end_mm + end_clearance]
        cause = max(near, key=lambda each: (each.top_mm, each is zone))
        bay = Bay(zone, start, end, cause.top_mm + clearance, cause)
        moving = [each for each in self.obstacles if each.start_mm < end and start < each.end_mm]
        highest = max(moving, key=lambda each: each.top_mm, default=None)
        if highest is None or highest.top_mm <= bay.floor_mm:
            return bay
        return replace(bay, floor_mm=highest.top_mm, cause=highest)


def volume_mm3(bays: Sequence[Bay], start_mm: Number, end_mm: Number, floor_mm: Number) -> Number:
    """Return the volume between two ends, above a flat floor: the sum of width times depth times length.

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
            total += bay.zone.width_mm * (bay.zone.roof_mm - floor_mm) * length
    return total

"""What stands up through a chamber's floor and is boxed in: which obstacles, and the volume that their boxes take.

A box has sides and a lid as thick as a wall, and reaches up to the roof where there is no room for a lid.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

from modelmath.enclosure.cavity import Bay, Cavity, Zone
from modelmath.enclosure.fitting.halves import half
from modelmath.enclosure.obstacles import Obstacle
from modelmath.lengths.numbers import Number

Ends = tuple[Number, Number]


def narrow_ones(cavity: Cavity, wall_mm: Number) -> tuple[Obstacle, ...]:
    """Return the obstacles that a floor can be cut round: their boxes lie within the shell, wherever they may stand.

    A box stands no lower than the chassis and reaches up to its lid, or to the roof where there is no room for one; at
    all these heights the shell must be wide enough. A zone whose chassis stands as high as the obstacle has no box.

    Parameters
    ----------
    cavity : Cavity
        The cavity. [mm]
    wall_mm : Fraction or float
        Thickness of the sides. [mm]

    Returns
    -------
    tuple of Obstacle
        In their order. [mm]

    References
    ----------
    Arithmetic.
    """
    return tuple(each for each in cavity.obstacles if _lies_within(each, cavity.zones, wall_mm))


def _lies_within(obstacle: Obstacle, zones: Sequence[Zone], wall: Number) -> bool:
    """Whether an obstacle's box lies within every zone it may stand in."""
    reach = 2 * (abs(obstacle.centre_mm) + obstacle.half_width_mm + wall)
    start, end, lid = obstacle.start_mm - wall, obstacle.end_mm + wall, obstacle.top_mm + wall
    for zone in zones:
        if zone.end_mm <= start or end <= zone.start_mm or zone.top_mm >= min(obstacle.top_mm, zone.roof_mm):
            continue
        if zone.width_over(zone.top_mm, min(lid, zone.roof_mm)) < reach:
            return False
    return True


def boxed_in(narrow: Sequence[Obstacle], ends: Ends, floor_mm: Number) -> tuple[Obstacle, ...]:
    """Return the obstacles that stand up through a floor between two ends.

    Parameters
    ----------
    narrow : sequence of Obstacle
        What the floor may be cut round. [mm]
    ends : tuple of two
        Outer faces of the chamber: what stands in an end wall's notch has a side within. [mm]
    floor_mm : Fraction or float
        Height of the floor. [mm]

    Returns
    -------
    tuple of Obstacle
        In their order. [mm]

    References
    ----------
    Arithmetic.
    """
    return tuple(o for o in narrow if o.top_mm > floor_mm and o.start_mm < ends[1] and ends[0] < o.end_mm)


def taken_mm3(bays: Sequence[Bay], ends: Ends, floor_mm: Number, boxed: Sequence[Obstacle], wall_mm: Number) -> Number:
    """Return the volume that the boxes take from a chamber, where they overlap only once.

    Parameters
    ----------
    bays : sequence of Bay
        The chamber's bays. [mm]
    ends : tuple of two
        Its inner faces. [mm]
    floor_mm : Fraction or float
        Height of its floor. [mm]
    boxed : sequence of Obstacle
        What is boxed in. [mm]
    wall_mm : Fraction or float
        Thickness of sides and lid. [mm]

    Returns
    -------
    Fraction or float
        Volume with sides and lids. [mm3]

    References
    ----------
    Union of upright boxes on one floor, stretch by stretch; elementary geometry.
    """
    edges = {each for o in boxed for each in (o.start_mm - wall_mm, o.end_mm + wall_mm)}
    total: Number = 0
    for bay in bays:
        low, high = max(bay.start_mm, ends[0]), min(bay.end_mm, ends[1])
        if low >= high:
            continue
        for start, end in pairwise(sorted({low, high, *(each for each in edges if low < each < high)})):
            here = [o for o in boxed if o.start_mm - wall_mm < end and start < o.end_mm + wall_mm]
            if here:
                total += _section_mm2(bay.zone, floor_mm, here, wall_mm) * (end - start)
    return total


def _section_mm2(zone: Zone, floor: Number, boxed: Sequence[Obstacle], wall: Number) -> Number:
    """Return the cross-section that boxes take: between neighbouring sides, up to the highest lid over there."""
    spans = [
        (o.centre_mm - o.half_width_mm - wall, o.centre_mm + o.half_width_mm + wall, o.top_mm + wall) for o in boxed
    ]
    area: Number = 0
    for left, right in pairwise(sorted({each for low, high, _ in spans for each in (low, high)})):
        lids = [lid for low, high, lid in spans if low < right and left < high]
        if lids:
            area += area_within(zone, floor, min(max(lids), zone.roof_mm), left, right)
    return area


def area_within(zone: Zone, low: Number, high: Number, left: Number, right: Number) -> Number:
    """Return the area of the cross-section between two heights and two places across.

    Parameters
    ----------
    zone : Zone
        The zone. [mm]
    low, high : Fraction or float
        Heights above the seat. [mm]
    left, right : Fraction or float
        Places across, from the centre line. [mm]

    Returns
    -------
    Fraction or float
        Area. [mm2]

    References
    ----------
    Elementary geometry; `Profile.area_within`.
    """
    if high <= low:
        return 0
    if zone.profile is None:
        side = half(zone.width_mm)
        return max(min(right, side) - max(left, -side), 0) * (high - low)
    if zone.profile.width_over(low, high) >= 2 * max(-left, right):
        return (right - left) * (high - low)  # all of it lies within
    return zone.profile.area_within(low, high, left, right)

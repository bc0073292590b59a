"""The chamber's volume and length with their uncertainty."""

from __future__ import annotations

from fractions import Fraction
from typing import TYPE_CHECKING, Any

from modelmath.enclosure.marked import reference_bay
from modelmath.job.bench.layout import width_of
from modelmath.job.room_left.gap import cutting_mm
from modelmath.lengths.rules.readings import Measured
from modelmath.lengths.uncertain import rectangular

if TYPE_CHECKING:
    from modelmath.enclosure import Zone
    from modelmath.job.bench.heights import Depth
    from modelmath.job.plan import Plan


def volume_of(plan: Plan) -> Measured | None:
    """Return the chamber's gross volume, as uncertain as heights, widths, lengths and cutting make it.

    Parameters
    ----------
    plan : Plan
        The plan. [-]

    Returns
    -------
    Measured or None
        The volume, in mm3 whatever the names of its fields say; None while there is no chamber. [mm3]

    References
    ----------
    Sum over the zones of cross-section x length, less what is boxed in; JCGM 100:2008, 5.1.2 and 5.2.
    """
    chamber = plan.chamber
    if chamber is None:
        return None
    edges = _edges(plan)
    floor = _floor(plan)
    total: Any = 0.0
    exact = 0.0  # of what is between walls, floor and roof, boxes in it
    assert plan.enclosure is not None
    for place, depth in enumerate(plan.depths):
        low, high = edges[place], edges[place + 1]
        if _best(high) <= _best(low):
            continue
        area = _section(plan, depth, plan.enclosure.cavity.zones[place], floor)
        total += area * (high - low)
        exact += _best(area) * (_best(high) - _best(low))
    if chamber.boxed:
        total -= _boxes(plan, exact - float(chamber.volume_mm3), floor)
    return Measured(Fraction(chamber.volume_mm3), total, "chamber volume")


def _section(plan: Plan, depth: Depth, zone: Zone, floor: Any) -> Any:
    """Return a zone's cross-section above the floor; of one with a profile, as it grows with depth and width."""
    width = width_of(plan.bench, depth)
    assert width is not None  # the chamber could not be laid out without
    roof = 0.0 if depth.roof is None else depth.roof.value
    # What the wire path takes off the width is set, not read.
    across = width.value - _best(width.value) + float(zone.width_mm)
    if zone.profile is None:
        return across * (roof - floor)
    # The profile hangs from the roof, so that its area depends on the depth below that.
    level = Fraction(zone.roof_mm) - Fraction(_best(roof) - _best(floor))
    area, at_floor = float(zone.profile.area_above(level)), float(zone.profile.width_at(level))
    deeper = (roof - floor) - (_best(roof) - _best(floor))
    return area * (across / float(zone.width_mm)) + at_floor * deeper


def _boxes(plan: Plan, taken_mm3: float, floor: Any) -> Any:
    """Return what the boxes take: as worked out, and more or less as what stands in them is higher or lower."""
    assert plan.chamber is not None
    total: Any = taken_mm3
    wall = float(plan.limits.wall_mm)
    for box in plan.chamber.boxed:
        standing = next(each for each in plan.bench.moving if each.entry.name == box.name)
        footprint = (float(box.end_mm - box.start_mm) + 2 * wall) * 2 * (float(box.half_width_mm) + wall)
        total += footprint * ((standing.top.value - _best(standing.top.value)) - (floor - _best(floor)))
    return total


def length_of(plan: Plan) -> Measured | None:
    """Return the chamber's length between its walls' inner faces.

    Parameters
    ----------
    plan : Plan
        The plan. [-]

    Returns
    -------
    Measured or None
        The length; None while there is no chamber. [mm]

    References
    ----------
    JCGM 100:2008, 5.1.2.
    """
    chamber = plan.chamber
    if chamber is None:
        return None
    edges = _edges(plan)
    exact = Fraction(chamber.inner_end_mm) - Fraction(chamber.inner_start_mm)
    return Measured(exact, edges[-1] - edges[0], "chamber length")


def as_cut(plan: Plan, size_mm: Fraction, name: str = "how exactly it is cut") -> Any:
    """Return a size marked out with the plan's rule and cut, as uncertain as both make it.

    Parameters
    ----------
    plan : Plan
        The plan. [-]
    size_mm : Fraction
        The size. [mm]
    name : str
        What the cutting is called in a budget. [-]

    Returns
    -------
    uncertain number
        The size; it shares the rule's offset and scale error with the readings of that rule. [mm]

    References
    ----------
    JCGM 100:2008, 5.2.
    """
    return plan.marks.rule.marked_out(size_mm, plan.marks.datum) + rectangular(0.0, float(cutting_mm(plan)), name)


def _edges(plan: Plan) -> list[Any]:
    """Return the zones' edges within the chamber: as read, or where its walls stand, as exactly as they are set."""
    chamber, ends = plan.chamber, plan.bench.ends
    assert chamber is not None
    assert ends is not None
    tolerance = float(cutting_mm(plan))
    start: Any = float(chamber.inner_start_mm)
    end: Any = float(chamber.inner_end_mm)
    start = rectangular(start, tolerance, "place of the front wall") if chamber.front_wall else ends.edges[0].value
    end = rectangular(end, tolerance, "place of the rear wall") if chamber.rear_wall else ends.edges[-1].value
    between = [edge.value for edge in ends.edges[1:-1]]
    return [start, *(min(max(edge, start, key=_best), end, key=_best) for edge in between), end]


def _floor(plan: Plan) -> Any:
    """Return the height of the chamber's floor: it hangs below the roof by the bulkhead's height as cut."""
    chamber = plan.chamber
    assert chamber is not None
    name = reference_bay(chamber).zone.name
    hung = next(depth for depth in plan.depths if depth.zone.name == name)
    roof = 0.0 if hung.roof is None else hung.roof.value
    return roof - as_cut(plan, plan.chamber_height_mm, "bulkhead as cut")


def _best(value: Any) -> float:
    return float(getattr(value, "nominal_value", value))

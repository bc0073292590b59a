"""The free depth along the length, stretch by stretch, each as uncertain as its readings."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import TYPE_CHECKING

from modelmath.enclosure import Cavity
from modelmath.job.bench.layout import cavity_of
from modelmath.lengths.rules.readings import Measured

if TYPE_CHECKING:
    from modelmath.enclosure import Bay
    from modelmath.job.plan import Plan


@dataclass(frozen=True)
class FreeStretch:
    """A stretch along the length with one free depth.

    Attributes
    ----------
    name : str
        What sets it: the zone, or what stands or moves there. [-]
    start_mm, end_mm : Fraction
        Its ends, from the fore-aft mark. [mm]
    free : Measured
        From what stands highest there up to the roof, no clearance taken off; below 0 where that reaches the roof. [mm]
    edge_u_mm : tuple of two float
        Standard uncertainty of either end, as read on its half and carried over by the mark. [mm]
    moving : bool
        Whether something that moves sets it. [-]
    """

    name: str
    start_mm: Fraction
    end_mm: Fraction
    free: Measured
    edge_u_mm: tuple[float, float]
    moving: bool


def skyline_of(plan: Plan) -> tuple[FreeStretch, ...]:
    """Return the free depth along the length, front to rear.

    Parameters
    ----------
    plan : Plan
        The plan. [-]

    Returns
    -------
    tuple of FreeStretch
        None while a width, the length or an underside is missing. [mm]

    References
    ----------
    JCGM 100:2008, 5.2, for what roof and chassis share.
    """
    cavity = cavity_of(plan.bench)
    if cavity is None:
        return ()
    return tuple(_stretch(plan, cavity, bay) for bay in cavity.bays(0, 0))


def _stretch(plan: Plan, cavity: Cavity, bay: Bay) -> FreeStretch:
    bench = plan.bench
    depth = next(each for each in plan.depths if each.zone.name == bay.zone.name)
    standing = next((each for each in bench.moving if each.entry.name == bay.cause.name), None)
    start, end = Fraction(bay.start_mm), Fraction(bay.end_mm)
    free = depth.free
    if standing is not None and depth.roof is not None:
        # Its running clearance is kept, not metal: the free depth is down to the thing itself.
        free = depth.roof - standing.top
    edges = (_edge_u(plan, start), _edge_u(plan, end))
    return FreeStretch(bay.cause.name, start, end, free, edges, standing is not None and standing.obstacle.moves)


def _edge_u(plan: Plan, place: Fraction) -> float:
    """Return how uncertain the edge at a place is: that of the zone or of what stands there."""
    ends = plan.bench.ends
    assert ends is not None
    for edge in ends.edges:
        if edge.exact_mm == place:
            return edge.u_mm
    for each in plan.bench.moving:
        box = each.obstacle.outward()
        for exact, value in ((box.start_mm, each.obstacle.start_mm), (box.end_mm, each.obstacle.end_mm)):
            if exact == place:
                return float(getattr(value, "std_dev", 0.0))
    return 0.0

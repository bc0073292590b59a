"""The free depth over something that stands or moves, where that and not the chassis sets the bulkhead's height."""

from __future__ import annotations

from typing import TYPE_CHECKING

from modelmath.enclosure.fitting.rooms import bays_over
from modelmath.enclosure.marked import reference_bay
from modelmath.job.bench.heights import Depth, Station

if TYPE_CHECKING:
    from modelmath.job.plan import Plan


def over_moving(plan: Plan, name: str) -> Depth:
    """Return the depth over something that stands or moves, at its highest, its running clearance not taken off.

    Parameters
    ----------
    plan : Plan
        The plan; its chamber is known. [-]
    name : str
        What stands or moves. [-]

    Returns
    -------
    Depth
        Under the roof that the bulkhead stands under; its zone is the first that it sets the floor over. [mm]

    References
    ----------
    `modelmath.enclosure.mechanism`.
    """
    chamber = plan.chamber
    assert chamber is not None
    moving = next(each for each in plan.bench.moving if each.entry.name == name)
    bays = bays_over(chamber.bays, moving.swept.start_mm, moving.swept.end_mm)
    bay = next((each for each in bays if each.cause.name == name), bays[0])
    under = next(depth for depth in plan.depths if depth.zone.name == bay.zone.name)
    hung = next(depth for depth in plan.depths if depth.zone.name == reference_bay(chamber).zone.name)
    roof = hung.roof
    assert roof is not None  # places along the length need both heights
    return Depth(under.zone, (Station(moving.entry.name, roof - moving.top, roof, moving.top),), moving.entry.name)

"""The free depth over something that stands or moves, where that and not the chassis sets the bulkhead's height."""

from __future__ import annotations

from typing import TYPE_CHECKING

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
        Under the roof that the bulkhead stands under. [mm]

    References
    ----------
    `modelmath.enclosure.mechanism`.
    """
    chamber = plan.chamber
    assert chamber is not None
    moving = next(each for each in plan.bench.moving if each.entry.name == name)
    under = next(depth for depth in plan.depths if depth.zone.name == chamber.governing.zone.name)
    hung = next(depth for depth in plan.depths if depth.zone.name == reference_bay(chamber).zone.name)
    roof = hung.roof
    assert roof is not None  # places along the length need both heights
    return Depth(under.zone, (Station(moving.entry.name, roof - moving.top, roof, moving.top),), moving.entry.name)

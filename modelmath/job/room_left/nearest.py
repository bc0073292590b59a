"""What a chamber's floor comes nearest to, less what has to be kept there: it sets how low the floor may lie."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from modelmath.enclosure.obstacles import Obstacle
from modelmath.job.room_left.over_moving import over_moving

if TYPE_CHECKING:
    from modelmath.enclosure import Chamber
    from modelmath.enclosure.cavity import Zone
    from modelmath.job.bench.heights import Depth
    from modelmath.job.plan import Plan
    from modelmath.lengths.numbers import Number
    from modelmath.lengths.rules.readings import Measured


@dataclass(frozen=True)
class Nearest:
    """What lies nearest below a floor.

    Attributes
    ----------
    cause : Zone or Obstacle
        The zone whose chassis top it is, or what stands or moves there. [-]
    floor_mm : Fraction or float
        The lowest floor over it: its top, and what has to be kept there. [mm]
    """

    cause: Zone | Obstacle
    floor_mm: Number


def nearest_below(chamber: Chamber) -> Nearest:
    """Return what a chamber's floor comes nearest to.

    A floor that may be cut round something, and passes over it all the same, has it below: it counts as the chassis
    does. What stands up through the floor is boxed in, and does not.

    Parameters
    ----------
    chamber : Chamber
        The chamber, exact or as it is cut. [mm]

    Returns
    -------
    Nearest
        Of several as near, the chassis first. [mm]

    References
    ----------
    Arithmetic.
    """
    found = Nearest(chamber.governing.cause, chamber.governing.floor_mm)
    for each in chamber.narrow:
        under = each.start_mm < chamber.end_mm and chamber.start_mm < each.end_mm
        if under and found.floor_mm < each.top_mm <= chamber.floor_mm:
            found = Nearest(each, each.top_mm)
    return found


def governing_depth(plan: Plan) -> Depth:
    """Return the depth that sets the bulkhead's height: over what the chamber's floor comes nearest to.

    Parameters
    ----------
    plan : Plan
        The plan. [-]

    Returns
    -------
    Depth
        Without a chamber, that of the zone with the least. [mm]

    References
    ----------
    `nearest_below`.
    """
    if plan.chamber is None:
        return min(plan.depths, key=lambda depth: depth.free.exact_mm)
    cause = nearest_below(plan.chamber).cause
    if isinstance(cause, Obstacle):
        return over_moving(plan, cause.name)
    return next(depth for depth in plan.depths if depth.zone.name == cause.name)


def space_down_to(plan: Plan, below: Depth) -> Measured:
    """Return the space from the roof that the bulkhead stands under down to what lies below it.

    Parameters
    ----------
    plan : Plan
        The plan. [-]
    below : Depth
        The zone, or what stands or moves. [mm]

    Returns
    -------
    Measured
        Over its own zone, the free depth there. [mm]

    References
    ----------
    Arithmetic.
    """
    above = plan.hung_from
    if above.zone.name == below.zone.name and not below.moving:
        return below.free
    return below.free if above.roof is None or below.top is None else above.roof - below.top

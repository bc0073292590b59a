"""What a chamber elsewhere may use: the cavity that the plan's own was fitted in, the decoder left where it is."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from typing import TYPE_CHECKING, NamedTuple

from modelmath.enclosure.fitting.pockets import BELOW, BESIDE
from modelmath.enclosure.obstacles import Obstacle

if TYPE_CHECKING:
    from modelmath.enclosure.cavity import Cavity
    from modelmath.enclosure.limits import Limits
    from modelmath.job.plan import Plan
    from modelmath.lengths.numbers import Number


class LeftFree(NamedTuple):
    """The room another chamber may use.

    Attributes
    ----------
    cavity : Cavity
        Less the wire path, if there is one; a decoder below the floor stands in it. [mm]
    limits : Limits
        The plan's, without the wire path, which the cavity lacks already. [mm]
    ends : tuple of two
        The stretch that lamps and a decoder beside the chamber leave, from the fore-aft mark. [mm]
    """

    cavity: Cavity
    limits: Limits
    ends: tuple[Number, Number]


def left_free(plan: Plan) -> LeftFree | None:
    """Return what lamps and decoder leave another chamber.

    Parameters
    ----------
    plan : Plan
        The plan. [-]

    Returns
    -------
    LeftFree or None
        None while there is no chamber. [mm]

    References
    ----------
    None needed.
    """
    chamber, enclosure = plan.chamber, plan.enclosure
    if chamber is None or enclosure is None:
        return None
    cavity, limits = enclosure.cavity, replace(plan.limits, wire_path_mm=Fraction(0))
    start, end = cavity.start_mm + limits.front_room_mm, cavity.end_mm - limits.rear_room_mm
    fitted = chamber.cut_from or chamber  # as cut to marks its floor, and the decoder with it, lies higher
    pocket = fitted.pocket
    if pocket is None or pocket.where not in {BELOW, BESIDE}:
        return LeftFree(cavity, limits, (start, end))
    if pocket.where == BELOW:
        widest = max(zone.width_mm for zone in cavity.zones)  # so that no box is built round it
        stands = Obstacle(
            "decoder", pocket.start_mm, pocket.end_mm, widest, pocket.bottom_mm, pocket.top_mm, moves=False
        )
        return LeftFree(replace(cavity, obstacles=(*cavity.obstacles, stands)), limits, (start, end))
    if pocket.end_mm <= fitted.start_mm:
        return LeftFree(cavity, limits, (pocket.end_mm, end))
    return LeftFree(cavity, limits, (start, pocket.start_mm))

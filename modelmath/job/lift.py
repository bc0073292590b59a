"""Whether the shell comes off with what it carries, when it is hinged at one end."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from fractions import Fraction
from typing import TYPE_CHECKING

from modelmath.enclosure.marked import reference_roof_mm
from modelmath.enclosure.mechanism import LiftOff, SideBox, lift_off, side_boxes

if TYPE_CHECKING:
    from modelmath.job.plan import Plan


def lift_of(plan: Plan) -> LiftOff | None:
    """Check what the shell carries against the chassis as the shell is opened.

    Parameters
    ----------
    plan : Plan
        The plan. [-]

    Returns
    -------
    LiftOff or None
        None where the shell is not hinged, or there is no chamber yet. [mm]

    Raises
    ------
    JobError
        If the hinge's height can't be read.

    References
    ----------
    `lift_off`.
    """
    entry, chamber, ends = plan.job.lift_off, plan.chamber, plan.bench.ends
    if entry is None or chamber is None or plan.enclosure is None or ends is None:
        return None
    place = ends.edges[0 if entry.end == "front" else -1].exact_mm
    height = plan.bench.length(entry.height, "lift_off", "height")
    # What moves counts as far as it gets: its running clearance is no metal.
    cavity = replace(plan.enclosure.cavity, obstacles=tuple(moving.swept for moving in plan.bench.moving))
    return lift_off(tuple(_carried(plan)), side_boxes(cavity), (place, height), entry.end)


def _carried(plan: Plan) -> Iterator[SideBox]:
    """Yield the chamber's walls and its floor, as seen from the side."""
    chamber = plan.chamber
    assert chamber is not None
    floor, roof = Fraction(chamber.floor_mm), reference_roof_mm(chamber)
    wall = Fraction(plan.limits.wall_mm)
    if chamber.front_wall:
        yield SideBox("the front wall", chamber.start_mm, chamber.inner_start_mm, floor, roof)
    if chamber.rear_wall:
        yield SideBox("the rear wall", chamber.inner_end_mm, chamber.end_mm, floor, roof)
    yield SideBox("the chamber's floor", chamber.inner_start_mm, chamber.inner_end_mm, floor, floor + wall)

"""Figures of holes: other drills that would do, the least web of each wall, places that take a search."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from modelmath.job.why.figures import Figure
from modelmath.job.why.room._inside import on_walls

if TYPE_CHECKING:
    from modelmath.job.plan import Plan

MORE = 3  # drills that would do as well


def drills(plan: Plan) -> Iterator[Figure]:
    """Yield how many holes each line takes, and what other drills would do."""
    for hole in plan.holes:
        if hole.picks:
            others = ", ".join(pick.name for pick in hole.picks[1 : 1 + MORE]) or "none"
            value = f"{hole.count} × {hole.name}"
            how = f"as many as entered; drills that would do as well: {others}"
            source = "the job, lamps and wires; the drills' own tables"
            yield Figure(f"holes for {hole.name}", value, how, source, (f"drill: {hole.name}",))


def in_a_row(plan: Plan) -> Iterator[Figure]:
    """Yield the least web of each wall whose holes stand in a row."""
    if plan.job.hole_layout.way == "row":
        yield from _webs(plan)


def spread(plan: Plan) -> Iterator[Figure]:
    """Yield where holes lie that are spread over their wall, and its least web."""
    if plan.job.hole_layout.way != "row":
        yield from on_walls(plan)
        yield from _webs(plan)


def _webs(plan: Plan) -> Iterator[Figure]:
    for wall in plan.hole_places:
        if wall.layout is None:
            continue
        below = tuple(f"hole: {hole.name}" for hole in wall.layout.holes)
        how = " ".join(wall.sentences)
        value = f"{wall.layout.least.web_mm:.2f} mm"
        yield Figure(f"least web of the {wall.wall}", value, how, "elementary geometry", below)

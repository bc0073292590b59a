"""Figures of what is made: parts, holes, cuts."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from modelmath.job.volume import as_cut
from modelmath.job.why._words import SETTING, in_mm, in_units
from modelmath.job.why.figures import Figure

if TYPE_CHECKING:
    from modelmath.enclosure import Part
    from modelmath.job.plan import Plan


def parts(plan: Plan) -> Iterator[Figure]:
    """Yield every part's size, setting, strip and place."""
    for line in plan.lines:
        part = line.part
        if part != plan.bulkhead:
            length, inputs = f"{part.name} length", _part_inputs(plan, part)
            size, cut = in_units(plan, part.cut.cut_mm), as_cut(plan, part.cut.cut_mm)
            yield Figure(length, size, part.made_to, "arithmetic", inputs, cut)
            below = (length, f"rule: {plan.marks.rule.name}")
            yield Figure(f"{part.name} setting", line.setting.text, SETTING, "arithmetic", below)
        if line.picks:
            source = "data/strip_series.csv and the drawer"
            yield Figure(f"{part.name} strip", line.stock_text, line.note, source, (_size_name(plan, part),))
        if part.position_mm is not None:
            side = "behind" if part.position_mm >= 0 else "ahead of"
            where = f"{abs(float(part.position_mm)):.2f} mm {side} the {plan.mark_name}"
            how = f"its {part.face}, from the chamber's ends and the speaker's place in it"
            yield Figure(f"{part.name} place", where, how, "the chamber found largest", ("chamber volume",))


def _size_name(plan: Plan, part: Part) -> str:
    return "bulkhead height" if part == plan.bulkhead else f"{part.name} length"


def _part_inputs(plan: Plan, part: Part) -> tuple[str, ...]:
    """Return the figures that a part's cut length follows from."""
    if part.kind == "filler":
        return ("speaker length", "finest mark")
    if part.kind == "plate":
        return ("chamber length", "speaker length", "finest mark")
    height = "bulkhead height" if plan.bulkhead is not None else "room left"
    if part.kind == "post":
        height = next(_size_name(plan, wall) for wall in plan.parts if wall.name == part.wall)
        return (height,) if part.made_by == "copy" else (height, "wall", "finest mark")
    roofs: tuple[str, ...] = ()
    if plan.enclosure is not None:
        names = dict.fromkeys(depth.zone.underside for depth in plan.depths)
        roofs = tuple(f"reading: {name}" for name in names if name and len(names) > 1)
    return (height, "flange", "finest mark", *roofs) if part.kind == "support" else (height, *roofs)


def holes(plan: Plan) -> Iterator[Figure]:
    """Yield the holes and their drills."""
    for hole in plan.holes:
        where = "lamps" if hole.kind == "strand" else "wires"
        yield Figure(f"{hole.kind}: {hole.name}", in_mm(hole.diameter_mm), "diameter, as entered", f"the job, {where}")
        left = f"{hole.drill.clearance_mm:.3f} mm is left"
        how = f"the smallest drill that passes {in_mm(hole.diameter_mm)} with its clearance; {left}"
        yield Figure(
            f"drill: {hole.name}",
            f"{hole.drill.name}, {hole.drill.diameter_mm:.3f} mm",
            how,
            hole.drill.source,
            (f"{hole.kind}: {hole.name}", "hole clearance"),
        )


def cuts(plan: Plan) -> Iterator[Figure]:
    """Yield what the cut plan comes to."""
    below = tuple(_size_name(plan, line.part) for line in plan.lines)
    yield Figure(
        "new strips", str(plan.cuts.new_strips), plan.cuts.verdict, "column generation and its exact bound", below
    )

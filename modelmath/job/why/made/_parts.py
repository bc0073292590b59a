"""Figures of what is made: parts, holes, cuts."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from modelmath.job.several import for_models
from modelmath.job.volume import as_cut
from modelmath.job.why._words import SETTING, in_mm, in_units
from modelmath.job.why.figures import Figure
from modelmath.job.why.made._sizes import made_of, size_name

if TYPE_CHECKING:
    from modelmath.job.plan import Plan


def parts(plan: Plan) -> Iterator[Figure]:
    """Yield every part's size, setting, strip and place."""
    for line in plan.lines:
        part = line.part
        if part != plan.bulkhead:
            length, (how, inputs) = f"{part.name} length", made_of(plan, part)
            size, cut = in_units(plan, part.cut.cut_mm), as_cut(plan, part.cut.cut_mm)
            yield Figure(length, size, how, "arithmetic", inputs, cut)
            below = (length, f"rule: {plan.marks.rule.name}")
            yield Figure(f"{part.name} setting", line.setting.text, SETTING, "arithmetic", below)
        if line.picks:
            source = "data/strip_series.csv and the drawer"
            yield Figure(f"{part.name} strip", line.stock_text, line.note, source, (size_name(plan, part),))
        if part.position_mm is not None:
            side = "behind" if part.position_mm >= 0 else "ahead of"
            where = f"{abs(float(part.position_mm)):.2f} mm {side} the {plan.mark_name}"
            how = f"its {part.face}, from the chamber's ends and the speaker's place in it"
            yield Figure(f"{part.name} place", where, how, "the chamber found largest", ("chamber volume",))


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
    below = tuple(size_name(plan, line.part) for line in plan.lines)
    yield Figure(
        "new strips",
        str(plan.cuts.new_strips),
        f"{plan.cuts.verdict}{for_models(plan.models)}",
        "column generation and its exact bound",
        below,
    )

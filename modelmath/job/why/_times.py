"""Figures of the time that the build takes."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from modelmath.job.building.checklist import progress_of
from modelmath.job.why.figures import Figure
from modelmath.job.why.made._sizes import size_name

if TYPE_CHECKING:
    from modelmath.job.plan import Plan

TIMES = "data/build_times.csv: common practice, no source"


def times(plan: Plan) -> Iterator[Figure]:
    """Yield how long the steps that are left take."""
    progress = progress_of(plan)
    if not progress.left:
        return
    name = "work and waiting of all steps left"
    tasks = [each.task for each in progress.left]
    listed = "; ".join(f"{each.key} {each.work_min:g} min and {each.wait_min:g} min" for each in tasks)
    below = tuple(dict.fromkeys(size_name(plan, line.part) for line in plan.lines)) or ("room left",)
    done = f"{len(progress.done)} of {len(progress.steps)} steps done"
    yield Figure(name, done, f"work and wait of each: {listed}", TIMES, below)
    said = progress.time_in_words
    how = f"one after the other, each once what it waits for is over. {said}"
    yield Figure("time it takes", said.partition(";")[0], how, TIMES, (name,))

"""Figures of what to measure again."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from modelmath.job.why._words import in_mm
from modelmath.job.why.figures import Figure
from modelmath.job.why.room._left import ACCEPTED, TERMS

if TYPE_CHECKING:
    from modelmath.job.plan import Plan


def again(plan: Plan) -> Iterator[Figure]:
    """Yield what each reading, or what is not known of a rule, costs in room."""
    for each in plan.remeasure():
        frees = f"; {in_mm(each.frees_mm)} would be freed" if each.frees_mm else ""
        how = (
            f"what has to be left for the accepted chance, less what would have to be left if it were known exactly. "
            f"It may be off by ±{each.limit_mm:.2f} mm. With {each.better}{frees}"
        )
        source = "JCGM 101:2008, 5.2; data/instruments.csv"
        yield Figure(f"to measure again: {each.what}", in_mm(each.costs_mm), how, source, (TERMS, ACCEPTED))

"""Figures of what to look out for: each sentence with what it was judged by."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from modelmath.job.why._words import free_name
from modelmath.job.why.figures import Figure

if TYPE_CHECKING:
    from modelmath.job.plan import Plan

FEW = 60  # signs of a sentence that stand for it


def warnings(plan: Plan) -> Iterator[Figure]:
    """Yield each sentence on what to look out for; that on the room left has figures of its own."""
    below = (*(free_name(depth) for depth in plan.depths), "clearance", "finest mark")
    said = [each for each in plan.warnings if each != plan.gap.verdict]
    for number, each in enumerate(said, start=1):
        name = f"what to look out for ({number})"
        yield Figure(name, _few(each), each, "the plan's own checks; common practice, no source", below)


def _few(text: str) -> str:
    """Return how a sentence begins."""
    if len(text) <= FEW:
        return text
    return f"{text[:FEW].rpartition(' ')[0]} …"

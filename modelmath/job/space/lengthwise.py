"""The room along the length between a wall of the chamber and the step of the chassis beside it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from functools import cached_property
from typing import TYPE_CHECKING, Any

from modelmath.clearance import Stack, Term
from modelmath.job.bench.contents import end_play_of
from modelmath.job.room_left.gap import cutting_mm
from modelmath.lengths.text import format_length

if TYPE_CHECKING:
    from modelmath.enclosure import Chamber
    from modelmath.job.plan import Plan


@dataclass(frozen=True)
class AlongGap:
    """What is left along the length between a wall and what stands higher than its lower edge beside it.

    Attributes
    ----------
    wall : str
        ``front wall`` or ``rear wall``. [-]
    step : str
        The zone, or what stands or moves there. [-]
    left_mm : Fraction
        From that step to the wall's outer face. [mm]
    stack : Stack
        What that is made of, and how far each term may be off; the shell's end play among them. [mm]
    """

    wall: str
    step: str
    left_mm: Fraction
    stack: Stack

    @property
    def at_worst_mm(self) -> float:
        """What is left with everything at its limit, the wrong way. [mm]"""
        return float(self.left_mm) - self.stack.worst_case()

    @cached_property
    def chance(self) -> float:
        """Chance that the wall touches that step, from the exact distribution of the sum. [-]"""
        return self.stack.interference()

    @property
    def in_words(self) -> str:
        """One sentence."""
        left, worst = format_length(self.left_mm, "mm"), format_length(abs(self.at_worst_mm), "mm")
        rest = f"{worst} stays clear" if self.at_worst_mm > 0 else f"it is {worst} too tight"
        return (
            f"Between the {self.wall} and {self.step} there are {left} along the length; with all at its limit {rest}."
        )


def along_gaps(plan: Plan) -> tuple[AlongGap, ...]:
    """Return the room along the length at each wall that stands beside a higher step.

    Parameters
    ----------
    plan : Plan
        The plan. [-]

    Returns
    -------
    tuple of AlongGap
        Front wall first; none where no step is higher than the chamber's floor. [mm]

    References
    ----------
    JCGM 100:2008, 5.2; textbook worst-case stack-up.
    """
    chamber = plan.chamber
    return () if chamber is None or plan.bench.ends is None else tuple(_gaps(plan, chamber))


def _gaps(plan: Plan, chamber: Chamber) -> Iterator[AlongGap]:
    floor = Fraction(chamber.floor_mm)
    steps = list(_steps(plan, floor))
    start, end = Fraction(chamber.start_mm), Fraction(chamber.end_mm)
    if chamber.front_wall:
        ahead = [(edge, name) for side, edge, name in steps if side == "rear" and _best(edge) <= start]
        if ahead:
            edge, name = max(ahead, key=lambda each: _best(each[0]))
            yield _gap(plan, "front wall", name, start, edge, 1)
    if chamber.rear_wall:
        behind = [(edge, name) for side, edge, name in steps if side == "front" and _best(edge) >= end]
        if behind:
            edge, name = min(behind, key=lambda each: _best(each[0]))
            yield _gap(plan, "rear wall", name, end, edge, -1)


def _steps(plan: Plan, floor: Fraction) -> Iterator[tuple[str, Any, str]]:
    """Yield the front and rear edge of everything that stands higher than a floor."""
    ends = plan.bench.ends
    assert ends is not None
    for place, depth in enumerate(plan.depths):
        if depth.top is not None and depth.top.exact_mm >= floor:
            yield "front", ends.edges[place], depth.zone.name
            yield "rear", ends.edges[place + 1], depth.zone.name
    for each in plan.bench.moving:
        if each.top.exact_mm >= floor:
            running = each.obstacle.running_mm
            yield "front", each.obstacle.start_mm + running, each.entry.name
            yield "rear", each.obstacle.end_mm - running, each.entry.name


def _gap(plan: Plan, wall: str, step: str, face: Fraction, edge: Any, way: int) -> AlongGap:
    exact = edge.exact_mm if hasattr(edge, "exact_mm") else Fraction(round(_best(edge) * 1000), 1000)
    value = getattr(edge, "value", edge)
    play = end_play_of(plan.bench)
    stack = Stack.of(
        Term(f"from {step} to the {wall}", way * float(face - exact)),
        *Stack.sources(-way * value),
        Term(f"place of the {wall}", 0.0, float(cutting_mm(plan))),
        *((Term("end play of the shell", 0.0, float(play)),) if play else ()),
    )
    return AlongGap(wall, step, way * (face - exact), stack)


def _best(value: Any) -> float:
    if hasattr(value, "exact_mm"):
        return float(value.exact_mm)
    return float(getattr(value, "nominal_value", value))

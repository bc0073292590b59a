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
        ahead = [each for each in steps if each.side == "rear" and _best(each.edge) <= start]
        if ahead:
            nearest = max(ahead, key=lambda each: _best(each.edge) + float(each.play_mm))
            yield _gap(plan, "front wall", nearest, start, 1)
    if chamber.rear_wall:
        behind = [each for each in steps if each.side == "front" and _best(each.edge) >= end]
        if behind:
            nearest = min(behind, key=lambda each: _best(each.edge) - float(each.play_mm))
            yield _gap(plan, "rear wall", nearest, end, -1)


@dataclass(frozen=True)
class _Step:
    """One end of something that stands higher than the chamber's floor."""

    side: str
    edge: Any
    name: str
    play_mm: Fraction


def _steps(plan: Plan, floor: Fraction) -> Iterator[_Step]:
    """Yield the front and rear edge of everything that stands higher than a floor."""
    ends, play = plan.bench.ends, end_play_of(plan.bench)
    assert ends is not None
    for place, depth in enumerate(plan.depths):
        if depth.top is not None and depth.top.exact_mm >= floor:
            yield _Step("front", ends.edges[place], depth.zone.name, play)
            yield _Step("rear", ends.edges[place + 1], depth.zone.name, play)
    for each in plan.bench.moving:
        if each.top.exact_mm >= floor:
            front, rear = each.ends_mm
            yield _Step("front", front, each.entry.name, each.play_mm)
            yield _Step("rear", rear, each.entry.name, each.play_mm)


def _gap(plan: Plan, wall: str, step: _Step, face: Fraction, way: int) -> AlongGap:
    """Return the room from a step to a wall's face, which is marked out from the mark with the plan's rule."""
    edge = step.edge
    exact = edge.exact_mm if hasattr(edge, "exact_mm") else Fraction(round(_best(edge) * 1000), 1000)
    value = getattr(edge, "value", edge)
    marked = plan.marks.rule.marked_out(abs(face), plan.marks.datum) if face else 0.0
    placed = marked if face > 0 else -marked
    stack = Stack.of(
        Term(f"from {step.name} to the {wall}", way * float(face - exact)),
        *Stack.sources(way * (placed - value)),
        Term(f"place of the {wall}", 0.0, float(cutting_mm(plan))),
        *((Term("end play of the shell", 0.0, float(step.play_mm)),) if step.play_mm else ()),
    )
    return AlongGap(wall, step.name, way * (face - exact), stack)


def _best(value: Any) -> float:
    if hasattr(value, "exact_mm"):
        return float(value.exact_mm)
    return float(getattr(value, "nominal_value", value))

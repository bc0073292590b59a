"""Whole numbers of known patterns, by branch and cut (HiGHS) with a limit on its nodes."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from math import floor, inf
from typing import Any

from modelmath.cutting.optimum.columns.master import solver
from modelmath.cutting.optimum.goals import cost
from modelmath.cutting.optimum.problem import Pattern, Problem

FOUND = 2  # HiGHS' word for a feasible solution


@dataclass(frozen=True)
class WholePlan:
    """The best plan of some patterns.

    Attributes
    ----------
    plan : list of Pattern or None
        A pattern for each strip; None if these patterns give no plan within the limits. [-]
    sure : bool
        Whether the search ended by itself: then no better plan is made of these patterns. [-]
    """

    plan: list[Pattern] | None
    sure: bool


def whole_plan(
    problem: Problem,
    patterns: Sequence[Pattern],
    goal: str,
    limits: Mapping[str, int],
    below: int,
    nodes: int,
    *,
    exactly: bool,
) -> WholePlan:
    """Return the plan of known patterns that costs least, if that is less than `below`.

    Parameters
    ----------
    problem : Problem
        The problem. [-]
    patterns : sequence of Pattern
        What may be used. [-]
    goal : str
        What is made least. [-]
    limits : mapping of str to int
        Most of each goal before it. [-]
    below : int
        What it has to stay below. [-]
    nodes : int
        Most nodes of the search. [-]
    exactly : bool
        Whether no more pieces may be cut than are wanted; else what is too much is dropped. [-]

    Returns
    -------
    WholePlan
        The plan, if there is one, and whether the search came to its end. [-]

    References
    ----------
    HiGHS, branch and cut.
    """
    if not patterns:
        return WholePlan(None, True)
    model = _Model(problem, {**limits, goal: below - 1}, nodes, exactly=exactly)
    for pattern in patterns:
        model.add(pattern, float(cost(problem, goal, pattern)))
    return model.solve()


def plan_that_keeps(
    problem: Problem, patterns: Sequence[Pattern], kept: Sequence[Pattern], limits: Mapping[str, int], nodes: int
) -> WholePlan:
    """Return the plan with the longest offcut, where one of the patterns in `kept` leaves it.

    Parameters
    ----------
    problem : Problem
        The problem. [-]
    patterns, kept : sequence of Pattern
        What may be used; of which one strip is cut, once. [-]
    limits : mapping of str to int
        Most of each goal. [-]
    nodes : int
        Most nodes of the search. [-]

    Returns
    -------
    WholePlan
        The plan, if there is one, and whether the search came to its end. [-]

    References
    ----------
    HiGHS, branch and cut.
    """
    if not kept:
        return WholePlan(None, True)
    model = _Model(problem, limits, nodes, exactly=True)
    model.one_of_them()
    for pattern in patterns:
        model.add(pattern, 0.0)
    for pattern in kept:
        model.add(pattern, -float(problem.left(pattern)), kept=True)
    return model.solve()


class _Model:
    """Rows for pieces, strips and limits; a column for each pattern."""

    def __init__(self, problem: Problem, limits: Mapping[str, int], nodes: int, *, exactly: bool) -> None:
        self.problem, self.limits, self.exactly = problem, dict(limits), exactly
        self.patterns: list[Pattern] = []
        self.highs: Any = solver()
        self.highs.setOptionValue("mip_max_nodes", nodes)
        self.highs.setOptionValue("presolve", "off")  # it compares columns in pairs, and takes longer than the search
        for search in ("rins", "rens"):  # searches within the search, which no limit on nodes reaches
            self.highs.setOptionValue(f"mip_heuristic_run_{search}", False)
        self.highs.setOptionValue("mip_rel_gap", 0.0)
        self.highs.setOptionValue("mip_abs_gap", 0.999)  # costs are whole numbers
        for wanted in problem.demand:
            self.highs.addRow(wanted, wanted if exactly else inf, 0, [], [])
        for row in problem.rows:
            self.highs.addRow(-inf, row.count, 0, [], [])
        for most in self.limits.values():
            self.highs.addRow(-inf, most, 0, [], [])

    def one_of_them(self) -> None:
        self.highs.addRow(1, 1, 0, [], [])

    def add(self, pattern: Pattern, worth: float, *, kept: bool = False) -> None:
        import highspy

        lengths = len(self.problem.demand)
        goals = lengths + len(self.problem.rows)
        places = [at for at, _ in pattern.pieces] + [lengths + pattern.row]
        entries = [float(count) for _, count in pattern.pieces] + [1.0]
        for at, goal in enumerate(self.limits, start=goals):
            costs = cost(self.problem, goal, pattern)
            if costs:
                places.append(at)
                entries.append(float(costs))
        if kept:
            places.append(goals + len(self.limits))
            entries.append(1.0)
        self.highs.addCol(worth, 0.0, 1.0 if kept else inf, len(places), places, entries)
        self.highs.changeColIntegrality(len(self.patterns), highspy.HighsVarType.kInteger)
        self.patterns.append(pattern)

    def solve(self) -> WholePlan:
        import highspy

        self.highs.run()
        status = self.highs.getModelStatus()
        sure = status in (highspy.HighsModelStatus.kOptimal, highspy.HighsModelStatus.kInfeasible)
        if self.highs.getInfo().primal_solution_status != FOUND:
            return WholePlan(None, sure)
        used = [floor(each + 0.5) for each in self.highs.getSolution().col_value]
        plan = [pattern for pattern, count in zip(self.patterns, used, strict=True) for _ in range(count)]
        return WholePlan(plan if self.exactly else trimmed(self.problem, plan), sure)


def trimmed(problem: Problem, plan: Sequence[Pattern]) -> list[Pattern]:
    """Return a plan without the pieces that are more than is wanted, nor strips that are then empty.

    Parameters
    ----------
    problem : Problem
        The problem. [-]
    plan : sequence of Pattern
        A plan that cuts at least what is wanted. [-]

    Returns
    -------
    list of Pattern
        The plan. [-]

    References
    ----------
    None needed.
    """
    wanted = list(problem.demand)
    kept = []
    for pattern in plan:
        pieces = []
        for at, count in pattern.pieces:
            taken = min(count, wanted[at])
            wanted[at] -= taken
            if taken:
                pieces.append((at, taken))
        if pieces:
            kept.append(Pattern(pattern.row, tuple(pieces)))
    return kept


def is_plan(problem: Problem, plan: Sequence[Pattern], limits: Mapping[str, int]) -> bool:
    """Return whether a plan cuts just what is wanted from the strips there are, within all limits, in whole numbers.

    What comes from floating point is checked with this before it is believed.

    Parameters
    ----------
    problem : Problem
        The problem. [-]
    plan : sequence of Pattern
        A pattern for each strip. [-]
    limits : mapping of str to int
        Most of each goal. [-]

    Returns
    -------
    bool
        Whether it is. [-]

    References
    ----------
    Sums.
    """
    cut = [0] * len(problem.demand)
    used = [0] * len(problem.rows)
    for pattern in plan:
        used[pattern.row] += 1
        for at, count in pattern.pieces:
            cut[at] += count
        if sum(problem.sizes[at] * count for at, count in pattern.pieces) > problem.capacities[pattern.row]:
            return False
    fits = all(count <= row.count for count, row in zip(used, problem.rows, strict=True))
    within = all(sum(cost(problem, goal, pattern) for pattern in plan) <= most for goal, most in limits.items())
    return tuple(cut) == tuple(problem.demand) and fits and within

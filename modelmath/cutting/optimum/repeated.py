"""A set of parts that is cut several times over: the plan of one, again and again, to hold the plan of all against."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from modelmath.cutting.optimum.problem import Pattern, Problem, Row
from modelmath.cutting.optimum.stages import Best, best_plan, best_plan_in_steps
from modelmath.cutting.optimum.whole import is_plan
from modelmath.steps import InSteps, at_once


def best_plan_of(problem: Problem, times: int) -> Best | None:
    """Return the best plan for a set of parts that is cut several times over, never worse than one set after another.

    Parameters
    ----------
    problem : Problem
        All of it: every demand is a multiple of `times`. [-]
    times : int
        How often the set is cut. [-]

    Returns
    -------
    Best or None
        As `best_plan`. [-]

    References
    ----------
    `best_plan`.

    Examples
    --------
    >>> problem = Problem((60, 40), (2, 2), (Row(100, 4, "to buy", (0,)),), 0, 0, 15)
    >>> len(best_plan_of(problem, 2).plan)
    2
    """
    return at_once(best_plan_of_in_steps(problem, times))


def best_plan_of_in_steps(problem: Problem, times: int) -> InSteps[Best | None]:
    """Return the best plan for a set of parts as `best_plan_of` does, goal by goal.

    Parameters
    ----------
    problem : Problem
        All of it. [-]
    times : int
        How often the set is cut. [-]

    Yields
    ------
    Progress
        Before each goal. [-]

    Returns
    -------
    Best or None
        As `best_plan_of`. [-]

    References
    ----------
    `best_plan`.
    """
    known = () if times == 1 else one_after_another(problem, times)
    return (yield from best_plan_in_steps(problem, known))


def one_after_another(problem: Problem, times: int) -> list[Pattern]:
    """Return the plan that cuts one set after another, each from what those before it leave of the stock.

    Parameters
    ----------
    problem : Problem
        All of it: every demand is a multiple of `times`. [-]
    times : int
        How often the set is cut. [-]

    Returns
    -------
    list of Pattern
        Offcuts made on the way stay whole; empty where the stock does not last. [-]

    References
    ----------
    None needed.

    Examples
    --------
    >>> problem = Problem((60,), (2,), (Row(70, 1, "offcut", (0,)), Row(100, 2, "to buy", (1,))), 0, 0, 15)
    >>> [pattern.row for pattern in one_after_another(problem, 2)]
    [0, 1]
    """
    demand = tuple(wanted // times for wanted in problem.demand)
    counts = [row.count for row in problem.rows]
    found: list[Pattern] = []
    solved: dict[tuple[int, ...], Sequence[Pattern] | None] = {}
    for _ in range(times):
        state = tuple(min(count, sum(demand)) for count in counts)
        if state not in solved:
            solved[state] = _one(problem, demand, state)
        plan = solved[state]
        if plan is None:
            return []
        found += plan
        for pattern in plan:
            counts[pattern.row] -= 1
    return found if is_plan(problem, found, {}) else []


def _one(problem: Problem, demand: tuple[int, ...], counts: Sequence[int]) -> Sequence[Pattern] | None:
    """Return the best plan for one set from so many strips of each row."""
    there = [at for at, count in enumerate(counts) if count]
    rows: list[Row] = [replace(problem.rows[at], count=counts[at]) for at in there]
    best = best_plan(replace(problem, demand=demand, rows=tuple(rows))) if rows else None
    return None if best is None else [replace(pattern, row=there[pattern.row]) for pattern in best.plan]

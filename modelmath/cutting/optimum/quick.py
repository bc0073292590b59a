"""Bounds on the later goals that need no linear programme; most bench-sized plans meet them."""

from __future__ import annotations

from collections.abc import Mapping
from itertools import accumulate

from modelmath.cutting.optimum.fewest import quick_bound
from modelmath.cutting.optimum.goals import BOUGHT, BOUGHT_LENGTH, FROM_NEW, NEW, SCRAP
from modelmath.cutting.optimum.problem import Problem


def quick_least(problem: Problem, goal: str, limits: Mapping[str, int], least: Mapping[str, int]) -> int:
    """Return what no plan goes below by a goal, from sums alone.

    Parameters
    ----------
    problem : Problem
        The problem. [-]
    goal : str
        The goal. [-]
    limits : mapping of str to int
        The goals before it, at what the plan has. [-]
    least : mapping of str to int
        The goals before it, at what no plan goes below. [-]

    Returns
    -------
    int
        The bound. [unit of the goal]

    References
    ----------
    Sums; no source needed.

    Examples
    --------
    Five cuts of 2 between six pieces, and one end trim of 10, are lost whatever the plan:

    >>> from modelmath.cutting.optimum.problem import Row
    >>> problem = Problem((30,), (6,), (Row(300, 6, "to buy", (0,)),), 2, 10, 50)
    >>> quick_least(problem, SCRAP, {NEW: 1}, {NEW: 1})
    20
    """
    if goal == SCRAP:
        return max(_scrap(problem), _nothing_to_keep(problem, limits, least))
    cut = sum(length * wanted for length, wanted in zip(problem.lengths, problem.demand, strict=True))
    if goal == FROM_NEW:
        return max(0, cut - _from_offcuts(problem))
    if goal == NEW:
        return quick_bound(problem)
    assert goal == BOUGHT_LENGTH
    kinds = [row.length for row in problem.rows if row.bought]
    return least[BOUGHT] * min(kinds) if kinds else 0


def _scrap(problem: Problem) -> int:
    """Return the saw cuts between pieces and the end trims: a strip of n pieces loses n - 1 cuts at least."""
    room = sorted((capacity for capacity, row in _strips(problem)), reverse=True)
    needed = sum(size * wanted for size, wanted in zip(problem.sizes, problem.demand, strict=True))
    least_strips = sum(before < needed for before in list(accumulate(room, initial=0))[:-1])
    most_strips = min(problem.pieces, len(room))
    each = problem.trim - problem.kerf
    return problem.kerf * problem.pieces + each * (least_strips if each >= 0 else most_strips)


def _nothing_to_keep(problem: Problem, limits: Mapping[str, int], least: Mapping[str, int]) -> int:
    """Return what is left of new strips of one length, where even all of it together is not worth keeping."""
    if any(not row.new for row in problem.rows) or len({row.length for row in problem.rows}) > 1:
        return 0
    cut = sum(length * wanted for length, wanted in zip(problem.lengths, problem.demand, strict=True))
    length = problem.rows[0].length
    return max(0, least[NEW] * length - cut) if limits[NEW] * length - cut < problem.useful else 0


def _strips(problem: Problem) -> list[tuple[int, str]]:
    return [
        (capacity, row.kind)
        for capacity, row in zip(problem.capacities, problem.rows, strict=True)
        for _ in range(min(row.count, problem.pieces))
    ]


def _from_offcuts(problem: Problem) -> int:
    """Return the most that the offcuts together can give: of each, at most its length less trim."""
    shortest = min(problem.sizes)
    return sum(
        (row.length - problem.trim) * row.count
        for row, capacity in zip(problem.rows, problem.capacities, strict=True)
        if not row.new and capacity >= shortest
    )

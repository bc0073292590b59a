"""What a plan is judged by, in turn: each goal adds up over the strips cut, and less of it is better."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from types import MappingProxyType

from modelmath.cutting.optimum.problem import Pattern, Problem

NEW, BOUGHT, BOUGHT_LENGTH, SCRAP, FROM_NEW = "new strips", "bought", "length bought", "scrap", "cut from new strip"


def _bought(problem: Problem, pattern: Pattern) -> int:
    return int(problem.rows[pattern.row].bought)


_COSTS: Mapping[str, Callable[[Problem, Pattern], int]] = MappingProxyType(
    {
        NEW: lambda problem, pattern: int(problem.rows[pattern.row].new),
        BOUGHT: _bought,
        BOUGHT_LENGTH: lambda problem, pattern: _bought(problem, pattern) * problem.rows[pattern.row].length,
        SCRAP: lambda problem, pattern: problem.scrap(pattern),
        FROM_NEW: lambda problem, pattern: problem.cut_length(pattern) if problem.rows[pattern.row].new else 0,
    }
)


def cost(problem: Problem, goal: str, pattern: Pattern) -> int:
    """Return what one strip cut so adds to a goal.

    Parameters
    ----------
    problem : Problem
        The problem. [-]
    goal : str
        One of the goals named here. [-]
    pattern : Pattern
        How the strip is cut. [-]

    Returns
    -------
    int
        Strips, or a length in the problem's unit. [-]

    References
    ----------
    None needed: these are the project's own goals.

    Examples
    --------
    >>> from modelmath.cutting.optimum.problem import Row
    >>> problem = Problem((60,), (1,), (Row(100, 3, "to buy", (0,)),), 0, 0, 50)
    >>> cost(problem, NEW, Pattern(0, ((0, 1),))), cost(problem, SCRAP, Pattern(0, ((0, 1),)))
    (1, 40)
    """
    return _COSTS[goal](problem, pattern)


def total(problem: Problem, goal: str, plan: Iterable[Pattern]) -> int:
    """Return what a whole plan costs by a goal.

    Parameters
    ----------
    problem : Problem
        The problem. [-]
    goal : str
        One of the goals named here. [-]
    plan : iterable of Pattern
        Each strip that is cut. [-]

    Returns
    -------
    int
        The sum over its strips. [-]

    References
    ----------
    Arithmetic.
    """
    return sum(cost(problem, goal, pattern) for pattern in plan)

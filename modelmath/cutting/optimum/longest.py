"""The longest single offcut: of plans as good by every other goal, one that leaves most of one strip in one piece."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from modelmath.cutting.optimum.goals import BOUGHT_LENGTH, NEW, SCRAP
from modelmath.cutting.optimum.problem import Pattern, Problem
from modelmath.cutting.optimum.whole import is_plan, plan_that_keeps

LEFT = "longest offcut"
MOST_PATTERNS = 300  # up to which all of a problem's patterns are looked at
MOST_NODES = 8


def longest_left(
    problem: Problem,
    plan: Sequence[Pattern],
    known: Sequence[Pattern],
    limits: Mapping[str, int],
    least: Mapping[str, int],
) -> tuple[list[Pattern], int, int]:
    """Return a plan with the longest single offcut that is found, its length, and what none goes above.

    Parameters
    ----------
    problem : Problem
        The problem. [-]
    plan, known : sequence of Pattern
        A plan within the limits; patterns met while it was looked for. [-]
    limits : mapping of str to int
        Most of each other goal. [-]
    least : mapping of str to int
        Of each other goal what no plan within the limits goes below. [-]

    Returns
    -------
    tuple of (list of Pattern, int, int)
        The plan, its longest offcut, the bound. [-, unit of the problem, same]

    References
    ----------
    HiGHS, branch and cut; sums for the bound.

    Examples
    --------
    >>> from modelmath.cutting.optimum.problem import Row
    >>> problem = Problem((40, 30), (2, 2), (Row(100, 9, "to buy", (0,)),), 0, 0, 15)
    >>> even = [Pattern(0, ((0, 1), (1, 1)))] * 2
    >>> longest_left(problem, even, even, {"new strips": 2, "scrap": 0}, {"scrap": 0})[1:]
    (60, 60)
    """
    best = list(plan)
    value = longest_kept(problem, best)
    bound = most_left(problem, limits, least)
    if bound < problem.useful:
        bound = 0
    if value >= bound:
        return best, value, value
    patterns = all_patterns(problem, MOST_PATTERNS)
    complete = patterns is not None
    if patterns is None:
        patterns = list(dict.fromkeys([*plan, *known, *_few_pieces(problem)]))[:MOST_PATTERNS]
    longer = max(value + 1, problem.useful)
    kept = [pattern for pattern in patterns if problem.left(pattern) >= longer]
    found = plan_that_keeps(problem, patterns, kept, limits, MOST_NODES)
    if found.plan is not None and is_plan(problem, found.plan, limits):
        best = found.plan
        value = longest_kept(problem, best)
    if complete and found.sure:
        bound = value
    return best, value, max(value, bound)


def longest_kept(problem: Problem, plan: Sequence[Pattern]) -> int:
    """Return the longest offcut that is worth keeping.

    Parameters
    ----------
    problem : Problem
        The problem. [-]
    plan : sequence of Pattern
        A pattern for each strip. [-]

    Returns
    -------
    int
        Its length; 0 where none is. [unit of the problem]

    References
    ----------
    None needed.
    """
    left = max((problem.left(pattern) for pattern in plan), default=0)
    return left if left >= problem.useful else 0


def most_left(problem: Problem, limits: Mapping[str, int], least: Mapping[str, int]) -> int:
    """Return what no offcut is longer than: a strip less its shortest piece, and all that is left of all strips.

    Parameters
    ----------
    problem : Problem
        The problem. [-]
    limits : mapping of str to int
        Most of each other goal. [-]
    least : mapping of str to int
        Of each other goal what no plan within the limits goes below. [-]

    Returns
    -------
    int
        The bound. [unit of the problem]

    References
    ----------
    Sums; no source needed.
    """
    shortest = min(problem.sizes)
    usable = [
        row.length - problem.trim - shortest
        for row, capacity in zip(problem.rows, problem.capacities, strict=True)
        if capacity >= shortest and (not row.new or limits.get(NEW) != 0)
    ]
    most = max(usable, default=0)
    cut = sum(length * wanted for length, wanted in zip(problem.lengths, problem.demand, strict=True))
    offcuts = sum(
        row.length * row.count
        for row, capacity in zip(problem.rows, problem.capacities, strict=True)
        if not row.new and capacity >= shortest
    )
    new = max((row.length for row in problem.rows if row.new), default=0) * limits.get(NEW, problem.pieces)
    if BOUGHT_LENGTH in limits and not any(row.kind == "on hand" for row in problem.rows):
        new = min(new, limits[BOUGHT_LENGTH])
    scrap = least.get(SCRAP, 0) if not offcuts and problem.useful else 0
    return max(0, min(most, offcuts + new - cut - (scrap if _one_length(problem) else 0)))


def _one_length(problem: Problem) -> bool:
    """Return whether all strips are new and of one length: then what is left of them all is known."""
    return len({row.length for row in problem.rows}) == 1


def _few_pieces(problem: Problem) -> list[Pattern]:
    """Return the patterns of one piece or two: they leave most."""
    kinds = range(len(problem.sizes))
    ones = [((one, 1),) for one in kinds]
    pairs = [((one, 2),) for one in kinds if problem.demand[one] > 1]
    twos = [((one, 1), (two, 1)) for one in kinds for two in kinds if one < two]
    return [
        Pattern(row, pieces)
        for row, capacity in enumerate(problem.capacities)
        for pieces in (*ones, *pairs, *twos)
        if sum(problem.sizes[at] * count for at, count in pieces) <= capacity
    ]


def all_patterns(problem: Problem, most: int) -> list[Pattern] | None:
    """Return every pattern of a problem, or None if there are more than so many.

    Parameters
    ----------
    problem : Problem
        The problem. [-]
    most : int
        When to give up. [-]

    Returns
    -------
    list of Pattern or None
        Each way to cut a strip of each row, none of them empty. [-]

    References
    ----------
    Depth-first enumeration.

    Examples
    --------
    >>> from modelmath.cutting.optimum.problem import Row
    >>> len(all_patterns(Problem((40, 30), (2, 2), (Row(100, 9, "to buy", (0,)),), 0, 0, 15), 100))
    6
    """
    found: list[Pattern] = []
    for row, capacity in enumerate(problem.capacities):
        open_ones: list[tuple[int, int, tuple[tuple[int, int], ...]]] = [(0, capacity, ())]
        while open_ones:
            at, free, pieces = open_ones.pop()
            if at == len(problem.sizes):
                if pieces:
                    found.append(Pattern(row, pieces))
                    if len(found) > most:
                        return None
                continue
            fits = min(problem.demand[at], free // problem.sizes[at]) if free >= 0 else 0
            for count in range(fits + 1):
                more = (*pieces, (at, count)) if count else pieces
                open_ones.append((at + 1, free - count * problem.sizes[at], more))
    return found

"""Which offcuts to open when nothing that is left is worth keeping: then scrap is just the length opened.

Sets of offcuts are tried by their total length, from the bound up; each asks whether the new strips still do.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from heapq import heappop, heappush

from modelmath.cutting.optimum.fewest import fewest_strips
from modelmath.cutting.optimum.goals import NEW, SCRAP, total
from modelmath.cutting.optimum.problem import Pattern, Problem
from modelmath.cutting.optimum.whole import is_plan

MOST_SETS = 2_000


@dataclass(frozen=True)
class Opened:
    """The least length of offcuts that will do.

    Attributes
    ----------
    plan : list of Pattern or None
        A plan with less scrap than the one at hand; None if there is none, or none was found. [-]
    bound : int
        Scrap that no plan goes below. [unit of the problem]
    """

    plan: list[Pattern] | None
    bound: int


def applies(problem: Problem) -> bool:
    """Return whether scrap depends on the set of offcuts alone.

    Parameters
    ----------
    problem : Problem
        The problem. [-]

    Returns
    -------
    bool
        So it is where no offcut is worth keeping, and new strips are of one length. [-]

    References
    ----------
    None needed.
    """
    offcuts = [row for row in problem.rows if not row.new]
    new = {(row.kind, row.length) for row in problem.rows if row.new}
    longest = max(row.length for row in problem.rows)
    return bool(offcuts) and len(new) == 1 and problem.useful > longest


def least_opened(problem: Problem, limits: Mapping[str, int], bound: int, value: int) -> Opened:
    """Return the plan that opens the least length of offcuts, and whether that is proven.

    Parameters
    ----------
    problem : Problem
        A problem that `applies`. [-]
    limits : mapping of str to int
        Most of each goal before scrap. [-]
    bound, value : int
        Scrap that no plan goes below as far as is known, and that of a plan at hand. [unit of the problem]

    Returns
    -------
    Opened
        The plan and the bound. [-]

    References
    ----------
    Enumeration in order of cost; each set is asked with `fewest_strips`.

    Examples
    --------
    >>> from modelmath.cutting.optimum.problem import Row
    >>> rows = (Row(70, 1, "offcut", (0,)), Row(45, 1, "offcut", (1,)), Row(100, 3, "to buy", (2,)))
    >>> opened = least_opened(Problem((60, 40), (1, 2), rows, 0, 0, 999), {NEW: 1}, 0, 30)
    >>> opened.bound
    5
    """
    length_new = next(row.length for row in problem.rows if row.new)
    cut = sum(length * wanted for length, wanted in zip(problem.lengths, problem.demand, strict=True))
    fixed = limits[NEW] * length_new - cut
    unsure: int | None = None
    for tried, (opened, counts) in enumerate(_sets(problem)):
        scrap = fixed + opened
        if tried >= MOST_SETS:
            least = min(max(scrap, bound), value)
            return Opened(None, least if unsure is None else unsure)
        if scrap < bound:
            continue
        if scrap >= value:
            return Opened(None, value if unsure is None else unsure)
        rows = tuple(replace(row, count=count) for row, count in zip(problem.rows, counts, strict=True))
        found = fewest_strips(replace(problem, rows=rows), limits[NEW])
        if found is not None and is_plan(problem, found.plan, limits):
            least = total(problem, SCRAP, found.plan)
            return Opened(found.plan, least if unsure is None else unsure)
        if found is None or found.bound <= limits[NEW]:
            unsure = scrap if unsure is None else unsure
    return Opened(None, value if unsure is None else unsure)


def _sets(problem: Problem) -> Iterator[tuple[int, tuple[int, ...]]]:
    """Yield each set of offcuts as its total length and the count of each row, the shortest first."""
    start = tuple(0 if not row.new else row.count for row in problem.rows)
    heap: list[tuple[int, tuple[int, ...], int]] = [(0, start, 0)]
    while heap:
        opened, counts, first = heappop(heap)
        yield opened, counts
        for at in range(first, len(counts)):
            row = problem.rows[at]
            if not row.new and counts[at] < row.count:
                more = (*counts[:at], counts[at] + 1, *counts[at + 1 :])
                heappush(heap, (opened + row.length, more, at))

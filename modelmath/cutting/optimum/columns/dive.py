"""A dive to whole numbers: settle the patterns used most, one after the other, with fresh ones for what is left."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from math import floor

from modelmath.cutting.optimum.columns.generate import generate
from modelmath.cutting.optimum.columns.master import Master
from modelmath.cutting.optimum.goals import cost, total
from modelmath.cutting.optimum.problem import Pattern

ALMOST = 1e-6  # how near to a whole number counts as one


def dive(master: Master, at_most: int, skip: int) -> Iterator[tuple[list[Pattern], list[int], list[int]]]:
    """Yield the patterns settled so far, and what is then still to cut from what, step by step.

    It ends when all is cut, or when what is settled can't be part of a plan that costs at most so much.

    Parameters
    ----------
    master : Master
        The linear programme; it gets the fresh patterns, and is asked for the whole problem again in the end. [-]
    at_most : int
        Cost of the plans looked for. [-]
    skip : int
        Passes over so many of the most used patterns at the first step, so that each dive is another. [-]

    Yields
    ------
    tuple of (list of Pattern, list of int, list of int)
        Settled patterns, pieces left to cut, strips left. [-]

    References
    ----------
    F. Vanderbeck, "Computational study of a column generation algorithm for bin packing and cutting stock problems",
    Math. Programming 86 (1999). From memory.
    """
    problem = master.problem
    demand, counts = list(problem.demand), [row.count for row in problem.rows]
    settled: list[Pattern] = []
    while any(demand):
        master.ask(demand, counts, _limits_left(master, settled))
        found = generate(master, demand, counts, None, spent=settled)
        if found is None or total(problem, master.goal, settled) + found.bound > at_most:
            break
        before = len(settled)
        for pattern in _to_settle(master.patterns, found.solved.used, skip):
            _settle(pattern, demand, counts, settled)
        if len(settled) == before:
            break
        skip = 0
        yield settled, demand, counts
    master.ask(problem.demand, [row.count for row in problem.rows], master.limits)


def _limits_left(master: Master, settled: Sequence[Pattern]) -> dict[str, int]:
    spent = {goal: sum(cost(master.problem, goal, pattern) for pattern in settled) for goal in master.limits}
    return {goal: most - spent[goal] for goal, most in master.limits.items()}


def _to_settle(patterns: Sequence[Pattern], used: Sequence[float], skip: int) -> list[Pattern]:
    """Return the patterns used in whole numbers, that often; where there is none, the one used most."""
    sure = [pattern for pattern, use in zip(patterns, used, strict=True) for _ in range(floor(use + ALMOST))]
    if sure and not skip:
        return sure
    ranked = sorted(range(len(used)), key=lambda at: (-(used[at] - floor(used[at])), at))
    ranked = [at for at in ranked if used[at] > ALMOST]
    return [patterns[ranked[min(skip, len(ranked) - 1)]]] if ranked else sure


def _settle(pattern: Pattern, demand: list[int], counts: list[int], settled: list[Pattern]) -> None:
    """Take a pattern into the plan, without the pieces that are no longer wanted."""
    pieces = tuple((at, min(count, demand[at])) for at, count in pattern.pieces if demand[at])
    if not pieces or not counts[pattern.row]:
        return
    for at, count in pieces:
        demand[at] -= count
    counts[pattern.row] -= 1
    settled.append(Pattern(pattern.row, pieces))

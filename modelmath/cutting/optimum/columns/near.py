"""All patterns that a better plan could use: those whose price is not too high for the gap that is left."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from functools import partial
from itertools import accumulate

from modelmath.cutting.optimum.columns.generate import STEPS
from modelmath.cutting.optimum.columns.master import Master, Solved
from modelmath.cutting.optimum.columns.pricing import fixed_costs, offers
from modelmath.cutting.optimum.goals import FROM_NEW, cost
from modelmath.cutting.optimum.problem import Pattern, Problem, pattern_of

MOST_NODES = 400_000  # of the enumeration; it then says that some may be missing


def near_patterns(
    master: Master, solved: Solved, demand: Sequence[int], at_most: int, most_patterns: int
) -> tuple[list[Pattern], bool]:
    """Return each pattern that a plan which costs at most so much could contain.

    By the prices at the end of the linear programme, a plan costs the bound and, for each strip, what its pattern
    is dearer than the best; one that is dearer than the whole gap can't be in it.

    Parameters
    ----------
    master : Master
        The linear programme at its end. [-]
    solved : Solved
        Its prices. [-]
    demand : sequence of int
        Pieces of each length. [-]
    at_most : int
        Cost of the plans looked for. [-]
    most_patterns : int
        When to give up. [-]

    Returns
    -------
    tuple of (list of Pattern, bool)
        The patterns, and whether none is missing. [-]

    References
    ----------
    Reduced-cost fixing: G. L. Nemhauser and L. A. Wolsey, "Integer and Combinatorial Optimization" (1988), II.5.
    """
    problem = master.problem
    prices = [round(price * STEPS) for price in solved.prices]
    weights = {goal: round(weight * STEPS) for goal, weight in solved.weights.items()}
    found, sure = offers(problem, prices, weights, demand, whole=True)
    if not sure:
        return list(master.patterns), False
    dear = [max(0, offer.gain) for offer in found]
    worth = sum(price * wanted for price, wanted in zip(prices, demand, strict=True))
    scarce = sum(each * row.count for each, row in zip(dear, problem.rows, strict=True))
    bound = worth - scarce - sum(weights[goal] * most for goal, most in master.limits.items())
    gap = at_most * STEPS - bound
    if gap < 0:
        return [], True
    near: list[Pattern] = []
    nodes = [0]
    for at in range(len(problem.rows)):
        if not _enumerate(problem, at, prices, weights, dear[at], gap, demand, near, nodes, most_patterns):
            return list(dict.fromkeys([*near, *master.patterns]))[: 2 * most_patterns], False
    return near, True


def _enumerate(
    problem: Problem,
    row: int,
    prices: Sequence[int],
    weights: dict[str, int],
    dear: int,
    gap: int,
    demand: Sequence[int],
    near: list[Pattern],
    nodes: list[int],
    most_patterns: int,
) -> bool:
    """Add a row's patterns depth first; a branch ends where the rest of the strip can't make up for its price.

    How much a length of strip can be worth at most is bounded by the dearest price for its length of the sizes
    that are left, beside what the goals count for it. All is whole numbers, so no rounding is in it.
    """
    sizes, capacity = problem.sizes, problem.capacities[row]
    worths = _worths(problem, row, prices, weights)
    dearest_after = _dearest_after(worths, sizes)
    least = dear - gap + fixed_costs(problem, row, weights)
    counts = [0] * len(sizes)

    def walk(at: int, free: int, worth: int) -> bool:
        nodes[0] += 1
        if nodes[0] > MOST_NODES or len(near) > most_patterns:
            return False
        dearest, its_size = dearest_after[at]
        if worth * its_size + dearest * free < least * its_size:
            return True
        if at == len(sizes):
            pattern = pattern_of(row, counts)
            if pattern.pieces and _gain(problem, pattern, prices, weights) >= dear - gap:
                near.append(pattern)
            return True
        most = min(demand[at], free // sizes[at])
        for count in range(most, -1, -1):
            counts[at] = count
            if not walk(at + 1, free - count * sizes[at], worth + count * worths[at]):
                return False
        return True

    return walk(0, capacity, 0)


def _gain(problem: Problem, pattern: Pattern, prices: Sequence[int], weights: dict[str, int]) -> int:
    worth = sum(prices[at] * count for at, count in pattern.pieces)
    return worth - sum(weight * cost(problem, goal, pattern) for goal, weight in weights.items() if weight)


def _worths(problem: Problem, row: int, prices: Sequence[int], weights: dict[str, int]) -> list[int]:
    """Return the most that a piece of each size is worth; scrap only takes from that, so it is left out."""
    rest = weights.get(FROM_NEW, 0) if problem.rows[row].new else 0
    return [price - rest * length for price, length in zip(prices, problem.lengths, strict=True)]


def _dearest_after(worths: Sequence[int], sizes: Sequence[int]) -> list[tuple[int, int]]:
    """Return worth and size of the piece worth most for its size, of those from each on; after the last, nothing."""
    pieces = zip(reversed(worths), reversed(sizes), strict=True)
    dearer = partial(max, key=lambda piece: Fraction(*piece))
    return [*accumulate(pieces, dearer, initial=(0, 1))][::-1]

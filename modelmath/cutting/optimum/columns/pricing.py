"""The pattern that would gain most by the prices of a linear programme, for each row of strips.

A strip's scrap depends on whether what is left of it is worth keeping. With it kept, scrap is the trim and the saw
cuts; without, all that is no part. Each case is a knapsack of its own, and the second never counts too little.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from modelmath.cutting.optimum.columns.filling import best_fillings
from modelmath.cutting.optimum.goals import BOUGHT, BOUGHT_LENGTH, FROM_NEW, NEW, SCRAP
from modelmath.cutting.optimum.problem import Problem


@dataclass(frozen=True)
class Offer:
    """The best pattern found for a row's strips.

    Attributes
    ----------
    gain : float or int
        Worth of its pieces less its costs. [unit of the prices]
    counts : tuple of int
        How often each length is cut. [-]
    """

    gain: Any
    counts: tuple[int, ...]


def offers(
    problem: Problem,
    prices: Sequence[Any],
    weights: Mapping[str, Any],
    most: Sequence[int],
    *,
    whole: bool = False,
) -> tuple[list[Offer], bool]:
    """Return the best pattern for each row by the prices of pieces and the weights of goals.

    Parameters
    ----------
    problem : Problem
        The problem. [-]
    prices : sequence of float or int
        What a piece of each length is worth. [any unit]
    weights : mapping of str to float or int
        What a unit of each goal costs. [same unit]
    most : sequence of int
        Most pieces of each length. [-]
    whole : bool
        Whether prices and weights are whole numbers, to be added up exactly. [-]

    Returns
    -------
    tuple of (list of Offer, bool)
        An offer for each row, and whether they are all proven best. [same unit]

    References
    ----------
    Delayed column generation: P. C. Gilmore and R. E. Gomory, "A linear programming approach to the cutting-stock
    problem", Operations Research 9 (1961).

    Examples
    --------
    >>> from modelmath.cutting.optimum.problem import Row
    >>> problem = Problem((60, 40), (1, 1), (Row(100, 3, "to buy", (0,)),), 0, 0, 50)
    >>> offers(problem, [6, 4], {NEW: 8}, [1, 1], whole=True)
    ([Offer(gain=2, counts=(1, 1))], True)
    """
    found_for: list[list[Offer]] = [[] for _ in problem.rows]
    scrap, from_new, proven = weights.get(SCRAP, 0), weights.get(FROM_NEW, 0), True
    for old in (True, False):
        rows = [at for at, row in enumerate(problem.rows) if row.new != old]
        if not rows:
            continue
        rest = 0 if old else from_new
        worth = [price + (scrap - rest) * length for price, length in zip(prices, problem.lengths, strict=True)]
        found, sure = best_fillings(worth, problem.sizes, most, [problem.capacities[at] for at in rows], whole=whole)
        proven &= sure
        for at, (value, counts) in zip(rows, found, strict=True):
            gain = value - fixed_costs(problem, at, weights) - scrap * problem.rows[at].length
            found_for[at].append(Offer(gain, tuple(counts)))
        if not scrap:
            continue
        worth = [
            price - scrap * problem.kerf - rest * length for price, length in zip(prices, problem.lengths, strict=True)
        ]
        room = [problem.rows[at].length - problem.trim - problem.useful for at in rows]
        found, sure = best_fillings(worth, problem.sizes, most, room, whole=whole)
        proven &= sure
        for at, free, (value, counts) in zip(rows, room, found, strict=True):
            if free >= 0:
                gain = value - fixed_costs(problem, at, weights) - scrap * problem.trim
                found_for[at].append(Offer(gain, tuple(counts)))
    return [max(each, key=lambda offer: offer.gain) for each in found_for], proven


def fixed_costs(problem: Problem, at: int, weights: Mapping[str, Any]) -> Any:
    """Return what a row's strip costs however it is cut.

    Parameters
    ----------
    problem : Problem
        The problem. [-]
    at : int
        Number of the row. [-]
    weights : mapping of str to float or int
        What a unit of each goal costs. [any unit]

    Returns
    -------
    float or int
        The sum of what it costs by being new, by being bought and by its length. [same unit]

    References
    ----------
    Sums; no source needed.

    Examples
    --------
    >>> from modelmath.cutting.optimum.problem import Row
    >>> problem = Problem((60,), (1,), (Row(100, 3, "to buy", (0,)),), 0, 0, 50)
    >>> fixed_costs(problem, 0, {NEW: 8, BOUGHT: 5, BOUGHT_LENGTH: 2})
    213
    """
    row = problem.rows[at]
    costs = weights.get(NEW, 0) if row.new else 0
    if row.bought:
        costs += weights.get(BOUGHT, 0) + weights.get(BOUGHT_LENGTH, 0) * row.length
    return costs

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
    best: list[Offer | None] = [None] * len(problem.rows)
    scrap, from_new, proven = weights.get(SCRAP, 0), weights.get(FROM_NEW, 0), True
    for old in (True, False):
        rows = [at for at, row in enumerate(problem.rows) if (row.kind == "offcut") == old]
        if not rows:
            continue
        rest = 0 if old else from_new
        worth = [price + (scrap - rest) * length for price, length in zip(prices, problem.lengths, strict=True)]
        found, sure = best_fillings(worth, problem.sizes, most, [problem.capacities[at] for at in rows], whole=whole)
        proven &= sure
        for at, (value, counts) in zip(rows, found, strict=True):
            best[at] = Offer(value - _fixed(problem, at, weights) - scrap * problem.rows[at].length, tuple(counts))
        if not scrap:
            continue
        worth = [
            price - scrap * problem.kerf - rest * length for price, length in zip(prices, problem.lengths, strict=True)
        ]
        room = [problem.rows[at].length - problem.trim - problem.useful for at in rows]
        found, sure = best_fillings(worth, problem.sizes, most, room, whole=whole)
        proven &= sure
        for at, free, (value, counts) in zip(rows, room, found, strict=True):
            offer = Offer(value - _fixed(problem, at, weights) - scrap * problem.trim, tuple(counts))
            known = best[at]
            if free >= 0 and (known is None or offer.gain > known.gain):
                best[at] = offer
    return [offer for offer in best if offer is not None], proven


def _fixed(problem: Problem, at: int, weights: Mapping[str, Any]) -> Any:
    """Return what a row's strip costs however it is cut."""
    row = problem.rows[at]
    costs = weights.get(NEW, 0) if row.kind != "offcut" else 0
    if row.kind == "to buy":
        costs += weights.get(BOUGHT, 0) + weights.get(BOUGHT_LENGTH, 0) * row.length
    return costs

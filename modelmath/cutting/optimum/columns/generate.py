"""Column generation: patterns are added while one is worth more than it costs; and the bound that this proves."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from math import ceil

from modelmath.cutting.optimum.columns.master import Master, Solved
from modelmath.cutting.optimum.columns.pricing import Offer, offers
from modelmath.cutting.optimum.goals import cost
from modelmath.cutting.optimum.problem import Pattern, Problem, pattern_of

STEPS = 1 << 30  # prices are taken to such a part of one before they are added up exactly
TINY = 1e-7
MOST_ROUNDS = 3_000
UNKNOWN = 10**18  # further from any cost than a bound ever is


@dataclass(frozen=True)
class Generated:
    """The linear programme once no further pattern gains, or once its bound is enough.

    Attributes
    ----------
    solved : Solved
        Its last solution. [-]
    bound : int
        No plan costs less; proven in whole numbers. [-]
    """

    solved: Solved
    bound: int


def generate(
    master: Master,
    demand: Sequence[int],
    counts: Sequence[int],
    enough: int | None,
    spent: Sequence[Pattern] = (),
) -> Generated | None:
    """Add patterns until none gains, or until the bound reaches what a plan at hand costs.

    Parameters
    ----------
    master : Master
        The linear programme; it gets the patterns. [-]
    demand, counts : sequence of int
        Pieces of each length wanted, strips of each row there are; what the programme was asked for. [-]
    enough : int or None
        Cost of a plan at hand: a bound that reaches it is proof enough. None to go on to the end. [-]
    spent : sequence of Pattern
        What is settled already, and has used up some of the limits. [-]

    Returns
    -------
    Generated or None
        None if the known patterns can't give a solution. [-]

    References
    ----------
    Gilmore and Gomory 1961; the bound at any prices is Lagrange's: A. M. Geoffrion, "Lagrangean relaxation for
    integer programming", Math. Programming Study 2 (1974). From memory.
    """
    found: Generated | None = None
    limits = {
        goal: most - sum(cost(master.problem, goal, pattern) for pattern in spent)
        for goal, most in master.limits.items()
    }
    for _ in range(MOST_ROUNDS):
        solved = master.solve()
        if solved is None:
            return None
        best, _sure = offers(master.problem, solved.prices, solved.weights, demand)
        least = _lagrangian(solved, best, demand, counts, limits)
        gains = [at for at, offer in enumerate(best) if offer.gain > solved.dear[at] + TINY and counts[at]]
        fresh = [pattern_of(at, best[at].counts) for at in gains]
        done = not master.add(fresh)
        if done or (enough is not None and ceil(least - TINY) >= enough):
            bound = exact_bound(master.problem, solved, demand, counts, limits)
            found = Generated(solved, bound if found is None else max(found.bound, bound))
            if done or (enough is not None and found.bound >= enough):
                return found
    return found


def _lagrangian(
    solved: Solved,
    found: Sequence[Offer],
    demand: Sequence[int],
    counts: Sequence[int],
    limits: Mapping[str, int],
) -> float:
    """Return the bound at these prices, in floating point: good enough to know when to look exactly."""
    worth = sum(price * wanted for price, wanted in zip(solved.prices, demand, strict=True))
    scarce = sum(max(0.0, offer.gain) * count for offer, count in zip(found, counts, strict=True))
    return float(worth - scarce - sum(solved.weights[goal] * most for goal, most in limits.items()))


def exact_bound(
    problem: Problem, solved: Solved, demand: Sequence[int], counts: Sequence[int], limits: Mapping[str, int]
) -> int:
    """Return the cost that no plan goes below, by prices made whole numbers: no rounding is in it.

    Whatever the prices of pieces and the weights of goals, no strip gains more than the best pattern of its row, and
    there are so many strips of it.

    Parameters
    ----------
    problem : Problem
        The problem. [-]
    solved : Solved
        Any prices; those of the linear programme at its end give the best bound. [-]
    demand, counts : sequence of int
        Pieces of each length wanted, strips of each row. [-]
    limits : mapping of str to int
        Most of each limited goal. [-]

    Returns
    -------
    int
        The bound, rounded up: costs are whole numbers. Far below zero where the best patterns are not known. [-]

    References
    ----------
    Weak duality: V. Chvatal, "Linear Programming" (1983), chapter 5.
    """
    prices = [round(price * STEPS) for price in solved.prices]
    weights = {goal: round(weight * STEPS) for goal, weight in solved.weights.items()}
    found, sure = offers(problem, prices, weights, demand, whole=True)
    if not sure:
        return -UNKNOWN
    worth = sum(price * wanted for price, wanted in zip(prices, demand, strict=True))
    scarce = sum(max(0, offer.gain) * count for offer, count in zip(found, counts, strict=True))
    rest = sum(weights[goal] * most for goal, most in limits.items())
    return ceil(Fraction(worth - scarce - rest, STEPS))

"""Quick plans: greedy packing of what is left to cut, as patterns."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence

from modelmath.cutting.optimum.problem import Pattern, Problem
from modelmath.cutting.packing import Bin, Supply, pack
from modelmath.cutting.search import searched


def supply_of(problem: Problem, counts: Sequence[int]) -> Supply:
    """Return the strips there still are, as the greedy packing takes them; each as its capacity and its row.

    Parameters
    ----------
    problem : Problem
        The problem. [-]
    counts : sequence of int
        Strips of each row. [-]

    Returns
    -------
    Supply
        The strips. [same unit]

    References
    ----------
    None needed.
    """
    held: dict[str, list[tuple[int, int]]] = {"offcut": [], "on hand": []}
    to_buy: list[tuple[int, int]] = []
    for at, (row, capacity, count) in enumerate(zip(problem.rows, problem.capacities, counts, strict=True)):
        if row.bought:
            to_buy += [(capacity, at)] if count > 0 else []
        else:
            held[row.kind] += [(capacity, at)] * count
    return Supply(tuple(held["offcut"]), tuple(held["on hand"]), tuple(to_buy))


def greedy_plan(
    problem: Problem, demand: Sequence[int], counts: Sequence[int], *, search: bool = False
) -> list[Pattern] | None:
    """Return the best of a few greedy plans for what is left to cut.

    Parameters
    ----------
    problem : Problem
        The problem. [-]
    demand, counts : sequence of int
        Pieces of each length, strips of each row. [-]
    search : bool
        Whether to search for places where packing finds none. [-]

    Returns
    -------
    list of Pattern or None
        A pattern for each strip; None if none was found. [-]

    References
    ----------
    `modelmath.cutting.packing`.

    Examples
    --------
    >>> from modelmath.cutting.optimum.problem import Row
    >>> problem = Problem((60, 40), (1, 2), (Row(100, 3, "to buy", (0,)),), 0, 0, 15)
    >>> greedy_plan(problem, (1, 2), (3,))
    [Pattern(row=0, pieces=((0, 1), (1, 1))), Pattern(row=0, pieces=((1, 1),))]
    """
    kinds = [at for at, wanted in enumerate(demand) for _ in range(wanted)]
    if not kinds:
        return []
    sizes = [problem.sizes[at] for at in kinds]
    supply = supply_of(problem, counts)
    bins = pack(sizes, supply) or (searched(sizes, supply) if search else None)
    return None if bins is None else [_pattern(each, kinds) for each in bins]


def _pattern(each: Bin, kinds: Sequence[int]) -> Pattern:
    return Pattern(each.row, tuple(sorted(Counter(kinds[number] for number in each.pieces).items())))

"""The most valuable filling of a strip: a knapsack with at most so many pieces of each size.

A dense table over the strip's length serves strips of every length at once. Where the unit is so fine that the
table would be too long, a depth-first search with a bound does the same.
"""

from __future__ import annotations

from collections.abc import Sequence
from functools import reduce
from math import gcd
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from numpy.typing import NDArray

LONGEST_TABLE = 120_000  # steps along the strip; beyond, searching is quicker
MOST_NODES = 10_000  # of one search; it then says that it is not proven
LARGEST_WHOLE = 2**62

Filling = tuple[Any, list[int]]


def best_fillings(
    values: Sequence[Any], sizes: Sequence[int], most: Sequence[int], capacities: Sequence[int], *, whole: bool = False
) -> tuple[list[Filling], bool]:
    """Return the most valuable filling for each of several capacities.

    Parameters
    ----------
    values : sequence of float or int
        What one piece of each size is worth; those worth nothing are left out. [any unit]
    sizes, most : sequence of int
        Size of a piece with its saw cut, and how many of it there are. [any length unit, -]
    capacities : sequence of int
        What the strips hold. [same length unit]
    whole : bool
        Whether values are whole numbers, to be added up exactly. [-]

    Returns
    -------
    tuple of (list of (value, list of int), bool)
        For each capacity the value and how many of each size; and whether all are proven best. [unit of values, -]

    References
    ----------
    Dynamic programming over capacity, counts split into powers of two: S. Martello and P. Toth, "Knapsack Problems"
    (1990), chapter 3; depth-first search with the fractional bound: ibid., chapter 2. From memory.

    Examples
    --------
    >>> best_fillings([5, 4], [60, 40], [1, 2], [100, 39], whole=True)
    ([(9, [1, 1]), (0, [0, 0])], True)
    """
    longest = max(capacities, default=0)
    used = [at for at, value in enumerate(values) if value > 0 and most[at] and sizes[at] <= longest]
    if not used:
        return [(0, [0] * len(sizes)) for _ in capacities], True
    step = reduce(gcd, (sizes[at] for at in used))
    if longest // step <= LONGEST_TABLE:
        steps = [sizes[at] // step for at in used]
        found = _by_table(
            [values[at] for at in used],
            steps,
            [most[at] for at in used],
            [max(capacity, 0) // step for capacity in capacities],
            whole,
        )
        return [(value, _spread(counts, used, len(sizes))) for value, counts in found], True
    proven, fillings = True, []
    for capacity in capacities:
        value, counts, sure = _by_search(
            [values[at] for at in used], [sizes[at] for at in used], [most[at] for at in used], capacity
        )
        proven &= sure
        fillings.append((value, _spread(counts, used, len(sizes))))
    return fillings, proven


def _spread(counts: Sequence[int], used: Sequence[int], length: int) -> list[int]:
    spread = [0] * length
    for at, count in zip(used, counts, strict=True):
        spread[at] = count
    return spread


def _by_table(
    values: Sequence[Any], sizes: Sequence[int], most: Sequence[int], capacities: Sequence[int], whole: bool
) -> list[Filling]:
    import numpy as np

    longest = max(capacities)
    all_of_it = sum(value * min(count, longest // size) for value, size, count in zip(values, sizes, most, strict=True))
    exact = np.int64 if all_of_it < LARGEST_WHOLE else object  # beyond it a machine's whole number would wrap round
    best: NDArray[Any] = np.zeros(longest + 1, dtype=exact if whole else np.float64)
    taken: list[tuple[int, int, int, NDArray[Any]]] = []
    for at, (value, size) in enumerate(zip(values, sizes, strict=True)):
        left, share = min(most[at], longest // size), 1
        while left:
            count = min(share, left)
            width = count * size
            with_it = best[: longest + 1 - width] + count * value
            better = with_it > best[width:]
            np.copyto(best[width:], with_it, where=better)
            taken.append((at, count, width, better))
            left -= count
            share *= 2
    return [_looked_up(best, taken, capacity, len(sizes), whole) for capacity in capacities]


def _looked_up(
    best: Any, taken: Sequence[tuple[int, int, int, Any]], capacity: int, length: int, whole: bool
) -> Filling:
    counts, at = [0] * length, capacity
    for which, count, width, better in reversed(taken):
        if at >= width and better[at - width]:
            counts[which] += count
            at -= width
    return (int(best[capacity]) if whole else float(best[capacity])), counts


def _by_search(
    values: Sequence[Any], sizes: Sequence[int], most: Sequence[int], capacity: int
) -> tuple[Any, list[int], bool]:
    """Depth first, the most valuable for its length first; a branch ends where even a fraction can't gain."""
    order = sorted(range(len(sizes)), key=lambda at: (-values[at] / sizes[at], sizes[at]))
    value, size, bound = [values[at] for at in order], [sizes[at] for at in order], [most[at] for at in order]
    shortest = [min(size[at:]) for at in range(len(size))]
    counts, best_counts = [0] * len(size), [0] * len(size)
    best, worth, free, at, nodes = 0, 0, capacity, 0, 0
    while True:
        while at < len(size) and free >= shortest[at] and worth * size[at] + free * value[at] > best * size[at]:
            nodes += 1
            counts[at] = min(bound[at], free // size[at])
            worth += counts[at] * value[at]
            free -= counts[at] * size[at]
            at += 1
        if worth > best:
            best, best_counts = worth, counts[:at] + [0] * (len(size) - at)
        at -= 1
        while at >= 0 and counts[at] == 0:
            at -= 1
        if at < 0 or nodes > MOST_NODES:
            break
        counts[at] -= 1
        worth -= value[at]
        free += size[at]
        at += 1
    spread = [0] * len(size)
    for which, count in zip(order, best_counts, strict=True):
        spread[which] = count
    return best, spread, nodes <= MOST_NODES

"""The fewest strips that could do, whatever the plan: so a plan that meets the bound is proven best.

All lengths are whole numbers here, each piece with the saw cut behind it and each strip with one cut more.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from functools import partial

MOST_STEPS = 6  # rounding steps tried; more seldom raise the bound on strips that hold a few pieces each


def fewest_new(pieces: Sequence[int], offcuts: Sequence[int], on_hand: Sequence[int], to_buy: int) -> int:
    """Lower bound on new strips: full ones from the drawer and bought ones; offcuts are free.

    Parameters
    ----------
    pieces : sequence of int
        Lengths to cut, each with a saw cut. [any unit]
    offcuts, on_hand : sequence of int
        Capacities of the offcuts and of the full strips in the drawer. [same unit]
    to_buy : int
        Capacity of the longest strip that can be bought, as many as needed; 0 if none can. [same unit]

    Returns
    -------
    int
        No plan uses fewer new strips, as long as there is a plan at all.

    References
    ----------
    Area bound, and dual-feasible functions: S. P. Fekete and J. Schepers, "New classes of fast lower bounds for
    bin packing problems", Math. Programming 91 (2001); from memory. Each function here is superadditive, so pieces
    that share a strip of any length never add up to more than the strip's own value.

    Examples
    --------
    Three pieces longer than half a strip never share one, though they would fit by total length:

    >>> fewest_new([60, 60, 60], [], [], 100)
    3
    """
    if not pieces:
        return 0
    usable = [offcut for offcut in offcuts if offcut >= min(pieces)]
    full = max([*usable, *on_hand, to_buy])
    return max(_count(value, pieces, usable, on_hand, to_buy) for value in _functions(full, pieces))


def _count(
    value: Callable[[int], int], pieces: Sequence[int], offcuts: Sequence[int], on_hand: Sequence[int], to_buy: int
) -> int:
    """Return how many new strips it takes by value: offcuts first, then the longest strips."""
    missing = sum(map(value, pieces)) - sum(map(value, offcuts))
    count, each = 0, value(to_buy)
    for held in sorted(map(value, on_hand), reverse=True):
        if missing <= 0 or held <= each:
            break
        missing -= held
        count += 1
    return count + (-(-missing // each) if missing > 0 and each > 0 else 0)


def _functions(full: int, pieces: Sequence[int]) -> Iterator[Callable[[int], int]]:
    """Yield the plain length, then lengths rounded in steps, then short pieces left out in favour of long ones."""
    yield lambda length: length
    for steps in range(1, MOST_STEPS + 1):
        yield partial(_stepped, full=full, steps=steps)
    for short in sorted({piece for piece in pieces if 2 * piece <= full}):
        yield partial(_without_short, full=full, short=short)


def _stepped(length: int, full: int, steps: int) -> int:
    """Round a length down to whole steps of full / (steps + 1), unless it is one exactly; scaled by `steps`."""
    whole, rest = divmod((steps + 1) * length, full)
    return steps * length if rest == 0 else whole * full


def _without_short(length: int, full: int, short: int) -> int:
    """Count a piece that leaves no room for a short one as a full strip, and a shorter one as nothing."""
    if length > full - short:
        return full
    return length if length >= short else 0

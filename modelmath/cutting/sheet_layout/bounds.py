"""The fewest sheets, and the shortest piece of one, that could do whatever the layout.

All sides are whole numbers here, each a kerf larger than it is.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from functools import partial
from itertools import product

MOST_STEPS = 6  # rounding steps tried; more seldom raise the bound on sheets that hold a few pieces across
MOST_SHORT = 16  # different short sides tried one by one

Sides = tuple[int, int]
Value = Callable[[int], int]


def fewest_new(
    parts: Sequence[tuple[Sequence[Sides], int]],
    offcuts: Sequence[Sides],
    on_hand: Sequence[Sides],
    to_buy: Sequence[Sides],
    enough: int,
    most_bought: int | None = None,
) -> int:
    """Lower bound on new sheets: full ones on hand and bought ones; offcuts are free.

    Parameters
    ----------
    parts : sequence of (sequence of (int, int), int)
        Of each part the sides along the sheet's length and width, for each way it may lie, and how many. [any unit, -]
    offcuts, on_hand : sequence of (int, int)
        Sides of each offcut and of each full sheet on hand. [same unit]
    to_buy : sequence of (int, int)
        Sides of each kind that can be bought, as many as needed. [same unit]
    enough : int
        A bound that says all that is wanted, such as what a layout uses: none better is looked for. [-]
    most_bought : int or None
        How many of the new ones are bought at most; None for as many as it takes. [-]

    Returns
    -------
    int
        No layout uses fewer new sheets, as long as there is a layout at all.

    References
    ----------
    Area bound, and dual-feasible functions: S. P. Fekete and J. Schepers, "New classes of fast lower bounds for bin
    packing problems", Math. Programming 91 (2001); from memory. Each function here is superadditive. So the product of
    two, one of the length and one of the width, is for a panel parted right across at least the sum of that for its
    two halves, and for a sheet at least the sum over its parts. A part that may turn counts as the lesser of its two.

    Examples
    --------
    Three squares larger than half a sheet never share one, though they would fit by area, turned or not:

    >>> fewest_new([(((60, 60),), 3)], [], [], [(100, 100)], 3)
    3
    """
    usable = [each for each in offcuts if any(_holds(each, way) for ways, _ in parts for way in ways)]
    sheets = [*usable, *on_hand, *to_buy]
    if not parts or not sheets:
        return 0
    of_length = list(_functions(max(a for a, _ in sheets), {a for ways, _ in parts for a, _ in ways}))
    of_width = list(_functions(max(b for _, b in sheets), {b for ways, _ in parts for _, b in ways}))
    best = 0
    for first, second in product(of_length, of_width):
        best = max(best, _count(first, second, parts, usable, on_hand, to_buy, most_bought))
        if best >= enough:
            break
    return best


def shortest(parts: Sequence[tuple[Sequence[Sides], int]], width: int) -> int:
    """Lower bound on the length of a piece of sheet that holds all parts.

    Parameters
    ----------
    parts : sequence of (sequence of (int, int), int)
        As for `fewest_new`. [any unit, -]
    width : int
        The sheet's width. [same unit]

    Returns
    -------
    int
        No piece as wide and shorter than this holds them. [same unit]

    References
    ----------
    As for `fewest_new`, with the plain length for the length.

    Examples
    --------
    >>> shortest([(((30, 60),), 2)], 100)
    60
    """
    if not parts:
        return 0
    longest = max(min(a for a, b in ways if b <= width) for ways, _ in parts)
    for value in _functions(width, {b for ways, _ in parts for _, b in ways}):
        if whole := value(width):
            area = sum(count * min(a * value(b) for a, b in ways if b <= width) for ways, count in parts)
            longest = max(longest, -(-area // whole))
    return longest


def _holds(sheet: Sides, part: Sides) -> bool:
    return part[0] <= sheet[0] and part[1] <= sheet[1]


def _count(
    first: Value,
    second: Value,
    parts: Sequence[tuple[Sequence[Sides], int]],
    offcuts: Iterable[Sides],
    on_hand: Iterable[Sides],
    to_buy: Iterable[Sides],
    most_bought: int | None,
) -> int:
    """Return how many new sheets it takes by value: offcuts first, then those worth most."""

    def worth(sides: Sides) -> int:
        return first(sides[0]) * second(sides[1])

    missing = sum(count * min(map(worth, ways)) for ways, count in parts) - sum(map(worth, offcuts))
    used, bought, each = 0, 0, max(map(worth, to_buy), default=0)
    for held in sorted(map(worth, on_hand), reverse=True):
        while missing > 0 and each >= held and each > 0 and bought != most_bought:
            missing, used, bought = missing - each, used + 1, bought + 1
        if missing <= 0:
            break
        missing, used = missing - held, used + 1
    return used + (-(-missing // each) if missing > 0 and each > 0 else 0)


def _functions(full: int, sides: Iterable[int]) -> Iterator[Value]:
    """Yield the plain side, then sides rounded in steps, then short ones left out in favour of long ones."""
    yield _plain
    short = sorted({side for side in sides if 2 * side <= full}, reverse=True)
    for each in short[:: max(1, -(-len(short) // MOST_SHORT))]:
        yield partial(_without_short, full=full, short=each)
    for steps in range(1, MOST_STEPS + 1):
        yield partial(_stepped, full=full, steps=steps)


def _plain(side: int) -> int:
    return side


def _stepped(side: int, full: int, steps: int) -> int:
    """Round a side down to whole steps of full / (steps + 1), unless it is one exactly; scaled by `steps`."""
    whole, rest = divmod((steps + 1) * side, full)
    return steps * side if rest == 0 else whole * full


def _without_short(side: int, full: int, short: int) -> int:
    """Count a side that leaves no room for a short one as a full one, and a shorter one as nothing."""
    if side > full - short:
        return full
    return side if side >= short else 0

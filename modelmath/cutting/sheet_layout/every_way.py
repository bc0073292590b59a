"""For a few pieces: the fewest sheets by every way to part a sheet, so that a tight small job is proven too.

The least width that can be snapped off is left out of account here: with it no layout does with fewer.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from functools import cache

MOST_PIECES = 7  # the ways to share pieces out treble with each piece more
MOST_OFFCUTS = 4

Sides = tuple[int, int]


def fewest_by_every_way(
    pieces: Sequence[Sequence[Sides]], offcuts: Sequence[Sides], new: Sequence[Sides]
) -> int | None:
    """Fewest new sheets by every way to part panels right across, as if of each new sheet there were enough.

    Parameters
    ----------
    pieces : sequence of sequence of (int, int)
        Of each piece the sides along the sheet's length and width, for each way it may lie. [any unit]
    offcuts : sequence of (int, int)
        Sides of each offcut. [same unit]
    new : sequence of (int, int)
        Sides of each kind of new sheet, on hand or to buy. [same unit]

    Returns
    -------
    int or None
        No layout uses fewer new sheets; None where there are too many pieces or offcuts, or no sheet for some piece.

    References
    ----------
    Smallest rectangles of joined rectangles: P. Y. Wang, "Two algorithms for constrained two-dimensional cutting stock
    problems", Operations Research 31 (1983), without its limit on waste; from memory.

    Examples
    --------
    By area one sheet would do:

    >>> fewest_by_every_way([[(7, 4), (4, 7)], [(3, 6), (6, 3)], [(4, 3), (3, 4)], [(3, 3)]], [], [(9, 9)])
    2
    """
    usable = [sheet for sheet in offcuts if any(_holds(sheet, ways) for ways in pieces)]
    if len(pieces) > MOST_PIECES or len(usable) > MOST_OFFCUTS or not new:
        return None
    boxes = _smallest_boxes(pieces, [*usable, *new])
    on_new = [any(_holds(sheet, each) for sheet in new) for each in boxes]
    on_offcut = [[_holds(sheet, each) for each in boxes] for sheet in usable]
    none = len(pieces) + 1

    @cache
    def fewest(left: int, at: int) -> int:
        if not left:
            return 0
        if at < len(usable):
            rests = (left ^ taken for taken in (0, *_subsets(left)) if not taken or on_offcut[at][taken])
            return min(fewest(rest, at + 1) for rest in rests)
        lowest = left & -left
        rests = (left ^ taken for taken in _subsets(left) if taken & lowest and on_new[taken])
        return min((1 + fewest(rest, at) for rest in rests), default=none)

    count = fewest(len(boxes) - 1, 0)
    return None if count >= none else count


def _smallest_boxes(pieces: Sequence[Sequence[Sides]], sheets: Sequence[Sides]) -> list[list[Sides]]:
    """Return the smallest panels that give each set of pieces, by the set as bits; none that no sheet holds."""
    boxes: list[list[Sides]] = [[] for _ in range(1 << len(pieces))]
    for number, ways in enumerate(pieces):
        boxes[1 << number] = _smallest(ways, sheets)
    for whole in range(3, len(boxes)):
        lowest, found = whole & -whole, set[Sides]()
        for part in _subsets(whole ^ lowest):
            for a, b in boxes[part]:
                for c, d in boxes[whole ^ part]:
                    found.add((a + c, max(b, d)))
                    found.add((max(a, c), b + d))
        if found:
            boxes[whole] = _smallest(found, sheets)
    return boxes


def _smallest(boxes: Iterable[Sides], sheets: Sequence[Sides]) -> list[Sides]:
    """Return the boxes that some sheet holds and that hold no other."""
    kept: list[Sides] = []
    for box in sorted(boxes):
        if (not kept or box[1] < kept[-1][1]) and any(_holds(sheet, [box]) for sheet in sheets):
            kept.append(box)
    return kept


def _subsets(whole: int) -> Iterable[int]:
    """Yield each subset that is not empty, the whole one first."""
    part = whole
    while part:
        yield part
        part = (part - 1) & whole


def _holds(sheet: Sides, boxes: Iterable[Sides]) -> bool:
    return any(a <= sheet[0] and b <= sheet[1] for a, b in boxes)

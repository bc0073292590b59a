"""Layouts that open fewer pieces: all parts from a few of the offcuts, the others left whole for later work."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import combinations, islice

from modelmath.cutting.sheet_layout.fewest import Laid, Piece, Supply, held_on
from modelmath.cutting.sheet_layout.one_sheet.filling import Filler, Pool

MOST_SINGLE = 12  # offcuts tried each alone beside the whole sheets, without taking parts out again
MOST_SETS = 12  # other sets of offcuts tried for one number of them
MOST_LOOKED_AT = 2_000  # sets looked at for these


def with_fewer_opened(filler: Filler, laid: Laid, pool: Pool, supply: Supply, steps: int) -> Iterator[Laid]:
    """Yield layouts on the same whole sheets that take fewer and fewer offcuts.

    Parameters
    ----------
    filler : Filler
        Parts and rules. [any unit]
    laid : list of (Piece, Panel)
        A layout. [same unit]
    pool : dict of int to int
        How many of each part; left as it is. [-]
    supply : Supply
        The sheets. [same unit]
    steps : int
        Steps to take at most. [-]

    Yields
    ------
    list of (Piece, Panel)
        The same parts, on fewer pieces each time. [same unit]

    References
    ----------
    None needed: a few offcuts are tried, then one is left out for as long as that works.
    """
    whole = [piece for piece, _ in laid if piece.new]
    for offcuts in _few(supply, len(laid) - len(whole)):
        if found := held_on(filler, [*offcuts, *whole], pool, 0):
            yield found
            laid = found
            break
    end = filler.steps + steps
    area = sum(n * min(a * b for a, b in filler.ways[part]) for part, n in pool.items())
    while filler.steps < end:
        tries = _one_fewer(laid, supply, area - sum(piece.area for piece in whole))
        next_one = None
        for at, offcuts in enumerate(tries):
            next_one = held_on(filler, [*offcuts, *whole], pool, (end - filler.steps) // (len(tries) - at + 1))
            if next_one:
                break
        if not next_one:
            return
        laid = next_one
        yield laid


def _few(supply: Supply, most: int) -> Iterator[list[Piece]]:
    """Yield fewer offcuts than so many: none, each alone from the smallest on, the two largest, the three and so on."""
    if most:
        yield []
    if most > 1:
        alone = {(each.length, each.width): each for each in supply.offcuts}
        yield from ([each] for each in list(alone.values())[-MOST_SINGLE:])
    for count in range(2, most):
        yield list(supply.offcuts[-count:])


def _one_fewer(laid: Laid, supply: Supply, area: int) -> list[list[Piece]]:
    """Return sets of one offcut fewer than a layout has, as large as an area or larger.

    First it is the layout's own without the one that holds least, and so on; then other sets, the smallest first.
    """
    opened = sorted((each for each in laid if not each[0].new), key=lambda each: each[1].filled)
    if not opened:
        return []
    pieces = [piece for piece, _ in opened]
    own = [pieces[:at] + pieces[at + 1 :] for at in range(len(pieces))]
    others = map(list, islice(combinations(supply.offcuts, len(pieces) - 1), MOST_LOOKED_AT))
    largest = list(supply.offcuts[len(supply.offcuts) - len(pieces) + 1 :])
    sets: dict[tuple[tuple[int, int], ...], list[Piece]] = {}
    for each in [*own, *sorted([*others, largest], key=_area)]:
        if _area(each) >= area and len(sets) < MOST_SETS + len(own):
            sets.setdefault(tuple(sorted((piece.length, piece.width) for piece in each)), each)
    return list(sets.values())


def _area(pieces: list[Piece]) -> int:
    return sum(piece.area for piece in pieces)

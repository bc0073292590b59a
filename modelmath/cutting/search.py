"""Places for pieces longer than any strip to buy: these have to come from what is on hand, if it can be."""

from __future__ import annotations

from collections.abc import Sequence

from modelmath.cutting.packing import Bin, Supply, open_strip, strips_used

MOST_TRIED = 20_000  # places tried before giving up; a drawer holds a few strips of one kind


def searched(sizes: Sequence[int], supply: Supply) -> list[Bin] | None:
    """Try every place on hand for the pieces that no strip to buy holds; then place the others in turn.

    Parameters
    ----------
    sizes : sequence of int
        Pieces, longest first. [any unit]
    supply : Supply
        The strips. [same unit]

    Returns
    -------
    list of Bin or None
        Strips used, offcuts first. None if there is no place for each piece, or none is found in `MOST_TRIED` tries.

    References
    ----------
    Depth-first search; no source needed.

    Examples
    --------
    Greedy packing puts the 12 alone on the 13, and then the 4 has no room:

    >>> held = Supply((), ((13, 0), (15, 1), (20, 2)), ())
    >>> [(bin.capacity, bin.pieces) for bin in searched([12, 10, 9, 9, 4, 3], held)]
    [(13, [2, 4]), (15, [0, 5]), (20, [1, 3])]
    """
    bins, longest = supply.held, supply.longest_to_buy
    must = [number for number, size in enumerate(sizes) if size > longest]
    if not _placed(must, sizes, bins):
        return None
    for number in range(len(must), len(sizes)):
        fits = [each for each in bins if each.free >= sizes[number] and (each.pieces or not each.new)]
        if not fits:
            opened = open_strip(sizes[number], [each for each in bins if not each.pieces], supply)
            assert opened is not None  # what is bought holds every piece that is left
            fits = [opened]
            bins += [opened] if opened.bought else []
        min(fits, key=lambda each: (each.new, each.free)).take(number, sizes[number])
    return strips_used(bins, supply)


def _placed(must: Sequence[int], sizes: Sequence[int], bins: Sequence[Bin]) -> bool:
    """Place pieces by depth-first search without recursion; give up after `MOST_TRIED` places."""
    at = [0] * len(must)  # the next place to try for each piece
    depth = tried = 0
    while 0 <= depth < len(must):
        number = must[depth]
        free = [each.free for each in bins]
        here = next(
            (n for n in range(at[depth], len(bins)) if free[n] >= sizes[number] and free[n] not in free[:n]), None
        )
        tried += 1
        if tried > MOST_TRIED:
            return False
        if here is None:
            at[depth] = 0
            depth -= 1
            if depth >= 0:
                bins[at[depth] - 1].give_back(sizes[must[depth]])
            continue
        bins[here].take(number, sizes[number])
        at[depth] = here + 1
        depth += 1
    return depth == len(must)


def left_out(sizes: Sequence[int], supply: Supply) -> int:
    """Return the first piece, of those too long to buy strip for, that finds no place on what is on hand.

    Parameters
    ----------
    sizes : sequence of int
        Pieces that `pack` found no place for, longest first. [any unit]
    supply : Supply
        The strips. [same unit]

    Returns
    -------
    int
        Its number. [-]

    References
    ----------
    Best-fit decreasing, as in `pack`.

    Examples
    --------
    >>> left_out([60, 50, 40], Supply((), ((70, 0),), ((45, 1),)))
    1
    """
    bins = supply.held
    for number, size in enumerate(sizes):
        fits = [each for each in bins if each.free >= size]
        if not fits:
            return number
        min(fits, key=lambda each: each.free).take(number, size)
    return 0

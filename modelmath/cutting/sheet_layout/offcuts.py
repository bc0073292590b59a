"""Less scrap and larger offcuts from the same sheets: parts are moved together, so that one piece is left whole."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from modelmath.cutting.sheet_layout.bounds import shortest
from modelmath.cutting.sheet_layout.fewest import Laid, counted
from modelmath.cutting.sheet_layout.filling import Filler, Pool
from modelmath.cutting.sheet_layout.panels import Panel, leaves, parted
from modelmath.cutting.sheet_layout.shorten import Shape, shorter_and_shorter
from modelmath.cutting.sheet_layout.snaps import Units


def larger_offcuts(filler: Filler, laid: Laid, units: Units, steps: int) -> Laid:
    """Return the layout with less scrap, or as much and a larger single offcut, where one is found.

    Parameters
    ----------
    filler : Filler
        Parts and rules. [units]
    laid : list of (Piece, Panel)
        A layout. [units]
    units : Units
        What is worth keeping. [mm]
    steps : int
        Steps to take at most. [-]

    Returns
    -------
    list of (Piece, Panel)
        The same parts on the same sheets. [units]

    References
    ----------
    None needed: of several layouts the one with least scrap is taken.
    """
    roots = [root for _, root in laid]
    shares = 2 * (len(roots) + (len(roots) > 1))
    if len(roots) > 1:
        last = min(range(len(roots)), key=lambda at: (laid[at][0].kind == "offcut", roots[at].filled, -at))
        for along in ("width", "length"):
            roots = _better(filler, roots, last, along, units, steps // shares, others=True)
    for at in range(len(roots)):
        for along in ("width", "length"):
            roots = _better(filler, roots, at, along, units, steps // shares, others=False)
    return [(piece, root) for (piece, _), root in zip(laid, roots, strict=True) if root.count]


def _better(
    filler: Filler, roots: list[Panel], at: int, along: str, units: Units, steps: int, *, others: bool
) -> list[Panel]:
    """Return the best of the layouts in which the parts of one sheet are moved to one end of it."""
    best, least = roots, _worth(roots, units)
    for tried in _moved_together(filler, roots, at, along, steps, others=others):
        if (worth := _worth(tried, units)) < least:
            best, least = tried, worth
    return best


def _moved_together(
    filler: Filler, roots: list[Panel], at: int, along: str, steps: int, *, others: bool
) -> Iterator[list[Panel]]:
    """Yield layouts in which one sheet is parted right across, all its parts on one side of the line."""
    root, pool = roots[at], counted(roots[at])
    side, across = (root.length, root.width) if along == "width" else (root.width, root.length)
    rest = roots[:at] + roots[at + 1 :] if others else []
    lowest = 1 if others else _shortest(filler, pool, along, across)
    highest = side - max(filler.least, filler.kerf + 1) + 1
    for length, found in shorter_and_shorter(filler, pool, _shape(along, across), lowest, highest, steps, rest):
        left = Panel(side - length, across) if along == "width" else Panel(across, side - length)
        whole = parted(root.length, root.width, along, found[-1], left)
        yield [*found[:at], whole, *found[at:-1]] if others else [*roots[:at], whole, *roots[at + 1 :]]


def _shape(along: str, across: int) -> Shape:
    return (lambda side: (side, across)) if along == "width" else (lambda side: (across, side))


def _shortest(filler: Filler, pool: Pool, along: str, across: int) -> int:
    straight = along == "width"
    ways = {part: [(a, b) if straight else (b, a) for a, b in filler.ways[part]] for part in pool}
    return shortest([(ways[part], n) for part, n in pool.items()], across)


def _worth(roots: Sequence[Panel], units: Units) -> tuple[int, int]:
    """Return the scrap, and the largest offcut as a number that is less the larger it is."""
    kerf = units.kerf
    kept = [
        (leaf.length - kerf) * (leaf.width - kerf)
        for root in roots
        if root.count
        for leaf, _ in leaves(root)
        if not leaf.count and units.keeps(leaf)
    ]
    sheets = sum((root.length - kerf) * (root.width - kerf) for root in roots if root.count)
    return sheets - sum(kept), -max(kept, default=0)

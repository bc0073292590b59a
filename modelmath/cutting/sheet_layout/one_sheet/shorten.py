"""How short a piece of sheet can be that still holds some parts: shorter and shorter ones are tried."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence

from modelmath.cutting.sheet_layout.one_sheet.filling import RULES, Filler, Pool
from modelmath.cutting.sheet_layout.one_sheet.panels import Panel
from modelmath.cutting.sheet_layout.one_sheet.search import refilled

SLICE = 12  # the first tries have this part of the steps; later ones have more
GROWTH = 4  # how much more, once all between what is known to do and the least has been tried
LEAST_SLICE = 600  # steps that one try has at least

Shape = Callable[[int], tuple[int, int]]


def shorter_and_shorter(
    filler: Filler, pool: Pool, shape: Shape, lowest: int, highest: int, steps: int, others: Sequence[Panel] = ()
) -> Iterator[tuple[int, list[Panel]]]:
    """Yield ever shorter pieces of sheet that hold all parts.

    Parameters
    ----------
    filler : Filler
        Parts and rules. [any unit]
    pool : dict of int to int
        How many to place of each part; left as it is. [-]
    shape : callable
        Gives length and width of the piece from the side that is to be short. [same unit]
    lowest, highest : int
        Least this side can be, and how long it may be: shorter than that is looked for. [same unit]
    steps : int
        Steps to take at most. [-]
    others : sequence of Panel
        Other sheets, filled already, that may take some of the parts or change theirs for them. [same unit]

    Yields
    ------
    (int, list of Panel)
        The side; the other sheets, and last the piece. [same unit]

    References
    ----------
    Halving the gap, but nearer to what is known to do: a layout just a little better is found sooner.
    """
    low, best, left, each = lowest, highest, steps, max(LEAST_SLICE, steps // SLICE)
    while left > 0 and best > lowest:
        if low >= best:
            low, each = lowest, GROWTH * each  # what was not found may still be: look again, for longer
        target = max(low, best - max(1, (best - low) // 3))
        before = filler.steps
        roots = _held(filler, pool, shape(target), others, min(left, each))
        left -= filler.steps - before
        if roots is None:
            low = target + 1
            continue
        best = target
        yield best, roots


def _held(
    filler: Filler, pool: Pool, sides: tuple[int, int], others: Sequence[Panel], steps: int
) -> list[Panel] | None:
    """Return a piece of these sides that holds all parts with the others, or None if none is found."""
    for rule in RULES:
        rest = dict(pool)
        root = filler.fill(*sides, rest, rule=rule)
        if not rest:
            return [*others, root]
    roots, rest = refilled(filler, [*others, root], rest, steps)
    return None if rest else roots

"""Less scrap, larger offcuts and fewer snaps from the same sheets: parts are moved together, one piece left whole."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import chain

from modelmath.cutting.sheet_layout.bounds import shortest
from modelmath.cutting.sheet_layout.fewest import Laid, Supply, counted
from modelmath.cutting.sheet_layout.one_sheet.filling import Filler, Pool
from modelmath.cutting.sheet_layout.one_sheet.measured import measured, unmeasured
from modelmath.cutting.sheet_layout.one_sheet.panels import Panel, panels_in, parted
from modelmath.cutting.sheet_layout.one_sheet.rows import ALONG, in_rows
from modelmath.cutting.sheet_layout.one_sheet.search import filled_again
from modelmath.cutting.sheet_layout.one_sheet.shorten import Shape, shorter_and_shorter
from modelmath.cutting.sheet_layout.one_sheet.tidy import tidied
from modelmath.cutting.sheet_layout.opened import with_fewer_opened
from modelmath.cutting.sheet_layout.snaps import Units

SHARES = 3  # of the steps for one sheet: lines one way, lines the other way, a few parts at a time
OVERHEAD = 60  # steps counted for each try of a few parts
MANY = 300  # parts on a sheet from which on it is left untidied: it would take longer than all the rest
Worth = tuple[int, int, int, int, int, int]


def larger_offcuts(filler: Filler, laid: Laid, units: Units, steps: int) -> Laid:
    """Return the layout with less scrap, or as much and a larger single offcut, then fewer snaps, where one is found.

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
    share = steps // (SHARES * len(roots) + 2 * (len(roots) > 1)) if roots else 0
    if len(roots) > 1:
        last = min(range(len(roots)), key=lambda at: (not laid[at][0].new, roots[at].filled, -at))
        for along in ALONG:
            roots = _with_others(filler, roots, last, along, units, share)
    for at in range(len(roots)):
        roots[at] = _Sheet(filler, roots, at, units).best(share)
    return [(piece, root) for (piece, _), root in zip(laid, roots, strict=True) if root.count]


def fewer_pieces(filler: Filler, laid: Laid, pool: Pool, supply: Supply, units: Units, steps: int) -> list[Laid]:
    """Return layouts on fewer pieces than one has: the one with least scrap as they are, and the one on fewest.

    Parameters
    ----------
    filler : Filler
        Parts and rules. [units]
    laid : list of (Piece, Panel)
        A layout. [units]
    pool : dict of int to int
        How many of each part; left as it is. [-]
    supply : Supply
        The sheets. [units]
    units : Units
        What is worth keeping. [mm]
    steps : int
        Steps to take at most. [-]

    Returns
    -------
    list of list of (Piece, Panel)
        None, one or two layouts of the same parts. [units]

    References
    ----------
    None needed: more of them would take longer.
    """
    found = list(with_fewer_opened(filler, laid, pool, supply, steps))
    if not found:
        return []
    least = min(found, key=lambda each: (_worth([root for _, root in each], units)[0], len(each)))
    return [least, found[-1]] if least is not found[-1] else [least]


def worth_of(filler: Filler, laid: Laid, units: Units) -> Worth:
    """Return how good a layout is beyond its new sheets; the least is the best.

    Parameters
    ----------
    filler : Filler
        Parts and rules. [units]
    laid : list of (Piece, Panel)
        The layout. [units]
    units : Units
        What is worth keeping. [mm]

    Returns
    -------
    (int, int, int, int, int, int)
        Scrap, pieces opened, the largest offcut as a negative number, pieces of equal sets that no line is measured
        for, snaps, distances to set. [units squared, -]

    References
    ----------
    None needed: the order of what is wanted.
    """
    scrap, largest = _worth([root for _, root in laid], units)
    told = [_Told.of(root, units) for _, root in laid]
    left = sum(unmeasured(root, filler.equal) for _, root in laid)
    return scrap, len(laid), largest, left, sum(each.snaps for each in told), sum(each.settings for each in told)


def _with_others(filler: Filler, roots: list[Panel], at: int, along: str, units: Units, steps: int) -> list[Panel]:
    """Return the best of the layouts in which one sheet is emptied from one end, into the others too."""
    best, least = roots, _worth(roots, units)
    root, rest = roots[at], roots[:at] + roots[at + 1 :]
    for piece, found in _moved_together(filler, root, along, 1, steps, rest):
        tried = [*found[:at], _with_free(root, along, piece), *found[at:]]
        if (worth := _worth(tried, units)) < least:
            best, least = tried, worth
    return list(best)


def _moved_together(
    filler: Filler, root: Panel, along: str, lowest: int, steps: int, others: Sequence[Panel] = ()
) -> Iterator[tuple[Panel, list[Panel]]]:
    """Yield shorter pieces of a sheet that hold its parts, with the other sheets."""
    side, across = (root.length, root.width) if along == "width" else (root.width, root.length)
    highest = side - max(filler.least, filler.kerf + 1) + 1
    pool = counted(root)
    for _, found in shorter_and_shorter(filler, pool, _shape(along, across), lowest, highest, steps, others):
        yield found[-1], found[:-1]


def _shape(along: str, across: int) -> Shape:
    return (lambda side: (side, across)) if along == "width" else (lambda side: (across, side))


def _with_free(root: Panel, along: str, piece: Panel) -> Panel:
    """Return a sheet of which a piece holds all parts."""
    if along == "width":
        free = Panel(root.length - piece.length, root.width)
    else:
        free = Panel(root.length, root.width - piece.width)
    return parted(root.length, root.width, along, piece, free)


class _Sheet:
    """One sheet of a layout, the others left as they are."""

    def __init__(self, filler: Filler, roots: Sequence[Panel], at: int, units: Units) -> None:
        self.filler, self.units = filler, units
        self.root = roots[at]
        others = [_Told.of(root, units) for number, root in enumerate(roots) if number != at]
        self.largest = max((told.largest for told in others), default=0)
        self.least = self._worth(self.root)

    def best(self, share: int) -> Panel:
        """Return the best layout found of this sheet."""
        sheet, pool = self.root, counted(self.root)
        if not pool:
            return sheet
        self.root = min(self._tidied(sheet), key=self._worth)
        self.least = self._worth(self.root)
        self._take(in_rows(self.filler, sheet.length, sheet.width, pool))
        for along in ALONG:
            lowest = self._shortest(pool, along, sheet.width if along == "width" else sheet.length)
            pieces = _moved_together(self.filler, sheet, along, lowest, share)
            self._take(_with_free(sheet, along, piece) for piece, _ in pieces)
        self._a_few_at_a_time(share)
        return self.root

    def _take(self, tries: Iterable[Panel]) -> None:
        """Keep the best of some layouts."""
        for each in chain.from_iterable(map(self._tidied, tries)):
            worth = self._worth(each)
            if worth < self.least:
                self.root, self.least = each, worth

    def _tidied(self, root: Panel) -> list[Panel]:
        """Return a layout tidied, or as it is where that can't be snapped.

        A line beyond the parts may make a scrap just wide enough to keep, but nobody would draw it there.
        """
        tidy = (list(tidied(self.filler, root)) if root.count < MANY else []) or [root]
        return [measured(each, self.filler.equal) for each in tidy]

    def _a_few_at_a_time(self, steps: int) -> None:
        end = self.filler.steps + steps
        while self.filler.steps < end:
            self.filler.steps += OVERHEAD + self.root.count
            roots, rest = filled_again(self.filler, [self.root], {})
            if not rest:
                self._take(roots)

    def _shortest(self, pool: Pool, along: str, across: int) -> int:
        straight = along == "width"
        ways = {part: [(a, b) if straight else (b, a) for a, b in self.filler.ways[part]] for part in pool}
        return shortest([(ways[part], n) for part, n in pool.items()], across)

    def _worth(self, root: Panel) -> Worth:
        told = _Told.of(root, self.units)
        largest, left = max(told.largest, self.largest), unmeasured(root, self.filler.equal)
        return told.scrap, -largest, left, told.snaps, told.settings, -told.largest


@dataclass(frozen=True)
class _Told:
    """What is told of a sheet: scrap, largest offcut, snaps, distances to set."""

    scrap: int
    largest: int
    snaps: int
    settings: int

    @staticmethod
    def of(root: Panel, units: Units) -> _Told:
        kept = snaps = largest = 0
        seen: set[int] = set()
        for panel in panels_in(root):
            if panel.along:
                snaps += 1
                seen.add(panel.halves[0].length if panel.along == "width" else panel.halves[0].width)
            elif not panel.count and units.keeps(panel):
                area = (panel.length - units.kerf) * (panel.width - units.kerf)
                kept, largest = kept + area, max(largest, area)
        whole = (root.length - units.kerf) * (root.width - units.kerf)
        return _Told(whole - kept, largest, snaps, len(seen))


def _worth(roots: Sequence[Panel], units: Units) -> tuple[int, int]:
    """Return the scrap, and the largest offcut as a number that is less the larger it is."""
    told = [_Told.of(root, units) for root in roots if root.count]
    return sum(each.scrap for each in told), -max((each.largest for each in told), default=0)

"""Layouts in rows: strips right across the sheet, each as wide as its parts, with equal parts side by side in it.

These are what a person would draw first. They take few snaps, and one setting for all parts of a row.
"""

from __future__ import annotations

from collections.abc import Iterator
from itertools import product

from modelmath.cutting.sheet_layout.one_sheet.filling import Filler, Pool
from modelmath.cutting.sheet_layout.one_sheet.panels import Panel, parted

ALONG = ("width", "length")
FIRST = ("most", "widest", "longest")  # which row comes first: with most parts in it, or for the widest or longest


def in_rows(filler: Filler, length: int, width: int, pool: Pool) -> Iterator[Panel]:
    """Yield layouts of all parts on one sheet in rows, one for each order of the rows and way they run.

    Parameters
    ----------
    filler : Filler
        Parts and rules. [any unit]
    length, width : int
        The sheet's sides. [same unit]
    pool : dict of int to int
        How many of each part; left as it is. [-]

    Yields
    ------
    Panel
        The sheet with all parts. [same unit]

    References
    ----------
    A strip snapped off for each width of part, then the parts off the strip: common practice, no source.

    Examples
    --------
    >>> filler = Filler([[(30, 20), (20, 30)]], 0, 1)
    >>> min(panel.length * panel.width for panel in in_rows(filler, 90, 60, {0: 3}))
    5400
    """
    for along, first, topped_up in product(ALONG, FIRST, (True, False)):
        found = _Rows(filler, length, width, along).laid(pool, first, topped_up=topped_up)
        if found is not None:
            yield found


class _Rows:
    """Rows that run along the sheet's length, or across it where the lines do."""

    def __init__(self, filler: Filler, length: int, width: int, along: str) -> None:
        self.filler, self.along = filler, along
        self.other = "width" if along == "length" else "length"
        self.run, self.across = (length, width) if along == "length" else (width, length)

    def laid(self, pool: Pool, first: str, *, topped_up: bool) -> Panel | None:
        """Return the sheet in rows, or None where they don't hold all parts."""
        rest, left, rows = dict(pool), self.across, []
        while rest:
            depth = self._depth(rest, left, first)
            if depth is None:
                return None
            rows.append(self._row(depth, rest, topped_up=topped_up))
            left -= depth
        end = Panel(*self._turned(self.run, left)) if left else rows.pop()
        return self._stacked(rows, end, self.along)

    def _turned(self, run: int, depth: int) -> tuple[int, int]:
        return (run, depth) if self.along == "length" else (depth, run)

    def _stacked(self, panels: list[Panel], last: Panel, along: str) -> Panel:
        """Return panels one behind the other, with lines that run one way."""
        for each in reversed(panels):
            if along == "length":
                last = parted(each.length, each.width + last.width, along, each, last)
            else:
                last = parted(each.length + last.length, each.width, along, each, last)
        return last

    def _depth(self, rest: Pool, left: int, first: str) -> int | None:
        """Return how wide the next row is."""
        worth: dict[int, int] = {}
        for part, count in rest.items():
            for way in self.filler.ways[part]:
                run, depth = self._turned(*way)
                self.filler.steps += 1
                if not self.filler.fits(left, depth) or not self.filler.fits(self.run, run):
                    continue
                if first == "most":
                    worth[depth] = worth.get(depth, 0) + count * run * depth
                else:
                    worth[depth] = max(worth.get(depth, 0), min(run, depth) if first == "widest" else run)
        return max(worth, key=lambda depth: (worth[depth], depth), default=None)

    def _row(self, depth: int, rest: Pool, *, topped_up: bool) -> Panel:
        """Return one row with the parts as wide as it, the longest first; they are taken out of the rest."""
        left, parts = self.run, []
        for minus_run, part in sorted((-run, each) for each in rest for run in self._runs(each, depth)):
            run = -minus_run
            while rest.get(part) and self.filler.fits(left, run):
                rest[part] -= 1
                left -= run
                parts.append(Panel(*self._turned(run, depth), part, filled=run * depth, count=1))
            if not rest.get(part):
                rest.pop(part, None)
        end = Panel(*self._turned(left, depth)) if left else parts.pop()
        if left and topped_up:
            end = self.filler.fill(end.length, end.width, rest)
        return self._stacked(parts, end, self.other)

    def _runs(self, part: int, depth: int) -> Iterator[int]:
        """Yield how much a part takes along a row that is as wide as it."""
        for way in self.filler.ways[part]:
            run, its_depth = self._turned(*way)
            if its_depth == depth:
                yield run

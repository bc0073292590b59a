"""The same layout made easier to snap: parts pushed together, lines at exactly their sides, free panels joined."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import product

from modelmath.cutting.sheet_layout.one_sheet.filling import Filler
from modelmath.cutting.sheet_layout.one_sheet.panels import FREE, Panel, parted

OTHER = {"width": "length", "length": "width"}
DEEPEST = 60  # rows in rows at most; a layout that is deeper is left as it is


def tidied(filler: Filler, root: Panel) -> Iterator[Panel]:
    """Yield the layouts of a sheet with its parts pushed together, as far as the least width to snap leaves a way.

    Parameters
    ----------
    filler : Filler
        Parts and rules. [any unit]
    root : Panel
        The sheet. [same unit]

    Yields
    ------
    Panel
        The sheet with the same parts in the same rows. [same unit]

    References
    ----------
    Pushing parts to the corner, "normal patterns": J. C. Herz, "Recursive computational procedure for two-dimensional
    stock cutting", IBM J. Research and Development 16 (1972); from memory.

    Examples
    --------
    >>> filler = Filler([[(30, 20)]], 0, 1)
    >>> loose = filler.fill(40, 30, {0: 1})
    >>> sorted(panel.first.length for panel in tidied(filler, loose))
    [30, 30, 40, 40]
    """
    if not root.count:
        return
    node = _node(root)
    if node.depth > DEEPEST:
        return
    for first, trimmed in product(OTHER, (True, False)):
        found = _Tidy(filler, trimmed).whole(node, root.length, root.width, first)
        if found is not None:
            yield found


class _Node:
    """Parts side by side, or one part; with the least sides that it takes."""

    def __init__(self, part: int, along: str, inner: list[_Node], length: int, width: int) -> None:
        self.part, self.along, self.inner = part, along, inner
        if inner:
            lengths, widths = [each.length for each in inner], [each.width for each in inner]
            length, width = (sum(lengths), max(widths)) if along == "width" else (max(lengths), sum(widths))
        self.length: int = length
        self.width: int = width
        self.depth: int = 1 + max((each.depth for each in inner), default=0)


def _node(panel: Panel) -> _Node:
    """Return a panel without what is free, panels parted by lines of one way as one row."""
    if panel.part != FREE:
        return _Node(panel.part, "", [], panel.length, panel.width)
    inner: list[_Node] = []
    waiting = [panel]
    while waiting:
        each = waiting.pop()
        if each.along == panel.along:
            waiting += each.halves[::-1]
        elif each.count:
            node = _node(each)
            inner += node.inner if node.along == panel.along else [node]
    if len(inner) == 1:
        return inner[0]
    inner.sort(key=lambda each: (-each.length * each.width, each.length, each.part))
    return _Node(FREE, panel.along, inner, panel.length, panel.width)


class _Tidy:
    """Builds panels; `trimmed` is whether a row is first snapped as narrow as its widest part."""

    def __init__(self, filler: Filler, trimmed: bool) -> None:
        self.filler, self.trimmed = filler, trimmed

    def whole(self, node: _Node, length: int, width: int, first: str) -> Panel | None:
        """Return the sheet, parted first by a line of one way, or None where too little is left to snap off."""
        length_left, width_left = length - node.length, width - node.width
        if first == "width" and length_left:
            return self._cut(node, length, width, "width")
        if width_left:
            return self._cut(node, length, width, "length")
        return self._panel(node, length, width)

    def _cut(self, node: _Node, length: int, width: int, along: str) -> Panel | None:
        """Return a panel with what it does not take along one side parted off first."""
        if along == "width":
            if not self.filler.fits(length, node.length):
                return None
            near = self._panel(node, node.length, width)
            far = Panel(length - node.length, width)
        else:
            if not self.filler.fits(width, node.width):
                return None
            near = self._panel(node, length, node.width)
            far = Panel(length, width - node.width)
        return near and parted(length, width, along, near, far)

    def _panel(self, node: _Node, length: int, width: int) -> Panel | None:
        """Return a panel with a part or a row of them and what is free behind it."""
        self.filler.steps += 1
        beside, above = length - node.length, width - node.width
        if not node.inner:
            if beside or above:  # never both: any panel is as long or as wide as what it holds
                return self._cut(node, length, width, "length" if above else "width")
            return Panel(length, width, node.part, filled=length * width, count=1)
        found = None
        if self.trimmed and (above if node.along == "width" else beside):
            found = self._cut(node, length, width, OTHER[node.along])
        return found or self._row(node, length, width)

    def _row(self, node: _Node, length: int, width: int) -> Panel | None:
        """Return a row with its parts from the near end on and what is free at the far end."""
        across = node.along == "width"
        left = length - node.length if across else width - node.width
        if not self.filler.fits(left, 0):
            return None
        row = (Panel(left, width) if across else Panel(length, left)) if left else None
        for each in reversed(node.inner):
            its = self._panel(each, each.length, width) if across else self._panel(each, length, each.width)
            if its is None:
                return None
            if row is None:
                row = its
            elif across:
                row = parted(its.length + row.length, width, "width", its, row)
            else:
                row = parted(length, its.width + row.width, "length", its, row)
        return row

"""A sheet as it is parted: a tree of panels, each a part, free, or parted right across in two.

All sides are whole numbers here. Where a saw takes a kerf, each panel and part is one kerf larger both ways, and then
the two panels of a cut add up to the one they come from.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

FREE = -1
Way = tuple[bool, ...]  # from a sheet down to a panel in it: at each cut, whether to go to the second panel


@dataclass(slots=True)
class Panel:
    """One panel; never changed once it is made.

    Attributes
    ----------
    length, width : int
        Its sides, along the sheet's length and width. [any unit]
    part : int
        Number of the part it is; -1 if it is none. [-]
    along : str
        Which way the line runs that parts it, ``length`` or ``width``; empty if it is not parted. [-]
    first, second : Panel or None
        What it is parted in: first the panel at the left or lower edge. [same unit]
    filled : int
        Area of the parts in it. [unit squared]
    count : int
        How many parts are in it. [-]
    """

    length: int
    width: int
    part: int = FREE
    along: str = ""
    first: Panel | None = None
    second: Panel | None = None
    filled: int = 0
    count: int = 0

    @property
    def halves(self) -> tuple[Panel, Panel]:
        """What it is parted in; only for a panel that is. [same unit]"""
        assert self.first is not None
        assert self.second is not None
        return self.first, self.second

    @property
    def waste(self) -> int:
        """Area of it that is no part. [unit squared]"""
        return self.length * self.width - self.filled


def parted(length: int, width: int, along: str, first: Panel, second: Panel) -> Panel:
    """Return a panel parted in two, or free where both halves are: then there is no need to part it.

    Parameters
    ----------
    length, width : int
        Its sides. [any unit]
    along : {"length", "width"}
        Which way the line runs. [-]
    first, second : Panel
        The halves, first the one at the left or lower edge. [same unit]

    Returns
    -------
    Panel
        The panel. [same unit]

    References
    ----------
    None needed: sums over the halves.
    """
    count = first.count + second.count
    if not count:
        return Panel(length, width)
    return Panel(length, width, FREE, along, first, second, first.filled + second.filled, count)


def replaced(root: Panel, way: Way, new: Panel) -> Panel:
    """Return a sheet with one of its panels replaced by another of the same size.

    Parameters
    ----------
    root : Panel
        The sheet. [any unit]
    way : tuple of bool
        From the sheet down to the panel: at each cut, whether to go to the second half. [-]
    new : Panel
        What to put there. [same unit]

    Returns
    -------
    Panel
        The sheet; what is not on the way is shared with the old one. [same unit]

    References
    ----------
    None needed.
    """
    passed, panel = [], root
    for second in way:
        passed.append(panel)
        panel = panel.halves[second]
    for above, second in zip(reversed(passed), reversed(way), strict=True):
        one, other = above.halves
        one, other = (one, new) if second else (new, other)
        new = parted(above.length, above.width, above.along, one, other)
    return new


def leaves(root: Panel) -> Iterator[tuple[Panel, Way]]:
    """Yield each panel that is not parted, with the way to it.

    Parameters
    ----------
    root : Panel
        The sheet. [any unit]

    Yields
    ------
    (Panel, tuple of bool)
        A part or a free panel, from the left and lower edge on. [same unit, -]

    References
    ----------
    None needed.
    """
    waiting: list[tuple[Panel, Way]] = [(root, ())]
    while waiting:
        panel, way = waiting.pop()
        if panel.along:
            first, second = panel.halves
            waiting += [(second, (*way, True)), (first, (*way, False))]
        else:
            yield panel, way


def parts_in(root: Panel) -> Iterator[int]:
    """Yield the number of each part in a panel.

    Parameters
    ----------
    root : Panel
        The panel. [any unit]

    Yields
    ------
    int
        Numbers, one for each piece. [-]

    References
    ----------
    None needed.
    """
    waiting = [root]
    while waiting:
        panel = waiting.pop()
        if panel.along:
            waiting += panel.halves[::-1]
        elif panel.part != FREE:
            yield panel.part


def panels_in(root: Panel) -> Iterator[Panel]:
    """Yield a panel and every panel in it.

    Parameters
    ----------
    root : Panel
        The panel. [any unit]

    Yields
    ------
    Panel
        Each, the one it is in before it. [same unit]

    References
    ----------
    None needed.
    """
    waiting = [root]
    while waiting:
        panel = waiting.pop()
        yield panel
        if panel.along:
            waiting += panel.halves

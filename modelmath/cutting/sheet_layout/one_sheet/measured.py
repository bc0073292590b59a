"""Which sides a line is measured for: of two halves the one with parts of an equal set lies at the near edge.

What lies beyond a line is as long as the panel leaves it: it carries the error of the sheet's own size.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from modelmath.cutting.sheet_layout.one_sheet.panels import Panel, panels_in, parted

Left = tuple[bool, bool]  # of a panel's length and its width: whether it is what was left beyond a line
EVERY: tuple[Left, ...] = ((False, False), (False, True), (True, False), (True, True))


def sides_left(along: str, left: Left) -> tuple[Left, Left]:
    """Return of the near and the far half of a panel which sides are only what was left.

    Parameters
    ----------
    along : {"length", "width"}
        Which way the line runs. [-]
    left : (bool, bool)
        Of the panel, whether its length and its width are what was left beyond an earlier line. [-]

    Returns
    -------
    ((bool, bool), (bool, bool))
        The same of the near half and the far one. [-]

    References
    ----------
    None needed.

    Examples
    --------
    >>> sides_left("width", (False, False))
    ((False, False), (True, False))
    """
    length, width = left
    return ((False, width), (True, width)) if along == "width" else ((length, False), (length, True))


def unmeasured(root: Panel, equal: Mapping[int, int]) -> int:
    """Return how many pieces of equal sets no line is measured for, with the halves in the best order.

    Parameters
    ----------
    root : Panel
        The sheet. [any unit]
    equal : mapping of int to int
        The side that has to be equal, of each part of an equal set by its number. [same unit]

    Returns
    -------
    int
        How many. [-]

    References
    ----------
    None needed.
    """
    return _counts(root, equal)[id(root)][False, False] if equal else 0


def measured(root: Panel, equal: Mapping[int, int]) -> Panel:
    """Return a sheet with the two halves of a panel changed over where a line is then measured for more of a set.

    Parameters
    ----------
    root : Panel
        The sheet. [any unit]
    equal : mapping of int to int
        The side that has to be equal, of each part of an equal set by its number. [same unit]

    Returns
    -------
    Panel
        The sheet; the same one where nothing is gained. [same unit]

    References
    ----------
    Parts of one set cut at one setting of the stop: common practice, no source.

    Examples
    --------
    >>> end, post = Panel(20, 30, 0, filled=600, count=1), Panel(40, 30, 1, filled=1200, count=1)
    >>> measured(parted(60, 30, "width", end, post), {1: 40}).first.part
    1
    """
    if not equal:
        return root
    counts = _counts(root, equal)
    nodes: list[tuple[Panel, Left]] = [(root, (False, False))]
    halves: list[tuple[int, int] | None] = []  # where in the list the near and the far half are
    for panel, left in nodes:  # grows as it goes
        if not panel.along:
            halves.append(None)
            continue
        near, far = panel.halves
        of_near, of_far = sides_left(panel.along, left)
        if _together(counts, far, near, of_near, of_far) < _together(counts, near, far, of_near, of_far):
            near, far = far, near
        halves.append((len(nodes), len(nodes) + 1))
        nodes += [(near, of_near), (far, of_far)]
    return _built([panel for panel, _ in nodes], halves)


def _built(panels: list[Panel], halves: Sequence[tuple[int, int] | None]) -> Panel:
    """Return the first of the panels, each built up again from its halves."""
    for at in reversed(range(len(panels))):
        panel, its = panels[at], halves[at]
        if its is None:
            continue
        near, far = panels[its[0]], panels[its[1]]
        if near is not panel.first or far is not panel.second:
            panels[at] = parted(panel.length, panel.width, panel.along, near, far)
    return panels[0]


Counts = dict[int, dict[Left, int]]


def _counts(root: Panel, equal: Mapping[int, int]) -> Counts:
    """Return of each panel, by its identity, how many pieces have their equal side left, by what is left of it."""
    counts: Counts = {}
    for panel in reversed(list(panels_in(root))):
        if id(panel) in counts:
            continue
        if panel.along:
            near, far = panel.halves
            ends = {left: sides_left(panel.along, left) for left in EVERY}
            counts[id(panel)] = {
                left: min(_together(counts, near, far, *ends[left]), _together(counts, far, near, *ends[left]))
                for left in EVERY
            }
        else:
            side = equal.get(panel.part)
            counts[id(panel)] = {
                left: int(side is not None and left[0 if side == panel.length else 1]) for left in EVERY
            }
    return counts


def _together(counts: Counts, near: Panel, far: Panel, of_near: Left, of_far: Left) -> int:
    return counts[id(near)][of_near] + counts[id(far)][of_far]

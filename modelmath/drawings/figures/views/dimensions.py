"""Dimension lines with their sizes, as in the side elevation."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise
from math import ceil, floor

from modelmath.drawings.figures.solid.key import LINE, TEXT
from modelmath.drawings.shapes import Anchor, Drawing, Label, Lines, Pen, Point

THIN, EXTENSION = Pen(0.7, 0.2), Pen(0.5, 0.55, (3, 2))
BOLD = 1.1 * TEXT  # a bold text is about as wide as a plain one of this height


def line(drawing: Drawing, name: str, start: Point, end: Point) -> None:
    """Draw a dimension line with a tick at either end.

    Parameters
    ----------
    drawing : Drawing
        The sheet. [drawing unit]
    name : str
        What it dimensions. [-]
    start, end : Point
        Its ends. [drawing unit]

    References
    ----------
    ISO 129-1, oblique strokes as terminators.
    """
    ticks = tuple(((x - 3, y - 3), (x + 3, y + 3)) for x, y in (start, end))
    drawing.add(Lines(name, ((start, end),), THIN), Lines("tick", ticks, THIN))


def extension(drawing: Drawing, *strokes: tuple[Point, Point]) -> None:
    """Draw the lines that lead from the thing to its dimension line.

    Parameters
    ----------
    drawing : Drawing
        The sheet. [drawing unit]
    *strokes : tuple of two points
        The lines. [drawing unit]

    References
    ----------
    ISO 129-1, extension lines.
    """
    drawing.add(Lines("extension", strokes, EXTENSION))


def said(drawing: Drawing, x: float, middle: float, size: str, words: str, anchor: Anchor = "start") -> None:
    """Write a size, and below it what it is of.

    Parameters
    ----------
    drawing : Drawing
        The sheet. [drawing unit]
    x, middle : float
        Where, and the height between the two lines. [drawing unit]
    size, words : str
        The size with its unit, and what it is of. [-]
    anchor : {"start", "middle", "end"}
        Which end of the text lies at `x`. [-]

    References
    ----------
    None needed.
    """
    drawing.add(Label(x, middle + 2, size, TEXT, anchor, bold=True, halo=True))
    drawing.add(Label(x, middle - LINE + 4, words, TEXT * 0.93, anchor, halo=True))


def apart(wanted: list[float], step: float) -> list[float]:
    """Move heights apart until none is nearer to the next than a step; the order stays, the mean about so.

    Parameters
    ----------
    wanted : list of float
        Heights, from the highest down. [drawing unit]
    step : float
        Least distance. [drawing unit]

    Returns
    -------
    list of float
        From the highest down. [drawing unit]

    References
    ----------
    None needed.

    Examples
    --------
    >>> apart([10, 9, 0], 4)
    [11.5, 7.5, 0.0]
    """
    groups: list[tuple[float, int]] = []  # the highest of a group, and how many
    for level in wanted:
        group = (float(level), 1)
        while groups and groups[-1][0] - step * groups[-1][1] < group[0]:
            top, count = groups.pop()
            moved = group[0] + step * count
            group = ((top * count + moved * group[1]) / (count + group[1]), count + group[1])
        groups.append(group)
    return [top - step * number for top, count in groups for number in range(count)]


def crossing(outline: Sequence[Point], rising: bool, step: float) -> list[tuple[Point, Point]]:
    """Return lines at 45 degrees that lie in an outline.

    Parameters
    ----------
    outline : sequence of Point
        The outline. [drawing unit]
    rising : bool
        Whether they rise to the right, or fall. [-]
    step : float
        Distance of the lines along x. [drawing unit]

    Returns
    -------
    list of two points
        Each line by its two ends. [drawing unit]

    References
    ----------
    Even-odd rule: SVG 1.1 (second edition), fill-rule.

    Examples
    --------
    >>> crossing([(0, 0), (2, 0), (2, 2), (0, 2)], True, 1.5)
    [((1.5, 0.0), (2.0, 0.5)), ((0.0, 0.0), (2.0, 2.0)), ((0.0, 1.5), (0.5, 2.0))]
    """
    way = -1 if rising else 1
    values = [x + way * y for x, y in (*outline, outline[0])]
    found = []
    for number in range(floor(max(values) / step), ceil(min(values) / step) - 1, -1):
        level = number * step
        met = []
        for (start, end), (value, further) in zip(pairwise((*outline, outline[0])), pairwise(values), strict=True):
            if (value < level) != (further < level):
                share = (level - value) / (further - value)
                met.append((start[0] + share * (end[0] - start[0]), start[1] + share * (end[1] - start[1])))
        met.sort()
        found += list(zip(met[::2], met[1::2], strict=True))
    return found

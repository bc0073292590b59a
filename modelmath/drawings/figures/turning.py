"""A drawing turned over, top to bottom, its texts left upright."""

from __future__ import annotations

from dataclasses import replace

from modelmath.drawings.shapes import Box, Circle, Lines, Shape

CAPITAL = 0.72  # height of a capital over the text height


def turned_over(shape: Shape) -> Shape:
    """Return a shape as it is in a drawing turned over about height 0.

    Parameters
    ----------
    shape : Shape
        Any shape. [drawing unit]

    Returns
    -------
    Shape
        Mirrored; a text keeps upright, its capitals where they would be mirrored. [drawing unit]

    References
    ----------
    Elementary geometry.

    Examples
    --------
    >>> turned_over(Box("wall", 1, 2, 3, 4)).y
    -6
    """
    if isinstance(shape, Lines):
        return replace(shape, runs=tuple(tuple((x, -y) for x, y in run) for run in shape.runs))
    if isinstance(shape, Box):
        return replace(shape, y=-shape.y - shape.height)
    if isinstance(shape, Circle):
        return replace(shape, y=-shape.y)
    return replace(shape, y=-shape.y - CAPITAL * shape.size)

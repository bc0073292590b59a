"""Outlines in a cross-section: clipped by straight lines, and how wide they are.

Points are (across from the centre line, height); an outline runs anticlockwise with across to the right and height
upwards, without its first point again at its end.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

from modelmath.drawings.shapes import Point

ACROSS, UP = 0, 1


def rectangle(left: float, bottom: float, right: float, top: float) -> tuple[Point, ...]:
    """Return a rectangle's outline.

    Parameters
    ----------
    left, bottom, right, top : float
        Its sides. [mm]

    Returns
    -------
    tuple of Point
        Anticlockwise. [mm]

    References
    ----------
    None needed.
    """
    return ((left, bottom), (right, bottom), (right, top), (left, top))


def shell_outline(points: Sequence[Point] | None, half_mm: float, sill_mm: float, roof_mm: float) -> tuple[Point, ...]:
    """Return the outline of the shell's inside, from the sill up.

    Parameters
    ----------
    points : sequence of (float, float), or None
        Height and half-width, from the lowest up; None where it is as wide at every height. [mm]
    half_mm : float
        Half-width where there are no points. [mm]
    sill_mm, roof_mm : float
        Where it begins, and the roof's underside. [mm]

    Returns
    -------
    tuple of Point
        Anticlockwise, from the sill's left. [mm]

    References
    ----------
    None needed.

    Examples
    --------
    >>> shell_outline([(0, 5), (8, 5), (10, 0)], 0, 0, 10)
    ((-5.0, 0.0), (5.0, 0.0), (5.0, 8.0), (0.0, 10.0), (-5.0, 8.0))
    """
    if points is None:
        return rectangle(-half_mm, sill_mm, half_mm, roof_mm)
    sides = [(float(height), float(half)) for height, half in points]
    if sides[0][0] > sill_mm:
        sides.insert(0, (sill_mm, sides[0][1]))  # below its first point it is as wide as there
    right = [(half, height) for height, half in sides]
    left = [(-half, height) for height, half in reversed(sides) if half > 0]
    around = [left[-1], *right, *left[:-1]]
    clean = tuple(point for point, before in zip(around, [around[-1], *around], strict=False) if point != before)
    return clipped(clean, UP, sill_mm, above=True) if sides[0][0] < sill_mm else clean


def clipped(outline: Sequence[Point], axis: int, at_mm: float, above: bool) -> tuple[Point, ...]:
    """Return what of an outline lies on one side of a line across or up.

    Parameters
    ----------
    outline : sequence of Point
        The outline. [mm]
    axis : int
        0 to cut at a place across, 1 to cut at a height. [-]
    at_mm : float
        Where to cut. [mm]
    above : bool
        Whether to keep what lies beyond it, or what lies short of it. [-]

    Returns
    -------
    tuple of Point
        Empty where nothing is left. [mm]

    References
    ----------
    I. E. Sutherland, G. W. Hodgman: Reentrant polygon clipping, Communications of the ACM 17 (1974) 32-42.

    Examples
    --------
    >>> clipped(rectangle(0, 0, 4, 4), UP, 1, above=True)
    ((4.0, 1.0), (4, 4), (0, 4), (0.0, 1.0))
    """
    way = 1 if above else -1
    kept: list[Point] = []
    for start, end in pairwise([*outline, outline[0]]) if outline else ():
        inside, next_inside = (way * (point[axis] - at_mm) >= 0 for point in (start, end))
        if inside:
            kept.append(start)
        if inside != next_inside:
            share = (at_mm - start[axis]) / (end[axis] - start[axis])
            other = start[1 - axis] + share * (end[1 - axis] - start[1 - axis])
            kept.append((float(at_mm), other) if axis == ACROSS else (other, float(at_mm)))
    clean = [point for point, before in zip(kept, [kept[-1], *kept], strict=False) if point != before] if kept else []
    return tuple(clean) if len(clean) > 2 else ()


def within(
    outline: Sequence[Point], low_mm: float, high_mm: float, left_mm: float, right_mm: float
) -> tuple[Point, ...]:
    """Return what of an outline lies between two heights and between two places across.

    Parameters
    ----------
    outline : sequence of Point
        The outline. [mm]
    low_mm, high_mm : float
        The heights. [mm]
    left_mm, right_mm : float
        The places across. [mm]

    Returns
    -------
    tuple of Point
        Empty where nothing is left. [mm]

    References
    ----------
    `clipped`.
    """
    left: tuple[Point, ...] = tuple(outline)
    for axis, at, above in (
        (UP, low_mm, True),
        (UP, high_mm, False),
        (ACROSS, left_mm, True),
        (ACROSS, right_mm, False),
    ):
        left = clipped(left, axis, at, above)
    return left


def least_half(outline: Sequence[Point], low_mm: float, high_mm: float) -> float:
    """Return the least half-width between two heights of an outline that is the same on both sides.

    Parameters
    ----------
    outline : sequence of Point
        The outline. [mm]
    low_mm, high_mm : float
        The heights. [mm]

    Returns
    -------
    float
        0 where it reaches beyond the outline. [mm]

    References
    ----------
    A function that is straight between its points has its least value at a point or at an end.

    Examples
    --------
    >>> least_half(shell_outline([(0, 5), (8, 5), (10, 0)], 0, 0, 10), 2, 9)
    2.5
    """
    if high_mm > max(height for _, height in outline):
        return 0.0
    found = [across for across, height in outline if across >= 0 and low_mm <= height <= high_mm]
    for (across, height), (further, higher) in pairwise(outline):
        if min(across, further) >= 0 and height != higher:
            slope = (further - across) / (higher - height)
            between = [at for at in (low_mm, high_mm) if min(height, higher) < at < max(height, higher)]
            found += [across + slope * (at - height) for at in between]
    return float(min(found, default=0.0))


def bounds(outline: Sequence[Point]) -> tuple[Point, Point]:
    """Return the least and greatest place across, and the least and greatest height.

    Parameters
    ----------
    outline : sequence of Point
        The outline. [mm]

    Returns
    -------
    tuple of two
        Across, then up. [mm]

    References
    ----------
    None needed.
    """
    across, up = zip(*outline, strict=True)
    return (min(across), max(across)), (min(up), max(up))

"""The outline of what is cut to a shell's section: half-width against height, the least of all sections it meets."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from itertools import combinations, pairwise
from math import hypot

from modelmath.enclosure.cavity import Zone
from modelmath.lengths.numbers import as_fraction

Point = tuple[Fraction, Fraction]
Outline = tuple[Point, ...]


def section_of(zone: Zone, low_mm: Fraction, high_mm: Fraction) -> Outline:
    """Return a zone's half-width against height, between two heights.

    Parameters
    ----------
    zone : Zone
        The zone. [mm]
    low_mm, high_mm : Fraction
        Heights above the seat, the upper one no higher than the roof. [mm]

    Returns
    -------
    tuple of (Fraction, Fraction)
        Height and half-width, from the lowest up; two points at one height are a ledge. [mm]

    References
    ----------
    Linear interpolation.

    Examples
    --------
    >>> section_of(Zone("hood", 0, 9, 0, 10, 8), Fraction(2), Fraction(10))
    ((Fraction(2, 1), Fraction(4, 1)), (Fraction(10, 1), Fraction(4, 1)))
    """
    if zone.profile is None:
        half = as_fraction(zone.width_mm) / 2
        return (low_mm, half), (high_mm, half)
    if low_mm >= high_mm:
        return ()
    points = zone.profile.exact_points
    found: list[Point] = []
    for (bottom, start), (top, end) in pairwise(((min(low_mm, points[0][0]), points[0][1]), *points)):
        if top <= low_mm:
            continue
        if bottom >= high_mm:
            break
        if bottom == top:
            found += [(bottom, start), (top, end)]
            continue
        slope = (end - start) / (top - bottom)
        found.append((bottom, start) if bottom >= low_mm else (low_mm, start + slope * (low_mm - bottom)))
        found.append((top, end) if top <= high_mm else (high_mm, start + slope * (high_mm - bottom)))
    return tuple(point for at, point in enumerate(found) if not at or point != found[at - 1])


def height_where(section: Outline, half_mm: Fraction) -> Fraction:
    """Return the greatest height up to which a section is nowhere narrower than a half-width.

    Parameters
    ----------
    section : outline
        From `section_of`. [mm]
    half_mm : Fraction
        The half-width. [mm]

    Returns
    -------
    Fraction
        The height; the foot of the section where it is narrower from there on. [mm]

    References
    ----------
    Linear interpolation.

    Examples
    --------
    >>> arch = tuple((Fraction(height), Fraction(half)) for height, half in ((0, 8), (6, 8), (10, 0)))
    >>> height_where(arch, Fraction(6)), height_where(arch, Fraction(9))
    (Fraction(7, 1), Fraction(0, 1))
    """
    reached, at = section[0]
    if at < half_mm:
        return reached
    for (bottom, start), (top, end) in pairwise(section):
        if end < half_mm:
            return bottom + (top - bottom) * (start - half_mm) / (start - end) if start > half_mm else bottom
        reached = top
    return reached


def least_of(sections: Sequence[Outline]) -> Outline:
    """Return the outline that lies inside all of several, between the same two heights.

    Parameters
    ----------
    sections : sequence of outlines
        One or more. [mm]

    Returns
    -------
    tuple of (Fraction, Fraction)
        Height and half-width, from the lowest up. [mm]

    References
    ----------
    The lesser of straight lines is straight between their ends and crossings.

    Examples
    --------
    >>> exact = [tuple((Fraction(h), Fraction(w)) for h, w in side) for side in (((0, 3), (9, 3)), ((0, 5), (9, 0)))]
    >>> [(float(height), float(half)) for height, half in least_of(exact)]
    [(0.0, 3.0), (3.6, 3.0), (9.0, 0.0)]
    """
    unlike = list(dict.fromkeys(sections))
    if len(unlike) == 1:
        return unlike[0]
    heights = {height for section in unlike for height, _ in section}
    for low, high in pairwise(sorted(heights)):
        for one, other in combinations([_between(section, low, high) for section in unlike], 2):
            gap, later = one[0] - other[0], one[1] - other[1]
            if gap * later < 0:
                heights.add(low + (high - low) * gap / (gap - later))
    found: list[Point] = []
    for low, high in pairwise(sorted(heights)):
        sides = [_between(section, low, high) for section in unlike]
        for point in ((low, min(each[0] for each in sides)), (high, min(each[1] for each in sides))):
            if not found or found[-1] != point:
                found.append(point)
    return tuple(found)


def _between(section: Outline, low: Fraction, high: Fraction) -> Point:
    """Return the half-widths just above one height and just below another, with no point between them."""
    for (bottom, start), (top, end) in pairwise(section):
        if bottom <= low and high <= top and bottom < top:
            slope = (end - start) / (top - bottom)
            return start + slope * (low - bottom), start + slope * (high - bottom)
    raise AssertionError("an outline covers all of its heights")


def widest_mm(outline: Outline) -> Fraction:
    """Return the greatest width of an outline.

    Parameters
    ----------
    outline : outline
        Height and half-width. [mm]

    Returns
    -------
    Fraction
        Full width. [mm]

    References
    ----------
    Arithmetic.
    """
    return 2 * max(half for _, half in outline)


def length_mm(outline: Outline) -> Fraction:
    """Return how long an outline is along one side, ledges in it.

    Parameters
    ----------
    outline : outline
        Height and half-width. [mm]

    Returns
    -------
    Fraction
        Length; exact where the side is upright or level, else of the float nearest to it. [mm]

    References
    ----------
    Theorem of Pythagoras.

    Examples
    --------
    >>> length_mm(((0, 5), (4, 2)))
    Fraction(5, 1)
    """
    total = Fraction(0)
    for (low, start), (high, end) in pairwise(outline):
        up, across = high - low, abs(end - start)
        total += up + across if not up or not across else Fraction(hypot(up, across))
    return total

"""Two boxes in side view, one turning about a hinge: the angles at which anything can change, and what is so there.

Points are (along, up) from the hinge, boxes their four corners in order. Between two neighbouring `meeting_angles` the
boxes overlap throughout or not at all; their distance is least at one of the `nearest_angles`. So nothing is stepped.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from itertools import pairwise
from math import acos, atan2, cos, hypot, inf, pi, sin, sqrt

Point = tuple[float, float]
Corners = tuple[Point, Point, Point, Point]
TOUCH_MM = 1e-9  # what overlaps by less only touches; far above float error at these sizes

NOISE_RAD = 1e-12  # what touches at rest touches at 0, not a rounding error later


def turn(points: Iterable[Point], angle_rad: float) -> list[Point]:
    """Return points turned about the hinge, from along towards up.

    Parameters
    ----------
    points : iterable of (float, float)
        From the hinge. [mm]
    angle_rad : float
        Angle. [rad]

    Returns
    -------
    list of (float, float)
        From the hinge. [mm]

    References
    ----------
    Elementary geometry.

    Examples
    --------
    >>> turn([(2.0, 0.0)], 0.0)
    [(2.0, 0.0)]
    """
    c, s = cos(angle_rad), sin(angle_rad)
    return [(x * c - z * s, x * s + z * c) for x, z in points]


def meeting_angles(part: Corners, chassis: Corners, most_rad: float) -> list[float]:
    """Return the angles at which a corner of either box passes a side of the other, with 0 and the last.

    Parameters
    ----------
    part, chassis : tuple of four (float, float)
        Upright boxes from the hinge; the first turns. [mm]
    most_rad : float
        The last angle. [rad]

    Returns
    -------
    list of float
        In order; some may be of a side's extension only. [rad]

    References
    ----------
    Elementary geometry: a circle about the hinge crosses a line in two points at most.
    """
    found = [*_passing(part, chassis, 1)]
    found += _passing(chassis, part, -1)  # seen from the part, the chassis turns the other way round
    return _within(found, most_rad)


def _passing(turning: Corners, still: Corners, way: int) -> Iterator[float]:
    """Yield the angles at which turning corners lie on the lines through the sides of an upright box."""
    levels = [(0.0, x) for x in _both(still, 0)] + [(pi / 2, z) for z in _both(still, 1)]
    for x, z in turning:
        radius, at = hypot(x, z), atan2(z, x)
        for normal, level in levels:
            if radius > 0 and abs(level) <= radius:
                half = acos(level / radius)
                yield from (way * (normal + side * half - at) for side in (1, -1))


def nearest_angles(part: Corners, chassis: Corners, most_rad: float) -> list[float]:
    """Return the angles among which the distance of two boxes is least, if they stay clear of each other.

    Parameters
    ----------
    part, chassis : tuple of four (float, float)
        Upright boxes from the hinge; the first turns. [mm]
    most_rad : float
        The last angle. [rad]

    Returns
    -------
    list of float
        In order, with 0 and the last. [rad]

    References
    ----------
    Elementary geometry: the distance of a corner from a side is least at either end, or where the corner's radius
    stands square to the side or points at a corner of it.
    """
    outward = [atan2(z, x) for x, z in part]
    against = [atan2(z, x) for x, z in chassis]
    found = [square - at for at in outward for square in (0, pi / 2, pi, -pi / 2)]
    found += [at - square for at in against for square in (0, pi / 2, pi, -pi / 2)]
    found += [other - at for at in outward for other in against]
    return _within(found, most_rad)


def column_angles(part: Corners, chassis: Corners, most_rad: float) -> list[float]:
    """Return the angles among which the chassis, seen from a part, reaches highest within the part's length.

    Parameters
    ----------
    part, chassis : tuple of four (float, float)
        Upright boxes from the hinge; the first turns. [mm]
    most_rad : float
        The last angle. [rad]

    Returns
    -------
    list of float
        In order, with those of `meeting_angles`. [rad]

    References
    ----------
    Elementary geometry: a corner is highest over the hinge, or where it enters the column; a side's crossing of the
    column's edge is highest where the foot of the hinge on the side lies on that edge.
    """
    found = meeting_angles(part, chassis, most_rad)
    found += [atan2(z, x) - pi / 2 for x, z in chassis]
    sides = [(0.0, x) for x in _both(chassis, 0)] + [(pi / 2, z) for z in _both(chassis, 1)]
    for normal, level in sides:
        for edge in _both(part, 0):
            if abs(edge) <= abs(level) and level:
                half = acos(edge / abs(level))
                facing = normal if level > 0 else normal + pi
                found += [facing - half, facing + half]
    return _within(found, most_rad)


def _both(box: Corners, axis: int) -> tuple[float, float]:
    values = [point[axis] for point in box]
    return min(values), max(values)


def _within(angles: Iterable[float], most: float) -> list[float]:
    """Return the angles between 0 and the last, each less whole turns, in order and once."""
    turned = (0.0 if abs(angle) < NOISE_RAD else angle % (2 * pi) for angle in angles)
    return sorted({angle for angle in turned if angle <= most} | {0.0, most})


def overlap(one: Sequence[Point], other: Sequence[Point]) -> bool:
    """Return whether two boxes, turned or not, overlap by more than a touch.

    Parameters
    ----------
    one, other : sequence of (float, float)
        Their corners in order. [mm]

    Returns
    -------
    bool
        Whether no straight line parts them. [-]

    References
    ----------
    Separating axis theorem for convex polygons.

    Examples
    --------
    >>> square = [(0, 0), (1, 0), (1, 1), (0, 1)]
    >>> overlap(square, [(x + 1, z) for x, z in square]), overlap(square, [(x + 0.9, z) for x, z in square])
    (False, True)
    """
    for box in (one, other):
        for (x0, z0), (x1, z1) in pairwise(box[:3]):
            length = hypot(x1 - x0, z1 - z0)
            nx, nz = (z0 - z1) / length, (x1 - x0) / length
            mine = [x * nx + z * nz for x, z in one]
            theirs = [x * nx + z * nz for x, z in other]
            if min(max(mine), max(theirs)) - max(min(mine), min(theirs)) <= TOUCH_MM:
                return False
    return True


def gap(one: Sequence[Point], other: Sequence[Point]) -> float:
    """Return the distance of two boxes, turned or not, that don't overlap.

    Parameters
    ----------
    one, other : sequence of (float, float)
        Their corners in order. [mm]

    Returns
    -------
    float
        Least distance. [mm]

    References
    ----------
    Elementary geometry: of two convex polygons apart, a corner of one of them is nearest.

    Examples
    --------
    >>> square = [(0, 0), (1, 0), (1, 1), (0, 1)]
    >>> gap(square, [(x + 4, z + 5) for x, z in square])
    5.0
    """
    return min(_nearest(one, other), _nearest(other, one))


def distance(point: Point, box: Sequence[Point]) -> float:
    """Return the distance of a point from the outline of a box.

    Parameters
    ----------
    point : (float, float)
        The point. [mm]
    box : sequence of (float, float)
        Its corners in order. [mm]

    Returns
    -------
    float
        Least distance from its sides. [mm]

    References
    ----------
    Elementary geometry.

    Examples
    --------
    >>> distance((3.0, 4.0), [(0, 0), (-1, 0), (-1, -1), (0, -1)])
    5.0
    """
    return _nearest((point,), box)


def _nearest(points: Sequence[Point], box: Sequence[Point]) -> float:
    """Return the least distance of some points from the outline of a box: in one loop, as it is asked so often."""
    least = inf
    for (x, z), (end_x, end_z) in pairwise((*box, box[0])):
        dx, dz = end_x - x, end_z - z
        square = dx * dx + dz * dz
        for point_x, point_z in points:
            off_x, off_z = point_x - x, point_z - z
            part = (off_x * dx + off_z * dz) / square
            part = 0.0 if part < 0.0 else min(part, 1.0)
            off_x, off_z = off_x - part * dx, off_z - part * dz
            least = min(least, off_x * off_x + off_z * off_z)
    return sqrt(least)


def heights_within(
    box: Sequence[Point], left: float, right: float, touch_mm: float = TOUCH_MM
) -> tuple[float, float] | None:
    """Return how low and how high a box, turned or not, reaches between two uprights.

    Parameters
    ----------
    box : sequence of (float, float)
        Its corners in order. [mm]
    left, right : float
        The uprights. [mm]
    touch_mm : float
        What reaches between them by no more only touches. [mm]

    Returns
    -------
    tuple of two float, or None
        None where it lies beside them, or touches one only. [mm]

    References
    ----------
    Elementary geometry.

    Examples
    --------
    >>> heights_within([(0, 0), (4, 0), (4, 2), (0, 2)], 3, 9)
    (0.0, 2.0)
    """
    if min(x for x, _ in box) >= right - touch_mm or max(x for x, _ in box) <= left + touch_mm:
        return None
    low, high = inf, -inf
    for (x0, z0), (x1, z1) in pairwise([*box, box[0]]):
        ends = [z for x, z in ((x0, z0), (x1, z1)) if left <= x <= right]
        if x0 != x1:
            ends += [z0 + (z1 - z0) * (at - x0) / (x1 - x0) for at in (left, right) if min(x0, x1) < at < max(x0, x1)]
        low, high = min([low, *ends]), max([high, *ends])
    return float(low), float(high)

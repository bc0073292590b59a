"""The plate as a search sees it: straight edges round it, less convex pieces that no hole may enter.

A plate under a side rib is not convex. Its convex hull is, and what lies between hull and outline is cut at the height
of each corner into trapezia. Inside the plate, the distance to its outline is the lesser of those to the hull's edges
and to the trapezia; so is that to a keep-out, which is one more piece.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cache
from itertools import pairwise
from typing import TYPE_CHECKING

from modelmath.enclosure.holes.plate import KeepOut, Plate
from modelmath.enclosure.holes.webs import Vector

if TYPE_CHECKING:
    import numpy as np

    Array = np.ndarray[tuple[int, ...], np.dtype[np.float64]]

FLAT_MM2 = 1e-9  # a corner that turns by less lies on a straight edge
TRIES = 3000  # points tried for the starts of a search: our choice


@dataclass(frozen=True)
class Region:
    """Where holes may lie.

    Attributes
    ----------
    edges : tuple of (float, float, float)
        Of each edge of the hull, its way in as (across, up) [-] and its distance from the origin along that [mm].
    pieces : tuple of tuple of (float, float)
        The four corners of each convex piece, anticlockwise. [mm]
    from_edge : tuple of bool
        Of each piece, whether it is part of the plate's outline, not a keep-out. [-]
    low, high : (float, float)
        Lower left and upper right corner of the box round the plate. [mm]
    """

    edges: tuple[tuple[float, float, float], ...]
    pieces: tuple[tuple[Vector, ...], ...]
    from_edge: tuple[bool, ...]
    low: Vector
    high: Vector


def region_of(plate: Plate, keep_out: Sequence[KeepOut] = ()) -> Region:
    """Return the region of a plate.

    Parameters
    ----------
    plate : Plate
        The plate. [mm]
    keep_out : sequence of KeepOut
        What no hole may come near. [mm]

    Returns
    -------
    Region
        Its edges and pieces.

    References
    ----------
    Elementary geometry.

    Examples
    --------
    >>> ribbed = Plate(20, 12, ((0, 10), (5, 10), (5, 8), (7, 8), (7, 10), (12, 10)))
    >>> region = region_of(ribbed)
    >>> len(region.edges), region.pieces[0]
    (4, ((8.0, 5.0), (10.0, 5.0), (10.0, 7.0), (8.0, 7.0)))
    """
    hull = convex_hull(plate.corners)
    pockets = list[tuple[Vector, ...]]()
    for (low, start), (high, end) in pairwise(plate.side):
        if high > low:
            pockets += _pocket(hull, (low, start), (high, end))
    pieces = (*pockets, *(each.corners for each in keep_out))
    half = float(plate.width_mm) / 2
    from_edge = tuple(index < len(pockets) for index in range(len(pieces)))
    return Region(_edges(hull), pieces, from_edge, (-half, 0.0), (half, float(plate.height_mm)))


def convex_hull(points: Sequence[Vector]) -> tuple[Vector, ...]:
    """Return the corners of the smallest convex polygon that holds some points.

    Parameters
    ----------
    points : sequence of (float, float)
        The points. [mm]

    Returns
    -------
    tuple of (float, float)
        Its corners, anticlockwise. [mm]

    References
    ----------
    Andrew 1979, Information Processing Letters 9, 216 (from memory): the lower chain, then the upper one.

    Examples
    --------
    >>> convex_hull(((0, 0), (2, 0), (1, 1), (2, 2), (0, 2)))
    ((0, 0), (2, 0), (2, 2), (0, 2))
    """
    ordered = sorted(set(points))
    lower, upper = _chain(ordered), _chain(ordered[::-1])
    return tuple(lower[:-1] + upper[:-1])


def _chain(points: Sequence[Vector]) -> list[Vector]:
    chain = list[Vector]()
    for point in points:
        while len(chain) > 1 and _turn(chain[-2], chain[-1], point) <= FLAT_MM2:
            chain.pop()
        chain.append(point)
    return chain


def _turn(one: Vector, two: Vector, three: Vector) -> float:
    return (two[0] - one[0]) * (three[1] - one[1]) - (two[1] - one[1]) * (three[0] - one[0])


def _edges(hull: Sequence[Vector]) -> tuple[tuple[float, float, float], ...]:
    edges = []
    for start, end in pairwise((*hull, hull[0])):
        across, up = end[0] - start[0], end[1] - start[1]
        length = (across * across + up * up) ** 0.5
        inward = (-up / length, across / length)
        edges.append((*inward, inward[0] * start[0] + inward[1] * start[1]))
    return tuple(edges)


def _pocket(hull: Sequence[Vector], low: Vector, high: Vector) -> Iterator[tuple[Vector, ...]]:
    """Yield what lies between outline and hull over one stretch of height, on the right and on the left."""
    outer = [_hull_half(hull, height) for height in (low[0], high[0])]
    right = [(low[1], low[0]), (outer[0], low[0]), (outer[1], high[0]), (high[1], high[0])]
    corners = [each for index, each in enumerate(right) if _off(each, right[index - 1])]
    area = sum(one[0] * two[1] - two[0] * one[1] for one, two in pairwise((*corners, corners[0])))
    if area > FLAT_MM2:
        if len(corners) == 3:  # a corner more on one side, so that all pieces have four
            (across, up), (across_too, up_too) = corners[0], corners[-1]
            corners.append(((across + across_too) / 2, (up + up_too) / 2))
        yield tuple(corners)
        yield tuple((-across, up) for across, up in reversed(corners))


def _off(one: Vector, other: Vector) -> bool:
    return abs(one[0] - other[0]) + abs(one[1] - other[1]) > FLAT_MM2


def _hull_half(hull: Sequence[Vector], height: float) -> float:
    """Return the half-width of the hull at a height."""
    found = [0.0]
    for start, end in pairwise((*hull, hull[0])):
        if min(start[1], end[1]) <= height <= max(start[1], end[1]):
            if start[1] == end[1]:
                found += [start[0], end[0]]
            else:
                found.append(start[0] + (end[0] - start[0]) * (height - start[1]) / (end[1] - start[1]))
    return max(found)


def piece_distances(pieces: Sequence[Sequence[Vector]], places: Array) -> tuple[Array, Array]:
    """Return how far places lie outside convex pieces, and the direction straight away from each.

    Parameters
    ----------
    pieces : sequence of sequence of (float, float)
        Four corners of each piece, anticlockwise. [mm]
    places : array of shape (n, 2)
        The places. [mm]

    Returns
    -------
    tuple of array
        Distances, below 0 inside, of shape (pieces, n) [mm]; directions of length 1, of shape (pieces, n, 2).

    References
    ----------
    Distance of a point from a straight stretch; inside a convex polygon, from the nearest of its sides' lines.

    Examples
    --------
    >>> import numpy as np
    >>> square = ((0, 0), (2, 0), (2, 2), (0, 2))
    >>> piece_distances([square], np.array([[3.0, 1.0], [0.5, 1.0]]))[0].tolist()
    [[1.0, -0.5]]
    """
    import numpy as np

    start = np.asarray(pieces, dtype=float).reshape(-1, 4, 2)[:, None]
    along = np.roll(start, -1, axis=2) - start
    squared = along[..., 0] ** 2 + along[..., 1] ** 2
    length = np.sqrt(squared)
    out_x, out_y = along[..., 1] / length, -along[..., 0] / length
    to_x, to_y = places[:, 0, None] - start[..., 0], places[:, 1, None] - start[..., 1]
    beyond = to_x * out_x + to_y * out_y
    share = np.minimum(np.maximum((to_x * along[..., 0] + to_y * along[..., 1]) / squared, 0.0), 1.0)
    off_x, off_y = to_x - share * along[..., 0], to_y - share * along[..., 1]
    far = np.sqrt(off_x**2 + off_y**2)
    side, near = beyond.argmax(axis=2)[..., None], far.argmin(axis=2)[..., None]

    def taken(values: Array, index: np.ndarray[tuple[int, ...], np.dtype[np.intp]]) -> Array:
        return np.take_along_axis(np.broadcast_to(values, beyond.shape), index, axis=2)[..., 0]

    deepest, nearest = taken(beyond, side), taken(far, near)
    inside = (deepest <= 0) | (nearest == 0)
    divisor = np.where(inside, 1.0, nearest)
    away_x = np.where(inside, taken(out_x, side), taken(off_x, near) / divisor)
    away_y = np.where(inside, taken(out_y, side), taken(off_y, near) / divisor)
    return np.where(inside, deepest, nearest), np.stack((away_x, away_y), axis=-1)


def edge_distance(region: Region, places: Array) -> Array:
    """Return how far places lie inside each edge of the hull.

    Parameters
    ----------
    region : Region
        The region. [mm]
    places : array of shape (n, 2)
        The places. [mm]

    Returns
    -------
    array of shape (n, edges)
        Distances, below 0 outside. [mm]

    References
    ----------
    Distance of a point from a line.

    Examples
    --------
    >>> import numpy as np
    >>> edge_distance(region_of(Plate(20, 12)), np.array([[1.0, 4.0]])).tolist()
    [[4.0, 9.0, 8.0, 11.0]]
    """
    import numpy as np

    edges = np.asarray(region.edges)
    return np.asarray(places @ edges[:, :2].T - edges[:, 2])


def free_points(region: Region, count: int) -> Array:
    """Return points spread evenly over the free part of a region, the same on every run.

    Parameters
    ----------
    region : Region
        The region. [mm]
    count : int
        How many. [-]

    Returns
    -------
    array of shape (count, 2)
        The points; where too little is free, some that are not. [mm]

    References
    ----------
    Halton 1960, Numerische Mathematik 2, 84 (from memory): digits of whole numbers mirrored at the point, in two bases.

    Examples
    --------
    >>> free_points(region_of(Plate(8, 9)), 2).tolist()
    [[0.0, 3.0], [-2.0, 6.0]]
    """
    import numpy as np

    low, high = np.asarray(region.low), np.asarray(region.high)
    points = low + np.array(_even_points(TRIES)) * (high - low)
    free = (edge_distance(region, points) > 0).all(axis=1)
    free &= (piece_distances(region.pieces, points)[0] > 0).all(axis=0)
    chosen = points[free] if free.any() else points
    return np.asarray(np.resize(chosen, (count, 2)))


@cache
def _even_points(count: int) -> tuple[Vector, ...]:
    return tuple((_mirrored(index, 2), _mirrored(index, 3)) for index in range(1, count + 1))


def _mirrored(number: int, base: int) -> float:
    """Return a whole number's digits mirrored at the point."""
    value, share = 0.0, 1.0
    while number:
        share /= base
        number, digit = divmod(number, base)
        value += digit * share
    return value

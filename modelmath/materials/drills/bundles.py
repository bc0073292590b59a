"""How thick a bundle of strands or wires is: round things packed in a round hole."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from fractions import Fraction
from functools import cache
from itertools import combinations

from modelmath.errors import OutOfRange, TableError, WrongKind
from modelmath.materials.exact import exact_mm
from modelmath.tables import rows

MOST_STRANDS = 20  # the last row of data/circle_packing.csv
REACHED = 1e-6  # how nearly a row's centres must reach its ratio, in strand diameters
TOUCHING = 1e-9  # mm by which two wires placed to touch may overlap: float noise
_SEARCH_STEPS = 60  # each keeps 0.618 of the span: 60 leave 3e-13 of it

Place = tuple[float, float]


@dataclass(frozen=True)
class Packing:
    """Equal circles packed in the smallest circle known for their number.

    Attributes
    ----------
    count : int
        How many. [-]
    ratio : float
        Diameter round all of them over that of one. [-]
    proven : bool
        Whether no smaller circle holds them; otherwise it is the best known. [-]
    centres : tuple of (float, float)
        Where they lie from the middle, in diameters of one. [-]
    source : str
        Where the ratio was read. [-]
    """

    count: int
    ratio: float
    proven: bool
    centres: tuple[Place, ...]
    source: str


@dataclass(frozen=True)
class Bundle:
    """Wires of one size or several, laid side by side in a circle.

    Attributes
    ----------
    outside_mm : float
        Diameter of a circle that holds them as placed: they need no more, and may need less. [mm]
    least_mm : float
        No circle under this diameter holds them, however they lie. [mm]
    diameters_mm : tuple of float
        Their diameters, the thickest first. [mm]
    centres_mm : tuple of (float, float)
        Where each lies, from the middle of the circle. [mm]
    """

    outside_mm: float
    least_mm: float
    diameters_mm: tuple[float, ...]
    centres_mm: tuple[Place, ...]


@cache
def packings() -> dict[int, Packing]:
    """Return the closest packings known, by how many are packed.

    Returns
    -------
    dict of int to Packing
        For 1 to 20 strands.

    Raises
    ------
    TableError
        If the centres of a row do not reach its ratio, or two of them are nearer than a diameter.

    References
    ----------
    data/circle_packing.csv: R. L. Graham, B. D. Lubachevsky, K. J. Nurmela, P. R. J. Östergård, Dense packings of
    congruent circles in a circle, Discrete Mathematics 181 (1998), from memory; each ratio is reached by its centres.

    Examples
    --------
    >>> packings()[7].ratio, packings()[4].ratio
    (3.0, 2.41421356)
    """
    file, found = "circle_packing.csv", dict[int, Packing]()
    for line, row in rows(file):
        count, ratio = int(row["n"]), float(row["ratio"])
        pairs = (place.split() for place in row["centres"].split(";"))
        centres = tuple((float(x), float(y)) for x, y in pairs)
        apart = min((math.dist(a, b) for a, b in combinations(centres, 2)), default=1.0)
        reached = 2 * max(math.hypot(*centre) for centre in centres) + 1
        if len(centres) != count or apart < 1 - REACHED or abs(reached - ratio) > REACHED:
            raise TableError(file, line, f"the centres do not pack {count} in a ratio of {row['ratio']}")
        found[count] = Packing(count, ratio, row["least"] == "proven", centres, row["source"])
    return found


def _packing(count: int) -> Packing:
    if isinstance(count, bool) or not isinstance(count, int):
        raise WrongKind("count", repr(count), "a whole number", f"Write how many, 1 to {MOST_STRANDS}.")
    if not 1 <= count <= MOST_STRANDS:
        advice = "Measure a larger bundle over all." if count > MOST_STRANDS else "Write 1 for a single strand."
        raise OutOfRange("count", str(count), f"from 1 to {MOST_STRANDS}", advice)
    return packings()[count]


def bundle_mm(diameter_mm: Fraction | float, count: int) -> float:
    """Return the diameter round so many equal strands packed as closely as is known.

    Parameters
    ----------
    diameter_mm : Fraction or float
        Diameter of one, with its insulation. [mm]
    count : int
        How many, 1 to 20. [-]

    Returns
    -------
    float
        Diameter of the smallest circle known that holds them. [mm]

    Raises
    ------
    OutOfRange, WrongKind
        If the diameter is no usable length, or the count no whole number from 1 to 20.

    References
    ----------
    data/circle_packing.csv.

    Examples
    --------
    >>> bundle_mm(0.5, 7), round(bundle_mm(0.5, 3), 3)
    (1.5, 1.077)
    """
    exact_mm(diameter_mm, "diameter_mm")  # refuses what is no length; a strand's own digits are kept
    return float(diameter_mm) * _packing(count).ratio


def bundle_of(diameters_mm: Sequence[Fraction | float]) -> Bundle:
    """Place wires of several diameters in a circle, and return how thick the bundle is at most.

    Each wire, the thickest first, is laid against two that already lie there, where it keeps the bundle smallest;
    this is done from several beginnings, and the smallest circle is kept. It is also tried to lay them as so many
    wires of the thickest size. The answer holds the wires; a smaller one may exist.

    Parameters
    ----------
    diameters_mm : sequence of Fraction or float
        Diameter of each wire, with its insulation; 1 to 20 of them. [mm]

    Returns
    -------
    Bundle
        Its diameter at most and at least, and the places of the wires.

    Raises
    ------
    OutOfRange, WrongKind
        If a diameter is no usable length, or there are none or more than 20.

    References
    ----------
    Geometry: the places are checked to be apart, so the circle round them is enough. At least: the areas, and the two
    thickest side by side. Equal wires: data/circle_packing.csv.

    Examples
    --------
    >>> bundle = bundle_of([0.6, 1.1])
    >>> round(bundle.outside_mm, 6), round(bundle.least_mm, 6)
    (1.7, 1.7)
    """
    sizes = sorted((float(exact_mm(each, "diameter_mm")) for each in diameters_mm), reverse=True)
    packing = _packing(len(sizes))
    tried = [[(sizes[0] * x, sizes[0] * y) for x, y in packing.centres]]
    tried += [_laid(sizes, first) for first in range(1, min(len(sizes), 4) + 1)]
    outside, centres = min((_enclosed(sizes, centres) for centres in tried), key=lambda each: each[0])
    if len(set(sizes)) == 1:
        outside = bundle_mm(sizes[0], len(sizes))  # the same packing, without the last digits of its centres
    two = sizes[0] + sizes[1] if len(sizes) > 1 else sizes[0]
    least = max(two, math.sqrt(sum(size**2 for size in sizes)))
    return Bundle(outside, min(least, outside), tuple(sizes), centres)


def _laid(sizes: Sequence[float], first: int) -> list[Place]:
    """Return places for wires, thickest first, kept close to the middle of the first few."""
    places: list[Place] = [(0.0, 0.0)]
    for index, size in enumerate(sizes[1:], start=1):
        if index == 1:
            places.append(((sizes[0] + size) / 2, 0.0))
            continue
        near = places[:first]
        middle = sum(x for x, _ in near) / len(near), sum(y for _, y in near) / len(near)
        spots = [spot for spot in _spots(sizes[:index], places, size) if _free(spot, size, sizes, places)]
        places.append(min(spots, key=lambda spot: (round(math.dist(spot, middle), 9), spot)))
    return places


def _spots(sizes: Sequence[float], places: Sequence[Place], size: float) -> list[Place]:
    """Return where a wire would touch two that lie there."""
    spots: list[Place] = []
    for (a, size_a), (b, size_b) in combinations(zip(places, sizes, strict=True), 2):
        apart, from_a, from_b = math.dist(a, b), (size_a + size) / 2, (size_b + size) / 2
        if apart > from_a + from_b:
            continue
        along = (from_a**2 - from_b**2 + apart**2) / (2 * apart)
        across = math.sqrt(max(from_a**2 - along**2, 0.0))
        way = (b[0] - a[0]) / apart, (b[1] - a[1]) / apart
        foot = a[0] + along * way[0], a[1] + along * way[1]
        spots += [(foot[0] - side * across * way[1], foot[1] + side * across * way[0]) for side in (1, -1)]
    return spots


def _free(spot: Place, size: float, sizes: Sequence[float], places: Sequence[Place]) -> bool:
    """Return whether a wire here overlaps none that lie there."""
    return all(
        math.dist(spot, place) >= (size + other) / 2 - TOUCHING for place, other in zip(places, sizes, strict=False)
    )


def _enclosed(sizes: Sequence[float], places: Sequence[Place]) -> tuple[float, tuple[Place, ...]]:
    """Return the diameter of the smallest circle round wires as they lie, and their places from its middle.

    How far the farthest wire reaches from a point is convex in the point, so a search for each coordinate inside a
    search for the other finds the least; wherever it stops, the circle holds the wires.
    """

    def reach(x: float, y: float) -> float:
        return max(math.hypot(px - x, py - y) + size / 2 for (px, py), size in zip(places, sizes, strict=True))

    xs, ys = [x for x, _ in places], [y for _, y in places]

    def best_y(x: float) -> float:
        return _lowest(lambda y: reach(x, y), min(ys), max(ys))

    middle_x = _lowest(lambda x: reach(x, best_y(x)), min(xs), max(xs))
    middle_y = best_y(middle_x)
    return 2 * reach(middle_x, middle_y), tuple((x - middle_x, y - middle_y) for x, y in places)


def _lowest(height: Callable[[float], float], low: float, high: float) -> float:
    """Return where a convex function is lowest, by golden section."""
    part = (math.sqrt(5) - 1) / 2
    left, right = high - part * (high - low), low + part * (high - low)
    at_left, at_right = height(left), height(right)
    for _ in range(_SEARCH_STEPS):
        if at_left <= at_right:
            high, right, at_right = right, left, at_left
            left = high - part * (high - low)
            at_left = height(left)
        else:
            low, left, at_left = left, right, at_right
            right = low + part * (high - low)
            at_right = height(right)
    return (low + high) / 2

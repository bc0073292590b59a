"""The webs: what is left of the plate between two holes, a hole and an edge, a hole and a keep-out."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import combinations, pairwise
from math import ceil, hypot
from typing import Literal

from modelmath.enclosure.holes.plate import KeepOut, PlacedHole, Plate
from modelmath.errors import OutOfRange
from modelmath.lengths.numbers import Number, check_number

Kind = Literal["hole", "edge", "keep-out"]
TOLERANCE_MM = 1e-6  # a web short by less is as wide as wanted: far below any drill
SAME_MM = 1e-9  # of two sides as near, the first is named
Vector = tuple[float, float]


@dataclass(frozen=True)
class Wanted:
    """The webs wanted.

    Attributes
    ----------
    web_mm : Fraction or float
        Between two holes, and between a hole and a keep-out. [mm]
    edge_mm : Fraction, float or None
        Between a hole and an edge of the plate; None for the same. [mm]
    apart_mm : Fraction or float
        Between holes of different circuits, where that is more. [mm]

    References
    ----------
    None needed.

    Examples
    --------
    >>> Wanted(1.0, apart_mm=2.5).between("headlight", "marker lamps")
    2.5
    """

    web_mm: Number
    edge_mm: Number | None = None
    apart_mm: Number = 0

    def __post_init__(self) -> None:
        if self.edge_mm is None:
            object.__setattr__(self, "edge_mm", self.web_mm)
        for name in ("web_mm", "edge_mm", "apart_mm"):
            value = getattr(self, name)
            check_number(name, value)
            if value < 0:
                raise OutOfRange(name, f"{float(value):.2f} mm", "0 mm or more", "Write the least web in mm.")

    @property
    def edge(self) -> float:
        """The web wanted to an edge. [mm]"""
        return float(self.web_mm if self.edge_mm is None else self.edge_mm)

    def between(self, one: str, other: str) -> float:
        """Return the web wanted between holes of two circuits.

        Parameters
        ----------
        one, other : str
            Their circuits. [-]

        Returns
        -------
        float
            The web. [mm]

        References
        ----------
        None needed.

        Examples
        --------
        >>> Wanted(1.0, apart_mm=2.5).between("headlight", "headlight")
        1.0
        """
        web = float(self.web_mm)
        return web if one == other else max(web, float(self.apart_mm))


@dataclass(frozen=True)
class Web:
    """What is left between two things.

    Attributes
    ----------
    kind : {"hole", "edge", "keep-out"}
        What lies on its other side. [-]
    first, second : str
        The hole, and what lies on the other side. [-]
    web_mm : float
        How wide it is; below 0 where they overlap. [mm]
    wanted_mm : float
        How wide it must be. [mm]
    away : tuple of (float, float)
        The direction, across and up, in which the first moves straight away from the second. [-]
    """

    kind: Kind
    first: str
    second: str
    web_mm: float
    wanted_mm: float
    away: Vector

    @property
    def short_mm(self) -> float:
        """How much is lacking; below 0 where there is more than wanted. [mm]"""
        return self.wanted_mm - self.web_mm

    @property
    def too_thin(self) -> bool:
        """Whether it is thinner than wanted. [-]"""
        return self.short_mm > TOLERANCE_MM

    @property
    def between(self) -> str:
        """The two things, as a sentence names them. [-]"""
        second = self.second if self.kind == "hole" else f"the {self.second.removeprefix('the ')}"
        return f"{self.first} and {second}"

    @property
    def text(self) -> str:
        """One sentence: which two, how wide, how much is wanted. [-]"""
        wanted = f"{self.wanted_mm:.2f} mm {'are' if self.too_thin else 'were'} wanted"
        if self.web_mm < -TOLERANCE_MM:
            return f"{self.between} overlap by {shown_mm(-self.web_mm)}; {wanted} between them."
        return f"The web between {self.between} is {shown_mm(self.web_mm)}; {wanted}."

    @property
    def remedy(self) -> str:
        """One sentence: what to do about a web that is too thin. [-]"""
        if not self.too_thin:
            return ""
        return f"Move {self.first} {self._steps()}, or take a smaller drill."

    def _steps(self) -> str:
        """Return how far to move the first hole, across and up, rounded so that it is enough."""
        steps = []
        for part, (back, ahead) in zip(self.away, (("to the left", "to the right"), ("down", "up")), strict=True):
            move = ceil(abs(part) * self.short_mm * 100 - 1e-4) / 100
            if move > 0:
                steps.append(f"by {move:.2f} mm {ahead if part > 0 else back}")
        return " and ".join(steps)


def shown_mm(length_mm: float) -> str:
    """Return a length as the sentences show it: two places, and never 0.00 for what is more than nothing.

    Parameters
    ----------
    length_mm : float
        The length. [mm]

    Returns
    -------
    str
        The same in words.

    References
    ----------
    None needed.

    Examples
    --------
    >>> shown_mm(0.004), shown_mm(1.2)
    ('less than 0.01 mm', '1.20 mm')
    """
    return "less than 0.01 mm" if TOLERANCE_MM < length_mm < 0.005 else f"{abs(length_mm):.2f} mm"


def all_webs(
    holes: Sequence[PlacedHole], plate: Plate, wanted: Wanted, keep_out: Sequence[KeepOut] = ()
) -> tuple[Web, ...]:
    """Return every web: of each two holes, of each hole and the nearest edge, of each hole and each keep-out.

    Parameters
    ----------
    holes : sequence of PlacedHole
        The holes where they lie. [mm]
    plate : Plate
        The plate. [mm]
    wanted : Wanted
        The webs wanted. [mm]
    keep_out : sequence of KeepOut
        What no hole may come near. [mm]

    Returns
    -------
    tuple of Web
        The one that lacks most first.

    References
    ----------
    Elementary geometry: distance of a point from a straight stretch.

    Examples
    --------
    >>> from modelmath.enclosure.holes.plate import Hole
    >>> hole = PlacedHole(Hole("strand", 1), 0.0, 2.0)
    >>> all_webs([hole], Plate(10, 8), Wanted(1))[0].text
    'The web between strand and the lower edge is 1.50 mm; 1.00 mm were wanted.'
    """
    webs = list[Web]()
    for one, other in combinations(holes, 2):
        webs.append(web_between(one, other, wanted))
    for hole in holes:
        webs.append(web_to_edge(hole, plate, wanted))
        webs.extend(web_to_keep_out(hole, each, wanted) for each in keep_out)
    return tuple(sorted(webs, key=lambda web: (-web.short_mm, web.web_mm)))


def web_between(one: PlacedHole, other: PlacedHole, wanted: Wanted) -> Web:
    """Return the web between two holes.

    Parameters
    ----------
    one, other : PlacedHole
        The holes. [mm]
    wanted : Wanted
        The webs wanted. [mm]

    Returns
    -------
    Web
        What is left between them.

    References
    ----------
    Distance of the middles less both radii.

    Examples
    --------
    >>> from modelmath.enclosure.holes.plate import Hole
    >>> hole = Hole("strand", 1)
    >>> web_between(PlacedHole(hole, 0.0, 2.0), PlacedHole(hole, 3.0, 6.0), Wanted(1)).web_mm
    4.0
    """
    across, up = one.x_mm - other.x_mm, one.y_mm - other.y_mm
    distance = hypot(across, up)
    away = (across / distance, up / distance) if distance else (1.0, 0.0)
    web = distance - one.radius_mm - other.radius_mm
    return Web("hole", one.name, other.name, web, wanted.between(one.hole.circuit, other.hole.circuit), away)


def web_to_edge(hole: PlacedHole, plate: Plate, wanted: Wanted) -> Web:
    """Return the web between a hole and the nearest edge.

    Parameters
    ----------
    hole : PlacedHole
        The hole. [mm]
    plate : Plate
        The plate. [mm]
    wanted : Wanted
        The webs wanted. [mm]

    Returns
    -------
    Web
        What is left between them.

    References
    ----------
    Distance from the outline, below 0 outside it, less the radius.

    Examples
    --------
    >>> from modelmath.enclosure.holes.plate import Hole
    >>> web_to_edge(PlacedHole(Hole("strand", 1), 4.0, 4.0), Plate(10, 8), Wanted(1)).second
    'right edge'
    """
    distance, away, ahead = distance_within(plate.corners, (hole.x_mm, hole.y_mm))
    return Web("edge", hole.name, _edge_name(ahead), distance - hole.radius_mm, wanted.edge, away)


def web_to_keep_out(hole: PlacedHole, keep_out: KeepOut, wanted: Wanted) -> Web:
    """Return the web between a hole and a keep-out.

    Parameters
    ----------
    hole : PlacedHole
        The hole. [mm]
    keep_out : KeepOut
        What it may not come near. [mm]
    wanted : Wanted
        The webs wanted. [mm]

    Returns
    -------
    Web
        What is left between them.

    References
    ----------
    Distance from the rectangle, below 0 inside it, less the radius.

    Examples
    --------
    >>> from modelmath.enclosure.holes.plate import Hole
    >>> web_to_keep_out(PlacedHole(Hole("strand", 1), 0.0, 4.0), KeepOut("post", 3, 5, 0, 8), Wanted(1)).web_mm
    2.5
    """
    distance, away, _ = distance_within(keep_out.corners, (hole.x_mm, hole.y_mm))
    back = (-away[0], -away[1])
    return Web("keep-out", hole.name, keep_out.name, -distance - hole.radius_mm, float(wanted.web_mm), back)


def distance_within(corners: Sequence[Vector], point: Vector) -> tuple[float, Vector, Vector]:
    """Return how far a point lies inside a polygon, the direction further in, and the nearest side's way out.

    Parameters
    ----------
    corners : sequence of (float, float)
        The polygon's corners, anticlockwise. [mm]
    point : (float, float)
        The point. [mm]

    Returns
    -------
    tuple
        Distance from the nearest side, below 0 outside [mm]; direction straight away from it and further in; direction
        out of the polygon across that side, both of length 1.

    References
    ----------
    Distance of a point from a straight stretch; crossings of a level line for inside or outside.

    Examples
    --------
    >>> square = ((0.0, 0.0), (4.0, 0.0), (4.0, 4.0), (0.0, 4.0))
    >>> distance_within(square, (1.0, 2.0))[:2], distance_within(square, (-1.0, 2.0))[0]
    ((1.0, (1.0, 0.0)), -1.0)
    """
    nearest, away, out, inside = float("inf"), (0.0, 0.0), (0.0, 0.0), False
    for start, end in _sides(corners):
        along = (end[0] - start[0], end[1] - start[1])
        length = hypot(*along)
        normal = (along[1] / length, -along[0] / length)
        to_point = (point[0] - start[0], point[1] - start[1])
        share = min(max((to_point[0] * along[0] + to_point[1] * along[1]) / length**2, 0.0), 1.0)
        off = (to_point[0] - share * along[0], to_point[1] - share * along[1])
        if hypot(*off) < nearest - SAME_MM:
            nearest, out = hypot(*off), normal
            away = (off[0] / nearest, off[1] / nearest) if nearest else (-normal[0], -normal[1])
        if (start[1] > point[1]) != (end[1] > point[1]):
            inside ^= point[0] < start[0] + along[0] * (point[1] - start[1]) / along[1]
    if inside or nearest == 0:
        return nearest, away, out
    return -nearest, (-away[0], -away[1]), out


def _sides(corners: Sequence[Vector]) -> Iterator[tuple[Vector, Vector]]:
    return pairwise((*corners, corners[0]))


def _edge_name(out: Vector) -> str:
    """Name an edge by the way out of the plate across it."""
    if abs(out[1]) > abs(out[0]):
        return "upper edge" if out[1] > 0 else "lower edge"
    return "right edge" if out[0] > 0 else "left edge"

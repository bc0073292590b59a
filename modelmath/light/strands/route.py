"""The way a strand runs: straight legs from point to point, its corners rounded by arcs."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property
from itertools import pairwise
from math import atan2, cos, degrees, hypot, pi, radians, sin, tan

from modelmath.errors import OutOfRange, WrongKind, shown
from modelmath.lengths.numbers import Number, check_number
from modelmath.lengths.text import to_digits
from modelmath.light.strands.bends import Bend
from modelmath.light.strands.checks import check_length

STRAIGHT_RAD = 1e-9  # a corner that turns by less is none: float noise
TURNED_BACK_RAD = 1e-6  # a leg this near to straight back on the one before leaves no room for any arc
_ENOUGH = 1e-9  # of the radius: an arc that lacks less than this has its room
Vector = tuple[float, float, float]


@dataclass(frozen=True)
class Point:
    """A place in the model.

    Attributes
    ----------
    along_mm : Fraction or float
        From the fore-aft mark, along the model. [mm]
    right_mm : Fraction or float
        From the middle, to the right. [mm]
    up_mm : Fraction or float
        From the seat, upward. [mm]

    Raises
    ------
    OutOfRange, WrongKind
        If one is no plain, finite number of mm.
    """

    along_mm: Number
    right_mm: Number
    up_mm: Number

    def __post_init__(self) -> None:
        for name in ("along_mm", "right_mm", "up_mm"):
            check_number(name, getattr(self, name))

    @property
    def vector(self) -> Vector:
        """The three as floats. [mm]"""
        return float(self.along_mm), float(self.right_mm), float(self.up_mm)


@dataclass(frozen=True)
class Corner:
    """A corner of a route, as it is rounded.

    Attributes
    ----------
    number : int
        Which point it is, the first one counted as 1. [-]
    angle_rad : float
        How far the route turns. [rad]
    axis_mm : float
        Radius of the strand's axis. [mm]
    wanted_mm : float
        What was asked for, of the inside. [mm]
    diameter_mm : float
        The strand's diameter. [mm]
    """

    number: int
    angle_rad: float
    axis_mm: float
    wanted_mm: float
    diameter_mm: float

    @property
    def inside_mm(self) -> float:
        """Radius of its inside, what `Bend` calls its radius; 0 where the strand would fold. [mm]"""
        return max(0.0, self.axis_mm - self.diameter_mm / 2)

    @property
    def takes_mm(self) -> float:
        """Length that the arc takes of each leg. [mm]"""
        return self.axis_mm * tan(self.angle_rad / 2)

    @property
    def tight(self) -> bool:
        """Whether a leg is too short for the radius asked for. [-]"""
        wanted = self.wanted_mm + self.diameter_mm / 2
        return self.axis_mm < wanted - _ENOUGH * (1 + wanted)


@dataclass(frozen=True)
class Route:
    """The axis of a strand, from point to point with rounded corners.

    Attributes
    ----------
    points : tuple of Point
        The ends, and the corners between them before they are rounded. [mm]
    radius_mm : Fraction or float
        Radius that each bend's inside is to have. [mm]
    diameter_mm : Fraction or float
        The strand's diameter; with 0 the radius is that of its axis. [mm]

    Raises
    ------
    OutOfRange, WrongKind
        If there are fewer than 2 points, two that follow each other are the same, the route runs straight back on
        itself, or a length is no number of 0 or more.

    Notes
    -----
    A leg between two corners has to hold half an arc of each. Where one is too short, all radii grow together until a
    leg is full; its corners stop there and the others go on, up to the radius asked for.

    References
    ----------
    Geometry: a corner that turns by ``t``, rounded by a radius ``r``, takes ``r tan(t/2)`` of each leg, and its arc is
    ``r t`` long.

    Examples
    --------
    >>> route = Route((Point(0, 0, 0), Point(30, 0, 0), Point(30, 0, -20)), 5)
    >>> round(route.length_mm, 3), [(round(bend.angle_deg), bend.radius_mm) for bend in route.bends]
    (47.854, [(90, 5.0)])
    """

    points: tuple[Point, ...]
    radius_mm: Number
    diameter_mm: Number = 0.0

    def __post_init__(self) -> None:
        object.__setattr__(self, "points", _checked(self.points))
        check_length("radius_mm", self.radius_mm, least_0=True, such_as="5")
        check_length("diameter_mm", self.diameter_mm, least_0=True)
        for number, angle in self._turns:
            if angle > pi - TURNED_BACK_RAD:
                given = f"such that it runs straight back at point {number}"
                raise OutOfRange(
                    "the route", given, "a way that turns aside", "Add one more point, beside this one, for it to turn."
                )

    @cached_property
    def corners(self) -> tuple[Corner, ...]:
        """Where it turns, with the radius that there is room for. [-]"""
        radius, diameter = float(self.radius_mm), float(self.diameter_mm)
        axes = _radii(self._legs_mm, self._turns, radius + diameter / 2)
        return tuple(Corner(number, angle, axes[number], radius, diameter) for number, angle in self._turns)

    @cached_property
    def length_mm(self) -> float:
        """Length of its axis, arcs counted as arcs. [mm]"""
        saved = sum(2 * corner.takes_mm - corner.axis_mm * corner.angle_rad for corner in self.corners)
        return sum(self._legs_mm) - saved

    @cached_property
    def bends(self) -> tuple[Bend, ...]:
        """Its bends in order, each with its angle and the radius that there is room for. [-]"""
        return tuple(Bend(degrees(corner.angle_rad), corner.inside_mm) for corner in self.corners)

    @cached_property
    def too_short(self) -> tuple[str, ...]:
        """What is said where a leg is too short for the radius asked for. [-]"""
        return tuple(self._said(corner) for corner in self.corners if corner.tight)

    @property
    def in_words(self) -> str:
        """How long it is, how it turns, and where it lacks room. [-]"""
        bends = len(self.corners)
        turns = f"{bends} bend{'s' if bends != 1 else ''}" if bends else "no bend"
        return " ".join((f"The strand runs {self.length_mm:.1f} mm, with {turns}.", *self.too_short))

    def path(self, step_deg: float = 10.0) -> tuple[Vector, ...]:
        """Return places along the axis to draw it by, its arcs in short steps.

        Parameters
        ----------
        step_deg : float
            No step of an arc turns by more. [deg]

        Returns
        -------
        tuple of (float, float, float)
            Along, right and up of each place, both ends among them. [mm]

        Raises
        ------
        OutOfRange
            If the step is below 0.1 degree or above 90.

        References
        ----------
        Geometry of a circle that touches both legs.

        Examples
        --------
        >>> corner = Route((Point(0, 0, 0), Point(10, 0, 0), Point(10, 0, 10)), 4)
        >>> [tuple(round(each, 2) for each in place) for place in corner.path(45)]
        [(0.0, 0.0, 0.0), (6.0, 0.0, 0.0), (8.83, 0.0, 1.17), (10.0, 0.0, 4.0), (10.0, 0.0, 10.0)]
        """
        if not 0.1 <= step_deg <= 90:
            raise OutOfRange("step_deg", f"{step_deg:g} deg", "from 0.1 to 90 deg", "Write 10 for a smooth line.")
        places = [self.points[0].vector]
        for corner in self.corners:
            places += self._arc(corner, step_deg)
        return (*places, self.points[-1].vector)

    @cached_property
    def _ways(self) -> tuple[Vector, ...]:
        places = [point.vector for point in self.points]
        return tuple((b[0] - a[0], b[1] - a[1], b[2] - a[2]) for a, b in pairwise(places))

    @cached_property
    def _legs_mm(self) -> tuple[float, ...]:
        return tuple(hypot(*way) for way in self._ways)

    @cached_property
    def _turns(self) -> tuple[tuple[int, float], ...]:
        """Number of each point at which it turns, the first point of all counted as 1, and how far."""
        turns = ((at + 2, _turn(*self._ways[at : at + 2])) for at in range(len(self._ways) - 1))
        return tuple((number, angle) for number, angle in turns if angle > STRAIGHT_RAD)

    def _heading(self, leg: int) -> tuple[float, ...]:
        return tuple(each / self._legs_mm[leg] for each in self._ways[leg])

    def _said(self, corner: Corner) -> str:
        where = f"At point {corner.number} a leg is too short for a radius of {to_digits(corner.wanted_mm, 3)} mm"
        if not corner.inside_mm:
            return f"{where}: there is room for none. Move the points apart, or let the strand turn by less."
        return f"{where}: there is room for {to_digits(corner.inside_mm, 3)} mm."

    def _arc(self, corner: Corner, step_deg: float) -> list[Vector]:
        """Return places on a corner's arc, both its ends among them."""
        at = self.points[corner.number - 1].vector
        before, behind = (self._heading(leg) for leg in (corner.number - 2, corner.number - 1))
        if corner.axis_mm == 0:
            return [at]
        start = [place - corner.takes_mm * way for place, way in zip(at, before, strict=True)]
        cosine, sine = cos(corner.angle_rad), sin(corner.angle_rad)
        inward = [(b - cosine * a) / sine for a, b in zip(before, behind, strict=True)]
        steps = -int(-corner.angle_rad // radians(step_deg))
        turned = (corner.angle_rad * step / steps for step in range(steps + 1))
        return [_on_arc(start, before, inward, corner.axis_mm, angle) for angle in turned]


def _on_arc(start: Sequence[float], ahead: Sequence[float], inward: Sequence[float], radius: float, a: float) -> Vector:
    x, y, z = (
        place + radius * (sin(a) * way + (1 - cos(a)) * aside)
        for place, way, aside in zip(start, ahead, inward, strict=True)
    )
    return x, y, z


def _checked(points: object) -> tuple[Point, ...]:
    """Return the points of a route, refused where they make none."""
    if not isinstance(points, Sequence) or not all(isinstance(point, Point) for point in points):
        raise WrongKind("the route", shown(str(points)), "a list of points", "Write Point(along, right, up) for each.")
    if len(points) < 2:
        given = f"{len(points)} point{'s' if len(points) != 1 else ''}"
        raise OutOfRange("the route", given, "2 points or more", "Write where the strand begins and where it ends.")
    for number, (a, b) in enumerate(pairwise(points), start=1):
        if a.vector == b.vector:
            given = f"such that points {number} and {number + 1} are the same"
            raise OutOfRange("the route", given, "points that are apart", "Leave one of them out.")
    return tuple(points)


def _turn(before: Vector, behind: Vector) -> float:
    """Return the angle between two legs; by its sine and its cosine, so that small ones keep their digits. [rad]"""
    (a, b, c), (d, e, f) = before, behind
    return atan2(hypot(b * f - c * e, c * d - a * f, a * e - b * d), a * d + b * e + c * f)


def _radii(legs: tuple[float, ...], turns: tuple[tuple[int, float], ...], wanted: float) -> dict[int, float]:
    """Return the radius of the axis at each corner: all grow together until a leg is full.

    A stretch runs from corner to corner, over points at which the route does not turn.
    """
    stops = [1, *(number for number, _ in turns), len(legs) + 1]
    room = [sum(legs[a - 1 : b - 1]) for a, b in pairwise(stops)]
    takes = [tan(angle / 2) for _, angle in turns]
    found = [wanted] * len(turns)
    growing = set(range(len(turns)))
    while growing:
        levels = {at: _level(at, room, takes, found, growing) for at in range(len(room))}
        level = min(levels.values())
        if level >= wanted:
            break
        full = {at for at, reached in levels.items() if reached == level}
        stopped = {corner for corner in growing if corner in full or corner + 1 in full}
        for corner in stopped:
            found[corner] = max(level, 0.0)
        growing -= stopped
    return {number: found[at] for at, (number, _) in enumerate(turns)}


def _level(at: int, room: list[float], takes: list[float], found: list[float], growing: set[int]) -> float:
    """Return the radius at which a stretch is full, infinite where none of its corners still grows."""
    ends = [corner for corner in (at - 1, at) if 0 <= corner < len(takes)]
    still = sum(takes[corner] for corner in ends if corner in growing)
    taken = sum(takes[corner] * found[corner] for corner in ends if corner not in growing)
    return (room[at] - taken) / still if still else float("inf")

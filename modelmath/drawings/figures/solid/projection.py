"""How a point of the model falls on the picture: seen from far away, so that parallel lines stay parallel.

Turn 0, tilt 0 is the side view: front to the left. A turn brings the front end nearer, a tilt the roof: turned by 90
degrees one looks at the front end, tilted by 90 from above.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from functools import cached_property
from math import cos, radians, sin

from modelmath.drawings.figures.solid.order import Vector
from modelmath.drawings.shapes import Point

TURN, TILT = 32.0, 24.0  # the view to begin with: front end, right side and top in sight
MOST_TILT = 90.0


@dataclass(frozen=True)
class View:
    """Where the model is seen from.

    Attributes
    ----------
    turn_deg : float
        0 from the side, 90 from the front end, 180 from the other side, 270 from the rear end. [degree]
    tilt_deg : float
        0 from its own level, 90 from above, -90 from below. [degree]
    """

    turn_deg: float = TURN
    tilt_deg: float = TILT

    @cached_property
    def axes(self) -> tuple[Vector, Vector, Vector]:
        """What points right, up and towards the viewer on the picture, each along, across and up in the model. [-]"""
        turn, tilt = radians(self.turn_deg), radians(self.tilt_deg)
        c, s, cc, ss = cos(turn), sin(turn), cos(tilt), sin(tilt)
        return (c, s, 0.0), (s * ss, -c * ss, cc), (-s * cc, c * cc, ss)

    @property
    def toward(self) -> Vector:
        """The way to the viewer: along, across, up. [-]"""
        return self.axes[2]

    def at(self, point: Vector) -> Point:
        """Return where a point falls on the picture.

        Parameters
        ----------
        point : tuple of three
            Along, across, up. [mm]

        Returns
        -------
        tuple of two
            Right and up. [mm]

        References
        ----------
        Orthographic projection: ISO 5456-3, axonometric representations.

        Examples
        --------
        >>> View(0, 0).at((3.0, 1.0, 2.0)), View(0, 90).at((3.0, 1.0, 2.0))[0]
        ((3.0, 2.0), 3.0)
        """
        right, up, _ = self.axes
        return _dot(right, point), _dot(up, point)

    def extent(self, points: Iterable[Vector]) -> tuple[Point, Point]:
        """Return how far points reach on the picture.

        Parameters
        ----------
        points : iterable of tuples of three
            The points. [mm]

        Returns
        -------
        tuple of two
            Left and right, bottom and top. [mm]

        References
        ----------
        `at`.
        """
        across, up = zip(*(self.at(point) for point in points), strict=True)
        return (min(across), max(across)), (min(up), max(up))


def _dot(one: Vector, other: Vector) -> float:
    return one[0] * other[0] + one[1] * other[1] + one[2] * other[2]

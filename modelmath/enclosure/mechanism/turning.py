"""A box that turns about a pivot, seen from above: how far it reaches over all its positions, exactly.

Every reach is the largest value of ``b cos t + h sin t`` as the angle t runs from 0 to the full swing: a corner at
(b, h). It lies at the end of the swing, unless the corner passes its farthest point on the way.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import atan2, cos, sin
from typing import Any

from modelmath.enclosure.mechanism.kinds import (
    arcsine,
    check_angle,
    check_finite,
    check_least,
    cosine,
    magnitude,
    nominal,
    sine,
)
from modelmath.errors import OutOfRange


@dataclass(frozen=True)
class PlanBox:
    """A rectangle seen from above, by how far it reaches from the pivot.

    Attributes
    ----------
    ahead_mm, behind_mm : float, Fraction or uncertain number
        From the pivot to its front and to its rear end; below 0 where all of it lies on the other side. [mm]
    half_width_mm : float, Fraction or uncertain number
        From the centre line to its side. [mm]
    """

    ahead_mm: Any
    behind_mm: Any
    half_width_mm: Any

    def __post_init__(self) -> None:
        check_finite("reach ahead of the pivot", self.ahead_mm)
        check_finite("reach behind the pivot", self.behind_mm)
        check_least("half width", self.half_width_mm)
        length = nominal(self.ahead_mm) + nominal(self.behind_mm)
        if length < 0:
            raise OutOfRange(
                "length of the box",
                f"{length:.2f} mm",
                "0 or more",
                "Count both ends from the pivot; an end on the other side of it is below 0.",
            )

    @property
    def far_end_mm(self) -> Any:
        """Distance of its farther end from the pivot. [mm]"""
        return max(magnitude(self.ahead_mm), magnitude(self.behind_mm), key=nominal)


def reach(along_mm: Any, across_mm: Any, angle_rad: Any) -> Any:
    """Return how far a corner gets in one direction while it turns to either side.

    Parameters
    ----------
    along_mm : float, Fraction or uncertain number
        Distance of the corner from the pivot in that direction, at rest. [mm]
    across_mm : float, Fraction or uncertain number
        Distance of the corner from the pivot at right angles to it, 0 or more. [mm]
    angle_rad : float or uncertain number
        Full swing to one side, below a right angle. [rad]

    Returns
    -------
    float or uncertain number
        The farthest it gets. [mm]

    References
    ----------
    Elementary geometry: the maximum of ``b cos t + h sin t`` lies at ``t = atan2(h, b)``, or at the end of the swing.

    Examples
    --------
    >>> from math import radians
    >>> round(reach(10, 3, radians(5)), 4), round(reach(10, 3, radians(30)), 4)  # the second has passed its farthest
    (10.2234, 10.4403)
    """
    b, h = nominal(along_mm), nominal(across_mm)
    if h == 0 and b >= 0:
        return along_mm * 1.0
    if atan2(h, b) <= nominal(angle_rad):
        return (along_mm**2 + across_mm**2) ** 0.5
    return along_mm * cosine(angle_rad) + across_mm * sine(angle_rad)


def turned(box: PlanBox, angle_rad: Any) -> PlanBox:
    """Return the least upright box round all positions of a box that turns about its pivot to either side.

    Parameters
    ----------
    box : PlanBox
        The box at rest. [mm]
    angle_rad : float or uncertain number
        Full swing to one side, below a right angle. [rad]

    Returns
    -------
    PlanBox
        The reach of the swept figure; exact. [mm]

    Raises
    ------
    OutOfRange
        If the angle is below 0, or a right angle or more.

    References
    ----------
    Elementary geometry: a straight side never reaches further than its corners.

    Examples
    --------
    >>> from math import radians
    >>> swept = turned(PlanBox(20, 20, 8), radians(6))
    >>> round(swept.behind_mm, 3), round(swept.half_width_mm, 3)
    (20.727, 10.047)
    """
    check_angle("swing", angle_rad)
    half = box.half_width_mm
    return PlanBox(
        reach(box.ahead_mm, half, angle_rad),
        reach(box.behind_mm, half, angle_rad),
        reach(half, box.far_end_mm, angle_rad),
    )


def with_play(box: PlanBox, side_play_mm: Any, end_play_mm: Any = 0) -> PlanBox:
    """Return a box grown by the play of its pivot in the body.

    Parameters
    ----------
    box : PlanBox
        The box, turned or not. [mm]
    side_play_mm, end_play_mm : float, Fraction or uncertain number
        How far the pivot shifts to either side, and to either end, from its middle. [mm]

    Returns
    -------
    PlanBox
        Its reach over all shifts: the Minkowski sum with the box of the play. [mm]

    Raises
    ------
    OutOfRange
        If a play is below 0.

    References
    ----------
    Minkowski sum of two upright boxes; arithmetic.

    Examples
    --------
    >>> with_play(PlanBox(20, 15, 8), 0.5, 0.25)
    PlanBox(ahead_mm=20.25, behind_mm=15.25, half_width_mm=8.5)
    """
    check_least("side play", side_play_mm)
    check_least("end play", end_play_mm)
    ahead, behind = box.ahead_mm + end_play_mm, box.behind_mm + end_play_mm
    return PlanBox(ahead, behind, box.half_width_mm + side_play_mm)


def leaned(box: PlanBox, height_mm: Any, rock_rad: Any = 0.0, roll_rad: Any = 0.0) -> PlanBox:
    """Return the plan of a box whose upper edge leans out as it rocks endways and rolls sideways.

    Parameters
    ----------
    box : PlanBox
        The box upright. [mm]
    height_mm : float, Fraction or uncertain number
        Greatest distance, up or down, of any of it from the axis it rocks about. [mm]
    rock_rad, roll_rad : float or uncertain number
        Angle endways and sideways, to one side. [rad]

    Returns
    -------
    PlanBox
        Never less than it takes; more by what is small of second order. [mm]

    Raises
    ------
    OutOfRange
        If an angle or the height is out of range.

    References
    ----------
    Elementary geometry; sideways first, then endways.

    Examples
    --------
    >>> from math import radians
    >>> round(leaned(PlanBox(10, 10, 5), 12, rock_rad=radians(2)).ahead_mm, 3)
    10.413
    """
    check_least("height above the axis", height_mm)
    check_angle("rock", rock_rad)
    check_angle("roll", roll_rad)
    tall = reach(height_mm, box.half_width_mm, roll_rad)
    return PlanBox(
        reach(box.ahead_mm, tall, rock_rad),
        reach(box.behind_mm, tall, rock_rad),
        reach(box.half_width_mm, height_mm, roll_rad),
    )


def rise(box: PlanBox, rock_rad: Any = 0.0, roll_rad: Any = 0.0, height_mm: Any = 0) -> Any:
    """Return how much higher the top of a box comes as it rocks endways and rolls sideways.

    Parameters
    ----------
    box : PlanBox
        The box upright, its ends counted from the axis. [mm]
    rock_rad, roll_rad : float or uncertain number
        Angle endways and sideways, to one side. [rad]
    height_mm : float, Fraction or uncertain number
        Height of its top above the axis; the higher, the less it rises, so that 0 holds for any axis below. [mm]

    Returns
    -------
    float or uncertain number
        Rise of its highest corner, exact. [mm]

    Raises
    ------
    OutOfRange
        If an angle is out of range.

    References
    ----------
    Elementary geometry; sideways first, then endways.

    Examples
    --------
    >>> from math import radians
    >>> round(rise(PlanBox(20, 15, 8), radians(2)), 3), round(rise(PlanBox(20, 15, 8), radians(2), height_mm=12), 3)
    (0.698, 0.691)
    """
    check_angle("rock", rock_rad)
    check_angle("roll", roll_rad)
    check_finite("height above the axis", height_mm)
    return reach(reach(height_mm, box.half_width_mm, roll_rad), box.far_end_mm, rock_rad) - height_mm


def tilt(rise_mm: Any, far_end_mm: Any) -> Any:
    """Return the angle at which an end stands higher by so much.

    Parameters
    ----------
    rise_mm : float, Fraction or uncertain number
        How far the end can be lifted from level. [mm]
    far_end_mm : float, Fraction or uncertain number
        Distance of that end from the axis. [mm]

    Returns
    -------
    float or uncertain number
        Angle to one side. [rad]

    Raises
    ------
    OutOfRange
        If the rise is below 0, or as much as the distance or more.

    References
    ----------
    Elementary geometry.

    Examples
    --------
    >>> from math import degrees
    >>> round(degrees(tilt(0.7, 20)), 2)
    2.01
    """
    check_least("rise of the end", rise_mm)
    check_least("distance of the end from its axis", far_end_mm, above=True)
    if nominal(rise_mm) >= nominal(far_end_mm):
        given, most = f"{nominal(rise_mm):g} mm", f"less than its distance from the axis, {nominal(far_end_mm):g} mm"
        raise OutOfRange("rise of the end", given, most, "Measure how far the end lifts from level, such as 0.5 mm.")
    return arcsine(rise_mm / far_end_mm)


def corners(box: PlanBox, angle_rad: float, side_shift_mm: float = 0.0) -> tuple[tuple[float, float], ...]:
    """Return the corners of a box turned about its pivot, for a picture.

    Parameters
    ----------
    box : PlanBox
        The box at rest. [mm]
    angle_rad : float
        How far it is turned, from the rear end towards the side of positive y. [rad]
    side_shift_mm : float
        How far the pivot is shifted to that side. [mm]

    Returns
    -------
    tuple of (float, float)
        Along and across from the pivot: rear right, rear left, front left, front right, rear being positive x. [mm]

    References
    ----------
    Elementary geometry.

    Examples
    --------
    >>> corners(PlanBox(2, 1, 1), 0.0)
    ((1.0, 1.0), (1.0, -1.0), (-2.0, -1.0), (-2.0, 1.0))
    """
    ahead, behind, half = (nominal(each) for each in (box.ahead_mm, box.behind_mm, box.half_width_mm))
    points = ((behind, half), (behind, -half), (-ahead, -half), (-ahead, half))
    c, s = cos(angle_rad), sin(angle_rad)
    return tuple((x * c - y * s, x * s + y * c + side_shift_mm) for x, y in points)

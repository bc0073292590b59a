"""A vehicle on a curve: how far its trucks turn under it, and how far its body swings out.

The yaw of the trucks is what needs room inside the shell. The throw of the body concerns what stands beside the
track; it is a calculation of its own and never takes room inside.
"""

from __future__ import annotations

from typing import Any

from modelmath.enclosure.mechanism.kinds import arcsine, check_least, nominal
from modelmath.errors import OutOfRange


def yaw(pivot_spacing_mm: Any, radius_mm: Any, wheelbase_mm: Any = 0) -> Any:
    """Return how far a truck turns against the body on a curve, to either side.

    Parameters
    ----------
    pivot_spacing_mm : float, Fraction, uncertain number or array
        Distance between the two pivots. [mm]
    radius_mm : float, Fraction, uncertain number or array
        Radius of the tightest curve, to the middle of the track. [mm]
    wheelbase_mm : float, Fraction, uncertain number or array
        Distance between the truck's outer axles; 0 leaves it out of account. [mm]

    Returns
    -------
    same kind
        Angle to one side. [rad]

    Raises
    ------
    WrongKind
        If a length is text or a prototype length.
    OutOfRange
        If a length is below 0 or the curve is too tight for the pivots.

    Notes
    -----
    ``asin(a / 2R)``: the truck lies along the curve at its pivot, the body along the chord between the pivots. Where
    a curve runs into straight track, or into the opposite curve of the same radius, no truck turns further.

    References
    ----------
    Elementary geometry: the angle between a chord and the tangent at its end.

    Examples
    --------
    >>> from math import degrees
    >>> round(degrees(yaw(90, 457.2)), 5)
    5.64849
    """
    _check(pivot_spacing_mm, radius_mm, wheelbase_mm)
    return arcsine(pivot_spacing_mm / (2 * (radius_mm**2 - (wheelbase_mm / 2) ** 2) ** 0.5))


def mid_throw(pivot_spacing_mm: Any, radius_mm: Any, wheelbase_mm: Any = 0) -> Any:
    """Return how far the middle of the body lies towards the inside of a curve, on its centre line.

    Parameters
    ----------
    pivot_spacing_mm : float, Fraction, uncertain number or array
        Distance between the two pivots. [mm]
    radius_mm : float, Fraction, uncertain number or array
        Radius of the curve, to the middle of the track. [mm]
    wheelbase_mm : float, Fraction, uncertain number or array
        Distance between the truck's outer axles; 0 leaves it out of account. [mm]

    Returns
    -------
    same kind
        Throw to the inside, exact; add half the body's width for its side. [mm]

    Raises
    ------
    WrongKind
        If a length is text or a prototype length.
    OutOfRange
        If a length is below 0 or the curve is too tight for the pivots.

    Notes
    -----
    ``R - sqrt(R^2 - (a/2)^2)``. A truck of wheelbase b is itself a chord, its pivot a little inside the middle of the
    track: exactly ``R - sqrt(R^2 - (a^2 + b^2)/4)``.

    References
    ----------
    Elementary geometry: the sagitta of a chord.

    Examples
    --------
    >>> round(mid_throw(90, 457.2), 5)
    2.21996
    """
    _check(pivot_spacing_mm, radius_mm, wheelbase_mm)
    square = (pivot_spacing_mm**2 + wheelbase_mm**2) / 4
    # The same as R - sqrt(...), without the difference of two nearly equal numbers on a wide curve.
    return square / (radius_mm + (radius_mm**2 - square) ** 0.5)


def end_throw(pivot_spacing_mm: Any, radius_mm: Any, body_length_mm: Any, wheelbase_mm: Any = 0) -> Any:
    """Return how far the end of the body lies towards the outside of a curve, on its centre line.

    Parameters
    ----------
    pivot_spacing_mm : float, Fraction, uncertain number or array
        Distance between the two pivots, which stand as far from either end. [mm]
    radius_mm : float, Fraction, uncertain number or array
        Radius of the curve, to the middle of the track. [mm]
    body_length_mm : float, Fraction, uncertain number or array
        Length of the body; with unlike ends, twice the distance of the far one from the middle of the pivots. [mm]
    wheelbase_mm : float, Fraction, uncertain number or array
        Distance between the truck's outer axles; 0 leaves it out of account. [mm]

    Returns
    -------
    same kind
        Throw to the outside, exact; below 0 where the end lies inside. Add half the body's width for its corner. [mm]

    Raises
    ------
    WrongKind
        If a length is text or a prototype length.
    OutOfRange
        If a length is below 0 or the curve is too tight for the pivots.

    Notes
    -----
    ``sqrt((R - mid throw)^2 + (L/2)^2) - R``. Half the width, added for the corner, is never less than the corner
    takes.

    References
    ----------
    Elementary geometry.

    Examples
    --------
    >>> round(end_throw(90, 457.2, 140), 5)
    3.1334
    """
    _check(pivot_spacing_mm, radius_mm, wheelbase_mm)
    check_least("length of the body", body_length_mm)
    over = (body_length_mm**2 - pivot_spacing_mm**2 - wheelbase_mm**2) / 4
    return over / (radius_mm + (radius_mm**2 + over) ** 0.5)


def lineside_reach(
    pivot_spacing_mm: Any, radius_mm: Any, body_length_mm: Any, body_width_mm: Any, wheelbase_mm: Any = 0
) -> tuple[Any, Any]:
    """Return how far the sides of a body reach from the middle of the track on a curve, for what stands beside it.

    Parameters
    ----------
    pivot_spacing_mm, radius_mm, body_length_mm, wheelbase_mm : float, Fraction, uncertain number or array
        As for `end_throw`. [mm]
    body_width_mm : float, Fraction, uncertain number or array
        Width over all. [mm]

    Returns
    -------
    tuple of two
        To the inside, at its middle, and to the outside, at its corners; exact, without any clearance. [mm]

    Raises
    ------
    WrongKind, OutOfRange
        As `end_throw`.

    References
    ----------
    Elementary geometry.

    Examples
    --------
    >>> inside, outside = lineside_reach(90, 457.2, 140, 32)
    >>> round(inside, 2), round(outside, 2)
    (18.22, 18.95)
    """
    check_least("length of the body", body_length_mm)
    check_least("width of the body", body_width_mm)
    middle = mid_throw(pivot_spacing_mm, radius_mm, wheelbase_mm)
    corner = ((radius_mm - middle + body_width_mm / 2) ** 2 + (body_length_mm / 2) ** 2) ** 0.5
    return middle + body_width_mm / 2, corner - radius_mm


def _check(pivot_spacing: Any, radius: Any, wheelbase: Any) -> None:
    check_least("distance between the pivots", pivot_spacing)
    check_least("radius of the curve", radius, above=True)
    check_least("wheelbase of the truck", wheelbase)
    room = 4 * radius**2 - pivot_spacing**2 - wheelbase**2
    if nominal(room) <= 0:
        least = -nominal(-((pivot_spacing**2 + wheelbase**2) ** 0.5)) / 2
        raise OutOfRange(
            "radius of the curve",
            f"{nominal(radius):.2f} mm",
            f"above {least:.2f} mm for pivots so far apart",
            "Write the radius to the middle of the track, with its unit, such as 18 in.",
        )

"""One formula for plain numbers, uncertain numbers and arrays: which functions of sine and cosine each kind takes."""

from __future__ import annotations

import math
from numbers import Real
from typing import Any

from modelmath.errors import OutOfRange, WrongKind, shown
from modelmath.lengths.numbers import check_kind


def nominal(value: Any) -> float:
    """Return the best value of a number, the least of an array.

    Parameters
    ----------
    value : float, Fraction, uncertain number or array
        Any number. [mm, or rad for an angle]

    Returns
    -------
    float
        Its best value. [mm, or rad for an angle]

    References
    ----------
    None needed.

    Examples
    --------
    >>> nominal(3)
    3.0
    """
    if getattr(value, "ndim", 0):
        return float(value.min())
    return float(getattr(value, "nominal_value", value))


def magnitude(value: Any) -> Any:
    """Return a number without its sign; an uncertain one keeps its sources.

    Parameters
    ----------
    value : float, Fraction or uncertain number
        Any number. [mm]

    Returns
    -------
    same kind
        Its magnitude. [mm]

    References
    ----------
    None needed.

    Examples
    --------
    >>> magnitude(-3)
    3
    """
    return -value if nominal(value) < 0 else value


def check_least(name: str, value: Any, least: float = 0.0, above: bool = False) -> None:
    """Refuse what is no number of mm, not finite, or below a bound.

    Parameters
    ----------
    name : str
        What a message calls it. [-]
    value : float, Fraction, uncertain number or array
        What was given. [mm]
    least : float
        The bound. [mm]
    above : bool
        Whether the bound itself is refused too. [-]

    Raises
    ------
    WrongKind
        If it is text, a prototype length or no number.
    OutOfRange
        If it is not finite, or below the bound.

    References
    ----------
    None needed.

    Examples
    --------
    >>> check_least("running clearance", 0.3)
    """
    if not getattr(value, "ndim", 0):
        check_kind(name, getattr(value, "nominal_value", value))
    smallest = nominal(value)
    if not (math.isfinite(smallest) and math.isfinite(nominal(-value))):  # of an array, the least and the greatest
        raise OutOfRange(name, f"{smallest:g} mm", "a finite number", "Check the readings behind it.")
    if smallest < least or (above and smallest == least):
        bound = f"above {least:g}" if above else f"{least:g} or more"
        raise OutOfRange(name, f"{smallest:g} mm", bound, "Measure it on the model, such as 0.5 mm.")


def check_finite(name: str, value: Any) -> None:
    """Refuse what is no finite number of mm; any sign will do.

    Parameters
    ----------
    name : str
        What a message calls it. [-]
    value : float, Fraction, uncertain number or array
        What was given. [mm]

    Raises
    ------
    WrongKind
        If it is text, a prototype length or no number.
    OutOfRange
        If it is not finite.

    References
    ----------
    None needed.

    Examples
    --------
    >>> check_finite("place of the pivot", -40)
    """
    check_least(name, value, -math.inf)


def check_angle(name: str, value: Any) -> None:
    """Refuse an angle below 0 or not below a right angle.

    Parameters
    ----------
    name : str
        What a message calls it. [-]
    value : float or uncertain number
        The angle. [rad]

    Raises
    ------
    WrongKind
        If it is no number.
    OutOfRange
        If it is below 0, a right angle or more, or not finite.

    References
    ----------
    None needed.

    Examples
    --------
    >>> check_angle("yaw", 0.1)
    """
    plain = getattr(value, "nominal_value", value)
    if isinstance(plain, bool) or not isinstance(plain, Real):
        raise WrongKind(name, shown(str(value)), "an angle in radians", "Write math.radians(6) for six degrees.")
    if not 0 <= nominal(value) < math.pi / 2:
        given = f"{math.degrees(nominal(value)):g} degrees"
        raise OutOfRange(
            name, given, "from 0 to below 90 degrees", "Write the angle to one side, such as math.radians(6)."
        )


def _functions(value: Any) -> Any:
    if hasattr(value, "std_dev"):
        from uncertainties import umath

        return umath
    if getattr(value, "ndim", 0):
        import numpy as np

        return np
    return math


def sine(angle: Any) -> Any:
    """Return the sine.

    Parameters
    ----------
    angle : float, uncertain number or array
        Angle. [rad]

    Returns
    -------
    same kind
        Sine. [-]

    References
    ----------
    None needed.

    Examples
    --------
    >>> sine(0)
    0.0
    """
    return _functions(angle).sin(angle)


def cosine(angle: Any) -> Any:
    """Return the cosine.

    Parameters
    ----------
    angle : float, uncertain number or array
        Angle. [rad]

    Returns
    -------
    same kind
        Cosine. [-]

    References
    ----------
    None needed.

    Examples
    --------
    >>> cosine(0)
    1.0
    """
    return _functions(angle).cos(angle)


def arcsine(value: Any) -> Any:
    """Return the angle whose sine is given.

    Parameters
    ----------
    value : float, Fraction, uncertain number or array
        Sine. [-]

    Returns
    -------
    same kind
        Angle. [rad]

    References
    ----------
    None needed.

    Examples
    --------
    >>> arcsine(0)
    0.0
    """
    functions = _functions(value)
    return functions.arcsin(value) if getattr(value, "ndim", 0) else functions.asin(value)

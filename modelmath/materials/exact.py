"""Numbers from callers, made exact: a section, a drill and a saw cut are compared without rounding."""

from __future__ import annotations

import math
from decimal import Decimal
from fractions import Fraction

from modelmath.errors import OutOfRange, WrongKind

SNAP_PER_MM = 10**6  # a float is taken to the nearest millionth of a mm: above float noise, far below any cut


def exact_mm(value: Fraction | float, name: str, *, zero: bool = False) -> Fraction:
    """Return a length as an exact fraction; a Fraction or int as it is, a float to the nearest 0.000001 mm.

    Parameters
    ----------
    value : Fraction, int or float
        The length. [mm]
    name : str
        What a message calls it. [-]
    zero : bool
        Whether 0 is allowed too. [-]

    Returns
    -------
    Fraction
        The same length. [mm]

    Raises
    ------
    WrongKind
        If it is not a number.
    OutOfRange
        If it is not finite, below 0, or 0 where that is not allowed.

    References
    ----------
    IEEE 754: a decimal such as 0.1 has no exact float, so sums that should just fit may not.

    Examples
    --------
    >>> exact_mm(0.1 + 0.2, "length_mm")
    Fraction(3, 10)
    """
    if type(value) is Fraction and value.numerator > 0:
        return value  # most are, and a plan asks thousands of times
    if isinstance(value, bool) or not isinstance(value, (Fraction, int, float)):
        raise WrongKind(name, repr(value), "a plain number of mm", "Read text with parse_length first.")
    lowest = "0 mm or more" if zero else "above 0 mm"
    if not math.isfinite(value):
        raise OutOfRange(name, f"{value} mm", f"a finite length {lowest}", "Write a number of mm.")
    exact = Fraction(round(value * SNAP_PER_MM), SNAP_PER_MM) if isinstance(value, float) else Fraction(value)
    if exact < 0 or (exact == 0 and not zero):
        raise OutOfRange(name, f"{float(value):g} mm", lowest, "Write a positive number of mm.")
    return exact


def half_last_digit(printed: str) -> Fraction:
    """Return half a unit of the last digit a number is printed to: how far a rounded copy of it may be off.

    Parameters
    ----------
    printed : str
        The number as printed, its last zeros too. [any unit]

    Returns
    -------
    Fraction
        Half a unit of its last digit. [same unit]

    References
    ----------
    Arithmetic of rounding to the nearest.

    Examples
    --------
    >>> half_last_digit("0.40")
    Fraction(1, 200)
    """
    return Fraction(Decimal(5).scaleb(int(Decimal(printed).as_tuple().exponent) - 1))

"""Volts, amperes and shares that a caller gives: checked once, and told in three digits."""

from __future__ import annotations

from fractions import Fraction
from math import isfinite
from numbers import Real
from typing import TypeAlias

from modelmath.errors import OutOfRange, WrongKind, shown
from modelmath.quantities.band import Band
from modelmath.quantities.known import Known
from modelmath.quantities.text import EXAMPLES, kind_of, told

Figure: TypeAlias = Known | Fraction | float

_UNITS = {"v": ("V", "12"), "a": ("A", "0.002"), "ohm": ("ohm", "4700"), "w": ("W", "0.1")}
MILLI_BELOW_W = 0.1  # the power below which milliwatts are told
ROUNDING = 1e-9  # of a figure: what arithmetic in floating point may add; no part is sold that close


def as_known(name: str, value: Figure, field: str, *, zero: bool = False) -> Known:
    """Return a figure with its limits; a plain number has none.

    Parameters
    ----------
    name : str
        What a message calls it. [-]
    value : Known, Fraction or float
        The figure. [V, A, ohm or W, by the field]
    field : str
        A name that ends in its unit, such as ``supply_v``. [-]
    zero : bool
        Whether 0 is allowed. [-]

    Returns
    -------
    Known
        The same figure, above 0 with its limits. [V, A, ohm or W, by the field]

    Raises
    ------
    WrongKind
        If it is text, or no number at all.
    OutOfRange
        If it is not finite, below 0, or 0 where that is not allowed.

    References
    ----------
    None needed.

    Examples
    --------
    >>> as_known("the supply", 12, "supply_v")
    Known(value=12.0, low=12.0, high=12.0, origin='given', why='')
    >>> as_known("the supply", "12 V", "supply_v")
    Traceback (most recent call last):
    modelmath.errors.WrongKind: the supply is '12 V'; expected a number of V. Read text with parse_quantity first.
    """
    unit, example = _UNITS[field.rpartition("_")[2]]
    if isinstance(value, Known):
        known = value
    elif isinstance(value, bool) or not isinstance(value, Real):
        told_so = "Read text with parse_quantity first." if isinstance(value, str) else f"Write it, such as {example}."
        raise WrongKind(name, shown(str(value)), f"a number of {unit}", told_so)
    elif not isfinite(value):
        raise OutOfRange(name, f"{float(value):g} {unit}", "a finite number", f"Write it in {unit}, such as {example}.")
    else:
        number = float(value)
        known = Known(number, number, number)
    if known.low < 0 or (known.low == 0 and not zero):
        expected = "0 or more" if zero else "above 0, its lower limit too"
        advice = f"Write it above 0, such as {EXAMPLES[kind_of(field)]}."
        raise OutOfRange(name, f"{known.low:g} {unit}", expected, advice)
    return known


def check_part(name: str, value: object, *, zero: bool, one: bool) -> float:
    """Return a part of a whole as a float, or refuse it.

    Parameters
    ----------
    name : str
        What a message calls it. [-]
    value : float
        The part, 0.05 for five percent. [-]
    zero, one : bool
        Whether nothing and the whole are allowed. [-]

    Returns
    -------
    float
        The same. [-]

    Raises
    ------
    WrongKind
        If it is no number.
    OutOfRange
        If it is not between 0 and 1.

    References
    ----------
    None needed.

    Examples
    --------
    >>> check_part("the tolerance", 5, zero=True, one=False)
    Traceback (most recent call last):
    modelmath.errors.OutOfRange: the tolerance is 5; it must be from 0 to below 1. Write five percent as 0.05.
    """
    if isinstance(value, bool) or not isinstance(value, Real):
        raise WrongKind(name, shown(str(value)), "a number between 0 and 1", "Write five percent as 0.05.")
    part = float(value)
    if not (0 < part < 1 or (zero and part == 0) or (one and part == 1)):
        expected = f"{'from' if zero else 'above'} 0 {'to' if one else 'to below'} 1"
        raise OutOfRange(name, f"{part:g}", expected, "Write five percent as 0.05.")
    return part


def check_count(name: str, value: object) -> int:
    """Return a count, or refuse what is no whole number from 1.

    Parameters
    ----------
    name : str
        What a message calls it. [-]
    value : int
        How many. [-]

    Returns
    -------
    int
        The same. [-]

    Raises
    ------
    WrongKind
        If it is no whole number.
    OutOfRange
        If it is below 1.

    References
    ----------
    None needed.

    Examples
    --------
    >>> check_count("the number of LEDs", 0)
    Traceback (most recent call last):
    modelmath.errors.OutOfRange: the number of LEDs is 0; it must be 1 or more. Write how many there are.
    """
    if isinstance(value, bool) or not isinstance(value, int):
        raise WrongKind(name, shown(str(value)), "a whole number", "Write how many there are, such as 2.")
    if value < 1:
        raise OutOfRange(name, str(value), "1 or more", "Write how many there are.")
    return value


def told_band(band: Band, field: str) -> str:
    """Return a result as a sentence tells it, with its limits where three digits show them.

    Parameters
    ----------
    band : Band
        The result. [unit of the field]
    field : str
        A name that ends in its unit. [-]

    Returns
    -------
    str
        Such as ``4.64 mA (4.42 to 4.88 mA)``. [-]

    References
    ----------
    None needed.

    Examples
    --------
    >>> told_band(Band(0.00464, 0.00442, 0.00488), "current_a"), told_band(Band(2.0, 2.0, 2.0), "left_v")
    ('4.64 mA (4.42 to 4.88 mA)', '2 V')
    """
    watts = field.endswith("_w")
    small = band.high < MILLI_BELOW_W
    best, low, high = (
        told_w(each, milli=small) if watts else told(each, field) for each in (band.best, band.low, band.high)
    )
    if best == low == high:
        return best
    return f"{best} ({low.rpartition(' ')[0]} to {high})"


def told_w(power_w: float, *, milli: bool | None = None) -> str:
    """Return a power as a sentence tells it, a small one in milliwatts.

    Parameters
    ----------
    power_w : float
        The power. [W]
    milli : bool or None
        Whether in milliwatts; None to go by its size. [-]

    Returns
    -------
    str
        Number and unit, three digits. [-]

    References
    ----------
    SI brochure, 9th edition, for the prefix.

    Examples
    --------
    >>> told_w(0.00848), told_w(0.206)
    ('8.48 mW', '0.206 W')
    """
    in_milli = power_w < MILLI_BELOW_W if milli is None else milli
    return f"{told(1000 * power_w, 'power_w').removesuffix('W')}mW" if in_milli else told(power_w, "power_w")


def told_share(share: float) -> str:
    """Return a share as a sentence tells it.

    Parameters
    ----------
    share : float
        The share, 1 for all. [-]

    Returns
    -------
    str
        In percent, a small one with more digits. [-]

    References
    ----------
    None needed.

    Examples
    --------
    >>> told_share(0.927), told_share(0.0042), told_share(1.5)
    ('93 %', '0.42 %', '150 %')
    """
    percent = 100 * share
    return f"{percent:.0f} %" if percent >= 9.5 else f"{percent:.2g} %"

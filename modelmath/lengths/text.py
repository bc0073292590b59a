"""A length as text: to a rule's marks as a fraction, or to the decimals a person can use."""

from __future__ import annotations

from fractions import Fraction
from math import isfinite
from typing import Any

from modelmath.errors import OutOfRange, WrongKind, shown
from modelmath.lengths.prototype import PrototypeLength
from modelmath.lengths.scales import Scale
from modelmath.lengths.units import mm_per, unit_name

SNAP_MM = Fraction(1, 10**9)  # a float this near a mark is that mark: far below any part, far above float error
DECIMALS = {"mm": 2, "cm": 3, "m": 4, "in": 3, "ft": 4, "scale foot": 3, "scale inch": 2}
SYMBOLS = {"scale foot": "scale ft", "scale inch": "scale in"}


def in_steps(mm: Fraction | float, step_mm: Fraction) -> Fraction:
    """Return a length counted in steps, exact.

    A Fraction is taken as it is. A float within `SNAP_MM` of a whole or half step is that step, so that
    a tie stays a tie in scales whose foot is no binary fraction of a millimetre.

    Parameters
    ----------
    mm : Fraction or float
        Length. [mm]
    step_mm : Fraction
        Length of a step, above 0. [mm]

    Returns
    -------
    Fraction
        Number of steps. [-]

    References
    ----------
    Arithmetic.

    Examples
    --------
    >>> in_steps(3 * 1.905 / 8, Fraction(381, 200) / 4)  # 3/8 of an N scale foot in quarters
    Fraction(3, 2)
    """
    steps = Fraction(mm) / step_mm
    if isinstance(mm, Fraction):
        return steps
    halves = Fraction(round(steps * 2), 2)
    return halves if abs(halves - steps) * step_mm <= SNAP_MM else steps


def round_half_up(value: Fraction) -> int:
    """Return the nearest whole number, ties away from zero.

    Parameters
    ----------
    value : Fraction
        Any number. [-]

    Returns
    -------
    int
        The nearest whole number. [-]

    References
    ----------
    Arithmetic.

    Examples
    --------
    >>> round_half_up(Fraction(5, 2)), round_half_up(Fraction(-5, 2))
    (3, -3)
    """
    whole = int(abs(value) + Fraction(1, 2))
    return -whole if value < 0 else whole


def to_digits(value: float, digits: int = 2) -> str:
    """Write a number to so many digits that count, without a power of ten where it need not have one.

    Parameters
    ----------
    value : float
        The number. [its own unit]
    digits : int
        How many. [-]

    Returns
    -------
    str
        The number, without its unit. [-]

    References
    ----------
    None needed.

    Examples
    --------
    >>> to_digits(1234.5), to_digits(0.04567, 3)
    ('1200', '0.0457')
    """
    return f"{float(f'{value:.{digits}g}'):.12g}"


def mixed(value: Fraction) -> str:
    """Return a fraction as people write it: ``3 3/4``.

    Parameters
    ----------
    value : Fraction
        Any number. [-]

    Returns
    -------
    str
        Whole part and fraction. [-]

    References
    ----------
    Arithmetic.

    Examples
    --------
    >>> mixed(Fraction(15, 4)), mixed(Fraction(-1, 4))
    ('3 3/4', '-1/4')
    """
    whole, part = divmod(abs(value), 1)
    words = [str(whole)] if whole or not part else []
    words += [str(part)] if part else []
    return ("-" if value < 0 else "") + " ".join(words)


def format_length(mm: Any, unit: str, scale: Scale | str | None = None, denominator: int | None = None) -> str:
    """Write a model length with its unit.

    Parameters
    ----------
    mm : Fraction, float or uncertain number
        Model length; an uncertain one is written with its standard uncertainty. [mm]
    unit : str
        ``mm``, ``in``, ``ft``, ``scale foot`` or ``scale inch``. [-]
    scale : Scale, str or None
        Needed for the scale units. [-]
    denominator : int or None
        Write the nearest fraction with this denominator, ties away from zero, rather than decimals. [-]

    Returns
    -------
    str
        The length, readable by `parse_length` unless it carries an uncertainty. [-]

    Raises
    ------
    WrongKind
        For a prototype length, which a `Scale` must turn into a model length first.
    OutOfRange
        If `denominator` is below 1, or the length is no finite number.

    References
    ----------
    NIST SP 811, appendix B; data/scales.csv.

    Examples
    --------
    >>> format_length(13.125, "scale foot", "HO", denominator=4)
    '3 3/4 scale ft'
    >>> format_length(13.125, "in")
    '0.517 in'
    """
    if isinstance(mm, (PrototypeLength, str)):
        raise WrongKind("mm", shown(str(mm)), "a model length in mm", "Turn it into one with a Scale or parse_length.")
    if denominator is not None and denominator < 1:
        raise OutOfRange("denominator", str(denominator), "1 or more", "Write 4 for quarters, 64 for sixty-fourths.")
    name = unit_name(unit)
    size, symbol = mm_per(name, scale), SYMBOLS.get(name, name)
    if hasattr(type(mm), "std_dev"):
        # Rounded like a plain length, so that one size never shows with two last digits.
        u_mm = mm.s  # worked out from its sources each time it is asked for
        value, spread = (_decimal(float(each), size, DECIMALS[name]) for each in (mm.n, u_mm))
        if u_mm and not float(spread):  # not exact, only finer than the digits shown
            spread = f"{u_mm / float(size):.1g}"
        return f"{value} ± {spread} {symbol}"
    if not isinstance(mm, Fraction) and not isfinite(mm):
        raise OutOfRange("the length", f"{mm} mm", "a number", "Check the readings behind it.")
    if denominator is not None:
        return f"{mixed(Fraction(round_half_up(in_steps(mm, size / denominator)), denominator))} {symbol}"
    return f"{_decimal(mm, size, DECIMALS[name])} {symbol}"


def _decimal(mm: Fraction | float, unit_mm: Fraction, decimals: int) -> str:
    """Return a decimal, ties away from zero, without the minus sign of a zero: `in_steps` rounded, in whole numbers."""
    exact = mm if isinstance(mm, Fraction) else Fraction(mm)
    step = unit_mm.numerator, unit_mm.denominator * 10**decimals
    above, below = abs(exact.numerator) * step[1], exact.denominator * step[0]
    digits = (2 * above + below) // (2 * below)
    if exact is not mm:  # a float may be a tie that its last bits hide
        halves = round(Fraction(2 * above, below))
        if abs(halves * below - 2 * above) * step[0] * SNAP_MM.denominator <= 2 * below * step[1]:
            digits = (halves + 1) // 2
    text = f"{digits:0{decimals + 1}d}"
    return f"{'-' if digits and exact.numerator < 0 else ''}{text[:-decimals]}.{text[-decimals:]}"


FINEST_SHOWN = 64  # the finest marks that a scale foot is written to


def in_scale_feet(mm: Fraction | float, scale: Scale | str) -> str:
    """Write a model length in scale feet, as a rule's marks have it.

    The one rule for scale feet, on pages and on paper: a mixed fraction, never a decimal, since no rule is marked in
    decimals of a foot. A length on a mark, down to sixty-fourths, is that mark; any other is the nearest sixty-fourth
    with "about" before it, ties away from zero, and the millimetres beside it are what counts. Only a length that
    is written with its ± stays decimal (`format_length`): a mark would shift it by more than a good ± is.

    Parameters
    ----------
    mm : Fraction or float
        Model length. [mm]
    scale : Scale or str
        The model's scale. [-]

    Returns
    -------
    str
        Scale feet with their unit. [-]

    Raises
    ------
    UnknownScale
        If the scale is not known.

    References
    ----------
    data/scales.csv; marks down to sixty-fourths: common practice, no source.

    Examples
    --------
    >>> in_scale_feet(12.25, "HO"), in_scale_feet(7.9, "HO")
    ('3 1/2 scale ft', 'about 2 1/4 scale ft')
    """
    steps = in_steps(mm, mm_per("scale foot", scale) / FINEST_SHOWN)
    nearest = mixed(Fraction(round_half_up(steps), FINEST_SHOWN))
    return f"{'' if steps.denominator == 1 else 'about '}{nearest} {SYMBOLS['scale foot']}"


def three_ways(mm: Fraction | float, scale: Scale | str) -> tuple[str, str, str]:
    """Write a model length in scale feet, decimal inch and mm, as each size on a page or sheet is shown.

    Parameters
    ----------
    mm : Fraction or float
        Model length. [mm]
    scale : Scale or str
        The model's scale. [-]

    Returns
    -------
    tuple of three str
        Scale feet by `in_scale_feet`; inches; millimetres. [-]

    Raises
    ------
    UnknownScale
        If the scale is not known.

    References
    ----------
    NIST SP 811, appendix B; data/scales.csv.

    Examples
    --------
    >>> three_ways(12.25, "HO")
    ('3 1/2 scale ft', '0.482 in', '12.25 mm')
    """
    return in_scale_feet(mm, scale), format_length(mm, "in"), format_length(mm, "mm")

"""Currents, voltages and powers from callers: checked, with their limits, added, told so that what differs shows."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from itertools import product
from math import fsum, isfinite
from numbers import Real

from modelmath.errors import OutOfRange, WrongKind, shown
from modelmath.quantities.band import Band
from modelmath.quantities.known import Known
from modelmath.quantities.text import told

Amount = Known | Band | float
SAME = 1e-9  # A, V or W: a smaller difference is float noise
_MOST_DIGITS = 9


def check_amount(name: str, value: object, unit: str, *, zero: bool = False) -> None:
    """Refuse what is no plain, finite number above 0.

    Parameters
    ----------
    name : str
        What a message calls it. [-]
    value : object
        What was given. [unit]
    unit : str
        Its unit, spelled out. [-]
    zero : bool
        Whether 0 is allowed. [-]

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
    >>> check_amount("the current of an output", -0.1, "A")
    Traceback (most recent call last):
    modelmath.errors.OutOfRange: the current of an output is -0.1 A; it must be above 0 A. Check the figure behind it.
    """
    if isinstance(value, bool) or not isinstance(value, Real):
        remedy = f"Write it as a number of {unit}, or read text with parse_quantity first."
        raise WrongKind(name, shown(str(value)), f"a plain number of {unit}", remedy)
    if not isfinite(value) or value < 0 or (value == 0 and not zero):
        expected = f"0 {unit} or more" if zero else f"above 0 {unit}"
        raise OutOfRange(name, f"{float(value):g} {unit}", expected, "Check the figure behind it.")


def as_band(name: str, value: Amount, unit: str, *, zero: bool = False) -> Band:
    """Return an amount with the band it lies in, once it is sure that it is one.

    Parameters
    ----------
    name : str
        What a message calls it. [-]
    value : Known, Band or float
        The amount; a plain number has no width. [unit]
    unit : str
        Its unit, spelled out. [-]
    zero : bool
        Whether 0 is allowed. [-]

    Returns
    -------
    Band
        Best, least and greatest value. [unit]

    Raises
    ------
    WrongKind, OutOfRange
        As `check_amount`; and where the best value is not between the limits.

    References
    ----------
    None needed.

    Examples
    --------
    >>> as_band("the current of a lamp", Known.of(0.002, within=0.001), "A")
    Band(best=0.002, low=0.001, high=0.003)
    """
    if isinstance(value, Known):
        best, low, high = value.value, value.low, value.high
    elif isinstance(value, Band):
        best, low, high = value.best, value.low, value.high
    else:
        best = low = high = value
    for each in (low, best, high):
        check_amount(name, each, unit, zero=zero)
    if not low <= best <= high:
        given = f"{best:g} {unit} with limits {low:g} and {high:g}"
        raise OutOfRange(name, given, "a value between its limits, the lower one first", "Swap them.")
    return Band(float(best), float(low), float(high))


def total(bands: Iterable[Band]) -> Band:
    """Return the sum of amounts, each of whose limits adds to the like limit of the others.

    Parameters
    ----------
    bands : iterable of Band
        The amounts; none make 0. [any one unit]

    Returns
    -------
    Band
        Their sum. [same unit]

    References
    ----------
    Interval arithmetic; `math.fsum`, so that the order does not matter.

    Examples
    --------
    >>> total([Band(1, 0.5, 2), Band(3, 3, 3)])
    Band(best=4.0, low=3.5, high=5.0)
    """
    found = tuple(bands)
    return Band(fsum(each.best for each in found), fsum(each.low for each in found), fsum(each.high for each in found))


def over_cases(result: Callable[..., float], *bands: Band) -> Band:
    """Return a result worked out for the best values, and for every combination of their limits.

    Parameters
    ----------
    result : callable
        Gives it from one value of each; it rises or falls with each of them all the way. [its own unit]
    *bands : Band
        What it follows from. [their own units]

    Returns
    -------
    Band
        Best, least and greatest result. [its own unit]

    References
    ----------
    A function that is monotone in each argument has its extremes at the corners of a box.

    Examples
    --------
    >>> over_cases(lambda volts, ohms: volts / ohms, Band(12, 10, 15), Band(100, 100, 100))
    Band(best=0.12, low=0.1, high=0.15)
    """
    cases = product(*(dict.fromkeys((each.low, each.high)) for each in bands))
    return Band.over([result(*(each.best for each in bands)), *(result(*case) for case in cases)])


def beside(value: float, other: float, field: str) -> str:
    """Return an amount in as many digits as it takes to differ from the one it is compared with.

    Parameters
    ----------
    value : float
        The amount. [unit of the field]
    other : float
        What a sentence compares it with. [same unit]
    field : str
        A name that ends in its unit. [-]

    Returns
    -------
    str
        Number and unit. [-]

    References
    ----------
    None needed.

    Examples
    --------
    >>> beside(0.1002, 0.1, "current_a"), beside(0.12, 0.1, "current_a")
    ('100.2 mA', '120 mA')
    """
    plain, compared = told(value, field), told(other, field)
    if plain != compared or abs(value - other) <= SAME:
        return plain
    _, _, unit = plain.partition(" ")
    scale = 1000 if unit.startswith("m") and unit != "mm" else 1
    for digits in range(4, _MOST_DIGITS + 1):
        text = f"{value * scale:.{digits}g}"
        if text != f"{other * scale:.{digits}g}":
            return f"{text} {unit}"
    return plain


def banded(band: Band, field: str) -> str:
    """Return an amount with the limits it lies between, or alone where they round to the same.

    Parameters
    ----------
    band : Band
        The amount. [unit of the field]
    field : str
        A name that ends in its unit. [-]

    Returns
    -------
    str
        Number and unit, and in brackets its limits. [-]

    References
    ----------
    None needed.

    Examples
    --------
    >>> banded(Band(0.002, 0.001, 0.003), "current_a"), banded(Band(0.002, 0.002, 0.002), "current_a")
    ('2 mA (1 mA to 3 mA)', '2 mA')
    """
    best, low, high = (told(each, field) for each in (band.best, band.low, band.high))
    return best if low == high else f"{best} ({low} to {high})"


def listed(names: Iterable[str]) -> str:
    """Return names in quotes, with a word before the last one.

    Parameters
    ----------
    names : iterable of str
        The names. [-]

    Returns
    -------
    str
        One text. [-]

    References
    ----------
    None needed.

    Examples
    --------
    >>> listed(["cab", "markers", "ditch"])
    "'cab', 'markers' and 'ditch'"
    """
    *most, last = [f"'{name}'" for name in names]
    return f"{', '.join(most)} and {last}" if most else last

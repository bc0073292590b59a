"""Resistances that are made: the preferred number series, and the next value either way."""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Mapping
from functools import cache
from math import floor, log10
from types import MappingProxyType

from modelmath.errors import TableError, UnknownChoice
from modelmath.light.lamps.amounts import ROUNDING, as_known
from modelmath.tables import rows

FILE = "e_series.csv"
_UNITS = ((1e6, "Mohm"), (1e3, "kohm"), (1.0, "ohm"))


def read_series() -> dict[str, tuple[float, ...]]:
    """Return the preferred values of one decade by series, from 1 to below 10.

    Returns
    -------
    dict of str to tuple of float
        Values in order. [-]

    Raises
    ------
    TableError
        If a value is out of order or not from 1 to below 10, or a series has not as many values as its name says.

    References
    ----------
    IEC 60063, as data/e_series.csv gives it.

    Examples
    --------
    >>> read_series()["E6"]
    (1.0, 1.5, 2.2, 3.3, 4.7, 6.8)
    """
    found: dict[str, list[float]] = {}
    line = 1
    for line, row in rows(FILE):
        values, value = found.setdefault(row["series"], []), float(row["value"])
        if not 1 <= value < 10 or (values and value <= values[-1]):
            raise TableError(FILE, line, f"{row['value']} is out of order, or not from 1 to below 10")
        values.append(value)
    for series, values in found.items():
        if series != f"E{len(values)}":
            raise TableError(FILE, line, f"series {series} has {len(values)} values")
    return {series: tuple(values) for series, values in found.items()}


SERIES: Mapping[str, tuple[float, ...]] = MappingProxyType(read_series())
"""Preferred values of one decade by series, E3 to E96, from 1 to below 10. [-]"""


def next_values(ohm: float, series: str = "E24") -> tuple[float, float]:
    """Return the preferred values next to a resistance, below and above.

    A resistance that is a preferred value, but for rounding, gives that value twice.

    Parameters
    ----------
    ohm : float
        The resistance. [ohm]
    series : {"E3", "E6", "E12", "E24", "E48", "E96"}
        What the drawer or the shop has. [-]

    Returns
    -------
    tuple of float
        The next value at or below, and the next at or above. [ohm]

    Raises
    ------
    OutOfRange, WrongKind
        If the resistance is no finite number above 0.
    UnknownChoice
        If there is no such series.

    References
    ----------
    IEC 60063, preferred number series for resistors.

    Examples
    --------
    >>> next_values(2040.0)
    (2000.0, 2200.0)
    >>> next_values(4700.0, "E12")
    (4700.0, 4700.0)
    """
    if series not in SERIES:
        raise UnknownChoice("the series", series, tuple(SERIES))
    wanted = as_known("the resistance", ohm, "exact_ohm").value
    ladder = _ladder(series, floor(log10(wanted)))
    place = bisect_left(ladder, wanted * (1 - ROUNDING))
    above = ladder[place]
    if above <= wanted * (1 + ROUNDING):
        return above, above
    return ladder[place - 1], above


def following(ohm: float, series: str) -> float:
    """Return the preferred value after one, upward.

    Parameters
    ----------
    ohm : float
        A resistance, itself preferred or not. [ohm]
    series : str
        One of `SERIES`. [-]

    Returns
    -------
    float
        The next larger preferred value. [ohm]

    Raises
    ------
    OutOfRange, WrongKind, UnknownChoice
        As `next_values`.

    References
    ----------
    IEC 60063.

    Examples
    --------
    >>> following(8200.0, "E12"), following(8300.0, "E12")
    (10000.0, 10000.0)
    """
    return next_values(ohm * (1 + 2 * ROUNDING), series)[1]


@cache
def _ladder(series: str, decade: int) -> tuple[float, ...]:
    """Return the values of a decade and the first of the one above."""
    values = [round(100 * value) for value in SERIES[series]]  # all have two decimals at most
    steps = [*(10 * value for value in values), 100 * values[0]]
    power = decade - 3
    # A whole number times or over a power of ten is the float that the decimal is read as.
    return tuple(float(step * 10**power) if power >= 0 else step / 10**-power for step in steps)


def format_ohm(ohm: float) -> str:
    """Return a resistance in three digits with the unit that suits it.

    Parameters
    ----------
    ohm : float
        The resistance. [ohm]

    Returns
    -------
    str
        Number and unit. [-]

    Raises
    ------
    OutOfRange, WrongKind
        If it is no finite number from 0.

    References
    ----------
    SI brochure, 9th edition, for the prefixes.

    Examples
    --------
    >>> format_ohm(4700.0), format_ohm(470), format_ohm(1e6), format_ohm(0.47)
    ('4.7 kohm', '470 ohm', '1 Mohm', '0.47 ohm')
    """
    value = as_known("the resistance", ohm, "exact_ohm", zero=True).value
    rounded = float(f"{value:.3g}")
    if rounded < 0.1:
        return f"{rounded / 1e-3:.3g} mohm" if rounded else "0 ohm"
    size, unit = next((size, unit) for size, unit in _UNITS if rounded >= size or size == 1)
    number = rounded / size
    return f"{number:.0f} {unit}" if number >= 100 else f"{number:.3g} {unit}"

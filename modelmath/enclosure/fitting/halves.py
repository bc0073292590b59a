"""Half of a number, exact where the number is."""

from __future__ import annotations

from fractions import Fraction

from modelmath.lengths.numbers import Number


def half(value: Number) -> Number:
    """Return half of a number; a whole one stays whole where it is even.

    Parameters
    ----------
    value : int, Fraction or float
        Any number. [mm]

    Returns
    -------
    int, Fraction or float
        Half of it. [mm]

    References
    ----------
    Arithmetic.

    Examples
    --------
    >>> half(6), half(3), half(3.0)
    (3, Fraction(3, 2), 1.5)
    """
    if isinstance(value, int):
        return Fraction(value, 2) if value % 2 else value // 2
    return value / 2

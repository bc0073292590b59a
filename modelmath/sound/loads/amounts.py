"""Amounts read from a sheet, kept as they are written, and told so that what differs reads differently."""

from __future__ import annotations

from fractions import Fraction
from math import isfinite
from numbers import Real

from modelmath.errors import OutOfRange, WrongKind, shown

Amount = Fraction | float
NUMBER_WORDS = ("no", "one", "two", "three", "four", "five", "six")


def as_written(value: Amount) -> Fraction:
    """Return a number as its decimals say, exact, so that three times 3.2 is 9.6.

    Parameters
    ----------
    value : Fraction or float
        A finite number. [any unit]

    Returns
    -------
    Fraction
        The same number as it is printed. [same unit]

    References
    ----------
    The shortest decimal that reads back as the same float (IEEE 754).

    Examples
    --------
    >>> 3 * as_written(3.2) == as_written(9.6), 3 * 3.2 == 9.6
    (True, False)
    """
    return value if isinstance(value, Fraction) else Fraction(repr(float(value)))


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
    >>> check_amount("the rated impedance", -8, "ohm")
    Traceback (most recent call last):
    modelmath.errors.OutOfRange: the rated impedance is -8 ohm; it must be above 0 ohm. Read it from the sheet again.
    """
    if isinstance(value, bool) or not isinstance(value, Real):
        remedy = f"Write it as a number of {unit}, such as 8."
        raise WrongKind(name, shown(str(value)), f"a plain number of {unit}", remedy)
    if not isfinite(value) or value < 0 or (value == 0 and not zero):
        expected = f"0 {unit} or more" if zero else f"above 0 {unit}"
        raise OutOfRange(name, f"{float(value):g} {unit}", expected, "Read it from the sheet again.")


def told(value: Amount, beside: Amount | None = None, decimals: int = 1) -> str:
    """Return a number in few decimals, but in as many as it takes to differ from the one it is compared with.

    Parameters
    ----------
    value : Fraction or float
        The number. [any unit]
    beside : Fraction, float or None
        What the sentence compares it with. [same unit]
    decimals : int
        Decimals to begin with. [-]

    Returns
    -------
    str
        Its digits. [same unit]

    References
    ----------
    None needed.

    Examples
    --------
    >>> told(4), told(7.98, 8), told(0.0041, decimals=2)
    ('4.0', '7.98', '0.004')
    """
    for places in range(decimals, 9):
        text = f"{float(value):.{places}f}"
        lost = value and not float(text)
        if not lost and (beside is None or value == beside or float(text) != float(beside)):
            return text
    return f"{float(value):.9g}"


def number_word(count: int) -> str:
    """Return a small count as a word.

    Parameters
    ----------
    count : int
        How many. [-]

    Returns
    -------
    str
        The word, or digits above six. [-]

    References
    ----------
    None needed.

    Examples
    --------
    >>> number_word(2), number_word(7)
    ('two', '7')
    """
    return NUMBER_WORDS[count] if 0 <= count < len(NUMBER_WORDS) else str(count)

"""One check for every number that a caller gives: a plain, finite number of mm, not text and not a prototype length."""

from __future__ import annotations

from fractions import Fraction
from math import isfinite
from numbers import Real

from modelmath.errors import OutOfRange, WrongKind, shown
from modelmath.lengths.prototype import PrototypeLength

Number = Fraction | float
FINEST_PER_MM = 10**60  # a common step below this part of a mm is of no real size, and its cube is past every float


def as_fraction(value: Number) -> Fraction:
    """Return a number as a fraction; one that is a fraction as it is, which is far quicker than to copy it.

    Parameters
    ----------
    value : Fraction or float
        Any finite number. [any unit]

    Returns
    -------
    Fraction
        The same number. [same unit]

    References
    ----------
    Each float is a fraction.

    Examples
    --------
    >>> as_fraction(0.5), as_fraction(Fraction(1, 3))
    (Fraction(1, 2), Fraction(1, 3))
    """
    return value if type(value) is Fraction else Fraction(value)


def check_common_step(name: str, per_mm: int) -> int:
    """Return the denominator that lengths have in common; refuse one that is too large to count in.

    Parameters
    ----------
    name : str
        What the lengths are, as a plural. [-]
    per_mm : int
        Steps to a mm in which all of them are whole. [1/mm]

    Returns
    -------
    int
        The same. [1/mm]

    Raises
    ------
    OutOfRange
        If the step is finer than any that is meant.

    References
    ----------
    None needed: our choice.

    Examples
    --------
    >>> check_common_step("lengths", 64)
    64
    """
    if per_mm > FINEST_PER_MM:
        finer = f"fractions that have no step in common above 1e-{len(str(FINEST_PER_MM)) - 1} mm"
        advice = "Write them as a rule shows them, such as 5 1/4 or 15.9 mm."
        raise OutOfRange(f"the set of {name}", f"one of {finer}", "one with a coarser step", advice)
    return per_mm


def check_kind(name: str, value: object) -> None:
    """Refuse what is no plain number of mm, finite or not.

    Parameters
    ----------
    name : str
        What a message calls it. [-]
    value : object
        What was given for a number of mm. [mm]

    Raises
    ------
    WrongKind
        If it is text, a prototype length, an uncertain number or anything else that is no plain number.

    References
    ----------
    None needed.

    Examples
    --------
    >>> check_kind("width_mm", "15 mm")
    Traceback (most recent call last):
    modelmath.errors.WrongKind: width_mm is '15 mm'; expected a plain number of mm. Read text with parse_length first.
    """
    expected = "a plain number of mm"
    if isinstance(value, PrototypeLength):
        remedy = "Turn it into a model length with a Scale first, such as scale('HO').model_mm."
        raise WrongKind(name, f"the prototype length {value}", expected, remedy)
    if isinstance(value, str):
        raise WrongKind(name, shown(value), expected, "Read text with parse_length first.")
    if isinstance(value, bool) or not isinstance(value, Real):
        raise WrongKind(name, shown(str(value)), expected, "Write the length in mm, such as 15.")


def check_number(name: str, value: object) -> None:
    """Refuse what is no plain, finite number of mm.

    Parameters
    ----------
    name : str
        What a message calls it. [-]
    value : object
        What was given for a number of mm. [mm]

    Raises
    ------
    WrongKind
        As `check_kind`.
    OutOfRange
        If it is infinite, or no number at all.

    References
    ----------
    None needed.

    Examples
    --------
    >>> check_number("width_mm", 15.0)
    """
    check_kind(name, value)
    if isinstance(value, float) and not isfinite(value):
        raise OutOfRange(name, f"{value:g} mm", "a finite number", "Check the readings behind it.")

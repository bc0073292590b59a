"""One check for the numbers that strands and lens ends are given."""

from __future__ import annotations

from math import isfinite
from numbers import Real

from modelmath.errors import OutOfRange, WrongKind, shown
from modelmath.lengths.numbers import check_kind


def check_length(name: str, value: object, *, least_0: bool = False, such_as: str = "0.75") -> None:
    """Refuse what is no plain, finite length above 0.

    Parameters
    ----------
    name : str
        What a message calls it. [-]
    value : object
        What was given. [mm]
    least_0 : bool
        Whether 0 itself is allowed. [-]
    such_as : str
        A number of mm that a message shows. [mm]

    Raises
    ------
    WrongKind
        If it is text, a prototype length, or no number at all.
    OutOfRange
        If it is not finite, below 0, or 0 where that is not allowed.

    References
    ----------
    None needed.

    Examples
    --------
    >>> check_length("strand_mm", 0)
    Traceback (most recent call last):
    modelmath.errors.OutOfRange: strand_mm is 0 mm; it must be above 0 mm. Write it in mm, such as 0.75.
    """
    check_kind(name, value)
    check_amount(name, value, " mm", f"Write it in mm, such as {such_as}.", least_0=least_0)


def check_amount(name: str, value: object, unit: str, write: str, *, least_0: bool = False) -> None:
    """Refuse what is no plain, finite number above 0.

    Parameters
    ----------
    name : str
        What a message calls it. [-]
    value : object
        What was given. [its own unit]
    unit : str
        Its unit as a message writes it, a space in front; empty for a ratio. [-]
    write : str
        What a message says to write instead. [-]
    least_0 : bool
        Whether 0 itself is allowed. [-]

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
    >>> check_amount("the trial factor", 1.1, "", "Write it as a ratio, such as 1.1.")
    """
    if isinstance(value, bool) or not isinstance(value, Real):
        raise WrongKind(name, shown(str(value)), f"a plain number{' of' if unit else ''}{unit}", write)
    if not isfinite(value) or value < 0 or (value == 0 and not least_0):
        expected = f"0{unit} or more" if least_0 else f"above 0{unit}"
        raise OutOfRange(name, f"{float(value):g}{unit}", expected, write)


def check_count(name: str, value: object, write: str) -> None:
    """Refuse what is no whole number of at least 1.

    Parameters
    ----------
    name : str
        What a message calls it. [-]
    value : object
        What was given. [-]
    write : str
        What a message says to write instead. [-]

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
    >>> check_count("strands", 3, "Write how many strands the lamp feeds, such as 2.")
    """
    if isinstance(value, bool) or not isinstance(value, int):
        raise WrongKind(name, shown(str(value)), "a whole number", write)
    if value < 1:
        raise OutOfRange(name, str(value), "1 or more", write)

"""One check for the numbers that a calculation of a closed chamber is given, one or many at once."""

from __future__ import annotations

from typing import Any

from modelmath.errors import OutOfRange, WrongKind, shown
from modelmath.sound.air import Air
from modelmath.sound.driver.driver import Driver
from modelmath.sound.driver.relations import efficiency


def check_amount(name: str, value: Any, unit: str, write: str, *, least_0: bool = False) -> None:
    """Refuse what is no finite number above 0, or an array with one that is not.

    Parameters
    ----------
    name : str
        What a message calls it. [-]
    value : float or array
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
        If it is text or anything else that is no number.
    OutOfRange
        If it, or one of them, is not finite or not above 0.

    References
    ----------
    None needed.

    Examples
    --------
    >>> check_amount("the power", 0, " W", "Write it in watts, such as 0.5.")
    Traceback (most recent call last):
    modelmath.errors.OutOfRange: the power is 0 W; it must be a finite number above 0. Write it in watts, such as 0.5.
    """
    import numpy as np

    values = np.asarray(value)
    if values.dtype.kind not in "iuf":
        try:
            values = np.asarray(_exact(value), float)
        except (TypeError, ValueError):
            raise WrongKind(name, shown(str(value)), "a number, or an array of numbers", write) from None
    good = np.isfinite(values) & ((values >= 0) if least_0 else (values > 0))
    if not good.all():
        first = float(values[~good].flat[0])
        expected = "a finite number, 0 or more" if least_0 else "a finite number above 0"
        raise OutOfRange(name, f"{first:g}{unit}", expected, write)


def _exact(value: Any) -> Any:
    """Return a fraction or any other real number that numpy has no kind for; text and truth values are none."""
    if isinstance(value, (str, bytes, bool)) or not hasattr(value, "__float__"):
        raise TypeError
    return float(value)


def plain(value: Any) -> Any:
    """Return an array as it is, and one number as Python's own.

    Parameters
    ----------
    value : array or number of numpy
        A result. [its own unit]

    Returns
    -------
    array, float or complex
        The same. [same unit]

    References
    ----------
    None needed.
    """
    return value.item() if value.ndim == 0 else value


def check_efficiency(driver: Driver, air: Air) -> None:
    """Refuse a speaker that would give out more than is put in: one of its numbers has a wrong unit.

    Parameters
    ----------
    driver : Driver
        The speaker, completed; its best values count. [-]
    air : Air
        The air. [-]

    Raises
    ------
    OutOfRange
        If its reference efficiency is 1 or more.

    References
    ----------
    Conservation of energy; `efficiency`.
    """
    fs, vas, qes = (driver.known(field) for field in ("fs_hz", "vas_mm3", "qes"))
    assert fs is not None
    assert vas is not None
    assert qes is not None
    share = efficiency(fs.value, vas.value, qes.value, air)
    if share >= 1:
        given = f"fs {fs.value:.3g} Hz, Vas {vas.value / 1000:.3g} cm3 and Qes {qes.value:.3g}"
        expected = "such that less sound comes out than power goes in"
        remedy = "Check their units: Vas in cm3, not litres."
        raise OutOfRange(f"what is known of the {driver.name}", given, expected, remedy)

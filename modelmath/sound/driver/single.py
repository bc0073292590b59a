"""What must be one figure, and no two limits whose middle means nothing."""

from __future__ import annotations

from modelmath.errors import OutOfRange
from modelmath.quantities.known import Known
from modelmath.quantities.text import parse_quantity


def read_wanted_q(text: str) -> float:
    """Return a Qtc that is wished for: one figure, as no chamber gives two.

    Parameters
    ----------
    text : str
        A number. [-]

    Returns
    -------
    float
        Above 0. [-]

    Raises
    ------
    OutOfRange
        If it has limits.
    UnreadableLength
        If it can't be read; says what to write.

    References
    ----------
    None needed.

    Examples
    --------
    >>> read_wanted_q("0.71")
    0.71
    """
    return one_figure(parse_quantity(text, "ratio"), "the wanted Qtc")


def one_figure(known: Known, name: str, unit: str = "") -> float:
    """Return a quantity's value, once it is sure that it is one figure.

    Parameters
    ----------
    known : Known
        The quantity. [its own unit]
    name : str
        What it is, for the message. [-]
    unit : str
        Its unit, for the message. [-]

    Returns
    -------
    float
        The value. [its own unit]

    Raises
    ------
    OutOfRange
        If it has limits, whose middle means nothing.

    References
    ----------
    None needed.

    Examples
    --------
    >>> one_figure(Known.of(8), "the impedance of the rear speaker", "ohm")
    8.0
    """
    if not known.exact:
        low, high = (f"{each:g} {unit}".rstrip() for each in (known.low, known.high))
        raise OutOfRange(name, f"from {low} to {high}", "one figure", f"Write it without limits, such as {low}.")
    return known.value

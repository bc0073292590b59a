"""What a person types of lamps and strands, read: quantities and lengths within what can be meant, several lines."""

from __future__ import annotations

from fractions import Fraction

from modelmath.errors import OutOfRange, UnreadableLength, shown
from modelmath.lengths.parse import parse_length_exact
from modelmath.lengths.text import format_length
from modelmath.quantities.known import Known
from modelmath.quantities.text import EXAMPLES, format_quantity, parse_quantity, told

MOST_MM, LEAST_MM = 1000.0, Fraction(1, 100)  # of any size here: past these no strand or lens is meant
# Past these no lamp in a model is meant, by kind. 60 V: the usual limit of extra-low direct voltage, from memory.
RANGES = {
    "voltage": (0.01, 60.0, "Nothing here is for mains: leave that to licensed practice and local codes."),
    "current": (1e-5, 10.0, "Check its unit: 2 mA is 0.002 A."),
    "resistance": (0.1, 1e7, "Check its unit."),
    "capacitance": (1e-7, 100.0, "Check its unit: 1000 uF is 1 mF."),
    "time": (1e-3, 3600.0, "Check its unit."),
}
_FIELDS = {"voltage": "v", "current": "a", "resistance": "ohm", "capacitance": "f", "time": "s"}


def in_range(text: str, kind: str, what: str) -> Known:
    """Return a quantity that can be meant here.

    Parameters
    ----------
    text : str
        What is typed, its unit included. [-]
    kind : str
        One of `RANGES`. [-]
    what : str
        What a message calls it. [-]

    Returns
    -------
    Known
        The quantity. [V, A, ohm, F or s, by its kind]

    Raises
    ------
    UnreadableLength
        If it can't be read or has no unit.
    OutOfRange
        If it or one of its limits is beyond `RANGES`.

    References
    ----------
    `parse_quantity`.

    Examples
    --------
    >>> in_range("230 V", "voltage", "the supply")
    Traceback (most recent call last):
    modelmath.errors.OutOfRange: the supply is '230 V'; it must be from 0.01 V to 60 V. Nothing here is for mains: \
leave that to licensed practice and local codes.
    """
    known = parse_quantity(text, kind)
    least, most, write = RANGES[kind]
    if known.low < least or known.high > most:
        expected = " to ".join(told(each, _FIELDS[kind]) for each in (least, most))
        raise OutOfRange(what, shown(text), f"from {expected}", write if known.high > most else "Check its unit.")
    return known


def said_of(known: Known, kind: str) -> str:
    """Return a quantity as it was understood: with its limits, where it has any.

    Parameters
    ----------
    known : Known
        The quantity. [V, A, ohm, F or s, by its kind]
    kind : str
        One of `RANGES`. [-]

    Returns
    -------
    str
        Number, unit, limits. [-]

    References
    ----------
    None needed.

    Examples
    --------
    >>> said_of(Known.of(12, within=1), "voltage"), said_of(Known.of(12), "voltage")
    ('12 V, 11 V to 13 V', '12 V')
    """
    if known.exact:
        return format_quantity(known, kind)
    value, low, high = (told(each, _FIELDS[kind]) for each in (known.value, known.low, known.high))
    return f"{value}, {low} to {high}"


def one_figure(text: str, kind: str, what: str) -> float:
    """Return a quantity that has one figure only, without limits.

    Parameters
    ----------
    text, kind, what : str
        As for `in_range`. [-]

    Returns
    -------
    float
        Its value. [V, A, ohm, F or s, by its kind]

    Raises
    ------
    UnreadableLength, OutOfRange
        As `in_range`, and if it has limits.

    References
    ----------
    `parse_quantity`.

    Examples
    --------
    >>> one_figure("0.1 V", "voltage", "what may be lost")
    0.1
    """
    known = in_range(text, kind, what)
    if not known.exact:
        raise OutOfRange(what, shown(text), "one figure", f"Write it without limits, such as {EXAMPLES[kind]}.")
    return known.value


def read_size(text: str, what: str, such_as: str, *, zero: bool = False, most_mm: float = MOST_MM) -> Fraction:
    """Return a length with its unit.

    Parameters
    ----------
    text : str
        One length. [-]
    what, such_as : str
        What a message calls it, and a text that it shows. [-]
    zero : bool
        Whether 0 is allowed. [-]
    most_mm : float
        The longest that is meant. [mm]

    Returns
    -------
    Fraction
        Exact. [mm]

    Raises
    ------
    UnreadableLength
        If it can't be read, has no unit, or is not above 0.
    OutOfRange
        If it is too short or too long for anything here.

    References
    ----------
    `parse_length_exact`.

    Examples
    --------
    >>> read_size(".030 in", "the strand", "0.75 mm")
    Fraction(381, 500)
    """
    try:
        size = parse_length_exact(text)
    except UnreadableLength as reason:
        write = such_as if reason.problem == "it has no unit" else reason.write
        raise UnreadableLength(text, reason.problem, write) from None
    if size < 0 or (size == 0 and not zero):
        raise UnreadableLength(text, "it is below 0" if zero else "it is not above 0", such_as)
    if size > most_mm or 0 < size < LEAST_MM:
        expected = f"from {float(LEAST_MM):g} to {most_mm:.0f} mm"
        raise OutOfRange(what, f"{float(size):.4g} mm", expected, "Check its unit.")
    return size


def in_two_units(mm: Fraction | float) -> str:
    """Return a length in millimetres and inches.

    Parameters
    ----------
    mm : Fraction or float
        The length. [mm]

    Returns
    -------
    str
        Both. [-]

    References
    ----------
    `format_length`.

    Examples
    --------
    >>> in_two_units(0.75)
    '0.75 mm = 0.030 in'
    """
    return " = ".join(format_length(mm, unit) for unit in ("mm", "in"))


def written_lines(text: str, what: str, most: int) -> list[str]:
    r"""Return the lines of a text that are not empty.

    Parameters
    ----------
    text, what : str
        The text, and what a message calls its lines. [-]
    most : int
        How many there may be. [-]

    Returns
    -------
    list of str
        Without white space at their ends. [-]

    Raises
    ------
    OutOfRange
        If there are more.

    References
    ----------
    None needed.

    Examples
    --------
    >>> written_lines("a\n\n b ", "bends", 20)
    ['a', 'b']
    """
    lines = [line.strip() for line in text.splitlines() if line.strip()]
    if len(lines) > most:
        raise OutOfRange(f"the number of {what}", str(len(lines)), f"{most} or fewer", "Leave some out.")
    return lines

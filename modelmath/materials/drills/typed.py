"""What a person types about a hole: sizes of wires, the room round them, counts and other plain numbers."""

from __future__ import annotations

import re
from fractions import Fraction

from modelmath.errors import UnreadableLength
from modelmath.lengths.parse import parse_length_exact
from modelmath.lengths.plain import LONGEST
from modelmath.materials.drills.bundles import MOST_STRANDS

SIZE = ".030 in or 0.76 mm"
WIRES = "sizes with their units, parted by semicolons, such as 3 x 0.6 mm; 1.1 mm"

_TIMES = re.compile(r"([0-9]{1,9})\s*[x×]\s*(?=[.0-9])(.*)")
_PLAIN = re.compile(r"[-−]?(?:[0-9]+\.?[0-9]*|\.[0-9]+)")


def diameter_of(text: str, *, zero: bool = False) -> Fraction:
    """Return a diameter, or the room round it, with its unit.

    Parameters
    ----------
    text : str
        One length. [-]
    zero : bool
        Whether 0 is allowed too. [-]

    Returns
    -------
    Fraction
        The length. [mm]

    Raises
    ------
    UnreadableLength
        If it can't be read, has no unit, or is not above 0; says what to write.

    References
    ----------
    Read by `modelmath.lengths.parse.parse_length_exact`.

    Examples
    --------
    >>> diameter_of(".030 in")
    Fraction(381, 500)
    """
    try:
        size = parse_length_exact(text)
    except UnreadableLength as reason:
        write = SIZE if reason.problem == "it has no unit" else reason.write
        raise UnreadableLength(text, reason.problem, write) from None
    if size < 0 or (size == 0 and not zero):
        raise UnreadableLength(text, "it is below 0" if zero else "it is not above 0", SIZE)
    return size


def wire_sizes(text: str) -> tuple[Fraction, ...]:
    """Return the diameter of each wire of a bundle: ``3 x 0.6 mm; 1.1 mm``.

    Parameters
    ----------
    text : str
        Sizes with their units, parted by semicolons; a count and x before a size takes it so many times. [-]

    Returns
    -------
    tuple of Fraction
        The diameter of each wire, in the order written. [mm]

    Raises
    ------
    UnreadableLength
        If a size can't be read, is not above 0, or there are more than 20 wires; says what to write.

    References
    ----------
    The form is our own; each size is read by `diameter_of`.

    Examples
    --------
    >>> wire_sizes("2 x 0.5 mm; 1.1 mm")
    (Fraction(1, 2), Fraction(1, 2), Fraction(11, 10))
    """
    parts = [part.strip() for part in text.split(";") if part.strip()]
    if not parts:
        raise UnreadableLength(text, "nothing is written here", WIRES)
    found = list[Fraction]()
    for part in parts:
        match = _TIMES.fullmatch(part)
        count, size = (int(match[1]), match[2]) if match else (1, part)
        if count < 1 or len(found) + count > MOST_STRANDS:
            problem = f"a bundle is of 1 to {MOST_STRANDS} wires here"
            raise UnreadableLength(text, problem, "fewer, or measure a thicker bundle and take it as one wire")
        found += [diameter_of(size)] * count
    return tuple(found)


def plain_number(text: str, low: float, high: float, example: str) -> float:
    """Return a plain number of a field that names its unit.

    Parameters
    ----------
    text : str
        A number. [-]
    low, high : float
        Between what it must lie. [any unit]
    example : str
        How to write one. [-]

    Returns
    -------
    float
        The number. [same unit]

    Raises
    ------
    UnreadableLength
        If it is no plain number, or lies outside; says what to write.

    References
    ----------
    None needed.

    Examples
    --------
    >>> plain_number("-5", -50, 150, "20")
    -5.0
    """
    plain = " ".join(text.split())
    if len(plain) > LONGEST or not _PLAIN.fullmatch(plain):
        raise UnreadableLength(text, "it is no plain number", example)
    value = float(plain.replace("−", "-"))
    if not low <= value <= high:
        raise UnreadableLength(text, f"it is not from {low:g} to {high:g}", example)
    return value


def wire_count(text: str) -> int:
    """Return how many wires make a bundle.

    Parameters
    ----------
    text : str
        A whole number. [-]

    Returns
    -------
    int
        From 1 to 20. [-]

    Raises
    ------
    UnreadableLength
        If it is no such number; says what to write.

    References
    ----------
    data/circle_packing.csv goes to 20.

    Examples
    --------
    >>> wire_count("7")
    7
    """
    value = plain_number(text, 1, MOST_STRANDS, "7 for seven wires")
    if value != int(value):
        raise UnreadableLength(text, "it is no whole number", "7 for seven wires")
    return int(value)

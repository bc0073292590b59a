"""Dimensions of a drawing as people write them.

A size may carry how far it may be off: ``203.1 ± 0.3 mm``, ``40' 6" +/- 1 in``, ``512 ± 2 px``. These are limits, all
values between them alike.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from fractions import Fraction
from typing import Any

from modelmath.errors import OutOfRange, UnreadableLength, shown
from modelmath.lengths.full_size.known_sizes import KnownSize
from modelmath.lengths.full_size.sides import BARE, unit_behind
from modelmath.lengths.lines import BadLine, columns_of, read_lines
from modelmath.lengths.parse import parse_length_exact, parse_prototype
from modelmath.lengths.prototype import PrototypeLength
from modelmath.lengths.scales import Scale
from modelmath.lengths.uncertain import rectangular

MEASURED_UNITS = ("mm", "in", "px")
LONGEST_SIZE = 150  # characters of a size and how far it may be off; more is a pasted page
_PLUS_MINUS = re.compile(r"\s*(?:±|\+\s*/?\s*-)\s*")
_PIXELS = re.compile(r"\s*(?:px|pix|pixels?)\.?$")
EXAMPLE = "203.1 mm, or 203.1 ± 0.3 mm"


def read_measured(
    text: str, unit: str = "mm", plus_minus: str = "0", scale: Scale | str | None = None, name: str = ""
) -> Any:
    """Read what was measured on a drawing or a picture, with how far it may be off.

    Parameters
    ----------
    text : str
        Such as ``203.1 ± 0.3 mm`` or ``512 px``. [-]
    unit : {"mm", "in", "px"}
        Unit of a bare number; pixels and lengths don't mix. [-]
    plus_minus : str
        How far it may be off where the text doesn't say; a bare number counts `unit`. [-]
    scale : Scale, str or None
        Of scale feet, where a scale rule was laid on the drawing. [-]
    name : str
        What was measured, for the budget. [-]

    Returns
    -------
    uncertain number
        Length on the drawing. [mm or px]

    Raises
    ------
    UnreadableLength
        If it can't be read; says what to write.
    OutOfRange
        If it is 0 or less, or what it may be off is below 0.

    References
    ----------
    JCGM 100:2008, 4.3.7 (limits: half width / sqrt(3)).

    Examples
    --------
    >>> read_measured("8 in ± 1/64 in").n, round(read_measured("203.1", plus_minus="0.3").s, 4)
    (203.2, 0.1732)
    """
    value, off = _parts(text)
    default = off.unit if off and off.unit and not value.unit and "px" not in (off.unit, unit) else unit
    length = _drawn(value.text, default, scale, text)
    if off is None:
        half = read_limit(plus_minus, unit)
    else:
        half = _drawn(off.text, value.unit or default, scale, text)
        if half < 0:
            raise OutOfRange("how far off it may be", shown(text), "0 or more", f"Write {EXAMPLE}.")
    if length <= 0:
        raise OutOfRange("the measured length", shown(text), "above 0", f"Write {EXAMPLE}.")
    return rectangular(float(length), float(half), f"measuring {name or text.strip()}")


def read_limit(text: str, unit: str = "mm") -> Fraction:
    """Read how far a measurement may be off, either way.

    Parameters
    ----------
    text : str
        Such as ``0.25 mm`` or ``2 px``; a bare number counts `unit`. [-]
    unit : {"mm", "in", "px"}
        What is measured in. [-]

    Returns
    -------
    Fraction
        The same. [mm or px]

    Raises
    ------
    UnreadableLength
        If it can't be read; says what to write.
    OutOfRange
        If it is below 0.

    References
    ----------
    None needed.

    Examples
    --------
    >>> read_limit("1/4"), read_limit("1/64 in"), read_limit("2", "px")
    (Fraction(1, 4), Fraction(127, 320), Fraction(2, 1))
    """
    _check_length(text)
    half = _drawn(text, unit, None, text)
    if half < 0:
        raise OutOfRange("how far off it may be", shown(text), "0 or more", "Write 0.25 mm, or 2 px.")
    return half


@dataclass(frozen=True)
class _Part:
    text: str
    unit: str


def _parts(text: str) -> tuple[_Part, _Part | None]:
    """Return the size and how far it may be off, if said, each with the unit that stands behind it."""
    _check_length(text)
    value, *off = _PLUS_MINUS.split(text)
    if len(off) > 1:
        raise UnreadableLength(text, "it has more than one ±", EXAMPLE)
    if off == [""]:
        raise UnreadableLength(text, "nothing stands behind the ±", EXAMPLE)
    return _part(value), _part(off[0]) if off else None


def _check_length(text: str) -> None:
    if len(text) > LONGEST_SIZE:
        raise UnreadableLength(text, f"it is longer than {LONGEST_SIZE} characters", EXAMPLE)


def _part(text: str) -> _Part:
    return _Part(text, "px" if _PIXELS.search(text.casefold()) else unit_behind(text) or "")


def _drawn(text: str, unit: str, scale: Scale | str | None, given: str) -> Fraction:
    """Return one length on the drawing, in mm, or in pixels where `unit` says so."""
    pixels = _PIXELS.search(text.casefold())
    if unit == "px":
        number = text[: pixels.start()] if pixels else text
        if not BARE.fullmatch(number.strip()):
            raise UnreadableLength(given, "this picture is measured in pixels", "a number of pixels, such as 512 ± 2")
        return parse_length_exact(number, "mm")  # a bare number of mm is the number itself
    if pixels:
        raise UnreadableLength(given, "it counts pixels, and lengths on paper are measured here", EXAMPLE)
    return parse_length_exact(text, unit, scale)


def read_full_size(text: str) -> tuple[PrototypeLength, PrototypeLength | None]:
    r"""Read a full size, with how far it may be off.

    Parameters
    ----------
    text : str
        Such as ``40' 6"``, ``12.2 m`` or ``40' 6" ± 1 in``. [-]

    Returns
    -------
    tuple of (PrototypeLength, PrototypeLength or None)
        The size, and how far it may be off either way, if said. [ft]

    Raises
    ------
    UnreadableLength
        If it can't be read; says what to write.
    OutOfRange
        If it is 0 or less.

    References
    ----------
    None needed.

    Examples
    --------
    >>> [str(each) for each in read_full_size("40' 6\" ± 1 in")]
    ['40\' 6"', '0\' 1"']
    """
    value, off = _parts(text)
    size = parse_prototype(value.text, (off.unit if off else "") or None)
    half = parse_prototype(off.text, value.unit or None) if off else None
    if size.feet <= 0 or (half is not None and half.feet < 0):
        raise OutOfRange("the full size", shown(text), "above 0", "Write 40' 6\", or 40' 6\" ± 1 in.")
    return size, half


def read_known(
    text: str, unit: str = "mm", plus_minus: str = "0.25", scale: Scale | str | None = None
) -> tuple[list[KnownSize], list[BadLine]]:
    r"""Read known dimensions, one a line: its full size; what it measures on the drawing. A name may stand in front.

    Parameters
    ----------
    text : str
        Such as ``40' 6"; 203.1`` or ``body; 40' 6"; 203.1 ± 0.3 mm``. [-]
    unit, plus_minus, scale : str
        Of what was measured, as for `read_measured`. [-]

    Returns
    -------
    tuple of (list of KnownSize, list of BadLine)
        The dimensions in order, and the lines that could not be read. [ft, and mm or px]

    Raises
    ------
    OutOfRange
        If there are more than 10,000 lines.

    References
    ----------
    None needed.

    Examples
    --------
    >>> known, bad = read_known("body; 40' 6\"; 257.2\n12 ft; 76,2 mm\n9 ft")
    >>> [each.name for each in known], [line.number for line in bad]
    (['body', '12 ft'], [3])
    """

    def read(number: int, line: str) -> KnownSize:
        columns = columns_of(line)
        if not 2 <= len(columns) <= 3:
            raise UnreadableLength(line, "it is not a full size and what it measures", "40' 6\"; 203.1 mm")
        *names, full, drawn = columns
        name = next((each for each in names if each), full)
        size, half = read_full_size(full)
        return KnownSize.of_prototype(name, size, read_measured(drawn, unit, plus_minus, scale, name), half)

    return read_lines(text, read)


@dataclass(frozen=True)
class Wanted:
    """A size measured on the drawing whose full size is wanted.

    Attributes
    ----------
    name : str
        What it is. [-]
    given : str
        What was measured, as it was written. [-]
    measured : uncertain number
        The same, read. [mm or px]
    """

    name: str
    given: str
    measured: Any


def read_wanted(
    text: str, unit: str = "mm", plus_minus: str = "0.25", scale: Scale | str | None = None
) -> tuple[list[Wanted], list[BadLine]]:
    r"""Read measured sizes, one a line; a name may stand in front.

    Parameters
    ----------
    text : str
        Such as ``53.4`` or ``door; 53.4 ± 0.3 mm``. [-]
    unit, plus_minus, scale : str
        As for `read_measured`. [-]

    Returns
    -------
    tuple of (list of Wanted, list of BadLine)
        The sizes in order, and the lines that could not be read. [mm or px]

    Raises
    ------
    OutOfRange
        If there are more than 10,000 lines.

    References
    ----------
    None needed.

    Examples
    --------
    >>> wanted, bad = read_wanted("door; 53.4 mm\n17")
    >>> [(each.name, each.given) for each in wanted], bad
    ([('door', '53.4 mm'), ('line 2', '17')], [])
    """

    def read(number: int, line: str) -> Wanted:
        *names, drawn = columns_of(line)
        if len(names) > 1:
            raise UnreadableLength(line, "it has more than two columns", "door; 53.4 mm")
        name = "".join(names) or f"line {number}"
        return Wanted(name, drawn, read_measured(drawn, unit, plus_minus, scale, name))

    return read_lines(text, read)

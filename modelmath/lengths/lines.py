"""Lists as people paste them: one thing a line, bad lines reported by number and kept aside."""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import dataclass
from typing import TypeVar

from modelmath.errors import ModelMathError, OutOfRange

MOST_LINES = 10_000
T = TypeVar("T")


@dataclass(frozen=True)
class BadLine:
    """A line that could not be read.

    Attributes
    ----------
    number : int
        Its place in the list, from 1. [-]
    line : str
        The line as it stands. [-]
    message : str
        What is wrong and what to write. [-]
    """

    number: int
    line: str
    message: str


def columns_of(line: str) -> list[str]:
    r"""Return a line parted at tabs and semicolons.

    Parameters
    ----------
    line : str
        The line. [-]

    Returns
    -------
    list of str
        Its columns, without space round them. [-]

    References
    ----------
    None needed.

    Examples
    --------
    >>> columns_of("roof; 12 ft")
    ['roof', '12 ft']
    """
    return [column.strip() for column in re.split("[\t;]", line)]


def read_lines(
    text: str, read: Callable[[int, str], T], what: str = "the list", most: int = MOST_LINES
) -> tuple[list[T], list[BadLine]]:
    r"""Read a list line by line; empty lines are passed over.

    Parameters
    ----------
    text : str
        The lines. [-]
    read : function of int and str
        Reads one line, given its number and the line without space round it; raises our errors. [-]
    what : str
        What the list is, for the message. [-]
    most : int
        Most lines. [-]

    Returns
    -------
    tuple of (list, list of BadLine)
        What was read, in order, and the lines that could not be. [-]

    Raises
    ------
    OutOfRange
        If there are more lines.

    References
    ----------
    None needed.

    Examples
    --------
    >>> from modelmath.lengths.parse import parse_length
    >>> good, bad = read_lines("15 mm\n\n2 mm m", lambda number, line: parse_length(line))
    >>> good, [each.number for each in bad]
    ([15.0], [3])
    """
    lines = text.splitlines()
    if len(lines) > most:
        raise OutOfRange(what, f"{len(lines)} lines long", f"{most} lines or fewer", "Paste it in parts.")
    good: list[T] = []
    bad: list[BadLine] = []
    for number, line in enumerate(lines, start=1):
        if line.strip():
            try:
                good.append(read(number, line.strip()))
            except ModelMathError as reason:
                bad.append(BadLine(number, line.strip(), str(reason)))
    return good, bad

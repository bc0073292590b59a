"""A table of readings pasted as text: one reading a line, bad lines reported by number and kept aside."""

from __future__ import annotations

import re
from dataclasses import dataclass

from modelmath.errors import ModelMathError, OutOfRange
from modelmath.lengths.readings import Reading
from modelmath.lengths.rules import Rule

MOST_LINES = 10_000
_PARTING_COMMA = re.compile(r"(?<![0-9]),|,(?![0-9])")  # between two digits it is a decimal comma: 3,5 mm


@dataclass(frozen=True)
class BadLine:
    """A line that could not be read.

    Attributes
    ----------
    number : int
        Its place in the table, from 1. [-]
    line : str
        The line as it stands. [-]
    message : str
        What is wrong and what to write. [-]
    """

    number: int
    line: str
    message: str


def _columns(line: str) -> list[str]:
    for mark in ("\t", ";", ":"):
        if mark in line:
            return [part.strip() for part in line.split(mark)]
    *names, mark = _PARTING_COMMA.split(line)
    name = ",".join(names).strip()
    return [name, mark.strip()] if name else [line.strip()]


def read_pasted(text: str, rule: Rule, datum: str = "end") -> tuple[list[Reading], list[BadLine]]:
    r"""Read a pasted table of readings, all taken with one rule.

    A line holds a name and a mark, parted by a tab, semicolon, colon or comma, or a mark alone. Empty lines are
    passed over.

    Parameters
    ----------
    text : str
        The lines. [rule's unit]
    rule : Rule
        What they were read with. [-]
    datum : {"end", "zero"}
        What stood against the part. [-]

    Returns
    -------
    tuple of (list of Reading, list of BadLine)
        The readings in order, and the lines that could not be read. [mm]

    Raises
    ------
    OutOfRange
        If there are more than 10,000 lines.

    References
    ----------
    None needed.

    Examples
    --------
    >>> rule = Rule(scale="HO", zero_offset="1")
    >>> good, bad = read_pasted("roof; 10\nmotor; 6 1/8\nweight; 5 1//4", rule)
    >>> [reading.name for reading in good], [line.number for line in bad]
    (['roof', 'motor'], [3])
    """
    lines = text.splitlines()
    if len(lines) > MOST_LINES:
        raise OutOfRange("the table", f"{len(lines)} lines long", f"{MOST_LINES} lines or fewer", "Paste it in parts.")
    good: list[Reading] = []
    bad: list[BadLine] = []
    for number, line in enumerate(lines, start=1):
        if not line.strip():
            continue
        columns = _columns(line)
        name, mark = (columns[0], columns[1]) if len(columns) > 1 else (f"line {number}", columns[0])
        try:
            if len(columns) > 2:
                raise OutOfRange("the line", f"{len(columns)} columns wide", "a name and a mark", "Write roof; 3 3/4.")
            good.append(Reading(name or f"line {number}", rule, mark, datum))
        except ModelMathError as reason:
            bad.append(BadLine(number, line.strip(), str(reason)))
    return good, bad

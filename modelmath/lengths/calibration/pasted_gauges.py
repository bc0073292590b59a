"""A pasted list of gauges: one reading a line, bad lines reported by number and kept aside."""

from __future__ import annotations

import re
from dataclasses import dataclass

from modelmath.errors import OutOfRange, UnreadableLength, shown
from modelmath.lengths.calibration.gauges import Gauge
from modelmath.lengths.lines import BadLine, columns_of, read_lines
from modelmath.lengths.parse import parse_length_exact
from modelmath.lengths.rules import Rule

WRITE = "#43 drill shank; .089 in; 2 1/4; ±0.01 mm"
MOST_GAUGES = 200  # that a job holds
LONGEST = {"name": 200, "size": 60, "mark": 60}  # signs that a job holds of each; no longer tolerance can be read
NO_TOLERANCE = "0 mm"
_SIGN = re.compile(r"^(±|\+\s*/?\s*-)\s*")


@dataclass(frozen=True)
class GaugeLine:
    """A gauge as it was typed, and as it was understood.

    Attributes
    ----------
    size, mark, tolerance : str
        Length with its unit; mark in the rule's unit; half width with its unit. [-]
    gauge : Gauge
        The same. [mm]
    """

    size: str
    mark: str
    tolerance: str
    gauge: Gauge


def read_gauges(text: str, rule: Rule) -> tuple[list[GaugeLine], list[BadLine]]:
    r"""Read a pasted list of gauges that one rule was read against.

    A line holds a name, a size with its unit and the mark, then as wanted ``±`` and a tolerance, and ``zero`` where
    the rule's zero mark stood against it rather than its end; parted by semicolons or tabs. Empty lines are passed
    over.

    Parameters
    ----------
    text : str
        The lines. [rule's unit]
    rule : Rule
        What they were read with. [-]

    Returns
    -------
    tuple of (list of GaugeLine, list of BadLine)
        The gauges in order, and the lines that could not be read. [mm]

    Raises
    ------
    OutOfRange
        If there are more than 200 lines.

    References
    ----------
    None needed.

    Examples
    --------
    >>> good, bad = read_gauges("shank; .089 in; -1/4; ±0.01 mm\nbar; 20 mm; 5; zero\nleaf; 1; 2", Rule(scale="HO"))
    >>> [(line.gauge.name, line.gauge.datum, line.tolerance) for line in good], [line.number for line in bad]
    ([('shank', 'end', '0.01 mm'), ('bar', 'zero', '0 mm')], [3])
    """
    return read_lines(text, lambda _number, line: _gauge_line(columns_of(line), rule), "the list", MOST_GAUGES)


def _gauge_line(columns: list[str], rule: Rule) -> GaugeLine:
    while columns and not columns[-1]:
        columns.pop()
    if len(columns) < 3 or not all(columns[:3]):
        raise UnreadableLength("; ".join(columns), "a gauge has a name, a size and a mark", WRITE)
    name, size, mark = columns[:3]
    datum, tolerance = "end", NO_TOLERANCE
    for extra in columns[3:]:
        if extra.casefold() in ("zero", "end"):
            datum = extra.casefold()
        elif extra:
            tolerance = _tolerance(extra, rule)
    for what, given in (("name", name), ("size", size), ("mark", mark)):
        if len(given) > LONGEST[what]:
            most = f"{LONGEST[what]} signs or fewer"
            raise OutOfRange(f"the {what}", f"{len(given)} signs long", most, f"Write {WRITE}.")
    half_mm = float(parse_length_exact(tolerance, scale=rule.scale))
    gauge = Gauge(name, parse_length_exact(size, scale=rule.scale), mark, datum, tolerance_mm=half_mm)
    gauge.seen_with(rule)  # refuses a mark that is not on it
    return GaugeLine(size, mark, tolerance, gauge)


def _tolerance(text: str, rule: Rule) -> str:
    """Return a tolerance as a length with its unit; anything else after the mark is refused."""
    length = _SIGN.sub("", text)
    if not any(sign.isdigit() for sign in length):
        raise UnreadableLength(text, "after the mark stands a tolerance, or the word zero", "±0.01 mm, or zero")
    if parse_length_exact(length, scale=rule.scale) < 0:
        raise OutOfRange("the tolerance", shown(text), "0 or more", "Write ±0.01 mm.")
    return length

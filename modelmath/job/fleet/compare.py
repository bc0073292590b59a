"""Two plans side by side: the figures in which they differ, with the difference where both have one unit."""

from __future__ import annotations

import re
from dataclasses import dataclass
from decimal import Decimal
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from modelmath.job.plan import Plan

# What is looked at first; the others follow in the plan's own order.
FIRST = (
    "scale", "bulkhead height", "space at the bulkhead", "room left", "chance of touching", "allowance",
    "chamber volume", "net volume", "chamber length", "floor height", "finest mark", "clearance", "wall", "post",
    "-3 dB point", "Qtc", "level for 1 W at 1 m", "load impedance", "speaker power", "current of all lamps",
    "new strips",
)  # fmt: skip
# Each unit with the one that its differences are given in, and how many of those it is.
_UNITS: dict[str, tuple[str, int | Decimal]] = {
    "mm": ("mm", 1), "mm2": ("mm2", 1), "mm3": ("mm3", 1), "cm3": ("cm3", 1), "Hz": ("Hz", 1), "kHz": ("Hz", 1000),
    "ohm": ("ohm", 1), "kohm": ("ohm", 1000), "W": ("W", 1), "mW": ("W", Decimal("0.001")), "V": ("V", 1),
    "mA": ("mA", 1), "A": ("mA", 1000), "dB": ("dB", 1), "g": ("g", 1),
}  # fmt: skip
_FIGURE = r"-?\d+(?:\.\d+)?"
# A value that is one number: what stands before it, the number with its uncertainty and its unit, and what follows.
_VALUE = re.compile(
    rf"(?P<before>at least |±)?(?:(?:about )?-?[\d /.]+ scale (?:ft|in), -?[\d.]+ in, )?"
    rf"(?P<number>{_FIGURE})(?: ± [\d.]+)?"
    rf"(?: (?P<unit>{'|'.join(sorted(_UNITS, key=len, reverse=True))}))?"
    r"(?P<beside>, [\d.]+ in|, from .*| \(.*\)|, [a-z ]+)?"
    r"(?P<where> [^\d,]+)?"
)
NOT_THERE = "not in this plan"


@dataclass(frozen=True)
class Differing:
    """A figure in which two plans differ.

    Attributes
    ----------
    name : str
        What it is. [-]
    one, other : str
        Its value in each plan, with its unit; `NOT_THERE` where a plan has none. [-]
    difference : str
        The second less the first, as shown and with its unit; empty where there is none to give. [-]
    first : bool
        Whether it is one of those to look at first. [-]
    """

    name: str
    one: str
    other: str
    difference: str = ""
    first: bool = False


@dataclass(frozen=True)
class Compared:
    """Two plans beside each other.

    Attributes
    ----------
    differing : tuple of Differing
        The figures in which they differ, those to look at first in front. [-]
    equal : int
        How many figures are the same in both. [-]
    """

    differing: tuple[Differing, ...]
    equal: int


def compare(one: Plan, other: Plan) -> Compared:
    """Compare the figures of two plans.

    Parameters
    ----------
    one, other : Plan
        The plans. [-]

    Returns
    -------
    Compared
        What differs, and by how much. [-]

    References
    ----------
    Each figure is the plan's own.
    """
    mine = {name: figure.value for name, figure in one.figures.items()}
    theirs = {name: figure.value for name, figure in other.figures.items()}
    names = tuple(dict.fromkeys((*FIRST, *mine, *theirs)))
    found = tuple(
        Differing(
            name,
            mine.get(name, NOT_THERE),
            theirs.get(name, NOT_THERE),
            difference(mine.get(name, ""), theirs.get(name, "")),
            name in FIRST,
        )
        for name in names
        if mine.get(name) != theirs.get(name)
    )
    return Compared(found, len(mine.keys() & theirs.keys()) - sum(_in_both(each) for each in found))


def _in_both(each: Differing) -> bool:
    return NOT_THERE not in (each.one, each.other)


def difference(one: str, other: str) -> str:
    """Return the second of two values less the first, where both are one number in one unit.

    The numbers are those shown, so that the difference can be followed by eye. Where the words beside the numbers
    differ, such as ``ahead of the mark`` and ``behind the mark``, there is none.

    Parameters
    ----------
    one, other : str
        The values as a plan writes them. [-]

    Returns
    -------
    str
        With its sign and its unit; empty where there is none to give. [-]

    References
    ----------
    Arithmetic.

    Examples
    --------
    >>> difference("3 1/4 scale ft, 0.448 in, 11.38 mm", "5 1/8 scale ft, 1.281 in, 32.54 mm")
    '+21.16 mm'
    >>> difference("12.37 ± 0.16 cm3", "9.5 ± 0.1 cm3"), difference("5.6 kohm", "680 ohm")
    ('-2.87 cm3', '-4920 ohm')
    >>> difference("2.00 mm ahead of the screw", "1.00 mm behind the screw")
    ''
    """
    first, second = _read(one), _read(other)
    if first is None or second is None or first[1:] != second[1:]:
        return ""
    by = second[0] - first[0]
    if not by:
        return ""
    return f"{'+' if by > 0 else ''}{_shown(by)}{f' {first[1]}' if first[1] else ''}"


def _shown(by: Decimal) -> str:
    """Return a number with the decimals it came with, but none that only a change of unit gave it."""
    return f"{by.to_integral_value():f}" if by == by.to_integral_value() and abs(by) >= 1000 else f"{by:f}"


def _read(value: str) -> tuple[Decimal, str, str, str] | None:
    """Return number, unit, and the words before and behind that tell which way it counts; None if it is no number."""
    found = _VALUE.fullmatch(value)
    if found is None or (found["where"] and not found["unit"]):  # scale feet: their length is the scale's
        return None
    unit, times = _UNITS.get(found["unit"] or "", ("", 1))
    return Decimal(found["number"]) * times, unit, found["before"] or "", found["where"] or ""

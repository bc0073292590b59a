"""The row of heads of a sweep: which column is which, and in what unit; or no heads at all."""

from __future__ import annotations

import re
from dataclasses import dataclass
from math import pi

from modelmath.errors import WrongKind, shown

HEADS = "frequency [Hz], impedance [ohm], phase [degrees]"
COLUMNS = ("frequency", "impedance", "phase")
NAMES = {
    "frequency": ("frequency", "freq", "f", "hz"),
    "impedance": ("impedance", "impedance modulus", "modulus", "|z|", "z", "ohm", "ohms", "ω"),
    "phase": ("phase", "angle", "deg", "degrees", "°"),
}
# What one of each unit is in Hz, ohm or radians; an ohm sign is a small omega once folded.
UNITS = {
    "frequency": {"hz": 1.0, "khz": 1e3},
    "impedance": {"ohm": 1.0, "ohms": 1.0, "ω": 1.0, "kohm": 1e3, "kohms": 1e3, "kω": 1e3},
    "phase": {
        **dict.fromkeys(("deg", "degree", "degrees", "°"), pi / 180),
        **dict.fromkeys(("rad", "radian", "radians"), 1.0),
    },
}
UNIT_WORDS = {"frequency": "Hz or kHz", "impedance": "ohm or kohm", "phase": "degrees or rad"}
NO_HEADS = {
    2: "It has no row of heads: its columns were read as frequency in Hz and impedance in ohm.",
    3: "It has no row of heads: its columns were read as frequency in Hz, impedance in ohm and phase in degrees.",
}
LONGEST_HEAD = 100  # signs of a head that is taken apart
_HEAD = re.compile(r"\s*(.*?)\s*(?:[\[(]\s*([^\[\]()]*?)\s*[\])])?\s*", re.DOTALL)
_NUMBER = re.compile(r"[+-]?(?:[0-9]+(?:\.[0-9]*)?|\.[0-9]+)(?:[eE][+-]?[0-9]+)?")


@dataclass(frozen=True)
class Heads:
    """What the heads of a sweep say.

    Attributes
    ----------
    places : dict of str to int
        Where each column stands. [-]
    units : dict of str to float
        What one of its unit is. [Hz, ohm or rad]
    there : bool
        Whether there is a row of heads; else the first row holds readings. [-]
    phase_unit : bool
        Whether the phase's unit was named. [-]
    notes : tuple of str
        What is to be said of how they were read. [-]

    References
    ----------
    None needed.
    """

    places: dict[str, int]
    units: dict[str, float]
    there: bool = True
    phase_unit: bool = True
    notes: tuple[str, ...] = ()


def read_heads(cells: list[str], comma: bool) -> Heads:
    """Return what the first row of a sweep says of its columns.

    A word that is not known counts by the unit in brackets behind it, where no other head names that column. A first
    row of two or three numbers is no heads: the columns are Hz, ohm and degrees.

    Parameters
    ----------
    cells : list of str
        The first row. [-]
    comma : bool
        Whether a comma may stand for a decimal point. [-]

    Returns
    -------
    Heads
        Each column's place and unit. [-]

    Raises
    ------
    WrongKind
        If a column is not there, stands twice or has another unit.

    References
    ----------
    None needed.

    Examples
    --------
    >>> read_heads(["Frequenz [kHz]", "Impedanz [ohm]"], True).units
    {'frequency': 1000.0, 'impedance': 1.0}
    >>> read_heads(["100", "7.1"], False).there
    False
    """
    numbers = _without_end(cells)
    if all(number_of(cell.strip(), comma) is not None for cell in numbers) and len(numbers) in NO_HEADS:
        return _no_heads(numbers, comma)
    parts = [_parts(head) for head in cells]
    places = _by_word(parts)
    by_unit = _by_unit(parts, places)
    places |= by_unit
    _check_others(cells, parts, places, by_unit)
    for name in ("frequency", "impedance"):
        if name not in places:
            given = f"{shown(', '.join(head.strip() for head in cells))}, with no column of {name}"
            raise WrongKind("the first row", given, "heads that name each column", f"Write {HEADS} above the figures.")
    units = {name: _unit(cells[place].strip(), name, parts[place][1]) for name, place in places.items()}
    notes = tuple(f"{shown(cells[place].strip())} is read as {name}, by its unit." for name, place in by_unit.items())
    word, unit = parts[places["phase"]] if "phase" in places else ("", "deg")
    return Heads(places, units, True, unit is not None or word not in ("phase", "angle"), notes)


def number_of(cell: str, comma: bool) -> float | None:
    """Return the number that a cell holds.

    Parameters
    ----------
    cell : str
        The cell. [-]
    comma : bool
        Whether a comma may stand for a decimal point. [-]

    Returns
    -------
    float or None
        The number; None if it is none. [-]

    References
    ----------
    None needed.

    Examples
    --------
    >>> number_of("7,1", True), number_of("1_0", False)
    (7.1, None)
    """
    written = cell.replace(",", ".", 1) if comma else cell
    return float(written) if _NUMBER.fullmatch(written) else None


def _without_end(cells: list[str]) -> list[str]:
    """Return cells without the empty ones at their end."""
    last = max((place for place, cell in enumerate(cells) if cell.strip()), default=-1)
    return cells[: last + 1]


def _no_heads(cells: list[str], comma: bool) -> Heads:
    if len(cells) > 2 and not comma and "." not in cells[1]:
        # 100,7,1 may be 7.1 ohm with a decimal comma: nothing tells.
        given = f"{shown(','.join(cells))}, where a comma may part columns or be a decimal mark"
        remedy = f"Write {HEADS} above the figures; with decimal commas part the columns with semicolons."
        raise WrongKind("the first row", given, "heads that name each column", remedy)
    names = COLUMNS[: len(cells)]
    units = {name: next(iter(UNITS[name].values())) for name in names}
    return Heads({name: place for place, name in enumerate(names)}, units, False, False, (NO_HEADS[len(cells)],))


def _parts(head: str) -> tuple[str, str | None]:
    """Return a head's word and its unit, folded."""
    if len(head) > LONGEST_HEAD:
        return head.casefold(), None  # no head that is known is as long
    match = _HEAD.fullmatch(head)
    assert match is not None  # it takes any text
    return match[1].casefold(), None if match[2] is None else match[2].casefold()


def _by_word(parts: list[tuple[str, str | None]]) -> dict[str, int]:
    found: dict[str, int] = {}
    for place, (word, _) in enumerate(parts):
        name = next((each for each in COLUMNS if word in NAMES[each]), None)
        if name is not None:
            _put(found, name, place)
    return found


def _by_unit(parts: list[tuple[str, str | None]], named: dict[str, int]) -> dict[str, int]:
    """Return the columns whose word is not known, by their unit."""
    found: dict[str, int] = {}
    for place, (_, unit) in enumerate(parts):
        name = next((each for each in COLUMNS if unit in UNITS[each]), None)
        if name is not None and name not in named and place not in named.values():
            _put(found, name, place)
    return found


def _check_others(
    cells: list[str], parts: list[tuple[str, str | None]], places: dict[str, int], by_unit: dict[str, int]
) -> None:
    """Refuse columns that are told by their unit alone where another, without a unit, may be what is meant."""
    taken = set(places.values())
    others = [place for place, (word, unit) in enumerate(parts) if place not in taken and word and unit is None]
    if by_unit and others:
        name, place = next(iter(by_unit.items()))
        given = (
            f"{shown(cells[place].strip())} beside {shown(cells[others[0]].strip())}, either of which may be the {name}"
        )
        raise WrongKind("the first row", given, "heads that name each column", f"Write {HEADS} above the figures.")


def _put(places: dict[str, int], name: str, place: int) -> None:
    if name in places:
        raise WrongKind("the row of heads", f"one with two columns of {name}", "one of each", "Take one away.")
    places[name] = place


def _unit(head: str, name: str, unit: str | None) -> float:
    if unit is None:
        return next(iter(UNITS[name].values()))
    if unit not in UNITS[name]:
        raise WrongKind("the head of a column", shown(head), f"{name} in {UNIT_WORDS[name]}", "Mend its unit.")
    return UNITS[name][unit]

"""Quantities as people write them, with limits and origin: text to a `Known`, and back.

Forms: ``450 Hz``, ``450 ± 30 Hz``, ``450 Hz ± 5 %``, ``400 to 500 Hz``, ``450 Hz, 400 to 520 Hz``; behind any of them
``, measured``, ``, given``, ``, estimated`` or ``, derived``. Nothing here evaluates text.
"""

from __future__ import annotations

import re
from decimal import Decimal
from fractions import Fraction
from typing import get_args

from modelmath.errors import OutOfRange, UnknownChoice, UnreadableLength, shown
from modelmath.lengths.numbers import check_number
from modelmath.lengths.parse import parse_length_exact
from modelmath.quantities.known import ORIGINS, Known, Origin

LONGEST = 100  # characters: three numbers of 17 digits, their units and an origin; a longer text is a pasted page
LEAST, MOST = (
    Fraction(1, 10**6),
    Fraction(10**9),
)  # in the first unit of each kind: past these no small speaker is meant

# Units of each kind, in what is counted inside; the first one is what is written.
KINDS: dict[str, dict[str, Fraction]] = {
    kind: {unit: Fraction(size) for unit, size in units.items()}
    for kind, units in {
        "frequency": {"Hz": "1", "kHz": "1000"},
        "resistance": {
            "ohm": "1",
            "R": "1",
            "ohms": "1",
            "Ω": "1",
            "mohm": "1/1000",
            "mΩ": "1/1000",
            "kohm": "1000",
            "kΩ": "1000",
        },
        "power": {"W": "1", "mW": "1/1000", "watt": "1", "watts": "1"},
        "voltage": {"V": "1", "mV": "1/1000", "volt": "1", "volts": "1"},
        "volume": {"cm3": "1000", "ml": "1000", "cc": "1000", "l": "1000000", "mm3": "1"},
        "area": {"mm2": "1", "cm2": "100"},
        "mass": {"g": "1", "mg": "1/1000"},
        "inductance": {"mH": "1", "uH": "1/1000"},
        "current": {"mA": "1/1000", "A": "1", "uA": "1/1000000", "amp": "1", "amps": "1"},
        "capacitance": {"uF": "1/1000000", "mF": "1/1000", "F": "1"},
        "time": {"s": "1", "ms": "1/1000", "min": "60"},
        "length": {"mm": "1"},
        "ratio": {"": "1"},
    }.items()
}
SHIFTS = {Fraction(10) ** -power: power for power in (-3, 0, 3, 6)}  # of the units that are written
EXAMPLES = {
    "frequency": "450 Hz", "resistance": "8 ohm", "power": "1 W", "voltage": "2.5 V", "volume": "1.5 cm3",
    "area": "95 mm2", "mass": "0.08 g", "inductance": "0.05 mH", "length": "0.4 mm", "ratio": "0.7",
    "current": "2 mA", "capacitance": "470 uF", "time": "3 s",
}  # fmt: skip
_BY_ENDING = {
    "hz": "frequency", "ohm": "resistance", "w": "power", "v": "voltage", "mm3": "volume", "mm2": "area",
    "mm": "length", "g": "mass", "mh": "inductance", "a": "current", "f": "capacitance", "s": "time",
}  # fmt: skip

_SIGNS = str.maketrans(
    {"Ω": "Ω", "µ": "u", "μ": "u", "³": "3", "²": "2", "^": "", "−": "-", "–": "-", "—": "-", "‐": "-", "‑": "-"}
    | dict.fromkeys("\u00a0\u2009\u202f\u2007\u2002\u2003", " ")
)
_NUMBER = re.compile(r"([0-9]*)(?:([.,])([0-9]*))?")
_SPREAD = re.compile(r"\s*(?:±|\+/-|\+-)\s*|\s+(to)\s+")
_COMMA = re.compile(r",\s+|,(?=[A-Za-z])")  # the comma of 1,5 has a figure right behind it
_LAST_UNIT = re.compile(r"(?:[A-Za-z]+\.?|['\"]+)$")


def kind_of(field: str) -> str:
    """Return the kind of a quantity by the unit at the end of its name.

    Parameters
    ----------
    field : str
        A name such as ``fs_hz``. [-]

    Returns
    -------
    str
        One of `KINDS`; a ratio where it names no unit. [-]

    References
    ----------
    None needed.

    Examples
    --------
    >>> kind_of("fs_hz"), kind_of("qts")
    ('frequency', 'ratio')
    """
    return _BY_ENDING.get(field.rpartition("_")[2], "ratio")


def parse_quantity(text: str, kind: str) -> Known:
    """Read a quantity as people write it.

    A tolerance or two limits may stand with it, and where it comes from; without that word it counts as given.
    Of two limits alone the middle is taken as the value.

    Parameters
    ----------
    text : str
        What the person typed, its unit included; only a ratio has none. [-]
    kind : str
        One of `KINDS`. [-]

    Returns
    -------
    Known
        The quantity. [Hz, ohm, W, V, mm3, mm2, g, mH, A, F, s, mm or -, by its kind]

    Raises
    ------
    UnreadableLength
        If the text has no form we read, or no unit; says what to write. Those of a length are `parse_length`'s.
    OutOfRange
        If it is not above 0, beyond what a small speaker can have, or its limits are not in order.
    UnknownChoice
        If the kind, or the word for its origin, is none that we know.

    References
    ----------
    SI brochure, 9th edition, for the units and their prefixes.

    Examples
    --------
    >>> parse_quantity("450 ± 30 Hz, measured", "frequency")
    Known(value=450.0, low=420.0, high=480.0, origin='measured', why='')
    >>> parse_quantity("1.5 to 2.5 cm3", "volume").value
    2000.0
    >>> parse_quantity("450", "frequency")
    Traceback (most recent call last):
    modelmath.errors.UnreadableLength: '450': it has no unit; write a number with its unit, such as 450 Hz.
    """
    _check_kind(kind)
    if not isinstance(text, str):
        raise UnreadableLength(f"a {type(text).__name__}", "it is not text", _form(kind))
    if len(text) > LONGEST:
        raise UnreadableLength(text[: LONGEST + 1], f"it is longer than {LONGEST} characters", _form(kind))
    plain = " ".join(text.translate(_SIGNS).split())
    if not plain:
        raise UnreadableLength(text, "nothing is written here", _form(kind))
    if plain.endswith(","):
        raise UnreadableLength(text, "nothing stands behind its comma", _form(kind))
    main, *behind = _COMMA.split(plain)
    origin = _origin(behind.pop()) if behind and behind[-1][:1].isalpha() else "given"
    value, low, high = _spread(main, kind, text)
    if behind:
        if len(behind) > 1 or low != high:
            raise UnreadableLength(text, "it has more than a value and its limits", _form(kind))
        _, low, high = _spread(behind[0], kind, text)
    _check_limits(value, low, high, kind, text)
    return Known(float(value), float(low), float(high), origin)


def states_limits(text: str) -> bool:
    """Return whether a quantity's text states limits, be they no wider than its value.

    Parameters
    ----------
    text : str
        A text that `parse_quantity` reads. [-]

    Returns
    -------
    bool
        Whether a tolerance or two limits stand in it. [-]

    References
    ----------
    None needed.

    Examples
    --------
    >>> states_limits("450 ± 0 Hz"), states_limits("450 Hz, given")
    (True, False)
    """
    return _SPREAD.search(" ".join(text.translate(_SIGNS).split())) is not None


def format_quantity(quantity: Known | float, kind: str) -> str:
    """Write a quantity so that `parse_quantity` reads the same again, to the last digit.

    Why it is so is not written; the origin is, unless it is given.

    Parameters
    ----------
    quantity : Known or float
        The quantity. [Hz, ohm, W, V, mm3, mm2, g, mH, A, F, s, mm or -, by its kind]
    kind : str
        One of `KINDS`. [-]

    Returns
    -------
    str
        Number, limits where they are known, unit, origin. [-]

    Raises
    ------
    OutOfRange, WrongKind
        If it is no number that `parse_quantity` would take.
    UnknownChoice
        If there is no such kind.

    References
    ----------
    Each float is written with the fewest digits that give it back: ``float.__repr__``.

    Examples
    --------
    >>> format_quantity(1500.0, "volume"), format_quantity(Known.of(450, "measured", within=30), "frequency")
    ('1.5 cm3', '450 ± 30 Hz, measured')
    >>> format_quantity(Known(0.8, 0.7, 1.1, "estimated"), "ratio")
    '0.8, 0.7 to 1.1, estimated'
    """
    _check_kind(kind)
    known = quantity if isinstance(quantity, Known) else _plain_number(quantity)
    unit, size = next(iter(KINDS[kind].items()))
    shift = SHIFTS[size]
    value, low, high = (Decimal(repr(each)).scaleb(shift) for each in (known.value, known.low, known.high))
    exact = [Fraction(each) for each in (value, low, high)]
    _check_limits(exact[0] * size, exact[1] * size, exact[2] * size, kind, f"{known.value:g}")
    behind = "" if known.origin == "given" else f", {known.origin}"
    number = _digits(value)
    if known.exact:
        return f"{number} {unit}".rstrip() + behind
    if exact[0] - exact[1] == exact[2] - exact[0]:
        return f"{number} ± {_digits(high - value)} {unit}".rstrip() + behind
    return f"{number} {unit}".rstrip() + f", {_digits(low)} to {_digits(high)} {unit}".rstrip() + behind


def told(value: float, field: str) -> str:
    """Return a parameter's number as a sentence tells it: three digits and its unit.

    Parameters
    ----------
    value : float
        The number. [unit of the field]
    field : str
        Its name, which ends in its unit. [-]

    Returns
    -------
    str
        Number and unit. [-]

    References
    ----------
    None needed.

    Examples
    --------
    >>> told(1000.0, "fs_hz"), told(1484.0, "vas_mm3"), told(0.8, "qts")
    ('1000 Hz', '1.48 cm3', '0.8')
    """
    unit, size = next(iter(KINDS[kind_of(field)].items()))
    digits = f"{value / float(size):.3g}"
    plain = _digits(Decimal(digits)) if LEAST <= abs(value) <= MOST else digits
    return f"{plain} {unit}".rstrip()


def _check_kind(kind: str) -> None:
    if kind not in KINDS:
        raise UnknownChoice("the kind of a quantity", kind, tuple(KINDS))


def _plain_number(value: float) -> Known:
    check_number("the quantity", value)
    return Known.of(float(value))


def _digits(number: Decimal) -> str:
    """Return a number without power of ten and without zeros at its end."""
    text = f"{number:f}"
    return text.rstrip("0").rstrip(".") if "." in text else text


def _form(kind: str) -> str:
    return f"a number{' with its unit' if kind != 'ratio' else ''}, such as {EXAMPLES[kind]}"


def _origin(word: str) -> Origin:
    """Return where a quantity comes from, by the word behind its last comma."""
    for origin in get_args(Origin):
        if word.casefold() == origin:
            return origin  # type: ignore[no-any-return]
    raise UnknownChoice("where a quantity comes from", word, ORIGINS)


def _spread(text: str, kind: str, given: str) -> tuple[Fraction, Fraction, Fraction]:
    """Return value, lower and upper limit of text with at most one tolerance or two limits."""
    found = _SPREAD.search(text)
    if found is None:
        value = _term(text, "", kind, given)
        return value, value, value
    before, behind = text[: found.start()], text[found.end() :]
    if _SPREAD.search(behind):
        raise UnreadableLength(given, "it has more than one tolerance or pair of limits", _form(kind))
    if behind.endswith("%") and not found[1]:
        value = _term(before, "", kind, given)
        within = value * _term(behind[:-1].strip(), "", "ratio", given) / 100
        return value, value - within, value + within
    unit = _unit_at_end(behind, kind)
    first, second = _term(before, unit, kind, given), _term(behind, "", kind, given)
    if found[1]:
        if first > second:
            raise OutOfRange(
                "the lower limit", shown(before), f"no more than the upper one, {shown(behind)}", "Swap them."
            )
        return (first + second) / 2, first, second
    return first, first - second, first + second


def _unit_at_end(text: str, kind: str) -> str:
    """Return the unit behind the last number, for a number before it that has none."""
    if kind == "length":
        found = _LAST_UNIT.search(text)
        return found[0] if found else ""
    return text[_NUMBER.match(text).end() :].strip()  # type: ignore[union-attr]


def _term(text: str, unit: str, kind: str, given: str) -> Fraction:
    """Return one number with its unit, in what is counted inside."""
    if text.startswith("-"):
        raise OutOfRange(
            "the quantity", shown(given), "above 0", f"Write it without the minus, such as {EXAMPLES[kind]}."
        )
    if kind == "length":
        bare = _LAST_UNIT.search(text) is None
        return parse_length_exact(f"{text} {unit}" if bare and unit else text)
    found = _NUMBER.match(text)
    assert found is not None  # it matches nothing at least
    whole, point, part = found.groups()
    if not whole and not part:
        raise UnreadableLength(given, "it has no number where one is due", _form(kind))
    if point == "," and len(part) == 3 and 1 <= len(whole) <= 3 and whole[0] != "0":
        raise UnreadableLength(
            given, "the comma may be a decimal mark or a thousands mark", f"{_form(kind)}, with a point"
        )
    number = Fraction(int(f"{whole}{part or ''}"), 10 ** len(part or ""))
    return number * _size(text[found.end() :].strip() or unit, kind, given)


def _size(unit: str, kind: str, given: str) -> Fraction:
    """Return the size of a unit; a capital M is no milli."""
    units = KINDS[kind]
    if unit in units:
        return units[unit]
    if not unit:
        raise UnreadableLength(given, "it has no unit", _form(kind))
    if re.match(r"[eE][+-]?[0-9]", unit):
        raise UnreadableLength(given, "powers of ten are not read here", _form(kind))
    if re.match(r"- ?[0-9]", unit):
        raise UnreadableLength(given, "its dash may mean minus", f"{_form(kind)}, or two limits with the word to")
    if kind == "ratio":
        raise UnreadableLength(given, f"{shown(unit)} stands behind a ratio, which has no unit", _form(kind))
    for name, size in units.items():
        if name.casefold() == unit.casefold() and not (unit[0] == "M" and len(unit) > 1):
            return size
    raise UnreadableLength(given, f"{shown(unit)} is no unit of {kind}; those are {', '.join(units)}", _form(kind))


def _check_limits(value: Fraction, low: Fraction, high: Fraction, kind: str, given: str) -> None:
    """Refuse what is not above 0, not in order, or beyond what is meant by a small speaker's parameters."""
    unit, size = next(iter(KINDS[kind].items()))
    if low <= 0:
        advice = f"Write it above 0, such as {EXAMPLES[kind]}, and its tolerance below it."
        raise OutOfRange("the quantity", shown(given), "above 0, its lower limit too", advice)
    if not low <= value <= high:
        raise OutOfRange("the quantity", shown(given), "between its limits", "Check the value and its limits.")
    if low < LEAST * size or high > MOST * size:
        expected = f"from {float(LEAST):f} to {int(MOST)} {unit}".rstrip()
        raise OutOfRange("the quantity", shown(given), expected, "Check the number and its unit.")

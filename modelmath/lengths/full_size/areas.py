"""Areas and volumes of the prototype as people write them, to exact ones; and those of the model as text.

Read are one number with one unit (``120 sq ft``, ``11.1 m²``, ``4000 cu ft``, ``8000 US gal``) and sides joined by x or
by (``12 ft x 8 ft``, ``40' 6" x 9' 2" x 10'``). Nothing here evaluates text.
"""

from __future__ import annotations

import re
import unicodedata
from fractions import Fraction
from math import floor, log10

from modelmath.errors import UnreadableLength, shown
from modelmath.lengths.full_size.sides import BARE, unit_behind
from modelmath.lengths.parse import parse_length_exact, parse_prototype
from modelmath.lengths.plain import LONGEST
from modelmath.lengths.prototype import PrototypeArea, PrototypeLength, PrototypeVolume
from modelmath.lengths.units import MM_PER_FOOT, MM_PER_INCH, mm_per, unit_name

AREA_EXAMPLE = "an area such as 120 sq ft, 11.1 m2 or 12 ft x 8 ft"
VOLUME_EXAMPLE = "a volume such as 4000 cu ft, 113 m3 or 40 ft x 9 ft x 10 ft"
US_GALLON_MM3 = 231 * MM_PER_INCH**3  # NIST Handbook 44, appendix C: 231 cubic inches, exact
IMPERIAL_GALLON_MM3 = Fraction(4_546_090)  # NIST SP 811, appendix B: 4.546 09 L, exact
LITRE_MM3 = Fraction(10**6)

_GALLONS = {"us": US_GALLON_MM3, "imperial": IMPERIAL_GALLON_MM3, "imp": IMPERIAL_GALLON_MM3}
_LENGTH_UNIT = (
    r"mm|cm|m|in\.?|ft\.?|inch(?:es)?|foot|feet|millimet(?:er|re)s?|centimet(?:er|re)s?|met(?:er|re)s?|yd\.?|yards?"
)
_POWERED = re.compile(rf"(?P<number>.*?)\s*(?<![a-z])(?P<word>sq\.?|square|cu\.?|cubic)\s*(?P<unit>{_LENGTH_UNIT})")
_RAISED = re.compile(rf"(?P<number>.*?)\s*(?<![a-z])(?P<unit>{_LENGTH_UNIT})\^?(?P<power>[23])")
_CAPACITY = re.compile(
    r"(?P<number>.*?)\s*(?<![a-z])(?:(?P<whose>us|u\.s\.|imp\.?|imperial)\s*)?(?P<unit>gal\.?|gallons?|l|lit(?:er|re)s?)"
)
_SQUARE_SIDE = re.compile(rf".*(?:{_LENGTH_UNIT}|['\"])\s*(?:sq\.?|square)")
_BY = re.compile(r"\s*[x×✕]\s*|\s+by\s+")


def parse_area(text: str, unit: str | None = None) -> PrototypeArea:
    """Read a prototype area, as a type of its own.

    Parameters
    ----------
    text : str
        Full-size area, such as ``120 sq ft``, ``11.1 m²`` or ``12 ft x 8 ft``. [-]
    unit : str or None
        Unit of length of bare sides, and whose square a bare number counts: ft, in, m, cm or mm. [-]

    Returns
    -------
    PrototypeArea
        The area on the prototype, exact. [sq ft]

    Raises
    ------
    UnreadableLength
        If the text has no form we read or more than one meaning; says what to write.
    UnknownChoice
        If `unit` is no unit of length.

    References
    ----------
    NIST SP 811, appendix B (inch and foot).

    Examples
    --------
    >>> print(parse_area("12 ft x 8 ft"), parse_area("11.1 m²"), sep="; ")
    96 sq ft; 119.48 sq ft
    """
    plain = _checked(text, AREA_EXAMPLE)
    if _SQUARE_SIDE.fullmatch(plain) and not _POWERED.fullmatch(plain):
        raise UnreadableLength(text, "it may be a square's side or its area", "12 ft x 12 ft, or 12 sq ft")
    sides = _BY.split(plain)
    if len(sides) == 2:
        lengths = _sides(sides, text, AREA_EXAMPLE, unit)
        return lengths[0] * lengths[1]
    if len(sides) > 2:
        raise UnreadableLength(text, "it has more than two sides", AREA_EXAMPLE)
    number, mm = _measure(plain, text, unit, 2, AREA_EXAMPLE)
    return PrototypeArea(number * mm / MM_PER_FOOT**2)


def parse_volume(text: str, unit: str | None = None) -> PrototypeVolume:
    """Read a prototype volume, as a type of its own.

    Parameters
    ----------
    text : str
        Full-size volume, such as ``4000 cu ft``, ``113 m³``, ``8000 US gal``, ``40 ft x 9 ft x 10 ft`` or
        ``120 sq ft x 8 ft``. [-]
    unit : str or None
        Unit of length of bare sides, and whose cube a bare number counts: ft, in, m, cm or mm. [-]

    Returns
    -------
    PrototypeVolume
        The volume on the prototype, exact. [cu ft]

    Raises
    ------
    UnreadableLength
        If the text has no form we read or more than one meaning; says what to write.
    UnknownChoice
        If `unit` is no unit of length.

    References
    ----------
    NIST SP 811, appendix B (inch, foot, imperial gallon); NIST Handbook 44, appendix C (US gallon).

    Examples
    --------
    >>> print(parse_volume("40' x 9' x 10'"), parse_volume("120 sq ft x 8 ft"), sep="; ")
    3600 cu ft; 960 cu ft
    """
    plain = _checked(text, VOLUME_EXAMPLE)
    sides = _BY.split(plain)
    if len(sides) == 3:
        lengths = _sides(sides, text, VOLUME_EXAMPLE, unit)
        return lengths[0] * lengths[1] * lengths[2]
    if len(sides) == 2 and (_POWERED.fullmatch(sides[0]) or _RAISED.fullmatch(sides[0])):
        number, mm = _measure(sides[0], text, None, 2, VOLUME_EXAMPLE)
        return PrototypeArea(number * mm / MM_PER_FOOT**2) * _sides(sides[1:], text, VOLUME_EXAMPLE)[0]
    if len(sides) > 1:
        raise UnreadableLength(text, f"it has {len(sides)} sides, and a volume has three", VOLUME_EXAMPLE)
    number, mm = _measure(plain, text, unit, 3, VOLUME_EXAMPLE)
    return PrototypeVolume(number * mm / MM_PER_FOOT**3)


def _checked(text: str, example: str) -> str:
    """Return text with raised digits and other signs made plain, in small letters on one line."""
    if not isinstance(text, str):
        raise UnreadableLength(str(text), "it is not text", f"{example}, in quotes")
    if len(text) > LONGEST:
        raise UnreadableLength(text, f"it is longer than {LONGEST} characters", example)
    plain = " ".join("".join(_digit(sign) for sign in text).casefold().split())
    if not plain:
        raise UnreadableLength(text, "nothing is written here", example)
    if "scale" in plain:
        raise UnreadableLength(text, "scale feet measure the model", f"the prototype's size: {example}")
    return plain


def _digit(sign: str) -> str:
    return unicodedata.normalize("NFKC", sign) if "<super>" in unicodedata.decomposition(sign) else sign


def _sides(sides: list[str], given: str, example: str, unit: str | None = None) -> list[PrototypeLength]:
    """Return the sides; a bare one has the unit of the last, as in 12 x 8 ft, else `unit`."""
    unit = unit_behind(sides[-1]) or unit
    lengths = []
    for side in sides:
        try:
            length = parse_prototype(side, unit if BARE.fullmatch(side) else None)
        except UnreadableLength as reason:
            where = f"its side {side!r}" if side else "one of its sides"
            problem = "is missing" if not side else f"can't be read: {reason.problem}"
            raise UnreadableLength(given, f"{where} {problem}", example) from None
        if length.feet < 0:
            raise UnreadableLength(given, "a side can't be below 0", example)
        lengths.append(length)
    return lengths


def _measure(plain: str, given: str, unit: str | None, power: int, example: str) -> tuple[Fraction, Fraction]:
    """Return the number, and how many mm2 or mm3 one of its unit has."""
    kinds = {2: "an area", 3: "a volume"}
    for form in (_POWERED, _RAISED):
        match = form.fullmatch(plain)
        if match is None:
            continue
        found = int(match["power"]) if form is _RAISED else 2 if match["word"].startswith("sq") else 3
        if found != power:
            raise UnreadableLength(given, f"it is {kinds[found]}", example)
        return _number(match["number"], given, example), _side_mm(match["unit"]) ** power
    capacity = _CAPACITY.fullmatch(plain) if power == 3 else None
    if capacity is not None:
        return _number(capacity["number"], given, example), _capacity_mm3(capacity, given)
    if unit is None:
        bare = re.fullmatch(r"[0-9 ./,-]+", plain)
        raise UnreadableLength(given, "it has no unit" if bare else f"it can't be read as {kinds[power]}", example)
    return _number(plain, given, example), mm_per(unit_name(unit)) ** power


def _side_mm(unit: str) -> Fraction:
    word = unit.removesuffix(".")
    return 3 * MM_PER_FOOT if word.startswith("y") else mm_per(unit_name(word))


def _capacity_mm3(match: re.Match[str], given: str) -> Fraction:
    if match["unit"].startswith("l"):
        return LITRE_MM3
    whose = (match["whose"] or "").replace(".", "")
    if whose not in _GALLONS:
        raise UnreadableLength(given, "gallons differ between countries", "8000 US gal or 8000 imperial gal")
    return _GALLONS[whose]


def _number(text: str, given: str, example: str) -> Fraction:
    """Return the exact value of the number in front of the unit."""
    if re.search(r"[a-z'\"’′”″]", text):
        raise UnreadableLength(given, f"{shown(text)} is no number", example)
    try:
        value = parse_length_exact(text, unit="mm")  # a bare number of mm is the number itself
    except UnreadableLength as reason:
        write = f"{reason.write}, with its unit" if reason.write[:1].isdigit() else example
        raise UnreadableLength(given, reason.problem if text else "it has no number", write) from None
    if value < 0:
        raise UnreadableLength(given, "it can't be below 0", example)
    return value


def figures(value: Fraction | float, count: int = 4) -> str:
    """Write a number to so many figures, without powers of ten.

    Parameters
    ----------
    value : Fraction or float
        A finite number. [any unit]
    count : int
        Figures to keep; whole numbers keep all theirs. [-]

    Returns
    -------
    str
        The number. [same unit]

    References
    ----------
    Arithmetic.

    Examples
    --------
    >>> figures(0.0123456), figures(171.5), figures(171_500.4)
    ('0.01235', '171.5', '171500')
    """
    if not value:
        return "0"
    places = max(0, count - 1 - floor(log10(abs(float(value)))))
    text = f"{float(value):.{places}f}"
    return text.rstrip("0").rstrip(".") if "." in text else text


def area_text(mm2: Fraction | float) -> tuple[str, str]:
    """Write a model area in square millimetres and square inches.

    Parameters
    ----------
    mm2 : Fraction or float
        Model area. [mm2]

    Returns
    -------
    tuple of two str
        To four figures. [-]

    References
    ----------
    NIST SP 811, appendix B.

    Examples
    --------
    >>> area_text(1176)
    ('1176 mm2', '1.823 sq in')
    """
    return f"{figures(mm2)} mm2", f"{figures(mm2 / MM_PER_INCH**2)} sq in"


def volume_text(mm3: Fraction | float) -> tuple[str, str]:
    """Write a model volume in cubic centimetres and cubic inches.

    Parameters
    ----------
    mm3 : Fraction or float
        Model volume. [mm3]

    Returns
    -------
    tuple of two str
        To four figures. [-]

    References
    ----------
    NIST SP 811, appendix B.

    Examples
    --------
    >>> volume_text(171_500)
    ('171.5 cm3', '10.47 cu in')
    """
    return f"{figures(Fraction(mm3) / 1000)} cm3", f"{figures(mm3 / MM_PER_INCH**3)} cu in"

"""Strip by name: from the name to its section and back.

Scale lumber is named by nominal scale inches (``HO 6x10``), the other two by their real size
(``.030 x .125``, ``1 x 2 mm``).
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction

from modelmath.errors import OutOfRange, UnknownChoice, UnreadableLength
from modelmath.lengths.parse import parse_length_exact
from modelmath.lengths.plain import LONGEST
from modelmath.lengths.scales import Scale, scale_of
from modelmath.lengths.units import MM_PER_INCH
from modelmath.materials.exact import exact_mm

SERIES = ("scale lumber", "decimal inch", "metric")
EXAMPLES = "HO 6x10, .030 x .125, .040 sq or 1.0 x 2.0 mm"


@dataclass(frozen=True)
class Strip:
    """A strip's section.

    Attributes
    ----------
    series : str
        One of `SERIES`. [-]
    thickness_mm : Fraction
        The smaller side, exact. [mm]
    width_mm : Fraction
        The larger side, exact; equal for a square. [mm]
    scale : str or None
        Name of the scale of scale lumber; None for the other series. [-]
    """

    series: str
    thickness_mm: Fraction
    width_mm: Fraction
    scale: str | None = None

    def __post_init__(self) -> None:
        if self.series not in SERIES:
            raise UnknownChoice("strip series", self.series, SERIES)
        object.__setattr__(self, "thickness_mm", exact_mm(self.thickness_mm, "thickness_mm"))
        object.__setattr__(self, "width_mm", exact_mm(self.width_mm, "width_mm"))
        if self.thickness_mm > self.width_mm:
            given = f"{float(self.thickness_mm):g} mm, with width_mm {float(self.width_mm):g} mm"
            raise OutOfRange("thickness_mm", given, "the smaller side", "Swap the two.")
        if (self.scale is None) == (self.series == "scale lumber"):
            given, expected = repr(self.scale), "a scale's name for scale lumber and None for other strip"
            raise OutOfRange("scale", given, expected, 'Write Strip("scale lumber", ..., scale="HO").')

    @property
    def name(self) -> str:
        """The name it is asked for by; `parse_strip` reads it back."""
        sides = (self.thickness_mm / self._unit_mm, self.width_mm / self._unit_mm)
        if self.series == "scale lumber":
            return f"{self.scale} {number_text(sides[0], 0)}x{number_text(sides[1], 0)}"
        if self.series == "metric":
            return f"{number_text(sides[0], 0)} x {number_text(sides[1], 0)} mm"
        shown = [number_text(side, 3).removeprefix("0") for side in sides]
        plain = all(re.fullmatch(r"\.[0-9]{3,}", side) for side in shown)
        size = f"{shown[0]} sq" if sides[0] == sides[1] else f"{shown[0]} x {shown[1]}"
        return size if plain else f"{size} in"

    @property
    def _unit_mm(self) -> Fraction:
        if self.scale is not None:
            return scale_of(self.scale).mm_per_inch
        return MM_PER_INCH if self.series == "decimal inch" else Fraction(1)


def number_text(value: Fraction, places: int) -> str:
    """Return an exact number as text: a decimal of at least so many places if it ends, else a (mixed) fraction.

    Parameters
    ----------
    value : Fraction
        The number, 0 or more. [any unit]
    places : int
        Least decimal places. [-]

    Returns
    -------
    str
        The number. [same unit]

    References
    ----------
    Arithmetic: a fraction's decimal ends if its denominator has no prime factors but 2 and 5.

    Examples
    --------
    >>> number_text(Fraction(1, 25), 3), number_text(Fraction(4, 3), 3)
    ('0.040', '1-1/3')
    """
    rest, digits = value.denominator, 0
    while rest % 10 == 0 or rest % 5 == 0 or rest % 2 == 0:
        rest //= 10 if rest % 10 == 0 else 5 if rest % 5 == 0 else 2
        digits += 1
    if rest != 1 or digits > 9:
        whole, part = divmod(value, 1)
        return f"{whole}-{part}" if whole else str(part)  # no space: a scale may be called 0 or 1
    return f"{value.numerator * 10**digits // value.denominator / Decimal(10) ** digits:.{max(places, digits)}f}"


_SPLIT = re.compile(r"(?<=\S)\s*[x×✕]\s*(?=[0-9.¼½¾⅛⅜⅝⅞])|\s+by\s+")  # a scale may be called X
_UNITS = {"mm": "mm", "in": "in", "in.": "in", "inch": "in", "inches": "in", '"': "in", "″": "in", "”": "in"}
_UNIT = r"(?P<unit>mm|inch(?:es)?|in\.?|[\"″”])?"
_SIDE = r"(?P<side>[0-9.,/⁄¼½¾⅛⅜⅝⅞]+(?:(?:\s+|-)[0-9]+[/⁄][0-9]+)?(?:\s*[¼½¾⅛⅜⅝⅞])?)"
_FIRST = re.compile(rf"(?P<scale>.*?)\s*{_SIDE}\s*{_UNIT}")
_SECOND = re.compile(rf"{_SIDE}\s*(?:(?:scale\s+)?{_UNIT})")
_SQUARE = re.compile(r"(?P<size>.*?)\s*\b(?:square|sq\.?)(?P<unit>\s*(?:mm|inch(?:es)?|in\.?|[\"″”])?)")


def parse_strip(text: str, scale: Scale | str | None = None) -> Strip:
    """Read a strip's name as it stands on the packet or in the drawer.

    Scale lumber: ``HO 6x10``, or ``6x10`` with `scale`; nominal scale inches. Decimal inch: ``.030 x .125``,
    ``.040 sq``, or any size with ``in``. Metric: any size with ``mm``. The smaller side is the thickness,
    whichever is written first. A name that could be two strips is refused.

    Parameters
    ----------
    text : str
        The name. [-]
    scale : Scale, str or None
        Scale of a name of whole numbers without scale or unit; other names don't need it. [-]

    Returns
    -------
    Strip
        The section. [mm]

    Raises
    ------
    UnreadableLength
        If it is no strip's name, or could be more than one; says what to write.
    UnknownScale
        If the name begins with no known scale.

    References
    ----------
    Lumber sizes are nominal scale inches, decimal sizes point first to three places: common practice, no source.

    Examples
    --------
    >>> parse_strip("HO 6x10")
    Strip(series='scale lumber', thickness_mm=Fraction(7, 4), width_mm=Fraction(35, 12), scale='HO')
    >>> parse_strip(".040 square").name, parse_strip("2.0 x 1.0 mm").name
    ('.040 sq', '1 x 2 mm')
    """
    if not isinstance(text, str):
        raise UnreadableLength(str(text), "it is not text", f"a strip's name in quotes, such as {EXAMPLES}")
    if len(text) > LONGEST:
        raise UnreadableLength(text, f"it is longer than {LONGEST} characters", f"a strip such as {EXAMPLES}")
    plain = " ".join(text.split())
    if not plain:
        raise UnreadableLength(text, "nothing is written here", f"a strip such as {EXAMPLES}")
    lead, sides, units = _sides(plain, text)
    if len(units) > 1:
        raise UnreadableLength(text, "its sides have different units", "both in mm or both in inches")
    unit = next(iter(units), None)
    if lead:
        return _lumber(lead, sides, unit, text)
    if unit is not None:
        return _made("metric" if unit == "mm" else "decimal inch", sides, unit, text)
    if all(re.fullmatch(r"\.[0-9]{3,}", side) for side in sides):
        return _made("decimal inch", sides, "in", text)
    if scale is not None and all(side.isdecimal() for side in sides):
        return _lumber(scale, sides, None, text)
    raise _ambiguous(sides, scale, text)


def _sides(plain: str, given: str) -> tuple[str, tuple[str, str], set[str]]:
    """Take a name apart: what leads it, its two sides as text, the units written."""
    lowered = plain.casefold()
    square = _SQUARE.fullmatch(lowered)
    halves = [square["size"] + square["unit"], square["size"]] if square else _SPLIT.split(lowered)
    if len(halves) != 2:
        problem = "it has one side only" if len(halves) == 1 else "it has more than two sides"
        raise UnreadableLength(given, problem, f"a strip such as {EXAMPLES}")
    first = _FIRST.fullmatch(halves[0])
    second = first if square else _SECOND.fullmatch(halves[1])
    if first is None or second is None:
        raise UnreadableLength(given, "it can't be read as a strip", f"a strip such as {EXAMPLES}")
    units = {_UNITS[found["unit"]] for found in (first, second) if found["unit"]}
    scale_words = not square and " scale " in f" {halves[1]} "
    if scale_words and (not first["scale"] or units != {"in"}):
        raise UnreadableLength(given, "it has scale inches but no scale", "the scale first, as HO 6x10")
    return first["scale"].strip(), (first["side"], second["side"]), set() if scale_words else units


def _lumber(scale: Scale | str, sides: tuple[str, str], unit: str | None, given: str) -> Strip:
    """Return scale lumber; its sides are nominal scale inches, so a real unit or a packet's thousandths can't be."""
    found = scale_of(scale)
    if unit is not None or any(side.startswith((".", "0")) for side in sides):
        advice = f"{found.name} 6x10 for scale inches, or the size alone for real ones, as .030 x .125 or 1 x 2 mm"
        raise UnreadableLength(given, "it has a scale and a real size", advice)
    return _made("scale lumber", sides, "scale inch", given, found)


def _made(series: str, sides: tuple[str, str], unit: str, given: str, scale: Scale | None = None) -> Strip:
    lengths = sorted(parse_length_exact(side, unit, scale) for side in sides)
    if lengths[0] <= 0:
        raise UnreadableLength(given, "a side of 0 is no strip", f"a strip such as {EXAMPLES}")
    return Strip(series, lengths[0], lengths[1], scale.name if scale else None)


def _ambiguous(sides: tuple[str, str], scale: Scale | str | None, given: str) -> UnreadableLength:
    size = "x".join(sides)
    if scale is None and all(side.isdecimal() for side in sides):
        return UnreadableLength(given, "it could be scale inches or mm", f"the scale first, as HO {size}, or {size} mm")
    return UnreadableLength(given, "it could be inches or mm", f"{size} in or {size} mm")

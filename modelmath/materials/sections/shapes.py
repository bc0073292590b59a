"""Rod, half round, angle, channel and tube by name and size; and the front door for the name of any stock."""

from __future__ import annotations

import re
from dataclasses import dataclass
from fractions import Fraction

from modelmath.errors import OutOfRange, UnknownChoice, UnreadableLength
from modelmath.lengths.scales import Scale
from modelmath.lengths.units import MM_PER_INCH
from modelmath.materials.exact import exact_mm
from modelmath.materials.sections.readings import AmbiguousName
from modelmath.materials.sections.sheet_names import parse_sheet
from modelmath.materials.sections.sheets import Sheet
from modelmath.materials.sections.strips import Strip, number_text, parse_strip
from modelmath.materials.sections.writing import (
    SIDE,
    SPLIT,
    UNIT,
    UNIT_MM,
    Written,
    one_size,
    one_unit,
    plain_name,
    written,
)

SHAPES = ("rod", "half round", "angle", "channel", "tube", "square tube")
SHAPE_SERIES = ("decimal inch", "metric")
TUBES = ("tube", "square tube")
TWO_SIZES = ("angle", "channel")  # legs, or web and flanges, may differ
EXAMPLES = ".030 rod, 1 mm half round, .080 angle, .100 channel or 3/32 tube x .014 wall"


@dataclass(frozen=True)
class Section:
    """The section of a rod, half round, angle, channel or tube.

    Attributes
    ----------
    kind : str
        One of `SHAPES`. [-]
    series : str
        ``decimal inch`` or ``metric``: what its sizes are named in. [-]
    size_mm : Fraction
        Diameter of a rod, half round or tube; side of a square tube; leg of an angle; depth of a channel,
        over its web. All outside, exact. [mm]
    other_mm : Fraction or None
        The other leg of an angle, or how far a channel's flanges stand out, where the name says so. [mm]
    wall_mm : Fraction or None
        A tube's wall; None where it is not known. [mm]

    Examples
    --------
    >>> Section("tube", "metric", Fraction(4), wall_mm=Fraction(1, 2)).name
    '4 mm tube x 0.5 mm wall'
    """

    kind: str
    series: str
    size_mm: Fraction
    other_mm: Fraction | None = None
    wall_mm: Fraction | None = None

    def __post_init__(self) -> None:
        if self.kind not in SHAPES:
            raise UnknownChoice("shape", self.kind, SHAPES)
        if self.series not in SHAPE_SERIES:
            raise UnknownChoice("series of shapes", self.series, SHAPE_SERIES)
        for field in ("size_mm", "other_mm", "wall_mm"):
            if field == "size_mm" or getattr(self, field) is not None:
                object.__setattr__(self, field, exact_mm(getattr(self, field), field))
        self._check("other_mm", self.other_mm, TWO_SIZES, "an angle's or a channel's")
        self._check("wall_mm", self.wall_mm, TUBES, "a tube's")
        if self.wall_mm is not None and 2 * self.wall_mm >= self.size_mm:
            most = f"below {float(self.size_mm / 2):g} mm, half of the tube's size"
            raise OutOfRange("wall_mm", f"{float(self.wall_mm):g} mm", most, "Check the wall; a solid one is a rod.")

    def _check(self, field: str, value: Fraction | None, kinds: tuple[str, ...], whose: str) -> None:
        if value is not None and self.kind not in kinds:
            expected = f"{whose}; None for a {self.kind}"
            raise OutOfRange(field, f"{float(value):g} mm", expected, "Leave it out.")

    @property
    def bore_mm(self) -> Fraction | None:
        """Inside diameter, or side, of a tube; None where its wall is not known, and of all that is not hollow. [mm]"""
        return None if self.wall_mm is None else self.size_mm - 2 * self.wall_mm

    @property
    def name(self) -> str:
        """The name it is asked for by; `parse_section` reads it back. [-]"""
        sizes = [size for size in (self.size_mm, self.other_mm) if size is not None]
        text = f"{self._sizes(sizes)} {self.kind}"
        return text if self.wall_mm is None else f"{text} x {self._sizes([self.wall_mm])} wall"

    def _sizes(self, sizes: list[Fraction]) -> str:
        if self.series == "metric":
            return f"{' x '.join(number_text(size, 0) for size in sizes)} mm"
        return " x ".join(_inch_text(size / MM_PER_INCH) for size in sizes)


def _inch_text(inches: Fraction) -> str:
    """Return inches as packets print them: thousandths point first, else a fraction, else with the unit."""
    if inches < 1 and (inches * 1000).denominator == 1:
        return number_text(inches, 3).removeprefix("0")
    if inches < 1 and 64 % inches.denominator == 0:
        return str(inches)
    shown = number_text(inches, 3).removeprefix("0")
    return shown if inches < 1 and (shown.startswith(".") or "/" in shown) else f"{shown} in"


_KIND = re.compile(
    r"\b(?:(?P<half>half[ -]?rounds?)|(?P<square>(?:square|sq\.?|box)[ -]tub(?:e|ing)s?)"
    r"|(?P<tube>(?:round )?tub(?:e|ing)s?)|(?P<angle>(?:l[ -])?angles?)|(?P<channel>(?:[cu][ -])?channels?)"
    r"|(?P<rod>(?:round )?rods?|rounds?))(?![a-z])"
)
_KINDS = {"half": "half round", "square": "square tube"}
_INSIDE = r"(?P<what>walls?|bore)"
_WALL = re.compile(
    rf"(?:\s*[x×✕✖*,]\s*|\s+|^)(?:with\s+)?(?:an?\s+)?(?:(?P<side>{SIDE})\s*(?P<unit>{UNIT})?\s*{_INSIDE}"
    rf"|{_INSIDE.replace('what', 'what2')}\s*(?P<side2>{SIDE})\s*(?P<unit2>{UNIT})?)\s*$"
)


def parse_section(text: str) -> Section:
    """Read the name of a rod, half round, angle, channel or tube.

    The word may stand before or behind the size. A size that begins with its point, as packets print it, and a
    bare fraction are in inches; any other names its unit. A tube's wall or bore may follow: ``3/32 tube x .014
    wall``, ``4 mm tube, 3 mm bore``.

    Parameters
    ----------
    text : str
        The name. [-]

    Returns
    -------
    Section
        The section. [mm]

    Raises
    ------
    AmbiguousName
        If it could be more than one; says what to type for each.
    UnreadableLength
        If it is none; says what to write.
    OutOfRange
        If a wall is too thick for its tube.

    References
    ----------
    Decimal sizes point first to three places, bare fractions inches: common practice, no source.

    Examples
    --------
    >>> parse_section("rod .030").name, parse_section("1 mm half-round").name
    ('.030 rod', '1 mm half round')
    >>> float(parse_section("tube 3/32 x .014 wall").bore_mm)
    1.67005
    """
    plain = plain_name(text, "shape", EXAMPLES)
    found = list(_KIND.finditer(plain))
    if len(found) != 1:
        problem = "it names no shape" if not found else "it names more than one shape"
        raise UnreadableLength(text, problem, f"a shape such as {EXAMPLES}")
    kind = _KINDS.get(str(found[0].lastgroup), str(found[0].lastgroup))
    rest = " ".join(f"{plain[: found[0].start()]} {plain[found[0].end() :]}".split())
    wall = _WALL.search(rest)
    sizes = _sizes(rest[: wall.start()] if wall else rest, text)
    second = wall is None and kind in TUBES and len(sizes) == 2
    if len(sizes) > 1 and kind not in TWO_SIZES and not second:
        raise UnreadableLength(text, f"a {kind} has one size", f"a shape such as {EXAMPLES}")
    unit = one_unit(sizes, text, "sizes") or ("in" if all(size.shows_inches for size in sizes) else None)
    if unit is None:
        raise _ask_unit(kind, sizes, wall[0] if wall else "", text)
    if second:
        return _with_second_size(kind, sizes, unit, text)
    series = "metric" if unit == "mm" else "decimal inch"
    outside = [size.number * UNIT_MM[unit] for size in sizes]
    thick = _wall_mm(wall, kind, outside[0], unit, text) if wall else None
    return Section(kind, series, outside[0], outside[1] if len(outside) > 1 else None, thick)


def _sizes(text: str, given: str) -> list[Written]:
    parts = [one_size(part) for part in SPLIT.split(text)]
    found = [part for part in parts if part]
    if len(found) < len(parts) or len(found) > 2:
        raise UnreadableLength(given, "it can't be read as a shape", f"a shape such as {EXAMPLES}")
    if any(size.number <= 0 for size in found):
        raise UnreadableLength(given, "a size of 0 is no shape", f"a shape such as {EXAMPLES}")
    return found


def _ask_unit(kind: str, sizes: list[Written], wall: str, given: str) -> UnreadableLength:
    """Return the question which unit a name without one is in."""
    if kind in TUBES and len(sizes) > 1:
        problem = "it has no unit, and doesn't say what its second size is"
        return UnreadableLength(given, problem, "such as 4 mm tube x 0.5 mm wall")
    found = {}
    for what, unit in (("inches", "in"), ("mm", "mm")):
        try:
            found[what] = parse_section(f"{' x '.join(f'{size.text} {unit}' for size in sizes)} {kind}{wall}").name
        except UnreadableLength as reason:
            refused = UnreadableLength(given, reason.problem, reason.write)
    if len(found) == 2:
        return AmbiguousName(given, tuple(found), tuple(found.values()))
    return UnreadableLength(given, "it has no unit", next(iter(found.values()))) if found else refused


def _wall_mm(wall: re.Match[str], kind: str, outside_mm: Fraction, unit: str, given: str) -> Fraction:
    """Return a wall as written, or as the bore leaves it; without a unit it is in the tube's own."""
    if kind not in TUBES:
        raise UnreadableLength(given, f"a {kind} has no wall or bore", f"a shape such as {EXAMPLES}")
    size = written(wall["side"] or wall["side2"], wall["unit"] or wall["unit2"])
    own = size.unit or ("in" if size.shows_inches else unit)
    length = size.number * UNIT_MM[own]
    bore = (wall["what"] or wall["what2"]) == "bore"
    if length <= 0 or length >= (outside_mm if bore else outside_mm / 2):
        most = "less than the tube's size" if bore else "less than half of the tube's size"
        what = "bore" if bore else "wall"
        raise UnreadableLength(given, f"its {what} leaves no tube", f"a {what} above 0 and {most}")
    return (outside_mm - length) / 2 if bore else length


def _with_second_size(kind: str, sizes: list[Written], unit: str, given: str) -> Section:
    """Return the tube if its second size makes the same one as its wall and as its bore; else ask what it is."""
    outside, inside = (size.number * UNIT_MM[unit] for size in sizes)
    series = "metric" if unit == "mm" else "decimal inch"
    size = number_text(sizes[1].number, 0)
    kinds = {f"a bore of {size}": (outside - inside) / 2, f"a wall of {size}": inside}
    able = {what: Section(kind, series, outside, None, wall).name
            for what, wall in kinds.items() if 0 < 2 * wall < outside}  # fmt: skip
    if outside == 3 * inside:
        return Section(kind, series, outside, None, inside)
    if len(able) == 2:
        raise AmbiguousName(given, tuple(able), tuple(able.values()))
    advice = " or ".join(f"{name} if it has {what}" for what, name in able.items())
    first = "the outside first, as 4 mm tube x 0.5 mm wall"
    raise UnreadableLength(given, "it doesn't say what its second size is", advice or first)


ANY_EXAMPLES = "HO 6x10, .030 x .125, 1 mm sheet, .030 rod or 3/32 tube"
_SHEET = re.compile(r"\b(?:sheet|plate)s?\b")
_SQUARE_ROD = re.compile(r"\b(?:square|sq\.?) rods?\b")
_SHAPE = re.compile(r"\b(?:half|rods?|rounds?|angles?|channels?|tub(?:e|ing)s?)(?![a-z])|halfround")


def parse_stock(text: str, scale: Scale | str | None = None) -> Strip | Sheet | Section:
    """Read the name of any stock: the word in it says what it is, and a name of two sides is strip.

    Parameters
    ----------
    text : str
        The name. [-]
    scale : Scale, str or None
        Scale of a strip's name of whole numbers without scale or unit; other names don't need it. [-]

    Returns
    -------
    Strip, Sheet or Section
        The stock. [mm]

    Raises
    ------
    AmbiguousName
        If it could be more than one thing, as a lone size could; says what to type for each.
    UnreadableLength, UnknownScale, OutOfRange
        As `parse_strip`, `parse_sheet` and `parse_section`.

    References
    ----------
    Names of strip, sheet and shapes: common practice, no source.

    Examples
    --------
    >>> [parse_stock(name).name for name in ("HO 6 by 10", "sheet .020", "rod .030", ".040 square rod")]
    ['HO 6x10', '.020 sheet', '.030 rod', '.040 sq']
    """
    plain = plain_name(text, "strip, sheet or shape", ANY_EXAMPLES)
    if _SHEET.search(plain):
        return parse_sheet(text)
    if _SQUARE_ROD.search(plain):
        return parse_strip(text, scale)
    if _SHAPE.search(plain):
        return parse_section(text)
    size = one_size(plain)
    if size is None:
        return parse_strip(text, scale)
    unit = size.unit or ("in" if size.shows_inches else None)
    if size.number <= 0 or unit is None:
        problem = "a size of 0 is no stock" if size.number <= 0 else "it has no unit, and no word for what it is"
        raise UnreadableLength(text, problem, f"a name such as {ANY_EXAMPLES}")
    names = (f"{size.text} {unit} sheet", f"{size.text} {unit} rod", f"{size.text} {unit} sq")
    readings = parse_sheet(names[0]).name, parse_section(names[1]).name, parse_strip(names[2]).name
    raise AmbiguousName(text, ("sheet", "rod", "square strip"), readings)

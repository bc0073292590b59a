"""Strip by name: from the name to its section and back.

Scale lumber is named by nominal scale inches (``HO 6x10``), the other two by their real size
(``.030 x .125``, ``1 x 2 mm``).
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction
from functools import cached_property

from modelmath.errors import OutOfRange, UnknownChoice, UnreadableLength, shown
from modelmath.lengths.scales import Scale, scale_of
from modelmath.lengths.units import MM_PER_INCH
from modelmath.materials.exact import exact_mm
from modelmath.materials.sections.readings import AmbiguousName
from modelmath.materials.sections.writing import SIDE, SPLIT, UNIT, UNIT_MM, Written, one_unit, plain_name, written

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

    def __hash__(self) -> int:
        return self._hash

    @cached_property
    def _hash(self) -> int:
        # The strips of a series are asked for in every plan, over and over, and a fraction's hash is slow.
        return hash((self.series, self.thickness_mm, self.width_mm, self.scale))

    @cached_property
    def times_as_wide(self) -> Fraction:
        """Width over thickness, 1 for a square. [-]"""
        return self.width_mm / self.thickness_mm

    @cached_property
    def name(self) -> str:
        """The name it is asked for by; `parse_strip` reads it back."""
        sides = (self.thickness_mm / self._unit_mm, self.width_mm / self._unit_mm)
        if self.series == "scale lumber":
            return _lumber_name(self.scale or "", sides)
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


def _lumber_name(scale: str, sides: tuple[Fraction, Fraction]) -> str:
    """Return the name of scale lumber; less than a scale inch looks like a real size, so its name says what it is."""
    texts = [number_text(side, 0) for side in sides]
    if sides[0] >= 1:
        return f"{scale} {texts[0]}x{texts[1]}"
    # No fraction alone behind the scale: No. 1 and 1/3 would be one and a third.
    shown = [f"0-{text}" if "/" in text and side < 1 else text for text, side in zip(texts, sides, strict=True)]
    return f"{scale} {shown[0]}x{shown[1]} scale in"


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


_LEAD = r"(?P<lead>1\s*[:/]\s*[0-9]{1,4}(?:\.[0-9]+)?(?=[\s-])|.*?)"
_FIRST = re.compile(rf"{_LEAD}\s*(?P<side>{SIDE})\s*(?P<unit>{UNIT})?")
_SECOND = re.compile(rf"(?P<side>{SIDE})\s*(?P<unit>{UNIT})?(?P<tail>.*)")
_ALONE = re.compile(rf"{_LEAD}\s*(?P<side>{SIDE})\s*(?P<unit>{UNIT})?(?P<tail>.*)")
_SQUARE = re.compile(r"\b(?:square\b|sq\b\.?)")
_STRIP_WORD = re.compile(r"\bstrips?\b|(?<=\bsquare )rods?\b|(?<=\bsq )rods?\b|(?<=\bsq\. )rods?\b")
_SCALE_INCHES = re.compile(r"\blumber\b|\bscale\s+(?:in\b\.?|inch(?:es)?\b|\")|^scale$")
_OTHER = re.compile(r"\b(?:sheet|plate|rod|round|half|angle|channel|tub(?:e|ing))s?\b")


@dataclass(frozen=True)
class _Name:
    """A strip's name taken apart."""

    given: str
    scale: str
    sides: tuple[Written, Written]
    scale_inches: bool

    @property
    def unit(self) -> str | None:
        return one_unit(self.sides, self.given, "sides")


def parse_strip(text: str, scale: Scale | str | None = None) -> Strip:
    """Read a strip's name as it stands on the packet or in the drawer.

    Scale lumber: ``HO 6x10``, ``6 by 10 HO``, or ``6x10`` with `scale`; nominal scale inches. Decimal inch:
    ``.030 x .125``, ``.040 sq``, ``1/16 x 1/8``, ``30 x 125 thou``, or any size with ``in``. Metric: any size
    with ``mm``. The smaller side is the thickness, whichever is written first. A name that could be two strips
    is refused.

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
    AmbiguousName
        If it could be more than one strip; says what to type for each.
    UnreadableLength
        If it is no strip's name; says what to write.
    UnknownScale
        If the name has no known scale.

    References
    ----------
    Lumber sizes are nominal scale inches, decimal sizes point first to three places, bare fractions inches:
    common practice, no source.

    Examples
    --------
    >>> parse_strip("HO 6x10")
    Strip(series='scale lumber', thickness_mm=Fraction(7, 4), width_mm=Fraction(35, 12), scale='HO')
    >>> parse_strip(".040 square").name, parse_strip("2.0 x 1.0 mm").name, parse_strip("6 by 10", "HO").name
    ('.040 sq', '1 x 2 mm', 'HO 6x10')
    """
    name = _taken_apart(plain_name(text, "strip", EXAMPLES), text)
    numbers = [side.number for side in name.sides]
    if min(numbers) <= 0:
        raise UnreadableLength(text, "a side of 0 is no strip", f"a strip such as {EXAMPLES}")
    unit, sure = name.unit, name.scale_inches
    if name.scale:
        of = scale_of(name.scale)
        if unit is None and (sure or (min(numbers) >= 1 and not any(side.shows_inches for side in name.sides))):
            return _made("scale lumber", numbers, of.mm_per_inch, of.name)
        raise _ambiguous(name, of)
    if unit == "in" and not sure and all(side.whole for side in name.sides):
        raise _large(name, numbers, None if scale is None else scale_of(scale))
    if unit is not None and not sure:
        return _made("metric" if unit == "mm" else "decimal inch", numbers, UNIT_MM[unit])
    if not sure and all(side.shows_inches for side in name.sides):
        return _made("decimal inch", numbers, MM_PER_INCH)
    if scale is not None and unit is None and (sure or all(side.whole for side in name.sides)):
        of = scale_of(scale)
        return _made("scale lumber", numbers, of.mm_per_inch, of.name)
    if sure and scale is None:
        raise UnreadableLength(text, "it has scale inches but no scale", "the scale first, as HO 6x10")
    raise _ambiguous(name, None if scale is None else scale_of(scale))


def _taken_apart(plain: str, given: str) -> _Name:
    """Take a name apart: the scale, the two sides, whether it says scale inches."""
    words = " ".join(_STRIP_WORD.sub(" ", plain).split())
    if other := _OTHER.search(words):
        raise UnreadableLength(given, f"{shown(other[0])} is no word for a strip", f"a strip such as {EXAMPLES}")
    name, squares = _SQUARE.subn(" ", words)
    halves = SPLIT.split(name.strip())
    if len(halves) > 2 or (len(halves) == 1 and not squares):
        problem = "it has one side only" if len(halves) == 1 else "it has more than two sides"
        if not any(sign.isnumeric() for sign in words):
            problem = "it has no size"
        raise UnreadableLength(given, problem, f"a strip such as {EXAMPLES}")
    first = (_FIRST if len(halves) == 2 else _ALONE).fullmatch(halves[0])
    last = _SECOND.fullmatch(halves[1]) if len(halves) == 2 else first
    if first is None or last is None or squares > 1:
        raise UnreadableLength(given, "it can't be read as a strip", f"a strip such as {EXAMPLES}")
    sides = (written(first["side"], first["unit"]), written(last["side"], last["unit"]))
    if squares and sides[0].number != sides[1].number:
        raise UnreadableLength(given, "it is called square and its sides differ", "one side and sq, or two sides")
    scale, scale_inches = _scale(first["lead"], last["tail"], given)
    return _Name(given, scale, sides, scale_inches)


def _scale(lead: str, tail: str, given: str) -> tuple[str, bool]:
    """Return the scale's name, if any, from what stands round the size, and whether that says scale inches."""
    found, scale_inches = [], False
    for text in (lead, tail):
        bare = text.strip()
        if bare.startswith("(") and bare.endswith(")"):
            bare = bare[1:-1]
        rest, count = _SCALE_INCHES.subn(" ", re.sub(r"-scale\b", " scale", bare))
        scale_inches = scale_inches or count > 0
        found.append(" ".join(rest.split()).strip(" -:,;") or (bare if not count else ""))
    if all(found):
        raise UnreadableLength(given, "it has two scales", "one scale, as HO 6x10")
    if any(not any(map(str.isalnum, name)) for name in found if name):
        raise UnreadableLength(given, "it can't be read as a strip", f"a strip such as {EXAMPLES}")
    return found[0] or found[1], scale_inches


def _made(series: str, numbers: list[Fraction], unit_mm: Fraction, scale: str | None = None) -> Strip:
    thickness, width = sorted(number * unit_mm for number in numbers)
    return Strip(series, thickness, width, scale)


def _large(name: _Name, numbers: list[Fraction], given: Scale | None) -> AmbiguousName:
    """Return the question whether scale inches are meant: no strip is an inch thick."""
    scale = given or scale_of("HO")
    strips = (
        _made("scale lumber", numbers, scale.mm_per_inch, scale.name),
        _made("decimal inch", numbers, MM_PER_INCH),
    )
    hint = "with your own scale in place of HO" if given is None else ""
    return AmbiguousName(name.given, ("scale inches", "real inches"), tuple(each.name for each in strips), hint)


def _ambiguous(name: _Name, given: Scale | None) -> AmbiguousName:
    """Return the question which strip is meant: of scale lumber, inches or mm, each that the name may stand for."""
    scale = given or scale_of("HO")
    numbers = [side.number for side in name.sides]
    inches = [side.shows_inches for side in name.sides]
    whole = [side.whole for side in name.sides]
    of_scale = name.scale or name.scale_inches
    could = {
        "scale inches": of_scale
        or (not any(side.thousandths for side in name.sides) and (min(numbers) >= 1 or any(whole))),
        "inches": name.unit in ("in", "thou") or (name.unit is None and not all(whole)),
        "mm": name.unit == "mm" or (name.unit is None and not all(inches)),
    }
    strips = {
        "scale inches": _made("scale lumber", numbers, scale.mm_per_inch, scale.name),
        "inches": _made("decimal inch", numbers, UNIT_MM[name.unit or "in"]),
        "mm": _made("metric", numbers, Fraction(1)),
    }
    kinds = [kind for kind, may_be in could.items() if may_be]
    hint = "with your own scale in place of HO" if given is None and "scale inches" in kinds else ""
    return AmbiguousName(name.given, kinds, [strips[kind].name for kind in kinds], hint)

"""Drills as people name them, and the drills on either side of a diameter."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction

from modelmath.errors import ModelMathError, UnreadableLength
from modelmath.lengths.parse import parse_length_exact
from modelmath.lengths.plain import LONGEST
from modelmath.lengths.units import MM_PER_INCH
from modelmath.materials.drills.sets import DRILL_SETS, Drill, drill_set, number_drills
from modelmath.materials.exact import exact_mm

FORMS = "#67, F, 1/16 in or 0.8 mm"

_NUMBER = re.compile(r"(?:#|no\.?|number)\s*([0-9]+)")
_LETTER = re.compile(r"(?:letter\s+)?([a-z])")
_BARE = re.compile(r"[0-9]+|[0-9]*[.,][0-9]+|[0-9]+\s*/\s*[0-9]+")
_MARKS = str.maketrans({"”": '"', "“": '"', "″": '"', "⁄": "/", "№": "no.", "\u00a0": " "})


@dataclass(frozen=True)
class NearDrills:
    """The drills of one set on either side of a diameter.

    Attributes
    ----------
    set : str
        The set, one of `DRILL_SETS`. [-]
    wanted_mm : Fraction
        The diameter looked for. [mm]
    below : Drill or None
        The largest that is thinner; None when the set has none. [-]
    above : Drill or None
        The smallest that is as thick or thicker; None when the set has none. [-]
    """

    set: str
    wanted_mm: Fraction
    below: Drill | None
    above: Drill | None

    @property
    def nearest(self) -> Drill:
        """The nearer of the two; of two equally near, the thinner, which can still be opened. [-]"""
        if self.below is None or self.above is None:
            found = self.below or self.above
            assert found is not None  # no set is empty
            return found
        nearer_below = self.wanted_mm - self.below.exact_mm <= self.above.exact_mm - self.wanted_mm
        return self.below if nearer_below else self.above

    @property
    def is_there(self) -> bool:
        """Whether the set has exactly this diameter. [-]"""
        return self.above is not None and self.above.exact_mm == self.wanted_mm


def _beside(set_name: str, wanted: Fraction) -> NearDrills:
    drills = drill_set(set_name)
    thinner = [drill for drill in drills if drill.exact_mm < wanted]
    others = [drill for drill in drills if drill.exact_mm >= wanted]
    return NearDrills(
        set_name,
        wanted,
        max(thinner, key=lambda each: each.exact_mm, default=None),
        min(others, key=lambda each: each.exact_mm, default=None),
    )


def nearest_drills(diameter_mm: Fraction | float, sets: Sequence[str] = DRILL_SETS) -> tuple[NearDrills, ...]:
    """Return, for each set, the nearest drill below a diameter and the nearest that is equal or above.

    Parameters
    ----------
    diameter_mm : Fraction or float
        The diameter looked for; nothing is added to it. [mm]
    sets : sequence of {"number", "letter", "fraction", "metric"}
        The sets to look in. [-]

    Returns
    -------
    tuple of NearDrills
        One for each set, in the order asked.

    Raises
    ------
    OutOfRange, WrongKind
        If the diameter is no usable length.
    UnknownChoice
        If a set is unknown.

    References
    ----------
    data/drills_*.csv, each row with its source.

    Examples
    --------
    >>> for near in nearest_drills(0.8, ("number", "metric")):
    ...     print(near.below.name, near.above.name, near.is_there)
    #68 #67 False
    0.78 mm 0.80 mm True
    """
    wanted = exact_mm(diameter_mm, "diameter_mm")
    chosen = (sets,) if isinstance(sets, str) else tuple(sets)
    return tuple(_beside(name, wanted) for name in chosen)


def drill(text: str) -> Drill:
    """Return the drill that a person names.

    Read are a number (``#67``, ``no. 67``, ``number 67``), a letter (``F``, ``letter F``), a size in inches
    (``1/16 in``, ``1/16"``, ``.032 in``) and a size in mm (``0.8 mm``). The word ``drill`` may stand behind. A size in
    inches is looked for among the fractions first, then the numbers, then the letters; one in mm in the metric set.

    Parameters
    ----------
    text : str
        The name or size. [-]

    Returns
    -------
    Drill
        With its exact diameter, its set and its source.

    Raises
    ------
    UnreadableLength
        If it has neither sign nor unit, is no name of a drill, or no set has the size; says what to write.

    References
    ----------
    data/drills_*.csv, each row with its source.

    Examples
    --------
    >>> drill("no. 67").diameter_mm, drill('1/16"').name, drill(".8mm").name
    (0.8128, '1/16 in', '0.80 mm')
    """
    if not isinstance(text, str):
        raise UnreadableLength(str(text), "it is not text", f"it in quotes, as {FORMS}")
    if len(text) > LONGEST:
        raise UnreadableLength(text, f"it is longer than {LONGEST} characters", FORMS)
    plain = " ".join(text.translate(_MARKS).casefold().split())
    plain = re.sub(r"\s*\bdrills?$", "", plain)
    if match := _NUMBER.fullmatch(plain):
        return _numbered(match[1], text)
    if match := _LETTER.fullmatch(plain):
        return next(each for each in drill_set("letter") if each.name == match[1].upper())
    if _BARE.fullmatch(plain):
        raise UnreadableLength(text, "it has neither # nor a unit", _with_a_sign(plain))
    try:
        size = parse_length_exact(plain)
    except ModelMathError:
        raise UnreadableLength(text, "no drill is named so", FORMS) from None
    if size <= 0:
        raise UnreadableLength(text, "a drill has a size above 0", FORMS)
    return _sized(size, plain, text)


def _with_a_sign(plain: str) -> str:
    """Return how to write a bare number so that it says which drill is meant."""
    if "/" in plain:
        return f"{plain} in"
    if not plain.isdigit():
        return f"{plain} mm or {plain} in"
    return f"#{plain} for the number drill or {plain} mm for its size"


def _numbered(digits: str, given: str) -> Drill:
    numbers = number_drills()
    number = int(digits)
    if number not in numbers:
        nearest = min(numbers, key=lambda each: abs(each - number))
        problem = f"number drills go from #{min(numbers)} to #{max(numbers)}"
        raise UnreadableLength(given, problem, f"#{nearest} for the nearest")
    return numbers[number]


def _sized(size: Fraction, plain: str, given: str) -> Drill:
    """Return the drill of exactly this size from the sets that are named by the unit it is written in."""
    inches = re.search(r"\"|\bin\b|inch|[0-9.]in\b", plain) is not None
    fraction = "/" in plain
    sets = ("metric",) if not inches else ("fraction",) if fraction else ("fraction", "number", "letter")
    found = [_beside(name, size) for name in sets]
    for near in found:
        if near.is_there and near.above is not None:
            return near.above
    both = dict.fromkeys(each for near in found for each in (near.below, near.above) if each is not None)
    nearest = sorted(both, key=lambda each: (abs(each.exact_mm - size), each.exact_mm))[:2]
    names = " or ".join(_with_size(each, inches) for each in sorted(nearest, key=lambda each: each.exact_mm))
    kind = "metric" if not inches else "fraction" if fraction else "inch"
    raise UnreadableLength(given, f"no {kind} drill has this size", f"{names}, the nearest")


def _with_size(each: Drill, inches: bool) -> str:
    """Return a drill's name, with its size behind it when the name does not tell it."""
    if each.set in ("fraction", "metric"):
        return each.name
    size = f"{float(each.exact_mm / MM_PER_INCH):.4f} in" if inches else f"{each.diameter_mm:.2f} mm"
    return f"{each.name} ({size})"

"""The plain forms that most lengths are typed in, read at one look and in whole numbers.

`modelmath.lengths.parse` asks here first. What is not plain, or not sure, is left to it: nothing is refused here.
"""

from __future__ import annotations

import re

from modelmath.lengths.scales import MM_PER_PROTOTYPE_FOOT, Scale, scale_of
from modelmath.lengths.units import REAL_UNITS, SCALE_UNITS, UNITS

Ratio = tuple[int, int]  # above and below the line; below is above 0, and the two may have a common factor

LONGEST = 60  # characters; more is a pasted page, and long digit strings cost time

_VULGAR: dict[str, Ratio] = {
    "½": (1, 2), "¼": (1, 4), "¾": (3, 4), "⅛": (1, 8), "⅜": (3, 8), "⅝": (5, 8), "⅞": (7, 8), "⅓": (1, 3), "⅔": (2, 3),
}  # fmt: skip
# 15, 15.9, .040, 15,9; then 3/4, 3 3/4, 3-3/4; then ¾, 3¾, 3 ¾, 3-¾
_NUMBER = (
    r"(?:([0-9]*)(?:[.,]([0-9]+))?|(?:([0-9]+)[ -])?([0-9]+)/([0-9]+)"
    rf"|(?:([0-9]+)[ -]?)?([{''.join(_VULGAR)}]))"
)
_ONE_NUMBER = re.compile(rf"(-)?{_NUMBER} ?([A-Za-z'\"]+(?: [A-Za-z]+)?\.?)?").fullmatch
_FEET_AND_INCHES = re.compile(
    rf"(-)?([0-9]+) ?(?:'|ft|feet|foot)(?: - |-| )?{_NUMBER} ?(?:\"|in|inches|inch)"
).fullmatch

_REAL: dict[str, Ratio] = {name: size.as_integer_ratio() for name, size in REAL_UNITS.items()}
_FOOT: Ratio = MM_PER_PROTOTYPE_FOOT.as_integer_ratio()
_WORDS = {
    "mm": "mm", "cm": "cm", "m": "m", "in": "in", "in.": "in", "inch": "in", "inches": "in", '"': "in",
    "ft": "ft", "ft.": "ft", "foot": "ft", "feet": "ft", "'": "ft",
    "scale ft": "scale foot", "scale foot": "scale foot", "scale feet": "scale foot",
    "scale in": "scale inch", "scale inch": "scale inch", "scale inches": "scale inch",
}  # fmt: skip
# Where a bare number counts scale feet or inches, in and ft are scale units too.
_SCALE_WORDS = {word: {"in": "scale inch", "ft": "scale foot"}.get(name, name) for word, name in _WORDS.items()}


def plain_length(text: str, unit: str | None, scale: Scale | str | None) -> Ratio | None:
    """Return a length in one of the plain forms, or None when `text` is in none of them.

    Parameters
    ----------
    text : str
        What the person typed. [-]
    unit : str or None
        Unit of a bare number, by its name. [-]
    scale : Scale, str or None
        The scale of scale feet and inches. [-]

    Returns
    -------
    tuple of two int, or None
        Model length, exact, as what stands above and below the line. [mm]

    Raises
    ------
    UnknownScale
        If the length is in scale feet or inches of a scale that nobody knows.

    References
    ----------
    NIST SP 811, appendix B; data/scales.csv.

    Examples
    --------
    >>> plain_length("15.9 mm", None, None), plain_length("2 1/2", "mm", None), plain_length("3 9/8 in", None, None)
    ((159, 10), (5, 2), None)
    """
    if len(text) > LONGEST:
        return None
    found = _ONE_NUMBER(text)
    if found is None:
        return _feet_and_inches(text, unit, scale)
    sign, *number, word = found.groups()
    # The number first: where both are wrong, the parser speaks of the number.
    if (value := _value(text, *number)) is None or (size := _size(word, unit, scale)) is None:
        return None
    over = value[0] * size[0]
    return (-over if sign else over), value[1] * size[1]


def _value(
    text: str,
    whole: str | None,
    decimals: str | None,
    before: str | None,
    top: str | None,
    bottom: str | None,
    before_sign: str | None,
    sign: str | None,
) -> Ratio | None:
    """Return a number from the groups of `_NUMBER`."""
    if decimals:
        # A comma before three figures may mark thousands.
        if "," in text and (len(decimals) == 3 or "." in text):
            return None
        return int(f"{whole}{decimals}"), 10 ** len(decimals)
    if whole:
        return int(whole), 1
    if sign:
        before, (over, under) = before_sign, _VULGAR[sign]
    else:
        over, under = int(top or 0), int(bottom or 0)
    if not before:
        return (over, under) if under else None
    return (int(before) * under + over, under) if over < under else None


def _size(word: str | None, unit: str | None, scale: Scale | str | None) -> Ratio | None:
    """Return the length of one unit, in mm; None when it is not sure which is meant."""
    if unit is not None and unit not in UNITS:
        return None
    in_scale = unit in SCALE_UNITS
    name = unit if word is None else (_SCALE_WORDS if in_scale else _WORDS).get(word.lower())
    if name in _REAL:
        return _REAL[name]
    if name is None or scale is None:
        return None
    over, under = scale_of(scale).ratio.as_integer_ratio()
    return _FOOT[0] * under, _FOOT[1] * over * (1 if name == "scale foot" else 12)


def _feet_and_inches(text: str, unit: str | None, scale: Scale | str | None) -> Ratio | None:
    """Return a length in feet and inches, such as 4' 9 1/2", or None."""
    found = _FEET_AND_INCHES(text)
    if found is None or "," in text or "ft." in text:  # in 4 ft.5 in the full stop may belong to either
        return None
    sign, feet, *number = found.groups()
    inches = _value(text, *number)
    if inches is None or inches[0] >= 12 * inches[1] or (size := _size("ft", unit, scale)) is None:
        return None
    over = (int(feet) * 12 * inches[1] + inches[0]) * size[0]
    return (-over if sign else over), 12 * inches[1] * size[1]

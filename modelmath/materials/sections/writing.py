"""Sizes as people write them in the names of stock: the number, its unit, and what a bare number can mean."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction

from modelmath.errors import UnreadableLength
from modelmath.lengths.parse import parse_length_exact
from modelmath.lengths.plain import LONGEST
from modelmath.lengths.units import MM_PER_INCH

UNIT_MM = {"mm": Fraction(1), "in": MM_PER_INCH, "thou": MM_PER_INCH / 1000}
_UNIT_WORDS = {"mm": "mm", "mil": "mm", "in": "in", "inc": "in", '"': "in", "tho": "thou"}  # by the first letters
_VULGAR = "¼½¾⅛⅜⅝⅞⅓⅔"
UNIT = r"(?:(?:mm|millimet(?:er|re)s?|inch(?:es)?|in|thou)(?![a-z])\.?|\")"
# A whole number tight behind a letter may end a scale's name: in H0 1/2 x 6 it is no part of the size.
SIDE = rf"(?:(?<![a-z])[0-9]+(?:\s+|-)[0-9]+/[0-9]+|[0-9.,/{_VULGAR}]+(?:\s*[{_VULGAR}])?)"
SPLIT = re.compile(rf"(?<=\S)\s*[x×✕✖*]\s*(?=[0-9.{_VULGAR}])|(?<=\S)[\s-]*\bby\b[\s-]*(?=\S)|(?<=[0-9])by(?=[0-9.])")
_SIGNS = str.maketrans(dict.fromkeys("″”“〃", '"') | dict.fromkeys("⁄∕", "/") | dict.fromkeys("–—‐‑−", "-"))
_ONE_SIZE = re.compile(rf"\s*(?P<side>{SIDE})\s*(?P<unit>{UNIT})?\s*")
# .040 or .04, not .25: the thinnest metric stock is 0.13 mm (data/strip_series.csv), and .25 may be one of the next.
_THOUSANDTHS = re.compile(r"\.(?:0[0-9]+|[0-9]{3,})")


@dataclass(frozen=True)
class Written:
    """One size as it was written.

    Attributes
    ----------
    text : str
        The number. [-]
    unit : str or None
        Its unit, if one stood there: mm, in or thou. [-]
    """

    text: str
    unit: str | None = None

    @property
    def number(self) -> Fraction:
        """The number, exact. [its unit]"""
        return parse_length_exact(self.text, "mm")  # of mm, so that the number comes back as it is

    @property
    def whole(self) -> bool:
        """Whether it is a bare whole number. [-]"""
        return self.text.isdecimal()

    @property
    def thousandths(self) -> bool:
        """Whether it is written as packets print inches: point first, three places or more, or less than .1. [-]"""
        return _THOUSANDTHS.fullmatch(self.text) is not None

    @property
    def shows_inches(self) -> bool:
        """Whether its form alone says inches: point first in thousandths, or a fraction below 1. [-]"""
        fraction = any(sign in self.text for sign in f"/{_VULGAR}")
        return self.thousandths or (fraction and self.number < 1)


def written(text: str, unit: str | None) -> Written:
    """Take a size from the two groups of a pattern made of `SIDE` and `UNIT`.

    Parameters
    ----------
    text : str
        The number. [-]
    unit : str or None
        The unit as written. [-]

    Returns
    -------
    Written
        The size, its unit by our word for it. [-]

    References
    ----------
    None needed.

    Examples
    --------
    >>> written("30", "thou"), written(".030", None).shows_inches
    (Written(text='30', unit='thou'), True)
    """
    return Written(text.strip(), _UNIT_WORDS[unit[:3].removesuffix(".")] if unit else None)


def one_size(text: str) -> Written | None:
    """Return the size that a text is, or None if it is more than a size or none.

    Parameters
    ----------
    text : str
        The text, plain. [-]

    Returns
    -------
    Written or None
        The size. [-]

    References
    ----------
    None needed.

    Examples
    --------
    >>> one_size("1.5 mm"), one_size("1.5 mm x 2")
    (Written(text='1.5', unit='mm'), None)
    """
    found = _ONE_SIZE.fullmatch(text)
    return written(found["side"], found["unit"]) if found else None


def one_unit(sizes: Sequence[Written], given: str, whose: str) -> str | None:
    """Return the one unit of a name's sizes; a unit behind one of them is that of all.

    Parameters
    ----------
    sizes : sequence of Written
        The sizes. [-]
    given : str
        The whole name, for a message. [-]
    whose : str
        What a message calls the sizes, such as ``sides``. [-]

    Returns
    -------
    str or None
        mm, in or thou; None if no unit stands there. [-]

    Raises
    ------
    UnreadableLength
        If there are two units, or one beside a size that looks like another.

    References
    ----------
    None needed.

    Examples
    --------
    >>> one_unit([Written("1"), Written("2", "mm")], "1 x 2 mm", "sides")
    'mm'
    """
    units = {size.unit for size in sizes if size.unit}
    inches = [size for size in sizes if size.thousandths and not size.unit]
    if len(units) > 1 or (units == {"mm"} and inches and not all(size.thousandths for size in sizes)):
        raise UnreadableLength(given, f"its {whose} have different units", "both in mm or both in inches")
    return next(iter(units), None)


def plain_name(text: str, thing: str, examples: str) -> str:
    """Return a name in small letters and plain signs, or refuse what can be no name.

    Parameters
    ----------
    text : str
        What the person typed. [-]
    thing : str
        What it should name, such as ``strip``. [-]
    examples : str
        How to write one. [-]

    Returns
    -------
    str
        The name, its words one space apart. [-]

    Raises
    ------
    UnreadableLength
        If it is not text, empty, or a pasted page.

    References
    ----------
    None needed.

    Examples
    --------
    >>> plain_name(" HO  6×10″", "strip", "HO 6x10")
    'ho 6×10"'
    """
    if not isinstance(text, str):
        raise UnreadableLength(str(text), "it is not text", f"a {thing}'s name in quotes, such as {examples}")
    if len(text) > LONGEST:
        raise UnreadableLength(text, f"it is longer than {LONGEST} characters", f"a {thing} such as {examples}")
    plain = " ".join(text.translate(_SIGNS).replace("''", '"').casefold().split())
    if not plain:
        raise UnreadableLength(text, "nothing is written here", f"a {thing} such as {examples}")
    return plain

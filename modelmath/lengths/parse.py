"""Text a person types, to an exact length. Nothing here evaluates text; every form is spelled out.

Numbers: ``3 3/4``, ``3-3/4``, ``3¾``, ``3.75``, ``.040``, and a decimal comma where it can only be one.
Units: ``mm cm m in ft ' "``, ``scale ft``, ``scale in``; feet with inches, as ``4' 9 1/2"`` or ``4 ft 9 in``.
"""

from __future__ import annotations

import re
import unicodedata
from fractions import Fraction

from modelmath.errors import UnknownChoice, UnreadableLength, shown
from modelmath.lengths.plain import LONGEST, plain_length
from modelmath.lengths.prototype import PrototypeLength
from modelmath.lengths.refusals import EXAMPLE, FEET_AND_INCHES, FULL_SIZE, unreadable
from modelmath.lengths.scales import Scale
from modelmath.lengths.text import SYMBOLS, mixed
from modelmath.lengths.units import SCALE_UNITS, mm_per, unit_name

_SIGNS = str.maketrans(
    {"’": "'", "‘": "'", "′": "'", "ʹ": "'", "´": "'", "`": "'", "”": '"', "“": '"', "″": '"', "〃": '"', "ʺ": '"'}
    | {"⁄": "/", "∕": "/", "−": "-", "–": "-", "—": "-", "‐": "-", "‑": "-", "‒": "-"}
    | dict.fromkeys("\u00a0\u2009\u202f\u2007\u2002\u2003", " ")
)
# A dash joins only when it stands tight to the whole number: in 3 -1/2 it may be a minus.
_NUMBER = r"[0-9]+(?:\s+|-\s*)[0-9]+\s*/\s*[0-9]+|[0-9]+\s*/\s*[0-9]+|[0-9]+\.?[0-9]*|\.[0-9]+"
_UNIT = (
    r"(?:(?:scale|real)\s+)?(?:mm|cm|millimet(?:er|re)s?|centimet(?:er|re)s?|met(?:er|re)s?|m|inch(?:es)?|in\.?|ft\.?"
    r"|foot|feet|'|\")"
)
_LENGTH = re.compile(
    rf"(?P<sign>[-+])?\s*(?P<first>{_NUMBER})\s*(?P<unit>{_UNIT})?"
    rf"(?:(?(unit)(?:\s+-\s+|-\s*|\s*)|\s+)(?P<second>{_NUMBER})\s*(?P<second_unit>{_UNIT})?)?"
)


def _plain(text: str) -> str:
    """Return text with typographic signs made plain and vulgar fractions such as ¾ spelled out as 3/4."""
    spelled = (
        text
        if text.isascii()
        else "".join(
            f" {unicodedata.normalize('NFKC', sign)} " if "<fraction>" in unicodedata.decomposition(sign) else sign
            for sign in text
        )
    )
    plain = spelled.translate(_SIGNS).replace("''", '"').casefold()
    return " ".join(plain.split())


def _with_point(text: str, given: str) -> str:
    """Return text with its decimal comma, if any, as a point; refuse one that may mark thousands."""
    if "," not in text:
        return text
    found = re.findall(r"([0-9]*),([0-9]+)", text)
    if text.count(",") > 1 or "." in text or len(found) != 1:
        raise UnreadableLength(
            given, "it has a comma that can't be read as a decimal mark", "a decimal point, as 1.5 mm"
        )
    whole, part = found[0]
    if len(part) == 3 and 1 <= len(whole) <= 3 and not whole.startswith("0"):
        problem = "the comma may be a decimal mark or a thousands mark"
        raise UnreadableLength(given, problem, f"{text.replace(',', '.')} or {text.replace(',', '')}")
    return text.replace(",", ".")


def _number(text: str, given: str) -> Fraction:
    """Return the exact value of one number: mixed, fraction or decimal."""
    if "/" not in text:
        return Fraction(text + "0" if text.endswith(".") else text)
    *wholes, top, bottom = (int(digits) for digits in re.findall("[0-9]+", text))
    whole = wholes[0] if wholes else 0
    if bottom == 0:
        raise UnreadableLength(given, "a fraction can't have 0 below the line", "a fraction such as 3/4")
    if wholes and top >= bottom:
        improper = Fraction(top, bottom)
        raise UnreadableLength(
            given, f"{top}/{bottom} is not less than 1", f"{mixed(whole + improper)} or check the fraction"
        )
    return whole + Fraction(top, bottom)


def _unit_of(written: str | None, unit: str | None, given: str) -> str:
    """Return the unit meant: `in`, `ft` and their signs are real unless the text or `unit` says scale."""
    if written is None:
        if unit is None:
            raise UnreadableLength(given, "it has no unit", EXAMPLE)
        return unit
    word = written.replace(".", "")
    if word.startswith("real"):
        return unit_name(word.removeprefix("real").strip())
    if word.startswith("scale"):
        try:
            return unit_name(word)
        except UnknownChoice:
            raise UnreadableLength(given, f"{shown(word)} is no unit", "scale ft or scale in, or plain mm") from None
    name = unit_name(word)
    if name in ("in", "ft") and unit in SCALE_UNITS:
        return {"in": "scale inch", "ft": "scale foot"}[name]
    return name


def parse_length_exact(text: str, unit: str | None = None, scale: Scale | str | None = None) -> Fraction:
    """Like `parse_length`, as an exact fraction of a millimetre.

    Parameters
    ----------
    text : str
        What the person typed. [-]
    unit : str or None
        Unit of a bare number; a scale unit here makes ``in``, ``ft`` and their signs scale units. [-]
    scale : Scale, str or None
        The scale of scale feet and inches; alone it changes nothing. [-]

    Returns
    -------
    Fraction
        Model length, exact. [mm]

    Raises
    ------
    UnreadableLength
        If the text has no form we read or more than one meaning; says what to write.
    UnknownChoice, UnknownScale, WrongKind
        If `unit` or `scale` is wrong or missing.

    References
    ----------
    NIST SP 811, appendix B; data/scales.csv.

    Examples
    --------
    >>> parse_length_exact("3¾", unit="scale foot", scale="N")
    Fraction(1143, 160)
    """
    ratio = plain_length(text, unit, scale) if isinstance(text, str) else None
    return _any_form(text, unit, scale) if ratio is None else Fraction(*ratio)


def _any_form(text: str, unit: str | None, scale: Scale | str | None) -> Fraction:
    """Read or refuse text in any form; the plain ones give here what `plain_length` gives sooner."""
    if not isinstance(text, str):
        raise UnreadableLength(str(text), "it is not text", f"it in quotes, as {EXAMPLE}")
    if len(text) > LONGEST:
        raise UnreadableLength(text, f"it is longer than {LONGEST} characters", EXAMPLE)
    plain = _plain(text)
    if not plain:
        raise UnreadableLength(text, "nothing is written here", EXAMPLE)
    pointed = _with_point(plain, text)
    match = _LENGTH.fullmatch(pointed)
    if match is None:
        raise unreadable(text, pointed)
    default = None if unit is None else unit_name(unit)
    if match["second"] is not None and match["unit"] is None:
        raise UnreadableLength(text, "it has two numbers that are not feet and inches", FEET_AND_INCHES)
    number = _number(match["first"], text)
    first_unit = _unit_of(match["unit"], default, text)
    if match["second"] is not None:
        number += _inches(match, number, first_unit, text)
    value = number * mm_per(first_unit, scale)
    return -value if match["sign"] == "-" else value


def _inches(match: re.Match[str], feet: Fraction, first_unit: str, given: str) -> Fraction:
    """Return the inches behind the feet, in feet."""
    if first_unit not in ("ft", "scale foot"):
        raise UnreadableLength(given, "it has two numbers that are not feet and inches", FEET_AND_INCHES)
    if match["second_unit"] is None:
        raise UnreadableLength(given, "the number behind the feet has no unit", FEET_AND_INCHES)
    # The feet decide what the inches are: behind scale feet, in is a scale inch; behind real feet, a real one.
    second_unit = _unit_of(match["second_unit"], first_unit, given)
    if second_unit != {"ft": "in", "scale foot": "scale inch"}[first_unit]:
        first, second = (SYMBOLS.get(name, name) for name in (first_unit, second_unit))
        raise UnreadableLength(given, f"{second} can't stand behind {first}", FEET_AND_INCHES)
    if feet.denominator != 1:
        raise UnreadableLength(given, "the feet have a fraction and inches follow", FEET_AND_INCHES)
    inches = _number(match["second"], given)
    if inches >= 12:
        raise UnreadableLength(given, "12 inches or more stand behind the feet", FEET_AND_INCHES)
    return inches / 12


def parse_length(text: str, unit: str | None = None, scale: Scale | str | None = None) -> float:
    """Read a model length as people write it.

    ``in``, ``ft``, ``'`` and ``"`` are real units, unless `unit` or the text itself says scale feet or
    inches (``4 scale ft``); ``4 real in`` is real in any case. `scale` alone changes nothing.

    Parameters
    ----------
    text : str
        What the person typed. [-]
    unit : str or None
        Unit of a bare number. Without it a bare number is refused. [-]
    scale : Scale, str or None
        The scale of scale feet and inches. [-]

    Returns
    -------
    float
        Model length. [mm]

    Raises
    ------
    UnreadableLength
        If the text has no form we read or more than one meaning; says what to write.
    UnknownChoice, UnknownScale, WrongKind
        If `unit` or `scale` is wrong or missing.

    References
    ----------
    NIST SP 811, appendix B; data/scales.csv.

    Examples
    --------
    >>> parse_length("15.9 mm"), parse_length(".040 in"), parse_length("4 scale ft", scale="HO")
    (15.9, 1.016, 14.0)
    """
    ratio = plain_length(text, unit, scale) if isinstance(text, str) else None
    # Whole numbers divide to the nearest float, as their Fraction would.
    return float(_any_form(text, unit, scale)) if ratio is None else ratio[0] / ratio[1]


def parse_prototype(text: str, unit: str | None = None) -> PrototypeLength:
    """Read a prototype length, as a type of its own.

    Parameters
    ----------
    text : str
        Full-size length, such as ``40' 6"`` or ``12.2 m``. [-]
    unit : str or None
        Unit of a bare number: ft, in, m, cm or mm. [-]

    Returns
    -------
    PrototypeLength
        The length on the prototype. [ft]

    Raises
    ------
    UnreadableLength
        As `parse_length`; also for scale feet, which are model lengths.

    References
    ----------
    NIST SP 811, appendix B.

    Examples
    --------
    >>> print(parse_prototype("40 ft 6 in"))
    40' 6"
    """
    if "scale" in str(text).casefold() or (unit is not None and unit_name(unit) in SCALE_UNITS):
        raise UnreadableLength(str(text), "scale feet measure the model", "the prototype's size, as 40' 6\"")
    try:
        return PrototypeLength(parse_length_exact(text, unit) / mm_per("ft"))
    except UnreadableLength as fault:
        if fault.write != EXAMPLE:
            raise
        raise UnreadableLength(fault.given, fault.problem, FULL_SIZE) from None

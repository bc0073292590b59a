"""Sizes as the sheets print them, and the parts in cutting order."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import TYPE_CHECKING, Any

from modelmath.lengths.scales import Scale
from modelmath.lengths.text import SYMBOLS, format_length, three_ways

if TYPE_CHECKING:
    from modelmath.enclosure import Part
    from modelmath.job import Plan
    from modelmath.job.stock import PartLine
    from modelmath.lengths.rules import Rule


def sentence(text: str) -> str:
    """Return a phrase as a sentence.

    Parameters
    ----------
    text : str
        A phrase, with or without its full stop. [-]

    Returns
    -------
    str
        With a capital and a full stop. [-]

    References
    ----------
    None needed.

    Examples
    --------
    >>> sentence("a copy of the bulkhead")
    'A copy of the bulkhead.'
    """
    return f"{text[:1].upper()}{text[1:].removesuffix('.')}."


def with_unit(mark: str, rule: Rule) -> str:
    """Return a mark as a person wrote it, with the rule's unit where none was written.

    Parameters
    ----------
    mark : str
        The mark. [rule's unit]
    rule : Rule
        The rule it belongs to. [-]

    Returns
    -------
    str
        With a unit. [-]

    References
    ----------
    None needed.

    Examples
    --------
    >>> from modelmath.lengths.rules import Rule
    >>> with_unit("8 5/8", Rule(scale="HO")), with_unit("3 mm", Rule(unit="mm", graduation="0.5"))
    ('8 5/8 scale ft', '3 mm')
    """
    named = any(sign.isalpha() or sign in "'\"" for sign in mark)
    return mark if named else f"{mark} {SYMBOLS.get(rule.unit, rule.unit)}"


def in_mm(value: Any) -> str:
    """Return a length in mm.

    Parameters
    ----------
    value : Fraction, float or uncertain number
        The length. [mm]

    Returns
    -------
    str
        With its unit. [mm]

    References
    ----------
    `format_length`.
    """
    return format_length(value, "mm")


def in_other_units(mm: Fraction, scale: Scale) -> str:
    """Return a length in scale feet and inches, to stand below its mm. [scale ft, in]"""
    feet, inches, _ = three_ways(mm, scale)
    return f"{feet} · {inches}"


def left_over(part: Part) -> str:
    """Return what lies between the exact size and the size cut, in words. [mm]

    Parameters
    ----------
    part : Part
        The part. [mm]

    Returns
    -------
    str
        Room left, or what is to be sanded off. [-]

    References
    ----------
    Arithmetic.
    """
    over = part.cut.cut_mm - part.cut.exact_mm
    if over == 0:
        return "on the mark"
    return f"sand {in_mm(over)}" if over > 0 else f"{in_mm(-over)} room"


@dataclass(frozen=True)
class Stop:
    """One setting of the stop, and the parts cut at it. [mm]"""

    length_mm: Fraction
    setting: str
    lines: tuple[PartLine, ...]


def stops_of(lines: Sequence[PartLine]) -> tuple[Stop, ...]:
    """Group parts by their cut length, in cutting order.

    Parameters
    ----------
    lines : sequence of PartLine
        The plan's parts. [mm]

    Returns
    -------
    tuple of Stop
        Longest first. [mm]

    References
    ----------
    Longest first, so that a spoilt piece still gives a shorter one: common practice, no source.
    """
    lengths = sorted({line.part.cut.cut_mm for line in lines}, reverse=True)
    groups = [(length, tuple(line for line in lines if line.part.cut.cut_mm == length)) for length in lengths]
    return tuple(Stop(length, group[0].setting.text, group) for length, group in groups)


def stands_where(plan: Plan) -> str:
    """Return what of the rule stands at the part's edge when marking out.

    Parameters
    ----------
    plan : Plan
        The plan. [-]

    Returns
    -------
    str
        A sentence or two. [-]

    References
    ----------
    `Rule.mark_for`.
    """
    offset, datum = plan.marks.rule.offset_mm, plan.marks.datum
    if datum == "zero":
        return "Stand its zero mark at the part's edge; what lies between its end and zero does not count."
    if offset == 0:
        return "Stand its end, which is its zero, at the part's edge."
    way = "in from the end" if offset > 0 else "beyond its worn end"
    return (
        f"Stand its end at the part's edge. Its zero lies {in_mm(abs(offset))} {way}; every setting below "
        "allows for that."
    )


def place_of(line: PartLine, mark: str) -> str:
    """Return where a part's face stands, from the fore-aft mark, in words.

    Parameters
    ----------
    line : PartLine
        The part. [mm]
    mark : str
        Name of the fore-aft mark. [-]

    Returns
    -------
    str
        Empty where the plan has no place for it. [-]

    References
    ----------
    Arithmetic.
    """
    at = line.part.position_mm
    if at is None:
        return ""
    if at == 0:
        return f"at the {mark}"
    return f"{in_mm(abs(at))} {'behind' if at > 0 else 'ahead of'} the {mark}"

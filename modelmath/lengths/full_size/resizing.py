"""One size in several scales: from scale to scale, and the prototype in each."""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass
from fractions import Fraction
from typing import Any

from modelmath.errors import OutOfRange, UnreadableLength, WrongKind, shown
from modelmath.lengths.full_size.sides import BARE, unit_behind
from modelmath.lengths.lines import BadLine, columns_of, read_lines
from modelmath.lengths.parse import parse_length_exact
from modelmath.lengths.prototype import PrototypeLength
from modelmath.lengths.scales import MM_PER_PROTOTYPE_FOOT, Scale, scale_of
from modelmath.lengths.text import SYMBOLS, in_steps, mixed, round_half_up
from modelmath.lengths.units import mm_per

LONGEST_LIST = 2000  # characters: every scale there is, six times
_SIDES = re.compile(r"\s*[x×✕]\s*")


def resize_factor(from_scale: Scale | str, to_scale: Scale | str) -> Fraction:
    """Return what a model size is multiplied by to be the same prototype in another scale.

    Parameters
    ----------
    from_scale, to_scale : Scale or str
        The scale it has, and the scale wanted. [-]

    Returns
    -------
    Fraction
        Exact. [-]

    Raises
    ------
    UnknownScale
        If nothing is called so.

    References
    ----------
    Definition of scale: ratio over ratio.

    Examples
    --------
    >>> resize_factor("HO", "N")
    Fraction(381, 700)
    """
    return scale_of(from_scale).ratio / scale_of(to_scale).ratio


def resize(model_mm: Any, from_scale: Scale | str, to_scale: Scale | str) -> Any:
    """Return a model size as the same prototype is in another scale.

    Parameters
    ----------
    model_mm : number, uncertain number or array
        Size in the first scale. [mm]
    from_scale, to_scale : Scale or str
        The scale it has, and the scale wanted. [-]

    Returns
    -------
    Fraction for a Fraction, else the kind given
        Size in the second scale. [mm]

    Raises
    ------
    UnknownScale
        If nothing is called so.
    WrongKind
        For text or a prototype length.

    References
    ----------
    Definition of scale: ratio over ratio.

    Examples
    --------
    >>> resize(Fraction("12.25"), "HO", "N")  # 3 1/2 scale feet in either
    Fraction(2667, 400)
    """
    if isinstance(model_mm, PrototypeLength):
        remedy = "It has no scale yet: use model_mm of the scale wanted."
        raise WrongKind("model_mm", f"the prototype length {model_mm}", "a model length in mm", remedy)
    if isinstance(model_mm, str):
        raise WrongKind("model_mm", shown(model_mm), "a number", "Read text with parse_length.")
    factor = resize_factor(from_scale, to_scale)
    return model_mm * factor if isinstance(model_mm, Fraction) else model_mm * float(factor)


@dataclass(frozen=True)
class Resized:
    """A size, or the two or three sides of a part or a strip, before and after.

    Attributes
    ----------
    name : str
        What it is. [-]
    given : str
        The size as it was written. [-]
    before_mm, after_mm : tuple of Fraction
        Its sides in the first and in the second scale, exact. [mm]
    """

    name: str
    given: str
    before_mm: tuple[Fraction, ...]
    after_mm: tuple[Fraction, ...]


def resize_lines(text: str, from_scale: Scale | str, to_scale: Scale | str) -> tuple[list[Resized], list[BadLine]]:
    r"""Turn a list of model sizes from one scale into another.

    A line holds a name and a size, parted by a tab or semicolon, or a size alone; a size is a length, or two or
    three sides joined by x. Each has its unit; scale feet and inches are those of the first scale.

    Parameters
    ----------
    text : str
        The lines, each size with its unit. [-]
    from_scale, to_scale : Scale or str
        The scale they have, and the scale wanted. [-]

    Returns
    -------
    tuple of (list of Resized, list of BadLine)
        The sizes in order, and the lines that could not be read. [mm]

    Raises
    ------
    OutOfRange
        If there are more than 10,000 lines.
    UnknownScale
        If nothing is called so.

    References
    ----------
    Definition of scale: ratio over ratio.

    Examples
    --------
    >>> good, bad = resize_lines("walkway; 12.25 mm\nsill; 6 x 10 scale in", "HO", "N")
    >>> [[float(side) for side in each.after_mm] for each in good], bad
    ([[6.6675], [0.9525, 1.5875]], [])
    """
    first, factor = scale_of(from_scale), resize_factor(from_scale, to_scale)

    def read(number: int, line: str) -> Resized:
        *names, size = columns_of(line)
        if len(names) > 1:
            raise UnreadableLength(line, "it has more than two columns", "walkway; 12.25 mm")
        sides = _sides(size, first)
        return Resized("".join(names) or f"line {number}", size, sides, tuple(side * factor for side in sides))

    return read_lines(text, read)


def _sides(size: str, scale: Scale) -> tuple[Fraction, ...]:
    """Return one to three sides; a bare one has the unit of the last, as in 6 x 10 scale in."""
    written = _SIDES.split(size)
    if len(written) > 3:
        raise UnreadableLength(size, "it has more than three sides", "a length, or sides such as 12 x 8 x 2 mm")
    unit = unit_behind(written[-1]) if len(written) > 1 else None
    sides = tuple(parse_length_exact(side, unit if BARE.fullmatch(side) else None, scale) for side in written)
    if min(sides) <= 0:
        raise UnreadableLength(size, "a size can't be 0 or less", "a length such as 12.25 mm")
    return sides


@dataclass(frozen=True)
class InScale:
    """A prototype length in one scale.

    Attributes
    ----------
    scale : Scale
        The scale. [-]
    mm : Fraction
        Its length there, exact. [mm]
    """

    scale: Scale
    mm: Fraction


def in_scales(length: PrototypeLength, scales: Iterable[Scale | str]) -> list[InScale]:
    """Return one prototype length in several scales, each scale once.

    Parameters
    ----------
    length : PrototypeLength
        Above 0. [ft]
    scales : iterable of Scale or str
        In the order wanted. [-]

    Returns
    -------
    list of InScale
        One for each scale. [mm]

    Raises
    ------
    UnknownScale
        If nothing is called so.
    WrongKind
        If the length is no prototype length.
    OutOfRange
        If it is 0 or less.

    References
    ----------
    Definition of scale: prototype / ratio.

    Examples
    --------
    >>> [float(each.mm) for each in in_scales(PrototypeLength(Fraction(40)), ("HO", "N", "O", "S"))]
    [140.0, 76.2, 254.0, 190.5]
    """
    check_prototype(length)
    chosen = dict.fromkeys(scale_of(each) for each in scales)
    return [InScale(each, length.feet * each.mm_per_foot) for each in chosen]


def check_prototype(length: PrototypeLength) -> None:
    """Refuse what is no prototype length above 0.

    Parameters
    ----------
    length : PrototypeLength
        What was given. [ft]

    Raises
    ------
    WrongKind, OutOfRange
        If it is of another kind, or 0 or less.

    References
    ----------
    None needed.

    Examples
    --------
    >>> check_prototype(PrototypeLength(Fraction(40)))
    """
    if not isinstance(length, PrototypeLength):
        remedy = "Read it with parse_prototype, such as 40' 6\"."
        raise WrongKind("the prototype's size", shown(str(length)), "a prototype length", remedy)
    if length.feet <= 0:
        raise OutOfRange("the prototype's size", str(length), "above 0", "Write it as 40' 6\" or 12.2 m.")


def full_size_text(length: PrototypeLength) -> tuple[str, str]:
    r"""Write a prototype length in feet and inches, and in metres.

    Parameters
    ----------
    length : PrototypeLength
        The length. [ft]

    Returns
    -------
    tuple of two str
        To sixteenths of an inch, and to the millimetre. [-]

    References
    ----------
    NIST SP 811, appendix B.

    Examples
    --------
    >>> full_size_text(PrototypeLength(Fraction(81, 2)))
    ('40\' 6"', '12.344 m')
    """
    return str(length), f"{float(length.feet * MM_PER_PROTOTYPE_FOOT) / 1000:.3f} m"


def scales_listed(text: str) -> list[Scale]:
    """Read names of scales parted by commas or semicolons; a comma inside brackets belongs to the name.

    Parameters
    ----------
    text : str
        Such as ``TT, 1:29, O (British)``. [-]

    Returns
    -------
    list of Scale
        In the order written; none for an empty text. [-]

    Raises
    ------
    UnknownScale
        If one has no such name; carries the nearest names.
    OutOfRange
        If the list is longer than any.

    References
    ----------
    data/scales.csv.

    Examples
    --------
    >>> [each.name for each in scales_listed("tt; n (british, 1:148)")]
    ['TT', 'N (British, 1:148)']
    """
    if len(text) > LONGEST_LIST:
        most = f"{LONGEST_LIST} characters or fewer"
        raise OutOfRange("the list of scales", f"{len(text):,} characters long", most, "Write such as HO, N, O.")
    names = re.split(r"[;,](?![^(]*\))", text)
    return [scale_of(name.strip()) for name in names if name.strip()]


MARKS = (("in", Fraction(1, 64)), ("mm", Fraction(1, 2)))  # finest marks of common steel rules; common practice


def at_marks(mm: Fraction | float, scale: Scale | str) -> list[tuple[str, str]]:
    """Write a length at the nearest mark of a scale rule, an inch rule and a mm rule, with how far that is off.

    Parameters
    ----------
    mm : Fraction or float
        Model length. [mm]
    scale : Scale or str
        Scale of the scale rule, whose marks are taken as quarters of a scale foot. [-]

    Returns
    -------
    list of (str, str)
        The mark, and what it is off by. [-]

    References
    ----------
    Marks of 1/4 scale foot, 1/64 in and 0.5 mm: common practice, no source.

    Examples
    --------
    >>> at_marks(Fraction(7, 12), "HO")  # 2 scale inches; 1.47 sixty-fourths
    [('1/4 scale ft', '0.29 mm over'), ('1/64 in', '0.19 mm under'), ('0.5 mm', '0.08 mm under')]
    """
    found = []
    for unit, step in (("scale foot", Fraction(1, 4)), *MARKS):
        unit_mm = mm_per(unit, scale)
        count = round_half_up(in_steps(mm, unit_mm * step))
        off = count * step * unit_mm - Fraction(mm)
        near = "exact" if abs(off) < Fraction(1, 200) else f"{float(abs(off)):.2f} mm {'over' if off > 0 else 'under'}"
        marked = f"{float(count * step):.1f}" if unit == "mm" else mixed(count * step)
        found.append((f"{marked} {SYMBOLS.get(unit, unit)}", near))
    return found

"""Marking out with a rule: where to set it for a size, how that is said, and which sizes fall on a mark.

These functions take the rule first; `Rule` offers those for its users as methods.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from math import ceil, floor, isfinite
from typing import TYPE_CHECKING, Literal

from uncertainties import UFloat

from modelmath.errors import OutOfRange
from modelmath.lengths.numbers import check_kind
from modelmath.lengths.text import SNAP_MM, SYMBOLS, in_steps, mixed, round_half_up

if TYPE_CHECKING:
    from modelmath.lengths.rules import Rule
    from modelmath.lengths.rules.instruments import Given, Instrument

Rounding = Literal["down", "up"]
SHORT_OF_ZERO = " short of zero, towards the end"

WRITE_A_MARK = {
    "scale foot": "Write 1/4 for quarter feet.",
    "scale inch": "Write 1/2 for half inches.",
    "mm": "Write 0.5 for half millimetres.",
    "in": "Write 1/64 for sixty-fourths.",
}


@dataclass(frozen=True)
class Setting:
    """Where to set a rule to mark a size out.

    Attributes
    ----------
    mark : Fraction
        The mark, counted from zero; below 0 between the rule's end and its zero. [rule's unit]
    nearest : Fraction
        The nearest graduation. [rule's unit]
    beyond_mm : float
        How far the size goes beyond that graduation; below 0 when it stops short. [mm]
    text : str
        The setting in words. [-]
    """

    mark: Fraction
    nearest: Fraction
    beyond_mm: float
    text: str

    @property
    def on_mark(self) -> bool:
        """Whether the setting stands on a graduation."""
        return self.mark == self.nearest

    def __str__(self) -> str:
        return self.text


def mark_text(rule: Instrument, shown_mm: Fraction) -> str:
    """Return a length as the rule's marks are read: fractions to 64ths, decimals for mm and for what is finer.

    Parameters
    ----------
    rule : Rule
        The rule. [-]
    shown_mm : Fraction
        Length as the rule shows it. [mm]

    Returns
    -------
    str
        The length in the rule's unit. [rule's unit]

    References
    ----------
    None needed: how the figures are written.

    Examples
    --------
    >>> from modelmath.lengths.rules import Rule
    >>> mark_text(Rule(scale="HO"), Fraction(105, 4)), mark_text(Rule(unit="mm", graduation="0.5"), Fraction(7, 2))
    ('7 1/2 scale ft', '3.5 mm')
    """
    marks = shown_mm / rule.unit_mm
    if rule.unit == "mm" or marks.denominator > 64:
        figure = f"{float(marks):.3f}".rstrip("0").rstrip(".")
    else:
        figure = mixed(marks)
    return f"{figure} {SYMBOLS.get(rule.unit, rule.unit)}"


def mark_for(rule: Rule, mm: Fraction | float | UFloat, datum: str = "end", finest: Given | None = None) -> Setting:
    """Say where to set the rule to mark a size out: the inverse of `Rule.length`.

    Parameters
    ----------
    rule : Rule
        The rule. [-]
    mm : Fraction, float or uncertain number
        Size to mark out, 0 or more; of an uncertain one, its nominal value. [mm]
    datum : {"end", "zero"}
        What stands at the part's edge: the rule's end, or its zero mark. [-]
    finest : text, number or None
        Finest mark the user sets it to; by default the rule's graduation. [rule's unit]

    Returns
    -------
    Setting
        The mark, and the nearest graduation with what goes beyond it. [rule's unit]

    Raises
    ------
    OutOfRange
        If the size is below 0 or longer than the rule, or `finest` is not above 0.
    UnreadableLength
        If `finest` can't be read.
    UnknownChoice
        If `datum` is neither word.

    References
    ----------
    JCGM 200:2012 (VIM), "correction".

    Examples
    --------
    >>> from modelmath.lengths.rules import Rule
    >>> Rule(scale="HO", zero_offset="1").mark_for(12.25).text  # 3 1/2 scale ft
    '2 1/2 scale ft'
    """
    size = getattr(mm, "nominal_value", mm)
    check_kind("the size", size)
    if not 0 <= size < float("inf"):
        raise OutOfRange("the size", f"{float(size):g} mm", "0 or more", "Check the readings behind it.")
    step = rule.graduation_mm if finest is None else _step(rule, finest)
    shown = _shown_for(rule, size, datum, step / 64)
    # As at any mark, what a float leaves beyond the last one is nothing.
    beyond_last = Fraction(0) if isinstance(size, Fraction) else SNAP_MM
    if rule.length_mm is not None and shown - rule.length_mm > beyond_last:
        last = f"within {rule.name}, whose last mark is {mark_text(rule, rule.length_mm)}"
        raise OutOfRange("the size", f"{float(size):.2f} mm", last, "Use a longer rule.")
    nearest = _nearest(rule, shown, step)
    beyond = float((shown - nearest) * (1 + rule.scale_error))
    return Setting(shown / rule.unit_mm, nearest / rule.unit_mm, beyond, _setting_text(rule, nearest, beyond))


def marks_apart(rule: Rule, finest: Given, datum: str) -> tuple[Fraction, Fraction]:
    """Return how far apart the lengths are at which the rule stands on a mark, and the one at its zero mark.

    Parameters
    ----------
    rule : Rule
        The rule. [-]
    finest : text or number
        Finest mark the user cuts to. [rule's unit]
    datum : {"end", "zero"}
        What stands at the part's edge when marking out. [-]

    Returns
    -------
    tuple of two Fraction
        Distance, and first length. [mm]

    Raises
    ------
    UnreadableLength, OutOfRange
        If `finest` can't be read or is not above 0.
    UnknownChoice
        If `datum` is neither word.

    References
    ----------
    Arithmetic.
    """
    error, offset = rule.scale_error, rule.offset_mm
    known = rule.known_marks.get((finest, datum)) if isinstance(finest, str) and isinstance(datum, str) else None
    # What was found for other numbers, of a rule that was changed since or copied, is none of this one's.
    if known is None or known[2] is not error or known[3] is not offset:
        stretch = 1 + error
        known = _step(rule, finest) * stretch, rule.zero_mm(datum) * stretch, error, offset
        if isinstance(finest, str):
            rule.known_marks[finest, datum] = known
    return known[0], known[1]


def _step(rule: Rule, finest: Given) -> Fraction:
    step = rule.given_mm(finest)
    if step <= 0:
        raise OutOfRange("the finest mark", str(finest), "above 0", WRITE_A_MARK[rule.unit])
    return step


def _shown_for(rule: Rule, mm: Fraction | float, datum: str, step_mm: Fraction) -> Fraction:
    """Return what the rule shows at a size, in mm; a float's error is taken off at the marks, where it is seen."""
    return in_steps(_shown(rule, mm, datum), step_mm) * step_mm


def _shown(rule: Rule, mm: Fraction | float, datum: str) -> Fraction | float:
    shown = Fraction(mm) / (1 + rule.scale_error) - rule.zero_mm(datum)
    return shown if isinstance(mm, Fraction) else float(shown)


def _nearest(rule: Rule, shown: Fraction, step: Fraction) -> Fraction:
    """Return the nearest step that is on the rule."""
    nearest = round_half_up(shown / step) * step
    if nearest < rule.begins_mm:
        return nearest + step
    if rule.length_mm is not None and nearest > rule.length_mm:
        return nearest - step
    return nearest


def _setting_text(rule: Rule, nearest: Fraction, beyond_mm: float) -> str:
    mark = mark_text(rule, abs(nearest))
    return with_beyond(mark + (SHORT_OF_ZERO if nearest < 0 else ""), beyond_mm)


def with_beyond(mark: str, beyond_mm: float) -> str:
    """Return a mark with how far the size goes beyond it, where that shows.

    Parameters
    ----------
    mark : str
        The mark, as it is read. [rule's unit]
    beyond_mm : float
        How far the size goes beyond it; below 0 when it stops short. [mm]

    Returns
    -------
    str
        The setting in words. [-]

    References
    ----------
    None needed.

    Examples
    --------
    >>> with_beyond("3 scale ft", 0.12), with_beyond("1 mm short of zero, towards the end", 0.12)
    ('3 scale ft and 0.12 mm', '1 mm short of zero, and 0.12 mm back towards zero')
    """
    if abs(beyond_mm) < 0.005:
        return mark
    rest = f"{abs(beyond_mm):.2f} mm"
    if mark.endswith(SHORT_OF_ZERO):
        # Here the marks count the other way, so that "and" and "less" would mislead.
        way = "back towards zero" if beyond_mm > 0 else "further towards the end"
        return f"{mark.removesuffix(SHORT_OF_ZERO)} short of zero, and {rest} {way}"
    return f"{mark} {'and' if beyond_mm > 0 else 'less'} {rest}"


def at_mark(mm: Fraction | float, step_mm: Fraction, rounding: Rounding) -> Fraction:
    """Return the mark next to a length, down or up; a length on a mark is that mark.

    A Fraction is exact, ties included. A float within 1e-9 mm of a mark is taken as that mark.

    Parameters
    ----------
    mm : Fraction or float
        The length, finite. [mm]
    step_mm : Fraction
        Distance between the marks, above 0. [mm]
    rounding : {"down", "up"}
        To the mark below, or to the mark above. [-]

    Returns
    -------
    Fraction
        A whole number of marks. [mm]

    References
    ----------
    Arithmetic.

    Examples
    --------
    >>> at_mark(Fraction(10, 3), Fraction(1, 2), "down"), at_mark(3.2, Fraction(1, 2), "up")
    (Fraction(3, 1), Fraction(7, 2))
    >>> at_mark(0.1 + 0.2, Fraction(3, 10), "up")
    Fraction(3, 10)
    """
    steps = in_steps(mm, step_mm)
    return (floor(steps) if rounding == "down" else ceil(steps)) * step_mm


def largest_at_mark(rule: Rule, space_mm: Fraction | float, finest: Given, datum: str = "end") -> Fraction:
    """Return the largest length, not above a space, at which the rule can be set on a mark.

    Parameters
    ----------
    rule : Rule
        The rule. [-]
    space_mm : Fraction or float
        Largest length allowed. [mm]
    finest : text or number
        Finest mark the user cuts to. [rule's unit]
    datum : {"end", "zero"}
        What stands at the part's edge when marking out. [-]

    Returns
    -------
    Fraction
        Length, 0 or below when no mark is low enough. [mm]

    Raises
    ------
    UnreadableLength, OutOfRange
        If `finest` can't be read or is not above 0, or the space is not finite.
    UnknownChoice
        If `datum` is neither word.

    References
    ----------
    Arithmetic.

    Examples
    --------
    >>> from modelmath.lengths.rules import Rule
    >>> rule = Rule(scale="HO", zero_offset="1")
    >>> rule.largest_at_mark(Fraction(105, 8) - Fraction(7, 8), "1/4")  # 3 1/2 scale ft
    Fraction(49, 4)
    """
    return _at_mark_of(rule, space_mm, finest, datum, "down")


def smallest_at_mark(rule: Rule, size_mm: Fraction | float, finest: Given, datum: str = "end") -> Fraction:
    """Return the smallest length, not below a size, at which the rule can be set on a mark.

    Parameters
    ----------
    rule : Rule
        The rule. [-]
    size_mm : Fraction or float
        Smallest length allowed. [mm]
    finest : text or number
        Finest mark the user cuts to. [rule's unit]
    datum : {"end", "zero"}
        What stands at the part's edge when marking out. [-]

    Returns
    -------
    Fraction
        Length. [mm]

    Raises
    ------
    UnreadableLength, OutOfRange
        If `finest` can't be read or is not above 0, or the size is not finite.
    UnknownChoice
        If `datum` is neither word.

    References
    ----------
    Arithmetic.

    Examples
    --------
    >>> from modelmath.lengths.rules import Rule
    >>> Rule(unit="mm", graduation="0.5").smallest_at_mark(3.2, "0.5")
    Fraction(7, 2)
    """
    return _at_mark_of(rule, size_mm, finest, datum, "up")


def _at_mark_of(rule: Rule, mm: Fraction | float, finest: Given, datum: str, rounding: Rounding) -> Fraction:
    """Return the length at which the rule stands on the mark next to a size."""
    if type(mm) is Fraction:
        pitch, first = rule.marks_apart(finest, datum)
        steps = (mm - first) / pitch
        return (floor(steps) if rounding == "down" else ceil(steps)) * pitch + first
    step = _step(rule, finest)
    if not isfinite(mm):
        raise OutOfRange("the size", f"{mm} mm", "a number", "Check the readings behind it.")
    mark = at_mark(_shown(rule, mm, datum), step, rounding)
    return (mark + rule.zero_mm(datum)) * (1 + rule.scale_error)

"""The stop settings of a cut plan against the rule's own marks: where to set it for each length."""

from __future__ import annotations

from fractions import Fraction
from math import ceil, floor
from typing import TYPE_CHECKING

from modelmath.drawings.shapes import Box, Drawing, Label, Lines, Pen, Point, text_width
from modelmath.drawings.sizes import in_mm
from modelmath.drawings.template import letter_of
from modelmath.errors import OutOfRange
from modelmath.lengths.text import SYMBOLS

if TYPE_CHECKING:
    from modelmath.clearance import Marks
    from modelmath.cutting.plan import StopSetting
    from modelmath.lengths.rules import Rule

TEXT, BAR, ROW, RULE = 11.0, 13.0, 34.0, 34.0
OUTLINE, TICK, SMALL_TICK, DROP = Pen(1.2), Pen(1.0), Pen(0.6, 0.2), Pen(0.7, 0.35, (4, 3))
NEAREST = 3.2  # ticks any nearer would run together
LEAST_STEP = 22.0  # from number to number along the rule


MOST_ROWS = 12  # of one figure: more is too tall for a page, and its drop lines run past too many bars


def figures_of_stops(stops: tuple[StopSetting, ...], marks: Marks, width: float) -> list[Drawing]:
    """Draw all settings, a dozen to a figure.

    Parameters
    ----------
    stops : tuple of StopSetting
        The settings of a plan. [mm]
    marks : Marks
        The rule they are set with. [-]
    width : float
        Width of each drawing. [drawing unit]

    Returns
    -------
    list of Drawing
        Longest first. [drawing unit]

    References
    ----------
    None needed.
    """
    starts = range(0, len(stops), MOST_ROWS)
    return [stops_on_rule(stops[first : first + MOST_ROWS], marks, width, first) for first in starts]


def stops_on_rule(stops: tuple[StopSetting, ...], marks: Marks, width: float, first: int = 0) -> Drawing:
    """Draw a piece of each length from what stands at its edge to the mark at which the rule is set.

    Parameters
    ----------
    stops : tuple of StopSetting
        The settings of a plan; their letters follow their order. [mm]
    marks : Marks
        The rule they are set with. [-]
    width : float
        Width of the drawing. [drawing unit]
    first : int
        Place of the first of them among all settings of the plan, which gives it its letter. [-]

    Returns
    -------
    Drawing
        The rule below, a bar for each setting above it, the longest on top. [drawing unit]

    References
    ----------
    `Rule.mark_for`.
    """
    settings = [(letter_of(number), stop, _said(marks, stop)) for number, stop in enumerate(stops, start=first)]
    drawn = [each for each in settings if each[2] is not None]
    longest = max((stop.length_mm for _, stop, _ in drawn), default=Fraction(10))
    side = "end" if marks.datum == "end" else "zero mark"
    title = f"Where to set the {marks.rule.name} for each length, its {side} at the piece's edge"
    said = "; ".join(f"{letter}: {text}, {in_mm(stop.length_mm)}" for letter, stop, text in drawn)
    drawing = Drawing(width, RULE + 12 + ROW * max(len(drawn), 1), title, said)
    left = 4.0
    unit = (width - left - 26) / float(longest * Fraction(11, 10))
    rows = [(RULE + 6 + ROW * at, *each) for at, each in enumerate(reversed(drawn))]
    for low, _, stop, _ in rows:  # below all bars and words
        length = float(stop.length_mm) * unit
        drawing.add(Lines("drop", (((left + length, low), (left + length, RULE - 9)),), DROP))
    for low, letter, stop, text in rows:
        length = float(stop.length_mm) * unit
        drawing.add(Box("piece", left, low, length, BAR, OUTLINE, 0.9))
        pieces = f"{stop.count} {'piece' if stop.count == 1 else 'pieces'}"
        drawing.add(
            Label(left + 2, low + BAR + 5, f"{letter}: {text} · {in_mm(stop.length_mm)} · {pieces}", TEXT, halo=True)
        )
    drawing.add(*_rule(marks, left, unit, width))
    return drawing


def _said(marks: Marks, stop: StopSetting) -> str | None:
    """Return where the rule is set for a length; None where it is not that long."""
    try:
        return marks.setting(stop.length_mm).text
    except OutOfRange:
        return None


def _rule(marks: Marks, left: float, unit: float, width: float) -> list[Box | Lines | Label]:
    """Return the rule with its marks, as far as it or the drawing goes."""
    rule = marks.rule
    zero = left + (float(rule.offset_mm) * unit if marks.datum == "end" else 0.0)
    right = width - 2
    if rule.length_mm is not None:
        right = min(right, zero + float(rule.length_mm) * unit)
    step = float(rule.unit_mm) * unit
    number = next(each for each in _rounds() if each * step >= LEAST_STEP)
    fine = _fine(rule, step)
    ticks: list[tuple[Point, Point]] = []
    labels: list[Label] = []
    first = ceil((left - zero) / (step * fine) - 1e-9)
    for count in range(first, floor((right - zero) / (step * fine) + 1e-9) + 1):
        mark = count * fine
        at = zero + mark * step
        whole = abs(mark - round(mark)) < 1e-9
        numbered = whole and round(mark) % number == 0
        ticks.append(((at, RULE - 9), (at, RULE - 9 - (11 if numbered else 8 if whole else 4))))
        if numbered and mark >= 0:
            labels.append(Label(at, 5, f"{round(mark)}", TEXT - 1, "middle"))
    name = SYMBOLS.get(rule.unit, rule.unit)
    room = text_width(name, TEXT - 1)
    labels = [label for label in labels if label.x < right - room - 10]
    return [
        Box("rule", left, 2, right - left, RULE - 11, OUTLINE),
        Lines("marks", tuple(ticks), SMALL_TICK),
        *labels,
        Label(right - 4, 5, name, TEXT - 1, "end"),
    ]


def _rounds() -> tuple[int, ...]:
    return tuple(digit * 10**power for power in range(5) for digit in (1, 2, 5))


def _fine(rule: Rule, step: float) -> float:
    """Return the finest graduation that can be drawn: the rule's own, or else whole units, or tens of them."""
    fine = float(rule.graduation_mm / rule.unit_mm)
    if fine * step >= NEAREST:
        return fine
    return float(next(each for each in _rounds() if each * step >= NEAREST))

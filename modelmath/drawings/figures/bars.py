"""Strips of a cut plan as bars, in proportion to each other."""

from __future__ import annotations

from fractions import Fraction
from itertools import groupby
from typing import TYPE_CHECKING

from modelmath.drawings.shapes import Box, Drawing, Label, Lines, Pen, hatch, text_width
from modelmath.drawings.sizes import in_mm
from modelmath.drawings.template import letter_of

if TYPE_CHECKING:
    from modelmath.cutting import CutPlan
    from modelmath.cutting.plan import CutStrip

TEXT, BAR, ROW = 10.0, 14.0, 39.0  # a text is still 9 px where a sheet of 640 units is 36 rem wide
EDGE, CUT, WASTE = Pen(1.0), Pen(0.8), Pen(0.4, 0.5)


def strip_bars(cuts: CutPlan, width: float) -> list[Drawing]:
    """Draw each strip as a bar with its cuts; the letters are those of the stop settings.

    Parameters
    ----------
    cuts : CutPlan
        The plan. [mm]
    width : float
        Length of the longest bar. [drawing unit]

    Returns
    -------
    list of Drawing
        One for each strip, all to one scale. [drawing unit]

    References
    ----------
    The plan's own lengths.
    """
    letters = {stop.length_mm: letter_of(number) for number, stop in enumerate(cuts.stops)}
    longest = max((strip.length_mm for strip in cuts.strips), default=Fraction(1))
    unit = (width - 2) / float(longest)
    return [_bar(strip, letters, float(cuts.end_trim_mm), unit, width) for strip in cuts.strips]


def _bar(strip: CutStrip, letters: dict[Fraction, str], trim: float, unit: float, width: float) -> Drawing:
    drawing = Drawing(width, ROW, f"Strip {strip.number}")
    words = f"Strip {strip.number}: {strip.stock_name}, {in_mm(strip.length_mm)}, {strip.kind}"
    length = float(strip.length_mm) * unit
    left_over = f"{'keep' if strip.kept else 'scrap'} {in_mm(strip.offcut_mm)}"
    inside = text_width(left_over, TEXT) <= float(strip.offcut_mm) * unit - 6
    drawing.add(Label(0, BAR + 8, words if inside or not strip.offcut_mm else f"{words}; {left_over}", TEXT))
    if trim:
        drawing.add(Lines("trim", hatch(1, 2, trim * unit, BAR, 2), WASTE))
    for size_mm, run in groupby(strip.cuts, key=lambda cut: cut.length_mm):
        cuts = list(run)
        size = float(size_mm) * unit
        drawing.add(*(Box("piece", 1 + float(cut.start_mm) * unit, 2, size, BAR, CUT, 0.9) for cut in cuts))
        left, right = (1 + float(place) * unit for place in (cuts[0].start_mm, cuts[-1].end_mm))
        drawing.add(*_letters(letters[size_mm], len(cuts), left, right, size))
    drawing.add(Box("strip", 1, 2, length, BAR, EDGE))
    if strip.offcut_mm and not strip.kept:
        drawing.add(
            Lines(
                "scrap",
                hatch(1 + length - float(strip.offcut_mm) * unit, 2, float(strip.offcut_mm) * unit, BAR, 4),
                WASTE,
            )
        )
    if inside:
        drawing.add(Label(length - 4, 2 + BAR / 2 - TEXT * 0.36, left_over, TEXT, "end"))
    return drawing


def _letters(letter: str, count: int, left: float, right: float, size: float) -> list[Label]:
    """Return a letter in each of a run of equal pieces; where they are too short, one for all of them."""
    level = 2 + BAR / 2 - TEXT * 0.36
    if text_width(letter, TEXT) + 2 <= size:
        step = (right - left - size) / max(count - 1, 1)
        places = [left + size / 2 + number * step for number in range(count)]
        return [Label(place, level, letter, TEXT, "middle", bold=True) for place in places]
    words = f"{count} × {letter}" if count > 1 else letter
    if text_width(words, TEXT) > right - left:
        return []
    return [Label((left + right) / 2, level, words, TEXT, "middle", bold=True, halo=True)]

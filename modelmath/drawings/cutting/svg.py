"""The flat parts as SVG in mm: three layers, told apart by their lines alone."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING
from xml.sax.saxutils import escape, quoteattr

from modelmath.drawings.cutting.laid import LAYERS, TEXT_MM, CuttingSheet, cutting_sheet

if TYPE_CHECKING:
    from modelmath.job import Plan

PENS = {
    "cut": 'stroke-width="0.25"',
    "drill": 'stroke-width="0.18" stroke-dasharray="0.6 0.3"',
    "score": 'stroke-width="0.13" stroke-dasharray="4 0.8 0.4 0.8"',
}


def cutting_svg(plan: Plan) -> str:
    """Return every flat part of a plan as an SVG file, in mm.

    Parameters
    ----------
    plan : Plan
        The plan. [-]

    Returns
    -------
    str
        The file; groups ``cut``, ``drill`` and ``score``, black, told apart by line style. [-]

    Raises
    ------
    DoesNotFit
        If the plan has no parts because nothing fits.
    JobError
        If a length can't be read, or a hole moved by hand is none of them.
    NotYetKnown
        If no width is known, so that there is nothing to draw.

    References
    ----------
    SVG 1.1 (second edition), 7.7 for the viewBox and 7.10 for units; ISO 128-2:2020 for kinds of line.
    """
    sheet = cutting_sheet(plan)
    width, height = _n(sheet.width_mm), _n(sheet.height_mm)
    size = f'width="{width}mm" height="{height}mm" viewBox="0 0 {width} {height}"'
    lines = [
        '<?xml version="1.0" encoding="UTF-8"?>',
        f'<svg xmlns="http://www.w3.org/2000/svg" {size} fill="none" stroke="#000">',
        f"<title>{escape(sheet.name)}: flat parts, in mm</title>",
    ]
    shapes = {"cut": _cut(sheet), "drill": _drill(sheet), "score": _score(sheet)}
    for layer, what in LAYERS.items():
        lines.append(f'<g id="{layer}" aria-label={quoteattr(layer)} {PENS[layer]}>')
        lines.append(f"<title>{layer}</title><desc>{escape(what)}</desc>")
        lines += shapes[layer]
        lines.append("</g>")
    return "\n".join([*lines, "</svg>", ""])


def _n(value: float) -> str:
    """Return a length to a ten-thousandth of a millimetre. [mm]"""
    return f"{round(value, 4) + 0.0:.4f}".rstrip("0").rstrip(".")  # + 0.0: no minus before a nought


def _cut(sheet: CuttingSheet) -> Iterator[str]:
    for loop in sheet.cut:
        yield f'<path d="M{" L".join(f"{_n(x)} {_n(sheet.height_mm - y)}" for x, y in loop)} Z"/>'


def _drill(sheet: CuttingSheet) -> Iterator[str]:
    for hole in sheet.drill:
        yield f'<circle cx="{_n(hole.x)}" cy="{_n(sheet.height_mm - hole.y)}" r="{_n(hole.diameter / 2)}"/>'


def _score(sheet: CuttingSheet) -> Iterator[str]:
    high = sheet.height_mm
    for (x1, y1), (x2, y2) in sheet.score:
        yield f'<line x1="{_n(x1)}" y1="{_n(high - y1)}" x2="{_n(x2)}" y2="{_n(high - y2)}"/>'
    font = f'font-family="DejaVu Sans, Verdana, sans-serif" font-size="{TEXT_MM}" fill="#000" stroke="none"'
    for each in sheet.texts:
        yield f'<text x="{_n(each.x)}" y="{_n(high - each.y)}" {font}>{escape(each.text)}</text>'

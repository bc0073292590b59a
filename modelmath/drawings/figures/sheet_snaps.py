"""A sheet with its parts, and the snaps that free them numbered in the order to make them."""

from __future__ import annotations

from typing import TYPE_CHECKING

from modelmath.drawings.shapes import Box, Drawing, Label, Lines, Pen, Shape, hatch, text_width, wrap
from modelmath.drawings.sizes import in_mm

if TYPE_CHECKING:
    from modelmath.cutting.sheet_layout import CutSheet, Snap

TEXT, NUMBER, FOOT = 11.0, 10.0, 20.0
OUTLINE, SNAP, PART, SCRAP = Pen(1.4), Pen(1.1, 0.0, (6, 3)), Pen(0.8), Pen(0.5, 0.55)
TALLEST = 0.9  # of the width


def sheet_snaps(sheet: CutSheet, width: float) -> Drawing:
    """Draw a sheet in proportion: parts by name, snaps dashed with their numbers, offcuts said, scrap hatched.

    Parameters
    ----------
    sheet : CutSheet
        The sheet. [mm]
    width : float
        Width of the drawing. [drawing unit]

    Returns
    -------
    Drawing
        The drawing. [drawing unit]

    References
    ----------
    The layout's own places.
    """
    unit = min((width - 4) / float(sheet.length_mm), width * TALLEST / float(sheet.width_mm))
    high = float(sheet.width_mm) * unit
    size = f"{_plain(sheet.length_mm)} × {in_mm(sheet.width_mm)}"
    title = f"Sheet {sheet.number}: {sheet.stock_name}, {size}, {sheet.kind}"
    said = "; ".join(_spoken(snap) for snap in sheet.snaps)
    drawing = Drawing(width, high + FOOT + 6, title, said)
    drawing.add(Label(2, high + 9, title, TEXT))
    drawing.add(Lines("scrap", hatch(2, 2, float(sheet.length_mm) * unit, high, 7), SCRAP))
    for offcut in sheet.offcuts:
        words = ["offcut to keep", f"{_plain(offcut.length_mm)} × {_plain(offcut.width_mm)}"]
        place = (offcut.x_mm, offcut.y_mm, offcut.length_mm, offcut.width_mm)
        drawing.add(*_panel("offcut", [float(each) * unit for each in place], words, None, 1.0))
    for piece in sheet.pieces:
        words = [piece.part, f"{_plain(piece.length_mm)} × {_plain(piece.width_mm)}"]
        place = (piece.x_mm, piece.y_mm, piece.length_mm, piece.width_mm)
        drawing.add(*_panel("part", [float(each) * unit for each in place], words, PART, 0.9))
    drawing.add(Box("sheet", 2, 2, float(sheet.length_mm) * unit, high, OUTLINE))
    for snap in sheet.snaps:
        drawing.add(*_snap(snap, unit))
    return drawing


def _plain(length: object) -> str:
    return in_mm(length).removesuffix(" mm")


def _spoken(snap: Snap) -> str:
    frees = f", frees {', '.join(snap.frees)}" if snap.frees else ""
    return f"snap {snap.number}: {in_mm(snap.at_mm)} from the {snap.from_edge}{frees}"


def _panel(name: str, place: list[float], words: list[str], pen: Pen | None, fill: float) -> list[Shape]:
    """Return a panel with its words in the middle, as many of them as it has room for."""
    x, y, long, high = place[0] + 2, place[1] + 2, place[2], place[3]
    shapes: list[Shape] = [Box(name, x, y, long, high, pen, fill)]
    lines = [line for each in words for line in wrap(each, max(long - 6, 1.0), TEXT - 1)]
    if any(text_width(line, TEXT - 1) > long - 4 for line in lines) or len(lines) * TEXT > high - 4:
        lines = [words[0]] if text_width(words[0], TEXT - 1) <= long - 4 and high >= TEXT + 2 else []
    top = y + high / 2 + len(lines) * TEXT / 2 - TEXT + 2
    return shapes + [Label(x + long / 2, top - at * TEXT, line, TEXT - 1, "middle") for at, line in enumerate(lines)]


def _snap(snap: Snap, unit: float) -> list[Shape]:
    """Return a snap's line right across its panel, and its number at the end of it."""
    x, y, long, high = (float(each) * unit + (2 if at < 2 else 0) for at, each in enumerate(snap.panel))
    at = float(snap.at_mm) * unit
    if snap.along == "width":
        line, number = ((x + at, y), (x + at, y + high)), (x + at, y + min(NUMBER + 3, high / 2))
    else:
        line, number = ((x, y + at), (x + long, y + at)), (x + min(NUMBER + 3, long / 2), y + at)
    room = text_width(str(snap.number), NUMBER) + 4
    number = (max(number[0], 2 + room / 2), number[1])
    return [
        Lines("snap", (line,), SNAP),
        Box("number", number[0] - room / 2, number[1] - NUMBER * 0.65, room, NUMBER * 1.3, PART, 1.0),
        Label(number[0], number[1] - NUMBER * 0.36, str(snap.number), NUMBER, "middle", bold=True),
    ]

"""A sheet with its parts, and the snaps that free them numbered in the order to make them."""

from __future__ import annotations

from typing import TYPE_CHECKING

from modelmath.drawings.figures.sheet_places import TEXT as NUMBER
from modelmath.drawings.figures.sheet_places import Place, Run, Sides, Taken, stretched
from modelmath.drawings.shapes import Box, Drawing, Label, Lines, Pen, hatch, text_width, wrap
from modelmath.drawings.sizes import in_mm
from modelmath.drawings.template import letter_of

if TYPE_CHECKING:
    from modelmath.cutting.sheet_layout import CutSheet, Snap

TEXT, SMALL, LINE = 11.0, 10.0, 13.0
MARGIN = 18.0  # round the sheet, for numbers and letters that find no room on it
OUTLINE, SNAP, PART, SCRAP, LEADER = Pen(1.4), Pen(1.1, 0.0, (6, 3)), Pen(0.8), Pen(0.5, 0.55), Pen(0.5)
TALLEST = 0.9  # of the width
BETWEEN = 12.0  # from one entry of the key to the next
LETTER = (3.0, 5.5)  # of a letter on its piece: room beside it, and half its height
KEPT = "offcut to keep"


def sheet_snaps(sheet: CutSheet, width: float, whole: CutSheet | None = None) -> Drawing:
    """Draw a sheet in proportion: parts by name, snaps dashed with their numbers, offcuts said, scrap hatched.

    A piece too small for its name has a letter, on it or led to it, and its name stands in a key below.

    Parameters
    ----------
    sheet : CutSheet
        The sheet. [mm]
    width : float
        Width of the drawing. [drawing unit]
    whole : CutSheet or None
        The whole sheet, where `sheet` is but its lower left corner. [mm]

    Returns
    -------
    Drawing
        The drawing. [drawing unit]

    References
    ----------
    The layout's own places.
    """
    return _Snaps(sheet, width, whole or sheet).drawing


class _Snaps:
    """Lays the sheet out with its lower edge at height 0."""

    def __init__(self, sheet: CutSheet, width: float, whole: CutSheet) -> None:
        self.sheet = sheet
        long, high = float(sheet.length_mm), float(sheet.width_mm)
        self.unit = min((width - 2 * MARGIN) / long, width * TALLEST / high)
        self.right, self.high = MARGIN + long * self.unit, high * self.unit
        title = f"Sheet {sheet.number}: {sheet.stock_name}, {_size(whole)}, {sheet.kind}"
        corner = "" if whole is sheet else f"; of it the lower left {_size(sheet)}"
        self.drawing = Drawing(width, 0.0, title + corner)
        self.drawing.description = "; ".join(_spoken(snap) for snap in sheet.snaps)
        self.taken = Taken((1.0, -MARGIN, self.right + MARGIN - 1, self.high + MARGIN))
        self.keyed: list[str] = []
        self.led: list[tuple[str, Sides]] = []
        for draw in (self._pieces, self._lines, self._letters, self._numbers, self._key):
            draw()

    def _pieces(self) -> None:
        sheet, add = self.sheet, self.drawing.add
        long = self.right - MARGIN
        add(Lines("scrap", hatch(MARGIN, 0.0, long, self.high, 7), SCRAP))
        for offcut in sheet.offcuts:
            place = self._sides(offcut.x_mm, offcut.y_mm, offcut.length_mm, offcut.width_mm)
            self._panel("offcut", place, KEPT, f"{_plain(offcut.length_mm)} × {_plain(offcut.width_mm)}")
        for piece in sheet.pieces:
            place = self._sides(piece.x_mm, piece.y_mm, piece.length_mm, piece.width_mm)
            self._panel("part", place, piece.part, f"{_plain(piece.length_mm)} × {_plain(piece.width_mm)}")
        add(Box("sheet", MARGIN, 0.0, long, self.high, OUTLINE))

    def _sides(self, *sizes: object) -> Sides:
        x, y, long, high = (float(each) * self.unit for each in sizes)  # type: ignore[arg-type]
        return MARGIN + x, y, MARGIN + x + long, y + high

    def _panel(self, kind: str, place: Sides, name: str, size: str) -> None:
        """Draw a panel with its name and size in the middle, else its name alone, else a letter."""
        left, low, right, top = place
        pen, fill = (PART, 0.9) if kind == "part" else (None, 1.0)
        self.drawing.add(Box(kind, left, low, right - left, top - low, pen, fill))
        if kind == "part":
            self.taken.pieces.append(place)
        lines = _fitting([name, size], place) or _fitting([name], place)
        if lines:
            level = (low + top) / 2 + len(lines) * TEXT / 2 - TEXT + 2
            for number, text in enumerate(lines):
                self._word(Label((left + right) / 2, level - number * TEXT, text, SMALL, "middle"))
            return
        words = f"{name}, {size}"
        if words not in self.keyed:
            self.keyed.append(words)
        letter = letter_of(self.keyed.index(words))
        if right - left < text_width(letter, SMALL) + 2 * LETTER[0] or top - low < 2 * LETTER[1]:
            self.led.append((letter, place))
        else:
            at = (left + right) / 2, (low + top) / 2 - SMALL * 0.36
            self._word(Label(*at, letter, SMALL, "middle", bold=True))

    def _word(self, label: Label) -> None:
        half = text_width(label.text, label.size) / 2
        self.drawing.add(label)
        low, top = label.y - 0.1 * label.size, label.y + 0.75 * label.size
        self.taken.words.append((label.x - half, low, label.x + half, top))

    def _lines(self) -> None:
        for snap in self.sheet.snaps:
            line = self._line(snap)
            self.drawing.add(Lines("snap", (line,), SNAP))
            self.taken.lines.append(stretched(line))

    def _line(self, snap: Snap) -> Run:
        left, low, right, top = self._sides(*snap.panel)
        at = float(snap.at_mm) * self.unit
        return ((left + at, low), (left + at, top)) if snap.along == "width" else ((left, low + at), (right, low + at))

    def _letters(self) -> None:
        """Write the letters of pieces that are smaller than a letter beside them."""
        for letter, (left, low, right, top) in self.led:
            middle = (left + right) / 2, (low + top) / 2
            place = self.taken.beside(middle, letter)
            x, y = place.middle
            self.drawing.add(Lines("name leader", ((middle, (x, y)),), LEADER))
            self.drawing.add(Box("leader end", middle[0] - 1.5, middle[1] - 1.5, 3, 3, None, 0.0))
            self._text("letter", place, letter, None)

    def _numbers(self) -> None:
        """Write each snap's number where it has most room."""
        snaps = self.sheet.snaps
        places: dict[int, Place] = {}
        for at in sorted(range(len(snaps)), key=lambda at: _long(self._line(snaps[at]))):  # short ones have least room
            places[at] = self.taken.on_line(self._line(snaps[at]), str(snaps[at].number))
        for place in places.values():
            if place.leader:
                self.drawing.add(Lines("leader", (place.leader,), LEADER))
        for at, snap in enumerate(snaps):
            self._text("number", places[at], str(snap.number), PART)

    def _text(self, kind: str, place: Place, text: str, pen: Pen | None) -> None:
        left, low, right, top = place.box
        self.drawing.add(Box(kind, left, low, right - left, top - low, pen, 1.0))
        x, y = place.middle
        self.drawing.add(Label(x, y - NUMBER * 0.36, text, NUMBER, "middle", bold=True))

    def _key(self) -> None:
        """Write what the letters stand for below the sheet, and its title above."""
        drawing = self.drawing
        x, level = 2.0, -MARGIN - LINE
        for number, words in enumerate(self.keyed):
            entry = f"{letter_of(number)}: {words}"
            if x > 2.0 and x + text_width(entry, SMALL) > drawing.width - 2:
                x, level = 2.0, level - LINE
            lines = wrap(entry, drawing.width - 4, SMALL)
            for text in lines:
                drawing.add(Label(x, level, text, SMALL))
                level -= LINE
            level += LINE
            x += text_width(lines[-1], SMALL) + BETWEEN if len(lines) == 1 else drawing.width
        drawing.low = level - 4 if self.keyed else -MARGIN
        title = wrap(drawing.title, drawing.width - 4, TEXT)
        for number, text in enumerate(reversed(title)):
            drawing.add(Label(2.0, self.high + MARGIN + 4 + number * LINE, text, TEXT))
        drawing.height = self.high + MARGIN + 4 + len(title) * LINE - drawing.low


def _plain(length: object) -> str:
    return in_mm(length).removesuffix(" mm")


def _size(sheet: CutSheet) -> str:
    return f"{_plain(sheet.length_mm)} × {in_mm(sheet.width_mm)}"


def _spoken(snap: Snap) -> str:
    frees = f", frees {snap.frees_text}" if snap.frees else ""
    return f"snap {snap.number}: {in_mm(snap.at_mm)} from the {snap.from_edge}{frees}"


def _fitting(words: list[str], place: Sides) -> list[str]:
    """Return words in lines that a panel has room for, none of them parted; no lines where it has none."""
    long, high = place[2] - place[0] - 6, place[3] - place[1] - 4
    if any(text_width(word, SMALL) > long for each in words for word in each.split()):
        return []
    lines = [line for each in words for line in wrap(each, long, SMALL)]
    return lines if len(lines) * TEXT <= high else []


def _long(line: Run) -> float:
    (x1, y1), (x2, y2) = line
    return abs(x2 - x1) + abs(y2 - y1)

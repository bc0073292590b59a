"""A sheet with its parts, and the snaps that free them numbered in the order to make them."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import product
from math import atan2, cos, hypot, inf, pi, sin
from typing import TYPE_CHECKING

from modelmath.drawings.shapes import Box, Drawing, Label, Lines, Pen, Shape, hatch, text_width, wrap
from modelmath.drawings.sizes import in_mm

if TYPE_CHECKING:
    from modelmath.cutting.sheet_layout import CutSheet, Snap

TEXT, NUMBER, FOOT = 11.0, 10.0, 20.0
ROOMY, CLOSE = (2.0, 6.5), (0.8, 4.6)  # of a number's box: beside the number, and half its height
OUTLINE, SNAP, PART, SCRAP, LEADER = Pen(1.4), Pen(1.1, 0.0, (6, 3)), Pen(0.8), Pen(0.5, 0.55), Pen(0.5)
TALLEST = 0.9  # of the width
STEP = 7.0  # from one place for a number to the next
# What is worse than what, for the place of a number: over another number, over words, beside its line, over a line,
# in a close box.
OVER_NUMBER, OVER_WORDS, LED, OVER_LINE, CLOSER = 1000.0, 12.0, 8.0, 3.0, 2.0

Sides = tuple[float, float, float, float]
Run = tuple[tuple[float, float], tuple[float, float]]
Page = tuple[float, float]  # right and upper edge of the sheet


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
    labels = [shape for shape in drawing.shapes if isinstance(shape, Label)]
    page = (float(sheet.length_mm) * unit + 2, high + 2)
    drawing.add(*_numbered(sheet.snaps, unit, page, labels[1:]))
    return drawing


def _plain(length: object) -> str:
    return in_mm(length).removesuffix(" mm")


def _spoken(snap: Snap) -> str:
    frees = f", frees {snap.frees_text}" if snap.frees else ""
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


def _numbered(snaps: Sequence[Snap], unit: float, page: Page, words: Sequence[Label]) -> list[Shape]:
    """Return each snap's line right across its panel, and its number where it has most room."""
    lines = [_line(snap, unit) for snap in snaps]
    taken = _Taken([_around(label) for label in words], [_stretched(line) for line in lines], [], [])
    shapes: list[Shape] = [Lines("snap", (line,), SNAP) for line in lines]
    places: dict[int, _Place] = {}
    for at in sorted(range(len(snaps)), key=lambda at: _long(lines[at])):  # short lines leave least room
        places[at] = _best_place(lines[at], str(snaps[at].number), page, taken, at)
        taken.add(places[at])
    shapes += [Lines("leader", (each.leader,), LEADER) for each in places.values() if each.leader]
    for at, snap in enumerate(snaps):
        place = places[at]
        box = place.box
        x, y = (box[0] + box[2]) / 2, (box[1] + box[3]) / 2
        shapes += [
            Box("number", box[0], box[1], box[2] - box[0], box[3] - box[1], PART, 1.0),
            Label(x, y - NUMBER * 0.36, str(snap.number), NUMBER, "middle", bold=True),
        ]
    return shapes


def _line(snap: Snap, unit: float) -> Run:
    x, y, long, high = (float(each) * unit + (2 if at < 2 else 0) for at, each in enumerate(snap.panel))
    at = float(snap.at_mm) * unit
    return ((x + at, y), (x + at, y + high)) if snap.along == "width" else ((x, y + at), (x + long, y + at))


@dataclass
class _Taken:
    """What a number may lie over: words, lines and other numbers, each by its edges, and what leads to them."""

    words: list[Sides]
    lines: list[Sides]
    numbers: list[Sides]
    leaders: list[Run]

    def add(self, place: _Place) -> None:
        self.numbers.append(place.box)
        if place.leader:
            self.numbers += _along(place.leader)
            self.leaders.append(place.leader)

    def over(self, place: _Place, line: int) -> float:
        """Return how much is wrong with a place for the number of a line."""
        box, path = place.box, [place.box, *_along(place.leader)] if place.leader else [place.box]
        numbers = sum(_meet(each, known) for known in self.numbers for each in path)
        lines = sum(_meet(box, known) for at, known in enumerate(self.lines) if at != line)
        words = sum(_meet(box, known) for known in self.words)
        if place.leader:
            lines += sum(_cross(place.leader, known) for known in self.leaders)
        return OVER_NUMBER * numbers + OVER_WORDS * words + OVER_LINE * lines


@dataclass(frozen=True)
class _Place:
    """A place for a number: its box, the line that leads to it from its snap, and what speaks against it."""

    box: Sides
    leader: Run | None
    cost: float


def _best_place(line: Run, text: str, page: Page, taken: _Taken, at: int) -> _Place:
    best, least = None, inf
    for place in sorted(_places(line, text, page), key=lambda each: each.cost):
        if place.cost >= least:
            break
        cost = place.cost + taken.over(place, at)
        if cost < least:
            best, least = place, cost
    assert best is not None
    return best


def _places(line: Run, text: str, page: Page) -> Iterator[_Place]:
    """Yield places on a snap's line from its end on, in both boxes, then beside it with a leader."""
    (x1, y1), (x2, y2) = line
    long = _long(line)
    start = min(NUMBER + 3, long / 2)
    for room in (ROOMY, CLOSE):
        for step in range(max(1, int((long - 2 * start) / STEP) + 1)):
            share = (start + step * STEP) / long
            box = _box(x1 + (x2 - x1) * share, y1 + (y2 - y1) * share, text, room, page)
            yield _Place(box, None, (room == CLOSE) * CLOSER + step * 0.01)
    ends = ((line[1], 0.0), (line[0], pi))
    for ring, turn, (end, back) in product(range(2, 14), range(-4, 5), ends):
        angle = atan2(y2 - y1, x2 - x1) + back + turn * pi / 12
        box = _box(end[0] + ring * STEP * cos(angle), end[1] + ring * STEP * sin(angle), text, CLOSE, page)
        leader = (end, ((box[0] + box[2]) / 2, (box[1] + box[3]) / 2))
        yield _Place(box, leader, LED + ring * 0.1 + abs(turn) * 0.1)


def _box(x: float, y: float, text: str, room: tuple[float, float], page: Page) -> Sides:
    """Return the box of a number, moved as far as it takes to lie on the sheet."""
    half, high = text_width(text, NUMBER) / 2 + room[0], room[1]
    x, y = max(2 + half, min(x, page[0] - half)), max(2 + high, min(y, page[1] - high))
    return x - half, y - high, x + half, y + high


def _around(label: Label) -> Sides:
    half = text_width(label.text, label.size) / 2
    return label.x - half, label.y - 0.1 * label.size, label.x + half, label.y + 0.75 * label.size


def _long(line: Run) -> float:
    (x1, y1), (x2, y2) = line
    return hypot(x2 - x1, y2 - y1)


def _cross(one: Run, other: Run) -> bool:
    """Say whether two leaders cross."""
    return _parts(one, other) and _parts(other, one)


def _parts(line: Run, other: Run) -> bool:
    """Say whether the ends of another line lie on both sides of a line."""
    (x1, y1), (x2, y2) = line
    one, two = ((x2 - x1) * (y - y1) - (y2 - y1) * (x - x1) for x, y in other)
    return one * two < 0


def _stretched(line: Run) -> Sides:
    (x1, y1), (x2, y2) = line
    return min(x1, x2), min(y1, y2), max(x1, x2), max(y1, y2)


def _along(line: Run) -> list[Sides]:
    """Return points along a leader, each as a box without size."""
    (x1, y1), (x2, y2) = line
    places = [(x1 + (x2 - x1) * share / 8, y1 + (y2 - y1) * share / 8) for share in range(1, 8)]
    return [(x, y, x, y) for x, y in places]


def _meet(one: Sides, other: Sides) -> bool:
    return one[0] < other[2] and other[0] < one[2] and one[1] < other[3] and other[1] < one[3]

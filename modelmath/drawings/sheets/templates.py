"""True-size templates of all flat parts, over as many pages as they take, each page with its check bars."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from math import hypot
from typing import TYPE_CHECKING

from reportlab.lib.units import mm
from reportlab.platypus import Flowable, PageBreak

from modelmath.drawings.cutting.pieces import Drilled, FlatPiece, flat_pieces, notes_on
from modelmath.drawings.cutting.tiles import MARK_MM, OVERLAP_MM, Tile, circle_of, lines_in, tiles_of
from modelmath.drawings.figures.views.free_places import shared_out
from modelmath.drawings.shapes import Circle, Drawing, Label, Lines, Pen, Shape, plain, text_width, wrap
from modelmath.drawings.sheets.sketch import Sketch
from modelmath.drawings.sheets.style import BODY, PAGE, SECTION, STRONG, gap, height_of, words

if TYPE_CHECKING:
    from modelmath.job import Plan

CUT, HOLE, CROSS = Pen(0.25), Pen(0.1), Pen(0.07)
CENTRE = Pen(0.12, 0.25, (4.0, 0.8, 0.4, 0.8))
LEADER, SEAM, MARK = Pen(0.07, 0.4), Pen(0.12, 0.4, (1.0, 0.7)), Pen(0.18)
TEXT, LINE = 2.9, 3.8  # text height, 8.2 pt, and line distance
BEYOND = 2.5  # round a part, for its centre line
TAGS = 4.0  # above it, for the tags of its holes
CAPTION = 54.0  # least width of what stands below a part
APART = 7.0  # between parts
SPARE = 1.0  # of a page's height
INTRO = (
    "Each at true size, as it is cut before any sanding. Measure both bars at the foot of the page first. Cut round "
    "a template roughly, fix it to the sheet, prick the crosses of the holes through, and cut along its full lines."
)
TILED = "Divided over pages: cut each tile out, and lay one over the next until their crosses lie on one another."
TURNED = "turned a quarter to the left"


@dataclass(frozen=True)
class _Cell:
    """A part or a tile as it stands on a page."""

    drawing: Drawing

    @property
    def size(self) -> tuple[float, float]:
        return self.drawing.width, self.drawing.height


def templates_sheet(plan: Plan, width: float, height: float) -> list[Flowable]:
    """Build the templates; each page of them but the last ends with a page break. Empty where no part is flat.

    Parameters
    ----------
    plan : Plan
        The plan. [-]
    width, height : float
        Size of the page inside its margins and above its check bars. [pt]

    Returns
    -------
    list of Flowable
        The section. [-]

    References
    ----------
    `flat_pieces`.
    """
    pieces, notes = flat_pieces(plan), notes_on(plan)
    said = [words(note, STRONG) for note in notes]
    if not pieces:
        return [words("Templates", PAGE), *said] if said else []
    head = [words("Templates", PAGE), words(INTRO, BODY), *said, gap(3)]
    again: list[Flowable] = [words("Templates, continued", SECTION), gap(2)]
    rooms = [(width / mm, (height - height_of(each, width)) / mm - SPARE) for each in (head, again)]
    pages = _pages(pieces, (rooms[0][0], min(rooms)[1]), rooms)
    found: list[Flowable] = []
    for number, drawing in enumerate(pages):
        found += [PageBreak()] if number else []
        found += [*(again if number else head), Sketch(drawing, mm, true_size=True)]
    return found


def _pages(
    pieces: Sequence[FlatPiece], least: tuple[float, float], rooms: Sequence[tuple[float, float]]
) -> list[Drawing]:
    """Return a drawing for each page: whole parts in rows, the tallest first, then what is divided, a tile a page."""
    whole: list[_Cell] = []
    divided: list[Drawing] = []
    for piece in pieces:
        cell = next((each for each in _upright_or_turned(piece) if _fits(each, least)), None)
        if cell is None:
            divided += _tiled(piece, least)
        else:
            whole.append(cell)
    whole.sort(key=lambda cell: -cell.size[1])  # as many as fit: rows of like height; ties keep the parts' order
    return [*_in_pages(whole, rooms), *divided]


def _upright_or_turned(piece: FlatPiece) -> Iterator[_Cell]:
    yield _Cell(_drawn(piece))
    yield _Cell(_drawn(piece.on_its_side()))


def _fits(cell: _Cell, room: tuple[float, float]) -> bool:
    return cell.size[0] <= room[0] and cell.size[1] <= room[1]


def _in_pages(cells: Sequence[_Cell], rooms: Sequence[tuple[float, float]]) -> Iterator[Drawing]:
    """Yield pages of rows, each row as high as its first part."""
    page: list[tuple[float, float, _Cell]] = []
    left = down = row = 0.0
    first = True
    for cell in cells:
        width, height = rooms[0] if first else rooms[-1]
        if left and left + cell.size[0] > width:
            left, down, row = 0.0, down + row + APART, 0.0
        if page and down + cell.size[1] > height:
            yield _page(page)
            page, left, down, row, first = [], 0.0, 0.0, 0.0, False
        page.append((left, down, cell))
        left, row = left + cell.size[0] + APART, max(row, cell.size[1])
    if page:
        yield _page(page)


def _page(cells: Sequence[tuple[float, float, _Cell]]) -> Drawing:
    width = max(left + cell.size[0] for left, _, cell in cells)
    height = max(down + cell.size[1] for _, down, cell in cells)
    drawing = Drawing(width, height, "Templates at true size")
    for left, down, cell in cells:
        drawing.add(*(_moved(shape, left, height - down - cell.size[1]) for shape in cell.drawing.shapes))
    return drawing


def _moved(shape: Shape, x: float, y: float) -> Shape:
    if isinstance(shape, Lines):
        return Lines(shape.name, tuple(tuple((px + x, py + y) for px, py in run) for run in shape.runs), shape.pen)
    return replace(shape, x=shape.x + x, y=shape.y + y)


def _said(piece: FlatPiece, room: float) -> list[str]:
    lines = [piece.sizes, piece.seen, TURNED if piece.turned else "", _drills(piece)]
    return [line for each in lines if each for line in wrap(plain(each), room, TEXT)]


def _drills(piece: FlatPiece) -> str:
    """Return which holes each drill makes."""
    by_drill: dict[str, list[str]] = {}
    for hole in piece.holes:
        drill = hole.drill or f"{hole.diameter_mm:.2f} mm or a little over"
        by_drill.setdefault(drill, []).append(hole.tag or hole.passes)
    said = "; ".join(f"{drill} for {', '.join(tags)}" for drill, tags in by_drill.items())
    return f"drill {said}" if said else ""


def _drawn(piece: FlatPiece) -> Drawing:
    """Draw a whole part with its name below it and its holes' tags above."""
    room = max(piece.width_mm, CAPTION)
    names, said = wrap(plain(piece.title), room, TEXT), _said(piece, room)
    below = BEYOND + LINE * (len(names) + len(said))
    tagged = [hole for hole in piece.holes if hole.tag]
    step = max((text_width(hole.tag, TEXT) for hole in tagged), default=0.0) + 1.2
    widest = max(text_width(line, TEXT) for line in (*names, *said))
    width = max(piece.width_mm + 2 * BEYOND, widest, step * len(tagged))
    drawing = Drawing(width, piece.height_mm + below + BEYOND + (TAGS if tagged else 0.0), piece.title)
    x, y = BEYOND, below
    for loop in piece.loops:
        around = [(x + px, y + py) for px, py in loop]
        drawing.add(Lines("cut", ((*around, around[0]),), CUT))
    drawing.add(Lines("centre line", (tuple((x + px, y + py) for px, py in piece.centre_line),), CENTRE))
    for hole in piece.holes:
        cross = tuple(tuple((x + px, y + py) for px, py in line) for line in hole.cross)
        circle = Circle(f"hole {hole.tag}", x + hole.x_mm, y + hole.y_mm, hole.diameter_mm, HOLE)
        drawing.add(circle, Lines("cross", cross, CROSS))
    _tags(drawing, tagged, (x, y), y + piece.height_mm + BEYOND + 0.5, step)
    _caption(drawing, below, names, said)
    return drawing


def _caption(drawing: Drawing, below: float, names: Sequence[str], said: Sequence[str]) -> None:
    for number, text in enumerate((*names, *said), start=1):
        drawing.add(Label(0.0, below - BEYOND - LINE * number + 0.9, text, TEXT, bold=number <= len(names)))


def _tags(drawing: Drawing, holes: Sequence[Drilled], corner: tuple[float, float], level: float, step: float) -> None:
    """Put each hole's tag above the part, with a line to the hole."""
    found = sorted((corner[0] + hole.x_mm, corner[1] + hole.y_mm, hole.diameter_mm / 2, hole.tag) for hole in holes)
    if not found:
        return
    slots = shared_out([x for x, _, _, _ in found], step, step / 2, drawing.width - step / 2)
    for slot, (x, y, radius, tag) in zip(slots, found, strict=True):
        across, up = slot - x, level - 0.5 - y
        share = (radius + 0.5) / (hypot(across, up) or 1.0)
        leader = ((x + across * share, y + up * share), (slot, level - 0.5))
        drawing.add(Lines("leader", (leader,), LEADER), Label(slot, level, tag, TEXT, "middle", bold=True))


def _tiled(piece: FlatPiece, room: tuple[float, float]) -> Iterator[Drawing]:
    """Yield a page for each tile of a part that no page is large enough for."""
    below = LINE * (len(_said(piece, room[0])) + 6)  # its name, what tiles are for, where this one goes on
    tiles = tiles_of(piece, (room[0] - 2 * BEYOND, room[1] - below - 2 * BEYOND))
    for tile in tiles:
        yield _tile(piece, tile, room)


def _tile(piece: FlatPiece, tile: Tile, room: tuple[float, float]) -> Drawing:
    names = wrap(plain(f"{piece.title}. {tile.where}"), room[0], TEXT)
    said = [line for each in (TILED, _goes_on(tile)) for line in wrap(each, room[0], TEXT)] + _said(piece, room[0])
    below = BEYOND + LINE * (len(names) + len(said))
    drawing = Drawing(room[0], below + tile.height + BEYOND, f"{piece.title}, tile {tile.name}")
    x, y = BEYOND, below

    def shown(name: str, line: Sequence[tuple[float, float]], pen: Pen, closed: bool = False) -> None:
        runs = tuple(tuple((x + px, y + py) for px, py in run) for run in lines_in(tile, line, closed))
        drawing.add(*([Lines(name, runs, pen)] if runs else []))

    for seam in _seams(tile):
        drawing.add(Lines("seam", (tuple((x + px, y + py) for px, py in seam),), SEAM))
    for loop in piece.loops:
        shown("cut", loop, CUT, closed=True)
    shown("centre line", piece.centre_line, CENTRE)
    for hole in piece.holes:
        px, py, radius = hole.x_mm - tile.left, hole.y_mm - tile.low, hole.diameter_mm / 2
        if radius <= px <= tile.width - radius and radius <= py <= tile.height - radius:
            drawing.add(Circle(f"hole {hole.tag}", x + px, y + py, hole.diameter_mm, HOLE))
            drawing.add(*([Label(x + px + radius + 0.8, y + py + 0.8, hole.tag, TEXT, bold=True)] if hole.tag else []))
        else:
            shown(f"hole {hole.tag}", circle_of(hole.x_mm, hole.y_mm, radius), HOLE, closed=True)
        for half in hole.cross:
            shown("cross", half, CROSS)
    for px, py in tile.marks:
        ax, ay = x + px - tile.left, y + py - tile.low
        cross = (((ax - MARK_MM, ay), (ax + MARK_MM, ay)), ((ax, ay - MARK_MM), (ax, ay + MARK_MM)))
        drawing.add(Lines("alignment mark", cross, MARK))
    _caption(drawing, below, names, said)
    return drawing


def _seams(tile: Tile) -> Iterator[tuple[tuple[float, float], tuple[float, float]]]:
    """Yield the edges of a tile at which the part goes on."""
    wide, high = tile.width, tile.height
    if tile.column > 1:
        yield (0.0, 0.0), (0.0, high)
    if tile.column < tile.columns:
        yield (wide, 0.0), (wide, high)
    if tile.row > 1:
        yield (0.0, high), (wide, high)
    if tile.row < tile.rows:
        yield (0.0, 0.0), (wide, 0.0)


def _goes_on(tile: Tile) -> str:
    """Say on which tiles a part goes on, and how much they share."""
    beside = {
        "to the left": (tile.row, tile.column - 1),
        "to the right": (tile.row, tile.column + 1),
        "above": (tile.row - 1, tile.column),
        "below": (tile.row + 1, tile.column),
    }
    found = [
        f"{where} on {chr(ord('A') + row - 1)}{column}"
        for where, (row, column) in beside.items()
        if 1 <= row <= tile.rows and 1 <= column <= tile.columns
    ]
    return f"It goes on {', '.join(found)}; each two share {OVERLAP_MM:.0f} mm, up to the dashed line."

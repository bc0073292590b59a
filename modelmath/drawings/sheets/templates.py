"""True-size templates of all flat parts, over as many pages as they take, each page with its check bars."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from typing import TYPE_CHECKING

from reportlab.lib.units import mm
from reportlab.platypus import Flowable, PageBreak

from modelmath.drawings.cutting.pieces import FlatPiece, flat_pieces, notes_on
from modelmath.drawings.shapes import Drawing, Lines, Shape
from modelmath.drawings.sheets.minding import cautioned
from modelmath.drawings.sheets.sketch import Sketch
from modelmath.drawings.sheets.style import BODY, PAGE, SECTION, STRONG, gap, height_of, words
from modelmath.drawings.sheets.template_drawings import piece_drawing, tile_drawings

if TYPE_CHECKING:
    from modelmath.job import Plan

APART = 7.0  # between parts
SPARE = 1.0  # of a page's height
INTRO = (
    "Each at true size, as it is cut before any sanding. Measure both bars at the foot of the page first. Cut round "
    "a template roughly, fix it to the sheet, prick the crosses of the holes through, and cut along its full lines."
)


@dataclass(frozen=True)
class _Cell:
    """A part or a tile as it stands on a page."""

    drawing: Drawing

    @property
    def size(self) -> tuple[float, float]:
        return self.drawing.width, self.drawing.height

    def fits(self, room: tuple[float, float]) -> bool:
        return self.size[0] <= room[0] and self.size[1] <= room[1]


@dataclass
class _Column:
    """Parts one below the other, none wider than the first."""

    left: float
    cells: list[tuple[float, _Cell]]  # each with how far down it stands

    @property
    def width(self) -> float:
        return self.cells[0][1].size[0]

    @property
    def height(self) -> float:
        down, cell = self.cells[-1]
        return down + cell.size[1]


@dataclass
class _Row:
    """Columns side by side, none higher than the first part."""

    down: float
    columns: list[_Column]

    @property
    def right(self) -> float:
        return self.columns[-1].left + self.columns[-1].width

    @property
    def height(self) -> float:
        return self.columns[0].cells[0][1].size[1]

    def takes(self, cell: _Cell, width: float) -> bool:
        """Put a part beside the others, or below a lower one, if there is room for it."""
        if self.right + APART + cell.size[0] <= width and cell.size[1] <= self.height:
            self.columns.append(_Column(self.right + APART, [(0.0, cell)]))
            return True
        for column in self.columns:
            down = column.height + APART
            if cell.size[0] <= column.width and down + cell.size[1] <= self.height:
                column.cells.append((down, cell))
                return True
        return False


@dataclass
class _Page:
    """Rows one below the other."""

    room: tuple[float, float]
    rows: list[_Row] = field(default_factory=list)

    def takes(self, cell: _Cell) -> bool:
        """Put a part in if there is room for it."""
        if any(row.takes(cell, self.room[0]) for row in self.rows):
            return True
        if self._down() + cell.size[1] > self.room[1] or cell.size[0] > self.room[0]:
            return False
        self.put(cell)
        return True

    def put(self, cell: _Cell) -> None:
        """Begin a row with a part."""
        self.rows.append(_Row(self._down(), [_Column(0.0, [(0.0, cell)])]))

    def _down(self) -> float:
        return self.rows[-1].down + self.rows[-1].height + APART if self.rows else 0.0

    def drawing(self) -> Drawing:
        """Draw all that is on it."""
        width = max(row.right for row in self.rows)
        height = self.rows[-1].down + self.rows[-1].height
        drawing = Drawing(width, height, "Templates at true size")
        for row in self.rows:
            for column in row.columns:
                for down, cell in column.cells:
                    up = height - row.down - down - cell.size[1]
                    drawing.add(*(_moved(shape, column.left, up) for shape in cell.drawing.shapes))
        return drawing


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
    drills = ("small drills",) if any(piece.holes for piece in pieces) else ()
    head = [words("Templates", PAGE), words(INTRO, BODY), *said, *cautioned("knife", *drills), gap(3)]
    again: list[Flowable] = [words("Templates, continued", SECTION), gap(2)]
    rooms = [(width / mm, (height - height_of(each, width)) / mm - SPARE) for each in (head, again)]
    pages = _pages(pieces, rooms)
    found: list[Flowable] = []
    for number, drawing in enumerate(pages):
        found += [PageBreak()] if number else []
        found += [*(again if number else head), Sketch(drawing, mm, true_size=True)]
    return found


def _pages(pieces: Sequence[FlatPiece], rooms: Sequence[tuple[float, float]]) -> list[Drawing]:
    """Return a drawing for each page; a part that only the pages after the first have room for goes on one of them."""
    pages: list[_Page] = []
    for largest in (rooms[-1], (rooms[0][0], min(rooms)[1])):
        cells = [cell for piece in pieces for cell in _cells(piece, largest)]
        pages = _in_pages(cells, rooms)
        if pages[0].rows:
            break
    return [page.drawing() for page in pages]


def _cells(piece: FlatPiece, room: tuple[float, float]) -> Sequence[_Cell]:
    """Return a part whole, upright or turned; divided into the fewest tiles where no page is large enough for it."""
    ways = (piece, piece.on_its_side())
    for way in ways:
        cell = _Cell(piece_drawing(way))
        if cell.fits(room):
            return [cell]
    return [_Cell(each) for each in min((tile_drawings(way, room) for way in ways), key=len)]


def _in_pages(cells: Sequence[_Cell], rooms: Sequence[tuple[float, float]]) -> list[_Page]:
    """Share parts out over pages: the tallest first, each in the first row with room for it, else in a new row."""
    pages = [_Page(rooms[0])]
    for cell in sorted(cells, key=lambda cell: -cell.size[1]):  # ties keep the parts' order
        if not any(page.takes(cell) for page in pages):
            pages.append(_Page(rooms[-1]))
            pages[-1].put(cell)
    return pages


def _moved(shape: Shape, x: float, y: float) -> Shape:
    if isinstance(shape, Lines):
        return Lines(shape.name, tuple(tuple((px + x, py + y) for px, py in run) for run in shape.runs), shape.pen)
    return replace(shape, x=shape.x + x, y=shape.y + y)

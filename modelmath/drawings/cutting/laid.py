"""All flat parts of a plan side by side, sorted into what is cut, what is drilled and what is only scored."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from modelmath.drawings.cutting.pieces import FlatPiece, flat_pieces, in_rows, notes_on
from modelmath.drawings.shapes import Point, plain, text_width, wrap
from modelmath.errors import NotYetKnown

if TYPE_CHECKING:
    from modelmath.job import Plan

GAP_MM = 8.0  # between parts, centre lines included
EDGE_MM = 6.0  # round all of them
ROW_MM = 280.0  # a row of parts: about a sheet of A4 across
SAID_MM = 50.0  # width of what stands below a narrow part
NOTE_MM = 120.0  # width of what is said about what is not drawn
TEXT_MM = 2.5  # text height
LINE_MM = 4.0  # from one line of text to the next
LAYERS = {
    "cut": "cut along these lines",
    "drill": "drill these holes",
    "score": "score lightly or leave out: centre lines, crosses of holes, names",
}


@dataclass(frozen=True)
class Text:
    """A line of text, from its lower left. [mm]"""

    x: float
    y: float
    text: str


@dataclass(frozen=True)
class Round:
    """A circle by its middle and its diameter. [mm]"""

    x: float
    y: float
    diameter: float


@dataclass(frozen=True)
class CuttingSheet:
    """A drawing to cut and drill by; y upwards from its lower left corner.

    Attributes
    ----------
    name : str
        The job's name. [-]
    width_mm, height_mm : float
        Its size. [mm]
    cut : tuple of closed runs
        Borders and openings; the first corner is not repeated. [mm]
    drill : tuple of Round
        Holes. [mm]
    score : tuple of lines
        Centre lines, and the crosses of holes. [mm]
    texts : tuple of Text
        Names and sizes, on the layer of what is scored. [mm]
    """

    name: str
    width_mm: float
    height_mm: float
    cut: tuple[tuple[Point, ...], ...]
    drill: tuple[Round, ...]
    score: tuple[tuple[Point, Point], ...]
    texts: tuple[Text, ...]


def cutting_sheet(plan: Plan) -> CuttingSheet:
    """Lay the flat parts of a plan side by side, each once, with its name and sizes below.

    The lines are where the part ends: what a blade or a beam takes away is not allowed for.

    Parameters
    ----------
    plan : Plan
        The plan. [-]

    Returns
    -------
    CuttingSheet
        The drawing. [mm]

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
    The plan's own sizes.
    """
    pieces = flat_pieces(plan)
    if not pieces:
        raise NotYetKnown("The drawing of flat parts", "the inside width of the shell")
    said = [_said(piece) for piece in pieces]
    boxes = [
        (max(piece.width_mm, *(text_width(line, TEXT_MM) for line in lines)), piece.height_mm + len(lines) * LINE_MM)
        for piece, lines in zip(pieces, said, strict=True)
    ]
    corners, (wide, high) = in_rows(boxes, ROW_MM, GAP_MM)
    notes = [line for note in notes_on(plan) for line in wrap(plain(note), NOTE_MM, TEXT_MM)]
    wide, below = max(wide, NOTE_MM if notes else 0.0), len(notes) * LINE_MM + (GAP_MM if notes else 0.0)
    width, height = wide + 2 * EDGE_MM, high + below + 2 * EDGE_MM
    cut: list[tuple[Point, ...]] = []
    drill: list[Round] = []
    score: list[tuple[Point, Point]] = []
    texts: list[Text] = []
    for piece, lines, (left, down) in zip(pieces, said, corners, strict=True):
        x, y = left + EDGE_MM, height - EDGE_MM - down - piece.height_mm
        cut += [tuple((x + px, y + py) for px, py in loop) for loop in piece.loops]
        drill += [Round(x + hole.x_mm, y + hole.y_mm, hole.diameter_mm) for hole in piece.holes]
        marks = (piece.centre_line, *(line for hole in piece.holes for line in hole.cross))
        score += [((x + x1, y + y1), (x + x2, y + y2)) for (x1, y1), (x2, y2) in marks]
        texts += [Text(x, y - LINE_MM * number - 0.5, line) for number, line in enumerate(lines, start=1)]
    texts += [Text(EDGE_MM, EDGE_MM + LINE_MM * number, note) for number, note in enumerate(reversed(notes))]
    return CuttingSheet(plain(plan.job.name), width, height, tuple(cut), tuple(drill), tuple(score), tuple(texts))


def _said(piece: FlatPiece) -> list[str]:
    """Return what stands below a part."""
    room = max(piece.width_mm, SAID_MM)
    return [
        line for each in (piece.title, piece.sizes, piece.seen) if each for line in wrap(plain(each), room, TEXT_MM)
    ]

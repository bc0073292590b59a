"""A flat part that is larger than a page, divided over tiles that overlap; its lines as far as a tile holds them."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise
from math import ceil, cos, pi, sin

from modelmath.drawings.cutting.pieces import FlatPiece
from modelmath.drawings.shapes import Point

OVERLAP_MM = 12.0  # two tiles share this much, with a mark in it
MARK_MM = 3.0  # half of an alignment mark
NOTHING_MM = 1e-6  # by so little the last tile's edge may miss the part's own, which it then shows all the same
ROUND_STEPS = 96  # of a circle that a tile's edge cuts

Segment = tuple[Point, Point]


@dataclass(frozen=True)
class Tile:
    """One page's share of a part.

    Attributes
    ----------
    row, rows : int
        Which row it is in, the first uppermost, and how many there are. [-]
    column, columns : int
        Which place in the row, the first leftmost, and how many there are. [-]
    left, low, width, height : float
        What it shows of the part, from the part's left and lower edge. [mm]
    marks : tuple of points
        Alignment marks on it, in the part's own measures: tiles that meet have the same. [mm]
    """

    row: int
    rows: int
    column: int
    columns: int
    left: float
    low: float
    width: float
    height: float
    marks: tuple[Point, ...]

    @property
    def name(self) -> str:
        """Its row's letter, and its place in the row, such as ``B2``. [-]"""
        return f"{chr(ord('A') + self.row - 1)}{self.column}"

    @property
    def where(self) -> str:
        """Its place in words. [-]"""
        return f"row {self.row} of {self.rows}, column {self.column} of {self.columns}"

    @property
    def shows(self) -> str:
        """What it shows of the part as it lies, from its left and lower edge, in words. [mm]"""
        across = f"{self.left:.2f} to {self.left + self.width:.2f} mm from the left edge"
        return (
            f"shows, as it lies here, {across}, {self.low:.2f} to {self.low + self.height:.2f} mm from the lower edge"
        )


def tiles_of(piece: FlatPiece, room: tuple[float, float]) -> tuple[Tile, ...]:
    """Divide a part over tiles no larger than a room; tiles that meet overlap.

    Parameters
    ----------
    piece : FlatPiece
        The part. [mm]
    room : tuple of float
        Width and height of a page for it; each more than twice the overlap. [mm]

    Returns
    -------
    tuple of Tile
        Row by row from the top; a single one where the part is no larger than the room. [mm]

    References
    ----------
    None needed.
    """
    across, up = _spans(piece.width_mm, room[0]), _spans(piece.height_mm, room[1])
    rows, columns = len(up), len(across)
    seams_x = [(one[0] + one[1] + other[0]) / 2 for one, other in pairwise(across)]
    seams_y = [(one[0] + one[1] + other[0]) / 2 for one, other in pairwise(up)]
    marks = tuple(_marks(seams_x, seams_y, across, up))
    found = []
    for row, (low, high) in enumerate(reversed(up), start=1):
        for column, (left, wide) in enumerate(across, start=1):
            inside = tuple((x, y) for x, y in marks if left <= x <= left + wide and low <= y <= low + high)
            found.append(Tile(row, rows, column, columns, left, low, wide, high, inside))
    return tuple(found)


def _spans(size: float, room: float) -> list[tuple[float, float]]:
    """Return start and length of equal spans that cover a size and overlap."""
    if size <= room:
        return [(0.0, size)]
    count = ceil((size - OVERLAP_MM) / (room - OVERLAP_MM))
    length = (size + (count - 1) * OVERLAP_MM) / count
    return [(number * (length - OVERLAP_MM), length) for number in range(count)]


def _marks(
    seams_x: Sequence[float], seams_y: Sequence[float], across: Sequence[Point], up: Sequence[Point]
) -> Iterator[Point]:
    """Yield two marks in the middle of the overlap of each two tiles that meet."""
    for x in seams_x:
        for low, high in up:
            yield from ((x, low + share * high) for share in (0.25, 0.75))
    for y in seams_y:
        for left, wide in across:
            yield from ((left + share * wide, y) for share in (0.25, 0.75))


def lines_in(tile: Tile, loop: Sequence[Point], closed: bool = True) -> tuple[tuple[Point, ...], ...]:
    """Return what a tile shows of a line, from the tile's own left and lower edge.

    Parameters
    ----------
    tile : Tile
        The tile. [mm]
    loop : sequence of points
        The line's corners, in the part's own measures. [mm]
    closed : bool
        Whether it goes back to its first corner. [-]

    Returns
    -------
    tuple of runs
        Its pieces, each through its points. [mm]

    References
    ----------
    Liang and Barsky, A new concept and method for line clipping, ACM Transactions on Graphics 3 (1984).
    """
    points = [(x - tile.left, y - tile.low) for x, y in (*loop, *loop[: int(closed)])]
    runs: list[list[Point]] = []
    for start, end in pairwise(points):
        kept = _clipped(start, end, tile.width, tile.height)
        if kept is None:
            continue
        if runs and runs[-1][-1] == kept[0]:
            runs[-1].append(kept[1])
        else:
            runs.append(list(kept))
    if len(runs) > 1 and runs[-1][-1] == runs[0][0]:
        runs[0] = runs.pop()[:-1] + runs[0]
    return tuple(tuple(run) for run in runs)


def _clipped(start: Point, end: Point, width: float, height: float) -> Segment | None:
    """Return the part of a line inside a rectangle at 0; None where there is none."""
    along = (end[0] - start[0], end[1] - start[1])
    first, last = 0.0, 1.0
    for run, from_low, to_high in ((along[0], start[0], width - start[0]), (along[1], start[1], height - start[1])):
        if abs(run) < NOTHING_MM:
            if min(from_low, to_high) < -NOTHING_MM:
                return None
            continue
        enter, leave = sorted((-from_low / run, to_high / run))
        first, last = max(first, enter), min(last, leave)
    if first >= last:
        return None

    def at(share: float) -> Point:
        return start[0] + share * along[0], start[1] + share * along[1]

    return start if first == 0 else at(first), end if last == 1 else at(last)


def circle_of(x: float, y: float, radius: float) -> tuple[Point, ...]:
    """Return a circle as a line, for a tile whose edge cuts it.

    Parameters
    ----------
    x, y, radius : float
        Its middle, and half its diameter. [mm]

    Returns
    -------
    tuple of points
        Corners on the circle. [mm]

    References
    ----------
    None needed.
    """
    turns = (2 * pi * step / ROUND_STEPS for step in range(ROUND_STEPS))
    return tuple((x + radius * cos(turn), y + radius * sin(turn)) for turn in turns)

"""A template as drawn: a flat part whole, or divided into tiles, with its name, its sizes and its drills below."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from math import hypot

from modelmath.drawings.cutting.pieces import Drilled, FlatPiece
from modelmath.drawings.cutting.tiles import MARK_MM, OVERLAP_MM, Tile, circle_of, lines_in, tiles_of
from modelmath.drawings.figures.views.free_places import shared_out
from modelmath.drawings.shapes import Circle, Drawing, Label, Lines, Pen, Shape, plain, text_width, wrap

CUT, HOLE, CROSS = Pen(0.25), Pen(0.1), Pen(0.07)
CENTRE = Pen(0.12, 0.25, (4.0, 0.8, 0.4, 0.8))
LEADER, SEAM, MARK = Pen(0.07, 0.4), Pen(0.12, 0.4, (1.0, 0.7)), Pen(0.18)
TEXT, LINE = 2.9, 3.8  # text height, 8.2 pt, and line distance
BEYOND = 2.5  # round a part, for its centre line
TAGS = 4.0  # above it, for the tags of its holes
CAPTION, TILE_CAPTION = 54.0, 84.0  # least width of what stands below a part, and below a tile
FEWEST, LEAST = 4, 3 * OVERLAP_MM  # lines below a tile, and the least height of one
TURNED = "turned a quarter to the left"
JOIN = "Cut its tiles out, lay them large cross on large cross, and measure the whole before cutting."


def piece_drawing(piece: FlatPiece) -> Drawing:
    """Draw a whole part with its name below it and its holes' tags above.

    Parameters
    ----------
    piece : FlatPiece
        The part. [mm]

    Returns
    -------
    Drawing
        At true size. [mm]

    References
    ----------
    None needed.
    """
    room = max(piece.width_mm, CAPTION)
    names, said = wrap(plain(piece.title), room, TEXT), _lines((piece.sizes, *_seen(piece), _drills(piece.holes)), room)
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


def _lines(texts: Sequence[str], room: float) -> list[str]:
    return [line for each in texts if each for line in wrap(plain(each), room, TEXT)]


def _seen(piece: FlatPiece) -> tuple[str, str]:
    return piece.seen, TURNED if piece.turned else ""


def _drills(holes: Sequence[Drilled]) -> str:
    """Return which holes each drill makes."""
    by_drill: dict[str, list[str]] = {}
    for hole in holes:
        drill = hole.drill or f"{hole.diameter_mm:.2f} mm or a little over"
        by_drill.setdefault(drill, []).append(hole.tag or hole.passes)
    said = "; ".join(f"{drill} for {', '.join(tags)}" for drill, tags in by_drill.items())
    return f"drill {said}" if said else ""


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


def tile_drawings(piece: FlatPiece, room: tuple[float, float]) -> list[Drawing]:
    """Draw a part that no page is large enough for as tiles, each with its caption no larger than a room.

    Parameters
    ----------
    piece : FlatPiece
        The part. [mm]
    room : tuple of float
        Width and height of a page for it. [mm]

    Returns
    -------
    list of Drawing
        Row by row from the top, at true size. [mm]

    References
    ----------
    `tiles_of`.
    """
    wide, lines, found = room[0] - 2 * BEYOND, FEWEST, []
    while True:
        high = room[1] - LINE * lines - 2 * BEYOND
        found = [_tile(piece, tile) for tile in tiles_of(piece, (wide, max(high, LEAST)))]
        if high <= LEAST or all(each.height <= room[1] for each in found):
            return found
        lines += 1  # the smaller tile may have other holes, so its caption is made anew


def _tile(piece: FlatPiece, tile: Tile) -> Drawing:
    room = max(tile.width + 2 * BEYOND, TILE_CAPTION)
    names = wrap(plain(f"{piece.title}, tile {tile.name}: {tile.where}"), room, TEXT)
    drills = _drills([hole for hole in piece.holes if _on(tile, hole)])
    about = "; ".join(each for each in (f"whole {piece.sizes}", *_seen(piece), drills) if each)
    said = _lines((f"{about}; {tile.shows}", f"{_goes_on(tile)} {JOIN}"), room)
    below = BEYOND + LINE * (len(names) + len(said))
    drawing = Drawing(room, below + tile.height + BEYOND, f"{piece.title}, tile {tile.name}")
    x, y = BEYOND, below
    for seam in _seams(tile):
        drawing.add(Lines("seam", (tuple((x + px, y + py) for px, py in seam),), SEAM))
    for name, line, pen, closed in (
        *(("cut", loop, CUT, True) for loop in piece.loops),
        ("centre line", piece.centre_line, CENTRE, False),
        *(("cross", half, CROSS, False) for hole in piece.holes for half in hole.cross),
    ):
        runs = tuple(tuple((x + px, y + py) for px, py in run) for run in lines_in(tile, line, closed))
        drawing.add(*([Lines(name, runs, pen)] if runs else []))
    for hole in piece.holes:
        drawing.add(*_hole(tile, hole, (x, y)))
    for px, py in tile.marks:
        ax, ay = x + px - tile.left, y + py - tile.low
        cross = (((ax - MARK_MM, ay), (ax + MARK_MM, ay)), ((ax, ay - MARK_MM), (ax, ay + MARK_MM)))
        drawing.add(Lines("alignment mark", cross, MARK))
    _caption(drawing, below, names, said)
    return drawing


def _on(tile: Tile, hole: Drilled) -> bool:
    """Whether a tile shows any of a hole."""
    return bool(lines_in(tile, circle_of(hole.x_mm, hole.y_mm, hole.diameter_mm / 2)))


def _hole(tile: Tile, hole: Drilled, corner: tuple[float, float]) -> Iterator[Shape]:
    """Yield a hole as far as a tile shows it, and its tag where its middle is on it."""
    radius, (x, y) = hole.diameter_mm / 2, (hole.x_mm - tile.left, hole.y_mm - tile.low)
    if radius <= x <= tile.width - radius and radius <= y <= tile.height - radius:
        yield Circle(f"hole {hole.tag}", corner[0] + x, corner[1] + y, hole.diameter_mm, HOLE)
    else:
        runs = lines_in(tile, circle_of(x + tile.left, y + tile.low, radius))
        if runs:
            moved = tuple(tuple((corner[0] + px, corner[1] + py) for px, py in run) for run in runs)
            yield Lines(f"hole {hole.tag}", moved, HOLE)
    if hole.tag and 0 <= x <= tile.width and 0 <= y <= tile.height:
        over = x + radius + 0.8 + text_width(hole.tag, TEXT) > tile.width  # then it stands on the other side
        place = x - radius - 0.8 if over else x + radius + 0.8
        yield Label(corner[0] + place, corner[1] + y + 0.8, hole.tag, TEXT, "end" if over else "start", bold=True)


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
    return f"Goes on {', '.join(found)}; each two share {OVERLAP_MM:.0f} mm, up to the dashed line."

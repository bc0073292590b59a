"""Templates larger than a page: their tiles as another library reads them from the PDF, put together again."""

from __future__ import annotations

import re
from dataclasses import dataclass
from functools import cache
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from sample_jobs import DEMOS
from shapely.affinity import translate
from shapely.geometry import LineString, MultiLineString, box
from shapely.ops import unary_union
from sheets import least, opened
from true_size import MM, bars_of

from modelmath.drawings.cutting.pieces import Drilled, FlatPiece, flat_pieces
from modelmath.drawings.cutting.tiles import OVERLAP_MM, lines_in, tiles_of
from modelmath.drawings.sheets import templates
from modelmath.drawings.sheets.paper import bind, frame_size
from modelmath.drawings.sheets.templates import templates_sheet
from modelmath.job import plan as plan_of
from modelmath.job.rescaled.taking_over import to_scale

ROOMS = st.tuples(st.floats(40, 300), st.floats(40, 300))
SIZES = st.tuples(st.floats(5, 900), st.floats(5, 900))
PLACES = st.integers(-50_000, 950_000).map(lambda number: number / 1000)
CLOSE = 0.05  # mm: finer than a knife follows a line
CUT, HOLE, SEAM, MARK = 0.25, 0.1, 0.12, 0.18  # line widths, mm
SEAM_GREY = (0.4, 0.4, 0.4)  # centre lines are as wide, and darker
NUMBER = r"([\d.]+)"
TITLE = re.compile(r"^(?:\d+ × )?(.+), tile ([A-Z])(\d+): row (\d+) of (\d+), column (\d+) of (\d+)")
SHOWS = re.compile(
    f"lies here, {NUMBER} to {NUMBER} mm from the left edge, {NUMBER} to {NUMBER} mm from the lower edge"
)
# A railmotor and a gas-electric car in large scales: floors and walls with openings, arches and holes over many tiles.
LARGE = [("railmotor-oo", "I"), ("railmotor-oo", "V"), ("gas-electric-o", "VII")]


@dataclass(frozen=True)
class Read:
    """A tile as its page shows it; lines from its own left and lower edge. [mm]"""

    part: str
    name: str
    row: int
    rows: int
    column: int
    columns: int
    said: str
    shows: tuple[float, float, float, float]
    size: tuple[float, float]
    lines: dict[float, list]

    @property
    def at(self):
        """Where it lies on the part: what its page states."""
        return self.shows[0], self.shows[2]

    def on_part(self, width):
        """Return the lines of a width where they lie on the part, by what the page states."""
        return [[(x + self.at[0], y + self.at[1]) for x, y in line] for line in self.lines[width]]

    @property
    def marks(self):
        """The middles of the crosses that tiles are laid over one another by, where they lie on the part."""
        level = [line for line in self.on_part(MARK) if abs(line[0][1] - line[-1][1]) < 0.01]
        return [((line[0][0] + line[-1][0]) / 2, line[0][1]) for line in level]


def rectangle(width, height, holes=()):
    corners = ((0.0, 0.0), (width, 0.0), (width, height), (0.0, height))
    return FlatPiece("long plate", 1, width, height, (corners,), tuple(holes), "", width / 2)


def tiles_on(page):
    """Return the tiles of a page: each caption, and what is drawn straight above it."""
    lines = page.extract_words(keep_blank_chars=True, x_tolerance=3)
    return [read(page, lines, line) for line in lines if re.search(r", tile [A-Z]\d+:", line["text"])]


def read(page, lines, title):
    below = [each for each in lines if abs(each["x0"] - title["x0"]) < 1 and each["top"] > title["top"]]
    caption = [title["text"]]
    for one, other in pairwise([title, *sorted(below, key=lambda each: each["top"])]):
        if other["top"] - one["top"] > 13:  # lines stand 10.8 pt apart
            break
        caption.append(other["text"])
    said = " ".join(" ".join(caption).split())
    part, row_name, column_name, *places = TITLE.match(said).groups()
    shows = tuple(float(each) for each in SHOWS.search(said).groups())
    left, foot = title["x0"] / MM, (page.height - title["top"]) / MM
    area = box(left - 1, foot, left + shows[1] - shows[0] + 6, foot + shows[3] - shows[2] + 6)
    found = {
        width: [line for line in drawn(page, width) if area.covers(LineString(line))] for width in (CUT, HOLE, MARK)
    }
    edges = [*found[CUT], *(line for line in drawn(page, SEAM, SEAM_GREY) if area.covers(LineString(line)))]
    x, y, right, top = MultiLineString(edges).bounds
    moved = {width: [[(px - x, py - y) for px, py in line] for line in found[width]] for width in found}
    return Read(part, row_name + column_name, *map(int, places), said, shows, (right - x, top - y), moved)


def drawn(page, width, grey=None):
    """Return the lines of a page that are of a width, in mm from its lower left corner."""
    found = []
    for each in [*page.lines, *page.curves, *page.rects]:
        if abs(each["linewidth"] / MM - width) < 1e-3 and (grey is None or each["stroking_color"] == grey):
            corners = [
                *each["pts"],
                *(each["pts"][:1] if each["object_type"] == "rect" else []),
            ]  # read without its last
            found.append([(x / MM, (page.height - y) / MM) for x, y in corners])
    return found


def pages_of(plan, paper="A4"):
    return opened(bind(templates_sheet(plan, *frame_size(paper, bars=True)), paper, plan.job.name)).pages


def by_part(pages):
    found = {}
    for page in pages:
        for tile in tiles_on(page):
            found.setdefault(tile.part, []).append(tile)
    return found


def assert_joined(tiles):
    """Tiles of a part have the size they state, share their overlap, and their marks lie on one another."""
    assert len({tile.name for tile in tiles}) == len(tiles) == tiles[0].rows * tiles[0].columns
    at = {(tile.row, tile.column): tile for tile in tiles}
    for (row, column), tile in at.items():
        left, right, low, high = tile.shows
        assert tile.name == f"{'ABCDEFGHIJ'[row - 1]}{column}"
        assert tile.size == pytest.approx((right - left, high - low), abs=CLOSE)
        for other, shared in (
            (at.get((row, column + 1)), lambda other, right=right: right - other.shows[0]),
            (at.get((row + 1, column)), lambda other, low=low: other.shows[3] - low),
        ):
            if other is not None:
                assert shared(other) == pytest.approx(OVERLAP_MM, abs=0.011)
                common = [one for one in tile.marks for two in other.marks if one == pytest.approx(two, abs=CLOSE)]
                assert len(common) >= 2
                assert f"on {other.name}" in tile.said
                assert f"on {tile.name}" in other.said


def assert_cover(tiles, piece):
    """All tiles together show the part's borders and openings, and nothing else."""
    shown = unary_union([LineString(line) for tile in tiles for line in tile.on_part(CUT)])
    wanted = unary_union([LineString([*loop, loop[0]]) for loop in piece.loops])
    assert shown.buffer(CLOSE).covers(wanted)
    assert wanted.buffer(CLOSE).covers(shown)


def assert_drilled(tiles, piece):
    """Each hole is whole on one tile at least, where it belongs; what is shown of it elsewhere is there too."""
    holes = [line for tile in tiles for line in tile.on_part(HOLE)]
    for hole in piece.holes:
        around = (hole.x_mm - hole.diameter_mm / 2, hole.y_mm - hole.diameter_mm / 2)
        wanted = (*around, around[0] + hole.diameter_mm, around[1] + hole.diameter_mm)
        assert any(LineString(line).bounds == pytest.approx(wanted, abs=CLOSE) for line in holes)
        assert any(f"for {hole.tag}" in tile.said or f", {hole.tag}" in tile.said for tile in tiles)
    where = unary_union([box(h.x_mm, h.y_mm, h.x_mm, h.y_mm).buffer(h.diameter_mm / 2 + CLOSE) for h in piece.holes])
    assert all(where.covers(LineString(line)) for line in holes)


@cache
def large(name, scale):
    return plan_of(to_scale(DEMOS[name], scale))


@pytest.mark.parametrize(("name", "scale"), LARGE)
def test_large_models_are_divided_over_pages_that_give_the_parts_again(name, scale, paper):
    plan = large(name, scale)
    pages = pages_of(plan, paper)
    for page in pages:
        assert bars_of(page) == [50.0, 50.8]  # to 0.02 mm
        assert "Measure this before cutting" in page.extract_text()
    found = by_part(pages)
    pieces = {piece.name: piece for piece in flat_pieces(plan)}
    assert {"floor plate, rear"} <= set(found) < set(pieces)
    for part, tiles in found.items():
        piece = pieces[part].on_its_side() if "turned a quarter to the left" in tiles[0].said else pieces[part]
        assert_joined(tiles)
        assert_cover(tiles, piece)
        assert_drilled(tiles, piece)
        assert all(f"whole {piece.sizes}" in tile.said for tile in tiles)


@pytest.mark.parametrize("size", [(230.0, 100.0), (100.0, 600.0), (400.0, 520.0)])
def test_tiles_with_a_hole_on_their_edge_give_the_part_again(size, paper, monkeypatch):
    first = tiles_of(rectangle(*size), (150.0, 150.0))[0]
    piece = rectangle(*size, [Drilled("A", "strand", "#67", first.width - 10, first.low + 4, 2.0)])
    monkeypatch.setattr(templates, "flat_pieces", lambda _plan: (piece,))
    pages = pages_of(least(), paper)
    (tiles,) = by_part(pages).values()
    lying = piece.on_its_side() if "turned a quarter" in tiles[0].said else piece
    assert_joined(tiles)
    assert_cover(tiles, lying)
    assert_drilled(tiles, lying)


def test_a_part_lies_the_way_that_takes_the_fewest_tiles_and_tiles_share_pages(monkeypatch):
    """170 x 600 mm on A4: upright 3 tiles of 1 x 3; turned it would take 4 of 4 x 1."""
    monkeypatch.setattr(templates, "flat_pieces", lambda _plan: (rectangle(170.0, 600.0), rectangle(60.0, 300.0)))
    pages = pages_of(least())
    counts = [len(tiles_on(page)) for page in pages]
    assert sum(counts) == 5
    assert sorted(counts) == [1, 1, 1, 2]  # those of the narrow part stand side by side


@settings(max_examples=80, deadline=None)
@given(SIZES, ROOMS)
def test_tiles_cover_the_part_fit_the_page_and_share_their_overlap(size, room):
    tiles = tiles_of(rectangle(*size), room)
    areas = [box(t.left, t.low, t.left + t.width, t.low + t.height) for t in tiles]
    assert unary_union(areas).symmetric_difference(box(0, 0, *size)).area == pytest.approx(0, abs=1e-6)
    assert all(tile.width <= room[0] + 1e-9 and tile.height <= room[1] + 1e-9 for tile in tiles)
    assert len({tile.name for tile in tiles}) == len(tiles)
    for one in tiles:
        for other in tiles:
            if one.row == other.row and other.column == one.column + 1:
                assert one.left + one.width - other.left == pytest.approx(OVERLAP_MM, abs=1e-6)
                assert len(set(one.marks) & set(other.marks)) >= 2
            if one.column == other.column and other.row == one.row + 1:
                assert other.low + other.height - one.low == pytest.approx(OVERLAP_MM, abs=1e-6)
                assert len(set(one.marks) & set(other.marks)) >= 2


@settings(max_examples=60, deadline=None)
@given(SIZES, ROOMS, st.lists(st.tuples(PLACES, PLACES), min_size=2, max_size=6))
def test_a_tile_shows_of_a_line_what_lies_on_it(size, room, line):
    for tile in tiles_of(rectangle(*size), room)[:4]:
        frame = box(tile.left, tile.low, tile.left + tile.width, tile.low + tile.height)
        kept = [LineString(run) for run in lines_in(tile, line, closed=False)]
        found = translate(MultiLineString(kept), tile.left, tile.low)
        assert found.length == pytest.approx(length_in(frame, line), abs=1e-6)
        assert frame.buffer(1e-6).contains(found) or not kept


def length_in(frame, line):
    """Return how much of a line lies in a frame, piece by piece: a line may go over itself."""
    return sum(LineString(pair).intersection(frame).length for pair in pairwise(line))

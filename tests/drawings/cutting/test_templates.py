"""True-size templates as another library reads them from the PDF; tiles put together give the part again."""

from __future__ import annotations

import re
from itertools import pairwise
from math import hypot

import pytest
from crowded import crowded
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely.affinity import translate
from shapely.geometry import LineString, MultiLineString, box
from shapely.ops import unary_union
from sheets import DEMOS, demo, least, opened
from spacious import facing, spacious
from true_size import MM, WITHIN, bars_of

from modelmath.drawings.cutting.pieces import Drilled, FlatPiece, flat_pieces
from modelmath.drawings.cutting.tiles import OVERLAP_MM, lines_in, tiles_of
from modelmath.drawings.sheets import templates
from modelmath.drawings.sheets.paper import SIDE, bind, frame_size
from modelmath.drawings.sheets.templates import templates_sheet

ROOMS = st.tuples(st.floats(40, 300), st.floats(40, 300))
SIZES = st.tuples(st.floats(5, 900), st.floats(5, 900))


def pages_of(plan, paper="A4"):
    return opened(bind(templates_sheet(plan, *frame_size(paper, bars=True)), paper, plan.job.name)).pages


def rectangle(width, height, holes=()):
    corners = ((0.0, 0.0), (width, 0.0), (width, height), (0.0, height))
    return FlatPiece("long plate", 1, width, height, (corners,), tuple(holes), "", width / 2)


def cut_lines(page):
    """Return the lines of a page drawn with the pen of what is cut, in mm from its lower left corner."""
    drawn = [each for each in [*page.lines, *page.curves, *page.rects] if abs(each["linewidth"] / MM - 0.25) < 0.001]
    return [[(x / MM, (page.height - y) / MM) for x, y in each["pts"]] for each in drawn]


def bounds(lines):
    xs, ys = ([point[at] for line in lines for point in line] for at in (0, 1))
    return min(xs), min(ys), max(xs), max(ys)


@pytest.mark.parametrize("name", DEMOS)
def test_every_flat_part_is_there_once_at_its_true_size(name, paper):
    plan = demo(name)
    found = []
    for page in pages_of(plan, paper):
        for line in cut_lines(page):
            left, low, right, high = bounds([line])
            found.append((round(right - left, 2), round(high - low, 2)))
    wanted = []
    for piece in flat_pieces(plan):
        for loop in piece.loops:
            left, low, right, high = bounds([loop])
            wanted.append((round(right - left, 2), round(high - low, 2)))
    assert len(found) == len(wanted) > 0
    for one, other in zip(sorted(found), sorted(wanted), strict=True):
        assert one == pytest.approx(other, abs=WITHIN)


@pytest.mark.parametrize("plan", [*map(demo, DEMOS), crowded(), facing("rear")], ids=[*DEMOS, "crowded", "rear"])
def test_every_hole_is_a_circle_of_its_drill_with_its_tag_and_drill_named(plan):
    pages = pages_of(plan)
    text = "".join("".join(page.extract_text().split()) for page in pages)
    circles = [each for page in pages for each in page.curves if abs(each["linewidth"] / MM - 0.1) < 0.001]
    assert all(abs(each["width"] - each["height"]) < 0.01 for each in circles)
    holes = [hole for piece in flat_pieces(plan) for hole in piece.holes]
    found = sorted(circle["width"] / MM for circle in circles)
    assert found == pytest.approx(sorted(hole.diameter_mm for hole in holes), abs=WITHIN)
    for hole in holes:
        assert hole.tag in text
        assert "".join(hole.drill.split()) in text


def test_each_page_has_both_check_bars_what_to_do_with_them_and_its_number(paper, monkeypatch):
    plan = least()
    monkeypatch.setattr(templates, "flat_pieces", lambda _plan: (rectangle(150.0, 180.0),) * 2)
    pages = pages_of(plan, paper)
    assert len(pages) == 2
    for number, page in enumerate(pages, start=1):
        assert bars_of(page) == [50.0, 50.8]
        text = page.extract_text()
        assert "Measure this before cutting" in text
        assert text.splitlines()[-1] == f"{plan.job.name} page {number} of {len(pages)}"
        assert text.startswith("Templates" if number == 1 else "Templates, continued")


def test_nothing_runs_over_the_margins_or_over_another_part(paper):
    for plan in (demo("railmotor-oo"), demo("gas-electric-o"), crowded()):
        for page in pages_of(plan, paper):
            lines = cut_lines(page)
            left, low, right, high = bounds(lines)
            assert SIDE / MM <= left < right <= (page.width - SIDE) / MM
            assert low * MM > 21 * MM  # above the check bars
            assert high < page.height / MM - 12
            shapes = [LineString([*line, line[0]]) for line in lines]
            for at, one in enumerate(shapes):
                assert all(one.distance(other) > 1 for other in shapes[:at])


@pytest.mark.parametrize("size", [(230.0, 100.0), (100.0, 600.0), (400.0, 520.0)])
def test_tiles_put_together_by_their_marks_give_the_parts_outline(size, paper, monkeypatch):
    width, height = size
    holes = [Drilled("A", "strand", "#67", width / 3, height / 3, 2.0)]
    piece = rectangle(width, height, holes)
    monkeypatch.setattr(templates, "flat_pieces", lambda _plan: (piece,))
    pages = pages_of(least(), paper)
    whole = {}  # what each tile's page shows of the part, moved to where the tile lies on it
    names = []
    for page in pages:
        text = page.extract_text()
        found = re.search(r"Tile ([A-Z])(\d+): row (\d+) of (\d+), (\d+) of (\d+) in it", text)
        names.append(found[1] + found[2])
        row, rows, column, columns = (int(found[at]) for at in (3, 4, 5, 6))
        assert (ord(found[1]) - ord("A") + 1, int(found[2])) == (row, column)
        marks = alignment_marks(page)
        assert marks
        whole[row, column] = (MultiLineString(cut_lines(page)), marks)
    assert len(set(names)) == len(names) == rows * columns
    laid = put_together(whole, rows, columns)
    border = unary_union(list(laid.values()))
    left, low, right, high = border.bounds
    assert (right - left, high - low) == pytest.approx((width, height), abs=2 * WITHIN)
    outline = translate(box(0, 0, width, height).exterior, left, low)
    assert outline.hausdorff_distance(border) < 2 * WITHIN


def alignment_marks(page):
    """Return the middles of the crosses that tiles are laid over one another by. [mm]"""
    lines = [line for line in page.lines if abs(line["linewidth"] / MM - 0.18) < 0.001]
    level = [line for line in lines if line["height"] < 0.01]
    middles = [((a["x0"] + a["x1"]) / 2 / MM, (page.height - a["top"]) / MM) for a in level]
    return sorted(middles)


def put_together(tiles, rows, columns):
    """Lay tile on tile, from the first one on, so that marks which two tiles that meet have in common coincide."""
    placed = {(1, 1): (0.0, 0.0)}
    for row in range(1, rows + 1):
        for column in range(1, columns + 1):
            if (row, column) == (1, 1):
                continue
            before = (row, column - 1) if column > 1 else (row - 1, column)
            way = "right" if column > 1 else "below"
            placed[row, column] = moved(tiles[before][1], tiles[row, column][1], placed[before], way)
    return {key: translate(lines, *placed[key]) for key, (lines, _) in tiles.items()}


def moved(first, second, placed, way):
    """Return by how much a tile is moved so that its two marks lie on the last two of the one before it."""
    at = 0 if way == "right" else 1
    ends = sorted(first, key=lambda point: point[at] if way == "right" else -point[at])[-2:]
    starts = sorted(second, key=lambda point: point[at] if way == "right" else -point[at])[:2]
    (a, b), (c, d) = sorted(ends), sorted(starts)
    assert hypot(a[0] - b[0], a[1] - b[1]) == pytest.approx(hypot(c[0] - d[0], c[1] - d[1]), abs=0.02)
    return placed[0] + a[0] - c[0], placed[1] + a[1] - c[1]


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
@given(SIZES, ROOMS, st.lists(st.tuples(st.floats(-50, 950), st.floats(-50, 950)), min_size=2, max_size=6))
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


def test_a_part_too_wide_for_the_page_but_not_too_long_is_turned_and_that_is_said(monkeypatch):
    monkeypatch.setattr(templates, "flat_pieces", lambda _plan: (rectangle(200.0, 60.0),))
    (page,) = pages_of(least())
    assert "turned a quarter to the left" in " ".join(page.extract_text().split())
    left, low, right, high = bounds(cut_lines(page))
    assert (right - left, high - low) == pytest.approx((60.0, 200.0), abs=WITHIN)


def test_what_has_no_width_yet_is_named_instead():
    (page,) = pages_of(least())
    assert "The bulkhead is not drawn: enter the inside width to get its outline." in page.extract_text()
    assert bars_of(page) == []


def test_of_several_models_the_templates_count_one_and_say_so():
    plan = spacious(build={"wall": "1 mm", "post": "2 mm", "count": 3})
    text = " ".join(pages_of(plan)[0].extract_text().split())
    assert "Counts are for one model; 3 are built." in text
    assert "2 × side plate" in text

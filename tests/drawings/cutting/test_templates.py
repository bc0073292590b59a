"""True-size templates as another library reads them from the PDF; tiles put together give the part again."""

from __future__ import annotations

import pytest
from crowded import crowded
from hypothesis import strategies as st
from shapely.geometry import LineString
from sheets import DEMOS, demo, least, opened
from spacious import facing, spacious
from true_size import MM, WITHIN, bars_of

from modelmath.drawings.cutting.pieces import FlatPiece, flat_pieces
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

"""What is cut from the sheet is measured on it: sizes read back from the PDF by another library."""

from __future__ import annotations

from itertools import pairwise

import pytest
from sheets import DEMOS, demo, least, packet

from modelmath.drawings.template import bulkhead_template, hole_places, holes_in_words, post_mm

MM = 72 / 25.4  # points in a millimetre: 1 pt is 1/72 in by ISO 32000-1, 8.3.2.3
WITHIN = 0.02  # mm


def near(points: float, mm: float) -> bool:
    return abs(points / MM - mm) <= WITHIN


def bars_of(page):
    """Return which of the two check bars a page has, by length alone."""
    level = [line for line in page.lines if line["height"] < 0.01]
    return [mm for mm in (50.0, 50.8) if any(near(line["width"], mm) for line in level)]


def outlines(page, width_mm, height_mm):
    return [rect for rect in page.rects if near(rect["width"], width_mm) and near(rect["height"], height_mm)]


def circles(page):
    round_ones = [c for c in page.curves if abs(c["width"] - c["height"]) < 0.01 and c["width"] < 4 * MM]
    return sorted(round_ones, key=lambda circle: circle["x0"])


@pytest.mark.parametrize("name", DEMOS)
def test_bulkhead_and_holes_have_their_true_size_on_the_card(name, paper):
    plan = demo(name)
    wall = plan.bulkhead
    page = packet(plan, paper).pages[0]
    (outline,) = outlines(page, float(wall.width_mm), float(wall.cut.cut_mm))
    found = circles(page)
    wanted = [hole.drill.diameter_mm for hole in plan.holes for _ in range(hole.count)]
    assert len(found) == len(wanted) == len(hole_places(plan)) > 0
    for circle, place, drill in zip(found, hole_places(plan), wanted, strict=True):
        assert near(circle["width"], drill)
        x, y = (circle["x0"] + circle["x1"]) / 2, (circle["top"] + circle["bottom"]) / 2
        assert near(x - outline["x0"], float(place.left_mm))
        assert near(y - outline["top"], float(place.down_mm))
    spacings = {right.left_mm - left.left_mm for left, right in pairwise(hole_places(plan))}
    assert len(spacings) == 1
    assert f"then every {float(spacings.pop()):.2f} mm" in holes_in_words(plan)[0]


@pytest.mark.parametrize("name", DEMOS)
def test_holes_stand_clear_of_posts_edges_and_each_other(name):
    plan = demo(name)
    wall, places = plan.bulkhead, hole_places(plan)
    for place in places:
        reach = place.diameter_mm / 2
        assert post_mm(plan) <= place.left_mm - reach
        assert place.left_mm + reach <= wall.width_mm - post_mm(plan)
        assert place.diameter_mm <= place.down_mm - reach
        assert place.diameter_mm <= wall.cut.cut_mm - place.down_mm - reach
    for left, right in pairwise(places):
        assert right.left_mm - left.left_mm >= left.diameter_mm + right.diameter_mm


def test_every_page_with_a_true_size_drawing_has_both_check_bars_and_no_other(any_plan, paper):
    pages = packet(any_plan, paper).pages
    assert bars_of(pages[0]) == [50.0, 50.8]
    text = pages[0].extract_text()
    assert "50 mm" in text
    assert "2 in" in text
    assert "Measure this before cutting" in text
    assert [bars_of(page) for page in pages[1:]] == [[]] * (len(pages) - 1)


def test_without_a_width_only_the_height_is_drawn():
    plan = least()
    page = packet(plan).pages[0]
    height = float(plan.bulkhead.cut.cut_mm)
    assert any(near(line["height"], height) and line["width"] < 0.01 for line in page.lines)
    assert outlines(page, 54.0, height) == []
    assert "width: hold against the shell" in page.extract_text()


def test_a_bulkhead_too_wide_for_the_card_has_a_page_of_its_own(paper):
    rules = [*least().job.model_dump(exclude_none=True)["rules"], {"name": "steel", "unit": "mm", "graduation": "1"}]
    readings = [
        {"name": "roof", "mark": "10"},
        {"name": "chassis top", "mark": "6"},
        {"name": "inside", "mark": "120", "rule": "steel"},
    ]
    zones = [{"name": "motor", "underside": "roof", "chassis_top": "chassis top", "width": "inside"}]
    plan = least(rules=rules, readings=readings, zones=zones)
    pages = packet(plan, paper).pages
    height = float(plan.bulkhead.cut.cut_mm)
    assert "The bulkhead at true size is on the next page." in pages[0].extract_text()
    assert (bars_of(pages[0]), outlines(pages[0], 120.0, height)) == ([], [])
    assert bars_of(pages[1]) == [50.0, 50.8]
    assert len(outlines(pages[1], 120.0, height)) == 1


def test_holes_that_find_no_room_are_not_drawn_and_that_is_said():
    plan = demo(wires=[{"name": "wires", "diameter": "1 mm", "count": 40}])
    assert hole_places(plan) == ()
    assert holes_in_words(plan)[0] == "The holes do not fit in one row between the posts: place them by hand."
    assert circles(packet(plan).pages[0]) == []


def test_no_template_where_the_shell_closes_both_ends():
    plan = demo("railcar-n", lamps=[], wires=[], decoder=None)
    assert plan.bulkhead is None
    assert bulkhead_template(plan) is None
    page = packet(plan).pages[0]
    assert "there is no bulkhead to cut" in " ".join(page.extract_text().split())
    assert bars_of(page) == []

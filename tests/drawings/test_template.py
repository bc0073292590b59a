"""What is cut from the sheet is measured on it: sizes read back from the PDF by another library."""

from __future__ import annotations

import re
from itertools import pairwise

import pytest
from crowded import crowded
from sheets import DEMOS, demo, least, packet
from spacious import ARCH, ZONES, spacious
from true_size import assert_measured, bars_of, card_and_holes, card_in, circles, closed_up, near, outlines

from modelmath.drawings.cutting.pieces import flat_pieces
from modelmath.drawings.shapes import Label, Lines
from modelmath.drawings.template import UNTAGGED, bulkhead_template, holes_in_words, holes_on, places_of
from modelmath.widgets.plan.holes import holes as fold

GAUGE_STRIP = "at true size: drill these holes in scrap sheet"  # what the light's page says above its strips


@pytest.mark.parametrize("name", DEMOS)
def test_bulkhead_and_holes_have_their_true_size_on_the_card(name, paper):
    plan = demo(name)
    assert_measured(card_in(packet(plan, paper).pages)[-1], plan)


def test_a_hole_moved_by_hand_is_moved_on_the_card_and_its_thin_web_is_named_there():
    plan = demo(holes=[{"name": "headlight 1", "right": "1.2 mm", "up": "6.2 mm"}])
    page = packet(plan).pages[0]
    assert_measured(page, plan)
    text = " ".join(page.extract_text().split())
    assert "1.00 mm are wanted." in text
    (web,) = holes_on(plan, plan.bulkhead).layout.too_thin
    assert web.remedy.split()[1] in text


@pytest.mark.parametrize("plan", [*(demo(name) for name in DEMOS), crowded()], ids=[*DEMOS, "crowded"])
def test_card_fold_and_packet_give_the_same_places(plan):
    pages, drilled = card_and_holes(plan)
    card, sheet = closed_up(pages), closed_up(drilled)
    shown = "".join(re.sub("<[^>]*>", " ", fold(plan)).split())
    told = 0
    for wall in plan.hole_places:
        for (tag, name, left, up), sentence in zip(places_of(wall), wall.layout.marking_out, strict=True):
            row = "".join(f"{tag}{name}{left}{up}".split())
            assert row in card
            assert f"({left}from the left edge),{up}above".replace(" ", "") in "".join(sentence.split())
            assert "".join(sentence.split()) in shown
            centre = re.search(r", (on|[\d.]+ mm (?:left|right))(?: of)? the centre line", sentence)[1]
            across = "on it" if centre == "on" else centre
            drill = re.search(r"drill ([^,]+),", sentence)[1]
            assert "".join(f"{wall.wall}{tag.removesuffix(drill)}{name}{drill}{left}{across}{up}".split()) in sheet
            told += 1
    assert told == sum(hole.count for hole in plan.holes)


def template_pages(pages):
    """Return which pages of a packet hold templates; what has no width yet is only spoken of there."""
    found = [n for n, page in enumerate(pages) if page.extract_text().startswith("Templates")]
    return [n for n in found if pages[n].lines]


def test_every_page_with_a_true_size_drawing_has_both_check_bars_and_no_other(any_plan, paper):
    pages = packet(any_plan, paper).pages
    last = len(card_in(pages)) - 1
    text = pages[last].extract_text()
    assert "50 mm" in text
    assert "2 in" in text
    assert "Measure this before cutting" in text
    strips = [n for n, page in enumerate(pages) if GAUGE_STRIP in " ".join(page.extract_text().split())]
    assert bool(strips) == bool(any_plan.light.gauge_strips)
    flat = template_pages(pages)
    assert bool(flat) == bool(flat_pieces(any_plan))
    with_bars = (last, *strips, *flat)
    assert [bars_of(page) for page in pages] == [[50.0, 50.8] if n in with_bars else [] for n in range(len(pages))]


def test_without_a_width_only_the_height_is_drawn():
    plan = least(wires=[{"name": "w", "diameter": "1 mm"}])
    page = packet(plan).pages[0]
    height = float(plan.bulkhead.cut.cut_mm)
    assert any(near(line["height"], height) and line["width"] < 0.01 for line in page.lines)
    assert outlines(page, 54.0, height) == []
    assert "width: hold against the shell" in page.extract_text()
    assert holes_in_words(plan) == ["Holes are placed once the inside width is known; until then mark them by hand."]
    assert circles(page) == []


def wide(inside):
    """Return the plan of a bulkhead so many mm wide."""
    rules = [*least().job.model_dump(exclude_none=True)["rules"], {"name": "steel", "unit": "mm", "graduation": "1"}]
    readings = [
        {"name": "roof", "mark": "10"},
        {"name": "chassis top", "mark": "6"},
        {"name": "inside", "mark": inside, "rule": "steel"},
    ]
    zones = [{"name": "motor", "underside": "roof", "chassis_top": "chassis top", "width": "inside"}]
    return least(rules=rules, readings=readings, zones=zones)


def test_a_bulkhead_too_wide_for_the_column_has_a_page_of_its_own_under_the_card_s_heading(paper):
    plan = wide("120")
    pages = packet(plan, paper).pages
    height = float(plan.bulkhead.cut.cut_mm)
    assert "The bulkhead at true size is on the next page." in pages[0].extract_text()
    assert (bars_of(pages[0]), outlines(pages[0], 120.0, height)) == ([], [])
    assert pages[1].extract_text().startswith("Bench card, continued")
    assert bars_of(pages[1]) == [50.0, 50.8]
    assert len(outlines(pages[1], 120.0, height)) == 1


def test_a_bulkhead_wider_than_the_paper_is_not_drawn_smaller_and_that_is_said(paper):
    plan = wide("250")
    pages = packet(plan, paper).pages
    text = " ".join(pages[0].extract_text().split())
    assert (
        "At true size the bulkhead is larger than this paper: mark it out from the sizes above, or take its template."
        in text
    )
    flat = template_pages(pages)
    text = " ".join(pages[n].extract_text() for n in flat)
    assert "bulkhead, tile A1" in text  # there it is divided
    assert "bulkhead, tile A2" in text
    assert [bars_of(page) for page in pages] == [[50.0, 50.8] if n in flat else [] for n in range(len(pages))]


def test_holes_that_find_no_room_are_not_drawn_and_the_reason_is_said():
    plan = demo(wires=[{"name": "wires", "diameter": "1 mm", "count": 20}])
    problems = [each.problem for each in plan.hole_places if each.layout is None]
    assert problems
    (page,) = card_and_holes(plan)[0]
    assert "A row of 20 at 6.20 mm does not fit:" in " ".join(page.extract_text().split())
    assert problems[0].startswith("A row of 20 at 6.20 mm does not fit:")
    assert len(circles(page)) == sum(len(each.marks) for each in plan.hole_places if each.wall == "bulkhead")


def test_a_tapering_bulkhead_is_drawn_as_it_is_cut():
    plan = spacious(profiles=ARCH, zones=[{**zone, "profile": "arch"} for zone in ZONES],
                    wires=[{"name": "wire", "diameter": "1 mm"}])  # fmt: skip
    wall = plan.bulkhead
    (outline,) = [
        each for each in bulkhead_template(plan).shapes if isinstance(each, Lines) and each.name == "bulkhead"
    ]
    left, low = min(x for x, _ in outline.runs[0]), min(y for _, y in outline.runs[0])
    half = float(wall.width_mm) / 2
    drawn = {(round(x - left - half, 6), round(y - low, 6)) for x, y in outline.runs[0]}
    assert drawn == {(round(way * float(wide), 6), round(float(up), 6)) for up, wide in wall.outline for way in (1, -1)}


def test_no_tag_meets_another_and_too_many_to_stand_in_one_row_are_left_to_the_figure():
    for count, told in ((9, True), (22, False)):
        wires = [{"name": "wires", "diameter": "0.4 mm", "count": count}]
        plan = demo("railbus-ho", wires=wires, hole_layout={"web": "0.3 mm", "way": "spread"})
        tags = sorted(x.x for x in bulkhead_template(plan).shapes if isinstance(x, Label) and x.bold)
        assert len(tags) == (count + 1) * told
        assert all(later - sooner >= 4.5 for sooner, later in pairwise(tags))
        assert (UNTAGGED in holes_in_words(plan)) != told


def test_no_template_where_the_shell_closes_both_ends():
    plan = demo("railcar-n", lamps=[], wires=[], decoder=None)
    assert plan.bulkhead is None
    assert bulkhead_template(plan) is None
    assert holes_in_words(plan) == []
    page = packet(plan).pages[0]
    assert "there is no bulkhead to cut" in " ".join(page.extract_text().split())
    assert bars_of(page) == []

"""The packet at a glance: contents that lead there, main figures, date and name on each page, drills, readings."""

from __future__ import annotations

import re
from io import BytesIO

import pytest
from pdfminer.pdfdocument import PDFDocument
from pdfminer.pdfparser import PDFParser
from sheets import DEMOS, LEAST, demo, least, opened, packet, texts_of

from modelmath.drawings import packet_pdf
from modelmath.drawings.sheets.packet import SHEETS
from modelmath.job.room_left.sizes import chance_in_words
from modelmath.lengths.text import format_length

ORDER = [
    "Overview", "Readings, as taken", "Clearance over", "The space inside", "Weight", "Parts", "Strips",
    "Drills and holes", "Holes to mark out", "Templates", "Cut plan", "Sheet layout", "Light and wiring", "Sound",
    "Build order", "Cautions", "Where each number comes from",
]  # fmt: skip


def closed_up(text):
    return "".join(text.split())


def overview_of(plan, paper="A4"):
    (text,) = [text for text in texts_of(plan, paper) if text.startswith("Overview\n")]
    return text


def headings(page):
    """Return the lines of a page that are set as the heading of a section, 14 pt high."""
    lines = {}
    for char in page.chars:
        if abs(char["size"] - 14) < 0.01:
            lines.setdefault(round(char["top"]), []).append(char["text"])
    return ["".join(signs).replace("\u00a0", " ") for signs in lines.values()]


def test_contents_name_every_section_with_the_page_it_begins_on(any_plan):
    pages = packet(any_plan).pages
    stands = {}
    for number, page in enumerate(pages, start=1):
        for heading in headings(page):
            stands.setdefault(heading, number)
    del stands["Overview"]
    text = "\n".join(texts_of(any_plan)[:5])
    contents = text.partition("\nContents\n")[2]
    assert len(stands) >= 8
    for heading, number in stands.items():
        assert f"{heading} {number}" in contents


@pytest.mark.parametrize("plan", [demo(name) for name in DEMOS], ids=DEMOS)
def test_sections_stand_in_the_order_that_is_promised(plan):
    found = [heading for page in packet(plan).pages for heading in headings(page)]
    wanted = [title for title in ORDER if any(each.startswith(title) for each in found)]
    assert [next(title for title in ORDER if each.startswith(title)) for each in found] == wanted
    assert {"Overview", "Templates", "Drills and holes", "Cut plan"} <= set(wanted)
    assert len(SHEETS) == len(ORDER)


def test_the_reader_s_own_contents_lead_to_the_same_sections():
    content = packet_pdf(demo())
    document = PDFDocument(PDFParser(BytesIO(content)))
    titles = [title for _, title, *_ in document.get_outlines()]
    found = [heading for page in packet(demo()).pages for heading in headings(page)]
    assert titles == found[-len(titles) :]
    assert len(titles) > 10


def test_the_date_and_the_name_stand_at_the_foot_of_every_page():
    plan = demo()
    pages = opened(packet_pdf(plan, date="3 May 1931")).pages
    for number, page in enumerate(pages, start=1):
        foot = page.extract_text().splitlines()[-1]
        assert foot == f"{plan.job.name} 3 May 1931, page {number} of {len(pages)}"


def test_a_long_name_is_shortened_at_the_foot_and_the_date_is_not():
    plan = least(name="W" * 190)
    foot = opened(packet_pdf(plan, date="3 May 1931")).pages[-1].extract_text().splitlines()[-1]
    assert re.fullmatch(r"W+… 3 May 1931, page \d+ of \d+", foot)


def test_main_figures_are_the_plans_own(any_plan):
    text = closed_up(overview_of(any_plan))
    left = any_plan.gap
    assert closed_up(format_length(left.left_mm, "mm")) in text
    assert closed_up(chance_in_words(left.chance)) in text
    assert closed_up(any_plan.marks.setting(any_plan.bulkhead.cut.cut_mm).text) in text
    for name in ("chamber volume", "Qtc", "net volume", "front truck after"):
        if name in any_plan.figures:
            assert closed_up(f"{name}") in text
            assert closed_up(any_plan.figures[name].value) in text


def test_what_to_look_out_for_is_every_warning(any_plan):
    text = closed_up("".join(texts_of(any_plan)[:5]))
    for warning in any_plan.warnings:
        assert closed_up(warning[1:].rstrip(".")) in text
    assert any_plan.warnings or closed_up("Nothing stands out.") in text


def test_what_to_measure_again_is_ranked_as_the_plan_ranks_it():
    plan = demo()
    (text,) = [text for text in texts_of(plan) if text.startswith("Clearance over")]
    rows = text.partition("What to measure again")[2]
    found = plan.remeasure()
    assert len(found) > 1
    at = [closed_up(rows).index(closed_up(f"{each.what}{format_length(each.costs_mm, 'mm')}")) for each in found]
    assert at == sorted(at)


@pytest.mark.parametrize("plan", [demo(name) for name in DEMOS], ids=DEMOS)
def test_drills_and_holes_name_each_hole_with_its_drill_and_place(plan):
    text = closed_up("".join(text for text in texts_of(plan) if "Drills and holes\n" in text))
    for hole in plan.holes:
        assert closed_up(f"{hole.drill.name}{hole.drill.diameter_mm:.3f} mm{hole.count} × {hole.name}") in text
    for wall in plan.hole_places:
        for hole, mark in zip(wall.layout.holes, wall.marks, strict=True):
            side = (
                "on it" if abs(hole.x_mm) < 0.005 else f"{abs(hole.x_mm):.2f} mm {'left' if hole.x_mm < 0 else 'right'}"
            )
            place = f"{wall.layout.from_left_mm(hole):.2f} mm{side}{hole.y_mm:.2f} mm"
            assert closed_up(f"{wall.wall}{mark.tag}{hole.name}{hole.hole.drill}{place}") in text


def test_without_room_for_the_bulkhead_the_drills_are_still_listed():
    plan = demo(clearance={"keep": "30 mm"})
    (text,) = [text for text in texts_of(plan) if "Drills and holes\n" in text]
    assert "#67" in text.partition("Drills and holes")[2]


def test_a_hostile_name_does_not_harm_the_contents():
    name = '<b>Bold & "quoted"</para> ]]> 漢'
    readings = [{"name": "roof", "mark": "10"}, {"name": "chassis top", "mark": "6"}]
    zones = [{"name": name, "underside": "roof", "chassis_top": "chassis top"}]
    plan = least(zones=zones, readings=readings, rules=LEAST["rules"])
    contents = "\n".join(texts_of(plan)).partition("\nContents\n")[2]
    assert re.search(re.escape(f"Clearance over {name[:-1]}") + r". \d+", contents)


def test_the_contents_share_the_page_of_the_overview(paper):
    assert "\nContents\n" in overview_of(demo("centre-cab-s"), paper)  # the tallest elevation and the most to mind


def test_what_is_true_of_several_is_said_once():
    """Advice on a group's strips, a note on strands that are alike, a caution on drills beside the list of holes."""
    text = " ".join("\n".join(texts_of(demo())).partition("Where each number comes from\nEach")[0].split())
    assert text.count("Cut a strip of it as wide as the part") == 1
    assert text.count("left lens, right lens: Strand of") == 1
    # Once where it is done: the holes, the templates, the strips of holes, the step; and in the list of all.
    assert text.count("Drills of 0.0400 in and under break easily") == 5


def test_figures_stand_in_two_columns_under_their_heading():
    pages = packet(demo()).pages
    (first,) = [page for page in pages if "Where each number comes from" in headings(page)]
    for page in pages[first.page_number - 1 : -1]:
        lines = [char for char in page.chars if char["size"] < 8.5 and char["top"] < page.height - 50]
        middle = page.width / 2
        assert min(char["x0"] for char in lines) < 45
        assert not [char for char in lines if char["x0"] < middle - 5 < char["x1"] and char["text"].strip()]
        assert [char for char in lines if char["x0"] > middle]

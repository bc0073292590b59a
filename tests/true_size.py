"""What a true-size drawing measures on its page, as another library reads it back."""

from __future__ import annotations

import pytest
from reportlab.platypus import NextPageTemplate, PageBreak
from sheets import opened

from modelmath.drawings.sheets.card import bench_card
from modelmath.drawings.sheets.drilling import drilling_sheet
from modelmath.drawings.sheets.guard import Guard
from modelmath.drawings.sheets.paper import PLAIN_PAGE, bind, frame_size
from modelmath.drawings.template import holes_on

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
    return sorted(round_ones, key=lambda circle: (circle["x0"] + circle["x1"], circle["top"]))


def measured(page, outline):
    """Return each circle on a page: from the outline's left and lower edge, and its diameter. [mm]"""
    return [
        (
            ((each["x0"] + each["x1"]) / 2 - outline["x0"]) / MM,
            (outline["bottom"] - (each["top"] + each["bottom"]) / 2) / MM,
            each["width"] / MM,
        )
        for each in circles(page)
    ]


def placed(holes):
    """Return the same of the plan's holes."""
    found = [(holes.layout.from_left_mm(each), each.y_mm, 2 * each.radius_mm) for each in holes.layout.holes]
    return sorted(found, key=lambda each: (each[0], -each[1]))


def assert_measured(page, plan):
    wall = plan.bulkhead
    (outline,) = outlines(page, float(wall.width_mm), float(wall.cut.cut_mm))
    on_paper, wanted = measured(page, outline), placed(holes_on(plan, wall))
    assert len(on_paper) == len(wanted) > 0
    for one, other in zip(on_paper, wanted, strict=True):
        assert one == pytest.approx(other, abs=WITHIN)


def card_in(pages):
    """Return the pages of a packet that are its bench card."""
    heads = ("Bench card\n", "Bench card, continued\n")
    return [page for page in pages[:3] if page.extract_text().startswith(heads)]


def closed_up(pages, beside=0.0):
    """Return the text of pages without white space, and once more what stands to the right of a place. [pt]"""
    found = [page.extract_text() for page in pages]
    found += [page.crop((beside, 0, page.width, page.height)).extract_text() for page in pages if beside]
    return "".join("".join(found).split())


def card_and_holes(plan, paper="A4"):
    """Return the pages of the card, and those of the drills and holes, without the rest of the packet."""
    holes = [NextPageTemplate(PLAIN_PAGE), PageBreak(), *drilling_sheet(plan, frame_size(paper)[0])]
    card, marked = (
        opened(bind(story, paper, plan.job.name)).pages for story in (bench_card(plan, paper, Guard()), holes)
    )
    return card, marked

"""What each part is cut from: strip from the drawer or the shop, sheet where no strip spans the shell."""

from __future__ import annotations

import re
from fractions import Fraction

import pytest
from sample_jobs import DEMOS, SMALLEST, job
from sheets import texts_of

from modelmath import plan
from modelmath.materials.sections.series import strip_series
from modelmath.widgets.plan import views


def from_sheet(found):
    return {line.part.name for line in found.lines if line.from_sheet}


@pytest.mark.parametrize("name", DEMOS)
def test_only_strip_that_is_sold_or_in_the_drawer_is_planned_as_strip(name):
    found = plan(DEMOS[name])
    sold = {strip.name for strip in strip_series(found.scale)} | {stock.name for stock in found.bench.drawer}
    assert {strip.stock_name for strip in found.cuts.strips} <= sold
    assert {each.stock_name for each in found.cuts.shopping} <= sold
    assert {verdict.stock_name for verdict in found.cuts.verdicts} <= sold
    cut = {piece.part for strip in found.cuts.strips for piece in strip.cuts}
    assert cut.isdisjoint(from_sheet(found))
    assert {piece.part for sheet in found.sheet_layout.layout.sheets for piece in sheet.pieces} == from_sheet(found)
    assert found.cuts.sheets == ()  # all have a known width, so the layout has them


@pytest.mark.parametrize("build", [{"wall": ".060 in"}, {"kerf": "0.5 mm", "wall": ".040 in"}])
def test_blanks_of_unknown_width_have_their_stop(build):
    found = plan(job(build=build))
    assert found.cuts.sheets
    parts = {line.part.name: line.part for line in found.lines}
    stops = {stop.length_mm: stop.elsewhere for stop in found.cuts.stops}
    for strip in found.cuts.sheets:
        pieces = sum(blank.count for blank in strip.blanks)
        saw = found.cuts.end_trim_mm + found.cuts.kerf_mm * (pieces - 1)
        assert strip.length_mm == saw + sum(blank.count * blank.length_mm for blank in strip.blanks)
        for blank in strip.blanks:
            part = parts[blank.name]
            assert (strip.width_mm, blank.length_mm, blank.count) == (part.width_mm, part.cut.cut_mm, part.count)
            assert stops[blank.length_mm].count((strip.sheet.name, blank.name)) == blank.count


def test_a_strip_of_the_drawer_that_spans_the_shell_is_no_sheet():
    drawer = [{"strip": ".040 x 1.250 in", "length": "14 in"}]
    readings = [*SMALLEST["readings"], {"name": "width", "mark": "5"}]
    fields = {"readings": readings, "zones": [{**SMALLEST["zones"][0], "width": "width"}]}
    found = plan(job(**fields, drawer=drawer))
    wall = next(line for line in found.lines if line.part.name == "bulkhead")
    assert (wall.stock, wall.from_sheet, wall.in_drawer) == (".040 x 1.250 in", False, True)
    assert "bulkhead" in from_sheet(plan(job(**fields)))


def test_a_wall_of_unknown_width_is_cut_from_sheet_as_thick_as_the_layout_counts():
    found = plan(job(build={"wall": ".060 in"}))
    assert [(line.stock_text, line.from_sheet) for line in found.lines] == [
        (".060 sheet, as wide as the shell is inside", True),
        (found.lines[1].stock, False),
    ]
    assert found.lines[0].note == (
        "Cut it from .060 sheet, as wide as the shell is inside; hold it against the shell and trim."
    )
    (strip,) = found.cuts.sheets
    assert (strip.width_mm, strip.sheet.thickness_mm) == (None, Fraction("1.524"))
    assert not [warning for warning in found.warnings if warning.startswith("No strip")]


@pytest.mark.parametrize("build", [{"post": "40 mm"}, {"wall": "7 mm"}])
def test_a_part_that_nothing_gives_keeps_its_stop_and_is_named(build):
    found = plan(job(build=build, speaker=None))
    ((lost,)) = [line for line in found.lines if not line.picks and line.sheet is None]
    assert [part.name for part in found.cuts.made_up] == [lost.part.name]
    assert any(lost.part.name == part for stop in found.cuts.stops for _, part in stop.elsewhere)
    said = f"No one strip gives the {lost.part.name}: glue up what does."
    assert said in views.cut_list(found)
    assert said in " ".join("\n".join(texts_of(found)).split())
    assert "All of it is in the drawer" not in views.cut_list(found)


def test_the_page_says_what_to_cut_from_sheet_and_what_to_buy():
    made = plan(DEMOS["switcher-ho"])
    shown = re.sub(r"<[^>]+>", " ", views.cut_list(made) + views.to_buy(made))
    assert "1 × .040 sheet, 304.80 × 152.40 mm" in shown
    assert "What is cut from sheet is laid out, snap by snap, in the packet and on the page Cuts." in shown
    assert (
        "New strips: 2, proven: no plan buys fewer strips than 1 (any to buy 355.60 mm long), and no such plan cuts "
        "into fewer whole strips than 2." in shown
    )
    assert SMALLEST["name"] not in shown

"""What each part is cut from: strip from the drawer or the shop, sheet where no strip spans the shell."""

from __future__ import annotations

import re
from dataclasses import replace
from fractions import Fraction
from itertools import combinations, product

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st
from sample_jobs import DEMOS, SMALLEST, job
from sheets import texts_of
from spacious import spacious

from modelmath import plan
from modelmath.enclosure.net import speaker_blocks
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
    shown = " ".join(re.sub(r"<[^>]+>", " ", views.cut_list(made) + views.to_buy(made)).split())
    assert "1 × .040 sheet, 304.80 × 152.40 mm" in shown
    assert "What is cut from sheet is laid out, snap by snap, in the packet and on the page Cuts." in shown
    assert (
        "Strip: 2 whole ones cut into, 1 of them to buy Proven: no plan buys fewer strips than 1 (any to buy 355.60 mm "
        "long), and no such plan cuts into fewer whole strips than 2." in shown
    )
    assert SMALLEST["name"] not in shown


def on_end(found):
    return [line for line in found.lines if line.part.use == "on end" and line.picks]


def grown(part, block, post_mm, section):
    """A block as its strip makes it: from the face that stands fast, as thick as the strip unless said to be less."""
    sizes = []
    for own, strip in zip((block.end_mm - block.start_mm, block.right_mm - block.left_mm), section, strict=True):
        said = f"Bring it down to {float(post_mm):.2f} mm" in part.note
        sizes.append(own if own < post_mm else min(strip, post_mm) if said else strip)
    rear = "rear" in part.part.face or (part.part.count == 4 and block in part.part.blocks[2:])
    ends = (block.end_mm - sizes[0], block.end_mm) if rear else (block.start_mm, block.start_mm + sizes[0])
    left = block.left_mm < 0
    across = (block.left_mm, block.left_mm + sizes[1]) if left else (block.right_mm - sizes[1], block.right_mm)
    return replace(block, start_mm=ends[0], end_mm=ends[1], left_mm=across[0], right_mm=across[1])


def deep(one, other):
    """How far two blocks reach into each other, the least way; below 0 where they do not."""
    ways = (("start_mm", "end_mm"), ("left_mm", "right_mm"), ("bottom_mm", "top_mm"))
    return min(
        min(getattr(one, high), getattr(other, high)) - max(getattr(one, low), getattr(other, low))
        for low, high in ways
    )


@settings(max_examples=40)
@given(
    post=st.sampled_from(["1.5 mm", "2 mm", "2.7 mm", "3.2 mm", ".080 in", ".130 in", "4.3 mm"]),
    size=st.tuples(st.integers(3, 14), st.integers(2, 14)),
    rim=st.tuples(st.integers(1, 6), st.integers(1, 6)),
    place=st.sampled_from(["front", "rear", "middle"]),
    drawer=st.sampled_from([[], [".250 sq"], [".125 x .250 in"], [".100 sq"]]),
)
@example(post="3.2 mm", size=(14, 10), rim=(3, 3), place="front", drawer=[])
@example(post="2 mm", size=(14, 10), rim=(2, 2), place="rear", drawer=[".250 sq"])
def test_posts_and_supports_of_the_strip_picked_touch_nothing(post, size, rim, place, drawer):
    """Where the strip is thicker than the layout counts, its note says what to bring it down to.

    Inch and mm strip differ by up to 0.05 mm, and two pieces may be off by that.
    """
    length, width = (Fraction(each) for each in size)
    basket = [max(each - Fraction(edge, 2), each / 4) for each, edge in zip((length, width), rim, strict=True)]
    found = spacious(
        speaker={"length": f"{size[0]} mm", "width": f"{size[1]} mm", "flange": "1 mm", "depth": "5 mm", "place": place,
                 "basket_length": f"{float(basket[0])} mm", "basket_width": f"{float(basket[1])} mm"},
        build={"wall": "1 mm", "post": post}, decoder=None,
        drawer=[{"strip": name, "length": "14 in"} for name in drawer],
    )  # fmt: skip
    counted = Fraction(found.limits.post_mm)
    things = [(part.name, block) for part in found.parts if part.use != "on end" for block in part.blocks]
    if found.chamber.seat_mm is not None:
        things += [("speaker", each) for each in speaker_blocks(found.chamber, found.bench.speaker, found.limits)]
    for line in on_end(found):
        strip = line.picks[0].strip
        section = tuple(Fraction(each) for each in (strip.width_mm, strip.thickness_mm))
        assert (max(section) > counted + Fraction(1, 20)) == ("Bring it down" in line.note)
        mine = [(line.part.name, grown(line, block, counted, section)) for block in line.part.blocks]
        for (name, one), (other_name, other) in [*product(mine, things), *combinations(mine, 2)]:
            assert deep(one, other) <= Fraction(1, 10), (name, other_name)
        things += mine
    assert any(line.part.kind == "support" for line in on_end(found))


@pytest.mark.parametrize(
    ("post", "stock", "down"),
    [("3.2 mm", ".125 sq", ""), (".080 in", "2 x 2 mm", ""), ("4.3 mm", ".188 sq", "4.30 mm in width and thickness")],
)
def test_posts_are_cut_from_strip_as_thick_as_the_layout_counts(post, stock, down):
    """.125 in is 3.175 mm, .080 in is 2.03 mm; between 4 mm and .188 in, 4.78 mm, nothing square is sold."""
    found = spacious(build={"wall": "1 mm", "post": post})
    line = next(line for line in found.lines if line.part.kind == "post")
    assert line.stock == stock
    said = "Square its end first, cut to length, 18.00 mm, and stand it on end."
    assert line.note == (f"{said} Bring it down to {down}: the layout counts no more." if down else said)


def test_a_strip_of_the_drawer_as_thick_as_counted_goes_before_a_thicker_one():
    drawer = [{"strip": name, "length": "14 in"} for name in (".125 sq", ".080 sq")]
    found = spacious(build={"wall": "1 mm", "post": "2 mm"}, drawer=drawer)
    assert {line.stock for line in on_end(found)} == {".080 sq"}
    only = spacious(build={"wall": "1 mm", "post": "2 mm"}, drawer=drawer[:1])
    assert {line.stock for line in on_end(only)} == {".125 sq"}
    assert all(line.note.endswith("Bring it down to 2.00 mm in width and thickness: the layout counts no more.")
               for line in on_end(only))  # fmt: skip


def test_of_sheet_thicker_than_the_walls_it_is_said_that_the_plan_has_to_know():
    """By hand: .050 sheet is .010 in = 0.254 mm thicker than the demo's walls of .040 in."""
    line = next(each for each in plan(DEMOS["railcar-n"]).lines if each.part.kind == "wall")
    assert line.part.thickness_mm in (None, line.picks[0].strip.thickness_mm)
    wall = plan(DEMOS["railcar-n"]).limits.wall_mm
    for pick in line.picks:
        more = float(pick.strip.thickness_mm - wall)
        said = f"It is {more:.2f} mm thicker than the walls are counted: enter that thickness first."
        assert pick.remark.endswith(said) == (more > 0.05)

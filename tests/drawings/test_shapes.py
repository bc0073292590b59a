"""Hatches stay inside, texts stay whole."""

from __future__ import annotations

from xml.etree import ElementTree as ET
from xml.sax.saxutils import escape

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from sheets import demo, least

from modelmath.drawings.shapes import dots, hatch, plain, text_width, wrap
from modelmath.drawings.sizes import left_over, place_of, stands_where, stops_of

places = st.floats(-500, 500)
sizes = st.floats(0.5, 300)
LINES = st.text(max_size=300)


@given(places, places, sizes, sizes, st.floats(1, 20))
def test_hatch_lines_lie_at_45_degrees_inside_their_rectangle(x, y, width, height, step):
    for (left, low), (right, high) in hatch(x, y, width, height, step):
        assert right - left == pytest.approx(high - low, abs=1e-9)
        assert x - 1e-9 <= left < right <= x + width + 1e-9
        assert y - 1e-9 <= low < high <= y + height + 1e-9


@given(sizes, sizes, st.floats(1, 20))
def test_hatch_covers_its_rectangle(width, height, step):
    assume(width + height > 2 * step)
    lines = hatch(0, 0, width, height, step)
    assert len(lines) == pytest.approx((width + height) / step, abs=1.01)


@given(places, places, st.floats(6, 300), sizes)
def test_dots_lie_inside_their_rectangle(x, y, width, height):
    strokes = dots(x, y, width, height, 5)
    assert strokes
    for (left, low), (right, high) in strokes:
        assert x <= left < right <= x + width + 1e-9
        assert y < low == high < y + height


@given(LINES)
def test_plain_text_is_one_line_that_an_xml_file_can_hold(text):
    shown = plain(text)
    assert ET.fromstring(f"<t>{escape(shown)}</t>").text == (shown or None)
    assert len(shown.splitlines()) <= 1
    assert plain(shown) == shown


@given(LINES, st.floats(20, 400), st.floats(5, 19))
def test_wrapping_loses_no_sign_and_every_line_fits(text, width, size):
    lines = wrap(text, width, size)
    assert "".join("".join(lines).split()) == "".join(text.split())
    assert all(text_width(line, size) <= width for line in lines)


def test_stops_run_from_long_to_short_and_hold_every_part_once():
    plan = demo()
    stops = stops_of(plan.lines)
    assert [stop.length_mm for stop in stops] == sorted({line.part.cut.cut_mm for line in plan.lines}, reverse=True)
    assert sorted(line.part.name for stop in stops for line in stop.lines) == sorted(part.name for part in plan.parts)


def test_what_is_over_is_room_for_a_part_that_clears_and_sanding_for_a_filler():
    parts = {part.name: part for part in demo().parts}
    assert left_over(parts["bulkhead"]) == "0.18 mm room"  # 11.55 exact, 11.375 cut
    assert left_over(parts["side filler"]) == "sand 0.31 mm"  # 22 exact, 22.3125 cut


def test_places_are_told_from_the_mark():
    plan = demo()
    lines = {line.part.name: line for line in plan.lines}
    assert place_of(lines["bulkhead"], "rear hood screw") == "74.38 mm ahead of the rear hood screw"
    assert place_of(lines["corner post"], "rear hood screw") == "73.36 mm ahead of the rear hood screw"
    unplaced = next(line for line in least().lines if line.part.kind == "wall")
    assert place_of(unplaced, "rear hood screw") == ""


ALLOWED_FOR = "every setting below allows for that."


@pytest.mark.parametrize(
    ("offset", "datum", "text"),
    [
        ("0", "end", "Stand its end, which is its zero, at the part's edge."),
        ("1", "zero", "Stand its zero mark at the part's edge; what lies between its end and zero does not count."),
        ("1", "end", f"Stand its end at the part's edge. Its zero lies 3.50 mm in from the end; {ALLOWED_FOR}"),
        ("-1/2", "end", f"Stand its end at the part's edge. Its zero lies 1.75 mm beyond its worn end; {ALLOWED_FOR}"),
    ],
)
def test_the_card_says_what_of_the_rule_stands_at_the_edge(offset, datum, text):
    plan = demo()
    rule = {**plan.job.rules[0].model_dump(exclude_none=True), "zero_offset": offset}
    marking = {"rule": rule["name"], "finest": "1/8", "datum": datum}
    changed = demo(rules=[rule, plan.job.rules[1].model_dump(exclude_none=True)], marking=marking)
    assert stands_where(changed) == text

"""The trade curve's chart: words free and whole, jumps as jumps, lines told apart without colour."""

from __future__ import annotations

from html import unescape
from itertools import pairwise

import pytest
from drawings.charts.test_axes import assert_whole_and_free, labels
from hypothesis import given, settings
from hypothesis import strategies as st

from modelmath.drawings.charts.trade import trade_curve_figure, trade_curve_svg
from modelmath.drawings.shapes import Lines
from modelmath.enclosure import Cavity, Limits, Speaker, Zone
from modelmath.enclosure.choosing.trade import trade_curve

CAVITY = Cavity((Zone("motor", -20, 30, 9, 15, 10), Zone("cab", 30, 60, 3, 15, 10)), False, False)
CURVE = trade_curve(CAVITY, Limits(1, wall_mm=1), Speaker(25, 8, 1, 4))


def lines(drawing, name):
    return [shape for shape in drawing.shapes if isinstance(shape, Lines) and shape.name == name]


@settings(max_examples=30, deadline=None)
@given(st.sampled_from([320.0, 350.0, 480.0]), st.none() | st.floats(-40, 80), st.integers(1, 12), st.integers(1, 400))
def test_its_words_stand_free_and_whole(width, chosen, height, length):
    zones = (Zone("a", 0, length, 0, height, 10), Zone("b", length, length + 20, 0, 2 * height, 10))
    curve = trade_curve(Cavity(zones, False, False), Limits(0, wall_mm=0), points=3)
    for each in (curve, CURVE):
        drawing = trade_curve_figure(each, chosen, width)
        assert drawing.width == width
        assert_whole_and_free(drawing)


def test_jumps_are_gaps_with_a_dotted_line():
    drawing = trade_curve_figure(CURVE)
    assert CURVE.jumps
    runs = [run for shape in lines(drawing, "volume") for run in shape.runs]
    assert len(runs) > 2  # one of them in the key
    for run in runs:
        assert all(one[0] < other[0] for one, other in pairwise(run))
    for shape in lines(drawing, "jump"):
        assert all(one[0] == pytest.approx(other[0]) for run in shape.runs for one, other in pairwise(run))


def test_volume_and_height_differ_in_dashes_and_each_has_an_axis():
    drawing = trade_curve_figure(CURVE)
    assert {shape.pen.dashes for shape in lines(drawing, "volume")} == {()}
    assert all(shape.pen.dashes for shape in lines(drawing, "height"))
    assert all(shape.pen.dashes != lines(drawing, "jump")[0].pen.dashes for shape in lines(drawing, "height"))
    texts = {label.text for label in labels(drawing)}
    assert {"volume", "height", "the speaker does not fit here"} <= texts
    assert f"best: {float(CURVE.best.place_mm):.2f} mm" in texts


def test_it_is_told_in_words_too():
    svg = trade_curve_svg(CURVE, 10.0, 350)
    assert "chosen: 10.00 mm" in svg
    best = CURVE.best
    assert f"holds {float(best.volume_mm3) / 1000:.2f} cm3, is {float(best.height_mm):.2f} mm high" in svg


@pytest.mark.parametrize("mark", ["front body screw", "front end of the shell's inside"])
def test_the_axis_names_the_mark_that_places_count_from(mark):
    drawing = trade_curve_figure(CURVE, mark=mark)
    assert f"Bulkhead, mm from the {mark}" in " ".join(label.text for label in labels(drawing))
    assert_whole_and_free(trade_curve_figure(CURVE, width=320.0, mark=mark * 3))
    assert "mm from the front" in unescape(trade_curve_svg(CURVE, mark=mark))
    assert "mm from the fore-aft mark" in trade_curve_svg(CURVE)

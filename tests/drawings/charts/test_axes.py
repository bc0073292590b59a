"""A chart's ticks are round, its lines stay in the frame, and its words stand free and whole."""

from __future__ import annotations

import re
from decimal import Decimal
from itertools import combinations, pairwise

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from modelmath.drawings.charts.axes import Axes
from modelmath.drawings.charts.key import ROW, TEXT
from modelmath.drawings.charts.placing import Heading, beside, meet, stacked
from modelmath.drawings.charts.ticks import clipped, round_ticks, tick_texts
from modelmath.drawings.shapes import Box, Circle, Label, Lines, text_width
from modelmath.drawings.svg import to_svg
from modelmath.errors import OutOfRange

NUMBERS = st.floats(-1e6, 1e6, allow_subnormal=False)
WORDS = st.text(st.characters(codec="utf-8", exclude_categories=["C", "Z"]), min_size=1, max_size=30)


def extent(label):
    """Return left, low, right and top of a text; its descenders reach a quarter below the base line."""
    width = text_width(label.text, label.size)
    left = label.x - {"start": 0, "middle": width / 2, "end": width}[label.anchor]
    return left, label.y - label.size * 0.25, left + width, label.y + label.size * 0.75


def labels(drawing):
    return [shape for shape in drawing.shapes if isinstance(shape, Label)]


def assert_whole_and_free(drawing):
    """Every shape lies on the sheet, and no text on another."""
    top = drawing.low + drawing.height
    boxes = [extent(label) for label in labels(drawing)]
    for left, low, right, high in boxes:
        assert left >= -1e-6
        assert right <= drawing.width + 1e-6
        assert low >= drawing.low - 1e-6
        assert high <= top + 1e-6
    for one, other in combinations(boxes, 2):
        assert not meet(one, other), (one, other)
    for shape in drawing.shapes:
        if isinstance(shape, Lines):
            for x, y in (point for run in shape.runs for point in run):
                assert -1e-6 <= x <= drawing.width + 1e-6
                assert drawing.low - 1e-6 <= y <= top + 1e-6


# Ticks.


@given(NUMBERS, NUMBERS, st.integers(3, 12))
def test_ticks_enclose_a_range_in_round_steps(one, other, most):
    low, high = sorted((one, other))
    assume(high - low > 1e-6 * max(abs(low), abs(high), 1e-3))
    ticks = round_ticks(low, high, most)
    step = ticks[1] - ticks[0]
    assert 2 <= len(ticks) <= most
    assert ticks[0] <= low + 1e-6 * step
    assert ticks[-1] >= high - 1e-6 * step
    assert re.fullmatch(r"[125](\.0+)?e[+-]\d+", f"{step:.4e}")
    assert all(after - before == pytest.approx(step) for before, after in pairwise(ticks))
    # None to spare: the step below, at most 2.5 times finer, would need more ticks than there may be.
    assert (high - low) / (step / 2.5) > most - 3


@given(NUMBERS)
def test_a_range_of_no_width_still_gets_ticks_about_it(value):
    ticks = round_ticks(value, value)
    assert ticks[0] <= value <= ticks[-1]
    assert len(ticks) >= 2


@given(st.floats(-100, 100, allow_subnormal=False), st.floats(0.01, 100))
def test_tick_texts_say_the_ticks(low, width):
    ticks = round_ticks(low, low + width)
    texts = tick_texts(ticks)
    assert [float(text) for text in texts] == pytest.approx(list(ticks), abs=1e-9 * width)
    assert len({Decimal(text).as_tuple().exponent for text in texts}) == 1
    assert not any(re.fullmatch(r"-0(\.0+)?", text) for text in texts)


@pytest.mark.parametrize(("low", "high"), [(2, 1), (float("nan"), 1), (0, float("inf"))])
def test_a_range_that_is_none_is_refused(low, high):
    message = f"the axis is {low:g} to {high:g}; it must be a range of finite numbers, the lower first. Check it."
    with pytest.raises(OutOfRange, match=f"^{re.escape(message)}$"):
        round_ticks(low, high)


# Lines at the frame.


PLACES = st.floats(-10, 20).map(lambda place: round(place, 6))  # nothing is drawn finer


@given(st.lists(st.tuples(PLACES, PLACES), min_size=2, max_size=8))
def test_a_clipped_line_stays_in_the_frame_and_loses_nothing_there(points):
    from shapely import LineString, box

    frame = (0.0, 0.0, 10.0, 8.0)
    runs = clipped(points, frame)
    assert all(-1e-9 <= x <= 10 + 1e-9 and -1e-9 <= y <= 8 + 1e-9 for run in runs for x, y in run)
    inside = sum(LineString(pair).intersection(box(*frame)).length for pair in pairwise(points) if pair[0] != pair[1])
    drawn = sum(((x - u) ** 2 + (y - v) ** 2) ** 0.5 for run in runs for (x, y), (u, v) in pairwise(run))
    assert drawn == pytest.approx(inside, abs=1e-6)


# Places for words.

HEADINGS = st.lists(st.builds(Heading, st.floats(20, 460), st.floats(10, 200), st.integers(1, 2)), max_size=5)


@given(HEADINGS)
def test_words_above_the_frame_never_meet(headings):
    places = stacked(headings, 480)
    boxes = [
        (place.middle - each.width / 2, place.row, place.middle + each.width / 2, place.row + each.rows)
        for each, place in zip(headings, places, strict=True)
    ]
    assert not any(meet(one, other) for one, other in combinations(boxes, 2))
    assert all(left >= 0 and right <= 480 for left, _, right, _ in boxes)


@given(st.lists(st.builds(Heading, st.floats(150, 330), st.floats(10, 140)), min_size=2, max_size=4))
def test_a_line_leads_up_past_other_words_where_there_is_room_beside_them(headings):
    xs = sorted(each.x for each in headings)
    assume(all(after - before > 9 for before, after in pairwise(xs)))
    places = stacked(headings, 480)
    for each, place in zip(headings, places, strict=True):
        for other, own in zip(headings, places, strict=True):
            crossed = own.row < place.row and abs(each.x - own.middle) < other.width / 2
            assert not crossed


def test_words_beside_a_point_turn_away_from_what_is_there():
    frame = (0, 0, 100, 100)
    right = beside((50, 50), 20, 10, frame, [], [])
    assert right[0] > 50
    left = beside((50, 50), 20, 10, frame, [right], [])
    assert left[2] < 50
    above = beside((50, 50), 20, 10, frame, [], [((0, 50), (100, 50))])
    assert above[1] > 50
    assert beside((50, 50), 20, 10, frame, [frame], []) is None
    assert beside((98, 50), 20, 10, frame, [], [])[2] < 98


# The whole chart.


def chart(**changes):
    axes = Axes("Test", "mark, scale ft", "difference, mm", (0.3, 11.7), (-0.13, 0.21), **changes)
    points = [(1, 0.05), (2, 0.01), (4, 0.19), (6.5, -0.08), (11, 0.02)]
    axes.band("band", [(0, -0.05, 0.05), (6, -0.02, 0.02), (12, -0.06, 0.06)], key="how sure the line is")
    axes.line("zero", [(0, 0), (12, 0)], key="zero")
    axes.error_bars("bar", [(x, y - 0.05, y + 0.05) for x, y in points], key="one standard uncertainty")
    axes.points("gauge", points, key="gauge")
    axes.points("odd", points[2:3], "cross", key="a gauge that disagrees with the others")
    return axes


def test_a_point_lies_where_its_numbers_say():
    axes = chart()
    left, low, right, top = axes.frame
    assert axes.at(axes.x_ticks[0], axes.y_ticks[0]) == (pytest.approx(left), pytest.approx(low))
    assert axes.at(axes.x_ticks[-1], axes.y_ticks[-1]) == (pytest.approx(right), pytest.approx(top))
    middle = axes.at(sum(axes.x_ticks) / len(axes.x_ticks), sum(axes.y_ticks) / len(axes.y_ticks))
    assert middle == (pytest.approx((left + right) / 2), pytest.approx((low + top) / 2))


def test_a_full_chart_has_all_its_words_free_and_whole():
    axes = chart()
    axes.note(4, 0.19, "#43 drill shank")
    axes.note(6.5, -0.08, "strip by caliper")
    axes.marker(3, "largest part at 3 1/4")
    axes.marker(3.4, "free depth")
    axes.marker(11.9, "where the rule ends")
    drawing = axes.drawing()
    assert_whole_and_free(drawing)
    texts = {label.text for label in labels(drawing)}
    assert {"mark, scale ft", "difference, mm", "#43 drill shank", "strip by caliper", "free depth", "gauge"} <= texts
    assert all(label.size >= 12 for label in labels(drawing))
    assert drawing.shapes == axes.drawing().shapes


@given(
    st.lists(st.tuples(st.floats(0.3, 11.7), WORDS), max_size=4),
    st.lists(st.tuples(st.floats(0.3, 11.7), st.floats(-0.13, 0.21), WORDS), max_size=4),
    st.sampled_from([300.0, 480.0]),
)
def test_whatever_is_named_stays_whole_and_free(markers, notes, width):
    axes = chart(width=width)
    for x, words in markers:
        axes.marker(x, words)
    for x, y, words in notes:
        axes.note(x, y, words)
    assert_whole_and_free(axes.drawing())


@given(NUMBERS, st.floats(1e-3, 1e6), st.sampled_from([200.0, 320.0, 480.0]))
def test_whatever_the_numbers_are_the_axes_have_room(low, size, width):
    assume(size > 1e-4 * abs(low))
    axes = Axes("Test", "x", "y", (low, low + size), (low, low + size), width=width)
    assert_whole_and_free(axes.drawing())


def test_long_titles_and_keys_are_broken_into_lines():
    axes = Axes("Test", "x " * 60, "y " * 60, (0, 1), (0, 1), width=320)
    axes.line("line", [(0, 0), (1, 1)], key="word " * 20)
    drawing = axes.drawing()
    assert_whole_and_free(drawing)
    assert sum("word" in label.text for label in labels(drawing)) > 1


def test_what_lies_outside_is_not_drawn():
    axes = Axes("Test", "x", "y", (0, 10), (0, 10))
    axes.points("far", [(11, 5), (5, -1)])
    axes.line("far", [(0, 20), (10, 30)])
    axes.error_bars("far", [(12, 0, 5)])
    axes.marker(-1, "far")
    axes.note(5, 50, "far")
    shapes = axes.drawing().shapes
    assert not any(getattr(shape, "name", "") == "far" or getattr(shape, "text", "") == "far" for shape in shapes)


def test_a_bar_cut_off_by_the_frame_has_one_cap():
    axes = Axes("Test", "x", "y", (0, 10), (0, 10))
    axes.error_bars("bar", [(5, 5, 50)])
    (bar,) = (shape for shape in axes.drawing().shapes if isinstance(shape, Lines) and shape.name == "bar")
    assert len(bar.runs) == 2
    assert max(y for run in bar.runs for _, y in run) == pytest.approx(axes.frame[3])


def test_a_band_is_stroked_upright_in_register_from_edge_to_edge():
    axes = Axes("Test", "x", "y", (0, 10), (0, 10))
    axes.band("band", [(0, 2, 4), (3, 2, 6), (10, 1, 8)], step=5)
    (band,) = (shape for shape in axes.drawing().shapes if isinstance(shape, Lines) and shape.name == "band")
    xs = [run[0][0] for run in band.runs]
    assert all(before + 5 == pytest.approx(after) for before, after in pairwise(xs))
    assert all(low[0] == high[0] and low[1] < high[1] for low, high in band.runs)
    assert len(xs) == pytest.approx((axes.frame[2] - axes.frame[0]) / 5, abs=1)


def test_only_black_and_grey_and_no_sign_is_lost():
    drawing = chart().drawing()
    svg = to_svg(drawing, 480)
    assert all(one == two == three for one, two, three in re.findall(r"#(\w\w)(\w\w)(\w\w)\b", svg))
    assert sum(isinstance(shape, Circle) for shape in drawing.shapes) == 6  # five points, and one in the key
    assert not any(isinstance(shape, Box) for shape in drawing.shapes)
    assert ROW > TEXT

"""The residual figure shows what the calibration says, whole and readable."""

from __future__ import annotations

from itertools import combinations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from modelmath.drawings.charts.placing import meet
from modelmath.drawings.charts.residuals import residuals_figure
from modelmath.drawings.shapes import Circle, Label, Lines, text_width
from modelmath.lengths.calibration import Gauge
from modelmath.lengths.rules import Rule

RULE = Rule(scale="HO", graduation="1/4", read_to="1/16", name="HO rule")
SIZES = (2.0, 5.0, 9.0, 14.0, 22.0, 35.0)


def calibration(odd_by_mm=0.0, zero=False, sizes=SIZES, offset_mm=2.0, name="#43 drill shank"):
    gauges = [Gauge(f"{size}", size, (size - offset_mm) / 3.5) for size in sizes]
    if odd_by_mm:
        gauges[2] = Gauge(name, 9.0 + odd_by_mm, 2.0)
    if zero:
        gauges.append(Gauge("bar", 28.0, "8", "zero"))
    return RULE.calibrate(gauges)


def shapes(drawing, kind, name):
    return [shape for shape in drawing.shapes if isinstance(shape, kind) and shape.name == name]


def texts(drawing):
    return [shape.text for shape in drawing.shapes if isinstance(shape, Label)]


def boxes(drawing):
    for label in drawing.shapes:
        if isinstance(label, Label):
            width = text_width(label.text, label.size)
            left = label.x - {"start": 0, "middle": width / 2, "end": width}[label.anchor]
            yield left, label.y - label.size * 0.25, left + width, label.y + label.size * 0.75


def test_every_gauge_is_a_point_at_its_mark_with_both_bars():
    drawing = residuals_figure(calibration())
    *points, _key = shapes(drawing, Circle, "end")
    assert len(points) == 6
    assert [point.x for point in points] == sorted(point.x for point in points)
    # Equal steps of the mark are equal steps on the sheet: 9 mm is 4/9 of the way from 5 mm to 14 mm.
    assert (points[2].x - points[1].x) / (points[3].x - points[1].x) == pytest.approx(4 / 9)
    (zero,) = shapes(drawing, Lines, "zero")
    assert all(point.y == pytest.approx(zero.runs[0][0][1]) for point in points)
    for name in ("one u", "limit"):
        assert len(shapes(drawing, Lines, name)) == 6 + 1  # and one in the key
    assert "how sure the line is" in texts(drawing)


def test_bars_are_one_standard_uncertainty_and_the_limit():
    found = calibration()
    drawing = residuals_figure(found)
    heights = {
        name: shapes(drawing, Lines, name)[0].runs[0][1][1] - shapes(drawing, Lines, name)[0].runs[0][0][1]
        for name in ("one u", "limit")
    }
    assert heights["limit"] / heights["one u"] == pytest.approx(found.agreement.limit)


def test_a_gauge_that_disagrees_is_crossed_and_named():
    drawing = residuals_figure(calibration(0.8))
    assert "#43 drill shank" in texts(drawing)
    cross, _key = shapes(drawing, Lines, "odd")
    assert "disagrees" in texts(drawing)
    odd = shapes(drawing, Circle, "end")[2]
    (x, y), (right, top) = cross.runs[0]
    assert ((x + right) / 2, (y + top) / 2) == (pytest.approx(odd.x), pytest.approx(odd.y))
    assert shapes(drawing, Lines, "others")
    assert "#43 drill shank (0.80 ± " in drawing.description


def test_none_is_crossed_where_all_agree():
    drawing = residuals_figure(calibration())
    assert not shapes(drawing, Lines, "odd")
    assert not shapes(drawing, Lines, "others")
    assert drawing.description.endswith("The gauges agree with each other.")


def test_gauges_from_the_zero_mark_have_their_own_sign():
    drawing = residuals_figure(calibration(zero=True))
    assert len(shapes(drawing, Circle, "zero")) == 2
    assert "gauge, read from the rule's zero" in texts(drawing)
    alone = RULE.calibrate([Gauge("bar", 28.0, "8", "zero"), Gauge("block", 14.0, "4", "zero")])
    assert not shapes(residuals_figure(alone), Circle, "end")


@given(
    st.sampled_from([0.0, 0.5, -0.8, 3.0]),
    st.booleans(),
    st.floats(-2, 30),
    st.sampled_from([320.0, 480.0]),
    st.text(st.characters(codec="utf-8", exclude_categories=["C", "Z"]), min_size=1, max_size=60),
)
def test_its_words_are_whole_free_and_large_enough(odd, zero, offset, width, name):
    drawing = residuals_figure(calibration(odd, zero, offset_mm=offset, name=name), width)
    found = list(boxes(drawing))
    assert not any(meet(one, other) for one, other in combinations(found, 2))
    assert all(left >= 0 and right <= width and low >= drawing.low for left, low, right, _ in found)
    assert all(high <= drawing.low + drawing.height for *_, high in found)
    assert all(shape.size >= 12 for shape in drawing.shapes if isinstance(shape, Label))


def test_a_single_gauge_has_a_figure_too():
    drawing = residuals_figure(calibration(sizes=(9.0,)))
    assert len(shapes(drawing, Circle, "end")) == 2

"""The drawing of a lens on its strand."""

from __future__ import annotations

from math import sqrt

import pytest
from hypothesis import given
from hypothesis import strategies as st

from modelmath.drawings.shapes import Label, Lines, bottom_of, text_width, top_of
from modelmath.drawings.svg import to_svg
from modelmath.drawings.wiring.lens_end import WIDTH, lens_end
from modelmath.light.lens.melt import lens_melt_length

ends = st.tuples(st.integers(10, 500), st.floats(1.01, 4), st.floats(1, 3)).map(
    lambda each: lens_melt_length(each[0] / 100, each[0] / 100 * each[1], each[0] / 100 * each[1] * each[2])
)


def runs_of(drawing, name):
    return [run for shape in drawing.shapes if isinstance(shape, Lines) and shape.name == name for run in shape.runs]


def span(points, axis):
    along = [point[axis] for point in points]
    return max(along) - min(along)


@given(ends)
def test_one_scale_along_and_across(melt):
    """The strand's width, the lens's width, its head and the melted length are to each other as they are in mm."""
    drawing = lens_end(melt)
    (outline,), (dashed,) = runs_of(drawing, "lens"), runs_of(drawing, "before")
    unit = span(dashed, 1) / float(melt.end.strand_mm)
    assert span(dashed, 0) == pytest.approx(melt.melted_mm * unit)
    assert span(outline, 1) == pytest.approx(float(melt.end.diameter_mm) * unit, rel=3e-3)  # in steps of its angle
    plane = min(x for x, _ in dashed)
    assert max(x for x, _ in outline) - plane == pytest.approx(melt.head_length_mm * unit)


def test_a_round_head_by_its_own_geometry():
    """A sphere of 1.2 mm from where it is 0.75 mm wide: 0.6 + sqrt(0.6^2 - 0.375^2) mm to its tip."""
    drawing = lens_end(lens_melt_length(0.75, 1.2))
    (outline,), (dashed,) = runs_of(drawing, "lens"), runs_of(drawing, "before")
    unit = span(dashed, 1) / 0.75
    head = (max(x for x, _ in outline) - min(x for x, _ in dashed)) / unit
    assert head == pytest.approx(0.6 + sqrt(0.6**2 - 0.375**2))


@given(ends)
def test_everything_lies_on_the_sheet(melt):
    drawing = lens_end(melt)
    assert drawing.width == WIDTH
    for shape in drawing.shapes:
        assert bottom_of(shape) >= 0
        assert top_of(shape) <= drawing.height
        if isinstance(shape, Lines):
            assert all(0 <= x <= WIDTH for run in shape.runs for x, _ in run)
        else:
            width = text_width(shape.text, shape.size)
            left = shape.x - {"start": 0, "middle": width / 2, "end": width}[shape.anchor]
            assert left >= 0
            assert left + width <= WIDTH


def test_its_words_and_what_is_heard():
    drawing = lens_end(lens_melt_length(0.75, 1.2))
    words = [shape.text for shape in drawing.shapes if isinstance(shape, Label)]
    assert words == ["melted 1.98 mm", "stands out 1.07 mm", "0.75 mm", "1.20 mm"]
    assert drawing.description == (
        "A strand 0.75 mm thick with a lens 1.20 mm wide that stands out 1.07 mm; 1.98 mm of strand, in dashes, go "
        "into it."
    )
    svg = to_svg(drawing, 480)
    assert svg.count("<path") == 7  # axis, dashes, lens, and four sizes
    assert "nan" not in svg

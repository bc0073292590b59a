"""The prototype page, driven in Python, and its figures."""

from __future__ import annotations

import re
from fractions import Fraction
from html import unescape
from xml.etree import ElementTree as ET

import pytest
from hypothesis import given
from hypothesis import strategies as st

from modelmath.drawings.charts.agreement import agreement
from modelmath.drawings.charts.same_length import same_length
from modelmath.drawings.shapes import Box, Label, Lines, text_width
from modelmath.drawings.svg import to_svg
from modelmath.lengths.full_size.from_drawing import Deviation
from modelmath.lengths.full_size.resizing import in_scales
from modelmath.lengths.prototype import PrototypeLength
from modelmath.lengths.scales import all_scales
from modelmath.lengths.uncertain import normal
from modelmath.widgets.common.look import LAST
from modelmath.widgets.prototype import PrototypePanel


def plain(html: str) -> str:
    return " ".join(unescape(re.sub(r"<[^>]+>|&nbsp;", " ", html)).split())


@pytest.fixture
def panel() -> PrototypePanel:
    return PrototypePanel()


def test_a_prototype_size_in_the_model_s_scale_and_others(panel):
    """3.5 mm, 1.905 mm, 6.35 mm and 4.7625 mm to the foot, by definition, times 50 feet."""
    panel.fields["size"].value = "50 ft"
    assert plain(panel.answer.value).startswith("On the HO model 175.00 mm 6.890 in At the nearest mark of a rule")
    for cell in ("HO 175.00 mm", "N 95.25 mm", "O 317.50 mm", "S 238.13 mm"):
        assert cell in plain(panel.table.value)
    panel.fields["scale"].value = "TT"
    assert plain(panel.answer.value).startswith("On the TT model 127.00 mm 5.000 in")
    panel.fields["more"].value = "1:29"
    assert "1:29 525.52 mm" in plain(panel.table.value)
    assert "<svg" in panel.figure.value


def test_a_bad_size_keeps_the_last_answer_and_says_what_to_write(panel):
    before = panel.answer.value
    for wrong, said in (("40", "it has no unit"), ("-3 ft", "it must be above 0"), ("<b>", "no number")):
        panel.fields["size"].value = wrong
        assert said in plain(panel.fields["size"].message)
        assert plain(panel.answer.value) == f"{LAST} {plain(before)}"
        assert "mm-stale" in panel.answer.value
        assert "<b>" not in panel.fields["size"].message
    panel.fields["size"].value = "40' 6\""
    assert panel.answer.value == before
    assert 'role="alert"' not in panel.fields["size"].message


def test_a_scale_that_is_none_is_said_at_its_field_and_the_rest_stands(panel):
    panel.fields["more"].value = "hoo"
    assert "did you mean OO, HO, O?" in plain(panel.fields["more"].message)
    assert "HO 141.75 mm" in plain(panel.table.value)


def test_back_to_the_prototype(panel):
    panel.fields["model"].value = "12.25 mm"
    assert "HO 3' 6\" 1.067 m" in plain(panel.back.value)
    panel.fields["model"].value = "3 1/2 scale ft"
    assert "HO 3' 6\" 1.067 m" in plain(panel.back.value)
    panel.fields["model"].value = "12"
    assert "it has no unit" in plain(panel.fields["model"].message)
    assert plain(panel.back.value).startswith(LAST)


def test_from_one_scale_to_another(panel):
    panel.sizes.value = "walkway; 12.25 mm\nroof; 12\n<i>; 1 mm"
    said = plain(panel.resized.value)
    assert "All times 0.544286 (381/700)" in said
    assert "walkway 12.25 mm 12.25 mm 6.67 mm 0.263 in" in said
    assert "Line 2, kept aside: '12': it has no unit" in said
    assert "<i>" not in panel.resized.value
    panel.fields["to"].value = "HO"
    assert "walkway 12.25 mm 12.25 mm 12.25 mm" in plain(panel.resized.value)


def test_areas_and_volumes(panel):
    """42.875 mm3 to the cubic foot in HO, by definition, times 4000."""
    assert "HO 1176 mm2 1.823 sq in 171.5 cm3 10.47 cu in" in plain(panel.spaces.value)
    before = panel.spaces.value
    panel.fields["volume"].value = "8000 gal"
    assert "gallons differ" in plain(panel.fields["volume"].message)
    panel.fields["area"].value = "12"
    assert "it has no unit" in plain(panel.fields["area"].message)
    assert plain(panel.spaces.value) == f"{LAST} {plain(before)}"
    panel.fields["volume"].value = "30 m3"
    assert "1059" in plain(panel.fields["volume"].message)  # 30 / 0.3048^3, by definition
    assert 'role="alert"' not in panel.fields["volume"].message
    assert 'role="alert"' in panel.fields["area"].message


def test_which_scale(panel):
    said = plain(panel.found.value)
    assert said.startswith("Ratio 1:87.06 ± 0.18")
    assert "HO 1:87.09 -0.04 % -0.11 mm yes" in said
    panel.fields["part"].value = "0 mm"
    assert "above 0" in plain(panel.fields["part"].message)
    panel.fields["part"].value = "63.5 mm"
    assert "Z (NEM), Z 1:220" in plain(panel.found.value)
    panel.fields["part"].value = "long"
    panel.fields["full"].value = "50'"
    assert 'role="alert"' in panel.fields["part"].message
    assert plain(panel.fields["full"].message).startswith("50'")
    assert plain(panel.found.value).startswith(LAST)
    panel.fields["full"].value = "40"
    assert "it has no unit" in plain(panel.fields["full"].message)


def test_sizes_from_a_drawing(panel):
    drawing = panel.drawing
    drawing.known.value = "ends; 40' 6\"; 257.175\nroof; 36 ft; 228.6\ntrucks; 30' 3\"; 192.0875"
    drawing.wanted.value = "door; 44.45\nwindow; x"
    assert "1:48.000 ± 0.035" in plain(drawing.answer.value)
    assert "1:48 (1/4 in to the foot; O) lies within" in plain(drawing.answer.value)
    assert "Line 2, kept aside" in plain(drawing.sizes.value)
    # By hand: 2 x 0.25 / sqrt(3) = 0.289 mm of 44.45 is 0.65 %, of 7 ft 0.55 in; the ratio adds nothing to see.
    assert 'door 44.45 24.50 ± 0.16 mm 7\' 0" ± 0.55" 2134 ± 14 mm' in plain(drawing.sizes.value)
    panel.fields["scale"].value = "S"
    assert "33.34 ± 0.22 mm" in plain(drawing.sizes.value)
    assert "<svg" in drawing.figure.value


def test_one_known_dimension_has_no_figure_and_none_no_sizes(panel):
    drawing = panel.drawing
    drawing.known.value = "40' 6\"; 257.175"
    assert "nothing checks it" in plain(drawing.answer.value)
    assert drawing.figure.value == ""
    drawing.known.value = ""
    assert "Give at least one known dimension" in plain(drawing.answer.value)
    assert drawing.sizes.value == ""
    assert panel.summary.endswith("No known dimension on the drawing yet.")


def test_the_other_way_is_only_a_check(panel):
    drawing = panel.drawing
    before = drawing.answer.value
    drawing.upright.value = "13' 2\"; 70"
    assert "Along and upright disagree" in plain(drawing.checked.value)
    assert drawing.answer.value == before
    drawing.upright.value = ""
    assert drawing.checked.value == ""


def test_a_picture_in_pixels(panel):
    drawing = panel.drawing
    drawing.unit.value = "px"
    assert "253.9" in drawing.known.value
    assert "1 pixel is" in plain(drawing.answer.value)
    drawing.plus_minus.value = "0.25 mm"
    assert "measured in pixels" in plain(drawing.plus_minus.message)
    assert plain(drawing.answer.value).startswith(LAST)
    assert plain(drawing.sizes.value).startswith(LAST)


def test_the_summary_is_plain_text(panel):
    assert panel.summary.startswith("40' 6\" on the prototype: HO 141.75 mm, N 77.15 mm, O 257.18 mm, S 192.88 mm.\n")
    assert "<" not in panel.summary


def extent(drawing):
    """Return how far right, left and low the shapes of a drawing reach."""
    for shape in drawing.shapes:
        if isinstance(shape, Label):
            wide = text_width(shape.text, shape.size)
            left = shape.x - {"start": 0, "middle": wide / 2, "end": wide}[shape.anchor]
            yield left, left + wide, shape.y, shape.y + shape.size
        elif isinstance(shape, Box):
            yield shape.x, shape.x + shape.width, shape.y, shape.y + shape.height
        elif isinstance(shape, Lines):
            for run in shape.runs:
                for x, y in run:
                    yield x, x, y, y


def stays_on_its_sheet(drawing):
    ET.fromstring(to_svg(drawing, 560))
    for left, right, low, high in extent(drawing):
        assert left >= -1e-9
        assert right <= drawing.width + 1e-9
        assert 0 <= low <= high <= drawing.height + 1e-9
    return True


@given(
    st.fractions(Fraction(1, 1000), 10**6, max_denominator=1000),
    st.lists(st.sampled_from(all_scales()), min_size=1, max_size=12, unique=True),
)
def test_bars_are_in_true_proportion_and_stay_on_their_sheet(feet, scales):
    sizes = in_scales(PrototypeLength(feet), scales)
    drawing = same_length(PrototypeLength(feet), sizes, scales[0].name)
    assert stays_on_its_sheet(drawing)
    bars = [shape.width for shape in drawing.shapes if isinstance(shape, Box) and shape.name == "bar"]
    longest = max(each.mm for each in sizes)
    expected = sorted((float(each.mm / longest) * (drawing.width - 2) for each in sizes), reverse=True)
    assert bars == pytest.approx([max(1.0, each) for each in expected])


@given(st.lists(st.tuples(st.text(max_size=60), st.floats(-0.5, 0.5), st.floats(1e-6, 0.2)), min_size=2, max_size=20))
def test_the_figure_of_agreement_stays_on_its_sheet(rows):
    drawing = agreement([Deviation(name, normal(off, u, "x"), 2.4) for name, off, u in rows])
    assert stays_on_its_sheet(drawing)
    dots = [shape for shape in drawing.shapes if isinstance(shape, Box)]
    assert [dot.fill == 1.0 for dot in dots] == [abs(off) > 2.4 * u for _, off, u in rows]

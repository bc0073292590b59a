"""The skyline's chart: steps where the numbers say, words free and whole, what can't be is refused."""

from __future__ import annotations

import re
from html import unescape

import pytest
from drawings.charts.test_axes import assert_whole_and_free, labels
from hypothesis import given, settings
from hypothesis import strategies as st

from modelmath.drawings.charts.skyline import SkylineStretch, skyline_figure, skyline_svg
from modelmath.drawings.shapes import Lines
from modelmath.errors import OutOfRange

WORDS = st.text(st.characters(codec="utf-8", exclude_categories=["C", "Z"]), min_size=1, max_size=25)
STRETCHES = [
    SkylineStretch("pilot", -75, -60, 12, 0.1, 0.3),
    SkylineStretch("truck at full swing", -60, -38, 6.5, 0.3, 0.8, moving=True),
    SkylineStretch("motor", -38, 34, -1.0, 0.1),
]


@st.composite
def skylines(draw):
    place, found = draw(st.integers(-90, 0)), []
    for _ in range(draw(st.integers(1, 9))):
        place += draw(st.integers(0, 1)) * 3
        end = place + draw(st.integers(1, 40))
        sure = [draw(st.floats(0, 1)) for _ in range(2)]
        found.append(SkylineStretch(draw(WORDS), place, end, draw(st.floats(-3, 25)), *sure, draw(st.booleans())))
        place = end
    return found


@settings(max_examples=60, deadline=None)
@given(skylines(), st.sampled_from([350.0, 480.0]))
def test_its_words_stand_free_and_whole(stretches, width):
    drawing = skyline_figure(stretches, width)
    assert_whole_and_free(drawing)
    told = " ".join(label.text for label in labels(drawing)).replace(" ", "")
    for each in stretches:
        assert each.name in drawing.description
        if len(each.name) < 12 and len(stretches) == 1:
            assert each.name in told


def test_each_step_is_as_long_as_its_stretch_and_as_high_as_its_depth():
    drawing = skyline_figure(STRETCHES)
    steps = [s for s in drawing.shapes if isinstance(s, Lines) and s.name == "depth"][:3]
    ends = [(run[0], run[-1]) for shape in steps for run in shape.runs]
    assert all(one[1] == pytest.approx(other[1]) for one, other in ends)
    wide = [other[0] - one[0] for one, other in ends]
    assert wide[1] / wide[0] == pytest.approx(22 / 15)
    assert wide[2] / wide[0] == pytest.approx(72 / 15)
    high = [one[1] for one, _ in ends]
    assert (high[0] - high[2]) / (high[0] - high[1]) == pytest.approx(13 / 5.5)
    assert [bool(shape.pen.dashes) for shape in steps] == [False, True, False]


def test_names_too_wide_for_their_steps_are_numbered_and_told_below():
    texts = [label.text for label in labels(skyline_figure(STRETCHES, 350))]
    assert {"1", "2", "3"} <= set(texts)
    assert "1 pilot; 2 truck at full swing; 3 motor" in " ".join(texts)
    assert "no depth left below this" in texts


def test_it_is_told_in_words_too():
    assert "truck at full swing: -60.00 to -38.00 mm, 6.50 mm free within 0.60, set by what moves" in (
        skyline_svg(STRETCHES, 350)
    )


@pytest.mark.parametrize(
    ("stretches", "message"),
    [
        (list, "the skyline is without stretches; it must be one stretch or more. Measure a depth first."),
        (
            lambda: [SkylineStretch("a", 5, 5, 3)],
            "stretch 'a' is 0.00 mm long; it must be longer than 0. Check where it starts and ends.",
        ),
        (
            lambda: [SkylineStretch("a", 0, 5, 3, -1)],
            "stretch 'a': uncertainty of its depth is -1 mm; it must be 0 or more. Write 0 mm where it is exact.",
        ),
        (
            lambda: [SkylineStretch("a", 0, 5, 3), SkylineStretch("b", 4, 9, 3)],
            (
                "stretch 'b' is starting at 4.00 mm; it must be at or behind the end of 'a', 5.00 mm. "
                "Give each stretch of the length once."
            ),
        ),
    ],
)
def test_what_is_refused(stretches, message):
    with pytest.raises(OutOfRange, match=f"^{re.escape(message)}$"):
        skyline_figure(stretches())


@pytest.mark.parametrize("mark", ["front body screw", "front end of the shell's inside"])
def test_the_axis_names_the_mark_that_places_count_from(mark):
    drawing = skyline_figure(STRETCHES, mark=mark)
    assert f"Along the length, mm from the {mark}" in " ".join(label.text for label in labels(drawing))
    assert_whole_and_free(skyline_figure(STRETCHES, 350, mark * 3))
    assert "mm from the front" in unescape(skyline_svg(STRETCHES, mark=mark))
    assert "mm from the fore-aft mark" in skyline_svg(STRETCHES)

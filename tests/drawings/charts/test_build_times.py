"""The chart of a build: bars where the steps are worked and left alone, in true proportion to the hours."""

from __future__ import annotations

import pytest

from modelmath.drawings.charts.build_times import build_times_figure, build_times_svg
from modelmath.drawings.shapes import Box, Label
from modelmath.errors import OutOfRange
from modelmath.job.building.network import Task, one_pair_of_hands

TASKS = [Task("glue", 30, 600), Task("drill", 60), Task("fit", 90, 120, ("glue", "drill"))]
NUMBERS = {"glue": 1, "drill": 2, "fit": 3}


def figure(**fields):
    return build_times_figure(one_pair_of_hands(TASKS), NUMBERS, **fields)


def bars(drawing, name):
    """The bars of the steps; the key's own stands below them all."""
    lowest = min(each.y for each in drawing.shapes if isinstance(each, Box))
    return [each for each in drawing.shapes if isinstance(each, Box) and each.name == name and each.y > lowest + 1]


def test_bars_are_as_long_as_the_work_and_the_wait():
    drawing = figure()
    work = bars(drawing, "work")
    assert [each.width / work[0].width for each in work] == pytest.approx([1, 2, 3])
    waits = bars(drawing, "wait")
    assert [each.width / work[0].width for each in waits] == pytest.approx([20, 4])


def test_bars_begin_where_the_step_begins_by_hand():
    """Glue 0 to 30 min and dry at 630; drill 30 to 90; fit from 630."""
    work = bars(figure(), "work")
    scale = work[0].width / 30
    assert [(each.x - work[0].x) / scale for each in work] == pytest.approx([0, 30, 630])
    waits = bars(figure(), "wait")
    assert [(each.x - work[0].x) / scale for each in waits] == pytest.approx([30, 720])


def test_each_step_is_named_with_its_number_and_the_longest_chain_is_bold():
    labels = [each for each in figure(critical={"glue", "fit"}).shapes if isinstance(each, Label)]
    named = {each.text: each.bold for each in labels if each.text in ("1 glue", "2 drill", "3 fit")}
    assert named == {"1 glue": True, "2 drill": False, "3 fit": True}


@pytest.mark.parametrize("width", [320.0, 480.0, 900.0])
def test_nothing_reaches_over_the_sheet(width):
    drawing = figure(width=width)
    for each in drawing.shapes:
        if isinstance(each, Box):
            assert each.x >= 0
            assert each.x + each.width <= width
            assert drawing.low <= each.y


def test_it_is_told_in_words_too():
    assert "1 glue from 0.0 h, 30 min work, 600 min alone" in figure().description
    assert build_times_svg(one_pair_of_hands(TASKS), NUMBERS).count("<svg") == 1


def test_no_steps_are_refused():
    with pytest.raises(OutOfRange, match=r"^the steps"):
        build_times_figure([], {})

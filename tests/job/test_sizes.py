"""Sizes at the marks: a larger one touches more often, and the plan's own is among them."""

from __future__ import annotations

import pytest
from sample_jobs import DEMOS, SMALLEST, job, with_chamber

from modelmath import plan
from modelmath.job.room_left.gap import gap_with
from modelmath.job.room_left.sizes import accepted_in_words, chance_in_words

JOBS = {**DEMOS, "smallest": job(), "with a chamber": with_chamber()}


@pytest.mark.parametrize("name", JOBS)
def test_the_larger_the_likelier_to_touch_and_one_is_the_plan_s(name):
    found = plan(JOBS[name])
    rows = found.sizes
    heights = [row.height_mm for row in rows]
    assert heights == sorted(heights, reverse=True)
    assert [row.chance for row in rows] == sorted((row.chance for row in rows), reverse=True)
    (chosen,) = [row for row in rows if row.chosen]
    assert chosen.height_mm == found.chamber_height_mm
    assert (chosen.left_mm, chosen.chance) == (found.gap.left_mm, found.gap.chance)
    assert chosen.keeps


@pytest.mark.parametrize("name", JOBS)
def test_each_size_is_a_mark_and_leaves_what_it_says(name):
    found = plan(JOBS[name])
    step = found.marks.rule.given_mm(found.marks.finest) * (1 + found.marks.rule.scale_error)
    for above, below in zip(found.sizes, found.sizes[1:], strict=False):
        assert above.height_mm - below.height_mm == step
        assert below.left_mm - above.left_mm == step
    for row in found.sizes:
        gap = gap_with(found, row.height_mm)
        assert (row.left_mm, row.chance) == (gap.left_mm, gap.chance)
        assert row.at_worst_mm == pytest.approx(gap.at_worst_mm)
        assert row.accepted == (row.chance <= gap.wanted_chance)
        assert row.keeps == (row.left_mm >= gap.kept_mm)
        if found.bulkhead is not None:
            assert row.setting.on_mark
            back = found.marks.rule.exact_length(str(row.setting.mark), found.marks.datum)
            assert back == row.height_mm


@pytest.mark.parametrize("name", JOBS)
def test_the_next_mark_up_would_keep_too_little(name):
    rows = plan(JOBS[name]).sizes
    place = next(at for at, row in enumerate(rows) if row.chosen)
    assert place > 0
    assert not rows[place - 1].keeps
    assert sum(row.left_mm < 0 for row in rows) <= 1  # one that is too large on paper is enough


def test_a_size_that_keeps_the_clearance_but_not_the_accepted_chance_is_told_apart():
    clearance = {"keep": "0.1 mm", "chance": 0.001}
    chosen = next(row for row in plan(job(clearance=clearance)).sizes if row.chosen)
    assert (chosen.keeps, chosen.accepted) == (True, False)


def test_no_size_is_0_or_below():
    readings = [{"name": "roof", "mark": "1"}, {"name": "motor top", "mark": "0"}]
    clearance = {"keep": "0.2 mm"}
    rows = plan(job(readings=readings, clearance=clearance, marking={**SMALLEST["marking"], "datum": "zero"})).sizes
    assert min(row.height_mm for row in rows) > 0
    assert any(row.chosen for row in rows)


@pytest.mark.parametrize(
    ("chance", "words"),
    [
        (1.0, "all but certain"),
        (0.995, "all but certain"),
        (0.99, "99 %"),
        (0.1, "10 %"),
        (0.0999, "about 1 in 10"),
        (1 / 3000, "about 1 in 3,000"),
        (1e-6, "about 1 in 1,000,000"),
        (9.99e-7, "less than 1 in 1,000,000"),
        (0.0, "none"),
    ],
)
def test_chances_in_words(chance, words):
    assert chance_in_words(chance) == words


def test_an_accepted_chance_is_exact_in_words():
    assert [accepted_in_words(each) for each in (0.5, 0.01, 0.005, 0.001)] == [
        "1 in 2",
        "1 in 100",
        "1 in 200",
        "1 in 1,000",
    ]


def test_the_list_goes_down_to_a_size_that_is_accepted():
    """With fine marks the sizes next to the chosen one may all touch too often; one that does not is still shown."""
    fine = DEMOS["railcar-n"].model_copy(deep=True)
    fine.marking.finest = "0.05"
    fine.clearance.keep = "0.1 mm"
    rows = plan(fine).sizes
    assert not next(row for row in rows if row.chosen).accepted
    assert rows[-1].accepted

"""The check list in the walkthrough: ticks go into the job, holds wait for their checks, what was measured is told."""

from __future__ import annotations

import re
from html import unescape

import pytest

from modelmath.job import load_job
from modelmath.job.document import Job
from modelmath.widgets import EnclosurePanel


@pytest.fixture(autouse=True)
def workbook(tmp_path, monkeypatch):
    """A workbook folder of its own for every test."""
    monkeypatch.chdir(tmp_path)
    return tmp_path


def plain(html: str) -> str:
    return " ".join(unescape(re.sub(r"<[^>]+>|&nbsp;", " ", html)).split())


@pytest.fixture
def panel() -> EnclosurePanel:
    found = EnclosurePanel.demo("railcar-n")
    found.folds["order"].head.value = True
    return found


def test_every_step_and_check_has_a_box(panel):
    steps = panel.plan.steps
    assert list(panel.within.building.boxes) == [step.key for step in steps]
    for step in steps:
        boxes = panel.within.building.boxes[step.key]
        assert len(boxes.checks) == len(step.checks)
        assert step.text in plain(boxes.text.value)
        assert boxes.done.disabled == (step.hold and bool(step.checks))


def test_a_tick_goes_into_the_job_and_the_boxes_stay_the_same_ones(panel):
    build = panel.within.building
    before = build.boxes["cut"].done
    build.boxes["cut"].done.value = True
    assert panel.plan.job.progress.done == ["cut"]
    assert build.boxes["cut"].done is before
    assert before.value
    assert plain(build.summary.value).startswith(f"1 of {len(panel.plan.steps)} steps are done.")
    before.value = False
    assert panel.plan.job.progress.done == []


def test_a_hold_opens_once_each_of_its_checks_is_ticked(panel):
    hold = panel.within.building.boxes["dry fit"]
    assert hold.done.disabled
    assert "first tick each of its checks" in hold.done.description
    for box in hold.checks.values():
        box.value = True
    assert not hold.done.disabled
    hold.done.value = True
    assert panel.plan.job.progress.done == ["dry fit"]
    next(iter(hold.checks.values())).value = False
    assert hold.done.disabled
    assert not hold.done.value


def test_another_size_keeps_the_ticks_and_the_boxes(panel):
    build = panel.within.building
    build.boxes["cut"].done.value = True
    boxes = dict(build.boxes)
    height = panel.plan.bulkhead.cut.cut_mm
    panel.fields["keep"].value = "0.6 mm"
    assert panel.plan.bulkhead.cut.cut_mm != height
    assert build.boxes == boxes
    assert build.boxes["cut"].done.value


def test_ticks_are_saved_with_the_job_and_read_again(panel, workbook):
    panel.within.building.boxes["cut"].done.value = True
    panel.save()
    (file,) = [each for each in workbook.rglob("*.toml") if "railcar" in each.name]
    assert load_job(file).progress.done == ["cut"]


def test_what_was_measured_is_told_against_the_plan_and_solved_for_what_is_uncut(panel):
    build = panel.within.building
    assert "Nothing measured yet" in plain(build.built.value)
    build.value.value = "0.1"
    build.keep.click()
    assert "it has no unit" in plain(build.value.message)
    build.value.value = "0.1 mm"
    build.keep.click()
    said = plain(build.built.value)
    assert "The room left is 0.10 mm" in said
    assert "The chance that something touches is now" in said
    assert "Cut anew, by what was measured" in said
    assert "bulkhead" in said
    build.value.value = ""
    build.keep.click()
    assert "Nothing measured yet" in plain(build.built.value)


def test_a_new_model_shows_no_steps_of_the_one_before(panel):
    panel.chooser.value = "(new model)"
    assert panel.within.building.listed.children == ()
    assert (
        panel.within.building.summary.value
        == panel.within.building.chart.value
        == panel.within.building.built.value
        == ""
    )


def test_all_done_says_so_and_draws_nothing(panel):
    job: Job = panel.plan.job
    steps = panel.plan.steps
    progress = {
        "done": [step.key for step in steps],
        "ticked": [key for boxes in panel.within.building.boxes.values() for key in boxes.checks],
    }
    done = EnclosurePanel(Job.model_validate({**job.model_dump(), "progress": progress}))
    done.folds["order"].head.value = True
    assert plain(done.within.building.summary.value).startswith("All steps are done.")
    assert "<svg" not in done.within.building.chart.value

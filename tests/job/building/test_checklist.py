"""Steps and checks ticked off: kept by what they are called, holds only with all their checks, nothing lost."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st
from sheets import demo

from modelmath.errors import UnknownChoice
from modelmath.job import plan
from modelmath.job.building.checklist import Progress, check_key, progress_of, with_done, with_tick
from modelmath.job.building.step import Step
from modelmath.job.storage.text import job_text, parse_job

PLAN = demo("switcher-ho")
STEPS = PLAN.steps
CHECKS = [check_key(step, check) for step in STEPS for check in step.checks]


def replanned(job):
    return progress_of(plan(job))


def ticked_all(job, step):
    for check in step.checks:
        job = with_tick(job, STEPS, check_key(step, check), True)
    return job


def test_nothing_is_done_at_first():
    found = progress_of(PLAN)
    assert (found.done, found.ticked, found.lost, found.share) == (frozenset(), frozenset(), (), 0)
    free = [step.key for step in STEPS if not step.needs]
    assert [step.key for step in found.can_be_done] == free
    numbers = ", ".join(str(step.number) for step in STEPS if not step.needs)
    assert found.in_words == f"0 of {len(STEPS)} steps are done. What can be done now: steps {numbers}."


@given(st.lists(st.sampled_from([step.key for step in STEPS]), max_size=30), st.data())
def test_done_and_undone_leave_what_was_last_said(keys, data):
    job, last = PLAN.job, {}
    for key in keys:
        last[key] = data.draw(st.booleans())
        job = with_done(job, STEPS, key, last[key])
    assert set(job.progress.done) == {key for key, done in last.items() if done}
    assert len(job.progress.done) == len(set(job.progress.done))
    assert PLAN.job.progress.done == []


def test_a_hold_is_done_only_once_each_of_its_checks_is_ticked():
    (hold,) = [step for step in STEPS if step.key == "dry fit"]
    job = with_done(PLAN.job, STEPS, "dry fit", True)
    assert "dry fit" not in replanned(job).done
    *most, last = hold.checks
    for check in most:
        job = with_tick(job, STEPS, check_key(hold, check), True)
    assert replanned(job).open_checks(hold) == (last,)
    job = with_tick(job, STEPS, check_key(hold, last), True)
    assert "dry fit" in replanned(job).done
    job = with_tick(job, STEPS, check_key(hold, most[0]), False)
    assert "dry fit" not in replanned(job).done


def test_ticks_survive_another_size_and_the_file():
    (hold,) = [step for step in STEPS if step.key == "dry fit"]
    job = with_done(ticked_all(PLAN.job, hold), STEPS, "dry fit", True)
    kept = job.model_copy(update={"clearance": job.clearance.model_copy(update={"keep": "0.4 mm"})})
    assert plan(kept).gap.left_mm != PLAN.gap.left_mm
    assert replanned(kept).done == {"dry fit"}
    again, faults = parse_job(job_text(job))
    assert (again, faults) == (job, [])


def test_what_was_ticked_and_is_no_part_of_the_plan_any_more_is_said():
    job = with_done(PLAN.job, STEPS, "flash off", True)
    job = job.model_copy(update={"progress": job.progress.model_copy(update={"done": ["gilding"], "ticked": ["a: b"]})})
    found = replanned(job)
    assert (found.done, found.lost) == (frozenset(), ("gilding", "a: b"))


def test_a_step_waits_only_for_what_comes_right_before_it():
    found = progress_of(PLAN)
    (feed,) = [step for step in STEPS if step.key == "feed"]
    assert set(feed.needs) > set(found.waits_for(feed))
    assert "flash off" in found.waits_for(feed)
    assert "drill" not in found.waits_for(feed)  # the dry fit waits for it, and the glue for the dry fit


def test_all_done_leaves_no_time():
    job = PLAN.job
    for step in STEPS:
        job = with_done(ticked_all(job, step), STEPS, step.key, True)
    found = replanned(job)
    assert (found.share, found.left, found.critical) == (1, (), frozenset())
    assert (found.in_words, found.time_in_words) == ("All steps are done.", "")


def test_what_is_done_takes_no_more_time():
    first = progress_of(PLAN)
    whole = max(each.over_min for each in first.left)
    job = with_done(PLAN.job, STEPS, "cut", True)
    (cut,) = [step for step in STEPS if step.key == "cut"]
    assert max(each.over_min for each in replanned(job).left) <= whole
    assert sum(each.task.work_min for each in replanned(job).left) == (
        sum(each.task.work_min for each in first.left) - cut.time.work_min
    )


def test_an_unknown_step_or_check_is_refused():
    with pytest.raises(UnknownChoice, match=r"^the step is 'gild'"):
        with_done(PLAN.job, STEPS, "gild", True)
    with pytest.raises(UnknownChoice, match=r"^the check is 'gild: shiny'"):
        with_tick(PLAN.job, STEPS, "gild: shiny", True)


def test_steps_that_many_ways_lead_to_are_looked_at_once():
    """Forty pairs, each after both of the pair before: 2 to the power of 40 ways lead to the first."""
    steps = [
        Step(2 * pair + of + 1, "", key=f"{'ab'[of]}{pair}", needs=(f"a{pair - 1}", f"b{pair - 1}") if pair else ())
        for pair in range(40)
        for of in range(2)
    ]
    assert Progress(tuple(steps), frozenset(), frozenset()).waits_for(steps[-1]) == ("a38", "b38")

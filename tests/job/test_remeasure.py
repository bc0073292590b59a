"""What to measure again: what it costs, and that doing it really frees what is promised."""

from __future__ import annotations

import pytest
from sample_jobs import DEMOS, SMALLEST, job, with_chamber

from modelmath import plan
from modelmath.clearance import Stack
from modelmath.job.document import Job
from modelmath.job.room_left.remeasure import LEAST_MM

JOBS = {**DEMOS, "smallest": job(), "with a chamber": with_chamber()}


def reread_by_caliper(made: Job, name: str) -> Job:
    """The same job with one reading taken by a caliper that found the very same length."""
    document = made.model_dump(exclude_none=True)
    mm = plan(made).bench.readings[name].measured.exact_mm
    document["rules"].append({"name": "better caliper", "kind": "caliper"})
    for entry in document["readings"]:
        if entry["name"] == name:
            entry.update(rule="better caliper", mark=f"{float(mm):.12f}", again=[], datum="end")
    return Job.model_validate(document)


@pytest.mark.parametrize("name", JOBS)
def test_reading_it_by_caliper_lowers_the_allowance_by_what_was_promised(name):
    """An offset shared with the other height, or with the part, comes and goes with the reading."""
    found = plan(JOBS[name])
    asked = [each for each in found.remeasure() if each.what in found.bench.readings]
    assert asked
    for each in asked:
        after = plan(reread_by_caliper(JOBS[name], each.what))
        assert max(0.0, found.gap.allowance_mm - after.gap.allowance_mm) == pytest.approx(each.frees_mm, abs=1e-6)


@pytest.mark.parametrize("name", JOBS)
def test_the_costliest_comes_first_and_nothing_costs_nothing(name):
    found = plan(JOBS[name]).remeasure()
    costs = [each.costs_mm for each in found]
    assert costs == sorted(costs, reverse=True) or costs == pytest.approx(sorted(costs, reverse=True))
    assert all(each.costs_mm >= LEAST_MM and each.frees_mm >= 0 for each in found)
    assert len({each.what for each in found}) == len(found)


@pytest.mark.parametrize("name", JOBS)
def test_what_a_rule_costs_is_the_allowance_without_its_term(name):
    found = plan(JOBS[name])
    for each in found.remeasure():
        if each.what in found.bench.readings:
            continue
        exact = found.gap.stack.without(each.what).allowance(found.gap.wanted_chance)
        assert each.costs_mm == pytest.approx(found.gap.allowance_mm - exact)
        assert each.frees_mm <= each.costs_mm  # ±0.02 mm is never better than exact
        assert each.better == "calibrate the rule on known sizes, to ±0.02 mm"


def test_where_no_offset_is_uncertain_nothing_frees_more_than_it_costs():
    rules = [{**SMALLEST["rules"][0], "offset_uncertainty": "0"}]
    found = plan(job(rules=rules))
    (one, two) = found.remeasure()
    assert {one.what, two.what} == {"roof", "motor top"}
    for each in (one, two):
        assert each.limit_mm == pytest.approx(0.4375)
        assert 0 < each.frees_mm <= each.costs_mm
        assert each.better == "a caliper or depth gauge, to ±0.02 mm"


def test_one_caliper_reading_of_two_may_free_nothing_and_says_why():
    """Roof alone by caliper: the offset no longer cancels in the space, and still stands in the part."""
    found = {each.what: each for each in plan(DEMOS["switcher-ho"]).remeasure()}
    top, roof = found["top of the motor clip"], found["hood roof"]
    assert roof.costs_mm == pytest.approx(top.costs_mm)
    assert (roof.frees_mm, top.frees_mm > top.costs_mm) == (0.0, True)
    assert roof.better == (
        "a caliper or depth gauge, to ±0.02 mm, the other heights too: alone it lets the zero offset in"
    )


def test_scatter_of_repeats_counts_with_the_reading():
    readings = [{"name": "roof", "mark": "9 1/4", "again": ["9 1/2", "9 1/4", "9 1/2"]}, SMALLEST["readings"][1]]
    found = plan(job(readings=readings))
    first = found.remeasure()[0]
    assert first.what == "roof"
    own = [term for term in found.gap.stack.terms if term.name in ("reading of roof", "scatter of roof")]
    assert len(own) == 2
    assert first.limit_mm == pytest.approx(sum(term.tolerance_mm for term in own))
    rest = tuple(term for term in found.gap.stack.terms if term not in own)
    assert first.costs_mm == pytest.approx(found.gap.allowance_mm - Stack(rest).allowance(0.01))


def test_a_reading_as_fine_as_a_caliper_has_nothing_better():
    rules = [{"name": "caliper", "kind": "caliper"}]
    readings = [{"name": "roof", "mark": "35.87"}, {"name": "motor top", "mark": "22.75"}]
    made = job(
        rules=rules,
        readings=readings,
        marking={"rule": "caliper", "finest": "0.1"},
        clearance={"keep": "0.9 mm", "chance": 1e-6},
        seat={"repeatability": "0 mm"},
        build={"cutting_tolerance": "0 mm"},
    )
    for each in plan(made).remeasure():
        assert (each.better, each.frees_mm) == ("nothing usual reads it finer", 0.0)

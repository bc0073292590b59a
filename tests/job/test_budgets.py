"""Every uncertain figure has a budget, and its shares make up its uncertainty."""

from __future__ import annotations

import re

import pytest
from sample_jobs import DEMOS, SMALLEST, job, with_chamber

from modelmath import plan
from modelmath.job.why.budget import Share, shares_of
from modelmath.lengths.uncertain import normal, rectangular

JOBS = {**DEMOS, "smallest": job(), "with a chamber": with_chamber()}


@pytest.fixture(params=JOBS, scope="module")
def found(request):
    return plan(JOBS[request.param])


def test_shares_add_to_all_of_the_variance(found):
    """JCGM 100:2008, 5.1.2."""
    uncertain = [figure for figure in found.figures.values() if getattr(figure.uncertain, "std_dev", 0.0)]
    assert len(uncertain) > 3
    for figure in uncertain:
        assert sum(share.percent for share in figure.budget) == pytest.approx(100), figure.name
        assert sum(share.u**2 for share in figure.budget) == pytest.approx(figure.uncertain.std_dev**2), figure.name
        assert [share.percent for share in figure.budget] == sorted(
            (share.percent for share in figure.budget), reverse=True
        )


def test_a_figure_s_value_is_that_of_its_budget(found):
    """The number that is printed first in a figure is the nominal value behind its budget."""
    for figure in found.figures.values():
        if figure.uncertain is None:
            continue
        value = float(getattr(figure.uncertain, "nominal_value", figure.uncertain))
        said = [float(each) for each in re.findall(r"-?\d+\.\d+", figure.value)]
        scale = 1000 if figure.value.endswith("cm3") else 1
        assert any(abs(each - value / scale) <= 0.0051 for each in said), (figure.name, figure.value, value)


def test_the_budget_of_the_room_left_is_the_stack(found):
    budget = found.why("room left").figure.budget
    terms = {term.name: term.u_mm for term in found.gap.stack.terms if term.u_mm}
    assert {share.source for share in budget} == set(terms)
    for share in budget:
        assert abs(share.u) == pytest.approx(terms[share.source])


def test_the_budget_of_a_depth_by_hand():
    """Two readings to the quarter foot share it half and half; the offset cancels."""
    budget = plan(job()).why("free depth: motor").figure.budget
    u = 0.875 / 12**0.5
    assert [(share.source, share.shape) for share in budget] == [
        ("reading of motor top", "rectangular"),
        ("reading of roof", "rectangular"),
    ]
    assert [share.u for share in budget] == [pytest.approx(-u), pytest.approx(u)]
    assert [share.percent for share in budget] == [pytest.approx(50)] * 2


def test_the_budget_of_the_demo_volume_names_each_reading_that_moves_it():
    sources = {share.source for share in plan(DEMOS["switcher-ho"]).why("chamber volume").figure.budget}
    assert {"reading of hood inside, width", "bulkhead as cut", "place of the rear wall"} <= sources


def test_entries_have_no_budget():
    figures = plan(job()).figures
    assert all(figures[name].budget == () for name in ("scale", "clearance", "wall", "chance of touching"))


@pytest.mark.parametrize("value", [None, 3.5, normal(1.0, 0.0, "exact")])
def test_what_is_certain_has_no_shares(value):
    assert shares_of(value) == ()


def test_a_source_met_twice_is_one_share():
    roof = rectangular(10.0, 0.3, "roof")
    assert shares_of(roof + roof) == (Share("roof", "rectangular", pytest.approx(0.6 / 3**0.5), pytest.approx(100)),)


def test_repeats_and_scatter_are_two_lines_of_the_budget():
    readings = [{"name": "roof", "mark": "9 1/4", "again": ["9 1/2", "9 1/4", "9 1/2"]}, SMALLEST["readings"][1]]
    found = plan(job(readings=readings))
    figure = found.why("reading: roof").figure
    assert [(share.source, share.shape) for share in figure.budget] == [
        ("reading of roof", "rectangular"),
        ("scatter of roof", "repeats"),
        ("zero offset of scale rule", "normal"),
    ]
    assert figure.how == (
        "the mean of 4 readings, 9 1/4 scale ft, 9 1/2, 9 1/4, 9 1/2; (mark + offset) x (1 + scale error). None of the "
        "4 readings stands out. The same: 10.375 ± 0.106 scale ft, 1.430 ± 0.015 in"
    )

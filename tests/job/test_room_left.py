"""The room left and its chance of touching against draws of readings, rule, cutting and seating from scratch."""

from __future__ import annotations

from fractions import Fraction

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from sample_jobs import DEMOS, SMALLEST, job, with_chamber

from modelmath import plan
from modelmath.clearance import Stack
from modelmath.job.room_left.gap import gap_with

DRAWS = 200_000
FOOT = 3.5


def chance_of(gaps):
    return (gaps < 0).mean()


def near(chance):
    """Five standard errors of a chance counted in draws."""
    return pytest.approx(chance, abs=5 * (max(chance, 1e-4) / DRAWS) ** 0.5)


def test_chance_of_touching_of_the_smallest_job():
    """Offset 1 ft +- 0.1 mm (normal), readings to the nearest quarter, cut and seating +- 0.1 mm."""
    found = plan(job())
    rng = np.random.default_rng(1)
    offset = FOOT + rng.normal(0, 0.1, DRAWS)
    roof = 9.25 * FOOT + offset + rng.uniform(-0.4375, 0.4375, DRAWS)
    top = 5.5 * FOOT + offset + rng.uniform(-0.4375, 0.4375, DRAWS)
    part = 2.5 * FOOT + offset + rng.uniform(-0.1, 0.1, DRAWS)  # set at 2 1/2: 3 1/2 scale ft
    gaps = roof - top - part + rng.uniform(-0.1, 0.1, DRAWS)
    assert found.gap.chance == near(chance_of(gaps))
    assert found.gap.stack.standard_uncertainty() == pytest.approx(gaps.std(), rel=0.01)
    assert found.gap.allowance_mm == pytest.approx(gaps.mean() - np.quantile(gaps, 0.01), abs=0.01)


def test_the_offset_cancels_in_the_space_and_stands_in_the_part():
    names = [term.name for term in plan(job()).gap.stack.terms]
    assert "zero offset of scale rule" in names
    from_zero = job(marking={"rule": "scale rule", "finest": "1/4", "datum": "zero"})
    assert "zero offset of scale rule" not in [term.name for term in plan(from_zero).gap.stack.terms]


@given(st.sampled_from(["0.05 mm", "0.1 mm", "0.3 mm"]), st.sampled_from(["0", "0.1 mm", "0.3 mm"]))
def test_the_standard_uncertainty_by_hand(seating, offset):
    """JCGM 100:2008, equation 10, for two quarter-foot readings, cutting, seating and the part's offset."""
    rules = [{**SMALLEST["rules"][0], "offset_uncertainty": offset}]
    found = plan(job(rules=rules, seat={"repeatability": seating}))
    mm = [float(each.split()[0]) for each in (seating, offset)]
    by_hand = 2 * 0.875**2 / 12 + 0.1**2 / 3 + mm[0] ** 2 / 3 + mm[1] ** 2
    assert found.gap.stack.standard_uncertainty() == pytest.approx(by_hand**0.5)


def test_repeats_reach_the_stack_with_their_freedom():
    """Four readings whose mean is one mark less: t of 3 degrees of freedom, against draws of numpy."""
    marks = ("9 1/4", "9 1/2", "9 1/4", "9 1/2")
    readings = [{"name": "roof", "mark": marks[0], "again": list(marks[1:])}, SMALLEST["readings"][1]]
    found = plan(job(readings=readings))
    rng = np.random.default_rng(2)
    spread = np.std([9.25, 9.5, 9.25, 9.5], ddof=1) / 2 * FOOT
    offset = FOOT + rng.normal(0, 0.1, DRAWS)
    roof = 9.375 * FOOT + offset + rng.uniform(-0.4375, 0.4375, DRAWS) + spread * rng.standard_t(3, DRAWS)
    top = 5.5 * FOOT + offset + rng.uniform(-0.4375, 0.4375, DRAWS)
    part = float(found.chamber_height_mm) - FOOT + offset + rng.uniform(-0.1, 0.1, DRAWS)
    gaps = roof - top - part + rng.uniform(-0.1, 0.1, DRAWS)
    assert gaps.mean() == pytest.approx(float(found.gap.left_mm), abs=0.01)
    assert found.gap.chance == near(chance_of(gaps))
    (scatter,) = [term for term in found.gap.stack.terms if term.name == "scatter of roof"]
    assert (scatter.shape, scatter.dof) == ("repeats", 3)


@pytest.mark.parametrize("marks", [-1, 0, 1, 2])
def test_a_job_with_a_calibrated_rule_tape_paint_warmth_and_a_flywheel(marks):
    """The demo rail bus, at sizes round its own: everything drawn anew from the numbers in the document."""
    found = plan(DEMOS["railbus-ho"])
    rng = np.random.default_rng(3)
    height = float(found.chamber_height_mm) + marks * 0.125 * FOOT * 1.001594
    # The calibrated rule: a length from the end at its pivot, and its stretch, independent there.
    pivot, offset, u = 11.146052 * FOOT, 0.755289 * FOOT, 0.026615 * FOOT
    error, error_u = 0.001594, 0.001543
    at_pivot_u = (((1 + error) * u) ** 2 - ((pivot + offset) * error_u) ** 2) ** 0.5
    at_pivot = rng.normal((pivot + offset) * (1 + error), at_pivot_u, DRAWS)
    stretch = rng.normal(1 + error, error_u, DRAWS)

    def length(mark):
        return (mark - pivot) * stretch + at_pivot

    roof = length(7.625 * FOOT + rng.uniform(-0.0625, 0.0625, DRAWS) * FOOT)
    rim = 10.46 + rng.uniform(-0.02, 0.02, DRAWS) + 0.1  # wobble
    part = length(height / (1 + error) - offset) + rng.uniform(-0.1, 0.1, DRAWS)
    tape, paint = 0.12 + rng.uniform(-0.02, 0.02, DRAWS), 0.05 + rng.uniform(-0.02, 0.02, DRAWS)
    warmth = rng.uniform(-15, 15, DRAWS) * (70e-6 * (29.377765 - height) - 27e-6 * 10.56)
    gaps = roof - rim - part - tape - paint + warmth + rng.uniform(-0.1, 0.1, DRAWS)
    gap = gap_with(found, Fraction(height))
    assert gaps.mean() == pytest.approx(float(gap.left_mm), abs=0.002)
    assert gaps.std() == pytest.approx(gap.stack.standard_uncertainty(), rel=0.01)
    assert gap.chance == near(chance_of(gaps))


@pytest.mark.parametrize("name", DEMOS)
def test_convolution_agrees_with_the_packages_own_simulation(name):
    gap = plan(DEMOS[name]).gap
    drawn = gap.stack.monte_carlo(100_000)
    assert drawn.u == pytest.approx(gap.stack.standard_uncertainty(), rel=0.02)
    assert drawn.mean == pytest.approx(float(gap.left_mm), abs=0.01)


@pytest.mark.parametrize("name", DEMOS)
def test_leaving_the_allowance_gives_the_chance_that_is_accepted(name):
    gap = plan(DEMOS[name]).gap
    moved = Stack((*gap.stack.terms, *Stack.of_measured("more", gap.allowance_mm - float(gap.left_mm)).terms))
    assert moved.nominal == pytest.approx(gap.allowance_mm)
    assert moved.interference() == pytest.approx(gap.wanted_chance, rel=1e-3)


@pytest.mark.parametrize("name", DEMOS)
def test_what_is_left_is_no_less_than_what_is_kept_and_the_stack_says_the_same(name):
    gap = plan(DEMOS[name]).gap
    assert gap.left_mm >= gap.kept_mm
    assert gap.stack.nominal == pytest.approx(float(gap.left_mm), abs=1e-9)
    assert gap.at_worst_mm <= gap.usually_mm <= float(gap.left_mm)


def test_the_accepted_chance_is_that_of_the_document():
    clearance = {"keep": "1/4 scale ft", "chance": 0.2}
    gap = plan(job(clearance=clearance)).gap
    assert gap.wanted_chance == 0.2
    assert gap.allowance_mm < plan(job()).gap.allowance_mm


def test_a_part_cut_by_caliper_shares_nothing_with_the_readings():
    """Marked out by caliper, the part has no offset; the space has none either. Rule alone: half marks, cut, seat."""
    rules = [SMALLEST["rules"][0], {"name": "caliper", "kind": "caliper"}]
    found = plan(job(rules=rules, marking={"rule": "caliper", "finest": "0.1"}))
    assert {term.name for term in found.gap.stack.terms if term.tolerance_mm} == {
        "reading of roof",
        "reading of motor top",
        "bulkhead as cut",
        "how repeatably the shell seats",
    }


def test_a_chamber_hung_over_a_zone_has_the_same_gap_as_the_bulkhead_alone():
    alone, chamber = plan(job()), plan(with_chamber())
    assert chamber.chamber_height_mm == alone.chamber_height_mm
    assert chamber.gap.chance == pytest.approx(alone.gap.chance)

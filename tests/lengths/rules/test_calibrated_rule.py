"""A calibrated rule, whose offset and scale error are correlated, against draws of the calibration itself."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from uncertainties import correlated_values

from modelmath.lengths.rules import Rule
from modelmath.lengths.rules.readings import offset_cancels
from modelmath.lengths.uncertain import components

DRAWS = 200_000
# Marks of the gauges, what each is uncertain by, and what the rule is truly like; invented.
MARKS = np.array([5.0, 12.0, 60.0, 118.0])
U, OFFSET, ERROR = 0.12, 3.2, 0.002


def design() -> tuple[np.ndarray, np.ndarray]:
    """Least squares of a line by the textbook: what maps sizes to (intercept, slope), and their covariance."""
    matrix = np.column_stack([np.ones_like(MARKS), MARKS])
    solve = np.linalg.inv(matrix.T @ matrix) @ matrix.T
    return solve, solve @ solve.T * U**2


@pytest.fixture(scope="module")
def drawn():
    """Zero offset and scale error of many calibrations of one rule: JCGM 100:2008, H.3, played rather than solved."""
    rng = np.random.default_rng(7)
    sizes = (MARKS + OFFSET) * (1 + ERROR) + rng.normal(0, U, (DRAWS, len(MARKS)))
    intercept, slope = design()[0] @ sizes.T
    return intercept / slope, slope - 1


@pytest.fixture(scope="module")
def rule(drawn):
    """The rule as its calibration states it: each of its fields from the covariance by the textbook."""
    covariance = design()[1]
    a, b = correlated_values([OFFSET * (1 + ERROR), 1 + ERROR], covariance)
    return Rule(
        unit="mm",
        graduation="0.5",
        zero_offset=OFFSET,
        offset_uncertainty=(a / b).std_dev,
        scale_error=ERROR,
        scale_error_uncertainty=b.std_dev,
        calibrated_at=-covariance[0, 1] / covariance[1, 1],
    )


def test_its_fields_are_those_of_the_drawn_calibrations(rule, drawn):
    offsets, errors = drawn
    assert rule.offset.std_dev == pytest.approx(offsets.std(), rel=0.01)
    assert float(rule.offset_uncertainty_mm) == pytest.approx(rule.offset.std_dev, rel=1e-9)
    assert rule.scale_error_uncertainty == pytest.approx(errors.std(), rel=0.01)
    assert float(rule.pivot_mm) == pytest.approx(MARKS.mean())  # the centroid of equally certain gauges
    assert rule.pivot_u_mm == pytest.approx(U / len(MARKS) ** 0.5)


def test_offset_and_scale_error_are_correlated_as_drawn(rule, drawn):
    by_draw = np.corrcoef(*drawn)[0, 1]
    slopes = rule.offset.derivatives
    shared = sum(slopes[source] * source.std_dev for source in slopes if "scale error" in str(source.tag))
    assert shared / rule.offset.std_dev == pytest.approx(by_draw, abs=0.01)
    assert by_draw < -0.5  # a test with no correlation would prove nothing


@pytest.mark.parametrize("mark", [0.0, 5.0, 48.5, 118.0, 140.0])
def test_u_of_a_length_at_a_mark(rule, drawn, mark):
    offsets, errors = drawn
    lengths = (mark + np.random.default_rng(8).uniform(-0.25, 0.25, DRAWS) + offsets) * (1 + errors)
    value = rule.length(mark)
    assert value.n == pytest.approx(lengths.mean(), abs=0.003)
    assert value.std_dev == pytest.approx(lengths.std(), rel=0.01)


@pytest.mark.parametrize(("high", "low"), [(118.0, 5.0), (60.0, 48.5)])
def test_u_of_a_difference_has_the_scale_error_alone(rule, drawn, high, low):
    offsets, errors = drawn
    rng = np.random.default_rng(9)
    one = (high + rng.uniform(-0.25, 0.25, DRAWS) + offsets) * (1 + errors)
    two = (low + rng.uniform(-0.25, 0.25, DRAWS) + offsets) * (1 + errors)
    difference = rule.length(high, name="high") - rule.length(low, name="low")
    assert offset_cancels(difference, rule)
    assert difference.std_dev == pytest.approx((one - two).std(), rel=0.01)


def test_a_part_marked_out_with_the_same_rule_shares_the_scale_error_and_one_cut_by_caliper_does_not(rule, drawn):
    """Space 118 - 18, part of 97: what counts is 100 less the part's setting, that counted from the centroid."""
    offsets, errors = drawn
    rng = np.random.default_rng(10)
    read = [(mark + rng.uniform(-0.25, 0.25, DRAWS) + offsets) * (1 + errors) for mark in (118.0, 18.0)]
    setting = float(rule.mark_for(97.0, finest="0.001").mark)
    part = (setting + offsets) * (1 + errors)
    space = rule.length(118.0, name="roof") - rule.length(18.0, name="top")
    left = space - rule.marked_out(97.0)
    assert left.n == pytest.approx((read[0] - read[1] - part).mean(), abs=0.003)
    assert left.std_dev == pytest.approx((read[0] - read[1] - part).std(), rel=0.01)
    caliper = Rule(unit="mm", graduation="0.01")
    apart = space - caliper.marked_out(97.0)
    assert apart.std_dev == pytest.approx((read[0] - read[1] - 97.0).std(), rel=0.01)

    def of_scale(value):
        return sum(abs(share) for cause, share in components(value) if cause.name == "scale error of rule")

    assert of_scale(apart) == pytest.approx(100 * rule.scale_error_uncertainty)
    stretched = 100 - (97 / 1.002 - 3.2 - MARKS.mean())
    assert of_scale(left) == pytest.approx(stretched * rule.scale_error_uncertainty)
    assert of_scale(left) < 0.6 * of_scale(apart)


def test_from_the_zero_mark_there_is_no_offset_in_it(rule, drawn):
    value = rule.length(118.0, datum="zero")
    lengths = (118.0 + np.random.default_rng(11).uniform(-0.25, 0.25, DRAWS)) * (1 + drawn[1])
    assert value.std_dev == pytest.approx(lengths.std(), rel=0.01)
    assert value.n == pytest.approx(118 * 1.002)


@given(st.floats(0.05, 0.5), st.floats(-0.02, 0.02), st.floats(0, 0.01), st.floats(0, 50))
def test_without_a_calibration_offset_and_scale_error_are_independent(u, error, error_u, mark):
    """JCGM 100:2008, equation 10, by hand: c = 1 + e for mark and offset, mark + offset for e."""
    rule = Rule(
        unit="mm",
        graduation="0.5",
        zero_offset=4,
        offset_uncertainty=u,
        scale_error=error,
        scale_error_uncertainty=error_u,
    )
    stretch = 1 + error
    by_hand = ((stretch * u) ** 2 + ((mark + 4) * error_u) ** 2 + (stretch * 0.5) ** 2 / 12) ** 0.5
    assert rule.length(mark).std_dev == pytest.approx(by_hand)
    assert rule.offset.n == pytest.approx(4)
    assert rule.offset.std_dev == pytest.approx(u)
    assert float(rule.pivot_mm) == -4


@given(st.floats(0, 140), st.sampled_from(["end", "zero"]))
def test_the_nominal_length_does_not_depend_on_where_it_was_calibrated(mark, datum):
    fields = {"unit": "mm", "zero_offset": "3.2", "scale_error": 0.002, "scale_error_uncertainty": 0.001}
    plain, moved = Rule(**fields), Rule(**fields, offset_uncertainty="0.2", calibrated_at="60")
    assert moved.length(mark, datum).n == pytest.approx(float(plain.exact_length(mark, datum)), abs=1e-9)
    assert moved.exact_length(mark, datum) == plain.exact_length(mark, datum)


@given(st.floats(1, 140), st.sampled_from(["end", "zero"]))
def test_marked_out_is_the_length_at_its_setting_without_the_reading(size, datum):
    rule = Rule(
        unit="mm",
        zero_offset="0.5",
        offset_uncertainty="0.1",
        scale_error=0.003,
        scale_error_uncertainty=0.001,
        calibrated_at="40",
    )
    part = rule.marked_out(size, datum)
    assert part.n == pytest.approx(size)
    exact = Rule(
        unit="mm",
        zero_offset="0.5",
        offset_uncertainty="0.1",
        scale_error=0.003,
        scale_error_uncertainty=0.001,
        calibrated_at="40",
        graduation="0.000001",
    )
    at_setting = exact.length(str(float(size / 1.003 - (0.5 if datum == "end" else 0))), datum)
    assert part.std_dev == pytest.approx(at_setting.std_dev, rel=1e-6)

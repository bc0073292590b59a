"""Stack-ups beside printed examples and scipy, where the other tests have no such check."""

from __future__ import annotations

from math import sqrt

import numpy as np
import pytest
from published import agrees_with_print, published_rows
from scipy import stats

from modelmath.clearance import Stack, Term
from modelmath.clearance.draws import check_trials
from modelmath.clearance.simulation import simulate_sum
from modelmath.errors import OutOfRange

PRINTED = {(row["example"], row["name"]): row["printed"] for row in published_rows("jcgm101.csv")}
CLEAR = {row["name"]: row for row in published_rows("uncertainty_examples.csv") if row["example"] == "CLEAR1"}


def four(shape):
    """Four terms of standard deviation 1: JCGM 101:2008, 9.2.2 and 9.2.3."""
    limit = {"normal": 2.0, "rectangular": sqrt(3)}[shape]
    return Stack.of(*(Term(f"x{n}", 0.0, limit, shape) for n in range(4)))


@pytest.mark.parametrize(("shape", "example"), [("normal", "JCGM101_922"), ("rectangular", "JCGM101_923")])
def test_room_for_a_chance_is_half_of_the_interval_that_jcgm_101_prints(shape, example):
    """Room left so that it touches in 2.5 of 100 is the half width of the 95 % interval; and the other way round."""
    stack, printed = four(shape), PRINTED[example, "half width at 95 % exactly"]
    assert stack.allowance(0.025) == pytest.approx(float(printed), rel=1e-5)
    spread = stack.distribution()
    assert spread.chance_below(-float(printed)) == pytest.approx(0.025, rel=1e-4)
    assert (spread.mean_mm, spread.u_mm) == (0.0, pytest.approx(2.0))
    for drawn in (stack.monte_carlo(200_000, 3), simulate_sum(stack.terms, 200_000, 3)):
        low, high = drawn.interval(0.95)
        assert (low, high) == (pytest.approx(-float(printed), abs=0.05), pytest.approx(float(printed), abs=0.05))


def test_a_clearance_touches_as_often_as_the_worked_example_says():
    """CLEAR1 of uncertainty_examples.csv: 0.60 mm with u of 0.138444 mm, normal: 7.32485e-06."""
    row = CLEAR["clearance"]
    gap = Stack.of(Term("gap", float(row["value"]), 2 * float(row["std_uncertainty"]), "normal"))
    due = float(CLEAR["probability of a negative clearance, normal approximation"]["value"])
    assert gap.interference() == pytest.approx(due, rel=1e-4)
    assert gap.distribution().mean_mm == float(row["value"])


def test_the_shares_of_a_stack_add_up_to_the_worked_example():
    """CLEAR1: limits over the root of 3, each its own; the root of their squares is 0.138444 mm."""
    limits = {"inside width": 0.05, "speaker width": 0.10, "foam 1": 0.15, "foam 2": 0.15}
    stack = Stack.of(*(Term(name, 0.0, limit) for name, limit in limits.items()))
    assert agrees_with_print(stack.standard_uncertainty(), CLEAR["clearance"]["std_uncertainty"])


def test_as_many_trials_are_asked_for_as_jcgm_101_asks_for():
    """JCGM 101:2008, 7.2: ten thousand times 1/(1 - p), 200 000 for 95 %; fewer leave the ends of it to few draws."""
    check_trials(200_000, 1, 65_536)
    random = np.random.default_rng(5)
    ends = [np.quantile(random.standard_normal(200_000), 0.975) for _ in range(20)]
    assert np.std(ends) < 0.01 < abs(stats.norm.ppf(0.975) - stats.norm.ppf(0.974))
    text = r"^trials is 0; it must be a whole number from 1,000 to 50,000,000\. Write 100_000\.$"
    with pytest.raises(OutOfRange, match=text):
        check_trials(0, 1, 65_536)


def test_a_drawn_chance_is_that_of_scipy():
    """scipy.stats: the triangle of two equal rectangles."""
    drawn = simulate_sum([Term("a", 0.0, 1.0), Term("b", 0.0, 1.0)], 400_000, 2)
    for place in (-1.0, 0.3):
        seen = drawn.chance_below(place)
        due = stats.triang(0.5, loc=-2, scale=4).cdf(place)
        assert seen.chance == pytest.approx(due, abs=0.004)
        assert seen.standard_error == pytest.approx(stats.binom(400_000, due).std() / 400_000, rel=0.02)

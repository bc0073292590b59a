"""What is taken at the very border of what is allowed, and what just beyond it is refused with."""

from __future__ import annotations

import re
from math import inf, nan, nextafter
from statistics import stdev

import numpy as np
import pytest

from modelmath.clearance import Distribution, Quantity, Simulated, Term, chance_after_choice, simulate
from modelmath.clearance.joint import deviations_together
from modelmath.clearance.simulation import simulate_until_stable
from modelmath.errors import OutOfRange
from modelmath.lengths.uncertain import rectangular

U = "it must be 0 or more. Write 0.05 for plus or minus 0.05."
DOF = "it must be 1 or more. Read it twice or more."
VALUE = "it must be a finite number. Check the readings behind it."


@pytest.mark.parametrize(
    ("values", "message"),
    [
        ((1.0, inf), f"the uncertainty is inf; {U}"),
        ((1.0, nan), f"the uncertainty is nan; {U}"),
        ((1.0, -1e-300), f"the uncertainty is -1e-300; {U}"),
        ((nan, 0.1), f"the value is nan; {VALUE}"),
        ((-inf, 0.1), f"the value is -inf; {VALUE}"),
        ((1.0, 0.1, "repeats", nextafter(1.0, 0.0)), f"the degrees of freedom is 1; {DOF}"),
        ((1.0, 0.1, "repeats", nan), f"the degrees of freedom is nan; {DOF}"),
    ],
)
def test_what_is_no_quantity_is_refused(values, message):
    with pytest.raises(OutOfRange, match=f"^{re.escape(message)}$"):
        Quantity(*values)


def test_what_just_is_a_quantity_is_taken():
    assert Quantity(0.0, 0.0).u == 0.0
    assert Quantity(1.0, 0.1, "repeats", 1).dof == 1
    assert Quantity.within(2.0, 2.0) == Quantity(2.0, 0.0, "rectangular")


@pytest.mark.parametrize(
    ("coverage", "block"), [(0.95, 10_000), (0.99, 10_000), (0.9925, 13_334), (1 - 2**-12, 409_600)]
)
def test_blocks_of_trials_are_as_large_as_jcgm_101_asks(coverage, block):
    """JCGM 101:2008, 7.9.4 b): M is the larger of J and 10 000, J the least whole number not below 100/(1 - p)."""
    found = simulate_until_stable(lambda x: x, {"x": Quantity(5.0, 1.0)}, 1, coverage, most=2_000_000)
    assert found.trials % block == 0
    assert found.trials >= 2 * block


def test_a_limit_on_trials_leaves_two_blocks_at_least():
    """Half of the trials allowed where 100/(1 - p) is more than that: two blocks, which is the fewest to compare."""
    found = simulate_until_stable(lambda x: x, {"x": Quantity(5.0, 1.0)}, 3, 0.9998, most=30_000)
    assert (found.trials, found.stable) == (30_000, False)
    found = simulate_until_stable(lambda x: x, {"x": Quantity(5.0, 1.0, "rectangular")}, 1, 0.9998, most=30_000)
    assert (found.trials, found.stable) == (30_000, True)


@pytest.mark.parametrize(("coverage", "held"), [(0.95, 9500), (0.5, 5000), (0.9999, 9999), (0.0001, 1)])
def test_an_interval_holds_its_share_of_the_values(coverage, held):
    """JCGM 101:2008, 7.7.2: q = pM, or the whole part of pM + 1/2."""
    low, high = Simulated(np.arange(10_000.0), seed=1).interval(coverage)
    assert high - low == held


@pytest.mark.parametrize("coverage", [0.99996, 0.00004, 0.0, 1.0])
def test_a_share_of_none_or_all_of_the_values_has_no_interval(coverage):
    taken = "between 0 and 1 in 10,000 trials. Write 0.95 for 95 %, or draw more trials."
    with pytest.raises(OutOfRange, match=f"^{re.escape(f'the coverage is {coverage}; it must be {taken}')}$"):
        Simulated(np.arange(10_000.0), seed=1).interval(coverage)


def test_trials_may_be_as_few_and_as_many_as_is_said():
    assert simulate(lambda x: x, {"x": Quantity(1.0, 0.1)}, 1_000).trials == 1_000
    said = "trials is 999; it must be a whole number from 1,000 to 50,000,000. Write 100_000."
    with pytest.raises(OutOfRange, match=f"^{re.escape(said)}$"):
        simulate(lambda x: x, {"x": Quantity(1.0, 0.1)}, 999)


def test_a_seed_may_be_as_large_as_is_said():
    """One that a computer's whole number of 64 bits holds."""
    for seed in (0, 2**62 + 1, 2**63):
        assert simulate(lambda x: x, {"x": Quantity(1.0, 0.1)}, 1_000, seed).seed == seed
    said = f"seed is {2**63 + 1}; it must be a whole number from 0 to 9,223,372,036,854,775,808. Write 1."
    with pytest.raises(OutOfRange, match=f"^{re.escape(said)}$"):
        simulate(lambda x: x, {"x": Quantity(1.0, 0.1)}, 1_000, 2**63 + 1)


@pytest.mark.parametrize("outside", [-0.1, 0.0, 1.0, 1.0 + 1e-9, 1.5, 3.0])
def test_a_chance_is_between_0_and_1(outside):
    found = Distribution((Term("reading", 10.0, 0.5), Term("shell", 1.0, 0.2, "normal")))
    drawn = simulate(lambda x: x, {"x": Quantity(0.0, 0.5)}, trials=2_000)
    for ask, what in (
        (found.quantile, "the chance"), (found.interval, "the coverage"), (drawn.interval, "the coverage"),
        (drawn.shortest, "the coverage"),
    ):  # fmt: skip
        with pytest.raises(OutOfRange, match=f"^{what} is {outside}; it must be between 0 and 1"):
            ask(outside)


def test_trials_are_two_hundred_thousand_unless_said():
    """JCGM 101:2008, 7.2.2: at 95 % a million or so is often enough; ours is a fifth, and the error is shown beside."""
    assert simulate(lambda x: x, {"x": Quantity(5.0, 1.0)}).trials == 200_000


def test_what_is_left_unsaid_is_the_seed_1_two_digits_and_95_percent():
    given, model = {"x": Quantity(5.0, 1.0)}, (lambda x: x)
    assert np.array_equal(simulate(model, given, 2_000).values, simulate(model, given, 2_000, 1).values)
    unsaid, said = (simulate_until_stable(model, given, *more) for more in ((), (2, 0.95, 1)))
    assert np.array_equal(unsaid.values, said.values)
    depth = rectangular(10.0, 0.1, "depth")
    unsaid, said = (next(deviations_together([depth], 1_000, *seed)) for seed in ((), (1,)))
    assert np.array_equal(unsaid, said)


@pytest.mark.parametrize("values", [[1.0, 2.0, 4.0], [0.0, 0.0, 1.0, 5.0]])
def test_the_uncertainty_of_few_values_is_their_standard_deviation(values):
    """JCGM 101:2008, 7.6 (16): divided by one fewer than there are."""
    assert Simulated(np.array(values), seed=1).u == pytest.approx(stdev(values))


def test_an_exact_gap_of_nothing_just_does_not_touch():
    """As the exact chance has it, both with one spot and with the better of two."""
    found = chance_after_choice([10.0, 9.0], [0.0, 1.0], trials=1_000)
    assert (found.without_choice, found.with_choice.chance) == (0.0, 0.0)
    found = chance_after_choice([10.0, 9.0], [-1e-12, 1.0], trials=1_000)
    assert found.with_choice.chance == 1.0


@pytest.mark.parametrize(
    "terms",
    [
        [Term("depth", 3.0, 0.1)], [Term("depth", 3.0, 0.1), Term("shell", 1.0, 0.2, "normal")],
        [Term("depth", 3.0, 0.1, "repeats", 3)], [Term("a", 1.0, 0.1, "triangular"), Term("b", -0.25, 0.3, "arcsine")],
    ],
)  # fmt: skip
def test_half_of_what_a_sum_may_be_lies_below_its_middle(terms):
    spread = Distribution(tuple(terms))
    assert spread.quantile(0.5) == spread.mean_mm


@pytest.mark.parametrize("coverage", [-0.5, 0.0, 1.0, 1.5])
def test_no_trial_is_made_for_a_share_of_none_or_more_than_all(coverage):
    def model(x):
        raise AssertionError

    message = f"the coverage is {coverage}; it must be between 0 and 1. Write 0.95 for 95 %."
    with pytest.raises(OutOfRange, match=f"^{re.escape(message)}$"):
        simulate_until_stable(model, {"x": Quantity(5.0, 1.0)}, coverage=coverage)

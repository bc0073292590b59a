"""Simulation against JCGM 101, linear propagation, exact chances and order statistics."""

import re
from math import inf, sqrt

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from published import agrees_with_print, published_rows
from scipy import integrate, stats
from uncertainties import ufloat

from modelmath.clearance import (
    Frequency,
    Quantity,
    Simulated,
    Stack,
    Term,
    chance_after_choice,
    chance_of_any,
    deviations_together,
    simulate,
    simulate_until_stable,
)
from modelmath.errors import OutOfRange, UnknownChoice, WrongKind
from modelmath.lengths.rules import Rule
from modelmath.lengths.uncertain import normal, rectangular, repeated

PRINTED = {(row["example"], row["name"]): row["printed"] for row in published_rows("jcgm101.csv")}


def whole(text):
    return f"^{re.escape(text)}$"


# JCGM 101 examples


@pytest.mark.parametrize(
    ("example", "shape", "last"),
    [("JCGM101_922", "normal", 1.0), ("JCGM101_923", "rectangular", 1.0), ("JCGM101_924", "rectangular", 10.0)],
)
def test_sums_agree_with_jcgm_101(example, shape, last):
    inputs = {f"x{n}": Quantity(0.0, u, shape) for n, u in enumerate((1.0, 1.0, 1.0, last))}
    drawn = simulate(lambda **x: sum(x.values()), inputs, trials=1_000_000, seed=4)
    low, high = drawn.interval(0.95)
    printed = float(PRINTED[example, "half width at 95 %"])
    error = 4 * drawn.u / sqrt(drawn.trials) * 3  # ends of the interval scatter about three times as the mean does
    assert high == pytest.approx(printed, abs=0.05 + error)
    assert low == pytest.approx(-printed, abs=0.05 + error)
    assert drawn.u == pytest.approx(sqrt(3 + last**2), rel=3e-3)


def mass_difference(m, dm, air, weight, standard):
    return (m + dm) * (1 + (air - 1.2) * (1 / weight - 1 / standard)) - 100_000


MASS = {
    "m": Quantity(100_000.0, 0.050),
    "dm": Quantity(1.234, 0.020),
    "air": Quantity.within(1.10, 1.30),
    "weight": Quantity.within(7000.0, 9000.0),
    "standard": Quantity.within(7950.0, 8050.0),
}


def test_a_mass_standard_agrees_with_jcgm_101():
    """JCGM 101:2008, 9.3: linear propagation gives u = 0.054 mg, since first derivatives vanish; simulation 0.0754."""
    drawn = simulate(mass_difference, MASS, trials=2_000_000, seed=2)
    assert drawn.mean == pytest.approx(float(PRINTED["JCGM101_93", "mean"]), abs=3e-4)
    assert drawn.u == pytest.approx(float(PRINTED["JCGM101_93", "standard uncertainty"]), abs=3e-4)
    low, high = drawn.shortest(0.95)
    # The shortest interval's place is ill-determined: its ends scatter in the third decimal.
    assert low == pytest.approx(float(PRINTED["JCGM101_93", "low end at 95 %"]), abs=3e-3)
    assert high == pytest.approx(float(PRINTED["JCGM101_93", "high end at 95 %"]), abs=3e-3)
    linear = mass_difference(*(ufloat(each.value, each.u) for each in MASS.values()))
    assert linear.std_dev == pytest.approx(0.0539, abs=5e-5)
    assert drawn.u > 1.3 * linear.std_dev


def test_a_nearly_linear_model_agrees_with_linear_propagation():
    """The `uncertainties` package and numpy's own gradient, on the volume of a chamber."""
    inputs = {"w": Quantity(20.0, 0.05), "h": Quantity(12.0, 0.04, "triangular"), "d": Quantity(30.0, 0.06, "arcsine")}
    drawn = simulate(lambda w, h, d: w * h * d, inputs, trials=400_000)
    w, h, d = (ufloat(each.value, each.u) for each in inputs.values())
    volume = w * h * d
    assert drawn.mean == pytest.approx(volume.nominal_value, abs=5 * volume.std_dev / sqrt(400_000))
    assert drawn.u == pytest.approx(volume.std_dev, rel=5e-3)
    gradient = np.array([12.0 * 30.0, 20.0 * 30.0, 20.0 * 12.0])
    assert drawn.u == pytest.approx(np.hypot.reduce(gradient * [each.u for each in inputs.values()]), rel=5e-3)


@pytest.mark.parametrize(
    ("shape", "dof", "law"),
    [
        ("rectangular", inf, stats.uniform(-sqrt(3), 2 * sqrt(3))),
        ("triangular", inf, stats.triang(0.5, -sqrt(6), 2 * sqrt(6))),
        ("arcsine", inf, stats.arcsine(-sqrt(2), 2 * sqrt(2))),
        ("normal", inf, stats.norm),
        ("repeats", inf, stats.norm),
        ("repeats", 2, stats.t(2)),
    ],
)
def test_each_shape_is_drawn_as_it_should_be(shape, dof, law):
    """Kolmogorov-Smirnov against scipy.stats, at a seed whose p is not small."""
    drawn = simulate(lambda x: x, {"x": Quantity(5.0, 2.0, shape, dof)}, trials=50_000)
    assert stats.kstest((drawn.values - 5.0) / 2.0, law.cdf).pvalue > 0.01


# Seeds, blocks, intervals


@pytest.mark.parametrize("block", [1, 777, 5_000, 1_000_000])
def test_blocks_change_no_number(block):
    terms = [Term(shape, 1.0, 0.1, shape, 3) for shape in ("rectangular", "triangular", "arcsine", "normal", "repeats")]
    whole_run = Stack.of(*terms).monte_carlo(5_000, seed=9)
    assert (Stack.of(*terms).monte_carlo(5_000, seed=9, block=block).values == whole_run.values).all()
    inputs = {f"x{n}": each for n, each in enumerate(terms)}
    model = simulate(lambda **x: sum(x.values()), inputs, 5_000, 9, block)
    assert model.values == pytest.approx(whole_run.values, rel=1e-12)
    assert (Stack.of(*terms).monte_carlo(5_000, seed=10).values != whole_run.values).all()


def test_one_input_more_leaves_the_others_draws_alone():
    one = simulate(lambda a: a, {"a": Quantity(0.0, 1.0)}, 1_000)
    two = simulate(lambda a, b: a + 0 * b, {"a": Quantity(0.0, 1.0), "b": Quantity(0.0, 1.0)}, 1_000)
    assert (one.values == two.values).all()


def test_an_exact_input_stays_exact():
    drawn = simulate(lambda a, b: a * b, {"a": Quantity(3.0), "b": Term("b", 2.0)}, 1_000)
    assert (drawn.mean, drawn.u, drawn.interval()) == (6.0, 0.0, (6.0, 6.0))


@given(st.lists(st.floats(-1e3, 1e3), min_size=10, max_size=60), st.floats(0.1, 0.9))
def test_the_shortest_interval_is_the_shortest_that_holds_its_share(values, coverage):
    drawn = Simulated(np.array(values), seed=1)
    for low, high in (drawn.interval(coverage), drawn.shortest(coverage)):
        assert ((drawn.values >= low) & (drawn.values <= high)).mean() >= coverage - 1 / len(values)
    assert np.diff(drawn.shortest(coverage)) <= np.diff(drawn.interval(coverage))


def test_a_skew_result_has_a_shorter_interval_than_the_symmetric_one():
    """Square of a standard normal is chi-squared of one degree: shortest from 0, to 3.841459 (95 %)."""
    drawn = simulate(lambda x: x * x, {"x": Quantity(0.0, 1.0)}, trials=400_000)
    low, high = drawn.shortest(0.95)
    assert low == pytest.approx(0.0, abs=1e-3)
    assert high == pytest.approx(stats.chi2(1).ppf(0.95), abs=0.06)
    assert drawn.interval(0.95)[1] == pytest.approx(stats.chi2(1).ppf(0.975), abs=0.06)


def test_a_chance_knows_its_error_even_when_nothing_was_seen():
    assert Frequency(250, 1000).standard_error == pytest.approx(sqrt(0.25 * 0.75 / 1000), rel=2e-3)
    assert Frequency(0, 1000).standard_error == pytest.approx(1e-3, rel=0.01)
    misses = 0
    for seed in range(60):
        found = simulate(lambda x: x, {"x": Quantity(0.0, 1.0)}, 2_000, seed).chance_below(-1.0)
        misses += abs(found.chance - stats.norm.cdf(-1.0)) > 2 * found.standard_error
    assert misses <= 9  # 4.6 % of 60 expected


def test_trials_are_added_until_results_are_stable():
    """JCGM 101:2008, 7.9: two digits of u are right to half a unit of the second."""
    found = simulate_until_stable(lambda x, y: x + y, {"x": Quantity(1.0, 0.03), "y": Quantity(2.0, 0.04)}, digits=2)
    assert found.stable is True
    assert found.mean == pytest.approx(3.0, abs=0.0005)
    assert found.u == pytest.approx(0.05, abs=0.0005)
    assert found.interval()[1] == pytest.approx(3.0 + 0.05 * 1.959964, abs=0.0005)
    finer = simulate_until_stable(lambda x: x, {"x": Quantity(1.0, 0.03)}, digits=2, most=50_000)
    assert (finer.stable, finer.trials) == (False, 50_000)
    assert simulate(lambda x: x, {"x": Quantity(1.0)}, 1_000).stable is None
    assert simulate_until_stable(lambda x: x, {"x": Quantity(1.0)}).trials == 20_000


# Results that share sources


def test_shared_sources_are_drawn_once():
    rule = Rule(scale="HO", graduation="1/4", zero_offset="1", offset_uncertainty="0.5 mm")
    roof, floor = rule.length("11 1/4", name="roof"), rule.length("7 1/2", name="chassis top")
    drawn = np.hstack(list(deviations_together([roof, floor, roof - floor, 3.0], trials=200_000)))
    assert drawn.shape == (4, 200_000)
    assert drawn[2] == pytest.approx(drawn[0] - drawn[1], abs=1e-12)
    assert not drawn[3].any()
    for row, value in zip(drawn, (roof, floor, roof - floor), strict=False):
        assert row.std() == pytest.approx(value.std_dev, rel=5e-3)
    offset = 0.5
    assert np.cov(drawn[0], drawn[1])[0, 1] == pytest.approx(offset**2, rel=0.02)


def test_blocks_change_no_shared_draw():
    values = [rectangular(0.0, 1.0, "a") + repeated(0.0, 0.1, 3, "b"), normal(0.0, 1.0, "c")]
    whole_run = np.hstack(list(deviations_together(values, 2_000)))
    parts = np.hstack(list(deviations_together(values, 2_000, block=311)))
    assert (whole_run == parts).all()


def test_the_chance_of_any_of_independent_gaps_agrees_with_the_product():
    gaps = [rectangular(0.09, 0.1, "left"), rectangular(0.08, 0.1, "right"), normal(0.15, 0.1, "middle")]
    found = chance_of_any(gaps)
    assert found.each == pytest.approx((0.05, 0.10, stats.norm.cdf(-1.5)))
    expected = 1 - np.prod([1 - chance for chance in found.each])
    assert abs(found.chance - expected) < 4 * found.standard_error
    assert found.at_least <= found.chance <= found.at_most == pytest.approx(sum(found.each))


def test_gaps_that_share_all_their_sources_touch_together():
    seating = normal(0.0, 0.1, "seating")
    found = chance_of_any([0.1 + seating, 0.1 + seating, 0.2 + seating])
    assert abs(found.drawn.chance - stats.norm.cdf(-1.0)) < 4 * found.drawn.standard_error
    assert found.chance >= found.at_least == pytest.approx(stats.norm.cdf(-1.0))
    # The two that are one gap count once, the third by itself.
    assert found.at_most == pytest.approx(stats.norm.cdf(-1.0) + stats.norm.cdf(-2.0))


def test_gaps_alike_but_each_off_by_itself_count_each():
    alike = [normal(0.1, 0.1, name) for name in ("left", "right")]
    assert chance_of_any(alike, trials=1_000).at_most == pytest.approx(2 * stats.norm.cdf(-1.0))
    shared = normal(0.0, 0.1, "seating")
    apart = [0.1 + shared, 0.1001 + shared]  # off by the same, of two sizes
    expected = stats.norm.cdf(-1.0) + stats.norm.cdf(-1.001)
    assert chance_of_any(apart, trials=1_000).at_most == pytest.approx(expected)


def test_a_normal_has_no_degrees_of_freedom_to_draw_by():
    """What it was judged from changes nothing in how it scatters; only readings repeated have a t-distribution."""
    drawn = [simulate(lambda x: x, {"x": Quantity(1.0, 0.2, "normal", dof)}, trials=1_000).values for dof in (2, inf)]
    assert np.array_equal(*drawn)
    others = [simulate(lambda x: x, {"x": Quantity(1.0, 0.2, "repeats", dof)}, trials=1_000).values for dof in (2, inf)]
    assert not np.array_equal(*others)
    assert np.array_equal(others[1], drawn[0])


def test_a_chance_too_rare_to_be_drawn_keeps_between_its_exact_limits():
    found = chance_of_any([normal(0.5, 0.1, "left"), normal(0.5, 0.1, "right")], trials=1_000)
    assert found.drawn.hits == 0
    assert found.chance == found.at_least == pytest.approx(stats.norm.cdf(-5.0))
    assert found.at_most == pytest.approx(2 * stats.norm.cdf(-5.0))
    assert found.standard_error == pytest.approx(stats.norm.cdf(-5.0))


# After choosing


def spots(count, sigma=0.1, room=0.2, apart=0.0):
    depths = [normal(10.0 + apart * n, sigma, f"spot {n}") for n in range(count)]
    return depths, [depth - depth.nominal_value + room for depth in depths]


@pytest.mark.parametrize("count", [2, 3, 5])
def test_choosing_among_equal_spots_flatters_as_order_statistics_say(count):
    found = chance_after_choice(*spots(count))
    expected = integrate.quad(
        lambda x: x * count * stats.norm.pdf(x) * stats.norm.cdf(x) ** (count - 1), -12, 12, epsabs=1e-10
    )[0]
    assert agrees_with_print(expected, PRINTED["ORDER", f"expected largest of {count} normals"])
    assert abs(found.flattery_mm / 0.1 - expected) < 4 * found.flattery_error_mm / 0.1
    assert found.flattery_error_mm < 0.002 * 0.3
    touching = 1 - stats.norm.cdf(2.0) ** count  # the largest of the errors is more than the room
    assert abs(found.with_choice.chance - touching) < 4 * found.with_choice.standard_error
    assert found.without_choice == pytest.approx(stats.norm.sf(2.0))
    assert found.at_most == pytest.approx(count * stats.norm.sf(2.0))
    assert found.shares == pytest.approx([1 / count] * count, abs=0.01)


def test_a_spot_far_ahead_is_not_flattered():
    found = chance_after_choice(*spots(3, apart=5.0))
    assert (found.chosen, found.shares) == (2, (0.0, 0.0, 1.0))
    assert abs(found.flattery_mm) < 4 * found.flattery_error_mm
    assert abs(found.with_choice.chance - found.without_choice) < 4 * found.with_choice.standard_error


def test_one_spot_leaves_no_choice():
    found = chance_after_choice(*spots(1))
    assert abs(found.with_choice.chance - found.without_choice) < 4 * found.with_choice.standard_error
    assert abs(found.flattery_mm) < 4 * found.flattery_error_mm


@pytest.mark.parametrize("apart", [0.05, 0.2])
def test_two_unequal_spots_agree_with_integration(apart):
    """The better spot is kept unless the other's error beats it: flattery is 2 s^2 f(apart), f the density of the
    difference of the two errors (s sqrt(2) wide)."""
    found = chance_after_choice(*spots(2, apart=apart))
    expected = 2 * 0.1**2 * stats.norm.pdf(apart, 0, 0.1 * sqrt(2))
    assert abs(found.flattery_mm - expected) < 4 * found.flattery_error_mm
    alike = chance_after_choice(*spots(2, apart=apart), alike=True)
    assert abs(alike.flattery_mm - 0.1 / sqrt(np.pi)) < 4 * alike.flattery_error_mm
    assert alike.flattery_mm > found.flattery_mm


def test_what_all_spots_share_and_what_only_the_gaps_have_is_not_flattered():
    depths, gaps = spots(2)
    rule, seating = normal(0.0, 0.3, "zero offset"), normal(0.0, 0.3, "seating")
    found = chance_after_choice([depth + rule for depth in depths], [gap + rule + seating for gap in gaps])
    assert abs(found.flattery_mm - 0.1 / sqrt(np.pi)) < 4 * found.flattery_error_mm
    blind = chance_after_choice(depths, [normal(0.2, 0.1, "another reading of its own") for _ in depths])
    assert abs(blind.flattery_mm) < 4 * blind.flattery_error_mm  # reading the chosen spot again undoes it


def test_a_score_that_falls_with_depth_flatters_the_other_way():
    depths, gaps = spots(2)
    found = chance_after_choice([-2.0 * depth for depth in depths], gaps)
    assert abs(found.flattery_mm + 0.1 / sqrt(np.pi)) < 4 * found.flattery_error_mm


# Refusals

ONE = {"x": Quantity(1.0, 0.1)}
TRIALS = "it must be a whole number from 1,000 to 50,000,000. Write 100_000."


@pytest.mark.parametrize(
    ("ask", "error", "message"),
    [
        (lambda: simulate(abs, ONE, trials=10), OutOfRange, f"trials is 10; {TRIALS}"),
        (lambda: simulate(abs, ONE, trials=10**9), OutOfRange, f"trials is 1000000000; {TRIALS}"),
        (lambda: simulate(abs, ONE, trials=1e5), OutOfRange, f"trials is 100000.0; {TRIALS}"),
        (lambda: Stack.of().monte_carlo(5), OutOfRange, f"trials is 5; {TRIALS}"),
        (
            lambda: simulate(abs, ONE, seed=-1),
            OutOfRange,
            "seed is -1; it must be a whole number from 0 to 9,223,372,036,854,775,808. Write 1.",
        ),
        (
            lambda: simulate(abs, ONE, block=0),
            OutOfRange,
            "block is 0; it must be a whole number from 1 to 10,000,000. Write 65_536.",
        ),
        (
            lambda: simulate(lambda x: x.mean(), ONE, 1_000),
            WrongKind,
            (
                "the model's result is an array of shape () for 1000 trials; expected one number for each. "
                "Compute it from the arrays it is given."
            ),
        ),
        (
            lambda: simulate(lambda x: x, ONE, 1_000).interval(0.9999),
            OutOfRange,
            (
                "the coverage is 0.9999; it must be between 0 and 1 in 1,000 trials. "
                "Write 0.95 for 95 %, or draw more trials."
            ),
        ),
        (
            lambda: simulate_until_stable(lambda x: x, ONE, digits=0),
            OutOfRange,
            "the digits is 0; it must be 1, 2, 3 or 4. Write 2 for two digits of the uncertainty.",
        ),
        (
            lambda: simulate_until_stable(lambda x: x, ONE, coverage=95),
            OutOfRange,
            "the coverage is 95; it must be between 0 and 1. Write 0.95 for 95 %.",
        ),
        (
            lambda: Quantity(1.0, -0.1),
            OutOfRange,
            "the uncertainty is -0.1; it must be 0 or more. Write 0.05 for plus or minus 0.05.",
        ),
        (
            lambda: Quantity(inf, 0.1),
            OutOfRange,
            "the value is inf; it must be a finite number. Check the readings behind it.",
        ),
        (
            lambda: Quantity(1.0, 0.1, "repeats", 0),
            OutOfRange,
            "the degrees of freedom is 0; it must be 1 or more. Read it twice or more.",
        ),
        (
            lambda: Quantity(1.0, 0.1, "square"),
            UnknownChoice,
            "the shape is 'square'; write one of rectangular, triangular, arcsine, normal, repeats.",
        ),
        (
            lambda: Quantity.within(1.0, 2.0, "normal"),
            UnknownChoice,
            "the shape is 'normal'; write one of rectangular, triangular, arcsine.",
        ),
        (
            lambda: Quantity.within(2.0, 1.0),
            OutOfRange,
            "the range is 2 to 1; it must be the lower one first. Write 1.10, 1.30.",
        ),
        (
            lambda: chance_of_any([]),
            OutOfRange,
            "the number of values is 0; it must be 1 or more. Give at least one gap.",
        ),
        (
            lambda: chance_after_choice([1.0, 2.0], [1.0]),
            OutOfRange,
            "the number of gaps is 1; it must be as that of scores, 2. Give one for each spot.",
        ),
    ],
)
def test_what_makes_no_sense_is_refused(ask, error, message):
    with pytest.raises(error, match=whole(message)):
        ask()

"""What holds for the distribution of every sum."""

import itertools
from math import inf

import numpy as np
import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from modelmath.clearance import Distribution, Stack, Term


def sum_of(*terms):
    return Distribution(tuple(terms))


# Millionths, about: floats near 0 have digits that another unit can't hold.
PLACES = st.integers(-5 * 2**20, 5 * 2**20).map(lambda number: number / 2**20)
SHAPES = st.sampled_from(["rectangular", "triangular", "arcsine", "normal", "repeats"])


@st.composite
def term_lists(draw, shapes=SHAPES, least=1):
    def one():
        shape = draw(shapes)
        dof = draw(st.integers(3, 20)) if shape == "repeats" else inf
        width = draw(st.floats(0.02, 1.0))
        return Term(draw(st.sampled_from("abc")), draw(PLACES), width, shape, dof)

    return [one() for _ in range(draw(st.integers(least, 6)))]


@settings(max_examples=20)
@given(term_lists(), st.randoms(use_true_random=False), st.floats(-2, 2))
def test_the_order_of_terms_changes_nothing(terms, random, away):
    mixed = random.sample(terms, len(terms))
    one, two = sum_of(*terms), sum_of(*mixed)
    assert one.mean_mm == two.mean_mm
    assert one.chance_above(one.mean_mm + away) == two.chance_above(two.mean_mm + away)


@settings(max_examples=20)
@given(term_lists(), st.floats(0.0, 2.0))
def test_a_sum_mirrors_about_its_middle(terms, away):
    found = sum_of(*terms)
    low, high = found.chance_below(found.mean_mm - away), found.chance_above(found.mean_mm + away)
    assert low == pytest.approx(high, rel=1e-6, abs=1e-7)
    assert low + found.chance_above(found.mean_mm - away) == pytest.approx(1.0)
    ends = found.interval(0.9)
    assert ends[1] - found.mean_mm == pytest.approx(found.mean_mm - ends[0])


@settings(max_examples=20)
@given(term_lists(), st.lists(st.floats(-4, 4), min_size=2, max_size=12))
@example([Term("a", 0.0, 1.0) for _ in range(6)], list(np.linspace(-0.01, 3.99, 60)))
def test_the_chance_never_falls_on_the_way_up(terms, places):
    """To within the accuracy that is promised."""
    found = sum_of(*terms)
    below = [found.chance_below(found.mean_mm + place) for place in sorted(places)]
    above = [found.chance_above(found.mean_mm + place) for place in sorted(places)]
    assert all(0.0 <= chance <= 1.0 for chance in (*below, *above))
    assert all(later >= earlier * (1 - 1e-3) for earlier, later in itertools.pairwise(below))
    assert all(later <= earlier * (1 + 1e-3) + 1e-300 for earlier, later in itertools.pairwise(above))


@settings(max_examples=20)
@given(term_lists(), st.floats(0.1, 1.0), SHAPES.filter(lambda shape: shape != "repeats"))
def test_one_more_term_never_makes_the_spread_smaller(terms, width, shape):
    """True of the standard deviation always; of the interval where the shapes have one peak (no arcsine)."""
    less, more = sum_of(*terms), sum_of(*terms, Term("more", 0.0, width, shape))
    assert more.u_mm > less.u_mm
    if not any(each.shape == "arcsine" for each in (*terms, Term("more", 0.0, width, shape))):
        assert more.quantile(0.99) - more.mean_mm >= (less.quantile(0.99) - less.mean_mm) * (1 - 1e-3)


@settings(max_examples=20)
@given(term_lists(), st.floats(0.05, 20.0), st.floats(0, 1.5))
def test_scaling_all_terms_scales_the_sum(terms, factor, away):
    scaled = sum_of(*(Term(t.name, t.nominal_mm * factor, t.tolerance_mm * factor, t.shape, t.dof) for t in terms))
    plain = sum_of(*terms)
    assert scaled.u_mm == pytest.approx(plain.u_mm * factor)
    one = plain.chance_above(plain.mean_mm + away)
    # At an arcsine's end the last digit of a place, 1e-16, is 1e-8 of chance.
    assert scaled.chance_above(scaled.mean_mm + away * factor) == pytest.approx(one, rel=1e-3, abs=1e-7)


@settings(max_examples=20)
@given(term_lists(), st.floats(1e-6, 1 - 1e-6))
@example([Term("at its end", 0.0, 1.0, "arcsine")], 1e-6)  # where a hair's breadth is half the chance
def test_a_quantile_undoes_a_chance(terms, p):
    found = sum_of(*terms)
    assert found.chance_below(found.quantile(p)) == pytest.approx(p, rel=1e-3)


@settings(max_examples=10)
@given(term_lists())
def test_simulation_agrees_within_its_own_error(terms):
    found, drawn = sum_of(*terms), Stack.of(*terms).monte_carlo(40_000)
    for p in (0.02, 0.3, 0.9):
        place = found.quantile(p)
        counted = drawn.chance_below(place)
        assert abs(counted.chance - p) < 5 * counted.standard_error


TWO_REPEATS = [Term("a", 0.0, 0.3, "repeats", 3.0), Term("b", 1.0, 0.02), Term("c", 0.0, 0.5, "repeats", 5.0)]


@settings(max_examples=25)
@given(term_lists(), st.sampled_from([-40, -10, -3, 1, 4, 20]), PLACES.map(abs), st.floats(1e-9, 0.45))
@example(TWO_REPEATS, 4, 9.0, 1e-7)
@example(TWO_REPEATS, -10, 2.0, 0.2)
def test_another_unit_changes_no_digit(terms, power, away, chance):
    """Powers of two are exact in floats, so that nothing at all may differ but the unit."""
    unit = 2.0**power
    one = sum_of(*terms)
    other = sum_of(*(Term(t.name, t.nominal_mm * unit, t.tolerance_mm * unit, t.shape, t.dof) for t in terms))
    assert other.mean_mm == one.mean_mm * unit
    place = one.mean_mm + away
    assert other.chance_above(place * unit) == one.chance_above(place)
    assert other.density([place * unit])[0] * unit == one.density([place])[0]
    assert other.quantile(chance) == one.quantile(chance) * unit

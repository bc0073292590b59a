"""Lattices of sums near an end, against interpolation and distribution functions of general-purpose libraries."""

from __future__ import annotations

from math import atan2, comb, erfc, exp, factorial, inf, log, nan, pi, sqrt
from statistics import NormalDist

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import stats

from modelmath.clearance.falling import where_it_falls
from modelmath.clearance.lattice import EdgeLattice, centred_masses, edge_lattice
from modelmath.clearance.shapes import Part

MASSES = np.array([0.1, 0.3, 0.2, 0.25, 0.15])


def part(shape, u_mm, dof=inf):
    return Part(shape, u_mm, dof)


def lattice(cell_mm=0.5, offset_mm=0.25):
    return EdgeLattice(cell_mm, offset_mm, MASSES, np.cumsum(MASSES))


@pytest.mark.parametrize("cell_mm", [0.5, 0.01])
@pytest.mark.parametrize("offset_mm", [0.0, 0.25])
def test_between_the_upper_ends_of_cells_chances_are_interpolated(cell_mm, offset_mm):
    """numpy.interp; the running sum of a cell is reached half a cell beyond its middle."""
    ends = offset_mm + cell_mm * (np.arange(MASSES.size) + 0.5)
    found = lattice(cell_mm, offset_mm)
    for y in np.concatenate([ends, ends[:-1] + 0.3 * cell_mm, [ends[-1] + 0.7 * cell_mm, ends[-1] + 40 * cell_mm]]):
        assert found.within(y) == pytest.approx(np.interp(y, ends, np.cumsum(MASSES)), abs=1e-12)
    # Before the first of them the line of the first two goes on, as far as 0.
    assert found.within(ends[0] - 0.2 * cell_mm) == pytest.approx(0.1 - 0.2 * 0.3, abs=1e-12)
    assert found.within(ends[0] - 2.0 * cell_mm) == 0.0


@pytest.mark.parametrize("sigma_mm", [1e-4, 0.05, 0.4, 3.0])
def test_a_normal_blurs_each_cell_by_itself(sigma_mm):
    """scipy.stats.norm: the chance that place less normal stays within y, summed over all cells."""
    places = 0.25 + 0.5 * np.arange(MASSES.size)
    for y in (-1.1, -0.2, 0.0, 0.3, 1.0, 1.26, 2.2, 2.9, 5.0):
        expected = MASSES @ stats.norm.cdf(y, loc=places, scale=sigma_mm)
        assert lattice().within_blurred(y, sigma_mm) == pytest.approx(expected, rel=1e-9, abs=1e-15)


def of_rectangulars(y, count):
    """Chance that count numbers from 0 to 1 add up to less than y: Irwin (1927) and Hall (1927)."""
    terms = ((-1) ** k * comb(count, k) * max(0.0, y - k) ** count for k in range(count + 1))
    return min(1.0, sum(terms) / factorial(count))


@pytest.mark.parametrize("count", [1, 2, 3, 5])
def test_the_whole_of_equal_rectangulars_is_irwin_and_halls(count):
    parts = [part("rectangular", 1 / np.sqrt(12))] * count
    found = edge_lattice(parts, float(count))
    assert found.masses.sum() == pytest.approx(1.0, abs=1e-9)  # nothing wraps round, nothing is lost
    assert found.masses.min() >= 0.0
    assert found.sums[-1] == pytest.approx(1.0, abs=1e-9)
    places = found.offset_mm + found.cell_mm * np.arange(found.masses.size)
    assert places @ found.masses == pytest.approx(count / 2, abs=1e-9)  # the mean is kept
    for y in np.linspace(0.05, 0.95, 7) * count:
        assert found.within(y) == pytest.approx(of_rectangulars(y, count), abs=2e-6)


@pytest.mark.parametrize("count", [2, 3, 5])
@pytest.mark.parametrize("depth_mm", [0.02, 0.2, 0.9])
def test_near_the_end_only_the_first_polynomial_counts(count, depth_mm):
    """Below 1 the chance of Irwin and Hall is y to the count over its factorial."""
    found = edge_lattice([part("rectangular", 1 / np.sqrt(12))] * count, depth_mm)
    assert found.cell_mm * found.masses.size == pytest.approx(depth_mm)
    for y in (0.3 * depth_mm, 0.8 * depth_mm):
        assert found.within(y) == pytest.approx(y**count / factorial(count), rel=1e-4)


def test_a_narrow_term_keeps_its_mean_and_a_wide_one_its_slope():
    """A rectangular of 1 mm and one of a ten-thousandth: the narrow one shifts by its half width, 0.00005 mm."""
    wide, narrow = (part("rectangular", width / np.sqrt(12)) for width in (1.0, 1e-4))
    found = edge_lattice([wide, narrow], 0.1)
    for y in (0.02, 0.07):
        assert found.within(y) == pytest.approx(y - 0.5e-4, abs=1e-8)


@pytest.mark.parametrize(
    ("parts", "law", "reach"),
    [
        ([part("normal", 0.3)], stats.norm(0, 0.3), 3.0),
        ([part("normal", 0.3), part("normal", 0.4)], stats.norm(0, 0.5), 4.0),
        ([part("rectangular", 1 / np.sqrt(12))] * 2, stats.triang(0.5, -1, 2), 1.5),
        ([part("arcsine", 1 / np.sqrt(2))], stats.arcsine(-1, 2), 1.5),
        ([part("triangular", 1 / np.sqrt(6))], stats.triang(0.5, -1, 2), 1.5),
        ([part("repeats", 0.2, 4.0)], stats.t(4, 0, 0.2), 20.0),
        ([part("repeats", 0.2, 1.0)], stats.cauchy(0, 0.2), 400.0),
    ],
)
def test_a_centred_lattice_holds_the_masses_that_scipy_gives(parts, law, reach):
    places, masses = centred_masses(parts, reach, reach)
    assert places.size == masses.size
    cell = places[1] - places[0]
    assert np.allclose(np.diff(places), cell)
    assert places[places.size // 2] == 0.0
    assert places[0] == pytest.approx(-reach)
    # Running sums half a cell beyond each middle; a slot at the very ends may hold what is cut off.
    inside = slice(places.size // 4, places.size - places.size // 4, 37)
    sums = np.cumsum(masses)
    least = sums[places.size // 4] - law.cdf(places[places.size // 4] + cell / 2)
    off = (sums - law.cdf(places + cell / 2) - least)[inside]
    assert np.abs(off).max() < 2e-7


@pytest.mark.parametrize("shape", ["rectangular", "triangular", "arcsine", "normal"])
@pytest.mark.parametrize("at_points", [False, True])
def test_a_centred_lattice_keeps_the_variance(shape, at_points):
    """Variances add; grouping into cells puts a twelfth of a cell squared on top (Sheppard, from memory)."""
    sizes = [0.01, 0.013, 0.02, 0.1, 0.11]
    reach = 4.0
    places, masses = centred_masses([part(shape, size) for size in sizes], reach, reach, at_points)
    cell = places[1] - places[0]
    grouped = 0.0 if at_points else cell**2 / 12
    expected = sum(size**2 for size in sizes) + grouped
    # An arcsine is so steep at its ends that its cells there are off by more.
    assert float(masses @ places**2) == pytest.approx(expected, abs=(0.04 if shape == "arcsine" else 1e-3) * cell**2)


@given(st.floats(0.01, 100), st.floats(1e-9, 0.49), st.sampled_from(["norm", "logistic", "uniform", "laplace"]))
def test_a_falling_chance_is_found_where_scipy_inverts_it(scale, chance, name):
    law = stats.uniform(-scale, 2 * scale) if name == "uniform" else getattr(stats, name)(0, scale)
    asked = []

    def above(x_mm):
        asked.append(x_mm)
        return float(law.sf(x_mm))

    far = float(law.isf(chance * 1e-3))
    found = where_it_falls(above, chance, far)
    assert found == pytest.approx(float(law.isf(chance)), rel=1e-9, abs=1e-12 * scale)
    assert min(asked) >= 0.0
    assert max(asked) <= far
    assert len(asked) < 60  # where it is no step, halving alone would ask about 50 times for the same figures


def asked_for(tail, chance, far, near=None):
    """How many chances are worked out until the place is found, each between those known to be too large or small."""
    count, low, high = 0, 0.0, far

    def above(x_mm):
        nonlocal count, low, high
        assert low < x_mm < high
        found = tail(x_mm)
        count, low, high = count + 1, *((x_mm, high) if found > chance else (low, x_mm))
        return found

    assert tail(where_it_falls(above, chance, far, near)) == pytest.approx(chance, rel=3e-12)
    return count


def test_a_normal_is_straight_on_normal_paper():
    """The middle and the secant from it: little more is asked, as each chance takes its time; a good guess, once."""

    def tail(x):
        return erfc(x / sqrt(2)) / 2

    for chance in (0.4, 0.1, 1e-3, 1e-9):
        far, place = -NormalDist().inv_cdf(chance / 10), -NormalDist().inv_cdf(chance)
        assert asked_for(tail, chance, far) <= 2
        assert asked_for(tail, chance, far, near=place) == 1
        assert asked_for(tail, chance, far, near=1.02 * place) <= 3


def test_a_lattice_is_finer_the_less_it_covers_and_has_cells_for_all_terms():
    """To half the depth cells are half as wide; all of it has as many again, as it serves for parts of it too."""
    terms = [part("rectangular", 0.1), part("triangular", 0.05)]
    full = 2 * sum(each.half_width_mm for each in terms)
    whole, most, half = (edge_lattice(terms, share * full) for share in (1.0, 0.999, 0.5))
    assert most.cell_mm == pytest.approx(2 * half.cell_mm, rel=0.01)
    assert whole.cell_mm == pytest.approx(half.cell_mm, rel=0.01)
    assert edge_lattice(terms, full * (1 - 1e-14)).cell_mm == pytest.approx(whole.cell_mm, rel=1e-9)
    for count in (32, 33, 65):
        many = edge_lattice([part("rectangular", 0.1)] * count, 0.1)
        assert 0.1 / many.cell_mm >= 128 * count


@pytest.mark.parametrize("near", [-1.0, 0.0, 4.0, 9.0, inf, nan])
def test_a_guess_that_is_not_between_the_ends_is_none(near):
    asked = []

    def above(x):
        asked.append(x)
        return erfc(x / sqrt(2)) / 2

    assert where_it_falls(above, 0.1, 4.0, near) == where_it_falls(above, 0.1, 4.0)
    assert asked[0] == 2.0


@pytest.mark.parametrize(
    ("tail", "far", "most"),
    [
        (lambda x: (1 - x) / 2, lambda chance: 1 - chance / 5, (6, 10, 20, 30)),  # rectangular
        (lambda x: (1 - x) ** 2 / 2, lambda chance: 1 - sqrt(chance / 5), (6, 6, 14, 26)),  # triangular
        (lambda x: 1 / (1 + exp(x)), lambda chance: log(10 / chance - 1), (6, 5, 7, 7)),  # logistic
        (lambda x: atan2(1.0, x) / pi, lambda chance: 5000.0 / chance, (24, 26, 30, 30)),  # a far tail
        (lambda x: erfc(x**3 / sqrt(2)) / 2, lambda chance: 3.0, (16, 12, 7, 8)),  # flat in the middle
    ],
)
def test_what_is_bent_on_normal_paper_takes_few_more(tail, far, most):
    """Halving alone would take 50 for the same figures."""
    for chance, times in zip((0.4, 0.1, 1e-3, 1e-6), most, strict=True):
        assert asked_for(tail, chance, far(chance)) <= times


def test_a_place_where_the_chance_is_not_met_exactly_is_on_the_side_of_the_lower_one():
    """A step: 0.5 below 1 mm, 0.1 from there on; and a far end that is still too likely."""
    found = where_it_falls(lambda x: 0.5 if x < 1.0 else 0.1, 0.2, 3.0)
    assert found >= 1.0
    assert found == pytest.approx(1.0, abs=1e-14)
    assert where_it_falls(lambda x: 0.5 - x, 0.1, 0.3) == 0.3


def test_where_nothing_lies_any_more_there_is_no_chance_to_take_the_logarithm_of():
    assert where_it_falls(lambda x: max(0.0, (1.0 - x) / 2.0), 0.1, 3.0) == pytest.approx(0.8, rel=1e-12)

"""The distribution of a sum against exact sums, numerical integration, scipy and printed examples."""

import itertools
import re
import subprocess
import sys
from fractions import Fraction
from math import asin, comb, erfc, exp, factorial, floor, inf, pi, sqrt

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from published import agrees_with_print, published_rows
from scipy import integrate, special, stats

from modelmath.clearance import Distribution, Stack, Term
from modelmath.errors import OutOfRange, UnknownChoice
from modelmath.lengths.uncertain import limit_per_u

PRINTED = {(row["example"], row["name"]): row["printed"] for row in published_rows("jcgm101.csv")}


def whole(text):
    return f"^{re.escape(text)}$"


def term(u_mm, shape="rectangular", dof=inf, nominal_mm=0.0):
    return Term(shape, nominal_mm, u_mm * limit_per_u(shape, dof), shape, dof)


def sum_of(*terms):
    return Distribution(tuple(terms))


# Exact sums


def rectangles_above(count, x):
    """Exact chance that rectangulars of half width 1 add to more than x (Irwin-Hall, in fractions)."""
    below = (Fraction(count) - Fraction(x)) / 2
    terms = ((-1) ** k * comb(count, k) * (below - k) ** count for k in range(floor(below) + 1))
    return float(sum(terms, Fraction(0)) / factorial(count))


@pytest.mark.parametrize("count", [1, 2, 3, 4, 7, 12, 30, 60])
@pytest.mark.parametrize("chance", [0.4, 1e-2, 1e-4, 1e-6, 1e-9, 1e-12])
def test_equal_rectangulars_agree_with_the_exact_sum_deep_in_the_tail(count, chance):
    found = sum_of(*(Term("x", 0.0, 1.0) for _ in range(count)))
    place = -found.quantile(chance)
    assert found.chance_above(place) == pytest.approx(rectangles_above(count, place), rel=5e-4)
    assert rectangles_above(count, place) == pytest.approx(chance, rel=5e-4)


def unequal_above(halves, x):
    """Exact chance for rectangulars of several half widths: a sum over the corners of their box."""
    count, total = len(halves), Fraction(0)
    for signs in itertools.product((1, -1), repeat=count):
        corner = sum(sign * half for sign, half in zip(signs, halves, strict=True)) - Fraction(x)
        if corner > 0:
            total += (-1) ** signs.count(-1) * corner**count
    volume = Fraction(1)
    for half in halves:
        volume *= 2 * half
    return float(total / (factorial(count) * volume))


@pytest.mark.parametrize(
    "halves", [("1", "1/100"), ("1", "1/10", "1/1000"), ("3/10", "2/10", "1/10", "1/20", "1/50"), ("1", "1", "1/10000")]
)
@pytest.mark.parametrize("chance", [0.3, 1e-3, 1e-6, 1e-10])
def test_unequal_rectangulars_agree_with_the_exact_sum(halves, chance):
    exact = [Fraction(half) for half in halves]
    found = sum_of(*(Term("x", 0.0, float(half)) for half in exact))
    place = -found.quantile(chance)
    assert found.chance_above(place) == pytest.approx(unequal_above(exact, place), rel=1e-3)


@pytest.mark.parametrize("away", [0.1, 0.7, 0.99, 0.9999])
def test_one_term_is_exact(away):
    assert sum_of(Term("x", 0.0, 1.0)).chance_above(away) == pytest.approx((1 - away) / 2, rel=1e-12)
    assert sum_of(Term("x", 0.0, 1.0, "triangular")).chance_above(away) == pytest.approx((1 - away) ** 2 / 2, rel=1e-9)
    arcs = sum_of(Term("x", 0.0, 1.0, "arcsine")).chance_above(away)
    assert arcs == pytest.approx(0.5 - asin(away) / pi, rel=1e-10)
    for dof in (1, 2, 3, 7.5):
        assert sum_of(term(0.5, "repeats", dof)).chance_above(away) == pytest.approx(stats.t.sf(away / 0.5, dof))


def test_a_triangle_is_two_rectangles():
    """JCGM 101:2008, 6.4.5: the sum of two rectangulars of half width a/2 is triangular of half width a."""
    two, one = sum_of(Term("x", 0.0, 0.5), Term("x", 0.0, 0.5)), sum_of(Term("x", 0.0, 1.0, "triangular"))
    for away in (0.0, 0.2, 0.6, 0.99, 0.999):
        assert two.chance_above(away) == pytest.approx(one.chance_above(away), rel=1e-6)


def test_normals_alone_are_exact():
    found = sum_of(term(0.3, "normal"), term(0.4, "normal"), term(1.2, "repeats", inf, nominal_mm=2.0))
    assert found.u_mm == pytest.approx(1.3)
    for away in (0.0, 1.0, 5.0, 9.0):
        assert found.chance_below(2.0 - away) == pytest.approx(0.5 * erfc(away / 1.3 / sqrt(2)), rel=1e-13)


def test_a_sum_without_uncertainty_is_a_step():
    found = sum_of(Term("depth", 0.3), Term("spacer", -0.1), Term("ring", -0.2))
    assert (found.chance_below(0.0), found.chance_above(0.0)) == (0.0, 0.0)  # rounding is no touching
    assert (found.chance_below(0.001), found.chance_above(0.001)) == (1.0, 0.0)
    assert (found.chance_below(-0.001), found.chance_above(-0.001)) == (0.0, 1.0)
    assert found.interval() == (found.mean_mm, found.mean_mm)
    assert found.u_mm == 0.0
    assert found.density([1.0, found.mean_mm]).tolist() == [0.0, inf]
    assert Stack.of().interference() == 0.0


@pytest.mark.parametrize("p", [0.6, 0.975, 0.999, 1 - 1e-6])
@pytest.mark.parametrize("dof", [1, 3, 30])
def test_quantiles_of_repeats_are_those_of_student(p, dof):
    found = sum_of(term(0.5, "repeats", dof, nominal_mm=2.0))
    assert found.quantile(p) - 2.0 == pytest.approx(0.5 * stats.t.ppf(p, dof), rel=1e-8)
    assert 2.0 - found.quantile(1 - p) == pytest.approx(0.5 * stats.t.ppf(p, dof), rel=1e-8)


@pytest.mark.parametrize("p", [0.6, 0.975, 0.999, 1 - 1e-6])
@pytest.mark.parametrize("wide", [0.01, 0.5, 3.0])
def test_quantiles_of_repeats_with_other_terms_have_the_chance_asked_for(p, wide):
    for terms in (
        [term(0.5, "repeats", 3), term(wide, "normal")], [term(0.5, "repeats", 4), Term("x", 0.0, wide)],
        [term(0.5, "repeats", 3), term(0.2, "repeats", 5), term(wide, "normal"), Term("x", 0.0, 0.3)],
    ):  # fmt: skip
        found = sum_of(*terms)
        assert found.chance_above(found.quantile(p)) == pytest.approx(1 - p, rel=1e-6)


# Sums with normals and repeats, against integration


def integral(function, points, low, high):
    inside = sorted({low, high, *(point for point in points if low < point < high)})
    pieces = (
        integrate.quad(function, a, b, epsabs=0, epsrel=1e-9, limit=400)[0] for a, b in itertools.pairwise(inside)
    )
    return sum(pieces)


@pytest.mark.parametrize("sigma", [1e-4, 0.01, 0.2, 3.0])
@pytest.mark.parametrize("chance", [0.2, 1e-3, 1e-6, 1e-12])
def test_a_normal_and_a_rectangular_agree_with_their_closed_form(sigma, chance):
    def upper(z):  # integral of the normal's upper chance
        return exp(-z * z / 2) / sqrt(2 * pi) - z * special.ndtr(-z)

    found = sum_of(Term("x", 0.0, 1.0), term(sigma, "normal"))
    place = -found.quantile(chance)
    expected = sigma / 2 * (upper((place - 1) / sigma) - upper((place + 1) / sigma))
    assert found.chance_above(place) == pytest.approx(expected, rel=2e-3)


@pytest.mark.parametrize("chance", [0.2, 1e-3, 1e-6])
@pytest.mark.parametrize("pair", [("arcsine", "arcsine"), ("arcsine", "triangular"), ("arcsine", "normal")])
def test_an_arcsine_and_another_agree_with_integration(pair, chance):
    u = {"arcsine": 1 / sqrt(2), "triangular": 0.5 / sqrt(6), "normal": 0.05}
    found = sum_of(term(u[pair[0]], pair[0]), term(u[pair[1]], pair[1]))
    place = -found.quantile(chance)

    def other_above(x):
        if pair[1] == "normal":
            return special.ndtr(-x / 0.05)
        if pair[1] == "arcsine":
            return np.arccos(np.clip(x, -1, 1)) / pi
        y = np.clip(x / 0.5, -1, 1)
        return (1 - y) ** 2 / 2 if y > 0 else 1 - (1 + y) ** 2 / 2

    # Seen from the upper end, x = cos(angle): the density of the angle is even.
    bends = [np.arccos(np.clip(place + end, -1, 1)) for end in (-1.0, -0.5, 0.0, 0.5, 1.0)]
    expected = integral(lambda angle: other_above(place - np.cos(angle)) / pi, [*bends, 0.01, 0.1, 0.5], 0.0, pi)
    assert found.chance_above(place) == pytest.approx(expected, rel=3e-3)


@pytest.mark.parametrize("dof", [1, 2, 3, 5, 20])
@pytest.mark.parametrize("scale", [0.002, 0.05, 1.0, 30.0])
@pytest.mark.parametrize("chance", [0.2, 1e-3, 1e-6])
def test_repeats_and_a_rectangular_agree_with_integration(dof, scale, chance):
    found = sum_of(term(scale, "repeats", dof), Term("x", 0.0, 1.0))
    place = -found.quantile(chance)
    spots = [sign * scale * far for far in (0, 1, 3, 10, 100, 1e3, 1e4) for sign in (1, -1)]
    expected = integral(lambda y: stats.t.sf(y / scale, dof) / 2, spots, place - 1, place + 1)
    assert found.chance_above(place) == pytest.approx(expected, rel=1e-2)


@pytest.mark.parametrize(("one", "two"), [(2, 2), (2, 4), (4, 9), (9, 9)])
@pytest.mark.parametrize("scale", [0.05, 1.0])
@pytest.mark.parametrize("chance", [0.1, 1e-3, 1e-6])
def test_two_repeats_agree_with_integration(one, two, scale, chance):
    found = sum_of(term(1.0, "repeats", one), term(scale, "repeats", two))
    place = -found.quantile(chance)
    tops = [
        far * sign * width for far in (1, 3, 10, 30, 100, 1e3, 1e4, 1e5) for sign in (1, -1) for width in (1, scale)
    ]
    spots = [0.0, place, *tops, *(place + far for far in tops)]
    expected = integral(
        lambda y: stats.t.pdf(y / scale, two) / scale * stats.t.sf(place - y, one), spots, -1e7 * scale, 1e7 * scale
    )
    assert found.chance_above(place) == pytest.approx(expected, rel=2e-3)


@pytest.mark.parametrize("chance", [0.1, 1e-3, 1e-6])
def test_sums_of_t_of_one_degree_are_again_of_one_degree(chance):
    """Stable law: scales of Cauchy distributions add."""
    found = sum_of(*(term(scale, "repeats", 1) for scale in (1.0, 0.5, 0.3, 0.2)))
    place = -found.quantile(chance)
    assert found.chance_above(place) == pytest.approx(stats.cauchy.sf(place / 2.0), rel=5e-3)


def characteristic(terms, t):
    """Characteristic function of a sum about 0, each term's from a textbook."""
    product = 1.0
    for each in terms:
        u, a = each.u_mm, each.tolerance_mm
        if each.shape == "rectangular":
            product *= np.sinc(a * t / pi)
        elif each.shape == "triangular":
            product *= np.sinc(a * t / 2 / pi) ** 2
        elif each.shape == "arcsine":
            product *= special.j0(a * t)
        elif each.shape == "normal":
            product *= exp(-((u * t) ** 2) / 2)
        else:
            z, half = sqrt(each.dof) * u * t, each.dof / 2
            product *= special.kv(half, z) * z**half / (special.gamma(half) * 2 ** (half - 1)) if z else 1.0
    return product


@pytest.mark.parametrize("chance", [0.2, 1e-2, 1e-4, 1e-6])
def test_thirty_mixed_terms_agree_with_their_characteristic_function(chance):
    """Gil-Pelaez inversion by scipy.integrate: chance above x = 1/2 - 1/pi of the integral of f(t) sin(x t)/t."""
    shapes = ["rectangular", "triangular", "arcsine", "normal", "repeats"]
    terms = [
        Term(f"{n}", 0.0, 0.05 + 0.01 * (n % 7), shape, 3 + n % 4 if shape == "repeats" else inf)
        for n, shape in enumerate(itertools.islice(itertools.cycle(shapes), 30))
    ]
    found = sum_of(*terms)
    place = -found.quantile(chance)
    ends = np.arange(0.0, 60.0, 0.5)
    area = sum(
        integrate.quad(lambda t: characteristic(terms, t) * np.sin(place * t) / t if t else place, a, b, epsabs=1e-13)[
            0
        ]
        for a, b in itertools.pairwise(ends)
    )
    assert found.chance_above(place) == pytest.approx(0.5 - area / pi, rel=2e-3)


# Printed examples


def test_four_normals_agree_with_jcgm_101():
    found = sum_of(*(term(1.0, "normal") for _ in range(4)))
    assert agrees_with_print(found.interval(0.95)[1], PRINTED["JCGM101_922", "half width at 95 %"])
    assert agrees_with_print(found.interval(0.95)[1], PRINTED["JCGM101_922", "half width at 95 % exactly"])


def test_four_rectangulars_agree_with_jcgm_101():
    found = sum_of(*(term(1.0) for _ in range(4)))
    high = found.interval(0.95)[1]
    assert agrees_with_print(high, PRINTED["JCGM101_923", "half width at 95 %"])
    assert agrees_with_print(high, PRINTED["JCGM101_923", "half width at 95 % exactly"])
    assert high == pytest.approx(2 * sqrt(3) * (2 - 0.6**0.25), rel=1e-7)


def test_one_wide_rectangular_agrees_with_jcgm_101():
    found = sum_of(*(term(u) for u in (1.0, 1.0, 1.0, 10.0)))
    assert agrees_with_print(found.u_mm, PRINTED["JCGM101_924", "standard uncertainty"])
    assert agrees_with_print(found.interval(0.95)[1], PRINTED["JCGM101_924", "half width at 95 %"])


def end_gauge():
    """JCGM 100:2008, H.1 (inputs confirmed): the components that count to first order, in nm."""
    return Stack.of(
        term(25.0, "repeats", 18),
        term(5.8, "repeats", 24),
        term(3.9, "repeats", 5),
        term(6.7, "repeats", 8),
        term(50000623 * 0.577e-6 * 0.1, "repeats", 50),
        term(50000623 * 11.5e-6 * 0.0289, "repeats", 2),
    )


def test_an_end_gauge_agrees_with_jcgm_100():
    gauge = end_gauge()
    assert agrees_with_print(gauge.standard_uncertainty(), PRINTED["GUM_H1", "standard uncertainty"])
    assert gauge.effective_dof() == int(PRINTED["GUM_H1", "effective degrees of freedom"])
    factor = gauge.expanded(0.99) / gauge.standard_uncertainty()
    assert agrees_with_print(factor, PRINTED["GUM_H1", "t factor at 99 %"])
    # Printed from the rounded 32 nm.
    assert agrees_with_print(factor * 32, PRINTED["GUM_H1", "expanded uncertainty at 99 %"])


# On a stack


def test_a_stack_knows_its_chance_of_touching_and_the_room_it_needs():
    stack = Stack.of(Term("depth", 10.0, 0.10), Term("part", -9.85, 0.05), Term("seating", 0.0, 0.02, "normal"))
    touching = stack.interference()
    assert touching == stack.distribution().chance_below(0.0)
    assert stack.allowance(touching) == pytest.approx(0.15)
    assert stack.allowance(0.5) == 0.0
    assert stack.allowance(1e-6) < stack.worst_case() + 0.02


@given(st.floats(1e-6, 0.5))
def test_the_room_left_keeps_the_chance_that_was_wanted(chance):
    spread = [Term("a", 0.0, 0.2), Term("b", 0.0, 0.1, "triangular"), Term("c", 0.0, 0.05, "normal")]
    room = Stack.of(*spread).allowance(chance)
    assert Stack.of(Term("room", room), *spread).interference() == pytest.approx(chance, rel=1e-6)


def test_without_takes_a_tolerance_and_leaves_the_length():
    stack = Stack.of(Term("depth", 10.0, 0.10), Term("part", -9.0, 0.05))
    assert stack.without("depth").terms == (Term("depth", 10.0), Term("part", -9.0, 0.05))
    assert stack.without("depth").nominal == stack.nominal
    assert stack.without("depth").allowance(0.01) < stack.allowance(0.01)
    text = "the term is 'dept'; write one of depth, part. Did you mean 'depth'?"
    with pytest.raises(UnknownChoice, match=whole(text)):
        stack.without("dept")


def test_effective_degrees_of_freedom():
    """JCGM 100:2008, G.4.1: infinite where all are; two equal components add theirs."""
    assert Stack.of(Term("a", 0.0, 0.1), Term("b", 0.0, 0.1, "normal")).effective_dof() == inf
    assert Stack.of().effective_dof() == inf
    assert Stack.of(term(1.0, "repeats", 2)).effective_dof() == 2
    assert Stack.of(term(1.0, "repeats", 2), term(1.0, "repeats", 2)).effective_dof() == 4
    assert Stack.of(term(1.0, "repeats", 2), term(1.0)).effective_dof() == 8
    assert Stack.of(term(2.0, "normal")).expanded(0.95) == pytest.approx(2 * 1.959964)


def test_a_density_adds_up_to_one_and_knows_a_triangle():
    xs = np.linspace(-2, 2, 4001)
    two = sum_of(Term("x", 0.0, 0.5), Term("x", 0.0, 0.5)).density(xs)
    assert np.abs(two - np.clip(1 - np.abs(xs), 0, None)).max() < 1e-3
    many = sum_of(Term("x", 0.1, 0.3), term(0.2, "normal"), term(0.05, "repeats", 4)).density(xs)
    assert many.sum() * (xs[1] - xs[0]) == pytest.approx(1.0, abs=1e-3)
    bell = sum_of(term(0.5, "normal")).density(xs)
    assert bell == pytest.approx(stats.norm.pdf(xs, 0, 0.5), abs=1e-6)


def test_u_is_infinite_where_the_t_distribution_has_no_variance():
    """JCGM 101:2008, 6.4.9: a t of n - 1 degrees of freedom has variance (n - 1)/(n - 3), for more than 2 of them."""
    assert sum_of(term(1.0, "repeats", 2), Term("x", 0.0, 1.0)).u_mm == inf
    assert sum_of(term(1.0, "repeats", 4)).u_mm == pytest.approx(sqrt(2))
    assert sum_of(term(2.0, "repeats", 6)).u_mm == pytest.approx(2 * sqrt(1.5))
    assert sum_of(term(1.0, "repeats", 4), term(1.0)).u_mm == pytest.approx(sqrt(3))


def test_what_rounding_left_of_a_term_counts_as_nothing():
    plain = sum_of(Term("x", 0.0, 1.0), Term("y", 0.0, 0.5))
    noisy = sum_of(Term("x", 0.0, 1.0), Term("y", 0.0, 0.5), term(1e-16, "repeats", 2))
    assert noisy.chance_above(1.49) == plain.chance_above(1.49)


def test_sums_without_repeats_never_load_scipy():
    code = (
        "import sys; from modelmath.clearance import Stack, Term;"
        "s = Stack.of(Term('a', 1.0, 0.4), Term('b', -0.5, 0.3, 'arcsine'), Term('c', 0.0, 0.1, 'normal'));"
        "s.interference(), s.allowance(1e-6), s.distribution().density([0.5]), s.expanded(), s.monte_carlo(1000);"
        "assert 'scipy' not in sys.modules; Stack.of(Term('d', 1.0, 0.1, 'repeats', 3)).interference();"
        "assert 'scipy' in sys.modules"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stderr


@pytest.mark.parametrize(
    ("ask", "message"),
    [
        (lambda d: d.quantile(0.0), "the chance is 0.0; it must be between 0 and 1. Write 0.975 for 97.5 %."),
        (lambda d: d.quantile(float("nan")), "the chance is nan; it must be between 0 and 1. Write 0.975 for 97.5 %."),
        (lambda d: d.interval(95), "the coverage is 95; it must be between 0 and 1. Write 0.95 for 95 %."),
        (lambda d: d.chance_below(inf), "x_mm is inf mm; it must be a finite number. Check the readings behind it."),
        (
            lambda d: Stack(d.terms).allowance(0.6),
            "the chance of touching is 0.6; it must be above 0 and no more than 0.5. Write 0.01 for one in a hundred.",
        ),
        (
            lambda d: Stack(d.terms).allowance(0),
            "the chance of touching is 0; it must be above 0 and no more than 0.5. Write 0.01 for one in a hundred.",
        ),
        (
            lambda d: Stack(d.terms).expanded(1.0),
            "the coverage is 1.0; it must be between 0 and 1. Write 0.95 for 95 %.",
        ),
        (
            lambda d: Term("roof", 0.0, 0.1, "repeats", 0),
            "roof: degrees of freedom is 0; it must be 1 or more. Read it twice or more.",
        ),
    ],
)
def test_what_makes_no_sense_is_refused(ask, message):
    with pytest.raises(OutOfRange, match=whole(message)):
        ask(sum_of(Term("x", 0.0, 1.0)))


def test_repeats_much_narrower_than_a_cell_leave_a_wide_term_as_it_is():
    """A rectangular 20 mm wide: its chance falls by a twentieth for each mm; readings that scatter by 0.0001 mm on top
    change that by no more than their own share of the slope."""
    found = Distribution((Term("space", 0.0, 10.0, "rectangular"), Term("readings", 0.0, 1e-4, "repeats", 4.0)))
    for place in (0.0003, 1.2345, 3.00037, 7.77777, 9.9):
        assert found.chance_above(place) == pytest.approx((10.0 - place) / 20.0, abs=2e-7)


def test_what_is_kept_for_later_is_no_part_of_what_a_distribution_is():
    terms = (Term("space", 1.0, 0.5, "rectangular"), Term("seat", 0.0, 0.1))
    one, other = Distribution(terms), Distribution(terms)
    assert one.chance_above(1.4) > 0
    assert one.quantile(0.1) < 1
    assert one.density([1.0])[0] > 0
    assert one == other
    assert repr(one) == repr(other) == f"Distribution(terms={terms!r})"

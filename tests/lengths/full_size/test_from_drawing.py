"""Ratios and sizes from drawings: exact geometry, numpy least squares, and simulation agree with the budgets."""

import re
from fractions import Fraction
from math import sqrt

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from modelmath.errors import OutOfRange, UnknownChoice, WrongKind
from modelmath.lengths.full_size.coverage import effective_dof, half_width, nominal_of
from modelmath.lengths.full_size.from_drawing import MOST_KNOWN, Directions, DrawingRatio
from modelmath.lengths.full_size.known_sizes import KnownSize
from modelmath.lengths.full_size.standard_ratios import StandardRatio, standard_ratios
from modelmath.lengths.parse import parse_prototype
from modelmath.lengths.prototype import PrototypeLength
from modelmath.lengths.rules import Rule
from modelmath.lengths.scales import scale
from modelmath.lengths.uncertain import components, normal, rectangular, repeated

FOOT_MM = 304.8
feet = st.floats(1, 200)
ratios = st.floats(4, 400)


def whole(text):
    return f"^{re.escape(text)}$"


def drawn(ratio, *full_ft, off=0.25, shifts=()):
    """Return known dimensions of a drawing to a ratio, each shifted by a part of its length."""
    shifts = [*shifts, *[0.0] * (len(full_ft) - len(shifts))]
    return tuple(
        KnownSize(f"size {n}", ft, rectangular(ft * FOOT_MM / ratio * (1 + shift), off, f"measuring {n}"))
        for n, (ft, shift) in enumerate(zip(full_ft, shifts, strict=True), start=1)
    )


@given(feet, ratios)
def test_one_known_dimension_is_the_plain_quotient(full, ratio):
    found = DrawingRatio(drawn(ratio, full)).per_unit
    assert found.n == pytest.approx(ratio)
    assert found.s / found.n == pytest.approx(0.25 / sqrt(3) / (full * FOOT_MM / ratio))
    assert DrawingRatio(drawn(ratio, full)).agrees is None


@given(st.lists(feet, min_size=2, max_size=6), ratios)
def test_several_that_agree_give_their_ratio_and_are_surer_than_any_one(sizes, ratio):
    several = DrawingRatio(drawn(ratio, *sizes))
    assert several.per_unit.n == pytest.approx(ratio)
    assert several.per_unit.s < min(DrawingRatio((each,)).per_unit.s for each in several.known)
    assert several.agrees is True
    assert several.disagreeing is None


def test_several_agree_with_least_squares_by_numpy():
    """numpy.linalg.lstsq of measured on full size, each row over its standard uncertainty."""
    full = np.array([40.5, 30.25, 13.0, 7.5])
    measured = np.array([257.0, 192.3, 82.4, 47.7])
    half = np.array([0.25, 0.25, 0.5, 0.1])
    u = half / sqrt(3)
    known = [
        KnownSize(f"{n}", a, rectangular(b, c, f"{n}"))
        for n, (a, b, c) in enumerate(zip(full, measured, half, strict=True))
    ]
    (slope,), *_ = np.linalg.lstsq((full / u)[:, None], measured / u, rcond=None)
    found = DrawingRatio(tuple(known)).per_unit
    assert found.n == pytest.approx(FOOT_MM / slope)
    # Variance of the slope: 1 / sum of (x/u)^2 (any text on weighted least squares).
    assert found.s / found.n == pytest.approx(1 / sqrt(np.sum((full / u) ** 2)) / slope)


def test_the_budget_agrees_with_a_simulation():
    """numpy Monte Carlo, 200,000 trials: readings as rectangles, one rule's normal scale error, a size known ± 1 in."""
    rng = np.random.default_rng(20)
    trials = 200_000
    full, ratio = np.array([40.5, 30.25, 13.0]), 48.0
    rule = Rule(unit="mm", graduation="1", scale_error_uncertainty=0.004, name="steel rule")
    marks = [round(ft * FOOT_MM / ratio) for ft in full]
    known = [
        KnownSize.of_prototype(
            f"{n}", PrototypeLength(Fraction(ft)), rule.length(mark, "zero", f"{n}"),
            PrototypeLength(Fraction(1, 12)) if n == 1 else None,
        )
        for n, (ft, mark) in enumerate(zip(full, marks, strict=True))
    ]  # fmt: skip
    drawing = DrawingRatio(tuple(known))
    wanted = drawing.full_size(rule.length(50, "zero", "door"))

    stretch = 1 + rng.normal(0, 0.004, trials)
    read = [(mark + rng.uniform(-0.5, 0.5, trials)) * stretch for mark in marks]
    sizes = [np.full(trials, ft) for ft in full]
    sizes[1] = sizes[1] + rng.uniform(-1 / 12, 1 / 12, trials)
    slope = sum(marks) / sum(full)
    u2 = [mark_u**2 + (slope * ft_u) ** 2 for mark_u, ft_u in zip(
        [each.measured.s for each in known], [0, 1 / 12 / sqrt(3), 0], strict=True)]  # fmt: skip
    upper = sum(x * y / v for x, y, v in zip(sizes, read, u2, strict=True))
    lower = sum(x * x / v for x, v in zip(sizes, u2, strict=True))
    simulated = lower / upper * FOOT_MM
    door = (50 + rng.uniform(-0.5, 0.5, trials)) * stretch * simulated / FOOT_MM

    second_order = 48.0 * (0.004**2 + (0.5 / 0.75 / 257) ** 2)  # of 1/x, which the budget leaves out
    error = 4 / sqrt(2 * trials)  # four standard errors of a simulated standard deviation
    assert drawing.per_unit.n == pytest.approx(simulated.mean(), abs=4 * simulated.std() / sqrt(trials) + second_order)
    assert drawing.per_unit.s == pytest.approx(simulated.std(), rel=error)
    assert wanted.s == pytest.approx(door.std(), rel=error)
    # The rule measured both: its scale error cancels in the size, not in the ratio.
    shares = {cause.name: abs(share) for cause, share in drawing.budget}
    assert shares["scale error of steel rule"] == pytest.approx(0.004 * drawing.per_unit.n)
    left = {cause.name: abs(share) for cause, share in components(wanted)}
    assert left.get("scale error of steel rule", 0.0) < 1e-9


def test_the_budget_names_every_source_and_adds_in_squares():
    known = KnownSize.of_prototype(
        "body", parse_prototype("40' 6\""), rectangular(257.2, 0.25, "measuring body"), parse_prototype("1 in")
    )
    ratio = DrawingRatio((known,))
    assert [cause.name for cause, _ in ratio.budget] == ["full size of body", "measuring body"]
    assert sum(share**2 for _, share in ratio.budget) == pytest.approx(ratio.per_unit.s**2)


@given(st.lists(feet, min_size=1, max_size=4), ratios, st.floats(1, 300), st.floats(1, 300))
def test_two_sizes_taken_with_one_ratio_share_it(sizes, ratio, a, b):
    drawing = DrawingRatio(drawn(ratio, *sizes))
    first, second = rectangular(a, 0.25, "a"), rectangular(b, 0.25, "b")
    quotient = drawing.full_size(first) / drawing.full_size(second)
    assert quotient.n == pytest.approx(a / b)
    assert quotient.s == pytest.approx((first / second).s)
    assert drawing.full_size(first).s / drawing.full_size(first).n > (first.s / first.n)


@given(feet, ratios)
def test_what_is_known_comes_back(full, ratio):
    """A dimension that gave the ratio has its full size exactly: it is correlated with the ratio wholly."""
    drawing = DrawingRatio(drawn(ratio, full))
    back = drawing.full_size(drawing.known[0].measured)
    assert back.n == pytest.approx(full)
    assert back.s < 1e-9 * full
    model = drawing.on_model(drawing.known[0].measured, "HO")
    assert model.n == pytest.approx(3.5 * full)


@given(ratios, st.floats(1, 100), st.floats(1, 100))
def test_what_measures_more_is_larger(ratio, a, b):
    drawing = DrawingRatio(drawn(ratio, 40.0))
    less, more = sorted((a, b))
    assert drawing.full_size(less).n <= drawing.full_size(more).n
    if more > less * (1 + 1e-12):  # closer than that, rounding may make them one
        assert drawing.full_size(less).n < drawing.full_size(more).n


def test_a_part_of_a_model_is_a_known_dimension():
    model = normal(141.75, 0.05, "caliper")
    found = DrawingRatio((KnownSize.of_model("body", model, "HO", 257.175),)).per_unit
    assert found.n == pytest.approx(48.0)
    assert found.s == pytest.approx(48.0 * 0.05 / 141.75)


# Do they agree?


@pytest.mark.parametrize("wrong", [0, 1, 2, 3])
@pytest.mark.parametrize("shift", [0.01, -0.01])
def test_one_of_several_that_is_off_is_named(wrong, shift):
    shifts = [0.0] * 4
    shifts[wrong] = shift
    drawing = DrawingRatio(drawn(48.0, 40.5, 30.25, 36.0, 33.5, shifts=shifts))
    assert drawing.agrees is False
    assert drawing.disagreeing.name == f"size {wrong + 1}"
    assert drawing.disagreeing.off.n == pytest.approx(shift)
    assert len(drawing.known) == 4  # pointed out, never dropped


def test_of_two_it_can_t_be_told_which_is_off():
    drawing = DrawingRatio(drawn(48.0, 40.5, 30.25, shifts=[0.01]))
    assert drawing.agrees is False
    assert drawing.disagreeing is None
    first, second = drawing.deviations
    assert abs(first.off.n) / first.off.s == pytest.approx(abs(second.off.n) / second.off.s, rel=0.01)


@given(st.lists(feet, min_size=2, max_size=5, unique=True), st.integers(0, 2**32 - 1))
def test_a_deviation_is_that_from_the_others_own_ratio(sizes, seed):
    shifts = np.random.default_rng(seed).uniform(-0.005, 0.005, len(sizes))
    drawing = DrawingRatio(drawn(48.0, *sizes, shifts=shifts))
    odd = drawing.disagreeing
    for each, known in zip(drawing.deviations, drawing.known, strict=True):
        left_out = {each.name} if odd is None else {each.name, odd.name}
        others = DrawingRatio(tuple(other for other in drawing.known if other.name not in left_out))
        assert each.off.n == pytest.approx(nominal_of(others.full_size(known.measured)) / known.full_ft - 1, abs=1e-12)


def test_one_that_is_off_does_not_make_the_others_look_bad():
    drawing = DrawingRatio(drawn(48.0, 40.5, 36.0, 30.25, shifts=[0.0, 0.02]))
    assert [each.agrees for each in drawing.deviations] == [True, False, True]
    both = DrawingRatio(drawn(48.0, 40.5, 36.0, 30.25, 33.0, shifts=[0.0, 0.03, -0.01]))
    assert both.disagreeing.name == "size 2"
    assert [each.agrees for each in both.deviations][1:3] == [False, False]


def test_good_dimensions_are_said_to_disagree_about_once_in_twenty():
    """False alarms among three with normal errors in 400 seeded drawings: 0.05 within four standard errors."""
    rng = np.random.default_rng(3)
    alarms = 0
    for _ in range(400):
        sizes = [40.5, 30.25, 36.0]
        known = [
            KnownSize(f"{n}", ft, normal(ft * FOOT_MM / 48 + rng.normal(0, 0.2), 0.2, f"{n}"))
            for n, ft in enumerate(sizes)
        ]
        alarms += not DrawingRatio(tuple(known)).agrees
    assert alarms / 400 == pytest.approx(0.05, abs=4 * sqrt(0.05 * 0.95 / 400))


def test_few_repeats_widen_the_limit():
    """t for 97.5 % and 2 degrees of freedom is 4.303 (JCGM 100:2008, table G.2: 95 %), normal 1.960."""
    from_repeats = [KnownSize(name, 40.0, repeated(254.0, 0.1, 2, name)) for name in "ab"]
    stated = [KnownSize(name, 40.0, normal(254.0, 0.1, name)) for name in "ab"]
    assert DrawingRatio(tuple(stated)).deviations[0].limit == pytest.approx(1.95996, abs=1e-4)
    # Two equal parts of 2 degrees of freedom make 4 (JCGM 100:2008, G.4.1); t for 4 is 2.776.
    assert DrawingRatio(tuple(from_repeats)).deviations[0].limit == pytest.approx(2.776, abs=5e-4)
    assert effective_dof(from_repeats[0].measured) == 2


# Along and upright.


def test_a_drawing_stretched_one_way_is_found_out():
    along = DrawingRatio(drawn(48.0, 40.5, 30.25, shifts=[0.03, 0.03]))
    upright = DrawingRatio(drawn(48.0, 13.0))
    assert not Directions(along, upright).agree
    assert Directions(along, upright).off.n == pytest.approx(0.03)
    assert Directions(DrawingRatio(drawn(48.0, 40.5)), upright).agree


def test_pixels_and_mm_are_not_compared():
    message = "the upright dimension is measured in px; expected measured in mm too. Use one unit."
    with pytest.raises(WrongKind, match=whole(message)):
        Directions(DrawingRatio(drawn(48.0, 40.5)), DrawingRatio(drawn(48.0, 13.0), "px"))


# Standard ratios.


def test_the_common_ratios():
    """1/4 in to the foot is 1:48 and 3/16 in 1:64, by division; O and S by NMRA S-1.2."""
    named = {each.ratio: str(each) for each in standard_ratios()}
    assert named[Fraction(48)] == "1:48 (1/4 in to the foot; O)"
    assert named[Fraction(64)].startswith("1:64 (3/16 in to the foot; S")
    assert named[Fraction(3048, 35)] == "1:87.09 (HO)"
    assert {Fraction(2), Fraction(5), Fraction(10), Fraction(20), Fraction(50), Fraction(100)} <= set(named)
    assert list(named) == sorted(named)


@given(st.sampled_from(standard_ratios()), feet)
def test_a_drawing_to_a_common_ratio_says_so(standard, full):
    drawing = DrawingRatio(drawn(float(standard.ratio), full))
    assert drawing.standards[0].ratio == standard.ratio
    assert drawing.copied(standard) == pytest.approx(1)


def test_a_copy_that_shrank_is_within_none():
    drawing = DrawingRatio(drawn(48.0, 40.5, 30.25, shifts=[-0.02, -0.02]))
    assert drawing.standards == ()
    assert drawing.nearest_standard.ratio == 48
    assert drawing.copied(StandardRatio(Fraction(48))) == pytest.approx(0.98)


def test_a_picture_in_pixels_has_no_common_ratio():
    picture = DrawingRatio((KnownSize("body", 40.0, rectangular(1000.0, 2.0, "body")),), "px")
    assert (picture.standards, picture.nearest_standard) == ((), None)
    assert picture.full_size(250.0).n == pytest.approx(10.0)
    assert picture.on_model(250.0, "S").n == pytest.approx(10 * 4.7625)


def test_half_width_is_twice_u_but_never_beyond_the_limits():
    assert half_width(3.0) == 0
    assert half_width(rectangular(1.0, 0.3, "a")) == pytest.approx(0.3)
    both = rectangular(1.0, 0.3, "a") + rectangular(1.0, 0.3, "b")
    assert half_width(both) == pytest.approx(2 * 0.3 * sqrt(2 / 3))
    assert half_width(normal(1.0, 0.3, "a")) == pytest.approx(0.6)
    assert half_width(repeated(1.0, 0.1, 3, "a")) == pytest.approx(0.331, abs=5e-4)  # JCGM 100:2008, table G.2: 3.31


# What is refused.

SOME = "it must be 1 to 100. Give one or a few."
WRITE = "it must be above 0. Write what it measures, such as"


@pytest.mark.parametrize(
    ("make", "error", "message"),
    [
        (lambda: DrawingRatio(()), OutOfRange, f"the number of known dimensions is 0; {SOME}"),
        (
            lambda: DrawingRatio(drawn(48.0, *[40.0] * (MOST_KNOWN + 1))),
            OutOfRange,
            f"the number of known dimensions is 101; {SOME}",
        ),
        (
            lambda: DrawingRatio(drawn(48.0, 4.0), "in"),
            UnknownChoice,
            "what was measured on the drawing is 'in'; write one of mm, px.",
        ),
        (
            lambda: DrawingRatio((*drawn(48.0, 4.0), KnownSize("door", 7.0, 44.5))),
            OutOfRange,
            "door: uncertainty is 0; it must be above 0 where several are known. Write 203.1 mm ± 0.25.",
        ),
        (lambda: KnownSize("door", 0.0, 44.5), OutOfRange, f"door: full size is 0 ft; {WRITE} 40.5."),
        (
            lambda: KnownSize("door", 7.0, normal(-44.5, 1.0, "x")),
            OutOfRange,
            f"door: measured on the drawing is -44.5 mm or px; {WRITE} 203.1.",
        ),
        (
            lambda: KnownSize("door", PrototypeLength(Fraction(7)), 44.5),
            WrongKind,
            "door: full size is “7' 0\"”; expected a number of ft. Write a number, such as 40.5.",
        ),
        (
            lambda: DrawingRatio(drawn(48.0, 4.0)).full_size("53 mm"),
            WrongKind,
            "measured on the drawing is '53 mm'; expected a number of mm. Write a number, such as 53.4.",
        ),
    ],
)
def test_what_makes_no_sense_is_refused(make, error, message):
    with pytest.raises(error, match=whole(message)):
        make()


def test_a_hundred_known_dimensions_are_taken():
    assert DrawingRatio(drawn(48.0, *[40.0] * 100)).per_unit.n == pytest.approx(48.0)


def test_an_exact_size_is_enough_where_there_is_one():
    assert DrawingRatio((KnownSize("door", 7.0, 44.45),)).per_unit == pytest.approx(48.0)
    assert scale("O").ratio == 48

"""A length as text: it reads back, ties go away from zero in every scale, and nothing odd is printed."""

import re
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st
from uncertainties import ufloat

from modelmath.errors import OutOfRange, UnknownChoice, WrongKind
from modelmath.lengths.parse import parse_length_exact
from modelmath.lengths.prototype import PrototypeLength
from modelmath.lengths.scales import all_scales
from modelmath.lengths.text import DECIMALS, format_length, in_steps, mixed, round_half_up, three_ways
from modelmath.lengths.units import UNITS, mm_per

MARK_UNITS = ("scale foot", "scale inch", "in")
scales = st.sampled_from(all_scales())
denominators = st.integers(1, 64)


def whole(text):
    return f"^{re.escape(text)}$"


@given(scales, st.sampled_from(MARK_UNITS), denominators, st.integers(-2000, 2000))
def test_every_mark_reads_back(each, unit, denominator, count):
    mark = Fraction(count, denominator)
    text = format_length(mark * mm_per(unit, each), unit, each, denominator)
    assert parse_length_exact(text, scale=each) == mark * mm_per(unit, each)


@pytest.mark.parametrize("each", all_scales(), ids=lambda each: each.key)
@pytest.mark.parametrize("unit", MARK_UNITS)
def test_every_mark_of_the_first_unit_reads_back_from_exact_and_from_float(each, unit):
    """All marks from 0 to 1 in all of the usual parts, 1 to 64, floats computed the ordinary way."""
    size = mm_per(unit, each)
    for denominator in (1, 2, 3, 4, 6, 8, 10, 12, 16, 32, 64):
        for count in range(denominator + 1):
            exact = format_length(size * count / denominator, unit, each, denominator)
            assert format_length(float(size) * count / denominator, unit, each, denominator) == exact
            assert parse_length_exact(exact, scale=each) == size * count / denominator


@pytest.mark.parametrize("each", all_scales(), ids=lambda each: each.key)
@pytest.mark.parametrize("denominator", [1, 2, 4, 8, 64])
def test_a_tie_goes_away_from_zero_in_every_scale(each, denominator):
    step = each.mm_per_foot / denominator
    ordinary = float(each.mm_per_foot) / denominator
    for count in range(40):
        above = f"{mixed(Fraction(count + 1, denominator))} scale ft"
        tie = step * (2 * count + 1) / 2
        assert format_length(tie, "scale foot", each, denominator) == above
        assert format_length(-tie, "scale foot", each, denominator) == f"-{above}"
        for computed in (float(tie), ordinary * (2 * count + 1) / 2, sum([ordinary / 2] * (2 * count + 1))):
            assert format_length(computed, "scale foot", each, denominator) == above


@given(scales, denominators, st.fractions(0, 500), st.fractions(0, 500))
def test_a_longer_length_is_never_a_shorter_text(each, denominator, a, b):
    short, long = sorted((a, b))
    first, second = (
        parse_length_exact(format_length(mm, "scale foot", each, denominator), scale=each) for mm in (short, long)
    )
    assert first <= second


@given(st.fractions(-500, 500, max_denominator=10**6), st.sampled_from(UNITS), scales)
def test_decimals_read_back_to_their_last_digit(mm, unit, each):
    text = format_length(mm, unit, each)
    half = Fraction(1, 2 * 10 ** DECIMALS[unit])
    assert abs(parse_length_exact(text, scale=each) - mm) <= half * mm_per(unit, each) * (1 + Fraction(1, 10**6))


@pytest.mark.parametrize(
    ("mm", "unit", "denominator", "text"),
    [
        (13.125, "scale foot", 4, "3 3/4 scale ft"),
        (13.125, "scale ft", None, "3.750 scale ft"),
        (13.125, "scale inch", 1, "45 scale in"),
        (13.125, "in", 64, "33/64 in"),
        (13.125, "scale inch", None, "45.00 scale in"),
        (13.125, "in", None, "0.517 in"),
        (12.3456, "mm", None, "12.35 mm"),
        (12.3456, "cm", None, "1.235 cm"),
        (12.3456, "m", None, "0.0123 m"),
        (12.3456, "ft", None, "0.0405 ft"),
        (304.8, "'", 1, "1 ft"),
        (15.9, "mm", None, "15.90 mm"),
        (-0.0001, "mm", None, "0.00 mm"),
        (-0.0001, "scale foot", 4, "0 scale ft"),
        (0, "mm", None, "0.00 mm"),
        (Fraction(-7, 8), "scale foot", 4, "-1/4 scale ft"),
        (ufloat(15.9, 0.05), "mm", None, "15.90 ± 0.05 mm"),
        (ufloat(7.0, 0.35), "scale foot", 4, "2.000 ± 0.100 scale ft"),
    ],
)
def test_text(mm, unit, denominator, text):
    assert format_length(mm, unit, "HO", denominator) == text


def test_a_prototype_length_or_text_is_refused():
    remedy = "expected a model length in mm. Turn it into one with a Scale or parse_length."
    with pytest.raises(WrongKind, match=whole(f"mm is “40' 0\"”; {remedy}")):
        format_length(PrototypeLength(Fraction(40)), "ft")
    with pytest.raises(WrongKind, match=whole(f"mm is '40'; {remedy}")):
        format_length("40", "ft")


@pytest.mark.parametrize("denominator", [0, -4])
def test_a_denominator_below_1_is_refused(denominator):
    message = f"denominator is {denominator}; it must be 1 or more. Write 4 for quarters, 64 for sixty-fourths."
    with pytest.raises(OutOfRange, match=whole(message)):
        format_length(1.0, "in", denominator=denominator)


@pytest.mark.parametrize("mm", [float("nan"), float("inf"), -float("inf")])
@pytest.mark.parametrize("denominator", [None, 4])
def test_what_is_no_number_is_refused(mm, denominator):
    message = f"the length is {mm} mm; it must be a number. Check the readings behind it."
    with pytest.raises(OutOfRange, match=whole(message)):
        format_length(mm, "in", denominator=denominator)


def test_an_unknown_unit_is_refused():
    message = "unit is 'yd'; write one of mm, cm, m, in, ft, scale foot, scale inch."
    with pytest.raises(UnknownChoice, match=whole(message)):
        format_length(1.0, "yd")


@given(st.fractions(max_denominator=10**6))
def test_round_half_up_is_the_nearest_and_ties_go_away_from_zero(value):
    near = round_half_up(value)
    assert abs(near - value) <= Fraction(1, 2)
    if abs(near - value) == Fraction(1, 2):
        assert abs(near) > abs(value)


@given(st.fractions(max_denominator=1000))
def test_mixed_reads_back(value):
    assert parse_length_exact(mixed(value), unit="mm") == value


def test_a_float_off_the_marks_is_not_moved_and_a_fraction_never_is():
    step = Fraction(7, 8)
    assert in_steps(0.3, step) == Fraction(0.3) / step
    near = 3 * step + Fraction(1, 10**12)
    assert in_steps(near, step) == 3 + Fraction(1, 10**12) / step
    assert in_steps(float(near), step) == 3


@pytest.mark.parametrize(
    ("mm", "expected"),
    [
        (Fraction("19.25"), ("5 1/2 scale ft", "0.758 in", "19.25 mm")),
        (19.25, ("5 1/2 scale ft", "0.758 in", "19.25 mm")),
        (13.2, ("about 3 49/64 scale ft", "0.520 in", "13.20 mm")),
    ],
)
def test_three_ways(mm, expected):
    """19.25 mm is 5 1/2 HO feet (3.5 mm to the foot) and 19.25 / 25.4 inches; 13.2 mm is 3.771 feet, 241.4 64ths."""
    assert three_ways(mm, "HO") == expected


@given(
    st.one_of(
        st.fractions(-1000, 1000, max_denominator=5000),
        st.floats(-1e6, 1e6),
        st.integers(-(10**6), 10**6).map(
            lambda steps: (steps + 0.5) * 25.4 / 1000
        ),  # a tie in inches, but for its last bits
    ),
    st.sampled_from(["mm", "in", "cm", "ft"]),
)
def test_a_decimal_is_the_nearest_step_of_its_last_digit(mm, unit):
    step = mm_per(unit) / 10 ** DECIMALS[unit]
    shown = format_length(mm, unit).split()[0]
    assert Fraction(shown) == Fraction(round_half_up(in_steps(mm, step)), 10 ** DECIMALS[unit])
    assert shown != f"-{0:.{DECIMALS[unit]}f}"

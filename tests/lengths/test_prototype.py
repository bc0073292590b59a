"""A prototype length is a type of its own: it takes a scale to make it a model length."""

import re
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from modelmath.errors import UnknownChoice, UnreadableLength
from modelmath.lengths.parse import parse_prototype
from modelmath.lengths.prototype import PrototypeLength
from modelmath.lengths.scales import scale

exact_feet = st.fractions(-500, 500, max_denominator=192)  # 1/192 ft is 1/16 in
sixteenths = st.integers(-100_000, 100_000).map(lambda n: Fraction(n, 192))


def whole(text):
    return f"^{re.escape(text)}$"


@pytest.mark.parametrize(
    ("text", "unit", "feet"),
    [
        ("40' 6\"", None, Fraction(81, 2)),
        ("40 ft 6 in", None, Fraction(81, 2)),
        ("-1 ft", None, Fraction(-1)),
        ("1435 mm", None, Fraction(1435) / Fraction("304.8")),
        ("12.2 m", None, Fraction(12200) / Fraction("304.8")),
        ("40 1/2", "ft", Fraction(81, 2)),
        ("56,5 in", None, Fraction("56.5") / 12),
        ("486", "in", Fraction(81, 2)),
    ],
)
def test_forms(text, unit, feet):
    assert parse_prototype(text, unit) == PrototypeLength(feet)


@pytest.mark.parametrize(
    ("feet", "text"),
    [
        (Fraction(81, 2), "40' 6\""),
        (Fraction(-81, 2), "-40' 6\""),
        (Fraction(0), "0' 0\""),
        (Fraction(-1, 10_000), "0' 0\""),
        (Fraction(1, 192), "0' 0 1/16\""),
        (Fraction(113, 24), "4' 8 1/2\""),
        (Fraction(11_9999, 10_000), "12' 0\""),
    ],
)
def test_text(feet, text):
    assert str(PrototypeLength(feet)) == text


@given(sixteenths)
def test_what_is_printed_reads_back(feet):
    assert parse_prototype(str(PrototypeLength(feet))) == PrototypeLength(feet)


@given(exact_feet, exact_feet, st.integers(-9, 9))
def test_it_adds_subtracts_and_multiplies_exactly(a, b, times):
    first, second = PrototypeLength(a), PrototypeLength(b)
    assert (first + second).feet == a + b
    assert (first - second).feet == a - b
    assert (times * first).feet == (first * times).feet == times * a
    assert (first < second) == (a < b)


@pytest.mark.parametrize("other", [1, 1.0, Fraction(1)])
def test_it_mixes_with_no_number(other):
    forty = PrototypeLength(Fraction(40))
    with pytest.raises(TypeError, match=r"^unsupported operand type"):
        forty + other
    with pytest.raises(TypeError, match=r"^unsupported operand type"):
        other - forty
    assert forty != 40


def test_it_has_no_float_value_and_multiplies_with_nothing_inexact():
    forty = PrototypeLength(Fraction(40))
    with pytest.raises(TypeError, match=r"^float\(\) argument must be"):
        float(forty)
    with pytest.raises(TypeError, match=r"^unsupported operand type"):
        forty * 0.5


def test_only_a_scale_turns_it_into_a_model_length():
    assert scale("HO").model_mm(parse_prototype("40 ft")) == 140
    assert scale("HO").prototype(Fraction(140)) == parse_prototype("40 ft")


@pytest.mark.parametrize(("text", "unit"), [("4 scale ft", None), ("4 Scale in", None), ("4", "scale foot")])
def test_scale_feet_are_refused(text, unit):
    message = f"'{text}': scale feet measure the model; write the prototype's size, as 40' 6\"."
    with pytest.raises(UnreadableLength, match=whole(message)):
        parse_prototype(text, unit)


def test_a_bare_number_and_a_wrong_unit_are_refused():
    message = "'40': it has no unit; write a number with a unit, such as 15.9 mm, .040 in or 3 3/4 scale ft."
    with pytest.raises(UnreadableLength, match=whole(message)):
        parse_prototype("40")
    allowed = "unit is 'yd'; write one of mm, cm, m, in, ft, scale foot, scale inch."
    with pytest.raises(UnknownChoice, match=whole(allowed)):
        parse_prototype("40", "yd")

"""A prototype length is a type of its own: it takes a scale to make it a model length."""

import re
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from modelmath.errors import OutOfRange, UnknownChoice, UnreadableLength, WrongKind
from modelmath.lengths.full_size.areas import parse_area, parse_volume
from modelmath.lengths.parse import parse_prototype
from modelmath.lengths.prototype import PrototypeArea, PrototypeLength, PrototypeVolume
from modelmath.lengths.scales import all_scales, scale

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
    message = "'40': it has no unit; write a full size with its unit, such as 40' 6\" or 12.2 m."
    with pytest.raises(UnreadableLength, match=whole(message)):
        parse_prototype("40")
    allowed = "unit is 'yd'; write one of mm, cm, m, in, ft, scale foot, scale inch."
    with pytest.raises(UnknownChoice, match=whole(allowed)):
        parse_prototype("40", "yd")


# Areas and volumes.

sides = st.fractions(0, 500, max_denominator=192)


@given(exact_feet, exact_feet, exact_feet)
def test_a_length_times_a_length_is_an_area_and_times_another_a_volume(a, b, c):
    long, wide, high = (PrototypeLength(each) for each in (a, b, c))
    assert long * wide == wide * long == PrototypeArea(a * b)
    assert long * wide * high == high * (long * wide) == PrototypeVolume(a * b * c)


@given(exact_feet, exact_feet, st.integers(-9, 9))
@pytest.mark.parametrize("kind", [PrototypeArea, PrototypeVolume])
def test_areas_and_volumes_add_subtract_and_multiply_exactly(kind, a, b, times):
    assert kind(a) + kind(b) == kind(a + b)
    assert kind(a) - kind(b) == kind(a - b)
    assert times * kind(a) == kind(a) * times == kind(times * a)
    assert (kind(a) < kind(b)) == (a < b)


KINDS = [PrototypeLength(Fraction(3)), PrototypeArea(Fraction(3)), PrototypeVolume(Fraction(3))]


@pytest.mark.parametrize("first", KINDS)
@pytest.mark.parametrize("second", [*KINDS, 3, 3.0, Fraction(3)])
def test_kinds_don_t_add_to_each_other_or_to_numbers(first, second):
    if type(first) is type(second):
        assert (first - second) + second == first
        return
    with pytest.raises(TypeError, match=r"^unsupported operand type"):
        first + second
    with pytest.raises(TypeError, match=r"^unsupported operand type"):
        first - second
    assert first != second


@pytest.mark.parametrize("first", KINDS)
def test_no_kind_has_a_float_value_or_multiplies_with_one(first):
    with pytest.raises(TypeError, match=r"^float\(\) argument must be"):
        float(first)
    with pytest.raises(TypeError, match=r"^unsupported operand type"):
        first * 0.5


@pytest.mark.parametrize("times", [PrototypeArea(Fraction(1)), PrototypeVolume(Fraction(1))])
def test_nothing_has_more_than_three_dimensions(times):
    with pytest.raises(TypeError, match=r"^unsupported operand type"):
        times * PrototypeArea(Fraction(2))
    with pytest.raises(TypeError, match=r"^unsupported operand type"):
        PrototypeVolume(Fraction(2)) * times


@pytest.mark.parametrize(
    ("size", "text"),
    [
        (PrototypeArea(Fraction(120)), "120 sq ft"),
        (PrototypeArea(Fraction(241, 2)), "120.5 sq ft"),
        (PrototypeArea(Fraction(1, 3)), "48 sq in"),
        (PrototypeArea(Fraction(0)), "0 sq ft"),
        (PrototypeArea(Fraction(-1, 2)), "-72 sq in"),
        (PrototypeVolume(Fraction(10000, 3)), "3333.33 cu ft"),
        (PrototypeVolume(Fraction(1, 1000)), "1.73 cu in"),
    ],
)
def test_areas_and_volumes_in_words(size, text):
    assert str(size) == text


@given(st.integers(0, 10**6).map(lambda n: Fraction(n, 4)))
def test_an_area_and_a_volume_read_back_as_printed(feet):
    feet = feet + 1  # below 1 the words are in inches
    assert parse_area(str(PrototypeArea(feet))) == PrototypeArea(feet)
    assert parse_volume(str(PrototypeVolume(feet))) == PrototypeVolume(feet)


@given(st.sampled_from(all_scales()), sides, sides, sides)
def test_a_scale_turns_areas_and_volumes_as_it_does_their_sides(each, a, b, c):
    """By definition: an area goes by the square of the ratio, a volume by its cube."""
    long, wide, high = (PrototypeLength(side) for side in (a, b, c))
    mm = [each.model_mm(side) for side in (long, wide, high)]
    assert each.model_mm2(long * wide) == mm[0] * mm[1]
    assert each.model_mm3(long * wide * high) == mm[0] * mm[1] * mm[2]
    assert each.prototype_area(each.model_mm2(long * wide)) == long * wide
    assert each.prototype_volume(each.model_mm3(long * wide * high)) == long * wide * high


@given(st.sampled_from(all_scales()), sides, sides)
def test_a_larger_prototype_makes_a_larger_model(each, a, b):
    assert (each.model_mm2(PrototypeArea(a)) < each.model_mm2(PrototypeArea(b))) == (a < b)
    assert (each.model_mm3(PrototypeVolume(a)) < each.model_mm3(PrototypeVolume(b))) == (a < b)


def test_a_box_of_the_reference_is_its_prototype_in_full_scale():
    """Elementary geometry: 35 x 20 x 12 mm is 8400 mm3; in HO 3.5 mm is a foot."""
    ten, wide, high = (PrototypeLength(Fraction(mm) / Fraction("3.5")) for mm in (35, 20, 12))
    assert scale("HO").model_mm3(ten * wide * high) == 8400


def test_a_scale_takes_square_and_cubic_feet_as_numbers_and_arrays():
    import numpy as np
    from uncertainties import ufloat

    assert scale("HO").model_mm2(96) == 1176.0
    assert scale("HO").model_mm3(np.array([1.0, 2.0])).tolist() == [42.875, 85.75]
    assert scale("HO").model_mm2(ufloat(96.0, 1.0)).std_dev == pytest.approx(12.25)


WAYS = "Lengths go through model_mm, areas through model_mm2, volumes through model_mm3."


@pytest.mark.parametrize(
    ("act", "message"),
    [
        (
            lambda ho: ho.model_mm(KINDS[1]),
            f"prototype is the prototype area 3 sq ft; expected a prototype length. {WAYS}",
        ),
        (lambda ho: ho.model_mm2(KINDS[0]), f"area is the prototype length 3' 0\"; expected a prototype area. {WAYS}"),
        (
            lambda ho: ho.model_mm3(KINDS[1]),
            f"volume is the prototype area 3 sq ft; expected a prototype volume. {WAYS}",
        ),
        (
            lambda ho: ho.prototype_ft(KINDS[2]),
            "model_mm is the prototype volume 3 cu ft; expected a model length in mm. It is full size already.",
        ),
        (
            lambda ho: ho.prototype_area("12 mm2"),
            "model_mm2 is '12 mm2'; expected a plain number of mm2. Write it in mm2, such as 150.",
        ),
    ],
)
def test_a_scale_refuses_the_wrong_kind(act, message):
    with pytest.raises(WrongKind, match=whole(message)):
        act(scale("HO"))


def test_a_volume_without_end_is_refused():
    message = "model_mm3 is inf mm3; it must be a finite number. Check the sizes behind it."
    with pytest.raises(OutOfRange, match=whole(message)):
        scale("HO").prototype_volume(float("inf"))

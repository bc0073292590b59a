"""Sides multiplied out, sizes at marks and in words, against pint and against the marks themselves."""

from __future__ import annotations

import re
from fractions import Fraction

import pint
import pytest
from hypothesis import given
from hypothesis import strategies as st

from modelmath.errors import UnreadableLength
from modelmath.lengths.full_size.areas import area_text, figures, parse_area, parse_volume, volume_text
from modelmath.lengths.full_size.resizing import at_marks, full_size_text, resize_lines
from modelmath.lengths.parse import parse_length_exact
from modelmath.lengths.prototype import PrototypeLength

EXACT = pint.UnitRegistry(non_int_type=Fraction)
FEET = {"ft": Fraction(1), "in": Fraction(1, 12), "m": 1 / Fraction("0.3048"), "mm": 1 / Fraction("304.8")}
sides = st.tuples(st.integers(1, 60), st.sampled_from(tuple(FEET)))
SCALE_FOOT_MM = {"HO": Fraction("3.5"), "S": Fraction("4.7625"), "O": Fraction("6.35")}  # NMRA S-1.2


def whole(text):
    return f"^{re.escape(text)}$"


def feet(number, unit):
    return Fraction(EXACT.Quantity(Fraction(number), unit).to("ft").magnitude)


@given(sides, sides, sides)
def test_sides_multiply_as_pint_has_it(one, two, three):
    texts = [f"{number} {unit}" for number, unit in (one, two, three)]
    first, second, third = (feet(*side) for side in (one, two, three))
    assert parse_area(" x ".join(texts[:2])).square_feet == first * second
    assert parse_volume(" x ".join(texts)).cubic_feet == first * second * third
    assert parse_volume(f"{one[0]} sq {one[1]} x {texts[2]}").cubic_feet == one[0] * FEET[one[1]] ** 2 * third
    assert parse_volume(f"{one[0]} cu {one[1]}").cubic_feet == one[0] * FEET[one[1]] ** 3
    assert parse_area(f"{one[0]} sq {one[1]}").square_feet == one[0] * FEET[one[1]] ** 2
    assert parse_area(str(one[0]), unit=one[1]) == parse_area(f"{one[0]} sq {one[1]}")
    assert parse_volume(str(one[0]), unit=one[1]) == parse_volume(f"{one[0]} cu {one[1]}")


@given(st.fractions(Fraction(1, 50), 10**6))
def test_a_size_in_words_is_the_size_in_either_unit_to_four_figures(size):
    for texts, units in ((area_text(size), ("mm2", "sq in")), (volume_text(size), ("cm3", "cu in"))):
        unit, other = ("mm**2", "in**2") if units[0] == "mm2" else ("mm**3", "in**3")
        there = Fraction(EXACT.Quantity(size, unit).to(other).magnitude)
        here = size if units[0] == "mm2" else Fraction(EXACT.Quantity(size, unit).to("cm**3").magnitude)
        for text, name, value in zip(texts, units, (here, there), strict=True):
            number = text.removesuffix(f" {name}")
            assert number != text
            assert abs(Fraction(number) - value) <= max(value / 1900, Fraction(1, 2) if value >= 1000 else 0)
            digits = number.replace(".", "").lstrip("0")
            assert len(digits) <= 4 or "." not in number


@pytest.mark.parametrize(
    ("value", "count", "text"),
    [(0, 4, "0"), (1000, 4, "1000"), (999.96, 4, "1000"), (99.996, 4, "100"), (9.9994, 4, "9.999"),
     (0.012344, 4, "0.01234"), (123456.7, 4, "123457"), (12.345, 2, "12"), (-12.34567, 4, "-12.35"), (10, 4, "10")],
)  # fmt: skip
def test_figures_are_kept_and_whole_numbers_keep_theirs(value, count, text):
    assert figures(value, count) == text


@given(st.fractions(Fraction(1, 10), 400, max_denominator=5000), st.sampled_from(tuple(SCALE_FOOT_MM)))
def test_the_mark_that_is_said_is_the_nearest_and_as_far_off_as_is_said(mm, scale):
    said = at_marks(mm, scale)
    steps = (SCALE_FOOT_MM[scale] / 4, Fraction("25.4") / 64, Fraction(1, 2))
    for (mark, off), step, unit in zip(said, steps, ("scale ft", "in", "mm"), strict=True):
        assert mark.endswith(f" {unit}")
        number = mark.removesuffix(f" {unit}")
        at_mm = Fraction(0) if number in {"0", "0.0"} else parse_length_exact(mark, scale=scale)
        assert (at_mm / step).denominator == 1
        assert abs(at_mm - mm) <= step / 2
        if abs(at_mm - mm) < Fraction(1, 200):
            assert off == "exact"
        else:
            by, way = off.split(" mm ")
            assert way == ("over" if at_mm > mm else "under")
            assert abs(Fraction(by) - abs(at_mm - mm)) <= Fraction(1, 200)
            assert len(by.split(".")[1]) == 2


@given(st.integers(1, 500), st.integers(0, 11))
def test_a_full_size_length_is_said_in_feet_and_to_the_millimetre(whole_feet, inches):
    there, metres = full_size_text(PrototypeLength(Fraction(whole_feet) + Fraction(inches, 12)))
    assert there == f"{whole_feet}' {inches}\""
    exact = (Fraction(whole_feet) + Fraction(inches, 12)) * Fraction("0.3048")
    assert abs(Fraction(metres.removesuffix(" m")) - exact) <= Fraction(1, 2000)
    assert len(metres.split(".")[1]) == len("000 m")


@pytest.mark.parametrize(
    ("line", "message"),
    [
        (
            "1 x 2 x 3 x 4 mm",
            "'1 x 2 x 3 x 4 mm': it has more than three sides; write a length, or sides such as 12 x 8 x 2 mm.",
        ),
        ("a; 1 mm; 2 mm", "'a; 1 mm; 2 mm': it has more than two columns; write walkway; 12.25 mm."),
        ("a; 3 x 0 x 5 mm", "'3 x 0 x 5 mm': a size can't be 0 or less; write a length such as 12.25 mm."),
    ],
)  # fmt: skip
def test_what_can_not_be_resized_is_told_with_its_line(line, message):
    good, bad = resize_lines(f"1 mm\n{line}\n3 x 4 in", "HO", "N")
    assert [each.name for each in good] == ["line 1", "line 3"]
    assert good[1].before_mm == (Fraction("76.2"), Fraction("101.6"))
    assert [(each.number, each.message) for each in bad] == [(2, message)]


@pytest.mark.parametrize("text", ["12 ft", "12'", "3 m"])
def test_one_side_is_no_area_and_no_volume(text):
    for parse in (parse_area, parse_volume):
        with pytest.raises(UnreadableLength):
            parse(text)

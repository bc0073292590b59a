"""Areas and volumes as people write them."""

import re
from contextlib import suppress
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from modelmath.errors import UnknownChoice, UnreadableLength
from modelmath.lengths.full_size.areas import (
    AREA_EXAMPLE,
    VOLUME_EXAMPLE,
    area_text,
    figures,
    parse_area,
    parse_volume,
    volume_text,
)

FOOT_MM = Fraction("304.8")  # exact: international yard and pound agreement, 1959


def whole(text):
    return f"^{re.escape(text)}$"


@pytest.mark.parametrize(
    ("text", "square_feet"),
    [
        *(
            (text, 120)
            for text in ("120 sq ft", "120 sq. ft.", "120 square feet", "120 ft2", "120ft²", "120 ft^2", "120sqft")
        ),
        ("12 ft x 8 ft", 96),
        ("12 x 8 ft", 96),
        ("12' × 8'", 96),
        ("12’ 6” by 8 ft", 100),
        ("10 ft 6 in x 3 ft", Fraction(63, 2)),
        ("1/2 sq ft", Fraction(1, 2)),
        ("72 sq in", Fraction(1, 2)),
        ("4 sq yd", 36),  # NIST SP 811, appendix B: a yard is 3 feet
        ("11.1 m2", Fraction("11.1") * 10**6 / FOOT_MM**2),
        ("11,1 m²", Fraction("11.1") * 10**6 / FOOT_MM**2),
        ("3½ m²", Fraction("3.5") * 10**6 / FOOT_MM**2),
        ("3 m x 8 ft", 3000 * 8 / FOOT_MM),
    ],
)
def test_forms_of_an_area(text, square_feet):
    assert parse_area(text).square_feet == square_feet


@pytest.mark.parametrize(
    ("text", "cubic_feet"),
    [
        *((text, 4000) for text in ("4000 cu ft", "4000 cubic feet", "4000 ft3", "4000 ft³", "4000 cu. ft.")),
        ("40' 6\" x 9' 2\" x 10'", Fraction(7425, 2)),
        ("40 x 9 x 10 ft", 3600),
        ("120 sq ft x 8 ft", 960),
        ("113 m³", 113 * 10**9 / FOOT_MM**3),
        ("20000 litres", 20 * 10**9 / FOOT_MM**3),
        ("8000 US gal", Fraction(8000 * 231, 1728)),  # NIST Handbook 44, appendix C: 231 cubic inches
        ("6000 imperial gallons", 6000 * 4_546_090 / FOOT_MM**3),  # NIST SP 811, appendix B: 4.546 09 L
        ("864 cu in", Fraction(1, 2)),
        ("2 cu yd", 54),
        ("0 cu ft", 0),
        ("5 l", 5 * 10**6 / FOOT_MM**3),
        ("1 m² x 2 m", 2 * 10**9 / FOOT_MM**3),
        ("12 x 8 x 0 ft", 0),
    ],
)
def test_forms_of_a_volume(text, cubic_feet):
    assert parse_volume(text).cubic_feet == cubic_feet


def test_a_bare_number_is_read_only_with_its_unit():
    assert parse_area("120", unit="ft") == parse_area("120 sq ft")
    assert parse_area("12 x 8", unit="ft") == parse_area("96 sq ft")
    assert parse_volume("1,5", unit="m") == parse_volume("1.5 m3")
    with pytest.raises(
        UnknownChoice, match=r"^unit is 'acre'; write one of mm, cm, m, in, ft, scale foot, scale inch\.$"
    ):
        parse_area("120", unit="acre")


@pytest.mark.parametrize(
    ("text", "problem", "write"),
    [
        ("120", "it has no unit", AREA_EXAMPLE),
        ("", "nothing is written here", AREA_EXAMPLE),
        ("sq ft", "it has no number", AREA_EXAMPLE),
        ("12 ft", "it can't be read as an area", AREA_EXAMPLE),
        ("12 ft 2", "it can't be read as an area", AREA_EXAMPLE),
        ("-3 sq ft", "it can't be below 0", AREA_EXAMPLE),
        ("-2 ft x -3 ft", "a side can't be below 0", AREA_EXAMPLE),
        ("12 ft square", "it may be a square's side or its area", "12 ft x 12 ft, or 12 sq ft"),
        ("4000 cu ft", "it is a volume", AREA_EXAMPLE),
        ("2 ft x 3 ft x 4 ft", "it has more than two sides", AREA_EXAMPLE),
        ("12 ft x", "one of its sides is missing", AREA_EXAMPLE),
        ("5 ft x 3", "its side '3' can't be read: it has no unit", AREA_EXAMPLE),
        ("twelve sq ft", "'twelve' is no number", AREA_EXAMPLE),
        ("1e3 m2", "'1e3' is no number", AREA_EXAMPLE),
        (
            "4,000 sq ft",
            "the comma may be a decimal mark or a thousands mark",
            "4.000 or 4000, with its unit",
        ),
        ("3 scale ft x 2 scale ft", "scale feet measure the model", f"the prototype's size: {AREA_EXAMPLE}"),
    ],
)
def test_what_is_no_area_says_what_to_write(text, problem, write):
    with pytest.raises(UnreadableLength, match=whole(f"'{text}': {problem}; write {write}.")):
        parse_area(text)


@pytest.mark.parametrize(
    ("text", "problem", "write"),
    [
        ("120 sq ft", "it is an area", VOLUME_EXAMPLE),
        ("40 ft x 9 ft", "it has 2 sides, and a volume has three", VOLUME_EXAMPLE),
        ("1 ft x 2 ft x 3 ft x 4 ft", "it has 4 sides, and a volume has three", VOLUME_EXAMPLE),
        ("120 cu ft x 8 ft", "it is a volume", VOLUME_EXAMPLE),
        ("120 m3 x 8 ft", "it is a volume", VOLUME_EXAMPLE),
        ("120 sq ft x", "one of its sides is missing", VOLUME_EXAMPLE),
        ("-120 sq ft x 8 ft", "it can't be below 0", VOLUME_EXAMPLE),
        ("2 ft x -3 ft x 4 ft", "a side can't be below 0", VOLUME_EXAMPLE),
        ("-5 litres", "it can't be below 0", VOLUME_EXAMPLE),
        ("cu ft", "it has no number", VOLUME_EXAMPLE),
        ("12 ft", "it can't be read as a volume", VOLUME_EXAMPLE),
        ("8000 gal", "gallons differ between countries", "8000 US gal or 8000 imperial gal"),
        ("12", "it has no unit", VOLUME_EXAMPLE),
    ],
)
def test_what_is_no_volume_says_what_to_write(text, problem, write):
    with pytest.raises(UnreadableLength, match=whole(f"'{text}': {problem}; write {write}.")):
        parse_volume(text)


def test_what_is_no_text_and_what_is_too_long_is_refused():
    with pytest.raises(UnreadableLength, match=whole(f"'96': it is not text; write {AREA_EXAMPLE}, in quotes.")):
        parse_area(96)
    message = f"'{'1' * 57}...': it is longer than 60 characters; write {VOLUME_EXAMPLE}."
    with pytest.raises(UnreadableLength, match=whole(message)):
        parse_volume("1" * 61)
    assert parse_area("120 sq ft".rjust(60)).square_feet == 120


alphabet = st.sampled_from(list("0123456789 ./,-x×'\"²³½ftinmsqcugal"))


@given(st.text(alphabet, max_size=24))
def test_no_text_breaks_the_parsers(text):
    for parse in (parse_area, parse_volume):
        with suppress(UnreadableLength):  # nothing else may come out
            parse(text)


@given(st.integers(1, 999), st.integers(1, 999))
def test_sides_multiply(a, b):
    assert parse_area(f"{a} in x {b} in") == parse_area(f"{a * b} sq in")


@pytest.mark.parametrize(
    ("value", "text"),
    [
        (0, "0"),
        (Fraction(1, 3), "0.3333"),
        (1176, "1176"),
        (171_500.4, "171500"),
        (6.0, "6"),
        (0.00012345, "0.0001234"),
    ],
)
def test_four_figures(value, text):
    assert figures(value) == text


def test_model_areas_and_volumes_in_words():
    """NIST SP 811, appendix B: 645.16 mm2 to the square inch, 16.387064 cm3 to the cubic inch."""
    assert area_text(Fraction("645.16")) == ("645.2 mm2", "1 sq in")
    assert volume_text(Fraction("16387.064")) == ("16.39 cm3", "1 cu in")

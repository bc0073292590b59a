"""Dimensions of a drawing as people write them, and what is said of them."""

import re
from contextlib import suppress
from fractions import Fraction
from math import sqrt

import pytest
from hypothesis import given
from hypothesis import strategies as st

from modelmath.errors import ModelMathError, OutOfRange, UnreadableLength
from modelmath.lengths.full_size.drawing_lines import (
    EXAMPLE,
    Wanted,
    read_full_size,
    read_known,
    read_limit,
    read_measured,
    read_wanted,
)
from modelmath.lengths.full_size.drawing_words import (
    agreement_text,
    directions_text,
    feet_with_limits,
    model_text,
    ratio_text,
    standard_text,
    with_limits,
)
from modelmath.lengths.full_size.from_drawing import Directions, DrawingRatio
from modelmath.lengths.prototype import PrototypeLength
from modelmath.lengths.uncertain import normal


def whole(text):
    return f"^{re.escape(text)}$"


@pytest.mark.parametrize(
    ("text", "how", "length", "limit"),
    [
        ("203.1", {}, 203.1, 0),
        ("203.1", {"plus_minus": "0.25"}, 203.1, 0.25),
        ("203,1 ± 0,3", {}, 203.1, 0.3),
        ("203.1 mm +/- 0.3", {}, 203.1, 0.3),
        ("203.1 +- 0.3 mm", {"plus_minus": "5"}, 203.1, 0.3),
        ("8 in ± 1/64", {}, 203.2, 25.4 / 64),
        ("8 ± 1/64 in", {}, 203.2, 25.4 / 64),
        ("8 in", {"plus_minus": "0.25"}, 203.2, 0.25),
        ("8", {"unit": "in", "plus_minus": "1/64"}, 203.2, 25.4 / 64),
        ("11 1/4 scale ft ± 1/8", {"scale": "HO"}, 39.375, 0.4375),
        ("203.1 ± 0", {"plus_minus": "0.25"}, 203.1, 0),
        ("8 in ± 0.5 mm", {}, 203.2, 0.5),
        ("8 ± 0.5 mm", {"unit": "in"}, 8, 0.5),
        ("8 ± 1/64", {"unit": "in", "plus_minus": "5"}, 203.2, 25.4 / 64),
        ("512", {"unit": "px", "plus_minus": "2"}, 512, 2),
        ("512 pix ± 3 px.", {"unit": "px"}, 512, 3),
        ("512 px ± 3", {"unit": "px"}, 512, 3),
        ("512.5 ± 3 pixels", {"unit": "px"}, 512.5, 3),
    ],
)
def test_what_was_measured(text, how, length, limit):
    value = read_measured(text, **how)
    assert value.n == pytest.approx(length)
    assert value.s * sqrt(3) == pytest.approx(limit)


@pytest.mark.parametrize(
    ("text", "size", "limit"),
    [
        ("40' 6\"", Fraction(81, 2), None),
        ("40' 6\" ± 1 in", Fraction(81, 2), Fraction(1, 12)),
        ("40' 6\" ± 1", Fraction(81, 2), Fraction(1, 12)),
        ("40 ± 1 ft", 40, 1),
        ("12.2 m ± 0.05", 12200 / Fraction("304.8"), 50 / Fraction("304.8")),
    ],
)
def test_full_sizes(text, size, limit):
    assert read_full_size(text) == (PrototypeLength(Fraction(size)), None if limit is None else PrototypeLength(limit))


@pytest.mark.parametrize(
    ("read", "text", "error", "message"),
    [
        (read_measured, "3 ± 1 ± 2", UnreadableLength, f"it has more than one ±; write {EXAMPLE}."),
        (read_measured, "3 ±", UnreadableLength, f"nothing stands behind the ±; write {EXAMPLE}."),
        (
            read_measured,
            "512 px",
            UnreadableLength,
            f"it counts pixels, and lengths on paper are measured here; write {EXAMPLE}.",
        ),
        (
            read_measured,
            "203.1 ± 2 px",
            UnreadableLength,
            f"it counts pixels, and lengths on paper are measured here; write {EXAMPLE}.",
        ),
        (
            read_limit,
            "2 px",
            UnreadableLength,
            f"it counts pixels, and lengths on paper are measured here; write {EXAMPLE}.",
        ),
        (read_full_size, "3 ft ±", UnreadableLength, f"nothing stands behind the ±; write {EXAMPLE}."),
    ],
)
def test_what_can_t_be_read_says_what_to_write(read, text, error, message):
    with pytest.raises(error, match=whole(f"'{text}': {message}")):
        read(text)


@pytest.mark.parametrize(
    ("act", "message"),
    [
        (lambda: read_measured("-3"), f"the measured length is '-3'; it must be above 0. Write {EXAMPLE}."),
        (lambda: read_measured("3 ± -1"), f"how far off it may be is '3 ± -1'; it must be 0 or more. Write {EXAMPLE}."),
        (lambda: read_limit("-1"), "how far off it may be is '-1'; it must be 0 or more. Write 0.25 mm, or 2 px."),
        (
            lambda: read_full_size("0 ft"),
            "the full size is '0 ft'; it must be above 0. Write 40' 6\", or 40' 6\" ± 1 in.",
        ),
        (
            lambda: read_full_size("3 ft ± -1"),
            "the full size is '3 ft ± -1'; it must be above 0. Write 40' 6\", or 40' 6\" ± 1 in.",
        ),
        (lambda: read_measured("0 ± 1"), f"the measured length is '0 ± 1'; it must be above 0. Write {EXAMPLE}."),
        (
            lambda: read_full_size("-3 ft"),
            "the full size is '-3 ft'; it must be above 0. Write 40' 6\", or 40' 6\" ± 1 in.",
        ),
    ],
)
def test_what_is_out_of_range_says_what_to_write(act, message):
    with pytest.raises(OutOfRange, match=whole(message)):
        act()


@pytest.mark.parametrize("text", ["512 mm", "512 in ± 2", "512 ± 2 mm", "512 px ± 1/64 in"])
def test_mm_are_refused_where_pixels_are_counted(text):
    message = f"'{text}': this picture is measured in pixels; write a number of pixels, such as 512 ± 2."
    with pytest.raises(UnreadableLength, match=whole(message)):
        read_measured(text, "px")


def test_how_far_off_is_read_to_nothing_and_in_the_unit_measured_in():
    assert (read_limit("0"), read_limit("0.5"), read_limit("3", "px")) == (0, Fraction(1, 2), 3)
    assert read_limit("1/4", "in") == Fraction("6.35")
    message = "'1 mm': this picture is measured in pixels; write a number of pixels, such as 512 ± 2."
    with pytest.raises(UnreadableLength, match=whole(message)):
        read_limit("1 mm", "px")
    assert read_full_size("3 ft ± 0")[1] == PrototypeLength(Fraction(0))


@pytest.mark.parametrize("read", [read_measured, read_full_size])
def test_a_pasted_page_is_no_size(read):
    """150 characters are looked at; spaces round the ± belong to neither length."""
    read("3 in" + "± 1 in".rjust(146))
    with pytest.raises(UnreadableLength, match=re.escape(f"': it is longer than 150 characters; write {EXAMPLE}.")):
        read("3 in" + "± 1 in".rjust(147))
    with pytest.raises(UnreadableLength, match="': it is longer than 150 characters; write "):
        read_limit("3".rjust(151))
    with pytest.raises(UnreadableLength, match="': it is longer than 60 characters; write "):
        read_limit("3".rjust(150))


def test_a_measurement_is_named_in_the_budget():
    assert read_measured(" 203.1 mm ± 1 ").tag.name == "measuring 203.1 mm ± 1"
    assert read_measured("203.1 ± 1", name="body").tag.name == "measuring body"


alphabet = st.sampled_from(list("0123456789 ./,-±+'\"½ftinmpxscale;\t\n"))


@given(st.text(alphabet, max_size=30), st.sampled_from(["mm", "in", "px"]))
def test_no_text_breaks_the_reading(text, unit):
    read_known(text, unit, "2")
    read_wanted(text, unit, "2")
    for read in (read_measured, read_full_size):
        with suppress(ModelMathError):  # nothing else may come out
            read(text)


KNOWN = "body; 40' 6\"; 257.2\n\n12 ft; 76,2 mm ± 0.1\n; 9 ft; 57.2\n9 ft\na; b; c; d\nroof; 12; 3\nroof; 12'; 0"


def test_known_dimensions_and_bad_lines():
    known, bad = read_known(KNOWN)
    assert [(each.name, each.full_ft) for each in known] == [("body", 40.5), ("12 ft", 12.0), ("9 ft", 9.0)]
    assert known[0].measured.tag.name == "measuring body"
    assert [line.number for line in bad] == [5, 6, 7, 8]
    # A quarter of a mm either way where a line doesn't say: half width over root 3 (JCGM 100:2008, 4.3.7).
    assert [each.measured.s * sqrt(3) for each in known] == pytest.approx([0.25, 0.1, 0.25])
    (off,), _ = read_known("12 ft ± 1 in; 76.2")
    assert (off.full_ft.n, off.full_ft.s * sqrt(3)) == pytest.approx((12, 1 / 12))
    assert bad[0].message == "'9 ft': it is not a full size and what it measures; write 40' 6\"; 203.1 mm."


def test_wanted_sizes_and_bad_lines():
    wanted, bad = read_wanted("door; 53.4\n17 ± 0.5 mm\na; b; c\nroof; x\n; 5")
    assert [(each.name, each.given) for each in wanted] == [
        ("door", "53.4"),
        ("line 2", "17 ± 0.5 mm"),
        ("line 5", "5"),
    ]
    assert [(each.measured.n, each.measured.s * sqrt(3)) for each in wanted] == [
        pytest.approx(pair) for pair in [(53.4, 0.25), (17, 0.5), (5, 0.25)]
    ]
    assert wanted[1].measured.tag.name == "measuring line 2"
    assert [line.number for line in bad] == [3, 4]
    assert bad[0].message == "'a; b; c': it has more than two columns; write door; 53.4 mm."


# In words.


@pytest.mark.parametrize(
    ("value", "text"),
    [
        (normal(32.7142, 0.0951, "a"), "32.71 ± 0.19 mm"),
        (normal(2294.3, 7.1, "a"), "2294 ± 14 mm"),
        (normal(2294.3, 71.0, "a"), "2294 ± 142 mm"),
        (normal(2294.34, 0.5, "a"), "2294.3 ± 1.0 mm"),
        (normal(32.7142, 0.049, "a"), "32.714 ± 0.098 mm"),
        (normal(-1.5, 0.1, "a"), "-1.50 ± 0.20 mm"),
        (28.0, "28.00 mm"),
    ],
)
def test_numbers_with_their_limits(value, text):
    assert with_limits(value, "mm") == text
    assert with_limits(value) == text.removesuffix(" mm")


@pytest.mark.parametrize(
    ("feet", "u_ft", "text"),
    [
        (8.409, 0.02, '8\' 5" ± 0.48"'),
        (8.409, 0.0, "8' 4 15/16\""),
        (8.409, 0.006, '8\' 4 7/8" ± 0.14"'),
        (8.409, 0.25, '8\' 5" ± 6.0"'),
        (84.09, 0.5, '84\' 1" ± 12"'),
        (840.9, 5, '840\' 11" ± 120"'),
    ],
)
def test_feet_no_finer_than_they_are_known(feet, u_ft, text):
    assert feet_with_limits(normal(feet, u_ft, "door")) == text


@pytest.mark.parametrize(
    ("half_in", "text"),
    [
        (1.2, '8\' 5" ± 1.2"'),
        (0.9, '8\' 4 1/2" ± 0.90"'),
        (0.3, '8\' 4 3/4" ± 0.30"'),
        (0.2, '8\' 4 3/4" ± 0.20"'),
        (0.07, '8\' 4 11/16" ± 0.070"'),
        (0.03, '8\' 4 11/16" ± 0.030"'),
        (0, "8' 4 11/16\""),
    ],
)
def test_the_marks_of_an_inch_are_as_coarse_as_the_size_is_known(half_in, text):
    """8 ft 4.7 in: to whole inches, halves, quarters, eighths (38 of them), sixteenths (75 of them), by division."""
    assert feet_with_limits(normal(8 + 4.7 / 12, half_in / 24, "door")) == text


def ratio_of(text, unit="mm"):
    return DrawingRatio(tuple(read_known(text, unit)[0]), "px" if unit == "px" else "mm")


def test_a_good_drawing_in_words():
    """1:48 by construction: 40 1/2 ft are 257.175 mm, 30 1/4 ft 192.0875 mm, 36 ft 228.6 mm."""
    ratio = ratio_of("40' 6\"; 257.175\n30' 3\"; 192.0875\n36 ft; 228.6")
    assert ratio_text(ratio) == "1:48.000 ± 0.035"
    assert standard_text(ratio) == "1:48 (1/4 in to the foot; O) lies within its uncertainty."
    assert agreement_text(ratio) == "The 3 known dimensions agree within what they were measured to."
    # 44.45 mm are 7 ft at 1:48: 24.5 mm at 3.5 mm a foot, 2133.6 mm full size; each ± 0.035 in 48.
    assert model_text(ratio, Wanted("door", "44.45", 44.45), "HO") == (
        "24.500 ± 0.018 mm", "7' 0\" ± 0.062\"", "2133.6 ± 1.6 mm",
    )  # fmt: skip


def test_a_misread_dimension_in_words():
    ratio = ratio_of("ends; 40' 6\"; 257.2\nroof; 36 ft; 231\ntrucks; 30' 3\"; 192.1")
    assert agreement_text(ratio) == (
        "roof disagrees with the others: it measures 1.0 % too long. It is still counted in; measure it again, or "
        "leave it out. Until that is settled, don't trust the ± of this ratio."
    )
    short = ratio_of("ends; 40' 6\"; 257.2\nroof; 36 ft; 226.3\ntrucks; 30' 3\"; 192.1")
    assert agreement_text(short).startswith("roof disagrees with the others: it measures 1.0 % too short. It is still ")
    worse = ratio_of("ends; 40' 6\"; 257.2\nroof; 36 ft; 235\ntrucks; 30' 3\"; 193.1")
    assert "it measures 2.6 % too long. Without it the others don't agree either." in agreement_text(worse)
    two = DrawingRatio(ratio.known[:2])
    assert agreement_text(two) == (
        "The two known dimensions disagree by 1.0 %; a third would tell which is wrong. "
        "Until that is settled, don't trust the ± of this ratio."
    )


def test_a_photograph_in_words():
    picture = ratio_of("body; 40 ft; 1000 ± 2", "px")
    assert ratio_text(picture) == "1 pixel is 12.192 ± 0.024 mm full size"
    assert standard_text(picture) == ""


def test_what_a_second_dimension_tells_in_words():
    """Drawn to 1:48 a foot is 6.35 mm; 192.0 instead of 190.5 mm is 0.79 % too long."""
    assert agreement_text(ratio_of("40 ft; 254.0")) == (
        "One known dimension: nothing checks it. Take two more, far apart and as long as can be."
    )
    assert agreement_text(ratio_of("40 ft; 254.0\n30 ft; 190.5")) == (
        "The 2 known dimensions agree within what they were measured to. "
        "A third would tell which is wrong if they did not."
    )
    assert "disagree by 0.8 %; a third" in agreement_text(ratio_of("40 ft; 254.0\n30 ft; 192.0"))


@pytest.mark.parametrize(
    ("drawn", "text"),
    [
        ("40 ft; 256.54 ± 0.1", "drawn to that, this copy is 1.0 % too large."),
        ("40 ft; 251.46 ± 0.1", "drawn to that, this copy is 1.0 % too small."),
    ],
)
def test_a_copy_is_larger_or_smaller_than_a_common_ratio(drawn, text):
    """40 ft at 1:48 are 254.0 mm, 1 % more and less 256.54 and 251.46."""
    assert standard_text(ratio_of(drawn)) == f"The nearest common ratio is 1:48 (1/4 in to the foot; O): {text}"


def test_common_ratios_within_reach_are_listed_nearest_first_and_at_most_three():
    """254 mm ± 20 mm of 40 ft may be 1:44.5 to 1:52.1: 1:48, 1:50 and 1:45 lie within; with ± 40 mm more do."""
    three = "1:48 (1/4 in to the foot; O) and 1:50 and 1:45 (0) lie within its uncertainty."
    assert standard_text(ratio_of("40 ft; 254 ± 20")) == three
    wide = ratio_of("40 ft; 254 ± 40")
    assert len(wide.standards) > 3
    assert standard_text(wide) == three


@pytest.mark.parametrize(("drawn", "near"), [("376", True), ("371", False)])
def test_a_copy_is_taken_as_one_within_a_tenth(drawn, near):
    """300 ft at 1:220 are 415.64 mm: 376 is 9.5 % less, 371 10.7 %."""
    text = standard_text(ratio_of(f"300 ft; {drawn} ± 0.01"))
    assert text == (
        "The nearest common ratio is 1:220 (Z (NEM); Z): drawn to that, this copy is 9.5 % too small."
        if near
        else "No common ratio is near; the nearest is 1:220 (Z (NEM); Z)."
    )


def test_a_ratio_far_from_any_in_words():
    assert (
        standard_text(ratio_of("40 ft; 40.64 mm ± 0.01"))
        == "No common ratio is near; the nearest is 1:220 (Z (NEM); Z)."
    )


def test_both_ways_in_words():
    along, upright = ratio_of("40 ft; 254.0"), ratio_of("13 ft; 82.55")
    assert directions_text(Directions(along, upright)) == (
        "Along and upright agree: 1:48.000 ± 0.047 and 1:48.00 ± 0.15."
    )
    stretched = directions_text(Directions(ratio_of("40 ft; 264"), upright))
    assert "The picture is stretched along by 3.9 %, or was not taken square on" in stretched
    assert "squeezed along by 3.9 %" in directions_text(Directions(ratio_of("40 ft; 244"), upright))

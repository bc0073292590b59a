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
        ("512", {"unit": "px", "plus_minus": "2"}, 512, 2),
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
            lambda: read_full_size("-3 ft"),
            "the full size is '-3 ft'; it must be above 0. Write 40' 6\", or 40' 6\" ± 1 in.",
        ),
    ],
)
def test_what_is_out_of_range_says_what_to_write(act, message):
    with pytest.raises(OutOfRange, match=whole(message)):
        act()


def test_mm_are_refused_where_pixels_are_counted():
    message = "'512 mm': this picture is measured in pixels; write a number of pixels, such as 512 ± 2."
    with pytest.raises(UnreadableLength, match=whole(message)):
        read_measured("512 mm", "px")


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
    assert bad[0].message == "'9 ft': it is not a full size and what it measures; write 40' 6\"; 203.1 mm."


def test_wanted_sizes_and_bad_lines():
    wanted, bad = read_wanted("door; 53.4\n17 ± 0.5 mm\na; b; c\nroof; x")
    assert [(each.name, each.given) for each in wanted] == [("door", "53.4"), ("line 2", "17 ± 0.5 mm")]
    assert [line.number for line in bad] == [3, 4]
    assert bad[0].message == "'a; b; c': it has more than two columns; write door; 53.4 mm."


# In words.


@pytest.mark.parametrize(
    ("value", "text"),
    [
        (normal(32.7142, 0.0951, "a"), "32.71 ± 0.19 mm"),
        (normal(2294.3, 7.1, "a"), "2294 ± 14 mm"),
        (normal(2294.3, 71.0, "a"), "2294 ± 142 mm"),
        (28.0, "28.00 mm"),
    ],
)
def test_numbers_with_their_limits(value, text):
    assert with_limits(value, "mm") == text


@pytest.mark.parametrize(
    ("feet", "u_ft", "text"),
    [
        (8.409, 0.02, '8\' 5" ± 0.48"'),
        (8.409, 0.0, "8' 4 15/16\""),
        (8.409, 0.006, '8\' 4 7/8" ± 0.14"'),
        (8.409, 0.25, '8\' 5" ± 6.0"'),
    ],
)
def test_feet_no_finer_than_they_are_known(feet, u_ft, text):
    assert feet_with_limits(normal(feet, u_ft, "door")) == text


def ratio_of(text, unit="mm"):
    return DrawingRatio(tuple(read_known(text, unit)[0]), "px" if unit == "px" else "mm")


def test_a_good_drawing_in_words():
    """1:48 by construction: 40 1/2 ft are 257.175 mm, 30 1/4 ft 192.0875 mm, 36 ft 228.6 mm."""
    ratio = ratio_of("40' 6\"; 257.175\n30' 3\"; 192.0875\n36 ft; 228.6")
    assert ratio_text(ratio) == "1:48.000 ± 0.035"
    assert standard_text(ratio) == "1:48 (1/4 in to the foot; O) lies within its uncertainty."
    assert agreement_text(ratio) == "The 3 known dimensions agree within what they were measured to."
    assert model_text(ratio, Wanted("door", "44.45", 44.45), "HO")[0] == "24.500 ± 0.018 mm"


def test_a_misread_dimension_in_words():
    ratio = ratio_of("ends; 40' 6\"; 257.2\nroof; 36 ft; 231\ntrucks; 30' 3\"; 192.1")
    assert agreement_text(ratio) == (
        "roof disagrees with the others: it measures 1.0 % too long. It is still counted in; measure it again, or "
        "leave it out. Until that is settled, don't trust the ± of this ratio."
    )
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


def test_a_ratio_far_from_any_in_words():
    assert (
        standard_text(ratio_of("40 ft; 40.64 mm ± 0.01"))
        == "No common ratio is near; the nearest is 1:220 (Z (NEM); Z)."
    )


def test_both_ways_in_words():
    along, upright = ratio_of("40 ft; 254.0"), ratio_of("13 ft; 82.55")
    assert directions_text(Directions(along, upright)).startswith("Along and upright agree: 1:48.000 ± 0.047 and ")
    stretched = directions_text(Directions(ratio_of("40 ft; 264"), upright))
    assert "The picture is stretched along by 3.9 %, or was not taken square on" in stretched
    assert "squeezed along by 3.9 %" in directions_text(Directions(ratio_of("40 ft; 244"), upright))

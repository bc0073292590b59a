"""Text to an exact length: the forms people write are read, and what is not sure is refused with advice."""

import pickle
import re
import time
from contextlib import suppress
from fractions import Fraction

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from modelmath.errors import ModelMathError, UnknownChoice, UnknownScale, UnreadableLength, WrongKind
from modelmath.lengths.parse import LONGEST, parse_length, parse_length_exact, parse_prototype
from modelmath.lengths.scales import all_scales, scale
from modelmath.lengths.units import UNITS

INCH = Fraction("25.4")  # exact: international yard and pound agreement, 1959
FOOT = 12 * INCH
HO_FOOT = Fraction("3.5")  # NMRA S-1.2

EXAMPLE = "write a number with a unit, such as 15.9 mm, .040 in or 3 3/4 scale ft."
POINT = "write a decimal point, as 1.5 mm."
FEET = "write feet and inches as 4' 9 1/2\", or one number with one unit."


def whole(text):
    return f"^{re.escape(text)}$"


# What is written, the unit of the place it is written in, and the length it is. The scale is HO throughout.
READ = [
    ("3 3/4", "scale foot", HO_FOOT * 15 / 4),
    ("3-3/4", "scale foot", HO_FOOT * 15 / 4),
    ("3- 3/4", "scale foot", HO_FOOT * 15 / 4),
    ("3–3/4", "scale foot", HO_FOOT * 15 / 4),  # en dash
    ("3¾", "scale foot", HO_FOOT * 15 / 4),
    ("3 ¾", "scale foot", HO_FOOT * 15 / 4),
    ("3-¾", "scale foot", HO_FOOT * 15 / 4),
    ("3.75", "scale foot", HO_FOOT * 15 / 4),
    ("3,75", "scale foot", HO_FOOT * 15 / 4),
    ("3 3⁄4", "scale foot", HO_FOOT * 15 / 4),  # fraction slash
    ("3 3∕4", "scale foot", HO_FOOT * 15 / 4),  # division slash
    ("3\u00a03/4", "scale foot", HO_FOOT * 15 / 4),  # no-break space
    ("15/4", "scale foot", HO_FOOT * 15 / 4),
    ("¾", "in", INCH * 3 / 4),
    ("⅝ in", None, INCH * 5 / 8),
    ("-1/4", "scale foot", -HO_FOOT / 4),
    ("−1/4", "scale foot", -HO_FOOT / 4),  # minus sign
    ("+1", "scale foot", HO_FOOT),
    ("4' 9 1/2\"", None, FOOT * 4 + INCH * 19 / 2),
    ("4'-9 1/2\"", None, FOOT * 4 + INCH * 19 / 2),
    ("4' - 9 1/2\"", None, FOOT * 4 + INCH * 19 / 2),
    ("4'9½\"", None, FOOT * 4 + INCH * 19 / 2),
    ("4’ 9 1/2”", None, FOOT * 4 + INCH * 19 / 2),  # curly
    ("4‘ 9 1/2“", None, FOOT * 4 + INCH * 19 / 2),
    ("4′ 9 1/2″", None, FOOT * 4 + INCH * 19 / 2),  # prime and double prime
    ("4' 9 1/2''", None, FOOT * 4 + INCH * 19 / 2),
    ("4' 9.5\"", None, FOOT * 4 + INCH * 19 / 2),
    ("-4' 9\"", None, -(FOOT * 4 + INCH * 9)),
    ("4 ft 9 in", None, FOOT * 4 + INCH * 9),
    ("4ft9in", None, FOOT * 4 + INCH * 9),
    ("4 ft. 9 in.", None, FOOT * 4 + INCH * 9),
    ("4 Feet 9 Inches", None, FOOT * 4 + INCH * 9),
    ("4'", None, FOOT * 4),
    ('9"', None, INCH * 9),
    (".040 in", None, INCH * 4 / 100),
    ("0.040in", None, INCH * 4 / 100),
    ("0,040 in", None, INCH * 4 / 100),
    ("15.9 mm", None, Fraction("15.9")),
    ("15.9MM", None, Fraction("15.9")),
    ("15. mm", None, Fraction(15)),
    ("1.5 cm", None, Fraction(15)),
    ("0.015 metres", None, Fraction(15)),
    ("15 millimeters", None, Fraction(15)),
    ("1,5 mm", None, Fraction("1.5")),
    ("12,25 mm", None, Fraction("12.25")),
    ("1,5000 mm", None, Fraction("1.5")),
    ("0,500 mm", None, Fraction("0.5")),
    (",500 mm", None, Fraction("0.5")),
    ("1234,500 mm", None, Fraction("1234.5")),
    ("1.500 mm", None, Fraction("1.5")),
    ("0 mm", None, Fraction(0)),
    ("4 scale ft", None, HO_FOOT * 4),
    ("4 Scale Feet", None, HO_FOOT * 4),
    ("6 scale in", None, HO_FOOT / 2),
    ("6 scale inches", None, HO_FOOT / 2),
    ("4 scale ft 6 in", None, HO_FOOT * 9 / 2),
    ("4 scale ft 6 scale in", None, HO_FOOT * 9 / 2),
    ('4 scale ft 6"', None, HO_FOOT * 9 / 2),
    # A scale unit as the place's unit makes ft, in and their signs scale units; scale alone changes nothing.
    ("4' 6\"", "scale foot", HO_FOOT * 9 / 2),
    ("4' 6\"", "scale inch", HO_FOOT * 9 / 2),
    ("4' 6\"", "in", FOOT * 9 / 2),
    ("4 ft", "mm", FOOT * 4),
    ("15.9 mm", "scale foot", Fraction("15.9")),
    ("4 real ft", "scale foot", FOOT * 4),
    ("4 real ft 6 in", "scale foot", FOOT * 9 / 2),
    ("1/2 real in", "scale foot", INCH / 2),
]


@pytest.mark.parametrize(("text", "unit", "expected"), READ)
def test_what_people_write_is_read_exactly(text, unit, expected):
    assert parse_length_exact(text, unit=unit, scale="HO") == expected
    assert parse_length(text, unit=unit, scale="HO") == float(expected)


@pytest.mark.parametrize("each", all_scales(), ids=lambda each: each.key)
def test_scale_alone_changes_nothing(each):
    for text in ("4 ft 9 in", "4' 9\"", ".040 in", "15.9 mm"):
        assert parse_length_exact(text, scale=each) == parse_length_exact(text)


# What is written, the unit of the place it is written in, and the whole message.
REFUSED = [
    ("", None, f"'': nothing is written here; {EXAMPLE}"),
    (" \t ", "mm", f"'': nothing is written here; {EXAMPLE}"),
    ("3 4/3/2", "scale foot", f"'3 4/3/2': it has two fraction strokes; {EXAMPLE}"),
    ("1 / 2 / 3 in", None, f"'1 / 2 / 3 in': it has two fraction strokes; {EXAMPLE}"),
    ("1/0", "mm", "'1/0': a fraction can't have 0 below the line; write a fraction such as 3/4."),
    ("1/0", None, "'1/0': a fraction can't have 0 below the line; write a fraction such as 3/4."),
    ("5' 3/0\"", None, "“5' 3/0\"”: a fraction can't have 0 below the line; write a fraction such as 3/4."),
    ("nan", "mm", f"'nan': that is not a number; {EXAMPLE}"),
    ("NaN mm", None, f"'NaN mm': that is not a number; {EXAMPLE}"),
    ("inf", "mm", f"'inf': that is not a number; {EXAMPLE}"),
    ("-infinity mm", None, f"'-infinity mm': that is not a number; {EXAMPLE}"),
    ("abc", "mm", f"'abc': it is no number or unit; {EXAMPLE}"),
    ("about 3 mm", None, f"'about 3 mm': 'about' is no number or unit; {EXAMPLE}"),
    ("3 thou", None, f"'3 thou': 'thou' is no number or unit; {EXAMPLE}"),
    ("3 scaleft", None, f"'3 scaleft': 'scaleft' is no number or unit; {EXAMPLE}"),
    ("9**9**9 mm", None, f"'9**9**9 mm': sums are not read here; {EXAMPLE}"),
    ("3 + 4 mm", None, f"'3 + 4 mm': sums are not read here; {EXAMPLE}"),
    ("1e3 mm", None, f"'1e3 mm': powers of ten are not read here; {EXAMPLE}"),
    ("1.2.3 mm", None, f"'1.2.3 mm': it has two decimal points; {EXAMPLE}"),
    ("3..4", "mm", f"'3..4': it has two decimal points; {EXAMPLE}"),
    ("3 3/4", None, f"'3 3/4': it has no unit; {EXAMPLE}"),
    ("12,5", None, f"'12,5': it has no unit; {EXAMPLE}"),
    (
        "1,500 mm",
        None,
        "'1,500 mm': the comma may be a decimal mark or a thousands mark; write 1.500 mm or 1500 mm.",
    ),
    ("12,500", "mm", "'12,500': the comma may be a decimal mark or a thousands mark; write 12.500 or 12500."),
    ("1,500,000 mm", None, f"'1,500,000 mm': it has a comma that can't be read as a decimal mark; {POINT}"),
    ("1.500,5 mm", None, f"'1.500,5 mm': it has a comma that can't be read as a decimal mark; {POINT}"),
    ("3, 5 mm", None, f"'3, 5 mm': it has a comma that can't be read as a decimal mark; {POINT}"),
    ("3,", "mm", f"'3,': it has a comma that can't be read as a decimal mark; {POINT}"),
    ("1,5/2", "mm", "'1,5/2': a fraction has a decimal mark in it; write a fraction such as 3/4, or a decimal."),
    ("3.5/2 in", None, "'3.5/2 in': a fraction has a decimal mark in it; write a fraction such as 3/4, or a decimal."),
    ("3 9/8 in", None, "'3 9/8 in': 9/8 is not less than 1; write 4 1/8 or check the fraction."),
    ("3 8/8 in", None, "'3 8/8 in': 8/8 is not less than 1; write 4 or check the fraction."),
    ("3 -1/2", "in", "'3 -1/2': its dash may mean minus; write 3 1/2 or 3-1/2, or work the sum out first."),
    ("3 - 1/2 in", None, "'3 - 1/2 in': its dash may mean minus; write 3 1/2 or 3-1/2, or work the sum out first."),
    ("3-4 mm", None, "'3-4 mm': its dash may mean minus; write 3 1/2 or 3-1/2, or work the sum out first."),
    ("--3", "mm", f"'--3': it has two dashes in a row; {EXAMPLE}"),
    ("3 ± 0.1 mm", None, "'3 ± 0.1 mm': a tolerance is not read here; write the length alone, such as 15.9 mm."),
    ("3 x 4 mm", None, "'3 x 4 mm': it has two sizes; write one length, such as 15.9 mm."),
    ("3 3/4 scale", None, "'3 3/4 scale': scale needs ft or in behind it; write 3 3/4 scale ft or 9 scale in."),
    ("4' 9 scale", None, "“4' 9 scale”: scale needs ft or in behind it; write 3 3/4 scale ft or 9 scale in."),
    ("4 scale mm", None, "'4 scale mm': 'scale mm' is no unit; write scale ft or scale in, or plain mm."),
    ("4 scale '", None, "“4 scale '”: “scale '” is no unit; write scale ft or scale in, or plain mm."),
    (
        "3 3/4 HO ft",
        None,
        (
            "'3 3/4 HO ft': the name of a scale is not read in a length; "
            "write 3 3/4 scale ft, and the scale in its own place."
        ),
    ),
    ("scale", None, f"'scale': it has no number; {EXAMPLE}"),
    ("ft", "mm", f"'ft': it has no number; {EXAMPLE}"),
    ("'", "mm", f"“'”: it has no number; {EXAMPLE}"),
    (".", "mm", f"'.': it has no number; {EXAMPLE}"),
    ("mm 3", None, f"'mm 3': it can't be read as a length; {EXAMPLE}"),
    ("3 mm mm", None, f"'3 mm mm': it can't be read as a length; {EXAMPLE}"),
    ("(3) mm", None, f"'(3) mm': it can't be read as a length; {EXAMPLE}"),
    ("3_000 mm", None, f"'3_000 mm': it can't be read as a length; {EXAMPLE}"),
    ("3\x00 mm", None, f"'3\\x00 mm': it can't be read as a length; {EXAMPLE}"),
    ("3 \ud800 mm", None, f"'3 \\ud800 mm': it can't be read as a length; {EXAMPLE}"),
    ("3 ' 4", None, f"“3 ' 4”: the number behind the feet has no unit; {FEET}"),
    ("4'9", "scale foot", f"“4'9”: the number behind the feet has no unit; {FEET}"),
    ("4.5' 3\"", None, f"“4.5' 3\"”: the feet have a fraction and inches follow; {FEET}"),
    ("4' 12\"", None, f"“4' 12\"”: 12 inches or more stand behind the feet; {FEET}"),
    ("4 ft 9 scale in", None, f"'4 ft 9 scale in': scale in can't stand behind ft; {FEET}"),
    ("4 scale ft 9 real in", None, f"'4 scale ft 9 real in': in can't stand behind scale ft; {FEET}"),
    ("3 ft 4 ft", None, f"'3 ft 4 ft': ft can't stand behind ft; {FEET}"),
    ("3'000 mm", None, f"“3'000 mm”: mm can't stand behind ft; {FEET}"),
    ("3 mm 4 in", None, f"'3 mm 4 in': it has two numbers that are not feet and inches; {FEET}"),
    ("3 000 mm", None, f"'3 000 mm': it has two numbers that are not feet and inches; {FEET}"),
    ("½½ in", None, f"'½½ in': it has two numbers that are not feet and inches; {FEET}"),
    ("1" * 61, "mm", f"'{'1' * 57}...': it is longer than {LONGEST} characters; {EXAMPLE}"),
]


@pytest.mark.parametrize(("text", "unit", "message"), REFUSED)
def test_what_is_not_sure_is_refused_with_advice(text, unit, message):
    with pytest.raises(UnreadableLength, match=whole(message)) as caught:
        parse_length(text, unit=unit, scale="HO")
    assert isinstance(caught.value, ValueError)
    assert caught.value.given == text
    assert str(pickle.loads(pickle.dumps(caught.value))) == message


def test_a_number_in_the_place_of_text_is_refused():
    with pytest.raises(UnreadableLength, match=whole(f"'3.5': it is not text; write it in quotes, as {EXAMPLE[6:]}")):
        parse_length(3.5, unit="mm")


def test_a_scale_unit_without_its_scale_is_refused():
    message = 'scale is missing; expected the scale whose scale foot is meant. Add scale="HO", or another scale.'
    with pytest.raises(WrongKind, match=whole(message)):
        parse_length("4 scale ft")


def test_a_wrong_unit_or_scale_argument_is_refused():
    message = "unit is 'yd'; write one of mm, cm, m, in, ft, scale foot, scale inch."
    with pytest.raises(UnknownChoice, match=whole(message)):
        parse_length("4", unit="yd")
    with pytest.raises(UnknownScale, match=whole("No scale is called 'hoo'; did you mean OO, HO, O?")):
        parse_length("4 scale ft", scale="hoo")


def seconds(text, unit):
    began = time.process_time()
    with suppress(ModelMathError):
        parse_length_exact(text, unit=unit, scale=scale("N"))
    return time.process_time() - began


def read_or_refuse(text, unit):
    """Read text; nothing but the package's own error may come out, with a message, and soon."""
    try:
        value = parse_length_exact(text, unit=unit, scale=scale("N"))
    except ModelMathError as error:
        value, message = None, str(error)
    else:
        message = "; write "
    assert "; write " in message
    # Text that is slow to read is slow each time; one slow reading may be the collector's.
    assert seconds(text, unit) < 0.1 or min(seconds(text, unit) for _ in range(3)) < 0.1
    return value


@settings(deadline=None)
@given(st.text(max_size=70), st.sampled_from([None, *UNITS]))
@example("1" * 30 + " " + "1" * 29, "mm")
@example("-" * 60, None)
@example(" / " * 20, None)
@example("1 1/1 1/1 1/1 1/1 1/1 1/1 1/1 1/1 1/1 1/1 1/1", "in")
@example("½" * 60, "in")
@example("'" * 59 + "3", None)
@example("ﷺ" * 60, None)  # one sign that grows to eighteen when its letters are made plain
@example("3\ufeff mm", None)
def test_no_text_breaks_the_parser(text, unit):
    read_or_refuse(text, unit)


NUMBERS = ["3", "0", "12", "3/4", "1/0", "¾", ".5", "3.75", "1,5", "1,500", "e3", "nan"]
SIGNS = [" ", "-", "–", "--", "+", "/", ".", ",", "'", '"', "”", "′", "\x00"]
WORDS = ["mm", "in", "ft", "scale", "real", "scale ft", "scale in", "ho", "m", "inches"]
pieces = st.sampled_from([*NUMBERS, *SIGNS, *WORDS])


@settings(deadline=None, max_examples=400)
@given(st.lists(pieces, max_size=9).map("".join), st.sampled_from([None, "scale foot", "mm"]))
def test_no_near_miss_breaks_the_parser(text, unit):
    value = read_or_refuse(text, unit)
    if value is not None:
        assert any(sign.isdigit() or sign == "¾" for sign in text)
        with suppress(UnreadableLength):
            parse_prototype(text, None if unit == "scale foot" else unit)


@given(st.fractions(0, 1000, max_denominator=64), st.fractions(0, 1000, max_denominator=64))
def test_a_longer_text_is_a_longer_length(a, b):
    """The order of the lengths is the order of the numbers, in any unit."""
    short, long = sorted((a, b))
    for unit in UNITS:
        first, second = (parse_length_exact(str(each), unit=unit, scale="HO") for each in (short, long))
        assert (first < second) == (short < long)


@given(st.text(alphabet="0123456789", min_size=1, max_size=6), st.text(alphabet="0123456789", max_size=6))
def test_decimals_are_exact(whole_part, decimals):
    """A decimal typed by a person is that decimal, with no float in between."""
    expected = Fraction(int(whole_part + decimals), 10 ** len(decimals))
    assert parse_length_exact(f"{whole_part}.{decimals} mm") == expected

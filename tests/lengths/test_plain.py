"""The plain forms are read at one look exactly as the full parser reads them, and never refused there."""

from fractions import Fraction
from unicodedata import numeric

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from modelmath.errors import ModelMathError
from modelmath.lengths.parse import _any_form, parse_length, parse_length_exact
from modelmath.lengths.plain import _VULGAR, LONGEST, plain_length
from modelmath.lengths.scales import scale
from modelmath.lengths.units import UNITS

PIECES = [
    "3", "0", "12", "007", "3/4", "9/8", "1/0", "/", "¾", "⅔", "⅒", ".", ",", ".5", "3.75", ",5", "1,500", "0,500",
    " ", "  ", "\t", "-", " - ", "–", "−", "+", "'", '"', "''", "”", "mm", "MM", "cm", "m", "in", "in.", "In", "inches",
    "ft", "ft.", "feet", "scale", "scale ft", "scale in", "Scale Feet", "real", "real in",
    "ho", "thou", "e3", "\n", "٣", "K",
]  # fmt: skip
SCALES = [None, "HO", "n", scale("O"), "1:87.1", "hoo"]
PLACES = [None, *UNITS, "feet", "yd"]


def outcome(read, *args):
    """Return what was read, or the kind and the whole text of the refusal."""
    try:
        return read(*args)
    except ModelMathError as error:
        return type(error), str(error)


def same(text, unit, its_scale):
    slow = outcome(_any_form, text, unit, its_scale)
    assert outcome(parse_length_exact, text, unit, its_scale) == slow
    quick = outcome(parse_length, text, unit, its_scale)
    assert quick == (float(slow) if isinstance(slow, Fraction) else slow)
    assert repr(quick) == repr(float(slow) if isinstance(slow, Fraction) else slow)  # 0.0 and -0.0 are not the same


@settings(max_examples=1500)
@given(st.lists(st.sampled_from(PIECES), max_size=8).map("".join), st.sampled_from(PLACES), st.sampled_from(SCALES))
@example("-0 mm", None, None)
@example("1" * 58 + " m", None, None)
@example("1" * 59 + " m", None, None)
@example("4'--9\"", None, None)
@example("--¾", "in", None)
@example("4' 9,5\"", None, None)
@example("1,5/2", "mm", None)
@example("4 ft.5 in", None, None)
def test_a_quick_answer_is_the_full_parsers_answer(text, unit, its_scale):
    same(text, unit, its_scale)


numbers = st.one_of(
    st.integers(0, 2000).map(str),
    st.decimals(0, 2000, places=3).map(str),
    st.decimals(0, 200, places=2).map(lambda number: str(number).replace(".", ",")),
    st.decimals(0, 1, places=3).map(lambda number: str(number).removeprefix("0")),
    st.builds(
        "{}{}{}/{}".format, st.integers(0, 99), st.sampled_from([" ", "-"]), st.integers(0, 70), st.integers(0, 64)
    ),
    st.builds("{}/{}".format, st.integers(0, 70), st.integers(0, 64)),
    st.builds("{}{}{}".format, st.integers(0, 99), st.sampled_from(["", " ", "-"]), st.sampled_from("½¼¾⅛⅜⅝⅞⅓⅔⅕")),
)
words = st.sampled_from(
    ["", " mm", "mm", " in", '"', "'", " ft", " scale ft", " Scale In", " cm", " m", " real ft", " in."]
)
texts = st.one_of(
    st.builds("{}{}{}".format, st.sampled_from(["", "-"]), numbers, words),
    st.builds(
        "{}{}{}{}{}".format,
        st.integers(0, 99),
        st.sampled_from(["'", " ft", "ft", " foot"]),
        st.sampled_from(["", " ", "-", " - ", " -"]),
        numbers,
        st.sampled_from(['"', " in", "in", " inches", ""]),
    ),
)


@settings(max_examples=1500)
@given(texts, st.sampled_from(PLACES), st.sampled_from(SCALES))
def test_a_quick_answer_to_a_likely_text_is_the_full_parsers_answer(text, unit, its_scale):
    same(text, unit, its_scale)


@settings(max_examples=300)
@given(st.text(max_size=LONGEST + 5), st.sampled_from(PLACES))
def test_a_quick_answer_to_any_text_is_the_full_parsers_answer(text, unit):
    same(text, unit, "HO")


@pytest.mark.parametrize(
    ("text", "unit"),
    [
        ("15.9 mm", None), (".040 in", None), ("15,9 mm", None), ("3 3/4", "scale foot"), ("3-3/4", "scale foot"),
        ("3¾", "scale foot"), ("15/16 in", None), ("4' 9 1/2\"", None), ("4 ft 9 in", None), ("7 1/2 scale ft", None),
        ("-1/4", "scale foot"), ("12", "mm"), ("4'-9½\"", "scale foot"),
    ],
)  # fmt: skip
def test_common_forms_take_the_quick_way(text, unit):
    assert plain_length(text, unit, "HO") is not None


@pytest.mark.parametrize("unit", [["mm"], 3, {"mm"}])
def test_what_is_no_unit_gets_the_full_parsers_message(unit):
    same("15.9 mm", unit, None)


@pytest.mark.parametrize("sign", sorted(_VULGAR))
def test_a_fraction_of_one_sign_is_what_unicode_says_it_is(sign):
    value = Fraction(numeric(sign)).limit_denominator(16)
    for text, number in ((sign, value), (f"3{sign}", 3 + value), (f"-3 {sign}", -3 - value)):
        over, under = plain_length(text, "mm", None)
        assert Fraction(over, under) == parse_length_exact(text, "mm") == number
    over, under = plain_length(f"4' 9{sign}\"", None, None)
    assert Fraction(over, under) == (57 + value) * Fraction("25.4")

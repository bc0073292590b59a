"""Rules: marks to lengths and back, with the zero mark in from the end, worn, or nowhere special."""

import re
import subprocess
import sys
import warnings
from fractions import Fraction

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from published import agrees_with_print, published_rows

from modelmath.errors import OutOfRange, UnknownChoice, UnreadableLength, WrongKind
from modelmath.lengths.rules import DATUMS, Rule
from modelmath.lengths.scales import all_scales
from modelmath.lengths.uncertain import components

scales = st.sampled_from(all_scales())
quarters = st.integers(0, 200).map(lambda n: Fraction(n, 4))
offsets = st.fractions(-2, 2, max_denominator=32)
errors = st.integers(-50, 50).map(lambda n: n / 1000)
datums = st.sampled_from(DATUMS)
SHORT = "scale ft short of zero, towards the end"
LONGER = "Read it again, or use a longer rule."


def whole(text):
    return f"^{re.escape(text)}$"


def printed(example, name):
    """Return a printed value of the uncertainty examples."""
    found = [r for r in published_rows("uncertainty_examples.csv") if (r["example"], r["name"]) == (example, name)]
    assert len(found) == 1
    return found[0]


# --- Readings -------------------------------------------------------------------------------------------------


def test_seven_and_a_half_from_the_end_is_eight_and_a_half():
    """With zero one scale foot in, 7 1/2 HO feet read from the end is 8 1/2: common practice, no source."""
    rule = Rule(unit="scale foot", scale="HO", graduation="1/4", zero_offset="1")
    assert rule.exact_length("7 1/2") == Fraction("8.5") * Fraction("3.5")
    assert rule.length("7 1/2").n == 29.75
    assert rule.length("7 1/2", datum="zero").n == 26.25


@pytest.mark.parametrize("each", all_scales(), ids=lambda each: each.key)
def test_a_difference_of_two_readings_is_free_of_the_offset(each):
    """In every scale of the table: common practice, no source."""
    rule = Rule(scale=each, graduation="1/4", zero_offset="1", offset_uncertainty="0.5 mm")
    other = Rule(scale=each, graduation="1/4", zero_offset="-0.3")
    for high, low in (("11 1/4", "7 1/2"), ("3", "1/4")):
        depth = rule.length(high) - rule.length(low)
        assert rule.exact_length(high) - rule.exact_length(low) == other.exact_length(high) - other.exact_length(low)
        assert depth.n == pytest.approx(float(rule.exact_length(high) - rule.exact_length(low)))
        assert not [share for cause, share in components(depth) if cause.name.startswith("zero offset")]
        # Two readings to the nearest mark: twice graduation squared / 12 (JCGM 100:2008, F.2.2.1 and 5.1.2).
        assert depth.std_dev == pytest.approx(float(each.mm_per_foot) / 4 * (2 / 12) ** 0.5)


def test_zero_offset_and_short_rule_agree_with_the_worked_example():
    """ZERO1, computed from true = (reading - zero) x (1 + scale error); a rule that reads 0.35 at its end."""
    reading = printed("ZERO1", "reading")["value"]
    offset = "-" + printed("ZERO1", "reading at zero")["value"]
    plain = Rule(unit="mm", graduation="0.05", zero_offset=offset)
    assert agrees_with_print(plain.exact_length(reading), printed("ZERO1", "corrected")["value"])
    short = Rule(unit="mm", graduation="0.05", zero_offset=offset, scale_error=-0.002)
    expected = printed("ZERO1", "corrected, with 0.2 percent short ruler")["value"]
    assert agrees_with_print(short.exact_length(reading), expected)
    assert agrees_with_print(short.length(reading).n, expected)


def test_a_difference_agrees_with_the_worked_example():
    """ZERO2, computed: both readings with a standard uncertainty of 0.1 mm."""
    rule = Rule(unit="mm", graduation="1", zero_offset="-0.35", offset_uncertainty="0.3", reading_uncertainty="0.1")
    length = rule.length(printed("ZERO2", "reading 2")["value"]) - rule.length(printed("ZERO2", "reading 1")["value"])
    row = printed("ZERO2", "length")
    assert agrees_with_print(length.n, row["value"])
    assert agrees_with_print(length.std_dev, row["std_uncertainty"])


def test_resolution_agrees_with_the_printed_factor():
    """NIST TN 1297, section 4; JCGM 100:2008, F.2.2.1: a step q gives q / sqrt(12)."""
    reading = Rule(unit="mm", graduation="1").length("36")
    assert agrees_with_print(reading.std_dev, printed("GUM_TYPEB", "digital resolution step q")["value"])
    assert [(cause.name, cause.shape) for cause, _ in components(reading)] == [("reading of 36 mm", "rectangular")]


def test_a_stated_reading_uncertainty_is_taken_as_it_is():
    reading = Rule(unit="mm", graduation="1", reading_uncertainty="0.1").length("36", name="roof")
    assert reading.std_dev == pytest.approx(0.1)
    assert [(cause.name, cause.shape) for cause, _ in components(reading)] == [("reading of roof", "normal")]


@given(scales, quarters, offsets, errors, datums)
def test_length_is_the_formula(each, mark, offset, error, datum):
    """(mark + offset) x (1 + scale error) from the end, without the offset from zero."""
    rule = Rule(scale=each, zero_offset=offset, scale_error=error)
    shown = mark + (offset if datum == "end" else 0)
    expected = shown * each.mm_per_foot * (1 + Fraction(str(error)))
    assert rule.exact_length(mark, datum) == expected
    assert rule.length(mark, datum).n == pytest.approx(float(expected), rel=1e-12, abs=1e-9)


def test_scale_error_is_shared_by_the_readings_of_one_rule():
    """Its share in a difference is the difference times its uncertainty (JCGM 100:2008, 5.1.3)."""
    rule = Rule(unit="mm", graduation="1", zero_offset="2", scale_error=0.001, scale_error_uncertainty=0.0005)
    shares = {cause.name: share for cause, share in components(rule.length("120") - rule.length("20"))}
    assert shares["scale error of rule"] == pytest.approx(100 * 0.0005)


@pytest.mark.parametrize("offset", ["1", "-0.2", "0"])
def test_a_rule_known_exactly_warns_of_nothing(offset):
    """The uncertainties package warns of a number without uncertainty; an exact offset is such a number."""
    with warnings.catch_warnings():
        warnings.simplefilter("error")
        rule = Rule(scale="HO", zero_offset=offset)
        depth = rule.length("11 1/4") - rule.length("7 1/2", datum="zero")
        assert str(depth * 2 + 1)
        assert depth.std_dev > 0
        assert rule.offset.std_dev == 0


def test_marks_may_stand_between_the_end_and_zero():
    rule = Rule(scale="HO", zero_offset="1")
    assert rule.exact_length("-1/4") == Fraction("3.5") * 3 / 4
    assert rule.exact_length("-1") == 0


@pytest.mark.parametrize("mark", ["3 3/4", "3¾", 3.75, Fraction(15, 4), "3.75", "13.125 mm", "3 scale ft 9 in"])
def test_a_mark_may_be_text_or_number(mark):
    assert Rule(scale="HO").mark_mm(mark) == Fraction("13.125")


# --- Where to set the rule ------------------------------------------------------------------------------------


@given(scales, st.integers(0, 800).map(lambda n: Fraction(n, 16)), offsets, errors, datums, st.booleans())
def test_mark_for_inverts_length(each, mark, offset, error, datum, as_float):
    rule = Rule(scale=each, graduation="1/4", zero_offset=offset, scale_error=error)
    size = rule.exact_length(mark, datum)
    assume(size >= 0)
    setting = rule.mark_for(float(size) if as_float else size, datum)
    assert setting.mark == mark
    assert setting.on_mark == ((mark * 4).denominator == 1)
    assert rule.exact_length(setting.mark, datum) == size
    assert rule.mark_for(rule.length(mark, datum) if size > 0 else size, datum).mark == mark


@given(scales, st.floats(0, 500), offsets, errors, datums)
def test_setting_is_the_nearest_mark_on_the_rule_and_what_goes_beyond(each, mm, offset, error, datum):
    rule = Rule(scale=each, graduation="1/4", zero_offset=offset, scale_error=error)
    setting = rule.mark_for(mm, datum)
    assert (setting.nearest * 4).denominator == 1
    assert setting.nearest >= min(-offset, 0)
    shown_mm = (setting.nearest + (offset if datum == "end" else 0)) * each.mm_per_foot * (1 + Fraction(str(error)))
    assert float(shown_mm) + setting.beyond_mm == pytest.approx(mm, abs=1e-6)
    quarter = float(each.mm_per_foot) / 4 * (1 + error)
    lowest = setting.nearest - Fraction(1, 4) < min(-offset, 0)
    assert abs(setting.beyond_mm) <= quarter * (1 if lowest else 0.5) + 1e-6


@pytest.mark.parametrize(
    ("rule", "mm", "datum", "text"),
    [
        (Rule(scale="HO", zero_offset="1"), 12.25, "end", "2 1/2 scale ft"),
        (Rule(scale="HO", zero_offset="1"), 12.25, "zero", "3 1/2 scale ft"),
        (Rule(scale="HO", zero_offset="1"), 12.30, "end", "2 1/2 scale ft and 0.05 mm"),
        (Rule(scale="HO", zero_offset="1"), 12.20, "end", "2 1/2 scale ft less 0.05 mm"),
        (Rule(scale="HO", zero_offset="1"), 3.5, "end", "0 scale ft"),
        (Rule(scale="HO", zero_offset="1"), 1.75, "end", f"1/2 {SHORT}"),
        (Rule(scale="HO", zero_offset="1"), 0, "end", f"1 {SHORT}"),
        (
            Rule(scale="HO", zero_offset="3.267 mm"),
            0,
            "end",
            "3/4 scale ft short of zero, and 0.64 mm further towards the end",
        ),
        (Rule(scale="HO", zero_offset="0.37 mm"), 13.495, "end", "3 3/4 scale ft"),
        (Rule(unit="mm", graduation="0.5", zero_offset="0.8"), 13.3, "end", "12.5 mm"),
        (Rule(unit="mm", graduation="1"), 13.4, "end", "13 mm and 0.40 mm"),
        (Rule(unit="in", graduation="1/64"), 13.096875, "end", "33/64 in"),
        (Rule(unit="in", graduation="0.01"), 13.0, "end", "0.51 in and 0.05 mm"),
        (Rule(unit="scale inch", scale="O", graduation="1"), 13.0, "end", "25 scale in less 0.23 mm"),
        (Rule(unit="mm", graduation="1", length="149.4"), 149.3, "end", "149 mm and 0.30 mm"),
        (Rule(unit="mm", graduation="1", length="149.6"), 149.6, "end", "149 mm and 0.60 mm"),
    ],
)
def test_setting_in_words(rule, mm, datum, text):
    assert rule.mark_for(mm, datum).text == str(rule.mark_for(mm, datum)) == text


@pytest.mark.parametrize(
    ("finest", "text"), [(None, "4 mm less 0.40 mm"), ("0.5", "3.5 mm and 0.10 mm"), (2, "4 mm less 0.40 mm")]
)
def test_setting_to_a_finest_mark_of_one_s_own(finest, text):
    assert Rule(unit="mm", graduation="1").mark_for(3.6, finest=finest).text == text


# --- Sizes at a mark ------------------------------------------------------------------------------------------


@given(scales, st.integers(0, 100), st.sampled_from([1, 2, 4, 8]), offsets, errors, datums, st.booleans())
def test_a_size_on_a_mark_is_that_mark_both_ways(each, count, parts, offset, error, datum, as_float):
    """Exact ties, in every scale, from Fractions and from floats."""
    rule = Rule(scale=each, zero_offset=offset, scale_error=error)
    size = rule.exact_length(Fraction(count, parts), datum) if count >= -offset * parts else Fraction(0)
    assume(size > 0)
    given_mm = float(size) if as_float else size
    assert rule.largest_at_mark(given_mm, f"1/{parts}", datum) == size
    assert rule.smallest_at_mark(given_mm, f"1/{parts}", datum) == size


@given(scales, st.one_of(st.fractions(0, 300), st.floats(0, 300)), offsets, errors, datums)
def test_largest_fits_and_the_next_does_not(each, mm, offset, error, datum):
    rule = Rule(scale=each, zero_offset=offset, scale_error=error)
    step = each.mm_per_foot / 4 * (1 + Fraction(str(error)))
    slack = Fraction(0) if isinstance(mm, Fraction) else Fraction(1, 10**8)
    largest, smallest = rule.largest_at_mark(mm, "1/4", datum), rule.smallest_at_mark(mm, "1/4", datum)
    assert largest <= Fraction(mm) + slack
    assert largest + step > Fraction(mm) - slack
    assert smallest >= Fraction(mm) - slack
    assert smallest - step < Fraction(mm) + slack
    for size in (largest, smallest):
        if size >= 0:
            assert (rule.mark_for(size, datum).mark * 4).denominator == 1


# --- Refusals -------------------------------------------------------------------------------------------------

QUARTERS = "Write 1/4 for quarter feet."
UNSURE = "Leave it out if you don't know it."
REFUSED_RULES = [
    ({"graduation": "0"}, f"rule: graduation is 0; it must be above 0. {QUARTERS}"),
    ({"graduation": "-1/4"}, f"rule: graduation is -1/4; it must be above 0. {QUARTERS}"),
    (
        {"graduation": "0", "unit": "mm"},
        "rule: graduation is 0; it must be above 0. Write 0.5 for half millimetres.",
    ),
    ({"offset_uncertainty": "-0.1 mm"}, f"rule: offset uncertainty is -0.1 mm; it must be 0 or more. {UNSURE}"),
    (
        {"scale_error_uncertainty": -0.1},
        f"rule: scale error uncertainty is -0.1; it must be 0 or more. {UNSURE}",
    ),
    (
        {"scale_error_uncertainty": float("nan")},
        f"rule: scale error uncertainty is nan; it must be 0 or more. {UNSURE}",
    ),
    (
        {"scale_error": 0.1},
        "rule: scale error is 0.1; it must be between -0.1 and 0.1. Write 0.002 if it shows 0.2 % too little.",
    ),
    (
        {"scale_error": float("nan")},
        "rule: scale error is nan; it must be between -0.1 and 0.1. Write 0.002 if it shows 0.2 % too little.",
    ),
    (
        {"reading_uncertainty": "0"},
        "rule: reading uncertainty is 0; it must be above 0. Leave it out for half a mark.",
    ),
    (
        {"length": "-12"},
        "rule: length is -12; it must be above 0. Write the last mark, or leave it out.",
    ),
]


@pytest.mark.parametrize(("fields", "message"), REFUSED_RULES)
def test_a_rule_that_makes_no_sense_is_refused(fields, message):
    with pytest.raises(OutOfRange, match=whole(message)):
        Rule(**{"scale": "HO", **fields})


@pytest.mark.parametrize("offset", [float("nan"), float("inf"), -float("inf")])
def test_an_offset_that_is_no_number_is_refused(offset):
    message = f"'{offset}': that is not a number; write a mark such as 3.75."
    with pytest.raises(UnreadableLength, match=whole(message)):
        Rule(scale="HO", zero_offset=offset)


def test_a_rule_in_an_unlikely_unit_or_without_its_scale_is_refused():
    message = "unit of the rule is 'm'; write one of scale foot, scale inch, mm, in. Did you mean 'mm'?"
    with pytest.raises(UnknownChoice, match=whole(message)):
        Rule(unit="m", graduation="1")
    message = 'scale is missing; expected the scale whose scale foot is meant. Add scale="HO", or another scale.'
    with pytest.raises(WrongKind, match=whole(message)):
        Rule()


REFUSED_MARKS = [
    (
        Rule(scale="HO", length="12"),
        "12 1/4",
        f"the reading is 12 1/4 scale ft; it must be on rule, whose last mark is 12 scale ft. {LONGER}",
    ),
    (
        Rule(unit="mm", graduation="0.5", length="150", name="steel rule"),
        "150.5",
        f"the reading is 150.5 mm; it must be on steel rule, whose last mark is 150 mm. {LONGER}",
    ),
    (
        Rule(scale="HO", zero_offset="1"),
        "-1 1/4",
        "the reading is -1 1/4 scale ft; it must be on rule, which begins at -1 scale ft. Read it again.",
    ),
    (
        Rule(scale="HO", zero_offset="0.37 mm"),
        "-1/4",
        "the reading is -1/4 scale ft; it must be on rule, which begins at -0.106 scale ft. Read it again.",
    ),
    (
        Rule(scale="HO", zero_offset="-0.2 mm"),
        "-1/4",
        "the reading is -1/4 scale ft; it must be on rule, which begins at 0 scale ft. Read it again.",
    ),
]


@pytest.mark.parametrize(("rule", "mark", "message"), REFUSED_MARKS)
def test_a_reading_that_is_not_on_the_rule_is_refused(rule, mark, message):
    for read in (rule.length, rule.exact_length, rule.mark_mm):
        with pytest.raises(OutOfRange, match=whole(message)):
            read(mark)


def test_a_wrong_datum_is_refused():
    rule = Rule(scale="HO")
    message = "datum is 'ends'; write one of end, zero. Did you mean 'end'?"
    for ask in (rule.length, rule.exact_length, rule.mark_for):
        with pytest.raises(UnknownChoice, match=whole(message)):
            ask(1, datum="ends")
    with pytest.raises(UnknownChoice, match=whole(message)):
        rule.largest_at_mark(1, "1/4", datum="ends")


@pytest.mark.parametrize(
    ("mm", "message"),
    [
        (-1.0, "the size is -1 mm; it must be 0 or more. Check the readings behind it."),
        (float("nan"), "the size is nan mm; it must be 0 or more. Check the readings behind it."),
        (float("inf"), "the size is inf mm; it must be 0 or more. Check the readings behind it."),
        (
            43.0,
            "the size is 43.00 mm; it must be within rule, whose last mark is 12 scale ft. Use a longer rule.",
        ),
    ],
)
def test_a_size_no_rule_can_be_set_to_is_refused(mm, message):
    with pytest.raises(OutOfRange, match=whole(message)):
        Rule(scale="HO", length="12").mark_for(mm)


def test_sizes_at_a_mark_refuse_what_makes_no_sense():
    rule = Rule(unit="in", graduation="1/32")
    message = "the finest mark is 0; it must be above 0. Write 1/64 for sixty-fourths."
    with pytest.raises(OutOfRange, match=whole(message)):
        rule.largest_at_mark(10.0, "0")
    for mm in (float("nan"), float("inf")):
        message = f"the size is {mm} mm; it must be a number. Check the readings behind it."
        with pytest.raises(OutOfRange, match=whole(message)):
            rule.smallest_at_mark(mm, "1/32")


@pytest.mark.parametrize(
    ("rule", "text"),
    [
        (
            Rule(scale="HO", zero_offset="1"),
            "HO rule in scale ft, marks every 1/4 scale ft, zero 1 scale ft (3.50 mm) in from the end",
        ),
        (
            Rule(unit="mm", graduation="0.5", zero_offset="0.8"),
            "rule in mm, marks every 0.5 mm, zero 0.8 mm in from the end",
        ),
        (
            Rule(unit="in", scale="HO", graduation="1/64", zero_offset="-0.2 mm"),
            "rule in inches, marks every 1/64 in, zero 0.008 in (0.20 mm) beyond the worn end",
        ),
        (Rule(unit="mm", graduation="1"), "rule in mm, marks every 1 mm, zero at its end"),
    ],
)
def test_a_rule_in_one_line(rule, text):
    assert rule.describe() == text


def test_rules_load_no_heavy_package():
    code = "import sys, modelmath.lengths.rules; print(*sorted(sys.modules))"
    loaded = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True).stdout.split()
    assert "uncertainties" in loaded
    assert not {"pandas", "matplotlib", "scipy", "ipywidgets", "pint", "IPython"} & set(loaded)

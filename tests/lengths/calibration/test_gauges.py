"""Gauges: what they are refused for, and what repeats of one are worth."""

import re
from fractions import Fraction

import pytest
from uncertainties import ufloat

from modelmath.errors import OutOfRange, UnknownChoice, UnreadableLength, WrongKind
from modelmath.lengths.calibration.gauges import Gauge, merged
from modelmath.lengths.rules import Rule


def whole(text):
    return f"^{re.escape(text)}$"


RULE = Rule(unit="mm", graduation="0.5", length="150", name="steel rule")


def test_a_size_is_exact_text_or_uncertain():
    assert Gauge("shank", ".089 in", "2").nominal_mm == Fraction(22606, 10_000)
    assert Gauge("shank", Fraction(9, 4), "2").nominal_mm == Fraction(9, 4)
    by_caliper = ufloat(12.34, 0.02)
    assert Gauge("strip", by_caliper, "12").size_mm is by_caliper
    assert Gauge("strip", 12, "12").size_mm.std_dev == 0


def test_a_tolerance_is_a_rectangle_and_a_standard_uncertainty_is_itself():
    """JCGM 100:2008, 4.3.7."""
    assert Gauge("leaf", 1.0, "1", tolerance_mm=0.03).size_mm.std_dev == pytest.approx(0.03 / 3**0.5)
    assert Gauge("leaf", 1.0, "1", u_mm=0.03).size_mm.std_dev == 0.03


@pytest.mark.parametrize(
    ("fields", "error", "message"),
    [
        (
            {"datum": "middle"},
            UnknownChoice,
            "datum of leaf is 'middle'; write one of end, zero.",
        ),
        (
            {"mark": []},
            OutOfRange,
            "readings of leaf is none; it must be one mark or more. Write where it was read.",
        ),
        (
            {"size": 0.0},
            OutOfRange,
            "size of leaf is 0 mm; it must be above 0. Write the length of the gauge, such as 2.26 mm.",
        ),
        (
            {"size": float("nan")},
            OutOfRange,
            "size of leaf is nan mm; it must be above 0. Write the length of the gauge, such as 2.26 mm.",
        ),
        (
            {"size": None},
            WrongKind,
            "size of leaf is 'None'; expected a length in mm. Write 2.26 for 2.26 mm, or text such as \".089 in\".",
        ),
        (
            {"tolerance_mm": 0.1, "u_mm": 0.1},
            OutOfRange,
            (
                "uncertainty of leaf is stated twice; it must be stated once. "
                "Leave the tolerance or the standard uncertainty out."
            ),
        ),
        (
            {"tolerance_mm": -0.1},
            OutOfRange,
            "size of leaf: uncertainty is -0.1; it must be 0 or more. Write 0.05 for plus or minus 0.05.",
        ),
    ],
)
def test_what_is_no_gauge_is_refused(fields, error, message):
    with pytest.raises(error, match=whole(message)):
        Gauge(**{"name": "leaf", "size": 1.0, "mark": "1", **fields})


def test_a_size_without_unit_is_refused():
    with pytest.raises(UnreadableLength, match=r"^'2\.26': "):
        Gauge("shank", "2.26", "2")


def test_readings_that_are_not_on_the_rule_are_refused():
    beyond = "reading of strip is 151 mm; it must be on steel rule, whose last mark is 150 mm. Read it again."
    with pytest.raises(OutOfRange, match=whole(beyond)):
        Gauge("strip", 150.0, "151").seen_with(RULE)
    at_zero = (
        "reading of leaf is 0 mm; it must be beyond the zero mark. "
        "Read it again, or write that the rule's end stood against it."
    )
    with pytest.raises(OutOfRange, match=whole(at_zero)):
        Gauge("leaf", 0.2, "0", "zero").seen_with(RULE)


def test_a_mark_below_zero_is_read_whatever_the_rule_states_of_its_end():
    assert Gauge("leaf", 0.5, "-0.5").seen_with(RULE).mark_mm == Fraction(-1, 2)


def test_repeats_average_their_scatter_and_keep_the_resolution():
    """JCGM 100:2008, 4.2 and F.2.2.1: three equal readings are no better than one."""
    one = Gauge("strip", 12.0, "12").seen_with(RULE)
    same = Gauge("strip", 12.0, ["12", "12", "12"]).seen_with(RULE)
    assert same == one
    assert one.u_mm == pytest.approx(0.5 / 12**0.5)
    spread = Gauge("strip", 12.0, ["12", "12.5"]).seen_with(RULE)
    assert spread.mark_mm == Fraction(49, 4)
    assert spread.u_mm == pytest.approx((0.25 / 12 + 0.25**2) ** 0.5)


def test_feelers_read_as_the_thickest_that_passes_lean_by_half_a_step():
    feelers = Rule(unit="mm", graduation="0.05", kind="feelers", reads="largest that passes")
    assert Gauge("gap block", 0.52, "0.5").seen_with(feelers).mark_mm == Fraction(525, 1000)


def test_a_gauge_listed_twice_is_one():
    joined = merged([Gauge("leaf", 1.0, "1"), Gauge("strip", 9.0, "9"), Gauge("leaf", 1.0, ["1.5", "1"])])
    assert [each.marks for each in joined] == [("1", "1.5", "1"), ("9",)]
    assert len(merged([Gauge("leaf", 1.0, "1"), Gauge("leaf", 1.0, "1", "zero"), Gauge("leaf", 2.0, "1")])) == 3


def test_strips_of_one_name_are_joined_only_if_they_are_one():
    size = ufloat(9.0, 0.1)
    assert len(merged([Gauge("strip", size, "9"), Gauge("strip", size, "9")])) == 1
    assert len(merged([Gauge("strip", size, "9"), Gauge("strip", ufloat(9.0, 0.1), "9")])) == 2


def test_something_else_is_refused():
    message = 'a gauge is \'leaf\'; expected a Gauge. Write Gauge("drill shank", 2.26, "1/2").'
    with pytest.raises(WrongKind, match=whole(message)):
        merged(["leaf"])

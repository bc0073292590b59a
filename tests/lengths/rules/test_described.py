"""What a rule says of itself, what it refuses of a calibration, and what a list of rules fills in."""

from __future__ import annotations

import re
from fractions import Fraction
from math import inf, nan

import pytest
from hypothesis import given
from hypothesis import strategies as st
from uncertainties import ufloat

from modelmath.errors import OutOfRange
from modelmath.lengths.numbers import as_fraction, check_number
from modelmath.lengths.rules import Rule
from modelmath.lengths.rules.repeats import LEAST_FOR_A_VERDICT, Repeats
from modelmath.lengths.table.rule_lines import read_rules
from modelmath.lengths.text import format_length


def whole(text):
    return f"^{re.escape(text)}$"


@pytest.mark.parametrize(
    ("fields", "line"),
    [
        (
            {"scale": "HO", "zero_offset": "1", "scale_error": 0.002},
            (
                "HO rule in scale ft, marks every 1/4 scale ft, zero 1 scale ft (3.50 mm) in from the end, "
                "shows 0.20 % too little"
            ),
        ),
        (
            {"unit": "in", "graduation": "1/64", "zero_offset": "-1/64", "scale_error": -0.0125},
            "rule in inches, marks every 1/64 in, zero 1/64 in (0.40 mm) beyond the worn end, shows 1.25 % too much",
        ),
        (
            {"unit": "mm", "graduation": 1, "scale_error": -0.005},
            "rule in mm, marks every 1 mm, zero at its end, shows 0.50 % too much",
        ),
        ({"unit": "mm", "graduation": 1}, "rule in mm, marks every 1 mm, zero at its end"),
        ({"unit": "mm", "graduation": 1, "zero_offset": 2}, "rule in mm, marks every 1 mm, zero 2 mm in from the end"),
    ],
)
def test_a_rule_says_in_one_line_what_it_is(fields, line):
    """1/64 in is 0.396875 mm, exact (inch of 25.4 mm, 1959)."""
    assert Rule(**fields).describe() == line


def calibrated(offset_uncertainty):
    """A rule calibrated at 50 mm, zero 2 mm in, scale error known to 0.002: 52 x 0.002 = 0.104 mm at its end."""
    return Rule(
        unit="mm", graduation=1, name="steel rule", zero_offset=2, offset_uncertainty=offset_uncertainty,
        scale_error=0.01, scale_error_uncertainty=0.002, calibrated_at="50",
    )  # fmt: skip


def test_an_offset_known_better_than_its_calibration_leaves_it_is_refused():
    """The offset as shown, 1.01 times its uncertainty, is at least what the scale error makes of it: 0.104 mm."""
    assert calibrated("0.103").calibrated_at_mm == 50  # 0.10403
    said = (
        "steel rule: offset uncertainty is 0.1038; it must be 0.104 or more, which its scale error makes of it at "
        "calibrated_at. Copy all figures of the calibration, or leave calibrated_at out."
    )
    with pytest.raises(OutOfRange, match=whole(said)):
        calibrated("0.1028")


def test_figures_of_a_refusal_are_in_the_rules_unit():
    said = "HO rule: offset uncertainty is 0.01; it must be 0.11 or more, which its scale error makes of it at"
    with pytest.raises(OutOfRange, match=f"^{re.escape(said)} calibrated_at"):
        Rule(scale="HO", graduation="1/4", name="HO rule", zero_offset=1, offset_uncertainty="0.01",
             scale_error_uncertainty=0.01, calibrated_at=10)  # fmt: skip


@pytest.mark.parametrize(
    ("marks", "few"),
    [
        ((3,), False),
        ((3, 3), False),
        ((3, 4), True),
        ((3,) * (LEAST_FOR_A_VERDICT - 2) + (4,), True),
        ((3,) * (LEAST_FOR_A_VERDICT - 1) + (4,), False),
        ((3, 3, 3), False),
    ],
)
def test_few_readings_that_scatter_are_told(marks, few):
    assert Repeats(tuple(map(Fraction, marks)), Fraction(1)).few is few


@pytest.mark.parametrize(
    ("line", "read_to_mm"),
    [
        ("caliper; mm; 0.01", "0.04"),  # finer marks than it is right to
        ("caliper; mm; 0.05", "0.05"),
        ("caliper; mm; 0.1", "0.1"),
        ("caliper; in; 0.001", "0.0254"),  # in its own unit it is as it says
        ("scale rule; scale ft; 1/4", "0.875"),  # 3.5 mm to the foot, in quarters
        ("my ruler; mm; 1", "1"),
    ],
)
def test_a_kind_of_rule_fills_in_what_it_is_usually_right_to(line, read_to_mm):
    """A caliper to 0.04 mm: 0.02 mm either way, DIN 862, from memory, as in its row of data/instruments.csv."""
    (rule,) = read_rules(line, "HO")
    assert rule.read_to_mm == Fraction(read_to_mm)


@pytest.mark.parametrize(
    ("u_mm", "written"),
    [
        (0.5, "10.00 ± 0.50 mm"),
        (0.005, "10.00 ± 0.01 mm"),
        (0.004, "10.00 ± 0.004 mm"),
        (0.00004, "10.00 ± 4e-05 mm"),
    ],
)
def test_an_uncertainty_finer_than_the_digits_is_not_written_as_none(u_mm, written):
    assert format_length(ufloat(10, u_mm), "mm") == written


def test_a_fine_uncertainty_is_in_the_unit_that_is_written():
    assert format_length(ufloat(25.4, 0.000254), "in") == "1.000 ± 1e-05 in"  # 0.000254 / 25.4, by division


@given(st.fractions() | st.floats(allow_nan=False, allow_infinity=False) | st.integers())
def test_a_number_is_itself_as_a_fraction(value):
    found = as_fraction(value)
    assert type(found) is Fraction
    assert found == value


@pytest.mark.parametrize(("value", "text"), [(inf, "inf"), (-inf, "-inf"), (nan, "nan")])
def test_what_is_not_finite_is_refused(value, text):
    said = f"width_mm is {text} mm; it must be a finite number. Check the readings behind it."
    with pytest.raises(OutOfRange, match=whole(said)):
        check_number("width_mm", value)
    check_number("width_mm", 1e308)
    check_number("width_mm", Fraction(1, 3))

"""What a calibration found, in words, against the rule it was made up from."""

from __future__ import annotations

from fractions import Fraction

import pytest

from modelmath.lengths.calibration import Gauge
from modelmath.lengths.rules import Rule

SIZES = (2.0, 5.0, 9.0, 14.0, 22.0, 35.0)


def found(rule, offset_mm, error, datum="end"):
    """Return the calibration of a rule whose faults are known."""
    gauges = []
    for size in SIZES:
        shown_mm = Fraction(size) / (1 + Fraction(error)) - (Fraction(offset_mm) if datum == "end" else 0)
        gauges.append(Gauge(f"{size} mm", size, shown_mm / rule.unit_mm, datum, tolerance_mm=0.02))
    return rule.calibrate(gauges)


def ho_rule(**fields):
    return Rule(scale="HO", graduation="1/4", read_to="1/16", name="HO rule", **fields)


def steel_rule():
    return Rule(unit="mm", graduation="0.5", name="steel rule")


@pytest.mark.parametrize(
    ("offset_mm", "words"),
    [
        ("7/2", ("zero stands 1.000 ± ", " scale ft (3.50 ± ", " mm) in from its end")),
        ("-1/2", ("zero stands 0.143 ± ", " scale ft (0.50 ± ", " mm) beyond its worn end")),
        ("0", ("zero stands 0.000 ± ", " scale ft (0.00 ± ", " mm) in from its end")),
    ],
)
def test_where_zero_stands_is_said_in_the_rules_unit_and_in_mm(offset_mm, words):
    """HO: 3.5 mm to the foot (NMRA S-1.2), so that 0.5 mm are 0.143 scale ft."""
    said = found(ho_rule(), offset_mm, "1/100").zero_words
    head, middle, tail = words
    assert said.startswith(head)
    assert middle in said
    assert said.endswith(tail)


@pytest.mark.parametrize(
    ("offset_mm", "end"), [("7/2", "3.50 ± 0.10 mm in from its end"), ("-1/2", "beyond its worn end")]
)
def test_a_rule_in_mm_says_it_once(offset_mm, end):
    said = found(steel_rule(), offset_mm, 0).zero_words
    assert said.endswith(end)
    assert said.count("mm") == 1
    assert "(" not in said


@pytest.mark.parametrize("error", ["0", "1/1000", "-1/1000"])
def test_what_a_float_leaves_of_nothing_is_no_worn_end(error):
    for rule in (ho_rule(), steel_rule()):
        assert found(rule, 0, error).zero_words.endswith("in from its end")


@pytest.mark.parametrize(
    ("error", "words"),
    [
        ("1/100", "the rule shows 1.00 % too little"),
        ("-1/250", "the rule shows 0.40 % too much"),
        ("1/100000", "the rule shows neither too little nor too much"),
    ],
)
def test_a_scale_error_is_said_in_percent(error, words):
    calibration = found(ho_rule(), 3, error)
    assert calibration.scale_words == words
    percent = calibration.scale_u_words.removeprefix("± ").removesuffix(" %")
    assert float(percent) == pytest.approx(100 * calibration.scale_error_u, abs=0.005)
    assert len(percent.split(".")[1]) == 2


def test_from_the_zero_mark_alone_a_length_is_known_best_at_the_rules_end():
    """Nothing of the offset was found: a length from the end is free of the scale error where the end stands."""
    stated = ho_rule(zero_offset="3/4", offset_uncertainty="1/16")
    calibration = found(stated, 0, "1/100", datum="zero")
    assert calibration.finds == "scale error"
    assert calibration.centroid_mm == pytest.approx(-0.75 * 3.5)
    assert calibration.zero_words.startswith("zero stands 0.750 ± ")

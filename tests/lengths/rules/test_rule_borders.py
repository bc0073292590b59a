"""Fields of a rule that are just no longer any, steps that are none, and a size just at its last mark."""

from __future__ import annotations

import re
from fractions import Fraction

import pytest

from modelmath.errors import OutOfRange
from modelmath.lengths.rules import Rule


def whole(text):
    return f"^{re.escape(text)}$"


@pytest.mark.parametrize(
    ("fields", "message"),
    [
        (
            {"scale_error_uncertainty": float("inf")},
            "rule: scale error uncertainty is inf; it must be 0 or more. Leave it out if you don't know it.",
        ),
        (
            {"scale_error": -0.1},
            "rule: scale error is -0.1; it must be between -0.1 and 0.1. Write 0.002 if it shows 0.2 % too little.",
        ),
        (
            {"reading_uncertainty": "-0.1"},
            "rule: reading uncertainty is -0.1; it must be above 0. Leave it out for half a mark.",
        ),
        ({"length": "0"}, "rule: length is 0; it must be above 0. Write the last mark, or leave it out."),
        (
            {"read_to": "-1/8"},
            (
                "rule: what it is read to is -1/8; it must be above 0. "
                "Write the least part of a mark that you read, or leave it out."
            ),
        ),
    ],
)
def test_a_field_that_makes_no_sense_is_refused(fields, message):
    with pytest.raises(OutOfRange, match=whole(message)):
        Rule(**{"scale": "HO", **fields})


@pytest.mark.parametrize("finest", ["0", "-1/32"])
def test_the_finest_mark_is_above_0(finest):
    rule = Rule(unit="in", graduation="1/32")
    message = f"the finest mark is {finest}; it must be above 0. Write 1/64 for sixty-fourths."
    for ask in (rule.largest_at_mark, rule.smallest_at_mark):
        for mm in (10.0, Fraction(10)):
            with pytest.raises(OutOfRange, match=whole(message)):
                ask(mm, finest)
    with pytest.raises(OutOfRange, match=whole(message)):
        rule.mark_for(10.0, finest=finest)


@pytest.mark.parametrize("finest", [None, "7 mm", "0.3 mm"])
def test_a_rule_can_be_set_to_its_last_mark_whatever_a_float_leaves(finest):
    """6 in are 152.4 mm, which no float is; as at any mark, a billionth of a mm is none (SNAP_MM)."""
    rule = Rule(unit="in", graduation="1/64", length="6")
    for size in (152.4, 152.4 + 5e-10, Fraction("152.4"), 152.4 - 5e-10):
        assert float(rule.mark_for(size, finest=finest).mark) == pytest.approx(6)
    message = "the size is 152.40 mm; it must be within rule, whose last mark is 6 in. Use a longer rule."
    for beyond in (152.4 + 5e-9, Fraction("152.4") + Fraction(1, 10**12)):
        with pytest.raises(OutOfRange, match=whole(message)):
            rule.mark_for(beyond, finest=finest)

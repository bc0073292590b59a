"""Settings for whole columns are those that `Rule.mark_for` gives one by one."""

import re
from fractions import Fraction

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from modelmath.errors import OutOfRange, UnknownChoice
from modelmath.lengths.rules import Rule
from modelmath.lengths.rules.marking import with_beyond
from modelmath.lengths.table.settings import settings, step_mm

RULES = [
    Rule(scale="HO", zero_offset="1", length="40"),
    Rule(scale="N", zero_offset="3/8", scale_error=0.003),
    Rule(unit="mm", graduation="0.5", zero_offset="-0.3", length="150.25", name="worn rule"),
    Rule(unit="in", graduation="1/64", zero_offset="0.1", length="6"),
]


@given(
    st.lists(st.one_of(st.floats(-2, 200), st.integers(0, 2000).map(lambda n: n * 3.5 / 8)), min_size=1, max_size=20),
    st.sampled_from(RULES), st.sampled_from(["end", "zero"]), st.sampled_from([None, "1/2", "0.3 mm"]),
)  # fmt: skip
def test_settings_are_those_of_each_length_alone(sizes, rule, datum, finest):
    texts, beyond = settings(rule, sizes, datum, finest)
    for size, text, over in zip(sizes, texts, beyond, strict=True):
        try:
            alone = rule.mark_for(size, datum, finest)
        except OutOfRange:
            assert text == f"not on {rule.name}"
            assert np.isnan(over)
            continue
        assert over == pytest.approx(alone.beyond_mm, abs=2e-9)
        if alone.text != text:  # mark_for adds what goes beyond the mark, from 0.005 mm on
            assert alone.text.startswith(text.removesuffix(", towards the end"))
            assert abs(alone.beyond_mm) >= 0.005 - 2e-9


def test_wrong_arguments_are_refused():
    message = "the finest mark is 0; it must be above 0. Write 1/4 for quarter feet."
    with pytest.raises(OutOfRange, match=f"^{re.escape(message)}$"):
        settings(RULES[0], [1.0], finest="0")
    with pytest.raises(UnknownChoice, match=r"^datum is 'top'; write one of end, zero\.$"):
        settings(RULES[0], [1.0], "top")


@pytest.mark.parametrize("finest", [None, "1/2", "0.3 mm", "7 mm"])
@pytest.mark.parametrize("datum", ["end", "zero"])
@pytest.mark.parametrize("rule", RULES, ids=["HO", "N", "worn", "inch"])
def test_at_both_ends_of_a_rule_settings_are_word_for_word_those_alone(rule, datum, finest):
    step = float(step_mm(rule, finest))
    last = 200.0 if rule.length_mm is None else float(rule.length_mm)
    ends = [0.0, float(rule.zero_mm("end")), last, last + float(rule.zero_mm("end"))]
    sizes = [end + part * step for end in ends for part in (-1, -0.51, -0.5, -0.1, 0, 0.001, 0.25, 0.49, 0.5, 0.75, 1)]
    texts, beyond = settings(rule, sizes, datum, finest)
    for size, text, over in zip(sizes, texts, beyond, strict=True):
        try:
            alone = rule.mark_for(size, datum, finest)
        except OutOfRange:
            assert (text, np.isnan(over)) == (f"not on {rule.name}", True), size
        else:
            assert over == pytest.approx(alone.beyond_mm, abs=2e-9), size
            assert with_beyond(text, alone.beyond_mm) == alone.text, size


def test_what_is_no_size_is_on_no_rule():
    texts, beyond = settings(RULES[0], [np.nan, -1e-9, 0.0])
    assert texts.tolist() == ["not on rule", "not on rule", "1 scale ft short of zero, towards the end"]
    assert np.isnan(beyond).tolist() == [True, True, False]


def test_the_distance_of_the_marks_is_the_graduation_or_what_is_asked():
    """A quarter of an HO scale foot of 3.5 mm; half a 1:160 one of 1.905 mm (NMRA S-1.2)."""
    assert step_mm(RULES[0], None) == Fraction("0.875")
    assert step_mm(RULES[1], "1/2") == Fraction("0.9525")
    for finest in ("0", "-1/4"):
        with pytest.raises(OutOfRange, match=f"^the finest mark is {finest}; it must be above 0"):
            step_mm(RULES[0], finest)

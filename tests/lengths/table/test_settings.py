"""Settings for whole columns are those that `Rule.mark_for` gives one by one."""

import re

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from modelmath.errors import OutOfRange, UnknownChoice
from modelmath.lengths.rules import Rule
from modelmath.lengths.table.settings import settings

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

"""Columns of readings agree with reading by reading."""

from __future__ import annotations

import re

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from modelmath.errors import UnknownChoice
from modelmath.lengths.rules import Rule


@st.composite
def rules(draw):
    """Rules in mm, calibrated or not, of all kinds of reading."""
    calibrated = draw(st.none() | st.integers(0, 80))
    error_u = draw(st.sampled_from([0.0, 0.001]))
    # What a calibration leaves the offset uncertain by is no less than its tilt.
    # What a calibration leaves the offset uncertain by is no less than its tilt, here with a scale error of -5 %.
    least = 0.0 if calibrated is None else (calibrated + 6) * error_u / 0.95
    return Rule(
        unit="mm",
        graduation=draw(st.sampled_from(["0.5", "1"])),
        zero_offset=draw(st.integers(-2, 6)),
        offset_uncertainty=least + draw(st.floats(0, 0.5)),
        scale_error=draw(st.sampled_from([0.0, 0.004, -0.05])),
        scale_error_uncertainty=error_u,
        reading_uncertainty=draw(st.sampled_from([None, "0.2"])),
        reads=draw(st.sampled_from(["nearest mark", "largest that passes"])),
        read_to=draw(st.sampled_from([None, "0.25"])),
        calibrated_at=calibrated,
    )


@given(rules(), st.lists(st.integers(2, 140), min_size=1, max_size=6), st.sampled_from(["end", "zero"]))
def test_columns_are_the_lengths_row_by_row(rule, marks, datum):
    values, u, reading_u = rule.lengths(marks, datum)
    for mark, value, each in zip(marks, values, u, strict=True):
        one = rule.length(mark, datum)
        assert value == pytest.approx(one.n, abs=1e-9)
        assert each == pytest.approx(one.std_dev, rel=1e-9)
    own = rule.length(marks[0], datum).derivatives
    alone = next(abs(slope) * source.std_dev for source, slope in own.items() if "reading of" in str(source.tag))
    assert reading_u == pytest.approx(alone)


def test_columns_keep_the_shape_they_came_in():
    rule = Rule(unit="mm", graduation="0.5", offset_uncertainty="0.1")
    values, u, _ = rule.lengths(np.zeros((2, 3)))
    assert (values.shape, u.shape) == ((2, 3), (2, 3))
    values, u, _ = rule.lengths([])
    assert (values.shape, u.shape) == ((0,), (0,))


def test_a_wrong_datum_is_refused():
    message = re.escape("datum is 'top'; write one of end, zero.")
    with pytest.raises(UnknownChoice, match=f"^{message}$"):
        Rule(unit="mm").lengths([1.0], "top")

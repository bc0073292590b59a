"""Corrections at a few marks: whole graduations, on the rule, by as much as was found."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from modelmath.lengths.calibration import Gauge
from modelmath.lengths.calibration.corrections import corrections
from modelmath.lengths.rules import Rule

RULE = Rule(unit="mm", graduation="0.5", length="30")


@given(st.floats(-0.5, 3), st.floats(-0.02, 0.02))
def test_what_is_added_is_offset_and_scale_error(offset, error):
    gauges = [Gauge(f"{mark}", (mark + offset) * (1 + error), mark) for mark in (5.0, 12.0, 29.5)]
    shown = corrections(RULE.calibrate(gauges))
    assert [float(each.shown_mm) for each in shown] == [7.5, 15.0, 29.5]
    for each in shown:
        assert each.shown_mm / RULE.graduation_mm == int(each.shown_mm / RULE.graduation_mm)
        mark = float(each.shown_mm)
        assert each.added_mm == pytest.approx((mark + offset) * (1 + error) - mark, abs=1e-4)


def test_marks_that_fall_together_are_shown_once_and_none_lies_beyond_the_rule():
    short = corrections(RULE.calibrate([Gauge("leaf", 0.6, "0.5")]))
    assert [each.mark for each in short] == ["0.5 mm"]
    coarse = Rule(unit="mm", graduation="20", length="30", read_to="1")
    last = corrections(coarse.calibrate([Gauge("bar", 30.0, "30")]))[-1]
    assert last.mark == "30 mm"

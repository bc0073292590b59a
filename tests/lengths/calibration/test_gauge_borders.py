"""Gauges of sizes that no thing has, and of the smallest that one may have."""

from __future__ import annotations

import re
from math import inf, nan

import pytest
from uncertainties import ufloat

from modelmath.errors import OutOfRange
from modelmath.lengths.calibration import Gauge

UNCERTAIN = ufloat(-3, 0.1)


@pytest.mark.parametrize(
    ("size", "text"),
    [(0, "0"), (-2.26, "-2.26"), (-1e-9, "-1e-09"), (inf, "inf"), (-inf, "-inf"), (nan, "nan"), (UNCERTAIN, "-3")],
)
def test_a_gauge_of_no_size_is_refused(size, text):
    message = f"size of shank is {text} mm; it must be above 0. Write the length of the gauge, such as 2.26 mm."
    with pytest.raises(OutOfRange, match=f"^{re.escape(message)}$"):
        Gauge("shank", size, "1/2")


def test_any_size_above_none_is_taken():
    assert Gauge("shank", 1e-9, "1/2").nominal_mm == 1e-9


@pytest.mark.parametrize(
    "fields",
    [
        {"tolerance_mm": 0.1, "u_mm": 0.1},
        {"size": -UNCERTAIN, "u_mm": 0.1},
        {"size": -UNCERTAIN, "tolerance_mm": 0.1},
    ],
)
def test_an_uncertainty_is_stated_once(fields):
    message = (
        "uncertainty of shank is stated twice; it must be stated once. Leave the tolerance or the standard "
        "uncertainty out."
    )
    with pytest.raises(OutOfRange, match=f"^{re.escape(message)}$"):
        Gauge(**{"name": "shank", "size": 3.0, "mark": "1/2", **fields})

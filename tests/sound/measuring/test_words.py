"""What is found, written so that a job takes it."""

from __future__ import annotations

import tomllib

import pytest
from hypothesis import given
from hypothesis import strategies as st
from sound.measuring.simulated import TRUE, even, swept

from modelmath.quantities.text import parse_quantity
from modelmath.sound.driver.driver import Driver
from modelmath.sound.measuring.estimate import Estimate
from modelmath.sound.measuring.fit import fit_sweep
from modelmath.sound.measuring.words import job_lines, known_parameters, parameter_rows, quantity

FIT = fit_sweep(swept(TRUE, even(), 0.005))
KINDS = {"re": "resistance", "fs": "frequency", "qms": "ratio", "qes": "ratio", "vas": "volume"}


@given(st.floats(0.01, 1e5), st.floats(1e-7, 0.4), st.integers(3, 400))
def test_no_limit_is_cut_by_rounding(value, relative_u, dof):
    found = Estimate.of_ratio(value, relative_u, dof)
    read = parse_quantity(quantity(found, ""), "ratio")
    fuzz = 1e-9 * found.high
    assert read.low <= found.low + fuzz
    assert read.high >= found.high - fuzz
    assert read.origin == "measured"
    # Nor made much wider: two figures of the limits.
    assert read.high - read.low <= 1.35 * 2 * found.within + 1e-8 * value
    assert abs(read.value - found.value) <= 0.06 * found.within + 1e-8 * value or read.low < read.value < read.high


def test_a_job_reads_its_lines():
    lines = tomllib.loads(job_lines(FIT, [("vas", Estimate.of_ratio(2.0, 0.02), "cm3")]))
    assert list(lines) == ["re", "fs", "qms", "qes", "vas"]
    read = {name: parse_quantity(text, KINDS[name]) for name, text in lines.items()}
    for name in ("re", "fs", "qms", "qes"):
        found = getattr(FIT, name)
        assert read[name].low <= found.low < found.value < found.high <= read[name].high
    assert read["vas"].value == 2000.0


def test_a_driver_takes_the_parameters_as_measured():
    driver = Driver("sample").with_known(**known_parameters(FIT))
    assert driver.fs_hz.origin == "measured"
    assert (driver.fs_hz.low, driver.fs_hz.value, driver.fs_hz.high) == (FIT.fs.low, FIT.fs.value, FIT.fs.high)
    assert driver.qes.why == "impedance sweep of 80 points"


def test_a_table_gives_each_to_two_figures_of_its_uncertainty():
    rows = parameter_rows(FIT)
    assert [row[0].split(",")[0] for row in rows] == ["Re", "fs", "Qms", "Qes", "Qts"]
    for _, value, u, interval in rows:
        assert len(number(u).replace(".", "").lstrip("0")) == 2, u
        assert len(number(value).partition(".")[2]) == len(number(u).partition(".")[2])
        low, high = interval.split(" to ")
        assert float(low) < float(number(value)) < float(number(high))


def number(text):
    return text.split()[0]


def test_a_wide_interval_stands_as_two_limits():
    assert quantity(Estimate(2.0, 0.5, 1.25, 3.2), "cm3") == "2.0 cm3, 1.2 to 3.2 cm3, measured"
    assert quantity(Estimate(1100.0, 400.0, 505.0, 2390.0), "Hz") == "1100 Hz, 505 to 2390 Hz, measured"
    assert pytest.approx(parse_quantity("2.0 cm3, 1.2 to 3.2 cm3, measured", "volume").low) == 1200

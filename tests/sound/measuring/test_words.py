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
from modelmath.sound.measuring.words import (
    estimate_row,
    job_lines,
    job_texts,
    known_parameters,
    parameter_rows,
    quantity,
    rounded,
)

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


@pytest.mark.parametrize(
    ("value", "like", "text"),
    [
        (450.263, 2.51, "450.3"),
        (450.263, 0.99, "450.26"),
        (450.263, 1.0, "450.3"),
        (450.263, 10.0, "450"),
        (450.263, 99.0, "450"),
        (23456.7, 512.0, "23457"),  # never to tens
        (0.12345, 0.0012, "0.1235"),
        (0.5, 0.0, "0.5"),
        (450.263, -1.0, "450.263"),
    ],
)
def test_a_number_is_rounded_where_its_uncertainty_has_two_figures(value, like, text):
    """JCGM 100:2008, 7.2.6."""
    assert rounded(value, like) == text


@pytest.mark.parametrize(
    ("found", "unit", "text"),
    [
        # 450.26 is shown as 450.3: 0.04 more than 5.08 is 5.12, rounded up.
        (Estimate(450.26, 2.5, 445.3, 455.34), "Hz", "450.3 ± 5.2 Hz, measured"),
        (Estimate(450.0, 2.5, 445.0, 455.0), "Hz", "450.0 ± 5.0 Hz, measured"),
        (Estimate(450.0, 2.5, 440.0, 455.0), "", "450 ± 10, measured"),  # the wider side
        (Estimate(450.0, 0.0, 450.0, 450.0), "Hz", "450.00000000 ± 0.00000001 Hz, measured"),
        (Estimate(2.0, 0.3, 1.5, 2.5), "cm3", "2.00 ± 0.50 cm3, measured"),  # a quarter of it
        (Estimate(2.0, 0.3, 1.4, 2.62), "cm3", "2.0 cm3, 1.4 to 2.7 cm3, measured"),  # 31 %
        (Estimate(10.0, 1.0, 7.5, 13.0), "", "10.0 ± 3.0, measured"),  # 30 % is not yet wide
        (Estimate(0.02, 0.01, 0.0151, 0.0289), "", "0.020, 0.015 to 0.029, measured"),
    ],
)
def test_an_estimate_as_a_job_takes_it(found, unit, text):
    assert quantity(found, unit) == text


def test_a_row_has_its_unit_behind_each_figure():
    row = estimate_row("fs", Estimate(450.26, 2.5, 445.3, 455.34), "Hz")
    assert row == ("fs", "450.3 Hz", "2.5 Hz", "445.3 to 455.3 Hz")
    assert estimate_row("Qms", Estimate(4.0, 0.1, 3.8, 4.2), "") == ("Qms", "4.00", "0.10", "3.80 to 4.20")


def test_qts_follows_and_is_left_out_of_what_a_job_takes():
    more = [("vas", Estimate(2.0, 0.05, 1.9, 2.1), "cm3")]
    assert list(job_texts(FIT)) == ["re", "fs", "qms", "qes"]
    assert job_texts(FIT, more)["vas"] == "2.00 ± 0.10 cm3, measured"
    assert job_lines(FIT, more).splitlines()[-1] == 'vas = "2.00 ± 0.10 cm3, measured"'
    assert set(known_parameters(FIT)) == {"re_ohm", "fs_hz", "qms", "qes"}
    assert [row[0] for row in parameter_rows(FIT)] == [
        "Re, resistance of the voice coil", "fs, resonance", "Qms, mechanical", "Qes, electrical", "Qts, together",
    ]  # fmt: skip
    assert [row[1].split(" ")[1:] for row in parameter_rows(FIT)] == [["ohm"], ["Hz"], [], [], []]

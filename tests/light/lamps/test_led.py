"""Forward voltages by kind, with their limits and origin."""

from __future__ import annotations

import subprocess
import sys
from math import log

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import constants

from modelmath import tables
from modelmath.errors import OutOfRange, TableError, UnknownChoice
from modelmath.light.lamps.led import FILE, HEADLIGHT_A, LED_KINDS, THERMAL_V, forward_of, read_kinds

# White, red and blue: a school physics page reckons with these. The rest of the limits: common practice, no source.
PRINTED_V = {"white": 3.0, "red": 1.7, "blue": 2.7}


@pytest.mark.parametrize("kind", LED_KINDS)
def test_each_kind_is_estimated_and_says_why(kind):
    found = forward_of(kind)
    assert (found.low, found.high) == (LED_KINDS[kind].low_v, LED_KINDS[kind].high_v)
    assert found.value == pytest.approx((found.low + found.high) / 2)
    assert found.origin == "estimated"
    assert found.why == f"a {kind} LED at 5 to 20 mA: {LED_KINDS[kind].source}"


@pytest.mark.parametrize("kind", PRINTED_V)
def test_printed_figures_lie_within(kind):
    assert LED_KINDS[kind].low_v <= PRINTED_V[kind] <= LED_KINDS[kind].high_v


@pytest.mark.parametrize("kind", LED_KINDS)
def test_light_of_the_colour_needs_about_that_voltage(kind):
    """A photon's energy over the charge of an electron: h c / (e lambda).

    An LED takes no less than a few tenths of a volt below that. Wavelengths of the colours: from memory.
    """
    wavelength_nm = {"red": 630, "orange": 605, "amber": 595, "yellow": 590, "yellow-green": 570, "green": 525,
                     "blue": 465, "white": 455, "warm white": 455}[kind]  # fmt: skip
    photon_v = constants.h * constants.c / (constants.e * wavelength_nm * 1e-9)
    assert LED_KINDS[kind].low_v > photon_v - 0.35
    assert LED_KINDS[kind].high_v > photon_v


def test_thermal_voltage():
    assert pytest.approx(constants.k * 300 / constants.e, rel=1e-4) == THERMAL_V


@given(st.sampled_from(sorted(LED_KINDS)), st.floats(1e-5, 0.005), st.floats(1e-5, 0.005))
def test_less_current_less_voltage(kind, one, other):
    less, more = (forward_of(kind, each) for each in sorted((one, other)))
    assert less.value <= more.value
    assert less.low <= more.low
    assert less.low <= less.value <= less.high


def test_by_the_diode_law():
    """A tenth of the current: kT/q ln 10 less, 59.5 mV at 300 K for n = 1 (textbook figure, 60 mV a decade)."""
    usual, less = forward_of("red"), forward_of("red", 0.0005)
    assert usual.value - less.value == pytest.approx(0.0595, abs=5e-5)
    assert usual.low - less.low == pytest.approx(2 * 0.0595, abs=1e-4)
    assert less.why.endswith("; less at 0.5 mA, by the diode law")
    half = forward_of("red", 0.002)  # 2 of 5 mA: kT/q ln 2.5
    assert usual.value - half.value == pytest.approx(0.02585 * log(2.5), abs=5e-6)
    assert forward_of("red", 0.01) == usual


def test_a_headlight_s_current():
    """Common practice, no source: 0.5 to 3 mA."""
    assert (HEADLIGHT_A.low, HEADLIGHT_A.high, HEADLIGHT_A.origin) == (0.0005, 0.003, "estimated")


def test_what_is_refused():
    kinds = ", ".join(LED_KINDS)
    with pytest.raises(UnknownChoice, match=rf"^the kind of LED is 'whte'; write one of {kinds}\. Did you mean 'white'"
                       r"\?$"):  # fmt: skip
        forward_of("whte")
    text = r"^the current is 0 A; it must be above 0, its lower limit too\. Write it above 0, such as 2 mA\.$"
    with pytest.raises(OutOfRange, match=text):
        forward_of("red", 0)


@pytest.mark.parametrize(
    ("body", "problem"),
    [
        ("red,2.1,1.7,0.005,0.02,s\n", "line 2: limits of red are out of order or not above 0"),
        ("red,1.7,2.1,0.02,0.005,s\n", "line 2: limits of red are out of order or not above 0"),
        ("red,0,2.1,0.005,0.02,s\n", "line 2: limits of red are out of order or not above 0"),
        ("red,1.7,2.1,0,0.02,s\n", "line 2: limits of red are out of order or not above 0"),
        ("red,1.7,2.1,0.005,0.02,s\nred,1.7,2.1,0.005,0.02,s\n", "line 3: red stands there twice"),
    ],
)
def test_a_wrong_table_is_refused(tmp_path, monkeypatch, body, problem):
    (tmp_path / FILE).write_text("kind,forward_low_v,forward_high_v,from_a,to_a,source\n" + body, "utf-8")
    monkeypatch.setattr(tables, "data_folder", lambda: tmp_path)
    with pytest.raises(TableError, match=rf"^data/led_kinds\.csv, {problem}\.$"):
        read_kinds()


def test_nothing_heavy_is_loaded():
    code = (
        "import sys, modelmath.light.lamps.strings, modelmath.light.lamps.sources, modelmath.light.lamps.bulbs, "
        "modelmath.light.lamps.brightness; "
        "print([name for name in ('numpy', 'scipy', 'pandas', 'ipywidgets') if name in sys.modules])"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout == "[]\n"


def test_limits_that_agree_are_limits(tmp_path, monkeypatch):
    (tmp_path / FILE).write_text("kind,forward_low_v,forward_high_v,from_a,to_a,source\nred,2,2,0.01,0.01,s\n", "utf-8")
    monkeypatch.setattr(tables, "data_folder", lambda: tmp_path)
    red = read_kinds()["red"]
    assert (red.low_v, red.high_v, red.from_a, red.to_a, red.source) == (2, 2, 0.01, 0.01, "s")


def test_however_little_current_half_of_the_voltage_stays():
    """At 1e-12 A the law takes 0.577 V with n = 1 and twice that with n = 2; far below, more than all of it."""
    usual, least = forward_of("red"), forward_of("red", 1e-12)
    assert least.value == pytest.approx(usual.value - 0.0258520 * 22.3327, abs=1e-4)
    assert least.low == pytest.approx(usual.low / 2)
    nothing = forward_of("red", 1e-30)
    assert (nothing.value, nothing.low, nothing.high) == pytest.approx((usual.value / 2, usual.low / 2, usual.high))


def test_a_headlight_takes_a_milliampere():
    """Common practice, no source."""
    assert HEADLIGHT_A.value == 0.001
    assert forward_of("red", 0.005) == forward_of("red") == forward_of("red", 0.02)

"""The high-pass of the second order beside scipy's, its printed alignments, and what must hold for any."""

from math import inf, isnan, log10, sqrt

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from published import agrees_with_print, published_rows
from scipy.optimize import brentq
from scipy.signal import freqs

from modelmath.errors import OutOfRange, WrongKind
from modelmath.sound.closed_box.response import cutoff_ratio, peak_db, peak_ratio, response, response_db

some_q = st.floats(0.2, 8.0)
some_hz = st.floats(20.0, 5000.0)
# Printed to six digits, while the alignment is the root itself; names and closed form: the table's own sources.
ROOTS = {"0.577350": 1 / sqrt(3), "0.707107": 1 / sqrt(2)}


@pytest.mark.parametrize("row", published_rows("closed_box_alignments.csv"), ids=lambda row: row["Qtc"])
def test_every_alignment_as_printed(row):
    """Small 1972 and 1973: closed form of the second-order high-pass, checked there by numerical root finding."""
    q = ROOTS.get(row["Qtc"], float(row["Qtc"]))
    assert agrees_with_print(cutoff_ratio(q), row["f3_over_fc"])
    assert agrees_with_print(peak_db(q), row["peak_dB"])
    assert agrees_with_print(response_db(1000.0, 1000.0, q), row["response_at_fc_dB"])
    if row["f_peak_over_fc"]:
        assert agrees_with_print(peak_ratio(q), row["f_peak_over_fc"])
    else:
        assert isnan(peak_ratio(q))


@pytest.mark.parametrize("q", [0.3, 0.5, 1 / sqrt(2), 1.0, 2.5])
def test_the_response_is_that_of_scipy(q):
    """scipy.signal.freqs of s^2 / (s^2 + s wc/Q + wc^2), amplitude and phase."""
    at, fc = np.geomspace(10, 20_000, 400), 640.0
    wc = 2 * np.pi * fc
    _, expected = freqs([1, 0, 0], [1, wc / q, wc**2], 2 * np.pi * at)
    assert response(at, fc, q) == pytest.approx(expected, rel=1e-12)
    assert response_db(at, fc, q) == pytest.approx(20 * np.log10(abs(expected)), abs=1e-11)


@given(some_q)
def test_the_cutoff_is_the_root_that_scipy_finds(q):
    found = brentq(lambda ratio: abs(response(ratio, 1.0, q)) ** 2 - 0.5, 1e-3, 1e3, xtol=1e-13)
    assert cutoff_ratio(q) == pytest.approx(found, rel=1e-9)


@given(some_q, some_hz)
def test_at_the_cutoff_half_the_power_is_left(q, fc):
    assert response_db(cutoff_ratio(q) * fc, fc, q) == pytest.approx(10 * log10(0.5), abs=1e-9)  # -3.0103 dB


@given(st.floats(0.72, 8.0), some_hz)
def test_nothing_on_the_curve_is_above_its_peak(q, fc):
    assert response_db(peak_ratio(q) * fc, fc, q) == pytest.approx(peak_db(q), abs=1e-9)
    assert response_db(np.geomspace(fc / 50, fc * 50, 500), fc, q).max() <= peak_db(q) + 1e-9


@given(st.floats(0.2, 1 / sqrt(2)), some_hz)
def test_without_a_peak_the_curve_only_rises(q, fc):
    assert peak_db(q) == 0.0
    assert isnan(peak_ratio(q))
    assert (np.diff(response_db(np.geomspace(fc / 50, fc * 5, 200), fc, q)) > 0).all()


@given(some_q, some_hz, some_hz, st.floats(0.1, 10.0))
def test_only_the_ratio_of_frequencies_counts(q, f, fc, times):
    assert response_db(f * times, fc * times, q) == pytest.approx(response_db(f, fc, q), abs=1e-9)


def test_numbers_and_arrays_give_the_same_in_the_shape_of_all_together():
    f, fc, q = np.array([50.0, 500.0, 900.0]), np.array([[400.0], [700.0]]), np.array([[0.6], [1.2]])
    for function in (response, response_db):
        found = function(f, fc, q)
        assert found.shape == (2, 3)
        assert [[function(a, b, c) for a in f] for b, c in zip(fc[:, 0], q[:, 0], strict=True)] == (
            pytest.approx(found, rel=1e-13)
        )
    assert response(500, 500, np.array([1.0, 2.0])) == pytest.approx([1j, 2j])
    assert type(response(500, 500, 1)) is complex
    assert type(response_db(500, 500, 1)) is float


def test_at_rest_nothing_is_left_and_far_above_all():
    assert response(0, 500, 1) == 0
    assert response_db(0, 500, 1) == -inf
    assert response_db(5e6, 500, 1) == pytest.approx(0, abs=1e-6)


@pytest.mark.parametrize(
    ("given_", "error", "text"),
    [
        ((-1, 500, 1), OutOfRange, "the frequency is -1 Hz; it must be a finite number, 0 or more"),
        ((1, 0, 1), OutOfRange, "the resonance is 0 Hz; it must be a finite number above 0"),
        ((1, [500, inf], 1), OutOfRange, "the resonance is inf Hz; it must be a finite number above 0"),
        (("1 kHz", 500, 1), WrongKind, "the frequency is '1 kHz'; expected a number, or an array of numbers"),
        ((True, 500, 1), WrongKind, "the frequency is 'True'; expected a number, or an array of numbers"),
    ],
)
@pytest.mark.parametrize("function", [response, response_db])
def test_what_is_no_frequency_is_refused(function, given_, error, text):
    with pytest.raises(error, match=rf"^{text}\. Write it in hertz, such as 500\.$"):
        function(*given_)


@pytest.mark.parametrize("function", [cutoff_ratio, peak_db, peak_ratio, lambda q: response(1, 1, q)])
@pytest.mark.parametrize(("q", "shown"), [(0, "0"), (-0.7, "-0.7"), (float("nan"), "nan")])
def test_what_is_no_q_is_refused(function, q, shown):
    text = rf"^the total Q is {shown}; it must be a finite number above 0\. Write it as a plain ratio, such as 0\.7\.$"
    with pytest.raises(OutOfRange, match=text):
        function(q)

"""Parameters from a sweep: against other ways to the same, properties, and how often the intervals hold."""

from __future__ import annotations

from math import pi, sqrt
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from published import agrees_with_print
from scipy.optimize import brentq, curve_fit
from scipy.signal import freqs
from sound.measuring.simulated import NAMES, TRUE, covered, even, swept, true_values

from modelmath.errors import NotYetKnown
from modelmath.sound.measuring.curve import ImpedanceCurve, logarithm_and_slopes
from modelmath.sound.measuring.estimate import Estimate, coverage_factor
from modelmath.sound.measuring.fit import fit_sweep
from modelmath.sound.measuring.sweep import Sweep, read_sweep

DATA = Path(__file__).resolve().parents[3] / "data" / "example_sweep.csv"
DRIVERS = st.builds(
    ImpedanceCurve, st.floats(3, 30), st.floats(200, 900), st.floats(1.5, 9), st.floats(8, 80), st.floats(0.2, 6),
    st.floats(0.45, 0.95), st.just(4000.0),
)  # fmt: skip


def values(fit):
    return {name: getattr(fit, name).value for name in NAMES}


def test_the_curve_is_that_of_the_circuit():
    """A coil, its inductance and a parallel resonant circuit in series, as a rational function by scipy.signal."""
    curve = ImpedanceCurve(7.0, 450.0, 4.0, 14.0, 2 * pi * 1000 * 0.05e-3, 1.0, 1000.0)  # 0.05 mH
    ws, le = 2 * pi * 450.0, 0.05e-3
    resonance, moving = [1, ws / 4.0, ws**2], [14.0 * ws / 4.0, 0]
    top = np.polyadd(np.polymul([le, 7.0], resonance), moving)
    f_hz = even(20, 20000, 200)
    _, wanted = freqs(top, resonance, 2 * pi * f_hz)
    assert curve.impedance_ohm(f_hz) == pytest.approx(wanted, rel=1e-12)


@given(DRIVERS, st.floats(60, 3000))
def test_slopes_are_those_of_small_differences(curve, f_hz):
    logs = np.log([curve.re_ohm, curve.fs_hz, curve.qms, curve.res_ohm])
    theta = np.array([*logs, curve.coil_ohm, curve.coil_power])
    value, slopes = logarithm_and_slopes(np.array([f_hz]), curve.coil_hz, theta)
    assert value[0] == pytest.approx(np.log(curve.impedance_ohm(f_hz)), rel=1e-9)
    for place in range(6):
        step = np.zeros(6)
        step[place] = 1e-5
        after, before = (
            logarithm_and_slopes(np.array([f_hz]), curve.coil_hz, theta + each)[0] for each in (step, -step)
        )
        assert slopes[0, place] == pytest.approx((after[0] - before[0]) / 2e-5, rel=1e-4, abs=1e-6)


def test_three_points_on_the_curve_give_the_same_parameters():
    """The usual way by hand: r0 at the peak, f1 and f2 where the impedance is sqrt(r0) Re.

    Qms = fs sqrt(r0) / (f2 - f1), Qes = Qms / (r0 - 1), fs^2 = f1 f2: Small, Direct-Radiator Loudspeaker System
    Analysis, 1972; from memory.
    """
    curve = ImpedanceCurve(7.3, 485.0, 4.2, 16.0)
    fit = fit_sweep(swept(curve, even(), scatter=0.0))
    r0 = abs(curve.impedance_ohm(485.0)) / 7.3

    def above(f):
        return abs(curve.impedance_ohm(f)) - sqrt(r0) * 7.3

    f1, f2 = brentq(above, 100, 485), brentq(above, 485, 3000)
    assert fit.fs.value == pytest.approx(sqrt(f1 * f2), rel=1e-6)
    assert fit.qms.value == pytest.approx(485.0 * sqrt(r0) / (f2 - f1), rel=1e-6)
    assert fit.qes.value == pytest.approx(485.0 * sqrt(r0) / (f2 - f1) / (r0 - 1), rel=1e-6)
    assert fit.curve.peak_width_hz == pytest.approx(f2 - f1, rel=1e-6)


@settings(max_examples=25)
@given(DRIVERS, st.booleans())
def test_without_noise_the_true_parameters_come_back(curve, with_phase):
    f_hz = even(curve.fs_hz / 4, curve.fs_hz * 4, 120)
    fit = fit_sweep(swept(curve, f_hz, 0.0, 0.0 if with_phase else None))
    assert values(fit) == pytest.approx(true_values(curve), rel=2e-4)


def test_parameters_and_uncertainties_are_those_of_a_general_curve_fit():
    """scipy.optimize.curve_fit in plain units, with its own slopes and its own start, on the same logarithms."""
    sweep = swept(TRUE, even(), 0.01, seed=3)
    fit = fit_sweep(sweep)

    def level(f, re, fs, qes, qms, coil, power):
        z = re + coil * (1j * f / 2000) ** power + qms / qes * re / (1 + 1j * qms * (f / fs - fs / f))
        return np.log(np.abs(z))

    best, covariance = curve_fit(
        level, np.array(sweep.frequency_hz), np.log(sweep.impedance_ohm), p0=(8, 500, 2, 4, 1, 0.6)
    )
    u = np.sqrt(np.diag(covariance))
    for place, name in enumerate(("re", "fs", "qes", "qms")):
        found = getattr(fit, name)
        assert found.value == pytest.approx(best[place], rel=1e-5)
        assert found.u == pytest.approx(u[place], rel=1e-3)
    assert fit.dof == 80 - 6


def test_qts_follows_from_the_others_with_its_uncertainty():
    """Propagated by hand from Qms and Qes: 1/Qts = 1/Qms + 1/Qes, Small 1972; their correlation by small steps."""
    fit = fit_sweep(swept(TRUE, even(), 0.01))
    assert 1 / fit.qts.value == pytest.approx(1 / fit.qms.value + 1 / fit.qes.value, rel=1e-9)

    def qts(logs):
        re, _, qms, res = np.exp(logs)
        return qms * re / (re + res)

    logs, step = np.array(fit.logs), 1e-6
    slopes = [(qts(logs + step * unit) - qts(logs - step * unit)) / (2 * step) for unit in np.eye(4)]
    assert fit.qts.u == pytest.approx(sqrt(slopes @ np.array(fit.covariance) @ slopes), rel=1e-5)


def test_fs_and_qes_as_uncertain_numbers_agree_with_the_estimates():
    fit = fit_sweep(swept(TRUE, even(), 0.01))
    fs, qes = fit.uncertain()
    assert (fs.n, fs.s) == (pytest.approx(fit.fs.value), pytest.approx(fit.fs.u))
    assert (qes.n, qes.s) == (pytest.approx(fit.qes.value), pytest.approx(fit.qes.u))


def test_impedance_in_another_measure_moves_re_alone():
    """How exactly the series resistor is known multiplies each reading: the Q and the resonance don't notice."""
    sweep = swept(TRUE, even(), 0.01)
    one = fit_sweep(sweep)
    other = fit_sweep(Sweep(sweep.frequency_hz, tuple(1.1 * z for z in sweep.impedance_ohm)))
    assert values(other) == pytest.approx({**values(one), "re": 1.1 * one.re.value}, rel=1e-5)


def test_frequency_in_another_measure_moves_fs_alone():
    sweep = swept(TRUE, even(), 0.01)
    one = fit_sweep(sweep)
    other = fit_sweep(Sweep(tuple(2 * f for f in sweep.frequency_hz), sweep.impedance_ohm))
    assert values(other) == pytest.approx({**values(one), "fs": 2 * one.fs.value}, rel=1e-5)


def test_a_sweep_downwards_is_as_good():
    sweep = swept(TRUE, even(), 0.01, 0.01)
    turned = fit_sweep(Sweep(*(each[::-1] for each in (sweep.frequency_hz, sweep.impedance_ohm, sweep.phase_rad))))
    assert turned.faults == ()
    assert values(turned) == pytest.approx(values(fit_sweep(sweep)), rel=1e-5)


def test_a_whole_turn_of_the_phase_means_nothing():
    sweep = swept(TRUE, even(), 0.01, 0.01)
    turned = Sweep(
        sweep.frequency_hz, sweep.impedance_ohm, tuple(p - 2 * pi if p > 0.2 else p for p in sweep.phase_rad)
    )
    assert values(fit_sweep(turned)) == pytest.approx(values(fit_sweep(sweep)), rel=1e-5)


def test_phase_adds_to_what_is_known():
    alone, together = (fit_sweep(swept(TRUE, even(), 0.01, each)) for each in (None, 0.002))
    assert together.phase_scatter_rad == pytest.approx(0.002, rel=0.3)
    assert together.scatter == pytest.approx(0.01, rel=0.3)
    for name in NAMES[1:]:
        assert getattr(together, name).u < getattr(alone, name).u


def test_a_fit_is_the_same_each_time():
    sweep = swept(TRUE, even(), 0.01, 0.01)
    assert fit_sweep(sweep) == fit_sweep(sweep)


def test_the_intervals_hold_what_is_true_over_a_slice_of_random_drivers():
    """Of 60 at 95 %, 57 are to be expected; fewer than 51 would come by chance once in 1,000. The long set has more."""
    held = covered(range(5000, 5060))
    assert {name: count for name, count in held.items() if count < 51} == {}


def test_the_example_gives_what_it_was_simulated_with():
    """The true values stand in its source column: Re 7.3 ohm, fs 485 Hz, Qms 4.2, Qes 1.9, noise 0.5 % and 0.4 deg."""
    fit = fit_sweep(read_sweep(DATA))
    assert fit.faults == ()
    for name, true in {"re": 7.3, "fs": 485.0, "qms": 4.2, "qes": 1.9, "qts": 4.2 * 1.9 / 6.1}.items():
        found = getattr(fit, name)
        assert abs(found.value - true) < 3 * found.u
        assert found.u < 0.01 * true
    assert fit.scatter == pytest.approx(0.005, rel=0.3)
    assert np.degrees(fit.phase_scatter_rad) == pytest.approx(0.4, rel=0.3)


@pytest.mark.parametrize(("dof", "printed"), [(1, "12.71"), (5, "2.57"), (10, "2.23"), (50, "2.01"), (1e9, "1.960")])
def test_the_coverage_factor_is_the_printed_one(dof, printed):
    """JCGM 100:2008, table G.2, 95 %; from memory."""
    assert agrees_with_print(coverage_factor(dof), printed)


def test_an_interval_is_as_far_in_ratio_either_way():
    found = Estimate.of_ratio(450.0, 0.1, 20)
    assert found.low * found.high == pytest.approx(450.0**2)
    assert found.within == found.high - 450.0
    assert found.times(2.0) == Estimate(900.0, 90.0, 2 * found.low, 2 * found.high, 20)


def test_without_a_fit_there_are_no_parameters():
    fit = fit_sweep(Sweep((100.0, 200.0), (7.0, 8.0)))
    assert not fit.fitted
    said = (
        "What this sweep says of the speaker is not known yet; enter a better sweep: 2 points are too few for six "
        r"unknowns; 12 are the least. Take 40 or more, closer together about the peak."
    )
    for name in NAMES:
        with pytest.raises(NotYetKnown, match=f"^{said}$"):
            getattr(fit, name)
    with pytest.raises(NotYetKnown, match=f"^{said}$"):
        fit.uncertain()

"""Where a fit begins, between what limits it looks, how it weighs modulus and phase, and what it makes of a phase."""

from __future__ import annotations

from math import exp, inf, log, radians, sqrt

import numpy as np
import pytest
from sound.measuring.simulated import TRUE, even, swept

from modelmath.errors import NotYetKnown
from modelmath.sound.measuring import fit as module
from modelmath.sound.measuring.curve import ImpedanceCurve, logarithm_and_slopes
from modelmath.sound.measuring.estimate import Estimate
from modelmath.sound.measuring.faults import SweepFault
from modelmath.sound.measuring.fit import SweepFit, fit_sweep
from modelmath.sound.measuring.peaks import Peaks, find_peaks
from modelmath.sound.measuring.sweep import Sweep


def starts(f_hz, z_ohm, top):
    """Return Re, fs, Qms, Res and the coil where a fit begins, and the powers that it tries."""
    found = module._starts(np.array(f_hz, float), np.array(z_ohm, float), Peaks(0.0, (top,)))
    assert all((each[:5] == found[0][:5]).all() for each in found)
    return [*map(exp, found[0][:4]), found[0][4]], [each[5] for each in found]


@pytest.mark.parametrize(
    ("f_hz", "z_ohm", "top", "begins"),
    [
        # Re is 0.97 of the least reading, 9.7; below sqrt(9.7 x 25) = 15.57 ohm is nothing to the left: from fs / 2.
        ((400, 500, 600, 700), (20, 25, 12, 10), 1, (9.7, 500, 500 * sqrt(25 / 9.7) / (600 - 250), 15.3, 2.431)),
        # Nothing to the right: up to 2 fs.
        ((400, 500, 600, 700), (10, 12, 25, 20), 2, (9.7, 600, 600 * sqrt(25 / 9.7) / (1200 - 500), 15.3, 17.490)),
        # The readings nearest the peak that are below the middle, 14, not the farthest.
        ((100, 200, 300, 400, 500, 600, 700), (10, 11, 13, 20.2, 13, 12, 11), 3,
         (9.7, 400, 400 * sqrt(20.2 / 9.7) / 200, 10.5, 5.187)),
        ((499, 500, 501), (10, 2000, 10), 1, (9.7, 500, 50, 1990.3, 2.431)),  # Qms no more than 50
        ((100, 200, 5000), (10, 11, 10), 1, (9.7, 200, 0.2, 1.3, 2.431)),  # and no less than 0.2
    ],
)  # fmt: skip
def test_a_fit_begins_at_what_three_points_tell(f_hz, z_ohm, top, begins):
    """Qms = fs sqrt(r0) / (f2 - f1), Res above Re at the peak: Small 1972; the coil squared beside Re squared."""
    found, powers = starts(f_hz, z_ohm, top)
    assert found == pytest.approx(begins, rel=1e-3)
    assert powers == [0.9, 0.6]


def test_of_several_peaks_it_begins_at_the_strongest():
    z_ohm = np.array([10.0, 14, 10, 10, 25, 10])
    found = module._starts(np.arange(1, 7) * 100.0, z_ohm, Peaks(0.0, (4, 1)))
    assert [exp(each[1]) for each in found] == pytest.approx([500, 500])


def test_it_begins_close_to_a_curve_without_a_coil():
    curve = ImpedanceCurve(7.3, 485.0, 4.2, 16.0)
    f_hz = even(60, 4000, 2000)
    z_ohm = np.abs(curve.impedance_ohm(f_hz))
    found, _ = starts(f_hz, z_ohm, find_peaks(z_ohm).places[0])
    assert found[:4] == pytest.approx([7.3, 485.0, 4.2, 16.0], rel=0.05)


def solver(curve=TRUE, f_hz=None, phase=True):
    f_hz = even() if f_hz is None else np.array(f_hz, float)
    z_ohm = curve.impedance_ohm(f_hz)
    found = module._Solver(f_hz, np.log(np.abs(z_ohm)), np.angle(z_ohm) if phase else None)
    found.coil_hz = curve.coil_hz
    return found


def theta_of(curve):
    return np.array(
        [*map(log, (curve.re_ohm, curve.fs_hz, curve.qms, curve.res_ohm)), curve.coil_ohm, curve.coil_power]
    )


def test_the_limits_between_which_it_looks():
    """Re down to a twentieth of the least reading; the peak up to 20 times the highest; the coil up to ten times it."""
    found = module._Solver(np.array([100.0, 400.0, 1000.0]), np.log([5.0, 50.0, 8.0]), None)
    low, high = np.exp(found.low[:4]), np.exp(found.high[:4])
    assert low == pytest.approx([5 / exp(3), 100, 0.05, 5 / exp(7)])
    assert high == pytest.approx([50, 1000, 200, 50 * exp(3)])
    assert (found.low[4:].tolist(), found.high[4:].tolist()) == ([0, 0.4], [pytest.approx(500), 1.0])
    assert found.coil_hz == 1000
    assert found.scatter == (1, 1)


def test_what_lies_within_a_ten_thousandth_of_its_range_is_at_its_limit():
    one = solver()
    wide = one.high - one.low
    assert one.at_limit(one.low + 0.9e-4 * wide).all()
    assert one.at_limit(one.high - 0.9e-4 * wide).all()
    for inside in (one.low + 1.1e-4 * wide, one.high - 1.1e-4 * wide, (one.low + one.high) / 2):
        assert not one.at_limit(inside).any()
    mixed = (one.low + one.high) / 2
    mixed[2] = one.high[2]
    assert one.at_limit(mixed).tolist() == [False, False, True, False, False, False]


def test_without_a_coil_its_power_is_no_unknown():
    one = solver(phase=False)
    theta = theta_of(TRUE)
    assert one._basis(theta).shape == (80, 6)
    theta[4] = 0.9e-4 * one.high[4]
    assert one._basis(theta).shape == (80, 5)
    assert (one._basis(theta) == one.slopes(theta)[:, :5]).all()
    theta[4] = 1.1e-4 * one.high[4]
    assert one._basis(theta).shape == (80, 6)
    assert one.result(theta)["dof"] == 80 - 6
    theta[4] = 0.0
    assert one.result(theta)["dof"] == 80 - 5
    assert np.array(one.result(theta)["covariance"]).shape == (4, 4)


def test_what_is_left_over_is_weighed_by_how_much_it_scatters():
    """Residuals of modulus and phase over their scatter; a whole turn of the phase is none."""
    one = solver()
    one.phase = one.phase + 0.1 + 2 * np.pi
    one.level = one.level + 0.02
    one.scatter = (0.01, 0.2)
    theta = theta_of(TRUE)
    modulus, phase = one.left(theta)
    assert (modulus, phase) == (pytest.approx(0.02), pytest.approx(0.1))
    assert one.residuals(theta) == pytest.approx([*[-2.0] * 80, *[-0.5] * 80])
    assert one.cost(theta) == pytest.approx(80 * 4 + 80 * 0.25)
    slopes = logarithm_and_slopes(one.f_hz, one.coil_hz, theta)[1]
    assert one.slopes(theta) == pytest.approx(np.concatenate([slopes.real / 0.01, slopes.imag / 0.2]))


def test_a_curve_without_scatter_still_has_weights():
    one = solver()
    one.weigh(theta_of(TRUE))
    assert one.scatter == (1e-9, 1e-9)
    alone = solver(phase=False)
    alone.weigh(theta_of(TRUE))
    assert alone.scatter == (1e-9, 1.0)


def squares(values):
    return float((np.array(values) ** 2).sum())


def test_modulus_alone_scatters_by_its_squares_over_the_degrees_of_freedom():
    """JCGM 100:2008, H.3: s^2 is the sum of squares over readings less unknowns."""
    fit = fit_sweep(swept(TRUE, even(), 0.01))
    assert fit.scatter == pytest.approx(sqrt(squares(fit.residuals) / (80 - 6)), rel=1e-9)
    assert (fit.phase_residuals_rad, fit.phase_scatter_rad) == (None, None)


def test_modulus_and_phase_share_the_unknowns():
    """Each over its own scatter, squares of both add up to the degrees of freedom of both: 2 x 80 less 6."""
    fit = fit_sweep(swept(TRUE, even(), 0.01, 0.03))
    both = squares(fit.residuals) / fit.scatter**2 + squares(fit.phase_residuals_rad) / fit.phase_scatter_rad**2
    assert both == pytest.approx(160 - 6, rel=1e-6)
    assert fit.dof == 160 - 6
    # What scatters less takes more of the unknowns: 80 less a part of 6 is left of either.
    assert 80 - 6 < squares(fit.residuals) / fit.scatter**2 < 80 - 3
    assert 80 - 3 < squares(fit.phase_residuals_rad) / fit.phase_scatter_rad**2 < 80


def test_the_covariance_is_that_of_the_weighed_slopes():
    """(J^T W J)^-1 by numpy: JCGM 100:2008, H.3; the weights one over the squared scatter of each."""
    fit = fit_sweep(swept(TRUE, even(), 0.01, 0.03))
    curve = fit.curve
    slopes = logarithm_and_slopes(np.array(fit.sweep.frequency_hz), curve.coil_hz, theta_of(curve))[1]
    weighed = np.concatenate([slopes.real / fit.scatter, slopes.imag / fit.phase_scatter_rad])
    assert np.array(fit.covariance) == pytest.approx(np.linalg.inv(weighed.T @ weighed)[:4, :4], rel=1e-6)


def test_a_phase_looks_like_radians_up_to_a_quarter_turn_beside_a_curve_that_swings():
    """A quarter turn is 1.57 rad, rounded up 1.6; read as degrees. The curve must swing by 20 degrees."""
    swings = np.array([radians(-10.5), radians(10.5)])
    assert module._looks_like_radians(np.array([0.0, radians(-1.6)]), swings)
    assert module._looks_like_radians(np.array([0.0, radians(0.1)]), np.array([-1, 1]) * radians(10))  # 20 degrees
    assert not module._looks_like_radians(np.array([0.0, radians(-1.61)]), swings)
    assert not module._looks_like_radians(np.array([0.0, radians(1.0)]), swings * 0.95)


def test_a_phase_runs_backwards_where_the_mirrored_curve_is_nearer():
    curve = np.array([0.3, -0.2, 0.1])
    assert module._runs_backwards(-curve, curve)
    assert module._runs_backwards(-curve + 2 * np.pi, curve)
    assert not module._runs_backwards(curve, curve)
    assert not module._runs_backwards(curve - 2 * np.pi, curve)
    assert not module._runs_backwards(np.zeros(3), curve)  # as near to either
    assert not module._runs_backwards(np.array([0.3, 0.2, 0.0]), curve)  # 0.6, 0, 0.1 off against 0, 0.4, 0.1


def test_a_fit_goes_on_until_its_weights_hold():
    """The weights with which it stopped are those that its own scatter gives, to a thousandth."""
    sweep = swept(TRUE, even(), 0.02, 0.004, seed=4)
    fit = fit_sweep(sweep)
    again = module._Solver(np.array(sweep.frequency_hz), np.log(sweep.impedance_ohm), np.array(sweep.phase_rad))
    again.scatter = (fit.scatter, fit.phase_scatter_rad)
    theta = again.solve(theta_of(fit.curve))
    assert theta[:4] == pytest.approx(np.array(fit.logs), abs=1e-6)
    again.weigh(theta)
    assert again.scatter == pytest.approx((fit.scatter, fit.phase_scatter_rad), rel=1e-4)


@pytest.mark.parametrize("times", [0.3, 1.0, 30.0])
def test_what_falls_lower_than_any_coil_is_told_whatever_its_size(times):
    """A high-pass of the first order at 250 Hz takes the lowest readings away."""
    curve = swept(lambda f: times * TRUE.impedance_ohm(f) * 1j * f / 250 / (1 + 1j * f / 250), even(), 0.0)
    fit = fit_sweep(curve)
    assert [fault.kind for fault in fit.faults] == ["below Re"]
    assert not fit.fitted


def test_without_a_curve_and_without_a_fault_that_is_said_all_the_same():
    fit = SweepFit(Sweep((100.0,), (7.0,)), ())
    assert (fit.fitted, fit.untrusted, fit.scatter, fit.dof) == (False, "", 0, 0)
    with pytest.raises(NotYetKnown, match=r"^What this sweep says of the speaker is not known yet; enter a better"):
        fit.uncertain()


def test_each_reason_against_the_parameters_is_told_once():
    faults = (
        SweepFault("range", "low"),
        SweepFault("range", "high"),
        SweepFault("order", "x"),
        SweepFault("phase", "y"),
    )
    fit = SweepFit(Sweep((100.0,), (7.0,)), faults)
    assert fit.untrusted == "the peak lies too near an end of the sweep; the frequencies don't run one way"


def test_an_interval_without_end_stays_a_number():
    """Student's t of one degree of freedom times 1000 is 12,706: e to that is beyond any float."""
    found = Estimate.of_ratio(2.0, 1e3, 1)
    assert (found.low, found.high) == (pytest.approx(2 / exp(50)), pytest.approx(2 * exp(50)))
    assert Estimate.of_ratio(2.0, 0.1) == Estimate.of_ratio(2.0, 0.1, inf)
    assert Estimate.of_ratio(2.0, 0.1).high == pytest.approx(2 * exp(0.1959964), rel=1e-6)
    assert Estimate(2.0, 0.1, 1.5, 2.4).within == 0.5
    assert Estimate(2.0, 0.1, 1.7, 2.4).within == pytest.approx(0.4)

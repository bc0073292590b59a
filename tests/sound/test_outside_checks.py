"""Sound beside printed figures and general-purpose libraries, where the other tests have no such check."""

from __future__ import annotations

import re
from math import log10, pi, sqrt

import numpy as np
import pytest
from published import published_rows
from scipy.integrate import solve_ivp
from scipy.optimize import brentq, minimize_scalar
from scipy.signal import TransferFunction
from scipy.stats import t as student
from sound.closed_box.sample_drivers import MADE, driver_of

from modelmath.errors import OutOfRange
from modelmath.quantities.band import Band
from modelmath.quantities.known import Known
from modelmath.sound.air import Air
from modelmath.sound.closed_box.box import closed_box
from modelmath.sound.closed_box.cases import volume_band
from modelmath.sound.closed_box.wanted import volume_curve
from modelmath.sound.driver.agreeing import check_agreement, outside_area_mm2
from modelmath.sound.driver.driver import Driver
from modelmath.sound.driver.relations import equivalent_volume_mm3, q_apart, q_together
from modelmath.sound.leaks.circuit import Circuit
from modelmath.sound.leaks.finding import travel_pressure_pa
from modelmath.sound.leaks.leak import slot
from modelmath.sound.leaks.leaky_box import ql
from modelmath.sound.loads.check import check_load
from modelmath.sound.loads.decoder import AmpOutput
from modelmath.sound.loads.polarity import polarity_test
from modelmath.sound.loads.reasons import over_rating
from modelmath.sound.loads.speakers import RatedSpeaker, several
from modelmath.sound.loads.wiring import in_parallel, in_series
from modelmath.sound.measuring.checks import below_re, faults_after
from modelmath.sound.measuring.curve import ImpedanceCurve
from modelmath.sound.measuring.estimate import Estimate
from modelmath.sound.measuring.fit import fit_sweep
from modelmath.sound.measuring.peaks import find_peaks
from modelmath.sound.measuring.sweep import Sweep
from modelmath.sound.measuring.taking_over import taken_over
from modelmath.sound.measuring.vas import uncertain_of
from modelmath.sound.measuring.words import rounded

CONSTANTS = {row["quantity"]: row["value"] for row in published_rows("closed_box_constants.csv")}

# --- Air -------------------------------------------------------------------------------------------------------


def test_air_at_20_and_25_c_is_the_handbooks():
    """closed_box_constants.csv: density and speed at 20 C, rho/(2 pi c) at 25 C, gamma p0."""
    room, warm = Air(20.0), Air(25.0)
    assert room.speed_m_s == pytest.approx(float(CONSTANTS["speed of sound, dry air 20 C"]), abs=0.1)
    assert room.density_kg_m3 == pytest.approx(float(CONSTANTS["density of dry air 20 C"]), abs=5e-4)
    assert room.stiffness_pa == pytest.approx(1.4 * 101_325, rel=5e-4)
    printed = float(CONSTANTS["rho/(2 pi c), dry air 25 C"])
    assert warm.density_kg_m3 / (2 * pi * warm.speed_m_s) == pytest.approx(printed, rel=1e-3)


@pytest.mark.parametrize("celsius", [0.0, 20.0, 40.0])
def test_viscosity_is_that_of_sutherlands_formula(celsius):
    """US Standard Atmosphere, 1976: 1.458e-6 T^1.5 / (T + 110.4); from memory."""
    kelvin = celsius + 273.15
    due = 1.458e-6 * kelvin**1.5 / (kelvin + 110.4)
    assert Air(celsius).viscosity_pa_s == pytest.approx(due, rel=0.01)


# --- Drivers and boxes -----------------------------------------------------------------------------------------


def test_two_losses_together_are_those_of_one_damped_mass():
    """numpy: the poles of s^2 + s (1/Q1 + 1/Q2) + 1 tell one Q, and that and the first the second."""
    for one, other in ((0.9, 4.2), (1.9, 3.1), (0.55, 7.0)):
        poles = np.roots([1, 1 / one + 1 / other, 1])
        together = 1 / abs(poles.sum())
        assert q_together(one, other) == pytest.approx(together)
        assert q_apart(together, other) == pytest.approx(one)


@pytest.mark.parametrize("made", MADE)
def test_vas_is_the_volume_of_air_as_stiff_as_the_suspension(made):
    """scipy: the volume whose air pushes back on the cone, p0 (V / (V - Sd x))^1.4 - p0, as the spring does.

    Air that keeps its heat, gamma 1.4 at 101 325 Pa: 0.05 % beside rho c^2 of the handbooks.
    """
    step = 1e-9

    def lacks(volume_m3):
        pressure = 101_325 * ((volume_m3 / (volume_m3 - made.sd_m2 * step)) ** 1.4 - 1)
        return pressure * made.sd_m2 - made.stiffness_n_m * step

    volume = brentq(lacks, 1e-9, 1e-2, rtol=1e-12)
    found = equivalent_volume_mm3(1 / made.stiffness_n_m, 1e6 * made.sd_m2)
    assert found == pytest.approx(1e9 * volume, rel=2e-3)


def test_losses_in_the_chamber_are_those_of_its_motion():
    """scipy: energy lost in a cycle, with the coil shorted and without, of the cone swinging on both springs."""
    made = MADE[0]
    box = closed_box(made.driver, 2000.0).cases
    stiffness = made.stiffness_n_m + 1.4 * 101_325 * made.sd_m2**2 / 2e-6
    for q, loss in ((box.qmc, made.loss_n_s_m), (box.qec, made.bl_tm**2 / made.re_ohm)):

        def moves(_, state, loss=loss):
            return [state[1], -(stiffness * state[0] + loss * state[1]) / made.mass_kg]

        w = sqrt(stiffness / made.mass_kg)
        damped = w * sqrt(1 - (loss / (2 * made.mass_kg * w)) ** 2)
        end = solve_ivp(moves, (0, 2 * pi / damped), [1.0, 0.0], rtol=1e-10, atol=1e-12).y[0, -1]
        decrement = -np.log(end)
        assert float(np.ravel(q)[0]) == pytest.approx(sqrt(pi**2 / decrement**2 + 0.25), rel=1e-3)


@pytest.mark.parametrize(
    ("name", "fs", "qts", "vas", "volume"), [("CB1", 500, 0.7, 2000, 2000), ("CB3", 800, 1, 1000, 4000)]
)
def test_curves_and_circuits_of_a_chamber_are_the_printed_examples(name, fs, qts, vas, volume):
    """closed_box_examples.csv, each row with its inputs."""
    (row,) = (row for row in published_rows("closed_box_examples.csv") if row["id"] == name)
    driver = driver_of(fs, qts, vas)
    f3_hz, qtc = volume_curve(driver, volume)
    circuit = Circuit.of(driver, volume)
    assert (f3_hz, qtc) == (pytest.approx(float(row["f3_hz"]), rel=1e-5), pytest.approx(float(row["Qtc"]), rel=1e-5))
    assert (circuit.fc_hz, circuit.qtc) == (
        pytest.approx(float(row["fc_hz"]), rel=1e-5),
        pytest.approx(float(row["Qtc"]), rel=1e-5),
    )


@pytest.mark.parametrize("made", MADE)
def test_at_the_safe_power_the_network_takes_the_cone_just_to_its_limit(made):
    """numpy: a coil and a mass on both springs (Kirchhoff, Newton), the frequency searched; 0.4 mm each way."""
    box = closed_box(made.driver, 2000.0)
    volts = sqrt(2 * box.safe_power_w().best * box.rated_ohm)
    stiffness = made.stiffness_n_m + 1.4 * 101_325 * made.sd_m2**2 / 2e-6
    w = 2 * pi * np.geomspace(1, 5000, 20_001)
    rubs = made.loss_n_s_m + made.bl_tm**2 / made.re_ohm
    travel = abs(made.bl_tm * volts / made.re_ohm / (stiffness - made.mass_kg * w**2 + 1j * w * rubs))
    assert 1000 * travel.max() == pytest.approx(0.4, rel=2e-3)


def test_the_least_cutoff_is_the_least_that_scipy_finds():
    """scipy.optimize over the volume, without a filling: the flattest alignment has the lowest -3 dB point."""
    driver = driver_of(500, 0.4, 3000)
    found = minimize_scalar(
        lambda mm3: closed_box(driver, mm3).f3_hz.best, bounds=(300, 6000), method="bounded", options={"xatol": 1e-3}
    )
    assert closed_box(driver, Band(2000, 300, 6000)).f3_hz.low == pytest.approx(found.fun, rel=1e-6)


def test_a_volume_reaches_two_standard_uncertainties_either_way():
    """JCGM 100:2008, 6.2.1 and H.1: the end gauge of 50 000 838 nm with u of 32 nm, 64 nm either way at k = 2."""
    from uncertainties import ufloat

    found = volume_band(ufloat(50_000_838, 32))
    assert (found.low, found.high) == (50_000_838 - 64, 50_000_838 + 64)


def test_more_sound_than_power_is_refused_just_where_the_printed_efficiency_passes_one():
    """Small 1972: 9.64e-10 fs^3 Vas / Qes with Vas in litres, as handbooks print it for air of 345 m/s; from memory."""
    vas_litres = 1 / (9.64e-10 * 1000.0**3)
    fine = driver_of(1000.0, 0.5, 0.95e6 * vas_litres * 4 / 7, qms=4.0)
    assert fine.known("qes").value == pytest.approx(4 / 7)
    closed_box(fine, 2000.0)
    with pytest.raises(OutOfRange, match=r"such that less sound comes out than power goes in"):
        closed_box(driver_of(1000.0, 0.5, 1.05e6 * vas_litres * 4 / 7, qms=4.0), 2000.0)


def test_the_area_of_a_round_driver_is_that_of_a_circle():
    """Archimedes: pi lies between 223/71 and 22/7; so 14 mm cover 154 mm2 at most."""
    area = outside_area_mm2(Driver("sample", length_mm=14, round=True))
    assert 49 * 223 / 71 < area < 49 * 22 / 7
    assert outside_area_mm2(Driver("sample", length_mm=35, width_mm=16)) == 560


def test_what_agrees_and_what_does_not_by_the_relations_as_printed():
    """The relations of Small 1972 on a mass, a spring and a coil; Qts as the poles of the whole have it (numpy)."""
    made = MADE[3]
    poles = np.roots([made.mass_kg, made.loss_n_s_m + made.bl_tm**2 / made.re_ohm, made.stiffness_n_m])
    qts = sqrt(abs(poles.prod())) / abs(poles.sum())
    known = made.driver
    check_agreement(known.with_known(qts=Known.of(qts), mms_g=Known.of(1000 * made.mass_kg)))
    text = re.escape(f"the total Qts of the sample is {1.2 * qts:.3g}")
    with pytest.raises(OutOfRange, match=text):
        check_agreement(known.with_known(qts=Known.of(float(f"{1.2 * qts:.3g}"))))
    texts = {name: f"{known.known(name).value:.4f}" for name in ("qes", "qms")}
    assert taken_over({"qts": f"{1.2 * qts:.4f}"}, texts).removed == {"qts": f"{1.2 * qts:.4f}"}
    assert not taken_over({"qts": f"{qts:.4f}"}, texts).removed


# --- Leaks and loads -------------------------------------------------------------------------------------------


def test_the_cone_is_pushed_so_far_by_air_that_pushes_back():
    """scipy: the pressure at which a cone on the spring of Vas, air of gamma p0, moves by Xmax."""
    speaker = Driver("sample", fs_hz=500, sd_mm2=100, vas_mm3=2000, xmax_mm=Known.of(0.4))
    stiffness = 1.4 * 101_325 * 1e-4**2 / 2e-6
    due = brentq(lambda pressure: pressure * 1e-4 / stiffness - 0.4e-3, 0, 1e5)
    assert travel_pressure_pa(speaker) == pytest.approx(due, rel=1e-3)


def test_ql_is_how_fast_the_pressure_in_a_chamber_leaks_away():
    """scipy: C dp/dt = -p/R falls to 1/e in R C; Ql is that time in radians of the resonance, Small 1973."""
    gap, volume_mm3, fc_hz = slot(60, 0.02, 5), 2000.0, 600.0
    compliance = volume_mm3 * 1e-9 / (1.4 * 101_325)
    fall = solve_ivp(
        lambda _, p: -p / (gap.resistance * compliance), (0, 1), [1.0], rtol=1e-9, events=lambda _, p: p[0] - np.exp(-1)
    )
    assert ql(gap, volume_mm3, fc_hz) == pytest.approx(2 * pi * fc_hz * fall.t_events[0][0], rel=1e-3)


def test_two_alike_in_series_are_as_loud_as_one_and_bear_so_much():
    """electrical_examples.csv, SPK_1: 2.83 V into 8 ohm is 1 W; half of it in two, 3 dB less each way, textbooks."""
    printed = next(row for row in published_rows("electrical_examples.csv") if row["id"] == "SPK_1")
    output = AmpOutput(least_ohm=8, power_w=float(printed["value"]), at_ohm=8)

    def pair(rated_w):
        speakers = [RatedSpeaker("front", 8, rated_w), RatedSpeaker("rear", 8, rated_w)]
        return check_load(speakers, in_series("front", "rear"), output)

    assert pair(0.5).power_w == pair(0.6).usable_w == pytest.approx(float(printed["value"]) / 2)
    assert pair(0.6).level_db == pytest.approx(10 * log10(0.5) + 3.0103, abs=0.01)
    assert pair(0.2).usable_w == pytest.approx(2 * 0.2)
    four = AmpOutput(least_ohm=4, power_w=float(printed["value"]), at_ohm=8)
    side_by_side = check_load(several(RatedSpeaker("box", 8, 2), 2), in_parallel("box 1", "box 2"), four)
    assert side_by_side.level_db == pytest.approx(2 * 3.0103, abs=0.01)  # twice the power, and two cones alike


def test_turned_down_by_half_the_power_is_3_db_and_71_percent_of_the_voltage():
    """Half the power is 3.01 dB (tables of decibels), 0.7071 of the voltage; each rounded to the safe side."""
    assert "by 3.1 dB (to 70 % of its full voltage)" in over_rating("front", 2.0, 1.0)


def test_the_cell_in_series_with_the_resistor_told_leaves_the_speaker_its_rating():
    """numpy.linalg: the loop's one current; 6 ohm leave at most 0.1 W to 8 ohm from 1.5 V, 5 ohm more."""
    line = polarity_test([RatedSpeaker("front", 8, 0.1)])[2]
    assert "put 6 ohm or more in series" in line
    for ohm, within in ((6, True), (5, False)):
        volts, _ = np.linalg.solve([[1, 1], [1 / 8, -1 / ohm]], [1.5, 0])
        assert bool(volts**2 / 8 <= 0.1) is within


# --- Measuring -------------------------------------------------------------------------------------------------

TRUE = ImpedanceCurve(7.3, 485.0, 4.2, 16.0, 0.5, 0.7, 4000.0)


def test_qes_of_a_curve_is_that_of_the_circuit():
    """scipy.signal: the branch of the motion, R, L and C side by side, with Re alone across L and C: its pole's Q.

    L and C are those that the curve's own impedance about its peak asks for.
    """
    w, step = 2 * pi * TRUE.fs_hz, 1e-4
    plain = ImpedanceCurve(TRUE.re_ohm, TRUE.fs_hz, TRUE.qms, TRUE.res_ohm, 0.0, 0.7, 4000.0)
    near = plain.impedance_ohm(np.array([TRUE.fs_hz * (1 - step), TRUE.fs_hz * (1 + step)])) - plain.re_ohm
    susceptance = np.diff((1 / near).imag)[0] / (2 * step)  # of L and C side by side: 2 w C, one step in ratio
    capacitance = susceptance / (2 * w)
    inductance = 1 / (w**2 * capacitance)
    poles = TransferFunction([1, 0], [plain.re_ohm * capacitance, 1, plain.re_ohm / inductance]).poles
    assert TRUE.qes == pytest.approx(sqrt(abs(poles.prod())) / abs(poles.sum()), rel=1e-5)


@pytest.mark.parametrize("dof", [3.0, 10.0, 40.0])
def test_an_interval_reaches_as_far_as_students_t(dof):
    """scipy.stats.t on the logarithm."""
    found = Estimate.of_ratio(450.0, 0.02, dof)
    assert np.log([found.low / 450, found.high / 450]) == pytest.approx(
        [-0.02 * student.ppf(0.975, dof), 0.02 * student.ppf(0.975, dof)]
    )
    assert found.within == pytest.approx(450 * np.expm1(0.02 * student.ppf(0.975, dof)))


def test_fs_and_qes_are_correlated_as_many_sweeps_scatter():
    """numpy: sixty sweeps of one speaker; the covariance of what they give is what one of them states."""
    f_hz = np.geomspace(150, 1500, 60)
    z_ohm = abs(TRUE.impedance_ohm(f_hz))
    random = np.random.default_rng(4)
    fits = [fit_sweep(Sweep(tuple(f_hz), tuple(z_ohm * np.exp(0.01 * random.standard_normal(60))))) for _ in range(60)]
    fs, qes = fits[0].uncertain()
    from uncertainties import covariance_matrix

    stated = np.array(covariance_matrix([fs, qes]))
    seen = np.cov([[fit.fs.value for fit in fits], [fit.qes.value for fit in fits]])
    assert np.diag(stated) == pytest.approx(np.diag(seen), rel=0.5)
    assert stated[0, 1] / sqrt(stated[0, 0] * stated[1, 1]) == pytest.approx(
        seen[0, 1] / sqrt(seen[0, 0] * seen[1, 1]), abs=0.25
    )


def test_no_passive_network_falls_below_the_coil_and_one_with_a_capacitor_across_it_does():
    """numpy: a speaker as Re, coil and motion; a capacitor across all of it is what the fault speaks of."""
    f_hz = np.geomspace(150, 20_000, 60)
    z_ohm = TRUE.impedance_ohm(f_hz)
    assert abs(z_ohm).min() >= TRUE.re_ohm
    sweep = Sweep(tuple(f_hz), tuple(abs(z_ohm)))
    fit = fit_sweep(sweep)
    assert not [each for each in faults_after(fit, find_peaks(abs(z_ohm))) if each.kind == "below Re"]
    with_capacitor = abs(1 / (1 / z_ohm + 1j * 2 * pi * f_hz * 5e-6))
    assert with_capacitor.min() < TRUE.re_ohm
    fault = below_re(f_hz, with_capacitor)
    assert f"falls to {with_capacitor.min():.3g} ohm at {f_hz[with_capacitor.argmin()]:.4g} Hz" in str(fault)


def test_limits_stand_for_a_rectangle_by_the_printed_factor():
    """uncertainty_examples.csv, NIST TN 1297: half width times 0.577."""
    (factor,) = (row["value"] for row in published_rows("uncertainty_examples.csv") if row["name"] == "rectangular")
    assert uncertain_of(Known(2000.0, 1900.0, 2200.0)).std_dev == pytest.approx(150 * float(factor))


def test_a_result_is_rounded_as_the_guide_rounds_it():
    """JCGM 100:2008, 7.2.6: 10.057 62 ohm with an uncertainty of 27 milliohm is written 10.058 ohm; from memory."""
    assert rounded(10.05762, 0.027) == "10.058"

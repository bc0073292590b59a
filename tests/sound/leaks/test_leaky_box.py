"""A leaking chamber against an electrical and acoustic network solved node by node, and against known limits."""

from math import inf, pi, sqrt

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.signal import freqs

from modelmath.errors import OutOfRange
from modelmath.sound.air import ROOM_AIR
from modelmath.sound.closed_box.response import cutoff_ratio, response
from modelmath.sound.driver.driver import Driver
from modelmath.sound.leaks.circuit import Circuit
from modelmath.sound.leaks.leak import hole, open_back, slot
from modelmath.sound.leaks.leaky_box import (
    HARMLESS,
    HEARD,
    RUINED,
    LeakEffect,
    leak_effect,
    leaky_cutoff_hz,
    leaky_response,
    ql,
)
from modelmath.sound.leaks.sealing import sealing

SMALL = Driver("sample", fs_hz=500, qes=1.0, qms=4.0, vas_mm3=2000, sd_mm2=100, re_ohm=7)
CHAMBER_MM3 = 8000.0
F_HZ = np.geomspace(50, 20_000, 200)
drivers = st.builds(
    lambda fs, qes, qms, vas: Driver("d", fs_hz=fs, qes=qes, qms=qms, vas_mm3=vas, sd_mm2=100, re_ohm=7),
    st.floats(300, 1000), st.floats(0.5, 3), st.floats(2, 10), st.floats(300, 5000),
)  # fmt: skip
volumes = st.floats(1000, 50_000)


@given(drivers, volumes)
def test_without_leaks_it_is_the_closed_box(driver, volume):
    """Small 1972: fc = fs sqrt(1 + Vas/V), Qtc = Qts sqrt(1 + Vas/V); and scipy's filter of the second order."""
    rise = sqrt(1 + driver.vas_mm3.value / volume)
    qts = 1 / (1 / driver.qes.value + 1 / driver.qms.value)
    fc, qtc = driver.fs_hz.value * rise, qts * rise
    found = leaky_response(F_HZ, driver, volume)
    assert found == pytest.approx(response(F_HZ, fc, qtc), rel=1e-9)
    assert found == pytest.approx(
        freqs([1, 0, 0], [1, 2 * pi * fc / qtc, (2 * pi * fc) ** 2], 2 * pi * F_HZ)[1], rel=1e-9
    )
    assert leaky_cutoff_hz(driver, volume) == pytest.approx(fc * cutoff_ratio(qtc), rel=1e-9)


@pytest.mark.parametrize("qes", [0.01, 0.05, 20.0])
@pytest.mark.parametrize("volume", [50.0, 1e6])
def test_however_damped_the_cutoff_is_the_closed_box_s(qes, volume):
    """Small 1972, as above: a Qtc of a hundredth has its cutoff a hundred times above the resonance."""
    driver = Driver("d", fs_hz=500, qes=qes, qms=4, vas_mm3=2000, sd_mm2=100, re_ohm=7)
    rise, qts = sqrt(1 + 2000 / volume), 1 / (1 / qes + 1 / 4)
    circuit = Circuit.of(driver, volume)
    assert (circuit.fc_hz, circuit.qtc) == pytest.approx((500 * rise, qts * rise))
    assert circuit.cutoff_hz(()) == pytest.approx(500 * rise * cutoff_ratio(qts * rise), rel=1e-9)


@pytest.mark.parametrize("opening", [open_back(1e4, 0.1), hole(0.05, 1), open_back(1, 20)])
def test_far_above_the_chamber_s_resonance_too_the_cutoff_is_found(opening):
    f3 = leaky_cutoff_hz(SMALL, 500.0, [opening])
    near = abs(leaky_response(np.array([f3 * (1 - 1e-6), f3 * (1 + 1e-6)]), SMALL, 500.0, [opening]))
    assert near[0] < sqrt(0.5) < near[1]
    above = np.geomspace(f3 * 1.0001, 200 * f3, 20_000)
    assert (abs(leaky_response(above, SMALL, 500.0, [opening])) > sqrt(0.5)).all()


def by_nodes(f_hz, driver, volume, leaks):
    """Solve voltage, cone and chamber as one linear system: coil current, cone velocity, chamber pressure, flows."""
    sd, rho_c2 = driver.sd_mm2.value * 1e-6, ROOM_AIR.stiffness_pa
    cms = driver.vas_mm3.value * 1e-9 / (rho_c2 * sd**2)
    omega_s = 2 * pi * driver.fs_hz.value
    mms, re = 1 / (omega_s**2 * cms), driver.re_ohm.value
    rms = omega_s * mms / driver.qms.value
    bl = sqrt(omega_s * mms * re / driver.qes.value)
    found = []
    for f in f_hz:
        s = 2j * pi * f
        count = 3 + len(leaks)
        a, b = np.zeros((count, count), complex), np.zeros(count, complex)
        a[0, :2], b[0] = (re, bl), 1.0  # volts: Re i + Bl v = 1
        # newtons: Bl i = Zm v + Sd p, where p is what the cone's inward travel builds up
        a[1, :3] = -bl, s * mms + rms + 1 / (s * cms), sd
        a[2, 1], a[2, 2] = sd, -s * volume * 1e-9 / rho_c2  # flows: Sd v = into the compliance + through the leaks
        for k, leak in enumerate(leaks, start=3):
            a[2, k] = -1
            a[k, 2], a[k, k] = 1, -leak.impedance(f)
        x = np.linalg.solve(a, b)
        outward = sd * x[1] - sum(x[3:])
        found.append(outward * s / (sd * bl / (re * mms)))  # over the cone's alone where only its mass holds it
    return np.array(found)


@pytest.mark.parametrize(
    "leaks",
    [
        [hole(0.5, 1)],
        [slot(60, 0.1, 1)],
        [open_back(100, 1)],
        [hole(2, 1), slot(60, 0.05, 2), open_back(20, 3)],
    ],
)
def test_with_leaks_it_is_the_network_solved_node_by_node(leaks):
    # Rows of volts and of m3/s stand in one matrix, so a few digits go.
    assert leaky_response(F_HZ, SMALL, CHAMBER_MM3, leaks) == pytest.approx(
        by_nodes(F_HZ, SMALL, CHAMBER_MM3, leaks), rel=1e-7
    )


def test_an_open_back_resonates_with_the_chamber_where_helmholtz_says():
    """c/(2 pi) sqrt(A/(V l)): there the chamber holds the cone still, and all sound is the opening's."""
    area, depth = 30.0, 2.0
    back = open_back(area, depth)
    long_m = (depth + 2 * 8 / (3 * pi) * sqrt(area / pi)) * 1e-3
    at_hz = ROOM_AIR.speed_m_s / (2 * pi) * sqrt(area * 1e-6 / (CHAMBER_MM3 * 1e-9 * long_m))
    circuit = Circuit.of(SMALL, CHAMBER_MM3)
    opened = 2j * pi * at_hz * circuit.box + 1 / back.impedance(at_hz)
    assert abs(opened) < 1e-12 * 2 * pi * at_hz * circuit.box
    # With the cone at rest: force over area is the pressure, which drives the compliance.
    still = (2j * pi * at_hz) ** 2 * circuit.mass_kg * circuit.box / circuit.sd_m2**2
    assert leaky_response(at_hz, SMALL, CHAMBER_MM3, [back]) == pytest.approx(still, rel=1e-9)


def test_a_pinhole_leaves_the_closed_box_and_no_wall_at_all_the_short_circuit():
    """A huge opening: the cone moves as in free air, and the sound is that times (w / w_helmholtz)^2, out of phase."""
    shut = leaky_response(F_HZ, SMALL, CHAMBER_MM3)
    assert leaky_response(F_HZ, SMALL, CHAMBER_MM3, [hole(0.01, 1)]) == pytest.approx(shut, rel=1e-4)
    back = open_back(1e9, 1e-3)
    low = F_HZ[F_HZ < 3000]
    box = CHAMBER_MM3 * 1e-9 / ROOM_AIR.stiffness_pa
    short = -((2 * pi * low) ** 2) * box * back.mass
    free = response(low, 500.0, 0.8)
    assert leaky_response(low, SMALL, CHAMBER_MM3, [back]) == pytest.approx(free * short / (1 + short), rel=2e-3)


def test_high_notes_do_not_care():
    for leak in (hole(0.5, 1), slot(60, 0.1, 1), open_back(100, 1)):
        assert abs(leaky_response(1e6, SMALL, CHAMBER_MM3, [leak])) == pytest.approx(1, abs=1e-4)


def test_the_cutoff_is_the_highest_crossing():
    for leak in (hole(0.5, 1), hole(2, 1), slot(60, 0.1, 1), open_back(100, 1)):
        f3 = leaky_cutoff_hz(SMALL, CHAMBER_MM3, [leak])
        assert abs(leaky_response(f3, SMALL, CHAMBER_MM3, [leak])) == pytest.approx(sqrt(0.5), rel=1e-9)
        above = np.linspace(f3 * 1.0001, 100 * f3, 20_000)
        assert (abs(leaky_response(above, SMALL, CHAMBER_MM3, [leak])) > sqrt(0.5)).all()


def test_ql_of_a_narrow_gap_is_r_c_omega():
    gap = slot(60, 0.02, 5)
    box = CHAMBER_MM3 * 1e-9 / (1.204 * 343.2**2)  # handbooks' air at 20 C
    assert ql(gap, CHAMBER_MM3, 559.0) == pytest.approx(2 * pi * 559 * box * gap.resistance, rel=2e-3)
    assert ql(open_back(100, 1), CHAMBER_MM3, 559.0) == float("inf")
    assert ql([gap, gap], CHAMBER_MM3, 559.0) == pytest.approx(ql(gap, CHAMBER_MM3, 559.0) / 2)


@given(st.floats(0.05, 5), st.floats(1.01, 2), volumes, st.floats(300, 1500))
def test_a_larger_opening_has_a_lower_ql_and_a_larger_chamber_a_higher(size, wider, volume, fc_hz):
    for make in (lambda x: hole(x, 1), lambda x: slot(60, x / 100, 1)):
        assert ql(make(size * wider), volume, fc_hz) < ql(make(size), volume, fc_hz)
        assert ql(make(size), volume * wider, fc_hz) > ql(make(size), volume, fc_hz)
        assert ql([make(size)] * 2, volume, fc_hz) < ql(make(size), volume, fc_hz)


@given(st.floats(0.005, 0.3), st.floats(1.05, 2))
def test_a_wider_gap_raises_the_cutoff(gap_mm, wider):
    """A gap's air rubs rather than swings, so that it does not act as a vent."""
    near, far = (leaky_cutoff_hz(SMALL, CHAMBER_MM3, [slot(60, size, 2)]) for size in (gap_mm, gap_mm * wider))
    assert far >= near * (1 - 1e-9)


@given(st.floats(1, 400), st.floats(1.05, 3))
def test_low_notes_go_the_more_the_wider_the_back_is_open(area_mm2, wider):
    near, far = (
        leaky_response(100.0, SMALL, CHAMBER_MM3, [open_back(area, 1)]) for area in (area_mm2, area_mm2 * wider)
    )
    assert abs(far) < abs(near) < abs(leaky_response(100.0, SMALL, CHAMBER_MM3))


def test_the_effect_in_words():
    found = leak_effect(SMALL, CHAMBER_MM3, [open_back(200, 1)])
    assert found.shift == found.f3_hz / found.sealed_f3_hz - 1 > 1
    assert found.change_db == pytest.approx(
        20 * np.log10(abs(leaky_response(found.fc_hz, SMALL, CHAMBER_MM3, [open_back(200, 1)])) / 0.8 / sqrt(1.25))
    )
    assert found.in_words == (
        "With a back open by 200 mm2 the -3 dB point is 1457 Hz, sealed 465 Hz: ruins the low end; the opening acts as "
        "a port: one pitch booms, near 2300 Hz, and below it the sound falls faster and the cone moves further."
    )
    assert leak_effect(SMALL, CHAMBER_MM3, []).in_words == "Sealed, the -3 dB point is 465 Hz."


@settings(max_examples=30)
@given(drivers, volumes, st.floats(0.05, 8))
def test_the_boom_is_where_a_port_resonates_and_below_it_the_sound_falls_faster(driver, volume, across):
    """A port's mass and the chamber's air swing at 1 / (2 pi sqrt(M C)): below it they take back what the cone gives.

    Small 1973 (from memory): closed, the sound falls by 12 dB for each octave; with an opening by more.
    """
    opening = hole(across, 1)
    found = leak_effect(driver, volume, [opening])
    assert found.verdict in (HARMLESS, HEARD, RUINED)
    if found.verdict == HARMLESS:
        assert (abs(found.shift) <= 0.05, found.ql >= 20, found.booms) == (True, True, False)
    if abs(found.shift) > 0.2 or found.ql < 2:
        assert found.verdict == RUINED
    port_hz = 1 / (2 * pi * sqrt(opening.mass * volume * 1e-9 / ROOM_AIR.stiffness_pa))
    if found.boom_db > 6 and port_hz > found.fc_hz / 15:
        assert 0.6 < found.boom_hz / port_hz < 2.5
        low = port_hz / 20
        one, two = (abs(leaky_response(f_hz, driver, volume, [opening])) for f_hz in (low, 2 * low))
        assert 20 * np.log10(two / one) > 12.1


def test_the_largest_that_may_stay_open_is_harmless_and_a_tenth_more_is_not():
    for limits in (sealing(SMALL, CHAMBER_MM3, joint_mm=60), sealing(SMALL, 3 * CHAMBER_MM3, joint_mm=90)):
        volume = CHAMBER_MM3 * (1 if limits.joint_mm == 60 else 3)
        for size, make in (
            (limits.hole_mm, lambda mm: hole(mm, 1)),
            (limits.gap_mm, lambda mm, joint=limits.joint_mm: slot(joint, mm, 1)),
        ):
            assert leak_effect(SMALL, volume, [make(size)]).verdict == HARMLESS
            assert leak_effect(SMALL, volume, [make(1.1 * size)]).verdict == HEARD


def test_what_is_missing_is_completed():
    driver = Driver("sample", length_mm=15, width_mm=11)
    assert leaky_cutoff_hz(driver, CHAMBER_MM3, [hole(8, 1)]) > leaky_cutoff_hz(driver, CHAMBER_MM3)


def test_no_chamber_no_frequency():
    text = r"^the volume of the chamber is 0 mm3; it must be above 0\. Write it in mm3, such as 8000\.$"
    with pytest.raises(OutOfRange, match=text):
        leaky_response(500.0, SMALL, 0.0)
    text = r"^the frequency is 0 Hz; it must be a finite number above 0\. Write it in hertz, such as 500\.$"
    with pytest.raises(OutOfRange, match=text):
        leaky_response(0.0, SMALL, CHAMBER_MM3)
    with pytest.raises(
        OutOfRange, match=r"^the resonance is -1 Hz; it must be above 0\. Write it in hertz, such as 600\.$"
    ):
        ql(hole(1, 1), CHAMBER_MM3, -1)


def effect(f3_hz=100.0, ql_=inf, boom_db=0.0, peak_rise_db=0.0, more=()):
    """Return an effect of which only this counts; sealed the -3 dB point is 100 Hz."""
    return LeakEffect((hole(2, 1), *more), 120.0, 100.0, f3_hz, ql_, 0.0, 0.0, 80.0, boom_db, peak_rise_db)


@pytest.mark.parametrize(
    ("made", "verdict"),
    [
        (effect(), HARMLESS),
        (effect(104.9), HARMLESS),
        (effect(95.1), HARMLESS),
        (effect(105.1), HEARD),
        (effect(94.9), HEARD),
        (effect(119.9), HEARD),
        (effect(120.1), RUINED),
        (effect(79.9), RUINED),
        (effect(ql_=20.0), HARMLESS),
        (effect(ql_=19.9), HEARD),
        (effect(ql_=2.0), HEARD),
        (effect(ql_=1.9), RUINED),
        (effect(peak_rise_db=1.5), HARMLESS),
        (effect(peak_rise_db=1.6), HEARD),
        (effect(peak_rise_db=6.0), HEARD),
        (effect(peak_rise_db=6.1), RUINED),
    ],
)
def test_the_verdict_changes_at_its_limits(made, verdict):
    """5 and 20 % of the -3 dB point, a Ql of 20 and 2, a rise of 1.5 and 6 dB: common practice, no source."""
    assert made.verdict == verdict
    assert made.shift == pytest.approx(made.f3_hz / 100 - 1)


def test_only_a_boom_that_is_heard_and_does_harm_is_told():
    assert [effect(110.0, boom_db=each).booms for each in (1.4, 1.5, 9.0)] == [False, True, True]
    assert not effect(boom_db=9.0).booms  # harmless all the same
    assert effect(110.0, 12.34, 2.0).in_words == (
        "With a hole of 2 mm (Ql 12.3) the -3 dB point is 110 Hz, sealed 100 Hz: heard; the opening acts as a port: "
        "one pitch booms, near 80 Hz, and below it the sound falls faster and the cone moves further."
    )
    assert effect(ql_=30.0, more=(hole(1, 1),)).in_words == (
        "With a hole of 2 mm and a hole of 1 mm (Ql 30) the -3 dB point is 100 Hz, sealed 100 Hz: harmless."
    )


@pytest.mark.parametrize("leaks", [[hole(2, 1)], [hole(3, 1), slot(60, 0.05, 2)], [slot(60, 0.1, 1)]])
def test_what_leaks_change_is_the_network_s_with_them_over_that_without(leaks):
    """Levels of `by_nodes`: at the sealed resonance 500 sqrt(1.25) Hz and an octave lower, and over a fine grid."""
    found, fc = leak_effect(SMALL, CHAMBER_MM3, leaks), 500 * sqrt(1.25)

    def level(f_hz, openings):
        return 20 * np.log10(abs(by_nodes(f_hz, SMALL, CHAMBER_MM3, openings)))

    change = level([fc, fc / 2], leaks) - level([fc, fc / 2], [])
    assert (found.fc_hz, found.change_db, found.octave_lower_db) == pytest.approx((fc, *change), abs=1e-6)
    grid = np.geomspace(fc / 20, fc * 20, 3000)
    leaky, sealed = level(grid, leaks), level(grid, [])
    assert found.boom_db == pytest.approx((leaky - sealed).max(), abs=0.05)
    if found.boom_db > 0.1:
        assert found.boom_hz == pytest.approx(grid[np.argmax(leaky - sealed)], rel=0.02)
    assert found.peak_rise_db == pytest.approx(max(0, leaky.max()) - max(0, sealed.max()), abs=0.05)
    assert found.leaks == tuple(leaks)
    assert found.ql == pytest.approx(ql(leaks, CHAMBER_MM3, fc))
    assert (found.sealed_f3_hz, found.f3_hz) == (
        leaky_cutoff_hz(SMALL, CHAMBER_MM3), leaky_cutoff_hz(SMALL, CHAMBER_MM3, leaks),
    )  # fmt: skip

"""A speaker in a sealed chamber beside printed examples, its mechanics solved anew, and what must always hold."""

import re
from dataclasses import replace
from math import inf, log10, pi, sqrt

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from published import agrees_with_print, published_rows
from scipy.optimize import minimize_scalar
from scipy.signal import StateSpace, freqs, lsim
from sound.closed_box.sample_drivers import MADE, driver_of, unsure
from uncertainties import ufloat

from modelmath.errors import OutOfRange, WrongKind
from modelmath.quantities.band import Band
from modelmath.quantities.known import Known
from modelmath.sound.air import ROOM_AIR, Air
from modelmath.sound.closed_box.box import closed_box, half_space_db
from modelmath.sound.closed_box.cases import volume_band
from modelmath.sound.closed_box.stuffing import FILLED, LIGHTLY_FILLED, STUFFINGS, UNFILLED
from modelmath.sound.driver.driver import Driver

CM3 = 1000.0
MM3 = r"\. Write the volume in mm3; 1 cm3 is 1000 mm3\."
CLOSER = r"\. Measure the chamber more closely\."
SWEEP = np.geomspace(50, 10_000, 120)
some_fs, some_qts = st.floats(150, 1200), st.floats(0.3, 1.8)
some_vas, some_volume = st.floats(200, 20_000), st.floats(200, 30_000)
any_stuffing = st.sampled_from(list(STUFFINGS.values()))


def example(row):
    """Return a printed example's driver and volume: fs, Qts, Vas and Vb."""
    fs, qts, vas, volume = (float(each) for each in re.findall(r"=([\d.]+)", row["inputs"]))
    return driver_of(fs, qts, vas * CM3), volume * CM3


@pytest.mark.parametrize("row", published_rows("closed_box_examples.csv"), ids=lambda row: row["id"])
def test_every_example_as_printed(row):
    """Relations of Small 1972; the inputs and rounded results of CB5 are printed in a public article."""
    box = closed_box(*example(row))
    assert box.stuffing == UNFILLED
    assert agrees_with_print(box.alpha.best, row["alpha"])
    assert agrees_with_print(box.fc_hz.best, row["fc_hz"])
    assert agrees_with_print(box.qtc.best, row["Qtc"])
    assert agrees_with_print(box.f3_hz.best, row["f3_hz"])
    assert agrees_with_print(box.peak_db.best, row["peak_dB"])
    assert box.f3_hz.exact  # everything was given without limits


def moved(made, volume_mm3, f_hz, volts):
    """Solve coil and cone of a made speaker as one network: current and displacement, complex, peak."""
    air_n_m = ROOM_AIR.stiffness_pa * made.sd_m2**2 / (volume_mm3 * 1e-9)
    w = 2 * pi * f_hz
    network = np.array(
        [
            [made.re_ohm, 1j * w * made.bl_tm],
            [-made.bl_tm, made.stiffness_n_m + air_n_m - w**2 * made.mass_kg + 1j * w * made.loss_n_s_m],
        ]
    )
    return np.linalg.solve(network, [volts * sqrt(2), 0])


@pytest.mark.parametrize("made", MADE)
@pytest.mark.parametrize("volume_mm3", [800.0, 3000.0, 25_000.0])
def test_travel_is_that_of_the_network_solved_directly(made, volume_mm3):
    """The two equations of a moving coil (Kirchhoff, Newton), the air behind it as a spring; numpy.linalg."""
    box, power = closed_box(made.driver, volume_mm3), 0.4
    volts = sqrt(power * made.re_ohm)
    expected = [1000 * abs(moved(made, volume_mm3, f, volts)[1]) for f in SWEEP]
    assert box.travel_mm(SWEEP, power) == pytest.approx(expected, rel=1e-9)
    assert box.travel_mm(300.0, power) == pytest.approx(1000 * abs(moved(made, volume_mm3, 300.0, volts)[1]), rel=1e-9)


@pytest.mark.parametrize("made", MADE)
@pytest.mark.parametrize("volume_mm3", [800.0, 25_000.0])
def test_the_level_is_that_of_the_volume_the_cone_moves(made, volume_mm3):
    """A small source in a large wall: p = rho w^2 Sd x / (2 pi r), textbooks (from memory); level against 20 uPa."""
    box, power = closed_box(made.driver, volume_mm3), 0.4
    volts = sqrt(power * made.re_ohm)
    x_m = np.array([abs(moved(made, volume_mm3, f, volts)[1]) for f in SWEEP])
    pressure = ROOM_AIR.density_kg_m3 * (2 * pi * SWEEP) ** 2 * made.sd_m2 * x_m / (2 * pi) / sqrt(2)
    assert box.level_db(SWEEP, power) == pytest.approx(20 * np.log10(pressure / 20e-6), abs=1e-8)


@pytest.mark.parametrize("made", MADE[:2])
def test_travel_is_that_of_the_motion_in_time(made):
    """Mass, spring and damper driven by a sine, stepped in time by scipy.signal.lsim until it has settled."""
    volume_mm3, f_hz, power = 2000.0, 420.0, 0.3
    stiffness = made.stiffness_n_m + ROOM_AIR.stiffness_pa * made.sd_m2**2 / (volume_mm3 * 1e-9)
    damping = made.loss_n_s_m + made.bl_tm**2 / made.re_ohm
    m = made.mass_kg
    motion = StateSpace(
        [[0, 1], [-stiffness / m, -damping / m]], [[0], [made.bl_tm / made.re_ohm / m]], [[1, 0]], [[0]]
    )
    time = np.arange(0, 60 / f_hz, 1 / f_hz / 400)
    _, x_m, _ = lsim(motion, sqrt(2 * power * made.re_ohm) * np.sin(2 * pi * f_hz * time), time)
    box = closed_box(made.driver, volume_mm3)
    assert box.travel_mm(f_hz, power) == pytest.approx(1000 * abs(x_m[-4000:]).max(), rel=2e-4)
    _, steady = freqs([made.bl_tm / made.re_ohm / m], [1, damping / m, stiffness / m], 2 * pi * SWEEP)
    assert box.travel_mm(SWEEP, power) == pytest.approx(1000 * abs(steady) * sqrt(2 * power * made.re_ohm), rel=1e-9)


@pytest.mark.parametrize("made", MADE)
@pytest.mark.parametrize("volume_mm3", [400.0, 3000.0, 60_000.0])
@pytest.mark.parametrize("from_hz", [0.0, 100.0, 450.0, 3000.0])
def test_nowhere_does_the_cone_go_farther_than_the_greatest_travel(made, volume_mm3, from_hz):
    """The greatest of the direct solution, searched on a fine grid and then by scipy.optimize."""
    power = 0.4
    volts = sqrt(power * made.re_ohm)

    def goes(f):
        return 1000 * abs(moved(made, volume_mm3, f, volts)[1])

    grid = np.linspace(from_hz, from_hz + 4000, 2000)
    best = grid[np.argmax([goes(f) for f in grid])]
    span = (max(best - 2, from_hz), best + 2)
    found = minimize_scalar(lambda f: -goes(f), bounds=span, method="bounded", options={"xatol": 1e-7})
    expected = max(-found.fun, goes(from_hz))
    assert closed_box(made.driver, volume_mm3).greatest_travel_mm(power, from_hz).best == pytest.approx(
        expected, rel=1e-7
    )


def test_half_a_sphere_of_air_at_20_c():
    """112.16 dB computed for 1.204 kg/m3 and 343.2 m/s, printed elsewhere as 112.0 to 112.2."""
    assert agrees_with_print(half_space_db(Air(20.0)), "112.16")
    assert agrees_with_print(10 * log10(1.204 * 343.2 / (2 * pi) / (20e-6) ** 2), "112.16")
    assert half_space_db(Air(0.0)) > half_space_db(Air(40.0))


def test_sensitivity_follows_from_the_driver_alone():
    """The second form of the efficiency, rho (Bl)^2 Sd^2 / (2 pi c Mms^2 Re): encyclopaedia article after Beranek."""
    for made in MADE:
        eta = ROOM_AIR.density_kg_m3 * (made.bl_tm * made.sd_m2 / made.mass_kg) ** 2
        eta /= 2 * pi * ROOM_AIR.speed_m_s * made.re_ohm
        for volume in (500, 50_000):
            found = closed_box(made.driver, volume).sensitivity_db.best
            assert found == pytest.approx(112.16 + 10 * log10(eta), abs=0.006)


@given(some_fs, some_qts, some_vas, some_volume, any_stuffing, st.floats(0.2, 1.0))
def test_the_cutoff_scales_with_the_drivers_resonance(fs, qts, vas, volume, stuffing, times):
    one = closed_box(driver_of(fs, qts, vas), volume, stuffing=stuffing)
    other = closed_box(driver_of(fs * times, qts, vas), volume, stuffing=stuffing)
    assert other.f3_hz.best == pytest.approx(one.f3_hz.best * times, rel=1e-9)
    assert other.qtc.best == pytest.approx(one.qtc.best)


@given(some_fs, some_qts, some_vas, some_volume, any_stuffing, st.floats(1.0, 10.0))
def test_a_larger_chamber_never_raises_qtc_resonance_or_peak(fs, qts, vas, volume, stuffing, times):
    driver = driver_of(fs, qts, vas)
    small, large = (closed_box(driver, each, stuffing=stuffing) for each in (volume, volume * times))
    for name in ("qtc", "fc_hz", "peak_db", "alpha"):
        before, after = getattr(small, name), getattr(large, name)
        for end in ("best", "low", "high"):
            assert getattr(after, end) <= getattr(before, end) * (1 + 1e-12)


@given(some_fs, some_qts, some_vas)
def test_an_endless_chamber_leaves_the_driver_as_it_is(fs, qts, vas):
    box = closed_box(driver_of(fs, qts, vas), 1e15)
    assert (box.fc_hz.best, box.qtc.best) == pytest.approx((fs, qts), rel=1e-6)


@given(some_fs, some_qts, some_vas, some_volume, any_stuffing, st.floats(0.0, 0.2))
def test_every_band_contains_its_best_and_curves_of_single_cases(fs, qts, vas, volume, stuffing, share):
    driver = unsure(driver_of(fs, qts, vas, xmax_mm=Known.of(0.4, within=0.1)), share)
    box = closed_box(driver, Band(volume, volume * (1 - share), volume * (1 + share)), stuffing=stuffing)
    bands = [box.alpha, box.fc_hz, box.qtc, box.f3_hz, box.peak_db, box.sensitivity_db]
    bands += [box.greatest_travel_mm(0.5), box.safe_power_w()]
    assert all(band.low <= band.best <= band.high for band in bands)
    low, high = box.response_band_db(SWEEP)
    best = box.response_db(SWEEP)
    assert (low <= best + 1e-12).all()
    assert (best <= high + 1e-12).all()
    if not share and stuffing is UNFILLED:
        assert all(band.exact for band in bands[:6])
        assert low == pytest.approx(high, abs=1e-12)


@pytest.mark.parametrize("stuffing", STUFFINGS.values(), ids=STUFFINGS)
def test_the_band_of_the_response_holds_every_case_one_by_one(stuffing):
    box = closed_box(unsure(MADE[0].driver, 0.1), Band(2000, 1800, 2200), stuffing=stuffing)
    s = 1j * SWEEP[:, None] / box.cases.fc_hz.ravel()
    every = 20 * np.log10(abs(s**2 / (s**2 + s / box.cases.qtc.ravel() + 1)))
    low, high = box.response_band_db(SWEEP)
    assert (low <= every.min(axis=1) + 1e-9).all()
    assert (high >= every.max(axis=1) - 1e-9).all()
    assert high.max() == pytest.approx(box.peak_db.high, abs=0.01)  # no higher than its highest peak
    assert box.response_band_db(400.0) == pytest.approx([part[0] for part in box.response_band_db([400.0])])


@given(some_fs, some_qts, some_vas, st.lists(st.floats(0, 1), min_size=4, max_size=4))
def test_a_speaker_anywhere_within_the_limits_lies_in_the_band(fs, qts, vas, where):
    unknown = unsure(driver_of(fs, qts, vas), 0.2)
    low, high = closed_box(unknown, 2000.0).response_band_db(SWEEP)
    fields = ("fs_hz", "qes", "qms", "vas_mm3")
    one = {}
    for field, share in zip(fields, where, strict=True):
        known = unknown.known(field)
        one[field] = Known.of(known.low + share * (known.high - known.low))
    rise = np.sqrt(1 + one["vas_mm3"].value / 2000)
    q = 1 / (1 / one["qes"].value + 1 / one["qms"].value) * rise
    s = 1j * SWEEP / (one["fs_hz"].value * rise)
    level = 20 * np.log10(abs(s**2 / (s**2 + s / q + 1)))
    assert (low <= level + 1e-9).all()
    assert (level <= high + 1e-9).all()


def test_the_band_is_that_of_boxes_made_one_by_one():
    """Every limit of driver, volume and filling as a box of its own."""
    driver, volume = unsure(MADE[1].driver, 0.1, ("fs_hz", "qes")), Band(2000, 1800, 2200)
    box = closed_box(driver, volume, stuffing=FILLED)
    singles = [
        closed_box(
            replace(driver, fs_hz=fs, qes=qes), each, stuffing=replace(FILLED, volume_gain=(gain,) * 3, q_box=(q,) * 3)
        )
        for fs in driver.fs_hz.spread
        for qes in driver.qes.spread
        for each in (1800, 2000, 2200)
        for gain in FILLED.volume_gain
        for q in FILLED.q_box
    ]
    for name in ("fc_hz", "qtc", "f3_hz", "peak_db", "sensitivity_db"):
        values = [getattr(each, name).best for each in singles]
        assert (getattr(box, name).low, getattr(box, name).high) == pytest.approx((min(values), max(values)))
    travels = [each.greatest_travel_mm(0.5).best for each in singles]
    found = box.greatest_travel_mm(0.5)
    assert (found.low, found.high) == pytest.approx((min(travels), max(travels)))


@given(st.floats(0.01, 2.0), st.sampled_from(MADE), some_volume)
def test_twice_the_power_is_3_db_and_root_2_of_the_travel(power, made, volume):
    box = closed_box(made.driver, volume)
    assert box.level_db(700.0, 2 * power) - box.level_db(700.0, power) == pytest.approx(10 * log10(2))  # +3.01 dB
    assert box.travel_mm(700.0, 2 * power) == pytest.approx(sqrt(2) * box.travel_mm(700.0, power))


@given(st.sampled_from(MADE), some_volume, st.floats(0, 600))
def test_at_the_safe_power_the_cone_goes_just_as_far_as_it_may(made, volume, from_hz):
    box = closed_box(unsure(made.driver), Band(volume, volume * 0.9, volume * 1.1))
    safe, allowed = box.safe_power_w(from_hz), box.driver.known("xmax_mm")
    assert box.greatest_travel_mm(safe.best, from_hz).best == pytest.approx(allowed.value)
    assert box.greatest_travel_mm(safe.low, from_hz).high == pytest.approx(allowed.low)
    assert box.greatest_travel_mm(safe.high, from_hz).low == pytest.approx(allowed.high)


def test_where_the_travel_allowed_is_not_known_there_is_no_safe_power():
    box = closed_box(MADE[0].driver, 2000)
    assert replace(box, driver=replace(box.driver, xmax_mm=None)).safe_power_w() is None


def test_filling_acts_as_a_larger_chamber_and_takes_motion_away():
    """A volume 1.25 times as large, and Leach's loss beside it: 1/Qtc grows by 1/3.5 - 1/8.5."""
    driver = driver_of(500, 0.7, 2000)
    bare, filled = closed_box(driver, 2500), closed_box(driver, 2000, stuffing=FILLED)
    assert filled.fc_hz.best == pytest.approx(bare.fc_hz.best)
    assert 1 / filled.qtc.best - 1 / bare.qtc.best == pytest.approx(1 / 3.5 - 1 / 8.5)
    assert filled.qtc.low < filled.qtc.best < filled.qtc.high
    lightly = closed_box(driver, 2000, stuffing=LIGHTLY_FILLED)
    unfilled = closed_box(driver, 2000)
    assert filled.qtc.best < lightly.qtc.best < unfilled.qtc.best
    assert lightly.qtc.high == unfilled.qtc.best  # it may as well do nothing


def test_the_filling_joins_the_mechanical_losses_alone():
    box = closed_box(driver_of(500, 0.7, 2000), 2000, stuffing=FILLED)
    cases = box.cases
    assert cases.qec.flat[0] == pytest.approx(box.driver.qes.value * sqrt(1 + 2000 / 2500))
    assert 1 / cases.qmc.flat[0] == pytest.approx(1 / (4.0 * sqrt(1.8)) + 1 / FILLED.q_box[1])


def test_an_uncertain_volume_counts_two_standard_uncertainties_either_way():
    driver = driver_of(500, 0.7, 2000)
    sure, unsure_ = closed_box(driver, Band(2000, 1900, 2100)), closed_box(driver, ufloat(2000, 50))
    assert unsure_.volume_mm3 == Band(2000, 1900, 2100)
    assert unsure_.f3_hz == sure.f3_hz
    assert unsure_.qtc.high == closed_box(driver, 1900).qtc.best
    assert unsure_ == sure
    assert closed_box(driver, 2000, air=Air(10.0)) != closed_box(driver, 2000)


def test_colder_air_is_reckoned_with():
    """The stiffness of air goes with its pressure alone, so that resonance stays; denser air takes up more sound.

    Ideal gas, with c as 1/sqrt(rho): eta as c^-3, the half sphere as rho c; together as rho^2.
    """
    driver = MADE[0].driver
    warm, cold = closed_box(driver, 2000, air=Air(30.0)), closed_box(driver, 2000, air=Air(0.0))
    assert cold.fc_hz == warm.fc_hz
    expected = 20 * log10((273.15 + 30) / 273.15)
    assert cold.sensitivity_db.best - warm.sensitivity_db.best == pytest.approx(expected)
    assert cold.travel_mm(300, 0.4) == pytest.approx(warm.travel_mm(300, 0.4))


def test_a_driver_known_by_its_size_and_impedance_alone_gets_wide_bands():
    box = closed_box(Driver("sample", length_mm=15, width_mm=11, impedance_ohm=8), 2000)
    assert box.fc_hz.low < box.fc_hz.best < box.fc_hz.high
    assert not box.qtc.exact
    assert all(box.driver.known(field) is not None for field in ("fs_hz", "qts", "vas_mm3", "xmax_mm"))


@pytest.mark.parametrize(
    ("volume", "error", "text"),
    [
        (0, OutOfRange, f"is 0 mm3; it must be a finite number above 0{MM3}"),
        (inf, OutOfRange, f"is inf mm3; it must be a finite number above 0{MM3}"),
        ("2 cm3", WrongKind, f"is '2 cm3'; expected a number, or an array of numbers{MM3}"),
        (ufloat(100, 60), OutOfRange, f"is 100 mm3, from -20 to 220 mm3; it must be above 0 throughout{CLOSER}"),
        (Band(100, 120, 140), OutOfRange, f"is 100 mm3, from 120 to 140 mm3; it must be above 0 throughout{CLOSER}"),
    ],
)
def test_what_is_no_volume_is_refused(volume, error, text):
    with pytest.raises(error, match=f"^the volume of the chamber {text}$"):
        closed_box(MADE[0].driver, volume)


def test_the_least_volume_is_just_above_0():
    assert volume_band(Band(0.6, 0.5, 0.7)) == Band(0.6, 0.5, 0.7)
    assert volume_band(ufloat(2.0, 0.9)) == Band(2.0, pytest.approx(0.2), pytest.approx(3.8))
    for low in (0.0, -0.1):
        with pytest.raises(OutOfRange, match=r"it must be above 0 throughout"):
            volume_band(Band(0.6, low, 0.7))


def test_what_is_no_power_or_frequency_is_refused():
    box = closed_box(MADE[0].driver, 2000)
    power = r"^the power is 0 W; it must be a finite number above 0\. Write it in watts, such as 0\.5\.$"
    for call in (lambda: box.level_db(500, 0), lambda: box.travel_mm(500, 0), lambda: box.greatest_travel_mm(0)):
        with pytest.raises(OutOfRange, match=power):
            call()
    rest = r"frequency is -5 Hz; it must be a finite number, 0 or more\. Write it in hertz, such as 500\.$"
    for call in (lambda: box.level_db(-5, 1), lambda: box.travel_mm(-5, 1), lambda: box.response_band_db(-5)):
        with pytest.raises(OutOfRange, match=rf"^the {rest}"):
            call()
    for call in (lambda: box.greatest_travel_mm(1, -5), lambda: box.safe_power_w(-5)):
        with pytest.raises(OutOfRange, match=rf"^the lowest {rest}"):
            call()


def test_an_output_holds_its_voltage_whatever_re_is():
    """V = sqrt(P Z) by the rated impedance; force Bl V / Re on both springs, by hand; power into Re is V^2 / Re."""
    for re_ohm in (5.6, 7.0, 8.0):
        driver = Driver("made", impedance_ohm=8, re_ohm=re_ohm, fs_hz=700, qes=1, qms=4, vas_mm3=2000, sd_mm2=100)
        box = closed_box(driver, 6000)
        volts = sqrt(1.5 * 8)
        cms = 2000e-9 / (ROOM_AIR.stiffness_pa * (100e-6) ** 2)
        mms = 1 / ((2 * pi * 700) ** 2 * cms)
        bl = sqrt(2 * pi * 700 * mms * re_ohm)
        resting = sqrt(2) * bl * volts / re_ohm * cms / (1 + 2000 / 6000)
        assert box.travel_mm(1e-3, 1.5) == pytest.approx(1000 * resting, rel=1e-6)
        louder = 10 * log10(volts**2 / re_ohm)
        assert box.loudness_db(1.5).best == pytest.approx(box.sensitivity_db.best + louder)


def test_a_speaker_that_gives_more_than_it_gets_has_a_wrong_unit():
    driver = Driver("made", re_ohm=7, fs_hz=700, qes=1, qms=4, vas_mm3=4e6, sd_mm2=100)
    text = (
        r"^what is known of the made is fs 700 Hz, Vas 4e\+03 cm3 and Qes 1; it must be such that less sound comes out "
        r"than power goes in\. Check their units: Vas in cm3, not litres\.$"
    )
    with pytest.raises(OutOfRange, match=text):
        closed_box(driver, 6000)


@given(some_volume, st.floats(0, 1), st.floats(0, 1))
def test_the_cutoff_of_a_volume_between_the_limits_lies_in_the_band(volume, share, vas_share):
    vas = Known(2000, 400, 8000)
    driver = Driver("made", re_ohm=7, fs_hz=500, qes=0.6, qms=4, vas_mm3=vas, sd_mm2=100)
    band = Band(volume, 0.3 * volume, 4 * volume)
    f3 = closed_box(driver, band).f3_hz
    inner = closed_box(
        Driver("made", re_ohm=7, fs_hz=500, qes=0.6, qms=4, vas_mm3=400 + vas_share * 7600, sd_mm2=100),
        band.low + share * (band.high - band.low),
    )
    assert f3.low - 1e-9 <= inner.f3_hz.best <= f3.high + 1e-9


def test_a_box_shown_in_a_notebook_keeps_its_thousands_of_cases_to_itself():
    made = Driver("made up", fs_hz=500, qes=1, qms=4, vas_mm3=2000, sd_mm2=100, re_ohm=7)
    assert "cases" not in repr(closed_box(made, 2000))

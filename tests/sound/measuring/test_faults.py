"""A bad sweep says what to take again."""

from __future__ import annotations

import re
from dataclasses import replace

import numpy as np
import pytest
from sound.measuring.simulated import TRUE, even, random_sweep, swept

from modelmath.errors import UnknownChoice
from modelmath.sound.measuring.curve import ImpedanceCurve
from modelmath.sound.measuring.faults import KINDS, UNTRUSTED, SweepFault
from modelmath.sound.measuring.fit import fit_sweep
from modelmath.sound.measuring.sweep import Sweep


def only(fit):
    (fault,) = fit.faults
    return fault


def resonating(at_hz, ohm, q):
    return lambda f: TRUE.impedance_ohm(f) + ohm / (1 + 1j * q * (f / at_hz - at_hz / f))


def changed(sweep, f_hz=None, z_ohm=None, phase=None):
    return Sweep(
        tuple(map(float, sweep.frequency_hz if f_hz is None else f_hz)),
        tuple(map(float, sweep.impedance_ohm if z_ohm is None else z_ohm)),
        sweep.phase_rad if phase is None else tuple(map(float, phase)),
    )


def test_a_good_sweep_has_none():
    assert fit_sweep(swept(TRUE, even(), 0.005, 0.005)).faults == ()
    assert fit_sweep(swept(TRUE, even(), 0.0)).faults == ()


def test_of_many_good_sweeps_none_but_narrow_peaks_are_found_bad():
    for seed in range(7000, 7040):
        assert {fault.kind for fault in fit_sweep(random_sweep(seed)[1]).faults} <= {"sparse"}, seed


@pytest.mark.parametrize(
    ("curve", "f_hz", "kind", "stops", "said"),
    [
        (
            TRUE, even(count=8), "too few", True,
            "8 points are too few for six unknowns; 12 are the least. Take 40 or more, closer together about the peak.",
        ),
        (
            TRUE, even(400, 2000), "range", False,
            ("The sweep begins at 400 Hz: too little of it lies below the peak at 480.5 Hz. Sweep from 120 to 1900 Hz, "
            "a quarter to four times the resonance."),
        ),
        (
            TRUE, even(120, 600), "range", False,
            ("The sweep ends at 600 Hz: too little of it lies above the peak at 479.5 Hz. Sweep from 120 to 1900 Hz, "
            "a quarter to four times the resonance."),
        ),
        (
            TRUE, even(490, 2000), "peak at an end", True,
            ("The impedance is highest at the lower end, 490 Hz: the resonance lies there or lower. Sweep again from "
            "61 Hz."),
        ),
        (
            TRUE, even(120, 470), "peak at an end", True,
            ("The impedance is highest at the upper end, 470 Hz, and no peak stands below it. Sweep again up to "
            "3800 Hz; if that shows none either, take the points closer together."),
        ),
        (
            lambda f: 7.0 + 0j * f, even(), "no peak", True,
            ("No peak stands out between 120 and 2000 Hz. Check that the cone moves freely and that the speaker is "
            "connected, then sweep with points closer together."),
        ),
        (
            TRUE, np.arange(100, 2001, 110.0), "sparse", False,
            ("The peak at 485 Hz is 206 Hz wide, and 2 of the points lie across it; 5 are the least. Sweep again with "
            "steps of 26 Hz or less there."),
        ),
        (
            resonating(1100, 9, 12), even(), "two peaks", False,
            ("Two peaks stand out at 481.3 Hz and 1092 Hz. Which is the speaker's own can't be told: something else "
            "resonates, such as a buzzing enclosure, a loose clamp or the bench. Take it again in free air, the "
            "speaker held by its rim."),
        ),
        (
            resonating(620, 3, 4), even(), "misfit", False,
            ("About 554.9 Hz the readings leave the curve by 8 %, several in a row: another resonance or a drifting "
            "level. The intervals are too narrow then. Take it again in free air, at a lower level."),
        ),
        (
            lambda f: TRUE.impedance_ohm(f) * 1j * f / 250 / (1 + 1j * f / 250), even(), "below Re", True,
            ("The impedance falls to 3.25 ohm at 120 Hz, below any resistance that would fit, which no speaker does "
            "alone. Check the contacts and the series resistor, leave no capacitor or second speaker connected, and "
            "sweep again."),
        ),
        (
            lambda f: TRUE.impedance_ohm(f) / 1000, even(), "unit", True,
            ("No reading is above 0.02344 ohm, which no voice coil has. If the readings are in kohm, write impedance "
            "[kohm] over them; else look for a short circuit, and sweep again."),
        ),
        (
            lambda f: TRUE.impedance_ohm(f) * 1000, even(), "unit", True,
            ("No reading is below 7510 ohm, which no voice coil has. Check the unit over the column and the value of "
            "the series resistor; look for an open circuit, and sweep again."),
        ),
    ],
)  # fmt: skip
def test_what_is_wrong_is_said_with_what_to_take_again(curve, f_hz, kind, stops, said):
    fit = fit_sweep(swept(curve, f_hz, 0.0))
    assert only(fit).kind == kind
    assert only(fit).message == said
    assert only(fit).stops is stops
    assert fit.fitted is not stops


ELSE = "else sweep again between 20 Hz and 20 kHz."
KHZ = f"the frequencies look like kHz. Write frequency [kHz] over them if they are; {ELSE}"
HZ = f"check the unit over the frequencies, and write frequency [Hz] if it is Hz; {ELSE}"


@pytest.mark.parametrize(
    ("low", "high", "times", "said"),
    [
        (120, 2000, 1e-3, f"The peak stands at 0.4813 Hz, below any speaker's: {KHZ}"),
        (120, 40000, 1e-3, f"The peak stands at 0.4852 Hz, below any speaker's: {KHZ}"),  # some of it above 20
        (600, 4000, 1e-3, f"The sweep runs up to 4 Hz, below any speaker's: {KHZ}"),  # and no peak in it
        (120, 1000, 1e3, f"The peak stands at 484.5 kHz, above any speaker's: {HZ}"),
        (600, 1000, 1e3, f"The sweep runs up to 1000 kHz, above any speaker's: {HZ}"),
    ],
)
def test_frequencies_in_another_unit_than_their_head_says_are_told(low, high, times, said):
    sweep = swept(TRUE, even(low, high), 0.0)
    fit = fit_sweep(changed(sweep, f_hz=[min(times * f, 1e6) for f in sweep.frequency_hz]))
    assert (only(fit).kind, only(fit).message, fit.fitted) == ("unit", said, False)


@pytest.mark.parametrize("fs_hz", [25.0, 15000.0])
def test_frequencies_that_a_speaker_can_have_are_none_of_these(fs_hz):
    curve = ImpedanceCurve(7.3, fs_hz, 4.2, 16.0)
    assert fit_sweep(swept(curve, even(fs_hz / 4, fs_hz * 4), 0.0)).faults == ()


def test_of_several_peaks_all_are_named_and_none_as_the_speakers_own():
    def many(f):
        return sum(resonating(at, 12, 30)(f) for at in (170.0, 250.0, 1000.0, 1500.0)) - 3 * TRUE.impedance_ohm(f)

    fault = fit_sweep(swept(many, even(count=300), 0.0)).faults[0]
    found = re.match(
        r"^5 peaks stand out, the strongest at (.*) Hz, (.*) Hz, (.*) Hz and (.*) Hz\. Which", fault.message
    )
    assert sorted(found.groups(), key=float) == list(found.groups())


@pytest.mark.parametrize(
    ("curve", "f_hz", "scatter", "why"),
    [
        (resonating(1100, 9, 12), even(), 0.0, "which of the peaks is the speaker's own can't be told"),
        (TRUE, even(400, 2000), 0.0, "the peak lies too near an end of the sweep"),
        (TRUE, np.arange(100, 2001, 110.0), 0.0, "too few points lie across the peak"),
        (TRUE, even(), 0.12, "the readings scatter too much"),
        (TRUE, even(), 0.005, ""),
        (resonating(620, 3, 4), even(), 0.0, ""),  # a misfit
    ],
)
def test_some_faults_leave_parameters_that_are_not_to_be_used(curve, f_hz, scatter, why):
    fit = fit_sweep(swept(curve, f_hz, scatter))
    assert fit.fitted
    assert fit.untrusted == why
    assert set(UNTRUSTED) < set(KINDS)


def test_a_phase_in_radians_under_a_bare_head_is_told_and_left_out():
    sweep = swept(TRUE, even(), 0.005, 0.005)
    in_radians = changed(sweep, phase=np.radians(sweep.phase_rad))  # read as degrees
    bare = replace(in_radians, phase_unit=False)
    assert only(fit_sweep(bare)).message == (
        "The phase looks like radians: write the unit in the head, phase [rad] or phase [degrees]. It was left out."
    )
    assert fit_sweep(bare).logs == fit_sweep(Sweep(sweep.frequency_hz, sweep.impedance_ohm)).logs
    # With its unit named it is what it says, and in degrees under a bare head it is good.
    assert "radians" not in "".join(fault.message for fault in fit_sweep(in_radians).faults)
    assert fit_sweep(replace(sweep, phase_unit=False)).faults == ()


def test_a_small_phase_of_a_speaker_that_hardly_turns_it_is_no_radians():
    flat = ImpedanceCurve(7.3, 485.0, 4.2, 0.39)
    sweep = swept(flat, even(), 0.0001, 0.0001)
    assert np.degrees(np.abs(sweep.phase_rad)).max() < 1.6
    fit = fit_sweep(replace(sweep, phase_unit=False))
    assert fit.fitted
    assert fit.phase_residuals_rad is not None


def test_what_scatters_is_to_be_taken_in_a_quiet_room():
    fault = only(fit_sweep(swept(TRUE, even(), 0.12)))
    assert fault.kind == "scatter"
    assert re.fullmatch(
        r"The readings scatter about the curve by \d+ %\. Take it again in a quiet room, with good contacts and "
        r"nothing touching the cone, and average longer at each frequency\.",
        fault.message,
    )


def test_a_phase_that_scatters_is_told_too():
    fault = only(fit_sweep(swept(TRUE, even(), 0.005, 0.2)))
    assert fault.kind == "scatter"
    assert fault.message.startswith("The phase scatters about the curve by 1")


def test_a_few_readings_below_the_coil_are_told():
    sweep = swept(TRUE, even(), 0.002)
    z_ohm = np.array(sweep.impedance_ohm)
    z_ohm[4] *= 0.85
    fault = fit_sweep(changed(sweep, z_ohm=z_ohm)).faults[0]
    assert fault.kind == "below Re"
    assert re.fullmatch(
        r"The impedance falls to 6\.45 ohm at 138\.4 Hz, below the resistance of the voice coil, 7\.\d+ ohm, which no "
        r"speaker does alone\. Check the contacts and the series resistor, leave no capacitor or second speaker "
        r"connected, and sweep again\.",
        fault.message,
    )


def test_frequencies_that_stand_twice_or_run_both_ways_are_told():
    sweep = swept(TRUE, np.round(even()), 0.002)
    f_hz = list(sweep.frequency_hz)
    twice = changed(sweep, f_hz=[*f_hz[:40], f_hz[39], *f_hz[41:]])
    said = "All readings were used; if two sweeps got mixed, take one of them alone."
    assert fit_sweep(twice).faults[0].message == f"The frequencies don't run one way: 481 Hz stands twice. {said}"
    mixed = changed(sweep, f_hz=[*f_hz[40:], *f_hz[:40]], z_ohm=[*sweep.impedance_ohm[40:], *sweep.impedance_ohm[:40]])
    fault = only(fit_sweep(mixed))
    assert fault.kind == "order"
    assert fault.message.endswith(said)
    assert fit_sweep(mixed).fs.value == pytest.approx(fit_sweep(sweep).fs.value, rel=1e-6)


def test_a_phase_with_its_sign_turned_over_is_left_out():
    sweep = swept(TRUE, even(), 0.005, 0.005)
    turned = fit_sweep(changed(sweep, phase=[-each for each in sweep.phase_rad]))
    assert only(turned).message == (
        "The phase has its sign turned over: below resonance the voltage must lead. It was left out; swap the two "
        "channels or turn the sign over."
    )
    assert turned.phase_residuals_rad is None
    assert turned.logs == fit_sweep(Sweep(sweep.frequency_hz, sweep.impedance_ohm)).logs


def test_any_readings_get_an_answer():
    """Random readings, good for nothing: a fit or a fault that stops it, never an exception."""
    random = np.random.default_rng(5)
    for _ in range(30):
        count = int(random.integers(1, 50))
        f_hz = np.exp(random.uniform(-3, 13, count))
        z_ohm = np.exp(random.uniform(-6, 12, count) if random.random() < 0.5 else random.uniform(1, 4, count))
        phase = tuple(random.uniform(-6, 6, count)) if random.random() < 0.5 else None
        fit = fit_sweep(Sweep(tuple(f_hz), tuple(z_ohm), phase))
        assert fit.fitted is not any(fault.stops for fault in fit.faults)
        assert fit.faults


def test_an_unknown_kind_is_refused():
    with pytest.raises(UnknownChoice, match=r"^the kind of fault is 'odd'; write one of too few, .*$"):
        SweepFault("odd", "")
    assert len(KINDS) == 13

"""A generated sound: its harmonics against a filter of scipy, its level, its quiet start, its file."""

from __future__ import annotations

import wave
from io import BytesIO

import numpy as np
import pytest
from scipy.signal import bilinear, lfilter

from modelmath.errors import OutOfRange, UnknownChoice
from modelmath.sound.closed_box.response import response
from modelmath.sound.hearing.render import LEVEL, RATE_HZ, SOUNDS, sound, wav


def settled(samples):
    """Return the part that is neither faded in nor out."""
    return samples[int(1.5 * RATE_HZ) : int(2.8 * RATE_HZ)]


@pytest.mark.parametrize("name", list(SOUNDS))
def test_harmonics_are_weighted_as_a_filter_weights_them(name):
    """scipy.signal.bilinear of the second-order high-pass, prewarped at its resonance; only the shape counts."""
    fc, q = 700.0, 0.9
    w = 2 * RATE_HZ * np.tan(np.pi * fc / RATE_HZ)
    digital = bilinear([1, 0, 0], [1, w / q, w * w], fs=RATE_HZ)
    plain = sound(name)
    filtered = settled(lfilter(*digital, plain))
    through = settled(sound(name, lambda hz: response(hz, fc, q)))
    spectra = [np.abs(np.fft.rfft(each * np.hanning(each.size))) for each in (filtered, through)]
    low = int(3000 / RATE_HZ * through.size)  # far below half the rate, where the bilinear filter is true
    one, other = (each[:low] / np.sqrt((each[:low] ** 2).sum()) for each in spectra)
    assert float((one * other).sum()) > 0.999


@pytest.mark.parametrize("name", list(SOUNDS))
@pytest.mark.parametrize("cutoff", [None, 300.0, 2000.0])
def test_all_are_as_loud_and_start_quiet(name, cutoff):
    through = None if cutoff is None else (lambda hz: response(hz, cutoff, 0.7))
    samples = sound(name, through)
    assert np.sqrt((settled(samples) ** 2).mean()) == pytest.approx(LEVEL, rel=0.05)
    start = samples[: RATE_HZ // 20]
    assert np.sqrt((start**2).mean()) < LEVEL / 20
    assert np.abs(samples).max() <= 1
    assert abs(samples[-1]) < 1e-3


@pytest.mark.parametrize("count", [300, 818])
def test_where_a_peak_would_not_fit_all_is_lower(count):
    """N equal cosines that all meet at once: their peak is sqrt(2 N) times their root mean square.

    Of 300 that is 24.5 times, of all 9000 / 11 = 818 it is 40.4 times: at the common level 1.47 and 2.43, above full
    scale.
    """
    name = "motor turning over"
    spectrum = np.fft.rfft(sound(name)[RATE_HZ : 2 * RATE_HZ])  # a whole second, neither faded in nor out
    samples = sound(name, lambda hz: np.where(hz < 11 * (count + 0.5), 1 / spectrum[np.round(hz).astype(int)], 0))
    assert np.sqrt(2 * count) * LEVEL > 1.4
    assert samples[RATE_HZ] == pytest.approx(1, rel=1e-6)
    assert np.abs(samples).max() == pytest.approx(1, rel=1e-6)
    assert np.sqrt((samples[RATE_HZ : 2 * RATE_HZ] ** 2).mean()) == pytest.approx(1 / np.sqrt(2 * count), rel=1e-3)


def test_what_lets_nothing_through_is_silent():
    assert (sound("motor turning over", lambda hz: np.zeros(hz.size, complex)) == 0).all()


def test_the_file_holds_the_samples():
    samples = sound("three-note whistle", length_s=0.2)
    with wave.open(BytesIO(wav(samples))) as file:
        assert (file.getnchannels(), file.getsampwidth(), file.getframerate()) == (1, 2, RATE_HZ)
        back = np.frombuffer(file.readframes(file.getnframes()), "<i2") / 32767
    assert np.abs(back - samples).max() < 1 / 32767


def test_the_same_sound_every_time():
    assert (sound("motor turning over") == sound("motor turning over")).all()


def test_what_there_is_none_of_is_refused():
    with pytest.raises(
        UnknownChoice, match=r"^the sound is 'bell'; write one of three-note whistle, motor turning over\.$"
    ):
        sound("bell")
    text = r"^the length of the sound is 30 s; it must be above 0 s, up to 20 s\. Write 3\.$"
    with pytest.raises(OutOfRange, match=text):
        sound("motor turning over", length_s=30)


def test_a_sound_too_short_for_a_sample_still_has_one():
    assert sound("motor turning over", length_s=1e-6).shape == (1,)
    assert sound("motor turning over", length_s=2.5 / RATE_HZ).shape == (2,)
    assert sound("motor turning over", length_s=20).shape == (20 * RATE_HZ,)


@pytest.mark.parametrize("name", list(SOUNDS))
def test_each_harmonic_has_its_phase_and_strength(name):
    """Phases pi n (n - 1) / N: M. R. Schroeder 1970, low peak factors, from memory; strengths n to a negative power.

    Each fundamental begins a radian later than the one before, so that not all meet at once.
    """
    spectrum = np.fft.rfft(sound(name)[RATE_HZ : 2 * RATE_HZ])  # a whole second, neither faded in nor out
    fundamentals, falls = SOUNDS[name]
    expected = np.zeros(spectrum.size, complex)
    for place, hz in enumerate(fundamentals):
        count = 9000 // hz
        for n in range(1, count + 1):
            expected[n * hz] += np.exp(1j * (np.pi * n * (n - 1) / count + place)) / n**falls
    expected *= np.sqrt((abs(spectrum) ** 2).sum() / (abs(expected) ** 2).sum())
    assert abs(spectrum - expected).max() < 1e-6 * abs(expected).max()


def test_it_fades_in_over_a_second_and_out_at_its_end():
    """From 2 % of the level by equal steps in ratio: after half a second at the root of 0.02; out within 50 ms."""
    whole = sound("motor turning over")
    even = whole[RATE_HZ : RATE_HZ + RATE_HZ // 2]
    assert np.sqrt((even**2).mean()) == pytest.approx(LEVEL, rel=0.1)
    steady = np.where(np.abs(whole[RATE_HZ : 2 * RATE_HZ]) < 1e-9, np.nan, whole[RATE_HZ : 2 * RATE_HZ])
    rise = whole[:RATE_HZ] / steady  # every second repeats
    time = np.arange(RATE_HZ) / RATE_HZ
    assert rise[0] == pytest.approx(0.02)
    assert rise[RATE_HZ // 2] == pytest.approx(0.02**0.5, rel=1e-6)
    assert np.nanmax(abs(rise / 0.02 ** (1 - time) - 1)) < 1e-6
    fall = whole[2 * RATE_HZ :] / steady
    left = (RATE_HZ - 1 - np.arange(RATE_HZ)) / RATE_HZ
    assert np.nanmax(abs(fall - np.clip(left / 0.05, 0, 1))) < 1e-6


def test_a_whistle_is_a_chord_and_a_motor_turns_11_times_a_second():
    """Whole hertz nearest to d sharp, f sharp and a sharp of equal temperament, six and three below a and one above."""
    chord, motor = (SOUNDS[name] for name in ("three-note whistle", "motor turning over"))
    assert chord[0] == tuple(round(440 * 2 ** (semitones / 12)) for semitones in (-6, -3, 1))
    assert motor[0] == (11,)
    assert all(0 < falls < 1 for _, falls in (chord, motor))  # harmonics fall off, but no faster than a saw's


def test_a_file_holds_full_scale_and_no_more():
    with wave.open(BytesIO(wav(np.array([1.0, -1.0, 0.5, 2.0, -2.0, 0.0])))) as file:
        found = np.frombuffer(file.readframes(6), "<i2").tolist()
    assert found == [32767, -32767, 16384, 32767, -32768, 0]

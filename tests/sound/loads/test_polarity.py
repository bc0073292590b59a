"""Which tags are joined, the bench test by Ohm's law, and what a speaker turned round costs, by integration."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from modelmath.errors import OutOfRange
from modelmath.sound.air import ROOM_AIR
from modelmath.sound.loads import (
    RatedSpeaker,
    Single,
    in_parallel,
    in_series,
    joints,
    polarity_cost_in_words,
    polarity_in_words,
    polarity_test,
    reversed_loss_db,
    several,
    wirings,
)

# Gauss-Legendre in the cosine of the angle to the line through both sources: an integral over the sphere.
COSINES, WEIGHTS = np.polynomial.legendre.leggauss(200)


def powers_all_round(spacing_mm, frequency_hz):
    """Integrate the squared pressure of two small sources over all directions: opposed, and alike."""
    kd = 2 * np.pi * frequency_hz * spacing_mm / 1000 / ROOM_AIR.speed_m_s
    delayed = np.exp(-1j * kd * COSINES)
    return [float(np.sum(WEIGHTS * np.abs(1 + sign * delayed) ** 2)) for sign in (-1, 1)]


@given(st.floats(5, 100), st.floats(50, 20_000))
def test_the_loss_agrees_with_an_integral_over_all_directions(spacing_mm, frequency_hz):
    opposed, alike = powers_all_round(spacing_mm, frequency_hz)
    assert reversed_loss_db(spacing_mm, frequency_hz) == pytest.approx(10 * np.log10(opposed / alike), abs=1e-6)


def test_far_below_the_wavelength_two_cancel():
    """abs(1 - 1) is 0: each halving of the frequency takes 6 dB more, without end."""
    assert reversed_loss_db(20, 50) - reversed_loss_db(20, 100) == pytest.approx(-20 * np.log10(2), abs=0.01)
    assert reversed_loss_db(20, 1e-3) < -130
    # Both forms of the difference agree where one takes over from the other.
    near = 0.01 * ROOM_AIR.speed_m_s / (2 * np.pi) * 1000
    assert reversed_loss_db(near, 0.9999) == pytest.approx(reversed_loss_db(near, 1.0001), abs=0.002)


def test_far_above_the_wavelength_it_hardly_matters():
    assert abs(reversed_loss_db(100, 20_000)) < 0.5


@pytest.mark.parametrize("count", range(1, 7))
def test_each_tag_is_joined_once(count):
    speakers = several(RatedSpeaker("box", 8), count)
    tags = sorted(f"{each.name} {sign}" for each in speakers for sign in "+−")
    for wiring in wirings(speakers):
        found = joints(wiring)
        assert sorted(tag for joint in found for tag in joint) == tags
        assert all(tag.endswith("+") for tag in found[0])
        assert all(tag.endswith("−") for tag in found[1])
        # What is joined between must be entered and left by current: both signs.
        assert all({tag[-1] for tag in joint} == {"+", "−"} for joint in found[2:])


def test_the_joints_in_words():
    assert polarity_in_words(in_parallel(in_series("a", "b"), "c")) == (
        "To the decoder's first speaker wire: a + and c +.",
        "To its second speaker wire: b − and c −.",
        "Join a − and b +, and insulate the joint.",
        "All cones must move outward together: one turned round takes the low sound from the others.",
        (
            "Neither speaker wire may touch the frame, the track, a function wire or another output "
            "(common practice, no source; the decoder's sheet goes first)."
        ),
    )


def test_two_cones_must_move_together_and_one_alone_can_not():
    together = "All cones must move outward together: one turned round takes the low sound from the others."
    assert polarity_in_words(in_series("a", "b"))[-2] == together
    assert polarity_in_words(in_parallel("a", "b"))[-2] == together
    assert polarity_in_words(Single("a"))[:2] == (
        "To the decoder's first speaker wire: a +.", "To its second speaker wire: a −.",
    )  # fmt: skip
    assert len(polarity_in_words(Single("a"))) == 3


def test_the_bench_test_begins_with_its_cautions():
    said = polarity_test([RatedSpeaker("a", 8, 1), RatedSpeaker("b", 8)])
    assert said[0] == "Take the speaker off the decoder and the shell off the track."
    assert said[1] == (
        "Never test from the track, a power pack or the decoder: use one cell of 1.5 V and nothing larger."
    )
    # 1.5 squared by 8 is 0.28.
    assert said[2] == "The rating of b is not known; the cell gives it 0.28 W: be brief."
    assert said[-1].startswith("This test is common practice, no source;")
    assert any("all cones must jump the same way" in step for step in said)
    assert not any("all cones" in step for step in polarity_test([RatedSpeaker("a", 8, 1)]))


@given(st.floats(2, 50), st.floats(0.01, 0.5))
def test_with_the_resistor_a_speaker_is_within_its_rating(ohm, rated):
    said = [step for step in polarity_test([RatedSpeaker("a", ohm, rated)]) if " ohm or more in series" in step]
    assert bool(said) == (1.5**2 / ohm > rated)
    if said:
        resistor = int(said[0].split("put ")[1].split(" ohm")[0])
        assert (1.5 / (ohm + resistor)) ** 2 * ohm <= rated * (1 + 1e-9)
        assert resistor == 1 or (1.5 / (ohm + resistor - 1)) ** 2 * ohm > rated * (1 - 1e-6)


def test_the_cost_in_words():
    assert polarity_cost_in_words(20, 500) == (
        "With one of two like speakers turned round, 20 mm apart, 25.5 dB are lost at 500 Hz: one pushes while the "
        "other pulls, and the air only moves to and fro between them."
    )
    assert polarity_cost_in_words(20, 12_000) == (
        "With one of two like speakers turned round, 20 mm apart, some directions gain and others lose at 12000 Hz: "
        "+1.9 dB in all."
    )


def test_from_half_a_wavelength_on_some_directions_gain():
    """343.21 m/s over 8474 Hz is 40.50 mm."""
    for spacing, gains in ((20.2, False), (20.3, True)):
        said = polarity_cost_in_words(spacing, 8474)
        assert (" some directions gain and others lose at 8474 Hz: " in said) is gains
        assert (" dB are lost at 8474 Hz: one pushes" in said) is not gains


def test_speakers_in_one_spot():
    text = r"^the distance between the speakers is 0 mm; it must be above 0 mm\. Read it from the sheet again\.$"
    with pytest.raises(OutOfRange, match=text):
        reversed_loss_db(0, 500)


def test_close_by_the_loss_keeps_its_digits():
    """1 - sin(x)/x is x**2/6 and 1 + sin(x)/x is 2 for a small x: the series of the sine, from memory."""
    for hz, mm in ((1, 0.01), (20, 1)):
        x = 2 * np.pi * hz * mm / 1000 / ROOM_AIR.speed_m_s
        assert reversed_loss_db(mm, hz) == pytest.approx(10 * np.log10(x * x / 12), abs=1e-5)

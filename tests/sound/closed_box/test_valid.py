"""Where one mass on one spring of air stops being the chamber, beside the wave equation solved for a closed tube."""

from math import pi, tan

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.optimize import brentq

from modelmath.errors import OutOfRange, WrongKind
from modelmath.sound.air import ROOM_AIR, Air
from modelmath.sound.closed_box.valid import first_standing_wave_hz, limits_in_words, lumped_limit_hz

some_length = st.floats(2.0, 400.0)


def stiffness_over_that_of_the_volume(f_hz, longest_mm):
    """Closed tube driven at one end, k L cot(k L): acoustics textbooks, from memory."""
    k_l = 2 * pi * f_hz / ROOM_AIR.speed_m_s * longest_mm / 1000
    return k_l / tan(k_l)


@given(some_length)
def test_the_limit_is_where_the_spring_is_a_third_softer_than_the_volume_says(longest):
    """cot 1 = 0.6421, tables of functions."""
    assert stiffness_over_that_of_the_volume(lumped_limit_hz(longest), longest) == pytest.approx(0.6421, abs=5e-5)


@given(some_length)
def test_the_first_standing_wave_is_the_pole_of_the_tube(longest):
    wave = first_standing_wave_hz(longest)
    pole = brentq(lambda f: 1 / stiffness_over_that_of_the_volume(f, longest), 0.6 * wave, 1.4 * wave)
    assert wave == pytest.approx(pole, rel=1e-9)


@given(some_length, st.floats(1.0, 5.0))
def test_both_fall_as_the_chamber_grows_longer_and_keep_their_ratio(longest, times):
    assert lumped_limit_hz(longest * times) == pytest.approx(lumped_limit_hz(longest) / times)
    assert first_standing_wave_hz(longest) / lumped_limit_hz(longest) == pytest.approx(pi)


def test_a_chamber_of_50_mm():
    """By hand: 343.2 m/s / (2 pi x 0.05 m) = 1092 Hz, 343.2 / 0.1 = 3432 Hz; in warm air both are higher."""
    assert lumped_limit_hz(50) == pytest.approx(1092, abs=1)
    assert first_standing_wave_hz(50) == pytest.approx(3432, abs=1)
    assert lumped_limit_hz(50, Air(35)) > lumped_limit_hz(50)


def test_the_limits_in_words():
    text = (
        "The chamber is 50 mm long inside: up to about 1100 Hz its air acts as one spring, and the curves hold; above"
        " that they are rough, and at about 3400 Hz the first standing wave forms between its ends."
    )
    assert limits_in_words(50) == text


@pytest.mark.parametrize("function", [lumped_limit_hz, first_standing_wave_hz, limits_in_words])
def test_what_is_no_length_is_refused(function):
    write = r"Write the longest inside length of the chamber in mm, such as 30\.$"
    with pytest.raises(
        OutOfRange, match=rf"^the longest inside length is 0 mm; it must be a finite number above 0\. {write}"
    ):
        function(0)
    with pytest.raises(
        WrongKind, match=rf"^the longest inside length is '30 mm'; expected a number, or an array of numbers\. {write}"
    ):
        function("30 mm")

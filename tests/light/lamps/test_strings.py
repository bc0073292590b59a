"""LEDs in strings, and two on one resistor."""

from __future__ import annotations

from math import exp

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from scipy.optimize import brentq

from modelmath.errors import OutOfRange
from modelmath.light.lamps.resistor import led_resistor
from modelmath.light.lamps.strings import most_in_series, parallel_share, series_or_parallel
from modelmath.quantities.known import Known

counts, supplies, forwards = st.integers(1, 40), st.floats(5, 24), st.floats(1.6, 3.5)


def test_most_in_series():
    """Counted by hand: 12 V less 1 V is three times 3.2 V and something, five times 2 V and something."""
    assert most_in_series(12, 3.2) == 3
    assert most_in_series(12, 2.0) == 5
    assert most_in_series(12, 2.0, headroom_v=2) == 5
    assert most_in_series(12, 2.0, headroom_v=2.01) == 4
    assert most_in_series(9.6, 3.2, headroom_v=0) == 3  # in floats 3 x 3.2 V is more than 9.6 V
    assert most_in_series(3, 3.2) == 0
    assert most_in_series(1, 3.2, headroom_v=5) == 0


def test_the_least_favourable_limits_count():
    assert most_in_series(Known(12, 10.5, 13), Known(3, 2.8, 3.4)) == 2
    assert most_in_series(12, 3) == 3


@given(supplies, forwards, st.floats(0, 3))
def test_the_most_fits_and_one_more_does_not(supply, forward, headroom):
    most = most_in_series(supply, forward, headroom_v=headroom)
    if most:
        assert most * forward + headroom <= supply * (1 + 1e-12)
    assert (most + 1) * forward + headroom > supply * (1 - 1e-12)


@given(counts, supplies, forwards, st.floats(0.0005, 0.02))
def test_each_way_is_complete_and_within_the_supply(n, supply, forward, current):
    most = most_in_series(supply, forward)
    assume(most)
    ways = series_or_parallel(n, supply, forward, current)
    # One way for each number of strings, from as few as the supply allows to one for each LED.
    assert [way.resistors for way in ways] == list(range(-(-n // most), n + 1))
    for way in ways:
        assert way.leds == n
        lengths = [each.leds for each in way.strings]
        assert lengths == sorted(lengths, reverse=True)
        assert max(lengths) <= min(most, n)
        assert max(lengths) - min(lengths) <= 1
        # Kirchhoff: what the supply gives is what resistors and LEDs take.
        assert way.resistor_w.best + way.lamp_w.best == pytest.approx(supply * way.current_a.best)
        for each in way.strings:
            assert each.resistor == led_resistor(supply, forward, current, each.leds)
    drawn = [way.current_a.best for way in ways]
    assert drawn[-1] == pytest.approx(n * ways[-1].strings[0].resistor.best.current_a.best)


def test_sums_by_hand():
    """Five LEDs of 3 V at 2 mA on 12 V: strings of 3 and 2 on 1.5 kohm and 3 kohm, exact values of E24."""
    way = series_or_parallel(5, 12, 3.0, 0.002)[0]
    assert [(each.times, each.leds, each.resistor.best.ohm) for each in way.strings] == [(1, 3, 1500), (1, 2, 3000)]
    assert way.current_a.best == pytest.approx(0.004)
    assert way.resistor_w.best == pytest.approx(0.006 + 0.012)
    assert way.lamp_w.best == pytest.approx(0.018 + 0.012)
    assert way.current_a.high == pytest.approx(0.004 / 0.95)
    assert way.in_words == (
        "1 string of 3 LEDs, 1.5 kohm and 1 string of 2 LEDs, 3 kohm: 4 mA (3.81 to 4.21 mA) together, 18 mW (17.1 to "
        "18.9 mW) of heat in the resistors."
    )


def test_a_supply_too_low():
    text = (
        r"^the supply is 3\.5 V; it must be 4\.2 V or more: 3\.2 V for one LED, 1 V for its resistor\. "
        r"Use a higher supply, an LED that takes less, or less headroom\.$"
    )
    with pytest.raises(OutOfRange, match=text):
        series_or_parallel(4, 3.5, 3.2, 0.002)
    assert series_or_parallel(4, 3.5, 3.2, 0.002, headroom_v=0.2)[0].resistors == 4


slopes, differences, together = st.floats(5, 200), st.floats(0, 0.5), st.floats(0.0005, 0.04)


@given(differences, slopes, together)
def test_shares_obey_kirchhoff(difference, slope, current):
    """Solved afresh for the voltage across both, each LED passing nothing backwards."""
    share = parallel_share(difference, slope, together_a=current)

    def too_much(volts):
        return max(0.0, volts) / slope + max(0.0, volts - difference) / slope - current

    volts = brentq(too_much, 0, current * slope + difference, xtol=1e-15)
    assert share.shares[0] == pytest.approx(volts / slope / current, abs=1e-9)
    assert sum(share.shares) == pytest.approx(1)
    assert share.shares[0] >= share.shares[1] >= 0


@given(st.floats(0, 0.01), st.floats(1, 2))
def test_for_small_differences_as_the_diode_law_has_it(difference, ideality):
    """Two diodes at one voltage: their currents are as exp(dV / (n kT/q)) to 1; the slope is n kT/q over current."""
    thermal, current = ideality * 0.02585, 0.002
    by_law = 1 / (1 + exp(-difference / thermal))
    found = parallel_share(difference, thermal / (current / 2), together_a=current)
    assert found.shares[0] == pytest.approx(by_law, abs=0.002)


def test_what_shares_mean_in_words():
    assert parallel_share(0.05, 50.0).in_words == (
        "The LED whose forward voltage is 0.05 V lower takes 75 % of the current, the other 25 %. "
        "Give each LED a resistor of its own, or put both in series."
    )
    assert parallel_share(0.3, 50.0).in_words == (
        "The LED whose forward voltage is 0.3 V lower takes 100 % of the current, the other 0 %, which stays dark. "
        "Give each LED a resistor of its own, or put both in series."
    )
    assert parallel_share(0, 50.0).in_words.startswith("Two LEDs exactly alike share the current; no two are.")
    text = r"^the slope is 0 ohm; it must be above 0, its lower limit too\. Write it above 0, such as 8 ohm\.$"
    with pytest.raises(OutOfRange, match=text):
        parallel_share(0.1, 0)


def test_sums_within_limits_by_hand():
    """Three LEDs of 3 V at 2 mA on 12 V (11 to 13): a string of 2 on 3 kohm, one alone on 4.7 kohm, each 5 % off."""
    way = series_or_parallel(3, Known(12, 11, 13), 3.0, 0.002)[1]
    assert [(each.times, each.leds, each.resistor.best.ohm) for each in way.strings] == [(1, 2, 3000), (1, 1, 4700)]
    for band, of in (
        (way.current_a, lambda drop, ohm, _forward: drop / ohm),
        (way.resistor_w, lambda drop, ohm, _forward: drop**2 / ohm),
        (way.lamp_w, lambda drop, ohm, forward: forward * drop / ohm),
    ):
        for end, volts, off in (("best", 12, 1), ("low", 11, 1.05), ("high", 13, 0.95)):
            wanted = of(volts - 6, 3000 * off, 6) + of(volts - 3, 4700 * off, 3)
            assert getattr(band, end) == pytest.approx(wanted)
    assert (way.leds, way.resistors) == (3, 2)


def test_strings_on_5_percent_of_e24_with_a_volt_for_the_resistor_unless_said():
    found = series_or_parallel(3, 12, 3.0, 0.002)
    assert found == series_or_parallel(3, 12, 3.0, 0.002, series="E24", tolerance=0.05, derate=0.5, headroom_v=1)
    assert most_in_series(12, 3.0) == most_in_series(12, 3.0, headroom_v=1) == 3
    assert most_in_series(10, 3.0) == 3  # three and the volt: to the last digit
    assert most_in_series(9.99, 3.0) == 2
    series = series_or_parallel(2, 12, 3.0, 0.002, series="E3", tolerance=0.1, derate=1)[-1].strings[0].resistor
    assert (series.series, series.tolerance, series.derate) == ("E3", 0.1, 1)
    text = r"^the number of LEDs is 0; it must be 1 or more\."
    with pytest.raises(OutOfRange, match=text):
        series_or_parallel(0, 12, 3.0, 0.002)
    text = r"^the headroom is -1 V; it must be 0 or more\. Write it above 0, such as 2\.5 V\.$"
    with pytest.raises(OutOfRange, match=text):
        most_in_series(12, 3.0, headroom_v=-1)


def test_one_led_in_words():
    (way,) = series_or_parallel(1, 12, 3.0, 0.002)
    assert way.in_words.startswith("1 string of 1 LED, 4.7 kohm: 1.91 mA")


def test_two_leds_share_twice_a_headlights_current_unless_said():
    """2 mA together: 0.05 V over 50 ohm is 1 mA more through the one, so three quarters to a quarter."""
    found = parallel_share(0.05, 50.0)
    assert found.together_a == 0.002
    assert found.difference_a == pytest.approx(0.001)
    assert found.shares == pytest.approx((0.75, 0.25))
    assert parallel_share(0.1, 50.0).shares == (1, 0)
    assert "stays dark" not in parallel_share(0.0999, 50.0).in_words
    assert parallel_share(0, 50.0).shares == (0.5, 0.5)
    assert parallel_share(0, 50.0).in_words == (
        "Two LEDs exactly alike share the current; no two are. Give each LED a resistor of its own, or put both in "
        "series."
    )
    with pytest.raises(OutOfRange, match=r"^the difference of forward voltages is -0\.1 V; it must be 0 or more\."):
        parallel_share(-0.1, 50.0)

"""Bulbs behind a resistor. The exponents are from memory; what follows from them is solved afresh here."""

from __future__ import annotations

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from scipy.optimize import brentq

from modelmath.errors import OutOfRange, UnknownChoice, WrongKind
from modelmath.light.lamps.bulbs import Bulb
from modelmath.light.lamps.dropping import BulbResistor
from modelmath.light.lamps.filament import COLD, LIFE, LIGHT, NEAR_PLASTIC, settled
from modelmath.quantities.known import Known

volts, amps = st.floats(1, 16), st.floats(0.01, 0.3)


@given(volts, amps, st.floats(1.02, 10), st.floats(0, 1))
def test_it_settles_where_supply_is_the_sum_of_the_drops(rated_v, rated_a, over, place):
    supply = rated_v * over
    found = Bulb(rated_v, rated_a).dropping_resistor(supply)
    ohm = found.exact_ohm * (0.2 + 2 * place)
    choice = found.with_resistor(ohm)
    solved = brentq(lambda v: v + ohm * rated_a * (v / rated_v) ** 0.55 - supply, 1e-9, supply, xtol=1e-12)
    assert choice.bulb_v.best == pytest.approx(solved, rel=1e-8)
    assert choice.bulb_v.best + ohm * choice.current_a.best == pytest.approx(supply)
    assert choice.power_w.best + choice.bulb_power_w.best == pytest.approx(supply * choice.current_a.best)


@given(volts, amps, st.floats(1.02, 10))
def test_the_exact_resistor_leaves_the_voltage_wanted(rated_v, rated_a, over):
    found = Bulb(rated_v, rated_a).dropping_resistor(rated_v * over)
    choice = found.with_resistor(found.exact_ohm)
    assert choice.bulb_v.best == pytest.approx(rated_v)
    assert choice.light.best == pytest.approx(1)
    assert found.above.bulb_v.best <= rated_v * (1 + 1e-8)
    assert found.below.bulb_v.best >= rated_v * (1 - 1e-8)
    assert found.best is found.above


@given(volts, amps, st.floats(1.1, 5), st.lists(st.tuples(*[st.floats(-1, 1)] * 4), min_size=1, max_size=10))
def test_no_case_within_the_limits_leaves_the_bands(rated_v, rated_a, over, places):
    v0, i0 = Known.of(rated_v, within=0.1 * rated_v), Known.of(rated_a, within=0.15 * rated_a)
    vs = Known.of(rated_v * over, within=0.05 * rated_v)
    found = Bulb(v0, i0).dropping_resistor(vs).above
    for a, b, c, d in places:
        supply, volt, amp = vs.value + a * 0.05 * rated_v, rated_v * (1 + 0.1 * b), rated_a * (1 + 0.15 * c)
        ohm = found.ohm * (1 + 0.05 * d)
        at = brentq(lambda v: v + ohm * amp * (v / volt) ** 0.55 - supply, 1e-9, supply, xtol=1e-12)  # noqa: B023
        current = (supply - at) / ohm
        for band, value in (
            (found.bulb_v, at),
            (found.current_a, current),
            (found.power_w, current * (supply - at)),
            (found.bulb_power_w, current * at),
            (found.light, (at / volt) ** 3.4),
        ):
            assert band.low * 0.999 <= value <= band.high * 1.001


def test_a_classic_by_hand():
    """1.5 V and 30 mA on 12 V: 10.5 V over 30 mA is 350 ohm, 315 mW; at half of its rating 1 W."""
    found = Bulb(1.5, 0.03).dropping_resistor(12)
    assert found.exact_ohm == pytest.approx(350)
    exact = found.with_resistor(350)
    assert exact.power_w.best == pytest.approx(0.315)
    assert exact.rating_w == 1.0


def test_half_voltage():
    """Half the voltage: light 2^-3.4 = 9.5 %, current 2^-0.55 = 68 %."""
    bulb = Bulb(12, 0.05)
    assert bulb.light_share(6).best == pytest.approx(0.0947, abs=5e-5)
    assert bulb.current_a(6).best == pytest.approx(0.0342, abs=5e-5)
    assert bulb.power_w(6).best == pytest.approx(6 * 0.0342, abs=5e-4)
    assert bulb.current_a().best == 0.05


@given(volts, volts)
def test_more_voltage_more_light_less_life(one, other):
    assume(one != other)
    bulb = Bulb(8, 0.05)
    low, high = sorted((one, other))
    assert bulb.light_share(low).best < bulb.light_share(high).best
    assert bulb.life_share(low).best > bulb.life_share(high).best
    assert bulb.current_a(low).best < bulb.current_a(high).best


def test_exponents_with_their_limits():
    bulb = Bulb(10, 0.05)
    light, life = bulb.light_share(9), bulb.life_share(9)
    assert (light.low, light.high) == (pytest.approx(0.9**3.6), pytest.approx(0.9**3.0))
    assert (life.low, life.high) == (pytest.approx(0.9**-12), pytest.approx(0.9**-16))
    assert LIGHT.low < LIGHT.best < LIGHT.high
    assert LIFE.low < LIFE.best < LIFE.high


def test_cold_wire():
    """Resistivity of tungsten, micro-ohm cm: 5.65 at 300 K, 56.7 at 2000 K, 73.9 at 2500 K (H. A. Jones and
    I. Langmuir, General Electric Review 30 (1927); from memory). Small bulbs run between those two.
    """
    assert COLD.low < 56.7 / 5.65 < COLD.high
    assert COLD.low < 73.9 / 5.65 < COLD.high
    assert Bulb(12, 0.05).inrush_a(12).best == pytest.approx(0.5)
    with_resistor = Bulb(12, 0.05).inrush_a(14, 39)
    assert with_resistor.best == pytest.approx(14 / (39 + 24))
    assert with_resistor.low < with_resistor.best < with_resistor.high
    choice = Bulb(12, 0.05).dropping_resistor(14).with_resistor(39)
    assert choice.inrush_a == with_resistor


def test_words_for_people():
    found = Bulb(12, 0.05).dropping_resistor(14)
    assert found.in_words == (
        "Take 43 ohm: the bulb gets 11.9 V (11.8 to 12 V) and draws 49.7 mA (49.5 to 49.9 mA), 96 % of its rated light "
        "and about 1.2 times its rated life. The resistor makes 0.11 W of heat at most, a 1/4 W leaded resistor or a "
        "1206 (3216 metric) chip is enough. At switching on about 209 mA flows. " + NEAR_PLASTIC
    )
    rough = "So far from its rated voltage the shares of light and life are rough."
    assert rough not in found.in_words
    assert rough in Bulb(12, 0.05).dropping_resistor(14, 8).in_words


def test_heat_near_plastic_is_said_with_its_limit():
    """60 degC for surfaces near plastic: a materials data page for PMMA (about 80 degC); polystyrene from memory."""
    assert "hotter than 60 °C" in NEAR_PLASTIC
    assert "acrylic (softens at about 80 °C)" in NEAR_PLASTIC


def test_what_is_refused():
    text = (
        r"^the supply is 12 V; it must be above 12 V, the voltage wanted across the bulb\. "
        r"At that very voltage no resistor is needed; above it the supply can't go\.$"
    )
    with pytest.raises(OutOfRange, match=text):
        Bulb(12, 0.05).dropping_resistor(12)
    text = r"^the rated current is -1 A; it must be above 0, its lower limit too\. Write it above 0, such as 2 mA\.$"
    with pytest.raises(OutOfRange, match=text):
        Bulb(12, -1)
    with pytest.raises(UnknownChoice, match=r"^the series is 'F24'; write one of E3, E6, E12, E24, E48, E96\. Did you m"
                       r"ean 'E24'\?$"):  # fmt: skip
        Bulb(12, 0.05).dropping_resistor(14, series="F24")


@pytest.mark.parametrize("rated_v", [0.01, 0.3, 0.9, 6.0, 110.0])
@pytest.mark.parametrize("over", [1.001, 1.5, 20.0, 1000.0])
@pytest.mark.parametrize("share", [0.001, 2.0, 50.0])  # of the resistor over the bulb's own
def test_bulb_and_resistor_settle_however_far_they_start(rated_v, over, share):
    supply, rated_a, ohm = rated_v * over, 0.05, share * rated_v / 0.05
    volts, current, heat, bulb_w, ratio = settled(supply, rated_v, rated_a, ohm)
    solved = brentq(lambda v: v + ohm * rated_a * (v / rated_v) ** 0.55 - supply, 0, supply, xtol=1e-18, rtol=1e-14)
    assert (volts, ratio) == pytest.approx((solved, solved / rated_v), rel=1e-11)
    assert supply - volts == pytest.approx(ohm * current, abs=1e-10 * supply)
    assert current == pytest.approx(rated_a * (solved / rated_v) ** 0.55)
    assert heat == pytest.approx(current**2 * ohm)
    assert bulb_w == pytest.approx(solved * current)


def test_a_bulb_alone_within_limits_by_hand():
    """At 10 V (9 to 11) a bulb of 12 V (11 to 13), 50 mA (40 to 60): each end by the exponents alone."""
    bulb, at = Bulb(Known(12, 11, 13), Known(0.05, 0.04, 0.06)), Known(10, 9, 11)
    current = (0.05 * (10 / 12) ** 0.55, 0.04 * (9 / 13) ** 0.55, 0.06)
    found = bulb.current_a(at)
    assert (found.best, found.low, found.high) == pytest.approx(current)
    power = bulb.power_w(at)
    assert (power.best, power.low, power.high) == pytest.approx((10 * current[0], 9 * current[1], 11 * 0.06))
    rated = bulb.power_w()
    assert (rated.best, rated.low, rated.high) == pytest.approx((0.6, 0.44, 0.78))
    rated = bulb.current_a()
    assert (rated.best, rated.low, rated.high) == (0.05, 0.04, 0.06)
    light, life = bulb.light_share(at), bulb.life_share(at)
    assert (light.low, light.high) == (pytest.approx((9 / 13) ** 3.6), 1)
    assert (life.low, life.high) == (1, pytest.approx((9 / 13) ** -16))


def test_cold_wire_within_limits_by_hand():
    """12 V (11 to 13) on a bulb of 12 V (11.5 to 12.5), 50 mA (40 to 60), cold a tenth (8 to 15) of its resistance."""
    bulb = Bulb(Known(12, 11.5, 12.5), Known(0.05, 0.04, 0.06))
    found = bulb.inrush_a(Known(12, 11, 13))
    cold = (12 / 0.05 / 10, 12.5 / 0.04 / 8, 11.5 / 0.06 / 15)
    assert (found.best, found.low, found.high) == pytest.approx((12 / cold[0], 11 / cold[1], 13 / cold[2]))
    assert bulb.inrush_a(12, 0) == bulb.inrush_a(12)
    behind = bulb.inrush_a(Known(12, 11, 13), 39)
    assert (behind.best, behind.low, behind.high) == pytest.approx(
        (12 / (39 + cold[0]), 11 / (39 + cold[1]), 13 / (39 + cold[2]))
    )


def test_a_resistor_is_5_percent_of_e24_at_half_its_rating_unless_said():
    bulb = Bulb(12, 0.05)
    found = bulb.dropping_resistor(14)
    assert found == BulbResistor(bulb, Known.of(14), 12.0)
    assert found == bulb.dropping_resistor(14, 12, series="E24", tolerance=0.05, derate=0.5)
    assert bulb.dropping_resistor(14, series="E12").above.ohm == 47  # 2 V over 50 mA is 40 ohm
    exact = bulb.dropping_resistor(14, tolerance=0).above
    assert exact.current_a.exact
    assert found.above.power_w.high > exact.power_w.high
    assert bulb.dropping_resistor(14, derate=1).above.rating_w == 0.125  # 0.11 W
    assert found.above.rating_w == 0.25


def test_a_supply_hardly_above_the_voltage_wanted_is_taken():
    assert Bulb(12, 0.05).dropping_resistor(12.0001).exact_ohm == pytest.approx(0.002, rel=1e-6)
    with pytest.raises(OutOfRange, match=r"^the supply is 11 V; it must be above 12 V"):
        Bulb(12, 0.05).dropping_resistor(11)
    with pytest.raises(OutOfRange, match=r"^the supply is 12 V; it must be above 12 V"):
        Bulb(12, 0.05).dropping_resistor(12 * (1 + 1e-10))


def test_heat_past_every_size_in_the_table_is_said():
    """12 V left over 0.5 A: 6 W at half of the rating, and the largest in the table is for 2 W."""
    found = Bulb(12, 0.5).dropping_resistor(24)
    assert (found.best.leaded, found.best.chip, found.best.rating_w) == (None, None, None)
    assert "of heat at most, no size in the table is enough. At switching on" in found.in_words


@pytest.mark.parametrize(("at_v", "near"), [(9.5, False), (9.7, True), (14.3, True), (14.5, False)])
def test_shares_of_light_are_rough_past_a_fifth_of_the_rated_voltage(at_v, near):
    """A fifth either way of 12 V is 9.6 V and 14.4 V; the limit is from memory."""
    bulb = Bulb(12, 0.05)
    exact = bulb.dropping_resistor(24, at_v)
    said = exact.with_resistor(exact.exact_ohm).in_words
    assert ("rough" not in said) is near


def test_a_part_of_a_resistor_that_is_none_is_refused():
    bulb = Bulb(12, 0.05)
    with pytest.raises(OutOfRange, match=r"^the tolerance is 1; it must be from 0 to below 1\."):
        bulb.dropping_resistor(14, tolerance=1)
    with pytest.raises(OutOfRange, match=r"^the share of its rating is 0; it must be above 0 to 1\."):
        bulb.dropping_resistor(14, derate=0)
    with pytest.raises(WrongKind, match=r"^the voltage wanted is '12 V'; expected a number of V\."):
        bulb.dropping_resistor(14, "12 V")
    with pytest.raises(OutOfRange, match=r"^the resistor is -1 ohm; it must be 0 or more\."):
        bulb.inrush_a(12, -1)
    with pytest.raises(OutOfRange, match=r"^the resistor is 0 ohm; it must be above 0, its lower limit too\."):
        bulb.dropping_resistor(14).with_resistor(0)

"""The series resistor against printed examples, and against Kirchhoff's laws at every limit."""

from __future__ import annotations

import re

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from published import agrees_with_print, published_rows

from modelmath.errors import OutOfRange, UnknownChoice, WrongKind
from modelmath.light.lamps.amounts import told_band, told_share, told_w
from modelmath.light.lamps.preferred import SERIES, next_values
from modelmath.light.lamps.resistor import LedResistor, led_resistor
from modelmath.quantities.band import Band
from modelmath.quantities.known import Known
from modelmath.quantities.text import told

# tests/published/electrical_examples.csv: LED_A and LED_B a public encyclopaedia's article on LED circuits, LED_C and
# LED_D a school physics page; the powers are arithmetic from the same figures.
EXAMPLES = {row["id"]: row for row in published_rows("electrical_examples.csv") if row["id"].startswith("LED_")}
INPUTS = re.compile(r"supply ([\d.]+) V, forward ([\d.]+) V, current ([\d.]+) mA")


def circuit(row, **options):
    supply, forward, milli = (float(each) for each in INPUTS.fullmatch(row["inputs"]).groups())
    return led_resistor(supply, forward, milli / 1000, **options)


@pytest.mark.parametrize("name", ["LED_A", "LED_B", "LED_C", "LED_D"])
def test_printed_resistances(name):
    assert agrees_with_print(circuit(EXAMPLES[name]).exact_ohm, EXAMPLES[name]["value"])


@pytest.mark.parametrize("name", ["LED_A", "LED_B", "LED_C", "LED_D"])
def test_printed_heat(name):
    found = circuit(EXAMPLES[name])
    exact = found.with_resistor(found.exact_ohm)
    assert agrees_with_print(exact.power_w.best, EXAMPLES[f"{name}_P"]["value"])


def test_the_printed_next_values():
    """The same article takes 2 kohm for 2040 ohm and 1.5 kohm for 1440 ohm, the nearest of what is made."""
    assert circuit(EXAMPLES["LED_A"]).below.ohm == 2000
    assert circuit(EXAMPLES["LED_B"]).above.ohm == 1500


def test_the_safe_one_is_above():
    found = circuit(EXAMPLES["LED_A"])
    assert found.best is found.above
    assert found.best.ohm == 2200
    assert found.best.brightness.best < 1 < found.below.brightness.best


def test_ratings_by_heat():
    """206 mW at half of its rating needs 412 mW: half a watt, and no chip up to 1206 (common practice, no source)."""
    found = circuit(EXAMPLES["LED_C"]).with_resistor(515)
    assert found.rating_w == 0.5
    assert found.chip is None
    hot = led_resistor(12, 1.7, 0.02, derate=1.0).with_resistor(515)
    assert (hot.rating_w, hot.chip.name) == (0.25, "1206 (3216 metric)")
    none = led_resistor(24, 2, 0.5).best
    assert none.rating_w is None
    assert "no size in the table is enough: lower the current" in none.in_words


supplies, forwards, currents = st.floats(3, 24), st.floats(1.6, 3.5), st.floats(0.0002, 0.03)
fractions = st.floats(0, 1)


@given(supplies, forwards, currents, st.integers(1, 6), st.sampled_from(sorted(SERIES)))
def test_supply_is_the_sum_of_the_drops(supply, forward, current, leds, series):
    assume(supply > 1.001 * leds * forward)
    found = led_resistor(supply, forward, current, leds, series=series)
    assert found.exact_ohm * current + leds * forward == pytest.approx(supply)
    for choice in (found.below, found.above):
        assert choice.ohm * choice.current_a.best + leds * forward == pytest.approx(supply)
        assert choice.power_w.best + choice.lamp_power_w.best == pytest.approx(supply * choice.current_a.best)
    assert (found.below.ohm, found.above.ohm) == next_values(found.exact_ohm, series)
    assert found.above.current_a.best <= current * (1 + 1e-8)
    assert found.below.current_a.best >= current * (1 - 1e-8)


@given(
    st.tuples(supplies, st.floats(0, 2)),
    st.tuples(forwards, st.floats(0, 0.6)),
    st.integers(1, 4),
    st.floats(0, 0.2),
    st.lists(st.tuples(fractions, fractions, fractions), min_size=1, max_size=20),
)
def test_no_case_within_the_limits_leaves_the_bands(supply, forward, leds, tolerance, places):
    """Each case is worked out by itself, by Ohm's law for a diode that passes nothing backwards."""
    vs, vf = Known.of(supply[0], within=supply[1]), Known.of(forward[0], within=forward[1])
    assume(vs.value > 1.001 * leds * vf.value)
    found = led_resistor(vs, vf, 0.002, leds, tolerance=tolerance)
    choice = found.above
    for a, b, c in places:
        volts = vs.low + a * (vs.high - vs.low)
        taken = leds * (vf.low + b * (vf.high - vf.low))
        ohm = choice.ohm * (1 + tolerance * (2 * c - 1))
        current = max(0.0, volts - taken) / ohm
        lamps = taken * current
        for band, value in (
            (choice.current_a, current),
            (choice.power_w, current**2 * ohm),
            (choice.lamp_power_w, lamps),
            (choice.brightness, current / 0.002),
            (found.drop_v, volts - taken),
        ):
            assert band.low - 1e-9 <= value <= band.high + 1e-9
        assert current <= 0.002 * (1 + 1e-9) or choice.current_a.high > 0.002
        surely = max(0.0, volts - taken) / (found.never_above.ohm * (1 + tolerance * (2 * c - 1)))
        assert surely <= 0.002 * (1 + 1e-8)


def test_the_lamps_take_most_at_half_the_supply():
    """Between its limits an LED may take half of the supply, where the power into it is greatest (matched load)."""
    found = led_resistor(6, Known(3.2, 2.5, 3.4), 0.002, tolerance=0).with_resistor(1000)
    assert found.lamp_power_w.high == pytest.approx(3.0 * 3.0 / 1000)


def test_exact_figures_have_no_band_but_the_resistors():
    found = led_resistor(12, 3, 0.002, tolerance=0)
    assert found.exact_band_ohm.exact
    assert found.best.current_a.exact
    assert found.best.lamp_power_w.exact
    assert led_resistor(12, 3, 0.002).best.current_a.high == pytest.approx(0.002 * 4500 / 4700 / 0.95)


def test_limits_of_the_exact_resistance():
    found = led_resistor(Known(12, 11, 13), Known(3, 2.5, 3.5), Known(0.002, 0.001, 0.003))
    assert found.exact_band_ohm.low == pytest.approx(7.5 / 0.003)
    assert found.exact_band_ohm.high == pytest.approx(10.5 / 0.001)


def test_words_for_people():
    found = led_resistor(12, 3.0, 0.002)
    assert found.in_words == (
        "Take 4.7 kohm: 1.91 mA (1.82 to 2.02 mA), 96 % of the light wanted; the resistor makes 18.1 mW of heat at "
        "most, a 1/8 W leaded resistor or a 0201 (0603 metric) chip is enough."
    )
    # A resistor of 10 % may be 4.23 kohm: 9 V over that is 2.128 mA.
    assert led_resistor(12, 3.0, 0.002, tolerance=0.1).warnings == (
        "At the limits it may be 2.13 mA, 6.4 % over; 5.1 kohm is never above what is wanted.",
    )


UNSTEADY = (
    "The light is not steady: only 0.8 V is left for the resistor, so that a small change of the supply changes the "
    "current much."
)


def test_what_the_limits_may_do_is_said():
    found = led_resistor(7, Known(3.1, 2.8, 3.6), 0.001, 2)
    assert found.warnings == (
        "At the limits it may be 1.8 mA, 80 % over; 1.5 kohm is never above what is wanted.",
        "At the other limit it may not light at all.",
        UNSTEADY,
    )
    assert found.best.current_a.low == found.best.brightness.low == found.best.lamp_power_w.low == 0


IN_SERIES = r"the supply is {} V; it must be above 9\.6 V, which 3 LEDs take in series\. {}"
HIGHER = r"Use a higher supply, or an LED that takes less\."
FEWER = r"Put at most 2 in a string\."
ONE = r"the supply is 3 V; it must be above 3\.2 V, which the LED takes\. " + HIGHER
NO_CURRENT = r"the current is 0 A; it must be above 0, its lower limit too\. Write it above 0, such as 2 mA\."


@pytest.mark.parametrize(
    ("args", "text"),
    [
        ((3, 3.2, 0.002), ONE),
        ((9, 3.2, 0.002, 3), IN_SERIES.format("9", FEWER)),
        ((9.6, 3.2, 0.002, 3), IN_SERIES.format(r"9\.6", FEWER)),
        ((2, 3.2, 0.002, 3), IN_SERIES.format("2", HIGHER)),
        ((12, 3.2, 0), NO_CURRENT),
        ((12, 3.2, 0.002, 0), r"the number of LEDs is 0; it must be 1 or more\. Write how many there are\."),
    ],
)
def test_what_can_not_be(args, text):
    with pytest.raises(OutOfRange, match=rf"^{text}$"):
        led_resistor(*args)


def test_other_refusals():
    with pytest.raises(WrongKind, match=r"^the number of LEDs is '1\.5'; expected a whole number\. Write how many ther"
                       r"e are, such as 2\.$"):  # fmt: skip
        led_resistor(12, 3, 0.002, 1.5)
    with pytest.raises(
        WrongKind, match=r"^the current is 'None'; expected a number of A\. Write it, such as 0\.002\.$"
    ):
        led_resistor(12, 3, None)
    with pytest.raises(UnknownChoice, match=r"^the series is 'E13'; write one of E3, E6, E12, E24, E48, E96\. Did you m"
                       r"ean 'E3'\?$"):  # fmt: skip
        led_resistor(12, 3, 0.002, series="E13")
    text = r"^the tolerance is 5; it must be from 0 to below 1\. Write five percent as 0\.05\.$"
    with pytest.raises(OutOfRange, match=text):
        led_resistor(12, 3, 0.002, tolerance=5)
    text = r"^the share of its rating is 0; it must be above 0 to 1\. Write five percent as 0\.05\.$"
    with pytest.raises(OutOfRange, match=text):
        led_resistor(12, 3, 0.002, derate=0)


def test_one_led_on_5_percent_of_e24_at_half_its_rating_unless_said():
    found = led_resistor(12, 3, 0.002)
    assert found == LedResistor(Known.of(12), Known.of(3), Known.of(0.002))
    assert found == led_resistor(12, 3, 0.002, 1, series="E24", tolerance=0.05, derate=0.5)
    assert found.below.ohm == 4300  # E24; 3900 in E12
    assert found.best.current_a.low == pytest.approx(9 / 4700 / 1.05)


@pytest.mark.parametrize(
    ("supply", "steady"),
    [
        (Known(12, 12, 16.4), True),
        (Known(12, 12, 16.6), False),
        (Known(12, 7.6, 12), True),
        (Known(12, 7.4, 12), False),
    ],
)
def test_half_the_current_either_way_is_not_steady(supply, steady):
    """9 V are left for the resistor: half of that more is 16.5 V of supply, half of it less 7.5 V."""
    said = " ".join(led_resistor(supply, 3.0, 0.002, tolerance=0).warnings)
    unsteady = (
        "The light is not steady: only 9 V is left for the resistor, so that a small change of the supply changes the "
        "current much."
    )
    assert (unsteady in said) is not steady


@pytest.mark.parametrize(("tolerance", "said"), [(0.04, False), (0.06, True)])
def test_a_current_a_twentieth_over_what_is_wanted_is_said(tolerance, said):
    """9 V over 2 mA is 4.5 kohm, 4.53 kohm in E96: 4 % of tolerance make 3.5 % over, 6 % make 5.7 %."""
    (*found,) = led_resistor(12, 3.0, 0.002, series="E96", tolerance=tolerance).warnings
    assert bool(found) is said


def test_a_current_within_the_limits_wanted_is_none_too_much():
    wide, exact = (
        led_resistor(14, 3.0, wanted, series="E96", tolerance=0.1) for wanted in (Known(2e-3, 1e-3, 3e-3), 2e-3)
    )
    assert wide.warnings == ()
    assert exact.warnings != ()
    assert wide.never_above.ohm == 4120  # 11 V / 3 mA / 0.9 is 4074 ohm
    assert exact.never_above.ohm == 6190  # 11 V / 2 mA / 0.9 is 6111 ohm
    assert led_resistor(11.505, 2.0, 0.01, tolerance=0.05).never_above.ohm == 1100  # 950.5 ohm / 0.95 is over 1000


def test_the_lamps_within_limits_by_hand():
    """Two LEDs of 3 V (2.8 to 3.2) on 12 V (11 to 13), 1 kohm and 10 %: each end by Ohm's law."""
    found = led_resistor(Known(12, 11, 13), Known(3, 2.8, 3.2), 0.002, 2, tolerance=0.1).with_resistor(1000)
    lamps = found.lamp_power_w
    assert lamps.best == pytest.approx(6 * 6 / 1000)
    assert lamps.low == pytest.approx(min(5.6 * 5.4, 6.4 * 4.6) / 1100)
    assert lamps.high == pytest.approx(6.4 * 6.6 / 900)  # half of 13 V is past what they take at most
    assert (found.power_w.low, found.power_w.high) == pytest.approx((4.6**2 / 1100, 7.4**2 / 900))
    low = led_resistor(24, Known(3, 2.8, 3.2), 0.002, tolerance=0).with_resistor(1000).lamp_power_w
    assert low.high == pytest.approx(3.2 * 20.8 / 1000)
    high = led_resistor(4, Known(3, 2.8, 3.2), 0.002, tolerance=0).with_resistor(1000).lamp_power_w
    assert (high.low, high.high) == pytest.approx((3.2 * 0.8 / 1000, 2.8 * 1.2 / 1000))


def test_parts_at_their_very_edges_are_taken():
    assert led_resistor(12, 3, 0.002, tolerance=0, derate=1).derate == 1
    with pytest.raises(OutOfRange, match=r"^the tolerance is 1; it must be from 0 to below 1\."):
        led_resistor(12, 3, 0.002, tolerance=1)
    with pytest.raises(OutOfRange, match=r"^the share of its rating is 1\.1; it must be above 0 to 1\."):
        led_resistor(12, 3, 0.002, derate=1.1)
    assert led_resistor(9.6001, 3.2, 0.002, 3).drop_v.best == pytest.approx(0.0001)
    with pytest.raises(OutOfRange, match=r"Put at most 1 in a string\.$"):
        led_resistor(6, 3, 0.002, 3)  # two take all of it
    with pytest.raises(OutOfRange, match=r"which 2 LEDs take in series\. Put at most 1 in a string\.$"):
        led_resistor(4, 3, 0.002, 2)


@pytest.mark.parametrize("value", [True, "0.05", None])
def test_a_part_or_count_that_is_no_number_is_refused(value):
    text = rf"^the tolerance is '{value}'; expected a number between 0 and 1\. Write five percent as 0\.05\.$"
    with pytest.raises(WrongKind, match=text):
        led_resistor(12, 3, 0.002, tolerance=value)
    with pytest.raises(WrongKind, match=rf"^the number of LEDs is '{value}'; expected a whole number\."):
        led_resistor(12, 3, 0.002, value)
    with pytest.raises(WrongKind, match=rf"^the supply is '{value}'; expected a number of V\."):
        led_resistor(value, 3, 0.002)


def test_words_for_what_differs_at_one_end_only():
    """A band is told with its limits wherever three digits show one of them."""
    assert told_band(Band(2.0, 2.0, 2.0), "left_v") == "2 V"
    assert told_band(Band(2.0, 2.0, 3.0), "left_v") == "2 V (2 to 3 V)"
    assert told_band(Band(2.0, 1.0, 2.0), "left_v") == "2 V (1 to 2 V)"
    assert told_band(Band(0.05, 0.02, 0.1), "heat_w") == "0.05 W (0.02 to 0.1 W)"
    assert told_band(Band(0.05, 0.02, 0.0999), "heat_w") == "50 mW (20 to 99.9 mW)"


@pytest.mark.parametrize(
    ("share", "text"), [(0, "0 %"), (0.004, "0.4 %"), (0.0944, "9.4 %"), (0.095, "10 %"), (0.5, "50 %"), (2, "200 %")]
)
def test_shares_in_words(share, text):
    assert told_share(share) == text


@pytest.mark.parametrize(("power", "text"), [(0.0999, "99.9 mW"), (0.1, "0.1 W"), (2, "2 W")])
def test_watts_in_words(power, text):
    assert told_w(power) == text
    assert told_w(power, milli=False) == told(power, "power_w")

"""Resistor, brightness, strings and bulb as a person types them without a job."""

from __future__ import annotations

import re

import pytest
from hypothesis import given
from hypothesis import strategies as st
from published import agrees_with_print, published_rows

from modelmath.errors import OutOfRange, UnreadableLength
from modelmath.job.entries.light_alone import bulb, resistor, strings, trimming
from modelmath.job.entries.light_alone.bulb import read_bulb
from modelmath.job.entries.light_alone.resistor import DEMO, previous, read_resistor
from modelmath.job.entries.light_alone.strings import read_strings
from modelmath.job.entries.light_alone.texts import in_range, one_figure
from modelmath.job.entries.light_alone.trimming import read_share, read_trimming
from modelmath.light.lamps.preferred import SERIES, following

PRINTED = [row for row in published_rows("electrical_examples.csv") if row["id"].startswith("LED")]
OF_INPUTS = re.compile(r"supply (\d+ V), forward ([\d.]+ V), current (\d+ mA)")
PLAIN = {"supply": "12 V", "lamp": "3 V", "current": "2 mA"}
currents = st.integers(10, 20000).map(lambda hundredths: f"{hundredths / 1000:.3f} mA")


def entries(row):
    supply, forward, current = OF_INPUTS.fullmatch(row["inputs"]).groups()
    return {"supply": supply, "lamp": forward, "current": current}


@pytest.mark.parametrize("row", PRINTED, ids=lambda row: row["id"])
def test_printed_resistors_and_their_heat(row):
    """tests/published/electrical_examples.csv, each row with its source."""
    circuit = read_resistor(entries(row)).answer.circuit
    value = circuit.exact_ohm if row["output"] == "R" else circuit.drop_v.best * circuit.wanted_a.value
    assert agrees_with_print(round(value, 9), row["value"])


@pytest.mark.parametrize(
    ("lamp", "supply", "next_values"),
    [
        ("1.8 V", "12 V", [2000, 2200, 2400]),  # 2040 ohm: electrical_examples.csv LED_A, E24 by IEC 60063
        ("1.8 V", "9 V", [1300, 1500, 1600]),  # 1440 ohm: LED_B
        ("2 V", "12 V", [1800, 2000, 2200]),  # 10 V over 5 mA is a preferred value itself
    ],
)
def test_the_next_values_both_ways(lamp, supply, next_values):
    found = read_resistor({"supply": supply, "lamp": lamp, "current": "5 mA"}).answer
    assert [found.lower.ohm, found.chosen.ohm, found.higher.ohm] == next_values


@given(currents, st.sampled_from(tuple(SERIES)), st.integers(1, 3))
def test_the_chosen_resistor_is_never_brighter_than_wanted(current, series, leds):
    found = read_resistor(PLAIN | {"current": current, "series": series, "leds": str(leds)}).answer
    assert found.lower.ohm < found.chosen.ohm < found.higher.ohm
    assert found.chosen.brightness.best <= 1 + 1e-9 <= found.lower.brightness.best
    assert found.higher.current_a.best < found.chosen.current_a.best


@given(st.sampled_from(tuple(SERIES)), st.integers(1, 10**9).map(lambda thousandths: thousandths / 1000))
def test_the_value_before_and_the_one_after_lead_back(series, ohm):
    up = following(ohm, series)
    assert previous(following(up, series), series) == up
    assert previous(up, series) < up


def test_an_led_by_its_colour_has_its_limits_and_says_so():
    """A blue LED: 2.7 V in the school physics page's example (LED_D), within what is usual."""
    found = read_resistor(PLAIN | {"lamp": "Blue", "current": "20 mA"})
    known = found.answer.circuit.forward_v
    assert known.low <= 2.7 <= known.high
    assert found.echoes["lamp"].startswith("2.7 V to 3.4 V, a blue LED at 5 to 20 mA: common practice")
    assert found.answer.notes == (
        "The LED's voltage is taken by its colour: measure it, or take it from its own sheet, for a closer answer.",
    )
    over = read_resistor(PLAIN | {"lamp": "red", "current": "30 mA"}).answer
    assert over.notes[1] == "Most small LEDs bear 20 mA at most: see on its sheet whether yours bears more."
    assert read_resistor(PLAIN).answer.notes == ()


def test_a_current_left_out_is_said():
    found = read_resistor(PLAIN | {"current": ""})
    assert found.echoes["current"] == "1 mA counts: enough for a scale headlight; common practice, no source"
    assert found.answer.circuit.wanted_a.value == 0.001


def test_limits_are_echoed_and_one_figure_is_not():
    found = read_resistor(PLAIN | {"supply": "12 ± 1 V"})
    assert found.echoes == {"supply": "12 V, 11 V to 13 V"}
    assert found.answer.chosen.current_a.low < found.answer.chosen.current_a.best < found.answer.chosen.current_a.high


NO_UNIT = "it has no unit; write a number with its unit, such as"
RATED = {"supply": "12 V", "rated_v": "1.5 V", "rated_a": "30 mA"}


@pytest.mark.parametrize(
    ("read", "typed", "field", "said"),
    [
        (read_resistor, {"supply": "12"}, "supply", f"'12': {NO_UNIT} 2.5 V."),
        (
            read_resistor,
            {"supply": "230 V"},
            "supply",
            (
                "the supply is '230 V'; it must be from 0.01 V to 60 V. Nothing here is for mains: leave that to "
                "licensed practice and local codes."
            ),
        ),
        (
            read_resistor,
            {"leds": "4"},
            "supply",
            "the supply is 12 V; it must be above 12 V, which 4 LEDs take in series. Put at most 3 in a string.",
        ),
        (
            read_resistor,
            {"lamp": "pink"},
            "lamp",
            (
                "the colour of the LED is 'pink'; write one of white, warm white, red, orange, amber, yellow, "
                "yellow-green, green, blue."
            ),
        ),
        (read_resistor, {"lamp": "3"}, "lamp", f"'3': {NO_UNIT} 2.5 V."),
        (
            read_resistor,
            {"current": "2 A to 20 A"},
            "current",
            "the current is '2 A to 20 A'; it must be from 0.01 mA to 10000 mA. Check its unit: 2 mA is 0.002 A.",
        ),
        (
            read_resistor,
            {"leds": "0"},
            "leds",
            (
                "the number of LEDs in series is '0'; it must be a whole number from 1 to 20. Write how many there "
                "are, such as 2."
            ),
        ),
        (
            read_resistor,
            {"series": "E25"},
            "series",
            "the resistors at hand is 'E25'; write one of E3, E6, E12, E24, E48, E96. Did you mean 'E24'?",
        ),
        (read_trimming, {"looks": "half"}, "looks", "'half': it has no number where one is due; write 50 % or 0.5."),
        (
            read_trimming,
            {"looks": "60"},
            "looks",
            "how bright it should look is '60'; it must be from 5 % to 200 %. Write 50 % or 0.5 for half as bright.",
        ),
        (
            read_strings,
            {"count": "61", "differ": "0.1 V"},
            "count",
            "the number of LEDs is '61'; it must be a whole number from 1 to 60. Write how many there are, such as 2.",
        ),
        (
            read_strings,
            {"lamp": "11.5 V", "count": "2", "differ": "0.1 V"},
            "count",
            (
                "the supply is 12 V; it must be 12.5 V or more: 11.5 V for one LED, 1 V for its resistor. Use a higher "
                "supply, an LED that takes less, or less headroom."
            ),
        ),
        (
            read_bulb,
            RATED | {"wanted_v": "2 V"},
            "wanted_v",
            "the voltage wanted is 2 V; it must be no more than 1.2 times its rated 1.5 V. A bulb soon fails above.",
        ),
        (
            read_bulb,
            RATED | {"wanted_v": "1 to 2 V"},
            "wanted_v",
            "the voltage wanted is '1 to 2 V'; it must be one figure. Write it without limits, such as 2.5 V.",
        ),
    ],
)
def test_a_wrong_entry_is_said_at_its_field(read, typed, field, said):
    found = read(PLAIN | typed)
    assert found.messages == {field: said}
    assert found.answer is None


def test_what_is_still_to_enter():
    assert read_resistor({}).waiting == ("the supply at the output", "the LED, by its colour or its voltage")
    above = "what can be read in the first form above"
    assert read_trimming(PLAIN | {"supply": "12"}).waiting == ("how bright it should look", above)
    assert read_strings({"count": "4"}).waiting == ("how far their voltages differ", above)
    assert read_bulb({"supply": "12"}).waiting == (
        above,
        "the bulb's rated voltage",
        "what it draws at that voltage",
    )
    for read in (read_trimming, read_strings, read_bulb):
        assert not read({"supply": "nonsense"}).messages  # that is said in the first form


def test_half_as_bright_takes_a_fifth_of_the_light():
    """CIE 15: L* = 116 (Y/Yn)^(1/3) - 16, so that L* 50 is ((50 + 16) / 116)^3 = 0.1842 of the light."""
    found = read_trimming(PLAIN | {"looks": "50 %"}).answer
    assert agrees_with_print(found.share, "0.1842")
    assert found.brighter.looks >= 0.5 >= found.dimmer.looks
    assert [each.ohm for each in found.steps] == sorted(each.ohm for each in found.steps)


@given(st.integers(5, 200), st.sampled_from(tuple(SERIES)))
def test_the_two_resistors_lie_on_both_sides(percent, series):
    found = read_trimming(PLAIN | {"looks": f"{percent} %", "series": series}).answer
    assert found.brighter.looks >= percent / 100 - 1e-9
    assert found.dimmer.looks <= percent / 100 + 1e-9


@given(st.integers(5, 200))
def test_percent_and_part_are_the_same(percent):
    assert read_share(f"{percent}%") == pytest.approx(read_share(f"{percent / 100:.2f}"))


def test_two_side_by_side_by_the_diode_law():
    """By hand, n = 2 at 300 K: 2 x 0.02585 V / 2 mA = 25.85 ohm; 0.05 V over it 1.934 mA; (1 + 1.934/4)/2."""
    found = read_strings(PLAIN | {"count": "4", "differ": "0.05 V"}).answer
    assert agrees_with_print(found.side_by_side.shares[0], "0.7418")
    # 12 V less 1 V for the resistor: three LEDs of 3 V in a string at most, so two strings at least.
    assert [way.resistors for way in found.wirings] == [2, 3, 4]
    assert all(way.leds == 4 for way in found.wirings)


def test_the_number_in_series_above_is_not_that_of_the_strings():
    typed = PLAIN | {"count": "4", "differ": "0.05 V"}
    assert read_strings(typed | {"leds": "3"}) == read_strings(typed)


def test_a_bulb_behind_its_resistor():
    """Ohm's law: (12 - 1.5) V over 30 mA are 350 ohm, between 330 and 360 of E24 (IEC 60063)."""
    found = read_bulb(RATED).answer
    assert found.resistor.exact_ohm == pytest.approx(350)
    assert [each.ohm for each in found.choices] == [330, 360, 390]
    assert not found.rough
    assert read_bulb(RATED | {"wanted_v": "0.9 V"}).answer.rough


@pytest.mark.parametrize("rated", ["12 V", "14 V", "16 V"])
def test_a_bulb_that_needs_no_resistor(rated):
    found = read_bulb(RATED | {"rated_v": rated}).answer
    assert found.resistor is None
    assert found.choices == ()
    assert found.rough == (rated == "16 V")  # 12 of 16 V is less than four fifths


@given(
    st.dictionaries(
        st.sampled_from([*resistor.FIELDS, *trimming.FIELDS, *strings.FIELDS, *bulb.FIELDS]), st.text(max_size=12)
    )
)
def test_any_text_gives_an_answer_messages_or_what_is_missing(typed):
    begin = DEMO | trimming.DEMO | strings.DEMO | bulb.DEMO
    for read, own in (
        (read_resistor, resistor.FIELDS), (read_trimming, trimming.FIELDS),
        (read_strings, strings.FIELDS), (read_bulb, bulb.FIELDS),
    ):  # fmt: skip
        found = read(begin | typed)
        assert (found.answer is None) == bool(found.messages or found.waiting)
        assert set(found.messages) | set(found.echoes) <= set(own)


def test_quantities_within_what_can_be_meant():
    with pytest.raises(
        OutOfRange, match=r"^a gap is '2 to 4000 s'; it must be from 0\.001 s to 3600 s\. Check its unit\.$"
    ):
        in_range("2 to 4000 s", "time", "a gap")
    with pytest.raises(
        UnreadableLength, match=r"^'0,1': it has no unit; write a number with its unit, such as 2\.5 V\.$"
    ):
        one_figure("0,1", "voltage", "what may be lost")

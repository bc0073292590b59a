"""The clipping voltage and the power into a load, against Ohm's law and the rms value of a sampled sine."""

import re

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from published import agrees_with_print, published_rows

from modelmath.errors import NotYetKnown, OutOfRange, UnknownChoice
from modelmath.quantities.known import Known
from modelmath.quantities.text import parse_quantity
from modelmath.sound.loads import AmpOutput, plain_value

PRINTED = {row["id"]: row for row in published_rows("electrical_examples.csv")}
LOADS = st.floats(1, 200)


def test_the_usual_reference_voltage_as_printed():
    """2.83 V rms into 8 ohm: a bridge whose peak is that times the root of 2."""
    output = AmpOutput(least_ohm=8, supply_v=2.83 * 2**0.5)
    assert agrees_with_print(output.power_into(8), PRINTED["SPK_1"]["value"])


@given(st.floats(2, 20), st.floats(0, 1.5))
def test_a_bridge_clips_where_its_sine_meets_the_supply(supply, drop):
    peak = supply - drop
    sine = peak * np.sin(2 * np.pi * (np.arange(1000) + 0.5) / 1000)
    assert AmpOutput(8, supply_v=supply, drop_v=drop).clipping_v == pytest.approx(np.sqrt(np.mean(sine**2)))


@given(st.floats(0.1, 10), st.floats(2, 32))
def test_its_stated_power_comes_back_at_its_stated_impedance(power, ohm):
    output = AmpOutput(4, power_w=power, at_ohm=ohm)
    assert output.power_into(ohm) == pytest.approx(power)
    assert output.clipping_v**2 / ohm == pytest.approx(power)


@given(LOADS, LOADS)
def test_half_the_power_into_twice_the_load_and_never_more_into_a_higher_one(first, second):
    output = AmpOutput(4, supply_v=5, drop_v=0.4)
    assert output.power_into(2 * first) == pytest.approx(output.power_into(first) / 2)
    low, high = sorted((first, second))
    assert output.power_into(low) >= output.power_into(high)
    if high > low * (1 + 1e-12):  # closer than that, rounding may make them one
        assert output.power_into(low) > output.power_into(high)


@given(LOADS, st.floats(0.1, 5))
def test_a_stated_limit_holds_at_any_impedance(ohm, limit):
    free, held = AmpOutput(4, supply_v=5), AmpOutput(4, supply_v=5, limit_w=limit)
    assert held.power_into(ohm) == pytest.approx(min(free.power_into(ohm), limit))


def test_what_lacks_is_named():
    text = (
        r"^The voltage at which the decoder clips is not known yet; enter from the decoder's sheet its output power "
        r"with the impedance that it is stated at, or the supply voltage of its sound output\.$"
    )
    with pytest.raises(NotYetKnown, match=text):
        AmpOutput(least_ohm=8).power_into(8)
    text = (
        r"^The voltage at which the decoder clips is not known yet; enter from the decoder's sheet the impedance that "
        r"its output power is stated at\.$"
    )
    with pytest.raises(NotYetKnown, match=text):
        assert AmpOutput(least_ohm=8, power_w=1).clipping_v


@pytest.mark.parametrize(
    ("fields", "text"),
    [
        (
            {"least_ohm": -8},
            r"^the least impedance of the decoder is -8 ohm; it must be above 0 ohm\. Read it from the sheet again\.$",
        ),
        (
            {"least_ohm": 16, "most_ohm": 8},
            (
                r"^the greatest impedance of the decoder is 8 ohm; it must be 16 ohm, its least impedance, or more\. "
                r"Swap the two\.$"
            ),
        ),
        (
            {"supply_v": 5, "drop_v": 5},
            (
                r"^the voltage that the decoder's sound output loses is 5 V; it must be below its supply of 5 V\. "
                r"Read both from the sheet again\.$"
            ),
        ),
        (
            {"drop_v": -1},
            (
                r"^the voltage that the decoder's sound output loses is -1 V; it must be 0 V or more\. "
                r"Read it from the sheet again\.$"
            ),
        ),
    ],
)
def test_what_a_sheet_can_not_say(fields, text):
    with pytest.raises(OutOfRange, match=text):
        AmpOutput(**fields)


VOLTAGE = "The output is taken as a voltage source up to 3.54 V rms of a sine, where it begins to clip."
BRIDGE = "It is taken as a bridge on 5 V that can swing both ways."
NO_LOSS = "No loss in the bridge is stated, so 0 V is counted: the true power is at most this."
CLIPPED = "Clipped sound holds up to twice the power of the unclipped sine: turn down what distorts."


@pytest.mark.parametrize(
    ("fields", "between"),
    [
        ({}, (NO_LOSS,)),
        ({"drop_v": 0}, ()),
        ({"drop_v": 0, "limit_w": 1}, ("The sheet limits the power to 1 W at any impedance.",)),
        (
            {"drop_v": 0, "power_w": 1.6, "at_ohm": 8},  # 3.58 V, 1 % off
            (
                (
                    "Of the decoder, its stated 1.6 W into 8 ohm need 3.58 V rms, its supply allows 3.54 V: they "
                    "agree, and the supply is counted."
                ),
            ),
        ),
        (
            {"drop_v": 0, "power_w": 2, "at_ohm": 8},  # 4 V, 12 % off
            (
                (
                    "Of the decoder, its stated 2 W into 8 ohm need 4.00 V rms, its supply allows 3.54 V: they "
                    "disagree by 12 %. The supply, the smaller one, is counted; read both from the sheet again."
                ),
            ),
        ),
        (
            {"drop_v": 0, "power_w": 1},
            ("The sheet's 1 W are left out: the impedance that they are stated at is not entered.",),
        ),
    ],
)
def test_what_is_assumed_is_said(fields, between):
    assert AmpOutput(8, supply_v=5, **fields).assumptions() == (VOLTAGE, BRIDGE, *between, CLIPPED)


@given(st.floats(2, 20), st.floats(0.1, 10), st.floats(2, 32))
def test_of_supply_and_stated_power_the_smaller_voltage_counts(supply, power, ohm):
    by_supply, by_power = supply / 2**0.5, (power * ohm) ** 0.5
    output = AmpOutput(4, supply_v=supply, power_w=power, at_ohm=ohm)
    assert output.clipping_v == pytest.approx(min(by_supply, by_power))
    assert output.power_into(ohm) <= power * (1 + 1e-9)
    apart = 1 - min(by_supply, by_power) / max(by_supply, by_power)
    if abs(apart - 0.05) > 1e-6:
        assert any("they disagree" in each for each in output.assumptions()) == (apart > 0.05)


def test_a_stated_power_below_what_the_supply_allows_is_counted_and_said():
    """1 W into 8 ohm: 2.83 V; 5 V through the root of 2: 3.54 V, 20 % apart."""
    said = AmpOutput(8, supply_v=5, power_w=1, at_ohm=8).assumptions()
    assert said[0].startswith("The output is taken as a voltage source up to 2.83 V rms")
    assert said[2] == (
        "Of the decoder, its stated 1 W into 8 ohm need 2.83 V rms, its supply allows 3.54 V: they disagree by 20 %. "
        "The stated power, the smaller one, is counted; read both from the sheet again."
    )
    assert NO_LOSS not in said


@pytest.mark.parametrize(
    ("typed", "kind", "field", "text"),
    [
        ("4 to 16 ohm", "resistance", "least_ohm",
         ("the least impedance of the decoder is from 4 to 16 ohm; it must be one figure. Write 4 ohm here, and 16 ohm "
          "as the most that it drives.")),
        ("4 to 16 ohm, given", "resistance", "most_ohm",
         ("the greatest impedance of the decoder is from 4 to 16 ohm; it must be one figure. Write 16 ohm here, and "
          "4 ohm as the least that it drives.")),
        ("8 ± 0.5 ohm", "resistance", "least_ohm",
         ("the least impedance of the decoder is 8 ohm with limits; it must be one figure. Write 8 ohm here, without a "
          "tolerance.")),
        ("8 ohm, 7 to 9 ohm", "resistance", "at_ohm",
         ("the impedance that the decoder's power is stated at is 8 ohm with limits; it must be one figure. Write "
          "8 ohm here, without a tolerance.")),
        ("4 to 8 ohm", "resistance", "at_ohm",
         ("the impedance that the decoder's power is stated at is from 4 to 8 ohm; it must be one figure. Write the "
          "one impedance that the power is stated at, such as 4 ohm.")),
        ("12 to 16 V", "voltage", "supply_v",
         ("the supply voltage of the decoder's sound output is from 12 to 16 V; it must be one figure. Write the one "
          "figure of the sheet, such as 12 V.")),
    ],
)  # fmt: skip
def test_a_range_is_no_figure_of_a_sheet(typed, kind, field, text):
    known = parse_quantity(typed, kind)
    with pytest.raises(OutOfRange, match=f"^{re.escape(text)}$"):
        plain_value(known, field, typed)


def test_one_figure_is_taken_wherever_it_comes_from():
    assert plain_value(parse_quantity("8 ohm, measured", "resistance"), "least_ohm") == 8
    with pytest.raises(OutOfRange, match=r"Write 4 ohm here, and 16 ohm as the most that it drives\.$"):
        plain_value(parse_quantity("4 to 16 ohm", "resistance"), "least_ohm")
    text = (
        r"^a field of the decoder's output is 'least'; write one of least_ohm, most_ohm, power_w, at_ohm, supply_v, "
        r"drop_v, limit_w\. Did you mean 'least_ohm'\?$"
    )
    with pytest.raises(UnknownChoice, match=text):
        plain_value(Known.of(8), "least")


def test_a_square_wave_holds_twice_the_power_of_a_sine_of_its_peak():
    """The sentence on clipped sound: mean squares of both, sampled."""
    sine = np.sin(2 * np.pi * (np.arange(1000) + 0.5) / 1000)
    assert np.mean(np.sign(sine) ** 2) / np.mean(sine**2) == pytest.approx(2)

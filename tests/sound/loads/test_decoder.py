"""The clipping voltage and the power into a load, against Ohm's law and the rms value of a sampled sine."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from published import agrees_with_print, published_rows

from modelmath.errors import NotYetKnown, OutOfRange
from modelmath.sound.loads import AmpOutput

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
    assert (output.power_into(first) >= output.power_into(second)) == (first <= second)


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
        ({"drop_v": 0, "power_w": 1.6, "at_ohm": 8}, ()),  # 3.58 V, 1 % off
        (
            {"drop_v": 0, "power_w": 1, "at_ohm": 8},
            ("The sheet's 1 W into 8 ohm is 2.83 V rms, its supply allows 3.54 V: the supply is counted.",),
        ),
        (
            {"drop_v": 0, "power_w": 1},
            ("The sheet's 1 W are left out: the impedance that they are stated at is not entered.",),
        ),
    ],
)
def test_what_is_assumed_is_said(fields, between):
    assert AmpOutput(8, supply_v=5, **fields).assumptions() == (VOLTAGE, BRIDGE, *between, CLIPPED)


def test_a_square_wave_holds_twice_the_power_of_a_sine_of_its_peak():
    """The sentence on clipped sound: mean squares of both, sampled."""
    sine = np.sin(2 * np.pi * (np.arange(1000) + 0.5) / 1000)
    assert np.mean(np.sign(sine) ** 2) / np.mean(sine**2) == pytest.approx(2)

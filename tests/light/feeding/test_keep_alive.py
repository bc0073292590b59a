"""Capacitors, against the discharge integrated step by step and the charge by its differential equation."""

import re

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import quad, solve_ivp

from modelmath.errors import OutOfRange, WrongKind
from modelmath.light.feeding.charging import charging, charging_resistor_ohm, stored_j
from modelmath.light.feeding.keep_alive import (
    capacitance_for,
    keep_alive,
    keep_alive_cautions,
    runtime_at_power_s,
    runtime_s,
)
from modelmath.quantities.band import Band
from modelmath.quantities.known import Known

capacitances = st.floats(1e-5, 2.0)
currents = st.floats(0.001, 2.0)
spent = st.floats(1.0, 10.0)
falls = st.floats(0.5, 12.0)


def whole(text):
    return f"^{re.escape(text)}$"


def time_down_to(volts, current_at, capacitance, from_v):
    """Return when the voltage of a capacitor reaches a value, by integrating dV/dt = -I(V) / C."""

    def reached(_time, state):
        return state[0] - volts

    reached.terminal = True
    found = solve_ivp(
        lambda _time, state: [-current_at(state[0]) / capacitance],
        (0, 1000),
        [from_v],
        events=reached,
        rtol=1e-10,
        atol=1e-10,
    )
    return found.t_events[0][0]


@pytest.mark.parametrize(
    ("capacitance", "from_v", "to_v", "load"), [(0.001, 14, 8, 0.1), (1.5, 5.4, 3.3, 0.4), (47e-5, 20, 6.5, 0.7)]
)
def test_a_steady_current_lasts_as_long_as_the_integrated_discharge(capacitance, from_v, to_v, load):
    """Outside check: numerical integration (SciPy)."""
    expected = time_down_to(to_v, lambda _volts: load, capacitance, from_v)
    assert runtime_s(capacitance, from_v, to_v, load).best == pytest.approx(expected, rel=1e-6)


@pytest.mark.parametrize(
    ("capacitance", "from_v", "to_v", "power"), [(0.001, 14, 8, 1.1), (1.5, 5.4, 3.3, 2.0), (47e-5, 20, 6.5, 6.0)]
)
def test_a_steady_power_lasts_as_long_as_the_integrated_discharge(capacitance, from_v, to_v, power):
    """Outside check: numerical integration (SciPy), I = P / V."""
    expected = time_down_to(to_v, lambda volts: power / volts, capacitance, from_v)
    assert runtime_at_power_s(capacitance, from_v, to_v, power).best == pytest.approx(expected, rel=1e-6)


@pytest.mark.parametrize(("capacitance", "supply", "ohm"), [(0.001, 14.0, 100.0), (1.5, 5.4, 33.0)])
def test_charging_is_what_the_differential_equation_says(capacitance, supply, ohm):
    """Outside check: dV/dt = (supply - V) / R C integrated (SciPy); heat as the integral of I^2 R."""
    found = charging(capacitance, supply, ohm)
    end = 20 * ohm * capacitance
    solved = solve_ivp(
        lambda _time, state: [(supply - state[0]) / (ohm * capacitance)],
        (0, end),
        [0.0],
        rtol=1e-10,
        atol=1e-12,
        dense_output=True,
    )
    assert solved.sol(found.time_s.best)[0] == pytest.approx(0.95 * supply, rel=1e-6)
    heat, _ = quad(lambda time: (supply - solved.sol(time)[0]) ** 2 / ohm, 0, end, limit=200)
    assert found.heat_j.best == pytest.approx(heat, rel=1e-5)
    assert found.first_a.best * ohm == pytest.approx(supply)  # all of the supply is on the resistor at first
    assert found.first_w.best == pytest.approx(found.first_a.best * supply)


def test_energy_is_the_integral_of_voltage_over_charge():
    """Outside check: numerical integration (NumPy) of V dQ."""
    charge = np.linspace(0, 0.01 * 14, 10001)
    assert stored_j(0.01, 14.0).best == pytest.approx(np.trapezoid(charge / 0.01, charge), rel=1e-9)


@given(capacitances, spent, falls, currents)
def test_time_and_capacitance_are_each_others_inverse(capacitance, to_v, fall, load):
    time = runtime_s(capacitance, to_v + fall, to_v, load).best
    assert capacitance_for(time, to_v + fall, to_v, load).best == pytest.approx(capacitance)


@given(capacitances, spent, falls, currents, st.floats(1.0, 5.0))
def test_more_capacitance_lasts_longer_and_more_current_less_long(capacitance, to_v, fall, load, more):
    from_v = to_v + fall
    one = runtime_s(capacitance, from_v, to_v, load).best
    assert runtime_s(capacitance * more, from_v, to_v, load).best >= one
    assert runtime_s(capacitance, from_v, to_v, load * more).best <= one


@given(capacitances, spent, falls, currents)
def test_a_power_lasts_between_the_currents_at_both_ends(capacitance, to_v, fall, load):
    """As the voltage falls, a steady power draws more current: between those at full and at spent voltage."""
    from_v = to_v + fall
    power = load * from_v
    shortest = runtime_s(capacitance, from_v, to_v, power / to_v).best
    longest = runtime_s(capacitance, from_v, to_v, power / from_v).best
    assert shortest * (1 - 1e-9) <= runtime_at_power_s(capacitance, from_v, to_v, power).best <= longest * (1 + 1e-9)


def test_limits_are_those_of_the_worst_and_the_best_case():
    band = runtime_s(Known(0.001, 0.0008, 0.0012), Known(14, 13, 15), 8.0, Band(0.1, 0.08, 0.12))
    assert (band.best, band.low, band.high) == pytest.approx((0.06, 0.0008 * 5 / 0.12, 0.0012 * 7 / 0.08))
    powered = runtime_at_power_s(Known(0.001, 0.0008, 0.0012), 14.0, Known(8, 7, 9), 1.0)
    assert (powered.low, powered.high) == pytest.approx((0.0008 * (196 - 81) / 2, 0.0012 * (196 - 49) / 2))


@given(st.floats(1.0, 30.0), st.floats(0.01, 2.0), st.floats(0.0, 0.2))
def test_the_charging_resistor_keeps_the_first_current_in_every_case(volts, most, within):
    known = Known(volts, volts * (1 - within), volts * (1 + within))
    ohm = charging_resistor_ohm(known, most)
    assert charging(0.001, known, ohm).first_a.high == pytest.approx(most)


def test_a_capacitor_on_a_decoder_in_words():
    found = keep_alive(0.001, 14.0, 8.0, 0.1, resistor_ohm=100.0, rated_v=25.0)
    assert not found.faults
    assert found.in_words == (
        "It bridges about 0.06 s. At first 140 mA flow; after 0.3 s it is 95 % done. "
        "Discharge it before you work on the model."
    )
    assert keep_alive(0.001, Known(14, 13, 15), 8.0, 0.1).in_words == (
        "It bridges about 0.06 s (0.05 s to 0.07 s). Discharge it before you work on the model."
    )


def test_a_rating_at_the_voltage_it_sees_is_too_low():
    at_worst = keep_alive(0.001, Known(14, 13, 16), 8.0, 0.1, rated_v=16.0)
    assert at_worst.faults == ("It is rated for 16 V and sees 16 V: take one rated above that, with room to spare.",)
    assert not keep_alive(0.001, Known(14, 13, 16), 8.0, 0.1, rated_v=16.1).faults


def test_cautions_say_to_discharge_it_and_to_mind_rating_and_poles():
    cautions = " ".join(keep_alive_cautions())
    for word in ("discharge", "rated voltage", "poles", "burst", "resistor", "sheet"):
        assert word in cautions
    assert keep_alive(0.001, 14.0, 8.0, 0.1).cautions == keep_alive_cautions()


@pytest.mark.parametrize(
    ("call", "kind", "text"),
    [
        (
            lambda: runtime_s(0.001, Known(14, 12, 16), Known(10, 8, 12), 0.1),
            OutOfRange,
            (
                "the voltage it may sink to is 12 V; it must be below 12 V, the least that it is charged to. "
                "Read the decoder's lowest voltage from its sheet again."
            ),
        ),
        (
            lambda: runtime_s(0.0, 14.0, 8.0, 0.1),
            OutOfRange,
            "the capacitance is 0 F; it must be above 0 F. Check the figure behind it.",
        ),
        (
            lambda: capacitance_for("3 s", 14.0, 8.0, 0.1),
            WrongKind,
            (
                "the time is '3 s'; expected a plain number of s. "
                "Write it as a number of s, or read text with parse_quantity first."
            ),
        ),
        (
            lambda: charging_resistor_ohm(14.0, 0),
            OutOfRange,
            "the most charging current is 0 A; it must be above 0 A. Check the figure behind it.",
        ),
    ],
)
def test_what_cannot_feed_anything_is_refused(call, kind, text):
    with pytest.raises(kind, match=whole(text)):
        call()


def test_down_to_nothing_by_hand():
    """1 mF from 14 V: its whole charge, 14 mC, at 0.1 A; its whole energy, 98 mJ, at 1 W."""
    assert runtime_s(0.001, 14.0, 0, 0.1).best == pytest.approx(0.14)
    assert runtime_at_power_s(0.001, 14.0, 0, 1.0).best == pytest.approx(0.098)
    assert capacitance_for(0.14, 14.0, 0, 0.1).best == pytest.approx(0.001)


def test_the_greatest_capacitance_lasts_in_every_case():
    found = capacitance_for(Band(0.5, 0.4, 0.6), Known(14, 13, 15), Known(8, 7, 9), Band(0.1, 0.08, 0.12))
    assert (found.best, found.low, found.high) == pytest.approx((0.05 / 6, 0.4 * 0.08 / 8, 0.6 * 0.12 / 4))
    assert runtime_s(found.high, Known(14, 13, 15), Known(8, 7, 9), 0.12).low == pytest.approx(0.6)


def test_charging_within_limits_by_hand():
    """1 mF (0.8 to 1.2), 14 V (13 to 15), 100 ohm (90 to 110); 95 % takes -ln 0.05 = 2.9957 time constants."""
    found = charging(Known(0.001, 0.0008, 0.0012), Known(14, 13, 15), Known(100, 90, 110))
    for band, ends in (
        (found.first_a, (0.14, 13 / 110, 15 / 90)),
        (found.first_w, (1.96, 169 / 110, 225 / 90)),
        (found.time_s, (0.29957, 2.9957 * 0.0008 * 90, 2.9957 * 0.0012 * 110)),
        (found.heat_j, (0.098, 0.0004 * 169, 0.0006 * 225)),
        (found.resistor_ohm, (100, 90, 110)),
    ):
        assert (band.best, band.low, band.high) == pytest.approx(ends, rel=1e-4)
    assert found.in_words == (
        "At first 140 mA (118 mA to 167 mA) flow; after 0.3 s (0.216 s to 0.395 s) it is 95 % done."
    )
    assert charging_resistor_ohm(Known(14, 13, 15), 0.1) == pytest.approx(150)


def test_a_rating_hardly_above_what_it_sees_is_above_but_not_by_float_noise():
    assert keep_alive(0.001, 14.0, 8.0, 0.1, rated_v=14.0 + 1e-6).faults == ()
    assert keep_alive(0.001, 14.0, 8.0, 0.1, rated_v=14.0 + 1e-12).faults != ()
    assert keep_alive(0.001, 14.0, 8.0, 0.1).faults == ()
    with pytest.raises(OutOfRange, match=r"^the capacitor's rated voltage is 0 V; it must be above 0 V\."):
        keep_alive(0.001, 14.0, 8.0, 0.1, rated_v=0)

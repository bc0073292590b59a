"""Current sources, and what needs no resistor."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from modelmath.errors import OutOfRange, WrongKind
from modelmath.light.lamps.sources import CurrentSource, Direct
from modelmath.quantities.known import Known


@given(st.floats(0.0005, 0.03), st.floats(0, 3), st.integers(1, 6), st.floats(5, 24), st.floats(1.6, 3.5))
def test_what_the_supply_gives_is_taken(current, least, leds, supply, forward):
    """Kirchhoff: the source burns what the LEDs leave."""
    found = CurrentSource(current, least).drives(leds, supply, forward)
    assert found.left_v.best + leds * forward == pytest.approx(supply)
    if found.drives == "yes":
        assert found.burns_w.best + found.lamp_power_w.best == pytest.approx(supply * current)
        assert found.short_v == 0
    else:
        assert found.short_v == pytest.approx(least - (supply - leds * forward))


@given(st.floats(0, 3), st.floats(5, 24), st.floats(1.6, 3.5))
def test_the_most_in_series_is_driven_and_one_more_is_not(least, supply, forward):
    source = CurrentSource(0.002, least)
    most = source.most_in_series(supply, forward)
    assert most == 0 or source.drives(most, supply, forward).drives == "yes"
    more = source.drives(most + 1, supply, forward)
    assert more.drives == "no" or more.left_v.best == pytest.approx(least, abs=1e-8)


def test_by_hand():
    """12 V less three times 3 V leaves 3 V: 2 mA through it is 6 mW, through the LEDs 18 mW."""
    found = CurrentSource(0.002, 1.4).drives(3, 12, 3.0)
    assert (found.drives, found.left_v.best) == ("yes", 3.0)
    assert found.burns_w.best == pytest.approx(0.006)
    assert found.lamp_power_w.best == pytest.approx(0.018)
    assert CurrentSource(0.002, 1.4).most_in_series(12, 3.0) == 3
    assert CurrentSource(0.002, 3.0).most_in_series(9.0 + 3.6, 3.2) == 3


def test_limits_make_it_uncertain():
    source = CurrentSource(0.002, 1.4)
    found = source.drives(3, Known(12, 11, 13), Known(3.0, 2.8, 3.4))
    assert found.drives == "not for certain"
    assert found.short_v == pytest.approx(1.4 - (11 - 10.2))
    assert found.in_words == (
        "The source may not hold its current through 3 LEDs in series: at the limits 0.6 V is missing, and the light "
        "is less. Put fewer in series, or use a higher supply."
    )
    assert source.drives(1, 3, 3.2).in_words == (
        "The source can't hold its current through 1 LED: at the limits 1.6 V is missing, and the light is less. "
        "Put fewer in series, or use a higher supply."
    )
    assert source.drives(1, 3, 3.2).burns_w.best == 0
    burnt = source.drives(3, Known(10, 8, 11), Known(3.0, 2.8, 3.4)).burns_w  # by hand: 1 V left, from -2.2 V to 2.6 V
    assert (burnt.best, burnt.low, burnt.high) == pytest.approx((0.002, 0, 0.0052))


def test_more_than_the_source_bears():
    found = CurrentSource(0.002, 1.4, 10).drives(1, 14, 3.0)
    assert found.over_v == pytest.approx(1)
    assert found.in_words == (
        "The source holds its current through 1 LED and burns 22 mW. Across it there may be 1 V more than it bears: "
        "put more LEDs in series, or use a lower supply."
    )
    assert CurrentSource(0.002, 1.4, 11).drives(1, 14, 3.0).over_v == 0


def test_straight_on_the_output():
    fine = Direct(0.005, 6, 16).on(Known(12, 11, 13))
    assert fine.faults == ()
    assert (fine.power_w.best, fine.power_w.high) == (pytest.approx(0.06), pytest.approx(0.065))
    assert fine.in_words == "Straight on the output it draws 5 mA and needs no resistor."
    assert Direct(0.005, 6, 16).on(5).faults == ("The supply may be 5 V, 1 V less than it needs: use a higher supply.",)
    assert len(Direct(0.005, 6, 16).on(Known(12, 5, 17)).faults) == 2
    assert Direct(0.005).on(100).faults == ()


def test_what_is_refused():
    text = r"^its least supply is 16 V; it must be no more than its greatest supply, 6 V\. Swap them\.$"
    with pytest.raises(OutOfRange, match=text):
        Direct(0.005, 16, 6)
    text = r"^the source's current is 0 A; it must be above 0, its lower limit too\. Write it above 0, such as 2 mA\.$"
    with pytest.raises(OutOfRange, match=text):
        CurrentSource(0, 1.4)
    text = r"^the number of LEDs is -1; it must be 1 or more\. Write how many there are\.$"
    with pytest.raises(OutOfRange, match=text):
        CurrentSource(0.002, 1.4).drives(-1, 12, 3)


@given(st.lists(st.tuples(*[st.floats(0, 1)] * 3), min_size=1, max_size=20))
def test_no_case_within_the_limits_leaves_the_bands(places):
    current, supply, forward = Known(0.002, 0.0015, 0.003), Known(12, 10, 15), Known(3.0, 2.6, 3.4)
    found = CurrentSource(current, 1.4).drives(2, supply, forward)
    corners = [(0.0, 0.0, 1.0), (1.0, 1.0, 0.0), (1.0, 0.0, 1.0)]
    burnt, taken = [], []
    for a, b, c in [*places, *corners]:
        amps, volts, each = (
            known.low + part * (known.high - known.low) for known, part in ((current, a), (supply, b), (forward, c))
        )
        burnt.append(amps * (volts - 2 * each))
        taken.append(amps * 2 * each)
    # The corners are the extremes; nothing else goes beyond them.
    assert (found.burns_w.low, found.burns_w.high) == (pytest.approx(min(burnt)), pytest.approx(max(burnt)))
    assert found.lamp_power_w.high == pytest.approx(max(taken))
    assert min(taken) >= found.lamp_power_w.low * (1 - 1e-12)


def test_the_limits_of_the_supply_count():
    assert Direct(0.005, 6, 16).on(Known(12, 5, 17)).faults == (
        "The supply may be 17 V, 1 V more than it bears: use a lower supply or a resistor for the difference.",
        "The supply may be 5 V, 1 V less than it needs: use a higher supply.",
    )


def test_what_a_lamp_of_its_own_bears_is_told_by_hand():
    assert Direct(0.005, 9, 16).on(2).faults == ("The supply may be 2 V, 7 V less than it needs: use a higher supply.",)
    assert Direct(0.005, 9, 16).on(40).faults == (
        "The supply may be 40 V, 24 V more than it bears: use a lower supply or a resistor for the difference.",
    )
    assert Direct(0.005, 9, 16).on(Known(12, 9, 16)).faults == ()  # at its very limits
    assert Direct(0.005, 9).on(40).faults == Direct(0.005, None, 16).on(2).faults == ()


def test_limits_of_a_lamp_are_kept_as_numbers_and_refused_where_they_are_none():
    known = Direct(0.005, Known(6, 5, 7), Known(16, 15, 17))
    assert (known.least_v, known.most_v) == (6.0, 16.0)
    assert Direct(0.005, 12, 12).on(12).faults == ()
    with pytest.raises(OutOfRange, match=r"^its least supply is -1 V; it must be above 0, its lower limit too\."):
        Direct(0.005, -1)
    with pytest.raises(WrongKind, match=r"^its greatest supply is '16 V'; expected a number of V\."):
        Direct(0.005, None, "16 V")
    with pytest.raises(WrongKind, match=r"^what it draws is 'True'; expected a number of A\."):
        Direct(True)


def test_the_power_of_a_lamp_by_hand():
    power = Direct(Known(0.005, 0.004, 0.006)).on(Known(12, 11, 13)).power_w
    assert (power.best, power.low, power.high) == pytest.approx((0.06, 0.044, 0.078))


def test_at_the_very_edge_the_source_drives():
    """12 V less three times 3 V is the 3 V that it needs; limits that may fall short make that uncertain."""
    assert CurrentSource(0.002, 3.0).drives(3, 12, 3.0).drives == "yes"
    assert CurrentSource(0.002, Known(3.0, 2.5, 3.5)).drives(3, 12, 3.0).drives == "not for certain"
    assert CurrentSource(0.002, 3.01).drives(3, 12, 3.0).drives == "no"
    assert CurrentSource(0.002, 0).drives(4, 12, 3.0).drives == "yes"
    assert CurrentSource(0.002, 3.0).drives(3, Known(12, 12, 13), 3.0).drives == "yes"


def test_what_the_source_takes_and_bears_within_limits_by_hand():
    found = CurrentSource(Known(0.002, 0.001, 0.003), Known(1.4, 1.2, 1.6), Known(5, 4, 6)).drives(
        2, Known(12, 11, 13), Known(3.0, 2.8, 3.4)
    )
    assert (found.left_v.best, found.left_v.low, found.left_v.high) == pytest.approx((6, 4.2, 7.4))
    assert (found.lamp_v.best, found.lamp_v.low, found.lamp_v.high) == pytest.approx((6, 5.6, 6.8))
    taken = found.lamp_power_w
    assert (taken.best, taken.low, taken.high) == pytest.approx((0.012, 0.0056, 0.0204))
    assert found.over_v == pytest.approx(3.4)  # of 7.4 V it surely bears 4 V
    assert CurrentSource(0.002, Known(1.4, 1.2, 1.6)).most_in_series(Known(12, 11, 13), Known(3.0, 2.8, 3.4)) == 2
    assert CurrentSource(0.002, 3.0).most_in_series(2, 3.0) == 0
    assert CurrentSource(0.002, 0).most_in_series(9.6, 3.2) == 3
    with pytest.raises(OutOfRange, match=r"^what the source bears is 0 V; it must be above 0, its lower limit too\."):
        CurrentSource(0.002, 1.4, 0)
    with pytest.raises(OutOfRange, match=r"^what the source needs is -1 V; it must be 0 or more\."):
        CurrentSource(0.002, -1)


def test_a_source_that_nothing_is_left_for_burns_nothing():
    burnt = CurrentSource(0.002, 1.4).drives(1, 2, 3.2).burns_w
    assert (burnt.best, burnt.low, burnt.high) == (0, 0, 0)

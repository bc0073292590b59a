"""Preferred values against the rule of IEC 60063, and the next value either way."""

from __future__ import annotations

from decimal import ROUND_HALF_UP, Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from modelmath import tables
from modelmath.errors import OutOfRange, TableError, UnknownChoice, WrongKind
from modelmath.light.lamps.preferred import FILE, SERIES, following, format_ohm, next_values, read_series
from modelmath.quantities.text import parse_quantity

# IEC 60063: values are 10^(i/n), rounded, with two figures up to E24 and three above; these were kept where a value in
# use differed. Rule and exceptions as public reference pages on the standard print them.
KEPT = {"2.6": "2.7", "2.9": "3.0", "3.2": "3.3", "3.5": "3.6", "3.8": "3.9", "4.2": "4.3", "4.6": "4.7", "8.3": "8.2"}
resistances = st.floats(1e-2, 1e8)
series_names = st.sampled_from(sorted(SERIES))


@pytest.mark.parametrize("count", [3, 6, 12, 24, 48, 96])
def test_values_follow_the_rule_of_the_standard(count):
    places = Decimal("0.1") if count <= 24 else Decimal("0.01")
    by_rule = []
    for step in range(count):
        rounded = (Decimal(10) ** (Decimal(step) / count)).quantize(places, ROUND_HALF_UP)
        by_rule.append(float(KEPT.get(str(rounded), rounded) if count <= 24 else rounded))
    assert list(SERIES[f"E{count}"]) == by_rule


@pytest.mark.parametrize(("coarse", "fine"), [("E3", "E6"), ("E6", "E12"), ("E12", "E24"), ("E48", "E96")])
def test_a_series_is_every_second_of_the_next(coarse, fine):
    """IEC 60063: a coarser series leaves out every second value."""
    assert SERIES[fine][::2] == SERIES[coarse]


def test_there_are_six_series():
    assert list(SERIES) == ["E3", "E6", "E12", "E24", "E48", "E96"]


@given(resistances, series_names)
def test_next_values_stand_either_side_and_nothing_between(ohm, series):
    below, above = next_values(ohm, series)
    assert below <= ohm * (1 + 1e-9)
    assert above >= ohm * (1 - 1e-9)
    assert above == below or following(below, series) == above
    # 47 to 68 and 10 to 22 are the widest steps of E6 and E3; no step is wider than 2.2.
    assert above / below <= 2.2 * (1 + 1e-12)


@given(series_names, st.integers(-1, 7), st.integers(0, 95))
def test_a_preferred_value_gives_itself_twice(series, decade, step):
    value = float(Decimal(str(SERIES[series][step % len(SERIES[series])])).scaleb(decade))
    assert next_values(value, series) == (value, value)
    assert next_values(value * (1 + 1e-12), series) == (value, value)


@given(series_names, resistances, resistances)
def test_next_values_rise(series, one, other):
    low, high = sorted((one, other))
    assert next_values(low, series)[0] <= next_values(high, series)[0]
    assert next_values(low, series)[1] <= next_values(high, series)[1]


@pytest.mark.parametrize("power", range(-2, 9))
def test_across_a_decade(power):
    value = float(f"1e{power}")
    last = float(f"9.1e{power - 1}")
    assert next_values(value * 0.99) == (last, value)
    assert next_values(value * 1.01) == (value, float(f"1.1e{power}"))
    assert following(last, "E24") == value


@pytest.mark.parametrize(
    ("ohm", "text"),
    [
        (0, "0 ohm"),
        (0.0047, "4.7 mohm"),
        (0.47, "0.47 ohm"),
        (1, "1 ohm"),
        (470, "470 ohm"),
        (999.6, "1 kohm"),
        (1020, "1.02 kohm"),
        (820e3, "820 kohm"),
        (999.9e3, "1 Mohm"),
        (2.2e6, "2.2 Mohm"),
        (99.9, "99.9 ohm"),
        (99.96, "100 ohm"),
        (0.1, "0.1 ohm"),
        (0.09996, "0.1 ohm"),
        (0.0994, "99.4 mohm"),
        (1.5e9, "1500 Mohm"),
        (123.4e6, "123 Mohm"),
    ],
)
def test_resistances_in_words(ohm, text):
    assert format_ohm(ohm) == text


@given(series_names, st.integers(0, 5), st.integers(0, 95))
def test_preferred_values_below_a_megohm_read_back(series, decade, step):
    value = float(Decimal(str(SERIES[series][step % len(SERIES[series])])).scaleb(decade))
    assert parse_quantity(format_ohm(value), "resistance").value == value


def test_what_is_refused():
    with pytest.raises(
        UnknownChoice, match=r"^the series is 'E25'; write one of E3, E6, E12, E24, E48, E96\. Did you mean .E24.\?$"
    ):
        next_values(100, "E25")
    text = r"^the resistance is 0 ohm; it must be above 0, its lower limit too\. Write it above 0, such as 8 ohm\.$"
    with pytest.raises(OutOfRange, match=text):
        next_values(0)
    text = r"^the resistance is '4k7'; expected a number of ohm\. Read text with parse_quantity first\.$"
    with pytest.raises(WrongKind, match=text):
        next_values("4k7")
    text = r"^the resistance is inf ohm; it must be a finite number\. Write it in ohm, such as 4700\.$"
    with pytest.raises(OutOfRange, match=text):
        format_ohm(float("inf"))


@pytest.mark.parametrize(
    ("body", "problem"),
    [
        ("E3,1.0,s\nE3,0.9,s\n", r"line 3: 0\.9 is out of order, or not from 1 to below 10"),
        ("E3,12,s\n", r"line 2: 12 is out of order, or not from 1 to below 10"),
        ("E3,10,s\n", r"line 2: 10 is out of order, or not from 1 to below 10"),
        ("E3,1.0,s\nE3,2.2,s\n", r"line 3: series E3 has 2 values"),
        ("E3,0.99,s\n", r"line 2: 0\.99 is out of order, or not from 1 to below 10"),
        ("E3,1.0,s\nE3,1.0,s\n", r"line 3: 1\.0 is out of order, or not from 1 to below 10"),
    ],
)
def test_a_wrong_table_is_refused(tmp_path, monkeypatch, body, problem):
    (tmp_path / FILE).write_text("series,value,source\n" + body, "utf-8")
    monkeypatch.setattr(tables, "data_folder", lambda: tmp_path)
    with pytest.raises(TableError, match=rf"^data/e_series\.csv, {problem}\.$"):
        read_series()


def test_e24_unless_said():
    assert next_values(2040.0) == next_values(2040.0, "E24") == (2000, 2200)


@pytest.mark.parametrize(("off", "same"), [(0.9e-9, True), (-0.9e-9, True), (1.2e-9, False), (-1.2e-9, False)])
def test_a_resistance_within_a_thousand_millionth_of_a_value_is_that_value(off, same):
    below, above = next_values(4700 * (1 + off), "E12")
    assert (below == above == 4700) is same
    assert 4700 in {below, above}
    assert following(4700 * (1 + off), "E12") == (5600 if same or off > 0 else 4700)

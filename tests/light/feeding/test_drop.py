"""The voltage a wire loses, against a worked example and a table of resistances."""

import re

import pytest
from hypothesis import given
from hypothesis import strategies as st
from published import agrees_with_print, published_rows

from modelmath.errors import OutOfRange, WrongKind
from modelmath.light.feeding.drop import drop_v, share_of_supply
from modelmath.quantities.band import Band
from modelmath.quantities.known import Known

GAUGES = published_rows("wire_awg.csv")


def whole(text):
    return f"^{re.escape(text)}$"


def test_the_worked_example_of_a_round_trip():
    """tests/published/electrical_examples.csv, WIRE_1; the resistance of AWG 32 from tests/published/wire_awg.csv."""
    example = next(row for row in published_rows("electrical_examples.csv") if row["id"] == "WIRE_1")
    ohm_per_km = next(float(row["ohm_per_km_20C_computed"]) for row in GAUGES if row["awg"] == "32")
    assert agrees_with_print(drop_v(0.1, 1000, ohm_per_km / 1000), example["value"])


@pytest.mark.parametrize("row", [row for row in GAUGES if row["ohm_per_1000ft_printed"]], ids=lambda row: row["awg"])
def test_an_ampere_in_a_thousand_feet_loses_what_the_handbook_prints(row):
    """One way, 304.8 m, from the resistance per km of the same row; printed within 0.36 % of it."""
    lost = drop_v(1.0, 304_800, float(row["ohm_per_km_20C_computed"]) / 1000, there_and_back=False)
    assert lost == pytest.approx(float(row["ohm_per_1000ft_printed"]), rel=0.0036)


def test_a_current_with_limits_gives_a_band():
    assert drop_v(Known(0.02, 0.01, 0.04), 500, 1.0) == Band(0.02, 0.01, 0.04)
    assert drop_v(Band(0.02, 0.01, 0.04), 500, 1.0, there_and_back=False) == Band(0.01, 0.005, 0.02)


@given(st.floats(0, 5), st.floats(0, 5), st.floats(1, 1e4), st.floats(0.01, 10))
def test_losses_of_two_currents_in_one_wire_add(one, other, length, ohm_per_m):
    both = drop_v(one + other, length, ohm_per_m)
    assert both == pytest.approx(drop_v(one, length, ohm_per_m) + drop_v(other, length, ohm_per_m), abs=1e-12)


def test_the_share_of_the_supply_has_limits_over_every_combination():
    share = share_of_supply(Band(0.12, 0.1, 0.15), Known(12.0, 10.0, 15.0))
    assert (share.best, share.low, share.high) == pytest.approx((0.01, 0.1 / 15, 0.015))


@pytest.mark.parametrize(
    ("call", "kind", "text"),
    [
        (
            lambda: drop_v("20 mA", 100, 1.0),
            WrongKind,
            (
                "the current in the wire is '20 mA'; expected a plain number of A. "
                "Write it as a number of A, or read text with parse_quantity first."
            ),
        ),
        (
            lambda: drop_v(0.1, -100, 1.0),
            OutOfRange,
            "the length of the wire is -100 mm; it must be 0 mm or more. Check the figure behind it.",
        ),
        (
            lambda: share_of_supply(0.1, 0.0),
            OutOfRange,
            "the supply is 0 V; it must be above 0 V. Check the figure behind it.",
        ),
        (
            lambda: drop_v(Band(0.1, 0.2, 0.3), 100, 1.0),
            OutOfRange,
            (
                "the current in the wire is 0.1 A with limits 0.2 and 0.3; "
                "it must be a value between its limits, the lower one first. Swap them."
            ),
        ),
    ],
)
def test_what_is_no_current_length_or_voltage_is_refused(call, kind, text):
    with pytest.raises(kind, match=whole(text)):
        call()


def test_there_and_back_unless_said():
    assert drop_v(0.1, 1000, 0.5) == drop_v(0.1, 1000, 0.5, there_and_back=True) == pytest.approx(0.1)
    assert drop_v(0, 0, 0) == 0
    assert share_of_supply(0, 12).best == 0

"""Gauges for a current, against a printed resistance table and a search through it row by row."""

import re
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st
from published import published_rows

from modelmath.errors import OutOfRange, WrongKind
from modelmath.materials.drills.gauge_for import THICKEST, THINNEST, density_limit, gauges_for
from modelmath.materials.drills.wire import awg, usual_outsides
from modelmath.quantities.known import Known

OHM_PER_KM = {int(row["awg"]): float(row["ohm_per_km_20C_computed"]) for row in published_rows("wire_awg.csv")}
PRINTED_OHM_PER_KFT = {
    int(row["awg"]): float(row["ohm_per_1000ft_printed"])
    for row in published_rows("wire_awg.csv")
    if row["ohm_per_1000ft_printed"]
}
KFT_M = 304.8

currents = st.floats(0.001, 2.0)
lengths = st.floats(20.0, 5000.0)
drops = st.floats(0.01, 3.0)


def whole(text):
    return f"^{re.escape(text)}$"


def test_the_worked_example_of_a_round_trip():
    """tests/published/electrical_examples.csv, WIRE_1: 1 m out and back of AWG 32 at 100 mA lose 0.10767 V."""
    printed = next(row for row in published_rows("electrical_examples.csv") if row["id"] == "WIRE_1")
    pick = gauges_for(0.1, 1000, most_drop_v=0.12)
    assert pick.best.wire.name == "AWG 32"
    assert pick.best.drop_v == pytest.approx(float(printed["value"]), abs=6e-6)


@given(currents, lengths, drops)
def test_the_thinnest_is_what_a_search_through_the_table_finds(current, length, drop):
    """Resistances: tests/published/wire_awg.csv, its computed column, rounded to 0.005 ohm/km."""
    lost = {gauge: current * ohm / 1000 * 2 * length / 1000 for gauge, ohm in OHM_PER_KM.items()}
    if any(abs(each - drop) <= 0.001 * each for each in lost.values()):
        return  # the table's own rounding decides there
    fitting = [gauge for gauge, each in lost.items() if each <= drop]
    if not fitting:
        with pytest.raises(OutOfRange):
            gauges_for(current, length, most_drop_v=drop)
        return
    pick = gauges_for(current, length, most_drop_v=drop)
    assert pick.best.wire.gauge == max(fitting)
    assert [each.wire.gauge for each in pick.picks] == sorted(fitting, reverse=True)[:4]
    assert (pick.too_thin is None) == (max(fitting) == THINNEST)
    if pick.too_thin is not None:
        assert pick.too_thin.wire.gauge == max(fitting) + 1
        assert pick.too_thin.drop_v > drop


@pytest.mark.parametrize("gauge", PRINTED_OHM_PER_KFT)
def test_loss_and_heat_follow_the_printed_resistance(gauge):
    """Printed handbook resistances, within 0.36 % of the formula: tests/published/wire_awg.csv."""
    ohm_per_m = PRINTED_OHM_PER_KFT[gauge] / KFT_M
    found = gauges_for(0.1, 500, most_drop_v=awg(gauge).ohm_per_m() * 0.1).best
    assert found.wire.gauge == gauge
    assert found.drop_v == pytest.approx(0.1 * ohm_per_m, rel=0.0036)
    assert found.w_per_m == pytest.approx(0.01 * ohm_per_m, rel=0.0036)
    assert found.w_per_m == pytest.approx(found.drop_v * 0.1)  # 0.5 m there and 0.5 m back are one metre


def test_a_loss_that_is_just_allowed_is_taken():
    just = awg(30).ohm_per_m() * 0.3 * 2 * 0.1
    assert gauges_for(0.3, 100, most_drop_v=just).best.wire.gauge == 30


@given(currents, lengths, drops, st.floats(1.0, 3.0))
def test_more_current_never_takes_a_thinner_wire(current, length, drop, more):
    try:
        thick = gauges_for(current * more, length, most_drop_v=drop)
    except OutOfRange:
        return
    assert gauges_for(current, length, most_drop_v=drop).best.wire.gauge >= thick.best.wire.gauge


def test_of_a_current_with_limits_the_greatest_counts():
    known = Known(0.1, 0.05, 0.2)
    assert gauges_for(known, 500, most_drop_v=0.1) == gauges_for(0.2, 500, most_drop_v=0.1)


def test_an_exact_length_is_kept():
    assert gauges_for(0.1, Fraction(254, 3), most_drop_v=0.1).length_mm == Fraction(254, 3)


def test_seven_strands_eight_gauges_finer_have_a_tenth_more_copper():
    """ASTM B258: 7 x 92^(-16/39) = 1.095; so a stranded wire loses no more than its gauge in one piece."""
    for gauge in range(THICKEST, 43):
        assert awg(f"7/{gauge + 8}").area_mm2 / awg(gauge).area_mm2 == pytest.approx(1.095, abs=0.0005)


def test_stranded_wire_says_its_make_up_and_ends_where_strands_end():
    pick = gauges_for(0.1, 1000, most_drop_v=0.07, stranded=True)
    assert (pick.best.wire.name, pick.best.made_of) == ("AWG 30", "7/38")
    thinnest = gauges_for(0.001, 20, most_drop_v=3, stranded=True)
    assert (thinnest.best.wire.gauge, thinnest.best.made_of, thinnest.too_thin) == (42, "7/50", None)


@pytest.mark.parametrize(("stranded", "sort"), [(True, "stranded"), (False, "solid")])
def test_outsides_are_those_of_the_table(stranded, sort):
    pick = gauges_for(0.1, 1000, most_drop_v=0.07, stranded=stranded)
    assert pick.best.outsides
    assert pick.best.outsides == tuple(
        each for each in usual_outsides() if each.gauge == 30 and each.wire.startswith(sort)
    )
    assert not pick.picks[1].outsides  # AWG 29 is not tabled


def test_current_through_a_section_is_shown_and_not_enforced():
    """Limit: common practice, no source. Section of AWG 36: 0.012668 mm2, tests/published/wire_awg.csv."""
    pick = gauges_for(0.1, 20, most_drop_v=0.0055)
    assert pick.best.wire.name == "AWG 36"
    assert pick.best.a_per_mm2 == pytest.approx(0.1 / 0.012668, rel=1e-4)
    assert pick.best.dense
    assert density_limit() == 5.0


def test_what_is_picked_in_words():
    assert gauges_for(0.02, 150, most_drop_v=0.01, stranded=True).in_words == (
        "AWG 36 (7/44) loses 0.00817 V there and back, at 1.6 A/mm2; 0.3 to 0.45 mm over its insulation, usually. "
        "AWG 37 would lose 0.0103 V."
    )
    assert gauges_for(0.5, 100, most_drop_v=0.1).in_words == (
        "AWG 34 (solid) loses 0.0856 V there and back, at 25 A/mm2; measure it over its insulation. "
        "That is dense, past 5 A/mm2: keep it out of a tight bundle. AWG 35 would lose 0.108 V."
    )


def test_a_loss_that_no_gauge_keeps_names_one_that_does():
    with pytest.raises(OutOfRange) as caught:
        gauges_for(2.0, 5000, most_drop_v=0.1)
    assert str(caught.value) == (
        "what may be lost is 0.1 V; it must be 0.264 V or more, which AWG 16 loses. "
        "Shorten the wire, or use two side by side."
    )
    assert gauges_for(2.0, 5000, most_drop_v=0.264).best.wire.gauge == 16


@pytest.mark.parametrize(
    ("call", "kind", "text"),
    [
        (
            lambda: gauges_for("20 mA", 100, most_drop_v=0.1),
            WrongKind,
            (
                "current_a is '20 mA'; expected a plain number of A. "
                "Write it as a number of A, or read text with parse_quantity first."
            ),
        ),
        (
            lambda: gauges_for(0.1, 100, most_drop_v=0),
            OutOfRange,
            "what may be lost is 0 V; it must be above 0 V. Check the figure behind it.",
        ),
        (
            lambda: gauges_for(float("inf"), 100, most_drop_v=0.1),
            OutOfRange,
            "current_a is inf A; it must be above 0 A. Check the figure behind it.",
        ),
        (
            lambda: gauges_for(0.1, -1, most_drop_v=0.1),
            OutOfRange,
            "length_mm is -1 mm; it must be above 0 mm. Write a positive number of mm.",
        ),
    ],
)
def test_what_is_no_current_length_or_voltage_is_refused(call, kind, text):
    with pytest.raises(kind, match=whole(text)):
        call()

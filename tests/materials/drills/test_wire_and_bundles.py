"""Wire against ASTM B258 and printed resistances; packings against the exact formulas known for them."""

import math
import re
from itertools import combinations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from published import published_rows

from modelmath.errors import OutOfRange, TableError, UnreadableLength, WrongKind
from modelmath.materials.drills import bundles
from modelmath.materials.drills.bundles import bundle_mm, bundle_of, packings
from modelmath.materials.drills.wire import awg, gauge_mm, nearest_awg, usual_outsides

ROWS = published_rows("wire_awg.csv")
FOOT_M = 0.3048
ROOT = math.sqrt
# R. L. Graham and others, Discrete Mathematics 181 (1998), and the papers it names: exact ratios, from memory.
EXACT = {
    1: 1,
    2: 2,
    3: 1 + 2 / ROOT(3),
    4: 1 + ROOT(2),
    5: 1 + ROOT(2 * (1 + 1 / ROOT(5))),
    6: 3,
    7: 3,
    8: 1 + 1 / math.sin(math.pi / 7),
    9: 1 + ROOT(2 * (2 + ROOT(2))),
    11: 1 + 1 / math.sin(math.pi / 9),
    13: 2 + ROOT(5),
    15: 1 + ROOT(6 + 2 / ROOT(5) + 4 * ROOT(1 + 2 / ROOT(5))),
    18: 1 + ROOT(2) + ROOT(6),
    19: 1 + ROOT(2) + ROOT(6),
}
# The same paper, from memory, cut to three decimals.
CUT = {10: 3.813, 12: 4.029, 14: 4.328, 16: 4.615, 17: 4.792, 20: 5.122}


def whole(text):
    return f"^{re.escape(text)}$"


@pytest.mark.parametrize("row", ROWS, ids=lambda row: row["awg"])
def test_a_gauge_measures_what_the_standard_says(row):
    """ASTM B258; area by geometry; resistance with 1/58 ohm mm2/m, IEC 60028."""
    wire = awg(row["awg"])
    assert wire.diameter_mm == pytest.approx(float(row["diameter_mm_formula"]), abs=6e-6)
    assert wire.area_mm2 == pytest.approx(float(row["area_mm2"]), abs=6e-7)
    assert wire.ohm_per_m() * 1000 == pytest.approx(float(row["ohm_per_km_20C_computed"]), abs=0.006)


@pytest.mark.parametrize("row", [row for row in ROWS if row["diameter_in_printed"]], ids=lambda row: row["awg"])
def test_a_gauge_agrees_with_a_printed_handbook_table(row):
    """Printed diameters and resistances: the table's source column. Its last digit is cut in places, not rounded."""
    wire = awg(int(row["awg"]))
    assert abs(wire.diameter_mm / 25.4 - float(row["diameter_in_printed"])) < 1e-5
    assert wire.ohm_per_m() * FOOT_M * 1000 == pytest.approx(float(row["ohm_per_1000ft_printed"]), rel=0.0036)


def test_the_two_gauges_that_the_standard_fixes():
    """ASTM B258: 36 is 0.0050 in, 4/0 is 0.4600 in."""
    assert awg(36).diameter_mm == pytest.approx(0.0050 * 25.4, abs=1e-12)
    assert awg("4/0").diameter_mm == pytest.approx(0.4600 * 25.4, abs=1e-12)


@pytest.mark.parametrize(
    ("text", "name"),
    [
        ("0000", "AWG 4/0"),
        ("2/0", "AWG 2/0"),
        ("00", "AWG 2/0"),
        ("1/0", "AWG 0"),
        ("0", "AWG 0"),
        ("AWG 30", "AWG 30"),
        ("30awg", "AWG 30"),
        ("7/38", "7/38"),
        ("7 / 38 AWG", "7/38"),
        ("7/00", "7/00"),
    ],
)
def test_gauges_as_they_are_written(text, name):
    assert awg(text).name == name


@given(st.integers(0, 50))
def test_a_gauge_is_found_again_by_name_and_by_size(gauge):
    wire = awg(gauge)
    assert awg(wire.name) == wire
    near = nearest_awg(wire.diameter_mm)
    assert near.wire == wire
    assert abs(near.difference_mm) < 1e-6
    assert near.thicker is None or near.thicker.diameter_mm > wire.diameter_mm


@given(st.floats(0.026, 11.6))
def test_no_other_gauge_is_nearer(measured):
    found = abs(nearest_awg(measured).difference_mm)
    assert found <= min(abs(gauge_mm(gauge) - measured) for gauge in range(-3, 51)) + 1e-6


def test_stranded_wire_is_its_strands_side_by_side():
    """Seven equal circles lie in one of three times their diameter: six round one."""
    wire = awg("7/38")
    assert wire.diameter_mm == pytest.approx(3 * awg(38).diameter_mm)
    assert wire.area_mm2 == pytest.approx(7 * awg(38).area_mm2)
    assert wire.ohm_per_m() == pytest.approx(awg(38).ohm_per_m() / 7)


def test_copper_warms_by_the_published_coefficient():
    """IEC 60028: 0.00393 per K at 20 degC."""
    assert awg(30).ohm_per_m(70) / awg(30).ohm_per_m() == pytest.approx(1 + 50 * 0.00393)


@pytest.mark.parametrize(
    ("call", "kind", "text"),
    [
        (
            lambda: awg("thin"),
            UnreadableLength,
            "'thin': it is no wire gauge; write a gauge such as 30, 2/0, 0000, or strands and gauge such as 7/38.",
        ),
        (lambda: awg("51"), OutOfRange, "AWG is 51; it must be from 4/0 to 50. Write 50 for the nearest."),
        (lambda: awg("5/0"), OutOfRange, "AWG is 5/0; it must be from 4/0 to 50. Write 4/0 for the nearest."),
        (lambda: awg(-1), OutOfRange, "AWG is -1; it must be 0 to 50, or text. Write '2/0' for two noughts."),
        (
            lambda: awg(1.5),
            WrongKind,
            (
                "AWG is 1.5; expected text or a whole number. Write a gauge such as 30, 2/0, "
                "0000, or strands and gauge such "
                "as 7/38."
            ),
        ),
        (lambda: awg("1/30"), UnreadableLength, "'1/30': it is one strand or none; write 30 for a solid wire."),
        (
            lambda: awg("41/44"),
            UnreadableLength,
            (
                "'41/44': close packings are tabled up to 20 strands; write 44 for one strand, "
                "and measure the wire over all."
            ),
        ),
        (
            lambda: awg(30).ohm_per_m(200),
            OutOfRange,
            "temperature_c is 200 °C; it must be from -50 to 150 °C. Leave it out for 20 °C.",
        ),
        (
            lambda: nearest_awg(20),
            OutOfRange,
            (
                "diameter_mm is 20 mm; it must be from 0.0251 mm, AWG 50, to 11.684 mm, AWG 4/0. "
                "Measure the bare wire, "
                "without its insulation."
            ),
        ),
        (
            lambda: bundle_mm(1, 21),
            OutOfRange,
            "count is 21; it must be from 1 to 20. Measure a larger bundle over all.",
        ),
        (lambda: bundle_mm(1, 2.0), WrongKind, "count is 2.0; expected a whole number. Write how many, 1 to 20."),
        (
            lambda: bundle_mm(0, 2),
            OutOfRange,
            "diameter_mm is 0 mm; it must be above 0 mm. Write a positive number of mm.",
        ),
        (lambda: bundle_of([]), OutOfRange, "count is 0; it must be from 1 to 20. Write 1 for a single strand."),
    ],
)
def test_what_is_no_wire_or_bundle_is_refused(call, kind, text):
    with pytest.raises(kind, match=whole(text)):
        call()


def test_usual_outsides_are_thicker_than_their_copper_and_say_that_no_source_is_known():
    for each in usual_outsides():
        assert gauge_mm(each.gauge) < each.least_mm <= each.most_mm
        assert each.source == "common practice, no source"


@pytest.mark.parametrize(("count", "ratio"), EXACT.items())
def test_a_ratio_is_its_exact_formula(count, ratio):
    assert packings()[count].ratio == pytest.approx(ratio, abs=6e-9)


@pytest.mark.parametrize(("count", "ratio"), CUT.items())
def test_a_ratio_without_a_formula_has_the_published_decimals(count, ratio):
    assert ratio <= packings()[count].ratio < ratio + 0.001


@pytest.mark.parametrize("packing", packings().values(), ids=lambda packing: str(packing.count))
def test_a_ratio_is_reached_by_places_that_do_not_overlap(packing):
    """Geometry: the circles lie apart, and a circle of the ratio holds them."""
    assert len(packing.centres) == packing.count
    assert all(math.dist(a, b) >= 1 - 1e-6 for a, b in combinations(packing.centres, 2))
    assert max(2 * math.hypot(*each) + 1 for each in packing.centres) <= packing.ratio + 1e-6


def test_a_row_whose_places_do_not_reach_its_ratio_is_refused(monkeypatch):
    row = {"n": "2", "ratio": "1.9", "least": "proven", "centres": "0.5 0; -0.5 0", "source": "made up for this test"}
    monkeypatch.setattr(bundles, "rows", lambda file: iter([(3, row)]))
    text = "data/circle_packing.csv, line 3: the centres do not pack 2 in a ratio of 1.9."
    with pytest.raises(TableError, match=whole(text)):
        packings.__wrapped__()


@given(st.floats(0.05, 5), st.integers(1, 19))
def test_one_wire_more_is_never_a_thinner_bundle(diameter, count):
    assert bundle_mm(diameter, count) <= bundle_mm(diameter, count + 1)
    assert bundle_mm(diameter, count) >= diameter * math.sqrt(count) - 1e-9  # by their areas


SIZES = st.lists(st.floats(0.1, 3), min_size=1, max_size=7)


@settings(max_examples=40)
@given(SIZES)
def test_a_mixed_bundle_holds_its_wires_apart(sizes):
    bundle = bundle_of(sizes)
    laid = list(zip(bundle.centres_mm, bundle.diameters_mm, strict=True))
    slack = 2e-6 * max(sizes) + 1e-6  # sizes are taken to a millionth of a mm
    assert sorted(bundle.diameters_mm) == pytest.approx(sorted(sizes), abs=1e-6)
    assert all(2 * math.hypot(*centre) + size <= bundle.outside_mm + slack for centre, size in laid)
    assert all(math.dist(a, b) >= (one + other) / 2 - slack for (a, one), (b, other) in combinations(laid, 2))
    assert bundle.least_mm <= bundle.outside_mm <= bundle_mm(max(sizes), len(sizes)) + slack


@settings(max_examples=30)
@given(st.floats(0.1, 3), st.integers(1, 12))
def test_equal_sizes_make_the_bundle_of_the_table(diameter, count):
    outside = bundle_of([diameter] * count).outside_mm
    assert outside == pytest.approx(bundle_mm(diameter, count), abs=1e-5)


def test_a_thin_wire_beside_thick_ones_costs_less_than_a_thick_one():
    """Geometry: a circle of 2/3 lies in the gap beside two of 1 inside one of 2."""
    assert bundle_of([1.0, 1.0, 0.6]).outside_mm == pytest.approx(2, abs=1e-6)

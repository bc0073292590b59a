"""Drill tables against their definitions, and which drill passes a strand."""

import re
from fractions import Fraction
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from modelmath.errors import DoesNotFit, OutOfRange, TableError, UnknownChoice, WrongKind
from modelmath.materials.drills import sets as drills_module
from modelmath.materials.drills.sets import DRILL_SETS, drill_set, number_drills, pick_drill
from modelmath.tables import rows

INCH_MM = Fraction("25.4")  # exact: international yard and pound agreement, 1959

# ANSI/ASME B94.11M, seen in two public tables; typed here apart from the data file as a second copy of landmarks.
PRINTED_NUMBER_IN = {1: "0.2280", 50: "0.0700", 60: "0.0400", 61: "0.0390", 67: "0.0320", 80: "0.0135"}


@pytest.mark.parametrize("row", [row for _, row in rows("drills_number.csv")], ids=lambda row: row["number"])
def test_every_number_drill_is_its_inch_size(row):
    """Inches: ANSI/ASME B94.11M to 80, from memory past it; 25.4 mm to the inch by definition."""
    drill = number_drills()[int(row["number"])]
    assert drill.exact_mm == INCH_MM * Fraction(row["diameter_in"])
    assert abs(drill.diameter_mm - float(row["diameter_mm"])) < 1e-9
    assert ("ANSI/ASME B94.11M" in drill.source) == (int(row["number"]) <= 80)
    assert ("from memory" in drill.source) == (int(row["number"]) > 80)


@pytest.mark.parametrize(("number", "inch"), PRINTED_NUMBER_IN.items())
def test_number_drill_landmarks(number, inch):
    assert number_drills()[number].exact_mm == INCH_MM * Fraction(inch)


def test_number_drills_run_from_1_to_97_each_thinner_than_the_last():
    sizes = number_drills()
    assert list(sizes) == list(range(1, 98))
    assert all(sizes[n].exact_mm > sizes[n + 1].exact_mm for n in range(1, 97))


def test_letter_drills_run_from_a_to_z_each_thicker_than_the_last():
    found = drill_set("letter")
    assert "".join(drill.name for drill in found) == "ABCDEFGHIJKLMNOPQRSTUVWXYZ"
    assert all(a.exact_mm < b.exact_mm for a, b in pairwise(found))
    assert found[4].exact_mm == INCH_MM / 4  # ANSI/ASME B94.11M: E is 0.250 in


def test_fraction_drills_are_exact_64ths():
    """Definition: the series goes by 1/64 in (ANSI/ASME B94.11M)."""
    found = drill_set("fraction")
    assert [drill.exact_mm for drill in found] == [INCH_MM * n / 64 for n in range(1, 33)]
    assert found[3].name == "1/16 in"


def test_metric_drills_are_the_mm_they_say():
    found = drill_set("metric")
    assert all(Fraction(drill.name.removesuffix(" mm")) == drill.exact_mm for drill in found)
    assert "0.80 mm" in [drill.name for drill in found]


def test_a_30_thou_strand_passes_a_67_drill_and_that_is_named_first():
    """Common practice, no source. 0.762 + 0.05 = 0.812 mm; a #67 is 0.8128 mm."""
    first = pick_drill(INCH_MM * Fraction("0.030"))[0]
    assert first.name == "#67"
    assert first.diameter_mm == 0.8128
    assert first.clearance_mm == pytest.approx(0.0508)
    assert first.set == "number"
    assert first.caution.startswith("Drills of 0.0400 in and under break easily")


def test_three_quarter_mm_and_30_thou_strands_share_a_hole():
    """Common practice, no source."""
    assert pick_drill(0.75)[0].name == pick_drill(0.030 * 25.4)[0].name == "#67"


def test_a_drill_exactly_at_the_limit_passes_and_a_hair_more_does_not():
    assert pick_drill(Fraction("0.7628"))[0].name == "#67"
    assert pick_drill(0.7628)[0].name == "#67"
    assert pick_drill(Fraction("0.7628") + Fraction(1, 10**9))[0].name == "#66"


def test_sets_together_are_in_order_of_size_and_equal_drills_in_order_of_sets():
    assert [pick.name for pick in pick_drill(0.75, sets=("number", "metric"), most=2)] == ["0.80 mm", "#67"]
    assert [pick.name for pick in pick_drill(6.3, 0.05, ("fraction", "letter"), most=2)] == ["1/4 in", "E"]
    assert [pick.name for pick in pick_drill(6.3, 0.05, ("letter", "fraction"), most=2)] == ["E", "1/4 in"]


def test_a_drill_of_more_than_40_thou_has_no_caution():
    assert pick_drill(1.016, 0)[0].name == "#60"
    assert pick_drill(1.016, 0)[0].caution != ""
    assert pick_drill(1.02, 0)[0].caution == ""


@given(st.floats(0.01, 5.7), st.floats(0, 0.09), st.sampled_from(DRILL_SETS))
def test_the_first_pick_passes_and_no_smaller_drill_does(diameter, clearance, set_name):
    picks = pick_drill(diameter, clearance, (set_name,) if set_name != "letter" else ("letter", "metric"))
    needed = diameter + clearance
    assert all(pick.diameter_mm >= needed - 1e-6 for pick in picks)
    smaller = [drill for drill in drill_set(set_name) if drill.diameter_mm < picks[0].diameter_mm]
    assert all(drill.diameter_mm < needed + 1e-6 for drill in smaller)
    assert [pick.diameter_mm for pick in picks] == sorted(pick.diameter_mm for pick in picks)


def whole(text):
    return f"^{re.escape(text)}$"


def test_too_large_says_by_how_much_and_which_set_to_add():
    text = (
        "A diameter of 6.00 mm with 0.05 mm round it does not fit: 0.26 mm too little, because the largest drill "
        "at hand is #1, 5.79 mm. Add the letter set."
    )
    with pytest.raises(DoesNotFit, match=whole(text)) as caught:
        pick_drill(6)
    assert caught.value.short_mm == pytest.approx(6.05 - 5.7912)


def test_too_large_for_every_set_says_to_open_the_hole():
    text = (
        "A diameter of 20.00 mm with 0.05 mm round it does not fit: 7.35 mm too little, because the largest drill "
        "at hand is 1/2 in, 12.70 mm. No set here reaches it: open the largest hole with a file or reamer."
    )
    with pytest.raises(DoesNotFit, match=whole(text)):
        pick_drill(20, sets=DRILL_SETS)


@pytest.mark.parametrize(
    ("diameter", "text"),
    [
        (0, "diameter_mm is 0 mm; it must be above 0 mm. Write a positive number of mm."),
        (-0.5, "diameter_mm is -0.5 mm; it must be above 0 mm. Write a positive number of mm."),
        (float("nan"), "diameter_mm is nan mm; it must be a finite length above 0 mm. Write a number of mm."),
        (float("inf"), "diameter_mm is inf mm; it must be a finite length above 0 mm. Write a number of mm."),
    ],
)
def test_a_diameter_that_is_no_length_is_refused(diameter, text):
    with pytest.raises(OutOfRange, match=whole(text)):
        pick_drill(diameter)


def test_other_wrong_input_says_what_to_write():
    with pytest.raises(
        OutOfRange, match=whole("clearance_mm is -0.1 mm; it must be 0 mm or more. Write a positive number of mm.")
    ):
        pick_drill(1, -0.1)
    with pytest.raises(
        WrongKind,
        match=whole("diameter_mm is '1 mm'; expected a plain number of mm. Read text with parse_length first."),
    ):
        pick_drill("1 mm")
    text = "drill set is 'numbers'; write one of number, letter, fraction, metric. Did you mean 'number'?"
    with pytest.raises(UnknownChoice, match=whole(text)):
        pick_drill(1, sets=("numbers",))
    text = "sets is empty; it must be one drill set or more. Write some of number, letter, fraction, metric."
    with pytest.raises(OutOfRange, match=whole(text)):
        pick_drill(1, sets=())
    with pytest.raises(OutOfRange, match=whole("most is 0; it must be 1 or more. Leave it out for 3.")):
        pick_drill(1, most=0)


@pytest.mark.parametrize(
    ("set_name", "change", "text"),
    [
        ("number", {"diameter_mm": "0.8129"}, "data/drills_number.csv, line 7: 0.8129 mm and 0.0320 in disagree."),
        ("metric", {"diameter_in": "0.031497"}, "data/drills_metric.csv, line 7: 0.80 mm and 0.031497 in disagree."),
        (
            "fraction",
            {"sixtyfourths": "3"},
            "data/drills_fraction.csv, line 7: 1/32 in, its 64ths and its diameter disagree.",
        ),
    ],
)
def test_a_row_that_contradicts_itself_is_refused(monkeypatch, set_name, change, text):
    good = {
        "number": {"number": "67", "diameter_in": "0.0320", "diameter_mm": "0.8128"},
        "metric": {"diameter_in": "0.031496", "diameter_mm": "0.80"},
        "fraction": {"fraction_in": "1/32", "sixtyfourths": "2", "diameter_in": "0.03125", "diameter_mm": "0.79375"},
    }[set_name] | {"source": "made up for this test"}
    monkeypatch.setattr(drills_module, "rows", lambda file: iter([(7, good)]))
    assert len(drill_set.__wrapped__(set_name)) == 1
    monkeypatch.setattr(drills_module, "rows", lambda file: iter([(7, good | change)]))
    with pytest.raises(TableError, match=whole(text)):
        drill_set.__wrapped__(set_name)


def test_a_drill_named_twice_is_refused(monkeypatch):
    row = {"number": "67", "diameter_in": "0.0320", "diameter_mm": "0.8128", "source": "made up for this test"}
    monkeypatch.setattr(drills_module, "rows", lambda file: iter([(2, row), (3, row)]))
    with pytest.raises(TableError, match=whole("data/drills_number.csv, line 3: #67 is there twice.")):
        drill_set.__wrapped__("number")

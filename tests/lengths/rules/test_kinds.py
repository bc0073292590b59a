"""Instruments as they usually are, by kind."""

from __future__ import annotations

import re
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from modelmath.errors import OutOfRange, TableError, UnknownChoice, UnreadableLength
from modelmath.lengths.rules import Rule, kinds
from modelmath.lengths.rules.instruments import CANT_MARK_OUT, KINDS
from modelmath.lengths.rules.kinds import instrument, usual
from modelmath.lengths.uncertain import components
from modelmath.tables import rows

TABLE = "instruments.csv"


def whole(text):
    return f"^{re.escape(text)}$"


def test_the_table_has_each_kind_once_with_a_source():
    found = [row for _, row in rows("instruments.csv")]
    assert [row["kind"] for row in found] == list(KINDS)
    assert all(row["source"] for row in found)


@pytest.mark.parametrize("kind", KINDS)
def test_each_kind_makes_a_rule_of_its_name(kind):
    made = instrument(kind, scale="HO")
    assert (made.name, made.kind) == (kind, kind)
    assert made.can_mark_out == (kind not in CANT_MARK_OUT)
    assert instrument(kind, scale="HO", name="mine").name == "mine"
    assert made.describe()


def test_a_caliper_is_off_by_no_more_than_its_limits_of_error():
    """Limits of error of 0.02 mm: DIN 862, from memory."""
    value = instrument("caliper").length("12.34")
    ((cause, share),) = components(value)
    assert cause.shape == "rectangular"
    assert abs(share) * 3**0.5 == pytest.approx(0.02)


@pytest.mark.parametrize("kind", [kind for kind in KINDS if kind != "scale rule"])
def test_one_that_reads_inches_is_as_fine_as_one_that_reads_mm(kind):
    """The table's lengths are in mm; a bare 0.04 on an inch caliper would be taken as 1 mm."""
    mm, inches = instrument(kind), instrument(kind, unit="in")
    assert inches.read_to_mm == mm.read_to_mm
    assert inches.offset_uncertainty_mm == mm.offset_uncertainty_mm
    assert inches.length("1/2").n == pytest.approx(12.7 + float(mm.lean_mm))


def test_fields_given_come_before_the_usual():
    made = instrument("caliper", read_to="0.1", graduation="0.05", length="150")
    assert (made.read_to_mm, made.graduation_mm, made.length_mm) == (Fraction("0.1"), Fraction("0.05"), 150)


def test_an_unknown_kind_names_all():
    message = (
        "kind of instrument is 'calliper'; write one of scale rule, steel rule, caliper, depth gauge, feelers, "
        "putty gap. Did you mean 'caliper'?"
    )
    for make in (usual, instrument):
        with pytest.raises(UnknownChoice, match=whole(message)):
            make("calliper")
    with pytest.raises(UnknownChoice, match=whole(message)):
        Rule(kind="calliper")


@given(st.integers(0, 40), st.floats(0, 0.0499))
def test_feelers_hold_the_space_between_the_leaf_that_passes_and_the_next(leaf, beyond):
    made = instrument("feelers")
    space = leaf * 0.05 + beyond
    value = made.length(leaf * 0.05)
    half = value.std_dev * 3**0.5
    assert half == pytest.approx(0.025)
    assert value.n - half - 1e-9 <= space <= value.n + half + 1e-9


def test_feelers_lean_in_the_exact_value_too():
    made = instrument("feelers")
    assert made.exact_length("0.5") == Fraction("0.525")
    assert made.lean_mm == Fraction("0.025")
    assert instrument("caliper").lean_mm == 0


@given(st.sampled_from(["0.5", "0.25", "0.1"]), st.integers(0, 100))
def test_read_to_sets_how_finely_and_not_the_marks(step, mark):
    made = Rule(unit="mm", graduation="0.5", read_to=step)
    assert made.length(mark).std_dev == pytest.approx(float(step) / 12**0.5)
    assert made.graduation_mm == Fraction(1, 2)
    assert made.mark_for(10.2).nearest == 10


def test_a_stated_reading_uncertainty_is_normal_and_comes_before_read_to():
    made = Rule(unit="mm", graduation="0.5", read_to="0.1", reading_uncertainty="0.2")
    ((cause, share),) = components(made.length("12"))
    assert (cause.shape, abs(share)) == ("normal", pytest.approx(0.2))


def test_fields_that_make_no_sense_are_refused():
    message = (
        "rule: what it is read to is 0; it must be above 0. Write the least part of a mark that you read, or leave "
        "it out."
    )
    with pytest.raises(OutOfRange, match=whole(message)):
        Rule(unit="mm", read_to="0")
    with pytest.raises(
        UnknownChoice, match=whole("reads is 'the best'; write one of nearest mark, largest that passes.")
    ):
        Rule(unit="mm", reads="the best")
    with pytest.raises(UnreadableLength):
        Rule(unit="mm", calibrated_at="middle")


def test_what_cannot_mark_out_says_its_steps_and_not_a_zero():
    assert instrument("feelers").describe() == "feelers in mm, steps of 0.05 mm"
    assert instrument("caliper").describe() == "caliper in mm, marks every 0.01 mm, zero at its end"


@pytest.mark.parametrize(("kind", "said"), [("feelers", "yes"), ("caliper", "no")])
def test_a_table_that_says_otherwise_what_can_mark_out_is_refused(monkeypatch, kind, said):
    changed = [(line, row | {"marks_out": said} if row["kind"] == kind else row) for line, row in rows(TABLE)]
    monkeypatch.setattr(kinds, "rows", lambda _: changed)
    with pytest.raises(TableError, match=f"it says otherwise whether {kind} mark a size out"):
        usual.__wrapped__(kind)  # it is worked out once and kept

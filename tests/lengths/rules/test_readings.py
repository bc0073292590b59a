"""Readings belong to a rule, and heights come down to the seat."""

import re
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from modelmath.errors import OutOfRange, UnknownChoice, WrongKind
from modelmath.lengths.rules import Rule
from modelmath.lengths.rules.readings import FACES, Measured, Reading, from_seat, offset_cancels
from modelmath.lengths.scales import all_scales
from modelmath.lengths.uncertain import components

half_mm = st.integers(0, 300).map(lambda n: Fraction(n, 2))


def whole(text):
    return f"^{re.escape(text)}$"


def test_a_reading_is_its_rule_s_length_under_its_own_name():
    rule = Rule(scale="N", graduation="1/2", zero_offset="1/2")
    reading = Reading("chassis top", rule, "7 1/2")
    assert reading.measured.exact_mm == 8 * Fraction("1.905")  # 1:160 is 1.905 mm to the foot
    assert reading.value.n == pytest.approx(15.24)
    assert reading.measured.u_mm == pytest.approx(1.905 / 2 / 12**0.5)
    assert [cause.name for cause, _ in components(reading.value)] == ["reading of chassis top"]
    assert reading.measured.how == "chassis top"


@given(half_mm, half_mm, st.fractions(0, 3, max_denominator=20))
def test_a_height_from_another_face_goes_through_its_link(top, seat, offset):
    rule = Rule(unit="mm", graduation="0.5", zero_offset=offset, offset_uncertainty="0.4")
    links = {"bench": Reading("seat above bench", rule, str(seat), face="bench")}
    height = from_seat(Reading("chassis top", rule, str(top), face="bench"), links)
    assert height.exact_mm == top - seat  # of either sign: below the seat is below 0
    assert height.how == "chassis top - seat above bench"
    assert offset_cancels(height.value, rule)
    assert height.u_mm == pytest.approx(0.5 * (2 / 12) ** 0.5)


def test_a_height_from_the_seat_needs_no_link():
    reading = Reading("roof", Rule(unit="mm", graduation="0.5"), "31.5")
    assert from_seat(reading, {}) is reading.measured


@pytest.mark.parametrize("face", [face for face in FACES if face != "seat"])
def test_a_face_without_its_link_is_refused(face):
    reading = Reading("roof", Rule(unit="mm", graduation="0.5"), "31.5", face=face)
    message = (
        f"the height of roof is taken from the {face}; expected a height from the seat, where the shell rests on the "
        f"chassis. Add a link reading: the seat's height above the {face}, read the same way."
    )
    with pytest.raises(WrongKind, match=whole(message)):
        from_seat(reading, {})


def test_a_wrong_face_datum_or_mark_is_refused():
    rule = Rule(unit="mm", graduation="0.5", length="150")
    message = "the face of roof is 'bnch'; write one of seat, bench, rail top, deck. Did you mean 'bench'?"
    with pytest.raises(UnknownChoice, match=whole(message)):
        Reading("roof", rule, "31.5", face="bnch")
    message = "datum is 'Zero'; write one of end, zero. Did you mean 'zero'?"
    with pytest.raises(UnknownChoice, match=whole(message)):
        Reading("roof", rule, "31.5", datum="Zero")
    message = (
        "the reading is 151 mm; it must be on rule, whose last mark is 150 mm. Read it again, or use a longer rule."
    )
    with pytest.raises(OutOfRange, match=whole(message)):
        Reading("roof", rule, "151")


@pytest.mark.parametrize("each", all_scales(), ids=lambda each: each.key)
@pytest.mark.parametrize("uncertainty", ["0", "0.1 mm"])
def test_offset_cancels_only_where_both_readings_are_taken_alike(each, uncertainty):
    """Also for an offset known exactly, whose share in the uncertainty is nothing either way."""
    rule = Rule(scale=each, zero_offset="1", offset_uncertainty=uncertainty, scale_error=0.001)
    twin = Rule(scale=each, zero_offset="1", offset_uncertainty=uncertainty, scale_error=0.001)
    roof, top = rule.length("11 1/4"), rule.length("7 1/2")
    assert not offset_cancels(roof, rule)
    assert offset_cancels(roof - top, rule)
    assert not offset_cancels(roof - rule.length("7 1/2", datum="zero"), rule)
    assert not offset_cancels(roof - twin.length("7 1/2"), rule)  # another rule has an offset of its own
    assert not offset_cancels(roof - 2 * top, rule)
    assert offset_cancels(rule.length("3", datum="zero"), rule)
    assert offset_cancels(3.0, rule)


def test_measured_adds_up_with_its_exact_value_its_uncertainty_and_its_words():
    rule = Rule(unit="mm", graduation="0.5")
    roof, sheet = Reading("roof", rule, "31.5").measured, Measured(Fraction(1), 1.0, "sheet")
    both = roof + sheet - sheet
    assert (both.exact_mm, both.how) == (Fraction(63, 2), "roof + sheet - sheet")
    assert both.value.n == 31.5
    assert both.u_mm == roof.u_mm
    assert sheet.u_mm == 0.0
    assert (roof - roof).u_mm == 0.0


@given(st.lists(half_mm, min_size=1, max_size=5))
def test_further_readings_of_the_same_spot_count_by_their_mean(marks):
    rule = Rule(unit="mm", graduation="0.5", zero_offset="2")
    first, *again = (str(float(mark)) for mark in marks)
    reading = Reading("roof", rule, first, again=tuple(again))
    assert reading.measured.exact_mm == sum(marks, Fraction(0)) / len(marks) + 2
    assert reading.repeats.marks_mm == tuple(marks)
    assert reading.value.n == pytest.approx(float(reading.measured.exact_mm))
    assert reading.measured.u_mm == pytest.approx((0.25 / 12 + reading.repeats.mean_u_mm**2) ** 0.5)


def test_repeats_share_the_offset_so_that_it_cancels_in_a_difference():
    rule = Rule(unit="mm", graduation="0.5", zero_offset="2", offset_uncertainty="0.3")
    roof = Reading("roof", rule, "31.5", again=("31", "31.5"))
    top = Reading("top", rule, "12", again=("12.5",))
    difference = roof.measured - top.measured
    assert offset_cancels(difference.value, rule)
    assert {str(cause) for cause, _ in components(difference.value)} == {
        "reading of roof",
        "scatter of roof",
        "reading of top",
        "scatter of top",
    }


def test_a_bad_mark_among_the_repeats_is_refused():
    message = (
        "the reading is 151 mm; it must be on rule, whose last mark is 150 mm. Read it again, or use a longer rule."
    )
    with pytest.raises(OutOfRange, match=whole(message)):
        Reading("roof", Rule(unit="mm", graduation="0.5", length="150"), "31.5", again=("151",))

"""Sizes at a mark: a part that must clear rounds down, a filler up, ties exact in every scale."""

import re
from fractions import Fraction

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from modelmath.clearance import Marks, SizeAtMark, largest_at_mark, smallest_at_mark
from modelmath.errors import DoesNotFit, OutOfRange
from modelmath.lengths.rules import DATUMS, Rule
from modelmath.lengths.scales import all_scales

scales = st.sampled_from(all_scales())
SLACK = Fraction(1, 10**8)  # mm; a float this near a mark is that mark


def whole(text):
    return f"^{re.escape(text)}$"


def test_three_and_three_quarters_with_a_quarter_kept_leaves_three_and_a_half():
    """3 3/4 ft of space with 1/4 ft kept leaves 3 1/2: common practice, no source."""
    foot = Fraction("3.5")
    assert largest_at_mark(foot * Fraction("3.75"), foot / 4, foot / 4) == foot * Fraction("3.5")


@pytest.mark.parametrize("each", all_scales(), ids=lambda each: each.key)
@pytest.mark.parametrize("parts", [1, 2, 4, 8, 16])
def test_exact_ties_in_every_scale(each, parts):
    """A space of whole marks less a clearance of whole marks leaves whole marks: no mark is lost to a float."""
    mark = each.mm_per_foot / parts
    foot = float(each.mm_per_foot)
    for kept in (1, 2, 3):
        for count in (1, 2, 3, 5, 7, 15, 31, 64, 99):
            assert largest_at_mark(mark * (count + kept), mark * kept, mark) == mark * count
            assert smallest_at_mark(mark * count, mark) == mark * count
            # The same from floats computed the ordinary ways.
            summed = sum([foot / parts] * (count + kept))
            for space in (foot * (count + kept) / parts, summed, float(mark) * (count + kept)):
                size = largest_at_mark(space, foot * kept / parts, foot / parts)
                assert size == pytest.approx(float(mark * count), abs=1e-9)
                assert largest_at_mark(space, mark * kept, mark) == float(mark * count)
            assert smallest_at_mark(sum([foot / parts] * count), mark) == float(mark * count)


@pytest.mark.parametrize("each", all_scales(), ids=lambda each: each.key)
def test_a_hair_less_than_a_tie_is_one_mark_less(each):
    mark, hair = each.mm_per_foot / 4, Fraction(1, 10**12)
    assert largest_at_mark(mark * 15 - hair, mark, mark) == mark * 13
    assert smallest_at_mark(mark * 14 + hair, mark) == mark * 15
    visible = Fraction(1, 1000)
    assert largest_at_mark(float(mark * 15 - visible), mark, mark) == float(mark * 13)
    assert smallest_at_mark(float(mark * 14 + visible), mark) == float(mark * 15)


numbers = st.one_of(st.fractions(0, 300), st.floats(0, 300))


@given(scales, numbers, numbers, st.integers(1, 64))
def test_largest_fits_and_the_next_mark_does_not(each, space, clearance, parts):
    mark = each.mm_per_foot / parts
    room = Fraction(space) - Fraction(clearance)
    assume(room >= mark)
    exact = isinstance(space, Fraction) and isinstance(clearance, Fraction)
    slack = 0 if exact else SLACK
    size = largest_at_mark(space, clearance, mark)
    assert isinstance(size, Fraction) == exact
    assert Fraction(size) <= room + slack
    assert Fraction(size) + mark > room - slack
    assert abs(Fraction(size) / mark - round(Fraction(size) / mark)) * mark <= slack


@given(scales, numbers, st.integers(1, 64))
def test_smallest_covers_and_the_mark_before_does_not(each, gap, parts):
    mark = each.mm_per_foot / parts
    exact = isinstance(gap, Fraction)
    slack = 0 if exact else SLACK
    size = smallest_at_mark(gap, mark)
    assert isinstance(size, Fraction) == exact
    assert Fraction(size) >= Fraction(gap) - slack
    assert Fraction(size) - mark < Fraction(gap) + slack


@given(scales, st.fractions(1, 300), st.fractions(1, 300), st.integers(4, 64))
def test_more_space_never_makes_a_smaller_part(each, a, b, parts):
    small, large = sorted((a, b))
    mark = each.mm_per_foot / parts
    assume(small >= mark)
    assert largest_at_mark(small, Fraction(0), mark) <= largest_at_mark(large, Fraction(0), mark)


def test_no_room_says_by_how_much():
    message = (
        "A part of one mark does not fit: 0.30 mm too little, because the space is 1.00 mm and 0.80 mm of it is kept "
        "clear. Keep less clearance, cut to a finer mark, or read the space again."
    )
    with pytest.raises(DoesNotFit, match=whole(message)) as caught:
        largest_at_mark(1.0, 0.8, 0.5)
    assert caught.value.short_mm == pytest.approx(0.3)


NUMBER = "Write the distance between marks, such as 0.5 mm."


@pytest.mark.parametrize("mark", [0, -0.5, float("nan"), float("inf")])
def test_a_mark_that_makes_no_sense_is_refused(mark):
    message = f"the mark is {float(mark):g} mm; it must be above 0. {NUMBER}"
    with pytest.raises(OutOfRange, match=whole(message)):
        largest_at_mark(10.0, 0.5, mark)
    with pytest.raises(OutOfRange, match=whole(message)):
        smallest_at_mark(10.0, mark)


@pytest.mark.parametrize("value", [-0.5, float("nan"), float("inf")])
def test_a_space_clearance_or_gap_that_makes_no_sense_is_refused(value):
    message = f"the clearance is {value:g} mm; it must be 0 or more. Write the gap to keep, such as 0.5 mm."
    with pytest.raises(OutOfRange, match=whole(message)):
        largest_at_mark(10.0, value, 0.5)
    message = f"the gap is {value:g} mm; it must be 0 or more. Check the readings behind it."
    with pytest.raises(OutOfRange, match=whole(message)):
        smallest_at_mark(value, 0.5)


@pytest.mark.parametrize("value", [float("nan"), float("inf"), -float("inf")])
def test_a_space_that_is_no_number_is_refused(value):
    message = f"the space is {value:g} mm; it must be a number. Check the readings behind it."
    with pytest.raises(OutOfRange, match=whole(message)):
        largest_at_mark(value, 0.5, 0.5)


# --- With a rule ----------------------------------------------------------------------------------------------


@given(
    scales,
    st.fractions("0.5", 300),
    st.fractions(-1, 2, max_denominator=16),
    st.integers(-50, 50).map(lambda n: n / 1000),
    st.sampled_from(DATUMS),
)
def test_marks_give_sizes_the_rule_can_be_set_to(each, exact_mm, offset, error, datum):
    rule = Rule(scale=each, graduation="1/4", zero_offset=offset, scale_error=error)
    marks = Marks(rule, "1/4", datum)
    step = each.mm_per_foot / 4 * (1 + rule.scale_error)
    up = marks.up(exact_mm)
    assert exact_mm <= up.cut_mm < exact_mm + step
    assert up.spare_mm == exact_mm - up.cut_mm <= 0
    assert (up.exact_mm, up.rounding) == (exact_mm, "up")
    assert (marks.setting(up.cut_mm).mark * 4).denominator == 1
    lowest = rule.largest_at_mark(exact_mm, "1/4", datum)
    if lowest <= 0:
        with pytest.raises(DoesNotFit, match=r"^The part does not fit: ") as caught:
            marks.down(exact_mm)
        assert caught.value.short_mm == float(lowest + step - exact_mm) > 0
        return
    down = marks.down(exact_mm)
    assert exact_mm - step < down.cut_mm <= exact_mm
    assert 0 <= down.spare_mm < step
    assert down.rounding == "down"
    assert (marks.setting(down.cut_mm).mark * 4).denominator == 1


def test_the_offset_moves_the_sizes_a_rule_can_cut():
    """With zero 0.3 ft in, the lengths on quarter marks from the end are quarters and 0.3: worked by hand."""
    foot = Fraction("3.5")
    rule = Rule(scale="HO", graduation="1/4", zero_offset="0.3")
    assert Marks(rule, "1/4").down(foot * 4) == SizeAtMark(foot * 4, foot * Fraction("3.8"), "down")
    assert Marks(rule, "1/4").up(foot * 4) == SizeAtMark(foot * 4, foot * Fraction("4.05"), "up")
    assert Marks(rule, "1/4", "zero").down(foot * 4) == SizeAtMark(foot * 4, foot * 4, "down")


@pytest.mark.parametrize("datum", ["end", "zero"])
def test_sizes_on_marks_lie_as_far_apart_as_the_marks(datum):
    """Quarters of a foot in HO are 0.875 mm; a rule that is 1 % too long makes them that much more."""
    assert Marks(Rule(scale="HO", zero_offset="1"), "1/4", datum).apart_mm == Fraction(7, 8)
    long = Marks(Rule(scale="HO", zero_offset="1", scale_error=Fraction(1, 100)), "1/4", datum)
    assert long.apart_mm == Fraction(7, 8) * Fraction(101, 100)
    assert long.up(Fraction(20)).cut_mm - long.down(Fraction(20)).cut_mm == long.apart_mm


@pytest.mark.parametrize("left", [0, -3])
def test_where_nothing_is_left_no_size_is_told(left):
    message = f"The part does not fit: {0.5 - left:.2f} mm too little, because nothing is left for it. "
    with pytest.raises(DoesNotFit, match=f"^{re.escape(message)}"):
        Marks(Rule(unit="mm", graduation="0.5"), "0.5").down(Fraction(left))


def test_a_part_below_the_lowest_mark_does_not_fit():
    message = (
        "The bulkhead does not fit: 0.38 mm too little, because 0.50 mm is left for it, less than the lowest mark. "
        "Keep less clearance, cut to a finer mark, or read the space again."
    )
    with pytest.raises(DoesNotFit, match=whole(message)):
        Marks(Rule(scale="HO", zero_offset="1"), "1/4").down(Fraction(1, 2), "The bulkhead")


def test_what_is_too_little_is_told_from_the_lowest_of_fine_marks_too():
    """Marks a hundredth of an inch apart from the end: the lowest is 0.254 mm; 0.05 mm is 0.204 mm less."""
    marks = Marks(Rule(unit="in", graduation="1/100"), "1/100")
    with pytest.raises(DoesNotFit, match=r"0\.20 mm too little, because 0\.05 mm is left for it") as caught:
        marks.down(Fraction(1, 20))
    assert caught.value.short_mm == pytest.approx(0.204)
    marks = Marks(Rule(unit="mm", graduation="0.1"), "0.1")
    with pytest.raises(DoesNotFit) as caught:
        marks.down(Fraction(1, 20))
    assert caught.value.short_mm == pytest.approx(0.05)


def test_a_filler_below_nothing_and_a_size_longer_than_the_rule_are_refused():
    marks = Marks(Rule(scale="HO", length="12"), "1/4")
    message = "the gap is -0.5 mm; it must be 0 or more. Check the readings behind it."
    with pytest.raises(OutOfRange, match=whole(message)):
        marks.up(Fraction(-1, 2))
    message = "the size is 43.75 mm; it must be within rule, whose last mark is 12 scale ft. Use a longer rule."
    with pytest.raises(OutOfRange, match=whole(message)):
        marks.setting(marks.down(Fraction(44)).cut_mm)

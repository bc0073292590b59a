"""Repeated readings by JCGM 100, 4.2, and what they may say of one that stands out."""

from __future__ import annotations

import re
from fractions import Fraction
from statistics import mean, stdev

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from published import agrees_with_print, published_rows

from modelmath.errors import OutOfRange, UnknownChoice
from modelmath.lengths.rules import Rule
from modelmath.lengths.rules.repeats import LEAST_FOR_A_VERDICT, Repeats, grubbs_limit, mean_of
from modelmath.lengths.uncertain import Cause, components

RULE = Rule(unit="mm", graduation="0.5", length="150")
half_mm = st.integers(0, 200).map(lambda n: Fraction(n, 2))


def whole(text):
    return f"^{re.escape(text)}$"


def repeats(*marks, step="0.5"):
    return Repeats(tuple(Fraction(mark) for mark in marks), Fraction(step))


@given(st.lists(half_mm, min_size=2, max_size=12))
def test_mean_and_scatter_are_those_of_the_standard_library(marks):
    """JCGM 100:2008, equations 3 to 5: divided by n - 1, and by the root of n for the mean."""
    seen = Repeats(tuple(marks), Fraction(1, 2))
    numbers = [float(mark) for mark in marks]
    assert float(seen.mean_mm) == pytest.approx(mean(numbers))
    assert seen.deviation_mm == pytest.approx(stdev(numbers))
    assert seen.mean_u_mm == pytest.approx(stdev(numbers) / len(marks) ** 0.5)
    assert seen.dof == len(marks) - 1


def test_a_single_reading_has_no_scatter_and_no_verdict():
    seen = repeats(12)
    assert (seen.mean_mm, seen.dof, seen.deviation_mm, seen.mean_u_mm) == (12, 0, 0.0, 0.0)
    assert (seen.odd_one, seen.verdict) == (None, "")


@pytest.mark.parametrize("count", [2, 3, 10])
def test_equal_readings_still_carry_the_resolution(count):
    _, exact, value = mean_of(RULE, ["12.5"] * count, name="roof")
    assert exact == Fraction(25, 2)
    assert value.std_dev == pytest.approx(0.5 / 12**0.5)  # JCGM 100:2008, F.2.2.1
    assert [cause.name for cause, _ in components(value)] == ["reading of roof"]


@given(st.lists(half_mm, min_size=2, max_size=8), st.floats(0, 0.3))
def test_repeating_averages_the_scatter_and_nothing_else(marks, offset_u):
    """Scatter by n; resolution, offset and scale error stay whole."""
    rule = Rule(unit="mm", graduation="0.5", zero_offset=2, offset_uncertainty=offset_u, scale_error=0.01,
                scale_error_uncertainty=0.002)  # fmt: skip
    seen, exact, value = mean_of(rule, [str(float(mark)) for mark in marks], name="roof")
    middle = float(seen.mean_mm)
    by_hand = (
        (1.01 * seen.mean_u_mm) ** 2 + (1.01 * 0.5) ** 2 / 12 + (1.01 * offset_u) ** 2 + ((middle + 2) * 0.002) ** 2
    )
    assert exact == (seen.mean_mm + 2) * Fraction("1.01")
    assert value.n == pytest.approx(float(exact))
    assert value.std_dev == pytest.approx(by_hand**0.5)


def test_the_scatter_has_the_degrees_of_freedom_of_its_readings():
    _, _, value = mean_of(RULE, ["12", "12.5", "12", "13"], name="roof")
    assert {cause for cause, _ in components(value)} == {
        Cause("scatter of roof", "repeats", 3),
        Cause("reading of roof", "rectangular"),
    }


def test_a_budget_of_repeats_adds_up_as_in_the_guide():
    """JCGM 100:2008, H.1.3.2 (from memory): 5 readings of the difference, s = 13 nm pooled, the mean of 5 is 5.8 nm.

    Here s comes from the readings themselves; five that scatter by 13 with nothing else.
    """
    spread = 13 * (4 / 10) ** 0.5  # five equidistant readings scatter by their step times sqrt(10 / 4)
    readings = [100 + spread * step for step in (-2, -1, 0, 1, 2)]
    seen = Repeats(tuple(Fraction(each) for each in readings), Fraction(1, 1000))
    assert seen.deviation_mm == pytest.approx(13)
    assert agrees_with_print(seen.mean_u_mm, "5.8")


@pytest.mark.parametrize("row", published_rows("grubbs.csv"), ids=lambda row: row["count"])
def test_critical_values_agree_with_the_printed_table(row):
    """A two-sided test at 5 % takes the one-sided column of 2.5 %; the old table is off by one in its last place."""
    count = int(row["count"])
    assert grubbs_limit(count) == pytest.approx(float(row["one_sided_2.5_percent"]), abs=0.001)
    assert grubbs_limit(count, 0.10) == pytest.approx(float(row["one_sided_5_percent"]), abs=0.001)


@pytest.mark.parametrize(
    ("count", "printed"),
    [(3, 1.155), (4, 1.492), (5, 1.749), (6, 1.944), (7, 2.097), (8, 2.221), (9, 2.323), (10, 2.410)],
)
def test_critical_values_at_another_significance(count, printed):
    """Grubbs 1969, Technometrics 11, table 1 (from memory), the one-sided column of 1 %."""
    assert grubbs_limit(count, 0.02) == pytest.approx(printed, abs=0.001)


PRINTED = {int(row["count"]): float(row["one_sided_2.5_percent"]) for row in published_rows("grubbs.csv")}


@given(
    st.lists(st.integers(-5, 5), min_size=3, max_size=9),
    st.integers(-40, 40),
    st.integers(0, 9),
    st.sampled_from([Fraction(1, 100), Fraction(1), Fraction(50)]),
)
def test_what_stands_out_lies_farther_than_the_printed_table_allows(numbers, far, place, size):
    """The distance from the mean in standard deviations, by the standard library; the same in any unit."""
    numbers.insert(place, far)
    spread = stdev(numbers)
    assume(spread > 0)
    apart = [abs(each - mean(numbers)) / spread for each in numbers]
    limit = PRINTED[len(numbers)]
    assume(abs(max(apart) - limit) > 0.0015)  # the table is printed to 0.001
    seen = Repeats(tuple(size * each for each in numbers), size / 1000)
    if max(apart) > limit:
        assert numbers[seen.odd_one] == max(numbers, key=lambda each: abs(each - mean(numbers)))
        assert seen.verdict.startswith(f"Reading {seen.odd_one + 1} of {len(numbers)} stands out from the others.")
    else:
        assert seen.odd_one is None
        assert seen.verdict == f"None of the {len(numbers)} readings stands out."


@pytest.mark.parametrize("unit", [Fraction(1, 1000), Fraction(1), Fraction(1000)])
def test_just_within_and_just_beyond_the_printed_limit(unit):
    """Of six readings 1.887 (Grubbs 1969, table 1): 0, 1, 2, 3, 4 and one far off, by the standard library."""
    for far, beyond in ((10.3, False), (10.5, True)):
        numbers = [0, 1, 2, 3, 4, far]
        assert ((far - mean(numbers)) / stdev(numbers) > 1.887) is beyond
        seen = Repeats(tuple(unit * Fraction(str(each)) for each in numbers), unit / 100)
        assert seen.odd_one == (5 if beyond else None)


@pytest.mark.parametrize(("steps", "place"), [(1, None), (2, 4)])
def test_two_steps_off_equal_readings_stand_out(steps, place):
    assert repeats(12, 12, 12, 12, 12 + Fraction(steps, 2)).odd_one == place
    assert repeats(12, 12, 12, 12, 12 - Fraction(steps, 2)).odd_one == place


def test_the_worked_example_of_the_handbook_points_at_its_outlier():
    """NIST/SEMATECH e-Handbook, 1.3.5.17.1 (from memory): eight readings, G = 2.469 for 245.57."""
    marks = ("199.31", "199.53", "200.19", "200.82", "201.92", "201.95", "202.18", "245.57")
    seen = repeats(*marks, step="0.01")
    assert agrees_with_print((float(seen.marks_mm[-1]) - float(seen.mean_mm)) / seen.deviation_mm, "2.469")
    assert seen.odd_one == 7
    assert seen.verdict == (
        "Reading 8 of 8 stands out from the others. It is still counted: look at the spot again, and strike it out "
        "only if you find what was wrong."
    )


@pytest.mark.parametrize("count", [2, 3])
def test_there_is_no_verdict_below_four_readings_however_far_one_lies(count):
    assert LEAST_FOR_A_VERDICT == 4
    seen = repeats(*[12] * (count - 1), 90)
    assert seen.odd_one is None
    assert seen.verdict == (f"{count} readings are too few to tell whether one stands out; read it 4 times to know.")


def test_one_that_stands_out_is_pointed_at_and_never_dropped():
    seen, exact, value = mean_of(RULE, ["12", "12", "12.5", "12", "30"], name="roof")
    assert seen.odd_one == 4
    assert exact == Fraction(157, 10)  # 78.5 / 5
    assert value.n == pytest.approx(15.7)
    assert value.std_dev == pytest.approx((seen.mean_u_mm**2 + 0.25 / 12) ** 0.5)


@given(st.integers(3, 30), st.integers(0, 30), st.sampled_from([-1, 1]))
def test_one_step_off_equal_readings_is_no_outlier(others, place, way):
    """Reading to a step brings that about; the bare criterion would point at it."""
    marks = [Fraction(12)] * others
    marks.insert(min(place, others), Fraction(12) + Fraction(way, 2))
    assert Repeats(tuple(marks), Fraction(1, 2)).odd_one is None
    limit, spread = grubbs_limit(others + 1), float(max(abs(mark - 12) for mark in marks))
    seen = Repeats(tuple(marks), Fraction(1, 2))
    farthest = max(abs(float(mark - seen.mean_mm)) for mark in marks)
    assert spread == 0.5
    assert farthest > limit * seen.deviation_mm or others < 4


@given(st.lists(half_mm, min_size=4, max_size=9), st.randoms())
def test_the_order_of_the_readings_changes_no_number(marks, random):
    shuffled = list(marks)
    random.shuffle(shuffled)
    one, two = Repeats(tuple(marks), Fraction(1, 2)), Repeats(tuple(shuffled), Fraction(1, 2))
    assert (one.mean_mm, one.deviation_mm) == (two.mean_mm, two.deviation_mm)
    assert (one.odd_one is None) == (two.odd_one is None)


def test_leaves_that_pass_lean_up_once_however_often_they_are_tried():
    feelers = Rule(unit="mm", graduation="0.05", kind="feelers", reads="largest that passes")
    _, exact, value = mean_of(feelers, ["0.5", "0.5", "0.5"], name="gap")
    assert exact == Fraction("0.525")
    assert value.std_dev == pytest.approx(0.05 / 12**0.5)


def test_a_mark_off_the_rule_or_a_wrong_datum_is_refused():
    message = (
        "the reading is 151 mm; it must be on rule, whose last mark is 150 mm. Read it again, or use a longer rule."
    )
    with pytest.raises(OutOfRange, match=whole(message)):
        mean_of(RULE, ["12", "151"])
    with pytest.raises(UnknownChoice, match=whole("datum is 'top'; write one of end, zero.")):
        mean_of(RULE, ["12", "12.5"], datum="top")

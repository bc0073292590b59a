"""What trial ends tell: a factor that gives them back, and how far one more may be off."""

import re

import pytest
from hypothesis import given
from hypothesis import strategies as st
from published import published_rows
from scipy import stats

from modelmath.errors import OutOfRange, WrongKind
from modelmath.light.lens.melt import lens_melt_length
from modelmath.light.lens.shape import LensEnd
from modelmath.light.lens.trial import TABLE, melted_of, trial_factor, trials
from modelmath.tables import rows

factors = st.floats(0.5, 2)


@given(st.floats(0.2, 3), st.floats(1.05, 4), st.floats(1, 3), factors)
def test_a_factor_gives_its_own_trial_back(strand, wide, long, factor):
    diameter, length = strand * wide, strand * wide * long
    melted = lens_melt_length(strand, diameter, length, trial=factor).melted_mm
    assert trial_factor(melted, diameter, strand, length) == pytest.approx(factor)


@given(st.floats(0.2, 3), st.floats(1.05, 4), factors)
def test_lengths_before_and_after_tell_what_was_melted(strand, wide, factor):
    melt = lens_melt_length(strand, strand * wide, trial=factor)
    before = 500.0
    after = before - melt.shortens_by_mm
    assert melted_of(before, after, LensEnd(strand * wide, strand_mm=strand)) == pytest.approx(melt.melted_mm)


def test_the_table_is_students():
    """Students' t for 95 %, both sides, from scipy; printed to two decimals."""
    table = {int(row["degrees_of_freedom"]): float(row["t_95"]) for _, row in rows(TABLE)}
    assert list(table) == list(range(1, 11))
    assert table == {n: pytest.approx(stats.t.ppf(0.975, n), abs=0.0051) for n in table}
    wider = {int(row["dof"]): float(row["t_95_45"]) for row in published_rows("t_factors.csv")}
    assert all(table[n] < wider[n] for n in set(table) & set(wider))  # JCGM 100, table G.2: 95.45 % is a little more


def test_several_trials_by_hand():
    """1.10, 1.20, 1.15: mean 1.15, deviation 0.05; one more within 4.30 x 0.05 x sqrt(4/3) = 0.248."""
    tried = trials([1.10, 1.20, 1.15])
    assert tried.factor == pytest.approx(1.15)
    assert tried.spread == pytest.approx(0.05)
    assert tried.next_one == pytest.approx((1.15 - 0.2483, 1.15 + 0.2483), abs=1e-4)
    assert tried.in_words == (
        "Lenses took 1.15 times the strand that their volume says, by 3 trial ends; one more would take 0.90 to 1.40 "
        "times, 19 times of 20."
    )


def test_one_trial_says_nothing_of_the_next():
    tried = trials([1.1])
    assert (tried.factor, tried.spread, tried.next_one) == (1.1, None, None)
    assert tried.in_words == (
        "Lenses took 1.10 times the strand that their volume says, by one trial end. Make another two, to see how they "
        "spread."
    )


def test_one_more_trial_falls_between_the_limits_19_times_of_20():
    """Simulated, seeded: normal ends, five tried and a sixth made; of 4000, 95 % within 3 deviations of 0.34 %."""
    import numpy as np

    ends = np.random.default_rng(3).normal(1.2, 0.05, (4000, 6))
    within = 0
    for row in ends:
        low, high = trials([float(each) for each in row[:5]]).next_one
        within += low <= row[5] <= high
    assert within / len(ends) == pytest.approx(0.95, abs=0.011)


@given(st.lists(factors, min_size=2, max_size=15))
def test_limits_hold_the_mean_and_are_no_less_than_none(found):
    tried = trials(found)
    low, high = tried.next_one
    assert 0 <= low <= tried.factor + 1e-12
    assert tried.factor - 1e-12 <= high


@pytest.mark.parametrize(
    ("call", "error", "text"),
    [
        (
            lambda: trials([]),
            OutOfRange,
            "the number of trial ends is 0; it must be 1 or more. Melt an end, measure it, and enter it.",
        ),
        (
            lambda: trials([1.1, 0]),
            OutOfRange,
            "the trial factor is 0; it must be above 0. Write it as a ratio, such as 1.1.",
        ),
        (
            lambda: trial_factor("2 mm", 1.2, 0.75),
            WrongKind,
            "melted_mm is '2 mm'; expected a plain number of mm. Read text with parse_length first.",
        ),
        (
            lambda: melted_of(50, 52, LensEnd(1.2, strand_mm=0.75)),
            OutOfRange,
            (
                "after_mm is 52 mm from 50 mm; it must be under 51.07 mm, with a lens 1.07 mm long. "
                "Measure strand and lens together, before and after."
            ),
        ),
        (  # a lens of 10 mm on a strand of 8 stands out 8 mm: nothing was melted
            lambda: melted_of(50, 58, LensEnd(10, strand_mm=8)),
            OutOfRange,
            (
                "after_mm is 58 mm from 50 mm; it must be under 58.00 mm, with a lens 8.00 mm long. "
                "Measure strand and lens together, before and after."
            ),
        ),
        (
            lambda: melted_of(50, 0, LensEnd(10, strand_mm=8)),
            OutOfRange,
            "after_mm is 0 mm; it must be above 0 mm. Write it in mm, such as 49.",
        ),
        (
            lambda: melted_of(0, 49, LensEnd(10, strand_mm=8)),
            OutOfRange,
            "before_mm is 0 mm; it must be above 0 mm. Write it in mm, such as 50.",
        ),
    ],
)
def test_what_is_no_trial_is_refused(call, error, text):
    with pytest.raises(error, match=f"^{re.escape(text)}$"):
        call()


def test_two_trials_far_apart_by_hand():
    """0.5 and 1.5: deviation sqrt(0.5), t of one degree 12.71: the lower limit would be below 0, and none is."""
    low, high = trials([0.5, 1.5]).next_one
    assert low == 0
    assert high == pytest.approx(1 + 12.71 * 0.75**0.5, abs=0.005)


@pytest.mark.parametrize(("count", "t"), [(5, 2.78), (11, 2.23), (12, 2.23), (30, 2.23)])
def test_past_the_table_its_last_row_counts(count, t):
    """t of 4 and of 10 degrees, JCGM 100:2008 table G.2; past 10 it is a little less."""
    found = [1.1, *[1.2] * (count - 2), 1.3]
    spread = (0.02 / (count - 1)) ** 0.5
    assert trials(found).spread == pytest.approx(spread)
    assert trials(found).next_one[1] - 1.2 == pytest.approx(t * spread * (1 + 1 / count) ** 0.5)

"""Naming what disagrees: rarely when nothing is wrong, and only what can be told."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from modelmath.lengths.calibration.agreement import agreement_of, limit_for
from modelmath.lengths.calibration.line_fit import fit_line

XS = np.array([1.0, 4.0, 7.0, 12.0, 18.0, 25.0])


def of(ys, xs=XS):
    return agreement_of(len(ys), lambda places: fit_line(xs[list(places)], np.asarray(ys)[list(places)]))


def test_the_limit_is_that_of_one_test_and_grows_with_their_number():
    """Two-sided 5 % of the normal distribution: 1.96; for two independent ones 2.2365 (computed)."""
    assert limit_for(1) == pytest.approx(1.959964, abs=1e-6)
    assert limit_for(2) == pytest.approx(2.236477, abs=1e-6)


def test_a_good_set_is_accused_in_at_most_5_of_100():
    rng = np.random.default_rng(20240229)
    accused = sum(
        bool(found.disagreeing or found.undecided) for found in (of(rng.normal(0, 1, 6)) for _ in range(1500))
    )
    # 5 % of 1500 is 75, with a standard deviation of 8.4; the limit is met from below, as the tests are correlated.
    assert 40 <= accused <= 75 + 3 * 8.4


@given(st.integers(0, 5), st.sampled_from([-12.0, 12.0]), st.integers(0, 2**32 - 1))
def test_one_far_off_is_named_with_how_far(place, far, seed):
    ys = 3 + XS + np.random.default_rng(seed).uniform(-0.3, 0.3, 6)
    ys[place] += far
    found = of(ys)
    assert found.disagreeing == (place,)
    assert found.differences[place].by == pytest.approx(far, abs=1.5)
    assert all(each.in_u <= found.limit for other, each in enumerate(found.differences) if other != place)


def test_two_far_off_are_both_named():
    ys = XS.copy()
    ys[1] += 20
    ys[4] -= 30
    found = of(ys)
    assert sorted(found.disagreeing) == [1, 4]
    assert [round(found.differences[place].by, 6) for place in (1, 4)] == [20, -30]


def test_the_order_of_the_points_does_not_matter():
    ys = XS.copy()
    ys[2] += 9
    turned = of(ys[::-1].copy(), XS[::-1].copy())
    assert turned.disagreeing == (3,)
    assert turned.differences[3].by == pytest.approx(of(ys).differences[2].by)


def test_three_points_can_disagree_but_not_tell_which():
    found = of([0.0, 9.0, 0.0], np.array([0.0, 1.0, 2.0]))
    assert found.disagreeing == ()
    assert found.undecided == (0, 1, 2)
    assert found.limit == pytest.approx(limit_for(1))  # one question, however many it is asked of
    assert of([0.0, 0.1, 0.0], np.array([0.0, 1.0, 2.0])).undecided == ()


def test_of_two_alike_none_is_named():
    found = of([0.0, 0.0, 0.0, 0.0, 9.0, -9.0], np.array([0.0, 2.0, 4.0, 6.0, 3.0, 3.0]))
    assert found.disagreeing == ()
    assert found.undecided == (4, 5)


def test_where_too_many_are_off_none_is_named():
    found = of(np.array([9.0, -9.0, -9.0, 9.0, -9.0, 9.0]))
    assert found.disagreeing == ()
    assert len(found.undecided) == 3
    assert None not in found.differences


def test_two_points_can_not_be_checked():
    found = of([0.0, 1.0], np.array([0.0, 1.0]))
    assert found.unchecked
    assert (found.disagreeing, found.undecided, found.differences) == ((), (), (None, None))

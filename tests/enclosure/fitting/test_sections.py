"""Cross-sections: areas by shapely and by numerical integration, widths by polygons laid over each other."""

from __future__ import annotations

import re
from fractions import Fraction
from itertools import pairwise

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from scipy.integrate import quad
from shapely.geometry import Polygon, box

from modelmath.enclosure.sections import Profile
from modelmath.errors import OutOfRange

quarters = st.integers(0, 40).map(lambda count: Fraction(count, 4))


@st.composite
def profiles(draw: st.DrawFn) -> Profile:
    height, points = draw(quarters), []
    for _ in range(draw(st.integers(2, 6))):
        points.append((height, draw(quarters)))
        height += draw(st.sampled_from([0, 1, 1, Fraction(5, 4), 3]))
    assume(all(one[0] < third[0] for one, third in zip(points, points[2:], strict=False)))
    assume(points[-1][0] > points[0][0] and any(half for _, half in points))
    return Profile(tuple(points))


def drawn(profile: Profile, down_to: float = -60):
    """The inside as a polygon, straight down below its first point."""
    right = [(float(half), float(height)) for height, half in profile.points]
    right.insert(0, (right[0][0], down_to))
    return Polygon([*right, *((-x, y) for x, y in reversed(right))]).buffer(0)


def half_width(profile: Profile, height: float) -> float:
    """By numpy's interpolation; away from ledges."""
    heights, halves = zip(*((float(h), float(w)) for h, w in profile.points), strict=True)
    return 0.0 if height > heights[-1] else float(np.interp(height, heights, halves))


@given(profiles(), st.integers(-8, 90).map(lambda count: Fraction(count, 4)))
def test_the_area_above_a_floor_is_that_of_the_polygon_and_of_the_integral(profile, floor):
    area = profile.area_above(floor)
    assert isinstance(area, (int, Fraction))
    above = drawn(profile).intersection(box(-99, float(floor), 99, 99))
    assert float(area) == pytest.approx(above.area, abs=1e-9)
    cuts = sorted({float(floor), *(float(h) for h, _ in profile.points if h > floor)})
    pieces = [quad(lambda z: 2 * half_width(profile, z), low + 1e-12, high - 1e-12)[0] for low, high in pairwise(cuts)]
    assert float(area) == pytest.approx(sum(pieces), abs=1e-6)


places = st.integers(-44, 44).map(lambda count: Fraction(count, 4))


@given(profiles(), quarters, quarters, places, places)
def test_the_area_within_a_window_is_that_of_the_polygon(profile, low, up, left, right):
    left, right = min(left, right), max(left, right)
    window = box(float(left), float(low), float(right), float(low + up))
    assert float(profile.area_within(low, low + up, left, right)) == pytest.approx(
        drawn(profile).intersection(window).area, abs=1e-9
    )


@given(profiles(), quarters, st.integers(1, 20).map(lambda count: Fraction(count, 4)))
def test_a_box_of_the_width_given_just_goes_in(profile, low, up):
    width, inside = profile.width_over(low, low + up), drawn(profile)
    if low + up > profile.roof_mm:
        assert width == 0
        return
    half = float(width) / 2
    if width > 0:
        assert box(-half, float(low), half, float(low + up)).difference(inside).area < 1e-9
    wider = half + 1e-3
    assert box(-wider, float(low), wider, float(low + up)).difference(inside).area > 1e-9


@given(profiles(), st.integers(1, 60).map(lambda count: Fraction(count, 4)), quarters)
def test_stretches_are_as_wide_as_asked_for_and_all_of_them(profile, width, low):
    stretches = profile.as_wide_as(width, low)
    inside, half = drawn(profile), float(width) / 2
    for bottom, top in stretches:
        assert low <= bottom < top <= profile.roof_mm
        assert profile.width_over(bottom, top) >= width
        assert box(-half, float(bottom), half, float(top)).difference(inside).area < 1e-9
    assert all(before[1] < after[0] or before[1] == after[0] for before, after in pairwise(stretches))
    heights = np.linspace(float(low), float(profile.roof_mm), 37)[1:-1] + 1e-7 if profile.roof_mm > low else []
    for height in heights:
        row = inside.intersection(box(-99, height, 99, height + 1e-9)).area / 1e-9
        if abs(row - float(width)) > 1e-3:
            assert (row > width) == any(bottom <= height <= top for bottom, top in stretches)


@given(profiles(), st.integers(1, 30).map(lambda count: Fraction(count, 4)), quarters)
def test_narrowing_takes_as_much_at_every_height(profile, by, floor):
    assume(by < profile.widest_mm)
    narrowed = profile.narrowed(by)
    assert narrowed.roof_mm <= profile.roof_mm
    cuts = sorted({*(h for h, _ in profile.points), *(h for h, _ in narrowed.points), floor, floor + 1})
    for low, high in pairwise(cuts):
        middle = (low + high) / 2
        before, after = profile.width_at(middle), narrowed.width_at(middle)
        assert after == max(before - by, 0) or (middle > narrowed.roof_mm and before <= by)


def test_a_ledge_just_touched_is_no_obstacle():
    """By hand: 8 mm wide up to a rib's top at 9, 12 mm above it."""
    ribbed = Profile(((5, 4), (9, 4), (9, 6), (15, 6)))
    assert (ribbed.width_over(5, 9), ribbed.width_over(9, 15), ribbed.width_over(8, 10)) == (8, 12, 8)
    assert (ribbed.width_at(9), ribbed.width_over(9, 16)) == (8, 0)
    closed = Profile(((5, 4), (9, 4), (9, 0)))
    assert closed.width_over(6, 9) == 8


def test_what_a_narrowing_leaves_below_a_ledge_alone():
    left = Profile(((7, 6), (7, 1), (12, 1))).narrowed(4)
    assert (left.roof_mm, left.width_at(6), left.area_above(0)) == (7, 8, 56)


TENT = Profile(((0, 10), (10, 0)))
RIBBED = Profile(((0, 6), (4, 6), (4, 3), (6, 3), (6, 6), (10, 6)))


@pytest.mark.parametrize(
    ("profile", "width", "low", "stretches"),
    [
        (TENT, 10, 0, [(0, 5)]),
        (TENT, 10, 3, [(3, 5)]),
        (TENT, 10, 5, []),
        (TENT, 20, 0, []),
        (TENT, 20, -3, [(-3, 0)]),  # below its first point it is as wide as there
        (TENT, 21, -3, []),
        (TENT, 0, 0, [(0, 10)]),
        (Profile(((0, 0), (10, 10))), 10, 0, [(5, 10)]),
        (Profile(((0, 0), (10, 10))), 10, -3, [(5, 10)]),
        (Profile(((2, 5), (10, 5))), 10, 0, [(0, 10)]),
        (RIBBED, 12, 0, [(0, 4), (6, 10)]),
        (RIBBED, 12, 4, [(6, 10)]),
        (RIBBED, 12, 5, [(6, 10)]),
        (RIBBED, 12, 7, [(7, 10)]),
        (RIBBED, 6, 1, [(1, 10)]),
        (RIBBED, 12, 10, []),
        (Profile(((0, 6), (4, 4), (8, 6))), 8, 0, [(0, 8)]),  # just as wide in its waist
        (Profile(((0, 6), (4, 2), (8, 6))), 8, 0, [(0, 2), (6, 8)]),
        (Profile(((0, 6), (4, 6), (4, 8), (9, 8))), 12, 0, [(0, 9)]),
        (Profile(((0, 6), (4, 6), (4, 8), (9, 8))), 14, 0, [(4, 9)]),
        (Profile(((0, 8), (4, 8), (4, 6), (9, 6))), 12, 0, [(0, 9)]),
        (Profile(((0, 8), (4, 8), (4, 6), (9, 6))), 14, 0, [(0, 4)]),
    ],
)
def test_stretches_that_are_as_wide_by_hand(profile, width, low, stretches):
    assert profile.as_wide_as(width, low) == stretches


@pytest.mark.parametrize(
    ("profile", "by", "left"),
    [
        (TENT, 10, ((0, 5), (5, 0))),
        (TENT, 0, ((0, 10), (10, 0))),
        (Profile(((0, 6), (10, 4))), 4, ((0, 4), (10, 2))),
        (Profile(((0, 6), (10, 4))), 8, ((0, 2), (10, 0))),
        (Profile(((0, 0), (5, 10), (10, 0))), 10, ((0, 0), (Fraction(5, 2), 0), (5, 5), (Fraction(15, 2), 0))),
        (Profile(((0, 10), (5, 10), (5, 2), (10, 2))), 10, ((0, 5), (5, 5), (5, 0))),
        (Profile(((7, 6), (7, 1), (12, 1))), 4, ((6, 4), (7, 4), (7, 0))),
        (RIBBED, 8, ((0, 2), (4, 2), (4, 0), (6, 0), (6, 2), (10, 2))),
    ],
)
def test_what_a_narrowing_leaves_by_hand(profile, by, left):
    assert profile.narrowed(by).points == left


def test_widths_at_and_between_heights_by_hand():
    """A tent of 20 mm, in by 1 to 1 on either side."""
    assert [TENT.width_at(each) for each in (-2, 0, 3, 10, 11)] == [20, 20, 14, 0, 0]
    assert [TENT.width_over(*each) for each in ((2, 6), (3, 3), (-5, -2), (2, 10), (2, 11))] == [8, 14, 20, 0, 0]
    assert (TENT.widest_mm, TENT.roof_mm, RIBBED.widest_mm) == (20, 10, 12)
    assert [RIBBED.width_at(each) for each in (3, 4, 5, 6, 7)] == [12, 6, 6, 6, 12]
    assert [RIBBED.width_over(*each) for each in ((1, 4), (4, 6), (6, 9), (3, 5), (5, 7), (4, 4))] == [
        12, 6, 12, 6, 6, 6,
    ]  # fmt: skip


def test_areas_by_hand():
    """Of the tent, half of 20 x 10 mm; 10 mm to either side, and straight down below its foot."""
    assert [TENT.area_above(each) for each in (-2, 0, 5, 10, 12)] == [140, 100, 25, 0, 0]
    assert RIBBED.area_above(0) == 12 * 4 + 6 * 2 + 12 * 4
    assert RIBBED.area_above(5) == 6 + 48
    assert TENT.area_within(0, 10, 0, 10) == 50
    assert TENT.area_within(0, 5, -5, 5) == 50
    assert TENT.area_within(0, 20, 8, 12) == 2
    assert TENT.area_within(-3, 0, 8, 12) == 6
    assert TENT.area_within(5, 10, -20, -2) == 4.5
    assert TENT.area_within(2, 2, -5, 5) == TENT.area_within(0, 5, 3, 3) == TENT.area_within(0, 5, 3, 2) == 0
    assert RIBBED.area_within(3, 7, 1, 9) == 5 + 2 * 2 + 5


def test_floats_give_floats_and_whole_numbers_stay_exact():
    exact, rounded = Profile(((0, 6), (3, 4))), Profile(((0, 6.0), (3, 4.0)))
    assert exact.width_at(1) == Fraction(32, 3)
    assert isinstance(exact.width_at(1), Fraction)
    assert isinstance(rounded.width_at(1), float)
    assert rounded.width_at(1) == pytest.approx(32 / 3)
    assert rounded.exact_points == exact.exact_points == ((0, 6), (3, 4))
    assert all(isinstance(each, Fraction) for point in rounded.exact_points for each in point)


@pytest.mark.parametrize(
    ("points", "message"),
    [
        (((0, 5),), "the cross-section is 1 points; it must be two or more. Measure the width at two heights."),
        (
            ((0, 5), (2, -1)),
            (
                "the cross-section: half-width is -1.00 mm at 2.00 mm; it must be 0 or more. Measure from the centre "
                "line."
            ),
        ),
        (((0, 0), (2, 0)), "the cross-section is 0 mm wide; it must be wider than 0. Check its inside width."),
        (
            ((0, 5), (3, 5), (2, 4)),
            (
                "the cross-section: heights is 2.00 mm after 3.00 mm; it must be rising. List the points from the "
                "lowest up."
            ),
        ),
        (
            ((2, 5), (2, 4)),
            "the cross-section is all points at 2.00 mm; it must be two heights or more. Add the width lower down.",
        ),
        (
            ((0, 5), (float("inf"), 4)),
            "the cross-section: height is inf mm; it must be a finite number. Check the readings behind it.",
        ),
        (
            ((0, float("nan")), (3, 4)),
            "the cross-section: half-width is nan mm; it must be a finite number. Check the readings behind it.",
        ),
    ],
)
def test_a_section_that_can_t_be_is_refused(points, message):
    with pytest.raises(OutOfRange, match=f"^{re.escape(message)}$"):
        Profile(points)


def test_a_section_may_begin_or_end_in_a_point():
    assert Profile([[0, 0], [5, 4]]).points == ((0, 0), (5, 4))
    assert Profile(((0, 4), (5, 0))).area_above(0) == 20
    with pytest.raises(OutOfRange, match=r"^the cross-section is 0 mm wide; it must be wider than 0\."):
        TENT.narrowed(20)

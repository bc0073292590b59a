"""A box turning about a pivot, against shapely's union of turned boxes, and as properties."""

from __future__ import annotations

import re
from fractions import Fraction
from math import cos, hypot, pi, radians, sin

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely.affinity import rotate, translate
from shapely.geometry import Point, box
from shapely.ops import unary_union
from uncertainties import ufloat

from modelmath.enclosure.mechanism import PlanBox, corners, leaned, rise, tilt, turned, with_play
from modelmath.errors import OutOfRange, WrongKind

STEPS = 60
angles = st.floats(0, radians(80))


@st.composite
def boxes(draw: st.DrawFn) -> PlanBox:
    """Boxes round their pivot, and some that lie wholly ahead of or behind it."""
    ahead = draw(st.floats(-20, 40))
    return PlanBox(ahead, draw(st.floats(0.5, 60)) - ahead, draw(st.floats(0.5, 20)))


def plan_of(each: PlanBox):
    return box(-each.ahead_mm, -each.half_width_mm, each.behind_mm, each.half_width_mm)


def extents(each: PlanBox) -> tuple[float, float, float]:
    return each.ahead_mm, each.behind_mm, each.half_width_mm


@settings(max_examples=150)
@given(boxes(), angles)
def test_the_reach_is_that_of_all_turned_boxes(each, angle):
    swept = unary_union(
        [rotate(plan_of(each), -angle + 2 * angle * n / STEPS, (0, 0), use_radians=True) for n in range(STEPS + 1)]
    )
    left, low, right, high = swept.bounds
    found = turned(each, angle)
    # The widest angle lies at most half a step beside one of those drawn; there the reach is flat.
    far = hypot(max(abs(each.ahead_mm), abs(each.behind_mm)), each.half_width_mm)
    near = far * (1 - cos(angle / STEPS))
    for drawn, exact in ((-left, found.ahead_mm), (right, found.behind_mm), (high, found.half_width_mm)):
        assert drawn - 1e-9 <= exact <= drawn + near + 1e-9
    assert high == pytest.approx(-low)


@given(boxes(), angles, angles, st.floats(0, 3), st.floats(0, 3), st.floats(0, 2))
def test_more_turning_and_more_play_never_reach_less(each, one, other, side, end, more):
    small, large = sorted((one, other))
    before, after = turned(each, small), turned(each, large)
    assert all(a <= b + 1e-9 for a, b in zip(extents(each), extents(before), strict=True))
    # A corner that starts on the far side never comes nearer by turning more, within a right angle.
    assert all(a <= b + 1e-9 for a, b in zip(extents(before), extents(after), strict=True))
    played = with_play(before, side, end)
    wider = with_play(before, side + more, end + more)
    assert all(a <= b for a, b in zip(extents(played), extents(wider), strict=True))


@given(boxes(), angles)
def test_the_mirror_image_reaches_as_far(each, angle):
    mirrored = PlanBox(each.behind_mm, each.ahead_mm, each.half_width_mm)
    one, other = turned(each, angle), turned(mirrored, angle)
    assert extents(one) == (other.behind_mm, other.ahead_mm, other.half_width_mm)


@given(boxes(), st.floats(0, radians(40)), st.floats(0.2, 5))
def test_all_sizes_scale_together(each, angle, by):
    one = turned(each, angle)
    other = turned(PlanBox(*(by * size for size in extents(each))), angle)
    assert extents(other) == pytest.approx([by * size for size in extents(one)])


@settings(max_examples=60)
@given(boxes(), st.floats(0, radians(30)), st.floats(0, 2), st.floats(0, 2))
def test_play_is_the_minkowski_sum(each, angle, side, end):
    """Shapely: every turned box shifted to every corner of the play stays within, and the extremes are reached."""
    found = with_play(turned(each, angle), side, end)
    shifted = [
        translate(rotate(plan_of(each), turn, (0, 0), use_radians=True), dx, dy)
        for turn in (-angle + 2 * angle * n / STEPS for n in range(STEPS + 1))
        for dx in (-end, end)
        for dy in (-side, side)
    ]
    left, _low, right, high = unary_union(shifted).bounds
    bounds = (-left, right, high)
    assert all(b <= f + 1e-9 for b, f in zip(bounds, extents(found), strict=True))
    assert bounds == pytest.approx(extents(found), rel=2e-4, abs=0.02)


def test_a_corner_that_passes_its_farthest_reaches_its_radius():
    """By hand: a 3-4-5 corner. Its diagonal stands 36.87 degrees off the length."""
    square_on = turned(PlanBox(4, 4, 3), radians(40))
    assert (square_on.ahead_mm, square_on.behind_mm) == (5, 5)
    assert turned(PlanBox(4, 4, 3), radians(30)).behind_mm == pytest.approx(4 * cos(pi / 6) + 3 * sin(pi / 6))
    assert turned(PlanBox(4, 4, 3), radians(60)).half_width_mm == 5  # 53.13 degrees for the width


@given(boxes(), st.floats(0, radians(30)))
def test_corners_for_the_picture_lie_on_the_turned_box(each, angle):
    drawn = rotate(plan_of(each), angle, (0, 0), use_radians=True)
    for corner in corners(each, angle):
        assert drawn.exterior.distance(Point(corner)) < 1e-9


def spun(x: float, y: float, z: float, roll: float, rock: float) -> tuple[float, float, float]:
    """A point rolled sideways about the length, then rocked endways."""
    y, z = y * cos(roll) + z * sin(roll), -y * sin(roll) + z * cos(roll)
    return x * cos(rock) + z * sin(rock), y, -x * sin(rock) + z * cos(rock)


@settings(max_examples=80)
@given(boxes(), st.floats(-5, 20), st.floats(0, 0.2), st.floats(0, 0.2))
def test_rise_is_the_highest_corner_over_a_grid_of_tilts(each, height, rock, roll):
    tilts = [(-roll + 2 * roll * n / 20, -rock + 2 * rock * m / 20) for n in range(21) for m in range(21)]
    tops = [
        spun(x, y, height, sideways, endways)[2]
        for x in (-each.ahead_mm, each.behind_mm)
        for y in (-each.half_width_mm, each.half_width_mm)
        for sideways, endways in tilts
    ]
    exact = rise(each, rock, roll, height)
    assert max(tops) - height <= exact + 1e-9
    assert exact == pytest.approx(max(tops) - height, abs=0.02)
    if height >= 0:
        assert exact <= rise(each, rock, roll) + 1e-9  # not knowing the axis never gives less


@settings(max_examples=80)
@given(boxes(), st.floats(0, 20), st.floats(0, 0.2), st.floats(0, 0.2), st.floats(0, 0.3))
def test_leaning_and_turning_hold_every_position(each, height, rock, roll, yaw):
    found = turned(leaned(each, height, rock, roll), yaw)
    for x in (-each.ahead_mm, each.behind_mm):
        for y in (-each.half_width_mm, each.half_width_mm):
            for z in (-height, height):
                for sideways in (-roll, 0, roll):
                    for endways in (-rock, 0, rock):
                        px, py, _ = spun(x, y, z, sideways, endways)
                        for turn in (-yaw, 0, yaw / 2, yaw):
                            qx, qy = px * cos(turn) - py * sin(turn), px * sin(turn) + py * cos(turn)
                            assert -found.ahead_mm - 1e-9 <= qx <= found.behind_mm + 1e-9
                            assert abs(qy) <= found.half_width_mm + 1e-9


@given(st.floats(0, 5), st.floats(10, 40))
def test_tilt_gives_back_the_rise_of_the_end(up, far):
    assert rise(PlanBox(far, far, 0), tilt(up, far)) == pytest.approx(up, abs=1e-12)


def test_uncertain_sizes_carry_through():
    """By hand: d(half width)/d(angle) = X cos(angle) - h sin(angle)."""
    swept = turned(PlanBox(15, 15, 9), ufloat(radians(6), 0.01))
    slope = 15 * cos(radians(6)) - 9 * sin(radians(6))
    assert swept.half_width_mm.std_dev == pytest.approx(0.01 * slope)
    assert rise(PlanBox(15, 15, 9), 0.02, height_mm=ufloat(10, 0.1)).std_dev < 1e-3


BAD = [
    (
        lambda: turned(PlanBox(1, 1, 1), radians(90)),
        OutOfRange,
        (
            "swing is 90 degrees; it must be from 0 to below 90 degrees. "
            "Write the angle to one side, such as math.radians(6)."
        ),
    ),
    (
        lambda: PlanBox(-5, 3, 1),
        OutOfRange,
        (
            "length of the box is -2.00 mm; it must be 0 or more. "
            "Count both ends from the pivot; an end on the other side of it is below 0."
        ),
    ),
    (
        lambda: with_play(PlanBox(1, 1, 1), -0.5),
        OutOfRange,
        "side play is -0.5 mm; it must be 0 or more. Measure it on the model, such as 0.5 mm.",
    ),
    (
        lambda: tilt(20, Fraction(20)),
        OutOfRange,
        (
            "rise of the end is 20 mm; it must be less than its distance from the axis, 20 mm. "
            "Measure how far the end lifts from level, such as 0.5 mm."
        ),
    ),
    (
        lambda: leaned(PlanBox(1, 1, 1), "3 mm"),
        WrongKind,
        "height above the axis is '3 mm'; expected a plain number of mm. Read text with parse_length first.",
    ),
    (
        lambda: turned(PlanBox(1, 1, 1), "6"),
        WrongKind,
        "swing is '6'; expected an angle in radians. Write math.radians(6) for six degrees.",
    ),
]


@pytest.mark.parametrize(("make", "kind", "message"), BAD)
def test_what_makes_no_sense_is_refused(make, kind, message):
    with pytest.raises(kind, match=f"^{re.escape(message)}$"):
        make()


def test_a_box_beside_its_pivot_comes_no_nearer_on_the_far_side():
    """A box wholly behind its pivot: its near end, counted ahead, is below 0 and grows towards 0."""
    near = turned(PlanBox(-5, 20, 4), radians(10)).ahead_mm
    assert near == pytest.approx(-5 * cos(radians(10)) + 4 * sin(radians(10)))


def test_what_is_left_out_is_nothing():
    """No turning, no leaning, no play; and a box that does not move takes what it is."""
    each = PlanBox(9.0, 7.0, 4.0)
    assert leaned(each, 3) == leaned(each, 3, 0.0, 0.0) == turned(each, 0.0) == with_play(each, 0) == each
    assert leaned(each, 3, rock_rad=0.1) == leaned(each, 3, 0.1, 0.0)
    assert leaned(each, 3, roll_rad=0.1) == leaned(each, 3, 0.0, 0.1)
    assert with_play(each, 0.5) == with_play(each, 0.5, 0)
    assert rise(each) == rise(each, height_mm=5) == 0
    assert rise(each, 0.1) == rise(each, 0.1, 0.0, 0)
    assert rise(each, roll_rad=0.1) == rise(each, 0.0, 0.1, 0)
    assert corners(each, 0.2) == corners(each, 0.2, 0.0)


def test_a_corner_shifted_to_the_side_by_hand():
    assert corners(PlanBox(2, 1, 1), pi / 2, 5) == (
        (pytest.approx(-1), pytest.approx(6)), (pytest.approx(1), pytest.approx(6)),
        (pytest.approx(1), pytest.approx(3)), (pytest.approx(-1), pytest.approx(3)),
    )  # fmt: skip

"""The angles at which something of note happens to a box that turns about a hinge, against small steps and shapely."""

from __future__ import annotations

from itertools import pairwise
from math import hypot, inf, pi, radians, sqrt

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import LineString, Point, Polygon
from shapely.affinity import rotate
from shapely.geometry import box

from modelmath.enclosure.mechanism.arcs import (
    column_angles,
    distance,
    gap,
    heights_within,
    meeting_angles,
    nearest_angles,
    overlap,
    turn,
)

MOST = radians(120)
STEPS = 240
HALVES = st.integers(-16, 16).map(lambda each: each / 2)
TRIES = settings(max_examples=60, derandomize=True)


@st.composite
def boxes(draw, least=-16):
    left, low = draw(st.integers(least, 14)) / 2, draw(st.integers(-16, 14)) / 2
    right, high = left + draw(st.integers(1, 12)) / 2, low + draw(st.integers(1, 12)) / 2
    return ((left, low), (right, low), (right, high), (left, high))


def turned(each, angle):
    return rotate(Polygon(each), angle, origin=(0, 0), use_radians=True)


def highest(part, chassis, angle):
    """How high the chassis reaches within the part's length, seen from the part."""
    found = heights_within(turn(chassis, -angle), part[0][0], part[1][0])
    return -inf if found is None else found[1]


@TRIES
@given(boxes(), boxes())
def test_within_the_parts_length_the_chassis_reaches_highest_at_one_of_the_angles(part, chassis):
    found = column_angles(part, chassis, MOST)
    assert found == sorted(found)
    assert (found[0], found[-1]) == (0, MOST)
    # A little before and behind each as well: where it only touches, rounding decides.
    there = max(highest(part, chassis, each + by) for each in found for by in (-1e-9, 0, 1e-9))
    assert max(highest(part, chassis, MOST * step / STEPS) for step in range(STEPS + 1)) <= there + 1e-6


@TRIES
@given(boxes(), boxes())
def test_clear_of_each_other_boxes_come_nearest_at_one_of_the_angles(part, chassis):
    found = nearest_angles(part, chassis, MOST)
    steps = [turn(part, MOST * step / STEPS) for step in range(STEPS + 1)]
    if any(overlap(each, chassis) for each in (*steps, *(turn(part, each) for each in found))):
        return
    least = min(gap(turn(part, each), chassis) for each in found)
    assert min(gap(each, chassis) for each in steps) >= least - 1e-9


@TRIES
@given(boxes(), boxes())
def test_between_two_of_the_angles_boxes_overlap_all_the_way_or_not_at_all(part, chassis):
    found = meeting_angles(part, chassis, MOST)
    assert (found[0], found[-1]) == (0, MOST)
    for low, high in pairwise(found):
        if high - low > 1e-6:
            said = {overlap(turn(part, low + (high - low) * share), chassis) for share in (0.02, 0.3, 0.5, 0.9, 0.98)}
            assert len(said) == 1


@TRIES
@given(boxes(), boxes(), st.integers(-180, 180))
def test_overlap_and_distance_are_those_of_shapely(one, other, degrees):
    mine = turn(one, radians(degrees))
    shape = turned(one, radians(degrees))
    assert Polygon(mine).symmetric_difference(shape).area == pytest.approx(0, abs=1e-9)
    common = shape.intersection(Polygon(other)).area
    if common > 1e-6 or shape.distance(Polygon(other)) > 1e-6:
        assert overlap(mine, other) == overlap(other, mine) == (common > 1e-6)
    if common == 0:
        assert gap(mine, other) == pytest.approx(shape.distance(Polygon(other)), abs=1e-9)
    assert distance((3.5, -1.25), mine) == pytest.approx(shape.exterior.distance(Point(3.5, -1.25)))


@TRIES
@given(boxes(), HALVES, HALVES, st.integers(-180, 180))
def test_how_low_and_high_a_box_reaches_between_two_uprights_is_what_shapely_cuts_out(each, one, other, degrees):
    left, right = sorted((one + 0.013, other + 0.513))
    mine = turn(each, radians(degrees))
    within = Polygon(mine).intersection(box(left, -99, right, 99))
    found = heights_within(mine, left, right)
    if within.area > 1e-6:
        assert found == (pytest.approx(within.bounds[1]), pytest.approx(within.bounds[3]))
    elif not Polygon(mine).intersects(LineString([(left, -99), (left, 99)])) and within.area == 0:
        assert found is None


def test_a_corner_meets_a_side_where_its_circle_crosses_it_by_hand():
    """A corner 5 mm out, 3 along and 4 up, meets an upright at 0 mm when it is 5 mm up."""
    part, chassis = ((2, 3), (3, 3), (3, 4), (2, 4)), ((-9, -9), (0, -9), (0, 9), (-9, 9))
    found = meeting_angles(part, chassis, pi)
    assert any(turn([(3, 4)], each)[0] == (pytest.approx(0, abs=1e-12), pytest.approx(5)) for each in found)
    assert any(turn([(2, 3)], each)[0] == (pytest.approx(0, abs=1e-12), pytest.approx(hypot(2, 3))) for each in found)


def test_what_only_touches_does_not_overlap_or_reach_between():
    square, beside = [(0, 0), (1, 0), (1, 1), (0, 1)], [(1, 0), (2, 0), (2, 1), (1, 1)]
    assert not overlap(square, beside)
    assert overlap(square, [(x - 1e-6, z) for x, z in beside])
    assert heights_within(square, 1, 3) is heights_within(square, -2, 0) is None
    assert heights_within(square, 0.999, 3) == (0, 1)
    assert heights_within(square, 0.5, 3, touch_mm=0.5) is None
    assert gap(square, [(x + 3, z + 5) for x, z in beside]) == 5


@pytest.mark.parametrize("level", [5, -5])
@pytest.mark.parametrize("edge", [3, -3])
@pytest.mark.parametrize("upright", [False, True])
def test_where_the_foot_of_the_hinge_on_a_side_comes_to_an_edge_of_the_column_by_hand(level, edge, upright):
    """3, 4 and 5: turned to where it is 3 mm along, the foot of a side 5 mm from the hinge is 4 mm up or down."""
    part = ((edge, 20), (edge + 1, 20), (edge + 1, 30), (edge, 30))
    near, far = sorted((level, 3 * level))
    chassis = ((near, -40), (far, -40), (far, 40), (near, 40)) if upright else (
        (-40, near), (40, near), (40, far), (-40, far),
    )  # fmt: skip
    foot = (level, 0) if upright else (0, level)
    found = column_angles(part, chassis, 2 * pi)
    feet = [turn([foot], -angle)[0] for angle in found]
    for height in (4, -4):
        assert any(each == (pytest.approx(edge), pytest.approx(height)) for each in feet)


AXES = ((1, 0), (0, 1), (-1, 0), (0, -1))
FEWER = settings(max_examples=10, derandomize=True)


def comes_to(corner, wanted, angles, way=1):
    """Whether a corner that is turned by one of some angles lies at a place."""
    return any(turn([corner], way * each)[0] == pytest.approx(wanted, abs=1e-6) for each in angles)


@FEWER
@given(boxes(), boxes())
def test_every_angle_is_there_at_which_a_radius_stands_square_or_points_at_a_corner(part, chassis):
    """Seen from the part, the chassis turns the other way round."""
    found = nearest_angles(part, chassis, 2 * pi)
    for corner in part:
        far = hypot(*corner)
        for across, up in AXES:
            assert comes_to(corner, (far * across, far * up), found)
        for other in chassis:
            if far and hypot(*other):
                share = far / hypot(*other)
                assert comes_to(corner, (share * other[0], share * other[1]), found)
    for corner in chassis:
        far = hypot(*corner)
        assert all(comes_to(corner, (far * across, far * up), found, -1) for across, up in AXES)


def crossings(corner, still):
    """Where the circle of a corner about the hinge crosses the lines through the sides of a box that stays."""
    far = hypot(*corner)
    (left, low), _, (right, high), _ = still
    for across in (left, right):
        if abs(across) < far:
            up = sqrt(far**2 - across**2)
            yield from ((across, up), (across, -up))
    for up in (low, high):
        if abs(up) < far:
            across = sqrt(far**2 - up**2)
            yield from ((across, up), (-across, up))


@FEWER
@given(boxes(), boxes())
def test_every_angle_is_there_at_which_a_corner_crosses_a_line(part, chassis):
    for found in (meeting_angles(part, chassis, 2 * pi), column_angles(part, chassis, 2 * pi)):
        assert all(comes_to(corner, place, found) for corner in part for place in crossings(corner, chassis))
        assert all(comes_to(corner, place, found, -1) for corner in chassis for place in crossings(corner, part))
    # A corner of the chassis is highest over the hinge.
    assert all(comes_to(corner, (0, hypot(*corner)), found, -1) for corner in chassis)


def test_only_angles_up_to_the_last_are_told_in_order_and_once():
    part, chassis = ((2, 3), (3, 3), (3, 4), (2, 4)), ((-9, -9), (0, -9), (0, 9), (-9, 9))
    for angles in (meeting_angles, nearest_angles, column_angles):
        every, few = angles(part, chassis, 2 * pi), angles(part, chassis, 1.0)
        assert few == [each for each in every if each < 1] + [1.0]
        assert every == sorted(set(every))
        assert every[0] == few[0] == 0
    # A corner that stands square already does so at 0, whatever the last digit.
    assert nearest_angles(((0, 3), (1, 3), (1, 4), (0, 4)), chassis, 0.01) == [0.0, 0.01]

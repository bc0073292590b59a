"""Ways of strands: lengths by geometry, by summing short steps, and by rounding with shapely."""

import re
from fractions import Fraction
from itertools import pairwise
from math import dist, hypot, pi, sqrt, tan

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from shapely.geometry import LineString

from modelmath.errors import OutOfRange, WrongKind
from modelmath.light.strands.route import Point, Route

places = st.integers(-60, 60)
points = st.lists(st.builds(Point, places, places, places), min_size=2, max_size=6)


def route_of(spots, radius, diameter=0.0):
    """Return a route through random points, leaving out what is refused."""
    try:
        return Route(tuple(spots), radius, diameter)
    except OutOfRange:
        assume(False)
        raise


def turns_of(route):
    return [(bend.angle_deg, bend.radius_mm) for bend in route.bends]


def test_one_corner_by_hand():
    """Two legs of 30 and 20 mm at a right angle, radius 5: 30 + 20 - 2 x 5 + 5 pi / 2."""
    route = Route((Point(0, 0, 0), Point(30, 0, 0), Point(30, 0, -20)), 5)
    assert route.length_mm == pytest.approx(40 + 5 * pi / 2)
    assert turns_of(route) == [pytest.approx((90, 5))]
    assert route.too_short == ()
    assert route.in_words == "The strand runs 47.9 mm, with 1 bend."


def test_the_radius_is_that_of_the_inside():
    """Round 5 mm the axis of a 1 mm strand runs at 5.5 mm."""
    route = Route((Point(0, 0, 0), Point(30, 0, 0), Point(30, 0, -20)), 5, 1)
    assert route.length_mm == pytest.approx(50 - 11 + 5.5 * pi / 2)
    assert turns_of(route) == [pytest.approx((90, 5))]


def test_a_turn_out_of_the_plane_by_hand():
    """Each leg of a cube's edges at a right angle to the one before: three legs of 10, two corners of radius 2."""
    route = Route((Point(0, 0, 0), Point(10, 0, 0), Point(10, 10, 0), Point(10, 10, 10)), 2)
    assert route.length_mm == pytest.approx(30 + 2 * (2 * pi / 2 - 4))
    assert [bend.angle_deg for bend in route.bends] == pytest.approx([90, 90])


@given(st.fractions(-50, 50, max_denominator=64), st.fractions(1, 50, max_denominator=64))
def test_points_in_one_line_make_no_bend(start, step):
    spots = [Point(start + n * step, 2 * n * step, Fraction(1, 3) - n * step) for n in range(4)]
    route = Route(tuple(spots), 5)
    assert route.bends == ()
    assert route.length_mm == pytest.approx(3 * float(step) * sqrt(6))
    assert route.in_words == f"The strand runs {route.length_mm:.1f} mm, with no bend."


@given(points, st.floats(0.1, 20), st.floats(0, 2))
def test_the_length_is_that_of_its_path_in_short_steps(spots, radius, diameter):
    route = route_of(spots, radius, diameter)
    path = np.array(route.path(0.5))
    steps = np.hypot.reduce(np.diff(path, axis=0), axis=1).sum()
    assert route.length_mm == pytest.approx(steps, rel=1e-4, abs=1e-4)
    assert path[0] == pytest.approx(spots[0].vector)
    assert path[-1] == pytest.approx(spots[-1].vector)


@given(points, st.floats(0.1, 20))
def test_the_path_is_smooth_where_there_is_room(spots, radius):
    """No two short steps in a row turn by much more than one: a kink or a step backward would."""
    route = route_of(spots, radius)
    assume(all(corner.axis_mm > 1e-3 for corner in route.corners))
    path = np.array(route.path(2))
    steps = np.diff(path, axis=0)
    long = steps[np.hypot.reduce(steps, axis=1) > 1e-6]
    unit = long / np.hypot.reduce(long, axis=1)[:, None]
    turned = np.degrees(np.arccos(np.clip((unit[:-1] * unit[1:]).sum(axis=1), -1, 1)))
    assert (turned < 2.1).all()


@given(points, st.floats(0.1, 20))
def test_a_route_is_no_longer_than_its_legs_and_no_shorter_than_a_straight_line(spots, radius):
    route = route_of(spots, radius)
    ends = [point.vector for point in spots]
    assert dist(ends[0], ends[-1]) - 1e-9 <= route.length_mm <= sum(dist(a, b) for a, b in pairwise(ends)) + 1e-9


@given(points, st.floats(0.1, 20), st.floats(0, 2))
def test_no_radius_can_grow_without_another_one_shrinking(spots, radius, diameter):
    """Legs hold their arcs; each corner that lacks room has a full leg on which no other corner has more."""
    route = route_of(spots, radius, diameter)
    stops = [0.0, *(corner.takes_mm for corner in route.corners), 0.0]
    at = [1, *(corner.number for corner in route.corners), len(spots)]
    axes = [0.0, *(corner.axis_mm for corner in route.corners), 0.0]
    room = [
        sum(dist(a.vector, b.vector) for a, b in pairwise(spots[one - 1 : other])) - (first + second)
        for (one, first), (other, second) in pairwise(zip(at, stops, strict=True))
    ]
    assert all(left > -1e-6 for left in room)
    for place, corner in enumerate(route.corners):
        if corner.tight:
            full = [leg for leg in (place, place + 1) if room[leg] < 1e-6 * (1 + corner.axis_mm)]
            assert any(max(axes[leg], axes[leg + 1]) <= corner.axis_mm * (1 + 1e-6) for leg in full)
        else:
            assert corner.axis_mm == pytest.approx(radius + diameter / 2)


@given(points, st.floats(0.1, 20))
def test_a_route_is_as_long_the_other_way(spots, radius):
    there, back = route_of(spots, radius), route_of(spots[::-1], radius)
    assert there.length_mm == pytest.approx(back.length_mm)
    assert [bend.radius_mm for bend in there.bends] == pytest.approx([bend.radius_mm for bend in back.bends][::-1])


def test_arcs_are_those_of_shapely():
    """The middle line of a corner, shrunk and grown again by the radius: shapely rounds it off its own way."""
    radius, legs = 4.0, [(0.0, 0.0), (30.0, 0.0), (40.0, 25.0)]
    route = Route(tuple(Point(x, 0, z) for x, z in legs), radius)
    centre = LineString(legs).parallel_offset(radius, "left", join_style=2).coords[1]
    rounded = LineString([(x, z) for x, _, z in route.path(0.5)])
    arc = [place for place in rounded.coords if abs(dist(place, centre) - radius) < 1e-6]
    assert len(arc) > 100
    assert rounded.distance(LineString([centre, centre])) == pytest.approx(radius, abs=1e-4)
    assert rounded.length == pytest.approx(route.length_mm, abs=1e-3)


def test_a_leg_too_short_says_so():
    """Two right angles 6 mm apart: 3 mm of radius each, by geometry."""
    route = Route((Point(0, 0, 0), Point(20, 0, 0), Point(20, 6, 0), Point(40, 6, 0)), 5)
    assert [bend.radius_mm for bend in route.bends] == pytest.approx([3, 3])
    said = "a leg is too short for a radius of 5 mm: there is room for 3 mm."
    assert route.too_short == (f"At point 2 {said}", f"At point 3 {said}")
    assert route.in_words == (
        f"The strand runs {34 + 3 * pi:.1f} mm, with 2 bends. At point 2 {said} At point 3 {said}"
    )


def test_a_corner_uses_what_the_next_one_can_not():
    """The third leg, 2 mm, holds its two corners to 1 mm; the first then has all but that of the second leg."""
    spots = (Point(0, 0, 0), Point(30, 0, 0), Point(30, 10, 0), Point(32, 10, 0), Point(32, 40, 0))
    route = Route(spots, 15)
    assert [bend.radius_mm for bend in route.bends] == pytest.approx([9, 1, 1])


def test_a_point_on_a_straight_leg_takes_no_room():
    spots = (Point(0, 0, 0), Point(18, 0, 0), Point(20, 0, 0), Point(20, 20, 0))
    assert turns_of(Route(spots, 5)) == [pytest.approx((90, 5))]


def test_where_not_even_the_strand_fits_that_is_said():
    """0.5 mm between two right angles leave the axis 0.25 mm: a 1 mm strand would fold."""
    route = Route((Point(0, 0, 0), Point(20, 0, 0), Point(20, Fraction(1, 2), 0), Point(40, Fraction(1, 2), 0)), 5, 1)
    assert [bend.radius_mm for bend in route.bends] == [0, 0]
    assert route.too_short[0] == (
        "At point 2 a leg is too short for a radius of 5 mm: there is room for none. Move the points apart, or let the "
        "strand turn by less."
    )


def test_a_sharp_turn_takes_much_of_its_legs():
    """Turned by 150 degrees, radius 2: each leg gives 2 tan(75 degrees)."""
    route = Route((Point(0, 0, 0), Point(30, 0, 0), Point(30 - 15 * sqrt(3), 15, 0)), 2)
    (corner,) = route.corners
    assert corner.takes_mm == pytest.approx(2 * tan(75 * pi / 180))
    assert route.length_mm == pytest.approx(60 - 4 * tan(75 * pi / 180) + 2 * 150 * pi / 180)
    assert hypot(*route.path()[1]) == pytest.approx(30 - corner.takes_mm)


@pytest.mark.parametrize(
    ("call", "error", "text"),
    [
        (
            lambda: Route((Point(0, 0, 0),), 5),
            OutOfRange,
            "the route is 1 point; it must be 2 points or more. Write where the strand begins and where it ends.",
        ),
        (
            lambda: Route((), 5),
            OutOfRange,
            "the route is 0 points; it must be 2 points or more. Write where the strand begins and where it ends.",
        ),
        (
            lambda: Route((Point(0, 0, 0), Point(3, 0, 0), Point(Fraction(3), 0.0, 0)), 5),
            OutOfRange,
            (
                "the route is such that points 2 and 3 are the same; it must be points that are apart. "
                "Leave one of them out."
            ),
        ),
        (
            lambda: Route((Point(0, 0, 0), Point(9, 0, 0), Point(3, 0, 0)), 5),
            OutOfRange,
            (
                "the route is such that it runs straight back at point 2; it must be a way that turns aside. "
                "Add one more point, beside this one, for it to turn."
            ),
        ),
        (
            lambda: Route(((0, 0, 0), (9, 0, 0)), 5),
            WrongKind,
            (
                "the route is '((0, 0, 0), (9, 0, 0))'; expected a list of points. "
                "Write Point(along, right, up) for each."
            ),
        ),
        (
            lambda: Route((Point(0, 0, 0), Point(9, 0, 0)), -5),
            OutOfRange,
            "radius_mm is -5 mm; it must be 0 mm or more. Write it in mm, such as 5.",
        ),
        (
            lambda: Point("3 mm", 0, 0),
            WrongKind,
            "along_mm is '3 mm'; expected a plain number of mm. Read text with parse_length first.",
        ),
        (
            lambda: Route((Point(0, 0, 0), Point(9, 0, 0)), 5).path(0),
            OutOfRange,
            "step_deg is 0 deg; it must be from 0.1 to 90 deg. Write 10 for a smooth line.",
        ),
    ],
)
def test_what_is_no_route_is_refused(call, error, text):
    with pytest.raises(error, match=f"^{re.escape(text)}$"):
        call()


def test_a_path_is_drawn_in_as_few_steps_as_the_angle_allows():
    """A right angle: one step of 90 degrees, two of 45 or 50, and so on; two places more are the route's ends."""
    route = Route((Point(0, 0, 0), Point(30, 0, 0), Point(30, 0, -20)), 5)
    for step_deg, steps in ((90, 1), (50, 2), (45, 2), (40, 3), (29, 4)):
        assert len(route.path(step_deg)) == steps + 3
    assert route.path() == route.path(10)
    assert len(route.path(0.1)) >= 900
    for step_deg in (0.099, 90.1):
        with pytest.raises(OutOfRange, match=rf"^step_deg is {step_deg:g} deg; it must be from 0\.1 to 90 deg\."):
            route.path(step_deg)


def test_corners_that_are_not_rounded_are_drawn_as_points():
    spots = (Point(0, 0, 0), Point(30, 0, 0), Point(30, 0, -20))
    route = Route(spots, 0)
    assert route == Route(spots, 0, 0)
    assert route.path() == tuple(spot.vector for spot in spots)
    assert (route.length_mm, route.too_short) == (50, ())
    assert turns_of(route) == [pytest.approx((90, 0))]


@pytest.mark.parametrize(("aside", "turns"), [(1e-9, 0), (1e-6, 1)])
def test_float_noise_is_no_corner(aside, turns):
    """Over 10 mm a millionth of a mm is a turn of 1e-7, and a thousandth of that none."""
    route = Route((Point(0, 0, 0), Point(10, 0, 0), Point(20, aside, 0)), 5)
    assert len(route.bends) == turns
    assert route.length_mm == pytest.approx(20)


@pytest.mark.parametrize(("aside", "refused"), [(1e-6, True), (1e-3, False)])
def test_a_route_straight_back_is_refused_but_not_beside_itself(aside, refused):
    spots = (Point(0, 0, 0), Point(10, 0, 0), Point(0, aside, 0))
    if refused:
        with pytest.raises(OutOfRange, match="runs straight back at point 2"):
            Route(spots, 5)
    else:
        assert Route(spots, 5).corners[0].tight


def test_a_corner_with_room_to_the_last_digit_is_not_tight():
    """Legs of 5 mm hold just half an arc of 5 mm at a right angle; a thousandth less does not."""
    for leg, tight in ((5, False), (4.999, True)):
        route = Route((Point(0, 0, 0), Point(leg, 0, 0), Point(leg, 20, 0)), 5)
        assert [corner.tight for corner in route.corners] == [tight]
        assert route.bends[0].radius_mm == pytest.approx(leg)
    said = Route((Point(0, 0, 0), Point(4.5678, 0, 0), Point(4.5678, 20, 0)), 5.4321).too_short
    assert said == ("At point 2 a leg is too short for a radius of 5.43 mm: there is room for 4.57 mm.",)

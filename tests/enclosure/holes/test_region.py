"""The pieces that no hole may enter, of a plate that narrows to a waist: by hand, and as areas by shapely."""

from __future__ import annotations

from itertools import pairwise

import numpy as np
import pytest
from shapely import LineString, Point, Polygon
from shapely.ops import unary_union

from modelmath.enclosure.holes.plate import KeepOut, Plate
from modelmath.enclosure.holes.region import convex_hull, edge_distance, free_points, piece_distances, region_of
from modelmath.errors import OutOfRange

WAISTED = Plate(20, 10, ((0, 10), (5, 8), (10, 10)))


def test_between_a_waist_and_the_hull_lie_triangles_with_a_fourth_corner_halfway_along_their_slope():
    """The hull is upright at 10 mm; the side runs in to 8 mm at half the height. Halfway along: 9 mm, 2.5 or 7.5 up."""
    low = ((10, 0), (10, 5), (8, 5), (9, 2.5))
    high = ((8, 5), (10, 5), (10, 10), (9, 7.5))
    left = [tuple((-across, up) for across, up in reversed(each)) for each in (low, high)]
    assert region_of(WAISTED).pieces == (low, left[0], high, left[1])


@pytest.mark.parametrize(
    "plate",
    [WAISTED, Plate(20, 12, ((0, 10), (5, 10), (5, 8), (7, 8), (7, 10), (12, 10))),
     Plate(24, 15, ((0, 12), (4, 9), (9, 6), (11, 10), (15, 11)))],
)  # fmt: skip
def test_the_pieces_are_what_the_hull_has_more_than_the_plate(plate):
    whole = Polygon(convex_hull(plate.corners))
    pieces = [Polygon(each) for each in region_of(plate).pieces]
    assert all(len(each) == 4 for each in region_of(plate).pieces)
    assert all(each.exterior.is_ccw for each in pieces)
    missing = whole.difference(Polygon(plate.corners))
    assert unary_union(pieces).symmetric_difference(missing).area == pytest.approx(0, abs=1e-9)
    assert sum(each.area for each in pieces) == pytest.approx(missing.area)


@pytest.mark.parametrize(
    ("outline", "corners"),
    [
        (None, ((10, 0), (10, 12), (-10, 12), (-10, 0))),
        (((0, 0), (12, 10)), ((0, 0), (10, 12), (-10, 12))),  # a point below
        (((0, 10), (12, 0)), ((10, 0), (0, 12), (-10, 0))),  # a gable
        (((0, 0), (6, 10), (12, 0)), ((0, 0), (10, 6), (0, 12), (-10, 6))),
        (((0, 10), (0, 10), (12, 8)), ((10, 0), (8, 12), (-8, 12), (-10, 0))),  # a corner told twice
        (
            ((0, 10), (5, 10), (5, 8), (12, 8)),
            ((10, 0), (10, 5), (8, 5), (8, 12), (-8, 12), (-8, 5), (-10, 5), (-10, 0)),
        ),
    ],
)
def test_the_corners_of_a_plate(outline, corners):
    assert Plate(20, 12, outline).corners == corners


@pytest.mark.parametrize(
    ("height", "half"),
    [(0, 10), (3, 10), (5, 8), (6, 8), (9, 7), (12, 6), (12.1, 0), (-0.1, 0), (5.0001, 8), (4.9999, 10)],
)
def test_how_wide_a_plate_is_at_a_height(height, half):
    """10 mm to either side up to a ledge at 5 mm, then 8, and from 6 mm on in by 1 to 3."""
    assert Plate(20, 12, ((0, 10), (5, 10), (5, 8), (6, 8), (12, 6))).half_at(height) == pytest.approx(half)


@pytest.mark.parametrize(
    ("sides", "text"),
    [
        ((3, 3, 0, 5), "keep-out post is from 3.00 to 3.00 mm; it must be more than 0 mm wide. Write its left before"),
        ((3, 4, 5, 5), "keep-out post is from 5.00 to 5.00 mm; it must be more than 0 mm high. Write its bottom"),
        ((3, 4, 5, 4), "keep-out post is from 5.00 to 4.00 mm; it must be more than 0 mm high. Write its bottom"),
        ((float("nan"), 4, 5, 6), "post: left is nan mm; it must be a finite number"),
        ((3, 4, 5, float("inf")), "post: top is inf mm; it must be a finite number"),
    ],
)
def test_a_keep_out_of_no_size_is_refused(sides, text):
    with pytest.raises(OutOfRange, match=f"^{text}"):
        KeepOut("post", *sides)
    assert KeepOut("post", 3, 4, 5, 6).corners == ((3, 5), (4, 5), (4, 6), (3, 6))


@pytest.mark.parametrize(
    ("width", "height", "outline", "text"),
    [
        (20, 0, None, "plate: height is 0.00 mm; it must be above 0 mm"),
        (-1, 12, None, "plate: width is -1.00 mm; it must be above 0 mm"),
        (20, 12, ((1, 10), (12, 8)), "plate: heights of the outline is from 1.00 to 12.00 mm; it must be from 0 to"),
        (20, 12, ((0, 10), (12.1, 8)), "plate: heights of the outline is from 0.00 to 12.10 mm; it must be from 0 to"),
        (20, 12, ((0, 11), (12, 8)), "plate: outline is 22.00 mm wide at most; it must be as wide as the plate, 20.00"),
    ],
)
def test_a_plate_whose_outline_is_another_s_is_refused(width, height, outline, text):
    with pytest.raises(OutOfRange, match=f"^{text}"):
        Plate(width, height, outline)
    assert Plate(20, 12, [[0, 10], [12, 8]]).outline == ((0, 10), (12, 8))


SQUARE = ((0, 0), (2, 0), (2, 2), (0, 2))


@pytest.mark.parametrize(
    ("place", "far", "way"),
    [
        ((3, 1), 1, (1, 0)),
        ((-3, 1), 3, (-1, 0)),
        ((1, 4), 2, (0, 1)),
        ((1, -1), 1, (0, -1)),
        # 3, 4 and 5 off a corner: as far as to the corner, and straight away from it.
        ((5, 6), 5, (0.6, 0.8)),
        ((6, -3), 5, (0.8, -0.6)),
        ((-0.6, -0.8), 1, (-0.6, -0.8)),
        ((2.3, -0.4), 0.5, (0.6, -0.8)),
        ((-3, 6), 5, (-0.6, 0.8)),
        # Inside: to the nearest side, below 0.
        ((1.5, 1), -0.5, (1, 0)),
        ((0.25, 1), -0.25, (-1, 0)),
        ((1, 1.75), -0.25, (0, 1)),
        ((1, 0.5), -0.5, (0, -1)),
        # On a side: 0, and straight out of it.
        ((2, 1), 0, (1, 0)),
        ((0, 0.5), 0, (-1, 0)),
        ((1, 2), 0, (0, 1)),
        ((1.5, 0), 0, (0, -1)),
    ],
)
def test_how_far_outside_a_square_a_place_lies_by_hand(place, far, way):
    distances, ways = piece_distances([SQUARE], np.array([place], dtype=float))
    assert distances == pytest.approx(np.array([[far]]), abs=1e-12)
    assert ways == pytest.approx(np.array([[way]]), abs=1e-12)


CONVEX = (
    SQUARE,
    ((0.1, 0.7), (3.3, 0.2), (4.1, 2.9), (1.2, 3.4)),
    ((-5, -5), (-1, -5), (-2, -4), (-4, -4)),
    ((8, 5), (10, 5), (10, 10), (9, 7.5)),
)


def test_places_beside_many_pieces_are_as_far_off_as_shapely_says():
    """On every corner, halfway and a third along every side, and all round: the distance, and a way of length 1.

    Away along it, a place is as much farther off; back along it by its distance, it lies on the outline.
    """
    sides = [pair for each in CONVEX for pair in pairwise((*each, each[0]))]
    on = [(a + (c - a) * share, b + (d - b) * share) for (a, b), (c, d) in sides for share in (0, 1 / 3, 1 / 2)]
    places = np.array([*on, *((x / 3, z / 3) for x in range(-20, 35, 4) for z in range(-18, 36, 4))])
    distances, ways = piece_distances(CONVEX, places)
    assert distances.shape == (len(CONVEX), len(places))
    assert np.hypot(ways[..., 0], ways[..., 1]) == pytest.approx(np.ones(distances.shape))
    farther, _ = piece_distances(CONVEX, (places + 0.25 * ways[0]))
    assert farther[0][distances[0] > 0] == pytest.approx(distances[0][distances[0] > 0] + 0.25)
    for piece, row, away in zip(CONVEX, distances, ways, strict=True):
        shape = Polygon(piece)
        for place, far, way in zip(places, row, away, strict=True):
            point = Point(place)
            off = shape.exterior.distance(point)
            inside = off > 1e-9 and shape.contains(point)
            assert far == pytest.approx(-off if inside else off, abs=1e-9)
            assert shape.exterior.distance(Point(place - far * way)) == pytest.approx(0, abs=1e-9)


def test_without_pieces_no_place_is_near_any():
    distances, ways = piece_distances([], np.zeros((3, 2)))
    assert (distances.shape, ways.shape) == ((0, 3), (0, 3, 2))


@pytest.mark.parametrize("plate", [WAISTED, Plate(20, 12, ((0, 10), (12, 4))), Plate(8, 9)])
def test_how_far_inside_the_hull_is_what_shapely_says(plate):
    region, hull = region_of(plate), convex_hull(plate.corners)
    places = np.array([(x, z / 2) for x in range(-9, 10, 2) for z in range(1, 20, 3)])
    found = edge_distance(region, places)
    lines = [LineString(pair) for pair in pairwise((*hull, hull[0]))]
    for place, row in zip(places, found, strict=True):
        inside = Polygon(hull).contains(Point(place))
        assert (row > 0).all() == inside
        if inside:
            assert row.min() == pytest.approx(min(line.distance(Point(place)) for line in lines))


@pytest.mark.parametrize(
    ("points", "corners"),
    [
        (((0, 0), (4, 0), (4, 4), (0, 4), (2, 2), (2, 0), (4, 2)), ((0, 0), (4, 0), (4, 4), (0, 4))),
        (((1, 1), (0, 0), (2, 0)), ((0, 0), (2, 0), (1, 1))),
        (((0, 0), (0, 0), (3, 0), (0, 3), (1, 1)), ((0, 0), (3, 0), (0, 3))),
    ],
)
def test_a_hull_leaves_out_what_lies_inside_it_or_on_its_sides(points, corners):
    assert convex_hull(points) == corners


def test_points_for_starts_are_free_of_pieces_and_the_same_every_time():
    """Digits mirrored in bases 2 and 3: a half, a quarter, three quarters; a third, two thirds, a ninth."""
    plain = free_points(region_of(Plate(8, 9)), 3)
    assert plain == pytest.approx(np.array([(0, 3), (-2, 6), (2, 1)]))
    kept = region_of(Plate(8, 9), [KeepOut("post", -4, 1, 0, 4)])
    assert kept.from_edge == (False,)
    points = free_points(kept, 50)
    assert not any(Polygon(kept.pieces[0]).intersects(Point(each)) for each in points)
    assert points[:2] == pytest.approx(np.array([(-2, 6), (2, 1)]))
    assert (points == free_points(kept, 50)).all()
    # All of it kept clear: some that are not free are better than none.
    full = region_of(Plate(8, 9), [KeepOut("plate", -5, 5, -1, 10)])
    assert free_points(full, 3) == pytest.approx(plain)


def test_of_a_region_outline_pieces_come_before_what_is_kept_clear():
    region = region_of(WAISTED, [KeepOut("post", 1, 2, 3, 4)])
    assert region.from_edge == (True,) * 4 + (False,)
    assert region.pieces[4] == ((1, 3), (2, 3), (2, 4), (1, 4))
    assert (region.low, region.high) == ((-10, 0), (10, 10))
    assert region_of(Plate(20, 10)).pieces == ()

"""The pieces that no hole may enter, of a plate that narrows to a waist: by hand, and as areas by shapely."""

from __future__ import annotations

import pytest
from shapely import Polygon
from shapely.ops import unary_union

from modelmath.enclosure.holes.plate import KeepOut, Plate
from modelmath.enclosure.holes.region import convex_hull, region_of
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

"""The pieces that no hole may enter, of a plate that narrows to a waist: by hand, and as areas by shapely."""

from __future__ import annotations

import pytest
from shapely import Polygon
from shapely.ops import unary_union

from modelmath.enclosure.holes.plate import Plate
from modelmath.enclosure.holes.region import convex_hull, region_of

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

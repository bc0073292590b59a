"""The widest spread against published ones: n points as far apart as they can be in the unit square."""

from __future__ import annotations

from fractions import Fraction
from itertools import combinations
from math import hypot, sqrt

import pytest
from shapely import Point, Polygon

from modelmath.enclosure.holes import Hole, KeepOut, Plate, lay_out_holes

# Greatest least distance of n points in the unit square, from memory, as in Croft, Falconer and Guy 1991, Unsolved
# Problems in Geometry, section D1. Proofs: Schaer and Meir 1965, Canadian Mathematical Bulletin 8, 21 (eight points);
# Schaer 1965, Canadian Mathematical Bulletin 8, 273 (nine points).
# Ten: de Groot, Peikert and Würtz 1990, ETH Zürich research report 90-12, to ten places.
DISTANCES = {
    2: sqrt(2),
    3: sqrt(6) - sqrt(2),
    4: 1.0,
    5: sqrt(2) / 2,
    6: sqrt(13) / 6,
    7: 4 - 2 * sqrt(3),
    8: (sqrt(6) - sqrt(2)) / 2,
    9: 0.5,
    10: 0.4212795439,
}


def widest_web(count, side, diameter):
    """The middles lie in a square smaller by a web and a radius at each side: (side - d - 2 w) m = d + w."""
    distance = DISTANCES[count]
    return (distance * (side - diameter) - diameter) / (1 + 2 * distance)


@pytest.mark.parametrize("count", DISTANCES)
@pytest.mark.parametrize(("side", "diameter"), [(20, 1), (12, 1.5)])
def test_equal_holes_in_a_square_reach_the_published_spread(count, side, diameter):
    layout = lay_out_holes([Hole("strand", diameter, count=count)], Plate(side, side), 0, round_mm=0)
    assert layout.least.web_mm == pytest.approx(widest_web(count, side, diameter), abs=1e-6)


@pytest.mark.parametrize("count", DISTANCES)
def test_the_relation_itself_by_packing_circles(count):
    """Circles of diameter d + w in a square of side L - w: radius m / (2 (1 + m)) of the side (from memory)."""
    web = widest_web(count, 20, 1)
    radius = (20 - web) * DISTANCES[count] / (2 * (1 + DISTANCES[count]))
    assert 2 * radius == pytest.approx(1 + web, rel=1e-12)


def test_rounding_costs_what_it_says():
    exact = lay_out_holes([Hole("strand", 1, count=5)], Plate(20, 20), 1, round_mm=0)
    rounded = lay_out_holes([Hole("strand", 1, count=5)], Plate(20, 20), 1)
    assert rounded.rounding_mm == pytest.approx(exact.least.web_mm - rounded.least.web_mm, abs=1e-6)
    assert 0 <= rounded.rounding_mm < 0.01 * sqrt(2)
    for each in rounded.holes:
        assert (round(each.x_mm, 2), round(each.y_mm, 2)) == (each.x_mm, each.y_mm)
    assert rounded.sentences[1] == "Places are rounded to 0.01 mm; that costs less than 0.01 mm of the least web."


def test_places_are_not_rounded_where_a_web_would_be_too_thin():
    """Just as wide as the widest: no room for rounding."""
    web = widest_web(3, 20, 1) - 1e-7
    layout = lay_out_holes([Hole("strand", 1, count=3)], Plate(20, 20), web)
    assert (layout.round_mm, layout.too_thin) == (0, ())
    assert layout.sentences[1] == "The places are not rounded; each mark's own error comes off the webs."


def test_two_unequal_holes_lie_on_the_diagonal():
    """Their middles r1 + w and r2 + w from two corners' sides: sqrt(2) (L - r1 - r2 - 2 w) = r1 + r2 + w."""
    layout = lay_out_holes([Hole("wire", 2), Hole("bundle", 4)], Plate(20, 20), 1, round_mm=0)
    assert layout.least.web_mm == pytest.approx((17 * sqrt(2) - 3) / (1 + 2 * sqrt(2)), abs=1e-6)


def test_circuits_are_kept_apart_and_the_rest_is_as_wide_as_that_leaves():
    """12 mm less 2 holes of 1 mm and 8 mm between them leave 2 mm for both ends."""
    holes = [Hole("lamp", 1, "lamp"), Hole("speaker", 1, "speaker")]
    layout = lay_out_holes(holes, Plate(12, 3), Fraction(1, 2), apart_mm=8, round_mm=0)
    assert abs(layout.holes[0].x_mm - layout.holes[1].x_mm) >= 9 - 1e-6
    assert layout.least.web_mm == pytest.approx(1, abs=1e-6)


def test_a_hole_beside_an_opening_lies_midway():
    """Free to the left of the opening: 6 mm by 10 mm; one hole of 1 mm leaves (6 - 1) / 2."""
    opening = KeepOut("speaker opening", -4, 10, 0, 10)
    layout = lay_out_holes([Hole("wire", 1)], Plate(20, 10), 1, keep_out=[opening], round_mm=0)
    assert layout.least.web_mm == pytest.approx(2.5, abs=1e-6)
    assert layout.holes[0].x_mm == pytest.approx(-7, abs=1e-6)


def test_one_hole_under_a_gable_lies_in_its_inscribed_circle():
    """Triangle of base 12 and height 8, sides 10: radius = 2 area / perimeter = 96 / 32 = 3."""
    plate = Plate(12, 8, ((0, 6), (8, 0)))
    layout = lay_out_holes([Hole("wire", 1)], plate, 1, round_mm=0)
    assert layout.least.web_mm == pytest.approx(2.5, abs=1e-6)
    assert (layout.holes[0].x_mm, layout.holes[0].y_mm) == (pytest.approx(0, abs=1e-5), pytest.approx(3, abs=1e-5))


@pytest.mark.parametrize("way", ["spread", "row"])
def test_a_side_rib_is_kept_clear(way):
    """A wall notched by a rib on each side, curved on top; distances by shapely."""
    outline = ((0, 10), (5, 10), (5, 8), (7, 8), (7, 10), (9, 9.5), (11, 7), (12, 3))
    layout = lay_out_holes([Hole("strand", 1, count=7)], Plate(20, 12, outline), 1, way=way)
    right = [(half, height) for height, half in outline]
    wall = Polygon(right + [(-half, height) for half, height in reversed(right)])
    for each in layout.holes:
        middle = Point(each.x_mm, each.y_mm)
        assert wall.contains(middle)
        assert wall.exterior.distance(middle) - 0.5 >= 1 - 1e-6
    for one, other in combinations(layout.holes, 2):
        assert hypot(one.x_mm - other.x_mm, one.y_mm - other.y_mm) >= 2 - 1e-6

"""Webs one by one: distances from a polygon by shapely, the names of edges, the sentences; by hand."""

from __future__ import annotations

from math import hypot

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import Point, Polygon

from modelmath.enclosure.holes import Hole, KeepOut, PlacedHole, Plate, Wanted
from modelmath.enclosure.holes.webs import (
    TOLERANCE_MM,
    Web,
    all_webs,
    distance_within,
    shown_mm,
    web_between,
    web_to_edge,
    web_to_keep_out,
)
from modelmath.errors import OutOfRange

NOTCHED = ((0.0, 0.0), (9.0, 0.0), (9.0, 6.0), (6.0, 6.0), (4.0, 3.0), (4.0, 7.0), (0.0, 7.0))
POINTS = st.tuples(st.integers(-40, 130), st.integers(-40, 110)).map(
    lambda at: (at[0] / 10 + 0.013, at[1] / 10 + 0.017)
)


@settings(max_examples=150, derandomize=True)
@given(POINTS)
def test_the_distance_from_a_polygon_and_its_direction_are_those_of_shapely(point):
    area, at = Polygon(NOTCHED), Point(point)
    distance, away, out = distance_within(NOTCHED, point)
    sign = 1 if area.contains(at) else -1
    assert distance == pytest.approx(sign * area.exterior.distance(at), abs=1e-9)
    assert hypot(*away) == pytest.approx(1)
    assert hypot(*out) == pytest.approx(1)
    # Back along the direction by the distance lies the outline, whether the point is in or out.
    foot = Point(point[0] - away[0] * distance, point[1] - away[1] * distance)
    assert area.exterior.distance(foot) == pytest.approx(0, abs=1e-9)


@pytest.mark.parametrize(
    ("point", "distance", "away", "out"),
    [
        ((2, 1), 1, (0, 1), (0, -1)),
        ((8, 3), 1, (-1, 0), (1, 0)),
        ((1, 5), 1, (1, 0), (-1, 0)),
        ((2, 6.5), 0.5, (0, -1), (0, 1)),
        ((2, 9), -2, (0, -1), (0, 1)),
        ((12, 2), -3, (-1, 0), (1, 0)),
        ((12, -4), -5, (-0.6, 0.8), (0, -1)),
        ((9, 3), 0, (-1, 0), (1, 0)),
        ((9, 0), 0, (0, 1), (0, -1)),
    ],
)
def test_the_nearest_side_of_a_polygon_by_hand(point, distance, away, out):
    """Off a corner by 3 and 4 it is 5; of two sides as near, the first; on a side, its own direction."""
    found = distance_within(NOTCHED, point)
    assert found[0] == pytest.approx(distance)
    assert found[1] == pytest.approx(away)
    assert found[2] == pytest.approx(out)


GABLE = Plate(20, 14, ((0, 10), (4, 10), (14, 6)))


@pytest.mark.parametrize(
    ("at", "edge"),
    [
        ((0, 1), "lower edge"),
        ((0, 13), "upper edge"),
        ((9, 3), "right edge"),
        ((-9, 3), "left edge"),
        ((7, 9), "right edge"),  # the slope runs up 10 mm and in 4 mm: more of a side than of a roof
        ((-7, 9), "left edge"),
    ],
)
def test_an_edge_is_named_by_the_side_that_it_faces(at, edge):
    assert web_to_edge(PlacedHole(Hole("wire", 1), *at), GABLE, Wanted(1)).second == edge


@pytest.mark.parametrize(("at", "edge"), [((3, 5), "upper edge"), ((-3, 5), "upper edge"), ((-3, 4.9), "upper edge")])
def test_a_flat_slope_is_an_upper_edge_on_either_side(at, edge):
    """It falls 4 mm over 10 mm."""
    roof = Plate(20, 7, ((0, 10), (3, 10), (7, 0)))
    web = web_to_edge(PlacedHole(Hole("wire", 1), *at), roof, Wanted(1))
    assert web.second == edge
    assert web.away[0] * at[0] < 0 > web.away[1]


def test_a_slope_of_half_a_right_angle_is_a_side():
    """Of a plate that is as steep as flat there, the side is named: our choice."""
    plate = Plate(20, 20, ((0, 10), (10, 10), (20, 0)))
    assert web_to_edge(PlacedHole(Hole("wire", 1), 4, 14), plate, Wanted(1)).second == "right edge"
    assert web_to_edge(PlacedHole(Hole("wire", 1), -4, 14), plate, Wanted(1)).second == "left edge"


def test_what_is_wanted_of_each_kind_of_web():
    wanted = Wanted(1, 2, 3)
    one, same, other = (
        PlacedHole(Hole(name, 2, circuit), x, 4) for name, circuit, x in (("a", "l", -5), ("b", "l", 0), ("c", "s", 7))
    )
    found = {(web.first, web.second): web for web in all_webs([one, same, other], Plate(30, 10), wanted)}
    assert (found["a", "b"].web_mm, found["a", "b"].wanted_mm) == (3, 1)
    assert (found["b", "c"].web_mm, found["b", "c"].wanted_mm) == (5, 3)
    assert found["a", "c"].web_mm == 10
    assert (found["a", "lower edge"].web_mm, found["a", "lower edge"].wanted_mm) == (3, 2)
    assert len(found) == 6
    post = web_to_keep_out(one, KeepOut("post", 1, 3, 0, 10), wanted)
    assert (post.web_mm, post.wanted_mm, post.away, post.kind) == (5, 1, (-1, 0), "keep-out")
    inside = web_to_keep_out(one, KeepOut("post", -5.5, 3, 0, 10), wanted)
    assert (inside.web_mm, inside.away) == (-1.5, (-1, 0))


def test_circuits_apart_are_never_nearer_than_any_two_holes():
    assert Wanted(2, apart_mm=1).between("lamp", "speaker") == 2
    assert (Wanted(2).edge, Wanted(2, 0).edge, Wanted(2, 3).edge) == (2, 0, 3)


@pytest.mark.parametrize(
    ("name", "given_mm"), [("web_mm", (-1, 1, 1)), ("edge_mm", (1, -1, 1)), ("apart_mm", (1, 1, -1))]
)
def test_no_web_below_nothing_is_wanted(name, given_mm):
    with pytest.raises(OutOfRange, match=f"^{name} is -1.00 mm; it must be 0 mm or more"):
        Wanted(*given_mm)
    assert Wanted(0, 0, 0).between("a", "b") == 0


def test_the_way_from_one_hole_to_another():
    """3 across and 4 up are 5 mm; two middles in one place part to the right."""
    hole, other = Hole("a", 1), Hole("b", 2)
    web = web_between(PlacedHole(hole, 4, 6), PlacedHole(other, 1, 2), Wanted(1))
    assert (web.web_mm, web.away, web.between) == (3.5, (0.6, 0.8), "a and b")
    on_it = web_between(PlacedHole(hole, 4, 6), PlacedHole(other, 4, 6), Wanted(1))
    assert (on_it.web_mm, on_it.away) == (-1.5, (1, 0))
    assert on_it.remedy == "Move a by 2.50 mm to the right, or take a smaller drill."


def test_the_one_that_lacks_most_comes_first_and_of_those_the_thinner():
    holes = [
        PlacedHole(Hole(name, 1, circuit), x, 5) for name, circuit, x in (("a", "", 0), ("b", "", 2), ("c", "s", 5))
    ]
    webs = all_webs(holes, Plate(40, 10), Wanted(1, apart_mm=2), [KeepOut("post", -3, -1.5, 0, 10)])
    found = [(web.between, web.web_mm, web.short_mm) for web in webs]
    assert found[:4] == [
        ("a and b", 1, 0), ("a and the post", 1, 0), ("b and c", 2, 0), ("b and the post", 3, -2)
    ]  # fmt: skip
    assert [short for *_, short in found] == sorted((short for *_, short in found), reverse=True)


@pytest.mark.parametrize(
    ("web_mm", "text", "remedy"),
    [
        (2, "The web between wire and the post is 2.00 mm; 1.00 mm were wanted.", ""),
        (1, "The web between wire and the post is 1.00 mm; 1.00 mm were wanted.", ""),
        (1 - TOLERANCE_MM / 2, "The web between wire and the post is 1.00 mm; 1.00 mm were wanted.", ""),
        (
            1 - 2 * TOLERANCE_MM,
            "The web between wire and the post is 1.00 mm; 1.00 mm are wanted.",
            "Move wire by 0.01 mm to the left and by 0.01 mm up, or take a smaller drill.",
        ),
        (
            0.003,
            "The web between wire and the post is less than 0.01 mm; 1.00 mm are wanted.",
            "Move wire by 0.60 mm to the left and by 0.80 mm up, or take a smaller drill.",
        ),
        (
            0,
            "The web between wire and the post is 0.00 mm; 1.00 mm are wanted.",
            "Move wire by 0.60 mm to the left and by 0.80 mm up, or take a smaller drill.",
        ),
        (
            -TOLERANCE_MM / 2,
            "The web between wire and the post is 0.00 mm; 1.00 mm are wanted.",
            "Move wire by 0.60 mm to the left and by 0.80 mm up, or take a smaller drill.",
        ),
        (
            -0.25,
            "wire and the post overlap by 0.25 mm; 1.00 mm are wanted between them.",
            "Move wire by 0.75 mm to the left and by 1.00 mm up, or take a smaller drill.",
        ),
    ],
)
def test_a_web_says_how_wide_it_is_and_how_far_to_move(web_mm, text, remedy):
    """The move, 6 parts to the left to 8 up, is rounded up to a hundredth, so that it is enough."""
    for name in ("post", "the post"):
        web = Web("keep-out", "wire", name, web_mm, 1, (-0.6, 0.8))
        assert (web.text, web.too_thin) == (text, bool(remedy))
        assert web.remedy == remedy


def test_a_move_straight_up_or_down_names_no_way_across():
    assert Web("edge", "wire", "upper edge", 0.5, 1, (0.0, -1.0)).remedy.startswith("Move wire by 0.50 mm down, or")
    assert Web("edge", "wire", "left edge", 0.496, 1, (1.0, 0.0)).remedy.startswith(
        "Move wire by 0.51 mm to the right,"
    )


def test_what_is_more_than_nothing_is_never_shown_as_nothing():
    assert [shown_mm(each) for each in (0, TOLERANCE_MM / 2, 0.0049, 0.005001, 0.1, -0.25)] == [
        "0.00 mm", "0.00 mm", "less than 0.01 mm", "0.01 mm", "0.10 mm", "0.25 mm"
    ]  # fmt: skip

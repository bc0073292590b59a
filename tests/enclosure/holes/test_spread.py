"""The search for a spread: its webs against those of a layout, their slopes by differences, and small cases by hand."""

from __future__ import annotations

import re
from math import sqrt

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import Point, Polygon

from modelmath.enclosure.holes import Hole, KeepOut, PlacedHole, Plate, Wanted, lay_out_holes, spread
from modelmath.enclosure.holes.region import convex_hull, edge_distance, free_points, piece_distances, region_of
from modelmath.enclosure.holes.settle import settled
from modelmath.enclosure.holes.spread import Webs, _loose_ones_spread, _starts, spread_places
from modelmath.enclosure.holes.webs import all_webs
from modelmath.errors import DoesNotFit

RIBBED = Plate(20, 12, ((0, 10), (5, 10), (5, 8), (7, 8), (7, 10), (9, 9), (12, 5)))
POST = KeepOut("post", -3, -1, 4, 9)
HOLES = [Hole("bundle", 3, "speaker"), Hole("a", 1, "lamp"), Hole("b", 1, "lamp"), Hole("c", 2)]
WANTED = Wanted(0.5, 0.75, 1.5)
WEBS = Webs(HOLES, region_of(RIBBED, [POST]), WANTED)
PLACES = np.array([[-6.0, 4.1], [0.6, 5.3], [4.2, 2.2], [4.9, 9.4]])


def test_the_webs_of_a_search_are_those_of_the_layout():
    """Of a hole's webs to edges and to what the hull has more than the plate, the least is that to the outline."""
    placed = [PlacedHole(hole, *at) for hole, at in zip(HOLES, PLACES.tolist(), strict=True)]
    values = WEBS.values(PLACES)
    webs = all_webs(placed, RIBBED, WANTED, [POST])
    pairs = {frozenset((web.first, web.second)): web for web in webs if web.kind == "hole"}
    assert len(WEBS.one) == len(pairs) == 6
    for number, (one, other) in enumerate(zip(WEBS.one, WEBS.other, strict=True)):
        web = pairs[frozenset((HOLES[one].name, HOLES[other].name))]
        assert (values[number], WEBS.wanted[number]) == (pytest.approx(web.web_mm), web.wanted_mm)
    for number, hole in enumerate(HOLES):
        mine = WEBS.of([number])
        mine[: len(WEBS.one)] = False
        edge = next(web for web in webs if web.kind == "edge" and web.first == hole.name)
        post = next(web for web in webs if web.kind == "keep-out" and web.first == hole.name)
        to_edges = values[mine & (WEBS.wanted == 0.75)]
        to_posts = values[mine & (WEBS.wanted == 0.5)]
        assert (to_edges.min(), to_posts.tolist()) == (pytest.approx(edge.web_mm), [pytest.approx(post.web_mm)])
    assert WEBS.margin(PLACES) == pytest.approx(min(web.web_mm - web.wanted_mm for web in webs))


def test_the_slopes_of_webs_are_their_differences():
    slopes, step = WEBS.slopes(PLACES), 1e-6
    for column in range(PLACES.size):
        moved = np.zeros(PLACES.size)
        moved[column] = step
        moved = moved.reshape(PLACES.shape)
        change = (WEBS.values(PLACES + moved) - WEBS.values(PLACES - moved)) / (2 * step)
        assert slopes[:, column] == pytest.approx(change, abs=1e-6)


def test_two_middles_in_one_place_are_parted_across():
    webs = Webs([Hole("a", 1), Hole("b", 1)], region_of(Plate(10, 8)), Wanted(1))
    assert webs.slopes(np.array([[1.0, 4.0], [1.0, 4.0]]))[0].tolist() == [1, 0, -1, 0]
    assert webs.values(np.array([[1.0, 4.0], [1.0, 4.0]]))[0] == -1


def test_which_webs_change_when_a_hole_moves():
    changed = WEBS.values(PLACES + np.array([[0.013, 0.02]] + [[0, 0]] * 3)) != WEBS.values(PLACES)
    assert WEBS.of([0]).tolist() == changed.tolist()
    assert WEBS.of([]).any() == False  # noqa: E712 (numpy's own)
    assert WEBS.of([0, 1, 2, 3]).all()


def test_holes_of_other_sizes_or_circuits_may_change_places():
    alike = [Hole("a", 1, "lamp"), Hole("b", 1, "lamp"), Hole("c", 1), Hole("d", 2, "lamp")]
    webs = Webs(alike, region_of(Plate(10, 8)), Wanted(1))
    assert webs.unlike == [(0, 2), (0, 3), (1, 2), (1, 3), (2, 3)]


def test_the_room_of_a_hole_is_its_share_of_the_box_round_the_plate():
    assert WEBS.room_mm == sqrt(20 * 12 / 4)


@settings(max_examples=60, derandomize=True)
@given(st.lists(st.tuples(st.integers(-130, 130), st.integers(-20, 140)), min_size=1, max_size=4))
def test_distances_from_pieces_and_edges_are_those_of_shapely(points):
    region = region_of(RIBBED, [POST])
    places = np.array(points) / 10 + 0.0123
    distances, away = piece_distances(region.pieces, places)
    hull = Polygon(convex_hull(RIBBED.corners))
    edges = edge_distance(region, places).min(axis=1)
    for number, place in enumerate(places):
        at = Point(place)
        if hull.contains(at):
            assert edges[number] == pytest.approx(hull.exterior.distance(at))
        else:
            assert edges[number] <= 0
        for piece, distance, way in zip(region.pieces, distances[:, number], away[:, number], strict=True):
            shape = Polygon(piece)
            sign = -1 if shape.contains(at) else 1
            assert distance == pytest.approx(sign * shape.exterior.distance(at))
            assert np.hypot(*way) == pytest.approx(1)
            assert shape.exterior.distance(Point(place - way * distance)) == pytest.approx(0, abs=1e-9)


def test_the_points_to_start_from_are_free_and_spread_evenly():
    region = region_of(RIBBED, [POST])
    points = free_points(region, 300)
    assert points.shape == (300, 2)
    wall, post = Polygon(RIBBED.corners), Polygon(POST.corners)
    free = wall.difference(post)
    assert all(free.contains(Point(each)) for each in points)
    # In each quarter of the plate lies the share of the points that it has of the area, within a few of 300.
    for left in (-10, 0):
        quarter = free.intersection(Polygon([(left, 0), (left + 10, 0), (left + 10, 6), (left, 6)]))
        inside = ((points >= [left, 0]) & (points < [left + 10, 6])).all(axis=1).sum()
        assert inside == pytest.approx(300 * quarter.area / free.area, abs=6)
    assert (free_points(region, 300) == points).all()
    # Halton's first points in bases 2 and 3 (from memory): 1/2, 1/4, 3/4, 1/8, 5/8 and 1/3, 2/3, 1/9, 4/9, 7/9.
    assert free_points(region_of(Plate(16, 9)), 5).tolist() == [
        pytest.approx(each) for each in ([0, 3], [-4, 6], [4, 1], [-6, 4], [2, 7])
    ]


def test_where_nothing_is_free_points_are_given_all_the_same():
    region = region_of(Plate(16, 9), [KeepOut("all", -9, 9, -1, 10)])
    assert free_points(region, 2).tolist() == [pytest.approx(each) for each in ([0, 3], [-4, 6])]


def test_few_free_points_are_repeated():
    """Of 3000 points about 3000 x 0.25 / 144 lie in half a millimetre."""
    region = region_of(Plate(16, 9), [KeepOut("a", -9, 7.5, -1, 10), KeepOut("b", 7, 9, 0.5, 10)])
    points = free_points(region, 100)
    assert len(points) == 100
    assert 2 <= len({tuple(each) for each in points.tolist()}) < 12


def test_pushes_part_holes_that_lie_in_a_heap():
    """Two of 1 mm in 20 by 8 mm: up to (20 - 2) / 3 = 6 mm of web at the most; the rough push gets most of that."""
    webs = Webs([Hole("a", 1), Hole("b", 1)], region_of(Plate(20, 4)), Wanted(0))
    (place,) = settled(webs, 0 * webs.wanted, np.array([[[0.0, 2.0], [0.1, 2.1]]]))
    assert webs.margin(place) > 1.4  # half of 4 - 1 mm is the most
    assert abs(place[0][0] - place[1][0]) > 2.4


def test_pushes_to_even_margins_leave_more_where_more_is_wanted():
    """In a lane of 6 mm with 3 mm wanted to an edge and 1 mm to the post, a hole of 1 mm: 0.5 mm more than wanted."""
    lane = KeepOut("post", -4, 10, 0, 20)
    webs = Webs([Hole("a", 1)], region_of(Plate(20, 20), [lane]), Wanted(1, 3))
    ((place,),) = settled(webs, webs.wanted, np.array([[[-8.0, 9.0]]]))
    assert place[0] == pytest.approx(-10 + 3 + 0.5 + 0.5, abs=0.1)
    ((even,),) = settled(webs, 0 * webs.wanted, np.array([[[-8.0, 9.0]]]))
    assert even[0] == pytest.approx(-7, abs=0.1)


LANE = [KeepOut("post", 0, 4, 0, 30)]


@pytest.mark.parametrize(("edge", "across"), [(1, -2), (2, -1.5), (2.3, -1.2)])
def test_the_least_web_is_as_wide_as_what_is_wanted_elsewhere_lets_it(edge, across):
    """A lane of 4 mm, a hole of 1: midway both webs are 1.5 mm; where an edge asks for more, the post gets the rest."""
    placed, margin = spread_places([Hole("wire", 1)], Plate(8, 30), Wanted(0.5, edge), LANE)
    assert placed[0].x_mm == pytest.approx(across, abs=1e-5)
    assert margin >= -1e-6


def test_where_it_does_not_fit_the_layout_that_lacks_least_is_told():
    """In the lane 3 mm are left for two webs, and 3 mm and 1 mm are wanted: 0.5 mm is lacking at both."""
    text = (
        "wire does not fit: 0.50 mm too little, because at best the webs between wire and the left edge, wire and the "
        "post are that much too thin. It fits with webs of 0.50 mm, 2.50 mm to the edges, or take fewer or smaller "
        "holes. Without the post it fits as it is."
    )
    with pytest.raises(DoesNotFit) as caught:
        lay_out_holes([Hole("wire", 1)], Plate(8, 30), 1, 3, LANE)
    assert sorted(re.findall(r"wire and the \w+", str(caught.value))) == ["wire and the left", "wire and the post"]
    assert (
        str(caught.value).replace(
            "wire and the post, wire and the left edge", "wire and the left edge, wire and the post"
        )
        == text
    )


def test_left_and_right_changed_the_same_layout_comes_out_turned():
    post = KeepOut("post", 1, 3, 2, 5)
    turned = KeepOut("post", -3, -1, 2, 5)
    one, _ = spread_places([Hole("a", 1), Hole("b", 2)], Plate(12, 8), Wanted(0.5), [post])
    other, _ = spread_places([Hole("a", 1), Hole("b", 2)], Plate(12, 8), Wanted(0.5), [turned])
    assert [(-each.x_mm, each.y_mm) for each in one] == [(each.x_mm, each.y_mm) for each in other]


def test_each_hole_keeps_its_own_place_in_the_list():
    holes = [Hole("strand", 1), Hole("bundle", 4), Hole("wire", 2)]
    placed, margin = spread_places(holes, Plate(30, 8), Wanted(0.5))
    assert [each.hole for each in placed] == holes
    assert margin == pytest.approx(min(web.web_mm for web in all_webs(placed, Plate(30, 8), Wanted(0.5))) - 0.5)


@pytest.mark.parametrize("wanted", [0.5, 1.0])
def test_a_loose_hole_lies_as_far_from_everything_as_it_can(wanted):
    """Only left of the post is there room for the bundle, with 1 mm round it. Right of it the wire has 6 mm for 1.5."""
    post = KeepOut("post", 0, 4, 0, 10)
    placed, _ = spread_places([Hole("wire", 1.5), Hole("bundle", 8)], Plate(20, 10), Wanted(wanted), [post])
    webs = all_webs(placed, Plate(20, 10), Wanted(wanted), [post])
    assert min(web.web_mm for web in webs) == pytest.approx(1, abs=1e-6)
    assert min(web.web_mm for web in webs if "wire" in (web.first, web.second)) == pytest.approx(2.25, abs=1e-6)


def test_a_loose_hole_is_moved_to_the_middle_of_its_room_and_the_rest_stays():
    """The bundle has 1 mm all round it; the wire, 1.5 mm, lies off the middle of a room of 6 by 10 mm."""
    post = KeepOut("post", 0, 4, 0, 10)
    webs = Webs([Hole("bundle", 8), Hole("wire", 1.5)], region_of(Plate(20, 10), [post]), Wanted(0.5))
    bundle, wire = _loose_ones_spread(webs, np.array([[-5.0, 5.0], [6.0, 2.5]])).tolist()
    assert bundle == [-5, 5]
    assert wire[0] == pytest.approx(7, abs=1e-4)
    assert 3 - 1e-4 <= wire[1] <= 7 + 1e-4


def test_the_last_push_is_short():
    """It moves the hole that is pushed hardest by about 0.004 of the room that a hole has."""
    webs = Webs([Hole("a", 1), Hole("b", 1)], region_of(Plate(20, 4)), Wanted(0))
    start = np.array([[[0.0, 2.0], [1.5, 2.1]]])
    (moved,) = settled(webs, 0 * webs.wanted, start, 1) - start
    assert np.hypot(*moved.T).max() == pytest.approx(0.004 * webs.room_mm, rel=0.05)


def test_where_other_webs_are_wanted_it_starts_from_even_margins_and_from_even_webs():
    """Circuits kept apart: the same starts pushed apart to either."""
    pair = [Hole("a", 1, "lamp"), Hole("b", 1, "speaker")]
    plain, apart = (_starts(Webs(pair, region_of(Plate(20, 12)), Wanted(1, apart_mm=apart))) for apart in (1, 6))
    assert len(apart) == 2 * len(plain)
    for even, webs in zip(apart[len(plain) :], plain, strict=True):
        assert even.shape == webs.shape == (2, 2)
    margins = Webs(pair, region_of(Plate(20, 12)), Wanted(1, apart_mm=6))
    # Pushed to even margins they lie further apart than pushed to even webs.
    assert max(margins.margin(each) for each in apart[: len(plain)]) > max(
        margins.margin(each) for each in apart[len(plain) :]
    )


@pytest.mark.parametrize(("count", "changes"), [(1, True), (2, True), (12, True), (13, False)])
def test_up_to_a_dozen_holes_are_let_change_places(monkeypatch, count, changes):
    """Of more it would take too long: our choice."""
    asked = []

    def exchanged(webs, places, goal):
        asked.append(goal)
        return places

    monkeypatch.setattr(spread, "_exchanged", exchanged)
    webs = Webs([Hole(f"hole {number}", 1) for number in range(count)], region_of(Plate(60, 40)), Wanted(1))
    start = free_points(webs.region, count)
    best = spread._best_of(webs, [start], "web")
    assert asked == (["web"] if changes else [])
    assert webs.values(best).min() >= webs.values(start).min()


@pytest.mark.parametrize(
    ("rank", "than", "better"),
    [
        ((0, 5), (1, 0), True),  # less is lacking
        ((1, 0), (0, 5), False),
        ((0, 1), (0, 2), True),  # as little is lacking, and the goal is reached better
        ((0, 2), (0, 1), False),
        ((0, 1), (0, 1), False),
        ((spread.SAME_MM, 1), (0, 2), True),  # what differs by no more is the same
        ((0, 2), (spread.SAME_MM, 1), False),
        ((2 * spread.SAME_MM, 1), (0, 2), False),
        ((0, 2), (2 * spread.SAME_MM, 1), True),
        ((0, 1 - spread.SAME_MM / 2), (0, 1), False),
        ((0, 1 - 2 * spread.SAME_MM), (0, 1), True),
    ],
)
def test_which_of_two_layouts_is_better(rank, than, better):
    assert spread._better(rank, than) == better

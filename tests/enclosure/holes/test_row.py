"""Holes in a row: what is free on its line by shapely, places and messages by hand."""

from __future__ import annotations

import re
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import LineString, Point, Polygon, box

from modelmath.enclosure.holes import Hole, KeepOut, Plate, Wanted, lay_out_holes
from modelmath.enclosure.holes.row import Line, near_side, row_places
from modelmath.enclosure.holes.webs import all_webs
from modelmath.errors import DoesNotFit

PLATE = Plate(20, 12)
WAISTED = Plate(24, 12, ((0, 12), (4, 7), (5, 7), (5, 9), (9, 11), (12, 3)))
tenths = st.integers(-60, 60).map(lambda each: each / 10)
TRIES = settings(max_examples=60, derandomize=True)


@TRIES
@given(st.tuples(tenths, tenths), st.tuples(tenths, tenths), st.integers(1, 40), tenths)
def test_what_lies_near_a_side_is_what_shapely_cuts_from_its_surroundings(start, end, reach, height):
    """Shapely's half circles have corners, so that its span is a little shorter."""
    if start == end:
        return
    around = LineString([start, end]).buffer(reach / 10, quad_segs=400)
    cut = around.intersection(LineString([(-30, height), (30, height)]))
    found = list(near_side(start, end, reach / 10, height))
    if cut.length < 0.1:
        assert sum(high - low for low, high in found) < 0.2
    else:
        ((low, high),) = found
        assert (low, high) == (pytest.approx(cut.bounds[0], abs=2e-3), pytest.approx(cut.bounds[2], abs=2e-3))


def test_a_side_is_near_by_hand():
    """A side from (0, 0) to (3, 4), 2.5 mm about it: its borders are 2.5 x 5 / 4 = 3.125 mm across to either side."""
    assert list(near_side((0, 0), (3, 4), 2.5, 2)) == [(pytest.approx(1.5 - 3.125), pytest.approx(1.5 + 3.125))]
    assert list(near_side((0, 0), (3, 4), 2.5, 6.5)) == []
    assert list(near_side((0, 0), (3, 4), 2.5, -2.5)) == []
    # 1.5 mm over its end a circle of 2.5 mm is 2 mm wide to either side.
    assert list(near_side((0, 0), (0, 4), 2.5, 5.5)) == [(-2, 2)]
    assert list(near_side((1, 3), (7, 3), 1, 3)) == [(0, 8)]
    assert list(near_side((1, 3), (7, 3), 1, 4)) == []


POSTS = (KeepOut("post", -4, -2, 3, 8), KeepOut("rib", 2, 3, 6, 12), KeepOut("clip", 5, 8, 0, 2))


@pytest.mark.parametrize("height", [0.7, 1.3, 2.2, 3.4, 4.5, 5.5, 7.3, 8.6, 10.4])
@pytest.mark.parametrize("radius", [0.25, 0.6, 1.1])
@pytest.mark.parametrize("plate", [PLATE, WAISTED])
def test_where_a_hole_may_lie_on_a_line_is_where_shapely_finds_its_webs_wide_enough(plate, height, radius):
    wanted = Wanted(0.4, 0.5)
    right = [(half, up) for up, half in plate.side]
    wall = Polygon(right + [(-half, up) for half, up in reversed(right)])
    spans = Line(plate, wanted, POSTS, height).free(radius, 0.0)
    assert spans == sorted(spans)
    for step in range(-600, 601):
        across = step / 50 + 0.0037
        at = Point(across, height)
        slack = [wall.exterior.distance(at) - radius - 0.5 if wall.contains(at) else -1.0]
        slack += [box(each.left, each.bottom, each.right, each.top).distance(at) - radius - 0.4 for each in POSTS]
        if abs(min(slack)) > 1e-6:
            assert any(low <= across <= high for low, high in spans) == (min(slack) > 0)


def test_the_web_along_the_line_counts_to_the_ends_of_each_stretch():
    """Stretches from -10 to -4 and from -2 to 10 mm at 5 mm of height: 1 mm of radius and 1.5 mm of web."""
    line = Line(PLATE, Wanted(0), POSTS[:1], 5)
    assert line.crossed == POSTS[:1]
    assert line.stretches == [(-10, -4), (-2, 10)]
    assert line.free(1, 1.5) == [(-7.5, -6.5), (0.5, 7.5)]
    assert line.free(1, 1.5, (-2, 10)) == [(0.5, 7.5)]
    assert line.free(1, 2) == [(-7, -7), (1, 7)]
    assert line.free(1, 2.1) == [(pytest.approx(1.1), pytest.approx(6.9))]


def test_a_line_along_the_edge_of_a_keep_out_does_not_cross_it():
    assert Line(PLATE, Wanted(0), POSTS, 8).crossed == POSTS[1:2]
    assert Line(PLATE, Wanted(0), POSTS, 2).crossed == ()
    assert Line(PLATE, Wanted(0), POSTS, 3).stretches == [(-10, 10)]


def test_keep_outs_that_overlap_or_reach_beyond_the_plate_part_it_once():
    wide = (
        KeepOut("a", -15, -8, 0, 12),
        KeepOut("b", -1, 4, 0, 12),
        KeepOut("c", 0, 2, 0, 12),
        KeepOut("d", 3, 5, 0, 12),
    )
    assert Line(PLATE, Wanted(0), wide, 6).stretches == [(-8, -1), (5, 10)]
    assert Line(PLATE, Wanted(0), (*wide, KeepOut("e", 9, 15, 0, 12)), 6).stretches == [(-8, -1), (5, 9)]
    assert Line(PLATE, Wanted(0), (KeepOut("all", -10, 10, 0, 12),), 6).stretches == []


def test_webs_in_a_row_are_even_between_unlike_holes():
    """20 mm less 1, 3 and 2 mm leave 14 mm for 4 webs."""
    holes = [Hole("a", 1), Hole("b", 3), Hole("c", 2)]
    placed = row_places(holes, PLATE, Wanted(1), row_height_mm=6)
    assert [each.x_mm for each in placed] == [pytest.approx(each) for each in (-6, -0.5, 5.5)]
    assert [each.name for each in placed] == ["a", "b", "c"]
    assert {each.y_mm for each in placed} == {6}


def test_circuits_lie_in_the_order_given_but_together():
    holes = [Hole("a", 1, "lamp"), Hole("b", 1, "speaker"), Hole("c", 1, "lamp")]
    placed = row_places(holes, PLATE, Wanted(1, apart_mm=3), row_height_mm=6)
    across = {each.name: each.x_mm for each in placed}
    assert [each.name for each in placed] == ["a", "b", "c"]
    assert sorted(across, key=across.__getitem__) == ["a", "c", "b"]
    # 17 mm are left for 4 webs, of 4.25 mm each: more than is wanted between circuits.
    assert sorted(across.values()) == [pytest.approx(each, abs=1e-6) for each in (-5.25, 0, 5.25)]


def test_where_a_post_parts_the_row_circuits_change_places_to_go_in():
    """5 mm of stretch to the left hold only the hole of 2 mm with 1.5 mm of web, and 9 mm to the right the one of 5."""
    holes = [Hole("bundle", 5, "speaker"), Hole("wire", 2, "lamp")]
    post = [KeepOut("post", -5, 1, 0, 12)]
    placed = row_places(holes, PLATE, Wanted(1.5), post, 6)
    assert [each.x_mm for each in placed] == [pytest.approx(each) for each in (5.5, -7.5)]


def test_the_lowest_web_counts_when_the_height_is_chosen():
    """Under a roof that slopes from 8 mm up, of a plate 12 mm high: a row of one hole lies where it is widest clear."""
    plate = Plate(12, 8, ((0, 6), (8, 0)))
    (placed,) = row_places([Hole("wire", 1)], plate, Wanted(0.5))
    assert (placed.x_mm, placed.y_mm) == (pytest.approx(0, abs=1e-6), 3)  # the inscribed circle's middle is at 3 mm


def test_of_heights_with_the_same_webs_the_one_nearest_to_the_middle_is_taken():
    """Six holes of 1 mm in 20 mm leave 2 mm for each of 7 webs, above and below from 2.5 mm of height on."""
    placed = row_places([Hole("strand", 1)] * 1 + [Hole(f"strand {n}", 1) for n in range(5)], PLATE, Wanted(1))
    assert {each.y_mm for each in placed} == {6}
    assert [later.x_mm - one.x_mm for one, later in pairwise(placed)] == [pytest.approx(3)] * 5


def test_a_row_keeps_off_what_it_passes_beside():
    """A clip under the row, 1 mm below its line, leaves a hole of 1 mm no place within 0.5 + 1 mm of it: it goes round.

    Off the clip's upper corner, 1 mm down, that is 1.118 mm across: from 3.882 to 9.118 mm no middle may lie.
    """
    clip = KeepOut("clip", 5, 8, 0, 5)
    holes = [Hole(f"wire {number}", 1) for number in range(6)]
    placed = row_places(holes, PLATE, Wanted(1), [clip], 6)
    webs = all_webs(placed, PLATE, Wanted(1), [clip])
    assert not any(web.too_thin for web in webs)
    assert not any(5 - 1.118 + 1e-3 < each.x_mm < 8 + 1.118 - 1e-3 for each in placed)


def refused(text):
    return pytest.raises(DoesNotFit, match=f"^{re.escape(text)}$")


def test_a_hole_too_large_for_both_stretches():
    """9 mm on either side of the post; a hole of 8 mm and two webs of 1 mm take 10, so that each web lacks 0.5 mm."""
    text = (
        "wire at 6.00 mm does not fit: 0.50 mm too little, because the web between wire and the {} is 0.50 mm; 1.00 mm "
        "are wanted. Choose another height, a thinner web or a smaller drill."
    )
    with pytest.raises(DoesNotFit) as caught:
        row_places([Hole("wire", 8)], PLATE, Wanted(1), [KeepOut("post", -1, 1, 0, 12)], 6)
    assert str(caught.value) in (text.format("left edge"), text.format("right edge"), text.format("post"))
    assert caught.value.short_mm == pytest.approx(0.5)


def test_a_hole_under_a_slope_lacks_least_where_there_is_most_room():
    """Beside a post that reaches from the left edge to 2 mm: 8 mm are free, and a hole of 7 mm lacks 0.5 mm a side."""
    with pytest.raises(DoesNotFit) as caught:
        row_places([Hole("wire", 7)], PLATE, Wanted(1), [KeepOut("post", -10, 2, 0, 12)], 6)
    assert caught.value.short_mm == pytest.approx(0.5)


@pytest.mark.parametrize(
    ("height", "keep_out", "short"),
    [
        (13, (), 1 + 0.5 + 1),  # 1 mm over the plate
        (6, (KeepOut("opening", -10, 10, 2, 11),), 4 + 0.5 + 1),  # 4 mm under its lower side
    ],
)
def test_a_line_on_which_nothing_is_free(height, keep_out, short):
    """How deep the middle lies in what it must keep out of, and its radius and web."""
    with pytest.raises(DoesNotFit) as caught:
        row_places([Hole("wire", 1)], PLATE, Wanted(1), keep_out, height)
    assert caught.value.short_mm == pytest.approx(short)


def test_the_largest_hole_is_named_where_it_has_no_place():
    text = (
        "A row of 2 at 2.00 mm does not fit: 1.00 mm too little, because the web between bundle and the lower edge is "
        "0.00 mm; 1.00 mm are wanted. Choose another height, a thinner web or a smaller drill."
    )
    with refused(text):
        row_places([Hole("strand", 1), Hole("bundle", 4)], PLATE, Wanted(1), (), 2)


def test_a_row_of_unlike_holes_that_is_too_long():
    """4 + 1 + 1 mm of holes and 4 webs of 4 mm take 22 mm; webs of 3.5 mm would do."""
    text = (
        "A row of 3 at 6.00 mm does not fit: 2.00 mm too little, because holes and webs take 22.00 mm of the 20.00 mm "
        "free at that height. Take webs of at most 3.50 mm, or spread them over the plate."
    )
    holes = [Hole("bundle", 4), Hole("strand", 1), Hole("wire", 1)]
    for each in (holes, holes[::-1], [holes[1], holes[0], holes[2]]):
        with refused(text):
            row_places(each, PLATE, Wanted(4, 4), (), 6)


def test_circuits_kept_apart_make_a_row_longer():
    """4 holes of 1 mm, 2 webs of 1 mm at the ends, 2 within circuits, and 14 mm between these take 22 mm.

    Webs of 14 - 2 = 12 mm between the circuits would do, and then those of 1 mm stay.
    """
    holes = [Hole(name, 1, circuit) for name, circuit in (("a", "l"), ("b", "l"), ("c", "s"), ("d", "s"))]
    text = (
        "A row of 4 at 6.00 mm does not fit: 2.00 mm too little, because holes and webs take 22.00 mm of the 20.00 mm "
        "free at that height. Take webs of at most 12.00 mm, or spread them over the plate."
    )
    with refused(text):
        row_places(holes, PLATE, Wanted(1, 1, 14), (), 6)
    assert row_places(holes, PLATE, Wanted(1, 1, 12), (), 6)


def test_holes_that_do_not_fit_even_without_webs():
    text = (
        "A row of 7 at 6.00 mm does not fit: 2.60 mm too little, because holes and webs take 22.60 mm of the 20.00 mm "
        "free at that height. Not even without webs would it fit: take smaller or fewer holes, or spread them."
    )
    with refused(text):
        row_places([Hole(f"bundle {number}", 3) for number in range(7)], PLATE, Wanted(0.2), (), 6)


def test_a_row_that_is_too_long_before_its_last_hole():
    """Left of the post 14 mm: three holes of 4 mm and webs of 1 mm take 16; the strand has a place right of it.

    Webs of 0.5 mm would do: 3 x 4 and 4 of them.
    """
    holes = [*(Hole(f"bundle {number}", 4) for number in range(3)), Hole("strand", 1)]
    text = (
        "A row of 4 at 6.00 mm does not fit: 2.00 mm too little, because holes and webs take 20.00 mm of the 18.00 mm "
        "free at that height, parted by post. Take webs of at most 0.50 mm, or spread them over the plate."
    )
    with refused(text):
        row_places(holes, PLATE, Wanted(1), [KeepOut("post", 4, 6, 0, 12)], 6)


def test_under_a_slope_each_hole_counts_with_its_own_last_place():
    """At 6 mm of a triangle of 16 by 8 mm the sides, 1 to 1, are 2 mm off the middle.

    There a hole of 1.6 mm can be moved by 2 - 0.8 x sqrt(2) mm to either side, one of 0.2 mm by 2 - 0.1 x sqrt(2).
    After two of 0.2 mm, with webs of 1.2 mm between all, the larger would lie 3.5 mm right of the first one's first
    place.
    """
    holes = [Hole("a", 0.2), Hole("b", 0.2), Hole("bundle", 1.6)]
    with pytest.raises(DoesNotFit) as caught:
        row_places(holes, Plate(16, 8, ((0, 8), (8, 0))), Wanted(1.2, 0), (), 6)
    assert caught.value.short_mm == pytest.approx(3.5 - (2 - 0.1 * 2**0.5) - (2 - 0.8 * 2**0.5))


def test_a_row_is_rounded_along_its_line_alone():
    layout = lay_out_holes([Hole("strand", 1, count=2)], PLATE, 1, way="row", row_height_mm=5.123)
    assert {each.y_mm for each in layout.holes} == {5.123}
    assert all(abs(abs(each.x_mm) - 3.5) < 0.011 and round(each.x_mm, 2) == each.x_mm for each in layout.holes)


def test_at_no_height_is_there_a_place():
    """A hole of 9 mm in 8 mm of height lacks 1.5 mm, half of 3, on both sides at mid-height."""
    with pytest.raises(DoesNotFit) as caught:
        row_places([Hole("bundle", 9)], Plate(30, 8), Wanted(1))
    assert (caught.value.short_mm, caught.value.what) == (pytest.approx(1.5), "bundle at 4.00 mm")


def test_a_row_that_is_too_long_at_every_height_is_said_to_be_so():
    """7 mm of holes and three webs of 0.5 mm in a plate of 5 mm: not that beside the post there is no place at all."""
    holes = [Hole("a", 3.5), Hole("b", 3.5)]
    with pytest.raises(DoesNotFit) as caught:
        row_places(holes, Plate(5, 12), Wanted(0.5), [KeepOut("post", -1, 0, 0, 7)])
    assert caught.value.short_mm == pytest.approx(3.5, abs=1e-5)
    assert "holes and webs take 8.50 mm of the 5.00 mm free at that height. Not even without webs" in str(caught.value)

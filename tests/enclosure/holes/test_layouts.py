"""Properties of layouts: they pass their own check, keep clear by shapely, and do not depend on left and right."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import LineString, Point, Polygon, box

from modelmath.enclosure.holes import (
    Hole,
    KeepOut,
    Layout,
    PlacedHole,
    Plate,
    Wanted,
    check_holes,
    lay_out_holes,
    move_hole,
)
from modelmath.enclosure.holes.webs import all_webs
from modelmath.errors import DoesNotFit

QUICK = settings(max_examples=25, derandomize=True)
FEWER = settings(max_examples=6, derandomize=True)
tenths = st.integers(3, 25).map(lambda value: value / 10)
hole_lists = st.lists(st.builds(Hole, st.just("hole"), tenths, st.sampled_from(["", "lamp"])), min_size=1, max_size=5)


@st.composite
def plates(draw):
    """A rectangle, or a wall of three to five corners a side, not always convex."""
    width, height = draw(st.integers(8, 30)), draw(st.integers(6, 20))
    if draw(st.booleans()):
        return Plate(width, height)
    between = sorted(draw(st.lists(st.integers(1, height - 1), min_size=1, max_size=3)))
    halves = [draw(st.integers(width // 4, width // 2)) for _ in range(len(between) + 1)]
    return Plate(width, height, ((0, width / 2), *zip([*between, height], halves, strict=True)))


@st.composite
def keep_outs(draw):
    left, bottom = draw(st.integers(-12, 10)), draw(st.integers(-1, 14))
    return KeepOut("post", left, left + draw(st.integers(1, 4)), bottom, bottom + draw(st.integers(1, 8)))


def shape(plate):
    right = [(half, height) for height, half in plate.side]
    return Polygon(right + [(-half, height) for half, height in reversed(right)]).buffer(0)


def by_shapely(holes, plate, keep_out):
    """The webs of holes that lie inside the plate and outside the keep-outs, by kind."""
    outline, found = shape(plate).boundary, []
    for number, one in enumerate(holes):
        middle = Point(one.x_mm, one.y_mm)
        found.append(("edge", outline.distance(middle) - one.radius_mm))
        for each in keep_out:
            rectangle = box(each.left, each.bottom, each.right, each.top)
            found.append(("keep-out", rectangle.distance(middle) - one.radius_mm))
        others = ((middle.distance(Point(each.x_mm, each.y_mm)), each) for each in holes[:number])
        found.extend(("hole", distance - one.radius_mm - each.radius_mm) for distance, each in others)
    return sorted(found)


@FEWER
@given(hole_lists, plates(), st.lists(keep_outs(), max_size=2), st.sampled_from(["spread", "row"]))
def test_a_layout_passes_its_own_check_and_shapely_agrees(holes, plate, keep_out, way):
    try:
        layout = lay_out_holes(holes, plate, 0.4, 0.5, keep_out, 0.8, way)
    except DoesNotFit:
        return
    assert check_holes(layout) == ()
    assert check_holes(layout.holes, plate, 0.4, 0.5, keep_out, 0.8) == ()
    assert all(shape(plate).contains(Point(each.x_mm, each.y_mm)) for each in layout.holes)
    ours = sorted((web.kind, web.web_mm) for web in layout.webs)
    theirs = by_shapely(layout.holes, plate, keep_out)
    assert [kind for kind, _ in ours] == [kind for kind, _ in theirs]
    assert [web for _, web in ours] == pytest.approx([web for _, web in theirs], abs=1e-9)


@QUICK
@given(st.lists(st.tuples(tenths, st.integers(-20, 20), st.integers(-3, 22)), min_size=2, max_size=5), plates())
def test_any_place_inside_is_measured_as_shapely_measures_it(places, plate):
    holes = [PlacedHole(Hole(f"hole {n}", d), x / 1.3, y / 1.1) for n, (d, x, y) in enumerate(places)]
    outline, area = shape(plate).boundary, shape(plate)
    for web in all_webs(holes, plate, Wanted(1)):
        one = next(each for each in holes if each.name == web.first)
        middle = Point(one.x_mm, one.y_mm)
        if web.kind == "edge":
            sign = 1 if area.covers(middle) else -1
            expected = sign * outline.distance(middle) - one.radius_mm
            assert web.web_mm == pytest.approx(expected, abs=1e-9)


@FEWER
@given(st.lists(tenths.map(lambda size: Hole("hole", size)), min_size=1, max_size=4), st.lists(keep_outs(), max_size=2))
def test_left_and_right_may_be_changed(holes, keep_out):
    plate = Plate(24, 16)
    turned = [replace(each, left=-each.right, right=-each.left) for each in keep_out]
    one, other = (lay_out_holes(holes, plate, 0, keep_out=each, round_mm=0) for each in (keep_out, turned))
    assert one.least.web_mm == pytest.approx(other.least.web_mm, abs=1e-6)


@FEWER
@given(st.lists(tenths, min_size=2, max_size=5), plates())
def test_one_hole_more_never_leaves_wider_webs(sizes, plate):
    holes = [Hole("hole", size) for size in sizes]
    try:
        more = lay_out_holes(holes, plate, 0, round_mm=0)
    except DoesNotFit:
        return
    fewer = lay_out_holes(holes[:-1], plate, 0, round_mm=0)
    assert more.least.web_mm <= fewer.least.web_mm + 1e-6


@FEWER
@given(st.integers(2, 6), st.integers(0, 5), st.integers(1, 9))
def test_a_hole_moved_too_near_is_named(count, moved, share):
    layout = lay_out_holes([Hole("strand", 1, count=count)], Plate(30, 20), 1)
    moved %= count
    target = layout.holes[(moved + 1) % count]
    after = move_hole(layout, moved, target.x_mm + 1 + share / 10, target.y_mm)
    web = next(web for web in check_holes(after) if {web.first, web.second} == {target.name, after.holes[moved].name})
    assert web.web_mm == pytest.approx(share / 10)
    assert web.short_mm == pytest.approx(1 - share / 10)


@QUICK
@given(tenths, st.integers(-10, 30), st.integers(170, 330))
def test_the_move_that_a_message_names_is_enough(size, x, y):
    """For one web alone, outside the post or in it: after the move it is as wide as wanted."""
    post = KeepOut("post", 0, 2, 18, 32)
    layout = Layout((PlacedHole(Hole("wire", size), x / 10, y / 10),), Plate(60, 60), Wanted(0.8), (post,))
    for web in check_holes(layout):
        moved = move_hole(
            layout, "wire", *(at + part * web.short_mm for at, part in zip((x / 10, y / 10), web.away, strict=True))
        )
        assert check_holes(moved) == ()


@FEWER
@given(st.lists(tenths, min_size=2, max_size=4))
def test_the_order_of_the_list_changes_no_web(sizes):
    holes = [Hole(f"hole {number}", size) for number, size in enumerate(sizes)]
    one, other = (lay_out_holes(each, Plate(24, 16), 0, round_mm=0) for each in (holes, holes[::-1]))
    assert one.least.web_mm == pytest.approx(other.least.web_mm, abs=1e-9)


@QUICK
@given(st.integers(1, 6), tenths, st.integers(2, 10))
def test_a_row_is_even_by_arithmetic(count, size, height):
    """What is left of the width when the holes are taken off, in one part more than there are holes."""
    try:
        layout = lay_out_holes(
            [Hole("hole", size, count=count)], Plate(24, 12), 0.3, way="row", row_height_mm=height, round_mm=0
        )
    except DoesNotFit:
        assert size / 2 + 0.3 > min(height, 12 - height)
        return
    web = (24 - count * size) / (count + 1)
    expected = [-12 + web * (n + 1) + size * (n + 0.5) for n in range(count)]
    assert [each.x_mm for each in layout.holes] == pytest.approx(expected, abs=1e-6)
    assert {each.y_mm for each in layout.holes} == {height}


def test_a_post_parts_the_row():
    """Stretches of 9 mm and 9 mm: two holes of 1 mm in one leave 7 / 3 mm, one in the other 8 / 2 mm."""
    post = KeepOut("post", -1, 1, 0, 12)
    layout = lay_out_holes(
        [Hole("strand", 1, count=3)], Plate(20, 12), 1, keep_out=[post], way="row", row_height_mm=6, round_mm=0
    )
    expected = [-10 + 7 / 3 + 0.5, -1 - 7 / 3 - 0.5, 5.5]
    assert [each.x_mm for each in layout.holes] == pytest.approx(expected, abs=1e-6)


def test_circuits_lie_side_by_side_in_a_row_and_apart():
    """20 mm less 4 holes and 5 mm between circuits leave 11 mm for the 4 other webs."""
    holes = [Hole("a", 1, "lamp"), Hole("b", 1, "speaker"), Hole("c", 1, "lamp"), Hole("d", 1, "speaker")]
    layout = lay_out_holes(holes, Plate(20, 12), 1, apart_mm=5, way="row", row_height_mm=6, round_mm=0)
    across = {each.name: each.x_mm for each in layout.holes}
    assert sorted(across, key=lambda name: across[name]) == ["a", "c", "b", "d"]
    assert across["b"] - across["c"] == pytest.approx(6, abs=1e-6)
    assert across["c"] - across["a"] == pytest.approx(11 / 4 + 1, abs=1e-6)


def test_the_height_of_a_row_is_chosen_where_its_least_web_is_widest():
    """Four holes of 1 mm in 20 mm leave 3.2 mm a web, less than above and below at mid-height."""
    layout = lay_out_holes([Hole("strand", 1, count=4)], Plate(20, 12), 1, way="row", round_mm=0)
    assert layout.least.web_mm == pytest.approx(3.2, abs=1e-6)
    assert {each.y_mm for each in layout.holes} == {6}


@pytest.mark.parametrize("way", ["spread", "row"])
def test_the_same_input_gives_the_same_layout(way):
    holes = [Hole("strand", 0.8, "lamp", count=4), Hole("bundle", 2.5, "speaker")]
    first, second = (lay_out_holes(holes, Plate(22, 14), 0.8, apart_mm=1.5, way=way) for _ in range(2))
    assert first == second


def test_the_web_to_a_keep_out_counts_to_its_corner():
    hole = PlacedHole(Hole("wire", 1), -3, 14)
    (web,) = check_holes([hole], Plate(40, 40), 5, 1, [KeepOut("post", 0, 4, 0, 10)])
    assert web.web_mm == pytest.approx(LineString([(-3, 14), (0, 10)]).length - 0.5) == 4.5

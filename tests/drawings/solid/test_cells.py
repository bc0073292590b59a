"""Blocks as cells: the same space, no edge where two touch; the solids of jobs with all that can stand there."""

from __future__ import annotations

import json

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely.geometry import box
from shapely.ops import unary_union
from spacious import SPACES

from modelmath.drawings.figures.solid.bodies import model_of
from modelmath.drawings.figures.solid.cells import solids_from
from modelmath.drawings.figures.solid.data import scene_data
from modelmath.drawings.figures.solid.outlines import rectangle
from modelmath.drawings.figures.solid.static import static_view_svg

INSIDE = rectangle(-50, -50, 50, 50)
NOTCHED = [((0, 1), (-5, -2), (0, 8)), ((0, 1), (2, 5), (0, 8)), ((0, 1), (-2, 2), (3, 8))]


def made(extents, inside=INSIDE, planes=()):
    return list(solids_from("wall", "wall", extents, planes, lambda _at: inside))


def kept(solids):
    return [(start, end) for solid in solids for start, end, own in solid.sides if own]


def test_a_block_alone_has_all_its_edges():
    (solid,) = made([((0, 1), (-5, 5), (0, 8))])
    assert solid.edges is None
    assert solid.box == ((0, 1), (-5, 5), (0, 8))


def test_a_notched_wall_has_the_outline_of_its_union():
    length = sum(abs(end[0] - start[0]) + abs(end[1] - start[1]) for start, end in kept(made(NOTCHED)))
    whole = unary_union([box(left, low, right, high) for _, (left, right), (low, high) in NOTCHED])
    assert length == pytest.approx(whole.length)


def test_corners_are_those_of_the_union():
    found = {at for solid in made(NOTCHED) for at, own in zip(solid.outline, solid.edges.corners, strict=True) if own}
    assert found == {(-5, 0), (-2, 0), (-2, 3), (2, 3), (2, 0), (5, 0), (5, 8), (-5, 8)}


def test_blocks_in_a_row_have_no_edge_between_them():
    solids = made([((0, 4), (-5, 5), (0, 1)), ((4, 9), (-5, 5), (0, 1))])
    assert [(solid.start, solid.end) for solid in solids] == [(0, 9)]
    front, beside, _ = made([((0, 4), (-5, 5), (0, 1)), ((4, 9), (-5, 2), (0, 1))])
    assert (front.box[1], front.ends) == ((-5, 2), (True, False))
    assert (beside.box[1], beside.ends) == ((2, 5), (True, True))


def test_blocks_that_do_not_touch_stay_apart():
    solids = made([((0, 2), (-5, -3), (0, 8)), ((0, 2), (3, 5), (0, 8))])
    assert [solid.edges for solid in solids] == [None, None]


sizes = st.tuples(st.integers(0, 6), st.integers(1, 4)).map(lambda pair: (pair[0], pair[0] + pair[1]))


@settings(max_examples=60, deadline=None)
@given(st.lists(st.tuples(sizes, sizes, sizes), min_size=1, max_size=5))
def test_cells_fill_the_space_of_their_blocks(extents):
    """Counted in unit cubes."""
    cubes = {
        (x, y, z) for (a, b), (c, d), (e, f) in extents for x in range(a, b) for y in range(c, d) for z in range(e, f)
    }
    volume = sum((s.end - s.start) * (s.box[1][1] - s.box[1][0]) * (s.box[2][1] - s.box[2][0]) for s in made(extents))
    assert volume == pytest.approx(len(cubes))


@pytest.mark.parametrize("name", SPACES)
def test_every_part_is_there_and_the_picture_is_drawn(name):
    plan = SPACES[name]()
    model = model_of(plan)
    shown = {solid.words for solid in model.solids}
    for part in plan.parts:
        assert ("speaker support" if part.kind == "support" else part.name) in shown
    volume = {}
    for solid in model.solids:
        if solid.kind in ("wall", "post", "side", "box") and len(solid.outline) == 4:
            sizes_ = [high - low for low, high in solid.box]
            volume[solid.words] = volume.get(solid.words, 0) + sizes_[0] * sizes_[1] * sizes_[2]
    if not plan.job.profiles:
        for part in plan.parts:
            if part.kind in ("wall", "post", "side", "box"):
                assert volume[part.name] == pytest.approx(float(sum(block.volume_mm3 for block in part.blocks)))
    data = scene_data(plan)
    assert json.loads(json.dumps(data)) == data
    assert "The chassis is drawn as wide as the shell inside" in static_view_svg(plan)


def test_nothing_made_leaves_the_shell():
    for name in ("cut round, arched", "rear, wires"):
        model = model_of(SPACES[name]())
        for solid in model.of("wall", "post", "plate", "filler", "side", "box"):
            (across, _) = solid.box[1:]
            assert max(abs(each) for each in across) <= 10 + 1e-6, solid.words


def test_what_stands_there_is_a_kind_of_its_own():
    model = model_of(SPACES["standing"]())
    clip, post = model.of("standing")
    for found, known in zip(clip.box, ((20, 30), (-2, 4), (10, 14)), strict=True):
        assert found == pytest.approx(known)
    assert post.box[2] == pytest.approx((10, 30))
    assert not model.of("moving")


def test_the_decoder_lies_in_its_pocket():
    for name in ("inside", "rear, wires"):
        plan = SPACES[name]()
        pocket = plan.chamber.pocket
        (room,) = [solid for solid in model_of(plan).of("room") if solid.words == "decoder"]
        assert room.box[0] == pytest.approx((float(pocket.start_mm), float(pocket.end_mm)))
        assert room.box[2] == pytest.approx((float(pocket.bottom_mm), float(pocket.top_mm)))
        middle = -1.5 if name == "rear, wires" else 0  # beside the path and its wall, 3 mm together
        half = float(pocket.across_mm) / 2
        assert room.box[1] == pytest.approx((middle - half, middle + half))

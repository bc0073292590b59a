"""What hides what: the order of painting against rays cast at boxes, and parting against volumes by a library."""

from __future__ import annotations

import random

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely.geometry import Polygon

from modelmath.drawings.figures.solid.bodies import Model, Solid
from modelmath.drawings.figures.solid.faces import Body, faces_of
from modelmath.drawings.figures.solid.names import holds
from modelmath.drawings.figures.solid.order import Node, back_to_front, parted, tree_of, whole
from modelmath.drawings.figures.solid.outlines import ACROSS, UP, clipped, least_half, rectangle, shell_outline, within
from modelmath.drawings.figures.solid.projection import View


def apart(boxes, box):
    return all(any(a[n][1] <= box[n][0] or box[n][1] <= a[n][0] for n in range(3)) for a in boxes)


def random_boxes(draw, count, overlapping=False):
    """Boxes on a coarse grid, so that many touch."""
    boxes = []
    for _ in range(20 * count):
        low = [draw.randrange(0, 9) for _ in range(3)]
        box = [(at, at + draw.randrange(1, 6)) for at in low]
        if overlapping or apart(boxes, box):
            boxes.append(box)
        if len(boxes) == count:
            break
    return boxes


def body(boxes, ranks=None):
    solids = [
        Solid("speaker", str(n), *box[0], rectangle(box[1][0], box[2][0], box[1][1], box[2][1]))
        for n, box in enumerate(boxes)
    ]
    blocks = [whole(n, solid.start, solid.end, solid.outline) for n, solid in enumerate(solids)]
    return Body(Model("boxes", None, [], True, 0.0, solids), tree_of(blocks, ranks or [0] * len(blocks)), 1.0)


def first_hit(boxes, view, at):
    """The boxes that a line of sight meets nearest to the viewer, by the slab method, and by how much they lead."""
    right, up, toward = (np.array(axis) for axis in view.axes)
    start = right * at[0] + up * at[1]
    met = []
    for number, box in enumerate(boxes):
        low, high = np.array(box, float).T
        with np.errstate(divide="ignore", invalid="ignore"):
            one, other = (low - start) / toward, (high - start) / toward
        near, far = np.minimum(one, other).max(), np.maximum(one, other).min()
        if far - near > 1e-6:
            met.append((far, number))
    return sorted(met, reverse=True)


@pytest.mark.parametrize("seed", range(30))
def test_the_nearest_box_on_a_line_of_sight_is_painted_last(seed):
    """Ray against box by slabs: T. L. Kay, J. T. Kajiya, SIGGRAPH 1986."""
    draw = random.Random(seed)
    boxes = random_boxes(draw, 14)
    view = View(draw.uniform(0, 360), draw.uniform(-80, 80))
    faces = list(faces_of(body(boxes), view))
    looked = 0
    for _ in range(60):
        box = boxes[draw.randrange(len(boxes))]
        at = view.at(tuple(draw.uniform(low, high) for low, high in box))
        met = first_hit(boxes, view, at)
        if len(met) > 1 and met[0][0] - met[1][0] < 1e-6:
            continue
        painted = [face.solid for face in faces if holds(face.points, at)]
        assert painted[-1] == met[0][1]
        looked += 1
    assert looked > 30


@pytest.mark.parametrize("seed", range(20))
def test_boxes_that_reach_into_one_another_are_seen_as_their_union(seed):
    draw = random.Random(1000 + seed)
    boxes = random_boxes(draw, 8, overlapping=True)
    view = View(draw.uniform(0, 360), draw.uniform(-80, 80))
    faces = list(faces_of(body(boxes, list(range(8))), view))
    for _ in range(40):
        box = boxes[draw.randrange(len(boxes))]
        at = view.at(tuple(draw.uniform(low, high) for low, high in box))
        met = first_hit(boxes, view, at)
        nearest = {number for far, number in met if met[0][0] - far < 1e-6}
        if len(met) > len(nearest) and met[0][0] - met[len(nearest)][0] < 1e-4:
            continue
        painted = [face.solid for face in faces if holds(face.points, at)]
        # Where faces lie in one plane, the higher rank is the one that stays.
        assert painted[-1] == max(nearest)


def test_a_box_within_another_of_higher_rank_is_not_there():
    tree = tree_of([whole(0, 0, 9, rectangle(0, 0, 9, 9)), whole(1, 3, 4, rectangle(3, 3, 4, 4))], [1, 0])
    assert {block.solid for block in back_to_front(tree, (1, 1, 1))} == {0}
    assert isinstance(tree, Node)


OUTLINES = st.sampled_from(
    [
        rectangle(-4, 0, 4, 9),
        shell_outline([(0, 5), (6, 5), (8, 3), (10, 0)], 0, 0, 10),
        shell_outline([(2, 5), (4, 5), (4, 3), (9, 4)], 0, 0, 9),
    ]
)


@given(OUTLINES, st.sampled_from([0, 1, 2]), st.floats(-1, 11))
def test_parting_loses_nothing(outline, axis, at):
    block = whole(0, 0.0, 10.0, outline)

    def volume(part):
        return 0 if part is None else Polygon(part.outline).area * (part.end - part.start)

    assert sum(map(volume, parted(block, axis, at))) == pytest.approx(volume(block), abs=1e-4)


@given(OUTLINES, st.sampled_from([ACROSS, UP]), st.floats(-5, 10), st.booleans())
def test_clipping_gives_the_area_that_shapely_does(outline, axis, at, above):
    half = (at, -50, 50, 50) if above and axis == ACROSS else (-50, at, 50, 50) if above else None
    half = half or ((-50, -50, at, 50) if axis == ACROSS else (-50, -50, 50, at))
    expected = Polygon(outline).intersection(Polygon(rectangle(*half))).area
    left = clipped(outline, axis, at, above)
    assert (Polygon(left).area if left else 0) == pytest.approx(expected, abs=1e-9)


@given(st.floats(0, 9), st.floats(0, 9))
def test_the_least_half_width_is_that_of_the_widest_upright_box(one, other):
    """By bisection with shapely: the widest box between two heights that the outline holds."""
    outline = shell_outline([(0, 5), (6, 5), (8, 3), (10, 1)], 0, 0, 10)
    low, high = sorted((one, other + 0.5))
    room = Polygon(outline).buffer(1e-9)
    narrow, wide = 0.0, 6.0
    for _ in range(50):
        middle = (narrow + wide) / 2
        held = room.contains(Polygon(rectangle(-middle, low, middle, max(high, low + 1e-6))))
        narrow, wide = (middle, wide) if held else (narrow, middle)
    assert least_half(outline, low, high) == pytest.approx(narrow, abs=1e-5)


def test_an_outline_is_anticlockwise_and_within_the_roof():
    outline = shell_outline([(0, 5), (6, 5), (10, 0)], 0, 1, 10)
    assert Polygon(outline).exterior.is_ccw
    assert within(outline, 12, 14, -5, 5) == ()
    assert least_half(outline, 5, 11) == 0


@settings(max_examples=30)
@given(st.integers(0, 10**6), st.floats(0, 360), st.floats(-89, 89))
def test_every_block_is_painted_once_from_every_side(seed, turn, tilt):
    boxes = random_boxes(random.Random(seed), 10)
    made = body(boxes)
    sides = [list(back_to_front(made.tree, View(turn + more, tilt).toward)) for more in (0, 180)]
    assert {id(block) for block in sides[0]} == {id(block) for block in sides[1]}
    assert {block.solid for block in sides[0]} == set(range(len(boxes)))

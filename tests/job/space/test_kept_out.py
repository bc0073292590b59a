"""What no hole may come near: the flange of a speaker behind the wall as well as its opening; too many holes."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely.geometry import Point, box
from spacious import LENGTH, spacious

from modelmath.drawings.template import bulkhead_template
from modelmath.enclosure.net import speaker_blocks
from modelmath.job.space.hole_places import kept_out

WEB_MM = 0.5
SMALL = {"length": "8 mm", "width": "8 mm", "flange": "1 mm", "depth": "5 mm"}


def behind(way, count, layout, speaker=SMALL):
    return spacious(
        speaker={**speaker, "faces": way},
        length={**LENGTH, "front_closed": False, "rear_closed": False},
        lamps=[{"name": "lamp", "end": way, "room": "2 mm", "strand": "0.6 mm", "strands": count}],
        hole_layout={"way": layout, "web": f"{WEB_MM} mm", "edge": "0.5 mm"},
        decoder=None,
    )


def wall_of(plan, way):
    return next(part for part in plan.parts if part.kind == "wall" and part.face == f"{way} face")


def flange_of(plan, wall):
    """The flange's block as the volume counts it, on the wall's own axes: another way round than the keep-outs."""
    block = speaker_blocks(plan.chamber, plan.bench.speaker, plan.limits)[0]
    bottom = max(each.top_mm for each in wall.blocks) - wall.cut.cut_mm
    return box(*(float(each) for each in (block.left_mm, block.bottom_mm - bottom, block.right_mm,
                                          block.top_mm - bottom)))  # fmt: skip


@pytest.mark.parametrize("way", ["front", "rear"])
@settings(max_examples=30)
@given(count=st.integers(1, 5), wide=st.integers(6, 12), deep=st.integers(1, 4))
def test_no_hole_of_a_row_lies_within_the_flange_or_its_web(way, count, wide, deep):
    clear_of_the_flange(way, "row", count, wide, deep)


@pytest.mark.parametrize("way", ["front", "rear"])
def test_no_hole_of_a_spread_lies_within_the_flange_or_its_web(way):
    clear_of_the_flange(way, "spread", 3, 12, 4)


def clear_of_the_flange(way, layout, count, wide, deep):
    """`shapely` measures: every hole is its web away from flange and opening, or is told to be nearer."""
    speaker = {**SMALL, "width": f"{wide} mm", "basket_width": f"{wide - deep} mm", "basket_length": f"{8 - deep} mm"}
    plan = behind(way, count, layout, speaker)
    wall = wall_of(plan, way)
    (holes,) = plan.hole_places
    assert holes.wall == wall.name
    if holes.layout is not None:
        flange = flange_of(plan, wall)
        away = [flange.distance(Point(each.x_mm, each.y_mm)) - each.radius_mm for each in holes.layout.holes]
        assert min(away) >= WEB_MM - 2e-2 or holes.layout.too_thin


def test_the_flange_is_kept_out_round_its_opening():
    plan = behind("front", 2, "spread")
    wall = wall_of(plan, "front")
    names = {each.name: each for each in kept_out(plan, wall)}
    opening, flange = names["the speaker"], names["flange of the speaker"]
    assert (flange.right - flange.left, flange.top - flange.bottom) == (8, 8)
    assert (flange.bottom, flange.top) == (1, 9)  # on the floor plate, 1 mm thick
    assert opening.left - flange.left == flange.right - opening.right == Fraction(1)
    assert opening.bottom - flange.bottom == flange.top - opening.top == 1
    assert flange_of(plan, wall).bounds == tuple(
        float(each) for each in (flange.left, flange.bottom, flange.right, flange.top)
    )


def test_a_wall_without_the_speaker_has_no_flange():
    plan = behind("front", 2, "spread")
    assert [each.name for each in kept_out(plan, wall_of(plan, "rear"))] == ["left post", "right post", "floor plate"]


def test_the_template_draws_the_flange_dashed_behind_the_wall():
    plan = behind("front", 2, "spread")
    wall = wall_of(plan, "front")
    shapes = bulkhead_template(plan).shapes
    dashed = [each for each in shapes if getattr(each, "name", "") == "behind"]
    cut = [each for each in shapes if getattr(each, "name", "") == "opening"]
    assert len(dashed) == len(kept_out(plan, wall)) - 1
    assert len(cut) == 1


def test_a_web_to_the_speaker_names_it_once():
    plan = behind("front", 1, "row")
    (moved,) = [each for each in plan.hole_places if each.layout is not None]
    name = moved.layout.holes[0].name
    held = plan.job.model_dump() | {"holes": [{"name": name, "right": "0 mm", "up": "5 mm"}]}
    wall = next(
        each for each in spacious(**held).hole_places if any("flange" in sentence for sentence in each.sentences)
    )
    assert any(f"{name} and the flange of the speaker overlap by" in each for each in wall.sentences)
    assert not any("the the" in each for each in wall.sentences)


def test_more_holes_than_a_wall_takes_are_that_walls_own_problem():
    plan = spacious(wires=[{"name": "w", "diameter": "0.6 mm", "count": 99}])
    (wall,) = plan.hole_places
    assert wall.layout is None
    assert wall.sentences == (
        "w: count is 99; it must be from 1 to 24. Bundle some, and enter the bundle's diameter as one.",
    )

"""Strands on the side elevation: from lamp to lens by the places of the plan, where heights and lengths are true."""

from __future__ import annotations

import pytest
from sheets import DEMOS, demo, least

from modelmath.drawings.figures.elevation import side_elevation
from modelmath.drawings.figures.scene import scene_of
from modelmath.drawings.shapes import Circle, Label, Lines


@pytest.mark.parametrize("name", DEMOS)
@pytest.mark.parametrize("upside_down", [False, True])
def test_each_strand_runs_from_its_lamp_to_its_lens(name, upside_down):
    made = demo(name)
    drawing = side_elevation(made, upside_down=upside_down)
    runs = [shape.runs[0] for shape in drawing.shapes if isinstance(shape, Lines) and shape.name == "strand"]
    assert len(runs) == len(made.light.strands) + 1  # and one in the key
    lenses = [shape for shape in drawing.shapes if isinstance(shape, Circle) and shape.name == "lens"]
    assert len(lenses) == len(runs)
    scene = scene_of(made)
    long = scene.right - scene.left
    for line, run in zip(made.light.strands, runs, strict=False):
        first, last = line.route.points[0], line.route.points[-1]
        wide, high = run[-1][0] - run[0][0], run[-1][1] - run[0][1]
        unit = wide / float(last.along_mm - first.along_mm)
        assert unit > 0
        way = -1 if upside_down else 1
        assert high == pytest.approx(way * unit * float(last.up_mm - first.up_mm), abs=1e-6)
        assert unit * long <= drawing.width
    assert any(isinstance(shape, Label) and shape.text == "strand, lamp to lens" for shape in drawing.shapes)
    assert made.light.strands[0].name in drawing.description


def test_where_no_length_was_read_none_is_drawn():
    assert scene_of(least()).strands == []


def test_where_holes_are_spread_it_is_said_and_no_search_is_begun():
    made = demo("railcar-n", hole_layout={"way": "spread"})
    scene = scene_of(made)
    assert scene.strands == []
    assert "Strands are drawn where the holes lie in a row; where they are spread takes a search." in scene.asides
    assert "hole_places" not in vars(made)

"""The small side elevation of a row: in proportion, inside its sheet, without words."""

from __future__ import annotations

from xml.etree import ElementTree

import pytest
from sheets import DEMOS, demo, least

from modelmath.drawings.figures.scene import scene_of
from modelmath.drawings.figures.small import HEIGHT, WIDTH, small_elevation, small_elevation_svg
from modelmath.drawings.shapes import Box, Label, Lines

SVG = "{http://www.w3.org/2000/svg}"


def corners(drawing):
    for shape in drawing.shapes:
        if isinstance(shape, Box):
            yield from ((shape.x, shape.y), (shape.x + shape.width, shape.y + shape.height))
        elif isinstance(shape, Lines):
            yield from (point for run in shape.runs for point in run)


@pytest.mark.parametrize("name", DEMOS)
def test_it_lies_on_its_sheet_and_is_in_proportion(name):
    plan = demo(name)
    scene, drawing = scene_of(plan), small_elevation(plan)
    assert (drawing.width, drawing.height) == (WIDTH, HEIGHT)
    assert not [shape for shape in drawing.shapes if isinstance(shape, Label)]
    for x, y in corners(drawing):
        assert -1e-9 <= x <= WIDTH + 1e-9
        assert -1e-9 <= y <= HEIGHT + 1e-9
    drawn = [shape for shape in drawing.shapes if isinstance(shape, Box) and shape.name != "chassis"]
    shown = [piece for piece in scene.pieces if piece.kind in {box.name for box in drawn}]
    assert len(drawn) == len(shown) > 5
    unit = drawn[0].width / shown[0].width
    for box, piece in zip(drawn, shown, strict=True):
        assert (box.width, box.height) == pytest.approx((unit * piece.width, unit * piece.height))
        assert box.x - drawn[0].x == pytest.approx(unit * (piece.left - shown[0].left))
        assert box.y - drawn[0].y == pytest.approx(unit * (piece.bottom - shown[0].bottom))
    assert unit * (scene.right - scene.left) <= WIDTH


def test_as_svg_it_has_a_name_and_is_small():
    plan = demo("switcher-ho")
    svg = small_elevation_svg(plan)
    root = ElementTree.fromstring(svg)
    assert root.find(f"{SVG}title").text == "Small side elevation of Tarn Valley switcher No. 31"
    assert root.get("viewBox") == f"0 0 {WIDTH:g} {HEIGHT:g}"
    assert root.find(f"{SVG}text") is None
    assert len(svg) < 5000


def test_a_job_with_two_readings_alone_is_drawn_too():
    assert [shape.name for shape in small_elevation(least()).shapes if isinstance(shape, Lines)] == [
        "chassis top",
        "shell",
    ]

"""Where on the side elevation stands what can be moved: as the drawing itself has it."""

from __future__ import annotations

import re
from itertools import pairwise
from xml.etree import ElementTree

import pytest
from sample_jobs import DEMOS

from modelmath.drawings.figures.elevation import framed_elevation, side_elevation
from modelmath.drawings.figures.handled import handled_figure
from modelmath.job import plan
from modelmath.job.handling import handles, tried

PLANS = {name: plan(each) for name, each in DEMOS.items()}


def boxes(svg: str, name: str) -> list[tuple[float, float, float, float]]:
    root = ElementTree.fromstring(svg)
    return [
        tuple(float(each.get(key)) for key in ("x", "y", "width", "height"))
        for each in root.iter("{http://www.w3.org/2000/svg}rect")
        if each.get("class") == name
    ]


@pytest.mark.parametrize("name", DEMOS)
def test_each_wall_and_the_speaker_stand_where_they_are_drawn(name):
    made = PLANS[name]
    figure = handled_figure(made, handles(made))
    walls, speakers = boxes(figure.svg, "wall"), boxes(figure.svg, "flange")
    for each in handles(made):
        spot = figure.spots[each.key]
        drawn = (spot.x, spot.y, spot.width, spot.height)
        if each.kind in ("bulkhead", "closure"):
            assert any(drawn == pytest.approx(wall, abs=0.02) for wall in walls)
        elif each.kind == "speaker":
            assert any(drawn[0] == pytest.approx(flange[0], abs=0.02) for flange in speakers)


@pytest.mark.parametrize("name", DEMOS)
def test_what_each_is_held_by_stands_apart_from_the_next_between_model_and_key(name):
    made = PLANS[name]
    figure = handled_figure(made, handles(made))
    assert set(figure.grips) == set(figure.spots)
    places = sorted(x for x, _ in figure.grips.values())
    assert all(after - before >= 34 for before, after in pairwise(places))
    assert all(17 <= x <= figure.width - 17 for x in places)
    lowest = max(spot.y + spot.height for spot in figure.spots.values())
    assert {y for _, y in figure.grips.values()} == {figure.top - figure.frame.base + 11}
    assert lowest < figure.top - figure.frame.base


def test_a_wall_that_is_moved_is_drawn_as_much_further_along():
    made = PLANS["switcher-ho"]
    handle = handles(made)[0]
    there = tried(made.job, made, handle, handle.places[handle.places.index(handle.at_mm) + 10])
    one, other = handled_figure(made, handles(made)), handled_figure(there.plan, handles(there.plan))
    by = float(handles(there.plan)[0].at_mm - handle.at_mm)
    assert other.frame.unit == one.frame.unit
    assert other.spots["front_end"].x - one.spots["front_end"].x == pytest.approx(by * one.frame.unit)
    room, chamber = one.chamber(there.plan), there.plan.chamber
    assert room.width == pytest.approx(float(chamber.end_mm - chamber.start_mm) * one.frame.unit)
    assert room.x == pytest.approx(one.frame.x(float(chamber.start_mm)))


def test_the_drawing_is_the_side_elevation_itself():
    made = PLANS["railbus-ho"]
    drawing, frame, scene = framed_elevation(made)
    assert drawing == side_elevation(made)
    shell = next(each for each in drawing.shapes if each.name == "chassis top")
    assert shell.runs[0][0] == pytest.approx((frame.x(scene.zones[0].left), frame.y(scene.zones[0].top)))
    figure = handled_figure(made, handles(made))
    width, height = re.search(r'viewBox="0 0 ([\d.]+) ([\d.]+)"', figure.svg).groups()
    assert (float(width), float(height)) == pytest.approx((figure.width, figure.height), abs=0.01)

"""The wall with its holes: true proportion, the plan's own places, circuits told apart, tidy text."""

from __future__ import annotations

import re
from itertools import pairwise
from math import hypot
from xml.etree import ElementTree as ET

import pytest
from crowded import crowded
from hypothesis import given
from hypothesis import strategies as st
from shapely import Point, Polygon
from sheets import DEMOS, demo, texts_of
from spacious import ARCH, ZONES, spacious
from tidy import assert_tidy, box_of

from modelmath.drawings.figures.views.free_places import shared_out
from modelmath.drawings.figures.views.holes import LEFT_OUT, holes_figure, holes_svg
from modelmath.drawings.shapes import Box, Circle, Label, Lines

SVG = "{http://www.w3.org/2000/svg}"
TIGHT = {"web": "0.3 mm", "way": "spread"}
MANY = [{"name": f"wire {number}", "diameter": "0.5 mm", "count": 3} for number in range(7)]
ROW = [{"name": "strands", "diameter": "0.5 mm", "count": 9, "circuit": "white"}]


def arched(**fields):
    return spacious(profiles=ARCH, zones=[{**zone, "profile": "arch"} for zone in ZONES],
                    wires=[{"name": "wire", "diameter": "0.8 mm", "count": 2}], **fields)  # fmt: skip


def moved(name, right, up):
    return demo(holes=[{"name": name, "right": right, "up": up}])


PLANS = {
    **{name: lambda name=name: demo(name) for name in DEMOS},
    "crowded": crowded,
    "arched": arched,
    "many": lambda: demo("railbus-ho", wires=MANY, hole_layout=TIGHT),
    "row": lambda: demo("railbus-ho", wires=ROW, hole_layout={"web": "0.5 mm", "way": "row"}),
    "moved together": lambda: moved("headlight 1", "1.2 mm", "6.2 mm"),
    "moved on to the other": lambda: moved("headlight 1", "2.37 mm", "6.2 mm"),
    "moved off the wall": lambda: moved("headlight 1", "-14 mm", "15 mm"),
}


@pytest.fixture(params=PLANS)
def walls(request):
    return PLANS[request.param]().hole_places


def shapes(drawing, kind, name):
    return [each for each in drawing.shapes if isinstance(each, kind) and each.name == name]


def labels(drawing):
    return [each.text for each in drawing.shapes if isinstance(each, Label)]


def unit_of(wall, drawing):
    (outline,) = shapes(drawing, Lines, "wall")
    across = [x for x, _ in outline.runs[0]]
    return (max(across) - min(across)) / float(wall.layout.plate.width_mm), min(across)


def test_it_is_tidy_well_formed_and_grey(walls):
    for wall in walls:
        assert_tidy(holes_figure(wall))
        svg = holes_svg(wall)
        root = ET.fromstring(svg)
        assert (root.tag, root.get("role")) == (f"{SVG}svg", "img")
        assert root.find(f"{SVG}title").text == f"Holes in the {wall.wall}, seen from the front"
        said = root.find(f"{SVG}desc").text
        assert "looking to the rear" in said
        assert all(sentence in said for sentence in (*wall.layout.marking_out, *wall.layout.sentences))
        assert all(grey[1:3] == grey[3:5] == grey[5:7] for grey in re.findall(r"#[0-9a-f]{6}", svg))


def test_wall_and_holes_are_in_true_proportion_at_the_plan_s_places(walls):
    for wall in walls:
        drawing, plate = holes_figure(wall), wall.layout.plate
        unit, left = unit_of(wall, drawing)
        (outline,) = shapes(drawing, Lines, "wall")
        drawn = Polygon(outline.runs[0])
        assert drawn.area == pytest.approx(Polygon(plate.corners).area * unit**2)
        holes = shapes(drawing, Circle, "hole")
        assert len(holes) == len(wall.layout.holes)
        for circle, hole in zip(holes, wall.layout.holes, strict=True):
            assert circle.diameter == pytest.approx(float(hole.hole.diameter_mm) * unit)
            assert circle.x - left == pytest.approx(wall.layout.from_left_mm(hole) * unit)
            assert circle.y == pytest.approx(hole.y_mm * unit)


def test_what_is_kept_clear_is_hatched_on_the_wall_and_nowhere_else(walls):
    for wall in walls:
        drawing = holes_figure(wall)
        (outline,) = shapes(drawing, Lines, "wall")
        around = Polygon(outline.runs[0]).buffer(1e-6)
        for kind in ("post", "glue line"):
            for lines in shapes(drawing, Lines, kind):
                assert all(around.covers(Point(at)) for run in lines.runs for at in run)
        posts = shapes(drawing, Lines, "post edge")
        assert len(posts) == sum(each.name.endswith("post") for each in wall.layout.keep_out)
        assert all(bool(each.pen.dashes) == (wall.posts == "behind it") for each in posts)


@pytest.mark.parametrize("name", [*DEMOS, "crowded", "arched"])
def test_each_hole_has_its_tag_its_drill_and_its_sizes_written(name):
    for wall in PLANS[name]().hole_places:
        drawing = holes_figure(wall)
        found, key = labels(drawing), " ".join(labels(drawing))
        assert any("looking to the" in text for text in found)
        for hole, mark in zip(wall.layout.holes, wall.marks, strict=True):
            assert f"{mark.tag} {hole.hole.drill}" in found
            assert {f"{wall.layout.from_left_mm(hole):.2f}", f"{hole.y_mm:.2f}"} <= set(found)
            assert f"{mark.tag} {hole.name}" in key
            assert mark.passes in key


def test_tags_side_by_side_keep_apart(walls):
    for wall in walls:
        tags = {mark.tag for mark in wall.marks}
        labels = [each for each in holes_figure(wall).shapes if isinstance(each, Label) and each.bold]
        boxes = [box_of(each) for each in labels if each.text.split()[0] in tags]
        assert len(boxes) == len(tags)
        for number, (left, right, low, high) in enumerate(boxes):
            for start, end, bottom, top in boxes[number + 1 :]:
                assert high <= bottom or top <= low or max(start - right, left - end) >= 8


def test_where_tags_with_drills_are_too_many_the_key_still_names_each_drill():
    for name in ("many", "row"):
        (wall,) = PLANS[name]().hole_places
        drawing = holes_figure(wall)
        assert {mark.tag for mark in wall.marks} <= set(labels(drawing))
        assert all(f"drill {hole.hole.drill}" in drawing.description for hole in wall.layout.holes)


def test_sizes_too_many_to_write_are_said_to_stand_in_the_list():
    (many,) = PLANS["many"]().hole_places
    (row,) = PLANS["row"]().hole_places
    assert LEFT_OUT in " ".join(labels(holes_figure(many)))
    assert LEFT_OUT not in " ".join(labels(holes_figure(row)))
    assert {f"{row.layout.from_left_mm(hole):.2f}" for hole in row.layout.holes} <= set(labels(holes_figure(row)))


def test_circuits_differ_by_line_and_letter():
    _, wall = crowded().hole_places
    drawing = holes_figure(wall)
    letters = list(dict.fromkeys(mark.letter for mark in wall.marks))
    assert len(letters) == 2
    pens = {each.pen for each in shapes(drawing, Lines, "circuit")}
    assert len(pens) == 2
    assert len({pen.dashes for pen in pens}) == 2


def test_the_least_web_is_drawn_as_long_as_it_is_by_another_library():
    for name in (*DEMOS, "crowded", "arched"):
        for wall in PLANS[name]().hole_places:
            drawing = holes_figure(wall)
            unit, _ = unit_of(wall, drawing)
            line = next(each for each in shapes(drawing, Lines, "least web") if each.pen.width > 2).runs[0]
            edge = Polygon(wall.layout.plate.corners).exterior
            round_ = [Point(hole.x_mm, hole.y_mm).buffer(hole.radius_mm, 512) for hole in wall.layout.holes]
            webs = [one.distance(other) for n, one in enumerate(round_) for other in round_[n + 1 :]]
            webs += [one.distance(edge) for one in round_]
            webs += [one.distance(Polygon(kept.corners)) for one in round_ for kept in wall.layout.keep_out]
            length = hypot(line[1][0] - line[0][0], line[1][1] - line[0][1]) / unit
            assert length == pytest.approx(min(webs), abs=1e-3)
            assert f"web {min(webs):.2f}" in labels(drawing)
            assert not shapes(drawing, Lines, "thin web")


@pytest.mark.parametrize(
    ("name", "said"),
    [
        ("moved together", "too thin: 0.36, wanted 1.00"),
        ("moved on to the other", "overlap 0.81, wanted 1.00"),
    ],
)
def test_a_web_made_too_thin_by_hand_is_marked_strongly(name, said):
    wall = PLANS[name]().hole_places[0]
    drawing = holes_figure(wall)
    (label,) = [each for each in drawing.shapes if isinstance(each, Label) and each.text == said]
    (box,) = shapes(drawing, Box, "too thin")
    assert (box.fill, label.grey, label.bold) == (0.0, 1.0, True)
    assert box.x <= label.x <= box.x + box.width
    assert len(shapes(drawing, Lines, "thin web")) == len(shapes(drawing, Circle, "thin web")) == 1
    assert "Mend it before you drill." in " ".join(labels(drawing))


def test_where_a_wall_narrows_its_widths_are_said():
    for wall in arched().hole_places:
        text = " ".join(labels(holes_figure(wall)))
        assert "It narrows, width at height in mm:" in text
        for up, half in wall.layout.plate.side[-2:]:
            assert f"{2 * half:.2f} at {up:.2f}" in text


def test_holes_that_find_no_room_have_no_figure():
    wall = demo("railcar-n", hole_layout={"web": "9 mm"}).hole_places[0]
    assert wall.layout is None
    assert holes_figure(wall) is None
    assert holes_svg(wall) == ""


def test_the_packet_shows_each_wall_where_its_holes_are_marked_out():
    plan = demo()
    after = "\n".join(texts_of(plan)).partition("Holes to mark out")[2].partition("Build order")[0]
    assert after.count("Seen from the front, looking to the rear;") == len(plan.hole_places) == 2


@given(st.lists(st.floats(0, 100), min_size=1, max_size=9), st.floats(1, 11))
def test_places_shared_out_keep_their_order_their_distance_and_their_ends(wanted, step):
    found = shared_out(sorted(wanted), step, 0.0, 100.0)
    assert all(later - sooner >= step - 1e-9 for sooner, later in pairwise(found))
    assert found[0] >= -1e-9
    assert found[-1] <= 100 + 1e-9

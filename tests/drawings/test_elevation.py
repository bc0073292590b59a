"""The side elevation: true proportion, grey, escaped, and drawn for whatever the plan can give."""

from __future__ import annotations

import re
from xml.etree import ElementTree as ET

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from sheets import LEAST, demo, least
from spacious import SPACES
from tidy import assert_tidy, box_of, struck_through

from modelmath.drawings import side_elevation_svg
from modelmath.drawings.figures.elevation import side_elevation
from modelmath.drawings.shapes import Box, Label, plain
from modelmath.lengths.text import format_length

NAMED = ("speaker", "room")  # what has a name, and nothing else drawn over it
SVG = "{http://www.w3.org/2000/svg}"
NAMES = st.text(alphabet=st.characters(codec="utf-8"), min_size=1, max_size=200).filter(
    lambda name: name.strip() and name.isprintable()
)


def read(svg):
    return ET.fromstring(svg)


def texts(root):
    return [each.text for each in root.iter(f"{SVG}text")]


def boxes(root, kind):
    return [
        {key: float(each.get(key)) for key in ("x", "y", "width", "height")}
        for each in root.iter(f"{SVG}rect")
        if each.get("class") == kind and float(each.get("height")) != 11.0  # a swatch of the key is 11 high
    ]


def span(root, name):
    """Return how long a dimension line is drawn."""
    (path,) = [each.get("d") for each in root.iter(f"{SVG}path") if each.get("class") == name]
    (low, high) = re.fullmatch(r"M\S+ (\S+)L\S+ (\S+)", path).groups()
    return abs(float(low) - float(high))


def test_it_is_an_accessible_picture_that_scales(any_plan):
    root = read(side_elevation_svg(any_plan, width_px=500))
    assert (root.tag, root.get("role")) == (f"{SVG}svg", "img")
    assert [child.tag for child in root][:2] == [f"{SVG}title", f"{SVG}desc"]
    assert root.find(f"{SVG}title").text == f"Side elevation of {any_plan.job.name}"
    assert f"bulkhead {format_length(any_plan.bulkhead.cut.cut_mm, 'mm')}" in root.find(f"{SVG}desc").text
    assert "width:100%;max-width:500px;height:auto" in root.get("style")
    assert root.get("viewBox").startswith("0 0 480 ")
    assert not any(each.get("id") for each in root.iter())


def span_mm(plan):
    return float(plan.bulkhead.cut.cut_mm)


def test_heights_are_in_proportion(any_plan):
    root = read(side_elevation_svg(any_plan))
    unit = span(root, "bulkhead") / span_mm(any_plan)
    assert span(root, "free depth") == pytest.approx(float(any_plan.space.exact_mm) * unit, abs=0.03)
    assert span(root, "room left") == pytest.approx(float(any_plan.gap.left_mm) * unit, abs=0.03)
    wall = min(boxes(root, "wall"), key=lambda box: box["x"])
    assert wall["height"] == pytest.approx(span_mm(any_plan) * unit, abs=0.03)
    assert wall["width"] == pytest.approx(float(any_plan.limits.wall_mm) * unit, abs=0.03)


def test_lengths_have_the_scale_of_heights():
    plan = demo()
    root = read(side_elevation_svg(plan))
    unit = span(root, "bulkhead") / span_mm(plan)
    front, rear = sorted(boxes(root, "wall"), key=lambda box: box["x"])
    chamber = float(plan.chamber.end_mm - plan.chamber.start_mm)
    assert rear["x"] + rear["width"] - front["x"] == pytest.approx(chamber * unit, abs=0.05)
    (speaker,) = boxes(root, "flange")
    assert speaker["width"] == pytest.approx(float(plan.bench.speaker.length_mm) * unit, abs=0.05)
    assert speaker["x"] - front["x"] == pytest.approx(
        float(plan.chamber.seat_mm[0] - plan.chamber.start_mm) * unit, abs=0.05
    )
    decoder = max(boxes(root, "room"), key=lambda box: box["x"])
    pocket = plan.chamber.pocket
    assert decoder["height"] == pytest.approx(float(pocket.top_mm - pocket.bottom_mm) * unit, abs=0.05)


def test_the_supports_carry_the_flange():
    plan = demo()
    root = read(side_elevation_svg(plan))
    (flange,) = boxes(root, "flange")
    feet = [box for box in boxes(root, "post") if flange["x"] - 0.1 <= box["x"] < flange["x"] + flange["width"]]
    assert len(feet) == 2
    for foot in feet:
        assert foot["y"] + foot["height"] == pytest.approx(flange["y"], abs=0.05)


def test_everything_is_black_white_or_grey_and_readable(any_plan):
    svg = side_elevation_svg(any_plan)
    colours = set(re.findall(r"#[0-9a-f]+", svg))
    assert len(colours) >= 3
    assert all(len(set(re.findall("..", colour[1:]))) == 1 for colour in colours if len(colour) == 7)
    assert {colour for colour in colours if len(colour) != 7} <= {"#fff"}
    assert min(float(size) for size in re.findall(r'font-size="([0-9.]+)"', svg)) >= 13


def test_a_job_without_lengths_says_that_its_length_is_nominal():
    text = " ".join(texts(read(side_elevation_svg(least()))))
    assert "no length was read, so the length drawn is nominal" in text
    assert "its place is nominal" in text
    assert "seat" in text


def test_a_flange_alone_gives_the_supports():
    root = read(side_elevation_svg(least(speaker={"flange": "1.2 mm"})))
    (flange,) = boxes(root, "flange")
    assert flange["height"] / span(root, "bulkhead") == pytest.approx(1.2 / span_mm(least()), rel=0.01)


def test_gaps_alone_are_drawn_from_the_roof_without_a_seat():
    plan = least(readings=[{"name": "gap", "mark": "3"}], zones=[{"name": "motor", "gap": "gap"}])
    root = read(side_elevation_svg(plan))
    assert "seat" not in texts(root)
    assert "Only gaps were read: heights count from the roof, and the seat is" in " ".join(texts(root))
    assert span(root, "free depth") / span(root, "bulkhead") == pytest.approx(14.0 / span_mm(plan), abs=0.005)


def test_what_does_not_fit_is_said_and_shell_and_chassis_still_drawn():
    plan = demo(speaker={"name": "s", "length": "22 mm", "width": "16 mm", "flange": "1 mm", "depth": "30 mm"})
    root = read(side_elevation_svg(plan))
    assert "The speaker does not fit: 15.89 mm too little" in " ".join(texts(root))
    kinds = {each.get("class") for each in root.iter(f"{SVG}path")}
    assert {"shell", "chassis", "chassis top", "clearance"} <= kinds


@settings(max_examples=40, deadline=None)
@given(NAMES)
def test_any_name_leaves_the_picture_whole(name):
    zones = [{"name": name, "underside": "roof", "chassis_top": "chassis top"}]
    root = read(side_elevation_svg(least(name=name, zones=zones)))
    assert root.find(f"{SVG}title").text == f"Side elevation of {plain(name)}".rstrip()
    kinds = {"svg", "title", "desc", "text", "rect", "path"}
    assert {each.tag.removeprefix(SVG) for each in root.iter()} == kinds


def test_markup_in_a_name_is_text():
    name = "<script>alert(1)</script>"
    svg = side_elevation_svg(least(zones=[{**LEAST["zones"][0], "name": name}]))
    assert "<script" not in svg
    assert name in read(svg).find(f"{SVG}desc").text


@pytest.mark.parametrize("turned", [False, True])
def test_no_text_meets_another(any_plan, turned):
    assert_tidy(side_elevation(any_plan, upside_down=turned))


@pytest.mark.parametrize("turned", [False, True])
@pytest.mark.parametrize("name", SPACES)
def test_no_text_meets_another_with_all_that_stands_there(name, turned):
    assert_tidy(side_elevation(SPACES[name](), upside_down=turned))


@pytest.mark.parametrize("turned", [False, True])
def test_no_mark_or_leader_strikes_through_a_name(any_plan, turned):
    assert struck_through(side_elevation(any_plan, upside_down=turned), ("mark", "extension", "leader")) == []


def test_a_letter_lies_on_a_piece_with_room_for_it_or_is_led_to_it(any_plan):
    drawing = side_elevation(any_plan)
    pieces = [each for each in drawing.shapes if isinstance(each, Box) and each.name in NAMED and each.height != 11.0]
    ends = [(box.x + box.width / 2, box.y + box.height / 2) for box in drawing.shapes
            if isinstance(box, Box) and box.name == "leader end"]  # fmt: skip
    labels = [each for each in drawing.shapes if isinstance(each, Label)]
    for piece in pieces:
        if piece.width >= 13 and piece.height >= 13:
            continue
        for label in labels:  # what is smaller than a letter has none on it
            left, right, low, high = box_of(label)
            middle = (left + right) / 2, (low + high) / 2
            if label.bold and len(label.text) == 1 and label.anchor == "middle":
                assert not (
                    piece.x < middle[0] < piece.x + piece.width and piece.y < middle[1] < piece.y + piece.height
                )
        assert any(piece.x <= x <= piece.x + piece.width and piece.y <= y <= piece.y + piece.height for x, y in ends)


def test_the_bulkhead_s_height_stands_at_its_name(any_plan):
    labels = [each for each in side_elevation(any_plan).shapes if isinstance(each, Label)]
    size = next(each for each in labels if each.text == format_length(any_plan.bulkhead.cut.cut_mm, "mm"))
    name = next(each for each in labels if each.text == "bulkhead")
    assert (size.y, size.bold) == (name.y, True)
    assert 0 < size.x - box_of(name)[1] < 12


def unit_of(root, plan):
    return span(root, "bulkhead") / span_mm(plan)


def test_a_speaker_that_faces_up_hangs_under_an_opening_in_the_roof():
    plan = SPACES["up"]()
    root = read(side_elevation_svg(plan))
    unit = unit_of(root, plan)
    (flange,), (back,), (terminals,) = (boxes(root, kind) for kind in ("flange", "speaker", "terminals"))
    (wall,) = boxes(root, "wall")
    assert flange["y"] == pytest.approx(wall["y"], abs=0.05)  # both hang under the roof
    assert (flange["width"], flange["height"]) == pytest.approx((14 * unit, 1.2 * unit), abs=0.05)
    assert back["y"] == pytest.approx(flange["y"] + flange["height"], abs=0.05)
    assert (back["width"], back["height"]) == pytest.approx((11 * unit, 4.8 * unit), abs=0.05)
    assert terminals["height"] == pytest.approx(1.5 * unit, abs=0.05)
    (opening,) = [each.get("d") for each in root.iter(f"{SVG}path") if each.get("class") == "roof opening"]
    left, right = (float(each) for each in re.fullmatch(r"M(\S+) \S+L(\S+) \S+", opening).groups())
    assert right - left == pytest.approx(11 * unit, abs=0.05)  # as large as its basket
    assert "sounds out through an opening in the roof, 11.00 mm long and 8.00 mm" in " ".join(texts(root))


@pytest.mark.parametrize(("name", "way"), [("front", 1), ("rear, wires", -1)])
def test_a_speaker_that_faces_an_end_stands_at_its_wall(name, way):
    plan = SPACES[name]()
    root = read(side_elevation_svg(plan))
    unit = unit_of(root, plan)
    walls, (flange,), (back,) = (boxes(root, kind) for kind in ("wall", "flange", "speaker"))
    wall = min(walls, key=lambda box: abs(box["x"] - flange["x"]))
    face, inner = (flange["x"], wall["x"] + wall["width"]) if way > 0 else (flange["x"] + flange["width"], wall["x"])
    assert face == pytest.approx(inner, abs=0.05)
    assert (flange["width"], flange["height"]) == pytest.approx((1.2 * unit, 14 * unit), abs=0.05)
    assert (back["width"], back["height"]) == pytest.approx((4.8 * unit, 11 * unit), abs=0.05)
    assert way * (back["x"] - flange["x"]) > 0
    (opening,) = boxes(root, "opening")
    assert opening["x"] == pytest.approx(wall["x"], abs=0.05)
    assert opening["height"] == pytest.approx(11 * unit, abs=0.05)


def test_what_stands_there_is_told_from_what_moves():
    plan = SPACES["standing"]()
    root = read(side_elevation_svg(plan))
    unit = unit_of(root, plan)
    clip, post = sorted(boxes(root, "standing"), key=lambda box: box["x"])
    assert (clip["width"], clip["height"]) == pytest.approx((10 * unit, 4 * unit), abs=0.05)  # no clearance in it
    assert (post["width"], post["height"]) == pytest.approx((6 * unit, 20 * unit), abs=0.05)  # up to the roof
    text = " ".join(texts(root))
    assert "what stands there" in text
    assert "what moves" not in text
    moving = " ".join(texts(read(side_elevation_svg(demo("railbus-ho")))))
    assert "what moves, all it sweeps" in moving
    assert "what stands there" not in moving


def test_a_box_round_what_stands_up_has_sides_and_a_lid():
    plan = SPACES["cut round, arched"]()
    root = read(side_elevation_svg(plan))
    unit = unit_of(root, plan)
    (box,) = plan.chamber.boxed
    found = boxes(root, "box")
    lid = min(found, key=lambda each: each["y"])
    assert lid["height"] == pytest.approx(1 * unit, abs=0.05)
    assert lid["width"] == pytest.approx((float(box.end_mm - box.start_mm) + 2) * unit, abs=0.05)
    assert max(each["height"] for each in found) == pytest.approx(
        float(box.top_mm - plan.chamber.floor_mm) * unit, abs=0.05
    )


def test_a_decoder_in_the_sealed_chamber_and_wires_beside_it_are_said():
    inside = " ".join(texts(read(side_elevation_svg(SPACES["inside"]()))))
    assert "The decoder lies inside the sealed chamber, where its heat stays." in inside
    wires = " ".join(texts(read(side_elevation_svg(SPACES["rear, wires"]()))))
    assert "Along the right side, looking to the rear, 2.00 mm stay free for wires" in wires


def test_upside_down_the_model_lies_on_its_roof_and_names_its_datum():
    plan = demo()
    upright, turned = (read(side_elevation_svg(plan, upside_down=way)) for way in (False, True))
    for name in ("bulkhead", "free depth", "room left"):
        assert span(turned, name) == pytest.approx(span(upright, name), abs=0.03)
    walls = [min(boxes(root, "wall"), key=lambda box: box["x"]) for root in (upright, turned)]
    assert walls[0]["x"] == walls[1]["x"]  # the front is still on the left
    seat = {}
    for way, root in (("upright", upright), ("turned", turned)):
        (line,) = [each.get("d") for each in root.iter(f"{SVG}path") if each.get("class") == "seat"]
        seat[way] = float(re.fullmatch(r"M\S+ (\S+)L\S+ \S+", line).group(1))
    assert seat["upright"] > walls[0]["y"]
    assert seat["turned"] < walls[1]["y"]
    assert turned.find(f"{SVG}title").text == f"Side elevation of {plan.job.name}, lying on its roof"
    text = " ".join(texts(turned))
    assert f"The datum of all heights is the seat: {plan.job.seat.face}." in text
    assert "The model lies on its roof, its front end still to the left." in text
    assert not [each for each in turned.iter() if each.get("transform")]  # texts stand upright

"""The side elevation: true proportion, grey, escaped, and drawn for whatever the plan can give."""

from __future__ import annotations

import re
from xml.etree import ElementTree as ET

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from sheets import LEAST, demo, least

from modelmath.drawings import side_elevation_svg
from modelmath.drawings.shapes import plain
from modelmath.lengths.text import format_length

SVG = "{http://www.w3.org/2000/svg}"
NAMES = st.text(alphabet=st.characters(codec="utf-8"), min_size=1, max_size=200).filter(lambda name: name.strip())


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

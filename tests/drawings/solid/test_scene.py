"""The solids of a plan, the picture at rest, and the same as plain data."""

from __future__ import annotations

import json
import re
from itertools import pairwise
from types import SimpleNamespace
from xml.etree import ElementTree as ET

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely.geometry import Polygon
from sheets import demo, least

from modelmath.drawings.figures.solid import bodies
from modelmath.drawings.figures.solid.bodies import model_of
from modelmath.drawings.figures.solid.data import scene_data
from modelmath.drawings.figures.solid.names import Name, spread
from modelmath.drawings.figures.solid.static import static_view_svg
from modelmath.drawings.shapes import text_width
from modelmath.lengths.text import format_length

SVG = "{http://www.w3.org/2000/svg}"


def labels(root):
    """Each text with the box it takes."""
    found = []
    for each in root.iter(f"{SVG}text"):
        size, x, y = (float(each.get(key)) for key in ("font-size", "x", "y"))
        wide = text_width(each.text, size)
        left = x - {"start": 0.0, "middle": wide / 2, "end": wide}[each.get("text-anchor")]
        found.append((each.text, left, left + wide, y - 0.74 * size, y + 0.2 * size))
    return found


def assert_tidy(svg):
    """No text meets another or leaves the sheet, and none is too small where the sheet is 350 px wide."""
    root = ET.fromstring(svg)
    width, height = (float(each) for each in root.get("viewBox").split()[2:])
    found = labels(root)
    for number, (text, left, right, top, bottom) in enumerate(found):
        assert left >= -0.01, text
        assert right <= width + 0.01, text
        assert top >= 0, text
        assert bottom <= height, text
        for other, start, end, high, low in found[number + 1 :]:
            assert right <= start or end <= left or bottom <= high or low <= top, (text, other)
    assert min(float(size) for size in re.findall(r'font-size="([0-9.]+)"', svg)) * 350 / width >= 9
    return root


def size(solid):
    return tuple(high - low for low, high in solid.box)


def test_every_part_of_the_plan_is_there_as_often_as_it_is_made(any_plan):
    model = model_of(any_plan)
    whole = {"post": 1, "support": 1, "filler": 1}
    for part in any_plan.parts:
        words = "speaker support" if part.kind == "support" else part.name
        found = [solid for solid in model.solids if solid.words == words]
        if part.kind in whole:
            assert len(found) == part.count, part.name
        else:
            assert found, part.name
    if any_plan.chamber is not None:
        assert {"flange", any_plan.bench.speaker.name, any_plan.bench.decoder.name} <= {s.words for s in model.solids}
    assert {moving.entry.name for moving in any_plan.bench.moving} == {
        solid.words for solid in model.solids if solid.kind in ("moving", "standing")
    }


def test_sizes_and_places_are_the_plans():
    plan = demo()
    model = model_of(plan)
    parts = {part.name: part for part in plan.parts}
    (wall,) = [solid for solid in model.of("wall") if solid.words == "bulkhead"]
    assert size(wall) == pytest.approx((float(plan.limits.wall_mm), 18.5, float(parts["bulkhead"].cut.cut_mm)))
    assert wall.start == pytest.approx(float(parts["bulkhead"].position_mm))
    (flange,) = model.of("flange")
    speaker = plan.bench.speaker
    assert size(flange) == pytest.approx((float(speaker.length_mm), float(speaker.width_mm), float(speaker.flange_mm)))
    left, right = sorted(model.of("filler"), key=lambda solid: solid.box[1])
    gap = float(parts["side filler"].section_mm)
    assert left.box[1] == pytest.approx((-8 - gap, -8))
    assert right.box[1] == pytest.approx((8, 8 + gap))
    assert 8 + gap == pytest.approx(18.5 / 2)
    posts = [solid for solid in model.of("post") if solid.words == "corner post"]
    assert {round(abs(edge), 6) for solid in posts for edge in solid.box[1]} == {
        9.25,
        round(9.25 - float(plan.limits.post_mm), 6),
    }


def test_what_moves_is_as_wide_as_it_sweeps():
    plan = demo("railbus-ho")
    for moving, solid in zip(plan.bench.moving, model_of(plan).of("moving"), strict=True):
        assert size(solid)[1] == pytest.approx(2 * float(moving.swept.half_width_mm))


def test_a_cross_section_is_the_outline_of_shell_and_walls(monkeypatch):
    plan = demo()
    profile = [(0.0, 9.25), (25.0, 9.25), (30.0, 7.0), (32.8125, 0.0)]
    monkeypatch.setattr(bodies, "_profile", lambda _plan, _at: profile)
    model = model_of(plan)
    shell = Polygon(model.of("shell")[0].outline)
    assert shell.area == pytest.approx(2 * (25 * 9.25 + 5 * (9.25 + 7) / 2 + 2.8125 * 7 / 2))
    for solid in model.of("wall", "plate", "post"):
        assert shell.buffer(1e-6).contains(Polygon(solid.outline)), solid.words
    (wall,) = [solid for solid in model.of("wall") if solid.words == "bulkhead"]
    low = wall.box[2][0]
    assert Polygon(wall.outline).area == pytest.approx(
        shell.intersection(Polygon([(-20, low), (20, low), (20, 40), (-20, 40)])).area
    )
    assert_tidy(static_view_svg(plan))


def test_the_cross_section_of_the_zone_is_taken_where_it_has_one(monkeypatch):
    zones = (
        SimpleNamespace(start_mm=0, end_mm=5),
        SimpleNamespace(start_mm=5, end_mm=9, profile=SimpleNamespace(points=((0, 4), (8, 2)))),
    )
    monkeypatch.setattr(bodies, "cavity_of", lambda bench: bench)
    plan = SimpleNamespace(enclosure=SimpleNamespace(), bench=SimpleNamespace(zones=zones))
    assert bodies._profile(plan, 2) is None
    assert bodies._profile(plan, 7) == [(0.0, 4.0), (8.0, 2.0)]


def test_the_picture_is_whole_and_no_name_covers_another(any_plan):
    svg = static_view_svg(any_plan, width_px=500)
    root = assert_tidy(svg)
    assert root.find(f"{SVG}title").text.startswith(f"{any_plan.job.name} seen from a corner")
    assert f"Zones from front to rear: {any_plan.depths[0].zone.name}" in root.find(f"{SVG}desc").text
    greys = set(re.findall(r"#[0-9a-f]{6}", svg))
    assert all(grey[1:3] == grey[3:5] == grey[5:7] for grey in greys)
    assert not any(each.get("id") for each in root.iter())


@settings(max_examples=25)
@given(st.sampled_from(["switcher-ho", "railbus-ho"]), st.floats(0, 360), st.floats(-90, 90))
def test_no_name_covers_another_from_anywhere(name, turn, tilt):
    assert_tidy(static_view_svg(PLANS[name], turn, tilt))


PLANS = {name: demo(name) for name in ("switcher-ho", "railbus-ho")}


def test_what_was_not_read_is_said():
    text = " ".join(each.text for each in ET.fromstring(static_view_svg(least())).iter(f"{SVG}text"))
    assert "No inside width was read, so the width drawn is nominal." in text.replace("  ", " ")


def test_what_does_not_fit_is_left_out_and_said():
    plan = demo(speaker={"name": "s", "length": "22 mm", "width": "16 mm", "flange": "1 mm", "depth": "30 mm"})
    model = model_of(plan)
    assert not model.of("speaker")
    assert any("does not fit" in note for note in model.notes)
    assert_tidy(static_view_svg(plan))


def test_markup_in_a_name_is_text():
    name = "<script>alert(1)</script>"
    zones = [{"name": name, "underside": "roof", "chassis_top": "chassis top"}]
    svg = static_view_svg(least(zones=zones))
    assert "<script" not in svg
    assert name in ET.fromstring(svg).find(f"{SVG}desc").text


@settings(max_examples=60)
@given(st.lists(st.tuples(st.floats(0, 480), st.integers(1, 12)), max_size=8))
def test_a_row_of_names_keeps_apart_and_in_order(wanted):
    names = sorted((Name("x" * n, "x" * n, (at, 0.0)) for at, n in wanted), key=lambda name: name.at)
    while sum(name.width + 10 for name in names) > 490:
        names.pop()
    placed = spread(names, 480)
    assert [name.words for name in placed] == [name.words for name in names]
    for before, after in pairwise(placed):
        assert before.x + before.width + 10 <= after.x + 1e-6
    for name in placed:
        assert -1e-6 <= name.x <= 480 - name.width + 1e-6
    if len(placed) == 1 and placed[0].width / 2 <= placed[0].at[0] <= 480 - placed[0].width / 2:
        assert placed[0].x + placed[0].width / 2 == pytest.approx(placed[0].at[0])


def test_the_data_are_plain_and_whole(any_plan):
    data = scene_data(any_plan)
    assert json.loads(json.dumps(data)) == data
    assert {solid["kind"] for solid in data["solids"]} - {"shell"} == set(data["kinds"])
    leaves = []

    def walk(tree):
        if tree is None:
            return
        if "axis" in tree:
            walk(tree["low"])
            walk(tree["high"])
        else:
            leaves.append(tree)

    walk(data["tree"])
    shown = {leaf["solid"] for leaf in leaves}
    inside = {n for n, solid in enumerate(data["solids"]) if solid["kind"] not in ("shell", "moving")}
    assert inside <= shown
    named = {words["words"] for words in data["names"]}
    assert {"bulkhead", *(depth.zone.name for depth in any_plan.depths)} <= named


def test_a_size_printed_for_the_first_time_here_is_none(any_plan):
    """The picture from a corner is not dimensioned: it can't be measured."""
    svg = static_view_svg(any_plan)
    printed = [text for text, *_ in labels(ET.fromstring(svg)) if re.search(r"\d mm", text)]
    known = " ".join([*model_of(any_plan).notes, format_length(any_plan.gap.left_mm, "mm")])
    assert all(text in known for text in printed)


def test_the_speaker_keeps_to_its_flange():
    model = model_of(demo())
    (flange,), (basket,) = model.of("flange"), model.of("speaker")
    for (low, high), (inner, outer) in zip(flange.box[:2], basket.box[:2], strict=True):
        assert low < inner < outer < high
    assert basket.box[2][0] == pytest.approx(flange.box[2][1])

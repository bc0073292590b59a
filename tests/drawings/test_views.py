"""Cross-section and view from above: true proportion, the plan's own sizes, tidy text."""

from __future__ import annotations

import re
from xml.etree import ElementTree as ET

import pytest
from sheets import demo, least
from spacious import ARCH, CLIP, SPACES, ZONES, facing, spacious
from tidy import assert_tidy, struck_through

from modelmath.drawings.figures.solid import bodies
from modelmath.drawings.figures.views.dimensions import apart, crossing
from modelmath.drawings.figures.views.from_above import plan_of_model, plan_of_model_svg
from modelmath.drawings.figures.views.from_the_end import end_view, end_view_svg
from modelmath.drawings.shapes import Box, Label, Lines
from modelmath.errors import UnknownChoice
from modelmath.lengths.text import format_length

UPRIGHT = ("mark", "extension", "along")
SVG = "{http://www.w3.org/2000/svg}"


def mm(value):
    return format_length(value, "mm")


def texts(drawing):
    return [shape.text for shape in drawing.shapes if isinstance(shape, Label)]


def bold(drawing):
    return [shape.text for shape in drawing.shapes if isinstance(shape, Label) and shape.bold]


def spans(drawing, name):
    """How long each dimension line of a name is drawn."""
    runs = [shape.runs[0] for shape in drawing.shapes if isinstance(shape, Lines) and shape.name == name]
    return [max(abs(end[0] - start[0]), abs(end[1] - start[1])) for start, end in runs]


def places(plan):
    return ["bulkhead", "speaker", *(depth.zone.name for depth in plan.depths)]


def test_they_are_tidy_and_well_formed(any_plan):
    for drawing in [plan_of_model(any_plan), *(end_view(any_plan, at) for at in places(any_plan))]:
        assert_tidy(drawing)
    for svg in (plan_of_model_svg(any_plan), end_view_svg(any_plan)):
        root = ET.fromstring(svg)
        assert (root.tag, root.get("role")) == (f"{SVG}svg", "img")
        assert root.find(f"{SVG}title").text
        assert root.find(f"{SVG}desc").text
        greys = set(re.findall(r"#[0-9a-f]{6}", svg))
        assert all(grey[1:3] == grey[3:5] == grey[5:7] for grey in greys)


def test_every_size_printed_is_one_of_the_plan(any_plan):
    plan = any_plan
    known = {mm(depth.free.exact_mm) for depth in plan.depths}
    known |= {mm(part.cut.cut_mm) for part in plan.parts if part.kind == "wall"}
    known |= {mm(part.section_mm or part.width_mm) for part in plan.parts if part.kind == "filler"}
    known |= {mm(place.position_mm) for place in plan.places}
    known |= {mm(reading.measured.exact_mm) for reading in widths(plan)}
    if plan.chamber is not None:
        known |= {mm(plan.bench.speaker.width_mm), *(mm(edge) for edge in plan.chamber.seat_mm)}
        known |= {mm(depth.roof.exact_mm - plan.chamber.floor_mm) for depth in plan.depths}
    for drawing in [plan_of_model(plan), *(end_view(plan, at) for at in places(plan))]:
        printed = {re.sub(r"^(inside|speaker) ", "", text) for text in bold(drawing) if "mm" in text}
        assert printed <= known


def widths(plan):
    return [plan.bench.reading(depth.zone.width) for depth in plan.depths if depth.zone.width]


def test_the_section_at_the_bulkhead_is_in_true_proportion():
    plan = demo()
    drawing = end_view(plan, "bulkhead")
    (wide,), (high,), (free,) = (spans(drawing, name) for name in ("inside width", "bulkhead", "free depth"))
    assert high / wide == pytest.approx(float(plan.bulkhead.cut.cut_mm) / 18.5)
    assert free / wide == pytest.approx(float(plan.depths[0].free.exact_mm) / 18.5)
    assert {mm(plan.bulkhead.cut.cut_mm), "inside 18.50 mm", mm(plan.depths[0].free.exact_mm)} <= set(bold(drawing))


def test_the_section_at_the_speaker_shows_its_gaps():
    plan = demo()
    drawing = end_view(plan, "speaker")
    (filler,) = [part for part in plan.parts if part.kind == "filler"]
    (wide,), (speaker,), gaps = (spans(drawing, name) for name in ("inside width", "speaker width", "gap"))
    assert speaker / wide == pytest.approx(16 / 18.5)
    assert gaps == pytest.approx([1.25 / 18.5 * wide] * 2)
    assert mm(filler.section_mm) in bold(drawing)
    (chamber,) = spans(drawing, "chamber")
    roof = plan.depths[0].roof.exact_mm
    assert chamber / wide == pytest.approx(float(roof - plan.chamber.floor_mm) / 18.5)


def test_the_zone_that_governs_elsewhere_is_said():
    plan = demo("railbus-ho")
    text = " ".join(texts(end_view(plan, "bulkhead")))
    assert f"{plan.governing.moving or plan.governing.zone.name}: {mm(plan.space.exact_mm)}." in text


def test_from_above_each_face_counts_from_the_mark():
    plan = demo()
    drawing = plan_of_model(plan)
    (wide,) = spans(drawing, "inside width")
    unit = wide / 18.5
    walls = [float(part.position_mm) for part in plan.parts if part.kind == "wall"]
    expected = [*walls, *(float(edge) for edge in plan.chamber.seat_mm), float(plan.chamber.decoder_mm[0])]
    assert sorted(spans(drawing, "along")) == pytest.approx(sorted(abs(each) * unit for each in expected))
    assert {mm(plan.parts[0].position_mm), *(mm(edge) for edge in plan.chamber.seat_mm)} <= set(bold(drawing))
    assert "0: rear hood screw" in texts(drawing)


@pytest.mark.parametrize("name", SPACES)
def test_no_line_strikes_through_a_text_from_above_with_all_that_stands_there(name):
    assert struck_through(plan_of_model(SPACES[name]()), UPRIGHT) == []


def test_no_line_strikes_through_a_text_from_above(any_plan):
    assert struck_through(plan_of_model(any_plan), UPRIGHT) == []


def test_a_size_along_stands_at_its_line(any_plan):
    drawing = plan_of_model(any_plan)
    runs = [shape.runs[0] for shape in drawing.shapes if isinstance(shape, Lines) and shape.name == "along"]
    first = runs[0][0][1] + 9 if runs else 0.0
    sizes = [shape for shape in drawing.shapes if isinstance(shape, Label) and shape.bold and shape.y < first]
    assert len(sizes) == len(runs)
    for (start, end), size in zip(runs, sizes, strict=True):
        left, right = sorted((start[0], end[0]))
        assert 0 < size.y - start[1] < 9
        assert left - 300 < size.x < right + 30  # a text begins near its line, or ends there


def test_a_cross_section_is_drawn_as_it_is(monkeypatch):
    profile = [(0.0, 9.25), (25.0, 9.25), (30.0, 7.0), (32.8125, 3.0)]
    monkeypatch.setattr(bodies, "_profile", lambda _plan, _at: profile)
    plan = demo()
    for at in places(plan):
        assert_tidy(end_view(plan, at))
    drawing = end_view(plan, "bulkhead")
    (shell,) = [shape.runs[0] for shape in drawing.shapes if isinstance(shape, Lines) and shape.name == "shell"]
    assert len(shell) == 8
    (wide,) = spans(drawing, "inside width")
    top = [x for x, y in shell if y == max(y for _, y in shell)]
    assert max(top) - min(top) == pytest.approx(6 / 18.5 * wide + 3.2)


def test_what_is_not_known_is_left_out_and_said():
    plan = least()
    assert "inside width" not in texts(plan_of_model(plan))
    assert not spans(end_view(plan), "inside width")
    text = " ".join(texts(end_view(plan, "speaker")))
    assert "The plan has no speaker in its place yet; the section is taken through the first zone." in text
    assert "No inside width was read, so the width drawn is nominal." in " ".join(texts(plan_of_model(plan)))


def test_a_place_that_is_none_is_refused():
    known = "bulkhead, speaker, front weight, motor clip, gear tower"
    with pytest.raises(UnknownChoice, match=rf"^at is 'bulkhed'; write one of {known}\. Did you mean 'bulkhead'\?$"):
        end_view(demo(), "bulkhed")


def test_levels_keep_apart_and_lines_stay_within():
    assert apart([50, 49, 48, 0], 10) == [59, 49, 39, 0]
    for start, end in crossing([(0, 0), (7, 0), (7, 5), (0, 5)], False, 2):
        assert all(-1e-9 <= x <= 7 + 1e-9 and -1e-9 <= y <= 5 + 1e-9 for x, y in (start, end))
        assert start[0] + start[1] == pytest.approx(end[0] + end[1])


def boxes(drawing, kind):
    return [shape for shape in drawing.shapes if isinstance(shape, Box) and shape.name == kind and shape.height != 11.0]


@pytest.mark.parametrize("name", SPACES)
def test_they_are_tidy_with_all_that_stands_there(name):
    plan = SPACES[name]()
    assert plan.misfit is None
    for drawing in [plan_of_model(plan), *(end_view(plan, at) for at in places(plan))]:
        assert_tidy(drawing)


def test_what_stands_there_has_its_width_and_its_place_across():
    plan = spacious(obstacles=[CLIP])
    drawing = plan_of_model(plan)
    (wide,) = spans(drawing, "inside width")
    unit = wide / 20
    (clip,) = boxes(drawing, "standing")
    assert (clip.width, clip.height) == pytest.approx((10 * unit, 6 * unit))
    assert clip.y + clip.height / 2 == pytest.approx(-1 * unit)  # 1 mm to the right: down on the sheet
    assert "motor clip" in texts(drawing)
    section = end_view(spacious(obstacles=[{**CLIP, "start": "clip front", "end": "clip rear"}]), "low end")
    (standing,) = boxes(section, "standing")
    (inside,) = spans(section, "inside width")
    assert (standing.width, standing.height) == pytest.approx((6 * inside / 20, 4 * inside / 20))
    assert standing.x + standing.width / 2 - 240 == pytest.approx(inside / 20)


def test_the_wire_path_lies_on_the_right_with_its_wall_beside_it():
    plan = SPACES["rear, wires"]()
    from_above = plan_of_model(plan)
    (wide,) = spans(from_above, "inside width")
    unit = wide / 20
    path, side = boxes(from_above, "path")[0], boxes(from_above, "side")[0]
    assert path.height == pytest.approx(2 * unit)
    assert path.y == pytest.approx(-10 * unit)
    assert side.y == pytest.approx(path.y + path.height)
    assert side.height == pytest.approx(1 * unit)
    assert "2.00 mm stay free for wires along the right side, looking to the rear." in " ".join(texts(from_above))
    assert "inside 20.00 mm" in bold(end_view(plan, "speaker"))  # the shell is as wide as it was read
    flat = facing("up", chamber={"wire_path": "2 mm"})
    section = end_view(flat, "speaker")
    (inside,) = spans(section, "inside width")
    (path,) = boxes(section, "path")
    assert path.x + path.width == pytest.approx(240 + inside / 2)
    assert path.width == pytest.approx(2 * inside / 20)
    (flange,) = boxes(section, "flange")
    assert flange.x + flange.width / 2 - 240 == pytest.approx(-1.5 * inside / 20)  # path and wall take 3 mm


def test_a_speaker_in_a_wall_counts_from_face_to_back():
    plan = SPACES["front"]()
    drawing = plan_of_model(plan)
    face, back = plan.chamber.seat_mm
    assert float(back - face) == 7.5  # depth and terminals
    assert {mm(face), mm(back)} <= set(bold(drawing))
    assert {"speaker, face", "speaker, back"} <= set(texts(drawing))
    section = end_view(plan, "speaker")
    (flange,) = boxes(section, "flange")
    (inside,) = spans(section, "inside width")
    assert (flange.width, flange.height) == pytest.approx((10 * inside / 20, 14 * inside / 20))


def test_a_wall_with_a_notch_has_no_seam():
    clip = {**CLIP, "start": "inside front", "end": "clip rear"}
    plan = spacious(
        obstacles=[clip],
        chamber={"cut_round": True},
        length={"shell_inside": "inside", "mark": "screw", "mark_on_shell": "hole", "mark_on_chassis": "pin",
                "front_closed": False},
        readings=[*reading_list(), {"name": "inside front", "mark": "2", "on": "chassis"}],
    )  # fmt: skip
    wall = plan.parts[0]
    assert len(wall.blocks) > 1
    drawing = end_view(plan, "bulkhead")
    edges = [shape for shape in drawing.shapes if isinstance(shape, Lines) and shape.name == "wall edge"]
    strokes = [run for shape in edges for run in shape.runs]
    assert strokes
    for start, end in strokes:  # each edge once: none between two pieces of one wall
        assert (end, start) not in strokes


def reading_list():
    from spacious import MARKS, PLACES

    return [{"name": n, "mark": m} | ({"on": PLACES[n]} if n in PLACES else {}) for n, m in MARKS.items()]


def test_the_chassis_width_is_said_to_be_none_that_was_read():
    said = "The chassis is drawn as wide as the shell inside, since its own width is not read."
    assert said in end_view(demo()).description
    assert said not in plan_of_model(demo()).description  # it does not show there


def test_the_section_of_an_arched_shell_narrows_as_it_was_read():
    plan = spacious(profiles=ARCH, zones=[{**zone, "profile": "arch"} for zone in ZONES])
    drawing = end_view(plan, "bulkhead")
    (shell,) = [shape.runs[0] for shape in drawing.shapes if isinstance(shape, Lines) and shape.name == "shell"]
    (wide,) = spans(drawing, "inside width")
    top = [x for x, y in shell if y == max(y for _, y in shell)]
    assert max(top) - min(top) == pytest.approx(12 / 20 * wide + 3.2)

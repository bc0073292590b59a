"""The truck from above and the shell as it comes off: true proportion, nothing cut off, words that don't meet."""

from __future__ import annotations

import re
from itertools import combinations
from math import radians
from xml.etree import ElementTree as ET

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from modelmath.drawings.figures.lift import lift_off_figure, lift_off_svg
from modelmath.drawings.figures.plan_view import plan_view, plan_view_svg
from modelmath.drawings.shapes import Box, Drawing, Label, Lines, text_width
from modelmath.enclosure.mechanism import SideBox, Truck, lift_off

SVG = "{http://www.w3.org/2000/svg}"
TRUCK = Truck("front truck", -35, 15, 15, 18, -6, 7, radians(6), 0.5, running_mm=0.5)
STEPS = (SideBox("cab floor", -55, -30, -60, 4), SideBox("motor", -30, 20, -60, 12), SideBox("hood", 20, 60, -60, 6))
WALL = SideBox("bulkhead", 20.3, 21.3, 7, 22)


def labels(drawing: Drawing) -> list[Label]:
    return [shape for shape in drawing.shapes if isinstance(shape, Label)]


def frame(label: Label) -> tuple[float, float, float, float]:
    width = text_width(label.text, label.size)
    left = label.x - {"start": 0, "middle": width / 2, "end": width}[label.anchor]
    return left, label.y - 0.2 * label.size, left + width, label.y + 0.75 * label.size


def is_tidy(drawing: Drawing) -> bool:
    """Whether every word lies on the sheet and none meets another."""
    frames = [frame(label) for label in labels(drawing)]
    on_sheet = all(
        left >= -0.5 and right <= drawing.width + 0.5 and low >= drawing.low and high <= drawing.low + drawing.height
        for left, low, right, high in frames
    )
    apart = all(a[2] <= b[0] or b[2] <= a[0] or a[3] <= b[1] or b[3] <= a[1] for a, b in combinations(frames, 2))
    return on_sheet and apart


def runs(drawing: Drawing, name: str) -> list[tuple[tuple[float, float], ...]]:
    return [run for shape in drawing.shapes if isinstance(shape, Lines) and shape.name == name for run in shape.runs]


def test_the_truck_is_drawn_in_true_proportion():
    drawing = plan_view(TRUCK, 26)
    (room,) = [shape for shape in drawing.shapes if isinstance(shape, Box) and shape.name == "room"]
    found = TRUCK.envelope()
    unit = room.width / (found.end_mm - found.start_mm)
    assert room.height == pytest.approx(2 * found.half_width_mm * unit)
    (rest,) = runs(drawing, "truck")
    assert max(x for x, _ in rest) - min(x for x, _ in rest) == pytest.approx(30 * unit)
    assert max(y for _, y in rest) == pytest.approx(9 * unit)
    # All four swung boxes lie within the room, short of it by the running clearance.
    swung = runs(drawing, "swing")
    assert len(swung) == 4
    assert max(y for run in swung for _, y in run) == pytest.approx(room.y + room.height - 0.5 * unit)
    assert min(x for run in swung for x, _ in run) == pytest.approx(room.x + 0.5 * unit)
    sides = runs(drawing, "side")
    assert sides[0][0][1] - sides[1][0][1] - 3.2 == pytest.approx(26 * unit)


@pytest.mark.parametrize(("inside", "words"), [(26, ("2.48 mm", "to spare")), (20, ("0.52 mm", "too little"))])
def test_what_is_left_to_the_sides_stands_in_figures_and_words(inside, words):
    """Arithmetic on the envelope, itself checked elsewhere: half the width less its reach to the side."""
    level = Truck("front truck", -35, 15, 15, 18, -6, 7, side_play_mm=1.02, running_mm=0.5)
    texts = [label.text for label in labels(plan_view(level, inside))]
    assert {"10.52 mm", *words} <= set(texts)


def test_it_is_read_out_with_its_numbers():
    root = ET.fromstring(plan_view_svg(TRUCK, 26, 500))
    assert (root.tag, root.get("role")) == (f"{SVG}svg", "img")
    assert root.find(f"{SVG}title").text == "The front truck from above, at rest and at full swing"
    assert root.find(f"{SVG}desc").text.startswith("It turns by 6.0 degrees to either side. With its running clearance")
    greys = set(re.findall(r"#[0-9a-f]{6}", ET.tostring(root, encoding="unicode")))
    assert all(grey[1:3] == grey[3:5] == grey[5:7] for grey in greys)


@settings(max_examples=60)
@given(
    st.floats(2, 60), st.floats(2, 60), st.floats(4, 40), st.floats(0, 0.5), st.floats(0, 2),
    st.none() | st.floats(4, 60),
)  # fmt: skip
def test_no_words_of_the_plan_meet_or_leave_the_sheet(ahead, behind, width, yaw, play, inside):
    truck = Truck("front truck", 0, ahead, behind, width, -6, 7, yaw, play, running_mm=0.3)
    drawing = plan_view(truck, inside)
    assert is_tidy(drawing)
    assert all(label.size >= 12 for label in labels(drawing))


def test_the_first_contact_is_marked_where_it_is():
    found = lift_off([WALL], STEPS, (-55, 0))
    drawing = lift_off_figure(found, [WALL], STEPS)
    assert not found.passes
    (rest,) = runs(drawing, "part")
    unit = (max(x for x, _ in rest) - min(x for x, _ in rest)) / 1.0
    cross = runs(drawing, "contact")[0]
    at = [(a + b) / 2 for a, b in zip(*cross, strict=True)]
    assert at[0] - min(x for x, _ in rest) == pytest.approx((found.first.at_mm[0] - 20.3) * unit)
    assert at[1] - min(z for _, z in rest) == pytest.approx((found.first.at_mm[1] - 7) * unit)
    # The open part touches the cross's middle: the step's corner lies on the open wall's nearer face.
    (moved,) = runs(drawing, "part open")
    (x0, z0), (x1, z1) = moved[0], moved[3]
    off = abs((x1 - x0) * (at[1] - z0) - (z1 - z0) * (at[0] - x0)) / ((x1 - x0) ** 2 + (z1 - z0) ** 2) ** 0.5
    assert off < 1e-6
    assert "where they first meet" in [label.text for label in labels(drawing)]


def test_a_clear_shell_shows_its_arcs_and_no_contact():
    wall = SideBox("<bulkhead & co>", 30, 31, 8, 22)
    found = lift_off([wall], STEPS, (-55, 0))
    svg = lift_off_svg(found, [wall], STEPS)
    assert found.passes
    assert "&lt;bulkhead &amp; co&gt;" in svg
    assert 'class="contact"' not in svg
    arcs = runs(lift_off_figure(found, [wall], STEPS), "arc")
    assert len(arcs) == 2
    root = ET.fromstring(svg)
    assert root.find(f"{SVG}desc").text == found.verdict


@settings(max_examples=40)
@given(st.floats(-50, 40), st.floats(0.3, 20), st.floats(12.5, 20), st.sampled_from(["front", "rear"]), st.booleans())
def test_no_words_of_the_lift_meet_or_leave_the_sheet(start, thick, bottom, end, two):
    parts = [SideBox("bulkhead", start, start + thick, bottom, 24)]
    parts += [SideBox("rear closure", start + thick + 2, start + thick + 3, bottom, 24)] * two
    hinge = (-55, 0) if end == "front" else (60, 0)
    drawing = lift_off_figure(lift_off(parts, STEPS, hinge, end), parts, STEPS)
    assert is_tidy(drawing)
    assert all(label.size >= 12 for label in labels(drawing))

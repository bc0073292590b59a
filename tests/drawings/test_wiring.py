"""The wiring diagram and the gauge strips: all that is entered is drawn, rightly joined, and at true size."""

from __future__ import annotations

from math import isclose

import pytest
from job.lit.lit_jobs import LIGHT, lit
from reportlab.lib.units import mm
from sheets import DEMOS, demo, least, opened, texts_of

from modelmath import plan
from modelmath.drawings.shapes import Box, Circle, Label, Lines
from modelmath.drawings.sheets.light import light_sheet
from modelmath.drawings.sheets.paper import bind, frame_size
from modelmath.drawings.wiring.diagram import DECODER, wiring_diagram
from modelmath.drawings.wiring.gauge_strip import gauge_strip_template
from modelmath.drawings.wiring.symbols import NAMES, symbol


def labels(drawing):
    return {shape.text for shape in drawing.shapes if isinstance(shape, Label)}


@pytest.mark.parametrize("name", DEMOS)
def test_every_lamp_resistor_and_output_is_named(name):
    made = demo(name)
    found = labels(wiring_diagram(made))
    for line in made.light.lamps:
        assert line.name in found
        assert not line.resistor or line.resistor in found
    assert set(made.job.light.feed.outputs) <= found


def joined(drawing):
    """Whether the ends of all lines meet: the set of points that stand alone."""
    ends, middles = [], []
    for shape in drawing.shapes:
        if isinstance(shape, Lines):
            for run in shape.runs:
                ends += [run[0], run[-1]]
                middles += list(run)
    return ends, middles


def test_every_branch_runs_from_its_output_to_the_common():
    """By the drawing alone: something leaves each used output's terminal, and something of its height meets the bus."""
    drawing = wiring_diagram(plan(lit()))
    terminals = [s for s in drawing.shapes if isinstance(s, Circle) and s.name == "terminal" and s.x == DECODER[1]]
    bus = next(s for s in drawing.shapes if isinstance(s, Lines) and s.name == "common" and len(s.runs[0]) == 2
               and s.runs[0][0][0] == s.runs[0][1][0])  # fmt: skip
    (x, top), (_, bottom) = bus.runs[0]
    levels = [s.y for s in terminals if bottom <= s.y < top]
    ends, _ = joined(drawing)
    assert len(levels) == 2  # white and yellow
    for level in levels:
        assert any(isclose(px, DECODER[1]) and isclose(py, level) for px, py in ends)
        assert any(isclose(px, x, abs_tol=1e-3) and isclose(py, level, abs_tol=1e-3) for px, py in ends)


def test_an_led_passes_its_current_from_the_common_to_its_output():
    """Its triangle points away from the common, to the left."""
    shapes = list(symbol("LED", 0, 0, 100, 20, flipped=True))
    triangle = next(run for shape in shapes if isinstance(shape, Lines) for run in shape.runs
                    if len(run) == 4 and run[0] == run[-1])  # fmt: skip
    tip = min(triangle, key=lambda point: point[0])
    assert isclose(tip[1], 0, abs_tol=1e-9)
    assert sorted(point[1] for point in triangle[:3]) == pytest.approx([-5, 0, 5])


@pytest.mark.parametrize("kind", NAMES)
def test_every_symbol_reaches_both_its_ends(kind):
    shapes = [shape for shape in symbol(kind, 10, 5, 80, 20) if isinstance(shape, Lines)]
    places = [point for shape in shapes for run in shape.runs for point in run]
    assert min(x for x, _ in places) == pytest.approx(10)
    if kind != "speaker":
        assert max(x for x, _ in places) == pytest.approx(90)


def test_several_lamps_of_one_output_hang_in_parallel():
    circuits = [
        {"lamp": "headlights", "current": "2 mA", "output": "white"},
        {"lamp": "tail lamp", "current": "1 mA", "output": "white"},
    ]
    made = plan(lit(light={"circuits": circuits}))
    drawing = wiring_diagram(made)
    joints = [s for s in drawing.shapes if isinstance(s, Circle) and s.name == "joint"]
    assert len(joints) == 3  # one at the output, two on the common
    first, second = (
        next(each for each in made.light.lamps if each.name == name) for name in ("headlights", "tail lamp")
    )
    told = f"white: headlights with {first.resistor}, tail lamp with {second.resistor}"
    assert told in drawing.description


def test_long_names_are_cut_short_and_nothing_leaves_the_sheet():
    long = "x" * 150
    feed = {**LIGHT["feed"], "outputs": [long]}
    made = plan(lit(light={"feed": feed, "circuits": [{"lamp": "headlights", "output": long}], "leads": []}))
    drawing = wiring_diagram(made)
    for shape in drawing.shapes:
        if isinstance(shape, Lines):
            assert all(-1 <= x <= drawing.width + 1 for run in shape.runs for x, _ in run)
        if isinstance(shape, Box):
            assert shape.x >= 0
            assert shape.x + shape.width <= drawing.width
    assert not any(len(text) > 60 for text in labels(drawing))


def test_a_gauge_strip_is_printed_at_true_size():
    """Circles read back from the PDF by another library are as wide as the drills."""
    made = plan(lit())
    page_shapes = []
    for page in opened(bind(light_sheet(made, frame_size("A4")[0]), "A4", "x")).pages:
        page_shapes += [(curve["x1"] - curve["x0"]) / mm for curve in page.curves]
    for strip in made.light.gauge_strips:
        drawing = gauge_strip_template(strip)
        circles = [shape for shape in drawing.shapes if isinstance(shape, Circle)]
        assert [each.diameter for each in circles] == [float(hole.diameter_mm) for hole in strip.holes]
        for hole in strip.holes:
            assert any(abs(width - float(hole.diameter_mm)) < 0.01 for width in page_shapes), hole
        left, right = (circles[0].x - circles[0].diameter / 2, circles[-1].x + circles[-1].diameter / 2)
        assert left > 0
        assert right < drawing.width


def test_the_packet_tells_it_all_and_a_job_without_light_has_no_such_page():
    made = plan(lit())
    told = " ".join(" ".join(texts_of(made)).split())
    for words in ("Light and wiring", "left headlight", "5.6 kohm", "common of the lamps", "Gauge strip for tail",
                  "Melted acrylic drips"):  # fmt: skip
        assert words in told
    assert light_sheet(least(), 400) == []
    assert "Light and wiring" not in " ".join(texts_of(least()))

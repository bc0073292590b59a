"""The distribution of a gap and the chances by size, as they are drawn."""

from __future__ import annotations

import re
from itertools import combinations
from xml.etree import ElementTree

import pytest
from sample_jobs import DEMOS

from modelmath import plan
from modelmath.clearance import Stack, Term
from modelmath.drawings.charts.tail import chances_figure, tail_figure
from modelmath.drawings.shapes import Label, text_width
from modelmath.drawings.svg import to_svg

GAP = Stack.of(Term("shell", 5.0, 0.1), Term("part", -4.85, 0.1, "normal"))


def texts(drawing) -> list[str]:
    root = ElementTree.fromstring(to_svg(drawing, 480))
    return ["".join(each.itertext()) for each in root.iter() if each.tag.endswith("text")]


def description(drawing) -> str:
    root = ElementTree.fromstring(to_svg(drawing, 480))
    return " ".join("".join(each.itertext()) for each in root.iter() if each.tag.endswith(("desc", "title")))


def test_what_touches_is_filled_and_both_markers_are_named():
    shown = texts(tail_figure(GAP))
    assert "touches: below 0" in shown
    assert any(each.startswith("0: touches") for each in shown)
    assert any("most likely, 0.15 mm" in each for each in shown)


def test_the_description_tells_the_chance_that_is_filled():
    said = description(tail_figure(GAP, "Gap"))
    percent = float(re.search(r"([0-9.e-]+) % lies below 0", said)[1])
    assert "Gap is most likely 0.15 mm" in said
    assert percent / 100 == pytest.approx(GAP.interference(), rel=0.05)


def test_a_gap_far_from_touching_still_shows_where_0_is():
    far = Stack.of(Term("shell", 50.0, 0.1))
    assert any("0: touches" in each for each in texts(tail_figure(far)))


@pytest.mark.parametrize("nominal", [0.0, 1.5, -2.0])
def test_one_that_is_known_exactly_is_a_marker(nominal):
    shown = texts(tail_figure(Stack.of(Term("shell", nominal))))
    assert "exactly known" in shown


@pytest.mark.parametrize(
    "stack",
    [
        Stack.of(Term("shell", -3.0, 0.2)),
        Stack.of(Term("shell", 0.0, 1e-6)),
        Stack.of(Term("shell", 1e4, 3e3, "triangular")),
        Stack.of(Term("shell", 0.3, 0.2, "arcsine")),
        Stack.of(Term("shell", 0.3, 3.0, "repeats", 1), Term("part", 0.0, 0.1)),
        Stack.of(Term("shell", 0.3, 3.0, "repeats", 3)),
    ],
)
def test_every_shape_and_size_is_drawn_whole(stack):
    """No number that is none, and nothing outside the sheet."""
    drawing = tail_figure(stack)
    svg = to_svg(drawing, 480)
    assert "nan" not in svg
    assert "inf" not in svg.replace("infinite", "")
    left, top, width, height = map(float, ElementTree.fromstring(svg).get("viewBox").split())
    for points in re.findall(r'points="([^"]+)"', svg):
        for x, y in (map(float, pair.split(",")) for pair in points.split()):
            assert left - 1 <= x <= left + width + 1
            assert top - 1 <= y <= top + height + 1


@pytest.mark.parametrize("name", DEMOS)
def test_every_demo_s_chances_are_drawn_and_told(name):
    found = plan(DEMOS[name])
    drawing = chances_figure(found.sizes, found.gap.wanted_chance)
    said, shown = description(drawing), texts(drawing)
    for row in found.sizes:
        assert f"{float(row.height_mm):.2f} mm: {row.chance:.1e}" in said
    assert {"accepted", "a size at a mark", "the size of the plan"} <= set(shown)
    assert "nan" not in to_svg(drawing, 480)


STACKS = {
    **{name: plan(made).gap.stack for name, made in DEMOS.items()},
    "touching": GAP,
    "middle at 0": Stack.of(Term("shell", 0.0, 0.2)),
    "just above 0": Stack.of(Term("shell", 0.02, 0.2)),
    "far below": Stack.of(Term("shell", -3.0, 0.2)),
}


@pytest.mark.parametrize("name", STACKS)
def test_words_are_large_enough_lie_on_the_sheet_and_none_meets_another(name):
    is_tidy(tail_figure(STACKS[name]))


@pytest.mark.parametrize("name", DEMOS)
def test_words_of_the_chances_do_too(name):
    found = plan(DEMOS[name])
    is_tidy(chances_figure(found.sizes, found.gap.wanted_chance))


def is_tidy(drawing):
    frames = {}
    for label in (shape for shape in drawing.shapes if isinstance(shape, Label)):
        assert label.size >= 12, label.text
        width = text_width(label.text, label.size)
        left = label.x - {"start": 0, "middle": width / 2, "end": width}[label.anchor]
        frames[label] = (left, label.y - 0.2 * label.size, left + width, label.y + 0.75 * label.size)
        assert left >= -0.5, label.text
        assert left + width <= drawing.width + 0.5, label.text
    for (one, a), (two, b) in combinations(frames.items(), 2):
        apart = a[2] <= b[0] or b[2] <= a[0] or a[3] <= b[1] or b[3] <= a[1]
        assert apart, (one.text, two.text)

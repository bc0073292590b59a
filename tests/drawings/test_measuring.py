"""Pictures of what to measure: true to what they say, nothing cut off, and their bold words are labels of fields."""

from __future__ import annotations

import re
from functools import cache
from itertools import combinations
from xml.etree import ElementTree as ET

import ipywidgets as w
import pytest
from reportlab.pdfbase.pdfmetrics import stringWidth

from modelmath.drawings.measuring import NAMES, panels, picture
from modelmath.drawings.measuring.paper import arc, hatching
from modelmath.drawings.sheets.style import BOLD, PLAIN, load_fonts
from modelmath.errors import UnknownChoice
from modelmath.job.entries.zones import ZoneRow
from modelmath.widgets.common.fields import Field
from modelmath.widgets.inside.all_editors import InsideEditors
from modelmath.widgets.moving import MovingPanel
from modelmath.widgets.plan.screen_fields import first_fields, more_fields
from modelmath.widgets.plan.zones import ZonesEditor

SVG = "{http://www.w3.org/2000/svg}"
EVERY = [(name, at) for name in NAMES for at in range(len(panels(name)))]
LEAST_PX = 10  # of a text on a phone, where a picture is 340 px wide


def root(name, at=0):
    return ET.fromstring(panels(name)[at])


def texts(tree):
    """Every text with its words, whether it labels a field, and its size."""
    for each in tree.iter(f"{SVG}text"):
        lines = [(float(span.get("x")), float(span.get("y")), span.text) for span in each]
        size = float(each.get("font-size", tree.get("font-size")))
        yield lines, each.get("class") == "field", size, each.get("text-anchor")


def frames(tree):
    """The frame of every line of text, in the typeface of data/fonts."""
    load_fonts()
    for lines, bold, size, anchor in texts(tree):
        for x, y, words in lines:
            width = stringWidth(words, BOLD if bold else PLAIN, size)
            left = x - {"start": 0, "middle": width / 2, "end": width}[anchor]
            yield left, y - 0.75 * size, left + width, y + 0.2 * size, words


def fields_of(tree):
    return [" ".join(words for _, _, words in lines) for lines, field, _, _ in texts(tree) if field]


def shapes(tree, name):
    """Every shape of a name by its corners."""
    for path in tree.iter(f"{SVG}path"):
        if path.get("class") == name:
            yield [tuple(map(float, point.split())) for point in re.split("[MLZ]", path.get("d")) if point]


def only(tree, name):
    (found,) = shapes(tree, name)
    return found


@cache
def labels():
    """The labels of all fields of the walkthrough and of the page on what moves."""
    editors = InsideEditors(lambda _job: None)
    zones = ZonesEditor(lambda _job: None)
    groups = [first_fields(), more_fields(), zones.mark, zones._fields(ZoneRow("zone", "", "")), MovingPanel().fields]
    groups += [each.fields for each in editors.every]
    found = {field.label for group in groups for field in group.values()}
    return found | {"Radius of the curve"}


@pytest.mark.parametrize(("name", "at"), EVERY)
def test_a_panel_can_be_heard_and_is_drawn_without_ids(name, at):
    tree = root(name, at)
    assert tree.tag == f"{SVG}svg"
    assert tree.get("role") == "img"
    said = tree.get("aria-label")
    assert len(said.split()) >= 12
    assert said.endswith(".")
    assert not any(each.get("id") for each in tree.iter())
    for field in fields_of(tree):
        assert field in said, f"{field!r} is shown and not said"


@pytest.mark.parametrize(("name", "at"), EVERY)
def test_no_word_leaves_the_sheet_or_meets_another(name, at):
    tree = root(name, at)
    _, _, width, height = map(float, tree.get("viewBox").split())
    placed = list(frames(tree))
    assert placed
    for left, top, right, bottom, words in placed:
        assert left >= 2, words
        assert right <= width - 2, words
        assert top >= 2, words
        assert bottom <= height - 1, words
    for a, b in combinations(placed, 2):
        apart = a[2] <= b[0] or b[2] <= a[0] or a[3] <= b[1] or b[3] <= a[1]
        assert apart, f"{a[4]!r} meets {b[4]!r}"


@pytest.mark.parametrize(("name", "at"), EVERY)
def test_words_stay_readable_on_a_phone(name, at):
    tree = root(name, at)
    width = float(tree.get("viewBox").split()[2])
    assert 340 <= width <= 380
    sizes = {(size, lines[0][2].replace(" g", "").isdigit()) for lines, _, size, _ in texts(tree)}
    assert all(size * 340 / width >= (LEAST_PX if number else 12) for size, number in sizes)


@pytest.mark.parametrize("name", NAMES)
def test_bold_words_are_labels_of_fields(name):
    shown = {field for at in range(len(panels(name))) for field in fields_of(root(name, at))}
    assert shown
    assert not shown - labels()


def test_everything_measured_for_a_plan_has_its_picture():
    """The fields of the first screen that are measured, and what goes in."""
    shown = {field for name, at in EVERY for field in fields_of(root(name, at))}
    measured = [first_fields()[name] for name in ("zero_offset", "chassis", "shell")]
    sizes = ("flange", "width", "inside_length", "speaker_length", "speaker_width", "speaker_depth")
    measured += [more_fields()[name] for name in (*sizes, "decoder_length", "decoder_width", "decoder_height")]
    assert {field.label for field in measured} <= shown


def test_on_the_chassis_the_rule_stands_on_the_seat_and_the_strip_on_the_highest_point():
    tree = root("reading on the chassis")
    chassis, rule, strip = only(tree, "chassis"), only(tree, "rule"), only(tree, "strip")
    frame_bottom = max(y for _, y in chassis)
    seat = max(y for _, y in chassis if y < frame_bottom)
    assert max(y for _, y in rule) == seat
    assert max(y for _, y in strip) == min(y for _, y in chassis)
    assert max(x for x, _ in strip) == min(x for x, _ in rule)  # it touches the edge that has the marks


def test_in_the_shell_the_rule_stands_inside_the_roof_and_the_strip_on_the_edges():
    tree = root("reading in the shell")
    shell, rule, strip = only(tree, "shell"), only(tree, "rule"), only(tree, "strip")
    outside = max(y for _, y in shell)
    inside_of_the_roof = max(y for _, y in shell if y < outside)
    assert max(y for _, y in rule) == inside_of_the_roof
    assert max(y for _, y in strip) == min(y for _, y in shell)
    assert min(x for x, _ in strip) < min(x for x, _ in shell) < max(x for x, _ in shell) < max(x for x, _ in strip)


def test_the_zero_is_found_as_the_picture_says():
    """Block and rule stand on one plate, and the block is read at a whole mark."""
    tree = root("zero of the rule", 1)
    rule, strip = only(tree, "rule"), only(tree, "strip")
    end, reading = max(y for _, y in rule), max(y for _, y in strip)
    marks = {int(lines[0][2]): lines[0][1] - 4 for lines, _, size, _ in texts(tree) if size < 12}
    assert marks[3] == pytest.approx(reading)  # read at the mark 3
    assert marks[0] - marks[1] == pytest.approx(marks[2] - marks[3])
    block = only(tree, "block")
    assert (min(y for _, y in block), max(y for _, y in block)) == (reading, end)


def test_the_caliper_touches_the_inner_faces():
    for at in (0, 1):
        tree = root("inside of the shell", at)
        inner = sorted({x for x, _ in only(tree, "shell")})[1:3]
        fixed, sliding = shapes(tree, "jaw")
        assert min(x for x, _ in fixed) == inner[0]
        tip = max(sliding, key=lambda point: point[1])
        assert tip[0] == inner[1]


def test_the_caliper_holds_the_flange_alone():
    """The flange of the second panel is a named shape of the speaker only in the first: its own edges are level."""
    tree = root("flange", 1)
    fixed, sliding = shapes(tree, "jaw")
    lower, upper = fixed[0][1], sliding[0][1]
    boxes = [path.get("d") for path in tree.iter(f"{SVG}path")]
    edges = [sorted({point.split()[1] for point in re.split("[MLZ]", d) if point}, key=float) for d in boxes]
    assert [f"{upper:g}", f"{lower:g}"] in edges


def test_each_rule_of_the_zones_stands_on_the_seat():
    tree = root("zones", 2)
    chassis = only(tree, "chassis")
    seat = chassis[1][1]
    tops = sorted({y for _, y in chassis if y < seat})
    assert [max(y for _, y in rule) for rule in shapes(tree, "rule")] == [seat, seat]
    assert sorted(max(y for _, y in strip) for strip in shapes(tree, "strip")) == tops


def test_a_picture_holds_its_panels_and_several_stand_together():
    assert picture("flange").count("<svg") == 2
    assert picture("flange", "decoder").count("<svg") == 4
    assert picture("flange").startswith('<div class="mm-figure mm-pair"><svg ')


def test_an_unknown_picture_is_refused():
    text = (
        r"^the picture is 'flanges'; write one of zero of the rule, reading on the chassis, reading in the shell, "
        r"flange, inside of the shell, speaker, speaker to compare, behind the flange, decoder, zones, obstacle, "
        r"cross-section, what moves, weight, lamp, strand and lens\. Did you mean 'flange'\?$"
    )
    with pytest.raises(UnknownChoice, match=text):
        panels("flanges")


def test_hatching_stays_inside_a_hollow_shape():
    """A U: no line crosses the hollow between its arms."""
    shape = [(0, 0), (10, 0), (10, 20), (20, 20), (20, 0), (30, 0), (30, 30), (0, 30)]
    for falling in (False, True):
        lines = hatching(shape, 3, falling)
        assert lines
        for (x0, y0), (x1, y1) in lines:
            assert abs(x1 - x0) == pytest.approx(abs(y1 - y0))
            x, y = (x0 + x1) / 2, (y0 + y1) / 2
            assert not (10 < x < 20 and y < 20)


def test_an_arc_keeps_its_half_axes():
    points = arc(5, 7, 3, 2, 0, 360)
    assert all(((x - 5) / 3) ** 2 + ((y - 7) / 2) ** 2 == pytest.approx(1) for x, y in points)


def test_labels_are_those_of_real_fields():
    """What the pictures are held against comes from the editors themselves."""
    assert isinstance(Field("x").control, w.Text)
    assert {"Height of its top", "Bore of the casting", "Fore-aft mark", "Side play"} <= labels()

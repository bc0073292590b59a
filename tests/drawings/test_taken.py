"""How the heights were read: rules where they stood, marks as they were read, in true proportion."""

from __future__ import annotations

from xml.etree import ElementTree as ET

import pytest
from sheets import demo, least
from spacious import SPACES
from tidy import assert_tidy

from modelmath.drawings.figures.standing_rules import rules_of
from modelmath.drawings.figures.taken import readings_taken, readings_taken_svg
from modelmath.drawings.shapes import Box, Label, Lines
from modelmath.lengths.text import format_length

SVG = "{http://www.w3.org/2000/svg}"
MM_SCALE_FT = 3.5  # a foot in HO, 1:87 as rounded by NEM 010 and NMRA S-1.2: 3.5 mm to the foot


def shapes(drawing, name):
    return [shape for shape in drawing.shapes if getattr(shape, "name", "") == name]


def texts(drawing):
    return [shape.text for shape in drawing.shapes if isinstance(shape, Label)]


def told(drawing):
    return drawing.description


def reads(drawing):
    """The height drawn of each rule, from where it stands to its mark, in the order of their letters."""
    levels = [[line.runs[0][0][1] for line in shapes(drawing, name)] for name in ("foot", "mark read")]
    return [abs(head - foot) for foot, head in zip(*levels, strict=True)]


@pytest.mark.parametrize("beside", [True, False])
def test_it_is_tidy_and_well_formed(any_plan, beside):
    drawing = readings_taken(any_plan, beside)
    assert_tidy(drawing)
    root = ET.fromstring(readings_taken_svg(any_plan, 640 if beside else 350))
    assert root.get("role") == "img"
    assert root.find(f"{SVG}title").text == f"How the heights of {any_plan.job.name} were read"
    assert root.find(f"{SVG}desc").text.startswith("The chassis stands upright, the shell lies on its roof;")


@pytest.mark.parametrize("name", SPACES)
def test_it_is_tidy_with_all_that_stands_there(name):
    assert_tidy(readings_taken(SPACES[name]()))


def test_every_rule_is_as_high_as_what_it_read(any_plan):
    drawing = readings_taken(any_plan)
    drawn, lengths = reads(drawing), [rule.length_mm for rule in rules_of(any_plan)]
    assert len(drawn) == len(lengths)
    units = [high / mm for high, mm in zip(sorted(drawn), sorted(lengths), strict=True)]
    assert units == pytest.approx([units[0]] * len(units))  # chassis and shell have one scale
    known = " ".join(texts(drawing))
    for rule in rules_of(any_plan):
        assert f"{rule.letter}:" in known
        assert any(text.startswith(rule.letter) and text.endswith(rule.mark) for text in texts(drawing))


def test_zones_at_one_height_share_a_rule():
    plan = demo("switcher-ho")
    (roof,) = [rule for rule in rules_of(plan) if rule.roof]
    assert roof.over == ("front weight", "motor clip", "gear tower")
    assert roof.mark == "8 5/8"
    assert len([rule for rule in rules_of(plan) if not rule.roof]) == 3


def test_the_end_stands_on_the_datum_and_the_zero_lies_in_from_it():
    """With zero a foot in from the end, six feet are read seven feet up: least job, 1 ft is 3.5 mm in HO."""
    plan = least()
    chassis, roof = rules_of(plan)
    assert (chassis.length_mm, chassis.zero_mm, chassis.below_mm) == (7 * MM_SCALE_FT, MM_SCALE_FT, 0)
    assert roof.length_mm == 11 * MM_SCALE_FT
    drawing = readings_taken(plan)
    unit = max(reads(drawing)) / roof.length_mm
    bar, foot = shapes(drawing, "rule")[0], shapes(drawing, "foot")[0].runs[0][0][1]
    assert bar.y == pytest.approx(foot)
    assert shapes(drawing, "graduation")[0].runs[0][0][1] - foot == pytest.approx(MM_SCALE_FT * unit)


def test_a_rule_with_its_zero_on_the_seat_reaches_below_it():
    readings = [{"name": "roof", "mark": "10"}, {"name": "chassis top", "mark": "6", "datum": "zero"}]
    plan = least(readings=readings)
    drawing = readings_taken(plan)
    assert rules_of(plan)[0].below_mm == MM_SCALE_FT
    bar, foot = shapes(drawing, "rule")[0], shapes(drawing, "foot")[0].runs[0][0][1]
    unit = max(reads(drawing)) / rules_of(plan)[1].length_mm
    assert foot - bar.y == pytest.approx(MM_SCALE_FT * unit)
    assert "its zero mark on the seat" in told(drawing)


def test_the_shell_lies_on_its_roof_and_is_read_at_its_edge():
    drawing = readings_taken(least())
    roof = shapes(drawing, "foot")[-1].runs[0][0][1]
    edge = shapes(drawing, "mark read")[-1].runs[0][0][1]
    assert roof < edge
    (_, datum) = shapes(drawing, "datum")
    assert datum.runs[0][0][1] == pytest.approx(edge)
    assert {"seat", "edge"} <= set(texts(drawing))
    assert "its end on the inside of the roof, read at the edge that rests on the seat: 10 scale ft" in told(drawing)
    assert "Seat, the datum of every height: the face where the shell rests on the chassis." in told(drawing)


def test_what_was_read_from_the_bench_stands_on_it():
    plan = demo("centre-cab-s")
    drawing = readings_taken(plan)
    (bench,), datum = shapes(drawing, "face"), shapes(drawing, "datum")[0]
    motor = next(rule for rule in rules_of(plan) if rule.face == "bench" and not rule.link)
    below = 5.25 * 304.8 / 64  # the mark 4, with zero 1 1/4 ft in from the end; S is 1:64
    assert motor.face_mm == pytest.approx(below)
    unit = max(reads(drawing)) / max(rule.length_mm for rule in rules_of(plan))
    assert datum.runs[0][0][1] - bench.runs[0][0][1] == pytest.approx(below * unit)
    assert "bench" in texts(drawing)
    above = format_length(plan.depths[1].top.exact_mm, "mm")
    assert f"its end on the bench, read at the top: 6 3/4 scale ft. That is 38.10 mm, {above} above the seat." in (
        told(drawing)
    )
    assert "The seat lies 25.00 mm above the bench, by the reading seat above the bench" in told(drawing)


def test_what_has_only_a_gap_says_so():
    plan = demo("centre-cab-s")
    said = "Over fan shroud the gap from chassis to roof was read itself, 14.30 mm (putty over the fan shroud): no rule"
    assert said in told(readings_taken(plan))
    gap = least(readings=[{"name": "gap", "mark": "3"}], zones=[{"name": "motor", "gap": "gap"}])
    drawing = readings_taken(gap)
    assert_tidy(drawing)
    assert not shapes(drawing, "rule")
    assert "Only gaps were read, so no rule stood on the seat or in the roof." in told(drawing)


def test_repeated_readings_and_spots_are_told():
    text = told(readings_taken(demo("railbus-ho")))
    assert "7 3/4 scale ft, 7 5/8 scale ft, 7 3/4 scale ft, 7 3/4 scale ft. That is 29.71 mm, the mean of 4." in text
    assert "(motor, left side): caliper" in text


def test_the_top_of_what_stands_there_is_read_too():
    drawing = readings_taken(SPACES["standing"]())
    assert "clip top (motor clip): steel rule, its end on the seat, read at the top: 14 mm." in told(drawing)
    (thing,) = [shape for shape in drawing.shapes if isinstance(shape, Box) and shape.name == "thing"]
    unit = max(reads(drawing)) / 30
    assert thing.height == pytest.approx(4 * unit)  # 14 mm over a chassis at 10 mm
    assert thing.width == pytest.approx(10 * unit)  # from 35 mm to 45 mm


def test_panels_stand_one_above_the_other_where_the_figure_is_narrow():
    plan = least()
    wide, narrow = readings_taken(plan, True), readings_taken(plan, False)
    for drawing, beside in ((wide, True), (narrow, False)):
        heads = {shape.text: (shape.x, shape.y) for shape in drawing.shapes if isinstance(shape, Label)}
        first, second = heads["Chassis, upright"], heads["Shell, upside down"]
        assert (first[1] == pytest.approx(second[1])) is beside
        assert (first[0] == second[0]) is not beside


def test_no_line_is_empty(any_plan):
    assert all(shape.runs for shape in readings_taken(any_plan).shapes if isinstance(shape, Lines))

"""Drills by name, and holes for what has to pass them."""

import re
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from modelmath.errors import DoesNotFit, OutOfRange, UnknownChoice, UnreadableLength, WrongKind
from modelmath.materials.drills.bundles import bundle_mm
from modelmath.materials.drills.holes import closest_of, hole_for, pilot_steps
from modelmath.materials.drills.names import drill, nearest_drills
from modelmath.materials.drills.sets import DRILL_SETS, drill_set
from modelmath.materials.drills.typed import diameter_of, plain_number, wire_count, wire_sizes

INCH_MM = Fraction("25.4")  # exact: international yard and pound agreement, 1959
ALL = [each for name in DRILL_SETS for each in drill_set(name)]


def whole(text):
    return f"^{re.escape(text)}$"


@pytest.mark.parametrize("one", ALL, ids=lambda one: one.name)
def test_every_drill_is_found_again_by_its_name(one):
    assert drill(one.name) == one
    assert drill(f"{one.name} drill") == one


@pytest.mark.parametrize(
    ("text", "name"),
    [
        ("no. 67", "#67"),
        ("No 67", "#67"),
        ("number 67", "#67"),
        ("# 67", "#67"),
        ("letter F", "F"),
        ("f", "F"),
        ('1/16"', "1/16 in"),
        ("2/32 in", "1/16 in"),
        ("1/16”", "1/16 in"),
        (".8mm", "0.80 mm"),
        ("0,8 mm", "0.80 mm"),
        (".032 in", "#67"),
        ("0.25 in", "1/4 in"),
    ],
)
def test_other_ways_to_write_a_drill(text, name):
    assert drill(text).name == name


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("67", "'67': it has neither # nor a unit; write #67 for the number drill or 67 mm for its size."),
        ("0.8", "'0.8': it has neither # nor a unit; write 0.8 mm or 0.8 in."),
        ("1/16", "'1/16': it has neither # nor a unit; write 1/16 in."),
        ("#98", "'#98': number drills go from #1 to #97; write #97 for the nearest."),
        ("0.81 mm", "'0.81 mm': no metric drill has this size; write 0.80 mm or 0.82 mm, the nearest."),
        ("5/8 in", "'5/8 in': no fraction drill has this size; write 1/2 in, the nearest."),
        (".0415 in", "'.0415 in': no inch drill has this size; write #59 (0.0410 in) or #58 (0.0420 in), the nearest."),
        ("-1 mm", "'-1 mm': a drill has a size above 0; write #67, F, 1/16 in or 0.8 mm."),
        ("thin", "'thin': no drill is named so; write #67, F, 1/16 in or 0.8 mm."),
    ],
)
def test_what_is_no_drill_is_refused_with_the_nearest(text, said):
    with pytest.raises(UnreadableLength, match=whole(said)):
        drill(text)


def test_drills_about_a_67():
    """ANSI/ASME B94.11M: #67 is 0.0320 in, #68 0.0310 in; 1/32 in is 0.03125 in."""
    number, letter, fraction, metric = nearest_drills(INCH_MM * Fraction("0.0320"))
    assert (number.below.name, number.above.name, number.is_there) == ("#68", "#67", True)
    assert (letter.below, letter.above.name, letter.nearest.name) == (None, "A", "A")
    assert (fraction.below.name, fraction.above.name, fraction.nearest.name) == ("1/32 in", "3/64 in", "1/32 in")
    assert (metric.below.name, metric.above.name, metric.is_there) == ("0.80 mm", "0.82 mm", False)


@given(st.floats(0.05, 20), st.sampled_from(DRILL_SETS))
def test_nothing_lies_between_the_drills_on_either_side(diameter, set_name):
    (near,) = nearest_drills(diameter, (set_name,))
    sizes = [each.exact_mm for each in drill_set(set_name)]
    assert (near.below.exact_mm if near.below else None) == max((s for s in sizes if s < near.wanted_mm), default=None)
    assert (near.above.exact_mm if near.above else None) == min((s for s in sizes if s >= near.wanted_mm), default=None)
    assert abs(near.nearest.exact_mm - near.wanted_mm) == min(abs(size - near.wanted_mm) for size in sizes)


@given(st.floats(0.05, 2), st.integers(1, 20), st.floats(0, 0.5), st.sets(st.sampled_from(DRILL_SETS)))
def test_a_hole_passes_what_it_must(diameter, count, clearance, sets):
    sets |= {"fraction"}  # one that reaches
    hole = hole_for("bundle", diameter, count, clearance_mm=clearance, sets=sorted(sets))
    needed = bundle_mm(diameter, count) + clearance
    assert all(pick.diameter_mm >= needed - 3e-6 for pick in hole.picks)
    assert {pick.set for pick in hole.picks} | set(hole.beyond) == sets
    assert hole.best.diameter_mm == min(pick.diameter_mm for pick in hole.picks)
    assert all(step.drill is None or step.drill.diameter_mm < hole.best.diameter_mm for step in hole.pilots)
    assert (hole.best.caution != "") == (hole.best.diameter_mm <= 0.0400 * 25.4)


def test_a_30_thou_strand():
    """Common practice, no source: 0.762 + 0.05 = 0.812 mm, a #67 is 0.8128 mm; one diameter left to the edge."""
    hole = hole_for("strand", 0.762, sets=("number",))
    assert hole.best.name == "#67"
    assert hole.from_edge_mm == pytest.approx(1.5 * 0.8128)
    assert hole.apart_mm == pytest.approx(2 * 0.8128)
    wider = hole_for("strand", 0.762, sets=("number",), plastic_left=2)
    assert wider.from_edge_mm == pytest.approx(2.5 * 0.8128)
    assert closest_of([drill("#68"), drill("0.82 mm"), drill("#60")], hole).name == "0.82 mm"
    assert closest_of([drill("#68")], hole) is None


def test_pilots_are_about_half_of_the_next():
    """Common practice, no source: about half, for holes over about 3 mm."""
    assert pilot_steps(3.0) == ()
    assert [step.drill.name for step in pilot_steps(12.7, ("fraction",))] == ["1/16 in", "1/8 in", "1/4 in"]
    (step,) = pilot_steps(6.0, ("letter",))
    assert (step.wanted_mm, step.drill) == (3.0, None)


def test_sets_that_do_not_reach_are_named():
    hole = hole_for("wire", 6.0)
    assert hole.beyond == ("number", "metric")
    assert [pick.name for pick in hole.picks] == ["C", "1/4 in"]


@pytest.mark.parametrize(
    ("call", "kind", "text"),
    [
        (lambda: hole_for("pin", 1), UnknownChoice, "what passes is 'pin'; write one of strand, wire, bundle."),
        (
            lambda: hole_for("wire", 1, 2),
            OutOfRange,
            "count is 2; it must be 1 for a wire. Write bundle for more than one.",
        ),
        (
            lambda: hole_for("wire", (1, 2)),
            WrongKind,
            "diameter_mm is several sizes; expected one size. Give several for a bundle, without a count.",
        ),
        (
            lambda: hole_for("wire", 1, plastic_left=-1),
            OutOfRange,
            "plastic_left is -1 diameters; it must be from 0 to 10 diameters. Write 1 for one diameter.",
        ),
        (
            lambda: hole_for("wire", 1, plastic_left="1"),
            WrongKind,
            "plastic_left is '1'; expected a number of diameters. Write 1 for one diameter.",
        ),
        (
            lambda: hole_for("wire", 1, sets=()),
            OutOfRange,
            "sets is empty; it must be one drill set or more. Write some of number, letter, fraction, metric.",
        ),
        (
            lambda: hole_for("wire", 6, sets=("number",)),
            DoesNotFit,
            (
                "A diameter of 6.00 mm with 0.05 mm round it does not fit: 0.26 mm too little, "
                "because the largest drill at "
                "hand is #1, 5.79 mm. Add the letter set."
            ),
        ),
        (
            lambda: wire_sizes(" ; "),
            UnreadableLength,
            (
                "';': nothing is written here; write sizes with their units, parted by semicolons, such as 3 x 0.6 mm; "
                "1.1 mm."
            ),
        ),
        (
            lambda: wire_sizes("21 x 1 mm"),
            UnreadableLength,
            (
                "'21 x 1 mm': a bundle is of 1 to 20 wires here; write fewer, or measure a "
                "thicker bundle and take it as one "
                "wire."
            ),
        ),
        (lambda: diameter_of("0.6"), UnreadableLength, "'0.6': it has no unit; write .030 in or 0.76 mm."),
        (lambda: diameter_of("0 mm"), UnreadableLength, "'0 mm': it is not above 0; write .030 in or 0.76 mm."),
        (
            lambda: diameter_of("-1 mm", zero=True),
            UnreadableLength,
            "'-1 mm': it is below 0; write .030 in or 0.76 mm.",
        ),
        (lambda: plain_number("warm", -50, 150, "20"), UnreadableLength, "'warm': it is no plain number; write 20."),
        (lambda: plain_number("200", -50, 150, "20"), UnreadableLength, "'200': it is not from -50 to 150; write 20."),
        (lambda: wire_count("2.5"), UnreadableLength, "'2.5': it is no whole number; write 7 for seven wires."),
    ],
)
def test_what_makes_no_hole_is_refused(call, kind, text):
    with pytest.raises(kind, match=whole(text)):
        call()

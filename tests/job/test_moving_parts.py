"""What moves inside the shell, from the document to the bulkhead."""

from __future__ import annotations

from fractions import Fraction
from math import asin, cos, sin

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from sample_jobs import DEMOS, SMALLEST, job, with_chamber

from modelmath import plan
from modelmath.job.bench.bench import Bench
from modelmath.job.document import Job

FOOT = Fraction(7, 2)
READINGS = [
    *SMALLEST["readings"],
    {"name": "width", "mark": "5"},
    {"name": "length", "mark": "19", "on": "shell"},
    {"name": "pivot", "mark": "9", "on": "shell"},  # 35 mm from the front end
    {"name": "shaft end", "mark": "13", "on": "shell"},
]
TRUCK = {
    "name": "truck",
    "kind": "truck",
    "at": "pivot",
    "top": "truck top",
    "ahead": "10 mm",
    "behind": "8 mm",
    "width": "15 mm",
    "running": "0.6 mm",
}
TOWER = {"name": "tower", "kind": "gear tower", "on": "truck", "top": "motor top", "ahead": "3 mm", "behind": "4 mm"}
TOWER["width"] = "8 mm"


def with_moving(*moving, top="6", **fields):
    readings = [*READINGS, {"name": "truck top", "mark": top}]
    return with_chamber(readings=readings, moving=list(moving), **fields)


def box(made, place=0):
    return Bench(made).moving[place].obstacle


def faults(*moving, **fields):
    return [str(fault) for fault in Bench(with_moving(*moving, **fields), "hood.toml").faults]


def test_a_truck_that_only_stands_is_its_box_and_its_running_clearance():
    found = box(with_moving(TRUCK))
    sizes = (found.start_mm, found.end_mm, found.half_width_mm, found.top_mm, found.bottom_mm)
    by_hand = (35 - 10.6, 35 + 8.6, 8.1, 7 * 3.5 + 0.6, 7 * 3.5 - 10 - 0.6)
    assert [float(getattr(each, "n", each)) for each in sizes] == pytest.approx(by_hand)


@given(st.floats(200, 900), st.floats(20, 90), st.floats(0, 1))
def test_a_truck_turns_by_the_curve_and_plays_sideways(radius, pivots, play):
    """Yaw asin(a / 2R); a corner at (x, y) turns to x cos + y sin, y cos + x sin: elementary geometry."""
    made = with_moving(
        {**TRUCK, "side_play": f"{play:.9f} mm"}, curve={"radius": f"{radius} mm", "pivots": f"{pivots} mm"}
    )
    found, yaw = box(made), asin(pivots / (2 * radius))
    assert 35 - 0.6 - float(found.start_mm.n) == pytest.approx(10 * cos(yaw) + 7.5 * sin(yaw), abs=1e-6)
    wide = 7.5 * cos(yaw) + 10 * sin(yaw) + float(f"{play:.9f}") + 0.6
    assert float(found.half_width_mm.n) == pytest.approx(wide, abs=1e-6)


def test_each_kind_reaches_where_it_was_entered():
    """By hand, from the marks in mm: pivot 35, shaft end 49, motor top 22.75, truck top 24.5."""
    shaft = {"name": "shaft", "kind": "drive line", "at": "pivot", "to": "shaft end", "top": "truck top",
             "diameter": "4 mm", "wobble": "0.2 mm"}  # fmt: skip
    wheel = {"name": "wheel", "kind": "flywheel", "at": "pivot", "top": "truck top", "diameter": "12 mm",
             "width": "5 mm", "end_play": "0.3 mm", "running": "1 mm"}  # fmt: skip
    made = with_moving(TOWER, TRUCK, shaft, wheel)
    found = {each.entry.name: each.obstacle.outward() for each in Bench(made).moving}
    assert set(found) == {"tower", "truck", "shaft", "wheel"}  # a tower may stand above its truck in the file
    assert float(found["tower"].start_mm) == pytest.approx(35 - 3 - 0.5, abs=0.002)
    assert float(found["tower"].top_mm) == pytest.approx(22.75 + 0.5, abs=0.002)
    assert float(found["shaft"].top_mm) == pytest.approx(24.5 + 0.2 + 0.5, abs=0.002)
    assert float(found["shaft"].start_mm) <= 35 - 0.5
    assert float(found["shaft"].end_mm) >= 49 + 0.5
    assert float(found["wheel"].top_mm) == pytest.approx(24.5 + 1, abs=0.002)
    assert float(found["wheel"].start_mm) == pytest.approx(35 - 2.5 - 0.3 - 1, abs=0.002)


def test_a_truck_that_governs_keeps_its_running_clearance_and_not_the_clearance_on_top():
    """Truck top 24.5 + 0.6; 11.375 of space: 10.5 + 0.27 with zone clearance 0.875 would give one mark less."""
    found = plan(with_moving(TRUCK))
    assert (found.governing.moving, found.governing.name) == ("truck", "truck")
    assert found.gap.kept_mm == Fraction("0.6")
    assert found.space.exact_mm == Fraction("35.875") - Fraction("24.5")
    assert found.chamber_height_mm == 3 * FOOT
    assert found.gap.left_mm == Fraction("0.875")
    assert found.gap.stack.terms[0].name == "roof over motor down to truck"
    wide = plan(with_moving({**TRUCK, "running": "0.9 mm"}))
    assert wide.chamber_height_mm == Fraction(11, 4) * FOOT  # 0.875 left would be too little


def test_what_is_painted_is_kept_clear_of_the_truck_too_and_counts_once():
    found = plan(with_moving(TRUCK, allow=[{"name": "tape", "thickness": "0.2 mm", "tolerance": "0 mm"}]))
    assert found.gap.kept_mm == Fraction("0.6")
    assert found.gap.left_mm == found.space.exact_mm - found.chamber_height_mm - Fraction("0.2")
    assert found.gap.left_mm >= found.gap.kept_mm
    assert found.gap.stack.nominal == pytest.approx(float(found.gap.left_mm))


def test_the_uncertainty_of_its_top_reaches_the_gap():
    names = {term.name for term in plan(with_moving(TRUCK)).gap.stack.terms}
    assert {"reading of truck top", "reading of roof"} <= names
    assert "reading of motor top" not in names
    figure = plan(with_moving(TRUCK)).why("truck: highest").figure
    assert next(share.source for share in figure.budget) == "reading of truck top"


def test_one_below_the_chassis_changes_nothing():
    low = plan(with_moving(TRUCK, top="4"))
    bare = plan(with_moving())
    assert low.chamber_height_mm == bare.chamber_height_mm
    assert low.chamber == bare.chamber
    assert low.gap == bare.gap
    assert low.spots[0].name == bare.spots[0].name  # it is a spot of its own, well below the others
    assert {spot.name for spot in low.spots} - {spot.name for spot in bare.spots} == {"truck", "the speaker over truck"}


@settings(max_examples=20)
@given(st.sampled_from(["4", "5 1/2", "6", "6 1/2"]), st.floats(0, 0.8))
def test_a_part_never_makes_the_chamber_larger_nor_keeps_less(top, running):
    entry = {**TRUCK, "running": f"{running:.6f} mm"}
    found, bare = plan(with_moving(entry, top=top)), plan(with_moving(top=top))
    assert found.enclosure.candidates[0].volume_mm3 <= bare.enclosure.candidates[0].volume_mm3
    assert found.gap.left_mm >= found.gap.kept_mm


FAULTS = [
    (
        [{**TRUCK, "ahead": None}],
        (
            "moving part 1 ('truck'): the truck is without its ahead; expected all of its sizes. "
            'Write ahead = "12 mm", measured on the model.'
        ),
    ),
    (
        [{**TRUCK, "top": "truck tp"}],
        "moving part 1 ('truck'), top: the reading is 'truck tp'; write 'truck top' or 'motor top'.",
    ),
    (
        [{**TRUCK, "at": None}],
        (
            "moving part 1 ('truck'): the truck is without its place along the length; expected a reading for at. "
            "Read it from the chassis' front end, and fill in the table [length]."
        ),
    ),
    (
        [{**TRUCK, "name": "motor"}],
        (
            "moving part 1 ('motor'): the name is 'motor'; expected a name that no zone has. Give one of the two "
            "another."
        ),
    ),
    (
        [TRUCK, TRUCK],
        (
            "moving part 2 ('truck'), name: the name is 'truck'; expected a name that stands once. Give one of the "
            "two another."
        ),
    ),
    (
        [{**TRUCK, "behind": "8"}],
        (
            "moving part 1 ('truck'), behind: '8': it has no unit; write a number with a unit, such as 15.9 mm, "
            ".040 in or 3 3/4 scale ft."
        ),
    ),
    (
        [TOWER],
        (
            "moving part 1 ('tower'): the gear tower is without a truck that carries it; expected a truck among what "
            'moves. Add one with kind = "truck", and name it under on.'
        ),
    ),
    (
        [TRUCK, {**TOWER, "on": "trck"}],
        "moving part 2 ('tower'), on: the truck it moves with is 'trck'; write 'truck'.",
    ),
    (
        [{**TRUCK, "rock": "40 mm"}],
        (
            "moving part 1 ('truck'), rock: rise of the end is 40 mm; it must be less than its distance from the axis, "
            "10 mm. Measure how far the end lifts from level, such as 0.5 mm."
        ),
    ),
]


@pytest.mark.parametrize(("moving", "message"), FAULTS)
def test_a_part_that_makes_no_sense_is_one_fault_at_its_place(moving, message):
    assert faults(*moving) == [f"hood.toml, {message}"]


def test_a_curve_too_sharp_or_without_unit_is_a_fault():
    assert faults(TRUCK, curve={"radius": "10 mm", "pivots": "300 mm"}) == [
        (
            "hood.toml, curve, radius: radius of the curve is 10.00 mm; it must be above 150.00 mm for "
            "pivots so far apart. Write the radius to the middle of the track, with its unit, such as 18 in."
        )
    ]
    unit = "it has no unit; write a number with a unit, such as 15.9 mm, .040 in or 3 3/4 scale ft."
    assert faults(TRUCK, curve={"radius": "15", "pivots": "62 mm"}) == [f"hood.toml, curve, radius: '15': {unit}"]
    # Also where nothing turns yet.
    assert faults(curve={"radius": "15 in", "pivots": "62"}) == [f"hood.toml, curve, pivots: '62': {unit}"]


def test_a_part_without_places_along_the_length_is_refused():
    readings = [*SMALLEST["readings"], {"name": "truck top", "mark": "6"}, {"name": "pivot", "mark": "9"}]
    (fault,) = Bench(job(readings=readings, moving=[TRUCK])).faults
    assert "without its place along the length" in str(fault)


def test_the_demo_s_flywheel_governs_and_its_room_is_told():
    found = plan(DEMOS["railbus-ho"])
    assert found.governing.moving == "flywheel"
    assert found.gap.kept_mm == Fraction(1, 2)
    assert "flywheel: highest" in found.figures["space at the bulkhead"].follows_from
    turned = found.figures["power truck: highest"]
    assert "turned by 4.7 degrees" in turned.how  # asin(62 / 2 / 381), by hand 4.67
    assert {"sharpest curve", "distance of the pivots"} <= set(turned.follows_from)


def test_a_truck_that_is_not_said_to_turn_is_minded():
    straight = DEMOS["railbus-ho"].model_copy(update={"curve": None})
    said = plan(straight).warnings
    assert any("counts as standing straight: add the table [curve] with radius and pivots." in each for each in said)
    assert not any("standing straight" in each for each in plan(DEMOS["railbus-ho"]).warnings)


def test_what_sweeps_into_the_sides_of_the_shell_is_minded():
    wide = DEMOS["railbus-ho"].model_copy(deep=True)
    wide.moving[0].side_play = "6 mm"
    half = float(plan(wide).bench.moving[0].obstacle.outward().half_width_mm) - 25.36 / 2
    assert f"The power truck sweeps {half:.2f} mm further to the side" in " ".join(plan(wide).warnings)
    assert "further to the side" not in " ".join(plan(DEMOS["railbus-ho"]).warnings)


@pytest.mark.parametrize(
    ("change", "path"),
    [
        ({"curve": {"radius": "1 in", "pivots": "62 mm"}}, ("curve", "radius")),
        ({"rock": "40 mm"}, ("moving", 0, "rock")),
        ({"width": None}, ("moving", 0)),
    ],
)
def test_a_fault_of_a_truck_is_one_fault_at_its_own_field(change, path):
    """What stands on a truck that can't be read is not told as a second fault."""
    document = DEMOS["railbus-ho"].model_dump()
    for key, value in change.items():
        if key == "curve":
            document[key] = value
        else:
            document["moving"][0][key] = value
    (fault,) = Bench(Job.model_validate(document)).faults
    assert fault.path == path


def test_a_gear_tower_on_no_truck_is_told_at_that_field():
    document = DEMOS["railbus-ho"].model_dump()
    document["moving"][1]["on"] = "pover truck"
    (fault,) = Bench(Job.model_validate(document)).faults
    assert (fault.path, fault.write) == (("moving", 1, "on"), "write 'power truck'")

"""A shell hinged at one end: what it carries against the chassis as it opens."""

from __future__ import annotations

from fractions import Fraction
from math import hypot

import pytest
from sample_jobs import DEMOS, job, with_chamber

from modelmath import plan
from modelmath.job.bench.bench import Bench

FOOT = Fraction(7, 2)
READINGS = [
    {"name": "roof", "mark": "9 1/4"},
    {"name": "front top", "mark": "4"},
    {"name": "motor top", "mark": "8"},
    {"name": "width", "mark": "5"},
    {"name": "length", "mark": "29", "on": "shell"},
    {"name": "front ends", "mark": "18", "on": "shell"},
]
ZONES = [
    {"name": "front", "underside": "roof", "chassis_top": "front top", "width": "width", "end": "front ends"},
    {"name": "motor", "underside": "roof", "chassis_top": "motor top", "width": "width"},
]


def hinged(end, height="0 mm", **fields):
    return with_chamber(readings=READINGS, zones=ZONES, lift_off={"end": end, "height": height}, **fields)


def test_a_shell_that_is_not_hinged_or_has_no_chamber_is_not_asked():
    assert plan(with_chamber()).lift is None
    assert plan(job(lift_off={"end": "rear"})).lift is None


def test_the_hinge_stands_at_the_end_that_was_entered_and_at_its_height():
    found = plan(hinged("rear", "2 mm"))
    edges = found.bench.ends.edges
    assert found.lift.hinge_mm == (edges[-1].exact_mm, 2)
    assert plan(hinged("front")).lift.hinge_mm == (edges[0].exact_mm, 0)
    assert found.lift.end == "rear"


def test_hinged_beside_the_high_motor_the_bulkhead_swings_into_it_or_clears_by_geometry():
    """A wall over the front weight, ahead of the motor: turning about the rear, its lower edge moves up and back.

    The lower edge's far corner stands on an arc about the hinge; it meets the motor's front face where the radius
    to that corner reaches past the face at a height below the motor's top. Hinged at the front it swings away.
    """
    found = plan(hinged("rear"))
    chamber, hinge = found.chamber, found.bench.ends.edges[-1].exact_mm
    assert (chamber.governing.cause.name, chamber.rear_wall) == ("front", True)
    face, low = found.bench.ends.edges[1].exact_mm, Fraction(9) * FOOT
    corner = (hinge - chamber.end_mm, chamber.floor_mm)
    radius, near = hypot(*map(float, corner)), float(hinge - face)
    assert radius > near  # the corner can reach the face
    at_face = (radius**2 - near**2) ** 0.5  # height at which the arc crosses it
    assert found.lift.passes == (at_face >= float(low))
    assert plan(hinged("front")).lift.passes


def test_a_shell_that_hits_is_said_among_the_warnings():
    found = plan(hinged("rear"))
    assert not found.lift.passes
    said = [each for each in found.warnings if each.startswith("As the shell comes off, hinged at the rear: ")]
    assert said == [f"As the shell comes off, hinged at the rear: {found.lift.verdict}"]
    away = plan(hinged("front"))
    assert not any(each.startswith("As the shell comes off") for each in away.warnings)


def test_the_demo_comes_off():
    found = plan(DEMOS["railbus-ho"])
    assert found.lift.passes
    assert found.lift.closest.against.name == "the flywheel as it turns"


@pytest.mark.parametrize(
    ("height", "message"),
    [
        (
            "3",
            (
                "lift_off, height: '3': it has no unit; write a number with a unit, such as 15.9 mm, .040 in or "
                "3 3/4 scale ft."
            ),
        ),
        ("-1 mm", "lift_off, height: the length is '-1 mm'; it must be 0 or more. Check the sign."),
    ],
)
def test_a_hinge_that_makes_no_sense_is_a_fault_also_without_a_chamber(height, message):
    for made in (hinged("rear", height), job(lift_off={"end": "rear", "height": height})):
        assert [str(fault) for fault in Bench(made, "hood.toml").faults] == [f"hood.toml, {message}"]

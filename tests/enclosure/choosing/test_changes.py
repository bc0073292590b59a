"""What a chamber is fitted into, with one thing changed in it: all worked out by hand."""

from __future__ import annotations

from fractions import Fraction

import pytest

from modelmath.enclosure import Cavity, Limits, Obstacle, Profile, Zone
from modelmath.enclosure.choosing.changes import Given, with_roof, with_width
from modelmath.enclosure.choosing.readings import readings
from modelmath.enclosure.choosing.remedies import remedies

HALF = Fraction(1, 2)
ZONES = Zone("cab", 0, 20, 5, 15, 24), Zone("motor", 20, 60, 9, 15, 10)
LEDGED = Zone("hood", 0, 30, 4, 14, 16, Profile(((0, 8), (10, 8), (10, 6), (14, 3))))


@pytest.mark.parametrize(
    ("wire_path", "wall", "fits"),
    [(9, 1, False), (Fraction(899, 100), 1, True), (8, 2, False), (30, 1, False), (0, 10, True)],
)
def test_a_wire_path_and_its_wall_must_leave_some_of_the_narrowest_width(wire_path, wall, fits):
    """Of 10 mm over the motor; the 24 mm over the cab don't help. Without a path its wall does not stand."""
    assert Given(Cavity(ZONES), Limits(1, wall_mm=wall, wire_path_mm=wire_path)).fits() is fits


def test_a_wider_section_is_wider_by_half_as_much_on_either_side_at_every_height():
    job = Given(Cavity((LEDGED, *(Zone("cab", 30, 50, 5, 15, 24),))), Limits(1))
    wider = with_width(job, 0, 3).cavity.zones
    assert wider[0].profile.points == ((0, 8 + 3 * HALF), (10, 8 + 3 * HALF), (10, 6 + 3 * HALF), (14, 3 + 3 * HALF))
    assert wider[0].width_mm == 19
    assert wider[1] == job.cavity.zones[1]
    # A float keeps its exact value.
    exact = with_width(job, 0, 0.25).cavity.zones[0].profile.points
    assert exact[-1] == (14, Fraction(25, 8))
    assert isinstance(exact[-1][1], Fraction)


def test_a_section_says_how_wide_it_is_and_so_no_inside_width_is_read():
    job = Given(Cavity((LEDGED, Zone("cab", 30, 50, 5, 15, 24), Zone("end", 50, 60, 5, 15, 20))), Limits(1))
    assert [each.what for each in readings(job) if each.kind == "inside width"] == ["cab", "end"]


def test_what_stands_up_to_a_roof_goes_up_with_it():
    """Only what reaches the roof and stands under it: not what is lower, and not what ends where the zone begins."""
    tops = {
        "post": Obstacle("post", 22, 24, 4, -5, 15),
        "higher": Obstacle("higher", 30, 32, 4, -5, 16),
        "lower": Obstacle("lower", 26, 28, 4, -5, 14),
        "ahead": Obstacle("ahead", 10, 20, 4, -5, 15),
        "behind": Obstacle("behind", 60, 62, 4, -5, 15),
        "across": Obstacle("across", 19, 21, 4, -5, 15),
    }
    job = Given(Cavity(ZONES, obstacles=tuple(tops.values())), Limits(1))
    changed = with_roof(job, 1, 3)
    assert [each.roof_mm for each in changed.cavity.zones] == [15, 18]
    found = {each.name: each.top_mm for each in changed.cavity.obstacles}
    assert found == {"post": 18, "higher": 18, "lower": 14, "ahead": 15, "behind": 15, "across": 18}


@pytest.mark.parametrize("wire_path", [9, 12, 30])
def test_a_wire_path_as_wide_as_the_shell_is_made_narrower(wire_path):
    """10 mm less a wall of 1 mm, and a hundredth for the chamber: 8.99 mm; of the wall itself 0.99 mm beside 9 mm."""
    found = {each.kind: each.needed_mm for each in remedies(Cavity(ZONES), Limits(1, wire_path_mm=wire_path))}
    assert found["wire path"] == Fraction(899, 100)
    assert found.get("wall thickness") == (Fraction(99, 100) if wire_path == 9 else None)

"""Trucks that tip about their axis, and what stands on them: how far they get, by hand; what is refused."""

from __future__ import annotations

import re
from dataclasses import replace
from math import cos, radians, sin

import pytest

from modelmath.enclosure.mechanism import GearTower, Truck
from modelmath.errors import ModelMathError

TRUCK = Truck("truck", 100, 12, 9, 10, -6, 3, axis_mm=-1)
TIP = radians(5)


def sides(room):
    return room.start_mm, room.end_mm, room.half_width_mm, room.bottom_mm, room.top_mm


def near(*values):
    return tuple(pytest.approx(each) for each in values)


def test_at_rest_it_takes_what_it_is():
    assert sides(TRUCK.envelope()) == near(88, 109, 5, -6, 3)
    moved = replace(TRUCK, side_play_mm=0.5, end_play_mm=0.25, running_mm=1)
    assert sides(moved.envelope()) == near(86.75, 110.25, 6.5, -7, 4)
    assert moved.envelope().running_mm == 1
    assert (moved.envelope().name, moved.envelope().words) == ("truck", "the truck at full swing")


def test_rocking_about_its_axis_its_far_end_rises_and_falls():
    """Its top lies 4 mm over the axis, its bottom 5 mm below; the farther end 12 mm from the pivot."""
    assert sides(replace(TRUCK, rock_rad=TIP).envelope()) == near(
        100 - 12 * cos(TIP) - 5 * sin(TIP),
        100 + 9 * cos(TIP) + 5 * sin(TIP),
        5,
        -6 - (5 * cos(TIP) + 12 * sin(TIP) - 5),
        3 + 4 * cos(TIP) + 12 * sin(TIP) - 4,
    )


def test_rolling_about_its_axis_its_sides_rise_and_fall():
    up, down = 4 * cos(TIP) + 5 * sin(TIP), 5 * cos(TIP) + 5 * sin(TIP)
    assert sides(replace(TRUCK, roll_rad=TIP).envelope()) == near(88, 109, down, -6 - down + 5, 3 + up - 4)


def test_about_an_axis_that_is_not_known_the_worst_counts():
    """Between bottom and top: about its top the top rises most, and its bottom, 9 mm below that, leans out most."""
    assert sides(replace(TRUCK, rock_rad=TIP, axis_mm=None).envelope()) == near(
        100 - 12 * cos(TIP) - 9 * sin(TIP), 100 + 9 * cos(TIP) + 9 * sin(TIP), 5, -6 - 12 * sin(TIP), 3 + 12 * sin(TIP)
    )


def test_a_tower_on_it_moves_with_it():
    """From 2 to 6 mm behind the pivot, 4 mm wide, up to 11 mm: 12 mm over the axis."""
    tower = GearTower(TRUCK, -2, 6, 4, 11)
    assert (tower.name, sides(tower.envelope())) == ("gear tower of the truck", near(102, 106, 2, -6, 11))
    rocked = replace(tower, truck=replace(TRUCK, rock_rad=TIP, running_mm=1))
    assert sides(rocked.envelope()) == near(
        100 + 2 * cos(TIP) - 12 * sin(TIP) - 1,
        100 + 6 * cos(TIP) + 12 * sin(TIP) + 1,
        3,
        -6 - (5 * cos(TIP) + 6 * sin(TIP) - 5) - 1,
        11 + 12 * cos(TIP) + 6 * sin(TIP) - 12 + 1,
    )
    own = replace(rocked, running_mm=0)
    assert own.envelope().running_mm == 0
    assert own.envelope().top_mm == pytest.approx(rocked.envelope().top_mm - 1)
    assert GearTower(TRUCK, -2, 6, 4, 11, name="worm").name == "worm"


@pytest.mark.parametrize(
    ("make", "text"),
    [
        (lambda: replace(TRUCK, pivot_mm=float("inf")), "truck: place of its pivot is inf mm; it must be a finite"),
        (lambda: replace(TRUCK, axis_mm=float("nan")), "truck: height of its axis is nan mm; it must be a finite"),
        (lambda: replace(TRUCK, ahead_mm=-9), "truck: length is 0.00 mm; it must be above 0."),
        (lambda: replace(TRUCK, width_mm=0), "truck: width is 0 mm; it must be above 0."),
        (lambda: replace(TRUCK, top_mm=-6), "truck: top is at -6.00 mm, with its bottom at -6.00 mm; it must be above"),
        (lambda: replace(TRUCK, rock_rad=-0.1), "truck: rock is -5.72958 degrees; it must be from 0 to below 90"),
        (lambda: replace(TRUCK, roll_rad=2), "truck: roll is 114.592 degrees; it must be from 0 to below 90 degrees."),
        (lambda: replace(TRUCK, yaw_rad="6"), "truck: yaw is '6'; expected an angle in radians."),
        (lambda: GearTower(TRUCK, -6, 6, 4, 11), "gear tower of the truck: length is 0.00 mm; it must be above 0."),
        (lambda: GearTower(TRUCK, -2, 6, 0, 11), "gear tower of the truck: width is 0 mm; it must be above 0."),
        (
            lambda: GearTower(TRUCK, -2, 6, 4, -6),
            "gear tower of the truck: top is at -6.00 mm, with its bottom at -6.00",
        ),
        (
            lambda: GearTower(TRUCK, -2, 6, 4, 11, -1),
            "gear tower of the truck: running clearance is -1 mm; it must be 0",
        ),
    ],
)
def test_what_can_not_be_is_refused(make, text):
    with pytest.raises(ModelMathError, match=f"^{re.escape(text)}"):
        make()

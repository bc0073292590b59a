"""Envelopes of moving parts: every drawn position lies inside, with the running clearance left."""

from __future__ import annotations

import re
from dataclasses import replace
from fractions import Fraction
from math import asin, cos, hypot, radians, sin

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely.affinity import rotate
from shapely.geometry import box
from uncertainties import ufloat

from modelmath.enclosure.mechanism import (
    DriveLine,
    Flywheel,
    GearTower,
    Truck,
    hinged_bulkhead,
    keep_words,
    lift_off,
    truck_of_size,
    truck_words,
)
from modelmath.enclosure.mechanism.asked import check_curve, too_wide_at_rest
from modelmath.enclosure.mechanism.kinds import check_finite, check_least
from modelmath.errors import OutOfRange, WrongKind

PLAIN = Truck("front truck", -35, 15, 15, 18, -6, 7)
angle = st.floats(0, radians(12))
little = st.floats(0, 1.5)


@st.composite
def trucks(draw: st.DrawFn, level: bool = False) -> Truck:
    """Trucks of invented sizes; level ones don't tip."""
    ahead, behind = draw(st.floats(3, 30)), draw(st.floats(3, 30))
    tips = (0.0, 0.0) if level else (draw(st.floats(0, 0.08)), draw(st.floats(0, 0.08)))
    return Truck(
        "front truck", draw(st.floats(-60, 60)), ahead, behind, draw(st.floats(5, 30)), -6, draw(st.floats(2, 12)),
        draw(angle), draw(little), draw(little), *tips, draw(little), draw(st.none() | st.floats(-6, 2)),
    )  # fmt: skip


def tipped(point: tuple[float, float, float], truck: Truck, axis: float, turns: tuple[float, float, float]):
    """A point of the truck, from the pivot and above the seat, rolled, rocked and turned."""
    x, y, z = point[0], point[1], point[2] - axis
    roll, rock, yaw = turns
    y, z = y * cos(roll) + z * sin(roll), -y * sin(roll) + z * cos(roll)
    x, z = x * cos(rock) + z * sin(rock), -x * sin(rock) + z * cos(rock)
    x, y = x * cos(yaw) - y * sin(yaw), x * sin(yaw) + y * cos(yaw)
    return truck.pivot_mm + x, y, z + axis


def positions(truck: Truck):
    """Every combination of the ends, middles and quarters of the three turns and the two plays, and of the axis."""
    shares = (-1, -0.5, 0, 0.5, 1)
    axes = (truck.bottom_mm, (truck.bottom_mm + truck.top_mm) / 2, truck.top_mm)
    for axis in axes if truck.axis_mm is None else (truck.axis_mm,):
        for roll in shares[::2]:
            for rock in shares[::2]:
                for yaw in shares:
                    turns = (roll * truck.roll_rad, rock * truck.rock_rad, yaw * truck.yaw_rad)
                    yield axis, turns


def holds(found, truck: Truck, points, running: float) -> bool:
    for axis, turns in positions(truck):
        for point in points:
            x, y, z = tipped(point, truck, axis, turns)
            if not (
                found.start_mm + running - 1e-9 <= x - truck.end_play_mm
                and x + truck.end_play_mm <= found.end_mm - running + 1e-9
                and abs(y) + truck.side_play_mm <= found.half_width_mm - running + 1e-9
                and found.bottom_mm + running - 1e-9 <= z <= found.top_mm - running + 1e-9
            ):
                return False
    return True


@settings(max_examples=80)
@given(trucks(), st.floats(-6, 6), st.floats(1, 6), st.floats(13, 22))
def test_a_truck_and_its_tower_stay_within_their_envelopes(truck, offset, size, top):
    found = truck.envelope()
    assert found.words == "the front truck at full swing"
    points = [
        (x, y, z)
        for x in (-truck.ahead_mm, truck.behind_mm)
        for y in (-truck.width_mm / 2, truck.width_mm / 2)
        for z in (truck.bottom_mm, truck.top_mm)
    ]
    assert holds(found, truck, points, truck.running_mm)
    tower = GearTower(truck, size - offset, size + offset, 2 * size, top)
    points = [(x, y, z) for x in (offset - size, offset + size) for y in (-size, size) for z in (truck.bottom_mm, top)]
    assert holds(tower.envelope(), truck, points, truck.running_mm)


@settings(max_examples=60)
@given(trucks(level=True))
def test_a_level_truck_needs_no_more_than_its_drawn_positions(truck):
    """Shapely turns and shifts the plan box in fine steps; the envelope less running clearance is as large."""
    plan = box(-truck.ahead_mm, -truck.width_mm / 2, truck.behind_mm, truck.width_mm / 2)
    found, running = truck.envelope(), truck.running_mm
    bounds = [rotate(plan, truck.yaw_rad * (n / 60 - 1), (0, 0), use_radians=True).bounds for n in range(121)]
    assert found.half_width_mm - running - truck.side_play_mm == pytest.approx(
        max(each[3] for each in bounds), rel=1e-4
    )
    assert truck.pivot_mm - found.start_mm - running - truck.end_play_mm == pytest.approx(
        -min(each[0] for each in bounds), rel=1e-4
    )
    assert (found.bottom_mm, found.top_mm) == pytest.approx((truck.bottom_mm - running, truck.top_mm + running))


@settings(max_examples=60)
@given(trucks(), st.floats(-25, 25), st.floats(2, 12), st.floats(5, 12), st.floats(1, 4), little)
def test_a_drive_line_stays_within_its_envelope(truck, joint, height, motor_height, diameter, whip):
    pivot = truck.pivot_mm
    line = DriveLine(pivot + 40, motor_height, pivot + joint, height, diameter, truck, whip, truck.running_mm)
    found = line.envelope()
    less = diameter / 2 + whip + truck.running_mm
    for axis, turns in positions(truck):
        x, y, z = tipped((joint, 0, height), truck, axis, turns)
        assert found.start_mm + less - 1e-9 <= min(x - truck.end_play_mm, pivot + 40)
        assert max(x + truck.end_play_mm, pivot + 40) <= found.end_mm - less + 1e-9
        assert abs(y) + truck.side_play_mm <= found.half_width_mm - less + 1e-9
        assert found.bottom_mm + less - 1e-9 <= min(z, motor_height)
        assert max(z, motor_height) <= found.top_mm - less + 1e-9


@given(trucks(), st.floats(0, 2))
def test_running_clearance_is_added_on_every_side_once(truck, more):
    one, other = truck.envelope(), replace(truck, running_mm=truck.running_mm + more).envelope()
    assert other.running_mm == truck.running_mm + more
    assert (one.start_mm - other.start_mm, other.end_mm - one.end_mm) == pytest.approx((more, more))
    assert (other.half_width_mm - one.half_width_mm, other.top_mm - one.top_mm) == pytest.approx((more, more))
    assert one.bottom_mm - other.bottom_mm == pytest.approx(more)


def test_a_fixed_shaft_and_a_flywheel_by_hand():
    """Arithmetic: half the diameter, the whip or runout, and the running clearance on every side."""
    line = DriveLine(Fraction(-12), 9, Fraction(-30), 11, 2, whip_mm=0.2, running_mm=0.3).envelope()
    assert (line.start_mm, line.end_mm, line.half_width_mm, line.bottom_mm, line.top_mm) == (
        -31.5, -10.5, 1.5, 7.5, 12.5,
    )  # fmt: skip
    wheel = Flywheel(10, 9, 12, 6, runout_mm=0.1, end_play_mm=0.25, running_mm=0.4).envelope()
    assert (wheel.start_mm, wheel.end_mm, wheel.half_width_mm, wheel.bottom_mm, wheel.top_mm) == (
        6.35, 13.65, 6.5, 2.5, 15.5,
    )  # fmt: skip
    assert (line.words, wheel.words) == ("the drive line as it swings", "the flywheel as it turns")


def test_a_joint_ahead_of_the_pivot_swings_sideways_by_its_arm():
    """By hand: 8 mm ahead of the pivot, at 6 degrees 8 sin 6 to the side, and back by 8 (1 - cos 6)."""
    truck = replace(PLAIN, yaw_rad=radians(6))
    found = DriveLine(-10, 10, -27, 10, 2, truck).envelope()
    assert found.half_width_mm == pytest.approx(8 * sin(radians(6)) + 1)
    assert found.start_mm == pytest.approx(-35 + 8 * cos(radians(6)) - 1)
    # With the motor on the other side, the joint's place at rest is as far as it gets.
    assert DriveLine(-60, 10, -27, 10, 2, truck).envelope().end_mm == pytest.approx(-27 + 1)


def test_what_is_uncertain_stays_so():
    """By hand, about an axis level with the truck's top, 7: the tower's corner at (6, 7) comes up."""
    found = GearTower(replace(PLAIN, rock_rad=radians(2)), 4, 6, 8, ufloat(14, 0.06)).envelope()
    assert found.top_mm.std_dev == pytest.approx(0.06 * cos(radians(2)))
    assert found.top_mm.nominal_value == pytest.approx(7 + 7 * cos(radians(2)) + 6 * sin(radians(2)))
    assert GearTower(PLAIN, 4, 6, 8, 14).name == "gear tower of the front truck"


def test_a_truck_by_its_outside_sizes_is_the_same_truck():
    """By hand: 30 long with its pivot 2 behind the middle reaches 17 ahead and 13 behind; its far end rises 0.34."""
    found = truck_of_size(30, 18, 7, 13, radians(6), 2, 0.5, 0.34, 0.5, "front truck")
    same = Truck("front truck", 0, 17.0, 13.0, 18, -6, 7, radians(6), 0.5, 0, asin(0.02), 0.0, 0.5)
    assert found.envelope() == same.envelope()


def test_words_where_all_of_it_lies_on_one_side_or_below_the_seat():
    """A joint behind the pivot, and a truck whose top stays below the seat."""
    line = DriveLine(30, -8, 10, -8, 2, running_mm=0.5).envelope()
    assert keep_words(line, 0, "the pivot") == (
        "From 8.50 mm behind the pivot to 31.50 mm behind it, "
        "keep every lower edge no more than 6.50 mm below the seat."
    )
    turns, keeps = truck_words(PLAIN)
    assert turns == "It turns by 0.00 degrees to either side."
    assert keeps == (
        "From 15.00 mm ahead of its pivot to 15.00 mm behind it, keep every lower edge at least 7.00 mm above the seat."
    )


def test_a_curve_that_can_t_be_is_blamed_on_the_size_to_look_at():
    """By hand: pivots of twice the radius lie across its circle; with 90 and a wheelbase of 120, 2 R is 150."""
    check_curve(90, 75.01, 120)
    for sizes, message in (
        (
            (90, 45),
            (
                "distance between the pivots is 90.00 mm; it must be below 90.00 mm, for a radius of 45.00 mm. "
                "The pivots are further apart than twice the radius: check both."
            ),
        ),
        (
            (90, 75, 120),
            (
                "wheelbase of the truck is 120.00 mm; it must be below 120.00 mm for this radius and these pivots. "
                "Measure it between the outer axles of one truck, and check the radius."
            ),
        ),
        (
            (90, 0),
            (
                "radius of the curve is 0 mm; it must be above 0. "
                "Write the radius to the middle of the track, with its unit, such as 18 in."
            ),
        ),
    ):
        with pytest.raises(OutOfRange, match=f"^{re.escape(message)}$"):
            check_curve(*sizes)


def test_a_truck_as_wide_as_the_shell_goes_in_at_rest():
    assert too_wide_at_rest(PLAIN, 18) == ""
    assert truck_words(PLAIN, 17)[1] == (
        "Too wide at rest: what turns is 18.00 mm wide, and the shell only 17.00 mm inside."
    )


@pytest.mark.parametrize(
    ("running", "inside", "says"),
    [
        (0, 26, "Clear of the side walls by 2.50 mm on either side, beside its running clearance."),
        (0, 21, "Clear of the side walls by 0.00 mm on either side, beside its running clearance."),
        (0, 18, "Too wide at full swing: 1.50 mm too little on either side, with its running clearance."),
        (1, 22, "Too wide at full swing: 0.50 mm too little on either side, with its running clearance."),
    ],
)
def test_how_much_a_truck_that_shifts_to_the_side_leaves_beside_it(running, inside, says):
    """18 mm wide and shifting by 1.5 mm to either side, it takes 10.5 mm on either side of the middle."""
    truck = replace(PLAIN, side_play_mm=1.5, running_mm=running)
    assert truck_words(truck, inside)[1] == says


@pytest.mark.parametrize(
    ("heights", "deep"),
    [((10, 20, 29, 11, 4, 0), -60), ((10, 20, 29, 11, 4, 3), -57), ((10, 20, 29, 11, -2, 0), -62)],
)
def test_the_chassis_under_a_hinged_bulkhead_reaches_deeper_than_it_can_swing(heights, deep):
    """The bulkhead ends 31 mm from the hinge, the step 29 mm: as far below the lowest edge, hinge or chassis top."""
    edge, roof, step_end, step_top, beyond_top, hinge = heights
    _, (wall,), chassis = hinged_bulkhead(30, 1, edge, roof, step_end, step_top, beyond_top, hinge)
    assert (wall.start_mm, wall.end_mm, wall.bottom_mm, wall.top_mm) == (30, 31, edge, roof)
    assert [(each.bottom_mm, each.top_mm) for each in chassis] == [(deep, step_top), (deep, beyond_top)]
    assert hinge - max(hypot(wall.end_mm, each - hinge) for each in (edge, roof)) > deep
    # A quarter farther than whichever ends farther.
    assert [(each.start_mm, each.end_mm) for each in chassis] == [(0, step_end), (step_end, 31 * 5 / 4)]


def test_one_bulkhead_over_one_step_is_lift_off_with_two_boxes():
    found, parts, chassis = hinged_bulkhead(30, 1, 10, 20, 29.5, 12, 4)
    assert found == lift_off(parts, chassis, (0, 0))
    assert found.first.against.name == "the step"


BAD = [
    (
        lambda: hinged_bulkhead(30, 1, 3, 20, 29.5, 12, 4),
        OutOfRange,
        (
            "the bulkhead's lower edge is 3.00 mm above the seat; it must be at or above the chassis beyond it, "
            "4.00 mm. Check both heights; both count from the seat."
        ),
    ),
    (
        lambda: replace(PLAIN, top_mm=-6),
        OutOfRange,
        (
            "front truck: top is at -6.00 mm, with its bottom at -6.00 mm; it must be above its bottom. "
            "Count both heights from the seat, upwards."
        ),
    ),
    (
        lambda: replace(PLAIN, yaw_rad=radians(95)),
        OutOfRange,
        (
            "front truck: yaw is 95 degrees; it must be from 0 to below 90 degrees. "
            "Write the angle to one side, such as math.radians(6)."
        ),
    ),
    (
        lambda: replace(PLAIN, width_mm=0),
        OutOfRange,
        "front truck: width is 0 mm; it must be above 0. Measure it on the model, such as 0.5 mm.",
    ),
    (
        lambda: GearTower(PLAIN, -6, 6, 8, 14),
        OutOfRange,
        (
            "gear tower of the front truck: length is 0.00 mm; it must be above 0. "
            "Count both ends from the pivot; an end on the other side of it is below 0."
        ),
    ),
    (
        lambda: DriveLine(0, "9 mm", 10, 9, 2),
        WrongKind,
        "drive line: motor height is '9 mm'; expected a plain number of mm. Read text with parse_length first.",
    ),
    (
        lambda: Flywheel(0, 9, 12, 6, runout_mm=-0.1),
        OutOfRange,
        "flywheel: runout is -0.1 mm; it must be 0 or more. Measure it on the model, such as 0.5 mm.",
    ),
]


@pytest.mark.parametrize(("make", "kind", "message"), BAD)
def test_what_makes_no_sense_is_refused(make, kind, message):
    with pytest.raises(kind, match=f"^{re.escape(message)}$"):
        make()


@pytest.mark.parametrize("value", [[1.0, np.inf], [-np.inf, 1.0], [np.nan, 1.0], [1.0, np.nan], np.inf, -np.inf])
def test_each_number_of_an_array_must_be_finite(value):
    given = np.array(value) if isinstance(value, list) else value
    for check in (check_finite, check_least):
        with pytest.raises(OutOfRange, match=r"^the place is \S+ mm; it must be a finite number"):
            check("the place", given)


@pytest.mark.parametrize(("value", "least", "above", "refused"), [
    (0, 0, False, False), (0, 0, True, True), (-0.1, 0, False, True), (2, 2, True, True), (2.1, 2, True, False),
])  # fmt: skip
def test_a_bound_counts_for_each_number_of_an_array(value, least, above, refused):
    for each in (value, np.array([5.0, value, 7.0])):
        if refused:
            bound = f"above {least}" if above else f"{least} or more"
            with pytest.raises(OutOfRange, match=f"^the size is {value:g} mm; it must be {bound}"):
                check_least("the size", each, least, above)
        else:
            check_least("the size", each, least, above)


SHAFT, WHEEL = DriveLine(0, 9, 10, 9, 2), Flywheel(0, 9, 12, 6)


@pytest.mark.parametrize(
    ("made", "field", "what"),
    [
        (SHAFT, "diameter_mm", "drive line: diameter"),
        (WHEEL, "diameter_mm", "flywheel: diameter"),
        (WHEEL, "width_mm", "flywheel: width"),
    ],
)
def test_a_size_of_a_shaft_or_wheel_is_above_0(made, field, what):
    with pytest.raises(OutOfRange, match=f"^{what} is 0 mm; it must be above 0"):
        replace(made, **{field: 0})


@pytest.mark.parametrize(
    ("made", "field", "what"),
    [
        (SHAFT, "whip_mm", "drive line: whip"),
        (SHAFT, "running_mm", "drive line: running clearance"),
        (WHEEL, "runout_mm", "flywheel: runout"),
        (WHEEL, "end_play_mm", "flywheel: end play"),
        (WHEEL, "running_mm", "flywheel: running clearance"),
        (PLAIN, "side_play_mm", "front truck: side play"),
        (PLAIN, "end_play_mm", "front truck: end play"),
        (PLAIN, "running_mm", "front truck: running clearance"),
    ],
)
def test_a_play_may_be_0_and_no_less(made, field, what):
    assert replace(made, **{field: 0}).envelope() == made.envelope()
    with pytest.raises(OutOfRange, match=f"^{what} is -0.1 mm; it must be 0 or more"):
        replace(made, **{field: -0.1})


@pytest.mark.parametrize(
    ("made", "field", "what"),
    [
        (SHAFT, "motor_mm", "drive line: motor"),
        (SHAFT, "motor_height_mm", "drive line: motor height"),
        (SHAFT, "joint_mm", "drive line: joint"),
        (SHAFT, "joint_height_mm", "drive line: joint height"),
        (WHEEL, "middle_mm", "flywheel: middle"),
        (WHEEL, "centre_height_mm", "flywheel: height of its centre"),
    ],
)
def test_a_place_may_lie_below_0_but_must_be_finite(made, field, what):
    assert replace(made, **{field: -3}).envelope().start_mm < 0
    with pytest.raises(OutOfRange, match=f"^{what} is inf mm; it must be a finite number"):
        replace(made, **{field: float("inf")})

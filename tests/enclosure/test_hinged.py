"""A hinged shell: first contacts, trimming and least distances, against circle geometry and against shapely."""

from __future__ import annotations

import re
from dataclasses import replace
from fractions import Fraction
from math import acos, asin, atan2, degrees, hypot, radians, sqrt

import pytest
from hypothesis import HealthCheck, assume, given, settings
from hypothesis import strategies as st
from shapely.affinity import rotate
from shapely.geometry import Polygon, box
from shapely.ops import unary_union

from modelmath.enclosure import Cavity, Zone
from modelmath.enclosure.mechanism import SideBox, lift_off, side_boxes
from modelmath.enclosure.obstacles import Obstacle
from modelmath.errors import OutOfRange, UnknownChoice, WrongKind

MOST = radians(60)
STEPS = 240


def outline(each: SideBox) -> Polygon:
    return box(each.start_mm, each.bottom_mm, each.end_mm, each.top_mm)


def opened(each: SideBox, hinge: tuple[float, float], end: str, angle: float) -> Polygon:
    """The part with the shell open by an angle; shapely turns anticlockwise, which lifts the rear."""
    return rotate(outline(each), angle if end == "front" else -angle, origin=hinge, use_radians=True)


@st.composite
def scenes(draw: st.DrawFn) -> tuple[SideBox, list[SideBox], tuple[int, int], str]:
    """A part over a stepped chassis, in whole and half millimetres, nothing overlapping at rest."""
    place, chassis = 0, []
    for number in range(draw(st.integers(1, 4))):
        end = place + draw(st.integers(2, 14))
        chassis.append(SideBox(f"step {number}", place, end, -60, draw(st.integers(0, 16))))
        place = end
    start = draw(st.integers(0, 2 * place)) / 2
    part = SideBox("bulkhead", start, start + draw(st.integers(1, 8)) / 2, draw(st.integers(2, 40)) / 2, 24)
    hinge = (draw(st.integers(-6, place + 6)), draw(st.integers(-4, 6)))
    assume(unary_union([outline(each) for each in chassis]).intersection(outline(part)).area == 0)
    return part, chassis, hinge, draw(st.sampled_from(["front", "rear"]))


@settings(max_examples=80)
@given(scenes())
def test_first_contact_agrees_with_turning_in_small_steps(scene):
    part, chassis, hinge, end = scene
    found = lift_off([part], chassis, hinge, end)
    steps = unary_union([outline(each) for each in chassis])
    areas = [steps.intersection(opened(part, hinge, end, MOST * n / STEPS)).area for n in range(STEPS + 1)]
    first = next((n for n, area in enumerate(areas) if area > 1e-9), None)
    if first is not None:
        assert not found.passes
        assert found.first.angle_rad <= MOST * first / STEPS
    if found.passes:
        return
    # Up to the contact nothing overlaps; a little beyond it something does.
    before = [area for n, area in enumerate(areas) if MOST * n / STEPS <= found.first.angle_rad]
    assert max(before, default=0) < 1e-6
    against = outline(found.first.against)
    beyond = [opened(part, hinge, end, found.first.angle_rad + d) for d in (1e-5, 1e-4, 1e-3)]
    assert any(against.intersection(each).area > 0 for each in beyond)
    at = opened(part, hinge, end, found.first.angle_rad)
    assert at.distance(against) < 1e-6
    touching = box(*(each - 1e-6 for each in found.first.at_mm), *(each + 1e-6 for each in found.first.at_mm))
    assert touching.distance(at) < 1e-5
    assert touching.distance(against) < 1e-5


@settings(max_examples=80, suppress_health_check=[HealthCheck.filter_too_much])  # most random parts come off freely
@given(scenes())
def test_the_shortened_part_passes_and_one_less_shortened_does_not(scene):
    part, chassis, hinge, end = scene
    contact = lift_off([part], chassis, hinge, end).first
    assume(contact is not None)
    if contact.shorten_mm is None:  # even a sliver under its upper edge meets something
        sliver = replace(part, bottom_mm=part.top_mm - 0.002)
        assert not lift_off([sliver], chassis, hinge, end).passes
        return
    assert contact.shorten_mm > 0
    raised = replace(part, bottom_mm=part.bottom_mm + contact.shorten_mm)
    assert lift_off([raised], chassis, hinge, end).passes
    steps = unary_union([outline(each) for each in chassis])
    assert all(steps.intersection(opened(raised, hinge, end, MOST * n / STEPS)).area < 1e-9 for n in range(STEPS + 1))
    assume(contact.shorten_mm > 0.002)
    less = replace(part, bottom_mm=part.bottom_mm + contact.shorten_mm - 0.002)
    assert not lift_off([less], chassis, hinge, end).passes


@settings(max_examples=80)
@given(scenes())
def test_the_least_distance_is_that_of_small_steps(scene):
    part, chassis, hinge, end = scene
    found = lift_off([part], chassis, hinge, end)
    assume(found.passes)
    steps = unary_union([outline(each) for each in chassis])
    stepped = min(steps.distance(opened(part, hinge, end, MOST * n / STEPS)) for n in range(STEPS + 1))
    assert found.closest.distance_mm <= stepped + 1e-9
    # Between two steps nothing moves further than the far corner of the part does.
    far = max(hypot(x - hinge[0], z - hinge[1]) for x, z in outline(part).exterior.coords)
    assert stepped - found.closest.distance_mm <= far * MOST / STEPS
    at = opened(part, hinge, end, found.closest.angle_rad)
    assert outline(found.closest.against).distance(at) == pytest.approx(found.closest.distance_mm, abs=1e-9)


@given(scenes())
def test_hinged_at_the_other_end_is_its_mirror_image(scene):
    part, chassis, hinge, end = scene

    def mirrored(each: SideBox) -> SideBox:
        return replace(each, start_mm=-each.end_mm, end_mm=-each.start_mm)

    one = lift_off([part], chassis, hinge, end)
    turned = "rear" if end == "front" else "front"
    other = lift_off([mirrored(part)], [mirrored(each) for each in chassis], (-hinge[0], hinge[1]), turned)
    assert one.passes == other.passes
    if one.passes:
        assert other.closest.distance_mm == pytest.approx(one.closest.distance_mm, abs=1e-12)
    else:
        assert other.first.angle_rad == pytest.approx(one.first.angle_rad, abs=1e-12)
        assert (other.first.shorten_mm is None) == (one.first.shorten_mm is None)


def test_a_bulkhead_over_the_hinge_swings_towards_it():
    """By hand: the step's upper corner, turned back on its circle, enters the wall's face."""
    wall, step = SideBox("bulkhead", 30, 31, 10, 20), SideBox("motor", 0, Fraction(59, 2), -20, 18)
    found = lift_off([wall], [step], (0, 0))
    entering = sqrt(29.5**2 + 18**2 - 30**2)
    assert found.first.at_mm == pytest.approx((29.5, 18))
    assert found.first.angle_rad == pytest.approx(atan2(18, 29.5) - atan2(entering, 30))
    assert found.first.shorten_mm == pytest.approx(entering - 10, abs=1e-3)


def test_beside_a_step_as_high_as_itself_its_upper_corner_meets_first():
    """By hand: the corner runs on its circle about the hinge, and meets the step's face where that crosses it."""
    wall, step = SideBox("bulkhead", 30, 31, 10, 20), SideBox("weight", 0, 29.5, -20, 40)
    found = lift_off([wall], [step], (0, 0)).first
    crossing = sqrt(30**2 + 20**2 - 29.5**2)
    assert found.at_mm == pytest.approx((29.5, crossing))
    assert found.angle_rad == pytest.approx(acos(29.5 / hypot(30, 20)) - atan2(20, 30))
    assert found.shorten_mm is None


def test_below_the_hinge_it_swings_away():
    """Under the hinge a corner moves outward, and meets what stands behind it."""
    wall = SideBox("bulkhead", 30, 31, -4, 8)
    front, rear = SideBox("motor", 0, 29.5, -20, 6), SideBox("cab floor", 31.1, 60, -20, -1)
    found = lift_off([wall], [front, rear], (0, 9))
    corner = (31, -4 - 9)
    assert found.first.against is rear
    assert found.first.angle_rad == pytest.approx(-acos(31.1 / hypot(*corner)) - atan2(corner[1], corner[0]))


def test_the_least_distance_can_lie_on_the_way():
    """By hand: the corner's circle comes nearest to the step's corner where both lie on one radius."""
    wall, step = SideBox("bulkhead", 30, 31, 10, 20), SideBox("motor", 0, 29, -20, 11)
    found = lift_off([wall], [step], (0, 0)).closest
    assert found.distance_mm == pytest.approx(hypot(30, 10) - hypot(29, 11))
    assert found.angle_rad == pytest.approx(asin(11 / hypot(29, 11)) - asin(10 / hypot(30, 10)))


def test_touching_at_rest_counts_only_where_it_moves_in():
    step = SideBox("motor", 0, 30, -20, 12)
    clear = lift_off([SideBox("bulkhead", 10, 11, 12, 20)], [step], (0, 0))
    assert (clear.passes, clear.closest.distance_mm) == (True, 0.0)
    caught = lift_off([SideBox("bulkhead", 30, 31, 5, 20)], [step], (0, 0))
    assert caught.first.angle_rad == 0
    assert caught.verdict == (
        "Bulkhead meets motor as soon as the shell lifts. It passes with 7.00 mm off its lower edge."
    )


def test_each_part_tells_its_own_first_contact_in_order():
    step = SideBox("motor", 10, 29.5, -20, 14)
    near, far = SideBox("bulkhead", 30, 31, 10, 20), SideBox("rear closure", 32, 33, 12, 20)
    clear = SideBox("speaker", 40, 50, 12, 20)
    found = lift_off([far, clear, near], [step], (0, 0))
    assert found.first.part.name == "bulkhead"
    assert "speaker" not in [each.part.name for each in found.contacts]


def test_words_for_a_shell_that_comes_off_clear():
    wall, step = SideBox("bulkhead", 30, 31, 10, 20), SideBox("motor", 0, 29, -20, 11)
    found = lift_off([wall], [step], (0, 0))
    opened_by = degrees(asin(11 / hypot(29, 11)) - asin(10 / hypot(30, 10)))
    assert found.verdict == (
        "The shell comes off clear: the least distance is 0.61 mm, between bulkhead and motor, "
        f"with the shell open by {opened_by:.1f} degrees."
    )
    assert lift_off([], [step], (0, 0)).verdict == "The shell carries nothing that could meet the chassis."


def test_where_trimming_does_not_help_the_words_say_so():
    """What stands beside the whole height of the part is met whatever its lower edge."""
    found = lift_off([SideBox("lens", 30, 31, 10, 14)], [SideBox("weight", 0, 29.9, -20, 30)], (0, 0))
    assert found.first.shorten_mm is None
    assert found.verdict.endswith("Trimming its lower edge does not help: move it, or lift the shell straight off.")


def test_a_cavity_gives_its_chassis_and_what_moves_over_it():
    truck = Obstacle("truck", -5, 5, 8, -6, 7, words="the truck at full swing")
    cavity = Cavity((Zone("cab", -20, 0, 5, 20, 18), Zone("motor", 0, 20, 9, 20, 18)), obstacles=(truck,))
    cab, motor, moving = side_boxes(cavity)
    assert (cab.name, cab.top_mm, cab.bottom_mm) == ("cab", 5, -35)
    assert (motor.start_mm, motor.end_mm, motor.top_mm) == (0, 20, 9)
    assert (moving.name, moving.bottom_mm, moving.top_mm) == ("the truck at full swing", -6, 7)


BAD = [
    (
        lambda: lift_off([], [], (0, 0), "side"),
        UnknownChoice,
        "the hinged end is 'side'; write one of front, rear.",
    ),
    (
        lambda: lift_off([], [], (0, "2 mm")),
        WrongKind,
        "height of the hinge is '2 mm'; expected a plain number of mm. Read text with parse_length first.",
    ),
    (
        lambda: lift_off([], [], (0, 0), most_rad=2),
        OutOfRange,
        (
            "how far the shell opens is 114.592 degrees; it must be from 0 to below 90 degrees. "
            "Write the angle to one side, such as math.radians(6)."
        ),
    ),
    (
        lambda: SideBox("bulkhead", 3, 3, 0, 5),
        OutOfRange,
        "bulkhead is 0.00 mm long; it must be more than 0. Check where it starts and ends.",
    ),
]


@pytest.mark.parametrize(("make", "kind", "message"), BAD)
def test_what_makes_no_sense_is_refused(make, kind, message):
    with pytest.raises(kind, match=f"^{re.escape(message)}$"):
        make()


def test_of_two_parts_that_meet_the_chassis_the_first_to_do_so_is_told_first():
    """By hand: a step's upper corner, turned back on its circle, enters the face of the wall behind it."""
    early, late = SideBox("rear closure", 60, 61, 10, 20), SideBox("bulkhead", 30, 31, 10, 20)
    steps = [SideBox("motor", 0, 29, -40, 18), SideBox("tank", 32, 59.8, -40, 16)]
    angles = [
        atan2(step.top_mm, step.end_mm) - atan2(sqrt(step.end_mm**2 + step.top_mm**2 - wall.start_mm**2), wall.start_mm)
        for step, wall in zip(steps[::-1], (early, late), strict=True)
    ]
    assert angles == sorted(angles)
    for parts in ([late, early], [early, late]):
        found = lift_off(parts, steps, (0, 0))
        assert [each.part.name for each in found.contacts] == ["rear closure", "bulkhead"]
        assert [each.angle_rad for each in found.contacts] == pytest.approx(angles)
        assert found.first is found.contacts[0]
        assert not found.passes
        assert re.fullmatch(
            r"Rear closure meets tank once the shell is open by \d\.\d degrees\. It passes with \d+\.\d\d mm off its "
            r"lower edge\. Bulkhead meets motor once the shell is open by \d\.\d degrees\. It passes with \d+\.\d\d mm "
            r"off its lower edge\.",
            found.verdict,
        )
    assert lift_off([], steps, (0, 0)).first is None

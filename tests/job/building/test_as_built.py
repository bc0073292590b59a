"""What was measured as built: drift by hand, the chance of touching against the normal law, what is cut anew."""

from __future__ import annotations

from math import hypot, sqrt
from statistics import NormalDist

import pytest
from hypothesis import given
from hypothesis import strategies as st
from sheets import demo, least

from modelmath.errors import UnknownChoice, UnreadableLength
from modelmath.job import plan
from modelmath.job.building.as_built import ROOM, as_built, chance_of_touching, measurable, with_measured

PLAN = demo("railcar-n")


def measured(of, **sizes):
    job = of.job
    for what, value in sizes.items():
        job = with_measured(job, of, what.replace("_", " "), value)
    return as_built(plan(job))


def test_nothing_measured_says_nothing():
    found = as_built(PLAN)
    assert (found.measured, found.unknown, found.chance, found.solved) == ((), (), None, None)


def test_what_can_be_measured_is_the_room_left_and_each_part_once():
    names = measurable(PLAN)
    assert names[0] == ROOM
    assert len(set(names)) == len(names)
    assert {"bulkhead", "corner post"} <= set(names)


def test_drift_is_measured_less_planned():
    found = measured(PLAN, room_left="1 mm", bulkhead="12 mm")
    room, wall = found.measured
    assert float(room.drift_mm) == pytest.approx(1 - float(PLAN.gap.left_mm))
    assert float(wall.drift_mm) == pytest.approx(12 - float(PLAN.bulkhead.cut.cut_mm))
    assert found.room == room


def test_what_it_may_be_off_adds_in_squares_with_how_it_was_measured():
    """JCGM 100:2008, 5.1.2."""
    job = with_measured(PLAN.job, PLAN, ROOM, "1 mm", "0.4 mm")
    (room,) = as_built(plan(job)).measured
    assert room.may_be_off_mm == pytest.approx(hypot(PLAN.gap.stack.rss(), 0.4))


lengths = st.floats(0.001, 3)


@given(st.floats(-2, 3), lengths, lengths)
def test_the_chance_is_the_normal_law_s(room, within, seating):
    spread = hypot(within / sqrt(3), seating / sqrt(3))  # limits as rectangular: JCGM 100:2008, 4.3.7
    assert chance_of_touching(room, within, seating) == pytest.approx(NormalDist(room, spread).cdf(0), abs=1e-12)


def test_a_room_known_exactly_touches_or_does_not():
    assert (chance_of_touching(0.1, 0, 0), chance_of_touching(-0.1, 0, 0)) == (0, 1)


def test_as_planned_nothing_is_cut_anew():
    left = f"{float(PLAN.gap.left_mm):.4f} mm"
    found = measured(PLAN, room_left=left)
    assert found.solved is not None
    assert found.changed == ()
    assert found.measured[0].as_expected


def test_less_room_than_planned_solves_what_is_uncut_for_a_lower_floor():
    """The wall as cut and the room below it are the free depth: less the clearance kept is the new height, by hand."""
    found = measured(PLAN, room_left="0.1 mm")
    free = float(PLAN.bulkhead.cut.cut_mm) + 0.1
    assert found.solved is not None
    assert float(found.solved.governing.free.exact_mm) == pytest.approx(free, abs=0.006)
    changed = {name: (float(was), float(now)) for name, was, now in found.changed}
    kept = 0.4  # as the demo's job has it
    assert PLAN.job.clearance.keep == "0.4 mm"
    was, now = changed["bulkhead"]
    assert was == pytest.approx(float(PLAN.bulkhead.cut.cut_mm))
    assert now <= free - kept
    assert now < was
    assert found.solved.job.progress.measured == []


def test_what_is_cut_already_is_not_asked_for_anew():
    found = measured(PLAN, room_left="0.1 mm", bulkhead=f"{float(PLAN.bulkhead.cut.cut_mm):.3f} mm")
    assert "bulkhead" not in [name for name, _, _ in found.changed]


def test_a_part_that_is_none_any_more_is_named():
    progress = {"measured": [{"what": "gilding", "value": "1 mm"}]}
    assert as_built(demo("railcar-n", progress=progress)).unknown == ("gilding",)


@pytest.mark.parametrize("name", ["switcher-ho", "railcar-n", "centre-cab-s", "railmotor-oo"])
@pytest.mark.parametrize("off", [-0.5, 0.0, 0.25])
def test_the_depth_solved_for_is_the_wall_and_the_room_below_it(name, off):
    """By hand; at the switcher the wall hangs from another zone's roof of the same height."""
    of = demo(name)
    room = float(of.gap.left_mm) + off
    found = measured(of, room_left=f"{room:.2f} mm")
    (depth,) = [each for each in found.solved.depths if each.zone.name == of.governing.zone.name]
    assert float(depth.free.exact_mm) == pytest.approx(float(of.bulkhead.cut.cut_mm) + room, abs=0.011)
    assert float(found.solved.gap.left_mm) >= 0


def test_a_room_over_an_obstacle_lowers_or_lifts_its_top():
    start, end = "weight ends, motor clip begins", "motor clip ends, gear tower begins"
    box = {
        "name": "clip",
        "start": start,
        "end": end,
        "top": "top of the motor clip",
        "running": "1.5 mm",
        "width": "8 mm",
    }
    of = demo("switcher-ho", obstacles=[box])
    assert of.governing.moving == "clip"
    room = float(of.gap.left_mm) - 0.3
    found = measured(of, room_left=f"{room:.2f} mm")
    top = found.solved.governing.top
    assert float(of.governing.top.exact_mm) - float(top.exact_mm) == pytest.approx(-0.3, abs=0.011)


def test_a_room_over_what_moves_says_what_to_do():
    found = measured(demo("railbus-ho"), room_left="0.5 mm")
    assert found.solved is None
    assert found.why_not_solved == (
        "The room left is over flywheel, which moves or is read at several spots: trim what touches, or read that "
        "again and enter it."
    )


def test_a_second_measurement_takes_the_place_of_the_first_and_an_empty_one_takes_it_out():
    job = with_measured(PLAN.job, PLAN, ROOM, "1 mm")
    job = with_measured(job, PLAN, ROOM, "2 mm", "0.1 mm")
    assert [(each.value, each.within) for each in job.progress.measured] == [("2 mm", "0.1 mm")]
    assert with_measured(job, PLAN, ROOM, " ").progress.measured == []


def test_what_can_t_be_read_is_refused():
    with pytest.raises(UnreadableLength, match="it has no unit"):
        with_measured(PLAN.job, PLAN, ROOM, "1")
    with pytest.raises(UnreadableLength, match="it has no unit"):
        with_measured(PLAN.job, PLAN, ROOM, "1 mm", "0.1")
    with pytest.raises(UnknownChoice, match=r"^what was measured is 'gilding'"):
        with_measured(PLAN.job, PLAN, "gilding", "1 mm")


def test_the_words_say_how_far_off_and_whether_that_was_to_be_expected():
    near, far = (measured(PLAN, room_left=text).measured[0].in_words for text in ("0.6 mm", "3 mm"))
    assert "within the" in near
    assert "beyond the" in far
    assert "measure it again" in far
    same = measured(least(), room_left=f"{float(least().gap.left_mm)} mm").measured[0].in_words
    assert "just as planned" in same

"""Every spot that may touch, taken together; and what choosing the best of several costs."""

from __future__ import annotations

import numpy as np
import pytest
from sample_jobs import DEMOS, SMALLEST, job, with_chamber
from spacious import CLIP, POST, SPEAKER, spacious

from modelmath import plan
from modelmath.job.room_left.nearest import nearest_below
from modelmath.job.room_left.spots import choice_of, governing_room
from modelmath.widgets.plan.touching import card, chance

JOBS = {**DEMOS, "smallest": job(), "with a chamber": with_chamber()}
DRAWS = 100_000


@pytest.mark.parametrize("name", JOBS)
def test_what_governs_is_among_the_spots_with_the_room_of_the_plan(name):
    found = plan(JOBS[name])
    assert [spot.left_mm for spot in found.spots] == sorted(spot.left_mm for spot in found.spots)
    assert min(abs(spot.left_mm - float(found.gap.left_mm)) for spot in found.spots) < 1e-9
    room = governing_room(found)
    assert room.n == pytest.approx(float(found.gap.left_mm))
    assert room.std_dev == pytest.approx(found.gap.stack.standard_uncertainty())


@pytest.mark.parametrize("name", JOBS)
def test_touching_anywhere_is_no_rarer_than_at_the_worst_spot_and_no_likelier_than_all_together(name):
    found = plan(JOBS[name])
    assert len(found.anywhere.each) == len(found.spots)
    assert found.anywhere.chance >= max(found.anywhere.each) >= found.gap.chance - 1e-12
    assert found.anywhere.chance <= sum(found.anywhere.each) + 1e-12


@pytest.mark.parametrize("name", JOBS)
def test_every_spot_has_a_name_of_its_own(name):
    names = [spot.name for spot in plan(JOBS[name]).spots]
    assert len(set(names)) == len(names)


def test_one_spot_is_the_gap_itself():
    found = plan(job())
    assert len(found.spots) == 1
    assert found.anywhere.chance == pytest.approx(found.gap.chance)
    assert found.choice is None


def test_two_spots_of_one_depth_against_draws():
    """Left and right over the motor read alike; roof, offset, cut and seating are shared, the two tops are not."""
    readings = [*SMALLEST["readings"], {"name": "capacitor", "mark": "5 1/2"}]
    stations = [{"name": "left", "zone": "motor", "chassis_top": "capacitor"}]
    clearance = {"keep": "0.5 mm"}
    found = plan(job(readings=readings, stations=stations, clearance=clearance))
    assert sorted(spot.name for spot in found.spots) == ["motor, left", "motor, motor top"]
    rng = np.random.default_rng(4)
    shared = -rng.normal(0, 0.1, DRAWS) + rng.uniform(-0.4375, 0.4375, DRAWS)
    shared += rng.uniform(-0.1, 0.1, DRAWS) + rng.uniform(-0.1, 0.1, DRAWS)
    tops = rng.uniform(-0.4375, 0.4375, (2, DRAWS))
    touches = (float(found.gap.left_mm) + shared - tops < 0).any(axis=0).mean()
    spread = (touches / DRAWS) ** 0.5
    assert found.anywhere.chance == pytest.approx(touches, abs=6 * spread)
    assert found.anywhere.chance > found.gap.chance * 1.2


def test_moving_parts_that_reach_above_the_chassis_are_spots_of_their_own():
    names = [spot.name for spot in plan(DEMOS["railbus-ho"]).spots]
    assert names[0] == "flywheel"
    assert {"gear tower", "power truck", "motor, left side", "motor, motor top"} <= set(names)


def test_a_high_neighbour_just_beside_the_bulkhead_is_a_spot():
    """The motor stands within the clearance along the length of a wall over the weight."""
    readings = [
        {"name": "roof", "mark": "9 1/4"},
        {"name": "weight top", "mark": "4"},
        {"name": "motor top", "mark": "8"},
        {"name": "width", "mark": "5"},
        {"name": "length", "mark": "19", "on": "shell"},
        {"name": "weight ends", "mark": "10", "on": "shell"},
    ]
    zones = [
        {"name": "weight", "underside": "roof", "chassis_top": "weight top", "width": "width", "end": "weight ends"},
        {"name": "motor", "underside": "roof", "chassis_top": "motor top", "width": "width"},
    ]
    found = plan(with_chamber(readings=readings, zones=zones))
    assert found.governing.zone.name in {spot.name.partition(",")[0] for spot in found.spots}


@pytest.mark.parametrize("name", DEMOS)
def test_choosing_among_chambers_is_counted_and_said(name):
    found = plan(DEMOS[name])
    choice, over = found.choice, {nearest_below(each).cause.name for each in found.enclosure.candidates}
    assert (choice is None) == (len(over) < 2)  # whatever chamber is taken, one spot sets its floor
    if choice is None:
        return
    assert choice.spots[0] == (found.governing.moving or found.governing.zone.name)
    assert set(choice.spots) == over
    assert len(set(choice.spots)) == len(choice.spots) >= 2
    assert sum(choice.found.shares) == pytest.approx(1)
    assert choice.found.without_choice == pytest.approx(found.gap.chance, rel=1e-6)
    assert choice.in_words.startswith(f"The spot over {choice.spots[0]} was chosen as the best of {len(choice.spots)}")


def test_both_kinds_of_demo_are_there():
    choices = [plan(each).choice for each in DEMOS.values()]
    assert any(each is None for each in choices)
    assert any(each is not None for each in choices)


@pytest.mark.parametrize("obstacles", [[], [POST]])
def test_where_one_zone_sets_every_floor_there_was_no_choice(obstacles):
    """Of several chambers over one zone each has the same floor below it: nothing was chosen by a reading of a spot."""
    zones = [{"name": "frame", "underside": "roof", "chassis_top": "low", "width": "width"}]
    found = spacious(
        zones=zones, obstacles=obstacles, chamber={"cut_round": True}, speaker={**SPEAKER, "travel": "1 mm"}
    )
    assert len(found.enclosure.candidates) > 1
    assert found.governing.name == "frame"
    assert choice_of(found) is None
    said = chance(found) + card(found)
    assert "chosen" not in said
    assert "Chance that" in said


def test_a_chamber_whose_floor_would_pass_over_a_clip_is_a_choice_of_its_own():
    """One that boxes the clip in is set by the frame, one that passes over it by the clip: another reading."""
    zones = [{"name": "frame", "underside": "roof", "chassis_top": "low", "width": "width"}]
    found = spacious(zones=zones, obstacles=[CLIP], chamber={"cut_round": True})
    assert found.gap.over == "frame"
    assert choice_of(found).spots == ("frame", "motor clip")


@pytest.fixture(scope="module")
def alike():
    """Two weights of one height with a motor between them, which stands too high for a chamber over it."""
    rows = [("roof", "9 1/4"), ("front top", "5 1/2"), ("motor top", "9"), ("rear top", "5 1/2"), ("width", "5")]
    readings = [{"name": name, "mark": mark} for name, mark in rows]
    places = [("length", "41"), ("front ends", "19"), ("rear begins", "21")]
    readings += [{"name": name, "mark": mark, "on": "shell"} for name, mark in places]
    zones = [
        {"name": "front", "underside": "roof", "chassis_top": "front top", "width": "width", "end": "front ends"},
        {"name": "motor", "underside": "roof", "chassis_top": "motor top", "width": "width", "end": "rear begins"},
        {"name": "rear", "underside": "roof", "chassis_top": "rear top", "width": "width"},
    ]
    return plan(with_chamber(readings=readings, zones=zones, clearance={"keep": "0.4 mm"}))


def test_the_best_of_two_that_are_alike_reads_too_good(alike):
    """Each top is off by up to half a mark; the lower reading of two such is low by a third of that on average.

    The larger of two rectangles of half width a is expected at a/3 (order statistics; elementary).
    """
    choice = alike.choice
    assert set(choice.spots) == {"front", "rear"}
    assert choice.found.flattery_mm == pytest.approx(0.4375 / 3, rel=0.1)
    assert choice.matters
    assert choice.found.with_choice.chance > choice.found.without_choice
    assert "reads too good by 0.1" in choice.in_words
    assert choice.in_words.endswith("Read that spot again and enter the new reading alone to undo it.")


def test_the_same_plan_draws_the_same_numbers(alike):
    assert choice_of(alike) == alike.choice

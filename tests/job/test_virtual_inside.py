"""The virtual bench inside the chamber and along the length: against arithmetic by hand. All numbers invented."""

from __future__ import annotations

import numpy as np
import pytest
from built_jobs import within_band
from sample_jobs import DEMOS, job
from scipy.stats import binom
from spacious import CLIP, LENGTH, MARKS, PLACES, POST, SPEAKER, facing, spacious

from modelmath.job import plan
from modelmath.job.virtual_bench import Builds, Meeting, build_many

BUILDS = 20_000
ALLOWED = 1e-4  # chance that a right count falls outside
TIGHT = {**CLIP, "running": "0 mm"}
ROUND = {"cut_round": True}
FINE = {"name": "steel rule", "kind": "steel rule", "zero_offset": "0", "length": "200", "read_to": "0.000001 mm"}
EXACT = {"rules": [FINE], "seat": {"repeatability": "0 mm"}}
OVER_LID, FRONT_END, REAR_END = "the lid of its box", "the front end of its box", "the rear end of its box"


def build(**tolerances):
    return {"wall": "1 mm", "post": "2 mm", **{f"{name}_tolerance": text for name, text in tolerances.items()}}


def meeting(found, part, over):
    return next(each for each in found.meetings if (each.part, each.over) == (part, over))


def as_often_as(found, part, over, chance):
    count = int(meeting(found, part, over).touches.sum())
    low, high = (binom.ppf(share, found.builds, chance) for share in (ALLOWED / 2, 1 - ALLOWED / 2))
    assert low <= count <= high, (low, count, high)


# Heights.


def test_a_lid_at_the_height_that_was_read_touches_half_the_time():
    found = build_many(spacious(obstacles=[TIGHT], chamber=ROUND), BUILDS)
    as_often_as(found, OVER_LID, "motor clip", 0.5)
    assert found.fits < 0.6 * BUILDS


def test_a_lid_errs_by_the_floors_cut_and_its_sides_cut():
    """Two rectangles of 0.3 mm make a triangle: beyond what is left, (1 - left / 0.6)^2 / 2. 0.2 mm are left."""
    near = {**CLIP, "running": "0.2 mm"}
    made = spacious(obstacles=[near], chamber=ROUND, build=build(cutting="0.3 mm"), **EXACT)
    as_often_as(build_many(made, BUILDS), OVER_LID, "motor clip", (1 - 0.2 / 0.6) ** 2 / 2)


def test_a_lid_goes_with_how_the_shell_seats():
    made = spacious(obstacles=[{**CLIP, "running": "0.1 mm"}], chamber=ROUND, build=build(cutting="0 mm"),
                    rules=[FINE], seat={"repeatability": "0.4 mm"})  # fmt: skip
    as_often_as(build_many(made, BUILDS), OVER_LID, "motor clip", 0.3 / 0.8)


def clip_from(front, rear):
    changed = {**MARKS, "clip front": front, "clip rear": rear}
    return [{"name": n, "mark": m} | ({"on": PLACES[n]} if n in PLACES else {}) for n, m in changed.items()]


def test_a_notch_in_a_wall_is_met_like_a_lid():
    """The wall stands from 58.5 to 59.5 mm behind the mark, and the clip from 59 to 61 mm."""
    made = spacious(obstacles=[TIGHT], chamber=ROUND, readings=clip_from("74", "76"))
    as_often_as(build_many(made, BUILDS), "the notch in the bulkhead", "motor clip", 0.5)


def test_a_box_that_butts_on_a_wall_is_closed_by_its_inner_face():
    """The clip ends at 58.5 mm, where the wall begins, and keeps nothing."""
    made = spacious(obstacles=[TIGHT], chamber=ROUND, readings=clip_from("60", "73.5"))
    found = build_many(made, BUILDS)
    as_often_as(found, "the bulkhead, inside,", "motor clip", 0.5)
    assert REAR_END not in {each.part for each in found.meetings}


def test_the_speakers_back_is_as_far_from_the_roof_as_supports_and_flange_are_longer_than_it():
    """Supports of 17.5 mm and a flange of 1.5 mm hang 19 mm below the roof; 17.9 mm stand up behind the face."""
    speaker = {**SPEAKER, "flange": "1.5 mm", "depth": "16.4 mm", "terminals": "1.5 mm"}
    made = spacious(speaker=speaker, decoder=None, build=build(cutting="0 mm"), **EXACT)
    assert made.misfit is None
    (support,) = (each for each in made.parts if each.kind == "support")
    found = meeting(build_many(made, 50), "the roof", "the speaker's back")
    assert found.room_mm == pytest.approx(np.full(50, float(support.cut.cut_mm) + 1.5 - 17.9), abs=1e-5)
    assert found.words == "the roof over the speaker's back"


def test_a_back_with_no_gap_over_it_touches_half_the_time():
    speaker = {**SPEAKER, "flange": "1.5 mm", "depth": "17.5 mm"}  # 19 mm with its terminals, as deep as the chamber
    clearance = {"keep": "1 mm", "along": "0.5 mm", "over_speaker": "0 mm"}
    made = spacious(speaker=speaker, decoder=None, clearance=clearance, build=build(cutting="0.2 mm"), **EXACT)
    assert made.misfit is None
    found = build_many(made, BUILDS)
    as_often_as(found, "the roof", "the speaker's back", 0.5)
    assert found.fits < 0.6 * BUILDS


def test_the_back_of_a_speaker_that_faces_up_is_over_the_floor_plate():
    """19 mm of chamber less a plate of 1 mm less 7.5 mm of speaker."""
    found = build_many(facing("up", build=build(cutting="0 mm"), **EXACT), 50)
    room = meeting(found, "the speaker's back", "the floor plate").room_mm
    assert room == pytest.approx(np.full(50, 10.5), abs=1e-5)


def test_without_a_chamber_the_back_is_looked_at_as_well():
    speaker = {**SPEAKER, "depth": "11 mm"}
    made = plan(job(speaker=speaker))
    assert made.chamber is None
    (support,) = (each for each in made.parts if each.kind == "support")
    room = meeting(build_many(made, 2000), "the roof", "the speaker's back").room_mm
    assert float(room.mean()) == pytest.approx(float(support.cut.cut_mm) + 1.2 - 12.5, abs=0.05)


# Along the length.


def test_a_box_round_a_clip_is_hit_as_often_as_the_play_reaches_further_than_the_room():
    """Room of running and play, 0.4 mm + 1 mm; the shell lies within 1 mm, the box within 0.8 mm of where it should.

    The sum of two rectangles of a = 1 and b = 0.8 exceeds t with (a + b - t)^2 / (8 a b), near its end.
    """
    near = {**CLIP, "running": "0.4 mm"}
    length = {**LENGTH, "end_play": "1 mm"}
    made = spacious(obstacles=[near], chamber=ROUND, length=length, build=build(cutting="0.8 mm"), **EXACT)
    found = build_many(made, BUILDS)
    chance = (1 + 0.8 - 1.4) ** 2 / (8 * 1 * 0.8)
    as_often_as(found, FRONT_END, "motor clip", chance)
    as_often_as(found, REAR_END, "motor clip", chance)
    assert meeting(found, REAR_END, "motor clip").words == "the rear end of its box beside motor clip"


def test_play_that_the_plan_left_out_is_found():
    """The parts of a plan without end play, on a model whose shell shifts 2 mm: the box is hit most of the time."""
    made = spacious(obstacles=[CLIP], chamber=ROUND)
    made.__dict__["job"] = spacious(obstacles=[CLIP], chamber=ROUND, length={**LENGTH, "end_play": "2 mm"}).job
    assert meeting(build_many(made, 2000), FRONT_END, "motor clip").touches.mean() > 0.3


def test_what_stands_in_the_shell_does_not_shift_along_it():
    post = {**POST, "running": "0.5 mm"}
    made = spacious(obstacles=[post], chamber=ROUND, length={**LENGTH, "end_play": "2 mm"})
    assert not any(each.beside and each.over == "screw post" and each.touches.mean() > 0.02
                   for each in build_many(made, 2000).meetings)  # fmt: skip


LENGTHWISE = [
    {"along": along, "play": play, "offset": offset, "obstacles": obstacles}
    for along in ("0 mm", "0.15 mm", "0.3 mm")
    for play in ("0 mm", "0.2 mm")
    for offset in ("0 mm", "0.2 mm")
    for obstacles in ([], [{**POST, "running": "0.2 mm"}], [{**TIGHT, "top": None}])
]


def lengthwise(along, play, offset, obstacles):
    return spacious(
        marking={"rule": "steel rule", "finest": "0.05"},
        clearance={"keep": "1 mm", "along": along},
        rules=[{**FINE, "read_to": "0.5 mm", "offset_uncertainty": offset}],
        length={**LENGTH, "end_play": play},
        obstacles=obstacles,
        decoder=None,
    )


def test_walls_touch_along_the_length_as_often_as_their_plans_state():
    """Like with like: each wall beside the step that its plan names, the chance of that one sum."""
    chances, touching = [], 0
    for number, fields in enumerate(LENGTHWISE):
        made = lengthwise(**fields)
        found = build_many(made, 2000, seed=number + 1)
        for gap in made.along_gaps:
            over = [each for each in found.meetings if each.beside and each.over == gap.step]
            (beside,) = (each for each in over if "box" not in each.part)
            chances.append(gap.chance)
            touching += int(beside.touches.sum())
            assert within_band([gap.chance], int(beside.touches.sum()), 2000), (fields, gap.chance)
    assert len(chances) == len(LENGTHWISE)
    assert within_band(chances, touching, 2000)
    assert not within_band([each * 1.1 for each in chances], touching, 2000)  # the check can fail


@pytest.mark.parametrize("name", DEMOS)
def test_it_says_of_every_meeting_whether_it_is_over_or_beside(name):
    found = build_many(plan(DEMOS[name]), 20)
    assert isinstance(found, Builds)
    assert all(isinstance(each, Meeting) and np.isfinite(each.room_mm).all() for each in found.meetings)
    assert {each.words for each in found.meetings if each.beside} == {
        f"{each.part} beside {each.over}" for each in found.meetings if each.beside
    }

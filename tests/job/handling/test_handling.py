"""Moving walls, speaker and what stands in the shell: there and back, as far as it goes, and what is said beyond."""

from __future__ import annotations

import re
from fractions import Fraction

import pytest
from crowded import crowded
from hypothesis import given, settings
from hypothesis import strategies as st
from sample_jobs import DEMOS, SMALLEST, job
from spacious import CLIP, DECODER, POST, facing, spacious

from modelmath.enclosure.choosing.trade import trade_curve
from modelmath.errors import JobError, OutOfRange, WrongKind
from modelmath.job import Job, plan
from modelmath.job.handling import CantStand, band_of, decoder_moves, handles, moved, put_back, tried
from modelmath.job.next_model import copied, freshly_read
from modelmath.job.rescaled.taking_over import to_scale
from modelmath.job.space.left_free import left_free

PLANS = {name: plan(each) for name, each in DEMOS.items()}
WITH_CHAMBER = [name for name, made in PLANS.items() if made.chamber is not None]
ROOMY = {  # besides the demos: floors cut round things, a speaker in a wall, a decoder that may lie inside
    "standing": spacious(obstacles=[CLIP, POST]),
    "cut round": spacious(obstacles=[CLIP, POST], chamber={"cut_round": True}),
    "facing front": facing("front"),
    "decoder inside": spacious(decoder={**DECODER, "inside": True}),
    "crowded": crowded(),
}
FAR = settings(max_examples=15, deadline=None)


def by_key(made, key):
    return next(each for each in handles(made) if each.key == key)


def of_kind(made, kind):
    return next(each for each in handles(made) if each.kind == kind)


def without_decoder(name):
    return plan(DEMOS[name].model_copy(update={"decoder": None}))


def with_ends(front="best", rear="best", name="switcher-ho"):
    made = DEMOS[name]
    asked = made.chamber.model_copy(update={"front_end": front, "rear_end": rear})
    return made.model_copy(update={"chamber": asked})


# What can be moved.


def test_walls_speaker_and_what_stands_can_be_moved():
    found = handles(PLANS["railmotor-oo"])
    assert [(each.kind, each.name) for each in found] == [
        ("bulkhead", "bulkhead"),
        ("closure", "rear closure"),
        ("speaker", "box-type speaker"),
        ("obstacle", "motor frame"),
        ("obstacle", "rear screw post"),
    ]
    chamber = PLANS["railmotor-oo"].chamber
    assert [each.at_mm for each in found[:3]] == [chamber.start_mm, chamber.end_mm, chamber.seat_mm[0]]
    assert not any(each.moved for each in found if each.kind != "speaker")
    assert found[2].moved  # its place is entered


def test_where_the_shells_own_end_closes_the_chamber_there_is_no_wall_to_move():
    assert [each.key for each in handles(PLANS["railbus-ho"])] == ["front_end", "speaker"]


def test_without_a_chamber_nothing_can_be_moved():
    assert handles(plan(job(SMALLEST))) == ()


@pytest.mark.parametrize("name", WITH_CHAMBER)
def test_the_places_of_walls_are_where_the_rule_is_set_on_a_mark(name):
    made = PLANS[name]
    rule, marks = made.marks.rule, made.marks
    for each in handles(made)[:1]:
        for place in each.places:
            if place != each.at_mm:
                shown = abs(place) / (1 + rule.scale_error) - rule.zero_mm(marks.datum)
                assert (shown / rule.given_mm(marks.finest)).denominator == 1


# There and back.


@FAR
@given(st.data())
def test_there_and_back_gives_the_same_plan(data):
    made = PLANS[data.draw(st.sampled_from(WITH_CHAMBER))]
    handle = data.draw(st.sampled_from(handles(made)))
    place = data.draw(st.sampled_from(handle.places))
    try:
        there = tried(made.job, made, handle, place)
    except CantStand:
        return
    back = put_back(there.job, there.plan, by_key(there.plan, handle.key))
    if not handle.moved:
        assert back == made.job
    here = by_key(there.plan, handle.key)
    if handle.at_mm not in here.places:
        return  # it stood between marks, where the plan chose
    again = tried(there.job, there.plan, here, handle.at_mm)
    assert again.plan.chamber.volume_mm3 == made.chamber.volume_mm3
    assert again.plan.chamber.seat_mm == made.chamber.seat_mm
    assert again.plan.parts == made.parts
    assert again.plan.warnings == made.warnings


@FAR
@given(st.data())
def test_within_its_band_every_place_is_taken_and_beyond_it_refused(data):
    made = data.draw(st.sampled_from([*PLANS.values(), *ROOMY.values()]))
    able = [each for each in handles(made) if each.kind != "obstacle" and not each.fixed]
    handle = data.draw(st.sampled_from(able))
    band = band_of(made, handle)
    assert band.low_mm <= handle.at_mm <= band.high_mm
    place = data.draw(st.sampled_from([each for each in handle.places if band.holds(each)]))
    there = tried(made.job, made, handle, place)
    assert there.plan.misfit is None
    assert by_key(there.plan, handle.key).at_mm == place
    for end, why, beyond in (
        (band.low_mm, band.why_low, [each for each in handle.places if each < band.low_mm][-1:]),
        (band.high_mm, band.why_high, [each for each in handle.places if each > band.high_mm][:1]),
    ):
        for each in beyond:
            with pytest.raises(CantStand) as refused:
                moved(made.job, made, handle, each)
            assert refused.value.why == why
            assert refused.value.near_mm == end


# What follows.


@pytest.mark.parametrize("name", WITH_CHAMBER)
def test_held_at_the_plans_own_best_place_it_holds_as_much(name):
    made = PLANS[name]
    for each in handles(made)[:2]:
        if each.kind in ("bulkhead", "closure"):
            there = tried(made.job, made, each, each.at_mm)
            assert getattr(there.job.chamber, each.key) != "best"
            assert there.plan.chamber.volume_mm3 == made.chamber.volume_mm3
            assert there.plan.parts == made.parts


@FAR
@given(st.data())
def test_over_its_places_the_volume_is_that_of_the_trade_curve(data):
    made = without_decoder(data.draw(st.sampled_from(WITH_CHAMBER)))
    handle = handles(made)[0]
    place = data.draw(st.sampled_from(handle.places))
    free = left_free(made)
    curve = trade_curve(free.cavity, free.limits, made.enclosure.speaker, handle.key.removesuffix("_end"), free.ends)
    try:
        there = tried(made.job, made, handle, place).plan
    except CantStand:
        return
    # Before floors and walls go to marks.
    assert max(each.volume_mm3 for each in there.enclosure.candidates) == curve.at(place).volume_mm3
    assert there.chamber.volume_mm3 <= curve.at(place).volume_mm3


@FAR
@given(st.data())
def test_further_in_a_chamber_under_the_same_floor_holds_as_much_less_as_its_section_says(data):
    made = without_decoder("switcher-ho")  # one zone's roof, straight sides
    handle = handles(made)[0]
    band = band_of(made, handle)
    places = st.sampled_from([each for each in handle.places if band.holds(each)])
    one, other = sorted((data.draw(places), data.draw(places)))
    plans = [tried(made.job, made, handle, each).plan for each in (one, other)]
    floors = {each.chamber.floor_mm for each in plans}
    if len(floors) > 1:
        return
    high = Fraction(plans[0].chamber.bays[0].zone.roof_mm) - floors.pop()
    less = plans[0].chamber.volume_mm3 - plans[1].chamber.volume_mm3
    if plans[0].chamber.end_mm == plans[1].chamber.end_mm:
        assert less == Fraction(37, 2) * high * (other - one)  # the hood is 18.5 mm wide inside


def test_the_decoder_that_makes_way_is_told():
    made = PLANS["switcher-ho"]
    there = tried(made.job, made, handles(made)[0], -40)
    assert there.said == (
        "The bulkhead stands with the front face 39.81 mm ahead of the rear hood screw, the nearest of the marks of "
        "1/8 on the scale rule, 0.44 mm apart, counted from the rear hood screw. The decoder then lies from 74.50 mm "
        "ahead of the rear hood screw on."
    )
    assert decoder_moves(made, made) == ""


def test_a_place_between_marks_goes_to_the_nearest_and_says_so():
    made = PLANS["railcar-n"]
    there = tried(made.job, made, handles(made)[0], Fraction(103, 10))
    assert there.job.chamber.front_end == "10.5 mm"
    assert "10.50 mm behind the front end of the shell's inside, the nearest of the marks of" in there.said


# What can't be.


def test_beyond_the_speakers_room_a_wall_is_refused_with_the_cause_and_how_far_it_goes():
    made = PLANS["switcher-ho"]
    says = (
        "The bulkhead can't stand 38.06 mm ahead of the rear hood screw: the speaker then does not fit: 0.02 mm too "
        "little, because over motor clip the chamber is 8.48 mm deep, with the floor set by gear tower, and the "
        "speaker takes 8.50 mm. That way it can go as far as 38.94 mm ahead of the rear hood screw."
    )
    with pytest.raises(CantStand, match=f"^{re.escape(says)}$"):
        moved(made.job, made, handles(made)[0], -38)


def test_beyond_the_shell_a_wall_is_refused():
    made = PLANS["railbus-ho"]
    says = (
        "The bulkhead can't stand 200.00 mm behind the front body screw: the rear end of the shell closes it there. "
        "That way it can go as far as 80.21 mm behind the front body screw."
    )
    with pytest.raises(CantStand, match=f"^{re.escape(says)}$"):
        moved(made.job, made, handles(made)[0], 200)


def test_a_speaker_is_refused_where_the_plan_would_seat_it_elsewhere():
    made = PLANS["railmotor-oo"]
    says = (
        "The box-type speaker can't stand 40.00 mm behind the front body screw: the roof, the floor or what stands "
        "there leaves it no room, so that the plan would seat it elsewhere. That way it can go as far as 25.50 mm "
        "behind the front body screw."
    )
    with pytest.raises(CantStand, match=f"^{re.escape(says)}$"):
        moved(made.job, made, of_kind(made, "speaker"), 40)


def test_a_speaker_that_faces_an_end_stands_at_its_wall():
    made = plan(DEMOS["gas-electric-o"].model_copy(
        update={"speaker": DEMOS["gas-electric-o"].speaker.model_copy(update={"faces": "front"})}
    ))  # fmt: skip
    speaker = of_kind(made, "speaker")
    assert speaker.places == (speaker.at_mm,)
    says = "It faces the front, so it stands at the wall there: move that wall instead."
    assert (band_of(made, speaker).why_low, band_of(made, speaker).why_high) == (says, says)
    with pytest.raises(CantStand, match=f"^The .* can't stand elsewhere: {says}$"):
        moved(made.job, made, speaker, 100)


def test_what_is_no_place_is_refused():
    made = PLANS["switcher-ho"]
    with pytest.raises(
        WrongKind, match=r"^the place of the bulkhead is '5'; expected a plain number of mm\. Read text with "
    ):
        moved(made.job, made, handles(made)[0], "5")
    with pytest.raises(OutOfRange, match=r"^the place of the bulkhead is nan mm; it must be a finite number\. "):
        moved(made.job, made, handles(made)[0], float("nan"))


# The field of the document.


def test_a_job_without_the_fields_has_its_walls_where_the_plan_chooses():
    assert {each.chamber.front_end for each in DEMOS.values()} == {"best"}
    assert with_ends() == DEMOS["switcher-ho"]


def test_a_held_wall_that_does_not_fit_is_left_out_with_its_cause_and_never_moved():
    made = plan(with_ends(front="-20 mm"))
    assert made.misfit is not None
    assert "with the chamber's front end held 20.00 mm ahead of the fore-aft mark" in str(made.misfit)
    assert made.enclosure.speaker is None
    assert made.chamber.start_mm == -20
    assert made.ways_out[0].in_words == "Let the plan choose where the chamber ends: it fits elsewhere."


def test_ends_in_the_wrong_order_are_a_fault_at_their_field():
    says = (
        "the job, chamber, rear_end: the chamber's rear end is held at -60.00 mm; it must be behind its front end, "
        'held at -50.00 mm. Hold one of the two elsewhere, or write "best".'
    )
    with pytest.raises(JobError, match=f"^{re.escape(says)}$"):
        plan(with_ends("-50 mm", "-60 mm"))


def test_why_and_the_floor_with_steps_follow_a_held_wall():
    made = plan(with_ends(front="-66.5 mm"))
    assert "of those whose front end stands where the job holds it" in str(made.why("chamber volume"))
    assert all(each.chamber.start_mm >= Fraction(-133, 2) for each in made.stepped.gains)


# What stands.


def test_an_obstacle_moves_both_its_readings_and_says_that_it_is_a_guess():
    made = PLANS["railmotor-oo"]
    frame = of_kind(made, "obstacle")
    there = tried(made.job, made, frame, frame.at_mm + 2)
    marks = {each.name: (each.mark, each.moved_from) for each in there.job.readings if each.moved_from}
    before = {each.name: each.mark for each in made.job.readings}
    assert set(marks) == {"motor frame begins", "motor frame ends"}
    assert all(Fraction(new) - Fraction(old) == 2 for new, old in marks.values())
    assert {name: old for name, (_, old) in marks.items()} == {name: before[name] for name in marks}
    assert there.plan.warnings[0] == (
        "Moved in the drawing, not read: read again before you cut, or put it back. Moved: 'motor frame begins', "
        "'motor frame ends'."
    )
    assert there.said.endswith("That is a guess, not a reading: read it again before you cut.")


def test_an_obstacle_put_back_counts_as_read_again():
    made = spacious(obstacles=[POST])
    handle = of_kind(made, "obstacle")
    there = tried(made.job, made, handle, handle.places[len(handle.places) // 2])
    assert there.job != made.job
    assert put_back(there.job, there.plan, of_kind(there.plan, "obstacle")) == made.job


def test_further_readings_of_the_same_spot_move_along():
    made = spacious(obstacles=[POST])
    readings = [
        each.model_copy(update={"again": ["60.5", "59.5"]}) if each.name == POST["start"] else each
        for each in made.job.readings
    ]
    made = plan(made.job.model_copy(update={"readings": readings}))
    handle = of_kind(made, "obstacle")
    there = tried(made.job, made, handle, handle.at_mm + 3)
    entry = next(each for each in there.job.readings if each.name == POST["start"])
    assert (entry.mark, entry.again, entry.moved_from) == ("63", ["63.5", "62.5"], "60")


def test_a_reading_typed_anew_no_longer_counts_as_moved():
    made = PLANS["railmotor-oo"]
    frame = of_kind(made, "obstacle")
    there = moved(made.job, made, frame, frame.at_mm + 2)
    typed = [
        each.model_copy(update={"mark": "60"}) if each.name == "motor frame begins" else each for each in there.readings
    ]
    read = freshly_read(there, there.model_copy(update={"readings": typed}))
    assert [each.name for each in read.readings if each.moved_from] == ["motor frame ends"]


def test_in_another_scale_and_for_the_next_model_nothing_is_held_or_moved():
    made = PLANS["railmotor-oo"]
    frame = of_kind(made, "obstacle")
    there = moved(made.job, made, frame, frame.at_mm + 2)
    there = moved(there, plan(there), handles(plan(there))[0], 3)
    scaled = to_scale(there, "HO")
    assert [each.moved_from for each in scaled.readings if each.moved_from] == []
    assert scaled.chamber.front_end == "2.63 mm"  # 3 mm at 4 mm to the foot, taken to 3.5 mm
    assert scaled.chamber.rear_end == "best"
    next_one = copied(there, "No. 13").job
    assert [each.moved_from for each in next_one.readings if each.moved_from] == []
    assert next_one.chamber.front_end == "best"


def test_what_goes_by_the_same_reading_moves_along_and_is_told():
    made = PLANS["railmotor-oo"]
    document = made.job.model_dump()
    document["obstacles"][1]["start"] = "motor frame ends"  # one reading for both
    shared = plan(Job.model_validate(document))
    frame = by_key(shared, "obstacle: motor frame")
    assert frame.along == ("where rear screw post starts",)
    there = tried(shared.job, shared, frame, frame.at_mm + 1)
    assert "With it moves where rear screw post starts." in there.said


def test_what_all_places_count_from_can_not_be_moved():
    document = PLANS["railmotor-oo"].job.model_dump()
    document["obstacles"][0]["start"] = document["length"]["mark_on_chassis"]
    made = plan(Job.model_validate(document))
    frame = by_key(made, "obstacle: motor frame")
    says = (
        "The motor frame can't stand elsewhere: All places along the length count from the reading 'screw, on the "
        "frame', which is one of its ends too: give it a reading of its own first."
    )
    with pytest.raises(CantStand, match=f"^{re.escape(says)}$"):
        moved(made.job, made, frame, frame.at_mm + 1)


def test_an_obstacle_is_refused_where_the_speaker_would_no_longer_fit():
    large = {"length": "40 mm", "width": "10 mm", "flange": "1.2 mm", "depth": "9 mm"}
    post = {**POST, "width": "20 mm"}  # from side to side, up to the roof
    made = spacious(obstacles=[post], speaker=large)
    handle = of_kind(made, "obstacle")
    band = band_of(made, handle)
    assert band.why_low.startswith("the speaker then does not fit: ")
    with pytest.raises(CantStand) as refused:
        moved(made.job, made, handle, handle.places[handle.places.index(band.low_mm) - 1])
    assert refused.value.near_mm == band.low_mm
    assert tried(made.job, made, handle, band.low_mm).plan.misfit is None

"""Each remedy makes it fit, and a hundredth of a mm less of it does not."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from modelmath.enclosure import Box, Cavity, Limits, Obstacle, Speaker, Zone, fit_enclosure
from modelmath.enclosure.choosing.changes import Given, with_obstacle_top, with_roof, with_top, with_width
from modelmath.enclosure.choosing.remedies import cause_of, remedies
from modelmath.errors import DoesNotFit

STEP = Fraction(1, 100)
MOTOR = Cavity((Zone("motor", 0, 40, 9, 15, 20),), False, False)
FIELDS = {
    "clearance": "clearance_mm",
    "end clearance": "end_clearance_mm",
    "front room": "front_room_mm",
    "rear room": "rear_room_mm",
    "wall thickness": "wall_mm",
    "post thickness": "post_mm",
    "gap over the speaker": "over_speaker_mm",
    "wire path": "wire_path_mm",
    "room for the sound": "sound_room_mm",
}


def tenths(low, high):
    return st.integers(low * 10, high * 10).map(lambda n: Fraction(n, 10))


@st.composite
def jobs(draw):
    place, zones = 0, []
    for number in range(draw(st.integers(1, 4))):
        end = place + draw(st.integers(6, 20))
        zones.append(Zone(f"zone {number}", place, end, draw(tenths(2, 9)), draw(tenths(9, 16)), draw(tenths(10, 20))))
        place = end
    obstacles = [
        Obstacle(f"post {at}", at, at + draw(st.integers(2, 9)), 3, -1, draw(tenths(2, 12)), trim_mm=draw(tenths(0, 4)))
        for at in draw(st.lists(st.integers(0, 40), max_size=2))
    ]
    closed = draw(st.booleans())
    limits = Limits(*(draw(tenths(0, 2)) for _ in range(8)), sound_room_mm=draw(tenths(1, 6)))
    speaker = Speaker(
        draw(tenths(8, 30)), draw(tenths(8, 20)), 1, draw(tenths(3, 9)), faces=draw(st.sampled_from(["down", "up"]))
    )
    decoder = Box("decoder", draw(tenths(8, 20)), draw(tenths(8, 16)), draw(tenths(2, 5)))
    cavity = Cavity(tuple(zones), closed, closed, tuple(obstacles))
    return cavity, limits, draw(st.none() | st.just(speaker)), draw(st.none() | st.just(decoder))


def fits(cavity, limits, speaker=None, decoder=None):
    try:
        return bool(fit_enclosure(cavity, limits, speaker, decoder))
    except DoesNotFit:
        return False


def a_roof_a_little_lower(given_to, remedy):
    number = next(n for n, zone in enumerate(given_to[0].zones) if zone.name == remedy.what)
    after = with_roof(Given(*given_to), number, remedy.change_mm - STEP)
    return after.cavity, after.limits, after.speaker, after.decoder


def a_little_less(given_to, remedy):
    """Return the job changed by a hundredth of a mm less than a remedy asks for; None where it changes no size."""
    cavity, limits, speaker, decoder = given_to
    if remedy.needed_mm is None:
        return None
    size = remedy.needed_mm + STEP
    if remedy.kind in FIELDS:
        return cavity, replace(limits, **{FIELDS[remedy.kind]: size}), speaker, decoder
    subject, _, what = remedy.kind.partition(" ")
    if subject == "speaker":
        changed = {f"{each}_mm": size for each in (["length", "width"] if what == "diameter" else [what])}
        return cavity, limits, replace(speaker, **changed), decoder
    if subject == "decoder":
        return cavity, limits, speaker, replace(decoder, **{f"{what}_mm": size})
    if remedy.kind == "obstacle":
        found = [replace(o, top_mm=size) if o.name == remedy.what else o for o in cavity.obstacles]
        return replace(cavity, obstacles=tuple(found)), limits, speaker, decoder
    name = {"chassis top": "top_mm", "inside width": "width_mm"}[remedy.kind]
    size = size if name == "top_mm" else remedy.needed_mm - STEP
    found = [replace(z, **{name: size}) if z.name == remedy.what else z for z in cavity.zones]
    return replace(cavity, zones=tuple(found)), limits, speaker, decoder


def check(given_to, remedy):
    after = remedy.after
    assert fits(after.cavity, after.limits, after.speaker, after.decoder), remedy
    changed = [one != other for one, other in zip(
        given_to, (after.cavity, after.limits, after.speaker, after.decoder), strict=True)]  # fmt: skip
    assert sum(changed) == 1
    less = (a_roof_a_little_lower if remedy.kind == "roof" else a_little_less)(given_to, remedy)
    if less is not None:
        assert abs(remedy.now_mm - remedy.needed_mm) == remedy.change_mm > 0
        assert not fits(*less), remedy


def unlike(cavity):
    names = [each.name for each in cavity.obstacles]
    return len(set(names)) == len(names)


@settings(max_examples=60, deadline=None)
@given(jobs())
def test_each_makes_it_fit_and_a_hundredth_less_does_not(job):
    assume(unlike(job[0]))
    found = remedies(*job)
    if fits(*job):
        assert found == ()
        return
    for remedy in found:
        check(job, remedy)
    assert [each.change_mm for each in found if each.allowed] == sorted(x.change_mm for x in found if x.allowed)
    for each in found:
        if each.kind == "obstacle":
            (post,) = (o for o in job[0].obstacles if o.name == each.what)
            assert each.allowed == (each.change_mm <= post.trim_mm)
            assert post.trim_mm > 0


@settings(max_examples=40, deadline=None)
@given(jobs())
def test_the_cause_is_the_reading_that_has_to_change_least(job):
    assume(unlike(job[0]))
    cause = cause_of(*job)
    if cause is None:
        return
    check(job, cause)
    given_to = replace(cause.after, cavity=job[0], limits=job[1], speaker=job[2], decoder=job[3])
    less = cause.change_mm - STEP
    for number in range(len(job[0].zones)):
        for change in (with_top, with_roof, with_width):
            if change is with_top and less > job[0].zones[number].top_mm:
                continue  # no chassis top lies below the seat
            assert not change(given_to, number, less).fits()
    for number, each in enumerate(job[0].obstacles):
        if each.top_mm - less > each.bottom_mm:
            assert not with_obstacle_top(given_to, number, less).fits()


def kinds(*job):
    return {each.kind: each for each in remedies(*job)}


def test_by_hand_a_speaker_three_tenths_too_deep():
    found = remedies(MOTOR, Limits(1, wall_mm=1), Speaker(20, 14, 1, Fraction("5.3")))
    assert [(each.kind, each.needed_mm, each.change_mm) for each in found] == [
        ("clearance", Fraction("0.7"), Fraction("0.3")),
        ("speaker depth", 5, Fraction("0.3")),
        ("chassis top", Fraction("8.7"), Fraction("0.3")),
    ]


def test_by_hand_a_round_speaker_and_one_to_turn():
    assert kinds(MOTOR, Limits(1), Speaker(21, 21, 1, 4))["speaker diameter"].needed_mm == 20
    turned = kinds(MOTOR, Limits(1), Speaker(16, 21, 1, 4))["speaker turned"]
    assert (turned.sentence, turned.change_mm) == ("Turn the speaker by a quarter.", 0)
    assert turned.after.speaker.length_mm == 21


def test_by_hand_a_post_in_the_way():
    post = Obstacle("screw post", 15, 25, 3, 0, 14, words="the screw post", trim_mm=2, moves=False)
    cavity, speaker = replace(MOTOR, obstacles=(post,)), Speaker(30, 14, 1, 4)
    found = kinds(cavity, Limits(1), speaker)
    assert found["obstacle"].sentence == "Take 3.00 mm off the screw post: more than the 2.00 mm that may be trimmed."
    assert not found["obstacle"].allowed
    cause = cause_of(cavity, Limits(1), speaker)
    assert cause.sentence == "The top of the screw post, at 14.00 mm, is the cause: at 11.00 mm all would fit."
    may = replace(cavity, obstacles=(replace(post, trim_mm=3),))
    assert kinds(may, Limits(1), speaker)["obstacle"].sentence == (
        "Take 3.00 mm off the screw post: 3.00 mm may be trimmed."
    )


def test_by_hand_a_floor_cut_round_a_post():
    post = Obstacle("screw post", 5, 9, 3, 0, 16, moves=False)
    cut = kinds(replace(MOTOR, obstacles=(post,)), Limits(1), Speaker(32, 14, 1, 4))
    assert "cut round" not in cut  # what is boxed in up to the roof parts the chamber for a speaker all the same
    low = replace(post, half_width_mm=Fraction(1, 2), centre_mm=9)
    cut = kinds(replace(MOTOR, obstacles=(low,)), Limits(1, wall_mm=Fraction(1, 10)), Speaker(36, 14, 1, 4))
    assert cut["cut round"].sentence == "Cut the floor round what is narrower than the shell, and box that in."


def test_by_hand_a_decoder_too_long():
    # As long as the shell it lies below a floor at 14, which leaves a chamber 1 mm high.
    found = kinds(MOTOR, Limits(1), None, Box("decoder", 44, 14, 4))
    assert found["decoder length"].sentence == "Take a decoder at most 40.00 mm in length, 4.00 mm shorter."
    assert found["no decoder"].change_mm == 44
    assert list(found)[-1] == "no decoder"
    upright = kinds(MOTOR, Limits(1), None, Box("decoder", 14, 22, 4))
    assert upright["decoder turned"].after.decoder.turns


def test_nothing_single_helps():
    assert remedies(MOTOR, Limits(1), Speaker(50, 30, 1, 9)) == ()
    assert cause_of(MOTOR, Limits(1), Speaker(50, 30, 1, 9)) is None


@pytest.mark.parametrize("size", [1.3, Fraction(13, 10)])
def test_floats_and_fractions_alike(size):
    speaker = Speaker(20, 14, 1, 5)
    found = kinds(MOTOR, Limits(size, wall_mm=1), speaker)["clearance"]
    assert found.needed_mm == 1
    assert float(found.change_mm) == pytest.approx(0.3)


@pytest.mark.parametrize(("length", "width"), [(50, 14), (14, 50), (50, 50)])
def test_a_diameter_is_told_of_a_round_speaker_alone(length, width):
    assert ("speaker diameter" in kinds(MOTOR, Limits(1), Speaker(length, width, 1, 4))) == (length == width)


def test_by_hand_of_two_small_changes_the_smaller_is_the_cause():
    """5 mm deep over a floor at 10 mm: under 14.5 mm it lacks 0.5, under 14.7 mm 0.3, in the way stands the wall."""
    half, third = Fraction("14.5"), Fraction("14.7")
    zones = (Zone("cab", 0, 20, 9, half, 20), Zone("wall", 20, 30, 14, 15, 20), Zone("motor", 30, 50, 9, third, 20))
    cause = cause_of(Cavity(zones, False, False), Limits(1), Speaker(15, 14, 1, 5))
    assert cause.sentence == "The chassis top over motor, at 9.00 mm, is the cause: at 8.70 mm all would fit."
    turned = [replace(each, start_mm=50 - each.end_mm, end_mm=50 - each.start_mm) for each in reversed(zones)]
    other = cause_of(Cavity(tuple(turned), False, False), Limits(1), Speaker(15, 14, 1, 5))
    assert other.sentence == cause.sentence

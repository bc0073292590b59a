"""What is tried in whole numbers, with short cuts, beside plain bisection by the fit itself, every change from anew."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from math import ceil

import pytest
from enclosure.choosing.test_remedies import FIELDS, jobs
from hypothesis import given, settings
from hypothesis import strategies as st

from modelmath.enclosure import Box, Cavity, Limits, Obstacle, Speaker, Zone
from modelmath.enclosure.choosing.changes import Given, with_obstacle_top, with_top
from modelmath.enclosure.choosing.remedies import cause_of, remedies
from modelmath.enclosure.choosing.trying import Tries, without_decoder, without_speaker

STEPS = 100


def fits(job):
    return job.fits()


def bisected(change, least, now):
    """Return the greatest size in hundredths that fits; None where not even the least does."""
    low, high = ceil(Fraction(least) * STEPS), ceil(Fraction(now) * STEPS)
    if low >= high or not fits(change(Fraction(low, STEPS))):
        return None
    while high - low > 1:
        middle = (low + high) // 2
        low, high = (middle, high) if fits(change(Fraction(middle, STEPS))) else (low, middle)
    return Fraction(low, STEPS)


def plainly(job):
    """Yield the kind and the needed size of every remedy that changes a size, found by bisection alone."""
    finest = Fraction(1, STEPS)
    for kind, name in FIELDS.items():

        def keep(size, name=name):
            return replace(job, limits=replace(job.limits, **{name: size}))

        now = getattr(job.limits, name)
        yield kind, "", bisected(keep, finest if name in ("wall_mm", "sound_room_mm") else 0, now)
    for subject in ("speaker", "decoder"):
        thing = getattr(job, subject)
        for what in ("depth", "length", "width", "height") if thing else ():
            if hasattr(thing, f"{what}_mm"):

                def sized(size, subject=subject, thing=thing, what=what):
                    basket = getattr(thing, f"basket_{what}_mm", None)  # no larger than the flange
                    smaller = {} if basket is None else {f"basket_{what}_mm": min(basket, size)}
                    return replace(job, **{subject: replace(thing, **{f"{what}_mm": size}, **smaller)})

                least = thing.flange_mm if what == "depth" else finest
                yield f"{subject} {what}", "", bisected(sized, least, getattr(thing, f"{what}_mm"))
    for number, zone in enumerate(job.cavity.zones):
        found = bisected(lambda size, n=number, z=zone: with_top(job, n, z.top_mm - size), 0, zone.top_mm)
        yield "chassis top", zone.name, found


@settings(max_examples=60, deadline=None)
@given(jobs(), st.sampled_from([None, "front", "rear"]))
def test_the_remedies_are_those_of_plain_bisection(parts, faces):
    job = Given(*parts)
    if faces and job.speaker:
        job = replace(job, speaker=replace(job.speaker, faces=faces))
    found = remedies(job.cavity, job.limits, job.speaker, job.decoder)
    if fits(job):
        assert found == ()
        return
    wanted = {(kind, what): size for kind, what, size in plainly(job) if size is not None}
    named = ("chassis top",)
    sized = {
        (each.kind, each.what if each.kind in named else ""): each.needed_mm
        for each in found
        if each.needed_mm is not None and each.kind not in ("obstacle", "speaker diameter")
    }
    assert sized.keys() == wanted.keys()
    for (kind, what), size in wanted.items():
        # A chassis top is brought down by whole hundredths, wherever it stands.
        assert abs(sized[kind, what] - size) < Fraction(1, STEPS), (kind, what)


@settings(max_examples=150, deadline=None)
@given(jobs(), st.sampled_from([None, "front", "rear"]), st.booleans())
def test_a_try_says_what_the_fit_says(parts, faces, cut_round):
    job = Given(*parts)
    job = replace(job, limits=replace(job.limits, cut_round=cut_round))
    if faces and job.speaker:
        job = replace(job, speaker=replace(job.speaker, faces=faces))
    tries = Tries(job)
    assert tries.fits() == fits(job)
    for change in (without_decoder, without_speaker):
        assert tries.fits(change) == fits(change(job))
    lower = Tries(job).least(lambda given, size: with_top(given, 0, size), 3)
    assert (lower is not None) == (not fits(job) and fits(with_top(job, 0, 3))) or fits(job)


@settings(max_examples=100, deadline=None)
@given(jobs(), st.sampled_from(["down", "up", "front", "rear"]))
def test_what_does_not_fit_with_less_in_it_does_not_fit_with_more(parts, faces):
    job = Given(*parts)
    if job.speaker:
        job = replace(job, speaker=replace(job.speaker, faces=faces))
    if fits(job):
        assert fits(without_decoder(job))
        assert fits(without_speaker(job))


@pytest.mark.parametrize("size", [14, 14.0, Fraction(14)])
def test_by_hand_the_least_off_a_post(size):
    post = Obstacle("screw post", 15, 25, 3, 0, size, trim_mm=2, moves=False)
    cavity = Cavity((Zone("motor", 0, 40, 9, 15, 20),), False, False, (post,))
    tries = Tries(Given(cavity, Limits(1), Speaker(30, 14, 1, 4)))
    assert not tries.fits()
    found = tries.least(lambda given, lower: with_obstacle_top(given, 0, lower), 13)
    assert found.mm == 3
    assert fits(found.after)
    assert tries.least(lambda given, lower: with_obstacle_top(given, 0, lower), Fraction("2.99")) is None


def test_by_hand_less_room_at_a_closed_end_that_it_faces():
    """20 long: a bulkhead of 1, then 15 for the speaker leaves 4 to keep, be it for a lamp or for the sound."""
    cavity, speaker = Cavity((Zone("hood", 0, 20, 5, 15, 12),)), Speaker(8, 9, 1, 15, faces="front")
    assert Given(cavity, Limits(1, sound_room_mm=4), speaker).fits()
    for kind, limits in (
        ("front room", Limits(1, front_room_mm=6)), ("room for the sound", Limits(1, sound_room_mm=6)),
    ):  # fmt: skip
        found = {each.kind: each for each in remedies(cavity, limits, speaker)}
        assert found[kind].needed_mm == 4
        assert found[kind].after.fits()
    at_the_rear = replace(cavity, front_closed=False)  # closed there, but it faces the open front
    open_ended = {each.kind for each in remedies(at_the_rear, Limits(1, front_room_mm=6, sound_room_mm=6), speaker)}
    assert "front room" in open_ended
    assert "room for the sound" not in open_ended


@pytest.mark.parametrize("lower", [2, 2.5, Fraction(7, 3)])
def test_by_hand_a_roof_that_comes_level_with_another(lower):
    """Only level with the hood's is the cab's roof one with it over 40 mm; higher by any other amount it is not."""
    zones = (Zone("cab", 0, 20, 5, 15 - lower, 12), Zone("hood", 20, 40, 5, 15, 12))
    cause = cause_of(Cavity(zones), Limits(1), Speaker(30, 10, 1, 4, faces="up"))
    assert (cause.kind, cause.what, cause.change_mm) == ("roof", "cab", Fraction(lower))
    assert cause.after.fits()


def test_by_hand_in_floats_as_in_fractions():
    cavity = Cavity((Zone("motor", 0, 40, 9, 15, 20),), False, False)
    for depth in (5.3, Fraction("5.3")):
        tries = Tries(Given(cavity, Limits(1, wall_mm=1), Speaker(20, 14, 1, depth)))
        found = tries.greatest(
            lambda given, size: replace(given, speaker=replace(given.speaker, depth_mm=size)), 1, depth
        )
        assert found.mm == 5


POST = Obstacle("screw post", 15, 25, 3, 0, 14, trim_mm=2, moves=False)
UNDER_POST = Given(Cavity((Zone("motor", 0, 40, 9, 15, 20),), False, False, (POST,)), Limits(1), Speaker(30, 14, 1, 4))


def asked(tries, most=13):
    """Return the least off the post, in hundredths of a mm, and every amount that was tried for it."""
    amounts = []

    def lower(given, amount):
        amounts.append(round(amount * STEPS / tries.step / STEPS))
        return with_obstacle_top(given, 0, amount)

    found = tries.least(lower, most)
    amounts.pop()  # all as it then is, in mm
    return found.mm * STEPS, amounts


@pytest.mark.parametrize(
    ("likely", "tried"),
    [
        (3, [1300, 300, 299]),  # the right one, and one less to be sure
        (2.991, [1300, 300, 299]),  # a part of a hundredth counts as a whole one
        (2.99, [1300, 299, 300]),  # one too little
        (3.0000000001, [1300, 300, 299]),  # a rounding more
    ],
)
def test_what_is_likely_is_tried_first(likely, tried):
    assert asked(Tries(UNDER_POST, likely)) == (300, tried)


def test_without_a_likely_amount_one_step_then_halves_are_tried():
    """At times only all of a change does; then 13 mm are halved until a hundredth is left: 11 times at most."""
    amount, tried = asked(Tries(UNDER_POST))
    assert (amount, tried[:4]) == (300, [1300, 1299, 650, 325])
    assert len(tried) <= 2 + 11


def test_what_made_it_fit_before_is_tried_first_then():
    tries = Tries(UNDER_POST, 5)
    asked(tries)
    assert asked(tries, 12) == (300, [1200, 300, 299])
    assert tries.least(lambda given, by: with_obstacle_top(given, 0, by), 2) is None


def test_three_amounts_are_kept_in_mind_the_last_first():
    tries = Tries(UNDER_POST, 5)
    tries._amounts = [100, 200, 100, 400, 300]
    assert list(tries._likely(0)) == [-100, -99, -101, -200, -199, -201, -400, -399, -401]
    assert list(tries._likely(1000))[:3] == [900, 901, 899]


def test_by_hand_what_fits_already_needs_no_change():
    tries = Tries(replace(UNDER_POST, cavity=replace(UNDER_POST.cavity, obstacles=())))

    def sized(given, size):
        return replace(given, speaker=replace(given.speaker, depth_mm=size))

    assert tries.already
    found = tries.greatest(sized, 1, 4)
    assert (found.mm, found.after.speaker.depth_mm) == (4, 4)
    assert tries.greatest(sized, 4, 4) is None
    assert tries.least(lambda given, size: with_top(given, 0, size), 3).mm == 0
    assert tries.first(sized, (4, 3)).mm == 4


def test_by_hand_the_first_amount_that_makes_all_fit():
    tries = Tries(UNDER_POST)

    def lower(given, amount):
        return with_obstacle_top(given, 0, amount)

    found = tries.first(lower, (1, Fraction("2.99"), 5, 3, 4))
    assert (found.mm, found.after.cavity.obstacles[0].top_mm) == (5, 9)
    assert tries.first(lower, (1, 2)) is None
    assert tries.first(lower, ()) is None


@pytest.mark.parametrize("size", [20, 20.0])
@pytest.mark.parametrize(("path", "good"), [(4, True), (5, False), (19, False), (20, False), (40, False)])
def test_by_hand_a_wire_path_takes_its_width_and_its_wall(size, path, good):
    """20 mm less a path of 4 mm and a wall of 1 mm leave just the width of the speaker."""
    cavity = Cavity((Zone("motor", 0, 40, 9, 15, size),), False, False)
    assert Tries(Given(cavity, Limits(1, wire_path_mm=path), Speaker(30, 15, 1, 4))).fits() == good


def test_by_hand_in_whole_numbers_a_unit_finer_than_a_hundredth():
    """Over a chassis top at 9 1/3 mm with 1 mm kept, a speaker of 5 mm lacks 1/3 mm under a roof at 15 mm."""
    cavity = Cavity((Zone("motor", 0, 40, 9 + Fraction(1, 3), 15, 20),), False, False)
    tries = Tries(Given(cavity, Limits(1), Speaker(30, 14, 1, 5)))
    found = tries.least(lambda given, size: with_top(given, 0, size), 4)
    assert found.mm == Fraction("0.34")
    assert found.after.cavity.zones[0].top_mm == 9 + Fraction(1, 3) - Fraction("0.34")


@pytest.mark.parametrize("lower", [0, 20])
@pytest.mark.parametrize(("length", "good"), [(40, True), (Fraction(401, 10), False)])
def test_by_hand_a_decoder_that_finds_room_below_the_floor_alone(lower, length, good):
    """Beside the speaker it would leave 39 mm; below the floor over the motor there are 20 mm behind the speaker.

    Heights may lie below the seat: where only depths are read, they count down from the roof.
    """
    zones = (
        Zone("motor", 0, 20, 9 - lower, 15 - lower, 12), Zone("cab", 20, 60, 2 - lower, 15 - lower, 12),
    )  # fmt: skip
    job = Given(Cavity(zones), Limits(1, wall_mm=1), Speaker(length, 9, 1, 3, place="front"), Box("decoder", 20, 10, 6))
    assert Tries(job).fits() == fits(job) == good

"""What is tried in whole numbers, with short cuts, beside plain bisection by the fit itself, every change from anew."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from math import ceil

import pytest
from enclosure.choosing.test_remedies import FIELDS, jobs
from hypothesis import given, settings
from hypothesis import strategies as st

from modelmath.enclosure import Cavity, Limits, Obstacle, Speaker, Zone
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

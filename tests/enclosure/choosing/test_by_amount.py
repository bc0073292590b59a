"""Each remedy by any amount of it: sizes in hundredths that can be typed, sentences word for word; all by hand."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest

from modelmath.enclosure import Box, Cavity, Limits, Obstacle, Speaker, Zone
from modelmath.enclosure.choosing.by_amount import (
    KEPT,
    as_cause,
    said_of_decoder,
    said_of_diameter,
    said_of_kept,
    said_of_speaker,
    smaller,
    taken_off,
)
from modelmath.enclosure.choosing.changes import Given, with_obstacle_top, with_roof, with_top, with_width
from modelmath.enclosure.choosing.readings import FARTHEST_MM, chassis_top, obstacle_top, readings
from modelmath.enclosure.choosing.remedies import cause_of, remedies

MOTOR, CAB = Zone("motor", 0, 40, 9, 15, 20), Zone("cab", 40, 60, 5, 13, 18)
POST = Obstacle("post", 15, 25, 3, 2, 14, words="the screw post", trim_mm=2, moves=False)
GIVEN = Given(Cavity((MOTOR, CAB), False, False, (POST,)), Limits(1), Speaker(30, 14, 1, 4), Box("decoder", 9, 8, 3))


@pytest.mark.parametrize(
    ("kind", "sentence"),
    [
        ("clearance", "Keep 1.50 mm of clearance over the chassis, 0.25 mm less: weigh the chance of touching."),
        ("end clearance", "Keep 1.50 mm of clearance along the length, 0.25 mm less: weigh the chance of touching."),
        ("front room", "Keep 1.50 mm of room at the front end, 0.25 mm less."),
        ("rear room", "Keep 1.50 mm of room at the rear end, 0.25 mm less."),
        ("room for the sound", "Keep 1.50 mm before the speaker, 0.25 mm less: less of its sound gets out."),
        ("wall thickness", "Use walls no thicker than 1.50 mm, 0.25 mm less."),
        ("post thickness", "Use posts that take no more than 1.50 mm of the length, 0.25 mm less."),
        ("gap over the speaker", "Leave 1.50 mm over the speaker's back, 0.25 mm less."),
        ("wire path", "Keep a wire path 1.50 mm wide, 0.25 mm less."),
    ],
)
def test_what_to_keep_less_of(kind, sentence):
    assert said_of_kept(kind, Fraction(3, 2), Fraction(1, 4)) == sentence
    (field,) = [name for name, each, *_ in KEPT if each == kind]
    assert hasattr(Limits(1), field)


def test_how_large_things_may_be():
    sizes = Fraction(3, 2), Fraction(1, 4)
    assert [said_of_speaker(what, *sizes) for what in ("depth", "length", "width")] == [
        "Take a speaker at most 1.50 mm in depth, 0.25 mm shallower.",
        "Take a speaker at most 1.50 mm in length, 0.25 mm shorter.",
        "Take a speaker at most 1.50 mm in width, 0.25 mm narrower.",
    ]
    assert [said_of_decoder("sound decoder", what, *sizes) for what in ("length", "width", "height")] == [
        "Take a sound decoder at most 1.50 mm in length, 0.25 mm shorter.",
        "Take a sound decoder at most 1.50 mm in width, 0.25 mm narrower.",
        "Take a sound decoder at most 1.50 mm in height, 0.25 mm flatter.",
    ]
    assert said_of_diameter(*sizes) == "Take a speaker at most 1.50 mm in diameter, or square, 0.25 mm smaller."


def clear(given, size):
    return replace(given, limits=replace(given.limits, clearance_mm=size))


@pytest.mark.parametrize(
    ("amount", "needed"),
    [
        ("0.25", "0.75"),
        ("0.251", "0.74"),  # no less than is asked for, in whole hundredths
        ("0.2501", "0.74"),
        ("0.6", "0.40"),
        ("0.601", None),  # it may be no less than 0.4
        ("0", "1"),
    ],
)
def test_a_size_made_smaller_by_an_amount(amount, needed):
    made = smaller(
        GIVEN, "clearance", "what", clear, (Fraction("0.4"), 1), lambda *told: f"{told[0]}, {told[1]}", Fraction(amount)
    )
    if needed is None:
        assert made is None
        return
    needed = Fraction(needed)
    assert (made.kind, made.what, made.now_mm, made.needed_mm, made.change_mm) == (
        "clearance", "what", 1, needed, 1 - needed,
    )  # fmt: skip
    assert (made.sentence, made.allowed) == (f"{needed}, {1 - needed}", True)
    assert made.after == clear(GIVEN, needed)
    assert made.by(Fraction("0.3")).needed_mm == Fraction("0.7")
    assert made.by(Fraction("0.7")) is None


@pytest.mark.parametrize(
    ("amount", "mm", "allowed", "words"),
    [
        ("1.5", "1.5", True, "Take 1.50 mm off the screw post: 2.00 mm may be trimmed."),
        ("1.501", "1.51", True, "Take 1.51 mm off the screw post: 2.00 mm may be trimmed."),
        ("2", "2", True, "Take 2.00 mm off the screw post: 2.00 mm may be trimmed."),
        ("2.001", "2.01", False, "Take 2.01 mm off the screw post: more than the 2.00 mm that may be trimmed."),
        ("11.99", "11.99", False, "Take 11.99 mm off the screw post: more than the 2.00 mm that may be trimmed."),
        ("11.991", None, False, ""),
    ],
)
def test_something_taken_off_an_obstacle(amount, mm, allowed, words):
    """It stands from 2 up to 14 mm; of its 12 mm a hundredth stays."""
    reading = obstacle_top(GIVEN, 0)
    assert (reading.kind, reading.what, reading.words, reading.now_mm) == (
        "obstacle", "post", "The top of the screw post", 14,
    )  # fmt: skip
    assert (reading.most_mm, reading.allowed_mm, reading.rises) == (Fraction("11.99"), 2, False)
    made = taken_off(GIVEN, reading, "off the screw post", reading.most_mm, Fraction(amount))
    if mm is None:
        assert made is None
        return
    assert (made.change_mm, made.needed_mm, made.allowed, made.sentence) == (
        Fraction(mm), 14 - Fraction(mm), allowed, words,
    )  # fmt: skip
    assert made.after == with_obstacle_top(GIVEN, 0, Fraction(mm))
    assert made.by(3).sentence == "Take 3.00 mm off the screw post: more than the 2.00 mm that may be trimmed."
    assert made.by(12) is None


def test_something_taken_off_the_chassis():
    reading = chassis_top(GIVEN, 1)
    assert (reading.kind, reading.words, reading.now_mm, reading.most_mm, reading.allowed_mm, reading.rises) == (
        "chassis top", "The chassis top over cab", 5, 5, FARTHEST_MM, False,
    )  # fmt: skip
    made = taken_off(GIVEN, reading, "off it.", reading.most_mm, 5)
    assert (made.needed_mm, made.allowed, made.sentence) == (0, True, "Take 5.00 mm off it.")
    assert made.after == with_top(GIVEN, 1, 5)
    assert made.by(Fraction("5.001")) is None
    at_the_seat = Given(Cavity((replace(MOTOR, top_mm=0),)), Limits(1))
    assert chassis_top(at_the_seat, 0).most_mm == 0
    below = Given(Cavity((replace(MOTOR, top_mm=-6, roof_mm=0),)), Limits(1))
    assert chassis_top(below, 0).most_mm == FARTHEST_MM  # where only the depth was read


def test_every_reading_in_the_order_in_which_it_is_named():
    assert [(each.kind, each.what, each.now_mm, each.rises) for each in readings(GIVEN)] == [
        ("obstacle", "post", 14, False),
        ("chassis top", "motor", 9, False), ("chassis top", "cab", 5, False),
        ("roof", "motor", 15, True), ("roof", "cab", 13, True),
        ("inside width", "motor", 20, True), ("inside width", "cab", 18, True),
    ]  # fmt: skip
    changed = [each.change(GIVEN, 2) for each in readings(GIVEN)]
    assert changed == [
        with_obstacle_top(GIVEN, 0, 2), with_top(GIVEN, 0, 2), with_top(GIVEN, 1, 2), with_roof(GIVEN, 0, 2),
        with_roof(GIVEN, 1, 2), with_width(GIVEN, 0, 2), with_width(GIVEN, 1, 2),
    ]  # fmt: skip
    assert changed[1].cavity.zones[0].top_mm == 7
    assert changed[4].cavity.zones[1].roof_mm == 15
    assert changed[5].cavity.zones[0].width_mm == 22


@pytest.mark.parametrize(
    ("number", "sentence"),
    [
        (0, "The top of the screw post, at 14.00 mm, is the cause: at 12.50 mm all would fit."),
        (1, "The chassis top over motor, at 9.00 mm, is the cause: at 7.50 mm all would fit."),
        (3, "The roof over motor, at 15.00 mm, is the cause: at 16.50 mm all would fit."),
        (6, "The inside width over cab, at 18.00 mm, is the cause: at 19.50 mm all would fit."),
    ],
)
def test_a_reading_as_the_cause(number, sentence):
    reading = list(readings(GIVEN))[number]
    made = as_cause(GIVEN, reading, Fraction(3, 2))
    assert (made.sentence, made.change_mm, made.allowed) == (sentence, Fraction(3, 2), True)
    assert made.after == reading.change(GIVEN, Fraction(3, 2))
    more = made.by(Fraction("2.001"))
    assert (more.change_mm, more.allowed) == (Fraction("2.01"), number != 0)
    assert as_cause(GIVEN, reading, reading.most_mm) is not None
    assert as_cause(GIVEN, reading, reading.most_mm + Fraction(1, 100)) is None


def test_what_is_found_can_be_asked_for_by_more_of_it():
    """0.3 mm of depth are lacking; by half a mm each is as much more, where there is so much of it."""
    cavity, speaker = Cavity((MOTOR,), False, False), Speaker(20, 14, 1, Fraction("5.3"))
    found = {each.kind: each.by(Fraction(1, 2)) for each in remedies(cavity, Limits(1), speaker)}
    assert {kind: (each.needed_mm, each.change_mm) for kind, each in found.items()} == {
        "clearance": (Fraction("0.5"), Fraction("0.5")),
        "speaker depth": (Fraction("4.8"), Fraction("0.5")),
        "chassis top": (Fraction("8.5"), Fraction("0.5")),
    }
    assert all(each.after.fits() for each in found.values())
    assert found["clearance"].by(2) is None
    cause = cause_of(cavity, Limits(1), speaker).by(Fraction(1, 2))
    assert (cause.kind, cause.needed_mm) == ("chassis top", Fraction("8.5"))

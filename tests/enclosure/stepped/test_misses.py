"""By how much a stepped chamber misses, and why: amounts by hand, in whole sentences; and what is not worked out."""

from __future__ import annotations

import re
from dataclasses import replace
from fractions import Fraction

import pytest
from enclosure.making.test_three_times_as_large import times, worded

from modelmath.enclosure import Cavity, Limits, Obstacle, Speaker, Zone
from modelmath.enclosure.stepped import fit_stepped, why_no_steps
from modelmath.enclosure.stepped.misses import too_low
from modelmath.errors import DoesNotFit, OutOfRange, WrongKind

MOTOR, CAB = Zone("motor", 0, 30, 9, 15, 12), Zone("cab", 30, 50, 5, 15, 10)
SHALLOWER = "Try a shallower speaker, less clearance, or trimming what stands there."
SHORTER = "Try a shorter speaker, or less clearance along the length."
GEAR = Obstacle("gear", 10, 12, 3, 0, 13, words="the gear", moves=False)


def told(short, cause, remedy, what="The speaker"):
    return f"{what} does not fit: {short}, because {cause}. {remedy}"


MISSES = {
    "too deep everywhere, least over the cab": (
        {"speaker": Speaker(12, 9, 1, 10)},
        told("1.00 mm too little", "over cab, with the floor set by cab, the chamber is 9.00 mm deep, and the speaker "
             "takes 10.00 mm", SHALLOWER),
    ),
    "with what is kept over it": (
        {"speaker": Speaker(12, 9, 1, 9), "limits": Limits(1, over_speaker_mm=2)},
        told("2.00 mm too little", "over cab, with the floor set by cab, the chamber is 9.00 mm deep, and the speaker "
             "takes 11.00 mm", SHALLOWER),
    ),
    "with its cone": (
        {"speaker": Speaker(12, 9, 1, 8, travel_mm=3)},
        told("2.00 mm too little", "over cab, with the floor set by cab, the chamber is 6.00 mm deep, and the speaker "
             "takes 8.00 mm", SHALLOWER),
    ),
    "with a cone that takes all": (
        {"speaker": Speaker(12, 9, 1, 8, travel_mm=10)},
        told("9.00 mm too little", "over cab, with the floor set by cab, the chamber is without depth, and the speaker "
             "takes 8.00 mm", SHALLOWER),
    ),
    "too wide everywhere, least over the motor": (
        {"speaker": Speaker(12, 13, 1, 4)},
        told("1.00 mm too little", "over motor the shell is 12.00 mm wide inside and the speaker 13.00 mm",
             "Try a narrower speaker."),
    ),
    "too long for all of it, which goes from one zone to the other": (
        {"speaker": Speaker(53, 9, 1, 4)},
        told("3.00 mm too little", "from motor to cab there are 50.00 mm of length for its 53.00 mm", SHORTER),
    ),
    "too long for one zone, the other too shallow": (
        {"speaker": Speaker(22, 9, 1, 8)},
        told("2.00 mm too little", "over cab there are 20.00 mm of length for its 22.00 mm", SHORTER),
    ),
    "over two zones less lacks of the depth": (
        {"speaker": Speaker(40, 9, 1, 6)},
        told("1.00 mm too little", "over motor, with the floor set by motor, the chamber is 5.00 mm deep, and the "
             "speaker takes 6.00 mm", SHALLOWER),
    ),
    "over two zones less lacks of the width": (
        {"speaker": Speaker(40, 11, 1, 4)},
        told("1.00 mm too little", "over cab the shell is 10.00 mm wide inside and the speaker 11.00 mm",
             "Try a narrower speaker."),
    ),
    "where something stands": (
        {"speaker": Speaker(30, 9, 1, 4), "cavity": Cavity((replace(MOTOR, top_mm=11),), obstacles=(GEAR,))},
        told("2.00 mm too little", "over motor, with the floor set by the gear, the chamber is 2.00 mm deep, and the "
             "speaker takes 4.00 mm", SHALLOWER),
    ),
    "no depth": (
        {"limits": Limits(12)},
        told("2.00 mm too little", "over cab, the deepest place, chassis and clearance take all the depth",
             "Keep less clearance, or trim what stands there.", "The chamber"),
    ),
    "just no depth": (
        {"limits": Limits(10)},
        told("nothing is left", "over cab, the deepest place, chassis and clearance take all the depth",
             "Keep less clearance, or trim what stands there.", "The chamber"),
    ),
    "no length": (
        {"limits": Limits(1, front_room_mm=20, rear_room_mm=30)},
        told("nothing is left", "the space given and the room kept for lamps leave no length",
             "Keep less room at the ends, or give more space.", "The chamber"),
    ),
    "walls that take it all": (
        {"limits": Limits(1, wall_mm=17), "cavity": Cavity((MOTOR,), False, False)},
        told("4.00 mm too little", "over motor there are 30.00 mm of length, and walls take 34.00 mm",
             "Use thinner walls, or keep less clearance along the length.", "The chamber"),
    ),
    "one wall that takes it all": (
        {"limits": Limits(1, wall_mm=31), "cavity": Cavity((MOTOR,), False)},
        told("1.00 mm too little", "over motor there are 30.00 mm of length, and walls take 31.00 mm",
             "Use thinner walls, or keep less clearance along the length.", "The chamber"),
    ),
    "walls that take all there is beside what has no depth": (
        {"limits": Limits(1, wall_mm=17), "cavity": Cavity((Zone("weight", -40, 0, 14, 15, 12), MOTOR), False, False)},
        told("4.00 mm too little", "over motor there are 30.00 mm of length, and walls take 34.00 mm",
             "Use thinner walls, or keep less clearance along the length.", "The chamber"),
    ),
    "walls that just do": (
        {"limits": Limits(1, wall_mm=15), "cavity": Cavity((MOTOR,), False, False)},
        told("nothing is left", "over motor there are 30.00 mm of length, and walls take 30.00 mm",
             "Use thinner walls, or keep less clearance along the length.", "The chamber"),
    ),
}  # fmt: skip


@pytest.mark.parametrize("case", MISSES)
def test_what_is_told_of_a_miss(case):
    given, text = MISSES[case]
    with pytest.raises(DoesNotFit, match=f"^{re.escape(text)}$"):
        fit_stepped(**({"cavity": Cavity((MOTOR, CAB)), "limits": Limits(1)} | given))


@pytest.mark.parametrize("case", MISSES)
def test_three_times_as_large_it_misses_by_three_times_as_much(case):
    given = {"cavity": Cavity((MOTOR, CAB)), "limits": Limits(1), "least_riser_mm": Fraction(1, 2)} | MISSES[case][0]
    told_of = []
    for job in (given, times(given)):
        with pytest.raises(DoesNotFit) as caught:
            fit_stepped(**job)
        told_of.append(worded(str(caught.value)))
    assert told_of[0][0] == told_of[1][0]
    assert [each / 3 for each in told_of[1][1]] == pytest.approx(told_of[0][1], abs=0.011)


def test_only_over_a_step_too_low_to_be_cut():
    error = too_low(Fraction(1, 4), Fraction(1, 2), None)
    assert str(error) == told(
        "0.25 mm too little", "it fits only over a floor with a step 0.25 mm high, and none lower than 0.50 mm can be "
        "marked and cut", "Mark out with a finer rule, keep less clearance, or use a smaller speaker.", "The chamber",
    )  # fmt: skip
    assert str(too_low(Fraction(1, 4), Fraction(1, 2), Speaker(9, 9, 1, 4))).startswith("The speaker does not fit:")


@pytest.mark.parametrize(
    ("given", "error", "text"),
    [
        ({"most_steps": True}, WrongKind, "most steps is 'True'; expected a whole number. Write how many steps,"),
        ({"most_steps": -1}, OutOfRange, "most steps is -1; it must be 0 or more. Write 0 for a flat floor."),
        ({"limits": Limits(1, wall_mm=0)}, OutOfRange, "wall is 0 mm; it must be above 0 where the floor has steps."),
        ({"shortest_mm": Fraction(19, 10)}, OutOfRange, "the shortest level is 1.9 mm; it must be 2 mm or more, two"),
        ({"space": (30, 30)}, OutOfRange, "the space is from 30 to 30 mm; it must be longer than 0. Write its front"),
        ({"space": ("5", 30)}, WrongKind, "the space: front end is '5'; expected a plain number of mm."),
        ({"space": (5, "30")}, WrongKind, "the space: rear end is '30'; expected a plain number of mm."),
        ({"least_riser_mm": -1}, OutOfRange, "the least riser is -1 mm; it must be 0 or more. Write 0 mm where any"),
        (
            {"speaker": Speaker(9, 9, 1, 4, faces="up")},
            OutOfRange,
            "speaker: faces is 'up'; it must be 'down' over a floor with steps. Let it face down",
        ),
        (
            {"limits": Limits(1, cut_round=True), "cavity": Cavity((MOTOR, CAB), obstacles=(GEAR,))},
            OutOfRange,
            "cutting the floor round obstacles is asked for; it must be left out over a floor with steps.",
        ),
    ],
)
def test_what_is_not_worked_out_is_refused(given, error, text):
    with pytest.raises(error, match=f"^{re.escape(text)}"):
        fit_stepped(**({"cavity": Cavity((MOTOR, CAB)), "limits": Limits(1)} | given))


def test_what_is_just_worked_out():
    cavity = Cavity((MOTOR, CAB))
    for given in ({"shortest_mm": 2}, {"least_riser_mm": 0}, {"limits": Limits(1, cut_round=True)}, {"most_steps": 1}):
        assert fit_stepped(**({"cavity": cavity, "limits": Limits(1)} | given))[-1].steps == 1
    (flat,) = fit_stepped(cavity, Limits(1, wall_mm=0), most_steps=0)
    assert flat.volume_mm3 == 30 * 12 * 5 + 20 * 10 * 5


def test_why_there_are_no_steps():
    cavity = Cavity((MOTOR, CAB), obstacles=(GEAR,))
    assert why_no_steps(cavity, Limits(1), Speaker(9, 9, 1, 4, faces="up")) == (
        "Steps are worked out for a speaker that faces down, as it needs a floor to sound through; this one faces up. "
        "The floor stays flat."
    )
    assert why_no_steps(cavity, Limits(1, cut_round=True), None) == (
        "Steps are not worked out where the floor is cut round what is narrower than the shell. Leave cutting round "
        "out to see what steps would buy instead."
    )
    assert why_no_steps(Cavity((MOTOR, CAB)), Limits(1, cut_round=True), None) == ""
    assert why_no_steps(cavity, Limits(1), Speaker(9, 9, 1, 4)) == ""

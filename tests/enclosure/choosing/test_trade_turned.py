"""The trade curve seen from the other end, piece by piece; what it says of a bulkhead that moves; all on small shells.

A curve for the bulkhead at the rear is that for one at the front of the shell turned round: every place, its volume,
its height, its other end, and the words, with front and rear exchanged.
"""

from __future__ import annotations

import re
from dataclasses import replace
from fractions import Fraction
from itertools import pairwise

import pytest
from enclosure.choosing.test_trade import stretch

from modelmath.enclosure import Cavity, Limits, Obstacle, Profile, Speaker, Zone
from modelmath.enclosure.choosing.trade import TradeCurve, trade_curve
from modelmath.errors import DoesNotFit, OutOfRange, WrongKind

ZONES = (Zone("cab", -10, 15, 5, 15, 10), Zone("motor", 15, 40, 9, 17, 12), Zone("tank", 40, 70, 3, 15, 11))
SLOPED = tuple(
    replace(
        each, profile=Profile(((0, Fraction(each.width_mm, 2)), (12, Fraction(each.width_mm, 2)), (each.roof_mm, 2)))
    )
    for each in ZONES
)
SPEAKER = Speaker(12, 8, 1, 5)
LIMITS = Limits(1, 2, 1, 2, front_room_mm=3, rear_room_mm=5)
POST = Obstacle("post", 20, 24, 2, -5, 12, words="the post", moves=False)
TRUCK = Obstacle("truck", 50, 60, 6, -5, 7, words="the truck at full swing")
CASES = {
    "plain": (Cavity(ZONES, False, False), LIMITS, None),
    "closed in front": (Cavity(ZONES, True, False), LIMITS, None),
    "closed behind, no room kept": (Cavity(ZONES, False, True), replace(LIMITS, front_room_mm=0, rear_room_mm=0), None),
    "both closed": (Cavity(ZONES), Limits(1, wall_mm=1), None),
    "a speaker": (Cavity(ZONES, False, False), LIMITS, SPEAKER),
    "a speaker, closed in front": (Cavity(ZONES, True, False), Limits(1, wall_mm=1, post_mm=2), SPEAKER),
    "a speaker too deep for all but the tank": (Cavity(ZONES, False, False), LIMITS, replace(SPEAKER, depth_mm=11)),
    "sections": (Cavity(SLOPED, False, False), LIMITS, SPEAKER),
    "a wire path": (Cavity(ZONES, False, False), replace(LIMITS, wire_path_mm=1), SPEAKER),
    "what moves": (Cavity(ZONES, False, False, (TRUCK,)), LIMITS, None),
    "no walls": (Cavity(ZONES, False, False), Limits(1, wall_mm=0, post_mm=2), SPEAKER),
}
BY_FIT = {
    "a box": (Cavity(ZONES, False, False, (POST,)), Limits(1, wall_mm=1, cut_round=True), None),
    "facing front": (Cavity(ZONES, False, False), Limits(1, wall_mm=1), replace(SPEAKER, faces="front")),
    "facing rear": (Cavity(ZONES, False, False), Limits(1, wall_mm=1), replace(SPEAKER, faces="rear")),
    "facing up": (Cavity(ZONES, False, False), Limits(1, wall_mm=1), replace(SPEAKER, faces="up")),
    "held behind": (Cavity(ZONES, False, False), Limits(1, wall_mm=1, rear_at_mm=60), None),
}
SWAPPED = {"front": "rear", "rear": "front"}


def other_end(cavity, limits, speaker):
    """The same with front and rear exchanged."""
    zones, others = (
        tuple(replace(each, start_mm=-each.end_mm, end_mm=-each.start_mm) for each in some)
        for some in (reversed(cavity.zones), cavity.obstacles)
    )
    held = limits.front_at_mm, limits.rear_at_mm
    front, rear = (None if each is None else -each for each in reversed(held))
    rooms = {"front_room_mm": limits.rear_room_mm, "rear_room_mm": limits.front_room_mm}
    faces = None if speaker is None else SWAPPED.get(speaker.faces, speaker.faces)
    return (
        Cavity(zones, cavity.rear_closed, cavity.front_closed, others),
        replace(limits, **rooms, front_at_mm=front, rear_at_mm=rear),
        speaker and replace(speaker, faces=faces),
    )


def told(pieces):
    return {
        (
            each.start_mm, each.end_mm, each.start_volume_mm3, each.end_volume_mm3, each.floor_mm, each.height_mm,
            each.far_mm, each.holds_speaker,
        )
        for each in pieces
    }  # fmt: skip


def seen(point):
    return point and (point.volume_mm3, point.height_mm, point.holds_speaker)


@pytest.mark.parametrize("case", {**CASES, **BY_FIT})
def test_every_piece_of_the_curve_turned_round(case):
    given = {**CASES, **BY_FIT}[case]
    one, other = trade_curve(*given, points=5), trade_curve(*other_end(*given), ends="rear", points=5)
    assert (one.ends, other.ends) == ("front", "rear")
    assert told(each.mirrored() for each in other.pieces) == told(one.pieces)
    assert [-each for each in reversed(other.places_mm)] == list(one.places_mm)
    assert list(other.volumes_mm3[::-1]) == list(one.volumes_mm3)
    assert list(other.heights_mm[::-1]) == list(one.heights_mm)
    assert [(-end, -start) for start, end in reversed(other.holding_mm)] == list(one.holding_mm)
    assert [-each.place_mm for each in reversed(other.jumps)] == [each.place_mm for each in one.jumps]
    assert [(seen(each.behind), seen(each.before)) for each in reversed(other.jumps)] == [
        (seen(each.before), seen(each.behind)) for each in one.jumps
    ]
    assert list(one.places_mm) == sorted(one.places_mm)
    assert all(each != after for each, after in pairwise(one.points))  # no place stands there twice alike


@pytest.mark.parametrize("case", CASES)
def test_what_moving_it_costs_turned_round(case):
    """From the same best place; of two as large, either end's curve names the one farther to the front."""
    one, other = trade_curve(*CASES[case], points=5), trade_curve(*other_end(*CASES[case]), ends="rear", points=5)
    if one.best.place_mm != -other.best.place_mm:
        other = replace(other, best=other.at(-one.best.place_mm))
    assert (other.best.volume_mm3, other.best.far_mm) == (one.best.volume_mm3, -one.best.far_mm)
    for by in (Fraction(1, 2), 7, 30, -4, 100):
        said = re.sub("front|rear", lambda found: SWAPPED[found.group()], other.moved(-by))
        assert said == one.moved(by)


def test_the_volume_runs_evenly_along_a_piece_and_as_the_walls_leave_it():
    """At the front of the cab: its wall from -7 to -6 mm, the far one from 64 to 65; over the motor, at 10 mm.

    Inside, 19 mm of cab under 15 mm, 25 of motor 12 mm wide under 17, and 24 of tank, 11 mm wide.
    """
    curve = trade_curve(Cavity(ZONES, False, False), replace(LIMITS, end_clearance_mm=0), points=2)
    here = curve.at(-7)
    assert (here.far_mm, here.floor_mm, here.height_mm, here.cause) == (65, 10, 5, "motor")
    assert here.volume_mm3 == 21 * 10 * 5 + 25 * 12 * 7 + 24 * 11 * 5
    assert curve.at(-5).volume_mm3 == here.volume_mm3 - 2 * 50
    assert curve.at(Fraction(-13, 2)).volume_mm3 == here.volume_mm3 - 25


@pytest.mark.parametrize(("ends", "kept"), [("front", {"rear_at_mm": 50}), ("rear", {"front_at_mm": 50})])
def test_what_holds_the_bulkhead_itself_is_let_go_and_the_other_end_stays(ends, kept):
    limits = Limits(1, wall_mm=1, front_at_mm=0, rear_at_mm=50) if ends == "front" else (
        Limits(1, wall_mm=1, front_at_mm=50, rear_at_mm=60)
    )  # fmt: skip
    curve = trade_curve(Cavity(ZONES, False, False), limits, ends=ends, points=3)
    assert {each.far_mm for each in curve.points} == set(kept.values())
    assert len(set(curve.places_mm)) > 1


def test_a_space_given_ends_the_chamber_at_either_end():
    cavity = Cavity(ZONES, False, False)
    for ends in ("front", "rear"):
        curve = trade_curve(cavity, LIMITS, ends=ends, space=(0, 39), points=2)
        assert (curve.places_mm[0] if ends == "front" else curve.places_mm[-1]) == (0 if ends == "front" else 39)
        assert {each.far_mm for each in curve.points} <= {0, 13, 39}
        assert all(0 <= each.place_mm <= 39 and 0 <= each.far_mm <= 39 for each in curve.points)
    wide = trade_curve(cavity, LIMITS, space=(-50, 90), points=2)
    assert told(wide.pieces) == told(trade_curve(cavity, LIMITS, points=2).pieces)


@pytest.mark.parametrize("wrong", ["x", True, float("nan")])
def test_a_place_that_is_no_number_is_refused(wrong):
    cavity = Cavity(ZONES)
    curve = trade_curve(cavity, LIMITS, points=2)
    for ask, words in (
        (lambda: trade_curve(cavity, LIMITS, space=(wrong, 5)), "the space for the chamber"),
        (lambda: trade_curve(cavity, LIMITS, space=(1, wrong)), "the space for the chamber"),
        (lambda: curve.at(wrong), "the place of the bulkhead"),
        (lambda: curve.moved(wrong), "how far the bulkhead moves"),
    ):
        with pytest.raises((WrongKind, OutOfRange), match=f"^{words}"):
            ask()


def test_kept_at_the_ends_there_may_be_no_space_at_all():
    text = "the space for the chamber is 37.00 to 30.00 mm, less what is kept at the ends; it must be longer than 0"
    with pytest.raises(OutOfRange, match=f"^{text}"):
        trade_curve(Cavity(ZONES), replace(LIMITS, front_room_mm=47, rear_room_mm=40))
    with pytest.raises(DoesNotFit):
        trade_curve(Cavity(ZONES), replace(LIMITS, clearance_mm=13))


def test_a_place_of_its_own_has_nothing_just_in_front_of_it_or_behind():
    """Chambers from 0 to 10 mm and from 20 to 30, and one exactly at 15: there is none beside that one."""
    best = trade_curve(Cavity(ZONES), LIMITS, points=2).best
    pieces = tuple(stretch(*each, True) for each in ((0, 10), (15, 15), (20, 30)))
    curve = TradeCurve("front", pieces, (), best)
    assert [(each.place_mm, each.before is None, each.behind is None) for each in curve.jumps] == [
        (10, False, True), (20, True, False),
    ]  # fmt: skip
    assert (curve.at(15).volume_mm3, curve.at(14)) == (100, None)

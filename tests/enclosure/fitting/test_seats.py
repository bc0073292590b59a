"""What a speaker takes and where it sits: of the places that hold it the one nearest to where it is wanted; by hand."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest

from modelmath.enclosure import Cavity, Limits, Obstacle, Profile, Speaker, Zone
from modelmath.enclosure.fit import fitted
from modelmath.enclosure.fitting.seats import Needs, kept_mm, needs_of, plate_mm

SPEAKER = Speaker(10, 10, 2, 5)
WAISTED = (Zone("cab", 0, 20, 2, 15, 12), Zone("waist", 20, 40, 2, 15, 8), Zone("motor", 40, 60, 2, 15, 12))
TOWER = Obstacle("tower", 20, 30, 2, 0, 8, moves=False)
HOOD = (Zone("hood", 0, 60, 2, 15, 20),)
CUT = Limits(1, wall_mm=1, cut_round=True)
HELD = replace(CUT, front_at_mm=0, rear_at_mm=60)


@pytest.mark.parametrize(
    ("faces", "needs", "plate"),
    [
        ("down", Needs(10, 10, 9), 0),
        ("up", Needs(10, 10, 10), 1),
        ("front", Needs(9, 14, 11), 1),
        ("rear", Needs(9, 14, 11), 1),
    ],
)
def test_the_room_that_it_takes(faces, needs, plate):
    """5 mm deep, 1 of terminals and 3 kept over it; posts of 2 mm at either side; a plate as thick as a wall."""
    speaker, limits = replace(SPEAKER, faces=faces, terminals_mm=1), Limits(1, post_mm=2, over_speaker_mm=3)
    assert needs_of(speaker, limits) == needs
    assert plate_mm(speaker, limits) == plate


@pytest.mark.parametrize(
    ("faces", "closed", "kept"),
    [
        ("down", (True, True), (1, 5)),
        ("up", (True, True), (1, 5)),
        ("front", (True, False), (3, 5)),
        ("front", (False, True), (1, 5)),
        ("rear", (False, True), (1, 5)),
        ("rear", (True, False), (1, 5)),
    ],
)
def test_the_room_kept_at_the_ends(faces, closed, kept):
    """For lamps 1 and 5 mm, for the sound 3 where it faces a closed end: the larger of the two."""
    limits = Limits(1, front_room_mm=1, rear_room_mm=5, sound_room_mm=3)
    speaker = replace(SPEAKER, faces=faces)
    assert kept_mm(Cavity(HOOD, *closed), limits, speaker) == kept
    assert kept_mm(Cavity(HOOD, *closed), limits, None) == (1, 5)
    loud = replace(limits, sound_room_mm=6)
    assert kept_mm(Cavity(HOOD, True, True), loud, replace(SPEAKER, faces="rear")) == (1, 6)


def seat(zones, speaker, limits=None, closed=(True, True), obstacles=()):
    found = fitted(Cavity(zones, *closed, obstacles), limits or Limits(1), speaker)
    return None if found is None else found.chamber.seat_mm


@pytest.mark.parametrize(
    ("place", "wanted"),
    [
        ("front", (0, 10)),
        ("rear", (50, 60)),
        ("middle", (10, 20)),  # as near to it in front of the waist as behind: in front
        (24, (10, 20)),
        (26, (40, 50)),
        (3, (3, 13)),
        (-5, (0, 10)),
        (99, (50, 60)),
        (45, (45, 55)),
    ],
)
def test_of_two_stretches_that_hold_it_the_nearer_is_taken(place, wanted):
    """20 to 40 mm the shell is 8 mm wide, the speaker 10."""
    for faces in ("down", "up"):
        assert seat(WAISTED, replace(SPEAKER, faces=faces, place=place)) == wanted
    narrow = replace(SPEAKER, width_mm=8)
    assert seat(WAISTED, replace(narrow, place="middle")) == (25, 35)


@pytest.mark.parametrize(
    ("length", "down", "up"), [(20, (20, 40), (20, 40)), (21, (19, 40), None), (60, (0, 60), None), (61, None, None)]
)
def test_facing_up_it_lies_under_one_roof(length, down, up):
    """Roofs at 15, 16 and 15 mm."""
    zones = tuple(replace(zone, width_mm=12, roof_mm=roof) for zone, roof in zip(WAISTED, (15, 16, 15), strict=True))
    speaker = replace(SPEAKER, length_mm=length)
    found = seat(zones, speaker)
    assert found == (None if down is None else ((60 - length) / Fraction(2), (60 + length) / Fraction(2)))
    assert seat(zones, replace(speaker, faces="up")) == up


@pytest.mark.parametrize(
    ("speaker", "wanted"),
    [
        (replace(SPEAKER, length_mm=19, place="front"), (0, 19)),  # in front of the box from 19 to 31 mm
        (replace(SPEAKER, length_mm=20, place="front"), (31, 51)),
        (replace(SPEAKER, length_mm=19), (31, 50)),
        (replace(SPEAKER, length_mm=29, place="front"), (31, 60)),
        (replace(SPEAKER, place=18), (9, 19)),
        (replace(SPEAKER, place=23), (31, 41)),
    ],
)
def test_clear_of_a_box_in_the_middle(speaker, wanted):
    deep = replace(speaker, depth_mm=8)  # over the box there are 7 mm
    assert seat(HOOD, deep, CUT, obstacles=(TOWER,)) == wanted


@pytest.mark.parametrize(("aside", "beside"), [(8, True), (Fraction(79, 10), False), (-8, True)])
def test_beside_a_box_that_leaves_the_width(aside, beside):
    """5 mm to either side: a box 2 mm to either side of its own middle, and its wall, end at 8 - 3."""
    deep = replace(SPEAKER, depth_mm=8, place=20)
    towers = (replace(TOWER, centre_mm=aside, half_width_mm=2),)
    wide = tuple(replace(zone, width_mm=24) for zone in HOOD)
    assert seat(wide, deep, CUT, obstacles=towers) == ((20, 30) if beside else (9, 19))


@pytest.mark.parametrize(
    ("travel", "top", "wanted"),
    [
        (0, 3, (25, 35)),
        (1, 3, (10, 20)),  # its cone comes down to what stands up to the floor
        (1, 2, (25, 35)),  # or keeps just clear of it
        (Fraction(11, 10), 2, (10, 20)),
    ],
)
def test_its_cone_keeps_clear_of_what_stands_below_the_floor(travel, top, wanted):
    """The chassis lies at -9 mm but for a weight at the rear, up to 2 mm, that sets the floor to 3 mm."""
    zones = (Zone("hood", 0, 50, -9, 15, 20), Zone("weight", 50, 60, 2, 15, 20))
    thing = replace(TOWER, start_mm=20, end_mm=40, top_mm=top, bottom_mm=-9)
    found = seat(zones, replace(SPEAKER, depth_mm=12, travel_mm=travel), HELD, obstacles=(thing,))
    assert found == wanted


def test_a_section_must_be_wide_enough_for_flange_and_basket():
    """12 mm wide up to 5 mm, in by 1 to 1 from there: at the floor, 3 mm, the flange goes up to 5 mm."""
    leaning = (Zone("hood", 0, 60, 2, 15, 12, Profile(((0, 6), (5, 6), (10, 1), (15, 1)))),)
    for width, basket, depth, there in (
        (12, 8, 4, True), (12, 8, Fraction(41, 10), False), (12, 11, Fraction(5, 2), True),
        (12, 11, Fraction(26, 10), False), (13, 8, 4, False),
    ):  # fmt: skip
        speaker = Speaker(10, width, 2, depth, basket_width_mm=basket)
        assert (seat(leaning, speaker, HELD) is not None) == there


@pytest.mark.parametrize(
    ("aside", "wanted"), [(6, (10, 20)), (-6, (10, 20)), (Fraction(69, 10), (10, 20)), (7, (25, 35)), (-7, (25, 35))]
)
def test_its_cone_passes_beside_what_leaves_its_width(aside, wanted):
    """5 mm to either side; what stands there is 2 mm to either side of its own middle."""
    zones = (Zone("hood", 0, 50, -9, 15, 20), Zone("weight", 50, 60, 2, 15, 20))
    thing = replace(TOWER, start_mm=20, end_mm=40, top_mm=3, bottom_mm=-9, centre_mm=aside)
    assert seat(zones, replace(SPEAKER, depth_mm=12, travel_mm=1), HELD, obstacles=(thing,)) == wanted

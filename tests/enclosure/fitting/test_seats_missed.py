"""How near a speaker comes to a room that doesn't hold it: by seating smaller ones in the same room, and by hand."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from random import Random

import pytest
from enclosure.fitting.random_cases import parted_case, random_case, speaker_of

from modelmath.enclosure import Cavity, Limits, Obstacle, Profile, Speaker, Zone
from modelmath.enclosure.fitting.boxed import narrow_ones
from modelmath.enclosure.fitting.rooms import Room, clip
from modelmath.enclosure.fitting.seats import from_its_wall, further_in, place_speaker
from modelmath.enclosure.fitting.speaker_misses import NONE_LEFT, Seats

LITTLE = Fraction(1, 1000)
OPPOSITE = {"front": "rear", "rear": "front"}
HOOD = Zone("hood", 0, 40, 2, 15, 20)  # 13 mm deep
TOWER = Obstacle("tower", 15, 25, 3, 0, 14, words="the tower", moves=False)


def room_of(zones, limits=Limits(0, wall_mm=1), obstacles=(), walled=(True, True), floor=None, ends=None):  # noqa: B008
    """A room from end to end of some zones, its floor at the highest of theirs, cut round what stands there."""
    bays = Cavity(zones).bays(limits.clearance_mm, limits.end_clearance_mm)
    ends = ends or (zones[0].start_mm, zones[-1].end_mm)
    bays = clip(bays, *ends)
    return Room(
        bays, ends, walled, max(bay.floor_mm for bay in bays) if floor is None else floor, limits, tuple(obstacles)
    )


def random_room(seed, make):
    """A room of some neighbouring zones, its floor at the highest of theirs or higher, and a speaker."""
    case, chance = make(seed), Random(seed)
    zones = case.cavity.zones
    first = chance.randint(0, len(zones) - 1)
    some = zones[first : chance.randint(first, len(zones) - 1) + 1]
    limits = replace(case.limits, wire_path_mm=0, wall_mm=max(case.limits.wall_mm, 1))
    room = room_of(
        some, limits, narrow_ones(case.cavity, limits.wall_mm), (chance.random() < 0.5, chance.random() < 0.5)
    )
    room = replace(room, floor_mm=room.floor_mm + chance.choice((0, 0, 1)))
    speaker = speaker_of(chance, 0)
    larger = {f"{what}_mm": getattr(speaker, f"{what}_mm") + chance.randint(0, 8) for what in ("length", "width")}
    return room, replace(speaker, depth_mm=speaker.depth_mm + chance.randint(0, 6), **larger)


def smaller(speaker, by):
    sizes = {f"{what}_mm": getattr(speaker, f"{what}_mm") - by for what in ("length", "width", "depth")}
    baskets = {
        f"basket_{what}_mm": min(getattr(speaker, f"basket_{what}_mm"), sizes[f"{what}_mm"])
        for what in ("length", "width")
        if getattr(speaker, f"basket_{what}_mm") is not None
    }
    return replace(speaker, **sizes, **baskets)


def seated(room, speaker):
    """Whether it finds a seat; facing an end also where the wall that it faces stands further in."""
    for bays in (room.bays, from_its_wall(room, speaker), *further_in(room, speaker)):
        if place_speaker(replace(room, bays=bays, ends=(bays[0].start_mm, bays[-1].end_mm)), speaker) is not None:
            return True
    return False


def turned(room):
    """The room with front and rear exchanged."""
    return replace(
        room,
        bays=tuple(replace(each, start_mm=-each.end_mm, end_mm=-each.start_mm) for each in reversed(room.bays)),
        ends=(-room.ends[1], -room.ends[0]),
        walled=room.walled[::-1],
        narrow=tuple(replace(each, start_mm=-each.end_mm, end_mm=-each.start_mm) for each in room.narrow),
    )


@pytest.mark.parametrize("make", [random_case, parted_case])
def test_smaller_by_what_lacks_it_is_seated_and_in_a_plain_shell_not_by_less(make):
    seen = set()
    for seed in range(400):
        room, speaker = random_room(seed, make)
        if seated(room, speaker):
            continue
        kind, lacks = Seats(room, speaker).nearness
        left = min(speaker.length_mm - lacks, speaker.width_mm - lacks, speaker.depth_mm - lacks - speaker.flange_mm)
        if kind or not lacks or left <= 0:  # smaller in every size, it were none at all
            continue
        assert seated(room, smaller(speaker, lacks)), seed
        seen.add((speaker.faces, bool(room.boxed), bool(speaker.travel_mm)))
        if all(bay.zone.profile is None for bay in room.bays):
            assert not seated(room, smaller(speaker, lacks - LITTLE)), seed
    assert len(seen) >= 8


@pytest.mark.parametrize("make", [random_case, parted_case])
def test_seen_from_the_other_end_as_much_lacks(make):
    for seed in range(300):
        room, speaker = random_room(seed, make)
        other = replace(speaker, faces=OPPOSITE.get(speaker.faces, speaker.faces))
        one, two = Seats(room, speaker), Seats(turned(room), other)
        assert one.nearness == two.nearness, seed
        assert one.miss().short_mm == two.miss().short_mm, seed


@pytest.mark.parametrize(
    ("speaker", "walled", "nearness"),
    [
        (Speaker(41, 10, 1, 5), (True, True), (0, 3)),  # 38 mm between the walls
        (Speaker(41, 10, 1, 5), (True, False), (0, 2)),
        (Speaker(41, 10, 1, 5), (False, False), (0, 1)),
        (Speaker(20, 23, 1, 5), (True, True), (0, 3)),
        (Speaker(20, 10, 1, 15), (True, True), (0, 2)),
        (Speaker(20, 10, 1, 15, faces="up"), (True, True), (0, 3)),  # its floor plate takes 1 mm
        (Speaker(15, 10, 1, 5, faces="front"), (True, True), (0, 3)),  # upright, on its floor plate
        (Speaker(10, 10, 1, 41, faces="front"), (True, True), (0, 3)),  # a wall at its face and one at its back
        (Speaker(10, 10, 1, 41, faces="front"), (True, False), (0, 2)),
        (Speaker(10, 10, 1, 41, faces="rear"), (False, True), (0, 2)),
        (Speaker(10, 10, 1, 41, faces="front"), (False, True), (1, 0)),  # no wall to sound out through
        (Speaker(10, 10, 1, 41, faces="rear"), (True, False), (1, 0)),
        # Its flange alone is 14 mm thick: less deep by what lacks, nothing were left behind it.
        (Speaker(20, 10, 14, 15), (True, True), (2, 2)),
        (Speaker(20, 10, 13, 15), (True, True), (0, 2)),
        (Speaker(1, 1, 1, 15), (True, True), (0, 2)),
        # A cone that moves finds nothing free below it: 13 mm of depth at most, less all that both take.
        (Speaker(20, 10, 1, 5, travel_mm=1), (True, True), (3, -7)),
        (Speaker(20, 10, 1, 13, travel_mm=2), (True, True), (3, 2)),
    ],
)
def test_how_near_it_comes_by_hand(speaker, walled, nearness):
    assert Seats(room_of((HOOD,), walled=walled), speaker).nearness == nearness


@pytest.mark.parametrize(
    ("limits", "long", "nearness"),
    [
        (Limits(0, wall_mm=20), 4, (2, 4)),  # walls of 20 mm meet
        (Limits(0, wall_mm=21), 4, (2, 6)),  # and pass each other
        (Limits(0, wall_mm=18, post_mm=1), 4, (0, 2)),
        (Limits(0, wall_mm=18, post_mm=2), 4, (2, 4)),
        (Limits(0, wall_mm=19), 2, (0, 0)),
    ],
)
def test_where_walls_and_posts_leave_nothing_of_the_length(limits, long, nearness):
    assert Seats(room_of((HOOD,), limits), Speaker(long, 10, 1, 5)).nearness == nearness


@pytest.mark.parametrize(
    ("along", "across", "up", "faces", "some"),
    [
        (19, 11, 5, "down", True),
        (20, 11, 5, "down", False),  # of its length nothing is left
        (19, 12, 5, "down", False),
        (19, 11, 6, "down", False),  # of its depth only less than the flange
        (5, 11, 19, "front", True),  # its depth lies along, its length stands upright
        (6, 11, 19, "front", False),
        (5, 12, 19, "rear", False),
        (5, 11, 20, "rear", False),
        (19, 11, 5, "up", True),
        (20, 11, 5, "up", False),
    ],
)
def test_whether_something_is_left_of_every_size(along, across, up, faces, some):
    speaker = Speaker(20, 12, 2, 7, faces=faces)
    assert Seats(room_of((HOOD,)), speaker)._leaves_some(along, across, up) == some


LEVELS = (HOOD, Zone("cab", 40, 60, 2, 17, 18), Zone("tank", 60, 80, -1, 17, 18))


@pytest.mark.parametrize(
    ("speaker", "floor", "rows"),
    [
        (Speaker(20, 10, 1, 5), None, [(1, 79)]),
        (Speaker(20, 10, 1, 5, faces="up"), None, [(1, 40), (40, 79)]),  # under one roof each
        (Speaker(20, 10, 1, 5, faces="rear"), None, [(1, 80)]),  # up to the outer face of the wall it faces
        (Speaker(20, 10, 1, 5, faces="front"), None, [(0, 79)]),
        (Speaker(20, 10, 1, 5, travel_mm=3), None, [(60, 79)]),  # its cone moves 3 mm: over the tank alone
        (Speaker(20, 10, 1, 5, travel_mm=4), None, []),
        (Speaker(20, 10, 1, 5, travel_mm=1), 3, [(1, 79)]),
        (Speaker(20, 10, 1, 5, travel_mm=4, faces="up"), None, [(1, 40), (40, 79)]),
    ],
)
def test_over_which_stretches_it_may_lie(speaker, floor, rows):
    found = Seats(room_of(LEVELS, floor=floor), speaker)._rows
    assert [(row[0].start_mm, row[-1].end_mm) for row in found] == rows


@pytest.mark.parametrize(
    ("faces", "spots"),
    [
        # A wall round the tower on every side: from 14 to 26 mm nothing is left of the width.
        ("down", [(1, 14, 20), (14, 26, -8), (26, 39, 20)]),
        ("up", [(1, 14, 20), (14, 26, -8), (26, 39, 20)]),
        # The wall that it faces may stand in the notch beside the box.
        ("front", [(0, 14, 20), (14, 25, -8), (25, 39, 20)]),
        ("rear", [(1, 15, 20), (15, 26, -8), (26, 40, 20)]),
    ],
)
def test_what_stands_there_parts_the_room_with_its_box(faces, spots):
    room = room_of((HOOD,), obstacles=(TOWER,))
    ((*found,),) = Seats(room, Speaker(10, 10, 1, 5, faces=faces))._rows
    assert [(each.start_mm, each.end_mm, each.width_mm) for each in found] == spots
    assert [each.beside for each in found] == [None, TOWER, None]


@pytest.mark.parametrize("aside", [7, -7])
def test_beside_two_boxes_the_less_is_left(aside):
    """From 4 mm off the middle less a wall on one side, from 6 mm on the other; where both are, the first counts."""
    near = replace(TOWER, centre_mm=aside)
    far = replace(TOWER, name="post", start_mm=20, end_mm=30, centre_mm=-9 if aside > 0 else 9)
    room = room_of((HOOD,), obstacles=(far, near))
    ((*found,),) = Seats(room, Speaker(10, 10, 1, 5))._rows
    assert [(each.start_mm, each.end_mm, each.width_mm, each.beside) for each in found] == [
        (1, 14, 20, None), (14, 19, 6, near), (19, 26, 6, near), (26, 31, 10, far), (31, 39, 20, None),
    ]  # fmt: skip


@pytest.mark.parametrize(
    ("travel", "top", "taken"),
    [
        (3, 14, True),  # boxed in
        (0, 2, False),
        (3, 2, True),  # its cone, that moves 3 mm below a floor at 2 mm, meets what ends at the floor
        (3, 0, True),
        (3, -1, False),  # it ends where the cone does
        (3, Fraction(1, 2) - 1, True),
    ],
)
def test_what_its_cone_would_meet_counts_without_a_box(travel, top, taken):
    low = replace(HOOD, top_mm=-4)
    room = room_of((low,), obstacles=(replace(TOWER, bottom_mm=-9, top_mm=top),), floor=2)
    ((*found,),) = Seats(room, Speaker(10, 10, 1, 5, travel_mm=travel))._rows
    if top == 14:
        assert [(each.start_mm, each.width_mm) for each in found] == [(1, 20), (14, -8), (26, 20)]
    elif taken:
        assert [(each.start_mm, each.width_mm) for each in found] == [(1, 20), (15, -6), (25, 20)]
    else:
        assert [(each.start_mm, each.width_mm) for each in found] == [(1, 20)]


SLOPED = Profile(((0, 10), (8, 10), (15, 3)))  # in by 1 mm to 1 mm from 8 mm of height on


@pytest.mark.parametrize(
    ("speaker", "wide"),
    [
        (Speaker(20, 16, 1, 5), 20),  # from 2 to 7 mm of height
        (Speaker(20, 16, 1, 6), 20),  # to 8
        (Speaker(20, 17, 1, 8), 16),  # to 10 mm of height, 8 mm to either side
        (Speaker(20, 16, 1, 8), 20),  # as wide as there, it lacks nothing, and its flange lies lower
        (Speaker(20, 19, 1, 8, basket_width_mm=16), 20),  # its basket just finds room, and the flange does
        (Speaker(20, 19, 1, 8, basket_width_mm=Fraction(33, 2)), 16),
        (Speaker(20, 17, 1, 6, terminals_mm=2), 16),
        (Speaker(20, 16, 1, 20), 6),  # as far as the roof
        (Speaker(20, 16, 1, 5, faces="up"), 6),
        (Speaker(5, 16, 1, 5, faces="front"), 20),  # upright on its plate, to 8 mm
        (Speaker(7, 16, 1, 5, faces="rear"), 16),
        (Speaker(40, 16, 1, 5, faces="rear"), 6),
    ],
)
def test_how_wide_it_may_be_in_a_section_by_hand(speaker, wide):
    room = room_of((replace(HOOD, profile=SLOPED),))
    assert Seats(room, speaker)._rows[0][0].width_mm == wide


def test_of_two_places_that_lack_as_much_in_length_that_which_lacks_less_else_counts():
    """Before the tower 8 mm are left and behind it 13; over it none of the depth."""
    tower = replace(TOWER, start_mm=10)
    lacks, spots = Seats(room_of((HOOD,), obstacles=(tower,)), Speaker(15, 10, 1, 5))._nearest
    assert lacks == [2, 0, 0]
    assert [(each.start_mm, each.end_mm) for each in spots] == [(26, 39)]
    lacks, spots = Seats(room_of((HOOD,)), Speaker(20, 10, 14, 15))._nearest
    assert lacks == [NONE_LEFT, 2, 0, 0]


@pytest.mark.parametrize(
    ("faces", "floor", "wide"), [("down", 15, 20), ("up", 14, 20), ("up", 13, 6), ("rear", 14, 20)]
)
def test_where_no_depth_is_left_no_width_is_said_to_lack(faces, floor, wide):
    """The roof lies at 15 mm, and a floor plate takes 1 mm under one that does not face down."""
    room = room_of((replace(HOOD, profile=SLOPED),), floor=floor)
    assert Seats(room, Speaker(20, 16, 1, 5, faces=faces))._rows[0][0].width_mm == wide

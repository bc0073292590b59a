"""Where a box finds its pocket: at the ends, below the floor beside the speaker, or inside; all by hand."""

from __future__ import annotations

from dataclasses import replace

import pytest

from modelmath.enclosure import Box, Cavity, Limits, Profile, Speaker, Zone, fit_enclosure
from modelmath.enclosure.fitting.pockets import at_the_ends

HIGH, LOW = Zone("motor", 0, 20, 9, 15, 12), Zone("cab", 20, 60, 2, 15, 12)
ZONES = HIGH, LOW
TURNED = replace(LOW, start_mm=0, end_mm=40), replace(HIGH, start_mm=40, end_mm=60)
DECODER = Box("decoder", 15, 10, 6)
FLAT = "flat, its length along"


def told(pocket):
    return (
        pocket.start_mm, pocket.end_mm, pocket.across_mm, pocket.bottom_mm, pocket.top_mm, pocket.where, pocket.way,
    )  # fmt: skip


@pytest.mark.parametrize(
    ("zones", "faces", "place", "start"),
    [
        # Over the motor the floor lies at 10 mm; below it, over the cab, there are 7 mm from 20 mm on.
        (ZONES, "down", "front", 20),
        (ZONES, "down", "rear", 20),
        (ZONES, "down", "middle", 35),  # behind the speaker, from 25 to 35 mm
        (ZONES, "up", "front", 20),
        (ZONES, "up", "rear", 20),
        (ZONES, "up", "middle", 35),
        (ZONES, "front", "front", 20),
        (ZONES, "rear", "rear", 20),
        (TURNED, "down", "front", 11),  # behind a wall of 1 mm and the speaker
        (TURNED, "down", "rear", 0),
        (TURNED, "up", "front", 11),
        (TURNED, "up", "rear", 0),
        (TURNED, "up", "middle", 0),
        (TURNED, "front", "front", 4),  # behind the wall, and 3 mm of speaker
        (TURNED, "rear", "rear", 0),
    ],
)
def test_below_the_floor_it_lies_beside_the_speaker(zones, faces, place, start):
    long = 4 if faces in ("front", "rear") else 10
    speaker = Speaker(long, 9, 1, 3, faces=faces, place=place)
    chamber = fit_enclosure(Cavity(zones, False, False), Limits(1, wall_mm=1), speaker, DECODER).chamber
    assert (chamber.start_mm, chamber.end_mm, chamber.floor_mm) == (0, 60, 10)
    assert told(chamber.pocket) == (start, start + 15, 10, 4, 10, "below its floor", FLAT)


def test_where_the_sound_gets_out_by_there_is_no_pocket():
    """At a closed end it sounds out in front of its wall, past which nothing lies below: the decoder lies beside it."""
    speaker = Speaker(4, 9, 1, 3, faces="front")
    chamber = fit_enclosure(Cavity(ZONES), Limits(1, wall_mm=1), speaker, DECODER).chamber
    assert (chamber.start_mm, chamber.floor_mm, chamber.seat_mm) == (35, 3, (36, 39))
    assert told(chamber.pocket) == (20, 35, 10, 9, 15, "beside the chamber", FLAT)


def ends(zones, *sizes, **others):
    found = at_the_ends(Cavity(zones).bays(1, 0), Box("decoder", *sizes, **others))
    return None if found is None else [(each.start_mm, each.end_mm, each.bottom_mm, each.top_mm) for each in found]


@pytest.mark.parametrize(
    ("sizes", "places"),
    [
        ((15, 10, 5), [(0, 15, 10, 15), (45, 60, 10, 15)]),  # under the roof at 15 mm
        ((15, 10, 6), [(20, 35, 9, 15), (45, 60, 9, 15)]),
        ((20, 10, 5), [(0, 20, 10, 15), (40, 60, 10, 15)]),
        ((21, 10, 5), [(0, 21, 10, 15), (39, 60, 10, 15)]),
        ((21, 10, 6), [(20, 41, 9, 15), (39, 60, 9, 15)]),
        ((60, 12, 5), [(0, 60, 10, 15)] * 2),
        ((61, 12, 5), None),
        ((60, 12, 6), None),
        ((40, 12, 12), [(20, 60, 3, 15)] * 2),
        ((40, 12, 13), None),
        ((40, 13, 12), None),
    ],
)
def test_the_first_and_the_last_place_for_a_box(sizes, places):
    assert ends(ZONES, *sizes) == places
    turned = None if places is None else [(60 - end, 60 - start, *up) for start, end, *up in reversed(places)]
    assert ends(TURNED, *sizes) == turned


def test_turned_the_way_that_ends_first_counts():
    """Under 5 mm over the motor it lies flat, 10 mm along; over the cab, 12 mm high, it stands, 4 mm along."""
    found = at_the_ends(Cavity(ZONES).bays(1, 0), Box("decoder", 11, 10, 4, turns=True))
    assert [(each.start_mm, each.end_mm, each.across_mm, each.way) for each in found] == [
        (0, 10, 11, "flat, its width along"), (56, 60, 11, "on its side, its height along"),
    ]  # fmt: skip


@pytest.mark.parametrize(
    ("profile", "sizes", "up"),
    [
        (Profile(((0, 6), (8, 6), (15, 2))), (20, 8, 5), (6.5, 11.5)),  # up to where it is 4 mm to either side
        (Profile(((0, 6), (10, 6), (15, 1))), (20, 8, 9), (3, 12)),  # up to where it is 4 mm, at 12
        (Profile(((0, 6), (10, 6), (15, 1))), (20, 12, 7), (3, 10)),
        (Profile(((0, 2), (5, 2), (5, 6), (15, 6))), (20, 8, 10), (5, 15)),  # over the rib
        (Profile(((0, 2), (5, 2), (5, 6), (15, 6))), (20, 8, 11), None),
    ],
)
def test_in_a_section_it_lies_as_high_as_it_goes(profile, sizes, up):
    long, found = sizes[0], ends((Zone("hood", 0, 40, 2, 15, 12, profile),), *sizes)
    assert found == (None if up is None else [(0, long, *up), (40 - long, 40, *up)])

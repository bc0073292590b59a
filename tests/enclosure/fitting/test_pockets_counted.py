"""Where a box finds its pocket, beside plain counting through every whole millimetre of small cavities."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from random import Random

import pytest
from enclosure.fitting.random_cases import decoder_of, random_case
from enclosure.fitting.test_seats_missed import random_room, room_of, turned

from modelmath.enclosure import Box, Obstacle, Profile, Zone
from modelmath.enclosure.fitting.pockets import at_the_ends, in_what_is_left, may_be_below

HOOD = Zone("hood", 0, 40, 2, 15, 12)
POST = Obstacle("post", 10, 14, 2, -9, 9, words="the post", moves=False)


def cells_of(stretches):
    """Of every whole millimetre: how low and how high a box may reach there, and the zone."""
    return {at: tuple(each) for start, end, *each in stretches for at in range(int(start), int(end))}


def highest(cells, way):
    """The highest whole height at which a box turned one way lies in some cells; None where it doesn't."""
    low, high = max(each[0] for each in cells), min(each[1] for each in cells)
    zones = {id(zone): zone for *_, zone in cells}.values()
    while high - low >= way.up_mm:
        bottom = high - way.up_mm
        if all(zone.width_over(bottom, high) >= way.across_mm for zone in zones):
            return bottom, high
        high -= 1
    return None


def first_of(cells, way):
    """The first place, and the heights, of a box turned one way."""
    for start in sorted(cells):
        taken = range(start, start + int(way.along_mm))
        if all(at in cells for at in taken):
            found = highest([cells[at] for at in taken], way)
            if found:
                return start, start + way.along_mm, *found
    return None


def last_of(cells, way):
    found = first_of({-at - 1: cells[at] for at in cells}, way)
    return found and (-found[1], -found[0], *found[2:])


def told(pocket):
    return None if pocket is None else (
        pocket.start_mm, pocket.end_mm, pocket.bottom_mm, pocket.top_mm, pocket.across_mm, pocket.way,
    )  # fmt: skip


def test_at_either_end_the_way_that_leaves_most_of_the_length():
    seen = set()
    for seed in range(250):
        case = random_case(seed)
        box = case.decoder or decoder_of(Random(seed))
        bays = case.cavity.bays(case.limits.clearance_mm, case.limits.end_clearance_mm)
        cells = cells_of((bay.start_mm, bay.end_mm, bay.floor_mm, bay.zone.roof_mm, bay.zone) for bay in bays)
        ways = [(way, first_of(cells, way), last_of(cells, way)) for way in box.ways]
        ways = [each for each in ways if each[1]]
        found = at_the_ends(bays, box)
        seen.add((bool(ways), len(ways) > 1))
        if not ways:
            assert found is None, seed
            continue
        front, first, _ = min(ways, key=lambda each: each[1][1])
        rear, _, last = max(ways, key=lambda each: each[2][0])
        assert told(found[0]) == (*first, front.across_mm, front.words), seed
        assert told(found[1]) == (*last, rear.across_mm, rear.words), seed
        assert {each.where for each in found} == {"beside the chamber"}
    assert seen == {(False, False), (True, False), (True, True)}


def beside(ends, seat, faces):
    if seat is None:
        return [ends]
    return [(ends[0], seat[0])] * (faces != "front") + [(seat[1], ends[1])] * (faces != "rear")


def counted(room, seat, box, faces):
    """Below the floor, over whatever stands there; else inside, clear of boxes: by stretches, then by ways."""
    wall, floor = room.limits.wall_mm, room.floor_mm
    low = {
        at: max([bay.floor_mm, *(each.top_mm for each in room.narrow if each.start_mm <= at < each.end_mm)])
        for bay in room.bays
        for at in range(int(bay.start_mm), int(bay.end_mm))
    }
    zones = {at: bay.zone for bay in room.bays for at in range(int(bay.start_mm), int(bay.end_mm))}
    boxed = {
        at for each in room.boxed for at in range(int(each.start_mm - wall), int(each.end_mm + wall))
    }  # fmt: skip
    places = [("below its floor", room.ends, lambda at: (low[at], floor, zones[at]), set())]
    if box.inside:
        least = floor if seat is None else floor + wall
        places.append(("inside it", room.for_speaker, lambda at: (least, zones[at].roof_mm, zones[at]), boxed))
    for where, ends, at_cell, barred in places:
        for start, end in beside(ends, seat, faces):
            cells = {at: at_cell(at) for at in range(int(start), int(end)) if at not in barred}
            # Boxes part what is left: one stretch after the other, and in each the first way that finds room.
            for run in runs_of(cells):
                for way in box.ways:
                    found = first_of(run, way)
                    if found:
                        return where, (*found, way.across_mm, way.words)
    return None


def runs_of(cells):
    runs = []
    for at in sorted(cells):
        if not runs or at - 1 not in runs[-1]:
            runs.append({})
        runs[-1][at] = cells[at]
    return runs


def whole_seat(chance, room):
    """A seat in whole millimetres between the walls, or none."""
    start, end = int(room.for_speaker[0]), int(room.for_speaker[1])
    if end - start < 2 or chance.random() < 0.3:
        return None
    first = chance.randint(start, end - 1)
    return first, chance.randint(first + 1, end)


def test_in_what_a_chamber_leaves_below_its_floor_or_inside():
    seen = set()
    for seed in range(400):
        chance = Random(seed)
        room, _ = random_room(seed, random_case)
        room = replace(room, floor_mm=room.floor_mm + chance.choice((0, 1, 3)))
        if room.floor_mm >= room.lowest_roof.zone.roof_mm:  # no chamber at all
            continue
        seat, faces = whole_seat(chance, room), chance.choice(("down", "up", "front", "rear"))
        box = replace(decoder_of(chance), inside=chance.random() < 0.7)
        found, wanted = in_what_is_left(room, seat, box, faces), counted(room, seat, box, faces)
        assert (None if found is None else (found.where, told(found))) == wanted, seed
        if found is not None and found.where == "below its floor":
            assert may_be_below(room, box)
        seen.add((found and found.where, bool(room.narrow), seat is None))
    assert len(seen) >= 10


@pytest.mark.parametrize(("floor", "high", "may"), [(6, 4, True), (6, 5, False), (2, 1, False), (7, 5, True)])
def test_below_a_floor_that_stands_high_enough_anywhere(floor, high, may):
    """Over the cab the chassis is 2 mm high, over the motor 4."""
    zones = (replace(HOOD, end_mm=10, top_mm=4), replace(HOOD, start_mm=10))
    room = room_of(zones, floor=floor)
    assert may_be_below(room, Box("decoder", 8, 5, high)) == may
    assert may_be_below(room, Box("decoder", high, 8, 9, turns=True)) == may
    assert (in_what_is_left(room, None, Box("decoder", 8, 5, high)) is not None) == may


@pytest.mark.parametrize(
    ("floor", "high", "pocket"),
    [
        (12, 3, (0, 20, 9, 12)),  # over the post at 9 mm
        (12, 4, (14, 34, 8, 12)),  # behind it
        (9, 1, (14, 34, 8, 9)),  # nothing is left over what reaches up to the floor
        (8, 3, (14, 34, 5, 8)),  # nor over what stands through it
    ],
)
def test_below_the_floor_over_what_it_may_be_cut_round(floor, high, pocket):
    room = room_of((HOOD,), obstacles=(POST,), floor=floor)
    found = in_what_is_left(room, None, Box("decoder", 20, 6, high))
    assert (found.start_mm, found.end_mm, found.bottom_mm, found.top_mm) == pocket
    assert found.where == "below its floor"
    # Seen from the other end it begins as far behind what stands there, or at the front.
    other = in_what_is_left(turned(room), None, Box("decoder", 10, 6, high))
    assert (other.start_mm, other.end_mm) == (-40, -30)


@pytest.mark.parametrize(
    ("seat", "faces", "long", "start"),
    [
        (None, "down", 5, 1),  # behind the wall
        (None, "down", 9, 16),  # the post's box, 1 mm round, ends at 15 mm; from 1 to 9 mm there are 8
        (None, "down", 8, 1),
        ((20, 30), "down", 8, 1),
        ((20, 30), "down", 9, 30),
        ((20, 30), "down", 10, None),  # from 30 mm to the wall at 39 there are 9
        ((20, 30), "front", 8, 30),
        ((20, 30), "rear", 9, None),
        ((20, 30), "rear", 5, 1),
    ],
)
def test_inside_it_lies_clear_of_walls_boxes_and_speaker(seat, faces, long, start):
    room = room_of((HOOD,), obstacles=(POST,), floor=2)
    found = in_what_is_left(room, seat, Box("decoder", long, 6, 5, inside=True), faces)
    assert (None if found is None else found.start_mm) == (15 if start == 16 else start)
    if found is not None:
        assert (found.where, found.bottom_mm, found.top_mm) == ("inside it", 10, 15)
    assert in_what_is_left(room, seat, Box("decoder", long, 6, 5), faces) is None


@pytest.mark.parametrize(
    ("seat", "high", "fits"), [(None, 13, True), (None, 14, False), ((20, 30), 12, True), ((20, 30), 13, False)]
)
def test_inside_it_lies_over_the_floor_plate_beside_a_speaker(seat, high, fits):
    """13 mm of depth, and a plate of 1 mm closes the floor beside the speaker."""
    found = in_what_is_left(room_of((HOOD,)), seat, Box("decoder", 5, 6, high, inside=True))
    assert (found is not None) == fits


def test_of_heights_as_wide_as_it_the_highest():
    """Ribs narrow the middle: a box 8 mm wide lies over them, one 5 mm high only below."""
    ribbed = Profile(((0, 6), (9, 6), (9, 2), (11, 2), (11, 6), (15, 6)))
    bays = room_of((replace(HOOD, profile=ribbed),)).bays
    for high, place in ((4, (11, 15)), (5, (4, 9)), (7, (2, 9)), (8, None)):
        found = at_the_ends(bays, Box("decoder", 10, 8, high))
        assert (None if found is None else (found[0].bottom_mm, found[0].top_mm)) == place
    assert at_the_ends((), Box("decoder", 1, 1, 1)) is None
    half = at_the_ends(bays, Box("decoder", Fraction(21, 2), 8, Fraction(7, 2)))
    assert [(each.start_mm, each.bottom_mm) for each in half] == [(0, 11.5), (29.5, 11.5)]


def test_a_speaker_that_faces_an_end_leaves_the_other_side_alone():
    room = room_of((HOOD,), floor=9)
    box = Box("decoder", 10, 6, 4)
    for faces, start in (("down", 0), ("up", 0), ("rear", 0), ("front", 25)):
        assert in_what_is_left(room, (15, 25), box, faces).start_mm == start
    assert in_what_is_left(room, (5, 15), box, "rear") is None

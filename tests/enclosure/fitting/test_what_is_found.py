"""What is found is feasible from first principles: boxes by shapely, seats and pockets by trying every place."""

from __future__ import annotations

import re
from dataclasses import replace
from fractions import Fraction
from itertools import pairwise

import pytest
from enclosure.fitting.brute_force import Case, Grid
from enclosure.fitting.random_cases import random_case
from shapely.geometry import Polygon, box
from shapely.ops import unary_union

from modelmath.clearance import Marks
from modelmath.enclosure import Box, Cavity, Chamber, Limits, Speaker, Zone, fit_enclosure
from modelmath.enclosure.fitting.boxed import taken_mm3
from modelmath.enclosure.marked import at_marks
from modelmath.enclosure.obstacles import Obstacle
from modelmath.enclosure.sections import Profile
from modelmath.errors import DoesNotFit
from modelmath.lengths.rules import Rule

COUNT = 300
CASES = [(seed, random_case(seed)) for seed in range(COUNT)]
FITTED = [(seed, case, found) for seed, case in CASES if (found := case.fit()) is not None]
OFFSETS = (Fraction(3, 10), -Fraction(3, 10), Fraction(0))
MARKS = Marks(Rule(unit="mm", graduation="0.5", zero_offset="0.3"), "0.5")


def rectangle(start, bottom, end, top):
    return box(float(start), float(bottom), float(end), float(top))


def chassis(case: Case, narrow_too: bool):
    """What nothing may enter, seen from the side: grown steps and obstacles, these from far below up."""
    along, above = case.limits.end_clearance_mm, case.limits.clearance_mm
    steps = [rectangle(z.start_mm - along, -99, z.end_mm + along, z.top_mm + above) for z in case.cavity.zones]
    grid = Grid(case)
    narrow = {(start + case.cavity.start_mm, end + case.cavity.start_mm, top) for start, end, top, *_ in grid.narrow}
    stand = [
        rectangle(o.start_mm, -99, o.end_mm, o.top_mm)
        for o in case.cavity.obstacles
        if narrow_too or (o.start_mm, o.end_mm, o.top_mm) not in narrow
    ]
    return unary_union([*steps, *stand])


def over(case: Case, start, end):
    return [zone for zone in case.cavity.zones if zone.start_mm < end and start < zone.end_mm]


def section(zone: Zone, less):
    """A zone's cross-section as a polygon, less the wire path."""
    points = zone.profile.points if zone.profile is not None else ((-50, zone.width_mm / 2), (zone.roof_mm,) * 2)
    if zone.profile is None:
        points = ((-50, Fraction(zone.width_mm) / 2), (zone.roof_mm, Fraction(zone.width_mm) / 2))
    side = [(max(float(half - Fraction(less) / 2), 0), float(height)) for height, half in points]
    side.insert(0, (side[0][0], -60))
    return Polygon([*side, *((-x, y) for x, y in reversed(side))]).buffer(0)


def goes_in(case: Case, start, end, across, bottom, top) -> bool:
    """Whether a box in the middle lies within every cross-section it passes."""
    limits = case.limits
    less = limits.wire_path_mm + limits.wall_mm if limits.wire_path_mm else 0
    part = rectangle(-across / Fraction(2), bottom, across / Fraction(2), top)
    return all(part.difference(section(zone, less)).area < 1e-9 for zone in over(case, start, end))


def is_feasible(case: Case, chamber: Chamber) -> None:
    cavity, limits, floor = case.cavity, case.limits, chamber.floor_mm
    assert cavity.start_mm + limits.front_room_mm <= chamber.start_mm
    assert chamber.end_mm <= cavity.end_mm - limits.rear_room_mm
    faces = None if case.speaker is None else case.speaker.faces
    if faces == "front" and cavity.front_closed:
        assert cavity.start_mm + limits.sound_room_mm <= chamber.start_mm
    if faces == "rear" and cavity.rear_closed:
        assert chamber.end_mm <= cavity.end_mm - limits.sound_room_mm
    roofs = [zone.roof_mm for zone in over(case, chamber.start_mm, chamber.end_mm)]
    taken = rectangle(chamber.start_mm, floor, chamber.end_mm, max(roofs))
    assert min(roofs) > floor
    assert taken.intersection(chassis(case, narrow_too=False)).area < 1e-9
    first, last = chamber.inner_start_mm, chamber.inner_end_mm
    front = chamber.start_mm != cavity.start_mm or not cavity.front_closed
    rear = chamber.end_mm != cavity.end_mm or not cavity.rear_closed
    assert (first, last) == (chamber.start_mm + front * limits.wall_mm, chamber.end_mm - rear * limits.wall_mm)
    if case.speaker is not None:
        _speaker_is_clear(case, chamber)
    if case.decoder is not None:
        _pocket_is_clear(case, chamber)


def _speaker_is_clear(case: Case, chamber: Chamber) -> None:
    speaker, limits, floor, (start, end) = case.speaker, case.limits, chamber.floor_mm, chamber.seat_mm
    basket = speaker.width_mm if speaker.basket_width_mm is None else speaker.basket_width_mm
    behind = speaker.depth_mm + speaker.terminals_mm
    posts = (
        chamber.inner_start_mm + limits.post_mm * chamber.front_wall,
        chamber.inner_end_mm - limits.post_mm * chamber.rear_wall,
    )
    roofs = {zone.roof_mm for zone in over(case, start, end)}
    if speaker.faces in ("down", "up"):
        assert posts[0] <= start
        assert end <= posts[1]
        assert end - start == speaker.length_mm
        plate = limits.wall_mm if speaker.faces == "up" else 0
        assert min(roofs) >= floor + plate + behind + limits.over_speaker_mm
    else:
        assert end - start == behind
        assert (start == chamber.inner_start_mm) if speaker.faces == "front" else (end == chamber.inner_end_mm)
        # On its floor plate, and as high and wide in front of it, where its opening lies in the wall.
        front, behind = (limits.wall_mm, 0) if speaker.faces == "front" else (0, limits.wall_mm)
        low, across = floor + limits.wall_mm, speaker.width_mm + 2 * limits.post_mm
        assert goes_in(case, start - front, end + behind, across, low, low + speaker.length_mm)
    if speaker.faces == "down":
        assert goes_in(case, start, end, speaker.width_mm, floor, floor + speaker.flange_mm)
        assert goes_in(case, start, end, basket, floor, floor + behind)
        cone = rectangle(start, floor - speaker.travel_mm, end, floor)
        assert cone.intersection(chassis(case, narrow_too=False)).area < 1e-9
    for each in chamber.boxed:  # seen from above: the boxes keep clear of the speaker
        side, wall = each.half_width_mm + limits.wall_mm, limits.wall_mm
        boxed = rectangle(each.start_mm - wall, each.centre_mm - side, each.end_mm + wall, each.centre_mm + side)
        half = Fraction(speaker.width_mm) / 2
        assert boxed.intersection(rectangle(start, -half, end, half)).area < 1e-9


def _pocket_is_clear(case: Case, chamber: Chamber) -> None:
    pocket, decoder, floor = chamber.pocket, case.decoder, chamber.floor_mm
    assert pocket is not None
    sizes = sorted((decoder.length_mm, decoder.width_mm, decoder.height_mm))
    air = decoder.air_mm
    taken = (
        pocket.end_mm - pocket.start_mm - 2 * air,
        pocket.across_mm - 2 * air,
        pocket.top_mm - pocket.bottom_mm - air,
    )
    assert sorted(taken) == sizes
    if not decoder.turns:
        assert taken == (decoder.length_mm, decoder.width_mm, decoder.height_mm)
    room = rectangle(pocket.start_mm, pocket.bottom_mm, pocket.end_mm, pocket.top_mm)
    assert room.intersection(chassis(case, narrow_too=True)).area < 1e-9 or pocket.where == "inside it"
    assert goes_in(case, pocket.start_mm, pocket.end_mm, pocket.across_mm, pocket.bottom_mm, pocket.top_mm)
    if pocket.where == "beside the chamber":
        assert pocket.end_mm <= chamber.start_mm or chamber.end_mm <= pocket.start_mm
        return
    assert chamber.start_mm <= pocket.start_mm
    assert pocket.end_mm <= chamber.end_mm
    if chamber.seat_mm is not None:
        assert pocket.end_mm <= chamber.seat_mm[0] or chamber.seat_mm[1] <= pocket.start_mm
    if pocket.where == "below its floor":
        assert pocket.top_mm <= floor
        return
    assert decoder.inside
    assert floor + (0 if case.speaker is None else case.limits.wall_mm) <= pocket.bottom_mm
    wall = case.limits.wall_mm
    assert all(pocket.end_mm <= o.start_mm - wall or o.end_mm + wall <= pocket.start_mm for o in chamber.boxed)


def test_every_candidate_is_feasible():
    for _, case, found in FITTED:
        for chamber in found.candidates:
            is_feasible(case, chamber)
        volumes = [each.volume_mm3 for each in found.candidates]
        assert volumes == sorted(volumes, reverse=True)


def test_as_cut_it_is_feasible_on_a_mark_and_never_larger():
    cut_ones = 0
    for seed, case, found in FITTED:
        for exact in found.candidates[:2]:
            try:
                cut = at_marks(exact, found, MARKS)
            except DoesNotFit:
                continue
            cut_ones += 1
            is_feasible(case, cut)
            assert cut.cut_from == exact
            assert cut.volume_mm3 <= exact.volume_mm3, seed
            assert exact.start_mm <= cut.start_mm < cut.end_mm <= exact.end_mm
            assert cut.floor_mm >= exact.floor_mm
            # The rule's marks lie half a millimetre apart, the first 0.3 mm from its end.
            heights = {bay.zone.roof_mm - cut.floor_mm for bay in cut.bays}
            assert any(((each + offset) * 2).denominator == 1 for each in heights for offset in OFFSETS), seed
    assert cut_ones > COUNT // 5


def test_the_seat_is_the_nearest_to_the_place_wanted():
    tried = 0
    for _, case, found in FITTED:
        speaker, chamber, grid = case.speaker, found.chamber, Grid(case)
        if speaker is None or case.decoder is not None or speaker.faces in ("front", "rear"):
            continue
        tried += 1
        limits, zero = case.limits, case.cavity.start_mm
        first = chamber.inner_start_mm + limits.post_mm * chamber.front_wall
        last = chamber.inner_end_mm - limits.post_mm * chamber.rear_wall
        wanted = {
            "front": first, "rear": last - speaker.length_mm, "middle": Fraction(first + last - speaker.length_mm) / 2,
        }.get(speaker.place, speaker.place)  # fmt: skip
        good, steps, _ = grid._holds()
        stands = []
        for half in range(2 * int(first - zero), 2 * int(last - zero - speaker.length_mm) + 1):
            cells = range(half // 2, -(-half // 2) + speaker.length_mm)
            level = not any(steps[at] for at in cells[1:])
            if level and all(good[at, int(chamber.floor_mm)] for at in cells):
                stands.append(Fraction(half, 2) + zero)
        assert abs(chamber.seat_mm[0] - wanted) == min(abs(each - wanted) for each in stands)
    assert tried > 15


def miss_of(case: Case) -> DoesNotFit:
    with pytest.raises(DoesNotFit) as failed:
        fit_enclosure(case.cavity, case.limits, case.speaker, case.decoder)
    return failed.value


def test_a_miss_is_more_than_nothing_and_names_what_is_there():
    fitted = {seed for seed, *_ in FITTED}
    for seed, case in CASES:
        if seed in fitted:
            continue
        miss = miss_of(case)
        assert miss.short_mm >= 0, seed
        assert miss.short_mm > 0 or miss.what != "The speaker" or "sound through" in miss.cause, seed
        there = {zone.name for zone in case.cavity.zones} | {each.words for each in case.cavity.obstacles}
        assert set(re.findall(r"(?:zone|obstacle) \d+", str(miss))) <= there


def test_behind_room_for_its_sound_a_speaker_may_face_a_closed_end():
    """The shell's own end has no opening: behind room for its sound, or for a lamp, is a wall to sound through."""
    for room, start in ((5, 5), (0, 3)):
        limits = Limits(1, front_room_mm=room, sound_room_mm=3)
        found = fit_enclosure(OPEN, limits, Speaker(8, 9, 1, 4, faces="front")).chamber
        assert (found.start_mm, found.front_wall, found.seat_mm) == (start, True, (start + 1, start + 5))
        other = fit_enclosure(OPEN, limits, Speaker(8, 9, 1, 4, faces="rear")).chamber
        assert (other.end_mm, other.rear_wall, other.seat_mm) == (17, True, (12, 16))
    opened = replace(OPEN, front_closed=False)
    assert fit_enclosure(opened, Limits(1), Speaker(8, 9, 1, 4, faces="front")).chamber.start_mm == 0


OPEN = Cavity((Zone("hood", 0, 20, 5, 15, 12),))
RIBBED = Zone("hood", 0, 30, 5, 15, 12, Profile(((5, 4), (13, 4), (13, 6), (15, 6))))
POST = Obstacle("post", 9, 10, Fraction(1, 2), 0, 15, words="the post", moves=False, centre_mm=4)
LEVEL = Cavity((Zone("cab", 0, 9, 5, 15, 12), Zone("hood", 9, 18, 5, 14, 12)))
MISSES = {
    "all kept for lamps and the sound": (
        (OPEN, Limits(1, rear_room_mm=9, sound_room_mm=12), Speaker(8, 9, 1, 4, faces="front")),
        (
            "The chamber does not fit: 1.00 mm too little, because the room kept for lamps and the sound, 21.00 mm, is "
            "all the length there is. Keep less room at the ends."
        ),
    ),
    "beside the room for its sound": (
        (OPEN, Limits(1, post_mm=1, sound_room_mm=8), Speaker(8, 9, 1, 12, faces="rear")),
        (
            "The speaker does not fit: 1.00 mm too little, because over hood 11.00 mm of the length is left for the "
            "speaker's 12.00 mm, beside one wall of 1.00 mm. Try a shallower speaker, thinner walls or posts, or less "
            "clearance."
        ),
    ),
    "no one roof for a flange": (
        (LEVEL, Limits(1), Speaker(10, 9, 1, 4, faces="up")),
        (
            "The speaker does not fit: 1.00 mm too little, because over cab 9.00 mm of the length is left for the "
            "speaker's 10.00 mm, under one level of the roof. Try a shorter speaker, less clearance along the length, "
            "or trimming what stands there."
        ),
    ),
    "no thickness of a wall to sound through": (
        (replace(OPEN, front_closed=False), Limits(1, wall_mm=0), Speaker(9, 9, 1, 4, faces="front")),
        (
            "The speaker does not fit: nothing is left, because walls of no thickness leave none at the front end for "
            "it to sound through. Write how thick walls are, or let it face another way."
        ),
    ),
    "upright on its floor plate": (
        (replace(OPEN, front_closed=False), Limits(1, post_mm=1), Speaker(10, 11, 1, 4, faces="front")),
        (
            "The speaker does not fit: 2.00 mm too little, because over hood the chamber is 9.00 mm deep, and the "
            "speaker takes 11.00 mm upright with the floor plate of 1.00 mm; it is 1.00 mm too wide as well. Try a "
            "shorter speaker, less clearance, or trimming what stands there."
        ),
    ),
    "between posts": (
        (replace(OPEN, front_closed=False), Limits(1, post_mm=2), Speaker(8, 9, 1, 4, faces="front")),
        (
            "The speaker does not fit: 1.00 mm too little, because over hood the shell is 12.00 mm wide inside and the "
            "speaker 13.00 mm with the posts beside it. Try a narrower speaker or thinner posts."
        ),
    ),
    "too deep along": (
        (
            replace(OPEN, front_closed=False, rear_closed=False),
            Limits(1, post_mm=1),
            Speaker(8, 9, 1, 18, faces="rear"),
        ),
        (
            "The speaker does not fit: 1.00 mm too little, because over hood 17.00 mm of the length is left for the "
            "speaker's 18.00 mm, beside two walls of 1.00 mm and posts of 1.00 mm behind the one at its back. Try a "
            "shallower speaker, thinner walls or posts, or less clearance."
        ),
    ),
    "up on its floor plate": (
        (OPEN, Limits(1), Speaker(9, 9, 1, 9, faces="up")),
        (
            "The speaker does not fit: 1.00 mm too little, because over hood the chamber is 9.00 mm deep, and the "
            "speaker takes 10.00 mm with the floor plate of 1.00 mm. Try a shallower speaker, less clearance, or "
            "trimming what stands there."
        ),
    ),
    "beside what is boxed in": (
        (replace(OPEN, obstacles=(POST,)), Limits(1, cut_round=True), Speaker(18, 9, 1, 4)),
        (
            "The speaker does not fit: 4.00 mm too little, because over hood beside the post 5.00 mm is left of the "
            "width and the speaker takes 9.00 mm. Try a narrower speaker."
        ),
    ),
    "where its cone moves": (
        (OPEN, Limits(1), Speaker(9, 9, 1, 4, travel_mm=9)),
        (
            "The speaker does not fit: 4.00 mm too little, because over hood the 9.00 mm that its cone moves, and what "
            "the speaker takes, are more than the depth there is. Try a speaker that moves less, or a shallower one."
        ),
    ),
    "a section too narrow for a decoder at every height": (
        (Cavity((RIBBED,)), Limits(0), None, Box("decoder", 20, 10, 4)),
        (
            "The decoder does not fit: 2.00 mm too little, because over hood the shell is 8.00 mm wide inside and the "
            "decoder 10.00 mm. Use a smaller decoder, turn it, or keep less clearance."
        ),
    ),
}


@pytest.mark.parametrize("name", MISSES)
def test_a_miss_says_by_how_much_and_why(name):
    entries, message = MISSES[name]
    with pytest.raises(DoesNotFit, match=f"^{re.escape(message)}$"):
        fit_enclosure(*entries)


def test_boxes_take_the_union_of_their_slices():
    """Slice by slice along the length: boxes united by shapely within the zone's section, above the floor."""
    for seed, case in CASES:
        cavity, floor = case.cavity, 4
        boxed, wall = cavity.obstacles, case.limits.wall_mm
        if not any(each.top_mm > floor for each in boxed):
            continue
        boxed = tuple(each for each in boxed if each.top_mm > floor)
        ends = (cavity.start_mm, cavity.end_mm)
        edges = sorted({z for zone in cavity.zones for z in (zone.start_mm, zone.end_mm)} | {
            place for o in boxed for place in (o.start_mm - wall, o.end_mm + wall) if ends[0] < place < ends[1]
        })  # fmt: skip
        total = 0.0
        for start, end in pairwise(edges):
            here = [
                rectangle(o.centre_mm - o.half_width_mm - wall, floor, o.centre_mm + o.half_width_mm + wall,
                          o.top_mm + wall)
                for o in boxed if o.start_mm - wall < end and start < o.end_mm + wall
            ]  # fmt: skip
            zone = over(case, start, end)[0]
            total += unary_union(here).intersection(section(zone, 0)).area * float(end - start)
        found = taken_mm3(cavity.bays(0, 0), ends, floor, boxed, wall)
        assert float(found) == pytest.approx(total, abs=1e-6), seed


def test_boxes_that_overlap_count_once():
    """By hand: each box 6 x 9 x 5 = 270; they share 3 mm of length and 4 mm of width, 5 mm high: 60."""
    posts = [Obstacle("a", 10, 17, 2, 0, 9), Obstacle("b", 15, 22, 2, 0, 9, centre_mm=2)]
    zone = Zone("hood", 0, 30, 0, 20, 20)
    bays = Cavity((zone,)).bays(0, 0)
    one, other = (taken_mm3(bays, (0, 30), 5, [each], 1) for each in posts)
    both = taken_mm3(bays, (0, 30), 5, posts, 1)
    assert (one, other, both) == (270, 270, 270 + 270 - 4 * 4 * 5)

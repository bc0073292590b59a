"""What small functions say of blocks, outlines and footings; and parts at the edge of what can be made, by hand."""

from __future__ import annotations

import re
from dataclasses import replace
from fractions import Fraction
from itertools import pairwise

import pytest
from enclosure.making.test_turned_round import made
from enclosure.test_extra_parts import (
    HOOD,
    LIMITS,
    LOW_NOSE,
    MM,
    NOSE_LIMITS,
    ROUND,
    SPEAKER,
    STRANDS,
    TOWER,
    fitted,
    named,
)
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely.geometry import Polygon, box

from modelmath.enclosure import Obstacle, Profile, Speaker, Zone
from modelmath.enclosure.assemble import left_out_of, places_of
from modelmath.enclosure.making.blocks import Block, apart, block_of, less, volume_inside_mm3
from modelmath.enclosure.making.extras import Extras
from modelmath.enclosure.making.outline import height_where, least_of, length_mm, section_of, widest_mm
from modelmath.errors import DoesNotFit

HALF = Fraction(1, 2)
SMALL = st.integers(0, 6)
EXTENTS = st.tuples(SMALL, SMALL)


def blocks():
    return st.tuples(EXTENTS, EXTENTS, EXTENTS).map(lambda each: Block(*each[0], *each[1], *each[2]))


def cells(block):
    return {
        (x, y, z)
        for x in range(block.start_mm, block.end_mm)
        for y in range(block.left_mm, block.right_mm)
        for z in range(block.bottom_mm, block.top_mm)
    }


@settings(max_examples=150, derandomize=True)
@given(st.lists(blocks(), min_size=1, max_size=3), st.lists(blocks(), max_size=3))
def test_blocks_less_others_by_counting_cubes(some, others):
    whole = set().union(*(cells(each) for each in some))
    taken = set().union(*(cells(each) for each in others))
    left = less(some, others)
    assert set().union(*(cells(each) for each in left)) == whole - taken
    pieces = apart(some)
    assert sum(each.volume_mm3 for each in pieces) == len(whole)
    assert set().union(*(cells(each) for each in pieces)) == whole
    for one in some:
        assert one.volume_mm3 == len(cells(one))
        for other in others:
            assert one.meets(other) == other.meets(one) == bool(cells(one) & cells(other))


def test_what_lies_inside_a_chamber_by_hand():
    """Over a floor at 3 mm, under a roof at 9, 4 mm to either side, from 0 to 10 mm; the second half narrower."""
    bays = fitted(
        Zone("a", 0, 5, 2, 9, 8), Zone("b", 5, 10, 2, 9, 6), speaker=None, limits=replace(LIMITS, clearance_mm=1)
    )[1].bays
    assert volume_inside_mm3([Block(2, 4, -9, 9, 0, 20)], bays, 3) == 2 * 8 * 6
    assert volume_inside_mm3([Block(4, 7, 1, 2, 5, 6)], bays, 3) == 3
    assert volume_inside_mm3([Block(4, 7, 2, 20, 5, 6)], bays, 3) == 1 * 2 + 2 * 1
    assert volume_inside_mm3([Block(4, 7, -20, -2, 5, 6)], bays, 3) == 1 * 2 + 2 * 1
    assert volume_inside_mm3([Block(4, 7, 5, 6, 5, 6), Block(2, 4, 0, 1, 0, 3), Block(2, 4, 0, 0, 3, 9)], bays, 3) == 0


def test_an_obstacle_takes_its_extents():
    stands = Obstacle("tower", 20, 30, 3, -5, 6, centre_mm=Fraction(5, 2), moves=False)
    assert block_of(stands) == Block(20, 30, -HALF, Fraction(11, 2), -5, 6)


POINTS = ((0, 9), (4, 10), (4, 7), (8, 8), (8, 9), (12, 3), (14, 0))
SIDE = Zone("side", 0, 9, 0, 14, 20, Profile(POINTS))


def area(outline):
    """Of both sides together, by shapely."""
    right = [(half, height) for height, half in outline]
    return Polygon([*right, *((-half, height) for half, height in reversed(right))]).area


@pytest.mark.parametrize(("low", "high"), [(0, 14), (1, 13), (4, 8), (5, 7), (3, 4), (4, 5), (8, 9), (2, 12), (13, 14)])
def test_a_section_between_two_heights_is_what_shapely_cuts_from_the_whole(low, high):
    outline = section_of(SIDE, Fraction(low), Fraction(high))
    whole = Polygon(
        [*((half, height) for height, half in POINTS), *((-half, height) for height, half in reversed(POINTS))]
    )
    assert area(outline) == pytest.approx(whole.intersection(box(-20, low, 20, high)).area)
    assert (outline[0][0], outline[-1][0]) == (low, high)
    assert all(one != other for one, other in pairwise(outline))
    assert all(one[0] <= other[0] for one, other in pairwise(outline))


def test_a_section_by_hand():
    """Over 4 mm it begins within the ledge, under 8 mm it ends before the next; below its first point it is upright."""
    assert section_of(SIDE, Fraction(4), Fraction(8)) == ((4, 7), (8, 8))
    assert section_of(SIDE, Fraction(2), Fraction(6)) == ((2, Fraction(19, 2)), (4, 10), (4, 7), (6, Fraction(15, 2)))
    assert section_of(SIDE, Fraction(-3), Fraction(2)) == ((-3, 9), (0, 9), (2, Fraction(19, 2)))
    assert section_of(SIDE, Fraction(5), Fraction(5)) == section_of(SIDE, Fraction(6), Fraction(5)) == ()
    assert section_of(replace(SIDE, profile=None), Fraction(2), Fraction(6)) == ((2, 10), (6, 10))
    assert widest_mm(section_of(SIDE, Fraction(2), Fraction(6))) == 20
    # 3 and 4 make 5; a ledge counts its own length.
    assert (
        length_mm(
            (
                (Fraction(0), Fraction(9)),
                (Fraction(4), Fraction(6)),
                (Fraction(4), Fraction(4)),
                (Fraction(9), Fraction(4)),
            )
        )
        == 12
    )


@pytest.mark.parametrize(
    ("half", "height"),
    [(11, 0), (10, 0), (9, 4), (8, 4), (7, 10 - HALF / 6 * 8), (3, 12), (2, Fraction(38, 3)), (0, 14)],
)
def test_up_to_where_a_section_is_nowhere_narrower(half, height):
    """9 mm at the floor, and in to 7 mm by the ledge at 4 mm; from 9 mm at 8 mm of height to 3 mm at 12."""
    section = section_of(SIDE, Fraction(0), Fraction(14))
    assert height_where(section, Fraction(half)) == (Fraction(28, 3) if half == 7 else height)


@settings(max_examples=60, derandomize=True)
@given(st.lists(st.lists(st.integers(1, 9), min_size=2, max_size=4), min_size=1, max_size=3))
def test_the_least_of_several_outlines_is_the_least_at_every_height(sides):
    outlines = [
        tuple((Fraction(12 * at, len(halves) - 1), Fraction(half)) for at, half in enumerate(halves))
        for halves in sides
    ]

    def half_at(outline, height):
        (low, start), (high, end) = next(pair for pair in pairwise(outline) if pair[0][0] <= height <= pair[1][0])
        return start + (end - start) * (height - low) / (high - low)

    found = least_of(outlines)
    assert (found[0][0], found[-1][0]) == (0, 12)
    assert all(one != other for one, other in pairwise(found))
    for step in range(97):
        height = Fraction(step, 8)
        assert half_at(found, height) == min(half_at(each, height) for each in outlines)


def test_one_piece_round_a_narrow_speaker_by_hand():
    """20 mm wide and a speaker of 10: 5 mm are left on either side."""
    plate = named(fitted(HOOD, speaker=Speaker(16, 10, 1, 5)), Extras(floor="one piece"))["floor plate"]
    assert sum(each.volume_mm3 for each in plate.blocks) == 58 * 20 - 16 * 10


@pytest.mark.parametrize(("width", "one"), [("12.49", False), ("12.5", True), ("12.6", True)])
def test_one_piece_needs_as_much_beside_the_speaker_as_a_filler(width, one):
    """A filler is 0.25 mm wide at least; a speaker of 12 mm leaves half of the rest on either side."""
    parts = named(fitted(replace(HOOD, width_mm=Fraction(width))), Extras(floor="one piece"))
    assert ("floor plate" in parts) == one


def refused(text):
    return pytest.raises(DoesNotFit, match=f"^{re.escape(text)}$")


def test_a_flange_that_hangs_higher_than_it_was_fitted_meets_a_section_between_its_supports():
    """By hand: supports of 11.3 mm under 15 are cut to 11, so its flange, 1.2 mm thick, ends at 4 in place of 3.7 mm.

    In the middle the section is as wide as the speaker, 12 mm, up to 3.7 mm, and leans in from there by 3 in 11.3 mm.
    """
    leaning = Profile(((0, Fraction(13, 2)), (2, Fraction(13, 2)), (Fraction(37, 10), 6), (15, 3)))
    zones = (
        Zone("front", 0, 25, 2, 15, 13), Zone("middle", 25, 35, 2, 15, 13, leaning), Zone("rear", 35, 60, 2, 15, 13),
    )  # fmt: skip
    speaker = replace(SPEAKER, flange_mm=Fraction(6, 5))
    text = (
        "The speaker does not fit: 0.16 mm too little, because its supports, cut to marks of 0.5, hang its flange 0.30 "
        "mm above the floor, where the section is narrower than it is. Cut to a finer mark, keep less over the "
        "speaker, or use a shallower speaker."
    )
    with refused(text):
        fitted(*zones, speaker=speaker)
    assert fitted(*zones)[1].seat_mm is not None  # a flange of 1 mm, and supports on a mark


@pytest.mark.parametrize("faces", ["front", "rear"])
def test_a_roof_over_the_back_of_a_speaker_that_faces_an_end_counts(faces):
    """Its wall stands under 15 mm; 4 mm behind that the roof is at 13, 9.5 mm over the plate at 3.5 mm."""
    zones = [Zone("end", 0, 4, 2, 15, 20), Zone("hood", 4, 60, 2, 13, 20)]
    if faces == "rear":
        zones = [replace(each, start_mm=-each.end_mm, end_mm=-each.start_mm) for each in reversed(zones)]
    speaker = Speaker(9, 12, 1, 5, faces=faces)
    enclosure, chamber = fitted(*zones, speaker=speaker)
    text = (
        "The speaker does not fit: 1.50 mm too little, because the floor plate, 1.00 mm thick, leaves 9.50 mm above "
        "it, and the speaker takes 11.00 mm. Use a smaller speaker or a thinner plate."
    )
    with refused(text):
        named((replace(enclosure, speaker=replace(speaker, length_mm=11)), chamber))
    just = replace(enclosure, speaker=replace(speaker, length_mm=Fraction(19, 2)))
    assert named((just, chamber))["floor plate"].removable


def test_plates_narrower_than_glue_fills_are_left_out():
    """0.4 mm are left between wall and speaker, or 0.5."""
    for place, there in ((Fraction(14, 10), False), (Fraction(15, 10), True)):
        parts = named(fitted(HOOD, speaker=replace(SPEAKER, place=place), limits=replace(LIMITS, post_mm=0)))
        assert ("floor plate, front" in parts) == there
        assert parts["floor plate, rear"].cut.exact_mm == 59 - place - 16


def test_fillers_and_plates_follow_sides_that_slope():
    leaning = Profile(((0, 10), (15, 7)))
    parts = named(fitted(replace(HOOD, profile=leaning)))
    slope = ", its edges to the slope of the sides"
    assert [name for name, part in parts.items() if part.made_to.endswith(slope)] == [
        "side plate", "floor plate, front", "floor plate, rear",
    ]  # fmt: skip
    upright = Profile(((0, 10), (4, 10), (15, 7)))
    assert not any(slope in part.made_to for part in named(fitted(replace(HOOD, profile=upright))).values())
    # As wide as the section at the floor, at 2.5 mm: 10 - 3 x 2.5 / 15 to either side.
    assert parts["floor plate, front"].width_mm == 19


def test_supports_under_a_slope_say_so():
    leaning = Profile(((0, 10), (15, 7)))
    part = named(fitted(replace(HOOD, profile=leaning)))["speaker support"]
    assert part.made_to == "a number: chamber height less flange, its upper end trimmed to the slope of the roof"


def test_the_box_of_what_stands_beside_the_speaker_is_cut_out_of_the_filler():
    """By hand: from 28 to 31 mm, 6.5 to 8.5 mm right of the middle, its box of 1 mm round that is 5 mm long, 4 wide."""
    pin = Obstacle("pin", 28, 31, 1, 0, 6, words="the pin", moves=False, centre_mm=Fraction(15, 2))
    site = fitted(HOOD, speaker=replace(SPEAKER, width_mm=10, basket_width_mm=8), limits=ROUND, obstacles=(pin,))
    filler = named(site)["side plate"]
    assert filler.made_to.endswith(", and cut it round the box of the pin")
    # Both are 16 mm long and 5 wide, 1 mm thick.
    assert sum(each.volume_mm3 for each in filler.blocks) == 2 * 16 * 5 - 5 * 4
    assert (site[1].seat_mm[0], {each.bottom_mm for each in filler.blocks}) == (22, {Fraction(5, 2)})


def test_a_support_that_lacks_most_is_named_and_each_that_has_none():
    """By hand: supports of 2.5 mm from 25.67 and 42.33 mm; over the post 1 mm is left, over the tower none."""
    aside = [
        Obstacle("tower", 25, 29, 3, -5, 15, moves=False, centre_mm=-6),
        Obstacle("post", 42, 44, 3, -5, 14, moves=False, centre_mm=-6),
    ]
    site = fitted(*LOW_NOSE, limits=NOSE_LIMITS, obstacles=tuple(aside))
    assert "strand support, front" not in named(site, STRANDS)
    assert [str(each) for each in left_out_of(*site, MM, STRANDS)] == [
        (
            "The strand support, front does not fit: 2.50 mm too little, because over tower there are 0.00 mm, and it "
            "is 2.50 mm high. Lead the strand another way there."
        )
    ]
    one = fitted(*LOW_NOSE, limits=NOSE_LIMITS, obstacles=tuple(aside[1:]))
    assert named(one, STRANDS)["strand support, front"].made_to.endswith("; none over post")


@pytest.mark.parametrize(("top", "room"), [(Fraction(25, 2), True), (Fraction(126, 10), False)])
def test_a_support_just_over_what_stands_there_has_room(top, room):
    """It is 2.5 mm high under 15 mm."""
    post = Obstacle("post", 25, 29, 3, -5, top, moves=False, centre_mm=-6)
    site = fitted(*LOW_NOSE, limits=NOSE_LIMITS, obstacles=(post,))
    assert named(site, STRANDS)["strand support, front"].count == (2 if room else 1)


def test_strand_supports_in_a_short_stretch_by_hand():
    """41 mm in spaces of 20 at most are three of 13.67 mm; 40 mm are two of 20, with one support between."""
    for end, count, pitch in ((51, 2, "13.67"), (50, 1, "20.00"), (31, 1, "10.50"), (30, 0, "")):
        zones = (Zone("nose", 0, end, 10, 15, 20), Zone("hood", end, 120, 2, 15, 20))
        part = named(fitted(*zones, limits=NOSE_LIMITS), STRANDS).get("strand support, front")
        assert (part.count if part else 0) == count
        assert part is None or part.made_to.endswith(f", one every {pitch} mm")


def test_a_barrier_is_refused_only_where_the_room_is_shorter_than_it_is_thick():
    for room, said in ((Fraction(1, 4), 1), (HALF, 0), (3, 0)):
        limits = replace(NOSE_LIMITS, front_room_mm=room)
        site = fitted(*LOW_NOSE, limits=limits, closed=(True, False))
        extras = Extras(light_barrier=(True, False))
        assert len(left_out_of(*site, MM, extras)) == said
        assert ("light barrier, front" in named(site, extras)) == (not said)


def test_without_the_strands_size_the_hole_is_as_high_as_its_own_supports_would_be():
    """Beside supports for strands of 1.5 mm, 4.5 mm high at a mark, the hole of 0.75 mm is 2.25 mm down too."""
    extras = Extras("pieces", 40, Fraction(3, 2), light_barrier=(True, False), barrier_strand_mm=(Fraction(3, 4), None))
    part = named(fitted(*LOW_NOSE, limits=NOSE_LIMITS), extras)["light barrier, front"]
    assert part.openings[0].from_edge_mm == Fraction(9, 2) - Fraction(9, 4)


def test_where_walls_and_speaker_stand_is_said():
    site = fitted(HOOD)
    said = {each.what: each.position_mm for each in places_of(*site, tuple(named(site).values()))}
    assert (said["bulkhead"], said["speaker"], said["rear closure"]) == (0, 22, 60)


def test_a_side_wall_is_one_piece_over_zones_alike_and_says_where_it_steps():
    """A roof lower by 2 mm parts it; the step across of the first, of 1 mm, is closed by a strip."""
    zones = (
        Zone("a", 0, 20, 2, 15, 20), Zone("b", 20, 30, 4, 15, 20),
        Zone("c", 30, 45, 2, 15, 22), Zone("d", 45, 60, 2, 17, 22),
    )  # fmt: skip
    parts = named(fitted(*zones, speaker=None, limits=replace(LIMITS, wire_path_mm=3)))
    sides = {name: part for name, part in parts.items() if name.startswith("side")}
    assert [(part.position_mm, part.width_mm, part.cut.cut_mm) for part in sides.values()] == [
        (0, 30, Fraction(21, 2)), (30, 15, Fraction(21, 2)), (45, 15, Fraction(25, 2)),
    ]  # fmt: skip
    assert list(sides) == ["side wall 1", "side wall 2", "side wall 3"]
    plain = "its height a number, its length the end walls: stand it 3.00 mm from the shell's side"
    strip = "; close the step of 1.00 mm to the piece in front with a strip"
    assert [part.made_to for part in sides.values()] == [plain, plain + strip, plain]
    narrower = [replace(each, width_mm=42 - each.width_mm) for each in zones]
    parts = named(fitted(*narrower, speaker=None, limits=replace(LIMITS, wire_path_mm=3)))
    assert [part.made_to for name, part in parts.items() if name.startswith("side")] == [plain, plain + strip, plain]


def test_the_opening_in_the_roof_lies_in_the_middle_of_the_seat():
    """A flange of 16 mm from 22 to 38 mm, its opening 10 mm long: from 25 mm."""
    opening = made([HOOD], speaker=replace(SPEAKER, faces="up"))[2]
    assert (opening.from_edge_mm, opening.long_mm, opening.wide_mm) == (25, 10, 8)


def test_a_box_that_ends_under_another_roof_has_sides_of_two_heights():
    """A tower up to 14.5 mm: under a roof at 17 mm it has a lid, under one at 15 the sides end at the roof."""
    zones = (Zone("cab", 0, 25, 2, 17, 20), Zone("hood", 25, 60, 2, 15, 20))
    parts = named(fitted(*zones, speaker=None, limits=ROUND, obstacles=(replace(TOWER, top_mm=Fraction(29, 2)),)))
    boxed = {name: part for name, part in parts.items() if part.kind == "box"}
    assert {name: (part.count, float(part.cut.exact_mm), float(part.width_mm)) for name, part in boxed.items()} == {
        "tower box, side": (2, 12, 6), "tower box, end": (1, 12, 6), "tower box, lid": (1, 6, 8),
        "tower box, side 2": (2, 12.5, 6), "tower box, end 2": (1, 12.5, 6),
    }  # fmt: skip
    assert boxed["tower box, side 2"].made_to == "from the floor to the roof, 12.50 mm: sand it until it slides in"


@pytest.mark.parametrize(("post", "least"), [(2, 4), (3, 6), (HALF, 1)])
def test_strand_supports_stand_twice_their_own_length_apart_at_least(post, least):
    site = fitted(*LOW_NOSE, limits=replace(NOSE_LIMITS, post_mm=post))
    said = left_out_of(*site, MM, Extras(strand_every_mm=least - Fraction(1, 10), strand_mm=Fraction(1, 2)))
    assert [str(each) for each in said] == [
        (
            f"The distance between strand supports is {float(least) - 0.1:.2f} mm; it must be {float(least):.2f} mm or "
            "more, twice a support's own length. Write a greater distance, such as 20 mm."
        )
    ]
    assert not left_out_of(*site, MM, Extras(strand_every_mm=least, strand_mm=Fraction(1, 2)))


def test_the_hole_of_a_barrier_under_a_sloping_roof_lies_where_the_strand_supports_hang():
    """In by 1 to 1 from 10 mm off the middle at 12 mm of height; supports of 2.25 mm, 2.5 at a mark, hang from 15 mm.

    Their hole is 1.25 mm down; 7 mm off the middle at the roof they are 2 mm wide, so the strand runs at 6 mm.
    """
    sloped = Profile(((0, 10), (12, 10), (15, 7)))
    nose, hood = (replace(each, profile=sloped) for each in LOW_NOSE)
    extras = Extras(light_barrier=(True, False), barrier_strand_mm=(Fraction(3, 4), None))
    part = named(fitted(nose, hood, limits=NOSE_LIMITS), extras)["light barrier, front"]
    (hole,) = part.openings
    assert (hole.centre_mm, hole.from_edge_mm, part.cut.cut_mm) == (-6, Fraction(13, 4), Fraction(9, 2))
    assert part.outline == (
        (0, 10), (Fraction(3, 2), 10), (Fraction(9, 2), 7),
    )  # fmt: skip
    # Over a rib that is 6 mm off the middle up to 12 mm of height, the roof is as wide as where it hangs.
    ribbed = Profile(((0, 6), (12, 6), (12, 10), (15, 10)))
    nose, hood = (replace(each, profile=ribbed) for each in LOW_NOSE)
    part = named(fitted(nose, hood, speaker=None, limits=NOSE_LIMITS), extras)["light barrier, front"]
    assert part.openings[0].centre_mm == -9

"""Parts by facing, boxes, side walls, strand supports, light barriers: sizes by hand, places against shapely."""

from __future__ import annotations

import re
from dataclasses import dataclass, replace
from fractions import Fraction
from itertools import combinations, pairwise

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from shapely.geometry import Polygon, box
from shapely.ops import unary_union

from modelmath.clearance import Marks
from modelmath.enclosure import (
    Box,
    Cavity,
    Chamber,
    Enclosure,
    Limits,
    Obstacle,
    Part,
    Profile,
    Speaker,
    Zone,
    fit_enclosure,
)
from modelmath.enclosure.assemble import left_out_of, parts_of, places_of, roof_opening_of
from modelmath.enclosure.making.extras import Extras
from modelmath.enclosure.net import speaker_blocks
from modelmath.errors import DoesNotFit, ModelMathError
from modelmath.lengths.rules import Rule

MM = Marks(Rule(unit="mm", graduation="0.5"), "0.5")
HO = Marks(Rule(scale="HO", zero_offset="1"), "1/4")
HALF = Fraction(1, 2)
SPEAKER = Speaker(16, 12, 1, 5, basket_length_mm=10, basket_width_mm=8)
LIMITS = Limits(HALF, HALF, Fraction(1), Fraction(2), HALF)
HOOD = Zone("hood", 0, 60, 2, 15, 20)


def fitted(
    *zones: Zone, speaker: Speaker | None = SPEAKER, limits: Limits = LIMITS, decoder: Box | None = None,
    obstacles: tuple[Obstacle, ...] = (), closed: tuple[bool, bool] = (False, False),
) -> tuple[Enclosure, Chamber]:  # fmt: skip
    enclosure = fit_enclosure(Cavity(zones, *closed, obstacles), limits, speaker, decoder)
    return enclosure, enclosure.as_cut(MM)


def named(site: tuple[Enclosure, Chamber], extras: Extras = Extras()) -> dict[str, Part]:  # noqa: B008 (it is frozen)
    return {part.name: part for part in parts_of(*site, MM, extras)}


def test_facing_up_there_are_no_supports_and_one_floor_plate_comes_off():
    """By hand: 60 mm less two walls of 1 mm; the floor at 2.5 mm, so 12.5 mm high, posts 1 mm less."""
    site = fitted(HOOD, speaker=replace(SPEAKER, faces="up"))
    parts = named(site)
    assert list(parts) == ["bulkhead", "corner post", "rear closure", "closure post", "floor plate"]
    plate = parts["floor plate"]
    assert (plate.count, plate.use, plate.cut.cut_mm, plate.width_mm, plate.thickness_mm) == (1, "across", 58, 20, 1)
    assert (plate.position_mm, plate.face, plate.removable, plate.made_by) == (1, "front edge", True, "real thing")
    assert plate.made_to == (
        "the floor from wall to wall: hold it against walls and sides, and sand; bed it in sealant, no cement, so that "
        "it comes off: the speaker is reached through it"
    )
    assert (parts["bulkhead"].cut.cut_mm, parts["corner post"].cut.cut_mm) == (Fraction(25, 2), Fraction(23, 2))
    opening = roof_opening_of(*site, MM)
    middle = sum(site[1].seat_mm) / 2
    assert (opening.long_mm, opening.wide_mm, opening.from_edge_mm) == (10, 8, middle - 5)
    longer = fitted(HOOD, speaker=replace(SPEAKER, faces="up", basket_length_mm=Fraction(19, 2)))
    longer_opening = roof_opening_of(*longer, MM)
    assert longer_opening.from_edge_mm + longer_opening.long_mm / 2 == sum(longer[1].seat_mm) / 2
    assert {part.carried_by for part in parts.values()} == {"shell"}


@pytest.mark.parametrize(("faces", "name", "place"), [("front", "bulkhead", 1), ("rear", "rear closure", 59)])
def test_the_wall_at_its_end_is_the_baffle(faces, name, place):
    """By hand: on a plate of 1 mm stands the flange, 10 mm; its basket of 8 mm begins 1 mm higher."""
    speaker = Speaker(10, 12, 1, 5, faces=faces, basket_length_mm=8, basket_width_mm=9)
    site = fitted(HOOD, speaker=speaker)
    parts = named(site)
    wall = parts[name]
    assert wall.kind == "wall"
    assert wall.made_to == (
        "its height a number, its width the shell itself: sand until it slides in; cut an opening in it for the "
        "speaker, 9.00 mm wide and 8.00 mm high, in the middle, 2.00 mm above its lower edge"
    )
    assert [(o.long_mm, o.wide_mm, o.from_edge_mm, o.centre_mm) for o in wall.openings] == [(8, 9, 2, 0)]
    assert not any(part.openings for part in parts.values() if part is not wall)
    assert "speaker support" not in parts
    assert parts["floor plate"].removable
    said = [(each.face, each.position_mm) for each in places_of(*site, tuple(parts.values())) if each.what == "speaker"]
    assert said == [("its face", place)]
    assert roof_opening_of(*site, MM) is None


def test_without_a_basket_the_opening_is_the_flange_less_its_rim():
    """A rim of 1 mm, or a quarter of a small flange: common practice, no source."""
    site = fitted(HOOD, speaker=Speaker(10, 2, 1, 5, faces="front"))
    opening = named(site)["bulkhead"].openings[0]
    assert (opening.long_mm, opening.wide_mm) == (8, 1)


def test_one_piece_is_a_baffle_in_place_of_fillers_and_plates():
    site = fitted(HOOD)
    pieces, one = named(site), named(site, Extras(floor="one piece"))
    assert {"side plate", "floor plate, front", "floor plate, rear"} <= set(pieces)
    assert list(one) == ["bulkhead", "corner post", "rear closure", "closure post", "speaker support", "floor plate"]
    plate, seat = one["floor plate"], site[1].seat_mm
    assert plate.made_to == (
        "the floor from wall to wall: hold it against walls and sides, and sand; cut an opening in it for the flange "
        "of the speaker, 16.00 mm long and 12.00 mm wide, in the middle, 21.00 mm behind its front edge"
    )
    assert (plate.openings[0].from_edge_mm, plate.removable) == (seat[0] - 1, False)
    assert sum(each.volume_mm3 for each in plate.blocks) == 58 * 20 - 16 * 12
    tight = fitted(replace(HOOD, width_mm=Fraction(122, 10)))
    assert named(tight, Extras(floor="one piece")) == named(tight)


def test_what_must_come_out_is_bedded_in_sealant():
    inside = Box("decoder", 12, 10, 5, inside=True)
    site = fitted(HOOD, decoder=inside, limits=replace(LIMITS, clearance_mm=HALF))
    assert site[1].pocket.where in ("inside it", "beside the chamber", "below its floor")
    held = fit_enclosure(Cavity((HOOD,)), LIMITS, replace(SPEAKER, place="front"), inside)
    deep = next(each for each in held.candidates if each.pocket.where == "inside it")
    parts = {each.name: each for each in parts_of(held, deep, MM, Extras(removable=("speaker", "decoder")))}
    reached = "; bed it in sealant, no cement, so that it comes off: the decoder is reached through it"
    over = [name for name, part in parts.items() if part.removable]
    assert over == ["floor plate, rear"]
    assert parts["floor plate, rear"].made_to.endswith(reached)
    assert parts["speaker support"].made_to == (
        "a number: chamber height less flange; bed the speaker's flange on them in sealant, no cement, so that it "
        "comes out"
    )
    assert not any(part.removable for part in parts_of(held, deep, MM))


def test_a_side_wall_closes_the_chamber_towards_the_wire_path():
    """By hand: 20 mm less 3 mm of path and 1 mm of wall leave 16; the wall is as high as the bulkhead, 60 mm long."""
    parts = named(fitted(HOOD, limits=replace(LIMITS, wire_path_mm=3)))
    side, wall = parts["side wall"], parts["bulkhead"]
    assert (side.kind, side.use, side.cut.cut_mm, side.cut_set) == ("side", "across", wall.cut.cut_mm, wall.cut_set)
    assert (side.width_mm, side.thickness_mm, side.position_mm, wall.width_mm) == (60, 1, 0, 16)
    assert side.made_to == "its height a number, its length the end walls: stand it 3.00 mm from the shell's side"
    assert [(each.left_mm, each.right_mm) for each in side.blocks] == [(8, 9)]


def test_a_side_wall_steps_with_the_shell():
    zones = (replace(HOOD, end_mm=30), Zone("cab", 30, 60, 2, 15, 22))
    parts = named(fitted(*zones, speaker=None, limits=replace(LIMITS, wire_path_mm=3)))
    assert [name for name in parts if name.startswith("side")] == ["side wall 1", "side wall 2"]
    assert parts["side wall 2"].made_to.endswith("; close the step of 1.00 mm to the piece in front with a strip")


TOWER = Obstacle("tower", 20, 30, 3, 0, 6, words="the gear tower", moves=False)
ROUND = replace(LIMITS, cut_round=True)


def test_what_stands_up_is_boxed_in():
    """By hand: the tower, 10 x 6 mm, 3.5 mm over the floor, has sides of 12, ends of 6, a lid of 12 x 8."""
    site = fitted(HOOD, speaker=None, limits=ROUND, obstacles=(TOWER,))
    assert [each.name for each in site[1].boxed] == ["tower"]
    parts = named(site)
    sides, ends, lid = (parts[f"tower box, {each}"] for each in ("side", "end", "lid"))
    high = Fraction(7, 2)
    assert (sides.count, sides.cut.exact_mm, sides.width_mm, sides.thickness_mm) == (2, high, 12, 1)
    assert (ends.count, ends.cut.exact_mm, ends.width_mm, ends.thickness_mm) == (2, high, 6, 1)
    assert (lid.count, lid.cut.exact_mm, lid.width_mm, lid.thickness_mm) == (1, 12, 8, 1)
    assert sides.made_to == ends.made_to == "from the floor to the lid, 3.50 mm: sand it until it slides in"
    assert lid.made_to == "its box's sides and ends: hold it on them, and sand it level with them"
    assert (ends.places_mm, sides.places_mm) == ((19, 30), (19,))


def test_a_box_under_a_low_roof_has_no_lid():
    site = fitted(HOOD, speaker=None, limits=ROUND, obstacles=(replace(TOWER, top_mm=Fraction(29, 2)),))
    parts = named(site)
    assert "tower box, lid" not in parts
    assert parts["tower box, side"].made_to == "from the floor to the roof, 12.50 mm: sand it until it slides in"


@pytest.mark.parametrize(("gap", "ends"), [("0.9", 1), ("1", 2)])
def test_a_box_with_no_room_for_its_end_before_the_wall_butts_on_the_wall(gap, ends):
    """By hand: walls and ends are 1 mm thick; with less than that before the wall's inner face no end goes in."""
    start = 1 + Fraction(gap)
    site = fitted(HOOD, speaker=None, limits=ROUND, obstacles=(replace(TOWER, start_mm=start, end_mm=8),))
    parts = named(site)
    assert parts["tower box, end"].count == ends
    assert {block.end_mm - block.start_mm for block in parts["tower box, end"].blocks} == {1}
    (side,) = {(block.start_mm, block.end_mm) for block in parts["tower box, side"].blocks}
    assert side == (1, 9)


def test_a_box_that_meets_the_end_wall_needs_no_end_there_and_a_notch():
    """By hand: from -5 to 8 mm, its box butts on the wall's inner face at 1 mm: sides of 8 mm, one end."""
    site = fitted(HOOD, speaker=None, limits=ROUND, obstacles=(replace(TOWER, start_mm=-5, end_mm=8),))
    parts = named(site)
    assert (parts["tower box, end"].count, parts["tower box, side"].width_mm) == (1, 8)
    assert parts["bulkhead"].made_to.endswith(
        "; notch its lower edge for the gear tower, 6.00 mm wide and 3.50 mm high"
    )
    notch = parts["bulkhead"].openings[0]
    assert (notch.long_mm, notch.wide_mm, notch.from_edge_mm) == (Fraction(7, 2), 6, 0)


@pytest.mark.parametrize(("centres", "half"), [((0,), Fraction(17, 2)), ((Fraction(-15, 2), Fraction(15, 2)), 1)])
def test_where_boxes_take_both_corners_the_posts_stand_on_them(centres, half):
    """By hand: lids of 1 mm on what is 6.3 mm high leave 7.7 mm to the roof at 15 mm, 7.5 mm on a half-mm rule."""
    aside = [
        replace(TOWER, name=f"tower {at}", start_mm=-5, end_mm=8, centre_mm=centre, half_width_mm=half,
                top_mm=Fraction(63, 10))
        for at, centre in enumerate(centres)
    ]  # fmt: skip
    site = fitted(HOOD, speaker=replace(SPEAKER, place="rear"), limits=ROUND, obstacles=tuple(aside))
    assert len(site[1].boxed) == len(centres)
    post = named(site)["corner post"]
    assert (post.count, post.cut.cut_mm, post.made_by) == (2, Fraction(15, 2), "number")
    assert post.made_to == "a number: from the roof to the box's lid"
    assert post.cut_set == "corner post height"
    assert [(each.left_mm, each.right_mm) for each in post.blocks] == [(-10, -8), (8, 10)]
    assert {(each.start_mm, each.end_mm, each.bottom_mm, each.top_mm) for each in post.blocks} == {
        (1, 3, Fraction(15, 2), 15)
    }


def test_a_plate_is_cut_out_round_a_box_and_a_post_makes_way_for_one():
    """By hand: a box from y = 5 to 10 mm in the corner stands for the post on its side."""
    aside = replace(TOWER, start_mm=-5, end_mm=8, centre_mm=Fraction(15, 2), half_width_mm=Fraction(3, 2))
    speaker = replace(SPEAKER, place="rear")
    parts = named(fitted(HOOD, speaker=speaker, limits=ROUND, obstacles=(aside,)))
    post, plate = parts["corner post"], parts["floor plate, front"]
    assert (post.count, post.blocks[0].left_mm) == (1, -10)
    assert post.made_to.endswith("; the box beside the wall stands for the other")
    assert plate.made_to.endswith(
        "; cut it out 8.00 mm long and 5.00 mm wide round the box of the gear tower, from 0.00 mm behind its front edge"
    )
    assert parts["bulkhead"].made_to.endswith(", its middle 7.50 mm right of the centre line")


def test_posts_in_a_chamber_shorter_than_two_of_them_are_thinned():
    """By hand: 5 mm less two walls of 1 mm leave 1.5 mm for each of the posts of 2 mm."""
    parts = named(fitted(replace(HOOD, end_mm=5), speaker=None))
    assert parts["corner post"].made_to.endswith(", thinned to 1.50 mm along the shell")
    assert [(each.start_mm, each.end_mm) for each in parts["closure post"].blocks] == [(2.5, 4)] * 2


def test_a_wall_under_a_section_has_its_outline():
    """By hand: sides upright to 5 mm, then in to 4 mm at the roof, 15 mm; the wall's lower edge at 2.5 mm."""
    profile = Profile(((0, 10), (5, 10), (15, 4)))
    site = fitted(replace(HOOD, profile=profile), speaker=None)
    wall = named(site)["bulkhead"]
    assert wall.cut.cut_mm == Fraction(25, 2)
    assert wall.outline == ((0, 10), (Fraction(5, 2), 10), (Fraction(25, 2), 4))
    assert wall.made_to == (
        "its height at the centre line a number, its outline the shell's section: sand until it slides in"
    )
    # The section is 8 mm to either side, at the inner face of posts of 2 mm, at 5 + 10 x 2/6 = 8.33 mm: 5.83 over 2.5.
    post = named(site)["corner post"]
    assert (post.cut.exact_mm, post.cut.cut_mm) == (Fraction(35, 6), Fraction(11, 2))
    assert post.made_to == "a number: height of the section over its inner face, trimmed to the shell's section"


def test_a_wall_under_two_sections_is_the_less_of_both():
    """By hand: a tent of half-width 12 - h against a straight 6 mm crosses at 6 mm; over the floor at 1 mm, at 5 mm."""
    tent = Zone("tent", 0, 1, 0, 12, 24, Profile(((0, 12), (12, 0))))
    zones = (tent, Zone("straight", 1, 50, 0, 12, 12))
    site = fitted(*zones, speaker=None, limits=Limits(1, wall_mm=2))
    wall = named(site)["bulkhead"]
    assert wall.outline == ((0, 6), (5, 6), (11, 0))
    assert wall.width_mm == 12


def test_strand_supports_stand_evenly_from_the_lamps_room_to_the_wall():
    """By hand: 50 mm from the lamp's room to the wall: three spaces of 16.67 mm, two supports between."""
    zones = (Zone("nose", 0, 60, 10, 15, 20), Zone("hood", 60, 120, 2, 15, 20))
    limits = replace(LIMITS, front_room_mm=10, end_clearance_mm=0)
    site = fitted(*zones, limits=limits)
    assert site[1].start_mm == 60
    part = named(site, Extras(strand_every_mm=20, strand_mm=Fraction(3, 4)))["strand support, front"]
    third = Fraction(50, 3)
    assert (part.kind, part.count, part.use, part.cut.exact_mm, part.cut.cut_mm) == ("rest", 2, "on end", 2.25, 2.5)
    assert part.places_mm == (10 + third - 1, 10 + 2 * third - 1)
    assert part.made_to == (
        "a number: three strands; drill it 0.75 mm or a little over in the middle of its height, and glue it under the "
        "roof, one every 16.67 mm"
    )
    assert "strand support, rear" not in named(site, Extras(strand_every_mm=20, strand_mm=Fraction(3, 4)))
    assert "strand support, front" not in named(site, Extras(strand_every_mm=50, strand_mm=Fraction(3, 4)))


def test_a_light_barrier_hangs_at_the_inner_side_of_the_lamps_room():
    """By hand: chassis at 10 mm and 0.5 mm kept leave 4.5 mm; the strand runs 1.25 mm down, 1 mm in from the side."""
    zones = (Zone("nose", 0, 60, 10, 15, 20), Zone("hood", 60, 120, 2, 15, 20))
    limits = replace(LIMITS, front_room_mm=10, end_clearance_mm=0)
    site = fitted(*zones, limits=limits)
    extras = Extras(light_barrier=(True, False), barrier_strand_mm=(Fraction(3, 4), None))
    part = named(site, extras)["light barrier, front"]
    assert (part.kind, part.cut.cut_mm, part.width_mm, part.thickness_mm) == ("barrier", Fraction(9, 2), 20, HALF)
    assert (part.position_mm, part.face, part.carried_by) == (10, "rear face", "shell")
    assert part.made_to == (
        "its height a number, its width the shell itself: sand until it slides in; black, or painted so; drill it 0.75 "
        "mm or a little over for each strand, 1.25 mm below its upper edge, 9.00 mm left of its own middle"
    )
    at_the_wall = fitted(HOOD, limits=limits)
    assert "light barrier, front" not in named(at_the_wall, extras)


def test_beside_a_wire_path_a_barrier_counts_from_its_own_middle():
    """With 3 mm of path and a wall of 1 mm on its left its middle lies half of both to the right of the shell's."""
    zones = (Zone("nose", 0, 60, 10, 15, 20), Zone("hood", 60, 120, 2, 15, 20))
    site = fitted(*zones, limits=replace(LIMITS, front_room_mm=10, end_clearance_mm=0, wire_path_mm=3))
    extras = Extras(light_barrier=(True, False), barrier_strand_mm=(Fraction(3, 4), None))
    part = named(site, extras)["light barrier, front"]
    (hole,), (block,) = part.openings, part.blocks
    off = (block.left_mm + block.right_mm) / 2 - hole.centre_mm
    assert f"{float(off):.2f} mm left of its own middle" in part.made_to
    assert ((block.left_mm + block.right_mm) / 2, LIMITS.wall_mm) == (2, 1)


LOW_NOSE = (Zone("nose", 0, 60, 10, 15, 20), Zone("hood", 60, 120, 2, 15, 20))
STRANDS = Extras(strand_every_mm=20, strand_mm=Fraction(3, 4))
NOSE_LIMITS = replace(LIMITS, front_room_mm=10, end_clearance_mm=0)


def said(site: tuple[Enclosure, Chamber], extras: Extras) -> list[str]:
    return [str(each) for each in left_out_of(*site, MM, extras)]


def standing(centre: int, start: int = 25, end: int = 29, top: int = 15) -> Obstacle:
    """What stands in the nose, up to the roof where nothing else is said."""
    return Obstacle("tower", start, end, 3, -5, top, moves=False, centre_mm=centre)


def test_no_strand_support_is_glued_where_the_decoder_lies():
    """By hand: 20 mm long behind the lamps' 10 mm, and as wide as the shell, it takes the place from 25.67 mm on."""
    site = fitted(*LOW_NOSE, limits=NOSE_LIMITS, decoder=Box("sound decoder", 20, 20, 3))
    assert (site[1].pocket.start_mm, site[1].pocket.end_mm, site[1].pocket.across_mm) == (10, 30, 20)
    part = named(site, STRANDS)["strand support, front"]
    assert part.places_mm == (Fraction(127, 3),)
    assert part.made_to.endswith("one every 16.67 mm; none over the sound decoder")
    assert said(site, STRANDS) == []


@pytest.mark.parametrize("centre", [6, -6])
def test_a_strand_support_counts_what_it_meets_and_no_more(centre):
    """By hand: supports of 2 mm from 25.67 and 42.33 mm, from 10 to 8 mm left; a tower from 3 to 9 mm meets one."""
    clear = fitted(*LOW_NOSE, limits=NOSE_LIMITS)
    site = fitted(*LOW_NOSE, limits=NOSE_LIMITS, obstacles=(standing(centre),))
    part = named(site, STRANDS)["strand support, front"]
    if centre > 0:
        assert part == named(clear, STRANDS)["strand support, front"]
        assert said(site, STRANDS) == []
        return
    assert part.places_mm == named(clear, STRANDS)["strand support, front"].places_mm[1:]
    assert part.made_to.endswith("one every 16.67 mm; none over tower")
    assert said(site, STRANDS) == [
        (
            "The strand support, front, at 1 of its 2 places, does not fit: 2.50 mm too little, because over tower "
            "there are 0.00 mm, and it is 2.50 mm high. Lead the strand another way there."
        )
    ]


def test_what_has_no_room_over_the_chassis_is_left_out_and_the_rest_stays():
    """By hand: chassis at 13 mm and 0.5 mm kept leave 1.5 mm, and three strands of 0.75 mm take 2.5 mm at a mark."""
    zones = (replace(LOW_NOSE[0], top_mm=13), LOW_NOSE[1])
    site = fitted(*zones, limits=NOSE_LIMITS)
    assert named(site, STRANDS) == named(site)
    assert said(site, STRANDS) == [
        (
            "The strand support, front does not fit: 1.00 mm too little, because over nose there are 1.50 mm, and it "
            "is 2.50 mm high. Lead the strand another way there."
        )
    ]


def test_a_light_barrier_without_room_is_left_out_and_the_rest_stays():
    """By hand: it lies from 9.5 to 10 mm, all across the shell, and meets what stands there up to the roof."""
    site = fitted(*LOW_NOSE, limits=NOSE_LIMITS, obstacles=(standing(6, 8, 12),), closed=(False, True))
    barrier = Extras(light_barrier=(True, True))
    assert named(site, barrier) == named(site)
    assert said(site, barrier) == [
        (
            "The light barrier, front does not fit: 0.50 mm too little, because over tower there are 0.00 mm, less "
            "than the lowest mark. Keep the lamp's light in another way, such as black paint round it."
        ),
        (
            "The light barrier, rear, is 0.50 mm thick in a lamp's room of 0.00 mm; it must be in a room longer than "
            "it is thick. Keep more room for the lamp at that end."
        ),
    ]
    low = fitted(*LOW_NOSE, limits=NOSE_LIMITS, obstacles=(standing(6, 8, 12, 13),))
    assert named(low, barrier)["light barrier, front"].cut.cut_mm == 2


@pytest.mark.parametrize(("every", "refused"), [(Fraction(1, 100), True), (Fraction(399, 100), True), (4, False)])
def test_strand_supports_keep_a_supports_length_between_them(every, refused):
    site = fitted(*LOW_NOSE, limits=NOSE_LIMITS)
    extras = Extras(strand_every_mm=every, strand_mm=Fraction(3, 4))
    words = (
        f"The distance between strand supports is {float(every):.2f} mm; it must be 4.00 mm or more, twice a support's "
        "own length. Write a greater distance, such as 20 mm."
    )
    assert said(site, extras) == ([words] if refused else [])
    assert ("strand support, front" not in named(site, extras)) == refused
    if not refused:
        places = named(site, extras)["strand support, front"].places_mm
        assert all(after - before >= 2 for before, after in pairwise(places))


FOOTINGS = {
    "a rim wide enough one way": (Speaker(16, 12, 1, 5, basket_length_mm=12, basket_width_mm=11), (2, 2), ""),
    "thinned along, where the rim is wider": (
        Speaker(16, 12, 1, 5, basket_length_mm=13, basket_width_mm=11), (Fraction(3, 2), 2),
        ", thinned to 1.50 mm along the shell, to stand on the flange clear of the basket and of each other",
    ),
    "thinned across": (
        Speaker(16, 12, 1, 5, basket_length_mm=16, basket_width_mm=10), (2, 1),
        ", thinned to 1.00 mm across the shell, to stand on the flange clear of the basket and of each other",
    ),
    "a tiny speaker": (
        Speaker(3, 2, 1, 5), (Fraction(3, 2), 1),
        ", thinned to 1.50 mm along the shell and 1.00 mm across the shell, to stand on the flange clear of each other",
    ),
    "a basket of which one size is known": (
        Speaker(16, 12, 1, 5, basket_width_mm=11), (2, HALF),
        ", thinned to 0.50 mm across the shell, to stand on the flange clear of the basket and of each other",
    ),
}  # fmt: skip


@pytest.mark.parametrize("case", FOOTINGS)
def test_supports_stand_on_the_rim_outside_the_basket(case):
    """By hand: the rim is half of what the flange is larger than the basket; posts are 2 mm."""
    speaker, (long, wide), words = FOOTINGS[case]
    site = fitted(HOOD, speaker=speaker)
    part = named(site)["speaker support"]
    assert part.made_to == f"a number: chamber height less flange{words}"
    assert {(b.end_mm - b.start_mm, b.right_mm - b.left_mm) for b in part.blocks} == {(long, wide)}
    assert not any(meet(one, other) for one, other in combinations(part.blocks, 2))
    if speaker.basket_width_mm is not None and speaker.basket_length_mm is not None:
        basket = speaker_blocks(site[1], speaker, site[0].limits)[1]
        assert not any(meet(block, basket) for block in part.blocks)


def test_where_the_basket_leaves_no_rim_there_are_no_supports():
    parts = named(fitted(HOOD, speaker=replace(SPEAKER, basket_length_mm=16, basket_width_mm=12)))
    assert "speaker support" not in parts
    assert {"side plate", "floor plate, front"} <= set(parts)


def test_supports_cut_to_marks_leave_what_is_to_be_kept_over_the_speaker():
    """By hand: 12.5 mm high; a flange of 1.2 leaves 11.3 mm, cut to 11: it hangs 0.3 mm up. 11.7 deep and 0.5 fit."""
    speaker = replace(SPEAKER, flange_mm=Fraction(6, 5), depth_mm=Fraction(117, 10))
    assert named(fitted(HOOD, speaker=speaker))["speaker support"].cut.cut_mm == 11
    message = (
        "The speaker does not fit: 0.10 mm too little, because its supports, cut to marks of 0.5, hang its flange 0.30 "
        "mm above the floor, and over its back 0.40 mm are left of 0.50 mm to keep. Cut to a finer mark, keep less "
        "over the speaker, or use a shallower speaker."
    )
    with pytest.raises(DoesNotFit, match=f"^{re.escape(message)}$"):
        fitted(HOOD, speaker=replace(speaker, depth_mm=Fraction(118, 10)))


def test_the_section_of_a_shell_counts_for_a_speaker_as_it_hangs():
    """By hand: 12 mm wide up to 15 mm. Supports of 11.3 mm are cut to 11, so a back at 14.8 mm comes to 15.1 mm."""
    leaning = Profile(((0, 10), (15, 6), (20, 0)))
    zone, limits = replace(HOOD, roof_mm=20, profile=leaning), replace(LIMITS, over_speaker_mm=0)
    speaker = Speaker(16, 12, Fraction(6, 5), Fraction(122, 10))
    assert named(fitted(zone, speaker=speaker, limits=limits))["speaker support"].cut.cut_mm == 11
    message = (
        "The speaker does not fit: 0.24 mm too little, because its supports, cut to marks of 0.5, hang its flange 0.30 "
        "mm above the floor, where the section is narrower than it is. Cut to a finer mark, keep less over the "
        "speaker, or use a shallower speaker."
    )
    with pytest.raises(DoesNotFit, match=f"^{re.escape(message)}$"):
        fitted(zone, speaker=replace(speaker, depth_mm=Fraction(123, 10)), limits=limits)


def test_posts_under_another_section_than_their_wall_say_that_they_are_trimmed():
    """By hand: the wall stands under the straight 2 mm, its posts of 2 mm behind it under a section that leans in."""
    leaning = Profile(((0, 10), (5, 10), (15, 6)))
    zones = (Zone("straight", 0, 1, 2, 15, 20), Zone("leaning", 1, 60, 2, 15, 20, leaning))
    posts = named(fitted(*zones, speaker=None))["corner post"]
    # 8 mm to either side, at the posts' inner face, at 5 + 10 x 2/4 = 10 mm; the floor lies at 2.5 mm.
    assert (posts.cut.exact_mm, posts.cut.cut_mm) == (Fraction(15, 2), Fraction(15, 2))
    assert posts.made_to == "a number: height of the section over its inner face, trimmed to the shell's section"
    upright = (zones[0], replace(zones[1], profile=None))
    assert (
        named(fitted(*upright, speaker=None))["corner post"].made_to == "a copy of the bulkhead, cut at the same stop"
    )


def test_a_light_barrier_under_a_leaning_section_says_that_it_follows_it():
    leaning = Profile(((0, 10), (5, 10), (15, 6)))
    site = fitted(*(replace(zone, profile=leaning) for zone in LOW_NOSE), limits=NOSE_LIMITS, speaker=None)
    part = named(site, Extras(light_barrier=(True, False)))["light barrier, front"]
    assert part.outline
    assert part.made_to == (
        "its height at the centre line a number, its outline the shell's section: sand until it slides in; black, or "
        "painted so"
    )


def larger(speaker: Speaker, **size: int) -> tuple[Enclosure, Chamber]:
    """A chamber fitted for a speaker, and asked for the parts of a larger one."""
    enclosure, chamber = fitted(HOOD, speaker=speaker)
    return replace(enclosure, speaker=replace(speaker, **size)), chamber


ERRORS = [
    (
        lambda: named(larger(Speaker(11, 12, 1, 5, faces="front"), length_mm=12)),
        (
            "The speaker does not fit: 0.50 mm too little, because the floor plate, 1.00 mm thick, leaves 11.50 mm "
            "above it, and the speaker takes 12.00 mm. Use a smaller speaker or a thinner plate."
        ),
    ),
    (
        lambda: named(larger(Speaker(16, 12, 1, 11, faces="up"), depth_mm=12)),
        (
            "The speaker does not fit: 0.50 mm too little, because the floor plate, 1.00 mm thick, leaves 11.50 mm "
            "above it, and the speaker takes 12.00 mm. Use a smaller speaker or a thinner plate."
        ),
    ),
    (lambda: Extras(floor="two"), "the floor is 'two'; write one of pieces, one piece."),
    (lambda: Extras(removable=("lamp",)), "what stays removable is 'lamp'; write one of speaker, decoder."),
    (
        lambda: Extras(removable="speaker"),
        "what stays removable is 'speaker'; expected a tuple of names. Write it as ('speaker',).",
    ),
    (
        lambda: Extras(strand_every_mm=20),
        "the strand is without a diameter; it must be given with one. Write its diameter, such as 0.75 mm.",
    ),
    (
        lambda: Extras(strand_mm=0),
        "diameter of the strand is 0 mm; it must be above 0. Measure it and write it, such as 1 mm.",
    ),
]  # fmt: skip


@pytest.mark.parametrize(("make", "message"), ERRORS)
def test_what_can_not_be_made_is_said(make, message):
    with pytest.raises(ModelMathError, match=f"^{re.escape(message)}$"):
        make()


@dataclass(frozen=True)
class Made:
    """A chamber with its parts."""

    enclosure: Enclosure
    chamber: Chamber
    parts: tuple[Part, ...]
    marks: Marks


def quarters(low: int, high: int) -> st.SearchStrategy[Fraction]:
    return st.integers(4 * low, 4 * high).map(lambda count: Fraction(count, 4))


@st.composite
def profiles(draw: st.DrawFn, roof: Fraction, width: Fraction) -> Profile:
    eaves = roof * draw(st.sampled_from([Fraction(1, 4), Fraction(1, 2), Fraction(3, 4)]))
    return Profile(
        ((0, width / 2), (eaves, width / 2), (roof, width / 2 * draw(st.sampled_from([HALF, Fraction(4, 5)]))))
    )


@st.composite
def made(draw: st.DrawFn) -> Made:
    place, zones = Fraction(draw(st.integers(-20, 20))), []
    curved = draw(st.integers(0, 3)) == 0
    for number in range(draw(st.integers(1, 4))):
        end = place + draw(quarters(4, 30))
        roof, width = draw(quarters(11, 17)), draw(quarters(16, 24))
        profile = draw(profiles(roof, width)) if curved else None
        zones.append(Zone(f"zone {number}", place, end, draw(quarters(0, 6)), roof, width, profile))
        place = end
    first = zones[0].start_mm
    obstacles = []
    for number in range(draw(st.integers(0, 3))):
        start = first + draw(quarters(-4, 40))
        tall = draw(quarters(1, 14))
        sizes = (start, start + draw(quarters(1, 12)), draw(quarters(1, 4)), -5, tall)
        obstacles.append(Obstacle(f"post {number}", *sizes, centre_mm=draw(quarters(-4, 4)), moves=False))
    cavity = Cavity(tuple(zones), draw(st.booleans()), draw(st.booleans()), tuple(obstacles))
    limits = Limits(
        draw(quarters(0, 1)), draw(quarters(0, 1)),
        draw(st.sampled_from([HALF, Fraction(1)])), draw(quarters(1, 2)), HALF,
        draw(st.integers(0, 5)), draw(st.integers(0, 5)), draw(st.sampled_from([0, 0, 2])), draw(st.booleans()),
    )  # fmt: skip
    speaker = Speaker(
        draw(st.integers(4, 10)), draw(st.integers(4, 9)), 1, draw(st.integers(2, 6)),
        faces=draw(st.sampled_from(["down", "down", "up", "front", "rear"])), basket_length_mm=3, basket_width_mm=2,
    )  # fmt: skip
    decoder = draw(st.none() | st.builds(Box, st.just("decoder"), st.integers(3, 10), st.integers(3, 9), st.integers(1, 5), inside=st.booleans()))  # fmt: skip # noqa: E501
    extras = Extras(
        draw(st.sampled_from(["pieces", "one piece"])), draw(st.none() | st.just(8)), HALF,
        (limits.front_room_mm > 1 and draw(st.booleans()), limits.rear_room_mm > 1 and draw(st.booleans())),
        removable=draw(st.sampled_from([(), ("speaker",), ("decoder",)])),
    )  # fmt: skip
    marks = draw(st.sampled_from([MM, HO]))
    try:
        enclosure = fit_enclosure(cavity, limits, draw(st.none() | st.just(speaker)), decoder)
        chamber = enclosure.as_cut(marks)
        return Made(enclosure, chamber, parts_of(enclosure, chamber, marks, extras), marks)
    except DoesNotFit:
        assume(False)
        raise


def meet(one: object, other: object, slack: float = 1e-9) -> bool:
    """Whether two blocks overlap: their shadows from above and from the side do, by shapely."""
    above = [box(float(b.start_mm), float(b.left_mm), float(b.end_mm), float(b.right_mm)) for b in (one, other)]
    aside = [box(float(b.start_mm), float(b.bottom_mm), float(b.end_mm), float(b.top_mm)) for b in (one, other)]
    return above[0].intersection(above[1]).area > slack and aside[0].intersection(aside[1]).area > slack


def near(one: object, other: object) -> bool:
    return one.start_mm < other.end_mm and other.start_mm < one.end_mm and one.bottom_mm < other.top_mm


@settings(max_examples=50)
@given(made())
def test_parts_only_touch_each_other_and_the_speaker(case):
    blocks = [(part, block) for part in case.parts for block in part.blocks]
    for (one, first), (other, second) in combinations(blocks, 2):
        # Upright boxes whose shadows overlap from above and from the side overlap.
        assert not (near(first, second) and meet(first, second)), (one.name, other.name)
    speaker = case.enclosure.speaker
    if speaker is None:
        return
    flange, basket = speaker_blocks(case.chamber, speaker, case.enclosure.limits)
    for part, block in blocks:
        assert not meet(flange, block), part.name
        assert not meet(basket, block), part.name


def chassis_of(case: Made) -> Polygon:
    """The chassis in side view, raised and lengthened by the clearances, without what the floor is cut round."""
    limits, cavity = case.enclosure.limits, case.enclosure.cavity
    along, above = float(limits.end_clearance_mm), float(limits.clearance_mm)
    return unary_union([
        box(float(z.start_mm) - along, -99, float(z.end_mm) + along, float(z.top_mm) + above) for z in cavity.zones
    ])  # fmt: skip


@settings(max_examples=50)
@given(made())
def test_every_part_clears_the_chassis_and_lies_under_the_roof(case):
    cavity = case.enclosure.cavity
    chassis = chassis_of(case)
    shell = unary_union([box(float(z.start_mm), -99, float(z.end_mm), float(z.roof_mm)) for z in cavity.zones])
    for part in case.parts:
        for block in part.blocks:
            side = box(float(block.start_mm), float(block.bottom_mm), float(block.end_mm), float(block.top_mm))
            assert side.intersection(chassis).area < 1e-9, part.name
            assert side.difference(shell).area < 1e-9, part.name
            for each in cavity.obstacles:
                half = each.half_width_mm
                stands = replace(
                    block, start_mm=each.start_mm, end_mm=each.end_mm, left_mm=each.centre_mm - half,
                    right_mm=each.centre_mm + half, bottom_mm=each.bottom_mm, top_mm=each.top_mm,
                )  # fmt: skip
                assert not (near(block, stands) and meet(block, stands)), part.name
        if part.width_mm is not None and part.kind in ("wall", "plate"):
            assert part.width_mm <= max(zone.width_mm for zone in cavity.zones)


@settings(max_examples=30)
@given(made())
def test_every_part_can_be_marked_out_and_is_named_once(case):
    names = [part.name for part in case.parts]
    assert len(set(names)) == len(names)
    sets: dict[str, set[Fraction]] = {}
    for part in case.parts:
        assert case.marks.setting(part.cut.cut_mm).on_mark
        assert part.made_to
        assert part.face
        assert part.position_mm is not None
        assert (part.cut.spare_mm >= 0) == (part.cut.rounding == "down") or part.cut.spare_mm == 0
        sets.setdefault(part.cut_set, set()).add(part.cut.cut_mm)
        assert part.blocks or case.enclosure.limits.cut_round
    assert all(len(lengths) == 1 for lengths in sets.values())


def test_two_boxes_that_end_in_one_wall_share_its_notch():
    """By hand: both end 0.5 mm within a wall of 1 mm, one over the other; their box ends lie side by side or once."""
    low = replace(TOWER, start_mm=-5, end_mm=HALF)
    wide = replace(TOWER, name="frame", start_mm=-6, end_mm=Fraction(3, 4), half_width_mm=4, top_mm=5)
    parts = named(fitted(HOOD, speaker=None, limits=ROUND, obstacles=(low, wide)))
    blocks = [block for part in parts.values() for block in part.blocks]
    assert any(part.kind == "box" for part in parts.values())
    assert not any(meet(one, other) for one, other in combinations(blocks, 2))


def test_a_box_without_a_lid_that_ends_in_a_wall_stays_below_its_notch():
    """By hand: its end, from 0.5 to 1.5 mm, reaches the roof at 15 mm only behind the wall, which ends at 1 mm."""
    high = replace(TOWER, start_mm=-5, end_mm=HALF, top_mm=Fraction(29, 2))
    parts = named(fitted(HOOD, speaker=None, limits=ROUND, obstacles=(high,)))
    ends = [b for name, part in parts.items() if name.startswith("tower box, end") for b in part.blocks]
    assert sorted((b.start_mm, b.end_mm, b.top_mm) for b in ends) == [(HALF, 1, 14.5), (1, 1.5, 15)]
    assert not any(meet(one, other) for one in ends for other in parts["bulkhead"].blocks)


@pytest.mark.parametrize(("centre", "boxed"), [(4, False), (1, True)])
def test_a_box_stays_clear_of_the_side_wall_under_a_tapering_section(centre, boxed):
    """By hand: 8.5 mm wide at most on either side of the path's middle, 7.25 mm at the floor, 5 mm at the lid, 7 mm up.

    The box ends 4 mm right of the post's middle as the chamber has it, 1.5 mm further right than the shell has it.
    """
    zone = replace(HOOD, profile=Profile(((0, 10), (10, 5), (15, 5))))
    post = replace(TOWER, half_width_mm=Fraction(3, 2), centre_mm=centre)
    site = fitted(zone, speaker=None, limits=replace(ROUND, wire_path_mm=2), obstacles=(post,))
    assert bool(site[1].boxed) == boxed
    blocks = [block for part in named(site).values() for block in part.blocks]
    assert not any(meet(one, other) for one, other in combinations(blocks, 2) if near(one, other))
    if boxed:
        (side,) = [part.blocks[0] for name, part in named(site).items() if name == "side wall"]
        assert (max(block.right_mm for block in site_boxes(site)), side.left_mm) == (5, Fraction(29, 4))


def site_boxes(site: tuple[Enclosure, Chamber]) -> list:
    return [block for part in named(site).values() if part.kind == "box" for block in part.blocks]

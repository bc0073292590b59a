"""The pieces of a stepped chamber: sizes by hand, and as solids seen from the side, by shapely."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest
from enclosure.making.test_three_times_as_large import times, worded
from enclosure.stepped.checks import fitted
from enclosure.stepped.random_cases import random_case
from shapely.geometry import LineString, box
from shapely.ops import unary_union

from modelmath.clearance import Marks
from modelmath.enclosure import Cavity, Limits, Profile, Speaker, Zone
from modelmath.enclosure.stepped import fit_stepped, pieces_of, why_no_steps
from modelmath.enclosure.stepped.as_cut import exactly
from modelmath.errors import DoesNotFit, OutOfRange
from modelmath.lengths.rules import Rule

MARKS = Marks(Rule(unit="mm", graduation="0.5"), "0.5")
FINE = Marks(Rule(unit="mm", graduation="0.01"), "0.01")
ZONES = Zone("cab", 0, 20, 5, 15, 10), Zone("motor", 20, 60, 9, 15, 10)


def test_every_piece_by_hand():
    """Floors at 6.2 and 10.2 mm under a roof at 15 mm; to marks 8.5 and 4.5 mm high, so at 6.5 and 10.5 mm."""
    limits = Limits(Fraction(6, 5), wall_mm=1, post_mm=2)
    speaker = Speaker(12, 9, 1, 4, place="rear")
    cavity = Cavity(ZONES, front_closed=False)
    found = pieces_of(fit_stepped(cavity, limits, speaker)[-1], cavity, limits, speaker, MARKS)
    sizes = {
        part.name: (part.count, part.use, float(part.cut.cut_mm), float(part.position_mm), part.face)
        for part in found.parts
    }
    assert [float(each.floor_mm) for each in found.chamber.floors] == [6.5, 10.5]
    assert sizes == {
        "bulkhead": (1, "across", 8.5, 0, "front face"),
        "corner post": (2, "on end", 7.5, 1, "front face"),  # less the plate, behind the wall
        "riser": (1, "across", 5, 20, "rear face"),  # 4 mm between the floors, 1 mm of plate
        "riser post": (2, "across", 3.5, 20, "rear face"),  # 15 - 10.5 - 1
        "floor plate, low front": (1, "across", 18, 1, "front edge"),  # from wall to riser, 1 to 19 mm
        "floor plate, high rear, before the speaker": (1, "across", 28, 20, "front edge"),
        "speaker support": (4, "on end", 3.5, 48, "front pair's front face"),  # 4.5 less a flange of 1 mm
        "side filler": (2, "flat", 12, 48, "front end"),
    }
    riser = next(part for part in found.parts if part.name == "riser")
    assert (riser.width_mm, riser.thickness_mm) == (10, 1)
    fills = {part.name: [corners_of(each) for each in part.blocks] for part in found.parts if part.blocks}
    assert fills == {
        "bulkhead": [(0, 1, -5, 5, 6.5, 15)],
        "corner post": [(1, 3, -5, -3, 7.5, 15), (1, 3, 3, 5, 7.5, 15)],
        "riser": [(19, 20, -5, 5, 6.5, 11.5)],
        "riser post": [(19, 20, -5, -3, 11.5, 15), (19, 20, 3, 5, 11.5, 15)],
        "floor plate, low front": [(1, 19, -5, 5, 6.5, 7.5)],
        "floor plate, high rear, before the speaker": [(20, 48, -5, 5, 10.5, 11.5)],
        # At the four corners of the speaker, 9 mm wide, from its flange up to the roof.
        "speaker support": [
            (48, 50, -4.5, -2.5, 11.5, 15), (48, 50, 2.5, 4.5, 11.5, 15),
            (58, 60, -4.5, -2.5, 11.5, 15), (58, 60, 2.5, 4.5, 11.5, 15),
        ],
    }  # fmt: skip


def corners_of(block):
    return tuple(
        float(at) for at in (block.start_mm, block.end_mm, block.left_mm, block.right_mm, block.bottom_mm, block.top_mm)
    )


def test_down_a_step_the_riser_stands_behind_it():
    """The motor in front: from 60 mm turned round, the step is at 40 mm and the riser from 40 to 41 mm."""
    zones = Zone("motor", 0, 40, 9, 15, 10), Zone("cab", 40, 60, 5, 15, 10)
    limits = Limits(Fraction(6, 5), wall_mm=1, post_mm=2)
    cavity = Cavity(zones, rear_closed=False)
    found = pieces_of(fit_stepped(cavity, limits)[-1], cavity, limits, None, MARKS)
    fills = {part.name: [corners_of(each) for each in part.blocks] for part in found.parts}
    assert fills == {
        "bulkhead": [(59, 60, -5, 5, 6.5, 15)],
        "corner post": [(57, 59, -5, -3, 7.5, 15), (57, 59, 3, 5, 7.5, 15)],
        "riser": [(40, 41, -5, 5, 6.5, 11.5)],
        "riser post": [(40, 41, -5, -3, 11.5, 15), (40, 41, 3, 5, 11.5, 15)],
        "floor plate, high front": [(0, 40, -5, 5, 10.5, 11.5)],
        "floor plate, low rear": [(41, 59, -5, 5, 6.5, 7.5)],
    }
    said = {part.name: (part.face, part.position_mm) for part in found.parts}
    assert said == {
        "bulkhead": ("rear face", 60), "corner post": ("rear face", 59), "riser": ("front face", 40),
        "riser post": ("front face", 40), "floor plate, high front": ("front edge", 0),
        "floor plate, low rear": ("front edge", 41),
    }  # fmt: skip
    riser = next(part for part in found.parts if part.name == "riser")
    assert riser.made_to == (
        "a number, its width the shell itself: it stands behind the higher plate and covers its edge; sand its lower "
        "edge flush with the lower plate"
    )


def test_three_levels_are_numbered_and_their_risers_too():
    zones = tuple(Zone(str(top), at, at + 20, top, 15, 10) for at, top in ((0, 5), (20, 9), (40, 3)))
    cavity, limits = Cavity(zones), Limits(1, wall_mm=1)
    found = pieces_of(fit_stepped(cavity, limits)[-1], cavity, limits, None, MARKS)
    assert [(part.name, part.wall) for part in found.parts] == [
        ("riser 1", ""), ("riser post 1", "riser 1"), ("riser 2", ""), ("riser post 2", "riser 2"),
        ("floor plate 1 of 3", ""), ("floor plate 2 of 3", ""), ("floor plate 3 of 3", ""),
    ]  # fmt: skip
    assert [float(part.cut.cut_mm) for part in found.parts] == [5, 4, 7, 4, 19, 20, 19]


def test_no_riser_posts_where_the_riser_reaches_up_to_the_roof():
    """Over the higher floor 1 mm is left, as much as its plate takes: the riser ends at the roof."""
    zones = Zone("cab", 0, 20, 5, 15, 10), Zone("motor", 20, 60, 13, 15, 10)
    cavity, limits = Cavity(zones), Limits(1, wall_mm=1)
    found = pieces_of(fit_stepped(cavity, limits)[-1], cavity, limits, None, MARKS)
    assert [part.name for part in found.parts] == ["riser", "floor plate, low front", "floor plate, high rear"]
    assert corners_of(found.parts[0].blocks[0]) == (19, 20, -5, 5, 6, 15)


def test_posts_in_a_level_shorter_than_they_are_are_thinned():
    """Between wall and riser 1.5 mm are left, and a post is 2 mm."""
    zones = Zone("cab", 0, Fraction(7, 2), 5, 15, 10), Zone("motor", Fraction(7, 2), 60, 9, 15, 10)
    cavity, limits = Cavity(zones, front_closed=False), Limits(1, wall_mm=1, post_mm=2)
    found = pieces_of(fit_stepped(cavity, limits)[-1], cavity, limits, None, MARKS)
    post = next(part for part in found.parts if part.name == "corner post")
    assert post.made_to.endswith(", thinned to 1.50 mm along the shell")
    assert [corners_of(each)[:2] for each in post.blocks] == [(1, 2.5)] * 2


def test_posts_under_a_lower_roof_than_their_wall_are_shorter():
    """The wall stands under 15 mm, its posts behind it under 13 mm, over a plate of 1 mm."""
    zones = Zone("end", 0, 1, 5, 15, 10), Zone("cab", 1, 20, 5, 13, 10), Zone("motor", 20, 60, 9, 13, 10)
    cavity, limits = Cavity(zones, front_closed=False), Limits(1, wall_mm=1, post_mm=2)
    found = pieces_of(fit_stepped(cavity, limits)[-1], cavity, limits, None, MARKS)
    parts = {part.name: part for part in found.parts}
    assert (float(parts["bulkhead"].cut.cut_mm), float(parts["corner post"].cut.cut_mm)) == (9, 6)
    assert parts["corner post"].made_to == "a number: height under the lower roof over it, less floor plate"
    assert [corners_of(each)[4:] for each in parts["corner post"].blocks] == [(7, 13)] * 2


def test_a_wire_path_narrows_chamber_and_pieces():
    """2 mm and a wall of 1 mm leave 7 of 10 mm: 60 x 5 x 7 mm3, and 4 mm more depth over 20 mm, less the riser."""
    cavity, limits = Cavity(ZONES), Limits(1, wall_mm=1, wire_path_mm=2)
    found = fit_stepped(cavity, limits)
    assert [each.volume_mm3 for each in found] == [60 * 5 * 7, 60 * 5 * 7 + 4 * 19 * 7]
    pieces = pieces_of(found[-1], cavity, limits, None, MARKS)
    assert pieces.chamber.volume_mm3 == found[-1].volume_mm3
    sizes = {part.name: part.width_mm for part in pieces.parts if part.name != "riser post"}
    assert sizes == {"riser": 7, "floor plate, low front": 7, "floor plate, high rear": 7}


def test_a_step_moves_to_a_mark_towards_its_lower_floor():
    zones = (Zone("cab", 0, Fraction(203, 10), 5, 15, 10), Zone("motor", Fraction(203, 10), 60, 9, 15, 10))
    limits = Limits(1)
    chamber = fit_stepped(Cavity(zones), limits)[-1]
    assert chamber.floors[0].end_mm == Fraction(203, 10)
    cut = pieces_of(chamber, Cavity(zones), limits, None, MARKS).chamber
    assert cut.floors[0].end_mm == 20
    assert cut.volume_mm3 == 10 * (20 * 9 + 40 * 5 - 4)


def test_where_a_mark_leaves_the_speaker_no_room_the_step_stays():
    zones = (Zone("cab", 0, Fraction(203, 10), 5, 15, 10), Zone("motor", Fraction(203, 10), 60, 9, 15, 10))
    limits, speaker = Limits(1, wall_mm=1), Speaker(Fraction(193, 10), 9, 1, 8)  # from 0 to the riser
    chamber = fit_stepped(Cavity(zones), limits, speaker)[-1]
    cut = pieces_of(chamber, Cavity(zones), limits, speaker, MARKS).chamber
    assert cut.floors[0].end_mm == Fraction(203, 10)
    assert [each.floor_mm for each in cut.floors] == [6, 10]


def sides(part):
    """What a part fills, seen from the side."""
    return [box(*(float(at) for at in (b.start_mm, b.bottom_mm, b.end_mm, b.top_mm))) for b in part.blocks]


def along(chamber):
    """The floor's line from wall to wall, with its steps."""
    return [(float(x), float(each.floor_mm)) for each in chamber.floors for x in (each.start_mm, each.end_mm)]


def stepped_ones(wanted):
    """So many random chambers with steps, that can be made."""
    for seed in range(70_000, 71_000):
        case = random_case(seed, 40, 3)
        for chamber in fitted(case)[-1:]:
            try:
                found = chamber.steps and pieces_of(chamber, case.cavity, case.limits, case.speaker, FINE, case.space)
            except DoesNotFit:  # no height is left for a support
                continue
            if found:
                yield case, found
                wanted -= 1
        if not wanted:
            return


@pytest.fixture(scope="module")
def made():
    return list(stepped_ones(60))


def test_a_fine_rule_cuts_the_chamber_that_was_fitted(made):
    for case, found in made:
        assert float(found.chamber.volume_mm3) == pytest.approx(float(fitted(case)[-1].volume_mm3))


def test_no_piece_reaches_below_its_floor_or_above_the_roof(made):
    for case, found in made:
        for part in found.parts:
            for block in part.blocks:
                floors = [
                    each.floor_mm
                    for each in found.chamber.floors
                    if each.start_mm < block.end_mm and block.start_mm < each.end_mm
                ]
                assert block.bottom_mm >= min(floors), part.name
                if part.kind == "plate":
                    assert [block.bottom_mm] == list(set(floors)), part.name
                roofs = [
                    zone.roof_mm
                    for zone in case.cavity.zones
                    if zone.start_mm < block.end_mm and block.start_mm < zone.end_mm
                ]
                assert block.top_mm <= min(roofs), part.name


def test_no_two_pieces_meet_and_none_meets_the_speaker(made):
    """But for posts of one wall and supports, which stand beside the speaker, at the shell's sides."""
    for case, found in made:
        solid = [(part, side) for part in found.parts if part.kind in ("wall", "plate") for side in sides(part)]
        posts = [(part, side) for part in found.parts if part.wall.startswith("riser") for side in sides(part)[:1]]
        for number, (part, side) in enumerate(solid):
            for other, another in [*solid[number + 1 :], *posts]:
                assert side.intersection(another).area == pytest.approx(0, abs=1e-9), (part.name, other.name)
        if found.chamber.seat_mm is not None:
            floor = found.chamber.floors[found.chamber.seat_on].floor_mm
            start, end = found.chamber.seat_mm
            speaker = box(float(start), float(floor), float(end), float(floor + case.speaker.behind_mm))
            for part, side in [*solid, *posts]:
                assert side.intersection(speaker).area == pytest.approx(0, abs=1e-9), part.name


def test_walls_risers_and_plates_close_the_floor(made):
    """With the speaker, and what is sealed with glue, they touch each other from end to end."""
    for case, found in made:
        parts = [side for part in found.parts if part.kind in ("wall", "plate") for side in sides(part)]
        chamber, wall = found.chamber, float(case.limits.wall_mm)
        if chamber.seat_mm is not None:
            floor = float(chamber.floors[chamber.seat_on].floor_mm)
            parts.append(box(float(chamber.seat_mm[0]), floor, float(chamber.seat_mm[1]), floor + wall))
        closed = unary_union([each.buffer(0.25, cap_style="square", join_style="mitre") for each in parts])
        inner = [float(chamber.inner_start_mm), float(chamber.inner_end_mm)]
        line = [(min(max(x, inner[0]), inner[1]), y) for x, y in along(chamber)]
        assert LineString(line).difference(closed).length == pytest.approx(0, abs=1e-6)


def test_a_riser_covers_the_edge_of_the_higher_plate(made):
    for case, found in made:
        risers = [part for part in found.parts if part.kind == "wall" and part.name.startswith("riser")]
        assert len(risers) == found.chamber.steps
        for part, riser in zip(risers, found.chamber.risers, strict=True):
            (block,) = part.blocks
            assert block.bottom_mm == riser.low_mm
            roofs = [
                zone.roof_mm
                for zone in case.cavity.zones
                if zone.start_mm < riser.end_mm and riser.start_mm < zone.end_mm
            ]
            assert block.top_mm == min(riser.high_mm + case.limits.wall_mm, *roofs)
            assert part.cut.exact_mm == block.top_mm - block.bottom_mm


def test_numbers_are_made_exact_and_words_are_left():
    zone = exactly(Zone("cab", 0, 20.5, 5, 15, 10))
    assert (zone.name, zone.end_mm, zone.profile) == ("cab", Fraction(41, 2), None)
    assert exactly(Limits(1.5, cut_round=True)) == Limits(Fraction(3, 2), cut_round=True)


def test_a_space_elsewhere_is_refused():
    chamber = fit_stepped(Cavity(ZONES), Limits(1))[-1]
    text = (
        r"^the space is without length; it must be where the chamber was found\. Give it what fit_stepped was given\.$"
    )
    with pytest.raises(OutOfRange, match=text):
        pieces_of(chamber, Cavity(ZONES), Limits(1), None, MARKS, (70, 80))


def test_why_there_are_no_steps_is_said():
    speaker = Speaker(9, 9, 1, 4, faces="rear")
    assert why_no_steps(Cavity(ZONES), Limits(1), speaker) == (
        "Steps are worked out for a speaker that faces down, as it needs a floor to sound through; this one faces to "
        "the rear. The floor stays flat."
    )
    assert why_no_steps(Cavity(ZONES), Limits(1, wall_mm=0), None) == (
        "Steps are not worked out with walls of 0 mm: a riser is as thick as a wall. Enter a wall's thickness."
    )


@pytest.mark.parametrize("profile", [None, Profile(((0, 5), (10, 5), (15, 4)))])
def test_supports_and_fillers_under_a_roof_that_slopes(profile):
    """9 mm wide, 4.5 to either side: the section is as wide up to 12.5 mm, in by 1 mm from 10 up to 15."""
    limits = Limits(Fraction(1), wall_mm=1, post_mm=2)
    zones = tuple(replace(each, profile=profile) for each in ZONES)
    speaker = Speaker(12, 9, 1, 4, place="front")
    found = pieces_of(fit_stepped(Cavity(zones), limits, speaker)[-1], Cavity(zones), limits, speaker, MARKS)
    part = next(part for part in found.parts if part.kind == "support")
    assert found.chamber.floors[found.chamber.seat_on].floor_mm == 6
    high = Fraction(25, 2) - 6 - 1 if profile else 15 - 6 - 1
    slope = ", its upper end trimmed to the slope of the roof" if profile else ""
    assert (part.cut.exact_mm, part.made_to) == (high, f"a number: chamber height less flange{slope}")
    assert {(block.bottom_mm, block.top_mm) for block in part.blocks} == {(7, 7 + high)}
    filler = next(part for part in found.parts if part.kind == "filler")
    assert (filler.section_mm, filler.position_mm, filler.face) == (Fraction(1, 2), 0, "front end")


def test_without_posts_nothing_is_told_to_stand_there():
    """Of no size, posts and supports fill nothing; what carries the speaker is still listed."""
    limits, speaker = Limits(Fraction(1), wall_mm=1), Speaker(12, 9, 1, 4)
    cavity = Cavity(ZONES, front_closed=False)
    found = pieces_of(fit_stepped(cavity, limits, speaker)[-1], cavity, limits, speaker, MARKS)
    assert [(part.name, part.blocks) for part in found.parts if part.kind in ("post", "support")] == [
        ("corner post", ()), ("riser post", found.parts[3].blocks), ("speaker support", ()),
    ]  # fmt: skip
    # Posts of a riser are cut from its own sheet, 1 mm thick.
    assert [corners_of(each)[:4] for each in found.parts[3].blocks] == [(19, 20, -5, -4), (19, 20, 4, 5)]


def test_three_times_as_large_every_piece_is(made):
    """Marks of a hundredth are as fine as the lengths are told."""
    for case, found in made[:20]:
        cavity, limits, speaker, space = (times(each) for each in (case.cavity, case.limits, case.speaker, case.space))
        larger = fit_stepped(cavity, limits, speaker, case.steps, 3 * case.shortest, space, 3 * case.riser)[-1]
        others = pieces_of(larger, cavity, limits, speaker, FINE, space)
        assert others.chamber.volume_mm3 == pytest.approx(27 * float(found.chamber.volume_mm3), rel=1e-2)
        # A filler is a strip in a narrow gap, and a plate in a wide one.
        kept, larger_ones = ([each for each in parts if each.kind != "filler"] for parts in (found.parts, others.parts))
        for one, other in zip(kept, larger_ones, strict=True):
            assert (one.name, one.count, one.wall, one.face) == (other.name, other.count, other.wall, other.face)
            assert worded(one.made_to)[0] == worded(other.made_to)[0]
            assert float(other.cut.exact_mm) == pytest.approx(3 * float(one.cut.exact_mm), abs=0.05)
            assert [corners_of(each) for each in other.blocks] == [
                tuple(pytest.approx(3 * at, abs=0.05) for at in corners_of(each)) for each in one.blocks
            ]

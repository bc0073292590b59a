"""Strand supports and light barriers, each place and size by hand; and the same in a shell that is turned round."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest
from enclosure.test_extra_parts import HOOD, LOW_NOSE, MM, NOSE_LIMITS, STRANDS, fitted, named, standing

from modelmath.enclosure import Box, Profile, Zone
from modelmath.enclosure.assemble import left_out_of
from modelmath.enclosure.making.extras import Extras

HALF = Fraction(1, 2)
FRONT, REAR = "strand support, front", "strand support, rear"
THIRD = Fraction(50, 3)  # 50 mm from the lamp's room to the chamber, in spaces of 20 mm at most
HOOD_END = 120
TAIL = tuple(
    replace(each, start_mm=HOOD_END - each.end_mm, end_mm=HOOD_END - each.start_mm) for each in reversed(LOW_NOSE)
)
TAIL_LIMITS = replace(NOSE_LIMITS, front_room_mm=0, rear_room_mm=10)


def fills(part):
    return [
        (each.start_mm, each.end_mm, each.left_mm, each.right_mm, each.bottom_mm, each.top_mm) for each in part.blocks
    ]


def lacking(where, short, below, left):
    return (
        f"The strand support, front{where} does not fit: {short} mm too little, because over {below} there are {left} "
        "mm, and it is 2.50 mm high. Lead the strand another way there."
    )


def both(decoder=None, obstacles=(), zones=LOW_NOSE, extras=STRANDS):
    """The supports in front of a chamber, and those behind it in the shell turned round, seen from the front again."""
    turned = tuple(
        replace(each, start_mm=HOOD_END - each.end_mm, end_mm=HOOD_END - each.start_mm) for each in reversed(zones)
    )
    others = tuple(
        replace(each, start_mm=HOOD_END - each.end_mm, end_mm=HOOD_END - each.start_mm) for each in obstacles
    )
    site = fitted(*zones, limits=NOSE_LIMITS, decoder=decoder, obstacles=obstacles)
    behind = fitted(*turned, limits=TAIL_LIMITS, decoder=decoder, obstacles=others)
    one, other = named(site, extras).get(FRONT), named(behind, extras).get(REAR)
    said, too = (left_out_of(*each, MM, extras) for each in (site, behind))
    assert [str(each).replace("front", "rear") for each in said] == [str(each) for each in too]
    assert (one is None) == (other is None)
    if one is not None:
        back = sorted((HOOD_END - b, HOOD_END - a, *rest) for a, b, *rest in fills(other))
        assert back == fills(one)
        assert (one.count, one.cut, one.made_to) == (other.count, other.cut, other.made_to)
        assert other.places_mm == tuple(HOOD_END - end for _, end, *_ in reversed(fills(one)))
        assert (other.position_mm, other.face) == (other.places_mm[0], "front face")
        assert (one.position_mm, one.face) == (one.places_mm[0], "front face")
    return one, [str(each) for each in said]


def test_they_hang_at_the_left_of_the_roof_at_either_end():
    """Each 2 mm square as a post is, its middle a third of the way on, and 2.5 mm high under the roof at 15 mm."""
    part, said = both()
    assert fills(part) == [
        (10 + each * THIRD - 1, 10 + each * THIRD + 1, -10, -8, 12.5, 15) for each in (1, 2)
    ]  # fmt: skip
    assert said == []
    assert (part.kind, part.use, part.made_by, part.cut_set) == ("rest", "on end", "number", "strand support height")


@pytest.mark.parametrize(
    ("wide", "count"),
    [
        (14, 2),  # 7 mm to either side of the middle, and the supports are 8 to 10 mm off it
        (16, 2),  # it touches them
        (17, 1),
        (20, 1),
    ],
)
def test_beside_a_narrow_decoder_they_hang_as_without_one(wide, count):
    """The first stands from 25.67 to 27.67 mm, the decoder from 10 to 30 mm, up to the roof."""
    part, said = both(decoder=Box("sound decoder", 20, wide, 3))
    assert part.count == count
    assert part.made_to.endswith("; none over the sound decoder") == (count == 1)
    assert said == []


CLOSER = replace(STRANDS, strand_every_mm=13)  # four spaces of 12.5 mm: three from 21.5, 34 and 46.5 mm, 2 mm long


@pytest.mark.parametrize(
    ("long", "count"),
    [(Fraction(23, 2), 3), (12, 2), (24, 2), (Fraction(49, 2), 1), (Fraction(73, 2), 1), (37, 0)],
)
def test_a_decoder_takes_the_places_that_it_reaches_to(long, count):
    """It begins at 10 mm: 11.5 mm long it touches the first, from 21.5 mm."""
    part, said = both(decoder=Box("sound decoder", long, 20, 3), extras=CLOSER)
    assert (0 if part is None else part.count) == count
    assert said == []  # what a decoder takes is wanted so


@pytest.mark.parametrize(
    ("every", "count"), [(50, 0), (49, 1), (25, 1), (24, 2), (Fraction(50, 3), 2), (16, 3), (5, 9)]
)
def test_the_fewest_equal_spaces_no_longer_than_asked_for(every, count):
    """50 mm: as many spaces as the length asked for goes into it, and a support between each two."""
    part, said = both(extras=replace(STRANDS, strand_every_mm=every))
    assert (0 if part is None else part.count) == count
    assert said == []
    if part is not None:
        pitch = Fraction(50, count + 1)
        assert part.places_mm == tuple(10 + number * pitch - 1 for number in range(1, count + 1))
        assert f", one every {float(pitch):.2f} mm" in part.made_to


def test_under_a_roof_that_slopes_they_hang_where_it_is_as_wide_as_they_reach_down():
    """In by 1 mm to 1 mm from 10 mm off the middle at 12 mm of height: at 15 mm 7 mm off it."""
    sloped = Profile(((0, 10), (12, 10), (15, 7)))
    part, _ = both(zones=tuple(replace(each, profile=sloped) for each in LOW_NOSE))
    assert [each[2:] for each in fills(part)] == [(-7, -5, 12.5, 15)] * 2


def test_across_two_roofs_they_hang_from_the_lower_at_the_narrower():
    """The first, from 25.67 to 27.67 mm, lies under both: 14 mm high, and 9 mm to either side."""
    zones = (
        Zone("nose", 0, 26, 10, 15, 20), Zone("cowl", 26, 60, 9, 14, 18), Zone("hood", 60, 120, 2, 15, 20),
    )  # fmt: skip
    part, _ = both(zones=zones)
    assert [each[2:] for each in fills(part)] == [(-9, -7, 11.5, 14)] * 2


def test_a_shell_no_wider_than_one_support_has_it_in_the_middle():
    part, _ = both(zones=tuple(replace(each, width_mm=each.width_mm - 18 * (each.name == "nose")) for each in LOW_NOSE))
    assert [each[2:4] for each in fills(part)] == [(-1, 1)] * 2


@pytest.mark.parametrize(
    ("start", "end", "count"),
    [
        (15, Fraction(43, 2), 3),  # it ends where the first begins
        (15, 22, 2),
        (Fraction(47, 2), 34, 3),  # between the first and the second
        (23, 34, 2),
        (23, 35, 1),
        (36, Fraction(93, 2), 3),
        (36, 47, 2),
        (20, 47, 0),
    ],
)
def test_what_stands_there_counts_where_it_is_met(start, end, count):
    part, said = both(obstacles=(standing(-6, start, end),), extras=CLOSER)
    assert (0 if part is None else part.count) == count
    where = f", at {3 - count} of its 3 places," if count else ""
    assert said == [lacking(where, "2.50", "tower", "0.00")] * (count < 3)
    assert part is None or part.made_to.endswith("; none over tower") == (count < 3)


def test_what_stands_there_counts_where_it_is_higher_than_the_chassis():
    """13 mm of chassis and 0.5 mm kept leave 1.5 mm: what ends at 13.5 mm or lower changes nothing."""
    zones = (replace(LOW_NOSE[0], top_mm=13), LOW_NOSE[1])
    for top, *told in (
        (13, "1.00", "nose", "1.50"),
        (HALF + 13, "1.00", "nose", "1.50"),
        (14, "1.50", "tower", "1.00"),
    ):
        _, said = both(zones=zones, obstacles=(standing(-6, 20, 60, top),))
        assert said == [lacking("", *told)]


def test_without_room_for_a_lamp_there_are_none_at_that_end():
    site = fitted(*TAIL, limits=TAIL_LIMITS)
    assert FRONT not in named(site, STRANDS)
    for extras in (Extras(), replace(STRANDS, strand_every_mm=None, strand_mm=None)):
        assert REAR not in named(site, extras)
    assert REAR not in named(fitted(HOOD, limits=TAIL_LIMITS), STRANDS)  # the chamber reaches up to the room


def test_a_barrier_at_the_rear_is_that_at_the_front_turned_round():
    """From 9.5 to 10 mm at the front, from 110 to 110.5 mm at the rear; its face is where the lamp's room ends."""
    for strand in (None, Fraction(3, 4)):
        one = named(
            fitted(*LOW_NOSE, limits=NOSE_LIMITS), Extras(light_barrier=(True, False), barrier_strand_mm=(strand, None))
        )["light barrier, front"]
        other = named(
            fitted(*TAIL, limits=TAIL_LIMITS), Extras(light_barrier=(False, True), barrier_strand_mm=(None, strand))
        )["light barrier, rear"]
        assert fills(one) == [(9.5, 10, -10, 10, 10.5, 15)]
        assert fills(other) == [(110, 110.5, -10, 10, 10.5, 15)]
        assert (one.position_mm, one.face) == (10, "rear face")
        assert (other.position_mm, other.face) == (110, "front face")
        assert (one.cut, one.made_to, one.openings) == (other.cut, other.made_to, other.openings)
        assert len(one.openings) == (strand is not None)


def test_a_barrier_hangs_under_the_lower_roof_over_what_stands_highest():
    """In the last 0.5 mm of the lamp's room the cowl begins: its roof at 14 mm, 18 mm wide, its chassis at 11 mm."""
    zones = (
        Zone("nose", 0, Fraction(39, 4), 10, 15, 20), Zone("cowl", Fraction(39, 4), 60, 11, 14, 18), LOW_NOSE[1],
    )  # fmt: skip
    site = fitted(*zones, limits=NOSE_LIMITS)
    part = named(site, Extras(light_barrier=(True, False)))["light barrier, front"]
    assert fills(part) == [(9.5, 10, -9, 9, 11.5, 14)]
    assert part.cut.cut_mm == 2.5
    assert part.outline == ()
    assert part.made_to == (
        "its height a number, its width the shell itself: sand until it slides in; black, or painted so"
    )


@pytest.mark.parametrize(("wide", "sides"), [(20, (-7.5, 12.5)), (19, (-7, 12))])
def test_beside_a_wire_path_a_barrier_is_notched_and_as_wide_as_the_shell(wide, sides):
    """4 mm of path and a wall of 1 mm: the shell's middle lies 2.5 mm to the right of the chamber's."""
    zones = tuple(replace(each, width_mm=wide) for each in LOW_NOSE)
    site = fitted(*zones, limits=replace(NOSE_LIMITS, wire_path_mm=4))
    part = named(site, Extras(light_barrier=(True, False)))["light barrier, front"]
    assert part.width_mm == wide
    assert fills(part) == [(9.5, 10, *sides, 10.5, 15)]
    assert part.made_to.endswith("; notch it where the wires pass")


@pytest.mark.parametrize("by", [10, 11, 30])
def test_from_whatever_height_it_is_measured_every_piece_is_the_same(by):
    extras = replace(STRANDS, light_barrier=(True, True), barrier_strand_mm=(Fraction(3, 4), Fraction(3, 4)))
    lower = tuple(replace(each, top_mm=each.top_mm - by, roof_mm=each.roof_mm - by) for each in LOW_NOSE)
    found, others = (named(fitted(*zones, limits=NOSE_LIMITS), extras) for zones in (LOW_NOSE, lower))
    for name in (FRONT, "light barrier, front"):
        one, other = found[name], others[name]
        assert replace(one, blocks=()) == replace(other, blocks=())
        assert fills(other) == [(*corners[:4], corners[4] - by, corners[5] - by) for corners in fills(one)]

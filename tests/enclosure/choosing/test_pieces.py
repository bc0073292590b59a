"""Chambers under every floor over one short stretch of the bulkhead's places; all by hand."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest
from enclosure.making.test_three_times_as_large import times

from modelmath.enclosure import Cavity, Limits, Obstacle, Profile, Speaker, Zone
from modelmath.enclosure.choosing.envelope import joined
from modelmath.enclosure.choosing.pieces import Piece, Under, Walls, WallsTo, chambers, floors_of
from modelmath.enclosure.choosing.trade import TradeCurve, trade_curve

STEPPED = (Zone("cab", 0, 20, 5, 15, 10), Zone("motor", 20, 50, 9, 15, 10), Zone("tank", 50, 60, 3, 12, 8))
TAPERED = Profile(((0, 6), (10, 4), (12, 4)))  # 12 mm wide at the seat, 10 at 5 mm of height, 8 from 10 mm on
SPEAKER = Speaker(10, 8, 1, 4)


def bays_of(*zones):
    return Cavity(zones or STEPPED).bays(Fraction(1), Fraction(0))


def under(floor, speaker=None, limits=None, zones=()):
    return Under(bays_of(*zones), Fraction(floor), limits or Limits(1), speaker)


def test_how_far_a_floor_reaches():
    """At 6 mm it lies over the cab, not the motor; at 10 mm over all; at 12 mm the tank's roof is in the way."""
    assert under(6).last == [0, -1, 2]
    assert under(10).last == [2, 2, 2]
    assert under(12).last == [1, 1, -1]
    assert under(4).last == [-1, -1, 2]
    assert under(3).last == [-1, -1, -1]


@pytest.mark.parametrize(
    ("floor", "place", "volume"),
    [
        (10, 0, 0),
        (10, 20, 20 * 50),
        (10, 30, 30 * 50),
        (10, 60, 50 * 50 + 10 * 8 * 2),
        (10, 55, 50 * 50 + 5 * 8 * 2),
        (6, 20, 20 * 90),
        (6, 50, 20 * 90),
        (6, 60, 20 * 90 + 10 * 8 * 6),
    ],
)
def test_the_volume_up_to_a_place(floor, place, volume):
    assert under(floor).volume_to(Fraction(place)) == volume


@pytest.mark.parametrize(
    ("speaker", "floor", "seats"),
    [
        (SPEAKER, 6, [(0, 20), (50, 60)]),
        (replace(SPEAKER, width_mm=9), 6, [(0, 20)]),
        (replace(SPEAKER, depth_mm=6), 6, [(0, 20), (50, 60)]),
        (replace(SPEAKER, depth_mm=Fraction(61, 10)), 6, [(0, 20)]),
        (SPEAKER, 10, [(0, 50)]),
        (replace(SPEAKER, depth_mm=2), 10, [(0, 60)]),
        (replace(SPEAKER, travel_mm=1), 10, [(0, 20)]),
        (replace(SPEAKER, travel_mm=1, depth_mm=2), 10, [(0, 20), (50, 60)]),
        (replace(SPEAKER, travel_mm=4), 10, [(0, 20)]),
        (replace(SPEAKER, travel_mm=Fraction(41, 10)), 10, []),
    ],
)
def test_where_the_speaker_finds_its_depth_and_width(speaker, floor, seats):
    assert under(floor, speaker).seats == seats
    more = replace(speaker, depth_mm=speaker.depth_mm - 1)
    assert under(floor, more, Limits(1, over_speaker_mm=1)).seats == seats


@pytest.mark.parametrize(
    ("width", "basket", "depth", "there"),
    [
        (12, 10, 5, False),
        (Fraction(58, 5), 10, 5, True),  # 11.6 mm over the flange's 1 mm of height
        (Fraction(59, 5), 10, 5, False),
        (Fraction(58, 5), 10, Fraction(51, 10), False),
        (Fraction(58, 5), Fraction(51, 5), 5, False),
        (Fraction(58, 5), 9, Fraction(15, 2), True),
    ],
)
def test_a_flange_and_a_basket_each_need_their_width(width, basket, depth, there):
    hood = Zone("hood", 0, 40, -1, 12, 12, TAPERED)
    speaker = Speaker(10, width, 1, depth, basket_width_mm=basket)
    assert under(0, speaker, zones=(hood,)).seats == ([(0, 40)] if there else [])


def test_whether_the_speaker_finds_its_length():
    found = under(6, SPEAKER)
    assert found.seat_between(0, 10)
    assert found.seat_between(10, 60)
    assert found.seat_between(50, 60)
    assert not found.seat_between(Fraction(101, 10), 50)
    assert not found.seat_between(15, 25)
    assert not found.seat_between(51, 60)
    assert under(6).seat_between(5, 5)  # without one there is nothing to find


def test_the_floors_that_may_be_best():
    """Bays ask for 6, 10 and 4 mm; a cone of 2 mm for as much more; a section for where it is as wide as it must be."""
    assert floors_of(bays_of(), None) == ([4, 6, 10], set())
    assert floors_of(bays_of(), SPEAKER) == ([4, 6, 10], set())
    assert floors_of(bays_of(), replace(SPEAKER, travel_mm=2)) == ([4, 6, 8, 10, 12], {6, 8, 12})
    opening = Profile(((0, 3), (10, 8), (12, 8)))  # 6 mm wide at the seat, 16 from 10 mm on
    zones = (replace(STEPPED[0], roof_mm=12, width_mm=16, profile=opening), *STEPPED[1:])
    wide = Speaker(10, 14, 1, 3, basket_width_mm=12)
    assert floors_of(bays_of(*zones), wide) == ([4, 6, 8, 10], {6, 8})
    assert floors_of(bays_of(*zones), replace(wide, width_mm=8, basket_width_mm=8)) == ([4, 6, 10], {4})


def test_which_walls_a_chamber_needs():
    walls = WallsTo(Limits(1, wall_mm=2, post_mm=3), (0, 60))
    assert walls(0, 60) == Walls(0, 0, 0, 0)
    assert walls(1, 60) == Walls(2, 0, 3, 0)
    assert walls(0, 50) == Walls(0, 2, 0, 3)
    assert walls(60, 0) == Walls(2, 2, 3, 3)
    assert WallsTo(Limits(1, wall_mm=2, post_mm=3), (None, None))(0, 60) == Walls(2, 2, 3, 3)
    assert WallsTo(Limits(1, wall_mm=0, post_mm=3), (None, None))(0, 60) == Walls(0, 0, 0, 0)


def found(start, end, speaker=None, wall=1, post=0, closed=(None, None)):
    bays, limits = bays_of(), Limits(1, wall_mm=wall, post_mm=post)
    floors, others = floors_of(bays, speaker)
    unders = [Under(bays, floor, limits, speaker) for floor in floors]
    return list(chambers(unders, others, (Fraction(start), Fraction(end)), WallsTo(limits, closed)))


def told(pieces):
    return [
        (each.floor_mm, each.start_volume_mm3, each.end_volume_mm3, each.far_mm, each.height_mm, each.cause.zone.name)
        for each in pieces
    ]


def test_every_chamber_that_begins_over_the_cab():
    """Up to the motor over a floor at 6 mm, to the shell's end at 10; walls of 1 mm take theirs at both ends."""
    assert told(found(2, 10)) == [
        (6, (20 - 2 - 2) * 90, (20 - 10 - 2) * 90, 20, 9, "cab"),
        (10, (50 - 2 - 1) * 50 + 9 * 16, (50 - 10 - 1) * 50 + 9 * 16, 60, 5, "motor"),
    ]
    assert told(found(2, 10, closed=(None, 60)))[1][1:3] == (47 * 50 + 160, 39 * 50 + 160)
    assert told(found(0, 0, closed=(0, 60)))[1][1:3] == (50 * 50 + 160,) * 2
    # With walls of 9 mm the last place that leaves some of the cab's 20 mm is in front of 2 mm.
    assert [each[0] for each in told(found(1, 2, wall=9))] == [6, 10]
    assert [each[0] for each in told(found(2, 3, wall=9))] == [10]


def test_a_floor_that_no_bay_sets_counts_only_for_the_speaker():
    """Over the tank alone floors lie at 4 mm, and where a cone of 2 mm needs it at 6; 8 mm would do as well."""
    assert told(found(52, 55)) == [(4, 6 * 64, 3 * 64, 60, 8, "tank")]
    moving = replace(SPEAKER, length_mm=5, travel_mm=2)
    assert [each[0] for each in told(found(50, 52, moving))] == [4, 6, 8]
    assert [each.holds_speaker for each in found(50, 52, moving)] == [False, True, True]


@pytest.mark.parametrize(
    ("start", "length", "post", "closed", "holds"),
    [
        (2, 16, 0, (None, None), True),  # from 3 to 19 mm
        (2, Fraction(161, 10), 0, (None, None), False),
        (2, 14, 1, (None, None), True),
        (2, Fraction(141, 10), 1, (None, None), False),
        (2, 16, 1, (2, None), True),  # at a closed end from 2 to 18 mm
        (2, Fraction(161, 10), 1, (2, None), False),
        (0, 18, 1, (0, None), True),
        (0, Fraction(181, 10), 1, (0, None), False),
    ],
)
def test_whether_the_chamber_over_the_cab_holds_the_speaker(start, length, post, closed, holds):
    """The wall at its far end stands from 19 to 20 mm."""
    first = found(start, start, replace(SPEAKER, length_mm=length, depth_mm=9), post=post, closed=closed)[0]
    assert (first.floor_mm, first.holds_speaker) == (6, holds)


PIECE = Piece(Fraction(10), Fraction(30), Fraction(100), Fraction(60), 6, 9, 50, True, bays_of()[0])


def test_a_piece_at_a_place_in_part_and_turned_round():
    assert [PIECE.volume_at(Fraction(each)) for each in (10, 15, 30)] == [100, 90, 60]
    part = PIECE.between(Fraction(15), Fraction(20))
    assert part == replace(PIECE, start_mm=15, end_mm=20, start_volume_mm3=90, end_volume_mm3=80)
    assert PIECE.mirrored() == replace(
        PIECE, start_mm=-30, end_mm=-10, start_volume_mm3=60, end_volume_mm3=100, far_mm=-50
    )
    assert PIECE.mirrored().mirrored() == PIECE
    alone = replace(PIECE, end_mm=Fraction(10))
    assert alone.volume_at(10) == 100


def test_a_place_of_its_own_counts_where_it_is_better_than_just_behind():
    """At 10 mm alone 120 mm3; behind it 100: told by itself. As much as behind it, or less, it is not."""
    for volume, listed in ((120, 2), (100, 1), (90, 1)):
        alone = replace(PIECE, end_mm=Fraction(10), start_volume_mm3=Fraction(volume), end_volume_mm3=Fraction(volume))
        pieces = joined([10, 30], lambda one, other, alone=alone: [alone] if one == other == 10 else (
            [] if one == other else [PIECE]))  # fmt: skip
        assert len(pieces) == listed
        assert pieces[-1] == PIECE
    # One that alone holds the speaker is better than a larger one that does not.
    small = replace(PIECE, end_mm=Fraction(10), start_volume_mm3=Fraction(5))
    larger = replace(PIECE, holds_speaker=False)
    assert joined([10, 30], lambda one, other: ([small] if one == 10 else []) if one == other else [larger]) == [
        small, larger,
    ]  # fmt: skip


@pytest.mark.parametrize(
    ("stretches", "jumps"),
    [
        # From 0 to 10 mm and from 20 to 30: between them no chamber can be.
        ([(0, 10, 100), (20, 30, 100)], [(10, 100, None), (20, None, 100)]),
        ([(0, 10, 100), (10, 20, 100)], []),
        ([(0, 10, 100), (10, 20, 90), (20, 30, 90)], [(10, 100, 90)]),
        ([(0, 10, 100), (10, 10, 120), (10, 20, 100)], []),  # a place of its own is no jump
        ([(0, 10, 100), (15, 15, 120), (20, 30, 100)], [(10, 100, None), (20, None, 100)]),
        ([(0, 10, 100)], []),
    ],
)
def test_where_the_curve_jumps(stretches, jumps):
    pieces = tuple(
        replace(PIECE, start_mm=Fraction(start), end_mm=Fraction(end), start_volume_mm3=volume, end_volume_mm3=volume)
        for start, end, volume in stretches
    )
    best = trade_curve(Cavity(STEPPED), Limits(1), points=2).best
    found = TradeCurve("front", pieces, (), best).jumps
    assert [
        (each.place_mm, each.before and each.before.volume_mm3, each.behind and each.behind.volume_mm3)
        for each in found
    ] == jumps
    assert all(each.place_mm == side.place_mm for each in found for side in (each.before, each.behind) if side)


@pytest.mark.parametrize("ends", ["front", "rear"])
@pytest.mark.parametrize("faces", ["down", "up", "front"])
@pytest.mark.parametrize("cut_round", [False, True])
def test_three_times_as_large_the_whole_curve_is(ends, faces, cut_round):
    tower = Obstacle("tower", 8, 14, 2, 0, 9, moves=False, centre_mm=1)
    cavity = Cavity(STEPPED, False, True, (tower,))
    limits = Limits(1, 2, wall_mm=Fraction(3, 2), post_mm=Fraction(1, 2), front_room_mm=1, cut_round=cut_round)
    speaker = Speaker(7, 5, 1, 3, faces=faces, terminals_mm=Fraction(1, 2))
    one = trade_curve(cavity, limits, speaker, ends=ends, points=5)
    other = trade_curve(times(cavity), times(limits), times(speaker), ends=ends, points=5)
    assert len(one.pieces) == len(other.pieces)
    for small, large in zip(one.points, other.points, strict=True):
        assert (large.place_mm, large.height_mm, large.floor_mm, large.far_mm) == tuple(
            3 * each for each in (small.place_mm, small.height_mm, small.floor_mm, small.far_mm)
        )
        assert (large.volume_mm3, large.holds_speaker, large.cause) == (
            27 * small.volume_mm3, small.holds_speaker, small.cause,
        )  # fmt: skip
    assert other.holding_mm == tuple((3 * start, 3 * end) for start, end in one.holding_mm)

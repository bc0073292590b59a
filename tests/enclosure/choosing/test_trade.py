"""The trade curve against the fit, against numerical integration, and against every chamber on a grid."""

from __future__ import annotations

import re
from dataclasses import replace
from fractions import Fraction
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely.geometry import box
from shapely.ops import unary_union

from modelmath.enclosure import Cavity, Limits, Obstacle, Profile, Speaker, Zone, fit_enclosure
from modelmath.enclosure.choosing.pieces import Piece
from modelmath.enclosure.choosing.trade import TradeCurve, trade_curve
from modelmath.errors import DoesNotFit, OutOfRange, UnknownChoice

FEW = st.integers(0, 2)
LIMITS = st.builds(Limits, FEW, st.integers(0, 3), FEW, FEW, FEW, FEW, FEW)
SPEAKERS = st.builds(
    Speaker, st.integers(2, 9), st.integers(4, 8), st.just(1), st.integers(2, 5), travel_mm=st.integers(0, 1)
)
ENDS = st.sampled_from(["front", "rear"])
CAVITY = Cavity((Zone("cab", 0, 20, 5, 15, 10), Zone("motor", 20, 60, 9, 15, 10)), False, False)


@st.composite
def cavities(draw: st.DrawFn) -> Cavity:
    place, zones = draw(st.integers(-20, 20)), []
    for number in range(draw(st.integers(1, 6))):
        end, roof, width = place + draw(st.integers(2, 9)), draw(st.integers(7, 16)), draw(st.integers(5, 12))
        half = Fraction(width, 2)
        profile = Profile(((0, half), (roof - 3, half), (roof, half / 2))) if draw(st.booleans()) else None
        zones.append(Zone(f"zone {number}", place, end, draw(st.integers(0, 8)), roof, width, profile))
        place = end
    obstacles = [
        Obstacle(f"obstacle {at}", at, at + draw(st.integers(1, 6)), 4, -5, draw(st.integers(2, 12)))
        for at in draw(st.lists(st.integers(-20, 40), max_size=2))
    ]
    return Cavity(tuple(zones), draw(st.booleans()), draw(st.booleans()), tuple(obstacles))


def curve_or_none(*given_to, **others):
    try:
        return trade_curve(*given_to, points=20, **others)
    except (DoesNotFit, OutOfRange):
        return None


@settings(max_examples=150, deadline=None)
@given(cavities(), LIMITS, st.none() | SPEAKERS, ENDS)
def test_its_best_is_the_chamber_that_the_fit_finds(cavity, limits, speaker, ends):
    curve = curve_or_none(cavity, limits, speaker, ends=ends)
    try:
        chamber = fit_enclosure(cavity, limits, speaker).chamber
    except DoesNotFit:
        assert curve is None or not curve.best.holds_speaker
        return
    here = curve.at(chamber.start_mm if ends == "front" else chamber.end_mm)
    assert curve.best.holds_speaker
    assert curve.best.volume_mm3 == here.volume_mm3 == chamber.volume_mm3
    if curve.best.place_mm == here.place_mm and curve.best.far_mm == chamber.end_mm:
        assert (here.floor_mm, here.cause) == (chamber.floor_mm, chamber.governing.cause.words)


@settings(max_examples=25, deadline=None)
@given(cavities(), LIMITS, SPEAKERS, ENDS, st.booleans(), st.sampled_from(["up", "front", "rear"]), st.integers(1, 4))
def test_so_it_is_with_floors_cut_round_and_a_speaker_that_faces_elsewhere(
    cavity, limits, speaker, ends, cut, faces, room
):
    limits = replace(limits, cut_round=cut, sound_room_mm=room)
    speaker = replace(speaker, faces=faces, travel_mm=0)
    try:
        chamber = fit_enclosure(cavity, limits, speaker).chamber
    except DoesNotFit:
        return
    curve = trade_curve(cavity, limits, speaker, ends=ends, points=2)
    assert curve.best.volume_mm3 == curve.at(curve.best.place_mm).volume_mm3 == chamber.volume_mm3


def test_by_hand_a_speaker_that_faces_a_closed_end():
    """With 0.5 mm for its sound, walls of 1 mm leave 6 - 0.5 - 2 = 3.5 mm of 5 x 6 mm: more than from 2 mm on."""
    cavity = Cavity(
        (Zone("zone 0", 0, 2, 1, 7, 5), Zone("zone 1", 2, 6, 0, 7, 5)), front_closed=True, rear_closed=False
    )
    speaker = Speaker(2, 4, 1, 2, travel_mm=0, faces="front")
    for room, start, volume in ((0.5, 0.5, 105), (1, 1, 90), (1.5, 1.5, 75), (2, 2, 70)):
        limits = Limits(0, wall_mm=1, sound_room_mm=room)
        chamber = fit_enclosure(cavity, limits, speaker).chamber
        best = trade_curve(cavity, limits, speaker, points=2).best
        assert (chamber.start_mm, chamber.volume_mm3) == (start, volume) == (best.place_mm, best.volume_mm3)
    # The room for its lamps counts as room for its sound.
    assert fit_enclosure(cavity, Limits(0, front_room_mm=1, sound_room_mm=0.5), speaker).chamber.start_mm == 1


def brute(cavity: Cavity, limits: Limits, place: Fraction) -> float:
    """The largest volume of a chamber that begins at a place, over every other end on a grid of 1/2 mm.

    Its section is summed up over thin level slices: a trapezium's midpoint rule is exact.
    """
    steps = [Fraction(n, 2) for n in range(int(2 * cavity.start_mm), int(2 * cavity.end_mm) + 1)]
    first, last = cavity.start_mm + limits.front_room_mm, cavity.end_mm - limits.rear_room_mm
    reach, best = limits.end_clearance_mm, 0.0
    edges = sorted({place, *(step for step in steps if step > place)})
    lows, roofs, pieces = [], [], []
    for low, high in pairwise(edges):
        if high > last or place < first:
            break
        middle = (low + high) / 2
        zone = next(z for z in cavity.zones if z.start_mm < middle < z.end_mm)
        near = [z.top_mm + limits.clearance_mm for z in cavity.zones
                if z.start_mm - reach < middle < z.end_mm + reach]  # fmt: skip
        lows.append(max(near + [o.top_mm for o in cavity.obstacles if o.start_mm < middle < o.end_mm]))
        roofs.append(zone.roof_mm)
        pieces.append((low, high, zone))
        if min(roofs) <= max(lows):
            break
        front = limits.wall_mm * (place != cavity.start_mm or not cavity.front_closed)
        rear = limits.wall_mm * (high != cavity.end_mm or not cavity.rear_closed)
        best = max(best, sum(
            section(each, max(lows)) * float(max(min(b, high - rear) - max(a, place + front), 0))
            for a, b, each in pieces
        ))  # fmt: skip
    return best


def section(zone: Zone, floor: int) -> float:
    cuts = sorted({floor, *range(floor, zone.roof_mm + 1)})
    return sum(float(zone.width_over((a + b) / 2, (a + b) / 2)) * (b - a) for a, b in pairwise(cuts))


@settings(max_examples=60, deadline=None)
@given(cavities(), LIMITS, st.integers(0, 120))
def test_at_any_place_no_chamber_on_the_grid_is_larger_and_one_is_as_large(cavity, limits, step):
    place = cavity.start_mm + Fraction(step, 2)
    if place >= cavity.end_mm:
        return
    curve = curve_or_none(cavity, limits)
    here = None if curve is None else curve.at(place)
    assert float(here.volume_mm3 if here else 0) == pytest.approx(brute(cavity, limits, place), abs=1e-9)


@settings(max_examples=60, deadline=None)
@given(cavities(), LIMITS, st.none() | SPEAKERS, st.fractions(0, 1, max_denominator=997))
def test_the_volume_is_that_of_its_walls_floor_and_roof(cavity, limits, speaker, part):
    cavity = replace(cavity, zones=tuple(replace(zone, profile=None) for zone in cavity.zones))
    curve = curve_or_none(cavity, limits, speaker)
    here = None if curve is None else curve.at(cavity.start_mm + part * (cavity.end_mm - cavity.start_mm))
    if here is None:
        return
    front = limits.wall_mm * (here.place_mm != cavity.start_mm or not cavity.front_closed)
    rear = limits.wall_mm * (here.far_mm != cavity.end_mm or not cavity.rear_closed)
    inside = box(float(here.place_mm + front), float(here.floor_mm), float(here.far_mm - rear), 99.0)
    areas = [(box(z.start_mm, -99, z.end_mm, z.roof_mm).intersection(inside).area, z.width_mm) for z in cavity.zones]
    assert float(here.volume_mm3) == pytest.approx(sum(area * width for area, width in areas), rel=1e-9, abs=1e-6)
    # Nothing of the chassis, with its clearances, stands in it.
    grown = [box(z.start_mm - limits.end_clearance_mm, -99, z.end_mm + limits.end_clearance_mm,
                 z.top_mm + limits.clearance_mm) for z in cavity.zones]  # fmt: skip
    outside = box(float(here.place_mm), float(here.floor_mm), float(here.far_mm), 99.0)
    assert unary_union(grown).intersection(outside).area == pytest.approx(0, abs=1e-9)


@settings(max_examples=40, deadline=None)
@given(cavities(), LIMITS, st.none() | SPEAKERS)
def test_seen_from_behind_it_is_the_same_curve(cavity, limits, speaker):
    turned = Cavity(
        tuple(replace(zone, start_mm=-zone.end_mm, end_mm=-zone.start_mm) for zone in reversed(cavity.zones)),
        cavity.rear_closed,
        cavity.front_closed,
        tuple(replace(each, start_mm=-each.end_mm, end_mm=-each.start_mm) for each in cavity.obstacles),
    )
    limits = replace(limits, rear_room_mm=limits.front_room_mm)
    one, other = curve_or_none(cavity, limits, speaker), curve_or_none(turned, limits, speaker, ends="rear")
    assert (one is None) == (other is None)
    # Of two zones as high either may be named, so that one may be parted where the other is not.
    for point in () if one is None else (*one.points, *other.points):
        place = point.place_mm if point in one.points else -point.place_mm
        here, there = one.at(place), other.at(-place)
        assert (here.volume_mm3, here.height_mm, here.holds_speaker) == (
            there.volume_mm3, there.height_mm, there.holds_speaker)  # fmt: skip


@settings(max_examples=40, deadline=None)
@given(cavities(), LIMITS)
def test_less_clearance_never_makes_it_lower(cavity, limits):
    curve, closer = (
        curve_or_none(cavity, each) for each in (limits, replace(limits, clearance_mm=limits.clearance_mm / 2))
    )
    for point in () if curve is None else curve.points:
        assert closer.at(point.place_mm).volume_mm3 >= point.volume_mm3


def test_by_hand_it_jumps_where_the_wall_leaves_a_step():
    step = Cavity((Zone("motor", -20, 30, 9, 15, 10), Zone("cab", 30, 60, 3, 15, 10)), False, False)
    (jump,) = trade_curve(step, Limits(1, wall_mm=1), points=5).jumps
    # Inside 28 long and 10 wide, between the roof at 15 and the floor at 10, or at 4.
    assert (jump.place_mm, jump.before.volume_mm3, jump.behind.volume_mm3) == (30, 28 * 10 * 5, 28 * 10 * 11)
    assert (jump.before.height_mm, jump.behind.height_mm) == (5, 11)
    assert (jump.before.cause, jump.behind.cause) == ("motor", "cab")


def stretch(start: int, end: int, holds: bool) -> Piece:
    return Piece(start, end, 100, 100, 10, 5, 60, holds, CAVITY.bays(1, 0)[-1])


@pytest.mark.parametrize(
    ("pieces", "holding"),
    [
        ([(0, 10, True)], ((0, 10),)),
        ([(0, 10, False)], ()),
        ([(0, 10, True), (10, 20, True), (20, 30, True)], ((0, 30),)),  # they touch
        ([(0, 10, True), (10, 20, False), (20, 30, True)], ((0, 10), (20, 30))),
        ([(0, 10, True), (11, 20, True), (22, 30, True), (30, 35, True)], ((0, 10), (11, 20), (22, 35))),  # gaps
        ([(0, 20, True), (5, 8, True), (8, 12, True)], ((0, 20),)),  # within another
        ([(20, 30, True), (5, 12, True), (0, 10, True)], ((0, 12), (20, 30))),  # in any order, lapping over
        ([(0, 10, False), (10, 10, True), (10, 20, False)], ((10, 10),)),  # at one place only
        ([(10, 20, True), (10, 10, True), (4, 10, False)], ((10, 20),)),
    ],
)
def test_the_stretches_that_hold_the_speaker_are_joined(pieces, holding):
    best = trade_curve(CAVITY, Limits(1), points=2).best
    assert TradeCurve("front", tuple(stretch(*each) for each in pieces), (), best).holding_mm == holding


def test_where_the_bulkhead_leaves_the_speaker_room_by_hand():
    """A speaker of 38 mm and two walls of 1 mm take 40 of 60 mm; without one, the walls touch from 58 mm on."""
    tight = trade_curve(CAVITY, Limits(1, wall_mm=1), Speaker(38, 8, 1, 4), points=3)
    assert tight.holding_mm == ((0, 20),)
    assert trade_curve(CAVITY, Limits(1, wall_mm=1), points=3).holding_mm == ((0, 58),)


@pytest.mark.parametrize("cut_round", [False, True])
def test_a_wire_path_and_its_wall_narrow_every_chamber(cut_round):
    """2 mm and a wall of 1 mm leave 7 of 10 mm; 58 and 28 mm between the walls, 5 mm over the floor at 10 mm."""
    curve = trade_curve(CAVITY, Limits(1, wall_mm=1, wire_path_mm=2, cut_round=cut_round), points=2)
    assert curve.best.volume_mm3 == 58 * 7 * 5
    assert curve.at(30).volume_mm3 == 28 * 7 * 5


def test_space_keeps_it_clear_of_a_pocket():
    curve = trade_curve(CAVITY, Limits(1, wall_mm=1), space=(25, 45), points=3)
    assert curve.places_mm[0] == 25
    assert curve.best.volume_mm3 == 18 * 10 * 5
    assert curve.at(24) is None


def test_what_moving_it_costs_in_words():
    curve = trade_curve(CAVITY, Limits(1, wall_mm=1))
    assert curve.moved(30) == (
        "With the bulkhead 30.00 mm farther to the rear the chamber holds 1.50 cm3 less (51.7 %), and is as high there."
    )
    assert curve.moved(-1) == "With the bulkhead 1.00 mm farther to the front no chamber can be."
    tight = trade_curve(CAVITY, Limits(1, wall_mm=1), Speaker(40, 8, 1, 4))
    assert tight.moved(25) == (
        "With the bulkhead 25.00 mm farther to the rear the chamber holds 1.25 cm3 less (43.1 %), is as high there, "
        "and no longer holds the speaker."
    )


@pytest.mark.parametrize(
    ("others", "error", "message"),
    [
        ({"ends": "top"}, UnknownChoice, "the bulkhead's end is 'top'; write one of front, rear."),
        ({"points": 1}, OutOfRange, "the number of points is 1; it must be 2 or more. Write 200, say."),
        (
            {"space": (30, 20)},
            OutOfRange,
            (
                "the space for the chamber is 30.00 to 20.00 mm, less what is kept at the ends; it must be longer "
                "than 0. Give its front end, then its rear end."
            ),
        ),
    ],
)
def test_what_is_refused(others, error, message):
    with pytest.raises(error, match=f"^{re.escape(message)}$"):
        trade_curve(CAVITY, Limits(1), **others)


def test_no_chamber_anywhere_says_so():
    message = (
        "The chamber does not fit: nothing is left, because no place along the length leaves a chamber both depth and "
        "length between its walls. Keep less clearance, or use thinner walls."
    )
    with pytest.raises(DoesNotFit, match=f"^{re.escape(message)}$"):
        trade_curve(CAVITY, Limits(12))


@pytest.mark.parametrize(
    ("closed", "post", "holding"),
    [
        ((False, False), 2, ((0, 16),)),  # both walls and posts: 60 - 38 - 2 x 3
        ((False, True), 2, ((0, 19),)),  # no wall at the rear
        ((True, False), 2, ((0, 16),)),
        ((True, True), 2, ((0, 19),)),
        ((False, False), 0, ((0, 20),)),
    ],
)
@pytest.mark.parametrize("ends", ["front", "rear"])
def test_how_far_a_bulkhead_leaves_the_speaker_room_by_hand(closed, post, holding, ends):
    """A speaker of 38 mm in 60 mm, walls of 1 mm."""
    if ends == "rear":
        closed = closed[::-1]
        holding = tuple((60 - far, 60 - near) for near, far in holding)
    cavity = replace(CAVITY, front_closed=closed[0], rear_closed=closed[1])
    curve = trade_curve(cavity, Limits(1, wall_mm=1, post_mm=post), Speaker(38, 8, 1, 4), ends=ends, points=2)
    assert curve.holding_mm == holding


def test_a_speaker_that_only_finds_room_over_a_step_by_hand():
    """8 mm of depth there are over the cab alone, 20 mm of it, less a wall and a post at the bulkhead; 12 for it.

    The far end of the chamber is at 60 mm whatever it stands over, or at the cab's, and the wall there takes 3 mm.
    """
    low = Cavity(
        (Zone("hood", 0, 20, 9, 15, 10), Zone("cab", 20, 40, 3, 15, 10), Zone("tank", 40, 60, 9, 15, 10)), False, False
    )
    curve = trade_curve(low, Limits(1, wall_mm=1, post_mm=2), Speaker(12, 8, 1, 8), points=2)
    assert curve.holding_mm == ((20, 22),)
    assert curve.at(21).volume_mm3 == (19 - 2) * 10 * 11
    assert (curve.at(21).far_mm, curve.at(21).floor_mm, curve.at(21).height_mm) == (40, 4, 11)
    assert (curve.at(10).far_mm, curve.at(10).floor_mm, curve.at(10).holds_speaker) == (60, 10, False)


def test_places_stand_evenly_between_the_ends_by_hand():
    """Chambers can begin from 5 to 53 mm, where the walls touch that close them: 4 points 16 mm apart."""
    cavity = Cavity((Zone("hood", 5, 55, 9, 15, 10),), False, False)
    curve = trade_curve(cavity, Limits(1, wall_mm=1), points=4)
    assert curve.places_mm == (5, 21, 37, 53)
    assert curve.volumes_mm3 == (48 * 50, 32 * 50, 16 * 50, 0)
    assert curve.heights_mm == (5,) * 4
    assert trade_curve(cavity, Limits(1, wall_mm=1), points=2).places_mm == (5, 53)


@pytest.mark.parametrize(("ends", "floor"), [("front", 4), ("rear", 10)])
def test_exactly_at_a_step_the_bulkhead_meets_what_lies_on_its_chambers_side(ends, floor):
    """With the bulkhead at 30 mm: the chamber behind it lies over the cab, the one in front of it over the motor."""
    step = Cavity((Zone("motor", 0, 30, 9, 15, 10), Zone("cab", 30, 60, 3, 15, 10)), False, False)
    curve = trade_curve(step, Limits(1, wall_mm=1), ends=ends, points=2)
    assert curve.at(30).floor_mm == floor
    assert curve.at(30).volume_mm3 == 28 * 10 * (15 - floor)
    assert curve.at(61) is curve.at(-1) is None


def test_what_moving_it_gains_or_costs_in_words():
    step = Cavity((Zone("motor", 0, 30, 9, 15, 10), Zone("cab", 30, 60, 3, 15, 10)), False, False)
    curve = trade_curve(step, Limits(1, wall_mm=1), points=2)
    assert (curve.best.place_mm, curve.best.volume_mm3) == (30, 3080)
    assert curve.moved(-30) == (
        "With the bulkhead 30.00 mm farther to the front the chamber holds 0.18 cm3 less (5.8 %), and is 6.00 mm lower "
        "there."
    )
    assert (
        curve.moved(0)
        == "With the bulkhead 0.00 mm farther to the front the chamber holds as much, and is as high there."
    )
    first = replace(curve, best=curve.at(0))
    assert first.moved(30) == (
        "With the bulkhead 30.00 mm farther to the rear the chamber holds 0.18 cm3 more (6.2 %), and is 6.00 mm higher "
        "there."
    )


def test_room_at_both_ends_is_kept_by_hand():
    curve = trade_curve(CAVITY, Limits(1, wall_mm=1, front_room_mm=4, rear_room_mm=7), points=2)
    assert (curve.places_mm[0], curve.best.far_mm, curve.best.volume_mm3) == (4, 53, 47 * 50)
    inner = trade_curve(CAVITY, Limits(1, front_room_mm=4, rear_room_mm=7), space=(2, 50), points=2)
    assert (inner.places_mm[0], inner.best.far_mm) == (4, 50)


def test_where_a_box_is_cut_round_the_curve_changes_at_whole_numbers_by_hand():
    """All edges of it are whole, so that each place at which it changes is one: asked of the fit, to the last digit."""
    tower = Obstacle("tower", 20, 26, 3, 0, 8, words="the tower", moves=False)
    cavity = Cavity((Zone("hood", 0, 60, 2, 15, 20),), False, False, (tower,))
    for ends in ("front", "rear"):
        limits = Limits(1, wall_mm=1, post_mm=2, front_room_mm=2, rear_room_mm=3, cut_round=True)
        curve = trade_curve(cavity, limits, Speaker(10, 12, 1, 5), ends=ends, points=2)
        assert all(
            Fraction(place).denominator == 1 for piece in curve.pieces for place in (piece.start_mm, piece.end_mm)
        )
        assert len(curve.pieces) > 5


@pytest.mark.parametrize(("start", "ends", "holding"), [(8, "rear", (28, 57)), (46, "front", (2, 32))])
def test_beside_a_box_the_bulkhead_leaves_the_speaker_room_by_hand(start, ends, holding):
    """Beyond the box there are 2 mm at most, and on its own side it takes 10 mm, and a wall and a post take 3.

    A tower of 6 mm and its box of 1 mm round that begin at 45 mm, or end at 15.
    """
    tower = Obstacle("tower", start, start + 6, 3, 0, 12, words="the tower", moves=False)
    cavity = Cavity((Zone("hood", 0, 60, 2, 15, 20),), False, False, (tower,))
    limits = Limits(1, wall_mm=1, post_mm=2, front_room_mm=2, rear_room_mm=3, cut_round=True)
    curve = trade_curve(cavity, limits, Speaker(10, 12, 1, 5), ends=ends, points=2)
    assert curve.holding_mm[0][0 if ends == "rear" else 1] == holding[0 if ends == "rear" else 1]

"""A change of the curve that no edge explains: found by asking closer and closer, and no wider than is said."""

from __future__ import annotations

from dataclasses import dataclass, replace
from fractions import Fraction
from itertools import pairwise

import pytest

from modelmath.enclosure import Cavity, Limits, Obstacle, Speaker, Zone
from modelmath.enclosure.choosing.by_fit import FINEST_MM, _Asked, _cuts
from modelmath.enclosure.choosing.trade import trade_curve
from modelmath.enclosure.fit import Chamber

LIMITS = Limits(0, wall_mm=1)


def asked(top: int) -> _Asked:
    cavity = Cavity((Zone("hood", 0, 30, top, 15, 10),), front_closed=False, rear_closed=True)
    return _Asked(cavity, LIMITS, None, (Fraction(0), Fraction(30)), rear=False)


@dataclass(frozen=True)
class Jumping(_Asked):
    """From one place on what the second is asked: another floor there, with no edge in the cavity to show it."""

    place: Fraction
    behind: _Asked | None

    def at(self, place: Fraction) -> list[tuple[Chamber, bool]]:
        if place < self.place:
            return super().at(place)
        return [] if self.behind is None else self.behind.at(place)


def jumping(place: Fraction, behind: _Asked | None) -> Jumping:
    first = asked(5)
    return Jumping(first.cavity, first.limits, None, first.space, False, place, behind)


def volume(place: Fraction, high: int) -> Fraction:
    """10 mm wide, from behind a wall of 1 mm to the closed end at 30 mm."""
    return (29 - place) * 10 * high


@pytest.mark.parametrize("place", [Fraction(81, 10), Fraction(10), Fraction(1234567, 100000), Fraction(159, 10)])
def test_a_jump_is_found_to_within_the_finest_stretch(place):
    """Over a floor at 5 mm it is 10 mm high, over one at 9 mm 6 mm."""
    found = jumping(place, asked(9)).pieces(Fraction(0), Fraction(24))
    assert (found[0].start_mm, found[-1].end_mm) == (0, 24)
    assert all(one.end_mm == other.start_mm for one, other in pairwise(found))
    before = [each for each in found if each.end_mm <= place]
    behind = [each for each in found if each.start_mm >= place]
    between = [each for each in found if each.start_mm < place < each.end_mm]
    for pieces, floor in ((before, 5), (behind, 9)):
        assert pieces
        for each in pieces:
            assert each.floor_mm == floor
            assert each.height_mm == 15 - floor
            assert each.start_volume_mm3 == volume(each.start_mm, 15 - floor)
            assert each.end_volume_mm3 == volume(each.end_mm, 15 - floor)
    assert sum(each.end_mm - each.start_mm for each in between) <= FINEST_MM


def test_over_the_finest_stretch_it_is_level():
    """As large as at one third of it: at 6.1 mm, and a third of a thousandth."""
    start, third = Fraction(61, 10), FINEST_MM / 3
    (piece,) = jumping(start + FINEST_MM / 2, asked(9)).pieces(start, start + FINEST_MM)
    assert (piece.start_mm, piece.end_mm, piece.floor_mm) == (start, start + FINEST_MM, 5)
    assert piece.start_volume_mm3 == piece.end_volume_mm3 == volume(start + third, 10)


def test_where_it_ends_without_an_edge_it_is_parted_as_finely():
    """From there on no chamber can be; over what is not told apart it is as large as where there is one."""
    place = Fraction(1234567, 100000)
    found = jumping(place, None).pieces(Fraction(0), Fraction(24))
    assert found[0].start_mm == 0
    assert place - FINEST_MM <= found[-1].end_mm <= place + FINEST_MM
    for each in found[:-1]:
        assert each.start_volume_mm3 == volume(each.start_mm, 10)
    # The other way round only the place at two thirds has one.
    start = Fraction(61, 10)
    first = Jumping(asked(5).cavity, LIMITS, None, (Fraction(0), Fraction(0)), False, start + FINEST_MM / 2, asked(9))
    (piece,) = first.pieces(start, start + FINEST_MM)
    assert piece.floor_mm == 9
    assert piece.start_volume_mm3 == piece.end_volume_mm3 == volume(start + 2 * FINEST_MM / 3, 6)


@pytest.mark.parametrize(("first", "last", "floors"), [(5, 12, (5, 9, 12)), (12, 18, (5, 9, 5))])
def test_two_jumps_without_an_edge_are_both_found(first, last, floors):
    """A floor at 5 mm is 10 mm high, at 9 mm 6, at 12 mm 3; asked about at a third and at two, 8 and 16 mm, first."""
    first, last = first + Fraction(1, 7), last + Fraction(1, 7)
    behind = asked(floors[1])
    behind = Jumping(behind.cavity, LIMITS, None, behind.space, False, last, asked(floors[2]))
    before = asked(floors[0])
    found = Jumping(before.cavity, LIMITS, None, before.space, False, first, behind).pieces(Fraction(0), Fraction(24))
    assert (found[0].start_mm, found[-1].end_mm) == (0, 24)
    assert all(one.end_mm == other.start_mm for one, other in pairwise(found))
    assert all(each.start_mm < each.end_mm for each in found)
    for low, high, floor in zip((0, first, last), (first, last, 24), floors, strict=True):
        within = [each for each in found if low <= each.start_mm and each.end_mm <= high]
        assert sum(each.end_mm - each.start_mm for each in within) >= high - low - 2 * FINEST_MM
        assert {each.floor_mm for each in within} == {floor}
        for each in within:
            assert each.start_volume_mm3 == volume(each.start_mm, 15 - floor)
            assert each.end_volume_mm3 == volume(each.end_mm, 15 - floor)


HOOD = Cavity((Zone("hood", 0, 100, 2, 15, 20),), False, False)
LONG = Speaker(10, 12, 1, 6)
AGAINST = {99, 98}  # a wall or two in front of the end at 100 mm
SEATED = {89, 87, 86, 84}  # 10 mm for the speaker, and a wall of 1 mm and its post of 2 mm, once or twice


@pytest.mark.parametrize(
    ("limits", "speaker", "cuts"),
    [
        ({}, None, AGAINST),
        ({}, LONG, AGAINST | SEATED),
        ({}, replace(LONG, faces="up"), AGAINST | SEATED),
        ({"over_speaker_mm": 1}, replace(LONG, faces="front"), AGAINST | {each + 3 for each in SEATED}),
        ({"wall_mm": 0}, LONG, {90}),  # posts stand behind walls only
        ({"front_room_mm": 5, "rear_room_mm": 20}, None, AGAINST | {5, 4, 3, 80, 79, 78}),
        ({"front_at_mm": 30}, None, AGAINST | {30, 29, 28}),
        ({"rear_at_mm": 70}, None, AGAINST | {70, 69, 68}),
    ],
)
def test_the_places_at_which_the_curve_may_change_by_hand(limits, speaker, cuts):
    """From either end: turned round, with front and rear exchanged, they are the same."""
    kept = Limits(**({"clearance_mm": 1, "wall_mm": 1, "post_mm": 2} | limits))
    assert set(_cuts(_Asked(HOOD, kept, speaker, (0, 100), rear=False), 0, 100)) == cuts
    turned = Cavity((replace(HOOD.zones[0], start_mm=-100, end_mm=0),), False, False)
    other = replace(
        kept,
        front_room_mm=kept.rear_room_mm, rear_room_mm=kept.front_room_mm,
        front_at_mm=None if kept.rear_at_mm is None else -kept.rear_at_mm,
        rear_at_mm=None if kept.front_at_mm is None else -kept.front_at_mm,
    )  # fmt: skip
    if speaker is not None and speaker.faces == "front":
        speaker = replace(speaker, faces="rear")
    assert set(_cuts(_Asked(turned, other, speaker, (-100, 0), rear=True), 0, 100)) == cuts
    # Only those within what is asked for.
    within = set(_cuts(_Asked(HOOD, kept, speaker, (0, 99), rear=False), 0, 99))
    assert within >= cuts - {99}
    assert all(0 < each < 99 for each in within)


@pytest.mark.parametrize("ends", ["front", "rear"])
def test_what_stands_beside_something_higher_bounds_the_speaker_exactly(ends):
    """The low tower in the middle, 40 to 47 mm, with its box of 1 mm, stands beside a high one aside, 30 to 50 mm.

    In front of it the speaker, 10 mm long, needs a wall of 1 mm and a post of 2; behind it there is no room, and over
    it none either.
    """
    zone = Zone("hood", 0, 55, 2, 15, 20)
    towers = [
        Obstacle("high", 30, 50, 1, 0, 12, moves=False, centre_mm=8),
        Obstacle("low", 40, 47, 2, 0, 6, moves=False),
    ]
    if ends == "rear":
        zone = replace(zone, start_mm=-55, end_mm=0)
        towers = [replace(each, start_mm=-each.end_mm, end_mm=-each.start_mm) for each in towers]
    limits = Limits(1, wall_mm=1, post_mm=2, cut_round=True)
    cavity = Cavity((zone,), False, False, tuple(towers))
    curve = trade_curve(cavity, limits, Speaker(10, 10, 1, 10), ends=ends, points=2)
    assert curve.holding_mm == (((0, 39 - 10 - 3),) if ends == "front" else ((10 + 3 - 39, 0),))

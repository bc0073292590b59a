"""A change of the curve that no edge explains: found by asking closer and closer, and no wider than is said."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from itertools import pairwise

import pytest

from modelmath.enclosure import Cavity, Limits, Zone
from modelmath.enclosure.choosing.by_fit import FINEST_MM, _Asked
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

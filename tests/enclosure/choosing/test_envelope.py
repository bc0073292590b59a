"""Of straight lines the highest, place by place, against asking every line at many places; single places by hand."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from modelmath.enclosure import Cavity, Zone
from modelmath.enclosure.choosing.envelope import joined, largest
from modelmath.enclosure.choosing.pieces import Piece

CAUSE = Cavity((Zone("hood", 0, 60, 5, 15, 10),)).bays(1, 0)[0]


def piece(start, end, one, other, holds=True, floor=5):
    return Piece(Fraction(start), Fraction(end), Fraction(one), Fraction(other), floor, 10, 60, holds, CAUSE)


VOLUMES = st.integers(0, 12)


@settings(max_examples=200, derandomize=True)
@given(st.lists(st.tuples(VOLUMES, VOLUMES, st.booleans()), min_size=1, max_size=6), st.integers(-5, 5))
def test_the_largest_is_the_highest_line_at_every_place(lines, start):
    pieces = [piece(start, start + 6, *each, floor=number) for number, each in enumerate(lines)]
    some = [each for each in pieces if each.holds_speaker] or pieces
    found = list(largest(pieces))
    assert (found[0].start_mm, found[-1].end_mm) == (start, start + 6)
    assert all(one.end_mm == other.start_mm for one, other in pairwise(found))
    assert all(one.floor_mm != other.floor_mm for one, other in pairwise(found))
    for step in range(49):
        place = start + Fraction(step, 8)
        highest = max(each.volume_at(place) for each in some)
        here = [each for each in found if each.start_mm <= place <= each.end_mm]
        assert {each.volume_at(place) for each in here} == {highest}
    for each in found:
        line = pieces[each.floor_mm]
        assert (each.start_volume_mm3, each.end_volume_mm3) == (
            line.volume_at(each.start_mm), line.volume_at(each.end_mm)
        )  # fmt: skip
        assert each.start_mm < each.end_mm


def test_two_lines_cross_by_hand():
    """From 2 to 8 and from 6 to 4 over 6 mm: level at 4 / (4 + 4) of the way, at 3 mm, at 5."""
    found = list(largest([piece(0, 6, 2, 8, floor=1), piece(0, 6, 6, 4, floor=2)]))
    shown = [(each.start_mm, each.end_mm, each.start_volume_mm3, each.end_volume_mm3, each.floor_mm) for each in found]
    assert shown == [
        (0, 3, 6, 5, 2), (3, 6, 5, 8, 1)
    ]  # fmt: skip


def test_of_lines_that_begin_level_the_one_that_ends_higher_counts_from_the_start():
    found = list(largest([piece(0, 6, 4, 5, floor=1), piece(0, 6, 4, 7, floor=2), piece(0, 6, 3, 7, floor=3)]))
    assert [(each.start_mm, each.end_mm, each.floor_mm) for each in found] == [(0, 6, 2)]


def test_where_several_cross_in_one_place_the_steepest_goes_on():
    lines = [piece(0, 4, 6, 6, floor=1), piece(0, 4, 4, 8, floor=2), piece(0, 4, 2, 10, floor=3)]
    assert [(each.start_mm, each.end_mm, each.floor_mm) for each in largest(lines)] == [(0, 2, 1), (2, 4, 3)]


def test_one_place_alone_has_its_largest():
    found = list(largest([piece(3, 3, 4, 4, floor=1), piece(3, 3, 7, 7, floor=2)]))
    assert [(each.start_mm, each.end_mm, each.floor_mm) for each in found] == [(3, 3, 2)]
    assert list(largest([])) == []


def curve(of_stretch, of_place):
    """The curve over cuts at 0, 10 and 20 mm."""

    def over(start, end):
        return of_place.get(start, []) if start == end else of_stretch.get((start, end), [])

    return [(each.start_mm, each.end_mm, each.floor_mm) for each in joined((0, 10, 20), over)]


FLAT = {(0, 10): [piece(0, 10, 5, 5, floor=1)], (10, 20): [piece(10, 20, 5, 3, floor=2)]}
BOTH = [(0, 10, 1), (10, 20, 2)]


@pytest.mark.parametrize(
    ("here", "found"),
    [
        ({}, BOTH),
        ({10: [piece(10, 10, 5, 5, floor=3)]}, BOTH),  # no better than just behind
        ({10: [piece(10, 10, 4, 4, floor=3)]}, BOTH),
        ({10: [piece(10, 10, 6, 6, floor=3)]}, [(0, 10, 1), (10, 10, 3), (10, 20, 2)]),
        ({10: [piece(10, 10, 9, 9, holds=False, floor=3)]}, BOTH),  # behind it the speaker is held
        ({20: [piece(20, 20, 1, 1, floor=3)]}, [*BOTH, (20, 20, 3)]),  # nothing behind it
        ({20: [piece(20, 20, 0, 0, holds=False, floor=3)]}, BOTH),  # nothing at all
        ({0: [piece(0, 0, 6, 6, floor=3)]}, [(0, 0, 3), *BOTH]),
    ],
)
def test_a_single_place_counts_where_it_is_better_than_just_behind(here, found):
    assert curve(FLAT, here) == found


def test_a_place_that_holds_the_speaker_counts_before_one_that_does_not():
    without = {each: [replace(one, holds_speaker=False) for one in pieces] for each, pieces in FLAT.items()}
    assert curve(without, {10: [piece(10, 10, 2, 2, floor=3)]}) == [(0, 10, 1), (10, 10, 3), (10, 20, 2)]


def test_what_begins_later_than_a_place_does_not_count_beside_it():
    gap = {**FLAT, (10, 20): [piece(12, 20, 9, 3, floor=2)]}
    assert curve(gap, {10: [piece(10, 10, 2, 2, floor=3)]}) == [(0, 10, 1), (10, 10, 3), (12, 20, 2)]


def test_a_piece_between_two_places_and_turned():
    one = piece(10, 20, 100, 60)
    part = one.between(Fraction(25, 2), 15)
    assert (part.start_mm, part.end_mm, part.start_volume_mm3, part.end_volume_mm3) == (Fraction(25, 2), 15, 90, 80)
    back = one.mirrored()
    assert (back.start_mm, back.end_mm, back.start_volume_mm3, back.end_volume_mm3, back.far_mm) == (
        -20,
        -10,
        60,
        100,
        -60,
    )
    assert (one.volume_at(10), one.volume_at(20), one.volume_at(Fraction(45, 4))) == (100, 60, 95)
    assert piece(10, 10, 7, 8).volume_at(10) == 7

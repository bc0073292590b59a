"""A wall moved in to where a speaker that faces it finds its place, and what one search takes over from another."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest
from enclosure.fitting.random_cases import random_case
from hypothesis import given, settings
from hypothesis import strategies as st

from modelmath.enclosure import Cavity, Limits, Profile, Speaker, Zone
from modelmath.enclosure.fitting.box_misses import _widest_for
from modelmath.enclosure.fitting.search import Search
from modelmath.enclosure.fitting.seats import from_its_wall, further_in

LOW_IN_THE_MIDDLE = (
    Zone("front", 0, 10, 2, 15, 20), Zone("low", 10, 14, 2, 9, 20), Zone("between", 14, 20, 2, 15, 20),
    Zone("low too", 20, 24, 2, 9, 20), Zone("rear", 24, 40, 2, 15, 20),
)  # fmt: skip


def room_for(faces, zones=LOW_IN_THE_MIDDLE, length=9):
    """All of the shell over a floor at 3 mm, with walls of 2 mm; the speaker takes 5 mm along, and 1 mm is kept."""
    speaker = Speaker(length, 12, 1, 5, faces=faces)
    search = Search(Cavity(zones, False, False), Limits(1, 0, 2, 0, 1), speaker, None)
    return search.room(search.bays, 3), speaker


def ends_of(some):
    return [(bays[0].start_mm, bays[-1].end_mm) for bays in some]


def test_the_wall_moves_in_behind_each_low_place_by_hand():
    """It stands with its outer face at the end of the low place, so that the roof over all of it is high enough."""
    room, speaker = room_for("front")
    assert ends_of(further_in(room, speaker)) == [(14, 40), (24, 40)]
    room, speaker = room_for("rear")
    assert sorted(ends_of(further_in(room, speaker))) == [(0, 10), (0, 20)]
    room, speaker = room_for("up")
    assert list(further_in(room, speaker)) == []
    assert list(further_in(room, None)) == []


@pytest.mark.parametrize(
    ("faces", "first", "ends"),
    [
        ("front", 10, (0, 40)),  # wall, speaker and what is kept over it take 8 mm
        ("front", 8, (0, 40)),
        ("front", 7, (12, 40)),
        ("rear", 10, (0, 40)),
        ("rear", 8, (0, 40)),
        ("rear", 7, (0, 28)),
    ],
)
def test_the_first_place_behind_the_wall_that_is_long_enough_by_hand(faces, first, ends):
    """A low place begins so far behind the end that the speaker faces: with less than 8 mm the wall moves in."""
    zones = [Zone("end", 0, first, 2, 15, 20), Zone("low", first, 12, 2, 9, 20), Zone("far", 12, 40, 2, 15, 20)]
    if faces == "rear":
        zones = [replace(each, start_mm=40 - each.end_mm, end_mm=40 - each.start_mm) for each in reversed(zones)]
    room, speaker = room_for(faces, tuple(zones))
    assert ends_of([from_its_wall(room, speaker)]) == [ends]


def test_a_speaker_that_faces_up_or_down_or_none_leaves_the_wall_where_it_is():
    room, _ = room_for("up")
    for speaker in (None, Speaker(9, 12, 1, 5, faces="up"), Speaker(9, 12, 1, 5)):
        assert from_its_wall(room, speaker) == room.bays


@settings(max_examples=25, deadline=None, derandomize=True)
@given(
    st.integers(0, 10**6),
    st.sampled_from(["wall_mm", "sound_room_mm", "front_room_mm", "post_mm", "clearance_mm", ""]),
    st.booleans(),
)
def test_what_is_taken_over_from_another_search_changes_nothing(seed, kept, other_speaker):
    """Of the same shell, with another speaker or decoder or with more kept: it finds what it finds on its own."""
    case = random_case(seed, 4)
    speaker, decoder = case.speaker, case.decoder
    if other_speaker:
        speaker = Speaker(5, 5, 1, 3, faces="front") if speaker is None else replace(speaker, faces="rear")
    limits = replace(case.limits, **{kept: getattr(case.limits, kept) + 1}) if kept else case.limits
    before = Search(case.cavity, limits, speaker, decoder)
    before.candidates()
    alone = Search(case.cavity, case.limits, case.speaker, case.decoder).candidates()
    assert Search(case.cavity, case.limits, case.speaker, case.decoder).knowing(before).candidates() == alone
    without = Search(case.cavity, case.limits, case.speaker, None)
    assert Search(case.cavity, case.limits, case.speaker, None).knowing(before).candidates() == without.candidates()


def test_room_for_the_sound_is_not_taken_over_from_a_speaker_without_any():
    """A closed end that the speaker faces keeps 4 mm; the search before kept none, as its speaker faces down."""
    cavity = Cavity((Zone("hood", 0, 40, 5, 15, 12),))
    limits, speaker = Limits(1, sound_room_mm=4), Speaker(8, 9, 1, 6)
    before = Search(cavity, limits, speaker, None)
    assert [(each.start_mm, each.end_mm) for each in before.candidates()] == [(0, 40)]
    facing = Search(cavity, limits, replace(speaker, faces="front"), None).knowing(before)
    assert [(each.start_mm, each.end_mm) for each in facing.candidates()] == [(4, 40)]
    assert facing.bays[0].start_mm == 4


def test_a_box_higher_than_there_is_room_counts_with_the_full_width_by_hand():
    """Under a gable 12 mm wide up to 8 mm and none at 14, over a floor at 2 mm: 8 mm is as high as a box can stand."""
    gable = Profile(((0, 6), (8, 6), (14, 0)))
    zone = Zone("hood", 0, 20, 1, 14, 12, gable)
    run = Cavity((zone,)).bays(1, 0)
    assert _widest_for(run, zone, 6) == 12
    assert _widest_for(run, zone, 9) == 6  # up to 11 mm
    assert _widest_for(run, zone, 12) == 0
    assert _widest_for(run, zone, 13) == _widest_for(run, zone, Fraction(121, 10)) == 12
    plain = Zone("plain", 0, 20, 1, 14, 12)
    assert _widest_for(Cavity((plain,)).bays(1, 0), plain, 3) == 12


def test_a_box_stands_where_the_section_lets_it_be_widest_by_hand():
    """A waist of 6 mm at 5 mm of height between 12 mm at 1 and at 9: 2 mm high it stands best under the roof at 10."""
    waist = Profile(((1, 6), (5, 3), (9, 6), (10, 6)))
    zone = Zone("hood", 0, 20, 1, 10, 12, waist)
    run = Cavity((zone,)).bays(1, 0)
    assert _widest_for(run, zone, 1) == 12
    assert _widest_for(run, zone, 2) == Fraction(21, 2)  # from 8 mm on, where it is 3 + 3 x 3 / 4 to either side
    assert _widest_for(run, zone, 8) == 6

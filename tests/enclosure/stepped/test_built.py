"""Widths, plates, risers and seats of a stepped chamber that is given, and what the search leaves out; by hand."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest

from modelmath.enclosure import Cavity, Limits, Profile, Speaker, Zone
from modelmath.enclosure.stepped import FloorPlate, Riser, fit_stepped, what_steps_buy
from modelmath.enclosure.stepped import tables as tables_module
from modelmath.enclosure.stepped.built import chamber_of, widest
from modelmath.enclosure.stepped.chamber import LeftOut
from modelmath.enclosure.stepped.ground import ground_in
from modelmath.enclosure.stepped.near import best_paths, near_the_best
from modelmath.enclosure.stepped.places import step_places
from modelmath.enclosure.stepped.tables import Tables
from modelmath.errors import OutOfRange

BULGED = Profile(((0, 4), (8, 6), (14, 3)))
OPEN = Zone("cab", 0, 20, 5, 15, 10), Zone("motor", 20, 60, 9, 15, 10)


def ground(*zones, speaker=None, shortest=2, closed=(True, True), **limits):
    return ground_in(Cavity(zones, *closed), Limits(1, **({"wall_mm": 1} | limits)), speaker, shortest, None)


@pytest.mark.parametrize(
    ("ends", "low", "high", "width"),
    [
        ((2, 3), 6, 10, 12),  # 6 mm at 8 mm of height, on either side
        ((2, 3), 8, 14, 12),
        ((2, 3), 2, 4, 10),  # 4 + 2 x 4 / 8 at 4 mm
        ((2, 3), 10, 12, 10),  # 6 - 3 x 2 / 6 at 10 mm
        ((20, 30), 6, 10, 9),
        ((19, 21), 6, 10, 12),
        ((10, 20), 10, 12, 10),
        ((0, 0), 6, 10, 0),
        ((70, 80), 6, 10, 0),
    ],
)
def test_the_greatest_width_between_two_heights(ends, low, high, width):
    zones = Zone("a", 0, 20, 1, 14, 12, BULGED), Zone("b", 20, 40, 1, 14, 9)
    assert widest(ground(*zones).bays, ends, low, high) == width


LEDGED = Profile(((0, 4), (7, 4), (7, 6), (11, 6), (11, 5), (14, 5)))


@pytest.mark.parametrize(
    ("low", "high", "width"), [(2, 7, 8), (2, 8, 12), (7, 9, 12), (9, 12, 12), (11, 13, 10), (7, 7, 8), (11, 11, 10)]
)
def test_a_ledge_at_either_height_is_just_touched(low, high, width):
    """4 mm to either side up to 7 mm of height, 6 up to 11, then 5: what ends at a ledge does not reach beyond it."""
    assert widest(ground(Zone("a", 0, 20, 1, 14, 12, LEDGED)).bays, (2, 3), low, high) == width


def test_a_riser_is_as_wide_as_the_shell_at_its_widest():
    zones = tuple(
        Zone(name, start, start + 20, top, 14, 12, BULGED) for name, start, top in (("a", 0, 5), ("b", 20, 9))
    )
    stepped = fit_stepped(Cavity(zones), Limits(1))[-1]
    assert stepped.risers == (Riser(19, 20, 6, 10, 12),)
    assert stepped.plates == (FloorPlate(0, 19, 6, 11), FloorPlate(20, 40, 10, 10))


def test_plates_lie_between_the_faces_of_walls_and_risers_up_and_down():
    """Up at 20 mm the riser stands in front of the step, down at 40 mm behind it; walls of 1 mm at the open ends."""
    zones = tuple(Zone(str(top), at, at + 20, top, 15, 10) for at, top in ((0, 5), (20, 9), (40, 3)))
    found = chamber_of(ground(*zones, closed=(False, False)), (0, 20, 40, 60), (6, 10, 4))
    assert [(each.start_mm, each.end_mm, each.floor_mm) for each in found.plates] == [
        (1, 19, 6),
        (20, 40, 10),
        (41, 59, 4),
    ]
    assert found.risers == (Riser(19, 20, 6, 10, 10), Riser(40, 41, 4, 10, 10))
    assert (found.inner_start_mm, found.inner_end_mm) == (1, 59)
    # 18 mm of 9, 20 of 5, 18 of 11 mm; the risers' own millimetres are as deep as the plate between.
    assert found.volume_mm3 == 10 * (18 * 9 + 1 * 5 + 20 * 5 + 1 * 5 + 18 * 11)


def test_walls_that_leave_no_length_leave_no_chamber():
    bays = ground(Zone("a", 0, 20, 5, 15, 10), closed=(False, False))
    assert chamber_of(bays, (0, 2), (6,)) is None
    assert chamber_of(bays, (0, 3), (6,)).volume_mm3 == 1 * 10 * 9


@pytest.mark.parametrize(
    ("place", "seat", "on"),
    [("front", (3, 13), 0), ("rear", (47, 57), 2), ("middle", (25, 35), 1), (22, (22, 32), 1), (8, (8, 18), 0)],
)
def test_the_seat_lies_nearest_to_where_it_is_wanted(place, seat, on):
    """A wall and its post take 3 mm, a riser 1 mm, whichever side of the step it stands on."""
    zones = tuple(Zone(str(at), at, at + 20, top, 15, 10) for at, top in ((0, 5), (20, 7), (40, 5)))
    bays = ground(*zones, speaker=Speaker(10, 8, 1, 4, place=place), closed=(False, False), post_mm=2)
    found = chamber_of(bays, (0, 20, 40, 60), (6, 8, 6))
    assert (found.seat_mm, found.seat_on) == (seat, on)


def test_a_speaker_longer_than_any_level_has_no_seat():
    """18 mm lie between the risers; 17 between wall, post and riser."""
    zones = tuple(Zone(str(at), at, at + 20, top, 15, 10) for at, top in ((0, 5), (20, 7), (40, 5)))
    for length, seat in ((18, (21, 39)), (Fraction(181, 10), None)):
        bays = ground(*zones, speaker=Speaker(length, 8, 1, 4), closed=(False, False), post_mm=2)
        found = chamber_of(bays, (0, 20, 40, 60), (6, 8, 6))
        assert (found and found.seat_mm) == seat


def test_only_what_comes_near_the_best_is_searched_in_whole_numbers(monkeypatch):
    """With one step the best floor is at 6 mm over the cab and at 10 mm behind it: none at 7 mm, nor elsewhere a step.

    From the front 20 mm at 6 mm and 40 at 10 hold 10 x (19 x 9 + 41 x 5) mm3; those level, 60 x 10 x 5.
    """
    zones = Zone("cab", 0, 20, 5, 15, 10), Zone("motor", 20, 40, 9, 15, 10), Zone("tank", 40, 60, 8, 15, 10)
    bays = ground(*zones)
    places = step_places(bays, 1)
    levels = (6, 7, 9, 10)
    monkeypatch.setattr(tables_module, "LARGEST", 1)
    near_places, near_levels = near_the_best(Tables(bays, places, levels), places, 1)
    assert near_levels == (6, 10)
    assert near_places == (0, 20, 40, 60)
    assert len(places) > len(near_places)
    assert best_paths(bays, places, levels, 1) == [((0, 20, 60), (6, 10))]
    assert best_paths(bays, places, levels, 2) == [((0, 20, 60), (6, 10)), ((0, 20, 40, 60), (6, 10, 9))]


def test_so_it_is_with_a_speaker(monkeypatch):
    """7 mm high with the 1 mm kept, it sits over the cab alone."""
    bays = ground(*OPEN, speaker=Speaker(12, 9, 1, 7))
    places = step_places(bays, 1)
    monkeypatch.setattr(tables_module, "LARGEST", 1)
    near_places, near_levels = near_the_best(Tables(bays, places, (6, 8, 10)), places, 1)
    assert (near_places, near_levels) == ((0, 20, 60), (6, 10))


def test_where_no_floor_can_be_there_is_none(monkeypatch):
    bays = ground(*OPEN, speaker=Speaker(12, 9, 1, 10))
    places = step_places(bays, 1)
    assert best_paths(bays, places, (6, 10), 1) == []
    monkeypatch.setattr(tables_module, "LARGEST", 1)
    assert best_paths(bays, places, (6, 10), 1) == []


def test_tables_by_hand():
    """Above 6 mm 9 x 10 mm2 over the cab and 6 x 10 behind it, in halves of a millimetre, the unit of its lengths."""
    bays = ground(*OPEN, wall_mm=Fraction(1, 2))
    found = Tables(bays, (0, 20, 60), (6, 10))
    assert (found.lower, found.higher) == ([0, 1], [1, 2])
    assert found.open_before.all()
    assert found.far_enough.tolist() == [-1, 0, 1]


@pytest.mark.parametrize(
    ("most", "words"),
    [
        (1, "1 step: 3.76 cm3, 0.76 cm3 (25 %) more, for 2 more pieces of floor: riser 4.00 x 10.00 mm; plates"),
        (0, "A flat floor: 3.00 cm3, in one plate of 60.00 x 10.00 mm."),
    ],
)
def test_what_steps_buy_in_words(most, words):
    assert what_steps_buy(fit_stepped(Cavity(OPEN), Limits(1), most_steps=most))[-1].words.startswith(words)


def test_a_deep_step_in_words():
    """The cab's floor may lie 20 mm lower over 9 mm of it: 1800 mm3 beside 3000."""
    zones = Zone("cab", 0, 10, -11, 15, 10), Zone("motor", 10, 60, 9, 15, 10)
    words = what_steps_buy(fit_stepped(Cavity(zones), Limits(1), most_steps=1))[-1].words
    assert words.startswith("1 step: 4.80 cm3, 1.80 cm3 (60 %) more, for 2 more pieces of floor: ")


def test_what_two_steps_buy_in_words():
    """Lower by 6 mm over 19 mm at the rear, then by 4 mm over 19 mm at the front; each riser takes 1 mm of 20."""
    zones = (*OPEN[:1], Zone("motor", 20, 40, 9, 15, 10), Zone("tank", 40, 60, 3, 15, 10))
    rows = what_steps_buy(fit_stepped(Cavity(zones), Limits(1), most_steps=2))
    # Flat 60 x 5 x 10; with one step the 20 mm at the rear alone lie low, 19 of them 11 mm deep.
    assert [(row.steps, row.volume_mm3) for row in rows] == [
        (0, 3000),
        (1, 3000 + 19 * 60),
        (2, 3000 + 19 * 60 + 19 * 40),
    ]
    assert rows[2].words == (
        "2 steps: 4.90 cm3, 0.76 cm3 (18 %) more, for 4 more pieces of floor: risers 4.00 x 10.00 mm, 6.00 x 10.00 mm; "
        "plates 19.00 x 10.00 mm, 20.00 x 10.00 mm, 19.00 x 10.00 mm."
    )


def left_out_words(volume, riser, kept=3000):
    """What is said of a larger chamber with one step, held to risers of 0.5 mm, beside a flat one."""
    larger = LeftOut(1, Fraction(volume), Fraction(riser), Fraction(1, 2))
    flat = replace(fit_stepped(Cavity(OPEN), Limits(1), most_steps=0)[0], volume_mm3=Fraction(kept), left_out=(larger,))
    return what_steps_buy([flat])[0].words.split(" Left out: ")[1]


END = "more; no riser under 0.50 mm can be marked and cut."


@pytest.mark.parametrize(
    ("volume", "riser", "words"),
    [
        ("3100", "0.4", "1 step with a riser of 0.40 mm would buy 0.10 cm3"),
        ("3030", "0.4", "1 step with a riser of 0.40 mm would buy 0.03 cm3"),  # just a hundredth of what is kept
        ("3029", "0.4", "1 step with a riser of 0.40 mm would buy only 0.03 cm3"),
        ("3005", "0.4", "1 step with a riser of 0.40 mm would buy only 0.01 cm3"),
        ("3004.9", "0.4", "1 step with a riser of 0.40 mm would buy less than 0.01 cm3"),
        ("3100", "0.007", "1 step with a riser of 0.01 mm would buy 0.10 cm3"),
        ("3100", "0.005", "1 step with a riser of 0.01 mm would buy 0.10 cm3"),
        ("3100", "0.0049", "1 step with a riser of less than 0.01 mm would buy 0.10 cm3"),
    ],
)
def test_what_is_left_out_in_words(volume, riser, words):
    assert left_out_words(volume, riser) == f"{words} {END}"


def test_the_first_of_a_list_is_told_without_what_it_gains():
    flat, stepped = fit_stepped(Cavity(OPEN), Limits(1))
    with pytest.raises(OutOfRange, match=r"^the list of chambers: steps is 0 after 0; it must be rising\."):
        what_steps_buy([flat, flat])
    (row,) = what_steps_buy([stepped])
    assert (row.gained_mm3, row.steps, row.extra_pieces, row.chamber) == (0, 1, 2, stepped)
    assert row.words == (
        "1 step: 3.76 cm3, for 2 more pieces of floor: riser 4.00 x 10.00 mm; plates 19.00 x 10.00 mm, "
        "40.00 x 10.00 mm."
    )


@pytest.mark.parametrize(
    ("start", "end", "level", "volume"),
    [
        (0, 60, 6, 10 * (20 * 9 + 40 * 9)),
        (5, 30, 6, 10 * 25 * 9),
        (-5, 10, 10, 10 * 10 * 5),
        (50, 70, 14, 10 * 10),
        (60, 70, 6, 0),
        (-9, 0, 6, 0),
        (30, 30, 6, 0),
        (31, 30, 6, 0),
        (0, 60, 15, 0),
    ],
)
def test_the_volume_between_two_ends_above_a_level(start, end, level, volume):
    assert ground(*OPEN).volume_mm3(start, end, level) == volume


def test_which_ends_need_a_wall_of_their_own():
    """None where the shell's own end closes it, nor where walls take no room."""
    bays = ground(*OPEN, closed=(True, False))
    assert bays.needs_wall((0, 60)) == (False, True)
    assert bays.needs_wall((1, 60)) == bays.needs_wall((1, 59)) == (True, True)
    assert ground(*OPEN, closed=(False, True)).needs_wall((0, 60)) == (True, False)
    assert ground(*OPEN, closed=(False, False), wall_mm=0).needs_wall((1, 59)) == (False, False)
    assert ground(*OPEN, post_mm=3).walled_room_mm == 4


def test_the_heights_that_a_floor_may_have():
    """Over chassis tops at 5 and 9 mm 1 mm is kept; a cone that moves 2 mm; under a roof that narrows to 9 mm at 12."""
    assert ground(*OPEN).levels == (6, 10)
    assert ground(*OPEN, speaker=Speaker(10, 9, 1, 4, travel_mm=2)).levels == (6, 8, 10, 12)
    bulged = tuple(replace(each, profile=Profile(((0, 4), (8, 6), (15, 6)))) for each in OPEN)
    # 10 mm wide from 4 mm up, 11 from 6 on.
    assert ground(*bulged, speaker=Speaker(10, 11, 1, 4, basket_width_mm=10)).levels == (6, 10)
    assert ground(*bulged, speaker=Speaker(10, Fraction(23, 2), 1, 4, basket_width_mm=10)).levels == (6, 7, 10)
    low = Zone("tank", 60, 80, 14, 15, 10)
    assert ground(*OPEN, low).levels == (6, 10)  # 15 mm is no floor under a roof at 15 mm
    raised = ground_in(Cavity(OPEN), Limits(1, wall_mm=1), None, 2, None, Fraction(3, 2))
    assert raised.raised_levels(0) == (6, 10)
    assert raised.raised_levels(2) == (6, Fraction(15, 2), 9, 10, Fraction(23, 2), 13)


@pytest.mark.parametrize(
    ("speaker", "bay", "level", "holds"),
    [
        (Speaker(10, 9, 1, 9), 0, 6, True),  # 9 mm from 6 up to the roof at 15 mm
        (Speaker(10, 9, 1, Fraction(91, 10)), 0, 6, False),
        (Speaker(10, 10, 1, 9), 0, 6, True),
        (Speaker(10, Fraction(101, 10), 1, 9), 0, 6, False),
        (Speaker(10, 9, 1, 4, travel_mm=1), 0, 7, True),
        (Speaker(10, 9, 1, 4, travel_mm=Fraction(11, 10)), 0, 7, False),
        (Speaker(10, 9, 1, 4), 1, 6, False),
        (Speaker(10, 9, 1, 5), 1, 10, True),
    ],
)
def test_whether_a_bay_has_room_for_the_speaker(speaker, bay, level, holds):
    bays = ground(*OPEN, speaker=speaker)
    assert bays.holds(bays.bays[bay], level) == holds
    kept = ground(*OPEN, speaker=replace(speaker, depth_mm=8), over_speaker_mm=1)
    assert kept.holds(kept.bays[0], 6) == (speaker.width_mm <= 10 and not speaker.travel_mm)
    assert not ground(*OPEN, speaker=replace(speaker, depth_mm=8), over_speaker_mm=2).holds(kept.bays[0], 6)


def test_flange_and_basket_each_need_their_own_width():
    """12 mm wide at the floor, in to 8 mm by 10 mm of height: 10 mm are left at 5."""
    tapered = Zone("hood", 0, 40, 0, 12, 12, Profile(((0, 6), (10, 4), (12, 4))))
    for width, basket, depth, holds in (
        (12, 10, 5, False), (Fraction(58, 5), 10, 5, True), (Fraction(58, 5), 10, Fraction(51, 10), False),
        (Fraction(58, 5), Fraction(51, 5), 5, False), (Fraction(59, 5), 9, 5, False),
    ):  # fmt: skip
        speaker = Speaker(10, width, 1, depth, basket_width_mm=basket)
        bays = ground_in(Cavity((tapered,)), Limits(0), speaker, 2, None)
        assert bays.holds(bays.bays[0], 0) == holds


def test_what_a_stepped_chamber_is_fitted_into():
    cavity = Cavity(OPEN, True, False)
    limits = Limits(1, 2, front_room_mm=4, rear_room_mm=5)
    found = ground_in(cavity, limits, None, 3, (2, 50), 1)
    stretches = [(each.start_mm, each.end_mm, each.floor_mm) for each in found.bays]
    assert stretches == [(4, 18, 6), (18, 20, 10), (20, 50, 10)]
    assert (found.closed, found.shortest_mm, found.least_riser_mm) == ((0, None), 3, 1)
    assert [(each.start_mm, each.end_mm) for each in ground_in(cavity, limits, None, 3, (10, 60)).bays][-1] == (20, 55)
    assert ground_in(cavity, limits, None, 3, (55, 60)) is ground_in(cavity, limits, None, 3, (0, 4)) is None
    assert ground_in(cavity, replace(limits, front_room_mm=55), None, 3, None) is None

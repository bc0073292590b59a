"""The largest chamber with every feature, against a search on a grid that knows nothing of bays."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest
from enclosure.fitting.brute_force import Case, Grid
from enclosure.fitting.random_cases import parted_case, random_case

from modelmath.enclosure import Box, Cavity, Limits, Speaker, Zone, fit_enclosure
from modelmath.enclosure.fit import fits
from modelmath.enclosure.obstacles import Obstacle
from modelmath.enclosure.sections import Profile


@pytest.mark.parametrize("first", range(0, 400, 100))
def test_no_chamber_on_the_grid_beats_the_one_found_nor_is_it_larger(first):
    for seed in range(first, first + 100):
        case = random_case(seed)
        found = case.fit()
        assert (None if found is None else found.chamber.volume_mm3) == case.best(), f"seed {seed}"


def test_half_the_random_cases_hold_what_they_must():
    found = [random_case(seed).fit() for seed in range(400)]
    fitted = [each.chamber for each in found if each is not None]
    assert len(fitted) > 150
    assert {each.pocket.where for each in fitted if each.pocket} == {
        "beside the chamber", "below its floor", "inside it",
    }  # fmt: skip
    assert sum(bool(each.boxed) for each in fitted) > 10
    assert {case.speaker.faces for case in map(random_case, range(400)) if case.speaker} == {
        "down", "up", "front", "rear",
    }  # fmt: skip


MOTOR = Zone("motor", 0, 40, 5, 15, 12)
POST = Obstacle("post", 15, 20, 2, 0, 8, moves=False)


def test_the_floor_goes_up_for_a_decoder_below_it():
    """By hand: 40 mm of decoder fill the length; its 4 mm go between 5 and 9: 40 x 12 x 6 stays above."""
    case = Case(Cavity((MOTOR,)), Limits(0), None, Box("decoder", 40, 10, 4))
    found = case.fit()
    assert found is not None
    assert (found.chamber.floor_mm, found.chamber.volume_mm3, found.chamber.pocket.where) == (
        9, 40 * 12 * 6, "below its floor",
    )  # fmt: skip
    assert case.best() == 40 * 12 * 6


def test_the_floor_goes_up_to_where_a_section_is_wide_enough():
    """By hand: 8 mm wide up to a rib's top at 9, 12 mm above: the speaker, 11 mm wide, sits on 9."""
    zone = Zone("hood", 0, 30, 5, 15, 12, Profile(((5, 4), (9, 4), (9, 6), (15, 6))))
    found = fit_enclosure(Cavity((zone,)), Limits(0), Speaker(10, 11, 1, 5))
    assert (found.chamber.floor_mm, found.chamber.volume_mm3) == (9, 30 * 12 * 6)


def test_a_wall_moves_in_to_where_a_speaker_stands_upright():
    """By hand: a low roof over the first 8 mm; the wall stands from 8 to 9, and 21 x 10 x 10 lie behind it.

    A floor plate of 1 mm and 9 mm of speaker take all of the 10 mm under the roof, over the wall as well.
    """
    zones = (Zone("nose", 0, 8, 5, 9, 10), Zone("hood", 8, 30, 5, 15, 10))
    found = fit_enclosure(Cavity(zones, front_closed=False), Limits(0), Speaker(9, 9, 1, 4, faces="front"))
    assert (found.chamber.start_mm, found.chamber.inner_start_mm, found.chamber.seat_mm) == (8, 9, (9, 13))
    assert found.chamber.volume_mm3 == 21 * 10 * 10


def test_the_floor_plate_counts_under_a_speaker_that_does_not_face_down():
    """By hand: 10 mm of height; 1 mm of plate leave 9, for a speaker upright, or with 1 mm kept behind its back."""
    cavity = Cavity((MOTOR,), front_closed=False)
    kept = Limits(0, over_speaker_mm=1)
    for limits, low, high in (
        (Limits(0), Speaker(9, 8, 1, 4, faces="front"), Speaker(Fraction(19, 2), 8, 1, 4, faces="front")),
        (kept, Speaker(9, 8, 1, 8, faces="up"), Speaker(9, 8, 1, Fraction(17, 2), faces="up")),
    ):
        assert fits(cavity, limits, low)
        assert not fits(cavity, limits, high)
    decoder = Box("decoder", 22, 10, 9, inside=True)
    # They fill the length, with no room for a wall between them: the decoder can only lie inside.
    closed, speaker = Cavity((MOTOR,)), Speaker(18, 8, 1, 4, place="front")
    assert fit_enclosure(closed, Limits(0), speaker, decoder).chamber.pocket.bottom_mm == 6
    assert not fits(closed, Limits(0), speaker, replace(decoder, height_mm=Fraction(19, 2)))


def test_a_plate_lifts_a_speaker_to_where_a_section_is_wide_enough():
    """By hand: 12 mm wide from a rib's top at 9 up; on a plate of 1 mm over a floor at 8 the speaker stands on 9."""
    zone = Zone("hood", 0, 30, 5, 15, 12, Profile(((5, 4), (9, 4), (9, 6), (15, 6))))
    found = fit_enclosure(Cavity((zone,), front_closed=False), Limits(0), Speaker(6, 11, 1, 4, faces="front"))
    assert (found.chamber.floor_mm, found.chamber.volume_mm3) == (8, 29 * (12 * 6 + 8 * 1))


@pytest.mark.parametrize("first", range(0, 300, 100))
def test_where_boxes_part_the_chamber_only_what_is_joined_counts(first):
    for seed in range(first, first + 100):
        case = parted_case(seed)
        found = case.fit()
        assert (None if found is None else found.chamber.volume_mm3) == case.best(), f"seed {seed}"


def test_boxes_part_some_of_these_chambers():
    grids = [Grid(case) for case in map(parted_case, range(60))]
    less = [grid.best() < grid.volumes().max(initial=-1) for grid in grids]
    shut = [bool(grid.narrow) and any(each.any() for each in grid._shut()) for grid in grids]
    assert sum(less) >= 5
    assert sum(shut) > 20


WALL = Obstacle("frame", 20, 24, 5, 0, 14, moves=False)


def test_a_box_across_the_whole_shell_ends_the_chamber():
    """By hand: with its sides the frame fills 12 mm; lidded at the roof. A wall from 19 to 20 stands for its end."""
    cavity = Cavity((MOTOR,), obstacles=(WALL,))
    found = fit_enclosure(cavity, Limits(0, cut_round=True))
    sizes = [(each.start_mm, each.end_mm, each.inner_start_mm, each.volume_mm3) for each in found.candidates]
    assert sizes[0] == (0, 20, 0, 19 * 12 * 10)
    assert (24, 40, 25, 15 * 12 * 10) in sizes
    lower = fit_enclosure(Cavity((MOTOR,), obstacles=(replace(WALL, top_mm=13),)), Limits(0, cut_round=True)).chamber
    assert (lower.start_mm, lower.end_mm, lower.volume_mm3) == (0, 40, 40 * 12 * 10 - 6 * 12 * 9)


def test_a_box_along_the_whole_chamber_leaves_what_lies_beside_it():
    """By hand: a rail from 1 to 5 mm right of the middle, its sides in it, leaves 7 mm left of it and 1 mm right."""
    rail = Obstacle("rail", -1, 41, 1, 0, 14, moves=False, centre_mm=3)
    found = fit_enclosure(Cavity((MOTOR,), obstacles=(rail,)), Limits(0, cut_round=True), Speaker(9, 2, 1, 4))
    assert found.chamber.volume_mm3 == 40 * 7 * 10


def test_a_box_must_lie_within_a_tapering_section_at_all_its_heights():
    """By hand: the section is 10 mm wide at 5 and 4 mm at 11: 7 mm at the lid, 8 mm up, and so is the box, or less."""
    zone = Zone("hood", 0, 30, 4, 11, 10, Profile(((5, 5), (11, 2))))
    limits = Limits(0, cut_round=True)

    def boxed(half: Fraction) -> bool:
        post = Obstacle("post", 12, 16, half, 0, 7, moves=False)
        return bool(fit_enclosure(Cavity((zone,), obstacles=(post,)), limits).chamber.boxed)

    assert boxed(Fraction(5, 2))
    assert not boxed(Fraction(51, 20))


def test_what_stands_on_the_right_counts_from_the_middle_of_what_the_path_leaves():
    """By hand: 12 mm less a path of 3 and a wall of 1 leave 8, whose middle lies 2 mm left of the shell's."""
    limits = Limits(0, wire_path_mm=3, cut_round=True)

    def boxed(centre: int) -> bool:
        post = Obstacle("post", 15, 20, 1, 0, 8, moves=False, centre_mm=centre)
        return bool(fit_enclosure(Cavity((MOTOR,), obstacles=(post,)), limits).chamber.boxed)

    # From -6 to 2 mm of the shell's own middle, a box of 4 mm has its middle between -4 and 0.
    assert [boxed(centre) for centre in (-5, -4, 0, 1)] == [False, True, True, False]


def test_no_decoder_lies_in_what_the_floor_is_cut_round():
    """By hand: the post stands up to 8; 14 mm of decoder find no place at either end below 8, and lie above it."""
    cavity = Cavity((Zone("motor", 0, 40, 5, 15, 12),), obstacles=(POST,))
    pocket = fit_enclosure(cavity, Limits(0, cut_round=True), None, Box("decoder", 22, 10, 6)).chamber.pocket
    assert pocket is not None
    assert pocket.bottom_mm >= 8 or pocket.end_mm <= 15 or pocket.start_mm >= 20


def test_a_cone_keeps_clear_of_what_stands_below():
    """By hand: beside the post there are 15 mm, 16 are wanted; over it the cone's 2 mm ask for a floor at 10."""
    cavity = Cavity((Zone("motor", 0, 24, 5, 15, 12),), obstacles=(POST,))
    beside = fit_enclosure(cavity, Limits(0, cut_round=True), Speaker(15, 10, 1, 3, travel_mm=2)).chamber
    assert (beside.floor_mm, beside.seat_mm) == (8, (0, 15))
    over = fit_enclosure(cavity, Limits(0, cut_round=True), Speaker(16, 10, 1, 3, travel_mm=2)).chamber
    assert (over.floor_mm, over.volume_mm3) == (10, 24 * 12 * 5)


def test_what_stands_in_a_walls_notch_has_a_side_within():
    """By hand: the post fills the wall from 39 to 40; its own side of 1 mm takes 1 x 6 mm up to its lid at 9."""
    post = Obstacle("post", 39, 42, 2, 0, 8, moves=False)
    cavity = Cavity((MOTOR, Zone("cab", 40, 50, 14, 15, 12)), obstacles=(post,))
    found = fit_enclosure(cavity, Limits(0, cut_round=True))
    assert (found.chamber.end_mm, found.chamber.inner_end_mm, found.chamber.boxed) == (40, 39, (post.outward(),))
    assert found.chamber.volume_mm3 == 39 * 12 * 10 - 1 * 6 * (8 + 1 - 5)


def test_obstacles_wide_and_narrow_stand_in_one_cavity():
    wide, narrow = Obstacle("truck", 0, 6, 9, -5, 7), POST
    found = fit_enclosure(Cavity((MOTOR,), obstacles=(wide, narrow)), Limits(0, cut_round=True))
    assert found.candidates[0].volume_mm3 == max(
        40 * 12 * 8 - 7 * 6 * 2, 40 * 12 * 7, 33 * 12 * 10 - 7 * 6 * 4
    )  # fmt: skip
    assert {each.governing.cause.name for each in found.candidates} >= {"truck"}


def test_a_path_that_leaves_only_what_lies_below_a_ledge():
    zone = Zone("hood", 0, 20, 0, 12, 12, Profile(((7, 6), (7, 1), (12, 1))))
    found = fit_enclosure(Cavity((zone,)), Limits(2, wire_path_mm=3, wall_mm=1))
    assert found.chamber.volume_mm3 == 20 * (12 - 4) * Fraction(5)

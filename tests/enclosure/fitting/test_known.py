"""What a search keeps of cross-sections: the same as the section itself says, asked once or again."""

from __future__ import annotations

from fractions import Fraction
from random import Random

import pytest
from enclosure.fitting.random_cases import profile_of

from modelmath.enclosure import Box, Cavity, Limits, Speaker, Zone
from modelmath.enclosure.cavity import Bay
from modelmath.enclosure.fit import Refit, fitted
from modelmath.enclosure.fitting.joined import air_in
from modelmath.enclosure.fitting.known import Sections
from modelmath.enclosure.fitting.whole import Whole
from modelmath.enclosure.obstacles import Obstacle
from modelmath.enclosure.sections import Profile
from modelmath.errors import DoesNotFit

FINE = Fraction(1, 8)


def zone_of(profile):
    return Zone("hood", 0, 20, -5, profile.roof_mm, profile.widest_mm, profile)


def test_heights_beyond_a_place_are_those_at_which_the_section_is_wider():
    chance, known = Random(3), Sections()
    for _ in range(300):
        zone = zone_of(profile_of(chance, chance.randint(7, 14)))
        floor, aside = chance.randint(-4, 6), Fraction(chance.randint(0, 14), 2)
        low = floor + chance.randint(0, 3)
        for _again in range(2):
            found = known.beyond(zone, floor, low, aside)
            height = low + FINE / 3  # at no point of the section, nor where its outline crosses a place aside
            while height < zone.roof_mm:
                wider = zone.profile.width_at(height) > 2 * aside
                assert wider == any(bottom < height < top for bottom, top in found)
                height += FINE


def test_widths_asked_again_are_those_of_the_section():
    chance, known = Random(4), Sections()
    for _ in range(200):
        zone = zone_of(profile_of(chance, 10))
        low, width = chance.randint(-4, 9), chance.randint(1, 12)
        for _again in range(2):
            assert known.width_over(zone, low, low + 2) == zone.profile.width_over(low, low + 2)
            assert known.as_wide_as(zone.profile, width, low) == zone.profile.as_wide_as(width, low)


@pytest.mark.parametrize(("lid", "parts"), [(Fraction(21, 2), 0), (11, 3), (12, 3), (14, 2)])
def test_a_box_parts_a_gable_only_where_its_lid_reaches_the_slope(lid, parts):
    """By hand: 6 mm to either side up to 8, none at 14. At 11 the slope is 3 mm out: there a box 6 mm wide meets it.

    What lies on either side of it and what lies over it are then three parts; at the ridge nothing lies over it.
    """
    gable = zone_of(Profile(((0, 6), (8, 6), (14, 0))))
    along = Obstacle("frame", -2, 22, 2, -5, lid - 1, moves=False)
    air = air_in((Bay(gable, 0, 20, 0, gable),), (0, 20), 0, (along,), 1)
    assert not air.shut
    assert len(air.parts) == parts


def test_air_passes_from_zone_to_zone_only_where_both_sections_reach_out():
    """A box up to the roof leaves the air on its sides, 6 mm and more off the middle, over the whole height.

    Behind it, in the next zone, boxes at the sides shut off what lies below 4 mm there. Above that a section that
    narrows to 5.5 mm has some beside the middle, from 5 mm on, but none so far out; one that stays wide has.
    """
    tall = Obstacle("gear tower", 10, 19, 5, 0, 10, moves=False)
    low = tuple(Obstacle(f"tank {side}", 21, 30, 2, 0, 3, moves=False, centre_mm=8 * side) for side in (-1, 1))
    wide = Zone("cab", 0, 20, -5, 10, 20)
    for upper, shut in ((Fraction(11, 2), ((20, 20),)), (10, ())):
        behind = Zone("hood", 20, 40, -5, 10, 20, Profile(((0, 10), (4, 10), (4, upper), (10, upper))))
        bays = tuple(Bay(zone, zone.start_mm, zone.end_mm, 0, zone) for zone in (wide, behind))
        assert air_in(bays, (0, 40), 0, (tall, *low), 1).shut == shut


def test_over_a_lid_by_hand():
    """6 mm to either side up to 8 mm, none at 14: 3 mm aside it reaches out further up to 11 mm, 6 mm nowhere."""
    gable, known = zone_of(Profile(((0, 6), (8, 6), (14, 0)))), Sections()
    assert known.beyond(gable, 2, 5, 3) == [(5, 11)]
    assert known.beyond(gable, 2, 2, 3) == [(2, 11)]
    assert known.beyond(gable, 2, 10, 3) == [(10, 11)]
    assert known.beyond(gable, 2, 11, 3) == known.beyond(gable, 2, 12, 3) == known.beyond(gable, 2, 14, 0) == []
    assert known.beyond(gable, 2, 5, 6) == known.beyond(gable, 2, 5, 7) == []
    assert known.beyond(gable, -3, -3, 3) == [(-3, 11)]  # below its first point it is upright
    plain = Zone("plain", 0, 20, -5, 10, 8)
    assert known.beyond(plain, 2, 5, 3) == [(5, 10)]
    assert known.beyond(plain, 2, 5, 4) == known.beyond(plain, 2, 10, 3) == []


def test_a_waist_parts_what_lies_beyond_it_by_hand():
    """6 mm at the floor and at the top, 2 mm at 4 mm of height: 4 mm aside is reached up to 2 and from 6 mm on."""
    waist, known = zone_of(Profile(((0, 6), (4, 2), (8, 6), (10, 6)))), Sections()
    assert known.beyond(waist, 0, 0, 4) == [(0, 2), (6, 10)]
    assert known.beyond(waist, 0, 1, 4) == [(1, 2), (6, 10)]
    assert known.beyond(waist, 0, 2, 4) == known.beyond(waist, 0, 3, 4) == [(6, 10)]
    assert known.beyond(waist, 0, 7, 4) == [(7, 10)]
    assert known.as_wide_as(waist.profile, 8, 1) == [(1, 2), (6, 10)]
    assert known.as_wide_as(waist.profile, 4, 1) == [(1, 10)]
    assert known.as_wide_as(waist.profile, 12, 1) == [(8, 10)]
    assert known.as_wide_as(waist.profile, 13, 1) == []


HOOD = Cavity((Zone("cab", 0, 20, 5, 15, 10), Zone("motor", 20, 60, 9, 15, 10, Profile(((0, 5), (13, 5), (15, 3))))))


def test_fitted_again_all_is_as_if_it_were_fitted_for_the_first_time():
    """The very same shell and limits, or one of the two another, or both; speakers in units of their own."""
    other, third = Cavity(HOOD.zones[:1]), Fraction(1, 3)
    one, two = Limits(1), Limits(2, wall_mm=third)
    path = Limits(1, wire_path_mm=2)
    again = Refit()
    for cavity, limits in (
        (HOOD, one), (HOOD, one), (HOOD, two), (HOOD, path), (HOOD, path), (other, path), (other, one), (HOOD, one),
        (Cavity(HOOD.zones), one), (HOOD, Limits(1)), (HOOD, Limits(1.5)), (HOOD, one),
    ):  # fmt: skip
        for speaker in (None, Speaker(12, 7, 1, 4), Speaker(12, 7, 1, 4 + third), Speaker(12.5, 7, 1, 4)):
            found, wanted = again.fitted(cavity, limits, speaker), fitted(cavity, limits, speaker)
            assert found.candidates == wanted.candidates
            assert found.cavity == wanted.cavity
            assert [type(each.volume_mm3) for each in found.candidates] == [
                type(each.volume_mm3) for each in wanted.candidates
            ]
            assert again.enclosure(cavity, limits, speaker).chamber == wanted.chamber
    with pytest.raises(DoesNotFit, match=r"^The speaker does not fit: 40.00 mm too little"):
        again.enclosure(HOOD, one, Speaker(100, 7, 1, 4))
    assert again.fitted(HOOD, one, Speaker(100, 7, 1, 4)) is None


@pytest.mark.parametrize(
    ("speaker", "decoder", "per_mm", "rounded"),
    [
        (None, None, 200, False),
        (Speaker(Fraction(37, 3), 7, 1, 4), None, 600, False),
        (Speaker(12.5, 7, 1, 4), None, 200, True),
        (None, Box("decoder", Fraction(50, 7), 5, 2), 1400, False),
        (None, Box("decoder", 0.125, 5, 2), 400, True),
    ],
)
def test_whole_numbers_of_a_unit_and_the_way_back(speaker, decoder, per_mm, rounded):
    """Twice as fine as hundredths, and as what is given; a float anywhere makes all that is told a float."""
    whole = Whole(HOOD, Limits(1), speaker, decoder)
    assert (whole.per_mm, whole.float) == (per_mm, rounded)
    assert [zone.end_mm for zone in whole.cavity.zones] == [20 * per_mm, 60 * per_mm]
    assert whole.cavity.zones[1].profile.points[-1] == (15 * per_mm, 3 * per_mm)
    assert all(isinstance(zone.width_mm, int) for zone in whole.cavity.zones)
    assert whole.limits.cut_round is False
    for value, power, back in ((3 * per_mm, 1, 3), (5 * per_mm**2, 2, 5), (7 * per_mm**3, 3, 7), (0, 1, 0)):
        assert whole.back(value, power) == back
        assert isinstance(whole.back(value, power), float if rounded else int)
    assert whole.back(per_mm // 4) == Fraction(1, 4)
    assert whole.stretch((per_mm, 2 * per_mm)) == (1, 2)
    assert whole.stretch(None) is None
    again = Whole(HOOD, Limits(1), speaker, decoder, whole)
    assert again.cavity is not whole.cavity  # limits that are only equal are turned anew

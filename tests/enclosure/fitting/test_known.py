"""What a search keeps of cross-sections: the same as the section itself says, asked once or again."""

from __future__ import annotations

from fractions import Fraction
from random import Random

import pytest
from enclosure.fitting.random_cases import profile_of

from modelmath.enclosure import Zone
from modelmath.enclosure.cavity import Bay
from modelmath.enclosure.fitting.joined import air_in
from modelmath.enclosure.fitting.known import Sections
from modelmath.enclosure.obstacles import Obstacle
from modelmath.enclosure.sections import Profile

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

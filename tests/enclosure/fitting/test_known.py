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

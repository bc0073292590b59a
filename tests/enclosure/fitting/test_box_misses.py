"""By how much a stiff box misses in a shell whose sides lean in or carry ribs: amounts by hand, in whole sentences."""

from __future__ import annotations

from dataclasses import replace

import pytest

from modelmath.enclosure import Box, Cavity, Obstacle, Profile, Zone
from modelmath.enclosure.fitting.box_misses import miss_of_box

LEANING = Profile(((0, 10), (8, 10), (15, 3)))  # in by 1 to 1 from 8 mm up
RIBBED = Profile(((0, 4), (6, 4), (6, 10), (15, 10)))  # 4 mm to either side below 6 mm, 10 above
HOOD = Zone("hood", 0, 40, 2, 15, 20)
CAB = Zone("cab", 40, 60, 4, 13, 16)
REMEDY = "Use a smaller decoder, turn it, or keep less clearance."


def miss(zones, *sizes, obstacles=(), **others):
    """Over the chassis 1 mm is kept."""
    return miss_of_box(Cavity(zones, obstacles=obstacles).bays(1, 0), Box("decoder", *sizes, **others))


@pytest.mark.parametrize(
    ("profile", "sizes", "short", "cause"),
    [
        (None, (41, 20, 12), 1, "over hood there are 40.00 mm of length for its 41.00 mm"),
        (None, (40, 20, 12), 0, None),
        (None, (40, 20, 14), 2, "over hood there are 12.00 mm of height for its 14.00 mm"),
        (None, (40, 23, 12), 3, "over hood the shell is 20.00 mm wide inside and the decoder 23.00 mm"),
        # From 3 mm up, where it is widest, to 8 mm; or up to 11 mm, where 7 mm are left on either side.
        (LEANING, (20, 21, 5), 1, "over hood the shell is 20.00 mm wide inside and the decoder 21.00 mm"),
        (LEANING, (20, 18, 8), 4, "over hood the shell is 14.00 mm wide inside and the decoder 18.00 mm"),
        (LEANING, (20, 14, 8), 0, None),
        (LEANING, (20, 10, 12), 4, "over hood the shell is 6.00 mm wide inside and the decoder 10.00 mm"),
        (LEANING, (20, 19, 13), 1, "over hood there are 12.00 mm of height for its 13.00 mm"),
        # Over the rib there are 9 mm of height; higher, it stands between the ribs.
        (RIBBED, (20, 21, 9), 1, "over hood the shell is 20.00 mm wide inside and the decoder 21.00 mm"),
        (RIBBED, (20, 11, 10), 3, "over hood the shell is 8.00 mm wide inside and the decoder 11.00 mm"),
        (RIBBED, (20, 8, 10), 0, None),
    ],
)
def test_in_one_zone(profile, sizes, short, cause):
    found = miss((replace(HOOD, profile=profile),), *sizes)
    assert max(found.short_mm, 0) == short
    assert cause is None or (found.cause, found.remedy) == (cause, REMEDY)


@pytest.mark.parametrize(
    ("sizes", "short", "cause"),
    [
        ((50, 10, 9), 1, "over cab there are 8.00 mm of height for its 9.00 mm"),
        ((62, 10, 5), 2, "from hood to cab there are 60.00 mm of length for its 62.00 mm"),
        ((45, 17, 6), 1, "over cab the shell is 16.00 mm wide inside and the decoder 17.00 mm"),
        ((45, 10, 13), 5, "over cab there are 8.00 mm of height for its 13.00 mm"),
        ((42, 30, 8), 10, "over hood the shell is 20.00 mm wide inside and the decoder 30.00 mm"),
    ],
)
def test_in_two_zones(sizes, short, cause):
    found = miss((HOOD, CAB), *sizes)
    assert (found.short_mm, found.cause) == (short, cause)


def test_a_step_of_one_zone_and_the_roof_of_another():
    """Over the cab at 5 mm, under the hood's roof at 12 mm."""
    found = miss((replace(HOOD, roof_mm=12), replace(CAB, roof_mm=20)), 55, 10, 9)
    assert (found.short_mm, found.cause) == (
        2, "over cab, under the roof over hood, there are 7.00 mm of height for its 9.00 mm",
    )  # fmt: skip
    gear = Obstacle("gear", 10, 30, 3, 0, 15, words="the gear", moves=False)
    stood = miss((replace(HOOD, end_mm=40),), 30, 10, 1, obstacles=(gear,))
    assert (stood.short_mm, stood.cause) == (
        1, "over the gear, under the roof over hood, there is no height for its 1.00 mm",
    )  # fmt: skip


def test_turned_the_way_that_comes_nearest_it_is_told():
    """21 mm high in 12 mm it lacks 9; on its side it is 21 mm wide, and lacks 1."""
    assert miss((HOOD,), 30, 10, 21).short_mm == 9
    turned = miss((HOOD,), 30, 10, 21, turns=True)
    assert (turned.short_mm, turned.cause) == (
        1, "over hood the shell is 20.00 mm wide inside and the decoder 21.00 mm",
    )  # fmt: skip
    longer = miss((HOOD,), 41, 11, 20, turns=True)
    assert (longer.short_mm, longer.cause) == (1, "over hood there are 40.00 mm of length for its 41.00 mm")


def test_in_a_small_unit_it_is_told_in_mm():
    zones = [replace(HOOD, end_mm=4000, top_mm=200, roof_mm=1500, width_mm=2000)]
    found = miss_of_box(Cavity(tuple(zones)).bays(100, 0), Box("decoder", 4150, 100, 100), 100)
    assert (found.short_mm, found.cause) == (1.5, "over hood there are 40.00 mm of length for its 41.50 mm")

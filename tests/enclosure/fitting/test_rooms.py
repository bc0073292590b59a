"""Stretches of bays, and areas of a section, by hand."""

from __future__ import annotations

import pytest

from modelmath.enclosure import Cavity, Profile, Zone
from modelmath.enclosure.fitting.boxed import area_within
from modelmath.enclosure.fitting.rooms import bays_over
from modelmath.enclosure.making.blocks import Block, volume_inside_mm3

THREE = Cavity((Zone("cab", 0, 20, 5, 15, 10), Zone("motor", 20, 50, 9, 15, 10), Zone("end", 50, 60, 5, 12, 10)))
PLAIN = Zone("plain", 0, 20, 0, 15, 10)
SLOPED = Zone("sloped", 0, 20, 0, 10, 12, Profile(((0, 6), (10, 1))))


@pytest.mark.parametrize(
    ("start", "end", "names"),
    [
        (5, 10, ["cab"]),
        (19, 51, ["cab", "motor", "end"]),
        (20, 50, ["motor"]),
        (-9, -4, ["cab"]),  # beyond them all: the nearest
        (-9, 0, ["cab"]),  # just touching the first
        (60, 70, ["end"]),
        (65, 70, ["end"]),
    ],
)
def test_the_bays_over_a_stretch(start, end, names):
    assert [bay.zone.name for bay in bays_over(THREE.bays(1, 0), start, end)] == names


@pytest.mark.parametrize(
    ("zone", "low", "high", "left", "right", "area"),
    [
        (PLAIN, 2, 6, -3, 4, 7 * 4),
        (PLAIN, 2, 6, -9, 9, 10 * 4),  # as wide as the shell
        (PLAIN, 6, 6, -3, 4, 0),
        (PLAIN, 7, 6, -3, 4, 0),  # the other way up there is none
        (SLOPED, 0, 10, -6, 6, (12 + 2) / 2 * 10),  # a trapezium
        (SLOPED, 0, 6, -3, 3, 6 * 6),  # 3 mm wide on either side up to 6 mm
        (SLOPED, 6, 10, -3, 3, (6 + 2) / 2 * 4),
        (SLOPED, 6, 6, -3, 3, 0),
        (SLOPED, 9, 6, -3, 3, 0),
    ],
)
def test_the_area_of_a_section_between_heights_and_places_across(zone, low, high, left, right, area):
    assert area_within(zone, low, high, left, right) == area


@pytest.mark.parametrize(
    ("block", "volume"),
    [
        ((2, 12, -3, 1, 4, 9), 10 * 4 * 3),  # above the floor at 6 mm
        ((2, 12, -3, 1, 7, 30), 10 * 4 * 8),  # below the roof at 15 mm
        ((2, 12, -3, 1, 2, 6), 0),  # all of it below the floor, just touching it
        ((2, 12, -3, 1, 2, 5), 0),
        ((2, 12, -3, 1, 15, 18), 0),  # above the roof
        ((2, 12, 1, 1, 7, 9), 0),  # of no width
        ((2, 12, 3, 1, 7, 9), 0),
        ((15, 25, 3, 9, 7, 9), 10 * 2 * 2),  # in two bays, and half outside the shell
    ],
)
def test_the_volume_of_a_block_inside(block, volume):
    bays = Cavity((PLAIN, Zone("next", 20, 40, 0, 15, 10))).bays(1, 0)
    start, end, left, right, bottom, top = block
    assert volume_inside_mm3([Block(start, end, left, right, bottom, top)], bays, 6) == volume

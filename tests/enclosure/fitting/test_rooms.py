"""Stretches of bays, and areas of a section, by hand."""

from __future__ import annotations

import pytest

from modelmath.enclosure import Cavity, Limits, Profile, Zone
from modelmath.enclosure.fitting.boxed import area_within
from modelmath.enclosure.fitting.rooms import bays_over, clip, less, walled
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


@pytest.mark.parametrize(
    ("start", "end", "kept"),
    [
        (0, 60, [(0, 20, "cab"), (20, 50, "motor"), (50, 60, "end")]),
        (-9, 99, [(0, 20, "cab"), (20, 50, "motor"), (50, 60, "end")]),
        (5, 55, [(5, 20, "cab"), (20, 50, "motor"), (50, 55, "end")]),
        (20, 50, [(20, 50, "motor")]),
        (25, 30, [(25, 30, "motor")]),
        (19, 20, [(19, 20, "cab")]),
        (50, 51, [(50, 51, "end")]),
        (-9, -4, []),
        (-9, 0, []),
        (60, 70, []),
        (65, 70, []),
        (30, 30, []),
        (31, 30, []),
        (20, 20, []),
    ],
)
def test_the_bays_between_two_ends(start, end, kept):
    bays = THREE.bays(1, 0)
    found = clip(bays, start, end)
    assert [(bay.start_mm, bay.end_mm, bay.zone.name) for bay in found] == kept
    assert all((bay.floor_mm, bay.cause) == (bay.zone.top_mm + 1, bay.zone) for bay in found)


@pytest.mark.parametrize(
    ("taken", "left"),
    [
        ([], [(10, 50)]),
        ([(20, 30)], [(10, 20), (30, 50)]),
        ([(0, 10), (50, 60)], [(10, 50)]),
        ([(0, 11)], [(11, 50)]),
        ([(10, 20)], [(20, 50)]),
        ([(40, 50)], [(10, 40)]),
        ([(10, 50)], []),
        ([(0, 60)], []),
        ([(12, 20), (15, 30), (18, 25), (30, 40)], [(10, 12), (40, 50)]),
        ([(12, 40), (15, 20)], [(10, 12), (40, 50)]),
        ([(20, 20)], [(10, 20), (20, 50)]),
    ],
)
def test_what_is_left_of_a_stretch(taken, left):
    assert list(less(10, 50, taken)) == left


@pytest.mark.parametrize(
    ("ends", "closed", "wall", "needs"),
    [
        ((0, 60), (True, True), 1, (False, False)),
        ((0, 60), (False, True), 1, (True, False)),
        ((0, 60), (True, False), 1, (False, True)),
        ((1, 60), (True, True), 1, (True, False)),
        ((0, 59), (True, True), 1, (False, True)),
        ((1, 59), (False, False), 1, (True, True)),
        ((1, 59), (False, False), 0, (False, False)),
    ],
)
def test_which_ends_are_walled(ends, closed, wall, needs):
    assert walled(ends, Cavity(THREE.zones, *closed), Limits(1, wall_mm=wall)) == needs

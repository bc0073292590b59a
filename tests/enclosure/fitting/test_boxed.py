"""What is boxed in: where a box lies within the shell, by hand; what boxes take, by counting cubes and by shapely."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely.geometry import Polygon, box

from modelmath.enclosure import Cavity, Obstacle, Profile, Zone
from modelmath.enclosure.fitting.boxed import area_within, boxed_in, narrow_ones, taken_mm3

HOOD = Zone("hood", 0, 40, 2, 15, 20)
TOWER = Obstacle("tower", 10, 20, 2, 0, 8, moves=False, centre_mm=6)
LEANING = Profile(((0, 10), (8, 10), (15, 3)))  # in by 1 to 1 from 8 mm up


@pytest.mark.parametrize(
    ("zones", "stands", "within"),
    [
        ((HOOD,), {}, True),
        ((HOOD,), {"centre_mm": 7}, True),  # its side lies on the shell's
        ((HOOD,), {"centre_mm": -7}, True),
        ((HOOD,), {"centre_mm": Fraction(71, 10)}, False),
        ((HOOD,), {"centre_mm": Fraction(-71, 10)}, False),
        ((HOOD,), {"half_width_mm": 3}, True),
        ((HOOD,), {"half_width_mm": Fraction(31, 10)}, False),
        # A narrower zone counts where the box reaches into it, its end wall with it.
        ((replace(HOOD, end_mm=21), replace(HOOD, start_mm=21, width_mm=10)), {}, True),
        ((replace(HOOD, end_mm=20), replace(HOOD, start_mm=20, width_mm=10)), {}, False),
        ((replace(HOOD, end_mm=9, width_mm=10), replace(HOOD, start_mm=9)), {}, True),
        ((replace(HOOD, end_mm=10, width_mm=10), replace(HOOD, start_mm=10)), {}, False),
        # Not where the chassis stands as high as it, or up to the roof.
        ((replace(HOOD, width_mm=10, top_mm=8),), {}, True),
        ((replace(HOOD, width_mm=10, top_mm=Fraction(17, 2)),), {}, True),
        ((replace(HOOD, width_mm=10, top_mm=Fraction(79, 10)),), {}, False),
        ((replace(HOOD, width_mm=10, top_mm=7, roof_mm=7),), {}, True),
        # Up to its lid at 9 mm the section is 9 mm to either side, and at the roof 3.
        ((replace(HOOD, profile=LEANING),), {}, True),
        ((replace(HOOD, profile=LEANING),), {"top_mm": Fraction(81, 10)}, False),
        ((replace(HOOD, profile=LEANING),), {"top_mm": 14, "centre_mm": 0}, True),
        ((replace(HOOD, profile=LEANING),), {"top_mm": 20, "centre_mm": 0}, True),
        ((replace(HOOD, profile=LEANING),), {"top_mm": 14, "centre_mm": Fraction(1, 10)}, False),
    ],
)
def test_whether_a_box_lies_within_the_shell(zones, stands, within):
    """4 mm wide and 6 mm off the middle, with sides of 1 mm it reaches out to 9 of 10 mm."""
    tower = replace(TOWER, **stands)
    assert narrow_ones(Cavity(zones, obstacles=(tower,)), 1) == ((tower,) if within else ())


def test_what_stands_up_through_a_floor():
    for ends, floor, there in (
        ((0, 40), 7, True), ((0, 40), 8, False), ((0, 10), 2, False), ((0, 11), 2, True), ((20, 40), 2, False),
        ((19, 40), 2, True), ((12, 15), 2, True),
    ):  # fmt: skip
        assert boxed_in((TOWER,), ends, floor) == ((TOWER,) if there else ())


SMALL = st.integers(0, 9)


@st.composite
def obstacles(draw):
    start = draw(st.integers(-2, 9))
    return Obstacle(
        "thing", start, start + draw(st.integers(1, 5)), draw(st.integers(1, 3)), -5, draw(SMALL), moves=False,
        centre_mm=draw(st.integers(-5, 5)),
    )  # fmt: skip


@settings(max_examples=60, derandomize=True)
@given(st.lists(obstacles(), max_size=3), st.integers(0, 4), st.integers(0, 2), st.integers(0, 3), st.integers(7, 12))
def test_the_volume_that_boxes_take_by_counting_cubes(stands, floor, wall, first, last):
    """Two zones, 6 mm to either side under 9 mm, and 4 under 7 from 5 mm on."""
    cavity = Cavity((Zone("a", 0, 5, -5, 9, 12), Zone("b", 5, 12, -5, 7, 8)))
    boxed = [each for each in stands if each.top_mm > floor]
    cubes = set()
    for each in boxed:
        reach = each.half_width_mm + wall
        for x in range(max(each.start_mm - wall, first), min(each.end_mm + wall, last)):
            side, roof = (6, 9) if x < 5 else (4, 7)
            across = range(max(each.centre_mm - reach, -side), min(each.centre_mm + reach, side))
            cubes |= {(x, y, z) for y in across for z in range(floor, min(each.top_mm + wall, roof))}
    assert taken_mm3(cavity.bays(0, 0), (first, last), floor, boxed, wall) == len(cubes)


@settings(max_examples=60, derandomize=True)
@given(SMALL, st.integers(0, 16), st.integers(-12, 12), st.integers(-12, 12))
def test_areas_are_those_of_shapely(low, high, one, other):
    left, right = sorted((one, other))
    window = box(left, low, right, high) if high > low else Polygon()
    right_side = [(float(half), float(height)) for height, half in LEANING.points]
    section = Polygon([*right_side, *((-x, y) for x, y in reversed(right_side))])
    sloped = replace(HOOD, profile=LEANING)
    assert float(area_within(sloped, low, high, left, right)) == pytest.approx(section.intersection(window).area)
    plain = area_within(HOOD, low, high, left, right)
    assert plain == pytest.approx(box(-10, 0, 10, 99).intersection(window).area)

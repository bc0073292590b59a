"""What is left of a part once rectangles are cut out of it, against the geometry library shapely."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely.geometry import Polygon, box

from modelmath.drawings.cutting.region import CutOut, loops_of

WIDE = st.integers(1, 24).map(lambda quarters: Fraction(quarters, 4))
PLACES = st.integers(-28, 28).map(lambda quarters: Fraction(quarters, 4))


@st.composite
def sides(draw):
    """Half-widths at rising heights from 0, some heights twice, which is a ledge."""
    heights = sorted(draw(st.lists(WIDE, min_size=1, max_size=5)))
    side = [(Fraction(0), draw(WIDE))]
    for height in heights:
        if not (len(side) > 1 and side[-1][0] == side[-2][0] == height):
            side.append((height, draw(WIDE)))
    side.append((heights[-1] + 1, draw(WIDE)))
    return tuple(side)


@st.composite
def cut_outs(draw):
    left, right = sorted(draw(st.lists(PLACES, min_size=2, max_size=2, unique=True)))
    low, high = sorted(draw(st.lists(PLACES, min_size=2, max_size=2, unique=True)))
    return CutOut(left, right, low, high)


def whole_of(side):
    right = [(float(half), float(height)) for height, half in side]
    return Polygon([*right, *((-x, y) for x, y in reversed(right))])


def area_of(loop):
    """Return the signed area of a closed run: above 0 where it goes anticlockwise (shoelace formula)."""
    turned = zip(loop, (*loop[1:], loop[0]), strict=True)
    return sum(x1 * y2 - x2 * y1 for (x1, y1), (x2, y2) in turned) / 2


@settings(max_examples=80, deadline=None)
@given(sides(), st.lists(cut_outs(), max_size=3))
def test_the_borders_enclose_what_shapely_leaves(side, gone):
    wanted = whole_of(side)
    for each in gone:
        wanted = wanted.difference(box(*(float(size) for size in (each.left, each.low, each.right, each.high))))
    loops = loops_of(side, gone)
    assert float(sum(area_of(loop) for loop in loops)) == pytest.approx(wanted.area, abs=1e-9)
    borders = sum(Polygon([(float(x), float(y)) for x, y in loop]).length for loop in loops)
    assert borders == pytest.approx(wanted.length, abs=1e-6)


@settings(max_examples=80, deadline=None)
@given(sides(), st.lists(cut_outs(), max_size=3))
def test_no_corner_goes_straight_on(side, gone):
    for loop in loops_of(side, gone):
        for (x0, y0), (x1, y1), (x2, y2) in zip((loop[-1], *loop[:-1]), loop, (*loop[1:], loop[0]), strict=True):
            assert (x1 - x0) * (y2 - y1) != (y1 - y0) * (x2 - x1)


def test_a_part_cut_through_has_two_borders_and_one_cut_away_has_none():
    square = ((Fraction(0), Fraction(2)), (Fraction(4), Fraction(2)))
    through = CutOut(Fraction(-3), Fraction(3), Fraction(1), Fraction(2))
    assert [area_of(loop) for loop in loops_of(square, [through])] == [4, 8]
    assert loops_of(square, [CutOut(Fraction(-3), Fraction(3), Fraction(-1), Fraction(9))]) == ()


def test_an_opening_runs_the_other_way_round_than_the_border_it_lies_in():
    square = ((Fraction(0), Fraction(2)), (Fraction(4), Fraction(2)))
    outer, inner = loops_of(square, [CutOut(Fraction(-1), Fraction(1), Fraction(1), Fraction(2))])
    assert (area_of(outer), area_of(inner)) == (16, -2)

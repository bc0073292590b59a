"""The numbers of a layout's snaps as they are drawn: each on its own line or led to it, none over another."""

from itertools import combinations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely.geometry import LineString, Point, box

from modelmath.cutting.sheet_layout import SheetPart, SheetStock, lay_out_sheet
from modelmath.drawings.figures.sheet_snaps import sheet_snaps
from modelmath.drawings.shapes import Box, Lines

SHEET = "1 mm sheet"


def check_numbers(sheet, width):
    """Return how many of the numbers stand beside their lines."""
    drawing = sheet_snaps(sheet, width)
    numbers = [
        box(each.x, each.y, each.x + each.width, each.y + each.height)
        for each in drawing.shapes
        if isinstance(each, Box) and each.name == "number"
    ]
    lines = [LineString(each.runs[0]) for each in drawing.shapes if isinstance(each, Lines) and each.name == "snap"]
    leaders = [each.runs[0] for each in drawing.shapes if isinstance(each, Lines) and each.name == "leader"]
    assert len(numbers) == len(lines) == len(sheet.snaps)
    assert all(one.intersection(other).area < 1e-6 for one, other in combinations(numbers, 2))
    led = 0
    for number, line in zip(numbers, lines, strict=True):
        if number.buffer(1e-6).intersects(line):
            continue
        led += 1
        assert any(
            line.distance(Point(start)) < 1e-6 and number.buffer(1e-6).contains(Point(end)) for start, end in leaders
        )
    return led


def laid(parts, length=304.8, width=152.4):
    stock = [SheetStock(SHEET, length, width)]
    return lay_out_sheet(parts, stock, least_snap_mm=3, least_offcut_mm=20, effort=3_000).sheets[0]


@pytest.mark.parametrize("width", [400, 640])
@pytest.mark.parametrize("others", [[], [SheetPart("deck", 90, 60, 1, SHEET)]])
def test_a_row_of_small_pads_has_numbers_apart(others, width):
    check_numbers(laid([SheetPart("pad", 10, 10, 8, SHEET), *others]), width)


def test_numbers_that_have_no_room_on_their_lines_are_led_to_them():
    parts = [SheetPart("pad", 5, 5, 14, SHEET), SheetPart("strip", 40, 4, 6, SHEET)]
    assert check_numbers(laid(parts), 400)


def test_numbers_with_room_stand_on_their_lines():
    assert check_numbers(laid([SheetPart("wall", 40, 30, 6, SHEET)]), 640) == 0


@settings(max_examples=30, deadline=None)
@given(st.lists(st.tuples(st.integers(8, 60), st.integers(8, 60), st.integers(1, 4)), min_size=1, max_size=5))
def test_no_number_lies_over_another(sizes):
    check_numbers(laid([SheetPart(f"part {at}", *size, SHEET) for at, size in enumerate(sizes)]), 640)

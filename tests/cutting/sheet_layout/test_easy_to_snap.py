"""Layouts that a person would draw: lines at the parts' edges only, equal parts in one strip, few snaps.

A strip snapped off as wide as its parts, then the parts off the strip: common practice, no source. The counts are by
hand: a snap for each part, and one for each strip and for each piece left free at its end.
"""

from collections import Counter

import pytest
from cutting.sheet_layout.sheet_check import check_plan, place_of
from hypothesis import given, settings
from hypothesis import strategies as st

from modelmath.cutting.sheet_layout import SheetPart, SheetStock, lay_out_sheet
from modelmath.cutting.sheet_layout.one_sheet.filling import Filler
from modelmath.cutting.sheet_layout.one_sheet.measured import measured, unmeasured
from modelmath.cutting.sheet_layout.one_sheet.panels import leaves, panels_in, parts_in
from modelmath.cutting.sheet_layout.one_sheet.rows import in_rows
from modelmath.cutting.sheet_layout.one_sheet.tidy import tidied

SHEET = "1 mm sheet"
sizes = st.lists(st.tuples(st.integers(5, 60), st.integers(5, 60), st.integers(1, 4)), min_size=1, max_size=6)


def laid(listed, length, width, **how):
    parts = [SheetPart(f"part {at}", *size, SHEET) for at, size in enumerate(listed)]
    stock = [SheetStock(SHEET, length, width)]
    plan = lay_out_sheet(parts, stock, **how)
    check_plan(plan, parts, stock)
    return plan


def lies_at_a_part(snap, sheet):
    """Whether some part in the near panel of a snap ends at its line."""
    x, y, length, width = snap.panel
    across = snap.along == "width"
    near_length, near_width = (snap.at_mm, width) if across else (length, snap.at_mm)
    for its_x, its_y, its_length, its_width in map(place_of, sheet.pieces):
        if x <= its_x < x + near_length and y <= its_y < y + near_width:
            end = its_x + its_length - x if across else its_y + its_width - y
            if end == snap.at_mm:
                return True
    return False


@settings(max_examples=60, deadline=None)
@given(sizes, st.sampled_from([0, 10, 25]))
def test_no_line_lies_beyond_the_parts(listed, least_offcut):
    """Where any width can be snapped: a line farther out than the parts only moves waste from one side to the other."""
    plan = laid(listed, 90, 64, least_snap_mm=0, least_offcut_mm=least_offcut, effort=3_000)
    for sheet in plan.sheets:
        assert all(lies_at_a_part(snap, sheet) for snap in sheet.snaps)


@pytest.mark.parametrize(
    ("listed", "snaps", "distances"),
    [
        ([(30, 24, 4)], 5, {24, 30}),  # one strip, four parts
        ([(30, 24, 1), (20, 24, 1), (12, 24, 1)], 4, {24, 30, 20, 12}),
        ([(150, 24, 2)], 2, {24}),  # each as long as the sheet is wide: no strip to part
        ([(150, 30, 1)], 1, {30}),
    ],
)
def test_parts_of_one_width_come_off_one_strip(listed, snaps, distances):
    (sheet,) = laid(listed, 300, 150, least_snap_mm=3, least_offcut_mm=20).sheets
    assert len(sheet.snaps) == snaps
    assert {snap.at_mm for snap in sheet.snaps} == distances
    assert sheet.scrap_mm2 == 0


def test_a_strip_is_as_wide_as_its_parts_however_little_is_left():
    """Two 18.8 and two 11.4 long, all 18.5 wide: two strips of two, five snaps at 30.2, 18.5 and 18.8; no scrap.

    One strip would be parted by five too, but leave its end 18.5 wide, too narrow to keep where 20 is the least.
    """
    listed = [(18.8, 18.5, 2), (11.4, 18.5, 2)]
    (sheet,) = laid(listed, 304.8, 152.4, least_snap_mm=3, least_offcut_mm=20).sheets
    assert (len(sheet.snaps), sheet.settings, sheet.scrap_mm2) == (5, 3, 0)
    assert [float(offcut.length_mm) for offcut in sheet.offcuts] == [274.6, 30.2]


def test_equal_parts_lie_side_by_side():
    (sheet,) = laid([(40, 24, 3), (25, 24, 3)], 300, 150, least_snap_mm=3, least_offcut_mm=20).sheets
    assert sheet.settings == len({snap.at_mm for snap in sheet.snaps})


def ways_of(listed):
    return [((a, b), (b, a)) for a, b, _ in listed]


@given(sizes)
def test_rows_and_tidied_layouts_hold_all_parts_on_the_same_sheet(listed):
    filler, pool = Filler(ways_of(listed), 0, 1), {at: count for at, (_, _, count) in enumerate(listed)}
    # A row for each of six parts at most, no wider than 60, and room for four of them in it.
    found = list(in_rows(filler, 500, 400, pool))
    assert found
    for root in found:
        for each in (root, *tidied(filler, root)):
            assert Counter(parts_in(each)) == pool
            assert sum(leaf.length * leaf.width for leaf, _ in leaves(each)) == 500 * 400
            assert all((leaf.length, leaf.width) in filler.ways[leaf.part] for leaf, _ in leaves(each) if leaf.count)


def snapped(parts, length, width):
    stock = [SheetStock(SHEET, length, width)]
    plan = lay_out_sheet(parts, stock, least_snap_mm=3, least_offcut_mm=20)
    check_plan(plan, parts, stock)
    return [(snap.at_mm, snap.frees, snap.rest) for snap in plan.sheets[0].snaps]


def test_what_lies_beyond_a_line_is_said_to_be_the_rest():
    """A sheet 90 wide less a snap at 60: the deck is as wide as the sheet was cut, less 60."""
    parts = [SheetPart("deck", 90, 30, 1, SHEET), SheetPart("wall", 90, 60, 1, SHEET)]
    assert snapped(parts, 90, 90) == [(60, ("wall", "deck"), ("deck",))]


def test_parts_off_a_strip_that_is_the_rest_are_the_rest_too():
    """A sheet 60 wide less a base of 36: the strip left is 24 wide by what the sheet was, and so are all its walls."""
    parts = [SheetPart("base", 100, 36, 1, SHEET), SheetPart("wall", 20, 24, 5, SHEET)]
    said = snapped(parts, 100, 60)
    assert said[0] == (36, ("base",), ())
    assert Counter(name for _, _, rest in said for name in rest) == {"wall": 5}


def test_a_part_of_an_equal_set_is_measured_and_another_is_the_rest():
    parts = [SheetPart("end", 20, 24, 1, SHEET), SheetPart("post", 40, 24, 2, SHEET, True, "posts")]
    assert snapped(parts, 100, 24) == [(40, ("post",), ()), (40, ("post", "end"), ("end",))]


def test_an_equal_set_that_just_fills_the_sheet_says_which_is_the_rest():
    parts = [SheetPart("post", 30, 24, 3, SHEET, True, "posts")]
    assert snapped(parts, 90, 24) == [(30, ("post",), ()), (30, ("post", "post"), ("post",))]


@settings(max_examples=60, deadline=None)
@given(sizes, st.integers(5, 60), st.sampled_from([0, 3]))
def test_equal_sides_are_measured_or_said_to_be_the_rest(listed, equal, least):
    parts = [
        SheetPart(f"part {at}", a if at % 2 else equal, b, n, SHEET, True, None if at % 2 else "ends")
        for at, (a, b, n) in enumerate(listed)
    ]
    stock = [SheetStock(SHEET, 90, 64)]
    check_plan(lay_out_sheet(parts, stock, least_snap_mm=least, least_offcut_mm=10, effort=3_000), parts, stock)


@given(sizes, st.integers(0, 63))
def test_halves_changed_over_are_the_same_halves(listed, chosen):
    filler, pool = Filler(ways_of(listed), 0, 1), {at: count for at, (_, _, count) in enumerate(listed)}
    equal = {at: a for at, (a, _, _) in enumerate(listed) if chosen >> at & 1}
    for root in in_rows(filler, 300, 200, pool):
        found = measured(root, equal)
        assert Counter((each.length, each.width, each.part) for each in panels_in(found)) == Counter(
            (each.length, each.width, each.part) for each in panels_in(root)
        )
        assert unmeasured(found, equal) == unmeasured(root, equal)
        assert measured(found, equal) == found
        assert measured(root, {}) is root

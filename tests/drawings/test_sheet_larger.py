"""The crowded corner of a sheet: all its parts, its own snaps, larger than in the figure of the whole."""

from modelmath.cutting.sheet_layout import SheetPart, SheetStock, lay_out_sheet
from modelmath.drawings.figures.sheet_larger import CROWDED, WORTH_IT, crowded_corner
from modelmath.drawings.figures.sheet_snaps import TALLEST, sheet_snaps
from modelmath.drawings.shapes import Box

SHEET = "1 mm sheet"


def laid(parts, length=300, width=150):
    stock = [SheetStock(SHEET, length, width)]
    return lay_out_sheet(parts, stock, least_snap_mm=3, least_offcut_mm=20, effort=3_000).sheets[0]


def parts_drawn(drawing):
    return sorted((each.width, each.height) for each in drawing.shapes if isinstance(each, Box) and each.name == "part")


def test_few_snaps_are_left_in_one_figure():
    sheet = laid([SheetPart("pad", 20, 20, 2, SHEET)])
    assert len(sheet.snaps) <= CROWDED
    assert crowded_corner(sheet, TALLEST) is None


def test_a_sheet_used_all_over_has_no_corner_worth_drawing():
    sheet = laid([SheetPart("pad", 29, 29, 50, SHEET)])
    assert len(sheet.snaps) > CROWDED
    assert crowded_corner(sheet, TALLEST) is None


def test_the_corner_has_every_part_and_ends_at_no_panel():
    sheet = laid([SheetPart("pad", 10, 10, 8, SHEET), SheetPart("post", 30, 6, 6, SHEET)])
    corner = crowded_corner(sheet, TALLEST)
    assert corner.pieces == sheet.pieces
    right, top = corner.length_mm, corner.width_mm
    assert all(each.x_mm + each.length_mm <= right and each.y_mm + each.width_mm <= top for each in corner.pieces)
    assert all(each.x_mm + each.length_mm <= right and each.y_mm + each.width_mm <= top for each in corner.offcuts)
    for snap in corner.snaps:
        x, y, length, width = snap.panel
        assert x + length <= right
        assert y + width <= top
        assert 0 < snap.at_mm <= (length if snap.along == "width" else width)


def test_snaps_within_keep_number_and_distance_and_those_left_out_lie_beyond():
    sheet = laid([SheetPart("pad", 10, 10, 8, SHEET), SheetPart("post", 30, 6, 6, SHEET)])
    corner = crowded_corner(sheet, TALLEST)
    kept = {snap.number: snap for snap in corner.snaps}
    for snap in sheet.snaps:
        x, y, *_ = snap.panel
        at, end = (x, corner.length_mm) if snap.along == "width" else (y, corner.width_mm)
        if snap.number in kept:
            assert kept[snap.number].at_mm == snap.at_mm
        else:
            assert at + snap.at_mm > end or x >= corner.length_mm or y >= corner.width_mm


def test_it_is_drawn_larger_and_says_what_it_is_a_corner_of():
    sheet = laid([SheetPart("pad", 10, 10, 8, SHEET), SheetPart("post", 30, 6, 6, SHEET)])
    corner = crowded_corner(sheet, TALLEST)
    small, large = parts_drawn(sheet_snaps(sheet, 640)), parts_drawn(sheet_snaps(corner, 640, sheet))
    assert len(small) == len(large) == 14
    times = [big[0] / little[0] for big, little in zip(large, small, strict=True)]
    assert min(times) >= WORTH_IT
    title = sheet_snaps(corner, 640, sheet).title
    assert title.startswith("Sheet 1: 1 mm sheet, 300.00 × 150.00 mm, to buy; of it the lower left ")

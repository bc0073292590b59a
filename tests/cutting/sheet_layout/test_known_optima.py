"""Layouts of published and generated cases whose best is known.

tests/published/rect2d.json: families Hopper_T and Hopper_N are the strip cases of E. Hopper (2000), 17 to 199
rectangles for a strip 200 wide, numbers from the open collection of the ESICUP working group (CC0 1.0). The area of
the rectangles is 200 x 200, so no layout is shorter than 200; by the source's description the T cases are parted by
guillotine cuts, so 200 is the least there. The families gen_square_1 to 6 were generated: sides drawn evenly from the
ranges of classes 1 to 6 of J. O. Berkey and P. Y. Wang (1987), no turning; a case was kept only where a lower bound
(area, dual-feasible functions) met a guillotine layout, so the number of sheets is the fewest.
"""

import json

import pytest
from cutting.sheet_layout.sheet_check import check_plan, check_sheet
from published import FOLDER

from modelmath.cutting.sheet_layout import SheetPart, SheetStock, lay_out_sheet, least_height

CASES = json.loads((FOLDER / "rect2d.json").read_text("utf-8"))["instances"]
SQUARE = [case for case in CASES if case["family"].startswith("gen_square")]
STRIP = [case for case in CASES if case["family"].startswith("Hopper") and len(case["parts"]) <= 97]


def parts_of(case):
    turn = "rotation allowed" in case["task"]
    return [SheetPart(f"part {at}", a, b, 1, "sheet", turn) for at, (a, b) in enumerate(case["parts"])]


@pytest.mark.parametrize("case", SQUARE, ids=lambda case: case["name"])
def test_fewest_sheets_are_found_and_proven(case):
    parts, stock = parts_of(case), [SheetStock("sheet", case["width"], case["height"])]
    plan = lay_out_sheet(parts, stock, least_snap_mm=0)
    check_plan(plan, parts, stock)
    assert plan.new_sheets == plan.bound == case["optimum_sheets"] == case["guillotine_optimum_sheets"]


@pytest.mark.parametrize("case", STRIP[::4], ids=lambda case: case["name"])
def test_heights_are_never_below_the_least_and_seldom_far_above(case):
    found = least_height(parts_of(case), case["width"], effort=150_000)
    check_sheet(found.sheet, 0, 0, 0)
    assert len(found.sheet.pieces) == len(case["parts"])
    assert found.bound_mm == case["optimum_height"] <= found.height_mm <= 1.15 * case["optimum_height"]

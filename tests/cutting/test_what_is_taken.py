"""What a plan takes: how many pieces, which counts, and what is said of the others."""

from __future__ import annotations

import re
from fractions import Fraction

import pytest

from modelmath.cutting import CutPart, CutStock, plan_cuts, stock_of
from modelmath.cutting.sheet_layout import SheetPart, SheetStock, lay_out_sheet, least_height
from modelmath.cutting.sheet_layout.layout import lay_out_sheet_in_steps
from modelmath.cutting.stock import check_pieces, whole_number
from modelmath.cutting.strips import plan_cuts_in_steps
from modelmath.errors import DoesNotFit, OutOfRange
from modelmath.materials import StockStrip, parse_strip
from modelmath.steps import at_once


def refused(text):
    return pytest.raises(OutOfRange, match=f"^{re.escape(text)}$")


def test_twenty_thousand_pieces_and_no_more():
    check_pieces("HO 6x10", 20_000)
    text = (
        "the list of parts from HO 6x10 is 20,001 pieces long; it must be 20,000 pieces or fewer. "
        "Plan them in several lots."
    )
    with refused(text):
        check_pieces("HO 6x10", 20_001)
    with refused(text):
        plan_cuts([CutPart("a", 1, 20_000, "HO 6x10"), CutPart("b", 1, 1, "HO 6x10")], [CutStock("HO 6x10", 9)])
    with refused(text.replace("HO 6x10", "sheet")):
        parts = [SheetPart("a", 1, 1, 20_000, "sheet"), SheetPart("b", 1, 1, 1, "sheet")]
        lay_out_sheet(parts, [SheetStock("sheet", 9, 9)], least_snap_mm=0)


@pytest.mark.parametrize("count", [1, 2, 10**9])
def test_whole_counts_are_taken(count):
    whole_number(count, "count of post", "Write 4.")
    assert CutPart("post", 30, count, "strip").count == CutStock("strip", 30, count).count == count
    assert SheetPart("wall", 30, 20, count, "sheet").count == SheetStock("sheet", 30, 20, count).count == count


@pytest.mark.parametrize("count", [0, -1, 1.0, True, False, "4", None])
def test_other_counts_are_not(count):
    needed = f"count of {{}} is {count!r}; it must be a whole number, 1 or more. {{}}"
    with refused(needed.format("post", "Write 4.")):
        whole_number(count, "count of post", "Write 4.")
    with refused(needed.format("post", "Leave the part out if none is needed.")):
        CutPart("post", 30, count, "strip")
    with refused(needed.format("wall", "Leave the part out if none is needed.")):
        SheetPart("wall", 30, 20, count, "sheet")
    if count is not None:
        write = "Leave the row out, or write None to buy as needed."
        with refused(needed.format("strip", write)):
            CutStock("strip", 30, count)
        with refused(needed.format("sheet", write)):
            SheetStock("sheet", 30, 20, count)


def test_offcuts_have_a_count():
    assert CutStock("strip", 30, 2, offcut=True).offcut
    assert not CutStock("strip", 30).offcut
    assert not SheetStock("sheet", 30, 20).offcut
    said = "count of the {} offcuts is None; it must be a whole number. Offcuts can't be bought."
    with refused(said.format("strip")):
        CutStock("strip", 30, offcut=True)
    with refused(said.format("sheet")):
        SheetStock("sheet", 30, 20, offcut=True)


def test_sizes_are_exact_and_above_nothing():
    part, row = SheetPart("wall", 0.1, 20, 1, "sheet"), SheetStock("sheet", 100, 0.3, thickness_mm=0.5)
    assert (part.length_mm, row.width_mm, row.thickness_mm) == (Fraction(1, 10), Fraction(3, 10), Fraction(1, 2))
    assert SheetStock("sheet", 100, 50).thickness_mm is None
    for what, make in (
        ("length_mm of wall", lambda: SheetPart("wall", 0, 20, 1, "sheet")),
        ("width_mm of wall", lambda: SheetPart("wall", 20, 0, 1, "sheet")),
        ("length_mm of sheet", lambda: SheetStock("sheet", 0, 20)),
        ("width_mm of sheet", lambda: SheetStock("sheet", 20, 0)),
        ("thickness_mm of sheet", lambda: SheetStock("sheet", 20, 20, thickness_mm=0)),
        ("length_mm of post", lambda: CutPart("post", 0, 1, "strip")),
        ("length_mm of strip", lambda: CutStock("strip", 0)),
    ):
        with refused(f"{what} is 0 mm; it must be above 0 mm. Write a positive number of mm."):
            make()


def test_a_part_lies_either_way_unless_it_may_not_or_need_not():
    assert SheetPart("wall", 30, 20, 1, "sheet").ways == ((30, 20), (20, 30))
    assert SheetPart("wall", 30, 20, 1, "sheet", may_turn=False).ways == ((30, 20),)
    assert SheetPart("wall", 30, 30, 1, "sheet").ways == ((30, 30),)


def test_a_strip_gives_its_length_less_what_is_trimmed_off():
    assert plan_cuts([CutPart("beam", 278.5, 1, "strip")], [CutStock("strip", 280)], 0, 1.5).new_strips == 1
    text = (
        "beam, 279.00 mm long, does not fit: 0.50 mm too little, because the longest strip is 280.00 mm, of which "
        "1.50 mm is trimmed off. List a longer strip, or make the part of two."
    )
    with pytest.raises(DoesNotFit, match=f"^{re.escape(text)}$"):
        plan_cuts([CutPart("post", 9, 1, "strip"), CutPart("beam", 279, 1, "strip")], [CutStock("strip", 280)], 0, 1.5)


def test_a_part_that_has_no_place_on_hand_is_named_with_what_is_sold():
    """Two of 110 need the one strip of 120: what is sold is 100. The first by name of those as long is named."""
    stock = [CutStock("strip", 120, 1), CutStock("strip", 100)]
    parts = [CutPart("post", 9, 1, "strip"), CutPart("rail", 110, 1, "strip"), CutPart("beam", 110, 1, "strip")]
    text = (
        "beam, 110.00 mm long, does not fit: 11.00 mm too little, because no place was found for it on the strip on "
        "hand, and the longest to buy is 100.00 mm, of which 1.00 mm is trimmed off. "
        "List a longer strip, or make the part of two."
    )
    with pytest.raises(DoesNotFit, match=f"^{re.escape(text)}$"):
        plan_cuts(parts, stock, 0, 1)
    text = (
        "beam, 110.00 mm long, does not fit: 110.00 mm too little, because no place was found for it on the strip "
        'offcuts and no full strip is listed. Add CutStock("strip", length_mm, count=None) for strip to buy.'
    )
    with pytest.raises(DoesNotFit, match=f"^{re.escape(text)}$"):
        plan_cuts(parts, [CutStock("strip", 120, 1, offcut=True)], 0, 1)


def test_the_drawer_is_stock_row_by_row():
    strip = parse_strip("HO 6x10")
    assert stock_of([StockStrip(strip, 280, 3), StockStrip(strip, 90, 1, True)]) == [
        CutStock("HO 6x10", 280, 3), CutStock("HO 6x10", 90, 1, offcut=True),
    ]  # fmt: skip


def test_without_losses_given_none_is_counted_and_twenty_is_the_least_kept():
    """Two of 50 use up 100; of 80 from 100 just 20 are left, and of 80.5 less than is kept: common practice."""
    parts, stock = [CutPart("post", 50, 2, "strip")], [CutStock("strip", 100)]
    for plan in (plan_cuts(parts, stock), at_once(plan_cuts_in_steps(parts, stock))):
        assert (plan.new_strips, plan.scrap_mm, plan.kerf_mm, plan.end_trim_mm) == (1, 0, 0, 0)
    for length, left in ((80, 20), (80.5, 0)):
        parts = [CutPart("post", length, 1, "strip")]
        for plan in (plan_cuts(parts, stock), at_once(plan_cuts_in_steps(parts, stock))):
            assert (plan.longest_offcut_mm, plan.least_offcut_mm) == (left, 20)


def test_without_losses_given_a_sheet_is_used_up_and_all_that_is_left_is_kept():
    parts = [SheetPart("wall", 60, 50, 1, "sheet"), SheetPart("roof", 39.5, 50, 1, "sheet")]
    stock = [SheetStock("sheet", 100, 50)]
    for plan in (lay_out_sheet(parts, stock, least_snap_mm=0), at_once(lay_out_sheet_in_steps(parts, stock, 0))):
        assert (plan.new_sheets, plan.scrap_mm2, plan.kerf_mm, plan.least_offcut_mm) == (1, 0, 0, 0)
        assert [(each.length_mm, each.width_mm) for each in plan.sheets[0].offcuts] == [(Fraction(1, 2), 50)]
    found = least_height([SheetPart("wall", 60, Fraction("49.5"), 1, "sheet", may_turn=False)], 50)
    assert (found.height_mm, found.proven) == (60, True)
    assert [(each.length_mm, each.width_mm) for each in found.sheet.offcuts] == [(60, Fraction(1, 2))]

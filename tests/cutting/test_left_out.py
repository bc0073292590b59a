"""Of a list, what no strip or sheet holds is left out with its reason; the rest is planned as without it."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest

from modelmath.cutting.from_drawer import Settings, cut_list, lay_out_what_fits, sheet_stock
from modelmath.cutting.sheet_layout import SheetPart, SheetStock
from modelmath.cutting.typed import read_parts
from modelmath.errors import DoesNotFit
from modelmath.materials import Sheet

HOW = Settings(Fraction(0), Fraction(1), Fraction(20), Fraction(300), (Fraction(300), Fraction(150)))
SHEET = "1 mm sheet"
WALL, FLOOR, BOARD = (
    SheetPart(name, Fraction(length), Fraction(width), count, SHEET)
    for name, length, width, count in (("wall", 30, 20, 2), ("floor", 60, 18, 1), ("board", 310, 20, 3))
)
ONE = SheetStock(SHEET, Fraction(100), Fraction(50), count=1, thickness_mm=Fraction(1))


def test_a_strip_too_long_is_left_out_and_the_others_are_cut_as_without_it():
    others = "post; 21 mm; 4; HO 6x10\nsill; 120 mm; 2; HO 4x4"
    found = cut_list(read_parts(f"beam; 310 mm; 2; HO 6x10\n{others}"), None, HOW)
    (why,) = found.left_out
    assert "beam" in why
    assert "310" in why
    assert found.strips == cut_list(read_parts(others), None, HOW).strips
    assert found.strips.new_strips == 2


def test_all_that_fits_leaves_nothing_out():
    layout, left_out = lay_out_what_fits([WALL, FLOOR], [ONE], Fraction(20))
    assert left_out == ()
    assert layout is not None
    assert sorted(piece.part for sheet in layout.sheets for piece in sheet.pieces) == ["floor", "wall", "wall"]


def test_a_part_larger_than_any_sheet_is_left_out_in_words():
    layout, (why,) = lay_out_what_fits([WALL, BOARD, FLOOR], [ONE], Fraction(20))
    assert "board" in why
    assert layout == lay_out_what_fits([WALL, FLOOR], [ONE], Fraction(20))[0]


def test_nothing_that_fits_gives_no_layout_and_each_reason():
    layout, left_out = lay_out_what_fits([BOARD, replace(BOARD, name="roof")], [ONE], Fraction(20))
    assert layout is None
    assert [name in why for name, why in zip(("board", "roof"), left_out, strict=True)] == [True, True]


def test_what_fits_one_by_one_but_not_together_is_refused_as_a_whole():
    piece, left = replace(ONE, offcut=True), replace(FLOOR, width_mm=Fraction(45))
    assert lay_out_what_fits([left], [piece], Fraction(20))[1] == ()
    with pytest.raises(DoesNotFit):  # 2 x 60 x 45 mm2 are more than 100 x 50 mm2
        lay_out_what_fits([replace(left, count=2)], [piece], Fraction(20))


def test_new_sheet_of_each_kind_asked_for_is_as_large_as_it_is_sold():
    kinds = [Sheet("metric", 1), Sheet("decimal inch", Fraction("1.016"))]
    found = sheet_stock(kinds, None, (Fraction(300), Fraction(150)))
    assert [(each.name, each.length_mm, each.width_mm, each.count) for each in found] == [
        ("1 mm sheet", 300, 150, None),
        (".040 sheet", 300, 150, None),
    ]

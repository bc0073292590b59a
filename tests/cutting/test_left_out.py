"""Of a list, what no strip or sheet holds is left out with its reason; the rest is planned as without it."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest

from modelmath.cutting.from_drawer import Settings, cut_list, cut_list_in_steps, lay_out_what_fits, sheet_stock
from modelmath.cutting.sheet_layout import SheetPart, SheetStock
from modelmath.cutting.typed import read_parts
from modelmath.errors import DoesNotFit
from modelmath.materials import Held, Sheet, StockSheet, parse_sheet

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


def told(steps):
    """Return what is told on the way: what is done next, and how much of all is done by then."""
    found = []
    try:
        while True:
            found.append(next(steps))
    except StopIteration:
        return found


def test_strips_are_the_larger_part_of_the_work():
    """As it is told: up to seven tenths, and sheet from there on, one kind after the other."""
    parts = read_parts("post; 21 mm; 4; HO 6x10\nfloor; 60 x 50 mm; 1; .040 sheet\nwall; 30 x 20 mm; 1; 1 mm sheet")
    shares = {each.doing: each.share for each in told(cut_list_in_steps(parts, None, HOW))}
    strips = [share for doing, share in shares.items() if doing.startswith("Cutting from HO 6x10: ")]
    assert strips == sorted(strips)
    assert (strips[0], strips[-1]) == (0, pytest.approx(0.9 * 0.7))
    assert shares["Laying out on .040 sheet"] == pytest.approx(0.7)
    assert shares["Laying out on 1 mm sheet"] == pytest.approx(0.85)


def test_each_part_is_named_while_a_place_for_it_is_looked_for():
    parts = read_parts("beam; 310 mm; 2; HO 6x10\npost; 21 mm; 4; HO 6x10")
    doing = [each.doing for each in told(cut_list_in_steps(parts, None, HOW))]
    assert [each for each in doing if each.startswith("Looking")] == [
        "Looking for a place for beam", "Looking for a place for post",
    ]  # fmt: skip


def test_a_part_fits_if_one_of_it_does():
    """Two of 60 x 45 are too many for 100 x 50, beside a board that fits none: the 60 x 45 is not what is left out."""
    left = replace(FLOOR, width_mm=Fraction(45), count=1)
    layout, (why,) = lay_out_what_fits([BOARD, left], [replace(ONE, offcut=True)], Fraction(20))
    assert why.startswith("board, ")
    assert [piece.part for piece in layout.sheets[0].pieces] == ["floor"]
    with pytest.raises(DoesNotFit, match=r"^floor, "):
        lay_out_what_fits([BOARD, replace(left, count=2)], [replace(ONE, offcut=True)], Fraction(20))


def test_only_sheet_of_the_kinds_asked_for_is_taken_from_the_drawer():
    held = [StockSheet(parse_sheet(name), 90, 40, 2, name == "1 mm sheet") for name in ("1 mm sheet", ".040 sheet")]
    found = sheet_stock([Sheet("metric", 1)], Held((), tuple(held)), (Fraction(300), Fraction(150)))
    assert found == [
        SheetStock("1 mm sheet", 90, 40, 2, offcut=True, thickness_mm=1),
        SheetStock("1 mm sheet", 300, 150, thickness_mm=1),
    ]

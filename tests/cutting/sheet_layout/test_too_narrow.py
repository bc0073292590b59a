"""A part that is too narrow, too large or leaves too little to snap off is refused, by how much and what to do."""

import re
from fractions import Fraction

import pytest

from modelmath.cutting.sheet_layout.check import check_listed, check_narrow, check_parts, check_width
from modelmath.cutting.sheet_layout.stock import SheetPart, SheetStock
from modelmath.errors import DoesNotFit, OutOfRange


def part(length, width):
    return SheetPart("sill", Fraction(length), Fraction(width), 1, ".040 sheet")


@pytest.mark.parametrize("sides", [(40, 2), (2, 40)])
def test_the_narrower_side_counts(sides):
    with pytest.raises(DoesNotFit) as raised:
        check_narrow(".040 sheet", [part(60, 50), part(*sides)], Fraction(3))
    assert raised.value.short_mm == 1
    assert str(raised.value).startswith("sill, ")
    assert "what is snapped off .040 sheet has to be 3.00 mm wide at least" in str(raised.value)


def test_one_just_as_wide_is_not_refused():
    check_narrow(".040 sheet", [part(40, 3)], Fraction(3))


LEAST, KERF = Fraction(5), Fraction(1)


def short_by(check, *given):
    """Return by how much a part does not fit and what is said; 0 where it fits."""
    try:
        check(*given)
    except DoesNotFit as refused:
        return refused.short_mm, str(refused)
    return 0, ""


@pytest.mark.parametrize(
    ("side", "short", "cause"),
    [
        (50, 0, ""),
        (49, 0, ""),  # the cut runs off the edge
        (48, 4, "the sheet is 50.00 mm wide, which leaves 1.00 mm to snap off, and the least is 5.00 mm"),
        (45, 1, "the sheet is 50.00 mm wide, which leaves 4.00 mm to snap off, and the least is 5.00 mm"),
        (44, 0, ""),  # 5 and the cut
        (51, 1, "the sheet is 50.00 mm wide, and the part may not be turned"),
        (53, 3, "the sheet is 50.00 mm wide, and the part may not be turned"),
    ],
)
def test_what_a_part_leaves_of_a_sheet_as_wide_as_given(side, short, cause):
    parts = [SheetPart("sill", 60, side, 1, "sheet", may_turn=False)]
    found, said = short_by(check_width, parts, Fraction(50), LEAST, KERF)
    assert found == short
    assert cause in said
    remedy = "Take a wider sheet, or make the part of two." if side > 50 else (
        "Take a sheet of another width; or allow a smaller least snap width, if you can snap that."
    )  # fmt: skip
    assert said.endswith(remedy if short else "")
    assert bool(said) is bool(short)
    rows = [SheetStock("sheet", 100, 50)]
    found, said = short_by(check_parts, "sheet", parts, rows, LEAST, KERF)
    assert found == short
    assert cause.replace("the sheet is 50.00 mm wide", "the nearest sheet is 100.00 × 50.00 mm") in said
    assert bool(said) is bool(short)
    remedy = "List a larger sheet, or make the part of two." if side > 50 else (
        "List a sheet of another size; or allow a smaller least snap width, if you can snap that."
    )  # fmt: skip
    assert said.endswith(remedy if short else "")


def test_a_part_that_fits_the_other_way_is_not_refused():
    """On 50: 48 leaves too little, 40 leaves 10; and of 70 x 53 and 53 x 70 neither fits, the first by 3."""
    assert short_by(check_width, [SheetPart("sill", 40, 48, 1, "sheet")], Fraction(50), LEAST, KERF) == (0, "")
    found, said = short_by(check_width, [SheetPart("sill", 70, 53, 1, "sheet")], Fraction(50), LEAST, KERF)
    assert (found, "may not be turned" in said) == (3, False)
    # 53 is too wide, and 46 leaves 3 and the cut: 2 too little.
    found, said = short_by(check_width, [SheetPart("sill", 46, 53, 1, "sheet")], Fraction(50), LEAST, KERF)
    assert (found, "leaves 3.00 mm" in said) == (2, True)
    rows = [SheetStock("sheet", 100, 50)]
    assert short_by(check_parts, "sheet", [SheetPart("sill", 47, 90, 1, "sheet")], rows, LEAST, KERF)[0] == 3
    assert short_by(check_parts, "sheet", [SheetPart("sill", 50, 90, 1, "sheet")], rows, LEAST, KERF) == (0, "")


def test_of_several_sheets_the_nearest_is_named():
    """120 x 60: 20 too little on 100 x 80, and 10 on 130 x 50; turned, on 80 x 115, it is 5."""
    rows = [SheetStock("sheet", 100, 80), SheetStock("sheet", 130, 50), SheetStock("sheet", 80, 115)]
    nearest_of = ((rows[:1], 20, "100.00 × 80.00"), (rows[:2], 10, "130.00 × 50.00"), (rows, 5, "80.00 × 115.00"))
    for some, short, nearest in nearest_of:
        found, said = short_by(check_parts, "sheet", [SheetPart("wall", 120, 60, 1, "sheet")], some, LEAST, KERF)
        assert found == short
        assert said == (
            f"wall, 120.00 × 60.00 mm, does not fit: {short}.00 mm too little, because the nearest sheet is "
            f"{nearest} mm. List a larger sheet, or make the part of two."
        )
    assert short_by(check_parts, "sheet", [part(40, 3), part(100, 80)], rows[:1], Fraction(3), KERF) == (0, "")


def test_the_thinner_of_two_rests_is_the_one_that_is_too_little():
    """97 x 46 on 100 x 50 with a cut of 1: 2 and 3 are left, of 5; the 2 is what is said."""
    thin = SheetPart("wall", 97, 46, 1, "sheet", may_turn=False)
    found, said = short_by(check_parts, "sheet", [thin], [SheetStock("sheet", 100, 50)], LEAST, KERF)
    assert (found, "leaves 2.00 mm to snap off" in said) == (3, True)


def test_a_sheet_that_is_not_listed_is_named():
    text = (
        "sheet_name of sill is 'sheet'; it must be the name of a row of the stock. "
        'Add SheetStock("sheet", length_mm, width_mm) for sheet to buy.'
    )
    with pytest.raises(OutOfRange, match=f"^{re.escape(text)}$"):
        check_listed("sheet", [part(40, 3), SheetPart("wall", 9, 9, 1, "sheet")], [])
    check_listed("sheet", [part(40, 3)], [SheetStock("sheet", 1, 1)])


def test_each_part_of_a_list_is_looked_at():
    fits, wide = part(40, 20), SheetPart("wall", 120, 53, 1, "sheet")
    for listed in ([fits, wide], [wide, fits], [fits, fits, wide]):
        assert short_by(check_parts, "sheet", listed, [SheetStock("sheet", 100, 80)], LEAST, KERF)[0] == 20
        assert short_by(check_width, listed, Fraction(50), LEAST, KERF)[0] == 3
        assert short_by(check_narrow, "sheet", listed, Fraction(21))[0] == 1

"""Parts listed by hand, and a drawer to cut them from."""

import re
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from modelmath.cutting.from_drawer import Settings, cut_list
from modelmath.cutting.typed import read_parts
from modelmath.errors import ModelMathError, OutOfRange
from modelmath.materials import Held, StockSheet, StockStrip, parse_sheet, parse_strip

COUNT = "count is '{}'; it must be a whole number, 1 to 2000. Write 4 for four of them."
HOW = Settings(Fraction(0), Fraction(1), Fraction(20), Fraction(300), (Fraction(300), Fraction(150)))


def test_strip_and_sheet_are_told_apart_by_what_they_are_cut_from():
    found = read_parts(
        "corner post; 6 scale ft; 4; 6x10; posts\nbulkhead; 21 x 18.5 mm; 1; .040 sheet\n\n"
        "plate; 1/2 x 3/4 in; 2; 1 mm sheet",
        "HO",
    )
    (post,), (wall, plate) = found.strips, found.sheets
    # HO is 3.5 mm to the foot: 6 scale feet are 21 mm.
    assert (post.name, post.length_mm, post.count, post.stock_name, post.equal_set) == (
        "corner post",
        21,
        4,
        "HO 6x10",
        "posts",
    )
    assert (wall.length_mm, wall.width_mm, wall.sheet_name) == (21, Fraction(37, 2), ".040 sheet")
    assert (plate.length_mm, plate.width_mm, plate.count) == (Fraction("12.7"), Fraction("19.05"), 2)
    assert [sheet.name for sheet in found.kinds] == [".040 sheet", "1 mm sheet"]


@pytest.mark.parametrize(
    ("line", "text"),
    [
        (
            "post; 21 mm; 4",
            ("'post; 21 mm; 4': it has not four columns; write name; size; count; what it is cut from, such as "
            "corner post; 21 mm; 4; HO 6x10."),
        ),
        ("post; 21 mm; four; HO 6x10", COUNT.format("four")),
        ("post; 21 mm; 0; HO 6x10", COUNT.format("0")),
        (
            "wall; 21 mm; 1; .040 sheet",
            ("'21 mm': a part of sheet has two sides; write length x width, such as "
            "bulkhead; 21 x 18.5 mm; 1; .040 sheet."),
        ),
        (
            "post; 21; 4; HO 6x10",
            "'21': it has no unit; write a number with a unit, such as 15.9 mm, .040 in or 3 3/4 scale ft.",
        ),
        ("wall; 21 x 18 mm; 1; .040 x .125 sheet",
         ("'.040 x .125 sheet': a sheet goes by its thickness; write its thickness alone, such as .040 sheet or "
         "1 mm sheet; length and width stand apart.")),
    ],
)  # fmt: skip
def test_a_line_that_cannot_be_read_is_kept_aside_with_its_number(line, text):
    found = read_parts(f"post; 21 mm; 4; HO 6x10\n{line}")
    assert [(each.number, each.message) for each in found.bad] == [(2, text)]
    assert len(found.strips) == 1


def test_too_many_lines_are_refused():
    line = "post; 21 mm; 4; HO 6x10\n"
    assert len(read_parts(line * 500).strips) == 500
    text = "the list of parts is 501 lines long; it must be 500 lines or fewer. Paste it in parts."
    with pytest.raises(OutOfRange, match=f"^{re.escape(text)}$"):
        read_parts(line * 501)


@given(st.text(max_size=80))
def test_any_text_gives_parts_or_lines_kept_aside(text):
    try:
        found = read_parts(text, "HO")
    except ModelMathError:
        return
    lines = [line for line in text.splitlines() if line.strip()]
    assert len(found.strips) + len(found.sheets) + len(found.bad) == len(lines)


def test_the_drawer_is_cut_before_anything_is_bought():
    """By hand: four posts of 21 fit the old 90; the wall fits the old sheet of 60 x 40."""
    drawer = Held(
        (StockStrip(parse_strip("HO 6x10"), 90, 1, True), StockStrip(parse_strip("HO 6x10"), 280, 1)),
        (StockSheet(parse_sheet(".040 sheet"), 60, 40, 1, True),),
    )
    listed = read_parts("post; 21 mm; 4; HO 6x10\nwall; 21 x 18.5 mm; 1; .040 sheet")
    held, bought = cut_list(listed, drawer, HOW), cut_list(listed, None, HOW)
    assert (held.strips.new_strips, held.layout.new_sheets) == (0, 0)
    assert [strip.kind for strip in held.strips.strips] == ["offcut"]
    assert (bought.strips.new_strips, bought.layout.new_sheets) == (1, 1)
    assert bought.strips.shopping[0].length_mm == 300
    assert cut_list(read_parts(""), drawer, HOW).layout is None

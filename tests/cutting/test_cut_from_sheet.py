"""What is cut from sheet stands apart from the strips, and shares their stops."""

import re
from fractions import Fraction

import pytest

from modelmath.cutting import Blank, CutPart, CutStock, plan_cuts
from modelmath.errors import OutOfRange
from modelmath.materials import Sheet

STRIP = "HO 6x10"


def test_what_is_cut_from_sheet_shares_the_stops_and_has_no_part_in_the_strips():
    forty = Sheet("decimal inch", Fraction("1.016"))
    parts = [CutPart("post", 30, 4, STRIP, "high")]
    blanks = [
        Blank("wall", 30, 2, forty, 18.5, "high"),
        Blank("floor", 42, 1, forty, Fraction(37, 2)),
        Blank("side", 20, 2, forty, 9),
        Blank("front", 12, 1, Sheet("metric", 1)),
    ]
    made_up = [CutPart("filler", 42, 1, "what is glued up")]
    plan = plan_cuts(parts, [CutStock(STRIP, 280)], 0.5, 1, blanks=blanks, made_up=made_up)
    alone = plan_cuts(parts, [CutStock(STRIP, 280)], 0.5, 1)
    assert (plan.strips, plan.verdicts, plan.shopping) == (alone.strips, alone.verdicts, alone.shopping)
    assert [(stop.length_mm, stop.count) for stop in plan.stops] == [(42, 2), (30, 6), (20, 2), (12, 1)]
    assert plan.stops[0].elsewhere == ((".040 sheet", "floor"), ("what is glued up", "filler"))
    assert plan.stops[1].elsewhere == ((".040 sheet", "wall"),) * 2
    assert [(strip.width_mm, strip.length_mm) for strip in plan.sheets] == [
        (Fraction(37, 2), 1 + 42 + 30 + 30 + 2 * Fraction(1, 2)),
        (9, 1 + 20 + 20 + Fraction(1, 2)),
        (None, 1 + 12),
    ]
    assert [blank.name for blank in plan.sheets[0].blanks] == ["floor", "wall"]
    assert [each.text for each in plan.sheet_shopping] == [
        "sheet .040 in thick, enough for 18.50 × 104.00 mm and 9.00 × 41.50 mm",
        "sheet 1 mm thick, enough for 13.00 mm of the shell's inside width",
    ]
    assert plan.sheets[0].text == (
        "Cut a strip of .040 sheet 18.50 mm wide, 104.00 mm long or more (or two, where the sheet is shorter), then "
        "cut the lengths from it at their stops."
    )
    assert plan.sheets[2].text.startswith("Cut a strip of 1 mm sheet as wide as the shell is inside, 13.00 mm long ")
    assert plan.made_up_text == "No one strip gives the filler: glue up what does."


def test_all_from_sheet_proves_nothing_about_strip():
    plan = plan_cuts([], [], blanks=[Blank("wall", 30, 2, Sheet("metric", 1), 18)])
    assert (plan.strips, plan.new_strips, plan.verdict) == ((), 0, "nothing is cut from strip")
    assert [(stop.count, stop.cuts) for stop in plan.stops] == [(2, ())]


@pytest.mark.parametrize(
    ("make", "text"),
    [
        (
            lambda: plan_cuts(
                [CutPart("left", 30, 1, STRIP, "posts")],
                [CutStock(STRIP, 280)],
                blanks=[Blank("wall", 31, 1, Sheet("metric", 1), 18, "posts")],
            ),
            (
                "length_mm of wall is 31 mm; it must be 30 mm, as left of the equal set 'posts'. "
                "Give both one length, or take one out of the set."
            ),
        ),
        (
            lambda: Blank("wall", 30, 1, Sheet("metric", 1), 0),
            "width_mm of wall is 0 mm; it must be above 0 mm. Write a positive number of mm.",
        ),
    ],
)
def test_wrong_input_says_what_to_write(make, text):
    with pytest.raises(OutOfRange, match=f"^{re.escape(text)}$"):
        make()

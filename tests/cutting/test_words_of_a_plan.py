"""What a plan says of itself: figures and sentences of plans written down by hand, for strip and for sheet."""

from __future__ import annotations

from fractions import Fraction

import pytest

from modelmath.cutting.plan import Cut, CutPlan, CutStrip, GroupVerdict, StageVerdict, StopSetting
from modelmath.cutting.sheet_layout.check import least_snap
from modelmath.cutting.sheet_layout.plan import (
    CutSheet,
    Offcut,
    PieceOfSheet,
    Placed,
    SheetPlan,
    SheetsToBuy,
    SheetVerdict,
    Snap,
)
from modelmath.cutting.sheet_layout.stock import SheetStock
from modelmath.cutting.stock import CutPart
from modelmath.errors import OutOfRange

BOUGHT = Fraction(280)


def group(name="HO 6x10", new=(2, 2), bought=(2, 2), to_buy=(BOUGHT,), **goals):
    stages = [StageVerdict("bought", *map(Fraction, bought)), StageVerdict("new strips", *map(Fraction, new))]
    stages += [StageVerdict(goal.replace("_", " "), *map(Fraction, each)) for goal, each in goals.items()]
    return GroupVerdict(name, *new, to_buy, tuple(stages))


def plan_of(*verdicts, strips=(), **more):
    return CutPlan(tuple(strips), (), verdicts, (), Fraction(0), Fraction(0), **more)


SOLD = " (any to buy 280.00 mm long)"


@pytest.mark.parametrize(
    ("verdicts", "said"),
    [
        ([], "nothing is cut from strip"),
        ([group()], f"proven: no plan buys fewer strips than 2{SOLD}"),
        ([group(bought=(2, 1))], f"not proven: the plan buys 2 strips, and 1 might do{SOLD}"),
        ([group(new=(3, 3))], (
            f"proven: no plan buys fewer strips than 2{SOLD}, and no such plan cuts into fewer whole strips than 3"
        )),
        ([group(new=(3, 2))], (
            f"no plan buys fewer strips than 2{SOLD}; not proven: the plan cuts into 3 whole strips, and 2 might do"
        )),
        ([group(new=(3, 3), bought=(0, 0))],
         "proven: nothing has to be bought, and no such plan cuts into fewer whole strips than 3"),
        ([group(new=(3, 1), bought=(0, 0))],
         "nothing has to be bought; not proven: the plan cuts into 3 whole strips, and 1 might do"),
        ([group(new=(0, 0), bought=(0, 0))], f"all of it comes from offcuts{SOLD}"),
        ([group(new=(0, 0), bought=(0, 0), to_buy=())], "all of it comes from offcuts (none to buy)"),
        ([group(), group(".080 sq", (1, 1), (1, 1), (Fraction("355.6"), BOUGHT))],
         "proven: no plan buys fewer strips than 3 (any to buy 280.00 or 355.60 mm long)"),
        ([group(), group(".080 sq", (1, 1), (1, 0))], f"not proven: the plan buys 3 strips, and 2 might do{SOLD}"),
    ],
)  # fmt: skip
def test_how_good_a_plan_is_in_words(verdicts, said):
    plan = plan_of(*verdicts)
    assert plan.verdict == said
    assert plan.proven is ("proven" not in said or "not proven" not in said)


def test_a_plan_adds_up_its_kinds_of_strip():
    plan = plan_of(group(new=(3, 2), bought=(2, 2)), group(".080 sq", (4, 4), (1, 1)))
    assert (plan.new_strips, plan.bound, plan.bought, plan.proven) == (7, 6, 3, False)
    assert plan_of(group(new=(3, 3), bought=(2, 2))).proven
    assert not plan_of(group(new=(3, 3), bought=(2, 1))).proven
    assert (plan_of().new_strips, plan_of().bound, plan_of().bought, plan_of().proven) == (0, 0, 0, True)


@pytest.mark.parametrize(
    ("goal", "value", "bound", "said"),
    [
        ("bought", 2, 2, "Strips to buy: 2, proven least."),
        ("bought", 2, 1, "Strips to buy: 2, not proven: none could be under 1."),
        ("new strips", 3, 2, "Whole strips cut into, on hand and bought: 3, not proven: none could be under 2."),
        ("length bought", 560, 560, "Length to buy: 560.00 mm, proven least."),
        ("scrap", Fraction("2.5"), 1, (
            "Scrap, saw cuts and end trims in it: 2.50 mm, not proven: none could be under 1.00 mm."
        )),
        ("cut from new strip", 90, 90,
         "Length of parts that come from new strip, not from old offcuts: 90.00 mm, proven least."),
        ("longest offcut", 60, 60, "Longest offcut kept: 60.00 mm, proven longest."),
        ("longest offcut", 60, 70, "Longest offcut kept: 60.00 mm, not proven: none could be over 70.00 mm."),
    ],
)  # fmt: skip
def test_how_good_it_is_by_a_goal_in_words(goal, value, bound, said):
    stage = StageVerdict(goal, Fraction(value), Fraction(bound))
    assert stage.text == said
    assert stage.proven is (value == bound)


def strip(kind, *cuts, name="HO 6x10", offcut=0, kept=True, number=1):
    made = tuple(Cut("post", Fraction(length), Fraction(0), Fraction(length), None) for length in cuts)
    return CutStrip(number, name, Fraction(100), kind, made, Fraction(offcut), kept)


def test_scrap_and_the_longest_offcut_of_all_strips():
    """By hand: of 100 with 40 and 30 cut, 25 are kept and 5 are scrap; of another with 60, 40 are not kept."""
    plan = plan_of(strips=[strip("to buy", 40, 30, offcut=25), strip("to buy", 60, offcut=40, kept=False)])
    assert [each.scrap_mm for each in plan.strips] == [5, 40]
    assert (plan.scrap_mm, plan.longest_offcut_mm) == (45, 25)
    assert (plan_of().scrap_mm, plan_of().longest_offcut_mm) == (0, 0)


def test_what_is_told_beyond_the_number_of_strips():
    """Where no old offcut of a kind is cut, what comes from new strip is all there is, and not told."""
    goals = {"length_bought": (280, 280), "scrap": (0, 0), "cut_from_new_strip": (90, 90), "longest_offcut": (60, 60)}
    verdicts = group(**goals), group(".080 sq", **goals), group("tee", **goals)
    offcuts = [strip("offcut", 40, name=name) for name in (".080 sq", "tee")]
    plan = plan_of(*verdicts, strips=[strip("to buy", 40), *offcuts, strip("on hand", 9)])
    assert [(name, said.split(":")[0].split(",")[0].split(" that")[0]) for name, said in plan.goals] == [
        ("HO 6x10", "Scrap"), ("HO 6x10", "Longest offcut kept"),
        (".080 sq", "Scrap"), (".080 sq", "Length of parts"), (".080 sq", "Longest offcut kept"),
        ("tee", "Scrap"), ("tee", "Length of parts"), ("tee", "Longest offcut kept"),
    ]  # fmt: skip


def test_pieces_at_a_stop_and_parts_that_are_glued_up():
    assert StopSetting(Fraction(40), ((1, "post"), (2, "post")), ((".040 sheet", "wall"),)).count == 3
    assert StopSetting(Fraction(40), ()).count == 0
    made_up = (CutPart("beam", 400, 1, "HO 6x10"), CutPart("sill", 300, 2, "HO 6x10"))
    assert plan_of(made_up=made_up).made_up_text == "No one strip gives the beam, sill: glue up what does."
    assert plan_of().made_up_text == ""


SIDES = ((Fraction(100), Fraction(50)),)


@pytest.mark.parametrize(
    ("new", "bound", "if_bought", "to_buy", "said"),
    [
        (0, 0, 0, SIDES, "all of the sheet comes from offcuts"),
        (2, 2, 2, SIDES, "proven: no layout of sheet uses fewer new sheets than 2 (any to buy 100.00 × 50.00 mm)"),
        (2, 2, 1, (), "proven: no layout of sheet that buys no more uses fewer new sheets than 2 (none to buy)"),
        (2, 1, 1, (*SIDES, (Fraction(9), Fraction("8.5"))), (
            "not proven: the layout of sheet uses 2 new sheets, the bound is 1: at most 1 sheet too many "
            "(any to buy 100.00 × 50.00 or 9.00 × 8.50 mm)"
        )),
        (1, 0, 0, (), (
            "not proven: the layout of sheet uses 1 new sheet, the bound is 0: at most 1 sheet too many (none to buy)"
        )),
        (3, 1, 1, (), (
            "not proven: the layout of sheet uses 3 new sheets, the bound is 1: at most 2 sheets too many (none to buy)"
        )),
    ],
)  # fmt: skip
def test_how_good_a_layout_is_in_words(new, bound, if_bought, to_buy, said):
    verdict = SheetVerdict("sheet", new, bound, if_bought, to_buy, Fraction(3))
    assert verdict.text == said
    assert verdict.proven is (new == bound)
    plan = SheetPlan((), (verdict, verdict), Fraction(0), Fraction(0))
    assert (plan.new_sheets, plan.bound, plan.proven) == (2 * new, 2 * bound, new == bound)
    assert plan.verdict == f"{said}; {said}"


def sheet(kind, *settings, pieces=((60, 50),), offcuts=((30, 50),), length=100):
    places = [Placed("wall", Fraction(0), Fraction(0), Fraction(a), Fraction(b), False) for a, b in pieces]
    free = [Offcut(Fraction(60), Fraction(0), Fraction(a), Fraction(b)) for a, b in offcuts]
    panel = (Fraction(0), Fraction(0), Fraction(100), Fraction(50))
    snaps = [Snap(at, panel, "width", Fraction(each), "left edge", ()) for at, each in enumerate(settings, start=1)]
    return CutSheet(1, "sheet", kind, Fraction(length), Fraction(50), tuple(places), tuple(snaps), tuple(free))


def test_scrap_and_settings_of_a_sheet():
    """By hand: 100 x 50 less 60 x 50 and 30 x 50 kept is 10 x 50; 20, 20, 30, 20 is three settings."""
    one, two = sheet("to buy", 20, 20, 30, 20), sheet("to buy", offcuts=())
    assert (one.scrap_mm2, one.settings, two.scrap_mm2, two.settings) == (500, 3, 2000, 0)
    plan = SheetPlan((one, two, sheet("on hand"), sheet("to buy", length=90)), (), Fraction(0), Fraction(0))
    assert plan.scrap_mm2 == 500 + 2000 + 500 + 0
    assert plan.shopping == (
        SheetsToBuy("sheet", Fraction(100), Fraction(50), 2), SheetsToBuy("sheet", Fraction(90), Fraction(50), 1),
    )  # fmt: skip
    assert plan.shopping[0].text == "2 × sheet, 100.00 × 50.00 mm"
    assert SheetPlan((), (), Fraction(0), Fraction(0)).verdict == "nothing is cut from sheet"
    piece = PieceOfSheet(one, Fraction(100))
    assert (piece.height_mm, piece.proven, PieceOfSheet(one, Fraction(99)).proven) == (100, True, False)


@pytest.mark.parametrize(
    ("frees", "rest", "said"),
    [
        ((), (), ""),
        (("wall",), (), "wall"),
        (("wall", "roof"), (), "wall; roof"),
        (("wall", "wall"), ("wall",), "wall; wall*"),  # the last of two is the one beyond the line
        (("wall", "roof"), ("wall",), "wall*; roof"),
        (("wall", "wall"), ("wall", "wall"), "wall*; wall*"),
    ],
)
def test_the_piece_that_is_left_over_is_said(frees, rest, said):
    snap = Snap(1, (Fraction(0),) * 4, "width", Fraction(20), "left edge", frees, rest)
    assert snap.frees_text == said.replace("*", ", the piece left over beyond the last line: check its size")


def test_the_least_width_is_three_thicknesses_unless_it_is_given():
    """Three thicknesses: common practice, no source."""
    rows = [SheetStock("sheet", 100, 50, thickness_mm=1.5), SheetStock("sheet", 90, 50, 2, thickness_mm=1.5)]
    assert least_snap("sheet", rows, None) == 4.5
    assert least_snap("sheet", rows, Fraction(2)) == 2
    assert least_snap("sheet", rows, Fraction(0)) == 0
    for others, listed in (
        ([SheetStock("sheet", 100, 50)], "None"),
        ([*rows, SheetStock("sheet", 100, 50)], "1.5 mm, None"),
        ([*rows, SheetStock("sheet", 100, 50, thickness_mm=2)], "1.5 mm, 2 mm"),
    ):
        with pytest.raises(
            OutOfRange, match=rf"^thickness_mm of sheet is {listed}; it must be one thickness, the same"
        ):
            least_snap("sheet", others, None)
        assert least_snap("sheet", others, Fraction(1)) == 1

"""A cut plan as HTML: many snaps folded in tens, a crowded corner drawn larger, the proof folded away."""

import re

import pytest
from sample_jobs import DEMOS

from modelmath.cutting.from_drawer import Cutting
from modelmath.cutting.sheet_layout import SheetPart, SheetStock, lay_out_sheet
from modelmath.job.plan import plan
from modelmath.widgets.plan import cutting

SHEET = "1 mm sheet"
RULE = plan(DEMOS["switcher-ho"]).marks


def laid(parts):
    stock = [SheetStock(SHEET, 300, 150)]
    return lay_out_sheet(parts, stock, least_snap_mm=3, least_offcut_mm=20, effort=3_000)


def folds(html):
    return re.findall(r"<summary>(.*?)</summary>", html)


def test_few_snaps_stand_in_one_table_and_one_figure():
    layout = laid([SheetPart("wall", 40, 30, 2, SHEET)])
    shown = cutting.sheets(layout, RULE)
    assert folds(shown) == []
    assert shown.count("<svg") == 1
    assert shown.count('<th scope="row">') == len(layout.sheets[0].snaps)
    assert "Set the rule at" in shown


def test_many_snaps_are_folded_in_tens_each_in_its_place():
    layout = laid([SheetPart("pad", 10, 10, 8, SHEET), SheetPart("post", 30, 6, 6, SHEET)])
    snaps = layout.sheets[0].snaps
    shown = cutting.sheets(layout, RULE)
    assert len(snaps) > cutting.MOST_SNAPS
    tens = [each for each in folds(shown) if each.startswith("Snaps ")]
    assert tens[0] == "Snaps 1 to 10 of sheet 1"
    assert tens[-1].endswith(f" to {len(snaps)} of sheet 1")
    assert [int(each) for each in re.findall(r'<th scope="row">(\d+)</th>', shown)] == [each.number for each in snaps]
    assert shown.count("<svg") == 2
    assert "Sheet 1, the whole of it" in folds(shown)


def test_without_a_rule_no_column_tells_where_to_set_one():
    assert "Set the rule at" not in cutting.sheets(laid([SheetPart("wall", 40, 30, 2, SHEET)]), None)


@pytest.mark.parametrize("demo", DEMOS)
def test_what_is_proven_is_folded_away(demo):
    made = plan(DEMOS[demo])
    cuts = Cutting(made.cuts, made.sheet_layout.layout)
    assert folds(cutting.goals(cuts)) == ["What is proven of this plan, goal by goal"]
    assert cutting.goals(cuts).count('<th scope="row">') >= len(cuts.strips.verdicts)

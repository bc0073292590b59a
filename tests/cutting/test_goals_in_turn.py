"""The goals of a cut plan in turn, against a search through every plan."""

import re

import full_search
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from modelmath.cutting import CutPart, CutStock, plan_cuts
from modelmath.errors import DoesNotFit, UnknownChoice

STRIP = "HO 6x10"
GOALS = ("bought", "new strips", "length bought", "scrap", "cut from new strip", "longest offcut")


@settings(deadline=None, max_examples=80)
@given(
    pieces=st.lists(st.integers(2, 11), min_size=1, max_size=5),
    offcuts=st.lists(st.integers(3, 12), max_size=3),
    on_hand=st.lists(st.integers(8, 16), max_size=2),
    to_buy=st.lists(st.integers(11, 18), min_size=1, max_size=2, unique=True),
    kerf=st.integers(0, 2),
    trim=st.integers(0, 2),
    useful=st.integers(0, 20),
)
def test_each_goal_in_turn_is_what_a_full_search_finds(pieces, offcuts, on_hand, to_buy, kerf, trim, useful):
    stock = [CutStock(STRIP, length, 1, offcut=True) for length in offcuts]
    stock += [CutStock(STRIP, length, 1) for length in on_hand] + [CutStock(STRIP, length) for length in to_buy]
    parts = [CutPart(f"part {number}", length, 1, STRIP) for number, length in enumerate(pieces)]
    strips = [(length, "offcut") for length in offcuts] + [(length, "on hand") for length in on_hand]
    strips += [(length, "to buy") for length in to_buy for _ in pieces]
    every = [
        full_search.judged(plan, strips, kerf, trim, useful)
        for plan in full_search.every_plan(sorted(pieces, reverse=True), strips, kerf, trim)
    ]
    assume(every)
    try:
        verdict = plan_cuts(parts, stock, kerf, trim, least_offcut_mm=useful).verdicts[0]
    except DoesNotFit:
        assume(False)
    assert tuple(stage.goal for stage in verdict.stages) == GOALS
    left = every
    for at, stage in enumerate(verdict.stages):
        sign = -1 if stage.goal == "longest offcut" else 1
        best = min(plan[at] for plan in left)
        assert sign * stage.bound <= best <= sign * stage.value
        left = [plan for plan in left if plan[at] <= sign * stage.value]


def plan_of(parts, stock, **asked):
    made = [CutPart(f"part {number}", length, count, STRIP) for number, (length, count) in enumerate(parts)]
    return plan_cuts(made, [CutStock(STRIP, *row) for row in stock], **asked)


def test_scrap_is_all_that_is_neither_part_nor_worth_keeping():
    """By hand: 300 less 2 x 120, less trim 1 and two cuts of 0.5, leaves 58; the cuts and the trim are scrap."""
    plan = plan_of([(120, 2)], [(300,)], kerf_mm=0.5, end_trim_mm=1, least_offcut_mm=20)
    (strip,) = plan.strips
    assert (strip.offcut_mm, strip.kept, strip.scrap_mm, plan.longest_offcut_mm) == (58, True, 2, 58)
    too_short = plan_of([(120, 2)], [(300,)], kerf_mm=0.5, end_trim_mm=1, least_offcut_mm=60)
    assert (too_short.strips[0].kept, too_short.scrap_mm, too_short.longest_offcut_mm) == (False, 60, 0)


def test_what_is_left_is_gathered_in_one_offcut():
    """By hand: 40 with 30 twice leaves two offcuts of 30; 40 + 30 + 30 and 40 leave one of 60."""
    gathered = plan_of([(40, 2), (30, 2)], [(100,)], least_offcut_mm=15)
    assert sorted(strip.offcut_mm for strip in gathered.strips) == [0, 60]
    assert gathered.verdicts[0].stage("longest offcut").text == "Longest offcut kept: 60.00 mm, proven longest."


def test_parts_come_from_old_offcuts_where_that_costs_nothing():
    """One new strip is needed for the 90; the two 40s fit it or the old 85 alike, so they are cut from the old one."""
    plan = plan_of([(90, 1), (40, 2)], [(85, 1, True), (200,)], least_offcut_mm=5)
    assert [(strip.kind, [cut.length_mm for cut in strip.cuts]) for strip in plan.strips] == [
        ("offcut", [40, 40]),
        ("to buy", [90]),
    ]


def test_an_unproven_goal_says_what_could_be():
    """Twelve lengths that share no sum: the least scrap of the 90 or so plans worth a look is not settled here."""
    lengths = (
        165, 162, 118.9, 102.5, 96.5, 64.5, 51.2, 36.8, 36.3, 32.5, 16, 13.4, 149.7, 133.3, 127.1, 92.9, 87.7, 73.1,
        58.9, 47.3, 43.7, 29.1, 171.3, 141.1, 109.9,
    )  # fmt: skip
    stage = plan_of([(length, 2) for length in lengths], [(330,)], kerf_mm=0.2).verdicts[0].stage("scrap")
    assert not stage.proven
    assert re.fullmatch(
        r"Scrap, saw cuts and end trims in it: [0-9.]+ mm, not proven: none could be under [0-9.]+ mm\.", stage.text
    )
    assert stage.bound < stage.value


def test_strip_on_hand_is_cut_before_any_is_bought():
    """By hand: two of 254 less 1 mm trim hold 5 x 50 and 50 + 10 x 4; one bought of 355.6 would hold all of it."""
    parts, stock = [(50, 6), (4, 10)], [(254, 2), (355.6,)]
    plan = plan_of(parts, stock, end_trim_mm=1)
    assert [strip.kind for strip in plan.strips] == ["on hand", "on hand"]
    assert (plan.bought, plan.new_strips, plan.proven) == (0, 2, True)
    assert plan.verdict == ("proven: nothing has to be bought, and no such plan cuts into fewer whole strips than 2")
    fewer = plan_of(parts, [(254, 1), (355.6,)], end_trim_mm=1)
    assert [strip.kind for strip in fewer.strips] == ["to buy"]
    assert fewer.verdict == "proven: no plan buys fewer strips than 1 (any to buy 355.60 mm long)"


def test_a_goal_is_asked_for_by_its_name():
    verdict = plan_of([(40, 2)], [(100,)]).verdicts[0]
    assert verdict.stage("new strips").text == "Whole strips cut into, on hand and bought: 1, proven least."
    text = re.escape(f"goal is 'waste'; write one of {', '.join(GOALS)}.")
    with pytest.raises(UnknownChoice, match=f"^{text}$"):
        verdict.stage("waste")

"""From parts and stock to a problem in whole numbers, and from its plan back to strips with their cuts; by hand."""

from __future__ import annotations

from fractions import Fraction

import pytest

from modelmath.cutting import CutPart, CutStock
from modelmath.cutting.convert import cut_strips, problem_of
from modelmath.cutting.optimum.problem import Pattern, Row
from modelmath.cutting.plan import Cut

STRIP = "HO 6x10"
PARTS = [
    CutPart("post", 30, 2, STRIP),
    CutPart("beam", Fraction("60.5"), 1, STRIP, "beams"),
    CutPart("arm", 30, 1, STRIP),
]
HALF, ONE, TWENTY = Fraction(1, 2), Fraction(1), Fraction(20)


def rows_of(*rows, parts=PARTS, losses=(HALF, ONE, TWENTY), per_mm=2):
    return problem_of(parts, [CutStock(STRIP, *row) for row in rows], *losses, per_mm)


def test_lengths_and_losses_are_whole_in_halves_of_a_millimetre():
    problem = rows_of((280,))
    assert (problem.lengths, problem.demand) == ((121, 60), (1, 3))
    assert (problem.kerf, problem.trim, problem.useful) == (1, 2, 40)
    assert problem.rows == (Row(560, 4, "to buy", (0,)),)


def test_strips_of_a_kind_and_length_are_together_in_the_order_they_are_used():
    """Offcuts, then what is on hand, then what is to buy, the shortest first; no more than there are pieces."""
    problem = rows_of((280,), (90, 2), (50, 1, True), (90, 1), (300,), (40, 9, True), (70, 1), (50, 1, True))
    assert problem.rows == (
        Row(80, 4, "offcut", (5, 5, 5, 5)),
        Row(100, 2, "offcut", (2, 7)),
        Row(140, 1, "on hand", (6,)),
        Row(180, 3, "on hand", (1, 1, 3)),
        Row(560, 4, "to buy", (0,)),
        Row(600, 4, "to buy", (4,)),
    )


@pytest.mark.parametrize(("length", "holds"), [(31, True), (Fraction("30.5"), False), (30, False)])
def test_what_holds_no_piece_is_left_out(length, holds):
    """A piece of 30 and the trim of 1."""
    assert (len(rows_of((280,), (length, 1, True)).rows) == 2) is holds


@pytest.mark.parametrize(
    ("rows", "bought"),
    [
        ([(90, 1), (120, 2), (300, 1, True)], (240, (1,))),  # the longest full strip; an offcut is not for sale
        ([(120, 1), (120, 2)], (240, (0,))),
        ([(90, 1), (80,)], (160, (1,))),
        ([(300, 1, True)], None),
    ],
)
def test_the_longest_full_strip_is_for_sale_where_none_is_said_to_be(rows, bought):
    found = [(row.length, row.sources) for row in rows_of(*rows).rows if row.kind == "to buy"]
    assert found == ([] if bought is None else [bought])


def test_strips_come_back_with_their_cuts():
    """On an old 100: trim 1, arm to 31, cut to 31.5, post to 61.5; 38 left. On a new 93: beam and the other post."""
    rows = [CutStock(STRIP, 93), CutStock(STRIP, 100, 2, offcut=True)]
    problem = problem_of(PARTS, rows, HALF, ONE, TWENTY, 2)
    plan = [Pattern(1, ((0, 1), (1, 1))), Pattern(0, ((1, 2),))]
    found = cut_strips(problem, plan, PARTS, rows, (HALF, ONE, TWENTY))
    assert [(each.number, each.stock_name, each.length_mm, each.kind) for each in found] == [
        (0, STRIP, 100, "offcut"), (0, STRIP, 93, "to buy"),
    ]  # fmt: skip
    assert [each.cuts for each in found] == [
        (Cut("arm", 30, 1, 31, None), Cut("post", 30, Fraction("31.5"), Fraction("61.5"), None)),
        (Cut("beam", Fraction("60.5"), 1, Fraction("61.5"), "beams"), Cut("post", 30, 62, 92, None)),
    ]
    assert [(each.offcut_mm, each.kept, each.scrap_mm) for each in found] == [
        (38, True, 2), (Fraction(1, 2), False, Fraction("2.5")),
    ]  # fmt: skip


@pytest.mark.parametrize(
    ("length", "useful", "left", "kept"),
    [
        (30, 0, 0, False),
        (31, 0, HALF, True),
        (Fraction("30.25"), 0, 0, False),
        (51, Fraction("20.5"), Fraction("20.5"), True),
        (51, 21, Fraction("20.5"), False),
    ],
)
def test_what_is_left_is_kept_from_its_least_length_on(length, useful, left, kept):
    """A piece of 30 and a cut of 0.5, which may run off the end; nothing left is nothing kept."""
    rows, parts = [CutStock(STRIP, length)], [CutPart("post", 30, 1, STRIP)]
    losses = (HALF, Fraction(0), Fraction(useful))
    (strip,) = cut_strips(problem_of(parts, rows, *losses, 4), [Pattern(0, ((0, 1),))], parts, rows, losses)
    assert (strip.offcut_mm, strip.kept) == (left, kept)


def test_each_strip_on_hand_is_used_once():
    rows = [CutStock(STRIP, 40, 1), CutStock(STRIP, 90), CutStock(STRIP, 40, 1)]
    parts = [CutPart("post", 30, 2, STRIP)]
    losses = (HALF, ONE, TWENTY)
    problem = problem_of(parts, rows, *losses, 2)
    assert problem.rows[0].sources == (0, 2)
    found = cut_strips(problem, [Pattern(0, ((0, 1),))] * 2, parts, rows, losses)
    assert [(each.kind, each.length_mm) for each in found] == [("on hand", 40)] * 2

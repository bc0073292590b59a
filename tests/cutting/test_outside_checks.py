"""Cut plans beside a general solver and what textbooks know, where the other tests have no such check."""

from __future__ import annotations

from itertools import product

import pytest
from ortools.sat.python import cp_model
from published import published_rows

from modelmath.cutting.optimum.problem import Problem, Row
from modelmath.cutting.optimum.stages import best_plan
from modelmath.cutting.packing import Supply
from modelmath.cutting.search import left_out
from modelmath.cutting.sheet_layout.every_way import fewest_by_every_way

SMALL = [row for row in published_rows("kerf_examples.csv") if 1 < int(row["pieces"]) < 20]


def fewest_by_solver(sizes, length, most):
    """ortools, CP-SAT: the fewest strips of one length that hold the sizes; None where even the most are too few."""
    model = cp_model.CpModel()
    on = {(piece, strip): model.new_bool_var("") for piece in range(len(sizes)) for strip in range(most)}
    used = [model.new_bool_var("") for _ in range(most)]
    for piece in range(len(sizes)):
        model.add_exactly_one(on[piece, strip] for strip in range(most))
    for strip in range(most):
        model.add(sum(size * on[piece, strip] for piece, size in enumerate(sizes)) <= length * used[strip])
    model.minimize(sum(used))
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 1
    return int(solver.objective_value) if solver.solve(model) == cp_model.OPTIMAL else None


CASES = [
    (60, 55, 40, 40, 30, 30, 20),
    (44, 43, 42, 29, 28, 27, 26),
    (70, 50, 50, 30, 30, 30, 20),
    (34,) * 5 + (33,) * 4,
]


@pytest.mark.parametrize("sizes", CASES)
def test_the_best_plan_takes_as_few_strips_as_a_general_solver_finds(sizes):
    lengths = tuple(sorted(set(sizes), reverse=True))
    counts = tuple(sizes.count(each) for each in lengths)
    best = best_plan(Problem(lengths, counts, (Row(100, len(sizes), "to buy", (0,)),), 0, 0, 15))
    value = {stage.goal: stage.value for stage in best.stages}
    assert value["bought"] == fewest_by_solver(sizes, 100, len(sizes))


@pytest.mark.parametrize("row", SMALL, ids=lambda row: row["id"])
def test_a_strip_holds_as_many_pieces_as_the_worked_example(row):
    """kerf_examples.csv, in hundredths of a millimetre: one strip more pieces than that make two."""
    piece, stock, kerf = (round(100 * float(row[name])) for name in ("piece_mm", "stock_mm", "kerf_mm"))
    for more, strips in ((0, 1), (1, 2)):
        problem = Problem((piece,), (int(row["pieces"]) + more,), (Row(stock, 9, "to buy", (0,)),), kerf, 0, 0)
        assert {stage.goal: stage.value for stage in best_plan(problem).stages}["bought"] == strips


def test_a_piece_without_a_place_is_one_for_which_a_general_solver_has_none_either():
    """ortools: the pieces up to the one named don't all go on what is on hand, longest first in the tightest."""
    for sizes in product((70, 60, 50), (50, 45, 40), (40, 30)):
        named = left_out(sizes, Supply((), ((70, 0), (60, 1)), ()))
        fits = max((size for size in range(1, len(sizes) + 1) if _go_on(sizes[:size], (70, 60))), default=0)
        assert named <= fits or named == 0


def _go_on(sizes, strips):
    model = cp_model.CpModel()
    on = {(piece, at): model.new_bool_var("") for piece in range(len(sizes)) for at in range(len(strips))}
    for piece in range(len(sizes)):
        model.add_exactly_one(on[piece, at] for at in range(len(strips)))
    for at, length in enumerate(strips):
        model.add(sum(size * on[piece, at] for piece, size in enumerate(sizes)) <= length)
    return cp_model.CpSolver().solve(model) == cp_model.OPTIMAL


def test_what_was_cut_right_across_goes_back_on_one_sheet_and_a_pinwheel_does_not():
    """Textbooks on cutting, from memory: the pinwheel, the smallest layout that no cuts right across part."""
    halves = [[(60, 80)], [(40, 30)], [(40, 50)]]  # of 100 x 80, by two cuts: their areas fill it
    assert fewest_by_every_way(halves, [], [(100, 80)]) == 1
    assert fewest_by_every_way([*halves, [(1, 1)]], [], [(100, 80)]) == 2
    pinwheel = [[(2, 1)], [(2, 1)], [(1, 2)], [(1, 2)], [(1, 1)]]  # of 3 x 3, which they fill
    assert fewest_by_every_way(pinwheel, [], [(3, 3)]) == 2

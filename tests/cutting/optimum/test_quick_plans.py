"""Quick plans: what packing is given and gives back, sets in turn, and the goals plans are judged by; by hand."""

from __future__ import annotations

import pytest

from modelmath.cutting.optimum import greedy, repeated
from modelmath.cutting.optimum.goals import cost, total
from modelmath.cutting.optimum.greedy import greedy_plan, supply_of
from modelmath.cutting.optimum.problem import Pattern, Problem, Row, pattern_of
from modelmath.cutting.optimum.repeated import best_plan_of, best_plan_of_in_steps
from modelmath.cutting.packing import Bin, Supply
from modelmath.steps import at_once

ROWS = (
    Row(70, 2, "offcut", (0, 0)),
    Row(90, 1, "on hand", (1,)),
    Row(100, 9, "to buy", (2,)),
    Row(120, 9, "to buy", (3,)),
)
PROBLEM = Problem((60, 40), (1, 2), ROWS, 2, 5, 15)


def test_strips_there_still_are_go_by_what_they_hold():
    """Each less the trim of 5, and a cut of 2 more; of what is to buy each kind once, if there is any."""
    assert supply_of(PROBLEM, [2, 1, 9, 1]) == Supply(((67, 0), (67, 0)), ((87, 1),), ((97, 2), (117, 3)))
    assert supply_of(PROBLEM, [1, 0, 0, 2]) == Supply(((67, 0),), (), ((117, 3),))
    assert supply_of(PROBLEM, [0, 0, 0, 0]) == Supply((), (), ())


def test_a_packed_plan_counts_its_pieces_by_their_length():
    """60, 40 and 40, each with a cut of 2: the 62 and a 42 on two offcuts, or all on what is left of a larger strip."""
    plan = greedy_plan(PROBLEM, (1, 2), (2, 1, 9, 9))
    assert sum(sum(n for _, n in each.pieces) for each in plan) == 3
    assert all(sum(PROBLEM.sizes[at] * n for at, n in each.pieces) <= PROBLEM.capacities[each.row] for each in plan)
    assert greedy_plan(PROBLEM, (0, 0), (0, 0, 0, 0)) == []
    assert greedy_plan(PROBLEM, (1, 0), (0, 0, 0, 0)) is None
    assert greedy_plan(PROBLEM, (0, 2), (0, 0, 0, 1)) == [Pattern(3, ((1, 2),))]


@pytest.mark.parametrize(("search", "found"), [(False, None), (True, [Pattern(0, ((0, 2),)), Pattern(1, ((1, 1),))])])
def test_a_place_is_searched_for_only_where_it_is_asked_for(monkeypatch, search, found):
    asked = []

    def searched(sizes, supply):
        asked.append((sizes, supply))
        return [Bin("offcut", 67, 0, [0, 1]), Bin("on hand", 87, 1, [2])]

    monkeypatch.setattr(greedy, "pack", lambda *_given: None)
    monkeypatch.setattr(greedy, "searched", searched)
    assert greedy_plan(PROBLEM, (2, 1), (1, 0, 0, 0), search=search) == found
    assert asked == ([([62, 62, 42], Supply(((67, 0),), (), ()))] if search else [])


@pytest.mark.parametrize(
    ("row", "pieces", "new", "bought", "length", "scrap", "cut"),
    [
        (0, ((0, 1),), 0, 0, 0, 10, 0),  # of 70 less 5 and 62 there are 3 left, too short to keep
        (1, ((0, 1),), 1, 0, 0, 7, 60),  # of 90 there are 23 left; lost are the trim of 5 and a cut of 2
        (2, ((1, 2),), 1, 1, 100, 20, 80),  # of 100 there are 11 left
        (3, ((0, 1), (1, 1)), 1, 1, 120, 20, 100),
    ],
)
def test_what_a_strip_costs_by_each_goal(row, pieces, new, bought, length, scrap, cut):
    costs = {"new strips": new, "bought": bought, "length bought": length, "scrap": scrap, "cut from new strip": cut}
    for goal, each in costs.items():
        assert cost(PROBLEM, goal, Pattern(row, pieces)) == each
        assert total(PROBLEM, goal, [Pattern(row, pieces)] * 3) == 3 * each


def test_sizes_and_what_is_left():
    assert (PROBLEM.sizes, PROBLEM.capacities, PROBLEM.pieces) == ((62, 42), (67, 87, 97, 117), 3)
    kept = Pattern(3, ((0, 1),))
    assert (PROBLEM.left(kept), PROBLEM.scrap(kept), PROBLEM.cut_length(kept)) == (53, 7, 60)
    full = Problem((60, 40), (1, 1), (Row(102, 1, "offcut", (0,)),), 2, 0, 15)
    assert full.left(Pattern(0, ((0, 1), (1, 1)))) == 0  # the last cut runs off the end
    assert pattern_of(2, [0, 3]) == Pattern(2, ((1, 3),))


@pytest.mark.parametrize(("times", "known"), [(1, ()), (2, [Pattern(0, ((0, 1),))])])
def test_the_plan_of_one_set_is_known_where_there_are_several(monkeypatch, times, known):
    given = []

    def best_plan_in_steps(problem, plan):
        given.append((problem, plan))
        return "the best"
        yield

    monkeypatch.setattr(repeated, "one_after_another", lambda *_given: [Pattern(0, ((0, 1),))])
    monkeypatch.setattr(repeated, "best_plan_in_steps", best_plan_in_steps)
    assert at_once(best_plan_of_in_steps(PROBLEM, times)) == "the best"
    assert given == [(PROBLEM, known)]
    assert best_plan_of(PROBLEM, times) == "the best"

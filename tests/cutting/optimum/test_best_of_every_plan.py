"""The best plan by each goal in turn, and its proof, against a search through every plan; by each part alone.

Small problems are mostly settled by packing and sums before the rest of the search is asked. So these are taken away
one after the other, and what is left has to find the same plans and to prove them.
"""

from __future__ import annotations

from functools import cache
from itertools import cycle
from random import Random

import full_search

from modelmath.cutting.optimum import fewest, stages
from modelmath.cutting.optimum.columns import filling
from modelmath.cutting.optimum.problem import Pattern, Problem, Row
from modelmath.cutting.optimum.stages import best_plan
from modelmath.cutting.optimum.whole import WholePlan, is_plan, whole_plan

KINDS = ("offcut", "on hand", "to buy")
GOALS = ["bought", "new strips", "length bought", "scrap", "cut from new strip", "longest offcut"]


def some_problem(chance):
    """Up to six pieces of up to four lengths, from up to two strips of each kind, with a saw and without."""
    lengths = sorted(chance.sample(range(3, 14), chance.randint(1, 4)), reverse=True)
    demand = [1] * len(lengths)
    for _ in range(chance.randint(0, 6 - len(lengths))):
        demand[chance.randrange(len(lengths))] += 1
    kerf, trim, useful = chance.randint(0, 1), chance.randint(0, 2), chance.choice([0, 3, 5, 8, 40])
    most = {"offcut": (0, 2), "on hand": (0, 2), "to buy": (1, 2)}
    if chance.random() < 0.3:  # nothing worth keeping and one kind of whole strip: offcuts go by their sets
        useful, most = 40, {"offcut": (1, 3), "on hand": (0, 0), "to buy": (1, 1)}
    strips = {}
    for kind, shortest, longest in (("offcut", 5, 16), ("on hand", 12, 18), ("to buy", 16, 20)):
        for _ in range(chance.randint(*most[kind])):
            each = KINDS.index(kind), chance.randint(shortest, longest)
            strips[each] = strips.get(each, 0) + (sum(demand) if kind == "to buy" else 1)
    rows = [Row(length, min(count, sum(demand)), KINDS[kind], ()) for (kind, length), count in sorted(strips.items())]
    rows = [row for row in rows if row.length - trim >= lengths[-1]]
    return Problem(tuple(lengths), tuple(demand), tuple(rows), kerf, trim, useful)


@cache
def problems_with_their_best():
    """Return some problems, each with what its best plan gives by each goal."""
    chance = Random(7)
    found = []
    while len(found) < 32:
        problem = some_problem(chance)
        strips = [(row.length, row.kind) for row in problem.rows for _ in range(row.count)]
        pieces = [length for length, n in zip(problem.lengths, problem.demand, strict=True) for _ in range(n)]
        how = (problem.kerf, problem.trim)
        every = [
            full_search.judged(plan, strips, *how, problem.useful)
            for plan in full_search.every_plan(pieces, strips, *how)
        ]
        if every:
            found.append((problem, min(every)))
    return found


def one_piece_to_a_strip(problem, demand, counts, search=False):
    """Stand for the packing: as bad a plan as there can be, of what is to buy before what is there."""
    left, plan = list(counts), []
    for at, wanted in enumerate(demand):
        for _ in range(wanted):
            rows = [row for row in range(len(left)) if left[row] and problem.capacities[row] >= problem.sizes[at]]
            if not rows:
                return None
            left[rows[-1]] -= 1
            plan.append(Pattern(rows[-1], ((at, 1),)))
    return plan


def every_other_time():
    """Stand for the branching: over the patterns known it gives nothing, over all near the best it does."""
    turns = cycle((lambda *_given, **_how: WholePlan(None, False), whole_plan))

    def branching(*given, **how):
        return next(turns)(*given, **how)

    return branching


PACKED_BADLY = {(fewest, "greedy_plan"): one_piece_to_a_strip}
NO_SUMS = {(fewest, "quick_bound"): lambda _problem: 0, (stages, "quick_least"): lambda *_given: -(10**6)}
NO_DIVES = {(fewest, "MOST_DIVES"): 0, (stages, "MOST_DIVES"): 0}


def check_best(monkeypatch, taken_away):
    """Each problem's plan is as good by each goal in turn as the best there is, and said to be proven."""
    best_of_all = problems_with_their_best()
    for (module, name), other in taken_away.items():
        monkeypatch.setattr(module, name, other)
    for problem, best in best_of_all:
        found = best_plan(problem)
        assert is_plan(problem, found.plan, {})
        assert [stage.goal for stage in found.stages] == GOALS
        values = [stage.value for stage in found.stages]
        assert (*values[:-1], -values[-1]) == best
        assert [stage.bound for stage in found.stages] == values


def test_the_best_plan_is_found_and_proven(monkeypatch):
    check_best(monkeypatch, {})


def test_it_is_without_good_packing_and_bounds_from_sums(monkeypatch):
    check_best(monkeypatch, PACKED_BADLY | NO_SUMS)


def test_it_is_without_dives_too(monkeypatch):
    check_best(monkeypatch, PACKED_BADLY | NO_SUMS | NO_DIVES)


def test_it_is_by_the_patterns_near_the_best_alone(monkeypatch):
    check_best(monkeypatch, PACKED_BADLY | NO_SUMS | NO_DIVES | {(fewest, "whole_plan"): every_other_time()})


def test_it_is_by_searching_for_each_filling(monkeypatch):
    check_best(monkeypatch, NO_SUMS | {(filling, "LONGEST_TABLE"): 0})

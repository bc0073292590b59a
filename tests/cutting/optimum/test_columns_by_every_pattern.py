"""Column generation on small problems: prices and bounds against every pattern there is, the dive by hand."""

from fractions import Fraction
from itertools import product
from math import ceil

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from modelmath.cutting.optimum.columns import generate as generate_module
from modelmath.cutting.optimum.columns import near
from modelmath.cutting.optimum.columns.dive import _limits_left, _settle, _to_settle, dive
from modelmath.cutting.optimum.columns.filling import best_fillings
from modelmath.cutting.optimum.columns.generate import _lagrangian, exact_bound, generate
from modelmath.cutting.optimum.columns.master import Master, Solved, solver
from modelmath.cutting.optimum.columns.near import near_patterns
from modelmath.cutting.optimum.columns.pricing import offers
from modelmath.cutting.optimum.problem import Pattern, Problem, Row
from modelmath.cutting.optimum.whole import _Model

GOALS = ("new strips", "bought", "length bought", "scrap", "cut from new strip")
KINDS = ("offcut", "on hand", "to buy")
CHVATAL = Problem((45, 36, 31, 14), (97, 610, 395, 211), (Row(100, 1313, "to buy", (0,)),), 0, 0, 0)


@st.composite
def problems(draw):
    lengths = sorted(draw(st.sets(st.integers(2, 12), min_size=1, max_size=3)), reverse=True)
    demand = [draw(st.integers(1, 3)) for _ in lengths]
    kinds = draw(st.lists(st.sampled_from(KINDS), min_size=1, max_size=3))
    rows = tuple(Row(draw(st.integers(1, 30)), draw(st.integers(1, 3)), kind, (at,)) for at, kind in enumerate(kinds))
    kerf, trim, useful = draw(st.integers(0, 2)), draw(st.integers(0, 3)), draw(st.sampled_from([0, 1, 4, 12]))
    return Problem(tuple(lengths), tuple(demand), rows, kerf, trim, useful)


def every_pattern(problem, at):
    """Each way to cut a strip of a row, the one that cuts nothing too, with what it costs by each goal."""
    row = problem.rows[at]
    for counts in product(*(range(wanted + 1) for wanted in problem.demand)):
        pieces, cut = sum(counts), sum(n * length for n, length in zip(counts, problem.lengths, strict=True))
        # Nothing is sawn behind a piece that uses the strip up.
        if pieces and cut + problem.kerf * (pieces - 1) + problem.trim > row.length:
            continue
        left = max(0, row.length - problem.trim - cut - problem.kerf * pieces)
        kept = left if left >= problem.useful else 0
        new, bought = int(row.kind != "offcut"), int(row.kind == "to buy")
        yield (
            counts,
            dict(zip(GOALS, (new, bought, bought * row.length, row.length - cut - kept, new * cut), strict=True)),
        )


def gain(counts, costs, prices, weights):
    worth = sum(n * price for n, price in zip(counts, prices, strict=True))
    return worth - sum(weight * costs[goal] for goal, weight in weights.items())


weights_of_goals = st.dictionaries(st.sampled_from(GOALS), st.integers(0, 9), max_size=4)
prices_of_pieces = st.lists(st.integers(0, 60), min_size=3, max_size=3)


@given(problems(), prices_of_pieces, weights_of_goals)
def test_each_row_is_offered_its_best_pattern(problem, prices, weights):
    prices = prices[: len(problem.lengths)]
    for whole in (True, False):
        found, sure = offers(problem, prices, weights, problem.demand, whole=whole)
        assert sure
        assert len(found) == len(problem.rows)
        for at, offer in enumerate(found):
            gains = {counts: gain(counts, costs, prices, weights) for counts, costs in every_pattern(problem, at)}
            assert offer.gain == max(gains.values())
            assert gains[offer.counts] == offer.gain


@given(problems(), prices_of_pieces, weights_of_goals, st.integers(0, 4), st.integers(0, 40))
def test_the_bound_at_any_prices_and_the_patterns_within_a_gap(problem, eighths, weights, most, gap):
    """By Lagrange: worth of all pieces, less what each row's strips could gain at most, less what limits cost."""
    prices = [each / 8 for each in eighths[: len(problem.lengths)]]
    weights = {goal: each / 4 for goal, each in weights.items()} | {"scrap": 1.0}
    limits = {goal: most for goal in weights if goal != "scrap"}
    solved = Solved(0.0, [], prices, weights, [0.0] * len(problem.rows))
    every = [list(every_pattern(problem, at)) for at in range(len(problem.rows))]
    best = [max(0, *(gain(*each, prices, weights) for each in row), 0) for row in every]
    bound = sum(price * wanted for price, wanted in zip(prices, problem.demand, strict=True))
    bound -= sum(each * row.count for each, row in zip(best, problem.rows, strict=True))
    bound -= sum(weights[goal] * most for goal in limits)
    counts = [row.count for row in problem.rows]
    assert exact_bound(problem, solved, problem.demand, counts, limits) == ceil(Fraction(bound))
    found, _ = offers(problem, prices, weights, problem.demand)
    assert _lagrangian(solved, found, problem.demand, counts, limits) == pytest.approx(bound)

    master = Master(problem, "scrap", limits, exactly=True)
    at_most = ceil(bound) + gap
    wanted = {
        Pattern(at, tuple((length, n) for length, n in enumerate(each) if n))
        for at, row in enumerate(every)
        for each, costs in row
        if any(each) and gain(each, costs, prices, weights) >= best[at] - (at_most - bound)
    }
    patterns, complete = near_patterns(master, solved, problem.demand, at_most, 1_000)
    assert complete
    assert len(patterns) == len(wanted)
    assert set(patterns) == wanted
    assert near_patterns(master, solved, problem.demand, ceil(bound) - 1, 1_000) == ([], True)


def test_too_many_patterns_are_some_of_them_and_those_known():
    """By hand: 2 x 3 less none of either are five ways to cut 60 and 40 from 300, one and two of each."""
    problem = Problem((60, 40), (1, 2), (Row(300, 3, "to buy", (0,)),), 0, 0, 0)
    master = Master(problem, "new strips", {}, exactly=False)
    known = Pattern(0, ((0, 1), (1, 2)))
    master.add([known])
    solved = Solved(0.0, [], [0.25, 0.25], {"new strips": 1.0}, [0.0])
    found, complete = near_patterns(master, solved, problem.demand, 9, 5)
    assert (len(set(found)), len(found), complete) == (5, 5, True)
    found, complete = near_patterns(master, solved, problem.demand, 9, 2)
    assert (len(set(found)), len(found), complete) == (3, 3, False)
    with pytest.MonkeyPatch.context() as patched:
        patched.setattr(near, "MOST_NODES", 2)
        assert near_patterns(master, solved, problem.demand, 9, 5) == ([known], False)
    with pytest.MonkeyPatch.context() as patched:
        patched.setattr(near, "offers", lambda *_, **__: ([], False))
        assert near_patterns(master, solved, problem.demand, 9, 5) == ([known], False)


def test_the_solver_is_silent_and_gives_the_same_answer_each_time():
    found = solver()
    for name, value in (("output_flag", False), ("threads", 1), ("random_seed", 0), ("parallel", "off")):
        assert found.getOptionValue(name)[1] == value
    model = _Model(CHVATAL, {}, 7, exactly=True).highs
    for name, value in (
        ("mip_max_nodes", 7), ("presolve", "off"), ("mip_rel_gap", 0), ("mip_heuristic_run_rins", False),
        ("mip_heuristic_run_rens", False),
    ):  # fmt: skip
        assert model.getOptionValue(name)[1] == value
    assert 0.9 < model.getOptionValue("mip_abs_gap")[1] < 1  # two whole costs differ by one


def test_a_linear_programme_by_hand():
    """60 + 40 and 40 + 40 from 100: one of the first, half of the second; a piece of either is worth half a strip."""
    problem = Problem((60, 40), (1, 2), (Row(100, 3, "to buy", (0,)),), 0, 0, 0)
    master = Master(problem, "new strips", {}, exactly=False)
    both, pair = Pattern(0, ((0, 1), (1, 1))), Pattern(0, ((1, 2),))
    assert (master.solve(), master.add([both, pair, both]), master.add([pair])) == (None, 2, 0)
    solved = master.solve()
    assert solved.value == pytest.approx(1.5)
    assert solved.used == pytest.approx([1, 0.5])
    assert solved.prices == pytest.approx([0.5, 0.5])
    assert (solved.weights, solved.dear) == ({"new strips": 1.0}, [0])
    master.ask([0, 4], [9], {})
    assert master.solve().used == pytest.approx([0, 2])
    master.ask([0, 4], [1], {})
    assert master.solve() is None


def test_a_scarce_strip_and_a_limited_goal_have_their_price():
    """Two of 60 with one old 100: the other is bought, so the old one saves a strip; each piece is worth one."""
    rows = (Row(100, 1, "offcut", (0,)), Row(100, 5, "to buy", (1,)))
    master = Master(Problem((60,), (2,), rows, 0, 0, 0), "new strips", {}, exactly=True)
    master.add([Pattern(0, ((0, 1),)), Pattern(1, ((0, 1),))])
    solved = master.solve()
    assert (solved.prices, solved.dear) == ([1], [1, 0])
    # One of 60: from the old 100 with 40 of scrap where no strip may be begun, from a new 60 with none where one may.
    rows = (Row(100, 1, "offcut", (0,)), Row(60, 5, "to buy", (1,)))
    master = Master(Problem((60,), (1,), rows, 0, 0, 999), "scrap", {"new strips": 0}, exactly=True)
    master.add([Pattern(0, ((0, 1),)), Pattern(1, ((0, 1),))])
    solved = master.solve()
    assert (solved.value, solved.used) == (40, [1, 0])
    assert exact_bound(master.problem, solved, [1], [1, 5], {"new strips": 0}) == 40
    master.ask([1], [1, 5], {"new strips": 1})
    assert master.solve().value == 0


@pytest.mark.parametrize(("dear", "added"), [(1.0, 0), (0.999, 1), (1.001, 0)])
def test_a_pattern_worth_no_more_than_its_scarce_strip_is_not_added(dear, added):
    """At a price of one for each piece, a 60 or a 50 from the old 100 gains one, and from a new one nothing."""
    problem = Problem((60, 50), (1, 1), (Row(100, 1, "offcut", (0,)), Row(100, 2, "to buy", (1,))), 0, 0, 0)
    master = Master(problem, "new strips", {}, exactly=False)
    master.solve = lambda: Solved(1.0, [], [1.0, 1.0], {"new strips": 1.0}, [dear, 0.0])
    assert generate(master, problem.demand, [1, 2], None).bound == 1
    assert len(master.patterns) == added
    assert generate(master, problem.demand, [0, 2], None).bound == 2
    assert len(master.patterns) == added


def test_a_textbook_bound_by_column_generation():
    """Chvatal, Linear Programming (1983), chapter 13: 452.25 strips, so 453."""
    master = Master(CHVATAL, "new strips", {}, exactly=False)
    assert generate(master, CHVATAL.demand, [1313], None) is None
    master.add([Pattern(0, ((at, 1),)) for at in range(4)])
    found = generate(master, CHVATAL.demand, [1313], None)
    assert (found.bound, found.solved.value) == (453, pytest.approx(452.25))
    early = Master(CHVATAL, "new strips", {}, exactly=False)
    early.add([Pattern(0, ((at, 1),)) for at in range(4)])
    assert 400 <= generate(early, CHVATAL.demand, [1313], 400).bound <= 453
    assert len(early.patterns) <= len(master.patterns)


@given(problems(), st.sampled_from(["new strips", "scrap"]), st.integers(0, 2))
def test_generated_patterns_are_as_good_as_all_there_are(problem, goal, most):
    """The linear programme with every pattern in it, beside the one that has those which were generated."""
    limits = {"bought": most} if goal == "scrap" else {}
    some, every = (Master(problem, goal, limits, exactly=True) for _ in range(2))
    patterns = [
        Pattern(at, tuple((length, n) for length, n in enumerate(each) if n))
        for at in range(len(problem.rows))
        for each, _ in every_pattern(problem, at)
        if any(each)
    ]
    every.add(patterns)
    best = every.solve()
    some.add([each for each in patterns if sum(n for _, n in each.pieces) == 1])
    found = generate(some, problem.demand, [row.count for row in problem.rows], None)
    assume(found is not None)
    assert found.solved.value == pytest.approx(best.value, abs=1e-6)
    assert found.bound == ceil(best.value - 1e-5)
    assert set(some.patterns) <= set(patterns)


def test_the_exact_bound_is_added_up_only_when_it_may_be_enough(monkeypatch):
    sums = []
    real = generate_module.exact_bound
    monkeypatch.setattr(generate_module, "exact_bound", lambda *given: sums.append(0) or real(*given))
    master = Master(CHVATAL, "new strips", {}, exactly=False)
    master.add([Pattern(0, ((at, 1),)) for at in range(4)])
    assert generate(master, CHVATAL.demand, [1313], 485).bound == 453
    assert len(sums) == 1


def test_a_branch_ends_where_its_strip_can_not_make_up_for_its_price(monkeypatch):
    """Four pieces of 25 fill 100 and are worth just the strip: of all counts of 25 and 24 only that is good enough."""
    problem = Problem((25, 24), (40, 48), (Row(100, 80, "to buy", (0,)),), 0, 0, 0)
    master = Master(problem, "new strips", {}, exactly=False)
    solved = Solved(0.0, [], [0.25, 0.1875], {"new strips": 1.0}, [0.0])
    monkeypatch.setattr(near, "MOST_NODES", 7)  # the strip; five counts of 25; behind four of them, none of 24
    found, complete = near_patterns(master, solved, problem.demand, 19, 99)  # 40 / 4 + 48 * 3 / 16
    assert (found, complete) == ([Pattern(0, ((0, 4),))], True)


def test_what_is_settled_has_used_up_its_limits():
    """One of two new strips is settled, so one is left for the 60 that remains; none would be too few."""
    problem = Problem((60,), (2,), (Row(100, 5, "to buy", (0,)),), 0, 0, 999)
    one = Pattern(0, ((0, 1),))
    master = Master(problem, "scrap", {"new strips": 2}, exactly=True)
    master.add([one])
    assert _limits_left(master, [one]) == {"new strips": 1}
    assert _limits_left(master, []) == {"new strips": 2}
    master.ask([1], [4], {"new strips": 1})
    assert generate(master, [1], [4], None, spent=[one]).bound == 40
    steps = [(list(settled), list(demand), list(counts)) for settled, demand, counts in dive(master, 80, 0)]
    assert steps == [([one, one], [0], [3])]
    assert list(dive(master, 79, 0)) == []
    assert master.solve().value == 80


A, B, C = (Pattern(0, ((at, 1),)) for at in range(3))


@pytest.mark.parametrize(
    ("used", "skip", "settled"),
    [
        ((2.0, 0.5, 1 - 1e-7), 0, [A, A, C]),
        ((1 - 1e-5, 0.5, 0.0), 0, [A]),  # none in whole numbers: the one used most
        ((0.3, 0.7, 0.2), 0, [B]),
        ((0.3, 0.7, 0.2), 1, [A]),
        ((0.3, 0.7, 0.2), 2, [C]),
        ((0.3, 0.7, 0.2), 9, [C]),
        ((0.5, 0.5, 0.0), 0, [A]),
        ((0.5, 0.5, 0.0), 2, [B]),
        ((1.0, 0.25, 0.0), 1, [A]),  # by what is beyond a whole number: B, then A
        ((3.0, 1.25, 0.0), 0, [A, A, A, B]),
        ((0.0, 0.0, 0.0), 0, []),
        ((0.0, 0.0, 0.0), 2, []),
    ],
)
def test_what_a_dive_settles(used, skip, settled):
    assert _to_settle([A, B, C], used, skip) == settled


def test_a_pattern_is_settled_without_what_is_no_longer_wanted():
    demand, counts, settled = [1, 0, 3], [2], []
    _settle(Pattern(0, ((0, 2), (1, 1), (2, 1))), demand, counts, settled)
    assert (demand, counts, settled) == ([0, 0, 2], [1], [Pattern(0, ((0, 1), (2, 1)))])
    _settle(Pattern(0, ((0, 2), (1, 1))), demand, counts, settled)
    assert (demand, counts, len(settled)) == ([0, 0, 2], [1], 1)
    _settle(C, demand, counts, settled)
    _settle(C, demand, counts, settled)  # there is no strip for it
    assert (demand, counts, len(settled)) == ([0, 0, 1], [0], 2)


def test_a_dive_ends_with_all_cut_and_the_whole_problem_asked_again():
    """60, 50, 40 twice, 30 and 20 from 120: 240 in all, so two strips just do."""
    problem = Problem((60, 50, 40, 30, 20), (1, 1, 2, 1, 1), (Row(120, 9, "to buy", (0,)),), 0, 0, 0)
    master = Master(problem, "new strips", {}, exactly=False)
    master.add([Pattern(0, ((at, 1),)) for at in range(5)])
    generate(master, problem.demand, [9], None)
    before = master.solve().value
    steps = [(list(settled), list(demand), list(counts)) for settled, demand, counts in dive(master, 3, 0)]
    settled, demand, counts = steps[-1]
    assert (demand, counts) == ([0] * 5, [9 - len(settled)])
    assert sum(problem.cut_length(pattern) for pattern in settled) == 240
    assert [len(each[0]) for each in steps] == sorted({len(each[0]) for each in steps})
    assert master.solve().value == pytest.approx(before) == 2
    assert list(dive(master, 1, 0)) == []


def test_a_small_search_is_sure_and_a_long_table_is_not_needed():
    """Lengths with no step in common: 7 x 1000003 and so on; by hand 3 of the second and one of the first fit."""
    sizes, values = [1_000_003, 700_001], [10, 7]
    (found,), sure = best_fillings(values, sizes, [2, 5], [3_100_006], whole=True)
    assert (found, sure) == ((31, [1, 3]), True)
    (found,), sure = best_fillings(values, sizes, [2, 5], [3_100_005], whole=True)
    assert (found, sure) == ((28, [0, 4]), True)

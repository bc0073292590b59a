"""What each step of the search is asked, and what it makes of the answers; the steps beside it are stood in for."""

from __future__ import annotations

import pytest

from modelmath.cutting.optimum import fewest, longest, stages
from modelmath.cutting.optimum.columns.generate import Generated
from modelmath.cutting.optimum.columns.master import Master
from modelmath.cutting.optimum.fewest import Fewest, fewest_strips
from modelmath.cutting.optimum.problem import Pattern, Problem, Row
from modelmath.cutting.optimum.stages import Best, Stage, _Later, _with, best_plan
from modelmath.cutting.optimum.whole import WholePlan

ROWS = (
    Row(80, 1, "offcut", (0,)),
    Row(100, 2, "on hand", (1, 2)),
    Row(60, 9, "to buy", (3,)),
    Row(90, 9, "to buy", (4,)),
)
PROBLEM = Problem((60,), (1,), ROWS, 0, 0, 15)
OLD, HAND, SHORT, LONG = ([Pattern(row, ((0, 1),))] for row in range(4))
SHOP = Problem((60, 40), (1, 2), (Row(100, 9, "to buy", (0,)),), 0, 0, 15)
BOTH, PAIR, ONE, OTHER = (Pattern(0, pieces) for pieces in (((0, 1), (1, 1)), ((1, 2),), ((0, 1),), ((1, 1),)))


def later(plan, known=(), problem=PROBLEM, cost=9, bound=0):
    return _Later(problem, Fewest(plan, cost, bound, [*plan]), known)


@pytest.mark.parametrize(
    ("goal", "plan", "known", "taken"),
    [
        ("length bought", LONG, SHORT, True),  # 60 against 90, though 30 kept of the 90 is the longer offcut
        ("length bought", SHORT, LONG, False),
        ("new strips", HAND, OLD, True),
        ("new strips", OLD, HAND, False),  # though 40 are kept of the 100, and 20 of the 80
        ("cut from new strip", HAND, OLD, True),
        ("cut from new strip", OLD, HAND, False),
        ("scrap", HAND, OLD, False),  # none either way
        ("longest offcut", OLD, HAND, True),
        ("longest offcut", HAND, OLD, False),
        ("longest offcut", HAND, [*HAND], False),
    ],
)
def test_the_plan_known_before_is_taken_where_it_is_better_by_the_goal(goal, plan, known, taken):
    search = later(plan, known)
    search.take_known(goal)
    assert search.plan == (known if taken else plan)
    assert (search.plan is plan) is not taken
    assert search.plan is not known


def test_a_plan_known_before_is_not_taken_beyond_the_goals_before():
    search = later(SHORT, OLD)
    search.limits["scrap"] = -1
    search.take_known("bought")
    assert search.plan == SHORT
    search = later(SHORT)
    search.take_known("bought")
    assert search.plan == SHORT


def test_the_rows_of_a_problem_with_others_in_their_stead():
    """What is on hand counted as free, or no more than so many to buy; all else stays."""
    found = _with(PROBLEM, kind={"on hand": "offcut"})
    assert [(row.length, row.count, row.kind) for row in found.rows] == [
        (80, 1, "offcut"), (100, 2, "offcut"), (60, 9, "to buy"), (90, 9, "to buy"),
    ]  # fmt: skip
    for bought, counts in ((0, [1, 2, 0, 0]), (1, [1, 2, 1, 1]), (10, [1, 2, 9, 9])):
        assert [row.count for row in _with(PROBLEM, bought=bought).rows] == counts
    assert _with(PROBLEM) == PROBLEM


def test_whole_strips_are_those_bought_where_none_are_on_hand(monkeypatch):
    problem = Problem((60,), (1,), (ROWS[0], *ROWS[2:]), 0, 0, 15)
    search = later([Pattern(1, ((0, 1),))], problem=problem)
    monkeypatch.setattr(search, "stage", lambda _goal: None)
    assert search.fewest_whole(Stage("bought", 2, 1)) == Stage("new strips", 2, 1)
    assert (search.limits["new strips"], search.least["new strips"]) == (2, 1)


@pytest.mark.parametrize(
    ("plan", "bought", "found", "taken", "least"),
    [
        (HAND, 0, Fewest(OLD, 0, 0, [*OLD]), OLD, 0),  # a plan with fewer is taken
        (HAND, 1, Fewest(OLD, 0, 0, [*OLD]), OLD, 0),
        (HAND, 0, Fewest(HAND, 1, 1, [*OLD]), HAND, 1),  # where none is found, the bound counts
        (HAND, 0, None, HAND, None),
        (OLD, 0, "not asked", OLD, None),  # which cuts into none
    ],
)
def test_fewer_whole_strips_are_looked_for_among_plans_that_buy_as_few(monkeypatch, plan, bought, found, taken, least):
    asked = []
    monkeypatch.setattr(stages, "fewest_strips", lambda *problem, **more: asked.append((*problem, more)) or found)
    search = later(plan, cost=bought)
    monkeypatch.setattr(search, "stage", lambda goal: Stage(goal, 7, 5))
    assert search.fewest_whole(Stage("bought", bought, bought)) == Stage("new strips", 7, 5)
    more = {"limits": {"bought": bought}, "known": plan}
    assert asked == ([] if found == "not asked" else [(_with(PROBLEM, bought=bought), more)])
    assert search.plan == taken
    assert search.least.get("new strips") == least
    assert search.patterns == [*plan, *(OLD if least is not None else [])]


def test_what_a_later_goal_finds_counts_for_the_goals_before(monkeypatch):
    """Found for the length bought: a plan that buys none, where one was thought to have to be bought."""
    search = later(SHORT, cost=1)
    monkeypatch.setattr(stages, "quick_least", lambda *_: -1)
    monkeypatch.setattr(search, "_improve", lambda _goal: setattr(search, "plan", OLD) or 0)
    assert search.stage("length bought") == Stage("length bought", 0, 0)
    assert search.limits == {"bought": 0, "length bought": 0}
    monkeypatch.setattr(stages, "longest_left", lambda *_: (OLD, 20, 20))
    monkeypatch.setattr(stages, "fewest_strips", lambda *_, **_more: Fewest(SHORT, 1, 0, [*SHORT]))
    monkeypatch.setattr(_Later, "_improve", lambda *_: 0)
    found = best_plan(PROBLEM)
    assert found.plan == tuple(OLD)
    assert found.stages[:2] == (Stage("bought", 0, 0), Stage("new strips", 0, 0))


@pytest.mark.parametrize(
    ("quick", "known_least", "improved", "bound", "asked"),
    [
        (1, 0, None, 1, False),  # the plan is as good as sums allow
        (2, 0, None, 1, False),
        (0, 1, None, 1, False),  # or as was known before
        (0, 0, 0, 0, True),
        (0, 0, 1, 1, True),
        (0, 0, -5, 0, True),  # what sums say stays true
        (0, 0, 3, 1, True),  # no bound is above what the plan has
    ],
)
def test_a_goal_is_searched_by_where_sums_leave_room(monkeypatch, quick, known_least, improved, bound, asked):
    monkeypatch.setattr(stages, "quick_least", lambda *_: quick)
    search = later(HAND)
    search.least["new strips"] = known_least
    goals = []
    monkeypatch.setattr(search, "_improve", lambda goal: goals.append(goal) or improved)
    assert search.stage("new strips") == Stage("new strips", 1, bound)
    assert goals == (["new strips"] if asked else [])
    assert (search.limits["new strips"], search.least["new strips"]) == (1, bound)


@pytest.mark.parametrize(
    ("cost", "kept_bound", "known", "value", "bound"),
    [
        (1, 1, [], 1, 1),
        (1, 0, [], 1, 0),
        (1, 3, [], 1, 1),
        (1, 0, OLD, 0, 0),  # a plan known before that buys none
        (0, 0, SHORT, 0, 0),
        (None, None, SHORT, 1, 0),  # none was found: nothing is shown of the one that is known
        (None, None, [], None, None),
    ],
)
def test_the_first_goal_starts_with_the_better_of_two_plans(monkeypatch, cost, kept_bound, known, value, bound):
    """By hand: a plan is found that buys so many, and at least so many have to be bought as far as was shown."""
    plan = SHORT if cost else OLD
    first = None if cost is None else Fewest(list(plan), cost, kept_bound, [*plan])
    asked = []
    monkeypatch.setattr(
        stages, "fewest_strips", lambda problem, **_: asked.append(problem) or (first if len(asked) == 1 else None)
    )
    monkeypatch.setattr(_Later, "_improve", lambda *_: 0)  # nothing better is found on the way
    monkeypatch.setattr(stages, "longest_left", lambda _problem, plan, *_: (plan, 0, 0))
    best = best_plan(PROBLEM, known)
    assert asked[0] == _with(PROBLEM, kind={"on hand": "offcut"})
    if value is None:
        assert best is None
    else:
        assert best.stages[0] == Stage("bought", value, bound)


def test_a_goal_is_proven_where_its_bound_is_met():
    assert Stage("scrap", 3, 3).proven
    assert not Stage("scrap", 3, 2).proven
    assert not Stage("longest offcut", 3, 4).proven
    assert Best((), ()).stages == ()


def test_the_fewest_whole_strips_keep_to_what_may_be_bought(monkeypatch):
    """Every plan by hand: 11, 11, 8, 5, 4 with 1 mm lost at each cut; bought, one of 16 or 19 is the least.

    With one bought, two begun of the 14 mm on hand hold the rest; two bought would leave those on hand whole.
    """
    rows = (Row(10, 1, "offcut", ()), Row(14, 2, "on hand", ()), Row(16, 5, "to buy", ()), Row(19, 5, "to buy", ()))
    problem = Problem((11, 8, 5, 4), (2, 1, 1, 1), rows, 1, 0, 8)
    free, start = fewest_strips(problem), best_plan(problem).plan
    assert free.cost == sum(rows[pattern.row].bought for pattern in free.plan) == 2
    few, limits = _with(problem, bought=1), {"bought": 1}
    for known in ((), start):
        found = fewest_strips(few, limits=limits, known=known)
        assert (found.cost, found.bound) == (3, 3)
        assert sum(rows[pattern.row].bought for pattern in found.plan) == 1
    # A plan that buys more is neither started with nor taken on the way.
    monkeypatch.setattr(fewest, "greedy_plan", lambda *_, **_more: free.plan)
    assert fewest_strips(few, limits=limits) is None
    assert fewest_strips(few, limits=limits, known=start).plan == list(start)


def test_the_scrap_is_never_said_to_be_under_what_it_is(monkeypatch):
    """A strip of 18 to buy was thought to be needed; three offcuts do it, with less scrap than any plan with the 18."""
    rows = (Row(14, 1, "offcut", ()), Row(16, 2, "offcut", ()), Row(18, 4, "to buy", ()))
    problem = Problem((13, 7, 4), (1, 2, 1), rows, 1, 1, 40)
    search = later(list(best_plan(problem).plan), problem=problem)
    search.limits, search.least = {"bought": 1, "new strips": 1}, {"bought": 0, "new strips": 0}
    monkeypatch.setattr(stages.offcut_sets, "least_opened", lambda *_: pytest.fail("it counts on a whole strip"))
    stage = search.stage("scrap")
    assert stage.bound <= stage.value == 15


class Branches:
    """Stands for the branching: keeps what it was asked, and gives one answer after the other."""

    def __init__(self, *answers):
        self.answers, self.asked = list(answers), []

    def __call__(self, problem, patterns, goal, limits, below, nodes, *, exactly):
        self.asked.append((list(patterns), goal, dict(limits), below, nodes, exactly))
        return self.answers.pop(0)


NONE, SURE = WholePlan(None, False), WholePlan(None, True)


def made_whole(monkeypatch, answers, all_near, most=4_000, cost=3, bound=1):
    """Let no dive find anything, and the branching answer so."""
    branches, near = Branches(*answers), []
    monkeypatch.setattr(fewest, "dive", lambda *_given: iter(()))
    monkeypatch.setattr(fewest, "whole_plan", branches)
    monkeypatch.setattr(fewest, "MOST_PATTERNS", most)
    monkeypatch.setattr(
        fewest, "near_patterns", lambda master, solved, *given: near.append(given) or ([BOTH, PAIR], all_near)
    )
    master = Master(SHOP, "new strips", {}, exactly=False)
    master.add([ONE, OTHER])
    best = Fewest([ONE, OTHER, OTHER], cost, bound)
    fewest._make_whole(SHOP, master, Generated(master.solve(), bound), best)
    return best, branches.asked, near


def test_patterns_known_are_branched_over_then_all_that_may_be_in_a_better_plan(monkeypatch):
    """A better plan has one strip fewer; only if all patterns it could use were looked at, and none is, it is shown."""
    known, closer = ([ONE, OTHER], "new strips", {}, 3, 400, False), ([BOTH, PAIR], "new strips", {}, 3, 400, False)
    for last, all_near, bound in ((SURE, True, 3), (SURE, False, 1), (NONE, True, 1)):
        best, asked, near = made_whole(monkeypatch, [NONE, last], all_near)
        assert asked == [known, closer]
        assert near == [((1, 2), 2, 4_000)]
        assert (best.cost, best.bound) == (3, bound)
    best, asked, _ = made_whole(monkeypatch, [NONE, WholePlan([BOTH, OTHER], True)], True)
    assert (best.plan, best.cost, best.bound) == ([BOTH, OTHER], 2, 1)


def test_the_search_ends_with_a_plan_that_meets_the_bound(monkeypatch):
    best, asked, near = made_whole(monkeypatch, [WholePlan([BOTH, OTHER], True)], True, bound=2)
    assert (best.cost, len(asked), near) == (2, 1, [])
    best, asked, near = made_whole(monkeypatch, [], True, bound=3)
    assert (best.cost, asked, near) == (3, [], [])


@pytest.mark.parametrize(("most", "asked"), [(1, 1), (2, 2), (3, 2)])
def test_too_many_patterns_known_are_not_branched_over(monkeypatch, most, asked):
    assert len(made_whole(monkeypatch, [NONE] * asked, False, most)[1]) == asked


def test_a_plan_that_is_good_enough_is_not_made_better():
    """60 and twice 40: packing finds the two strips it takes, and sums prove it."""
    found = fewest_strips(SHOP)
    assert (found.cost, found.bound, len(found.plan)) == (2, 2, 2)
    assert fewest_strips(Problem((60,), (2,), (Row(100, 1, "on hand", (0,)),), 0, 0, 0)) is None


def test_nothing_generated_leaves_the_packed_plan(monkeypatch):
    monkeypatch.setattr(fewest, "quick_bound", lambda _problem: 1)
    monkeypatch.setattr(fewest, "generate", lambda *_given: None)
    found = fewest_strips(SHOP)
    assert (found.cost, found.bound) == (2, 1)
    assert set(found.patterns) == set(found.plan)
    for generated, bound in ((0, 1), (2, 2)):
        monkeypatch.setattr(fewest, "generate", lambda master, *_: Generated(master.solve(), generated))  # noqa: B023
        monkeypatch.setattr(fewest, "_make_whole", lambda *_given: None)
        assert fewest_strips(SHOP).bound == bound


def test_a_dive_is_finished_greedily_at_each_step(monkeypatch):
    """After one strip of 60 + 40 another 40 is left; a plan found ends the dive where it is proven best."""
    steps = [([BOTH], [0, 1], [8]), ([BOTH, OTHER], [0, 0], [7])]
    seen = []

    def dives(master, at_most, skip):
        for step in steps:
            seen.append((at_most, skip))
            yield step

    monkeypatch.setattr(fewest, "dive", dives)
    for bound, turns in ((2, 1), (1, 2)):
        master = Master(SHOP, "new strips", {}, exactly=False)
        best = Fewest([ONE, OTHER, OTHER], 3, bound)
        seen.clear()
        fewest._dive(SHOP, master, best, 4)
        assert (best.plan, best.cost) == ([BOTH, OTHER], 2)
        assert seen == [(2, 4)] * turns
        assert master.patterns == [OTHER]
    monkeypatch.setattr(fewest, "greedy_plan", lambda *_given: None)
    best = Fewest([ONE, OTHER, OTHER], 3, 1)
    fewest._dive(SHOP, Master(SHOP, "new strips", {}, exactly=False), best, 0)
    assert best.cost == 3


UNDER = {"bought": 3, "new strips": 3, "length bought": 300}
WASTEFUL, TIGHT = [ONE, OTHER, OTHER], [BOTH, OTHER]  # with 70 the least to keep: 40 and 60 twice are scrap, or 60


def improved(monkeypatch, bound, near=((BOTH, PAIR), True), answer=NONE, dives=()):
    """Let a plan with 160 of scrap be made better; return it, the bound, and what was asked."""
    problem = Problem((60, 40), (1, 2), (Row(100, 9, "to buy", (0,)),), 0, 0, 70)
    search = _Later(problem, Fewest(list(WASTEFUL), 3, 2, [PAIR]), ())
    search.limits.update(UNDER)
    branches, dived, closer = Branches(answer), [], []
    plans = iter(dives)

    def dive(master, at_most, skip):
        dived.append((at_most, skip))
        for settled, demand in next(plans, ()):
            yield settled, demand, [9]

    monkeypatch.setattr(stages, "dive", dive)
    monkeypatch.setattr(stages, "whole_plan", branches)
    monkeypatch.setattr(
        stages, "near_patterns", lambda _m, _s, *given: closer.append(given) or (list(near[0]), near[1])
    )
    monkeypatch.setattr(
        stages, "generate", lambda master, *_: None if bound is None else Generated(master.solve(), bound)
    )
    return search._improve("scrap"), search, dived, closer, branches.asked


def test_a_bound_that_is_met_ends_it(monkeypatch):
    bound, search, dived, closer, asked = improved(monkeypatch, 160)
    assert (bound, search.plan, dived, closer, asked) == (160, WASTEFUL, [], [], [])
    assert search.patterns == [*WASTEFUL, ONE, OTHER, PAIR]
    bound, search, dived, closer, asked = improved(monkeypatch, None)
    assert bound < -(10**9)
    assert (search.plan, dived, closer, asked) == (WASTEFUL, [], [], [])


def test_dives_look_for_less_and_then_all_near_is_branched_over(monkeypatch):
    """Three dives, each another; then every pattern that a plan with one less could have, where these are all known."""
    for answer, bound in ((SURE, 160), (NONE, 20)):
        got, search, dived, closer, asked = improved(monkeypatch, 20, answer=answer)
        assert (got, search.plan) == (bound, WASTEFUL)
        assert dived == [(159, skip) for skip in range(3)]
        assert closer == [((1, 2), 159, 900)]
        assert asked == [([BOTH, PAIR], "scrap", {"bought": 3, **UNDER}, 160, 30, True)]
    got, _, _, _, ((patterns, *_),) = improved(monkeypatch, 20, near=((BOTH,), False), answer=SURE)
    assert (got, patterns) == (20, [ONE, OTHER, PAIR])  # not all: those met on the way, and nothing is shown
    monkeypatch.setattr(stages, "MOST_PATTERNS", 2)
    _, _, _, _, ((patterns, *_),) = improved(monkeypatch, 20, near=((BOTH,), False), answer=SURE)
    assert patterns == [OTHER, PAIR]  # the last ones met


@pytest.mark.parametrize(
    ("answer", "all_near", "plan", "bound"),
    [
        (WholePlan(list(TIGHT), True), True, TIGHT, 60),
        (WholePlan(list(TIGHT), True), False, TIGHT, 20),
        (WholePlan(list(TIGHT), False), True, TIGHT, 20),
        (WholePlan([BOTH, PAIR], True), True, WASTEFUL, 160),  # one of 40 too many: that is no plan
    ],
)
def test_a_better_plan_is_taken_if_it_is_one(monkeypatch, answer, all_near, plan, bound):
    got, search, *_ = improved(monkeypatch, 20, near=((BOTH, PAIR), all_near), answer=answer)
    assert (search.plan, got) == (plan, bound)


def test_a_dive_down_to_a_better_plan_is_taken(monkeypatch):
    """By hand: with nothing left to cut, and less scrap than before; the next dive looks for less than that."""
    down = [([BOTH], [0, 1]), (TIGHT, [0, 0])]
    got, search, dived, _, asked = improved(monkeypatch, 20, dives=[down])
    assert (search.plan, got) == (TIGHT, 20)
    assert dived == [(159, 0), (59, 1), (59, 2)]
    assert asked[0][3] == 60
    got, search, dived, _, asked = improved(monkeypatch, 60, dives=[(), down])
    assert (search.plan, got, dived, asked) == (TIGHT, 60, [(159, 0), (159, 1)], [])
    for nothing in ([([BOTH, OTHER], [0, 1])], [(WASTEFUL, [0, 0])], [([BOTH, PAIR], [0, 0])]):
        assert improved(monkeypatch, 20, dives=[nothing])[1].plan == WASTEFUL


def kept_longest(monkeypatch, patterns, answer, useful=15, plan=(PAIR, ONE), known=()):
    """Let the longest offcut be looked for; return what came of it and what was asked."""
    asked = []
    problem = Problem((60, 40), (1, 2), (Row(100, 9, "to buy", (0,)),), 0, 0, useful)
    monkeypatch.setattr(longest, "all_patterns", lambda _problem, most: asked.append(most) or patterns)
    monkeypatch.setattr(longest, "plan_that_keeps", lambda _problem, *given: asked.append(given) or answer)
    return longest.longest_left(problem, plan, known, {"new strips": 2}, {}), asked


def test_a_longer_offcut_is_looked_for_among_all_patterns(monkeypatch):
    """60 and twice 40 from two of 100: 40 is left beside the 60, or 60 beside a 40, which is the most there can be."""
    every = [ONE, OTHER, BOTH, PAIR]
    for answer, plan, value, bound in (
        (WholePlan([BOTH, OTHER], True), [BOTH, OTHER], 60, 60),
        (WholePlan([BOTH, OTHER], False), [BOTH, OTHER], 60, 60),
        (SURE, [PAIR, ONE], 40, 40),
        (NONE, [PAIR, ONE], 40, 60),
        (WholePlan([BOTH, PAIR], True), [PAIR, ONE], 40, 40),  # one of 40 too many: that is no plan
    ):
        found, asked = kept_longest(monkeypatch, every, answer)
        assert found == (plan, value, bound)
        assert asked == [300, (every, [OTHER], {"new strips": 2}, 8)]
    assert kept_longest(monkeypatch, every, SURE, useful=61)[0] == ([PAIR, ONE], 0, 0)
    found, asked = kept_longest(monkeypatch, every, SURE, useful=50)  # 40 is not worth keeping
    assert (found, asked[1][1]) == (([PAIR, ONE], 0, 0), [OTHER])
    found, asked = kept_longest(monkeypatch, every, SURE, plan=(BOTH, OTHER))
    assert (found, asked) == (([BOTH, OTHER], 60, 60), [])


def test_where_there_are_too_many_patterns_those_of_the_plan_and_those_met_come_first(monkeypatch):
    found, asked = kept_longest(monkeypatch, None, SURE, known=(PAIR, BOTH))
    assert found == ([PAIR, ONE], 40, 60)  # nothing is shown by it
    assert asked[1][0] == [PAIR, ONE, BOTH, OTHER]
    monkeypatch.setattr(longest, "MOST_PATTERNS", 2)
    assert kept_longest(monkeypatch, None, SURE, known=(PAIR, BOTH))[1][1][0] == [PAIR, ONE]

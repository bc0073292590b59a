"""The goals after the first, on small problems: plans, bounds and offcuts by hand or against every pattern there is."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from modelmath.cutting import CutPart, CutStock
from modelmath.cutting.optimum import fewest, offcut_sets, repeated
from modelmath.cutting.optimum.fewest import Fewest, fewest_strips, quick_bound
from modelmath.cutting.optimum.longest import _few_pieces, all_patterns, longest_kept, longest_left, most_left
from modelmath.cutting.optimum.problem import Pattern, Problem, Row
from modelmath.cutting.optimum.quick import quick_least
from modelmath.cutting.optimum.repeated import one_after_another
from modelmath.cutting.optimum.stages import best_plan_in_steps
from modelmath.cutting.optimum.whole import is_plan, plan_that_keeps, trimmed, whole_plan
from modelmath.cutting.strips import plan_cuts_in_steps

SHOP = (Row(100, 9, "to buy", (0,)),)
PROBLEM = Problem((60, 40), (1, 2), SHOP, 0, 0, 15)
BOTH, PAIR, LONG, SHORT = (Pattern(0, pieces) for pieces in (((0, 1), (1, 1)), ((1, 2),), ((0, 1),), ((1, 1),)))


def test_only_a_better_plan_is_taken():
    best = Fewest([BOTH, SHORT], 2, 1)
    best.offer(PROBLEM, [LONG, PAIR])
    best.offer(PROBLEM, None)
    best.offer(PROBLEM, [LONG, SHORT, SHORT])
    assert (best.plan, best.cost) == ([BOTH, SHORT], 2)
    best.offer(PROBLEM, [BOTH])
    assert (best.plan, best.cost) == ([BOTH], 1)


@pytest.mark.parametrize(
    ("cost", "bound", "enough", "settled", "proven"),
    [
        (3, 2, 0, False, False),
        (3, 3, 0, True, True),
        (3, 2, 3, True, False),  # good enough
        (3, 2, 2, False, False),
        (4, 3, 2, True, False),  # none that good can be
        (4, 2, 2, False, False),
        (0, 0, 0, True, True),
    ],
)
def test_when_the_search_may_end(cost, bound, enough, settled, proven):
    best = Fewest([], cost, bound, [], enough)
    assert (best.settled, best.proven) == (settled, proven)
    assert Fewest([], 0, -1).settled  # fewer than none there can't be


def test_a_dive_looks_for_fewer_than_there_are(monkeypatch):
    """Each dive another, and each for a plan with one strip fewer than the best at hand."""
    asked = []
    monkeypatch.setattr(fewest, "dive", lambda master, at_most, skip: asked.append((at_most, skip)) or iter(()))
    problem = Problem((45, 36, 31, 14), (97, 610, 395, 211), (Row(100, 1313, "to buy", (0,)),), 0, 0, 0)
    monkeypatch.setattr(fewest, "MOST_PATTERNS", 0)
    found = fewest_strips(problem)
    assert asked == [(found.cost - 1, skip) for skip in range(6)]


def test_the_quick_bound_counts_each_strip_there_is():
    """Four of 60 never share a strip: one on the old 70, so three new ones; the 50 is too short for any."""
    rows = (Row(70, 1, "offcut", (0,)), Row(50, 3, "offcut", (1,)), Row(100, 1, "on hand", (2,)), *SHOP)
    assert quick_bound(Problem((60,), (4,), rows, 0, 0, 0)) == 3


def test_patterns_of_one_piece_or_two_are_all_of_them():
    rows = (*SHOP, Row(60, 1, "offcut", (1,)))
    for kerf in (0, 1):
        problem = Problem((60, 40, 20), (1, 2, 3), rows, kerf, 0, 15)
        few = _few_pieces(problem)
        assert len(few) == len(set(few))
        every = all_patterns(problem, 1_000)
        assert set(few) == {each for each in every if sum(count for _, count in each.pieces) <= 2}
    assert PAIR not in _few_pieces(Problem((60, 40), (1, 1), SHOP, 0, 0, 15))


def test_every_pattern_or_none_if_there_are_too_many():
    """60, 40 and 20 from 100, up to one, two and three of them: thirteen ways by hand."""
    problem = Problem((60, 40, 20), (1, 2, 3), SHOP, 0, 0, 15)
    found = ["".join("642"[at] * count for at, count in each.pieces) for each in all_patterns(problem, 13)]
    assert sorted(found) == ["2", "22", "222", "4", "42", "422", "4222", "44", "442", "6", "62", "622", "64"]
    assert all_patterns(problem, 12) is None
    assert (
        all_patterns(Problem((60,), (1,), (Row(50, 1, "offcut", (0,)), Row(1, 1, "offcut", (1,))), 0, 3, 15), 9) == []
    )


@pytest.mark.parametrize(("useful", "kept"), [(15, 40), (40, 40), (41, 0), (0, 40)])
def test_the_longest_offcut_that_is_worth_keeping(useful, kept):
    problem = Problem((60, 40), (1, 2), SHOP, 0, 0, useful)
    assert longest_kept(problem, [PAIR, LONG]) == kept
    assert longest_kept(problem, []) == 0


OLD = Row(80, 2, "offcut", (1,))


@pytest.mark.parametrize(
    ("rows", "limits", "least", "most"),
    [
        (SHOP, {"new strips": 2}, {}, 60),  # 200 less 140
        (SHOP, {"new strips": 3}, {}, 60),  # a strip less its shortest piece
        (SHOP, {"new strips": 2}, {"scrap": 7}, 53),
        (SHOP, {"new strips": 1}, {}, 0),
        (SHOP, {}, {}, 60),
        ((OLD,), {"new strips": 0}, {}, 20),  # 160 less 140
        ((OLD, *SHOP), {"new strips": 0}, {}, 20),
        ((Row(200, 1, "offcut", (1,)), *SHOP), {"new strips": 0}, {"scrap": 9}, 60),
        ((Row(170, 1, "offcut", (1,)), *SHOP), {"new strips": 0}, {}, 30),
        ((Row(39, 9, "offcut", (1,)), *SHOP), {"new strips": 2}, {}, 60),  # too short for any
        ((*SHOP, Row(120, 9, "to buy", (1,))), {"new strips": 2, "length bought": 200}, {"scrap": 7}, 60),
        ((*SHOP, Row(120, 9, "to buy", (1,))), {"new strips": 2, "length bought": 160}, {}, 20),
        ((Row(120, 9, "on hand", (1,)), *SHOP), {"new strips": 2, "length bought": 0}, {}, 80),
    ],
)
def test_no_offcut_is_longer_than_sums_allow(rows, limits, least, most):
    """60 and twice 40 are 140; of 40 the least is cut off each strip."""
    assert most_left(Problem((60, 40), (1, 2), rows, 0, 0, 15), limits, least) == most


def test_saw_and_trim_are_no_offcut():
    """100 less 5 trimmed, less 40 and a cut of 2; with nothing worth keeping the scrap says nothing."""
    problem = Problem((60, 40), (1, 2), SHOP, 2, 5, 0)
    assert most_left(problem, {"new strips": 3}, {}) == 53
    assert most_left(problem, {"new strips": 2}, {"scrap": 30}) == 53
    assert most_left(Problem((60, 40), (1, 3), SHOP, 0, 0, 0), {"new strips": 2}, {"scrap": 30}) == 20


def test_an_offcut_too_short_to_keep_is_none():
    even = [Pattern(0, ((0, 1), (1, 1)))] * 2
    problem = Problem((40, 30), (2, 2), SHOP, 0, 0, 61)
    assert longest_left(problem, even, even, {"new strips": 2, "scrap": 60}, {}) == (even, 0, 0)
    problem = Problem((40, 30), (2, 2), SHOP, 0, 0, 60)
    plan, value, bound = longest_left(problem, even, even, {"new strips": 2, "scrap": 60}, {})
    assert (value, bound, is_plan(problem, plan, {"new strips": 2})) == (60, 60, True)


def test_with_too_many_patterns_some_with_few_pieces_are_tried(monkeypatch):
    """30 + 40 twice, as before, but not all patterns are looked at: 40 + 30 + 30 has to be known."""
    monkeypatch.setattr("modelmath.cutting.optimum.longest.all_patterns", lambda *_: None)
    even = [Pattern(0, ((0, 1), (1, 1)))] * 2
    problem = Problem((40, 30), (2, 2), SHOP, 0, 0, 15)
    limits = {"new strips": 2, "scrap": 0}
    assert longest_left(problem, even, [], limits, {})[1:] == (40, 60)  # 40 + 40 leaves 20, and 30 + 30 leaves 40
    known = [Pattern(0, ((0, 1), (1, 2)))]
    assert longest_left(problem, even, known, limits, {})[1:] == (60, 60)


def test_whole_numbers_of_patterns():
    patterns = [BOTH, PAIR, LONG, SHORT]
    found = whole_plan(PROBLEM, patterns, "new strips", {}, 9, 100, exactly=True)
    assert (sorted(found.plan, key=str), found.sure) in (
        (sorted([BOTH, SHORT], key=str), True),
        (sorted([LONG, PAIR], key=str), True),
    )
    assert whole_plan(PROBLEM, patterns, "new strips", {}, 3, 100, exactly=True).plan is not None
    none = whole_plan(PROBLEM, patterns, "new strips", {}, 2, 100, exactly=True)
    assert (none.plan, none.sure) == (None, True)
    none = whole_plan(PROBLEM, patterns, "scrap", {"new strips": 1}, 999, 100, exactly=True)
    assert (none.plan, none.sure) == (None, True)
    only_pairs = whole_plan(PROBLEM, [PAIR, BOTH], "new strips", {}, 9, 100, exactly=False)
    assert is_plan(PROBLEM, only_pairs.plan, {"new strips": 2})
    assert whole_plan(PROBLEM, [PAIR, BOTH], "new strips", {}, 9, 100, exactly=True).plan is None
    assert whole_plan(PROBLEM, [], "new strips", {}, 9, 100, exactly=True) == whole_plan(
        PROBLEM, [SHORT], "new strips", {}, 9, 100, exactly=True
    )
    scarce = Problem((60, 40), (1, 2), (Row(100, 2, "to buy", (0,)),), 0, 0, 15)
    assert whole_plan(scarce, [LONG, SHORT], "new strips", {}, 9, 100, exactly=True).plan is None


def test_one_strip_keeps_the_longest_offcut():
    patterns = [BOTH, PAIR, LONG, SHORT]
    found = plan_that_keeps(PROBLEM, patterns, [LONG, SHORT], {"new strips": 2}, 100)
    assert (sorted(found.plan, key=str), found.sure) == (sorted([BOTH, SHORT], key=str), True)  # 60 left, not 40
    assert sorted(plan_that_keeps(PROBLEM, patterns, [LONG], {"new strips": 2}, 100).plan, key=str) == sorted(
        [LONG, PAIR], key=str
    )
    assert plan_that_keeps(PROBLEM, patterns, [SHORT], {"new strips": 1}, 100).plan is None
    none = plan_that_keeps(PROBLEM, patterns, [], {"new strips": 9}, 100)
    assert (none.plan, none.sure) == (None, True)


def test_no_more_strips_are_cut_for_a_longest_offcut():
    """By hand, from 300: with 41 and three of 40 on one strip, one of 40 leaves 260; one of 41 leaves 259."""
    problem = Problem((41, 40), (1, 4), (Row(300, 9, "to buy", (0,)),), 0, 0, 15)
    most, kept = Pattern(0, ((0, 1), (1, 3))), [Pattern(0, ((0, 1),)), Pattern(0, ((1, 1),))]
    found = plan_that_keeps(problem, [most, kept[1]], kept, {}, 100)
    assert sorted(found.plan, key=str) == sorted([most, kept[1]], key=str)


def test_what_is_more_than_is_wanted_is_taken_off():
    assert trimmed(PROBLEM, [PAIR, BOTH, LONG]) == [PAIR, LONG]
    assert trimmed(PROBLEM, [BOTH, PAIR]) == [BOTH, SHORT]


@pytest.mark.parametrize(
    ("plan", "limits", "good"),
    [
        ([BOTH, SHORT], {}, True),
        ([BOTH, SHORT], {"new strips": 2, "scrap": 0}, True),
        ([BOTH, SHORT], {"new strips": 1}, False),
        ([BOTH, PAIR], {}, False),  # one of 40 too many
        ([BOTH], {}, False),
        ([Pattern(0, ((0, 1), (1, 2)))], {}, False),  # 140 from 100
    ],
)
def test_a_plan_is_checked_in_whole_numbers(plan, limits, good):
    assert is_plan(PROBLEM, plan, limits) is good
    if good:
        assert not is_plan(Problem((60, 40), (1, 2), (Row(100, 1, "to buy", (0,)),), 0, 0, 15), plan, limits)
        assert not is_plan(Problem((60, 40), (1, 2), SHOP, 1, 0, 15), plan, limits)


def test_sets_of_offcuts_come_by_their_length_each_once():
    """Two of 30 and one of 50: 0, 30, 50, 60, 80 and 110; the strips to buy stay as they are."""
    rows = (Row(30, 2, "offcut", (0, 1)), *SHOP, Row(50, 1, "offcut", (2,)))
    assert list(offcut_sets._sets(Problem((20,), (1,), rows, 0, 0, 999))) == [
        (0, (0, 9, 0)), (30, (1, 9, 0)), (50, (0, 9, 1)), (60, (2, 9, 0)), (80, (1, 9, 1)), (110, (2, 9, 1)),
    ]  # fmt: skip


@pytest.mark.parametrize(
    ("rows", "useful", "applies"),
    [
        ((OLD, *SHOP), 101, True),
        ((OLD, *SHOP), 100, False),
        (SHOP, 101, False),
        ((OLD,), 101, False),
        ((OLD, *SHOP, Row(90, 9, "to buy", (2,))), 101, False),
        ((Row(120, 1, "offcut", (1,)), *SHOP), 101, False),
    ],
)
def test_scrap_is_the_length_opened_where_nothing_is_kept(rows, useful, applies):
    assert offcut_sets.applies(Problem((60,), (1,), rows, 0, 0, useful)) is applies


def test_the_shortest_offcuts_that_do_are_opened():
    """60 and twice 40: beside one new 100 the old 45 will do and the 70 too; 5 of scrap and 30."""
    rows = (Row(70, 1, "offcut", (0,)), Row(45, 1, "offcut", (1,)), Row(100, 3, "to buy", (2,)))
    problem = Problem((60, 40), (1, 2), rows, 0, 0, 999)
    opened = offcut_sets.least_opened(problem, {"new strips": 1}, 0, 30)
    assert ({pattern.row for pattern in opened.plan}, opened.bound) == ({1, 2}, 5)
    assert offcut_sets.least_opened(problem, {"new strips": 1}, 0, 5) == offcut_sets.Opened(None, 5)
    assert offcut_sets.least_opened(problem, {"new strips": 1}, 6, 31).bound == 30
    assert offcut_sets.least_opened(problem, {"new strips": 1}, 0, 6).bound == 5


def test_one_set_after_the_other_while_the_stock_lasts():
    problem = Problem((60,), (4,), (Row(70, 1, "offcut", (0,)), Row(130, 1, "on hand", (1,)), *SHOP), 0, 0, 15)
    assert [pattern.row for pattern in one_after_another(problem, 4)] == [0, 1, 2, 2]
    assert is_plan(problem, one_after_another(problem, 4), {})
    assert is_plan(problem, one_after_another(problem, 2), {})
    scarce = Problem((60,), (2,), (Row(70, 1, "offcut", (0,)),), 0, 0, 15)
    assert one_after_another(scarce, 2) == []
    assert len(one_after_another(Problem((60,), (2,), (Row(70, 2, "offcut", (0, 1)),), 0, 0, 15), 2)) == 2


def test_the_same_stock_is_planned_once(monkeypatch):
    """Strips to buy last for all five sets, so there is one plan; the drawer's changes until it is empty."""
    asked = []
    real = repeated.best_plan
    monkeypatch.setattr(repeated, "best_plan", lambda problem: asked.append(problem) or real(problem))
    one_after_another(Problem((60,), (5,), (Row(100, 99, "to buy", (0,)),), 0, 0, 15), 5)
    assert [(each.demand, each.rows[0].count) for each in asked] == [((1,), 1)]
    asked.clear()
    one_after_another(Problem((60,), (5,), (Row(70, 2, "offcut", (0, 1)), *SHOP), 0, 0, 15), 5)
    assert [len(each.rows) for each in asked] == [2, 1]


def progress_of(steps):
    shares = []
    while True:
        try:
            shares.append(next(steps).share)
        except StopIteration:
            return shares


def test_how_far_a_plan_is_goes_from_nothing_up_to_all():
    shares = progress_of(best_plan_in_steps(PROBLEM))
    assert shares == sorted(set(shares)) == [0, 0.4, 0.5, 0.6, 0.8, 0.9]
    parts = [CutPart("post", 60, 1, "one"), CutPart("beam", 40, 2, "two")]
    shares = progress_of(plan_cuts_in_steps(parts, [CutStock("one", 100), CutStock("two", 100)]))
    assert shares == pytest.approx([each / 2 for each in (0, 0.4, 0.5, 0.6, 0.8, 0.9, 1, 1.4, 1.5, 1.6, 1.8, 1.9)])


def test_all_that_is_left_of_strips_with_long_trims_is_scrap():
    """Each of three strips of 100 gives 40 behind its trim of 60, for one piece of 30: 70 of each are lost."""
    problem = Problem((30,), (3,), (Row(100, 9, "to buy", (0,)),), 0, 60, 500)
    assert quick_least(problem, "scrap", {"new strips": 3}, {"new strips": 3}) == 210


@given(st.integers(1, 5), st.integers(0, 3), st.integers(0, 4))
def test_scrap_of_pieces_all_alike_is_cuts_and_trim(pieces, kerf, trim):
    """From strip with room for all: n - 1 cuts and one trim, or a trim each where that is less than a cut."""
    problem = Problem((30,), (pieces,), (Row(1_000, 9, "to buy", (0,)),), kerf, trim, 50)
    least = min(n * trim + (pieces - n) * kerf for n in range(1, pieces + 1))
    assert quick_least(problem, "scrap", {"new strips": 9}, {"new strips": 1}) == least


def test_what_sums_say_of_the_other_goals():
    rows = (Row(70, 2, "offcut", (0,)), Row(39, 9, "offcut", (1,)), *SHOP, Row(90, 9, "to buy", (3,)))
    problem = Problem((60, 40), (2, 2), rows, 0, 5, 15)
    assert quick_least(problem, "cut from new strip", {}, {}) == 200 - 2 * 65
    assert quick_least(problem, "length bought", {}, {"bought": 2}) == 180
    assert quick_least(Problem((60,), (1,), rows[:1], 0, 5, 15), "length bought", {}, {"bought": 0}) == 0
    assert quick_least(Problem((60,), (1,), rows[:1], 0, 5, 15), "cut from new strip", {}, {}) == 0
    # Two strips of 100 for 140, 60 left in all: scrap where 61 is the least to keep, an offcut where 60 is.
    for useful, least in ((61, 60), (60, 0)):
        problem = Problem((60, 40), (1, 2), SHOP, 0, 0, useful)
        assert quick_least(problem, "scrap", {"new strips": 2}, {"new strips": 2}) == least

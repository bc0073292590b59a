"""What is called proven stays true however little may be searched, against a search through every plan.

Every limit of the search is taken down until it stops at once: bounds may then be weak, but never wrong.
"""

from __future__ import annotations

from fractions import Fraction

import full_search
import pytest
from hypothesis import assume, example, given, settings
from hypothesis import strategies as st

from modelmath.cutting import CutPart, CutStock, plan_cuts
from modelmath.cutting.convert import problem_of
from modelmath.cutting.optimum import offcut_sets, stages
from modelmath.cutting.optimum.columns.filling import best_fillings
from modelmath.cutting.optimum.fewest import Fewest, fewest_strips
from modelmath.cutting.optimum.longest import most_left
from modelmath.cutting.optimum.problem import Pattern, Problem, Row
from modelmath.cutting.optimum.quick import quick_least
from modelmath.errors import DoesNotFit

STRIP = "HO 6x10"
HOME = "modelmath.cutting.optimum"
LIMITS = {
    f"{HOME}.stages.MOST_NODES": (0, 1),
    f"{HOME}.stages.MOST_PATTERNS": (0, 1, 3),
    f"{HOME}.stages.MOST_DIVES": (0, 1),
    f"{HOME}.fewest.MOST_NODES": (0, 1),
    f"{HOME}.fewest.MOST_PATTERNS": (0, 1, 3),
    f"{HOME}.fewest.MOST_DIVES": (0, 1),
    f"{HOME}.longest.MOST_NODES": (0, 1),
    f"{HOME}.longest.MOST_PATTERNS": (0, 1, 3),
    f"{HOME}.offcut_sets.MOST_SETS": (0, 1, 2),
    f"{HOME}.columns.filling.MOST_NODES": (0, 2),
    f"{HOME}.columns.filling.LONGEST_TABLE": (0, 120_000),
}
limits = st.fixed_dictionaries({name: st.sampled_from(values) for name, values in LIMITS.items()})


@settings(deadline=None, max_examples=400)
@given(
    pieces=st.lists(st.integers(2, 11), min_size=2, max_size=5),
    offcuts=st.lists(st.integers(1, 12), max_size=3),
    on_hand=st.lists(st.integers(8, 16), max_size=2),
    to_buy=st.lists(st.integers(11, 18), min_size=1, max_size=2, unique=True),
    kerf=st.integers(0, 2),
    trim=st.integers(0, 4),
    useful=st.sampled_from([0, 1, 2, 3, 5, 8, 40]),
    little=limits,
)
def test_no_bound_is_beaten_by_any_plan(pieces, offcuts, on_hand, to_buy, kerf, trim, useful, little):
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
    with pytest.MonkeyPatch.context() as patched:
        for name, value in little.items():
            patched.setattr(name, value)
        try:
            verdict = plan_cuts(parts, stock, kerf, trim, least_offcut_mm=useful).verdicts[0]
        except DoesNotFit:
            assume(False)
    left = every
    for at, stage in enumerate(verdict.stages):
        sign = -1 if stage.goal == "longest offcut" else 1
        best = min(plan[at] for plan in left)
        assert sign * stage.bound <= best, (
            f"{stage.goal}: {stage.bound} is called a bound, and a plan has {sign * best}"
        )
        left = [plan for plan in left if plan[at] <= sign * stage.value]
        assert left


GOALS = ("bought", "new strips", "length bought", "scrap", "cut from new strip")


@settings(deadline=None, max_examples=300)
@given(
    pieces=st.lists(st.integers(2, 9), min_size=1, max_size=4),
    offcuts=st.one_of(st.just([]), st.lists(st.integers(3, 12), max_size=2)),
    on_hand=st.one_of(st.just([]), st.lists(st.integers(8, 12), max_size=2)),
    to_buy=st.one_of(st.just([12]), st.lists(st.integers(11, 14), min_size=1, max_size=2, unique=True)),
    kerf=st.integers(0, 2),
    trim=st.integers(0, 3),
    useful=st.sampled_from([0, 1, 3, 6, 20, 60]),
    chosen=st.integers(0, 10**6),
)
@example([7], [], [], [12], 0, 0, 5, 0)  # what is left is just worth keeping
@example([2, 2, 2, 2, 3], [], [], [11], 1, 0, 3, 0)  # a plan with more scrap than another that keeps a longer offcut
def test_bounds_from_sums_hold_for_every_plan(pieces, offcuts, on_hand, to_buy, kerf, trim, useful, chosen):
    """Any plan may set the limits, also one that is not best: then bounds count with the least, not with its values."""
    stock = [CutStock(STRIP, length, 1, offcut=True) for length in offcuts]
    stock += [CutStock(STRIP, length, 1) for length in on_hand] + [CutStock(STRIP, length) for length in to_buy]
    parts = [CutPart(f"part {number}", length, 1, STRIP) for number, length in enumerate(pieces)]
    problem = problem_of(parts, stock, Fraction(kerf), Fraction(trim), Fraction(useful), 1)
    strips = [(length, "offcut") for length in offcuts] + [(length, "on hand") for length in on_hand]
    strips += [(length, "to buy") for length in to_buy for _ in pieces]
    every = [
        full_search.judged(plan, strips, kerf, trim, useful)
        for plan in full_search.every_plan(sorted(pieces, reverse=True), strips, kerf, trim)
    ]
    assume(every)
    some = every[chosen % len(every)]
    limits, least, left = {}, {}, every
    for at, goal in enumerate(GOALS):
        best = min(plan[at] for plan in left)
        if goal != "bought":
            assert quick_least(problem, goal, limits, least) <= best
        limits[goal], least[goal] = some[at], best
        left = [plan for plan in left if plan[at] <= some[at]]
    assert most_left(problem, limits, least) >= max(-plan[-1] for plan in left)


def test_a_short_branch_over_some_patterns_proves_nothing():
    """Chvatal (1983): 453 strips do, where filling one strip after the other takes 485; no dive, hardly a pattern."""
    problem = Problem((45, 36, 31, 14), (97, 610, 395, 211), (Row(100, 1313, "to buy", (0,)),), 0, 0, 0)
    with pytest.MonkeyPatch.context() as patched:
        for name in ("MOST_DIVES", "MOST_PATTERNS"):
            patched.setattr(f"{HOME}.fewest.{name}", 0)
        found = fewest_strips(problem)
    assert found.bound <= 453 < found.cost


def test_a_set_of_offcuts_that_could_not_be_settled_stays_in_the_bound():
    """60 + 40 + 40 from 100s and offcuts of 70 and 45: with one new strip the 45 will do, 5 of it scrap."""
    rows = (Row(70, 1, "offcut", (0,)), Row(45, 1, "offcut", (1,)), Row(100, 3, "to buy", (2,)))
    problem = Problem((60, 40), (1, 2), rows, 0, 0, 999)
    asked = []

    def unsure_at_first(problem, enough=0):
        asked.append(problem)
        if len(asked) == 1:
            return Fewest([], enough + 1, enough)  # no plan found, and none ruled out
        return fewest_strips(problem, enough)

    with pytest.MonkeyPatch.context() as patched:
        patched.setattr(offcut_sets, "fewest_strips", unsure_at_first)
        opened = offcut_sets.least_opened(problem, {"new strips": 1}, -100, 30)
    assert opened.bound == -40  # the new strip alone, 100 less 140: not ruled out
    assert offcut_sets.least_opened(problem, {"new strips": 1}, -100, 30).bound == 5
    with pytest.MonkeyPatch.context() as patched:
        patched.setattr(offcut_sets, "MOST_SETS", 0)
        assert offcut_sets.least_opened(problem, {"new strips": 1}, -100, 30).bound == -40


def test_a_plan_with_more_whole_strips_than_needed_is_not_called_best():
    """By hand: three of 40 take two strips of 100; a search that ended with one piece to a strip has shown nothing."""
    rows = (Row(100, 3, "on hand", (0, 1, 2)), Row(100, 3, "to buy", (3,)))
    apart = [Pattern(0, ((0, 1),))] * 3
    answers = [Fewest(apart, 0, 0, [apart[0]]), Fewest(apart, 3, 1, [apart[0]])]
    with pytest.MonkeyPatch.context() as patched:
        patched.setattr(stages, "fewest_strips", lambda *_, **_more: answers.pop(0))
        best = stages.best_plan(Problem((40,), (3,), rows, 0, 0, 0))
    assert [(stage.goal, stage.value, stage.bound) for stage in best.stages[:2]] == [
        ("bought", 0, 0),
        ("new strips", 2, 2),
    ]


@given(
    st.lists(st.tuples(st.integers(1, 40), st.integers(2, 9), st.integers(1, 3)), min_size=3, max_size=6),
    st.integers(5, 60),
)
def test_a_filling_that_was_not_searched_to_its_end_is_not_called_best(pieces, capacity):
    values, sizes, most = zip(*pieces, strict=True)
    (best, _), sure = best_fillings(values, sizes, most, [capacity], whole=True)[0][0], True
    with pytest.MonkeyPatch.context() as patched:
        patched.setattr(f"{HOME}.columns.filling.LONGEST_TABLE", 0)
        patched.setattr(f"{HOME}.columns.filling.MOST_NODES", 1)
        found, sure = best_fillings(values, sizes, most, [capacity], whole=True)
    assert found[0][0] == best if sure else found[0][0] <= best


@pytest.mark.parametrize(
    ("useful", "kept"),
    [(Fraction(40), True), (Fraction(401, 10), False)],
)
def test_an_offcut_of_just_the_least_length_is_kept(useful, kept):
    """By hand: 100 less 60 leaves 40."""
    plan = plan_cuts([CutPart("post", 60, 1, STRIP)], [CutStock(STRIP, 100)], least_offcut_mm=useful)
    assert plan.strips[0].kept is kept
    assert plan.scrap_mm == (0 if kept else 40)

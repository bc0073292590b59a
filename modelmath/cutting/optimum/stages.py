"""The goals in turn: each is made least among the plans that are best by those before it, and says if it is proven."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from modelmath.cutting.optimum import offcut_sets
from modelmath.cutting.optimum.columns.dive import dive
from modelmath.cutting.optimum.columns.generate import UNKNOWN, generate
from modelmath.cutting.optimum.columns.master import Master
from modelmath.cutting.optimum.columns.near import near_patterns
from modelmath.cutting.optimum.fewest import Fewest, fewest_strips
from modelmath.cutting.optimum.goals import BOUGHT, BOUGHT_LENGTH, FROM_NEW, NEW, SCRAP, total
from modelmath.cutting.optimum.longest import LEFT, longest_kept, longest_left
from modelmath.cutting.optimum.problem import Pattern, Problem
from modelmath.cutting.optimum.quick import quick_least
from modelmath.cutting.optimum.whole import is_plan, whole_plan
from modelmath.steps import InSteps, Progress, at_once

MOST_NODES = 30
MOST_PATTERNS = 900
MOST_DIVES = 3
# The goals in between: what is looked for, and how much of the whole is done before, roughly.
GOALS = {
    BOUGHT_LENGTH: ("least length to buy", 0.5),
    SCRAP: ("least scrap", 0.6),
    FROM_NEW: ("most from old offcuts", 0.8),
}


@dataclass(frozen=True)
class Stage:
    """How good the plan is by one goal, among plans as good by the goals before it.

    Attributes
    ----------
    goal : str
        The goal. [-]
    value : int
        What the plan gives. [unit of the goal]
    bound : int
        What no such plan goes beyond. [unit of the goal]
    """

    goal: str
    value: int
    bound: int

    @property
    def proven(self) -> bool:
        """Whether no such plan is better. [-]"""
        return self.value == self.bound


@dataclass(frozen=True)
class Best:
    """The best plan found, and how good it is by each goal in turn.

    Attributes
    ----------
    plan : tuple of Pattern
        A pattern for each strip. [-]
    stages : tuple of Stage
        Goal by goal: least of all but the last, of which most. [-]
    """

    plan: tuple[Pattern, ...]
    stages: tuple[Stage, ...]


def best_plan(problem: Problem, known: Sequence[Pattern] = ()) -> Best | None:
    """Return the best plan: fewest to buy, fewest whole strips, least scrap, most from old offcuts, longest offcut.

    Of strips to buy the least length goes before scrap.

    Parameters
    ----------
    problem : Problem
        The problem. [-]
    known : sequence of Pattern
        A plan that is known already, which the one returned is no worse than; none when empty. [-]

    Returns
    -------
    Best or None
        None if no plan is found at all. [-]

    References
    ----------
    Goals in order of rank: each a limit on those after it (lexicographic programming), textbook.

    Examples
    --------
    >>> from modelmath.cutting.optimum.problem import Row
    >>> rows = (Row(75, 1, "offcut", (0,)), Row(100, 3, "to buy", (1,)))
    >>> best = best_plan(Problem((60, 40), (1, 2), rows, 0, 0, 15))
    >>> [(stage.goal, stage.value, stage.proven) for stage in best.stages if stage.goal in ("new strips", "scrap")]
    [('new strips', 1, True), ('scrap', 0, True)]
    """
    return at_once(best_plan_in_steps(problem, known))


def best_plan_in_steps(problem: Problem, known: Sequence[Pattern] = ()) -> InSteps[Best | None]:
    """Return the best plan as `best_plan` does, goal by goal.

    Parameters
    ----------
    problem : Problem
        The problem. [-]
    known : sequence of Pattern
        A plan that is known already; none when empty. [-]

    Yields
    ------
    Progress
        Before each goal. [-]

    Returns
    -------
    Best or None
        As `best_plan`. [-]

    References
    ----------
    `best_plan`.
    """
    yield Progress("fewest strips to buy")
    # On hand costs nothing here, as an offcut does: what is left to count is what is bought.
    first = fewest_strips(_with(problem, kind={"on hand": "offcut"}))
    if known and (first is None or total(problem, BOUGHT, known) < first.cost):
        first = Fewest(list(known), total(problem, BOUGHT, known), 0 if first is None else first.bound)
    if first is None:
        return None
    stages = [Stage(BOUGHT, first.cost, min(first.bound, first.cost))]
    search = _Later(problem, first, known)
    yield Progress("fewest whole strips", 0.4)
    stages.append(search.fewest_whole(stages[0]))
    for goal, (doing, share) in GOALS.items():
        yield Progress(doing, share)
        stages.append(search.stage(goal))
    yield Progress("longest offcut", 0.9)
    search.take_known(LEFT)
    plan, longest, bound = longest_left(problem, search.plan, search.patterns, search.limits, search.least)
    # What was found for a later goal may be better by an earlier one, which then had not been proven.
    stages = [replace(stage, value=total(problem, stage.goal, plan)) for stage in stages]
    return Best(tuple(plan), (*stages, Stage(LEFT, longest, bound)))


def _with(problem: Problem, kind: Mapping[str, str] | None = None, bought: int | None = None) -> Problem:
    """Return the problem with rows of other kinds, or with so many at most that may be bought."""
    rows = [replace(row, kind=(kind or {}).get(row.kind, row.kind)) for row in problem.rows]
    if bought is not None:
        rows = [replace(row, count=min(row.count, bought)) if row.bought else row for row in rows]
    return replace(problem, rows=tuple(rows))


class _Later:
    """The goals after the first, with the plan and the patterns carried from one to the next."""

    def __init__(self, problem: Problem, first: Fewest, known: Sequence[Pattern]) -> None:
        self.problem, self.plan, self.patterns = problem, first.plan, [*first.patterns, *known]
        self.known = list(known)
        self.limits = {BOUGHT: first.cost}
        self.least: dict[str, int] = {BOUGHT: min(first.bound, first.cost)}

    def fewest_whole(self, bought: Stage) -> Stage:
        """Cut into the fewest whole strips, on hand and bought, of the plans that buy as few."""
        if not any(row.kind == "on hand" for row in self.problem.rows):
            self.limits[NEW], self.least[NEW] = bought.value, bought.bound
            return replace(bought, goal=NEW)
        if total(self.problem, NEW, self.plan) > quick_least(self.problem, NEW, self.limits, self.least):
            allowed = _with(self.problem, bought=bought.value)
            found = fewest_strips(allowed, limits=dict(self.limits), known=self.plan)
            if found is not None:
                self.patterns += found.patterns
                self.plan = found.plan
                self.least[NEW] = found.bound
        return self.stage(NEW)

    def stage(self, goal: str) -> Stage:
        """Improve the plan by a goal; return how good it is then."""
        self.take_known(goal)
        quick = max(quick_least(self.problem, goal, self.limits, self.least), self.least.get(goal, 0))
        value = total(self.problem, goal, self.plan)
        bound = quick if value <= quick else max(quick, self._improve(goal))
        value = total(self.problem, goal, self.plan)
        self.limits = {each: total(self.problem, each, self.plan) for each in (*self.limits, goal)}
        self.least[goal] = min(bound, value)
        return Stage(goal, value, min(bound, value))

    def take_known(self, goal: str) -> None:
        """Go on with the plan that was known before, where it is as good by the goals so far, and better by this."""
        if not self.known or not is_plan(self.problem, self.known, self.limits):
            return
        if goal == LEFT:
            better = longest_kept(self.problem, self.known) > longest_kept(self.problem, self.plan)
        else:
            better = total(self.problem, goal, self.known) < total(self.problem, goal, self.plan)
        if better:
            self.plan = list(self.known)

    def _improve(self, goal: str) -> int:
        """Improve the plan by column generation and branch and cut; return the bound."""
        problem = self.problem
        # Of whole strips it takes so many for sure: where fewer may do, it says nothing of plans with fewer.
        if goal == SCRAP and self.limits.get(NEW) == self.least.get(NEW) and offcut_sets.applies(problem):
            value = total(problem, goal, self.plan)
            opened = offcut_sets.least_opened(
                problem, self.limits, quick_least(problem, goal, self.limits, self.least), value
            )
            self.plan = opened.plan or self.plan
            return opened.bound
        counts = [row.count for row in problem.rows]
        master = Master(problem, goal, self.limits, exactly=True)
        master.add([*self.plan, *self.patterns])
        value = total(problem, goal, self.plan)
        found = generate(master, problem.demand, counts, value)
        if found is None:
            return -UNKNOWN
        bound = found.bound
        for skip in range(MOST_DIVES):
            if bound < value:
                value = self._dive(master, value, skip)
        if bound < value:
            near, complete = near_patterns(master, found.solved, problem.demand, value - 1, MOST_PATTERNS)
            patterns = near if complete else master.patterns[-MOST_PATTERNS:]
            whole = whole_plan(problem, patterns, goal, self.limits, value, MOST_NODES, exactly=True)
            if whole.plan is not None and is_plan(problem, whole.plan, self.limits):
                self.plan = whole.plan
                value = total(problem, goal, self.plan)
            if whole.sure and complete:
                bound = value
        self.patterns = [*self.plan, *master.patterns]
        return bound

    def _dive(self, master: Master, value: int, skip: int) -> int:
        """Dive once; return what the plan costs then."""
        for settled, demand, _counts in dive(master, value - 1, skip):
            if not any(demand) and is_plan(self.problem, settled, {**self.limits, master.goal: value - 1}):
                self.plan = list(settled)
        return total(self.problem, master.goal, self.plan)

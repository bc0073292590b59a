"""The fewest new strips: greedy plans, column generation, a dive to whole numbers, a short branch and cut.

Each step ends the search as soon as a plan meets the bound.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

from modelmath.cutting.bounds import fewest_new
from modelmath.cutting.optimum.columns.dive import dive
from modelmath.cutting.optimum.columns.generate import Generated, generate
from modelmath.cutting.optimum.columns.master import Master
from modelmath.cutting.optimum.columns.near import near_patterns
from modelmath.cutting.optimum.goals import NEW, total
from modelmath.cutting.optimum.greedy import greedy_plan, supply_of
from modelmath.cutting.optimum.problem import Pattern, Problem
from modelmath.cutting.optimum.whole import is_plan, trimmed, whole_plan

MOST_NODES = 400  # of a branch and cut
MOST_PATTERNS = 4_000  # in one
MOST_DIVES = 6


@dataclass
class Fewest:
    """The best plan so far, and the bound.

    Attributes
    ----------
    plan : list of Pattern
        A pattern for each strip. [-]
    cost, bound : int
        New strips it takes, and that any plan takes. [-]
    patterns : list of Pattern
        Patterns met on the way, for the stages after. [-]
    enough : int
        What is good enough; 0 to go on to the best. [-]
    limits : mapping of str to int
        Most of each goal that a plan may have; empty for any plan. [-]
    """

    plan: list[Pattern]
    cost: int
    bound: int
    patterns: list[Pattern] = field(default_factory=list)
    enough: int = 0
    limits: Mapping[str, int] = field(default_factory=dict)

    @property
    def settled(self) -> bool:
        """Whether the search may end: the plan is best, or it is good enough, or none that good can be. [-]"""
        return self.proven or self.cost <= self.enough or 0 < self.enough < self.bound

    @property
    def proven(self) -> bool:
        """Whether no plan takes fewer. [-]"""
        return self.cost <= self.bound

    def offer(self, problem: Problem, plan: Sequence[Pattern] | None) -> None:
        """Take a plan if it is better than the one at hand.

        Parameters
        ----------
        problem : Problem
            The problem. [-]
        plan : sequence of Pattern or None
            A whole plan; None is none. [-]

        References
        ----------
        None needed.
        """
        if plan is None or (cost := total(problem, NEW, plan)) >= self.cost:
            return
        if not self.limits or is_plan(problem, plan, self.limits):
            self.plan, self.cost = list(plan), cost


def quick_bound(problem: Problem) -> int:
    """Return the area and dual-feasible bound on new strips.

    Parameters
    ----------
    problem : Problem
        The problem. [-]

    Returns
    -------
    int
        No plan takes fewer. [-]

    References
    ----------
    `fewest_new`.
    """
    supply = supply_of(problem, [row.count for row in problem.rows])
    sizes = [size for size, wanted in zip(problem.sizes, problem.demand, strict=True) for _ in range(wanted)]
    on_hand = [capacity for capacity, _ in supply.on_hand]
    return fewest_new(sizes, [capacity for capacity, _ in supply.offcuts], on_hand, supply.longest_to_buy)


def fewest_strips(
    problem: Problem, enough: int = 0, limits: Mapping[str, int] | None = None, known: Sequence[Pattern] = ()
) -> Fewest | None:
    """Return the plan with the fewest new strips that is found, and the bound that is proven.

    Parameters
    ----------
    problem : Problem
        The problem. [-]
    enough : int
        The search may end with a plan of so many, or with the proof that there is none. [-]
    limits : mapping of str to int, optional
        Most of each goal that a plan may have. [-]
    known : sequence of Pattern
        A plan within the limits, to start with; none when empty. [-]

    Returns
    -------
    Fewest or None
        None if no plan is found at all. [-]

    References
    ----------
    Column generation with a dive: F. Vanderbeck, "Computational study of a column generation algorithm for bin
    packing and cutting stock problems", Math. Programming 86 (1999). From memory.

    Examples
    --------
    First-fit packing needs five of these; four is proven to be enough (sizes from a public set of instances):

    >>> from modelmath.cutting.optimum.problem import Row
    >>> problem = Problem((60, 50, 40, 30, 20), (1, 1, 2, 1, 1), (Row(120, 9, "to buy", (0,)),), 0, 0, 0)
    >>> found = fewest_strips(problem)
    >>> found.cost, found.proven
    (2, True)
    """
    counts = [row.count for row in problem.rows]
    limits = limits or {}
    plan = greedy_plan(problem, problem.demand, counts, search=True)
    # Greedily as many are bought as it takes, whatever the limits.
    starts = [plan] if plan is not None and (not limits or is_plan(problem, plan, limits)) else []
    starts += [list(known)] if known else []
    if not starts:
        return None
    plan = min(starts, key=lambda each: total(problem, NEW, each))
    best = Fewest(plan, total(problem, NEW, plan), quick_bound(problem), list(dict.fromkeys(plan)), enough, limits)
    if best.settled:
        return best
    master = Master(problem, NEW, limits, exactly=False)
    master.add(best.patterns)
    found = generate(master, problem.demand, counts, best.cost)
    if found is None:
        return best
    best.bound = max(best.bound, found.bound)
    _make_whole(problem, master, found, best)
    best.patterns = list(master.patterns)
    return best


def _make_whole(problem: Problem, master: Master, root: Generated, best: Fewest) -> None:
    """Dive, then branch over the patterns known, then over all that could be in a better plan."""
    for skip in range(MOST_DIVES):
        if best.settled:
            return
        _dive(problem, master, best, skip)
    if not best.settled and len(master.patterns) <= MOST_PATTERNS:
        found = whole_plan(problem, master.patterns, NEW, best.limits, best.cost, MOST_NODES, exactly=False)
        best.offer(problem, found.plan)
    if best.settled:
        return
    near, all_of_them = near_patterns(master, root.solved, problem.demand, best.cost - 1, MOST_PATTERNS)
    found = whole_plan(problem, near, NEW, best.limits, best.cost, MOST_NODES, exactly=False)
    best.offer(problem, found.plan)
    if found.plan is None and found.sure and all_of_them:
        best.bound = best.cost


def _dive(problem: Problem, master: Master, best: Fewest, skip: int) -> None:
    """Dive once, and finish greedily at each step."""
    for settled, demand, counts in dive(master, best.cost - 1, skip):
        rest = greedy_plan(problem, demand, counts)
        if rest is not None:
            best.offer(problem, trimmed(problem, [*settled, *rest]))
            master.add(rest)
        if best.settled:
            break

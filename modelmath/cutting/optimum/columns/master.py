"""The linear programme over the patterns known so far, and its prices; solved with HiGHS."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from math import inf
from typing import Any

from modelmath.cutting.optimum.goals import cost
from modelmath.cutting.optimum.problem import Pattern, Problem


def solver() -> Any:
    """Return a silent solver that gives the same answer each time.

    Returns
    -------
    highspy.Highs
        One thread, the solver's own seed, no limit of time. [-]

    References
    ----------
    Q. Huangfu and J. A. J. Hall, "Parallelizing the dual revised simplex method", Math. Programming Computation 10
    (2018): HiGHS.
    """
    import highspy

    found = getattr(highspy, "_Highs", highspy.Highs)()  # the outer class greets on the terminal, whatever it is told
    for name, value in (("output_flag", False), ("threads", 1), ("parallel", "off")):
        found.setOptionValue(name, value)
    return found


@dataclass(frozen=True)
class Solved:
    """A solution of the linear programme.

    Attributes
    ----------
    value : float
        Of its objective. [-]
    used : list of float
        How often each pattern is used. [-]
    prices : list of float
        What a piece of each length is worth. [-]
    weights : dict of str to float
        What a unit of each limited goal costs; the objective's own is 1. [-]
    dear : list of float
        What a strip of each row costs beyond that, being scarce. [-]
    """

    value: float
    used: list[float]
    prices: list[float]
    weights: dict[str, float]
    dear: list[float]


class Master:
    """The linear programme: pieces covered, strips there are, and limits on goals dealt with before.

    Parameters
    ----------
    problem : Problem
        The problem. [-]
    goal : str
        What is made least. [-]
    limits : mapping of str to int
        Most of each goal before it. [-]
    exactly : bool
        Whether no more pieces may be cut than are wanted. [-]
    """

    def __init__(self, problem: Problem, goal: str, limits: Mapping[str, int], *, exactly: bool) -> None:
        self.problem, self.goal, self.limits, self.exactly = problem, goal, dict(limits), exactly
        self.patterns: list[Pattern] = []
        self.known: set[Pattern] = set()
        self.highs = solver()
        infinite = inf
        for wanted in problem.demand:
            self.highs.addRow(wanted, wanted if exactly else infinite, 0, [], [])
        for row in problem.rows:
            self.highs.addRow(-infinite, row.count, 0, [], [])
        for most in self.limits.values():
            self.highs.addRow(-infinite, most, 0, [], [])

    def add(self, patterns: Iterable[Pattern]) -> int:
        """Add those not known yet; return how many.

        Parameters
        ----------
        patterns : iterable of Pattern
            Patterns. [-]

        Returns
        -------
        int
            How many were new. [-]

        References
        ----------
        None needed.
        """
        fresh = [pattern for pattern in dict.fromkeys(patterns) if pattern not in self.known]
        lengths, rows = len(self.problem.demand), len(self.problem.rows)
        for pattern in fresh:
            places = [at for at, _ in pattern.pieces] + [lengths + pattern.row]
            entries = [float(count) for _, count in pattern.pieces] + [1.0]
            for number, goal in enumerate(self.limits):
                each = cost(self.problem, goal, pattern)
                if each:
                    places.append(lengths + rows + number)
                    entries.append(float(each))
            own = float(cost(self.problem, self.goal, pattern))
            self.highs.addCol(own, 0.0, inf, len(places), places, entries)
        self.patterns += fresh
        self.known.update(fresh)
        return len(fresh)

    def ask(self, demand: Sequence[int], counts: Sequence[int], limits: Mapping[str, int]) -> None:
        """Ask for what is left of a problem once some strips are settled.

        Parameters
        ----------
        demand, counts : sequence of int
            Pieces of each length still wanted; strips of each row still there. [-]
        limits : mapping of str to int
            What is left of each limit. [-]

        References
        ----------
        None needed.
        """
        infinite = inf
        for at, wanted in enumerate(demand):
            self.highs.changeRowBounds(at, wanted, wanted if self.exactly else infinite)
        for at, count in enumerate(counts, start=len(demand)):
            self.highs.changeRowBounds(at, -infinite, count)
        for at, most in enumerate((limits[goal] for goal in self.limits), start=len(demand) + len(counts)):
            self.highs.changeRowBounds(at, -infinite, most)

    def solve(self) -> Solved | None:
        """Return the best use of the known patterns; None if there is none.

        Returns
        -------
        Solved or None
            The solution with its prices. [-]

        References
        ----------
        The simplex method, in HiGHS.
        """
        import highspy

        self.highs.run()
        if self.highs.getModelStatus() != highspy.HighsModelStatus.kOptimal:
            return None
        found = self.highs.getSolution()
        lengths, rows = len(self.problem.demand), len(self.problem.rows)
        dual = list(found.row_dual)
        weights = {goal: max(0.0, -dual[lengths + rows + at]) for at, goal in enumerate(self.limits)}
        return Solved(
            self.highs.getInfo().objective_function_value,
            list(found.col_value),
            [price if self.exactly else max(0.0, price) for price in dual[:lengths]],
            {**weights, self.goal: 1.0},
            [max(0.0, -each) for each in dual[lengths : lengths + rows]],
        )

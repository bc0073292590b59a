"""Several places at once: the chance that any touches, and what choosing the best of several readings costs."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import sqrt
from typing import Any

from modelmath.clearance.draws import BLOCK
from modelmath.clearance.joint import deviations_together
from modelmath.clearance.simulated import Frequency
from modelmath.clearance.stack import Stack
from modelmath.errors import OutOfRange

TRIALS = 200_000
SAME_MM = 1e-9


@dataclass(frozen=True)
class AnyTouches:
    """The chance that at least one of several gaps is below 0.

    Attributes
    ----------
    drawn : Frequency
        The chance as counted in trials, sources that gaps share drawn once. [-]
    each : tuple of float
        Each gap's own chance, exact by convolution. [-]
    at_most : float
        The most that the chance of any can be: the sum over the gaps that are not the same gap twice (Boole's
        inequality). [-]
    seed : int
        Start of the random numbers. [-]
    """

    drawn: Frequency
    each: tuple[float, ...]
    at_most: float
    seed: int

    @property
    def at_least(self) -> float:
        """The largest of the gaps' own chances: the least that the chance of any can be. [-]"""
        return max(self.each)

    @property
    def chance(self) -> float:
        """The chance as drawn, kept between its exact limits, which decide where it is too rare to be drawn. [-]"""
        return min(max(self.drawn.chance, self.at_least), self.at_most)

    @property
    def standard_error(self) -> float:
        """How far off that may well be: that of the draws, or the room between the exact limits if that is less. [-]"""
        return min(self.drawn.standard_error, self.at_most - self.at_least)


def chance_of_any(gaps: Sequence[Any], trials: int = TRIALS, seed: int = 1, block: int = BLOCK) -> AnyTouches:
    """Return the chance that any of several gaps is below 0.

    Parameters
    ----------
    gaps : sequence of uncertain numbers or floats
        The gaps, computed from readings and rules that they may share. [mm]
    trials, seed, block : int
        How often to draw, start of the random numbers, and how many trials at once, which changes no number. [-]

    Returns
    -------
    AnyTouches
        The chance, its limits, and each gap's own. [-]

    Raises
    ------
    OutOfRange
        If there are no gaps, or the trials, the seed or the block are outside their limits.

    References
    ----------
    JCGM 101:2008, clause 7; Boole's inequality for the limits.

    Examples
    --------
    >>> from modelmath.lengths.uncertain import rectangular
    >>> left, right = rectangular(0.09, 0.1, "left"), rectangular(0.09, 0.1, "right")
    >>> found = chance_of_any([left, right], trials=20_000)
    >>> [round(chance, 2) for chance in (found.at_least, found.chance, found.at_most)]
    [0.05, 0.1, 0.1]
    """
    import numpy as np

    nominal = np.array([[float(getattr(gap, "nominal_value", gap))] for gap in gaps])
    hits = sum(int((nominal + drawn < 0).any(axis=0).sum()) for drawn in deviations_together(gaps, trials, seed, block))
    each = tuple(Stack.of_measured("gap", gap).interference() for gap in gaps)
    own = [chance for place, chance in enumerate(each) if not any(_same(gaps[place], gap) for gap in gaps[:place])]
    return AnyTouches(Frequency(hits, trials), each, min(1.0, sum(own)), seed)


def _same(gap: Any, other: Any) -> bool:
    """Whether two gaps are one gap: of one size, and off together by the same."""
    difference = gap - other
    return (
        not getattr(difference, "std_dev", 0.0)
        and abs(float(getattr(difference, "nominal_value", difference))) < SAME_MM
    )


@dataclass(frozen=True)
class AfterChoice:
    """The chance of touching at the best of several spots, without and with regard to its having been chosen.

    Attributes
    ----------
    chosen : int
        Which spot scored best, counted from 0. [-]
    without_choice : float
        Chance of touching there as if it had been the only spot read; exact by convolution. [-]
    with_choice : Frequency
        Chance of touching there given that it was chosen for its reading. [-]
    flattery_mm : float
        How much larger than true, on average, the chosen spot is read. [mm]
    flattery_error_mm : float
        Standard error of that. [mm]
    shares : tuple of float
        How often each spot is chosen in the trials. [-]
    at_most : float
        Sum of all spots' own chances, exact: no choice can touch more often. It decides where `with_choice` is too rare
        to be drawn. [-]
    seed : int
        Start of the random numbers. [-]
    """

    chosen: int
    without_choice: float
    with_choice: Frequency
    flattery_mm: float
    flattery_error_mm: float
    shares: tuple[float, ...]
    at_most: float
    seed: int


def chance_after_choice(
    scores: Sequence[Any],
    gaps: Sequence[Any],
    alike: bool = False,
    trials: int = TRIALS,
    seed: int = 1,
    block: int = BLOCK,
) -> AfterChoice:
    """Return the chance of touching where a part was sized at the best of several spots, each read with error.

    Whoever picks the spot that reads best picks, more often than not, one whose reading erred to the good side. The
    part sized from that reading is then a little larger than it should be, though each reading by itself is as likely
    to err either way. Reading the chosen spot once more, and sizing by the new reading alone, undoes that.

    How often and how much is found by playing it again: what was read is taken for true, the errors are drawn anew,
    the best is chosen again by the scores as then read, and the part there is sized from the reading as then made,
    with the same room left. Errors that scores and gaps share (the readings, and the rule behind them) are drawn once
    for both; what is in a gap alone, such as how the shell seats, is not flattered.

    Parameters
    ----------
    scores : sequence of uncertain numbers or floats
        What each spot was judged by, the larger the better, computed from its readings. [-]
    gaps : sequence of uncertain numbers or floats
        The gap at each spot beside a part sized from its reading: nominally the room that was left. [mm]
    alike : bool
        Take all spots as truly alike, so that error alone decides between them; flatters the most where the errors are
        of one size. [-]
    trials, seed, block : int
        How often to draw, start of the random numbers, and how many trials at once, which changes no number. [-]

    Returns
    -------
    AfterChoice
        Both chances, and the flattery. [-, mm]

    Raises
    ------
    OutOfRange
        If there are no spots, not as many gaps as scores, or the trials, seed or block are outside their limits.

    Notes
    -----
    It is assumed that errors are independent of the true sizes, and scores and gaps linear in them. Readings scatter
    more than the true sizes do, so taking them for true spreads the spots a little too far and finds a little too
    little flattery; `alike` shows the other extreme.

    References
    ----------
    Order statistics: of k equal independent normal errors the largest is expected at 0.5642 standard deviations for
    k = 2 and 0.8463 for k = 3 (H. A. David and H. N. Nagaraja, Order Statistics; from memory, recomputed in the
    tests). The effect is known as the winner's curse. Parametric bootstrap: B. Efron and R. J. Tibshirani, An
    Introduction to the Bootstrap, 6.5 (from memory).

    Examples
    --------
    >>> from modelmath.lengths.uncertain import normal
    >>> depths = [normal(10.0, 0.1, "left"), normal(10.0, 0.1, "right")]
    >>> found = chance_after_choice(depths, [depth - 9.8 for depth in depths], trials=20_000)
    >>> round(found.without_choice, 4), round(found.with_choice.chance, 2), round(found.flattery_mm, 3)
    (0.0228, 0.05, 0.056)
    """
    import numpy as np

    count = len(scores)
    if count != len(gaps):
        raise OutOfRange("the number of gaps", f"{len(gaps)}", f"as that of scores, {count}", "Give one for each spot.")
    score_read = np.array([float(getattr(score, "nominal_value", score)) for score in scores])
    room = np.array([float(getattr(gap, "nominal_value", gap)) for gap in gaps])
    base = np.zeros((count, 1)) if alike else score_read[:, None]
    hits, total, squares, chosen_counts = 0, 0.0, 0.0, np.zeros(count, dtype=int)
    for drawn in deviations_together([*scores, *gaps], trials, seed, block):
        # A drawn deviation is true less read: what makes the true gap smaller made the reading, and the score, larger.
        best = (base - drawn[:count]).argmax(axis=0)
        short = -np.take_along_axis(drawn[count:], best[None, :], axis=0)[0]
        hits += int((short > room[best]).sum())
        total += float(short.sum())
        squares += float(short @ short)
        chosen_counts += np.bincount(best, minlength=count)
    mean, chosen = total / trials, int(score_read.argmax())
    own = [Stack.of_measured("gap", gap).interference() for gap in gaps]
    return AfterChoice(
        chosen,
        own[chosen],
        Frequency(hits, trials),
        mean,
        sqrt(max(squares / trials - mean * mean, 0.0) / trials),
        tuple(float(each) / trials for each in chosen_counts),
        min(1.0, sum(own)),
        seed,
    )

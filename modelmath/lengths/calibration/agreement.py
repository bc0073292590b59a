"""Which of several measured points disagrees with the others: named, never dropped from the result."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from statistics import NormalDist

from modelmath.lengths.calibration.line_fit import Line

SIGNIFICANCE = 0.05  # chance to name one of a set in which none is wrong
MOST = 3  # of how many points one may be wrong
SAME = 1e-6  # two differences this near to each other, as parts of them, can't be told apart


@dataclass(frozen=True)
class Difference:
    """How far a point lies from what the others say.

    Attributes
    ----------
    by, u : float
        The difference, and its standard uncertainty. [unit of y]
    """

    by: float
    u: float

    @property
    def in_u(self) -> float:
        """Size of the difference, in its own standard uncertainties. [-]"""
        return abs(self.by) / self.u


@dataclass(frozen=True)
class Agreement:
    """How the points of a fit agree.

    Attributes
    ----------
    differences : tuple of (Difference or None)
        Of each point from the others that agree; None where they can't say. [unit of y]
    limit : float
        How many standard uncertainties a difference may have. [-]
    disagreeing : tuple of int
        Places of the points beyond it, the worst first. [-]
    undecided : tuple of int
        Places of points among which something is wrong, though it can't be told which. [-]
    """

    differences: tuple[Difference | None, ...]
    limit: float
    disagreeing: tuple[int, ...]
    undecided: tuple[int, ...]

    @property
    def unchecked(self) -> bool:
        """Whether no point can be checked by the others."""
        return all(each is None for each in self.differences)


def limit_for(count: int, significance: float = SIGNIFICANCE) -> float:
    """Return how many standard uncertainties the largest of several differences may have.

    Parameters
    ----------
    count : int
        Differences compared. [-]
    significance : float
        Chance that one exceeds it though none is wrong; less where they are correlated. [-]

    Returns
    -------
    float
        The limit. [-]

    References
    ----------
    Šidák 1967, J. Am. Stat. Assoc. 62, from memory.

    Examples
    --------
    >>> round(limit_for(1), 3), round(limit_for(10), 3)
    (1.96, 2.8)
    """
    each = 1.0 - (1.0 - significance) ** (1.0 / max(count, 1))
    return -NormalDist().inv_cdf(each / 2)


def agreement_of(count: int, fit: Callable[[Sequence[int]], Line]) -> Agreement:
    """Compare each point with what the others say, and name those that don't fit.

    The worst is set aside for the comparison and the rest compared again, while it can be told which is the worst, and
    up to a third of them. One that fits to those left in the end is taken back.

    Parameters
    ----------
    count : int
        Points. [-]
    fit : callable
        Gives the line through the points of some places. [-]

    Returns
    -------
    Agreement
        What was found. [unit of y]

    References
    ----------
    Baarda 1968, A testing procedure for use in geodetic networks, from memory.

    Examples
    --------
    >>> from modelmath.lengths.calibration.line_fit import fit_line
    >>> ys = [0.0, 1.1, 2.0, 9.0, 4.1, 5.0]
    >>> found = agreement_of(6, lambda places: fit_line(list(places), [ys[place] for place in places]))
    >>> found.disagreeing, round(found.differences[3].by, 2)
    ((3,), 5.96)
    """
    kept, aside = list(range(count)), list[int]()
    undecided: tuple[int, ...] = ()
    while True:
        seen = _differences(kept, fit)
        worst = _worst(seen)
        if not worst or max(each.in_u for each in seen.values()) <= _limit(seen):
            break
        if len(worst) > 1:
            undecided = tuple(worst)
            break
        if len(aside) >= count // MOST:
            # So many would be wrong that the others are no measure of them.
            undecided = tuple(sorted([*aside, *worst]))
            kept, aside = list(range(count)), []
            break
        kept.remove(worst[0])
        aside.append(worst[0])
    for place in [*aside]:
        seen = _differences([*kept, place], fit)
        if seen[place].in_u <= _limit(seen):
            kept.append(place)
            aside.remove(place)
    own = _differences(kept, fit)
    apart = {place: _differences([*kept, place], fit)[place] for place in aside}
    return Agreement(
        differences=tuple(own.get(place) or apart.get(place) for place in range(count)),
        limit=_limit(own),
        disagreeing=tuple(aside),
        undecided=undecided,
    )


def _differences(places: Sequence[int], fit: Callable[[Sequence[int]], Line]) -> dict[int, Difference]:
    """Return by place how far each point lies from the others, where those can say."""
    shifts = fit(places).shifts
    return {place: Difference(by, u) for place, (by, u) in zip(places, shifts, strict=True) if u < float("inf")}


def _worst(seen: dict[int, Difference]) -> list[int]:
    """Return the place that is farthest off, or several that can't be told apart."""
    far = max((each.in_u for each in seen.values()), default=0.0)
    return [place for place, each in seen.items() if each.in_u >= far * (1 - SAME)]


def _limit(seen: dict[int, Difference]) -> float:
    """Return the limit for as many differences as can be told apart."""
    sizes = sorted(each.in_u for each in seen.values())
    apart = [size for before, size in zip([-1.0, *sizes], sizes, strict=False) if size > before * (1 + SAME)]
    return limit_for(len(apart))

"""What many trials of a result say about it: mean, uncertainty, intervals, chances."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from math import floor, sqrt
from typing import TYPE_CHECKING

from modelmath.errors import OutOfRange

if TYPE_CHECKING:
    from modelmath.clearance.shapes import Array


@dataclass(frozen=True)
class Frequency:
    """A chance as counted in trials.

    Attributes
    ----------
    hits, trials : int
        How often it happened, and of how many. [-]

    References
    ----------
    The standard error is taken at (hits + 1)/(trials + 2), Laplace's rule of succession, so that a chance of which no
    case was seen is not claimed to be known exactly.

    Examples
    --------
    >>> Frequency(25, 1000).chance, round(Frequency(25, 1000).standard_error, 4)
    (0.025, 0.005)
    """

    hits: int
    trials: int

    @property
    def chance(self) -> float:
        """Share of the trials. [-]"""
        return self.hits / self.trials

    @property
    def standard_error(self) -> float:
        """How far off that share may well be, one standard deviation. [-]"""
        likely = (self.hits + 1) / (self.trials + 2)
        return sqrt(likely * (1 - likely) / self.trials)


@dataclass(frozen=True, eq=False)
class Simulated:
    """Values of a result in many trials.

    Attributes
    ----------
    values : array
        One for each trial, in the order drawn. [unit of the result]
    seed : int
        Start of the random numbers. [-]
    stable : bool or None
        Whether the results were found stable; None where it was not asked. [-]

    References
    ----------
    JCGM 101:2008, 7.5 to 7.9.

    Examples
    --------
    >>> import numpy as np
    >>> drawn = Simulated(np.arange(1000.0), seed=1)
    >>> drawn.mean, drawn.interval(0.95), drawn.chance_below(100).chance
    (499.5, (24.0, 974.0), 0.1)
    """

    values: Array
    seed: int
    stable: bool | None = None

    @property
    def trials(self) -> int:
        """How many trials there are. [-]"""
        return int(self.values.size)

    @cached_property
    def mean(self) -> float:
        """Mean of the values (JCGM 101:2008, 7.6). [unit of the result]"""
        return float(self.values.mean())

    @cached_property
    def u(self) -> float:
        """Standard deviation of the values (7.6); it settles on nothing where a t of 2 degrees or fewer goes in."""
        return float(self.values.std(ddof=1))

    @cached_property
    def _ordered(self) -> Array:
        import numpy as np

        return np.sort(self.values)

    def _held(self, coverage: float) -> int:
        if not 0 < coverage < 1 or round(coverage * self.trials) in (0, self.trials):
            write = "Write 0.95 for 95 %, or draw more trials."
            raise OutOfRange("the coverage", f"{coverage}", f"between 0 and 1 in {self.trials:,} trials", write)
        return floor(coverage * self.trials + 0.5)

    def interval(self, coverage: float = 0.95) -> tuple[float, float]:
        """Return the interval that holds that share of the values, with as many below it as above.

        Parameters
        ----------
        coverage : float
            The share, between 0 and 1. [-]

        Returns
        -------
        low, high : float
            Its ends. [unit of the result]

        Raises
        ------
        OutOfRange
            If the coverage is not between 0 and 1, or too near to either for the trials.

        References
        ----------
        JCGM 101:2008, 7.7.2.

        Examples
        --------
        >>> import numpy as np
        >>> Simulated(np.arange(1000.0), seed=1).interval(0.9)
        (49.0, 949.0)
        """
        held = self._held(coverage)
        first = (self.trials - held + 1) // 2 - 1  # ordered values count from 1 there, from 0 here
        return float(self._ordered[first]), float(self._ordered[first + held])

    def shortest(self, coverage: float = 0.95) -> tuple[float, float]:
        """Return the shortest interval that holds that share of the values.

        Parameters
        ----------
        coverage : float
            The share, between 0 and 1. [-]

        Returns
        -------
        low, high : float
            Its ends. [unit of the result]

        Raises
        ------
        OutOfRange
            If the coverage is not between 0 and 1, or too near to either for the trials.

        References
        ----------
        JCGM 101:2008, 7.7.4.

        Examples
        --------
        >>> import numpy as np
        >>> Simulated(np.linspace(0.0, 1.0, 1001) ** 2, seed=1).shortest(0.5)[0]
        0.0
        """
        held = self._held(coverage)
        first = int((self._ordered[held:] - self._ordered[: self.trials - held]).argmin())
        return float(self._ordered[first]), float(self._ordered[first + held])

    def chance_below(self, x: float) -> Frequency:
        """Return the chance that the result lies below a value.

        Parameters
        ----------
        x : float
            The value. [unit of the result]

        Returns
        -------
        Frequency
            The chance, with its standard error. [-]

        References
        ----------
        JCGM 101:2008, 7.5: the values stand for the distribution function.

        Examples
        --------
        >>> import numpy as np
        >>> Simulated(np.arange(1000.0), seed=1).chance_below(10.0)
        Frequency(hits=10, trials=1000)
        """
        return Frequency(int((self.values < x).sum()), self.trials)

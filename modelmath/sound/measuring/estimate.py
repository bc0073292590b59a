"""A parameter found by measuring: its value, its standard uncertainty and its 95 % interval."""

from __future__ import annotations

from dataclasses import dataclass
from math import exp, inf, isinf

CONFIDENCE = 0.95


@dataclass(frozen=True)
class Estimate:
    """A positive parameter found by measuring.

    Attributes
    ----------
    value : float
        The best value. [its own unit]
    u : float
        Its standard uncertainty. [its own unit]
    low, high : float
        The 95 % interval, as far from the value in ratio either way. [its own unit]
    dof : float
        Degrees of freedom of the uncertainty; infinite where it was stated. [-]

    References
    ----------
    JCGM 100:2008, 4.3, 5.1 and annex G.

    Examples
    --------
    >>> found = Estimate.of_ratio(450.0, 0.01, 20)
    >>> round(found.u, 2), round(found.low, 1), round(found.high, 1)
    (4.5, 440.7, 459.5)
    """

    value: float
    u: float
    low: float
    high: float
    dof: float = inf

    @classmethod
    def of_ratio(cls, value: float, relative_u: float, dof: float = inf) -> Estimate:
        """Return an estimate from its relative uncertainty.

        Parameters
        ----------
        value : float
            The best value, above 0. [its own unit]
        relative_u : float
            Standard uncertainty of its natural logarithm. [-]
        dof : float
            Degrees of freedom. [-]

        Returns
        -------
        Estimate
            With the interval of Student's t on the logarithm, so that it stays above 0. [its own unit]

        References
        ----------
        JCGM 100:2008, G.3.
        """
        reach = exp(min(coverage_factor(dof) * relative_u, 50.0))
        return cls(value, value * relative_u, value / reach, value * reach, dof)

    def times(self, factor: float) -> Estimate:
        """Return the same in another unit.

        Parameters
        ----------
        factor : float
            How many of the other make one of this, above 0. [-]

        Returns
        -------
        Estimate
            The same. [the other unit]

        References
        ----------
        None needed.
        """
        return Estimate(self.value * factor, self.u * factor, self.low * factor, self.high * factor, self.dof)

    @property
    def within(self) -> float:
        """How far off it may be either way, by the wider side of its interval. [its own unit]"""
        return max(self.high - self.value, self.value - self.low)


def coverage_factor(dof: float) -> float:
    """Return how many standard uncertainties the 95 % interval reaches either way.

    Parameters
    ----------
    dof : float
        Degrees of freedom. [-]

    Returns
    -------
    float
        The factor. [-]

    References
    ----------
    JCGM 100:2008, table G.2.

    Examples
    --------
    >>> round(coverage_factor(10), 2), round(coverage_factor(float("inf")), 2)
    (2.23, 1.96)
    """
    from scipy.special import ndtri, stdtrit

    half = (1 + CONFIDENCE) / 2
    return float(ndtri(half) if isinf(dof) else stdtrit(dof, half))

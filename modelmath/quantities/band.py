"""A result with the band that it lies in, as far as what it follows from is known."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any


@dataclass(frozen=True)
class Band:
    """A result, its best value first.

    Attributes
    ----------
    best : float
        With the best value of everything. [its own unit]
    low, high : float
        The least and the greatest that it may be. [its own unit]

    References
    ----------
    None needed.

    Examples
    --------
    >>> Band.over([700.0, 650.0, 820.0])
    Band(best=700.0, low=650.0, high=820.0)
    """

    best: float
    low: float
    high: float

    @classmethod
    def over(cls, values: Any) -> Band:
        """Return the band of a result worked out for every case.

        Parameters
        ----------
        values : sequence of float
            The result, for the best case first. [its own unit]

        Returns
        -------
        Band
            Best, least and greatest. [its own unit]

        References
        ----------
        None needed.
        """
        found = [float(each) for each in values]
        return cls(found[0], min(found), max(found))

    @property
    def exact(self) -> bool:
        """Whether it has no width. [-]"""
        return self.low == self.high

"""What a small speaker's parameters may be where they are not known: limits and usual values, each with its source."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

from modelmath.errors import TableError
from modelmath.quantities.known import Known
from modelmath.tables import rows

FILE = "driver_estimates.csv"


@dataclass(frozen=True)
class Estimate:
    """A usual value with the limits of what is usual.

    Attributes
    ----------
    low, best, high : float
        Lower limit, usual value, upper limit. [its own unit]
    source : str
        Where they come from. [-]

    References
    ----------
    data/driver_estimates.csv.
    """

    low: float
    best: float
    high: float
    source: str

    def narrowed(self, least: float | None = None, most: float | None = None) -> Estimate:
        """Return the part of it that something known leaves.

        Where nothing is left, what is known counts: the limits move beside it, their ratio kept.

        Parameters
        ----------
        least, most : float or None
            What it can't be below and above; only one of them is given. [its own unit]

        Returns
        -------
        Estimate
            With the best value between the new limits. [its own unit]

        References
        ----------
        None needed.

        Examples
        --------
        >>> usual = Estimate(2, 4, 8, "sample")
        >>> usual.narrowed(least=5), usual.narrowed(most=1)
        (Estimate(low=5, best=5, high=8, source='sample'), Estimate(low=0.25, best=1, high=1, source='sample'))
        """
        low, high, ratio = self.low, self.high, self.high / self.low
        if least is not None:
            low = max(low, least)
            high = high if high >= low else low * ratio
        if most is not None:
            high = min(high, most)
            low = low if low <= high else high / ratio
        return Estimate(low, min(max(self.best, low), high), high, self.source)

    def known(self, by: Known | float = 1.0, why: str = "") -> Known:
        """Return it as a parameter, times what it was counted in.

        Parameters
        ----------
        by : Known or float
            What the estimate is a ratio to. [its own unit]
        why : str
            What it is estimated from. [-]

        Returns
        -------
        Known
            The parameter, its limits those of all combinations. [its own unit]

        References
        ----------
        Interval arithmetic: a product of positive numbers is least where both are least.

        Examples
        --------
        >>> Estimate(0.5, 0.6, 0.75, "sample").known(100, "its outside size")
        Known(value=60.0, low=50.0, high=75.0, origin='estimated', why='its outside size: sample')
        """
        scale = by if isinstance(by, Known) else Known.of(by)
        text = f"{why}: {self.source}" if why else self.source
        return Known(self.best * scale.value, self.low * scale.low, self.high * scale.high, "estimated", text)


@cache
def estimates() -> dict[str, Estimate]:
    """Return the estimates by quantity.

    Returns
    -------
    dict of str to Estimate
        Every row of the table. [unit of the row]

    Raises
    ------
    TableError
        If limits are not in order, or a quantity stands there twice.

    References
    ----------
    data/driver_estimates.csv.

    Examples
    --------
    >>> estimates()["resonance fs"].low
    300.0
    """
    found: dict[str, Estimate] = {}
    for line, row in rows(FILE):
        low, best, high = (float(row[column]) for column in ("low", "best", "high"))
        if not 0 < low <= best <= high:
            raise TableError(FILE, line, f"{low:g}, {best:g} and {high:g} are not in order or not above 0")
        if row["quantity"] in found:
            raise TableError(FILE, line, f"{row['quantity']} stands there twice")
        found[row["quantity"]] = Estimate(low, best, high, row["source"])
    return found

"""What makes a figure uncertain, source by source."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from modelmath.lengths.uncertain import components


@dataclass(frozen=True)
class Share:
    """One source's part of a standard uncertainty.

    Attributes
    ----------
    source : str
        What it is, in words. [-]
    shape : str
        How it is distributed. [-]
    u : float
        Its share: sensitivity times standard uncertainty, signed. [unit of the figure]
    percent : float
        Of the variance. [%]
    """

    source: str
    shape: str
    u: float
    percent: float


def shares_of(value: Any) -> tuple[Share, ...]:
    """Return the uncertainty budget of a computed number.

    Parameters
    ----------
    value : uncertain number, float or None
        Any result computed from uncertain numbers. [any]

    Returns
    -------
    tuple of Share
        The largest first; none for a plain number. [any]

    References
    ----------
    JCGM 100:2008, 5.1.2, 5.1.3; the budget of table H.1.

    Examples
    --------
    >>> from modelmath.lengths.uncertain import rectangular
    >>> depth = rectangular(10.0, 0.3, "roof") - rectangular(4.0, 0.1, "chassis")
    >>> [(share.source, round(share.percent)) for share in shares_of(depth)]
    [('roof', 90), ('chassis', 10)]
    """
    found = components(value)
    variance = sum(u * u for _, u in found)
    return tuple(Share(cause.name, cause.shape, u, 100 * u * u / variance) for cause, u in found)

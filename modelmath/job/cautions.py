"""The usual cautions, by topic, with their sources. They defer to labels, local codes and licensed practice."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

from modelmath.tables import rows


@dataclass(frozen=True)
class Caution:
    """One caution.

    Attributes
    ----------
    topic : str
        What it is about. [-]
    text : str
        What to do. [-]
    source : str
        Where it comes from. [-]
    """

    topic: str
    text: str
    source: str


@cache
def cautions() -> tuple[Caution, ...]:
    """Return every caution of data/cautions.csv, in the table's order."""
    return tuple(Caution(row["topic"], row["caution"], row["source"]) for _, row in rows("cautions.csv"))


def cautions_on(*topics: str) -> tuple[Caution, ...]:
    """Return the cautions on some topics.

    Parameters
    ----------
    *topics : str
        As in the table. [-]

    Returns
    -------
    tuple of Caution
        In the table's order. [-]

    References
    ----------
    data/cautions.csv, each with its source.

    Examples
    --------
    >>> [caution.topic for caution in cautions_on("knife")]
    ['knife']
    """
    return tuple(caution for caution in cautions() if caution.topic in topics)

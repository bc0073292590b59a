"""Figures that the feeding of lamps goes by where the user has none, each with its source."""

from __future__ import annotations

from functools import cache

from modelmath.errors import UnknownChoice
from modelmath.quantities.known import Known
from modelmath.tables import rows

FILE = "feeding_limits.csv"


@cache
def _limits() -> dict[str, Known]:
    return {
        row["name"]: Known(float(row["value"]), float(row["low"]), float(row["high"]), "estimated", row["source"])
        for _, row in rows(FILE)
    }


def limit(name: str) -> Known:
    """Return a figure of the table, with its limits and its source.

    Parameters
    ----------
    name : str
        Its name there. [-]

    Returns
    -------
    Known
        The figure; `why` is its source. [W/m2K, degC or -, as the table says]

    Raises
    ------
    UnknownChoice
        If the table has no such row.

    References
    ----------
    data/feeding_limits.csv.

    Examples
    --------
    >>> limit("plastic").value
    60.0
    """
    found = _limits()
    if name not in found:
        raise UnknownChoice("a figure of the feeding", name, tuple(found))
    return found[name]

"""What filling a chamber with fibre does: its air acts as more of it, and takes some of the motion away."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import product
from math import inf

from modelmath.errors import TableError, UnknownChoice
from modelmath.tables import rows

TABLE = "stuffing.csv"
GAIN, SYSTEM_Q, SHARE = "volume gain", "mechanical Q of the closed box", "share of the loss of full filling"
QUANTITIES = (GAIN, SYSTEM_Q, SHARE)
Range = tuple[float, float, float]


@dataclass(frozen=True)
class Stuffing:
    """How much fibre is in a chamber.

    Attributes
    ----------
    name : str
        In words. [-]
    volume_gain : tuple of float
        How many times its volume the chamber acts as: least, best, most. [-]
    q_box : tuple of float
        The Q at the resonance in the chamber that the loss in the filling alone would leave: least, best, most;
        infinite where it takes nothing. [-]
    source : str
        Where these come from. [-]

    Notes
    -----
    Leach gives the mechanical Q of a whole closed box, the speaker's own loss and the chamber's together: 7 to 10
    unfilled, 2 to 5 filled. The loss that the filling alone adds is the difference, 1/q_box = 1/filled - 1/unfilled:
    from 1/5 - 1/7 (least loss) to 1/2 - 1/10 (most). It joins the speaker's own: 1/Qmc = 1/(Qms sqrt(1 + alpha)) +
    1/q_box. Unfilled adds nothing, so that small bare chambers keep to the plain relations.

    References
    ----------
    W. M. Leach, What value of QTC minimizes the lower cutoff frequency; data/stuffing.csv, each row with its source.
    """

    name: str
    volume_gain: Range
    q_box: Range
    source: str = ""

    @property
    def cases(self) -> Iterator[tuple[float, float]]:
        """Volume gain and Q of the loss, every combination of limits and best values, the best first. [-]"""
        low, best, high = self.volume_gain
        least, likely, most = self.q_box
        yield from dict.fromkeys(product((best, low, high), (likely, least, most)))


def stuffing(name: str) -> Stuffing:
    """Return a stuffing by its name.

    Parameters
    ----------
    name : str
        Its name in the table. [-]

    Returns
    -------
    Stuffing
        With its limits and their source. [-]

    Raises
    ------
    UnknownChoice
        If the table has no such stuffing.

    References
    ----------
    data/stuffing.csv, each row with its source.

    Examples
    --------
    >>> stuffing("filled").volume_gain
    (1.1, 1.25, 1.4)
    >>> tuple(round(each, 2) for each in stuffing("filled").q_box)
    (2.5, 5.95, 17.5)
    """
    if name not in STUFFINGS:
        raise UnknownChoice("the stuffing", str(name), list(STUFFINGS))
    return STUFFINGS[name]


def read_stuffings() -> dict[str, Stuffing]:
    """Return every stuffing in the table, by name.

    Returns
    -------
    dict of str to Stuffing
        In the table's order. [-]

    Raises
    ------
    TableError
        If a row's limits are in the wrong order, or its quantity has no such name.

    References
    ----------
    data/stuffing.csv, each row with its source.

    Examples
    --------
    >>> list(read_stuffings())
    ['unfilled', 'lightly filled', 'filled']
    """
    found: dict[tuple[str, str], Range] = {}
    sources: dict[str, list[str]] = {}
    for line, row in rows(TABLE):
        if row["quantity"] not in QUANTITIES:
            raise TableError(TABLE, line, f"the quantity is none of {', '.join(QUANTITIES)}")
        low, best, high = (float(row[limit]) for limit in ("low", "best", "high"))
        if not 0 <= low <= best <= high:
            raise TableError(TABLE, line, "its limits are not 0 or more, the lower one first")
        found[row["name"], row["quantity"]] = (low, best, high)
        sources.setdefault(row["name"], []).append(row["source"])
    losses = _losses(found["unfilled", SYSTEM_Q], found["filled", SYSTEM_Q])
    return {
        name: Stuffing(name, gain, _q_box(found.get((name, SHARE), _share(name)), losses), "; ".join(sources[name]))
        for (name, quantity), gain in found.items()
        if quantity == GAIN
    }


def _losses(unfilled: Range, filled: Range) -> Range:
    """Return what full filling adds to 1/Q: most, best, least."""
    return 1 / filled[0] - 1 / unfilled[2], 1 / filled[1] - 1 / unfilled[1], 1 / filled[2] - 1 / unfilled[0]


def _share(name: str) -> Range:
    return (1.0, 1.0, 1.0) if name == "filled" else (0.0, 0.0, 0.0)


def _q_box(share: Range, losses: Range) -> Range:
    """Return the Q of so large a share of full filling's loss: the most loss leaves the least Q."""
    most, best, least = share[2] * losses[0], share[1] * losses[1], share[0] * losses[2]
    return _inverse(most), _inverse(best), _inverse(least)


def _inverse(loss: float) -> float:
    return 1 / loss if loss else inf


STUFFINGS = read_stuffings()
UNFILLED, LIGHTLY_FILLED, FILLED = STUFFINGS["unfilled"], STUFFINGS["lightly filled"], STUFFINGS["filled"]

"""Instruments as they usually are, by kind: what a person need not type."""

from __future__ import annotations

from functools import cache
from typing import Any

from modelmath.errors import TableError, UnknownChoice
from modelmath.lengths.rules import Rule
from modelmath.lengths.rules.instruments import CANT_MARK_OUT, KINDS
from modelmath.tables import rows

_FIELDS = ("unit", "graduation", "read_to", "offset_uncertainty", "scale_error_uncertainty", "reads")


@cache
def usual(kind: str) -> dict[str, Any]:
    """Return the usual fields of a kind of instrument.

    Parameters
    ----------
    kind : {"scale rule", "steel rule", "caliper", "depth gauge", "feelers", "putty gap"}
        What it is. [-]

    Returns
    -------
    dict of str to str or float
        Fields of `Rule`; those that its own defaults serve are left out. Their lengths name a unit, so that they
        stay what they are on one that reads inches. [rule's unit]

    Raises
    ------
    UnknownChoice
        If no kind is called so.

    References
    ----------
    data/instruments.csv, each row with its source.

    Examples
    --------
    >>> usual("feelers")
    {'unit': 'mm', 'graduation': '0.05 mm', 'reads': 'largest that passes'}
    """
    for line, row in rows("instruments.csv"):
        if (row["marks_out"] == "no") != (row["kind"] in CANT_MARK_OUT):
            raise TableError("instruments.csv", line, f"it says otherwise whether {row['kind']} mark a size out")
        if row["kind"] == kind:
            found: dict[str, Any] = {name: row[name] for name in _FIELDS if row[name] not in ("", "0", "nearest mark")}
            if "scale_error_uncertainty" in found:
                found["scale_error_uncertainty"] = float(found["scale_error_uncertainty"])
            return found
    raise UnknownChoice("kind of instrument", kind, KINDS)


def instrument(kind: str, **fields: Any) -> Rule:
    """Return an instrument as it usually is, but for the fields given.

    Parameters
    ----------
    kind : {"scale rule", "steel rule", "caliper", "depth gauge", "feelers", "putty gap"}
        What it is. [-]
    **fields : text or number
        Fields of `Rule` that differ from the usual. [rule's unit]

    Returns
    -------
    Rule
        The instrument, named after its kind unless `name` is given. [-]

    Raises
    ------
    UnknownChoice
        If no kind is called so.
    OutOfRange, UnreadableLength, WrongKind
        As `Rule`.

    References
    ----------
    data/instruments.csv.

    Examples
    --------
    >>> instrument("feelers").length("0.50").n  # it passes at 0.50 and not at 0.55
    0.525
    """
    return Rule(**{"name": kind, **usual(kind), **fields, "kind": kind})

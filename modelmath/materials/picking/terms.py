"""How far what layers are made of differs from its nominal size, and what glue adds between them."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from functools import cache

from modelmath.errors import UnknownChoice
from modelmath.tables import rows


@dataclass(frozen=True)
class Made:
    """What one layer adds, and how far it may be off.

    Attributes
    ----------
    thickness_mm : Fraction
        What it adds by itself; 0 for strip and sheet, which have their own size. [mm]
    tolerance_mm : Fraction
        How far it may be off, either way. [mm]
    """

    thickness_mm: Fraction
    tolerance_mm: Fraction


@cache
def made_to(what: str) -> Made:
    """Look up what a layer adds and how far it may be off.

    Parameters
    ----------
    what : {"strip", "sheet", "glue line", ...}
        A row of data/clearance_terms.csv. [-]

    Returns
    -------
    Made
        Thickness and tolerance. [mm]

    Raises
    ------
    UnknownChoice
        If the table has no such row.

    References
    ----------
    data/clearance_terms.csv, each row with its source.

    Examples
    --------
    >>> made_to("glue line")
    Made(thickness_mm=Fraction(1, 20), tolerance_mm=Fraction(1, 20))
    """
    found = {row["what"]: row for _, row in rows("clearance_terms.csv")}
    if what not in found:
        raise UnknownChoice("the layer", what, list(found))
    return Made(Fraction(found[what]["thickness_mm"]), Fraction(found[what]["tolerance_mm"]))

"""How heavy materials are, as far as their name alone tells."""

from __future__ import annotations

from dataclasses import dataclass, field
from fractions import Fraction
from functools import cache
from typing import Any

from modelmath.errors import TableError, UnknownChoice
from modelmath.lengths.uncertain import rectangular
from modelmath.tables import rows

TABLE = "densities.csv"


@dataclass(frozen=True)
class Density:
    """The density of a material, known to lie within limits.

    Attributes
    ----------
    material : str
        Its name. [-]
    low_g_cm3, high_g_cm3 : Fraction
        Limits. [g/cm3]
    source : str
        Where they come from. [-]
    confirmed : bool
        Whether that was seen in print; otherwise the limits are from memory. [-]
    """

    material: str
    low_g_cm3: Fraction
    high_g_cm3: Fraction
    source: str
    confirmed: bool
    value: Any = field(init=False, compare=False, repr=False)

    def __post_init__(self) -> None:
        # One variable for each material: two pieces of one casting are too heavy or too light together.
        half = (self.high_g_cm3 - self.low_g_cm3) / 2
        value = rectangular(float(self.best_g_cm3), float(half), f"density of {self.material}")
        object.__setattr__(self, "value", value)

    @property
    def best_g_cm3(self) -> Fraction:
        """Middle of the limits. [g/cm3]"""
        return (self.low_g_cm3 + self.high_g_cm3) / 2

    @property
    def in_words(self) -> str:
        """The density, half its range either way, and where that comes from."""
        half = float(self.high_g_cm3 - self.low_g_cm3) / 2
        known = self.source if self.confirmed else f"from memory: {self.source}"
        return f"{self.material}: {float(self.best_g_cm3):g} ± {half:g} g/cm3 ({known})"


@cache
def densities() -> dict[str, Density]:
    """Return the density of every material in the table, by name.

    Returns
    -------
    dict of str to Density
        In the table's order. [g/cm3]

    Raises
    ------
    TableError
        If a row's limits are in the wrong order, or it does not say whether it is confirmed.

    References
    ----------
    data/densities.csv, each row with its source.

    Examples
    --------
    >>> list(densities())[:3]
    ['zinc alloy', 'brass', 'steel']
    """
    found: dict[str, Density] = {}
    for line, row in rows(TABLE):
        low, high = Fraction(row["low_g_cm3"]), Fraction(row["high_g_cm3"])
        if not 0 < low < high:
            raise TableError(TABLE, line, "its limits are not above 0, the lower one first")
        if row["confirmed"] not in ("confirmed", "from memory"):
            raise TableError(TABLE, line, "it says neither confirmed nor from memory")
        found[row["material"]] = Density(row["material"], low, high, row["source"], row["confirmed"] == "confirmed")
    return found


def density(material: str) -> Density:
    """Return the density of a material.

    Parameters
    ----------
    material : str
        Its name in the table. [-]

    Returns
    -------
    Density
        With its limits and their source. [g/cm3]

    Raises
    ------
    UnknownChoice
        If the table has no such material.

    References
    ----------
    data/densities.csv, each row with its source.

    Examples
    --------
    >>> print(density("PMMA").in_words)
    PMMA: 1.18 ± 0.01 g/cm3 (three public property tables)
    """
    if material not in densities():
        raise UnknownChoice("the material", material, list(densities()))
    return densities()[material]

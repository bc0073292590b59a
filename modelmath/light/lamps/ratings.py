"""How much heat resistors are made for, and the smallest that is enough."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

from modelmath.errors import TableError, UnknownChoice
from modelmath.light.lamps.amounts import ROUNDING
from modelmath.tables import rows

FILE = "resistor_ratings.csv"
STYLES = ("leaded", "chip")


@dataclass(frozen=True)
class Rating:
    """A size of resistor by the heat it is made for.

    Attributes
    ----------
    style : {"leaded", "chip"}
        With wires at its ends, or soldered flat. [-]
    name : str
        What the size is called. [-]
    rating_w : float
        The heat it is made for. [W]
    length_mm, width_mm : float or None
        Of a chip, its size on the board. [mm]
    source : str
        Where that comes from. [-]

    References
    ----------
    data/resistor_ratings.csv.
    """

    style: str
    name: str
    rating_w: float
    length_mm: float | None
    width_mm: float | None
    source: str

    @property
    def in_words(self) -> str:
        """Size and style, as a sentence has it. [-]"""
        return f"{self.name} leaded resistor" if self.style == "leaded" else f"{self.name} chip"


@cache
def ratings() -> dict[str, tuple[Rating, ...]]:
    """Return the sizes of resistors by style, the smallest first.

    Returns
    -------
    dict of str to tuple of Rating
        Every row of the table. [-]

    Raises
    ------
    TableError
        If a rating is not above 0 or not larger than the one before it, or there is no such style.

    References
    ----------
    data/resistor_ratings.csv.

    Examples
    --------
    >>> [each.rating_w for each in ratings()["leaded"]]
    [0.125, 0.25, 0.5, 1.0, 2.0]
    """
    found: dict[str, list[Rating]] = {style: [] for style in STYLES}
    for line, row in rows(FILE):
        if row["style"] not in STYLES:
            raise TableError(FILE, line, f"{row['style']!r} is no style; those are {', '.join(STYLES)}")
        sizes, rating_w = found[row["style"]], float(row["rating_w"])
        if rating_w <= (sizes[-1].rating_w if sizes else 0):
            raise TableError(FILE, line, f"{rating_w:g} W is not above what stands before it")
        length_mm, width_mm = (float(row[side]) if row[side] else None for side in ("length_mm", "width_mm"))
        sizes.append(Rating(row["style"], row["name"], rating_w, length_mm, width_mm, row["source"]))
    return {style: tuple(sizes) for style, sizes in found.items()}


def smallest(power_w: float, style: str = "leaded", derate: float = 0.5) -> Rating | None:
    """Return the smallest resistor that stays within a share of its rating.

    Parameters
    ----------
    power_w : float
        The heat it makes. [W]
    style : {"leaded", "chip"}
        With wires, or flat. [-]
    derate : float
        The share of its rating that is used; half in a shell with no draught (common practice, no source). [-]

    Returns
    -------
    Rating or None
        None where the table has none that is enough. [-]

    Raises
    ------
    UnknownChoice
        If there is no such style.

    References
    ----------
    data/resistor_ratings.csv.

    Examples
    --------
    >>> smallest(0.051).name, smallest(0.206).name, smallest(3.0)
    ('1/8 W', '1/2 W', None)
    """
    if style not in STYLES:
        raise UnknownChoice("the style of a resistor", style, STYLES)
    needed_w = power_w / derate * (1 - ROUNDING)
    return next((each for each in ratings()[style] if each.rating_w >= needed_w), None)

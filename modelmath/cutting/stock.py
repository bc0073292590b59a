"""What a cut plan takes: parts, and strip to cut them from."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from fractions import Fraction

from modelmath.errors import OutOfRange
from modelmath.materials.drawer.shape import StockShape
from modelmath.materials.drawer.strip import StockStrip
from modelmath.materials.exact import exact_mm

MOST_PIECES = 20_000  # of one kind of stock in one plan: half a minute's work; more is a slip, or several plans


def whole_number(value: object, name: str, write: str) -> None:
    """Refuse a count that is no whole number, 1 or more.

    Parameters
    ----------
    value : object
        The count. [-]
    name, write : str
        What a message calls it, and what it says to write. [-]

    Raises
    ------
    OutOfRange
        If it is none.

    References
    ----------
    None needed.
    """
    if isinstance(value, bool) or not isinstance(value, int) or value < 1:
        raise OutOfRange(name, repr(value), "a whole number, 1 or more", write)


def check_pieces(name: str, pieces: int) -> None:
    """Refuse more pieces than can be planned while somebody waits.

    Parameters
    ----------
    name : str
        What they are cut from. [-]
    pieces : int
        How many in all. [-]

    Raises
    ------
    OutOfRange
        If there are too many.

    References
    ----------
    None needed: our choice.

    Examples
    --------
    >>> check_pieces("HO 6x10", 400)
    """
    if pieces > MOST_PIECES:
        given, most = f"{pieces:,} pieces long", f"{MOST_PIECES:,} pieces or fewer"
        raise OutOfRange(f"the list of parts from {name}", given, most, "Plan them in several lots.")


@dataclass(frozen=True)
class CutPart:
    """A part to cut from strip.

    Attributes
    ----------
    name : str
        The part's name. [-]
    length_mm : Fraction
        Cut length; a float is taken to the nearest 0.000001 mm. [mm]
    count : int
        How many. [-]
    stock_name : str
        Name of the strip it is cut from. [-]
    equal_set : str or None
        Set of parts that have to be equal, cut at one stop setting. [-]
    """

    name: str
    length_mm: Fraction
    count: int
    stock_name: str
    equal_set: str | None = None

    def __post_init__(self) -> None:
        object.__setattr__(self, "length_mm", exact_mm(self.length_mm, f"length_mm of {self.name}"))
        whole_number(self.count, f"count of {self.name}", "Leave the part out if none is needed.")


@dataclass(frozen=True)
class CutStock:
    """Strip to cut from.

    Attributes
    ----------
    name : str
        Name of the strip. [-]
    length_mm : Fraction
        Length of each piece; a float is taken to the nearest 0.000001 mm. [mm]
    count : int or None
        How many are on hand; None to buy as many as needed. [-]
    offcut : bool
        Whether they are left over from earlier work: used first, and not counted as new. [-]
    """

    name: str
    length_mm: Fraction
    count: int | None = None
    offcut: bool = False

    def __post_init__(self) -> None:
        object.__setattr__(self, "length_mm", exact_mm(self.length_mm, f"length_mm of {self.name}"))
        if self.count is not None:
            whole_number(self.count, f"count of {self.name}", "Leave the row out, or write None to buy as needed.")
        elif self.offcut:
            raise OutOfRange(f"count of the {self.name} offcuts", "None", "a whole number", "Offcuts can't be bought.")


def stock_of(drawer: Iterable[StockStrip | StockShape]) -> list[CutStock]:
    """Strip and shapes in the drawer, as stock to cut from.

    Parameters
    ----------
    drawer : iterable of StockStrip or StockShape
        What is on hand. [mm]

    Returns
    -------
    list of CutStock
        The same, by name. [mm]

    References
    ----------
    None needed: the same lengths in another record.

    Examples
    --------
    >>> from modelmath.materials import parse_strip
    >>> stock_of([StockStrip(parse_strip("HO 6x10"), 280, 3)])
    [CutStock(name='HO 6x10', length_mm=Fraction(280, 1), count=3, offcut=False)]
    """
    return [CutStock(each.name, each.length_mm, each.count, each.offcut) for each in drawer]

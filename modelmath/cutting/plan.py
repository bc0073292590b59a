"""What a cut plan takes and what it says."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from fractions import Fraction

from modelmath.errors import OutOfRange
from modelmath.materials.drawer import StockStrip
from modelmath.materials.exact import exact_mm


def _whole(value: object, name: str, write: str) -> None:
    if isinstance(value, bool) or not isinstance(value, int) or value < 1:
        raise OutOfRange(name, repr(value), "a whole number, 1 or more", write)


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
        _whole(self.count, f"count of {self.name}", "Leave the part out if none is needed.")


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
            _whole(self.count, f"count of {self.name}", "Leave the row out, or write None to buy as needed.")
        elif self.offcut:
            raise OutOfRange(f"count of the {self.name} offcuts", "None", "a whole number", "Offcuts can't be bought.")


@dataclass(frozen=True)
class Cut:
    """One piece on a strip.

    Attributes
    ----------
    part : str
        Name of its part. [-]
    length_mm : Fraction
        Its length. [mm]
    start_mm, end_mm : Fraction
        From where to where it lies, from the strip's end. [mm]
    equal_set : str or None
        Set of parts that have to be equal, if it is of one. [-]
    """

    part: str
    length_mm: Fraction
    start_mm: Fraction
    end_mm: Fraction
    equal_set: str | None


@dataclass(frozen=True)
class CutStrip:
    """One strip with its cuts, in order along it.

    Attributes
    ----------
    number : int
        Number of the strip in the plan, from 1. [-]
    stock_name : str
        What it is. [-]
    length_mm : Fraction
        Its length before the first cut. [mm]
    kind : str
        ``offcut``, ``on hand`` or ``to buy``. [-]
    cuts : tuple of Cut
        Longest first, equal ones together. [mm]
    offcut_mm : Fraction
        What is left behind the last saw cut. [mm]
    """

    number: int
    stock_name: str
    length_mm: Fraction
    kind: str
    cuts: tuple[Cut, ...]
    offcut_mm: Fraction


@dataclass(frozen=True)
class StopSetting:
    """One setting of the stop, and each piece to cut at it before it is moved.

    Attributes
    ----------
    length_mm : Fraction
        Distance from the stop to the saw cut. [mm]
    cuts : tuple of (int, str)
        Number of the strip and name of the part, for each piece. [-]
    """

    length_mm: Fraction
    cuts: tuple[tuple[int, str], ...]

    @property
    def count(self) -> int:
        """How many pieces are cut at it. [-]"""
        return len(self.cuts)


@dataclass(frozen=True)
class GroupVerdict:
    """How good the plan is for one kind of strip.

    Attributes
    ----------
    stock_name : str
        Name of the strip. [-]
    new_strips : int
        Full strips used, from the drawer and bought. [-]
    bound : int
        Fewest that any plan could use, as far as is known. [-]
    """

    stock_name: str
    new_strips: int
    bound: int

    @property
    def proven(self) -> bool:
        """Whether no plan uses fewer new strips. [-]"""
        return self.new_strips == self.bound


@dataclass(frozen=True)
class ToBuy:
    """Strip the plan needs beyond what is on hand.

    Attributes
    ----------
    stock_name : str
        Name of the strip. [-]
    length_mm : Fraction
        Length of each piece. [mm]
    count : int
        How many. [-]
    """

    stock_name: str
    length_mm: Fraction
    count: int


@dataclass(frozen=True)
class CutPlan:
    """A cut plan.

    Attributes
    ----------
    strips : tuple of CutStrip
        Each strip used, with its cuts. [mm]
    stops : tuple of StopSetting
        Each length once, in cutting order, longest first. [mm]
    verdicts : tuple of GroupVerdict
        For each kind of strip, how good the plan is. [-]
    shopping : tuple of ToBuy
        What is missing from the stock. [mm]
    kerf_mm, end_trim_mm : Fraction
        As given. [mm]
    """

    strips: tuple[CutStrip, ...]
    stops: tuple[StopSetting, ...]
    verdicts: tuple[GroupVerdict, ...]
    shopping: tuple[ToBuy, ...]
    kerf_mm: Fraction
    end_trim_mm: Fraction

    @property
    def new_strips(self) -> int:
        """Full strips used, from the drawer and bought; offcuts don't count. [-]"""
        return sum(verdict.new_strips for verdict in self.verdicts)

    @property
    def bound(self) -> int:
        """Fewest new strips that any plan could use, as far as is known. [-]"""
        return sum(verdict.bound for verdict in self.verdicts)

    @property
    def proven(self) -> bool:
        """Whether no plan uses fewer new strips. [-]"""
        return self.new_strips == self.bound

    @property
    def verdict(self) -> str:
        """How good the plan is, in words. [-]"""
        if self.proven:
            return f"proven best: no plan uses fewer new strips than {self.new_strips}"
        return f"not proven: the plan uses {self.new_strips} new strips, the bound is {self.bound}"


def stock_of(drawer: Iterable[StockStrip]) -> list[CutStock]:
    """Strip in the drawer, as stock to cut from.

    Parameters
    ----------
    drawer : iterable of StockStrip
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

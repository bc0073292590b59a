"""What a sheet layout says: where each part lies, the snaps in order, how good it is, what to buy."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from itertools import groupby


@dataclass(frozen=True)
class Placed:
    """One piece on a sheet.

    Attributes
    ----------
    part : str
        Name of its part. [-]
    x_mm, y_mm : Fraction
        Its lower left corner, along the sheet's length and width. [mm]
    length_mm, width_mm : Fraction
        How much it takes along the sheet's length and width, as it lies. [mm]
    turned : bool
        Whether it lies across: its own length along the sheet's width. [-]
    """

    part: str
    x_mm: Fraction
    y_mm: Fraction
    length_mm: Fraction
    width_mm: Fraction
    turned: bool


@dataclass(frozen=True)
class Snap:
    """One straight line that parts a panel right across.

    Attributes
    ----------
    number : int
        Number of the snap on its sheet, from 1, in the order to make them. [-]
    panel : tuple of Fraction
        The panel it parts: x and y of its lower left corner, length, width. [mm]
    along : str
        Which way the line runs: ``length`` or ``width`` of the sheet. [-]
    at_mm : Fraction
        Distance from the panel's edge to the line: the setting of the stop or the rule. [mm]
    from_edge : str
        Which edge of the panel to measure from. [-]
    frees : tuple of str
        Names of the parts that are finished by it. [-]
    rest : tuple of str
        Names of those of them that have a side no line was measured for: it is what was left beyond this line or an
        earlier one, and carries the error of the sheet's own size. [-]
    """

    number: int
    panel: tuple[Fraction, Fraction, Fraction, Fraction]
    along: str
    at_mm: Fraction
    from_edge: str
    frees: tuple[str, ...]
    rest: tuple[str, ...] = ()

    @property
    def frees_text(self) -> str:
        """The parts that are finished by it, in words; empty if there are none. [-]"""
        left, said = list(self.rest), []
        for name in reversed(self.frees):  # of two of one name the one beyond the line, the last, is the rest
            if name in left:
                left.remove(name)
                said.append(f"{name}, the piece left over beyond the last line: check its size")
            else:
                said.append(name)
        return "; ".join(reversed(said))


@dataclass(frozen=True)
class Offcut:
    """A piece left over that is worth keeping.

    Attributes
    ----------
    x_mm, y_mm : Fraction
        Its lower left corner on the sheet. [mm]
    length_mm, width_mm : Fraction
        Its sides along the sheet's length and width. [mm]
    """

    x_mm: Fraction
    y_mm: Fraction
    length_mm: Fraction
    width_mm: Fraction

    @property
    def area_mm2(self) -> Fraction:
        """Its area. [mm2]"""
        return self.length_mm * self.width_mm


@dataclass(frozen=True)
class CutSheet:
    """One sheet with what is cut from it.

    Attributes
    ----------
    number : int
        Number of the sheet in the plan, from 1. [-]
    stock_name : str
        What it is. [-]
    kind : str
        ``offcut``, ``on hand`` or ``to buy``. [-]
    length_mm, width_mm : Fraction
        Its sides before the first snap. [mm]
    pieces : tuple of Placed
        The parts, from the left and lower edge on. [mm]
    snaps : tuple of Snap
        In the order to make them: a panel before what is in it, equal settings one after the other. [mm]
    offcuts : tuple of Offcut
        What is worth keeping, the largest first; the rest is scrap. [mm]
    """

    number: int
    stock_name: str
    kind: str
    length_mm: Fraction
    width_mm: Fraction
    pieces: tuple[Placed, ...]
    snaps: tuple[Snap, ...]
    offcuts: tuple[Offcut, ...]

    @property
    def scrap_mm2(self) -> Fraction:
        """Area that is neither part nor useful offcut, the saw's cuts too. [mm2]"""
        parts = sum(piece.length_mm * piece.width_mm for piece in self.pieces)
        return self.length_mm * self.width_mm - parts - sum(offcut.area_mm2 for offcut in self.offcuts)

    @property
    def settings(self) -> int:
        """How often the stop or the rule is set: once for each run of equal distances. [-]"""
        return len(list(groupby(snap.at_mm for snap in self.snaps)))


@dataclass(frozen=True)
class SheetVerdict:
    """How good the layout is for one kind of sheet.

    Attributes
    ----------
    stock_name : str
        Name of the sheet. [-]
    new_sheets : int
        Full sheets used, on hand and bought. [-]
    bound : int
        Fewest that any layout could use that buys no more than this one, as far as is known. [-]
    bound_if_bought : int
        The same of any layout, however much it buys. [-]
    to_buy_mm : tuple of (Fraction, Fraction)
        Length and width of each kind that may be bought; a layout that buys others is not looked at. [mm]
    least_snap_mm : Fraction
        Least width that is snapped off. [mm]
    """

    stock_name: str
    new_sheets: int
    bound: int
    bound_if_bought: int
    to_buy_mm: tuple[tuple[Fraction, Fraction], ...]
    least_snap_mm: Fraction

    @property
    def proven(self) -> bool:
        """Whether no layout uses fewer new sheets, of those that buy no more. [-]"""
        return self.new_sheets == self.bound

    @property
    def text(self) -> str:
        """How good the layout is, in words; of the scrap and the offcuts nothing is proven. [-]"""
        name, count = self.stock_name, self.new_sheets
        if not count:
            return f"all of the {name} comes from offcuts"
        listed = " or ".join(f"{float(length):.2f} × {float(width):.2f}" for length, width in self.to_buy_mm)
        what_is_sold = f"any to buy {listed} mm" if listed else "none to buy"
        if self.proven:
            buying = " that buys no more" if self.bound > self.bound_if_bought else ""
            return f"proven: no layout of {name}{buying} uses fewer new sheets than {count} ({what_is_sold})"
        gap = count - self.bound
        return (
            f"not proven: the layout of {name} uses {_sheets(count, 'new ')}, the bound is {self.bound}: "
            f"at most {_sheets(gap)} too many ({what_is_sold})"
        )


def _sheets(count: int, kind: str = "") -> str:
    return f"{count} {kind}sheet{'' if count == 1 else 's'}"


@dataclass(frozen=True)
class SheetsToBuy:
    """Sheet the layout needs beyond what is on hand.

    Attributes
    ----------
    stock_name : str
        Name of the sheet. [-]
    length_mm, width_mm : Fraction
        Sides of each. [mm]
    count : int
        How many. [-]
    """

    stock_name: str
    length_mm: Fraction
    width_mm: Fraction
    count: int

    @property
    def text(self) -> str:
        """What to write on the shopping list. [-]"""
        return f"{self.count} × {self.stock_name}, {float(self.length_mm):.2f} × {float(self.width_mm):.2f} mm"


@dataclass(frozen=True)
class SheetPlan:
    """A layout of parts on sheets.

    Attributes
    ----------
    sheets : tuple of CutSheet
        Each sheet used. [mm]
    verdicts : tuple of SheetVerdict
        For each kind of sheet, how good the layout is. [-]
    kerf_mm : Fraction
        Width of the cut, as given. [mm]
    least_offcut_mm : Fraction
        Least side of an offcut worth keeping, as given. [mm]
    """

    sheets: tuple[CutSheet, ...]
    verdicts: tuple[SheetVerdict, ...]
    kerf_mm: Fraction
    least_offcut_mm: Fraction

    @property
    def shopping(self) -> tuple[SheetsToBuy, ...]:
        """What is missing from the stock. [mm]"""
        bought = [(each.stock_name, each.length_mm, each.width_mm) for each in self.sheets if each.kind == "to buy"]
        return tuple(SheetsToBuy(*each, bought.count(each)) for each in dict.fromkeys(bought))

    @property
    def new_sheets(self) -> int:
        """Full sheets used, on hand and bought; offcuts don't count. [-]"""
        return sum(verdict.new_sheets for verdict in self.verdicts)

    @property
    def bound(self) -> int:
        """Fewest new sheets that any layout could use, as far as is known. [-]"""
        return sum(verdict.bound for verdict in self.verdicts)

    @property
    def proven(self) -> bool:
        """Whether no layout uses fewer new sheets. [-]"""
        return self.new_sheets == self.bound

    @property
    def scrap_mm2(self) -> Fraction:
        """Area that is neither part nor useful offcut, over all sheets used. [mm2]"""
        return sum((sheet.scrap_mm2 for sheet in self.sheets), Fraction(0))

    @property
    def verdict(self) -> str:
        """How good the layout is, in words, for each kind of sheet. [-]"""
        return "; ".join(verdict.text for verdict in self.verdicts) or "nothing is cut from sheet"


@dataclass(frozen=True)
class PieceOfSheet:
    """The shortest piece found, of a sheet as wide as given, that holds some parts.

    Attributes
    ----------
    sheet : CutSheet
        The piece as if it were a sheet: how long it is, what lies where, its snaps. [mm]
    bound_mm : Fraction
        No piece shorter than this holds them, as far as is known. [mm]
    """

    sheet: CutSheet
    bound_mm: Fraction

    @property
    def height_mm(self) -> Fraction:
        """How much of the sheet's length it takes. [mm]"""
        return self.sheet.length_mm

    @property
    def proven(self) -> bool:
        """Whether no shorter piece does. [-]"""
        return self.height_mm == self.bound_mm

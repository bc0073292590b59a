"""What a sheet layout takes: flat parts, and sheet to cut them from."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from modelmath.cutting.stock import whole_number
from modelmath.errors import OutOfRange
from modelmath.materials.exact import exact_mm


@dataclass(frozen=True)
class SheetPart:
    """A flat part to cut from sheet.

    Attributes
    ----------
    name : str
        The part's name. [-]
    length_mm, width_mm : Fraction
        Its sides; a float is taken to the nearest 0.000001 mm. Its length lies along the sheet's length unless it
        is turned. [mm]
    count : int
        How many. [-]
    sheet_name : str
        Name of the sheet it is cut from. [-]
    may_turn : bool
        Whether it may be turned a quarter; not where grain or a scribed face has to run one way. [-]
    equal_set : str or None
        Set of parts that have to be equal in length. [-]
    """

    name: str
    length_mm: Fraction
    width_mm: Fraction
    count: int
    sheet_name: str
    may_turn: bool = True
    equal_set: str | None = None

    def __post_init__(self) -> None:
        object.__setattr__(self, "length_mm", exact_mm(self.length_mm, f"length_mm of {self.name}"))
        object.__setattr__(self, "width_mm", exact_mm(self.width_mm, f"width_mm of {self.name}"))
        whole_number(self.count, f"count of {self.name}", "Leave the part out if none is needed.")

    @property
    def ways(self) -> tuple[tuple[Fraction, Fraction], ...]:
        """How much it takes along the sheet's length and width, for each way it may lie. [mm]"""
        straight = (self.length_mm, self.width_mm)
        if not self.may_turn or self.length_mm == self.width_mm:
            return (straight,)
        return (straight, straight[::-1])


@dataclass(frozen=True)
class SheetStock:
    """Sheet to cut from; rows of one name are one kind of sheet.

    Attributes
    ----------
    name : str
        Name of the sheet. [-]
    length_mm, width_mm : Fraction
        Its sides; a float is taken to the nearest 0.000001 mm. [mm]
    count : int or None
        How many are on hand; None to buy as many as needed. [-]
    offcut : bool
        Whether they are left over from earlier work: used rather than a whole sheet, and not counted as new. [-]
    thickness_mm : Fraction or None
        How thick it is, for the least width that can be snapped off; None where that is given otherwise. [mm]
    """

    name: str
    length_mm: Fraction
    width_mm: Fraction
    count: int | None = None
    offcut: bool = False
    thickness_mm: Fraction | None = None

    def __post_init__(self) -> None:
        object.__setattr__(self, "length_mm", exact_mm(self.length_mm, f"length_mm of {self.name}"))
        object.__setattr__(self, "width_mm", exact_mm(self.width_mm, f"width_mm of {self.name}"))
        if self.thickness_mm is not None:
            object.__setattr__(self, "thickness_mm", exact_mm(self.thickness_mm, f"thickness_mm of {self.name}"))
        if self.count is not None:
            whole_number(self.count, f"count of {self.name}", "Leave the row out, or write None to buy as needed.")
        elif self.offcut:
            raise OutOfRange(f"count of the {self.name} offcuts", "None", "a whole number", "Offcuts can't be bought.")

"""The drawer: sheet on hand."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from modelmath.materials.drawer.counts import checked_count
from modelmath.materials.exact import exact_mm
from modelmath.materials.sections.sheets import Sheet


@dataclass(frozen=True)
class StockSheet:
    """Pieces of one sheet and one size in the drawer.

    Attributes
    ----------
    sheet : Sheet
        What it is. [mm]
    length_mm, width_mm : Fraction
        Sides of each piece; a float is taken to the nearest 0.000001 mm. [mm]
    count : int
        How many pieces. [-]
    offcut : bool
        Whether they are left over from earlier work, to be used up first. [-]
    """

    sheet: Sheet
    length_mm: Fraction
    width_mm: Fraction
    count: int = 1
    offcut: bool = False

    def __post_init__(self) -> None:
        for name in ("length_mm", "width_mm"):
            object.__setattr__(self, name, exact_mm(getattr(self, name), f"{name} of {self.sheet.name}"))
        checked_count(self.count, self.sheet.name)

    @property
    def name(self) -> str:
        """The sheet's name. [-]"""
        return self.sheet.name

"""The drawer: rod, half round, angle, channel and tube on hand."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from modelmath.materials.drawer.counts import checked_count
from modelmath.materials.exact import exact_mm
from modelmath.materials.sections.shapes import Section


@dataclass(frozen=True)
class StockShape:
    """Pieces of one shape and one length in the drawer.

    Attributes
    ----------
    shape : Section
        What it is. [mm]
    length_mm : Fraction
        Length of each piece; a float is taken to the nearest 0.000001 mm. [mm]
    count : int
        How many pieces. [-]
    offcut : bool
        Whether they are left over from earlier work, to be used up first. [-]
    """

    shape: Section
    length_mm: Fraction
    count: int = 1
    offcut: bool = False

    def __post_init__(self) -> None:
        object.__setattr__(self, "length_mm", exact_mm(self.length_mm, f"length_mm of {self.shape.name}"))
        checked_count(self.count, self.shape.name)

    @property
    def name(self) -> str:
        """The shape's name. [-]"""
        return self.shape.name

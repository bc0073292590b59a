"""What a plan asks of a drawer: the strip and the sheet in it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Protocol

from modelmath.materials.drawer.shape import StockShape
from modelmath.materials.drawer.sheet import StockSheet
from modelmath.materials.drawer.strip import StockStrip


class OnHand(Protocol):
    """A drawer, as far as cutting goes."""

    @property
    def strips(self) -> tuple[StockStrip, ...]:
        """Strip, the oldest first. [mm]"""

    @property
    def shapes(self) -> tuple[StockShape, ...]:
        """Rod, tube and other shapes, the oldest first. [mm]"""

    @property
    def sheets(self) -> tuple[StockSheet, ...]:
        """Sheet, the oldest first. [mm]"""


@dataclass(frozen=True)
class Held:
    """Strip and sheet on hand, without the rest of a drawer.

    Attributes
    ----------
    strips : tuple of StockStrip
        Strip, the oldest first. [mm]
    sheets : tuple of StockSheet
        Sheet, the oldest first. [mm]
    shapes : tuple of StockShape
        Rod, tube and other shapes, the oldest first. [mm]
    """

    strips: tuple[StockStrip, ...] = ()
    sheets: tuple[StockSheet, ...] = ()
    shapes: tuple[StockShape, ...] = ()

"""What has to find room: the speaker, the decoder, the lamps. Sizes come from the user's own parts."""

from __future__ import annotations

from dataclasses import dataclass

from modelmath.errors import OutOfRange
from modelmath.lengths.numbers import Number, check_number


def _positive(name: str, value: Number) -> None:
    check_number(name, value)
    if not value > 0:
        raise OutOfRange(name, f"{float(value):g} mm", "above 0", "Measure the part and write its size, such as 15 mm.")


@dataclass(frozen=True)
class Speaker:
    """A speaker facing down, its flange level with the chamber's floor.

    Attributes
    ----------
    length_mm, width_mm : Fraction or float
        Outside size of the flange, along and across the shell; the diameter twice for a round one. [mm]
    flange_mm : Fraction or float
        Thickness of the flange where it rests on its supports. [mm]
    depth_mm : Fraction or float
        From the flange's sounding face to its highest point behind, magnet and terminals included. [mm]
    name : str
        Name on the sheets. [-]
    """

    length_mm: Number
    width_mm: Number
    flange_mm: Number
    depth_mm: Number
    name: str = "speaker"

    def __post_init__(self) -> None:
        for what in ("length_mm", "width_mm", "flange_mm", "depth_mm"):
            _positive(f"{self.name}: {what.removesuffix('_mm')}", getattr(self, what))
        if self.flange_mm > self.depth_mm:
            raise OutOfRange(
                f"{self.name}: flange",
                f"{float(self.flange_mm):.2f} mm",
                f"no thicker than the speaker's whole depth, {float(self.depth_mm):.2f} mm",
                "Check which of the two was measured.",
            )


@dataclass(frozen=True)
class Box:
    """A part that needs a box of room under the roof, outside the sealed chamber, such as the decoder.

    Attributes
    ----------
    name : str
        Name on the sheets. [-]
    length_mm, width_mm, height_mm : Fraction or float
        Room along, across and down from the roof, with the air it needs round it. [mm]
    """

    name: str
    length_mm: Number
    width_mm: Number
    height_mm: Number

    def __post_init__(self) -> None:
        for what in ("length_mm", "width_mm", "height_mm"):
            _positive(f"{self.name}: {what.removesuffix('_mm')}", getattr(self, what))

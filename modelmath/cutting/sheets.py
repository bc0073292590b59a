"""Parts cut from sheet: a strip of sheet as wide as the parts, and from it the lengths, each at its stop.

They stand apart from the cut plan of strip: how a sheet is divided up is left to the person at the bench.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction

from modelmath.cutting.stock import whole_number
from modelmath.lengths.text import format_length
from modelmath.materials.exact import exact_mm
from modelmath.materials.sections.sheets import Sheet


@dataclass(frozen=True)
class Blank:
    """A part to cut from sheet.

    Attributes
    ----------
    name : str
        The part's name. [-]
    length_mm : Fraction
        Cut length, at its stop; a float is taken to the nearest 0.000001 mm. [mm]
    count : int
        How many. [-]
    sheet : Sheet
        What it is cut from. [mm]
    width_mm : Fraction or None
        Width to trim it to; None where it is held against the shell. [mm]
    equal_set : str or None
        Set of parts that have to be equal, cut at one stop setting. [-]
    """

    name: str
    length_mm: Fraction
    count: int
    sheet: Sheet
    width_mm: Fraction | None = None
    equal_set: str | None = None

    def __post_init__(self) -> None:
        object.__setattr__(self, "length_mm", exact_mm(self.length_mm, f"length_mm of {self.name}"))
        if self.width_mm is not None:
            object.__setattr__(self, "width_mm", exact_mm(self.width_mm, f"width_mm of {self.name}"))
        whole_number(self.count, f"count of {self.name}", "Leave the part out if none is needed.")


@dataclass(frozen=True)
class SheetStrip:
    """A strip to cut off a sheet, and what is cut from it.

    Attributes
    ----------
    sheet : Sheet
        The sheet. [mm]
    width_mm : Fraction or None
        Its width, which its parts are trimmed to; None for as wide as the shell is inside. [mm]
    length_mm : Fraction
        Least length that holds all its parts, with saw cuts and end trim. [mm]
    blanks : tuple of Blank
        Its parts, longest first. [mm]
    """

    sheet: Sheet
    width_mm: Fraction | None
    length_mm: Fraction
    blanks: tuple[Blank, ...]

    @property
    def text(self) -> str:
        """What to do, in a sentence. [-]"""
        wide = (
            "as wide as the shell is inside" if self.width_mm is None else f"{format_length(self.width_mm, 'mm')} wide"
        )
        return (
            f"Cut a strip of {self.sheet.name} {wide}, {format_length(self.length_mm, 'mm')} long or more (or two, "
            "where the sheet is shorter), then cut the lengths from it at their stops."
        )


@dataclass(frozen=True)
class SheetToBuy:
    """Sheet of one thickness, and the strips that are cut from it.

    Attributes
    ----------
    sheet : Sheet
        The sheet. [mm]
    strips : tuple of SheetStrip
        What it has to give. [mm]
    """

    sheet: Sheet
    strips: tuple[SheetStrip, ...]

    @property
    def text(self) -> str:
        """What to ask for, with the least sizes needed. [-]"""
        return f"{self.sheet.to_buy}, enough for {' and '.join(_size(strip) for strip in self.strips)}"


def _size(strip: SheetStrip) -> str:
    length = format_length(strip.length_mm, "mm")
    if strip.width_mm is None:
        return f"{length} of the shell's inside width"
    return f"{format_length(strip.width_mm, 'mm').removesuffix(' mm')} × {length}"


def sheet_strips(blanks: Sequence[Blank], kerf_mm: Fraction, end_trim_mm: Fraction) -> tuple[SheetStrip, ...]:
    """Gather parts of one sheet and one width into a strip of it.

    Parameters
    ----------
    blanks : sequence of Blank
        The parts. [mm]
    kerf_mm, end_trim_mm : Fraction
        Width of the saw cut between two lengths, and what is cut off the strip's end to square it. [mm]

    Returns
    -------
    tuple of SheetStrip
        Sheet by sheet, as they come. [mm]

    References
    ----------
    ``length = end_trim + sum(pieces) + kerf * (pieces - 1)``: arithmetic.

    Examples
    --------
    >>> blank = Blank("bulkhead", 12, 2, Sheet("metric", 1), 18)
    >>> [float(strip.length_mm) for strip in sheet_strips([blank], Fraction(1, 2), Fraction(1))]
    [25.5]
    """
    groups: dict[tuple[Sheet, Fraction | None], list[Blank]] = {}
    for blank in blanks:
        groups.setdefault((blank.sheet, blank.width_mm), []).append(blank)
    return tuple(_strip(sheet, width, mine, kerf_mm, end_trim_mm) for (sheet, width), mine in groups.items())


def _strip(sheet: Sheet, width: Fraction | None, blanks: list[Blank], kerf: Fraction, trim: Fraction) -> SheetStrip:
    pieces = [blank.length_mm for blank in blanks for _ in range(blank.count)]
    longest_first = sorted(blanks, key=lambda blank: (-blank.length_mm, blank.name))
    return SheetStrip(sheet, width, trim + sum(pieces) + kerf * (len(pieces) - 1), tuple(longest_first))


def sheets_to_buy(strips: Sequence[SheetStrip]) -> tuple[SheetToBuy, ...]:
    """Gather the strips of each sheet for the shopping list.

    Parameters
    ----------
    strips : sequence of SheetStrip
        All of them. [mm]

    Returns
    -------
    tuple of SheetToBuy
        Each sheet once. [mm]

    References
    ----------
    None needed: the same strips by their sheet.

    Examples
    --------
    >>> blank = Blank("bulkhead", 12, 2, Sheet("metric", 1), 18)
    >>> [each.text for each in sheets_to_buy(sheet_strips([blank], Fraction(0), Fraction(0)))]
    ['sheet 1 mm thick, enough for 18.00 × 24.00 mm']
    """
    sheets = dict.fromkeys(strip.sheet for strip in strips)
    return tuple(SheetToBuy(sheet, tuple(strip for strip in strips if strip.sheet == sheet)) for sheet in sheets)

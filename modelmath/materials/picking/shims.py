"""A wanted height or gap made good with shims: sheet, strip or washers, and how surely the stack meets it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from math import hypot
from typing import Literal

from modelmath.errors import ModelMathError, NotYetKnown, OutOfRange
from modelmath.lengths.scales import Scale
from modelmath.materials.exact import exact_mm
from modelmath.materials.picking.stacks import MOST_LAYERS, Layer, OfStack, Search
from modelmath.materials.picking.terms import made_to
from modelmath.materials.picking.wanted import mm_text
from modelmath.materials.sections.series import series_sizes_mm
from modelmath.materials.sections.sheets import SHEET_SERIES, Sheet
from modelmath.materials.sections.strips import Strip

TOLERANCE_MM = Fraction(15, 100)  # common practice, no source
Verdict = Literal["surely", "likely", "perhaps"]
_SAID = {
    "surely": "surely within it: even if every piece is off the same way",
    "likely": "likely within it: not if every piece is off the same way",
    "perhaps": "perhaps within it: measure, and change a shim if need be",
}


@dataclass(frozen=True)
class Shim:
    """Pieces on hand to shim with.

    Attributes
    ----------
    name : str
        What they are called. [-]
    thickness_mm : Fraction
        Thickness of each. [mm]
    tolerance_mm : Fraction
        How far each may be off, either way. [mm]
    count : int or None
        How many there are; None for enough. [-]

    Examples
    --------
    >>> Shim("washer", 0.5, 0.05, 3).thickness_mm
    Fraction(1, 2)
    """

    name: str
    thickness_mm: Fraction
    tolerance_mm: Fraction
    count: int | None = None

    def __post_init__(self) -> None:
        object.__setattr__(self, "thickness_mm", exact_mm(self.thickness_mm, f"thickness of {self.name}"))
        object.__setattr__(self, "tolerance_mm", exact_mm(self.tolerance_mm, f"tolerance of {self.name}", zero=True))
        if self.count is not None and (isinstance(self.count, bool) or self.count != int(self.count) or self.count < 1):
            name = f"count of {self.name}"
            raise OutOfRange(
                name, repr(self.count), "a whole number, 1 or more", "Leave it out where there are enough."
            )

    @classmethod
    def of(cls, stock: Strip | Sheet, count: int | None = None) -> Shim:
        """Return shims cut from strip or sheet, laid flat.

        Parameters
        ----------
        stock : Strip or Sheet
            What they are cut from. [mm]
        count : int or None
            How many can be cut; None for enough. [-]

        Returns
        -------
        Shim
            The shims. [mm]

        Raises
        ------
        OutOfRange
            If the count is below 1.

        References
        ----------
        data/clearance_terms.csv for how far strip and sheet may be off.

        Examples
        --------
        >>> Shim.of(Sheet("metric", 1)).name
        '1 mm sheet'
        """
        made = made_to("strip" if isinstance(stock, Strip) else "sheet")
        return cls(stock.name, stock.thickness_mm, made.tolerance_mm, count)


@dataclass(frozen=True)
class ShimPack(OfStack):
    """Shims stacked to a gap.

    Attributes
    ----------
    stack : Stacked
        The shims, the thickest first. [mm]
    tolerance_mm : Fraction
        How far from the gap wanted will still do, either way. [mm]
    gap_tolerance_mm : Fraction
        How far the gap itself may be off, either way. [mm]
    """

    tolerance_mm: Fraction
    gap_tolerance_mm: Fraction

    @property
    def pieces(self) -> int:
        """How many shims it takes. [-]"""
        return len(self.stack.layers)

    @property
    def worst_mm(self) -> Fraction:
        """How far the pack and the gap together may be off at worst, either way. [mm]"""
        return self.stack.worst_mm + self.gap_tolerance_mm

    @property
    def likely_mm(self) -> float:
        """How far they usually are off together, either way: root of the sum of squares. [mm]"""
        return hypot(self.stack.likely_mm, float(self.gap_tolerance_mm))

    @property
    def verdict(self) -> Verdict:
        """Whether the pack meets the tolerance ``surely``, ``likely`` or ``perhaps``. [-]"""
        error = abs(self.error_mm)
        if error + self.worst_mm <= self.tolerance_mm:
            return "surely"
        return "likely" if float(error) + self.likely_mm <= float(self.tolerance_mm) else "perhaps"

    @property
    def said(self) -> str:
        """The verdict in words. [-]"""
        return _SAID[self.verdict]


def shim_up(
    gap_mm: Fraction | float,
    *,
    tolerance_mm: Fraction | float = TOLERANCE_MM,
    gap_tolerance_mm: Fraction | float = 0,
    on_hand: Sequence[Shim | Strip | Sheet] = (),
    series: Sequence[str] = SHEET_SERIES,
    scale: Scale | str | None = None,
    dry: bool = True,
    glue_line_mm: Fraction | float | None = None,
    glue_tolerance_mm: Fraction | float | None = None,
    most_layers: int = MOST_LAYERS,
    most: int = 8,
) -> list[ShimPack]:
    """Fill a gap with shims, best first, of all there are.

    Packs of what is on hand alone come first; then those of the fewest pieces; then the least error.

    Parameters
    ----------
    gap_mm : Fraction or float
        The gap to fill, or the height to gain. [mm]
    tolerance_mm : Fraction or float
        How far from it will still do, either way. [mm]
    gap_tolerance_mm : Fraction or float
        How far the gap itself may be off, either way, from measuring it. [mm]
    on_hand : sequence of Shim, Strip or Sheet
        What is on hand; strip lies flat. [mm]
    series : sequence of {"scale lumber", "decimal inch", "metric"}
        Series to look in besides: sheet, and strip of scale lumber; none to use only what is on hand. [-]
    scale : Scale, str or None
        For scale lumber from the series. [-]
    dry : bool
        Whether the shims are laid in dry rather than glued to each other. [-]
    glue_line_mm, glue_tolerance_mm : Fraction, float or None
        What each joint between glued shims adds, and how far that may be off; by default the table's. [mm]
    most_layers : int
        Most pieces, 1 to 4. [-]
    most : int
        How many packs to name at most. [-]

    Returns
    -------
    list of ShimPack
        Best first, never empty. [mm]

    Raises
    ------
    OutOfRange, WrongKind
        If a number is no usable one, or no pack comes within the tolerance.
    UnknownChoice
        If a series is unknown.
    NotYetKnown
        If there is nothing to shim with.

    References
    ----------
    data/strip_series.csv for sizes, data/clearance_terms.csv for tolerances and glue lines. Sum and root of the sum
    of squares of tolerances: JCGM 100:2008, 5.1.2; shims of one name are off together, 5.2.2, note 1.

    Examples
    --------
    >>> best = shim_up(0.75, on_hand=[Shim("thin washer", 0.25, 0.02), Shim("washer", 0.5, 0.03)], series=())[0]
    >>> best.name, best.worst_mm, best.verdict
    ('washer + thin washer', Fraction(1, 20), 'surely')
    """
    gap = exact_mm(gap_mm, "gap_mm")
    tolerance = exact_mm(tolerance_mm, "tolerance_mm", zero=True)
    if most < 1:
        raise OutOfRange("most", str(most), "1 or more", "Leave it out for 8.")
    joint = [made_to("glue line").thickness_mm, made_to("glue line").tolerance_mm]
    for place, (value, name) in enumerate(((glue_line_mm, "glue_line_mm"), (glue_tolerance_mm, "glue_tolerance_mm"))):
        if value is not None:
            joint[place] = exact_mm(value, name, zero=True)
    layers = [*_on_hand(on_hand), *_sold(series, scale)]
    search = Search(layers, gap, tolerance, tolerance, 1, most_layers, *([Fraction(0)] * 2 if dry else joint))
    found = search.best(most)
    if not found:
        raise _nothing(search)
    of_gap = exact_mm(gap_tolerance_mm, "gap_tolerance_mm", zero=True)
    return [ShimPack(stack, tolerance, of_gap) for stack in found]


def _on_hand(on_hand: Sequence[Shim | Strip | Sheet]) -> list[Layer]:
    shims = [each if isinstance(each, Shim) else Shim.of(each) for each in on_hand]
    # Of two as thick the one that is known better is taken first.
    return [
        Layer(shim.name, shim.thickness_mm, shim.tolerance_mm, True)
        for shim in sorted(shims, key=lambda shim: (shim.tolerance_mm, shim.name))
        for _ in range(MOST_LAYERS if shim.count is None else min(shim.count, MOST_LAYERS))
    ]


def _sold(series: Sequence[str], scale: Scale | str | None) -> list[Layer]:
    """Return a layer of each thickness sold: sheet, and of scale lumber, of which there is none, strip."""
    found = []
    for each in (series,) if isinstance(series, str) else series:
        for size in series_sizes_mm(each, scale):
            stock: Strip | Sheet
            if each in SHEET_SERIES:
                stock = Sheet(each, size)
            else:
                widest = series_sizes_mm(each, scale)[-1]
                stock = Strip(each, size, widest, scale.name if isinstance(scale, Scale) else scale)
            found.append(Layer(stock.name, size, Shim.of(stock).tolerance_mm, False, stock))
    return found


def _nothing(search: Search) -> ModelMathError:
    nearest = search.nearest()
    if nearest is None:
        return NotYetKnown("What to shim with", "what is on hand, or a series to buy from")
    error = nearest.error_mm
    off = f"{mm_text(abs(error))} too {'much' if error > 0 else 'little'}"
    most = "1 shim gives" if search.most_layers == 1 else f"1 to {search.most_layers} shims give"
    return OutOfRange(
        "gap_mm",
        mm_text(search.height_mm),
        f"within {mm_text(search.above_mm)} of what {most}; {nearest.name} gives {mm_text(nearest.total_mm)}, {off}",
        "Allow a wider tolerance, sand a thicker shim down, or add other thicknesses to what is on hand.",
    )

"""A height glued up from layers of strip or sheet, where no one strip gives it.

Only faces are glued: layers lie flat, face to face, and their thicknesses add up. On edge, a strip's width gives the
height; layers face to face keep that width, and edge to edge they would be held by their narrow sides alone, which is
weak and hard to keep straight (common practice, no source). So a part used on edge is glued up lying flat too, from
layers at least as wide as the part is to be thick.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction

from modelmath.errors import ModelMathError, NotYetKnown, OutOfRange, UnknownChoice
from modelmath.lengths.scales import Scale, scale_of
from modelmath.materials.drawer.strip import StockStrip
from modelmath.materials.exact import exact_mm
from modelmath.materials.picking.by_use import TOLERANCE_MM
from modelmath.materials.picking.held import check_count, pieces_held
from modelmath.materials.picking.stacks import MOST_LAYERS, Layer, OfStack, Search
from modelmath.materials.picking.terms import made_to
from modelmath.materials.picking.wanted import BY_SECTION, SHOWS_MM, USES, mm_text
from modelmath.materials.sections.series import strip_series
from modelmath.materials.sections.sheets import SHEET_SERIES, Sheet, pick_sheets
from modelmath.materials.sections.strips import SERIES, Strip


@dataclass(frozen=True)
class Lamination(OfStack):
    """Layers glued up to a height.

    Attributes
    ----------
    stack : Stacked
        The layers, their glue lines and tolerances. [mm]
    use : {"flat", "on edge"}
        How the part is used. [-]
    width_mm : Fraction
        How wide the part is to be across its layers; 0 where that is left open. [mm]
    """

    use: str
    width_mm: Fraction

    @property
    def layers(self) -> tuple[Strip | Sheet, ...]:
        """The strips and sheets, the thickest first. [mm]"""
        return tuple(layer.stock for layer in self.stack.layers if layer.stock is not None)

    @property
    def advice(self) -> str:
        """What to do, in a few sentences. [-]"""
        lay = "Glue them face to face, lying flat."
        if self.use == "on edge":
            lay = "Lay them flat rather than on edge, and glue them face to face: only thicknesses add up."
        error = self.error_mm
        last = "Once set, measure it: it may need nothing."  # what the layers themselves may be off is more
        if abs(error) > self.likely_mm:
            last = f"Once set, sand {mm_text(error)} off." if error > 0 else f"Shim it up {mm_text(-error)}."
        return " ".join(each for each in (lay, self._trim, last) if each)

    @property
    def _trim(self) -> str:
        """Return to what width to trim, where the layers are not all of the width wanted."""
        widths = [each.width_mm for each in self.layers if isinstance(each, Strip)]
        sheets = len(widths) < len(self.layers)
        width = self.width_mm or min(widths, default=Fraction(0))
        if width and (sheets or any(each - width >= SHOWS_MM for each in widths)):
            return f"{'Cut or trim' if sheets else 'Trim'} all to {mm_text(width)} wide."
        return ""


def laminate(
    height_mm: Fraction | float,
    use: str = "flat",
    *,
    scale: Scale | str | None = None,
    width_mm: Fraction | float | None = None,
    drawer: Sequence[StockStrip] = (),
    sheets: Sequence[Sheet] = (),
    series: Sequence[str] = SERIES,
    tolerance_mm: Fraction | float = TOLERANCE_MM,
    sand_mm: Fraction | float | None = None,
    shim_mm: Fraction | float | None = None,
    glue_line_mm: Fraction | float | None = None,
    glue_tolerance_mm: Fraction | float | None = None,
    strip_tolerance_mm: Fraction | float | None = None,
    sheet_tolerance_mm: Fraction | float | None = None,
    count: int = 1,
    length_mm: Fraction | float | None = None,
    most_layers: int = MOST_LAYERS,
    most: int = 8,
) -> list[Lamination]:
    """Glue a height up from two to four layers, best first, of all there are.

    Those glued up from what is on hand alone come first; then the fewest layers; then the least error, glue lines
    counted. Of two as far off, the one that can be sanded comes first. Of each thickness a series offers one strip:
    the narrowest that is wide enough, or sheet where none is.

    Parameters
    ----------
    height_mm : Fraction or float
        Height wanted. [mm]
    use : {"flat", "on edge"}
        How the part is used; on end and across it is cut to length instead. [-]
    scale : Scale, str or None
        For scale lumber from the series. [-]
    width_mm : Fraction, float or None
        Least width of the layers: how wide the part is flat, how thick on edge. [mm]
    drawer : sequence of StockStrip
        Strip on hand. [mm]
    sheets : sequence of Sheet
        Sheet on hand, taken to be enough. [mm]
    series : sequence of {"scale lumber", "decimal inch", "metric"}
        The series to look in besides. [-]
    tolerance_mm : Fraction or float
        Largest error that sanding or a shim is to make good. [mm]
    sand_mm, shim_mm : Fraction, float or None
        The most that may be sanded off and the most that may be shimmed up; by default `tolerance_mm` each. [mm]
    glue_line_mm, glue_tolerance_mm : Fraction, float or None
        What each joint adds, and how far that may be off; by default the table's glue line. [mm]
    strip_tolerance_mm, sheet_tolerance_mm : Fraction, float or None
        How far strip and sheet may differ from their size; by default the table's. [mm]
    count : int
        How many parts are wanted. [-]
    length_mm : Fraction, float or None
        Length of a part; without it the drawer's lengths are not asked. [mm]
    most_layers : int
        Most layers, 2 to 4. [-]
    most : int
        How many to name at most. [-]

    Returns
    -------
    list of Lamination
        Best first, never empty. [mm]

    Raises
    ------
    UnknownChoice
        If the use or a series is unknown.
    OutOfRange, WrongKind
        If a number is no usable one, the use is on end or across, or nothing comes near the height.
    NotYetKnown
        If there is nothing to glue up.

    References
    ----------
    data/strip_series.csv for sizes, data/clearance_terms.csv for glue lines and tolerances. Sum and root of the sum
    of squares of tolerances: JCGM 100:2008, 5.1.2; layers of one strip are off together, 5.2.2, note 1.

    Examples
    --------
    >>> best = laminate(9, series="metric", tolerance_mm=0.1)[0]
    >>> best.name, float(best.total_mm), best.glue_lines
    ('6 x 6 mm + 3 x 6 mm', 9.05, 1)
    >>> best.advice
    'Glue them face to face, lying flat. Once set, measure it: it may need nothing.'
    """
    _check_use(use)
    if most < 1:
        raise OutOfRange("most", str(most), "1 or more", "Leave it out for 8.")
    height, width = exact_mm(height_mm, "height_mm"), _or(width_mm, "width_mm", Fraction(0))
    either = exact_mm(tolerance_mm, "tolerance_mm", zero=True)
    made = _Made(
        _or(strip_tolerance_mm, "strip_tolerance_mm", made_to("strip").tolerance_mm),
        _or(sheet_tolerance_mm, "sheet_tolerance_mm", made_to("sheet").tolerance_mm),
    )
    piece = exact_mm(length_mm if length_mm is not None else 0, "length_mm", zero=length_mm is None)
    held = pieces_held(drawer, piece, MOST_LAYERS * check_count(count))
    layers = [
        *made.of_drawer({strip: pieces // count for strip, pieces in held.items()}, width),
        *(made.layer(sheet, on_hand=True) for sheet in sheets for _ in range(MOST_LAYERS)),
        *made.of_series(scale_of(scale) if scale is not None else None, series, width, height),
    ]
    search = Search(
        layers,
        height,
        _or(sand_mm, "sand_mm", either),
        _or(shim_mm, "shim_mm", either),
        2,
        most_layers,
        _or(glue_line_mm, "glue_line_mm", made_to("glue line").thickness_mm),
        _or(glue_tolerance_mm, "glue_tolerance_mm", made_to("glue line").tolerance_mm),
    )
    thickest = max((layer.thickness_mm for layer in layers), default=Fraction(0))
    if layers and height > 2 * most_layers * (thickest + search.glue_line_mm) + search.above_mm + search.below_mm:
        # Far out of reach: nothing is looked for.
        raise _too_high(height, most_layers, thickest)
    found = search.best(most)
    if not found:
        raise _nothing(search)
    return [Lamination(stack, use, width) for stack in found]


def _check_use(use: str) -> None:
    if use not in USES:
        raise UnknownChoice("use", use, USES)
    if use not in BY_SECTION:
        expected = f"{' or '.join(BY_SECTION)}, where the section gives the height"
        raise OutOfRange("use", repr(use), expected, f"Cut it to length instead: {use}, the height is the cut length.")


def _or(value_mm: Fraction | float | None, name: str, default: Fraction) -> Fraction:
    return default if value_mm is None else exact_mm(value_mm, name, zero=True)


@dataclass(frozen=True)
class _Made:
    """How far strip and sheet may be off, and the layers they make."""

    strip_tolerance_mm: Fraction
    sheet_tolerance_mm: Fraction

    def layer(self, stock: Strip | Sheet, on_hand: bool = False) -> Layer:
        tolerance = self.strip_tolerance_mm if isinstance(stock, Strip) else self.sheet_tolerance_mm
        return Layer(stock.name, stock.thickness_mm, tolerance, on_hand, stock)

    def of_drawer(self, held: dict[Strip, int], width: Fraction) -> Iterator[Layer]:
        """Yield a layer for each piece on hand, of one thickness the narrowest strip first."""
        for strip in sorted(held, key=lambda strip: (strip.thickness_mm, strip.width_mm, strip.name)):
            if strip.width_mm >= width:
                yield from [self.layer(strip, on_hand=True)] * min(held[strip], MOST_LAYERS)

    def of_series(
        self, scale: Scale | None, series: Sequence[str], width: Fraction, height: Fraction
    ) -> Iterator[Layer]:
        """Yield one layer of each thickness and series: strip of one width, or sheet where no strip is wide enough."""
        chosen = (series,) if isinstance(series, str) else tuple(series)
        best: dict[tuple[str, Fraction], Strip] = {}
        # Where the width is open, a stack no narrower than it is high stands steady; the same width suits all layers.
        least = width or height
        for strip in strip_series(scale, chosen):
            known = best.get((strip.series, strip.thickness_mm))
            if strip.width_mm >= width and (known is None or known.width_mm < least):
                best[strip.series, strip.thickness_mm] = strip
        yield from (self.layer(strip) for strip in best.values())
        for each in chosen:
            if each in SHEET_SERIES:
                yield from (
                    self.layer(sheet)
                    for sheet in pick_sheets(0, each)
                    if (each, sheet.thickness_mm) not in best and sheet.thickness_mm <= (width or height)
                )


def _too_high(height: Fraction, most_layers: int, thickest: Fraction) -> OutOfRange:
    given, most = mm_text(height), mm_text(most_layers * thickest)
    expected = f"at most about {most}, {most_layers} layers of the thickest there is, {mm_text(thickest)}"
    return OutOfRange("height_mm", given, expected, "Cut strip to length and stand it on end instead.")


def _nothing(search: Search) -> ModelMathError:
    """Return the error for a height that no stack comes near."""
    nearest = search.nearest()
    if nearest is None:
        return NotYetKnown("What to glue up", "a scale for scale lumber, a drawer of strip, or another series")
    error = nearest.error_mm
    off = f"{mm_text(abs(error))} too {'much' if error > 0 else 'little'}"
    expected = (
        f"at most {mm_text(search.above_mm)} below or {mm_text(search.below_mm)} above what {search.least} to "
        f"{search.most_layers} layers give; {nearest.name} gives {mm_text(nearest.total_mm)}, {off}"
    )
    advice = "Cut strip to length and stand it on end, or allow more to be sanded off or shimmed up."
    return OutOfRange("height_mm", mm_text(search.height_mm), expected, advice)

"""Which strip to make a part from, given its height and how the strip is used.

``on end`` and ``across``: the height is the cut length, so the section only has to be stout (and wide)
enough; on end the end has to be square. ``flat`` and ``on edge``: the section itself gives the height, so its
error has to be sanded off or shimmed.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from functools import lru_cache

from modelmath.errors import DoesNotFit, NotYetKnown, OutOfRange, UnknownChoice
from modelmath.lengths.scales import Scale, scale_of
from modelmath.materials.drawer.sheet import StockSheet
from modelmath.materials.drawer.strip import StockStrip
from modelmath.materials.exact import exact_mm
from modelmath.materials.picking.held import check_count, pieces_held
from modelmath.materials.picking.stout import stout_strips
from modelmath.materials.picking.wanted import USES, Wanted
from modelmath.materials.sections.series import strip_series
from modelmath.materials.sections.sheets import SHEET_SERIES, Sheet, pick_sheets
from modelmath.materials.sections.strips import SERIES, Strip

# Common practice, no source; each is a default that the caller may change.
STOUT_MM = {"on end": 1.5, "across": 1.0, "flat": 0.0, "on edge": 0.0}
TOLERANCE_MM = 0.5


@dataclass(frozen=True)
class StripPick:
    """A strip that will do, and what has to be done to it.

    Attributes
    ----------
    name : str
        The strip's name, or that of the sheet it is cut from. [-]
    strip : Strip
        Its section; of a piece cut from sheet, the blank to cut. [mm]
    in_drawer : bool
        Whether it is on hand. [-]
    error_mm : float
        What the section gives less the height; 0 where the height is cut. [mm]
    error_scale_in : float or None
        The same in scale inches; None without a scale. [scale in]
    advice : str
        What to do with it, in a sentence. [-]
    sheet : Sheet or None
        The sheet it is cut from, where it is no strip as sold. [mm]
    remark : str
        What the drawer is short of; empty where it has enough, or where it was not asked. [-]
    """

    name: str
    strip: Strip
    in_drawer: bool
    error_mm: float
    error_scale_in: float | None
    advice: str
    sheet: Sheet | None = None
    remark: str = ""

    @property
    def from_sheet(self) -> bool:
        """Whether it is cut from sheet. [-]"""
        return self.sheet is not None


def pick_strips(
    height_mm: Fraction | float,
    use: str,
    *,
    scale: Scale | str | None = None,
    width_mm: Fraction | float | None = None,
    drawer: Sequence[StockStrip] = (),
    sheets: Sequence[StockSheet] = (),
    stout_mm: Fraction | float | None = None,
    tolerance_mm: Fraction | float = TOLERANCE_MM,
    sand_mm: Fraction | float | None = None,
    shim_mm: Fraction | float | None = None,
    sand: bool = False,
    count: int = 1,
    length_mm: Fraction | float | None = None,
    kerf_mm: Fraction | float = 0,
    series: Sequence[str] = SERIES,
    most: int = 8,
) -> list[StripPick]:
    """Strips to make a part of this height from, best first: the drawer, then what the series offer.

    On end, the squarest and then stoutest of the drawer come first, then the thinnest square strips that
    are stout enough. Across, the width nearest above the shell's comes first; what no strip spans is cut from
    sheet. Flat and on edge, the smallest section error comes first; of one thickness (or width) a series
    offers one strip, about twice as wide as thick where there is a choice. A strip of which the drawer has too
    little for the count comes after those of which it has enough.

    Parameters
    ----------
    height_mm : Fraction or float
        Height of the part. [mm]
    use : {"on end", "across", "flat", "on edge"}
        How the strip stands in the model. [-]
    scale : Scale, str or None
        For errors in scale inches and for scale lumber from the series. [-]
    width_mm : Fraction, float or None
        Least size of the section the other way than the height; across, the shell's inside width. [mm]
    drawer : sequence of StockStrip
        What is on hand. [mm]
    sheets : sequence of StockSheet
        Sheet on hand, for what no strip spans. [mm]
    stout_mm : Fraction, float or None
        Least thickness; by default 1.5 on end, 1.0 across, else no limit. [mm]
    tolerance_mm : Fraction or float
        Largest section error that sanding or a shim is to make good. [mm]
    sand_mm, shim_mm : Fraction, float or None
        The most that may be sanded off and the most that may be shimmed up; by default `tolerance_mm` each. [mm]
    sand : bool
        Whether a section at or above the height goes first, to be sanded to fit, as for a filler. [-]
    count : int
        How many pieces are wanted. [-]
    length_mm : Fraction, float or None
        Length of each piece laid flat or on edge; without it the drawer's lengths are not asked. On end and
        across each piece is as long as the height. [mm]
    kerf_mm : Fraction or float
        What each cut takes away; 0 for a knife. [mm]
    series : sequence of {"scale lumber", "decimal inch", "metric"}
        The series to look in besides the drawer. [-]
    most : int
        How many to name at most. [-]

    Returns
    -------
    list of StripPick
        Best first, never empty.

    Raises
    ------
    UnknownChoice
        If the use or a series is unknown.
    NotYetKnown
        If the strip goes across and there is no `width_mm`.
    OutOfRange, WrongKind
        If a number is no usable length, or no section is within the tolerance of the height.
    DoesNotFit
        If no strip is stout or wide enough.

    References
    ----------
    data/strip_series.csv for sizes. Least thicknesses and the tolerance: common practice, no source.

    Examples
    --------
    >>> best = pick_strips(1.8, "flat", scale="HO")[0]
    >>> best.name, round(best.error_mm, 3), best.advice
    ('HO 6x12', -0.05, 'Lay it flat and shim it up 0.05 mm.')
    """
    if use not in USES:
        raise UnknownChoice("use", use, USES)
    if use == "across" and width_mm is None:
        raise NotYetKnown("What spans the shell", "width_mm, the shell's inside width")
    if most < 1:
        raise OutOfRange("most", str(most), "1 or more", "Leave it out for 8.")
    chosen = (series,) if isinstance(series, str) else tuple(series)
    wanted = wanted_of(height_mm, use, scale, width_mm, stout_mm, tolerance_mm, sand_mm, shim_mm, sand)
    piece_mm = wanted.height_mm
    if wanted.by_section:
        piece_mm = exact_mm(length_mm if length_mm is not None else 0, "length_mm", zero=length_mm is None)
    held = pieces_held(drawer, piece_mm, check_count(count), exact_mm(kerf_mm, "kerf_mm", zero=True))
    picks = (
        _by_section(wanted, list(held), chosen) if wanted.by_section else _by_length(wanted, list(held), chosen, most)
    )
    if use == "across":
        picks += _from_sheet(wanted, chosen, sheets)
    if not picks:
        raise wanted.nothing_stout([*held, *strip_series(wanted.scale, chosen)])
    picks = [
        replace(pick, remark=_remark(held[pick.strip], count)) if pick.in_drawer and not pick.from_sheet else pick
        for pick in picks
    ]
    return sorted(picks, key=lambda pick: (not pick.in_drawer, bool(pick.remark)))[:most]


def wanted_of(
    height_mm: Fraction | float,
    use: str,
    scale: Scale | str | None = None,
    width_mm: Fraction | float | None = None,
    stout_mm: Fraction | float | None = None,
    tolerance_mm: Fraction | float = TOLERANCE_MM,
    sand_mm: Fraction | float | None = None,
    shim_mm: Fraction | float | None = None,
    sand: bool = False,
) -> Wanted:
    """Check what is asked of a strip, and make it exact.

    Parameters
    ----------
    height_mm, use, scale, width_mm, stout_mm, tolerance_mm, sand_mm, shim_mm, sand : as in `pick_strips`
        What is asked. [mm] and [-]

    Returns
    -------
    Wanted
        The same, exact, its defaults filled in. [mm]

    Raises
    ------
    UnknownChoice, NotYetKnown, OutOfRange, WrongKind
        As `pick_strips`.

    References
    ----------
    Least thicknesses and the tolerance: common practice, no source.

    Examples
    --------
    >>> wanted_of(2, "on end").stout_mm
    Fraction(3, 2)
    """
    if use not in USES:
        raise UnknownChoice("use", use, USES)
    if use == "across" and width_mm is None:
        raise NotYetKnown("What spans the shell", "width_mm, the shell's inside width")
    either = exact_mm(tolerance_mm, "tolerance_mm", zero=True)
    return Wanted(
        exact_mm(height_mm, "height_mm"),
        use,
        exact_mm(width_mm if width_mm is not None else 0, "width_mm", zero=use != "across"),
        exact_mm(STOUT_MM[use] if stout_mm is None else stout_mm, "stout_mm", zero=True),
        either if sand_mm is None else exact_mm(sand_mm, "sand_mm", zero=True),
        either if shim_mm is None else exact_mm(shim_mm, "shim_mm", zero=True),
        scale_of(scale) if scale is not None else None,
        sand,
    )


def _remark(pieces: int, count: int) -> str:
    if pieces >= count:
        return ""
    return f"The drawer gives {pieces} of the {count}: buy more of it, or take all {count} from another."


def _by_section(wanted: Wanted, own: list[Strip], chosen: tuple[str, ...]) -> list[StripPick]:
    """Return picks whose section gives the height, nearest first."""
    sold = stout_strips(wanted.scale, chosen, wanted.use, wanted.stout_mm, wanted.width_mm)
    mine = [strip for strip in own if wanted.stout(strip)]
    if not (sold or mine):
        return []
    low, high = wanted.height_mm - wanted.shim_mm, wanted.height_mm + wanted.sand_mm
    near = [strip for strip in sold.between(low, high) if strip not in own]
    near_mine = [strip for strip in mine if wanted.near(strip)]
    if not (near or near_mine):
        raise wanted.nothing_near(min([*mine, *sold.strips], key=lambda strip: abs(wanted.error_mm(strip))))

    def order(strip: Strip) -> tuple[bool, Fraction, bool]:
        error = wanted.error_mm(strip)
        return (wanted.sand and error < 0, abs(error), error < 0)  # of two as near, the one that can be sanded

    one_each: dict[tuple[str, Fraction], Strip] = {}
    for strip in sorted(near, key=lambda strip: _proportion(strip, wanted)):
        one_each.setdefault((strip.series, wanted.given_by(strip)), strip)
    others = sorted(one_each.values(), key=lambda strip: SERIES.index(strip.series))
    return [_pick(strip, wanted, True) for strip in sorted(near_mine, key=order)] + [
        _pick(strip, wanted, False) for strip in sorted(others, key=order)
    ]


def _proportion(strip: Strip, wanted: Wanted) -> tuple[Fraction, Fraction]:
    """Order strips of one height: the narrowest that is wide enough, or else nearest to twice as wide as thick."""
    two_to_one = abs(strip.width_mm - 2 * strip.thickness_mm)
    return (strip.width_mm if wanted.width_mm else two_to_one, strip.width_mm)


def _by_length(wanted: Wanted, own: list[Strip], chosen: tuple[str, ...], most: int) -> list[StripPick]:
    """Return picks whose cut length gives the height; the section has only to be stout, and across also wide."""

    def from_drawer(strip: Strip) -> tuple[Fraction, Fraction]:
        return (
            (strip.width_mm, strip.thickness_mm)
            if wanted.use == "across"
            else (strip.times_as_wide, -strip.thickness_mm)
        )

    mine = sorted((strip for strip in own if wanted.stout(strip)), key=from_drawer)
    sold = stout_strips(wanted.scale, chosen, wanted.use, wanted.stout_mm, wanted.width_mm)
    others = [strip for strip in sold.strips if strip not in own]
    # What the series offer comes last in any case: no more of it is named than this.
    return [_pick(strip, wanted, True) for strip in mine] + [_pick(strip, wanted, False) for strip in others[:most]]


def _pick(strip: Strip, wanted: Wanted, in_drawer: bool) -> StripPick:
    error = wanted.error_mm(strip)
    in_scale = float(error / wanted.scale.mm_per_inch) if wanted.scale else None
    return StripPick(strip.name, strip, in_drawer, float(error), in_scale, wanted.advice(strip))


def _from_sheet(wanted: Wanted, chosen: Sequence[str], held: Sequence[StockSheet]) -> list[StripPick]:
    """Return blanks cut from sheet, the thinnest that is stout enough first; a shell is wider than most strip."""
    own = {each.sheet for each in held if _holds(each, wanted) and each.sheet.thickness_mm >= wanted.stout_mm}
    try:
        sold = pick_sheets(wanted.stout_mm, chosen) if set(chosen) & set(SHEET_SERIES) else []
    except DoesNotFit:
        sold = []
    sheets = sorted(own, key=lambda sheet: (sheet.thickness_mm, sheet.name)) + [
        each for each in sold if each not in own
    ]
    width = wanted.width_mm
    blanks = [
        (sheet, _blank(sheet.series, sheet.thickness_mm, width)) for sheet in sheets if sheet.thickness_mm <= width
    ]
    in_scale = 0.0 if wanted.scale else None
    return [
        StripPick(sheet.name, blank, sheet in own, 0.0, in_scale, wanted.advice_for_sheet(sheet), sheet)
        for sheet, blank in blanks
    ]


@lru_cache(maxsize=1_000)
def _blank(series: str, thickness_mm: Fraction, width_mm: Fraction) -> Strip:
    """Return a blank cut from sheet; walls of one width ask for the same ones over and over."""
    return Strip(series, thickness_mm, width_mm)


def _holds(stock: StockSheet, wanted: Wanted) -> bool:
    """Return whether a piece of sheet is large enough for one part, either way round."""
    short, long = sorted((stock.length_mm, stock.width_mm))
    low, high = sorted((wanted.height_mm, wanted.width_mm))
    return low <= short and high <= long

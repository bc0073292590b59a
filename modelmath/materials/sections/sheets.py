"""Sheet: what is cut from it where no strip is wide enough. It is sold in the thicknesses of the same series."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from functools import cached_property, lru_cache

from modelmath.errors import DoesNotFit, UnknownChoice
from modelmath.lengths.units import MM_PER_INCH
from modelmath.materials.exact import exact_mm
from modelmath.materials.sections.series import series_sizes_mm
from modelmath.materials.sections.strips import SERIES, number_text

SHEET_SERIES = ("decimal inch", "metric")  # scale lumber is strip only; common practice, no source


@dataclass(frozen=True)
class Sheet:
    """Sheet of one thickness.

    Attributes
    ----------
    series : str
        ``decimal inch`` or ``metric``. [-]
    thickness_mm : Fraction
        Its thickness, exact; a float is taken to the nearest 0.000001 mm. [mm]

    Examples
    --------
    >>> Sheet("decimal inch", Fraction("1.016")).name, Sheet("metric", 1).to_buy
    ('.040 sheet', 'sheet 1 mm thick')
    """

    series: str
    thickness_mm: Fraction

    def __post_init__(self) -> None:
        if self.series not in SHEET_SERIES:
            raise UnknownChoice("series of sheet", self.series, SHEET_SERIES)
        object.__setattr__(self, "thickness_mm", exact_mm(self.thickness_mm, "thickness_mm"))

    @cached_property
    def name(self) -> str:
        """What it is called at the bench; `parse_sheet` reads it back. [-]"""
        if self.series == "metric":
            return f"{self._size} mm sheet"
        return f"{self._size} sheet" if self.thickness_mm < MM_PER_INCH else f"{self._size} in sheet"

    @property
    def to_buy(self) -> str:
        """What it is asked for by in a shop. [-]"""
        return f"sheet {self._size} {'in' if self.series == 'decimal inch' else 'mm'} thick"

    @property
    def _size(self) -> str:
        if self.series == "metric":
            return number_text(self.thickness_mm, 0)
        return number_text(self.thickness_mm / MM_PER_INCH, 3).removeprefix("0")


def pick_sheets(stout_mm: Fraction | float, series: Sequence[str] = SERIES) -> list[Sheet]:
    """Sheets that are stout enough, the thinnest first.

    Parameters
    ----------
    stout_mm : Fraction or float
        Least thickness. [mm]
    series : sequence of {"scale lumber", "decimal inch", "metric"}
        The series to look in; there is no sheet of scale lumber. [-]

    Returns
    -------
    list of Sheet
        Never empty. [mm]

    Raises
    ------
    DoesNotFit
        If no sheet is thick enough.
    UnknownChoice
        If there is no such series.
    OutOfRange, WrongKind
        If `stout_mm` is no usable length.

    References
    ----------
    data/strip_series.csv: generic sheet and strip series, common practice, no source.

    Examples
    --------
    >>> [sheet.name for sheet in pick_sheets(1)][:3]
    ['1 mm sheet', '.040 sheet', '.050 sheet']
    """
    least = exact_mm(stout_mm, "stout_mm", zero=True)
    chosen = (series,) if isinstance(series, str) else tuple(series)
    every = _sold(chosen)
    stout = [sheet for sheet in every if sheet.thickness_mm >= least]
    if not stout:
        thickest = every[-1] if every else None
        have = f"the thickest is {thickest.name}" if thickest else "these series have no sheet"
        short = least - thickest.thickness_mm if thickest else least
        what = f"A sheet at least {float(least):.2f} mm thick"
        raise DoesNotFit(what, float(short), have, "Glue two sheets together, or allow a thinner one.")
    return stout


@lru_cache(maxsize=16)
def _sold(series: tuple[str, ...]) -> tuple[Sheet, ...]:
    """Return all sheets of some series, the thinnest first; there is none of scale lumber."""
    every = [Sheet(each, size) for each in series for size in series_sizes_mm(each)]
    return tuple(sorted(every, key=lambda sheet: sheet.thickness_mm))

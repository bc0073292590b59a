"""The sizes each series of strip is sold in."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from functools import cache

from modelmath.errors import TableError, UnknownChoice
from modelmath.lengths.scales import Scale, scale_of
from modelmath.lengths.units import MM_PER_INCH
from modelmath.materials.exact import half_last_digit
from modelmath.materials.sections.strips import SERIES, Strip
from modelmath.tables import rows


@cache
def _sizes() -> dict[str, tuple[Fraction, ...]]:
    """Return the sides of each series in its own unit (scale inches, inches, mm), thinnest first."""
    found: dict[str, list[Fraction]] = {series: [] for series in SERIES}
    columns = dict(zip(SERIES, ("size_scale_in", "size_in", "size_mm"), strict=True))
    for line, row in rows("strip_series.csv"):
        if row["series"] not in columns:
            raise TableError("strip_series.csv", line, f"no series is called {row['series']!r}")
        if row["series"] != "scale lumber" and not _agree(row["size_in"], row["size_mm"], row["series"]):
            raise TableError("strip_series.csv", line, f"{row['size_mm']} mm and {row['size_in']} in disagree")
        found[row["series"]].append(Fraction(row[columns[row["series"]]]))
    return {series: tuple(sorted(set(sizes))) for series, sizes in found.items()}


def _agree(inch: str, mm: str, series: str) -> bool:
    """Return whether the column that only repeats a size agrees to its own last digit."""
    rounding = half_last_digit(mm) if series == "decimal inch" else MM_PER_INCH * half_last_digit(inch)
    return abs(Fraction(mm) - MM_PER_INCH * Fraction(inch)) <= rounding


def series_sizes_mm(series: str, scale: Scale | str | None = None) -> tuple[Fraction, ...]:
    """Thicknesses (and widths) a series is sold in.

    Parameters
    ----------
    series : {"scale lumber", "decimal inch", "metric"}
        Which series. [-]
    scale : Scale, str or None
        The scale of scale lumber. [-]

    Returns
    -------
    tuple of Fraction
        The sizes, thinnest first; none for scale lumber without a scale. [mm]

    Raises
    ------
    UnknownChoice, UnknownScale
        If there is no such series or scale.

    References
    ----------
    data/strip_series.csv: generic series, common practice, no source.

    Examples
    --------
    >>> [float(size) for size in series_sizes_mm("scale lumber", "O")][:3]
    [0.5291666666666667, 1.0583333333333333, 1.5875]
    """
    if series not in SERIES:
        raise UnknownChoice("strip series", series, SERIES)
    if series == "scale lumber":
        return tuple(size * scale_of(scale).mm_per_inch for size in _sizes()[series]) if scale is not None else ()
    unit_mm = MM_PER_INCH if series == "decimal inch" else Fraction(1)
    return tuple(size * unit_mm for size in _sizes()[series])


def strip_series(scale: Scale | str | None = None, series: Sequence[str] = SERIES) -> tuple[Strip, ...]:
    """Every section of the series: each size of a series as thickness with each of its sizes as width.

    Parameters
    ----------
    scale : Scale, str or None
        The scale of scale lumber, which is left out without one. [-]
    series : sequence of {"scale lumber", "decimal inch", "metric"}
        The series wanted, in this order. [-]

    Returns
    -------
    tuple of Strip
        Series by series, thinnest first. [mm]

    Raises
    ------
    UnknownChoice, UnknownScale
        If there is no such series or scale.

    References
    ----------
    data/strip_series.csv: generic series, common practice, no source.

    Examples
    --------
    >>> [strip.name for strip in strip_series("HO")][:3]
    ['HO 1x1', 'HO 1x2', 'HO 1x3']
    """
    found = scale_of(scale) if scale is not None else None
    chosen = (series,) if isinstance(series, str) else tuple(series)
    return tuple(strip for each in chosen for strip in _sections(each, found))


@cache
def _sections(series: str, scale: Scale | None) -> tuple[Strip, ...]:
    name = scale.name if scale is not None and series == "scale lumber" else None
    sizes = series_sizes_mm(series, scale)
    return tuple(Strip(series, thin, wide, name) for thin in sizes for wide in sizes if wide >= thin)

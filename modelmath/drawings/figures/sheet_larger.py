"""The crowded part of a sheet by itself, so that it can be drawn larger."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from fractions import Fraction
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from modelmath.cutting.sheet_layout import CutSheet, Snap

CROWDED = 12  # snaps up to which one figure is easy to read
WORTH_IT = 1.25  # times as large, at least, as in the figure of the whole sheet
Spans = list[tuple[Fraction, Fraction]]


def crowded_corner(sheet: CutSheet, tallest: float) -> CutSheet | None:
    """Return the lower left corner of a sheet with all its parts as a sheet of its own, where that draws it larger.

    Snaps keep their numbers and their distances, since these count from left and lower edges; a line that runs on
    beyond the corner ends at it. Lines and offcuts that lie beyond it are left out.

    Parameters
    ----------
    sheet : CutSheet
        The sheet. [mm]
    tallest : float
        Greatest height of a figure as a share of its width. [-]

    Returns
    -------
    CutSheet or None
        The corner; None for a sheet with few snaps, or that would gain little. [mm]

    References
    ----------
    The layout's own places.
    """
    if len(sheet.snaps) <= CROWDED:
        return None
    panels = (*sheet.pieces, *sheet.offcuts)
    right = _end(max(each.x_mm + each.length_mm for each in sheet.pieces), [_along(each) for each in panels])
    top = _end(max(each.y_mm + each.width_mm for each in sheet.pieces), [_up(each) for each in panels])
    if _unit(right, top, tallest) < WORTH_IT * _unit(sheet.length_mm, sheet.width_mm, tallest):
        return None
    return replace(
        sheet,
        length_mm=right,
        width_mm=top,
        offcuts=tuple(each for each in sheet.offcuts if each.x_mm < right and each.y_mm < top),
        snaps=tuple(_within(sheet.snaps, right, top)),
    )


def _along(panel: object) -> tuple[Fraction, Fraction]:
    return panel.x_mm, panel.x_mm + panel.length_mm  # type: ignore[attr-defined]


def _up(panel: object) -> tuple[Fraction, Fraction]:
    return panel.y_mm, panel.y_mm + panel.width_mm  # type: ignore[attr-defined]


def _end(end: Fraction, spans: Spans) -> Fraction:
    """Return where the corner ends, so that it cuts through no panel."""
    while crossed := [high for low, high in spans if low < end < high]:
        end = max(crossed)
    return end


def _unit(length: Fraction, width: Fraction, tallest: float) -> float:
    return min(1 / float(length), tallest / float(width))


def _within(snaps: Iterable[Snap], right: Fraction, top: Fraction) -> Iterable[Snap]:
    """Yield the snaps whose lines lie inside, each panel no larger than the corner."""
    for snap in snaps:
        x, y, length, width = snap.panel
        at = (x if snap.along == "width" else y) + snap.at_mm
        if x < right and y < top and at <= (right if snap.along == "width" else top):
            yield replace(snap, panel=(x, y, min(length, right - x), min(width, top - y)))

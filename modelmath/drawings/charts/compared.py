"""Speakers and seats beside each other: -3 dB point against level, each by its number in the list."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from modelmath.drawings.charts.axes import Axes
from modelmath.drawings.shapes import Drawing
from modelmath.drawings.svg import to_svg

if TYPE_CHECKING:
    from modelmath.job.sound.comparing import Compared

MOST_NAMED = 6  # the best, by the order given; the rest are signs alone


def compared_figure(rows: Sequence[Compared], width: float = 480.0) -> Drawing:
    """Draw level for 1 W against the -3 dB point: low and loud lies to the upper left.

    Parameters
    ----------
    rows : sequence of Compared
        Those that fit, the best first. [-]
    width : float
        Width of the sheet. [drawing unit]

    Returns
    -------
    Drawing
        A chart; the plan's own as a circle, others as crosses. [drawing unit]

    References
    ----------
    None needed.
    """
    points = [(each, each.box.f3_hz.best, each.box.sensitivity_db.best) for each in rows if each.box is not None]
    across, up = [hz for _, hz, _ in points], [level for _, _, level in points]
    best = points[0][0]
    axes = Axes(
        "Speakers and seats compared",
        "-3 dB point, Hz: further left sounds deeper",
        "Level for 1 W at 1 m, dB",
        (min(across) * 0.95, max(across) * 1.05),
        (min(up) - 1, max(up) + 1),
        width,
        200,
        f"Best by the order chosen: {best.name}, {best.seat.in_words}.",
    )
    for own, mark, key in ((True, "circle", "the plan's own"), (False, "cross", "another speaker")):
        places = [(hz, level) for each, hz, level in points if each.own is own]
        if places:
            axes.points("own" if own else "other", places, mark, key=key)  # type: ignore[arg-type]
    named = set[str]()
    for each, hz, level in points:
        if len(named) < MOST_NAMED and each.name not in named:
            named.add(each.name)
            axes.note(hz, level, each.name)
    return axes.drawing()


def compared_svg(rows: Sequence[Compared], width: float = 480.0) -> str:
    """Return the chart of `compared_figure` as SVG.

    Parameters
    ----------
    rows : sequence of Compared
        Those that fit, the best first. [-]
    width : float
        Width of the sheet. [drawing unit]

    Returns
    -------
    str
        The file's text. [-]

    References
    ----------
    `to_svg`.
    """
    return to_svg(compared_figure(rows, width), round(width))

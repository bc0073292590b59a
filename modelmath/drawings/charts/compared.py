"""Speakers and seats beside each other: the -3 dB point, with its limits, against the level."""

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
    """Draw the -3 dB point against the level for 1 W: deep and loud lies to the lower right.

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
    points = [(each, each.box.loudness_db(1).best, each.box.f3_hz) for each in rows if each.box is not None]
    across = [level for _, level, _ in points]
    best = points[0][0]
    axes = Axes(
        "Speakers and seats compared",
        "Level for 1 W at 1 m, dB: further right sounds louder",
        "-3 dB point, Hz: further down sounds deeper",
        (min(across) - 1, max(across) + 1),
        (min(f3.low for _, _, f3 in points) * 0.9, max(f3.high for _, _, f3 in points) * 1.05),
        width,
        200,
        f"Best by the order chosen: {best.name}, {best.seat.in_words}.",
    )
    first = {each.name: (level, f3) for each, level, f3 in reversed(points)}  # of each speaker its best seat
    bars = [(level, f3.low, f3.high) for level, f3 in first.values() if not f3.exact]
    if bars:
        axes.error_bars("limits", bars, key="as far as the speaker is known")
    for own, mark, key in ((True, "circle", "the plan's own"), (False, "cross", "another speaker")):
        places = [(level, f3.best) for each, level, f3 in points if each.own is own]
        if places:
            axes.points("own" if own else "other", places, mark, key=key)  # type: ignore[arg-type]
    for name in list(dict.fromkeys(each.name for each, _, _ in points))[:MOST_NAMED]:
        level, f3 = first[name]
        axes.note(level, f3.best, name)
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

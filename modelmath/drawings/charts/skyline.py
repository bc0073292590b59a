"""Free depth along the length as a stepped outline, each step with how sure its depth and its edges are."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from modelmath.drawings.charts.axes import FORE_AFT, Axes
from modelmath.drawings.charts.key import EDGE, GAP, ROW, TEXT
from modelmath.drawings.shapes import Drawing, Label, Pen, text_width, wrap
from modelmath.drawings.svg import to_svg
from modelmath.errors import OutOfRange

STEP, MOVING, RISER = Pen(2.0), Pen(2.0, 0.0, (6, 3)), Pen(1.0, 0.3)
SURE, EDGE_BAR, NONE = Pen(0.7, 0.6), Pen(1.2), Pen(1.0, 0.0, (2, 2))
CAP = 0.02  # half the height of an edge bar's caps, of the frame's
MEANT = 2  # standard uncertainties to either side


@dataclass(frozen=True)
class SkylineStretch:
    """A stretch of the length over which the free depth is one.

    Attributes
    ----------
    name : str
        What stands there. [-]
    start_mm, end_mm : float
        Its ends, from the fore-aft mark. [mm]
    free_mm : float
        Roof less what stands there; below 0 where that is too high. [mm]
    u_mm : float
        Standard uncertainty of that depth. [mm]
    edge_u_mm : float
        Standard uncertainty of where it starts and ends. [mm]
    moving : bool
        Whether what moves there sets the depth. [-]
    """

    name: str
    start_mm: float
    end_mm: float
    free_mm: float
    u_mm: float = 0.0
    edge_u_mm: float = 0.0
    moving: bool = False

    def __post_init__(self) -> None:
        if not self.end_mm > self.start_mm:
            given = f"{self.end_mm - self.start_mm:.2f} mm long"
            raise OutOfRange(f"stretch {self.name!r}", given, "longer than 0", "Check where it starts and ends.")
        for words, value in (("depth", self.u_mm), ("edges", self.edge_u_mm)):
            if not value >= 0:
                what = f"stretch {self.name!r}: uncertainty of its {words}"
                raise OutOfRange(what, f"{value:g} mm", "0 or more", "Write 0 mm where it is exact.")


def skyline_figure(stretches: Sequence[SkylineStretch], width: float = 480.0, mark: str = FORE_AFT) -> Drawing:
    """Draw free depth along the length as a stepped outline.

    Parameters
    ----------
    stretches : sequence of SkylineStretch
        In any order, none over another. [mm]
    width : float
        Width of the sheet. [drawing unit]
    mark : str
        Name of the mark that places count from. [-]

    Returns
    -------
    Drawing
        A chart; bands and bars reach two standard uncertainties to either side. [drawing unit]

    Raises
    ------
    OutOfRange
        If there is no stretch, or one lies over another.

    References
    ----------
    JCGM 100:2008, 6.2: a coverage factor of 2.
    """
    placed = sorted(stretches, key=lambda each: each.start_mm)
    if not placed:
        raise OutOfRange("the skyline", "without stretches", "one stretch or more", "Measure a depth first.")
    for one, other in pairwise(placed):
        if other.start_mm < one.end_mm:
            given = f"starting at {other.start_mm:.2f} mm"
            free = f"at or behind the end of {one.name!r}, {one.end_mm:.2f} mm"
            raise OutOfRange(f"stretch {other.name!r}", given, free, "Give each stretch of the length once.")
    lows = [each.free_mm - MEANT * each.u_mm for each in placed]
    highs = [each.free_mm + MEANT * each.u_mm for each in placed]
    ends = [bar for place, u in _edges(placed) for bar in (place - MEANT * u, place + MEANT * u)]
    margin = (placed[-1].end_mm - placed[0].start_mm) * 0.02
    axes = Axes(
        "Free depth along the length",
        f"Along the length, mm from the {mark}",
        "Free depth, mm",
        (min(ends) - margin, max(ends) + margin),
        (min(0.0, *lows), max(*highs, 0.5) * 1.12),
        width,
        200,
        "; ".join(_described(each) for each in placed) + ".",
    )
    _draw_bands(axes, placed)
    _draw_outline(axes, placed)
    _draw_edges(axes, placed)
    # A name wider than its step would stand over another's: then all are numbered, and named below.
    whole = all(text_width(each.name, TEXT) < _across(axes, each) - 2 * GAP for each in placed)
    for number, each in enumerate(placed, start=1):
        words = each.name if whole else str(number)
        axes.note((each.start_mm + each.end_mm) / 2, each.free_mm + MEANT * each.u_mm, words)
    drawing = axes.drawing()
    if not whole:
        _name_below(drawing, [f"{number} {each.name}" for number, each in enumerate(placed, start=1)])
    return drawing


def skyline_svg(stretches: Sequence[SkylineStretch], width: float = 480.0, mark: str = FORE_AFT) -> str:
    """Return the chart of `skyline_figure` as SVG.

    Parameters
    ----------
    stretches : sequence of SkylineStretch
        In any order, none over another. [mm]
    width : float
        Width of the sheet. [drawing unit]
    mark : str
        Name of the mark that places count from. [-]

    Returns
    -------
    str
        The file's text. [-]

    References
    ----------
    `to_svg`.
    """
    return to_svg(skyline_figure(stretches, width, mark), round(width))


def _across(axes: Axes, each: SkylineStretch) -> float:
    return axes.at(each.end_mm, 0.0)[0] - axes.at(each.start_mm, 0.0)[0]


def _name_below(drawing: Drawing, names: Sequence[str]) -> None:
    for line in wrap("; ".join(names), drawing.width - 2 * EDGE, TEXT):
        drawing.low -= ROW
        drawing.height += ROW
        drawing.add(Label(EDGE, drawing.low + 2 * GAP, line, TEXT))


def _edges(placed: Sequence[SkylineStretch]) -> list[tuple[float, float]]:
    """Return each edge once, with the greater of the uncertainties that its two stretches give it."""
    found: dict[float, float] = {}
    for each in placed:
        for place in (each.start_mm, each.end_mm):
            found[place] = max(found.get(place, 0.0), each.edge_u_mm)
    return sorted(found.items())


def _draw_bands(axes: Axes, placed: Sequence[SkylineStretch]) -> None:
    key = "where the depth lies, 2 standard uncertainties"
    for each in placed:
        if each.u_mm:
            low, high = each.free_mm - MEANT * each.u_mm, each.free_mm + MEANT * each.u_mm
            axes.band("sure", [(each.start_mm, low, high), (each.end_mm, low, high)], SURE, 4.0, key=key)
            key = ""


def _draw_outline(axes: Axes, placed: Sequence[SkylineStretch]) -> None:
    keys = {False: "free depth", True: "free depth over what moves"}
    for place, _ in _edges(placed):
        levels = [each.free_mm for each in placed if place in (each.start_mm, each.end_mm)]
        axes.line("riser", [(place, levels[0]), (place, levels[1] if len(levels) > 1 else 0.0)], RISER)
    for each in placed:
        ends = [(each.start_mm, each.free_mm), (each.end_mm, each.free_mm)]
        axes.line("depth", ends, MOVING if each.moving else STEP, key=keys.pop(each.moving, ""))
    if axes.y_ticks[0] < 0:
        axes.line("none", [(axes.x_ticks[0], 0.0), (axes.x_ticks[-1], 0.0)], NONE, key="no depth left below this")


def _draw_edges(axes: Axes, placed: Sequence[SkylineStretch]) -> None:
    """Draw each edge's own uncertainty as a short level bar, halfway up its step."""
    key, half = "where an edge lies", CAP * (axes.y_ticks[-1] - axes.y_ticks[0])
    for place, u in _edges(placed):
        levels = [each.free_mm for each in placed if place in (each.start_mm, each.end_mm)]
        level = sum(levels) / len(levels) if len(levels) > 1 else levels[0] / 2
        if not u:
            continue
        left, right = place - MEANT * u, place + MEANT * u
        axes.line("edge", [(left, level), (right, level)], EDGE_BAR, key=key)
        for end in (left, right):
            axes.line("edge", [(end, level - half), (end, level + half)], EDGE_BAR)
        key = ""


def _described(each: SkylineStretch) -> str:
    moving = ", set by what moves" if each.moving else ""
    sure = f" within {MEANT * each.u_mm:.2f}" if each.u_mm else ""
    return f"{each.name}: {each.start_mm:.2f} to {each.end_mm:.2f} mm, {each.free_mm:.2f} mm free{sure}{moving}"

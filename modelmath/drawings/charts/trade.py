"""Volume and height of the largest chamber against the place of its bulkhead."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from math import floor, log10
from typing import TYPE_CHECKING

from modelmath.drawings.charts.axes import AXIS, FORE_AFT, Axes
from modelmath.drawings.charts.key import EDGE, GAP, TEXT
from modelmath.drawings.shapes import Drawing, Label, Lines, Pen, text_width
from modelmath.drawings.svg import to_svg

if TYPE_CHECKING:
    from modelmath.enclosure.choosing.pieces import Piece
    from modelmath.enclosure.choosing.trade import TradeCurve
    from modelmath.lengths.numbers import Number

Run = list[tuple[float, float]]

VOLUME, HEIGHT = Pen(1.9), Pen(1.5, 0.0, (7, 4))
JUMP, LACKING = Pen(0.8, 0.35, (1.5, 2.5)), Pen(0.8, 0.45)
TICK, FOOT = 5.0, 0.07  # length of a tick; part of the frame's height that the hatch at its foot takes
RIGHT = TICK + GAP + text_width("0000", TEXT) + EDGE  # room for the axis of heights


def trade_curve_figure(
    curve: TradeCurve, chosen_mm: float | None = None, width: float = 480.0, mark: str = FORE_AFT
) -> Drawing:
    """Draw volume and height against the bulkhead's place, with the chosen place marked and jumps as jumps.

    Parameters
    ----------
    curve : TradeCurve
        The curve. [mm]
    chosen_mm : float or None
        Where the bulkhead is to stand; None for the best place. [mm]
    width : float
        Width of the sheet. [drawing unit]
    mark : str
        Name of the mark that places count from. [-]

    Returns
    -------
    Drawing
        A chart with volume on its left axis and height on its right one. [drawing unit]

    References
    ----------
    `trade_curve`.
    """
    most, high, places = max(curve.volumes_mm3), max(curve.heights_mm), curve.places_mm
    margin = (places[-1] - places[0]) * 0.03 or 0.5
    axes = Axes(
        "Volume and height by place of the bulkhead",
        f"Bulkhead, mm from the {mark}",
        "Volume, cm3, on the left; height at the bulkhead, mm, on the right",
        (places[0] - margin, places[-1] + margin),
        (0.0, _cm3(most)),
        width - RIGHT,
        200,
        _described(curve),
    )
    ticks = _right_ticks(high, len(axes.y_ticks))
    times = axes.y_ticks[-1] / ticks[-1]
    _draw_lacking(axes, curve)
    _draw_jumps(axes, curve, times)
    _lines(axes, "volume", _runs(curve, _volumes), VOLUME, "volume")
    _lines(axes, "height", _runs(curve, lambda piece: _heights(piece, times)), HEIGHT, "height")
    _draw_chosen(axes, curve, chosen_mm, times)
    drawing = axes.drawing()
    _right_axis(drawing, axes, ticks)
    drawing.width = width
    return drawing


def trade_curve_svg(
    curve: TradeCurve, chosen_mm: float | None = None, width: float = 480.0, mark: str = FORE_AFT
) -> str:
    """Return the chart of `trade_curve_figure` as SVG.

    Parameters
    ----------
    curve : TradeCurve
        The curve. [mm]
    chosen_mm : float or None
        Where the bulkhead is to stand; None for the best place. [mm]
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
    return to_svg(trade_curve_figure(curve, chosen_mm, width, mark), round(width))


def _lines(axes: Axes, name: str, runs: Sequence[Run], pen: Pen, key: str) -> None:
    """Draw one line for each run, the first of them in the key; a single place as a small circle."""
    for number, run in enumerate(runs):
        if len(run) == 1:
            axes.points(name, run, "circle", 4.0, Pen(pen.width))
        axes.line(name, run, pen, key="" if number else key)


def _cm3(volume_mm3: Number) -> float:
    return float(volume_mm3) / 1000


def _runs(curve: TradeCurve, values: Callable[[Piece], Run]) -> list[Run]:
    """Return the runs of points between which nothing jumps."""
    runs: list[Run] = []
    for piece in curve.pieces:
        points = list(dict.fromkeys(values(piece)))
        if runs and runs[-1][-1] == points[0]:
            runs[-1] += points[1:]
        else:
            runs.append(points)
    return runs


def _volumes(piece: Piece) -> Run:
    return [(float(piece.start_mm), _cm3(piece.start_volume_mm3)), (float(piece.end_mm), _cm3(piece.end_volume_mm3))]


def _heights(piece: Piece, times: float) -> Run:
    return [(float(at), float(piece.height_mm) * times) for at in (piece.start_mm, piece.end_mm)]


def _draw_jumps(axes: Axes, curve: TradeCurve, times: float) -> None:
    """Draw a dotted line from one side of each jump to the other, on both curves."""
    for jump in curve.jumps:
        if jump.before is None or jump.behind is None:
            continue
        place, one, other = float(jump.place_mm), jump.before, jump.behind
        axes.line("jump", [(place, _cm3(each.volume_mm3)) for each in (one, other)], JUMP)
        axes.line("jump", [(place, float(each.height_mm) * times) for each in (one, other)], JUMP)


def _draw_lacking(axes: Axes, curve: TradeCurve) -> None:
    """Hatch the foot of the frame where the speaker finds no place."""
    key, level = "the speaker does not fit here", axes.y_ticks[-1] * FOOT
    for piece in curve.pieces:
        if not piece.holds_speaker and piece.end_mm > piece.start_mm:
            ends = [(float(piece.start_mm), 0.0, level), (float(piece.end_mm), 0.0, level)]
            axes.band("lacking", ends, LACKING, 4.0, key=key)
            key = ""


def _draw_chosen(axes: Axes, curve: TradeCurve, chosen_mm: float | None, times: float) -> None:
    point = curve.best if chosen_mm is None else curve.at(chosen_mm)
    place = float(curve.best.place_mm) if chosen_mm is None else chosen_mm
    axes.marker(place, f"{'best' if chosen_mm is None else 'chosen'}: {place:.2f} mm")
    if point is not None:
        levels = (_cm3(point.volume_mm3), float(point.height_mm) * times)
        axes.points("chosen", [(place, level) for level in levels], key="at the place marked")


def _right_ticks(high: float, count: int) -> tuple[float, ...]:
    """Return as many ticks from 0 as the left axis has, in steps of 1, 2, 2.5 or 5, that reach a height."""
    least = high / (count - 1)
    power = 10.0 ** floor(log10(least))
    step = next(each * power for each in (1, 2, 2.5, 5, 10) if each * power >= least * (1 - 1e-9))
    return tuple(step * number for number in range(count))


def _right_axis(drawing: Drawing, axes: Axes, ticks: Sequence[float]) -> None:
    """Draw the axis of heights, each tick level with one on the left."""
    _, low, right, top = axes.frame
    levels = [axes.at(axes.x_ticks[0], tick)[1] for tick in axes.y_ticks]
    runs = [((right, low), (right, top)), *(((right, level), (right + TICK, level)) for level in levels)]
    drawing.add(Lines("axis", tuple(runs), AXIS))
    for level, tick in zip(levels, ticks, strict=True):
        drawing.add(Label(right + TICK + GAP, level - TEXT * 0.36, f"{tick:.3g}", TEXT))


def _described(curve: TradeCurve) -> str:
    best = curve.best
    most = (
        f"The largest chamber holds {_cm3(best.volume_mm3):.2f} cm3, is {float(best.height_mm):.2f} mm high at the "
        f"bulkhead, and has it at {float(best.place_mm):.2f} mm; {best.cause} sets its floor."
    )
    jumps = ", ".join(f"{float(each.place_mm):.2f} mm" for each in curve.jumps)
    return f"{most} The curve jumps at {jumps}." if jumps else most

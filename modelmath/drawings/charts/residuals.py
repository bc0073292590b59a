"""How far each gauge lies from a rule's calibration, over the mark it was read at."""

from __future__ import annotations

from modelmath.drawings.charts.axes import Axes
from modelmath.drawings.shapes import Drawing, Pen
from modelmath.lengths.calibration import Calibration, Residual
from modelmath.lengths.text import SYMBOLS, format_length

ZERO, OTHERS = Pen(1.2), Pen(1.6, 0.0, (8, 4))
LIMIT, ONE_U = Pen(1.0, 0.35, (3, 3)), Pen(2.2)
GAUGE, ODD = Pen(1.8), Pen(2.4)
STEPS = 40  # pieces of the band's edge, which is curved


def residuals_figure(calibration: Calibration, width: float = 480.0) -> Drawing:
    """Draw what is left of each gauge over its mark, with its uncertainty, and how sure the fitted line is.

    Parameters
    ----------
    calibration : Calibration
        The calibration. [mm]
    width : float
        Width of the sheet. [drawing unit]

    Returns
    -------
    Drawing
        The figure; gauges that disagree are crossed and named. [drawing unit]

    References
    ----------
    The calibration's own residuals; JCGM 100:2008, H.3.4 for the band.
    """
    rule, rests, limit = calibration.read_with, calibration.residuals, calibration.agreement.limit
    unit = float(rule.unit_mm)
    marks = [float(each.mark_mm) / unit for each in rests]
    low, high = min(0.0, *marks), max(0.0, *marks)
    band = [(mark, *_band(calibration, mark * unit)) for mark in _steps(low, high)]
    reaches = [abs(each.residual_mm) + limit * each.u_mm for each in rests]
    reach = max(*reaches, *(top for _, _, top in band))
    axes = Axes(
        "What is left of each gauge",
        f"mark read, {SYMBOLS.get(rule.unit, rule.unit)}",
        "size of the gauge less the corrected reading, mm",
        (low, high),
        (-reach, reach),
        width,
        description=_in_words(calibration),
    )
    axes.band("band", band, key="how sure the line is")
    axes.line("zero", [(axes.x_ticks[0], 0.0), (axes.x_ticks[-1], 0.0)], ZERO)
    _draw_others(axes, calibration, (low, high))
    axes.error_bars("limit", [_bar(each, mark, limit) for each, mark in zip(rests, marks, strict=True)], LIMIT, 0.0)
    axes.error_bars("one u", [_bar(each, mark, 1.0) for each, mark in zip(rests, marks, strict=True)], ONE_U, 0.0)
    for datum, size in (("end", 10.0), ("zero", 5.0)):
        found = [(mark, each.residual_mm) for each, mark in zip(rests, marks, strict=True) if each.gauge.datum == datum]
        if found:
            axes.points(datum, found, "circle", size, GAUGE, key=f"gauge, read from the rule's {datum}")
    axes.key_of_bar("one u", ONE_U, "its standard uncertainty")
    axes.key_of_bar("limit", LIMIT, "how far it may be off")
    odd = {id(each.gauge) for each in calibration.disagreeing}
    crossed = [(mark, each) for each, mark in zip(rests, marks, strict=True) if id(each.gauge) in odd]
    if crossed:
        axes.points("odd", [(mark, each.residual_mm) for mark, each in crossed], "cross", 16.0, ODD, key="disagrees")
    for mark, each in crossed:
        axes.note(mark, each.residual_mm, each.gauge.name)
    return axes.drawing()


def _steps(low: float, high: float) -> list[float]:
    return [low + (high - low) * step / STEPS for step in range(STEPS + 1)]


def _band(calibration: Calibration, mark_mm: float) -> tuple[float, float]:
    """Return how far the line may lie from where it is, at a mark. [mm]"""
    u = calibration.u_at_mm(mark_mm) if calibration.finds != "scale error" else mark_mm * calibration.scale_error_u
    return -abs(u), abs(u)


def _bar(each: Residual, mark: float, times: float) -> tuple[float, float, float]:
    return mark, each.residual_mm - times * each.u_mm, each.residual_mm + times * each.u_mm


def _draw_others(axes: Axes, calibration: Calibration, ends: tuple[float, float]) -> None:
    """Draw where the line would lie without the gauges that disagree."""
    others = calibration.without_disagreeing
    if others is None:
        return
    unit = float(calibration.read_with.unit_mm)
    moved = [(mark, others.line.at(mark * unit)[0] - calibration.line.at(mark * unit)[0]) for mark in ends]
    axes.line("others", moved, OTHERS, key="the line without what disagrees")


def _in_words(calibration: Calibration) -> str:
    each = "; ".join(f"{rest.gauge.name} {format_length(rest.residual_mm, 'mm')}" for rest in calibration.residuals)
    return f"{each}. {calibration.verdict}"

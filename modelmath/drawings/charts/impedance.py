"""An impedance sweep: readings, the fitted curve, and how far each reading differs from it below."""

from __future__ import annotations

from dataclasses import replace
from math import degrees
from typing import TYPE_CHECKING

from modelmath.drawings.charts.frequency import FrequencyAxes
from modelmath.drawings.shapes import Box, Circle, Drawing, Label, Lines, Pen, Shape
from modelmath.drawings.svg import to_svg
from modelmath.sound.measuring.estimate import coverage_factor

if TYPE_CHECKING:
    from collections.abc import Sequence

    from modelmath.sound.measuring.fit import SweepFit

    Points = Sequence[tuple[float, float]]

CURVE, READING, PHASE = Pen(2.0), Pen(1.1), Pen(1.2)
ZERO, WITHIN = Pen(1.2), Pen(1.0, 0.35, (6, 4))
SMALL, CROSS = 6.0, 6.5
STEPS = 240  # pieces of the curve
MOST_POINTS = 240  # of a longer sweep every second reading is drawn, or every third and so on
UPPER, LOWER = 190.0, 120.0
LEAST_TURN = 10.0  # degrees that the axis of the phase reaches to at least
BETWEEN = 10.0  # from one chart to that below it


def impedance_figure(fit: SweepFit, width: float = 480.0) -> Drawing:
    """Draw an impedance sweep over frequency: readings as circles, the fitted curve as a line.

    Below stand the phase, where it was taken, and how far each reading differs from the curve. Without a fit the
    readings stand alone.

    Parameters
    ----------
    fit : SweepFit
        The fit. [-]
    width : float
        Width of the sheet. [drawing unit]

    Returns
    -------
    Drawing
        The charts below each other, their frequencies in line. [drawing unit]

    References
    ----------
    The fit's own residuals; their 95 % band by Student's t.
    """
    f_hz = fit.sweep.frequency_hz
    step = -(-len(f_hz) // MOST_POINTS)
    every = "" if step == 1 else f", 1 in {step} drawn"
    charts = [_modulus(fit, step, every, width)]
    if fit.sweep.phase_rad is not None:
        charts.append(_phase(fit, step, width))
    if fit.curve is not None:
        charts.append(_left(fit, step, width))
    left = max(chart.frame[0] for chart in charts)
    for chart in charts:
        chart.frame = (left, *chart.frame[1:])
        _draw(chart)
    return _stacked([chart.drawing() for chart in charts], _in_words(fit))


def impedance_svg(fit: SweepFit, width: float = 480.0) -> str:
    """Return the same as SVG.

    Parameters
    ----------
    fit : SweepFit
        The fit. [-]
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
    return to_svg(impedance_figure(fit, width), round(width))


class _Chart(FrequencyAxes):
    """A chart whose points and lines wait until all charts stand in line."""

    waiting: list[tuple[str, str, Points, Pen, str]]


def _draw(chart: _Chart) -> None:
    for form, name, points, pen, key in chart.waiting:
        if form == "line":
            chart.line(name, points, pen, key=key)
        elif form == "circle":
            chart.points(name, points, "circle", SMALL, pen, key=key)
        else:
            chart.points(name, points, "cross", CROSS, pen, key=key)


def _chart(fit: SweepFit, title: str, y_title: str, y_range: tuple[float, float], width: float, high: float) -> _Chart:
    low, most = min(fit.sweep.frequency_hz), max(fit.sweep.frequency_hz)
    if low == most:  # a single frequency still has an axis round it
        low, most = low / 1.5, most * 1.5
    chart = _Chart(title, y_title, (low, most), y_range, width, high)
    chart.waiting = []
    return chart


def _modulus(fit: SweepFit, step: int, every: str, width: float) -> _Chart:
    f_hz, z_ohm = fit.sweep.frequency_hz, fit.sweep.impedance_ohm
    curve = _curve(fit)
    most = max([*z_ohm, *(abs(value) for _, value in curve)])
    chart = _chart(fit, "Impedance", "Impedance, ohm", (0.0, most), width, UPPER)
    if curve:
        chart.waiting.append(("line", "curve", [(f, abs(value)) for f, value in curve], CURVE, "fitted curve"))
    chart.waiting.append(("circle", "reading", list(zip(f_hz, z_ohm, strict=True))[::step], READING, f"reading{every}"))
    return chart


def _phase(fit: SweepFit, step: int, width: float) -> _Chart:
    import cmath

    assert fit.sweep.phase_rad is not None
    f_hz, turned = fit.sweep.frequency_hz, [degrees(each) for each in fit.sweep.phase_rad]
    reach = max([LEAST_TURN, *(abs(each) for each in turned)])
    chart = _chart(fit, "Phase", "Phase, degrees", (-reach, reach), width, LOWER)
    curve = [(f, degrees(cmath.phase(value))) for f, value in _curve(fit)]
    if curve:
        chart.waiting.append(("line", "phase curve", curve, CURVE, ""))
    chart.waiting.append(("cross", "phase", list(zip(f_hz, turned, strict=True))[::step], PHASE, "phase"))
    return chart


def _left(fit: SweepFit, step: int, width: float) -> _Chart:
    f_hz = fit.sweep.frequency_hz
    modulus = [100 * each for each in fit.residuals]
    phase = None if fit.phase_residuals_rad is None else [degrees(each) for each in fit.phase_residuals_rad]
    within = 100 * coverage_factor(fit.dof) * fit.scatter
    reach = max([within, *(abs(each) for each in (*modulus, *(phase or ())))])
    chart = _chart(
        fit,
        "Differences from the curve",
        "Differences from the curve, %" if phase is None else "Differences from the curve: %, phase in degrees",
        (-reach, reach),
        width,
        LOWER,
    )
    ends = (min(f_hz), max(f_hz))
    chart.waiting.append(("line", "zero", [(f, 0.0) for f in ends], ZERO, ""))
    lie = f"95 of 100 {'readings' if phase is None else 'impedances'} lie between these lines"
    for sign, key in ((1, lie), (-1, "")):
        chart.waiting.append(("line", "within", [(f, sign * within) for f in ends], WITHIN, key))
    chart.waiting.append(("circle", "left", list(zip(f_hz, modulus, strict=True))[::step], READING, ""))
    if phase is not None:
        chart.waiting.append(("cross", "phase left", list(zip(f_hz, phase, strict=True))[::step], PHASE, ""))
    return chart


def _curve(fit: SweepFit) -> list[tuple[float, complex]]:
    """Return the fitted curve over the sweep, closer where the peak is narrow."""
    if fit.curve is None:
        return []
    low, high = min(fit.sweep.frequency_hz), max(fit.sweep.frequency_hz)
    even = [low * (high / low) ** (place / STEPS) for place in range(STEPS + 1)]
    fs_hz, half = fit.curve.fs_hz, fit.curve.peak_width_hz
    near = [fs_hz + half * (place / 20 - 1) for place in range(41)]
    places = sorted({*even, *(f for f in near if low < f < high)})
    return [(f, complex(fit.curve.impedance_ohm(f))) for f in places]


def _stacked(parts: list[Drawing], words: str) -> Drawing:
    """Return drawings below each other as one."""
    first = parts[0]
    top, level = first.low + first.height, first.low
    whole = Drawing(first.width, first.height, "Impedance of the speaker over frequency", words, low=first.low)
    whole.add(*first.shapes)
    for part in parts[1:]:
        by = level - BETWEEN - (part.low + part.height)
        whole.add(*(_moved(shape, by) for shape in part.shapes))
        level = part.low + by
    whole.low, whole.height = level, top - level
    return whole


def _moved(shape: Shape, by: float) -> Shape:
    """Return a shape moved upwards."""
    if isinstance(shape, Lines):
        return replace(shape, runs=tuple(tuple((x, y + by) for x, y in run) for run in shape.runs))
    if isinstance(shape, (Box, Circle, Label)):
        return replace(shape, y=shape.y + by)
    raise TypeError(shape)  # pragma: no cover  there are no others


def _in_words(fit: SweepFit) -> str:
    f_hz, z_ohm = fit.sweep.frequency_hz, fit.sweep.impedance_ohm
    said = f"{len(f_hz)} readings from {min(f_hz):.4g} to {max(f_hz):.4g} Hz, up to {max(z_ohm):.4g} ohm."
    if fit.curve is None:
        return f"{said} No curve was fitted."
    return (
        f"{said} The fitted curve peaks at {fit.curve.fs_hz:.4g} Hz above {fit.curve.re_ohm:.3g} ohm; the readings "
        f"scatter about it by {100 * fit.scatter:.2g} %."
    )

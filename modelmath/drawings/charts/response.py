"""What a speaker in its chamber sounds like: level against frequency, and the -3 dB point against volume."""

from __future__ import annotations

from typing import TYPE_CHECKING

from modelmath.drawings.charts.axes import Axes
from modelmath.drawings.charts.frequency import FrequencyAxes
from modelmath.drawings.shapes import Drawing, Pen
from modelmath.drawings.svg import to_svg

if TYPE_CHECKING:
    from collections.abc import Sequence

    from modelmath.quantities.band import Band
    from modelmath.sound.closed_box.box import ClosedBox

HERE, OTHER, BEYOND = Pen(2.0), Pen(1.4, 0.0, (7, 4)), Pen(0.8, 0.45)
MAY_BE = Pen(0.7, 0.6)
POINTS = 160
LEAST_DB, MOST_DB = -24.0, 9.0
LEVEL = "Level, dB; 0 is that well above resonance"
OUTSIDE = "beyond the theory"


def response_figure(
    box: ClosedBox,
    runner_up: ClosedBox | None = None,
    valid_to_hz: float | None = None,
    width: float = 480.0,
) -> Drawing:
    """Draw the level of a sealed chamber against frequency, with the band it may lie in.

    Parameters
    ----------
    box : ClosedBox
        The speaker in this chamber. [-]
    runner_up : ClosedBox or None
        The same in the next largest chamber. [-]
    valid_to_hz : float or None
        Where the theory ends; None to leave it out. [Hz]
    width : float
        Width of the sheet. [drawing unit]

    Returns
    -------
    Drawing
        A chart: this chamber, its band, the runner-up, the -3 dB point, and what lies beyond the theory. [drawing unit]

    References
    ----------
    `ClosedBox.response_db`.
    """
    import numpy as np

    centre = box.fc_hz.best
    low, high = max(20.0, centre / 6), max(centre * 12, (valid_to_hz or 0) * 1.6)
    hz = np.geomspace(low, high, POINTS)
    said = (
        f"In this chamber the level is 3 dB down at {box.f3_hz.best:.0f} Hz, between {box.f3_hz.low:.0f} and "
        f"{box.f3_hz.high:.0f} Hz as far as the speaker is known; Qtc is {box.qtc.best:.2f}."
    )
    axes = FrequencyAxes(
        "Response of the sealed chamber", LEVEL, (low, high), (LEAST_DB, MOST_DB), width, description=said,
    )  # fmt: skip
    least, most = box.response_band_db(hz)
    if not box.f3_hz.exact:
        edges = [(float(f), float(a), float(b)) for f, a, b in zip(hz, least, most, strict=True)]
        axes.band("may be", edges, MAY_BE, 6.0, key="as far as the speaker is known")
    axes.line("level", zip(hz.tolist(), box.response_db(hz).tolist(), strict=True), HERE, key="this chamber")
    if runner_up is not None:
        other = runner_up.response_db(hz).tolist()
        axes.line("runner-up", zip(hz.tolist(), other, strict=True), OTHER, key="the next largest chamber")
    axes.points("cutoff", [(box.f3_hz.best, -3.0103)], key="-3 dB")
    axes.note(box.f3_hz.best, -3.0103, f"{box.f3_hz.best:.0f} Hz")
    if valid_to_hz is not None and valid_to_hz < high:
        edges = [(valid_to_hz, LEAST_DB, LEAST_DB + 2.5), (float(axes.x_ticks[-1]), LEAST_DB, LEAST_DB + 2.5)]
        axes.band(OUTSIDE, edges, BEYOND, 4.0, key="the theory no longer holds here")
        axes.marker(valid_to_hz, f"theory holds to {valid_to_hz:.0f} Hz")
    return axes.drawing()


def response_svg(
    box: ClosedBox, runner_up: ClosedBox | None = None, valid_to_hz: float | None = None, width: float = 480.0
) -> str:
    """Return the chart of `response_figure` as SVG.

    Parameters
    ----------
    box, runner_up, valid_to_hz, width : ClosedBox, ClosedBox or None, float or None, float
        As for `response_figure`. [-]

    Returns
    -------
    str
        The file's text. [-]

    References
    ----------
    `to_svg`.
    """
    return to_svg(response_figure(box, runner_up, valid_to_hz, width), round(width))


def cutoff_figure(
    volumes_mm3: Sequence[float],
    f3_hz: Sequence[float],
    marked: Sequence[tuple[str, float, float]],
    volume_mm3: Band,
    width: float = 480.0,
) -> Drawing:
    """Draw the -3 dB point against the chamber's volume, with the chambers there are marked on it.

    Parameters
    ----------
    volumes_mm3, f3_hz : sequence of float
        The curve. [mm3, Hz]
    marked : sequence of (str, float, float)
        Name, volume and -3 dB point of each chamber to mark, this one first. [mm3, Hz]
    volume_mm3 : Band
        Between what volumes this chamber may lie. [mm3]
    width : float
        Width of the sheet. [drawing unit]

    Returns
    -------
    Drawing
        A chart. [drawing unit]

    References
    ----------
    `volume_curve`.
    """
    points = [(volume / 1000, hz) for volume, hz in zip(volumes_mm3, f3_hz, strict=True)]
    names = "; ".join(f"{name}: {volume / 1000:.2f} cm3, {hz:.0f} Hz" for name, volume, hz in marked)
    levels = [hz for _, hz in points]
    axes = Axes(
        "-3 dB point against the chamber's volume",
        "Net volume, cm3",
        "-3 dB point, Hz",
        (points[0][0], points[-1][0]),
        (0.85 * min(levels), 1.1 * max(levels)),  # a flat curve is to look flat
        width,
        200,
        f"{names}.",
    )
    if not volume_mm3.exact:
        edges = [(each / 1000, axes.y_ticks[0], axes.y_ticks[-1]) for each in (volume_mm3.low, volume_mm3.high)]
        axes.band("volume", edges, MAY_BE, 6.0, key="what this chamber's volume may be")
    axes.line("curve", points, HERE, key="this speaker")
    for number, (name, volume, hz) in enumerate(marked):
        axes.points("chamber", [(volume / 1000, hz)], "cross" if number else "circle")
        axes.note(volume / 1000, hz, name)
    return axes.drawing()


def cutoff_svg(
    volumes_mm3: Sequence[float],
    f3_hz: Sequence[float],
    marked: Sequence[tuple[str, float, float]],
    volume_mm3: Band,
    width: float = 480.0,
) -> str:
    """Return the chart of `cutoff_figure` as SVG.

    Parameters
    ----------
    volumes_mm3, f3_hz, marked, volume_mm3, width : as in `cutoff_figure`
        What is drawn. [mm3, Hz]

    Returns
    -------
    str
        The file's text. [-]

    References
    ----------
    `to_svg`.
    """
    return to_svg(cutoff_figure(volumes_mm3, f3_hz, marked, volume_mm3, width), round(width))

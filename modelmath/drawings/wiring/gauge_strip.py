"""A strip of holes at true size, to match formed lens ends by; the drawing's unit is the millimetre."""

from __future__ import annotations

from typing import TYPE_CHECKING

from modelmath.drawings.shapes import Box, Circle, Drawing, Label, Lines, Pen, text_width

if TYPE_CHECKING:
    from modelmath.job.light.gauge_strip import GaugeStrip

CUT, CENTRE = Pen(0.25), Pen(0.12, 0.25)
TEXT = 2.9  # 8.2 pt
EDGE, HIGH = 4.0, 8.0  # beside the first hole, and height of the strip
BETWEEN = 4.0  # clear between two holes, for their names
CROSS = 1.2  # how far a centre mark reaches beyond its hole


def gauge_strip_template(strip: GaugeStrip) -> Drawing:
    """Draw a strip of holes at true size, the one nearest to the lens marked.

    Parameters
    ----------
    strip : GaugeStrip
        The strip. [mm]

    Returns
    -------
    Drawing
        In mm. [mm]

    References
    ----------
    The drills' own diameters.
    """
    steps = [max(float(each.diameter_mm) + BETWEEN, text_width(each.name, TEXT) + 1.5) for each in strip.holes]
    width = sum(steps) + 2 * EDGE
    low = -(TEXT + 1.5)
    title = f"Gauge strip for lenses of {strip.lens_mm:.2f} mm"
    drawing = Drawing(width, HIGH + 1 - low, title, f"Holes of {', '.join(each.name for each in strip.holes)}", low=low)
    drawing.add(Box("cut", 0.0, 0.0, width, HIGH, CUT))
    x = EDGE
    for hole, step in zip(strip.holes, steps, strict=True):
        middle, radius = x + step / 2, float(hole.diameter_mm) / 2
        reach = radius + CROSS
        drawing.add(
            Circle("drill", middle, HIGH / 2, 2 * radius, CUT),
            Lines("centre", (((middle - reach, HIGH / 2), (middle + reach, HIGH / 2)),
                             ((middle, HIGH / 2 - reach), (middle, HIGH / 2 + reach))), CENTRE),
            Label(middle, low + 0.8, hole.name, TEXT, "middle", bold=hole.place == "at"),
        )  # fmt: skip
        x += step
    return drawing

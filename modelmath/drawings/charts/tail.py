"""The distribution of a gap with its tail of touching, and the chance of touching against the size."""

from __future__ import annotations

from collections.abc import Sequence
from math import log10
from typing import TYPE_CHECKING

from modelmath.drawings.charts.axes import Axes
from modelmath.drawings.shapes import Drawing, Pen
from modelmath.lengths.text import format_length

if TYPE_CHECKING:
    from modelmath.clearance import Stack
    from modelmath.job.room_left.sizes import SizeChance

POINTS = 240
WIDE = 4.5  # standard uncertainties shown to either side
LEAST_POWER = -6.0  # chances below this are drawn at the foot of the chart
TOUCHING = Pen(1.1, 0.0)


def tail_figure(stack: Stack, what: str = "Room left", width: float = 480.0) -> Drawing:
    """Draw how a gap is distributed; what lies below 0, where parts touch, is filled.

    Parameters
    ----------
    stack : Stack
        The gap's terms. [mm]
    what : str
        What the gap is. [-]
    width : float
        Width of the sheet. [drawing unit]

    Returns
    -------
    Drawing
        A chart. [drawing unit]

    References
    ----------
    `Stack.distribution`.
    """
    spread = stack.standard_uncertainty()
    middle = stack.nominal
    chance = stack.interference()
    if not spread:
        axes = Axes(what, f"{what}, mm", "Density", (min(0.0, middle) - 0.5, max(0.0, middle) + 0.5), (0, 1), width)
        axes.marker(middle, "exactly known")
        return axes.drawing()
    distribution = stack.distribution()
    low, high = min(middle - WIDE * spread, -0.6 * spread), middle + WIDE * spread
    xs = [low + (high - low) * step / POINTS for step in range(POINTS + 1)]
    ys = [float(each) for each in distribution.density(xs)]
    seen = f"{100 * chance:.2g} % lies below 0, where it touches"
    described = f"{what} is most likely {format_length(middle, 'mm')}, and {seen}."
    axes = Axes(what, f"{what}, mm", "How likely, per mm", (low, high), (0.0, max(ys)), width, 200, described)
    below = [(x, 0.0, y) for x, y in zip(xs, ys, strict=True) if x <= 0.0]
    if len(below) > 1:
        axes.band("touches", below, TOUCHING, 3.0, key="touches: below 0")
    axes.line("density", list(zip(xs, ys, strict=True)), key="how the room left is distributed")
    axes.marker(0.0, "0: touches")
    axes.marker(middle, f"most likely, {format_length(middle, 'mm')}")
    return axes.drawing()


def chances_figure(sizes: Sequence[SizeChance], wanted: float, width: float = 480.0) -> Drawing:
    """Draw the chance of touching of each size at a mark; each step down is ten times rarer.

    Parameters
    ----------
    sizes : sequence of SizeChance
        The sizes. [mm]
    wanted : float
        The chance that is accepted. [-]
    width : float
        Width of the sheet. [drawing unit]

    Returns
    -------
    Drawing
        A chart. [drawing unit]

    References
    ----------
    `sizes_of`.
    """
    powers = [max(LEAST_POWER, log10(row.chance)) if row.chance > 0 else LEAST_POWER for row in sizes]
    heights = [float(row.height_mm) for row in sizes]
    margin = (max(heights) - min(heights)) * 0.06 or 0.5
    axes = Axes(
        "Chance of touching by size",
        "Height of the bulkhead, mm",
        "Chance of touching",
        (min(heights) - margin, max(heights) + margin),
        (LEAST_POWER, 0.0),
        width,
        210,
        "; ".join(f"{height:.2f} mm: {row.chance:.1e}" for height, row in zip(heights, sizes, strict=True)),
        _one_in,
    )
    left, right = axes.x_ticks[0], axes.x_ticks[-1]
    accepted = max(LEAST_POWER, log10(wanted))
    axes.line("accepted", [(left, accepted), (right, accepted)], Pen(1.2, 0.0, (6, 4)), key="accepted")
    axes.line("chances", sorted(zip(heights, powers, strict=True)), Pen(0.8, 0.45))
    others = [(x, y) for x, y, row in zip(heights, powers, sizes, strict=True) if not row.chosen]
    chosen = [(x, y) for x, y, row in zip(heights, powers, sizes, strict=True) if row.chosen]
    axes.points("sizes", others, "circle", key="a size at a mark")
    axes.points("chosen", chosen, "cross", 12.0, key="the size of the plan")
    return axes.drawing()


def _one_in(power: float) -> str:
    if power >= 0:
        return "certain"
    return f"1 in {10 ** round(-power):,}" if power == round(power) else ""

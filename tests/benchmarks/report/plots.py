"""A run as plots, drawn with the workbook's own charts: ratios to the baselines, and growth with size."""

from __future__ import annotations

from itertools import groupby
from math import ceil, floor, log10

from benchmarks.report.rows import Growth, Run, in_time

from modelmath.drawings.charts.axes import Axes
from modelmath.drawings.charts.key import EDGE, TEXT
from modelmath.drawings.shapes import Pen, text_width
from modelmath.drawings.svg import to_svg

WIDTH, WIDTH_PX = 720.0, 960
WIDE, WIDE_PX, ROW = 1500.0, 1500, 22.0  # the ratios, each with its words at the side
TIME, FITTED, STRAIGHT = Pen(1.8), Pen(1.2), Pen(1.0, 0.4, (4, 4))
ONE = Pen(1.4, 0.0, (6, 4))


class DecadeAxes(Axes):
    """Axes on which each power of ten is as long as the next; what is drawn is given as its logarithm."""

    def __init__(self, *args: object, decades: tuple[int, int], **kwargs: object) -> None:
        super().__init__(*args, **kwargs)  # type: ignore[arg-type]
        self.x_ticks = tuple(float(power) for power in range(decades[0], decades[1] + 1))
        self._x_texts = tuple(_power(tick) for tick in self.x_ticks)
        left, low, right, top = self.frame
        self.frame = left, low, min(right, self.width - text_width(self._x_texts[-1], TEXT) / 2 - EDGE), top


def ratio_plot(run: Run) -> str:
    """Return every ratio as a mark on one axis, quicker than the baseline to the left, its words at the side."""
    rows = sorted(run.beside, key=lambda row: -row.ratio)
    logs = [log10(row.ratio) for row in rows]
    words = [f"{row.job}: {row.result}" for row in rows]
    longest = max(words, key=len)
    decades = floor(min(0.0, *logs)), ceil(max(0.3, *logs))
    axes = DecadeAxes(
        "Each benchmark's time over its baseline's", "time over the baseline's: left of the line it is quicker", "",
        decades, (0, len(rows) + 1), WIDE, ROW * (len(rows) + 1),
        description="; ".join(f"{each}, beside {row.baseline}" for each, row in zip(words, rows, strict=True)),
        y_words=lambda _tick: longest, decades=decades,
    )  # fmt: skip
    axes.y_ticks, axes._y_texts = tuple(float(place) for place in range(len(rows) + 2)), ("", *words, "")
    axes.line("baseline", [(0.0, 0.0), (0.0, len(rows) + 1.0)], ONE, key="the baseline")
    axes.points("ratio", [(each, place + 1.0) for place, each in enumerate(logs)], key="a benchmark")
    return to_svg(axes.drawing(), WIDE_PX)


def growth_plots(run: Run) -> dict[str, str]:
    """Return a plot for each unit that growth was measured in, by file name."""
    ordered = sorted(run.growth, key=lambda row: row.unit)
    return {
        f"growth-{unit}.svg": _growth_plot(unit, list(rows))
        for unit, rows in groupby(ordered, key=lambda row: row.unit)
    }


def _growth_plot(unit: str, rows: list[Growth]) -> str:
    sizes = [log10(size) for row in rows for size in row.sizes]
    times = [log10(taken) for row in rows for taken in row.seconds]
    decades = floor(min(sizes)), ceil(max(sizes))
    axes = DecadeAxes(
        f"Growth with {unit}", f"how many {unit}", "time",
        decades, (floor(min(times)), ceil(max(times))), WIDTH, 360.0,
        description="; ".join(f"{row.job}: {row.result}" for row in rows), y_words=_time, decades=decades,
    )  # fmt: skip
    for number, row in enumerate(sorted(rows, key=lambda row: -row.seconds[-1])):
        points = [(log10(size), log10(taken)) for size, taken in zip(row.sizes, row.seconds, strict=True)]
        mark = ("circle", "cross")[number % 2]
        sign = f"{number + 1}: " if len(rows) > 1 else ""
        axes.points("time", points, mark, 9.0, TIME, key=f"{sign}{row.job}, exponent {row.exponent:.2f}")
        middle = sum(x for x, _ in points) / len(points), sum(y for _, y in points) / len(points)
        ends = points[0][0], points[-1][0]
        for name, exponent, pen in (("fitted", row.exponent, FITTED), ("straight", 1.0, STRAIGHT)):
            words = {"fitted": "fitted", "straight": "straight growth, exponent 1"}[name] if number == 0 else ""
            axes.line(name, [(x, middle[1] + exponent * (x - middle[0])) for x in ends], pen, key=words)
        if len(rows) > 1:
            axes.note(*points[-1], str(number + 1))
    return to_svg(axes.drawing(), WIDTH_PX)


def _power(tick: float) -> str:
    return f"{10**tick:,.0f}" if tick >= 0 else f"{10**tick:g}"


def _time(tick: float) -> str:
    return in_time(10**tick) if tick == int(tick) else ""

"""Circuit symbols as lines and circles of our own drawings, taken from schemdraw's elements."""

from __future__ import annotations

from collections.abc import Iterator
from functools import cache
from math import atan2, cos, hypot, isnan, pi, sin
from typing import Any, Literal

from modelmath.drawings.shapes import Circle, Lines, Pen, Point, Shape

Kind = Literal["resistor", "LED", "bulb", "module", "motor", "capacitor", "speaker"]
NAMES: dict[Kind, str] = {
    "resistor": "ResistorIEC",
    "LED": "LED",
    "bulb": "Lamp2",
    "module": "RBox",
    "motor": "Motor",
    "capacitor": "Capacitor",
    "speaker": "Speaker",
}
WIRE = Pen(1.3)
HEAD, SPREAD = 5.0, 0.45  # length of an arrow's head, and half its angle [rad]
Run = tuple[Point, ...]
Outline = tuple[tuple[Run, ...], tuple[tuple[float, float, float], ...], tuple[Run, ...]]  # runs, circles, arrows


def symbol(kind: Kind, x: float, y: float, long: float, scale: float, *, flipped: bool = False) -> Iterator[Shape]:
    """Yield a symbol with its two leads, from left to right.

    Parameters
    ----------
    kind : str
        One of `NAMES`; of a speaker its two leads lie on its left. [-]
    x, y : float
        Left end of its leads. [drawing unit]
    long : float
        From end to end of its leads. [drawing unit]
    scale : float
        Length of the symbols' own unit. [drawing unit]
    flipped : bool
        Whether it is turned to point to the left, as an LED whose current flows so. [-]

    Yields
    ------
    Shape
        Lines and circles in black. [drawing unit]

    References
    ----------
    IEC 60617 symbols for resistor, diode and lamp, as schemdraw draws them.
    """
    runs, circles, arrows = _outline(kind, round(long / scale, 6))

    def at(point: Point) -> Point:
        across = long / scale - point[0] if flipped else point[0]
        return x + scale * across, y + scale * point[1]

    yield Lines(kind, tuple(tuple(at(point) for point in run) for run in runs), WIRE)
    for cx, cy, radius in circles:
        px, py = at((cx, cy))
        yield Circle(kind, px, py, 2 * scale * radius, WIRE)
    for run in arrows:
        shaft = [at(point) for point in run]
        yield Lines(f"{kind}, light", (tuple(shaft), *_head(shaft[-2], shaft[-1])), WIRE)


def _head(start: Point, end: Point) -> Iterator[Run]:
    """Yield the two strokes of an arrow's head."""
    way = atan2(start[1] - end[1], start[0] - end[0])
    for turned in (way - SPREAD, way + SPREAD):
        yield end, (end[0] + HEAD * cos(turned), end[1] + HEAD * sin(turned))


@cache
def _outline(kind: Kind, long: float) -> Outline:
    """Return what a symbol is made of, its left end at 0, in its own unit."""
    import schemdraw
    from schemdraw import elements

    schemdraw.use("svg")
    drawing = schemdraw.Drawing(show=False)
    drawing.config(unit=long)
    element = getattr(elements, NAMES[kind])().at((0, 0)).right()
    drawing.add(element)
    runs: list[Run] = []
    circles: list[tuple[float, float, float]] = []
    arrows: list[Run] = []
    for segment in element.segments:
        placed = segment.xform(element.transform)
        what = type(placed).__name__
        if what == "SegmentCircle":
            circles.append((placed.center[0], placed.center[1], placed.radius))
        elif what == "SegmentPoly":
            verts = [(float(a), float(b)) for a, b in placed.verts]
            runs.append((*verts, verts[0]))
        elif what == "Segment":
            found = list(_parted(placed.path))
            (arrows if placed.arrow else runs).extend(found)
        elif what in ("SegmentArc", "SegmentText"):
            runs += list(_arc(placed)) if what == "SegmentArc" else []
    return tuple(runs), tuple(circles), tuple(arrows)


def _parted(path: Any) -> Iterator[Run]:
    """Yield the strokes of a path, which is parted where it has no number."""
    run: list[Point] = []
    for x, y in path:
        if isnan(x):
            if len(run) > 1:
                yield tuple(run)
            run = []
        elif not run or hypot(run[-1][0] - x, run[-1][1] - y) > 1e-9:
            run.append((float(x), float(y)))
    if len(run) > 1:
        yield tuple(run)


def _arc(arc: Any, steps: int = 16) -> Iterator[Run]:
    start, end = arc.theta1 * pi / 180, arc.theta2 * pi / 180
    end += 2 * pi if end < start else 0
    turns = [start + (end - start) * step / steps for step in range(steps + 1)]
    yield tuple(
        (float(arc.center[0] + arc.width / 2 * cos(t)), float(arc.center[1] + arc.height / 2 * sin(t))) for t in turns
    )

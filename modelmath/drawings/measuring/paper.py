"""What the pictures of measuring are drawn with: a small sheet, filled shapes with hatching, sizes and words."""

from __future__ import annotations

from collections.abc import Sequence
from math import ceil, cos, floor, hypot, radians, sin
from xml.sax.saxutils import escape, quoteattr

from modelmath.drawings.shapes import Point, plain

WIDTH = 350.0  # of a sheet; a unit is a CSS px where there is room, and 0.93 px on a phone
TEXT, LINE = 13.0, 16.0  # text height and line distance: still 12 px on a phone
INK, GREY, PALE = "#1d1d1b", "#8b8a85", "#e6e4df"
THICK, PLAIN, THIN = 2.2, 1.5, 0.9
HEAD, NARROW = 7.0, 26.0  # length of an arrow's head; below this its arrows stand outside
DASHES, CENTRE = "5 4", "10 3 2 3"


def arc(x: float, y: float, across: float, up: float, start: float, end: float) -> list[Point]:
    """Return points along part of an ellipse.

    Parameters
    ----------
    x, y : float
        Its middle. [drawing unit]
    across, up : float
        Its half axes. [drawing unit]
    start, end : float
        From where to where, from the right over the top. [degrees]

    Returns
    -------
    list of Point
        From start to end. [drawing unit]

    References
    ----------
    Elementary geometry.

    Examples
    --------
    >>> [(round(px), round(py)) for px, py in (arc(0, 0, 2, 1, 0, 180)[0], arc(0, 0, 2, 1, 0, 180)[-1])]
    [(2, 0), (-2, 0)]
    """
    steps = max(4, ceil(abs(end - start) / 6))
    turns = [radians(start + (end - start) * step / steps) for step in range(steps + 1)]
    return [(x + across * cos(turn), y - up * sin(turn)) for turn in turns]


def box(x: float, y: float, width: float, height: float) -> list[Point]:
    """Return the corners of a rectangle by its upper left corner and its size. [drawing unit]"""
    return [(x, y), (x + width, y), (x + width, y + height), (x, y + height)]


def hatching(points: Sequence[Point], step: float, falling: bool = False) -> list[tuple[Point, Point]]:
    """Return lines at 45 degrees that fill a polygon; where it is hollow they stop.

    Parameters
    ----------
    points : sequence of Point
        Its corners in turn, y downwards. [drawing unit]
    step : float
        Distance of the lines along x. [drawing unit]
    falling : bool
        Whether they fall to the right; else they rise. [-]

    Returns
    -------
    list of pairs of Point
        Each line by its two ends. [drawing unit]

    References
    ----------
    Elementary geometry, with the even-odd rule.

    Examples
    --------
    >>> hatching([(0, 0), (2, 0), (2, 2), (0, 2)], 2)
    [((0.0, 2.0), (2.0, 0.0))]
    """
    way = -1 if falling else 1
    levels = [x + way * y for x, y in points]
    lines = []
    for number in range(ceil(min(levels) / step), floor(max(levels) / step) + 1):
        level = number * step
        meets = sorted(_meets(points, levels, level))
        for left, right in zip(meets[::2], meets[1::2], strict=False):
            if right - left > step / 100:
                lines.append(((left, way * (level - left)), (right, way * (level - right))))
    return lines


def _meets(points: Sequence[Point], levels: Sequence[float], level: float) -> list[float]:
    """Return where the line at a level crosses a polygon's sides. [drawing unit]"""
    found = []
    for at, (x, _) in enumerate(points):
        one, two = levels[at - 1], levels[at]
        if (one < level) != (two < level):
            before = points[at - 1][0]
            found.append(before + (x - before) * (level - one) / (two - one))
    return found


class Paper:
    """One picture: shapes on a white sheet, y downwards, and what it says in words.

    Parameters
    ----------
    height : float
        Height of the sheet. [drawing unit]
    says : str
        The same in words, for those who hear it. [-]
    width : float
        Width of the sheet. [drawing unit]
    """

    def __init__(self, height: float, says: str, width: float = WIDTH) -> None:
        self.height, self.says, self.width = height, says, width
        self._under: list[str] = []
        self._over: list[str] = []  # words lie over all lines

    @property
    def svg(self) -> str:
        """The picture as one ``svg`` element, without ids, so that several can stand on one page."""
        return (
            f'<svg xmlns="http://www.w3.org/2000/svg" role="img" aria-label={quoteattr(plain(self.says))} '
            f'viewBox="0 0 {_n(self.width)} {_n(self.height)}" font-family="DejaVu Sans, Verdana, sans-serif" '
            f'preserveAspectRatio="xMinYMin" style="background:#fff" font-size="{_n(TEXT)}" fill="none" '
            f'stroke-linejoin="round">{"".join(self._under)}{"".join(self._over)}</svg>'
        )

    # Shapes.

    def area(
        self,
        points: Sequence[Point],
        fill: str = "#fff",
        hatch: float = 0,
        pen: float = PLAIN,
        falling: bool = False,
        dashes: str = "",
        name: str = "",
    ) -> None:
        """Draw a closed shape.

        Parameters
        ----------
        points : sequence of Point
            Its corners in turn. [drawing unit]
        fill : str
            A colour, or none. [-]
        hatch, pen : float
            Distance of its hatching, and width of its outline; 0 for none. [drawing unit]
        falling : bool
            Whether its hatching falls to the right; else it rises. [-]
        dashes : str
            Dashes and gaps of its outline. [drawing unit]
        name : str
            What it is. [-]
        """
        called = f' class="{name}"' if name else ""
        self._under.append(f'<path{called} d="{_way(points)}Z" fill="{fill}"/>')
        if hatch:
            d = "".join(_way(line) for line in hatching(points, hatch, falling))
            self._under.append(f'<path d="{d}" stroke="{GREY}" stroke-width="0.8"/>')
        if pen:
            self._under.append(f'<path d="{_way(points)}Z" {_pen(pen, INK, dashes)}/>')

    def line(self, *points: Point, pen: float = PLAIN, ink: str = INK, dashes: str = "") -> None:
        """Draw a line through points. [drawing unit]"""
        self._under.append(f'<path d="{_way(points)}" {_pen(pen, ink, dashes)}/>')

    def circle(self, x: float, y: float, radius: float, fill: str = "#fff", pen: float = PLAIN) -> None:
        """Draw a circle. [drawing unit]"""
        place = f'cx="{_n(x)}" cy="{_n(y)}" r="{_n(radius)}"'
        self._under.append(f'<circle {place} fill="{fill}" {_pen(pen, INK, "")}/>')

    # Words: the label of a field is bold, all else is plain.

    def field(self, x: float, y: float, *lines: str, anchor: str = "start") -> None:
        """Write the label of a field, in one or several lines, its first base line at y. [drawing unit]"""
        self._write(x, y, lines, anchor, ' class="field" font-weight="bold"')

    def note(self, x: float, y: float, *lines: str, anchor: str = "start", halo: bool = True) -> None:
        """Write other words, in one or several lines, their first base line at y. [drawing unit]"""
        self._write(x, y, lines, anchor, "", halo)

    def figure(self, x: float, y: float, text: str, anchor: str = "middle") -> None:
        """Write a number on a rule. [drawing unit]"""
        self._write(x, y, (text,), anchor, ' font-size="11"', halo=False)

    def _write(self, x: float, y: float, lines: Sequence[str], anchor: str, more: str, halo: bool = True) -> None:
        edge = ' stroke="#fff" stroke-width="4" paint-order="stroke"' if halo else ""
        spans = "".join(
            f'<tspan x="{_n(x)}" y="{_n(y + LINE * at)}">{escape(line)}</tspan>' for at, line in enumerate(lines)
        )
        self._over.append(f'<text text-anchor="{anchor}" fill="{INK}"{more}{edge}>{spans}</text>')

    # Sizes.

    def size(self, one: Point, two: Point, reach: Sequence[float] = ()) -> None:
        """Draw a dimension line with a head at either end.

        Parameters
        ----------
        one, two : Point
            Its ends. [drawing unit]
        reach : sequence of float
            From where its extension lines come, at either end: a y below a level line, an x beside an upright one; one
            number for both, none to leave them out. [drawing unit]
        """
        long = hypot(two[0] - one[0], two[1] - one[1])
        way = ((two[0] - one[0]) / long, (two[1] - one[1]) / long)
        for (x, y), start in zip((one, two), reach if len(reach) > 1 else [*reach] * 2, strict=False):
            level = abs(way[0]) > abs(way[1])
            far = 4 if (y if level else x) > start else -4
            self.line(*(((x, start), (x, y + far)) if level else ((start, y), (x + far, y))), pen=0.7, ink="#55554f")
        outside = long < NARROW
        tail = 16 if outside else 0
        ends = [(one[0] - way[0] * tail, one[1] - way[1] * tail), (two[0] + way[0] * tail, two[1] + way[1] * tail)]
        self.line(*ends, pen=THIN)
        sign = 1 if outside else -1
        self._head(one, (sign * way[0], sign * way[1]))
        self._head(two, (-sign * way[0], -sign * way[1]))

    def _head(self, tip: Point, way: Point) -> None:
        """Draw an arrow's head that points along a way of length 1. [drawing unit]"""
        back = (tip[0] - HEAD * way[0], tip[1] - HEAD * way[1])
        side = (-way[1] * 2.8, way[0] * 2.8)
        corners = (tip, (back[0] + side[0], back[1] + side[1]), (back[0] - side[0], back[1] - side[1]))
        self._under.append(f'<path d="{_way(corners)}Z" fill="{INK}"/>')

    def arrow(self, *points: Point) -> None:
        """Draw a line with a head at its last point: from words to what they speak of. [drawing unit]"""
        (x, y), (tip_x, tip_y) = points[-2:]
        long = hypot(tip_x - x, tip_y - y)
        self.line(*points, pen=THIN)
        self._head((tip_x, tip_y), ((tip_x - x) / long, (tip_y - y) / long))

    def touches(self, x: float, y: float, level: bool = True) -> None:
        """Draw the thick stroke that shows where a rule's end stands on a face. [drawing unit]"""
        ends = ((x - 17, y), (x + 17, y)) if level else ((x, y - 17), (x, y + 17))
        self.line(*ends, pen=3.4)


def _n(value: float) -> str:
    return f"{round(value, 2):g}"


def _way(points: Sequence[Point]) -> str:
    return "M" + "L".join(f"{_n(x)} {_n(y)}" for x, y in points)


def _pen(width: float, ink: str, dashes: str) -> str:
    dashed = f' stroke-dasharray="{dashes}"' if dashes else ""
    return f'stroke="{ink}" stroke-width="{_n(width)}"{dashed}'

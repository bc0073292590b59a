"""A truck seen from above: at rest, at full swing to either side, and the room that this takes."""

from __future__ import annotations

from math import degrees
from typing import TYPE_CHECKING

from modelmath.drawings.shapes import Box, Circle, Drawing, Label, Lines, Pen, Point, text_width, top_of
from modelmath.drawings.sizes import in_mm
from modelmath.drawings.svg import to_svg
from modelmath.enclosure.mechanism import corners
from modelmath.enclosure.mechanism.kinds import nominal

if TYPE_CHECKING:
    from modelmath.enclosure.mechanism import Truck

WIDTH = 480.0  # width of the sheet in drawing units; a unit is a CSS px at this width
TEXT, LINE = 14.0, 19.0  # text height and line distance; still 10 px where the sheet is 350 px wide
BOLD = 1.1 * TEXT  # a bold text is about as wide as a plain one of this height
LEFT, RIGHT = 14.0, 128.0  # room beside the truck: bare, and for the heights of the dimensions
HIGHEST = 250.0  # of the model itself
SIDES = Pen(3.2)  # the shell's side walls, as thick as in the side elevation
REST, SWING, ROOM = Pen(1.6), Pen(0.9, 0.45), Pen(1.1, 0.0, (7, 4))
CENTRE, THIN = Pen(0.7, 0.4, (12, 3, 2, 3)), Pen(0.7, 0.2)


def plan_view_svg(truck: Truck, inside_width_mm: float | None = None, width_px: int = 640) -> str:
    """Draw a truck's swing as SVG text, for a page or a widget.

    Parameters
    ----------
    truck : Truck
        The truck. [mm]
    inside_width_mm : float or None
        Inside width of the shell there; None to leave its sides out. [mm]
    width_px : int
        Width it has where there is room; it shrinks with the page. [CSS px]

    Returns
    -------
    str
        One ``svg`` element in black and greys, with title and description. [-]

    References
    ----------
    SVG 1.1 (second edition).
    """
    return to_svg(plan_view(truck, inside_width_mm), width_px)


def plan_view(truck: Truck, inside_width_mm: float | None = None) -> Drawing:
    """Draw a truck's swing, free of any file format.

    Parameters
    ----------
    truck : Truck
        The truck. [mm]
    inside_width_mm : float or None
        Inside width of the shell there; None to leave its sides out. [mm]

    Returns
    -------
    Drawing
        The front to the left; along and across have one scale. [drawing unit]

    References
    ----------
    `Truck.envelope`.
    """
    return _Plan(truck, inside_width_mm).drawing


class _Plan:
    """Lays the truck out round its pivot, which lies at 0, 0."""

    def __init__(self, truck: Truck, inside: float | None) -> None:
        self.truck, self.inside = truck, inside
        room, pivot = truck.envelope(), nominal(truck.pivot_mm)
        self.front, self.rear = pivot - nominal(room.start_mm), nominal(room.end_mm) - pivot
        self.half = nominal(room.half_width_mm)
        widest = max(self.half, (inside or 0) / 2)
        self.unit = min((WIDTH - LEFT - RIGHT) / (self.front + self.rear), HIGHEST / (2 * widest))
        self.left = LEFT + (WIDTH - LEFT - RIGHT - self.unit * (self.front + self.rear)) / 2
        self.edge = widest * self.unit  # from the centre line to the outermost line
        self.right = self.x(self.rear)
        title = f"The {truck.name} from above, at rest and at full swing"
        self.drawing = Drawing(WIDTH, 0.0, title, self._words())
        for draw in (self._sides, self._truck, self._room, self._along, self._across, self._key):
            draw()
        self.drawing.height = max(top_of(shape) for shape in self.drawing.shapes) + 6 - self.drawing.low

    def x(self, mm: float) -> float:
        return self.left + (self.front + mm) * self.unit

    def _words(self) -> str:
        swing = degrees(nominal(self.truck.yaw_rad))
        reach = f"{in_mm(self.front)} ahead of its pivot, {in_mm(self.rear)} behind it"
        words = [
            f"It turns by {swing:.1f} degrees to either side.",
            f"With its running clearance it takes {reach} and {in_mm(self.half)} to either side.",
        ]
        if self.inside is not None:
            words.append(f"The shell is {in_mm(self.inside)} wide inside: {' '.join(self._spare(self.inside))}.")
        return " ".join(words)

    def _spare(self, inside: float) -> tuple[str, str]:
        """Return what lies between the room it takes and the shell's side, and the words for it."""
        gap = inside / 2 - self.half
        return (in_mm(gap), "to spare") if gap >= 0 else (in_mm(-gap), "too little")

    def _sides(self) -> None:
        left, right = self.x(-self.front) - 8, self.right + 8
        if self.inside is not None:
            # The line lies outside the space it bounds.
            level = self.inside / 2 * self.unit + SIDES.width / 2
            runs = tuple(((left, way * level), (right, way * level)) for way in (1, -1))
            self.drawing.add(Lines("side", runs, SIDES))
        self.drawing.add(Lines("centre line", (((left, 0.0), (right, 0.0)),), CENTRE))

    def _truck(self) -> None:
        yaw, shift = nominal(self.truck.yaw_rad), nominal(self.truck.side_play_mm)
        for angle, pen in ((yaw, SWING), (-yaw, SWING), (0.0, REST)):
            # At full swing to one side it has slid to either side: draw the one where it reaches further out.
            for side in (shift, -shift) if angle else (0.0,):
                points = [(self.x(x), y * self.unit) for x, y in corners(self.truck.plan, angle, side)]
                name = "swing" if angle else "truck"
                self.drawing.add(Lines(name, ((*points, points[0]),), pen))
        self.drawing.add(Circle("pivot", self.x(0.0), 0.0, 10.0, Pen(1.4)))
        self.drawing.add(Lines("pivot", (((self.x(0.0), -9.0), (self.x(0.0), 9.0)),), Pen(1.0)))

    def _room(self) -> None:
        x, y = self.x(-self.front), -self.half * self.unit
        width = (self.front + self.rear) * self.unit
        self.drawing.add(Box("room", x, y, width, -2 * y, ROOM))

    def _along(self) -> None:
        """Dimension the reach ahead of and behind the pivot, above the truck."""
        level = max(self.edge, 12.0) + 22
        places = (self.x(-self.front), self.x(0.0), self.right)
        self._line(tuple((place, level) for place in places))
        self.drawing.add(Lines("extension", (((places[1], 9.0), (places[1], level + 3)),), CENTRE))
        # Each size over its own stretch; where that is short, pushed away from the other.
        ahead, behind = in_mm(self.front), in_mm(self.rear)
        wide, pivot = text_width(ahead, BOLD), places[1]
        left = max(0.0, min((places[0] + pivot - wide) / 2, pivot - 4 - wide))
        right = max((pivot + places[2] - text_width(behind, BOLD)) / 2, pivot + 4, left + wide + 8)
        for at, words in ((left, ahead), (right, behind)):
            self.drawing.add(Label(at, level + 7, words, TEXT, bold=True, halo=True))
        way = "front end this way"
        self.drawing.add(Label(0.0, level + 7 + LINE, way, TEXT))
        at = max(pivot - text_width("pivot", TEXT) / 2, text_width(way, TEXT) + 10)
        self.drawing.add(Label(at, level + 7 + LINE, "pivot", TEXT, halo=True))

    def _across(self) -> None:
        """Dimension the reach to one side, and what is left to the shell's wall, beside the truck."""
        x, side = self.right + 16, self.half * self.unit
        self._line(((x, 0.0), (x, side)))
        self._says(x + 8, max(side / 2, 16.0), in_mm(self.half), "to its side")
        if self.inside is None:
            return
        wall = self.inside / 2 * self.unit
        self._line(((x, -side), (x, -wall)))
        self._says(x + 8, min(-(side + wall) / 2, -16.0), *self._spare(self.inside))

    def _says(self, x: float, middle: float, size: str, words: str) -> None:
        self.drawing.add(Label(x, middle + 2, size, TEXT, bold=True, halo=True))
        self.drawing.add(Label(x, middle - LINE + 4, words, TEXT, halo=True))

    def _line(self, points: tuple[Point, ...]) -> None:
        ticks = tuple(((x - 3, y - 3), (x + 3, y + 3)) for x, y in points)
        self.drawing.add(Lines("dimension", (points,), THIN), Lines("tick", ticks, THIN))

    def _key(self) -> None:
        degree = degrees(nominal(self.truck.yaw_rad))
        slides = ", with its play" if nominal(self.truck.side_play_mm) > 0 else ""
        rows = [
            (REST, "the truck at rest"),
            (SWING, f"at full swing, {degree:.2f}° to either side{slides}"),
            (ROOM, "the room it takes, running clearance included"),
        ]
        if self.inside is not None:
            rows.append((SIDES, "inside of the shell's sides"))
        level = -max(self.edge, 32.0) - 16
        for pen, words in rows:
            level -= LINE
            self.drawing.add(Lines("key", (((0.0, level + 5), (34.0, level + 5)),), pen))
            self.drawing.add(Label(42.0, level, words, TEXT))
        self.drawing.low = level - 6

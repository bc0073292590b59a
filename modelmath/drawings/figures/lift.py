"""A hinged shell as it comes off, seen from the side: what it carries, the arcs of that, and where it first meets."""

from __future__ import annotations

from collections.abc import Sequence
from math import cos, degrees, radians, sin

from modelmath.drawings.figures.looks import HATCH
from modelmath.drawings.shapes import (
    Circle,
    Drawing,
    Label,
    Lines,
    Pen,
    Point,
    hatch,
    text_width,
    top_of,
    wrap,
)
from modelmath.drawings.svg import to_svg
from modelmath.drawings.template import letter_of
from modelmath.enclosure.mechanism import LiftOff, SideBox

WIDTH = 480.0  # width of the sheet in drawing units; a unit is a CSS px at this width
TEXT, LINE = 14.0, 19.0  # text height and line distance; still 10 px where the sheet is 350 px wide
MARGIN, HIGHEST = 12.0, 300.0
HINGE, RING = Pen(2.2), Pen(1.2)
SHOWN_RAD = radians(20)  # how far the arcs are drawn where nothing meets
PROFILE, REST, OPEN, ARC = Pen(1.6), Pen(1.4), Pen(1.0, 0.2, (5, 3)), Pen(1.2, 0.3, (1.5, 3))


def lift_off_svg(found: LiftOff, parts: Sequence[SideBox], chassis: Sequence[SideBox], width_px: int = 640) -> str:
    """Draw a shell as it comes off as SVG text, for a page or a widget.

    Parameters
    ----------
    found : LiftOff
        What `lift_off` found. [mm]
    parts, chassis : sequence of SideBox
        What it was given. [mm]
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
    return to_svg(lift_off_figure(found, parts, chassis), width_px)


def lift_off_figure(found: LiftOff, parts: Sequence[SideBox], chassis: Sequence[SideBox]) -> Drawing:
    """Draw a shell as it comes off, free of any file format.

    Parameters
    ----------
    found : LiftOff
        What `lift_off` found. [mm]
    parts, chassis : sequence of SideBox
        What it was given. [mm]

    Returns
    -------
    Drawing
        The front to the left; along and up have one scale. [drawing unit]

    References
    ----------
    `lift_off`.
    """
    return _Side(found, parts, chassis).drawing


class _Side:
    """Lays out chassis, parts at rest and opened, their arcs and the first contact."""

    def __init__(self, found: LiftOff, parts: Sequence[SideBox], chassis: Sequence[SideBox]) -> None:
        self.found, self.parts, self.chassis = found, parts, chassis
        self.hinge = (float(found.hinge_mm[0]), float(found.hinge_mm[1]))
        self.angle = min(SHOWN_RAD, found.most_rad) if found.first is None else found.first.angle_rad
        tops = [float(each.top_mm) for each in chassis]
        moved = [self._opened(point, self.angle) for each in parts for point in _corners(each)]
        rest = [point for each in parts for point in _corners(each)]
        along = [x for x, _ in (*moved, *rest, self.hinge)]
        along += [float(x) for each in chassis for x in (each.start_mm, each.end_mm)]
        up = [z for _, z in (*moved, *rest, self.hinge)] + tops
        # The chassis is cut off a little below its lowest step, or below the hinge.
        deep = min([*tops, self.hinge[1], *(z for _, z in rest)])
        self.low, self.start = deep - 0.12 * (max(up) - deep) - 1, min(along)
        self.unit = min((WIDTH - 2 * MARGIN) / (max(along) - self.start), HIGHEST / (max(up) - self.low))
        self.left = (WIDTH - self.unit * (max(along) - self.start)) / 2
        self.keyed: list[str] = []
        self.drawing = Drawing(WIDTH, 0.0, "The shell as it comes off, seen from the side", found.verdict)
        for draw in (self._chassis, self._parts, self._hinge, self._contact, self._key):
            draw()
        self.drawing.height = max(top_of(shape) for shape in self.drawing.shapes) + 8 - self.drawing.low

    def at(self, point: Point) -> Point:
        return self.left + (point[0] - self.start) * self.unit, (point[1] - self.low) * self.unit

    def _opened(self, point: Point, angle: float) -> Point:
        x, z = point[0] - self.hinge[0], point[1] - self.hinge[1]
        turn = angle if self.found.end == "front" else -angle
        return self.hinge[0] + x * cos(turn) - z * sin(turn), self.hinge[1] + x * sin(turn) + z * cos(turn)

    def _chassis(self) -> None:
        for step in self.chassis:
            left, low = self.at((float(step.start_mm), max(float(step.bottom_mm), self.low)))
            right, high = self.at((float(step.end_mm), float(step.top_mm)))
            outline = ((left, low), (left, high), (right, high), (right, low))
            self.drawing.add(Lines("chassis", hatch(left, low, right - left, high - low, 7), HATCH))
            self.drawing.add(Lines("chassis top", (outline,), PROFILE))
            self._name(step.name, (left + right) / 2, max((low + high) / 2 - TEXT * 0.36, low + 3), right - left)

    def _name(self, words: str, x: float, level: float, room: float) -> None:
        """Write a step's name where it has room, else a letter, with the name in the key."""
        if text_width(words, TEXT) <= room - 4:
            self.drawing.add(Label(x, level, words, TEXT, "middle", halo=True))
            return
        self.keyed.append(f"{letter_of(len(self.keyed))}: {words}")
        self.drawing.add(Label(x, level, self.keyed[-1][0], TEXT, "middle", bold=True, halo=True))

    def _parts(self) -> None:
        for part in self.parts:
            rest = [self.at(point) for point in _corners(part)]
            moved = [self.at(self._opened(point, self.angle)) for point in _corners(part)]
            for lower in _corners(part)[:2]:
                steps = [self.at(self._opened(lower, self.angle * n / 24)) for n in range(25)]
                self.drawing.add(Lines("arc", (tuple(steps),), ARC))
            self.drawing.add(Lines("part", ((*rest, rest[0]),), REST))
            self.drawing.add(Lines("part open", ((*moved, moved[0]),), OPEN))
        self._numbers()

    def _numbers(self) -> None:
        """Number the parts above their upper edges, in rows where they stand close together."""
        last = -WIDTH
        row = 0
        named = sorted(enumerate(self.parts, 1), key=lambda each: each[1].start_mm + each[1].end_mm)
        for number, part in named:
            x, z = self.at(((float(part.start_mm) + float(part.end_mm)) / 2, float(part.top_mm)))
            row = row + 1 if x - last < 1.3 * TEXT else 0
            last = x
            self.drawing.add(Label(x, z + 5 + row * LINE, str(number), TEXT, "middle", bold=True, halo=True))

    def _hinge(self) -> None:
        x, z = self.at(self.hinge)
        self.drawing.add(Circle("hinge", x, z, 11.0, HINGE))

    def _contact(self) -> None:
        if self.found.first is None:
            return
        self._cross(self.at(self.found.first.at_mm), 7.0)

    def _key(self) -> None:
        level = -8.0
        lines = [
            (REST, "carried by the shell, at rest"),
            (OPEN, f"with the shell open by {degrees(self.angle):.1f}°"),
            (ARC, "the arcs of its lower corners"),
        ]
        for pen, words in lines:
            level -= LINE
            self.drawing.add(Lines("key", (((0.0, level + 5), (34.0, level + 5)),), pen), Label(42, level, words, TEXT))
        level -= LINE
        self.drawing.add(Circle("key", 17.0, level + 5, 11.0, HINGE), Label(42, level, "hinge", TEXT))
        if self.found.first is not None:
            level -= LINE
            self._cross((17.0, level + 5), 4.0)
            self.drawing.add(Label(42, level, "where they first meet", TEXT))
        names = [f"{number}: {part.name}" for number, part in enumerate(self.parts, 1)]
        for words in (*names, *self.keyed):
            for line in wrap(words, WIDTH, TEXT):
                level -= LINE
                self.drawing.add(Label(0.0, level, line, TEXT))
        self.drawing.low = level - 6

    def _cross(self, at: Point, half: float) -> None:
        (x, z), ring = at, 3.4 * half
        strokes = tuple(((x - half, z + way * half), (x + half, z - way * half)) for way in (1, -1))
        self.drawing.add(Lines("contact", strokes, Pen(half / 2.4)), Circle("contact", x, z, ring, RING))


def _corners(box: SideBox) -> tuple[Point, ...]:
    left, right, low, high = (float(each) for each in (box.start_mm, box.end_mm, box.bottom_mm, box.top_mm))
    return (left, low), (right, low), (right, high), (left, high)

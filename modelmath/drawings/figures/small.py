"""A small side elevation, without words: what a model holds, at a glance, in a row of a table."""

from __future__ import annotations

from typing import TYPE_CHECKING

from modelmath.drawings.figures.looks import in_words
from modelmath.drawings.figures.scene import Piece, Scene, scene_of
from modelmath.drawings.shapes import Box, Drawing, Lines, Pen, Point
from modelmath.drawings.svg import to_svg

if TYPE_CHECKING:
    from modelmath.job import Plan

WIDTH, HEIGHT = 176.0, 64.0  # of the sheet, in drawing units; a unit is a CSS px at this width
EDGE = 4.0
SHELL, TOP, EDGE_LINE = Pen(2.0), Pen(1.0), Pen(0.6, 0.2)
CHASSIS = 0.82  # grey
ROOM = Pen(0.7, 0.3, (2.5, 2))
FILLED = {
    "wall": 0.0, "plate": 0.3, "post": 0.55, "rest": 0.55, "barrier": 0.35, "speaker": 0.9, "flange": 0.75,
    "standing": 0.65, "moving": 0.93, "box": 1.0,
}  # fmt: skip


def small_elevation_svg(plan: Plan, width_px: int = int(WIDTH)) -> str:
    """Draw a small side elevation as SVG text: shell over chassis, what hangs between them, no words.

    Parameters
    ----------
    plan : Plan
        The plan; what it can't give yet is left out. [-]
    width_px : int
        Width it has where there is room; it shrinks with the page. [CSS px]

    Returns
    -------
    str
        One ``svg`` element in black and greys, with the title and description of the large one. [-]

    References
    ----------
    SVG 1.1 (second edition).
    """
    return to_svg(small_elevation(plan), width_px)


def small_elevation(plan: Plan) -> Drawing:
    """Draw a small side elevation, free of any file format.

    Parameters
    ----------
    plan : Plan
        The plan. [-]

    Returns
    -------
    Drawing
        Along and up have one scale; every sheet has one size. [drawing unit]

    References
    ----------
    The plan's own sizes.
    """
    scene = scene_of(plan)
    sheet = Drawing(WIDTH, HEIGHT, f"Small side elevation of {plan.job.name}", in_words(scene))
    _Small(scene, sheet).draw()
    return sheet


class _Small:
    """Lays a scene out on a small sheet."""

    def __init__(self, scene: Scene, sheet: Drawing) -> None:
        self.scene, self.sheet = scene, sheet
        long, high = scene.right - scene.left, scene.highest - scene.lowest
        self.unit = min((WIDTH - 2 * EDGE) / long, (HEIGHT - 2 * EDGE) / high)
        self.left = (WIDTH - long * self.unit) / 2
        self.low = (HEIGHT - high * self.unit) / 2

    def at(self, along_mm: float, up_mm: float) -> Point:
        return (
            self.left + (along_mm - self.scene.left) * self.unit,
            self.low + (up_mm - self.scene.lowest) * self.unit,
        )

    def draw(self) -> None:
        for zone in self.scene.zones:
            x, y = self.at(zone.left, self.scene.lowest)
            right, top = self.at(zone.right, zone.top)
            self.sheet.add(Box("chassis", x, y, right - x, top - y, Pen(0.5, CHASSIS), CHASSIS))
        self.sheet.add(Lines("chassis top", (self._profile("top"),), TOP))
        for piece in self.scene.pieces:
            if piece.kind in FILLED or piece.kind == "room":
                self.sheet.add(self._piece(piece))
        self.sheet.add(Lines("shell", (self._shell(),), SHELL))

    def _profile(self, name: str) -> tuple[Point, ...]:
        return tuple(
            self.at(along, getattr(zone, name)) for zone in self.scene.zones for along in (zone.left, zone.right)
        )

    def _shell(self) -> tuple[Point, ...]:
        """Return the roof with the ends that are closed."""
        roof = self._profile("roof")
        sill = 0.0 if self.scene.seat_known else self.scene.lowest
        front, rear = self.scene.closed
        before = (self.at(self.scene.left, sill),) if front else ()
        behind = (self.at(self.scene.right, sill),) if rear else ()
        return (*before, *roof, *behind)

    def _piece(self, piece: Piece) -> Box:
        x, y = self.at(piece.left, piece.bottom)
        room = piece.kind == "room"
        pen, fill = (ROOM, None) if room else (EDGE_LINE, FILLED[piece.kind])
        return Box(piece.kind, x, y, piece.width * self.unit, piece.height * self.unit, pen, fill)

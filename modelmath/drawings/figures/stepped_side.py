"""A floor with steps from the side: roof, chassis, the pieces of the floor, the speaker."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from modelmath.drawings.figures.looks import HATCH, KINDS, look_of
from modelmath.drawings.figures.scene import scene_of
from modelmath.drawings.shapes import Box, Drawing, Label, Lines, Pen, Shape, hatch, text_width
from modelmath.drawings.svg import to_svg

if TYPE_CHECKING:
    from modelmath.drawings.figures.side import Scene
    from modelmath.enclosure import Part
    from modelmath.job import Plan
    from modelmath.lengths.numbers import Number

WIDTH, TEXT, LINE = 480.0, 14.0, 20.0  # of the sheet, of its text, and from line to line, in drawing units
BELOW = 26.0  # how much of the chassis is drawn below its lowest top
SWATCH = (22.0, 11.0)
ORDER = ("post", "support", "wall", "plate")  # what lies behind first


def stepped_side(plan: Plan, parts: Sequence[Part], seat_mm: Sequence[Number] | None = None) -> Drawing:
    """Draw the pieces of a floor with steps from the side, in true proportion.

    Parameters
    ----------
    plan : Plan
        For its roof, chassis and speaker. [mm]
    parts : sequence of Part
        The pieces, with what they fill. [mm]
    seat_mm : sequence of two, or None
        Front and rear edge of the speaker's flange. [mm]

    Returns
    -------
    Drawing
        Along and up have one scale. [drawing unit]

    References
    ----------
    The plan's own sizes.
    """
    scene = scene_of(plan)
    unit = min(WIDTH / (scene.right - scene.left), 0.5 * WIDTH / (scene.highest - scene.lowest))
    sheet = _Sheet(scene, unit)
    sheet.chassis()
    risers = sum(part.name.startswith("riser") and part.kind == "wall" for part in parts)
    said = f"{risers} step{'' if risers == 1 else 's'} of the floor, with the pieces that close them"
    drawing = Drawing(WIDTH, 0.0, f"A floor with steps in {plan.job.name}, from the side", said, sheet.shapes)
    speaker = plan.bench.speaker
    if seat_mm is not None and speaker is not None:
        supports = [block for part in parts if part.kind == "support" for block in part.blocks]
        low = float(supports[0].bottom_mm) - float(speaker.flange_mm) if supports else scene.lowest
        drawing.add(*look_of(sheet.box("speaker", seat_mm[0], low, seat_mm[1], low + float(speaker.behind_mm))))
    for kind in ORDER:
        for part in parts:
            if part.kind == kind:
                looks = "post" if kind == "support" else kind
                boxes = (sheet.box(looks, b.start_mm, b.bottom_mm, b.end_mm, b.top_mm) for b in part.blocks)
                drawing.add(*(shape for box in dict.fromkeys(boxes) for shape in look_of(box)))
    _roof(sheet, drawing)
    _key(drawing, ["chassis", "wall", "plate", "post"] + (["speaker"] if seat_mm is not None else []))
    drawing.height = (scene.highest - scene.lowest) * unit + 8 - drawing.low
    return drawing


def stepped_side_svg(plan: Plan, parts: Sequence[Part], seat_mm: Sequence[Number] | None = None) -> str:
    """Return `stepped_side` as SVG.

    Parameters
    ----------
    plan : Plan
        For its roof, chassis and speaker. [mm]
    parts : sequence of Part
        The pieces, with what they fill. [mm]
    seat_mm : sequence of two, or None
        Front and rear edge of the speaker's flange. [mm]

    Returns
    -------
    str
        One ``svg`` element. [-]

    References
    ----------
    `to_svg`.
    """
    return to_svg(stepped_side(plan, parts, seat_mm), round(WIDTH))


class _Sheet:
    """Millimetres of the model to places on the sheet."""

    def __init__(self, scene: Scene, unit: float) -> None:
        self.scene, self.unit = scene, unit
        self.shapes: list[Shape] = []

    def x(self, mm: Number) -> float:
        return (float(mm) - self.scene.left) * self.unit

    def y(self, mm: Number) -> float:
        return (float(mm) - self.scene.lowest) * self.unit

    def box(self, kind: str, left: Number, bottom: Number, right: Number, top: Number) -> Box:
        x, y = self.x(left), self.y(bottom)
        return Box(kind, x, y, self.x(right) - x, self.y(top) - y)

    def chassis(self) -> None:
        profile = []
        for zone in self.scene.zones:
            left, right, top = self.x(zone.left), self.x(zone.right), self.y(zone.top)
            self.shapes.append(Lines("chassis", hatch(left, -BELOW, right - left, top + BELOW, 7), HATCH))
            profile += [(left, top), (right, top)]
        self.shapes.append(Lines("chassis top", (tuple(profile),), Pen(1.6)))


def _roof(sheet: _Sheet, drawing: Drawing) -> None:
    ends = [(zone.roof, x) for zone in sheet.scene.zones for x in (zone.left, zone.right)]
    points = tuple((sheet.x(x), sheet.y(roof) + 1.6) for roof, x in ends)
    drawing.add(Lines("shell", (points,), Pen(3.2)))


def _key(drawing: Drawing, kinds: Sequence[str]) -> None:
    words = {"chassis": "chassis", **KINDS, "wall": "walls, risers", "post": "posts, supports", "plate": "floor plates"}
    x, level = 1.0, -BELOW - LINE
    for kind in kinds:
        width = SWATCH[0] + 6 + text_width(words[kind], TEXT) + 12
        if x > 1 and x + width > WIDTH:
            x, level = 1.0, level - LINE
        drawing.add(*look_of(Box(kind, x, level, *SWATCH)), Label(x + SWATCH[0] + 6, level + 1, words[kind], TEXT))
        x += width
    drawing.low = level - 6

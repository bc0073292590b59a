"""A cross-section of the plan's model, looking to the rear, in true proportion and dimensioned."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from modelmath.drawings.figures.looks import HATCH, OUTLINE, STRIPES
from modelmath.drawings.figures.solid.bodies import (
    CHASSIS_WIDTH,
    Model,
    Solid,
    Stretch,
    filler_gap,
    model_of,
    shift_of,
)
from modelmath.drawings.figures.solid.key import LINE, TEXT, WIDTH, add_key, kinds_of, look, swatch
from modelmath.drawings.figures.solid.outlines import bounds, within
from modelmath.drawings.figures.views.dimensions import apart, crossing, extension, line, said
from modelmath.drawings.shapes import Box, Drawing, Label, Lines, Pen, Shape, hatch, top_of
from modelmath.drawings.sizes import in_mm
from modelmath.drawings.svg import to_svg
from modelmath.errors import UnknownChoice

if TYPE_CHECKING:
    from modelmath.job import Plan

SIDE = 126.0  # room for the sizes at either side
HIGHEST = 300.0  # of the model itself
SHELL, CUT, HIDDEN = Pen(3.2), Pen(1.8), Pen(1.0, 0.0, (5, 3))
HOLLOW = ("room", "path", "side", "box", "moving")
CENTRE, FLOOR = Pen(0.7, 0.4, (12, 3, 2, 3)), Pen(1.0, 0.2, (9, 3))
ORDER = (
    "path", "room", "moving", "standing", "plate", "filler", "terminals", "flange", "side", "box", "rest", "barrier",
    "post", "wall",
)  # the last drawn lies on top  # fmt: skip
CROSSED = 6.0  # distance of the two sets of lines on a wall seen from its face


@dataclass(frozen=True)
class _Cut:
    """Where the section lies, what it is called, and its zone. [mm]"""

    at: float
    words: str
    stretch: Stretch


def end_view_svg(plan: Plan, at: str = "bulkhead", width_px: int = 480) -> str:
    """Draw a cross-section looking to the rear as SVG text, for a page or a widget.

    Parameters
    ----------
    plan : Plan
        The plan; what it can't give yet is left out, and said. [-]
    at : str
        ``bulkhead``, ``speaker``, or a zone's name. [-]
    width_px : int
        Width it has where there is room; it shrinks with the page. [CSS px]

    Returns
    -------
    str
        One ``svg`` element in black and greys, with title and description. [-]

    Raises
    ------
    UnknownChoice
        If it is none of these.

    References
    ----------
    SVG 1.1 (second edition).
    """
    return to_svg(end_view(plan, at), width_px)


def end_view(plan: Plan, at: str = "bulkhead") -> Drawing:
    """Draw a cross-section looking to the rear, free of any file format.

    Parameters
    ----------
    plan : Plan
        The plan. [-]
    at : str
        ``bulkhead``, ``speaker``, or a zone's name. [-]

    Returns
    -------
    Drawing
        Across and up have one scale. [drawing unit]

    Raises
    ------
    UnknownChoice
        If it is none of these.

    References
    ----------
    The plan's own sizes.
    """
    model = model_of(plan)
    return _Section(plan, model, _cut(model, at)).drawing


def end_view_and_texts(plan: Plan, at: str = "bulkhead") -> tuple[Drawing, tuple[str, ...]]:
    """Draw a cross-section without the texts below its key, and give these apart: a page sets them beside it.

    Parameters
    ----------
    plan : Plan
        The plan. [-]
    at : str
        ``bulkhead``, ``speaker``, or a zone's name. [-]

    Returns
    -------
    tuple of (Drawing, texts)
        The section with its key, and the texts. [drawing unit]

    Raises
    ------
    UnknownChoice
        If it is none of these.

    References
    ----------
    `end_view`.
    """
    model = model_of(plan)
    section = _Section(plan, model, _cut(model, at), texts_below=False)
    return section.drawing, section.texts


def _cut(model: Model, at: str) -> _Cut:
    """Return where to cut: in the middle of a wall's thickness, of the speaker's front supports, or of a zone."""
    names = {stretch.name: stretch for stretch in model.stretches}
    if at in names:
        stretch = names[at]
        return _Cut((stretch.start + stretch.end) / 2, f"in the middle of {at}", stretch)
    if at not in ("bulkhead", "speaker"):
        raise UnknownChoice("at", at, ("bulkhead", "speaker", *names))
    found = [s for s in model.of("wall") if s.words == at] if at == "bulkhead" else model.of("flange")
    if not found:
        words = "has no bulkhead" if at == "bulkhead" else "has no speaker in its place yet"
        model.notes.insert(0, f"The plan {words}; the section is taken through the first zone.")
        stretch = model.stretches[0]
        return _Cut((stretch.start + stretch.end) / 2, f"in the middle of {stretch.name}", stretch)
    place = (found[0].start + found[0].end) / 2
    if at == "speaker":
        feet = [s for s in model.of("post") if s.words == "speaker support"]
        place = (feet[0].start + feet[0].end) / 2 if feet else place
    return _Cut(place, f"at the {at}", model.over(place, place + 1e-9)[0])


class _Section:
    """Lays the section out with the centre line in the middle of the sheet, heights from the seat."""

    def __init__(self, plan: Plan, model: Model, cut: _Cut, texts_below: bool = True) -> None:
        self.plan, self.model, self.cut, self.texts_below = plan, model, cut, texts_below
        self.inside = cut.stretch
        half = max(across for across, _ in self.inside.outline)
        roof = self.inside.roof
        self.unit = min((WIDTH - 2 * SIDE) / (2 * half), HIGHEST / (roof - model.base))
        self.half = half * self.unit
        self.aside = shift_of(plan)
        there = [s for s in (*model.solids, *model.path) if s.kind != "shell"]
        self.solids = [s for s in there if s.start <= cut.at <= s.end]
        self.said: list[str] = []
        self.told: list[str] = [f"Cut {cut.words}, looking to the rear."]
        self.drawing = Drawing(WIDTH, 0.0, f"Cross-section of {model.name} {cut.words}")
        for draw in (self._chassis, self._beyond, self._parts, self._shell, self._left, self._right, self._key):
            draw()

    def x(self, across: float) -> float:
        return WIDTH / 2 + across * self.unit

    def y(self, height: float) -> float:
        return (height - self.model.base) * self.unit

    def _box(self, solid: Solid) -> Box:
        _, (left, right), (low, high) = solid.box
        return Box(solid.kind, self.x(left), self.y(low), (right - left) * self.unit, (high - low) * self.unit)

    def _outline(self, solid: Solid, name: str, pen: Pen) -> Lines:
        around = tuple((self.x(across), self.y(up)) for across, up in (*solid.outline, solid.outline[0]))
        return Lines(name, (around,), pen)

    def _chassis(self) -> None:
        box = next(self._box(solid) for solid in self.solids if solid.kind == "chassis")
        self.drawing.add(Lines("chassis", hatch(box.x, box.y, box.width, box.height, 7), HATCH))
        top = box.y + box.height
        self.drawing.add(Lines("chassis top", (((box.x, top), (box.x + box.width, top)),), Pen(1.6)))

    def _beyond(self) -> None:
        """Draw the speaker where it stands behind the supports that are cut."""
        if any(solid.kind == "flange" for solid in self.solids):
            for solid in self.model.of("speaker"):
                self.drawing.add(*swatch("speaker", self._box(solid)))

    def _parts(self) -> None:
        for kind in ORDER:
            for solid in self.solids:
                if solid.kind == kind:
                    self.drawing.add(*self._look(solid))
        speaker = self.plan.bench.speaker
        upright = speaker is not None and speaker.faces in ("front", "rear")
        if upright and any(solid.kind == "flange" for solid in self.solids):  # its back stands behind what is cut
            self.drawing.add(*(self._outline(solid, "back behind", HIDDEN) for solid in self.model.of("speaker")))
            self.told.append("Dashed on the flange: the speaker's back.")
        for wall in (solid for solid in self.solids if solid.kind == "wall"):
            for post in self.model.of("post"):
                if (
                    post.words != "speaker support"
                    and min(abs(post.start - wall.end), abs(post.end - wall.start)) < 1e-6
                ):
                    self.drawing.add(self._outline(post, "post behind", HIDDEN))

    def _look(self, solid: Solid) -> list[Shape]:
        if solid.kind == "post" and len(solid.outline) != 4:
            return self._under_roof(solid)
        if solid.kind == "wall" or not self._is_box(solid):
            return self._crossed(solid)
        return swatch(solid.kind, self._box(solid))

    def _is_box(self, solid: Solid) -> bool:
        return len(solid.outline) == 4 and all(a[0] == b[0] or a[1] == b[1] for a, b, _ in solid.sides)

    def _crossed(self, solid: Solid) -> list[Shape]:
        """Return a wall's face, or what the shell's section cuts aslant: crossed where it is solid."""
        outline = [(self.x(across), self.y(up)) for across, up in solid.outline]
        pen = CUT if solid.kind == "wall" else look(solid.kind).edge
        edges = tuple(
            ((self.x(start[0]), self.y(start[1])), (self.x(end[0]), self.y(end[1])))
            for start, end, own in solid.sides
            if own
        )
        shapes: list[Shape] = [Lines(f"{solid.kind} edge", edges, pen)]
        if solid.kind not in HOLLOW:
            lines = [*crossing(outline, True, CROSSED), *crossing(outline, False, CROSSED)]
            shapes.insert(0, Lines(solid.kind, tuple(lines), HATCH))
        return shapes

    def _under_roof(self, solid: Solid) -> list[Shape]:
        """Return a post whose head follows the roof, with the stripes of a post."""
        _, (left, right), (low, high) = solid.box
        count = max(1, round((right - left) * self.unit / 3.5))
        stripes = []
        for number in range(count):
            at = left + (right - left) * (number + 0.5) / count
            slice_ = within(solid.outline, low, high, at - 1e-6, at + 1e-6)
            stripes.append(tuple((self.x(at), self.y(up)) for up in bounds(slice_)[1]))
        return [Lines("post", tuple(stripes), STRIPES), self._outline(solid, "post edge", OUTLINE)]

    def _shell(self) -> None:
        lift = SHELL.width / 2  # the line lies outside the space it bounds
        right = [(a, up) for a, up in self.inside.outline if a >= 0]
        side = [(self.x(a) + lift, self.y(up) + (lift if up == self.inside.roof else 0)) for a, up in right]
        mirrored = [(WIDTH - x, y) for x, y in reversed(side)]
        self.drawing.add(Lines("shell", ((*side, *mirrored),), SHELL))
        middle = WIDTH / 2
        self.drawing.add(Lines("centre line", (((middle, -6.0), (middle, self.y(self.inside.roof) + 12)),), CENTRE))
        if self.model.scene.seat_known:
            y = self.y(0.0)
            self.drawing.add(Lines("seat", (((middle - self.half - 14, y), (middle + self.half + 14, y)),), Pen(1.2)))
            self.drawing.add(Label(middle - self.half - 18, y - TEXT / 3, "seat", TEXT, "end"))

    def _left(self) -> None:
        """Dimension the wall's height, and the chamber's where its floor is cut, on the left."""
        spans = [("bulkhead", solid) for solid in self.solids if solid.kind == "wall"]
        edge = WIDTH / 2 - self.half
        for name, solid in spans[:1]:
            boxes = [each.box for _, each in spans if each.words == solid.words]
            left, low, high = (min(b[1][0] for b in boxes), min(b[2][0] for b in boxes), max(b[2][1] for b in boxes))
            x = edge - 14
            line(self.drawing, name, (x, self.y(low)), (x, self.y(high)))
            extension(self.drawing, *(((self.x(left), self.y(up)), (x - 3, self.y(up))) for up in (low, high)))
            size = self._wall_height(solid.words, high - low)
            said(self.drawing, 0.0, (self.y(low) + self.y(high)) / 2, in_mm(size), f"{solid.words} high")
            self.said.append(f"{solid.words} high {in_mm(size)}")
        chamber = self.plan.chamber
        if spans or chamber is None or not float(chamber.start_mm) <= self.cut.at <= float(chamber.end_mm):
            return
        floor, roof = float(chamber.floor_mm), self.inside.roof
        x = edge - 14
        line(self.drawing, "chamber", (x, self.y(floor)), (x, self.y(roof)))
        extension(self.drawing, *(((edge, self.y(up)), (x - 3, self.y(up))) for up in (floor, roof)))
        ends = ((edge, self.y(floor)), (WIDTH - edge, self.y(floor)))
        self.drawing.add(Lines("floor", (ends,), FLOOR))
        said(self.drawing, 0.0, (self.y(floor) + self.y(roof)) / 2, in_mm(roof - floor), "roof to floor")
        self.said.append(f"roof to floor {in_mm(roof - floor)}")

    def _wall_height(self, words: str, drawn: float) -> float:
        part = next((part for part in self.plan.parts if part.name == words), None)
        return float(part.cut.cut_mm) if part is not None else drawn

    def _right(self) -> None:
        """Dimension the free depth on the right, the inside width and the gaps beside the speaker above the roof."""
        edge = WIDTH / 2 + self.half
        x = edge + 14
        low, high = self.inside.top, self.inside.roof
        depth = next(each for each in self.plan.depths if each.zone.name == self.inside.name)
        line(self.drawing, "free depth", (x, self.y(low)), (x, self.y(high)))
        extension(self.drawing, *(((edge, self.y(up)), (x + 3, self.y(up))) for up in (low, high)))
        free = in_mm(depth.free.exact_mm)
        levels = apart([(self.y(low) + self.y(high)) / 2], 2 * LINE)
        said(self.drawing, WIDTH, levels[0], free, "free depth", "end")
        self.said.append(f"free depth {free}")
        space = self.plan.space.exact_mm
        if self.cut.words == "at the bulkhead" and space != depth.free.exact_mm:
            governing = self.plan.governing.moving or self.plan.governing.zone.name
            self.told.append(f"What sets the bulkhead's height is the free depth over {governing}: {in_mm(space)}.")
        self._widths()

    def _widths(self) -> None:
        level = self.y(self.inside.roof) + 22
        edge = WIDTH / 2 + self.half
        flange = next((solid for solid in self.solids if solid.kind == "flange"), None)
        speaker = self.plan.bench.speaker
        if flange is not None and speaker is not None:
            half, middle = float(speaker.width_mm) / 2 * self.unit, self.x(self.aside)
            places = (middle - half, middle + half)
            line(self.drawing, "speaker width", (places[0], level), (places[1], level))
            y = self.y(flange.box[2][1])
            extension(self.drawing, *(((place, y), (place, level + 3)) for place in places))
            size = in_mm(speaker.width_mm)
            self.drawing.add(Label(WIDTH / 2, level + 5, f"speaker {size}", TEXT, "middle", bold=True, halo=True))
            self.said.append(f"speaker's width {size}")
            self._gaps(half, level)
            level += 26
        if self.model.width_known:
            line(self.drawing, "inside width", (WIDTH - edge, level), (edge, level))
            roof = self.y(max(up for across, up in self.inside.outline if across * self.unit > self.half - 1e-6))
            extension(self.drawing, *(((place, roof), (place, level + 3)) for place in (WIDTH - edge, edge)))
            size = in_mm(2 * max(across for across, _ in self.inside.outline))
            self.drawing.add(Label(WIDTH / 2, level + 5, f"inside {size}", TEXT, "middle", bold=True, halo=True))
            self.said.append(f"inside width {size}")

    def _gaps(self, half: float, level: float) -> None:
        part = next((part for part in self.plan.parts if part.kind == "filler"), None)
        if part is None:
            return
        gap = filler_gap(part)
        for way in (-1, 1):
            start = self.x(self.aside) + way * half
            line(self.drawing, "gap", (start, level), (start + way * gap * self.unit, level))
        self.drawing.add(Label(WIDTH, level - 2, in_mm(gap), TEXT, "end", bold=True, halo=True))
        self.drawing.add(Label(WIDTH, level + LINE - 4, "gap, each side", TEXT * 0.93, "end", halo=True))
        self.said.append(f"gap on each side of the speaker {in_mm(gap)}")

    def _key(self) -> None:
        shown = {solid.kind for solid in self.solids}
        shown |= {"speaker"} if "flange" in shown else set()
        kinds = [(kind, words) for kind, words in kinds_of(self.model) if kind in shown or kind == "shell"]
        level = -38.0
        if "wall" in shown:
            kinds = [pair for pair in kinds if pair[0] != "wall"]
            self.told.append("Crossed lines: the bulkhead's or closure's face. Dashed on it: the posts behind.")
        if self.model.path:
            wide = in_mm(self.plan.limits.wire_path_mm)
            self.told.append(f"{wide} stay free for wires along the right side, looking to the rear.")
        self.told.append(CHASSIS_WIDTH)
        self.texts = (*self.told, *self.model.notes)
        add_key(self.drawing, kinds, self.texts if self.texts_below else (), level)
        sizes = f"{'; '.join(self.said)}."
        self.drawing.description = " ".join([*self.told, sizes[0].upper() + sizes[1:], *self.model.notes])
        self.drawing.height = max(top_of(shape) for shape in self.drawing.shapes) + 6 - self.drawing.low

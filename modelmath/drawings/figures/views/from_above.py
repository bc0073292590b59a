"""The plan's model from above, in true proportion, dimensioned from the fore-aft mark and across."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from typing import TYPE_CHECKING

from modelmath.drawings.figures.looks import OUTLINE, STRIPES
from modelmath.drawings.figures.solid.bodies import Solid, filler_gap, model_of, shift_of
from modelmath.drawings.figures.solid.key import LINE, TEXT, WIDTH, add_key, kinds_of, only_key, swatch
from modelmath.drawings.figures.solid.names import Name, spread
from modelmath.drawings.figures.views.dimensions import BOLD, extension, line, said
from modelmath.drawings.shapes import Box, Drawing, Label, Lines, Pen, Shape, text_width, top_of
from modelmath.drawings.sizes import in_mm
from modelmath.drawings.svg import to_svg
from modelmath.drawings.template import letter_of

if TYPE_CHECKING:
    from modelmath.job import Plan

LEFT, RIGHT = 20.0, 134.0  # room beside the model: bare, and for the sizes across
HIGHEST = 240.0  # of the model itself
SHELL, ZONE = Pen(3.2), Pen(0.7, 0.45, (2, 3))
CENTRE, MARK_LINE = Pen(0.7, 0.4, (12, 3, 2, 3)), Pen(0.9, 0.1, (12, 3, 2, 3))
ROW = 25.0  # from one dimension along the length to the next
CLEAR = 6.0  # between a text and a line beside it
PARTED = 24.0  # a text goes so far from its line to part one line less
ORDER = (
    "plate", "filler", "flange", "speaker", "terminals", "room", "rest", "barrier", "post", "side", "wall", "box",
    "moving", "standing",
)  # the last drawn lies on top  # fmt: skip
BELOW_IT = Pen(0.9, 0.1, (5, 3))  # what lies below the flange of a speaker that faces up
LEAST_HALF = 46.0  # of the model with its sizes across


def plan_of_model_svg(plan: Plan, width_px: int = 640) -> str:
    """Draw the model from above as SVG text, for a page or a widget.

    Parameters
    ----------
    plan : Plan
        The plan; what it can't give yet is left out, and said. [-]
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
    return to_svg(plan_of_model(plan), width_px)


def plan_of_model(plan: Plan) -> Drawing:
    """Draw the model from above, free of any file format.

    Parameters
    ----------
    plan : Plan
        The plan. [-]

    Returns
    -------
    Drawing
        The front to the left; along and across have one scale. [drawing unit]

    References
    ----------
    The plan's own sizes.
    """
    return _Above(plan).drawing


def plan_of_model_and_texts(plan: Plan) -> tuple[Drawing, tuple[str, ...]]:
    """Draw the model from above without the texts below its key, and give these apart: a page sets them beside it.

    Parameters
    ----------
    plan : Plan
        The plan. [-]

    Returns
    -------
    tuple of (Drawing, texts)
        The view with its key, and the texts. [drawing unit]

    References
    ----------
    `plan_of_model`.
    """
    above = _Above(plan, texts_below=False)
    return above.drawing, above.texts


class _Above:
    """Lays the model out with its centre line at height 0."""

    def __init__(self, plan: Plan, texts_below: bool = True) -> None:
        self.plan, self.model, self.texts_below = plan, model_of(plan), texts_below
        stretches = self.model.stretches
        self.front, self.rear = stretches[0].start, stretches[-1].end
        self.half = max(each.width for each in stretches) / 2
        room = WIDTH - LEFT - RIGHT
        self.unit = min(room / (self.rear - self.front), HIGHEST / (2 * self.half))
        self.left = LEFT + (room - self.unit * (self.rear - self.front)) / 2
        self.edge = self.half * self.unit
        self.keyed: list[str] = []
        self.said: list[str] = []
        self.told: list[str] = []
        self.faces_up = plan.bench.speaker is not None and plan.bench.speaker.faces == "up"
        self.aside = shift_of(plan) * self.unit
        self.drawing = Drawing(WIDTH, 0.0, f"{self.model.name} from above, without its roof")
        for draw in (self._solids, self._shell, self._names):
            draw()
        self.level = -max(self.edge, LEAST_HALF) - 14
        self._along()
        self._across()
        self._key()

    def x(self, mm: float) -> float:
        return self.left + (mm - self.front) * self.unit

    def _box(self, solid: Solid) -> Box:
        (start, end), (low, high), _ = solid.box
        # Across counts to the right as one looks to the rear: down on the sheet.
        return Box(solid.kind, self.x(start), -high * self.unit, (end - start) * self.unit, (high - low) * self.unit)

    def _solids(self) -> None:
        for solid in self.model.path:
            self.drawing.add(*swatch("path", self._box(solid)))
        for kind in ORDER:
            for solid in self.model.of(kind):
                self.drawing.add(*self._look(solid))

    def _look(self, solid: Solid) -> list[Shape]:
        """Return a solid as it is seen from above."""
        box = self._box(solid)
        if solid.kind == "post":  # on end: its cut end is seen
            middle, centre = box.x + box.width / 2, box.y + box.height / 2
            cross = (((box.x, centre), (box.x + box.width, centre)), ((middle, box.y), (middle, box.y + box.height)))
            return [Box("post", box.x, box.y, box.width, box.height, OUTLINE, 1.0), Lines("post", cross, STRIPES)]
        if solid.kind == "moving":  # below all else, and seen through it
            return [replace(each, fill=None) for each in swatch("moving", box) if isinstance(each, Box)]
        if solid.kind in ("speaker", "terminals") and self.faces_up:
            return [replace(box, pen=BELOW_IT)]
        shapes = swatch(solid.kind, box)
        return shapes if solid.edges is None else self._without_seams(solid, shapes)

    def _without_seams(self, solid: Solid, shapes: list[Shape]) -> list[Shape]:
        """Return a cell of a thing that goes on beside it, drawn without a line between the two."""
        found: list[Shape] = []
        (front, rear), (left, right) = solid.ends, solid.beside()
        for shape in shapes:
            if not isinstance(shape, Box) or shape.pen is None:
                found.append(shape)
                continue
            x, y, far, high = shape.x, shape.y, shape.x + shape.width, shape.y + shape.height
            sides = ((front, (x, y), (x, high)), (rear, (far, y), (far, high)),
                     (right, (x, y), (far, y)), (left, (x, high), (far, high)))  # fmt: skip
            runs = tuple((start, end) for shown, start, end in sides if shown)
            same = None if shape.fill is None else Pen(0.6, shape.fill)  # no light line between neighbours
            found += [replace(shape, pen=same), Lines(f"{shape.name} edge", runs, shape.pen)]
        return found

    def _shell(self) -> None:
        lift = SHELL.width / 2  # the line lies outside the space it bounds
        front, rear = self.model.scene.closed
        for way in (1, -1):
            run = [
                (self.x(at), way * (each.width / 2 * self.unit + lift))
                for each in self.model.stretches
                for at in (each.start, each.end)
            ]
            if front:
                run = [(run[0][0] - lift, 0.0), (run[0][0] - lift, run[0][1]), *run]
            if rear:
                run = [*run, (run[-1][0] + lift, run[-1][1]), (run[-1][0] + lift, 0.0)]
            self.drawing.add(Lines("shell", (tuple(run),), SHELL))
        steps = [((self.x(each.start), -each.width / 2 * self.unit), (self.x(each.start), each.width / 2 * self.unit))
                 for each in self.model.stretches[1:]]  # fmt: skip
        self.drawing.add(Lines("zone", tuple(steps), ZONE))
        ends = ((self.x(self.front) - 8, 0.0), (self.x(self.rear) + 8, 0.0))
        self.drawing.add(Lines("centre line", (ends,), CENTRE))

    def _names(self) -> None:
        """Write what is what above the model, with a line to each."""
        found: dict[str, Box] = {}
        for kind in ("wall", "room", "speaker", "moving", "standing"):
            for solid in self.model.of(kind):
                found.setdefault(solid.words, self._box(solid))
        if not self.model.of("speaker"):
            found.update({solid.words: self._box(solid) for solid in self.model.of("flange")})
        names = [Name(words, words, (box.x + box.width / 2, box.y + 0.75 * box.height)) for words, box in found.items()]
        names.sort(key=lambda name: name.at)
        while names and sum(name.width + 10 for name in names) - 10 > WIDTH and len(self.keyed) < len(names):
            place = max(range(len(names)), key=lambda number: names[number].width)
            self.keyed.append(names[place].words)
            names[place] = Name(names[place].words, letter_of(len(self.keyed) - 1), names[place].at)
        level = max(self.edge, LEAST_HALF) + 26
        for name in spread(names, WIDTH):
            x = min(max(name.at[0], name.x + 4), max(name.x + name.width - 4, name.x + 4))
            for pen in (Pen(2.6, 1.0), Pen(0.8, 0.1)):
                self.drawing.add(Lines("leader", ((name.at, (x, level - 4)),), pen))
            self.drawing.add(Box("leader end", name.at[0] - 2, name.at[1] - 2, 4, 4, Pen(1.0, 1.0), 0.0))
            self.drawing.add(Label(name.x, level, name.shown, TEXT, halo=True))

    def _faces(self) -> Iterator[tuple[str, float, float]]:
        """Yield what is dimensioned from the mark: words, the place, and how far across it the line begins. [mm]"""
        half = {solid.words: solid.box[1][1] for solid in self.model.solids}
        for place in self.plan.places if self.plan.chamber is not None else ():
            part = next((part for part in self.plan.parts if part.name == place.what), None)
            if part is not None and part.kind == "wall":
                yield f"{place.what}, {place.face}", float(place.position_mm), half.get(part.name, 0.0)
        chamber, speaker = self.plan.chamber, self.plan.bench.speaker
        if chamber is not None and speaker is not None and chamber.seat_mm is not None:
            upright = {"front": ("face", "back"), "rear": ("back", "face")}
            ends = upright.get(speaker.faces, ("front edge", "rear edge"))
            for words, edge in zip(ends, chamber.seat_mm, strict=True):
                yield f"{speaker.name}, {words}", float(edge), half.get("flange", 0.0)
        if chamber is not None and self.plan.bench.decoder is not None and chamber.decoder_mm is not None:
            name = self.plan.bench.decoder.name
            yield f"{name}, front edge of its room", float(chamber.decoder_mm[0]), half.get(name, 0.0)

    def _along(self) -> None:
        """Dimension each face from the mark, the nearest first, so that no line crosses another's size."""
        mark = self.model.scene.mark
        if mark is None:
            return
        faces = sorted(self._faces(), key=lambda face: (abs(face[1]), face[1]))
        self.said += [f"{words} {in_mm(place)}" for words, place, _ in faces]
        zero, top = self.x(0.0), self.level
        upright = [self.x(place) for _, place, _ in faces]
        levels = [top - ROW * (number + 1) for number in range(len(faces))]
        bottom = min([top, *levels]) - 6
        self.drawing.add(Lines("mark", (((zero, self.edge + 8), (zero, bottom)),), MARK_LINE))
        for at, level, (_, _, half) in zip(upright, levels, faces, strict=True):
            extension(self.drawing, ((at, -half * self.unit), (at, level - 3)))
            line(self.drawing, "along", (zero, level), (at, level))
        for number, (words, place, _) in enumerate(faces):  # after all lines, which they part
            self._row(words, in_mm(place), levels[number], sorted((zero, upright[number])), [zero, *upright[number:]])
        self.level = bottom - LINE
        words = f"0: {mark}"
        wide = text_width(words, TEXT)
        self.drawing.add(Label(max(0.0, min(zero - wide / 2, WIDTH - wide)), self.level, words, TEXT, halo=True))
        self.told.append("Sizes along count from the mark, to the rear.")

    def _row(self, words: str, size: str, level: float, ends: Sequence[float], upright: Sequence[float]) -> None:
        """Write a size and what it is of at its line, where few lines run down; those are parted there."""
        first = text_width(size, BOLD) + 8
        wide = first + text_width(words, TEXT)
        last = max(WIDTH - wide, 0.0)
        wanted = max(0.0, min((ends[0] + ends[1] - wide) / 2, last))
        places = [wanted, *(at + way for at in upright for way in (CLEAR, -CLEAR - wide))]

        def against(x: float) -> float:
            parted = sum(x - CLEAR < each < x + wide + CLEAR - 0.01 for each in upright)
            away = max(x - ends[1], ends[0] - x - wide, 0.0)
            return PARTED * parted + away + abs(x - wanted) / 10

        x = min((at for at in places if 0.0 <= at <= last), key=against)
        self.drawing.add(Box("parted", x - 3, level + 2, wide + 6, TEXT + 2, None, 1.0))
        self.drawing.add(Label(x, level + 5, size, TEXT, bold=True, halo=True))
        self.drawing.add(Label(x + first, level + 5, words, TEXT, halo=True))

    def _across(self) -> None:
        """Dimension behind the model the inside width there, the speaker's width and the gap beside it."""
        if not self.model.width_known:
            return
        last = self.model.stretches[-1]
        near, far, words = self.x(self.rear) + 12, self.x(self.rear) + 24, self.x(self.rear) + 32
        side = last.width / 2 * self.unit
        line(self.drawing, "inside width", (far, -side), (far, side))
        extension(self.drawing, *(((self.x(self.rear), way * side), (far + 3, way * side)) for way in (1, -1)))
        said(self.drawing, words, 34.0, in_mm(last.width), "inside width")
        self.said.append(f"inside width {in_mm(last.width)}")
        others = [each for each in self.model.stretches if each.width != last.width]
        if self.model.path:
            wide = in_mm(self.plan.limits.wire_path_mm)
            self.told.append(f"{wide} stay free for wires along the right side, looking to the rear.")
            self.said.append(f"kept free for wires {wide}")
        self.told += [f"Inside width over {each.name}: {in_mm(each.width)}." for each in others]
        speaker = self.plan.bench.speaker
        if speaker is None or not self.model.of("flange"):
            return
        half = float(speaker.width_mm) / 2 * self.unit
        upper, lower = half - self.aside, -half - self.aside
        line(self.drawing, "speaker width", (near, lower), (near, upper))
        right = max(self._box(solid).x + self._box(solid).width for solid in self.model.of("flange"))
        extension(self.drawing, *(((right, edge), (near + 3, edge)) for edge in (upper, lower)))
        said(self.drawing, words, 0.0, in_mm(speaker.width_mm), "speaker")
        self.said.append(f"speaker's width {in_mm(speaker.width_mm)}")
        for part in self.plan.parts:
            if part.kind == "filler":
                gap = filler_gap(part)
                line(self.drawing, "gap", (near, lower), (near, lower - gap * self.unit))
                said(self.drawing, words, -34.0, in_mm(gap), "gap, each side")
                self.said.append(f"gap on each side of the speaker {in_mm(gap)}")

    def _key(self) -> None:
        names = [f"{letter_of(number)}: {words}" for number, words in enumerate(self.keyed)]
        kinds = only_key(kinds_of(self.model), "chassis")
        self.texts = ("The front end is on the left.", *self.told, *names, *self.model.notes)
        add_key(self.drawing, kinds, self.texts if self.texts_below else (), self.level - 34)
        zones = ", ".join(each.name for each in self.model.stretches)
        sizes = f"From the mark, and across: {'; '.join(self.said)}." if self.said else ""
        parts = [f"Zones from front to rear: {zones}.", sizes, *self.model.notes]
        self.drawing.description = " ".join(part for part in parts if part)
        self.drawing.height = max(top_of(shape) for shape in self.drawing.shapes) + 6 - self.drawing.low

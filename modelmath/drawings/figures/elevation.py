"""The side elevation: shell over chassis in true proportion, with what hangs between them."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from modelmath.drawings.figures.frame import Frame
from modelmath.drawings.figures.looks import DOTS, HATCH, in_words, look_of, strand_of, swatches
from modelmath.drawings.figures.scene import Piece, Scene, Span, ZoneBox, scene_of
from modelmath.drawings.figures.turning import turned_over
from modelmath.drawings.shapes import (
    Anchor,
    Box,
    Drawing,
    Label,
    Lines,
    Pen,
    Point,
    bottom_of,
    dots,
    hatch,
    text_width,
    top_of,
    wrap,
)
from modelmath.drawings.sizes import in_mm
from modelmath.drawings.svg import to_svg
from modelmath.drawings.template import letter_of

if TYPE_CHECKING:
    from modelmath.job import Plan

WIDTH = 480.0  # width of the sheet in drawing units; a unit is a CSS px at this width
TEXT, LINE = 14.0, 18.0  # text height and line distance; still 10 px where the sheet is 350 px wide
KEY_TEXT, KEY_LINE = 13.75, 16.5  # of the key, which is not to outweigh the model
LEFT, RIGHT = 54.0, 102.0  # room beside the model: for the seat's name, and for sizes
BELOW, PARTED = 3.5, 17.2  # of the white on which a text parts a line; as far above its capitals as below it
LETTER = (4.0, 13.0)  # room that a letter takes on a piece: over its own width, and in height
SHELL = Pen(3.2)
THIN, EXTENSION = Pen(0.7, 0.2), Pen(0.5, 0.55, (3, 2))
SEAT_LINE, MARK_LINE = Pen(1.2), Pen(0.9, 0.1, (12, 3, 2, 3))
MOST_KEYED = 12  # names in the key; more would bury the drawing
SWATCH = (22.0, 11.0)
IN_THE_WAY = ("moving", "standing")


def side_elevation_svg(plan: Plan, width_px: int = 640, upside_down: bool = False) -> str:
    """Draw the side elevation as SVG text, for a page or a widget.

    Parameters
    ----------
    plan : Plan
        The plan; what it can't give yet is left out, and said. [-]
    width_px : int
        Width it has where there is room; it shrinks with the page. [CSS px]
    upside_down : bool
        Whether the model lies on its roof. [-]

    Returns
    -------
    str
        One ``svg`` element in black and greys, with title and description. [-]

    References
    ----------
    SVG 1.1 (second edition).
    """
    return to_svg(side_elevation(plan, upside_down=upside_down), width_px)


def side_elevation(plan: Plan, width: float = WIDTH, upside_down: bool = False) -> Drawing:
    """Draw the side elevation, free of any file format.

    Parameters
    ----------
    plan : Plan
        The plan. [-]
    width : float
        Width of the sheet; text keeps its size, so that a wider sheet shows the model larger. [drawing unit]
    upside_down : bool
        Whether the model lies on its roof, the front still to the left. [-]

    Returns
    -------
    Drawing
        Along and up have one scale. [drawing unit]

    References
    ----------
    The plan's own sizes.
    """
    return _sheet_of(plan, width, upside_down).drawing


def _sheet_of(plan: Plan, width: float, upside_down: bool) -> _Sheet:
    scene = scene_of(plan)
    if upside_down:
        scene.asides.insert(0, "The model lies on its roof, its front end still to the left.")
    if scene.seat_known:
        scene.asides.insert(0, f"The datum of all heights is the seat: {plan.job.seat.face}.")
    return _Sheet(scene, width, plan.job.name, upside_down)


def framed_elevation(plan: Plan, width: float = WIDTH) -> tuple[Drawing, Frame, Scene]:
    """Draw the side elevation, and say how what it shows lies on its sheet.

    Parameters
    ----------
    plan : Plan
        The plan. [-]
    width : float
        Width of the sheet. [drawing unit]

    Returns
    -------
    tuple of Drawing, Frame and Scene
        The drawing, its scale and beginning, and what it shows in mm of the model. [drawing unit, mm]

    References
    ----------
    `side_elevation`.
    """
    sheet = _sheet_of(plan, width, False)
    return sheet.drawing, sheet.frame, sheet.scene


class _Sheet:
    """Lays a scene out on a sheet: the model between its dimensions, the key below."""

    def __init__(self, scene: Scene, width: float, name: str, upside_down: bool) -> None:
        self.scene, self.width, self.upside_down = scene, width, upside_down
        self.keyed: list[str] = []
        self.over: list[tuple[str, Point]] = []  # letters of pieces smaller than a letter, and where they lead
        title = f"Side elevation of {name}{', lying on its roof' if upside_down else ''}"
        self.drawing = Drawing(width, 0.0, title, in_words(scene))
        room = width - LEFT - RIGHT
        unit = min(room / (scene.right - scene.left), 0.62 * width / (scene.highest - scene.lowest))
        x0 = LEFT + (room - unit * (scene.right - scene.left)) / 2
        lowest_top = min((zone.top - scene.lowest) * unit for zone in scene.zones)
        self.base = min(-10.0, lowest_top - 30)  # the chassis is cut off here, with room for a name above
        self.frame = Frame(unit, x0, scene.left, scene.lowest, self.base)
        self.unit, self.x, self.y = unit, self.frame.x, self.frame.y
        for draw in (self._chassis, self._band, self._mark, self._spans, self._pieces, self._shell, self._strands,
                     self._zone_names, self._names_above):  # fmt: skip
            draw()
        if upside_down:
            self.drawing.shapes = [turned_over(shape) for shape in self.drawing.shapes]
        self._key()
        self._settle()

    def _rect(self, name: str, box: ZoneBox | Piece, pen: Pen | None = None, fill: float | None = None) -> Box:
        if isinstance(box, Piece):
            left, bottom, width, height = box.left, box.bottom, box.width, box.height
        else:
            left, bottom, width, height = box.left, box.top, box.right - box.left, box.roof - box.top
        return Box(name, self.x(left), self.y(bottom), width * self.unit, height * self.unit, pen, fill)

    def _chassis(self) -> None:
        profile: list[Point] = []
        for zone in self.scene.zones:
            left, right, top = self.x(zone.left), self.x(zone.right), self.y(zone.top)
            self.drawing.add(Lines("chassis", hatch(left, self.base, right - left, top - self.base, 7), HATCH))
            profile += [(left, top), (right, top)]
        self.drawing.add(Lines("chassis top", (tuple(profile),), Pen(1.6)))

    def _band(self) -> None:
        for band in self.scene.band:
            box = self._rect("clearance", band)
            self.drawing.add(Lines("clearance", dots(box.x, box.y, box.width, box.height, 5), DOTS))

    def _shell(self) -> None:
        lift = SHELL.width / 2  # the line lies outside the space it bounds
        profile = [(self.x(x), self.y(zone.roof) + lift) for zone in self.scene.zones for x in (zone.left, zone.right)]
        front, rear = self.scene.closed
        sill = self.y(0.0 if self.scene.seat_known else self.scene.lowest)
        if front:
            profile = [(profile[0][0] - lift, sill), (profile[0][0] - lift, profile[0][1]), *profile]
        if rear:
            profile = [*profile, (profile[-1][0] + lift, profile[-1][1]), (profile[-1][0] + lift, sill)]
        self.drawing.add(Lines("shell", (tuple(profile),), SHELL))
        self._roof_opening(lift)
        if self.scene.seat_known:
            left, right = self.x(self.scene.left) - 12, self.x(self.scene.right) + 12
            self.drawing.add(Lines("seat", (((left, sill), (right, sill)),), SEAT_LINE))
            self.drawing.add(Label(left - 4, sill - TEXT / 3, "seat", TEXT, "end"))

    def _roof_opening(self, lift: float) -> None:
        """Break the roof's line where a speaker that faces up sounds out."""
        if self.scene.roof_opening is None:
            return
        left, right = self.scene.roof_opening
        level = self.y(self.scene.roof_over(left, right)) + lift
        ends = [self.x(left), self.x(right)]
        self.drawing.add(Lines("roof opening", (((ends[0], level), (ends[1], level)),), Pen(SHELL.width + 1, 1.0)))
        self.drawing.add(Lines("roof opening end", tuple(((x, level - 4), (x, level + 4)) for x in ends), Pen(1.2)))

    def _pieces(self) -> None:
        for piece in self.scene.pieces:
            self.drawing.add(*look_of(self._rect(piece.kind, piece)))
        for piece in self.scene.pieces:
            if piece.kind in ("speaker", "room", "moving", "standing"):
                self._name(piece.words, self._free_part(piece))

    def _strands(self) -> None:
        for _name, run in self.scene.strands:
            self.drawing.add(*strand_of(tuple((self.x(along), self.y(up)) for along, up in run)))

    def _names_above(self) -> None:
        """Write the walls' names, and letters of what is smaller than one, above the roof, each led to its thing."""
        from modelmath.drawings.figures.solid.names import Name, spread  # late: the solids load arrays

        above = max(self.y(zone.roof) for zone in self.scene.zones) + 12
        names = [Name(letter, letter, at) for letter, at in self.over]
        for piece in self.scene.pieces:
            if piece.kind == "wall":
                at = (self.x(piece.left + piece.width / 2), self.y(piece.top) - 2)
                names.append(Name(piece.words, self._with_size(piece.words), at))
        names.sort(key=lambda name: name.at)
        reach = self.x(self.scene.right) + 8  # behind the model stand its sizes
        while names and sum(name.width + 10 for name in names) - 10 > reach:
            number = max(range(len(names)), key=lambda number: names[number].width)
            letter = self._letter(names[number].words)
            if names[number].shown == letter:
                break
            names[number] = replace(names[number], shown=letter)
        for name in spread(names, reach):
            self._lead(name.at, min(max(name.at[0], name.x + 3), max(name.x + name.width - 3, name.x + 3)), above)
            self.drawing.add(Box("parted", name.x - 2, above - BELOW, name.width + 4, PARTED, None, 1.0))
            words, _, size = name.shown.partition("  ")
            keyed = words in map(letter_of, range(len(self.keyed)))
            self.drawing.add(Label(name.x, above, words, TEXT, bold=keyed, halo=True))
            if size:
                self.drawing.add(Label(name.x + text_width(f"{words} ", TEXT), above, size, TEXT, bold=True, halo=True))

    def _lead(self, at: Point, x: float, above: float) -> None:
        """Draw the line from a name above the roof to its thing."""
        for pen in (Pen(2.6, 1.0), Pen(0.8, 0.1)):
            self.drawing.add(Lines("leader", ((at, (x, above - 4)),), pen))
        self.drawing.add(Box("leader end", at[0] - 1.5, at[1] - 1.5, 3, 3, Pen(1.0, 1.0), 0.0))

    def _with_size(self, words: str) -> str:
        """Return a wall's name, with its height where it is the one that is dimensioned."""
        span = next((span for span in self.scene.spans if span.words == words), None)
        return words if span is None else f"{words}  {in_mm(span.top - span.bottom)}"  # two spaces part them

    def _free_part(self, piece: Piece) -> Box:
        """Return the box of a piece, or what of it stands clear of a moving part that is drawn over it."""
        box = self._rect(piece.kind, piece)
        later = self.scene.pieces[self.scene.pieces.index(piece) + 1 :]
        for other in later:
            over = other.left < piece.left + piece.width and piece.left < other.left + other.width
            if piece.kind in IN_THE_WAY and other.kind in IN_THE_WAY and over:
                right = max(self.x(other.left) - box.x, 0.0)
                box = replace(box, width=min(box.width, right))
        return box

    def _name(self, words: str, box: Box) -> None:
        """Write a name into its box, or a letter there and the name into the key."""
        middle, level = box.x + box.width / 2, box.y + box.height / 2 - TEXT * 0.36
        fits = text_width(words, TEXT) <= box.width - 4
        shown = words if fits else self._letter(words)
        wide = text_width(shown, TEXT * 1.1)
        if box.width < text_width(shown, TEXT) + LETTER[0] or box.height < LETTER[1]:
            self.over.append((shown, (middle, box.y + box.height / 2)))
            return
        middle = self._off_the_mark(middle, box, wide)
        levels = (level, level + LINE, level - LINE)  # narrow neighbours write their letters above and below each other
        clear = (each for each in levels if box.y <= each <= box.y + box.height and not self._meets(middle, each, wide))
        level = next(clear, level)
        if self._crossed(middle - wide / 2, level - BELOW, middle + wide / 2, level - BELOW + PARTED):
            self.drawing.add(Box("parted", middle - wide / 2, level - BELOW, wide, PARTED, None, 1.0))
        self.drawing.add(Label(middle, level, shown, TEXT, "middle", bold=not fits, halo=True))

    def _crossed(self, left: float, low: float, right: float, top: float) -> bool:
        """Whether the mark's line or one that leads to a dimension, which are upright or level, meets a box."""
        runs = [run for each in self.drawing.shapes if isinstance(each, Lines) and each.name in ("mark", "extension")
                for run in each.runs]  # fmt: skip
        return any(
            min(x for x, _ in run) < right and max(x for x, _ in run) > left
            and min(y for _, y in run) < top and max(y for _, y in run) > low
            for run in runs
        )  # fmt: skip

    def _off_the_mark(self, middle: float, box: Box, wide: float) -> float:
        """Return the middle of a name, moved off the line of the mark where its box has room beside it."""
        if self.scene.mark is None:
            return middle
        at, reach = self.x(0.0), wide / 2 + 4
        if abs(middle - at) >= reach:
            return middle
        rooms = ((at + reach, box.x + box.width - wide / 2), (at - reach, box.x + wide / 2))
        found = [place for place, last in rooms if abs(place - at) <= abs(last - at) and (last - at) * (place - at) > 0]
        return min(found, key=lambda place: abs(place - middle), default=middle)

    def _meets(self, middle: float, level: float, wide: float) -> bool:
        """Whether a name would lie on one that is there already; all of those lie about their middle."""
        return any(
            abs(other.x - middle) < (wide + text_width(other.text, TEXT * 1.1)) / 2 and abs(other.y - level) < TEXT
            for other in self.drawing.shapes
            if isinstance(other, Label) and other.anchor == "middle"
        )

    def _letter(self, words: str) -> str:
        if words not in self.keyed:
            self.keyed.append(words)
        return letter_of(self.keyed.index(words))

    def _zone_names(self) -> None:
        for zone in self.scene.zones:
            left, right = self.x(zone.left), self.x(zone.right)
            bottom = max(self.base, min(self.y(0.0), self.y(zone.top) - 24)) if self.scene.seat_known else self.base
            self._name(zone.name, Box("", left, bottom, right - left, max(self.y(zone.top) - bottom, 0)))

    def _mark(self) -> None:
        if self.scene.mark is None:
            return
        x, top = self.x(0.0), max(self.y(zone.roof) for zone in self.scene.zones) + 32
        self.drawing.add(Lines("mark", (((x, self.base - 6), (x, top)),), MARK_LINE))
        words = f"0: {self.scene.mark}"
        anchor: Anchor = "start" if x < self.width / 2 else "end"
        room = self.width - x if anchor == "start" else x
        shown = words if text_width(words, TEXT) <= room else f"0: {self._letter(self.scene.mark)}"
        self.drawing.add(Label(x, top + 4, shown, TEXT, anchor))

    def _spans(self) -> None:
        spans = {span.words: span for span in self.scene.spans}
        wall = spans.get("bulkhead")
        if wall is not None:
            self._upright(wall, self.x(self.scene.left) - 11, -1)
        free, left = spans.get("free depth"), spans.get("room left")
        if free is None or left is None:
            return
        level = self.y(left.bottom) - TEXT * 0.4
        self._span(left, level)
        self._span(free, max((self.y(free.bottom) + self.y(free.top)) / 2 + 2, level + 2.3 * LINE))

    def _upright(self, span: Span, x: float, way: int) -> None:
        """Draw a dimension line beside the model."""
        ends = [self.y(span.bottom), self.y(span.top)]
        ticks = tuple(((x - 3, each - 3), (x + 3, each + 3)) for each in ends)
        leads = tuple(((self.x(span.at), each), (x + way * 3, each)) for each in ends)
        self.drawing.add(Lines(span.words, (((x, ends[0]), (x, ends[1])),), THIN), Lines("tick", ticks, THIN))
        self.drawing.add(Lines("extension", leads, EXTENSION))

    def _span(self, span: Span, level: float) -> None:
        """Draw a dimension behind the model, with its size above its name."""
        self._upright(span, self.x(self.scene.right) + 11, 1)
        size = in_mm(span.top - span.bottom)
        upper, lower = level, level - LINE * 0.9
        if self.upside_down:  # once turned over the size still stands above its name
            upper, lower = lower, upper
        self.drawing.add(Label(self.width, upper, size, TEXT, "end", bold=True, halo=True))
        self.drawing.add(Label(self.width, lower, span.words, TEXT * 0.93, "end", halo=True))

    def _key(self) -> None:
        """Write below the model what each hatch stands for, what the letters mean, and the notes."""
        level = self.base - 34
        if self.upside_down:
            level = min(bottom_of(shape) for shape in self.drawing.shapes) - 28
        x = 0.0
        for name, words in swatches(self.scene):
            width = SWATCH[0] + 6 + text_width(words, KEY_TEXT) + 12
            if x and x + width - 12 > self.width:
                x, level = 0.0, level - KEY_LINE * 1.1
            self.drawing.add(*look_of(Box(name, x, level, *SWATCH)))
            self.drawing.add(Label(x + SWATCH[0] + 6, level + 1, words, KEY_TEXT))
            x += width
        level = self._letters(level - KEY_LINE * 0.3)
        for text in [*self.scene.notes, *self.scene.asides]:
            for line in wrap(text, self.width, KEY_TEXT):
                level -= KEY_LINE
                self.drawing.add(Label(0, level, line, KEY_TEXT))
        self.drawing.low = level - 6

    def _letters(self, level: float) -> float:
        """Write what the letters mean, as many beside each other as have room; return the height of the last line."""
        names = [f"{letter_of(number)}: {words}" for number, words in enumerate(self.keyed[:MOST_KEYED])]
        wrapped = [wrap(name, self.width - TEXT, KEY_TEXT) for name in names]
        shown = [lines[0] if len(lines) == 1 else f"{lines[0]}…" for lines in wrapped]
        if len(self.keyed) > MOST_KEYED:
            shown.append(f"and {len(self.keyed) - MOST_KEYED} more, in this order from front to rear")
        x = self.width
        for text in shown:
            wide = text_width(text, KEY_TEXT)
            if x + wide > self.width:
                x, level = 0.0, level - KEY_LINE
            self.drawing.add(Label(x, level, text, KEY_TEXT))
            x += wide + 14
        return level

    def _settle(self) -> None:
        """Make the sheet as high as what is on it."""
        top = max(top_of(shape) for shape in self.drawing.shapes) + 4
        self.drawing.height = top - self.drawing.low

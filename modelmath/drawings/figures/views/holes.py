"""A wall with its holes, seen from the front in true proportion, dimensioned from its left and its lower edge."""

from __future__ import annotations

from itertools import groupby, pairwise
from math import hypot
from typing import TYPE_CHECKING

from modelmath.drawings.figures.looks import OUTLINE
from modelmath.drawings.figures.solid.key import LINE, SWATCH, TEXT, WIDTH
from modelmath.drawings.figures.solid.outlines import within
from modelmath.drawings.figures.views.dimensions import crossing, extension, line, said
from modelmath.drawings.figures.views.free_places import FreePlaces, shared_out
from modelmath.drawings.figures.views.kept_clear import HATCHES, WORDS, kind_of, place_of
from modelmath.drawings.shapes import Box, Circle, Drawing, Label, Lines, Pen, Point, text_width, top_of, wrap
from modelmath.drawings.sizes import in_mm
from modelmath.drawings.svg import to_svg

if TYPE_CHECKING:
    from modelmath.enclosure.holes import Layout, PlacedHole, Web
    from modelmath.job.space.hole_places import HoleMark, WallHoles

LEFT, RIGHT = 64.0, 106.0  # room for the sizes beside the wall
HIGHEST = 230.0  # of the wall itself
EDGE, HOLE, CROSS = Pen(2.2), Pen(1.3), Pen(0.5, 0.2)
CENTRE, DIMENSION = Pen(0.7, 0.4, (12, 3, 2, 3)), Pen(0.7, 0.2)
WEB, THIN = Pen(2.4), Pen(5.0)
BEHIND = Pen(1.0, 0.0, (5, 3))
Room = tuple[float, float, float, float]  # left, lower edge, width, height
# A circuit's line, in turn; past the last they begin again, and the letters tell them apart.
STYLES = (
    Pen(1.4), Pen(1.4, 0.0, (6, 3)), Pen(1.6, 0.0, (1.6, 2.4)), Pen(1.4, 0.0, (9, 3, 2, 3)), Pen(2.8),
    Pen(2.8, 0.0, (6, 3)),
)  # fmt: skip
TAG = 1.1 * TEXT  # a bold text is about as wide as a plain one of this height
APART = 46.0  # from one size below the wall to the next: five signs and a little
ROUND = 4.0  # kept clear at either end of a tag, so that two side by side don't read as one
FAR = 60.0  # a tag further from its hole than this is written without its drill
MOST_HEIGHTS = 14  # that are written beside the wall
MOST_TOLD = 3  # webs too thin that are named in the drawing; the sentences name them all
SEEN = "Seen from the front, looking to the rear"
TURNED = "The other face is its mirror image."
LEFT_OUT = "Sizes that are too many to be written beside the wall stand in the list of holes."
FROM = "In mm, to each middle, from the left and lower edge."


def holes_svg(wall_holes: WallHoles, width_px: int = 560) -> str:
    """Draw a wall with its holes as SVG text, for a page or a widget.

    Parameters
    ----------
    wall_holes : WallHoles
        The wall, as the plan lays its holes out. [mm]
    width_px : int
        Width it has where there is room; it shrinks with the page. [CSS px]

    Returns
    -------
    str
        One ``svg`` element in black and greys, with title and description; empty where the holes find no room. [-]

    References
    ----------
    SVG 1.1 (second edition).
    """
    drawing = holes_figure(wall_holes)
    return "" if drawing is None else to_svg(drawing, width_px)


def holes_figure(wall_holes: WallHoles) -> Drawing | None:
    """Draw a wall with its holes, free of any file format.

    Parameters
    ----------
    wall_holes : WallHoles
        The wall, as the plan lays its holes out. [mm]

    Returns
    -------
    Drawing or None
        Across and up have one scale; None where the holes find no room. [drawing unit]

    References
    ----------
    ISO 129-1, running dimensions from one origin.
    """
    return None if wall_holes.layout is None else _Face(wall_holes, wall_holes.layout).drawing


def holes_figure_and_texts(wall_holes: WallHoles) -> tuple[Drawing, tuple[str, ...]] | None:
    """Draw a wall with its holes, and give the texts on how it is seen apart: a page sets them beside it.

    Parameters
    ----------
    wall_holes : WallHoles
        The wall, as the plan lays its holes out. [mm]

    Returns
    -------
    tuple of (Drawing, texts) or None
        The wall with its key, and the texts; None where the holes find no room. [drawing unit]

    References
    ----------
    `holes_figure`.
    """
    if wall_holes.layout is None:
        return None
    face = _Face(wall_holes, wall_holes.layout, texts_below=False)
    return face.drawing, (face.seen, FROM)


class _Face:
    """Lays the wall out with its lower edge at height 0."""

    def __init__(self, wall: WallHoles, layout: Layout, texts_below: bool = True) -> None:
        self.wall, self.layout, self.plate = wall, layout, layout.plate
        self.texts_below = texts_below
        self.seen = f"{SEEN}{f'; posts {wall.posts}' if wall.posts else ''}. {TURNED}"
        wide, high = float(self.plate.width_mm), float(self.plate.height_mm)
        room = WIDTH - LEFT - RIGHT
        out = max(wide / 2, *(abs(each.x_mm) + each.radius_mm for each in layout.holes))  # moved off the wall by hand
        up = max(high, *(each.y_mm + each.radius_mm for each in layout.holes))
        self.unit = min(room / 2 / out, HIGHEST / up)
        self.middle = LEFT + room / 2
        self.half, self.top = wide / 2 * self.unit, high * self.unit
        self.left, self.right = self.middle - self.half, self.middle + self.half
        self.outline = [(self.x(across), self.y(up)) for across, up in self.plate.corners]
        letters = dict.fromkeys(mark.letter for mark in wall.marks)
        self.style = {letter: STYLES[place_of(letter) % len(STYLES)] for letter in letters}
        self.notes: list[str] = []
        self.drawing = Drawing(WIDTH, 0.0, f"Holes in the {wall.wall}, seen from the front")
        self.free = FreePlaces(0.0, WIDTH)
        for draw in (self._kept_out, self._edge, self._across, self._up, self._size, self._holes, self._webs,
                     self._tags, self._key):  # fmt: skip
            draw()

    def x(self, mm: float) -> float:
        return self.middle + mm * self.unit

    def y(self, mm: float) -> float:
        return mm * self.unit

    def _middle_of(self, hole: PlacedHole) -> Point:
        return self.x(hole.x_mm), self.y(hole.y_mm)

    def _kept_out(self) -> None:
        """Hatch what no hole may come near, as far as it lies on the wall."""
        for each in self.layout.keep_out:
            left, right, low, high = (float(side) for side in (each.left, each.right, each.bottom, each.top))
            on_wall = within(self.plate.corners, low, high, left, right)
            if not on_wall:
                continue
            corners = [(self.x(across), self.y(up)) for across, up in on_wall]
            kind = kind_of(each)
            for pen, rising, step in HATCHES[kind]:
                self.drawing.add(Lines(kind, tuple(crossing(corners, rising, step)), pen))
            pen = BEHIND if kind == "post" and self.wall.posts == "behind it" else OUTLINE
            self.drawing.add(Lines(f"{kind} edge", ((*corners, corners[0]),), pen))

    def _edge(self) -> None:
        around = (*self.outline, self.outline[0])
        ends = ((self.middle, -6.0), (self.middle, self.top + 10))
        self.drawing.add(Lines("wall", (around,), EDGE), Lines("centre line", (ends,), CENTRE))
        for start, end in pairwise(around):
            self.free.take_line(start, end)

    def _across(self) -> None:
        """Write how far each middle lies from the left edge, in a row below the wall, from one origin."""
        found: dict[str, tuple[float, float]] = {}
        for hole in sorted(self.layout.holes, key=lambda each: -each.y_mm):  # the lowest of those at one place is last
            found[f"{self.layout.from_left_mm(hole):.2f}"] = self._middle_of(hole)
        found["0"] = (self.left, 0.0)
        places = sorted(found.items(), key=lambda pair: pair[1][0])
        rows = 1 if len(places) * APART <= WIDTH else 2
        step = APART / rows
        self.level = -22.0
        if len(places) * step > WIDTH:
            self.notes.append(LEFT_OUT)
            return
        wanted = [x for _, (x, _) in places]
        slots = shared_out(wanted, step, step * rows / 2, WIDTH - step * rows / 2)
        line_at = -8.0
        self.drawing.add(Lines("across", (((wanted[0], line_at), (wanted[-1], line_at)),), DIMENSION))
        self.drawing.add(Circle("origin", self.left, line_at, 5, DIMENSION))
        for number, (slot, (text, (x, top))) in enumerate(zip(slots, places, strict=True)):
            low = -32.0 - LINE * (number % rows)
            extension(self.drawing, ((x, top), (x, line_at - 4)))
            self.drawing.add(Lines("across", (((x, line_at - 4), (slot, -18.0), (slot, low + TEXT)),), DIMENSION))
            self._tick(x, line_at)
            self.drawing.add(Label(slot, low, text, TEXT, "middle", halo=True))
            self.free.take_text(slot, low, text, TEXT, "middle")
        self.level = -32.0 - LINE * (rows - 1) - 8

    def _up(self) -> None:
        """Write how far each middle lies above the lower edge, in a column beside the wall, from one origin."""
        found: dict[str, tuple[float, float]] = {}
        for hole in sorted(self.layout.holes, key=lambda each: -each.x_mm):  # the leftmost at one height is last
            found[f"{hole.y_mm:.2f}"] = self._middle_of(hole)
        found["0"] = (self.left, 0.0)
        heights = sorted(found.items(), key=lambda pair: pair[1][1])
        if len(heights) > MOST_HEIGHTS:
            self.notes.append(LEFT_OUT)
            return
        wanted = [y for _, (_, y) in heights]
        line_at = self.left - 8
        self.drawing.add(Lines("up", (((line_at, wanted[0]), (line_at, wanted[-1])),), DIMENSION))
        self.drawing.add(Circle("origin", line_at, 0.0, 5, DIMENSION))
        for slot, (text, (start, y)) in zip(shared_out(wanted, LINE, 2.0, 1e6), heights, strict=True):
            extension(self.drawing, ((start, y), (line_at - 4, y)))
            self.drawing.add(Lines("up", (((line_at - 4, y), (self.left - 18, slot)),), DIMENSION))
            self._tick(line_at, y)
            self.drawing.add(Label(self.left - 20, slot - TEXT / 3, text, TEXT, "end", halo=True))
            self.free.take_text(self.left - 20, slot - TEXT / 3, text, TEXT, "end")

    def _tick(self, x: float, y: float) -> None:
        self.drawing.add(Lines("tick", (((x - 3, y - 3), (x + 3, y + 3)),), DIMENSION))

    def _size(self) -> None:
        """Dimension the wall itself: its height on the right, its greatest width below."""
        x = self.right + 14
        line(self.drawing, "height", (x, 0.0), (x, self.top))
        reach = self.x(max(across for across, up in self.plate.corners if up == self.plate.side[-1][0]))
        extension(self.drawing, ((self.right, 0.0), (x + 3, 0.0)), ((reach, self.top), (x + 3, self.top)))
        size = in_mm(self.plate.height_mm)
        said(self.drawing, WIDTH, self.top / 2, size, "high", "end")
        self.free.take(x - 3, self.top / 2 - LINE, WIDTH, self.top / 2 + LINE)
        low = self.level - 12
        line(self.drawing, "width", (self.left, low), (self.right, low))
        size = f"{in_mm(self.plate.width_mm)} wide"
        self.drawing.add(Label(self.middle, low - TEXT - 2, size, TEXT, "middle", bold=True, halo=True))
        self.level = low - TEXT - 6
        self.free.take(0.0, self.level, WIDTH, -14.0)
        self.notes += self._taper()

    def _taper(self) -> list[str]:
        side = [(up, half) for up, half in self.plate.side]
        if len({half for _, half in side}) == 1:
            return []
        widest = max(half for _, half in side)
        last = max(number for number, (_, half) in enumerate(side) if half == widest)
        widths = ", ".join(f"{2 * half:.2f} at {up:.2f}" for up, half in side[last:])
        return [f"It narrows, width at height in mm: {widths}."]

    def _holes(self) -> None:
        for hole in self.layout.holes:
            (x, y), across = self._middle_of(hole), 2 * hole.radius_mm * self.unit
            reach = across / 2 + 3
            cross = (((x - reach, y), (x + reach, y)), ((x, y - reach), (x, y + reach)))
            self.drawing.add(Lines("middle", cross, CROSS), Circle("hole", x, y, across, HOLE))
            self.free.take_round(x, y, reach)

    def _webs(self) -> None:
        """Mark the least web, and strongly each that is thinner than wanted."""
        thin = self.layout.too_thin
        least = self.layout.least
        if not least.too_thin:
            start, end = self._web(least)
            line(self.drawing, "least web", start, end)
            self.drawing.add(Lines("least web", ((start, end),), WEB))
            self.free.take_line(start, end)
            self._name_web(least, f"web {least.web_mm:.2f}", strong=False)
        for each in thin:
            start, end = self._web(each)
            self.drawing.add(Lines("thin web", ((start, end),), THIN))
            middle = ((start[0] + end[0]) / 2, (start[1] + end[1]) / 2)
            across = max(20.0, abs(each.web_mm) * self.unit + 12)
            self.drawing.add(Circle("thin web", *middle, across, WEB))
            self.free.take_round(*middle, across / 2 + 2)
        for each in thin[:MOST_TOLD]:
            overlap = each.web_mm < 0
            words = f"overlap {-each.web_mm:.2f}" if overlap else f"too thin: {each.web_mm:.2f}"
            self._name_web(each, f"{words}, wanted {each.wanted_mm:.2f}", strong=True)

    def _web(self, web: Web) -> tuple[Point, Point]:
        """Return where a web begins, at its hole's rim, and where it ends."""
        hole = next(each for each in self.layout.holes if each.name == web.first)
        start, end = (
            (self.x(hole.x_mm - web.away[0] * far), self.y(hole.y_mm - web.away[1] * far))
            for far in (hole.radius_mm, hole.radius_mm + web.web_mm)
        )
        return start, end

    def _name_web(self, web: Web, words: str, strong: bool) -> None:
        start, end = self._web(web)
        at = ((start[0] + end[0]) / 2, (start[1] + end[1]) / 2)
        wide, high = text_width(words, TAG) + 8, TEXT + 6
        x, y = self.free.beside(at, 4.0, wide, high)
        self._leader("web named", at, (x, y, wide, high), Pen(1.0))
        if strong:
            self.drawing.add(Box("too thin", x, y, wide, high, None, 0.0))
        text = Label(x + wide / 2, y + 5.5, words, TEXT, "middle", bold=True, grey=float(strong), halo=not strong)
        self.drawing.add(text)

    def _tags(self) -> None:
        """Write each hole's tag beside it, with its drill where there is room, and a line in its circuit's manner."""
        whole = [f"{mark.tag} {hole.hole.drill}".strip() for hole, mark in self._marked()]
        free = self.free.copy()
        places = self._placed(free, whole)
        if any(away > FAR for _, away in places):
            whole, free = [mark.tag for _, mark in self._marked()], self.free.copy()
            places = self._placed(free, whole)
        self.free = free
        for (hole, mark), words, (box, _) in zip(self._marked(), whole, places, strict=True):
            style = self.style[mark.letter]
            self._leader("circuit", self._middle_of(hole), box, style, hole.radius_mm * self.unit)
            self.drawing.add(Label(box[0] + box[2] / 2, box[1] + 3.5, words, TEXT, "middle", bold=True, halo=True))

    def _marked(self) -> list[tuple[PlacedHole, HoleMark]]:
        return list(zip(self.layout.holes, self.wall.marks, strict=True))

    def _placed(self, free: FreePlaces, tags: list[str]) -> list[tuple[Room, float]]:
        """Return each tag's place and size, and how far it lies from its hole's middle."""
        found = []
        for (hole, _), words in zip(self._marked(), tags, strict=True):
            (at, up), wide, high = self._middle_of(hole), text_width(words, TAG) + 4, TEXT + 2
            x, y = free.beside((at, up), hole.radius_mm * self.unit + 14, wide + 2 * ROUND, high)
            x += ROUND
            away = hypot(at - min(max(at, x), x + wide), up - min(max(up, y), y + high))
            found.append(((x, y, wide, high), away))
        return found

    def _leader(self, name: str, at: Point, box: Room, pen: Pen, radius: float = 0.0) -> None:
        """Draw a line from a rim to the nearest side of a text."""
        x, y, wide, high = box
        end = (min(max(at[0], x + 3), x + wide - 3), min(max(at[1], y), y + high))
        across, up = end[0] - at[0], end[1] - at[1]
        length = hypot(across, up)
        if length > radius:
            start = (at[0] + across * radius / length, at[1] + up * radius / length)
            self.drawing.add(Lines(name, ((start, end),), pen))

    def _key(self) -> None:
        self.level -= LINE
        self._write([self.seen, FROM] if self.texts_below else [])
        self._kinds()
        holes = self._circuits()
        least = self.layout.least
        if not least.too_thin:
            self.notes.insert(0, f"Heavy line: the least web, {in_mm(least.web_mm)}.")
        else:
            self.notes.insert(0, "Ringed, white on black: a web thinner than wanted. Mend it before you drill.")
        self._write(list(dict.fromkeys(self.notes)))
        drawing = self.drawing
        drawing.low = self.level - 6
        drawing.height = max(top_of(shape) for shape in drawing.shapes) + 6 - drawing.low
        marking = " ".join(self.layout.marking_out)
        drawing.description = " ".join([self.seen, *holes, marking, *self.layout.sentences, *self.notes[1:]])

    def _write(self, texts: list[str], indent: float = 0.0) -> None:
        for text in texts:
            for words in wrap(text, WIDTH - indent, TEXT):
                self.level -= LINE
                self.drawing.add(Label(indent, self.level, words, TEXT))

    def _kinds(self) -> None:
        """Write what the hatches mean."""
        kinds = dict.fromkeys(kind_of(each) for each in self.layout.keep_out)
        x = 0.0
        self.level -= LINE * 1.3 if kinds else 0.0
        for kind in kinds:
            width = SWATCH[0] + 6 + text_width(WORDS[kind], TEXT) + 12
            if x and x + width > WIDTH:
                x, self.level = 0.0, self.level - LINE * 1.15
            corners = [(x, self.level), (x + SWATCH[0], self.level), (x + SWATCH[0], self.level + SWATCH[1]),
                       (x, self.level + SWATCH[1])]  # fmt: skip
            for pen, rising, step in HATCHES[kind]:
                self.drawing.add(Lines("swatch", tuple(crossing(corners, rising, step)), pen))
            pen = BEHIND if kind == "post" and self.wall.posts == "behind it" else OUTLINE
            self.drawing.add(Lines("swatch", ((*corners, corners[0]),), pen))
            self.drawing.add(Label(x + SWATCH[0] + 6, self.level + 1, WORDS[kind], TEXT))
            x += width
        self.level -= LINE * 0.3

    def _circuits(self) -> list[str]:
        """Write each circuit's line, letter and name, and what goes through its holes."""
        found = []
        pairs = sorted(zip(self.wall.marks, self.layout.holes, strict=True), key=lambda pair: place_of(pair[0].letter))
        for letter, of_circuit in groupby(pairs, key=lambda pair: pair[0].letter):
            listed = list(of_circuit)
            alike: dict[str, list[str]] = {}
            for mark, hole in listed:
                drill = f", drill {hole.hole.drill}" if hole.hole.drill else ""
                alike.setdefault(f"{mark.passes}{drill}", []).append(f"{mark.tag} {hole.name}")
            through = "; ".join(f"{', '.join(names)}: {what}" for what, names in alike.items())
            self.level -= 4
            top = self.level - LINE + TEXT / 3
            self.drawing.add(Lines("circuit", (((0.0, top), (34.0, top)),), self.style[letter]))
            circuit = listed[0][1].hole.circuit
            named = "" if listed[0][1].name.startswith(circuit) else f"{letter}, circuit {circuit}. "
            found.append(f"{named}{through}.")
            self._write([found[-1]], 42.0)
        return found

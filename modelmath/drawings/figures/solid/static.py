"""The model seen from a corner, at rest: what always stands there, with or without scripting."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from modelmath.drawings.figures.solid.bodies import CHASSIS_WIDTH, Model, model_of
from modelmath.drawings.figures.solid.faces import Face, Stroke, body_of, faces_of, shell_lines
from modelmath.drawings.figures.solid.key import (
    SHELL,
    SHELL_BEHIND,
    TEXT,
    WIDTH,
    Look,
    add_key,
    kinds_of,
    look,
    only_key,
)
from modelmath.drawings.figures.solid.names import Name, rows_of
from modelmath.drawings.figures.solid.projection import TILT, TURN, View
from modelmath.drawings.shapes import Circle, Drawing, Label, Lines, Pen, Point
from modelmath.drawings.svg import to_svg
from modelmath.drawings.template import letter_of

if TYPE_CHECKING:
    from modelmath.job import Plan

SIDE = 16.0  # bare at either side of the picture
HIGHEST = 300.0  # of the picture itself
LEADER, HALO = Pen(0.8, 0.1), Pen(3.0, 1.0)
DARK = 0.9  # fills darker than this are drawn out a little, so that no light seam shows where they are parted


def static_view_svg(plan: Plan, turn_deg: float = TURN, tilt_deg: float = TILT, width_px: int = 640) -> str:
    """Draw the model seen from a corner as SVG text, for a page or a widget.

    Parameters
    ----------
    plan : Plan
        The plan; what it can't give yet is left out, and said. [-]
    turn_deg : float
        0 from the side with the front to the left, 90 from the front end. [degree]
    tilt_deg : float
        0 from its own level, 90 from above. [degree]
    width_px : int
        Width it has where there is room; it shrinks with the page. [CSS px]

    Returns
    -------
    str
        One ``svg`` element in black and greys, with title and description. [-]

    References
    ----------
    ISO 5456-3, axonometric representations; SVG 1.1 (second edition).
    """
    return _Picture(model_of(plan), View(turn_deg, tilt_deg)).svg(width_px)


def in_words(model: Model) -> str:
    """Return the description read out in place of the picture.

    Parameters
    ----------
    model : Model
        The model. [mm]

    Returns
    -------
    str
        Sentences. [-]

    References
    ----------
    None needed.
    """
    zones = ", ".join(stretch.name for stretch in model.stretches)
    words = ", ".join(dict.fromkeys(solid.words for solid in model.solids if solid.kind not in ("shell", "chassis")))
    inside = f"In the space between roof and chassis: {words}." if words else ""
    parts = [f"Zones from front to rear: {zones}.", inside, CHASSIS_WIDTH, *model.notes]
    return " ".join(part for part in parts if part)


class _Picture:
    """Lays the view out on a sheet: the model between two rows of names, the key below."""

    def __init__(self, model: Model, view: View) -> None:
        self.model, self.view = model, view
        self.body = body_of(model)
        (left, right), (bottom, top) = view.extent(self.body.corners())
        self.unit = min((WIDTH - 2 * SIDE) / (right - left), HIGHEST / (top - bottom))
        self.shift = (WIDTH / 2 - self.unit * (left + right) / 2, -self.unit * bottom)
        self.high = self.unit * (top - bottom)
        self.faces = [self._placed(face) for face in faces_of(self.body, view)]
        self.rows = rows_of(model, self.faces, WIDTH)
        title = f"{model.name} seen from a corner, its shell drawn as an outline"
        self.drawing = Drawing(WIDTH, 0.0, title, in_words(model))
        self._names()
        self._key()

    def _at(self, point: Point) -> Point:
        return self.shift[0] + self.unit * point[0], self.shift[1] + self.unit * point[1]

    def _strokes(self, strokes: tuple[Stroke, ...] | list[Stroke]) -> tuple[Stroke, ...]:
        return tuple((self._at(start), self._at(end)) for start, end in strokes)

    def _placed(self, face: Face) -> Face:
        points = tuple(self._at(point) for point in face.points)
        return replace(face, points=points, hatch=self._strokes(face.hatch), edges=self._strokes(face.edges))

    def _names(self) -> None:
        for names, level, foot in (
            (self.rows.above, self.high + 26, -4.0),
            (self.rows.below, -26 - TEXT * 0.72, TEXT * 0.72 + 4),
        ):
            for name in names:
                self._leader(name, level + foot)
                self.drawing.add(Label(name.x, level, name.shown, TEXT, halo=True))

    def _leader(self, name: Name, level: float) -> None:
        x = min(max(name.at[0], name.x + 4), max(name.x + name.width - 4, name.x + 4))
        for pen in (HALO, LEADER):
            self.drawing.add(Lines("leader", ((name.at, (x, level)),), pen))
        self.drawing.add(
            Circle("leader end", *name.at, 5.0, Pen(1.2, 1.0)), Circle("leader end", *name.at, 2.4, Pen(2.0))
        )

    def _key(self) -> None:
        names = [f"{letter_of(number)}: {words}" for number, words in enumerate(self.rows.keyed)]
        if self.rows.hidden:
            names.append(f"Not in sight from here: {', '.join(self.rows.hidden)}.")
        front = self._front()
        kinds = only_key(kinds_of(self.model), "path")
        add_key(self.drawing, kinds, [front, *names, CHASSIS_WIDTH, *self.model.notes], -76.0)
        self.drawing.height = self.high + 26 + TEXT + 4 - self.drawing.low

    def _front(self) -> str:
        toward, right = self.view.toward[0], self.view.axes[0][0]
        if abs(right) > abs(toward) * 0.2:
            return f"The front end is on the {'left' if right > 0 else 'right'}."
        return f"The {'front' if toward < 0 else 'rear'} end is the nearer one."

    def svg(self, width_px: int) -> str:
        """Return the sheet as SVG: names and key are shapes, the faces before them are written here."""
        top = self.drawing.low + self.drawing.height
        behind, before = shell_lines(self.model, self.view)
        picture = [_lines("shell behind", self._strokes(behind), SHELL_BEHIND, top)]
        for face in self.faces:
            solid = self.model.solids[face.solid]
            picture += _face(solid.kind, face, look(solid.kind), top)
        picture.append(_lines("shell", self._strokes(before), SHELL, top))
        head, rest = to_svg(self.drawing, width_px).split("</desc>", 1)
        return f"{head}</desc>{''.join(picture)}{rest}"


def _face(kind: str, face: Face, drawn: Look, top: float) -> list[str]:
    parts = []
    if drawn.fill is not None:
        outline = "L".join(_xy(point, top) for point in face.points)
        seam = f' stroke="{_grey(drawn.fill)}" stroke-width="0.6"' if drawn.fill < DARK else ""
        parts.append(f'<path class="{kind}" d="M{outline}Z" fill="{_grey(drawn.fill)}"{seam}/>')
    return [
        *parts,
        _lines(f"{kind} hatch", face.hatch, drawn.hatch, top),
        _lines(f"{kind} edge", face.edges, drawn.edge, top),
    ]


def _lines(name: str, strokes: tuple[Stroke, ...], pen: Pen, top: float) -> str:
    if not strokes:
        return ""
    dashes = f' stroke-dasharray="{" ".join(f"{each:g}" for each in pen.dashes)}"' if pen.dashes else ""
    runs = "".join(f"M{_xy(start, top)}L{_xy(end, top)}" for start, end in strokes)
    look_ = f'stroke="{_grey(pen.grey)}" stroke-width="{pen.width:g}"{dashes} stroke-linecap="round"'
    return f'<path class="{name}" d="{runs}" {look_}/>'


def _xy(point: Point, top: float) -> str:
    return f"{round(point[0], 2):g} {round(top - point[1], 2):g}"


def _grey(grey: float) -> str:
    return f"#{round(255 * grey):02x}" + f"{round(255 * grey):02x}" * 2

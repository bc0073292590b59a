"""What each kind of solid looks like, and the key below a figure: the looks of the side elevation, and a few more."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from modelmath.drawings.figures.looks import CROSSES, HATCH, KINDS, OUTLINE, STRIPES, look_of
from modelmath.drawings.figures.solid.bodies import Model
from modelmath.drawings.shapes import Box, Drawing, Label, Lines, Pen, Shape, falling, text_width, wrap

WIDTH = 480.0  # width of the sheet in drawing units; a unit is a CSS px at this width
TEXT, LINE = 14.0, 18.0  # text height and line distance; still 10 px where the sheet is 350 px wide
SWATCH = (22.0, 11.0)
SHELL, SHELL_BEHIND = Pen(2.2), Pen(1.0, 0.45)
FILLER = Pen(0.8)
WHITE_LINE = Pen(0.8, 1.0)


@dataclass(frozen=True)
class Look:
    """How the faces of a kind are drawn: the grey that fills them, if any, their edges, and their hatch."""

    fill: float | None
    edge: Pen
    hatch: Pen


def look(kind: str) -> Look:
    """Return how the faces of a kind are drawn, as near to the side elevation as faces can be.

    Parameters
    ----------
    kind : str
        The kind of solid. [-]

    Returns
    -------
    Look
        Its fill, its edges, its hatch. [-]

    References
    ----------
    None needed.
    """
    if kind in ("chassis", "filler"):
        return Look(1.0, OUTLINE if kind == "chassis" else FILLER, HATCH if kind == "chassis" else STRIPES)
    box = next(each for each in look_of(Box(kind, 0, 0, 1, 1)) if isinstance(each, Box))
    return Look(box.fill, box.pen or WHITE_LINE, CROSSES if kind == "standing" else STRIPES)


def swatch(kind: str, box: Box) -> list[Shape]:
    """Return the sample of a kind for the key.

    Parameters
    ----------
    kind : str
        The kind of solid. [-]
    box : Box
        Its place. [drawing unit]

    Returns
    -------
    list of Shape
        To be drawn. [drawing unit]

    References
    ----------
    None needed.
    """
    x, y, width, height = box.x, box.y, box.width, box.height
    if kind == "shell":
        return [Lines("swatch", (((x, y + height / 2), (x + width, y + height / 2)),), SHELL)]
    if kind == "filler":
        lines = falling(x, y, width, height, 5)
        return [Box("filler", x, y, width, height, FILLER, 1.0), Lines("swatch", lines, STRIPES)]
    return look_of(Box(kind, x, y, width, height))


def kinds_of(model: Model) -> list[tuple[str, str]]:
    """Return the kinds of solid that a model has, with the words for the key.

    Parameters
    ----------
    model : Model
        The model. [mm]

    Returns
    -------
    list of (str, str)
        Shell and chassis first. [-]

    References
    ----------
    None needed.
    """
    there = {solid.kind for solid in (*model.solids, *model.path)}
    shown = [(kind, words) for kind, words in KINDS.items() if kind in there]
    fillers = [("filler", "fillers beside the speaker")] if "filler" in there else []
    return [("shell", "inside of the shell"), ("chassis", "chassis"), *shown, *fillers]


def only_key(kinds: Sequence[tuple[str, str]], *without: str) -> list[tuple[str, str]]:
    """Return the kinds for a view that does not show all of them.

    Parameters
    ----------
    kinds : sequence of (str, str)
        Kinds with their words. [-]
    *without : str
        Kinds that it does not show. [-]

    Returns
    -------
    list of (str, str)
        The rest. [-]

    References
    ----------
    None needed.
    """
    return [pair for pair in kinds if pair[0] not in without]


def add_key(drawing: Drawing, kinds: Iterable[tuple[str, str]], names: Sequence[str], level: float) -> None:
    """Write the key below a figure, and names and notes below that; the sheet ends there.

    Parameters
    ----------
    drawing : Drawing
        The sheet. [drawing unit]
    kinds : iterable of (str, str)
        Kinds with their words. [-]
    names : sequence of str
        Lines of text. [-]
    level : float
        Base line of the key's first row. [drawing unit]

    References
    ----------
    None needed.
    """
    x = 0.0
    for kind, words in kinds:
        width = SWATCH[0] + 6 + text_width(words, TEXT) + 12
        if x and x + width > drawing.width:
            x, level = 0.0, level - LINE * 1.15
        drawing.add(*swatch(kind, Box(kind, x, level, *SWATCH)))
        drawing.add(Label(x + SWATCH[0] + 6, level + 1, words, TEXT))
        x += width
    level -= LINE * 0.3
    for text in names:
        for line in wrap(text, drawing.width, TEXT):
            level -= LINE
            drawing.add(Label(0, level, line, TEXT))
    drawing.low = level - 6

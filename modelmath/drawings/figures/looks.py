"""How the pieces of a side elevation look: told apart by hatch, line and grey, never by colour."""

from __future__ import annotations

from dataclasses import replace

from modelmath.drawings.figures.side import Scene
from modelmath.drawings.shapes import Box, Circle, Lines, Pen, Point, Shape, dots, falling, hatch
from modelmath.drawings.sizes import in_mm

OUTLINE, DASHED = Pen(1.0), Pen(0.9, 0.25, (5, 3))
HATCH, DOTS, STRIPES = Pen(0.6, 0.45), Pen(0.8, 0.3), Pen(0.7, 0.1)
STANDING, CROSSES = Pen(1.9, 0.1), Pen(0.5, 0.5)


def look_of(box: Box) -> list[Shape]:
    """Return a piece with the look of its kind.

    Parameters
    ----------
    box : Box
        Its kind, as its name, and its place. [drawing unit]

    Returns
    -------
    list of Shape
        The same, to be drawn. [drawing unit]

    References
    ----------
    None needed.
    """
    x, y, width, height = box.x, box.y, box.width, box.height
    if box.name == "chassis":
        return [Lines("swatch", hatch(x, y, width, height, 7), HATCH)]
    if box.name == "clearance":
        return [Lines("swatch", dots(x, y, width, height, 5), DOTS)]
    if box.name in ("post", "rest"):
        count = max(1, round(width / 3.5))
        places = [x + width * (number + 0.5) / count for number in range(count)]
        stripes = tuple(((place, y), (place, y + height)) for place in places)
        return [replace(box, fill=1.0, pen=OUTLINE), Lines(box.name, stripes, STRIPES)]
    if box.name == "standing":
        lines = (*hatch(x, y, width, height, 6), *falling(x, y, width, height, 6))
        return [replace(box, fill=1.0, pen=STANDING), Lines("standing", lines, CROSSES)]
    if box.name == "strand":
        level = y + height / 2
        return strand_of(((x + 2, level), (x + width - 3, level)))
    fill, pen = _LOOKS[box.name]
    return [replace(box, fill=fill, pen=pen)]


def strand_of(run: tuple[Point, ...]) -> list[Shape]:
    """Return a strand as it is drawn: a line with a white edge, a block for its lamp, a ring for its lens.

    Parameters
    ----------
    run : tuple of (float, float)
        Its way from the lamp to the lens. [drawing unit]

    Returns
    -------
    list of Shape
        From below up. [drawing unit]

    References
    ----------
    None needed.
    """
    (x, y), (lens_x, lens_y) = run[0], run[-1]
    return [
        Lines("strand edge", (run,), Pen(3.4, 1.0)),
        Lines("strand", (run,), Pen(1.2)),
        Box("lamp", x - 2.2, y - 2.2, 4.4, 4.4, Pen(1.0, 1.0), 0.0),
        Box("lens ground", lens_x - 2.4, lens_y - 2.4, 4.8, 4.8, None, 1.0),
        Circle("lens", lens_x, lens_y, 5.0, Pen(1.2)),
    ]


_LOOKS: dict[str, tuple[float | None, Pen | None]] = {
    "wall": (0.0, None),
    "plate": (0.55, Pen(0.6)),
    "room": (None, DASHED),
    "moving": (0.97, Pen(1.3, 0.1, (8, 2, 2, 2))),
    "side": (None, Pen(2.2, 0.45)),
    "box": (None, Pen(1.2, 0.0, (2.5, 1.5))),
    "barrier": (0.35, Pen(0.6)),
    "opening": (1.0, Pen(0.8)),
    "path": (None, Pen(1.0, 0.2, (1.5, 2.5))),
    "terminals": (0.3, Pen(0.8)),
    "flange": (0.8, Pen(1.4)),
    "speaker": (0.93, Pen(1.4)),
}

KINDS = {
    "wall": "bulkhead, closure",
    "post": "posts, supports",
    "plate": "floor plates",
    "speaker": "speaker",
    "flange": "flange",
    "terminals": "terminals",
    "opening": "opening for its sound",
    "side": "side wall to the wires",
    "box": "box round what stands up",
    "rest": "strand supports",
    "barrier": "light barrier",
    "path": "kept free for wires",
    "room": "room kept",
    "moving": "what moves, all it sweeps",
    "standing": "what stands there",
}


def swatches(scene: Scene) -> list[tuple[str, str]]:
    """Return the kinds of piece that a scene shows.

    Parameters
    ----------
    scene : Scene
        What is shown. [mm]

    Returns
    -------
    list of (str, str)
        Each kind with the words for the key. [-]

    References
    ----------
    None needed.
    """
    shown = {piece.kind for piece in scene.pieces}
    kinds = [(kind, words) for kind, words in KINDS.items() if kind in shown]
    strands = [("strand", "strand, lamp to lens")] if scene.strands else []
    return [("chassis", "chassis"), ("clearance", "clearance kept"), *kinds, *strands]


def in_words(scene: Scene) -> str:
    """Return the description read out in place of the picture.

    Parameters
    ----------
    scene : Scene
        What is shown. [mm]

    Returns
    -------
    str
        Sentences. [-]

    References
    ----------
    None needed.
    """
    zones = ", ".join(zone.name for zone in scene.zones)
    spans = "; ".join(f"{span.words} {in_mm(span.top - span.bottom)}" for span in scene.spans)
    pieces = ", ".join(dict.fromkeys(piece.words for piece in scene.pieces))
    parts = [
        f"Zones from front to rear: {zones}.",
        f"{spans}." if spans else "",
        f"Between roof and chassis: {pieces}." if pieces else "",
        f"Strands from lamp to lens: {', '.join(name for name, _ in scene.strands)}." if scene.strands else "",
    ]
    return " ".join([*(part for part in parts if part), *scene.notes, *scene.asides])

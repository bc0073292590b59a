"""The bulkhead at true size, with a suggested row of holes; the drawing's unit is the millimetre."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from math import floor
from typing import TYPE_CHECKING

from modelmath.drawings.shapes import Box, Circle, Drawing, Label, Lines, Pen
from modelmath.drawings.sizes import in_mm

if TYPE_CHECKING:
    from modelmath.enclosure import Part
    from modelmath.job import Plan

CUT = Pen(0.25)
THIN = Pen(0.12, 0.25)
HIDDEN = Pen(0.15, 0.4, (1.0, 0.7))
TEXT = 2.9  # 8.2 pt
MARGIN = 9.0  # for the dimensions to the left and below
ABOVE = 5.5  # for the letters of the holes
OPEN_WIDTH = 54.0  # how much of a bulkhead is drawn whose width is not known
STEP = Fraction(1, 2)  # places are rounded to this, so that they can be pricked through or measured
DASHED = "Dashed: the posts behind."
WIDEST = Fraction(4)  # holes stand no further apart than they need to be told apart; common practice, no source


@dataclass(frozen=True)
class HolePlace:
    """One hole of the suggested row.

    Attributes
    ----------
    letter : str
        Letter of its kind on the template. [-]
    left_mm, down_mm : Fraction
        Centre, from the bulkhead's left edge and down from its roof edge. [mm]
    diameter_mm : float
        The drill's diameter. [mm]
    """

    letter: str
    left_mm: Fraction
    down_mm: Fraction
    diameter_mm: float


def letter_of(number: int) -> str:
    """Return a, b, ... z, aa, ab, ... for 0, 1, ...

    Parameters
    ----------
    number : int
        Place in a list, from 0. [-]

    Returns
    -------
    str
        Its letter. [-]

    References
    ----------
    None needed.

    Examples
    --------
    >>> letter_of(0), letter_of(25), letter_of(26)
    ('a', 'z', 'aa')
    """
    first, last = divmod(number, 26)
    return (letter_of(first - 1) if first else "") + chr(ord("a") + last)


def post_mm(plan: Plan) -> Fraction:
    """Return the width of a corner post as its strip makes it, or else as the layout counts it.

    Parameters
    ----------
    plan : Plan
        The plan. [-]

    Returns
    -------
    Fraction
        Its width. [mm]

    References
    ----------
    data/strip_series.csv.
    """
    line = next((line for line in plan.lines if line.part.kind == "post" and line.picks), None)
    return Fraction(plan.limits.post_mm) if line is None else Fraction(line.picks[0].strip.width_mm)


def hole_places(plan: Plan) -> tuple[HolePlace, ...]:
    """Suggest a row of holes across the bulkhead, clear of its posts and edges.

    Parameters
    ----------
    plan : Plan
        The plan. [-]

    Returns
    -------
    tuple of HolePlace
        From left to right, one for each strand and wire; none where no row fits or the width is not known. [mm]

    Raises
    ------
    DoesNotFit
        If the plan has no bulkhead because nothing fits.

    References
    ----------
    At least one drill diameter of wall between two holes and at an edge: common practice, no source.
    """
    wall = plan.bulkhead
    holes = [(letter_of(n), hole.drill.diameter_mm) for n, hole in enumerate(plan.holes) for _ in range(hole.count)]
    if wall is None or wall.width_mm is None or not holes:
        return ()
    widest = max(diameter for _, diameter in holes)
    free = wall.width_mm - 2 * post_mm(plan)
    spacing = min(WIDEST, free / len(holes))
    spacing = floor(spacing / STEP) * STEP or spacing
    down = max(STEP, floor(wall.cut.cut_mm / 3 / STEP) * STEP)
    if spacing < 2 * widest or down < 1.5 * widest or wall.cut.cut_mm - down < 1.5 * widest:
        return ()
    first = wall.width_mm / 2 - spacing * (len(holes) - 1) / 2
    return tuple(HolePlace(letter, first + n * spacing, down, size) for n, (letter, size) in enumerate(holes))


def template_size(plan: Plan) -> tuple[float, float] | None:
    """Return how much room the template takes, its dimensions included.

    Parameters
    ----------
    plan : Plan
        The plan. [-]

    Returns
    -------
    tuple of float, or None
        Width and height; None without a bulkhead. [mm]

    References
    ----------
    None needed.
    """
    wall = plan.bulkhead
    if wall is None:
        return None
    width = OPEN_WIDTH if wall.width_mm is None else float(wall.width_mm)
    return max(width + 2 * MARGIN, 60.0), float(wall.cut.cut_mm) + MARGIN + ABOVE


def bulkhead_template(plan: Plan) -> Drawing | None:
    """Draw the bulkhead at true size.

    Parameters
    ----------
    plan : Plan
        The plan. [-]

    Returns
    -------
    Drawing or None
        In mm; None where the shell's own ends close the chamber and there is none. [mm]

    Raises
    ------
    DoesNotFit
        If the plan has no bulkhead because nothing fits.

    References
    ----------
    The plan's own sizes.
    """
    wall, size = plan.bulkhead, template_size(plan)
    if wall is None or size is None:
        return None
    drawing = Drawing(*size, f"Bulkhead of {plan.job.name} at true size")
    if wall.width_mm is None:
        _open_outline(drawing, wall)
    else:
        _outline(drawing, wall, float(wall.width_mm), float(post_mm(plan)))
        _holes(drawing, wall, hole_places(plan))
    _dimensions(drawing, wall)
    return drawing


def _outline(drawing: Drawing, wall: Part, width: float, post: float) -> None:
    height = float(wall.cut.cut_mm)
    if 2 * post < width:
        for x in (MARGIN + post, MARGIN + width - post):
            drawing.add(Lines("post", (((x, MARGIN), (x, MARGIN + height)),), HIDDEN))
    drawing.add(
        Box("bulkhead", MARGIN, MARGIN, width, height, CUT),
        Label(MARGIN + width + 1, MARGIN + height - TEXT * 0.7, "roof", TEXT),
    )


def _open_outline(drawing: Drawing, wall: Part) -> None:
    height, end = float(wall.cut.cut_mm), MARGIN + OPEN_WIDTH
    top = MARGIN + height
    drawing.add(
        Lines("bulkhead", (((MARGIN, MARGIN), (MARGIN, top)),), CUT),
        Lines("bulkhead edge", (((MARGIN, top), (end, top)), ((MARGIN, MARGIN), (end, MARGIN))), CUT),
    )
    text, middle = "width: hold against the shell", MARGIN + height / 2 - TEXT / 3
    drawing.add(Label(MARGIN + OPEN_WIDTH / 2 + 2, middle, text, TEXT * 0.98, "middle"))


def _holes(drawing: Drawing, wall: Part, places: tuple[HolePlace, ...]) -> None:
    top = MARGIN + float(wall.cut.cut_mm)
    told: list[str] = []
    for place in places:
        x, y, reach = MARGIN + float(place.left_mm), top - float(place.down_mm), place.diameter_mm / 2 + 0.5
        drawing.add(
            Circle(f"hole {place.letter}", x, y, place.diameter_mm, Pen(0.1)),
            Lines("centre", (((x - reach, y), (x + reach, y)), ((x, y - reach), (x, y + reach))), Pen(0.07)),
        )
        if place.letter not in told:
            told.append(place.letter)
            drawing.add(Lines("leader", (((x, y + reach), (x, top + 1.0)),), Pen(0.07, 0.4)))
            drawing.add(Label(x, top + 1.6, place.letter, TEXT, "middle", bold=True))


def _dimensions(drawing: Drawing, wall: Part) -> None:
    height = float(wall.cut.cut_mm)
    x, tick = MARGIN - 3.5, 0.8
    runs = [((x, MARGIN), (x, MARGIN + height))]
    runs += [((x - tick, y), (MARGIN - 0.8, y)) for y in (MARGIN, MARGIN + height)]
    drawing.add(Lines("height", tuple(runs), THIN))
    sizes = f"height {in_mm(wall.cut.cut_mm)}"
    if wall.width_mm is None:
        drawing.add(Label(0, 1.0, sizes, TEXT))
        return
    drawing.add(Label(0, 1.0, f"{sizes}, width {in_mm(wall.width_mm)}", TEXT))
    width, y = float(wall.width_mm), MARGIN - 3.0
    runs = [((MARGIN, y), (MARGIN + width, y))]
    runs += [((x, y - tick), (x, MARGIN - 0.8)) for x in (MARGIN, MARGIN + width)]
    drawing.add(Lines("width", tuple(runs), THIN))


def holes_in_words(plan: Plan) -> list[str]:
    """Return the key to the holes on the template, and where their row stands.

    Parameters
    ----------
    plan : Plan
        The plan. [-]

    Returns
    -------
    list of str
        Sentences; none where nothing passes the bulkhead. [-]

    References
    ----------
    `hole_places`.
    """
    if plan.bulkhead is None:
        return []
    if not plan.holes:
        return [] if plan.bulkhead.width_mm is None else [DASHED]
    if plan.bulkhead.width_mm is None:
        return ["Holes are placed once the inside width is known; until then mark them by hand."]
    places = hole_places(plan)
    if not places:
        return ["The holes do not fit in one row between the posts: place them by hand."]
    kinds = ", ".join(f"{letter_of(n)} {hole.drill.name}" for n, hole in enumerate(plan.holes))
    first = places[0]
    row = f"first centre {in_mm(first.left_mm)} from the left edge, {in_mm(first.down_mm)} below the roof edge"
    every = f", then every {in_mm(places[1].left_mm - first.left_mm)}" if len(places) > 1 else ""
    lines = [f"{DASHED} Holes, a suggestion: {kinds}; {row}{every}."]
    if sum(part.kind == "wall" for part in plan.parts) > 1:
        lines.append("Drill here what leads to the front; the rest goes through the rear closure, at the same place.")
    return lines

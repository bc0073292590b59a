"""The bulkhead at true size with its holes; the drawing's unit is the millimetre."""

from __future__ import annotations

from math import hypot
from typing import TYPE_CHECKING

from modelmath.drawings.figures.solid.outlines import within
from modelmath.drawings.figures.views.free_places import shared_out
from modelmath.drawings.shapes import Box, Circle, Drawing, Label, Lines, Pen, text_width
from modelmath.drawings.sizes import in_mm

if TYPE_CHECKING:
    from modelmath.enclosure import Part
    from modelmath.job import Plan
    from modelmath.job.space.hole_places import WallHoles

CUT = Pen(0.25)
THIN = Pen(0.12, 0.25)
HIDDEN = Pen(0.15, 0.4, (1.0, 0.7))
TEXT = 2.9  # 8.2 pt
MARGIN = 9.0  # for the dimensions to the left and below
ABOVE = 5.5  # for the tags of the holes
BESIDE = 12.0  # for the word on the right
ONE_ROW = 82.0  # of tags: a column of the narrower paper
LEAST_WIDTH = 60.0  # for what is written below the wall
OPEN_WIDTH = 54.0  # how much of a bulkhead is drawn whose width is not known
DASHED = "Dashed: posts, floor plate."
UNTAGGED = "Too many holes to be named here: the figure under Holes to mark out names them."
SEEN = "seen from the front"


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


def holes_on(plan: Plan, wall: Part) -> WallHoles | None:
    """Return the holes of a wall, as the plan places them.

    Parameters
    ----------
    plan : Plan
        The plan. [-]
    wall : Part
        One of its walls. [mm]

    Returns
    -------
    WallHoles or None
        None where nothing passes it, or its width is not known. [mm]

    Raises
    ------
    JobError
        If a length can't be read, or a hole moved by hand is none of them.

    References
    ----------
    `hole_places`.
    """
    return next((each for each in plan.hole_places if each.wall == wall.name), None)


def bulkhead_template(plan: Plan) -> Drawing | None:
    """Draw the bulkhead at true size, with its holes where the plan places them.

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
    JobError
        If a length can't be read, or a hole moved by hand is none of them.

    References
    ----------
    The plan's own sizes.
    """
    wall = plan.bulkhead
    if wall is None:
        return None
    holes = holes_on(plan, wall)
    width = OPEN_WIDTH if wall.width_mm is None else float(wall.width_mm)
    tags = _step(holes) * len(holes.marks) if holes is not None and _tagged(holes) else 0.0
    size = (max(width + MARGIN + BESIDE, LEAST_WIDTH, tags), float(wall.cut.cut_mm) + MARGIN + ABOVE)
    drawing = Drawing(*size, f"Bulkhead of {plan.job.name} at true size, {SEEN}")
    if wall.width_mm is None:
        _open_outline(drawing, wall)
    else:
        _outline(drawing, plan, wall)
        _holes(drawing, wall, holes)
    _dimensions(drawing, wall)
    return drawing


def _outline(drawing: Drawing, plan: Plan, wall: Part) -> None:
    """Draw the wall with its openings, and dashed what stands behind it."""
    from modelmath.enclosure.holes import Plate
    from modelmath.job.space.hole_places import kept_out

    plate = Plate(wall.width_mm or 0, wall.cut.cut_mm, wall.outline or None)
    width, height = float(plate.width_mm), float(plate.height_mm)
    middle = MARGIN + width / 2
    openings = {each.words for each in wall.openings}
    for each in kept_out(plan, wall):
        left, right, low, high = (float(side) for side in (each.left, each.right, each.bottom, each.top))
        corners = [(middle + x, MARGIN + y) for x, y in within(plate.corners, low, high, left, right)]
        name, pen = ("opening", CUT) if each.name in openings else ("behind", HIDDEN)
        drawing.add(Lines(name, ((*corners, *corners[:1]),), pen))
    if wall.outline:
        around = [(middle + x, MARGIN + y) for x, y in plate.corners]
        drawing.add(Lines("bulkhead", ((*around, around[0]),), CUT))
    else:
        drawing.add(Box("bulkhead", MARGIN, MARGIN, width, height, CUT))
    drawing.add(Label(MARGIN + width + 1, MARGIN + height - TEXT * 0.7, "roof", TEXT))


def _open_outline(drawing: Drawing, wall: Part) -> None:
    height, end = float(wall.cut.cut_mm), MARGIN + OPEN_WIDTH
    top = MARGIN + height
    drawing.add(
        Lines("bulkhead", (((MARGIN, MARGIN), (MARGIN, top)),), CUT),
        Lines("bulkhead edge", (((MARGIN, top), (end, top)), ((MARGIN, MARGIN), (end, MARGIN))), CUT),
    )
    text, middle = "width: hold against the shell", MARGIN + height / 2 - TEXT / 3
    drawing.add(Label(MARGIN + OPEN_WIDTH / 2 + 2, middle, text, TEXT * 0.98, "middle"))


def _step(holes: WallHoles) -> float:
    """Return how far apart the tags stand above the wall."""
    return max((text_width(mark.tag, TEXT * 1.1) for mark in holes.marks), default=0.0) + 1.2


def _tagged(holes: WallHoles | None) -> bool:
    """Return whether the tags find room in one row above the wall."""
    return holes is not None and _step(holes) * len(holes.marks) <= ONE_ROW


def _holes(drawing: Drawing, wall: Part, holes: WallHoles | None) -> None:
    """Draw the holes where the plan places them, each with its tag above the wall."""
    if holes is None or holes.layout is None:
        return
    layout = holes.layout
    found = [(MARGIN + layout.from_left_mm(hole), MARGIN + hole.y_mm, hole.radius_mm, mark.tag)
             for hole, mark in zip(layout.holes, holes.marks, strict=True)]  # fmt: skip
    for x, y, radius, tag in found:
        reach = radius + 0.5
        cross = (((x - reach, y), (x + reach, y)), ((x, y - reach), (x, y + reach)))
        drawing.add(Circle(f"hole {tag}", x, y, 2 * radius, Pen(0.1)), Lines("centre", cross, Pen(0.07)))
    if not _tagged(holes):
        return
    found.sort()
    step, level = _step(holes), MARGIN + float(wall.cut.cut_mm) + 1.6
    slots = shared_out([x for x, _, _, _ in found], step, step / 2, drawing.width - step / 2)
    for slot, (x, y, radius, tag) in zip(slots, found, strict=True):
        across, up = slot - x, level - 0.5 - y
        share = (radius + 0.5) / (hypot(across, up) or 1.0)
        leader = ((x + across * share, y + up * share), (slot, level - 0.5))
        drawing.add(Lines("leader", (leader,), Pen(0.07, 0.4)), Label(slot, level, tag, TEXT, "middle", bold=True))


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


def places_of(holes: WallHoles) -> list[tuple[str, str, str, str]]:
    """Return the places of a wall's holes, as the card lists them.

    Parameters
    ----------
    holes : WallHoles
        The wall's holes. [mm]

    Returns
    -------
    list of tuple
        Tag with its drill, what passes, place from the left edge, place above the lower edge. [mm]

    References
    ----------
    `Layout.marking_out`, which says the same in sentences.
    """
    if holes.layout is None:
        return []
    found = []
    for hole, mark in zip(holes.layout.holes, holes.marks, strict=True):
        left, up = f"{holes.layout.from_left_mm(hole):.2f} mm", f"{hole.y_mm:.2f} mm"
        found.append((f"{mark.tag} {hole.hole.drill}".strip(), hole.name, left, up))
    return found


def holes_in_words(plan: Plan) -> list[str]:
    """Return what is to be said about the template and its holes.

    Parameters
    ----------
    plan : Plan
        The plan. [-]

    Returns
    -------
    list of str
        Sentences; none where there is nothing to say. [-]

    Raises
    ------
    DoesNotFit
        If the plan has no bulkhead because nothing fits.
    JobError
        If a length can't be read, or a hole moved by hand is none of them.

    References
    ----------
    `hole_places`.
    """
    wall = plan.bulkhead
    if wall is None:
        return []
    if wall.width_mm is None:
        return ["Holes are placed once the inside width is known; until then mark them by hand."] if plan.holes else []
    said = [f"{SEEN[:1].upper()}{SEEN[1:]}. {DASHED}"]
    holes = holes_on(plan, wall)
    return said if holes is None or _tagged(holes) else [*said, UNTAGGED]

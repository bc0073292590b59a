"""The flat parts of a plan, each with its borders, the holes to drill in it, and the lines to mark it out by."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from typing import TYPE_CHECKING

from modelmath.drawings.cutting.region import CutOut, loops_of
from modelmath.drawings.shapes import Point
from modelmath.drawings.sizes import in_mm

if TYPE_CHECKING:
    from modelmath.enclosure import Part
    from modelmath.job import Plan
    from modelmath.job.space.hole_places import WallHoles

Loop = tuple[Point, ...]
CROSS_MM = 1.0  # how far a hole's cross reaches beyond it: enough to line a drill up by
BEYOND_MM = 2.0  # how far a centre line reaches beyond the part
FROM_THE_FRONT, FROM_ABOVE = "seen from the front", "seen from above, its front edge below"
SEEN = {"wall": FROM_THE_FRONT, "barrier": FROM_THE_FRONT, "plate": FROM_ABOVE}


@dataclass(frozen=True)
class Drilled:
    """A hole to drill.

    Attributes
    ----------
    tag : str
        Its letter and number on every sheet; empty where it has none. [-]
    passes : str
        What goes through. [-]
    drill : str
        The drill that makes it; empty where none was chosen. [-]
    x_mm, y_mm : float
        Its middle, from the part's left and lower edge. [mm]
    diameter_mm : float
        Its diameter. [mm]
    """

    tag: str
    passes: str
    drill: str
    x_mm: float
    y_mm: float
    diameter_mm: float

    @property
    def cross(self) -> tuple[tuple[Point, Point], tuple[Point, Point]]:
        """The two lines through its middle. [mm]"""
        reach = self.diameter_mm / 2 + CROSS_MM
        across = ((self.x_mm - reach, self.y_mm), (self.x_mm + reach, self.y_mm))
        return across, ((self.x_mm, self.y_mm - reach), (self.x_mm, self.y_mm + reach))


@dataclass(frozen=True)
class FlatPiece:
    """A flat part as it is marked out, cut and drilled.

    Attributes
    ----------
    name : str
        Name on the sheets. [-]
    count : int
        How many are made. [-]
    width_mm, height_mm : float
        Room it takes across and up. [mm]
    loops : tuple of closed runs
        Its borders and openings, from its left and lower edge; the first corner is not repeated. [mm]
    holes : tuple of Drilled
        The holes to drill. [mm]
    seen : str
        From where it is drawn; empty where that does not matter. [-]
    middle_mm : float
        Place of its centre line, from its left edge; of a turned piece, from its lower edge. [mm]
    turned : bool
        Whether it lies on its side, a quarter turn to the left. [-]
    """

    name: str
    count: int
    width_mm: float
    height_mm: float
    loops: tuple[Loop, ...]
    holes: tuple[Drilled, ...] = ()
    seen: str = ""
    middle_mm: float = 0.0
    turned: bool = False

    @property
    def centre_line(self) -> tuple[Point, Point]:
        """Its centre line, a little longer than it is. [mm]"""
        if self.turned:
            return (-BEYOND_MM, self.middle_mm), (self.width_mm + BEYOND_MM, self.middle_mm)
        return (self.middle_mm, -BEYOND_MM), (self.middle_mm, self.height_mm + BEYOND_MM)

    @property
    def title(self) -> str:
        """Its name, with how many are made where it is more than one. [-]"""
        return f"{self.count} × {self.name}" if self.count > 1 else self.name

    @property
    def sizes(self) -> str:
        """Its width and height as it stands in the model, to measure a copy by. [mm]"""
        wide, high = (self.height_mm, self.width_mm) if self.turned else (self.width_mm, self.height_mm)
        return f"{in_mm(wide)} wide, {in_mm(high)} {'long' if self.seen == FROM_ABOVE else 'high'}"

    def on_its_side(self) -> FlatPiece:
        """Return the same part turned a quarter to the left: never its mirror image.

        Returns
        -------
        FlatPiece
            The part on its side. [mm]

        References
        ----------
        Rotation by 90 degrees.
        """
        high = self.height_mm

        def turn(x: float, y: float) -> Point:
            return high - y, x

        holes = []
        for hole in self.holes:
            x, y = turn(hole.x_mm, hole.y_mm)
            holes.append(replace(hole, x_mm=x, y_mm=y))
        loops = tuple(tuple(turn(x, y) for x, y in loop) for loop in self.loops)
        return replace(
            self, width_mm=high, height_mm=self.width_mm, loops=loops, holes=tuple(holes), turned=not self.turned
        )


def is_flat(part: Part) -> bool:
    """Whether a part is cut out of sheet or of strip laid flat, by its width and its length.

    Parameters
    ----------
    part : Part
        The part. [mm]

    Returns
    -------
    bool
        Posts, supports and fillers are not: they are cut off a strip, and have nothing to mark out. [-]

    References
    ----------
    None needed.
    """
    return part.use == "across"


def not_drawn(plan: Plan) -> tuple[str, ...]:
    """Return what of the flat parts can't be drawn yet.

    Parameters
    ----------
    plan : Plan
        The plan. [-]

    Returns
    -------
    tuple of str
        Sentences that say what to enter; none where all are drawn. [-]

    References
    ----------
    None needed.
    """
    names = [part.name for part in plan.parts if is_flat(part) and part.width_mm is None]
    return tuple(f"The {name} is not drawn: enter the inside width to get its outline." for name in names)


def flat_pieces(plan: Plan) -> tuple[FlatPiece, ...]:
    """Return every flat part of a plan whose width is known, each once, however many are made.

    Parameters
    ----------
    plan : Plan
        The plan. [-]

    Returns
    -------
    tuple of FlatPiece
        Walls, plates, sides, boxes and barriers, in the order of the list of parts. [mm]

    Raises
    ------
    DoesNotFit
        If the plan has no parts because nothing fits.
    JobError
        If a length can't be read, or a hole moved by hand is none of them.

    References
    ----------
    The plan's own sizes.
    """
    holes = {each.wall: each for each in plan.hole_places}
    flat = [part for part in plan.parts if is_flat(part) and part.width_mm is not None]
    return tuple(_piece(part, holes.get(part.name)) for part in flat)


def _piece(part: Part, holes: WallHoles | None) -> FlatPiece:
    side = _side(part)
    loops = loops_of(side, list(_cut_outs(part)))
    half = max(wide for _, wide in side)
    found = (*_of_wall(holes, float(half)), *_of_barrier(part, half))
    return FlatPiece(
        part.name,
        part.count,
        float(2 * half),
        float(side[-1][0]),
        tuple(tuple((float(x + half), float(y)) for x, y in loop) for loop in loops),
        found,
        SEEN.get(part.kind, ""),
        float(half),
    )


def _side(part: Part) -> tuple[tuple[Fraction, Fraction], ...]:
    """Return height and half-width of the right side's corners."""
    if part.outline:
        return part.outline
    half = Fraction(part.width_mm or 0) / 2
    return (Fraction(0), half), (part.cut.cut_mm, half)


def _cut_outs(part: Part) -> Iterator[CutOut]:
    """Yield the openings; what a blank cut to the mark above is too long by is sanded off, so no web is left of it."""
    if part.kind == "barrier":
        return  # its only openings are drilled
    over = max(part.cut.cut_mm - part.cut.exact_mm, Fraction(0))
    for each in part.openings:
        low, high = each.from_edge_mm, each.from_edge_mm + each.long_mm
        if part.kind == "plate" and high >= part.cut.exact_mm:
            high += over
        yield CutOut(each.centre_mm - each.wide_mm / 2, each.centre_mm + each.wide_mm / 2, low, high)


def _of_wall(holes: WallHoles | None, half: float) -> Iterator[Drilled]:
    if holes is None or holes.layout is None:
        return
    for hole, mark in zip(holes.layout.holes, holes.marks, strict=True):
        yield Drilled(mark.tag, hole.name, hole.hole.drill, hole.x_mm + half, hole.y_mm, 2 * hole.radius_mm)


def _of_barrier(part: Part, half: Fraction) -> Iterator[Drilled]:
    """Yield the hole of a barrier's strand; the barrier's middle need not be the chamber's."""
    if part.kind != "barrier":
        return
    middle = _middle(part)
    for each in part.openings:
        x, y = each.centre_mm - middle + half, each.from_edge_mm
        yield Drilled("", each.words, "", float(x), float(y), float(each.wide_mm))


def _middle(part: Part) -> Fraction:
    """Return how far right of the chamber's centre line a part's own middle lies."""
    if not part.blocks:
        return Fraction(0)
    sides = [(Fraction(block.left_mm), Fraction(block.right_mm)) for block in part.blocks]
    return (min(left for left, _ in sides) + max(right for _, right in sides)) / 2


def without_room(plan: Plan) -> tuple[str, ...]:
    """Return why the holes of a wall are not in the drawing.

    Parameters
    ----------
    plan : Plan
        The plan. [-]

    Returns
    -------
    tuple of str
        Sentences; none where every hole has its place. [-]

    Raises
    ------
    JobError
        If a length can't be read, or a hole moved by hand is none of them.

    References
    ----------
    `hole_places`.
    """
    return tuple(f"No holes in the {each.wall}: {each.problem}" for each in plan.hole_places if each.layout is None)


def notes_on(plan: Plan) -> tuple[str, ...]:
    """Return what is to be said beside drawings of a plan's flat parts.

    Parameters
    ----------
    plan : Plan
        The plan. [-]

    Returns
    -------
    tuple of str
        For how many models they are, what is not drawn, which holes have no place; none where all is plain. [-]

    Raises
    ------
    JobError
        If a length can't be read, or a hole moved by hand is none of them.

    References
    ----------
    `not_drawn`, `without_room`.
    """
    several = (f"Counts are for one model; {plan.models} are built.",) if plan.models > 1 else ()
    return (*several, *not_drawn(plan), *without_room(plan))


def in_rows(
    sizes: Sequence[tuple[float, float]], row_mm: float, gap_mm: float
) -> tuple[tuple[Point, ...], tuple[float, float]]:
    """Lay boxes side by side in rows, tops level, the first row highest.

    Parameters
    ----------
    sizes : sequence of (float, float)
        Width and height of each. [mm]
    row_mm : float
        How wide a row may be; a box that is wider has a row of its own. [mm]
    gap_mm : float
        Gap between boxes and between rows. [mm]

    Returns
    -------
    tuple of (tuple of points, size)
        Upper left corner of each, y downwards from 0; and the width and height that all take. [mm]

    References
    ----------
    None needed.

    Examples
    --------
    >>> in_rows([(10, 4), (10, 6), (10, 2)], 25, 2)
    (((0.0, 0.0), (12.0, 0.0), (0.0, 8.0)), (22.0, 10.0))
    """
    corners: list[Point] = []
    x = y = high = wide = 0.0
    for width, height in sizes:
        if x and x + width > row_mm:
            x, y, high = 0.0, y + high + gap_mm, 0.0
        corners.append((x, y))
        wide, high = max(wide, x + width), max(high, height)
        x += width + gap_mm
    return tuple(corners), (wide, y + high)

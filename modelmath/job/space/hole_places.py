"""Where the holes lie on the walls: each strand and wire through the wall it leads to, moved by hand where asked."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from typing import TYPE_CHECKING

from modelmath.enclosure.holes import Hole, KeepOut, Layout, Plate, lay_out_holes, move_hole
from modelmath.errors import ModelMathError, UnknownChoice

if TYPE_CHECKING:
    from modelmath.enclosure import Part
    from modelmath.job.holes import HoleLine
    from modelmath.job.plan import Plan


@dataclass(frozen=True)
class WallHoles:
    """The holes of one wall.

    Attributes
    ----------
    wall : str
        The wall's name on the sheets. [-]
    layout : Layout or None
        Where they lie; None where they find no room. [mm]
    problem : str
        Why they find none, and what would help; empty where they do. [-]
    """

    wall: str
    layout: Layout | None
    problem: str = ""

    @property
    def sentences(self) -> tuple[str, ...]:
        """What to mark out, the least web, and each web that is too thin. [-]"""
        if self.layout is None:
            return (self.problem,)
        caution = (self.layout.caution,) if self.layout.caution else ()
        return (*self.layout.marking_out, *self.layout.sentences, *caution)


def hole_places(plan: Plan) -> tuple[WallHoles, ...]:
    """Lay out the holes of every wall.

    Parameters
    ----------
    plan : Plan
        The plan. [-]

    Returns
    -------
    tuple of WallHoles
        Front wall first; none where nothing passes a wall, or a wall's width is not known. [mm]

    Raises
    ------
    JobError
        If a length can't be read, or a hole moved by hand is none of them.

    References
    ----------
    `lay_out_holes`.
    """
    walls = [part for part in plan.parts if part.kind == "wall" and part.width_mm is not None]
    if not walls or not plan.holes:
        return ()
    through: dict[str, list[HoleLine]] = {wall.name: [] for wall in walls}
    for line in plan.holes:
        through[_wall_for(plan, line, walls).name].append(line)
    found = tuple(_on(plan, wall, through[wall.name]) for wall in walls if through[wall.name])
    _check_moved(plan, found)
    return found


def _wall_for(plan: Plan, line: HoleLine, walls: list[Part]) -> Part:
    """Return the wall that a line passes: a strand's at its lamp's end, a wire's on the decoder's side."""
    chamber = plan.chamber
    if len(walls) == 1 or chamber is None:
        return walls[0]
    lamp = next((each for each in plan.job.lamps if line.kind == "strand" and each.name == line.name), None)
    to_rear = lamp is not None and lamp.end == "rear"
    if lamp is None and chamber.decoder_mm is not None:
        to_rear = chamber.decoder_mm[0] >= chamber.end_mm
    return walls[1] if to_rear else walls[0]


def _on(plan: Plan, wall: Part, lines: list[HoleLine]) -> WallHoles:
    bench, asked = plan.bench, plan.job.hole_layout
    holes = [Hole(n.name, n.drill.diameter_mm, n.circuit, n.drill.name, n.count) for n in lines]
    web, edge, apart = (bench.length(getattr(asked, name), "hole_layout", name) for name in ("web", "edge", "apart"))
    row = _row_height(plan, wall) if asked.height is None else bench.length(asked.height, "hole_layout", "height")
    try:
        plate = _plate(wall)
        layout = lay_out_holes(holes, plate, web, edge, tuple(_keep_out(plan, wall)), apart, asked.way, row)
    except ModelMathError as reason:
        return WallHoles(wall.name, None, str(reason))
    names = [each.name for each in layout.holes]
    for place, moved in enumerate(plan.job.holes):
        if moved.name in names:
            right = bench.place(moved.right, "holes", place, "right")
            up = bench.length(moved.up, "holes", place, "up")
            layout = move_hole(layout, moved.name, right, up)
    return WallHoles(wall.name, layout)


def _row_height(plan: Plan, wall: Part) -> Fraction:
    """Return the height of a row where none is asked for: half way between the floor plate and the upper edge."""
    height, plate = Fraction(wall.cut.cut_mm), Fraction(plan.limits.wall_mm)
    return (height + plate) / 2 if plate < height else height / 2


def _plate(wall: Part) -> Plate:
    assert wall.width_mm is not None
    if wall.outline:
        return Plate(wall.width_mm, wall.cut.cut_mm, wall.outline)
    return Plate(wall.width_mm, wall.cut.cut_mm)


def _keep_out(plan: Plan, wall: Part) -> Iterator[KeepOut]:
    """Yield what no hole may come near: the posts behind the wall, the floor plate at its foot, its openings."""
    assert wall.width_mm is not None
    half, height = Fraction(wall.width_mm) / 2, Fraction(wall.cut.cut_mm)
    post = Fraction(plan.limits.post_mm)
    if any(part.wall == wall.name for part in plan.parts) and 2 * post < wall.width_mm:
        yield KeepOut("left post", -half, post - half, Fraction(0), height)
        yield KeepOut("right post", half - post, half, Fraction(0), height)
    plate = Fraction(plan.limits.wall_mm)
    if any(part.kind == "plate" for part in plan.parts) and plate < height:
        yield KeepOut("floor plate", -half, half, Fraction(0), plate)
    for opening in wall.openings:
        left, low = opening.centre_mm - opening.wide_mm / 2, opening.from_edge_mm
        yield KeepOut(opening.words, left, left + opening.wide_mm, low, low + opening.long_mm)


def _check_moved(plan: Plan, found: tuple[WallHoles, ...]) -> None:
    """Refuse a hole moved by hand that is none of the holes."""
    names = [hole.name for wall in found if wall.layout is not None for hole in wall.layout.holes]
    if any(wall.layout is None for wall in found):
        return  # the holes of that wall have no places to be moved from, and the reason is told
    for place, moved in enumerate(plan.job.holes):
        if moved.name not in names:
            raise plan.bench.located(("holes", place, "name"), UnknownChoice("the hole", moved.name, names))

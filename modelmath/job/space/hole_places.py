"""Where the holes lie on the walls: each strand and wire through the wall it leads to, moved by hand where asked."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from typing import TYPE_CHECKING

from modelmath.enclosure.holes import Hole, KeepOut, Layout, Plate, lay_out_holes, move_hole
from modelmath.errors import ModelMathError, UnknownChoice
from modelmath.lengths.text import format_length

if TYPE_CHECKING:
    from modelmath.enclosure import Part
    from modelmath.enclosure.parts import Opening
    from modelmath.job.holes import HoleLine
    from modelmath.job.plan import Plan


@dataclass(frozen=True)
class HoleMark:
    """How one hole is told from the others on every sheet.

    Attributes
    ----------
    letter : str
        Its circuit's letter, the same on every wall. [-]
    tag : str
        The letter, with a number where the circuit has several holes. [-]
    passes : str
        What goes through, such as ``strand of 0.75 mm``. [-]
    """

    letter: str
    tag: str
    passes: str


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
    marks : tuple of HoleMark
        One for each hole of the layout, in its order. [-]
    posts : {"", "behind it", "in front of it"}
        Where its posts stand for one who looks to the rear; empty where it has none. [-]
    """

    wall: str
    layout: Layout | None
    problem: str = ""
    marks: tuple[HoleMark, ...] = ()
    posts: str = ""

    @property
    def sentences(self) -> tuple[str, ...]:
        """What to mark out, the least web, and each web that is too thin. [-]"""
        if self.layout is None:
            return (self.problem,)
        return (*self.layout.marking_out, *self.layout.sentences)


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
    used = [wall for wall in walls if through[wall.name]]
    found = tuple(_on(plan, wall, through[wall.name]) for wall in used)
    _check_moved(plan, found)
    lines = [through[wall.name] for wall in used]
    return tuple(replace(each, marks=marks) for each, marks in zip(found, _marks(plan, lines), strict=True))


def _marks(plan: Plan, walls: Sequence[Sequence[HoleLine]]) -> Iterator[tuple[HoleMark, ...]]:
    """Yield each wall's marks: circuits have letters in the job's order, numbers go on from wall to wall."""
    circuits = list(dict.fromkeys(line.circuit for line in plan.holes))
    total, last = Counter[str](), Counter[str]()
    for line in plan.holes:
        total[line.circuit] += line.count
    for lines in walls:
        marks = []
        for line in (each for each in lines for _ in range(each.count)):
            last[line.circuit] += 1
            letter = _letter(circuits.index(line.circuit))
            number = str(last[line.circuit]) if total[line.circuit] > 1 else ""
            marks.append(HoleMark(letter, letter + number, f"{line.kind} of {format_length(line.diameter_mm, 'mm')}"))
        yield tuple(marks)


def _letter(number: int) -> str:
    """Return A, B, ... Z, AA, AB, ... for 0, 1, ..."""
    first, last = divmod(number, 26)
    return (_letter(first - 1) if first else "") + chr(ord("A") + last)


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
    web, edge, apart = (bench.length(getattr(asked, name), "hole_layout", name) for name in ("web", "edge", "apart"))
    row = _row_height(plan, wall) if asked.height is None else bench.length(asked.height, "hole_layout", "height")
    try:
        holes = [Hole(n.name, n.drill.diameter_mm, n.circuit, n.drill.name, n.count) for n in lines]
        plate = _plate(wall)
        layout = lay_out_holes(holes, plate, web, edge, kept_out(plan, wall), apart, asked.way, row)
    except ModelMathError as reason:
        return WallHoles(wall.name, None, str(reason), posts=_posts(plan, wall))
    names = [each.name for each in layout.holes]
    for place, moved in enumerate(plan.job.holes):
        if moved.name in names:
            right = bench.place(moved.right, "holes", place, "right")
            up = bench.length(moved.up, "holes", place, "up")
            layout = move_hole(layout, moved.name, right, up)
    return WallHoles(wall.name, layout, posts=_posts(plan, wall))


def _posts(plan: Plan, wall: Part) -> str:
    """Return where a wall's posts stand, looking to the rear: inside the chamber, away from the face that is placed."""
    if not any(part.wall == wall.name for part in plan.parts):
        return ""
    return "in front of it" if wall.face == "rear face" else "behind it"


def _row_height(plan: Plan, wall: Part) -> Fraction:
    """Return the height of a row where none is asked for: half way between the floor plate and the upper edge."""
    height, plate = Fraction(wall.cut.cut_mm), Fraction(plan.limits.wall_mm)
    return (height + plate) / 2 if plate < height else height / 2


def _plate(wall: Part) -> Plate:
    assert wall.width_mm is not None
    if wall.outline:
        return Plate(wall.width_mm, wall.cut.cut_mm, wall.outline)
    return Plate(wall.width_mm, wall.cut.cut_mm)


def kept_out(plan: Plan, wall: Part) -> tuple[KeepOut, ...]:
    """Return what no hole may come near: posts, the floor plate, openings, the flange of a speaker behind one.

    Parameters
    ----------
    plan : Plan
        The plan. [-]
    wall : Part
        One of its walls, its width known. [mm]

    Returns
    -------
    tuple of KeepOut
        From the wall's centre line and its lower edge. [mm]

    References
    ----------
    The plan's own sizes.
    """
    half, height = Fraction(wall.width_mm or 0) / 2, Fraction(wall.cut.cut_mm)
    post, found = Fraction(plan.limits.post_mm), []
    if any(part.wall == wall.name for part in plan.parts) and post < half:
        found.append(KeepOut("left post", -half, post - half, Fraction(0), height))
        found.append(KeepOut("right post", half - post, half, Fraction(0), height))
    plate = Fraction(plan.limits.wall_mm)
    if any(part.kind == "plate" for part in plan.parts) and plate < height:
        found.append(KeepOut("floor plate", -half, half, Fraction(0), plate))
    for opening in wall.openings:
        left, low = opening.centre_mm - opening.wide_mm / 2, opening.from_edge_mm
        found.append(KeepOut(opening.words, left, left + opening.wide_mm, low, low + opening.long_mm))
        found.extend(_flange(plan, wall, opening))
    return tuple(found)


def _flange(plan: Plan, wall: Part, opening: Opening) -> Iterator[KeepOut]:
    """Yield the flange that lies against a wall round the opening that its speaker sounds through."""
    speaker = plan.bench.speaker
    if speaker is None or wall.face != f"{speaker.faces} face" or opening.words != f"the {speaker.name}":
        return
    if not opening.from_edge_mm:
        return  # a notch in the lower edge, for something of the same name
    low = opening.from_edge_mm + (opening.long_mm - Fraction(speaker.length_mm)) / 2
    side = Fraction(speaker.width_mm) / 2
    yield KeepOut(f"flange of {opening.words}", -side, side, low, low + Fraction(speaker.length_mm))


def _check_moved(plan: Plan, found: tuple[WallHoles, ...]) -> None:
    """Refuse a hole moved by hand that is none of the holes."""
    names = [hole.name for wall in found if wall.layout is not None for hole in wall.layout.holes]
    if any(wall.layout is None for wall in found):
        return  # the holes of that wall have no places to be moved from, and the reason is told
    for place, moved in enumerate(plan.job.holes):
        if moved.name not in names:
            raise plan.bench.located(("holes", place, "name"), UnknownChoice("the hole", moved.name, names))

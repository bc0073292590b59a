"""What a stepped chamber is made of: walls, risers, the posts under them, floor plates, what carries the speaker.

All hang from the shell. A floor plate lies with its lower face at its floor's height, flush with the lower edge of what
stands at its ends. A riser covers the edge of the higher plate: it is higher than its step by the plate's thickness. It
hangs from the roof by two posts cut from the same sheet, which take no room from the speaker along the length.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from fractions import Fraction
from itertools import pairwise

from modelmath.clearance import Marks
from modelmath.enclosure.bodies import Speaker
from modelmath.enclosure.cavity import Bay, Cavity
from modelmath.enclosure.limits import Limits
from modelmath.enclosure.making.blocks import Block
from modelmath.enclosure.making.floors import LEAST_PLATE_MM
from modelmath.enclosure.making.walls import NAMES
from modelmath.enclosure.parts import Part, bulkhead, fillers, posts, supports
from modelmath.enclosure.stepped.as_cut import as_cut, exactly, over, roof_over
from modelmath.enclosure.stepped.built import widest
from modelmath.enclosure.stepped.chamber import FloorPlate, LevelFloor, Riser, SteppedChamber
from modelmath.enclosure.stepped.ground import Ground, Stretch, ground_in
from modelmath.errors import DoesNotFit, OutOfRange
from modelmath.lengths.numbers import Number

RISER_POST = "riser post"


@dataclass(frozen=True)
class SteppedPieces:
    """A stepped chamber as it is cut, and its pieces.

    Attributes
    ----------
    chamber : SteppedChamber
        As it is cut: its walls, steps and floors on marks where they can be. [mm]
    parts : tuple of Part
        Walls with their posts, then at each step riser and posts, then floor plates, then what carries the speaker.
        [mm]
    """

    chamber: SteppedChamber
    parts: tuple[Part, ...]


def pieces_of(
    chamber: SteppedChamber,
    cavity: Cavity,
    limits: Limits,
    speaker: Speaker | None,
    marks: Marks,
    space: Stretch | None = None,
) -> SteppedPieces:
    """Size every piece of a stepped chamber, with the place it stands at.

    Parameters
    ----------
    chamber : SteppedChamber
        One that `fit_stepped` found. [mm]
    cavity : Cavity
        What it was fitted into. [mm]
    limits : Limits
        Clearances, thickness of walls, risers and plates. [mm]
    speaker : Speaker or None
        The speaker in it. [mm]
    marks : Marks
        The rule and the finest mark cut to. [-]
    space : tuple of two, or None
        The space that it stays in. [mm]

    Returns
    -------
    SteppedPieces
        The chamber as it is cut, and its pieces. [mm]

    Raises
    ------
    DoesNotFit
        If a wall, or a support of the speaker, is left no height.
    OutOfRange
        If the space leaves no length.

    References
    ----------
    Arithmetic.

    Examples
    --------
    >>> from modelmath.enclosure import Zone
    >>> from modelmath.enclosure.stepped import fit_stepped
    >>> from modelmath.lengths.rules import Rule
    >>> cavity = Cavity((Zone("cab", 0, 20, 5, 15, 10), Zone("motor", 20, 60, 9, 15, 10)))
    >>> found = fit_stepped(cavity, Limits(clearance_mm=1))[-1]
    >>> marks = Marks(Rule(unit="mm", graduation="0.5"), "0.5")
    >>> for each in pieces_of(found, cavity, Limits(clearance_mm=1), None, marks).parts:
    ...     print(each.count, each.name, float(each.cut.cut_mm), each.face, float(each.position_mm))
    1 riser 5.0 rear face 20.0
    2 riser post 4.0 rear face 20.0
    1 floor plate, low front 19.0 front edge 0.0
    1 floor plate, high rear 40.0 front edge 20.0
    """
    if limits.wire_path_mm:
        cavity = cavity.narrowed(limits.wire_path_mm + limits.wall_mm)
    limits, speaker = exactly(limits), exactly(speaker)
    ground = ground_in(exactly(cavity), limits, speaker, 2 * limits.wall_mm, exactly(space))
    if ground is None:
        advice = "Give it what fit_stepped was given."
        raise OutOfRange("the space", "without length", "where the chamber was found", advice)
    bench = _Bench(ground, as_cut(chamber, ground, marks), marks)
    return SteppedPieces(bench.chamber, tuple(bench.all()))


@dataclass(frozen=True)
class _Bench:
    """A chamber as it is cut, where its pieces are sized. All exact."""

    ground: Ground
    chamber: SteppedChamber
    marks: Marks

    @property
    def wall_mm(self) -> Fraction:
        return Fraction(self.ground.wall_mm)

    def all(self) -> Iterator[Part]:
        yield from self._walls()
        steps = zip(self.chamber.risers, pairwise(self.chamber.floors), strict=True)
        for number, (riser, (front, rear)) in enumerate(steps, start=1):
            name = f"riser {number}" if self.chamber.steps > 1 else "riser"
            yield from self._at_step(name, riser, front.floor_mm < rear.floor_mm)
        for at, plate in enumerate(self.chamber.plates):
            yield from self._plates(plate, at)
        yield from self._under_speaker()

    # End walls.

    def _walls(self) -> Iterator[Part]:
        chamber, names = self.chamber, iter(NAMES)
        ends = (
            ((chamber.start_mm, chamber.inner_start_mm), 0, "front face"),
            ((chamber.inner_end_mm, chamber.end_mm), -1, "rear face"),
        )
        for (start, end), at, face in ends:
            if start < end:
                name, post_name = next(names)
                wall = self._wall(name, (start, end), chamber.floors[at], face)
                yield wall
                yield from self._posts(post_name, wall, Fraction(start if at else end), chamber.plates[at])

    def _posts(self, name: str, wall: Part, inner: Fraction, plate: FloorPlate) -> Iterator[Part]:
        """Yield the posts behind a wall that carry its plate; none where wall and riser leave nothing of that."""
        wide, front = Fraction(self.ground.limits.post_mm), wall.face == "front face"
        along = min(wide, Fraction(plate.length_mm))
        if wide and not along:
            return
        post = posts(name, wall, self.wall_mm, self.marks)
        low = Fraction(plate.floor_mm) + self.wall_mm
        stands = (inner, inner + along) if front else (inner - along, inner)
        roof = roof_over(self.ground, *stands) if along else low + post.cut.exact_mm
        if roof < low + post.cut.exact_mm:
            made_to = "a number: height under the lower roof over it, less floor plate"
            post = replace(post, cut=self.marks.down(roof - low, f"The {name}"), made_by="number", made_to=made_to)
        blocks = self._pair(stands, wide, low, low + post.cut.cut_mm)
        made_to = post.made_to
        if along < wide:
            made_to += f", thinned to {float(along):.2f} mm along the shell"
        yield replace(post, position_mm=inner, face=wall.face, blocks=blocks, made_to=made_to)

    def _wall(self, name: str, ends: Stretch, floor: LevelFloor, face: str) -> Part:
        roof = roof_over(self.ground, *ends)
        low = Fraction(floor.floor_mm)
        block = self._across(ends, low, roof)
        part = bulkhead(self.marks, roof - low, self.wall_mm, _width(block), name)
        outer = Fraction(ends[0] if face == "front face" else ends[1])
        return replace(part, position_mm=outer, face=face, cut_set=f"{name} height", blocks=(block,))

    def _across(self, ends: Stretch, low: Fraction, high: Fraction) -> Block:
        """Return what a piece fills that is as wide as the shell, before it is trimmed to its section."""
        side = Fraction(widest(self.ground.bays, ends, low, high)) / 2
        return Block(Fraction(ends[0]), Fraction(ends[1]), -side, side, low, high)

    def _pair(self, along: Stretch, wide: Fraction, low: Fraction, high: Fraction) -> tuple[Block, ...]:
        """Return what two posts fill, one at either side of the shell; nothing of posts that take no room."""
        if not wide:
            return ()
        side = Fraction(widest(self.ground.bays, along, low, low)) / 2
        return tuple(Block(*along, *across, low, high) for across in ((-side, wide - side), (side - wide, side)))

    # Steps.

    def _at_step(self, name: str, riser: Riser, rises: bool) -> Iterator[Part]:
        """Yield the riser and its posts; no posts where its upper edge reaches up to the roof."""
        step, face = (riser.end_mm, "rear face") if rises else (riser.start_mm, "front face")
        high = Fraction(riser.high_mm) + self.wall_mm
        roof = roof_over(self.ground, riser.start_mm, riser.end_mm)
        side = "in front of" if rises else "behind"
        made_to = (
            f"a number, its width the shell itself: it stands {side} the higher plate and covers its edge; sand its "
            "lower edge flush with the lower plate"
        )
        ends, low, top = (Fraction(riser.start_mm), Fraction(riser.end_mm)), Fraction(riser.low_mm), min(high, roof)
        block, cut = self._across(ends, low, top), self.marks.up(top - low)
        yield Part(
            name, "wall", 1, "across", cut, "number", made_to, cut_set=f"{name} height",
            width_mm=_width(block), thickness_mm=self.wall_mm, position_mm=Fraction(step), face=face, blocks=(block,),
        )  # fmt: skip
        try:
            size = self.marks.down(roof - high, "The riser post")
        except DoesNotFit:
            return
        post, made_to = name.replace("riser", RISER_POST), "a number: from the roof down to the riser's upper edge"
        wide = max(Fraction(self.ground.limits.post_mm), self.wall_mm)
        yield Part(
            post, "post", 2, "across", size, "number", made_to, cut_set=f"{post} height", wall=name, width_mm=wide,
            thickness_mm=self.wall_mm, position_mm=Fraction(step), face=face,
            blocks=self._pair(ends, wide, high, high + size.cut_mm),
        )  # fmt: skip

    # Floor plates.

    def _plates(self, plate: FloorPlate, at: int) -> Iterator[Part]:
        """Yield the plate of one level: of the one that the speaker sits on, what is in front of it and behind it."""
        seat, chamber = self.chamber.seat_mm, self.chamber
        name = f"floor plate{self._which(at)}"
        if seat is None or chamber.seat_on != at:
            yield from self._plate(name, (plate.start_mm, plate.end_mm), plate.floor_mm)
            return
        yield from self._plate(f"{name}, before the speaker", (plate.start_mm, seat[0]), plate.floor_mm)
        yield from self._plate(f"{name}, behind the speaker", (seat[1], plate.end_mm), plate.floor_mm)

    def _which(self, at: int) -> str:
        floors = self.chamber.floors
        if len(floors) == 1:
            return ""
        if len(floors) == 2:
            high = floors[at].floor_mm == max(each.floor_mm for each in floors)
            return f", {'high' if high else 'low'} {'rear' if at else 'front'}"
        return f" {at + 1} of {len(floors)}"

    def _plate(self, name: str, ends: Stretch, floor: Number) -> Iterator[Part]:
        gap = Fraction(ends[1]) - Fraction(ends[0])
        if gap < LEAST_PLATE_MM:
            return
        top = min(Fraction(floor) + self.wall_mm, roof_over(self.ground, *ends))
        block = self._across(ends, Fraction(floor), top)
        made_to = "the floor left open: hold it against its neighbours, flush with their lower edges, and sand"
        yield Part(
            name, "plate", 1, "across", self.marks.up(gap), "real thing", made_to, cut_set=name,
            width_mm=_width(block), thickness_mm=self.wall_mm, position_mm=Fraction(ends[0]), face="front edge",
            blocks=(block,),
        )  # fmt: skip

    # What carries the speaker.

    def _under_speaker(self) -> Iterator[Part]:
        speaker, seat, on = self.ground.speaker, self.chamber.seat_mm, self.chamber.seat_on
        if speaker is None or seat is None or on is None:
            return
        floor = Fraction(self.chamber.floors[on].floor_mm)
        bays, roof, place = over(self.ground, *seat), roof_over(self.ground, *seat), Fraction(seat[0])
        ceiling = min(_ceiling(bay, speaker, floor) for bay in bays)
        part = supports(self.marks, ceiling - floor, Fraction(speaker.flange_mm))
        sloping = any(bay.zone.profile is not None for bay in bays)
        made_to = part.made_to + (", its upper end trimmed to the slope of the roof" if sloping else "")
        size, low = Fraction(self.ground.limits.post_mm), floor + Fraction(speaker.flange_mm)
        side, high = Fraction(speaker.width_mm) / 2, low + part.cut.cut_mm
        blocks = tuple(
            Block(start, start + size, *across, low, high)
            for start in ((place, Fraction(seat[1]) - size) if size else ())
            for across in ((-side, size - side), (side - size, side))
        )
        yield replace(part, position_mm=place, face="front pair's front face", made_to=made_to, blocks=blocks)
        width = widest(self.ground.bays, seat, floor, min(floor + self.wall_mm, roof))
        filler = fillers(self.marks, Fraction(width), speaker, self.wall_mm)
        if filler is not None:
            yield replace(filler, position_mm=place, face="front end")


def _width(block: Block) -> Fraction:
    return Fraction(block.right_mm) - Fraction(block.left_mm)


def _ceiling(bay: Bay, speaker: Speaker, floor: Fraction) -> Fraction:
    """Return how high the section is as wide as the speaker: its roof, or where that slopes in."""
    wide = None if bay.zone.profile is None else bay.zone.profile.as_wide_as(speaker.width_mm, floor)
    return Fraction(wide[0][1]) if wide else Fraction(bay.zone.roof_mm)

"""The speaker's seat as a solid.

A speaker that faces down hangs on four supports from the roof. Those are the solid, joined by bars to a frame, so that
they are glued in as one piece. A bar is as high as a wall is thick. Where the flange has a rim outside the basket that
is known and wide enough, the bar lies on that rim, between two supports. Elsewhere it lies outside the flange, level
with its back or on floor plate and filler where those are higher, if it meets no other part there. The frame takes its
volume from the chamber's air; the plan counts the supports alone.

A speaker that faces an end sits on the wall there: the solid is that wall by itself, with the opening for the speaker
and the holes that the plan drills, for those who make the rest of strip. One that faces up lies under the roof and has
no seat but the opening in the roof.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from functools import cached_property
from typing import TYPE_CHECKING

from modelmath.drawings.solids.bodies import Share, Solid, bores_in, prisms_of
from modelmath.drawings.solids.prisms import Ends, inside, volume_of
from modelmath.enclosure import Part, Speaker, Zone
from modelmath.enclosure.fitting.pockets import INSIDE
from modelmath.enclosure.making.blocks import Block, apart, less
from modelmath.enclosure.making.footings import LEAST_FOOT_MM, rims_mm
from modelmath.lengths.numbers import as_fraction

if TYPE_CHECKING:
    from modelmath.job import Plan

FRAME = "frame"
IN_PIECES = (
    "Not all supports are joined: a bar of 0.5 mm or more finds no room on the flange's rim, as far as the basket's "
    "size is entered, nor outside the flange."
)


def seat_of(plan: Plan, zones: Sequence[Zone]) -> Solid | None:
    """Return what carries the speaker.

    Parameters
    ----------
    plan : Plan
        The plan. [-]
    zones : sequence of Zone
        The shell's zones, the wire path taken off. [mm]

    Returns
    -------
    Solid or None
        None without a speaker, and of one that faces up. [mm]

    Raises
    ------
    JobError
        If a length can't be read, or a hole moved by hand is none of them.

    References
    ----------
    The plan's own sizes and places.
    """
    speaker = plan.bench.speaker
    if speaker is None:
        return None
    if speaker.faces in ("front", "rear"):
        return _baffle(plan, speaker, zones)
    posts = [part for part in plan.parts if part.kind == "support" and part.blocks]
    if not posts:
        return None
    shares = [Share(part.name, tuple(prisms_of(part, part.blocks, zones))) for part in posts]
    bars = _Bars(plan, speaker, tuple(block for part in posts for block in part.blocks)).all()
    frame = Share(FRAME, tuple(inside(bars, zones)))
    if not frame.prisms:
        return Solid("seat", tuple(shares), (IN_PIECES,))
    solid = Solid("seat", (*shares, frame))
    note = (
        f"The frame that joins the supports takes {float(volume_of(frame.prisms)):.0f} mm3 of the chamber's air more "
        "than the plan counts."
    )
    return Solid("seat", solid.shares, (note,) if solid.mesh.pieces == 1 else (note, IN_PIECES))


def _baffle(plan: Plan, speaker: Speaker, zones: Sequence[Zone]) -> Solid | None:
    """Return the wall that a speaker sits on."""
    wall = next((part for part in plan.parts if _holds(part, speaker)), None)
    if wall is None:
        return None
    return Solid("seat", (Share(wall.name, tuple(prisms_of(wall, wall.blocks, zones)), tuple(bores_in(plan, wall))),))


def _holds(part: Part, speaker: Speaker) -> bool:
    """Whether a part is the wall with the opening for a speaker; a notch for what is called so too is none."""
    return (
        part.kind == "wall"
        and part.face == f"{speaker.faces} face"
        and any(each.words == f"the {speaker.name}" and each.from_edge_mm for each in part.openings)
    )


@dataclass(frozen=True)
class _Bars:
    """The bars between the supports of a speaker that faces down."""

    plan: Plan
    speaker: Speaker
    standing: tuple[Block, ...]

    def all(self) -> tuple[Block, ...]:
        """Return what the bars fill that the supports don't."""
        beside = [bar for bar in self._at_the_sides() if bar is not None]
        reach = (min([-self.side, *(bar.left_mm for bar in beside)]), max([self.side, *(b.right_mm for b in beside)]))
        across = (as_fraction(reach[0]), as_fraction(reach[1]))
        found = [*beside, *(bar for bar in self._at_the_ends(across) if bar is not None)]
        return less(apart(found), self.standing)

    def _at_the_ends(self, reach: Ends) -> Iterator[Block | None]:
        """Yield the bars at front and rear, outside the flange as far as those at the sides reach."""
        (start, end), across, size = self.along, (-self.side, self.side), self._foot(0)
        rim = self._rim(0, size)
        if rim is not None:
            for ends in ((start, start + rim), (end - rim, end)):
                yield Block(*ends, *across, self.low, self._top(self.low))
            return
        chamber = self.plan.chamber
        assert chamber is not None
        front = min(size, start - as_fraction(chamber.inner_start_mm))
        rear = min(size, as_fraction(chamber.inner_end_mm) - end)
        for ends in ((start - front, start), (end, end + rear)):
            yield self._outside(ends, reach) or self._outside(ends, across)

    def _at_the_sides(self) -> Iterator[Block | None]:
        side, size = self.side, self._foot(1)
        rim = self._rim(1, size)
        for right in (False, True):
            if rim is not None:
                across = (side - rim, side) if right else (-side, rim - side)
                yield Block(*self.along, *across, self.low, self._top(self.low))
                continue
            across = (side, side + size) if right else (-side - size, -side)
            wide = min(size, self._beside(self._bottom(self.along, across)))
            yield self._outside(self.along, (side, side + wide) if right else (-side - wide, -side))

    def _outside(self, along: Ends, across: Ends) -> Block | None:
        """Return a bar outside the flange, on what lies there; None where it is too thin or meets something."""
        if min(along[1] - along[0], across[1] - across[0]) < LEAST_FOOT_MM:
            return None
        bottom = self._bottom(along, across)
        bar = Block(*along, *across, bottom, self._top(bottom))
        clear = bar.bottom_mm < bar.top_mm and not any(bar.meets(each) for each in self._taken)
        return bar if clear else None

    def _bottom(self, along: Ends, across: Ends) -> Fraction:
        """Return where a bar begins: level with the flange's back, or on what lies there if that is higher."""
        over = [b for b in self._floor if b.start_mm < along[1] and along[0] < b.end_mm]
        under = [as_fraction(b.top_mm) for b in over if b.left_mm < across[1] and across[0] < b.right_mm]
        return max([self.low, *under])

    def _beside(self, bottom: Fraction) -> Fraction:
        """Return the least room between flange and shell, as high as a bar reaches from there."""
        enclosure = self.plan.enclosure
        assert enclosure is not None
        over = [z for z in enclosure.cavity.zones if z.start_mm < self.along[1] and self.along[0] < z.end_mm]
        return min(as_fraction(zone.width_over(bottom, self._top(bottom))) for zone in over) / 2 - self.side

    @property
    def along(self) -> Ends:
        return min(as_fraction(b.start_mm) for b in self.standing), max(as_fraction(b.end_mm) for b in self.standing)

    @property
    def side(self) -> Fraction:
        return max(as_fraction(block.right_mm) for block in self.standing)

    @property
    def low(self) -> Fraction:
        """Where the supports end below: on the flange."""
        return max(as_fraction(block.bottom_mm) for block in self.standing)

    def _top(self, bottom: Fraction) -> Fraction:
        high = min(as_fraction(block.top_mm) for block in self.standing)
        return min(bottom + Fraction(self.plan.limits.wall_mm), high)

    def _foot(self, axis: int) -> Fraction:
        """Return a support's size, along or across."""
        ends = (("start_mm", "end_mm"), ("left_mm", "right_mm"))[axis]
        return min(as_fraction(getattr(b, ends[1])) - as_fraction(getattr(b, ends[0])) for b in self.standing)

    def _rim(self, axis: int, size: Fraction) -> Fraction | None:
        rim = rims_mm(self.speaker)[axis]
        return None if rim is None or rim < LEAST_FOOT_MM else min(rim, size)

    @cached_property
    def _floor(self) -> tuple[Block, ...]:
        """What a bar may lie on."""
        return tuple(b for part in self.plan.parts if part.kind in ("plate", "filler") for b in part.blocks)

    @cached_property
    def _taken(self) -> tuple[Block, ...]:
        """What a bar must not meet: every other part, and the decoder's room."""
        found = [b for part in self.plan.parts if part.kind != "support" for b in part.blocks]
        pocket = None if self.plan.chamber is None else self.plan.chamber.pocket
        if pocket is not None and pocket.where == INSIDE:
            half = as_fraction(pocket.across_mm) / 2
            found.append(Block(pocket.start_mm, pocket.end_mm, -half, half, pocket.bottom_mm, pocket.top_mm))
        return tuple(found)

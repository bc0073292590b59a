"""Where parts lie: upright blocks, what is left of one when others are taken off, and the volume inside a chamber."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from functools import cached_property

from modelmath.enclosure.cavity import Bay
from modelmath.enclosure.fitting.halves import half
from modelmath.enclosure.obstacles import Obstacle
from modelmath.lengths.numbers import Number, as_fraction

AXES = (("start_mm", "end_mm"), ("left_mm", "right_mm"), ("bottom_mm", "top_mm"))


@dataclass(frozen=True)
class Block:
    """An upright block.

    Attributes
    ----------
    start_mm, end_mm : Fraction or float
        Front and rear end, from the fore-aft mark, positive to the rear. [mm]
    left_mm, right_mm : Fraction or float
        Across, from the chamber's own centre line, positive to the right looking to the rear. [mm]
    bottom_mm, top_mm : Fraction or float
        Heights above the seat. [mm]
    """

    start_mm: Number
    end_mm: Number
    left_mm: Number
    right_mm: Number
    bottom_mm: Number
    top_mm: Number

    @property
    def volume_mm3(self) -> Number:
        """Its volume; 0 where it has no extent one way. [mm3]"""
        sides = (
            self.end_mm - self.start_mm,
            self.right_mm - self.left_mm,
            self.top_mm - self.bottom_mm,
        )
        return sides[0] * sides[1] * sides[2] if min(sides) > 0 else 0

    def meets(self, other: Block) -> bool:
        """Say whether the two share more than a face.

        Parameters
        ----------
        other : Block
            Another block. [mm]

        Returns
        -------
        bool
            Whether they overlap. [-]

        References
        ----------
        Two upright boxes overlap where their extents do along each axis.
        """
        return (
            self.start_mm < other.end_mm
            and other.start_mm < self.end_mm
            and self.bottom_mm < other.top_mm
            and other.bottom_mm < self.top_mm
            and self.left_mm < other.right_mm
            and other.left_mm < self.right_mm
            and self._has_extent
            and other._has_extent
        )

    @cached_property
    def _has_extent(self) -> bool:
        """Whether it has some extent each way. [-]"""
        return self.start_mm < self.end_mm and self.left_mm < self.right_mm and self.bottom_mm < self.top_mm


def block_of(obstacle: Obstacle) -> Block:
    """Return the box that an obstacle takes, its running clearance in it.

    Parameters
    ----------
    obstacle : Obstacle
        With exact sizes. [mm]

    Returns
    -------
    Block
        The same as a block. [mm]

    References
    ----------
    Arithmetic.
    """
    centre, side = as_fraction(obstacle.centre_mm), as_fraction(obstacle.half_width_mm)
    ends = as_fraction(obstacle.start_mm), as_fraction(obstacle.end_mm)
    return Block(*ends, centre - side, centre + side, as_fraction(obstacle.bottom_mm), as_fraction(obstacle.top_mm))


def less(blocks: Iterable[Block], others: Sequence[Block]) -> tuple[Block, ...]:
    """Return what is left of blocks when others are taken off them.

    Parameters
    ----------
    blocks : iterable of Block
        Blocks. [mm]
    others : sequence of Block
        What is taken off. [mm]

    Returns
    -------
    tuple of Block
        Blocks that don't overlap those taken off. [mm]

    References
    ----------
    A box less a box is at most six boxes: what lies beyond it along each axis in turn.

    Examples
    --------
    >>> [each.volume_mm3 for each in less([Block(0, 3, 0, 1, 0, 1)], [Block(1, 2, -1, 2, -1, 2)])]
    [1, 1]
    """
    left = list(blocks)
    for other in others:
        left = [piece for block in left for piece in _less_one(block, other)]
    return tuple(left)


def _less_one(block: Block, other: Block) -> list[Block]:
    if not block.meets(other):
        return [block]
    pieces = []
    for low, high in AXES:
        if getattr(block, low) < getattr(other, low):
            pieces.append(replace(block, **{high: getattr(other, low)}))
            block = replace(block, **{low: getattr(other, low)})
        if getattr(block, high) > getattr(other, high):
            pieces.append(replace(block, **{low: getattr(other, high)}))
            block = replace(block, **{high: getattr(other, high)})
    return pieces


def apart(blocks: Sequence[Block]) -> tuple[Block, ...]:
    """Return blocks that fill the same space, none overlapping another.

    Parameters
    ----------
    blocks : sequence of Block
        Blocks. [mm]

    Returns
    -------
    tuple of Block
        The first as it is, of each later one what is left. [mm]

    References
    ----------
    `less`.
    """
    found: tuple[Block, ...] = ()
    for block in blocks:
        found += less([block], found)
    return found


def volume_inside_mm3(blocks: Sequence[Block], bays: Sequence[Bay], floor_mm: Number) -> Number:
    """Return the volume of blocks that lies under the roof, above a floor and within the section.

    Parameters
    ----------
    blocks : sequence of Block
        Blocks that don't overlap each other. [mm]
    bays : sequence of Bay
        The chamber's bays, cut at its inner faces. [mm]
    floor_mm : Fraction or float
        Height of its floor. [mm]

    Returns
    -------
    Fraction or float
        Volume. [mm3]

    References
    ----------
    Cross-section times length, bay by bay.
    """
    total: Number = 0
    for block in blocks:
        for bay in bays:
            length = min(block.end_mm, bay.end_mm) - max(block.start_mm, bay.start_mm)
            if length > 0:
                total += length * _area_mm2(block, bay, floor_mm)
    return total


def _area_mm2(block: Block, bay: Bay, floor: Number) -> Number:
    low, high = max(block.bottom_mm, floor), min(block.top_mm, bay.zone.roof_mm)
    if high <= low or block.right_mm <= block.left_mm:
        return 0
    if bay.zone.profile is not None:
        return bay.zone.profile.area_within(low, high, block.left_mm, block.right_mm)
    side = half(bay.zone.width_mm)
    return max(min(block.right_mm, side) - max(block.left_mm, -side), 0) * (high - low)

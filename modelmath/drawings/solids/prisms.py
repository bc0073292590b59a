"""Blocks cut to the shell's cross-section, as prisms along the length. Every corner is an exact fraction.

A prism is a trapezoid drawn out along the length: between two heights each of its sides is straight. So a block under a
roof that slopes becomes a few prisms, one between each two heights at which the section bends or meets the block's
side, and their volumes are exact.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import pairwise

from modelmath.enclosure import Zone
from modelmath.enclosure.making.blocks import Block
from modelmath.lengths.numbers import as_fraction

Ends = tuple[Fraction, Fraction]
Outline = Sequence[tuple[Fraction, Fraction]]


@dataclass(frozen=True)
class Prism:
    """A trapezoid between two heights, drawn out along the length.

    Attributes
    ----------
    along_mm : tuple of two Fraction
        Front and rear end, from the fore-aft mark. [mm]
    up_mm : tuple of two Fraction
        Lower and upper height above the seat. [mm]
    foot_mm, head_mm : tuple of two Fraction
        Left and right end at the lower and at the upper height, positive to the right looking to the rear. [mm]
    """

    along_mm: Ends
    up_mm: Ends
    foot_mm: Ends
    head_mm: Ends

    @property
    def volume_mm3(self) -> Fraction:
        """Its volume. [mm3]"""
        wide = (self.foot_mm[1] - self.foot_mm[0] + self.head_mm[1] - self.head_mm[0]) / 2
        return (self.along_mm[1] - self.along_mm[0]) * (self.up_mm[1] - self.up_mm[0]) * wide


def volume_of(prisms: Iterable[Prism]) -> Fraction:
    """Return the volume of prisms that don't overlap.

    Parameters
    ----------
    prisms : iterable of Prism
        Prisms. [mm]

    Returns
    -------
    Fraction
        Volume. [mm3]

    References
    ----------
    Of a trapezoid, its mean width times its height.
    """
    return sum((prism.volume_mm3 for prism in prisms), Fraction(0))


def prism_of(block: Block) -> Prism:
    """Return a block as a prism.

    Parameters
    ----------
    block : Block
        The block. [mm]

    Returns
    -------
    Prism
        The same. [mm]

    References
    ----------
    None needed.
    """
    sides = (as_fraction(block.left_mm), as_fraction(block.right_mm))
    along = (as_fraction(block.start_mm), as_fraction(block.end_mm))
    return Prism(along, (as_fraction(block.bottom_mm), as_fraction(block.top_mm)), sides, sides)


def within_outline(block: Block, outline: Outline) -> Iterator[Prism]:
    """Yield what of a block lies within an outline that is the same on both sides.

    Parameters
    ----------
    block : Block
        The block. [mm]
    outline : sequence of (Fraction, Fraction)
        Height above the seat and half-width, from the lowest up; two points at one height are a ledge. [mm]

    Yields
    ------
    Prism
        From the lowest up; none where nothing is left. [mm]

    References
    ----------
    The lesser of two straight lines is straight between their crossings.

    Examples
    --------
    >>> tent = ((Fraction(0), Fraction(4)), (Fraction(4), Fraction(0)))
    >>> [float(each.volume_mm3) for each in within_outline(Block(0, 1, -2, 2, 1, 9), tent)]
    [4.0, 4.0]
    """
    whole = prism_of(block)
    if whole.volume_mm3 <= 0:
        return
    sides = whole.foot_mm
    for (low, start), (high, end) in pairwise(outline):
        if high <= low:
            continue
        slope = (end - start) / (high - low)
        first, last = max(low, whole.up_mm[0]), min(high, whole.up_mm[1])
        crossed = [low + (abs(side) - start) / slope for side in sides] if slope else []
        heights = sorted({first, last, *(each for each in crossed if first < each < last)})
        for bottom, top in pairwise(heights) if first < last else ():
            foot, head = (_between(sides, start + slope * (each - low)) for each in (bottom, top))
            if foot[1] >= foot[0] and head[1] >= head[0] and foot[1] - foot[0] + head[1] - head[0] > 0:
                yield Prism(whole.along_mm, (bottom, top), foot, head)


def _between(sides: Ends, half: Fraction) -> Ends:
    return max(sides[0], -half), min(sides[1], half)


def outline_of(zone: Zone, low_mm: Fraction) -> Outline:
    """Return a zone's half-width against height, from a height up to its roof.

    Parameters
    ----------
    zone : Zone
        The zone. [mm]
    low_mm : Fraction
        The height to begin at, or lower. [mm]

    Returns
    -------
    sequence of (Fraction, Fraction)
        Height and half-width; below its first point a section is as wide as there. [mm]

    References
    ----------
    `Profile`.
    """
    if zone.profile is None:
        half, roof = as_fraction(zone.width_mm) / 2, as_fraction(zone.roof_mm)
        return ((min(low_mm, roof), half), (roof, half))
    points = zone.profile.exact_points
    return ((min(low_mm, points[0][0]), points[0][1]), *points)


def inside(blocks: Iterable[Block], zones: Sequence[Zone]) -> Iterator[Prism]:
    """Yield what of blocks lies within the shell, under its roof.

    Parameters
    ----------
    blocks : iterable of Block
        Blocks. [mm]
    zones : sequence of Zone
        The shell's zones. [mm]

    Yields
    ------
    Prism
        Zone by zone for each block. [mm]

    References
    ----------
    `within_outline`.
    """
    for block in blocks:
        start, end, low = as_fraction(block.start_mm), as_fraction(block.end_mm), as_fraction(block.bottom_mm)
        for zone in zones:
            first, last = max(start, as_fraction(zone.start_mm)), min(end, as_fraction(zone.end_mm))
            if first < last:
                piece = Block(first, last, block.left_mm, block.right_mm, low, block.top_mm)
                yield from within_outline(piece, outline_of(zone, low))

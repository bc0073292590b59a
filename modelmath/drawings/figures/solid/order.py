"""Solids parted by planes until each stands alone, so that any view can paint them from the back to the front.

Of two bodies on either side of a plane, the one on the viewer's side can't be hidden by the other. A tree of such
planes therefore gives a right order for every view, without a search. Where solids reach into one another, the planes
part both until the same room is left for both; there the one with the higher rank stays.
"""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from modelmath.drawings.figures.solid.outlines import ACROSS, UP, bounds, clipped
from modelmath.drawings.shapes import Point

SAME = 1e-6  # mm; nearer planes are one
CUT_COSTS = 4  # how many bodies more on one side of a plane than on the other weigh as much as one body parted

Vector = tuple[float, float, float]


@dataclass(frozen=True)
class Block:
    """A solid or what is left of it, with what of its outline is an edge of the solid itself.

    Attributes
    ----------
    solid : int
        The solid it is of, by its place. [-]
    start, end : float
        Front and rear end. [mm]
    outline : tuple of Point
        Across and up, anticlockwise. [mm]
    sides : tuple of bool
        Whether the side from each point to the next is one of the solid. [-]
    corners : tuple of bool
        Whether each point is one of the solid. [-]
    ends : tuple of bool
        Whether front and rear end are those of the solid. [-]
    """

    solid: int
    start: float
    end: float
    outline: tuple[Point, ...]
    sides: tuple[bool, ...]
    corners: tuple[bool, ...]
    ends: tuple[bool, bool] = (True, True)

    @property
    def box(self) -> tuple[Point, Point, Point]:
        """Its ends along, across and up. [mm]"""
        return ((self.start, self.end), *bounds(self.outline))


@dataclass(frozen=True)
class Node:
    """A plane, and what lies short of it and beyond it.

    Attributes
    ----------
    axis : int
        0 along, 1 across, 2 up. [-]
    at : float
        Where the plane lies. [mm]
    low, high : Node, Block or None
        On either side. [-]
    """

    axis: int
    at: float
    low: Tree
    high: Tree


Tree = Node | Block | None


def whole(solid: int, start: float, end: float, outline: Sequence[Point]) -> Block:
    """Return a solid that is not parted.

    Parameters
    ----------
    solid : int
        Its place among the solids. [-]
    start, end : float
        Front and rear end. [mm]
    outline : sequence of Point
        Across and up, anticlockwise. [mm]

    Returns
    -------
    Block
        All its edges are its own. [mm]

    References
    ----------
    None needed.
    """
    every = (True,) * len(outline)
    return Block(solid, start, end, tuple(outline), every, every)


def parted(block: Block, axis: int, at: float) -> tuple[Block | None, Block | None]:
    """Part a block by a plane.

    Parameters
    ----------
    block : Block
        The block. [mm]
    axis : int
        0 along, 1 across, 2 up. [-]
    at : float
        Where the plane lies. [mm]

    Returns
    -------
    tuple of Block or None
        What lies short of it and what lies beyond it. [mm]

    References
    ----------
    `clipped`.
    """
    low, high = block.box[axis]
    if high <= at + SAME:
        return block, None
    if low >= at - SAME:
        return None, block
    if axis == 0:
        front = replace(block, end=at, ends=(block.ends[0], False))
        return front, replace(block, start=at, ends=(False, block.ends[1]))
    return _clipped(block, axis - 1, at, False), _clipped(block, axis - 1, at, True)


def _clipped(block: Block, axis: int, at: float, above: bool) -> Block | None:
    """Return what of a block lies on one side of a plane; a side or corner that the plane made is no edge."""
    assert axis in (ACROSS, UP)
    outline = clipped(block.outline, axis, at, above)
    if not outline:
        return None
    corner_of = dict(zip(block.outline, block.corners, strict=True))
    corners = tuple(corner_of.get(point, False) for point in outline)
    made = [(a, b) for a, b, kept in zip(block.outline, _next(block.outline), block.sides, strict=True) if kept]
    sides = tuple(
        not (abs(start[axis] - at) < SAME and abs(end[axis] - at) < SAME)
        and any(_on(start, end, *side) for side in made)
        for start, end in zip(outline, _next(outline), strict=True)
    )
    return replace(block, outline=outline, sides=sides, corners=corners)


def _next(points: tuple[Point, ...]) -> tuple[Point, ...]:
    return (*points[1:], points[0])


def _on(start: Point, end: Point, one: Point, other: Point) -> bool:
    """Whether a stretch lies on the line between two points."""
    (x, y), (dx, dy) = one, (other[0] - one[0], other[1] - one[1])
    reach = max(abs(dx), abs(dy))
    return all(abs((px - x) * dy - (py - y) * dx) <= 10 * SAME * reach for px, py in (start, end))


def tree_of(blocks: Sequence[Block], ranks: Sequence[int]) -> Tree:
    """Part blocks by planes until each stands alone.

    Parameters
    ----------
    blocks : sequence of Block
        The blocks; they may touch, and reach into one another. [mm]
    ranks : sequence of int
        Rank of each solid: where two have the same room, the higher stays. [-]

    Returns
    -------
    Node, Block or None
        The tree. [mm]

    References
    ----------
    H. Fuchs, Z. M. Kedem, B. F. Naylor: On visible surface generation by a priori tree structures, SIGGRAPH 1980.
    """
    if len(blocks) < 2:
        return blocks[0] if blocks else None
    plane = _plane(blocks)
    if plane is None:
        return max(blocks, key=lambda block: (ranks[block.solid], -block.solid))
    axis, at = plane
    pairs = [parted(block, axis, at) for block in blocks]
    low, high = ([each for each in side if each is not None] for side in zip(*pairs, strict=True))
    return Node(axis, at, tree_of(low, ranks), tree_of(high, ranks))


def _plane(blocks: Sequence[Block]) -> tuple[int, float] | None:
    """Return the plane through a face that parts the fewest blocks and leaves the sides most alike in number."""
    best: tuple[int, int, float] | None = None
    boxes = [block.box for block in blocks]
    for axis in range(3):
        lows, highs = sorted(box[axis][0] for box in boxes), sorted(box[axis][1] for box in boxes)
        for at in sorted({*lows, *highs}):
            short = bisect_right(highs, at + SAME)
            beyond = len(blocks) - bisect_left(lows, at - SAME)
            cut = len(blocks) - short - beyond
            if len(blocks) in (short, beyond):
                continue
            cost = CUT_COSTS * cut + abs(short - beyond)
            if best is None or cost < best[0]:
                best = (cost, axis, at)
    return None if best is None else best[1:]


def back_to_front(tree: Tree, toward: Vector) -> Iterator[Block]:
    """Yield the blocks in the order to paint them.

    Parameters
    ----------
    tree : Node, Block or None
        The tree. [mm]
    toward : tuple of three
        The way to the viewer: along, across, up. [-]

    Yields
    ------
    Block
        What may hide another after it. [mm]

    References
    ----------
    H. Fuchs, Z. M. Kedem, B. F. Naylor: On visible surface generation by a priori tree structures, SIGGRAPH 1980.
    """
    if tree is None:
        return
    if isinstance(tree, Block):
        yield tree
        return
    first, last = (tree.low, tree.high) if toward[tree.axis] > 0 else (tree.high, tree.low)
    yield from back_to_front(first, toward)
    yield from back_to_front(last, toward)

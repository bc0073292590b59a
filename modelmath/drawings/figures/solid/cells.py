"""Solids from blocks: an outline drawn out along the length, and which of its edges are edges of the whole thing.

A part with an opening is several blocks. Laid on one grid of planes they become cells; where two cells touch there is
no edge to draw. A cell is clipped to the shell's inside.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

from modelmath.drawings.figures.solid.outlines import bounds, within
from modelmath.drawings.shapes import Point

SAME = 1e-6  # mm; nearer planes are one

Extent = tuple[Point, Point, Point]  # ends along, across and up
Outline = tuple[Point, ...]
Place = tuple[int, int, int]


@dataclass(frozen=True)
class Edges:
    """Which edges are those of the whole thing: of each side, of each corner, of front and rear end. [-]"""

    sides: tuple[bool, ...]
    corners: tuple[bool, ...]
    ends: tuple[bool, bool]


@dataclass(frozen=True)
class Solid:
    """An outline drawn out along the length.

    Attributes
    ----------
    kind, words : str
        What kind of thing it is, and the words for it. [-]
    start, end : float
        Front and rear end, from the fore-aft mark. [mm]
    outline : tuple of Point
        Across and up, anticlockwise. [mm]
    edges : Edges or None
        Which edges are those of the whole thing; None for all. [-]
    """

    kind: str
    words: str
    start: float
    end: float
    outline: Outline
    edges: Edges | None = None

    @property
    def box(self) -> Extent:
        """Its ends along, across and up. [mm]"""
        return ((self.start, self.end), *bounds(self.outline))

    @property
    def ends(self) -> tuple[bool, bool]:
        """Whether front and rear end are those of the whole thing. [-]"""
        return (True, True) if self.edges is None else self.edges.ends

    @property
    def sides(self) -> tuple[tuple[Point, Point, bool], ...]:
        """Each side by its two ends, and whether it is one of the whole thing. [mm]"""
        own = (True,) * len(self.outline) if self.edges is None else self.edges.sides
        return tuple(
            (start, end, kept)
            for (start, end), kept in zip(pairwise((*self.outline, self.outline[0])), own, strict=True)
        )

    def beside(self) -> tuple[bool, bool]:
        """Return whether its left and its right side are those of the whole thing. [-]"""
        left, right = bounds(self.outline)[0]
        upright = [(start[0], kept) for start, end, kept in self.sides if abs(start[0] - end[0]) < SAME]
        return (
            all(kept for at, kept in upright if abs(at - left) < SAME),
            all(kept for at, kept in upright if abs(at - right) < SAME),
        )


def solids_from(
    kind: str,
    words: str,
    extents: Sequence[Extent],
    planes: Iterable[float],
    inside: Callable[[float], Outline],
) -> Iterator[Solid]:
    """Yield the solids that blocks make; those that touch have no edge between them.

    Parameters
    ----------
    kind, words : str
        What they are. [-]
    extents : sequence of Extent
        Ends along, across and up of each block. [mm]
    planes : iterable of float
        Places along at which the shell's inside may change. [mm]
    inside : callable
        The outline of the shell's inside at a place along; blocks are clipped to it. [mm]

    Yields
    ------
    Solid
        From front to rear. [mm]

    References
    ----------
    None needed.
    """
    stops = sorted(planes)
    for group in _touching(extents):
        grid = _Grid(group, stops, inside)
        for (start, end), place in grid.merged():
            yield Solid(kind, words, start, end, grid.cells[place], grid.edges(place, start, end))


def _touching(extents: Sequence[Extent]) -> list[list[Extent]]:
    groups: list[list[Extent]] = []
    for extent in extents:
        near = [group for group in groups if any(_meet(extent, other) for other in group)]
        groups = [group for group in groups if group not in near]
        groups.append([extent, *(each for group in near for each in group)])
    return groups


def _meet(one: Extent, other: Extent) -> bool:
    return all(max(a[0], b[0]) <= min(a[1], b[1]) + SAME for a, b in zip(one, other, strict=True))


def _steps(values: Iterable[float]) -> list[float]:
    found: list[float] = []
    for value in sorted(values):
        if not found or value - found[-1] > SAME:
            found.append(value)
    return found


class _Grid:
    """Touching blocks as cells of one grid, each with its outline."""

    def __init__(self, extents: Sequence[Extent], stops: Sequence[float], inside: Callable[[float], Outline]) -> None:
        first, last = min(e[0][0] for e in extents), max(e[0][1] for e in extents)
        between = [at for at in stops if first + SAME < at < last - SAME]
        self.along = _steps([*between, *(at for extent in extents for at in extent[0])])
        self.across = _steps(at for extent in extents for at in extent[1])
        self.up = _steps(at for extent in extents for at in extent[2])
        self.cells: dict[Place, Outline] = {}
        for k, (start, end) in enumerate(pairwise(self.along)):
            shell = inside((start + end) / 2)
            for i, (left, right) in enumerate(pairwise(self.across)):
                for j, (low, high) in enumerate(pairwise(self.up)):
                    middle = ((start + end) / 2, (left + right) / 2, (low + high) / 2)
                    if any(_holds(extent, middle) for extent in extents):
                        outline = within(shell, low, high, left, right)
                        if outline:
                            self.cells[k, i, j] = outline

    def _slice(self, k: int) -> dict[tuple[int, int], Outline]:
        return {(i, j): outline for (at, i, j), outline in self.cells.items() if at == k}

    def merged(self) -> Iterator[tuple[Point, Place]]:
        """Yield the cells with their ends along, those that go on alike as one."""
        k, count = 0, len(self.along) - 1
        while k < count:
            here, last = self._slice(k), k + 1
            while last < count and self._slice(last) == here:
                last += 1
            for i, j in here:
                yield (self.along[k], self.along[last]), (k, i, j)
            k = last

    def edges(self, place: Place, start: float, end: float) -> Edges | None:
        """Return which edges of a cell are those of the whole; None for all."""
        _, i, j = place
        outline = self.cells[place]
        sides = tuple(not self._seam(place, one, other) for one, other in pairwise((*outline, outline[0])))
        corners = tuple(self._corner(place, at, sides[n - 1] and sides[n]) for n, at in enumerate(outline))
        before, after = self.along.index(start) - 1, self.along.index(end)
        ends = (self.cells.get((before, i, j)) != outline, self.cells.get((after, i, j)) != outline)
        found = Edges(sides, corners, ends)
        return None if all((*sides, *corners, *ends)) else found

    def _seam(self, place: Place, one: Point, other: Point) -> bool:
        """Whether a side lies against a neighbour."""
        k, i, j = place
        for axis, steps, near, beyond in (
            (0, self.across, (k, i - 1, j), (k, i + 1, j)),
            (1, self.up, (k, i, j - 1), (k, i, j + 1)),
        ):
            at = place[axis + 1]
            for plane, neighbour in ((steps[at], near), (steps[at + 1], beyond)):
                if neighbour in self.cells and all(abs(point[axis] - plane) < SAME for point in (one, other)):
                    return True
        return False

    def _corner(self, place: Place, at: Point, free: bool) -> bool:
        """Whether the edge along the length at a corner is one of the whole: not where cells only go on there."""
        k, i, j = place
        over = [n for n, plane in ((i, self.across[i]), (i + 1, self.across[i + 1])) if abs(at[0] - plane) < SAME]
        high = [n for n, plane in ((j, self.up[j]), (j + 1, self.up[j + 1])) if abs(at[1] - plane) < SAME]
        if not over or not high:
            return free
        x, y = over[0], high[0]
        around = [(k, x + a, y + b) in self.cells for a, b in ((-1, -1), (0, -1), (0, 0), (-1, 0))]
        count = sum(around)
        return count in (1, 3) or (count == 2 and around[0] == around[2])


def _holds(extent: Extent, at: tuple[float, float, float]) -> bool:
    return all(low < each < high for (low, high), each in zip(extent, at, strict=True))


def raised(extents: Iterable[Extent], by: float) -> list[Extent]:
    """Return blocks moved up.

    Parameters
    ----------
    extents : iterable of Extent
        Blocks. [mm]
    by : float
        How far. [mm]

    Returns
    -------
    list of Extent
        The same, higher. [mm]

    References
    ----------
    None needed.
    """
    return [(along, across, (low + by, high + by)) for along, across, (low, high) in extents]

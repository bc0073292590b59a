"""The surface of prisms that touch, found in exact arithmetic.

All planes along the length, all heights, and at each pair of heights all sides cut space into cells; a prism fills some
of them whole. The surface is made of the sides of filled cells behind which there is none. Cells beside each other
have their corners in common, so that no edge ends within another, and no rounding can open a seam.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from functools import cached_property
from itertools import pairwise

from modelmath.drawings.solids.prisms import Ends, Prism

Corner = tuple[Fraction, Fraction, Fraction]
Triangle = tuple[Corner, Corner, Corner]


def surface_of(prisms: Sequence[Prism]) -> Iterator[Triangle]:
    """Yield the triangles of the surface that several prisms have together.

    Parameters
    ----------
    prisms : sequence of Prism
        Prisms, that may touch. [mm]

    Yields
    ------
    tuple of three corners
        Place along, across and up of each; clockwise seen from outside in a picture with across to the right, along to
        the back and up, which is anticlockwise once across counts to the left. [mm]

    References
    ----------
    Boundary of a cell complex: the faces that belong to one cell alone.

    Examples
    --------
    >>> one, two, three = (Fraction(each) for each in (0, 1, 2))
    >>> boxes = [Prism(ends, (one, two), (one, two), (one, two)) for ends in ((one, two), (two, three))]
    >>> len(list(surface_of(boxes)))  # two of twelve, less the two faces that touch
    20
    """
    cells = _Cells(tuple(prisms))
    for triangle in (*cells.ends(), *cells.levels(), *cells.sides()):
        if len(set(triangle)) == 3:
            yield triangle


def apart(prisms: Sequence[Prism]) -> Iterator[Prism]:
    """Yield prisms that fill the same space, none overlapping another.

    Parameters
    ----------
    prisms : sequence of Prism
        Prisms, that may overlap. [mm]

    Yields
    ------
    Prism
        From the lowest up, each height from the front. [mm]

    References
    ----------
    The cells that they fill.

    Examples
    --------
    >>> one, two = ((Fraction(each), Fraction(each + 2)) for each in (0, 1))
    >>> boxes = [Prism(one, one, sides, sides) for sides in (one, two)]
    >>> sum(each.volume_mm3 for each in apart(boxes))
    Fraction(12, 1)
    """
    cells = _Cells(tuple(prisms))
    for up, lines, filled in zip(pairwise(cells.up), cells.lines, cells.filled, strict=True):
        for i, k in sorted(filled):
            (left, over_left), (right, over_right) = lines[k], lines[k + 1]
            yield Prism((cells.along[i], cells.along[i + 1]), up, (left, right), (over_left, over_right))


@dataclass(frozen=True)
class _Cells:
    """Space cut into cells, and which of them are filled."""

    prisms: tuple[Prism, ...]

    @cached_property
    def along(self) -> list[Fraction]:
        return sorted({each for prism in self.prisms for each in prism.along_mm})

    @cached_property
    def up(self) -> list[Fraction]:
        """Heights between which no two sides cross."""
        return sorted({*(each for prism in self.prisms for each in prism.up_mm), *_crossings(self.prisms)})

    @cached_property
    def lines(self) -> list[list[Ends]]:
        """At each pair of heights all sides, each by its place across at the lower and the upper, from the left."""
        return [
            sorted({line for prism in self._at(low) for line in _lines(prism, low, high)}, key=sum)
            for low, high in pairwise(self.up)
        ]

    def _at(self, low: Fraction) -> list[Prism]:
        return [prism for prism in self.prisms if prism.up_mm[0] <= low < prism.up_mm[1]]

    @cached_property
    def filled(self) -> list[set[tuple[int, int]]]:
        """At each pair of heights the cells that are filled, by number along and across."""
        found = []
        place = {each: at for at, each in enumerate(self.along)}
        for (low, high), lines in zip(pairwise(self.up), self.lines, strict=True):
            number = {line: at for at, line in enumerate(lines)}
            cells: set[tuple[int, int]] = set()
            for prism in self._at(low):
                left, right = _lines(prism, low, high)
                start, end = (place[each] for each in prism.along_mm)
                cells.update((i, k) for i in range(start, end) for k in range(number[left], number[right]))
            found.append(cells)
        return found

    @cached_property
    def across(self) -> list[list[Fraction]]:
        """At each height the places across of all corners there, from the left."""
        found: list[set[Fraction]] = [set() for _ in self.up]
        for at, lines in enumerate(self.lines):
            for low, high in lines:
                found[at].add(low)
                found[at + 1].add(high)
        return [sorted(each) for each in found]

    def ends(self) -> Iterator[Triangle]:
        """Yield the faces square to the length."""
        for at, (cells, lines) in enumerate(zip(self.filled, self.lines, strict=True)):
            for i, k in sorted(cells):
                for place, beside, turned in ((i, i - 1, True), (i + 1, i + 1, False)):
                    if (beside, k) not in cells:
                        yield from self._end(place, at, lines[k], lines[k + 1], turned)

    def _end(self, place: int, at: int, left: Ends, right: Ends, turned: bool) -> Iterator[Triangle]:
        """Yield a face between two sides: a strip between the corners at its lower and at its upper height."""
        x = self.along[place]
        feet, heads = (
            [(x, y, self.up[at + upper]) for y in self.across[at + upper] if left[upper] <= y <= right[upper]]
            for upper in (0, 1)
        )
        for near, far in pairwise(feet):
            yield (near, heads[0], far) if turned else (near, far, heads[0])
        for near, far in pairwise(heads):
            yield (feet[-1], near, far) if turned else (feet[-1], far, near)

    def levels(self) -> Iterator[Triangle]:
        """Yield the level faces."""
        for at, z in enumerate(self.up):
            below = self._spans(at - 1, 1)
            above = self._spans(at, 0)
            for i, (start, end) in enumerate(pairwise(self.along)):
                for left, right in pairwise(self.across[at]):
                    under, over = (_covers(spans.get(i, []), left, right) for spans in (below, above))
                    if under != over:
                        corners = ((start, left, z), (end, left, z), (end, right, z), (start, right, z))
                        yield from _quad(corners, turned=over)

    def _spans(self, at: int, upper: int) -> dict[int, list[Ends]]:
        """Return what filled cells cover across at their lower or upper height, by number along."""
        found: dict[int, list[Ends]] = {}
        if 0 <= at < len(self.filled):
            for i, k in self.filled[at]:
                found.setdefault(i, []).append((self.lines[at][k][upper], self.lines[at][k + 1][upper]))
        return found

    def sides(self) -> Iterator[Triangle]:
        """Yield the faces that look to the left or to the right."""
        for at, ((low, high), cells) in enumerate(zip(pairwise(self.up), self.filled, strict=True)):
            for i, k in sorted(cells):
                start, end = self.along[i], self.along[i + 1]
                for number, beside, turned in ((k, k - 1, False), (k + 1, k + 1, True)):
                    if (i, beside) not in cells:
                        foot, head = self.lines[at][number]
                        corners = ((start, foot, low), (end, foot, low), (end, head, high), (start, head, high))
                        yield from _quad(corners, turned)


def _quad(corners: tuple[Corner, Corner, Corner, Corner], turned: bool) -> Iterator[Triangle]:
    one, two, three, four = reversed(corners) if turned else corners
    yield one, two, three
    yield one, three, four


def _covers(spans: Sequence[Ends], left: Fraction, right: Fraction) -> bool:
    return any(low <= left and right <= high for low, high in spans)


def _lines(prism: Prism, low: Fraction, high: Fraction) -> tuple[Ends, Ends]:
    """Return a prism's left and right side by their places across at two heights."""
    first, last = prism.up_mm

    def at(side: int, height: Fraction) -> Fraction:
        foot, head = prism.foot_mm[side], prism.head_mm[side]
        return foot if foot == head else foot + (head - foot) * (height - first) / (last - first)

    return (at(0, low), at(0, high)), (at(1, low), at(1, high))


def _crossings(prisms: Sequence[Prism]) -> Iterator[Fraction]:
    """Yield the heights at which a slope crosses another side."""
    sides = {(*prism.up_mm, *line) for prism in prisms for line in _lines(prism, *prism.up_mm)}
    slopes = [side for side in sides if side[2] != side[3]]
    for one in slopes:
        for other in sides:
            low, high = max(one[0], other[0]), min(one[1], other[1])
            if low < high:
                gap, later = (_place(one, height) - _place(other, height) for height in (low, high))
                if gap * later < 0:
                    yield low + (high - low) * gap / (gap - later)


def _place(side: tuple[Fraction, Fraction, Fraction, Fraction], height: Fraction) -> Fraction:
    low, high, foot, head = side
    return foot + (head - foot) * (height - low) / (high - low)

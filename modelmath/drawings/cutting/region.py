"""The outline of a flat part once rectangles are cut out of it: exact, as closed runs of corners."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import groupby, pairwise

Corner = tuple[Fraction, Fraction]
Edge = tuple[Corner, Corner]
Run = tuple[Fraction, Fraction]


@dataclass(frozen=True)
class CutOut:
    """An upright rectangle that is cut out of a part.

    Attributes
    ----------
    left, right : Fraction
        Its sides, from the part's centre line, positive to the right. [mm]
    low, high : Fraction
        Its lower and upper side, from the part's lower edge. [mm]
    """

    left: Fraction
    right: Fraction
    low: Fraction
    high: Fraction


@dataclass(frozen=True)
class _Slab:
    """A level strip in which every border is straight: what is solid in it, at its lower and its upper edge."""

    low: Fraction
    high: Fraction
    below: tuple[Run, ...]
    above: tuple[Run, ...]


def loops_of(side: Sequence[Corner], cut_outs: Sequence[CutOut]) -> tuple[tuple[Corner, ...], ...]:
    """Return the borders of a part that is alike on both sides of its centre line, less rectangles.

    Parameters
    ----------
    side : sequence of (Fraction, Fraction)
        Height and half-width at each corner of its right side, from the lower edge up. [mm]
    cut_outs : sequence of CutOut
        What is cut out of it; one that reaches over an edge makes a notch. [mm]

    Returns
    -------
    tuple of closed runs
        Corners as (across, up), the first not repeated: outer borders anticlockwise, openings clockwise. Several outer
        ones where the part falls apart, none where nothing is left. [mm]

    References
    ----------
    Plane sweep; de Berg, Cheong, van Kreveld and Overmars, Computational Geometry (3rd edition), chapter 2.

    Examples
    --------
    >>> square = ((Fraction(0), Fraction(2)), (Fraction(4), Fraction(2)))
    >>> notch = CutOut(Fraction(-1), Fraction(1), Fraction(0), Fraction(1))
    >>> [tuple((int(x), int(y)) for x, y in loop) for loop in loops_of(square, [notch])]
    [((-2, 0), (-1, 0), (-1, 1), (1, 1), (1, 0), (2, 0), (2, 4), (-2, 4))]
    """
    return tuple(_chained(_edges(_slabs(side, cut_outs))))


def _slabs(side: Sequence[Corner], cut_outs: Sequence[CutOut]) -> Iterator[_Slab]:
    low, high = side[0][0], side[-1][0]
    heights = {height for height, _ in side}
    for each in cut_outs:
        heights |= {each.low, each.high, *_crossings(side, abs(each.left)), *_crossings(side, abs(each.right))}
    for bottom, top in pairwise(sorted(height for height in heights if low <= height <= high)):
        start, end = _half_widths(side, bottom, top)
        gone = [each for each in cut_outs if each.low <= bottom and top <= each.high]
        below, above = _solid(start, end, gone)
        yield _Slab(bottom, top, below, above)


def _crossings(side: Sequence[Corner], half: Fraction) -> Iterator[Fraction]:
    """Yield the heights at which a side has a half-width."""
    for (low, start), (high, end) in pairwise(side):
        if low < high and min(start, end) < half < max(start, end):
            yield low + (high - low) * (half - start) / (end - start)


def _half_widths(side: Sequence[Corner], bottom: Fraction, top: Fraction) -> Run:
    """Return the half-widths just above one height and just below another, with no corner between them."""
    for (low, start), (high, end) in pairwise(side):
        if low <= bottom and top <= high and low < high:
            slope = (end - start) / (high - low)
            return start + slope * (bottom - low), start + slope * (top - low)
    raise AssertionError("a side covers all of its heights")


def _solid(start: Fraction, end: Fraction, gone: Sequence[CutOut]) -> tuple[tuple[Run, ...], tuple[Run, ...]]:
    """Return what is left of a strip at its lower and its upper edge, pieces in the same order."""
    pieces: list[tuple[Corner, Corner]] = []  # of each its left and its right border, as (at the lower, at the upper)
    left: Corner = (-start, -end)
    for each in sorted(gone, key=lambda one: one.left):
        if _is_left_of((each.left, each.left), left) and _is_left_of((each.right, each.right), left):
            continue
        if _is_left_of((start, end), (each.left, each.left)):
            break
        if not _is_left_of((each.left, each.left), left):
            pieces.append((left, (each.left, each.left)))
        left = (each.right, each.right)
    if not _is_left_of((start, end), left):
        pieces.append((left, (start, end)))
    return tuple((one[0], other[0]) for one, other in pieces), tuple((one[1], other[1]) for one, other in pieces)


def _is_left_of(one: Corner, other: Corner) -> bool:
    """Whether a border lies left of another or on it; within a slab they do not cross."""
    return one[0] <= other[0] and one[1] <= other[1]


def _edges(slabs: Iterator[_Slab]) -> Iterator[Edge]:
    """Yield every border with what is solid on its left."""
    under: tuple[Run, ...] = ()
    height: Fraction | None = None
    for slab in slabs:
        for (left, right), (left_above, right_above) in zip(slab.below, slab.above, strict=True):
            yield (left_above, slab.high), (left, slab.low)
            yield (right, slab.low), (right_above, slab.high)
        yield from _level(under, slab.below, slab.low)
        under, height = slab.above, slab.high
    if height is not None:
        yield from _level(under, (), height)


def _level(under: Sequence[Run], over: Sequence[Run], height: Fraction) -> Iterator[Edge]:
    """Yield the level borders at a height: where it is solid on one side of it only."""
    places = sorted({place for run in (*under, *over) for place in run})
    for left, right in pairwise(places):
        below, above = (any(run[0] <= left and right <= run[1] for run in runs) for runs in (under, over))
        if above and not below:
            yield (left, height), (right, height)
        elif below and not above:
            yield (right, height), (left, height)


def _chained(edges: Iterator[Edge]) -> Iterator[tuple[Corner, ...]]:
    """Yield closed runs of borders, the lowest and leftmost start first."""
    after: dict[Corner, list[Corner]] = {}
    for start, end in edges:
        if start != end:
            after.setdefault(start, []).append(end)
    for start in sorted(after, key=lambda corner: (corner[1], corner[0])):
        while after[start]:
            loop, at = [start], after[start].pop()
            while at != start:
                loop.append(at)
                at = after[at].pop()
            yield _without_straight(loop)


def _without_straight(loop: Sequence[Corner]) -> tuple[Corner, ...]:
    """Return a run without the corners at which it goes straight on."""
    kept = [corner for corner, _ in groupby(loop)]
    turning = [
        here
        for before, here, behind in zip((kept[-1], *kept[:-1]), kept, (*kept[1:], kept[0]), strict=True)
        if _turn(before, here, behind)
    ]
    return tuple(turning)


def _turn(before: Corner, here: Corner, behind: Corner) -> Fraction:
    first = (here[0] - before[0], here[1] - before[1])
    second = (behind[0] - here[0], behind[1] - here[1])
    return first[0] * second[1] - first[1] * second[0]

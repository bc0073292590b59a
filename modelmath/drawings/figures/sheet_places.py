"""Places for the numbers and letters on a sheet's drawing: none over another, as few as can be over anything else."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from itertools import product
from math import atan2, cos, hypot, inf, pi, sin

from modelmath.drawings.shapes import text_width

TEXT, APART = 10.0, 1.5
ROOMY, CLOSE = (2.0, 6.5), (0.8, 4.6)  # of a text's box: beside the text, and half its height
STEP = 7.0  # from one place to the next
RINGS, TURNS = range(2, 18), range(-6, 7)  # of places round the end of a line, the turns in twelfths of half a turn
# What is worse than what: over another number, over words, a letter over another piece, over a piece that is mostly
# hidden by it, away from what it belongs to, over a line, in a close box.
OVER_NUMBER, OVER_WORDS, MISLEADS, HIDES, LED, OVER_LINE, CLOSER = 1000.0, 40.0, 20.0, 9.0, 8.0, 3.0, 2.0
HIDDEN = 0.2  # of a piece's area; with more of it covered it is mostly hidden

Sides = tuple[float, float, float, float]  # left, lower, right and upper edge
Run = tuple[tuple[float, float], tuple[float, float]]


@dataclass(frozen=True)
class Place:
    """A place for a text: its box, the line that leads to it, and what speaks against it. [drawing unit]"""

    box: Sides
    leader: Run | None
    cost: float

    @property
    def middle(self) -> tuple[float, float]:
        """The middle of its box. [drawing unit]"""
        return (self.box[0] + self.box[2]) / 2, (self.box[1] + self.box[3]) / 2


@dataclass
class Taken:
    """What a text may not lie over, each by its edges, and what leads to them.

    Attributes
    ----------
    page : tuple of float
        The edges no text may leave. [drawing unit]
    pieces : list of Sides
        Pieces, which a number may cover in part. [drawing unit]
    words, lines, numbers : list of Sides
        Names, lines, and texts that have their place. [drawing unit]
    leaders : list of Run
        Lines to those of them that have one. [drawing unit]
    """

    page: Sides
    pieces: list[Sides] = field(default_factory=list)
    words: list[Sides] = field(default_factory=list)
    lines: list[Sides] = field(default_factory=list)
    numbers: list[Sides] = field(default_factory=list)
    leaders: list[Run] = field(default_factory=list)

    def on_line(self, line: Run, text: str) -> Place:
        """Return the best place for the number of a line: on it, else beside it with a leader from one of its ends.

        Parameters
        ----------
        line : Run
            The line. [drawing unit]
        text : str
            The number. [-]

        Returns
        -------
        Place
            It is taken from now on. [drawing unit]

        References
        ----------
        None needed.

        Examples
        --------
        >>> Taken((0, 0, 100, 100)).on_line(((50, 0), (50, 100)), "1").leader is None
        True
        """
        return self._take(self._along(line, text), stretched(line))

    def beside(self, at: tuple[float, float], text: str) -> Place:
        """Return the best place for the letter of a piece too small for it, with a leader from the piece's middle.

        Parameters
        ----------
        at : tuple of two float
            The middle. [drawing unit]
        text : str
            The letter. [-]

        Returns
        -------
        Place
            It is taken from now on. [drawing unit]

        References
        ----------
        None needed.

        Examples
        --------
        >>> Taken((0, 0, 100, 100)).beside((50, 50), "a").leader[0]
        (50, 50)
        """
        return self._take(self._round(at, 0.0, text, range(-12, 12)), None)

    def _take(self, places: Iterator[Place], own: Sides | None) -> Place:
        best, least = None, inf
        for place in sorted(places, key=lambda each: each.cost):
            if place.cost >= least:
                break
            cost = place.cost + self._over(place, own)
            if cost < least:
                best, least = place, cost
        assert best is not None
        left, low, right, top = best.box
        self.numbers.append((left - APART, low - APART, right + APART, top + APART))
        if best.leader:
            self.numbers += _dotted(best.leader)
            self.leaders.append(best.leader)
        return best

    def _over(self, place: Place, own: Sides | None) -> float:
        """Return how much is wrong with a place; a number may lie over its own line."""
        box, path = place.box, [place.box, *_dotted(place.leader)] if place.leader else [place.box]
        numbers = sum(_meet(each, known) for known in self.numbers for each in path)
        words = sum(any(_meet(each, known) for each in path) for known in self.words)
        lines = sum(_meet(box, known) for known in self.lines if known != own)
        if place.leader:
            lines += sum(_cross(place.leader, known) for known in self.leaders)
        if own is None:  # on another piece a letter would name that
            pieces = MISLEADS * sum(_meet(box, known) for known in self.pieces)
        else:
            pieces = HIDES * sum(_share(box, known) > HIDDEN for known in self.pieces)
        return OVER_NUMBER * numbers + OVER_WORDS * words + pieces + OVER_LINE * lines

    def _along(self, line: Run, text: str) -> Iterator[Place]:
        (x1, y1), (x2, y2) = line
        long = hypot(x2 - x1, y2 - y1)
        start = min(TEXT + 3, long / 2)
        for room in (ROOMY, CLOSE):
            for step in range(max(1, int((long - 2 * start) / STEP) + 1)):
                share = (start + step * STEP) / long
                box = self._box(x1 + (x2 - x1) * share, y1 + (y2 - y1) * share, text, room)
                yield Place(box, None, (room == CLOSE) * CLOSER + step * 0.01)
        angle = atan2(y2 - y1, x2 - x1)
        yield from self._round(line[1], angle, text, TURNS)
        yield from self._round(line[0], angle + pi, text, TURNS)

    def _round(self, at: tuple[float, float], angle: float, text: str, turns: Sequence[int]) -> Iterator[Place]:
        """Yield places round a point, each with a leader from it."""
        for ring, turn in product(RINGS, turns):
            way = angle + turn * pi / 12
            box = self._box(at[0] + ring * STEP * cos(way), at[1] + ring * STEP * sin(way), text, CLOSE)
            leader = (at, ((box[0] + box[2]) / 2, (box[1] + box[3]) / 2))
            yield Place(box, leader, LED + ring * 0.1 + abs(turn) * 0.1)

    def _box(self, x: float, y: float, text: str, room: tuple[float, float]) -> Sides:
        """Return the box of a text, moved as far as it takes to lie on the page."""
        half, high = text_width(text, TEXT) / 2 + room[0], room[1]
        left, low, right, top = self.page
        x, y = max(left + half, min(x, right - half)), max(low + high, min(y, top - high))
        return x - half, y - high, x + half, y + high


def stretched(line: Run) -> Sides:
    """Return an upright or level line as a box without breadth.

    Parameters
    ----------
    line : Run
        The line. [drawing unit]

    Returns
    -------
    Sides
        Its edges. [drawing unit]

    References
    ----------
    None needed.

    Examples
    --------
    >>> stretched(((3, 4), (1, 4)))
    (1, 4, 3, 4)
    """
    (x1, y1), (x2, y2) = line
    return min(x1, x2), min(y1, y2), max(x1, x2), max(y1, y2)


def _cross(one: Run, other: Run) -> bool:
    """Say whether two leaders cross."""
    return _parts(one, other) and _parts(other, one)


def _parts(line: Run, other: Run) -> bool:
    """Say whether the ends of another line lie on both sides of a line."""
    (x1, y1), (x2, y2) = line
    one, two = ((x2 - x1) * (y - y1) - (y2 - y1) * (x - x1) for x, y in other)
    return one * two < 0


def _dotted(line: Run) -> list[Sides]:
    """Return points along a leader, each as a box without size."""
    (x1, y1), (x2, y2) = line
    places = [(x1 + (x2 - x1) * share / 8, y1 + (y2 - y1) * share / 8) for share in range(1, 8)]
    return [(x, y, x, y) for x, y in places]


def _meet(one: Sides, other: Sides) -> bool:
    return one[0] < other[2] and other[0] < one[2] and one[1] < other[3] and other[1] < one[3]


def _share(box: Sides, thing: Sides) -> float:
    """Return how much of a thing a box covers."""
    across, up = min(box[2], thing[2]) - max(box[0], thing[0]), min(box[3], thing[3]) - max(box[1], thing[1])
    area = (thing[2] - thing[0]) * (thing[3] - thing[1])
    return across * up / area if across > 0 and up > 0 and area > 0 else 0.0

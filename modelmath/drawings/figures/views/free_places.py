"""Where on a figure a text finds room: beside what it names, clear of what is there already."""

from __future__ import annotations

from collections.abc import Sequence
from math import ceil, cos, hypot, radians, sin

from modelmath.drawings.shapes import Anchor, Point, text_width

WAYS = (90, 60, 120, 30, 150, 0, 180, -30, -150, -60, -120, -90)  # directions tried, the best first [degree]
STEP, FURTHEST = 6.0, 150.0  # between the distances tried, and the last of them
ALONG = 4.0  # distance of the points that stand for a line

_Room = tuple[float, float, float, float]


class FreePlaces:
    """What a sheet holds already, and where there still is room.

    Parameters
    ----------
    left, right : float
        The sheet's sides. [drawing unit]
    """

    def __init__(self, left: float, right: float) -> None:
        self.left, self.right = left, right
        self._taken: list[_Room] = []
        self._lines: list[_Room] = []
        self._round: list[tuple[float, float, float]] = []

    def take(self, left: float, low: float, right: float, high: float) -> None:
        """Keep a rectangle clear.

        Parameters
        ----------
        left, low, right, high : float
            Its sides. [drawing unit]

        References
        ----------
        None needed.
        """
        self._taken.append((left, low, right, high))

    def take_round(self, x: float, y: float, radius: float) -> None:
        """Keep a circle clear, of lines to texts too.

        Parameters
        ----------
        x, y, radius : float
            Its middle, and half its diameter. [drawing unit]

        References
        ----------
        None needed.
        """
        self._round.append((x, y, radius))

    def take_line(self, start: Point, end: Point) -> None:
        """Keep a line clear of texts; lines may cross it.

        Parameters
        ----------
        start, end : Point
            Its ends. [drawing unit]

        References
        ----------
        None needed.
        """
        self._lines += [(x - 3, y - 3, x + 3, y + 3) for x, y in _points(start, end)]

    def take_text(self, x: float, y: float, text: str, size: float, anchor: Anchor = "start") -> None:
        """Keep a text clear.

        Parameters
        ----------
        x, y : float
            Its place on its base line. [drawing unit]
        text : str
            The text. [-]
        size : float
            Text height. [drawing unit]
        anchor : {"start", "middle", "end"}
            Which end of the text lies at `x`. [-]

        References
        ----------
        None needed.
        """
        wide = text_width(text, size)
        left = x - {"start": 0.0, "middle": wide / 2, "end": wide}[anchor]
        self.take(left - 2, y - 0.25 * size, left + wide + 2, y + 0.8 * size)

    def beside(self, at: Point, away: float, wide: float, high: float) -> Point:
        """Return where a text goes that names a point, and keep that place clear from now on.

        Parameters
        ----------
        at : Point
            The point. [drawing unit]
        away : float
            Least distance of the text from it. [drawing unit]
        wide, high : float
            The text's size. [drawing unit]

        Returns
        -------
        Point
            The lower left corner of its place. [drawing unit]

        References
        ----------
        None needed.

        Examples
        --------
        >>> free = FreePlaces(0, 100)
        >>> free.beside((50, 0), 10, 20, 8), free.beside((50, 0), 10, 20, 8)
        ((40.0, 10.0), (60.0, -4.0))
        """
        found = self._first(at, away, wide, high, True) or self._first(at, away, wide, high, False)
        x, y = found or (self._between(at[0] - wide / 2, wide), self._above_all())
        self.take(x, y, x + wide, y + high)
        self.take_line(at, _nearest(at, (x, y, x + wide, y + high)))
        return x, y

    def copy(self) -> FreePlaces:
        """Return the same once more, to try a way of placing texts.

        Returns
        -------
        FreePlaces
            What is kept clear on it is not on this. [drawing unit]

        References
        ----------
        None needed.
        """
        other = FreePlaces(self.left, self.right)
        other._taken, other._lines, other._round = list(self._taken), list(self._lines), list(self._round)
        return other

    def _between(self, left: float, wide: float) -> float:
        return min(max(left, self.left), self.right - wide)

    def _above_all(self) -> float:
        rooms = (*self._taken, *self._lines)
        return max((*(room[3] for room in rooms), *(y + radius for _, y, radius in self._round)), default=0.0) + STEP

    def _first(self, at: Point, away: float, wide: float, high: float, clear: bool) -> Point | None:
        """Return the nearest place that is free; with `clear`, one whose line meets no other text and no circle."""
        for number in range(ceil(FURTHEST / STEP)):
            for way in WAYS:
                place = self._corner(at, away + number * STEP, way, wide, high)
                room = (place[0], place[1], place[0] + wide, place[1] + high)
                if self._is_free(room) and not (clear and self._crosses(at, room)):
                    return place
        return None

    def _corner(self, at: Point, distance: float, way: int, wide: float, high: float) -> Point:
        """Return a text's lower left corner when its nearest side's middle or corner lies so far away."""
        across, up = cos(radians(way)), sin(radians(way))
        x, y = at[0] + distance * across, at[1] + distance * up
        left = x - wide / 2 if way in (90, -90) else (x if across > 0 else x - wide)
        low = y - high / 2 if way in (0, 180) else (y if up > 0 else y - high)
        return round(left, 1), round(low, 1)

    def _is_free(self, room: _Room) -> bool:
        left, low, right, top = room
        if left < self.left or right > self.right:
            return False
        if any(left < end and start < right and low < upper and bottom < top
               for start, bottom, end, upper in (*self._taken, *self._lines)):  # fmt: skip
            return False
        return all(_distance((x, y), _nearest((x, y), room)) >= radius for x, y, radius in self._round)

    def _crosses(self, at: Point, room: _Room) -> bool:
        """Return whether the line from a point to a text meets another text, or a circle it does not begin in."""
        end = _nearest(at, room)
        others = [(x, y, radius) for x, y, radius in self._round if _distance((x, y), at) >= radius]
        return any(
            any(left < x < right and low < y < top for left, low, right, top in self._taken)
            or any(_distance((x, y), (across, up)) < radius for across, up, radius in others)
            for x, y in _points(at, end)
        )


def _nearest(at: Point, room: _Room) -> Point:
    """Return the point of a rectangle that is nearest to another point."""
    return min(max(at[0], room[0]), room[2]), min(max(at[1], room[1]), room[3])


def _points(start: Point, end: Point) -> list[Point]:
    """Return points along a line, its ends among them."""
    count = ceil(_distance(start, end) / ALONG) + 1
    across, up = (end[0] - start[0]) / count, (end[1] - start[1]) / count
    return [(start[0] + number * across, start[1] + number * up) for number in range(count + 1)]


def _distance(one: Point, other: Point) -> float:
    return hypot(one[0] - other[0], one[1] - other[1])


def shared_out(wanted: Sequence[float], step: float, low: float, high: float) -> list[float]:
    """Move places apart, as little as need be, until each is a step from the next, all of them between two ends.

    Parameters
    ----------
    wanted : sequence of float
        Places, the least first. [drawing unit]
    step : float
        Least distance. [drawing unit]
    low, high : float
        The ends; there is room for all of them between. [drawing unit]

    Returns
    -------
    list of float
        The least first. [drawing unit]

    References
    ----------
    None needed.

    Examples
    --------
    >>> shared_out([1, 2, 50], 10, 0, 100), shared_out([95, 99], 10, 0, 100)
    ([0, 10, 50.0], [90, 100])
    """
    from modelmath.drawings.figures.views.dimensions import apart

    found = [-each for each in apart([-each for each in wanted], step)]
    last = len(found) - 1
    found = [max(each, low + number * step) for number, each in enumerate(found)]
    return [min(each, high - (last - number) * step) for number, each in enumerate(found)]

"""Places for words in a chart where they stand free of lines, signs and each other."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import islice, permutations, product

from modelmath.drawings.charts.ticks import Frame, clipped
from modelmath.drawings.shapes import Point

CLEAR = 4.0  # left free between a line and words
_WAYS = ((1, 0), (-1, 0), (0, 1), (0, -1), (1, 1), (-1, 1), (1, -1), (-1, -1))
_ORDERS = 120  # most orders tried: all of those of five markers
# Which way words may go from over their line, in half widths, the first that is free first.
_SHIFTS = ((0.0, -1.0, 1.0), (-1.0, 1.0), (1.0, -1.0), (1.0,), (-1.0,))


def beside(
    at: Point, width: float, height: float, frame: Frame, boxes: Sequence[Frame], pieces: Sequence[tuple[Point, Point]]
) -> Frame | None:
    """Return the nearest free place for words beside a point.

    Parameters
    ----------
    at : tuple of two floats
        The point. [drawing unit]
    width, height : float
        Size of the words. [drawing unit]
    frame : tuple of four floats
        Left, low, right and top of what they have to stay in. [drawing unit]
    boxes : sequence of frames
        Signs and words to keep clear of. [drawing unit]
    pieces : sequence of pairs of points
        Straight lines to keep clear of. [drawing unit]

    Returns
    -------
    frame or None
        Where the words stand; nothing where no place near the point is free. [drawing unit]

    References
    ----------
    None needed.

    Examples
    --------
    >>> beside((50, 50), 20, 10, (0, 0, 100, 100), [], [])
    (57.0, 45.0, 77.0, 55.0)
    """
    x, y = at
    for away in (7.0, 13.0, 21.0, 32.0):
        for across, up in _WAYS:
            left, low = x + across * away - width * (1 - across) / 2, y + up * away - height * (1 - up) / 2
            box = (left, low, left + width, low + height)
            whole = left >= frame[0] + CLEAR and low >= frame[1] + CLEAR and box[2] <= frame[2] and box[3] <= frame[3]
            if whole and not any(meet(box, other) for other in boxes) and not any(clipped(one, box) for one in pieces):
                return box
    return None


def meet(one: Frame, other: Frame) -> bool:
    """Whether two rectangles overlap.

    Parameters
    ----------
    one, other : tuple of four floats
        Left, low, right and top of each. [drawing unit]

    Returns
    -------
    bool
        False where they only touch. [-]

    References
    ----------
    Elementary geometry.

    Examples
    --------
    >>> meet((0, 0, 2, 2), (1, 1, 3, 3)), meet((0, 0, 2, 2), (2, 0, 4, 2))
    (True, False)
    """
    return one[0] < other[2] and other[0] < one[2] and one[1] < other[3] and other[1] < one[3]


@dataclass(frozen=True)
class Heading:
    """Words above a frame, with a line that leads up to them.

    Attributes
    ----------
    x : float
        Where the line stands. [drawing unit]
    width : float
        Width of the words. [drawing unit]
    rows : int
        Rows of text they take. [-]
    """

    x: float
    width: float
    rows: int = 1


@dataclass(frozen=True)
class Place:
    """Where words stand above a frame.

    Attributes
    ----------
    middle : float
        Their middle. [drawing unit]
    row : int
        Their lowest row; 0 stands on the frame. [-]
    """

    middle: float
    row: int


def stacked(headings: Sequence[Heading], width: float) -> list[Place]:
    """Place words in rows above a frame, so that none meet and no line leading up crosses others.

    Each stands over its line, or ends or begins there. Of the orders in which they can be placed, the one that takes
    the fewest rows is chosen.

    Parameters
    ----------
    headings : sequence of Heading
        The words. [drawing unit]
    width : float
        Width of the sheet. [drawing unit]

    Returns
    -------
    list of Place
        One for each, in the same order. Where two lines stand so near to each other that one has to cross words, it
        crosses. [drawing unit]

    References
    ----------
    None needed.

    Examples
    --------
    >>> [place.row for place in stacked([Heading(100, 80), Heading(110, 80)], 400)]
    [0, 0]
    >>> [place.row for place in stacked([Heading(30, 80), Heading(50, 80)], 100)]
    [0, 1]
    """
    best: list[Place] | None = None
    orders = islice(permutations(range(len(headings))), _ORDERS)
    for order, shifts in product(orders, _SHIFTS):
        places = _in_order(headings, order, shifts, width)
        if places is not None and (best is None or _height(headings, places) < _height(headings, best)):
            best = places
    if best is None:
        rows = [sum(each.rows for each in headings[:number]) for number in range(len(headings))]
        best = [Place(_within(each.x, each, width), row) for each, row in zip(headings, rows, strict=True)]
    return best


def _height(headings: Sequence[Heading], places: Sequence[Place]) -> int:
    return max((place.row + each.rows for each, place in zip(headings, places, strict=True)), default=0)


def _within(middle: float, heading: Heading, width: float) -> float:
    half = heading.width / 2 + CLEAR / 2
    return min(max(middle, half), width - half)


def _in_order(
    headings: Sequence[Heading], order: Sequence[int], shifts: Sequence[float], width: float
) -> list[Place] | None:
    """Place one after the other, each as low as it can; nothing where one finds no place."""
    most = sum(each.rows for each in headings) + 1
    taken: list[list[tuple[float, float]]] = [[] for _ in range(2 * most)]
    found: dict[int, Place] = {}
    for number in order:
        each = headings[number]
        middles = [_within(each.x + shift * each.width / 2, each, width) for shift in shifts]
        place = next(
            (Place(middle, row) for row in range(most) for middle in middles if _free(taken, row, each, middle)),
            None,
        )
        if place is None:
            return None
        found[number] = place
        for row in range(place.row):
            taken[row].append((each.x - CLEAR, each.x + CLEAR))
        for row in range(place.row, place.row + each.rows):
            taken[row].append((place.middle - each.width / 2 - CLEAR, place.middle + each.width / 2 + CLEAR))
    return [found[number] for number in range(len(headings))]


def _free(taken: list[list[tuple[float, float]]], row: int, heading: Heading, middle: float) -> bool:
    """Whether words fit into rows, and the line that leads up to them crosses no others on its way."""
    left, right = middle - heading.width / 2, middle + heading.width / 2
    own, below = taken[row : row + heading.rows], taken[:row]
    words_fit = not any(start < right and left < end for spans in own for start, end in spans)
    return words_fit and not any(start < heading.x < end for spans in below for start, end in spans)

"""The instruments in the pictures: a rule whose zero stands in from its end, a caliper, a straight strip."""

from __future__ import annotations

from math import hypot

from modelmath.drawings.measuring.paper import INK, PALE, PLAIN, THIN, Paper, box
from modelmath.drawings.shapes import Point

ZERO, UNIT = 12.0, 24.0  # the zero mark stands so far in from the end; distance of two whole marks
WIDE = 28.0  # of a rule


def rule_up(paper: Paper, x: float, end: float, length: float, *, zero: float = ZERO, right: bool = True) -> None:
    """Draw a rule that stands on its end.

    Parameters
    ----------
    paper : Paper
        The picture. [-]
    x : float
        Its left edge. [drawing unit]
    end : float
        Where its end stands. [drawing unit]
    length : float
        How much of it is drawn. [drawing unit]
    zero : float
        How far its zero mark stands in from its end. [drawing unit]
    right : bool
        Whether its marks are on its right edge; else on its left. [-]

    References
    ----------
    None needed.
    """
    paper.area(box(x, end - length, WIDE, length), fill="#fff", name="rule")
    edge, sign = (x + WIDE, -1) if right else (x, 1)
    for quarter in range(int((length - zero) / UNIT * 4) + 1):
        y = end - (zero + quarter * UNIT / 4)
        if end - y > length - 3:
            break
        long = 11 if quarter % 4 == 0 else 7 if quarter % 2 == 0 else 4
        paper.line((edge, y), (edge + sign * long, y), pen=PLAIN if quarter % 4 == 0 else THIN)
        if quarter % 4 == 0 and length - (end - y) > 6:
            paper.figure(edge + sign * 19, y + 4, str(quarter // 4))


def rule_across(paper: Paper, end: float, y: float, length: float, *, zero: float = ZERO, unit: float = UNIT) -> None:
    """Draw a rule that lies level, its end on the left, its marks on its upper edge.

    Parameters
    ----------
    paper : Paper
        The picture. [-]
    end : float
        Where its end is. [drawing unit]
    y : float
        Its upper edge. [drawing unit]
    length : float
        How much of it is drawn. [drawing unit]
    zero : float
        How far its zero mark stands in from its end. [drawing unit]
    unit : float
        Distance of two whole marks. [drawing unit]

    References
    ----------
    None needed.
    """
    paper.area(box(end, y, length, WIDE), fill="#fff", name="rule")
    for quarter in range(int((length - zero) / unit * 4) + 1):
        x = end + zero + quarter * unit / 4
        if x - end > length - 3:
            break
        long = 10 if quarter % 4 == 0 else 7 if quarter % 2 == 0 else 4
        paper.line((x, y), (x, y + long), pen=PLAIN if quarter % 4 == 0 else THIN)
        if quarter % 4 == 0 and length - (x - end) > 7:
            paper.figure(x, y + 22, str(quarter // 4))


def strip(paper: Paper, left: float, right: float, under: float) -> None:
    """Draw a straight strip laid across, its underside at a height. [drawing unit]"""
    paper.area(box(left, under - 6, right - left, 6), fill=PALE, pen=1.2, name="strip")


def caliper(paper: Paper, one: Point, two: Point, beam: float, *, inside: bool = False, flipped: bool = False) -> None:
    """Draw a caliper that holds a size between its jaws.

    Parameters
    ----------
    paper : Paper
        The picture. [-]
    one, two : Point
        Where the tips of the fixed and the sliding jaw touch. [drawing unit]
    beam : float
        Distance of the beam from the tips. [drawing unit]
    inside : bool
        Whether the jaws' outer edges touch, from within; else their inner edges hold from without. [-]
    flipped : bool
        Whether the beam lies to the right of the way from one tip to the other, as y goes downwards; else to the
        left. [-]

    References
    ----------
    None needed.
    """
    size = hypot(two[0] - one[0], two[1] - one[1])
    along = ((two[0] - one[0]) / size, (two[1] - one[1]) / size)
    up = (-along[1], along[0]) if flipped else (along[1], -along[0])

    def at(u: float, v: float) -> Point:
        return one[0] + u * along[0] + v * up[0], one[1] + u * along[1] + v * up[1]

    lean = 1 if inside else -1  # the jaws taper away from the face that touches
    paper.area([at(-16, beam), at(size + 44, beam), at(size + 44, beam + 11), at(-16, beam + 11)])
    for number in range(int((size + 30) / 6)):
        paper.line(at(4 + 6 * number, beam + 11), at(4 + 6 * number, beam + (7 if number % 5 else 4)), pen=0.7)
    paper.area(
        [at(0, 0), at(lean * 4, 0), at(lean * 13, beam), at(lean * 13, beam + 14), at(0, beam + 14)], PALE, name="jaw"
    )
    tip = [at(size, 0), at(size - lean * 4, 0)]
    if inside:
        rest = [at(size - 13, beam), at(size - 13, beam + 14), at(size + 30, beam + 14), at(size + 30, beam - 4)]
        paper.area([*tip, *rest, at(size, beam - 4)], PALE, name="jaw")
    else:
        rest = [at(size + 13, beam - 4), at(size + 30, beam - 4), at(size + 30, beam + 14), at(size, beam + 14)]
        paper.area([*tip, *rest], PALE, name="jaw")
    knob = at(size + 20, beam - 7)
    paper.circle(*knob, 3.2, fill=INK, pen=0)

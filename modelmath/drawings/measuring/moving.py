"""What moves: a truck round its pivot, from above and from the side, and two trucks on a curve."""

from __future__ import annotations

from collections.abc import Sequence
from math import cos, radians, sin

from modelmath.drawings.measuring.paper import CENTRE, DASHES, INK, PALE, THICK, THIN, Paper, arc, box
from modelmath.drawings.shapes import Point


def papers() -> tuple[Paper, ...]:
    """Return a truck from above, from the side, and two trucks on a curve."""
    return _above(), _side(), _curve()


def _turned(points: Sequence[Point], middle: Point, degrees: float) -> list[Point]:
    """Return points turned round a place. [drawing unit, degrees]"""
    (x, y), by = middle, radians(degrees)
    return [
        (x + (px - x) * cos(by) - (py - y) * sin(by), y + (px - x) * sin(by) + (py - y) * cos(by)) for px, py in points
    ]


def _above() -> Paper:
    left, top, length, width = 116, 72, 156, 80
    middle, pivot, centre = 194, 220, 112
    paper = Paper(
        262,
        "A truck from above, the front of the model on the left. Length of what turns and Width of what turns: over "
        "the truck and all that stands on it. Its pivot lies behind its middle by: from the middle of that length "
        "back to the pivot. Side play: how far it slides to either side from its middle.",
    )
    for way in (-5, 5):
        swung = _turned(box(left, top, length, width), (pivot, centre), way)
        paper.area(swung, "none", pen=0.8, dashes=DASHES)
    paper.area(box(left, top, length, width), hatch=8, pen=THICK)
    paper.line((92, centre), (292, centre), pen=0.8, dashes=CENTRE)
    paper.line((middle, 62), (middle, 196), pen=0.8, dashes=CENTRE)
    paper.line((pivot, 62), (pivot, 196), pen=0.8, dashes=CENTRE)
    paper.circle(pivot, centre, 7)
    paper.circle(pivot, centre, 2, fill=INK, pen=0)
    paper.size((left, 40), (left + length, 40), reach=(top,))
    paper.field(middle, 26, "Length of what turns", anchor="middle")
    paper.size((96, top), (96, top + width), reach=(left,))
    paper.field(86, 96, "Width of", "what", "turns", anchor="end")
    paper.size((middle, 186), (pivot, 186))
    paper.field(16, 218, "Its pivot lies behind its middle by")
    paper.note(276, 190, "pivot", anchor="start")
    paper.arrow((272, 182), (226, 119))
    paper.size((306, centre), (306, centre - 30))
    paper.size((306, centre), (306, centre + 30))
    paper.field(338, 60, "Side play", anchor="end")
    paper.note(16, 244, "dashed: swung to either side")
    return paper


def _side() -> Paper:
    seat, top, bottom, left, right = 126, 78, 176, 122, 238
    middle = (left + right) / 2
    paper = Paper(
        262,
        "A truck from the side, standing in the opening of the frame. Height of its top: above the seat, on which the "
        "shell rests. From its top down to its bottom: of what turns, wheels not counted. Its end lifts by: as far as "
        "its farther end rises when it rocks.",
    )
    for start, end in ((60, left - 14), (right + 14, 300)):
        paper.area(box(start, seat, end - start, 14), hatch=7)
    body = [(left, bottom), (left, 140), (middle - 26, 140), (middle - 26, top), (middle + 26, top)]
    body += [(middle + 26, 140), (right, 140), (right, bottom)]
    paper.area(_turned(body, (middle, bottom), -5), "none", pen=0.9, dashes=DASHES)
    paper.area(body, PALE, pen=THICK)
    for wheel in (middle - 34, middle + 34):
        paper.circle(wheel, bottom + 6, 15)
        paper.circle(wheel, bottom + 6, 2, fill=INK, pen=0)
    paper.line((30, bottom + 21), (330, bottom + 21), pen=1)
    paper.size((284, seat), (284, top), reach=(300, middle + 26))
    paper.field(338, 26, "Height of its top", anchor="end")
    paper.note(338, 43, "above the seat", anchor="end")
    paper.arrow((284, 48), (284, 74))
    paper.size((42, bottom), (42, top), reach=(left, middle - 26))
    paper.field(16, 26, "From its top", "down to its", "bottom")
    lifted = _turned([(right, bottom)], (middle, bottom), -5)[0]
    paper.size((266, bottom), (266, lifted[1]), reach=(right, lifted[0]))
    paper.field(338, 226, "Its end lifts by", anchor="end")
    paper.line((266, bottom + 16), (266, 212), pen=THIN)
    paper.note(334, 122, "seat", anchor="end")
    paper.note(16, 252, "dashed: rocked, one end up")
    return paper


def _curve() -> Paper:
    x, y, radius = 175.0, 300.0, 210.0
    paper = Paper(
        262,
        "Two trucks on a curve, from above. Distance between the pivots: straight from one to the other, measured on "
        "the model. Radius of the curve: of the sharpest curve it runs on, to the middle of the track.",
    )
    for rail in (-12, 12):
        paper.line(*arc(x, y, radius + rail, radius + rail, 136, 44), pen=THIN)
    paper.line(*arc(x, y, radius, radius, 138, 42), pen=0.8, dashes=CENTRE)
    pivots = []
    for angle in (117, 63):
        at = (x + radius * cos(radians(angle)), y - radius * sin(radians(angle)))
        paper.area(_turned(box(at[0] - 34, at[1] - 15, 68, 30), at, 90 - angle), PALE)
        paper.circle(*at, 4)
        paper.circle(*at, 1.5, fill=INK, pen=0)
        pivots.append(at)
    paper.size((pivots[0][0], 62), (pivots[1][0], 62), reach=(pivots[0][1], pivots[1][1]))
    paper.field(x, 48, "Distance between the pivots", anchor="middle")
    paper.note(x, 26, "measured on the model", anchor="middle")
    paper.arrow((x, 250), (x, y - radius + 1))
    paper.field(x + 8, 196, "Radius of the curve")
    paper.note(x + 8, 213, "to the middle", "of the track")
    return paper

"""A lamp with its strand: the room it takes, its hole, its places; and the lens in its casting."""

from __future__ import annotations

from modelmath.drawings.measuring.paper import CENTRE, DASHES, GREY, INK, PALE, THICK, Paper, arc, box
from modelmath.drawings.measuring.tools import caliper
from modelmath.drawings.shapes import Point


def papers() -> tuple[Paper, ...]:
    """Return the room a lamp takes at its end, and a strand seen from its end beside its hole."""
    return _room(), _strand()


def lit() -> tuple[Paper, ...]:
    """Return where a strand's lamp and lens are, and the lens in its casting."""
    return _places(), _lens()


def _fibre(paper: Paper, *points: Point, wide: float = 8.0) -> None:
    """Draw a strand along its middle line. [drawing unit]"""
    paper.line(*points, pen=wide)
    paper.line(*points, pen=wide - 2.6, ink="#fff")


def _lamp(paper: Paper, x: float, y: float) -> None:
    """Draw a lamp that shines to the left, by the middle of what shines. [drawing unit]"""
    paper.area([*arc(x, y, 9, 9, 90, 270), (x + 10, y + 9), (x + 10, y - 9)], PALE)
    paper.area(box(x + 10, y - 11, 4, 22), INK, pen=0)
    paper.line((x + 14, y - 5), (x + 30, y - 5), pen=1.4)
    paper.line((x + 14, y + 5), (x + 30, y + 5), pen=1.4)


def _room() -> Paper:
    front, roof, bulkhead, floor = 60, 66, 176, 168
    paper = Paper(
        252,
        "The front of the shell, cut along. It stands at the front end: the lens sits in the front wall, and a strand "
        "leads from it through a hole in the bulkhead to the lamp. Room it takes there: from the inner face of the "
        "front wall to the bulkhead. Thickness of a strand: with its sleeve, where it passes the wall.",
    )
    paper.area([(front - 8, 190), (front - 8, roof - 8), (336, roof - 8), (336, roof), (front, roof), (front, 190)],
               hatch=5, falling=True)  # fmt: skip
    paper.area(box(bulkhead, roof, 9, floor - roof), INK)
    paper.area(box(bulkhead + 9, floor - 7, 151, 7), GREY, pen=1)
    paper.area(box(bulkhead - 1, 109, 11, 12), "#fff", pen=0)
    paper.area(box(front - 9, 109, 10, 12), "#fff", pen=0)
    _fibre(paper, (front - 8, 115), (246, 115))
    paper.area(arc(front - 8, 115, 7, 8, 90, 270), "#fff")
    _lamp(paper, 258, 115)
    paper.size((front, 206), (bulkhead, 206), reach=(190, floor))
    paper.field(16, 228, "Room it takes there")
    paper.note(16, 244, "along the length")
    paper.field(166, 26, "Thickness of a strand")
    paper.note(166, 42, "at its hole in the bulkhead")
    paper.arrow((206, 50), (184, 106))
    paper.note(16, 26, "lens in the")
    paper.note(16, 42, "front wall")
    paper.arrow((30, 48), (46, 104))
    paper.note(274, 150, "lamp", anchor="middle")
    paper.note(260, 192, "bulkhead and floor", anchor="middle")
    return paper


def _strand() -> Paper:
    paper = Paper(
        252,
        "Thickness of a strand: the caliper holds it across, over its sleeve where it has one. Number of strands: "
        "each passes the bulkhead through a hole of its own.",
    )
    paper.area(box(16, 89, 106, 22))
    caliper(paper, (92, 111), (92, 89), 62, flipped=True)
    paper.field(16, 26, "Thickness of a strand")
    paper.note(16, 43, "its sleeve too")
    paper.area(box(226, 84, 104, 108), PALE, pen=THICK)
    for x in (250, 306):
        paper.area(box(x - 24 if x < 260 else x + 8, 84, 16, 108), "#fff", pen=0.9, dashes=DASHES)
    for x in (262, 294):
        paper.circle(x, 122, 8)
        paper.circle(x, 122, 5, pen=1)
    paper.note(278, 210, "bulkhead", anchor="middle")
    paper.field(16, 222, "Number of strands")
    paper.note(16, 239, "each has a hole of its own")
    paper.arrow((170, 216), (206, 206), (258, 132))
    return paper


def _places() -> Paper:
    mark, seat, roof, x, y = 142, 190, 72, 262, 106
    paper = Paper(
        316,
        "A shell cut along, a strand in it from its lamp to its lens. Where it stands is the place of the lamp, It "
        "ends at is the front of the lens: each so far behind the fore-aft mark, so high up from the seat, and so far "
        "right or left. Ahead of the mark the first is below 0. Radius of its bends: of their inside.",
    )
    front = [(60, 136), (52, 136), (52, roof - 8), (336, roof - 8), (336, roof), (60, roof)]
    paper.area(front, hatch=5, falling=True)
    paper.area([(60, seat), (52, seat), (52, 164), (60, 164)], hatch=5, falling=True)
    paper.line((16, seat), (340, seat), pen=1.2)
    paper.note(334, 206, "seat", anchor="end")
    paper.line((mark, 44), (mark, 290), pen=0.9, dashes=CENTRE)
    lower, upper = arc(166, 116, 34, 34, 270, 315), arc(238.1, 140, 34, 34, 135, 90)
    _fibre(paper, (52, 150), *lower, *upper, (x - 12, y))
    paper.area(arc(52, 150, 9, 9, 90, 270), "#fff")
    _lamp(paper, x, y)
    paper.size((mark, 218), (x, 218), reach=(seat, y + 9))
    paper.size((318, seat), (318, y), reach=(x + 30,))
    paper.field(x - 96, 238, "Where it stands")
    paper.size((43, 254), (mark, 254), reach=(160, 254))
    paper.size((24, seat), (24, 150), reach=(43,))
    paper.field(43, 274, "It ends at")
    paper.note(43, 306, "right or left counts from the centre line")
    paper.note(136, 40, "fore-aft mark", anchor="end")
    paper.field(166, 40, "Radius of its bends")
    paper.arrow((212, 47), (174, 132))
    return paper


def _lens() -> Paper:
    paper = Paper(
        252,
        "A lens melted on the end of a strand, in the bore of its casting, cut along. Bore of the casting: the hole "
        "in which the lens sits. Lens narrower than that by: the play round it. Or the lens itself: its diameter. "
        "Lens is long: from where the strand begins to its tip.",
    )
    middle, bore, radius, tip, root = 128, 58, 25, 92, 150
    for top in (middle - bore / 2 - 30, middle + bore / 2):
        paper.area(box(104, top, 78, 30), hatch=6)
    paper.line((root - 4, middle), (334, middle), pen=22)
    paper.line((root - 4, middle), (336, middle), pen=19, ink="#fff")
    paper.area(
        [*arc(tip + radius, middle, radius, radius, 90, 270), *_neck(tip + radius, middle, radius, root)], "#fff"
    )
    paper.size((214, middle - bore / 2), (214, middle + bore / 2), reach=(182,))
    paper.field(338, 60, "Bore of the casting", anchor="end")
    paper.arrow((250, 66), (216, 96))
    paper.size((66, middle - radius), (66, middle + radius), reach=(tip + radius,))
    paper.field(16, 26, "Or the lens itself")
    paper.note(16, 43, "its diameter")
    paper.arrow((40, 49), (63, 108))
    paper.size((tip, 206), (root, 206), reach=(middle, middle + 11))
    paper.field(tip + 66, 210, "Lens is long")
    paper.field(16, 238, "Lens narrower than that by")
    paper.arrow((28, 224), (28, 178), (104, 155))
    paper.note(270, middle - 20, "strand", anchor="middle")
    return paper


def _neck(x: float, y: float, radius: float, root: float) -> list[Point]:
    """Return the back of a lens, from below its middle to the strand and on to above. [drawing unit]"""
    return [(x + 10, y + radius - 2), (root - 8, y + 14), (root, y + 11), (root, y - 11), (root - 8, y - 14),
            (x + 10, y - radius + 2)]  # fmt: skip

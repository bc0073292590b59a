"""The decoder's three sizes."""

from __future__ import annotations

from modelmath.drawings.measuring.paper import INK, PALE, Paper, box
from modelmath.drawings.measuring.tools import caliper


def papers() -> tuple[Paper, ...]:
    """Return the decoder in space with its sizes, and the caliper on it."""
    return _sizes(), _by_caliper()


def _sizes() -> Paper:
    paper = Paper(
        206,
        "A decoder in its sleeve, with its wires. Decoder's length: its longest side, the wires not counted. Decoder's "
        "width: across that, flat. Decoder's height: its thickness. All three over the sleeve.",
    )
    x, y, long, high, back, up = 112.0, 98.0, 140.0, 36.0, 54.0, 36.0
    for wire in range(4):
        start = (x + long + 10 + 11 * wire, y + high / 2 - 5 - 7.3 * wire)
        paper.line(start, (start[0] + 22, start[1] + 3), (start[0] + 48, start[1] - 6), pen=1.6)
    paper.area([(x, y), (x + back, y - up), (x + back + long, y - up), (x + long, y)])
    paper.area(box(x, y, long, high), hatch=8)
    paper.area([(x + long, y), (x + long + back, y - up), (x + long + back, y - up + high), (x + long, y + high)], PALE)
    for wire in range(4):
        paper.circle(x + long + 10 + 11 * wire, y + high / 2 - 5 - 7.3 * wire, 2.2, fill=INK, pen=0)
    paper.size((x, 156), (x + long, 156), reach=(y + high,))
    paper.field(x + long / 2, 174, "Decoder's length", anchor="middle")
    paper.size((98, y), (98, y + high), reach=(x,))
    paper.field(90, 112, "Decoder's", "height", anchor="end")
    paper.size((x - 9, y - 9), (x - 9 + back, y - 9 - up))
    paper.field(120, 54, "Decoder's", "width", anchor="end")
    paper.note(175, 198, "over its sleeve; the wires are not in it", anchor="middle")
    return paper


def _by_caliper() -> Paper:
    paper = Paper(
        172,
        "The decoder lies flat and the caliper holds it at its thickest, sleeve and parts below it counted, without "
        "pressing it. What the caliper shows is the Decoder's height.",
    )
    parts = [(34, 14), (74, 7), (104, 20), (150, 11)]
    for x, high in parts:
        paper.area(box(x, 112 - high, 30, high), PALE, pen=1)
    paper.area(box(20, 112, 178, 12), "#fff")
    outline = [(16, 128), (16, 108), (30, 96), (66, 94), (100, 90), (138, 90), (184, 99), (202, 110), (202, 128)]
    paper.area(outline, "none", pen=2)
    caliper(paper, (119, 128), (119, 90), 104, flipped=True)
    paper.field(16, 26, "Decoder's height")
    paper.note(16, 43, "at its thickest, not pressed")
    paper.note(16, 158, "board and parts in their sleeve")
    paper.arrow((60, 145), (60, 130))
    return paper

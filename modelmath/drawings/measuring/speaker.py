"""The speaker's length, width and depth; a round one; and what stands behind its flange."""

from __future__ import annotations

from modelmath.drawings.measuring.paper import CENTRE, DASHES, INK, PALE, Paper, arc, box
from modelmath.drawings.measuring.scenes import speaker_across


def papers() -> tuple[Paper, ...]:
    """Return a speaker seen on its face, cut through, and a round one."""
    return _face("Speaker's"), _depth("Speaker's"), _round("Speaker's")


def compared() -> tuple[Paper, ...]:
    """Return the same where the fields speak of it as the one that is asked about."""
    return _face("Its"), _depth("Its"), _round("Its")


def behind() -> tuple[Paper, ...]:
    """Return what stands behind the flange, and what moves or stands out."""
    return _basket(), _out()


def _face(whose: str) -> Paper:
    paper = Paper(
        226,
        f"A speaker seen on its sounding face. {whose} length: outside, over the flange, along the shell. {whose} "
        "width: outside, over the flange, across the shell.",
    )
    left, top, length, width = 36, 62, 196, 118
    paper.area(box(left, top, length, width), PALE, pen=2.2)
    middle = (left + length / 2, top + width / 2)
    paper.area(arc(*middle, 80, 46, 0, 360), "#fff")
    paper.area(arc(*middle, 68, 36, 0, 360), "#fff", pen=0.9)
    paper.area(arc(*middle, 26, 17, 0, 360), "#fff", pen=0.9)
    paper.size((left, 40), (left + length, 40), reach=(top,))
    paper.field(left + length / 2, 26, f"{whose} length", anchor="middle")
    paper.size((250, top), (250, top + width), reach=(left + length,))
    paper.field(260, 116, whose, "width")
    paper.note(middle[0], 126, "face", anchor="middle")
    paper.note(left + 34, 210, "towards the front of the model")
    paper.arrow((left + 28, 205), (left, 205))
    return paper


def _depth(whose: str) -> Paper:
    paper = Paper(
        216,
        f"The same speaker cut through, lying on its sounding face. {whose} depth: from its sounding face to its "
        "highest point behind, most often the magnet; flange and magnet are both in it. Terminals that stand out "
        "farther are entered apart.",
    )
    face = 156
    speaker_across(paper, 46, 216, face, 13, 98)
    paper.line((20, face), (276, face), pen=1)
    paper.size((248, face), (248, face - 98), reach=(216, 164))
    paper.field(258, 104, whose, "depth")
    paper.note(16, 42, "its highest point behind")
    paper.arrow((110, 46), (126, 56))
    paper.note(131, 182, "its sounding face", anchor="middle")
    paper.arrow((131, 170), (131, 159))
    paper.note(16, 90, "flange")
    paper.arrow((34, 96), (50, 141))
    paper.note(175, 206, "wires and terminals are entered apart", anchor="middle")
    return paper


def _round(whose: str) -> Paper:
    paper = Paper(
        226,
        "A round speaker seen on its face. Its shape: round. Its diameter, outside over the flange, is entered twice: "
        f"as {whose} length and as {whose} width.",
    )
    x, y, radius = 100, 128, 74
    paper.circle(x, y, radius, PALE, 2.2)
    paper.circle(x, y, 58)
    paper.circle(x, y, 48, pen=0.9)
    paper.circle(x, y, 20, pen=0.9)
    paper.line((x - 86, y), (x + 86, y), pen=0.8, dashes=CENTRE)
    paper.line((x, y - 82), (x, y + 86), pen=0.8, dashes=CENTRE)
    paper.size((x - radius, 34), (x + radius, 34), reach=(y,))
    paper.note(x, 24, "its diameter", anchor="middle")
    paper.note(206, 92, "is entered as")
    paper.field(206, 112, f"{whose} length")
    paper.note(206, 132, "and again as")
    paper.field(206, 152, f"{whose} width")
    paper.note(206, 184, "and round is")
    paper.note(206, 200, "chosen for")
    paper.field(206, 216, "Its shape")
    return paper


def _basket() -> Paper:
    paper = Paper(
        220,
        "A speaker cut along its middle, lying on its sounding face. Length behind the flange: of the basket that "
        "stands there, along the speaker. Rim round the cone: the width of the flange beside the cone.",
    )
    left, right, face = 45, 305, 152
    in_by = 0.14 * (right - left)
    speaker_across(paper, left, right, face, 15, 94)
    paper.size((left + in_by, 40), (right - in_by, 40), reach=(137,))
    paper.field(175, 26, "Length behind the flange", anchor="middle")
    paper.note(175, 92, "magnet", anchor="middle", halo=False)
    paper.size((left, 172), (left + in_by, 172), reach=(face,))
    paper.field(left, 196, "Rim round the cone")
    paper.note(left, 213, "the flange beside the cone")
    return paper


def _out() -> Paper:
    paper = Paper(
        240,
        "The same speaker cut across, lying on its sounding face. Width behind the flange: of the basket, across the "
        "speaker. Terminals stand out by: how far terminals and wires reach beyond its highest point behind. The cone "
        "moves out by: how far the cone comes out over the sounding face when it is loud.",
    )
    left, right, face, depth = 16, 192, 158, 84
    in_by, back = 0.14 * (right - left), 158 - 84
    speaker_across(paper, left, right, face, 15, depth)
    for x in (88, 112):
        paper.area(box(x, back - 13, 8, 13), INK, pen=0)
    paper.size((left + in_by, 36), (right - in_by, 36), reach=(143,))
    paper.field(left, 22, "Width behind the flange")
    paper.size((224, back), (224, back - 13), reach=(142, 122))
    paper.field(236, 60, "Terminals", "stand out by")
    paper.line(*arc(104, face, 60, 15, 180, 360), pen=1.2, dashes=DASHES)
    paper.size((224, face + 15), (224, face), reach=(112, 196))
    paper.field(236, 158, "The cone", "moves out by")
    paper.note(104, 204, "the cone, as far out", anchor="middle")
    paper.note(104, 220, "as it goes", anchor="middle")
    return paper

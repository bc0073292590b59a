"""Zones along the length: where each ends, and the mark that joins both halves."""

from __future__ import annotations

from modelmath.drawings.measuring.paper import CENTRE, PALE, Paper, arc, box
from modelmath.drawings.measuring.scenes import chassis, shell_cut
from modelmath.drawings.measuring.tools import WIDE, rule_up, strip


def papers() -> tuple[Paper, ...]:
    """Return the shell with its mark, the chassis with its zones, and the ways to read one."""
    return _shell(), _chassis(), _readings(), _gap()


def _shell() -> Paper:
    paper = Paper(
        216,
        "The shell cut along its middle, its front end on the left. Its place on the shell: from the inner face of "
        "its front end to the Fore-aft mark, here a screw that holds both halves together.",
    )
    front, rear, roof, edge, mark = 40, 320, 66, 140, 268
    shell_cut(paper, front, rear, roof, edge)
    paper.area([(mark - 9, roof), (mark + 9, roof), (mark + 9, edge - 8), (mark - 9, edge - 8)], hatch=5, falling=True)
    paper.line((mark, 40), (mark, 196), pen=0.9, dashes=CENTRE)
    paper.size((front, 168), (mark, 168), reach=(edge, 160))
    paper.field(40, 188, "Its place on the shell")
    paper.field(334, 32, "Fore-aft mark", anchor="end")
    paper.note(48, 118, "from the shell's", "front end, inside")
    paper.note(16, 32, "front end")
    paper.arrow((34, 38), (36, 57))
    paper.note(120, 88, "shell")
    paper.note(259, 208, "a screw both halves have", anchor="middle")
    return paper


def _chassis() -> Paper:
    paper = Paper(
        296,
        "The chassis from the side, its front end on the left, with two zones of different height. Ends at, from the "
        "front: from the chassis' front end to where the first zone ends and the next begins. Its place on the "
        "chassis: from the same end to the Fore-aft mark.",
    )
    left, right, seat, ends, mark = 20, 330, 136, 150, 262
    chassis(paper, left, right, seat, [(48, ends, 100), (ends, 238, 72)])
    paper.line((mark, 40), (mark, 262), pen=0.9, dashes=CENTRE)
    paper.field(334, 32, "Fore-aft mark", anchor="end")
    paper.note(99, 122, "zone 1", anchor="middle")
    paper.note(194, 122, "zone 2", anchor="middle")
    paper.size((left, 200), (ends, 200), reach=(seat + 16, 100))
    paper.field(left + 4, 218, "Ends at, from the front")
    paper.size((left, 236), (mark, 236), reach=(seat + 16, 236))
    paper.field(left + 4, 254, "Its place on the chassis")
    paper.note(left + 4, 278, "both from the chassis' front end")
    paper.note(16, 60, "front end")
    paper.arrow((30, 66), (21, 132))
    return paper


def _readings() -> Paper:
    seat = 178
    paper = Paper(
        232,
        "The same chassis, a rule on the seat beside each zone. Every zone has its own Reading on the chassis, at its "
        "highest point. Where the roof differs too, it has its own Reading in the shell.",
    )
    chassis(paper, 20, 330, seat, [(66, 168, 130), (168, 280, 96)])
    for x, top in ((34, 130), (284, 96)):
        rule_up(paper, x, seat, 116, right=x < 100)
        paper.touches(x + WIDE / 2, seat)
        del top
    strip(paper, 62, 128, 130)
    strip(paper, 208, 284, 96)
    paper.field(16, 26, "Reading on the chassis")
    paper.note(16, 43, "one for each zone, at its highest point")
    paper.note(117, 158, "zone 1", anchor="middle")
    paper.note(224, 158, "zone 2", anchor="middle")
    return paper


def _gap() -> Paper:
    left, right, roof, top, seat = 70, 250, 64, 116, 174
    paper = Paper(
        248,
        "Shell and chassis put together, cut across one zone. Or the gap, assembled: the space between roof and "
        "chassis, from a piece of putty pressed there or from feelers. More spots over it: where it differs from left "
        "to right, further readings of the same zone; the smallest depth counts.",
    )
    paper.area(box(left - 26, seat, right - left + 52, 16), hatch=7)
    paper.area([(left + 20, seat), (left + 20, 134), (left + 52, 134), (left + 52, top), (right - 14, top),
                (right - 14, seat)], hatch=7)  # fmt: skip
    shell_cut(paper, left, right, roof, seat)
    paper.area(arc(150, 90, 14, 26, 0, 360), PALE, pen=1.2)
    paper.size((200, top), (200, roof))
    paper.field(338, 26, "Or the gap, assembled", anchor="end")
    paper.arrow((236, 33), (203, 88))
    paper.note(16, 44, "putty")
    paper.arrow((58, 40), (120, 44), (146, 68))
    paper.size((left + 36, 134), (left + 36, roof))
    paper.field(16, 222, "More spots over it")
    paper.arrow((40, 208), (40, 148), (left + 33, 100))
    paper.note(16, 239, "left, right: the smallest depth counts")
    return paper

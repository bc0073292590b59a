"""The reading on the chassis: from the seat up to the highest point under the roof."""

from __future__ import annotations

from modelmath.drawings.measuring.paper import Paper
from modelmath.drawings.measuring.scenes import chassis
from modelmath.drawings.measuring.tools import WIDE, rule_up, strip


def papers() -> tuple[Paper, ...]:
    """Return the chassis from the side, the rule beside what is highest."""
    seat, top, rule = 158, 84, 270
    paper = Paper(
        216,
        "The chassis from the side. The rule stands with its end on the seat, the face where the shell rests. A "
        "straight strip lies on the highest point under the roof and touches the rule. Reading on the chassis: the "
        "mark at the strip's underside.",
    )
    chassis(paper, 16, 334, seat, [(112, 148, 116), (148, 226, top), (226, 254, 126)])
    rule_up(paper, rule, seat, 134, right=False)
    paper.touches(rule + WIDE / 2, seat)
    strip(paper, 140, rule, top)
    paper.field(16, 26, "Reading on the chassis")
    paper.note(16, 43, "at the strip's underside")
    paper.arrow((190, 30), (232, 34), (266, 81))
    paper.note(16, 72, "the highest point")
    paper.note(16, 88, "under the roof")
    paper.arrow((118, 84), (147, 86))
    paper.note(187, 130, "chassis", anchor="middle")
    paper.note(304, 118, "the", "rule's", "end")
    paper.note(16, 112, "the seat,", "where the", "shell rests")
    paper.arrow((30, 147), (30, 157))
    return (paper,)

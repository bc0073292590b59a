"""The reading in the shell, turned over: from the inside of the roof to the edge that rests on the seat."""

from __future__ import annotations

from modelmath.drawings.measuring.paper import Paper
from modelmath.drawings.measuring.scenes import shell_cut
from modelmath.drawings.measuring.tools import WIDE, rule_up, strip


def papers() -> tuple[Paper, ...]:
    """Return the shell turned over and cut across, the rule standing in it."""
    roof, edge, rule = 186, 80, 196
    paper = Paper(
        238,
        "The shell turned over, cut across. The rule stands with its end on the inside of the roof. A straight strip "
        "lies across the two edges that rest on the seat. Reading in the shell: the mark at the strip's underside.",
    )
    shell_cut(paper, 112, 300, roof, edge)
    strip(paper, 92, 320, edge)
    rule_up(paper, rule, roof, 148)
    paper.touches(rule + WIDE / 2, roof)
    paper.field(16, 26, "Reading in the shell")
    paper.note(16, 43, "at the strip's underside")
    paper.arrow((124, 50), (150, 62), (193, 79))
    paper.note(14, 112, "the edge", "that rests", "on the", "seat")
    paper.arrow((74, 98), (103, 83))
    paper.note(186, 160, "the", anchor="end")
    paper.note(186, 176, "rule's end", anchor="end")
    paper.note(206, 214, "inside of the roof", anchor="middle")
    paper.note(206, 230, "the shell, turned over", anchor="middle")
    paper.line((206, 203), (206, 190), pen=0.8)
    return (paper,)

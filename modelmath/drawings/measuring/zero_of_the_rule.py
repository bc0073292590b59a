"""How far the rule's zero stands in from its end, and how that is found."""

from __future__ import annotations

from modelmath.drawings.measuring.paper import Paper, box
from modelmath.drawings.measuring.tools import WIDE, rule_across, rule_up, strip


def papers() -> tuple[Paper, ...]:
    """Return the rule's end from near, and the rule beside a block of known size."""
    return _near(), _found()


def _near() -> Paper:
    paper = Paper(
        150,
        "The end of a rule from near. Its zero mark does not lie at the end but stands in from it. That distance, from "
        "the end to the zero mark, is the entry: Rule's zero stands in from its end by.",
    )
    rule_across(paper, 40, 62, 280, zero=66, unit=64)
    paper.line((320, 58), (312, 70), (326, 80), (318, 94), pen=1)
    paper.size((40, 42), (106, 42), reach=(62,))
    paper.field(16, 26, "Rule's zero stands in from its end by")
    paper.note(16, 134, "the rule's end")
    paper.arrow((40, 120), (40, 93))
    paper.note(132, 134, "the zero mark")
    paper.arrow((172, 120), (111, 71))
    return paper


def _found() -> Paper:
    paper = Paper(
        246,
        "How to find it: the rule stands with its end on a flat plate beside a block whose size is known, such as one "
        "measured by caliper. A straight strip lies on the block and touches the rule; the rule is read at the strip's "
        "underside. The size of the block less the reading is what is entered: Rule's zero stands in from its end by.",
    )
    plate, zero = 190, 24
    top = plate - zero - 72
    paper.area(box(20, plate, 310, 12), hatch=7)
    paper.area(box(112, top, 64, plate - top), hatch=6, falling=True, name="block")
    rule_up(paper, 200, plate, 150, zero=zero, right=False)
    paper.touches(200 + WIDE / 2, plate)
    strip(paper, 102, 200, top)
    paper.size((92, plate), (92, top), reach=(112,))
    paper.note(84, 138, "its size,", "known", anchor="end")
    paper.note(144, 148, "block", anchor="middle")
    paper.note(16, 40, "the reading, at the", "strip's underside")
    paper.arrow((156, 50), (180, 62), (198, top - 1))
    paper.size((252, plate), (252, plate - zero), reach=(200 + WIDE,))
    paper.note(262, 152, "zero to", "end")
    paper.note(20, 222, "size less reading =")
    paper.field(20, 239, "Rule's zero stands in from its end by")
    return paper

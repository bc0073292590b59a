"""The thickness of the speaker's flange, where it rests on its supports under the roof."""

from __future__ import annotations

from modelmath.drawings.measuring.paper import PALE, Paper, box
from modelmath.drawings.measuring.scenes import speaker_across
from modelmath.drawings.measuring.tools import caliper


def papers() -> tuple[Paper, ...]:
    """Return the speaker in its place, and the caliper on its flange."""
    return _in_place(), _by_caliper()


def _in_place() -> Paper:
    roof, face, flange = 42, 164, 13
    paper = Paper(
        232,
        "The speaker in its place, cut through, its sounding face down and level with the floor. Its flange rests "
        "against four supports, which stand under the roof. Thickness of the speaker's flange: where a support rests "
        "on it.",
    )
    paper.area(box(16, roof - 8, 318, 8), hatch=5, falling=True)
    for x in (80, 240):
        paper.area(box(x, roof, 17, face - flange - roof), "#fff")
        for stripe in range(1, 4):
            paper.line((x + 4.2 * stripe, roof), (x + 4.2 * stripe, face - flange), pen=0.8)
    for start, end in ((16, 76), (261, 334)):
        paper.area(box(start, face - 8, end - start, 8), "#8b8a85", pen=1)
    speaker_across(paper, 78, 259, face, flange, 92)
    paper.size((288, face), (288, face - flange), reach=(259,))
    paper.note(175, 24, "roof of the shell", anchor="middle")
    paper.note(16, 78, "support")
    paper.arrow((70, 74), (79, 78))
    paper.note(168, 96, "speaker", anchor="middle", halo=False)
    paper.note(16, 146, "floor")
    paper.note(168, 190, "sounding face", anchor="middle")
    paper.arrow((168, 178), (168, 166))
    paper.field(334, 206, "Thickness of the", "speaker's flange", anchor="end")
    paper.line((288, 181), (288, 192), pen=0.9)
    return paper


def _by_caliper() -> Paper:
    paper = Paper(
        188,
        "Thickness of the speaker's flange: the caliper holds the flange alone, where a support will rest on "
        "it. A gasket or a label on the flange counts with it if it stays there.",
    )
    face, flange = 116, 17
    paper.area([(16, face - flange), (16, face - 82), (112, face - 82), (138, face - flange)], "#fff")
    paper.area(box(16, face - flange, 180, flange), PALE, pen=2.2)
    caliper(paper, (184, face), (184, face - flange), 104, flipped=True)
    paper.note(66, 70, "basket", anchor="middle")
    paper.note(78, face - 5, "flange", anchor="middle", halo=False)
    paper.field(16, 158, "Thickness of the speaker's flange")
    paper.note(16, 175, "where a support rests on it")
    paper.arrow((184, 144), (184, 125))
    return paper

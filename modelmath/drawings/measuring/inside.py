"""Inside width and inside length of the shell."""

from __future__ import annotations

from modelmath.drawings.measuring.paper import Paper
from modelmath.drawings.measuring.scenes import shell_cut
from modelmath.drawings.measuring.tools import caliper


def papers() -> tuple[Paper, ...]:
    """Return the shell turned over: cut across, and cut along."""
    return _width(), _length()


def _width() -> Paper:
    paper = Paper(
        226,
        "The shell turned over, cut across. The caliper's inner jaws reach in and touch both sides. Inside width of "
        "the shell: at its narrowest, ribs and window bars counted.",
    )
    left, right, roof, edge = 72, 262, 182, 96
    shell_cut(paper, left, right, roof, edge)
    caliper(paper, (left, 138), (right, 138), 80, inside=True)
    paper.size((left, 160), (right, 160))
    paper.note(167, 126, "inside width", anchor="middle")
    paper.field(16, 22, "Inside width of the shell")
    paper.note(334, 214, "at its narrowest; the shell is turned over", anchor="end")
    return paper


def _length() -> Paper:
    paper = Paper(
        226,
        "The shell turned over, cut along its middle, its front end on the left. Length inside the shell: from the "
        "inner face of the front wall to the inner face of the rear wall, or to the open end.",
    )
    front, rear, roof, edge = 34, 292, 170, 96
    shell_cut(paper, front, rear, roof, edge)
    caliper(paper, (front, 128), (rear, 128), 66, inside=True)
    paper.size((front, 150), (rear, 150))
    paper.note(163, 118, "from wall to wall", anchor="middle")
    paper.field(16, 22, "Length inside the shell")
    paper.note(27, 198, "front end")
    paper.note(299, 198, "rear end", anchor="end")
    paper.note(163, 216, "a steel rule does as well", anchor="middle")
    return paper

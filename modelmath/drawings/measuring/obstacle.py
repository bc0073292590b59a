"""An obstacle: where it starts and ends, how high and how wide it is, and how far off the centre line."""

from __future__ import annotations

from modelmath.drawings.measuring.paper import CENTRE, DASHES, PALE, Paper, box
from modelmath.drawings.measuring.scenes import chassis, shell_cut


def papers() -> tuple[Paper, ...]:
    """Return an obstacle on the chassis from the side, and from the front."""
    return _side(), _front()


def _side() -> Paper:
    paper = Paper(
        272,
        "The chassis from the side, an obstacle standing on it. Starts at and Ends at: both from the front end of the "
        "half it is read on, here the chassis. Height of its top: above the seat, on which the shell rests. Gap kept "
        "round it: free on every side, and entered apart.",
    )
    left, right, seat, start, end, top = 20, 290, 140, 146, 206, 76
    chassis(paper, left, right, seat, [(64, 240, 118)])
    paper.area(box(start, top, end - start, 118 - top), PALE, pen=2.2)
    gap = [(start - 11, 116), (start - 11, top - 11), (end + 11, top - 11), (end + 11, 116)]
    paper.line(*gap, pen=1.1, dashes=DASHES)
    paper.size((left, 208), (start, 208), reach=(seat + 16, 118))
    paper.field(left + 4, 226, "Starts at")
    paper.size((left, 238), (end, 238), reach=(seat + 16, 118))
    paper.field(left + 4, 256, "Ends at")
    paper.note(214, 230, "both from the", "front end")
    paper.size((312, seat), (312, top), reach=(right, end))
    paper.field(338, 26, "Height of its top", anchor="end")
    paper.note(338, 43, "above the seat", anchor="end")
    paper.arrow((312, 48), (312, 72))
    paper.field(16, 26, "Gap kept round it")
    paper.arrow((90, 32), (136, 70))
    paper.note(176, 101, "it", anchor="middle", halo=False)
    paper.note(16, 66, "front end")
    paper.arrow((30, 72), (21, 138))
    return paper


def _front() -> Paper:
    paper = Paper(
        272,
        "The same from the front, looking to the rear, the shell cut across. Its width: across the shell. Its middle "
        "is right of the centre line by: from the centre line of the shell to the middle of the obstacle; below 0 "
        "where that lies left of it.",
    )
    left, right, middle, own = 54, 236, 145, 178
    paper.area(box(left - 24, 168, right - left + 48, 16), hatch=7)
    paper.area(box(left + 14, 140, right - left - 28, 28), hatch=7)
    shell_cut(paper, left, right, 60, 168)
    paper.area(box(own - 25, 100, 50, 40), PALE, pen=2.2)
    paper.line((middle, 34), (middle, 216), pen=0.9, dashes=CENTRE)
    paper.line((own, 92), (own, 216), pen=0.9, dashes=CENTRE)
    paper.size((own - 25, 84), (own + 25, 84), reach=(100,))
    paper.field(right + 14, 88, "Its width")
    paper.size((middle, 204), (own, 204))
    paper.field(16, 240, "Its middle is right of the", "centre line by")
    paper.note(334, 26, "looking to the rear", anchor="end")
    paper.note(16, 26, "centre line")
    paper.arrow((100, 28), (middle - 2, 46))
    paper.note(left - 24, 202, "left")
    paper.note(right + 24, 202, "right", anchor="end")
    return paper

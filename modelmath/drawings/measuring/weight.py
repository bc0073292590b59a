"""The weight on each truck, and where the trucks stand."""

from __future__ import annotations

from modelmath.drawings.measuring.paper import CENTRE, PALE, Paper, box
from modelmath.drawings.measuring.scenes import chassis


def papers() -> tuple[Paper, ...]:
    """Return a chassis with its front truck on a scale, the rear one level beside it."""
    paper = Paper(
        252,
        "A model with its front truck alone on a scale and its rear truck on a block as high as the scale, so that it "
        "stands level. The front end weighs: what the scale shows; then the other way round for the rear end. Front "
        "truck's middle and Rear truck's middle: their places behind the fore-aft mark, below 0 ahead of it.",
    )
    left, right, seat, mark = 20, 330, 88, 134
    chassis(paper, left, right, seat, [(44, 306, 66)])
    paper.area([(24, 135), (116, 135), (122, 160), (18, 160)], PALE)
    paper.area(box(46, 141, 48, 15))
    paper.figure(70, 153, "120 g")
    paper.area(box(228, 129, 102, 31), hatch=8)
    paper.area(box(20, 129, 100, 6), "#fff")
    paper.line((8, 160), (342, 160), pen=1)
    paper.line((mark, 52), (mark, 226), pen=0.9, dashes=CENTRE)
    for middle in (72, 278):
        paper.line((middle, 96), (middle, 232), pen=0.8, dashes=CENTRE)
    paper.size((72, 186), (mark, 186))
    paper.field(16, 26, "The front end weighs")
    paper.arrow((30, 33), (12, 60), (12, 147), (20, 147))
    paper.size((mark, 214), (278, 214))
    paper.field(142, 190, "Front truck's middle")
    paper.field(142, 234, "Rear truck's middle")
    paper.note(338, 44, "fore-aft mark", anchor="end")
    paper.arrow((236, 40), (mark + 2, 56))
    return (paper,)

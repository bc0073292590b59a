"""A cross-section of a curved roof: how wide the inside is at some depth below its highest point."""

from __future__ import annotations

from modelmath.drawings.measuring.paper import PALE, Paper, arc, box
from modelmath.drawings.measuring.scenes import WALL
from modelmath.drawings.measuring.tools import WIDE, rule_up, strip


def papers() -> tuple[Paper, ...]:
    """Return the shell cut across with widths at two depths, and how one is measured."""
    return _meant(), _found()


def _shell(paper: Paper, left: float, right: float, roof: float, shoulder: float, edge: float) -> None:
    """Draw a shell with a rounded roof; turned over where the roof is below the edge. [drawing unit]"""
    middle, half, rise = (left + right) / 2, (right - left) / 2, shoulder - roof
    out = WALL if rise > 0 else -WALL
    inner = arc(middle, shoulder, half, rise, 180, 0)
    outer = arc(middle, shoulder, half + WALL, rise + out, 0, 180)
    paper.area([(left, edge), *inner, (right, edge), (right + WALL, edge), *outer, (left - WALL, edge)], hatch=5)


def _half_width(half: float, rise: float, depth: float) -> float:
    """Return half the width of a rounded roof at a depth below its highest point. [drawing unit]"""
    over = float(1 - depth / rise)
    return half * float((1 - over * over) ** 0.5)


def _meant() -> Paper:
    left, right, roof, shoulder, edge = 60, 240, 64, 124, 200
    middle = (left + right) / 2
    paper = Paper(
        252,
        "The shell cut across, its roof rounded. Depth below the roof: full width. At some depths below the highest "
        "point of the inside, the full width from side to side; from the roof down to where the shell is as wide as it "
        "was read, which is the Inside width of the shell.",
    )
    _shell(paper, left, right, roof, shoulder, edge)
    for depth in (18, 42):
        half = _half_width((right - left) / 2, shoulder - roof, depth)
        paper.size((middle - half, roof + depth), (middle + half, roof + depth))
    paper.line((middle, roof), (312, roof), pen=0.7)
    paper.size((276, roof + 18), (276, roof), reach=(200, 290))
    paper.size((304, roof + 42), (304, roof), reach=(222, 310))
    paper.note(middle, 144, "full widths", anchor="middle")
    paper.field(16, 24, "Depth below the roof: full width")
    paper.note(338, 130, "depths", anchor="end")
    paper.size((left, 168), (right, 168))
    paper.field(16, 228, "Inside width of the shell")
    paper.note(16, 245, "below the last depth")
    paper.arrow((150, 212), (150, 172))
    return paper


def _found() -> Paper:
    left, right, roof, shoulder, edge = 84, 264, 196, 136, 76
    middle, depth = (left + right) / 2, 24
    half = _half_width((right - left) / 2, roof - shoulder, depth)
    paper = Paper(
        252,
        "How to find one: the shell turned over. A straight piece of strip, cut to a width and laid in level, comes to "
        "rest where the inside is as wide as it is. The rule stands on it and is read at the edge that rests on the "
        "seat. Reading in the shell, less this reading, less the thickness of the piece, is the depth below the roof; "
        "its full width is that of the piece.",
    )
    _shell(paper, left, right, roof, shoulder, edge)
    paper.area(box(middle - half, roof - depth - 6, 2 * half, 6), PALE, pen=1.2)
    rule_up(paper, middle - WIDE / 2, roof - depth - 6, 132)
    paper.touches(middle, roof - depth - 6)
    strip(paper, left - 22, middle - WIDE / 2, edge)
    paper.area(box(middle + WIDE / 2, edge - 6, right - middle + 22 - WIDE / 2, 6), PALE, pen=1.2)
    paper.size((296, roof), (296, roof - depth), reach=(200, middle + half))
    paper.note(306, 190, "depth")
    paper.note(16, 26, "this reading, at", "the edge")
    paper.arrow((84, 40), (110, 46), (middle - WIDE / 2 - 3, edge - 1))
    paper.note(14, 112, "a piece", "of known", "width")
    paper.arrow((44, 148), (middle - half + 8, roof - depth - 8))
    paper.field(16, 230, "Reading in the shell")
    paper.note(176, 230, "less this reading,")
    paper.note(16, 247, "less the piece's thickness, is its depth")
    return paper

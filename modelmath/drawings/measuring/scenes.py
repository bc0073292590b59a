"""What several pictures show: a chassis from the side, a shell cut along or across, a speaker cut through."""

from __future__ import annotations

from collections.abc import Sequence

from modelmath.drawings.measuring.paper import INK, PALE, THICK, THIN, Paper, box
from modelmath.drawings.shapes import Point

HATCH = 7.0
WALL = 7.0  # thickness of the shell


def chassis(paper: Paper, left: float, right: float, seat: float, steps: Sequence[tuple[float, float, float]]) -> None:
    """Draw a chassis from the side: a frame on two trucks, its upper face the seat, and what stands on it.

    Parameters
    ----------
    paper : Paper
        The picture. [-]
    left, right, seat : float
        Ends of the frame and height of its upper face. [drawing unit]
    steps : sequence of (float, float, float)
        What stands on it, front to rear without a gap: from, to, and its top. [drawing unit]

    References
    ----------
    None needed.
    """
    frame = 16.0
    for middle in (left + 52, right - 52):
        for wheel in (middle - 22, middle + 22):
            paper.circle(wheel, seat + frame + 14, 11)
            paper.circle(wheel, seat + frame + 14, 2, fill=INK, pen=0)
        paper.area(box(middle - 36, seat + frame, 72, 11), PALE, pen=1.2)
    outline: list[Point] = [(left, seat + frame), (left, seat)]
    for start, end, top in steps:
        outline += [(start, outline[-1][1]), (start, top), (end, top)]
    outline += [(outline[-1][0], seat), (right, seat), (right, seat + frame)]
    paper.area(outline, hatch=HATCH, name="chassis")


def shell_cut(paper: Paper, left: float, right: float, roof: float, edge: float) -> None:
    """Draw a shell cut across, or along its middle with its front on the left, by the faces of its inside.

    Where the roof is below the edge, it is turned over.

    Parameters
    ----------
    paper : Paper
        The picture. [-]
    left, right : float
        Inner faces of its sides, or of its ends. [drawing unit]
    roof, edge : float
        Inside of the roof, and the edges that rest on the seat. [drawing unit]

    References
    ----------
    None needed.
    """
    out = WALL if roof > edge else -WALL
    outside = [(left - WALL, edge), (left - WALL, roof + out), (right + WALL, roof + out), (right + WALL, edge)]
    paper.area(
        [*outside, (right, edge), (right, roof), (left, roof), (left, edge)], hatch=5, falling=True, name="shell"
    )


def speaker_across(paper: Paper, left: float, right: float, face: float, flange: float, depth: float) -> None:
    """Draw a speaker cut through its middle, its sounding face down.

    Parameters
    ----------
    paper : Paper
        The picture. [-]
    left, right : float
        Edges of its flange. [drawing unit]
    face : float
        Height of its sounding face. [drawing unit]
    flange, depth : float
        Thickness of its flange, and the whole from its face to its back. [drawing unit]

    References
    ----------
    None needed.
    """
    wide = right - left
    back, seat = face - depth, face - flange
    in_by, magnet = 0.14 * wide, 0.32 * wide
    shoulder = seat - 0.45 * (depth - flange)
    basket = [(left + in_by, seat), (left + in_by + 8, shoulder), (left + magnet, shoulder), (left + magnet, back)]
    paper.area([*basket, *((left + right - x, y) for x, y in reversed(basket))], "#fff")
    paper.area(box(left + magnet, back, wide - 2 * magnet, shoulder - back), PALE)
    # The cone, and the rim round it.
    paper.area(box(left, seat, wide, flange), PALE, pen=THICK, name="flange")
    opening = left + in_by, right - in_by
    paper.area(box(opening[0], seat, opening[1] - opening[0], flange), "#fff", pen=THIN)
    coil = left + magnet + 6, right - magnet - 6
    paper.line(
        (opening[0], face - 3), (coil[0], shoulder + 2), (coil[1], shoulder + 2), (opening[1], face - 3), pen=1.2
    )

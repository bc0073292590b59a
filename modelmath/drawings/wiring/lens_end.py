"""A lens melted on the end of a strand, in true proportion, over the end as it was before."""

from __future__ import annotations

from typing import TYPE_CHECKING

from modelmath.drawings.shapes import Drawing, Label, Lines, Pen, Point, text_width

if TYPE_CHECKING:
    from modelmath.light.lens.melt import Melt

WIDTH, TEXT = 480.0, 14.0
EDGE, GAP, TICK = 4.0, 8.0, 5.0
MOST_HIGH = 180.0  # of the lens
STUB = 1.6  # strand diameters of strand shown behind the lens
SOLID, BEFORE, SIZE, AXIS = Pen(2.0), Pen(1.2, 0.35, (5, 4)), Pen(0.9, 0.25), Pen(0.6, 0.55, (9, 3, 2, 3))


def lens_end(melt: Melt) -> Drawing:
    """Draw a lens on its strand, with the length of strand that goes into it in dashes.

    Parameters
    ----------
    melt : Melt
        The lens and what is melted for it. [mm]

    Returns
    -------
    Drawing
        One scale along and across; the four sizes stand beside it. [drawing unit]

    References
    ----------
    `LensEnd.profile`.
    """
    end = melt.end
    strand, lens = float(end.strand_mm), float(end.diameter_mm)
    wide, thin = f"{lens:.2f} mm", f"{strand:.2f} mm"
    left, right = (text_width(words, TEXT) + GAP + 3 * TICK for words in (thin, wide))
    long = STUB * strand + max(melt.head_length_mm, melt.melted_mm)
    unit = min((WIDTH - 2 * EDGE - left - right) / long, MOST_HIGH / lens)
    room = TEXT + 3 * GAP  # for a length's words above, and for another's below
    drawing = Drawing(WIDTH, lens * unit + 2 * room, "The lens on its strand, in true proportion", _described(melt))
    level, plane = drawing.height / 2, (WIDTH - long * unit + left - right) / 2 + STUB * strand * unit
    half, across = strand * unit / 2, lens * unit / 2
    start, tip, before = plane - STUB * strand * unit, plane + melt.head_length_mm * unit, plane + melt.melted_mm * unit
    upper = [(plane + x * unit, level + radius * unit) for x, radius in end.profile(48)]
    outline = [(start, level + half), *upper, *_mirrored(upper, level), (start, level - half)]
    dashed = ((plane, level + half), (before, level + half), (before, level - half), (plane, level - half))
    drawing.add(
        Lines("axis", (((start, level), (max(tip, before) + GAP, level)),), AXIS),
        Lines("before", (dashed,), BEFORE),
        Lines("lens", (tuple(outline),), SOLID),
    )
    _along(drawing, (plane, before), level + across + GAP, f"melted {melt.melted_mm:.2f} mm", above=True)
    _along(drawing, (plane, tip), level - across - GAP, f"stands out {melt.head_length_mm:.2f} mm", above=False)
    _across(drawing, start - 2 * TICK, (level - half, level + half), start, thin, right=False)
    widest = max(upper, key=lambda point: point[1])[0]
    _across(drawing, max(tip, before) + 2 * TICK, (level - across, level + across), widest, wide, right=True)
    return drawing


def _described(melt: Melt) -> str:
    end = melt.end
    return (
        f"A strand {float(end.strand_mm):.2f} mm thick with a lens {float(end.diameter_mm):.2f} mm wide that stands "
        f"out {melt.head_length_mm:.2f} mm; {melt.melted_mm:.2f} mm of strand, in dashes, go into it."
    )


def _mirrored(upper: list[Point], level: float) -> list[Point]:
    return [(x, 2 * level - y) for x, y in reversed(upper)]


def _along(drawing: Drawing, ends: Point, level: float, words: str, *, above: bool) -> None:
    """Draw a length along the strand, its words on the far side of its line."""
    ticks = tuple(((x, level - TICK), (x, level + TICK)) for x in ends)
    drawing.add(Lines("size", (((ends[0], level), (ends[1], level)), *ticks), SIZE))
    half = text_width(words, TEXT) / 2
    middle = min(max(sum(ends) / 2, EDGE + half), WIDTH - EDGE - half)
    drawing.add(Label(middle, level + GAP if above else level - GAP - TEXT * 0.75, words, TEXT, "middle"))


def _across(drawing: Drawing, x: float, ends: Point, from_x: float, words: str, *, right: bool) -> None:
    """Draw a width with thin lines to where it is taken, its words beside it."""
    outer = x + TICK if right else x - TICK
    lines = tuple(((from_x, y), (outer, y)) for y in ends)
    drawing.add(Lines("size", (((x, ends[0]), (x, ends[1])), *lines), SIZE))
    side = 1 if right else -1
    middle = sum(ends) / 2 - TEXT / 3
    drawing.add(Label(outer + side * GAP / 2, middle, words, TEXT, "start" if right else "end"))

"""How far each known dimension of a drawing is from what the others give, and how far it may be."""

from __future__ import annotations

from collections.abc import Sequence

from modelmath.drawings.shapes import Box, Drawing, Label, Lines, Pen, text_width
from modelmath.lengths.full_size.from_drawing import Deviation

WIDTH, TEXT, ROW, FOOT = 480.0, 14.0, 44.0, 44.0
MIDDLE, REACH = WIDTH / 2, WIDTH / 2 - 40
AXIS, WHISKER, MARK = Pen(0.8, 0.3, (4, 3)), Pen(1.4), Pen(1.0)
MOST_ROWS = 20


def agreement(deviations: Sequence[Deviation]) -> Drawing:
    """Draw each dimension as a dot with the range it may lie in; a range that misses the middle line disagrees.

    Parameters
    ----------
    deviations : sequence of Deviation
        At least one; the first `MOST_ROWS` are drawn. [-]

    Returns
    -------
    Drawing
        One row for each. [drawing unit]

    References
    ----------
    The deviations' own sizes.
    """
    rows = deviations[:MOST_ROWS]
    drawing = Drawing(WIDTH, ROW * len(rows) + FOOT, "Each known dimension against what the others give")
    drawing.description = "; ".join(f"{each.name}: {each.off.n:+.2%}" for each in rows)
    widest = max(abs(each.off.n) + each.limit * each.off.s for each in rows) or 1.0
    unit = REACH / widest
    drawing.add(Lines("as the others", (((MIDDLE, FOOT - 6), (MIDDLE, drawing.height - 4)),), AXIS))
    for number, each in enumerate(rows):
        level = drawing.height - number * ROW - 34
        at, half = MIDDLE + each.off.n * unit, each.limit * each.off.s * unit
        ends = [(at - half, at + half)]
        runs = [((left, level), (right, level)) for left, right in ends]
        runs += [((x, level - 5), (x, level + 5)) for x in ends[0]]
        drawing.add(Lines("range", tuple(runs), WHISKER))
        drawing.add(Box("dot", at - 4, level - 4, 8, 8, MARK, 0.0 if each.agrees else 1.0))
        words = f"{_cut(each.name)}: {_percent(each.off.n, widest)}" + ("" if each.agrees else ", disagrees")
        drawing.add(Label(1, level + 12, words, TEXT, bold=not each.agrees, halo=True))
    drawing.add(Label(MIDDLE - 8, 26, "measures too short", TEXT, "end", grey=0.25))
    drawing.add(Label(MIDDLE + 8, 26, "measures too long", TEXT, grey=0.25))
    drawing.add(Label(MIDDLE - REACH, 6, _percent(-widest, widest), TEXT, "middle"))
    drawing.add(Label(MIDDLE + REACH, 6, _percent(widest, widest), TEXT, "middle"))
    drawing.add(Label(MIDDLE, 6, "0", TEXT, "middle"))
    return drawing


def _percent(value: float, widest: float) -> str:
    """Return a share in percent, to the decimals that the widest of the figure needs."""
    return f"{value:+.{1 if widest >= 0.01 else 2}%}".replace("%", " %")


def _cut(name: str) -> str:
    """Return a name short enough to leave room for what follows it."""
    room = WIDTH - text_width(": +00.0 %, disagrees", TEXT) - 8
    while text_width(name, TEXT) > room:
        name = name[:-2].rstrip("…") + "…"
    return name

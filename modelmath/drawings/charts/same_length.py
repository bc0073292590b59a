"""One prototype length in several scales, as bars in true proportion to each other."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from math import floor, log10

from modelmath.drawings.shapes import Box, Drawing, Label, Lines, Pen, hatch
from modelmath.lengths.full_size.resizing import InScale
from modelmath.lengths.prototype import PrototypeLength
from modelmath.lengths.text import mixed

WIDTH, TEXT, BAR, ROW, FOOT = 480.0, 14.0, 16.0, 46.0, 24.0
EDGE, FIELD = Pen(1.0), Pen(0.6)
HATCH = Pen(0.5, 0.35)
MOST_BARS = 12
FEWEST_FIELDS = 4


def same_length(length: PrototypeLength, sizes: Sequence[InScale], chosen: str = "") -> Drawing:
    """Draw one prototype length in several scales, the largest model on top.

    Parameters
    ----------
    length : PrototypeLength
        The length, above 0. [ft]
    sizes : sequence of InScale
        The same in each scale; the first `MOST_BARS` are drawn. [mm]
    chosen : str
        Name of the scale whose bar is hatched. [-]

    Returns
    -------
    Drawing
        Bars in true proportion, parted into fields of equally many prototype feet. [drawing unit]

    References
    ----------
    The lengths' own proportion.
    """
    rows = sorted(sizes[:MOST_BARS], key=lambda each: -each.mm)
    drawing = Drawing(WIDTH, ROW * len(rows) + FOOT, f"{length} in {len(rows)} scales, in true proportion")
    drawing.description = "; ".join(f"{each.scale} {_mm(each.mm)}" for each in rows)
    field = _field(length.feet)
    unit = (WIDTH - 2) / float(rows[0].mm)
    for number, each in enumerate(rows):
        low = drawing.height - (number + 1) * ROW + 6
        _bar(drawing, each, low, unit, float(field * each.scale.mm_per_foot), hatched=each.scale.name == chosen)
    drawing.add(Label(1, 6, f"The fields of each bar are {_feet(field)} of the prototype.", TEXT, grey=0.25))
    return drawing


def _bar(drawing: Drawing, each: InScale, low: float, unit: float, field_mm: float, *, hatched: bool) -> None:
    width = max(1.0, float(each.mm) * unit)
    drawing.add(Label(1, low + BAR + 6, f"{each.scale}   {_mm(each.mm)}", TEXT, bold=hatched))
    step = field_mm * unit
    if hatched:
        drawing.add(Lines("hatch", hatch(1, low, width, BAR, 6), HATCH))
    count = floor(width / step + 1e-9) if step > 1 else 0
    for number in range(1, count + 1, 2):
        left = number * step
        drawing.add(Box("field", 1 + left, low, min(step, width - left), BAR / 2, FIELD, 0.15))
    drawing.add(Box("bar", 1, low, width, BAR, EDGE))


def _field(feet: Fraction) -> Fraction:
    """Return the largest round number of feet, or of inches, that parts a length in four or more."""
    steps = (
        step * Fraction(10) ** power for power in range(floor(log10(max(float(feet), 1))), -1, -1) for step in (5, 2, 1)
    )
    found = next((step for step in steps if feet / step >= FEWEST_FIELDS), Fraction(1, 2))
    while feet / found < FEWEST_FIELDS:
        found /= 2 if found != Fraction(1, 4) else 3  # 6, 3 and 1 in, then halves of it
    return found


def _feet(field: Fraction) -> str:
    return f"{float(field):g} ft" if field >= 1 else f"{mixed(field * 12)} in"


def _mm(mm: Fraction) -> str:
    value = float(mm)
    return f"{value:.2f} mm" if value < 1e5 else f"{value / 1000:.5g} m"

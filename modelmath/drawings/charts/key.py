"""The key below a chart: each look of line, sign or area beside its words."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Literal

from modelmath.drawings.shapes import Circle, Label, Lines, Pen, Point, Shape, text_width, wrap

TEXT = 14.0  # text height on a sheet 480 units wide: 10 px where that is shown on a phone
ROW = TEXT * 1.35
GAP, EDGE = 4.0, 3.0  # between sign and text; left free at the sheet's edge
SWATCH = 30.0
Mark = Literal["circle", "cross"]
Swatch = Callable[[float, float], list[Shape]]  # drawn with its left end, at half its height, at (x, y)


def cap(x: float, level: float, width: float) -> tuple[Point, ...]:
    """Return the short line that ends an upright bar. [drawing unit]"""
    return ((x - width / 2, level), (x + width / 2, level))


def sign(name: str, x: float, y: float, mark: Mark, size: float, pen: Pen) -> Shape:
    """Return a circle or a cross round a point. [drawing unit]"""
    if mark == "circle":
        return Circle(name, x, y, size, pen)
    half = size / 2
    return Lines(
        name, (((x - half, y - half), (x + half, y + half)), ((x - half, y + half), (x + half, y - half))), pen
    )


def line_swatch(name: str, pen: Pen) -> Swatch:
    """Return the look of a line for the key."""
    return lambda x, y: [Lines(name, (((x, y), (x + SWATCH, y)),), pen)]


def sign_swatch(name: str, mark: Mark, size: float, pen: Pen) -> Swatch:
    """Return the look of a point for the key."""
    return lambda x, y: [sign(name, x + SWATCH / 2, y, mark, size, pen)]


def bar_swatch(name: str, width: float, pen: Pen) -> Swatch:
    """Return the look of an upright bar for the key."""

    def draw(x: float, y: float) -> list[Shape]:
        middle, low, top = x + SWATCH / 2, y - TEXT * 0.45, y + TEXT * 0.45
        caps = [cap(middle, level, width) for level in (low, top)] if width else []
        return [Lines(name, (((middle, low), (middle, top)), *caps), pen)]

    return draw


def band_swatch(name: str, step: float, pen: Pen) -> Swatch:
    """Return the look of a filled area for the key."""

    def draw(x: float, y: float) -> list[Shape]:
        places = [x + number * step for number in range(int(SWATCH // step) + 1)]
        return [Lines(name, tuple(((at, y - TEXT * 0.45), (at, y + TEXT * 0.45)) for at in places), pen)]

    return draw


def key_rows(entries: Sequence[tuple[str, Swatch]], width: float, level: float) -> tuple[list[Shape], float]:
    """Set the entries of a key side by side, in as many rows as they need.

    Parameters
    ----------
    entries : sequence of (str, Swatch)
        Words, and what draws the look they stand for. [-]
    width : float
        Width of the sheet. [drawing unit]
    level : float
        Height that the first row stays below. [drawing unit]

    Returns
    -------
    tuple of (list of Shape, float)
        The key, and how low it reaches. [drawing unit]

    References
    ----------
    None needed.

    Examples
    --------
    >>> shapes, low = key_rows([("zero", line_swatch("zero", Pen(1.0)))], 480, 0)
    >>> [shape.text for shape in shapes if isinstance(shape, Label)], round(low, 1)
    (['zero'], -22.9)
    """
    shapes: list[Shape] = []
    x = width  # the first entry begins a row
    for words, swatch in entries:
        lines = wrap(words, width - 2 * EDGE - SWATCH - TEXT, TEXT)
        wide = SWATCH + TEXT / 2 + max(text_width(line, TEXT) for line in lines)
        if x + wide > width - EDGE:
            x, level = EDGE, level - ROW - GAP
        shapes += swatch(x, level + GAP + TEXT * 0.36)
        for number, line in enumerate(lines):
            level -= ROW if number else 0.0
            shapes.append(Label(x + SWATCH + TEXT / 2, level + GAP, line, TEXT))
        x += wide + 1.5 * TEXT
    return shapes, level

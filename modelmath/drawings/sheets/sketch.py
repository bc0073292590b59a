"""A drawing put on a page of the packet."""

from __future__ import annotations

from typing import Any

from reportlab.pdfbase.pdfmetrics import stringWidth
from reportlab.platypus import Flowable

from modelmath.drawings.shapes import Box, Circle, Drawing, Label, Lines, Pen, Shape, plain
from modelmath.drawings.sheets.style import BOLD, PLAIN, grey


class Sketch(Flowable):
    """A drawing on the page.

    Parameters
    ----------
    drawing : Drawing
        The drawing. [drawing unit]
    unit : float
        Size of its unit on paper. [pt]
    true_size : bool
        Whether it is to be measured or cut from: its page then carries check bars. [-]
    """

    def __init__(self, drawing: Drawing, unit: float, true_size: bool = False) -> None:
        super().__init__()
        self.drawing, self.unit, self.true_size = drawing, unit, true_size
        self.width, self.height = drawing.width * unit, drawing.height * unit

    def wrap(self, _width: float, _height: float) -> tuple[float, float]:
        """Return the size it takes. [pt]"""
        return self.width, self.height

    def draw(self) -> None:
        """Draw it."""
        canvas: Any = self.canv
        canvas.true_size = canvas.true_size or self.true_size
        canvas.translate(0, -self.drawing.low * self.unit)
        for shape in self.drawing.shapes:
            draw_shape(canvas, shape, self.unit)


def draw_shape(canvas: Any, shape: Shape, unit: float) -> None:
    """Draw one shape at the canvas's origin. [pt]

    Parameters
    ----------
    canvas : Canvas
        Where to. [pt]
    shape : Shape
        What. [drawing unit]
    unit : float
        Size of the drawing unit. [pt]

    References
    ----------
    None needed.
    """
    if isinstance(shape, Label):
        _label(canvas, shape, unit)
        return
    pen = shape.pen
    if pen is not None:
        _use(canvas, pen, unit)
    if isinstance(shape, Circle):
        canvas.circle(shape.x * unit, shape.y * unit, shape.diameter / 2 * unit, stroke=1, fill=0)
    elif isinstance(shape, Box):
        if shape.fill is not None:
            canvas.setFillColor(grey(shape.fill))
        sides = [side * unit for side in (shape.x, shape.y, shape.width, shape.height)]
        canvas.rect(*sides, stroke=int(pen is not None), fill=int(shape.fill is not None))
    else:
        _lines(canvas, shape, unit)


def _use(canvas: Any, pen: Pen, unit: float) -> None:
    canvas.setLineWidth(pen.width * unit)
    canvas.setStrokeColor(grey(pen.grey))
    canvas.setDash([dash * unit for dash in pen.dashes])


def _lines(canvas: Any, lines: Lines, unit: float) -> None:
    for run in lines.runs:
        path = canvas.beginPath()
        path.moveTo(run[0][0] * unit, run[0][1] * unit)
        for x, y in run[1:]:
            path.lineTo(x * unit, y * unit)
        canvas.drawPath(path, stroke=1, fill=0)


def _label(canvas: Any, label: Label, unit: float) -> None:
    font, size, text = BOLD if label.bold else PLAIN, label.size * unit, plain(label.text)
    width = stringWidth(text, font, size)
    x = label.x * unit - {"start": 0.0, "middle": width / 2, "end": width}[label.anchor]
    if label.halo:
        canvas.setFillColor(grey(1))
        canvas.rect(x - size * 0.1, label.y * unit - size * 0.25, width + size * 0.2, size * 1.1, stroke=0, fill=1)
    canvas.setFillColor(grey(label.grey))
    canvas.setFont(font, size)
    canvas.drawString(x, label.y * unit, text)

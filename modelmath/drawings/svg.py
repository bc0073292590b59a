"""A drawing as SVG text."""

from __future__ import annotations

from xml.sax.saxutils import escape, quoteattr

from modelmath.drawings.shapes import Box, Circle, Drawing, Label, Lines, Pen, Shape, in_its_order, plain


def to_svg(drawing: Drawing, width_px: int) -> str:
    """Write a drawing as an SVG element that shrinks with the page and is read out by its title.

    Parameters
    ----------
    drawing : Drawing
        The drawing. [drawing unit]
    width_px : int
        Width it has where there is room. [CSS px]

    Returns
    -------
    str
        One ``svg`` element, usable as a file or inside HTML; no ids, so that several can stand on one page. [-]

    References
    ----------
    SVG 1.1 (second edition); WAI-ARIA 1.2, role img.
    """
    head = (
        f'<svg xmlns="http://www.w3.org/2000/svg" role="img" viewBox="0 0 {_n(drawing.width)} {_n(drawing.height)}" '
        f'style="display:block;width:100%;max-width:{int(width_px)}px;height:auto;background:#fff" '
        'font-family="DejaVu Sans, Verdana, sans-serif" fill="none">'
    )
    words = f"<title>{_text(drawing.title)}</title><desc>{_text(drawing.description)}</desc>"
    return "".join([head, words, *(_shape(shape, drawing.low + drawing.height) for shape in drawing.shapes), "</svg>"])


def _n(value: float) -> str:
    return f"{round(value, 2):g}"


def _text(text: str) -> str:
    return escape(in_its_order(plain(text)))


def _grey(grey: float) -> str:
    level = round(255 * grey)
    return f"#{level:02x}{level:02x}{level:02x}"


def _pen(pen: Pen | None) -> str:
    if pen is None:
        return ""
    dashes = f' stroke-dasharray="{" ".join(_n(each) for each in pen.dashes)}"' if pen.dashes else ""
    return f' stroke="{_grey(pen.grey)}" stroke-width="{_n(pen.width)}"{dashes}'


def _shape(shape: Shape, top: float) -> str:
    if isinstance(shape, Lines):
        runs = "".join("M" + "L".join(f"{_n(x)} {_n(top - y)}" for x, y in run) for run in shape.runs)
        return f'<path class={quoteattr(shape.name)} d="{runs}"{_pen(shape.pen)}/>'
    if isinstance(shape, Box):
        fill = "" if shape.fill is None else f' fill="{_grey(shape.fill)}"'
        size = f'width="{_n(shape.width)}" height="{_n(shape.height)}"'
        place = f'x="{_n(shape.x)}" y="{_n(top - shape.y - shape.height)}"'
        return f"<rect class={quoteattr(shape.name)} {place} {size}{fill}{_pen(shape.pen)}/>"
    if isinstance(shape, Circle):
        place = f'cx="{_n(shape.x)}" cy="{_n(top - shape.y)}" r="{_n(shape.diameter / 2)}"'
        return f"<circle class={quoteattr(shape.name)} {place}{_pen(shape.pen)}/>"
    return _label(shape, top)


def _label(label: Label, top: float) -> str:
    bold = ' font-weight="bold"' if label.bold else ""
    halo = ' stroke="#fff" stroke-width="4" stroke-linejoin="round" paint-order="stroke"' if label.halo else ""
    place = f'x="{_n(label.x)}" y="{_n(top - label.y)}" font-size="{_n(label.size)}" text-anchor="{label.anchor}"'
    return f'<text {place} fill="{_grey(label.grey)}"{bold}{halo}>{_text(label.text)}</text>'

"""What a name means: its size, and what comes nearest to it elsewhere."""

from __future__ import annotations

from fractions import Fraction

import ipywidgets as w

from modelmath.errors import ModelMathError
from modelmath.lengths.text import format_length
from modelmath.materials import Sheet, Strip
from modelmath.materials.sections.equivalents import USUAL_SCALES, equivalents, represents
from modelmath.materials.sections.shapes import Section, parse_stock
from modelmath.widgets.common import look
from modelmath.widgets.common.fields import Field, row
from modelmath.widgets.picking.source import Source, off, size


class Names:
    """A strip, shape or sheet by name.

    Parameters
    ----------
    source : Source
        The scale. [-]
    """

    def __init__(self, source: Source) -> None:
        self.source = source
        hint = "6x10, .040 sq, 1.5 x 2 mm, .060 half round, 1/8 tube, .020 sheet"
        self.name = Field("A strip, shape or sheet by its name", hint, "HO 4x8")
        self.answer = w.HTML()
        self.name.on_change(self.refresh)
        self.view = w.VBox([row(self.name), self.answer])

    def refresh(self) -> None:
        """Work it out anew."""
        try:
            stock = parse_stock(self.name.value, self.source.scale.value)
        except ModelMathError as reason:
            self.name.show(wrong=str(reason))
            self.answer.value = look.stale(self.answer.value)
            return
        self.name.show(stock.name)
        if isinstance(stock, Strip):
            self.answer.value = _of_strip(stock, self.source.scale.value)
        else:
            said = _of_sheet(stock) if isinstance(stock, Sheet) else _of_shape(stock)
            self.answer.value = f'<div class="mm-card" role="status">{look.paragraph(said)}</div>'


def _of_strip(strip: Strip, scale: str) -> str:
    stands = represents(strip, scale)
    nominal = (
        f"It is {float(stands.thickness_scale_in):.2f} x {float(stands.width_scale_in):.2f} {scale} scale inches"
        + ("." if stands.error.exact else f"; the nearest lumber is {stands.lumber.name}.")
    )
    said = f"{strip.name} is {size(strip.thickness_mm)} thick and {size(strip.width_mm)} wide."
    scales = list(dict.fromkeys([*USUAL_SCALES, scale]))
    rows = [
        (
            each.strip.name,
            _error(each.thickness_error_mm, each.thickness_error_percent),
            _error(each.width_error_mm, each.width_error_percent),
        )
        for each in equivalents(strip, scales)
    ]
    heads = ("Nearest of each series", "Thickness is off by", "Width is off by")
    card = f'<div class="mm-card" role="status">{look.paragraph(said)}{look.paragraph(nominal)}</div>'
    return card + look.table("What it is elsewhere", heads, rows)


def _error(error_mm: Fraction, percent: float) -> str:
    return f"{off(error_mm)}, {percent:+.1f} %" if error_mm else "nothing"


def _of_sheet(sheet: Sheet) -> str:
    return f"{sheet.name} is {size(sheet.thickness_mm)} thick."


def _of_shape(shape: Section) -> str:
    sizes = size(shape.size_mm)
    if shape.other_mm is not None:
        sizes += f" by {size(shape.other_mm)}"
    across = {"rod": "across", "half round": "across its flat", "tube": "across, outside",
              "square tube": "over each side", "angle": "along its legs", "channel": "over its web"}  # fmt: skip
    said = f"{shape.name} is {sizes} {across[shape.kind]}."
    if shape.wall_mm is not None and shape.bore_mm is not None:
        return f"{said} Its wall is {format_length(shape.wall_mm, 'mm')}, its bore {size(shape.bore_mm)}."
    hollow = shape.kind in ("tube", "square tube")
    return f"{said} Its wall is not in its name; write 1/8 tube x .014 wall to have its bore." if hollow else said

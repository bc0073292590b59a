"""Sizes from a drawing or a photograph: known dimensions in, its ratio and the wanted sizes out."""

from __future__ import annotations

from collections.abc import Callable

import ipywidgets as w

from modelmath.drawings.charts.agreement import agreement
from modelmath.drawings.svg import to_svg
from modelmath.errors import ModelMathError
from modelmath.lengths.full_size.drawing_lines import MEASURED_UNITS, read_known, read_limit, read_wanted
from modelmath.lengths.full_size.drawing_words import (
    ONE_PLANE,
    agreement_text,
    directions_text,
    model_text,
    ratio_text,
    standard_text,
)
from modelmath.lengths.full_size.from_drawing import Directions, DrawingRatio
from modelmath.lengths.lines import BadLine
from modelmath.widgets.common import look
from modelmath.widgets.common.fields import Field, row

# Invented dimensions of an invented car, and what they measure on a copy of its drawing.
KNOWN = "over ends; 40' 6\"; 253.9\ntruck centres; 30' 3\"; 189.9\nroof; 39'; 244.5"
UPRIGHT = "roof above rail; 13' 2\"; 82.4"
WANTED = "door; 47.2\ncab window; 19.6 ± 0.4"
HOW_KNOWN = (
    "One a line: a name if you like, its full size, and what it measures on the drawing, with semicolons between. "
    "Each size may say how far it may be off: 203.1 ± 0.3. Drawings shrink and stretch in copying: give several, "
    "the longest you have."
)
HOW_WANTED = "One a line: a name if you like, a semicolon, and what it measures."
HOW_DRAWN = "Each dimension against what the others give. One whose line misses the dashed line disagrees with them."
HOW_SURE = "About 95 in 100 lie within the ±."
HOW_UPRIGHT = "Known dimensions square to those above, written the same way; they only check that both ways agree."


def paste_box(label: str, value: str, act: Callable[[], None], rows: int = 4) -> w.Textarea:
    """Return a box for a pasted list, with its label."""
    box = w.Textarea(
        value,
        description=label,
        continuous_update=False,
        rows=rows,
        style={"description_width": "initial"},
        layout=w.Layout(align_items="stretch"),  # else a narrow page leaves the box narrower than it could be
    )
    box.add_class("mm-paste")
    box.observe(lambda _change: act(), names="value")
    return box


def kept_aside(bad: list[BadLine]) -> str:
    """Return a message for each line that could not be read."""
    return "".join(look.problem(f"Line {line.number}, kept aside: {line.message}") for line in bad)


class DrawingSizes:
    """Known dimensions on a drawing or photograph, its ratio, and sizes taken with it.

    Parameters
    ----------
    scale_name : callable
        Returns the name of the model's scale. [-]
    """

    def __init__(self, scale_name: Callable[[], str]) -> None:
        self._scale_name = scale_name
        self.unit = Field("Measured in", "px for a picture on the screen", options=MEASURED_UNITS)
        self.plus_minus = Field("How far a measurement may be off, ±", "half a mark or more; 0.25 mm, or 2 px", "0.25")
        self.known = paste_box("Known dimensions", KNOWN, self.refresh)
        self.upright = paste_box("Known the other way", UPRIGHT, self.refresh, rows=2)
        self.wanted = paste_box("Sizes wanted", WANTED, self.refresh)
        self.answer, self.checked, self.figure, self.sizes = (w.HTML() for _ in range(4))
        self.ratio: DrawingRatio | None = None
        for field in (self.unit, self.plus_minus):
            field.on_change(self.refresh)
        self.view = w.VBox(
            [
                row(self.unit, self.plus_minus),
                w.HTML(look.paragraph(HOW_KNOWN, "mm-soft")),
                self.known,
                self.answer,
                self.figure,
                w.HTML(look.paragraph(HOW_WANTED, "mm-soft")),
                self.wanted,
                self.sizes,
                w.HTML(look.paragraph(HOW_UPRIGHT, "mm-soft")),
                self.upright,
                self.checked,
                w.HTML(look.paragraph(ONE_PLANE, "mm-soft")),
            ]
        )

    def refresh(self) -> None:
        """Read everything again and show it."""
        how = (self.unit.value, self.plus_minus.value, self._scale_name())
        try:
            limit = read_limit(self.plus_minus.value, self.unit.value)
        except ModelMathError as reason:
            self.plus_minus.show(wrong=str(reason))
            self.answer.value, self.sizes.value = look.stale(self.answer.value), look.stale(self.sizes.value)
            return
        self.plus_minus.show(f"± {float(limit):.4g} {'px' if self.unit.value == 'px' else 'mm'}")
        self._show_ratio(how)
        self._show_directions(how)
        self._show_sizes(how)

    def _ratio_of(self, text: str, how: tuple[str, str, str]) -> tuple[DrawingRatio | None, str]:
        """Return the ratio from a list of known dimensions, and what is wrong with the list."""
        try:
            known, bad = read_known(text, *how)
            wrong = kept_aside(bad)
            ratio = DrawingRatio(tuple(known), "px" if how[0] == "px" else "mm") if known else None
        except ModelMathError as reason:
            return None, look.problem(str(reason))
        return ratio, wrong

    def _show_ratio(self, how: tuple[str, str, str]) -> None:
        ratio, wrong = self._ratio_of(self.known.value, how)
        self.ratio = ratio
        if ratio is None:
            self.answer.value = wrong or look.problem("Give at least one known dimension: 40' 6\"; 203.1 mm.")
            self.figure.value = self.sizes.value = ""
            return
        said = [each for each in (standard_text(ratio), agreement_text(ratio)) if each]
        card = f'<dl><dt>Ratio of the drawing</dt><dd class="mm-big">{look.text(ratio_text(ratio))}</dd></dl>'
        self.answer.value = (
            f'{wrong}<div class="mm-card" role="status">{card}{"".join(map(look.paragraph, said))}</div>'
        )
        drawn = to_svg(agreement(ratio.deviations), 640) if len(ratio.known) > 1 else ""
        self.figure.value = (
            f'<div class="mm-figure">{drawn}</div>{look.paragraph(HOW_DRAWN, "mm-soft")}' if drawn else ""
        )

    def _show_directions(self, how: tuple[str, str, str]) -> None:
        if not self.upright.value.strip():
            self.checked.value = ""
            return
        upright, wrong = self._ratio_of(self.upright.value, how)
        if upright is None or self.ratio is None:
            self.checked.value = wrong
            return
        self.checked.value = wrong + look.paragraph(directions_text(Directions(self.ratio, upright)))

    def _show_sizes(self, how: tuple[str, str, str]) -> None:
        if self.ratio is None:
            return
        try:
            wanted, bad = read_wanted(self.wanted.value, *how)
        except ModelMathError as reason:
            self.sizes.value = look.problem(str(reason))
            return
        scale = self._scale_name()
        rows = [(each.name, each.given, *model_text(self.ratio, each, scale)) for each in wanted]
        heads = ("Size", "Measured", f"In {scale}", "Full size", "In metric")
        table = look.table("Sizes from the drawing", heads, rows, "mm-short") if rows else ""
        self.sizes.value = kept_aside(bad) + table + (look.paragraph(HOW_SURE, "mm-soft") if rows else "")

    @property
    def summary(self) -> str:
        """The ratio in plain language."""
        if self.ratio is None:
            return "No known dimension on the drawing yet."
        return " ".join((f"Drawing: {ratio_text(self.ratio)}.", standard_text(self.ratio), agreement_text(self.ratio)))

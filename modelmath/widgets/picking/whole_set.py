"""One stock for a whole set of parts."""

from __future__ import annotations

import ipywidgets as w

from modelmath.errors import ModelMathError
from modelmath.lengths.text import format_length
from modelmath.materials.picking.sets import SetPick, pick_for_set
from modelmath.materials.picking.typed import read_set
from modelmath.widgets.common import look
from modelmath.widgets.picking.source import Source, off, told

FIRST = """corner post; 31.5 mm; on end; 4
window post; 24 mm; on end; 6
speaker support; 2 mm; flat; 4; ; 18.5 mm"""
HINT = (
    "One a line: a name; the height; on end, across, flat or on edge; how many; then, where they matter, the width and "
    "the length of each piece."
)


class WholeSet:
    """The fewest different strips for several parts.

    Parameters
    ----------
    source : Source
        Scale, drawer, series. [-]
    """

    def __init__(self, source: Source) -> None:
        self.source = source
        self.lines = w.Textarea(FIRST, description="Parts of the set", continuous_update=False, rows=5,
                                style={"description_width": "initial"},
                                layout=w.Layout(width="calc(100% - 8px)", max_width="40rem"))  # fmt: skip
        self.lines.add_class("mm-paste")
        self.note, self.answer = w.HTML(), w.HTML()
        self.lines.observe(lambda _change: self.refresh(), names="value")
        self.view = w.VBox([self.lines, w.HTML(look.hint(HINT)), self.note, self.answer])

    def refresh(self) -> None:
        """Work it out anew."""
        try:
            parts, bad = read_set(self.lines.value, self.source.scale.value)
            faults = look.bullets(f"line {each.number}: {each.message}" for each in bad)
            self.note.value = look.problem("Left out:") + faults if bad else ""
            found = pick_for_set(
                parts, scale=self.source.scale.value, drawer=self.source.strips, series=self.source.series
            )
        except ModelMathError as reason:
            self.answer.value = look.problem_over(str(reason), self.answer.value)
            return
        self.answer.value = told(found.said) + self._table(found)

    @staticmethod
    def _table(found: SetPick) -> str:
        rows = [
            (
                f"{line.part.count} × {line.part.name}",
                format_length(line.part.height_mm, "mm"),
                f"{stock.name}, {'on hand' if stock.in_drawer else 'to buy'}",
                off(line.error_mm),
                f"{line.advice} {stock.remark}".strip(),
            )
            for stock in found.stocks
            for line in stock.lines
        ]
        left = [f"{part.name}: {why}" for part, why in found.left_out]
        heads = ("Parts", "Height", "From", "Error", "What to do")
        wrong = look.problem("No strip serves these:") + look.bullets(left) if left else ""
        return look.table("The set", heads, rows, "mm-advice") + wrong

"""A strip for a height and a use, and a drill for what has to pass a hole."""

from __future__ import annotations

import ipywidgets as w

from modelmath.errors import ModelMathError, UnreadableLength
from modelmath.lengths.parse import parse_length_exact
from modelmath.lengths.text import format_length, three_ways
from modelmath.materials import DRILL_SETS, USES, StripPick, parse_strip, pick_drill, pick_strips
from modelmath.widgets.common import look
from modelmath.widgets.common.fields import Field, page, row, scale_names

USE_HINTS = {
    "on end": "stood up: the height is the cut length, the section only has to be stout",
    "across": "its width spans the shell: the height is the cut length",
    "flat": "laid flat: its thickness gives the height",
    "on edge": "stood on edge: its width gives the height",
}


class StripsPanel:
    """Which strip gives a height, used in a given way."""

    def __init__(self) -> None:
        self.fields = {
            "scale": Field("Scale", options=scale_names()),
            "height": Field("Height wanted", "with its unit: 5/8 scale ft, 2.1 mm, .080 in", "2.2 mm"),
            "use": Field("How the strip is used", options=USES),
            "width": Field("Inside width of the shell", "only for use across, such as 18.5 mm"),
        }
        self.passes = Field("What has to pass a hole", "a strand or wire, with its unit: .030 in, 0.76 mm", "0.030 in")
        self.drill_set = Field("From the drill set", options=DRILL_SETS)
        self.name = Field("A strip by its name", "such as HO 6x10, .040 x .125, 1.5 x 2 mm", "HO 4x8")
        self.answer, self.drills = w.HTML(), w.HTML()
        for field in (*self.fields.values(), self.passes, self.drill_set, self.name):
            field.on_change(self._refresh)
        f = self.fields
        f["use"].value = "flat"
        self.view = page(
            row(*f.values()),
            self.answer,
            w.HTML(look.heading("What a strip measures")),
            row(self.name),
            w.HTML(look.heading("A drill for a strand or a wire")),
            row(self.passes, self.drill_set),
            self.drills,
        )
        self._refresh()

    def picks(self) -> list[StripPick]:
        """Return the strips for the entries as they stand."""
        f = self.fields
        scale, width = f["scale"].value, f["width"].value.strip()
        height = parse_length_exact(f["height"].value, scale=scale)
        spans = parse_length_exact(width, unit="mm", scale=scale) if width else None
        return pick_strips(height, f["use"].value, scale=scale, width_mm=spans)

    def _refresh(self) -> None:
        self._show_picks()
        self._show_name()
        self._show_drills()

    def _show_picks(self) -> None:
        f = self.fields
        f["use"].show(USE_HINTS[f["use"].value])
        for name in ("height", "width"):
            f[name].show()
        self.answer.value = look.stale(self.answer.value)
        across, readable = f["use"].value == "across", True
        try:
            height = parse_length_exact(f["height"].value, scale=f["scale"].value)
            f["height"].show(" = ".join(three_ways(height, f["scale"].value)))
        except ModelMathError as reason:
            f["height"].show(wrong=str(reason))
            readable = False
        if across and not f["width"].value.strip():
            f["width"].show(wrong="Enter the inside width of the shell, such as 18.5 mm: the strip has to span it.")
            return
        try:
            if f["width"].value.strip():
                width = parse_length_exact(f["width"].value, unit="mm", scale=f["scale"].value)
                f["width"].show(format_length(width, "mm"))
        except ModelMathError as reason:
            f["width"].show(wrong=str(reason))
            return
        if not readable:
            return
        try:
            picks = self.picks()
        except ModelMathError as reason:
            f["width" if across else "height"].show(wrong=str(reason))
            return
        rows = [(pick.name, *self._error(pick), pick.advice) for pick in picks]
        heads = ("Strip", "Error, mm", "Error, scale inches", "What to do")
        self.answer.value = look.table("Best first", heads, rows)

    @staticmethod
    def _error(pick: StripPick) -> tuple[str, str]:
        inches = "" if pick.error_scale_in is None else f"{pick.error_scale_in:+.2f}"
        return f"{pick.error_mm:+.2f}", inches

    def _show_name(self) -> None:
        try:
            strip = parse_strip(self.name.value, self.fields["scale"].value)
        except ModelMathError as reason:
            self.name.show(wrong=str(reason))
            return
        sides = [
            f"{format_length(side, 'mm')} ({format_length(side, 'in')})"
            for side in (strip.thickness_mm, strip.width_mm)
        ]
        self.name.show(f"{strip.name}: {sides[0]} thick, {sides[1]} wide")

    def _show_drills(self) -> None:
        try:
            size = parse_length_exact(self.passes.value, scale=self.fields["scale"].value)
            picks = pick_drill(size, sets=(self.drill_set.value,))
        except ModelMathError as reason:
            if isinstance(reason, UnreadableLength) and reason.problem == "it has no unit":
                reason = UnreadableLength(reason.given, reason.problem, ".030 in or 0.76 mm")
            self.passes.show(wrong=str(reason))
            self.drills.value = look.stale(self.drills.value)
            return
        self.passes.show(f"{format_length(size, 'mm')}, with 0.05 mm round it (common practice, no source)")
        rows = [(pick.name, f"{pick.diameter_mm:.3f} mm", f"{pick.clearance_mm:.3f} mm") for pick in picks]
        mind = "".join(
            look.paragraph(each, "mm-soft") for each in dict.fromkeys(pick.caution for pick in picks) if each
        )
        self.drills.value = look.table("Drills, the closest first", ("Drill", "Diameter", "Left round it"), rows) + mind

    @property
    def summary(self) -> str:
        """The best strip in plain language."""
        best = self.picks()[0]
        return f"{self.fields['height'].value}, {self.fields['use'].value}: {best.name}. {best.advice}"

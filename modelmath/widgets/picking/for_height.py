"""Strip for one height: as it is, or glued up."""

from __future__ import annotations

from fractions import Fraction
from typing import Any

import ipywidgets as w

from modelmath.errors import ModelMathError, NotYetKnown
from modelmath.materials import USES, StockSheet, StripPick, pick_strips
from modelmath.materials.picking.laminate import Lamination, laminate
from modelmath.materials.picking.wanted import BY_SECTION
from modelmath.widgets.common import look
from modelmath.widgets.common.fields import Field, Fold, row
from modelmath.widgets.picking.source import Source, off, whole

USE_HINTS = {
    "on end": "stood up: the height is the cut length, the section only has to be stout",
    "across": "its width spans the shell: the height is the cut length",
    "flat": "laid flat: its thickness gives the height",
    "on edge": "stood on edge: its width gives the height",
}
LIMITS = ("sand", "shim", "stout", "length", "glue")


class ForHeight:
    """Which strip gives a height, used in a given way.

    Parameters
    ----------
    source : Source
        Scale, drawer, series. [-]
    """

    def __init__(self, source: Source) -> None:
        self.source = source
        self.fields = {
            "height": Field("Height wanted", "with its unit: 5/8 scale ft, 2.1 mm, .080 in", "2.2 mm"),
            "use": Field("How the strip is used", "which of its sides gives the height", value="flat", options=USES),
            "width": Field("Inside width of the shell", "needed across; else the least width wanted"),
            "count": Field("How many", "pieces, each of that height", "1"),
            "length": Field("Length of each piece", "flat or on edge; empty to leave the drawer's lengths unasked"),
            "sand": Field("Sanded off at most", "flat or on edge", "0.5 mm"),
            "shim": Field("Shimmed up at most", "flat or on edge", "0.5 mm"),
            "glue": Field("Glue line", "what each joint between layers adds", "0.05 mm"),
            "stout": Field("Least thickness", "empty: 1.5 mm on end, 1 mm across; common practice, no source"),
        }
        self.answer, self.glued = w.HTML(), w.HTML()
        f = self.fields
        for field in f.values():
            field.on_change(self.refresh)
        more = row(f["count"], f["length"], f["sand"], f["shim"], f["glue"], f["stout"])
        self.view = w.VBox([row(f["height"], f["use"], f["width"]), Fold("Counts and limits", more).view,
                            self.answer, self.glued])  # fmt: skip

    def _asked(self) -> dict[str, object]:
        f = self.fields
        found = self.source.lengths(f, "height", "width", *LIMITS)
        if found["height"] is None:
            reason = NotYetKnown("The strip", "the height wanted, such as 2.2 mm")
            f["height"].show(wrong=str(reason))
            raise reason
        return {
            "scale": self.source.scale.value, "width_mm": found["width"], "drawer": self.source.strips,
            "sand_mm": found["sand"], "shim_mm": found["shim"], "count": whole(f["count"]),
            "length_mm": found["length"], "glue_line_mm": found["glue"], "series": self.source.series,
            "height_mm": found["height"], "stout_mm": found["stout"],
        }  # fmt: skip

    def picks(self) -> list[StripPick]:
        """Return the strips for the entries as they stand."""
        return self._picked(self.fields["use"].value, self._asked())

    def _picked(self, use: str, asked: dict[str, object]) -> list[StripPick]:
        only = {key: value for key, value in asked.items() if key != "glue_line_mm"}
        return pick_strips(use=use, sheets=self.source.drawer.sheets, **only)  # type: ignore[arg-type]

    def refresh(self) -> None:
        """Work it out anew."""
        f = self.fields
        use = f["use"].value
        self.answer.value, self.glued.value = look.stale(self.answer.value), look.stale(self.glued.value)
        f["use"].show(USE_HINTS[use])
        try:
            asked = self._asked()
            if use == "across" and asked["width_mm"] is None:
                f["width"].show(wrong="Enter the inside width of the shell, such as 18.5 mm: the strip has to span it.")
                raise NotYetKnown("The strip", "the inside width of the shell")
        except ModelMathError:
            return
        self._show_picks(use, asked)
        self._show_glued(use, asked)

    def _show_picks(self, use: str, asked: dict[str, object]) -> None:
        try:
            picks = self._picked(use, asked)
        except ModelMathError as reason:
            self.answer.value = look.problem(str(reason))
            return
        # Where the height is cut, no section has an error.
        section = use in BY_SECTION
        rows = [
            (pick.name, "on hand" if pick.in_drawer else "to buy",
             *((self._error(pick),) if section else ()),
             f"{pick.advice} {pick.remark}".strip())
            for pick in picks
        ]  # fmt: skip
        heads = ("Strip", "Where", *(("Error",) if section else ()), "What to do")
        self.answer.value = look.table("As it is, best first", heads, rows, "mm-advice")

    @staticmethod
    def _error(pick: StripPick) -> str:
        """Return by how much a strip is off, on the model and in the size it stands for."""
        full = "" if pick.error_scale_in is None else f", {pick.error_scale_in:+.2f} scale in"
        return off(pick.error_mm) + full

    def _show_glued(self, use: str, asked: dict[str, object]) -> None:
        if use not in BY_SECTION:
            self.glued.value = ""
            return
        try:
            found = self._laminations(use, asked)
        except ModelMathError as reason:
            self.glued.value = look.paragraph(look.in_words(f"Glued up: {reason}"), "mm-soft")
            return
        rows = [
            (each.name, "on hand" if each.on_hand else f"to buy: {', '.join(dict.fromkeys(each.to_buy))}",
             off(each.error_mm), f"± {float(each.likely_mm):.2f} mm, at worst {float(each.worst_mm):.2f} mm",
             each.advice)
            for each in found
        ]  # fmt: skip
        wide = "at least as wide as given" if asked["width_mm"] else "at least as wide as high"
        heads = ("Layers, glue lines counted", "Where", "Error", "How surely", "What to do")
        self.glued.value = look.table(
            f"Glued up from two to four layers, {wide}, fewest first", heads, rows, "mm-advice"
        )

    def _laminations(self, use: str, asked: dict[str, object]) -> list[Lamination]:
        without = {key: value for key, value in asked.items() if key != "stout_mm"}
        # Where no width is asked, a stack no narrower than it is high: a thin wall of layers can't be glued straight.
        wide: Any = asked["width_mm"] or asked["height_mm"]
        without["width_mm"] = wide
        long: Any = asked["length_mm"] or 0
        held = [each for each in self.source.drawer.sheets if holds(each, long, wide)]
        sheets = list(dict.fromkeys(each.sheet for each in held))
        return laminate(use=use, sheets=sheets, most=5, **without)  # type: ignore[arg-type]


def holds(stock: StockSheet, long: Fraction, wide: Fraction) -> bool:
    """Return whether a layer of a length and width can be cut from a piece of sheet."""
    short, side = sorted((stock.length_mm, stock.width_mm))
    low, high = sorted((long, wide))
    return low <= short and high <= side

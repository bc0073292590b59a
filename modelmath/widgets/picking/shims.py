"""Shims for a height that is off."""

from __future__ import annotations

import ipywidgets as w

from modelmath.errors import ModelMathError
from modelmath.materials import Sheet, Strip
from modelmath.materials.picking.shim_heights import KINDS, ShimmedHeight, shim_for_height
from modelmath.materials.picking.shims import Shim
from modelmath.materials.picking.typed import read_shims
from modelmath.materials.sections.sheets import SHEET_SERIES
from modelmath.widgets.common import look
from modelmath.widgets.common.fields import Field, Fold, row
from modelmath.widgets.picking.source import OWN, Source, off

FIRST = "thin washer; 0.25 mm; 0.03 mm; 6\nwasher; 0.5 mm; 0.05 mm; 4"
HINT = "One a line: a name; the thickness; how far it may be off; how many. Strip and sheet need the name alone."
DRY, GLUED = "laid in dry", "glued to each other"


class Shims:
    """What to shim, and with what.

    Parameters
    ----------
    source : Source
        Scale, drawer, series. [-]
    """

    def __init__(self, source: Source) -> None:
        self.source = source
        self.fields = {
            "kind": Field("What is brought to its height", "tells where a shim goes", options=KINDS),
            "measured": Field("Height it has", "as measured, from the rail head or the seat", "9.4 mm"),
            "wanted": Field("Height it should have", "from its gauge or drawing", "9.9 mm"),
            "sure": Field("How far the measured height may be off", "either way", "0.05 mm"),
            "tolerance": Field("How far off will still do", "either way; 0.15 mm: common practice, no source",
                               "0.15 mm"),
            "glue": Field("The shims are", "each glue line adds a little height", options=(DRY, GLUED)),
        }  # fmt: skip
        wide = w.Layout(width="calc(100% - 8px)", max_width="40rem")
        self.lines = w.Textarea(FIRST, rows=3, continuous_update=False, layout=wide)
        self.lines.description = "On hand besides the drawer's sheet and strip"
        self.lines.style.description_width = "initial"
        self.lines.add_class("mm-paste")
        self.note, self.answer = w.HTML(), w.HTML()
        f = self.fields
        for field in f.values():
            field.on_change(self.refresh)
        self.lines.observe(lambda _change: self.refresh(), names="value")
        more = w.VBox([row(f["sure"], f["tolerance"], f["glue"]), self.lines, w.HTML(look.hint(HINT))])
        self.view = w.VBox([row(f["kind"], f["measured"], f["wanted"]),
                            Fold("How surely, and what there is to shim with", more).view, self.note,
                            self.answer])  # fmt: skip

    def found(self) -> ShimmedHeight:
        """Return what to do for the entries as they stand."""
        f = self.fields
        found = self.source.lengths(f, "measured", "wanted", "sure", "tolerance")
        shims, bad = read_shims(self.lines.value, self.source.scale.value)
        faults = look.bullets(f"line {each.number}: {each.message}" for each in bad)
        self.note.value = look.problem("Left out:") + faults if bad else ""
        drawer = self.source.drawer
        flat: list[Strip | Sheet] = [*(each.sheet for each in drawer.sheets), *(each.strip for each in drawer.strips)]
        held = [Shim.of(each) for each in dict.fromkeys(flat)]
        return shim_for_height(
            found["measured"] or 0, found["wanted"] or 0, f["kind"].value,
            tolerance_mm=found["tolerance"] or 0, measured_tolerance_mm=found["sure"] or 0,
            on_hand=[*shims, *held], series=() if self.source.where.value == OWN else SHEET_SERIES,
            scale=self.source.scale.value, dry=f["glue"].value == DRY, most=6,
        )  # fmt: skip

    def refresh(self) -> None:
        """Work it out anew."""
        try:
            found = self.found()
        except ModelMathError as reason:
            self.answer.value = look.problem_over(str(reason), self.answer.value)
            return
        said = f"<p><strong>{look.text(found.said)}</strong> {look.text(found.advice)}</p>"
        rows = [
            (
                pack.name,
                "on hand" if pack.on_hand else f"to buy: {', '.join(dict.fromkeys(pack.to_buy))}",
                off(pack.error_mm),
                f"± {pack.likely_mm:.2f} mm, at worst {float(pack.worst_mm):.2f} mm",
                pack.said,
            )
            for pack in found.packs
        ]
        heads = ("Shims", "Where", "Error", "How surely", "Within what will do?")
        packs = look.table("Shims, best first", heads, rows, "mm-advice") if rows else ""
        self.answer.value = f'<div class="mm-card" role="status">{said}</div>{packs}'

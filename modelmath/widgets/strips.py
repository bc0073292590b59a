"""Strip, sheet and shims: for a height, for a whole set, for what is off, and by name."""

from __future__ import annotations

from pathlib import Path

import ipywidgets as w

from modelmath.errors import ModelMathError
from modelmath.materials import StripPick
from modelmath.widgets.common import look, places
from modelmath.widgets.common.fields import page, row
from modelmath.widgets.common.minding import cautioned
from modelmath.widgets.picking.for_height import ForHeight
from modelmath.widgets.picking.names import Names
from modelmath.widgets.picking.shims import Shims
from modelmath.widgets.picking.source import Source
from modelmath.widgets.picking.whole_set import WholeSet


class StripsPanel:
    """Which strip to take, and what it is.

    Parameters
    ----------
    folder : Path or None
        Where the drawer is kept; None for the workbook's folder. [-]
    """

    def __init__(self, folder: Path | None = None) -> None:
        self.source = Source((folder or places.workbook_folder()) / places.DRAWER)
        self.height, self.whole_set = ForHeight(self.source), WholeSet(self.source)
        self.shims, self.names = Shims(self.source), Names(self.source)
        self.parts = (self.height, self.whole_set, self.shims, self.names)
        self.fields = {"scale": self.source.scale, "where": self.source.where, **self.height.fields}
        self.source.on_change(self._refresh)
        mind = cautioned("solvent cement", "knife", "sanding", "metal", "glue and sealant")
        self.view = page(
            row(self.source.scale, self.source.where),
            w.HTML(look.heading("Strip for a height")),
            self.height.view,
            w.HTML(look.heading("One stock for a whole set")),
            self.whole_set.view,
            w.HTML(look.heading("Shims for a height that is off")),
            self.shims.view,
            w.HTML(look.heading("What a name means")),
            self.names.view,
            w.HTML(mind),
        )
        self._refresh()

    def _refresh(self) -> None:
        for part in self.parts:
            part.refresh()

    def picks(self) -> list[StripPick]:
        """Return the strips for the height as it stands."""
        return self.height.picks()

    @property
    def summary(self) -> str:
        """The best strip in plain language, or what is wrong with an entry."""
        try:
            best = self.picks()[0]
        except ModelMathError as reason:
            return str(reason)
        return f"{self.fields['height'].value}, {self.fields['use'].value}: {best.name}. {best.advice}"

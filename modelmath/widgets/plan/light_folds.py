"""The walkthrough's folds about light: lamps on the decoder's outputs, strands with their lenses, wiring."""

from __future__ import annotations

import ipywidgets as w

from modelmath.widgets.common import look
from modelmath.widgets.common.fields import Fold
from modelmath.widgets.inside.all_editors import InsideEditors
from modelmath.widgets.plan import light
from modelmath.widgets.plan.folds import of_views


class LightFolds:
    """What lights in the model.

    Parameters
    ----------
    editors : InsideEditors
        Those of what lights stand in the folds. [-]
    """

    def __init__(self, editors: InsideEditors) -> None:
        self.lamps, self.strands, self.leads, self.diagram = (w.HTML() for _ in range(4))
        feed = Fold("What the decoder's sheet says", editors.feed.view)
        self.feed = feed
        self.lit = of_views(
            "The light", (self.lamps, light.lamps), within=[editors.circuits.view, feed.view, self.lamps]
        )
        self.led = of_views(
            "Strands and lenses", (self.strands, light.strands), within=[editors.strands.view, self.strands]
        )
        heading = w.HTML(look.heading("Leads"))
        wired = [self.diagram, heading, editors.leads.view, self.leads]
        self.wired = of_views("Wiring", (self.diagram, light.diagram), (self.leads, light.leads), within=wired)
        editors.circuits.fold_into(self.lit)
        editors.feed.fold_into(feed)
        editors.strands.fold_into(self.led)
        editors.leads.fold_into(self.wired)

    @property
    def folds(self) -> dict[str, Fold]:
        """The folds by name, in their order. [-]"""
        return {"light": self.lit, "strands": self.led, "wiring": self.wired}

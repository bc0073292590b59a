"""Pictures of what to measure, drawn once they are wanted."""

from __future__ import annotations

from collections.abc import Sequence

import ipywidgets as w

from modelmath.drawings.measuring import picture
from modelmath.widgets.common.fields import Fold
from modelmath.widgets.common.minding import cautioned

WHERE = "Where to measure"


class WhereToMeasure(Fold):
    """Pictures folded away; they are drawn, and sent to the page, when they are first opened.

    Parameters
    ----------
    *names : str
        Which, of `modelmath.drawings.measuring.NAMES`. [-]
    title : str
        What the fold is called. [-]
    mind : sequence of str
        Topics of the cautions that stand below them. [-]
    """

    def __init__(self, *names: str, title: str = WHERE, mind: Sequence[str] = ()) -> None:
        self.names, self.mind, self.shown = names, tuple(mind), w.HTML()
        super().__init__(title, self.shown)

    def _turn(self) -> None:
        if not self.shown.value:
            self.shown.value = picture(*self.names) + cautioned(*self.mind)
        super()._turn()

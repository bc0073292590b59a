"""A plan's model to be turned in the page, with the picture at rest always below it."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Any

import anywidget
import ipywidgets as w
import traitlets

from modelmath.drawings.figures.solid.data import scene_data
from modelmath.drawings.figures.solid.static import static_view_svg

if TYPE_CHECKING:
    from modelmath.job import Plan

_HERE = Path(__file__).parent


class Turnable(anywidget.AnyWidget):
    """A drawing that is turned by dragging, by the arrow keys or by its buttons; it asks the network for nothing.

    Attributes
    ----------
    scene : dict
        What `scene_data` returns; empty for nothing. [mm]
    """

    _esm = _HERE / "turnable.js"
    _css = _HERE / "turnable.css"
    scene: Any = traitlets.Dict({}).tag(sync=True)


class TurnableFigure:
    """The drawing to be turned, and below it the same at rest, which stays where scripting is off.

    Parameters
    ----------
    plan : Plan or None
        The plan to show; None for none yet. [-]
    """

    def __init__(self, plan: Plan | None = None) -> None:
        self.turnable, self.still = Turnable(), w.HTML()
        self.view = w.VBox([self.turnable, self.still])
        if plan is not None:
            self.show(plan)

    def show(self, plan: Plan) -> None:
        """Show a plan in place of the one that is there; the way it is turned stays."""
        self.still.value = f'<div class="mm-figure">{static_view_svg(plan)}</div>'
        self.turnable.scene = scene_data(plan)

    def clear(self) -> None:
        """Show nothing."""
        self.still.value, self.turnable.scene = "", {}

"""A fold that works its views out only once it is open, and again only when another plan is there."""

from __future__ import annotations

from collections.abc import Callable, Sequence

import ipywidgets as w

from modelmath.job import Plan
from modelmath.widgets.common.fields import Fold
from modelmath.widgets.plan import views

View = Callable[[Plan], str]


class PlanFold(Fold):
    """A part of the plan, folded away.

    Parameters
    ----------
    title : str
        What is inside. [-]
    show : callable
        Shows a plan inside. [-]
    clear : callable
        Shows nothing inside. [-]
    content : Widget
        What is inside. [-]
    """

    def __init__(self, title: str, content: w.Widget, show: Callable[[Plan], None], clear: Callable[[], None]) -> None:
        self._show, self._clear = show, clear
        self._plan: Plan | None = None
        self._shown = True  # nothing waits to be shown
        super().__init__(title, content)

    def _turn(self) -> None:
        self._catch_up()  # first: what comes into sight is all there
        super()._turn()

    def show(self, plan: Plan) -> None:
        """Show a plan, now where the fold is open, else once it is opened."""
        self._plan, self._shown = plan, False
        self._catch_up()

    def clear(self) -> None:
        """Show nothing, as long as there is no plan."""
        self._plan, self._shown = None, True
        self._clear()

    def _catch_up(self) -> None:
        if self.head.value and not self._shown and self._plan is not None:
            self._shown = True
            self._show(self._plan)


def of_views(title: str, *shown: tuple[w.HTML, View], within: Sequence[w.Widget] | None = None) -> PlanFold:
    """Return a fold of views, each in its own place.

    Parameters
    ----------
    title : str
        What is inside. [-]
    *shown : pairs of HTML and callable
        Each place, and the view that fills it. [-]
    within : sequence of Widget or None
        All that is inside, top to bottom; None for those places alone. [-]
    """

    def show(plan: Plan) -> None:
        for place, view in shown:
            place.value = views.or_reason(view, plan)

    def clear() -> None:
        for place, _view in shown:
            place.value = ""

    return PlanFold(title, w.VBox(list(within) if within is not None else [place for place, _ in shown]), show, clear)


def figure(svg: str) -> str:
    """Return a drawing in its frame."""
    return f'<div class="mm-figure">{svg}</div>'

"""The job in another scale: what changes, and the new job opened as one of its own."""

from __future__ import annotations

from collections.abc import Callable

import ipywidgets as w

from modelmath.errors import ModelMathError
from modelmath.job import Change, Job, Plan, changes, plan, to_scale
from modelmath.widgets.common import look, places
from modelmath.widgets.common.fields import Field, row, scale_names
from modelmath.widgets.plan.folds import PlanFold

ABOUT = (
    "Shell and chassis are taken over by the ratio of the two scales. The rule, clearances, speaker, decoder, strands, "
    "wires and strip stay what they are. Then all is solved anew. Nothing is measured at the new model yet."
)
CHOOSE = "(choose a scale)"
MOST_NAME = 200  # characters, as the document's field
HEADS = ("What", "Now", "There", "Why")


class AnotherScale:
    """A choice of scale, what changed, and a button that opens the new job.

    Parameters
    ----------
    opened : callable
        Called with the new job when it is to be opened. [-]
    """

    def __init__(self, opened: Callable[[Job], None]) -> None:
        self._opened = opened
        self.plan: Plan | None = None
        self.job: Job | None = None
        self.scale = Field("Take it to", "the scale of the new model", options=[CHOOSE, *scale_names()])
        self.said = w.HTML()
        self.button = w.Button(description="Open it as a new model", disabled=True)
        self.scale.on_change(self._compare)
        self.button.on_click(lambda _button: self.open())
        pressed = w.HBox([self.button])
        pressed.add_class("mm-row")
        content = w.VBox([w.HTML(look.paragraph(ABOUT)), row(self.scale), pressed, self.said])
        self.fold = PlanFold("Another scale", content, self._show, self._clear)

    def _show(self, new: Plan) -> None:
        self.plan = new
        self._compare()

    def _clear(self) -> None:
        self.plan = None
        self.scale.value = CHOOSE
        self._compare()

    def _compare(self) -> None:
        self.job, self.said.value, self.button.disabled = None, "", True
        if self.plan is None or self.scale.value == CHOOSE:
            return
        if self.scale.value == self.plan.scale.name:
            self.said.value = look.paragraph("It is in that scale already.")
            return
        try:
            self.job = self._named(to_scale(self.plan.job, self.scale.value))
            self.button.disabled = False
            self.said.value = table(changes(self.plan, plan(self.job, places.own_drawer())))
        except ModelMathError as reason:
            self.said.value = look.problem(str(reason))

    def _named(self, job: Job) -> Job:
        """Return the new job under a name of its own, so that saving it leaves the old one."""
        before = self.plan.scale.name if self.plan is not None else ""
        added = f" in {job.scale}"
        name = job.name.removesuffix(f" in {before}")
        return job.model_copy(update={"name": f"{name[: MOST_NAME - len(added)]}{added}"})

    def open(self) -> None:
        """Open the new job."""
        if self.job is not None:
            self._opened(self.job)


def table(found: tuple[Change, ...]) -> str:
    """Return what changed, and folded away what stays."""
    differs = [(each.name, each.before, each.after, each.follows) for each in found if each.differs]
    same = [(each.name, each.before, each.follows) for each in found if not each.differs and each.before != "none"]
    stays = look.table("What stays as it is", ("What", "Size", "Why"), same, "mm-advice")
    count = f"{len(same)} figures stay as they are"
    folded = f"<details><summary>{look.text(count)}</summary>{stays}</details>" if same else ""
    return look.table("What changes", HEADS, differs, "mm-advice") + folded

"""The build in the walkthrough: a check list that is kept with the job, how long the rest takes, what was measured."""

from __future__ import annotations

import re
from collections.abc import Callable

import ipywidgets as w

from modelmath.drawings.charts.build_times import build_times_svg
from modelmath.errors import ModelMathError
from modelmath.job import Job, Plan
from modelmath.job.building.as_built import as_built, measurable, with_measured
from modelmath.job.building.checklist import Progress, check_key, progress_of, with_done, with_tick
from modelmath.job.building.step import Step
from modelmath.widgets.common import look
from modelmath.widgets.common.fields import Field, row
from modelmath.widgets.plan import views
from modelmath.widgets.plan.building_views import built, progress_said, step_said
from modelmath.widgets.plan.folds import PlanFold

TO_WRITE = re.compile("_+ mm")  # where the sheet leaves room for a measured size
CHECK = w.Layout(width="auto", max_width="100%")


class StepBoxes:
    """One step: what to do, a box for each check, and one for the step itself.

    Parameters
    ----------
    step : Step
        The step. [-]
    """

    def __init__(self, step: Step) -> None:
        self.text = w.HTML()
        self.checks = {check_key(step, check): self._box(check) for check in step.checks}
        self.done = self._box(f"Step {step.number} is done")
        self.view = w.VBox([self.text, *self.checks.values(), self.done])
        self.view.add_class("mm-step")

    @staticmethod
    def _box(words: str) -> w.Checkbox:
        return w.Checkbox(False, description=look.label(words), indent=False, layout=CHECK)

    def show(self, step: Step, progress: Progress, said: str) -> None:
        """Show how far it is."""
        self.text.value = said
        for words, (key, box) in zip(step.checks, self.checks.items(), strict=True):
            box.description = look.label(TO_WRITE.sub("write in below how much", words))
            box.value = key in progress.ticked
        self.done.value = step.key in progress.done
        self.done.disabled = step.hold and bool(progress.open_checks(step))
        first = ": first tick each of its checks" if self.done.disabled else ""
        self.done.description = f"Step {step.number} is done{first}"


class Building:
    """The check list and what was measured, folded away.

    Parameters
    ----------
    changed : callable
        Called with the job once something was ticked or measured. [-]
    """

    def __init__(self, changed: Callable[[Job], None]) -> None:
        self._changed = changed
        self._plan: Plan | None = None
        self._showing = False
        self._steps: tuple[Step, ...] = ()
        self.boxes: dict[str, StepBoxes] = {}
        self.summary, self.chart, self.built, self.cautions = (w.HTML() for _ in range(4))
        self.listed = w.VBox([])
        self.what = Field("Measured", "what you measured on the built model", options=["room left"])
        self.value = Field("It is", "as built, such as 0.6 mm; empty: take it out again")
        self.within = Field("Give or take", "how exactly that is known; empty: 0.05 mm")
        self.keep = w.Button(description="Keep what was measured")
        self.keep.on_click(lambda _button: self._measure())
        self.fold = PlanFold("Build order and check list", self._lay_out(), self._show, self._clear)

    def _lay_out(self) -> w.VBox:
        buttons = w.HBox([self.keep])
        buttons.add_class("mm-row")
        return w.VBox(
            [
                self.summary,
                self.listed,
                w.HTML(look.heading("As built")),
                row(self.what, self.value, self.within),
                buttons,
                self.built,
                w.HTML(look.heading("How long the rest takes")),
                self.chart,
                self.cautions,
            ]
        )

    def _show(self, plan: Plan) -> None:
        self._showing, self._plan = True, plan
        try:
            self._show_steps(plan)
            self._show_built(plan)
        except ModelMathError as reason:
            self.summary.value = look.problem(str(reason))
        finally:
            self._showing = False

    def _show_steps(self, plan: Plan) -> None:
        progress = progress_of(plan)
        if _shape(progress.steps) != _shape(self._steps):
            self._list(progress.steps)
        self._steps = progress.steps
        told: set[str] = set()
        for step in progress.steps:
            self.boxes[step.key].show(step, progress, step_said(step, progress, told))
        self.summary.value = progress_said(progress)
        numbers = {step.key: step.number for step in progress.steps}
        chart = build_times_svg(progress.left, numbers, progress.critical) if progress.left else ""
        said = look.paragraph(progress.time_in_words or progress.in_words)
        self.chart.value = f'{said}<div class="mm-figure">{chart}</div>' if chart else said
        if not self.cautions.value:
            self.cautions.value = views.all_cautions()

    def _list(self, steps: tuple[Step, ...]) -> None:
        self.boxes = {step.key: StepBoxes(step) for step in steps}
        for key, boxes in self.boxes.items():
            boxes.done.observe(lambda change, key=key: self._tick_step(key, change["new"]), names="value")
            for check, box in boxes.checks.items():
                box.observe(lambda change, check=check: self._tick(check, change["new"]), names="value")
        self.listed.children = [boxes.view for boxes in self.boxes.values()]

    def _show_built(self, plan: Plan) -> None:
        names = list(measurable(plan))
        if list(self.what.control.options) != names:
            chosen = self.what.value
            self.what.control.options = names
            self.what.value = chosen if chosen in names else names[0]
        self.built.value = built(as_built(plan))

    def _clear(self) -> None:
        self._plan, self._steps, self.boxes, self.listed.children = None, (), {}, []
        self.summary.value = self.chart.value = self.built.value = ""

    def _tick_step(self, key: str, done: bool) -> None:
        if self._plan is not None and not self._showing:
            self._changed(with_done(self._plan.job, self._plan.steps, key, done))

    def _tick(self, check: str, ticked: bool) -> None:
        if self._plan is not None and not self._showing:
            self._changed(with_tick(self._plan.job, self._plan.steps, check, ticked))

    def _measure(self) -> None:
        if self._plan is None:
            return
        for field in (self.value, self.within):
            field.show()
        try:
            job = with_measured(self._plan.job, self._plan, self.what.value, self.value.value, self.within.value)
        except ModelMathError as reason:
            self.value.show(wrong=str(reason))
            return
        self._changed(job)


def _shape(steps: tuple[Step, ...]) -> list[tuple[str, int, list[str]]]:
    """Return what decides which boxes there are: a change of sizes alone keeps them, and where the cursor is."""
    return [(step.key, step.number, [check_key(step, check) for check in step.checks]) for step in steps]

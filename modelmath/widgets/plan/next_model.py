"""The job copied to the next model: what carries over, what to measure again, and the readings not read there yet."""

from __future__ import annotations

from collections.abc import Callable

import ipywidgets as w

from modelmath.errors import ModelMathError
from modelmath.files import file_name
from modelmath.job import Job, Plan
from modelmath.job.next_model import Copied, as_read, copied, copied_readings
from modelmath.job.storage.files import store_job
from modelmath.widgets.common import look, places
from modelmath.widgets.common.fields import Field, row, scale_names
from modelmath.widgets.plan.folds import PlanFold

ABOUT = (
    "What is yours or bought carries over. Readings belong to one shell and one chassis: they keep their names and "
    "rules, and each has to be read on the next model."
)
SAME = "(the same scale)"
GUESS, EMPTY = "kept as a first guess", "emptied"
NONE_LEFT = "Every reading of this job is its own."
STILL = (
    "These are copied from another model. Type each anew where it stands, or, where this model truly reads the same, "
    "say so here."
)


class NextModel:
    """A name, a scale, what would carry over, and a button that saves the copy as a new job.

    Parameters
    ----------
    opened : callable
        Called with the name of the new job's file, to open it. [-]
    edited : callable
        Called with the job, once a reading of it was said to be the same here. [-]
    """

    def __init__(self, opened: Callable[[str], None], edited: Callable[[Job], None]) -> None:
        self._opened, self._edited = opened, edited
        self.plan: Plan | None = None
        self.found: Copied | None = None
        self.name = Field("The next model", "its name, which names its file too")
        self.scale = Field("Its scale", "another one resizes what scales", options=[SAME, *scale_names()])
        self.readings = Field(
            "Its readings", "marked until read there; emptied ones give no plan", options=[GUESS, EMPTY]
        )
        self.said, self.done, self.still = w.HTML(), w.HTML(), w.HTML(look.paragraph(NONE_LEFT))
        self.save_button = w.Button(description="Save it as a new job", disabled=True)
        self.which = Field("Reading", "one that is still the old model's", options=["-"])
        self.same_button = w.Button(description="It reads the same here")
        for field in (self.name, self.scale, self.readings):
            field.on_change(self._look)
        self.save_button.on_click(lambda _button: self.save())
        self.same_button.on_click(lambda _button: self.confirm())
        buttons = w.HBox([self.save_button])
        buttons.add_class("mm-row")
        self.confirming = w.HBox([self.which.view, self.same_button])
        self.confirming.add_class("mm-row")
        self.confirming.layout.align_items = "flex-end"
        self.confirming.layout.display = "none"
        content = w.VBox([
            self.still, self.confirming, w.HTML(look.heading("Copy it to the next model")),
            w.HTML(look.paragraph(ABOUT)), row(self.name, self.scale, self.readings), buttons, self.done, self.said,
        ])  # fmt: skip
        self.fold = PlanFold("The next model", content, self._show, self._clear)

    def _show(self, new: Plan) -> None:
        self.plan = new
        left = [each.name for each in copied_readings(new.job)]
        self.still.value = look.paragraph(STILL) + look.bullets(left) if left else look.paragraph(NONE_LEFT)
        self.which.control.options = left or ["-"]
        self.confirming.layout.display = None if left else "none"
        self._look()

    def _clear(self) -> None:
        self.plan, self.done.value, self.still.value = None, "", ""
        self.confirming.layout.display = "none"
        self._look()

    def _look(self) -> None:
        """Show what would carry over, and what would have to be measured again."""
        self.found, self.said.value, self.save_button.disabled = None, "", True
        self.name.show()
        if self.plan is None or not self.name.value.strip():
            return
        where = None if self.scale.value == SAME else self.scale.value
        try:
            self.found = copied(self.plan.job, self.name.value.strip(), where, self.readings.value == GUESS)
        except ModelMathError as reason:
            self.name.show(wrong=str(reason))
            return
        self.save_button.disabled = False
        self.said.value = (
            look.heading("Carries over")
            + look.bullets(self.found.carried)
            + look.heading("To be measured or entered again")
            + look.bullets(self.found.measure_again)
        )

    def save(self) -> None:
        """Write the copy as a new job file, and open it; a file that is there is never written over."""
        if self.found is None:
            return
        job = self.found.job
        target = places.workbook_folder() / "jobs" / f"{file_name(job.name)}.toml"
        try:
            if target.exists() or target.stem in places.job_files():
                problem = f"{target.name} is there already: give the next model another name."
                raise ModelMathError(problem)
            target.parent.mkdir(parents=True, exist_ok=True)
            saved = store_job(job, target, since="")
        except (ModelMathError, OSError) as reason:
            self.done.value = look.problem(str(reason))
            return
        self._opened(saved.file.stem)
        self.done.value = look.echo(f"Saved as {saved.file}.")

    def confirm(self) -> None:
        """Take the reading chosen for read on this model, as it stands."""
        if self.plan is None or not copied_readings(self.plan.job):
            return
        self._edited(as_read(self.plan.job, [self.which.value]))

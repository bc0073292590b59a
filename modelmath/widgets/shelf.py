"""The shelf inside the walkthrough: put a thing of the job on it, take one from it, bring all jobs up to it."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import ipywidgets as w

from modelmath.errors import ModelMathError
from modelmath.job import Job, Plan
from modelmath.job.shelf import (
    KINDS,
    SHELF,
    Kind,
    Proposal,
    Proposals,
    Shelf,
    ShelfFile,
    bring_up,
    differences,
    from_shelf,
    names_in,
    open_shelf,
    proposals,
    put_on_shelf,
    save_shelf,
)
from modelmath.widgets.common import look, places
from modelmath.widgets.common.fields import Field
from modelmath.widgets.plan.folds import PlanFold

ABOUT = (
    "Rules, speakers, decoders, lamps and stock that several jobs share lie on the shelf, each once under its name. A "
    "job has a copy of what it took, so that it stays whole by itself; where the two differ, it is said here."
)
NOTHING = "-"
ALIKE = "Everything in this job that has a namesake on the shelf is as it is there."


class ShelfPart:
    """What of the job differs from the shelf, and the ways to and from it.

    Parameters
    ----------
    edited : callable
        Called with the job, once something was taken from the shelf. [-]
    file : callable
        Returns the file of the job that is open; None where it has none. [-]
    """

    def __init__(self, edited: Callable[[Job], None], file: Callable[[], Path | None]) -> None:
        self._edited, self._file = edited, file
        self.plan: Plan | None = None
        self.kept: ShelfFile | None = None
        self.looked: tuple[Proposal, ...] = ()
        self.differs, self.replaces, self.done, self.others = (w.HTML() for _ in range(4))
        self.own = Field("In this job", "what to share with other jobs", options=[NOTHING])
        self.there = Field("On the shelf", "what other jobs put there", options=[NOTHING])
        self.put_button = w.Button(description="Put it on the shelf")
        self.take_button = w.Button(description="Take it into this job")
        self.look_button = w.Button(description="Which jobs would change?", layout=w.Layout(min_width="14rem"))
        self.all_button = w.Button(
            description="Bring these up to the shelf", disabled=True, layout=w.Layout(min_width="16rem")
        )
        self.own.on_change(self._say_what_it_replaces)
        self.put_button.on_click(lambda _button: self.put())
        self.take_button.on_click(lambda _button: self.take())
        self.look_button.on_click(lambda _button: self.look_through())
        self.all_button.on_click(lambda _button: self.bring_up())
        content = w.VBox([
            w.HTML(look.paragraph(ABOUT)), self.differs, _side_by_side(self.own.view, self.put_button), self.replaces,
            _side_by_side(self.there.view, self.take_button), self.done, w.HTML(look.heading("All jobs")),
            _side_by_side(self.look_button, self.all_button), self.others,
        ])  # fmt: skip
        self.fold = PlanFold("The shelf", content, self._show, self._clear)

    @property
    def file(self) -> Path:
        """The shelf's file."""
        return places.workbook_folder() / SHELF

    def _show(self, new: Plan) -> None:
        self.plan = new
        self._read()

    def _clear(self) -> None:
        self.plan, self.looked, self.all_button.disabled = None, (), True
        for each in (self.differs, self.replaces, self.done, self.others):
            each.value = ""

    def _read(self) -> None:
        """Read the shelf, and offer what lies there and what the job has."""
        self.kept = None
        try:
            self.kept = open_shelf(self.file)
        except ModelMathError as reason:
            self.differs.value = look.problem(str(reason))
        shelf = Shelf() if self.kept is None else self.kept.shelf
        self._offer(self.there, [_label(kind, name) for kind in KINDS for name in shelf.things(kind)])
        job = None if self.plan is None else self.plan.job
        self._offer(self.own, [] if job is None else [_label(k, name) for k in KINDS for name in names_in(job, k)])
        self.put_button.disabled = self.kept is None or self.own.value == NOTHING
        self.take_button.disabled = self.kept is None or self.there.value == NOTHING
        self.look_button.disabled = self.kept is None
        if job is not None and self.kept is not None:
            found = differences(job, shelf)
            self.differs.value = look.bullets(found) if found else look.paragraph(ALIKE)
        self._say_what_it_replaces()

    @staticmethod
    def _offer(field: Field, labels: list[str]) -> None:
        before = field.value
        field.control.options = labels or [NOTHING]
        field.value = before if before in labels else (labels or [NOTHING])[0]

    def _say_what_it_replaces(self) -> None:
        """Say what on the shelf would be replaced, before the button is pressed."""
        self.replaces.value = ""
        if self.plan is None or self.kept is None or self.own.value == NOTHING:
            return
        kind, name = _chosen(self.own.value)
        if name not in self.kept.shelf.things(kind):
            return
        every = differences(self.plan.job, self.kept.shelf)
        found = next((each for each in every if (each.kind, each.name) == (kind, name)), None)
        said = f"Putting it there replaces the one on the shelf: {found}." if found else "It lies there as it is here."
        self.replaces.value = look.paragraph(said, "mm-soft")

    # To the shelf and from it.

    def put(self) -> None:
        """Put the thing chosen on the shelf."""
        if self.plan is None or self.kept is None or self.own.value == NOTHING:
            return
        kind, name = _chosen(self.own.value)
        try:
            save_shelf(put_on_shelf(self.kept.shelf, self.plan.job, kind, name), self.file, self.kept.mark)
            said = look.echo(f"The {self.own.value} is on the shelf.")
        except ModelMathError as reason:
            said = look.problem(str(reason))
        self._after(said)

    def take(self) -> None:
        """Take the thing chosen from the shelf into the job."""
        if self.plan is None or self.kept is None or self.there.value == NOTHING:
            return
        kind, name = _chosen(self.there.value)
        try:
            job = from_shelf(self.plan.job, self.kept.shelf, kind, name)
        except ModelMathError as reason:
            self._after(look.problem(str(reason)))
            return
        taken = self.there.value
        self._edited(job)
        self._after(look.echo(f"The {taken} in this job is now as on the shelf. Save the job to keep it."))

    def _after(self, said: str) -> None:
        self.looked, self.all_button.disabled, self.others.value = (), True, ""
        self._read()
        self.done.value = said

    # All jobs.

    def look_through(self) -> None:
        """Say which jobs of the folder would change, and how; nothing is written."""
        self._read()
        if self.kept is None:
            return
        found = proposals(places.workbook_folder() / "jobs", self.kept.shelf)
        own = self._file()
        here = None if own is None else own.resolve()
        self.looked = tuple(each for each in found.proposals if each.file.resolve() != here)
        self.all_button.disabled = not self.looked
        self.others.value = _would_change(found, self.looked)

    def bring_up(self) -> None:
        """Write the jobs that were shown, as the shelf has it."""
        done = bring_up(self.looked)
        self.looked, self.all_button.disabled = (), True
        written = [f"{each.name} is now as the shelf has it; as it was before is kept." for each in done.written]
        left = "".join(look.problem(str(each)) for each in done.left)
        self.others.value = left + (look.bullets(written) if written else "")


def _side_by_side(*children: w.Widget) -> w.HBox:
    box = w.HBox(list(children))
    box.add_class("mm-row")
    box.layout.align_items = "flex-end"  # a button level with its field
    return box


def _label(kind: Kind, name: str) -> str:
    return kind if kind == name else f"{kind}: {name}"


def _chosen(label: str) -> tuple[Kind, str]:
    kind, parted, name = label.partition(": ")
    return next(each for each in KINDS if each == kind), name if parted else kind


def _would_change(found: Proposals, looked: tuple[Proposal, ...]) -> str:
    said = look.bullets(looked) if looked else look.paragraph("No other job would change.")
    if len(looked) < len(found.proposals):
        said += look.paragraph("The job that is open here is left out: take what it needs above, and save it.")
    return said + "".join(look.problem(f"Left alone: {each}") for each in found.unreadable)

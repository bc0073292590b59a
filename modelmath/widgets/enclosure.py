"""The guided walkthrough: from two readings to the bench card, with the rest folded until wanted."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path

import ipywidgets as w

from modelmath import drawings
from modelmath.errors import ModelMathError
from modelmath.job import Job, Plan, plan
from modelmath.job.entries.screen import FIRST, NEW_RULE, Outcome, blank_job, entries_of, field_of, read_entries
from modelmath.job.storage.drafts import Draft
from modelmath.job.storage.files import open_job
from modelmath.widgets.common import look, places
from modelmath.widgets.common.fields import Field, Fold, page, row
from modelmath.widgets.common.pictures import WhereToMeasure
from modelmath.widgets.glossary import WordsUsedHere
from modelmath.widgets.plan import options, views
from modelmath.widgets.plan.kept import KeptJob
from modelmath.widgets.plan.opening import note_opened, what_to_open
from modelmath.widgets.plan.printing import Printing
from modelmath.widgets.plan.screen_fields import first_fields, more_fields
from modelmath.widgets.plan.step_heads import StepHeads
from modelmath.widgets.plan.to_measure import StillToMeasure
from modelmath.widgets.plan.undoing import Undoing
from modelmath.widgets.plan.walkthrough_folds import WalkthroughFolds

NEW = "(new model)"
NOTHING_TO_SAVE = "There is nothing to save yet: fill in or mend the entries above first."
WAITING = {
    "zero_offset": "how far the rule's zero stands in from its end",
    "chassis": "the reading on the chassis",
    "shell": "the reading in the shell",
    "keep": "the clearance to keep",
    "finest": "the finest mark to cut to",
}


class EnclosurePanel:
    """The walkthrough over one job.

    Parameters
    ----------
    job : Job or None
        The job to begin with; None for a new model. [-]
    """

    def __init__(self, job: Job | None = None) -> None:
        self.base = job or blank_job()
        self.kept = KeptJob(self._take_up)
        self.zone = 0
        self.plan: Plan | None = None
        self.outcome = Outcome(None)
        self._loading = False
        self.fields = first_fields() | more_fields()
        self.name = Field("Model", "its name on the sheets", self.base.name)
        self.chooser = Field("Job", "one that is saved, or a new model", options=[NEW, *places.job_files()])
        self.about, self.answer, self.figure, self.parts = (w.HTML() for _ in range(4))
        self.printing, self.steps, self.undoing = Printing(self._show_steps), StepHeads(), Undoing(self._zones_changed)
        self.within = WalkthroughFolds(
            self.fields,
            edited=self._zones_changed,
            ticked=self._progressed,
            opened=self._open_saved,
            taken_over=self._take_over,
            file=lambda: self.kept.file,
        )
        self.to_measure = StillToMeasure(self._progressed)
        self.save_button = w.Button(description="Save the job")
        self.print_button = w.Button(description="Print the bench card")
        self.view = self._lay_out()
        self._connect()
        self._open(job)

    @classmethod
    def demo(cls, name: str = "switcher-ho") -> EnclosurePanel:
        """Open the walkthrough on a demo job, or on the user's own changed copy of it."""
        opened = open_job(places.job_files()[name])
        panel = cls(opened.job)
        panel.kept.opened(opened, name)
        if panel.plan is not None:
            panel.kept.edited(panel.plan.job)
        panel.kept.settled()
        panel._offer(name)
        return panel

    @classmethod
    def opening(cls) -> EnclosurePanel:
        """Open the walkthrough on the job that its address asks for, or that was chosen last; else on the demo."""
        found = what_to_open()
        if found.job is None:
            return cls()
        panel = cls.demo(found.job)
        if found.asked:
            note_opened(found.job)
        if found.problem:
            panel.about.value = look.problem(found.problem) + panel.about.value
        return panel

    def _lay_out(self) -> w.VBox:
        f = self.fields
        buttons = w.HBox([self.print_button, self.save_button])
        buttons.add_class("mm-row")
        pictures = ("zero of the rule", "reading on the chassis", "reading in the shell")
        where = WhereToMeasure(*pictures, mind=("electricity",))
        return page(
            row(self.chooser, self.name),
            self.about,
            self.kept.view,
            self.undoing.view,
            self.steps.heads["readings"],
            row(*(f[name] for name in FIRST)),
            self.to_measure.view,
            where.view,
            WordsUsedHere().view,
            self.answer,
            self.figure,
            self.folds["handling"].view,
            self.steps.heads["supports"],
            row(f["flange"]),
            WhereToMeasure("flange", title="Where to measure the flange").view,
            self.folds["space"].view,
            self.steps.heads["cuts"],
            self.parts,
            self.folds["buy"].view,
            self.steps.heads["printing"],
            buttons,
            self.kept.status,
            self.printing.work.view,
            self.printing.said,
            w.HTML(look.heading("More, when you want it")),
            *self.within.views,
        )

    @property
    def folds(self) -> dict[str, Fold]:
        """What is folded away, by name."""
        return self.within.all

    def _connect(self) -> None:
        for field in (*self.fields.values(), self.name):
            field.on_change(self._refresh)
        self.chooser.on_change(self._choose)
        self.within.which.on_change(self._choose_zone)
        self.folds["handling"].head.observe(self._one_drawing, names="value")
        self.fields["rule_unit"].control.observe(self._change_unit, names="value")
        self.save_button.on_click(lambda _button: self.save())
        self.print_button.on_click(lambda _button: self.print())

    def _one_drawing(self, change: dict[str, bool]) -> None:
        """Show the drawing at rest only while the one to move things in is shut: the two are the same."""
        self.figure.layout.display = "none" if change["new"] else None

    # Changing what is shown.

    def _load_other(self, job: Job | None, typed: Mapping[str, str] | None = None) -> None:
        """Fill the fields from another job: what was undone or printed belonged to the one before."""
        self.printing.begin()
        self.undoing.begin()
        self._load(job, typed)

    def _load(self, job: Job | None, over: Mapping[str, str] | None = None) -> None:
        """Fill the fields from a job, and over them what stood in some of them besides."""
        self._loading = True
        self.base, self.plan = job or blank_job(), None
        for shown in (self.answer, self.figure, self.parts):
            shown.value = ""
        self.within.clear()
        self.to_measure.clear()
        self.about.value = views.taken_over(self.base)
        if job is None:
            self.within.editors.clear()
        else:
            self.zone = self._governing(job)
        self.name.value = self.base.name
        self.within.which.control.options = [zone.name for zone in self.base.zones]
        self.within.which.control.index = self.zone
        typed = entries_of(self.base, self.zone)
        if job is None:
            typed |= dict.fromkeys((*WAITING, "graduation"), "")
        for name, field in self.fields.items():
            field.value = typed[name]
            if over and field.takes(over.get(name)):
                field.value = over[name]
        self._loading = False
        self._refresh()

    @staticmethod
    def _governing(job: Job) -> int:
        """Return the place of the zone that sets the bulkhead's height."""
        try:
            return job.zones.index(plan(job).governing.zone)
        except ModelMathError:
            return 0

    def _choose(self) -> None:
        if self._loading:
            return
        self.printing.begin()
        self.zone = 0
        if self.chooser.value == NEW:
            self._open(None)
            return
        try:
            self._load_other(self.kept.open(self.chooser.value))
            note_opened(self.chooser.value)
        except ModelMathError as reason:
            self.printing.said.value = look.problem(f"{self.chooser.value} can't be opened: {reason}")
        self.kept.settled()

    def _open_saved(self, name: str) -> None:
        self._offer(name)
        self._choose()

    def _open(self, job: Job | None) -> None:
        """Open a job that has no file, or a new model."""
        self.kept.begin(job)
        self._load_other(job)
        self.kept.settled()

    def _take_up(self, draft: Draft) -> None:
        """Open a draft: what was entered before, and not saved."""
        self._offer(self.kept.taken_up(draft) or NEW)
        self._load_other(draft.job, draft.typed)

    def _choose_zone(self) -> None:
        if self._loading or self.within.which.control.index is None:
            return
        self.zone = int(self.within.which.control.index)
        job = self.outcome.job or self.outcome.so_far or self.base
        self._loading = True
        for name, text in entries_of(job, self.zone).items():
            self.fields[name].value = text
        self._loading = False
        self.base = job
        self._refresh()

    def _change_unit(self, change: dict[str, str]) -> None:
        """Let the last mark of a new rule follow its unit, unless the user has set it."""
        last = self.fields["rule_length"]
        if not self._loading and last.value == NEW_RULE[change["old"]][1]:
            last.value = NEW_RULE[change["new"]][1]

    def _zones_changed(self, job: Job) -> None:
        """Take over a job whose zones, or what else is inside, were edited."""
        self.zone = min(self.zone, len(job.zones) - 1)
        zone = self.zone
        self._load(job)
        self.zone = zone
        self._choose_zone()

    def _progressed(self, job: Job) -> None:
        """Take over what was ticked or measured: no field changes by it."""
        self.base = job
        self._refresh()

    def _refresh(self) -> None:
        """Read every field, and show the plan, or what is missing or wrong beside its field."""
        if self._loading:
            return
        typed = {name: field.value for name, field in self.fields.items()}
        self.outcome = read_entries(typed, self.base, self.zone)
        for name, field in self.fields.items():
            field.show(self.outcome.echoes.get(name), self.outcome.messages.get(name))
        self.to_measure.show(self.outcome.job or self.outcome.so_far or self.base, self.zone)
        if self.outcome.job is None:
            self._wait()
            self._show_steps()
            self._keep_typing(typed)
            return
        job = self.outcome.job.model_copy(update={"name": self._named})
        try:
            new = plan(job, places.own_drawer())
            _ = new.gap, new.lines
        except ModelMathError as reason:
            self._keep_last(reason)
            self._show_steps()
            self._keep_typing(typed)
            return
        self.plan = new
        self.kept.edited(job)
        self.undoing.edited(job)
        self._show(new)
        self._show_steps()

    def _keep_typing(self, typed: Mapping[str, str]) -> None:
        """Keep entries that give no plan, over the last job that gave one."""
        good = self.outcome.so_far or (self.base if self.plan is None else self.plan.job)
        self.kept.typing(good.model_copy(update={"name": self._named}), typed)

    @property
    def _named(self) -> str:
        return self.name.value.strip() or "Unnamed model"

    def _wait(self) -> None:
        """Say what is still to be entered, and keep the last good result in sight."""
        missing = [WAITING[name] for name in self.outcome.waiting if name in WAITING]
        missing += self.outcome.unread
        if self.plan is not None:
            for name in self.outcome.waiting:
                if name in WAITING:
                    self.fields[name].show(wrong=f"Enter {WAITING[name]}; until then the last sizes stay.")
            last = views.answer(self.plan, stale=True)
            self.answer.value = (_still_to_enter(missing) if self.outcome.unread else "") + last
        elif missing:
            self.answer.value = _still_to_enter(missing)

    def _keep_last(self, reason: ModelMathError) -> None:
        """Say why there is no plan, beside the field that is the cause where one is, and keep the last in sight."""
        name, message = field_of(reason, self.zone, self.outcome.job)
        last = views.answer(self.plan, stale=True) if self.plan is not None else ""
        if name:
            self.fields[name].show(wrong=message)
            self.answer.value = last or look.problem(message)
        else:
            self.answer.value = look.problem(message) + last
        self.within.chamber.value = look.problem(message)

    def _show(self, new: Plan) -> None:
        self.answer.value = (
            views.or_reason(views.answer, new)
            + views.or_reason(views.warnings, new)
            + views.or_reason(options.ways_out, new)
        )
        self.figure.value = f'<div class="mm-figure">{views.or_reason(drawings.side_elevation_svg, new)}</div>'
        self.parts.value = views.or_reason(views.cut_list, new)
        self.within.show(new)

    def _take_over(self, job: Job) -> None:
        """Open a job from another scale as a new one, not saved yet."""
        self._offer(NEW)
        self.kept.begin()
        self._load_other(job)
        self.kept.settled()

    # Keeping and printing.

    @property
    def file(self) -> Path | None:
        """Where the job was read from or saved to."""
        return self.kept.file

    @property
    def summary(self) -> str:
        """The plan in plain language."""
        return views.summary(self.plan) if self.plan is not None else "Nothing is worked out yet."

    def save(self) -> Path | None:
        """Write the job into the workbook folder."""
        if self.plan is None or self.outcome.job is None:
            self.printing.said.value = look.problem(NOTHING_TO_SAVE)
            return None
        saved = None
        try:
            saved = self.kept.save(self.plan.job)
            self.printing.said.value = look.paragraph(saved)
        except (ModelMathError, OSError) as reason:
            self.printing.said.value = look.problem(str(reason))
        if self.kept.file is not None:  # after a conflict too: it goes on in a file of its own
            self._offer(self.kept.file.stem)
            note_opened(self.kept.file.stem)
        return saved.file if saved else None

    def _offer(self, name: str) -> None:
        """Put the jobs there are before the user, one of them chosen."""
        self._loading = True
        self.chooser.control.options = [NEW, *places.job_files()]
        self.chooser.value = name
        self._loading = False

    def print(self) -> list[Path]:
        """Write the packet, bench card first, into the workbook folder."""
        files = self.printing.print(self.plan if self.outcome.job is not None else None)
        self._show_steps()
        return files

    def _show_steps(self) -> None:
        self.steps.show(self.outcome, self.plan, self.printing.printed)


def _still_to_enter(what: list[str]) -> str:
    return f'<div class="mm-card" role="status">{look.paragraph("Still to enter:")}{look.bullets(what)}</div>'

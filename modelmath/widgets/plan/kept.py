"""How the walkthrough's job is kept: its file, a draft after every edit, and earlier drafts offered."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from pathlib import Path

import ipywidgets as w

from modelmath.errors import JobError, ModelMathError
from modelmath.files import file_name
from modelmath.job import Job
from modelmath.job.storage.copies import Conflict, mark_of, previous_copy
from modelmath.job.storage.drafts import Draft, draft_file, drafts_folder, drafts_in, drop_draft, write_draft
from modelmath.job.storage.files import Opened, Saved, open_job, store_job
from modelmath.widgets.common import look, places

THERE_ALREADY = (
    "is there already, saved by another page or earlier, and stays as it is. Change the model's name to keep both; or "
    "choose it under Job on top to go on with it: what you entered here is kept as a draft."
)
KEPT = "Not saved yet. What you enter is kept as a draft as you go."


class KeptJob:
    """The file and the draft of the job that is open.

    Parameters
    ----------
    take_up : callable
        Called with a draft that the user takes up; it is to open it with `taken_up`. [-]
    """

    def __init__(self, take_up: Callable[[Draft], None]) -> None:
        self.file: Path | None = None  # where the job was read from or saved to
        self._take_up = take_up
        self._apart: tuple[str, Path] | None = None  # a model's name, and where it goes after a conflict
        self._offered: Draft | Path | None = None
        self.news, self.offer, self.status = w.HTML(), w.HTML(), w.HTML()
        self.take_button = w.Button(description="Take them up")
        self.drop_button = w.Button(description="Drop them")
        self.take_button.on_click(lambda _button: self.take())
        self.drop_button.on_click(lambda _button: self.drop())
        self._buttons = w.HBox([self.take_button, self.drop_button])
        self._buttons.add_class("mm-row")
        self.view = w.VBox()
        self._now(None, "", "", None)

    def _now(self, file: Path | None, mark: str, chosen: str, base: Job | None) -> None:
        self.file, self._mark, self._chosen, self._base = file, mark, chosen, base
        self._named = "" if base is None else base.name  # the model's name when its file was read
        self._draft: Path | None = None
        self._last: Job | None = None
        self._typed: dict[str, str] = {}  # what stands in the fields and gives no job yet
        self._opening = True
        self.news.value = self.status.value = ""

    # Opening.

    def begin(self, job: Job | None = None) -> None:
        """Begin with a job that has no file, or with a new model."""
        self._now(None, "", "", job)

    def open(self, chosen: str) -> Job:
        """Open one of the jobs to choose from; a message where it can't be read says where its earlier copy lies."""
        file = places.job_files().get(chosen)
        if file is None:
            raise ModelMathError("it is no longer there")
        try:
            opened = open_job(file)
        except JobError as reason:
            copy = previous_copy(file)
            lost = f" As it was before its last save, it is kept as {copy}." if copy.is_file() else ""
            raise ModelMathError(f"{reason}{lost}") from None
        self.opened(opened, chosen)
        return opened.job

    def opened(self, opened: Opened, chosen: str) -> None:
        """Take over a job that was just read from its file."""
        self._now(opened.file, opened.mark, chosen, opened.job)
        if opened.news:
            said = [*opened.news, "Saving the job writes it as it is now."]
            self.news.value = look.paragraph("This job was written by an earlier release.") + look.bullets(said)

    def taken_up(self, draft: Draft) -> str:
        """Take over a draft; return the name of the job it belongs to, empty for a new model."""
        file = places.job_files().get(draft.chosen)
        try:
            opened = open_job(file) if file is not None else None
        except JobError:
            opened = None
        as_read = opened is not None and opened.mark == draft.since
        self._now(file, draft.since, draft.chosen if file else "", opened.job if opened and as_read else None)
        self._opening = False  # it differs from the file, so that it is kept as a draft again
        return self._chosen

    def settled(self) -> None:
        """Take what is shown now for what the file says, and offer what drafts there are."""
        if self._opening and self._last is not None and self._base is not None:
            self._base = self._last
        self._opening = False
        self.look_for_drafts()

    # Drafts.

    def edited(self, job: Job) -> None:
        """Keep a job as a draft, as long as it differs from its file."""
        if job == self._last and not self._typed:
            return
        self._last, self._typed = job, {}
        if self._opening and self._base is not None:
            return
        try:
            if job == self._base:
                self._drop_own()
                return
            self._write(job)
        except OSError as fault:
            self._refused(fault)

    def typing(self, job: Job, typed: Mapping[str, str]) -> None:
        """Keep entries that give no job yet as a draft, over the job before them."""
        if self._opening or typed == self._typed:
            return
        self._typed = dict(typed)
        try:
            self._write(job)
        except OSError as fault:
            self._refused(fault)

    def _write(self, job: Job) -> None:
        self._draft = self._draft or draft_file(drafts_folder(places.workbook_folder()), job.name)
        write_draft(Draft(self._draft, job, self._chosen, self._mark, typed=self._typed))
        self.status.value = look.paragraph(KEPT, "mm-soft")

    def _refused(self, fault: OSError) -> None:
        reason = (fault.strerror or "the folder refuses").lower()
        self.status.value = look.problem(f"Not saved yet, and no draft can be kept: {reason}. Save the job.")

    def _drop_own(self) -> None:
        if self._draft is not None:
            drop_draft(self._draft)
        self._draft, self.status.value = None, ""

    def look_for_drafts(self) -> None:
        """Offer the latest draft that is not saved; those of a job of one's own that is open come first."""
        own = "" if self._base is None or self._base.demo else self._chosen
        found, faults = drafts_in(drafts_folder(places.workbook_folder()))
        others = sorted(
            (each for each in found if each.file != self._draft), key=lambda each: not own or each.chosen != own
        )
        while others and self._is_saved(others[0]):
            drop_draft(others.pop(0).file)
        self._offered = None
        if others:
            self._offered = others[0]
            self.offer.value = look.paragraph(self._words(others[0])) + _more(len(others) - 1 + len(faults))
        elif faults:
            self._offered = drafts_folder(places.workbook_folder()) / faults[0].file
            self.offer.value = look.paragraph(f"{faults[0]}") + _more(len(faults) - 1)
        self.take_button.disabled = not isinstance(self._offered, Draft)
        self.view.children = [self.news, *([self.offer, self._buttons] if self._offered else [])]

    def _is_saved(self, draft: Draft) -> bool:
        """Whether a draft says what the file of its job says."""
        file = places.job_files().get(draft.chosen)
        try:
            return file is not None and not draft.typed and open_job(file).job == draft.job
        except JobError:
            return False

    @staticmethod
    def _words(draft: Draft) -> str:
        file = places.job_files().get(draft.chosen)
        said = f"Unsaved changes of {draft.job.name} ({draft.when}) are here: take them up, or drop them."
        if file is None:
            return f"{said} They have no job file yet."
        try:
            changed = mark_of(file.read_bytes()) != draft.since
        except OSError:
            changed = True
        return f"{said} {file.name} was changed since: saving keeps both." if changed else said

    def take(self) -> None:
        """Open the draft that is offered."""
        draft = self._offered
        if isinstance(draft, Draft):
            self._take_up(draft)
            if self._draft is not None:  # it is in a file of this page's own now
                drop_draft(draft.file)
            self.look_for_drafts()

    def drop(self) -> None:
        """Drop the draft that is offered."""
        if self._offered is not None:
            drop_draft(self._offered.file if isinstance(self._offered, Draft) else self._offered)
            self.look_for_drafts()

    # Saving.

    def save(self, job: Job) -> Saved:
        """Write the job into the workbook folder, and drop its draft.

        Where its file was changed elsewhere, both versions are kept, and the page goes on with its own.
        """
        target = self._target(job)
        own = target == self.file
        if target.exists() and not own:
            raise ModelMathError(f"{target.name} {THERE_ALREADY}")
        target.parent.mkdir(parents=True, exist_ok=True)
        try:
            saved = store_job(job, target, self._mark if own else "")
        except Conflict as conflict:
            ours = target.with_name(conflict.ours)
            self._apart = (job.name, ours)
            self._saved_as(ours, mark_of(ours.read_bytes()), job)
            raise
        self._saved_as(saved.file, saved.mark, job)
        return saved

    def _target(self, job: Job) -> Path:
        if self._apart is not None and self._apart == (job.name, self.file):
            return self._apart[1]
        jobs = places.workbook_folder() / "jobs"
        # A demo job stays as it is, and a model of another name gets a file of its own.
        if self.file is not None and self.file.parent == jobs and job.name == self._named and not job.demo:
            return self.file
        return jobs / f"{file_name(job.name)}.toml"

    def _saved_as(self, file: Path, mark: str, job: Job) -> None:
        self._drop_own()
        self._now(file, mark, file.stem, job)
        self._opening, self._last = False, job


def _more(count: int) -> str:
    return look.paragraph(f"{count} more after {'this one' if count == 1 else 'these'}.", "mm-soft") if count else ""

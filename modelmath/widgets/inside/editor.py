"""What every editor of the inside does: show a job's texts, read them as they change, and say what is wrong."""

from __future__ import annotations

from abc import ABC, abstractmethod
from collections.abc import Callable, Mapping
from typing import ClassVar

import ipywidgets as w

from modelmath.job import Job
from modelmath.job.entries.screen import Outcome, blank_job
from modelmath.widgets.common import look
from modelmath.widgets.common.fields import Field, Fold, row
from modelmath.widgets.common.minding import cautioned
from modelmath.widgets.common.pictures import WhereToMeasure

OnChange = Callable[[Job], None]
NOT_YET = "Nothing typed here counts until this is mended:"
FIRST = "Fill in the first screen; then this can be entered."


class Lines(Field):
    """A field of several lines.

    Parameters
    ----------
    label : str
        What is entered. [-]
    hint : str
        What, where and how. [-]
    """

    def __init__(self, label: str, hint: str = "") -> None:
        super().__init__(label, hint)
        style = {"description_width": "initial"}
        wide = w.Layout(width="calc(100% - 8px)", max_width="40rem")
        self.control = w.Textarea("", description=label, continuous_update=False, rows=3, style=style, layout=wide)
        self.control.add_class("mm-paste")
        self.view = w.VBox([self.control, self.note])


class Editor(ABC):
    """A form over one part of a job, taken over whenever all its fields can be read.

    Parameters
    ----------
    on_change : callable
        Called with the new job. [-]
    fields : mapping of str to Field
        By the names that the texts have. [-]
    above : str
        A sentence above the fields. [-]
    """

    pictures: ClassVar[tuple[str, ...]] = ()  # of what is measured for it
    mind: ClassVar[tuple[str, ...]] = ()  # topics of the cautions above its fields

    def __init__(self, on_change: OnChange, fields: Mapping[str, Field], above: str) -> None:
        self.on_change = on_change
        self.job: Job | None = None
        self.shown: dict[str, str] | None = None  # the job's own texts, as they were last put in or taken over
        self.outcome = Outcome(None)
        self.note = w.HTML()
        self.box = w.VBox()
        self._filling = False
        self._fold: Fold | None = None
        self._waiting: Job | None = None  # a job to show once the editor is in sight
        self._fields: dict[str, Field] = {}
        self._lay_out(fields)
        where = [WhereToMeasure(*self.pictures).view] if self.pictures else []
        head = w.VBox([w.HTML(look.paragraph(above, "mm-soft") + cautioned(*self.mind)), *where])
        self.view = w.VBox([head, self.box, self.note])

    @property
    def fields(self) -> dict[str, Field]:
        """The fields by name, filled from the latest job. [-]"""
        self.catch_up()
        return self._fields

    def _lay_out(self, fields: Mapping[str, Field]) -> None:
        self._fields = dict(fields)
        for field in self.fields.values():
            field.on_change(self._typed)
        wide = [field for field in self.fields.values() if isinstance(field, Lines)]
        narrow = [field for field in self.fields.values() if field not in wide]
        self.box.children = [row(*narrow), *(field.view for field in wide)]

    # What the part of the job is, which each editor says for itself.

    @abstractmethod
    def texts(self, job: Job) -> dict[str, str]:
        """Return the part of a job as texts, by field."""

    @abstractmethod
    def read(self, job: Job, typed: Mapping[str, str]) -> Outcome:
        """Read the texts into a job."""

    # Showing and taking over.

    def fold_into(self, fold: Fold) -> None:
        """Say which fold hides the editor: while that is shut, a job is shown only once it is opened."""
        self._fold = fold
        fold.head.observe(lambda _change: self._seen(), names="value")

    def offer(self, job: Job) -> None:
        """Show a job's part, now where the editor is in sight, else once it is."""
        self._waiting = job
        self._seen()

    def _seen(self) -> None:
        if self._fold is None or self._fold.head.value:
            self.catch_up()

    def catch_up(self) -> None:
        """Show the job that waits to be shown, if there is one."""
        if self._waiting is not None:
            job, self._waiting = self._waiting, None
            self.show(job)

    def show(self, job: Job) -> None:
        """Show a job's part; what is being typed stays as long as the job's own part does."""
        self.job = job
        if self.shown != self.texts(job):
            self._fill()
        else:
            self._say(self.read(job, self.typed))

    def _fill(self) -> None:
        """Put the job's texts into the fields, and say how they were understood."""
        if self.job is None:
            return
        self.shown = self.texts(self.job)
        self._filling = True
        for name, text in self.shown.items():
            self.fields[name].value = text
        self._filling = False
        self._say(self.read(self.job, self.typed))

    @property
    def typed(self) -> dict[str, str]:
        """What stands in the fields. [-]"""
        return {name: field.value for name, field in self.fields.items()}

    def _say(self, outcome: Outcome) -> None:
        """Show beside each field how it was understood, or what is wrong; below them what belongs to none."""
        self.outcome = outcome
        for name, field in self.fields.items():
            field.show(outcome.echoes.get(name), outcome.messages.get(name))
        others = [message for name, message in outcome.messages.items() if name not in self.fields]
        self.note.value = "".join(look.problem(each) for each in others) + self._still(outcome)

    def _still(self, outcome: Outcome) -> str:
        """Return what is still to be entered, or keeps the other entries here from counting, as HTML."""
        missing = [self.fields[name].label for name in outcome.waiting]
        if missing and self._begun:
            return look.echo(f"Still to enter: {', '.join(missing)}")
        wrong = [self.fields[name].label for name in outcome.messages if name in self.fields]
        return look.echo(f"{NOT_YET} {', '.join(wrong)}") if wrong and self._begun else ""

    def clear(self) -> None:
        """Show nothing of a job any more: there is none."""
        self._waiting = None
        self.show(blank_job())
        self.job = None

    @property
    def _begun(self) -> bool:
        """Whether something was typed that is not in the job. [-]"""
        return self.shown is not None and self.typed != self.shown

    def _typed(self) -> None:
        if self._filling:
            return
        if self.job is None:
            self.note.value = look.problem(FIRST)
            return
        self._say(self.read(self.job, self.typed))
        if self.outcome.job is not None and self.outcome.job != self.job:
            self._take(self.outcome.job)

    def _take(self, job: Job) -> None:
        """Take over a new job, and hand it on."""
        self.job, self.shown = job, self.texts(job)
        self.on_change(job)


class ListEditor(Editor):
    """A form over one entry of a list, with a choice of which, and buttons to add one and to take one out.

    Parameters
    ----------
    on_change : callable
        Called with the new job. [-]
    fields : mapping of str to Field
        By the names that the texts have. [-]
    above : str
        A sentence above the fields. [-]
    which, new, add, drop : str
        Labels: of the choice, of its line for a new one, and of the two buttons. [-]
    """

    def __init__(
        self, on_change: OnChange, fields: Mapping[str, Field], above: str, which: str, new: str, add: str, drop: str
    ) -> None:
        super().__init__(on_change, fields, above)
        self.new = new
        self.which = Field(which, "one that is there, to change or take out; or new", options=(new,))
        self.which.on_change(self._chosen)
        self.add_button = w.Button(description=add)
        self.drop_button = w.Button(description=drop)
        self.back_button = w.Button(description="Put it back")
        # The job before the last entry was taken out, and after; and what to say of it.
        self._gone: tuple[Job, Job, str] | None = None
        self.add_button.on_click(lambda _button: self.add())
        self.drop_button.on_click(lambda _button: self.drop())
        self.back_button.on_click(lambda _button: self.put_back())
        self.buttons = w.HBox()
        self.buttons.add_class("mm-row")
        hint, box, note = self.view.children
        self.view.children = [hint, row(self.which), box, self.buttons, note]
        self._show_buttons()

    @abstractmethod
    def names(self, job: Job) -> list[str]:
        """Return the names of the entries of a job."""

    @abstractmethod
    def without(self, job: Job, place: int) -> Job:
        """Return a job without one of its entries."""

    @property
    def place(self) -> int | None:
        """Which entry is shown, from 0; None for a new one. [-]"""
        index = self.which.control.index
        return None if index is None or index >= len(self.which.control.options) - 1 else int(index)

    def _offer(self, place: int | None) -> None:
        """Offer the job's entries to choose from, with one of them, or a new one, chosen."""
        names = self.names(self.job) if self.job is not None else []
        choices = [(f"{at + 1}. {name}", str(at)) for at, name in enumerate(names)]
        filling, self._filling = self._filling, True
        self.which.control.options = [*choices, (self.new, "new")]
        self.which.control.index = len(names) if place is None or place >= len(names) else place
        self._filling = filling
        self._show_buttons()

    def _show_buttons(self) -> None:
        back = [self.back_button] if self._gone is not None else []
        self.buttons.children = [self.add_button if self.place is None else self.drop_button, *back]

    def _chosen(self) -> None:
        if self._filling:
            return
        self.catch_up()
        self._show_buttons()
        self._fill()

    def show(self, job: Job) -> None:
        """Show a job's entries; what is being typed stays as long as the job's own entry does."""
        before, place = self.job, self.place
        self.job = job
        if self._gone is not None and job != self._gone[1]:
            self._gone = None  # what was entered since then would be lost
        if before is None:
            place = 0
        elif place is not None and self.names(job) != self.names(before):
            place = self._again(self.names(before)[place], place)
        self._offer(place)
        if self.place is None and self._begun:
            self._say(self.read(job, self.typed))
        else:
            super().show(job)

    def _again(self, name: str, place: int) -> int:
        """Return where an entry is now: by its name, or where it was."""
        names = self.names(self.job) if self.job is not None else []
        return names.index(name) if name in names and names[place : place + 1] != [name] else place

    def _typed(self) -> None:
        """A new entry waits for its button; one that is there is changed at once."""
        if self.place is not None or self.job is None:
            super()._typed()
        elif not self._filling:
            self._say(self.read(self.job, self.typed))

    def _take(self, job: Job) -> None:
        self.job, self._gone = job, None
        self._offer(self.place)
        super()._take(job)

    def add(self) -> None:
        """Put the new entry into the job, or say what it lacks."""
        self.catch_up()
        if self.job is None:
            self.note.value = look.problem(FIRST)
            return
        if self.place is not None:
            return
        self._say(self.read(self.job, self.typed))
        if self.outcome.job is None:
            missing = [self.fields[name].label for name in self.outcome.waiting]
            if missing:
                self.note.value = look.problem(f"Still to enter: {', '.join(missing)}.") + self._others()
            return
        self.job, self._gone = self.outcome.job, None
        self._offer(len(self.names(self.job)) - 1)
        self._fill()
        self.on_change(self.job)
        self.note.value += look.echo(f"Added. To add another, choose “{self.new}” above.")

    def _still(self, outcome: Outcome) -> str:
        """Return what was taken out last, and what is still to be entered, as HTML."""
        return (look.echo(self._gone[2]) if self._gone is not None else "") + super()._still(outcome)

    def _others(self) -> str:
        """Return the messages that belong to no field, as HTML."""
        found = [message for name, message in self.outcome.messages.items() if name not in self.fields]
        return "".join(look.problem(each) for each in found)

    def drop(self) -> None:
        """Take the entry shown out of the job."""
        self.catch_up()
        if self.job is None or self.place is None:
            return
        place, before = self.place, self.job
        self.job = self.without(before, place)
        holes = len(before.holes) - len(self.job.holes)
        with_it = f", with {holes} {'hole' if holes == 1 else 'holes'} moved by hand" if holes else ""
        self._gone = before, self.job, f"Taken out: {self.names(before)[place]}{with_it}"
        self._offer(place)
        self._fill()
        self.on_change(self.job)

    def put_back(self) -> None:
        """Put back the entry that was taken out last, as long as nothing else has changed since."""
        self.catch_up()
        if self._gone is None:
            return
        before, after, _ = self._gone
        self._gone = None
        place = next((at for at, name in enumerate(self.names(before)) if self.names(after)[at : at + 1] != [name]), 0)
        self.job = before
        self._offer(place)
        self._fill()
        self.on_change(before)

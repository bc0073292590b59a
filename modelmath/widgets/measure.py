"""A speaker measured: an impedance sweep in, its parameters with their uncertainty out, and Vas from a second sweep."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from pathlib import Path

import ipywidgets as w

from modelmath.drawings.charts.impedance import impedance_svg
from modelmath.errors import ModelMathError, NotYetKnown, WrongKind, shown
from modelmath.files import file_name
from modelmath.job import open_job, save_job
from modelmath.quantities.text import parse_quantity
from modelmath.sound.measuring.estimate import Estimate
from modelmath.sound.measuring.fit import SweepFit, fit_sweep
from modelmath.sound.measuring.how import HOW, HOW_SECOND, PRACTICE
from modelmath.sound.measuring.sweep import ENDINGS, read_sweep
from modelmath.sound.measuring.taking_over import TakenOver, taken_over
from modelmath.sound.measuring.vas import uncertain_of, vas_by_added_mass, vas_by_test_box
from modelmath.sound.measuring.words import estimate_row, job_lines, job_texts, parameter_rows
from modelmath.tables import rows
from modelmath.widgets.common import look, places
from modelmath.widgets.common.fields import Field, Fold, page, row
from modelmath.widgets.common.minding import cautioned
from modelmath.widgets.drawing_sizes import paste_box

BOX, MASS = "a sealed test box", "a mass added to the cone"
HEADS = ("frequency [Hz]", "impedance [ohm]", "phase [degrees]")
EXPECTED = (
    "A row of heads, then a row for each frequency: frequency [Hz], impedance [ohm] and, if you took it, phase "
    "[degrees]; parted by commas, semicolons or tabs. A head in another language counts by its unit in brackets. Or "
    "take a .csv, .txt or .tsv file of at most 5 MB."
)
SECOND = "The same speaker, swept again: mounted on a sealed, empty box, or in free air with a mass on the cone."
NO_SECOND = "Paste or take the second sweep, and Vas follows."
FINE = "Nothing is seen wrong with this sweep."
ALL_THE_SAME = "The parameters below are what it gives all the same; take the sweep again before you rely on them."
OLD = "These figures are for the last sweep that could be read."
NOTE = (
    "The standard uncertainty is what the readings' own scatter makes it, and no more; the interval holds the true "
    "value of this sweep 95 times in 100. How exactly the series resistor is known is not in it: it moves Re, and "
    "leaves fs and the three Q alone. Nor are warmth and the level of the sweep: they move fs by several percent "
    "(common practice, no source)."
)
FOR_EDITORS = "For those who edit files"
COPY = "Or put these lines into the job's file yourself, under [sound.driver]:"
INVENTED = (
    "These come from the invented readings that the page opens with: take your own sweep before you rely on them."
)
NO_JOB = "(choose a job)"
OTHER_SWEEP = "Vas is left out: in the second sweep {}."
KNOWN = {
    "volume": ("the volume of the test box", "4 ± 0.1 cm3"),
    "mass": ("the mass added", "0.10 ± 0.01 g"),
    "sd": ("the cone area Sd", "95 ± 5 mm2"),
}


class SweepInput:
    """A sweep, pasted or from a file, with what is wrong with it below.

    Parameters
    ----------
    label : str
        What is entered. [-]
    value : str
        Text to begin with. [-]
    act : callable
        Called when another sweep is there. [-]
    """

    def __init__(self, label: str, value: str, act: Callable[[], None]) -> None:
        self._act = act
        self._file: tuple[str, bytes] | None = None
        self.pasted = paste_box(label, value, self._use_paste, rows=8)
        self.upload = w.FileUpload(accept=",".join(ENDINGS), multiple=False, description="Take a file")
        self.upload.observe(lambda _change: self._use_file(), names="value")
        self.note = w.HTML()
        self.view = w.VBox([self.pasted, self.upload, self.note])

    def _use_paste(self) -> None:
        self._file = None
        self._act()

    def _use_file(self) -> None:
        if self.upload.value:
            taken = self.upload.value[0]
            self._file = (str(taken["name"]), bytes(taken["content"]))
            self._act()

    @property
    def empty(self) -> bool:
        """Whether nothing is entered."""
        return self._file is None and not self.pasted.value.strip()

    @property
    def text(self) -> str:
        """What is pasted; empty where a file is shown."""
        return self.pasted.value.strip() if self._file is None else ""

    def fit(self) -> SweepFit | None:
        """Return the fit of the sweep, or say below it why it can't be read."""
        try:
            # As bytes, so that one pasted line is never taken for a file's name.
            content = self.pasted.value.encode("utf-8", "replace") if self._file is None else self._file[1]
            sweep = read_sweep(content)
        except ModelMathError as reason:
            self.note.value = look.problem(str(reason))
            return None
        said = "" if self._file is None else f"Showing the file {self._file[0]}; type in the box to go back to it. "
        said += f"{len(sweep)} points."
        said += "".join(f" {note}" for note in sweep.notes)
        if sweep.passed_over:
            said += f" Columns not used: {', '.join(sweep.passed_over)}."
        self.note.value = look.echo(said)
        return fit_sweep(sweep)


class IntoJob:
    """A job of the user's, and what was measured put into it."""

    def __init__(self) -> None:
        self.texts: dict[str, str] = {}
        self.why_not = ""  # why nothing can be put into a job
        self.mind = ""  # what to mind of what was found
        self.chooser = Field("Job", "its speaker takes over what was found", options=(NO_JOB, *places.job_files()))
        self.button = w.Button(description="Put them into this job", layout=w.Layout(width="max-content"))
        self.saved = w.HTML()
        self.chooser.on_change(self._clear)
        self.button.on_click(lambda _button: self.save())
        self._offering = False
        self.view = w.VBox([row(self.chooser), self.button, self.saved])

    def offer(self, texts: Mapping[str, str], why_not: str = "", mind: str = "") -> None:
        """Take what was found, and what to mind of it; or why none of it is fit for a job."""
        if self.texts != texts or self.why_not != why_not:
            self._clear()
        self.texts, self.why_not, self.mind = dict(texts), why_not, mind
        self.button.disabled = not self.texts

    def _clear(self) -> None:
        if not self._offering:
            self.saved.value = ""

    def save(self) -> Path | None:
        """Write the chosen job, with what was found in it, into the workbook folder."""
        try:
            return self._save()
        except (ModelMathError, OSError) as reason:
            self.saved.value = look.problem(f"Nothing was saved. {reason}")
            return None

    def _save(self) -> Path:
        name = self.chooser.value
        chosen = places.job_files().get(name)
        if not self.texts:
            raise ModelMathError(self.why_not)
        if chosen is None:
            raise ModelMathError("Choose a job first." if name == NO_JOB else f"The job {name} is no longer there.")
        opened = open_job(chosen)
        job = opened.job
        jobs = places.workbook_folder() / "jobs"
        own = jobs.exists() and chosen.parent.samefile(jobs)
        file = chosen if own else jobs / f"{file_name(job.name)}.toml"
        if file.exists() and not file.samefile(chosen):
            raise ModelMathError(f"{file.name} is another job, saved before: choose {file.stem} to put them into that.")
        driver = job.sound.driver
        taken = taken_over(driver.model_dump(exclude_none=True), self.texts)
        driver = driver.model_copy(update=dict.fromkeys(taken.removed) | taken.texts)
        file.parent.mkdir(parents=True, exist_ok=True)
        since = opened.mark if file.exists() else ""
        save_job(job.model_copy(update={"sound": job.sound.model_copy(update={"driver": driver})}), file, since)
        self._offer_jobs(file.stem)
        self.saved.value = look.paragraph(f"Saved as {file}.") + self._said(taken)
        return file

    def _said(self, taken: TakenOver) -> str:
        """Return what was put in, replaced and taken out, as HTML."""
        said = [f"Put in: {', '.join(self.texts)}."]
        if taken.replaced:
            said.append(f"In place of: {_listed(taken.replaced)}.")
        if taken.removed:
            said.append(f"Taken out: {_listed(taken.removed)}, which contradicts what was measured.")
        mind = [f"Left in the job all the same: {taken.contradiction}"] if taken.contradiction else []
        mind += [self.mind] if self.mind else []
        return "".join(map(look.paragraph, said)) + "".join(map(look.problem, mind))

    def _offer_jobs(self, name: str) -> None:
        """Put a job that was just saved among those to choose from, chosen."""
        self._offering = True
        self.chooser.control.options = [NO_JOB, *places.job_files()]
        self.chooser.value = name
        self._offering = False


class MeasurePanel:
    """A sweep in free air, and if wanted a second one for Vas."""

    def __init__(self) -> None:
        self.sweep = SweepInput("Sweep in free air", example_text(), self._refresh)
        self.second = SweepInput("Second sweep", "", self._refresh_vas)
        self.fields = {
            "way": Field("How the second was taken", "on a known box, or with a known mass", options=(BOX, MASS)),
            "volume": Field("Volume of the test box", f"with ± how exactly you know it, such as {KNOWN['volume'][1]}"),
            "mass": Field("Mass added", f"weighed, with ±, such as {KNOWN['mass'][1]}"),
            "sd": Field("Cone area Sd", f"cone with half its surround, with ±, such as {KNOWN['sd'][1]}"),
        }
        self.faults, self.figure, self.answer, self.vas_answer, self.copy = (w.HTML() for _ in range(5))
        self.into_job = IntoJob()
        self.found: SweepFit | None = None
        self.stale = False  # whether what is shown is of an earlier sweep
        self.more: list[tuple[str, Estimate, str]] = []  # what the second sweep adds: field, estimate, unit
        self.left_out = ""  # why that is not fit for a job
        for name, field in self.fields.items():
            field.on_change(self._choose if name == "way" else self._refresh_vas)
        self.boxed, self.loaded = row(self.fields["volume"]), row(self.fields["mass"], self.fields["sd"])
        self.choice = w.VBox([self.boxed])
        self.folds = self._folds()
        self.view = page(
            w.HTML(look.paragraph(EXPECTED, "mm-soft")),
            self.sweep.view,
            self.faults,
            w.HTML(look.heading("What it says")),
            self.figure,
            self.answer,
            self.folds["vas"].view,
            w.HTML(look.heading("Into a job")),
            self.into_job.view,
            self.copy,
            self.folds["how"].view,
        )
        self._refresh()

    def _folds(self) -> dict[str, Fold]:
        second = (w.HTML(look.paragraph(SECOND, "mm-soft")), row(self.fields["way"]), self.choice, self.second.view)
        cautions = cautioned("electricity", "magnet")
        how = look.bullets(HOW, numbered=True) + look.paragraph("For Vas:") + look.bullets(HOW_SECOND)
        return {
            "vas": Fold("Vas, from a second sweep", w.VBox([*second, self.vas_answer])),
            "how": Fold("How to take the sweep", w.HTML(how + look.paragraph(PRACTICE, "mm-soft") + cautions)),
        }

    def _choose(self) -> None:
        self.choice.children = [self.boxed if self.fields["way"].value == BOX else self.loaded]
        self._refresh_vas()

    def _refresh(self) -> None:
        found = self.sweep.fit()
        self.stale = found is None
        if found is None:
            self._keep_last()
            return
        self.found = found
        said = "".join(look.problem(fault.message) for fault in found.faults)
        if found.faults and found.fitted:
            said += look.paragraph(ALL_THE_SAME)
        self.faults.value = said or look.paragraph(FINE, "mm-soft")
        self.figure.value = f'<div class="mm-figure">{impedance_svg(found)}</div>'
        self._refresh_vas()

    def _keep_last(self) -> None:
        """Mark all that is shown as that to the last sweep, and offer nothing of it."""
        if self.found is not None and not self.found.faults:
            self.faults.value = ""
        for part in (self.faults, self.figure, self.answer, self.vas_answer):
            part.value = look.stale(part.value, OLD)
        self._offer()

    def _refresh_vas(self) -> None:
        """Work Vas out from both sweeps, and show all parameters again."""
        for field in self.fields.values():
            field.show()
        self.more, self.left_out = [], ""
        self.vas_answer.value = self._vas()
        fitted = self.found is not None and self.found.fitted
        self.answer.value = self._table(self.found) if self.found is not None and fitted else ""
        if self.stale:
            self._keep_last()
        else:
            self._offer()

    def _vas(self) -> str:
        """Return what the second sweep says, as HTML; what is wrong with it beside its field or in place of that."""
        if self.second.empty:
            self.second.note.value = look.hint(NO_SECOND)
            return ""
        other = self.second.fit()
        if other is None or self.found is None:
            return ""
        said = "".join(look.problem(fault.message) for fault in other.faults)
        try:
            for fit in (self.found, other):
                fit.uncertain()
            self.more = self._by_box(self.found, other) if self.fields["way"].value == BOX else self._by_mass(other)
        except ModelMathError as reason:
            return said + look.problem(str(reason))
        self.left_out = other.untrusted
        return said + _card([estimate_row(_CALLED[name], each, unit) for name, each, unit in self.more])

    def _by_box(self, free: SweepFit, other: SweepFit) -> list[tuple[str, Estimate, str]]:
        vas = vas_by_test_box(free, other, self._quantity("volume", "volume"))
        return [("vas", vas.times(1e-3), "cm3")]

    def _by_mass(self, other: SweepFit) -> list[tuple[str, Estimate, str]]:
        assert self.found is not None
        found = vas_by_added_mass(self.found, other, self._quantity("mass", "mass"), self._quantity("sd", "area"))
        return [("vas", found.vas_mm3.times(1e-3), "cm3"), ("mms", found.mms_g, "g")]

    def _quantity(self, name: str, kind: str) -> object:
        """Return a field's quantity as an uncertain number, or say beside it what is wrong and go no further."""
        field = self.fields[name]
        what, example = KNOWN[name]
        try:
            if not field.value.strip():
                raise NotYetKnown("Vas", f"{what} with how exactly you know it, such as {example}")
            known = parse_quantity(field.value, kind)
            if known.exact:
                expected = "its value and how exactly it is known"
                raise WrongKind(what, shown(field.value), expected, f"Write it such as {example}.")
        except ModelMathError as reason:
            field.show(wrong=str(reason))
            raise
        return uncertain_of(known)

    @staticmethod
    def _table(found: SweepFit) -> str:
        return _card(parameter_rows(found)) + look.paragraph(NOTE, "mm-soft")

    def _offer(self) -> None:
        """Offer what was found for a job, as lines to copy too; or say why not."""
        why_not = self._why_not()
        if why_not or self.found is None:
            self.into_job.offer({}, why_not)
            self.copy.value = look.paragraph(why_not)
            return
        more = [] if self.left_out else self.more
        mind = INVENTED if self.sweep.text == example_text() else ""
        self.into_job.offer(job_texts(self.found, more), mind=mind)
        lines = look.text("[sound.driver]\n" + job_lines(self.found, more))
        said = [mind] if mind else []
        said += [OTHER_SWEEP.format(self.left_out)] if self.left_out else []
        by_hand = f'{look.paragraph(COPY)}<pre class="mm-why" tabindex="0">{lines}</pre>'
        self.copy.value = "".join(map(look.paragraph, said)) + look.folded(FOR_EDITORS, by_hand)

    def _why_not(self) -> str:
        """Return why nothing can be put into a job; empty if it can."""
        if self.found is None or self.stale:
            return "There is nothing for a job: this sweep can't be read."
        if not self.found.fitted:
            return "There is nothing for a job: this sweep gives no parameters."
        if self.found.untrusted:
            return f"There is nothing fit for a job: {self.found.untrusted}. Take the sweep again."
        return ""

    @property
    def summary(self) -> str:
        """What was found, in plain language."""
        if self.found is None:
            return "No sweep is read yet."
        said = [OLD] if self.stale else []
        said += [fault.message for fault in self.found.faults] or ([] if self.stale else [FINE])
        if self.found.fitted:
            said += [f"{what}: {value}, 95 % {interval}" for what, value, _, interval in parameter_rows(self.found)]
        return "\n".join(said)


def _listed(texts: Mapping[str, str]) -> str:
    return "; ".join(f"{name} {text}" for name, text in texts.items())


_CALLED = {"vas": "Vas, equivalent volume", "mms": "Mms, moving mass"}


def _card(found: list[tuple[str, str, str, str]]) -> str:
    heads = ("Parameter", "Value", "Standard uncertainty", "95 % interval")
    return f'<div class="mm-card" role="status">{look.table("Parameters", heads, found)}</div>'


def example_text() -> str:
    """Return the invented sweep that the page opens with."""
    lines = [";".join(line[head] for head in HEADS) for _, line in rows("example_sweep.csv")]
    return "\n".join([";".join(HEADS), *lines])

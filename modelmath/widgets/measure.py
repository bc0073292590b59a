"""A speaker measured: an impedance sweep in, its parameters with their uncertainty out, and Vas from a second sweep."""

from __future__ import annotations

from collections.abc import Callable

import ipywidgets as w

from modelmath.drawings.charts.impedance import impedance_svg
from modelmath.errors import ModelMathError
from modelmath.job.cautions import cautions_on
from modelmath.sound.driver.quantities import parse_quantity
from modelmath.sound.measuring.estimate import Estimate
from modelmath.sound.measuring.fit import SweepFit, fit_sweep
from modelmath.sound.measuring.sweep import ENDINGS, read_sweep
from modelmath.sound.measuring.vas import uncertain_of, vas_by_added_mass, vas_by_test_box
from modelmath.sound.measuring.words import estimate_row, job_lines, parameter_rows
from modelmath.tables import rows
from modelmath.widgets.common import look
from modelmath.widgets.common.fields import Field, Fold, page, row
from modelmath.widgets.drawing_sizes import paste_box

BOX, MASS = "a sealed test box", "a mass added to the cone"
HEADS = ("frequency [Hz]", "impedance [ohm]", "phase [degrees]")
EXPECTED = (
    "A row of heads, then a row for each frequency: frequency [Hz], impedance [ohm] and, if you took it, phase "
    "[degrees]; parted by commas, semicolons or tabs. Or take a .csv, .txt or .tsv file of at most 5 MB."
)
SECOND = "The same speaker, swept again: mounted on a sealed, empty box, or in free air with a mass on the cone."
NO_SECOND = "Paste or take the second sweep, and Vas follows."
FINE = "Nothing is seen wrong with this sweep."
ALL_THE_SAME = "The parameters below are what it gives all the same; take the sweep again before you rely on them."
OLD = "These figures are for the last sweep that could be read."
NOTE = (
    "The standard uncertainty is what the readings' own scatter makes it; the interval holds the true value 95 times "
    "in 100. How exactly the series resistor is known is not in it: it moves Re, and leaves fs and the three Q alone."
)
JOB = "To use them in a job, put these lines into its file under [sound.driver]:"
HOW = (
    (
        "Power off, and both leads of the speaker off the decoder: a sweep never runs into a decoder. Nothing here "
        "touches mains; use a battery or an isolated low-voltage supply."
    ),
    (
        "A sine generator drives a resistor and the speaker in series. Take a resistor of 5 to 20 times the speaker's "
        "rated impedance, 100 ohm for 8 ohm, and measure it to 1 %."
    ),
    "Hold the speaker by its rim in free air, nothing within a hand's breadth before or behind the cone.",
    (
        "Keep it quiet: no more than 0.1 V across a small speaker, so that the cone hardly moves. A louder sweep "
        "shifts the resonance and may harm speaker and ears."
    ),
    (
        "At each frequency read the voltage across the speaker and that across the resistor: impedance = resistor × "
        "the first / the second. With two channels take the phase too, positive where the speaker's voltage leads."
    ),
    "Sweep from a quarter to four times the resonance with 40 points or more, at least 8 of them across the peak.",
    (
        "Before you trust it, sweep a resistor of known value in place of the speaker: it must read alike at every "
        "frequency."
    ),
)
HOW_SECOND = (
    (
        "Test box: sealed and rigid, without stuffing, its volume about that of the Vas you expect; the volume counts "
        "with the space behind the cone. The better way for cones that nothing can be stuck to."
    ),
    (
        "Added mass: a ring of putty weighed to a hundredth of a gram, about half the moving mass, stuck round the "
        "dust cap so that it can't rattle, and taken off without pulling. It needs the cone area Sd."
    ),
)
PRACTICE = "Common practice, no source."


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
        if sweep.passed_over:
            said += f" Columns not used: {', '.join(sweep.passed_over)}."
        self.note.value = look.echo(said)
        return fit_sweep(sweep)


class MeasurePanel:
    """A sweep in free air, and if wanted a second one for Vas."""

    def __init__(self) -> None:
        self.sweep = SweepInput("Sweep in free air", example_text(), self._refresh)
        self.second = SweepInput("Second sweep", "", self._refresh_vas)
        self.fields = {
            "way": Field("How the second was taken", options=(BOX, MASS)),
            "volume": Field("Volume of the test box", "with ± how exactly you know it", "4 ± 0.1 cm3"),
            "mass": Field("Mass added", "weighed, with ±", "0.10 ± 0.01 g"),
            "sd": Field("Cone area Sd", "cone with half its surround, with ±", "95 ± 5 mm2"),
        }
        self.faults, self.figure, self.answer, self.vas_answer = (w.HTML() for _ in range(4))
        self.found: SweepFit | None = None
        self.stale = False  # whether what is shown is of an earlier sweep
        self.more: list[tuple[str, Estimate, str]] = []  # what the second sweep adds: field, estimate, unit
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
            *(fold.view for fold in self.folds.values()),
        )
        self._refresh()

    def _folds(self) -> dict[str, Fold]:
        second = (w.HTML(look.paragraph(SECOND, "mm-soft")), row(self.fields["way"]), self.choice, self.second.view)
        cautions = "".join(look.paragraph(each.text, "mm-soft") for each in cautions_on("electricity"))
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
            self.answer.value = look.stale(self.answer.value, OLD)
            return
        self.found = found
        said = "".join(look.problem(fault.message) for fault in found.faults)
        if found.faults and found.fitted:
            said += look.paragraph(ALL_THE_SAME)
        self.faults.value = said or look.paragraph(FINE, "mm-soft")
        self.figure.value = f'<div class="mm-figure">{impedance_svg(found)}</div>'
        self._refresh_vas()

    def _refresh_vas(self) -> None:
        """Work Vas out from both sweeps, and show all parameters again."""
        for field in self.fields.values():
            field.show()
        self.more = []
        self.vas_answer.value = self._vas()
        self._show_answer()

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
            self.more = self._by_box(self.found, other) if self.fields["way"].value == BOX else self._by_mass(other)
        except ModelMathError as reason:
            return said + look.problem(str(reason))
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
        try:
            known = parse_quantity(field.value, kind)
        except ModelMathError as reason:
            field.show(wrong=str(reason))
            raise
        return uncertain_of(known)

    def _show_answer(self) -> None:
        if self.found is None or not self.found.fitted:
            self.answer.value = ""
            return
        lines = look.text("[sound.driver]\n" + job_lines(self.found, self.more))
        answer = (
            _card(parameter_rows(self.found))
            + look.paragraph(NOTE, "mm-soft")
            + look.paragraph(JOB)
            + f'<pre class="mm-why" tabindex="0">{lines}</pre>'
        )
        self.answer.value = look.stale(answer, OLD) if self.stale else answer

    @property
    def summary(self) -> str:
        """What was found, in plain language."""
        if self.found is None:
            return "No sweep is read yet."
        said = [fault.message for fault in self.found.faults] or [FINE]
        if self.found.fitted:
            said += [f"{what}: {value}, 95 % {interval}" for what, value, _, interval in parameter_rows(self.found)]
        return "\n".join(said)


_CALLED = {"vas": "Vas, equivalent volume", "mms": "Mms, moving mass"}


def _card(found: list[tuple[str, str, str, str]]) -> str:
    heads = ("Parameter", "Value", "Standard uncertainty", "95 % interval")
    return f'<div class="mm-card" role="status">{look.table("Parameters", heads, found)}</div>'


def example_text() -> str:
    """Return the invented sweep that the page opens with."""
    lines = [";".join(line[head] for head in HEADS) for _, line in rows("example_sweep.csv")]
    return "\n".join([";".join(HEADS), *lines])

"""A table of readings, pasted or from a file: corrected lengths, where to set a rule, and a file to keep."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import Any

import ipywidgets as w

from modelmath.errors import ModelMathError
from modelmath.files import file_name
from modelmath.job import load_job, plan
from modelmath.lengths.rules import DATUMS, Rule
from modelmath.lengths.rules.marking import with_beyond
from modelmath.lengths.scales import scale
from modelmath.lengths.table import ReadingTable, read_table
from modelmath.lengths.table.rule_lines import read_rules
from modelmath.lengths.table.settings import step_mm
from modelmath.lengths.table.sources import ENDINGS, check_ending
from modelmath.lengths.table.writing import write_table_in_steps
from modelmath.lengths.text import format_length, three_ways
from modelmath.steps import InSteps
from modelmath.widgets.common import look, places
from modelmath.widgets.common.fields import Field, Fold, page, row, scale_names
from modelmath.widgets.common.work import Work

SHOWN = 200
SHOWN_ASIDE = 50
FIRST_RULES = "scale rule; scale ft; 1/4; 1\ncaliper; mm; 0.01; 0"
FIRST_READINGS = """name; mark; rule
walkway to roof; 9 1/8; scale rule
walkway to motor; 5 5/8; scale rule
weight; 15,9 mm; caliper
floor sheet; 1.02; caliper
side sheet; .040 in; caliper
window sill; 4 1/; scale rule"""
NO_MARKING = "(none)"
RULES_HINT = (
    "One a line: a name; the unit its figures count (scale ft, scale in, mm or in); the distance between its finest "
    "marks; how far its zero stands in from its end. A row that names no rule is of the first."
)
READINGS_HINT = (
    "One a line: a name; the mark. Or copy cells from a spreadsheet. With more columns write heads above them: name, "
    "mark, rule, datum (end or zero), unit, note. A mark may have a unit of its own, such as 15.9 mm."
)
KEEP_HINT = "As a spreadsheet a mark such as 3/4 stays as it is; a program that opens CSV may take it for a date."
LISTED = "(listed below)"
FILE_HINT = "a table saved as .csv, .txt, .tsv or .xlsx, of at most 5 MB; part a larger one in two"


class TablePanel:
    """Rules, a table of readings, and what it comes to."""

    def __init__(self) -> None:
        self.fields = {
            "scale": Field("Scale", "of rules whose scale is not given below", options=scale_names()),
            "job": Field("Whose rules", "those listed below, or a job's own, as it was calibrated",
                         options=(LISTED, *places.job_files())),
            "datum": Field("What stands against the part", "where a row doesn't say: the rule's end, or its zero mark",
                           options=DATUMS),
            "marking": Field("Rule you mark out with", "tells where to set it for each length", options=(NO_MARKING,)),
            "finest": Field("Finest mark you set it to", "in its own unit, such as 1/4; empty for its finest marks"),
            "file": Field("Name of the file", f"it goes into {self._folder()}", "readings"),
        }  # fmt: skip
        self.rules = self._lines("Rules", FIRST_RULES, 3)
        self.pasted = self._lines("Readings", FIRST_READINGS, 9)
        self.upload = w.FileUpload(accept=",".join(ENDINGS), multiple=False, description="Take a file")
        self.rules_note, self.source_note, self.answer, self.saved = (w.HTML() for _ in range(4))
        self.csv = w.Button(description="Save as CSV", icon="save")
        self.sheet = w.Button(description="Save as spreadsheet", icon="save")
        self.table: ReadingTable | None = None
        self._file: tuple[str, bytes] | None = None
        self._ours: set[Path] = set()
        self.saving = Work()
        self._listen()
        f = self.fields
        self.view = page(
            row(f["scale"], f["job"], f["datum"]),
            self.rules,
            self.rules_note,
            self.pasted,
            w.HTML(look.hint(READINGS_HINT)),
            self.upload,
            self.source_note,
            Fold("Where to set a rule for each length", row(f["marking"], f["finest"])).view,
            self.answer,
            w.HTML(look.heading("Keep it") + look.paragraph(KEEP_HINT, "mm-soft")),
            row(f["file"]),
            self._buttons(),
            self.saving.view,
            self.saved,
        )
        self._refresh()

    @staticmethod
    def _lines(label: str, text: str, rows: int) -> w.Textarea:
        style = {"description_width": "initial"}
        wide = w.Layout(width="calc(100% - 8px)", max_width="min(40rem, 100% - 8px)")
        lines = w.Textarea(text, description=label, continuous_update=False, rows=rows, style=style, layout=wide)
        lines.add_class("mm-paste")
        return lines

    def _buttons(self) -> w.HBox:
        for button in (self.csv, self.sheet):
            button.layout = w.Layout(min_width="14rem")  # the words are never cut
        box = w.HBox([self.csv, self.sheet])
        box.add_class("mm-row")
        return box

    def _listen(self) -> None:
        for name in ("scale", "job", "datum", "marking", "finest"):
            self.fields[name].on_change(self._refresh)
        self.rules.observe(lambda _change: self._refresh(), names="value")
        self.pasted.observe(lambda _change: self._use_paste(), names="value")
        self.upload.observe(lambda _change: self._use_file(), names="value")
        self.csv.on_click(lambda _button: self._save(".csv"))
        self.sheet.on_click(lambda _button: self._save(".xlsx"))

    def _use_paste(self) -> None:
        self._file = None
        self._refresh()

    def _use_file(self) -> None:
        if self.upload.value:
            taken = self.upload.value[0]
            try:
                check_ending(taken["name"])
            except ModelMathError as reason:
                self.source_note.value = look.problem(str(reason)) + look.hint(FILE_HINT)
                return
            self._file = (taken["name"], bytes(taken["content"]))
            self._refresh()

    def _refresh(self) -> None:
        rules = self._rules()
        if rules is None:
            return
        marking, finest = self._marking(rules), self.fields["finest"].value or None
        try:
            if marking is not None:
                step_mm(marking, finest)
        except ModelMathError as reason:
            self.fields["finest"].show(wrong=str(reason))
            return
        self.fields["finest"].show()
        try:
            self.table = read_table(
                self.pasted.value if self._file is None else self._file[1], rules,
                datum=self.fields["datum"].value, scale=self.fields["scale"].value, marking=marking, finest=finest,
            )  # fmt: skip
        except ModelMathError as reason:
            self.source_note.value = look.problem(str(reason)) + look.hint(FILE_HINT)
            return
        self.source_note.value = look.hint(FILE_HINT)
        self.answer.value = self._source() + self._shown(self.table, marking)

    def _source(self) -> str:
        """Return what the table is of, where that is not what stands in the box of readings."""
        if self._file is None:
            return ""
        name = look.text(self._file[0])
        return f"<p><strong>Showing the file {name}</strong>; type in the box of readings to go back to its lines.</p>"

    def _rules(self) -> list[Rule] | None:
        """Return the rules, or say below them what is wrong."""
        job = self.fields["job"]
        try:
            rules = self._of_job(job.value) or read_rules(self.rules.value, self.fields["scale"].value)
        except ModelMathError as reason:
            self.rules_note.value = look.problem(str(reason)) + look.hint(RULES_HINT)
            return None
        understood = "".join(look.echo(f"{rule.name}: {rule.describe()}") for rule in rules)
        self.rules_note.value = understood + look.hint(RULES_HINT)
        return rules

    @staticmethod
    def _of_job(name: str) -> list[Rule]:
        """Return the rules of a job, calibrated as they are there; none where the list below counts."""
        if name == LISTED:
            return []
        return list(plan(load_job(places.job_files()[name])).bench.rules.values())

    def _marking(self, rules: list[Rule]) -> Rule | None:
        """Return the rule to mark out with; offer those that there are now."""
        control = self.fields["marking"].control
        names = (NO_MARKING, *(rule.name for rule in rules))
        if control.options != names:
            kept = control.value if control.value in names else NO_MARKING
            with control.hold_trait_notifications():
                control.options = names
                control.value = kept
        return next((rule for rule in rules if rule.name == control.value), None)

    def _shown(self, table: ReadingTable, marking: Rule | None) -> str:
        frame, aside = table.frame, table.aside
        said = "".join(look.problem(note) for note in table.notes)
        said += look.paragraph(self._counts(table))
        for number, problem in aside["problem"].head(SHOWN_ASIDE).items():
            said += look.problem(f"Row {number}, kept aside: {problem}")
        if len(aside) > SHOWN_ASIDE:
            said += look.paragraph(f"and {len(aside) - SHOWN_ASIDE:,} more; the saved file has them all at its foot.")
        if frame.empty:
            return said
        heads = ["Row", "Reading", "Mark", "Scale feet", "Inch", "mm", "Standard uncertainty", "Rule", "From"]
        if marking is not None:
            heads.insert(3, f"Set {marking.name} at")
        caption = "Corrected" if len(frame) <= SHOWN else f"Corrected: the first {SHOWN} of {len(frame):,}"
        return said + look.table(caption, heads, self._rows(table), "mm-short")

    def _rows(self, table: ReadingTable) -> Iterator[list[object]]:
        its_scale = scale(self.fields["scale"].value)
        for number, cells in table.frame.head(SHOWN).iterrows():
            shown = [number, cells["name"], cells["mark"], *three_ways(cells["length_mm"], its_scale)]
            shown += [self._sureness(cells["u_mm"]), cells["rule"], cells["datum"]]
            if "set_rule_at" in table.frame:
                shown.insert(3, self._setting(cells))
            yield shown

    @staticmethod
    def _sureness(u_mm: float) -> str:
        return format_length(u_mm, "mm") if u_mm >= 0.005 else "< 0.01 mm"

    @staticmethod
    def _setting(cells: Any) -> str:
        beyond = cells["beyond_mm"]
        if not abs(beyond) >= 0.005:  # nothing to say, or not on the rule
            return str(cells["set_rule_at"])
        return with_beyond(str(cells["set_rule_at"]), float(beyond))

    @staticmethod
    def _counts(table: ReadingTable) -> str:
        good, bad = len(table.frame), len(table.aside)
        aside = f"; {bad:,} {'row' if bad == 1 else 'rows'} kept aside" if bad else ""
        return f"{good:,} {'reading' if good == 1 else 'readings'}{aside}."

    @staticmethod
    def _folder() -> Path:
        return places.workbook_folder() / "tables"

    def _save(self, ending: str) -> None:
        if self.table is None:
            return
        name = self.fields["file"].value
        if not any(sign.isalnum() for sign in name):
            self.saved.value = look.problem("Nothing was saved: give the file a name, such as readings.")
            return
        file = self._folder() / f"{file_name(name)}{ending}"
        if file.exists() and file not in self._ours:
            there = f"Nothing was saved: {file.name} is there already, and was not saved from here. Give another name."
            self.saved.value = look.problem(there)
            return
        self.saved.value = ""
        self.saving.begin(f"Saving {file.name}", _written(self.table, file), self._say_saved, self._not_saved)

    def _not_saved(self, reason: Exception) -> None:
        self.saved.value = look.problem(f"Nothing was saved: {getattr(reason, 'strerror', None) or reason}.")

    def _say_saved(self, file: Path) -> None:
        self._ours.add(file)
        link = f'<a href="{look.text(places.link(file))}" download>{look.text(file.name)}</a>'
        self.saved.value = f'<p role="status">Saved: {link}, in {look.text(file.parent)}</p>'

    @property
    def summary(self) -> str:
        """The table in plain language."""
        if self.table is None:
            return "No table yet."
        its_scale = scale(self.fields["scale"].value)
        lines = [
            f"row {number}, {cells['name']}: {', '.join(three_ways(cells['length_mm'], its_scale))}, "
            f"standard uncertainty {self._sureness(cells['u_mm'])}"
            for number, cells in self.table.frame.head(SHOWN).iterrows()
        ]
        lines += [f"row {number}, kept aside: {problem}" for number, problem in self.table.aside["problem"].items()]
        return "\n".join([self._counts(self.table), *lines])


def _written(table: ReadingTable, file: Path) -> InSteps[Path]:
    file.parent.mkdir(parents=True, exist_ok=True)
    return (yield from write_table_in_steps(table, file))

"""Calibrating a rule: gauges read with it, what they say of it, and the rule of a job corrected by them."""

from __future__ import annotations

from pathlib import Path

import ipywidgets as w

from modelmath.drawings.charts.residuals import residuals_figure
from modelmath.drawings.svg import to_svg
from modelmath.errors import ModelMathError
from modelmath.job import load_job, open_job, save_job
from modelmath.job.entries.calibrated import calibrated_job
from modelmath.lengths.calibration import Calibration, Residual
from modelmath.lengths.calibration.corrections import corrections
from modelmath.lengths.calibration.pasted_gauges import GaugeLine, read_gauges
from modelmath.lengths.rules import Rule
from modelmath.lengths.rules.marking import mark_text
from modelmath.lengths.text import format_length
from modelmath.widgets.common import look, places
from modelmath.widgets.common.fields import UNITS, Field, Fold, page, row, scale_names
from modelmath.widgets.drawing_sizes import kept_aside, paste_box

NONE = "(choose a job)"
EXAMPLE = """#30 drill shank; .1285 in; 3/16; ±0.01 mm
#20 drill shank; .1610 in; 7/16; ±0.01 mm
#10 drill shank; .1935 in; 5/8; ±0.01 mm
#1 drill shank; .2280 in; 7/8; ±0.01 mm
feeler leaves, together; 9.50 mm; 1 15/16; ±0.03 mm
strip A by caliper; 15.84 mm; 3 3/4; ±0.03 mm
strip B by caliper; 24.06 mm; 6 1/8; ±0.03 mm
strip C by caliper; 41.75 mm; 11 1/8; ±0.03 mm"""
HOW = (
    "Stand the rule's end against each gauge and write where it reads: a name; its size with its unit; the mark. Then, "
    "if you like, how exactly the size is known, ±; and the word zero where you set the zero mark against it instead. "
    "A gauge may be read several times."
)
WHICH_GAUGES = (
    "Drill shanks, feeler leaves and strip measured by caliper all serve. Short ones tell where zero stands, long ones "
    "tell the scale error; four or more show whether one of them is wrong."
)
OLD = "These figures are for the last entries that gave a result."
NOTE = "± is one standard uncertainty."


class CalibratePanel:
    """A rule, the gauges it was read against, and what follows."""

    def __init__(self) -> None:
        self.fields = {
            "scale": Field("Scale", "whose feet and inches the rule shows", options=scale_names()),
            "unit": Field("The rule's figures count", "what its printed 1, 2, 3 stand for", options=UNITS),
            "graduation": Field("Distance between its finest marks", "1/4 for quarter feet", "1/4"),
            "read_to": Field("Read to", "as finely as you can tell between marks; empty: to the nearest mark", "1/16"),
            "job": Field("Job", "its rule takes over what was found", options=(NONE, *places.job_files())),
            "rule": Field("Rule in that job", "the one that the gauges were read with", options=("",)),
        }
        self.pasted = paste_box("Gauges and readings", EXAMPLE, self._refresh, rows=9)
        self.answer, self.aside, self.figure, self.table, self.saved = (w.HTML() for _ in range(5))
        self.button = w.Button(description="Put it into the job", layout=w.Layout(width="max-content"))
        self.calibration: Calibration | None = None
        self.rule: Rule | None = None
        self.stale = False  # whether the answer is of earlier entries
        self.lines: list[GaugeLine] = []
        self.view = self._lay_out()
        for name in ("scale", "unit", "graduation", "read_to"):
            self.fields[name].on_change(self._refresh)
        self.fields["job"].on_change(self._choose_job)
        self.button.on_click(lambda _button: self.save())
        self._refresh()

    def _lay_out(self) -> w.VBox:
        f = self.fields
        self.folds = {
            "job": Fold("Use this rule in a job", w.VBox([row(f["job"], f["rule"]), self.button, self.saved]))
        }
        return page(
            row(f["scale"], f["unit"], f["graduation"], f["read_to"]),
            w.HTML(look.heading("Gauges") + look.paragraph(HOW, "mm-soft") + look.paragraph(WHICH_GAUGES, "mm-soft")),
            self.pasted,
            self.aside,
            w.HTML(look.heading("What they say")),
            self.answer,
            self.figure,
            self.table,
            *(fold.view for fold in self.folds.values()),
        )

    # From the fields to the answer.

    def _refresh(self) -> None:
        rule = self._read_rule()
        if rule is None:
            self._keep_last()
            return
        self.saved.value = ""
        try:
            lines, bad = read_gauges(self.pasted.value, rule)
        except ModelMathError as reason:
            self.aside.value = look.problem(str(reason))
            self._keep_last()
            return
        self.aside.value = kept_aside(bad)
        try:
            found = rule.calibrate(line.gauge for line in lines)
            shown = self._card(found), self._tables(found), to_svg(residuals_figure(found), 640)
        except ModelMathError as reason:
            self.aside.value += look.problem(str(reason))
            self._keep_last()
            return
        self.stale = False
        self.rule, self.lines, self.calibration = rule, lines, found
        self.answer.value, self.table.value, figure = shown
        self.figure.value = f'<div class="mm-figure">{figure}</div>'

    def _keep_last(self) -> None:
        """Keep the last answer in sight, and say that it is of earlier entries."""
        self.stale = True
        if self.calibration is not None:
            self.answer.value = self._card(self.calibration, stale=True)

    def _read_rule(self) -> Rule | None:
        """Return the rule, or say beside its fields what is wrong."""
        f = self.fields
        unit, scale, graduation = (f[name].value for name in ("unit", "scale", "graduation"))
        wrong = "graduation"
        try:
            Rule(unit, scale, graduation)
            wrong = "read_to"
            rule = Rule(unit, scale, graduation, read_to=f["read_to"].value.strip() or None, name="rule")
        except ModelMathError as reason:
            f[wrong].show(wrong=str(reason))
            return None
        f["graduation"].show(format_length(rule.graduation_mm, "mm"))
        f["read_to"].show(f"to {format_length(rule.read_to_mm, 'mm')}")
        return rule

    def _card(self, found: Calibration, stale: bool = False) -> str:
        """Return the answer: where zero stands, the scale error, and how well the gauges agree."""
        rule = found.read_with
        worn = found.offset_mm < 0
        head = "Its end is worn back behind zero by" if worn else "Its zero stands in from its end by"
        offset = -found.offset if worn else found.offset
        ways = [format_length(offset, name, rule.scale) for name in dict.fromkeys((rule.unit, "mm"))]
        said = look.text(found.verdict)
        if found.without_disagreeing is not None:
            others = found.without_disagreeing
            without = f"Without it, {others.zero_words}, and {others.scale_words}."
            said = look.problem(found.verdict) + look.paragraph(without)
        card = (
            '<div class="mm-card" role="status">'
            f'<dl><dt>{head}</dt><dd class="mm-big">{look.sizes(ways)}</dd>'
            f"<dt>Scale error</dt><dd>{look.text(found.scale_words)}, {look.text(found.scale_u_words)}</dd>"
            f"<dt>The gauges</dt><dd>{said}</dd></dl>{look.paragraph(found.found, 'mm-soft')}"
            f"{look.paragraph(NOTE, 'mm-soft')}</div>"
        )
        return look.stale(card, OLD) if stale else card

    def _tables(self, found: Calibration) -> str:
        marks = [
            (each.mark, format_length(each.length, "mm"), format_length(each.added_mm, "mm"))
            for each in corrections(found)
        ]
        gauges = [self._gauge_row(found, place, each) for place, each in enumerate(found.residuals)]
        heads = ("Gauge", "Size", "Mark", "Left over", "Off what the others say")
        where = look.table("Where it matters", ("Mark read from the end", "Length", "Added to the mark"), marks)
        return where + look.table("What is left of each gauge", heads, gauges, "mm-short")

    @staticmethod
    def _gauge_row(found: Calibration, place: int, each: Residual) -> tuple[str, ...]:
        off = found.differences[place]
        against = "can't be checked" if off is None else format_length(off, "mm")
        return (
            each.gauge.name,
            format_length(each.gauge.nominal_mm, "mm"),
            mark_text(found.read_with, each.mark_mm),
            format_length(each.left, "mm"),
            f"{against}, disagrees" if place in found.agreement.disagreeing else against,
        )

    # Into a job.

    def _choose_job(self) -> None:
        """Offer the rules of the chosen job."""
        self.saved.value = ""
        names: tuple[str, ...] = ("",)
        chosen = places.job_files().get(self.fields["job"].value)
        if chosen is not None:
            try:
                names = tuple(rule.name for rule in load_job(chosen).rules)
            except ModelMathError as reason:
                self.saved.value = look.problem(str(reason))
        self.fields["rule"].control.options = names

    def save(self) -> Path | None:
        """Calibrate the chosen rule of the chosen job, and write the job into the workbook folder."""
        chosen = places.job_files().get(self.fields["job"].value)
        if chosen is None or self.rule is None:
            self.saved.value = look.problem("Choose the job and its rule first.")
            return None
        if self.stale:
            self.saved.value = look.problem("Nothing was saved: mend the entries first, they give no result now.")
            return None
        file = places.workbook_folder() / "jobs" / chosen.name
        try:
            opened = open_job(chosen)
            job, found = calibrated_job(opened.job, self.fields["rule"].value, self.rule, self.lines)
            file.parent.mkdir(parents=True, exist_ok=True)
            save_job(job, file, opened.mark if file.exists() and file.samefile(chosen) else "")
        except (ModelMathError, OSError) as reason:
            self.saved.value = look.problem(f"Nothing was saved. {reason}")
            return None
        said = (
            f"{self.fields['rule'].value}, as finely as it is read in the job: {found.zero_words}; {found.scale_words}."
        )
        mind = look.problem(found.verdict) if found.disagreeing else ""
        self.saved.value = look.paragraph(f"Saved as {file}.") + look.paragraph(said) + mind
        return file

    @property
    def summary(self) -> str:
        """What was found, in plain language."""
        found = self.calibration
        if found is None:
            return "Nothing is worked out yet."
        parts = [found.found, f"{found.zero_words};", f"{found.scale_words}, {found.scale_u_words}.", found.verdict]
        return "\n".join(f"{part[0].upper()}{part[1:]}" for part in parts)

"""The guided walkthrough: from two readings to the bench card, with the rest folded until wanted."""

from __future__ import annotations

from pathlib import Path

import ipywidgets as w

from modelmath import drawings
from modelmath.errors import ModelMathError
from modelmath.files import file_name
from modelmath.job import Job, Plan, load_job, plan, save_job
from modelmath.job.entries import Outcome, blank_job, entries_of, read_entries
from modelmath.lengths.scales import all_scales
from modelmath.widgets import look, places, views
from modelmath.widgets.fields import Field, folds, page, row
from modelmath.widgets.zones import ZonesEditor

NEW = "(new model)"
COMMON = ("HO", "N", "O", "S")
UNITS = ("scale foot", "scale inch", "mm", "in")
WAITING = {
    "zero_offset": "how far the rule's zero stands in from its end",
    "chassis": "the reading on the chassis",
    "shell": "the reading in the shell",
    "keep": "the clearance to keep",
    "finest": "the finest mark to cut to",
}


def _first_fields() -> dict[str, Field]:
    scales = [*COMMON, *(each.name for each in all_scales() if each.name not in COMMON)]
    return {
        "scale": Field("Scale", options=scales),
        "zero_offset": Field(
            "Rule's zero stands in from its end by", "in the rule's unit: 1 for one scale foot, 0 for none"
        ),
        "chassis": Field("Reading on the chassis", "rule's end on the seat, read at the highest point under the roof"),
        "shell": Field("Reading in the shell", "rule's end at the edge that rests on the seat, read at the roof"),
        "keep": Field("Clearance to keep", "between bulkhead and chassis: 1/4, or 0.5 mm"),
        "finest": Field("Finest mark to cut to", "1/4 for quarter feet; as fine as you can set the rule"),
    }


def _more_fields() -> dict[str, Field]:
    return {
        "flange": Field("Thickness of the speaker's flange", "where it rests on its supports, such as 1.2 mm"),
        "width": Field("Inside width of the shell", "by caliper or steel rule, such as 18.5 mm"),
        "inside_length": Field("Length inside the shell", "by caliper or steel rule, such as 86 mm"),
        "speaker_length": Field("Speaker's length", "outside, along the shell; the diameter of a round one"),
        "speaker_width": Field("Speaker's width", "outside, across the shell"),
        "speaker_depth": Field("Speaker's depth", "from its sounding face to its highest point behind"),
        "decoder_length": Field("Decoder's length", "all three sizes, or none"),
        "decoder_width": Field("Decoder's width", ""),
        "decoder_height": Field("Decoder's height", ""),
        "rule_unit": Field("The rule's figures count", options=UNITS),
        "graduation": Field("Distance between its finest marks", "1/4 for quarter feet"),
        "reading_u": Field("Standard uncertainty of a reading", "empty: read to the nearest mark"),
        "offset_u": Field("Standard uncertainty of its zero", "such as 0.1 mm"),
        "seating": Field("How repeatably the shell seats, ±", "such as 0.1 mm"),
        "cutting": Field("How exactly parts are cut, ±", "such as 0.1 mm"),
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
        self.zone = 0
        self.plan: Plan | None = None
        self.outcome = Outcome(None)
        self._loading = False
        self.fields = _first_fields() | _more_fields()
        self.name = Field("Model", "its name on the sheets", self.base.name)
        self.chooser = Field("Job", options=[NEW, *places.job_files()])
        self.which = Field("The two readings above are of", options=[zone.name for zone in self.base.zones])
        self.figure_name = Field("Why this number?", options=["bulkhead height"])
        self.answer, self.figure, self.parts, self.printed = (w.HTML() for _ in range(4))
        self.chamber, self.sureness, self.strips, self.order, self.why, self.readings = (w.HTML() for _ in range(6))
        self.save_button = w.Button(description="Save the job")
        self.print_button = w.Button(description="Print the bench card")
        self.zones = ZonesEditor(self._zones_changed)
        self.view = self._lay_out()
        self._connect()
        self._load(job)

    @classmethod
    def demo(cls, name: str = "switcher-ho") -> EnclosurePanel:
        """Open the walkthrough on a demo job, or on the user's own changed copy of it."""
        panel = cls(load_job(places.job_files()[name]))
        panel._loading = True
        panel.chooser.value = name
        panel._loading = False
        return panel

    def _lay_out(self) -> w.VBox:
        f = self.fields
        buttons = w.HBox([self.print_button, self.save_button])
        buttons.add_class("mm-row")
        more = folds(
            The_space_and_what_goes_in=w.VBox(
                [
                    row(f["width"], f["inside_length"]),
                    row(f["speaker_length"], f["speaker_width"], f["speaker_depth"]),
                    row(f["decoder_length"], f["decoder_width"], f["decoder_height"]),
                    self.chamber,
                ]
            ),
            Zones_along_the_length=w.VBox([row(self.which), self.zones.view]),
            The_rule_and_how_sure_it_is=w.VBox(
                [
                    row(f["rule_unit"], f["graduation"], f["reading_u"], f["offset_u"], f["seating"], f["cutting"]),
                    self.sureness,
                    self.readings,
                ]
            ),
            Parts_and_strip=self.strips,
            Build_order_and_cautions=self.order,
            Why_this_number=w.VBox([row(self.figure_name), self.why]),
        )
        return page(
            row(self.chooser, self.name),
            w.HTML(look.heading("1. Two readings")),
            row(*(f[name] for name in ("scale", "zero_offset", "chassis", "shell", "keep", "finest"))),
            self.answer,
            self.figure,
            w.HTML(look.heading("2. Speaker supports")),
            row(f["flange"]),
            w.HTML(look.heading("3. Cut list")),
            self.parts,
            w.HTML(look.heading("4. Print")),
            buttons,
            self.printed,
            w.HTML(look.heading("More, when you want it")),
            more,
        )

    def _connect(self) -> None:
        for field in (*self.fields.values(), self.name):
            field.on_change(self._refresh)
        self.chooser.on_change(self._choose)
        self.which.on_change(self._choose_zone)
        self.figure_name.on_change(self._explain)
        self.save_button.on_click(lambda _button: self.save())
        self.print_button.on_click(lambda _button: self.print())

    # Changing what is shown.

    def _load(self, job: Job | None) -> None:
        """Fill the fields from a job."""
        self._loading = True
        self.base, self.plan = job or blank_job(), None
        if job is not None:
            self.zone = self._governing(job)
        self.name.value = self.base.name
        self.which.control.options = [zone.name for zone in self.base.zones]
        self.which.control.index = self.zone
        typed = entries_of(self.base, self.zone)
        if job is None:
            typed |= dict.fromkeys(WAITING, "")
        for name, field in self.fields.items():
            field.value = typed[name]
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
        self.printed.value = ""
        if self.chooser.value == NEW:
            self.zone = 0
            self._load(None)
            return
        try:
            self._load(load_job(places.job_files()[self.chooser.value]))
        except ModelMathError as reason:
            self.printed.value = look.problem(str(reason))

    def _choose_zone(self) -> None:
        if self._loading or self.which.control.index is None:
            return
        self.zone = int(self.which.control.index)
        job = self.outcome.job or self.base
        self._loading = True
        for name, text in entries_of(job, self.zone).items():
            self.fields[name].value = text
        self._loading = False
        self.base = job
        self._refresh()

    def _zones_changed(self, job: Job) -> None:
        """Take over a job whose zones were edited."""
        self.zone = min(self.zone, len(job.zones) - 1)
        zone = self.zone
        self._load(job)
        self.zone = zone
        self._choose_zone()

    def _refresh(self) -> None:
        """Read every field, and show the plan, or what is missing or wrong beside its field."""
        if self._loading:
            return
        typed = {name: field.value for name, field in self.fields.items()}
        self.outcome = read_entries(typed, self.base, self.zone)
        for name, field in self.fields.items():
            field.show(self.outcome.echoes.get(name), self.outcome.messages.get(name))
        if self.outcome.job is None:
            self._wait()
            return
        job = self.outcome.job.model_copy(update={"name": self.name.value.strip() or "Unnamed model"})
        try:
            new = plan(job)
            _ = new.gap, new.lines
        except ModelMathError as reason:
            self._keep_last(str(reason))
            return
        self.plan = new
        self._show(new)

    def _wait(self) -> None:
        """Say what is still to be entered, and keep the last good result in sight."""
        missing = [WAITING[name] for name in self.outcome.waiting if name in WAITING]
        if self.plan is not None:
            self.answer.value = views.answer(self.plan, stale=True)
        elif missing:
            self.answer.value = f'<div class="mm-card">{look.paragraph("Still to enter:")}{look.bullets(missing)}</div>'

    def _keep_last(self, reason: str) -> None:
        last = views.answer(self.plan, stale=True) if self.plan is not None else ""
        self.answer.value = look.problem(reason) + last

    def _show(self, new: Plan) -> None:
        self.answer.value = views.answer(new) + views.or_reason(views.warnings, new)
        self.figure.value = f'<div class="mm-figure">{views.or_reason(drawings.side_elevation_svg, new)}</div>'
        self.parts.value = views.or_reason(views.cut_list, new)
        self.chamber.value = views.or_reason(views.chamber, new)
        self.sureness.value = views.or_reason(views.sureness, new)
        self.readings.value = views.or_reason(views.readings, new)
        self.strips.value = views.or_reason(views.parts_and_strips, new)
        self.order.value = views.or_reason(views.order, new) + views.all_cautions()
        self.zones.show(new.job)
        names = list(new.figures)
        if list(self.figure_name.control.options) != names:
            kept = self.figure_name.value
            self._loading = True
            self.figure_name.control.options = names
            self.figure_name.value = kept if kept in names else names[0]
            self._loading = False
        self._explain()

    def _explain(self) -> None:
        if self.plan is not None and not self._loading:
            self.why.value = views.why(self.plan, self.figure_name.value)

    # Keeping and printing.

    @property
    def summary(self) -> str:
        """The plan in plain language."""
        return views.summary(self.plan) if self.plan is not None else "Nothing is worked out yet."

    def save(self) -> Path | None:
        """Write the job into the workbook folder."""
        if self.plan is None or self.outcome.job is None:
            self.printed.value = look.problem("There is nothing to save yet: fill in or mend the entries above first.")
            return None
        file = places.workbook_folder() / "jobs" / f"{file_name(self.plan.job.name)}.toml"
        try:
            file.parent.mkdir(parents=True, exist_ok=True)
            save_job(self.plan.job, file)
        except (ModelMathError, OSError) as reason:
            self.printed.value = look.problem(f"{reason}")
            return None
        self.printed.value = look.paragraph(f"Saved as {file}")
        return file

    def print(self) -> list[Path]:
        """Write the packet, bench card first, into the workbook folder."""
        if self.plan is None or self.outcome.job is None:
            self.printed.value = look.problem("There is nothing to print yet: fill in or mend the entries above first.")
            return []
        try:
            files: list[Path] = drawings.write_packet(self.plan, places.workbook_folder() / "packets")
        except (ModelMathError, OSError) as reason:
            self.printed.value = look.problem(f"{reason}")
            return []
        links = "".join(
            f'<li><a href="{look.text(places.link(file))}" download>{look.text(file.name)}</a></li>' for file in files
        )
        advice = look.paragraph(
            "Page 1 is the bench card. Print at 100 %, not fitted to the page, and measure a check bar."
        )
        self.printed.value = f"{advice}<ul>{links}</ul>{look.paragraph(f'In {files[0].parent}', 'mm-soft')}"
        return files

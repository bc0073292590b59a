"""The cut plan: parts of a job or a list, cut from the drawer; taken out of it when the plan is accepted."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from fractions import Fraction
from pathlib import Path

import ipywidgets as w

from modelmath.clearance import Marks
from modelmath.cutting.accept import after_cutting
from modelmath.cutting.from_drawer import Cutting, Settings, cut_list_in_steps
from modelmath.cutting.plan import CutStrip
from modelmath.cutting.sheet_layout import CutSheet
from modelmath.cutting.typed import EXAMPLE, EXAMPLE_SHEET, ListedParts, read_parts
from modelmath.drawings.into_folder import write_into
from modelmath.errors import JobError, ModelMathError
from modelmath.files import file_name
from modelmath.job import Job, Plan, load_job, plan
from modelmath.lengths.lines import BadLine
from modelmath.lengths.parse import parse_length_exact
from modelmath.lengths.rules import Rule
from modelmath.materials import Held, OnHand
from modelmath.materials.drawer.store import DrawerChanged, Kept, change_drawer, load_drawer, undo
from modelmath.steps import InSteps, Progress
from modelmath.widgets.common import look, places
from modelmath.widgets.common.fields import Field, Fold, page, row, scale_names
from modelmath.widgets.common.minding import cautioned
from modelmath.widgets.common.work import Work
from modelmath.widgets.plan import cutting as views

PAPERS = ("A4", "Letter")
BOUGHT = (
    "Accept once you have bought what is listed to buy and cut it: the offcuts of bought stock go into the drawer too."
)
LISTED = "(the parts listed below)"
DRAWER, OWN, NOTHING = "the drawer", "what the job lists", "new stock only"
FIRST_PARTS = f"""{EXAMPLE}
speaker support; 18.5 mm; 4; HO 6x10
side filler; 22.5 mm; 2; .040 x .125
{EXAMPLE_SHEET}
floor plate; 19 x 18.5 mm; 2; .040 sheet"""
PARTS_HINT = (
    "One a line: a name; its length, or length x width where it is of sheet; how many; what it is cut from. A fifth "
    "column names a set that has to be equal."
)
SETTINGS = (
    ("kerf", "A cut takes", "the width of the saw's cut; 0 mm for a knife or a strip cutter", "0 mm"),
    ("end_trim", "Trimmed off one end of each strip", "to square it", "1 mm"),
    ("least_offcut", "Shortest offcut worth keeping", "what is shorter is scrap", "20 mm"),
    ("new_strip", "Length of new strip", "as it is sold", "14 in"),
    ("new_sheet_length", "Length of new sheet", "as it is sold", "12 in"),
    ("new_sheet_width", "Width of new sheet", "as it is sold", "6 in"),
)
# What is worked out of a job: how much is done before, what it is, the section of its plan.
PLANNED = (
    (0.0, "Sizing the parts", "lines"),
    (0.3, "Cutting from strip", "cuts"),
    (0.7, "Laying out on sheet", "sheet_layout"),
)
MILLIMETRES = Marks(Rule(unit="mm", graduation="0.5", name="steel rule"), "0.5")


@dataclass(frozen=True)
class _Answer:
    """A plan, its rule for the stops, what it could not lay out, lines that can't be read, for how many models."""

    cutting: Cutting
    marks: Marks
    left_out: str = ""
    bad: tuple[BadLine, ...] = ()
    models: int = 1


class CutsPanel:
    """Parts, stock, and the plan that cuts one from the other.

    Parameters
    ----------
    folder : Path or None
        Where the drawer is kept; None for the workbook's folder. [-]
    """

    def __init__(self, folder: Path | None = None) -> None:
        self.folder = folder or places.workbook_folder()
        self.file = self.folder / places.DRAWER
        jobs = places.job_files()
        first = "switcher-ho" if "switcher-ho" in jobs else LISTED
        self.fields = {
            "parts": Field("Parts of", "a job, or your own list", first, options=(*jobs, LISTED)),
            "stock": Field(
                "Cut from", "accepting a plan changes the drawer only", DRAWER, options=(DRAWER, OWN, NOTHING)
            ),
            "name": Field("Name of the list", "for the drawer's changes and the printed sheets", "my parts"),
            "scale": Field("Scale", "of lumber in the list, such as 6x10", options=scale_names()),
        }
        self.fields |= {name: Field(label, hint, value) for name, label, hint, value in SETTINGS}
        wide = w.Layout(width="calc(100% - 8px)", max_width="min(40rem, 100% - 8px)")
        self.listed = w.Textarea(FIRST_PARTS, description="Parts", continuous_update=False, rows=7,
                                 style={"description_width": "initial"}, layout=wide)  # fmt: skip
        self.listed.add_class("mm-paste")
        self.list_note, self.answer, self.details, self.done = (w.HTML() for _ in range(4))
        self.list_box = w.VBox(
            [row(self.fields["name"], self.fields["scale"]), self.listed, w.HTML(look.hint(PARTS_HINT)), self.list_note]
        )
        self.accept = w.Button(description="Accept: take this out of the drawer", layout=w.Layout(min_width="19rem"))
        self.back = w.Button(description="Undo", disabled=True, layout=w.Layout(min_width="14rem"))
        self.kept: Kept | None = None
        self._filling = False  # while a job's own settings are put into the fields
        self._cut: Kept | None = None  # the drawer as the last plan accepted here left it
        self._made: _Answer | None = None
        self.work, self.printing = Work(), Work()
        self._listen()
        f = self.fields
        self.paper = w.Button(description="Print these sheets", layout=w.Layout(min_width="12rem"))
        self.paper.on_click(lambda _button: self._print())
        buttons = w.HBox([self.accept, self.back, self.paper])
        buttons.add_class("mm-row")
        mind = cautioned("knife", "saw", "sanding", "small parts")
        self.view = page(
            row(f["parts"], f["stock"]),
            self.list_box,
            Fold("Saw cuts, end trim, offcuts, new stock", row(*(f[name] for name, *_ in SETTINGS))).view,
            self.work.view,
            self.answer,
            buttons,
            self.printing.view,
            self.done,
            self.details,
            w.HTML(mind),
        )
        self._take_job()

    def _listen(self) -> None:
        self.fields["parts"].on_change(self._take_job)
        for name, field in self.fields.items():
            if name != "parts":
                field.on_change(self._refresh)
        self.listed.observe(lambda _change: self._refresh(), names="value")
        self.accept.on_click(lambda _button: self._accept())
        self.back.on_click(lambda _button: self._undo())

    # What is asked.

    def _take_job(self) -> None:
        """Show the chosen job's own settings in the fields."""
        name = self.fields["parts"].value
        self.list_box.layout.display = None if name == LISTED else "none"
        if name != LISTED:
            try:
                build = self._job(name).build
            except ModelMathError as reason:
                self.work.drop()
                self.fields["parts"].show(wrong=str(reason))
                return
            self._filling = True
            for each, *_ in SETTINGS:
                self.fields[each].value = getattr(build, each)
            self._filling = False
        self._refresh()

    @staticmethod
    def _job(name: str) -> Job:
        """Return a job by its name; its file may have gone since the page was opened."""
        file = places.job_files().get(name)
        if file is None:
            raise JobError(f"{name}.toml", "", "it is not there any more", "choose another job, or open the page anew")
        return load_job(file)

    def settings(self) -> Settings:
        """Return the settings as they are typed; what can't be read gets its message."""
        found: dict[str, Fraction] = {}
        wrong: ModelMathError | None = None
        for name, *_ in SETTINGS:
            field = self.fields[name]
            try:
                found[name] = parse_length_exact(field.value, scale=self.fields["scale"].value)
                field.show()
            except ModelMathError as reason:
                field.show(wrong=str(reason))
                wrong = reason
        if wrong is not None:
            raise wrong
        sheet = (found["new_sheet_length"], found["new_sheet_width"])
        return Settings(found["kerf"], found["end_trim"], found["least_offcut"], found["new_strip"], sheet)

    def on_hand(self) -> OnHand | None:
        """Return the stock to cut from; None for new stock only."""
        return self.kept.drawer if self.fields["stock"].value == DRAWER and self.kept else None

    # What follows.

    def _refresh(self) -> None:
        if self._filling:
            return
        self.done.value = ""
        try:
            self.kept = load_drawer(self.file)
            working_out = self._worked_out(self.settings())
        except ModelMathError as reason:
            self.work.drop()
            self._failed(reason)
            return
        self.work.begin("Planning the cuts", working_out, self._show, self._failed, self._keep_last)

    def _failed(self, reason: Exception) -> None:
        self._keep_last()
        self.answer.value = look.problem_over(str(reason), self.answer.value)

    def _keep_last(self) -> None:
        """Keep the last plan in sight, marked as such; nothing is cut or printed from it."""
        self._made = None
        self.accept.disabled = True
        self.answer.value = look.stale(self.answer.value)
        self.details.value = look.stale(self.details.value)

    def _worked_out(self, how: Settings) -> InSteps[_Answer]:
        """Return the work on what is asked for now; what is entered later is no part of it."""
        name = self.fields["parts"].value
        if name == LISTED:
            return _of_list(read_parts(self.listed.value, self.fields["scale"].value), self.on_hand(), how)
        return _of_plan(self._plan_of(name))

    def _plan_of(self, name: str) -> Plan:
        job = self._job(name)
        build = job.build.model_copy(update={each: self.fields[each].value for each, *_ in SETTINGS})
        changed = {"build": build} if self.fields["stock"].value == OWN else {"build": build, "drawer": []}
        return plan(job.model_copy(update=changed), self.on_hand() or Held())

    def _show(self, made: _Answer) -> None:
        self._made = made
        cutting = made.cutting
        out = [f"line {each.number}: {each.message}" for each in made.bad] + list(cutting.left_out)
        self.list_note.value = (
            look.problem("Left out of the plan:") + look.bullets(map(look.in_words, out)) if out else ""
        )
        demo = look.paragraph(self.kept.drawer.demo, "mm-soft") if self.kept and self.on_hand() else ""
        nothing = look.paragraph("Nothing to cut is listed.")
        bought = (
            look.paragraph(BOUGHT) if self.on_hand() and any(each.kind == "to buy" for each in _stock(cutting)) else ""
        )
        self.answer.value = (views.in_short(cutting, made.models) or nothing) + demo + bought
        left_out = look.paragraph(look.in_words(made.left_out)) if made.left_out else ""
        glued = look.paragraph(cutting.strips.made_up_text) if cutting.strips.made_up_text else ""
        empty = not (cutting.strips.strips or cutting.layout)
        self.paper.disabled = empty
        self.details.value = (
            ""
            if empty
            else (
                views.stops(cutting.strips, made.marks)
                + views.strips(cutting.strips)
                + views.sheets(cutting.layout, made.marks)
                + left_out
                + glued
                + views.by_stock(cutting)
                + views.shopping(cutting, made.models)
                + views.goals(cutting)
            )
        )
        self.accept.disabled = self.fields["stock"].value != DRAWER or empty

    # What is done.

    def _accept(self) -> None:
        made = self._made
        if made is None:
            return
        what = f"cutting of {self._named()}"
        try:
            self.kept = self._cut = change_drawer(self.file, lambda drawer: after_cutting(drawer, made.cutting), what)
        except ModelMathError as reason:
            self.done.value = look.problem(f"{reason} The drawer is as it was; the plan above is from before.")
            return
        self.accept.disabled = True
        self._name_undo()
        said = "Taken out of the drawer; the offcuts to keep are in it."
        self.done.value = look.echo(said)

    def _named(self) -> str:
        """Return what is cut: a job, or the list by the name it was given."""
        chosen = self.fields["parts"].value
        return (self.fields["name"].value.strip() or "my parts") if chosen == LISTED else chosen

    def _name_undo(self) -> None:
        """Say on the button which cutting it takes back; only one made here, and only while nothing came after."""
        self.back.disabled = self._cut is None
        self.back.description = "Undo" if self._cut is None else f"Undo: {self._cut.what}"

    def _undo(self) -> None:
        if self._cut is None:
            return
        try:
            undo(self.file, self._cut.revision)
        except DrawerChanged as reason:
            what = reason.theirs.what or "a new drawer"
            self.done.value = look.problem(
                f"Nothing was undone: the drawer was changed since ({what}). The page Drawer goes back step by step."
            )
            return
        except ModelMathError as reason:
            self.done.value = look.problem(str(reason))
            return
        self._cut = None
        self._name_undo()
        self._refresh()
        self.done.value = look.echo("Undone: the drawer is as it was before.")

    def _print(self) -> None:
        """Write the cut plan as PDF files for both papers, and link them."""
        from modelmath.drawings.sheets.cuts import ListedCuts, cutting_pdf

        made = self._made
        if made is None:
            self.done.value = look.problem("There is nothing to print yet: mend the entries above first.")
            return
        title = f"Cutting of {self._named()}"
        place = self.folder / "packets"
        shown = ListedCuts(made.cutting, made.marks, made.left_out, made.models)
        files = [place / f"{file_name(title)}-{paper.lower()}.pdf" for paper in PAPERS]
        self.done.value = ""
        drawing = drawn_for_papers(files, lambda paper: cutting_pdf(shown, paper, title), title)
        self.printing.begin("Drawing the sheets", drawing, self._printed, self._not_printed)

    def _not_printed(self, reason: Exception) -> None:
        self.done.value = look.problem(f"Nothing was printed. {reason}")

    def _printed(self, files: Sequence[Path]) -> None:
        self.done.value = links_to(files)

    @property
    def summary(self) -> str:
        """The plan in a line."""
        self.work.finish()
        made = self._made
        if made is None:
            return "No plan yet."
        layout = made.cutting.layout
        sheets = "" if layout is None else f" {layout.verdict}."
        return f"{made.cutting.strips.verdict}.{sheets}"


def _stock(cutting: Cutting) -> list[CutStrip | CutSheet]:
    return [*cutting.strips.strips, *(() if cutting.layout is None else cutting.layout.sheets)]


def _of_list(listed: ListedParts, on_hand: OnHand | None, how: Settings) -> InSteps[_Answer]:
    cutting = yield from cut_list_in_steps(listed, on_hand, how)
    return _Answer(cutting, MILLIMETRES, " ".join(cutting.left_out), listed.bad)


def _of_plan(made: Plan) -> InSteps[_Answer]:
    for share, doing, section in PLANNED:
        yield Progress(doing, share)
        getattr(made, section)
    answer = made.sheet_layout
    return _Answer(Cutting(made.cuts, answer.layout), made.marks, answer.reason, models=made.models)


def drawn_for_papers(files: Sequence[Path], draw: Callable[[str], bytes], title: str) -> InSteps[Sequence[Path]]:
    """Draw the same sheets for each paper, then write them all, over none of another title."""
    contents = []
    for number, paper in enumerate(PAPERS):
        yield Progress(f"Drawing for {paper}", number / len(PAPERS))
        contents.append(draw(paper))
    return [
        write_into(file.parent, file.name, content, "the cut plan", title)
        for file, content in zip(files, contents, strict=True)
    ]


def links_to(files: Sequence[Path]) -> str:
    """Return links to files that were printed, and where they are."""
    links = "".join(
        f'<li><a href="{look.text(places.link(file))}" target="_blank">{look.text(file.name)}</a></li>'
        for file in files
    )
    return f"<ul>{links}</ul>{look.paragraph(f'In {files[0].parent}', 'mm-soft')}"

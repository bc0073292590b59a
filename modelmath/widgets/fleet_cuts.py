"""One cut plan over several jobs: which of them, whose drawer, and what follows."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from pathlib import Path

import ipywidgets as w

from modelmath.cutting.accept import after_cutting
from modelmath.cutting.from_drawer import Settings
from modelmath.errors import ModelMathError
from modelmath.job import Job, load_job
from modelmath.job.fleet.drawers import added_up, as_one_drawer, own_stock
from modelmath.job.fleet.rows import Row
from modelmath.job.fleet.together import (
    Together,
    cut_together_in_steps,
    plan_from,
    settings_that_differ,
)
from modelmath.lengths.parse import parse_length_exact
from modelmath.materials import OnHand
from modelmath.materials.drawer.drawer import Drawer
from modelmath.materials.drawer.store import change_drawer, load_drawer
from modelmath.steps import InSteps, Progress, part_of
from modelmath.widgets.common import look, places
from modelmath.widgets.common.fields import Field, Fold, row
from modelmath.widgets.common.minding import cautioned
from modelmath.widgets.common.work import Work
from modelmath.widgets.cuts import MILLIMETRES, PAPERS, SETTINGS, drawn_for_papers, links_to
from modelmath.widgets.plan import cutting as views

DRAWER, NOTHING = "the drawer", "new stock only"
ONE = "all their lists, as one drawer"
DIFFERENT = "all their lists, as different drawers"
MOST_AT_FIRST = 6
READ = 0.1  # how much is done once the jobs are read; roughly
SHOWN_AT_ONCE = 8  # rows of the list to choose from
SAID = {
    DRAWER: "Cut from the workbook's drawer; what the jobs list themselves does not count.",
    NOTHING: "All of it is cut from new stock.",
    ONE: "Cut from what the jobs list, taken as one drawer: a piece that stands in several lists is there once.",
    DIFFERENT: "Cut from what the jobs list, added up: only right where these are different drawers.",
}
TAKEN = "Taken out of the drawer; the offcuts to keep are in it. The page Drawer goes back."
LONGEST_WORDS = 120  # of what is said of a change of the drawer
RULES_DIFFER = (
    "The models are marked out with different rules: the stops here are for a steel rule in mm. Each bench card has "
    "the settings for its own rule."
)


class CutTogether:
    """The cuts of several jobs.

    Parameters
    ----------
    base : Path
        The workbook folder: its drawer, and where printed sheets go. [-]
    path_of : callable
        Where a job's file is, by its name. [-]
    """

    def __init__(self, base: Path, path_of: Callable[[str], Path]) -> None:
        self.base, self._path_of = base, path_of
        self.files: dict[str, str] = {}
        self.jobs: dict[str, Job] = {}
        self.made: Together | None = None
        self.work, self.printing = Work(), Work()
        self.chosen = w.SelectMultiple(description="Jobs", rows=SHOWN_AT_ONCE, style={"description_width": "initial"})
        self.chosen.layout = w.Layout(width="calc(100% - 8px)", max_width="min(40rem, 100% - 8px)")
        self.chosen.add_class("mm-paste")
        hint = "Several: hold Ctrl, or Cmd, while you choose; or Shift and the arrow keys. On a phone tap each."
        self.stock = Field("Cut from", "most people have one drawer, for all their models", DRAWER, options=(DRAWER,))
        self.fields = {name: Field(label, hint, value) for name, label, hint, value in SETTINGS}
        self.said, self.answer, self.details, self.done = (w.HTML() for _ in range(4))
        self.paper = w.Button(description="Print these sheets", layout=w.Layout(min_width="12rem"))
        self.paper.on_click(lambda _button: self._print())
        self.accept = w.Button(description="Accept: take this out of the drawer", layout=w.Layout(min_width="19rem"))
        self.accept.on_click(lambda _button: self._accept())
        buttons = w.HBox([self.accept, self.paper])
        buttons.add_class("mm-row")
        mind = cautioned("knife", "saw", "sanding", "small parts")
        self.view = w.VBox(
            [
                self.chosen,
                w.HTML(look.hint(hint)),
                row(self.stock),
                Fold("Saw cuts, end trim, offcuts, new stock", row(*self.fields.values())).view,
                self.said,
                self.work.view,
                self.answer,
                buttons,
                self.printing.view,
                self.done,
                self.details,
                w.HTML(mind),
            ]
        )
        self._filling = False
        self._filled = False  # the settings with those of the first job
        self.chosen.observe(lambda _change: self.refresh(), names="value")
        for field in (self.stock, *self.fields.values()):
            field.on_change(self.refresh)

    def offer(self, files: dict[str, str], rows: Mapping[str, Row]) -> None:
        """Offer jobs to choose from; at first those that are not built yet, a few of them."""
        if files == self.files:
            return
        before = self.chosen.value
        self.files = files
        unbuilt = [name for name, file in files.items() if rows[file].open_steps][:MOST_AT_FIRST]
        self._filling = True
        self.chosen.options = tuple(files)
        self.chosen.value = [name for name in before if name in files] or unbuilt
        self._filling = False

    # What is asked.

    def refresh(self) -> None:
        """Read what is chosen, and plan the cuts."""
        if self._filling:
            return
        self.done.value = ""
        names = tuple(self.chosen.value)
        if not names:
            self._nothing(look.paragraph("Choose the jobs to cut for."))
            return
        try:
            self.jobs = {name: load_job(self._path_of(self.files[name])) for name in names}
            self._offer_stock()
            self._take_settings()
            stock, how = self.on_hand(), self.settings()
        except ModelMathError as reason:
            self.work.drop()
            self._failed(reason)
            return
        demo = stock.demo if isinstance(stock, Drawer) else ""
        planning = _planning(self.jobs, stock, how)
        self.work.begin(
            "Planning the cuts", planning, lambda made: self._show(made, demo), self._failed, self._keep_last
        )

    def _failed(self, reason: Exception) -> None:
        self._keep_last()
        self.answer.value = look.problem_over(str(reason), self.answer.value)

    def _keep_last(self) -> None:
        """Keep the last plan in sight, marked as such; nothing is cut or printed from it."""
        self.made = None
        self.accept.disabled = self.paper.disabled = True
        self.answer.value = look.stale(self.answer.value)
        self.details.value = look.stale(self.details.value)

    def _nothing(self, said: str) -> None:
        self.work.drop()
        self.made = None
        self.said.value, self.answer.value, self.details.value = "", said, ""
        self.paper.disabled = self.accept.disabled = True

    def _offer_stock(self) -> None:
        """Offer the drawer, what each job lists, all lists as one drawer or as several, and new stock."""
        listing = [name for name, job in self.jobs.items() if job.drawer]
        several = (ONE, DIFFERENT) if len(listing) > 1 else ()
        options = (DRAWER, *(f"what {name} lists" for name in listing), *several, NOTHING)
        if options == tuple(self.stock.control.options):
            return
        before = self.stock.value
        self._filling = True
        self.stock.control.options = options
        self.stock.control.value = before if before in options else DRAWER
        self._filling = False

    def _take_settings(self) -> None:
        """Begin with the settings of the first job."""
        if self._filled:
            return
        self._filled = self._filling = True
        build = next(iter(self.jobs.values())).build
        for name, field in self.fields.items():
            field.value = getattr(build, name)
        self._filling = False

    def on_hand(self) -> OnHand | None:
        """Return the stock to cut from; None for new stock only."""
        chosen = self.stock.value
        if chosen == NOTHING:
            return None
        if chosen == DRAWER:
            return load_drawer(self.base / places.DRAWER).drawer
        lists = {f"what {name} lists": job for name, job in self.jobs.items() if job.drawer}
        if chosen in lists:
            return own_stock(lists[chosen])
        join = as_one_drawer if chosen == ONE else added_up
        return join([own_stock(job) for job in lists.values()])

    def settings(self) -> Settings:
        """Return the settings as they are typed; what can't be read gets its message."""
        found = {}
        wrong: ModelMathError | None = None
        for name, field in self.fields.items():
            try:
                found[name] = parse_length_exact(field.value)
                field.show()
            except ModelMathError as reason:
                field.show(wrong=str(reason))
                wrong = reason
        if wrong is not None:
            raise wrong
        sheet = (found["new_sheet_length"], found["new_sheet_width"])
        return Settings(found["kerf"], found["end_trim"], found["least_offcut"], found["new_strip"], sheet)

    # What follows.

    def _show(self, made: Together, demo: str) -> None:
        self.made = made
        cutting, marks = made.cutting, made.marks or MILLIMETRES
        words = SAID.get(self.stock.value, f"Cut from {self.stock.value}, as the one drawer for all of them.")
        out = look.problem("Left out of the plan:") + look.bullets(map(look.in_words, cutting.left_out))
        notes = [words, demo, self._differ(), "" if made.marks else RULES_DIFFER]
        self.said.value = "".join(look.paragraph(each, "mm-soft") for each in notes if each) + (
            out if cutting.left_out else ""
        )
        empty = not (cutting.strips.strips or cutting.layout)
        self.paper.disabled = empty
        self.accept.disabled = empty or self.stock.value != DRAWER
        self.answer.value = views.in_short(cutting) or look.paragraph("Nothing to cut is listed.")
        glued = "".join(look.paragraph(each) for each in (made.reason, cutting.strips.made_up_text) if each)
        self.details.value = (
            views.shopping(cutting)
            + views.by_stock(cutting)
            + glued
            + views.stops(cutting.strips, marks)
            + views.strips(cutting.strips)
            + views.sheets(cutting.layout, marks)
            + views.goals(cutting)
        )

    def _differ(self) -> str:
        """Return in which settings the jobs differ, so that one plan can't keep to all of them."""
        names = settings_that_differ(job.build for job in self.jobs.values())
        if not names:
            return ""
        words = {name: label for name, label, *_ in SETTINGS}
        said = "; ".join(
            f"{words[name].lower()}: {', '.join(dict.fromkeys(getattr(job.build, name) for job in self.jobs.values()))}"
            for name in names
        )
        return f"The jobs differ in their settings ({said}). This plan goes by the settings above for all of them."

    def _accept(self) -> None:
        """Take what is cut out of the workbook's drawer, and put the offcuts into it."""
        made = self.made
        if made is None:
            return
        what = f"cutting for {', '.join(made.models)}"[:LONGEST_WORDS]
        try:
            change_drawer(self.base / places.DRAWER, lambda drawer: after_cutting(drawer, made.cutting), what)
        except ModelMathError as reason:
            self.done.value = look.problem(f"{reason} The drawer is as it was; the plan above is from before.")
            return
        self.accept.disabled = True
        self.done.value = look.echo(TAKEN)

    def _print(self) -> None:
        """Write the cut plan as PDF files for both papers, and link them."""
        from modelmath.drawings.sheets.cuts import ListedCuts, cutting_pdf

        made = self.made
        if made is None:
            self.done.value = look.problem("There is nothing to print yet: mend the entries above first.")
            return
        shown = ListedCuts(made.cutting, made.marks or MILLIMETRES, made.reason)
        title = f"Cutting for {len(made.models)} job{'' if len(made.models) == 1 else 's'}"
        place = self.base / "packets"
        files = [place / f"cutting-for-several-{paper.lower()}.pdf" for paper in PAPERS]
        self.done.value = ""
        drawing = drawn_for_papers(files, lambda paper: cutting_pdf(shown, paper, title), "several")
        self.printing.begin("Drawing the sheets", drawing, self._printed, self._not_printed)

    def _not_printed(self, reason: Exception) -> None:
        self.done.value = look.problem(f"Nothing was printed. {reason}")

    def _printed(self, files: Sequence[Path]) -> None:
        self.done.value = links_to(files)

    @property
    def summary(self) -> str:
        """What is bought, and how good that is, in a line."""
        self.work.finish()
        made = self.made
        if made is None:
            return "No plan yet."
        return (
            f"{', '.join(made.models)}: {made.cutting.strips.verdict}. To buy: {'; '.join(made.to_buy) or 'nothing'}."
        )


def _planning(jobs: Mapping[str, Job], stock: OnHand | None, how: Settings) -> InSteps[Together]:
    """Read the jobs into plans, and plan their cuts."""
    plans = {}
    for number, (name, job) in enumerate(jobs.items()):
        yield Progress(f"Reading {name}", READ * number / len(jobs))
        plans[name] = plan_from(job, stock)
    return (yield from part_of(cut_together_in_steps(plans, stock, how), READ, 1.0))

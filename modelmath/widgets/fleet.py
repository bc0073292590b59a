"""A folder of jobs: a table with small drawings, what is next on each, two compared, one cut plan over several."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from pathlib import Path

import ipywidgets as w

from modelmath.errors import ModelMathError, WrongKind, shown
from modelmath.job import Plan, load_job, plan
from modelmath.job.fleet.compare import compare
from modelmath.job.fleet.folder import ORDERS, Overview, in_order, labels, overview_in_steps
from modelmath.job.fleet.rows import Row
from modelmath.steps import InSteps, Progress, part_of
from modelmath.tables import data_folder
from modelmath.widgets import fleet_views as views
from modelmath.widgets.common import look, places
from modelmath.widgets.common.fields import Field, Fold, page, row
from modelmath.widgets.common.work import Work
from modelmath.widgets.fleet_cuts import CutTogether
from modelmath.workbook.folder import source_home

AT_ONCE = 20  # rows on one page of the table, each with its drawing
FIRST_NEW = 40  # jobs worked out as the page opens; the others when asked for
WORKED_OUT = 0.6  # how much is done once the jobs are worked out; then they are drawn
OLD = "These are the jobs of the last folder that could be opened."


class FleetPanel:
    """The jobs of a folder, side by side.

    Parameters
    ----------
    base : Path or None
        The workbook folder; None for the one this notebook runs in. [-]
    """

    def __init__(self, base: Path | None = None) -> None:
        self.base = base or places.workbook_folder()
        self.fields = {
            "folder": Field("Folder of jobs", "where their files lie; empty for the workbook's own jobs"),
            "order": Field("Sorted by", "which model stands first", ORDERS[0], options=ORDERS),
        }
        self.found: Overview | None = None
        self.at = 0  # first row shown
        self.work = Work()
        self._drawn: dict[tuple[str, str], str] = {}
        self.said, self.shown, self.where, self.next = (w.HTML() for _ in range(4))
        self.again = _button("Look again", self._look)
        self.more = _button("Work out the others", lambda: self._look(most_new=None))
        self.earlier = _button("Rows before", lambda: self._turn(-AT_ONCE))
        self.later = _button("Rows after", lambda: self._turn(AT_ONCE))
        self.pair = Pair(self._plan_of)
        self.cuts = CutTogether(self.base, self._path)
        self.folds = {
            "next": Fold("What is next on each", self.next),
            "pair": Fold("Two beside each other", self.pair.view),
            "cuts": Fold("One cut plan and one shopping list over several", self.cuts.view),
        }
        self.fields["folder"].on_change(self._look)
        self.fields["order"].on_change(self._sort)
        self._fill = {"next": self._next, "pair": self.pair.refresh, "cuts": self.cuts.refresh}
        for name, fold in self.folds.items():
            fold.head.observe(lambda _change, name=name: self._open(name), names="value")
        self.view = page(
            row(*self.fields.values()),
            self.said,
            self.work.view,
            _buttons(self.again, self.more),
            self.shown,
            self.where,
            _buttons(self.earlier, self.later),
            *(fold.view for fold in self.folds.values()),
        )
        self._look()

    # What is there.

    def folder(self) -> tuple[Path, bool]:
        """Return the folder that is shown, and whether rows may be kept in it: the program's own is left alone."""
        typed = self.fields["folder"].value.strip()
        own = self.base / "jobs"
        if typed:
            folder = self.base / Path(typed).expanduser()
        else:
            folder = own if any(own.glob("*.toml")) else Path(str(data_folder())) / "jobs"
        return folder, source_home(folder.absolute()) is None

    def _path(self, file: str) -> Path:
        assert self.found is not None
        return self.found.folder / file

    def _look(self, most_new: int | None = FIRST_NEW) -> None:
        try:
            folder, keep = self.folder()
        except (
            OSError,
            ValueError,
            RuntimeError,
        ):  # too long a name, a NUL in it, or ~ and somebody without a home here
            typed = self.fields["folder"].value
            self._not_looked(WrongKind("the folder", shown(typed), "one with jobs", "Write its name, such as jobs."))
            return
        looking = self._looking(overview_in_steps(folder, keep, most_new), self.fields["order"].value)
        self.work.begin("Looking through the folder", looking, self._looked, self._not_looked)

    def _looking(self, working_out: InSteps[Overview], order: str) -> InSteps[Overview]:
        """Work out the jobs, and draw those that come first."""
        found = yield from part_of(working_out, 0.0, WORKED_OUT)
        yield from part_of(self._drawing_all(found, in_order(found.rows, order)[:AT_ONCE]), WORKED_OUT, 1.0)
        return found

    def _drawing_all(self, found: Overview, jobs: Sequence[Row]) -> InSteps[None]:
        for number, each in enumerate(jobs):
            yield Progress(f"Drawing {each.title}", number / len(jobs))
            self._drawing(found, each)

    def _not_looked(self, reason: Exception) -> None:
        self.fields["folder"].show(wrong=str(reason))
        self.said.value = look.paragraph(OLD, "mm-soft") if self.found else ""

    def _looked(self, found: Overview) -> None:
        self.found = found
        self.fields["folder"].show()
        left = self.found.not_yet
        self.more.description = f"Work out the other {left}"
        self.more.layout.display = None if left else "none"
        self.at = 0
        readable = [each for each in self.rows if each.steps]
        self.pair.offer(labels(readable))
        self.cuts.offer(labels(readable), {each.file: each for each in readable})
        self._show()
        self._open("pair", "cuts")

    def _sort(self) -> None:
        self.at = 0
        self._draw_page()

    def _turn(self, by: int) -> None:
        self.at += by
        self._draw_page()

    def _draw_page(self) -> None:
        """Draw the jobs of a page, and show them; while the folder is looked through, that shows them in the end."""
        if self.found is None or self.work.running:
            return
        drawing = self._drawing_all(self.found, self.on_page)
        self.work.begin("Drawing the jobs", drawing, lambda _: self._show(), self._not_looked)

    # What is shown of it.

    @property
    def rows(self) -> tuple[Row, ...]:
        """All jobs in the order chosen."""
        return () if self.found is None else in_order(self.found.rows, self.fields["order"].value)

    @property
    def on_page(self) -> tuple[Row, ...]:
        """The jobs that the table shows now."""
        return self.rows[self.at : self.at + AT_ONCE]

    def _show(self) -> None:
        assert self.found is not None
        rows, here = self.rows, self.on_page
        self.said.value = look.echo(self.found.in_words)
        self.shown.value = views.overview(here, {each.file: self._drawing(self.found, each) for each in here})
        several = len(rows) > AT_ONCE
        last = self.at + len(here)
        self.where.value = look.paragraph(f"Rows {self.at + 1} to {last} of {len(rows)}.", "mm-soft") if several else ""
        for button, there in ((self.earlier, self.at > 0), (self.later, last < len(rows))):
            button.disabled = not there
            button.layout.display = None if several else "none"
        self._open("next")

    def _drawing(self, found: Overview, job: Row) -> str:
        """Return the small drawing of a job, made when its row is first shown; none where it can't be planned."""
        key = (job.file, found.marks.get(job.file, ""))
        if key not in self._drawn:
            self._drawn[key] = "" if job.not_yet or not job.name else self._draw(found.folder / job.file)
        return self._drawn[key]

    @staticmethod
    def _draw(file: Path) -> str:
        from modelmath.drawings.figures.small import small_elevation_svg

        try:
            return small_elevation_svg(plan(load_job(file)))
        except ModelMathError:
            return ""  # the row says why

    def _plan_of(self, file: str) -> Plan:
        return plan(load_job(self._path(file)), places.own_drawer())

    def _open(self, *names: str) -> None:
        """Work out what is in these folds, where they are open."""
        for name in names:
            if self.folds[name].head.value:
                self._fill[name]()

    def _next(self) -> None:
        self.next.value = views.next_steps(self.on_page)

    @property
    def summary(self) -> str:
        """What is there in a line, and a line for each job that the table shows."""
        self.work.finish()
        if self.found is None:
            return "No folder of jobs is open."
        return "\n".join([self.found.in_words, *map(views.in_a_line, self.on_page)])


class Pair:
    """Two jobs beside each other.

    Parameters
    ----------
    plan_of : callable
        The plan of a job by its file's name. [-]
    """

    def __init__(self, plan_of: Callable[[str], Plan]) -> None:
        self._plan_of = plan_of
        self.files: dict[str, str] = {}
        self.fields = [Field(label, "a model of this folder", "", options=("",)) for label in ("First", "Second")]
        self.answer = w.HTML()
        self.view = w.VBox([row(*self.fields), self.answer])
        self._filling = False
        for field in self.fields:
            field.on_change(self.refresh)

    def offer(self, files: dict[str, str]) -> None:
        """Offer jobs to choose from; what is chosen stays chosen while it is there."""
        if files == self.files:
            return
        self.files = files
        names = tuple(files) or ("",)
        self._filling = True
        for at, field in enumerate(self.fields):
            before = field.value
            field.control.options = names
            field.control.value = before if before in names else names[min(at, len(names) - 1)]
        self._filling = False

    def refresh(self) -> None:
        """Compare the two that are chosen."""
        if self._filling or not self.files:
            return
        from modelmath.drawings import side_elevation_svg

        names = (self.fields[0].value, self.fields[1].value)
        try:
            one, other = (self._plan_of(self.files[name]) for name in names)
            drawings = (side_elevation_svg(one), side_elevation_svg(other))
            self.answer.value = views.compared(names, compare(one, other), drawings)
        except ModelMathError as reason:
            self.answer.value = look.problem(str(reason))


def _button(words: str, act: Callable[[], None]) -> w.Button:
    button = w.Button(description=words, layout=w.Layout(min_width="9rem"))
    button.on_click(lambda _button: act())
    return button


def _buttons(*buttons: w.Button) -> w.HBox:
    box = w.HBox(list(buttons))
    box.add_class("mm-row")
    return box

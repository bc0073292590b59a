"""The start page: go on with a job, begin a new model, look at a demo; and every other page by its task."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from pathlib import Path
from typing import Final

import ipywidgets as w

from modelmath.tables import data_folder, rows
from modelmath.widgets.beginning import NewModel
from modelmath.widgets.common import look, places
from modelmath.widgets.common.fields import Field, page, row
from modelmath.widgets.plan.opening import DEMO, PAGE, in_app_view, link_to, note_opened
from modelmath.workbook.glance import Glance, glance
from modelmath.workbook.recent import recent_jobs, when_in_words

MOST_RECENT, IN_SIGHT = 8, 3  # jobs that are listed, and how many of them at once
# What each demo shows; one that is not here says it by its notes.
SHOWS: Final = {
    "switcher-ho": "a speaker in the long hood, the decoder in the cab end, a headlight",
    "centre-cab-s": "chassis heights read from the bench instead of the seat; a gap measured with putty",
    "gas-electric-o": "a roof of two heights; a round speaker under the high part",
    "railbus-ho": "a truck that swings below the speaker; a calibrated rule; a body that hinges off",
    "railcar-n": "the shortest: one height, a rule in mm, a small speaker",
    "railmotor-oo": "a floor cut round motor and screw post; two lamps; weighed before and after",
}
INVENTED: Final = "Every demo is invented, as are the club and its line."


@dataclass(frozen=True)
class Task:
    """What somebody comes with, and the page for it.

    Attributes
    ----------
    says : str
        The task, in the words of whoever has it. [-]
    page : str
        The page's name. [-]
    what : str
        What it gives. [-]
    """

    says: str
    page: str
    what: str


OFTEN: Final = (
    Task("I have a reading", "readings", "a mark on a rule whose zero stands in from its end, as a length"),
    Task("I need a strip of this height", "strips", "by how it is used; glued up; one for a set; shims; names"),
    Task("I want the biggest chamber", "enclosure", "in the walkthrough, once width and length are entered"),
    Task("Which resistor, which strand?", "light", "LED resistors, bulbs, strands and lenses, wire, keep-alive"),
    Task("How much should I leave?", "clearance", "the chance of touching; what to measure again first"),
    Task("I want to cut it all", "cuts", "strips and sheets with little waste, where to set the rule, what to buy"),
)
MORE: Final = {
    "Measuring": (
        Task("I have a whole table of readings", "tables", "mixed units and rules, pasted or from a file, row by row"),
        Task("Is my rule right?", "calibrate", "its zero and its scale, from drill shanks and other known sizes"),
        Task("I have the prototype's size", "prototype", "full size to any scale and back; sizes from a drawing"),
        Task("Trucks swing in there", "moving", "what trucks, drive line and flywheel sweep; a shell that hinges off"),
    ),
    "Sound": (
        Task("What will this chamber do?", "sound", "-3 dB point, level, load and leaks, from a speaker and a volume"),
        Task("Measure a speaker", "measure", "its resonance, Q and Vas from an impedance sweep"),
    ),
    "Tools, material, several models": (
        Task("Which drill passes this?", "drills", "strands, wires and bundles; four drill sets; wire gauges"),
        Task("What do I have?", "drawer", "strip, sheet, wire, strand and drills on hand, with their offcuts"),
        Task("I have several models", "fleet", "all jobs as a table; one cut plan and shopping list; what is next"),
    ),
    "Words and names": (
        Task("What does this word mean?", "glossary", "the words of the trade that pages and sheets use"),
        Task("I write Python", "names", "every name that can be called, with its units and an example"),
    ),
}
STYLE: Final = """
<style>
.mm-jobs, .mm-tasks { list-style: none; }
.mm .mm-jobs, .mm .mm-tasks { margin: .2rem 0 .4rem; }
.mm .mm-jobs li { margin: .35rem 0; }
.mm-jobs a { display: inline-block; padding: .15rem 0; }
.mm-jobs a { margin-right: .7rem; }
.mm-jobs a.mm-first { font-size: 1.15rem; font-weight: 650; }
.mm-tasks .mm-soft { display: block; }
.mm-tasks { display: grid; grid-template-columns: repeat(auto-fill, minmax(17rem, 1fr)); gap: .3rem 1.6rem; }
.mm .mm-tasks li { margin: .15rem 0; }
.mm .mm-more h3 { font-size: 1rem; margin: .8rem 0 .1rem; }
</style>
"""


def start_page() -> w.VBox:
    """Return the start page."""
    return StartPage().view


class StartPage:
    """The three ways to begin, and below them the pages for other tasks.

    Parameters
    ----------
    app_view : bool or None
        Whether links lead from page to page; found out when left out. In JupyterLab they don't: there the job that the
        walkthrough opens next is chosen. [-]
    """

    def __init__(self, app_view: bool | None = None) -> None:
        self.app_view = in_app_view() if app_view is None else app_view
        self.new = NewModel(self._begun)
        self.went = w.VBox()  # what leads to the walkthrough, once a model was begun
        self.choice = Field("Job", "the walkthrough opens on it", options=[*self._names()])
        self.choose_button = w.Button(description="Choose it")
        self.chosen = w.HTML()
        self.choose_button.on_click(lambda _button: self.choose())
        self.view = page(
            w.HTML(STYLE),
            *self._known_jobs(),
            w.HTML(look.heading("Begin a new model")),
            self.new.view,
            self.went,
            *self._demos(),
            w.HTML(look.heading("Another task") + _list(OFTEN) + _more() + _mind()),
        )

    # The jobs there are.

    @staticmethod
    def _demo_names() -> tuple[str, ...]:
        found = sorted(file.stem for file in (Path(str(data_folder())) / "jobs").glob("*.toml"))
        return tuple(sorted(found, key=lambda name: name != DEMO))

    def _names(self) -> list[str]:
        """Return every job, those opened last first, the demos last."""
        files, demos = places.job_files(), self._demo_names()
        recent = [job.name for job in recent_jobs(places.workbook_folder()) if job.name in files]
        own = [name for name in files if name not in demos]
        return list(dict.fromkeys([*(name for name in recent if name not in demos), *own, *demos]))

    def _known_jobs(self) -> list[w.Widget]:
        """Return what goes on with a job: a link to each, or in JupyterLab a choice among them."""
        if not self.app_view:
            press = row()
            press.children = [self.choose_button]
            return [w.HTML(look.heading("Go on with a job")), row(self.choice), press, self.chosen]
        listed = self._recent()
        return [w.HTML(look.heading("Go on") + listed)] if listed else []

    def _recent(self) -> str:
        files, demos, now = places.job_files(), self._demo_names(), datetime.now().astimezone()
        own = [job for job in recent_jobs(places.workbook_folder()) if job.name in files and job.name not in demos]
        items = []
        for place, job in enumerate(own[:MOST_RECENT]):
            seen = glance(files[job.name])
            said = ", ".join(filter(None, [seen.scale, when_in_words(job.when, now), seen.progress]))
            items.append(_job(job.name, seen, said, first=place == 0))
        earlier = look.folded("Earlier jobs", _jobs(items[IN_SIGHT:])) if items[IN_SIGHT:] else ""
        return f"{_jobs(items[:IN_SIGHT])}{earlier}" if items else ""

    def _demos(self) -> list[w.Widget]:
        if not self.app_view:
            return []
        files = places.job_files()
        seen = {name: glance(files[name]) for name in self._demo_names() if name in files}
        items = [_job(name, each, f"{each.scale}: {SHOWS.get(name, each.notes)}") for name, each in seen.items()]
        others = look.folded("The other demos", _jobs(items[1:]) + look.paragraph(INVENTED, "mm-soft"))
        return [w.HTML(look.heading("Look at a demo", "invented") + _jobs(items[:1]) + others)]

    # What is chosen or begun.

    def choose(self) -> None:
        """In JupyterLab: let the walkthrough open this job next."""
        note_opened(self.choice.value)
        self.chosen.value = _next(f"{self.choice.value} is chosen.")

    def _begun(self, file: Path) -> None:
        """Lead to the walkthrough on the job that was just begun."""
        said = f"{file.name} is saved."
        if not self.app_view:
            self.choice.control.options = self._names()
            self.choice.value = file.stem
            self.went.children = [w.HTML(_next(said))]
            return
        from modelmath.widgets.common.go_to import GoTo

        to = link_to(file.stem)
        link = f'<p role="status">{look.text(said)} <a href="{look.text(to)}">Open it in the walkthrough</a></p>'
        self.went.children = [w.HTML(link), GoTo(to=to)]


def _job(name: str, seen: Glance, said: str, first: bool = False) -> str:
    css = ' class="mm-first"' if first else ""
    return (
        f'<li><a{css} href="{look.text(link_to(name))}">{look.text(seen.title)}</a> '
        f'<span class="mm-soft">{look.text(said)}</span></li>'
    )


def _jobs(items: list[str]) -> str:
    return f'<ul class="mm-jobs">{"".join(items)}</ul>'


def _next(said: str) -> str:
    return (
        f'<p role="status">{look.text(said)} The walkthrough opens on it: '
        f'<a href="{PAGE}">open {PAGE}</a>, or run its cells again where it is open.</p>'
    )


def _list(tasks: tuple[Task, ...]) -> str:
    items = "".join(
        f'<li><a href="{look.text(task.page)}.ipynb">{look.text(task.says)}</a>'
        f'<span class="mm-soft">{look.text(task.what)}</span></li>'
        for task in tasks
    )
    return f'<ul class="mm-tasks">{items}</ul>'


def _more() -> str:
    inside = "".join(f"<h3>{look.text(title)}</h3>{_list(tasks)}" for title, tasks in MORE.items())
    return look.folded("More tasks", f'<div class="mm-more">{inside}</div>')


def _mind() -> str:
    found = [each["caution"] for _, each in rows("cautions.csv") if each["topic"] == "numbers"]
    return "".join(look.paragraph(text, "mm-soft") for text in found)

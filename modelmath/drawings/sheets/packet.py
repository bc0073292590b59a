"""The packet: the bench card, and behind it everything it rests on, as one PDF for each paper."""

from __future__ import annotations

import os
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING, Literal

from reportlab.platypus import CondPageBreak, Flowable, KeepTogether, NextPageTemplate, PageBreak

from modelmath.drawings.into_folder import write_into
from modelmath.drawings.sheets.card import bench_card
from modelmath.drawings.sheets.cuts import cuts_sheet
from modelmath.drawings.sheets.drilling import drilling_sheet
from modelmath.drawings.sheets.guard import Guard
from modelmath.drawings.sheets.laid_out import layout_sheet
from modelmath.drawings.sheets.light import light_sheet
from modelmath.drawings.sheets.made import parts_sheet, strips_sheet
from modelmath.drawings.sheets.measured import clearance_sheet, readings_sheet
from modelmath.drawings.sheets.order import cautions_sheet, figures_sheet, order_sheet
from modelmath.drawings.sheets.overview import contents, headings_in, overview_sheet
from modelmath.drawings.sheets.paper import COLUMNS, PAPERS, PLAIN_PAGE, TRUE_SIZE, bind, frame_size, paper_size
from modelmath.drawings.sheets.sketch import Sketch
from modelmath.drawings.sheets.sound import sound_sheet
from modelmath.drawings.sheets.space import marking_sheet, space_sheet, weight_sheet
from modelmath.drawings.sheets.style import PAGE, held_in, words
from modelmath.drawings.sheets.templates import templates_sheet
from modelmath.files import file_name
from modelmath.steps import InSteps, Progress, at_once, part_of

if TYPE_CHECKING:
    from modelmath.job import Plan

Paper = Literal["A4", "Letter"]
BUILT, WRITTEN = 0.6, 0.98  # how much is done once the sections are drawn, and once all papers are set; roughly
_Sheet = Callable[["Plan", float], list[Flowable]]


@dataclass(frozen=True)
class Section:
    """A section of the packet.

    Attributes
    ----------
    title : str
        Its title, for when it can't be worked out. [-]
    sheet : callable
        Builds it, given the plan and the width of the page. [-]
    new_page : bool
        Whether it begins a page. [-]
    columns : bool
        Whether its pages have two columns. [-]
    """

    title: str
    sheet: _Sheet
    new_page: bool = True
    columns: bool = False


def _templates(plan: Plan, width: float) -> list[Flowable]:
    """Build the templates, whose pages are filled to their foot: a width belongs to one paper only."""
    paper = next(name for name in PAPERS if frame_size(name)[0] == width)
    return templates_sheet(plan, *frame_size(paper, bars=True))


SHEETS: tuple[Section, ...] = (
    Section("Overview", overview_sheet),
    Section("Readings", readings_sheet),
    Section("Clearance", clearance_sheet, new_page=False),
    Section("The space inside", space_sheet, new_page=False),
    Section("Weight", weight_sheet, new_page=False),
    Section("Parts", parts_sheet, new_page=False),
    Section("Strips", strips_sheet, new_page=False),
    Section("Drills and holes", drilling_sheet, new_page=False),
    Section("Holes to mark out", marking_sheet, new_page=False),
    Section("Templates", _templates),
    Section("Cut plan", cuts_sheet),
    Section("Sheet layout", layout_sheet, new_page=False),
    Section("Light and wiring", light_sheet),
    Section("Sound", sound_sheet),
    Section("Build order", order_sheet),
    Section("Cautions", cautions_sheet, new_page=False),
    Section("Where each number comes from", figures_sheet, columns=True),
)


def packet_pdf(plan: Plan, paper: str = "A4", date: str = "") -> bytes:
    """Return the packet as a PDF; the same plan gives the same bytes.

    Parameters
    ----------
    plan : Plan
        The plan; a section it can't give says why in a sentence. [-]
    paper : {"A4", "Letter"}
        The paper. [-]
    date : str
        A date to print on the card and at the foot of each page; none when empty. [-]

    Returns
    -------
    bytes
        The PDF. [-]

    Raises
    ------
    UnknownChoice
        If the paper is neither.

    References
    ----------
    ISO 216 and ANSI/ASME Y14.1 for the paper; ISO 32000-1 for the file.
    """
    return at_once(packet_pdf_in_steps(plan, paper, date))


def packet_pdf_in_steps(plan: Plan, paper: str = "A4", date: str = "") -> InSteps[bytes]:
    """Return the packet as `packet_pdf` does, one section after the other.

    Parameters
    ----------
    plan : Plan
        The plan. [-]
    paper : {"A4", "Letter"}
        The paper. [-]
    date : str
        A date to print; none when empty. [-]

    Yields
    ------
    Progress
        Before each section, and before they are set on pages. [-]

    Returns
    -------
    bytes
        The PDF. [-]

    Raises
    ------
    UnknownChoice
        If the paper is neither.

    References
    ----------
    `packet_pdf`.
    """
    guard = Guard()
    yield Progress("Drawing the bench card")
    card = bench_card(plan, paper, guard, date)
    built = []
    for number, each in enumerate(SHEETS, start=1):
        yield Progress(f"Drawing {each.title}", BUILT * number / len(SHEETS))
        built.append((each, guard.section(partial(each.sheet, plan, frame_size(paper)[0]))))
    yield Progress(f"Setting the pages, {paper}", BUILT)
    sections = [(section, _titled(section, content)) for section, content in built if content]
    titles = headings_in([each for _, content in sections for each in content])
    story, broken = list(card), True
    for section, content in sections:
        true_size = _has_true_size(content)
        breaks = broken or true_size or section.new_page
        story += [NextPageTemplate(TRUE_SIZE if true_size else COLUMNS if section.columns else PLAIN_PAGE)]
        story += [PageBreak() if breaks else CondPageBreak(frame_size(paper)[1] / 3), *content]
        story += contents(titles[1:], frame_size(paper)[0]) if section is SHEETS[0] else []
        broken = true_size
    return bind(story, paper, plan.job.name, date)


def _titled(section: Section, content: list[Flowable]) -> list[Flowable]:
    """Put the title above what is only the sentence that says why a section can't be worked out."""
    alone = len(content) == 1 and not isinstance(content[0], KeepTogether)
    return [words(section.title, PAGE), *content] if alone else content


def _has_true_size(content: Sequence[Flowable]) -> bool:
    """Whether a section holds a drawing to measure or cut from, so that its pages keep room for check bars."""
    for each in content:
        if isinstance(each, Sketch) and each.true_size:
            return True
        if isinstance(each, KeepTogether) and _has_true_size(held_in(each)):
            return True
    return False


def write_packet(plan: Plan, folder: str | os.PathLike[str], paper: str | None = None, date: str = "") -> list[Path]:
    """Write the packet, a PDF for A4 and one for Letter, or only the paper asked for.

    Parameters
    ----------
    plan : Plan
        The plan. [-]
    folder : str or path
        Where to; made if it is not there. [-]
    paper : {"A4", "Letter"} or None
        The paper; None for one file of each. [-]
    date : str
        A date to print on the card and at the foot of each page; none when empty. [-]

    Returns
    -------
    list of Path
        The files written, named after the job. [-]

    Raises
    ------
    UnknownChoice
        If the paper is neither.
    JobError
        If a file can't be written; an older one of that name is untouched.

    References
    ----------
    POSIX ``rename``: replacing a file is atomic.
    """
    return at_once(write_packet_in_steps(plan, folder, paper, date))


def write_packet_in_steps(
    plan: Plan, folder: str | os.PathLike[str], paper: str | None = None, date: str = ""
) -> InSteps[list[Path]]:
    """Write the packet as `write_packet` does, one section after the other; no file is there before all are made.

    Parameters
    ----------
    plan : Plan
        The plan. [-]
    folder : str or path
        Where to; made if it is not there. [-]
    paper : {"A4", "Letter"} or None
        The paper; None for one file of each. [-]
    date : str
        A date to print; none when empty. [-]

    Yields
    ------
    Progress
        Before each section of each paper, and before the files are written. [-]

    Returns
    -------
    list of Path
        The files written. [-]

    Raises
    ------
    UnknownChoice, JobError
        As `write_packet`.

    References
    ----------
    `write_packet`.
    """
    papers = list(PAPERS) if paper is None else [next(n for n, size in PAPERS.items() if size == paper_size(paper))]
    # All are made before the first is written, so that a fault leaves no packet of one paper beside an older other.
    contents: dict[str, bytes] = {}
    for number, each in enumerate(papers):
        made = packet_pdf_in_steps(plan, each, date)
        content = yield from part_of(made, WRITTEN * number / len(papers), WRITTEN * (number + 1) / len(papers))
        contents[f"{file_name(plan.job.name)}-{each.lower()}.pdf"] = content
    yield Progress("Writing the files", WRITTEN)
    return [write_into(folder, name, content, "the packet", plan.job.name) for name, content in contents.items()]

"""The packet: the bench card, and behind it everything it rests on, as one PDF for each paper."""

from __future__ import annotations

import os
from collections.abc import Callable
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING, Literal

from reportlab.platypus import CondPageBreak, Flowable, KeepTogether, NextPageTemplate, PageBreak

from modelmath.drawings.sheets.card import bench_card
from modelmath.drawings.sheets.cuts import cuts_sheet
from modelmath.drawings.sheets.guard import Guard
from modelmath.drawings.sheets.laid_out import layout_sheet
from modelmath.drawings.sheets.light import light_sheet
from modelmath.drawings.sheets.made import parts_sheet, strips_sheet
from modelmath.drawings.sheets.measured import clearance_sheet, elevation_sheet, readings_sheet
from modelmath.drawings.sheets.order import cautions_sheet, figures_sheet, order_sheet
from modelmath.drawings.sheets.paper import PAPERS, PLAIN_PAGE, bind, frame_size, paper_size
from modelmath.drawings.sheets.sound import sound_sheet
from modelmath.drawings.sheets.space import marking_sheet, space_sheet, weight_sheet
from modelmath.drawings.sheets.style import PAGE, words
from modelmath.errors import JobError
from modelmath.files import file_name, write_whole

if TYPE_CHECKING:
    from modelmath.job import Plan

Paper = Literal["A4", "Letter"]
_Sheet = Callable[["Plan", float], list[Flowable]]
# Title for when the section fails, the section, and whether it begins a page.
SHEETS: tuple[tuple[str, _Sheet, bool], ...] = (
    ("Side elevation", elevation_sheet, True),
    ("Readings", readings_sheet, False),
    ("Clearance", clearance_sheet, False),
    ("The space inside", space_sheet, True),
    ("Parts", parts_sheet, True),
    ("Strips", strips_sheet, False),
    ("Cut plan", cuts_sheet, False),
    ("Sheet layout", layout_sheet, False),
    ("Holes to mark out", marking_sheet, False),
    ("Weight", weight_sheet, False),
    ("Sound", sound_sheet, True),
    ("Light and wiring", light_sheet, True),
    ("Build order", order_sheet, True),
    ("Where each number comes from", figures_sheet, True),
    ("Cautions", cautions_sheet, False),
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
        A date to print on the card; none when empty. [-]

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
    width = frame_size(paper)[0]
    guard = Guard()
    story = [*bench_card(plan, paper, guard, date), NextPageTemplate(PLAIN_PAGE)]
    for title, sheet, new_page in SHEETS:
        built = guard.section(partial(sheet, plan, width))
        if len(built) == 1 and not isinstance(built[0], KeepTogether):  # only the sentence that says why
            built = [words(title, PAGE), *built]
        story += [PageBreak() if new_page else CondPageBreak(frame_size(paper)[1] / 3), *built]
    return bind(story, paper, plan.job.name)


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
        A date to print on the card; none when empty. [-]

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
    papers = list(PAPERS) if paper is None else [next(n for n, size in PAPERS.items() if size == paper_size(paper))]
    place = Path(folder)
    contents = {
        place / f"{file_name(plan.job.name)}-{each.lower()}.pdf": packet_pdf(plan, each, date) for each in papers
    }
    for file, content in contents.items():
        try:
            place.mkdir(parents=True, exist_ok=True)
            write_whole(file, content)
        except OSError as fault:
            reason = (fault.strerror or "the folder refuses").lower()
            problem = f"the packet can't be written: {reason}"
            raise JobError(str(file), "", problem, "choose another folder") from None
    return list(contents)

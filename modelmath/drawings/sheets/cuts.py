"""The cut plan of the packet: stops, strips, what is cut from sheet, what to buy; and a PDF of it alone."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import TYPE_CHECKING, Any, Protocol

from reportlab.lib.units import mm
from reportlab.platypus import CondPageBreak, Flowable, KeepTogether, NextPageTemplate

from modelmath.drawings.figures.bars import strip_bars
from modelmath.drawings.figures.stops import figures_of_stops
from modelmath.drawings.sheets.laid_out import layout_sheet
from modelmath.drawings.sheets.minding import cautioned
from modelmath.drawings.sheets.paper import PLAIN_PAGE, bind, frame_size
from modelmath.drawings.sheets.sketch import Sketch
from modelmath.drawings.sheets.style import BODY, NOTE, PAGE, SECTION, SIZE, SMALL, STRONG, gap, table, words
from modelmath.drawings.sizes import in_mm, sentence
from modelmath.drawings.template import letter_of
from modelmath.errors import OutOfRange
from modelmath.job.several import for_models

if TYPE_CHECKING:
    from modelmath.clearance import Marks
    from modelmath.cutting import CutPlan
    from modelmath.cutting.from_drawer import Cutting
    from modelmath.job.sheet_stock import SheetAnswer

SMALLER = 0.8  # of a figure whose letters are made for the screen


class Cuttable(Protocol):
    """What the sheets of a cut plan show: a job's plan has all of it, and so has a list of parts."""

    @property
    def cuts(self) -> CutPlan:
        """Cuts from strip. [mm]"""

    @property
    def sheet_layout(self) -> SheetAnswer:
        """Cuts from sheet. [mm]"""

    @property
    def marks(self) -> Marks:
        """The rule the stops are set with. [-]"""

    @property
    def to_buy(self) -> tuple[str, ...]:
        """The shopping list. [-]"""

    @property
    def models(self) -> int:
        """How many models all of it is for. [-]"""


@dataclass(frozen=True)
class ListedCuts:
    """The cuts of listed parts, as the sheets show them.

    Attributes
    ----------
    cutting : Cutting
        Cuts from strip and sheet. [mm]
    marks : Marks
        The rule the stops are set with. [-]
    reason : str
        What is not laid out, and why. [-]
    models : int
        How many models they are for. [-]
    """

    cutting: Cutting
    marks: Marks
    reason: str = ""
    models: int = 1

    @property
    def cuts(self) -> CutPlan:
        """Cuts from strip. [mm]"""
        return self.cutting.strips

    @property
    def sheet_layout(self) -> SheetAnswer:
        """Cuts from sheet. [mm]"""
        from modelmath.job.sheet_stock import SheetAnswer

        return SheetAnswer(self.cutting.layout, self.reason)

    @property
    def to_buy(self) -> tuple[str, ...]:
        """The shopping list. [-]"""
        from modelmath.job.buying import to_buy

        return to_buy(self.cuts, self.cutting.layout)


def cutting_pdf(plan: Cuttable, paper: str, title: str) -> bytes:
    """Return the cut plan and the sheet layout alone as a PDF; the same plan gives the same bytes.

    Parameters
    ----------
    plan : Cuttable
        The cuts. [mm]
    paper : {"A4", "Letter"}
        The paper. [-]
    title : str
        What is cut. [-]

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
    width, height = frame_size(paper)
    laid: Sequence[Flowable] = layout_sheet(plan, width)
    pages = [NextPageTemplate(PLAIN_PAGE), *cuts_sheet(plan, width), CondPageBreak(height / 3), *laid]
    return bind(pages, paper, title)


def cuts_sheet(plan: Cuttable, width: float) -> list[Flowable]:
    """Build the cut plan: stop settings, strips as bars, what is cut from sheet, how good the plan is, what to buy.

    Parameters
    ----------
    plan : Cuttable
        The plan. [-]
    width : float
        Width of the page inside its margins. [pt]

    Returns
    -------
    list of Flowable
        The section. [-]

    References
    ----------
    `plan_cuts`.
    """
    cuts = plan.cuts
    by_stock = table(("Stock", "What", "Parts", "Left over"), _by_stock(plan), _widths(width))
    bars = [Sketch(bar, 1.0) for bar in strip_bars(cuts, width)]
    on_rule = [Sketch(each, SMALLER) for each in figures_of_stops(cuts.stops, plan.marks, width / SMALLER)]
    saw = f"{in_mm(cuts.kerf_mm)} lost at each cut" if cuts.kerf_mm else "nothing lost at a cut"
    kerf = f"The letters are the stops above; {saw}, {in_mm(cuts.end_trim_mm)} trimmed off one end."
    shopping = [words(sentence(each), BODY) for each in plan.to_buy]
    if cuts.made_up:
        shopping.append(words(cuts.made_up_text, BODY))
    heading = [words("Strips, in proportion", SECTION), words(kerf, NOTE), gap(1.5)]
    return [
        words(f"Cut plan{for_models(plan.models)}", PAGE),
        _stops(plan, cuts, width),
        *([KeepTogether([words("The stops on the rule", SECTION), on_rule[0]]), *on_rule[1:]] if on_rule else []),
        *([KeepTogether([*heading, *bars[:1]]), *bars[1:]] if bars else []),
        *([words("Cut list by stock", SECTION), by_stock] if cuts.strips else []),
        *_from_sheet(plan, cuts, width),
        KeepTogether(
            [
                words(f"To buy{for_models(plan.models)}", SECTION),
                *(shopping or [words("Nothing: the drawer has all of it.", BODY)]),
                gap(1.5),
                words(sentence(cuts.verdict), STRONG),
                *(words(f"{name}: {text}", SMALL) for name, text in cuts.goals),
                gap(1.5),
                *cautioned("knife", *(("saw",) if cuts.kerf_mm else ())),
            ]
        ),
    ]


def _widths(width: float) -> list[float]:
    return [20 * mm, 52 * mm, width - 107 * mm, 35 * mm]


def _by_stock(plan: Cuttable) -> list[list[Any]]:
    """Return what is cut from each strip, and what is left of it."""
    rows: list[list[Any]] = []
    for strip in plan.cuts.strips:
        parts = Counter((cut.part, cut.length_mm) for cut in strip.cuts)
        listed = "; ".join(f"{count} × {part} {in_mm(length)}" for (part, length), count in parts.items())
        what = f"{strip.stock_name}, {in_mm(strip.length_mm)}, {strip.kind}"
        left = f"{in_mm(strip.offcut_mm)}, {'keep' if strip.kept else 'scrap'}" if strip.offcut_mm else "nothing"
        rows.append([words(f"strip {strip.number}", STRONG), words(what, SMALL), words(listed, SMALL), left])
    return rows


def _from_sheet(plan: Cuttable, cuts: CutPlan, width: float) -> list[Flowable]:
    """Return each strip to cut off a sheet, and the pieces to cut from it."""
    if not cuts.sheets:
        return []
    letters = {stop.length_mm: letter_of(number) for number, stop in enumerate(cuts.stops)}
    rows: list[list[Any]] = []
    for strip in cuts.sheets:
        wide: list[Flowable] = [words(strip.sheet.name, STRONG)]
        if strip.width_mm is not None:
            wide += [words(f"{in_mm(strip.width_mm)} wide", SIZE), *_setting(plan, strip.width_mm)]
        pieces = [
            words(f"{letters[each.length_mm]}: {each.count} × {each.name}, {in_mm(each.length_mm)}", BODY)
            for each in strip.blanks
        ]
        rows.append([wide, pieces, strip.text])
    widths = [46 * mm, 62 * mm, width - 108 * mm]
    cut = table(("Sheet", "Pieces, at the stops above", "What to do"), rows, widths)
    return [KeepTogether([words("Cut from sheet", SECTION), cut])]


def _setting(plan: Cuttable, width_mm: Fraction) -> list[Flowable]:
    """Return where to set the rule for a width; nothing where it is wider than the rule is long."""
    try:
        return [words(f"set the rule at {plan.marks.setting(width_mm).text}", SMALL)]
    except OutOfRange:
        return []


def _stops(plan: Cuttable, cuts: CutPlan, width: float) -> Flowable:
    rows: list[list[Any]] = []
    for number, stop in enumerate(cuts.stops):
        pieces: dict[tuple[str, str], int] = {}
        for strip, part in stop.cuts:
            pieces[part, f"strip {strip}"] = pieces.get((part, f"strip {strip}"), 0) + 1
        for source, part in stop.elsewhere:
            pieces[part, source] = pieces.get((part, source), 0) + 1
        text = "; ".join(f"{count} × {part} from {source}" for (part, source), count in pieces.items())
        try:
            setting = plan.marks.setting(stop.length_mm).text
        except OutOfRange:
            setting = "longer than the rule"
        rows.append([words(letter_of(number), STRONG), words(setting, SIZE), in_mm(stop.length_mm), text])
    widths = [13 * mm, 46 * mm, 24 * mm, width - 83 * mm]
    return table(("Stop", "Set the rule at", "Length", "Pieces, all at this stop before it is moved"), rows, widths)

"""The sheet layout of the packet: each sheet with its snaps numbered, and the snaps in words."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from reportlab.lib.units import mm
from reportlab.platypus import Flowable, KeepTogether

from modelmath.drawings.figures.sheet_snaps import sheet_snaps
from modelmath.drawings.sheets.minding import cautioned
from modelmath.drawings.sheets.sketch import Sketch
from modelmath.drawings.sheets.style import BODY, NOTE, PAGE, SMALL, STRONG, gap, table, words
from modelmath.drawings.sizes import in_mm, sentence
from modelmath.errors import OutOfRange
from modelmath.job.several import for_models

if TYPE_CHECKING:
    from modelmath.cutting.sheet_layout import CutSheet
    from modelmath.drawings.sheets.cuts import Cuttable

TALLEST = 92 * mm  # of a sheet's drawing: drawing and snaps then share a page
MOST_TOGETHER = 16  # snaps that stand on one page with their drawing
SMALLER = 0.8  # of a figure whose letters are made for the screen


def layout_sheet(plan: Cuttable, width: float) -> list[Flowable]:
    """Build the sheet layout: drawings, snaps in order, how good it is. Empty if nothing is of sheet.

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
    `lay_out_sheet`.
    """
    answer = plan.sheet_layout
    layout, reason = answer.layout, answer.reason
    if layout is None and not reason:
        return []
    head: list[Flowable] = [words(f"Sheet layout{for_models(plan.models)}", PAGE)]
    found: list[Flowable] = []
    if layout is not None:
        how = "Score along each dashed line and snap, in the order of the numbers; each parts its panel right across."
        head += [words(sentence(layout.verdict), STRONG), words(how, NOTE), *cautioned("knife")]  # above: never alone
        for sheet in layout.sheets:
            wide = min(width, TALLEST * float(sheet.length_mm / sheet.width_mm))
            sketch = Sketch(sheet_snaps(sheet, wide / SMALLER), SMALLER)
            drawn, snaps = [*head, gap(2), sketch, gap(1)], _snaps(plan, sheet, width)
            together = len(sheet.snaps) <= MOST_TOGETHER
            found += [KeepTogether([*drawn, snaps])] if together else [KeepTogether(drawn), snaps]
            head = []
    found += head
    if reason:
        found.append(words(reason, BODY))
    return found


def _snaps(plan: Cuttable, sheet: CutSheet, width: float) -> Flowable:
    rows: list[list[Any]] = []
    for snap in sheet.snaps:
        try:
            setting = plan.marks.setting(snap.at_mm).text
        except OutOfRange:
            setting = "longer than the rule"
        where = f"{in_mm(snap.at_mm)} from the {snap.from_edge}"
        rows.append([words(str(snap.number), STRONG), setting, where, words(snap.frees_text or "—", SMALL)])
    widths = [13 * mm, 52 * mm, 56 * mm, width - 121 * mm]
    close = [("TOPPADDING", (0, 0), (-1, -1), 0.6), ("BOTTOMPADDING", (0, 0), (-1, -1), 1.2)]
    return table(("Snap", "Set the rule at", "Line", "Frees"), rows, widths, close)

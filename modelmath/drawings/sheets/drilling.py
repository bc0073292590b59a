"""Drills and holes: every hole by its wall with the drill it takes, and what else is drilled."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from reportlab.lib.units import mm
from reportlab.platypus import Flowable

from modelmath.drawings.cutting.pieces import flat_pieces
from modelmath.drawings.sheets.minding import cautioned
from modelmath.drawings.sheets.style import BODY, PAGE, SECTION, SIZE, STRONG, table, words
from modelmath.drawings.sizes import in_mm
from modelmath.errors import DoesNotFit

if TYPE_CHECKING:
    from modelmath.job import Plan
    from modelmath.job.holes import HoleLine

ON_LINE_MM = 0.005  # what is nearer to the centre line is on it
MORE_DRILLS = 3  # that would do as well, the next larger first
INTRO = "Places count from the part's left edge, from its centre line and from its lower edge, seen from the front."


def drilling_sheet(plan: Plan, width: float) -> list[Flowable]:
    """Build the drills, and every hole with its drill and its place. Empty where nothing is drilled.

    Parameters
    ----------
    plan : Plan
        The plan. [-]
    width : float
        Width of the page inside its margins. [pt]

    Returns
    -------
    list of Flowable
        The section. [-]

    References
    ----------
    `pick_drill`, `lay_out_holes`.
    """
    if not plan.holes:
        return []
    rows = [_drill(hole) for hole in plan.holes]
    widths = [26 * mm, 22 * mm, 62 * mm, width - 110 * mm]
    found: list[Flowable] = [words("Drills and holes", PAGE)]
    found.append(table(("Drill", "Hole", "For", "Would do as well"), rows, widths))
    holes = _holes(plan)
    if holes:
        found += [words("Holes one by one", SECTION), words(INTRO, BODY)]
        columns = [32 * mm, 14 * mm, width - 140 * mm, 24 * mm, 22 * mm, 26 * mm, 22 * mm]
        found.append(table(("In", "Hole", "For", "Drill", "From left", "From centre", "Up"), holes, columns))
    return [*found, *cautioned("small drills")]


def _drill(hole: HoleLine) -> list[Any]:
    what = f"{hole.count} × {hole.name}, {hole.kind} of {in_mm(hole.diameter_mm)}"
    others = ", ".join(pick.name for pick in hole.picks[1 : 1 + MORE_DRILLS])
    return [words(hole.drill.name, SIZE), f"{hole.drill.diameter_mm:.3f} mm", what, others or "—"]


def _holes(plan: Plan) -> list[list[Any]]:
    rows: list[list[Any]] = []
    try:
        pieces = flat_pieces(plan)
    except DoesNotFit:  # the card says why; the drills are needed all the same
        return []
    for piece in pieces:
        for hole in piece.holes:
            drill = hole.drill or f"{hole.diameter_mm:.2f} mm"
            tag = words(hole.tag or "—", STRONG)
            places = (f"{hole.x_mm:.2f} mm", _from_centre(hole.x_mm - piece.middle_mm), f"{hole.y_mm:.2f} mm")
            rows.append([piece.name, tag, hole.passes, drill, *places])
    return rows


def _from_centre(right_mm: float) -> str:
    """Return how far a hole is from the centre line, and to which side."""
    if abs(right_mm) < ON_LINE_MM:
        return "on it"
    return f"{abs(right_mm):.2f} mm {'right' if right_mm > 0 else 'left'}"

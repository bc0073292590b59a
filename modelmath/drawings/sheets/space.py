"""The space inside in the packet: free depth along the length, sections and plan, holes to mark out, weight."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING, Any

from reportlab.lib.units import mm
from reportlab.platypus import Flowable, KeepTogether, Table, TableStyle

from modelmath.drawings.sheets.sketch import Sketch
from modelmath.drawings.sheets.style import BODY, NOTE, PAGE, PLAIN, SECTION, gap, height_of, table, words
from modelmath.lengths.text import format_length

if TYPE_CHECKING:
    from modelmath.drawings.shapes import Drawing
    from modelmath.job import Plan
    from modelmath.job.space.skyline import FreeStretch

SHEET_WIDTH = 640.0  # of the skyline's drawing
SMALLER = 0.7  # of figures whose letters are made for the screen: about 9 pt on paper
HIGHEST = 215 * mm


def space_sheet(plan: Plan, width: float) -> list[Flowable]:
    """Build the free depth along the length, the section at the bulkhead and the plan. Empty while lengths are missing.

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
    JCGM 100:2008 for ±, one standard uncertainty.
    """
    if not plan.skyline:
        return []
    return [words("The space inside", PAGE), *_depths(plan, width), *_volumes(plan, width), *_views(plan, width)]


def _depths(plan: Plan, width: float) -> Iterator[Flowable]:
    from modelmath.drawings.charts.skyline import SkylineStretch, skyline_figure

    stretches = [
        SkylineStretch(
            each.name,
            float(each.start_mm),
            float(each.end_mm),
            float(each.free.exact_mm),
            each.free.u_mm,
            max(each.edge_u_mm),
            each.moving,
        )
        for each in plan.skyline
    ]
    yield _sketch(skyline_figure(stretches, SHEET_WIDTH, plan.mark_name), width)
    rows = [_row(each) for each in plan.skyline]
    widths = [width - 120 * mm, 40 * mm, 40 * mm, 40 * mm]
    yield table(("Over", "From the mark", "To", "Free depth"), rows, widths)
    yield gap(1.5)
    for gap_along in plan.along_gaps:
        yield words(gap_along.in_words, BODY)
    if plan.sounding is not None:
        yield words(plan.sounding.in_words, BODY)


def _row(each: FreeStretch) -> list[str]:
    ends = [format_length(place, "mm") for place in (each.start_mm, each.end_mm)]
    return [each.name, *ends, format_length(each.free.value, "mm")]


def _views(plan: Plan, width: float) -> Iterator[Flowable]:
    from modelmath.drawings.figures.views.from_above import plan_of_model
    from modelmath.drawings.figures.views.from_the_end import end_view

    if plan.chamber is None:
        return
    places = ["bulkhead"] * any(part.kind == "wall" for part in plan.parts)
    places += ["speaker"] * (plan.chamber.seat_mm is not None)
    for place in places:
        yield KeepTogether([words(f"Section at the {place}", SECTION), _sketch(end_view(plan, place), width)])
    yield KeepTogether([words("From above", SECTION), _sketch(plan_of_model(plan), width)])
    yield words("In true proportion, not at true size: do not measure from it.", NOTE)


def _sketch(drawing: Drawing, width: float) -> Sketch:
    return Sketch(drawing, min(width / drawing.width, SMALLER, HIGHEST / drawing.height))


def _volumes(plan: Plan, width: float) -> Iterator[Flowable]:
    net = plan.net_volume
    if net is None:
        return
    rows = [[each.name, f"{float(each.volume_mm3) / 1000:.3f} cm3", each.note] for each in net.shares]
    content: list[Flowable] = [words("Gross and net volume", SECTION)]
    content.append(words(f"{net.text[:1].upper()}{net.text[1:]}.", BODY))
    if rows:
        widths = [50 * mm, 30 * mm, width - 80 * mm]
        content += [gap(1), table(("Takes its share", "Volume", "How far it is known"), rows, widths)]
    yield KeepTogether(content)


def marking_sheet(plan: Plan, width: float) -> list[Flowable]:
    """Build where each hole is marked out on each wall. Empty where nothing passes a wall.

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
    `lay_out_holes`.
    """
    from modelmath.drawings.figures.views.holes import holes_figure

    found: list[Flowable] = []
    for wall in plan.hole_places:
        drawing = holes_figure(wall)
        lines: list[Flowable] = [words(sentence, BODY) for sentence in wall.sentences]
        shown = lines if drawing is None else _with_lines(_sketch(drawing, width), lines, width)
        title = [] if found else [words("Holes to mark out", PAGE)]  # it goes over with the first wall
        found.append(KeepTogether([*title, words(f"Holes in the {wall.wall}", SECTION), *shown]))
    return found


def _with_lines(figure: Sketch, lines: list[Flowable], width: float) -> list[Flowable]:
    """Put lines beside a figure where they are no higher than it, else below it."""
    beside = width - figure.width - 5 * mm
    if beside < 50 * mm or height_of(lines, beside) > figure.height:
        return [figure, gap(1.5), *lines]
    style: list[tuple[Any, ...]] = [("FONTNAME", (0, 0), (-1, -1), PLAIN), ("VALIGN", (0, 0), (-1, -1), "TOP")]
    style += [(f"{side}PADDING", (0, 0), (-1, -1), 0) for side in ("LEFT", "RIGHT", "TOP", "BOTTOM")]
    cells = [[figure, "", [gap(1), *lines]]]
    return [Table(cells, colWidths=[figure.width, 5 * mm, beside], style=TableStyle(style), hAlign="LEFT")]


def weight_sheet(plan: Plan, width: float) -> list[Flowable]:
    """Build what each truck carries before and after. Empty where the model was not weighed.

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
    The law of the lever.
    """
    if plan.balance is None:
        return []
    return [KeepTogether([words("Weight", PAGE), *(words(each, BODY) for each in plan.balance.in_words)])]

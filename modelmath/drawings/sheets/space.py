"""The space inside in the packet: free depth along the length, sections and plan, holes to mark out, weight."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING, Any

from reportlab.lib.units import mm
from reportlab.platypus import Flowable, KeepTogether, Table, TableStyle

from modelmath.drawings.sheets.minding import cautioned
from modelmath.drawings.sheets.sketch import Sketch
from modelmath.drawings.sheets.style import BODY, NOTE, PAGE, PLAIN, SECTION, gap, height_of, table, words
from modelmath.lengths.text import format_length

if TYPE_CHECKING:
    from modelmath.drawings.shapes import Drawing
    from modelmath.job import Plan
    from modelmath.job.space.skyline import FreeStretch

SHEET_WIDTH = 640.0  # of the skyline's drawing
SMALLER = 0.62  # of figures whose letters are made for the screen: 8 to 9 pt on paper
HIGHEST = 215 * mm
PROPORTION = "In true proportion, not at true size: do not measure from it."


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
    from modelmath.drawings.figures.views.from_above import plan_of_model_and_texts
    from modelmath.drawings.figures.views.from_the_end import end_view_and_texts

    if plan.chamber is None:
        return
    places = ["bulkhead"] * any(part.kind == "wall" for part in plan.parts)
    places += ["speaker"] * (plan.chamber.seat_mm is not None)
    for place in places:
        yield _view(f"Section at the {place}", *end_view_and_texts(plan, place), width)
    drawing, texts = plan_of_model_and_texts(plan)
    yield _view("From above", drawing, (*texts, PROPORTION), width)


def _view(title: str, drawing: Drawing, texts: Sequence[str], width: float) -> Flowable:
    lines: list[Flowable] = [words(each, NOTE) for each in texts]
    return KeepTogether([words(title, SECTION), *_with_lines(_sketch(drawing, width), lines, width)])


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
    from modelmath.drawings.figures.views.holes import holes_figure_and_texts

    found: list[Flowable] = []
    for wall in plan.hole_places:
        found_room = holes_figure_and_texts(wall)
        if found_room is None or wall.layout is None:
            shown: list[Flowable] = [words(sentence, BODY) for sentence in wall.sentences]
        else:
            drawing, texts = found_room
            lines = [words(each, NOTE) for each in (*texts, *wall.layout.sentences)]  # the holes are listed before
            shown = _with_lines(_sketch(drawing, width), [*lines], width)
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
    off = ("metal",) if plan.job.weight and any(each.off for each in plan.job.weight.changes) else ()
    said = [words(each, BODY) for each in plan.balance.in_words]
    return [KeepTogether([words("Weight", PAGE), *said, *cautioned("lead weight", *off)])]

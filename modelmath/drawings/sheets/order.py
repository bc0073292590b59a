"""Behind the card: the build order with its hold points, the cautions, and where each number comes from."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from reportlab.lib.units import mm
from reportlab.platypus import Flowable, FrameBreak, NextPageTemplate

from modelmath.drawings.charts.build_times import build_times_figure
from modelmath.drawings.sheets.minding import cautioned
from modelmath.drawings.sheets.paper import MORE_COLUMNS
from modelmath.drawings.sheets.sketch import Sketch
from modelmath.drawings.sheets.style import (
    BODY,
    BOX,
    NOTE,
    PAGE,
    SECTION,
    SIZE,
    STRONG,
    TICKED,
    WASH,
    gap,
    named,
    table,
    words,
)
from modelmath.job.building.checklist import check_key, progress_of
from modelmath.job.cautions import cautions

if TYPE_CHECKING:
    from modelmath.job import Plan
    from modelmath.job.building.checklist import Progress
    from modelmath.job.building.step import Step
    from modelmath.job.why.figures import Figure

CHART_WIDTH, SMALLER = 560.0, 0.575  # of a chart whose letters are made for the screen: 8 pt on paper
NUMBER = 14 * mm  # column of the steps' numbers and boxes
READ = "Each figure with its value, how it comes about, the figures it follows from, and in brackets its source."
MOST_NAMES, LONG_NAME = 16, 60  # of the figures that a figure follows from, to keep its row on the page
DEFER = (
    "These are the usual cautions. They do not replace the labels and safety data sheets of what you use, the makers' "
    "own instructions, local codes or licensed practice; where they differ, those hold."
)


def order_sheet(plan: Plan, width: float) -> list[Flowable]:
    """Build the build order as a check list, and when each step is done; a caution stands at the first step it is for.

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
    `build_order`, `one_pair_of_hands`.
    """
    told: dict[str, int] = {}
    progress = progress_of(plan)
    rows: list[list[Any]] = []
    more: list[tuple[Any, ...]] = []
    for place, step in enumerate(plan.steps):
        box = TICKED if step.key in progress.done else BOX
        rows.append([words(f"{step.number} {box}", SIZE), _step(step, told, progress)])
        if step.hold:
            more.append(("BACKGROUND", (0, place), (-1, place), WASH))
    more += [
        ("LEFTPADDING", (0, 0), (0, -1), 5),
        ("TOPPADDING", (0, 0), (-1, -1), 3),
        ("BOTTOMPADDING", (0, 0), (-1, -1), 4),
    ]
    intro = "At a grey step, stop until every box is ticked; nothing is bonded for good before the dry fit is right."
    listed = table((), rows, [NUMBER, width - NUMBER], more)
    return [
        words("Build order", PAGE),
        *_times(progress),
        words("Step by step", SECTION),
        words(intro, BODY),
        gap(2),
        listed,
    ]


def _times(progress: Progress) -> list[Flowable]:
    """Build when each step that is left is done, and how long it takes in all."""
    if not progress.left:
        return [words(progress.in_words, STRONG)]
    numbers = {step.key: step.number for step in progress.steps}
    chart = build_times_figure(progress.left, numbers, progress.critical, CHART_WIDTH)
    said = words(progress.time_in_words, BODY)
    return [said, gap(1), Sketch(chart, SMALLER)]


def _step(step: Step, told: dict[str, int], progress: Progress) -> list[Flowable]:
    lines: list[Flowable] = [words(f"{'Hold. ' if step.hold else ''}{step.text}", STRONG if step.hold else BODY)]
    boxes = [TICKED if check_key(step, check) in progress.ticked else BOX for check in step.checks]
    lines += [words(f"{box}  {check}", BODY) for box, check in zip(boxes, step.checks, strict=True)]
    again = [topic for topic in step.topics if topic in told]
    lines += cautioned(*(topic for topic in step.topics if topic not in told))
    for topic in step.topics:
        told.setdefault(topic, step.number)
    if again:
        lines.append(words("Caution, as before: " + ", ".join(f"{each} (step {told[each]})" for each in again), NOTE))
    return lines


def cautions_sheet(_plan: Plan, width: float) -> list[Flowable]:
    """Build the full list of cautions with their sources.

    Parameters
    ----------
    _plan : Plan
        The plan; the list is the same for all. [-]
    width : float
        Width of the page inside its margins. [pt]

    Returns
    -------
    list of Flowable
        The section. [-]

    References
    ----------
    data/cautions.csv.
    """
    rows: list[list[Any]] = [[words(each.topic, STRONG), each.text, each.source] for each in cautions()]
    widths = [31 * mm, width - 81 * mm, 50 * mm]
    close = [("TOPPADDING", (0, 0), (-1, -1), 1.4), ("BOTTOMPADDING", (0, 0), (-1, -1), 2.0)]
    listed = table(("On", "What to do", "Source"), rows, widths, close)
    return [words("Cautions", PAGE), words(DEFER, BODY), gap(2), listed]


def figures_sheet(plan: Plan, width: float) -> list[Flowable]:
    """Build the list of figures, each with what it follows from.

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
    `Plan.explained`.
    """
    told = [named(each.name, _chain(each)) for each in plan.explained.every.values()]
    head = [
        words("Where each number comes from", PAGE),
        words(READ, BODY),
        NextPageTemplate(MORE_COLUMNS),
        FrameBreak(),
    ]
    return [*head, *told]


def _chain(figure: Figure) -> str:
    """Return a figure's value, how it comes about, from which others, and its source."""
    names = figure.follows_from
    kept = [name if len(name) <= LONG_NAME else f"{name[:LONG_NAME]}…" for name in names[:MOST_NAMES]]
    more = f"; and {len(names) - MOST_NAMES} more" if len(names) > MOST_NAMES else ""
    below = f" From: {'; '.join(kept)}{more}." if kept else ""
    return f"{figure.value.rstrip('.')}: {figure.how.rstrip('.')}.{below} [{figure.source}]"

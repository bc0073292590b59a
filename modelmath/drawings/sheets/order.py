"""Behind the card: the build order with its hold points, the cautions, and where each number comes from."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from reportlab.lib.units import mm
from reportlab.platypus import Flowable

from modelmath.drawings.sheets.style import BODY, BOX, NOTE, PAGE, SIZE, SMALL, STRONG, WASH, gap, table, words
from modelmath.job.cautions import cautions, cautions_on

if TYPE_CHECKING:
    from modelmath.job import Plan
    from modelmath.job.building.step import Step

MOST_NAMES, LONG_NAME = 16, 60  # of the figures that a figure follows from, to keep its row on the page
DEFER = (
    "These are the usual cautions. They do not replace the labels and safety data sheets of what you use, the makers' "
    "own instructions, local codes or licensed practice; where they differ, those hold."
)


def order_sheet(plan: Plan, width: float) -> list[Flowable]:
    """Build the build order; a caution stands at the first step where it matters.

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
    `build_order`.
    """
    told: dict[str, int] = {}
    rows: list[list[Any]] = []
    more: list[tuple[Any, ...]] = []
    for place, step in enumerate(plan.steps):
        rows.append([words(str(step.number), SIZE), _step(step, told)])
        if step.hold:
            more.append(("BACKGROUND", (0, place), (-1, place), WASH))
    more += [
        ("LEFTPADDING", (0, 0), (0, -1), 5),
        ("TOPPADDING", (0, 0), (-1, -1), 3),
        ("BOTTOMPADDING", (0, 0), (-1, -1), 4),
    ]
    intro = "At a grey step, stop until every box is ticked; nothing is bonded for good before the dry fit is right."
    return [words("Build order", PAGE), words(intro, BODY), gap(2), table((), rows, [12 * mm, width - 12 * mm], more)]


def _step(step: Step, told: dict[str, int]) -> list[Flowable]:
    lines: list[Flowable] = [words(f"{'Hold. ' if step.hold else ''}{step.text}", STRONG if step.hold else BODY)]
    lines += [words(f"{BOX}  {check}", BODY) for check in step.checks]
    again = [topic for topic in step.topics if topic in told]
    for caution in cautions_on(*(topic for topic in step.topics if topic not in told)):
        lines.append(words(f"Caution, {caution.topic}: {caution.text}", NOTE))
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
    widths = [30 * mm, width - 80 * mm, 50 * mm]
    return [words("Cautions", PAGE), words(DEFER, BODY), gap(2), table(("On", "What to do", "Source"), rows, widths)]


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
    `Plan.figures`.
    """
    rows: list[list[Any]] = [
        [words(each.name, SMALL), words(each.value, SMALL), _how(each.how, each.follows_from), each.source]
        for each in plan.figures.values()
    ]
    widths = [34 * mm, 37 * mm, width - 106 * mm, 35 * mm]
    return [
        words("Where each number comes from", PAGE),
        table(("Figure", "Value", "How, and from what", "Source"), rows, widths),
    ]


def _how(how: str, follows_from: tuple[str, ...]) -> list[Flowable]:
    lines: list[Flowable] = [words(how, SMALL)]
    if not follows_from:
        return lines
    names = [name if len(name) <= LONG_NAME else f"{name[:LONG_NAME]}…" for name in follows_from[:MOST_NAMES]]
    more = f"; and {len(follows_from) - MOST_NAMES} more" if len(follows_from) > MOST_NAMES else ""
    return [*lines, words(f"from: {'; '.join(names)}{more}", SMALL)]

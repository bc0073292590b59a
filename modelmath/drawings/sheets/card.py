"""The bench card: the first page of the packet, the one that lies beside the vice."""

from __future__ import annotations

from collections.abc import Sequence
from functools import partial
from itertools import chain, product
from typing import TYPE_CHECKING, Any

from reportlab.lib.units import mm
from reportlab.platypus import Flowable, PageBreak, Table, TableStyle

from modelmath.drawings.sheets.guard import Guard
from modelmath.drawings.sheets.paper import frame_size
from modelmath.drawings.sheets.sketch import Sketch
from modelmath.drawings.sheets.style import (
    BIG,
    BODY,
    BOX,
    INK,
    NOTE,
    PLAIN,
    RULE_GREY,
    SECTION,
    SIZE,
    SIZE_RIGHT,
    SMALL,
    SMALL_RIGHT,
    STRONG,
    TITLE,
    WASH,
    gap,
    height_of,
    table,
    words,
)
from modelmath.drawings.sizes import (
    Stop,
    in_mm,
    in_other_units,
    left_over,
    place_of,
    sentence,
    stands_where,
    stops_of,
    with_unit,
)
from modelmath.drawings.template import bulkhead_template, holes_in_words

if TYPE_CHECKING:
    from modelmath.job import Plan

LONG_SETTING = 17  # signs; what is longer is set smaller, to stay on the card
LONG_NAME = 60  # signs; the same for the job's name
GUTTER = 6 * mm
CARE = "Wear eye protection when cutting and drilling; the build order has a caution wherever one matters."


def bench_card(plan: Plan, paper: str, guard: Guard, date: str = "") -> list[Flowable]:
    """Build the bench card; where the template finds no room on it, the page behind it.

    Parameters
    ----------
    plan : Plan
        The plan. [-]
    paper : {"A4", "Letter"}
        The paper. [-]
    guard : Guard
        Gives the reason where a part of the card can't be worked out. [-]
    date : str
        A date to print; none when empty. [-]

    Returns
    -------
    list of Flowable
        The page. [-]

    References
    ----------
    The plan's own figures.
    """
    width, height = frame_size(paper, bars=True)
    upper = [
        *_heading(plan, width, date),
        *_rule(plan, width),
        *guard.section(partial(_gravest, plan, width), again=""),
        *guard.section(partial(_cuts, plan, width), again=""),
        *guard.section(partial(_minding, plan), again=""),
    ]
    column = (width - GUTTER) / 2
    blocks = [guard.section(partial(block, plan, column), again="") for block in (_drills, _places, _checks)]
    template = guard.section(partial(_template, plan), again="")
    return _lay_out(upper, blocks, template, (width, height))


def _lay_out(
    upper: list[Flowable], blocks: list[list[Flowable]], template: list[Flowable], size: tuple[float, float]
) -> list[Flowable]:
    """Put the lower half in two columns where it fits, one below the other where it does not."""
    width, height = size
    column = (width - GUTTER) / 2
    room = height - height_of(upper, width) - 2 * mm
    columns = _balanced(blocks, template, column)
    narrow = max((each.wrap(column, height)[0] for each in template), default=0) <= column
    if narrow and max(height_of(each, column) for each in columns) <= room:
        return [*upper, gap(2), _side_by_side(*columns, column)]
    if not template:
        return [*upper, *chain.from_iterable(blocks)]
    notice = words("The bulkhead at true size is on the next page.", STRONG)
    columns = _balanced(blocks, [gap(3), notice], column)
    if max(height_of(each, column) for each in columns) <= room:
        return [*upper, gap(2), _side_by_side(*columns, column), PageBreak(), *template]
    return [*upper, *chain.from_iterable(blocks), notice, PageBreak(), *template]


def _balanced(
    blocks: list[list[Flowable]], last: list[Flowable], column: float
) -> tuple[list[Flowable], list[Flowable]]:
    """Share blocks between two columns so that the higher one is as low as can be; `last` goes on the right."""

    def shared(to_right: Sequence[bool]) -> tuple[list[Flowable], list[Flowable]]:
        sides: tuple[list[Flowable], list[Flowable]] = ([], list(last))
        for block, right in zip(blocks, to_right, strict=True):
            sides[right].extend(block)
        return sides

    choices = [shared(to_right) for to_right in product((False, True), repeat=len(blocks))]
    return min(choices, key=lambda sides: max(height_of(each, column) for each in sides))


def _side_by_side(left: list[Flowable], right: list[Flowable], column: float) -> Table:
    style = TableStyle(
        [
            ("FONTNAME", (0, 0), (-1, -1), PLAIN),
            ("VALIGN", (0, 0), (-1, -1), "TOP"),
            ("LEFTPADDING", (0, 0), (-1, -1), 0),
            ("RIGHTPADDING", (0, 0), (-1, -1), 0),
            ("TOPPADDING", (0, 0), (-1, -1), 0),
            ("BOTTOMPADDING", (0, 0), (-1, -1), 0),
        ]
    )
    return Table([[left, "", right]], colWidths=[column, GUTTER, column], style=style, hAlign="LEFT")


def _heading(plan: Plan, width: float, date: str) -> list[Flowable]:
    right = [words(f"{plan.scale.name}, 1:{float(plan.scale.ratio):.4g}", SIZE_RIGHT)]
    right += [words(date, SMALL_RIGHT)] if date else []
    style = TableStyle(
        [
            ("FONTNAME", (0, 0), (-1, -1), PLAIN),
            ("VALIGN", (0, 0), (-1, -1), "BOTTOM"),
            ("LEFTPADDING", (0, 0), (-1, -1), 0),
            ("RIGHTPADDING", (0, 0), (-1, -1), 0),
            ("TOPPADDING", (0, 0), (-1, -1), 0),
            ("BOTTOMPADDING", (0, 0), (-1, -1), 4),
            ("LINEBELOW", (0, 0), (-1, -1), 1.2, INK),
        ]
    )
    name = [words("Bench card", SMALL), words(plan.job.name, TITLE if len(plan.job.name) <= LONG_NAME else SIZE)]
    top: list[Flowable] = [Table([[name, right]], colWidths=[width - 40 * mm, 40 * mm], style=style)]
    if plan.job.demo:
        top += [gap(1.5), _framed(words(f"Demo. {plan.job.demo}", NOTE), width)]
    return [*top, gap(2)]


def _framed(content: Any, width: float) -> Table:
    style = TableStyle(
        [
            ("FONTNAME", (0, 0), (-1, -1), PLAIN),
            ("BOX", (0, 0), (-1, -1), 0.6, INK),
            ("LEFTPADDING", (0, 0), (-1, -1), 6),
            ("TOPPADDING", (0, 0), (-1, -1), 2.5),
            ("BOTTOMPADDING", (0, 0), (-1, -1), 3.5),
        ]
    )
    return Table([[content]], colWidths=[width], style=style, hAlign="LEFT")


def _rule(plan: Plan, width: float) -> list[Flowable]:
    rule = plan.marks.rule
    style = TableStyle(
        [
            ("FONTNAME", (0, 0), (-1, -1), PLAIN),
            ("BACKGROUND", (0, 0), (-1, -1), WASH),
            ("VALIGN", (0, 0), (-1, -1), "TOP"),
            ("TOPPADDING", (0, 0), (-1, -1), 4),
            ("BOTTOMPADDING", (0, 0), (-1, -1), 5),
        ]
    )
    finest = f"finest mark {with_unit(plan.job.marking.finest, rule)}"
    left = [words("Mark out with", SMALL), words(rule.name, SIZE), words(finest, SMALL)]
    right = [words(sentence(rule.describe()), BODY), words(stands_where(plan), STRONG)]
    return [Table([[left, right]], colWidths=[40 * mm, width - 40 * mm], style=style, hAlign="LEFT"), gap(2)]


def _cuts(plan: Plan, width: float) -> list[Flowable]:
    """One row for each part; setting, size and box span the parts that share a stop."""
    widths = [49 * mm, 36 * mm, 35 * mm, 0, 25 * mm, 13 * mm]
    widths[3] = width - sum(widths)
    rows: list[list[Any]] = []
    more: list[tuple[Any, ...]] = []
    for stop in stops_of(plan.lines):
        first = len(rows) + 1
        rows += _stop_rows(plan, stop)
        last = len(rows)
        more += [("SPAN", (column, first), (column, last)) for column in (0, 1, 5)]
        more += [("LINEBELOW", (2, first), (4, last - 1), 0.25, RULE_GREY)] if last > first else []
        more += [("LINEBELOW", (0, last), (-1, last), 0.7, INK), ("NOSPLIT", (0, first), (-1, last))]
        more += [("BOX", (5, first), (5, last), 0.7, INK)]
    head = ("Set the rule at", "Cut", "Pieces", "Cut from", "Exact size", "As cut")
    return [table(head, rows, widths, more)]


def _stop_rows(plan: Plan, stop: Stop) -> list[list[Any]]:
    setting = words(stop.setting, BIG if len(stop.setting) <= LONG_SETTING else STRONG)
    size = [words(in_mm(stop.length_mm), SIZE), words(in_other_units(stop.length_mm, plan.scale), SMALL)]
    rows: list[list[Any]] = []
    for number, line in enumerate(stop.lines):
        part = line.part
        pieces = words(f"{part.count} × {part.name}", BODY)
        over = [words(in_mm(part.cut.exact_mm), SMALL), words(left_over(part), SMALL)]
        shared: list[Any] = ["", ""] if number else [setting, size]
        rows.append([*shared, pieces, line.stock_text, over, ""])
    return rows


def _decides(plan: Plan, warning: str) -> bool:
    """Whether a warning decides if anything is cut at all: what does not fit, and what may touch."""
    return warning == plan.gap.verdict or (plan.misfit is not None and warning.startswith(str(plan.misfit)))


def _gravest(plan: Plan, width: float) -> list[Flowable]:
    """What decides whether to cut and glue stands framed, above the cuts."""
    _ = plan.parts  # without parts the only warning is the reason why, which the card gives already
    grave = [words(warning, STRONG) for warning in plan.warnings if _decides(plan, warning)]
    return [_framed(grave, width), gap(1)] if grave else []


def _minding(plan: Plan) -> list[Flowable]:
    _ = plan.parts
    others = [words(f"Mind: {warning}", NOTE) for warning in plan.warnings if not _decides(plan, warning)]
    return [gap(1.5), *others] if others else []


def _drills(plan: Plan, width: float) -> list[Flowable]:
    if not plan.holes:
        return []
    rows = [
        [
            words(hole.drill.name, BIG),
            f"{hole.count} × {hole.name}, {hole.kind} of {in_mm(hole.diameter_mm)}",
            f"{hole.drill.diameter_mm:.3f} mm",
        ]
        for hole in plan.holes
    ]
    widths = [24 * mm, width - 46 * mm, 22 * mm]
    return [words("Drills", SECTION), table(("Drill", "For", "Hole"), rows, widths)]


def _places(plan: Plan, width: float) -> list[Flowable]:
    ends = plan.bench.ends
    # The card has room for the walls; the packet's sheet of parts gives every part's place.
    placed = [line for line in plan.lines if line.part.kind == "wall" and line.part.position_mm is not None]
    if ends is None or not placed:
        return []
    rows = []
    for line in placed:
        setting = line.place.text if line.place else in_mm(abs(line.part.position_mm or 0))
        where = place_of(line, ends.mark)
        big = words(setting, SIZE if len(setting) <= LONG_SETTING else STRONG)
        rows.append([f"{line.part.name}, {line.part.face}", [big, words(where, SMALL)]])
    return [words("Where they stand", SECTION), table((), rows, [32 * mm, width - 32 * mm])]


def _checks(plan: Plan, width: float) -> list[Flowable]:
    """What is measured at the dry fit, each with room to write the result down."""
    hold = next((step for step in plan.steps if step.hold), None)
    if hold is None:
        return []
    over = plan.governing.name
    left = f"room left over {over}, at least {in_mm(plan.gap.kept_mm)}"
    rows: list[list[Any]] = [[[words(in_mm(plan.gap.left_mm), SIZE), words(left, SMALL)], ""]]
    rows += [[check, BOX] for check in hold.checks if "______" not in check]
    box = [("BOX", (1, 0), (1, 0), 0.7, INK), ("ALIGN", (1, 1), (1, -1), "CENTER")]
    boxes = table((), rows, [width - 22 * mm, 22 * mm], box, BODY)
    return [words("Dry fit, before any glue", SECTION), boxes, gap(1), words(CARE, NOTE)]


def _template(plan: Plan) -> list[Flowable]:
    drawing = bulkhead_template(plan)
    if drawing is None:
        return [words("The shell's own ends close the chamber: there is no bulkhead to cut.", BODY)]
    key = [words(each, NOTE) for each in holes_in_words(plan)]
    return [words("Bulkhead, true size", SECTION), Sketch(drawing, mm, true_size=True), gap(1), *key]

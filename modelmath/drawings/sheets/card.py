"""The bench card: the first page of the packet, the one that lies beside the vice; two where it needs more."""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING, Any

from reportlab.lib.units import mm
from reportlab.platypus import Flowable, PageBreak, Table, TableStyle

from modelmath.drawings.sheets.card_pages import GUTTER, HEADING_ROOM, laid_out
from modelmath.drawings.sheets.guard import Guard
from modelmath.drawings.sheets.paper import frame_size
from modelmath.drawings.sheets.sketch import Sketch
from modelmath.drawings.sheets.style import (
    BIG,
    BODY,
    BOX,
    HEAD,
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
from modelmath.drawings.template import SEEN, bulkhead_template, holes_in_words, holes_on, places_of
from modelmath.job.next_model.marked import COPIED

if TYPE_CHECKING:
    from modelmath.job import Plan
    from modelmath.job.space.hole_places import WallHoles

LONG_SETTING = 17  # signs; what is longer is set smaller, to stay on the card
LONG_NAME = 60  # signs; the same for the job's name
CLOSE = (("TOPPADDING", (0, 0), (-1, -1), 1.0), ("BOTTOMPADDING", (0, 0), (-1, -1), 1.6))  # rows of a list of places
TOO_LARGE = (
    "At true size the bulkhead is larger than this paper: mark it out from the sizes above, or take its template."
)
CARE = "Wear eye protection when cutting and drilling; the build order has a caution wherever one matters."


def bench_card(plan: Plan, paper: str, guard: Guard, date: str = "") -> list[Flowable]:
    """Build the bench card: one page, or where it needs more, pages that all begin with its heading.

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
        The page or pages. [-]

    References
    ----------
    The plan's own figures.
    """
    size = frame_size(paper, bars=True)
    width = size[0]
    upper = [
        *_rule(plan, width),
        *guard.section(partial(_gravest, plan, width), again=""),
        *guard.section(partial(_cuts, plan, width), again=""),
        *guard.section(partial(_minding, plan), again=""),
    ]
    column = (width - GUTTER) / 2
    sections = (_drills, _places, _other_holes, _checks)
    blocks = [guard.section(partial(block, plan, column), again="") for block in sections]
    template = _whole(guard.section(partial(_template, plan, column), again=""), size)
    first, again = [*_heading(plan, width, date), *_demo(plan, width)], _heading(plan, width, date, again=True)
    pages = laid_out(first, upper, blocks, template, size, again)
    return [each for number, page in enumerate(pages) for each in ([PageBreak()] * (number > 0) + page)]


def _whole(template: list[Flowable], size: tuple[float, float]) -> list[Flowable]:
    """Return the template; where it is larger than the paper, what to do instead: it is never cut or made smaller."""
    width, height = size[0], size[1] - HEADING_ROOM
    sketch = next((each for each in template if isinstance(each, Sketch)), None)
    if sketch is None or (sketch.width <= width and height_of(template, width) <= height):
        return template
    return [words(TOO_LARGE, BODY) if each is sketch else each for each in template]


def _heading(plan: Plan, width: float, date: str, again: bool = False) -> list[Flowable]:
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
    large = TITLE if len(plan.job.name) <= LONG_NAME else SIZE
    name = [words(f"Bench card{', continued' if again else ''}", SMALL), words(plan.job.name, large)]
    return [Table([[name, right]], colWidths=[width - 40 * mm, 40 * mm], style=style), gap(1.5)]


def _demo(plan: Plan, width: float) -> list[Flowable]:
    return [_framed(words(f"Demo. {plan.job.demo}", NOTE), width), gap(2)] if plan.job.demo else [gap(0.5)]


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
    """Whether a warning decides if anything is cut at all: what was never measured, does not fit, or may touch."""
    if warning.startswith(COPIED):
        return True
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
    return [words("Where they stand", SECTION), table((), rows, [22 * mm, width - 22 * mm])]


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


def _list_of(holes: WallHoles, width: float) -> list[Flowable]:
    """Where the holes of one wall are marked out, and each web that is too thin."""
    if holes.layout is None:
        return [words(holes.problem, STRONG)]
    rows = [[words(tag, HEAD), *rest] for tag, *rest in places_of(holes)]
    widths = [21 * mm, width - 57 * mm, 18 * mm, 18 * mm]
    thin = [words(f"{web.text} {web.remedy}", STRONG) for web in holes.layout.too_thin]
    return [table(("Hole", "For", "From left", "Up"), rows, widths, CLOSE), *thin]


def _other_holes(plan: Plan, width: float) -> list[Flowable]:
    """Where to mark out the holes of the walls that the card has no template for."""
    bulkhead = plan.bulkhead
    found: list[Flowable] = []
    for holes in plan.hole_places:
        if bulkhead is None or holes.wall != bulkhead.name:
            found += [words(f"{sentence(holes.wall)[:-1]}, {SEEN}", SECTION), *_list_of(holes, width)]
    return found


def _template(plan: Plan, width: float) -> list[Flowable]:
    drawing, wall = bulkhead_template(plan), plan.bulkhead
    if drawing is None or wall is None:
        return [words("The shell's own ends close the chamber: there is no bulkhead to cut.", BODY)]
    key = [words(each, NOTE) for each in holes_in_words(plan)]
    holes = holes_on(plan, wall)
    listed = [] if holes is None else [gap(0.5), *_list_of(holes, width)]
    return [words("Bulkhead, true size", SECTION), Sketch(drawing, mm, true_size=True), gap(1), *key, *listed]

"""Behind the card: the parts, and the strips to make them from."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from reportlab.lib.units import mm
from reportlab.platypus import Flowable

from modelmath.drawings.sheets.minding import cautioned
from modelmath.drawings.sheets.style import BODY, PAGE, SIZE, SMALL, STRONG, gap, table, words
from modelmath.drawings.sizes import in_mm, in_other_units, left_over, place_of, sentence

if TYPE_CHECKING:
    from modelmath.enclosure import Part
    from modelmath.job import Plan
    from modelmath.job.stock import PartLine
    from modelmath.materials import StripPick

PICKS = 4  # how many strips to name for a part
OF_SHEET = (
    "Cut a strip of it as wide as the part, or a little over to trim to the shell, and from it the part's length; the "
    "list of parts gives both."
)
AS_ABOVE = "The same."


def parts_sheet(plan: Plan, width: float) -> list[Flowable]:
    """Build the list of parts: size, setting, use of the stock, what each is made to, where it goes.

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
    The plan's own figures.
    """
    mark = plan.mark_name
    widths = [36 * mm, 46 * mm, 32 * mm, 0]
    widths[3] = width - sum(widths)
    head = ("Part", "Cut length", "Use of the strip", "Made to, and where")
    rows = [[_name(plan, line), _size(plan, line), _use(line.part), _made(line, mark)] for line in plan.lines]
    return [
        words(f"Parts of each of {plan.models} models" if plan.models > 1 else "Parts", PAGE),
        words(f"Heights and lengths on marks of {plan.marks.rule.name}. Pieces of one set are cut at one stop.", BODY),
        gap(2),
        table(head, rows, widths),
        *cautioned("knife", "sanding", "solvent cement"),
    ]


def _name(plan: Plan, line: PartLine) -> list[Flowable]:
    part = line.part
    name: list[Flowable] = [words(f"{part.count} × {part.name}", STRONG)]
    others = [
        each.part.name for each in plan.lines if part.cut_set and each.part.cut_set == part.cut_set and each is not line
    ]
    return [*name, words(f"one set with the {', '.join(others)}", SMALL)] if others else name


def _size(plan: Plan, line: PartLine) -> list[Flowable]:
    cut = line.part.cut
    over = f"exact {in_mm(cut.exact_mm)}, {left_over(line.part)}"
    return [
        words(in_mm(cut.cut_mm), SIZE),
        words(in_other_units(cut.cut_mm, plan.scale), SMALL),
        words(f"set the rule at {line.setting.text}", SMALL),
        words(over, SMALL),
    ]


def _use(part: Part) -> list[Flowable]:
    lines: list[Flowable] = [words(part.use, STRONG)]
    if part.section_mm is not None:
        which = "thickness" if part.use == "flat" else "width"
        lines.append(words(f"its {which} is to be {in_mm(part.section_mm)}", SMALL))
    if part.width_mm is not None:
        lines.append(words(f"{in_mm(part.width_mm)} wide", SMALL))
    if part.thickness_mm is not None:
        lines.append(words(f"{in_mm(part.thickness_mm)} thick in the layout", SMALL))
    return lines


def _made(line: PartLine, mark: str) -> list[Flowable]:
    part = line.part
    lines: list[Flowable] = [words(f"{sentence(part.made_to)} Carried by the {part.carried_by}.", SMALL)]
    where = place_of(line, mark)
    if where:
        lines.append(words(f"Its {part.face} stands {where}.", SMALL))
    if where and line.place is not None:
        lines.append(words(f"Set the rule at {line.place.text}.", SMALL))
    return lines


def strips_sheet(plan: Plan, width: float) -> list[Flowable]:
    """Build the strips that will do for each part, those in the drawer first.

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
    `pick_strips`.
    """
    groups: dict[object, list[PartLine]] = {}
    for line in plan.lines:
        groups.setdefault(_source(line), []).append(line)
    rows: list[list[Any]] = []
    more: list[tuple[Any, ...]] = []
    for lines in groups.values():
        first = len(rows) + 1
        rows += _pick_rows(lines)
        more.append(("SPAN", (0, first), (0, len(rows))))
    widths = [40 * mm, 44 * mm, 34 * mm, 0]
    widths[3] = width - sum(widths)
    head = ("For", "Strip, best first", "Section error", "What to do")
    return [words("Strips", PAGE), table(head, rows, widths, more), *cautioned("knife", "sanding")]


def _source(line: PartLine) -> object:
    """Return what parts have in common that are cut from the same; of sheet, whatever their own sizes are."""
    if not line.picks or any(pick.sheet is None for pick in line.picks):
        return line.picks or line.note
    return tuple((pick.name, pick.in_drawer, pick.error_mm) for pick in line.picks)


def _pick_rows(lines: list[PartLine]) -> list[list[Any]]:
    names = ", ".join(line.part.name for line in lines)
    picks = lines[0].picks[:PICKS]
    if not picks:
        return [[names, "—", "", lines[0].note]]
    rows = []
    told: set[str] = set()
    for number, pick in enumerate(picks):
        where = "in the drawer" if pick.in_drawer else "to buy"
        strip = [words(pick.name, BODY if number else STRONG), words(where, SMALL)]
        advice = pick.advice if all(line.picks[number].advice == pick.advice for line in lines) else OF_SHEET
        said = advice if advice not in told else AS_ABOVE if not pick.remark else ""  # once for each group of strips
        told.add(advice)
        rows.append(["" if number else names, strip, _error(pick), f"{said} {pick.remark}".strip()])
    return rows


def _error(pick: StripPick) -> str:
    if pick.error_mm == 0:
        return "none"
    scale = "" if pick.error_scale_in is None else f", {pick.error_scale_in:+.2f} scale in"
    return f"{pick.error_mm:+.2f} mm{scale}"

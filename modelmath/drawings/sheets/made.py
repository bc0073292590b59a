"""Behind the card: the parts, the strips to make them from, and the cut plan."""

from __future__ import annotations

from fractions import Fraction
from typing import TYPE_CHECKING, Any

from reportlab.lib.units import mm
from reportlab.platypus import Flowable, KeepTogether

from modelmath.drawings.figures.bars import strip_bars
from modelmath.drawings.figures.stops import stops_on_rule
from modelmath.drawings.sheets.sketch import Sketch
from modelmath.drawings.sheets.style import BODY, NOTE, PAGE, SECTION, SIZE, SMALL, STRONG, gap, table, words
from modelmath.drawings.sizes import in_mm, in_other_units, left_over, place_of, sentence
from modelmath.drawings.template import letter_of
from modelmath.errors import OutOfRange

if TYPE_CHECKING:
    from modelmath.cutting import CutPlan
    from modelmath.enclosure import Part
    from modelmath.job import Plan
    from modelmath.job.stock import PartLine
    from modelmath.materials import StripPick

PICKS = 4  # how many strips to name for a part
SMALLER = 0.8  # of a figure whose letters are made for the screen


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
    mark = plan.bench.ends.mark if plan.bench.ends else ""
    widths = [38 * mm, 51 * mm, 36 * mm, 0]
    widths[3] = width - sum(widths)
    head = ("Part", "Cut length", "Use of the strip", "Made to, and where")
    rows = [[_name(plan, line), _size(plan, line), _use(line.part), _made(line, mark)] for line in plan.lines]
    return [
        words("Parts", PAGE),
        words(f"Heights and lengths on marks of {plan.marks.rule.name}. Pieces of one set are cut at one stop.", BODY),
        gap(2),
        table(head, rows, widths),
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
    groups: dict[tuple[StripPick, ...] | str, list[PartLine]] = {}
    for line in plan.lines:
        groups.setdefault(line.picks or line.note, []).append(line)
    rows: list[list[Any]] = []
    more: list[tuple[Any, ...]] = []
    for lines in groups.values():
        first = len(rows) + 1
        rows += _pick_rows(lines)
        more.append(("SPAN", (0, first), (0, len(rows))))
    widths = [40 * mm, 44 * mm, 34 * mm, 0]
    widths[3] = width - sum(widths)
    head = ("For", "Strip, best first", "Section error", "What to do")
    return [words("Strips", PAGE), table(head, rows, widths, more)]


def _pick_rows(lines: list[PartLine]) -> list[list[Any]]:
    names = ", ".join(line.part.name for line in lines)
    picks = lines[0].picks[:PICKS]
    if not picks:
        return [[names, "—", "", lines[0].note]]
    rows = []
    for number, pick in enumerate(picks):
        where = "in the drawer" if pick.in_drawer else "to buy"
        strip = [words(pick.name, BODY if number else STRONG), words(where, SMALL)]
        rows.append(["" if number else names, strip, _error(pick), pick.advice])
    return rows


def _error(pick: StripPick) -> str:
    if pick.error_mm == 0:
        return "none"
    scale = "" if pick.error_scale_in is None else f", {pick.error_scale_in:+.2f} scale in"
    return f"{pick.error_mm:+.2f} mm{scale}"


def cuts_sheet(plan: Plan, width: float) -> list[Flowable]:
    """Build the cut plan: stop settings, strips as bars, what is cut from sheet, how good the plan is, what to buy.

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
    `plan_cuts`.
    """
    cuts = plan.cuts
    bars = [Sketch(bar, 1.0) for bar in strip_bars(cuts, width)]
    on_rule = Sketch(stops_on_rule(cuts.stops, plan.marks, width / SMALLER), SMALLER)
    saw = f"{in_mm(cuts.kerf_mm)} lost at each cut" if cuts.kerf_mm else "nothing lost at a cut"
    kerf = f"The letters are the stops above; {saw}, {in_mm(cuts.end_trim_mm)} trimmed off one end."
    shopping = [
        words(f"{each.count} × {each.stock_name}, {in_mm(each.length_mm)} long", BODY) for each in cuts.shopping
    ]
    shopping += [words(sentence(each.text), BODY) for each in cuts.sheet_shopping]
    if cuts.made_up:
        shopping.append(words(cuts.made_up_text, BODY))
    heading = [words("Strips, in proportion", SECTION), words(kerf, NOTE), gap(1.5)]
    return [
        words("Cut plan", PAGE),
        _stops(plan, cuts, width),
        *([KeepTogether([words("The stops on the rule", SECTION), on_rule])] if cuts.stops else []),
        *([KeepTogether([*heading, *bars[:1]]), *bars[1:]] if bars else []),
        *_from_sheet(plan, cuts, width),
        KeepTogether(
            [
                words("To buy", SECTION),
                *(shopping or [words("Nothing: the drawer has all of it.", BODY)]),
                gap(1.5),
                words(sentence(cuts.verdict), STRONG),
                *(words(f"{name}: {text}", SMALL) for name, text in cuts.goals),
            ]
        ),
    ]


def _from_sheet(plan: Plan, cuts: CutPlan, width: float) -> list[Flowable]:
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


def _setting(plan: Plan, width_mm: Fraction) -> list[Flowable]:
    """Return where to set the rule for a width; nothing where it is wider than the rule is long."""
    try:
        return [words(f"set the rule at {plan.marks.setting(width_mm).text}", SMALL)]
    except OutOfRange:
        return []


def _stops(plan: Plan, cuts: CutPlan, width: float) -> Flowable:
    rows: list[list[Any]] = []
    for number, stop in enumerate(cuts.stops):
        pieces: dict[tuple[str, str], int] = {}
        for strip, part in stop.cuts:
            pieces[part, f"strip {strip}"] = pieces.get((part, f"strip {strip}"), 0) + 1
        for source, part in stop.elsewhere:
            pieces[part, source] = pieces.get((part, source), 0) + 1
        text = "; ".join(f"{count} × {part} from {source}" for (part, source), count in pieces.items())
        setting = plan.marks.setting(stop.length_mm).text
        rows.append([words(letter_of(number), STRONG), words(setting, SIZE), in_mm(stop.length_mm), text])
    widths = [13 * mm, 46 * mm, 24 * mm, width - 83 * mm]
    return table(("Stop", "Set the rule at", "Length", "Pieces, all at this stop before it is moved"), rows, widths)

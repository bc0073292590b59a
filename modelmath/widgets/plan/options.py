"""What else could be, as HTML: runner-up, bulkhead elsewhere, floor with steps; and what would make it fit."""

from __future__ import annotations

from typing import TYPE_CHECKING

from modelmath.errors import ModelMathError
from modelmath.job import Plan
from modelmath.job.stock import MADE_UP, PartLine
from modelmath.lengths.text import format_length
from modelmath.widgets.common import look
from modelmath.widgets.plan.folds import figure

if TYPE_CHECKING:
    from modelmath.enclosure import Part
    from modelmath.enclosure.stepped import SteppedChamber

MOVED_MM = (-5, -2, 2, 5)  # how far the bulkhead is moved in the sentences below the chart
NO_STEP = "No step that can be marked and cut buys anything here."
NOT_CUT = (
    "These pieces are not in the cut list: the floor of the plan is flat. They take the place of its walls, posts, "
    "floor plates and speaker supports, and all hang from the shell. The cautions of the build order hold for them too."
)
NOTHING_YET = "Once there is a chamber, this shows what else it could be."


def ways_out(plan: Plan) -> str:
    """Return every single change that makes all fit, the least first; nothing where all fits."""
    said = [each.in_words for each in plan.ways_out]
    if plan.misfit is None:
        return ""
    if not said:
        return look.paragraph("No single change that we know of makes it fit; try two of them together.")
    return look.paragraph("Any one of these would make it fit, the least change first:") + look.bullets(said)


def runner_up(plan: Plan) -> str:
    """Return the next best chamber, and why it loses."""
    best, other = plan.chamber, plan.runner_up
    if best is None:
        return look.paragraph(NOTHING_YET)
    if other is None:
        return look.paragraph("There is no runner-up: no other chamber holds the speaker.")
    less = float(best.volume_mm3 - other.volume_mm3)
    share = 100 * less / float(best.volume_mm3)
    rows = [
        (
            name,
            f"{float(each.volume_mm3) / 1000:.2f} cm3",
            format_length(each.inner_end_mm - each.inner_start_mm, "mm"),
            f"{float(each.floor_mm):.2f} mm above the seat",
            each.governing.cause.words,
        )
        for name, each in (("this plan", best), ("runner-up", other))
    ]
    longer = float((other.inner_end_mm - other.inner_start_mm) - (best.inner_end_mm - best.inner_start_mm))
    lower = float(best.floor_mm - other.floor_mm)  # its floor lies lower: it is deeper
    joined = " but " if longer * lower < 0 else " and "
    but = joined.join(filter(None, (_by(longer, "longer", "shorter"), _by(lower, "deeper", "shallower"))))
    said = f"It loses by {less / 1000:.2f} cm3 ({share:.0f} %)"
    why = f"{said}: it is {but}." if but else f"{said}."
    heads = ("Chamber", "Gross volume", "Length inside", "Its floor", "What limits its height")
    return look.table("The chamber and its runner-up", heads, rows, "mm-advice") + look.paragraph(why)


def _by(mm: float, more: str, less: str) -> str:
    return "" if abs(mm) < 0.005 else f"{abs(mm):.2f} mm {more if mm > 0 else less}"


def trade(plan: Plan) -> str:
    """Return volume and height against the bulkhead's place: a chart, and what moving it costs."""
    curve, chamber = plan.trade, plan.chamber
    if curve is None or chamber is None:
        return (
            look.paragraph("The shell's own ends close the chamber: there is no bulkhead to move.") if chamber else ""
        )
    from modelmath.drawings.charts.trade import trade_curve_svg

    chosen = float(chamber.start_mm if curve.ends == "front" else chamber.end_mm)
    head = look.heading("The bulkhead elsewhere")
    chart = figure(trade_curve_svg(curve, chosen, mark=plan.mark_name))
    best = (
        f"The largest has it at {float(curve.best.place_mm):.2f} mm: {float(curve.best.volume_mm3) / 1000:.2f} cm3, "
        f"{float(curve.best.height_mm):.2f} mm high there; {curve.best.cause} sets its floor. The plan's own stands at "
        f"{chosen:.2f} mm, on a mark of the rule."
    )
    ends = f"It can stand from {curve.places_mm[0]:.2f} to {curve.places_mm[-1]:.2f} mm."
    moved = [curve.moved(by) for by in MOVED_MM if curve.at(curve.best.place_mm + by) is not None]
    return head + chart + look.paragraph(best) + look.paragraph(ends) + look.bullets(moved)


def stepped(plan: Plan) -> str:
    """Return what each step of a floor buys, or why none is worked out; and folded away the pieces it takes."""
    found = plan.stepped
    if found is None:
        return ""
    head = look.heading("A floor with steps")
    if found.reason:
        return head + look.paragraph(found.reason)
    said = look.bullets(each.words for each in found.gains)
    chambers = [each.chamber for each in found.gains if each.steps]
    if not chambers:
        return head + said + look.paragraph(NO_STEP)
    return head + said + look.paragraph(NOT_CUT, "mm-soft") + "".join(_pieces(plan, each) for each in chambers)


def _pieces(plan: Plan, chamber: SteppedChamber) -> str:
    """Return every piece of a stepped chamber, drawn and in a table, folded away; or why they can't be sized."""
    from modelmath.drawings.figures.stepped_side import stepped_side_svg
    from modelmath.job.space.stepped_floor import stepped_pieces

    steps = f"{chamber.steps} step{'' if chamber.steps == 1 else 's'}"
    opening = f"<details><summary>The pieces of a floor with {steps}</summary>"
    try:
        found, lines = stepped_pieces(plan, chamber)
    except ModelMathError as reason:
        return f"{opening}{look.paragraph(reason)}</details>"
    drawn = figure(stepped_side_svg(plan, found.parts, found.chamber.seat_mm))
    rows = [
        (
            f"{line.part.count} x {line.part.name}",
            _size(line.part),
            line.setting.text,
            _place(plan, line),
            line.stock_text if line.stock != MADE_UP else f"{line.stock}: {line.note}",
            line.part.made_to,
        )
        for line in lines
    ]
    heads = ("Piece", "Size", "Rule set at", "Place", "Cut from", "Made to")
    said = look.paragraph(_as_cut(found.chamber))
    return f"{opening}{drawn}{said}{look.table(f'A floor with {steps}', heads, rows, 'mm-advice')}</details>"


def _size(part: Part) -> str:
    """Return the size it is cut to, the exact one where that differs, and what its stock has to be."""
    along = {"wall": "high", "post": "high", "support": "high"}.get(part.kind, "long")
    cut = f"{format_length(part.cut.cut_mm, 'mm')} {along}"
    if abs(part.cut.spare_mm) >= 0.005:
        cut += f" ({format_length(part.cut.exact_mm, 'mm')} exactly)"
    width, thick = part.width_mm, part.thickness_mm or part.section_mm
    wide = f", {format_length(width, 'mm')} wide" if width is not None else ""
    deep = f", {format_length(thick, 'mm')} thick" if thick is not None else ""
    return f"{cut}{wide}{deep}"


def _place(plan: Plan, line: PartLine) -> str:
    part, ends = line.part, plan.bench.ends
    if part.position_mm is None or ends is None:
        return "as fitted"
    side = "behind" if part.position_mm >= 0 else "ahead of"
    place = f"{part.face} {format_length(abs(part.position_mm), 'mm')} {side} the {ends.mark}"
    return f"{place}, the rule set at {line.place.text} from there" if line.place is not None else place


def _as_cut(chamber: SteppedChamber) -> str:
    """Return what a stepped chamber holds as it is cut, and where its floors lie."""
    floors = [
        f"{format_length(each.floor_mm, 'mm')} above the seat over {format_length(each.length_mm, 'mm')}"
        for each in chamber.floors
    ]
    return (
        f"Cut to the marks of your rule it holds {float(chamber.volume_mm3) / 1000:.2f} cm3. From the front its floor "
        f"lies {', then '.join(floors)}."
    )

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
    from modelmath.enclosure import Chamber, Part
    from modelmath.enclosure.choosing.trade import TradeCurve
    from modelmath.enclosure.stepped import SteppedChamber

MOVED_MM = (-5, -2, 2, 5)  # how far the bulkhead is moved in the sentences below the chart
NO_STEP = "No step that can be marked and cut buys anything here."
NOT_CUT = (
    "These pieces are not in the cut list: the floor of the plan is flat. They take the place of its walls, posts, "
    "floor plates and speaker supports, and all hang from the shell. The cautions of the build order hold for them too."
)
ELSEWHERE = (
    "What lacks is told of the place that comes nearest when the speaker shrinks in every size at once; smaller in one "
    "size alone it may fit in another place, by less."
)
NOTHING_YET = "Once there is a chamber, this shows what else it could be."


def ways_out(plan: Plan) -> str:
    """Return every single change that makes all fit, the least first; nothing where all fits."""
    said = [each.in_words for each in plan.ways_out]
    if plan.misfit is None:
        return ""
    if not said:
        return look.paragraph("No single change that we know of makes it fit; try two of them together.")
    these = "This would" if len(said) == 1 else "Any one of these would"
    first = "" if len(said) == 1 else ", the least change first"
    shown = look.paragraph(f"{these} make it fit{first}:") + look.bullets(said)
    return shown + (look.paragraph(ELSEWHERE) if _fits_elsewhere(plan) else "")


def _fits_elsewhere(plan: Plan) -> bool:
    """Whether the speaker need be smaller by less than is said to lack: that is told of another place."""
    miss = plan.misfit
    if miss is None or miss.what != "The speaker":
        return False
    sizes = [each.remedy for each in plan.ways_out if each.remedy.kind.startswith("speaker ")]
    return any(0 < each.change_mm < miss.short_mm - 0.005 for each in sizes)


def runner_up(plan: Plan) -> str:
    """Return the next best chamber, and why it loses."""
    best, other = plan.chamber, plan.runner_up
    if best is None:
        return look.paragraph(NOTHING_YET)
    if other is None:
        return look.paragraph("There is no runner-up: no other chamber holds the speaker.")
    alike = [each for each in plan.chambers[1:] if _looks_like(each, best)]
    other = next((each for each in _ranked(plan)[1:] if not _looks_like(each, best)), None)
    as_large = "".join(look.paragraph(_as_large(plan, each)) for each in alike)
    return as_large + ("" if other is None else _beside(best, other))


def _ranked(plan: Plan) -> tuple[Chamber, ...]:
    """Return the chambers as they are cut, down to the first that differs from the plan's own."""
    found = plan.chambers
    if plan.enclosure is None or not _looks_like(found[-1], found[0]):
        return found
    return plan.enclosure.ranked_as_cut(plan.marks, len(plan.enclosure.candidates))


def _looks_like(one: Chamber, other: Chamber) -> bool:
    """Whether nothing that the table tells of two chambers differs."""
    return _told(one) == _told(other)


def _told(chamber: Chamber) -> tuple[str, ...]:
    return (
        f"{float(chamber.volume_mm3) / 1000:.2f} cm3",
        format_length(chamber.inner_end_mm - chamber.inner_start_mm, "mm"),
        f"{float(chamber.floor_mm):.2f} mm above the seat",
        chamber.governing.cause.words,
    )


def _as_large(plan: Plan, other: Chamber) -> str:
    """Say where a chamber stands that is as large as the plan's own."""
    ends = f"from {float(other.start_mm):.2f} to {float(other.end_mm):.2f} mm behind the {plan.mark_name}"
    return f"Another place holds as much: a chamber {ends}, as long and as deep."


def _beside(best: Chamber, other: Chamber) -> str:
    less = float(best.volume_mm3 - other.volume_mm3)
    share = 100 * less / float(best.volume_mm3)
    rows = [(name, *_told(each)) for name, each in (("this plan", best), ("runner-up", other))]
    longer = float((other.inner_end_mm - other.inner_start_mm) - (best.inner_end_mm - best.inner_start_mm))
    lower = float(best.floor_mm - other.floor_mm)  # its floor lies lower: it is deeper
    joined = " but " if longer * lower < 0 else " and "
    but = joined.join(filter(None, (_by(longer, "longer", "shorter"), _by(lower, "deeper", "shallower"))))
    said = f"It loses by {less / 1000:.2f} cm3 ({_share(share)} %)" if less > 0 else "It is as large"
    why = f"{said}: it is {but}." if but else f"{said}."
    heads = ("Chamber", "Gross volume", "Length inside", "Its floor", "What limits its height")
    return look.table("The chamber and its runner-up", heads, rows, "mm-advice") + look.paragraph(why)


def _share(percent: float) -> str:
    """Return a share with a digit that tells."""
    return f"{percent:.0f}" if percent >= 1 else f"{percent:.1f}" if percent >= 0.05 else "less than 0.1"


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
        f"{float(curve.best.height_mm):.2f} mm high there; {curve.best.cause} sets its floor. "
        f"{_own(plan, curve, chosen)}"
    )
    ends = _where_it_can_stand(curve, plan.bench.speaker is not None)
    moved = [curve.moved(by) for by in MOVED_MM if curve.at(curve.best.place_mm + by) is not None]
    return head + chart + look.paragraph(best) + look.paragraph(ends) + look.bullets(moved)


def _own(plan: Plan, curve: TradeCurve, chosen: float) -> str:
    """Say where the plan's own bulkhead stands, and why there."""
    held = plan.limits.front_at_mm if curve.ends == "front" else plan.limits.rear_at_mm
    if held is not None:
        return f"The plan's own is held at {chosen:.2f} mm, where you put it."
    return f"The plan's own stands at {chosen:.2f} mm, on a mark of the rule."


def _where_it_can_stand(curve: TradeCurve, speaker: bool) -> str:
    """Say from where to where the bulkhead can stand, and where of that the speaker fits."""
    whole = f"{curve.places_mm[0]:.2f} to {curve.places_mm[-1]:.2f} mm"
    if not speaker:
        return f"It can stand from {whole}."
    if not curve.best.holds_speaker:
        return f"It can stand from {whole}, but nowhere there does the chamber hold the speaker."
    held = curve.holding_mm
    if held == ((curve.points[0].place_mm, curve.points[-1].place_mm),):
        return f"It can stand from {whole}; the speaker fits in all that way."
    places = [
        f"at {float(start):.2f} mm" if start == end else f"from {float(start):.2f} to {float(end):.2f} mm"
        for start, end in held
    ]
    listed = places[0] if len(places) == 1 else f"{', '.join(places[:-1])} and {places[-1]}"
    return f"With the speaker it can stand {listed}; without it from {whole}."


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

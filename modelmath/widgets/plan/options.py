"""What else could be, as HTML: runner-up, bulkhead elsewhere, floor with steps; and what would make it fit."""

from __future__ import annotations

from modelmath.job import Plan
from modelmath.lengths.text import format_length
from modelmath.widgets.common import look
from modelmath.widgets.plan.folds import figure

MOVED_MM = (-5, -2, 2, 5)  # how far the bulkhead is moved in the sentences below the chart
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
    chart = figure(trade_curve_svg(curve, chosen))
    best = (
        f"The largest has it at {float(curve.best.place_mm):.2f} mm: {float(curve.best.volume_mm3) / 1000:.2f} cm3, "
        f"{float(curve.best.height_mm):.2f} mm high there; {curve.best.cause} sets its floor. The plan's own stands at "
        f"{chosen:.2f} mm, on a mark of the rule."
    )
    ends = f"It can stand from {curve.places_mm[0]:.2f} to {curve.places_mm[-1]:.2f} mm."
    moved = [curve.moved(by) for by in MOVED_MM if curve.at(curve.best.place_mm + by) is not None]
    return head + chart + look.paragraph(best) + look.paragraph(ends) + look.bullets(moved)


def stepped(plan: Plan) -> str:
    """Return what each step of a floor buys, where the plan has worked it out."""
    found = getattr(plan, "stepped", None)
    if not found:
        return ""
    return look.heading("A floor with steps") + look.bullets(each.words for each in found)

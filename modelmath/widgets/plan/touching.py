"""How sure the room left is, as HTML: terms, chance of touching, sizes at the marks, what to read again."""

from __future__ import annotations

from collections.abc import Iterator

from modelmath.job import Plan
from modelmath.job.room_left.sizes import SizeChance, accepted_in_words, chance_in_words
from modelmath.lengths.text import format_length
from modelmath.widgets.common import look


def sureness(plan: Plan) -> str:
    """Return how sure the room left is: the verdict, the chance of touching, and the stack behind them."""
    return look.paragraph(plan.gap.verdict) + chance(plan) + terms(plan)


def in_all(plan: Plan) -> str:
    """Return how sure the room left is, and how a hinged shell comes off."""
    return sureness(plan) + lift(plan)


def chance(plan: Plan) -> str:
    """Return the chance of touching, and what would have to be left for the accepted one."""
    gap = plan.gap
    wanted = accepted_in_words(gap.wanted_chance)
    enough = format_length(gap.allowance_mm, "mm")
    said = [f"Chance that the bulkhead touches over {gap.over}: {chance_in_words(gap.chance)}."]
    if gap.chance > gap.wanted_chance:
        said.append(f"You accept {wanted}: for that, {enough} would have to be left.")
    else:
        said.append(f"You accept {wanted}, for which {enough} would do.")
    if len(plan.spots) > 1:
        said.append(f"Anywhere under the floor: {chance_in_words(plan.anywhere.chance)}.")
    if plan.choice is not None:
        said.append(plan.choice.in_words)
    return "".join(look.paragraph(each) for each in said)


def card(plan: Plan) -> str:
    """Return the chance of touching in large, what would be enough, and what the plan did about a choice."""
    gap = plan.gap
    over = f"Chance that the bulkhead touches, over {gap.over}"
    rows = [
        (over, chance_in_words(gap.chance), "mm-big"),
        ("Room left", format_length(gap.left_mm, "mm"), ""),
        ("What that is made of", gap.made_of, ""),
        (f"Room needed for {accepted_in_words(gap.wanted_chance)}", format_length(gap.allowance_mm, "mm"), ""),
    ]
    enough = next((row for row in plan.sizes if row.accepted), None)
    if enough is not None:
        size = f"{format_length(enough.height_mm, 'mm')}: set the rule at {enough.setting.text}"
        if not enough.keeps:
            size = f"{size}; it {_lacks(plan, enough)}"
        rows.append((f"The largest size at a mark with at most {accepted_in_words(gap.wanted_chance)}", size, ""))
    if len(plan.spots) > 1:
        rows.append(("Chance that anything touches under the floor", chance_in_words(plan.anywhere.chance), ""))
    if plan.choice is not None:
        rows.append(("Choosing among several spots", plan.choice.in_words, ""))
    body = "".join(f'<dt>{look.text(label)}</dt><dd class="{css}">{look.text(each)}</dd>' for label, each, css in rows)
    return f'<div class="mm-card" role="status"><dl>{body}</dl></div>'


def terms(plan: Plan) -> str:
    """Return the stack, its worst case and its usual case."""
    stack = plan.gap.stack
    rows = [
        (term.name, f"±{term.tolerance_mm:.2f} mm", term.shape, f"{100 * (term.u_mm / whole) ** 2:.0f} %")
        for whole in (stack.standard_uncertainty(),)
        for term in stack.largest_terms()
    ]
    total = f"Together ±{stack.worst_case():.2f} mm at worst, ±{stack.rss():.2f} mm usually (root sum of squares)."
    return look.table("What may be off", ("Term", "By", "Shape", "Share"), rows) + look.paragraph(total)


def sizes(plan: Plan) -> str:
    """Return the sizes at the marks round the chosen one, each with its chance of touching."""
    rows = [
        (
            row.setting.text,
            format_length(row.height_mm, "mm"),
            chance_in_words(row.chance),
            format_length(row.left_mm, "mm"),
            format_length(row.at_worst_mm, "mm"),
            _note(plan, row),
        )
        for row in plan.sizes
    ]
    heads = ("Set the rule at", "Height", "Chance of touching", "Room left", "All at its limit", "Note")
    table = look.table("Sizes at the marks", heads, rows, "mm-short")
    return table + "".join(look.paragraph(each, "mm-soft") for each in _sums(plan))


def _sums(plan: Plan) -> Iterator[str]:
    """Yield how the table's numbers follow from each other, so that they can be added up by hand."""
    above, below = plan.hung_from.zone.name, plan.governing
    space = f"The free depth over {below.name}"
    if plan.hung_from is not below:
        space = f"The space from the roof over {above} down to {below.name}"
    takes = plan.bench.varying.takes_mm
    others = f" and less {format_length(takes, 'mm')} for {_names(plan)}" if takes else ""
    size = format_length(plan.space.exact_mm, "mm")
    yield f"{space} is {size}: less the height{others}, that is the room left."
    off = {format_length(float(row.left_mm) - row.at_worst_mm, "mm") for row in plan.sizes}
    if len(off) == 1:  # a rule's scale error or warmth may make it grow with the height
        yield f"With all at its limit it is {off.pop()} less."
    yield f"This plan keeps {plan.gap.kept_in_words}. Lengths are rounded to 0.01 mm."


def _names(plan: Plan) -> str:
    return " and ".join(entry.name for entry in plan.job.allow)


def _note(plan: Plan, row: SizeChance) -> str:
    if not row.keeps:
        return _lacks(plan, row)
    return "this plan" if row.chosen else ""


def _lacks(plan: Plan, row: SizeChance) -> str:
    """Say what a size that is too high leaves too little for."""
    gap = plan.gap
    if row.left_mm < gap.clearance_mm:
        return "leaves less than the clearance to keep"
    return f"leaves too little {gap.raised_for}"


def read_again(plan: Plan) -> str:
    """Return which reading costs the most clearance, and what a better instrument would free."""
    rows = [
        (
            each.what,
            f"±{each.limit_mm:.2f} mm",
            format_length(each.costs_mm, "mm"),
            each.better,
            format_length(each.frees_mm, "mm") if each.frees_mm >= 0.005 else "nothing",
        )
        for each in plan.remeasure()
    ]
    if not rows:
        return look.paragraph("No reading costs any clearance worth the name.")
    heads = ("Reading", "May be off by", "Costs", "Better measured by", "That would free")
    return look.table("What to measure again first", heads, rows)


def spots(plan: Plan) -> str:
    """Return the room left at every spot under the floor, the tightest first."""
    rows = [
        (spot.name, format_length(spot.left_mm, "mm"), chance_in_words(own))
        for spot, own in zip(plan.spots, plan.anywhere.each, strict=True)
    ]
    table = look.table("Every spot under the floor, the tightest first", ("Spot", "Room left", "Chance"), rows)
    speaker = plan.bench.speaker
    if speaker is None or not speaker.travel_mm or not any(spot.name.startswith("the speaker") for spot in plan.spots):
        return table
    out = format_length(speaker.travel_mm, "mm")
    note = f"The room left below the speaker is that below its cone when it has moved out by {out}."
    return table + look.paragraph(note, "mm-soft")


def lift(plan: Plan) -> str:
    """Return how a hinged shell comes off; nothing where it is not hinged."""
    found = plan.lift
    if found is None:
        return ""
    said = f"Hinged at the {found.end}: {found.verdict}"
    return look.paragraph(said) if found.passes else look.problem(said)

"""A plan as HTML, part by part. Each takes the plan and shows it; nothing is worked out here."""

from __future__ import annotations

from modelmath.errors import ModelMathError
from modelmath.job import Job, Plan
from modelmath.job.cautions import cautions
from modelmath.job.entries.repeated import marks_text
from modelmath.job.next_model import copied_readings
from modelmath.job.rescaled.taking_over import TAKEN_OVER
from modelmath.job.several import for_models
from modelmath.job.space.held_ends import of_those_held
from modelmath.lengths.text import format_length, three_ways
from modelmath.widgets.common import look
from modelmath.widgets.common.minding import cautioned

CLEARS, TIGHT = "It clears.", "Tight: dry-fit before you glue."
LAID_OUT = "What is cut from sheet is laid out, snap by snap, in the packet and on the page Cuts."


def answer(plan: Plan, stale: bool = False) -> str:
    """Return the bulkhead's height, where to set the rule, the room left and how sure it is."""
    wall, gap, rule = plan.bulkhead, plan.gap, plan.marks.rule
    rows: list[tuple[str, str, str]] = []
    if wall is not None:
        rows.append(("Bulkhead height", look.sizes(three_ways(wall.cut.cut_mm, plan.scale)), "mm-big"))
        setting = look.text(plan.marks.setting(wall.cut.cut_mm).text)
        side = "end" if plan.marks.datum == "end" else "zero mark"
        rows.append(("Set the rule at", f"<strong>{setting}</strong>, its {side} at the bulkhead's top edge", ""))
    else:
        rows.append(("Bulkhead", "none is needed: the shell's own ends close the chamber", ""))
    left = f"{format_length(gap.left_mm, 'mm')} over {gap.over}: {gap.made_of}"
    rows.append(("Room left below it", look.text(left), ""))
    what_to_do = CLEARS if gap.at_worst_mm > 0 else TIGHT
    rows.append(("How sure that is", f"<strong>{what_to_do}</strong> {look.text(gap.verdict)}", ""))
    rows += _way_out(plan)
    rows += _supports(plan)
    rows += _holds(plan)
    cancels = plan.governing.offset_cancels
    note = f"The zero offset of the {rule.name} cancels in the space between; it still counts in each setting."
    soft = look.paragraph(note, "mm-soft") if cancels == rule.name else ""
    body = "".join(f'<dt>{label}</dt><dd class="{css}">{value}</dd>' for label, value, css in rows)
    card = f'<div class="mm-card" role="status"><dl>{body}</dl>{soft}</div>'
    return look.stale(card) if stale else card


def _way_out(plan: Plan) -> list[tuple[str, str, str]]:
    """Return how much of the cone the gap before it is, with the detail folded; nothing without such a speaker."""
    try:
        found = plan.sounding
    except ModelMathError as reason:
        return [("Way out for the sound", look.problem(str(reason)), "")]
    if found is None:
        return []
    detail = f"<details><summary>How that is counted</summary>{look.paragraph(found.in_words)}</details>"
    return [("Way out for the sound", look.text(found.short) + detail, "")]


def _supports(plan: Plan) -> list[tuple[str, str, str]]:
    """Return the speaker supports: four of one height, or two pairs under a step of the roof."""
    rows: list[tuple[str, str, str]] = []
    for line in plan.lines:
        if line.part.kind != "support":
            continue
        _, _, pair = line.part.name.partition(", ")
        which = f"Speaker supports, the {pair} two" if pair else "Speaker supports, four of one height"
        rows.append((which, look.sizes(three_ways(line.part.cut.cut_mm, plan.scale)), "mm-big"))
        rows.append(("Set the rule at", f"<strong>{look.text(line.setting.text)}</strong>", ""))
    return rows


def _holds(plan: Plan) -> list[tuple[str, str, str]]:
    """Return what the chamber holds and what limits its height, once there is one."""
    if plan.chamber is None:
        return []
    known = "" if plan.volume is None else f" ± {plan.volume.u_mm / 1000:.2f}"
    volume = float(plan.chamber.volume_mm3) / 1000
    return [("Chamber", look.text(f"{volume:.2f}{known} cm3 gross; {_limits_height(plan)} limits its height"), "")]


def summary(plan: Plan) -> str:
    """Return the plan in plain language, a few lines."""
    wall, gap = plan.bulkhead, plan.gap
    lines = []
    if wall is not None:
        feet, inches, mm = three_ways(wall.cut.cut_mm, plan.scale)
        lines.append(
            f"Bulkhead: {feet}, {inches}, {mm} high; set the rule at {plan.marks.setting(wall.cut.cut_mm).text}."
        )
    lines.append(f"Room left over {gap.over}: {format_length(gap.left_mm, 'mm')}, which is {gap.made_of}.")
    if plan.chamber is not None:
        volume = float(plan.chamber.volume_mm3) / 1000
        lines.append(f"Chamber: {volume:.2f} cm3 gross; {_limits_height(plan)} limits it.")
    lines += [
        f"{line.part.count} x {line.part.name}: {three_ways(line.part.cut.cut_mm, plan.scale)[0]}"
        for line in plan.lines
    ]
    return "\n".join(lines)


def cut_list(plan: Plan) -> str:
    """Return the cut list: each set with its stop setting and its strip, and what is cut from sheet."""
    rows = []
    for line in sorted(plan.lines, key=lambda line: -line.part.cut.cut_mm):
        feet, inches, mm = three_ways(line.part.cut.cut_mm, plan.scale)
        source = f"{line.stock_text}{' (drawer)' if line.in_drawer else ''}"
        rows.append((line.part.name, line.part.count, line.setting.text, feet, inches, mm, source, line.part.use))
    heads = ("Part", "Count", "Set the rule at", "Scale feet", "Inch", "mm", "Cut from", "How it is used")
    each = ", for each model" if plan.models > 1 else ""
    parts = look.table(f"Cut list, longest first{each}", heads, rows, "mm-short")
    proof = plan.cuts.verdict
    how_good = look.folded(_strips(plan), look.paragraph(f"{proof[:1].upper()}{proof[1:]}.", "mm-soft"))
    sheets = "".join(look.paragraph(strip.text) for strip in plan.cuts.sheets)
    made_up = plan.cuts.made_up_text
    saw = ("saw",) if plan.cuts.kerf_mm else ()
    mind = cautioned("knife", *saw)
    return parts + sheets + how_good + (look.paragraph(made_up) if made_up else "") + mind


def _strips(plan: Plan) -> str:
    """Return how many whole strips the cut list takes."""
    cut, bought = plan.cuts.new_strips, plan.cuts.bought
    if not cut:
        return f"Strip{for_models(plan.models)}: offcuts do"
    buy = f"{bought} of them to buy" if bought else "none to buy"
    return f"Strip{for_models(plan.models)}: {cut} whole one{'s' if cut != 1 else ''} cut into, {buy}"


def to_buy(plan: Plan) -> str:
    """Return the shopping list; what is cut from sheet is laid out for it, which takes a while."""
    nothing = "" if plan.cuts.made_up else look.paragraph("All of it is in the drawer.")
    laid_out = look.paragraph(LAID_OUT) if plan.sheet_layout.layout is not None else ""
    several = look.paragraph(f"Counted for {plan.models} models.") if plan.models > 1 else ""
    return several + (look.bullets(plan.to_buy) if plan.to_buy else nothing) + laid_out


def parts_and_strips(plan: Plan) -> str:
    """Return what each part is made to and carried by, and the strips that would do."""
    made = [
        (
            line.part.name,
            line.part.made_to,
            line.part.carried_by,
            _place(plan, line.part.position_mm, line.part.face),
            line.place.text if line.place else "",
        )
        for line in plan.lines
    ]
    heads = ("Part", "Made to", "Carried by", "Place", "Rule set at, from that mark")
    strips = [
        (
            line.part.name,
            pick.name,
            "drawer" if pick.in_drawer else "to buy",
            _error(pick.error_mm, pick.error_scale_in),
            f"{pick.advice} {pick.remark}".strip(),
        )
        for line in plan.lines
        for pick in line.picks[:3]
    ]
    picks = look.table(
        "Strip that will do, best first", ("Part", "Strip", "From", "Section error", "What to do"), strips, "mm-advice"
    )
    return look.table("Parts", heads, made, "mm-advice") + picks + cautioned("sanding", "solvent cement")


def _place(plan: Plan, position: object, face: str) -> str:
    if position is None or plan.bench.ends is None:
        return "as fitted"
    side = "behind" if position >= 0 else "ahead of"  # type: ignore[operator]
    distance = format_length(abs(position), "mm")  # type: ignore[arg-type]
    return f"{face} {distance} {side} the {plan.bench.ends.mark}"


def _error(mm: float, scale_in: float | None) -> str:
    if abs(mm) < 0.005:
        return "none"
    return f"{mm:+.2f} mm" if scale_in is None else f"{mm:+.2f} mm, {scale_in:+.2f} scale in"


def readings(plan: Plan) -> str:
    """Return the readings as taken and corrected."""
    rows = []
    for entry in plan.job.readings:
        reading = plan.bench.readings[entry.name]
        feet, inches, _ = three_ways(reading.measured.exact_mm, plan.scale)
        rows.append(
            (
                entry.name,
                marks_text(entry),
                reading.rule.name,
                entry.datum,
                entry.on or entry.taken_from,
                feet,
                inches,
                format_length(reading.value, "mm"),
            )
        )
    heads = ("Reading", "Mark", "Rule", "From its", "Taken from", "Scale feet", "Inch", "mm")
    return look.table("Readings as taken and corrected", heads, rows, "mm-short")


def chamber(plan: Plan) -> str:
    """Return the chamber, or what is still missing for it."""
    misfit = look.problem(str(plan.misfit)) if plan.misfit is not None else ""
    if plan.chamber is None or plan.enclosure is None:
        gone = [f"{each.entry}, for {each.gives}" for each in plan.missing]
        return misfit + (look.paragraph("Enter these to see more:") + look.bullets(gone) if gone else "")
    length = plan.chamber.inner_end_mm - plan.chamber.inner_start_mm
    volume = float(plan.chamber.volume_mm3) / 1000
    known = "" if plan.volume is None else f" ± {plan.volume.u_mm / 1000:.2f}"
    said = [f"The chamber holds {volume:.2f}{known} cm3 gross over {float(length):.1f} mm of length."]
    if plan.enclosure.looked_at > 1:
        others = f"It is the largest of {plan.enclosure.looked_at} compared, each as it is cut{of_those_held(plan)}"
        said.append(f"{others}; {_limits_height(plan)} limits its height.")
    net = or_reason(_net, plan)
    drills = [(hole.name, hole.count, format_length(hole.diameter_mm, "mm"), hole.drill.name) for hole in plan.holes]
    holes = look.table("Drills", ("Passes", "Holes", "Diameter", "Drill"), drills) if drills else ""
    return misfit + "".join(look.paragraph(each) for each in said) + net + holes


def _net(plan: Plan) -> str:
    """Return the net volume, and folded away what each thing takes."""
    found = plan.net_volume
    if found is None:
        return ""
    least = "at least " if found.at_least else ""
    said = f"Net of parts, speaker and what runs through it that is {least}{float(found.net_mm3) / 1000:.2f} cm3."
    rows = [(each.name, f"{float(each.volume_mm3) / 1000:.3f} cm3", each.note) for each in found.shares]
    table = look.table("What is taken from the gross volume", ("What", "Takes", "How far known"), rows, "mm-advice")
    return f"{look.paragraph(said)}<details><summary>What takes how much</summary>{table}</details>"


def _limits_height(plan: Plan) -> str:
    depth = plan.governing
    return f"the {depth.moving}" if depth.moving else f"the chassis over {depth.name}"


def taken_over(job: Job) -> str:
    """Return what a job from another scale or model says of itself; nothing for one that was measured."""
    if all(rule.name != TAKEN_OVER for rule in job.rules) and not copied_readings(job):
        return ""
    return f'<div role="note">{look.paragraph(job.notes)}</div>'


def all_cautions() -> str:
    """Return every caution with its source."""
    return look.table(
        "Usual cautions", ("About", "Caution", "Source"), [(c.topic, c.text, c.source) for c in cautions()], "mm-advice"
    )


def why(plan: Plan, name: str) -> str:
    """Return the chain behind a figure, and its uncertainty budget."""
    found = plan.why(name)
    rows = [(share.source, share.shape, f"{share.percent:.0f} %") for share in found.figure.budget]
    budget = look.table("What makes it uncertain", ("Source", "Shape", "Share"), rows) if rows else ""
    return f'<div class="mm-why">{look.text(found)}</div>{budget}'


def warnings(plan: Plan) -> str:
    """Return what to mind, if anything."""
    others = [each for each in plan.warnings if each != plan.gap.verdict]  # that one stands in the answer
    return "".join(f'<p role="note">{look.text("Mind: " + each)}</p>' for each in others)


def or_reason(view: object, plan: Plan) -> str:
    """Return a view of the plan, or the sentence that says why that part can't be shown."""
    try:
        return str(view(plan))  # type: ignore[operator]
    except ModelMathError as reason:
        return look.problem(str(reason))

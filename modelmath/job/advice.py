"""What a careful friend would say about a plan."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from typing import TYPE_CHECKING

from modelmath.enclosure.making.footings import LEAST_FOOT_MM, footing_mm
from modelmath.errors import ModelMathError
from modelmath.job.calibration import calibration_warnings
from modelmath.job.making import left_out_of
from modelmath.job.next_model.marked import copied_warnings, moved_warnings
from modelmath.job.several import several_warnings
from modelmath.lengths.rules.readings import offset_cancels
from modelmath.lengths.text import format_length, three_ways

if TYPE_CHECKING:
    from modelmath.enclosure import Zone
    from modelmath.job.bench.moving import Moving
    from modelmath.job.plan import Plan
    from modelmath.lengths.numbers import Number

DEEPEST_FT = 15  # scale feet between chassis and roof; common practice, no source
LEAST_MM = Fraction(1, 200)  # what shows as 0.00 mm is not worth a word
EDGES_MM = 1  # two edges read apart that are meant to be one seldom differ by more; common practice, no source
FINEST_OF_MARK = 4  # how far between two marks a rule can be set; common practice, no source


def warnings_of(plan: Plan) -> tuple[str, ...]:
    """Return what to mind about a plan, the gravest first.

    Parameters
    ----------
    plan : Plan
        The plan. [-]

    Returns
    -------
    tuple of str
        Sentences; none when there is nothing to mind. [-]

    References
    ----------
    None needed.
    """
    try:
        return tuple(_warnings(plan))
    except ModelMathError as reason:
        return (*copied_warnings(plan.job), *moved_warnings(plan.job), str(reason))


def _warnings(plan: Plan) -> Iterator[str]:
    yield from copied_warnings(plan.job)
    yield from moved_warnings(plan.job)
    if plan.misfit is not None:
        yield f"{plan.misfit} The plan leaves it out."
    yield from (f"{each} The plan leaves it out." for each in left_out_of(plan))
    yield from _on_the_rim(plan)
    if plan.gap.at_worst_mm <= 0:
        yield plan.gap.verdict
    yield from _swing(plan)
    yield from _not_counted(plan)
    yield from _too_low(plan)
    if plan.lift is not None and not plan.lift.passes:
        yield f"As the shell comes off, hinged at the {plan.lift.end}: {plan.lift.verdict}"
    yield from _measured(plan)
    yield from _entries_to_check(plan)
    yield from _offsets_left(plan)
    wall = Fraction(plan.limits.wall_mm)
    for line in plan.lines:
        if not line.picks:
            if line.sheet is None:
                yield f"No strip for the {line.part.name}: {line.note}"
            continue
        strip = line.picks[0].strip
        if line.part.thickness_mm is not None and abs(strip.thickness_mm - wall) > Fraction(1, 4):
            yield (
                f"The {line.part.name} comes out {float(strip.thickness_mm):.2f} mm thick from {line.stock_text}, "
                f"while the layout counts {float(wall):.2f} mm: set the wall's thickness to what you use."
            )
    yield from _over_speaker(plan)
    yield from plan.light.warnings
    yield from several_warnings(plan)


def _on_the_rim(plan: Plan) -> Iterator[str]:
    """Yield that the rim of the speaker's flange is too narrow to carry it."""
    speaker = None if plan.enclosure is None else plan.enclosure.speaker
    if speaker is None or speaker.faces != "down" or plan.limits.post_mm <= 0:
        return
    footing = footing_mm(speaker, Fraction(plan.limits.post_mm))
    if footing is None:
        yield (
            f"No support can stand on the flange of the {speaker.name}: its basket is as long and as wide as the "
            "flange, which leaves no rim. The plan leaves the supports out: measure flange and basket again, or bed "
            "the flange in its opening in the floor alone."
        )
    elif min(footing) < LEAST_FOOT_MM:
        yield (
            f"The flange of the {speaker.name} has room for supports {float(footing[0]):.2f} mm long and "
            f"{float(footing[1]):.2f} mm wide only: so thin they bend easily. Measure flange and basket again, and "
            "bed the flange in sealant all round."
        )


def _swing(plan: Plan) -> Iterator[str]:
    """Yield trucks that are taken not to turn, and what stands or moves into the shell's sides."""
    # A truck entered as a plain box has its swing in the box.
    trucks = [f"the {each.name}" for each in plan.job.moving if each.kind == "truck"]
    if trucks and plan.job.curve is None:
        yield (
            f"How far {' and '.join(trucks)} {'turns' if len(trucks) == 1 else 'turn'} on a curve is not entered, so "
            f"{'it counts' if len(trucks) == 1 else 'they count'} as standing straight: add the table [curve] with "
            "radius and pivots."
        )
    yield from _too_wide(plan)


def _not_counted(plan: Plan) -> Iterator[str]:
    """Yield that what stands or moves has no place yet."""
    does = [word for word, entered in (("stands", plan.job.obstacles), ("moves", plan.job.moving)) if entered]
    if does and plan.chamber is None and plan.misfit is None:
        yield (
            f"What {' or '.join(does)} inside the shell is not counted yet: it has its place in the chamber's layout. "
            "Enter the shell's inside width and length to have it counted."
        )


def _beside(plan: Plan, start_mm: Number, end_mm: Number) -> list[Zone]:
    """Return the zones over a stretch of the length."""
    zones = () if plan.enclosure is None else plan.enclosure.cavity.zones
    return [zone for zone in zones if zone.start_mm < end_mm and start_mm < zone.end_mm]


def _too_wide(plan: Plan) -> Iterator[str]:
    """Yield what stands or moves into the shell's sides."""
    for each in plan.bench.moving:
        # What stands still may touch the shell's side, and without a width it is as wide as the shell.
        box = each.obstacle.outward() if each.obstacle.moves else each.swept
        beside = _beside(plan, box.start_mm, box.end_mm)
        inside = min((Fraction(zone.width_mm) / 2 for zone in beside), default=None)
        reach = Fraction(box.half_width_mm) + abs(Fraction(box.centre_mm))
        if inside is None or reach - inside < LEAST_MM or box.top_mm <= 0:
            continue
        over = format_length(reach - inside, "mm")
        if each.obstacle.moves:
            yield (
                f"The {each.entry.name} sweeps {over} further to the side than the shell is wide inside, running "
                "clearance included: check its play and the sharpest curve."
            )
        elif getattr(each.entry, "width", None) is not None:
            yield (
                f"The {each.entry.name} reaches {over} further to the side than the shell is wide inside: check its "
                "width, how far it stands off the centre, and the shell's inside width."
            )


def _too_low(plan: Plan) -> Iterator[str]:
    """Yield what stands lower than the chassis top at its place."""
    for each in plan.bench.moving:
        if each.part is not None or each.entry.kind == "truck":  # a truck is at home below the chassis top
            continue
        start, end = each.swept.start_mm, each.swept.end_mm
        beside = _beside(plan, start, end)
        below = [zone for zone in beside if each.top.exact_mm < zone.top_mm]
        if len(below) == len(beside) and below:
            zone = min(below, key=lambda zone: zone.top_mm)
            yield (
                f"{_reads_low(each, zone)}, where it stands. {_matters(plan, each, zone)} If it does stand up from the "
                "chassis, read its top and that chassis top again, and check that its entry names the right reading; "
                "if not, leave it out."
            )
            continue
        within = [z for z in below if min(end, z.end_mm) - max(start, z.start_mm) > EDGES_MM]
        if within:
            zone = max(within, key=lambda zone: zone.top_mm)
            yield (
                f"{_reads_low(each, zone)}. {_matters(plan, each, zone)} If it stands up from the chassis there too, "
                "read its top again; if it does not reach so far, read again where it starts and ends."
            )


def _reads_low(each: Moving, zone: Zone) -> str:
    top = each.top.exact_mm
    high, by = format_length(top, "mm"), format_length(Fraction(zone.top_mm) - top, "mm")
    return f"The top of the {each.entry.name} reads {high} above the seat, {by} below the chassis top over {zone.name}"


def _matters(plan: Plan, each: Moving, zone: Zone) -> str:
    """Say whether it changes anything there, its running clearance in it."""
    box = each.obstacle.outward()
    if box.top_mm > zone.top_mm + plan.limits.clearance_mm:
        running = format_length(Fraction(box.running_mm), "mm")
        return f"The {running} to keep over it still reach higher than the clearance over the chassis, so it counts."
    return f"The plan goes by the chassis there, so the {each.entry.name} changes nothing."


def _measured(plan: Plan) -> Iterator[str]:
    """Yield what to mind about rules and readings."""
    yield from calibration_warnings(plan)
    for name, reading in plan.bench.readings.items():
        if reading.repeats.odd_one is not None:
            yield f"{name}: {reading.repeats.verdict}"
        if reading.repeats.few:
            count = len(reading.repeats.marks_mm)
            yield (
                f"{name}: {count} readings that differ tell too little of their own scatter, so how sure it is may be "
                "stated too well. Read it four times."
            )


def _offsets_left(plan: Plan) -> Iterator[str]:
    """Yield the depths in which a zero offset stays."""
    for depth in plan.depths:
        left = [
            name
            for name, rule in plan.bench.rules.items()
            if (rule.offset_mm or rule.offset_uncertainty_mm) and not offset_cancels(depth.free.value, rule)
        ]
        if left and not depth.read_as_gap:
            yield (
                f"Over {depth.zone.name} the two heights were not read the same way, so the zero offset of "
                f"{' and '.join(left)} stays in their difference: check it against a known length."
            )


def _entries_to_check(plan: Plan) -> Iterator[str]:
    """Yield what looks like a slip of the pen, or will be short of a mark; limits: common practice, no source."""
    rule, space = plan.marks.rule, plan.space.exact_mm
    if space > DEEPEST_FT * plan.scale.mm_per_foot:
        yield f"The space is {three_ways(space, plan.scale)[0]} high, more than most models: check the two readings."
    if rule.given_mm(plan.job.marking.finest) * FINEST_OF_MARK < rule.graduation_mm:
        yield (
            f"The finest mark cut to, {plan.job.marking.finest}, is far finer than the marks of the {rule.name}: use a "
            "finer rule, or cut to a mark it has."
        )
    short = [line.part.name for line in plan.lines if line.setting.mark < 0]
    if short:
        yield (
            f"The setting for the {' and the '.join(short)} falls between the rule's end and its zero: where your rule "
            "has no marks there, measure the size itself with a caliper."
        )
    if plan.enclosure is None and any(part.kind == "post" for part in plan.parts):
        yield (
            "Cut the corner posts last: a floor plate that rests on them makes them shorter. Enter the shell's width "
            "and length and the speaker's sizes to see it."
        )


def _over_speaker(plan: Plan) -> Iterator[str]:
    """Yield what is left between the speaker's back and the roof, as its supports are cut, if that is too little.

    In a chamber the supports as they are cut count already in whether the speaker fits.
    """
    speaker, keep = plan.bench.speaker, Fraction(plan.limits.over_speaker_mm)
    for part in plan.parts:
        if speaker is None or plan.chamber is not None or part.kind != "support":
            continue
        deep = Fraction(speaker.behind_mm)
        over = part.cut.cut_mm + Fraction(speaker.flange_mm) - deep
        if over < keep:
            left = f"{float(over):.2f} mm is left" if over >= 0 else f"{float(-over):.2f} mm is missing"
            with_them = " with its terminals" if speaker.terminals_mm else ""
            yield (
                f"The speaker is {float(deep):.2f} mm deep{with_them}; on a {part.name} of "
                f"{float(part.cut.cut_mm):.2f} mm {left} over its back, of {float(keep):.2f} mm to keep: cut the "
                "supports to a finer mark, or use a shallower speaker."
            )

"""Figures as entered: scale, rules, clearances, what goes in, readings."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from typing import TYPE_CHECKING

from modelmath.job.bench.contents import end_play_of
from modelmath.job.why._words import in_mm, typed_mark
from modelmath.job.why.figures import Figure
from modelmath.lengths.parse import parse_length_exact
from modelmath.lengths.rules.marking import mark_text
from modelmath.lengths.text import format_length
from modelmath.lengths.units import SCALE_UNITS

if TYPE_CHECKING:
    from modelmath.job.plan import Plan

SAME = ("scale foot", "in")  # units in which a reading is shown besides mm


def entries(plan: Plan) -> Iterator[Figure]:
    """Yield what was entered, readings apart."""
    scale, job, bench, limits = plan.scale, plan.job, plan.bench, plan.limits
    how = f"{scale.standard}; on the sheets 1:{float(scale.ratio):.4g}"
    yield Figure("scale", f"{scale.name}, 1:{float(scale.ratio):.4f}", how, scale.source)
    for name, rule in bench.rules.items():
        below = ("scale",) if rule.unit in SCALE_UNITS and rule.scale == scale else ()
        gauges = sum(1 for gauge in job.gauges if gauge.rule == name)
        how = f"as entered, from a calibration on {gauges} known sizes" if gauges else "as entered"
        yield Figure(f"rule: {name}", rule.describe(), how, "the job, rules", below)
    rule = plan.marks.rule
    finest = mark_text(rule, parse_length_exact(plan.marks.finest, rule.unit, rule.scale))
    how = f"as entered, {typed_mark(plan.marks.finest, rule)} on the {rule.name}"
    yield Figure("finest mark", finest, how, "the job, marking", (f"rule: {rule.name}",))
    seating = bench.length(job.seat.repeatability, "seat", "repeatability")
    cutting = bench.length(job.build.cutting_tolerance, "build", "cutting_tolerance")
    room = bench.length(job.build.hole_clearance, "build", "hole_clearance")
    entered = [
        ("clearance", limits.clearance_mm, _clearance(plan), "clearance"),
        ("clearance along the length", limits.end_clearance_mm, _along(plan), "clearance and length"),
        ("room over the speaker", limits.over_speaker_mm, f"as entered, {job.clearance.over_speaker}", "clearance"),
        ("wall", limits.wall_mm, f"as entered, {job.build.wall}", "build"),
        ("post", limits.post_mm, f"as entered, {job.build.post}", "build"),
        ("hole clearance", room, f"as entered, {job.build.hole_clearance}", "build"),
    ]
    faced = plan.bench.speaker
    if faced is not None and plan.enclosure is not None and plan.enclosure.cavity.closed_at(faced.faces):
        kept = (limits.sound_room_mm, f"as entered, {job.clearance.sound_room}; common practice, no source")
        entered.append(("room for the sound", *kept, "clearance"))
    for what, value, how, where in entered:
        yield Figure(what, in_mm(value), how, f"the job, {where}")
    yield Figure("seating", f"±{in_mm(seating)}", "how repeatably the shell seats, as entered", "the job, seat")
    yield Figure("cutting tolerance", f"±{in_mm(cutting)}", "as entered", "the job, build; common practice, no source")
    times = f"counts {plan.models} times" if plan.models > 1 else "counts once"
    how = f"as entered; what is cut from stock, bought and wired {times}"
    yield Figure("models built", f"{plan.models} model{'s' if plan.models > 1 else ''}", how, "the job, build")
    yield from _bodies(plan)


def _bodies(plan: Plan) -> Iterator[Figure]:
    """Yield what goes in: speaker, decoder, lamps."""
    bench, limits = plan.bench, plan.limits
    if bench.flange_mm is not None:
        yield Figure("flange", in_mm(bench.flange_mm), "as entered", "the job, speaker")
    if bench.speaker is not None:
        for what in ("length", "width", "depth"):
            yield Figure(
                f"speaker {what}", in_mm(getattr(bench.speaker, f"{what}_mm")), "as entered", "the job, speaker"
            )
        if bench.speaker.travel_mm:
            how = "how far the cone moves out, as entered"
            yield Figure("cone travel", in_mm(bench.speaker.travel_mm), how, "the job, speaker")
    if bench.decoder is not None:
        box = bench.decoder
        sides = " x ".join(f"{float(each):.2f}" for each in (box.length_mm, box.width_mm, box.height_mm))
        air = f", and {in_mm(Fraction(box.air_mm))} of air round it" if box.air_mm else ""
        yield Figure("decoder room", f"{sides} mm{air}", "its size and its air, as entered", "the job, decoder")
    for end, room in (("front", limits.front_room_mm), ("rear", limits.rear_room_mm)):
        if room:
            yield Figure(
                f"lamp room, {end}", in_mm(room), "the most that a lamp there needs, as entered", "the job, lamps"
            )


def _clearance(plan: Plan) -> str:
    """Say what is kept: the clearance, and what else takes room."""
    takes = plan.bench.varying.takes_mm
    kept = f"as entered, {plan.job.clearance.keep}"
    return (
        f"{kept}, and {in_mm(takes)} that {' and '.join(each.name for each in plan.job.allow)} take" if takes else kept
    )


def _along(plan: Plan) -> str:
    """Say what is kept along the length: the clearance, and what the shell can shift."""
    play = end_play_of(plan.bench)
    kept = f"as entered, {plan.job.clearance.along}"
    return f"{kept}, and {in_mm(play)} that the shell can shift either way" if play else kept


def readings(plan: Plan) -> Iterator[Figure]:
    """Yield the readings, each corrected."""
    for entry in plan.job.readings:
        reading = plan.bench.readings[entry.name]
        mark = typed_mark(entry.mark, reading.rule)
        how = f"mark {mark} from the rule's {entry.datum}: (mark + offset) x (1 + scale error)"
        if entry.datum == "zero":
            how = f"mark {mark} from the zero mark: mark x (1 + scale error)"
        if entry.again:
            count = 1 + len(entry.again)
            how = f"the mean of {count} readings, {', '.join((mark, *entry.again))}; {how.partition(': ')[2]}"
            how += f". {reading.repeats.verdict.removesuffix('.')}"
        if entry.moved_from is not None:
            how += f". Moved in the drawing, not read: it was read at {typed_mark(entry.moved_from, reading.rule)}"
        how += f". The same: {', '.join(format_length(reading.value, unit, plan.scale) for unit in SAME)}"
        source = "JCGM 200:2012, correction; JCGM 100:2008, F.2.2.1 for ±"
        rule = (f"rule: {reading.rule.name}",)
        yield Figure(f"reading: {entry.name}", in_mm(reading.value), how, source, rule, reading.value)

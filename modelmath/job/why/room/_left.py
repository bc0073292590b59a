"""Figures of the room left, usually and at worst, and of the room along the length."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from fractions import Fraction
from typing import TYPE_CHECKING

from modelmath.job.room_left.sizes import accepted_in_words
from modelmath.job.why._words import free_name, in_mm
from modelmath.job.why.figures import Figure
from modelmath.job.why.room._space import RAISED

if TYPE_CHECKING:
    from modelmath.clearance import Term
    from modelmath.job.plan import Plan

STACK = "worst-case and root-sum-square stack-up"
ACCEPTED, USUALLY, TERMS = "accepted chance of touching", "room left, usually and at worst", "what the room left is of"


def room(plan: Plan) -> Iterator[Figure]:
    """Yield what is kept, the accepted chance, the terms of the room left, and what that is usually and at worst."""
    yield from _heights(plan)
    left = plan.gap
    below = (f"{plan.governing.moving}: room kept" if left.running else "clearance",)
    raised = (RAISED,) if left.raised_mm else ()
    yield Figure("room kept", in_mm(left.kept_mm), left.kept_in_words, "addition", (*below, *raised))
    chance = plan.job.clearance.chance
    yield Figure(ACCEPTED, accepted_in_words(left.wanted_chance), f"as entered, {chance:g}", "the job, clearance")
    terms = "; ".join(_term(term) for term in left.stack.terms)
    worst, usual = (f"±{size:.2f} mm" for size in (left.stack.worst_case(), left.stack.rss()))
    how = f"{terms}. All added {worst}, the root of their squares {usual}"
    yield Figure(TERMS, in_mm(left.left_mm), how, STACK, ("room left",))
    value = f"{in_mm(left.usually_mm)} usually, {in_mm(left.at_worst_mm)} at worst"
    yield Figure(USUALLY, value, f"{_less(left.left_mm, left.stack.rss())}. {left.verdict}", STACK, (TERMS,))


def _heights(plan: Plan) -> Iterator[Figure]:
    """Yield the roof and the chassis top of each zone, where the least free depth was read."""
    for depth in plan.depths:
        both = [(name, height) for name, height in (("roof", depth.roof), ("top", depth.top)) if height is not None]
        if both:
            value = ", ".join(f"{name} {in_mm(height.exact_mm)}" for name, height in both)
            how = "as read there, each corrected"
            below = (free_name(depth),)
            yield Figure(f"heights over {depth.zone.name}", value, how, "reading", below)


def _less(left_mm: Fraction, off_mm: float) -> str:
    return f"{in_mm(left_mm)} less what may be off, {in_mm(off_mm)} usually"


def _term(term: Term) -> str:
    size = f" {in_mm(term.nominal_mm)}" if term.nominal_mm else ""
    return f"{term.name}{size}{f' ± {term.tolerance_mm:.2f} mm' if term.tolerance_mm else ''}"


def along(plan: Plan) -> Iterator[Figure]:
    """Yield the free depth along the length, the room beside each wall, and the way out for the sound."""
    yield from _stretches(plan)
    yield from _reaches(plan)
    if plan.chamber is not None:
        floor = Fraction(plan.chamber.floor_mm)
        heights = dict.fromkeys(in_mm(Fraction(bay.zone.roof_mm) - floor) for bay in plan.chamber.bays)
        how = f"from each roof over it down to its floor; at the bulkhead {in_mm(plan.chamber_height_mm)}"
        yield Figure("height of the chamber", ", ".join(heights), how, "arithmetic", ("chamber volume",))
    if plan.net_volume is not None:
        volume = "net volume" if plan.net_volume.shares else "chamber volume"
        how = "the same, to a hundredth"
        yield Figure("gross and net volume", plan.net_volume.text, how, "rounding", (volume,))
    for place in plan.places:
        how = f"its {place.face}, from the {plan.mark_name} to the rear, where the largest chamber has it"
        name = f"place along: {place.what}, {place.face}"
        yield Figure(name, in_mm(place.position_mm), how, "the chamber found largest", ("chamber volume",))
    for gap in plan.along_gaps:
        terms = "; ".join(_term(term) for term in gap.stack.terms)
        how = f"{gap.in_words} Of {terms}. All added ±{gap.stack.worst_case():.2f} mm"
        below = ("chamber volume", "clearance along the length", "cutting tolerance")
        yield Figure(f"room along the length, {gap.wall}", in_mm(gap.left_mm), how, STACK, below)
    found = plan.sounding
    if found is not None:
        source = "elementary geometry; that as large as the cone does no harm: common practice, no source"
        below = ("speaker length", "speaker width", "chamber volume")
        value = f"{100 * found.share:.0f} % of the cone's area"
        yield Figure("way out for the sound", value, found.in_words, source, below)


def _stretches(plan: Plan) -> Iterator[Figure]:
    count = Counter(each.name for each in plan.skyline)
    met = Counter[str]()
    for each in plan.skyline:
        met[each.name] += 1
        number = f" ({met[each.name]})" if count[each.name] > 1 else ""
        start, end = (in_mm(place) for place in (each.start_mm, each.end_mm))
        edges = " and ".join(f"± {u:.2f} mm" for u in each.edge_u_mm)
        how = f"{start} to {end} from the {plan.mark_name}, its edges known to {edges}; ± is one standard uncertainty"
        standing = next((one for one in plan.bench.moving if one.entry.name == each.name), None)
        below: tuple[str, ...] = tuple(free_name(depth) for depth in plan.depths if depth.zone.name == each.name)
        if standing is not None:
            below = (f"{each.name}: reach along",)
        below += tuple(dict.fromkeys(f"reading: {name}" for name in _edges(plan)))
        yield Figure(f"free depth along: {each.name}{number}", in_mm(each.free.value), how, "arithmetic", below)


def _edges(plan: Plan) -> list[str]:
    """Return the readings that places along the length follow from."""
    length = plan.job.length
    assert length is not None  # the depth along an unknown length has no stretches
    ends = (depth.zone.end for depth in plan.depths)
    return [each for each in (length.shell_inside, length.mark_on_shell, length.mark_on_chassis, *ends) if each]


def _reaches(plan: Plan) -> Iterator[Figure]:
    """Yield how far what stands or moves reaches to the side, and what it stands off the centre."""
    for each in plan.bench.moving:
        box = each.obstacle.outward()
        how = f"along from {in_mm(box.start_mm)} to {in_mm(box.end_mm)}, outward to where it may be"
        if box.centre_mm:
            how += f"; {in_mm(abs(box.centre_mm))} {'right' if box.centre_mm > 0 else 'left'} of the centre"
        if each.play_mm:
            how += f"; the shell's end play of {in_mm(each.play_mm)} in it"
        name, below = f"{each.entry.name}: reach to the side", (f"{each.entry.name}: reach along",)
        yield Figure(name, in_mm(box.half_width_mm), how, "elementary geometry", below)

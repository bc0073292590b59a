"""Figures of the space: depths, the bulkhead, the room left, the chamber."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from typing import TYPE_CHECKING

from modelmath.job.room_left.sizes import accepted_in_words, chance_in_words
from modelmath.job.room_left.spots import governing_room
from modelmath.job.space.held_ends import of_those_held
from modelmath.job.volume import as_cut
from modelmath.job.why._words import SETTING, free_name, in_mm, in_units
from modelmath.job.why.figures import Figure

if TYPE_CHECKING:
    from modelmath.job.bench.heights import Depth
    from modelmath.job.plan import Plan

RAISED = "floor raised above the clearance"


def depths(plan: Plan) -> Iterator[Figure]:
    """Yield the free depth of every zone."""
    links = {face: f"reading: {reading.name}" for face, reading in plan.bench.links.items()}
    for depth in plan.depths:
        how = "roof less chassis top"
        if depth.read_as_gap:
            how = "the gap read in the assembled model, in place of the difference of two heights"
        elif depth.offset_cancels:
            how += f"; the zero offset of {depth.offset_cancels} cancels, since both were read the same way"
        if depth.at:
            others = ", ".join(f"{each.name} {in_mm(each.free.exact_mm)}" for each in depth.stations[1:])
            how += f"; smallest at {depth.stations[0].name} (elsewhere {others})"
        names = _readings_of(plan, depth)
        faces = {plan.bench.reading(name).face for name in names}
        named = [*(f"reading: {name}" for name in names), *(links[face] for face in sorted(faces) if face in links)]
        source = "reading" if depth.read_as_gap else "arithmetic; JCGM 100:2008, 5.2"
        yield Figure(free_name(depth), in_mm(depth.free.value), how, source, tuple(named), depth.free.value)


def _readings_of(plan: Plan, depth: Depth) -> list[str]:
    """Return the readings behind a zone's depths, station by station."""
    zone = depth.zone
    if depth.read_as_gap and not depth.at:
        return [depth.read_as_gap]
    stations = [each for each in plan.job.stations if each.zone == zone.name]
    named = [(each.underside, each.chassis_top, each.gap) for each in stations]
    own = (zone.gap,) if zone.gap else (zone.underside, zone.chassis_top)
    return list(dict.fromkeys(name for each in (own, *named) for name in each if name))


def height(plan: Plan) -> Iterator[Figure]:
    """Yield the space the bulkhead stands in, its height and the room left."""
    gap = plan.gap
    rule = f"rule: {plan.marks.rule.name}"
    above, below = plan.hung_from, plan.governing
    space = free_name(below)
    if above is not below:
        space = "space at the bulkhead"
        what = f"the top of {below.moving}" if below.moving else f"the chassis top over {below.zone.name}"
        how = f"from the roof over {above.zone.name} down to {what}, which governs"
        lower = f"{below.moving}: highest" if below.moving else free_name(below)
        inputs = (f"reading: {above.stations[0].underside}", lower)
        yield Figure(space, in_mm(plan.space.value), how, "arithmetic; JCGM 100:2008, 5.2", inputs, plan.space.value)
    kept, what_kept = "clearance", "the clearance"
    if below.moving:
        kept, what_kept = f"{below.moving}: room kept", f"the room kept over {below.moving}"
        room = gap.clearance_mm + plan.bench.varying.takes_mm
        what = "its running clearance, as entered, and what else takes room there"
        yield Figure(kept, in_mm(room), what, entered_under(plan, below.moving))
    needed: tuple[str, ...] = (kept,)
    if gap.raised_mm:
        yield _raised(plan)
        needed, what_kept = (kept, RAISED), f"{what_kept}, and {in_mm(gap.raised_mm)} {gap.raised_for}"
    if plan.bulkhead is not None:
        how = f"the largest size on a mark that is no more than the space less {what_kept}"
        size = in_units(plan, plan.bulkhead.cut.cut_mm)
        cut = as_cut(plan, plan.bulkhead.cut.cut_mm)
        yield Figure("bulkhead height", size, how, "arithmetic", (space, *needed, "finest mark"), cut)
        setting = plan.marks.setting(plan.bulkhead.cut.cut_mm).text
        yield Figure("bulkhead setting", setting, SETTING, "arithmetic", ("bulkhead height", rule))
    if plan.chamber is not None and below.top is not None:
        how = f"the top of {below.name} and the room left over it, which is {gap.made_of}"
        if plan.bench.varying.takes_mm:
            how = how.replace("the room left over it", "what takes room there and the room left over it", 1)
        value = f"{in_mm(Fraction(plan.chamber.floor_mm))} above the seat"
        yield Figure("floor height", value, how, "arithmetic", (space, *needed, "finest mark"))
    tolerance = f"±{gap.stack.worst_case():.2f} mm at worst, ±{gap.stack.rss():.2f} mm usually"
    how = f"the space less the height cut; tolerances add to {tolerance}"
    height = (*needed, "finest mark") if plan.bulkhead is None else ("bulkhead height",)
    terms = []
    for term in plan.bench.varying.terms:
        terms.append(f"takes room: {term.name}")
        size = f"{in_mm(-term.nominal_mm)} ± {term.tolerance_mm:.2f} mm"
        yield Figure(terms[-1], size, "thickness of all its layers, as entered or as usual", "the job, allow")
    if terms:
        how = how.replace("less the height cut", "less the height cut and what takes room")
    behind = (space, *height, *terms, "seating", "cutting tolerance")
    room = governing_room(plan)
    yield Figure("room left", in_mm(gap.left_mm), how, "worst-case and root-sum-square stack-up", behind, room)


def entered_under(plan: Plan, name: str) -> str:
    """Return where the running clearance of what stands or moves was entered."""
    stands = any(each.name == name for each in plan.job.obstacles)
    return f"the job, {'obstacles' if stands else 'moving'} and allow"


def _raised(plan: Plan) -> Figure:
    """Return how much higher than its clearance asks for the floor lies, and what needs that."""
    found = plan.floor_set
    how = f"{found.purpose}; any lower leaves too little for that"
    pocket = None if plan.chamber is None else plan.chamber.pocket
    if found.cause == "decoder" and pocket is not None:
        takes = in_mm(Fraction(pocket.top_mm) - Fraction(pocket.bottom_mm))
        how += f". It takes {takes} of height there, with its air"
    inputs: dict[str, tuple[str, ...]] = {
        "cone": ("cone travel",),
        "width": ("speaker width",),
        "decoder": ("decoder room",),
    }
    below = inputs.get(found.cause, ("clearance",))
    return Figure(RAISED, in_mm(found.raised_mm), how, "the lowest floor that lets all go in", below)


def touching(plan: Plan) -> Iterator[Figure]:
    """Yield the chance of touching, and what has to be left for the accepted one."""
    gap = plan.gap
    how = "the part of the distribution of the room left that lies below 0; the sum of its terms by convolution"
    source = "JCGM 101:2008, 5.2 for the distribution of a sum"
    yield Figure("chance of touching", chance_in_words(gap.chance), how, source, ("room left",))
    how = f"the room that leaves a chance of {accepted_in_words(gap.wanted_chance)}, as entered"
    yield Figure("allowance", in_mm(gap.allowance_mm), how, source, ("room left",))


def chamber(plan: Plan) -> Iterator[Figure]:
    """Yield the chamber's volume and length."""
    chamber, length = plan.chamber, plan.job.length
    if plan.enclosure is None or chamber is None or length is None:
        return
    widths = (depth.zone.width for depth in plan.depths)
    ends = (depth.zone.end for depth in plan.depths)
    places = (length.shell_inside, length.mark_on_shell, length.mark_on_chassis, *ends)
    readings = dict.fromkeys(f"reading: {name}" for name in (*widths, *places) if name)
    kept = ["clearance", "clearance along the length", "wall", "finest mark"]
    kept += [f"lamp room, {end}" for end in ("front", "rear") if getattr(plan.limits, f"{end}_room_mm")]
    if plan.bench.decoder is not None:
        kept.append("decoder room")
    if plan.bench.speaker is not None:
        kept += ["speaker length", "speaker width", "speaker depth", "room over the speaker", "post"]
        if plan.enclosure.cavity.closed_at(plan.bench.speaker.faces):
            kept.append("room for the sound")
    assert chamber.cut_from is not None
    exact = f"{float(chamber.cut_from.volume_mm3) / 1000:.2f} cm3 before its floor and walls go to marks"
    largest = f"the largest of {plan.enclosure.looked_at} chambers compared, each as it is cut{of_those_held(plan)}"
    how = f"sum of width x depth x length; {largest}; {exact}"
    volume, inside = plan.volume, plan.length
    assert volume is not None
    assert inside is not None
    value = f"{float(chamber.volume_mm3) / 1000:.2f} ± {volume.u_mm / 1000:.2f} cm3"
    below = (*(free_name(depth) for depth in plan.depths), *readings, *kept)
    yield Figure("chamber volume", value, how, "elementary geometry", below, volume.value)
    how = "between the inner faces of the ends of the largest chamber"
    yield Figure("chamber length", in_mm(inside.value), how, "arithmetic", ("chamber volume",), inside.value)

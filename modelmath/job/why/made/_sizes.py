"""What each part's size is made of: the numbers it is worked out from, and the figures that these are."""

from __future__ import annotations

from collections.abc import Iterable
from fractions import Fraction
from itertools import pairwise
from typing import TYPE_CHECKING

from modelmath.job.why._words import free_name, in_mm

if TYPE_CHECKING:
    from modelmath.enclosure import Part
    from modelmath.job.bench.moving import Moving
    from modelmath.job.plan import Plan

DOWN = "the largest size on a mark that is no more"
UP = "the smallest size on a mark that is no less"
Made = tuple[str, tuple[str, ...]]  # how, and the names of the figures below


def size_name(plan: Plan, part: Part) -> str:
    """Return the name of the figure of a part's size."""
    return "bulkhead height" if part == plan.bulkhead else f"{part.name} length"


def made_of(plan: Plan, part: Part) -> Made:
    """Return what a part's size is made of, and the figures that it follows from."""
    make = _MADE.get(part.kind)
    if make is None:
        return part.made_to, (_floor_name(plan), "finest mark")
    how, below = make(plan, part)
    return how, tuple(dict.fromkeys(below))


def _exact(part: Part) -> Fraction:
    return Fraction(part.cut.exact_mm)


def _wall(plan: Plan, part: Part) -> Made:
    """Return a closure's height: under its own roof, down to the floor that all walls share."""
    roof = _top(part)
    return _hung(plan, part, roof, roof - _floor(plan), ())


def _hung(plan: Plan, part: Part, roof: Fraction, size: Fraction, less: Iterable[tuple[str, str, Fraction]]) -> Made:
    """Return the size of what reaches from a roof down to the floor, less what else takes height there."""
    floor, taken = _floor(plan), list(less)
    words = [f"the roof over it, {in_mm(roof)} above the seat", f"less the floor height, {in_mm(floor)}"]
    if plan.hung_from.roof is None:
        words = [f"from the roof over it down to the floor, {in_mm(roof - floor)}"]
    words += [f"less {said}, {in_mm(value)}" for said, _, value in taken]
    how = f"{', '.join(words)}: {in_mm(size)}; {DOWN}"
    return how, (_floor_name(plan), *(name for _, name, _ in taken), "finest mark", *_roofs_over(plan, part))


def _post(plan: Plan, part: Part) -> Made:
    wall = next(each for each in plan.parts if each.name == part.wall)
    height = size_name(plan, wall)
    if part.made_by == "copy":
        return part.made_to, (height,)
    plate = Fraction(plan.limits.wall_mm) if "less floor plate" in part.made_to else Fraction(0)
    if _exact(part) == wall.cut.cut_mm - plate:
        how = f"the height of the {wall.name}, {in_mm(wall.cut.cut_mm)}, less the floor plate, {in_mm(plate)}"
        return f"{how}: {in_mm(_exact(part))}; {DOWN}", (height, "wall", "finest mark")
    if "box's lid" in part.made_to:
        top = _top(part)
        how = (
            f"the roof over it, {in_mm(top)} above the seat, less the top of the box's lid, {in_mm(top - _exact(part))}"
        )
        boxed = [f"{each.entry.name}: highest" for each in plan.bench.moving if _meets(part, each)]
        return f"{how}: {in_mm(_exact(part))}; {DOWN}", ("wall", "finest mark", *boxed, *_roofs_over(plan, part))
    less = [("the floor plate", "wall", plate)] if plate else []
    return _hung(plan, part, _exact(part) + plate + _floor(plan), _exact(part), less)


def _support(plan: Plan, part: Part) -> Made:
    flange = plan.bench.flange_mm or Fraction(0)
    if plan.enclosure is None:
        height = _exact(part) + flange
        how = f"the height of the bulkhead, {in_mm(height)}, less the flange, {in_mm(flange)}"
        return f"{how}: {in_mm(_exact(part))}; {DOWN}", ("bulkhead height", "flange", "finest mark")
    ceiling = _exact(part) + flange + _floor(plan)
    how, below = _hung(plan, part, ceiling, _exact(part), [("the flange", "flange", flange)])
    speaker = plan.bench.speaker
    shaped = speaker is not None and any(zone.profile for zone in plan.job.zones)
    if shaped:
        how = how.replace("the roof over it", "the roof over it, as far up as the section is as wide as the speaker", 1)
        return how, (*below, "speaker width")
    return how, below


def _plate(plan: Plan, part: Part) -> Made:
    below = ["chamber length", *(["speaker length"] if plan.bench.speaker is not None else []), "finest mark"]
    return f"{in_mm(_exact(part))} of floor are left open there; {UP}: {part.made_to}", tuple(below)


def _filler(plan: Plan, part: Part) -> Made:
    return f"the speaker's length, {in_mm(_exact(part))}; {UP}: {part.made_to}", ("speaker length", "finest mark")


def _side(plan: Plan, part: Part) -> Made:
    if any(zone.profile for zone in plan.job.zones):
        how = f"along the section, from the floor up to the roof, {in_mm(_exact(part))}; {DOWN}"
        return how, (_floor_name(plan), "finest mark", *_roofs_over(plan, part))
    return _hung(plan, part, _exact(part) + _floor(plan), _exact(part), ())


def _box(plan: Plan, part: Part) -> Made:
    """Return a box's sides and ends, as high as what it stands round or as the roof; its lid, as long as they are."""
    found = next((each for each in plan.bench.moving if part.name.startswith(f"{each.entry.name} box, ")), None)
    name = "" if found is None else found.entry.name
    if part.name.removeprefix(f"{name} box, ").startswith("lid"):
        below = (f"{name}: reach along",) if name else ()
        return f"{in_mm(_exact(part))}, as long as its box is; {UP}: {part.made_to}", (*below, "wall", "finest mark")
    top = _exact(part) + _floor(plan)
    to_roof = "to the roof" in part.made_to
    said = "the roof over it" if to_roof else f"the top of {name}, its running clearance in it"
    above = _roofs_over(plan, part) if to_roof or not name else (f"{name}: highest",)
    how = f"{said}, {in_mm(top)} above the seat, less the floor height, {in_mm(_floor(plan))}"
    return f"{how}: {in_mm(_exact(part))}; {UP}", (*above, _floor_name(plan), "finest mark")


def _rest(plan: Plan, part: Part) -> Made:
    thickest = max((each for each in plan.holes if each.kind == "strand"), key=lambda each: each.diameter_mm)
    how = f"three times the thickest strand, {in_mm(thickest.diameter_mm)}: {in_mm(_exact(part))}; {UP}"
    return how, (f"strand: {thickest.name}", "finest mark")


def _barrier(plan: Plan, part: Part) -> Made:
    roof = _top(part)
    low = roof - _exact(part)
    how = f"the roof over it, {in_mm(roof)} above the seat, less what it clears, {in_mm(low)}"
    met = [f"{each.entry.name}: highest" for each in plan.bench.moving if _meets(part, each)]
    free = [free_name(plan.depths[place]) for place in _zones_over(plan, part)]
    return f"{how}: {in_mm(_exact(part))}; {DOWN}", ("clearance", "finest mark", *free, *met, *_roofs_over(plan, part))


_MADE = {
    "wall": _wall,
    "post": _post,
    "support": _support,
    "plate": _plate,
    "filler": _filler,
    "side": _side,
    "box": _box,
    "rest": _rest,
    "barrier": _barrier,
}


def _floor(plan: Plan) -> Fraction:
    assert plan.chamber is not None
    return Fraction(plan.chamber.floor_mm)


def _floor_name(plan: Plan) -> str:
    """Return the figure that the floor's height is: its own, or else the bulkhead's or the room left."""
    if plan.chamber is not None and plan.governing.top is not None:
        return "floor height"
    return "bulkhead height" if plan.bulkhead is not None else "room left"


def _top(part: Part) -> Fraction:
    return max(Fraction(block.top_mm) for block in part.blocks)


def _zones_over(plan: Plan, part: Part) -> list[int]:
    """Return the zones that a part stands in, or near enough to count; all where it has no place."""
    ends, keep = plan.bench.ends, Fraction(plan.limits.end_clearance_mm)
    if ends is None or not part.blocks:
        return list(range(len(plan.depths)))
    start = min(Fraction(block.start_mm) for block in part.blocks) - keep
    end = max(Fraction(block.end_mm) for block in part.blocks) + keep
    edges = pairwise(each.exact_mm for each in ends.edges)
    return [place for place, (low, high) in enumerate(edges) if low < end and start < high]


def _roofs_over(plan: Plan, part: Part) -> tuple[str, ...]:
    depths = (plan.depths[place] for place in _zones_over(plan, part))
    return tuple(f"reading: {depth.stations[0].underside}" for depth in depths if depth.stations[0].underside)


def _meets(part: Part, other: Moving) -> bool:
    box = other.obstacle.outward()
    return any(block.start_mm < box.end_mm and box.start_mm < block.end_mm for block in part.blocks)

"""By how much a box such as the decoder misses, and why: told of the place under the roof that comes nearest."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from modelmath.enclosure.bodies import Box
from modelmath.enclosure.cavity import Bay, Zone
from modelmath.enclosure.fitting.nearest import Miss, along_words, in_mm, left, nearest_run, said
from modelmath.lengths.numbers import Number


def miss_of_box(bays: Sequence[Bay], box: Box, per_mm: int = 1) -> Miss:
    """Return the largest shortage of the place under the roof that comes nearest to holding a stiff box.

    Parameters
    ----------
    bays : sequence of Bay
        All bays, front to rear. [mm, or a small unit]
    box : Box
        What finds no room. [mm, or a small unit]
    per_mm : int
        How many of the unit make a mm. [1/mm]

    Returns
    -------
    Miss
        Short by height, width or length. [mm]

    References
    ----------
    Elementary geometry.
    """
    starts, ends = [bay.start_mm for bay in bays], [bay.end_mm for bay in bays]
    roofs, floors = [bay.zone.roof_mm for bay in bays], [bay.floor_mm for bay in bays]
    widths = [bay.zone.width_mm for bay in bays]
    profiled = any(bay.zone.profile is not None for bay in bays)
    places = []
    for way in box.ways:

        def lacks(run: slice, up: Number = way.up_mm, across: Number = way.across_mm) -> Iterator[Number]:
            yield up - (min(roofs[run]) - max(floors[run]))
            yield across - (_widest(bays[run], up) if profiled else min(widths[run]))

        found = nearest_run(starts, ends, way.along_mm, lacks)
        places.append((found[0], Box(box.name, way.along_mm, way.across_mm, way.up_mm), bays[found[1]]))
    _, turned, run = min(places, key=lambda each: each[0])
    return max(_lacking(run, turned, per_mm), key=lambda miss: miss.short_mm)


def _lacking(run: Sequence[Bay], box: Box, per_mm: int) -> Iterator[Miss]:
    """Yield by how much a run of bays is short for a box, of height, width and length."""
    remedy = f"Use a smaller {box.name}, turn it, or keep less clearance."
    roof = min(run, key=lambda bay: bay.zone.roof_mm).zone
    step = max(run, key=lambda bay: bay.floor_mm)
    height, length = roof.roof_mm - step.floor_mm, run[-1].end_mm - run[0].start_mm
    has = f"there are {left(height, per_mm)} of height" if height > 0 else "there is no height"
    over = f"over {step.cause.words}{'' if step.cause is roof else f', under the roof over {roof.name},'}"
    cause = f"{over} {has} for its {said(box.height_mm, per_mm)}"
    yield Miss(in_mm(box.height_mm - height, per_mm), cause, remedy)
    zone = min((bay.zone for bay in run), key=lambda each: _widest_for(run, each, box.height_mm))
    width = _widest_for(run, zone, box.height_mm)
    wide = f"{left(width, per_mm)} wide inside and the {box.name} {said(box.width_mm, per_mm)}"
    yield Miss(in_mm(box.width_mm - width, per_mm), f"over {zone.name} the shell is {wide}", remedy)
    cause = f"{along_words(run)} there are {left(length, per_mm)} of length for its {said(box.length_mm, per_mm)}"
    yield Miss(in_mm(box.length_mm - length, per_mm), cause, remedy)


def _widest(run: Sequence[Bay], up: Number) -> Number:
    return min(_widest_for(run, bay.zone, up) for bay in run)


def _widest_for(run: Sequence[Bay], zone: Zone, up: Number) -> Number:
    """Return the width of a zone at the height at which a box so high, standing in a run of bays, has most of it."""
    low, high = max(bay.floor_mm for bay in run), min(bay.zone.roof_mm for bay in run)
    profiles = {id(bay.zone): bay.zone.profile for bay in run if bay.zone.profile is not None}.values()
    if not profiles or high - low < up:
        return zone.width_mm
    turns = {place for profile in profiles for height, _ in profile.points for place in (height, height - up)}
    heights = [low, high - up, *(place for place in sorted(turns) if low < place < high - up)]
    best = max(heights, key=lambda at: min(bay.zone.width_over(at, at + up) for bay in run))
    return zone.width_over(best, best + up)

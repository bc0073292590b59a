"""What hangs from the roof and may touch what lies below: bulkhead and floor, rear closure, a speaker facing down."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from typing import TYPE_CHECKING

from modelmath.enclosure.fitting.rooms import bays_over
from modelmath.enclosure.marked import reference_bay
from modelmath.job.bench.heights import Depth
from modelmath.job.room_left.over_moving import over_moving

if TYPE_CHECKING:
    from modelmath.enclosure import Bay, Chamber
    from modelmath.job.plan import Plan
    from modelmath.lengths.numbers import Number

BULKHEAD = "bulkhead"  # the floor hangs on it, and is cut at its stop


@dataclass(frozen=True)
class Hanging:
    """Something that hangs from the roof on a part cut to a size.

    Attributes
    ----------
    name : str
        What it is; empty of the bulkhead and the floor that hangs on it. [-]
    size_mm : Fraction
        What the part is marked out to. [mm]
    carries_mm : Fraction
        What is carried below the part, of known size: a speaker's flange and its cone's travel. [mm]
    stop : str
        Parts of one stop come out alike. [-]
    under : tuple of Depth
        Zones under whose roof it stands. [mm]
    below : tuple of Depth
        Zones, and what stands or moves, below it. [mm]
    """

    name: str
    size_mm: Fraction
    carries_mm: Fraction
    stop: str
    under: tuple[Depth, ...]
    below: tuple[Depth, ...]


def hanging(plan: Plan) -> Iterator[Hanging]:
    """Yield what hangs in the shell.

    Parameters
    ----------
    plan : Plan
        The plan. [-]

    Yields
    ------
    Hanging
        Bulkhead and floor first. [mm]

    References
    ----------
    None needed.
    """
    chamber = plan.chamber
    height = plan.chamber_height_mm
    if chamber is None:
        zone = (plan.governing,)
        yield Hanging("", height, Fraction(0), BULKHEAD, zone, zone)
        for part in (each for each in plan.parts if each.kind == "support"):
            yield Hanging("the speaker", part.cut.cut_mm, _carried_mm(plan), part.name, zone, zone)
        return
    outer = (chamber.start_mm, chamber.end_mm)
    under: tuple[Depth, ...] = (_depth(plan, reference_bay(chamber).zone.name),)
    if chamber.front_wall:
        under = _zones(plan, chamber, (chamber.start_mm, chamber.inner_start_mm))
    elif chamber.rear_wall:
        under = _zones(plan, chamber, (chamber.inner_end_mm, chamber.end_mm))
    yield Hanging("", height, Fraction(0), BULKHEAD, under, _below(plan, chamber, outer))
    walls = [part for part in plan.parts if part.kind == "wall"]
    if len(walls) > 1:
        rear = (chamber.inner_end_mm, chamber.end_mm)
        stop = BULKHEAD if walls[1].cut_set == walls[0].cut_set else walls[1].name
        over = (_zones(plan, chamber, rear), _below(plan, chamber, rear))
        yield Hanging(f"the {walls[1].name}", walls[1].cut.cut_mm, Fraction(0), stop, *over)
    yield from _speaker(plan, chamber)


def _speaker(plan: Plan, chamber: Chamber) -> Iterator[Hanging]:
    """Yield a speaker that faces down, on each of its pairs of supports."""
    speaker = plan.bench.speaker
    if speaker is None or speaker.faces != "down" or chamber.seat_mm is None:
        return
    seat = chamber.seat_mm
    made = [part for part in plan.parts if part.kind == "support"]
    for place, part in enumerate(made):
        at = seat if len(made) == 1 else ((seat[0], seat[0]), (seat[1], seat[1]))[place > 0]
        bays = bays_over(chamber.bays, at[0], at[1]) if at[0] < at[1] else _at(chamber, at[0], rear=place > 0)
        under = tuple(_depth(plan, name) for name in dict.fromkeys(bay.zone.name for bay in bays))
        yield Hanging("the speaker", part.cut.cut_mm, _carried_mm(plan), part.name, under, _below(plan, chamber, seat))


def _at(chamber: Chamber, place: Number, rear: bool) -> tuple[Bay, ...]:
    if rear:
        return tuple(bay for bay in chamber.bays if bay.start_mm < place <= bay.end_mm)
    return tuple(bay for bay in chamber.bays if bay.start_mm <= place < bay.end_mm)


def _carried_mm(plan: Plan) -> Fraction:
    speaker = plan.bench.speaker
    return Fraction(plan.bench.flange_mm or 0) + (Fraction(0) if speaker is None else Fraction(speaker.travel_mm))


def _depth(plan: Plan, name: str) -> Depth:
    return next(depth for depth in plan.depths if depth.zone.name == name)


def _zones(plan: Plan, chamber: Chamber, ends: tuple[Number, Number]) -> tuple[Depth, ...]:
    names = dict.fromkeys(bay.zone.name for bay in bays_over(chamber.bays, *ends))
    return tuple(_depth(plan, name) for name in names)


def _below(plan: Plan, chamber: Chamber, ends: tuple[Number, Number]) -> tuple[Depth, ...]:
    """Return the zones below, those beside that count as if they were, and what stands or moves there."""
    boxed = {each.name for each in chamber.boxed}
    bays = bays_over(chamber.bays, *ends)
    names = dict.fromkeys(name for bay in bays for name in (bay.zone.name, bay.cause.name))
    zones = [depth for depth in plan.depths if depth.zone.name in names]
    moving = [
        over_moving(plan, each.entry.name)
        for each in plan.bench.moving
        if each.swept.start_mm < ends[1] and ends[0] < each.swept.end_mm and each.entry.name not in boxed
    ]
    return (*zones, *moving)

"""What the plan decided, as plain numbers: what hangs in the shell, how long, under which roofs, and over what."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from modelmath.enclosure import Chamber, Part
    from modelmath.job.plan import Plan
    from modelmath.lengths.numbers import Number

    Ends = tuple[float, float]

BULKHEAD = "the bulkhead"
FLOOR = "the floor"
CLOSURE = "the rear closure"
SPEAKER = "the speaker"


@dataclass(frozen=True)
class Hanging:
    """Something that hangs from the roof on a part cut to a size.

    Attributes
    ----------
    name : str
        What reaches down, such as ``the floor``. [-]
    size_mm : float
        What the part is marked out to. [mm]
    stop : str
        Parts with one name here are cut at one stop, so that they come out alike. [-]
    below_it_mm : float
        What is carried below the part, of known size: a speaker's flange. [mm]
    lowered_mm : float
        How far below the roof it is hung, where the roof slopes. [mm]
    under : tuple of str
        Zones under whose roof it stands. [-]
    over : tuple of str
        Zones, and what stands or moves, that lie below it. [-]
    """

    name: str
    size_mm: float
    stop: str
    below_it_mm: float
    lowered_mm: float
    under: tuple[str, ...]
    over: tuple[str, ...]


def hangings_of(plan: Plan) -> tuple[Hanging, ...]:
    """Return what hangs in the shell: bulkhead and floor first, then rear closure and speaker.

    Parameters
    ----------
    plan : Plan
        The plan. [-]

    Returns
    -------
    tuple of Hanging
        Their sizes as decided. [mm]

    References
    ----------
    None needed.
    """
    return tuple(_alone(plan) if plan.chamber is None else _in_chamber(plan, plan.chamber))


def _alone(plan: Plan) -> Iterator[Hanging]:
    """Yield what hangs over the one zone that governs, while there is no chamber."""
    zone, size = (plan.governing.zone.name,), float(plan.chamber_height_mm)
    yield Hanging(BULKHEAD, size, BULKHEAD, 0.0, 0.0, zone, zone)
    for part in _supports(plan):
        yield Hanging(SPEAKER, float(part.cut.cut_mm), part.name, _below_supports_mm(plan), 0.0, zone, zone)


def _in_chamber(plan: Plan, chamber: Chamber) -> Iterator[Hanging]:
    outer = (float(chamber.start_mm), float(chamber.end_mm))
    inner = (float(chamber.inner_start_mm), float(chamber.inner_end_mm))
    front, rear = (outer[0], inner[0]), (inner[1], outer[1])
    if chamber.front_wall:
        under = zones_over(chamber, front)
    elif chamber.rear_wall:
        under = zones_over(chamber, rear)
    else:
        under = (chamber.bays[0].zone.name,)
    walls = [part for part in plan.parts if part.kind == "wall"]
    name = f"{BULKHEAD} or {FLOOR}" if walls else FLOOR
    size = float(plan.chamber_height_mm)
    yield Hanging(name, size, BULKHEAD, 0.0, 0.0, under, _all_below(plan, chamber, outer))
    if chamber.front_wall and chamber.rear_wall:
        wall = walls[1]
        stop = BULKHEAD if wall.cut_set == walls[0].cut_set else CLOSURE
        over = _all_below(plan, chamber, rear)
        yield Hanging(CLOSURE, float(wall.cut.cut_mm), stop, 0.0, 0.0, zones_over(chamber, rear), over)
    yield from support_hangings(plan, chamber)


def support_hangings(plan: Plan, chamber: Chamber) -> Iterator[Hanging]:
    """Yield a speaker that faces down, on each of its pairs of supports.

    Parameters
    ----------
    plan : Plan
        The plan. [-]
    chamber : Chamber
        Its chamber. [mm]

    Yields
    ------
    Hanging
        Its face, the cone at its furthest out. [mm]

    References
    ----------
    None needed.
    """
    speaker = plan.bench.speaker
    if speaker is None or speaker.faces != "down" or chamber.seat_mm is None:
        return
    seat = (float(chamber.seat_mm[0]), float(chamber.seat_mm[1]))
    over = _all_below(plan, chamber, seat)
    for part in _supports(plan):
        block = part.blocks[0] if part.count == 2 else None
        ends = seat if block is None else (float(block.start_mm), float(block.end_mm))
        roof = min(float(bay.zone.roof_mm) for bay in chamber.bays if _meets((bay.start_mm, bay.end_mm), ends))
        top = float(part.blocks[0].top_mm) if part.blocks else roof
        zones = zones_over(chamber, ends)
        below = _below_supports_mm(plan)
        yield Hanging(SPEAKER, float(part.cut.cut_mm), part.name, below, roof - top, zones, over)


def _supports(plan: Plan) -> list[Part]:
    return [part for part in plan.parts if part.kind == "support"]


def _below_supports_mm(plan: Plan) -> float:
    """Return the flange, and how far the cone moves out below it."""
    flange, speaker = plan.bench.flange_mm, plan.bench.speaker
    return float(flange or 0) + (0.0 if speaker is None else float(speaker.travel_mm))


def zones_over(chamber: Chamber, ends: Ends) -> tuple[str, ...]:
    """Return the zones over a stretch of a chamber.

    Parameters
    ----------
    chamber : Chamber
        The chamber. [mm]
    ends : tuple of two float
        Front and rear end of the stretch. [mm]

    Returns
    -------
    tuple of str
        Their names, front to rear. [-]

    References
    ----------
    None needed.
    """
    names = [bay.zone.name for bay in chamber.bays if _meets((bay.start_mm, bay.end_mm), ends)]
    return tuple(dict.fromkeys(names))


def _all_below(plan: Plan, chamber: Chamber, ends: Ends) -> tuple[str, ...]:
    """Return the zones below, those beside that the plan keeps clear of as if they were, and what stands or moves."""
    boxed = {each.name for each in chamber.boxed}
    names = []
    for bay in chamber.bays:
        if _meets((bay.start_mm, bay.end_mm), ends):
            names += [bay.zone.name, bay.cause.name]
    for moving in plan.bench.moving:
        box = moving.swept
        if _meets((box.start_mm, box.end_mm), ends):
            names.append(moving.entry.name)
    return tuple(dict.fromkeys(name for name in names if name not in boxed))


def _meets(one: tuple[Number, Number], other: Ends) -> bool:
    return one[0] < other[1] and other[0] < one[1]

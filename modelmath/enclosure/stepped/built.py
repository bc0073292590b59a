"""A stepped chamber from its ends, steps and levels, in exact arithmetic: volume, risers, plates, seat."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

from modelmath.enclosure.cavity import Bay, Zone
from modelmath.enclosure.making.outline import section_of, widest_mm
from modelmath.enclosure.stepped.chamber import FloorPlate, LevelFloor, Riser, SteppedChamber
from modelmath.enclosure.stepped.ground import Ground, Stretch, joined
from modelmath.lengths.numbers import Number, as_fraction


def chamber_of(ground: Ground, places: Sequence[Number], levels: Sequence[Number]) -> SteppedChamber | None:
    """Return the chamber with these ends, steps and levels.

    Parameters
    ----------
    ground : Ground
        The bays, and what is kept. Floors and roofs are not asked again. [mm]
    places : sequence of Fraction or float
        Front end, steps and rear end, from the fore-aft mark. [mm]
    levels : sequence of Fraction or float
        Heights of its floors above the seat, one fewer. [mm]

    Returns
    -------
    SteppedChamber or None
        None where its walls leave no length, or the speaker finds no seat. [mm]

    References
    ----------
    Elementary geometry: the section above each floor times its length, less what the risers take.
    """
    front, rear = ground.needs_wall((places[0], places[-1]))
    inner = (places[0] + front * ground.wall_mm, places[-1] - rear * ground.wall_mm)
    if inner[1] <= inner[0]:
        return None
    floors = tuple(LevelFloor(*ends, level) for ends, level in zip(pairwise(places), levels, strict=True))
    risers = tuple(_riser(ground, *pair) for pair in pairwise(floors))
    seat, on = (None, None) if ground.speaker is None else _seat(ground, floors, (front, rear))
    if ground.speaker is not None and seat is None:
        return None
    return SteppedChamber(
        places[0], places[-1], *inner, floors, risers, _plates(ground, floors, risers, inner),
        _volume(ground, floors, risers, inner), seat, on,
    )  # fmt: skip


def _volume(ground: Ground, floors: Sequence[LevelFloor], risers: Sequence[Riser], inner: Stretch) -> Number:
    whole = sum(
        ground.volume_mm3(max(floor.start_mm, inner[0]), min(floor.end_mm, inner[1]), floor.floor_mm)
        for floor in floors
    )
    taken = sum(
        ground.volume_mm3(riser.start_mm, riser.end_mm, riser.low_mm)
        - ground.volume_mm3(riser.start_mm, riser.end_mm, riser.high_mm)
        for riser in risers
    )
    return whole - taken


def _riser(ground: Ground, front: LevelFloor, rear: LevelFloor) -> Riser:
    step, (low, high) = front.end_mm, sorted((front.floor_mm, rear.floor_mm))
    ends = (step - ground.wall_mm, step) if front.floor_mm == low else (step, step + ground.wall_mm)
    return Riser(*ends, low, high, widest(ground.bays, ends, low, high))


def _plates(
    ground: Ground, floors: Sequence[LevelFloor], risers: Sequence[Riser], inner: Stretch
) -> tuple[FloorPlate, ...]:
    """Return the plates between the faces of walls and risers."""
    found = []
    for at, floor in enumerate(floors):
        start, end = max(floor.start_mm, inner[0]), min(floor.end_mm, inner[1])
        if at and risers[at - 1].start_mm == floor.start_mm:
            start = risers[at - 1].end_mm
        if at < len(risers) and risers[at].end_mm == floor.end_mm:
            end = risers[at].start_mm
        width = widest(ground.bays, (start, end), floor.floor_mm, floor.floor_mm)
        found.append(FloorPlate(start, end, floor.floor_mm, width))
    return tuple(found)


def widest(bays: Sequence[Bay], ends: Stretch, low: Number, high: Number) -> Number:
    """Return the greatest inside width over a stretch, between two heights, a ledge at either just touched.

    Parameters
    ----------
    bays : sequence of Bay
        The bays. [mm]
    ends : tuple of two
        The stretch, from the fore-aft mark. [mm]
    low, high : Fraction or float
        The heights above the seat. [mm]

    Returns
    -------
    Fraction or float
        Full width; 0 of a stretch without length. [mm]

    References
    ----------
    A width that is straight between points is greatest at a point or an end.
    """
    return max(
        (_width(bay.zone, low, high) for bay in bays if bay.start_mm < ends[1] and ends[0] < bay.end_mm), default=0
    )


def _width(zone: Zone, low: Number, high: Number) -> Number:
    """Return the greatest width between two heights."""
    if zone.profile is None:
        return zone.width_mm
    if low >= high:
        return zone.profile.width_at(low)
    return widest_mm(section_of(zone, as_fraction(low), as_fraction(high)))


def _seat(ground: Ground, floors: Sequence[LevelFloor], walled: tuple[bool, bool]) -> tuple[Stretch | None, int | None]:
    """Return the seat nearest to where it is wanted, and the floor it is on."""
    speaker = ground.speaker
    assert speaker is not None
    front, rear = (ground.walled_room_mm * each for each in walled)
    wanted = speaker.wanted_from((floors[0].start_mm + front, floors[-1].end_mm - rear))
    found = []
    for at, floor in enumerate(floors):
        start = floor.start_mm + (front if at == 0 else ground.wall_mm)
        end = floor.end_mm - (rear if at == len(floors) - 1 else ground.wall_mm)
        takes = [ground.holds(bay, floor.floor_mm) for bay in ground.bays]
        for run in joined(ground.bays, takes):
            low, high = max(run[0], start), min(run[1], end) - speaker.length_mm
            if low <= high:
                place = min(max(wanted, low), high)
                found.append((abs(place - wanted), place, at))
    if not found:
        return None, None
    _, place, at = min(found)
    return (place, place + speaker.length_mm), at

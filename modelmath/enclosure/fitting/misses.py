"""By how much a chamber misses, and why: every shortage is worked out, all in mm, and the largest is told."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction

from modelmath.enclosure.bodies import Box, Speaker
from modelmath.enclosure.cavity import Bay, Zone
from modelmath.enclosure.fitting.rooms import Room
from modelmath.enclosure.fitting.seats import needs_of
from modelmath.enclosure.limits import Limits
from modelmath.enclosure.obstacles import Obstacle
from modelmath.errors import DoesNotFit
from modelmath.lengths.numbers import Number


@dataclass(frozen=True)
class Miss:
    """By how much something misses, and why.

    Attributes
    ----------
    short_mm : Fraction or float
        How much is lacking; 0 where nothing is left. [mm]
    cause : str
        The reading or obstacle behind it, in words. [-]
    remedy : str
        What to try. [-]
    """

    short_mm: Number
    cause: str
    remedy: str

    def error(self, what: str) -> DoesNotFit:
        """Return the error that tells it.

        Parameters
        ----------
        what : str
            What does not fit. [-]

        Returns
        -------
        DoesNotFit
            The error. [-]

        References
        ----------
        None needed.
        """
        return DoesNotFit(what, float(self.short_mm), self.cause, self.remedy)


def miss_of(room: Room, speaker: Speaker | None) -> Miss:
    """Return the largest shortage of a room that makes no chamber: of depth, width, length, or between its walls.

    Parameters
    ----------
    room : Room
        The bays, ends, walls and floor. [mm]
    speaker : Speaker or None
        The speaker it has to hold. [mm]

    Returns
    -------
    Miss
        The largest of its shortages: less than that can't make it fit. [mm]

    References
    ----------
    Elementary geometry.
    """
    lowest = room.lowest_roof
    remedy = _freed_by(room.governing)
    cause = f"no depth is left under the roof over {lowest.zone.name}{_floor_by(room, lowest)}"
    found = [Miss(room.floor_mm - lowest.zone.roof_mm, cause, remedy)]
    found.append(_walls(room) if speaker is None else _nearest_place(room, speaker))
    return max(found, key=lambda miss: miss.short_mm)


def no_depth(bay: Bay) -> Miss:
    """Return the miss where even the deepest place has no depth.

    Parameters
    ----------
    bay : Bay
        The deepest. [mm]

    Returns
    -------
    Miss
        Short by what its floor stands above its roof. [mm]

    References
    ----------
    Arithmetic.
    """
    moving = isinstance(bay.cause, Obstacle)
    takes = "it takes, with its running clearance," if moving else "chassis and clearance take"
    cause = f"over {bay.cause.words}, the deepest place, {takes} all the depth"
    return Miss(-bay.depth_mm, cause, _freed_by(bay))


def _freed_by(bay: Bay) -> str:
    """Say what would give more depth: less of what is kept, and less of what sets the floor."""
    if isinstance(bay.cause, Obstacle) and bay.cause.moves:
        return "Keep less running clearance there, or let it move less."
    return "Keep less clearance, or trim what stands there."


def miss_of_box(bays: Sequence[Bay], box: Box) -> Miss:
    """Return the largest shortage of the place under the roof that comes nearest to holding a stiff box.

    Parameters
    ----------
    bays : sequence of Bay
        All bays, front to rear. [mm]
    box : Box
        What finds no room. [mm]

    Returns
    -------
    Miss
        Short by height, width or length. [mm]

    References
    ----------
    Elementary geometry.
    """
    remedy = f"Use a smaller {box.name}, turn it, or keep less clearance."
    turned = [Box(box.name, way.along_mm, way.across_mm, way.up_mm) for way in box.ways]
    return _nearest([_box_in(run, each, remedy) for each in turned for run in _runs_of(bays)])


def _box_in(run: Sequence[Bay], box: Box, remedy: str) -> list[Miss]:
    roof = min(run, key=lambda bay: bay.zone.roof_mm).zone
    step = max(run, key=lambda bay: bay.floor_mm)
    height, length = roof.roof_mm - step.floor_mm, run[-1].end_mm - run[0].start_mm
    has = f"there are {float(height):.2f} mm of height" if height > 0 else "there is no height"
    over = f"over {step.cause.words}{'' if step.cause is roof else f', under the roof over {roof.name},'}"
    return [
        Miss(box.height_mm - height, f"{over} {has} for its {float(box.height_mm):.2f} mm", remedy),
        _width(run, box, remedy),
        Miss(box.length_mm - length, f"{_along(run)} there are {float(length):.2f} mm of length for its "
                                     f"{float(box.length_mm):.2f} mm", remedy),
    ]  # fmt: skip


def no_length_beside(walled: tuple[bool, bool], limits: Limits, speaker: Speaker | None) -> Miss:
    """Return the miss where the decoder and the room kept at the ends leave no length at all.

    Parameters
    ----------
    walled : tuple of two bool
        Whether front and rear end would need a wall. [-]
    limits : Limits
        What walls and posts take. [mm]
    speaker : Speaker or None
        The speaker to hold. [mm]

    Returns
    -------
    Miss
        Short by walls, posts and speaker. [mm]

    References
    ----------
    Arithmetic.
    """
    each = limits.wall_mm + (limits.post_mm if speaker else 0)
    short = each * sum(walled) + (speaker.length_mm if speaker else 0)
    cause = "the decoder and the room kept at the ends take all the length there is"
    return Miss(short, cause, "Use a smaller decoder, or keep less room at the ends.")


def _floor_by(room: Room, bay: Bay) -> str:
    """Name what sets the floor, where it is not the bay's own step."""
    other = room.governing.cause.words
    return "" if other == bay.zone.name else f", with the floor set by {other}"


def _walls(room: Room) -> Miss:
    """Return the shortage between the walls; below 0 where they leave some length."""
    wall, count = float(room.limits.wall_mm), sum(room.walled)
    length = float(room.ends[1] - room.ends[0])
    walls = f"{_COUNTED[count]} of {wall:.2f} mm" if count else "a chamber"
    cause = f"over {room.governing.zone.name} there are {length:.2f} mm of length for {walls}"
    return Miss(room.inner[0] - room.inner[1], cause, "Use thinner walls, or keep less clearance along the length.")


_COUNTED = ("no wall", "one wall", "two walls")


def _runs_of(bays: Sequence[Bay]) -> Iterator[Sequence[Bay]]:
    """Yield every run of neighbouring bays, the longest first."""
    count = len(bays)
    for size in range(count, 0, -1):
        for first in range(count - size + 1):
            yield bays[first : first + size]


def _nearest(places: Sequence[Sequence[Miss]]) -> Miss:
    """Return the largest shortage of the place where that is least; of two such, where the next is less."""
    nearest = min(places, key=lambda misses: sorted((max(miss.short_mm, 0) for miss in misses), reverse=True))
    return max(nearest, key=lambda miss: miss.short_mm)


def _nearest_place(room: Room, speaker: Speaker) -> Miss:
    """Return the largest shortage of the place that comes nearest to holding the speaker.

    A place is a run of bays, as deep and wide as its shallowest and narrowest.
    """
    if speaker.faces in ("front", "rear") and not room.walled[0 if speaker.faces == "front" else 1]:
        cause = f"the {speaker.faces} end of the chamber is the shell's own, and has no wall for it to sound through"
        return Miss(needs_of(speaker, room.limits).along_mm, cause, "Let it face down, or count that end as open.")
    found = _nearest([
        (_depth(room, run, speaker), _wide(room, run, speaker), _length(room, run, speaker))
        for run in _runs_of(room.bays)
    ])  # fmt: skip
    if found.short_mm > 0:
        return found
    # Long, wide and deep enough as a whole, but parted: by what is boxed in, or a step of the roof.
    parted = "what is boxed in" if room.boxed else "a step of the roof, or the room that its cone needs below,"
    cause = f"{parted} parts the chamber from {room.bays[0].zone.name} to {room.bays[-1].zone.name}"
    return Miss(Fraction(1, 100), cause, "Try a shorter speaker, or let it face another way.")


def _depth(room: Room, run: Sequence[Bay], speaker: Speaker) -> Miss:
    bay = min(run, key=lambda each: each.zone.roof_mm)
    depth, needed = bay.zone.roof_mm - room.floor_mm, needs_of(speaker, room.limits).up_mm
    has = f"is {float(depth):.2f} mm deep" if depth > 0 else "has no depth"
    over = f"over {bay.zone.name} the chamber {has}{_floor_by(room, bay)}"
    less = "less clearance, or trimming what stands there"
    if isinstance(room.governing.cause, Obstacle) and room.governing.cause.moves:
        less = "less running clearance, or less swing and play of what moves there"
    remedy = f"Try a shallower speaker, {less}."
    return Miss(needed - depth, f"{over}, and the speaker takes {float(needed):.2f} mm", remedy)


def _wide(room: Room, run: Sequence[Bay], speaker: Speaker) -> Miss:
    """Return the shortage of width at the heights that the speaker's flange takes."""
    needs, floor = needs_of(speaker, room.limits), room.floor_mm
    high = floor + (speaker.flange_mm if speaker.faces in ("down", "up") else needs.up_mm)

    def width_of(bay: Bay) -> Number:
        zone = bay.zone
        if zone.profile is None or high > zone.roof_mm:
            return zone.width_mm
        if speaker.faces == "up":
            return zone.width_over(zone.roof_mm - speaker.flange_mm, zone.roof_mm)
        return zone.width_over(floor, high)

    bay = min(run, key=width_of)
    width, needed = width_of(bay), needs.across_mm
    cause = (
        f"over {bay.zone.name} the shell is {float(width):.2f} mm wide inside and the {speaker.name} "
        f"{float(needed):.2f} mm"
    )
    return Miss(needed - width, cause, "Try a narrower speaker.")


def _width(run: Sequence[Bay], thing: Box, remedy: str) -> Miss:
    zone = min((bay.zone for bay in run), key=lambda each: _widest_for(run, each, thing.height_mm))
    width, needed = _widest_for(run, zone, thing.height_mm), thing.width_mm
    cause = (
        f"over {zone.name} the shell is {float(width):.2f} mm wide inside and the {thing.name} {float(needed):.2f} mm"
    )
    return Miss(needed - width, cause, remedy)


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


def _along(run: Sequence[Bay]) -> str:
    front, rear = run[0].zone.name, run[-1].zone.name
    return f"over {front}" if front == rear else f"from {front} to {rear}"


def _length(room: Room, run: Sequence[Bay], speaker: Speaker) -> Miss:
    limits, (first, last) = room.limits, room.for_speaker
    start, end = max(run[0].start_mm, first), min(run[-1].end_mm, last)
    needed = needs_of(speaker, limits).along_mm
    short = needed - (end - start)
    left = f"{float(end - start):.2f} mm" if end > start else "nothing"
    cause = f"{_along(run)} {left} of the length is left for the speaker's {float(needed):.2f} mm"
    walls = (room.walled[0] and start == first) + (room.walled[1] and end == last)
    if not walls:
        return Miss(
            short, cause, "Try a shorter speaker, less clearance along the length, or trimming what stands there."
        )
    taken = f"{_COUNTED[walls]} of {float(limits.wall_mm):.2f} mm"
    if limits.post_mm > 0:
        taken += f" and posts of {float(limits.post_mm):.2f} mm behind {'it' if walls == 1 else 'them'}"
    return Miss(short, f"{cause}, beside {taken}", "Try a shorter speaker, thinner walls or posts, or less clearance.")

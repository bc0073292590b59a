"""By how much a chamber misses, and why: of all its shortages the largest is told."""

from __future__ import annotations

from modelmath.enclosure.bodies import Speaker
from modelmath.enclosure.cavity import Bay
from modelmath.enclosure.fitting.nearest import Miss, in_mm, said
from modelmath.enclosure.fitting.rooms import Room
from modelmath.enclosure.fitting.seats import needs_of
from modelmath.enclosure.fitting.speaker_misses import COUNTED, Seats, floor_by
from modelmath.enclosure.limits import Limits
from modelmath.enclosure.obstacles import Obstacle


def miss_of(room: Room, speaker: Speaker | None, per_mm: int = 1) -> Miss:
    """Return the largest shortage of a room that makes no chamber: of depth, width, length, or between its walls.

    Parameters
    ----------
    room : Room
        The bays, ends, walls and floor. [mm, or a small unit]
    speaker : Speaker or None
        The speaker it has to hold. [mm, or a small unit]
    per_mm : int
        How many of the unit make a mm. [1/mm]

    Returns
    -------
    Miss
        The largest of its shortages at the place that comes nearest. A speaker smaller by that in all its sizes fits
        there; what else lacks, its cause says. 0 where no smaller one would. [mm]

    References
    ----------
    Elementary geometry.
    """
    lowest = room.lowest_roof
    cause = f"no depth is left under the roof over {lowest.zone.name}{floor_by(room, lowest)}"
    roof = Miss(in_mm(room.floor_mm - lowest.zone.roof_mm, per_mm), cause, _freed_by(room.governing))
    if speaker is None:
        return max(roof, _walls(room, per_mm), key=lambda miss: miss.short_mm)
    told = Seats(room, speaker, per_mm).miss()
    return roof if roof.short_mm > told.short_mm else told


def no_depth(bay: Bay, per_mm: int = 1) -> Miss:
    """Return the miss where even the deepest place has no depth.

    Parameters
    ----------
    bay : Bay
        The deepest. [mm, or a small unit]
    per_mm : int
        How many of the unit make a mm. [1/mm]

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
    return Miss(in_mm(-bay.depth_mm, per_mm), cause, _freed_by(bay))


def _freed_by(bay: Bay) -> str:
    """Say what would give more depth: less of what is kept, and less of what sets the floor."""
    if isinstance(bay.cause, Obstacle) and bay.cause.moves:
        return "Keep less running clearance there, or let it move less."
    return "Keep less clearance, or trim what stands there."


def no_length_beside(walled: tuple[bool, bool], limits: Limits, speaker: Speaker | None, per_mm: int = 1) -> Miss:
    """Return the miss where the decoder and the room kept at the ends leave no length at all.

    Parameters
    ----------
    walled : tuple of two bool
        Whether front and rear end would need a wall. [-]
    limits : Limits
        What walls and posts take. [mm, or a small unit]
    speaker : Speaker or None
        The speaker to hold. [mm, or a small unit]
    per_mm : int
        How many of the unit make a mm. [1/mm]

    Returns
    -------
    Miss
        Short by walls, posts and speaker. [mm]

    References
    ----------
    Arithmetic.
    """
    each = limits.wall_mm + (limits.post_mm if speaker else 0)
    short = each * sum(walled) + (needs_of(speaker, limits).along_mm if speaker else 0)
    cause = "the decoder and the room kept at the ends take all the length there is"
    return Miss(in_mm(short, per_mm), cause, "Use a smaller decoder, or keep less room at the ends.")


def _walls(room: Room, per_mm: int) -> Miss:
    """Return the shortage between the walls; below 0 where they leave some length."""
    wall, count = said(room.limits.wall_mm, per_mm), sum(room.walled)
    walls = f"{COUNTED[count]} of {wall}" if count else "a chamber"
    length = said(room.ends[1] - room.ends[0], per_mm)
    cause = f"over {room.governing.zone.name} there are {length} of length for {walls}"
    remedy = "Use thinner walls, or keep less clearance along the length."
    return Miss(in_mm(room.inner[0] - room.inner[1], per_mm), cause, remedy)

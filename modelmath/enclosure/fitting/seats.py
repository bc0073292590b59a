"""Where the speaker sits in a room: deep, wide and long enough, as near as can be to where it is wanted."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from modelmath.enclosure.bodies import Speaker
from modelmath.enclosure.cavity import Bay
from modelmath.enclosure.fitting.halves import half
from modelmath.enclosure.fitting.rooms import Room, Stretch, clip
from modelmath.enclosure.limits import Limits
from modelmath.lengths.numbers import Number


@dataclass(frozen=True)
class Needs:
    """The room that a speaker takes, however it faces.

    Attributes
    ----------
    along_mm, across_mm, up_mm : Fraction or float
        Room along, across and up, with what is kept behind its back and beside it. [mm]
    """

    along_mm: Number
    across_mm: Number
    up_mm: Number


def needs_of(speaker: Speaker, limits: Limits) -> Needs:
    """Return the room that a speaker takes.

    Parameters
    ----------
    speaker : Speaker
        The speaker. [mm]
    limits : Limits
        What is kept behind it; the posts beside one that faces an end. [mm]

    Returns
    -------
    Needs
        Along, across and up. [mm]

    References
    ----------
    Arithmetic.
    """
    behind = speaker.behind_mm + limits.over_speaker_mm
    if speaker.faces in ("down", "up"):
        return Needs(speaker.length_mm, speaker.width_mm, behind)
    return Needs(behind, speaker.width_mm + 2 * limits.post_mm, speaker.length_mm)


def place_speaker(room: Room, speaker: Speaker) -> Stretch | None:
    """Return where the speaker sits: the place nearest to where it is wanted that is deep, wide and long enough.

    Parameters
    ----------
    room : Room
        The chamber as it is tried. [mm]
    speaker : Speaker
        The speaker. [mm]

    Returns
    -------
    tuple of two, or None
        Front and rear edge of its flange, of one that faces an end its face and its back; None where it finds no
        place. [mm]

    References
    ----------
    Elementary geometry.
    """
    if speaker.faces in ("front", "rear"):
        return _at_the_wall(room, speaker)
    first, last = room.for_speaker
    runs = _runs(room, clip(room.bays, first, last), speaker)
    places = [(start, end) for start, end in runs if end - start >= speaker.length_mm]
    if not places:
        return None
    wanted = _wanted((first, last), speaker)
    starts = [min(max(wanted, start), end - speaker.length_mm) for start, end in places]
    start = min(starts, key=lambda each: (abs(each - wanted), each))
    return start, start + speaker.length_mm


def _wanted(ends: Stretch, speaker: Speaker) -> Number:
    """Return where its front edge is wanted."""
    if speaker.place == "front":
        return ends[0]
    if speaker.place == "rear":
        return ends[1] - speaker.length_mm
    if speaker.place == "middle":
        return half(ends[0] + ends[1] - speaker.length_mm)
    assert not isinstance(speaker.place, str)
    return speaker.place


def _runs(room: Room, bays: Sequence[Bay], speaker: Speaker) -> Iterator[Stretch]:
    """Yield the longest stretches over which every bay holds the speaker's section, clear of what is boxed in."""
    blocked = _blocked(room, speaker)
    level = speaker.faces == "up"  # its flange lies flat under one roof
    start: Number | None = None
    before: Bay | None = None
    for bay in bays:
        broken = before is not None and level and bay.zone.roof_mm != before.zone.roof_mm
        holds = _holds(room, bay, speaker)
        if start is not None and (broken or not holds):
            yield from _less(start, bay.start_mm, blocked)
            start = None
        if holds and start is None:
            start = bay.start_mm
        before = bay
    if start is not None:
        yield from _less(start, bays[-1].end_mm, blocked)


def _blocked(room: Room, speaker: Speaker) -> list[Stretch]:
    """Return the stretches that a boxed obstacle takes from the speaker, in order."""
    wall = room.limits.wall_mm
    return sorted(
        (each.start_mm - wall, each.end_mm + wall)
        for each in room.boxed
        if 2 * (abs(each.centre_mm) - each.half_width_mm - wall) < speaker.width_mm
    )


def _less(start: Number, end: Number, blocked: Sequence[Stretch]) -> Iterator[Stretch]:
    """Yield what is left of a stretch between those that are blocked."""
    for low, high in blocked:
        if low < end and high > start:
            if low > start:
                yield start, low
            start = max(start, high)
    if start < end:
        yield start, end


def _holds(room: Room, bay: Bay, speaker: Speaker) -> bool:
    """Whether one bay has the height and, at every height the speaker takes, the width."""
    floor, roof = room.floor_mm, bay.zone.roof_mm
    if roof - floor < speaker.behind_mm + room.limits.over_speaker_mm:
        return False
    if bay.zone.profile is None and speaker.travel_mm == 0:
        return bay.zone.width_mm >= speaker.width_mm
    basket = speaker.basket_mm[1]
    if speaker.faces == "up":
        flange, behind = (roof - speaker.flange_mm, roof), (roof - speaker.behind_mm, roof)
    else:
        flange, behind = (floor, floor + speaker.flange_mm), (floor, floor + speaker.behind_mm)
        if bay.floor_mm + speaker.travel_mm > floor:
            return False
    return bay.zone.width_over(*flange) >= speaker.width_mm and bay.zone.width_over(*behind) >= basket


def _at_the_wall(room: Room, speaker: Speaker) -> Stretch | None:
    """Return the seat of a speaker in the wall at one end; None where that end has no wall of its own."""
    front = speaker.faces == "front"
    needs = needs_of(speaker, room.limits)
    first, last = room.inner
    if not room.walled[0 if front else 1]:
        return None
    ends = (first, first + needs.along_mm) if front else (last - needs.along_mm, last)
    # What stands behind it must clear the posts at the other end.
    if (front and ends[1] > room.for_speaker[1]) or (not front and ends[0] < room.for_speaker[0]):
        return None
    if any(
        low < ends[1] and high > ends[0] for low, high in _blocked(room, replace(speaker, width_mm=needs.across_mm))
    ):
        return None
    top = room.floor_mm + needs.up_mm
    over = clip(room.bays, *ends)
    if any(bay.zone.roof_mm < top or bay.zone.width_over(room.floor_mm, top) < needs.across_mm for bay in over):
        return None
    if front:
        return first, first + speaker.behind_mm
    return last - speaker.behind_mm, last

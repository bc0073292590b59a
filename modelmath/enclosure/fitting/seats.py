"""Where the speaker sits in a room: deep, wide and long enough, as near as can be to where it is wanted."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from modelmath.enclosure.bodies import Speaker
from modelmath.enclosure.cavity import Bay, Cavity, Zone
from modelmath.enclosure.fitting.joined import holds
from modelmath.enclosure.fitting.rooms import Room, Stretch, clip, less
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
        What is kept behind it; the posts beside one that faces an end; the floor plate under one that does not face
        down. [mm]

    Returns
    -------
    Needs
        Along, across and up. [mm]

    References
    ----------
    Arithmetic.
    """
    behind = speaker.behind_mm + limits.over_speaker_mm
    plate = plate_mm(speaker, limits)
    if speaker.faces in ("down", "up"):
        return Needs(speaker.length_mm, speaker.width_mm, behind + plate)
    return Needs(behind, speaker.width_mm + 2 * limits.post_mm, speaker.length_mm + plate)


def plate_mm(speaker: Speaker, limits: Limits) -> Number:
    """Return the thickness of the floor plate that lies below a speaker.

    Parameters
    ----------
    speaker : Speaker
        The speaker. [mm]
    limits : Limits
        A floor plate is as thick as a wall. [mm]

    Returns
    -------
    Fraction or float
        0 for one that faces down, which lies in the floor itself. [mm]

    References
    ----------
    None needed.
    """
    return 0 if speaker.faces == "down" else limits.wall_mm


def kept_mm(cavity: Cavity, limits: Limits, speaker: Speaker | None) -> tuple[Number, Number]:
    """Return the room that is kept clear of the chamber at either end of the shell.

    Parameters
    ----------
    cavity : Cavity
        Which ends of the shell are closed. [mm]
    limits : Limits
        Room for the lamps, and for the sound of a speaker that faces a closed end. [mm]
    speaker : Speaker or None
        The speaker. [mm]

    Returns
    -------
    tuple of two
        At the front, and at the rear: the larger of the two rooms, as the sound passes a lamp. [mm]

    References
    ----------
    That sound passes a lamp: common practice, no source.
    """
    front, rear = limits.front_room_mm, limits.rear_room_mm
    if speaker is None or not cavity.closed_at(speaker.faces):
        return front, rear
    room = limits.sound_room_mm
    return (max(front, room), rear) if speaker.faces == "front" else (front, max(rear, room))


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
    if last - first < speaker.length_mm:
        return None
    runs = _runs(room, clip(room.bays, first, last), speaker)
    places = [each for each in runs if each[1] - each[0] >= speaker.length_mm and _in_its_part(room, each)]
    if not places:
        return None
    wanted = speaker.wanted_from((first, last))
    starts = [min(max(wanted, start), end - speaker.length_mm) for start, end in places]
    start = min(starts, key=lambda each: (abs(each - wanted), each))
    return start, start + speaker.length_mm


def _in_its_part(room: Room, ends: Stretch) -> bool:
    """Whether a stretch clear of boxes in the middle lies in the part of the room that is meant."""
    return room.pieces is None or holds(room.pieces, ends[0])


def _runs(room: Room, bays: Sequence[Bay], speaker: Speaker) -> Iterator[Stretch]:
    """Yield the longest stretches over which every bay holds the speaker's section, clear of what is boxed in."""
    blocked = _blocked(room, speaker)
    needed = needs_of(speaker, room.limits).up_mm
    level = speaker.faces == "up"  # its flange lies flat under one roof
    start: Number | None = None
    before: Bay | None = None
    for bay in bays:
        broken = before is not None and level and bay.zone.roof_mm != before.zone.roof_mm
        holds = _holds(room, bay, speaker, needed)
        if start is not None and (broken or not holds):
            yield from less(start, bay.start_mm, blocked)
            start = None
        if holds and start is None:
            start = bay.start_mm
        before = bay
    if start is not None:
        yield from less(start, bays[-1].end_mm, blocked)


def _blocked(room: Room, speaker: Speaker) -> list[Stretch]:
    """Return the stretches that boxes, or what stands where its cone moves to, take from the speaker, in order."""
    wall = room.limits.wall_mm
    boxes = [
        (each.start_mm - wall, each.end_mm + wall)
        for each in room.boxed
        if 2 * (abs(each.centre_mm) - each.half_width_mm - wall) < speaker.width_mm
    ]
    if speaker.faces != "down" or not speaker.travel_mm:
        return sorted(boxes)
    low, high = room.floor_mm - speaker.travel_mm, room.floor_mm
    return sorted(boxes + [
        (each.start_mm, each.end_mm)
        for each in room.narrow
        if low < each.top_mm <= high and 2 * (abs(each.centre_mm) - each.half_width_mm) < speaker.width_mm
    ])  # fmt: skip


def _holds(room: Room, bay: Bay, speaker: Speaker, needed: Number) -> bool:
    """Whether one bay has the height needed and, at every height the speaker takes, the width."""
    floor, zone = room.floor_mm, bay.zone
    if zone.roof_mm - floor < needed or zone.width_mm < speaker.width_mm:
        return False
    if speaker.travel_mm and speaker.faces == "down" and bay.floor_mm + speaker.travel_mm > floor:
        return False
    return zone.profile is None or _is_wide(room, zone, speaker)


def _is_wide(room: Room, zone: Zone, speaker: Speaker) -> bool:
    """Whether a section has the width for flange and basket at all their heights."""
    floor, roof, width_over = room.floor_mm, zone.roof_mm, room.sections.width_over
    basket = speaker.basket_mm[1]
    if speaker.faces == "up":
        flange, behind = (roof - speaker.flange_mm, roof), (roof - speaker.behind_mm, roof)
    else:
        flange, behind = (floor, floor + speaker.flange_mm), (floor, floor + speaker.behind_mm)
    return width_over(zone, *flange) >= speaker.width_mm and width_over(zone, *behind) >= basket


def from_its_wall(room: Room, speaker: Speaker | None) -> tuple[Bay, ...]:
    """Return the most of a room's bays at whose wall a speaker that faces an end finds its place.

    Parameters
    ----------
    room : Room
        The longest room under one floor. [mm]
    speaker : Speaker or None
        The speaker. [mm]

    Returns
    -------
    tuple of Bay
        All of them for a speaker that faces down or up, or where it finds no place at all. [mm]

    References
    ----------
    Elementary geometry: the wall moves in until what stands in the speaker's way lies in front of it.
    """
    if speaker is None or speaker.faces in ("down", "up"):
        return room.bays
    along, wall, (start, end) = needs_of(speaker, room.limits).along_mm, room.limits.wall_mm, room.ends
    in_its_way = _in_its_way(room, speaker)
    if speaker.faces == "front" and room.walled[0]:
        for low, high in sorted(in_its_way):
            if low < start + wall + along and high > start + wall:
                start = high - wall
    elif speaker.faces == "rear" and room.walled[1]:
        for high, low in sorted(((high, low) for low, high in in_its_way), reverse=True):
            if high > end - wall - along and low < end - wall:
                end = low + wall
    return room.bays if (start, end) == room.ends else clip(room.bays, start, end) or room.bays


def further_in(room: Room, speaker: Speaker | None) -> Iterator[tuple[Bay, ...]]:
    """Yield a room's bays with the wall that a speaker faces moved in behind each thing that stands in its way.

    Parameters
    ----------
    room : Room
        A room that boxes part: the speaker may find its place in another part, which holds more. [mm]
    speaker : Speaker or None
        The speaker. [mm]

    Yields
    ------
    tuple of Bay
        None for a speaker that faces down or up. [mm]

    References
    ----------
    Elementary geometry: between two things in its way it stands in one part, and nowhere better than at the first.
    """
    if speaker is None or speaker.faces in ("down", "up"):
        return
    wall, (start, end) = room.limits.wall_mm, room.ends
    for low, high in _in_its_way(room, speaker):
        ends = (high - wall, end) if speaker.faces == "front" else (start, low + wall)
        if start <= ends[0] < ends[1] <= end and ends != room.ends:
            yield clip(room.bays, *ends)


def _in_its_way(room: Room, speaker: Speaker) -> list[Stretch]:
    """Return the stretches over which a speaker that faces an end finds too little height or width, or a box.

    It stands on the floor plate. Its opening lies in the wall, so that the roof over the wall counts as well: a low
    place is longer by a wall towards the speaker.
    """
    needs, floor = needs_of(speaker, room.limits), room.floor_mm
    low, top, wall = floor + plate_mm(speaker, room.limits), floor + needs.up_mm, room.limits.wall_mm
    before, behind = (0, wall) if speaker.faces == "front" else (wall, 0)
    found = [
        (bay.start_mm - before, bay.end_mm + behind)
        for bay in room.bays
        if bay.zone.roof_mm < top or room.sections.width_over(bay.zone, low, top) < needs.across_mm
    ]
    return found + _blocked(room, replace(speaker, width_mm=needs.across_mm))


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
    if any(low < ends[1] and high > ends[0] for low, high in _in_its_way(room, speaker)):
        return None
    if not _in_its_part(room, ends):
        return None
    if front:
        return first, first + speaker.behind_mm
    return last - speaker.behind_mm, last

"""Where things find room among the bays: the speaker on its level floor, the decoder as a stiff box."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from modelmath.enclosure.bodies import Box, Speaker
from modelmath.enclosure.cavity import Bay
from modelmath.enclosure.limits import Limits
from modelmath.lengths.numbers import Number

Stretch = tuple[Number, Number]


@dataclass(frozen=True)
class Room:
    """A stretch of bays with a level floor, as a chamber is tried in it.

    Attributes
    ----------
    bays : tuple of Bay
        The bays it takes in, front to rear. [mm]
    ends : tuple of two
        Outer faces of what closes its ends, from the fore-aft mark. [mm]
    walled : tuple of two bool
        Whether front and rear end need a wall of their own. [-]
    floor_mm : Fraction or float
        Height of the floor above the seat. [mm]
    limits : Limits
        What must be kept, and what walls and posts take. [mm]
    """

    bays: tuple[Bay, ...]
    ends: Stretch
    walled: tuple[bool, bool]
    floor_mm: Number
    limits: Limits

    @property
    def inner(self) -> Stretch:
        """The ends less the walls; in the wrong order where these take all the length. [mm]"""
        return self._less(self.ends, self.limits.wall_mm)

    @property
    def for_speaker(self) -> Stretch:
        """The ends less walls and the posts behind them. [mm]"""
        return self._less(self.inner, self.limits.post_mm)

    def _less(self, ends: Stretch, each_mm: Number) -> Stretch:
        front, rear = self.walled
        return ends[0] + each_mm * front, ends[1] - each_mm * rear

    @property
    def governing(self) -> Bay:
        """The bay with the highest floor. [-]"""
        return max(self.bays, key=lambda bay: bay.floor_mm)

    @property
    def lowest_roof(self) -> Bay:
        """The bay whose roof is lowest. [-]"""
        return min(self.bays, key=lambda bay: bay.zone.roof_mm)


def _runs(bays: Sequence[Bay], depth_mm: Number, width_mm: Number) -> Iterator[Stretch]:
    """Yield the longest stretches over which every bay is at least so deep and so wide."""
    start: Number | None = None
    for bay in bays:
        if bay.depth_mm >= depth_mm and bay.zone.width_mm >= width_mm:
            start = bay.start_mm if start is None else start
        elif start is not None:
            yield start, bay.start_mm
            start = None
    if start is not None:
        yield start, bays[-1].end_mm


def clip(bays: Sequence[Bay], start: Number, end: Number) -> tuple[Bay, ...]:
    """Return the bays between two ends, the outer ones cut there.

    Parameters
    ----------
    bays : sequence of Bay
        Front to rear. [mm]
    start, end : Fraction or float
        The ends, from the fore-aft mark. [mm]

    Returns
    -------
    tuple of Bay
        None when the ends meet or pass each other. [mm]

    References
    ----------
    Arithmetic.
    """
    return tuple(
        Bay(bay.zone, max(bay.start_mm, start), min(bay.end_mm, end), bay.floor_mm, bay.cause)
        for bay in bays
        if max(bay.start_mm, start) < min(bay.end_mm, end)
    )


def bays_over(bays: Sequence[Bay], start_mm: Number, end_mm: Number) -> tuple[Bay, ...]:
    """Return the bays that lie over a stretch; of one beyond them all, the bay nearest to it.

    Parameters
    ----------
    bays : sequence of Bay
        Front to rear. [mm]
    start_mm, end_mm : Fraction or float
        The stretch, from the fore-aft mark. [mm]

    Returns
    -------
    tuple of Bay
        One or more. [mm]

    References
    ----------
    Arithmetic.
    """
    found = tuple(bay for bay in bays if bay.start_mm < end_mm and bay.end_mm > start_mm)
    if found:
        return found
    return (bays[0] if end_mm <= bays[0].start_mm else bays[-1],)


def spaces(bays: Sequence[Bay], decoder: Box | None) -> Iterator[tuple[tuple[Bay, ...], Stretch | None]]:
    """Yield the bays left for the chamber, with the decoder pushed as far to either end as it goes.

    Further in it would only take more of the length: whatever chamber lies beside it also lies beside one of these.

    Parameters
    ----------
    bays : sequence of Bay
        Front to rear. [mm]
    decoder : Box or None
        A stiff box under the roof. [mm]

    Yields
    ------
    tuple of (tuple of Bay, Stretch or None)
        The bays left, and where the decoder lies; nothing where it finds no room at all. [mm]

    References
    ----------
    Elementary geometry.
    """
    if decoder is None:
        yield tuple(bays), None
        return
    length = decoder.length_mm
    front = next((bay.start_mm for bay in bays if _holds(bays, bay.start_mm, bay.start_mm + length, decoder)), None)
    rear = next((bay.end_mm for bay in reversed(bays) if _holds(bays, bay.end_mm - length, bay.end_mm, decoder)), None)
    if front is None or rear is None:
        return
    yield clip(bays, front + length, bays[-1].end_mm), (front, front + length)
    yield clip(bays, bays[0].start_mm, rear - length), (rear - length, rear)


def _holds(bays: Sequence[Bay], start: Number, end: Number, box: Box) -> bool:
    """Whether a stiff box finds room between two ends: under the lowest roof and over the highest floor there."""
    if start < bays[0].start_mm or end > bays[-1].end_mm:
        return False
    within = [bay for bay in bays if bay.start_mm < end and bay.end_mm > start]
    depth = min(bay.zone.roof_mm for bay in within) - max(bay.floor_mm for bay in within)
    return depth >= box.height_mm and all(bay.zone.width_mm >= box.width_mm for bay in within)


def place_speaker(room: Room, speaker: Speaker) -> Stretch | None:
    """Return where the speaker sits: the place nearest the middle that is deep, wide and long enough.

    Parameters
    ----------
    room : Room
        The chamber as it is tried. [mm]
    speaker : Speaker
        The speaker. [mm]

    Returns
    -------
    tuple of two, or None
        Front and rear edge of its flange; None where it finds no place. [mm]

    References
    ----------
    Elementary geometry.
    """
    inner, depth = room.for_speaker, speaker.depth_mm + room.limits.over_speaker_mm
    level = [Bay(bay.zone, bay.start_mm, bay.end_mm, room.floor_mm, bay.cause) for bay in clip(room.bays, *inner)]
    runs = _runs(level, depth, speaker.width_mm)
    places = [(start, end) for start, end in runs if end - start >= speaker.length_mm]
    if not places:
        return None
    wanted = (inner[0] + inner[1] - speaker.length_mm) / 2
    starts = [min(max(wanted, start), end - speaker.length_mm) for start, end in places]
    start = min(starts, key=lambda each: (abs(each - wanted), each))
    return start, start + speaker.length_mm

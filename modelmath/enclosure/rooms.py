"""Where things find room among the bays: the speaker on its level floor, the decoder as a stiff box."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING

from modelmath.enclosure.bodies import Box, Speaker
from modelmath.enclosure.cavity import Bay, Number
from modelmath.errors import DoesNotFit

if TYPE_CHECKING:
    from modelmath.enclosure.fit import Limits

Stretch = tuple[Number, Number]


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
        The bays left, and where the decoder lies. [mm]

    Raises
    ------
    DoesNotFit
        If the decoder finds no room at all.

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
        raise _no_room_for(decoder, bays)
    yield clip(bays, front + length, bays[-1].end_mm), (front, front + length)
    yield clip(bays, bays[0].start_mm, rear - length), (rear - length, rear)


def _holds(bays: Sequence[Bay], start: Number, end: Number, box: Box) -> bool:
    """Whether a stiff box finds room between two ends: under the lowest roof and over the highest floor there."""
    if start < bays[0].start_mm or end > bays[-1].end_mm:
        return False
    within = [bay for bay in bays if bay.start_mm < end and bay.end_mm > start]
    depth = min(bay.zone.roof_mm for bay in within) - max(bay.floor_mm for bay in within)
    return depth >= box.height_mm and all(bay.zone.width_mm >= box.width_mm for bay in within)


def _no_room_for(box: Box, bays: Sequence[Bay]) -> DoesNotFit:
    deepest = max(bays, key=lambda bay: bay.depth_mm)
    remedy = f"Use a smaller {box.name}, turn it, or keep less clearance."
    if deepest.depth_mm < box.height_mm:
        cause = f"the deepest place, over {deepest.cause.name}, has {float(deepest.depth_mm):.2f} mm"
        return DoesNotFit(f"The {box.name}", float(box.height_mm - deepest.depth_mm), f"{cause} of height", remedy)
    widest = max((bay for bay in bays if bay.depth_mm >= box.height_mm), key=lambda bay: bay.zone.width_mm)
    if widest.zone.width_mm < box.width_mm:
        cause = f"where it is deep enough the shell is {float(widest.zone.width_mm):.2f} mm wide inside"
        return DoesNotFit(f"The {box.name}", float(box.width_mm - widest.zone.width_mm), cause, remedy)
    stretches = ((first.start_mm, last.end_mm) for at, first in enumerate(bays) for last in bays[at:])
    longest = max(end - start for start, end in stretches if _holds(bays, start, end, box))
    cause = f"the longest place deep and wide enough is {float(longest):.2f} mm"
    return DoesNotFit(f"The {box.name}", float(box.length_mm - longest), cause, remedy)


class Shortage:
    """Keeps the smallest shortage met, so that a failure names the nearest miss."""

    def __init__(self) -> None:
        self.worst: list[tuple[Number, str]] = []

    def add(self, short_mm: Number, cause: str) -> None:
        """Note one miss.

        Parameters
        ----------
        short_mm : Fraction or float
            By how much it missed. [mm]
        cause : str
            Why, in words. [-]

        References
        ----------
        None needed.
        """
        self.worst.append((short_mm, cause))

    def error(self, what: str) -> DoesNotFit:
        """Return the error that names the nearest miss.

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
        short, cause = min(self.worst, key=lambda each: each[0])
        return DoesNotFit(
            what, float(short), cause, "Try a smaller speaker, less clearance, or trimming what stands there."
        )


def place_speaker(
    chamber: Sequence[Bay], inner: Stretch, floor: Number, speaker: Speaker, limits: Limits, miss: Shortage
) -> Stretch | None:
    """Return where the speaker sits: the place nearest the middle that is deep, wide and long enough.

    Parameters
    ----------
    chamber : sequence of Bay
        The bays of the chamber. [mm]
    inner : tuple of two
        The length left between posts, from the fore-aft mark. [mm]
    floor : Fraction or float
        Height of the floor above the seat. [mm]
    speaker : Speaker
        The speaker. [mm]
    limits : Limits
        For the room over its back. [mm]
    miss : Shortage
        Takes a note of what is lacking. [-]

    Returns
    -------
    tuple of two, or None
        Front and rear edge of its flange. [mm]

    References
    ----------
    Elementary geometry.
    """
    depth = speaker.depth_mm + limits.over_speaker_mm
    level = [Bay(bay.zone, bay.start_mm, bay.end_mm, floor, bay.cause) for bay in clip(chamber, *inner)]
    deepest = max(bay.depth_mm for bay in level)
    if deepest < depth:
        cause = f"the chamber is {float(deepest):.2f} mm deep at most and the speaker takes {float(depth):.2f} mm"
        miss.add(depth - deepest, cause)
        return None
    deep = [bay for bay in level if bay.depth_mm >= depth]
    widest = max(bay.zone.width_mm for bay in deep)
    if widest < speaker.width_mm:
        cause = f"the shell is {float(widest):.2f} mm wide inside and the speaker {float(speaker.width_mm):.2f} mm"
        miss.add(speaker.width_mm - widest, cause)
        return None
    runs = list(_runs(level, depth, speaker.width_mm))
    room = [run for run in runs if run[1] - run[0] >= speaker.length_mm]
    if not room:
        longest = max(end - start for start, end in runs)
        cause = f"the chamber has {float(longest):.2f} mm of length for its {float(speaker.length_mm):.2f} mm"
        miss.add(speaker.length_mm - longest, cause)
        return None
    wanted = (inner[0] + inner[1] - speaker.length_mm) / 2
    starts = [min(max(wanted, start), end - speaker.length_mm) for start, end in room]
    start = min(starts, key=lambda each: (abs(each - wanted), each))
    return start, start + speaker.length_mm

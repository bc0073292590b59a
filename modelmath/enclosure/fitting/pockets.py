"""Where a box such as the decoder finds its pocket: beside the chamber, below its floor, or inside where that may be.

A box that is pushed as far to one end as it goes takes least of the length: whatever chamber lies beside it elsewhere
also lies beside one of these two places. Of the ways it may be turned, the one that ends first counts.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Literal

from modelmath.enclosure.bodies import Box, Faces, Way
from modelmath.enclosure.cavity import Bay, Zone
from modelmath.enclosure.fitting.rooms import Room, Stretch, clip, less
from modelmath.enclosure.obstacles import Obstacle
from modelmath.lengths.numbers import Number

Where = Literal["beside the chamber", "below its floor", "inside it"]
BESIDE: Where = "beside the chamber"
BELOW: Where = "below its floor"
INSIDE: Where = "inside it"


@dataclass(frozen=True)
class Pocket:
    """The room that a box takes.

    Attributes
    ----------
    start_mm, end_mm : Fraction or float
        Front and rear end, from the fore-aft mark. [mm]
    across_mm : Fraction or float
        Width it takes. [mm]
    bottom_mm, top_mm : Fraction or float
        Heights above the seat. [mm]
    where : {"beside the chamber", "below its floor", "inside it"}
        Where it lies. [-]
    way : str
        How the box is turned. [-]
    """

    start_mm: Number
    end_mm: Number
    across_mm: Number
    bottom_mm: Number
    top_mm: Number
    where: Where
    way: str


@dataclass(slots=True)
class _Span:
    """A stretch with a lower and an upper height, as a box meets it."""

    start: Number
    end: Number
    low: Number
    high: Number
    zone: Zone

    def mirrored(self) -> _Span:
        return _Span(-self.end, -self.start, self.low, self.high, self.zone)


def at_the_ends(bays: Sequence[Bay], box: Box) -> tuple[Pocket, Pocket] | None:
    """Return the pockets at the front and at the rear that leave most of the length.

    Parameters
    ----------
    bays : sequence of Bay
        Front to rear. [mm]
    box : Box
        What has to find room. [mm]

    Returns
    -------
    tuple of two Pocket, or None
        The first that ends, and the last that begins; None where it finds no room at all. [mm]

    References
    ----------
    Elementary geometry; the argument stands at the head of this module.
    """
    spans = [_Span(bay.start_mm, bay.end_mm, bay.floor_mm, bay.zone.roof_mm, bay.zone) for bay in bays]
    front = min(_found(spans, box, BESIDE), key=lambda each: each.end_mm, default=None)
    rear = max(_found(spans, box, BESIDE, from_rear=True), key=lambda each: each.start_mm, default=None)
    return None if front is None or rear is None else (front, rear)


def in_what_is_left(room: Room, seat: Stretch | None, box: Box, faces: Faces = "down") -> Pocket | None:
    """Return a pocket below a chamber's floor, clear of what sounds out of it; else inside it, where that may be.

    Parameters
    ----------
    room : Room
        The chamber. [mm]
    seat : tuple of two, or None
        Where the speaker sits. [mm]
    box : Box
        What has to find room. [mm]
    faces : {"down", "up", "front", "rear"}
        Where the speaker sounds to. [-]

    Returns
    -------
    Pocket or None
        None where there is no such pocket. [mm]

    References
    ----------
    Elementary geometry.
    """
    floor = room.floor_mm
    if may_be_below(room, box):
        for found in _below(room, seat, box, faces):
            return found
    if not box.inside:
        return None
    wall = room.limits.wall_mm
    # A floor plate closes the floor beside the speaker, and the box lies over it.
    low = floor if seat is None else floor + wall
    taken = sorted((each.start_mm - wall, each.end_mm + wall) for each in room.boxed)
    for beside in _beside(room.for_speaker, seat, faces):
        for start, end in less(*beside, taken):
            within = [_Span(b.start_mm, b.end_mm, low, b.zone.roof_mm, b.zone) for b in clip(room.bays, start, end)]
            for found in _found(within, box, INSIDE):
                return found
    return None


def may_be_below(room: Room, box: Box) -> bool:
    """Say at a glance whether a chamber's floor stands high enough anywhere for a box below it.

    Parameters
    ----------
    room : Room
        The chamber. [mm]
    box : Box
        What has to find room. [mm]

    Returns
    -------
    bool
        False where it surely doesn't. [-]

    References
    ----------
    Arithmetic.
    """
    return room.floor_mm - min([bay.floor_mm for bay in room.bays]) >= box.least_up_mm


def _below(room: Room, seat: Stretch | None, box: Box, faces: Faces) -> Iterator[Pocket]:
    """Yield pockets below a chamber's floor."""
    for start, end in _beside(room.ends, seat, faces):
        bays, floor = clip(room.bays, start, end), room.floor_mm
        if room.narrow:
            below = [_Span(a, b, low, floor, bay.zone) for bay in bays for a, b, low in _over_narrow(bay, room.narrow)]
        else:
            below = [_Span(bay.start_mm, bay.end_mm, bay.floor_mm, floor, bay.zone) for bay in bays]
        yield from _found(below, box, BELOW)


def _beside(ends: Stretch, seat: Stretch | None, faces: Faces) -> list[Stretch]:
    """Return what is left of the ends in front of and behind the speaker; none where it sounds out through an end."""
    if seat is None:
        return [ends]
    before, behind = (ends[0], seat[0]), (seat[1], ends[1])
    return [behind] if faces == "front" else [before] if faces == "rear" else [before, behind]


def _over_narrow(bay: Bay, narrow: Sequence[Obstacle]) -> Iterator[tuple[Number, Number, Number]]:
    """Yield the pieces of a bay, and how low a box may reach there: over what a chamber's floor may be cut round."""
    here = [each for each in narrow if each.start_mm < bay.end_mm and bay.start_mm < each.end_mm]
    edges = {place for each in here for place in (each.start_mm, each.end_mm) if bay.start_mm < place < bay.end_mm}
    for start, end in pairwise(sorted({bay.start_mm, bay.end_mm, *edges})):
        yield start, end, max([bay.floor_mm, *(o.top_mm for o in here if o.start_mm < end and start < o.end_mm)])


def _found(spans: Sequence[_Span], box: Box, where: Where, from_rear: bool = False) -> Iterator[Pocket]:
    """Yield for each way the box may be turned its first place, counted from the front or from the rear."""
    if not spans:
        return
    seen = [span.mirrored() for span in reversed(spans)] if from_rear else list(spans)
    long, tall = seen[-1].end - seen[0].start, max([span.high - span.low for span in seen])
    wide = max([span.zone.width_mm for span in seen])
    for way in box.ways:
        if way.along_mm > long or way.up_mm > tall or way.across_mm > wide:
            continue  # seen at a glance: most ways fail so
        place = _first(seen, way)
        if place is None:
            continue
        start, (low, high) = place
        end = start + way.along_mm
        if from_rear:
            start, end = -end, -start
        yield Pocket(start, end, way.across_mm, low, high, where, way.words)


def _first(spans: Sequence[_Span], way: Way) -> tuple[Number, Stretch] | None:
    """Return the first place that holds a box, and the heights it takes there.

    A place that holds it and begins within a span can be moved to where that span begins, or to the span after one
    that never holds it: the first place begins where a span does.
    """
    last = barred = -1  # the last span it reaches into, and the last that never holds it
    for at, span in enumerate(spans):
        end = span.start + way.along_mm
        if end > spans[-1].end:
            return None
        while last < at or spans[last].end < end:
            last += 1
            reached = spans[last]
            if reached.high - reached.low < way.up_mm or reached.zone.width_mm < way.across_mm:
                barred = last
        if barred < at:
            heights = _heights(spans[at : last + 1], way)
            if heights is not None:
                return span.start, heights
    return None


def _heights(spans: Sequence[_Span], way: Way) -> Stretch | None:
    """Return the highest place of a box over spans taken together; None where it finds none."""
    low, high = max(span.low for span in spans), min(span.high for span in spans)
    if high - low < way.up_mm:
        return None
    free = [(low, high)]
    for zone in {id(span.zone): span.zone for span in spans}.values():
        if zone.profile is None:
            if zone.width_mm < way.across_mm:
                return None
            continue
        wide = zone.profile.as_wide_as(way.across_mm, low)
        free = [(max(a, c), min(b, d)) for a, b in free for c, d in wide if min(b, d) - max(a, c) >= way.up_mm]
    return (free[-1][1] - way.up_mm, free[-1][1]) if free else None

"""A chamber one or both of whose ends are held at a place: what is left for it, and by how much it misses."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from fractions import Fraction
from typing import TYPE_CHECKING

from modelmath.enclosure.bodies import Box
from modelmath.enclosure.cavity import Bay
from modelmath.enclosure.fitting.box_misses import miss_of_box
from modelmath.enclosure.fitting.misses import miss_of
from modelmath.enclosure.fitting.nearest import Miss, in_mm, said
from modelmath.enclosure.fitting.nothing_found import nearest_miss_of
from modelmath.enclosure.fitting.rooms import Room, clip
from modelmath.enclosure.fitting.speaker_misses import Seats
from modelmath.enclosure.limits import Limits
from modelmath.errors import DoesNotFit
from modelmath.lengths.numbers import Number

if TYPE_CHECKING:
    from modelmath.enclosure.fitting.search import Search

ELSEWHERE = 'Or hold that end elsewhere, or write "best" to let the plan choose.'


def let_go(limits: Limits) -> Limits:
    """Return limits that hold neither end of the chamber.

    Parameters
    ----------
    limits : Limits
        The limits. [mm]

    Returns
    -------
    Limits
        All else the same. [mm]

    References
    ----------
    None needed.
    """
    return replace(limits, front_at_mm=None, rear_at_mm=None)


def between(bays: tuple[Bay, ...], limits: Limits) -> tuple[Bay, ...]:
    """Return what of a run of bays lies between the ends that are held.

    Parameters
    ----------
    bays : tuple of Bay
        What is left for the chamber, front to rear. [mm]
    limits : Limits
        Which ends are held, and where. [mm]

    Returns
    -------
    tuple of Bay
        None where the place of a held end is not left for it. [mm]

    References
    ----------
    Arithmetic.
    """
    if not bays:
        return bays
    start = bays[0].start_mm if limits.front_at_mm is None else limits.front_at_mm
    end = bays[-1].end_mm if limits.rear_at_mm is None else limits.rear_at_mm
    if start < bays[0].start_mm or end > bays[-1].end_mm:
        return ()
    return clip(bays, start, end)


def as_held(room: Room, limits: Limits) -> bool:
    """Say whether a room ends where its ends are held.

    Parameters
    ----------
    room : Room
        The room. [mm]
    limits : Limits
        Which ends are held, and where. [mm]

    Returns
    -------
    bool
        True also where none is held. [-]

    References
    ----------
    None needed.
    """
    held = (limits.front_at_mm, limits.rear_at_mm)
    return all(at is None or end == at for end, at in zip(room.ends, held, strict=True))


def held_words(limits: Limits, per_mm: int = 1) -> str:
    """Say which ends are held, and where.

    Parameters
    ----------
    limits : Limits
        The limits. [mm, or a small unit]
    per_mm : int
        How many of the unit make a mm. [1/mm]

    Returns
    -------
    str
        Such as ``the chamber's front end held 40.69 mm ahead of the fore-aft mark``. [-]

    References
    ----------
    None needed.
    """
    ends = (("front", limits.front_at_mm), ("rear", limits.rear_at_mm))
    said_of = [f"{end} end held {_place(at, per_mm)}" for end, at in ends if at is not None]
    return f"the chamber's {' and its '.join(said_of)}"


def _place(at: Number, per_mm: int) -> str:
    if not at:
        return "at the fore-aft mark"
    return f"{said(at if at > 0 else -at, per_mm)} {'behind' if at > 0 else 'ahead of'} the fore-aft mark"


def miss_of_held(search: Search, per_mm: int) -> DoesNotFit:
    """Return by how much the nearest chamber with a held end misses, and why.

    Parameters
    ----------
    search : Search
        Which finds none, in a small unit. [small unit]
    per_mm : int
        How many of the unit make a mm. [1/mm]

    Returns
    -------
    DoesNotFit
        Where none fits with its ends let go either, that is what is told. [mm]

    References
    ----------
    Elementary geometry.
    """
    free = _like(search, limits=let_go(search.limits))
    if not free.candidates():
        return nearest_miss_of(free, per_mm)
    outside = _outside(search, per_mm)
    if outside is not None:
        what, miss = "chamber", outside
    elif search.decoder is not None and _like(search, decoder=None).candidates():
        what, miss = search.decoder.name, _decoder_beside(search, search.decoder, per_mm)
    else:
        what, miss = "speaker" if search.speaker else "chamber", _nearest(search, per_mm)
    cause = f"with {held_words(search.limits, per_mm)}, {miss.cause}"
    return replace(miss, cause=cause, remedy=f"{miss.remedy} {ELSEWHERE}".lstrip()).error(f"The {what}")


def _like(search: Search, **changed: object) -> Search:
    """Return a search like another, with something changed in it."""
    return replace(search, **changed)  # type: ignore[arg-type]


def _outside(search: Search, per_mm: int) -> Miss | None:
    """Return by how far a held place lies outside what may be used of the length; None where it does not."""
    start, end = search.bays[0].start_mm, search.bays[-1].end_mm
    held = [at for at in (search.limits.front_at_mm, search.limits.rear_at_mm) if at is not None]
    short = max((max(start - at, at - end) for at in held), default=0)
    if short <= 0:
        if search.limits.front_at_mm != end and search.limits.rear_at_mm != start:
            return None
        short = search.limits.wall_mm  # at the very end of the length there is none left for a chamber
    left = f"{said(start, per_mm)} to {said(end, per_mm)}"
    return Miss(in_mm(short, per_mm), f"only {left} behind that mark are left for it along the length", "")


def _nearest(search: Search, per_mm: int) -> Miss:
    """Return the miss of the chamber that comes nearest, of those that end where they are held."""
    speaker, rooms = search.speaker, list(_rooms(search))
    if speaker is not None:
        return miss_of(min(rooms, key=lambda room: Seats(room, speaker).nearness), speaker, per_mm)
    return min((miss_of(room, None, per_mm) for room in rooms), key=lambda each: each.short_mm)


def _rooms(search: Search) -> Iterator[Room]:
    bays = between(search.bays, search.limits)
    yielded = False
    for room in search.stretches(bays):
        if as_held(room, search.limits):
            yielded = True
            yield room
    if not yielded:  # where it is held there is no depth for any floor
        if search.limits.front_at_mm is None or search.limits.rear_at_mm is None:
            bays = bays[:1] if search.limits.front_at_mm is not None else bays[-1:]
        yield search.room(bays, max(bay.floor_mm for bay in bays))


def _decoder_beside(search: Search, box: Box, per_mm: int) -> Miss:
    """Return by how much the decoder misses in what the held ends leave beside the chamber."""
    limits, bays = search.limits, search.full_bays
    front = clip(bays, bays[0].start_mm, limits.front_at_mm) if limits.front_at_mm is not None else ()
    rear = clip(bays, limits.rear_at_mm, bays[-1].end_mm) if limits.rear_at_mm is not None else ()
    misses = [miss_of_box(each, box, per_mm) for each in (front, rear) if each]
    least = min(way.along_mm for way in box.ways)
    none = Miss(Fraction(least) / per_mm, "no length is left beside the chamber for it", "Use a smaller decoder.")
    return min(misses, key=lambda each: each.short_mm, default=none)

"""Where a search finds no chamber: by how much the nearest misses, and why."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from fractions import Fraction
from functools import partial
from typing import TYPE_CHECKING

from modelmath.enclosure.cavity import Bay
from modelmath.enclosure.fitting.box_misses import miss_of_box
from modelmath.enclosure.fitting.misses import miss_of, no_depth, no_length_beside
from modelmath.enclosure.fitting.nearest import Miss, in_mm, said
from modelmath.enclosure.fitting.pockets import Pocket
from modelmath.enclosure.fitting.rooms import walled
from modelmath.enclosure.fitting.speaker_misses import Nearness, Seats
from modelmath.errors import DoesNotFit

if TYPE_CHECKING:
    from modelmath.enclosure.fitting.search import Search


def nearest_miss_of(search: Search, per_mm: int) -> DoesNotFit:
    """Return by how much the nearest misses, and why.

    Parameters
    ----------
    search : Search
        Which finds none, in a small unit. [small unit]
    per_mm : int
        How many of the unit make a mm. [1/mm]

    Returns
    -------
    DoesNotFit
        What does not fit, and by how much. [mm]

    References
    ----------
    Elementary geometry.
    """
    cavity, limits, bays = search.cavity, search.limits, search.bays
    if not bays:
        kept = sum(search.kept)
        what = "lamps" if search.kept == (limits.front_room_mm, limits.rear_room_mm) else "lamps and the sound"
        cause = f"the room kept for {what}, {said(kept, per_mm)}, is all the length there is"
        short = in_mm(kept - (cavity.end_mm - cavity.start_mm), per_mm)
        return Miss(short, cause, "Keep less room at the ends.").error("The chamber")
    if all(bay.depth_mm <= 0 for bay in bays):
        return no_depth(max(bays, key=lambda bay: bay.depth_mm), per_mm).error("The chamber")
    spaces = search.spaces
    if search.decoder is not None:
        # Below the floor or inside is one place more to look; what is short is told of the room beside it.
        spaces = tuple(each for each in spaces if each[1] is not None)
        if not spaces:
            return miss_of_box(search.full_bays, search.decoder, per_mm).error(f"The {search.decoder.name}")
    misses = (miss for space, pocket in spaces for miss in _misses(search, space, pocket, per_mm))
    _, nearest = min(misses, key=lambda each: each[0])
    return nearest().error("The speaker" if search.speaker else "The chamber")


def _misses(
    search: Search, space: tuple[Bay, ...], pocket: Pocket | None, per_mm: int
) -> Iterator[tuple[Nearness, Callable[[], Miss]]]:
    """Yield how near each chamber of a space comes, and what tells by how much it misses."""
    limits, speaker = search.limits, search.speaker
    if not space:
        assert pocket is not None
        at = pocket.end_mm if pocket.end_mm + search.kept[1] >= search.cavity.end_mm else pocket.start_mm
        miss = no_length_beside(walled((at, at), search.cavity, limits), limits, speaker, per_mm)
        yield (2 if speaker else 0, Fraction(miss.short_mm) * per_mm), partial(_told, miss)
        return
    # Where no bay has any depth, the one that lacks least tells by how much.
    deepest = max(space, key=lambda bay: bay.depth_mm)
    for room in list(search.stretches(space, pocket)) or [search.room((deepest,), deepest.floor_mm)]:
        if speaker is None:
            miss = miss_of(room, None, per_mm)
            yield (0, Fraction(miss.short_mm) * per_mm), partial(_told, miss)
        else:
            yield Seats(room, speaker).nearness, partial(miss_of, room, speaker, per_mm)


def _told(miss: Miss) -> Miss:
    return miss

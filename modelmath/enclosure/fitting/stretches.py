"""Which stretches of bays a chamber can take in: for each floor it may have, the longest.

For a given floor the volume only grows with the stretch taken in, so that the best chamber is one of the longest
stretches whose bays all lie below that floor and whose roof stands above it. For a given stretch the volume only grows
as the floor comes down, until a bay is in its way, or the speaker's cone, or the top of what would have to be boxed in
if the floor came lower: so these heights are all the floors to try.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from modelmath.enclosure.bodies import Speaker
from modelmath.enclosure.cavity import Bay
from modelmath.enclosure.obstacles import Obstacle
from modelmath.lengths.numbers import Number


def longest_stretches(
    bays: Sequence[Bay], speaker: Speaker | None = None, narrow: Sequence[Obstacle] = ()
) -> Iterator[tuple[tuple[Bay, ...], Number]]:
    """Yield each longest stretch that can have some floor, with that floor.

    Parameters
    ----------
    bays : sequence of Bay
        Front to rear. [mm]
    speaker : Speaker or None
        For the room that its cone needs below the floor. [mm]
    narrow : sequence of Obstacle
        What the floor may be cut round. [mm]

    Yields
    ------
    tuple of (tuple of Bay, Fraction or float)
        The stretch and its floor. [mm]

    References
    ----------
    Elementary geometry; the argument stands at the head of this module.
    """
    own = {bay.floor_mm for bay in bays}
    others = {each.top_mm for each in narrow}
    if speaker is not None and speaker.faces == "down" and speaker.travel_mm:
        others |= {floor + speaker.travel_mm for floor in own}
    heights = [(bay.floor_mm, bay.zone.roof_mm) for bay in bays]
    for floor in sorted(own | others):
        for first, last, highest in _runs(heights, floor):
            # A run that no bay of its own holds so high is found again, no shorter, at a lower floor.
            if highest == floor or floor in others:
                yield tuple(bays[first : last + 1]), floor


def _runs(heights: Sequence[tuple[Number, Number]], floor: Number) -> Iterator[tuple[int, int, Number]]:
    """Yield the first and last place of each longest run that has room for a floor, and its highest bay."""
    first, highest = None, floor
    for at, (low, roof) in enumerate(heights):
        if low <= floor < roof:
            if first is None:
                first, highest = at, low
            elif low > highest:
                highest = low
        elif first is not None:
            yield first, at - 1, highest
            first = None
    if first is not None:
        yield first, len(heights) - 1, highest

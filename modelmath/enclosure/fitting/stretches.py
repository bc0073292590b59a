"""Which stretches of bays a chamber can take in: for each floor it may have, the longest.

For a given floor the volume only grows with the stretch taken in, so that the best chamber is one of the longest
stretches whose bays all lie below that floor and whose roof stands above it. For a given stretch the volume only grows
as the floor comes down, until a bay is in its way, or the speaker's cone, or the top of what would have to be boxed in
if the floor came lower, or the section grows too narrow for the speaker, or the decoder finds no height below: so these
heights are all the floors to try.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from modelmath.enclosure.bodies import Box, Speaker
from modelmath.enclosure.cavity import Bay
from modelmath.enclosure.fitting.known import Sections
from modelmath.enclosure.fitting.seats import needs_of, plate_mm
from modelmath.enclosure.limits import Limits
from modelmath.enclosure.obstacles import Obstacle
from modelmath.enclosure.sections import Profile
from modelmath.lengths.numbers import Number


def longest_stretches(
    bays: Sequence[Bay],
    limits: Limits,
    speaker: Speaker | None = None,
    narrow: Sequence[Obstacle] = (),
    below: Box | None = None,
    sections: Sections | None = None,
) -> Iterator[tuple[tuple[Bay, ...], Number]]:
    """Yield each longest stretch that can have some floor, with that floor.

    Parameters
    ----------
    bays : sequence of Bay
        Front to rear. [mm]
    limits : Limits
        What is kept beside the speaker. [mm]
    speaker : Speaker or None
        For the room that its cone needs below the floor, and its width above. [mm]
    narrow : sequence of Obstacle
        What the floor may be cut round. [mm]
    below : Box or None
        What has to find room below the floor. [mm]
    sections : Sections or None
        What is known of the sections already. [mm]

    Yields
    ------
    tuple of (tuple of Bay, Fraction or float)
        The stretch and its floor. [mm]

    References
    ----------
    Elementary geometry; the argument stands at the head of this module.
    """
    own = {bay.floor_mm for bay in bays}
    tops = {each.top_mm for each in narrow}
    profiles = tuple({id(bay.zone): bay.zone.profile for bay in bays if bay.zone.profile is not None}.values())
    asked = _Asked(min(own | tops, default=0), profiles, sections or Sections())
    others = tops | _for_speaker(own | tops, asked, limits, speaker) | _for_box(own | tops, asked, below)
    heights = [(bay.floor_mm, bay.zone.roof_mm) for bay in bays]
    for floor in sorted(own | others):
        for first, last, highest in _runs(heights, floor):
            # A run that no bay of its own holds so high is found again, no shorter, at a lower floor.
            if highest == floor or floor in others:
                yield tuple(bays[first : last + 1]), floor


@dataclass(frozen=True)
class _Asked:
    """What is asked for the heights from which on a section is as wide as it must be."""

    low_mm: Number
    profiles: Sequence[Profile]
    sections: Sections

    def where_it_widens(self, widths: set[Number]) -> set[Number]:
        """Return these heights."""
        wide = (self.sections.as_wide_as(profile, width, self.low_mm) for profile in self.profiles for width in widths)
        return {start for each in wide for start, _ in each}


def _for_speaker(lows: set[Number], asked: _Asked, limits: Limits, speaker: Speaker | None) -> set[Number]:
    """Return the floors below which the speaker's cone, or a section that narrows downward, gets in its way."""
    if speaker is None or speaker.faces == "up":
        return set()
    found: set[Number] = set()
    if speaker.faces == "down" and speaker.travel_mm:
        found |= {low + speaker.travel_mm for low in lows}
    across = {needs_of(speaker, limits).across_mm} | ({speaker.basket_mm[1]} if speaker.faces == "down" else set())
    plate = plate_mm(speaker, limits)
    return found | {start - plate for start in asked.where_it_widens(across)}


def _for_box(lows: set[Number], asked: _Asked, box: Box | None) -> set[Number]:
    """Return the floors below which a box just finds its height."""
    found: set[Number] = set()
    if box is None:
        return found
    for up in {way.up_mm for way in box.ways}:
        across = {way.across_mm for way in box.ways if way.up_mm == up}
        found |= {low + up for low in lows | asked.where_it_widens(across)}
    return found


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

"""The search for the largest chamber: every stretch and floor that may be best, for each place of the decoder."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from functools import cached_property, lru_cache
from typing import Literal, Self

from modelmath.enclosure.bodies import Box, Speaker
from modelmath.enclosure.cavity import Bay, Cavity
from modelmath.enclosure.chambers import Chamber
from modelmath.enclosure.fitting.boxed import narrow_ones
from modelmath.enclosure.fitting.held import as_held, between, miss_of_held
from modelmath.enclosure.fitting.known import Sections
from modelmath.enclosure.fitting.nothing_found import nearest_miss_of
from modelmath.enclosure.fitting.pockets import Pocket, at_the_ends, in_what_is_left, may_be_below
from modelmath.enclosure.fitting.rooms import Room, Stretch, clip, walled
from modelmath.enclosure.fitting.seats import from_its_wall, further_in, kept_mm, needs_of, place_speaker
from modelmath.enclosure.fitting.stretches import longest_stretches
from modelmath.enclosure.fitting.whole import Whole
from modelmath.enclosure.limits import Limits
from modelmath.enclosure.obstacles import Obstacle
from modelmath.errors import DoesNotFit
from modelmath.lengths.numbers import Number

ENDS: tuple[Literal["front", "rear"], ...] = ("front", "rear")
OF_THE_SHELL: tuple[str, ...] = (
    "spaces",
    "bays",
    "full_bays",
    "narrow",
    "sections",
)  # what is kept; the first for its decoder only
OF_THE_ENDS: tuple[str, ...] = ("narrow", "sections")  # of these, what the room kept at the ends has no part in


def _room(
    bays: tuple[Bay, ...],
    floor: Number,
    cavity: Cavity,
    limits: Limits,
    narrow: tuple[Obstacle, ...],
    sections: Sections,
) -> Room:
    ends = (bays[0].start_mm, bays[-1].end_mm)
    within = tuple(each for each in narrow if each.start_mm < ends[1] and ends[0] < each.end_mm)
    return Room(bays, ends, walled(ends, cavity, limits), floor, limits, within, sections=sections)


def chamber_in(room: Room, speaker: Speaker | None, pocket: Pocket | None, box: Box | None = None) -> Chamber | None:
    """Return the chamber that a room makes, with the speaker in its place and the decoder in its pocket.

    Parameters
    ----------
    room : Room
        The bays, ends, walls and floor. [mm]
    speaker : Speaker or None
        The speaker. [mm]
    pocket : Pocket or None
        The decoder's pocket beside the chamber. [mm]
    box : Box or None
        The decoder, where it has no such pocket. [mm]

    Returns
    -------
    Chamber or None
        None where walls, roof, speaker or decoder find no place; `miss_of` says why. [mm]

    References
    ----------
    Elementary geometry.
    """
    inner = room.inner
    if inner[1] <= inner[0] or room.floor_mm >= room.lowest_roof.zone.roof_mm or room.air.shut:
        return None
    if room.air.parts and room.part is None:
        return _in_a_part(room, speaker, pocket, box)
    seat = None if speaker is None else place_speaker(room, speaker)
    if speaker is not None and seat is None:
        return None
    if box is not None and pocket is None:
        seat, pocket = _seat_and_pocket(room, speaker, seat, box)
        if pocket is None:
            return None
    ends = (*room.ends, *inner)
    floor, bays, governing = room.floor_mm, room.bays, room.governing
    return Chamber(*ends, floor, room.volume_mm3, bays, governing, seat, pocket, room.boxed, room.narrow)


def _in_a_part(room: Room, speaker: Speaker | None, pocket: Pocket | None, box: Box | None) -> Chamber | None:
    """Return the chamber of the largest part that holds what it must: no more than what is joined with it counts."""
    for part in range(len(room.air.parts)):
        chamber = chamber_in(room.in_part(part), speaker, pocket, box)
        if chamber is not None:
            return chamber
    return None


def _seat_and_pocket(
    room: Room, speaker: Speaker | None, seat: Stretch | None, box: Box
) -> tuple[Stretch | None, Pocket | None]:
    """Return a pocket below the floor or inside, and the seat: as wanted, or as far to one end as it must make way."""
    faces = "down" if speaker is None else speaker.faces
    pocket = in_what_is_left(room, seat, box, faces)
    if pocket is not None or speaker is None or faces in ("front", "rear"):
        return seat, pocket
    if not box.inside and not may_be_below(room, box):
        return seat, None
    for end in ENDS:
        moved = place_speaker(room, pushed(speaker, end))
        # Pushed to one end it leaves less there than before, and more only on its other side.
        pocket = in_what_is_left(room, moved, box, end)
        if pocket is not None:
            return moved, pocket
    return seat, None


@lru_cache
def pushed(speaker: Speaker, end: Literal["front", "rear"]) -> Speaker:
    """Return a speaker that is wanted as far to one end as it goes.

    Parameters
    ----------
    speaker : Speaker
        The speaker. [mm]
    end : {"front", "rear"}
        Which end. [-]

    Returns
    -------
    Speaker
        The same, wanted there. [mm]

    References
    ----------
    None needed.
    """
    return replace(speaker, place=end)


@dataclass(frozen=True)
class Search:
    """Looks at every chamber that may be the largest; in whole numbers, or for a message in mm.

    Attributes
    ----------
    cavity : Cavity
        What a chamber is fitted into. [mm]
    limits : Limits
        What must be kept. [mm]
    speaker : Speaker or None
        What it has to hold. [mm]
    decoder : Box or None
        What has to find room beside it. [mm]
    """

    cavity: Cavity
    limits: Limits
    speaker: Speaker | None
    decoder: Box | None

    @cached_property
    def kept(self) -> tuple[Number, Number]:
        """The room kept clear of the chamber at either end of the shell."""
        return kept_mm(self.cavity, self.limits, self.speaker)

    @cached_property
    def sections(self) -> Sections:
        """What is known of the zones' sections so far."""
        return Sections()

    @cached_property
    def narrow(self) -> tuple[Obstacle, ...]:
        """What the floor may be cut round."""
        return narrow_ones(self.cavity, self.limits.wall_mm) if self.limits.cut_round else ()

    @cached_property
    def bays(self) -> tuple[Bay, ...]:
        """The bays between the rooms kept at the ends."""
        cavity = self.cavity
        if self.narrow:
            wide = tuple(each for each in cavity.obstacles if not any(each is other for other in self.narrow))
            cavity = replace(cavity, obstacles=wide)
            same = {id(copy): given for copy, given in zip(cavity.obstacles, wide, strict=True)}
            return tuple(replace(bay, cause=same.get(id(bay.cause), bay.cause)) for bay in self._between(cavity))
        return self._between(cavity)

    @cached_property
    def full_bays(self) -> tuple[Bay, ...]:
        """The same for what no floor is cut round: every obstacle counts across the full width."""
        return self._between(self.cavity) if self.narrow else self.bays

    def _between(self, cavity: Cavity) -> tuple[Bay, ...]:
        bays = cavity.bays(self.limits.clearance_mm, self.limits.end_clearance_mm)
        return clip(bays, cavity.start_mm + self.kept[0], cavity.end_mm - self.kept[1])

    @cached_property
    def spaces(self) -> tuple[tuple[tuple[Bay, ...], Pocket | None], ...]:
        """The bays left for the chamber: beside the decoder at either end; all, where it goes below or inside.

        Where an end of the chamber is held, only what lies between; none where the place is not left for it.
        """
        if not self.held:
            return self._spaces
        return tuple((between(bays, self.limits), pocket) for bays, pocket in self._spaces)

    @property
    def held(self) -> bool:
        """Whether either end of the chamber is held at a place."""
        return self.limits.front_at_mm is not None or self.limits.rear_at_mm is not None

    @property
    def _spaces(self) -> tuple[tuple[tuple[Bay, ...], Pocket | None], ...]:
        if self.decoder is None or not self.bays:
            return ((self.bays, None),)
        beside = at_the_ends(self.full_bays, self.decoder)
        if beside is None:
            return ((self.bays, None),)
        front, rear = beside
        return (
            (clip(self.bays, front.end_mm, self.bays[-1].end_mm), front),
            (clip(self.bays, self.bays[0].start_mm, rear.start_mm), rear),
            (self.bays, None),
        )

    def knowing(self, before: Search | None) -> Self:
        """Take over what another search has worked out of the shell alone, where it is the same shell.

        Parameters
        ----------
        before : Search or None
            The search before. [-]

        Returns
        -------
        Search
            This one. [-]

        References
        ----------
        None needed.
        """
        if before is not None and (before.cavity, before.limits) == (self.cavity, self.limits):
            same = OF_THE_SHELL if before.decoder == self.decoder else OF_THE_SHELL[1:]
            if before.kept != self.kept:
                same = OF_THE_ENDS
            vars(self).update((name, vars(before)[name]) for name in same if name in vars(before))
        return self

    def candidates(self) -> list[Chamber]:
        """Return the best chamber of every stretch; none where nothing fits. [mm]"""
        found: dict[tuple[Number, Number], Chamber] = {}
        for space, pocket in self.spaces:
            for room in self.rooms(space, pocket):
                known = found.get(room.ends)
                if known is not None and known.volume_mm3 >= room.volume_mm3:
                    continue
                chamber = chamber_in(room, self.speaker, pocket, self.decoder)
                # Where boxes part it, it holds less than the room as a whole.
                if chamber is not None and (known is None or chamber.volume_mm3 > known.volume_mm3):
                    found[room.ends] = chamber
        return list(found.values())

    def rooms(self, space: tuple[Bay, ...], pocket: Pocket | None) -> Iterator[Room]:
        """Return the room of each stretch, its wall moved in to where a speaker that faces it finds its place.

        Parameters
        ----------
        space : tuple of Bay
            What is left for the chamber, one of `spaces`. [mm]
        pocket : Pocket or None
            The decoder's beside it, as it stands there. [mm]

        Returns
        -------
        iterator of Room
            Each that may make the largest chamber; where an end is held, of those that end there. [mm]

        References
        ----------
        `longest_stretches`.
        """
        found = self._all_rooms(space, pocket)
        return (room for room in found if as_held(room, self.limits)) if self.held else found

    def _all_rooms(self, space: tuple[Bay, ...], pocket: Pocket | None) -> Iterator[Room]:
        least = 0 if self.speaker is None else needs_of(self.speaker, self.limits).along_mm
        for whole in self.stretches(space, pocket, least):
            room = self._over(whole, from_its_wall(whole, self.speaker))
            yield room
            if self.narrow and room.air.parts:
                yield from (self._over(room, bays) for bays in further_in(room, self.speaker))

    def stretches(self, space: tuple[Bay, ...], pocket: Pocket | None = None, least: Number = 0) -> Iterator[Room]:
        """Yield the room of each longest stretch, of one that boxes shut off somewhere what lies on either side.

        Parameters
        ----------
        space : tuple of Bay
            What is left for the chamber. [mm]
        pocket : Pocket or None
            The decoder's beside it. [mm]
        least : Fraction or float
            Those shorter than this are left out. [mm]

        Yields
        ------
        Room
            Each with the least floor that it may have there. [mm]

        References
        ----------
        `longest_stretches`.
        """
        below = self.decoder if pocket is None else None
        for stretch, floor in longest_stretches(space, self.limits, self.speaker, self.narrow, below, self.sections):
            if stretch[-1].end_mm - stretch[0].start_mm < least:
                continue
            room = self.room(stretch, floor)
            if not self.narrow:
                yield room
                continue
            yield from (self._over(room, bays) for bays in room.joined() if bays)

    def _over(self, room: Room, bays: tuple[Bay, ...]) -> Room:
        return room if bays is room.bays else self.room(bays, room.floor_mm)

    def room(self, bays: tuple[Bay, ...], floor: Number) -> Room:
        """Return the room over some bays.

        Parameters
        ----------
        bays : tuple of Bay
            Front to rear. [mm]
        floor : Fraction or float
            Height of its floor. [mm]

        Returns
        -------
        Room
            With walls where its ends need them. [mm]

        References
        ----------
        None needed.
        """
        return _room(bays, floor, self.cavity, self.limits, self.narrow, self.sections)

    def nearest_miss(self) -> DoesNotFit:
        """Return by how much the nearest misses, and why. [mm]"""
        whole = Whole(self.cavity, self.limits, self.speaker, self.decoder)
        search = Search(whole.cavity, whole.limits, whole.speaker, whole.decoder)
        return (miss_of_held if self.held else nearest_miss_of)(search, whole.per_mm)

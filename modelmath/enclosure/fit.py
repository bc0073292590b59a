"""The largest chamber with one flat floor, exactly.

Every longest stretch under every floor that may be best is looked at, for each place the decoder can be pushed to: why
these are all, `fitting.stretches` and `fitting.pockets` argue. The fit runs in whole numbers, so that it is exact.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from functools import cached_property
from typing import TYPE_CHECKING

from modelmath.enclosure.bodies import Box, Speaker
from modelmath.enclosure.cavity import Bay, Cavity
from modelmath.enclosure.fitting.boxed import narrow_ones
from modelmath.enclosure.fitting.misses import Miss, miss_of, miss_of_box, no_depth, no_length_beside
from modelmath.enclosure.fitting.pockets import Pocket, at_the_ends, in_what_is_left, may_be_below
from modelmath.enclosure.fitting.rooms import Room, Stretch, clip
from modelmath.enclosure.fitting.seats import from_its_wall, place_speaker
from modelmath.enclosure.fitting.stretches import longest_stretches
from modelmath.enclosure.fitting.whole import Whole
from modelmath.enclosure.limits import Limits
from modelmath.enclosure.obstacles import Obstacle
from modelmath.errors import DoesNotFit
from modelmath.lengths.numbers import Number

if TYPE_CHECKING:
    from modelmath.clearance import Marks
    from modelmath.enclosure.assemble import Place
    from modelmath.enclosure.parts import Part


@dataclass(frozen=True)
class Chamber:
    """A sealed space under the roof, between two ends, above one flat floor.

    Attributes
    ----------
    start_mm, end_mm : Fraction or float
        Outer faces of its end walls, from the fore-aft mark. [mm]
    inner_start_mm, inner_end_mm : Fraction or float
        Inner faces: the same as the outer ones where the shell's own end closes it. [mm]
    floor_mm : Fraction or float
        Lowest height its floor may have, above the seat. [mm]
    volume_mm3 : Fraction or float
        Gross volume: sum over its bays of cross-section x length between the inner faces, less what is boxed in. [mm3]
    bays : tuple of Bay
        The bays it takes in. [-]
    governing : Bay
        The bay whose chassis top, or what moves there, sets the floor. [-]
    seat_mm : tuple of two, or None
        Front and rear edge of the speaker's flange; None without a speaker. [mm]
    pocket : Pocket or None
        The decoder's room; None without one. [mm]
    boxed : tuple of Obstacle
        What its floor is cut round. [mm]
    narrow : tuple of Obstacle
        What stands along it that its floor may be cut round, boxed in or below. [mm]
    cut_from : Chamber or None
        Of a chamber as it is cut to marks, the exact one; None of an exact one. [mm]
    """

    start_mm: Number
    end_mm: Number
    inner_start_mm: Number
    inner_end_mm: Number
    floor_mm: Number
    volume_mm3: Number
    bays: tuple[Bay, ...]
    governing: Bay
    seat_mm: Stretch | None
    pocket: Pocket | None = None
    boxed: tuple[Obstacle, ...] = ()
    narrow: tuple[Obstacle, ...] = ()
    cut_from: Chamber | None = None

    @property
    def decoder_mm(self) -> Stretch | None:
        """Front and rear edge of the decoder's room; None without one. [mm]"""
        return None if self.pocket is None else (self.pocket.start_mm, self.pocket.end_mm)

    @property
    def front_wall(self) -> bool:
        """Whether the front end needs a wall of its own."""
        return self.inner_start_mm != self.start_mm

    @property
    def rear_wall(self) -> bool:
        """Whether the rear end needs a wall of its own."""
        return self.inner_end_mm != self.end_mm


@dataclass(frozen=True)
class Enclosure:
    """The chambers that a cavity can have, the largest first.

    Attributes
    ----------
    cavity : Cavity
        What they were fitted into. [-]
    limits : Limits
        What was kept. [-]
    speaker : Speaker or None
        The speaker they were fitted for. [-]
    decoder : Box or None
        What finds room beside them. [-]
    candidates : tuple of Chamber
        All that hold the speaker, by exact volume, the largest first; each has another floor, or leaves the decoder
        another place. Which is the largest once cut to marks, `as_cut` says. [mm]
    """

    cavity: Cavity
    limits: Limits
    speaker: Speaker | None
    decoder: Box | None
    candidates: tuple[Chamber, ...]

    @property
    def chamber(self) -> Chamber:
        """The largest by exact volume. [mm]"""
        return self.candidates[0]

    @property
    def runner_up(self) -> Chamber | None:
        """The next largest by exact volume, if there is one. [mm]"""
        return self.candidates[1] if len(self.candidates) > 1 else None

    @property
    def looked_at(self) -> int:
        """How many chambers were compared. [-]"""
        return len(self.candidates)

    def parts(self, marks: Marks) -> tuple[Part, ...]:
        """Size every part of the chamber that is largest as cut.

        Parameters
        ----------
        marks : Marks
            The rule and the finest mark cut to. [-]

        Returns
        -------
        tuple of Part
            Walls and posts, supports, fillers, floor plates. [mm]

        Raises
        ------
        DoesNotFit
            If no candidate can be built once cut; says by how much the nearest misses and why.

        References
        ----------
        Arithmetic; each part's own function says which.
        """
        from modelmath.enclosure.assemble import parts_of

        return parts_of(self, self.as_cut(marks), marks)

    def places(self, marks: Marks) -> tuple[Place, ...]:
        """Say where everything stands in the chamber that is largest as cut.

        Parameters
        ----------
        marks : Marks
            The rule and the finest mark cut to. [-]

        Returns
        -------
        tuple of Place
            Every part with a place along the length, the speaker, the decoder. [mm]

        Raises
        ------
        DoesNotFit
            If no candidate can be built once cut; says by how much the nearest misses and why.

        References
        ----------
        Arithmetic.
        """
        from modelmath.enclosure.assemble import parts_of, places_of

        chamber = self.as_cut(marks)
        return places_of(self, chamber, parts_of(self, chamber, marks))

    def as_cut(self, marks: Marks) -> Chamber:
        """Return the chamber that is largest once its floor and walls are moved in to the marks of the rule.

        Parameters
        ----------
        marks : Marks
            The rule and the finest mark cut to. [-]

        Returns
        -------
        Chamber
            The chamber that the parts make. [mm]

        Raises
        ------
        DoesNotFit
            If no candidate can be built once cut; says by how much the nearest misses and why.

        References
        ----------
        Arithmetic.
        """
        return self.ranked_as_cut(marks, 1)[0]

    def ranked_as_cut(self, marks: Marks, most: int = 2) -> tuple[Chamber, ...]:
        """Return the largest chambers as they are cut, the largest first.

        Parameters
        ----------
        marks : Marks
            The rule and the finest mark cut to. [-]
        most : int
            How many at most, 1 or more. [-]

        Returns
        -------
        tuple of Chamber
            One or more; of two as large, the one ranked first before cutting. [mm]

        Raises
        ------
        DoesNotFit
            If no candidate can be built once cut; says by how much the nearest misses and why.

        References
        ----------
        Arithmetic; branch and bound, the exact volume being no less than that as cut.
        """
        from modelmath.enclosure.chosen import ranked_at_marks

        return ranked_at_marks(self, marks, most)


def _walled(ends: Stretch, cavity: Cavity, limits: Limits) -> tuple[bool, bool]:
    """Whether either end needs a wall: not where the shell's own end closes it, nor where walls take no room."""
    front = not (ends[0] == cavity.start_mm and cavity.front_closed)
    rear = not (ends[1] == cavity.end_mm and cavity.rear_closed)
    return front and limits.wall_mm > 0, rear and limits.wall_mm > 0


def _room(
    bays: tuple[Bay, ...], floor: Number, cavity: Cavity, limits: Limits, narrow: tuple[Obstacle, ...] = ()
) -> Room:
    ends = (bays[0].start_mm, bays[-1].end_mm)
    within = tuple(each for each in narrow if each.start_mm < ends[1] and ends[0] < each.end_mm)
    return Room(bays, ends, _walled(ends, cavity, limits), floor, limits, within)


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
    if inner[1] <= inner[0] or room.floor_mm >= room.lowest_roof.zone.roof_mm:
        return None
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
    for place in ("front", "rear"):
        moved = place_speaker(room, replace(speaker, place=place))
        pocket = in_what_is_left(room, moved, box)
        if pocket is not None:
            return moved, pocket
    return seat, None


def fit_enclosure(
    cavity: Cavity, limits: Limits, speaker: Speaker | None = None, decoder: Box | None = None
) -> Enclosure:
    """Find the largest chamber with one flat floor, by volume, that holds the speaker and leaves what must be left.

    Parameters
    ----------
    cavity : Cavity
        The shell's zones over the chassis, and what stands or moves there. [mm]
    limits : Limits
        Clearances, wall thickness, room at the ends. [mm]
    speaker : Speaker or None
        Sits in the chamber, facing as it says, where it is deep and wide enough. [mm]
    decoder : Box or None
        Finds room beside the chamber or below its floor; inside it only where it may. [mm]

    Returns
    -------
    Enclosure
        All chambers that do, the largest first: proven largest by looking at all that can be. [mm]

    Raises
    ------
    DoesNotFit
        If the decoder finds no room or no chamber holds the speaker; says by how much the nearest misses and why.

    References
    ----------
    Elementary geometry; the argument that the candidates are complete stands at the head of this module.

    Examples
    --------
    >>> from modelmath.enclosure import Zone
    >>> cavity = Cavity((Zone("cab", 0, 20, 5, 15, 10), Zone("motor", 20, 60, 9, 15, 10)))
    >>> fit_enclosure(cavity, Limits(clearance_mm=1)).chamber.volume_mm3  # 60 x 10 x 5 beats 19 x 10 x 9
    3000
    """
    if limits.wire_path_mm:
        cavity = cavity.narrowed(limits.wire_path_mm + limits.wall_mm)
    whole = Whole(cavity, limits, speaker, decoder)
    found = _Search(whole.cavity, whole.limits, whole.speaker, whole.decoder).candidates()
    if not found:
        raise _Search(cavity, limits, speaker, decoder).nearest_miss()
    ranked = sorted(found, key=lambda each: (-each.volume_mm3, each.start_mm, each.floor_mm))
    return Enclosure(cavity, limits, speaker, decoder, tuple(_in_mm(each, whole) for each in ranked))


def fits(cavity: Cavity, limits: Limits, speaker: Speaker | None = None, decoder: Box | None = None) -> bool:
    """Say whether any chamber fits, without working out by how much one misses.

    Parameters
    ----------
    cavity, limits, speaker, decoder : Cavity, Limits, Speaker or None, Box or None
        As for `fit_enclosure`. [mm]

    Returns
    -------
    bool
        Whether `fit_enclosure` finds a chamber. [-]

    References
    ----------
    `fit_enclosure`.

    Examples
    --------
    >>> from modelmath.enclosure import Zone
    >>> fits(Cavity((Zone("cab", 0, 20, 5, 15, 10),)), Limits(clearance_mm=11))
    False
    """
    if limits.wire_path_mm:
        cavity = cavity.narrowed(limits.wire_path_mm + limits.wall_mm)
    whole = Whole(cavity, limits, speaker, decoder)
    return bool(_Search(whole.cavity, whole.limits, whole.speaker, whole.decoder).candidates())


def _in_mm(mine: Chamber, whole: Whole) -> Chamber:
    chamber: Chamber = whole.lengths(
        mine,
        volume_mm3=whole.back(mine.volume_mm3, 3),
        bays=tuple(whole.bay(bay) for bay in mine.bays),
        governing=whole.bay(mine.governing),
        seat_mm=whole.stretch(mine.seat_mm),
        pocket=None if mine.pocket is None else whole.lengths(mine.pocket),
        boxed=tuple(whole.obstacle(each) for each in mine.boxed),
        narrow=tuple(whole.obstacle(each) for each in mine.narrow),
    )
    return chamber


@dataclass(frozen=True)
class _Search:
    """Looks at every chamber that may be the largest; in whole numbers, or for a message in mm."""

    cavity: Cavity
    limits: Limits
    speaker: Speaker | None
    decoder: Box | None

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
        return clip(bays, cavity.start_mm + self.limits.front_room_mm, cavity.end_mm - self.limits.rear_room_mm)

    @cached_property
    def spaces(self) -> tuple[tuple[tuple[Bay, ...], Pocket | None], ...]:
        """The bays left for the chamber: beside the decoder at either end; all, where it goes below or inside."""
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

    def candidates(self) -> list[Chamber]:
        found: dict[tuple[Number, Number], Chamber] = {}
        for space, pocket in self.spaces:
            for stretch, floor in self._stretches(space, pocket):
                room = self._room(stretch, floor)
                bays = from_its_wall(room, self.speaker)
                room = room if bays is room.bays else self._room(bays, floor)
                known = found.get(room.ends)
                if known is not None and known.volume_mm3 >= room.volume_mm3:
                    continue
                chamber = chamber_in(room, self.speaker, pocket, self.decoder)
                if chamber is not None:
                    found[room.ends] = chamber
        return list(found.values())

    def _stretches(self, space: tuple[Bay, ...], pocket: Pocket | None) -> Iterator[tuple[tuple[Bay, ...], Number]]:
        below = self.decoder if pocket is None else None
        return longest_stretches(space, self.limits, self.speaker, self.narrow, below)

    def _room(self, bays: tuple[Bay, ...], floor: Number) -> Room:
        return _room(bays, floor, self.cavity, self.limits, self.narrow)

    # Where nothing was found.

    def nearest_miss(self) -> DoesNotFit:
        """Say by how much the nearest misses, and why."""
        cavity, limits, bays = self.cavity, self.limits, self.bays
        if not bays:
            kept = limits.front_room_mm + limits.rear_room_mm
            return DoesNotFit(
                "The chamber",
                float(kept - (cavity.end_mm - cavity.start_mm)),
                f"the room kept for lamps, {float(kept):.2f} mm, is all the length there is",
                "Keep less room at the ends.",
            )
        if all(bay.depth_mm <= 0 for bay in bays):
            return no_depth(max(bays, key=lambda bay: bay.depth_mm)).error("The chamber")
        spaces = self.spaces
        if self.decoder is not None:
            # Below the floor or inside is one place more to look; what is short is told of the room beside it.
            spaces = tuple(each for each in spaces if each[1] is not None)
            if not spaces:
                return miss_of_box(self.full_bays, self.decoder).error(f"The {self.decoder.name}")
        misses = (miss for space, pocket in spaces for miss in self._misses(space, pocket))
        nearest = min(misses, key=lambda miss: miss.short_mm)
        return nearest.error("The speaker" if self.speaker else "The chamber")

    def _misses(self, space: tuple[Bay, ...], pocket: Pocket | None) -> Iterator[Miss]:
        """Yield by how much each chamber of a space misses, where none holds what it must."""
        if not space:
            assert pocket is not None
            at = pocket.end_mm if pocket.end_mm + self.limits.rear_room_mm >= self.cavity.end_mm else pocket.start_mm
            yield no_length_beside(_walled((at, at), self.cavity, self.limits), self.limits, self.speaker)
            return
        # Where no bay has any depth, the one that lacks least tells by how much.
        deepest = max(space, key=lambda bay: bay.depth_mm)
        stretches = list(self._stretches(space, pocket)) or [((deepest,), deepest.floor_mm)]
        for stretch, floor in stretches:
            yield miss_of(self._room(stretch, floor), self.speaker)

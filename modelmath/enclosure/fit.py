"""The largest chamber with one flat floor, exactly.

For a given floor height the volume only grows with the stretch taken in, so the best chamber is one of the
longest stretches whose bays all lie below the floor that its highest bay sets and whose roof stands above it.
There are at most as many as bays, for each place the decoder can be pushed to; all are looked at.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from modelmath.enclosure.bodies import Box, Speaker
from modelmath.enclosure.cavity import Bay, Cavity, volume_mm3
from modelmath.enclosure.limits import Limits
from modelmath.enclosure.misses import Miss, miss_of, miss_of_box, no_depth, no_length_beside
from modelmath.enclosure.rooms import Room, Stretch, clip, place_speaker, spaces
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
        Sum over its bays of width x depth x length, between the inner faces. [mm3]
    bays : tuple of Bay
        The bays it takes in. [-]
    governing : Bay
        The bay whose chassis top, or what moves there, sets the floor. [-]
    seat_mm : tuple of two, or None
        Front and rear edge of the speaker's flange; None without a speaker. [mm]
    decoder_mm : tuple of two, or None
        Front and rear edge of the decoder's room; None without one. [mm]
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
    decoder_mm: Stretch | None
    cut_from: Chamber | None = None

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


def _stretches(bays: Sequence[Bay]) -> Iterator[tuple[Bay, ...]]:
    """Yield each longest stretch that can have the floor of its own highest bay: no step above it, no roof below it."""
    seen: set[Stretch] = set()
    for middle, bay in enumerate(bays):
        floor = bay.floor_mm
        fits = [each.floor_mm <= floor < each.zone.roof_mm for each in bays]
        if not fits[middle]:
            continue
        first = last = middle
        while first > 0 and fits[first - 1]:
            first -= 1
        while last < len(bays) - 1 and fits[last + 1]:
            last += 1
        ends = (bays[first].start_mm, bays[last].end_mm)
        if ends not in seen:
            seen.add(ends)
            yield tuple(bays[first : last + 1])


def _walled(ends: Stretch, cavity: Cavity, limits: Limits) -> tuple[bool, bool]:
    """Whether either end needs a wall: not where the shell's own end closes it, nor where walls take no room."""
    front = not (ends[0] == cavity.start_mm and cavity.front_closed)
    rear = not (ends[1] == cavity.end_mm and cavity.rear_closed)
    return front and limits.wall_mm > 0, rear and limits.wall_mm > 0


def _room(bays: tuple[Bay, ...], cavity: Cavity, limits: Limits) -> Room:
    ends = (bays[0].start_mm, bays[-1].end_mm)
    floor = max(bay.floor_mm for bay in bays)
    return Room(bays, ends, _walled(ends, cavity, limits), floor, limits)


def chamber_in(room: Room, speaker: Speaker | None, decoder: Stretch | None) -> Chamber | None:
    """Return the chamber that a room makes, with the speaker in its place.

    Parameters
    ----------
    room : Room
        The bays, ends, walls and floor. [mm]
    speaker : Speaker or None
        The speaker. [mm]
    decoder : tuple of two, or None
        Where the decoder lies. [mm]

    Returns
    -------
    Chamber or None
        None where walls, roof or speaker find no place; `miss_of` says why. [mm]

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
    volume = volume_mm3(room.bays, *inner, room.floor_mm)
    return Chamber(*room.ends, *inner, room.floor_mm, volume, room.bays, room.governing, seat, decoder)


def fit_enclosure(
    cavity: Cavity, limits: Limits, speaker: Speaker | None = None, decoder: Box | None = None
) -> Enclosure:
    """Find the largest chamber with one flat floor, by volume, that holds the speaker and leaves what must be left.

    Parameters
    ----------
    cavity : Cavity
        The shell's zones over the chassis. [mm]
    limits : Limits
        Clearances, wall thickness, room at the ends. [mm]
    speaker : Speaker or None
        Sits in the chamber, facing down, where it is deep and wide enough. [mm]
    decoder : Box or None
        Finds room outside the chamber. [mm]

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
    bays = clip(
        cavity.bays(limits.clearance_mm, limits.end_clearance_mm),
        cavity.start_mm + limits.front_room_mm,
        cavity.end_mm - limits.rear_room_mm,
    )
    if not bays:
        kept = limits.front_room_mm + limits.rear_room_mm
        raise DoesNotFit(
            "The chamber",
            float(kept - (cavity.end_mm - cavity.start_mm)),
            f"the room kept for lamps, {float(kept):.2f} mm, is all the length there is",
            "Keep less room at the ends.",
        )
    if all(bay.depth_mm <= 0 for bay in bays):
        raise no_depth(max(bays, key=lambda bay: bay.depth_mm)).error("The chamber")
    found: dict[tuple[Number, Number, Number], Chamber] = {}
    left = list(spaces(bays, decoder))
    if decoder is not None and not left:
        raise miss_of_box(bays, decoder).error(f"The {decoder.name}")
    for space, place in left:
        for stretch in _stretches(space):
            chamber = chamber_in(_room(stretch, cavity, limits), speaker, place)
            if chamber is not None:
                found.setdefault((chamber.start_mm, chamber.end_mm, chamber.floor_mm), chamber)
    if not found:
        misses = (miss for space, place in left for miss in _misses(space, place, cavity, limits, speaker))
        nearest = min(misses, key=lambda miss: miss.short_mm)
        raise nearest.error("The speaker" if speaker else "The chamber")
    ranked = sorted(found.values(), key=lambda each: (-each.volume_mm3, each.start_mm))
    return Enclosure(cavity, limits, speaker, decoder, tuple(ranked))


def _misses(
    space: tuple[Bay, ...], decoder: Stretch | None, cavity: Cavity, limits: Limits, speaker: Speaker | None
) -> Iterator[Miss]:
    """Yield by how much each chamber of a space misses, where none holds what it must."""
    if not space:
        assert decoder is not None
        at = decoder[1] if decoder[1] + limits.rear_room_mm >= cavity.end_mm else decoder[0]
        yield no_length_beside(_walled((at, at), cavity, limits), limits, speaker)
        return
    # Where no bay has any depth, the one that lacks least tells by how much.
    stretches = list(_stretches(space)) or [(max(space, key=lambda bay: bay.depth_mm),)]
    for stretch in stretches:
        yield miss_of(_room(stretch, cavity, limits), speaker)

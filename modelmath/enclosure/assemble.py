"""The parts of a fitted chamber together, each in its place along the length."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

from modelmath.clearance import Marks, SizeAtMark
from modelmath.enclosure.bodies import Speaker
from modelmath.enclosure.cavity import Bay
from modelmath.enclosure.fit import Chamber, Enclosure
from modelmath.enclosure.fitting.rooms import bays_over
from modelmath.enclosure.parts import Part, bulkhead, fillers, posts, supports

LEAST_PLATE_MM = Fraction(1, 2)  # a narrower gap in the floor is sealed with glue; common practice, no source


@dataclass(frozen=True)
class Place:
    """Where something stands along the length.

    Attributes
    ----------
    what : str
        Its name on the sheets. [-]
    face : str
        The face that the position names. [-]
    position_mm : Fraction
        Place of that face, from the fore-aft mark, positive to the rear. [mm]
    """

    what: str
    face: str
    position_mm: Fraction


def parts_of(enclosure: Enclosure, chamber: Chamber, marks: Marks) -> tuple[Part, ...]:
    """Size every part of a chamber as it is cut.

    Parameters
    ----------
    enclosure : Enclosure
        For the limits and the speaker. [mm]
    chamber : Chamber
        The chamber as it is cut. [mm]
    marks : Marks
        The rule and the finest mark cut to. [-]

    Returns
    -------
    tuple of Part
        In the order they are glued: walls and posts, supports, fillers, floor plates. [mm]

    Raises
    ------
    DoesNotFit
        If a part is left no height.

    References
    ----------
    Arithmetic.
    """
    return tuple(_parts(enclosure, chamber, marks))


def places_of(enclosure: Enclosure, chamber: Chamber, parts: Sequence[Part]) -> tuple[Place, ...]:
    """Say where everything stands: the parts, the speaker, the decoder.

    Parameters
    ----------
    enclosure : Enclosure
        For the speaker and the decoder. [mm]
    chamber : Chamber
        The chamber as it is cut. [mm]
    parts : sequence of Part
        Its parts. [mm]

    Returns
    -------
    tuple of Place
        In the order of the parts, then the speaker, then the decoder. [mm]

    References
    ----------
    Arithmetic.
    """
    return tuple(_places(enclosure, chamber, parts))


def _places(enclosure: Enclosure, chamber: Chamber, parts: Sequence[Part]) -> Iterator[Place]:
    for part in parts:
        if part.position_mm is not None:
            yield Place(part.name, part.face, part.position_mm)
        if part.kind == "support" and part.count == 4 and chamber.seat_mm is not None:
            yield Place(part.name, "rear pair's rear face", Fraction(chamber.seat_mm[1]))
    if enclosure.speaker is not None and chamber.seat_mm is not None:
        yield Place(enclosure.speaker.name, "front edge of its flange", Fraction(chamber.seat_mm[0]))
    if enclosure.decoder is not None and chamber.decoder_mm is not None:
        yield Place(enclosure.decoder.name, "front edge of its room", Fraction(chamber.decoder_mm[0]))


def _parts(enclosure: Enclosure, chamber: Chamber, marks: Marks) -> Iterator[Part]:
    wall_mm = Fraction(enclosure.limits.wall_mm)
    front_plate, rear_plate = _plates(chamber, marks, wall_mm)
    names = iter((("bulkhead", "corner post"), ("rear closure", "closure post")))
    for needed, front, plate in ((chamber.front_wall, True, front_plate), (chamber.rear_wall, False, rear_plate)):
        if needed:
            name, post_name = next(names)
            wall = _wall(name, chamber, front, marks, wall_mm)
            yield wall
            post = posts(post_name, wall, wall_mm if plate else Fraction(0), marks)
            inner = Fraction(chamber.inner_start_mm if front else chamber.inner_end_mm)
            yield replace(post, position_mm=inner, face="front face" if front else "rear face")
    if enclosure.speaker is not None and chamber.seat_mm is not None:
        start, end = (Fraction(each) for each in chamber.seat_mm)
        seat = bays_over(chamber.bays, start, end)
        yield from _supports_under(seat, (start, end), Fraction(chamber.floor_mm), enclosure.speaker, marks)
        # The widest place counts: what is too wide elsewhere is sanded, what is too narrow can't be.
        filler = fillers(marks, max(Fraction(bay.zone.width_mm) for bay in seat), enclosure.speaker, wall_mm)
        if filler is not None:
            yield replace(filler, position_mm=start, face="front end")
        yield from (plate for plate in (front_plate, rear_plate) if plate)


def _wall(name: str, chamber: Chamber, front: bool, marks: Marks, wall_mm: Fraction) -> Part:
    """Return a wall no higher and no wider than the shell is anywhere over its thickness."""
    outer, inner = (chamber.start_mm, chamber.inner_start_mm) if front else (chamber.end_mm, chamber.inner_end_mm)
    over = bays_over(chamber.bays, min(outer, inner), max(outer, inner))
    roof = min(Fraction(bay.zone.roof_mm) for bay in over)
    width = min(Fraction(bay.zone.width_mm) for bay in over)
    part = bulkhead(marks, roof - Fraction(chamber.floor_mm), wall_mm, width, name)
    # The exact size is what would just clear, even where the floor was set by another wall's mark.
    cut = SizeAtMark(roof - Fraction(chamber.governing.floor_mm), part.cut.cut_mm, "down")
    cut_set = f"chamber height, {float(cut.cut_mm):.2f} mm"
    face = "front face" if front else "rear face"
    return replace(part, cut=cut, cut_set=cut_set, position_mm=Fraction(outer), face=face)


def _supports_under(
    seat: Sequence[Bay], ends: tuple[Fraction, Fraction], floor: Fraction, speaker: Speaker, marks: Marks
) -> Iterator[Part]:
    """Yield four supports, or two and two where a step of the roof lies between the speaker's ends."""
    front, rear = (
        supports(marks, Fraction(bay.zone.roof_mm) - floor, Fraction(speaker.flange_mm)) for bay in (seat[0], seat[-1])
    )
    if front.cut == rear.cut:
        yield replace(front, position_mm=ends[0], face="front pair's front face")
        return
    for part, where, place in ((front, "front", ends[0]), (rear, "rear", ends[1])):
        name, cut_set = f"{part.name}, {where}", f"{part.cut_set}, {where}"
        yield replace(part, name=name, count=2, cut_set=cut_set, position_mm=place, face=f"{where} face")


def _plates(chamber: Chamber, marks: Marks, wall_mm: Fraction) -> tuple[Part | None, Part | None]:
    """Return the floor plates that close the floor in front of and behind the speaker, where it is left open."""
    if chamber.seat_mm is None:
        return None, None
    front = (Fraction(chamber.inner_start_mm), Fraction(chamber.seat_mm[0]))
    rear = (Fraction(chamber.seat_mm[1]), Fraction(chamber.inner_end_mm))
    return (
        _plate("floor plate, front", front, chamber.bays, marks, wall_mm),
        _plate("floor plate, rear", rear, chamber.bays, marks, wall_mm),
    )


def _plate(
    name: str, ends: tuple[Fraction, Fraction], bays: Sequence[Bay], marks: Marks, wall_mm: Fraction
) -> Part | None:
    gap = ends[1] - ends[0]
    if gap < LEAST_PLATE_MM:
        return None
    width = max(Fraction(bay.zone.width_mm) for bay in bays_over(bays, *ends))
    return Part(
        name, "plate", 1, "across", marks.up(gap), "real thing",
        "the floor left open: hold it against its neighbours, and sand", cut_set=name, width_mm=width,
        thickness_mm=wall_mm, position_mm=ends[0], face="front edge",
    )  # fmt: skip

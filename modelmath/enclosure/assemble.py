"""The parts of a fitted chamber together, each in its place along the length."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction

from modelmath.clearance import Marks
from modelmath.enclosure.fit import Chamber, Enclosure
from modelmath.enclosure.making.boxes import box_parts
from modelmath.enclosure.making.extras import NO_EXTRAS, Extras
from modelmath.enclosure.making.floors import LEAST_PLATE_MM, floor_plates, roof_opening, speaker_parts
from modelmath.enclosure.making.lamps import lamp_parts, without_room
from modelmath.enclosure.making.sides import side_walls
from modelmath.enclosure.making.site import Site
from modelmath.enclosure.making.walls import walls_and_posts
from modelmath.enclosure.parts import Opening, Part
from modelmath.errors import ModelMathError

__all__ = ["LEAST_PLATE_MM", "Place", "left_out_of", "parts_of", "places_of", "roof_opening_of"]


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


def parts_of(enclosure: Enclosure, chamber: Chamber, marks: Marks, extras: Extras = NO_EXTRAS) -> tuple[Part, ...]:
    """Size every part of a chamber as it is cut.

    Parameters
    ----------
    enclosure : Enclosure
        For the limits and the speaker. [mm]
    chamber : Chamber
        The chamber as it is cut. [mm]
    marks : Marks
        The rule and the finest mark cut to. [-]
    extras : Extras
        What is wanted beside the chamber itself. [-]

    Returns
    -------
    tuple of Part
        In the order they are glued: walls and posts, the side wall, supports, fillers, floor plates, boxes, strand
        supports, light barriers. [mm]

    Raises
    ------
    DoesNotFit
        If a part is left no height, or leaves the speaker or the decoder none.

    References
    ----------
    Arithmetic.
    """
    return tuple(_parts(Site(enclosure, chamber, marks, extras)))


def left_out_of(
    enclosure: Enclosure, chamber: Chamber, marks: Marks, extras: Extras = NO_EXTRAS
) -> tuple[ModelMathError, ...]:
    """Say which strand supports and light barriers have no room, so that `parts_of` leaves them out.

    Parameters
    ----------
    enclosure, chamber, marks, extras : Enclosure, Chamber, Marks, Extras
        As for `parts_of`. [-]

    Returns
    -------
    tuple of ModelMathError
        Why each is left out; none where all have room. [-]

    References
    ----------
    Arithmetic.
    """
    return without_room(Site(enclosure, chamber, marks, extras))


def roof_opening_of(enclosure: Enclosure, chamber: Chamber, marks: Marks) -> Opening | None:
    """Return the opening to cut in the roof for a speaker that faces up.

    Parameters
    ----------
    enclosure : Enclosure
        For the speaker. [mm]
    chamber : Chamber
        The chamber as it is cut. [mm]
    marks : Marks
        The rule and the finest mark cut to. [-]

    Returns
    -------
    Opening or None
        None for any other speaker. [mm]

    References
    ----------
    `making.walls.opening_mm`.
    """
    return roof_opening(Site(enclosure, chamber, marks, NO_EXTRAS))


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
        if part.places_mm:
            yield from (Place(part.name, part.face, each) for each in part.places_mm)
        elif part.position_mm is not None:
            yield Place(part.name, part.face, part.position_mm)
        if part.kind == "support" and part.count == 4 and chamber.seat_mm is not None:
            yield Place(part.name, "rear pair's rear face", Fraction(chamber.seat_mm[1]))
    speaker = enclosure.speaker
    if speaker is not None and chamber.seat_mm is not None:
        rear = speaker.faces == "rear"
        face = "its face" if rear or speaker.faces == "front" else "front edge of its flange"
        yield Place(speaker.name, face, Fraction(chamber.seat_mm[1 if rear else 0]))
    if enclosure.decoder is not None and chamber.decoder_mm is not None:
        yield Place(enclosure.decoder.name, "front edge of its room", Fraction(chamber.decoder_mm[0]))


def _parts(site: Site) -> Iterator[Part]:
    plates = floor_plates(site)
    yield from walls_and_posts(site, (plates[0] is not None, plates[1] is not None))
    yield from side_walls(site)
    yield from speaker_parts(site, plates)
    yield from box_parts(site)
    yield from lamp_parts(site)

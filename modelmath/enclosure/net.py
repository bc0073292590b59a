"""The chamber's net volume: its gross volume less what stands and runs in it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from math import pi

from modelmath.enclosure.bodies import Box, Speaker
from modelmath.enclosure.fit import Chamber
from modelmath.enclosure.fitting.joined import air_in, holds
from modelmath.enclosure.fitting.pockets import INSIDE
from modelmath.enclosure.fitting.rooms import bays_over, clip
from modelmath.enclosure.limits import Limits
from modelmath.enclosure.making.blocks import Block, apart, less, volume_inside_mm3
from modelmath.enclosure.parts import Part
from modelmath.errors import OutOfRange
from modelmath.lengths.numbers import Number, check_number

AT_MOST = "flange and basket counted as full boxes: at most"
WITH_AIR = "the room it takes, its air in it: at most"


@dataclass(frozen=True)
class Passing:
    """What runs through the chamber: strands, wires or bundles.

    Attributes
    ----------
    name : str
        What it is. [-]
    diameter_mm : Fraction or float
        Its diameter; of a bundle, that of the whole. [mm]
    count : int
        How many. [-]
    length_mm : Fraction, float or None
        Length of each inside; None for the whole length between the inner faces. [mm]
    """

    name: str
    diameter_mm: Number
    count: int = 1
    length_mm: Number | None = None

    def __post_init__(self) -> None:
        for what, value in (("diameter", self.diameter_mm), ("length inside", self.length_mm)):
            if value is None:
                continue
            check_number(f"{self.name}: {what}", value)
            if value <= 0:
                raise OutOfRange(f"{self.name}: {what}", f"{float(value):g} mm", "above 0", "Measure it.")
        if self.count < 1:
            raise OutOfRange(f"{self.name}: count", str(self.count), "1 or more", "Leave out what does not run there.")


@dataclass(frozen=True)
class Share:
    """What one thing takes from the chamber.

    Attributes
    ----------
    name : str
        What it is. [-]
    volume_mm3 : Fraction or float
        What it takes inside, less what the shares before it took already. [mm3]
    note : str
        How far it is known. [-]
    """

    name: str
    volume_mm3: Number
    note: str = ""


@dataclass(frozen=True)
class NetVolume:
    """A chamber's volume before and after what stands and runs in it is taken off.

    Attributes
    ----------
    gross_mm3 : Fraction or float
        Between walls, floor and roof, less what is boxed in. [mm3]
    shares : tuple of Share
        What each thing takes. [mm3]
    """

    gross_mm3: Number
    shares: tuple[Share, ...]

    @property
    def taken_mm3(self) -> Number:
        """All shares together. [mm3]"""
        return sum((each.volume_mm3 for each in self.shares), Fraction(0))

    @property
    def net_mm3(self) -> Number:
        """What is left for air. [mm3]"""
        return self.gross_mm3 - self.taken_mm3

    @property
    def at_least(self) -> bool:
        """Whether the net volume is a least one, some share being counted as at most so large. [-]"""
        return any(each.note in (AT_MOST, WITH_AIR) for each in self.shares)

    @property
    def text(self) -> str:
        """Both volumes by name. [-]"""
        least = "at least " if self.at_least else ""
        return f"gross {float(self.gross_mm3) / 1000:.2f} cm3, net {least}{float(self.net_mm3) / 1000:.2f} cm3"


def net_volume(
    chamber: Chamber,
    speaker: Speaker | None,
    parts: Sequence[Part],
    limits: Limits,
    passing: Sequence[Passing] = (),
    *,
    speaker_volume_mm3: Number | None = None,
    decoder: Box | None = None,
) -> NetVolume:
    """Return a chamber's gross volume, and its net volume less parts, speaker and what passes through.

    Where two things share some space, as supports do with a basket taken as a box, it counts once. Where boxes part the
    chamber, only the part that holds the speaker counts; without one, the largest.

    Parameters
    ----------
    chamber : Chamber
        The chamber as it is cut. [mm]
    speaker : Speaker or None
        The speaker. [mm]
    parts : sequence of Part
        Its parts, in their places. [mm]
    limits : Limits
        For the thickness of walls. [mm]
    passing : sequence of Passing
        Strands, wires and bundles inside. [mm]
    speaker_volume_mm3 : Fraction, float or None
        The speaker's own volume, where it is known; None to count flange and basket as boxes. [mm3]
    decoder : Box or None
        The decoder, which counts where it lies inside. [mm]

    Returns
    -------
    NetVolume
        With the share of each. [mm3]

    Raises
    ------
    OutOfRange
        If more is taken than there is, or the speaker's volume is not above 0.

    References
    ----------
    Elementary geometry; of a wire, pi/4 d^2 times its length.

    Examples
    --------
    >>> from modelmath.enclosure import Cavity, Zone, fit_enclosure
    >>> chamber = fit_enclosure(Cavity((Zone("hood", 0, 50, 2, 12, 15),)), Limits(1)).chamber
    >>> net_volume(chamber, None, (), Limits(1), passing=[Passing("wire", 1.0, 2)]).text
    'gross 6.75 cm3, net 6.67 cm3'
    """
    if speaker_volume_mm3 is not None:
        _above_0(speaker_volume_mm3)
    bays = clip(chamber.bays, chamber.inner_start_mm, chamber.inner_end_mm)
    taken = _boxes(chamber, limits) + _apart_from_it(chamber, limits)
    shares: list[Share] = []

    def take(name: str, blocks: Sequence[Block], note: str = "") -> None:
        nonlocal taken
        own = less(apart(blocks), taken)
        volume = volume_inside_mm3(own, bays, chamber.floor_mm)
        taken += own
        if volume:
            shares.append(Share(name, volume, note))

    if speaker is not None and chamber.seat_mm is not None:
        if speaker_volume_mm3 is None:
            take(speaker.name, speaker_blocks(chamber, speaker, limits), AT_MOST)
        else:
            shares.append(Share(speaker.name, speaker_volume_mm3, "its volume as given"))
    for part in parts:
        take(part.name, part.blocks)
    shares.extend(_decoder_inside(chamber, decoder))
    shares.extend(_run_through(chamber, passing))
    found = NetVolume(chamber.volume_mm3, tuple(shares))
    if found.net_mm3 <= 0:
        given = f"{float(found.taken_mm3):.0f} mm3"
        expected = f"less than its gross volume, {float(found.gross_mm3):.0f} mm3"
        raise OutOfRange("what stands in the chamber", given, expected, "Check the speaker's volume and what runs in.")
    return found


def _above_0(volume_mm3: Number) -> None:
    name = "the speaker's volume"
    check_number(name, volume_mm3)
    if volume_mm3 <= 0:
        raise OutOfRange(name, f"{float(volume_mm3):g} mm3", "above 0", "Leave it out where it is not known.")


def speaker_blocks(chamber: Chamber, speaker: Speaker, limits: Limits) -> tuple[Block, ...]:
    """Return a speaker in its seat as two boxes: its flange, and its basket behind it.

    Parameters
    ----------
    chamber : Chamber
        The chamber. [mm]
    speaker : Speaker
        The speaker. [mm]
    limits : Limits
        For the floor plate that one that faces an end stands on. [mm]

    Returns
    -------
    tuple of Block
        Flange, then basket; none without a seat. [mm]

    References
    ----------
    Elementary geometry.
    """
    if chamber.seat_mm is None:
        return ()
    start, end = (Fraction(each) for each in chamber.seat_mm)
    long, wide = (Fraction(each) for each in speaker.basket_mm)
    flange, deep, floor = Fraction(speaker.flange_mm), Fraction(speaker.depth_mm), Fraction(chamber.floor_mm)
    side = Fraction(speaker.width_mm) / 2
    if speaker.faces in ("down", "up"):
        inset = (Fraction(speaker.length_mm) - long) / 2
        face, way = floor, 1
        if speaker.faces == "up":
            face, way = min(Fraction(bay.zone.roof_mm) for bay in bays_over(chamber.bays, start, end)), -1
        heights = [_ends(face, face + way * flange), _ends(face + way * flange, face + way * deep)]
        return (
            Block(start, end, -side, side, *heights[0]),
            Block(start + inset, end - inset, -wide / 2, wide / 2, *heights[1]),
        )
    low = floor + Fraction(limits.wall_mm)
    inset = (Fraction(speaker.length_mm) - long) / 2
    face, way = (start, 1) if speaker.faces == "front" else (end, -1)
    along = [_ends(face, face + way * flange), _ends(face + way * flange, face + way * deep)]
    high = low + Fraction(speaker.length_mm)
    return (
        Block(*along[0], -side, side, low, high),
        Block(*along[1], -wide / 2, wide / 2, low + inset, high - inset),
    )


def _ends(one: Fraction, other: Fraction) -> tuple[Fraction, Fraction]:
    return min(one, other), max(one, other)


def _boxes(chamber: Chamber, limits: Limits) -> tuple[Block, ...]:
    """Return what the gross volume has off already."""
    wall, (first, last) = limits.wall_mm, (chamber.inner_start_mm, chamber.inner_end_mm)
    return apart([
        Block(
            max(each.start_mm - wall, first), min(each.end_mm + wall, last),
            each.centre_mm - each.half_width_mm - wall, each.centre_mm + each.half_width_mm + wall,
            chamber.floor_mm, each.top_mm + wall,
        )
        for each in chamber.boxed
    ])  # fmt: skip


def _apart_from_it(chamber: Chamber, limits: Limits) -> tuple[Block, ...]:
    """Return what boxes part from the air that counts: nothing there takes from it."""
    inner = (chamber.inner_start_mm, chamber.inner_end_mm)
    parts = air_in(chamber.bays, inner, chamber.floor_mm, chamber.boxed, limits.wall_mm).parts
    seat = chamber.seat_mm
    own = 0 if seat is None else next((at for at, part in enumerate(parts) if holds(part, seat[0])), 0)
    others = [part for at, part in enumerate(parts) if at != own]
    return tuple(Block(*piece.along, *piece.across, *piece.up) for part in others for piece in part)


def _decoder_inside(chamber: Chamber, decoder: Box | None) -> Iterator[Share]:
    pocket = chamber.pocket
    if pocket is None or pocket.where != INSIDE:
        return
    if decoder is not None:
        yield Share(decoder.name, decoder.length_mm * decoder.width_mm * decoder.height_mm, "inside the chamber")
        return
    room = (pocket.end_mm - pocket.start_mm) * pocket.across_mm * (pocket.top_mm - pocket.bottom_mm)
    yield Share("decoder", room, WITH_AIR)


def _run_through(chamber: Chamber, passing: Sequence[Passing]) -> Iterator[Share]:
    inside = chamber.inner_end_mm - chamber.inner_start_mm
    for each in passing:
        length = inside if each.length_mm is None else each.length_mm
        yield Share(each.name, each.count * pi / 4 * float(each.diameter_mm) ** 2 * float(length))

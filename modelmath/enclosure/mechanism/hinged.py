"""A shell that is hinged at one end as it comes off: what it carries sweeps an arc, which has to pass the chassis.

Along the length from the fore-aft mark, positive to the rear; heights above the seat.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from math import ceil, degrees, pi
from typing import Literal

from modelmath.enclosure.cavity import Cavity
from modelmath.enclosure.mechanism.arcs import (
    Corners,
    Point,
    column_angles,
    distance,
    gap,
    heights_within,
    meeting_angles,
    nearest_angles,
    overlap,
    turn,
)
from modelmath.enclosure.mechanism.kinds import check_angle
from modelmath.errors import OutOfRange, UnknownChoice
from modelmath.lengths.numbers import Number, check_number
from modelmath.lengths.text import format_length

End = Literal["front", "rear"]
ENDS: tuple[End, ...] = ("front", "rear")
HAIR = 1e-7  # of a turn: moves the far end of a shell by less than a ten-thousandth of a millimetre
WIDE_OPEN_RAD = pi / 3  # by then the shell is in the hand; common practice, no source


@dataclass(frozen=True)
class SideBox:
    """An upright box seen from the side: something that the shell carries, or a step of the chassis.

    Attributes
    ----------
    name : str
        What it is, in words. [-]
    start_mm, end_mm : Fraction or float
        Front and rear end, from the fore-aft mark. [mm]
    bottom_mm, top_mm : Fraction or float
        Heights above the seat. [mm]
    """

    name: str
    start_mm: Number
    end_mm: Number
    bottom_mm: Number
    top_mm: Number

    def __post_init__(self) -> None:
        for what in ("start_mm", "end_mm", "bottom_mm", "top_mm"):
            check_number(f"{self.name}: {what.removesuffix('_mm')}", getattr(self, what))
        for low, high, what in ((self.start_mm, self.end_mm, "long"), (self.bottom_mm, self.top_mm, "high")):
            if not high > low:
                given = f"{float(high - low):.2f} mm {what}"
                raise OutOfRange(self.name, given, "more than 0", "Check where it starts and ends.")


@dataclass(frozen=True)
class Contact:
    """Where something the shell carries first meets the chassis.

    Attributes
    ----------
    part, against : SideBox
        What meets what. [mm]
    angle_rad : float
        How far the shell stands open then; 0 where it can't be lifted at all. [rad]
    at_mm : tuple of two float
        Where, along the length and above the seat. [mm]
    shorten_mm : float or None
        The least that has to come off the part's lower edge for it to pass the whole chassis, to the next thousandth;
        None where no trimming of that edge helps. [mm]
    """

    part: SideBox
    against: SideBox
    angle_rad: float
    at_mm: tuple[float, float]
    shorten_mm: float | None


@dataclass(frozen=True)
class Closest:
    """The least distance that is kept on the way.

    Attributes
    ----------
    part, against : SideBox
        Between what. [mm]
    distance_mm : float
        Distance. [mm]
    angle_rad : float
        How far the shell stands open then. [rad]
    """

    part: SideBox
    against: SideBox
    distance_mm: float
    angle_rad: float


@dataclass(frozen=True)
class LiftOff:
    """How a hinged shell comes off.

    Attributes
    ----------
    hinge_mm : tuple of two
        Along the length and above the seat. [mm]
    end : {"front", "rear"}
        The end at which it is hinged. [-]
    most_rad : float
        How far it was opened. [rad]
    contacts : tuple of Contact
        Of each part that meets the chassis its first, in the order they happen. [-]
    closest : Closest or None
        Where the parts that pass come nearest to the chassis; None where none passes. [mm]
    """

    hinge_mm: tuple[Number, Number]
    end: End
    most_rad: float
    contacts: tuple[Contact, ...]
    closest: Closest | None

    @property
    def passes(self) -> bool:
        """Whether the shell comes off without touching."""
        return not self.contacts

    @property
    def first(self) -> Contact | None:
        """What meets first."""
        return self.contacts[0] if self.contacts else None

    @property
    def verdict(self) -> str:
        """What comes of it, in words."""
        if self.first is not None:
            return " ".join(_told(contact) for contact in self.contacts)
        if self.closest is None:
            return "The shell carries nothing that could meet the chassis."
        kept, opened = self.closest.distance_mm, self.closest.angle_rad
        when = "at rest" if opened == 0 else f"with the shell open by {degrees(opened):.1f} degrees"
        return (
            f"The shell comes off clear: the least distance is {format_length(kept, 'mm')}, between "
            f"{self.closest.part.name} and {self.closest.against.name}, {when}."
        )


def _told(contact: Contact) -> str:
    opened = degrees(contact.angle_rad)
    when = f"once the shell is open by {opened:.1f} degrees" if contact.angle_rad > 0 else "as soon as the shell lifts"
    what = contact.part.name
    if contact.shorten_mm is None:
        remedy = "Trimming its lower edge does not help: move it, or lift the shell straight off."
    else:
        remedy = f"It passes with {format_length(_up(contact.shorten_mm), 'mm')} off its lower edge."
    return f"{what[:1].upper()}{what[1:]} meets {contact.against.name} {when}. {remedy}"


def _up(mm: float) -> float:
    """Return a length to hundredths, no shorter."""
    return -((-mm + 1e-9) // 0.01) * 0.01


def side_boxes(cavity: Cavity) -> tuple[SideBox, ...]:
    """Return the chassis of a cavity as boxes: its zones down to far below, and what moves over them.

    Parameters
    ----------
    cavity : Cavity
        Zones and obstacles. [mm]

    Returns
    -------
    tuple of SideBox
        Zones front to rear, then obstacles with their running clearance. [mm]

    References
    ----------
    None needed.

    Examples
    --------
    >>> from modelmath.enclosure.cavity import Zone
    >>> side_boxes(Cavity((Zone("motor", 0, 40, 9, 15, 18),)))[0].bottom_mm  # as far down as the shell is long
    -31
    """
    deep = min(zone.top_mm for zone in cavity.zones) - (cavity.end_mm - cavity.start_mm)
    zones = [SideBox(zone.name, zone.start_mm, zone.end_mm, deep, zone.top_mm) for zone in cavity.zones]
    moving = [SideBox(o.words, o.start_mm, o.end_mm, o.bottom_mm, o.top_mm) for o in cavity.obstacles]
    return (*zones, *moving)


def lift_off(
    parts: Sequence[SideBox],
    chassis: Sequence[SideBox],
    hinge_mm: tuple[Number, Number],
    end: End = "front",
    most_rad: float = WIDE_OPEN_RAD,
) -> LiftOff:
    """Find what meets what as a shell hinged at one end is opened.

    Parameters
    ----------
    parts : sequence of SideBox
        What the shell carries, and its own walls where wanted. [mm]
    chassis : sequence of SideBox
        What stays. [mm]
    hinge_mm : tuple of two
        Where it turns, along the length and above the seat. [mm]
    end : {"front", "rear"}
        The end at which it is hinged; the other one lifts. [-]
    most_rad : float
        How far it is opened. [rad]

    Returns
    -------
    LiftOff
        Each part's first contact, or the least distance kept; found from crossings of circles and lines. [mm]

    Raises
    ------
    UnknownChoice
        If `end` is neither word.
    OutOfRange, WrongKind
        If the hinge is no number or the angle is not from 0 to below 90 degrees.

    References
    ----------
    Elementary geometry; separating axis theorem.

    Examples
    --------
    >>> wall, motor = SideBox("bulkhead", 30, 31, 10, 20), SideBox("motor", 0, 29.5, -20, 12)
    >>> lift_off([wall], [motor], (0, 0)).verdict
    'Bulkhead meets motor once the shell is open by 2.5 degrees. It passes with 0.69 mm off its lower edge.'
    """
    if end not in ENDS:
        raise UnknownChoice("the hinged end", str(end), ENDS)
    for name, value in zip(("place of the hinge", "height of the hinge"), hinge_mm, strict=True):
        check_number(name, value)
    check_angle("how far the shell opens", most_rad)
    way = 1.0 if end == "front" else -1.0
    contacts: list[Contact] = []
    nearest: list[Closest] = []
    for part in parts:
        pairs = [(_corners(part, hinge_mm, way), _corners(each, hinge_mm, way), each) for each in chassis]
        met = [(_first(own, other, most_rad), own, other, each) for own, other, each in pairs]
        hits = [(angle, own, other, each) for angle, own, other, each in met if angle is not None]
        if hits:
            angle, own, other, against = min(hits, key=lambda hit: hit[0])
            x, z = _where(turn(own, angle), other)
            at = (float(hinge_mm[0]) + way * x, float(hinge_mm[1]) + z)
            shorten = _shortening(own, [other for _, other, _ in pairs], most_rad)
            contacts.append(Contact(part, against, angle, at, shorten))
        else:
            nearest += [Closest(part, each, *_least(own, other, most_rad)) for own, other, each in pairs]
    closest = min(nearest, key=lambda each: (each.distance_mm, each.angle_rad), default=None)
    return LiftOff(hinge_mm, end, most_rad, tuple(sorted(contacts, key=lambda each: each.angle_rad)), closest)


def _corners(box: SideBox, hinge: tuple[Number, Number], way: float) -> Corners:
    """Return a box from the hinge, as if that were at the front."""
    left, right = sorted(way * float(x - hinge[0]) for x in (box.start_mm, box.end_mm))
    low, high = (float(z - hinge[1]) for z in (box.bottom_mm, box.top_mm))
    return (left, low), (right, low), (right, high), (left, high)


def _first(part: Corners, chassis: Corners, most: float) -> float | None:
    """Return the angle from which on they overlap."""
    for low, high in pairwise(meeting_angles(part, chassis, most)):
        if overlap(turn(part, (low + high) / 2), chassis):
            return low
    return None


def _least(part: Corners, chassis: Corners, most: float) -> tuple[float, float]:
    """Return their least distance, and at which angle."""
    return min((gap(turn(part, angle), chassis), angle) for angle in nearest_angles(part, chassis, most))


def _where(part: Sequence[Point], chassis: Corners) -> Point:
    """Return the corner of either box that lies nearest to the other: where they meet."""
    found = [(distance(corner, chassis), corner) for corner in part]
    found += [(distance(corner, part), corner) for corner in chassis]
    return min(found)[1]


def _shortening(part: Corners, chassis: Sequence[Corners], most: float) -> float | None:
    """Return how far the part's lower edge has to go up to pass, seen from the part, round which the chassis turns."""
    (left, bottom), _, (right, top), _ = part
    highest = bottom
    for box in chassis:
        for low, high in pairwise(column_angles(part, box, most)):
            heights = heights_within(turn(box, -(low + high) / 2), left, right)
            if heights is None or heights[0] >= top:
                continue
            # Just inside either end: at the end itself the box may only touch the column, flush with its edge.
            step = (high - low) * HAIR
            inside = (heights_within(turn(box, -angle), left, right, 0.0) for angle in (low + step, high - step))
            highest = max([highest, heights[1], *(each[1] for each in inside if each is not None)])
    off = ceil((highest - bottom) * 1000 - 1e-6) / 1000
    return None if off >= top - bottom else off

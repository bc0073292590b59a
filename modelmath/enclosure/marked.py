"""The best chamber as it is cut: its floor and its walls moved in to the marks of the rule."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

from modelmath.clearance import Marks
from modelmath.enclosure.cavity import Bay, volume_mm3
from modelmath.enclosure.fit import Chamber, Enclosure
from modelmath.enclosure.rooms import Shortage, place_speaker
from modelmath.errors import DoesNotFit


def reference_bay(chamber: Chamber) -> Bay:
    """Return the bay whose roof the height counts from: the front wall's, else the rear wall's, else the first.

    Parameters
    ----------
    chamber : Chamber
        The chamber. [mm]

    Returns
    -------
    Bay
        The bay. [mm]

    References
    ----------
    None needed.
    """
    return chamber.bays[-1] if chamber.rear_wall and not chamber.front_wall else chamber.bays[0]


def reference_roof_mm(chamber: Chamber) -> Fraction:
    """Return the roof of the bay that the chamber's height counts from.

    Parameters
    ----------
    chamber : Chamber
        The chamber. [mm]

    Returns
    -------
    Fraction
        Underside of that roof, above the seat. [mm]

    References
    ----------
    None needed.
    """
    return Fraction(reference_bay(chamber).zone.roof_mm)


def at_marks(enclosure: Enclosure, marks: Marks) -> Chamber:
    """Return the chamber as it is cut: floor no lower and walls no further out than the exact one's.

    Where moving the walls in would leave the speaker no room, they stay where they are, off the marks.

    Parameters
    ----------
    enclosure : Enclosure
        The fitted chamber. [mm]
    marks : Marks
        The rule and the finest mark cut to. [-]

    Returns
    -------
    Chamber
        The same with its own floor, ends, volume and speaker seat. [mm]

    Raises
    ------
    DoesNotFit
        If no mark is low enough for a wall, or the speaker has no room left in the chamber once it is cut to marks.

    References
    ----------
    Arithmetic.
    """
    exact = enclosure.chamber
    roof = reference_roof_mm(exact)
    floor = roof - marks.down(roof - Fraction(exact.floor_mm), "The bulkhead").cut_mm
    start, end = Fraction(exact.start_mm), Fraction(exact.end_mm)
    wall = Fraction(enclosure.limits.wall_mm)
    inward = (_later(start, marks) if exact.front_wall else start, _earlier(end, marks) if exact.rear_wall else end)
    miss = Shortage()
    cut = _moved(enclosure, inward, floor, wall, miss) or _moved(enclosure, (start, end), floor, wall, miss)
    if cut is None:
        short, cause = min(miss.worst, key=lambda each: each[0])
        what = "The speaker" if enclosure.speaker is not None else "The chamber"
        cause += f" once its walls are cut to marks of {marks.finest}"
        raise DoesNotFit(
            what, float(short), cause, "Cut to a finer mark, keep less clearance, or use a smaller speaker."
        )
    return cut


def _later(place: Fraction, marks: Marks) -> Fraction:
    """Return the first place at or behind one that lies on a mark, counted from the fore-aft mark."""
    if place >= 0:
        return marks.rule.smallest_at_mark(place, marks.finest, marks.datum)
    nearer = marks.rule.largest_at_mark(-place, marks.finest, marks.datum)
    return -nearer if nearer > 0 else place


def _earlier(place: Fraction, marks: Marks) -> Fraction:
    return -_later(-place, marks)


def _moved(
    enclosure: Enclosure, ends: tuple[Fraction, Fraction], floor: Fraction, wall: Fraction, miss: Shortage
) -> Chamber | None:
    exact, limits = enclosure.chamber, enclosure.limits
    inner = (ends[0] + wall * exact.front_wall, ends[1] - wall * exact.rear_wall)
    lowest = min(exact.bays, key=lambda bay: bay.zone.roof_mm)
    if floor >= lowest.zone.roof_mm:
        miss.add(floor - lowest.zone.roof_mm, f"no depth is left under the roof over {lowest.zone.name}")
        return None
    if inner[1] <= inner[0]:
        miss.add(inner[0] - inner[1], "the walls at its ends meet")
        return None
    seat = None
    if enclosure.speaker is not None:
        post = Fraction(limits.post_mm)
        room = (inner[0] + post * exact.front_wall, inner[1] - post * exact.rear_wall)
        if room[1] <= room[0]:
            miss.add(enclosure.speaker.length_mm + room[0] - room[1], "the posts take all the length")
            return None
        seat = place_speaker(exact.bays, room, floor, enclosure.speaker, limits, miss)
        if seat is None:
            return None
    volume = volume_mm3(exact.bays, inner[0], inner[1], floor)
    return replace(
        exact,
        start_mm=ends[0],
        end_mm=ends[1],
        inner_start_mm=inner[0],
        inner_end_mm=inner[1],
        floor_mm=floor,
        volume_mm3=volume,
        seat_mm=seat,
    )

"""A chamber as it is cut: its floor and its walls moved in to the marks of the rule."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from fractions import Fraction

from modelmath.clearance import Marks
from modelmath.enclosure.cavity import Bay
from modelmath.enclosure.fit import Chamber, Enclosure, chamber_in
from modelmath.enclosure.fitting.known import Sections
from modelmath.enclosure.fitting.misses import miss_of
from modelmath.enclosure.fitting.pockets import BESIDE, Pocket
from modelmath.enclosure.fitting.rooms import Room, bays_over
from modelmath.enclosure.limits import Limits
from modelmath.errors import DoesNotFit
from modelmath.lengths.numbers import Number, as_fraction


def _reference(bays: Sequence[Bay], outer: tuple[Number, Number], inner: tuple[Number, Number]) -> Bay:
    """Return the bay with the lowest roof over the front wall, else over the rear wall, else the first bay."""
    if inner[0] != outer[0]:
        over = bays_over(bays, outer[0], inner[0])
    elif inner[1] != outer[1]:
        over = bays_over(bays, inner[1], outer[1])
    else:
        over = (bays[0],)
    return min(over, key=lambda bay: bay.zone.roof_mm)


def reference_bay(chamber: Chamber) -> Bay:
    """Return the bay whose roof the height counts from: the lowest over the front wall, else the rear, else the first.

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
    outer, inner = (chamber.start_mm, chamber.end_mm), (chamber.inner_start_mm, chamber.inner_end_mm)
    return _reference(chamber.bays, outer, inner)


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
    return as_fraction(reference_bay(chamber).zone.roof_mm)


def at_marks(exact: Chamber, enclosure: Enclosure, marks: Marks) -> Chamber:
    """Return a candidate as it is cut: floor no lower and walls no further out than the exact one's.

    Where moving the walls in would leave the speaker no room, they stay where they are, off the marks. An end that is
    held stays in any case.

    Parameters
    ----------
    exact : Chamber
        One of the candidates. [mm]
    enclosure : Enclosure
        For the limits and the speaker. [mm]
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
    start, end = as_fraction(exact.start_mm), as_fraction(exact.end_mm)
    limits = enclosure.exact_limits
    moves = (exact.front_wall and limits.front_at_mm is None, exact.rear_wall and limits.rear_at_mm is None)
    inward = (_later(start, marks) if moves[0] else start, _earlier(end, marks) if moves[1] else end)
    others = (enclosure.speaker, _beside(exact), enclosure.decoder)
    try:
        cut = chamber_in(_room(exact, inward, limits, marks, enclosure.sections), *others)
    except DoesNotFit:  # no mark is low enough under the roof there
        cut = None
    if cut is None:
        room = _room(exact, (start, end), limits, marks, enclosure.sections)
        cut = chamber_in(room, *others)
    if cut is None:
        miss = miss_of(room, enclosure.speaker)
        what, smaller = (
            ("The chamber", "") if enclosure.speaker is None else ("The speaker", ", or use a smaller speaker")
        )
        remedy = f"Cut to a finer mark{',' if smaller else ' or'} keep less clearance{smaller}."
        raise replace(miss, cause=f"with its walls cut to marks of {marks.finest}, {miss.cause}", remedy=remedy).error(
            what
        )
    return replace(cut, cut_from=exact)


def _beside(exact: Chamber) -> Pocket | None:
    """Return the decoder's pocket where it lies beside the chamber; elsewhere it is found anew for the floor as cut."""
    return exact.pocket if exact.pocket is not None and exact.pocket.where == BESIDE else None


def _room(exact: Chamber, ends: tuple[Fraction, Fraction], limits: Limits, marks: Marks, sections: Sections) -> Room:
    """Return a candidate with other ends, its floor as high as the mark under its reference roof asks."""
    walls = exact.front_wall, exact.rear_wall
    room = Room(exact.bays, ends, walls, exact.floor_mm, limits, exact.narrow, sections=sections)
    roof = Fraction(_reference(exact.bays, ends, room.inner).zone.roof_mm)
    floor = roof - marks.down(roof - as_fraction(exact.floor_mm), "The bulkhead").cut_mm
    return replace(room, floor_mm=floor)


def _later(place: Fraction, marks: Marks) -> Fraction:
    """Return the first place at or behind one that lies on a mark, counted from the fore-aft mark."""
    if place >= 0:
        return marks.rule.smallest_at_mark(place, marks.finest, marks.datum)
    nearer = marks.rule.largest_at_mark(-place, marks.finest, marks.datum)
    return -nearer if nearer > 0 else place


def _earlier(place: Fraction, marks: Marks) -> Fraction:
    return -_later(-place, marks)

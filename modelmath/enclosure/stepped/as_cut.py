"""A stepped chamber as it is cut: its floors raised, its walls and steps moved, to marks of the rule."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import fields, replace
from fractions import Fraction
from itertools import pairwise
from typing import Any

from modelmath.clearance import Marks
from modelmath.enclosure.cavity import Bay
from modelmath.enclosure.stepped.built import chamber_of
from modelmath.enclosure.stepped.chamber import SteppedChamber
from modelmath.enclosure.stepped.ground import Ground
from modelmath.errors import DoesNotFit
from modelmath.lengths.numbers import Number

Places = tuple[Fraction, ...]


def over(ground: Ground, start_mm: Number, end_mm: Number) -> tuple[Bay, ...]:
    """Return the bays over a stretch.

    Parameters
    ----------
    ground : Ground
        The bays. [mm]
    start_mm, end_mm : Fraction or float
        The stretch, from the fore-aft mark. [mm]

    Returns
    -------
    tuple of Bay
        Front to rear. [mm]

    References
    ----------
    None needed.
    """
    return tuple(bay for bay in ground.bays if bay.start_mm < end_mm and start_mm < bay.end_mm)


def roof_over(ground: Ground, start_mm: Number, end_mm: Number) -> Fraction:
    """Return the lowest roof over a stretch.

    Parameters
    ----------
    ground : Ground
        The bays. [mm]
    start_mm, end_mm : Fraction or float
        The stretch, from the fore-aft mark. [mm]

    Returns
    -------
    Fraction
        Its height above the seat. [mm]

    References
    ----------
    None needed.
    """
    return Fraction(min(bay.zone.roof_mm for bay in over(ground, start_mm, end_mm)))


def as_cut(chamber: SteppedChamber, ground: Ground, marks: Marks) -> SteppedChamber:
    """Return a stepped chamber as it is cut: floors no lower, walls no further out, steps no nearer to what is high.

    A step moves towards its lower floor. Where no chamber stands with its walls and steps moved, they stay where they
    are, off the marks; where none stands with its floors raised either, all stays.

    Parameters
    ----------
    chamber : SteppedChamber
        As it was fitted. [mm]
    ground : Ground
        What it was fitted into, in exact numbers. [mm]
    marks : Marks
        The rule and the finest mark cut to. [-]

    Returns
    -------
    SteppedChamber
        The same with its own places, levels, volume and seat. [mm]

    References
    ----------
    Arithmetic.
    """
    for places, levels in _tries(chamber, ground, marks):
        found = chamber_of(ground, places, levels) if _stands(ground, places, levels) else None
        if found is not None:
            return replace(found, left_out=chamber.left_out)
    exact: SteppedChamber = exactly(chamber)
    return exact


def _tries(chamber: SteppedChamber, ground: Ground, marks: Marks) -> Iterator[tuple[Places, Places]]:
    exact = tuple(Fraction(each) for each in (chamber.start_mm, *(floor.end_mm for floor in chamber.floors)))
    walled = ground.needs_wall((exact[0], exact[-1]))
    moved = (
        _later(exact[0], marks) if walled[0] else exact[0],
        *(
            (_earlier if front.floor_mm < rear.floor_mm else _later)(step, marks)
            for step, (front, rear) in zip(exact[1:-1], pairwise(chamber.floors), strict=True)
        ),
        _earlier(exact[-1], marks) if walled[1] else exact[-1],
    )
    for places in (moved, exact):
        if any(end <= start for start, end in pairwise(places)):  # on the marks, walls or steps would pass each other
            continue
        try:
            yield places, _raised(chamber, ground, marks, places, walled)
        except DoesNotFit:  # no mark is low enough under the roof there
            continue


def _raised(chamber: SteppedChamber, ground: Ground, marks: Marks, places: Places, walled: tuple[bool, bool]) -> Places:
    """Return the floors, each as high as the mark asks under the roof that its height is measured from."""
    wall, last = Fraction(ground.wall_mm), len(chamber.floors) - 1
    found = []
    for at, floor in enumerate(chamber.floors):
        start, end = places[at], places[at + 1]
        at_rear = at == last and walled[1] and not (at == 0 and walled[0])
        roof = roof_over(ground, *((end - wall, end) if at_rear else (start, start + wall)))
        found.append(roof - marks.down(roof - Fraction(floor.floor_mm), "The bulkhead").cut_mm)
    return tuple(found)


def _stands(ground: Ground, places: Places, levels: Places) -> bool:
    """Say whether each floor keeps off what lies under it, and is as long and as far off the next as it must."""
    stretches = list(pairwise(places))
    if len(levels) > 1 and any(end - start < ground.shortest_mm for start, end in stretches):
        return False
    for (start, end), level in zip(stretches, levels, strict=True):
        if any(not bay.floor_mm <= level < bay.zone.roof_mm for bay in over(ground, start, end)):
            return False
    for step, (front, rear) in zip(places[1:-1], pairwise(levels), strict=True):
        ends = (step - ground.wall_mm, step) if front < rear else (step, step + ground.wall_mm)
        if front == rear or abs(front - rear) < ground.least_riser_mm or roof_over(ground, *ends) <= max(front, rear):
            return False
    return True


def exactly(thing: Any) -> Any:
    """Return a frozen record with its numbers as exact fractions, and those of the records in it.

    Parameters
    ----------
    thing : dataclass, tuple or number
        What is to be exact. [-]

    Returns
    -------
    same kind
        The same. [-]

    References
    ----------
    None needed.
    """
    if isinstance(thing, (int, float)) and not isinstance(thing, bool):
        return Fraction(thing)
    if isinstance(thing, tuple):
        return tuple(exactly(each) for each in thing)
    if hasattr(thing, "__dataclass_fields__"):
        counts = ("steps", "seat_on")  # numbers of things, and no lengths
        changed: dict[str, Any] = {
            each.name: exactly(getattr(thing, each.name))
            for each in fields(thing)
            if each.init and each.name not in counts and not each.name.startswith("_")
        }
        return replace(thing, **changed)
    return thing


def _later(place: Fraction, marks: Marks) -> Fraction:
    """Return the first place at or behind one that lies on a mark, counted from the fore-aft mark; else the place."""
    if place >= 0:
        return marks.rule.smallest_at_mark(place, marks.finest, marks.datum)
    nearer = marks.rule.largest_at_mark(-place, marks.finest, marks.datum)
    return -nearer if nearer > 0 else place


def _earlier(place: Fraction, marks: Marks) -> Fraction:
    return -_later(-place, marks)

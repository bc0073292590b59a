"""Where a strand passes a wall on its way: through the hole that is drilled for it there."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from typing import TYPE_CHECKING

from modelmath.job.bench.lights import Spot

if TYPE_CHECKING:
    from modelmath.job.plan import Plan


@dataclass(frozen=True)
class Passage:
    """A hole in a wall, where the plan has it.

    Attributes
    ----------
    wall : str
        The wall's name on the sheets. [-]
    hole : str
        The hole's name on the sheets. [-]
    at : Spot
        Its middle. [mm]
    """

    wall: str
    hole: str
    at: Spot


def passages_of(plan: Plan) -> dict[str, Passage]:
    """Return every hole that a strand or wire passes, by its name.

    Parameters
    ----------
    plan : Plan
        The plan. [-]

    Returns
    -------
    dict of str to Passage
        Empty while there are none, or they find no room. [mm]

    References
    ----------
    The plan's own places: a hole lies right of the wall's centre line and above its lower edge.
    """
    walls = {part.name: part for part in plan.parts if part.kind == "wall"}
    found: dict[str, Passage] = {}
    for of_wall in plan.hole_places:
        wall = walls.get(of_wall.wall)
        if wall is None or of_wall.layout is None or wall.position_mm is None or not wall.blocks:
            continue
        block = wall.blocks[0]
        middle = (Fraction(block.start_mm) + Fraction(block.end_mm)) / 2
        lower = min(Fraction(each.bottom_mm) for each in wall.blocks)
        for hole in of_wall.layout.holes:
            at = Spot(middle, Fraction(hole.x_mm), lower + Fraction(hole.y_mm))
            found[hole.name] = Passage(of_wall.wall, hole.name, at)
    return found


def hole_name(lamp: str, number: int, count: int) -> str:
    """Return how the hole of a lamp's strand is called.

    Parameters
    ----------
    lamp : str
        The lamp. [-]
    number, count : int
        Which of its strands, from 1, and how many there are. [-]

    Returns
    -------
    str
        As a wall's layout calls it. [-]

    References
    ----------
    None needed.

    Examples
    --------
    >>> hole_name("headlight", 2, 2), hole_name("headlight", 1, 1)
    ('headlight 2', 'headlight')
    """
    return lamp if count == 1 else f"{lamp} {number}"


def with_passage(spots: list[Spot], passage: Passage | None) -> tuple[list[Spot], bool]:
    """Put the hole that a strand passes between the two of its places that lie on either side of the wall.

    Parameters
    ----------
    spots : list of Spot
        From the lamp to the lens. [mm]
    passage : Passage or None
        Its hole. [mm]

    Returns
    -------
    tuple of list of Spot and bool
        The places with the hole among them; whether its way crosses the wall at all. [mm]

    References
    ----------
    None needed.
    """
    if passage is None:
        return spots, False
    for place in _crossings(spots, passage.at.along_mm):
        return [*spots[:place], passage.at, *spots[place:]], True
    return spots, False


def _crossings(spots: list[Spot], along: Fraction) -> Iterator[int]:
    """Yield the places in the list before which a way crosses a wall."""
    for place in range(1, len(spots)):
        low, high = sorted((spots[place - 1].along_mm, spots[place].along_mm))
        if low < along < high:
            yield place

"""What the plan decided inside the chamber: lids and notches over what stands up through it, and the speaker's back."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import TYPE_CHECKING

from modelmath.job.virtual_bench.decided import CLOSURE, SPEAKER, Hanging, hangings_of, support_hangings, zones_over

if TYPE_CHECKING:
    from modelmath.enclosure import Chamber
    from modelmath.job.plan import Plan

BACK = "the speaker's back"


@dataclass(frozen=True)
class Raised:
    """Something over what stands up through the floor, at a height above a wall's or the floor's lower edge.

    Attributes
    ----------
    name : str
        What it is, such as ``the lid of its box``. [-]
    over : str
        What stands below it. [-]
    size_mm : float
        What is marked out: the side that carries the lid, or the notch. [mm]
    stop : str
        What is cut, so that equal ones come out alike. [-]
    hanging : Hanging
        The wall, or the floor, from whose lower edge it counts. [mm]
    """

    name: str
    over: str
    size_mm: float
    stop: str
    hanging: Hanging


@dataclass(frozen=True)
class Backed:
    """The speaker's back, and what carries the speaker.

    Attributes
    ----------
    hanging : Hanging
        The supports; of one that faces up the bulkhead, from which the floor plate hangs. [mm]
    carried_mm : float
        How far the speaker's face, or the floor plate's upper face, lies below that part's lower edge. [mm]
    behind_mm : float
        From its face to the last of its terminals. [mm]
    under : tuple of str
        Zones under whose roof the speaker is. [-]
    faces : str
        Which way it sounds. [-]
    """

    hanging: Hanging
    carried_mm: float
    behind_mm: float
    under: tuple[str, ...]
    faces: str


def raised_of(plan: Plan) -> tuple[Raised, ...]:
    """Return the lids of the boxes, and the notches in the walls.

    Parameters
    ----------
    plan : Plan
        The plan. [-]

    Returns
    -------
    tuple of Raised
        Their sizes as decided. [mm]

    References
    ----------
    None needed.
    """
    return () if plan.chamber is None else tuple(_raised(plan, plan.chamber))


def _raised(plan: Plan, chamber: Chamber) -> Iterator[Raised]:
    hangings = hangings_of(plan)
    closure = next((each for each in hangings if each.name == CLOSURE), hangings[0])
    walls = [part for part in plan.parts if part.kind == "wall"]
    for obstacle in chamber.boxed:
        box = f"{obstacle.name} box"
        lids = [part for part in plan.parts if part.kind == "box" and part.name.startswith(f"{box}, lid")]
        for part in lids[:1]:  # over one obstacle all lie level, on sides of one height
            high = min(float(block.bottom_mm) for block in part.blocks) - float(chamber.floor_mm)
            yield Raised("the lid of its box", obstacle.name, high, f"sides of the {box}", hangings[0])
        for part, hanging in zip(walls, (hangings[0], closure), strict=False):
            for opening in part.openings:
                if opening.words == obstacle.words and not opening.from_edge_mm:
                    notch = f"the notch in the {part.name}"
                    yield Raised(notch, obstacle.name, float(opening.long_mm), f"{notch}, {obstacle.name}", hanging)


def backed_of(plan: Plan) -> tuple[Backed, ...]:
    """Return how the speaker's back stands to the roof, or to the floor plate of one that faces up.

    Parameters
    ----------
    plan : Plan
        The plan. [-]

    Returns
    -------
    tuple of Backed
        One for each of its pairs of supports; none of one that faces an end, or that does not fit. [mm]

    References
    ----------
    None needed.
    """
    chamber, speaker = plan.chamber, plan.bench.speaker
    if speaker is None:
        return ()
    if chamber is None:
        return tuple(
            Backed(each, float(speaker.flange_mm), float(speaker.behind_mm), each.under, "down")
            for each in hangings_of(plan)
            if each.name == SPEAKER and speaker.faces == "down"
        )
    if chamber.seat_mm is None:
        return ()
    seat = (float(chamber.seat_mm[0]), float(chamber.seat_mm[1]))
    under, behind = zones_over(chamber, seat), float(speaker.behind_mm)
    if speaker.faces == "down":
        flange = float(speaker.flange_mm)
        return tuple(Backed(each, flange, behind, under, "down") for each in support_hangings(plan, chamber))
    if speaker.faces == "up":
        plate = float(plan.limits.wall_mm)
        return (Backed(hangings_of(plan)[0], -plate, behind, under, "up"),)
    return ()

"""The largest chamber whose floor has up to so many steps, exactly.

The ends and steps of the largest one stand at places of a finite set (`places`), its floors lie at heights of a finite
set (`Ground.levels`); `search` finds the best of all that these make, and the chamber it finds is worked out again in
exact arithmetic (`built`). The search is in whole numbers. Where 64 bits don't hold them, a rounded search first leaves
out what can't be the largest (`near`); only where too much is left, because of a great many ties, does the rounded
search choose between chambers that differ by less than one part in 10^9.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import fields, replace
from fractions import Fraction
from itertools import pairwise
from math import inf
from typing import Any

from modelmath.enclosure.bodies import Speaker
from modelmath.enclosure.cavity import Cavity
from modelmath.enclosure.fitting.whole import Whole
from modelmath.enclosure.limits import Limits
from modelmath.enclosure.stepped.asked import check_asked
from modelmath.enclosure.stepped.built import chamber_of
from modelmath.enclosure.stepped.chamber import LeftOut, SteppedChamber
from modelmath.enclosure.stepped.ground import Ground, Stretch, ground_in, joined
from modelmath.enclosure.stepped.misses import miss_in, too_low
from modelmath.enclosure.stepped.near import best_paths
from modelmath.enclosure.stepped.places import step_places
from modelmath.lengths.numbers import Number

LEAST_RISER_MM = Fraction(1, 2)  # the finest mark of a common steel rule: nothing lower is marked with it; and two
# thicknesses of the thinnest sheet that is commonly sold. Common practice, no source.


def fit_stepped(
    cavity: Cavity,
    limits: Limits,
    speaker: Speaker | None = None,
    most_steps: int = 2,
    shortest_mm: Number | None = None,
    space: Stretch | None = None,
    least_riser_mm: Number = LEAST_RISER_MM,
) -> tuple[SteppedChamber, ...]:
    """Find the largest chamber with a floor in one, two, ... level stretches, by volume.

    The floor is piecewise level. Each level lies no lower than any bay under it lets it, and the roof stands above it,
    and above the riser at each step. A riser is as thick as a wall and stands on the side of the lower floor. The
    speaker sits on one level, a wall's thickness off each step. Obstacles count across the full width.

    Parameters
    ----------
    cavity : Cavity
        The shell's zones over the chassis, and what stands or moves there. [mm]
    limits : Limits
        Clearances, thickness of walls and risers, room at the ends. [mm]
    speaker : Speaker or None
        Sits in the chamber, facing down. [mm]
    most_steps : int
        How many steps the floor may have, 0 or more. [-]
    shortest_mm : Fraction, float or None
        Least length of each level where there are two or more, between the outer faces of end walls and the edges of
        steps; no less than two walls, and None for just that. [mm]
    space : tuple of two, or None
        Front and rear end of the space that the chamber has to stay in; None for all there is. [mm]
    least_riser_mm : Fraction or float
        Least height between neighbouring levels: what can be marked and cut. Half a millimetre where none is given, the
        finest mark of a common steel rule; the finest mark of your own is better. 0 for any height. [mm]

    Returns
    -------
    tuple of SteppedChamber
        The largest with the fewest steps that can be, then each that holds more than all with fewer steps: the last is
        the largest of all. Each names what was left out beside it, because a riser is too low. [mm]

    Raises
    ------
    DoesNotFit
        If no chamber holds the speaker; says by how much the nearest place misses and why.
    OutOfRange
        If the speaker faces another way, a count or length is too small, or the floor is to be cut round something.
    WrongKind
        If a number is of another kind.

    References
    ----------
    Bellman's principle of optimality; the arguments that places and levels are complete stand at the head of `places`
    and in `Ground.levels`.

    Examples
    --------
    >>> from modelmath.enclosure import Zone
    >>> cavity = Cavity((Zone("cab", 0, 20, 5, 15, 10), Zone("motor", 20, 60, 9, 15, 10)))
    >>> [(each.steps, each.volume_mm3) for each in fit_stepped(cavity, Limits(clearance_mm=1))]  # 40 mm2 x 19 mm more
    [(0, 3000), (1, 3760)]
    """
    check_asked(cavity, limits, speaker, most_steps, (shortest_mm, least_riser_mm), space)
    if limits.wire_path_mm:
        cavity = cavity.narrowed(limits.wire_path_mm + limits.wall_mm)
    whole = Whole(cavity, limits, speaker, None)
    ground = _whole_ground(whole, shortest_mm, space, least_riser_mm)
    found = [] if ground is None else _largest(ground, most_steps, whole)
    if not found:
        least = 2 * limits.wall_mm if shortest_mm is None else shortest_mm
        raise miss_in(ground_in(cavity, limits, speaker, least, space), limits, speaker)
    return tuple(_in_mm(each, whole) for each in found)


def _whole_ground(whole: Whole, shortest: Number | None, space: Stretch | None, riser: Number) -> Ground | None:
    least = 2 * whole.limits.wall_mm if shortest is None else Fraction(shortest) * whole.per_mm
    ends = None if space is None else (Fraction(space[0]) * whole.per_mm, Fraction(space[1]) * whole.per_mm)
    return ground_in(whole.cavity, whole.limits, whole.speaker, least, ends, Fraction(riser) * whole.per_mm)


def _largest(ground: Ground, most_steps: int, whole: Whole) -> list[SteppedChamber]:
    """Return the largest flat-floored chamber, and each with steps that holds more than all with fewer."""
    flat, places = _flat(ground), step_places(ground, most_steps) if most_steps else ()
    free = _rising(flat, replace(ground, least_riser_mm=0), places, ground.levels, most_steps)
    if all(_lowest(each) >= ground.least_riser_mm for each in free if each.risers):
        return free  # what is the largest of all is the largest of those whose risers can be cut
    kept = _rising(flat, ground, places, ground.raised_levels(most_steps), most_steps)
    if not kept:
        raise too_low(whole.back(_lowest(free[0])), whole.back(ground.least_riser_mm), ground.speaker)
    counts = [0, *(each.steps for each in kept[1:]), inf]
    return [
        replace(each, left_out=_left_out(each, stretch, free, ground))
        for each, stretch in zip(kept, pairwise(counts), strict=True)
    ]


def _rising(
    flat: SteppedChamber | None, ground: Ground, places: Sequence[Number], levels: Sequence[Number], most_steps: int
) -> list[SteppedChamber]:
    found = [] if flat is None else [flat]
    if most_steps == 0 or len(levels) < 2:
        return found
    for path in best_paths(ground, places, levels, most_steps):
        chamber = chamber_of(ground, *path)
        assert chamber is not None
        if not found or chamber.volume_mm3 > found[-1].volume_mm3:
            found.append(chamber)
    return found


def _lowest(chamber: SteppedChamber) -> Number:
    return min(riser.height_mm for riser in chamber.risers)


def _left_out(
    kept: SteppedChamber, counts: tuple[float, float], free: Sequence[SteppedChamber], ground: Ground
) -> tuple[LeftOut, ...]:
    """Return the larger ones with too low a riser, that have as many steps or more, but fewer than the next kept."""
    return tuple(
        LeftOut(each.steps, each.volume_mm3, _lowest(each), ground.least_riser_mm)
        for each in free
        if counts[0] <= each.steps < counts[1] and each.volume_mm3 > kept.volume_mm3
    )


def _flat(ground: Ground) -> SteppedChamber | None:
    """Return the largest with a flat floor: for each level, the longest stretches that can have it."""
    wall, found = ground.wall_mm, []
    for level in ground.levels:
        for ends in joined(ground.bays, [bay.floor_mm <= level < bay.zone.roof_mm for bay in ground.bays]):
            front, rear = ground.needs_wall(ends)
            volume = ground.volume_mm3(ends[0] + wall * front, ends[1] - wall * rear, level)
            found.append((-volume, ends[0], level, ends))
    chambers = (chamber_of(ground, ends, (level,)) for _, _, level, ends in sorted(found))
    return next((chamber for chamber in chambers if chamber is not None), None)


def _in_mm(mine: SteppedChamber, whole: Whole) -> SteppedChamber:
    changed: dict[str, Any] = {
        field.name: tuple(whole.lengths(each) for each in getattr(mine, field.name))
        for field in fields(mine)
        if field.name in ("floors", "risers", "plates")
    }
    for name in ("start_mm", "end_mm", "inner_start_mm", "inner_end_mm"):
        changed[name] = whole.back(getattr(mine, name))
    seat, volume = whole.stretch(mine.seat_mm), whole.back(mine.volume_mm3, 3)
    left_out = tuple(
        LeftOut(each.steps, whole.back(each.volume_mm3, 3), whole.back(each.riser_mm), whole.back(each.least_mm))
        for each in mine.left_out
    )
    return replace(mine, **changed, volume_mm3=volume, seat_mm=seat, left_out=left_out)

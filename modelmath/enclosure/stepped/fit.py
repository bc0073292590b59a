"""The largest chamber whose floor has up to so many steps, exactly.

The ends and steps of the largest one stand at places of a finite set (`places`), its floors lie at heights of a finite
set (`Ground.levels`); `search` finds the best of all that these make, and the chamber it finds is worked out again in
exact arithmetic (`built`). The search is in whole numbers. Where 64 bits don't hold them, a rounded search first leaves
out what can't be the largest (`near`); only where too much is left, because of a great many ties, does the rounded
search choose between chambers that differ by less than one part in 10^9.
"""

from __future__ import annotations

from dataclasses import fields, replace
from fractions import Fraction
from typing import Any

from modelmath.enclosure.bodies import Speaker
from modelmath.enclosure.cavity import Cavity
from modelmath.enclosure.fitting.whole import Whole
from modelmath.enclosure.limits import Limits
from modelmath.enclosure.stepped.built import chamber_of
from modelmath.enclosure.stepped.chamber import SteppedChamber
from modelmath.enclosure.stepped.ground import Ground, Stretch, ground_in, joined
from modelmath.enclosure.stepped.misses import miss_in
from modelmath.enclosure.stepped.near import best_paths
from modelmath.enclosure.stepped.places import step_places
from modelmath.errors import OutOfRange, WrongKind, shown
from modelmath.lengths.numbers import Number, check_number


def fit_stepped(
    cavity: Cavity,
    limits: Limits,
    speaker: Speaker | None = None,
    most_steps: int = 2,
    shortest_mm: Number | None = None,
    space: Stretch | None = None,
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

    Returns
    -------
    tuple of SteppedChamber
        The largest with the fewest steps that can be, then each that holds more than all with fewer steps: the last is
        the largest of all. [mm]

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
    _check(cavity, limits, speaker, most_steps, shortest_mm)
    _check_space(space)
    if limits.wire_path_mm:
        cavity = cavity.narrowed(limits.wire_path_mm + limits.wall_mm)
    whole = Whole(cavity, limits, speaker, None)
    ground = _whole_ground(whole, limits, shortest_mm, space)
    found = [] if ground is None else _largest(ground, most_steps)
    if not found:
        least = 2 * limits.wall_mm if shortest_mm is None else shortest_mm
        raise miss_in(ground_in(cavity, limits, speaker, least, space), limits, speaker)
    return tuple(_in_mm(each, whole) for each in found)


def _whole_ground(whole: Whole, limits: Limits, shortest: Number | None, space: Stretch | None) -> Ground | None:
    least = 2 * whole.limits.wall_mm if shortest is None else Fraction(shortest) * whole.per_mm
    ends = None if space is None else (Fraction(space[0]) * whole.per_mm, Fraction(space[1]) * whole.per_mm)
    return ground_in(whole.cavity, whole.limits, whole.speaker, least, ends)


def _check(cavity: Cavity, limits: Limits, speaker: Speaker | None, most_steps: int, shortest: Number | None) -> None:
    if isinstance(most_steps, bool) or not isinstance(most_steps, int):
        raise WrongKind("most steps", shown(str(most_steps)), "a whole number", "Write how many steps, such as 2.")
    if most_steps < 0:
        raise OutOfRange("most steps", str(most_steps), "0 or more", "Write 0 for a flat floor.")
    if speaker is not None and speaker.faces != "down":
        advice = "Let it face down, or fit it over a flat floor."
        raise OutOfRange(f"{speaker.name}: faces", f"'{speaker.faces}'", "'down' over a floor with steps", advice)
    if limits.cut_round and cavity.obstacles:
        advice = "Let obstacles count across the full width, or fit a flat floor."
        raise OutOfRange("cutting the floor round obstacles", "asked for", "left out over a floor with steps", advice)
    if most_steps and not limits.wall_mm > 0:
        raise OutOfRange("wall", "0 mm", "above 0 where the floor has steps", "Write how thick a riser is.")
    if shortest is not None:
        check_number("the shortest level", shortest)
        if shortest < 2 * limits.wall_mm:
            least = f"{float(2 * limits.wall_mm):g} mm or more, two walls"
            raise OutOfRange("the shortest level", f"{float(shortest):g} mm", least, "Write a longer one.")


def _check_space(space: Stretch | None) -> None:
    if space is None:
        return
    for name, place in zip(("the space: front end", "the space: rear end"), space, strict=True):
        check_number(name, place)
    if not space[1] > space[0]:
        given = f"from {float(space[0]):g} to {float(space[1]):g} mm"
        raise OutOfRange("the space", given, "longer than 0", "Write its front end first.")


def _largest(ground: Ground, most_steps: int) -> list[SteppedChamber]:
    """Return the largest flat-floored chamber, and each with steps that holds more than all with fewer."""
    flat = _flat(ground)
    found = [] if flat is None else [flat]
    levels = ground.levels
    if most_steps == 0 or len(levels) < 2:
        return found
    for path in best_paths(ground, step_places(ground, most_steps), levels, most_steps):
        chamber = chamber_of(ground, *path)
        assert chamber is not None
        if not found or chamber.volume_mm3 > found[-1].volume_mm3:
            found.append(chamber)
    return found


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
    return replace(mine, **changed, volume_mm3=volume, seat_mm=seat)

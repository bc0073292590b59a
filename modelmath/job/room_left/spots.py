"""Every spot at which what hangs in the shell may touch, taken together; and what choosing among spots costs."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from modelmath.enclosure.marked import reference_bay
from modelmath.job.bench.heights import Station
from modelmath.job.room_left.gap import cutting_mm, room_left, seating_mm, varying_terms
from modelmath.job.room_left.hanging import Hanging, hanging
from modelmath.job.room_left.nearest import nearest_below
from modelmath.job.room_left.sizes import chance_in_words
from modelmath.lengths.text import format_length
from modelmath.lengths.uncertain import rectangular

if TYPE_CHECKING:
    from modelmath.clearance.choice import AfterChoice, AnyTouches
    from modelmath.enclosure import Chamber
    from modelmath.job.plan import Plan

TRIALS = 100_000
SEED = 1
SAME = 0.1  # a choice that changes the chance by less than this share is as good as none


@dataclass(frozen=True)
class Spot:
    """A spot below the bulkhead or the chamber's floor.

    Attributes
    ----------
    name : str
        The zone, and where over it. [-]
    gap : uncertain number
        The room left there, cutting, seating and all else in it. [mm]
    """

    name: str
    gap: Any

    @property
    def left_mm(self) -> float:
        """The room left there. [mm]"""
        return float(self.gap.nominal_value)


def spots_of(plan: Plan) -> tuple[Spot, ...]:
    """Return every spot below what hangs in the shell, the tightest first: bulkhead and floor, closure, speaker.

    A straight part meets the roof where that truly is lowest, which need not be where it reads lowest: each spot at
    which the roof was read counts with each spot below.

    Parameters
    ----------
    plan : Plan
        The plan. [-]

    Returns
    -------
    tuple of Spot
        Their gaps share readings, rule, cutting and seating. [mm]

    References
    ----------
    JCGM 100:2008, 5.2, for what they share.
    """
    found = []
    cuts: dict[str, Any] = {}
    shared = _shared(plan, cut=False)
    for thing in hanging(plan):
        if thing.stop not in cuts:
            cuts[thing.stop] = rectangular(0.0, float(cutting_mm(plan)), f"{thing.stop} as cut")
        for name, space in _spaces(plan, thing):
            gap = room_left(plan, space, thing.size_mm) - float(thing.carries_mm) + shared + cuts[thing.stop]
            found.append(Spot(f"{thing.name} over {name}" if thing.name else name, gap))
    return tuple(sorted(found, key=lambda spot: spot.left_mm))


def _spaces(plan: Plan, thing: Hanging) -> Iterator[tuple[str, Any]]:
    """Yield the space from each spot of the roof it hangs from down to each spot below it."""
    roofs: dict[str, Station] = {}
    for depth in thing.under:
        for station in depth.stations:
            if station.roof is not None:
                roofs.setdefault(station.underside, station)
    first = next(iter(roofs), "")
    for depth in thing.below:
        seen: set[tuple[str, int]] = set()
        name = depth.moving or depth.zone.name
        for station in depth.stations:
            where = f"{name}, {station.name}" if len(depth.stations) > 1 else name
            if station.top is None or not roofs:
                yield where, station.free.value
                continue
            for underside, roof in roofs.items():
                if (underside, id(station.top)) in seen:
                    continue
                seen.add((underside, id(station.top)))
                assert roof.roof is not None
                # Over what stands or moves the governing roof needs no name, over a zone that of the same spot.
                own = station.underside or first
                other = underside != own and len(roofs) > 1
                yield f"{where}, under {roof.name}" if other else where, roof.roof.value - station.top.value


def governing_room(plan: Plan) -> Any:
    """Return the room left over what governs, cutting, seating and all else in it.

    Parameters
    ----------
    plan : Plan
        The plan. [-]

    Returns
    -------
    uncertain number
        With the sources of `Gap.stack`. [mm]

    References
    ----------
    JCGM 100:2008, 5.2, for what readings and part share.
    """
    return room_left(plan, plan.space.value, plan.chamber_height_mm) + _shared(plan)


def _shared(plan: Plan, cut: bool = True) -> Any:
    """Return what all gaps vary by alike, less the room that is taken; how the bulkhead is cut is in it or not."""
    total: Any = rectangular(0.0, float(cutting_mm(plan)), "bulkhead as cut") if cut else 0.0
    total += rectangular(0.0, float(seating_mm(plan)), "how repeatably the shell seats")
    for term in varying_terms(plan, plan.chamber_height_mm):
        total += term.nominal_mm + rectangular(0.0, term.tolerance_mm, term.name)
    return total


def anywhere(plan: Plan) -> AnyTouches:
    """Return the chance that bulkhead, closure, floor or speaker touch at any spot.

    Parameters
    ----------
    plan : Plan
        The plan. [-]

    Returns
    -------
    AnyTouches
        By simulation, since the smallest of several gaps is no sum; seeded. [-]

    References
    ----------
    JCGM 101:2008.
    """
    from modelmath.clearance.choice import chance_of_any

    return chance_of_any([spot.gap for spot in spots_of(plan)], TRIALS, SEED)


@dataclass(frozen=True)
class Choice:
    """What it costs that the chamber was chosen among several by their readings.

    Attributes
    ----------
    spots : tuple of str
        What set the floor of each chamber compared, the chosen one first. [-]
    found : AfterChoice
        The chance of touching without and with regard to the choice. [-]
    """

    spots: tuple[str, ...]
    found: AfterChoice

    @property
    def matters(self) -> bool:
        """Whether the choice makes touching noticeably more likely."""
        before, after = self.found.without_choice, self.found.with_choice
        if self.found.shares[self.found.chosen] == 1.0:
            return False  # no draw chose another: what is left is the noise of the draws
        flatters = self.found.flattery_mm > 2 * self.found.flattery_error_mm
        return flatters and after.chance - before > max(SAME * before, 2 * after.standard_error)

    @property
    def in_words(self) -> str:
        """What the plan did about the choice, in a sentence or two."""
        count = len(self.spots)
        chosen = f"The spot over {self.spots[0]} was chosen as the best of {count} by its readings"
        if not self.matters:
            return f"{chosen}; that is counted, and makes no difference here."
        flatter = format_length(self.found.flattery_mm, "mm")
        return (
            f"{chosen}, and the best of several reads too good by {flatter} on average. That is counted: the chance of "
            f"touching there is {chance_in_words(self.found.with_choice.chance)}, not "
            f"{chance_in_words(self.found.without_choice)}. Read that spot again and enter the new reading alone to "
            "undo it."
        )


def choice_of(plan: Plan) -> Choice | None:
    """Work out what it costs to have chosen the largest chamber by readings that may err.

    Parameters
    ----------
    plan : Plan
        The plan. [-]

    Returns
    -------
    Choice or None
        None where there was nothing to choose among. [-]

    References
    ----------
    `chance_after_choice`.
    """
    from modelmath.clearance.choice import chance_after_choice

    best = _best_of_each(plan)
    if len(best) < 2:
        return None
    shared = _shared(plan)
    scores, gaps = [], []
    for name, chamber in best.items():
        space = _space_over(plan, chamber, name)
        scores.append(float(chamber.volume_mm3) + _floor_mm2(chamber) * (space - space.nominal_value))
        # Each would be cut to leave what the plan leaves.
        room = room_left(plan, space, plan.chamber_height_mm) + shared
        gaps.append(float(plan.gap.left_mm) + room - room.nominal_value)
    return Choice(tuple(best), chance_after_choice(scores, gaps, trials=TRIALS, seed=SEED))


def _best_of_each(plan: Plan) -> dict[str, Chamber]:
    """Return the largest chamber over each zone, or what stands or moves, that sets a floor, the plan's own first."""
    found: dict[str, Chamber] = {}
    if plan.enclosure is None or plan.chamber is None:
        return found
    found[nearest_below(plan.chamber).cause.name] = plan.chamber.cut_from or plan.chamber
    for chamber in plan.enclosure.candidates:
        found.setdefault(nearest_below(chamber).cause.name, chamber)
    return found


def _space_over(plan: Plan, chamber: Chamber, name: str) -> Any:
    """Return the space from the roof a chamber hangs under down to what sets its floor: a zone, or what is there."""
    hung = next(depth for depth in plan.depths if depth.zone.name == reference_bay(chamber).zone.name)
    fixed = next((depth for depth in plan.depths if depth.zone.name == name), None)
    if fixed is not None and (hung is fixed or hung.roof is None or fixed.top is None):
        return fixed.free.value
    assert hung.roof is not None  # places along the length need both heights, and so does what moves
    if fixed is not None:
        assert fixed.top is not None
        return hung.roof.value - fixed.top.value
    moving = next(each for each in plan.bench.moving if each.entry.name == name)
    return hung.roof.value - moving.top.value


def _floor_mm2(chamber: Chamber) -> float:
    """Return the area of a chamber's floor: what its volume gains for each mm of depth. [mm2]"""
    area = 0.0
    for bay in chamber.bays:
        length = min(bay.end_mm, chamber.inner_end_mm) - max(bay.start_mm, chamber.inner_start_mm)
        area += float(max(length, 0) * bay.zone.width_mm)
    return area

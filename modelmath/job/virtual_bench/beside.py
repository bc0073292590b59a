"""Along the length: the faces the plan decided on, and where what stands beside them truly ends."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING

from modelmath.job.virtual_bench.chance import Exactly
from modelmath.job.virtual_bench.rules import ReadOff, read_off

if TYPE_CHECKING:
    from modelmath.enclosure import Chamber
    from modelmath.job.bench.moving import Moving
    from modelmath.job.document import Job
    from modelmath.job.plan import Plan
    from modelmath.job.virtual_bench.below import Model
    from modelmath.job.virtual_bench.chance import Array

NEAR_MM = 0.01  # places of the plan that differ by less are one place
MOVES = ("flywheel", "truck", "gear tower")  # kinds of boxes that are on the chassis wherever they were read


@dataclass(frozen=True)
class Upright:
    """A face that stands across the shell.

    Attributes
    ----------
    name : str
        What it is, such as ``the bulkhead``. [-]
    stop : str
        What is placed as one, so that its faces err alike. [-]
    face_mm : float
        Where it is marked out, from the fore-aft mark, positive to the rear. [mm]
    front : bool
        Whether what it may touch lies ahead of it; else behind. [-]
    beside : tuple of str
        Zones, and what stands or moves, that it may touch. [-]
    further_mm : float
        How much further to the rear it lies than the place marked out: a wall's thickness, either way. [mm]
    """

    name: str
    stop: str
    face_mm: float
    front: bool
    beside: tuple[str, ...]
    further_mm: float = 0.0


def half_of(job: Job, name: str) -> str:
    """Return the half that a reading along the length was taken on.

    Parameters
    ----------
    job : Job
        The document. [-]
    name : str
        The reading. [-]

    Returns
    -------
    {"shell", "chassis"}
        The half; the chassis where nothing is said. [-]

    References
    ----------
    None needed.
    """
    return next(each for each in job.readings if each.name == name).on or "chassis"


def on_chassis(job: Job, name: str) -> bool:
    """Return whether the shell shifts along something: a step of the chassis, what moves, what was read on it.

    Parameters
    ----------
    job : Job
        The document. [-]
    name : str
        The zone, or what stands or moves. [-]

    Returns
    -------
    bool
        False for what stands in the shell itself. [-]

    References
    ----------
    None needed.
    """
    entry = next((each for each in job.obstacles if each.name == name), None)
    if entry is None or entry.kind in MOVES:
        return True
    return "chassis" in (half_of(job, entry.start), half_of(job, entry.end))


def uprights_of(plan: Plan) -> tuple[Upright, ...]:
    """Return the walls' outer faces, and the inner faces of the ends of boxes round what is on the chassis.

    Parameters
    ----------
    plan : Plan
        The plan. [-]

    Returns
    -------
    tuple of Upright
        Their places as decided. [mm]

    References
    ----------
    None needed.
    """
    if plan.chamber is None:
        return ()
    return (*_walls(plan, plan.chamber), *_box_ends(plan, plan.chamber))


def _walls(plan: Plan, chamber: Chamber) -> Iterator[Upright]:
    front, rear = _wall_names(plan, chamber)
    if front:
        face = float(chamber.start_mm)
        yield Upright(front, front, face, True, tuple(_beside(plan, chamber, face, True)))
    if rear:
        face = float(chamber.end_mm)
        yield Upright(rear, rear, face, False, tuple(_beside(plan, chamber, face, False)))


def _wall_names(plan: Plan, chamber: Chamber) -> tuple[str, str]:
    """Return what the walls are called; empty for an end that the shell itself closes."""
    names = [f"the {part.name}" for part in plan.parts if part.kind == "wall"]
    return names[0] if chamber.front_wall else "", names[-1] if chamber.rear_wall else ""


def _beside(plan: Plan, chamber: Chamber, face_mm: float, front: bool) -> Iterator[str]:
    """Yield what reaches higher than the floor and lies wholly ahead of a face, or behind it."""
    ends = plan.bench.ends
    assert ends is not None  # there is no chamber without
    for place, depth in enumerate(plan.depths):
        edge = float(ends.edges[place + front].exact_mm)
        if depth.top is not None and depth.top.exact_mm >= chamber.floor_mm and _clear(edge, face_mm, front):
            yield depth.zone.name
    for each in plan.bench.moving:
        edge = float(each.swept.end_mm if front else each.swept.start_mm)
        if each.top.exact_mm >= chamber.floor_mm and _clear(edge, face_mm, front):
            yield each.entry.name


def _clear(edge_mm: float, face_mm: float, front: bool) -> bool:
    return edge_mm <= face_mm + NEAR_MM if front else edge_mm >= face_mm - NEAR_MM


def _box_ends(plan: Plan, chamber: Chamber) -> Iterator[Upright]:
    for box in chamber.boxed:
        if not on_chassis(plan.job, box.name):
            continue  # box and post are both of the shell: the one is fitted to the other, and nothing shifts
        swept = next(each.swept for each in plan.bench.moving if each.entry.name == box.name)
        ends = (float(swept.start_mm), float(swept.end_mm))
        yield from _round(plan, chamber, box.name, ends)


def _round(plan: Plan, chamber: Chamber, name: str, ends: tuple[float, float]) -> Iterator[Upright]:
    """Yield the inner faces round something: of its box's ends, or of a wall on which its box butts."""
    blocks = [
        block
        for part in plan.parts
        if part.kind == "box" and part.name.startswith(f"{name} box, end")
        for block in part.blocks
    ]
    walls = _wall_names(plan, chamber)
    ahead = [float(each.end_mm) for each in blocks if _clear(float(each.end_mm), ends[0], True)]
    behind = [float(each.start_mm) for each in blocks if _clear(float(each.start_mm), ends[1], False)]
    inner = (float(chamber.inner_start_mm), float(chamber.inner_end_mm))
    if ahead:
        yield Upright("the front end of its box", f"{name} box, front end", max(ahead), False, (name,))
    elif walls[0] and _clear(inner[0], ends[0], True):
        outer = float(chamber.start_mm)
        yield Upright(f"{walls[0]}, inside,", walls[0], outer, False, (name,), inner[0] - outer)
    if behind:
        yield Upright("the rear end of its box", f"{name} box, rear end", min(behind), True, (name,))
    elif walls[1] and _clear(inner[1], ends[1], False):
        outer = float(chamber.end_mm)
        yield Upright(f"{walls[1]}, inside,", walls[1], outer, True, (name,), inner[1] - outer)


@dataclass(frozen=True)
class Places:
    """Where zones, and what stands or moves, truly begin and end along the length.

    Attributes
    ----------
    model : Model
        The model as it truly is. [mm]
    """

    model: Model

    def edge(self, name: str, rear: bool) -> Array | None:
        """Return where something truly ends, from the fore-aft mark, the shell in the middle of its end play.

        Parameters
        ----------
        name : str
            The zone, or what stands or moves. [-]
        rear : bool
            Whether its rear end is meant. [-]

        Returns
        -------
        array or None
            In each build; None where the shell itself ends it. [mm]

        References
        ----------
        None needed.
        """
        zones = self.model.plan.job.zones
        at = next((place for place, zone in enumerate(zones) if zone.name == name), None)
        if at is None:
            return self._end_of(next(each for each in self.model.plan.bench.moving if each.entry.name == name), rear)
        place = at if rear else at - 1
        found = zones[place].end if 0 <= place < len(zones) else None
        return None if found is None else self._from_mark(self.model.read, found)

    def _end_of(self, moving: Moving, rear: bool) -> Array:
        """Return an end as read, and as much further as it swings, turns or plays."""
        reading = self._reading(moving.entry, rear)
        reach = float(moving.swept.end_mm if rear else moving.swept.start_mm)
        return self._from_mark(self.model.read, reading) + (reach - float(self._from_mark(self._stated, reading)[0]))

    def _reading(self, entry: object, rear: bool) -> str:
        """Return the reading that an end follows; what moves with a truck follows the truck's."""
        names = ("end", "to", "at") if rear else ("start", "at")
        found = next((name for name in (getattr(entry, each, None) for each in names) if name is not None), None)
        if found is None:
            trucks = [each for each in self.model.plan.job.moving if each.kind == "truck"]
            truck = next((each for each in trucks if each.name == getattr(entry, "on", None)), trucks[0])
            found = truck.at
        assert found is not None  # the plan has refused what has no place
        return found

    def _from_mark(self, read: ReadOff, name: str) -> Array:
        length = self.model.plan.job.length
        assert length is not None
        found = read.length(name)
        mark = length.mark_on_shell if half_of(self.model.plan.job, name) == "shell" else length.mark_on_chassis
        return found if length.mark is None or mark is None else found - read.length(mark)

    @cached_property
    def _stated(self) -> ReadOff:
        return read_off(self.model.plan.job, Exactly(1, 0))

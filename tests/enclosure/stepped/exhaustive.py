"""The largest stepped chamber by trying every whole millimetre: all ends, all places of steps, all heights of floors.

It knows nothing of bays, of places that matter, or of floors that do: it looks at the shell millimetre by millimetre.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from itertools import combinations, pairwise
from typing import Any

import numpy as np
from shapely.geometry import Polygon, box

from modelmath.enclosure import Cavity, Limits, Speaker, Zone

NONE = -1e9
NEAR = 1e-7  # what sums of a few hundred floats may be off by


def outline(zone: Zone) -> Polygon:
    """A zone's section as a polygon, far down."""
    if zone.profile is None:
        half = zone.width_mm / 2
        points = [(float(half), -100.0), (float(half), float(zone.roof_mm))]
    else:
        first = zone.profile.points[0]
        points = [(float(first[1]), -100.0), *((float(half), float(height)) for height, half in zone.profile.points)]
    return Polygon([*points, *((-half, height) for half, height in reversed(points))])


def area_over(zone: Zone, level: float) -> float:
    return outline(zone).intersection(box(-1000, level, 1000, 1000)).area if level < zone.roof_mm else 0.0


def width_between(zone: Zone, low: int, high: int) -> float:
    """The least width between two whole heights, where the outline turns at whole heights only."""
    if high > zone.roof_mm:
        return 0.0
    if zone.profile is None:
        return float(zone.width_mm)
    heights, halves = ([float(point[at]) for point in zone.profile.points] for at in (0, 1))
    sides = [height + near for height in range(low, high) for near in (NEAR, 1 - NEAR)]
    return 2 * min(np.interp(sides, heights, halves))


@dataclass(frozen=True)
class Case:
    """Whole millimetres throughout."""

    cavity: Cavity
    limits: Limits
    speaker: Speaker | None
    steps: int
    shortest: int
    space: tuple[int, int] | None = None


@dataclass(frozen=True)
class Exhaustive:
    case: Case

    @cached_property
    def zones(self) -> list[Zone]:
        """The zone over each millimetre."""
        return [zone for zone in self.case.cavity.zones for _ in range(int(zone.end_mm - zone.start_mm))]

    @cached_property
    def lowest(self) -> list[int]:
        """How low a part may reach over each millimetre."""
        cavity, limits, zones = self.case.cavity, self.case.limits, self.zones
        reach, found = limits.end_clearance_mm, []
        for here in range(len(zones)):
            tops = [
                zone.top_mm + limits.clearance_mm
                for at, zone in enumerate(zones)
                if at < here + 1 + reach and here - reach < at + 1
            ]
            place = cavity.start_mm + here
            tops += [each.top_mm for each in cavity.obstacles if each.start_mm < place + 1 and place < each.end_mm]
            found.append(max(tops))
        return found

    @cached_property
    def ends(self) -> tuple[int, int]:
        """First and last millimetre edge that a chamber may reach."""
        case, front = self.case, self.case.cavity.start_mm
        start, end = case.limits.front_room_mm, len(self.zones) - case.limits.rear_room_mm
        if case.space is not None:
            start, end = max(start, case.space[0] - front), min(end, case.space[1] - front)
        return start, end

    @cached_property
    def levels(self) -> list[int]:
        return list(range(int(min(self.lowest)), int(max(zone.roof_mm for zone in self.zones))))

    @cached_property
    def areas(self) -> Any:
        """Of each millimetre above each level."""
        known = {(id(zone), level): area_over(zone, level) for zone in self.zones for level in self.levels}
        return np.array([[known[id(zone), level] for zone in self.zones] for level in self.levels])

    @cached_property
    def free(self) -> Any:
        return np.array([
            [low <= level < zone.roof_mm for low, zone in zip(self.lowest, self.zones, strict=True)]
            for level in self.levels
        ])  # fmt: skip

    @cached_property
    def roofed(self) -> Any:
        return np.array([[level < zone.roof_mm for zone in self.zones] for level in self.levels])

    @cached_property
    def sits(self) -> Any:
        """Whether the speaker may sit over each millimetre on each level."""
        speaker, over = self.case.speaker, self.case.limits.over_speaker_mm
        found = np.zeros_like(self.free)
        for row, level in enumerate(self.levels):
            for at, (low, zone) in enumerate(zip(self.lowest, self.zones, strict=True)):
                found[row, at] = (
                    low + speaker.travel_mm <= level
                    and zone.roof_mm - level >= speaker.behind_mm + over
                    and width_between(zone, level, level + speaker.flange_mm) >= speaker.width_mm - 3 * NEAR
                    and width_between(zone, level, level + speaker.behind_mm) >= speaker.basket_mm[1] - 3 * NEAR
                )
        return found

    def volume(self, row: Any, start: int, end: int) -> Any:
        return self.areas[row, start:end].sum(axis=-1) if end > start else 0.0 * self.areas[row, 0]

    def walls(self, start: int, end: int) -> tuple[bool, bool]:
        cavity, thick = self.case.cavity, self.case.limits.wall_mm > 0
        return thick and not (start == 0 and cavity.front_closed), thick and not (
            end == len(self.zones) and cavity.rear_closed
        )

    def stretch(self, start: int, end: int, off: tuple[int, int], seat_off: tuple[int, int]) -> tuple[Any, Any]:
        """For each level what a stretch holds, and whether the speaker finds a seat on it."""
        rows = slice(None)
        holds = np.where(self.free[:, start:end].all(axis=1), self.volume(rows, start + off[0], end - off[1]), NONE)
        if self.case.speaker is None:
            return holds, np.ones(len(self.levels), dtype=bool)
        seats, length = np.zeros(len(self.levels), dtype=bool), self.case.speaker.length_mm
        for seat in range(start + seat_off[0], end - seat_off[1] - length + 1):
            seats |= self.sits[:, seat : seat + length].all(axis=1)
        return holds, seats

    def riser(self, step: int) -> Any:
        """What the riser at a step takes, for each level in front of it and behind it."""
        wall, count = self.case.limits.wall_mm, len(self.levels)
        taken = np.full((count, count), -NONE)
        for front in range(count):
            for rear in range(count):
                low, high = min(front, rear), max(front, rear)
                start, end = (step - wall, step) if front < rear else (step, step + wall)
                if front != rear and start >= 0 and self.roofed[high, start:end].all():
                    taken[front, rear] = self.volume(low, start, end) - self.volume(high, start, end)
        return taken

    def best(self, steps: int) -> float | None:
        """The largest volume with just so many steps, over all places and levels."""
        first, last = self.ends
        shortest = self.case.shortest if steps else 1
        risers = {place: self.riser(place) for place in range(first, last + 1)} if steps else {}
        known: dict[Any, Any] = {}
        best = NONE
        for places in combinations(range(first, last + 1), steps + 2):
            pairs = list(pairwise(places))
            if any(end - start < shortest for start, end in pairs):
                continue
            stretches = [self._stretch_of(known, pair, places) for pair in pairs]
            if any(each is None for each in stretches):
                continue
            inner = self.inner(places)
            if inner[1] <= inner[0]:
                continue
            best = max(best, self._over_levels(stretches, [risers[place] for place in places[1:-1]]))
        return None if best < NONE / 2 else best

    def inner(self, places: tuple[int, ...]) -> tuple[int, int]:
        walls, wall = self.walls(places[0], places[-1]), self.case.limits.wall_mm
        return places[0] + wall * walls[0], places[-1] - wall * walls[1]

    def _stretch_of(self, known: dict[Any, Any], pair: tuple[int, int], places: tuple[int, ...]) -> Any:
        ends = (pair[0] == places[0], pair[1] == places[-1])
        if (pair, ends) not in known:
            wall, post = self.case.limits.wall_mm, self.case.limits.post_mm
            walled = self.walls(*pair)
            off = tuple(wall * (end and thick) for end, thick in zip(ends, walled, strict=True))
            seat = tuple((wall + post) * thick if end else wall for end, thick in zip(ends, walled, strict=True))
            holds, seats = self.stretch(*pair, off, seat)
            known[pair, ends] = (holds, seats) if holds.max() > NONE / 2 else None
        return known[pair, ends]

    def _over_levels(self, stretches: list[Any], risers: list[Any]) -> float:
        """The most over every choice of one level for each stretch."""
        total, seated = stretches[0]
        for (holds, seats), taken in zip(stretches[1:], risers, strict=True):
            total = total[..., None] + holds - taken
            seated = seated[..., None] | seats
        return float(np.where(seated, total, NONE).max())

    def largest(self) -> list[float | None]:
        """The largest volume with no step, with up to one, and so on."""
        if not self.levels:
            return [None] * (self.case.steps + 1)
        found: list[float | None] = []
        for steps in range(self.case.steps + 1):
            new = self.best(steps)
            before = found[-1] if found else None
            found.append(before if new is None or (before is not None and before >= new) else new)
        return found

"""The largest stepped chamber by trying every whole millimetre: all ends, all places of steps, all heights of floors.

It knows nothing of bays, of places that matter, or of floors that do: it looks at the shell millimetre by millimetre.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
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
    riser: int = 1


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

    @cached_property
    def up_to(self) -> Any:
        """The volume above each level from the front to each millimetre edge."""
        return np.pad(np.cumsum(self.areas, axis=1), ((0, 0), (1, 0)))

    def volume(self, start: int, end: int) -> Any:
        """Above each level."""
        return self.up_to[:, end] - self.up_to[:, start] if start < end else np.zeros(len(self.levels))

    def walls(self, start: int, end: int) -> tuple[bool, bool]:
        cavity, thick = self.case.cavity, self.case.limits.wall_mm > 0
        return thick and not (start == 0 and cavity.front_closed), thick and not (
            end == len(self.zones) and cavity.rear_closed
        )

    @cached_property
    def seats(self) -> Any:
        """Whether the speaker may sit with its front edge at each millimetre, on each level."""
        length = self.case.speaker.length_mm
        if length > len(self.zones):
            return np.zeros((len(self.levels), 0), dtype=bool)
        return np.lib.stride_tricks.sliding_window_view(self.sits, length, axis=1).all(axis=2)

    def stretch(self, start: int, end: int, is_first: bool, is_last: bool) -> tuple[Any, Any] | None:
        """For each level what a stretch holds, and whether the speaker finds a seat on it; None where none is free."""
        free = self.free[:, start:end].all(axis=1)
        if not free.any():
            return None
        wall, post = self.case.limits.wall_mm, self.case.limits.post_mm
        walled = self.walls(start, end)
        off = [wall * (is_end and thick) for is_end, thick in zip((is_first, is_last), walled, strict=True)]
        holds = np.where(free, self.volume(start + off[0], end - off[1]), NONE)
        if self.case.speaker is None:
            return holds, np.ones(len(self.levels), dtype=bool)
        kept = [
            (wall + post) * thick if is_end else wall
            for is_end, thick in zip((is_first, is_last), walled, strict=True)
        ]  # fmt: skip
        first, last = start + kept[0], end - kept[1] - self.case.speaker.length_mm
        return holds, self.seats[:, first : max(last + 1, first)].any(axis=1)

    def riser(self, step: int) -> Any:
        """What the riser at a step takes, for each level in front of it and behind it."""
        wall, rows = self.case.limits.wall_mm, np.array(self.levels)
        front, rear = rows[:, None], rows[None, :]
        taken = np.full((len(rows), len(rows)), -NONE)
        for way, start, end in ((rear - front, step - wall, step), (front - rear, step, step + wall)):
            if start < 0:
                continue
            volume, roofed = self.volume(start, min(end, len(self.zones))), self.roofed[:, start:end].all(axis=1)
            higher = roofed[None, :] if start < step else roofed[:, None]
            taken = np.where((way >= self.case.riser) & higher, abs(volume[:, None] - volume[None, :]), taken)
        return taken

    def best(self, steps: int) -> float | None:
        """The largest volume with just so many steps, over all places and levels."""
        first, last = self.ends
        if steps == 0:
            found = [self._alone(start, end) for start in range(first, last) for end in range(start + 1, last + 1)]
        else:
            found = [self._from(start, steps) for start in range(first, last)]
        best = max(found, default=NONE)
        return None if best < NONE / 2 else best

    def _alone(self, start: int, end: int) -> float:
        inner, stretch = self.inner((start, end)), self.stretch(start, end, True, True)
        if stretch is None or inner[1] <= inner[0]:
            return NONE
        return float(np.where(stretch[1], stretch[0], NONE).max())

    def inner(self, places: tuple[int, ...]) -> tuple[int, int]:
        walls, wall = self.walls(places[0], places[-1]), self.case.limits.wall_mm
        return places[0] + wall * walls[0], places[-1] - wall * walls[1]

    def _from(self, start: int, steps: int) -> float:
        """The largest volume that starts there: over every choice of steps and end, and of one level for each stretch.

        Two walls fit into every stretch, so that there always is some length between the inner faces.
        """
        best, shortest = NONE, self.case.shortest
        for place in range(start + shortest, self.ends[1] - steps * shortest + 1):
            stretch = self.stretch(start, place, True, False)
            if stretch is not None:
                best = max(best, self._behind(*stretch, place, steps))
        return best

    def _behind(self, total: Any, seated: Any, step: int, steps: int) -> float:
        """The most over all that can follow a step: `total` and `seated` for every choice of levels in front of it."""
        if steps == 1:
            ends = self._known[step, True]
            return NONE if ends is None else self._ended(total, seated, *ends)
        best = NONE
        for place, gained, seats in self._known[step, False]:
            if place + (steps - 1) * self.case.shortest <= self.ends[1]:
                after = total[..., None] + gained, seated[..., None] | seats
                best = max(best, self._behind(*after, place, steps - 1))
        return best

    def _ended(self, total: Any, seated: Any, gained: Any, seats: Any) -> float:
        """The most over every last stretch and every choice of levels, all at once."""
        between = (len(gained), *(1,) * (total.ndim - 1))
        totals = total[..., None] + gained.reshape(*between, *gained.shape[1:])
        if self.case.speaker is not None:
            totals = np.where(seated[..., None] | seats.reshape(*between, 1, -1), totals, NONE)
        return float(totals.max())

    @cached_property
    def _known(self) -> dict[tuple[int, bool], Any]:
        """For each step, what each stretch behind it adds, by levels in front of it and on it, and whether it seats.

        Of stretches up to another step a list with the place of that; of the last ones two arrays.
        """
        first, last = self.ends
        known: dict[tuple[int, bool], Any] = {}
        for step in range(first + self.case.shortest, last - self.case.shortest + 1):
            riser = self.riser(step)
            for is_last in (False, True):
                found = [
                    (end, stretch[0] - riser, stretch[1])
                    for end in range(step + self.case.shortest, last + 1)
                    if (stretch := self.stretch(step, end, False, is_last)) is not None
                ]
                known[step, is_last] = found
                if is_last:
                    arrays = (np.array([each[at] for each in found]) for at in (1, 2))
                    known[step, True] = tuple(arrays) if found else None
        return known

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

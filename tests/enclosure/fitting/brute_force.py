"""A search that knows nothing of bays: every pair of ends and every floor, on a grid of whole millimetres.

It sees the shell as cells of 1 mm along and up, half a millimetre across. All sizes are such that the best chamber,
its seat and its pocket have their ends on that grid.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from itertools import pairwise
from typing import Any

import numpy as np
from scipy.ndimage import label

from modelmath.enclosure import Box, Cavity, Enclosure, Limits, Speaker, Zone, fit_enclosure
from modelmath.errors import DoesNotFit

NEVER = 10_000  # further than any cavity is long
EIGHTH = 8  # areas are counted in eighths of a square millimetre


@dataclass(frozen=True)
class Case:
    """What a chamber is fitted into."""

    cavity: Cavity
    limits: Limits
    speaker: Speaker | None = None
    decoder: Box | None = None

    def fit(self) -> Enclosure | None:
        try:
            return fit_enclosure(self.cavity, self.limits, self.speaker, self.decoder)
        except DoesNotFit:
            return None

    def best(self) -> Fraction | None:
        """The largest volume there is, or None."""
        best = Grid(self).best()
        return None if best < 0 else Fraction(best, EIGHTH)


def widths(zone: Zone, height: int, less: int) -> tuple[int, int]:
    """Twice the width just above a height and just below the next, by looking along the outline; 0 above the roof."""
    if height >= zone.roof_mm:
        return 0, 0
    if zone.profile is None:
        return (int(2 * (zone.width_mm - less)),) * 2
    points = zone.profile.points
    low = high = points[0][1]
    for (a, from_), (b, to) in pairwise(points):
        if a <= height and height + 1 <= b:
            low, high = (from_ + (to - from_) * Fraction(at - a, b - a) for at in (height, height + 1))
    found = [4 * Fraction(half) - 2 * less for half in (low, high)]
    assert all(each.denominator == 1 for each in found)
    return max(int(found[0]), 0), max(int(found[1]), 0)


class Grid:
    """The cells of a case, and what each may hold."""

    def __init__(self, case: Case) -> None:
        cavity, limits = case.cavity, case.limits
        self.case, self.limits, self.speaker, self.decoder = case, limits, case.speaker, case.decoder
        self.flat = [zone for zone in cavity.zones for _ in range(zone.end_mm - zone.start_mm)]
        self.length = len(self.flat)
        self.front, self.rear = limits.front_room_mm, self.length - limits.rear_room_mm
        # In front of a speaker that faces a closed end its sound needs room to get out.
        faces = None if self.speaker is None else self.speaker.faces
        if faces == "front" and cavity.front_closed:
            self.front = max(self.front, limits.sound_room_mm)
        if faces == "rear" and cavity.rear_closed:
            self.rear = min(self.rear, self.length - limits.sound_room_mm)
        less = limits.wire_path_mm + limits.wall_mm if limits.wire_path_mm else 0
        self.top = max(zone.roof_mm for zone in cavity.zones) + 1
        of_zone = {id(z): [widths(z, height, less) for height in range(self.top)] for z in cavity.zones}
        self.twice = np.array([of_zone[id(zone)] for zone in self.flat])  # cells x slabs x (lower, upper)
        self.least = self.twice.min(axis=2)  # the least width in a slab, twice
        # The roof of a narrowed section is where nothing is left of it.
        self.roof = np.array(
            [max((z + 1 for z in range(self.top) if row[z].max() > 0), default=0) for row in self.twice]
        )
        reach = limits.end_clearance_mm
        tops = np.array([zone.top_mm for zone in self.flat])
        grown = [tops[max(x - reach, 0) : x + 1 + reach].max() for x in range(self.length)]
        self.low = np.array(grown) + limits.clearance_mm
        self.narrow, self.low_of_all = self._obstacles(less)
        self.floors = np.arange(self.top)
        self.seats = np.ones(self.length, dtype=bool)  # the cells that may hold the speaker

    def _obstacles(self, less: int) -> tuple[list[tuple[int, int, int, int, int]], Any]:
        """Those that the floor may be cut round: ends, top, sides in half millimetres; the others raise the floor."""
        cavity, limits, narrow, low_of_all = self.case.cavity, self.limits, [], self.low.copy()
        for each in cavity.obstacles:
            start, end = int(each.start_mm) - cavity.start_mm, int(each.end_mm) - cavity.start_mm
            first, last = max(start, 0), min(end, self.length)
            if first >= last:
                continue
            low_of_all[first:last] = np.maximum(low_of_all[first:last], int(each.top_mm))
            # The chamber's own centre line lies half of what is taken off to the left.
            left, right = (int(2 * (each.centre_mm + side * each.half_width_mm)) + less for side in (-1, 1))
            if limits.cut_round and self._has_sides(start, end, int(each.top_mm), max(-left, right)):
                narrow.append((start, end, int(each.top_mm), left, right))
            else:
                self.low[first:last] = np.maximum(self.low[first:last], int(each.top_mm))
        return narrow, low_of_all

    def _has_sides(self, start: int, end: int, top: int, reach: int) -> bool:
        """Whether a box, at most so far out in half millimetres, lies within each cell where one may stand."""
        wall = self.limits.wall_mm
        for x in range(max(start - wall, 0), min(end + wall, self.length)):
            slabs = range(int(self.flat[x].top_mm), int(min(top + wall, self.roof[x])))
            may_stand = self.flat[x].top_mm < min(top, self.roof[x])
            if may_stand and any(self.least[x, z] < 2 * (reach + 2 * wall) for z in slabs):
                return False
        return True

    # Volumes.

    def areas(self) -> Any:
        """Area of each cell's section above each floor, less what is boxed in. [1/8 mm2]"""
        slabs = 2 * self.twice.sum(axis=2)
        whole = slabs[:, ::-1].cumsum(axis=1)[:, ::-1]
        return whole - self._boxed() if self.narrow else whole

    def _covered(self) -> Any:
        """How much of each column, half a millimetre across, lies within the section: cells x slabs x columns."""
        half = int(self.twice.max()) // 2 + 1
        columns = np.arange(-half, half)
        inner = 2 * np.minimum(abs(columns), abs(columns + 1))
        return np.clip(self.twice[:, :, None, :] - inner[None, None, :, None], 0, 2).sum(axis=3)

    def _lids(self, floor: int, columns: int) -> Any:
        """How high each column of each cell is filled by boxes that stand on a floor."""
        wall, half = self.limits.wall_mm, columns // 2
        lids = np.full((self.length, columns), floor)
        for start, end, top, left, right in self.narrow:
            if top > floor:
                over = lids[max(start - wall, 0) : end + wall, max(left - 2 * wall + half, 0) : right + 2 * wall + half]
                np.maximum(over, min(top + wall, self.top), out=over)
        return lids

    def _boxed(self) -> Any:
        """What the boxes take, column by column across: each up to the highest lid that covers it."""
        covered = self._covered()
        below = np.concatenate([np.zeros_like(covered[:, :1]), covered.cumsum(axis=1)], axis=1)
        taken = np.zeros((self.length, self.top), dtype=np.int64)
        for floor in range(self.top):
            lids = self._lids(floor, covered.shape[2])
            reached = np.take_along_axis(below, lids[:, None, :], axis=1)[:, 0, :]
            taken[:, floor] = (reached - below[:, floor, :]).sum(axis=1)
        return taken

    def _air(self, floor: int) -> Any:
        """Which little blocks, 1 x 1 x 0.5 mm, hold some air over a floor."""
        covered = self._covered()
        return (covered > 0) & (np.arange(self.top)[None, :, None] >= self._lids(floor, covered.shape[2])[:, None, :])

    def _shut(self) -> tuple[Any, Any]:
        """Which cells hold no air at all, and between which and the one before it none passes, for each floor."""
        cells = np.zeros((self.length, self.top), dtype=bool)
        faces = np.zeros((self.length + 1, self.top), dtype=bool)
        for floor in range(self.top):
            air = self._air(floor)
            cells[:, floor] = ~air.any(axis=(1, 2))
            faces[1:-1, floor] = ~(air[1:] & air[:-1]).any(axis=(1, 2))
        return cells, faces

    def best(self) -> int:
        """The most air that is joined with the speaker, without one the most that is joined at all. [1/8 mm3]"""
        whole = self.volumes()
        if not self.narrow:
            return int(whole.max(initial=-1))
        best = -1
        for at in np.argsort(-whole, axis=None):
            where = tuple(int(each) for each in np.unravel_index(at, whole.shape))
            if whole[where] <= best:
                break  # what is joined is no more than all there is
            best = max(best, self._joined(where, best))
        return best

    def _joined(self, where: tuple[int, ...], least: int) -> int:
        """The most air in one piece of a chamber that may hold the speaker; no less than the least given."""
        start, end, floor = where
        inner = (
            start + self.limits.wall_mm * (start != 0 or not self.case.cavity.front_closed),
            end - self.limits.wall_mm * (end != self.length or not self.case.cavity.rear_closed),
        )
        air = self._air(floor)
        air[: inner[0]] = air[inner[1] :] = False
        numbers, count = label(air)
        covered = self._covered()
        sizes = {number: int(covered[numbers == number].sum()) for number in range(1, count + 1)}
        middle = air.shape[2] // 2
        for number in sorted(sizes, key=lambda each: -sizes[each]):
            if sizes[number] <= least:
                break
            if self.speaker is None or count == 1:
                return sizes[number]
            self.seats = (numbers[:, floor, middle - 1 : middle + 1] == number).any(axis=1)
            fits = self.volumes()[where] >= 0
            self.seats = np.ones(self.length, dtype=bool)
            if fits:
                return sizes[number]
        return least

    # What finds room.

    def volumes(self) -> Any:
        """Volume over every start, end and floor; -1 where that is no chamber. [1/8 mm3]"""
        limits, cavity, count = self.limits, self.case.cavity, self.length + 1
        bad = (self.floors[None, :] < self.low[:, None]) | (self.floors[None, :] >= self.roof[:, None])
        starts, ends = np.arange(count)[:, None, None], np.arange(count)[None, :, None]
        floors = self.floors[None, None, :]
        front = (starts != 0) | (not cavity.front_closed)
        rear = (ends != self.length) | (not cavity.rear_closed)
        inner = (starts + front * limits.wall_mm, ends - rear * limits.wall_mm)
        walled = (front & (limits.wall_mm > 0), rear & (limits.wall_mm > 0))
        within = (starts >= self.front) & (ends <= self.rear) & (inner[0] < inner[1])
        upto = _sums(bad)
        possible = within & (upto[ends, floors] == upto[starts, floors])
        if self.narrow:
            possible &= self._in_one(inner)
        if self.speaker is not None or self.decoder is not None:
            seats = (inner[0] + walled[0] * limits.post_mm, inner[1] - walled[1] * limits.post_mm)
            possible &= self._all_find_room((starts, ends), inner, seats, walled)
        net = _sums(self.areas())
        low, high = np.minimum(inner[0], self.length), np.maximum(inner[1], 0)
        return np.where(possible, net[high, floors] - net[low, floors], -1)

    def _in_one(self, inner: Any) -> Any:
        """Whether boxes nowhere shut off what lies in front from what lies behind."""
        floors = self.floors[None, None, :]
        cells, faces = (_sums(each) for each in self._shut())
        first, last = (np.clip(each, 0, self.length) for each in inner)
        whole = cells[last, floors] == cells[first, floors]
        between = np.minimum(first + 1, self.length)
        return whole & ((faces[last, floors] == faces[between, floors]) | (last <= between))

    def _all_find_room(self, ends: Any, inner: Any, seats: Any, walled: Any) -> Any:
        if self.decoder is None:
            return self._with_speaker(inner, seats, walled, None, ends)
        early, late = self._pockets_beside()
        beside = (early <= ends[0]) | (late >= ends[1])
        found = beside & self._with_speaker(inner, seats, walled, None, ends)
        found |= self._with_speaker(inner, seats, walled, self._pockets_below(), ends)
        if self.decoder.inside:
            found |= self._with_speaker(inner, seats, walled, self._pockets_inside(), seats)
        return found

    def _with_speaker(self, inner: Any, seats: Any, walled: Any, pockets: Any, room: Any) -> Any:
        """Whether there is a seat and, clear of it lengthwise, one of the pockets within the room."""
        floors, speaker = self.floors[None, None, :], self.speaker

        def pocket_in(first: Any, last: Any) -> Any:
            """First end of a pocket from a place on, where that is within; else never."""
            if pockets is None:
                return np.broadcast_to(first, np.broadcast_shapes(first.shape, last.shape, floors.shape))
            end = pockets[np.clip(first, 0, self.length + 1), floors]
            return np.where(end <= last, end, NEVER)

        if speaker is None:
            return pocket_in(*room) < NEVER
        good, steps, bare = self._holds()
        if speaker.faces in ("front", "rear"):
            along = speaker.behind_mm + self.limits.over_speaker_mm
            ahead = speaker.faces == "front"
            first = inner[0] if ahead else inner[1] - along
            last = first + along
            upto = _sums(~good)
            here = (first >= 0) & (last <= self.length)
            low, high = np.clip(first, 0, self.length), np.clip(last, 0, self.length)
            stands = here & (upto[low, floors] == upto[high, floors])
            # The wall that it sounds through is as high and as wide, whatever box stands in front of it.
            outer = (first - self.limits.wall_mm, first) if ahead else (last, last + self.limits.wall_mm)
            front, behind = (np.clip(each, 0, self.length) for each in outer)
            less_bare = _sums(~bare)
            stands = stands & (less_bare[front, floors] == less_bare[behind, floors])
            stands = stands & (walled[0] & (last <= seats[1]) if ahead else walled[1] & (first >= seats[0]))
            seat = (first, first + speaker.behind_mm) if ahead else (last - speaker.behind_mm, last)
            # In front of it, where it sounds out, there is no pocket.
            return stands & ((pocket_in(seat[1], room[1]) if ahead else pocket_in(room[0], seat[0])) < NEVER)
        ends = _first_ends(good, steps, speaker.length_mm)

        def seat_in(first: Any) -> Any:
            return ends[np.clip(first, 0, self.length + 1), floors]

        before = pocket_in(*room)  # a pocket in front of the speaker, as far forward as it goes
        found = seat_in(np.maximum(before, seats[0])) <= seats[1]
        if pockets is not None:
            behind = seat_in(seats[0])
            found |= (behind <= seats[1]) & (pocket_in(np.maximum(behind, room[0]), room[1]) < NEVER)
        return found

    def _holds(self) -> tuple[Any, Any, Any]:
        """Which cells hold the speaker's section above each floor; before which its flange's level has a step.

        And which cells do, whatever is boxed in.
        """
        speaker, limits = self.speaker, self.limits
        assert speaker is not None
        good = np.zeros((self.length, self.top), dtype=bool)
        steps = np.zeros(self.length, dtype=bool)
        across = speaker.width_mm
        behind = speaker.depth_mm + speaker.terminals_mm
        basket = speaker.width_mm if speaker.basket_width_mm is None else speaker.basket_width_mm
        for floor in range(self.top):
            if speaker.faces in ("front", "rear"):
                across = speaker.width_mm + 2 * limits.post_mm
                good[:, floor] = self._wide(floor + limits.wall_mm, floor + limits.wall_mm + speaker.length_mm, across)
            elif speaker.faces == "down":
                good[:, floor] = self._wide(floor, floor + speaker.flange_mm, across)
                good[:, floor] &= self._wide(floor, floor + behind, basket)
                good[:, floor] &= floor + behind + limits.over_speaker_mm <= self.roof
                good[:, floor] &= self.low + speaker.travel_mm <= floor
            else:
                # Its back looks down on the floor plate.
                good[:, floor] = floor + limits.wall_mm + behind + limits.over_speaker_mm <= self.roof
        if speaker.faces == "up":
            steps[1:] = self.roof[1:] != self.roof[:-1]
            for roof in {int(each) for each in self.roof}:
                wide = self._wide(roof - speaker.flange_mm, roof, across) & self._wide(roof - behind, roof, basket)
                good[(self.roof == roof) & ~wide] = False
        bare = good.copy()
        self._less_boxed(good, across)
        good &= self.seats[:, None]
        return good, steps, bare

    def _less_boxed(self, good: Any, across: int) -> None:
        """Take away where the speaker would stand in a box, or its cone move into what stands below."""
        travel = self.speaker.travel_mm if self.speaker is not None and self.speaker.faces == "down" else 0
        wall = self.limits.wall_mm
        for start, end, top, left, right in self.narrow:
            if left - 2 * wall < across and right + 2 * wall > -across:
                good[max(start - wall, 0) : end + wall, self.floors < top] = False
            if left < across and right > -across:
                good[max(start, 0) : end, (self.floors >= top) & (self.floors < top + travel)] = False

    def _wide(self, low: int, high: int, across: Any) -> Any:
        """Which cells are so wide at every height between two."""
        if high > self.top or low < 0:
            # Nothing of these cases lies below 0; what would stand up past the highest roof has no room.
            low = max(low, 0)
            if high > self.top:
                return np.zeros(self.length, dtype=bool)
        return (self.least[:, low:high] >= 2 * across).all(axis=1)

    # The decoder, its air in it.

    def _ways(self) -> set[tuple[int, int, int]]:
        box = self.decoder
        assert box is not None
        sizes = (box.length_mm, box.width_mm, box.height_mm)
        orders = [(0, 1, 2), (0, 2, 1), (1, 0, 2), (1, 2, 0), (2, 0, 1), (2, 1, 0)] if box.turns else [(0, 1, 2)]
        return {(sizes[a] + 2 * box.air_mm, sizes[b] + 2 * box.air_mm, sizes[c] + box.air_mm) for a, b, c in orders}

    def _columns(self, across: int, up: int) -> Any:
        """For each cell and each height whether a box of that width and height may stand on it there."""
        free = np.zeros((self.length, self.top + 1), dtype=bool)
        for z in range(self.top + 1 - up):
            free[:, z] = self._wide(z, z + up, across)
        return free

    def _pockets_beside(self) -> tuple[int, int]:
        """The first end and the last start of a pocket between the rooms kept at the ends."""
        early, late = NEVER, -NEVER
        for along, across, up in self._ways():
            free = self._columns(across, up) & (np.arange(self.top + 1) >= self.low_of_all[:, None])
            for at in range(self.front, self.rear - along + 1):
                if free[at : at + along].all(axis=0).any():
                    early, late = min(early, at + along), max(late, at)
        return early, late

    def _pockets(self, lowest: Any, highest: Any, blocked: Any) -> Any:
        """First end of a pocket from each place on, for each floor, standing between two heights; never if none."""
        best = np.full((self.length + 2, self.top), NEVER)
        heights = np.arange(self.top + 1)[None, None, :]
        for along, across, up in self._ways():
            stands = (heights >= lowest[:, :, None]) & (heights + up <= highest[:, :, None])
            free = self._columns(across, up)[:, None, :] & stands & ~blocked[:, :, None]
            for at in range(self.length - along, -1, -1):
                here = free[at : at + along].all(axis=0).any(axis=1)
                best[at, here] = np.minimum(best[at, here], at + along)
        return np.minimum.accumulate(best[::-1], axis=0)[::-1]

    def _pockets_below(self) -> Any:
        shape = (self.length, self.top)
        lowest, floors = np.broadcast_to(self.low_of_all[:, None], shape), np.broadcast_to(self.floors[None, :], shape)
        return self._pockets(lowest, floors, np.zeros(shape, dtype=bool))

    def _pockets_inside(self) -> Any:
        shape = (self.length, self.top)
        # With a speaker there is a floor plate; without one nothing says how the floor is closed.
        lowest = self.floors + (self.limits.wall_mm if self.speaker is not None else 0)
        floors, roofs = np.broadcast_to(lowest[None, :], shape), np.broadcast_to(self.roof[:, None], shape)
        blocked, wall = np.zeros(shape, dtype=bool), self.limits.wall_mm
        for start, end, top, _, _ in self.narrow:
            blocked[max(start - wall, 0) : end + wall, self.floors < top] = True
        return self._pockets(floors, roofs, blocked)


def _sums(each: Any) -> Any:
    """Sum of all cells before each place."""
    found = np.zeros((each.shape[0] + 1, *each.shape[1:]), dtype=np.int64)
    np.cumsum(each, axis=0, out=found[1:])
    return found


def _first_ends(good: Any, steps: Any, along: int) -> Any:
    """For each place and floor the first end of a stretch of good cells from there on; never if none."""
    length, floors = good.shape
    best = np.full((length + 2, floors), NEVER)
    upto, broken = _sums(~good), _sums(steps[:, None])[:, 0]
    for at in range(length - along + 1):
        whole = broken[at + along] == broken[at + 1]
        best[at] = np.where(whole & (upto[at + along] == upto[at]), at + along, NEVER)
    return np.minimum.accumulate(best[::-1], axis=0)[::-1]

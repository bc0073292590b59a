"""Volumes up to every place, above every level, as arrays: whole numbers where 64 bits hold them.

A stretch that a floor can't have is told by a penalty larger than all volumes: at the end of a stretch so much is
taken for every bay in the way that begins before it, at its start so much is given back for every one that ends before
it. What is taken over a stretch is then one penalty for each bay in its way, and no stretch needs to be looked at with
another.
"""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Sequence
from fractions import Fraction
from functools import reduce
from math import gcd, lcm
from typing import Any, Literal

import numpy as np
from numpy.typing import NDArray

from modelmath.enclosure.stepped.ground import Ground, joined
from modelmath.lengths.numbers import Number, check_common_step

Array = NDArray[Any]
End = Literal["step", "end"]
LARGEST = 2**62  # whole numbers below this are added in 64 bits


class Tables:
    """What the search looks up, for every level (rows) and place (columns).

    Parameters
    ----------
    ground : Ground
        The bays, and what is kept. [mm]
    places : sequence of Fraction or float
        Where ends and steps may stand, the front one first. [mm]
    levels : sequence of Fraction or float
        Heights that floors may have, the lowest first. [mm]
    exact : bool
        Whether to add whole numbers of any size, one by one, where 64 bits don't hold them; otherwise these are
        rounded. [-]
    """

    def __init__(self, ground: Ground, places: Sequence[Number], levels: Sequence[Number], exact: bool = False) -> None:
        self.ground, self.levels = ground, levels
        # For each level, how many lie low enough for a riser between, and the first that lies high enough.
        least = ground.least_riser_mm
        self.lower = [min(bisect_right(levels, level - least), row) for row, level in enumerate(levels)]
        self.higher = [max(bisect_left(levels, level + least), row + 1) for row, level in enumerate(levels)]
        bays = ground.bays
        edges = [bays[0].start_mm, *(bay.end_mm for bay in bays)]
        lengths = [*edges, *places, ground.wall_mm, ground.shortest_mm, ground.limits.post_mm]
        if ground.speaker is not None:
            lengths.append(ground.speaker.length_mm)
        self._scale = _scale(lengths)
        fits = all(abs(self._whole(each)) < LARGEST // 4 for each in lengths)
        self._line_dtype: Any = np.int64 if fits else object
        self.at = self._line(places)
        self._edges = self._line(edges)
        self._wall = self._whole(ground.wall_mm)
        self._set_areas(exact)
        self._set_stretches()
        self._set_volumes(places)
        self._set_seats()

    # Lengths, exact throughout, in whole numbers of one unit.

    def _whole(self, length: Number) -> int:
        exact = Fraction(length) * self._scale
        assert exact.denominator == 1
        return exact.numerator

    def _line(self, lengths: Sequence[Number]) -> Array:
        return np.array([self._whole(each) for each in lengths], dtype=self._line_dtype)

    # Areas, and the kind of number that their sums need.

    def _set_areas(self, exact: bool) -> None:
        ground, bays = self.ground, self.ground.bays
        zones = ground.zones
        by_zone = [[ground.area_mm2(zone, level) for zone in zones] for level in self.levels]
        number = {id(zone): at for at, zone in enumerate(zones)}
        self._zone_of = np.array([number[id(bay.zone)] for bay in bays])
        scale = _scale([area for row in by_zone for area in row])
        whole: Any = [[(Fraction(area) * scale).numerator for area in row] for row in by_zone]
        most = max(max(row) for row in whole) * int(self._edges[-1] - self._edges[0])
        self.dtype: Any = np.int64
        if (2 * most + 2) * (len(bays) + 12) >= LARGEST:
            self.dtype = object if exact else np.float64
        if self.dtype is np.float64:
            whole = [[float(area) for area in row] for row in by_zone]
            most = max(max(row) for row in whole) * float(self._edges[-1] - self._edges[0])
        self.penalty: Any = 2 * most + 2
        self.never: Any = -4 * self.penalty
        self._areas = np.array(whole, dtype=self.dtype)[:, self._zone_of]

    # Which stretches a floor can have.

    def _set_stretches(self) -> None:
        bays = self.ground.bays
        floors = [bay.floor_mm for bay in bays]
        roofs = [bay.zone.roof_mm for bay in bays]
        too_low = np.array([[roof <= level for roof in roofs] for level in self.levels])
        in_the_way = too_low | np.array([[low > level for low in floors] for level in self.levels])
        starts, ends, at, wall = self._edges[:-1], self._edges[1:], self.at, self._wall
        begun, over = np.searchsorted(starts, at, "left"), np.searchsorted(ends, at, "right")
        blocked = _counted(in_the_way)
        self._begun, self._over = blocked[:, begun], blocked[:, over]
        low = _counted(too_low)
        self.open_before = low[:, begun] == low[:, np.searchsorted(ends, at - wall, "right")]
        self.open_behind = low[:, np.searchsorted(starts, at + wall, "left")] == low[:, over]
        shortest = self._whole(self.ground.shortest_mm)
        self.far_enough = np.searchsorted(at, at - shortest, "right") - 1  # the last place a stretch may start at

    def _up_to(self, line: Array) -> Array:
        """Return the volume from the front edge to each place on a line, above every level."""
        starts = self._edges[:-1]
        line = np.clip(line, self._edges[0], self._edges[-1])
        bay = np.clip(np.searchsorted(starts, line, "right") - 1, 0, len(starts) - 1)
        sizes = (self._edges[1:] - starts).astype(self.dtype)
        before = np.zeros((len(self.levels), len(starts)), dtype=self.dtype)
        before[:, 1:] = np.cumsum(self._areas * sizes, axis=1)[:, :-1]
        volumes: Array = before[:, bay] + self._areas[:, bay] * (line - starts[bay]).astype(self.dtype)
        return volumes

    def _set_volumes(self, places: Sequence[Number]) -> None:
        wall, (front, rear) = self._wall, self.ground.closed
        self.here = self._up_to(self.at)
        self.before, self.behind = self._up_to(self.at - wall), self._up_to(self.at + wall)
        walls_in_front = np.full(len(self.at), wall, dtype=self.at.dtype)
        walls_behind = walls_in_front.copy()
        walls_in_front[[front is not None and place == front for place in places]] = 0
        walls_behind[[rear is not None and place == rear for place in places]] = 0
        taken, given = (count.astype(self.dtype) * self.penalty for count in (self._begun, self._over))
        self.from_front = given - self._up_to(self.at + walls_in_front)
        self.to_rear = self._up_to(self.at - walls_behind) - taken
        self.to_step, self.given = self.here - taken, given
        self._walls = walls_in_front, walls_behind

    # Where the speaker sits.

    def _set_seats(self) -> None:
        speaker, self._seat_runs = self.ground.speaker, {}
        if speaker is None:
            return
        ground, bays = self.ground, self.ground.bays
        length = self._whole(speaker.length_mm)
        post = self._whole(ground.limits.post_mm)
        in_front, behind = (np.where(walls > 0, walls + post, walls) for walls in self._walls)
        self._first_seat = {"step": self.at + self._wall, "end": self.at + in_front}
        self._last_seat = {"step": self.at - self._wall - length, "end": self.at - behind - length}
        for row, level in enumerate(self.levels):
            takes = [ground.holds(bay, level) for bay in bays]
            runs = [(self._whole(start), self._whole(end) - length) for start, end in joined(bays, takes)]
            self._seat_runs[row] = [run for run in runs if run[0] <= run[1]]

    def seated(self, row: int, starts_at: End, ends_at: End) -> Array | None:
        """Return, for a stretch that ends at each place, the last place it may start at and hold the speaker.

        Parameters
        ----------
        row : int
            The number of its level. [-]
        starts_at, ends_at : {"step", "end"}
            What it has there: a step, or the chamber's end. [-]

        Returns
        -------
        array of int, or None
            Numbers of places, -1 where there is none; None where no stretch on that level holds it. [-]

        References
        ----------
        Arithmetic: the seat that lies furthest back leaves most room in front of it.
        """
        runs = self._seat_runs.get(row)
        if not runs:
            return None
        first, last = self._first_seat[starts_at], self._last_seat[ends_at]
        found = np.full(len(self.at), -1, dtype=np.int64)
        for low, high in runs:
            begin, past = np.searchsorted(last, low, "left"), np.searchsorted(last, high, "right")
            found[begin:past] = np.searchsorted(first, last[begin:past], "right") - 1
            found[past:] = np.searchsorted(first, high, "right") - 1
        return found


def _scale(lengths: Sequence[Number]) -> Fraction:
    """Return what makes all of them whole, and no larger than they have to be."""
    exact = {Fraction(each) for each in lengths}
    times = check_common_step("places and levels", lcm(*(each.denominator for each in exact)))
    shared = reduce(gcd, (int(each * times) for each in exact), 0) or 1
    return Fraction(times, shared)


def _counted(wanted: Array) -> Array:
    """Return how many of the first bays are wanted: none, one, ..., all."""
    counts: Array = np.zeros((wanted.shape[0], wanted.shape[1] + 1), dtype=np.int64)
    np.cumsum(wanted, axis=1, out=counts[:, 1:])
    return counts

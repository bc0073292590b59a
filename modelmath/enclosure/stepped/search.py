"""The best floor with so many steps, by dynamic programming over places, levels, steps and whether the speaker sits.

A state is a place at which a stretch ends or starts, its level, how many steps lie in front of it, and whether the
speaker sits on a stretch in front of it. Its value is the largest volume up to there. What a step takes on either side
of it depends on the higher level alone on one side and on the lower one on the other, so that the best step to a level
is the best of all levels far enough below it, or above, each with a term of its own: one pass over the levels finds it.
What a stretch adds is the volume up to its end less that up to its start: one pass over the places finds the best
start. So the work grows with places x levels x steps; places grow with the edges of bays and with the square of the
steps, levels with the bays: in all with the square of the bays.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np

from modelmath.enclosure.stepped.tables import Array, End, Tables


@dataclass(frozen=True)
class Path:
    """A floor as the search finds it.

    Attributes
    ----------
    places : tuple of int
        Numbers of its places: front end, steps, rear end. [-]
    rows : tuple of int
        Numbers of its levels, one fewer. [-]
    value : int or float
        Its volume in the unit of the tables. [-]
    """

    places: tuple[int, ...]
    rows: tuple[int, ...]
    value: Any


class Search:
    """Finds the best floor for each count of steps, up to a largest.

    Parameters
    ----------
    tables : Tables
        Volumes up to every place. [-]
    most_steps : int
        How many steps at most, 1 or more. [-]
    keeps_starts : bool
        Whether to keep the values at starts of stretches. [-]
    """

    def __init__(self, tables: Tables, most_steps: int, keeps_starts: bool = False) -> None:
        self._tables, self._most, self._keeps_starts = tables, most_steps, keeps_starts
        self._speaker = tables.ground.speaker is not None
        # Behind each count of steps: values at ends of stretches with the speaker not seated yet, and seated.
        self.ends: list[tuple[Array, Array | None]] = []
        # In front of each count of steps but 0, the same at starts of stretches, where they are asked for again.
        self.starts: list[tuple[Array, Array | None]] = []

    def paths(self) -> list[Path | None]:
        """Return the best floor with one step, with two, and so on.

        Returns
        -------
        list of Path or None
            None where there is none with so many. [-]

        References
        ----------
        Bellman's principle of optimality; the argument stands at the head of this module.
        """
        found: list[Path | None] = []
        starts: tuple[Array, Array | None] = (self._tables.from_front, None)
        for steps in range(self._most):
            self.ends.append(self._to_ends(starts, steps))
            starts = self._past_a_step(*self.ends[-1])
            if self._keeps_starts:
                self.starts.append(starts)
            found.append(self._best(starts, steps + 1))
        return found

    # Forward.

    def _to_ends(self, starts: tuple[Array, Array | None], steps: int) -> tuple[Array, Array | None]:
        tables, (free, seated) = self._tables, starts
        plain = np.full_like(free, tables.never)
        taken = np.full_like(free, tables.never) if self._speaker else None
        for row in range(len(tables.levels)):
            plain[row] = self._stretch(free[row], row, "step", None)
            if taken is not None:
                taken[row] = self._with_speaker(free[row], None if seated is None else seated[row], row, steps, "step")
        return plain, taken

    def _stretch(self, starts: Array, row: int, ends_at: End, seated: Array | None) -> Array:
        """Return the values at the ends of stretches on one level; of those that hold the speaker, where asked."""
        tables = self._tables
        best: Array = np.maximum.accumulate(starts)
        last = tables.far_enough if seated is None else np.minimum(tables.far_enough, seated)
        ends = (tables.to_step if ends_at == "step" else tables.to_rear)[row]
        values: Array = np.where(last >= 0, best[last] + ends, tables.never)
        values[values < -tables.penalty // 2] = tables.never
        return values

    def _with_speaker(self, free: Array, seated: Array | None, row: int, steps: int, ends_at: End) -> Array:
        """Return the values at the ends of stretches behind which the speaker sits: on them, or in front of them."""
        tables = self._tables
        found = np.full_like(free, tables.never)
        if seated is not None:
            found = self._stretch(seated, row, ends_at, None)
        holds = tables.seated(row, "end" if steps == 0 else "step", ends_at)
        if holds is not None:
            found = np.maximum(found, self._stretch(free, row, ends_at, holds))
        return found

    def _past_a_step(self, free: Array, seated: Array | None) -> tuple[Array, Array | None]:
        return self._step(free), None if seated is None else self._step(seated)

    def _step(self, ends: Array) -> Array:
        """Return the values at the starts of stretches behind a step, from those at the ends of stretches."""
        tables = self._tables
        rows = len(tables.levels)
        found = np.full_like(ends, tables.never)
        lower, counted = np.full_like(ends[0], tables.never), 0
        for row in range(tables.lower.count(0), rows):
            for each in range(counted, tables.lower[row]):
                lower = np.maximum(lower, self._rising(ends, each))
            counted = tables.lower[row]
            found[row] = np.where(tables.open_before[row], lower - tables.before[row] + tables.given[row], tables.never)
        higher, counted = np.full_like(ends[0], tables.never), rows
        for row in range(rows - tables.higher.count(rows) - 1, -1, -1):
            for each in range(tables.higher[row], counted):
                higher = np.maximum(higher, self._falling(ends, each))
            counted = tables.higher[row]
            found[row] = np.maximum(found[row], higher - tables.behind[row] + tables.given[row])
        return found

    def _rising(self, ends: Array, rows: Any) -> Array:
        """Return values without what the riser takes from a stretch in front of a step up."""
        tables = self._tables
        values: Array = ends[rows] - tables.here[rows] + tables.before[rows]
        return values

    def _falling(self, ends: Array, rows: Any) -> Array:
        """Return values with what lies over the riser behind a step down."""
        tables = self._tables
        values: Array = ends[rows] + tables.behind[rows] - tables.here[rows]
        return np.where(tables.open_behind[rows], values, tables.never)

    def _best(self, starts: tuple[Array, Array | None], steps: int) -> Path | None:
        tables, (free, seated) = self._tables, starts
        best, at = tables.never, (0, 0)
        for row in range(len(tables.levels)):
            if self._speaker:
                values = self._with_speaker(free[row], None if seated is None else seated[row], row, steps, "end")
            else:
                values = self._stretch(free[row], row, "end", None)
            place = int(np.argmax(values))
            if values[place] > best:
                best, at = values[place], (row, place)
        return self._traced(best, *at, steps) if best > tables.never else None

    # Backward.

    def _traced(self, value: Any, row: int, place: int, steps: int) -> Path:
        """Return the floor that ends on a level at a place, by asking at each stretch and step what came before."""
        places, rows = [place], [row]
        seated, ends_at = self._speaker, "end"
        for before in range(steps, -1, -1):
            place, seated = self._start_of(row, place, before, seated, "end" if ends_at == "end" else "step")
            ends_at = "step"
            places.append(place)
            if before:
                row = self._level_before(row, place, before, seated)
                rows.append(row)
        return Path(tuple(reversed(places)), tuple(reversed(rows)), value)

    def _start_of(self, row: int, place: int, steps: int, seated: bool, ends_at: End) -> tuple[int, bool]:
        """Return where the best stretch that ends there starts, and whether the speaker sits in front of that."""
        tables = self._tables
        last = int(tables.far_enough[place])
        if not seated:
            return int(np.argmax(self._starts(row, steps, False)[: last + 1])), False
        found: list[tuple[Any, int, bool]] = []
        if steps:
            values = self._starts(row, steps, True)[: last + 1]
            found.append((values.max(), int(np.argmax(values)), True))
        holds = tables.seated(row, "end" if steps == 0 else "step", ends_at)
        if holds is not None and min(last, holds[place]) >= 0:
            values = self._starts(row, steps, False)[: min(last, int(holds[place])) + 1]
            found.append((values.max(), int(np.argmax(values)), False))
        _, start, before = max(found, key=lambda each: each[0])
        return start, before

    def _starts(self, row: int, steps: int, seated: bool) -> Array:
        """Return the values at the starts of stretches on one level, behind so many steps."""
        tables = self._tables
        if steps == 0:
            first: Array = tables.from_front[row]
            return first
        found: Array = np.full_like(tables.here[row], tables.never)
        ends = self.ends[steps - 1][seated]
        assert ends is not None
        lowest, highest = tables.lower[row], tables.higher[row]
        if lowest:
            lower = self._rising(ends, slice(0, lowest)).max(axis=0) - tables.before[row] + tables.given[row]
            found = np.where(tables.open_before[row], lower, found)
        if highest < len(tables.levels):
            higher = self._falling(ends, slice(highest, None)).max(axis=0)
            found = np.maximum(found, higher - tables.behind[row] + tables.given[row])
        return found

    def _level_before(self, row: int, place: int, steps: int, seated: bool) -> int:
        """Return the level of the best stretch in front of a step to a level at a place."""
        tables = self._tables
        ends = self.ends[steps - 1][seated]
        assert ends is not None
        values = np.full(len(tables.levels), tables.never, dtype=tables.dtype)
        if tables.open_before[row, place]:
            lower = (slice(0, tables.lower[row]), place)
            values[: tables.lower[row]] = self._rising(ends, lower) - tables.before[row, place]
        higher = (slice(tables.higher[row], None), place)
        values[tables.higher[row] :] = self._falling(ends, higher) - tables.behind[row, place]
        return int(np.argmax(values))

"""What came of many builds: how many fit, what touched, and how often."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING

from modelmath.lengths.text import format_length

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    from modelmath.job.virtual_bench.chance import Array

SLIP_MM = 1e-9  # what rests on another without pressing does not touch; less than this is the computer's rounding


@dataclass(frozen=True)
class Meeting:
    """One thing above another, or beside it, in every build.

    Attributes
    ----------
    part : str
        What hangs above, such as ``the speaker``. [-]
    over : str
        The spot below it; what it stands beside. [-]
    room_mm : array
        The room left between them in each build; below 0 where they touch. [mm]
    beside : bool
        Whether one stands beside the other, so that the room lies along the length. [-]
    """

    part: str
    over: str
    room_mm: Array
    beside: bool = False

    @property
    def touches(self) -> NDArray[np.bool_]:
        """In which builds they touch."""
        found: NDArray[np.bool_] = self.room_mm < -SLIP_MM
        return found

    @property
    def words(self) -> str:
        """What meets what, such as ``the floor over the motor`` or ``the bulkhead beside the truck``."""
        return f"{self.part} {'beside' if self.beside else 'over'} {self.over}"


@dataclass(frozen=True)
class Builds:
    """A plan, built many times.

    Attributes
    ----------
    builds : int
        How many times. [-]
    seed : int
        Start of the random numbers. [-]
    meetings : tuple of Meeting
        All that may touch. [mm]
    """

    builds: int
    seed: int
    meetings: tuple[Meeting, ...]

    @cached_property
    def room_mm(self) -> Array:
        """The least room anywhere, in each build; below 0 where something touches. [mm]"""
        import numpy as np

        least: Array = np.min([each.room_mm for each in self.meetings], axis=0)
        return least

    @property
    def fits(self) -> int:
        """How many builds fit first time. [-]"""
        return self.builds - int((self.room_mm < -SLIP_MM).sum())

    @property
    def chance(self) -> float:
        """Share of the builds in which anything touches. [-]"""
        return 1.0 - self.fits / self.builds

    def touching(self, part: str = "", over: str = "") -> int:
        """Count the builds in which a part touches, or a spot is touched.

        Parameters
        ----------
        part : str
            What hangs above, in full; any when left out. [-]
        over : str
            The spot below, in full; any when left out. [-]

        Returns
        -------
        int
            How many builds. [-]

        References
        ----------
        None needed.
        """
        import numpy as np

        chosen = [each for each in self.meetings if part in ("", each.part) and over in ("", each.over)]
        return int(np.any([each.touches for each in chosen], axis=0).sum()) if chosen else 0

    @cached_property
    def first(self) -> tuple[tuple[Meeting, int], ...]:
        """What touches first, and in how many builds: what presses hardest. The most frequent comes first."""
        import numpy as np

        bad = self.room_mm < -SLIP_MM
        hardest = np.argmin([each.room_mm for each in self.meetings], axis=0)[bad]
        counts = np.bincount(hardest, minlength=len(self.meetings))
        found = [(each, int(count)) for each, count in zip(self.meetings, counts, strict=True) if count]
        return tuple(sorted(found, key=lambda each: -each[1]))

    @property
    def worst(self) -> str:
        """What touched most often, in words; where nothing did, what came nearest."""
        if not self.first:
            nearest = min(self.meetings, key=lambda each: float(each.room_mm.min()))
            left = format_length(max(float(nearest.room_mm.min()), 0.0), "mm")
            return f"the tightest is {nearest.words}, with {left} left"
        meeting, count = self.first[0]
        times = "once" if count == 1 else f"{count:,} times"
        return f"what touches first is mostly {meeting.words}, {times}"

    @property
    def in_words(self) -> str:
        """How many fit, in a sentence."""
        fits = "all" if self.fits == self.builds else "none" if not self.fits else f"{self.fits:,}"
        verb = "fits" if self.fits in (0, 1) else "fit"
        who = "builder" if self.builds == 1 else "builders"
        return f"Of {self.builds:,} {who} with this rule and this plan, {fits} {verb} first time; {self.worst}."

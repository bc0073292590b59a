"""The model on the virtual bench: its roofs, and every spot that something may touch, as they truly are."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING

from modelmath.job.virtual_bench.chance import Exactly
from modelmath.job.virtual_bench.rules import ReadOff, read_off

if TYPE_CHECKING:
    from modelmath.job.document import StationEntry, ZoneEntry
    from modelmath.job.plan import Plan
    from modelmath.job.virtual_bench.chance import Array


@dataclass(frozen=True)
class Below:
    """A spot that something above may touch.

    Attributes
    ----------
    name : str
        The zone, and where over it; or what stands or moves there. [-]
    top_mm : array or None
        How high it stands, in each build; None where only its gap to the roof was read. [mm]
    gap_mm : array or None
        That gap, in each build; None where its height is known. [mm]
    """

    name: str
    top_mm: Array | None
    gap_mm: Array | None = None


@dataclass(frozen=True)
class Model:
    """Shell and chassis as they truly are in each build.

    Attributes
    ----------
    plan : Plan
        For what stands where, and how far what moves swings. [-]
    read : ReadOff
        The readings. [mm]
    """

    plan: Plan
    read: ReadOff

    def roof(self, zones: tuple[str, ...]) -> Array | None:
        """Return the roof that a straight part meets: the lowest of all spots at which it was read.

        Parameters
        ----------
        zones : tuple of str
            The zones under which it stands. [-]

        Returns
        -------
        array or None
            Above the seat, in each build; None where no roof was read. [mm]

        References
        ----------
        None needed.
        """
        import numpy as np

        names = [name for zone in zones for name in self._undersides(zone)]
        if not names:
            return None
        lowest: Array = np.min([self.read.height(name) for name in dict.fromkeys(names)], axis=0)
        return lowest

    def below(self, name: str) -> Iterator[Below]:
        """Yield every spot of a zone, or the top of what stands or moves.

        Parameters
        ----------
        name : str
            Its name. [-]

        Yields
        ------
        Below
            Each spot that was read. [mm]

        References
        ----------
        None needed.
        """
        zone = self._zone(name)
        if zone is None:
            yield from self._standing(name)
            return
        if zone.gap or (zone.underside and zone.chassis_top):
            yield self._spot(name, zone.underside, zone.chassis_top, zone.gap)
        for each in self._stations(name):
            underside, top = each.underside or zone.underside, None if each.gap else each.chassis_top
            yield self._spot(f"{name}, {each.name}", underside, top or zone.chassis_top, each.gap)

    def _spot(self, name: str, underside: str | None, top: str | None, gap: str | None) -> Below:
        if gap is None:
            assert top is not None  # the plan has refused such a spot
            return Below(name, self.read.height(top))
        found = self.read.length(gap)
        return Below(name, None, found) if underside is None else Below(name, self.read.height(underside) - found)

    def _standing(self, name: str) -> Iterator[Below]:
        """Yield the highest that something gets: its top as read, and as much more as it swings, rocks or wobbles."""
        moving = next(each for each in self.plan.bench.moving if each.entry.name == name)
        if moving.entry.top is not None:  # what has no top reaches up to the roof, and nothing hangs over it
            read = float(self._stated.height(moving.entry.top)[0])
            yield Below(name, self.read.height(moving.entry.top) + (float(moving.swept.top_mm) - read))

    @cached_property
    def _stated(self) -> ReadOff:
        return read_off(self.plan.job, Exactly(1, 0))

    def _zone(self, name: str) -> ZoneEntry | None:
        return next((each for each in self.plan.job.zones if each.name == name), None)

    def _stations(self, zone: str) -> list[StationEntry]:
        return [each for each in self.plan.job.stations if each.zone == zone]

    def _undersides(self, zone: str) -> list[str]:
        entry = self._zone(zone)
        own = None if entry is None else entry.underside  # one that only its stations share counts, too
        return [name for name in (own, *(each.underside for each in self._stations(zone))) if name is not None]

"""The plan's speaker in its chamber: response, runner-up, what another volume buys, and where the theory ends."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING, Any

from modelmath.enclosure.net import net_volume
from modelmath.errors import ModelMathError
from modelmath.job.sound.leaking import Leaking, leaking_of
from modelmath.job.space.net import passing_of
from modelmath.lengths.uncertain import normal
from modelmath.sound.closed_box.box import ClosedBox, closed_box
from modelmath.sound.closed_box.stuffing import Stuffing, stuffing
from modelmath.sound.closed_box.valid import lumped_limit_hz
from modelmath.sound.closed_box.wanted import volume_curve, wanted_in_words
from modelmath.sound.driver.completing import assumed, complete

if TYPE_CHECKING:
    from modelmath.enclosure import Chamber
    from modelmath.job.plan import Plan
    from modelmath.sound.driver.driver import Driver


POINTS = 80
HEARD = 0.03  # of the -3 dB point: a lesser change is not heard; common practice, no source
ALIKE = 0.01  # of the -3 dB point: two curves as near as that are one to the eye


@dataclass(frozen=True)
class Curve:
    """The -3 dB point against the chamber's volume.

    Attributes
    ----------
    volumes_mm3, f3_hz : tuple of float
        The curve. [mm3, Hz]
    marked : tuple of (str, float, float)
        Name, volume and -3 dB point of chambers on it, this one first. [mm3, Hz]
    """

    volumes_mm3: tuple[float, ...]
    f3_hz: tuple[float, ...]
    marked: tuple[tuple[str, float, float], ...]

    @property
    def in_words(self) -> str:
        """What each of the marked chambers gives, a sentence."""
        (_, here, f3_here), *others = self.marked
        said = [f"{name}, {volume / 1000:.2f} cm3, gives {f3:.0f} Hz" for name, volume, f3 in others]
        heard = any(abs(f3 / f3_here - 1) > HEARD for _, _, f3 in others)
        none = "" if heard else " Nobody would hear the difference."
        return f"This chamber, {here / 1000:.2f} cm3, has its -3 dB point at {f3_here:.0f} Hz; {'; '.join(said)}.{none}"


def curve_of(driver: Driver, marked: Sequence[tuple[str, float]], filling: Stuffing) -> Curve:
    """Return the -3 dB point against volume, with some chambers marked on it.

    Parameters
    ----------
    driver : Driver
        The speaker. [-]
    marked : sequence of (str, float)
        Name and net volume of each chamber to mark, this one first. [mm3]
    filling : Stuffing
        What fills them. [-]

    Returns
    -------
    Curve
        From well below the smallest of them to twice the largest. [mm3, Hz]

    References
    ----------
    `volume_curve`.
    """
    import numpy as np

    volumes = [volume for _, volume in marked]
    grid = np.geomspace(0.15 * min(volumes), 2 * max(volumes), POINTS)
    f3_hz, _ = volume_curve(driver, grid, stuffing=filling)
    levels, _ = volume_curve(driver, np.array(volumes), stuffing=filling)
    named = tuple((name, volume, float(level)) for (name, volume), level in zip(marked, levels.tolist(), strict=True))
    return Curve(tuple(grid.tolist()), tuple(f3_hz.tolist()), named)


@dataclass(frozen=True)
class InChamber:
    """The plan's speaker in its chamber; each part is worked out when first asked for.

    Attributes
    ----------
    plan : Plan
        The plan, with a chamber. [-]
    given : Driver
        The speaker as far as its parameters are entered. [-]
    """

    plan: Plan
    given: Driver

    @cached_property
    def driver(self) -> Driver:
        """The same with what is missing derived or bounded. [-]"""
        return complete(self.given)

    @cached_property
    def assumed(self) -> tuple[str, ...]:
        """What was estimated, a sentence each; none where nothing was. [-]"""
        return assumed(self.driver)

    @cached_property
    def volume(self) -> Any:
        """The chamber's net volume, as uncertain as the gross one. [mm3]"""
        net, gross = self.plan.net_volume, self.plan.volume
        assert net is not None
        assert gross is not None
        return normal(float(net.net_mm3), float(gross.value.s), "chamber volume")

    @property
    def stuffing(self) -> Stuffing:
        """What fills the chamber. [-]"""
        return stuffing(self.plan.job.sound.stuffing)

    @cached_property
    def box(self) -> ClosedBox:
        """The speaker in the chamber, sealed. [-]"""
        return closed_box(self.driver, self.volume, stuffing=self.stuffing)

    @cached_property
    def runner_up(self) -> ClosedBox | None:
        """The same in the next largest chamber; None where there is none. [-]"""
        chamber = self.plan.runner_up
        if chamber is None:
            return None
        volume = self._net_mm3(chamber)
        if volume is None:
            return None
        return closed_box(self.driver, volume, stuffing=self.stuffing)

    @property
    def runner_up_apart(self) -> ClosedBox | None:
        """The same where its curve can be told from this chamber's, so that drawing it tells something. [-]"""
        other = self.runner_up
        if other is None or abs(other.f3_hz.best / self.box.f3_hz.best - 1) < ALIKE:
            return None
        return other

    def _net_mm3(self, chamber: Chamber) -> float | None:
        """Return another chamber's net volume; None where its parts don't fit."""
        from modelmath.enclosure import assemble

        plan = self.plan
        assert plan.enclosure is not None
        try:
            parts = assemble.parts_of(plan.enclosure, chamber, plan.marks)
            bench = plan.bench
            found = net_volume(chamber, bench.speaker, parts, plan.limits, passing_of(plan), decoder=bench.decoder)
        except ModelMathError:
            return None
        return float(found.net_mm3)

    @cached_property
    def longest_mm(self) -> float:
        """The chamber's longest inside length. [mm]"""
        chamber = self.plan.chamber
        assert chamber is not None
        long = float(chamber.inner_end_mm - chamber.inner_start_mm)
        wide = max(float(bay.zone.width_mm) for bay in chamber.bays)
        high = max(float(bay.zone.roof_mm - chamber.floor_mm) for bay in chamber.bays)
        return max(long, wide, high)

    @property
    def valid_to_hz(self) -> float:
        """The frequency up to which the chamber may be taken as one spring of air. [Hz]"""
        return float(lumped_limit_hz(self.longest_mm))

    @cached_property
    def wanted(self) -> str:
        """Which chamber the wanted Qtc takes, or why none gives it; empty where none is wanted. [-]"""
        wanted = self.plan.bench.sounds.wanted_q
        if wanted is None:
            return ""
        return wanted_in_words(self.driver, wanted, self.box.volume_mm3.best, stuffing=self.stuffing)

    @cached_property
    def longer_mm3(self) -> float:
        """What a quarter of a scale foot more length would add to the chamber. [mm3]"""
        chamber = self.plan.chamber
        assert chamber is not None
        length = float(chamber.inner_end_mm - chamber.inner_start_mm)
        quarter = float(self.plan.scale.mm_per_foot) / 4
        return float(chamber.volume_mm3) / length * quarter

    @cached_property
    def curve(self) -> Curve:
        """The -3 dB point against volume, with the chambers there are marked on it. [mm3, Hz]"""
        here = self.box.volume_mm3.best
        marked = [("this chamber", here), ("a quarter of a scale foot longer", here + self.longer_mm3)]
        if self.runner_up is not None:
            marked.append(("the next largest", self.runner_up.volume_mm3.best))
        return curve_of(self.driver, marked, self.stuffing)

    @cached_property
    def leaking(self) -> Leaking:
        """What leaks do, how tight is tight enough, and how to test it. [-]"""
        return leaking_of(self)


def in_chamber(plan: Plan) -> InChamber | None:
    """Return the plan's speaker in its chamber.

    Parameters
    ----------
    plan : Plan
        The plan. [-]

    Returns
    -------
    InChamber or None
        None while there is no chamber that holds the speaker. [-]

    References
    ----------
    `closed_box`.
    """
    driver = plan.bench.sounds.driver
    if plan.chamber is None or plan.chamber.seat_mm is None or driver is None:
        return None
    return InChamber(plan, driver)

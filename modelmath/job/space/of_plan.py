"""The sections of a plan that are about the space inside the shell; each is computed when first asked for, and kept."""

from __future__ import annotations

from functools import cached_property
from typing import TYPE_CHECKING, cast

if TYPE_CHECKING:
    from modelmath.enclosure.balance import Balance
    from modelmath.enclosure.choosing.trade import TradeCurve
    from modelmath.enclosure.net import NetVolume
    from modelmath.job.plan import Plan
    from modelmath.job.room_left.floor_set import FloorSet
    from modelmath.job.space.hole_places import WallHoles
    from modelmath.job.space.lengthwise import AlongGap
    from modelmath.job.space.options import WayOut
    from modelmath.job.space.skyline import FreeStretch
    from modelmath.job.space.sounding import Sounding
    from modelmath.job.space.stepped_floor import SteppedFloor


class InTheSpace:
    """What a plan says of the space inside the shell."""

    @property
    def _plan(self) -> Plan:
        return cast("Plan", self)

    @property
    def mark_name(self) -> str:
        """What places along the length count from, by the name it goes by at the bench. [-]"""
        ends = self._plan.bench.ends
        return "fore-aft mark" if ends is None else ends.mark

    @cached_property
    def floor_set(self) -> FloorSet:
        """How far above its clearance the floor lies, and what needs that. [mm]"""
        from modelmath.job.room_left.floor_set import floor_set

        return floor_set(self._plan)

    @cached_property
    def skyline(self) -> tuple[FreeStretch, ...]:
        """The free depth along the length, front to rear; none while an entry for it is missing. [mm]"""
        from modelmath.job.space.skyline import skyline_of

        return skyline_of(self._plan)

    @cached_property
    def along_gaps(self) -> tuple[AlongGap, ...]:
        """The room along the length between each wall and a higher step beside it. [mm]"""
        from modelmath.job.space.lengthwise import along_gaps

        return along_gaps(self._plan)

    @cached_property
    def sounding(self) -> Sounding | None:
        """The way out for the sound of a speaker that faces down; None where there is none. [mm, mm2]"""
        from modelmath.job.space.sounding import sounding_of

        return sounding_of(self._plan)

    @cached_property
    def balance(self) -> Balance | None:
        """What each truck carries before and after; None where no weight is entered. [g, mm]"""
        from modelmath.job.space.weight import balance_of

        return balance_of(self._plan)

    @cached_property
    def hole_places(self) -> tuple[WallHoles, ...]:
        """Where the holes lie on each wall; none where nothing passes one. [mm]"""
        from modelmath.job.space.hole_places import hole_places

        return hole_places(self._plan)

    @cached_property
    def trade(self) -> TradeCurve | None:
        """Volume and height for every place of the bulkhead; None while there is no chamber. [mm]"""
        from modelmath.job.space.options import trade_of

        return trade_of(self._plan)

    @cached_property
    def ways_out(self) -> tuple[WayOut, ...]:
        """Where something does not fit, every single change that makes it fit, the least first. [mm]"""
        from modelmath.job.space.options import ways_out

        return ways_out(self._plan)

    @cached_property
    def net_volume(self) -> NetVolume | None:
        """Gross and net volume, with what each thing takes; None while there is no chamber. [mm3]"""
        from modelmath.job.space.net import net_of

        return net_of(self._plan)

    @cached_property
    def stepped(self) -> SteppedFloor | None:
        """What steps of the floor would buy, or why not; None without a chamber, or where none are asked for. [mm3]"""
        from modelmath.job.space.stepped_floor import stepped_floor

        return stepped_floor(self._plan)

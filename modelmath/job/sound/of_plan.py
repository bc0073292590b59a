"""The sections of a plan that are about its sound; each is computed when first asked for, and kept."""

from __future__ import annotations

from functools import cached_property
from typing import TYPE_CHECKING, cast

if TYPE_CHECKING:
    from modelmath.job.plan import Plan
    from modelmath.job.sound.comparing import Comparison
    from modelmath.job.sound.driven import Driven
    from modelmath.job.sound.in_chamber import InChamber


class OfSound:
    """What a plan says of its sound."""

    @property
    def _sounding_plan(self) -> Plan:
        return cast("Plan", self)

    @cached_property
    def sound(self) -> InChamber | None:
        """The speaker in its chamber; None while there is no chamber that holds it. [-]"""
        from modelmath.job.sound.in_chamber import in_chamber

        return in_chamber(self._sounding_plan)

    @cached_property
    def driven(self) -> Driven:
        """Whether the decoder drives the speaker, and every wiring with others. [-]"""
        from modelmath.job.sound.driven import driven_of

        return driven_of(self._sounding_plan)

    @cached_property
    def comparison(self) -> Comparison | None:
        """Other speakers and seats over the same cavity; None while there is no cavity. [-]"""
        from modelmath.job.sound.comparing import compare

        return compare(self._sounding_plan)

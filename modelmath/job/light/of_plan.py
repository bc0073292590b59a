"""The sections of a plan that are about its light; each is computed when first asked for, and kept."""

from __future__ import annotations

from functools import cached_property
from typing import TYPE_CHECKING, cast

if TYPE_CHECKING:
    from modelmath.job.light.lit import Lit
    from modelmath.job.plan import Plan


class OfLight:
    """What a plan says of its light."""

    @property
    def _lit_plan(self) -> Plan:
        return cast("Plan", self)

    @cached_property
    def light(self) -> Lit:
        """Lamps, strands, lens ends, leads, and what feeds them, as far as they are entered. [-]"""
        from modelmath.job.light.lit import Lit

        return Lit(self._lit_plan)

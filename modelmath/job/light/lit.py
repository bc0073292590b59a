"""All that lights in a plan, section by section; each is computed when first asked for, and kept."""

from __future__ import annotations

from collections.abc import Iterator
from functools import cached_property
from typing import TYPE_CHECKING

from modelmath.job.light.fed import budget_of, contacts_of, heat_in, kept_alive, lead_lines
from modelmath.job.light.gauge_strip import GaugeStrip, gauge_strips
from modelmath.job.light.lamps import lamp_lines
from modelmath.job.light.strands import matched, strand_lines

if TYPE_CHECKING:
    from modelmath.job.light.fed import KeptAlive, LeadLine
    from modelmath.job.light.lamps import LampLine
    from modelmath.job.light.strands import StrandLine
    from modelmath.job.plan import Plan
    from modelmath.light.feeding.budget import Budget
    from modelmath.light.feeding.heat import Heat
    from modelmath.light.feeding.plugs import Contacts
    from modelmath.light.strands.lamp_to_lens import Matching


class Lit:
    """What lights in a plan.

    Parameters
    ----------
    plan : Plan
        The plan. [-]
    """

    def __init__(self, plan: Plan) -> None:
        self._plan = plan

    @property
    def entered(self) -> bool:
        """Whether anything of it is entered. [-]"""
        return self._plan.bench.lights.entered

    @cached_property
    def lamps(self) -> tuple[LampLine, ...]:
        """The lamps of the job, each with its resistor. [-]"""
        return lamp_lines(self._plan)

    @cached_property
    def strands(self) -> tuple[StrandLine, ...]:
        """The strands, each with its way, its length and its lens. [-]"""
        return strand_lines(self._plan)

    @cached_property
    def matched(self) -> tuple[tuple[str, Matching], ...]:
        """How alike the lenses of one lamp shine, lamp by lamp. [-]"""
        return matched(self.strands)

    @cached_property
    def gauge_strips(self) -> tuple[GaugeStrip, ...]:
        """Strips of holes to match lenses by, one for each size of lens. [mm]"""
        return gauge_strips(self.strands)

    @cached_property
    def budget(self) -> Budget | None:
        """What the lamps need of the decoder; None while no lamp's current is known. [-]"""
        return budget_of(self._plan, self.lamps)

    @cached_property
    def heat(self) -> Heat | None:
        """The heat of lamps and decoder; None while nothing of it is known. [-]"""
        return heat_in(self._plan, self.lamps)

    @cached_property
    def keep_alive(self) -> KeptAlive | None:
        """What the keep-alive does; None where none is entered. [-]"""
        return kept_alive(self._plan.bench.lights)

    @cached_property
    def leads(self) -> tuple[LeadLine, ...]:
        """The leads. [-]"""
        return lead_lines(self._plan, self.lamps)

    @cached_property
    def contacts(self) -> Contacts | None:
        """Poles between shell and chassis; None where no lead crosses. [-]"""
        return contacts_of(self._plan, self.leads)

    @property
    def warnings(self) -> tuple[str, ...]:
        """What is wrong or over what is allowed, in sentences. [-]"""
        return tuple(self._warnings())

    def _warnings(self) -> Iterator[str]:
        if not self.entered:
            return
        if self.budget is not None:
            yield from self.budget.faults
        for each in self.leads:
            if each.problem and each.gauge:
                yield each.problem
        if self.contacts is not None:
            yield from self.contacts.faults
        if self.keep_alive is not None and self.keep_alive.does is not None:
            yield from self.keep_alive.does.faults

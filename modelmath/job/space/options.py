"""What else could be: the bulkhead elsewhere; and where it does not fit, what would make it."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import TYPE_CHECKING

from modelmath.enclosure.choosing.changes import Remedy
from modelmath.enclosure.choosing.remedies import cause_of, remedies
from modelmath.enclosure.choosing.trade import Ends, TradeCurve, trade_curve
from modelmath.errors import ModelMathError
from modelmath.job.bench.layout import cavity_of
from modelmath.job.room_left.sizes import chance_in_words
from modelmath.job.space.left_free import left_free
from modelmath.lengths.text import format_length

if TYPE_CHECKING:
    from modelmath.job.plan import Plan


@dataclass(frozen=True)
class WayOut:
    """A change that makes a job fit that does not.

    Attributes
    ----------
    remedy : Remedy
        The change. [mm]
    chance : float or None
        Of less clearance, the chance of touching with it; None of other changes. [-]
    """

    remedy: Remedy
    chance: float | None = None

    @property
    def in_words(self) -> str:
        """What to do, and for less clearance what it risks."""
        if self.chance is None:
            return self.remedy.sentence
        return f"{self.remedy.sentence} The chance of touching is then {chance_in_words(self.chance)}."


def trade_of(plan: Plan) -> TradeCurve | None:
    """Return volume and height for every place of the bulkhead, the decoder left where it is.

    Parameters
    ----------
    plan : Plan
        The plan. [-]

    Returns
    -------
    TradeCurve or None
        None while there is no chamber, or the shell's own ends close it. [mm]

    References
    ----------
    `trade_curve`.
    """
    chamber, enclosure, free = plan.chamber, plan.enclosure, left_free(plan)
    if chamber is None or enclosure is None or free is None or not (chamber.front_wall or chamber.rear_wall):
        return None
    ends: Ends = "front" if chamber.front_wall else "rear"
    return trade_curve(free.cavity, free.limits, enclosure.speaker, ends, free.ends)


def ways_out(plan: Plan) -> tuple[WayOut, ...]:
    """Return every single change that makes all fit, the least first; none where all fits.

    Parameters
    ----------
    plan : Plan
        The plan. [-]

    Returns
    -------
    tuple of WayOut
        The changes. [mm]

    References
    ----------
    `remedies`; the chance of touching is that of the plan with that clearance.
    """
    cavity = None if plan.misfit is None else cavity_of(plan.bench)
    if cavity is None:
        return ()
    found = remedies(cavity, plan.limits, plan.bench.speaker, plan.bench.decoder)
    return tuple(WayOut(each, _chance_with(plan, each)) for each in found)


def misfit_cause(plan: Plan) -> Remedy | None:
    """Return the reading or obstacle that is the cause of a misfit: the one that need change least.

    Parameters
    ----------
    plan : Plan
        The plan. [-]

    Returns
    -------
    Remedy or None
        None where all fits, or no single one is the cause. [mm]

    References
    ----------
    `cause_of`.
    """
    cavity = None if plan.misfit is None else cavity_of(plan.bench)
    return None if cavity is None else cause_of(cavity, plan.limits, plan.bench.speaker, plan.bench.decoder)


def _chance_with(plan: Plan, remedy: Remedy) -> float | None:
    """Return the chance of touching with less clearance over the chassis."""
    if remedy.kind != "clearance" or remedy.needed_mm is None:
        return None
    keep = Fraction(remedy.needed_mm) - plan.bench.varying.takes_mm
    if keep < 0:
        return None
    clearance = plan.job.clearance.model_copy(update={"keep": format_length(keep, "mm")})
    from modelmath.job.plan import Plan as NewPlan

    try:
        return NewPlan(plan.job.model_copy(update={"clearance": clearance})).gap.chance
    except ModelMathError:
        return None

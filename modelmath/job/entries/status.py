"""How far each step of the walkthrough is, in words."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from modelmath.job.entries.screen import FIRST

if TYPE_CHECKING:
    from modelmath.job.entries.screen import Outcome
    from modelmath.job.plan import Plan


@dataclass(frozen=True)
class StepStatus:
    """How far the steps are.

    Attributes
    ----------
    readings, supports, cuts, printing : str
        Each step's, in a few words. [-]
    """

    readings: str
    supports: str
    cuts: str
    printing: str


def step_status(outcome: Outcome, plan: Plan | None, printed: Plan | None = None) -> StepStatus:
    """Return how far each step is.

    Parameters
    ----------
    outcome : Outcome
        What the entries come to. [-]
    plan : Plan or None
        The last plan that they gave; None for none yet. [-]
    printed : Plan or None
        The plan that was printed last; None for none. [-]

    Returns
    -------
    StepStatus
        In words. [-]

    References
    ----------
    None needed.

    Examples
    --------
    >>> from modelmath.job.entries.screen import blank_job, read_entries
    >>> step_status(read_entries({"scale": "HO"}, blank_job()), None)  # doctest: +NORMALIZE_WHITESPACE
    StepStatus(readings='5 of 6 still to enter', supports='waits for the two readings',
    cuts='waits for the two readings', printing='waits for the two readings')
    """
    # The sizes shown are of the last entries that gave a plan.
    good = plan if outcome.job is not None or plan is None else None
    if good is None:
        waits = "waits for the two readings" if plan is None else "waits until the entries are mended"
        return StepStatus(_entered(outcome), waits, waits, waits)
    return StepStatus(_entered(outcome), _supports(good), _cuts(good), _printed(good, printed))


def _entered(outcome: Outcome) -> str:
    wrong, empty = sum(name in outcome.messages for name in FIRST), len(outcome.waiting)
    said = [f"{wrong} to mend"] if wrong else []
    said += [f"{empty} of {len(FIRST)} still to enter"] if empty else []
    return ", ".join(said) or "done"


def _supports(plan: Plan) -> str:
    if any(line.part.kind == "support" for line in plan.lines):
        return "done"
    return "waits for the flange's thickness"


def _cuts(plan: Plan) -> str:
    parts = sum(line.part.count for line in plan.lines)
    return f"{parts} part{'s' if parts != 1 else ''}"


def _printed(plan: Plan, printed: Plan | None) -> str:
    if printed is None:
        return "not printed yet"
    return "printed" if printed.job == plan.job else "changed since it was printed"

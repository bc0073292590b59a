"""A floor with steps for a plan: what each step buys, why there is none, and every piece with its rule settings."""

from __future__ import annotations

from dataclasses import dataclass, replace
from fractions import Fraction
from typing import TYPE_CHECKING

from modelmath.enclosure.fitting.held import let_go
from modelmath.enclosure.fitting.pockets import INSIDE
from modelmath.enclosure.stepped import SteppedPieces, fit_stepped, pieces_of, what_steps_buy, why_no_steps
from modelmath.job.space.left_free import left_free
from modelmath.job.stock import PartLine, part_lines

if TYPE_CHECKING:
    from modelmath.enclosure.stepped import StepGain, SteppedChamber
    from modelmath.job.plan import Plan
    from modelmath.job.space.left_free import LeftFree
    from modelmath.lengths.numbers import Number


@dataclass(frozen=True)
class SteppedFloor:
    """What a floor with steps would buy.

    Attributes
    ----------
    reason : str
        Why steps are not worked out; empty where they are. [-]
    gains : tuple of StepGain
        A row for each number of steps that holds more than fewer; none where there is a reason. [mm, mm3]
    """

    reason: str
    gains: tuple[StepGain, ...]


def stepped_floor(plan: Plan) -> SteppedFloor | None:
    """Return what steps of the floor would buy, up to as many as are asked for, the decoder left where it is.

    No riser is lower than the finest mark that the job is cut to. Where an end of the chamber is held, no floor reaches
    beyond it. A decoder below the floor counts as something that
    stands there, across the full width.

    Parameters
    ----------
    plan : Plan
        The plan. [-]

    Returns
    -------
    SteppedFloor or None
        None while there is no chamber, or where no steps are asked for. [-]

    References
    ----------
    `fit_stepped`.
    """
    enclosure = plan.enclosure
    if enclosure is None or plan.chamber is None or not plan.job.chamber.steps:
        return None
    reason = why_no_steps(enclosure.cavity, plan.limits, enclosure.speaker) or _decoder_inside(plan)
    if reason:
        return SteppedFloor(reason, ())
    free = left_free(plan)
    assert free is not None
    limits = replace(let_go(free.limits), cut_round=False)
    least = Fraction(plan.marks.rule.mark_mm(plan.marks.finest))
    steps = plan.job.chamber.steps
    found = fit_stepped(free.cavity, limits, enclosure.speaker, steps, space=_held(free), least_riser_mm=least)
    return SteppedFloor("", what_steps_buy(found))


def stepped_pieces(plan: Plan, chamber: SteppedChamber) -> tuple[SteppedPieces, tuple[PartLine, ...]]:
    """Return a stepped chamber as it is cut, and each piece with its rule settings and what it is cut from.

    Parameters
    ----------
    plan : Plan
        The plan. [-]
    chamber : SteppedChamber
        One of those that `stepped_floor` found. [mm]

    Returns
    -------
    tuple of two
        Chamber and parts, and the same parts with rule settings and stock. None of them is in the plan's cut list.
        [mm]

    Raises
    ------
    DoesNotFit
        If a wall, or a support of the speaker, is left no height.
    OutOfRange
        If a piece is longer than the rule.

    References
    ----------
    `pieces_of`, `part_lines`.
    """
    free = left_free(plan)
    assert plan.enclosure is not None
    assert free is not None
    limits = replace(let_go(free.limits), cut_round=False)
    found = pieces_of(chamber, free.cavity, limits, plan.enclosure.speaker, plan.marks, _held(free))
    return found, part_lines(found.parts, plan.marks, plan.bench, limits)


def _held(free: LeftFree) -> tuple[Number, Number]:
    """Return what may be used of the length, no further than an end of the chamber that is held."""
    (start, end), limits = free.ends, free.limits
    return (
        start if limits.front_at_mm is None else max(start, limits.front_at_mm),
        end if limits.rear_at_mm is None else min(end, limits.rear_at_mm),
    )


def _decoder_inside(plan: Plan) -> str:
    pocket = None if plan.chamber is None else plan.chamber.pocket
    if pocket is None or pocket.where != INSIDE:
        return ""
    return "Steps are not worked out while the decoder lies inside the chamber: its place there would change with them."

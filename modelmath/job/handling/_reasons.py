"""Why something can't stand somewhere, in words."""

from __future__ import annotations

from typing import TYPE_CHECKING

from modelmath.enclosure.fitting.held import held_words
from modelmath.enclosure.limits import Limits
from modelmath.errors import DoesNotFit, ModelMathError
from modelmath.job.handling.handle import Handle
from modelmath.job.handling.seat import KEY

if TYPE_CHECKING:
    from modelmath.job.plan import Plan


def less_held(before: Plan, after: Plan) -> str:
    """Say what no longer fits that did; nothing where all that did does."""
    one, other = before.enclosure, after.enclosure
    lost = other is None or (one is not None and ((other.speaker is None) > (one.speaker is None)))
    lost = lost or (one is not None and other is not None and (other.decoder is None) > (one.decoder is None))
    if after.misfit is None or not (lost or before.misfit is None):
        return ""
    return cause_words(after, after.misfit)


def cause_words(plan: Plan, fault: ModelMathError) -> str:
    """Say why, without the remedies of a plan that nobody is moving about in."""
    if not isinstance(fault, DoesNotFit):
        return sentence(str(fault))
    return miss_words(plan.limits, fault)


def miss_words(limits: Limits, fault: DoesNotFit) -> str:
    """Say by how much something would miss, without what holds it and without a remedy."""
    cause = fault.cause.removeprefix(f"with {held_words(limits)}, ")
    what = fault.what[:1].lower() + fault.what[1:]
    return str(DoesNotFit(f"{what} then", fault.short_mm, cause, "")).rstrip()


def elsewhere(handle: Handle) -> str:
    """Say why the plan puts something elsewhere than it was told."""
    if handle.key == KEY:
        return "the roof, the floor or what stands there leaves it no room, so that the plan would seat it elsewhere."
    return "the shell itself ends the chamber there."


def sentence(text: str) -> str:
    """Return a text with a full stop."""
    return text if text.endswith(".") else f"{text}."

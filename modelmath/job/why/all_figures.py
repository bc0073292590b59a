"""Every figure of a plan."""

from __future__ import annotations

from typing import TYPE_CHECKING

from modelmath.job.why.figures import Figure
from modelmath.job.why.subjects import Explained

if TYPE_CHECKING:
    from modelmath.job.plan import Plan


def figures_of(plan: Plan) -> dict[str, Figure]:
    """Return the figures of a plan that take no search, by name.

    Parameters
    ----------
    plan : Plan
        The plan. [-]

    Returns
    -------
    dict of str to Figure
        By name; sections that can't be worked out yet have none. [-]

    References
    ----------
    Each figure names its own.
    """
    return Explained(plan).at_once


def every_figure_of(plan: Plan) -> dict[str, Figure]:
    """Return every figure of a plan, those that take a search too, by name.

    Parameters
    ----------
    plan : Plan
        The plan. [-]

    Returns
    -------
    dict of str to Figure
        By name; sections that can't be worked out yet have none. [-]

    References
    ----------
    Each figure names its own.
    """
    return plan.explained.every

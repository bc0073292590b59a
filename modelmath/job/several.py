"""Several of one model: what counts for all of them, and what stays for one."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from modelmath.job.plan import Plan


def for_models(models: int) -> str:
    """Return for how many models something counts, to be put behind a heading.

    Parameters
    ----------
    models : int
        How many are built. [-]

    Returns
    -------
    str
        Empty for one model. [-]

    References
    ----------
    None needed.

    Examples
    --------
    >>> for_models(3), for_models(1)
    (', for 3 models', '')
    """
    return f", for {models} models" if models > 1 else ""


def each_for(models: int) -> str:
    """Return how often each line of a list is cut, to be put behind its heading.

    Parameters
    ----------
    models : int
        How many are built. [-]

    Returns
    -------
    str
        Empty for one model. [-]

    References
    ----------
    None needed.

    Examples
    --------
    >>> each_for(3), each_for(1)
    (', each 3 times for 3 models', '')
    """
    return f", each {models} times for {models} models" if models > 1 else ""


def several_warnings(plan: Plan) -> Iterator[str]:
    """Yield what counts for all models and what for one, where several are built.

    Parameters
    ----------
    plan : Plan
        The plan. [-]

    Yields
    ------
    str
        One sentence; none for one model. [-]

    References
    ----------
    None needed.
    """
    if plan.models > 1:
        yield (
            f"The cut plan, the lists of wires and strands and what to buy are for {plan.models} models. All other "
            "counts, and what to drill, are for one: each model's shell and chassis are measured by themselves before "
            "its parts are glued."
        )

"""Which ends of the chamber the job holds, as it is said beside the choice of the largest."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from modelmath.job.plan import Plan


def of_those_held(plan: Plan) -> str:
    """Say that only chambers were compared that end where the job holds an end.

    Parameters
    ----------
    plan : Plan
        The plan. [-]

    Returns
    -------
    str
        To go on a sentence with; empty where the plan chooses both ends. [-]

    References
    ----------
    None needed.

    Examples
    --------
    >>> from modelmath.job import plan
    >>> from modelmath.job.storage.files import load_job
    >>> from modelmath.tables import data_folder
    >>> job = load_job(data_folder() / "jobs" / "railcar-n.toml")
    >>> held = job.model_copy(update={"chamber": job.chamber.model_copy(update={"front_end": "10 mm"})})
    >>> of_those_held(plan(job)), of_those_held(plan(held))
    ('', ', of those whose front end stands where the job holds it')
    """
    ends = (("front", plan.limits.front_at_mm), ("rear", plan.limits.rear_at_mm))
    held = [end for end, at in ends if at is not None]
    return f", of those whose {' and '.join(held)} end stands where the job holds it" if held else ""

"""Everything wrong with a job file, each fault with its place."""

from __future__ import annotations

import os
from pathlib import Path

from modelmath.errors import JobError, ModelMathError
from modelmath.job.bench.bench import Bench
from modelmath.job.plan import Plan
from modelmath.job.storage.files import read_job
from modelmath.job.storage.locate import line_of


def check_job(path: str | os.PathLike[str]) -> list[JobError]:
    """Return everything wrong with a job file.

    Parameters
    ----------
    path : str or path
        The TOML file. [-]

    Returns
    -------
    list of JobError
        Faults of form, or else of what the fields say, or else what keeps the plan from being worked out. [-]

    References
    ----------
    TOML 1.0.0; the fields are those of `Job`.
    """
    job, faults = read_job(path)
    if job is None:
        return faults
    file = Path(path)
    text = file.read_text("utf-8-sig")
    bench = Bench(job, file.name)
    if bench.faults:
        return [_with_line(fault, text) for fault in bench.faults]
    try:
        plan = Plan(job)
        _ = (plan.lines, plan.cuts, plan.holes, plan.steps, plan.figures)
        if plan.misfit is not None:
            raise plan.misfit
    except ModelMathError as reason:
        return [JobError(file.name, "the plan", str(reason), "")]
    return []


def _with_line(fault: JobError, text: str) -> JobError:
    line = line_of(text, fault.path) if fault.path else None
    where = f"line {line}, {fault.where}" if line else fault.where
    return JobError(fault.file, where, fault.problem, fault.write, fault.path)

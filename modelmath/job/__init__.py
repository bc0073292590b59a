"""The job document, its storage, and the plan that follows from it."""

from modelmath.job.document import Job
from modelmath.job.plan import Plan, plan
from modelmath.job.rescaled import Change, changes, to_scale
from modelmath.job.storage.checks import check_job
from modelmath.job.storage.files import load_job, save_job

__all__ = ["Change", "Job", "Plan", "changes", "check_job", "load_job", "plan", "save_job", "to_scale"]

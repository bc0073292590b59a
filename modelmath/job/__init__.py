"""The job document, its storage, and the plan that follows from it."""

from modelmath.job.document import Job
from modelmath.job.plan import Plan, plan
from modelmath.job.rescaled import Change, changes, to_scale
from modelmath.job.storage.checks import check_job
from modelmath.job.storage.copies import Conflict, previous_copy
from modelmath.job.storage.files import load_job, open_job, save_job, store_job

__all__ = [
    "Change",
    "Conflict",
    "Job",
    "Plan",
    "changes",
    "check_job",
    "load_job",
    "open_job",
    "plan",
    "previous_copy",
    "save_job",
    "store_job",
    "to_scale",
]

"""Why this number: every figure of a plan, with the readings, tables and formulas it follows from."""

from modelmath.job.why.figures import Figure, Why, explain
from modelmath.job.why.finding import numbers_in, showing
from modelmath.job.why.subjects import SUBJECTS, Explained, Subject

__all__ = [
    "SUBJECTS",
    "Explained",
    "Figure",
    "Subject",
    "Why",
    "explain",
    "numbers_in",
    "showing",
]

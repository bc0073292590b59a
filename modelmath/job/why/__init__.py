"""Why this number: every figure of a plan, with the readings, tables and formulas it follows from."""

from modelmath.job.why.all_figures import figures_of
from modelmath.job.why.figures import Figure, Why, explain

__all__ = ["Figure", "Why", "explain", "figures_of"]

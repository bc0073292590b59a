"""Several jobs at once: a folder as a table, two compared, one cut plan over all, how far each is."""

from modelmath.job.fleet.folder import Overview, overview
from modelmath.job.fleet.rows import Row

__all__ = ["Overview", "Row", "overview"]

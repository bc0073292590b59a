"""A job taken to another scale: shell and chassis scale, the bench and bought parts stay, the rest is solved anew."""

from modelmath.job.rescaled.differences import Change, Follows, changes
from modelmath.job.rescaled.taking_over import to_scale
from modelmath.job.rescaled.treatments import TREATMENTS, Treatment

__all__ = ["TREATMENTS", "Change", "Follows", "Treatment", "changes", "to_scale"]

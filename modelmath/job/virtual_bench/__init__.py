"""The virtual bench: a plan built many times over, each time with other errors, to see whether anything touches.

It is the check on the plan's chances, so nothing here comes from the model of errors behind them.
"""

from modelmath.job.virtual_bench.build import build_many
from modelmath.job.virtual_bench.builds import Builds, Meeting

__all__ = ["Builds", "Meeting", "build_many"]

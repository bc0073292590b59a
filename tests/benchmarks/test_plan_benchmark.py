"""How long a plan takes, every section, once tables and modules are loaded; at most 50 ms for a demo job.

Times are of the processor alone.
"""

from __future__ import annotations

from time import process_time

import pytest
from sample_jobs import DEMOS

from modelmath import plan

LIMIT_S = 0.050


def every_section(made):
    found = plan(made)
    return (
        found.missing, found.enclosure, found.chamber, found.governing, found.parts, found.gap, found.lines,
        found.cuts, found.holes, found.steps, found.warnings, found.figures,
    )  # fmt: skip


@pytest.mark.parametrize("name", DEMOS)
@pytest.mark.benchmark(timer=process_time)
def test_a_plan_is_quick(benchmark, name):
    every_section(DEMOS[name])
    found = benchmark.pedantic(every_section, args=(DEMOS[name],), rounds=30, warmup_rounds=3)
    assert len(found) == 12
    assert benchmark.stats.stats.median <= LIMIT_S

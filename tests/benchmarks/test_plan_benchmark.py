"""How long a plan takes, every section, once tables and modules are loaded; at most 50 ms for a demo job.

Times are of the processor alone.
"""

from __future__ import annotations

from statistics import median
from time import process_time

import pytest
from benchmarks.beside import PLAIN_LOOP, beside, plain_loop, seconds_of
from sample_jobs import DEMO_PATHS, DEMOS

from modelmath import load_job, plan

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
    found = benchmark.pedantic(every_section, args=(DEMOS[name],), rounds=15, warmup_rounds=2)
    took, file = benchmark.stats.stats.median, next(path for path in DEMO_PATHS if path.stem == name)
    read_s = median(seconds_of(lambda: load_job(file)) for _ in range(9))
    loop_s = median(seconds_of(plain_loop) for _ in range(9))
    job = f"a plan, every section and figure, {name}"
    beside(benchmark, job, took, "its file read and checked", read_s, within_s=LIMIT_S, readme=name == "switcher-ho")
    beside(benchmark, job, took, PLAIN_LOOP, loop_s)
    assert len(found) == 12
    assert benchmark.stats.stats.median <= LIMIT_S

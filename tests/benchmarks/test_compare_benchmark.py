"""Twenty speakers in four seats over the demo cavity: within a second, and beside as many whole plans.

Times are of the processor alone.
"""

from __future__ import annotations

from time import process_time

import pytest
from benchmarks.beside import beside
from sample_jobs import DEMOS

from modelmath import plan
from modelmath.job.document import Job
from modelmath.job.sound.comparing import SEATS, compare

LIMIT_S = 1.0
SPEAKERS = 20


def crowded(name):
    """Return a demo job with choices of many sizes, so that with its own it has twenty speakers."""
    document = DEMOS[name].model_dump(exclude_unset=True)
    document["choices"] = [
        {
            "name": f"speaker {number}", "length": f"{11 + number} mm", "width": f"{9 + number // 2} mm",
            "flange": "0.8 mm", "depth": f"{3 + number % 5} mm", "driver": {"impedance": "8 ohm", "power": "1 W"},
        }
        for number in range(SPEAKERS - 1)
    ]  # fmt: skip
    return Job.model_validate(document)


@pytest.mark.parametrize("name", list(DEMOS))
@pytest.mark.benchmark(timer=process_time)
def test_twenty_speakers_in_four_seats(benchmark, name):
    made = plan(crowded(name))
    _ = made.lines
    benchmark.pedantic(lambda: compare(made), rounds=3, warmup_rounds=1)
    found = compare(made)
    assert len(found.rows) == SPEAKERS * len(SEATS) == 80
    took = benchmark.stats.stats.median
    start = process_time()
    for _ in range(5):
        _ = plan(DEMOS[name]).chamber
    one = (process_time() - start) / 5
    beside(
        benchmark, f"{SPEAKERS} speakers in four seats each, {name}", took, "as many plans, one by one", 80 * one,
        within_s=LIMIT_S, readme=name == "switcher-ho",
    )  # fmt: skip
    print(f"\n{name}: {1000 * took:.0f} ms for 80; {80 * one / took:.1f} times as fast as 80 plans")
    assert took <= LIMIT_S

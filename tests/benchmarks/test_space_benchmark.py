"""The trade curve beside one fit for each of its places; the virtual bench beside a plain loop that builds one by one.

Times are of the processor alone. The curve is exact everywhere, a fit tells of one place. The loop asks the virtual
bench for single builds, each with a seed of its own, so that both do the same work.
"""

from __future__ import annotations

from dataclasses import replace
from statistics import median
from time import process_time

import pytest
from benchmarks.beside import beside
from sample_jobs import DEMOS

from modelmath import plan
from modelmath.enclosure.choosing.trade import trade_curve
from modelmath.enclosure.fit import fit_enclosure
from modelmath.errors import DoesNotFit
from modelmath.job.virtual_bench import build_many

POINTS = 200
BUILDS, LOOPED = 2000, 40
CURVE_TIMES = 3
BENCH_TIMES = 50


def timed(work, rounds):
    def once():
        start = process_time()
        work()
        return process_time() - start

    return median(once() for _ in range(rounds))


def fitted_at(cavity, limits, speaker, places):
    """Fit anew with the room at the front kept up to each place."""
    for place in places:
        try:
            fit_enclosure(cavity, replace(limits, front_room_mm=place - cavity.start_mm), speaker)
        except DoesNotFit:
            continue


@pytest.mark.parametrize("name", ["gas-electric-o", "railbus-ho"])
@pytest.mark.benchmark(timer=process_time)
def test_a_trade_curve_beside_a_fit_for_each_place(benchmark, name):
    new = plan(DEMOS[name])
    given = (new.enclosure.cavity, new.limits, new.enclosure.speaker)
    curve = benchmark.pedantic(trade_curve, args=given, kwargs={"points": POINTS}, rounds=10, warmup_rounds=1)
    cavity = given[0]
    places = [cavity.start_mm + (cavity.end_mm - cavity.start_mm) * number / POINTS for number in range(POINTS)]
    fits_s = timed(lambda: fitted_at(*given, places), 3)
    took = benchmark.stats.stats.median
    job = f"the chamber's volume over the bulkhead's place, {name}"
    beside(benchmark, job, took, f"{POINTS} fits, one for each place", fits_s, least=CURVE_TIMES)
    print(
        f"\n{name}: curve of {len(curve.points)} places {1000 * took:.1f} ms, {POINTS} fits {1000 * fits_s:.0f} ms,"
        f" {fits_s / took:.1f} times"
    )
    assert len(curve.points) >= POINTS
    assert fits_s / took >= CURVE_TIMES


@pytest.mark.parametrize("name", DEMOS)
@pytest.mark.benchmark(timer=process_time)
def test_the_virtual_bench_beside_a_loop_over_builders(benchmark, name):
    new = plan(DEMOS[name])
    found = benchmark.pedantic(build_many, args=(new, BUILDS, 1), rounds=10, warmup_rounds=1)
    looped_s = timed(lambda: [build_many(new, 1, seed) for seed in range(1, LOOPED + 1)], 3) * BUILDS / LOOPED
    took = benchmark.stats.stats.median
    beside(
        benchmark, f"{BUILDS:,} virtual builds, {name}", took, "one by one, in a plain loop", looped_s,
        least=BENCH_TIMES, readme=name == "switcher-ho",
    )  # fmt: skip
    print(
        f"\n{name}: {BUILDS} builders {1000 * took:.1f} ms, one by one {looped_s:.1f} s (from {LOOPED} of them),"
        f" {looped_s / took:.0f} times"
    )
    assert found.builds == BUILDS
    assert looped_s / took >= BENCH_TIMES

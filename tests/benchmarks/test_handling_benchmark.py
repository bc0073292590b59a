"""Moving the bulkhead: what a step of it takes, in the processor's own time; at most 50 ms for a demo job.

A step while it is dragged is a plan of the moved job and its line; letting go draws it anew as well. That where it
stops is found without a plan at each place is shown against a plan at every one.
"""

from __future__ import annotations

from statistics import median
from time import process_time

import pytest
from benchmarks.beside import beside, seconds_of
from sample_jobs import DEMOS

from modelmath.job import plan
from modelmath.job.handling import CantStand, band_of, handles, tried
from modelmath.widgets.plan.handling import Handling

LIMIT_S = 0.050
LEAST_TIMES = 5


def timed(work, rounds):
    taken = []
    for number in range(rounds):
        start = process_time()
        work(number)
        taken.append(process_time() - start)
    return median(taken)


@pytest.mark.parametrize("act", ["try", "drop"])
@pytest.mark.benchmark(timer=process_time)
def test_a_step_and_letting_go_are_quick(benchmark, act):
    handling = Handling(lambda _job: None)
    handling.show(plan(DEMOS["switcher-ho"]))
    handling.fold.head.value = True
    places = next(each for each in handling.found if each.key == "front_end").places
    numbers = iter(range(10**6))

    def ask():
        number = next(numbers)
        handling.handled.asked = {"n": number, "act": act, "key": "front_end", "to": float(places[10 + number % 20])}
        return handling.handled.answer["ok"]

    assert benchmark.pedantic(ask, rounds=15, warmup_rounds=2)
    plan_s = median(seconds_of(lambda: plan(DEMOS["switcher-ho"]).lines) for _ in range(9))
    job = {"try": "the bulkhead dragged by a step", "drop": "the bulkhead let go, all drawn anew"}[act]
    beside(
        benchmark, job, benchmark.stats.stats.median, "a plan and its list of parts", plan_s, within_s=LIMIT_S,
    )  # fmt: skip
    assert benchmark.stats.stats.median <= LIMIT_S


@pytest.mark.benchmark(timer=process_time)
def test_how_far_it_goes_takes_far_less_than_a_plan_at_every_place(benchmark):
    made = plan(DEMOS["switcher-ho"])
    handle = handles(made)[0]

    def at_every_place(_number):
        for place in handle.places:
            try:
                tried(made.job, made, handle, place)
            except CantStand:
                return

    at_every_place(0)
    benchmark.pedantic(band_of, args=(made, handle), rounds=10, warmup_rounds=1)
    everywhere_s, took = timed(at_every_place, 3), benchmark.stats.stats.median
    beside(benchmark, "how far the bulkhead goes", took, "a plan at every place", everywhere_s, least=LEAST_TIMES)
    assert everywhere_s >= LEAST_TIMES * took

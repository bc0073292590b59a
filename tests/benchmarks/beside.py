"""What a benchmark is held beside: a named baseline timed in the same run, the bar, and how time grows with size.

A test that takes a time says so here, before it judges it; `run.py` makes table and plots of what was said.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from fractions import Fraction
from math import log
from statistics import median
from time import process_time
from typing import Any

import numpy as np

PLAIN_SUMS = 5_000
PLAIN_LOOP = f"{PLAIN_SUMS:,} sums of fractions, plain Python"


def beside(
    benchmark: Any,
    job: str,
    seconds: float,
    baseline: str,
    baseline_s: float,
    most: float | None = None,
    least: float | None = None,
    within_s: float | None = None,
    readme: bool = False,
) -> float:
    """Keep a time with its baseline's, for the table; return the ratio.

    The bar is one of three: at most so many times the baseline's time, at least so many times quicker, or so many
    seconds. The caller judges it. With `readme`, it is one of the rows that a user of the workbook may want to see.
    """
    ratio = seconds / baseline_s
    row = {
        "job": job, "seconds": seconds, "baseline": baseline, "baseline_s": baseline_s, "ratio": ratio, "most": most,
        "least": least, "within_s": within_s, "readme": readme,
    }  # fmt: skip
    benchmark.extra_info.setdefault("beside", []).append(row)
    return ratio


def grown(benchmark: Any, job: str, unit: str, times: Mapping[int, float], most: float, readme: bool = False) -> float:
    """Keep times by size; return the slope of log time over log size. Its baseline is 1, straight growth."""
    exponent = slope(times)
    row = {
        "job": job, "unit": unit, "sizes": list(times), "seconds": list(times.values()), "exponent": exponent,
        "most": most, "readme": readme,
    }  # fmt: skip
    benchmark.extra_info.setdefault("growth", []).append(row)
    return exponent


def slope(times: Mapping[int, float]) -> float:
    """Return the slope of log time over log size, by least squares."""
    return float(np.polyfit([log(size) for size in times], [log(taken) for taken in times.values()], 1)[0])


def seconds_of(work: Callable[[], object], timer: Callable[[], float] = process_time) -> float:
    """Return what one run takes."""
    begun = timer()
    work()
    return timer() - begun


def in_turn(
    *works: Callable[[], object], rounds: int = 5, timer: Callable[[], float] = process_time
) -> tuple[float, ...]:
    """Return the median of each work's times; all are run in turn, so that a busy moment weighs on all of them."""
    for work in works:
        work()
    taken = [[seconds_of(work, timer) for work in works] for _ in range(rounds)]
    return tuple(median(times) for times in zip(*taken, strict=True))


def by_size(
    works: Mapping[int, Callable[[], object]], rounds: int = 3, timer: Callable[[], float] = process_time
) -> dict[int, float]:
    """Return the median time of the work of each size; all are run in turn."""
    return dict(zip(works, in_turn(*works.values(), rounds=rounds, timer=timer), strict=True))


def plain_loop() -> Fraction:
    """Do a fixed piece of work in plain Python, of the kind that plans are made of: a machine's own measure."""
    total, step = Fraction(0), Fraction(127, 320)
    for number in range(PLAIN_SUMS):
        total = total + step if number % 7 else total - 5 * step
    return total

"""How fast many lengths are converted, beside the bare numpy expression and beside pint, one value at a time."""

from __future__ import annotations

import time

import numpy as np
import pint
import pytest
from benchmarks.beside import beside

from modelmath import convert

COUNT = 1_000_000
SAMPLE = 20_000  # pint converts this many; its time for all is that of the sample, scaled
MOST = 1.3  # times the numpy expression
RATIO = 20


def seconds(act) -> float:
    begun = time.process_time()
    act()
    return time.process_time() - begun


@pytest.mark.parametrize(("unit", "mm"), [("in", 25.4), ("scale foot", 3.5)])
def test_convert_is_numpy(benchmark, unit, mm):
    values = np.random.default_rng(7).uniform(0, 100, COUNT)
    registry: pint.UnitRegistry[float] = pint.UnitRegistry()
    registry.define("scale_foot = 3.5 mm")
    name = unit.replace(" ", "_")

    def ours():
        return convert(values, unit, "mm", scale="HO")

    assert np.array_equal(ours(), values * mm)
    benchmark.pedantic(ours, rounds=20, warmup_rounds=3)
    # In turn, so that a busy moment weighs on both.
    rounds = [(seconds(ours), seconds(lambda: values * mm)) for _ in range(60)]
    mine, bare = (min(times) for times in zip(*rounds, strict=True))
    one_by_one = seconds(lambda: [registry.Quantity(each, name).m_as("mm") for each in values[:SAMPLE].tolist()])
    theirs = one_by_one / SAMPLE * COUNT
    print(
        f"\n{COUNT:,} values from {unit}: {mine * 1e3:.2f} ms, numpy {bare * 1e3:.2f} ms, {mine / bare:.2f} times;"
        f" pint value by value {theirs:.1f} s (from {SAMPLE:,}), {theirs / mine:,.0f} times slower",
        end="",
    )
    job = f"a million lengths from {unit} to mm"
    beside(benchmark, job, mine, "one numpy multiplication", bare, most=MOST)
    beside(benchmark, job, mine, f"pint, one by one, from {SAMPLE:,}", theirs, least=RATIO)
    assert mine / bare <= MOST
    assert theirs / mine >= RATIO

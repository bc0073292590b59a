"""All that lights in a model with 40 lamps and 60 strands: at most 100 ms, of the processor alone.

The chamber and its holes are there already; a second figure tells what its document takes to be read as well.
"""

from __future__ import annotations

from statistics import median
from time import process_time

import pytest
from benchmarks.beside import beside, seconds_of
from sample_jobs import with_chamber

from modelmath import plan
from modelmath.job.document import Job

LIMIT_S = 0.100
LAMPS, STRANDS = 40, 60


def many() -> Job:
    """Lamps of one strand or two, each with an LED, its strands led past two places to lenses of several bores."""
    lamps, circuits, strands = [], [], []
    for number in range(LAMPS):
        count = 2 if number < STRANDS - LAMPS else 1
        name = f"lamp {number}"
        lamps.append({"name": name, "end": "front", "room": "5 mm", "strand": "0.5 mm", "strands": count})
        at = {"along": f"{2 + number} mm", "up": "24 mm"}
        circuits.append({"lamp": name, "current": "2 mA", "output": f"out {number}", "colour": "red", "at": at})
        for which in range(count):
            to = {"along": f"{-8 + number} mm", "up": "20 mm", "right": f"{3 - 6 * which} mm"}
            via = [{"along": f"{1 + number} mm", "up": "26 mm"}, {"along": f"{-3 + number} mm", "up": "23 mm"}]
            bore = f"{1 + number % 5 / 10} mm"
            strands.append({"name": f"strand {number} {which}", "lamp": name, "to": to, "via": via, "bore": bore})
    feed = {"supply": "14 V", "outputs": [f"out {number}" for number in range(LAMPS)], "each": "100 mA", "all": "1 A"}
    light = {"feed": feed, "circuits": circuits, "strands": strands}
    document = {**with_chamber().model_dump(), "lamps": lamps, "light": light}
    return Job.model_validate(document)


def lit(made):
    """Work everything out that lights."""
    light = made.light
    return (
        light.lamps, light.strands, light.matched, light.gauge_strips, light.budget, light.heat, light.leads,
        light.warnings,
    )  # fmt: skip


@pytest.mark.benchmark(timer=process_time)
def test_forty_lamps_and_sixty_strands(benchmark):
    job = many()

    def ready():
        made = plan(job)
        _ = made.parts, made.hole_places
        return (made,), {}

    found = benchmark.pedantic(lit, setup=ready, rounds=12, warmup_rounds=2)
    assert len(found[0]) == LAMPS
    assert all(each.load is not None for each in found[0])
    assert len(found[1]) == STRANDS
    assert all(each.length is not None and each.melt is not None for each in found[1])
    read_s = median(seconds_of(lambda: plan(job)) for _ in range(5))
    took = benchmark.stats.stats.median
    said = f"{LAMPS} lamps and {STRANDS} strands worked out"
    beside(benchmark, said, took, "their document read and checked", read_s, within_s=LIMIT_S)
    print(f"\n{1000 * took:.1f} ms, and {1000 * read_s:.1f} ms to read it all")
    assert benchmark.stats.stats.median <= LIMIT_S

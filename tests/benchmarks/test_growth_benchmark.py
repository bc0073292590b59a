"""How time grows with size: plans of many zones, holes on a plate, strips for many parts, pieces on a sheet.

Times are of the processor alone. What grows straight has the exponent 1; the bars are what each method should hold.
"""

from __future__ import annotations

import random
from functools import partial
from time import process_time

import pytest
from benchmarks.beside import by_size, grown
from sample_jobs import SMALLEST
from sample_jobs import job as made_job

from modelmath import plan
from modelmath.cutting.optimum.problem import Problem, Row
from modelmath.cutting.optimum.stages import best_plan
from modelmath.cutting.sheet_layout import SheetPart, SheetStock, lay_out_sheet
from modelmath.drawings.sheets.packet import packet_pdf
from modelmath.enclosure.holes import Hole, Plate, lay_out_holes

ZONES = (10, 20, 40, 80)
HOLES = (4, 8, 16)
PARTS = (10, 20, 40, 80)
PIECES = (10, 20, 40, 80)
SEEDS = 4
MOST = {"plan": 1.8, "packet": 1.3, "row": 2.5, "spread": 2.5, "cuts": 2.2, "sheet": 2.0}


def many_zones(count: int):
    """Return a job with so many zones of 10 mm, each read twice, over a chassis that goes up and down."""
    chance = random.Random(count)
    steel = {"name": "steel rule", "kind": "steel rule", "zero_offset": "0", "length": "1000"}
    readings = [
        {"name": "roof", "mark": "32"},
        {"name": "width", "mark": "20"},
        {"name": "inside", "mark": str(10 * count), "on": "shell"},
    ]
    zones = []
    for number in range(count):
        readings.append({"name": f"top {number}", "mark": f"{chance.randint(16, 26) / 2:g}"})
        zone = {"name": f"zone {number}", "underside": "roof", "chassis_top": f"top {number}", "width": "width"}
        if number < count - 1:
            readings.append({"name": f"end {number}", "mark": str(10 * (number + 1)), "on": "shell"})
            zone["end"] = f"end {number}"
        zones.append(zone)
    speaker = {"length": "14 mm", "width": "10 mm", "flange": "1.2 mm", "depth": "6 mm"}
    return made_job(
        SMALLEST, rules=[steel], marking={"rule": "steel rule", "finest": "0.5"}, clearance={"keep": "1 mm"},
        readings=readings, zones=zones, length={"shell_inside": "inside"}, speaker=speaker,
    )  # fmt: skip


def every_section(job):
    made = plan(job)
    assert made.chamber is not None
    return made.lines, made.gap, made.cuts, made.holes, made.steps, made.warnings, made.figures


def many_strips(count: int, seed: int) -> Problem:
    """Return a cut plan for so many parts of ten lengths, from new strips of 350 mm and three offcuts."""
    chance = random.Random(seed)
    lengths = sorted(chance.sample(range(8_000, 120_000), 10), reverse=True)
    counts = [count // 10] * 10
    rows = [Row(length, 1, "offcut", (at,)) for at, length in enumerate((180_000, 140_000, 90_000))]
    return Problem(lengths, counts, (*rows, Row(350_000, count, "to buy", (3,))), 500, 0, 20_000)


def many_pieces(count: int):
    """Return so many plates to part from sheets of 300 mm by 200 mm."""
    chance = random.Random(count)
    parts = [
        SheetPart(f"part {number}", chance.randint(100, 600) / 10, chance.randint(100, 400) / 10, 1, "1 mm")
        for number in range(count)
    ]
    return parts, [SheetStock("1 mm", 300, 200, thickness_mm=1)]


@pytest.mark.benchmark(timer=process_time)
def test_a_plan_grows_with_its_zones(benchmark):
    jobs = {count: many_zones(count) for count in ZONES}
    times = by_size({count: partial(every_section, job) for count, job in jobs.items()})
    benchmark.pedantic(every_section, args=(jobs[ZONES[0]],), rounds=3)
    assert grown(benchmark, "a plan, every section", "zones", times, MOST["plan"], readme=True) <= MOST["plan"]


@pytest.mark.benchmark(timer=process_time)
def test_the_packet_grows_with_its_zones(benchmark):
    jobs = {count: many_zones(count) for count in ZONES[:3]}
    times = by_size({count: lambda job=job: packet_pdf(plan(job)) for count, job in jobs.items()}, rounds=1)
    benchmark.pedantic(lambda: packet_pdf(plan(jobs[ZONES[0]])), rounds=1)
    assert grown(benchmark, "the packet", "zones", times, MOST["packet"], readme=True) <= MOST["packet"]


@pytest.mark.parametrize("way", ["row", "spread"])
@pytest.mark.benchmark(timer=process_time)
def test_holes_grow_with_their_number(benchmark, way):
    def lay_out(count):
        return lay_out_holes([Hole("strand", 1, count=count)], Plate(60, 20), 1, way=way)

    times = by_size({count: partial(lay_out, count) for count in HOLES})
    benchmark.pedantic(lay_out, args=(HOLES[0],), rounds=3)
    assert grown(benchmark, f"holes on a wall, {way}", "holes", times, MOST[way]) <= MOST[way]


@pytest.mark.benchmark(timer=process_time)
def test_a_cut_plan_grows_with_its_parts(benchmark):
    """The sum over a few plans of each size: how long one takes depends on how nearly its parts come out even."""

    def all_plans(count):
        return [best_plan(many_strips(count, seed)) for seed in range(SEEDS)]

    times = by_size({count: partial(all_plans, count) for count in PARTS}, rounds=1)
    benchmark.pedantic(all_plans, args=(PARTS[0],), rounds=1)
    assert grown(benchmark, "strip cut plans, all goals", "parts", times, MOST["cuts"], readme=True) <= MOST["cuts"]


@pytest.mark.benchmark(timer=process_time)
def test_a_sheet_layout_grows_with_its_pieces(benchmark):
    given = {count: many_pieces(count) for count in PIECES}

    def lay_out(count):
        return lay_out_sheet(*given[count], least_offcut_mm=20)

    times = by_size({count: partial(lay_out, count) for count in PIECES}, rounds=1)
    benchmark.pedantic(lay_out, args=(PIECES[0],), rounds=1)
    job = "a sheet layout, offcuts kept large"
    assert grown(benchmark, job, "pieces", times, MOST["sheet"], readme=True) <= MOST["sheet"]

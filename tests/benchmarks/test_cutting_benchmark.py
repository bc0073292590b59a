"""Strip cut plans on instances with known optima, beside the linear programme alone and a plain CP-SAT model.

Times are of the processor alone, but for the plain model, which works on two cores.

Instances and their sources: tests/published/bpp1d.json (standard sets and generated ones), bench1d.json (generated).
"""

from __future__ import annotations

import json
from functools import cache
from math import ceil
from pathlib import Path
from statistics import median
from time import perf_counter, process_time

import pytest
from benchmarks.beside import beside

from modelmath.cutting.optimum.columns.generate import generate
from modelmath.cutting.optimum.columns.master import Master
from modelmath.cutting.optimum.fewest import fewest_strips
from modelmath.cutting.optimum.goals import NEW
from modelmath.cutting.optimum.greedy import greedy_plan
from modelmath.cutting.optimum.problem import Problem, Row
from modelmath.cutting.optimum.stages import best_plan

PUBLISHED = Path(__file__).parents[1] / "published"
KEEP_NOTHING = 10**9


@cache
def instances(name):
    return json.loads((PUBLISHED / f"{name}.json").read_text("utf-8"))["instances"]


def standard(entry):
    lengths, counts = zip(*entry["items"], strict=True)
    return Problem(lengths, counts, (Row(entry["capacity"], entry["n_items"], "to buy", (0,)),), 0, 0, 0)


def bench_sized(entry, useful):
    lengths, counts = zip(*entry["pieces"], strict=True)
    old = [Row(length, count, "offcut", (at,) * count) for at, (length, count) in enumerate(entry["offcuts"])]
    new = Row(entry["strip_length"], sum(counts), "to buy", (len(old),))
    return Problem(lengths, counts, (*old, new), entry["kerf"], entry["end_trim"], useful)


def timed(act, *args, timer=process_time):
    started = timer()
    found = act(*args)
    return found, timer() - started


def programme_alone(problem):
    """The baseline: greedy columns, then column generation to its end."""
    master = Master(problem, NEW, {}, exactly=False)
    master.add(greedy_plan(problem, problem.demand, [row.count for row in problem.rows]))
    return generate(master, problem.demand, [row.count for row in problem.rows], None)


@pytest.fixture(autouse=True)
def warm():
    fewest_strips(standard(instances("bpp1d")[1]))


def test_standard_instances_beside_the_linear_programme_alone(benchmark):
    seen, alone, slow = {}, {}, {}

    def run():
        for entry in instances("bpp1d"):
            problem = standard(entry)
            seen[entry["name"]] = timed(fewest_strips, problem)
            if entry["capacity"] < 100_000:
                alone[entry["name"]] = timed(programme_alone, problem)[1]
            slow[entry["name"]] = entry["n_items"] >= 1000 and seen[entry["name"]][1]

    benchmark.pedantic(run, rounds=1)
    best = {entry["name"]: entry["optimum"] for entry in instances("bpp1d")}
    times = [seconds for _, seconds in seen.values()]
    ratio = median(seen[name][1] / seconds for name, seconds in alone.items())
    proven = sum(found.proven for found, _ in seen.values())
    print(
        f"\n50 standard instances: {sum(found.cost == best[name] for name, (found, _) in seen.items())} best, "
        f"{proven} proven, {sum(each <= 10 for each in times)} within 10 s, worst {max(times):.1f} s, median "
        f"{median(times):.3f} s, {ratio:.2f} x the linear programme alone (median)"
    )
    both = [(seen[name][1], seconds) for name, seconds in alone.items()]
    job = f"fewest strips, {len(both)} standard instances of up to 1,000 pieces"
    beside(
        benchmark, job, sum(mine for mine, _ in both), "the linear programme alone", sum(theirs for _, theirs in both),
    )  # fmt: skip
    beside(benchmark, "the same, the median instance", ratio, "the linear programme alone, as 1 s", 1.0, most=1.5)
    assert all(found.cost == best[name] for name, (found, _) in seen.items())
    assert proven >= 49
    assert max(times) <= 60
    assert sum(each <= 10 for each in times) >= 45
    assert max(slow.values()) < 5
    assert ratio <= 1.5


def test_bench_sized_instances_are_all_proven(benchmark):
    first, second, whole = [], [], []

    def run():
        for entry in instances("bench1d"):
            found, seconds = timed(fewest_strips, bench_sized(entry, 2000))
            first.append(seconds)
            assert (found.cost, found.proven) == (entry["optimum_new_strips"], True)
            if entry["offcuts"]:
                best, seconds = timed(best_plan, bench_sized(entry, KEEP_NOTHING))
                second.append(seconds)
                assert {stage.goal: stage.proven for stage in best.stages}["scrap"]
            best, seconds = timed(best_plan, bench_sized(entry, 2000))
            whole.append((seconds, sum(stage.proven for stage in best.stages)))

    benchmark.pedantic(run, rounds=1)
    for name, times in (("fewest", first), ("then least offcut length", second), ("all goals", [t for t, _ in whole])):
        ranked = sorted(times)
        print(f"\n{name}: worst {ranked[-1]:.3f} s, 95 % within {ranked[ceil(0.95 * len(ranked)) - 1]:.3f} s", end="")
    print(f"; goals proven, of 6: {sum(count for _, count in whole) / len(whole):.2f} (mean)")
    alone_s = sum(timed(programme_alone, bench_sized(entry, 2000))[1] for entry in instances("bench1d"))
    job = f"{len(first)} bench-sized cut plans"
    beside(benchmark, f"{job}, fewest strips", sum(first), "the linear programme alone", alone_s)
    beside(benchmark, f"{job}, all six goals", sum(each for each, _ in whole), "the linear programme alone", alone_s)
    assert max(first) < 1
    assert sorted(first)[ceil(0.95 * len(first)) - 1] < 0.25
    assert max(second) < 2


def plain_model(problem, limit_s=6.0):
    """The baseline: how many pieces of each length on each strip, strips in order, fewest new ones."""
    from ortools.sat.python import cp_model

    model = cp_model.CpModel()
    plan = greedy_plan(problem, problem.demand, [row.count for row in problem.rows])
    bins = [
        (at, problem.rows[at].kind)
        for at, row in enumerate(problem.rows)
        for _ in range(row.count if row.kind == "offcut" else sum(each.row == at for each in plan))
    ]
    used = [model.new_bool_var("") for _ in bins]
    cut = [[model.new_int_var(0, wanted, "") for wanted in problem.demand] for _ in bins]
    for number, (at, _) in enumerate(bins):
        model.add(
            sum(s * x for s, x in zip(problem.sizes, cut[number], strict=True)) <= problem.capacities[at] * used[number]
        )
    for at, wanted in enumerate(problem.demand):
        model.add(sum(row[at] for row in cut) == wanted)
    for one, two in zip(range(len(bins)), range(1, len(bins)), strict=False):
        if bins[one] == bins[two]:
            model.add(used[one] >= used[two])
    model.minimize(sum(use for use, (_, kind) in zip(used, bins, strict=True) if kind != "offcut"))
    solver = cp_model.CpSolver()
    solver.parameters.max_time_in_seconds = limit_s
    solver.parameters.num_workers = 2
    return solver.solve(model) == cp_model.OPTIMAL, solver.objective_value


def test_less_time_than_a_plain_model(benchmark):
    """On the instances of 40 pieces and more whose greedy plan does not meet the bound by length."""
    entries = [
        entry
        for entry in instances("bench1d")
        if sum(count for _, count in entry["pieces"]) >= 40 and not trivial(bench_sized(entry, 0))
    ]
    ours, plain = [], []

    def run():
        for entry in entries:
            ours.append(timed(fewest_strips, bench_sized(entry, 0), timer=perf_counter)[1])
            plain.append(timed(plain_model, bench_sized(entry, 0), timer=perf_counter))

    benchmark.pedantic(run, rounds=1)
    total = sum(seconds for _, seconds in plain)
    print(
        f"\n{len(entries)} instances: CP-SAT's plain model proves {sum(sure for (sure, _), _ in plain)} and takes "
        f"{total:.1f} s in all, this {sum(ours):.2f} s: {total / sum(ours):.0f} times less"
    )
    job = f"fewest strips, {len(entries)} instances of 40 pieces and more"
    beside(benchmark, job, sum(ours), "a plain model in OR-Tools' CP-SAT, 6 s each", total, least=20, readme=True)
    assert total >= 20 * sum(ours)


def trivial(problem):
    counts = [row.count for row in problem.rows]
    plan = greedy_plan(problem, problem.demand, counts)
    new = sum(problem.rows[each.row].kind != "offcut" for each in plan)
    old = sum(
        capacity * row.count
        for capacity, row in zip(problem.capacities, problem.rows, strict=True)
        if row.kind == "offcut"
    )
    needed = sum(size * wanted for size, wanted in zip(problem.sizes, problem.demand, strict=True)) - old
    return new == max(0, ceil(needed / problem.capacities[-1]))

"""Chance of touching: simulation beside bare numpy, convolution beside one FFT convolution; ratios within one run."""

from __future__ import annotations

import gc
import tracemalloc
from math import inf
from statistics import median
from time import process_time

import numpy as np
import pytest
from benchmarks.beside import beside

from modelmath.clearance import Distribution, Quantity, Stack, Term, simulate
from modelmath.clearance.draws import BLOCK
from modelmath.lengths.uncertain import LIMIT_PER_U

TRIALS = 1_000_000
SHAPES = ("rectangular", "triangular", "arcsine", "normal", "repeats")
TEN = tuple(Term(f"term {n}", 1.0, 0.05 + 0.01 * n, SHAPES[n % 4]) for n in range(10))
LIMIT_RATIO = 1.5  # simulation over bare numpy
LIMIT_S = 0.020  # thirty terms, with their chance at 1e-6


def thirty(repeats):
    """Return thirty terms, six of them repeats if wanted."""
    shapes = SHAPES if repeats else SHAPES[:4]
    return tuple(
        Term(f"term {n}", 0.0, 0.05 + 0.001 * n, shape, 4 + n % 3 if shape == "repeats" else inf)
        for n, shape in ((n, shapes[n % len(shapes)]) for n in range(30))
    )


def bare_numpy():
    """Return the same ten terms drawn and added plainly, a whole array each."""
    draw = np.random.Generator(np.random.PCG64(1))
    total = np.full(TRIALS, 10.0)
    for term in TEN:
        width = term.tolerance_mm
        if term.shape == "rectangular":
            total = total + draw.uniform(-width, width, TRIALS)
        elif term.shape == "triangular":
            total = total + draw.triangular(-width, 0.0, width, TRIALS)
        elif term.shape == "arcsine":
            total = total + width * np.sin(draw.uniform(-np.pi / 2, np.pi / 2, TRIALS))
        else:
            total = total + term.u_mm * draw.standard_normal(TRIALS)
    return total


def seconds(work, rounds):
    """Return how long each of several runs takes."""
    taken = []
    for _ in range(rounds):
        start = process_time()
        work()
        taken.append(process_time() - start)
    return taken


def in_pairs(work, baseline, rounds=7):
    """Return the median time of the baseline, and that times the median ratio of two works that are run in turn."""
    work(), baseline()
    pairs = [(seconds(work, 1)[0], seconds(baseline, 1)[0]) for _ in range(rounds)]
    theirs = median(each for _, each in pairs)
    return median(mine / other for mine, other in pairs) * theirs, theirs


def test_simulation_costs_little_more_than_bare_numpy(benchmark):
    stack = Stack.of(*TEN)
    times = in_pairs(lambda: stack.monte_carlo(TRIALS), bare_numpy)
    drawn = benchmark.pedantic(stack.monte_carlo, args=(TRIALS,), rounds=3)
    job = "a million builds of a stack of ten terms"
    ratio = beside(benchmark, job, times[0], "bare numpy, the same draws", times[1], most=LIMIT_RATIO, readme=True)
    print(f"\n10 terms, {TRIALS:,} trials: {ratio:.2f} times bare numpy")
    assert drawn.trials == TRIALS
    assert drawn.mean == pytest.approx(bare_numpy().mean(), abs=1e-3)
    assert ratio <= LIMIT_RATIO


def test_a_model_costs_little_more_than_bare_numpy(benchmark):
    inputs = {term.name.replace(" ", "_"): term for term in TEN}
    times = in_pairs(lambda: simulate(lambda **x: sum(x.values()), inputs, TRIALS), bare_numpy)
    benchmark.pedantic(simulate, args=(lambda **x: sum(x.values()), inputs, TRIALS), rounds=3)
    job = "a million trials of a model of ten inputs"
    ratio = beside(benchmark, job, times[0], "bare numpy, the same draws", times[1], most=LIMIT_RATIO)
    print(f"\nthe same as a model of ten inputs: {ratio:.2f} times bare numpy")
    assert ratio <= LIMIT_RATIO


@pytest.mark.parametrize("trials", [100_000, 1_000_000, 4_000_000])
def test_memory_of_a_simulation_is_bounded(benchmark, trials):
    """8 bytes a trial are kept; a block holds every input once, and as much again for the model's own."""
    inputs = {f"x{n}": Quantity(1.0, 0.1) for n in range(10)}
    bound = 8 * trials + 8 * min(BLOCK, trials) * (len(inputs) + 6) + 200_000
    simulate(lambda **x: sum(x.values()), inputs, 1_000)
    gc.collect()
    tracemalloc.start()
    try:
        simulate(lambda **x: sum(x.values()), inputs, trials)
        peak = tracemalloc.get_traced_memory()[1]
    finally:
        tracemalloc.stop()
    benchmark.extra_info["peak over bound"] = round(peak / bound, 2)
    print(f"\n{trials:,} trials of ten inputs: {peak / 1e6:.1f} MB, bound {bound / 1e6:.1f} MB")
    benchmark.pedantic(simulate, args=(lambda **x: sum(x.values()), inputs, trials), rounds=1)
    bare_s = min(seconds(bare_numpy, 2)) * trials / TRIALS
    job = f"{trials:,} trials, memory bounded to {bound / 1e6:.0f} MB"
    beside(benchmark, job, benchmark.stats.stats.min, f"bare numpy, its time for {TRIALS:,} scaled", bare_s)
    assert peak <= bound


def one_fft_convolution():
    """Return the sum of two terms on a lattice of 8192 cells each, as numpy convolves them."""
    masses = np.full(8192, 1 / 8192)
    return np.fft.irfft(np.fft.rfft(masses, 16384) * np.fft.rfft(masses, 16384), 16384)


@pytest.mark.benchmark(timer=process_time)
@pytest.mark.parametrize("repeats", [False, True], ids=["with ends and normals", "with repeats"])
def test_thirty_terms_to_one_in_a_million(benchmark, repeats):
    terms = thirty(repeats)
    place = Distribution(terms).quantile(1 - 1e-6)

    def work():
        return Distribution(terms).chance_above(place)

    times = in_pairs(work, one_fft_convolution, rounds=15)
    chance = benchmark.pedantic(work, rounds=30, warmup_rounds=3)
    job = f"chance of touching of thirty terms{', six of them repeats' if repeats else ''}"
    ratio = beside(benchmark, job, times[0], "one FFT convolution of two terms", times[1], within_s=LIMIT_S)
    print(f"\n30 terms: {1000 * benchmark.stats.stats.median:.1f} ms, {ratio:.0f} times one FFT convolution of two")
    assert chance == pytest.approx(1e-6, rel=1e-3)
    assert benchmark.stats.stats.median <= LIMIT_S


def test_the_baseline_draws_what_the_stack_has():
    assert all(term.u_mm == term.tolerance_mm / LIMIT_PER_U[term.shape] for term in TEN)
    assert bare_numpy().std() == pytest.approx(Stack.of(*TEN).standard_uncertainty(), rel=5e-3)

"""What `import modelmath` loads, and how long it takes beside the two packages it stands on."""

from __future__ import annotations

import os
import statistics
import subprocess
import sys
import time
from pathlib import Path

import pytest
from benchmarks.beside import beside
from sample_jobs import DEMOS

ROOT = Path(__file__).resolve().parents[2]
HEAVY = ("pandas", "matplotlib", "scipy", "ipywidgets")
MOST = 1.3  # times `import pint, uncertainties`
RUNS = 6


def run(code: str) -> str:
    env = {**os.environ, "PYTHONPATH": str(ROOT)}
    return subprocess.run([sys.executable, "-c", code], env=env, capture_output=True, text=True, check=True).stdout


@pytest.mark.parametrize(
    "use",
    [
        "",
        "modelmath.plan; modelmath.load_job; modelmath.Rule",
        *(
            f"p = modelmath.plan(modelmath.load_job(modelmath.tables.data_folder() / 'jobs' / '{name}.toml'));"
            "p.figures, p.warnings, p.gap.chance, p.sizes, p.remeasure()"
            for name in DEMOS
        ),
    ],
)
def test_nothing_heavy_is_loaded(use):
    loaded = f"import sys, modelmath, modelmath.tables\n{use}\nprint([name for name in {HEAVY} if name in sys.modules])"
    assert run(loaded) == "[]\n"


def test_import_is_quick(benchmark):
    """Medians of whole interpreters, taken in turn so that a busy moment weighs on all; first use is shown beside."""
    first_use = "import modelmath; modelmath.load_job; modelmath.plan"
    took: dict[str, list[float]] = {"import modelmath": [], "import pint, uncertainties": [], first_use: []}

    def in_turn() -> None:
        for code, times in took.items():
            begun = time.perf_counter()
            run(code)
            times.append(time.perf_counter() - begun)

    benchmark.pedantic(in_turn, rounds=RUNS, warmup_rounds=1)
    median = {code: statistics.median(times[1:]) for code, times in took.items()}
    for code, seconds in median.items():
        print(f"\n{code}: {seconds * 1e3:.0f} ms, {seconds / median['import pint, uncertainties']:.2f}", end="")
    alone = "import pint, uncertainties"
    for code, most, readme in (("import modelmath", MOST, True), (first_use, None, False)):
        job = f"a fresh Python, {code}"
        beside(benchmark, job, median[code], f"the same, {alone}", median[alone], most, readme=readme)
    assert median["import modelmath"] / median["import pint, uncertainties"] <= MOST

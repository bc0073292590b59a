"""Cutting-stock instances with known optima.

Source: tests/published/bpp1d.json. 37 standard ones (Falkenauer, Scholl, Schwerin, Hard28, Waescher), numbers as in
the ESICUP collection (CC0 1.0), optima where the bounds table of BPPLib.jl (MIT) is tight; 13 named gen_* are
generated, their optimum is where a column-generation bound met an integer plan. The slow ones run in the benchmark.
"""

import json
from pathlib import Path

import pytest

from modelmath.cutting.optimum.fewest import fewest_strips
from modelmath.cutting.optimum.problem import Problem, Row
from modelmath.cutting.optimum.whole import is_plan

ENTRIES = json.loads((Path(__file__).parents[1] / "published" / "bpp1d.json").read_text("utf-8"))["instances"]
QUICK = [entry for entry in ENTRIES if entry["n_items"] <= 120 and entry["capacity"] <= 1000]
LARGE = [entry for entry in ENTRIES if entry["n_items"] == 1000]


def problem_of(entry):
    lengths, counts = zip(*entry["items"], strict=True)
    return Problem(lengths, counts, (Row(entry["capacity"], entry["n_items"], "to buy", (0,)),), 0, 0, 0)


@pytest.mark.parametrize("entry", [*QUICK, *LARGE], ids=lambda entry: entry["name"])
def test_the_known_optimum_is_found_and_proven(entry):
    problem = problem_of(entry)
    found = fewest_strips(problem)
    assert (found.cost, found.bound) == (entry["optimum"], entry["optimum"])
    assert is_plan(problem, found.plan, {"new strips": entry["optimum"]})


def test_the_same_problem_gives_the_same_plan():
    problem = problem_of(QUICK[0])
    assert fewest_strips(problem).plan == fewest_strips(problem).plan

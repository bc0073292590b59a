"""Two hundred random jobs, each built 2,000 times: what touches against the chances that their plans state."""

from __future__ import annotations

from itertools import pairwise

import numpy as np
import pytest
from built_jobs import governing_spot, random_job, within_band
from spacious import CLIP, LENGTH, POST, spacious

from modelmath.job import plan
from modelmath.job.virtual_bench import build_many

pytestmark = pytest.mark.long

JOBS, BUILDS = 200, 2000
EDGES = (0.0, 0.001, 0.003, 0.01, 0.03, 0.1, 0.2, 0.35, 0.6, 1.0)
ANYWHERE, AT_THE_SPOT = "anywhere", "over the spot that governs"


def built(roofs):
    """Stated chance and count, of every job: for bulkhead or floor anywhere, and over the spot that governs."""
    found = {ANYWHERE: [], AT_THE_SPOT: []}
    for number in range(JOBS):
        made = plan(random_job(number, roofs))
        builds = build_many(made, BUILDS, seed=number + 1)
        part = builds.meetings[0].part
        found[ANYWHERE].append((made.anywhere.chance, hanging_touches(builds)))
        found[AT_THE_SPOT].append((made.gap.chance, builds.touching(part, governing_spot(made))))
    return found


def hanging_touches(builds):
    """Builds in which what hangs touches what lies below: what `Plan.anywhere` is the chance of.

    What stands beside a wall, and the speaker's back at the roof, are other events, with chances of their own.
    """
    chosen = [each.touches for each in builds.meetings if not each.beside and each.part != "the roof"]
    return int(np.any(chosen, axis=0).sum())


def outside(rows):
    """The bins of stated chance in which the count is outside its 99.9 % band, and how many bins hold a job."""
    bins = [[row for row in rows if low <= row[0] < high] for low, high in pairwise(EDGES)]
    filled = [each for each in bins if each]
    wrong = []
    for each in filled:
        chances, counts = zip(*each, strict=True)
        if not within_band(chances, sum(counts), BUILDS):
            wrong.append((min(chances), max(chances), sum(chances) * BUILDS, sum(counts)))
    return wrong, len(filled)


def random_lengthwise(number):
    """A wall beside a step of the chassis, a post in the shell or a clip on the chassis; all numbers invented."""
    random = np.random.default_rng([78, number])

    def mm(most):
        return f"{random.uniform(0, most):.3f} mm"

    rule = {"name": "steel rule", "kind": "steel rule", "zero_offset": "0", "length": "200"}
    return spacious(
        rules=[{**rule, "read_to": mm(0.8), "offset_uncertainty": mm(0.25)}],
        marking={"rule": "steel rule", "finest": "0.05"},
        clearance={"keep": "2 mm", "along": mm(0.6)},
        length={**LENGTH, "end_play": mm(0.8)},
        build={"wall": "1 mm", "post": "2 mm", "cutting_tolerance": mm(0.4)},
        obstacles=[[], [{**POST, "running": mm(0.5)}], [{**CLIP, "top": None, "running": mm(0.5)}]][number % 3],
        decoder=None,
        speaker=None,
    )


@pytest.fixture(scope="module")
def lengthwise():
    """Stated chance and count of every wall beside the step that its plan names."""
    found = []
    for number in range(JOBS):
        made = random_lengthwise(number)
        builds = build_many(made, BUILDS, seed=number + 1)
        for gap in made.along_gaps:
            (beside,) = (each for each in builds.meetings if each.beside and each.over == gap.step)
            found.append((gap.chance, int(beside.touches.sum())))
    return found


def test_walls_touch_along_the_length_as_often_as_stated_in_every_bin(lengthwise):
    assert len(lengthwise) == JOBS
    wrong, bins = outside(lengthwise)
    assert bins >= 7
    assert wrong == []
    found, _ = outside([(chance * 0.9, count) for chance, count in lengthwise])
    assert len(found) >= 3


@pytest.fixture(scope="module")
def one_roof():
    return built(roofs=False)


@pytest.mark.parametrize("what", [ANYWHERE, AT_THE_SPOT])
def test_what_touches_is_as_frequent_as_stated_in_every_bin(one_roof, what):
    wrong, bins = outside(one_roof[what])
    assert bins >= 8
    assert wrong == []


def test_the_jobs_are_of_all_kinds(one_roof):
    chances = [chance for chance, _ in one_roof[ANYWHERE]]
    assert min(chances) < 0.001
    assert max(chances) > 0.6
    jobs = [random_job(number) for number in range(JOBS)]
    plans = [plan(each) for each in jobs]
    assert sum(made.chamber is not None for made in plans) > 100
    assert sum(bool(made.governing.moving) for made in plans) > 20
    assert sum(any(rule.calibrated_at for rule in each.rules) for each in jobs) > 30
    assert sum(bool(each.links) for each in jobs) > 20


def test_a_chance_that_is_a_tenth_too_small_is_found(one_roof):
    """The bands are narrow enough to tell."""
    wrong, _ = outside([(chance * 0.9, count) for chance, count in one_roof[ANYWHERE]])
    assert len(wrong) >= 4


def test_the_same_anywhere_where_the_roof_was_read_at_several_spots():
    """The gap over the spot that governs is one sum, of the roof that reads lowest; anywhere counts every roof."""
    assert outside(built(roofs=True)[ANYWHERE])[0] == []

"""Ten thousand random cavities, each fitted and searched on a grid: the best volume is the same, exactly."""

from __future__ import annotations

import pytest
from enclosure.fitting.random_cases import parted_case, random_case

pytestmark = pytest.mark.long
CASES, BLOCK = 10_000, 1_000
PARTED = 4_000


@pytest.mark.parametrize("first", range(0, CASES, BLOCK))
def test_the_best_volume_is_that_of_the_search_on_a_grid(first):
    assert not differing(random_case, first)


@pytest.mark.parametrize("first", range(0, PARTED, BLOCK))
def test_it_is_where_boxes_part_the_chamber(first):
    assert not differing(parted_case, first)


def differing(make, first):
    found = []
    for seed in range(first, first + BLOCK):
        case = make(seed)
        fitted, best = case.fit(), case.best()
        if (None if fitted is None else fitted.chamber.volume_mm3) != best:
            found.append((seed, fitted and fitted.chamber.volume_mm3, best))
    return found

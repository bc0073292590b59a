"""Ten thousand random cavities, each fitted and searched on a grid: the best volume is the same, exactly."""

from __future__ import annotations

import pytest
from enclosure.fitting.random_cases import random_case

pytestmark = pytest.mark.long
CASES, BLOCK = 10_000, 1_000


@pytest.mark.parametrize("first", range(0, CASES, BLOCK))
def test_the_best_volume_is_that_of_the_search_on_a_grid(first):
    differ = []
    for seed in range(first, first + BLOCK):
        case = random_case(seed)
        found, best = case.fit(), case.best()
        if (None if found is None else found.chamber.volume_mm3) != best:
            differ.append((seed, found and found.chamber.volume_mm3, best))
    assert not differ

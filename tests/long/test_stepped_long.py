"""The largest stepped chamber in many random shells, against a search through every whole millimetre."""

from __future__ import annotations

import pytest
from enclosure.stepped.checks import checked, compared
from enclosure.stepped.random_cases import random_case, sparse_case

pytestmark = pytest.mark.long
CASES, BLOCK = 2000, 200


@pytest.mark.parametrize("first", range(10_000, 10_000 + CASES, BLOCK))
def test_no_search_finds_a_larger_one(first):
    best = [compared(random_case(seed, length=17)) for seed in range(first, first + BLOCK)]
    counted = [sum(bool(found) and found[-1].steps == steps for found in best) for steps in range(3)]
    assert all(count >= 10 for count in counted), counted  # a set in which steps never pay would show little


@pytest.mark.parametrize("first", range(50_000, 50_060, 20))
def test_three_steps_too(first):
    for seed in range(first, first + 20):
        compared(random_case(seed, length=14, most_steps=3))


@pytest.mark.parametrize("first", range(20_000, 21_000, BLOCK))
def test_every_chamber_keeps_what_it_must(first):
    for seed in range(first, first + BLOCK):
        checked(random_case(seed, length=60, most_steps=4))


@pytest.mark.parametrize("first", range(0, CASES, BLOCK))
def test_no_search_finds_a_larger_one_where_edges_are_far_apart(first):
    for seed in range(first, first + BLOCK):
        compared(sparse_case(seed))

"""The largest stepped chamber, against a search through every whole millimetre, and its volume against shapely."""

from __future__ import annotations

import pytest
from enclosure.stepped.checks import checked, compared
from enclosure.stepped.random_cases import random_case, sparse_case


@pytest.mark.parametrize("seed", range(60))
def test_no_search_finds_a_larger_one(seed):
    compared(random_case(seed, length=13))


@pytest.mark.parametrize("seed", range(1000, 1040))
def test_every_chamber_keeps_what_it_must(seed):
    checked(random_case(seed, length=40, most_steps=4))


@pytest.mark.parametrize("seed", range(40))
def test_nor_where_edges_are_far_apart(seed):
    compared(sparse_case(seed))

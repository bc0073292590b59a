"""What fills a strip best: against every filling there is, and with prices beyond a machine's whole numbers."""

from __future__ import annotations

from itertools import product

import pytest
from hypothesis import given
from hypothesis import strategies as st

from modelmath.cutting.optimum.columns import filling
from modelmath.cutting.optimum.columns.filling import best_fillings

piece = st.tuples(st.integers(0, 60), st.integers(1, 12), st.integers(0, 3))
capacities = st.lists(st.integers(0, 40), min_size=1, max_size=3)


def by_trying(pieces, capacity):
    counts = product(*(range(most + 1) for _, _, most in pieces))
    return max(
        sum(count * value for count, (value, _, _) in zip(each, pieces, strict=True))
        for each in counts
        if sum(count * size for count, (_, size, _) in zip(each, pieces, strict=True)) <= capacity
    )


@given(st.lists(piece, min_size=1, max_size=4), capacities, st.sampled_from([1, 10**15, 10**20]))
def test_the_best_filling_of_all(pieces, lengths, larger):
    """The exact bound rests on it: prices as large as 10^20 must add up exactly too."""
    values, sizes, most = zip(*((value * larger + value, size, count) for value, size, count in pieces), strict=True)
    found, sure = best_fillings(values, sizes, most, lengths, whole=True)
    assert sure
    for capacity, (value, counts) in zip(lengths, found, strict=True):
        assert value == by_trying(list(zip(values, sizes, most, strict=True)), capacity)
        assert value == sum(count * worth for count, worth in zip(counts, values, strict=True))
        assert sum(count * size for count, size in zip(counts, sizes, strict=True)) <= capacity


many = st.tuples(st.integers(1, 60), st.integers(1, 5), st.integers(0, 9))


@given(st.lists(many, min_size=1, max_size=3), capacities, st.booleans(), st.sampled_from([0, 3, 120_000]))
def test_many_of_a_size_by_table_and_by_search(pieces, lengths, whole, longest):
    values, sizes, most = zip(*pieces, strict=True)
    with pytest.MonkeyPatch.context() as patched:
        patched.setattr(filling, "LONGEST_TABLE", longest)
        found, sure = best_fillings(values, sizes, most, lengths, whole=whole)
    assert sure
    for capacity, (value, counts) in zip(lengths, found, strict=True):
        assert value == by_trying(pieces, capacity)
        assert value == sum(count * worth for count, worth in zip(counts, values, strict=True))
        assert sum(count * size for count, size in zip(counts, sizes, strict=True)) <= capacity
        assert all(count <= limit for count, limit in zip(counts, most, strict=True))


@pytest.mark.parametrize(
    ("sizes", "longest", "steps"),
    [
        ([4, 6], 240_001, [2, 3]),  # in steps of 2 it is just 120 000 of them
        ([4, 6], 240_002, None),
        ([4, 7], 120_000, [4, 7]),
        ([4, 7], 120_001, None),
    ],
)
def test_a_table_serves_strips_that_are_no_longer_than_it(monkeypatch, sizes, longest, steps):
    """Left out is what is worth nothing, what there is none of, and what is longer than any strip."""
    tables, searches = [], []

    def by_table(*given):
        tables.append(given)
        return [(9, [2, 1])] * 3

    def by_search(*given):
        searches.append(given)
        return 9, [2, 1], len(searches) != 2

    monkeypatch.setattr(filling, "_by_table", by_table)
    monkeypatch.setattr(filling, "_by_search", by_search)
    given_sizes = [5, sizes[0], 5, longest + 1, sizes[1]]
    found, sure = best_fillings([0, 3, 4, 5, 2], given_sizes, [1, 8, 0, 9, 7], [5, -3, longest], whole=True)
    assert found == [(9, [0, 2, 0, 0, 1])] * 3
    if steps:
        step = sizes[0] // steps[0]
        assert tables == [([3, 2], steps, [8, 7], [5 // step, 0, longest // step], True)]
        assert (searches, sure) == ([], True)
    else:
        assert searches == [([3, 2], sizes, [8, 7], capacity) for capacity in (5, -3, longest)]
        assert (tables, sure) == ([], False)  # one of the three was not searched to its end


def test_nothing_that_is_worth_something_fits():
    assert best_fillings([0, 3, 3], [5, 9, 5], [1, 1, 0], [8, 2]) == ([(0, [0, 0, 0])] * 2, True)
    assert best_fillings([3], [5], [1], []) == ([], True)
    assert best_fillings([3], [8], [1], [8]) == ([(3, [1])], True)


def test_whole_values_stay_whole_and_others_do_not():
    for whole, kind in ((True, int), (False, float)):
        ((value, _),), _ = best_fillings([3], [5], [1], [8], whole=whole)
        assert type(value) is kind


@pytest.mark.parametrize(
    ("capacity", "value", "counts", "nodes"),
    [
        (11, 20, [2, 0], 1),  # two of 5; with one, six are left, and at 5 for 3 that is no more
        (12, 20, [2, 0], 2),  # with one, seven are left: at 5 for 3 that could be 21 in all, but is 20
        (14, 25, [2, 1], 2),
        (4, 5, [0, 1], 2),  # none of 5, then one of 3
        (2, 0, [0, 0], 0),
    ],
)
def test_a_search_goes_on_only_where_a_fraction_could_gain(monkeypatch, capacity, value, counts, nodes):
    """Pieces of 5 for 10 and of 3 for 5, two and three of them; how often a size is settled is counted by hand."""
    for most, sure in ((nodes, True), (nodes + 1, True), (nodes - 1, False)):
        monkeypatch.setattr(filling, "MOST_NODES", most)
        assert filling._by_search([10, 5], [5, 3], [2, 3], capacity)[2] is sure
        assert filling._by_search([5, 10], [3, 5], [3, 2], capacity)[2] is sure
        if sure:
            assert filling._by_search([10, 5], [5, 3], [2, 3], capacity) == (value, counts, True)
            assert filling._by_search([5, 10], [3, 5], [3, 2], capacity) == (value, counts[::-1], True)


def test_of_sizes_as_good_for_their_length_the_shorter_is_settled_first(monkeypatch):
    """3 for 3 and 5 for 5 from 8: two of the 3 first leave 2, then one of each is all of it."""
    assert filling._by_search([5, 3], [5, 3], [2, 2], 8) == (8, [1, 1], True)
    monkeypatch.setattr(filling, "MOST_NODES", 1)
    assert filling._by_search([5, 3], [5, 3], [2, 2], 6) == (6, [0, 2], True)
    # 9 for 5 is more for its length than 5 for 3: two of it are all of 10, and nothing else could be as good.
    assert filling._by_search([9, 5], [5, 3], [2, 3], 10) == (18, [2, 0], True)


def test_a_size_that_has_no_more_room_is_not_settled(monkeypatch):
    """8 and 5 from 12: one of the 8 leaves 4, too short for either; without it two of the 5 are less."""
    monkeypatch.setattr(filling, "MOST_NODES", 2)
    assert filling._by_search([8, 4], [8, 5], [1, 2], 12) == (8, [1, 0], True)
    assert filling._by_search([80, 45], [8, 5], [1, 2], 12) == (90, [0, 2], True)

"""What fills a strip best: against every filling there is, and with prices beyond a machine's whole numbers."""

from __future__ import annotations

from itertools import product

from hypothesis import given
from hypothesis import strategies as st

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

"""The outline of a section between two heights, by hand."""

from __future__ import annotations

from fractions import Fraction

import pytest

from modelmath.enclosure import Profile, Zone
from modelmath.enclosure.making.outline import section_of

LEDGED = Zone("hood", 0, 30, 4, 14, 16, Profile(((0, 8), (10, 8), (10, 6), (14, 3))))


@pytest.mark.parametrize(
    ("low", "high", "outline"),
    [
        (8, 12, ((8, 8), (10, 8), (10, 6), (12, 4.5))),  # 0.75 mm less per mm above the ledge
        (-3, 14, ((-3, 8), (0, 8), (10, 8), (10, 6), (14, 3))),  # as wide below its lowest point as there
        (2, 10, ((2, 8), (10, 8))),  # the ledge just touched
        (10, 14, ((10, 6), (14, 3))),
        (11, 13, ((11, 5.25), (13, 3.75))),
        (12, 12, ()),
        (13, 12, ()),
    ],
)
def test_a_section_with_a_ledge_between_two_heights(low, high, outline):
    found = section_of(LEDGED, Fraction(low), Fraction(high))
    assert found == outline

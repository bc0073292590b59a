"""A part narrower than what can be snapped off is refused, by how much and what to do."""

from fractions import Fraction

import pytest

from modelmath.cutting.sheet_layout.check import check_narrow
from modelmath.cutting.sheet_layout.stock import SheetPart
from modelmath.errors import DoesNotFit


def part(length, width):
    return SheetPart("sill", Fraction(length), Fraction(width), 1, ".040 sheet")


@pytest.mark.parametrize("sides", [(40, 2), (2, 40)])
def test_the_narrower_side_counts(sides):
    with pytest.raises(DoesNotFit) as raised:
        check_narrow(".040 sheet", [part(60, 50), part(*sides)], Fraction(3))
    assert raised.value.short_mm == 1
    assert str(raised.value).startswith("sill, ")
    assert "what is snapped off .040 sheet has to be 3.00 mm wide at least" in str(raised.value)


def test_one_just_as_wide_is_not_refused():
    check_narrow(".040 sheet", [part(40, 3)], Fraction(3))

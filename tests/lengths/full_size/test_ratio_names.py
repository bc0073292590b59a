"""How a ratio is written: as many decimals as it has, at most two."""

from fractions import Fraction

import pytest

from modelmath.lengths.full_size.standard_ratios import REDUCTIONS, StandardRatio, standard_ratios


@pytest.mark.parametrize(
    ("ratio", "written"),
    [
        (Fraction(48), "1:48"),
        (Fraction(1), "1:1"),
        (Fraction(45, 2), "1:22.5"),  # MOROP NEM 010, scale IIm
        (Fraction(871, 10), "1:87.1"),  # NMRA S-1.2, HO as it is usually written
        (Fraction(381, 5), "1:76.2"),  # 4 mm to the foot: 304.8 / 4
        (Fraction(3048, 35), "1:87.09"),  # 3.5 mm to the foot: 304.8 / 3.5
        (Fraction(100, 3), "1:33.33"),
        (Fraction(64, 5), "1:12.8"),  # 15/16 in to the foot
    ],
)
def test_a_ratio_has_the_decimals_that_it_needs(ratio, written):
    assert str(StandardRatio(ratio)) == written
    assert str(StandardRatio(ratio, ("one", "other"))) == f"{written} (one; other)"


def test_the_common_ratios_are_the_printed_ones():
    """ISO 5455:1979, table of recommended reductions (from memory); inches to the foot by division."""
    found = {each.ratio: each.names for each in standard_ratios()}
    assert {ratio for ratio in (1, 2, 5, 10, 20, 50, 100, 200) if ratio in found} == set(REDUCTIONS)
    in_the_foot = {"1/16": 192, "3/32": 128, "1/8": 96, "3/16": 64, "1/4": 48, "3/8": 32, "1/2": 24, "3/4": 16}
    in_the_foot |= {"1": 12, "1 1/2": 8, "3": 4}
    for inches, ratio in in_the_foot.items():
        assert found[Fraction(ratio)][0] == f"{inches} in to the foot"
    said = {names[0].split(" in to")[0] for names in found.values() if names and names[0].endswith("in to the foot")}
    assert said == set(in_the_foot)

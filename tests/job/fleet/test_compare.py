"""Two plans beside each other: what differs, and by how much."""

from __future__ import annotations

from decimal import Decimal
from itertools import combinations

import pint
import pytest
from hypothesis import given
from hypothesis import strategies as st
from sample_jobs import DEMOS, SMALLEST, job

from modelmath.job import plan
from modelmath.job.fleet import compare as module
from modelmath.job.fleet.compare import NOT_THERE, compare, difference

numbers = st.decimals(-500, 500, places=2)


def test_two_small_jobs_by_hand():
    """In HO feet: with 1/4 kept of 3 3/4 the bulkhead is 3 1/2, with 1/2 kept it is 3 1/4: 0.875 mm less."""
    one, other = plan(job()), plan(job(clearance={"keep": "1/2 scale ft"}))
    found = {each.name: each for each in compare(one, other).differing}
    height = found["bulkhead height"]
    assert height.one == "3 1/2 scale ft, 0.482 in, 12.25 mm"
    assert height.other.startswith("3 1/4 scale ft, ")
    assert Decimal(height.difference.split()[0]) == pytest.approx(Decimal("-0.875"), abs=Decimal("0.006"))
    assert height.difference.endswith(" mm")
    assert found["clearance"].difference == "+0.87 mm"  # 0.875 and 1.75 mm, shown as 0.88 and 1.75
    assert "reading: roof" not in found
    assert compare(one, one).differing == ()
    assert compare(one, one).equal == len(one.figures)


def test_every_figure_is_either_the_same_or_listed_once():
    for first, second in combinations(("switcher-ho", "gas-electric-o"), 2):
        one, other = plan(DEMOS[first]), plan(DEMOS[second])
        found = compare(one, other)
        names = [each.name for each in found.differing]
        assert len(names) == len(set(names))
        same = {name for name in one.figures if name in other.figures} - set(names)
        assert found.equal == len(same)
        assert set(names) | same == one.figures.keys() | other.figures.keys()
        for each in found.differing:
            assert each.one == (one.figures[each.name].value if each.name in one.figures else NOT_THERE)
            assert each.other == (other.figures[each.name].value if each.name in other.figures else NOT_THERE)
            assert not each.difference or NOT_THERE not in (each.one, each.other)


def test_what_one_plan_lacks_is_said():
    spoken = plan(job(notes="", readings=[*SMALLEST["readings"], {"name": "spare", "mark": "4"}]))
    found = {each.name: each for each in compare(plan(job()), spoken).differing}
    assert found["reading: spare"].one == NOT_THERE
    assert found["reading: spare"].difference == ""


@given(numbers, numbers, st.sampled_from(["mm", "cm3", "Hz", "dB", "W"]))
def test_the_difference_is_that_of_the_numbers_shown(one, other, unit):
    shown = difference(f"{one} {unit}", f"{other} {unit}")
    assert (Decimal(shown.removesuffix(unit)) if shown else 0) == other - one
    back = difference(f"{other} {unit}", f"{one} {unit}")
    assert shown.lstrip("+-") == back.lstrip("+-")
    assert not shown or (shown[0] == "+") == (other > one)


def test_units_agree_with_a_library_of_units():
    """pint, which the values here do not pass through."""
    units = pint.UnitRegistry()
    for unit, (common, times) in module._UNITS.items():
        if unit != common:
            assert units(unit.replace("cm3", "cm**3")).to(common).magnitude == pytest.approx(float(times))


@pytest.mark.parametrize(
    ("one", "other", "said"),
    [
        ("12.37 ± 0.16 cm3", "320.09 ± 3.28 cm3", "+307.72 cm3"),
        ("391 Hz, from 206 to 1130 Hz", "300 Hz, from 279 to 326 Hz", "-91 Hz"),
        ("about 2 5/8 scale ft, 0.197 in, 5.00 mm", "3 1/4 scale ft, 0.448 in, 11.38 mm", "+6.38 mm"),
        ("8 ohm, fits", "8 ohm, turn down", ""),
        ("8 ohm, fits", "16 ohm, turn down", "+8 ohm"),
        ("1.95 mA (1.8 mA to 2.11 mA)", "7.3 mA (6.81 mA to 7.84 mA)", "+5.35 mA"),
        ("5.6 kohm", "680 ohm", "-4920 ohm"),
        ("at least 8.363 cm3", "at least 9.363 cm3", "+1.000 cm3"),
        ("at least 8.363 cm3", "9.363 cm3", ""),
        ("±0.10 mm", "±0.20 mm", "+0.10 mm"),
        ("74.38 mm ahead of the screw", "70.38 mm ahead of the screw", "-4.00 mm"),
        ("74.38 mm ahead of the screw", "70.38 mm behind the screw", ""),
        ("74.38 mm ahead of the rear screw", "70.38 mm ahead of the front screw", ""),
        ("1/4 scale ft", "1/8 scale ft", ""),  # of two scales
        ("17.00 x 10.50 x 3.50 mm", "32.00 x 16.00 x 7.00 mm", ""),
        ("2.37 mm left of the line, 6.20 mm above the edge", "2.47 mm left of the line, 6.20 mm above the edge", ""),
        (".040 sheet, 18.50 mm wide", ".060 sheet, 54.00 mm wide", ""),
        ("about 1 in 81", "about 1 in 64", ""),
        ("1 W", "1 mm", ""),
        ("2", "1", "-1"),
    ],
)
def test_a_difference_only_where_both_are_one_number_of_one_kind(one, other, said):
    assert difference(one, other) == said

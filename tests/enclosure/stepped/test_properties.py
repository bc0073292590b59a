"""What must hold of every stepped chamber, whatever the shell."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest
from enclosure.stepped.changed import enlarged, mirrored
from enclosure.stepped.checks import fitted, up_to
from enclosure.stepped.random_cases import random_case
from hypothesis import given, settings
from hypothesis import strategies as st

from modelmath.enclosure import fit_enclosure
from modelmath.enclosure.stepped import near, tables
from modelmath.errors import DoesNotFit

seeds = st.integers(0, 10**6)
few = settings(max_examples=40, deadline=None)


def cases(length: int = 30, most_steps: int = 3):
    return seeds.map(lambda seed: random_case(seed, length, most_steps))


def volumes(case):
    return [(each.steps, each.volume_mm3) for each in fitted(case)]


@few
@given(cases())
def test_the_mirror_image_holds_as_much(case):
    assert volumes(mirrored(case)) == volumes(case)


@few
@given(cases(), st.sampled_from([2, Fraction(5, 2)]))
def test_volume_grows_with_the_cube_of_all_lengths(case, factor):
    assert volumes(enlarged(case, factor)) == [(steps, volume * factor**3) for steps, volume in volumes(case)]


@few
@given(cases())
def test_without_steps_it_is_the_largest_with_a_flat_floor(case):
    case = replace(case, steps=0, space=None)
    try:
        flat = fit_enclosure(case.cavity, case.limits, case.speaker).chamber.volume_mm3
    except DoesNotFit:
        flat = None
    assert volumes(case) == ([] if flat is None else [(0, flat)])


@few
@given(cases())
def test_a_step_more_to_spend_never_holds_less_and_changes_nothing_before(case):
    more = volumes(replace(case, steps=case.steps + 1))
    assert [each for each in more if each[0] <= case.steps] == volumes(case)


@few
@given(cases(), st.sampled_from(["clearance_mm", "end_clearance_mm", "front_room_mm", "post_mm"]))
def test_more_kept_never_holds_more(case, name):
    kept = replace(case, limits=replace(case.limits, **{name: getattr(case.limits, name) + 1}))
    for steps in range(case.steps + 1):
        assert (up_to(fitted(kept), steps) or 0) <= (up_to(fitted(case), steps) or 0)


@few
@given(cases())
def test_longer_levels_and_less_space_never_hold_more(case):
    start, end = case.cavity.start_mm + 2, case.cavity.end_mm
    longer, less = replace(case, shortest=case.shortest + 2), replace(case, space=(start, end))
    before = replace(case, space=None)
    for steps in range(case.steps + 1):
        assert (up_to(fitted(longer), steps) or 0) <= (up_to(fitted(case), steps) or 0)
        assert (up_to(fitted(less), steps) or 0) <= (up_to(fitted(before), steps) or 0)


@pytest.mark.parametrize("seed", range(25))
def test_numbers_too_long_for_64_bits_give_the_same(seed, monkeypatch):
    case = random_case(seed, 40, 3)
    expected = fitted(case)
    monkeypatch.setattr(tables, "LARGEST", 1)
    assert [each.volume_mm3 for each in fitted(case)] == [each.volume_mm3 for each in expected]
    monkeypatch.setattr(near, "MOST_EXACT", 0)  # the rounded search alone
    assert [each.volume_mm3 for each in fitted(case)] == [each.volume_mm3 for each in expected]


@pytest.mark.parametrize("seed", range(25))
def test_lengths_as_floats_give_the_same_as_floats(seed):
    case = random_case(seed, 40, 3)
    found, expected = fitted(enlarged(case, 0.125)), volumes(case)  # a power of two: nothing is rounded
    assert [(each.steps, each.volume_mm3 * 512) for each in found] == expected
    assert all(isinstance(each.volume_mm3, float) for each in found)


@pytest.mark.parametrize("seed", range(25))
def test_lengths_that_no_grid_holds_keep_the_larger_volume(seed):
    """Sizes off by less than a millionth change the volume by little, and go another way through the search."""
    case = random_case(seed, 40, 3)
    case = replace(case, cavity=replace(case.cavity, obstacles=()))
    zones = tuple(
        replace(zone, width_mm=zone.width_mm + Fraction(number + 1, 10**9 + 7)) if zone.profile is None else zone
        for number, zone in enumerate(case.cavity.zones)
    )
    odd = replace(case, cavity=replace(case.cavity, zones=zones))
    for steps in range(4):
        exact, near_it = up_to(fitted(case), steps), up_to(fitted(odd), steps)
        assert near_it == pytest.approx(exact, rel=1e-7) if exact else near_it == exact

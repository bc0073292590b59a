"""Steps too low to be marked and cut are left out, and the largest of the others is still found."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest
from enclosure.stepped.checks import compared, fitted, up_to
from enclosure.stepped.exhaustive import Case
from enclosure.stepped.random_cases import random_case
from hypothesis import given, settings
from hypothesis import strategies as st

from modelmath.enclosure import Cavity, Limits, Zone
from modelmath.enclosure.stepped import LEAST_RISER_MM, LeftOut, fit_stepped, what_steps_buy
from modelmath.errors import DoesNotFit, OutOfRange, WrongKind

seeds = st.integers(0, 10**6)
few = settings(max_examples=30, deadline=None)
HAIR = Fraction(1, 100)
NEARLY_FLAT = Cavity((Zone("cab", 0, 20, 5, 15, 10), Zone("motor", 20, 60, 5 + HAIR, 15, 10)))


def floors_of(chamber):
    return [(each.start_mm, each.end_mm, each.floor_mm) for each in chamber.floors]


def test_a_riser_of_a_hundredth_is_left_out_and_said():
    (flat,) = fit_stepped(NEARLY_FLAT, Limits(1))
    # 40 mm at 8.99 mm and 20 mm at 9 mm, less the riser: 19 mm x 10 mm x 0.01 mm more than 60 mm at 8.99 mm
    assert flat.left_out == (LeftOut(1, 60 * 10 * (9 - HAIR) + Fraction(19, 10), HAIR, LEAST_RISER_MM),)
    assert what_steps_buy([flat])[0].words == (
        "A flat floor: 5.39 cm3, in one plate of 60.00 x 10.00 mm. Left out: 1 step with a riser of 0.01 mm would buy "
        "less than 0.01 cm3 more; no riser under 0.50 mm can be marked and cut."
    )
    both = fit_stepped(NEARLY_FLAT, Limits(1), least_riser_mm=0)
    assert [each.steps for each in both] == [0, 1]
    assert [each.left_out for each in both] == [(), ()]


def test_the_higher_floor_is_raised_where_that_still_pays():
    """40 mm at 9 mm and 20 mm at 8 mm: a step of 2 mm instead of 1 costs 20 mm x 1 mm, a flat floor 40 mm x 1 mm."""
    cavity = Cavity((Zone("a", 0, 40, 0, 9, 10), Zone("b", 40, 60, 1, 9, 10)))
    flat, stepped = fit_stepped(cavity, Limits(0), most_steps=1, least_riser_mm=2)
    assert flat.volume_mm3 == 60 * 10 * 8
    assert floors_of(stepped) == [(0, 40, 0), (40, 60, 2)]
    assert stepped.volume_mm3 == 10 * (40 * 9 + 20 * 7 - 2)
    free = 10 * (40 * 9 + 20 * 8 - 1)
    assert stepped.left_out == (LeftOut(1, free, 1, 2),)
    assert what_steps_buy((flat, stepped))[1].words.endswith(
        "Left out: 1 step with a riser of 1.00 mm would buy 0.21 cm3 more; no riser under 2.00 mm can be marked and "
        "cut."
    )


def test_one_raised_floor_raises_the_next():
    """Over 0, 1 and 3 mm, with risers of 2 mm or more, the floors lie at 0, 2 and 4 mm: no height of theirs but one."""
    zones = (Zone("a", 0, 10, 0, 12, 40), Zone("b", 10, 18, 1, 12, 20), Zone("c", 18, 22, 3, 12, 4))
    case = Case(Cavity(zones), Limits(0), None, 2, 4, riser=2)
    assert [each[2] for each in floors_of(compared(case)[-1])] == [0, 2, 4]
    assert [each[2] for each in floors_of(compared(replace(case, riser=1))[-1])] == [0, 1, 3]


@few
@given(seeds, st.integers(1, 3))
def test_a_higher_least_riser_never_holds_more(seed, more):
    case = random_case(seed, 30, 3)
    higher = replace(case, riser=case.riser + more)
    for steps in range(case.steps + 1):
        assert (up_to(fitted(higher), steps) or 0) <= (up_to(fitted(case), steps) or 0)


@few
@given(seeds)
def test_what_is_left_out_is_larger_than_what_is_kept_and_is_found_without_the_limit(seed):
    case = replace(random_case(seed, 30, 3), riser=3)
    free = [(each.steps, each.volume_mm3) for each in fitted(replace(case, riser=0))]
    for chamber in fitted(case):
        for each in chamber.left_out:
            assert each.riser_mm < each.least_mm == 3
            assert each.volume_mm3 > chamber.volume_mm3
            assert each.steps >= chamber.steps
            assert (each.steps, each.volume_mm3) in free


@few
@given(seeds)
def test_where_all_risers_are_high_enough_nothing_changes(seed):
    case = replace(random_case(seed, 30, 3), riser=0)  # whole millimetres: none is lower than 1 mm
    assert fitted(replace(case, riser=1)) == fitted(case)


def test_a_speaker_that_only_fits_over_a_step_too_low():
    case = random_case(228, 16)  # its only chamber has one step of 2 mm
    assert [[riser.height_mm for riser in each.risers] for each in fitted(replace(case, riser=2))] == [[2]]
    assert fitted(replace(case, riser=4)) == ()
    text = (
        r"^The speaker does not fit: 2\.00 mm too little, because it fits only over a floor with a step 2\.00 mm high, "
        r"and none lower than 4\.00 mm can be marked and cut\. Mark out with a finer rule, keep less clearance, or use "
        r"a smaller speaker\.$"
    )
    with pytest.raises(DoesNotFit, match=text):
        fit_stepped(case.cavity, case.limits, case.speaker, 2, case.shortest, case.space, 4)


def test_the_least_riser_is_a_length():
    text = r"^the least riser is -1 mm; it must be 0 or more\. Write 0 mm where any height will do\.$"
    with pytest.raises(OutOfRange, match=text):
        fit_stepped(NEARLY_FLAT, Limits(1), least_riser_mm=-1)
    text = r"^the least riser is '1 mm'; expected a plain number of mm\. Read text with parse_length first\.$"
    with pytest.raises(WrongKind, match=text):
        fit_stepped(NEARLY_FLAT, Limits(1), least_riser_mm="1 mm")

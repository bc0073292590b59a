"""Chambers whose ends are held: against the trade curve, against chambers worked out by hand, and what is said."""

from __future__ import annotations

import re
from contextlib import suppress
from dataclasses import replace
from fractions import Fraction

import pytest
from enclosure.choosing.test_trade import ENDS, LIMITS, SPEAKERS, cavities, curve_or_none
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from modelmath.clearance import Marks
from modelmath.enclosure import Box, Cavity, Limits, Speaker, Zone, fit_enclosure
from modelmath.enclosure.choosing.remedies import remedies
from modelmath.enclosure.choosing.trade import trade_curve
from modelmath.enclosure.fit import fitted
from modelmath.enclosure.fitting.held import held_words, let_go
from modelmath.errors import DoesNotFit, OutOfRange
from modelmath.lengths.rules import Rule

TWO = Cavity((Zone("cab", 0, 20, 5, 15, 10), Zone("motor", 20, 60, 9, 15, 10)))
MARKS = Marks(Rule(unit="mm", graduation="0.5", zero_offset="0"), "1")
SMALL = Speaker(Fraction(12), Fraction(8), Fraction(1), Fraction(4))


def held(limits: Limits, front=None, rear=None) -> Limits:
    return replace(limits, front_at_mm=front, rear_at_mm=rear)


@pytest.mark.parametrize(
    ("front", "rear", "volume"),
    [
        (30, None, 29 * 10 * 5),  # from 30 to the closed rear end: one wall, floor 1 mm over the motor's 9 mm
        (None, 50, 49 * 10 * 5),
        (None, 18, 17 * 10 * 9),  # over the cab alone the floor comes down to 6 mm
        (5, 18, 11 * 10 * 9),  # two walls of 1 mm
        (5, 50, 43 * 10 * 5),
    ],
)
def test_a_held_chamber_is_that_of_plain_arithmetic(front, rear, volume):
    chamber = fit_enclosure(TWO, held(Limits(clearance_mm=1), front, rear)).chamber
    assert chamber.volume_mm3 == volume
    assert chamber.start_mm == (0 if front is None else front)
    assert chamber.end_mm == (60 if rear is None else rear)


@settings(max_examples=150, deadline=None)
@given(cavities(), LIMITS, st.none() | SPEAKERS, ENDS, st.integers(1, 39))
def test_a_wall_held_anywhere_gives_the_trade_curves_volume(cavity, limits, speaker, ends, share):
    place = cavity.start_mm + Fraction(share * (cavity.end_mm - cavity.start_mm), 40)
    curve = curve_or_none(cavity, limits, speaker, ends=ends)
    assume(curve is not None)
    point = curve.at(place)
    there = held(limits, place) if ends == "front" else held(limits, None, place)
    found = fitted(cavity, there, speaker)
    if point is None or not point.volume_mm3 or (speaker is not None and not point.holds_speaker):
        assert found is None  # where the walls touch, the curve ends at 0
        return
    assert found is not None
    assert found.chamber.volume_mm3 == point.volume_mm3
    assert all((each.start_mm if ends == "front" else each.end_mm) == place for each in found.candidates)


@settings(max_examples=100, deadline=None)
@given(cavities(), LIMITS, st.none() | SPEAKERS, st.booleans(), st.booleans())
def test_held_where_it_is_best_it_is_the_best(cavity, limits, speaker, front, rear):
    found = fitted(cavity, limits, speaker)
    assume(found is not None)
    best = found.chamber
    there = held(limits, best.start_mm if front else None, best.end_mm if rear else None)
    again = fit_enclosure(cavity, there, speaker).chamber
    assert (again.volume_mm3, again.start_mm, again.end_mm) >= (best.volume_mm3, best.start_mm, best.start_mm)
    assert again.volume_mm3 == best.volume_mm3


@settings(max_examples=60, deadline=None)
@given(cavities(), LIMITS, st.integers(1, 29))
def test_cut_to_marks_a_held_wall_stays_where_it_is(cavity, limits, share):
    at = cavity.start_mm + Fraction(share * (cavity.end_mm - cavity.start_mm), 31)  # on no mark
    found = fitted(cavity, held(limits, at), None)
    if found is None:
        return
    with suppress(DoesNotFit):  # no mark is low enough
        assert found.as_cut(MARKS).start_mm == at


def test_the_other_end_stays_held_along_the_trade_curve():
    limits = held(Limits(clearance_mm=1), 10, 50)
    curve = trade_curve(TWO, limits, points=5)
    assert {float(each.far_mm) for each in curve.points} == {50.0}
    assert float(curve.at(30).volume_mm3) == 18 * 10 * 5  # two walls
    assert float(trade_curve(TWO, limits, ends="rear").at(50).volume_mm3) == 38 * 10 * 5


@pytest.mark.parametrize(
    ("limits", "speaker", "decoder", "says"),
    [
        (
            held(Limits(clearance_mm=1), 52), SMALL, None,
            ("The speaker does not fit: 5.00 mm too little, because with the chamber's front end held 52.00 mm behind "
            "the fore-aft mark, over motor 7.00 mm of the length is left for the speaker's 12.00 mm, beside one wall "
            "of 1.00 mm. Try a shorter speaker, thinner walls or posts, or less clearance. Or hold that end "
            'elsewhere, or write "best" to let the plan choose.'),
        ),
        (
            held(Limits(clearance_mm=1, front_room_mm=4), 1), None, None,
            ("The chamber does not fit: 3.00 mm too little, because with the chamber's front end held 1.00 mm behind "
            "the fore-aft mark, only 4.00 mm to 60.00 mm behind that mark are left for it along the length. Or hold "
            'that end elsewhere, or write "best" to let the plan choose.'),
        ),
        (
            held(Limits(clearance_mm=1), -2), None, None,
            ("The chamber does not fit: 2.00 mm too little, because with the chamber's front end held 2.00 mm ahead of "
            "the fore-aft mark, only 0.00 mm to 60.00 mm behind that mark are left for it along the length. Or hold "
            'that end elsewhere, or write "best" to let the plan choose.'),
        ),
        (
            held(Limits(clearance_mm=1), None, 20), None, Box("decoder", 45, 8, 4),
            ("The decoder does not fit: 5.00 mm too little, because with the chamber's rear end held 20.00 mm behind "
            "the fore-aft mark, over motor there are 40.00 mm of length for its 45.00 mm. Use a smaller "
            'decoder, turn it, or keep less clearance. Or hold that end elsewhere, or write "best" to let the plan '
            "choose."),
        ),
    ],
)  # fmt: skip
def test_what_does_not_fit_where_it_is_held_says_so(limits, speaker, decoder, says):
    with pytest.raises(DoesNotFit, match=f"^{re.escape(says)}$"):
        fit_enclosure(TWO, limits, speaker, decoder)


# Under the roof of the two in the middle there is no depth: their floors, with 1 mm kept, would be 2 and 4 mm above it.
SHUT = Cavity(
    (
        Zone("cab", 0, 20, 5, 15, 10), Zone("low", 20, 30, 16, 15, 10), Zone("high", 30, 40, 18, 15, 10),
        Zone("last", 40, 60, 5, 15, 10),
    )
)  # fmt: skip


@pytest.mark.parametrize(
    ("front", "rear", "words", "short", "where"),
    [
        (22, None, "front end held 22.00 mm behind the fore-aft mark", 2, "low"),  # only what stands at that end
        (32, None, "front end held 32.00 mm behind the fore-aft mark", 4, "high"),
        (None, 28, "rear end held 28.00 mm behind the fore-aft mark", 2, "low"),
        (None, 38, "rear end held 38.00 mm behind the fore-aft mark", 4, "high"),
        (
            22, 38,  # all that lies between the two
            "front end held 22.00 mm behind the fore-aft mark and its rear end held 38.00 mm behind the fore-aft mark",
            4, "low, with the floor set by high",
        ),
        (
            5, 28,
            "front end held 5.00 mm behind the fore-aft mark and its rear end held 28.00 mm behind the fore-aft mark",
            2, "cab, with the floor set by low",
        ),
    ],
)  # fmt: skip
def test_where_an_end_is_held_there_may_be_no_depth_for_any_floor(front, rear, words, short, where):
    says = (
        f"The chamber does not fit: {short}.00 mm too little, because with the chamber's {words}, no depth is left "
        f"under the roof over {where}. Keep less clearance, or trim what stands there. Or hold that end elsewhere, or "
        'write "best" to let the plan choose.'
    )
    with pytest.raises(DoesNotFit, match=f"^{re.escape(says)}$"):
        fit_enclosure(SHUT, held(Limits(clearance_mm=1), front, rear))


def test_where_nothing_would_fit_anywhere_that_is_what_is_said():
    large = replace(SMALL, length_mm=Fraction(80))
    for limits in (Limits(clearance_mm=1), held(Limits(clearance_mm=1), 20)):
        with pytest.raises(DoesNotFit, match=r"^The speaker does not fit: 20\.00 mm too little, because (?!with the)"):
            fit_enclosure(TWO, limits, large)


def test_letting_the_plan_choose_is_a_way_out():
    found = remedies(TWO, held(Limits(clearance_mm=1), 52), SMALL)
    said = [each.sentence for each in found]
    assert said[0] == "Let the plan choose where the chamber ends: it fits elsewhere."
    assert found[0].after.limits == let_go(found[0].after.limits)
    assert found[0].after.fits()
    assert not any("plan choose" in each.sentence for each in remedies(TWO, Limits(clearance_mm=11)))


def test_a_rear_end_held_ahead_of_the_front_one_is_refused():
    says = (
        "the chamber's rear end is held at 10.00 mm; it must be behind its front end, held at 10.00 mm. "
        'Hold one of the two elsewhere, or write "best".'
    )
    with pytest.raises(OutOfRange, match=f"^{re.escape(says)}$"):
        held(Limits(clearance_mm=1), 10, 10)


def test_both_ends_are_told():
    told = held_words(held(Limits(1), 0, Fraction(81, 2)))
    assert (
        told
        == "the chamber's front end held at the fore-aft mark and its rear end held 40.50 mm behind the fore-aft mark"
    )

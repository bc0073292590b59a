"""Shims for a gap or a height: the pack, how far it may be off, and how surely that will do."""

from __future__ import annotations

import re
from fractions import Fraction
from itertools import combinations_with_replacement
from math import sqrt

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from uncertainties import ufloat

from modelmath.errors import NotYetKnown, OutOfRange, UnknownChoice
from modelmath.materials.picking.shim_heights import KINDS, shim_for_height
from modelmath.materials.picking.shims import Shim, shim_up
from modelmath.materials.sections.sheets import Sheet
from modelmath.materials.sections.strips import parse_strip

WASHERS = [Shim("thin washer", 0.25, 0.02), Shim("washer", 0.5, 0.03, 2)]


def whole(text):
    return f"^{re.escape(text)}$"


@settings(max_examples=60)
@given(
    st.lists(st.integers(1, 40), min_size=1, max_size=7, unique=True),
    st.integers(1, 120),
    st.integers(0, 8),
    st.sampled_from([0, 1]),
)
def test_the_search_finds_what_trying_every_pack_finds(hundredths, gap, tolerance, glue):
    """Outside check: itertools.combinations_with_replacement, every pack of up to four pieces."""
    every = sorted(
        (count, abs(error), error < 0)
        for count in range(1, 5)
        for each in combinations_with_replacement(hundredths, count)
        if abs(error := sum(each) + (count - 1) * glue - gap) <= tolerance
    )
    options = {
        "tolerance_mm": Fraction(tolerance, 100),
        "on_hand": [Shim(f"no {each}", Fraction(each, 100), 0) for each in hundredths],
        "series": (),
        "dry": not glue,
        "glue_line_mm": Fraction(glue, 100),
    }
    if not every:
        with pytest.raises(OutOfRange, match=r"^gap_mm is "):
            shim_up(Fraction(gap, 100), **options)
        return
    found = shim_up(Fraction(gap, 100), most=10_000, **options)
    assert [(each.pieces, abs(each.error_mm) * 100, each.error_mm < 0) for each in found] == every


def test_a_worked_pack():
    """By hand: a gap of 0.75 mm takes a washer of 0.5 mm and one of 0.25 mm."""
    best = shim_up(0.75, on_hand=WASHERS, series=(), gap_tolerance_mm=0.05)[0]
    assert (best.name, best.pieces, best.error_mm) == ("washer + thin washer", 2, 0)
    assert best.worst_mm == Fraction(10, 100)  # 0.03 + 0.02 + 0.05
    # JCGM 100:2008, 5.1.2: the root of the sum of squares.
    assert best.likely_mm == pytest.approx(sqrt(0.03**2 + 0.02**2 + 0.05**2))
    assert (best.glue_lines, best.on_hand, best.to_buy) == (0, True, ())


def test_pieces_of_one_kind_are_off_together():
    """Outside check: the uncertainties package, one variable for both washers; a glue line between."""
    best = shim_up(1.05, on_hand=WASHERS, series=(), dry=False, tolerance_mm=0)[0]
    washer, glue = ufloat(0.5, 0.03), ufloat(0.05, 0.05)
    assert (best.name, best.glue_lines) == ("two of washer", 1)
    assert best.likely_mm == pytest.approx((washer + washer + glue).s)
    assert best.worst_mm == Fraction(11, 100)


@pytest.mark.parametrize(
    ("tolerance", "verdict"), [(0.10, "surely"), (0.0999, "likely"), (0.0617, "likely"), (0.0616, "perhaps")]
)
def test_how_surely_a_pack_will_do(tolerance, verdict):
    """By hand: at worst 0.03 + 0.02 + 0.05 = 0.10 mm off; usually sqrt(0.0009 + 0.0004 + 0.0025) = 0.06164 mm."""
    best = shim_up(0.75, on_hand=WASHERS, series=(), gap_tolerance_mm=0.05, tolerance_mm=tolerance)[0]
    assert best.verdict == verdict
    assert best.said.startswith(f"{verdict} within it: ")


def test_what_is_on_hand_comes_first_and_no_more_than_there_is():
    found = shim_up(1.5, on_hand=WASHERS, most=50, tolerance_mm=0.1)
    assert found[0].name == "two of washer + two of thin washer"  # only two of them
    assert [each.on_hand for each in found] == sorted((each.on_hand for each in found), reverse=True)
    assert found[1].name == "1.5 mm sheet"
    lumber = shim_up(0.29, series="scale lumber", scale="HO")[0]
    assert (lumber.name, lumber.to_buy) == ("HO 1x12", ("HO 1x12",))
    held = shim_up(1, on_hand=[Sheet("metric", 1), parse_strip("1 x 3 mm")], series=())
    assert [each.name for each in held] == ["1 mm sheet"]  # as thick as the strip, and one of them will do


def test_a_coupler_too_low_is_shimmed_at_the_bolster_and_one_too_high_at_its_box():
    low = shim_for_height(9.2, 9.7, "coupler", on_hand=WASHERS)
    assert (low.gap_mm, low.said, low.packs[0].name) == (Fraction(1, 2), "It is 0.50 mm too low.", "washer")
    assert "bolster, on both trucks alike" in low.advice
    high = shim_for_height(9.7, 9.2, "coupler", on_hand=WASHERS)
    assert (high.gap_mm, high.said, high.packs[0].name) == (Fraction(-1, 2), "It is 0.50 mm too high.", "washer")
    assert high.advice == "Shim between the coupler's box and the frame, which lowers the coupler by the pack."


@pytest.mark.parametrize("kind", [kind for kind in KINDS if kind != "coupler"])
def test_what_stands_too_high_is_filed(kind):
    high = shim_for_height(10, 9.6, kind)
    assert high.packs == ()
    assert "would only raise it: file 0.40 mm off" in high.advice
    assert shim_for_height(9.6, 10, kind).packs[0].name == "0.4 mm sheet"


def test_what_is_within_the_tolerance_is_left_alone():
    for measured, said, advice in (
        (9.6, "It is at its height.", "Leave it."),
        (9.5, "It is 0.10 mm too low, within the tolerance.", "Leave it."),
        (
            9.74,
            "It is 0.14 mm too high, within the tolerance.",
            "Leave it, or measure it again more finely: it may still be outside.",
        ),
    ):
        found = shim_for_height(measured, 9.6, "speaker", measured_tolerance_mm=0.05)
        assert (found.said, found.advice, found.packs) == (said, advice, ())


def test_messages():
    text = (
        "gap_mm is 5.00 mm; it must be within 0.15 mm of what 1 to 4 shims give; two of washer + two of thin washer "
        "gives 1.50 mm, 3.50 mm too little. Allow a wider tolerance, sand a thicker shim down, or add other "
        "thicknesses to what is on hand."
    )
    with pytest.raises(OutOfRange, match=whole(text)):
        shim_up(5, on_hand=WASHERS, series=())
    with pytest.raises(OutOfRange, match=r"^gap_mm is 5\.00 mm; it must be within 0\.15 mm of what 1 shim gives; "):
        shim_up(5, on_hand=WASHERS, series=(), most_layers=1)
    text = "What to shim with is not known yet; enter what is on hand, or a series to buy from."
    with pytest.raises(NotYetKnown, match=whole(text)):
        shim_up(1, series=())
    text = "kind is 'couplers'; write one of coupler, truck bolster, speaker, other. Did you mean 'coupler'?"
    with pytest.raises(UnknownChoice, match=whole(text)):
        shim_for_height(9, 10, "couplers")
    text = "count of washer is 0; it must be a whole number, 1 or more. Leave it out where there are enough."
    with pytest.raises(OutOfRange, match=whole(text)):
        Shim("washer", 0.5, 0.05, 0)
    with pytest.raises(OutOfRange, match=whole("most is 0; it must be 1 or more. Leave it out for 8.")):
        shim_up(1, most=0)

"""What does not fit says by how much and why: the largest shortage of the place that comes nearest, in mm."""

from __future__ import annotations

import re
from dataclasses import replace
from fractions import Fraction

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from modelmath.enclosure import Box, Cavity, Limits, Speaker, Zone, fit_enclosure
from modelmath.errors import DoesNotFit

ONE = Cavity((Zone("motor", 0, 40, 5, 15, 12),))
SHALLOWER = "Try a shallower speaker, less clearance, or trimming what stands there."
SHORTER = "Try a shorter speaker, less clearance along the length, or trimming what stands there."
THINNER = "Try a shorter speaker, thinner walls or posts, or less clearance."
TURN = "Use a smaller decoder, turn it, or keep less clearance."
SEAT, LONG = Speaker(20, 10, 1, 5), Box("decoder", 40, 10, 5)
HIGH = replace(LONG, height_mm=9)  # all the height there is under the roof: none is left below any floor
STEPPED = Cavity((Zone("cab", 0, 30, 5, 12, 12), Zone("motor", 30, 60, 8, 15, 12)))
MISSES = {
    "the lamps take it all": (
        (ONE, Limits(1, front_room_mm=25, rear_room_mm=20)),
        (
            "The chamber does not fit: 5.00 mm too little, because the room kept for lamps, 45.00 mm, is all the "
            "length there is. Keep less room at the ends."
        ),
    ),
    "and just": (
        (ONE, Limits(1, front_room_mm=20, rear_room_mm=20)),
        (
            "The chamber does not fit: nothing is left, because the room kept for lamps, 40.00 mm, is all the length "
            "there is. Keep less room at the ends."
        ),
    ),
    "no depth": (
        (ONE, Limits(12)),
        (
            "The chamber does not fit: 2.00 mm too little, because over motor, the deepest place, chassis and "
            "clearance take all the depth. Keep less clearance, or trim what stands there."
        ),
    ),
    "and just none": (
        (ONE, Limits(10)),
        (
            "The chamber does not fit: nothing is left, because over motor, the deepest place, chassis and clearance "
            "take all the depth. Keep less clearance, or trim what stands there."
        ),
    ),
    "too deep": (
        (ONE, Limits(1, over_speaker_mm=1), Speaker(20, 10, 1, 9.5)),
        (
            "The speaker does not fit: 1.50 mm too little, because over motor the chamber is 9.00 mm deep, and the "
            f"speaker takes 10.50 mm. {SHALLOWER}"
        ),
    ),
    "too deep by a hair": (
        (ONE, Limits(1), Speaker(20, 10, 1, Fraction(9001, 1000))),
        (
            "The speaker does not fit: less than 0.01 mm too little, because over motor the chamber is 9.00 mm deep, "
            f"and the speaker takes 9.00 mm. {SHALLOWER}"
        ),
    ),
    "too wide": (
        (ONE, Limits(1), Speaker(20, 13, 1, 5)),
        (
            "The speaker does not fit: 1.00 mm too little, because over motor the shell is 12.00 mm wide inside and "
            "the speaker 13.00 mm. Try a narrower speaker."
        ),
    ),
    "too wide, and a hair too deep": (
        (Cavity((Zone("motor", 0, 40, 5, 15, Fraction(37, 2)),)), Limits(1), Speaker(20, 26, 1, Fraction(901, 100))),
        (
            "The speaker does not fit: 7.50 mm too little, because over motor the shell is 18.50 mm wide inside and "
            "the speaker 26.00 mm; it is 0.01 mm too deep as well. Try a narrower speaker."
        ),
    ),
    "deep here, wide there": (
        (Cavity((Zone("deep", 0, 30, 5, 15, 8), Zone("wide", 30, 60, 5, 11, 20))), Limits(1), Speaker(20, 10, 1, 8)),
        (
            "The speaker does not fit: 2.00 mm too little, because over deep the shell is 8.00 mm wide inside and the "
            "speaker 10.00 mm. Try a narrower speaker."
        ),
    ),
    "deep where another step sets the floor": (
        (STEPPED, Limits(1), Speaker(35, 10, 1, 5)),
        (
            "The speaker does not fit: 2.00 mm too little, because over cab the chamber is 3.00 mm deep, with the "
            f"floor set by motor, and the speaker takes 5.00 mm. {SHALLOWER}"
        ),
    ),
    "too long": (
        (ONE, Limits(1), Speaker(44, 10, 1, 5)),
        (
            "The speaker does not fit: 4.00 mm too little, because over motor 40.00 mm of the length is left for the "
            f"speaker's 44.00 mm. {SHORTER}"
        ),
    ),
    "too long between walls": (
        (replace(ONE, front_closed=False, rear_closed=False), Limits(1, wall_mm=9, post_mm=2), SEAT),
        (
            "The speaker does not fit: 2.00 mm too little, because over motor 18.00 mm of the length is left for the "
            f"speaker's 20.00 mm, beside two walls of 9.00 mm and posts of 2.00 mm behind them. {THINNER}"
        ),
    ),
    "too long beside a wall": (
        (replace(ONE, rear_closed=False), Limits(1, wall_mm=21), SEAT),
        (
            "The speaker does not fit: 1.00 mm too little, because over motor 19.00 mm of the length is left for the "
            f"speaker's 20.00 mm, beside one wall of 21.00 mm. {THINNER}"
        ),
    ),
    "nothing between walls and posts": (
        (replace(ONE, front_closed=False, rear_closed=False), Limits(1, wall_mm=18, post_mm=2), SEAT),
        (
            "The speaker does not fit: 20.00 mm too little, because over motor nothing of the length is left for the "
            f"speaker's 20.00 mm, beside two walls of 18.00 mm and posts of 2.00 mm behind them. {THINNER}"
        ),
    ),
    "walls that pass each other": (
        (replace(ONE, front_closed=False, rear_closed=False), Limits(1, wall_mm=22)),
        (
            "The chamber does not fit: 4.00 mm too little, because over motor there are 40.00 mm of length for two "
            "walls of 22.00 mm. Use thinner walls, or keep less clearance along the length."
        ),
    ),
    "walls that meet": (
        (replace(ONE, front_closed=False, rear_closed=False), Limits(1, wall_mm=20)),
        (
            "The chamber does not fit: nothing is left, because over motor there are 40.00 mm of length for two walls "
            "of 20.00 mm. Use thinner walls, or keep less clearance along the length."
        ),
    ),
    "a decoder too high": (
        (ONE, Limits(1), SEAT, Box("decoder", 20, 10, 10)),
        (
            "The decoder does not fit: 1.00 mm too little, because over motor there are 9.00 mm of height for its "
            f"10.00 mm. {TURN}"
        ),
    ),
    "a decoder too wide, and a hair too high": (
        (ONE, Limits(1), SEAT, Box("decoder", 20, 14, Fraction(901, 100))),
        (
            "The decoder does not fit: 2.00 mm too little, because over motor the shell is 12.00 mm wide inside and "
            f"the decoder 14.00 mm. {TURN}"
        ),
    ),
    "a decoder too long": (
        (ONE, Limits(1), SEAT, Box("decoder", 45, 10, 5)),
        (
            "The decoder does not fit: 5.00 mm too little, because over motor there are 40.00 mm of length for its "
            f"45.00 mm. {TURN}"
        ),
    ),
    "a decoder under one roof and over another's step": (
        (STEPPED, Limits(1), SEAT, Box("decoder", 40, 10, 5)),
        (
            "The decoder does not fit: 2.00 mm too little, because over motor, under the roof over cab, there are 3.00 "
            f"mm of height for its 5.00 mm. {TURN}"
        ),
    ),
    "a decoder that takes it all": (
        (ONE, Limits(1), SEAT, LONG),
        (
            "The speaker does not fit: 21.00 mm too little, because the decoder and the room kept at the ends take all "
            "the length there is. Use a smaller decoder, or keep less room at the ends."
        ),
    ),
    "a decoder beside which there is no depth": (
        (Cavity((*ONE.zones, Zone("weight", 40, 50, 14, 15, 12))), Limits(1, wall_mm=0), None, HIGH),
        (
            "The chamber does not fit: nothing is left, because no depth is left under the roof over weight. "
            "Keep less clearance, or trim what stands there."
        ),
    ),
}


@pytest.mark.parametrize("name", MISSES)
def test_a_miss_says_by_how_much_and_why(name):
    entries, message = MISSES[name]
    with pytest.raises(DoesNotFit, match=f"^{re.escape(message)}$"):
        fit_enclosure(*entries)


@st.composite
def too_large(draw: st.DrawFn) -> tuple[Cavity, Limits, Speaker]:
    """Whole millimetres; speakers that most such cavities can't hold, but that could be made 3 mm smaller."""
    place, zones = draw(st.integers(-20, 20)), []
    for number in range(draw(st.integers(1, 5))):
        end = place + draw(st.integers(3, 12))
        top, roof, width = draw(st.integers(0, 6)), draw(st.integers(8, 14)), draw(st.integers(7, 12))
        zones.append(Zone(f"zone {number}", place, end, top, roof, width))
        place = end
    few = st.integers(0, 2)
    limits = Limits(draw(few), draw(few), draw(few), draw(few), draw(few), draw(few), draw(few))
    flange = Fraction(1, 1000)
    speaker = Speaker(draw(st.integers(8, 30)), draw(st.integers(6, 16)), flange, draw(st.integers(5, 12)))
    return Cavity(tuple(zones), draw(st.booleans()), draw(st.booleans())), limits, speaker


def holds(cavity: Cavity, limits: Limits, speaker: Speaker, smaller: Fraction) -> bool:
    length, width, depth = (each - smaller for each in (speaker.length_mm, speaker.width_mm, speaker.depth_mm))
    less = Speaker(length, width, speaker.flange_mm, depth)
    try:
        fit_enclosure(cavity, limits, less)
    except DoesNotFit:
        return False
    return True


@given(too_large())
def test_a_speaker_smaller_by_the_miss_fits_and_by_less_does_not(case):
    cavity, limits, speaker = case
    try:
        fit_enclosure(cavity, limits, speaker)
    except DoesNotFit as miss:
        what, short = miss.what, Fraction(miss.short_mm)
    else:
        return
    assume(what == "The speaker")  # there may be no chamber even without one
    assume(short < min(speaker.length_mm, speaker.width_mm, speaker.depth_mm) - speaker.flange_mm)
    assert short > 0
    assert holds(cavity, limits, speaker, short)
    assert not holds(cavity, limits, speaker, short - Fraction(1, 100))

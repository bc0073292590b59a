"""The chamber as it is cut: moved in to marks of the rule, never out, never at the speaker's cost in silence."""

from __future__ import annotations

import re
from fractions import Fraction

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from modelmath.clearance import Marks
from modelmath.enclosure import Cavity, Limits, Speaker, Zone, fit_enclosure, volume_mm3
from modelmath.enclosure.marked import reference_bay, reference_roof_mm
from modelmath.errors import DoesNotFit
from modelmath.lengths.rules import Rule

quarters = st.integers(1, 400).map(lambda count: Fraction(count, 4))
MARKS = [
    Marks(Rule(scale="HO", zero_offset="1"), "1/4"),
    Marks(Rule(scale="O", graduation="1/8", zero_offset="3/8"), "1/8", "zero"),
    Marks(Rule(unit="mm", graduation="0.5", zero_offset="0.3"), "0.5"),
    Marks(Rule(unit="in", graduation="1/64", scale_error=0.002), "1/64"),
]


@st.composite
def fitted(draw: st.DrawFn):
    place, zones = Fraction(draw(st.integers(-60, 20))), []
    for number in range(draw(st.integers(1, 4))):
        end = place + 8 + draw(quarters)
        top, roof = draw(quarters) / 10, 12 + draw(quarters) / 8
        zones.append(Zone(f"zone {number}", place, end, top, roof, 20 + draw(quarters) / 20))
        place = end
    speaker = draw(st.none() | st.builds(Speaker, st.just(15), st.just(12), st.just(1), st.integers(3, 6)))
    limits = Limits(Fraction(1, 2), Fraction(1, 2), Fraction(1), Fraction(2), Fraction(1, 2), draw(st.integers(0, 4)))
    try:
        return fit_enclosure(Cavity(tuple(zones), draw(st.booleans()), draw(st.booleans())), limits, speaker)
    except DoesNotFit:
        assume(False)


@given(fitted(), st.sampled_from(MARKS))
def test_the_cut_chamber_lies_inside_the_exact_one(enclosure, marks):
    exact = enclosure.chamber
    try:
        cut = enclosure.as_cut(marks)
    except DoesNotFit:
        assume(False)
    assert exact.start_mm <= cut.start_mm < cut.inner_start_mm + (not cut.front_wall)
    assert cut.inner_start_mm < cut.inner_end_mm <= cut.end_mm <= exact.end_mm
    assert (cut.front_wall, cut.rear_wall) == (exact.front_wall, exact.rear_wall)
    assert exact.floor_mm <= cut.floor_mm < min(bay.zone.roof_mm for bay in cut.bays)
    assert cut.volume_mm3 == volume_mm3(cut.bays, cut.inner_start_mm, cut.inner_end_mm, cut.floor_mm)
    assert 0 < cut.volume_mm3 <= exact.volume_mm3
    if enclosure.speaker is not None:
        front, rear = cut.seat_mm
        assert cut.inner_start_mm + 2 * cut.front_wall <= front < rear <= cut.inner_end_mm - 2 * cut.rear_wall
        roofs = [bay.zone.roof_mm for bay in cut.bays if bay.start_mm < rear and bay.end_mm > front]
        assert min(roofs) - cut.floor_mm >= enclosure.speaker.depth_mm + enclosure.limits.over_speaker_mm


@given(fitted(), st.sampled_from(MARKS))
def test_walls_and_height_stand_at_marks_that_the_rule_has(enclosure, marks):
    exact = enclosure.chamber
    try:
        cut = enclosure.as_cut(marks)
    except DoesNotFit:
        assume(False)
    assert marks.setting(reference_roof_mm(cut) - cut.floor_mm).on_mark
    moved = (cut.start_mm, cut.end_mm) != (exact.start_mm, exact.end_mm)
    for wall, place in ((cut.front_wall, cut.start_mm), (cut.rear_wall, cut.end_mm)):
        if wall and moved and abs(place) > marks.rule.offset_mm + marks.rule.graduation_mm:
            assert marks.setting(abs(Fraction(place))).on_mark


def test_the_height_counts_from_the_front_wall_then_the_rear_then_the_front():
    zones = (Zone("low", 0, 20, 2, 12, 20), Zone("high", 20, 60, 2, 16, 20))
    for closed, roof in (((False, False), 12), ((True, False), 16), ((False, True), 12), ((True, True), 12)):
        chamber = fit_enclosure(Cavity(zones, *closed), Limits(1)).chamber
        assert (reference_roof_mm(chamber), reference_bay(chamber).zone.roof_mm) == (roof, roof)


@pytest.mark.parametrize(
    ("speaker", "closed", "what"),
    [
        (
            Speaker(15, 12, 1, 5),
            True,
            (
                "The speaker does not fit: 1.50 mm too little, because the chamber is 3.50 mm deep at most and the "
                "speaker takes 5.00 mm"
            ),
        ),
        (
            None,
            False,
            "The chamber does not fit: 0.50 mm too little, because no depth is left under the roof over low",
        ),
    ],
)
def test_marks_too_coarse_are_said_not_hidden(speaker, closed, what):
    """Marks every 3.5 mm: a chamber 5 mm deep is cut to 3.5; under the second roof, 2 mm lower, 1 mm would be left."""
    marks = Marks(Rule(scale="HO", graduation="1"), "1")
    zones = [Zone("deep", 0, 40, 4, 10, 20)]
    if speaker is None:
        zones.append(Zone("low", 40, 80, 4, Fraction(6), 20))
    enclosure = fit_enclosure(Cavity(tuple(zones), closed, closed), Limits(1, wall_mm=1), speaker)
    message = (
        f"{what} once its walls are cut to marks of 1. Cut to a finer mark, keep less clearance, or use a smaller "
        "speaker."
    )
    with pytest.raises(DoesNotFit, match=f"^{re.escape(message)}$"):
        enclosure.as_cut(marks)

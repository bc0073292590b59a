"""The chamber as it is cut: moved in to marks of the rule, never out, never at the speaker's cost in silence."""

from __future__ import annotations

import re
from fractions import Fraction

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from modelmath.clearance import Marks
from modelmath.enclosure import Cavity, Chamber, Enclosure, Limits, Speaker, Zone, fit_enclosure, volume_mm3
from modelmath.enclosure.assemble import parts_of
from modelmath.enclosure.chosen import why_none_is_built
from modelmath.enclosure.marked import at_marks, reference_bay, reference_roof_mm
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


def cut_of(enclosure: Enclosure, marks: Marks) -> tuple[Chamber, Chamber]:
    """The largest as cut, and the exact one it is cut from; cases that can't be cut have a test of their own."""
    try:
        cut = enclosure.as_cut(marks)
    except DoesNotFit:
        assume(False)
    assert cut.cut_from is not None
    return cut, cut.cut_from


def each_as_cut(enclosure: Enclosure, marks: Marks) -> list[tuple[Chamber | None, DoesNotFit | None]]:
    """Every candidate on its own, cut and its parts sized; or why it can't be."""
    found: list[tuple[Chamber | None, DoesNotFit | None]] = []
    for candidate in enclosure.candidates:
        try:
            cut = at_marks(candidate, enclosure, marks)
            parts_of(enclosure, cut, marks)
            found.append((cut, None))
        except DoesNotFit as miss:
            found.append((None, miss))
    return found


@settings(max_examples=200)
@given(fitted(), st.sampled_from(MARKS))
def test_it_fails_only_if_every_candidate_fails_and_none_as_cut_is_larger(enclosure, marks):
    alone = each_as_cut(enclosure, marks)
    volumes = sorted((cut.volume_mm3 for cut, _ in alone if cut is not None), reverse=True)
    if not volumes:
        with pytest.raises(DoesNotFit) as failed:
            enclosure.as_cut(marks)
        assert failed.value.short_mm == min(miss.short_mm for _, miss in alone if miss is not None)
        return
    ranked = enclosure.ranked_as_cut(marks)
    assert [each.volume_mm3 for each in ranked] == volumes[:2]
    assert enclosure.as_cut(marks) == ranked[0]
    assert ranked[0] == next(cut for cut, _ in alone if cut is not None and cut.volume_mm3 == volumes[0])
    assert all(each.cut_from in enclosure.candidates for each in ranked)


QUARTERS = Marks(Rule(scale="HO", zero_offset="1"), "1/4")  # a mark every 0.875 mm


def test_another_candidate_holds_the_speaker_once_the_largest_does_not():
    """By hand: 7.5 mm over all goes to 7 mm, too shallow for 7.3; 8.5 mm in the cab alone goes to 7.875.

    A flange of a mark leaves its supports on a mark too, 7 mm, so that they lift it no nearer to the roof.
    """
    cab, motor = Zone("cab", 0, 40, 5, 14, 15), Zone("motor", 40, 90, 6, 14, 15)
    speaker = Speaker(15, 12, Fraction(7, 8), Fraction(73, 10))
    enclosure = fit_enclosure(Cavity((cab, motor)), Limits(Fraction(1, 2)), speaker)
    cut = enclosure.as_cut(QUARTERS)
    assert (enclosure.chamber.governing.cause, cut.governing.cause) == (motor, cab)
    assert cut.cut_from == enclosure.runner_up
    assert reference_roof_mm(cut) - cut.floor_mm == Fraction(63, 8)


def test_another_candidate_may_be_larger_once_cut():
    """By hand: 90 x 15 x 7.7 beats 75 x 15 x 8.8; cut to 7.0 and 8.75 mm, 75 x 15 x 8.75 (its wall less) wins."""
    cab, motor = Zone("cab", 0, 76, Fraction(47, 10), 14, 15), Zone("motor", 76, 90, Fraction(58, 10), 14, 15)
    enclosure = fit_enclosure(Cavity((cab, motor)), Limits(Fraction(1, 2), wall_mm=1))
    first, second = enclosure.ranked_as_cut(QUARTERS)
    assert enclosure.chamber.volume_mm3 == 90 * 15 * Fraction(77, 10)
    assert enclosure.runner_up.volume_mm3 == 75 * 15 * Fraction(88, 10)
    assert (first.cut_from, second.cut_from) == (enclosure.runner_up, enclosure.chamber)
    assert second.volume_mm3 == 90 * 15 * 7
    end = first.inner_end_mm
    assert first.volume_mm3 == end * 15 * Fraction(35, 4) > second.volume_mm3


@given(fitted(), st.sampled_from(MARKS))
def test_the_cut_chamber_lies_inside_the_exact_one(enclosure, marks):
    cut, exact = cut_of(enclosure, marks)
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
    cut, exact = cut_of(enclosure, marks)
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
    ("speaker", "message"),
    [
        (
            Speaker(15, 12, 1, 5),
            (
                "The speaker does not fit: 1.50 mm too little, because with its walls cut to marks of 1, over deep the "
                "chamber is 3.50 mm deep, and the speaker takes 5.00 mm. Cut to a finer mark, keep less clearance, or "
                "use a smaller speaker."
            ),
        ),
        (
            None,
            (
                "The chamber does not fit: 0.50 mm too little, because with its walls cut to marks of 1, no depth is "
                "left under the roof over low, with the floor set by deep. Cut to a finer mark or keep less clearance."
            ),
        ),
    ],
)
def test_marks_too_coarse_are_said_not_hidden(speaker, message):
    """Marks every 3.5 mm: a chamber 5 mm deep is cut to 3.5; under the second roof, 2 mm lower, 1 mm would be left."""
    marks = Marks(Rule(scale="HO", graduation="1"), "1")
    zones = [Zone("deep", 0, 40, 4, 10, 20)]
    if speaker is None:
        zones.append(Zone("low", 40, 80, 4, 6, 20))
    enclosure = fit_enclosure(Cavity(tuple(zones)), Limits(1, wall_mm=1), speaker)
    with pytest.raises(DoesNotFit, match=f"^{re.escape(message)}$"):
        enclosure.as_cut(marks)


def test_where_moved_in_there_is_no_mark_under_the_roof_the_wall_stays():
    """By hand: at a mark, 20.5 mm, the wall would stand under the rear roof, 0.3 mm over the floor.

    At 20.1 mm it stands under the front one, 5.5 mm over it: 0.05 mm of length at 5.5 mm, and 39.8 mm at 0.3 mm.
    """
    step = Fraction(101, 5)
    zones = (
        Zone("front", 0, step, 5, Fraction(76, 5), 10),
        Zone("rear", step, 60, Fraction(97, 10), 10, 10),
    )
    limits = Limits(0, wall_mm=Fraction(1, 20), front_room_mm=Fraction(201, 10))
    cut = fit_enclosure(Cavity(zones, False), limits).as_cut(Marks(Rule(unit="mm", graduation="0.5"), "0.5"))
    assert (cut.start_mm, cut.floor_mm) == (Fraction(201, 10), Fraction(97, 10))
    assert cut.volume_mm3 == 10 * (Fraction(1, 20) * Fraction(11, 2) + Fraction(398, 10) * Fraction(3, 10))


def test_why_none_is_built_is_what_the_largest_would_say():
    """By hand: 0.4 mm of depth is less than the lowest mark, 0.5 mm. At 3 mm all can be built: nothing is said."""
    marks = Marks(Rule(unit="mm", graduation="0.5"), "0.5")

    def hood(depth: str) -> Enclosure:
        cavity = Cavity((Zone("hood", 0, 60, 15 - Fraction(depth), 15, 10),), False, False)
        return fit_enclosure(cavity, Limits(Fraction(0), post_mm=Fraction(2)))

    says = (
        "The bulkhead does not fit: 0.10 mm too little, because 0.40 mm is left for it, less than the lowest mark. "
        "Keep less clearance, cut to a finer mark, or read the space again."
    )
    assert str(why_none_is_built(hood("0.4"), marks)) == says
    with pytest.raises(DoesNotFit, match=f"^{re.escape(says)}$"):
        hood("0.4").ranked_as_cut(marks)
    assert why_none_is_built(hood("3"), marks) is None
    assert hood("3").ranked_as_cut(marks)[0].floor_mm == 12

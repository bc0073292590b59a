"""The largest chamber, against a search that knows nothing of bays: every pair of ends on a grid of 1 mm."""

from __future__ import annotations

import re
from dataclasses import dataclass, replace
from fractions import Fraction
from typing import Any

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from shapely.geometry import box
from shapely.ops import unary_union

from modelmath.enclosure import Box, Cavity, Enclosure, Limits, Speaker, Zone, fit_enclosure
from modelmath.errors import DoesNotFit


@dataclass(frozen=True)
class Case:
    """Whole millimetres throughout, so that the best chamber has its ends on the grid."""

    cavity: Cavity
    limits: Limits
    speaker: Speaker | None
    decoder: Box | None

    def fit(self) -> Enclosure | None:
        try:
            return fit_enclosure(self.cavity, self.limits, self.speaker, self.decoder)
        except DoesNotFit:
            return None


@st.composite
def cases(draw: st.DrawFn, most_zones: int = 8) -> Case:
    place, zones = draw(st.integers(-20, 20)), []
    for number in range(draw(st.integers(1, most_zones))):
        end = place + draw(st.integers(1, 10))
        top, roof, width = draw(st.integers(0, 8)), draw(st.integers(7, 16)), draw(st.integers(5, 12))
        zones.append(Zone(f"zone {number}", place, end, top, roof, width))
        place = end
    cavity = Cavity(tuple(zones), draw(st.booleans()), draw(st.booleans()))
    few = st.integers(0, 2)
    limits = Limits(draw(few), draw(st.integers(0, 3)), draw(few), draw(few), draw(few), draw(few), draw(few))
    speakers = st.builds(Speaker, st.integers(2, 12), st.integers(4, 9), st.just(1), st.integers(2, 6))
    boxes = st.builds(Box, st.just("decoder"), st.integers(1, 10), st.integers(3, 9), st.integers(1, 5))
    return Case(cavity, limits, draw(st.none() | speakers), draw(st.none() | boxes))


def cells(case: Case) -> list[tuple[Any, Any, Any]]:
    """For each millimetre: how low a part may reach there, the roof, the width; by looking at every millimetre."""
    flat = [zone for zone in case.cavity.zones for _ in range(zone.end_mm - zone.start_mm)]
    reach = case.limits.end_clearance_mm
    return [
        (
            max(other.top_mm for at, other in enumerate(flat) if at + 1 + reach > here and at < here + 1 + reach)
            + case.limits.clearance_mm,
            zone.roof_mm,
            zone.width_mm,
        )
        for here, zone in enumerate(flat)
    ]


def largest_on_the_grid(case: Case) -> Any:
    """The largest volume over every pair of ends, or None."""
    grid, limits = cells(case), case.limits
    first, last = limits.front_room_mm, len(grid) - limits.rear_room_mm
    best = None
    for start in range(first, last):
        for end in range(start + 1, last + 1):
            taken = grid[start:end]
            lowest = max(low for low, _, _ in taken)
            roof = min(roof for _, roof, _ in taken)
            if roof <= lowest:
                break
            front = start != 0 or not case.cavity.front_closed
            rear = end != len(grid) or not case.cavity.rear_closed
            inner = (start + front * limits.wall_mm, end - rear * limits.wall_mm)
            seats = (inner[0] + front * bool(limits.wall_mm) * limits.post_mm,
                     inner[1] - rear * bool(limits.wall_mm) * limits.post_mm)  # fmt: skip
            # A floor higher than need be may make room below it for the decoder.
            for floor in range(lowest, roof if case.decoder else lowest + 1):
                volume = sum(width * (roof - floor) for _, roof, width in grid[inner[0] : max(inner)])
                if inner[1] <= inner[0] or (best is not None and volume <= best):
                    break
                if all_find_room(case, grid, (first, last), (start, end), seats, floor):
                    best = volume
                    break
    return best


def all_find_room(case, grid, shell, chamber, inner, floor) -> bool:
    """Whether the speaker sits somewhere, and the decoder lies beside the chamber or below its floor, clear of it."""
    places = [None] if case.speaker is None else list(speaker_seats(case, grid, inner, floor))
    return any(decoder_lies(case, grid, shell, chamber, floor, seat) for seat in places)


def speaker_seats(case: Case, grid: list[Any], inner: tuple[Any, Any], floor: Any) -> Any:
    speaker = case.speaker
    deep = floor + speaker.depth_mm + case.limits.over_speaker_mm
    for seat in range(inner[0], inner[1] - speaker.length_mm + 1):
        if all(roof >= deep and width >= speaker.width_mm for _, roof, width in grid[seat : seat + speaker.length_mm]):
            yield seat


def decoder_lies(case, grid, shell, chamber, floor, seat) -> bool:
    decoder = case.decoder
    if decoder is None:
        return True
    for place in range(shell[0], shell[1] - decoder.length_mm + 1):
        end = place + decoder.length_mm
        under = grid[place:end]
        highest = max(low for low, _, _ in under)
        if min(width for _, _, width in under) < decoder.width_mm:
            continue
        outside = end <= chamber[0] or place >= chamber[1]
        if outside and min(roof for _, roof, _ in under) - highest >= decoder.height_mm:
            return True
        within = place >= chamber[0] and end <= chamber[1]
        clear = seat is None or end <= seat or place >= seat + case.speaker.length_mm
        if within and clear and floor - highest >= decoder.height_mm:
            return True
    return False


@settings(max_examples=400)
@given(cases())
def test_no_feasible_chamber_beats_the_one_found(case):
    found = case.fit()
    assert (None if found is None else found.chamber.volume_mm3) == largest_on_the_grid(case)


def is_clear(case: Case, start: float, end: float, floor: float) -> bool:
    """Whether every point between two ends clears the chassis, and a roof stands above it; polygons of shapely."""
    cavity, limits = case.cavity, case.limits
    along, above = float(limits.end_clearance_mm), float(limits.clearance_mm)
    steps = [box(z.start_mm - along, -99, z.end_mm + along, float(z.top_mm) + above) for z in cavity.zones]
    within = [zone for zone in cavity.zones if zone.start_mm < end and zone.end_mm > start]
    taken = [box(max(z.start_mm, start), floor, min(z.end_mm, end), z.roof_mm) for z in within]
    inside = cavity.start_mm + limits.front_room_mm <= start and end <= cavity.end_mm - limits.rear_room_mm
    under_roof = all(zone.roof_mm > floor for zone in within)
    return inside and under_roof and unary_union(taken).intersection(unary_union(steps)).area < 1e-9


@given(cases(), st.data())
def test_no_random_chamber_off_the_grid_beats_it(case, data):
    case = replace(case, speaker=None, decoder=None)
    found, cavity = case.fit(), case.cavity
    start = data.draw(st.floats(float(cavity.start_mm), float(cavity.end_mm) - 0.1))
    end = data.draw(st.floats(start + 0.1, float(cavity.end_mm)))
    floor = data.draw(st.sampled_from([float(z.top_mm + case.limits.clearance_mm) for z in cavity.zones]))
    floor += data.draw(st.floats(0, 3))
    if not is_clear(case, start, end, floor):
        return
    wall = float(case.limits.wall_mm)
    inner = (start + wall * (start != cavity.start_mm or not cavity.front_closed),
             end - wall * (end != cavity.end_mm or not cavity.rear_closed))  # fmt: skip
    volume = sum(
        box(max(zone.start_mm, inner[0]), floor, min(zone.end_mm, inner[1]), zone.roof_mm).area * zone.width_mm
        for zone in cavity.zones
        if inner[1] > inner[0] and zone.start_mm < inner[1] and zone.end_mm > inner[0]
    )
    if volume > 0:
        assert found is not None
        assert volume <= float(found.chamber.volume_mm3) + 1e-6


@given(cases())
def test_what_is_found_is_feasible_from_first_principles(case):
    found = case.fit()
    assume(found is not None)
    for chamber in filter(None, (found.chamber, found.runner_up)):
        assert is_clear(case, float(chamber.start_mm), float(chamber.end_mm), float(chamber.floor_mm))
        needs_front = chamber.start_mm != case.cavity.start_mm or not case.cavity.front_closed
        assert chamber.inner_start_mm - chamber.start_mm == (case.limits.wall_mm if needs_front else 0)
        needs_rear = chamber.end_mm != case.cavity.end_mm or not case.cavity.rear_closed
        assert chamber.end_mm - chamber.inner_end_mm == (case.limits.wall_mm if needs_rear else 0)
        zones = case.cavity.zones
        if case.speaker is not None:
            front, rear = chamber.seat_mm
            assert rear - front == case.speaker.length_mm
            assert chamber.inner_start_mm + case.limits.post_mm * chamber.front_wall <= front
            assert rear <= chamber.inner_end_mm - case.limits.post_mm * chamber.rear_wall
            over = [zone for zone in zones if zone.start_mm < rear and zone.end_mm > front]
            deep = case.speaker.depth_mm + case.limits.over_speaker_mm
            assert min(zone.roof_mm for zone in over) - chamber.floor_mm >= deep
            assert min(zone.width_mm for zone in over) >= case.speaker.width_mm
        if case.decoder is not None:
            front, rear = chamber.decoder_mm
            assert rear - front == case.decoder.length_mm
            over = [zone for zone in zones if zone.start_mm < rear and zone.end_mm > front]
            assert min(zone.width_mm for zone in over) >= case.decoder.width_mm
            top, bottom = chamber.pocket.top_mm, chamber.pocket.bottom_mm
            assert top - bottom == case.decoder.height_mm
            assert is_clear(case, float(front), float(rear), float(bottom))
            if chamber.pocket.where == "beside the chamber":
                assert rear <= chamber.start_mm or chamber.end_mm <= front
                assert top == min(zone.roof_mm for zone in over)
            else:
                assert chamber.start_mm <= front < rear <= chamber.end_mm
                assert top <= chamber.floor_mm
                assert case.speaker is None or rear <= chamber.seat_mm[0] or chamber.seat_mm[1] <= front


@given(cases(), st.integers(1, 3), st.integers(0, 3))
def test_more_clearance_never_gives_more_volume(case, more, along):
    limits = case.limits
    kept = replace(limits, clearance_mm=limits.clearance_mm + more, end_clearance_mm=limits.end_clearance_mm + along)
    before, after = case.fit(), replace(case, limits=kept).fit()
    if after is not None:
        assert before is not None
        assert after.chamber.volume_mm3 <= before.chamber.volume_mm3


@given(cases())
def test_a_mirrored_cavity_gives_the_mirrored_chamber(case):
    cavity, limits = case.cavity, case.limits
    zones = tuple(replace(zone, start_mm=-zone.end_mm, end_mm=-zone.start_mm) for zone in reversed(cavity.zones))
    turned = replace(
        case,
        cavity=Cavity(zones, cavity.rear_closed, cavity.front_closed),
        limits=replace(limits, front_room_mm=limits.rear_room_mm, rear_room_mm=limits.front_room_mm),
    )
    one, other = case.fit(), turned.fit()
    assert (one is None) == (other is None)
    if one is None:
        return
    assert one.chamber.volume_mm3 == other.chamber.volume_mm3
    if one.runner_up is None or one.runner_up.volume_mm3 < one.chamber.volume_mm3:
        assert (one.chamber.start_mm, one.chamber.end_mm) == (-other.chamber.end_mm, -other.chamber.start_mm)
        assert one.chamber.floor_mm == other.chamber.floor_mm


@given(cases(), st.fractions(-50, 50, max_denominator=64))
def test_the_fore_aft_mark_may_stand_anywhere(case, by):
    zones = tuple(replace(z, start_mm=z.start_mm + by, end_mm=z.end_mm + by) for z in case.cavity.zones)
    one, other = case.fit(), replace(case, cavity=replace(case.cavity, zones=zones)).fit()
    assert (one is None) == (other is None)
    if one is not None:
        assert one.chamber.volume_mm3 == other.chamber.volume_mm3
        assert (one.chamber.start_mm + by, one.chamber.end_mm + by) == (other.chamber.start_mm, other.chamber.end_mm)
        if one.chamber.seat_mm is not None:
            moved = [float(each + by) for each in one.chamber.seat_mm]
            assert [float(each) for each in other.chamber.seat_mm] == pytest.approx(moved)


def test_a_stiff_box_needs_one_height_along_its_whole_length():
    """Each zone is 5 mm deep, but roof and chassis step up together: nothing 8 mm long lies across the step."""
    cavity = Cavity((Zone("low", 0, 6, 5, 10, 10), Zone("high", 6, 12, 10, 15, 10)))
    message = (
        "The decoder does not fit: 2.00 mm too little, because over low there are 6.00 mm of length for its 8.00 mm. "
        "Use a smaller decoder, turn it, or keep less clearance."
    )
    with pytest.raises(DoesNotFit, match=f"^{re.escape(message)}$"):
        fit_enclosure(cavity, Limits(0), decoder=Box("decoder", 8, 9, 5))


def test_the_wider_shallower_stretch_can_win():
    """By hand: 60 x 10 x 5 = 3000 over all beats 19 x 10 x 9 = 1710 in the cab alone."""
    cavity = Cavity((Zone("cab", 0, 20, 5, 15, 10), Zone("motor", 20, 60, 9, 15, 10)))
    found = fit_enclosure(cavity, Limits(clearance_mm=1))
    assert (found.chamber.volume_mm3, found.runner_up.volume_mm3, found.looked_at) == (3000, 1710, 2)


def test_fractions_stay_exact():
    third = Fraction(1, 3)
    found = fit_enclosure(Cavity((Zone("motor", third, third * 100, third, 7, 5),)), Limits(third))
    assert found.chamber.volume_mm3 == Fraction(19, 3) * 5 * 33

"""Zones and bays: the chassis profile grown by the clearances, and the volume above a floor."""

from __future__ import annotations

import re
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st
from shapely.geometry import Polygon, box
from shapely.ops import unary_union

from modelmath.enclosure import Box, Cavity, Limits, Speaker, Zone, volume_mm3
from modelmath.errors import OutOfRange, WrongKind
from modelmath.lengths.prototype import PrototypeLength


@st.composite
def cavities(draw: st.DrawFn, most: int = 6) -> Cavity:
    """Stepped roofs and chassis, now and then meeting each other."""
    place, zones = draw(st.integers(-30, 30)), []
    for number in range(draw(st.integers(1, most))):
        end = place + draw(st.integers(1, 12))
        top, roof, width = draw(st.integers(0, 10)), draw(st.integers(5, 18)), draw(st.integers(4, 20))
        zones.append(Zone(f"zone {number}", place, end, top, roof, width))
        place = end
    return Cavity(tuple(zones))


def side_view(zones: tuple[Zone, ...], floor: float, start: float, end: float) -> list[tuple[Polygon, float]]:
    """Each zone's part of the space above a floor as a polygon, with its width."""
    return [
        (box(max(zone.start_mm, start), floor, min(zone.end_mm, end), zone.roof_mm), float(zone.width_mm))
        for zone in zones
        if zone.start_mm < end and zone.end_mm > start and zone.roof_mm > floor
    ]


@given(cavities(), st.integers(0, 3), st.integers(0, 5))
def test_bays_are_the_chassis_grown_by_both_clearances(cavity, clearance, along):
    """Shapely, a general geometry library, unites the chassis steps as grown boxes; bays must draw the same line."""
    grown = unary_union(
        [box(z.start_mm - along, -99, z.end_mm + along, z.top_mm + clearance) for z in cavity.zones]
    ).intersection(box(cavity.start_mm, -99, cavity.end_mm, 99))
    bays = cavity.bays(clearance, along)
    drawn = unary_union([box(bay.start_mm, -99, bay.end_mm, bay.floor_mm) for bay in bays])
    assert drawn.symmetric_difference(grown).area < 1e-9


@given(cavities(), st.integers(0, 3), st.integers(0, 5))
def test_bays_leave_no_gap_and_name_their_cause(cavity, clearance, along):
    bays = cavity.bays(clearance, along)
    assert [bay.start_mm for bay in bays] == [cavity.start_mm, *(bay.end_mm for bay in bays[:-1])]
    assert bays[-1].end_mm == cavity.end_mm
    for bay in bays:
        assert bay.floor_mm == bay.cause.top_mm + clearance
        assert bay.cause.start_mm - along <= bay.start_mm
        assert bay.end_mm <= bay.cause.end_mm + along
        assert bay.zone.start_mm <= bay.start_mm
        assert bay.end_mm <= bay.zone.end_mm
        assert (bay.depth_mm, bay.length_mm) == (bay.zone.roof_mm - bay.floor_mm, bay.end_mm - bay.start_mm)


@given(cavities(), st.floats(-45, 45), st.floats(0.01, 90))
def test_volume_is_polygon_area_times_width(cavity, start, length):
    floor = min(zone.roof_mm for zone in cavity.zones) - 1
    end = start + length
    expected = sum(shape.area * width for shape, width in side_view(cavity.zones, floor, start, end))
    assert float(volume_mm3(cavity.bays(0, 0), start, end, floor)) == pytest.approx(expected, rel=1e-9, abs=1e-6)


BAD = [
    (
        lambda: Zone("cab", 5, 5, 1, 9, 10),
        "zone 'cab' is 0.00 mm long; it must be longer than 0. Check where it starts and ends.",
    ),
    (
        lambda: Zone("cab", 0, 5, 1, 9, 0),
        "zone 'cab' is 0.00 mm wide; it must be wider than 0. Check its inside width.",
    ),
    (
        lambda: Zone("cab", 0, 5, 1, 9, -2),
        "zone 'cab' is -2.00 mm wide; it must be wider than 0. Check its inside width.",
    ),
    (
        lambda: Cavity(()),
        "the cavity is without zones; it must be one zone or more. Add a zone with its two height readings.",
    ),
    (
        lambda: Cavity((Zone("cab", 0, 5, 1, 9, 9), Zone("motor", 6, 9, 1, 9, 9))),
        (
            "zone 'motor' is starting at 6.00 mm; it must be starting where zone 'cab' ends, at 5.00 mm. "
            "Use one reading for both, and list the zones from front to rear."
        ),
    ),
    (
        lambda: Cavity((Zone("cab", 0, 5, 1, 9, 9),)).bays(-1, 0),
        "the clearance is -1 mm; it must be 0 or more. Write the gap to keep, such as 0.5 mm.",
    ),
    (
        lambda: Cavity((Zone("cab", 0, 5, 1, 9, 9),)).bays(0, float("nan")),
        "the clearance along the length is nan mm; it must be a finite number. Check the readings behind it.",
    ),
    (
        lambda: Speaker(20, 15, 3, 2, "oval"),
        (
            "oval: flange is 3.00 mm; it must be no thicker than the speaker's whole depth, 2.00 mm. "
            "Check which of the two was measured."
        ),
    ),
    (
        lambda: Box("decoder", 20, 0, 3),
        "decoder: width is 0 mm; it must be above 0. Measure the part and write its size, such as 15 mm.",
    ),
    (
        lambda: Limits(clearance_mm=1, over_speaker_mm=-1),
        "over speaker is -1 mm; it must be 0 or more. Write 0 mm for none.",
    ),
]


@pytest.mark.parametrize(("make", "message"), BAD)
def test_what_makes_no_sense_is_refused(make, message):
    with pytest.raises(OutOfRange, match=f"^{re.escape(message)}$"):
        make()


READ = "Read text with parse_length first."
FEET = PrototypeLength(Fraction(40))
SCALED = "Turn it into a model length with a Scale first, such as scale('HO').model_mm."
WRONG = [
    (lambda: Zone("cab", 0, "20 mm", 1, 9, 10), f"zone 'cab': end is '20 mm'; expected a plain number of mm. {READ}"),
    (
        lambda: Zone("cab", 0, 20, 1, FEET, 10),
        f"zone 'cab': roof is the prototype length 40' 0\"; expected a plain number of mm. {SCALED}",
    ),
    (lambda: Speaker("20", 15, 1, 5, "oval"), f"oval: length is '20'; expected a plain number of mm. {READ}"),
    (
        lambda: Speaker(20, 15, 1, FEET),
        f"speaker: depth is the prototype length 40' 0\"; expected a plain number of mm. {SCALED}",
    ),
    (
        lambda: Box("decoder", 20, None, 3),
        "decoder: width is 'None'; expected a plain number of mm. Write the length in mm, such as 15.",
    ),
    (lambda: Limits("1/4 ft"), f"clearance is '1/4 ft'; expected a plain number of mm. {READ}"),
    (
        lambda: Limits(1, wall_mm=FEET),
        f"wall is the prototype length 40' 0\"; expected a plain number of mm. {SCALED}",
    ),
    (
        lambda: Limits(1, post_mm=True),
        "post is 'True'; expected a plain number of mm. Write the length in mm, such as 15.",
    ),
    (
        lambda: Cavity((Zone("cab", 0, 5, 1, 9, 9),)).bays("1", 0),
        f"the clearance is '1'; expected a plain number of mm. {READ}",
    ),
]


@pytest.mark.parametrize(("make", "message"), WRONG)
def test_text_and_prototype_lengths_are_refused_by_name(make, message):
    with pytest.raises(WrongKind, match=f"^{re.escape(message)}$"):
        make()


@pytest.mark.parametrize("field", ["start_mm", "end_mm", "top_mm", "roof_mm", "width_mm"])
def test_a_zone_of_no_number_is_refused(field):
    sizes = {"start_mm": 0, "end_mm": 20, "top_mm": 1, "roof_mm": 9, "width_mm": 10, field: float("nan")}
    message = f"zone 'cab': {field[:-3]} is nan mm; it must be a finite number. Check the readings behind it."
    with pytest.raises(OutOfRange, match=f"^{re.escape(message)}$"):
        Zone("cab", **sizes)

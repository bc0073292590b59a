"""Several spots over a zone: the smallest free depth governs, and the plan says where."""

from __future__ import annotations

import re
from dataclasses import replace
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st
from sample_jobs import DEMOS, SMALLEST, job, with_chamber

from modelmath import plan
from modelmath.errors import WrongKind
from modelmath.job.bench.bench import Bench
from modelmath.job.entries.zones import mark_row, with_zones, zone_rows

MM = {"name": "caliper", "unit": "mm", "graduation": "0.1"}
ZONE = SMALLEST["zones"][0]
FOOT = Fraction(7, 2)  # mm to the HO scale foot


def spot(name="left", **fields):
    return {"name": name, "zone": "motor", **fields}


def read(**marks):
    return [*SMALLEST["readings"], *({"name": name.replace("_", " "), "mark": mark} for name, mark in marks.items())]


def faults(**fields):
    return [str(fault) for fault in Bench(job(**fields), "hood.toml").faults]


def test_the_smallest_depth_governs_and_says_where():
    found = plan(
        job(
            readings=read(left_motor="6", capacitor="5 3/4"),
            stations=[spot("right side", chassis_top="capacitor"), spot(chassis_top="left motor")],
        )
    )
    (depth,) = found.depths
    assert [(each.name, each.free.exact_mm / FOOT) for each in depth.stations] == [
        ("left", Fraction(13, 4)),
        ("right side", Fraction(7, 2)),
        ("motor top", Fraction(15, 4)),  # the zone's own
    ]
    assert (depth.at, depth.name, depth.free.exact_mm) == ("left", "motor, left", Fraction(13, 4) * FOOT)
    assert found.space.exact_mm == depth.free.exact_mm
    assert found.bulkhead.cut.cut_mm == 3 * FOOT
    how = found.figures["free depth: motor"].how
    assert "smallest at left (elsewhere right side 12.25 mm, motor top 13.13 mm)" in how


def test_a_station_takes_over_what_it_leaves_out():
    """A left gutter lower than the roof, over the same motor; a capacitor below the same roof."""
    made = job(readings=read(gutter="9"), stations=[spot(underside="gutter")])
    (depth,) = Bench(made).depths
    assert (depth.stations[0].roof.exact_mm, depth.stations[0].top.exact_mm) == (10 * FOOT, Fraction(13, 2) * FOOT)
    assert depth.offset_cancels == "scale rule"


def test_a_gap_read_at_a_station_is_taken_as_it_is():
    readings = [*SMALLEST["readings"], {"name": "putty", "mark": "11.8", "rule": "caliper"}]
    made = job(rules=[SMALLEST["rules"][0], MM], readings=readings, stations=[spot(gap="putty")])
    found = plan(made)
    (depth,) = found.depths
    assert (depth.at, depth.free.exact_mm, depth.read_as_gap) == ("left", Fraction("11.8"), "putty")
    assert depth.roof.exact_mm - depth.top.exact_mm == Fraction("11.8")
    assert not any("were not read the same way" in each for each in found.warnings)
    figure = found.figures["free depth: motor"]
    assert figure.how.startswith("the gap read in the assembled model")
    assert {"reading: putty", "reading: roof", "reading: motor top"} == set(figure.follows_from)


def test_a_height_that_governs_beside_a_read_gap_is_told_as_a_height():
    """The zone's own gap is the larger; the station's two heights, from two rules, set the depth."""
    readings = [
        *SMALLEST["readings"],
        {"name": "putty", "mark": "13", "rule": "caliper"},
        {"name": "capacitor", "mark": "24", "rule": "caliper"},
    ]
    zones = [{**ZONE, "gap": "putty"}]
    made = job(
        rules=[SMALLEST["rules"][0], MM],
        readings=readings,
        zones=zones,
        stations=[spot(chassis_top="capacitor", underside="roof")],
    )
    found = plan(made)
    assert found.depths[0].free.exact_mm == Fraction("35.875") - 24
    assert found.depths[0].read_as_gap == ""
    assert any("Over motor the two heights were not read the same way" in each for each in found.warnings)
    assert found.figures["free depth: motor"].how.startswith("roof less chassis top; smallest at left")


def test_a_zone_with_stations_only():
    stations = [
        spot(underside="roof", chassis_top="motor top"),
        spot("right", underside="gutter", chassis_top="motor top"),
    ]
    made = with_chamber(
        readings=[*with_chamber().model_dump(exclude_none=True)["readings"], {"name": "gutter", "mark": "9"}],
        zones=[{"name": "motor", "width": "width"}],
        stations=stations,
    )
    found = plan(made)
    assert [each.name for each in found.depths[0].stations] == ["right", "left"]
    assert found.chamber is not None
    assert {name for figure in found.figures.values() for name in figure.follows_from} <= set(found.figures)
    assert "free depth: motor" in str(found.why("chamber volume"))


@given(st.permutations(range(3)), st.lists(st.integers(20, 36), min_size=3, max_size=3))
def test_the_order_of_the_stations_does_not_matter(order, tops):
    rules = [SMALLEST["rules"][0]]
    readings = read(**{f"top_{place}": f"{top}/8" for place, top in enumerate(tops)})
    stations = [spot(f"spot {place}", chassis_top=f"top {place}") for place in range(3)]
    one = Bench(job(rules=rules, readings=readings, stations=stations)).depths[0]
    other = Bench(job(rules=rules, readings=readings, stations=[stations[place] for place in order])).depths[0]
    assert one.free.exact_mm == other.free.exact_mm == min(each.free.exact_mm for each in one.stations)
    assert {each.name for each in one.stations} == {each.name for each in other.stations}
    assert [each.free.exact_mm for each in one.stations] == sorted(each.free.exact_mm for each in one.stations)


FAULTS = [
    ({"stations": [spot(zone="mtor")]}, "station 1 ('left'), zone: the zone is 'mtor'; write 'motor'."),
    ({"stations": [spot(underside="rof")]}, "station 1 ('left'), underside: the reading is 'rof'; write 'roof'."),
    ({"stations": [spot(gap="motor tp")]}, "station 1 ('left'), gap: the reading is 'motor tp'; write 'motor top'."),
    (
        {"stations": [spot(underside="motor top", chassis_top="roof")]},
        (
            "station 1 ('left'): the free depth is -13.12 mm; it must be above 0. 'motor top' must lie higher above "
            "the seat than 'roof'."
        ),
    ),
    (
        {"zones": [{"name": "motor"}], "stations": [spot(underside="rof", chassis_top="motor top")]},
        "station 1 ('left'), underside: the reading is 'rof'; write 'roof'.",
    ),
    (
        {"zones": [{"name": "motor", "underside": "rof"}], "stations": [spot(chassis_top="motor top")]},
        "zone 1 ('motor'), underside: the reading is 'rof'; write 'roof'.",
    ),
    (
        {"zones": [{"name": "motor"}], "stations": [spot(underside="roof")]},
        (
            "station 1 ('left'): the station is without its two heights; expected readings for underside and "
            "chassis_top, or for gap. Name the readings taken over this zone."
        ),
    ),
    (
        {"zones": [{"name": "motor"}]},
        (
            "zone 1 ('motor'): the zone is without its two heights; expected readings for underside and chassis_top, "
            "or for gap. Name the readings taken over this zone."
        ),
    ),
]


@pytest.mark.parametrize(("fields", "message"), FAULTS)
def test_a_station_that_makes_no_sense_is_one_fault_at_its_place(fields, message):
    assert faults(**fields) == [f"hood.toml, {message}"]


def test_the_demo_hangs_the_bulkhead_from_its_lower_gutter():
    found = plan(DEMOS["railbus-ho"])
    assert [depth.at for depth in found.depths] == ["left side"] * 3
    assert re.search(r"reading: roof, left gutter", str(found.why("bulkhead height")))
    assert "reading: roof, left gutter" in found.figures["space at the bulkhead"].follows_from


def test_a_straight_part_clears_the_highest_chassis_from_the_lowest_roof():
    """A hump over a capacitor: free by itself, but the edge that hangs from the lower roof beside it is straight."""
    marks = {"roof": "9 1/4", "hump": "9 3/4", "top": "5", "cap": "5 3/8", "rear top": "4 7/8", "width": "5"}
    readings = [{"name": name, "mark": mark} for name, mark in marks.items()]
    readings += [{"name": "length", "mark": "25", "on": "shell"}, {"name": "rear ends", "mark": "3", "on": "shell"}]
    zones = [
        {"name": "rear", "underside": "roof", "chassis_top": "rear top", "width": "width", "end": "rear ends"},
        {"name": "motor", "underside": "roof", "chassis_top": "top", "width": "width"},
    ]
    fields = {"readings": readings, "zones": zones, "clearance": {"keep": "0.5 mm"}}
    found = plan(with_chamber(**fields, stations=[spot(underside="hump", chassis_top="cap")]))
    assert found.governing.name == "motor, left"  # where the chassis is highest; "why" names both spots
    assert found.governing.free.exact_mm == FOOT * (Fraction(37, 4) - Fraction(43, 8))
    assert found.spots[0].left_mm >= 0.5
    assert found.anywhere.chance < 0.05
    alone = plan(with_chamber(**fields, stations=[spot(underside="roof", chassis_top="cap")]))
    assert alone.chamber_height_mm == found.chamber_height_mm


def test_a_straight_part_without_room_is_refused_with_both_spots():
    readings = read(hump="14", cap="9 1/2")
    (fault,) = Bench(job(readings=readings, stations=[spot(underside="hump", chassis_top="cap")])).faults
    assert "roof at motor top, chassis at left" in str(fault)
    assert "A straight part finds no room there" in str(fault)


@pytest.mark.parametrize("name", DEMOS)
def test_zones_typed_as_they_stand_change_nothing(name):
    """What the fields of the zones show, taken over again, is the same job; in a spot of its own names as well."""
    before = DEMOS[name]
    assert with_zones(before, zone_rows(before), mark_row(before)) == before


def test_spots_are_typed_as_one_line():
    rows = zone_rows(job())
    typed = "left: 5 3/4; right: 5, 9; edge: shell 8 3/4; front: gap 12.4 mm"
    changed = with_zones(job(), [replace(rows[0], spots=typed)])
    assert [(each.name, bool(each.underside), bool(each.chassis_top), bool(each.gap)) for each in changed.stations] == [
        ("left", False, True, False),
        ("right", True, True, False),
        ("edge", True, False, False),
        ("front", False, False, True),
    ]
    assert zone_rows(changed)[0].spots == typed
    assert with_zones(changed, rows).stations == []


@pytest.mark.parametrize(
    ("typed", "message"),
    [
        (
            "left 5",
            "the further spots is 'left 5'; expected a place, a colon, a reading. Write left: 5 1/4; right: 5, 8 1/2.",
        ),
        (
            "left: 5; left: 6",
            "the further spots is 'left' twice; expected each place once. Give one of the two another.",
        ),
    ],
)
def test_spots_that_cant_be_read_are_refused(typed, message):
    rows = zone_rows(job())
    with pytest.raises(WrongKind, match=f"^{re.escape(message)}$"):
        with_zones(job(), [replace(rows[0], spots=typed)])

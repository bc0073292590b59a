"""What moves over the chassis, in the cavity: bays, the chamber, and the messages that name it."""

from __future__ import annotations

import re
from dataclasses import replace
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st
from shapely.geometry import box
from shapely.ops import unary_union
from uncertainties import ufloat

from modelmath.clearance import Marks
from modelmath.enclosure import Box, Cavity, Limits, Speaker, Zone, fit_enclosure
from modelmath.enclosure.obstacles import Obstacle
from modelmath.errors import DoesNotFit, OutOfRange, WrongKind
from modelmath.lengths.rules import Rule

TRUCK = Obstacle("front truck", 10, 22, 9, -6, 8, Fraction(1, 2), "the front truck at full swing")
CAVITY = Cavity((Zone("cab", 0, 20, 5, 15, 10), Zone("motor", 20, 60, 9, 15, 10)))


@st.composite
def cavities(draw: st.DrawFn) -> Cavity:
    """Stepped chassis under a stepped roof, with up to three obstacles that may overlap each other and the ends."""
    place, zones, obstacles = draw(st.integers(-20, 20)), [], []
    for number in range(draw(st.integers(1, 5))):
        end = place + draw(st.integers(1, 12))
        zones.append(Zone(f"zone {number}", place, end, draw(st.integers(0, 10)), draw(st.integers(8, 18)), 12))
        place = end
    for number in range(draw(st.integers(0, 3))):
        start = draw(st.integers(-30, 60))
        top = draw(st.integers(0, 16))
        obstacles.append(Obstacle(f"truck {number}", start, start + draw(st.integers(1, 20)), 8, -9, top))
    return Cavity(tuple(zones), obstacles=tuple(obstacles))


@given(cavities(), st.integers(0, 3), st.integers(0, 4))
def test_bays_are_grown_steps_united_with_the_obstacles_as_they_are(cavity, clearance, along):
    """Shapely unites the grown chassis and the bare obstacles; the bays must draw the same line."""
    steps = [box(z.start_mm - along, -99, z.end_mm + along, z.top_mm + clearance) for z in cavity.zones]
    moving = [box(o.start_mm, -99, o.end_mm, o.top_mm) for o in cavity.obstacles]
    inside = box(cavity.start_mm, -99, cavity.end_mm, 99)
    taken = unary_union([*steps, *moving]).intersection(inside)
    bays = cavity.bays(clearance, along)
    drawn = unary_union([box(bay.start_mm, -99, bay.end_mm, bay.floor_mm) for bay in bays])
    assert drawn.symmetric_difference(taken).area < 1e-9
    assert [bay.start_mm for bay in bays] == [cavity.start_mm, *(bay.end_mm for bay in bays[:-1])]
    for bay in bays:
        if isinstance(bay.cause, Zone):
            assert bay.floor_mm == bay.cause.top_mm + clearance
        else:
            assert bay.floor_mm == bay.cause.top_mm
            assert bay.cause.start_mm <= bay.start_mm
            assert bay.end_mm <= bay.cause.end_mm


@given(cavities(), st.integers(0, 3), st.integers(0, 4))
def test_an_obstacle_below_the_chassis_changes_nothing(cavity, clearance, along):
    lowest = min(zone.top_mm for zone in cavity.zones)
    bare = replace(cavity, obstacles=())
    low = Obstacle("truck", cavity.start_mm + Fraction(1, 3), cavity.end_mm, 8, -9, lowest)
    assert replace(bare, obstacles=(low,)).bays(clearance, along) == bare.bays(clearance, along)


def test_bays_over_a_truck_by_hand():
    cavity = replace(CAVITY, obstacles=(TRUCK,))
    found = [(bay.start_mm, bay.end_mm, bay.floor_mm, bay.cause.name) for bay in cavity.bays(1, 2)]
    assert found == [(0, 10, 6, "cab"), (10, 18, 8, "front truck"), (18, 20, 10, "motor"), (20, 60, 10, "motor")]


@given(cavities(), st.integers(0, 2))
def test_an_obstacle_never_gives_more_volume(cavity, clearance):
    limits = Limits(clearance, 1)
    try:
        with_it = fit_enclosure(cavity, limits).chamber.volume_mm3
    except DoesNotFit:
        return
    assert with_it <= fit_enclosure(replace(cavity, obstacles=()), limits).chamber.volume_mm3


def test_a_chamber_with_a_truck_in_the_way_is_walled_off_or_floored_over_it():
    """By hand: over all, 60 x 10 x 5 = 3000; the cab ahead of the truck alone, less a wall of 1: 9 x 10 x 9 = 810."""
    high = replace(TRUCK, top_mm=16, end_mm=60)
    found = fit_enclosure(replace(CAVITY, obstacles=(high,)), Limits(1)).chamber
    assert (found.volume_mm3, found.end_mm, found.rear_wall) == (810, 10, True)
    low = fit_enclosure(replace(CAVITY, obstacles=(replace(TRUCK, top_mm=11),)), Limits(1))
    assert low.chamber.governing.cause.name == "front truck"
    assert low.chamber.volume_mm3 == 60 * 10 * 4
    assert low.chamber.floor_mm == 11


def test_the_chamber_as_it_is_cut_stays_above_what_moves():
    low = fit_enclosure(replace(CAVITY, obstacles=(replace(TRUCK, top_mm=Fraction(1103, 100)),)), Limits(1))
    cut = low.as_cut(Marks(Rule(unit="mm", graduation="0.5"), "0.5"))
    assert cut.floor_mm == Fraction(23, 2)
    assert cut.floor_mm >= cut.governing.cause.top_mm


def test_numbers_enter_rounded_outward_and_exact():
    found = Obstacle("truck", -10.0004, 5.2501, 8.00001, -0.0001, ufloat(7.0002, 0.1), 0.5).outward()
    assert (found.start_mm, found.end_mm) == (Fraction(-10001, 1000), Fraction(5251, 1000))
    assert (found.bottom_mm, found.top_mm) == (Fraction(-1, 1000), Fraction(7001, 1000))
    assert (found.half_width_mm, found.running_mm) == (Fraction(8001, 1000), Fraction(1, 2))
    assert found.outward() == found
    # A sum of floats that is a whole step but for its rounding error is that step.
    assert Obstacle("truck", 0, 1, 1, 0, 0.1 + 0.2).outward().top_mm == Fraction(3, 10)
    cavity = Cavity((Zone("cab", 0, 20, 5, 15, 10),), obstacles=(Obstacle("truck", 1.5, 9.0004, 4, 0, 7.1),))
    assert not any(isinstance(each, float) for each in vars(cavity.obstacles[0]).values())
    assert cavity.bays(1, 0)[1].end_mm == Fraction(9001, 1000)


ONE = Cavity((Zone("motor", 0, 40, 5, 15, 12),))
OVER = replace(TRUCK, start_mm=0, end_mm=40, top_mm=12)
MISSES = {
    "no depth": (
        (replace(ONE, obstacles=(replace(OVER, top_mm=17),)), Limits(1)),
        (
            "The chamber does not fit: 2.00 mm too little, because over the front truck at full swing, the deepest "
            "place, it takes, with its running clearance, all the depth. "
            "Keep less running clearance there, or let it move less."
        ),
    ),
    "too deep": (
        (replace(ONE, obstacles=(OVER,)), Limits(1), Speaker(20, 10, 1, 5)),
        (
            "The speaker does not fit: 2.00 mm too little, because over motor the chamber is 3.00 mm deep, with the "
            "floor set by the front truck at full swing, and the speaker takes 5.00 mm. Try a shallower speaker, "
            "less running clearance, or less swing and play of what moves there."
        ),
    ),
    "a decoder": (
        (replace(ONE, obstacles=(OVER,)), Limits(1), None, Box("decoder", 30, 10, 5)),
        (
            "The decoder does not fit: 2.00 mm too little, because over the front truck at full swing, under the roof "
            "over motor, there are 3.00 mm of height for its 5.00 mm. Use a smaller decoder, turn it, or keep less "
            "clearance."
        ),
    ),
}


@pytest.mark.parametrize("name", MISSES)
def test_a_miss_names_what_moves(name):
    arguments, message = MISSES[name]
    with pytest.raises(DoesNotFit, match=f"^{re.escape(message)}$"):
        fit_enclosure(*arguments)


BAD = [
    (
        lambda: replace(TRUCK, end_mm=10),
        OutOfRange,
        "the front truck at full swing is 0.00 mm long; it must be more than 0. Check where it starts and ends.",
    ),
    (
        lambda: Obstacle("truck", 0, 5, 8, 0, float("inf")).outward(),
        OutOfRange,
        "truck: top is inf mm; it must be a finite number. Check the readings behind it.",
    ),
    (
        lambda: Obstacle("truck", 0, 5, "8 mm", 0, 4).outward(),
        WrongKind,
        "truck: half width is '8 mm'; expected a plain number of mm. Read text with parse_length first.",
    ),
]


@pytest.mark.parametrize(("make", "kind", "message"), BAD)
def test_what_makes_no_sense_is_refused(make, kind, message):
    with pytest.raises(kind, match=f"^{re.escape(message)}$"):
        make()

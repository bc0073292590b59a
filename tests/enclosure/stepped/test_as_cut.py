"""A stepped chamber cut to marks of 0.5 mm: where it can't be as cut, it stays as it is; all by hand."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest

from modelmath.clearance import Marks
from modelmath.enclosure import Cavity, Limits, Zone
from modelmath.enclosure.stepped import SteppedChamber, fit_stepped, pieces_of
from modelmath.enclosure.stepped.as_cut import _stands, as_cut, exactly
from modelmath.enclosure.stepped.ground import ground_in
from modelmath.lengths.rules import Rule

MARKS = Marks(Rule(unit="mm", graduation="0.5"), "0.5")


def part(number: str) -> Fraction:
    return Fraction(number)


def cut(cavity: Cavity, wall: str = "1", shortest: str = "2", riser: str = "0.5") -> tuple[SteppedChamber, ...]:
    """The chamber with most steps, as fitted and as cut. No clearance: the floors lie on the chassis tops."""
    limits = Limits(Fraction(0), wall_mm=part(wall))
    found = fit_stepped(cavity, limits, shortest_mm=part(shortest), least_riser_mm=part(riser))[-1]
    ground = ground_in(exactly(cavity), limits, None, part(shortest), None, part(riser))
    return found, as_cut(found, ground, MARKS)


def two(low: str, high: str, step: str = "20") -> Cavity:
    """A cab with a lower chassis top than the motor behind it, under one roof at 15 mm; both ends closed."""
    return Cavity((Zone("cab", 0, part(step), part(low), 15, 10), Zone("motor", part(step), 60, part(high), 15, 10)))


def levels(chamber: SteppedChamber) -> list[Fraction]:
    return [each.floor_mm for each in chamber.floors]


def test_where_no_mark_is_low_enough_under_the_roof_all_stays():
    """Over the motor 0.3 mm are left, less than the finest mark."""
    found, stays = cut(two("6.2", "14.7"))
    assert levels(found) == levels(stays) == [part("6.2"), part("14.7")]
    assert stays.volume_mm3 == 10 * (19 * part("8.8") + 41 * part("0.3"))


@pytest.mark.parametrize(("shortest", "step"), [("2.0", "2.0"), ("2.2", "2.3")])
def test_a_step_does_not_move_where_its_lower_floor_would_be_too_short(shortest, step):
    """At 2.3 mm, it would move to the mark at 2 mm; floors are raised to 6.5 and 10.5 mm either way."""
    found, moved = cut(two("6.2", "10.2", "2.3"), wall="0.5", shortest=shortest)
    assert found.floors[0].end_mm == part("2.3")
    assert moved.floors[0].end_mm == part(step)
    assert levels(moved) == [part("6.5"), part("10.5")]


@pytest.mark.parametrize(
    ("low", "high", "riser", "floors"),
    [
        ("6.1", "6.4", "0.2", ["6.1", "6.4"]),  # both would be raised to 6.5 mm
        ("6.45", "7", "0.52", ["6.45", "7"]),  # to 6.5 and 7 mm, a riser of 0.5 mm
        ("6.45", "7", "0.5", ["6.5", "7"]),
        ("6.1", "6.6", "0.5", ["6.5", "7"]),
    ],
)
def test_floors_are_not_raised_where_the_riser_would_be_too_low(low, high, riser, floors):
    found, raised = cut(two(low, high), riser=riser)
    assert levels(found) == [part(low), part(high)]
    assert levels(raised) == [part(each) for each in floors]


@pytest.mark.parametrize(
    ("start", "end", "ends"),
    [
        ("10.1", "10.4", ("10.1", "10.4")),
        ("10.1", "11.4", ("10.5", "11")),
        ("10.2", "10.7", ("10.2", "10.7")),
        ("-10.4", "-10.1", ("-10.4", "-10.1")),
    ],
)
def test_walls_do_not_move_in_past_each_other(start, end, ends):
    """To marks at 10.5 and 10 mm they would have changed places, at 10.5 and 10.5 mm they would be one."""
    cavity = Cavity((Zone("hood", part(start), part(end), part("6.2"), 15, 10),), False, False)
    _, moved = cut(cavity, wall="0.1")
    assert pieces_of(moved, cavity, Limits(0, wall_mm=part("0.1")), None, MARKS).chamber == moved
    assert (moved.start_mm, moved.end_mm) == tuple(part(each) for each in ends)
    assert levels(moved) == [part("6.5")]


@pytest.mark.parametrize(("roof", "level"), [("15.1", "9.7"), ("15.5", "9.7"), ("15.3", "9.8"), ("15.2", "9.7")])
def test_a_floor_is_not_raised_up_to_a_lower_roof_over_it(roof, level):
    """Level at 9.7 mm, under 10 mm at the rear: its height counts from the roof over the front wall.

    5.4 mm to marks is 5 mm, which would raise it to 10.1 mm; 5.8 mm is 5.5 mm, just up to 10 mm. 5.6 mm is 5.5 mm.
    """
    zones = Zone("front", 0, 20, 5, part(roof), 10), Zone("rear", 20, 60, part("9.7"), 10, 10)
    cavity, limits = Cavity(zones, False), Limits(Fraction(0))
    level_one = fit_stepped(cavity, limits, most_steps=0, space=(15, 60))[0]
    ground = ground_in(exactly(cavity), limits, None, Fraction(2), (Fraction(15), Fraction(60)))
    found = as_cut(level_one, ground, MARKS)
    assert levels(level_one) == [part("9.7")]
    assert levels(found) == [part(level)]


@pytest.mark.parametrize(
    ("closed", "first", "last"),
    [
        ((True, False), "6.5", "10.3"),  # 14.8 - 10.2 over the rear wall is 4.5 mm to a mark
        ((False, False), "6.3", "10.3"),  # and 14.8 - 6.2 over the front wall 8.5 mm
        ((True, True), "6.3", "10.5"),  # behind no wall each counts from the roof over its front end
        ((False, True), "6.3", "10.5"),
    ],
)
def test_a_floor_counts_from_the_roof_over_its_own_wall(closed, first, last):
    """The roof is 0.2 mm lower over the first and the last millimetre: 15 mm between, so 8.8 and 4.8 mm there."""
    low = part("14.8")
    zones = (
        Zone("nose", 0, 1, part("6.2"), low if closed != (True, False) else 15, 10),
        Zone("cab", 1, 20, part("6.2"), 15, 10),
        Zone("motor", 20, 59, part("10.2"), 15, 10), Zone("tail", 59, 60, part("10.2"), low, 10),
    )  # fmt: skip
    found, raised = cut(Cavity(zones, *closed))
    assert levels(found) == [part("6.2"), part("10.2")]
    assert levels(raised) == [part(first), part(last)]


@pytest.mark.parametrize(
    ("closed", "level"),
    [((False, False), "6.5"), ((True, True), "6.5"), ((False, True), "6.5"), ((True, False), "6.3")],
)
def test_a_flat_floor_counts_from_its_bulkhead(closed, level):
    """Under 15 mm at the front, 14.8 over the last millimetre: its one wall at the rear is the bulkhead."""
    zones = Zone("hood", 0, 59, part("6.2"), 15, 10), Zone("tail", 59, 60, part("6.2"), part("14.8"), 10)
    _, raised = cut(Cavity(zones, *closed))
    assert levels(raised) == [part(level)]


@pytest.mark.parametrize("turned", [False, True])
@pytest.mark.parametrize(("roof", "stands"), [("10", False), ("10.1", True)])
def test_a_riser_stands_under_a_roof_above_the_higher_floor(turned, roof, stands):
    """The riser takes a millimetre of the lower floor's side of the step, and the roof there alone is so low."""
    zones = [Zone("cab", 0, 19, 6, 15, 10), Zone("low", 19, 20, 6, part(roof), 10), Zone("motor", 20, 60, 9, 15, 10)]
    places, floors = (0, 20, 60), (6, 10)
    if turned:
        zones = [replace(each, start_mm=-each.end_mm, end_mm=-each.start_mm) for each in reversed(zones)]
        places, floors = (-60, -20, 0), (10, 6)
    ground = ground_in(exactly(Cavity(tuple(zones))), Limits(Fraction(0), wall_mm=Fraction(1)), None, 2, None)
    assert _stands(ground, places, floors) == stands
    # Floors on the roof, below what lies under them or too short do not stand, nor do two that are one.
    assert not _stands(ground, places, tuple(10 if each == 6 else 15 for each in floors))
    assert not _stands(ground, places, tuple(each - 2 for each in floors))
    assert not _stands(ground, places, (10, 10))
    assert not _stands(replace(ground, shortest_mm=21), places, floors)
    assert _stands(replace(ground, shortest_mm=20, least_riser_mm=4), places, floors) == stands
    assert not _stands(replace(ground, least_riser_mm=part("4.1")), places, floors)


@pytest.mark.parametrize(("step", "moved"), [("2.3", "2.3"), ("2.6", "2.5")])
def test_no_level_is_cut_shorter_than_two_walls(step, moved):
    """Walls of 1.1 mm: at 2.3 mm the step would move to 2 mm."""
    cavity, limits = two("6.2", "10.2", step), Limits(Fraction(0), wall_mm=part("1.1"))
    found = fit_stepped(cavity, limits)[-1]
    assert found.floors[0].end_mm == part(step)
    assert pieces_of(found, cavity, limits, None, MARKS).chamber.floors[0].end_mm == part(moved)
